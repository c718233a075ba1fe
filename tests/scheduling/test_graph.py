"""The member-connection graph: what is held to what, by which fittings, from which step on."""

from __future__ import annotations

import networkx as nx
from hoopwright.model.connections import Connection
from hoopwright.model.frame import Bar
from hoopwright.scheduling import schedule

from .kits import Kit


def kit() -> Kit:
    kit = Kit(hoops=2, tubes=(("left half", "left", None, None), ("right half", "right", None, None)))
    kit.step("Slide a ridge clip onto each left half.")
    kit.call("ridge clip", tube=0, side="left")
    kit.part("hook", "open")
    kit.call("hook", [1], tube=1, quantity=2)
    kit.step("Join the halves.")
    kit.act("join")
    kit.step("Screw the joints.")
    kit.act("fix")
    kit.step("Stand the hoops.")
    kit.act("stand")
    kit.step("Feed the ridge bar through the ridge clips.")
    kit.bars.append(Bar("ridge bar", (1, 2), "S5"))
    kit.part("hinge", "open")
    kit.call("hinge", (), member="door post", quantity=3)
    return kit


def held(kit: Kit) -> dict[tuple[str, str, str], Connection]:
    return {(*each.ends, each.id): each for each in schedule(kit.frame()).connections.connections}


def test_members_and_connections() -> None:
    made = schedule(kit().frame()).connections
    assert {member.id for member in made.members} == {
        "H1 tube 1", "H1 tube 2", "H2 tube 1", "H2 tube 2", "bar ridge bar", "member door post",
        "H1 left ground tube", "H1 right ground tube", "H2 left ground tube", "H2 right ground tube",
    }  # fmt: skip
    graph: nx.MultiGraph[str] = nx.MultiGraph([each.ends for each in made.connections])
    assert nx.is_connected(graph)
    assert set(graph) == {member.id for member in made.members if member.kind != "member"}
    joint = held(kit())["H1 tube 1", "H1 tube 2", "joint 1"]
    assert (joint.kind, joint.step, joint.fixed_step, joint.place) == ("joint", "S2", "S3", 1)
    (clip,) = [each for (a, b, _), each in held(kit()).items() if (a, b) == ("H2 tube 1", "bar ridge bar")]
    assert (clip.kind, clip.fittings, clip.step) == ("fitting", (("ridge clip", 1),), "S5")
    fittings = {member.id: member.fittings for member in made.members if member.fittings}
    assert fittings == {"H1 tube 2": (("hook", 2),), "member door post": (("hinge", 3),)}


def test_the_frame_at_any_time_is_the_connections_up_to_it() -> None:
    made = schedule(kit().frame()).connections.connections
    assert [len([each for each in made if each.place <= n]) for n in range(5)] == [0, 2, 2, 6, 8]


def test_what_closes_a_joint_or_a_foot_is_on_that_connection() -> None:
    bolted = kit()
    bolted.part("joint sleeve", "sleeve")
    bolted.part("joint screw", "fastener")
    bolted.part("foot bolt", "fastener")
    bolted.step("Drive two joint screws through the sleeve of each joint and bolt the feet.")
    bolted.call("joint sleeve", [1])
    bolted.call("joint screw", [1], quantity=2, when="at-joining", datum="joint", side="centre", offset_mm=0.0)
    bolted.call("foot bolt", [1], when="at-joining", datum="foot", side="right", offset_mm=80.0)
    found = held(bolted)
    assert found["H1 tube 1", "H1 tube 2", "joint 1"].fittings == (("joint sleeve", 1), ("joint screw", 2))
    foot = found["H1 tube 2", "H1 right ground tube", "foot"]
    assert (foot.fittings, foot.step, foot.fixed_step) == ((("foot bolt", 1),), "S4", "S6")
    assert found["H2 tube 1", "H2 tube 2", "joint 1"].fittings == ()


def test_of_three_tubes_the_side_tells_which_joint() -> None:
    hoop = Kit(hoops=1, tubes=(("left leg", "left", None, None), ("crown", "centre", None, None), ("right leg", "right", None, None)))
    hoop.step("Screw the right joint.")
    hoop.part("joint screw", "fastener")
    hoop.call("joint screw", when="at-joining", datum="joint", side="right")
    assert [(each.ends, each.fittings) for each in held(hoop).values()] == [(("H1 tube 2", "H1 tube 3"), (("joint screw", 1),))]
