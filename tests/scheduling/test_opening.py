"""Brackets of which nobody says whether they open: a question where they come too late, and what its answer does."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hoopwright.model.frame import Form, Frame, Part
from hoopwright.model.schedule import Question
from hoopwright.scheduling import ask_of_unread, schedule
from hoopwright.scheduling.opening import OPENS, SLIDES, guessed
from parsing.mini import manual, read

from .kits import Kit


def late(part: str = "post bracket", *, form: Form = "closed", stated: bool = False, stands: bool = True, may_open: bool = True) -> Frame:
    """Two hoops are joined and stood; then ``part`` is put on hoop 1."""
    kit = Kit(hoops=2)
    kit.part(part, form, stated=stated, listed=1, in_list=True, may_open=may_open)
    kit.step("Join the halves.")
    kit.act("join")
    kit.act("fix", sequence=1)
    kit.step("Stand the hoops.")
    if stands:
        kit.act("stand")
    kit.step(f"Put a {part} on hoop 1.")
    kit.call(part, [1], tube=0, side="left", datum="foot", offset_mm=900.0)
    return kit.frame()


def codes(frame: Frame) -> list[str]:
    return [finding.code for finding in schedule(frame).warnings]


@pytest.mark.parametrize("part", ["post bracket", "hose holder", "crop bar hanger", "crop bar brackets", "rail carrier 42 mm"])
def test_a_bracket_that_comes_too_late_is_asked_about(part: str) -> None:
    frame = ask_of_unread(late(part))
    (question,) = frame.questions
    assert (question.about, question.fitting, question.hoops, question.step) == ("order", part, ("H1",), "S3")
    assert (question.readings, question.assumed) == ((SLIDES, OPENS), SLIDES)
    assert question.source is not None
    assert question.source.quote == f"Put a {part} on hoop 1."
    assert codes(frame) == []


@pytest.mark.parametrize(
    "frame",
    [late("lamp ring", may_open=False), late(stated=True)],
    ids=["closed by its name", "the manual says that it is closed"],
)
def test_what_is_closed_by_name_or_word_is_trapped(frame: Frame) -> None:
    assert ask_of_unread(frame).questions == ()
    assert codes(ask_of_unread(frame)) == ["trapped"]


@pytest.mark.parametrize("frame", [late(form="open"), late(stands=False), late(form="fastener")], ids=["opens", "feet free", "a screw"])
def test_what_can_be_done_as_written_is_not_asked_about(frame: Frame) -> None:
    assert ask_of_unread(frame).questions == ()
    assert codes(frame) == []


def test_a_question_about_it_that_stands_already_is_enough() -> None:
    known = Question("order", "post bracket", (), "S3", "When?", (), None)
    assert ask_of_unread(replace(late(), questions=(known,))).questions == (known,)


@pytest.mark.parametrize(
    ("words", "opens"),
    [(OPENS, True), ("it is in two halves", True), ("bolted on", True), (SLIDES, False), ("does not open", False), ("closed", False)],
)
def test_the_answer_decides(words: str, opens: bool) -> None:
    frame = ask_of_unread(late())
    calls = tuple(replace(call, assumed=(f"answered: {words}",)) for call in frame.calls)
    answered = schedule(replace(frame, calls=calls, questions=()))
    assert [finding.code for finding in answered.warnings] == ([] if opens else ["trapped"])
    assert answered.counts["H1"] == {"post bracket": 1}
    assert answered.before_joining["H1"] == ({} if opens else {"post bracket": 1})


def test_without_an_answer_the_careful_side_holds() -> None:
    result = schedule(ask_of_unread(late()))
    assert result.before_joining["H1"] == {"post bracket": 1}
    assert [move.step for move in result.moves] == ["S3"]


def test_only_a_guess_counts_as_one() -> None:
    (part,) = late().parts
    assert guessed(part)
    assert not guessed(replace(part, stated=True))
    assert not guessed(replace(part, form="open"))
    assert not guessed(replace(part, may_open=False))


def listed(name: str) -> Part:
    """A part of the kit's list, as it is read."""
    rows = "\n".join(
        f"{code:8}{part:30}{number}" for code, part, number in [("Code", "Part", "Quantity"), ("A", name, "4"), ("B", "Leg", "12")]
    )
    parts = read(manual(["Push the legs into the ground."], listed=rows)).parts
    return next(part for part in parts if part.code == "A")


@pytest.mark.parametrize(
    "name", ["Post bracket", "Hose holder", "Crop bar hanger", "Rail carrier, 42 mm", "Tube lug", "Tap seat", "Angle cleat"]
)
def test_the_grammar_says_which_kinds_may_open(name: str) -> None:
    assert listed(name).may_open


@pytest.mark.parametrize("name", ["Lamp ring", "Side clamp", "Hanger clip", "Bracket bolt", "Pipe cradle", "Hose clip"])
def test_and_which_do_not(name: str) -> None:
    assert not listed(name).may_open
