"""Counts, parts balance, ``short``, ``unlisted``, ``unused``, and the numbering of what is found."""

from __future__ import annotations

from hoopwright.model.schedule import Finding, Question, Schedule
from hoopwright.scheduling import schedule

from .kits import Kit


def codes(result: Schedule) -> list[tuple[str, str | None, tuple[str, ...]]]:
    return [(finding.code, finding.fitting, finding.hoops) for finding in result.warnings]


def stocked() -> Kit:
    kit = Kit()
    kit.part("ridge clip", listed=3, in_list=True, code="A")
    kit.part("clip bolt", "fastener", listed=6, in_list=True)
    kit.step("Slide one ridge clip onto each hoop and put two bolts in it.")
    kit.call("ridge clip", tube=0)
    kit.call("clip bolt", quantity=2)
    return kit


def test_counts_cover_every_hoop_and_before_joining_is_what_slides_on() -> None:
    kit = stocked()
    kit.hoops = 4
    result = schedule(kit.frame())
    assert result.counts == {**{f"H{n}": {"ridge clip": 1, "clip bolt": 2} for n in (1, 2, 3)}, "H4": {}}
    assert result.before_joining == {"H1": {"ridge clip": 1}, "H2": {"ridge clip": 1}, "H3": {"ridge clip": 1}, "H4": {}}
    assert result.elsewhere == {}


def test_a_trapped_fitting_still_counts_and_still_has_to_go_on_before_joining() -> None:
    kit = Kit(hoops=1)
    kit.step("Join and stand the hoop.")
    kit.act("join")
    kit.act("stand")
    kit.step("Slide a ring on.")
    kit.call("ring", tube=0)
    result = schedule(kit.frame())
    assert codes(result) == [("trapped", "ring", ("H1",))]
    assert result.counts == result.before_joining == {"H1": {"ring": 1}}


def test_other_members_are_summed_by_name() -> None:
    kit = stocked()
    kit.part("hinge", "open", listed=4, in_list=True)
    kit.step("Hang the door.")
    kit.call("hinge", (), member="door post", quantity=3)
    kit.call("hinge", (), member="door post", quantity=1)
    result = schedule(kit.frame())
    assert result.elsewhere == {"door post": {"hinge": 4}}
    assert codes(result) == []


def test_balance_shows_what_is_left_over() -> None:
    kit = stocked()
    kit.part("pole", "open", listed=9, in_list=True, is_fitting=False)
    rows = {row.fitting: (row.listed, row.needed, row.difference) for row in schedule(kit.frame()).parts}
    assert rows == {"ridge clip": (3, 3, 0), "clip bolt": (6, 6, 0)}


def test_short_names_the_steps_and_the_list() -> None:
    kit = stocked()
    kit.step("Put one more bolt in each.")
    kit.call("clip bolt")
    result = schedule(kit.frame())
    assert codes(result) == [("short", "clip bolt", ("H1", "H2", "H3"))]
    assert "6 in step 1, 3 in step 2" in result.warnings[0].message
    assert result.parts[1].difference == -3


def test_unlisted_needs_a_list() -> None:
    kit = stocked()
    kit.part("liner pad", "cover")
    kit.step("Stick a pad on hoops 2 and 3.")
    kit.call("liner pad", [2, 3])
    assert codes(schedule(kit.frame())) == [("unlisted", "liner pad", ("H2", "H3"))]


def test_no_list_at_all_means_nothing_is_unlisted() -> None:
    kit = Kit()
    kit.step("Slide a ring on.")
    kit.call("ring")
    assert codes(schedule(kit.frame())) == []


def test_a_part_listed_without_a_number_is_neither_short_nor_unlisted() -> None:
    kit = stocked()
    kit.part("screw", "fastener", listed=None, in_list=True)
    kit.step("Drive a screw.")
    kit.call("screw", quantity=40)
    result = schedule(kit.frame())
    assert codes(result) == []
    assert [(row.listed, row.needed, row.difference) for row in result.parts if row.fitting == "screw"] == [(None, 120, None)]


def test_unused_is_for_fittings_of_the_options_in_use() -> None:
    kit = stocked()
    kit.part("shade hook", "open", listed=6, in_list=True)
    kit.part("door post", "open", listed=2, in_list=True, is_fitting=False)
    kit.part("vent clip", "closed", listed=4, in_list=True, option_only="side vent")
    kit.part("spare washer", "fastener", listed=None, in_list=True)
    assert codes(schedule(kit.frame())) == [("unused", "shade hook", ())]
    kit.options = ("side vent",)
    assert sorted(codes(schedule(kit.frame()))) == [("unused", "shade hook", ()), ("unused", "vent clip", ())]


def test_findings_and_questions_of_the_frame_are_passed_on_and_numbered_in_order_of_work() -> None:
    kit = stocked()
    kit.step("Another step.")
    kit.findings.append(Finding("conflict", "ridge clip", ("H1",), ("S2",), "m", "a"))
    kit.questions.append(Question("quantity", "clip bolt", (), "S2", "two or four?", ("two", "four"), "two"))
    kit.questions.append(Question("member", "ridge clip", (), "S1", "which?", (), None))
    kit.questions.append(Question("member", "ridge clip", (), "S1", "which?", (), None))
    result = schedule(kit.frame())
    assert [(finding.id, finding.code) for finding in result.warnings] == [("W1", "conflict")]
    assert [(question.id, question.step) for question in result.questions] == [("Q1", "S1"), ("Q2", "S2")]


def test_placements_are_numbered_in_order_of_work_and_anchors_name_placements() -> None:
    kit = stocked()
    (clip, *_rest) = [call.id for call in kit.calls]
    kit.step("Slide a ring on, 300 mm above the clip.")
    kit.call("ring", [1], tube=0, anchor=clip, towards=1, offset_mm=300.0, side="left")
    result = schedule(kit.frame())
    assert [placement.id for placement in result.placements] == [f"P{n}" for n in range(1, 8)]
    ring = result.placements[-1]
    assert (ring.fitting, ring.datum, ring.offset_mm, ring.section, ring.hoop) == ("ring", "P1", 300.0, "left tube", "H1")


def test_a_defaulted_form_is_said() -> None:
    kit = Kit()
    kit.part("ring", stated=False)
    kit.step("Fit a ring.")
    kit.call("ring", tube=0)
    assert any("slide on" in text for text in schedule(kit.frame()).placements[0].assumed)
    kit.part("ring", stated=True)
    assert not any("does not say whether it opens" in text for text in schedule(kit.frame()).placements[0].assumed)
