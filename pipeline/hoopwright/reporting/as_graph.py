"""The member-connection graph as GraphML and as node-link JSON, for programs that read graphs."""

from __future__ import annotations

import json
from io import BytesIO
from typing import TYPE_CHECKING, Any

from hoopwright.model.connections import Connection, Member, Pieces
from hoopwright.model.schedule import Schedule

if TYPE_CHECKING:
    import networkx as nx

    Graph = nx.MultiGraph[str]


def graph(schedule: Schedule) -> Graph:
    """The graph as ``networkx.MultiGraph``: members are nodes, connections edges; attributes are text and whole numbers only.

    ``step`` is the id of a step of ``schedule.json``, ``place`` its place in the manual's order of work. Several fittings stand in
    ``fittings`` as "2 joint screw; 1 sleeve".
    """
    import networkx as nx

    made: Graph = nx.MultiGraph(title=_xml(schedule.title))
    for member in schedule.connections.members:
        made.add_node(_xml(member.id), **_clean(_member(member)))
    for connection in schedule.connections.connections:
        a, b = map(_xml, connection.ends)
        made.add_edge(a, b, _xml(connection.id), **_clean(_connection(connection)))
    return made


def _member(member: Member) -> dict[str, Any]:
    return {"kind": member.kind, "name": member.name, "hoop": member.hoop, "fittings": _listed(member.fittings)}


def _connection(connection: Connection) -> dict[str, Any]:
    return {
        "kind": connection.kind,
        "step": connection.step,
        "place": connection.place,
        "hoop": connection.hoop,
        "fixed_step": connection.fixed_step,
        "fittings": _listed(connection.fittings),
    }


def _listed(pieces: Pieces) -> str | None:
    return "; ".join(f"{number} {fitting}" for fitting, number in pieces) or None


def _clean(data: dict[str, Any]) -> dict[str, Any]:
    """Without what is unknown: GraphML has no null."""
    return {key: _xml(value) for key, value in data.items() if value is not None}


def _xml(value: Any) -> Any:
    """Text without the characters that XML 1.0 forbids (control characters, lone surrogates)."""
    if not isinstance(value, str):
        return value
    return "".join(c for c in value if c in "\t\n\r" or "\x20" <= c < "\ud800" or "\ue000" <= c <= "\ufffd" or c >= "\U00010000")


def graphml(schedule: Schedule) -> bytes:
    """The graph as GraphML, UTF-8."""
    import networkx as nx

    out = BytesIO()
    nx.write_graphml_xml(graph(schedule), out, encoding="utf-8", prettyprint=True)
    return out.getvalue()


def node_link(schedule: Schedule) -> str:
    """The graph in the node-link form of networkx (``nodes``, ``edges``) as JSON."""
    import networkx as nx

    return json.dumps(nx.node_link_data(graph(schedule), edges="edges"), ensure_ascii=False, indent=1) + "\n"
