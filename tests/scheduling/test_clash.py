"""``clash``: two fittings at one place, and what is near but must not be one."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hoopwright.model.schedule import Finding
from hoopwright.scheduling import schedule

from .kits import Kit


def found(kit: Kit) -> list[Finding]:
    return [finding for finding in schedule(kit.frame()).warnings if finding.code == "clash"]


def pair(first: dict[str, Any], then: dict[str, Any], forms: tuple[Any, Any] = ("open", "open"), **parts: Any) -> Kit:
    """Two parts, "brace clip" and "vent clip", called for in two steps with the fields given."""
    kit = Kit(tubes=(("hoop tube", "centre", 0.0, 7000.0),))
    kit.part("brace clip", forms[0], **parts)
    kit.part("vent clip", forms[1], **parts)
    kit.step("Put a brace clip on each hoop.")
    kit.call("brace clip", **first)
    kit.step("Put a vent clip on each hoop.")
    kit.call("vent clip", **then)
    return kit


def test_the_same_distance_along_the_tube_clashes_however_it_is_stated() -> None:
    kit = pair({"along_mm": 2151.9, "datum": "ground", "offset_mm": 2100.0}, {"along_mm": 2151.92, "datum": "joint", "offset_mm": 1151.9})
    (finding,) = found(kit)
    assert (finding.fitting, finding.hoops, finding.steps) == ("vent clip", ("H1", "H2", "H3"), ("S2", "S1"))
    assert "at the same place as the brace clip of step 1" in finding.message
    assert len(finding.sources) == 2


def test_the_same_height_on_the_same_leg_clashes_without_a_known_shape() -> None:
    place = {"datum": "foot", "offset_mm": 1050.0, "side": "left"}
    assert len(found(pair(place, place))) == 1


def test_nearer_than_half_the_sum_of_stated_widths_clashes() -> None:
    assert found(pair({"along_mm": 1000.0, "offset_mm": 1.0}, {"along_mm": 1035.0, "offset_mm": 1.0}, width_mm=40.0))
    assert not found(pair({"along_mm": 1000.0, "offset_mm": 1.0}, {"along_mm": 1040.0, "offset_mm": 1.0}, width_mm=40.0))


def test_without_stated_widths_only_what_surely_overlaps_clashes() -> None:
    assert found(pair({"along_mm": 1000.0, "offset_mm": 1.0}, {"along_mm": 1015.0, "offset_mm": 1.0}))
    assert not found(pair({"along_mm": 1000.0, "offset_mm": 1.0}, {"along_mm": 1025.0, "offset_mm": 1.0}))


@pytest.mark.parametrize(
    ("first", "then", "forms"),
    [
        ({"along_mm": 1050.0, "side": "left"}, {"along_mm": 5950.0, "side": "right"}, ("open", "open")),
        ({"datum": "foot", "offset_mm": 1050.0, "side": "left"}, {"datum": "foot", "offset_mm": 1050.0, "side": "right"}, ("open", "open")),
        ({"along_mm": 1050.0, "hoops": [1, 2]}, {"along_mm": 1050.0, "hoops": [3]}, ("open", "open")),
        ({"along_mm": 1050.0, "offset_mm": 1050.0}, {}, ("open", "open")),
        ({"along_mm": 1050.0, "offset_mm": 1050.0}, {"along_mm": 1050.0, "offset_mm": 1050.0}, ("open", "cover")),
        ({"along_mm": 3500.0, "datum": "ridge"}, {"along_mm": 3500.0, "datum": "ridge"}, ("closed", "open")),
        ({"along_mm": 1050.0, "offset_mm": 1050.0}, {"along_mm": 1050.0, "offset_mm": 1050.0, "when": "at-joining"}, ("open", "fastener")),
        ({"datum": "foot", "offset_mm": 500.0, "side": "left"}, {"datum": "ridge", "offset_mm": 500.0, "side": "left"}, ("open", "open")),
    ],
    ids=["other leg", "other leg by offset", "other hoop", "no place", "pad over", "both at the ridge", "foot screw", "other datum"],
)
def test_near_misses(first: dict[str, Any], then: dict[str, Any], forms: tuple[Any, Any]) -> None:
    assert not found(pair(first, then, forms))


def test_a_bolt_through_its_own_clip_and_a_fitting_measured_from_another_do_not_clash() -> None:
    place = {"along_mm": 1050.0, "offset_mm": 1050.0}
    assert not found(pair(place, {**place, "holds": "C1"}, ("closed", "fastener")))
    assert not found(pair(place, {"along_mm": 1060.0, "anchor": "C1", "offset_mm": 10.0, "towards": 1, "hoops": [1]}))


def test_a_screw_of_its_own_where_another_step_puts_a_clip_clashes_once_with_its_washer() -> None:
    kit = pair({"along_mm": 1050.0, "offset_mm": 1050.0}, {"along_mm": 1055.0, "offset_mm": 1055.0}, ("closed", "fastener"))
    kit.part("washer", "fastener")
    kit.call("washer", along_mm=1055.0, offset_mm=1055.0)
    assert len(found(kit)) == 1
    kit.texts[1] = "Drive a screw through the brace clip."
    kit.calls[3:] = [replace(call, source=kit.source) for call in kit.calls[3:]]
    assert not found(kit)


def test_the_screw_of_a_bracket_is_told_of_the_bracket() -> None:
    kit = pair({"along_mm": 1050.0, "offset_mm": 1050.0}, {"along_mm": 1050.0, "offset_mm": 1050.0})
    assert len(found(kit)) == 1
    kit.part("bracket screw", "fastener")
    kit.call("bracket screw", along_mm=1050.0, offset_mm=1050.0, quantity=2)
    assert len(found(kit)) == 1
    kit.calls[-1] = replace(kit.calls[-1], along_mm=1052.0, offset_mm=1052.0)  # elsewhere, but told in the bracket's own sentence
    assert len(found(kit)) == 1


def test_one_finding_for_all_hoops_and_one_pair_of_steps() -> None:
    place = {"along_mm": 1050.0, "offset_mm": 1050.0}
    kit = pair(place, {**place, "hoops": [1, 3]})
    assert [finding.hoops for finding in found(kit)] == [("H1", "H3")]
