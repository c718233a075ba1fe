"""Charts that only say where, and lettered sub-steps under a hoop that the first of them names."""

from __future__ import annotations

import pytest
from parsing.mini import INTRO, manual, parts_list, scheduled, table

from .kits_marks import CHART, LETTERS

Spot = tuple[str | None, str | None, float | None]


def placed(text: str, fitting: str) -> set[Spot]:
    """(side, datum, offset) of a fitting's placements, whatever the hoop."""
    return {(p.side, p.datum, p.offset_mm) for p in scheduled(text).placements if p.fitting == fitting}


def whole(body: str) -> str:
    """A manual of the usual kit with this text behind its parts list."""
    return f"GROWING TUNNEL\n\n{INTRO.format(hoops=6)}\n\nPARTS LIST\n\n{parts_list(6)}\n\n{body}\n"


def both(datum: str, offset: float) -> set[Spot]:
    return {("left", datum, offset), ("right", datum, offset)}


def test_a_chart_before_the_steps_gives_their_fittings_places() -> None:
    steps = ["Slide (1) K onto each crown tube.", "Slide (1) L onto each leg.", "On hoops 2 and 5, slide (1) M onto each leg."]
    text = manual(steps, listed=LETTERS + CHART)
    assert placed(text, "line clip") == both("foot", 1100.0)
    assert placed(text, "brace ring") == both("foot", 250.0)
    assert {spot[1:] for spot in placed(text, "ridge clip")} == {("joint", 400.0)}


def test_a_place_of_the_steps_own_goes_before_the_charts() -> None:
    steps = [
        "Slide (1) K onto each crown tube.",
        "Slide (1) L onto each leg, 900 mm up from the foot.",
        "Slide (1) M onto each leg of hoops 2 and 5.",
    ]
    assert placed(manual(steps, listed=LETTERS + CHART), "line clip") == both("foot", 900.0)


SHEET = """FITTING OUT

1. Slide one vent hook onto each leg.

2. Slide one crop clip onto each leg of hoops 2 to 5.

3. Join the hoops.

SHEET OF MEASURES

"""


@pytest.mark.parametrize(
    "head",
    [
        "   Fitting      Distance (cm)    From\n   Vent hook    60               foot\n   Crop clip    110              foot",
        "   Fitting     Distance (cm)   Measure from\n   Vent hook   60              foot, up\n   Crop clip   110             foot, up",
        pytest.param(
            "   Fitting      Distance in cm   From\n   Vent hook    60               foot\n   Crop clip    110              foot",
            marks=pytest.mark.xfail(strict=True, reason="the unit of 'Distance in cm', without a bracket or comma, is not seen"),
        ),
        "   Fitting      Distance, mm     From\n   Vent hook    600              foot\n   Crop clip    1100             foot",
        pytest.param(
            "   Fitting      cm from the foot\n   Vent hook    60\n   Crop clip    110",
            marks=pytest.mark.xfail(strict=True, reason="a chart of two columns whose head has unit and landmark gives no places"),
        ),
    ],
)
def test_the_unit_of_bare_numbers_stands_in_the_head(head: str) -> None:
    text = whole(SHEET + head)
    assert placed(text, "vent hook") == both("foot", 600.0)
    assert placed(text, "crop clip") == both("foot", 1100.0)
    assert table(scheduled(text)) == {"crop clip": "0 2 2 2 2 0", "vent hook": "2 2 2 2 2 2"}


def test_numbers_without_a_unit_are_no_distances() -> None:
    text = whole(SHEET + "   Fitting      Bag    From\n   Vent hook    60     shelf\n   Crop clip    110    shelf")
    assert placed(text, "vent hook") == {("left", None, None), ("right", None, None)}


ELEVEN = """STEP 10   RINGS

10a  Slide one lamp ring onto hoop 3.

STEP 11   END HOOPS

11a  Front hoop: slide one brace clip onto each leg.
11b  Close one hinged clamp round each leg.
11c  Drive one joint screw through each foot.
11d  {last}
"""


@pytest.mark.parametrize(
    ("last", "want"),
    [
        ("Tighten the brace clips.", {"brace clip": "2 0 0 0 0 0", "hinged clamp": "2 0 0 0 0 0", "joint screw": "2 0 0 0 0 0"}),
        (
            "Repeat 11a through 11c at the back hoop.",
            {"brace clip": "2 0 0 0 0 2", "hinged clamp": "2 0 0 0 0 2", "joint screw": "2 0 0 0 0 2"},
        ),
        (
            "Slide one vent hook onto each hoop.",
            {"brace clip": "2 0 0 0 0 0", "hinged clamp": "2 0 0 0 0 0", "joint screw": "2 0 0 0 0 0", "vent hook": "1 1 1 1 1 1"},
        ),
    ],
)
def test_a_hoop_before_a_colon_holds_for_the_sub_steps_behind(last: str, want: dict[str, str]) -> None:
    assert table(scheduled(whole(ELEVEN.format(last=last)))) == {"lamp ring": "0 0 1 0 0 0", **want}


def test_the_hoop_of_one_step_does_not_hold_for_the_next() -> None:
    body = ELEVEN.format(last="Tighten the brace clips.") + "\nSTEP 12   HOOKS\n\n12a  Slide one vent hook onto each leg.\n"
    assert table(scheduled(whole(body)))["vent hook"] == "2 2 2 2 2 2"
