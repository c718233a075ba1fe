"""Places that a sentence as a whole tells, that the next sentence tells, or that one thing lends another; and near misses."""

from __future__ import annotations

import pytest

from parsing.mini import events, said


def places(step: str) -> list[str]:
    """The places of every event that adds something, in words."""
    return [said(event).places for event in events(step) if event.kind == "add"]


PAIRS = [
    ("Slide two lamp rings onto the crown tube of hoop 1, one each side of the ridge and 600 mm from it.", "×1 600 both sides ridge"),
    ("Close one hinged clamp round the crown tube of hoop 1 on each side of the ridge, 20 in from it.", "508 both sides ridge"),
    (
        "Slide two lamp rings onto the crown tube of hoop 1, one from either end, until each is 400 mm from the ridge.",
        "×1 400 left ridge; ×1 400 right ridge",
    ),
    (
        "Slide two lamp rings onto each crown tube, one to the left and one to the right, each 500 mm from the ridge.",
        "×1 500 left ridge; ×1 500 right ridge",
    ),
    (
        "Slide two foot collars onto each hoop, one from each foot, 1100 mm above the ground.",
        "×1 1100 up left ground as height; ×1 1100 up right ground as height",
    ),
    (
        "Slide two lamp rings onto the crown tube: one to the left of the ridge clip and one to the right of it, each 650 mm from it.",
        "×1 650 left ridge clip; ×1 650 right ridge clip",
    ),
    (
        "Slide two lamp rings on to the left leg, one to sit 400 mm and one to sit 800 mm above the foot.",
        "×1 400 up foot; ×1 800 up foot",
    ),
    ("Each leg takes two lamp rings: one goes to 1,200 mm from the foot, and the other to 600 mm.", "×1 1200 foot; ×1 600 foot"),
    ("Slide one foot collar on each leg, over the foot, 300 mm from it.", "300 foot"),
    ("Slide one ridge clip onto the crown tube of each hoop, to the centre.", "0 centre ridge"),
]


@pytest.mark.parametrize(("step", "expected"), PAIRS)
def test_places_of_one_sentence(step: str, expected: str) -> None:
    assert places(step) == [expected]


FOLLOWED = [
    ("Slide one foot collar over the foot of each leg. Set it 250 mm above the foot.", "250 up foot"),
    ("Slide one foot collar over the foot of each leg. Stop 16 in from the foot.", "406.4 foot"),
    ("Slide one foot collar over the foot of each leg. Leave each of them 250 mm up.", "250 up foot"),
    ("Slide one foot collar over the foot of each leg. Leave it 250 mm up from the foot, below the brace clip.", "250 up foot"),
    (
        "Hang two vent hooks on the left leg. Set the first 900 mm above the foot, and the second 120 mm below the first.",
        "×1 900 up foot; ×1 780 up foot",
    ),
    # near misses: a spacing, a check, another part's place
    ("Slide one foot collar over the foot of each leg. The hoops stand 2000 mm apart.", ""),
    ("Slide one foot collar over the foot of each leg. Check that the brace clip sits 250 mm above the foot.", ""),
]


@pytest.mark.parametrize(("step", "expected"), FOLLOWED)
def test_places_of_the_next_sentence(step: str, expected: str) -> None:
    assert places(step) == [expected]


def test_two_events_share_the_sides_that_their_sentence_names() -> None:
    step = "Close one hinged clamp round the crown tube of hoop 1 on the left and one on the right, each 550 mm from the ridge."
    assert places(step) == ["550 left ridge", "550 right ridge"]


def test_a_piece_opposite_another_has_its_place() -> None:
    assert places("Snap one vent hook over the left leg, 900 mm above the foot. Snap another over the right leg, directly opposite.") == [
        "900 up foot",
        "900 up foot",
    ]


def test_what_holds_a_bar_sits_where_the_bar_is() -> None:
    step = "Set the board along the hoops, 900 mm from the foot. At every hoop, on each side, fit one film strap round hoop and board."
    assert places(step) == ["900 foot"]


def test_a_pair_on_one_leg_is_not_split_over_both_sides() -> None:
    assert places("Slide two lamp rings onto the left leg of hoop 1, 900 mm above the foot.") == ["900 up foot"]
