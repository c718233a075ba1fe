"""What must hold for every manual: quotes stand where they say, reading is deterministic, one word changed changes one cell."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest
from hoopwright.api import settle, understand
from hoopwright.model.outline import Source
from hoopwright.reviewing import Answers
from hypothesis import given, settings
from hypothesis import strategies as st
from num2words import num2words  # type: ignore[import-untyped]
from outlining.mapping import plain, stretch

from library import CORPUS, EXAMPLES, HELD_OUT, SAMPLES, UNSEEN, Kit, understood

from .mini import FITTINGS, manual, read, scheduled, table

KITS = [*SAMPLES, *EXAMPLES, *CORPUS, *HELD_OUT, *UNSEEN]


def assert_stands(source: Source, kit: Kit) -> None:
    """The characters of a source are its quote, but for white space, list marks, borders and hyphens at line ends."""
    document = next(d for d in understood(kit).outline.documents if d.id == source.document)
    assert 0 <= source.start < source.end <= len(document.text)
    assert plain(source.quote) == plain(stretch(document, source.start, source.end)), source
    assert document.line_at(source.start).page == source.page


@pytest.mark.parametrize("kit", KITS, ids=lambda kit: kit.name)
def test_every_quote_of_a_reading_stands_in_its_document(kit: Kit) -> None:
    reading = understood(kit).reading
    assert len(reading.events) > 15
    for sentence in reading.sentences:
        assert_stands(sentence.source, kit)
    for event in reading.events:
        assert_stands(event.source, kit)
    for source in reading.facts.sources.values():
        assert_stands(source, kit)


@pytest.mark.parametrize("kit", KITS, ids=lambda kit: kit.name)
def test_every_quote_of_a_schedule_stands_in_its_document(kit: Kit) -> None:
    found = settle(understood(kit), Answers()).schedule
    for placement in found.placements:
        assert_stands(placement.source, kit)
    for question in found.questions:
        assert question.source is not None, question
        assert_stands(question.source, kit)
    for warning in found.warnings:
        for source in warning.sources:
            assert_stands(source, kit)


@pytest.mark.parametrize("kit", [SAMPLES[0], EXAMPLES[-1], CORPUS[1]], ids=lambda kit: kit.name)
def test_reading_twice_gives_the_same(kit: Kit) -> None:
    assert understand([kit.manual]).reading == understood(kit).reading


def test_a_manual_read_before_leaves_no_trace() -> None:
    """The grammar is shared between runs: words that one manual's parts list brings must not be known in the next."""
    plain_text = manual(["Slide two ridge clips onto each hoop.", "Put a wobbler on hoop 3."])
    before = read(plain_text)
    read(plain_text.replace("Penny washer", "Wobbler     ").replace("Foam pad", "Gronk   "))
    assert read(plain_text) == before


# ---- one word changed -------------------------------------------------------------------------------------------------------------

HOOPS = 6
NAMES = [
    (name.split(",")[0].lower(), code)
    for name, code in FITTINGS
    if name not in ("Crown spigot", "Penny washer", "Wing nut", "Hinge", "Wood screw")
]
SLIDING = [(name, code) for name, code in NAMES if name.split()[-1] in ("clip", "clamp", "collar", "ring", "strap", "hook")]
GROUPS = {
    "each hoop": (1, 2, 3, 4, 5, 6),
    "each end hoop": (1, 6),
    "each intermediate hoop": (2, 3, 4, 5),
    "each odd-numbered hoop": (1, 3, 5),
    "each even-numbered hoop": (2, 4, 6),
    "each of the first two hoops": (1, 2),
    "every hoop except hoop 4": (1, 2, 3, 5, 6),
}


@dataclass(frozen=True)
class Sentence:
    """A clear sentence: so many of a part, on named hoops, perhaps on each leg of them."""

    part: str
    code: str
    number: int
    hoops: tuple[int, ...]
    words: str = ""  # a group of hoops; empty: by their numbers
    legs: bool = False
    in_words: bool = False
    by_code: bool = False
    passive: bool = False

    def __str__(self) -> str:
        number = num2words(self.number) if self.in_words else str(self.number)
        name = self.code if self.by_code else self.part + ("s" if self.number > 1 else "")
        where = self.words or (f"hoop {self.hoops[0]}" if len(self.hoops) == 1 else f"each of hoops {listed(self.hoops)}")
        if self.legs:
            where = f"each leg of {where}"
        if self.passive:
            return f"{number[0].upper()}{number[1:]} {name} {'are' if self.number > 1 else 'is'} slid onto {where}."
        return f"Slide {number} {name} onto {where}."

    @property
    def row(self) -> str:
        """What each hoop takes."""
        per = self.number * (2 if self.legs else 1)
        return " ".join(str(per if hoop in self.hoops else 0) for hoop in range(1, HOOPS + 1))


