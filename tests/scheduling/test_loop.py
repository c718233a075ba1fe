"""``loop``: contradictions in the order asked for; the knots against networkx."""

from __future__ import annotations

import networkx as nx
from hoopwright.model.schedule import Finding
from hoopwright.scheduling import schedule
from hoopwright.scheduling.loop import knots
from hypothesis import given, settings
from hypothesis import strategies as st

from .kits import Kit


def found(kit: Kit) -> list[Finding]:
    return [finding for finding in schedule(kit.frame()).warnings if finding.code == "loop"]


def two_steps() -> Kit:
    kit = Kit(hoops=4, tubes=(("left tube", "left", 0.0, 3000.0), ("right tube", "right", 3000.0, 6000.0)))
    kit.step("Slide a crop bar clip onto the left tube of hoops 2 and 3; the purlin clip must already be on.")
    kit.call("crop bar clip", [2, 3], tube=0, side="left", along_mm=1270.0, enters=-1)
    kit.step("Slide a purlin clip onto the left tube of every hoop; on hoops 2 and 3 the crop bar clip must already be on.")
    kit.call("purlin clip", tube=0, side="left", along_mm=1016.0, enters=-1)
    return kit


def test_two_steps_that_wait_for_each_other() -> None:
    kit = two_steps()
    kit.wish("S1", "S2")
    kit.wish("S2", "S1")
    (finding,) = found(kit)
    assert (finding.fitting, finding.hoops, finding.steps) == ("crop bar clip", ("H2", "H3"), ("S1", "S2"))
    assert "Steps" not in finding.message
    assert "from the left tube, foot end, crop bar clip then purlin clip" in finding.advice


def test_wishes_between_calls_make_one_finding_for_all_hoops() -> None:
    kit = two_steps()
    for crop, purlin in (("C1", "C4"), ("C2", "C5")):
        kit.wish(crop, purlin)
        kit.wish(purlin, crop)
    assert [(f.hoops, f.steps) for f in found(kit)] == [(("H2", "H3"), ("S1", "S2"))]


def test_a_step_and_a_call_of_another() -> None:
    kit = two_steps()
    kit.wish("S2", "C1")
    kit.wish("C1", "S2")
    assert [(f.hoops, f.steps) for f in found(kit)] == [(("H2",), ("S1", "S2"))]


def test_a_longer_circle_is_shown_whole_and_once() -> None:
    kit = Kit()
    for number in range(1, 5):
        kit.step(f"Step {number} of four.")
        kit.call(f"ring {number}")
    for first, then in (("S1", "S2"), ("S2", "S3"), ("S3", "S1"), ("S3", "S4")):
        kit.wish(first, then)
    assert [f.steps for f in found(kit)] == [("S1", "S2", "S3")]


def test_what_the_places_force_contradicts_a_wish() -> None:
    kit = Kit(tubes=(("left tube", "left", 0.0, 3000.0), ("right tube", "right", 3000.0, 6000.0)))
    kit.step("Stand the halves.")
    kit.act("stand")
    kit.step("Slide on the deep ring; the outer ring must be on already.")
    deep = kit.call("deep ring", [1], tube=0, along_mm=500.0)
    kit.step("Slide on the outer ring.")
    outer = kit.call("outer ring", [1], tube=0, along_mm=2500.0)
    kit.step("Join the halves.")
    kit.act("join")
    assert not found(kit)
    kit.wish(outer[0], deep[0])
    assert not found(kit)  # before the halves stand, the deep ring still goes on over the foot
    kit.wish("S1", deep[0])
    (finding,) = found(kit)
    assert finding.steps == ("S2", "S3")
    assert "only the reverse" in finding.message


def test_unlucky_order_one_wish_and_other_hoops_are_no_loops() -> None:
    kit = two_steps()
    kit.wish("S2", "S1")
    assert not found(kit)
    kit.wishes.clear()
    kit.wish("C1", "C4")  # hoop 2 one way round, hoop 3 the other
    kit.wish("C5", "C2")
    assert not found(kit)


def test_wishes_that_lead_nowhere_are_left_alone() -> None:
    kit = two_steps()
    kit.wish("S1", "S99")
    kit.wish("nothing", "S1")
    assert not found(kit)


@settings(deadline=None)
@given(st.lists(st.tuples(st.sampled_from("abcdefg"), st.sampled_from("abcdefg")), max_size=20))
def test_knots_are_the_strongly_connected_parts(pairs: list[tuple[str, str]]) -> None:
    arrows: dict[str, list[str]] = {}
    for a, b in pairs:
        arrows.setdefault(a, []).append(b)
        arrows.setdefault(b, [])
    graph = nx.DiGraph(pairs)
    assert knots(arrows) == sorted(sorted(part) for part in nx.strongly_connected_components(graph) if len(part) > 1)
