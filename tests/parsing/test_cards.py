"""Cards of fields: what a hoop gets where the numbers are for one hoop, for all of them, or where the card does not say which."""

from __future__ import annotations

from textwrap import dedent

from hoopwright.framing import frame
from hoopwright.grammar import load_grammar
from hoopwright.model.document import Document, Line
from hoopwright.model.schedule import Schedule
from hoopwright.outlining import outline
from hoopwright.parsing import parse
from hoopwright.scheduling import schedule

HEAD = """\
The frame is 4 m wide, 8 m long and 2.3 m high. It has five bows, 2 m apart. Each bow is made of two tubes, a left half and a right half.
"""


def made(text: str) -> Schedule:
    """The schedule of a manual of cards."""
    rows = [*HEAD.splitlines(), "", *dedent(text).strip("\n").splitlines()]
    lines, at = [], 0
    for row in rows:
        lines.append(Line(row, 1, at))
        at += len(row) + 1
    contents = outline([Document("D1", "d.txt", "text", 1, "0" * 64, "\n".join(rows), tuple(lines))])
    reading = parse(contents, load_grammar())
    return schedule(frame(contents, reading.facts, reading.parts, reading.sentences, reading.member_numbers, bars=reading.bars))


def counts(made: Schedule, part: str) -> list[int]:
    return [made.counts[f"H{hoop}"].get(part, 0) for hoop in range(1, 6)]


def asked(made: Schedule) -> set[str | None]:
    return {question.fitting for question in made.questions}


LIST = """
    PARTS LIST
    10 x rail collar, closed
    4 x brace eye, closed
    5 x crown ring, closed
    29 x set screw

    WORK

"""


def test_numbers_for_one_hoop_by_the_parts_list() -> None:
    found = made(
        LIST
        + """
    1.  Bows:  all
        Fit:   2 rail collars
        Place: one on each half, 800 mm from the foot
        With:  one set screw to each

    2.  Bows:  2 and 4
        Fit:   2 brace eyes
        Place: one on each half, 1500 mm from the foot
        With:  one set screw to each

    3.  Bows:  all
        Fit:   1 crown ring
        Place: left half, 60 mm from the top end
        With:  3 set screws
    """
    )
    assert counts(found, "rail collar") == [2, 2, 2, 2, 2]
    assert counts(found, "brace eye") == [0, 2, 0, 2, 0]
    assert counts(found, "crown ring") == [1, 1, 1, 1, 1]
    assert counts(found, "set screw") == [5, 7, 5, 7, 5]
    assert asked(found) == set()


def test_numbers_for_all_hoops_are_shared_out() -> None:
    found = made(
        LIST
        + """
    Job 1
    Parts: 10 rail collars, 10 set screws
    Place: all bows, both halves, 800 mm from the foot
    Do:    Slide one on each half. One set screw to each collar.

    Job 2
    Parts: 4 brace eyes, 4 set screws
    Place: bows 2 and 4: both halves, 1500 mm from the foot
    Do:    As on job 1.

    Job 3
    Parts: 5 crown rings
    Place: every bow: left half, 60 mm from the top end
    Do:    Slide one on over the top end.
    """
    )
    assert counts(found, "rail collar") == [2, 2, 2, 2, 2]
    assert counts(found, "crown ring") == [1, 1, 1, 1, 1]
    assert not [finding for finding in found.warnings if finding.code == "conflict" and finding.fitting != "brace eye"]


def test_what_is_fetched_and_what_is_put_on_disagree() -> None:
    found = made(
        LIST
        + """
    Job 1
    Parts: 8 rail collars
    Place: every bow: both halves, 800 mm from the foot
    Do:    Slide one on each half.

    Job 2
    Parts: 4 brace eyes
    Place: bows 2 and 4: both halves, 1500 mm from the foot
    Do:    Slide one on each half.

    Job 3
    Parts: 5 crown rings
    Place: every bow: left half, 60 mm from the top end
    Do:    Slide one on over the top end.
    """
    )
    assert counts(found, "rail collar") == [2, 2, 2, 2, 2]
    assert [finding.fitting for finding in found.warnings if finding.code == "conflict"] == ["rail collar"]


def test_a_number_that_may_be_for_each_or_for_all_is_asked_about() -> None:
    found = made(
        """
    PARTS LIST
    rail collar, closed
    brace eye, closed
    crown ring, closed
    set screw

    WORK

    1.  Bows:  all
        Fit:   10 rail collars
        Place: both halves, 800 mm from the foot
        With:  10 set screws

    2.  Bows:  all
        Fit:   5 brace eyes
        Place: left half, 1500 mm from the foot

    3.  Bows:  all
        Fit:   5 crown rings
        Place: left half, 60 mm from the top end
    """
    )
    assert {"rail collar", "brace eye", "crown ring", "set screw"} <= asked(found)


def test_a_card_that_fetches_no_fitting_adds_none() -> None:
    found = made(
        LIST
        + """
    Job 1
    Take:  10 rail collars
    Where: every bow: both halves, 800 mm from the foot
    How:   Slide one on each half.

    Job 2
    Take:  a pencil
    Where: on the grass
    How:   Each bow has two rail collars. Tick them off.

    Job 3
    Take:  5 crown rings
    Where: every bow: left half, 60 mm from the top end
    How:   Slide one on over the top end.

    Job 4
    Take:  4 brace eyes
    Where: bows 2 and 4: both halves, 1500 mm from the foot
    How:   Slide one on each half.
    """
    )
    assert counts(found, "rail collar") == [2, 2, 2, 2, 2]
    assert counts(found, "brace eye") == [0, 2, 0, 2, 0]


def test_the_source_is_the_printed_card() -> None:
    found = made(
        LIST
        + """
    1.  Bows:  all
        Fit:   2 rail collars
        Place: one on each half, 800 mm from the foot

    2.  Bows:  2 and 4
        Fit:   2 brace eyes
        Place: one on each half, 1500 mm from the foot

    3.  Bows:  all
        Fit:   1 crown ring
        Place: left half, 60 mm from the top end
    """
    )
    quotes = {placement.source.quote for placement in found.placements if placement.fitting == "brace eye"}
    assert quotes == {"2 and 4 2 brace eyes one on each half, 1500 mm from the foot"}