def listed(numbers: tuple[int, ...]) -> str:
    """ "1, 3 and 5"."""
    return ", ".join(map(str, numbers[:-1])) + f" and {numbers[-1]}"


@st.composite
def sentences_about(draw: st.DrawFn, part: tuple[str, str]) -> Sentence:
    """A clear sentence about a part."""
    group = draw(st.sampled_from(["", *GROUPS]))
    numbers = draw(st.sets(st.integers(1, HOOPS), min_size=1, max_size=4))
    return Sentence(
        *part,
        number=draw(st.integers(1, 12)),
        hoops=GROUPS[group] if group else tuple(sorted(numbers)),
        words=group,
        legs=draw(st.booleans()),
        in_words=draw(st.booleans()),
        by_code=draw(st.booleans()),
        passive=draw(st.booleans()),
    )


@st.composite
def kits(draw: st.DrawFn) -> list[Sentence]:
    """Steps of a small manual, each about a part of its own."""
    parts = draw(st.lists(st.sampled_from(SLIDING), min_size=1, max_size=4, unique=True))
    return [draw(sentences_about(part)) for part in parts]


def counted(steps: list[Sentence]) -> dict[str, str]:
    return table(scheduled(manual([str(step) for step in steps])))


def wanted(steps: list[Sentence]) -> dict[str, str]:
    return {step.part: step.row for step in steps}


@settings(max_examples=30, deadline=None)
@given(kits())
def test_clear_sentences_are_counted_as_they_say(steps: list[Sentence]) -> None:
    found = scheduled(manual([str(step) for step in steps]))
    assert table(found) == wanted(steps), [str(step) for step in steps]
    assert found.questions == ()


@settings(max_examples=15, deadline=None)
@given(steps=kits(), data=st.data())
def test_another_number_changes_its_row_alone(steps: list[Sentence], data: st.DataObject) -> None:
    k = data.draw(st.integers(0, len(steps) - 1))
    other = data.draw(st.integers(1, 12).filter(lambda n: n != steps[k].number))
    changed = [*steps[:k], replace(steps[k], number=other), *steps[k + 1 :]]
    before, after = counted(steps), counted(changed)
    assert {part for part in before if before[part] != after[part]} == {steps[k].part}
    assert after == wanted(changed)


@settings(max_examples=15, deadline=None)
@given(steps=kits(), data=st.data())
def test_another_hoop_moves_its_pieces_alone(steps: list[Sentence], data: st.DataObject) -> None:
    k = data.draw(st.integers(0, len(steps) - 1))
    first, second = data.draw(st.lists(st.integers(1, HOOPS), min_size=2, max_size=2, unique=True))
    one = [*steps[:k], replace(steps[k], hoops=(first,), words=""), *steps[k + 1 :]]
    two = [*steps[:k], replace(steps[k], hoops=(second,), words=""), *steps[k + 1 :]]
    before, after = counted(one), counted(two)
    assert {part for part in before if before[part] != after[part]} == {steps[k].part}
    cells = zip(before[steps[k].part].split(), after[steps[k].part].split(), strict=True)
    assert {hoop for hoop, (a, b) in enumerate(cells, start=1) if a != b} == {first, second}


@settings(max_examples=15, deadline=None)
@given(steps=kits(), data=st.data())
def test_another_name_or_code_moves_the_row_to_that_part(steps: list[Sentence], data: st.DataObject) -> None:
    k = data.draw(st.integers(0, len(steps) - 1))
    unused = [part for part in SLIDING if part[0] not in {step.part for step in steps}]
    name, code = data.draw(st.sampled_from(unused))
    changed = [*steps[:k], replace(steps[k], part=name, code=code), *steps[k + 1 :]]
    before, after = counted(steps), counted(changed)
    assert after[name] == before[steps[k].part]
    assert {part: row for part, row in after.items() if part != name} == {
        part: row for part, row in before.items() if part != steps[k].part
    }
