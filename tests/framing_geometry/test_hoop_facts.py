"""From the manual's facts to those of the geometry, and the warning where it gives one length twice."""

from __future__ import annotations

from hoopwright.framing.hoop_facts import hoop_facts, length_findings
from hoopwright.model.events import Facts
from hoopwright.model.frame import Tube
from hoopwright.model.outline import Source

THREE = (Tube("left leg", "left"), Tube("crown tube", "centre"), Tube("right leg", "right"))
HERE, THERE = Source("D1", 1, 0, 10, "1500 mm"), Source("D1", 2, 50, 60, "1650 mm")


def test_each_tube_gets_the_length_of_its_kind() -> None:
    facts = Facts(tube_lengths=(("leg", 1500.0), ("crown tube", 4200.0)), hidden_mm=0.0)
    assert hoop_facts(facts, THREE).tubes_mm == (1500, 4200, 1500)
    assert hoop_facts(Facts(tube_lengths=(("*", 2400.0),)), THREE).tubes_mm == (2400, 2400, 2400)
    assert hoop_facts(Facts(tube_lengths=(("leg", 1500.0),)), THREE).tubes_mm == (1500, None, 1500)


def test_a_joint_height_goes_to_the_outermost_joints() -> None:
    four = (Tube("left leg", "left"), Tube("left bow", "left"), Tube("right bow", "right"), Tube("right leg", "right"))
    assert hoop_facts(Facts(joint_height_mm=1000.0), four).joint_heights_mm == (1000, None, 1000)


def test_a_length_told_twice_is_a_conflict_with_the_gap_and_both_places() -> None:
    (finding,) = length_findings(Facts(disagreements=(("leg", 1500.0, 1650.0, HERE, THERE),)), ("H1", "H2"))
    assert (finding.code, finding.hoops, finding.sources) == ("conflict", ("H1", "H2"), (HERE, THERE))
    assert "150 mm apart" in finding.message
    assert length_findings(Facts(), ("H1",)) == ()
