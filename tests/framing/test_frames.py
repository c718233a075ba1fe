"""Small manuals up to the counts of each hoop: outline, parse, frame, schedule.

The kit is that of ``parsing/mini.py``: two legs and a crown tube to a hoop, so two joints. Every number is worked out by hand.
Clear manuals must raise no question. Rows that name what is ``wrong`` must go on failing until that is mended, and then lose their mark.
"""

from __future__ import annotations

import pytest
from hoopwright.model.schedule import Placement
from parsing.mini import manual, row, scheduled, table

from . import kits_counts, kits_fastened, kits_flowing, kits_marks, kits_more, kits_notes, kits_told_apart
from .frame_cases import KitCase

KITS = [
    *kits_counts.KITS,
    *kits_more.KITS,
    *kits_fastened.KITS,
    *kits_flowing.KITS,
    *kits_marks.KITS,
    *kits_notes.KITS,
    *kits_told_apart.KITS,
]


def rows() -> list[object]:
    """Every small manual as a test of its own."""
    return [
        pytest.param(case, id=" ".join(case.steps)[:70], marks=[pytest.mark.xfail(strict=True, reason=case.wrong)] if case.wrong else [])
        for case in KITS
    ]


@pytest.mark.parametrize("case", rows())
def test_a_small_manual_gives_its_counts(case: KitCase) -> None:
    found = scheduled(manual(case.steps, hoops=case.hoops, quantities=dict(case.quantities), after=case.after, listed=case.listed))
    assert len(found.structure.hoops) == case.hoops
    elsewhere = {member: dict(cells) for member, cells in found.elsewhere.items()}
    asked = tuple(sorted(question.about for question in found.questions))
    assert (table(found), elsewhere, asked) == (dict(case.counts), {k: dict(v) for k, v in case.elsewhere.items()}, case.asks)


def test_there_are_enough_small_manuals() -> None:
    assert len(KITS) >= 40
    assert len({(*case.steps, case.after, case.hoops) for case in KITS}) == len(KITS)


def spots(fitting: str, *steps: str) -> list[tuple[str | None, str | None, str | None, float | None]]:
    """(hoop, side, datum, offset) of every placement of a fitting."""
    found: list[Placement] = [p for p in scheduled(manual(steps)).placements if p.fitting == fitting]
    return [(p.hoop, p.side, p.datum, p.offset_mm) for p in found]


WHERE = [
    (
        ("Slide a crop clip onto each leg of hoop 2, 900 mm up from the foot.",),
        "crop clip",
        [("H2", "left", "foot", 900.0), ("H2", "right", "foot", 900.0)],
    ),
    (
        ("Slide a ridge clip onto hoop 3, 300 mm either side of the ridge.",),
        "ridge clip",
        [("H3", "left", "ridge", 300.0), ("H3", "right", "ridge", 300.0)],
    ),
    (("Slide a lamp ring onto hoop 3, 600 mm to the left of the ridge.",), "lamp ring", [("H3", "left", "ridge", 600.0)]),
    (("Slide a vent hook onto the right leg of hoop 5, 4 ft up from the foot.",), "vent hook", [("H5", "right", "foot", 1219.2)]),
    (
        ("Slide a brace clip onto the left leg of hoop 1, 250 mm up from the foot.", "Repeat step 1 for the right leg."),
        "brace clip",
        [("H1", "left", "foot", 250.0), ("H1", "right", "foot", 250.0)],
    ),
    (
        ("Slide a brace clip onto the left leg of hoop 1, 250 mm up from the foot.", "Repeat step 1 on hoop 6."),
        "brace clip",
        [("H1", "left", "foot", 250.0), ("H6", "left", "foot", 250.0)],
    ),
    (("Drive a joint screw through each joint of hoop 4.",), "joint screw", [("H4", "left", "joint", 0.0), ("H4", "right", "joint", 0.0)]),
    (
        ("Slide two crop clips onto the left leg of hoop 2, one 400 mm and one 800 mm above the ground.",),
        "crop clip",
        [("H2", "left", "ground", 400.0), ("H2", "left", "ground", 800.0)],
    ),
]


