"""The member-connection graph and its two files."""

from __future__ import annotations

import json
from pathlib import Path

import networkx as nx
from hoopwright.model.frame import Bar
from hoopwright.scheduling import connection_graph, write_graphml, write_node_link

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


def test_members_and_connections() -> None:
    graph = connection_graph(kit().frame())
    assert nx.is_connected(graph.subgraph([n for n in graph if not n.startswith("member")]))
    assert set(graph) == {
        "H1 tube 1", "H1 tube 2", "H2 tube 1", "H2 tube 2", "bar ridge bar", "member door post",
        "H1 left ground tube", "H1 right ground tube", "H2 left ground tube", "H2 right ground tube",
    }  # fmt: skip
    joint = graph.edges["H1 tube 1", "H1 tube 2", "joint 1"]
    assert (joint["kind"], joint["step"], joint["fixed_step"], joint["place"]) == ("joint", "S2", "S3", 1)
    (held,) = graph["H2 tube 1"]["bar ridge bar"].values()
    assert (held["fitting"], held["step"]) == ("ridge clip", "S5")
    assert graph.nodes["H1 tube 2"]["fittings"] == "2 hook"
    assert graph.nodes["member door post"]["fittings"] == "3 hinge"


def test_the_frame_at_any_time_is_the_edges_up_to_it() -> None:
    graph = connection_graph(kit().frame())
    after = {n: [e for e in graph.edges(data=True) if e[2]["place"] <= n] for n in range(5)}
    assert [len(after[n]) for n in range(5)] == [0, 2, 2, 6, 8]


def test_both_files_read_back_as_the_same_graph(tmp_path: Path) -> None:
    hostile = kit()
    hostile.bars.append(Bar("rail <b>&\x07 ]]>", (1,), "S5"))
    graph = connection_graph(hostile.frame())
    write_graphml(graph, tmp_path / "frame.graphml")
    write_node_link(graph, tmp_path / "frame.json")
    xml = nx.read_graphml(tmp_path / "frame.graphml", force_multigraph=True)
    back = nx.node_link_graph(json.loads((tmp_path / "frame.json").read_text(encoding="utf-8")), edges="edges")
    assert nx.utils.graphs_equal(back, graph)
    assert set(xml) == {node.replace("\x07", "") for node in graph}
    assert sorted((a, b, d["kind"], d["step"]) for a, b, d in xml.edges(data=True)) == sorted(
        (a, b, d["kind"], d["step"]) for a, b, d in graph.edges(data=True)
    )
