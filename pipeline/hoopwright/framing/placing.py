"""Positions in words to distances along the hoop: side, datum, offset and place of every draft."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import islice

from hoopwright.framing.drafts import Draft
from hoopwright.framing.hoop_facts import bare
from hoopwright.framing.hosts import Hosts
from hoopwright.framing.precedents import Precedents
from hoopwright.framing.shape import HoopShape, along
from hoopwright.model.events import Place
from hoopwright.model.schedule import Side

_JOINTISH = ("joint", "shoulder", "end")


@dataclass(slots=True)
class Spotted:
    """Where a draft sits: what the schedule shows, and the distance along the tube where the shape gives it."""

    side: Side | None
    datum: str | None
    offset_mm: float | None
    along_mm: float | None
    joint: int | None = None
    towards: int | None = None
    anchor: Draft | None = None
    tube: int | None = None


def _named(tube: str, low: str) -> bool:
    """Whether a text in lower case speaks of the tube, by its name without side or by the word that tells it from other tubes."""
    name = bare(tube).replace("-", " ")
    return re.search(rf"\b{re.escape(name)}s?\b", low) is not None


class Placer:
    """Places drafts in order, so that one may be measured from another."""

    def __init__(self, hosts: Hosts, shape: HoopShape) -> None:
        self.hosts = hosts
        self.shape = shape
        self.done: dict[int, Spotted] = {}
        self.by_hoop_and_part: dict[tuple[int, str], list[Draft]] = {}
        self.precedents = Precedents({})

    def place(self, drafts: list[Draft]) -> dict[int, Spotted]:
        """id(draft) -> where it sits."""
        by_hoop: dict[int, list[Draft]] = {}
        for d in drafts:
            if d.hoop is not None:
                by_hoop.setdefault(d.hoop, []).append(d)
                self.by_hoop_and_part.setdefault((d.hoop, d.part), []).append(d)
        self.precedents = Precedents(by_hoop)
        for d in drafts:
            self._one(d, 0)
        return self.done

    def _one(self, d: Draft, depth: int) -> Spotted:
        known = self.done.get(id(d))
        if known is not None:
            return known
        if d.holds is not None and depth < 8:
            held = self._one(d.holds, depth + 1)
            spotted = replace(held, anchor=None)
        else:
            spotted = self._spot(d, self._own_place(d), depth)
        self.done[id(d)] = spotted
        return spotted

    def _own_place(self, d: Draft) -> Place | None:
        """The draft's place; where it has none, the one place that this part has had so far ("as before", "directly opposite")."""
        place = d.place
        if (
            d.hoop is None
            or d.joint
            or d.foot
            or (place is not None and (place.offset_mm is not None or (place.datum is not None and place.datum not in ("foot", "end"))))
        ):
            return place
        distances, first = self.precedents.summary(d)
        if distances == 1 and first is not None:
            return replace(first, side=place.side if place is not None else None)
        if distances and d.event is not None and "opposite" in d.event.source.quote.lower():
            return self._opposite(d)
        return place

    def _opposite(self, d: Draft) -> Place | None:
        """The place of the precedent that a draft stands opposite to: the first for its event's first draft on the hoop, and so on."""
        here = self.by_hoop_and_part.get((d.hoop or 0, d.part), [])
        taken = [x for x in here if x.event is d.event]
        mine = [x for x in here if x.measured and x.sequence <= d.sequence and x.event is not d.event]
        index = taken.index(d) if d in taken else 0
        facing = list(islice(mine or self.precedents.before(d), index + 1))[-1]
        return None if facing.place is None else replace(facing.place, side=None)

    def _spot(self, d: Draft, place: Place | None, depth: int) -> Spotted:
        side: Side | None = d.spot.side or (place.side if place is not None else None)  # type: ignore[assignment]
        if place is not None and place.side in ("left", "right") and side in (None, "centre"):
            side = place.side  # type: ignore[assignment]
        half = d.spot.end if d.spot.end in ("a", "b") else None
        if half and side in (None, "centre"):
            side = "left" if half == "a" else "right"
        if side in (None, "centre") and d.spot.end in ("lower", "upper") and self._both_feet_sided(d, place):
            side = "left" if d.spot.end == "lower" else "right"
        if place is None or (place.datum is None and place.offset_mm is None):
            joint = d.spot.joint
            at = self.shape.joints_mm[joint] if joint is not None and joint < len(self.shape.joints_mm) else None
            return Spotted(
                side,
                "joint" if joint is not None else None,
                0.0 if joint is not None and d.joint else None,
                at if joint is not None else None,
                joint,
                tube=d.spot.tube,
            )
        if place.datum == "fitting":
            return self._from_fitting(d, place, side, depth)
        if place.datum in ("part-way", "midway"):
            return self._part_way(d, place, side, depth)
        if place.datum in _JOINTISH:
            return self._from_joint(d, place, side, half)
        datum = "ground" if place.datum == "ground" or place.height else place.datum
        if datum in ("member", None):
            return Spotted(side, None, place.offset_mm, None, tube=d.spot.tube)
        if datum == "ridge" and place.offset_mm == 0:
            side = "centre"
        value = place.offset_mm
        found = along(self.shape, datum, value, side) if value is not None and datum is not None else None
        return Spotted(
            side, datum, value, found, tube=d.spot.tube, towards={"left": -1, "right": 1}.get(side or "") if datum == "ridge" else None
        )

    # ---- from a joint -------------------------------------------------------------------------------------------------------

    def _joint_of(self, d: Draft, place: Place, side: Side | None) -> int | None:
        count = self.hosts.joints
        if count <= 0:
            return None
        middle = count // 2 if count % 2 else None
        words = set(place.text.lower().split())
        if count == 1:
            return 0
        if words & {"ridge", "apex", "peak", "crown"} and middle is not None:
            return middle
        if d.spot.joint is not None:
            return d.spot.joint
        tube = d.spot.tube
        if tube is not None:
            beside = [k for k in (tube - 1, tube) if 0 <= k < count]
            if words & {"leg", "shoulder", "lower"} and middle is not None:
                beside = [k for k in beside if k != middle] or beside
            if "upper" in words or "top" in words:
                beside = [k for k in beside if (k == tube) == (tube < len(self.hosts.tubes) / 2)] or beside
            if len(beside) == 1:
                return beside[0]
            if side == "left":
                return beside[0] if self.hosts.tubes[tube].side == "centre" else beside[0] if place.datum != "end" else beside[-1]
            if side == "right":
                return beside[-1] if self.hosts.tubes[tube].side == "centre" else beside[-1] if place.datum != "end" else beside[0]
            return None
        if side == "left":
            return 0
        return count - 1 if side == "right" else None

    def _both_feet_sided(self, d: Draft, place: Place | None) -> bool:
        """Whether "each end" means an end on either side of the hoop: of a hoop in one piece, or of the tube in the middle."""
        if len(self.hosts.tubes) == 1:
            return True
        return self._on_middle(d, place)

    def _on_middle(self, d: Draft, place: Place | None) -> bool:
        """Whether the sentence speaks of the tube in the middle alone; only that one has a joint at each end in a hoop of three."""
        low = (d.event.source.quote if d.event is not None else d.source.quote).lower().replace("-", " ")
        named = {t.side for t in self.hosts.tubes if _named(t.name, low)}
        each_joint = len(self.hosts.tubes) == 3 and place is not None and place.datum == "joint" and not named
        return named == {"centre"} or each_joint

    def _from_joint(self, d: Draft, place: Place, side: Side | None, half: str | None) -> Spotted:
        if place.datum == "end" and not self.hosts.joints and place.offset_mm is not None:
            return Spotted(side, "end", place.offset_mm, along(self.shape, "end", place.offset_mm, side), tube=d.spot.tube)
        joint = self._joint_of(d, place, side)
        middle = self.hosts.joints // 2 if self.hosts.joints % 2 else None
        at_ridge = joint is not None and joint == middle
        towards: int | None = None
        tube = d.spot.tube
        if half:
            towards = -1 if half == "a" else 1
        elif place.side in ("left", "right") and at_ridge:
            towards = -1 if place.side == "left" else 1
        elif tube is not None and joint is not None:
            towards = -1 if tube <= joint else 1
        elif at_ridge and side in ("left", "right"):
            towards = -1 if side == "left" else 1
        elif place.way in ("up", "down") and side in ("left", "right"):
            towards = (1 if side == "left" else -1) * (1 if place.way == "up" else -1)
        if place.offset_mm is None:
            found = self.shape.joints_mm[joint] if joint is not None and joint < len(self.shape.joints_mm) and place.way is None else None
            return Spotted(side, "joint", None, found, joint, towards, tube=tube)
        if place.datum == "end" and joint is None and side is None:
            return Spotted(side, "end", place.offset_mm, None, joint, towards, tube=tube)
        if towards is None and place.offset_mm and not at_ridge:
            towards = self._tube_beside(d, joint)
        found = along(self.shape, "joint", place.offset_mm, None, joint=joint, towards=towards)
        datum = "ridge" if at_ridge and place.datum == "end" else "joint"
        if at_ridge and side in (None, "centre") and towards:
            side = "left" if towards < 0 else "right"
        return Spotted(side, datum, place.offset_mm, found, joint, towards, tube=tube)

    def _tube_beside(self, d: Draft, joint: int | None) -> int | None:
        """-1 or +1 where the sentence names the tube on one side of the joint and not the one on the other; None if it names neither."""
        if joint is None:
            return None
        low = (d.event.source.quote if d.event is not None else d.source.quote).lower().replace("-", " ")
        before, behind = (_named(self.hosts.tubes[k].name, low) for k in (joint, joint + 1))
        if before == behind and d.spot.end in ("lower", "upper") and self._on_middle(d, d.place):
            return 1 if joint == 0 else -1
        return None if before == behind else -1 if before else 1

    # ---- from another fitting --------------------------------------------------------------------------------------------------

    def _anchor(self, d: Draft, name: str | None, side: Side | None) -> Draft | None:
        fittings = self.by_hoop_and_part.get((d.hoop or 0, name or ""), [])
        pool = [x for x in fittings if x is not d and (x.part != d.part or x.sequence < d.sequence)]
        same = [x for x in pool if side is None or x.spot.side in (side, None, "centre")]
        return next(iter(same or pool), None)

    def _from_fitting(self, d: Draft, place: Place, side: Side | None, depth: int) -> Spotted:
        anchor = self._anchor(d, place.part, side)
        if anchor is None or depth > 8:
            return Spotted(side, None, place.offset_mm, None, tube=d.spot.tube)
        base = self._one(anchor, depth + 1)
        if side is None or (side == "centre" and base.side not in (None, "centre")):
            side = base.side
        step = 0
        if place.offset_mm:
            if base.side in ("left", "right") and place.way in ("up", "down"):
                step = (1 if base.side == "left" else -1) * (1 if place.way == "up" else -1)
            elif side in ("left", "right") and base.side in (None, "centre"):
                step = -1 if side == "left" else 1
        found = (
            base.along_mm + step * place.offset_mm
            if base.along_mm is not None and place.offset_mm is not None and (step or not place.offset_mm)
            else None
        )
        return Spotted(side, None, place.offset_mm, found, tube=d.spot.tube, towards=step or None, anchor=anchor)

    def _part_way(self, d: Draft, place: Place, side: Side | None, depth: int) -> Spotted:
        marks = [self._mark(d, name, side, place, depth) for name in (place.part or "").split("|") if name]
        if len(marks) != 2 or marks[0] is None or marks[1] is None or place.fraction is None:
            return Spotted(side, None, None, None, tube=d.spot.tube)
        at = marks[0] + (marks[1] - marks[0]) * place.fraction
        first = (place.part or "").split("|")[0]
        datum = first if first in ("joint", "foot", "ridge") else None
        return Spotted(side, datum, round(abs(at - marks[0]), 1) if datum else None, at, tube=d.spot.tube)

    def _mark(self, d: Draft, name: str, side: Side | None, place: Place, depth: int) -> float | None:
        if name == "ridge":
            return self.shape.ridge_mm
        if name in ("foot", "ground"):
            return 0.0 if side == "left" else self.shape.length_mm if side == "right" else None
        if name in ("joint", "shoulder", "end"):
            joint = self._joint_of(d, replace(place, text=place.text.lower().replace("ridge", "")), side)
            return self.shape.joints_mm[joint] if joint is not None and joint < len(self.shape.joints_mm) else None
        anchor = self._anchor(d, name, side)
        return self._one(anchor, depth + 1).along_mm if anchor is not None and depth < 8 else None
