"""``trapped`` and ``blocked``: what raises them, and what is near but must not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hoopwright.model.schedule import Finding
from hoopwright.scheduling import schedule

from .kits import Kit

THREE = (("left side tube", "left", 0.0, 2000.0), ("crown tube", "centre", 2000.0, 5000.0), ("right side tube", "right", 5000.0, 7000.0))
HALVES = (("left half", "left", 0.0, 3400.0), ("right half", "right", 3400.0, 6800.0))


def found(kit: Kit, *codes: str) -> list[Finding]:
    return [finding for finding in schedule(kit.frame()).warnings if finding.code in (codes or ("trapped", "blocked"))]


def closed_kit(late: str, **place: object) -> Kit:
    """A hoop of three tubes, joined in step 2, standing in step 3; step 4 calls for one more fitting."""
    kit = Kit(tubes=THREE)
    kit.step("Slide one purlin clip onto each side tube, 900 mm up.")
    kit.call("purlin clip", side="left", tube=0, datum="foot", offset_mm=900.0, along_mm=900.0)
    kit.call("purlin clip", side="right", tube=2, datum="foot", offset_mm=900.0, along_mm=6100.0)
    kit.step("Push the tubes together and drive two screws through each joint.")
    kit.act("join")
    kit.act("fix", sequence=1)
    kit.step("Stand every hoop on its ground tubes.")
    kit.act("stand")
    kit.step(late)
    kit.call("lintel clamp", [1], **place)
    return kit


def test_a_closed_fitting_called_for_after_the_hoop_is_closed_is_trapped() -> None:
    (finding,) = found(closed_kit("Slide a lintel clamp onto the left side tube of hoop 1.", tube=0, side="left", along_mm=1700.0))
    assert finding.code == "trapped"
    assert finding.fitting == "lintel clamp"
    assert finding.hoops == ("H1",)
    assert finding.steps == ("S4", "S3", "S2")
    assert "before step 2" in finding.advice
    assert {source.quote for source in finding.sources} == {
        "Slide a lintel clamp onto the left side tube of hoop 1.",
        "Push the tubes together and drive two screws through each joint.",
        "Stand every hoop on its ground tubes.",
    }


def test_below_the_purlin_clip_the_foot_serves_until_the_hoop_stands() -> None:
    (finding,) = found(closed_kit("Slide a lintel clamp onto the left side tube of hoop 1.", tube=0, side="left", along_mm=300.0))
    assert "before step 3" in finding.advice
    assert "step 2 is the last step" in finding.advice


def test_trapped_even_where_tube_and_place_are_unknown() -> None:
    assert [f.code for f in found(closed_kit("Slide a lintel clamp onto hoop 1."))] == ["trapped"]


def test_a_fitting_that_opens_is_never_trapped() -> None:
    kit = closed_kit("Slide a lintel clamp onto hoop 1.", tube=0)
    kit.part("lintel clamp", "open")
    kit.calls[-1] = replace(kit.calls[-1], when="any-time")
    assert not found(kit)


def test_a_foot_that_does_not_stand_yet_is_an_open_end_as_far_as_the_next_joint() -> None:
    kit = Kit(tubes=THREE)
    kit.step("Join the tubes of every hoop.")
    kit.act("join")
    kit.step("Slide a foot collar up each leg, 80 mm from the foot, and one ring onto the crown tube.")
    kit.call("foot collar", tube=0, side="left", along_mm=80.0)
    kit.call("foot collar", tube=2, side="right", along_mm=6920.0)
    kit.call("crown ring", [2], tube=1, side="centre", along_mm=3500.0)
    kit.step("Stand every hoop.")
    kit.act("stand")
    (finding,) = found(kit)
    assert (finding.code, finding.fitting, finding.hoops) == ("trapped", "crown ring", ("H2",))
    assert "before step 1" in finding.advice


def test_a_step_that_adds_and_then_joins_traps_nothing() -> None:
    kit = Kit(tubes=THREE)
    kit.step("Slide a ridge clamp onto the crown tube, then push the side tubes in. Stand the hoop.")
    kit.call("ridge clamp", tube=1, along_mm=3500.0, order=0)
    kit.act("join", sequence=1)
    kit.act("stand", sequence=2)
    assert not found(kit)


def test_a_step_that_joins_and_then_adds_traps() -> None:
    kit = Kit(tubes=THREE)
    kit.step("Push the side tubes into the crown tube, then slide a ridge clamp onto the crown tube.")
    kit.act("join", sequence=1)
    kit.call("ridge clamp", tube=1, along_mm=3500.0, order=2)
    assert [(f.code, f.hoops) for f in found(kit)] == [("trapped", ("H1", "H2", "H3"))]


def test_legs_that_stand_before_the_bow_is_joined_are_open_at_the_top() -> None:
    kit = Kit(tubes=THREE)
    kit.step("Lower each leg over its ground tube.")
    kit.act("stand")
    kit.step("Slide a rail clip onto each leg, 700 mm up.")
    kit.call("rail clip", tube=0, side="left", datum="foot", offset_mm=700.0)
    kit.step("Join the bows.")
    kit.act("join")
    assert not found(kit)


def test_hoops_are_told_apart() -> None:
    kit = Kit(tubes=THREE)
    kit.step("Join and stand hoop 1.")
    kit.act("join", [1])
    kit.act("stand", [1])
    kit.step("Slide a ring onto the crown tube of every hoop.")
    kit.call("ring", tube=1)
    kit.step("Join and stand the others.")
    kit.act("join", [2, 3])
    kit.act("stand", [2, 3])
    assert [(f.code, f.hoops) for f in found(kit)] == [("trapped", ("H1",))]


def test_joints_that_no_step_joins_are_shut_once_the_hoop_stands() -> None:
    kit = Kit(tubes=THREE)
    kit.step("Stand every hoop.")
    kit.act("stand")
    kit.step("Slide a ring onto the crown tube.")
    kit.call("ring", [2], tube=1)
    assert [(f.code, f.hoops) for f in found(kit)] == [("trapped", ("H2",))]


def test_taking_a_joint_apart_opens_the_way_again() -> None:
    kit = closed_kit("Take the left joint of hoop 1 apart.", tube=1)
    kit.calls.pop()
    kit.act("part", [1], joints=(0,))
    kit.step("Slide a ring onto the crown tube of hoop 1 and one of hoop 2.")
    kit.call("ring", [1, 2], tube=1)
    assert [(f.code, f.hoops) for f in found(kit)] == [("trapped", ("H2",))]


def test_a_joint_that_still_passes_is_no_end_but_a_way() -> None:
    kit = Kit(tubes=HALVES)
    kit.step("Push the halves together; clips still slide over the joint.")
    kit.act("join", passable=True)
    kit.step("Slide a clip onto the right half.")
    kit.call("clip", [1], tube=1, side="right")
    kit.step("Stand the hoop and screw the joint.")
    kit.act("stand")
    kit.act("fix", sequence=1)
    assert not found(kit)


def test_behind_a_tight_clamp_near_the_only_open_end_is_blocked() -> None:
    kit = Kit(hoops=4, tubes=HALVES)
    kit.step("Stand the halves and bolt the feet.")
    kit.act("stand")
    kit.step("Slide a ridge clamp on from the top, 150 mm down.")
    kit.call("ridge clamp", tube=0, side="left", datum="end", towards=-1, offset_mm=150.0, along_mm=3250.0)
    kit.step("Hoop 4: slide a lamp clamp onto the left half, 900 mm down.")
    kit.call("lamp clamp", [4], tube=0, side="left", datum="end", towards=-1, offset_mm=900.0, along_mm=2500.0)
    kit.step("Join the halves.")
    kit.act("join")
    (finding,) = found(kit)
    assert (finding.code, finding.fitting, finding.hoops) == ("blocked", "lamp clamp", ("H4",))
    assert "ridge clamp of step 2 is in the way" in finding.message
    assert "before step 2" in finding.advice


def test_blocked_is_told_from_the_offsets_alone() -> None:
    kit = Kit()
    kit.step("Stand the halves.")
    kit.act("stand")
    kit.step("Slide a clamp on from the top, 150 mm down.")
    kit.call("ridge clamp", tube=0, side="left", datum="ridge", offset_mm=150.0)
    kit.step("Slide a ring on from the top, 900 mm down.")
    kit.call("lamp ring", tube=0, side="left", datum="joint", towards=-1, offset_mm=900.0)
    kit.step("Join the halves.")
    kit.act("join")
    assert [(f.code, f.fitting) for f in found(kit)] == [("blocked", "lamp ring")]


def test_what_sits_nearer_to_the_open_end_is_not_blocked() -> None:
    kit = Kit(tubes=HALVES)
    kit.step("Stand the halves.")
    kit.act("stand")
    kit.step("Slide a lamp clamp on.")
    kit.call("lamp clamp", tube=0, side="left", along_mm=2500.0)
    kit.step("Slide a ridge clamp on.")
    kit.call("ridge clamp", tube=0, side="left", along_mm=3250.0)
    kit.step("Join the halves.")
    kit.act("join")
    assert not found(kit)


def test_unknown_places_block_nothing() -> None:
    kit = Kit(tubes=HALVES)
    kit.step("Stand the halves.")
    kit.act("stand")
    kit.step("Slide a ridge clamp on.")
    kit.call("ridge clamp", tube=0, side="left")
    kit.step("Slide a lamp clamp on.")
    kit.call("lamp clamp", tube=0, side="left", along_mm=2500.0)
    kit.step("Join the halves.")
    kit.act("join")
    assert not found(kit)


def test_fittings_of_one_step_do_not_block_each_other_unless_the_words_say_then() -> None:
    kit = Kit(tubes=HALVES)
    kit.step("Stand the halves.")
    kit.act("stand")
    kit.step("Slide on a ridge clamp and a lamp clamp.")
    first = kit.call("ridge clamp", [1], tube=0, side="left", along_mm=3250.0)
    then = kit.call("lamp clamp", [1], tube=0, side="left", along_mm=2500.0)
    kit.step("Join the halves.")
    kit.act("join")
    assert not found(kit)
    kit.wish(first[0], then[0])
    assert [(f.code, f.fitting) for f in found(kit)] == [("blocked", "lamp clamp")]


def test_a_frame_without_steps_that_close_anything_traps_nothing() -> None:
    kit = Kit()
    kit.step("Slide a ring onto every hoop.")
    kit.call("ring")
    assert not found(kit)


def test_a_sleeve_put_in_later_tells_that_the_joint_was_still_open() -> None:
    kit = Kit(hoops=2, tubes=HALVES)
    kit.step("Lower each half into its post.")
    kit.act("stand")
    kit.step("Slide a ridge clamp on from the top.")
    kit.call("ridge clamp", tube=0, side="left", along_mm=3200.0)
    kit.step("Push a sleeve into the open tops of hoop 1. Treat the other hoop the same way.")
    kit.part("sleeve", "sleeve")
    kit.call("sleeve", [1])
    kit.step("Slide a ring on.")
    kit.call("ring", tube=0, side="left", along_mm=3000.0)
    assert [(f.code, f.fitting, f.hoops) for f in found(kit)] == [("trapped", "ring", ("H1", "H2"))]


def bolted(part: str, late: str = "ring", **where: object) -> Kit:
    """Halves joined in step 1; step 2 puts ``part`` at both feet, and no sentence stands the hoop; step 3 slides a ring on at the feet."""
    kit = Kit(hoops=2, tubes=HALVES)
    kit.step("Push the halves together and screw the joint.")
    kit.act("join")
    kit.step(f"Drive one {part} through each foot.")
    kit.part(part, "fastener")
    for side in ("left", "right"):
        kit.call(part, side=side, **where)
    kit.step("Slide a ring onto the left half, 600 mm up.")
    kit.call(late, [2], tube=0, side="left", datum="foot", offset_mm=600.0, along_mm=600.0)
    return kit


@pytest.mark.parametrize(
    ("part", "where"),
    [
        ("long screw", {"when": "at-joining"}),
        ("long screw", {"when": "at-joining", "datum": "ground", "offset_mm": 80.0}),
        ("foot pin", {"datum": "ground", "offset_mm": 150.0}),
        ("foot bolt", {"datum": "foot", "offset_mm": 100.0}),
    ],
)
def test_a_foot_that_is_bolted_down_stands_even_if_no_sentence_says_so(part: str, where: dict[str, object]) -> None:
    (finding,) = found(bolted(part, **where))
    assert (finding.code, finding.hoops) == ("trapped", ("H2",))
    assert finding.steps[0] == "S3"
    assert set(finding.steps) == {"S1", "S2", "S3"}
    assert "feet set on the ground tubes in step 2" in finding.message


@pytest.mark.parametrize(
    ("part", "where"),
    [
        ("joint bolt", {"when": "at-joining", "datum": "joint", "offset_mm": 0.0}),
        ("ridge bolt", {"when": "at-joining", "datum": "ridge"}),
        ("foot pin", {"datum": "foot", "offset_mm": 1200.0}),
        ("foot washer", {"datum": "foot", "offset_mm": 100.0, "holds": "C1"}),
    ],
)
def test_other_fasteners_do_not_close_a_foot(part: str, where: dict[str, object]) -> None:
    assert not [finding for finding in found(bolted(part, **where)) if finding.code == "trapped"]


def test_a_ring_of_the_step_that_bolts_the_feet_goes_on_before_the_bolt() -> None:
    kit = bolted("foot pin", datum="foot", offset_mm=100.0)
    kit.calls[-1] = replace(kit.calls[-1], step="S2")
    assert not [finding for finding in found(kit) if finding.code == "trapped"]


def test_feet_that_stand_already_are_not_stood_again_by_a_later_post() -> None:
    kit = Kit(hoops=2, tubes=HALVES)
    kit.step("Slide a ridge clamp onto each left half.")
    kit.call("ridge clamp", tube=0, side="left", datum="ridge", offset_mm=100.0, along_mm=3300.0)
    kit.step("Push a sleeve into the top of each half.")
    kit.part("sleeve", "sleeve")
    kit.call("sleeve", datum="joint")
    kit.step("Stand the hoops.")
    kit.act("stand")
    kit.step("Slide a header clamp onto each half of hoop 1.")
    kit.call("header clamp", [1], tube=0, side="left", datum="foot", offset_mm=2100.0, along_mm=2100.0)
    kit.step("Stand the door posts under hoop 1.")
    kit.act("stand", [1])
    assert [(f.code, f.fitting) for f in found(kit)] == [("trapped", "header clamp")]


def halves(width: float | None, height: float | None, saddle_mm: float = 80.0, band_mm: float = 1900.0) -> list[tuple[str, str | None]]:
    """Halves of unknown length: a clip at the foot, a saddle below the ridge, then a band so far up from the foot, all before joining."""
    kit = Kit(hoops=1)
    kit.step("Slide a clip on from the foot and a saddle from the top.")
    kit.call("clip", tube=1, side="right", datum="foot", offset_mm=1000.0)
    kit.call("saddle", tube=1, side="right", datum="ridge", offset_mm=saddle_mm, towards=1)
    kit.step("Slide a band on.")
    kit.call("band", tube=1, side="right", datum="foot", offset_mm=band_mm)
    kit.step("Join the halves.")
    kit.act("join")
    frame = kit.frame()
    structure = replace(frame.structure, width_mm=width, height_mm=height)
    return [(w.code, w.fitting) for w in schedule(replace(frame, structure=structure)).warnings if w.code in ("blocked", "trapped")]


def test_a_half_is_no_shorter_than_the_straight_line_from_foot_to_ridge() -> None:
    assert halves(5000.0, 2600.0) == [("blocked", "band")]
    assert halves(5000.0, 2600.0, band_mm=3500.0) == [("blocked", "band")]  # 3607 mm at least: still below the saddle


@pytest.mark.parametrize(
    ("width", "height", "band"),
    [(None, 2600.0, 1900.0), (5000.0, None, 1900.0), (5000.0, 2600.0, 3560.0), (1000.0, 1500.0, 1900.0)],
)
def test_where_the_line_is_too_short_to_tell_nothing_is_blocked(width: float | None, height: float | None, band: float) -> None:
    assert halves(width, height, band_mm=band) == []


def test_what_covers_a_joint_goes_round_it_unless_the_manual_says_that_it_slides() -> None:
    kit = Kit(tubes=THREE)
    kit.step("Push the tubes together and stand the hoops.")
    kit.act("join")
    kit.act("stand", sequence=1)
    kit.step("Cover each joint with a foil.")
    kit.part("foil", "closed", stated=False)
    kit.call("foil", side="left", datum="joint", offset_mm=0.0)
    assert not found(kit)
    kit.part("foil", "closed", stated=True)
    assert [f.code for f in found(kit)] == ["trapped"]
    kit.part("foil", "closed", stated=False)
    kit.calls = [replace(call, offset_mm=200.0) for call in kit.calls]
    assert [f.code for f in found(kit)] == ["trapped"]
