"""Whole kits, and frames that are wrong in themselves."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest
from hoopwright.model.frame import Act, Call, OrderWish
from hoopwright.model.schedule import Schedule
from hoopwright.scheduling import schedule
from hypothesis import given, settings
from hypothesis import strategies as st

from .kits import Kit

LEG, QUARTER = 1000.0, pi * 2200 / 2
TOTAL = 2 * (LEG + QUARTER)


def found(result: Schedule) -> list[tuple[str, str | None, tuple[str, ...]]]:
    return [(finding.code, finding.fitting, finding.hoops) for finding in result.warnings]


def flowers() -> Kit:
    """Six hoops of two legs and two bows, after a manual of ours that gives places in five ways (leg 1000, radius 2200)."""
    ends = (0.0, LEG, LEG + QUARTER, LEG + 2 * QUARTER, TOTAL)
    names = (("leg tube", "left"), ("bow tube", "left"), ("bow tube", "right"), ("leg tube", "right"))
    kit = Kit(hoops=6, tubes=[(name, side, ends[i], ends[i + 1]) for i, (name, side) in enumerate(names)], tube_size_mm=48.0)  # type: ignore[misc]
    for name in ("ridge clip", "purlin clip", "crop bar clip", "brace band", "netting ring", "prop ring"):
        kit.part(name, size_mm=48.0)
    for name in ("mist hanger", "rail strap", "post clamp"):
        kit.part(name, "open", size_mm=48.0)
    for name in ("joint bolt", "tapping screw", "clip bolt"):
        kit.part(name, "fastener")
    kit.part("cover pad", "cover")

    def both(name: str, hoops: list[int] | None, along: float, **more: object) -> list[str]:
        inner = along > LEG
        left = kit.call(name, hoops, tube=1 if inner else 0, side="left", along_mm=along, **more)
        return left + kit.call(name, hoops, tube=2 if inner else 3, side="right", along_mm=TOTAL - along, **more)

    all_six, inner = None, [2, 3, 4, 5]
    purlin = LEG + QUARTER / 4
    kit.step("Crop bar clips, 2100 above the ground.")
    both("crop bar clip", inner, 2151.9, datum="ground", offset_mm=2100.0)
    kit.step("Purlin clips, a quarter of the way.")
    clips = both("purlin clip", all_six, purlin, datum="joint", offset_mm=QUARTER / 4)
    kit.step("Brace bands on the bows of the end hoops, 150 below the purlin clip.")
    both("brace band", [1, 6], purlin - 150, anchor=clips[0], offset_mm=150.0, towards=-1)
    kit.step("Ridge clips, 90 from the end.")
    kit.call("ridge clip", tube=1, side="left", along_mm=TOTAL / 2 - 90, datum="ridge", offset_mm=90.0)
    kit.step("Netting rings on the legs of the end hoops, 400 and 800 up.")
    both("netting ring", [1, 6], 400.0, datum="ground", offset_mm=400.0)
    both("netting ring", [1, 6], 800.0, datum="ground", offset_mm=800.0)
    kit.step("Join the bows at the ridge with two bolts.")
    kit.act("join", joints=(1,))
    kit.act("fix", joints=(1,), sequence=1)
    both("joint bolt", all_six, TOTAL / 2 - 30, when="at-joining", datum="joint", offset_mm=30.0)
    kit.step("Join the legs.")
    kit.act("join", joints=(0, 2))
    both("joint bolt", all_six, LEG, when="at-joining", datum="joint", offset_mm=0.0)
    kit.step("Brace bands over the feet of hoops 2 and 5, 300 up.")
    both("brace band", [2, 5], 300.0, datum="ground", offset_mm=300.0)
    kit.step("Raise the hoops.")
    kit.act("stand")
    kit.step("One screw through each foot, 80 up.")
    both("tapping screw", all_six, 80.0, when="at-joining", datum="ground", offset_mm=80.0)
    kit.step("Clip bolts through the purlin clips.")
    for clip in clips:
        call = next(call for call in kit.calls if call.id == clip)
        kit.call("clip bolt", [call.hoop or 0], tube=call.tube, side=call.side, along_mm=call.along_mm, holds=clip)
    kit.step("Rail straps, 650 up.")
    both("rail strap", all_six, 650.0, datum="ground", offset_mm=650.0)
    kit.step("Mist hangers, a third of the way, on hoops 1, 3 and 5.")
    both("mist hanger", [1, 3, 5], LEG + QUARTER / 3, datum="joint", offset_mm=QUARTER / 3)
    kit.step("Post clamps on hoop 1, 504 from the ridge.")
    both("post clamp", [1], TOTAL / 2 - 504, datum="ridge", offset_mm=504.0)
    kit.step("Prop rings on hoop 6, 300 above the purlin clip.")
    both("prop ring", [6], purlin + 300, anchor=clips[5], offset_mm=300.0, towards=1)
    kit.step("A cover pad over each leg joint.")
    both("cover pad", all_six, LEG)
    return kit


def test_the_flower_tunnel_has_one_clash_and_one_trapped_fitting() -> None:
    result = schedule(flowers().frame())
    assert found(result) == [("clash", "mist hanger", ("H3", "H5")), ("trapped", "prop ring", ("H6",))]


def test_the_flower_tunnel_is_threaded_as_its_manual_says() -> None:
    """Crop bar clip before purlin clip from the lower end, the brace band after them; the ridge clip from the upper end."""
    rows = {
        (p.fitting, p.thread_end): p.thread_order
        for p in schedule(flowers().frame()).placements
        if p.hoop in ("H1", "H2") and p.side == "left" and p.thread_order is not None
    }
    assert rows[("purlin clip", "bow tube, lower end")] in (1, 2)
    assert rows[("crop bar clip", "bow tube, lower end")] == 1
    assert rows[("brace band", "bow tube, lower end")] == 2
    assert rows[("ridge clip", "bow tube, upper end")] == 1
    assert rows[("brace band", "leg tube, foot end")] == 1


def test_the_flower_tunnel_in_its_revised_order_has_nothing_trapped() -> None:
    kit = flowers()
    result = schedule(kit.frame())
    assert len(result.moves) == 1
    again = schedule(kit.frame(order=result.work_order))
    assert [finding.code for finding in again.warnings] == ["clash"]


def test_the_same_frame_gives_the_same_schedule() -> None:
    assert schedule(flowers().frame()) == schedule(flowers().frame())


def test_every_finding_has_message_advice_and_a_source_for_each_side() -> None:
    for finding in schedule(flowers().frame()).warnings:
        assert finding.message.endswith(".")
        assert finding.advice.endswith(".")
        assert len(finding.sources) >= 2
        assert "None" not in finding.message + finding.advice


def shelter() -> Kit:
    """Two halves that butt at the peak, feet bolted before the tops are joined."""
    kit = Kit(hoops=7, tubes=(("near half", "left", 0.0, 3352.8), ("far half", "right", 3352.8, 6705.6)), tube_size_mm=42.164)
    kit.part("purlin clamp", size_mm=42.164)
    kit.part("tie ring", size_mm=33.401, size_text="1.315 in")
    kit.part("hanger ring", size_mm=42.164)
    for name, hoops, mm in (("purlin clamp", None, 1371.6), ("brace band", [1, 7], 457.2), ("brace band", [2, 6], 1676.4)):
        kit.step(f"Slide on the {name}.")
        kit.call(name, hoops, tube=0, side="left", along_mm=mm)
        kit.call(name, hoops, tube=1, side="right", along_mm=6705.6 - mm)
    kit.step("Slide one tie ring onto each half.")
    kit.call("tie ring", [2, 4, 6], tube=0, side="left", along_mm=1905.0)
    kit.call("tie ring", [2, 4, 6], tube=1, side="right", along_mm=4800.6)
    kit.step("Slide a hanger ring onto the far half of bows 2 to 6.")
    kit.call("hanger ring", [2, 3, 4, 5, 6], tube=1, side="right", along_mm=3810.0)
    kit.step("Lower each half into its post and bolt the foot.")
    kit.act("stand")
    kit.step("Slide a ridge clamp on from the top, 6 in down. Tighten.")
    kit.call("ridge clamp", tube=0, side="left", along_mm=3200.4, datum="ridge", offset_mm=152.4)
    kit.step("Bow 4: slide a lamp clamp on from the top, in behind the ridge clamp.")
    kit.call("lamp clamp", [4], tube=0, side="left", along_mm=2438.4, datum="ridge", offset_mm=914.4)
    kit.step("Join the peaks.")
    kit.act("join")
    kit.act("fix", sequence=1)
    return kit


def test_the_shelter_has_a_blocked_lamp_and_rings_of_the_wrong_size() -> None:
    result = schedule(shelter().frame())
    assert found(result) == [("mismatch", "tie ring", ("H2", "H4", "H6")), ("blocked", "lamp clamp", ("H4",))]
    (move,) = result.moves
    assert (move.step, move.before) == ("S8", "S7")


ids = st.sampled_from(["S1", "S2", "S9", "", "C1", "C2", "C7"])


@settings(deadline=None, max_examples=200)
@given(st.data())
def test_references_that_lead_nowhere_do_no_harm(data: st.DataObject) -> None:
    kit = shelter()
    frame = kit.frame()
    calls = list(frame.calls)
    for _ in range(data.draw(st.integers(1, 4))):
        at = data.draw(st.integers(0, len(calls) - 1))
        change: dict[str, object] = {
            "step": data.draw(ids),
            "hoop": data.draw(st.sampled_from([None, 0, 1, 7, 99])),
            "tube": data.draw(st.sampled_from([None, -1, 0, 1, 5])),
            "anchor": data.draw(st.sampled_from([None, "C1", "C2", "C3", "nobody"])),
            "towards": data.draw(st.sampled_from([None, -1, 1])),
            "holds": data.draw(st.sampled_from([None, "C1", "nobody"])),
            "part": data.draw(st.sampled_from(["purlin clamp", "nothing known"])),
            "along_mm": data.draw(st.sampled_from([None, -5.0, 3000.0])),
            "quantity": data.draw(st.integers(0, 3)),
        }
        calls[at] = replace(calls[at], **change)  # type: ignore[arg-type]
    source = calls[0].source
    acts = (*frame.acts, Act("join", (0, 99), data.draw(ids), source, joints=(-1, 7)), Act("part", (1,), data.draw(ids), source))
    wishes = tuple(OrderWish(data.draw(ids), data.draw(ids), source) for _ in range(data.draw(st.integers(0, 4))))
    order = tuple(data.draw(st.lists(ids, max_size=6)))
    result = schedule(replace(frame, calls=tuple(calls), acts=acts, wishes=wishes, order=order))
    assert len(result.placements) == len(calls)
    assert set(result.work_order) >= {call.step for call in calls}


def test_anchors_in_a_ring_do_not_hang() -> None:
    kit = shelter()
    first, second = kit.calls[0], kit.calls[1]
    kit.calls[0] = replace(first, anchor=second.id, offset_mm=10.0, towards=1, along_mm=None)
    kit.calls[1] = replace(second, anchor=first.id, offset_mm=10.0, towards=1, along_mm=None)
    assert schedule(kit.frame()).placements[0].datum == "P2"


@pytest.mark.parametrize("tubes", [(), (("hoop", "centre", None, None),)])
def test_a_hoop_of_one_tube_or_of_none_named(tubes: tuple[tuple[str, str, None, None], ...]) -> None:
    kit = Kit(tubes=tubes)  # type: ignore[arg-type]
    kit.step("Slide a ring on.")
    kit.call("ring", side="left")
    kit.step("Stand the hoops.")
    kit.act("stand")
    kit.step("Slide another ring on.")
    kit.call("ring", [2])
    result = schedule(kit.frame())
    assert found(result) == [("trapped", "ring", ("H2",))]
    assert (result.placements[0].thread_end or "").endswith("left foot")


def test_a_call_on_a_step_without_acts_or_options_keeps_its_fields() -> None:
    kit = Kit()
    kit.step("Hang a hook, somewhere near the top.")
    kit.part("hook", "open", code="K")
    kit.call("hook", [1], place_text="somewhere near the top", option="side vent", assumed=("one",))
    (placement,) = schedule(kit.frame()).placements
    assert (placement.loose, placement.option, placement.assumed, placement.code) == ("somewhere near the top", "side vent", ("one",), "K")
    assert isinstance(kit.calls[0], Call)


def test_steps_that_the_order_lacks_follow_the_step_printed_before_them() -> None:
    kit = Kit()
    for number in range(1, 7):
        kit.step(f"Slide ring {number} on.")
        kit.call(f"ring {number}")
    assert schedule(kit.frame(order=("S4", "S2"))).work_order == ("S1", "S4", "S5", "S6", "S2", "S3")
    assert schedule(kit.frame(order=())).work_order == ("S1", "S2", "S3", "S4", "S5", "S6")
