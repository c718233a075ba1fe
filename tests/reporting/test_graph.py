"""The graph's two files, read back by networkx and held against the schedule that was written beside them."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import networkx as nx
import pytest
from cli.running import run
from hoopwright.model.connections import Connection, Connections, Member
from hoopwright.reporting import write_outputs
from hoopwright.reporting.as_graph import graph, graphml, node_link

from library import EXAMPLES, SAMPLES, Kit

from .factory import five

PIECES = Connections(
    (Member("H1 tube 1", "hoop tube", "left\x07 half <b>&", "H1", (("ring ]]>", 2),)), Member("bar ridge bar", "bar", "ridge bar")),
    (
        Connection("C1", "fitting", ("H1 tube 1", "bar ridge bar"), "S2", 1, "H1", None, (("ridge clip", 1),)),
        Connection("C2", "fitting", ("H1 tube 1", "bar ridge bar"), "S2", 1, "H1", "S3", (("ridge clip", 1), ("clamp bolt", 2))),
    ),
)


def read(path: Path) -> Any:
    return nx.read_graphml(path, force_multigraph=True)


def test_both_files_read_back_as_the_same_graph(tmp_path: Path) -> None:
    schedule = replace(five(), title="\x00Hedge & house", connections=PIECES)
    made = graph(schedule)
    (tmp_path / "graph.xml").write_bytes(graphml(schedule))
    xml = read(tmp_path / "graph.xml")
    back = nx.node_link_graph(json.loads(node_link(schedule)), edges="edges")
    assert nx.utils.graphs_equal(back, made)
    assert xml.graph["title"] == "Hedge & house"
    assert dict(xml.nodes(data=True)) == dict(made.nodes(data=True))
    assert sorted(map(str, xml.edges(keys=True, data=True))) == sorted(map(str, made.edges(keys=True, data=True)))
    assert made.nodes["H1 tube 1"] == {"kind": "hoop tube", "name": "left half <b>&", "hoop": "H1", "fittings": "2 ring ]]>"}
    assert made.edges["H1 tube 1", "bar ridge bar", "C2"]["fittings"] == "1 ridge clip; 2 clamp bolt"


def test_the_graph_is_written_only_when_it_is_asked_for(tmp_path: Path) -> None:
    names = [path.name for path in write_outputs(five(), tmp_path / "some", only=["csv"])]
    assert not any("connections" in name for name in names)
    names = [path.name for path in write_outputs(five(), tmp_path / "more", only=["graph"])]
    assert names == ["schedule.json", "connections.graphml", "connections.json"]


def pieces(text: str | None) -> Counter[str]:
    found: Counter[str] = Counter()
    for each in (text or "").split("; ") if text else ():
        number, _, name = each.partition(" ")
        found[name] += int(number)
    return found


@pytest.mark.parametrize("kit", [*SAMPLES, *EXAMPLES], ids=lambda kit: kit.name)
def test_every_piece_of_the_schedule_is_in_the_graph(kit: Kit, tmp_path: Path) -> None:
    assert run("schedule", kit.manual, "--only", "graph", "--out", tmp_path).code == 0
    data = json.loads((tmp_path / "schedule.json").read_text(encoding="utf-8"))
    xml = read(tmp_path / "connections.graphml")
    hoops = [hoop["id"] for hoop in data["structure"]["hoops"]]
    per_tube = data["structure"]["sections_per_hoop"] or 1
    tubes = [node for node, kind in xml.nodes(data="kind") if kind == "hoop tube"]
    assert sorted(tubes) == sorted(f"{hoop} tube {n}" for hoop in hoops for n in range(1, per_tube + 1))
    counted: dict[str, Counter[str]] = {hoop: Counter() for hoop in hoops}
    elsewhere: Counter[str] = Counter()
    for _, node in xml.nodes(data=True):
        (counted[node["hoop"]] if "hoop" in node else elsewhere).update(pieces(node.get("fittings")))
    once = {
        (edge["hoop"], key if edge["kind"] == "fitting" else f"{a}{b}{key}"): edge for a, b, key, edge in xml.edges(keys=True, data=True)
    }
    for (hoop, _), edge in once.items():
        counted[hoop].update(pieces(edge.get("fittings")))
    assert {hoop: dict(each) for hoop, each in counted.items() if each} == data["counts"]
    others: Counter[str] = Counter()
    for row in data["elsewhere"].values():
        others.update(row)
    assert elsewhere == others
    steps = {step["id"] for step in data["steps"]}
    assert {edge["step"] for edge in once.values()} <= steps


BARS = {  # by hand, from the manuals
    "e1-table-led": {"ridge purlin": range(1, 9), "side purlin": range(1, 9), "crop bar": range(2, 8), "diagonal brace": (1, 2, 7, 8)},
    "e3-bullets-codes": {"ridge purlin": range(1, 8), "side purlin": range(1, 8), "corner brace": (1, 2, 6, 7), "cross tie": (2, 4, 6)},
}


@pytest.mark.parametrize("kit", [kit for kit in EXAMPLES if kit.name in BARS], ids=lambda kit: kit.name)
def test_the_bars_meet_the_hoops_that_the_manual_names(kit: Kit, tmp_path: Path) -> None:
    assert run("schedule", kit.manual, "--only", "graph", "--out", tmp_path).code == 0
    xml = read(tmp_path / "connections.graphml")
    for bar, hoops in BARS[kit.name].items():
        assert {xml.nodes[tube]["hoop"] for tube in xml[f"bar {bar}"]} == {f"H{n}" for n in hoops}