@pytest.mark.parametrize(("steps", "fitting", "where"), WHERE, ids=[steps[0][:60] for steps, _, _ in WHERE])
def test_places(steps: tuple[str, ...], fitting: str, where: list[tuple[str, str, str, float]]) -> None:
    found = spots(fitting, *steps)
    assert sorted(found, key=str) == sorted(where, key=str)


def test_a_fitting_is_measured_from_another() -> None:
    found = scheduled(
        manual(
            [
                "Slide a crop clip onto the left leg of hoop 2, 900 mm up from the foot.",
                "Slide a brace clip onto the left leg of hoop 2, 150 mm above the crop clip.",
            ]
        )
    )
    crop, brace = (next(p for p in found.placements if p.fitting == name) for name in ("crop clip", "brace clip"))
    assert (brace.datum, brace.offset_mm) == (crop.id, 150.0)
    assert crop.along_mm == 900.0
    assert brace.along_mm == pytest.approx(1050.0)


def test_fasteners_stand_where_their_fittings_stand() -> None:
    found = scheduled(manual(["Slide a crop clip onto each leg of hoop 2.", "Each crop clip takes two clamp bolts."]))
    bolts = [(p.hoop, p.side, p.quantity) for p in found.placements if p.fitting == "clamp bolt"]
    assert sorted(bolts, key=str) == [("H2", "left", 2), ("H2", "right", 2)]


def test_fasteners_that_take_each_other_are_put_on_once_and_asked_about() -> None:
    steps = ["Slide a crop clip onto each leg of hoop 2.", "Each crop clip takes one clamp bolt."]
    round_about = ["Each clamp bolt takes one wing nut.", "Each wing nut takes one clamp bolt."]
    found = scheduled(manual([*steps, *round_about]))
    assert table(found) == dict.fromkeys(("crop clip", "clamp bolt", "wing nut"), "0 2 0 0 0 0")
    assert [(question.about, question.fitting) for question in found.questions] == [("quantity", "clamp bolt")]


def test_what_slides_on_counts_as_before_joining_and_what_opens_does_not() -> None:
    found = scheduled(
        manual(["Slide a ridge clip onto each hoop.", "Put a hinged clamp round each hoop.", "Drive a joint screw through each joint."])
    )
    assert {name for cells in found.before_joining.values() for name in cells} == {"ridge clip"}
    assert {p.when for p in found.placements if p.fitting == "hinged clamp"} == {"any-time"}
    assert {p.when for p in found.placements if p.fitting == "joint screw"} == {"at-joining"}


EXTRA = """LAMP RAIL (OPTIONAL EXTRA)

This section is only for kits with the lamp rail.

2. Slide one lamp ring onto each intermediate hoop.
"""


def test_an_extra_can_be_left_out() -> None:
    text = manual(["Slide two ridge clips onto each hoop."], after=EXTRA)
    whole = scheduled(text)
    assert row(whole, "lamp ring") == [0, 1, 1, 1, 1, 0]
    assert len(whole.options) == 1
    without = scheduled(text, frozenset(whole.options))
    assert row(without, "lamp ring") == [0] * 6
    assert row(without, "ridge clip") == row(whole, "ridge clip") == [2] * 6


def test_parts_balance_against_the_list() -> None:
    found = scheduled(
        manual(["Slide two ridge clips onto each hoop.", "Fit one lamp ring to hoop 3."], quantities={"ridge clip": 14, "lamp ring": 0})
    )
    rows_by_name = {balance.fitting: balance for balance in found.parts}
    assert (rows_by_name["ridge clip"].listed, rows_by_name["ridge clip"].needed, rows_by_name["ridge clip"].difference) == (14, 12, 2)
    assert any(warning.code == "short" and warning.fitting == "lamp ring" for warning in found.warnings)
