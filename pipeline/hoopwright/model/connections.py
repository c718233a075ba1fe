"""What is held to what: the members of the frame and their connections. Step ids are those of the outline."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

MemberKind = Literal["hoop tube", "ground tube", "bar", "member"]
ConnectionKind = Literal["joint", "foot", "fitting"]
Pieces = tuple[tuple[str, int], ...]  # (fitting, number)


@dataclass(frozen=True, slots=True)
class Member:
    """A tube of a hoop, the ground tube under a foot, a bar, or another member that carries fittings.

    ``id`` is unique: "H1 tube 1" (from the left foot), "H1 left ground tube", "bar ridge bar", "member door post". ``hoop`` is H1 … HN or
    None. ``fittings`` sit on it and hold it to nothing that the frame names.
    """

    id: str
    kind: MemberKind
    name: str
    hoop: str | None = None
    fittings: Pieces = ()


@dataclass(frozen=True, slots=True)
class Connection:
    """Two members held together from ``step`` on; ``place`` is that step's place in the manual's order of work, from 0.

    ``id`` is unique between its two members. ``fixed_step``: the step that screws or bolts a joint that was pushed together before.
    ``fittings`` are what holds the two: the clip of a bar, the sleeve and the screws of a joint, the bolt of a foot.
    """

    id: str
    kind: ConnectionKind
    ends: tuple[str, str]
    step: str
    place: int
    hoop: str | None = None
    fixed_step: str | None = None
    fittings: Pieces = ()


@dataclass(frozen=True, slots=True)
class Connections:
    """The whole frame as members and connections."""

    members: tuple[Member, ...] = ()
    connections: tuple[Connection, ...] = ()
