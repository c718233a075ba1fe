"""The member-connection graph: what is held to what, by which fitting, from which step on.

Nodes are members: each tube of each hoop, the ground tube under each foot, each bar, and other members that carry fittings. Edges are
connections; a fitting that holds a member to nothing that the frame names is an attribute of its member. Every edge has ``kind``,
``step`` and ``place`` (the step's place in the order of work, so that the frame at any time is the edges up to it).
"""

from __future__ import annotations

import json
from collections import defaultdict
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hoopwright.model.frame import Act, Bar, Call, Frame
from hoopwright.scheduling.chain import possible_tubes
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.wording import name_in_common

if TYPE_CHECKING:
    import networkx as nx

    Graph = nx.MultiGraph[str]

TOP_LEVEL = "hoopwright connection graph"


def connection_graph(frame: Frame) -> Graph:
    """The graph of a frame as ``networkx.MultiGraph``; node and edge attributes are text, whole numbers and floats only.

    Node ids: "H1 tube 1" (from the left foot), "H1 left ground tube", "bar ridge bar", "member door post". Edges: ``kind`` "joint",
    "foot" or "fitting"; ``fitting`` and ``quantity`` where a fitting makes or helps to make the connection.
    """
    import networkx as nx

    context = Context(frame)
    graph: Graph = nx.MultiGraph(title=frame.outline.title)
    _hoops(context, graph)
    _bars(context, graph)
    _joints(context, graph)
    _fittings(context, graph)
    return graph


def tube_node(context: Context, hoop: int, tube: int) -> str:
    return f"{context.hoop_id(hoop)} tube {tube + 1}"


def _hoops(context: Context, graph: Graph) -> None:
    for hoop in range(1, len(context.hoop_ids) + 1):
        for tube in range(context.tube_count):
            name = context.frame.tubes[tube].name if context.frame.tubes else "hoop"
            graph.add_node(tube_node(context, hoop, tube), kind="hoop tube", hoop=context.hoop_id(hoop), name=name)


def _bars(context: Context, graph: Graph) -> None:
    for bar in context.frame.bars:
        graph.add_node(f"bar {bar.name}", kind="bar", name=bar.name)


def _joints(context: Context, graph: Graph) -> None:
    """Joints between tubes and feet on ground tubes, from the acts that make them; a joint that is fixed later keeps both steps."""
    for act in context.frame.acts:
        for hoop in act.hoops:
            if act.kind in ("join", "fix"):
                _join(context, graph, act, hoop)
            elif act.kind == "stand":
                _stand(context, graph, act, hoop)


def _join(context: Context, graph: Graph, act: Act, hoop: int) -> None:
    for joint in act.joints or range(context.tube_count - 1):
        if not 0 <= joint < context.tube_count - 1:
            continue
        left, right = tube_node(context, hoop, joint), tube_node(context, hoop, joint + 1)
        key = f"joint {joint + 1}"
        if graph.has_edge(left, right, key):
            graph.edges[left, right, key]["fixed_step"] = act.step
        else:
            graph.add_edge(left, right, key, kind="joint", hoop=context.hoop_id(hoop), **_when(context, act.step))


def _stand(context: Context, graph: Graph, act: Act, hoop: int) -> None:
    for foot in act.feet:
        if foot in ("left", "right"):
            ground = f"{context.hoop_id(hoop)} {foot} ground tube"
            graph.add_node(ground, kind="ground tube", hoop=context.hoop_id(hoop), name="ground tube")
            tube = tube_node(context, hoop, 0 if foot == "left" else context.tube_count - 1)
            if not graph.has_edge(tube, ground, "foot"):
                graph.add_edge(tube, ground, "foot", kind="foot", hoop=context.hoop_id(hoop), **_when(context, act.step))


def _when(context: Context, step: str) -> dict[str, Any]:
    return {"step": step, "place": context.index.get(step, len(context.index))}


def _fittings(context: Context, graph: Graph) -> None:
    """Fittings that hold a bar to a hoop become edges; the others are listed on their member."""
    loose: dict[str, dict[str, int]] = defaultdict(dict)
    bars: dict[int, list[Bar]] = defaultdict(list)
    for bar in context.frame.bars:
        for hoop in bar.hoops:
            bars[hoop].append(bar)
    for call in context.frame.calls:
        if call.hoop is None:
            node = f"bar {call.member}" if f"bar {call.member}" in graph else f"member {call.member}"
            if node not in graph:
                graph.add_node(node, kind="member", name=call.member)
        else:
            node = tube_node(context, call.hoop, possible_tubes(context, call)[0])
            carried = [] if context.part(call).form not in ("closed", "open") else [b for b in bars[call.hoop] if carries(call, b)]
            for bar in carried:
                when = _when(context, max(call.step, bar.step, key=lambda step: context.index.get(step, -1)))
                graph.add_edge(node, f"bar {bar.name}", call.id, kind="fitting", fitting=call.part, quantity=call.quantity, **when)
            if carried:
                continue
        loose[node][call.part] = loose[node].get(call.part, 0) + call.quantity
    for node, fittings in loose.items():
        graph.nodes[node]["fittings"] = "; ".join(f"{number} {part}" for part, number in fittings.items())


def carries(call: Call, bar: Bar) -> bool:
    """Whether the fitting holds the bar to the hoop: by the manual's word, else by its name ("purlin clip": the purlin)."""
    return call.carries == bar.name if call.carries is not None else name_in_common(bar.name, call.part)


def write_graphml(graph: Graph, path: Path) -> None:
    """Write the graph as GraphML (UTF-8). Characters that XML cannot hold are left out."""
    import networkx as nx

    clean: Graph = nx.MultiGraph(title=_xml(graph.graph.get("title", "")))
    for node, data in graph.nodes(data=True):
        clean.add_node(_xml(node), **{key: _xml(value) for key, value in data.items()})
    for a, b, key, data in graph.edges(keys=True, data=True):
        clean.add_edge(_xml(a), _xml(b), _xml(key), **{name: _xml(value) for name, value in data.items()})
    nx.write_graphml_xml(clean, path, encoding="utf-8")


def _xml(value: Any) -> Any:
    """Text without the characters that XML 1.0 forbids (control characters, lone surrogates)."""
    if not isinstance(value, str):
        return value
    return "".join(c for c in value if c in "\t\n\r" or "\x20" <= c < "\ud800" or "\ue000" <= c <= "\ufffd" or c >= "\U00010000")


def node_link(graph: Graph) -> dict[str, Any]:
    """The graph in the node-link form of networkx, under its usual names (``nodes``, ``edges``)."""
    import networkx as nx

    data: dict[str, Any] = nx.node_link_data(graph, edges="edges")
    return data


def write_node_link(graph: Graph, path: Path) -> None:
    """Write the node-link form as JSON (UTF-8)."""
    text = json.dumps(node_link(graph), ensure_ascii=False, indent=1)
    path.write_text(text.encode("utf-8", "replace").decode("utf-8") + "\n", encoding="utf-8")
