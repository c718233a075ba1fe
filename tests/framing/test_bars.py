"""Bars: the sentences that put them up, the hoops that they meet, and the fittings that carry them."""

from __future__ import annotations

import pytest
from hoopwright.framing import frame
from hoopwright.framing.bars import in_common
from hoopwright.grammar import load_grammar
from hoopwright.model.frame import Frame
from hoopwright.parsing import parse
from parsing.mini import manual, outlined

CLIPS = "Slide one ridge clip (RC) onto the crown tube of each hoop, and one crop clip (CC) onto each leg of hoops 2 to 5."
SADDLES = "Slide a saddle clamp (SC) onto each leg of hoops 1, 2, 5 and 6."


def framed(*steps: str) -> Frame:
    contents = outlined(manual(steps))
    reading = parse(contents, load_grammar())
    return frame(contents, reading.facts, reading.parts, reading.sentences, reading.member_numbers, bars=reading.bars)


def bars(*steps: str) -> dict[str, tuple[str, tuple[int, ...]]]:
    made = framed(*steps)
    labels = {step.id: step.label or "" for step in made.outline.steps}
    return {bar.name: (labels[bar.step], bar.hoops) for bar in made.bars}


@pytest.mark.parametrize(
    "sentence",
    [
        "Feed the ridge bar (RB) through the ridge clips.",
        "The ridge bar is then fed through the ridge clips.",
        "The ridge bar, which is in three lengths, is to be passed through the ridge clips.",
        "Slide the three lengths of the ridge bar into the ridge clips.",
        "Now lift the ridge bar into its clips, from hoop 1 to hoop 6.",
        "The ridge bar runs through all the ridge clips.",
    ],
)
def test_a_sentence_puts_up_a_bar_in_the_clips_of_its_name(sentence: str) -> None:
    found = bars(CLIPS, "Join the tubes of each hoop.", sentence)
    assert found["ridge bar"] == ("3", (1, 2, 3, 4, 5, 6))


@pytest.mark.parametrize(
    ("sentence", "bar"),
    [
        ("Lay a crop bar (XB) in each pair of crop clips.", "crop bar"),
        ("Hang the crop bars in the crop clips, and tighten these.", "crop bar"),
    ],
)
def test_a_bar_meets_the_hoops_that_have_its_clips(sentence: str, bar: str) -> None:
    assert bars(CLIPS, sentence)[bar] == ("2", (2, 3, 4, 5))


def test_the_sentence_tells_what_carries_a_bar_where_the_names_do_not() -> None:
    made = framed(SADDLES, "Push the braces (BR) into the saddle clamps.")
    assert [(bar.name, bar.hoops) for bar in made.bars] == [("brace", (1, 2, 5, 6))]
    assert {call.carries for call in made.calls if call.part == "saddle clamp"} == {"brace"}


def test_a_later_short_name_is_the_same_bar() -> None:
    assert list(bars(CLIPS, "Feed the ridge bar through the ridge clips.", "Push the bar on until it meets the last hoop.")) == [
        "ridge bar"
    ]


@pytest.mark.parametrize(
    "sentence",
    [
        "Stretch a line along the foot collars.",
        "Do not hang anything from the hoops yet.",
        "Tighten the ridge clips.",
    ],
)
def test_what_is_no_bar_of_the_kit_is_none_of_the_frame(sentence: str) -> None:
    assert bars("Slide one foot collar (FC) onto each leg.", sentence) == {}


def test_a_bar_that_is_only_spoken_of_is_there() -> None:
    assert bars(CLIPS, "The wing nuts beside the ridge bar are left loose.")["ridge bar"] == ("2", (1, 2, 3, 4, 5, 6))


def test_names_in_common() -> None:
    assert in_common("side purlin", "purlin clip")
    assert in_common("side rail", "rail clip")
    assert not in_common("hand rail", "rail clip")
    assert not in_common("crop bar", "ridge clip")
    assert in_common("bar", "bar clip")
