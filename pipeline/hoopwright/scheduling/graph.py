"""The member-connection graph: what is held to what, by which fitting, from which step on.

Members are each tube of each hoop, the ground tube under each foot, each bar, and other members that carry fittings. The frame at any time
is the connections up to that step's place in the order of work.
"""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field

from hoopwright.model.connections import Connection, ConnectionKind, Connections, Member
from hoopwright.model.frame import Act, Bar, Call
from hoopwright.scheduling.chain import FOOT_MM, possible_tubes
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.wording import name_in_common

Key = tuple[str, str, str]  # member, member, connection


def connections(context: Context) -> Connections:
    """Members and connections of the frame; those of hoops in hoop order, then bars and other members as the manual names them."""
    made = _Making(context)
    made.hoops()
    for bar in context.frame.bars:
        made.members.setdefault(f"bar {bar.name}", Member(f"bar {bar.name}", "bar", bar.name))
    for act in context.frame.acts:
        for hoop in act.hoops:
            if act.kind in ("join", "fix"):
                made.join(act, hoop)
            elif act.kind == "stand":
                made.stand(act, hoop)
    made.fittings()
    return made.whole()


@dataclass
class _Link:
    kind: ConnectionKind
    step: str
    hoop: str | None
    fixed: str | None = None
    fittings: dict[str, int] = field(default_factory=dict)


class _Making:
    """The graph in the making."""

    def __init__(self, context: Context) -> None:
        self.context = context
        self.members: dict[str, Member] = {}
        self.links: dict[Key, _Link] = {}
        self.loose: dict[str, dict[str, int]] = defaultdict(dict)  # fittings that hold their member to nothing
        self.bars: dict[int, list[Bar]] = defaultdict(list)
        for bar in context.frame.bars:
            for hoop in bar.hoops:
                self.bars[hoop].append(bar)

    def whole(self) -> Connections:
        place = self.context.index
        members = tuple(
            Member(m.id, m.kind, m.name, m.hoop, tuple(self.loose[m.id].items()) if m.id in self.loose else ())
            for m in self.members.values()
        )
        links = tuple(
            Connection(
                id, link.kind, (a, b), link.step, place.get(link.step, len(place)), link.hoop, link.fixed, tuple(link.fittings.items())
            )
            for (a, b, id), link in self.links.items()
        )
        return Connections(members, links)

    def tube(self, hoop: int, tube: int) -> str:
        return f"{self.context.hoop_id(hoop)} tube {tube + 1}"

    def hoops(self) -> None:
        """The tubes of every hoop."""
        context = self.context
        for hoop in range(1, len(context.hoop_ids) + 1):
            for tube in range(context.tube_count):
                name = context.frame.tubes[tube].name if context.frame.tubes else "hoop"
                id = self.tube(hoop, tube)
                self.members[id] = Member(id, "hoop tube", name, context.hoop_id(hoop))

    # ---- joints and feet ------------------------------------------------------------------------------------------------------

    def join(self, act: Act, hoop: int) -> None:
        """Joints that an act pushes together or fixes; one that is fixed later keeps both steps."""
        for joint in act.joints or range(self.context.tube_count - 1):
            if 0 <= joint < self.context.tube_count - 1:
                known = self.links.get(self._joint_key(hoop, joint))
                link = self._joint(hoop, joint, act.step)
                if known is not None and act.kind == "fix":
                    link.fixed = act.step

    def _joint_key(self, hoop: int, joint: int) -> Key:
        return self.tube(hoop, joint), self.tube(hoop, joint + 1), f"joint {joint + 1}"

    def _joint(self, hoop: int, joint: int, step: str) -> _Link:
        return self.links.setdefault(self._joint_key(hoop, joint), _Link("joint", step, self.context.hoop_id(hoop)))

    def stand(self, act: Act, hoop: int) -> None:
        """Feet that an act sets on their ground tubes."""
        for foot in act.feet:
            if foot in ("left", "right"):
                self._foot(hoop, foot, act.step)

    def _foot(self, hoop: int, foot: str, step: str) -> _Link:
        id = self.context.hoop_id(hoop)
        ground = f"{id} {foot} ground tube"
        self.members.setdefault(ground, Member(ground, "ground tube", "ground tube", id))
        tube = self.tube(hoop, 0 if foot == "left" else self.context.tube_count - 1)
        return self.links.setdefault((tube, ground, "foot"), _Link("foot", step, id))

    # ---- fittings -------------------------------------------------------------------------------------------------------------

    def fittings(self) -> None:
        """Every call: on the connection that it makes or closes, else on its member."""
        for call in self.context.frame.calls:
            if call.hoop is None:
                self._on_member(call)
            elif (link := self._closes(call, call.hoop)) is not None:
                link.fittings[call.part] = link.fittings.get(call.part, 0) + call.quantity
                if link.step != call.step and self.context.part(call).form == "fastener":
                    link.fixed = link.fixed or call.step
            elif not self._carry(call, call.hoop):
                self._lay(self.tube(call.hoop, possible_tubes(self.context, call)[0]), call)

    def _on_member(self, call: Call) -> None:
        id = f"bar {call.member}" if f"bar {call.member}" in self.members else f"member {call.member}"
        self.members.setdefault(id, Member(id, "member", call.member))
        self._lay(id, call)

    def _lay(self, id: str, call: Call) -> None:
        self.loose[id][call.part] = self.loose[id].get(call.part, 0) + call.quantity

    def _closes(self, call: Call, hoop: int) -> _Link | None:
        """The joint or foot that a sleeve, screw or bolt belongs to; None for others, and where it cannot be told which one."""
        held = self.context.calls.get(call.holds or "")
        if held is not None and held.hoop == hoop and self.context.fills_joint(held):
            return self._closes(held, hoop)  # the washer of a joint bolt
        if self.context.part(call).form not in ("fastener", "sleeve") or call.when != "at-joining":
            return None
        if call.datum in ("foot", "ground") and call.side in ("left", "right") and (call.offset_mm or 0.0) <= FOOT_MM:
            return self._foot(hoop, call.side, call.step)
        joints = self.context.tube_count - 1
        if not self.context.fills_joint(call) or not joints:
            return None
        middle = joints // 2 if joints % 2 else None
        joint = 0 if joints == 1 or call.side == "left" else joints - 1 if call.side == "right" else middle
        return None if joint is None or (joints > 2 and call.side != "centre") else self._joint(hoop, joint, call.step)

    def _carry(self, call: Call, hoop: int) -> bool:
        """Connect the bars that the call holds to its hoop."""
        if self.context.part(call).form not in ("closed", "open"):
            return False
        index = self.context.index
        mine = [bar for bar in self.bars[hoop] if carries(call, bar)]
        for bar in mine:
            tube = self.tube(hoop, possible_tubes(self.context, call)[0])
            step = max(call.step, bar.step, key=lambda step: index.get(step, -1))
            self.links[tube, f"bar {bar.name}", call.id] = _Link(
                "fitting", step, self.context.hoop_id(hoop), fittings={call.part: call.quantity}
            )
        return bool(mine)


def carries(call: Call, bar: Bar) -> bool:
    """Whether the fitting holds the bar to the hoop: by the manual's word, else by its name ("purlin clip": the purlin)."""
    return call.carries == bar.name if call.carries is not None else name_in_common(bar.name, call.part)
