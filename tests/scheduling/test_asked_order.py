"""The order that sentences ask for: steps that wait for another, steps that have their place elsewhere, and talk that asks for nothing."""

from __future__ import annotations

import pytest
from hoopwright.model.frame import Frame
from hoopwright.scheduling import schedule
from hoopwright.scheduling.asked_order import in_asked_order

from .kits import Kit

THREE = (("left side tube", "left", 0.0, 2000.0), ("crown tube", "centre", 2000.0, 5000.0), ("right side tube", "right", 5000.0, 7000.0))


def kit(*texts: str) -> Kit:
    """A step for each text; step n puts a "ring n" on the crown tube of every hoop."""
    made = Kit(tubes=THREE)
    for number, text in enumerate(texts, start=1):
        made.step(text)
        made.call(f"ring {number}", tube=1, side="centre")
    return made


def wishes(frame: Frame) -> set[tuple[str, str]]:
    return {(wish.first, wish.then) for wish in in_asked_order(frame).wishes}


def codes(made: Kit) -> list[tuple[str, tuple[str, ...]]]:
    return [(finding.code, finding.steps) for finding in schedule(made.frame()).warnings]


@pytest.mark.parametrize(
    ("first", "then"),
    [
        ("Slide on a ring. The ring of step 2 must already be on the tube.", "Slide on a ring. The ring of step 1 has to be on first."),
        ("Fit a ring. Do step 2 first.", "Fit a ring. Do not start before step 1 is done."),
        ("This has to wait until step 2 is finished.", "Once step 1 has been done, thread a ring on."),
        ("Do not begin with this ring until step 2 is complete.", "The rings of step 1 need to be tight before you do this."),
        ("Thread a ring on. This step must be done after step 2.", "Thread a ring on. This is done after step 1."),
    ],
)
def test_steps_that_wait_for_each_other_make_a_loop(first: str, then: str) -> None:
    assert codes(kit(first, then)) == [("loop", ("S1", "S2"))]


@pytest.mark.parametrize(
    ("first", "then"),
    [
        ("Slide a ring on, as in step 2.", "Slide a ring on, as in step 1."),
        ("Slide a ring on. Its bolt follows in step 2.", "Put the bolts in; the rings of step 1 are tightened now."),
        ("Slide a ring on. The ring of step 2 need not be on before you do this.", "The ring of step 1 must already be on the tube."),
        ("Slide a ring on; the ring of step 2 must not be tight before you do this.", "Do this after step 1."),
        ("Slide a ring on.", "Slide a ring on. In addition to that of step 1, a ring is to be put on the first hoop."),
        ("Leave the nut loose until after step 2.", "When step 1 is done, slide a ring on."),
        ("Do not tighten the nut until step 2 is done.", "Once step 1 is finished, slide a ring on."),
        ("When step 2 is done, come back to this ring and tighten it.", "Do this after step 1."),
        ("Tighten the nuts. Do this after step 2.", "This comes after step 1."),
    ],
)
def test_talk_of_another_step_makes_none(first: str, then: str) -> None:
    assert codes(kit(first, then)) == []


def late(text: str, between: str = "Put a strap round the crown.") -> Kit:
    """Rings in steps 1 and 2, joined in step 3, stood in step 4; step 6 wants something early."""
    made = kit("Slide a ring onto the crown tube.", "Slide another kind of ring onto it.")
    made.step("Push the tubes together.")
    made.act("join")
    made.step("Stand the hoops.")
    made.act("stand")
    made.step(between)
    made.step(text)
    made.call("vent eye", tube=1, side="centre")
    return made


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("This one has to be done early: after step 1 and before step 2. Slide a vent eye on.", "S1 S6 S2 S3 S4 S5"),
        ("Do this directly after step 2. Slide a vent eye on.", "S1 S2 S6 S3 S4 S5"),
        ("Slide a vent eye on. Do this before you join anything.", "S1 S2 S6 S3 S4 S5"),
        ("Before step 3, slide a vent eye on.", "S1 S2 S6 S3 S4 S5"),
        ("Slide a vent eye on. It has to go on after the ring 1 and before the ring 2.", "S1 S6 S2 S3 S4 S5"),
        ("The eyes are closed, so do steps 5 to 6 after step 2 and before the tubes are joined.", "S1 S2 S5 S6 S3 S4"),
    ],
)
def test_a_step_that_says_where_it_belongs_is_worked_there(text: str, order: str) -> None:
    made = late(text)
    assert in_asked_order(made.frame()).order == tuple(order.split())
    assert codes(made) == []


@pytest.mark.parametrize(
    "text",
    [
        "Slide a vent eye on. The ring of step 1 is a good place to measure from.",
        "Slide a vent eye on, before the film goes over it.",
        "Slide a vent eye on. It has to sit before the ridge as you look in.",
        "Slide a vent eye on. After step 4 the hoops are heavy.",
        "Slide a vent eye on. The ring that you put on before step 2 is above it.",
    ],
)
def test_a_step_that_does_not_say_so_stays_and_is_trapped(text: str) -> None:
    made = late(text)
    assert in_asked_order(made.frame()).order == ("S1", "S2", "S3", "S4", "S5", "S6")
    assert [code for code, _ in codes(made)] == ["trapped"]


def test_a_step_that_cannot_be_where_it_says_is_a_loop() -> None:
    made = late("This has to be done after step 4 and before step 3. Slide a vent eye on.")
    assert in_asked_order(made.frame()).order == ("S1", "S2", "S3", "S4", "S5", "S6")
    assert ("S4", "S6") in wishes(made.frame())
    assert ("S6", "S3") in wishes(made.frame())


def test_labels_that_no_step_has_and_the_step_itself_are_left_alone() -> None:
    made = kit("Do this before step 44.", "The clip of step 2 must already be on. This is done before step 2.")
    frame = made.frame()
    assert in_asked_order(frame) == frame


def test_the_words_are_cited() -> None:
    made = kit("Slide a ring on. The ring of step 2 must already be on.", "Slide a ring on.")
    frame = in_asked_order(made.frame())
    (wish,) = frame.wishes
    assert wish.source.quote == "The ring of step 2 must already be on."
    text = frame.outline.documents[0].text
    assert text[wish.source.start : wish.source.end] == wish.source.quote
