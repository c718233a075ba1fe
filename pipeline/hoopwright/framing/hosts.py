"""Selectors to hoop numbers, and units to the spots of one hoop."""

from __future__ import annotations

from collections.abc import Set
from dataclasses import dataclass, replace

from hoopwright.model.events import Event, Place, Selector, Unit
from hoopwright.model.frame import Tube
from hoopwright.model.schedule import Side


@dataclass(frozen=True, slots=True)
class Spot:
    """A kind of place on a hoop that gets its own share: a side, a tube, a joint, an end."""

    side: Side | None = None
    tube: int | None = None
    joint: int | None = None
    end: str | None = None  # lower, upper
    place: Place | None = None


_CROWN = {"crown", "top", "centre", "center", "middle", "roof", "apex", "arch", "bow"}
_LEGS = {"leg", "side", "lower", "upright", "bottom", "end"}


class Hosts:
    """Resolves which hoops and which spots words mean, on a frame of ``n`` hoops of ``tubes``."""

    def __init__(self, n: int, tubes: tuple[Tube, ...]) -> None:
        self.n = n
        self.every = tuple(range(1, n + 1))
        self.tubes = tubes
        self.joints = max(len(tubes) - 1, 0)

    def hoops(self, sel: Selector | None, mentioned: Set[int] = frozenset()) -> tuple[int, ...]:
        """Hoop numbers, ascending. None means all. ``mentioned`` is what "the remaining hoops" leaves out."""
        n, every = self.n, self.every
        if sel is not None and sel.from_far:
            return tuple(sorted(n + 1 - k for k in self.hoops(replace(sel, from_far=False), mentioned)))
        if sel is None or sel.kind == "all" or sel.kind == "topic":
            return every
        if sel.kind == "numbers":
            found = sorted({k if k > 0 else n + 1 + k for k in sel.numbers})
            return tuple(k for k in found if 1 <= k <= n)
        if sel.kind == "end":
            return tuple(sorted({1, n}))
        if sel.kind == "inner":
            if sel.stated and 0 < sel.stated < n - 2 and "middle" in sel.text.lower() and (n - sel.stated) % 2 == 0:
                first = (n - sel.stated) // 2 + 1
                return tuple(range(first, first + sel.stated))
            return tuple(range(2, n))
        if sel.kind in ("first", "door"):
            return (1,)
        if sel.kind in ("last", "far"):
            return (n,)
        if sel.kind == "middle":
            return ((n + 1) // 2,) if n % 2 else (n // 2,)
        if sel.kind == "odd":
            return tuple(k for k in every if k % 2)
        if sel.kind == "even":
            return tuple(k for k in every if not k % 2)
        if sel.kind == "nth" and sel.of:
            return self.hoops(sel.of[0])[:: sel.step]
        if sel.kind == "nth":
            if sel.step > 1 and sel.stated is None and sel.step > 2:
                return tuple(range(sel.step, n + 1, sel.step))
            return tuple(range(sel.start, n + 1, sel.step))
        if sel.kind == "join":
            return tuple(sorted({k for s in sel.of for k in self.hoops(s, mentioned)}))
        if sel.kind == "and":
            sets = [set(self.hoops(s, mentioned)) for s in sel.of]
            return tuple(sorted(set.intersection(*sets)))
        if sel.kind == "except":
            out = {k for s in sel.of[1:] for k in self.hoops(s)}
            return tuple(k for k in (self.hoops(sel.of[0]) if sel.of else every) if k not in out)
        if sel.kind == "rest":
            return tuple(k for k in every if k not in mentioned) or every
        return every

    # ---- spots ----------------------------------------------------------------------------------------------------------

    def spots(self, event: Event) -> tuple[list[Spot], bool]:
        """(spots on one hoop, whether the words share out one by one) for an event on a hoop."""
        lateral: list[Spot] | None = None
        joints: list[Spot] | None = None
        ends: list[str] | None = None
        shared = False
        for unit in event.units:
            if unit.kind == "tube":
                if (
                    unit.each
                    and unit.side is None
                    and any(u.kind == "tube" and u.side and u.name.split()[-1:] == unit.name.split()[-1:] for u in event.units)
                ):
                    continue  # "to the left legs, with two clamps per leg"
                found = self._tubes(unit)
                if lateral is None or len(found) > len(lateral):
                    lateral = found
                shared |= unit.each or len(found) == 1
            elif unit.kind in ("side", "foot", "shoulder"):
                many = unit.each or unit.plural or unit.number == 2
                found = [Spot(unit.side)] if unit.side else [Spot("left"), Spot("right")] if many else [Spot()]  # type: ignore[arg-type]
                if unit.kind == "shoulder" and not many and not unit.side:
                    continue
                if unit.kind == "side" and unit.side and lateral is not None and {s.side for s in lateral} == {"left", "right"}:
                    lateral = [s for s in lateral if s.side == unit.side]  # "each leg on the right side"
                elif lateral is None or lateral == [Spot()] or (len(lateral) == 1 and lateral[0].side == "centre" and found != [Spot()]):
                    lateral = [replace(s, tube=lateral[0].tube) for s in found] if lateral and lateral[0].side == "centre" else found
                shared |= unit.each or bool(unit.side)
            elif unit.kind == "joint":
                joints = self._joints(unit)
                shared |= unit.each or (unit.det in ("the", None) and not unit.plural) or (unit.number is not None and unit.det == "its")
            elif unit.kind == "end" and unit.side in ("left", "right") and not unit.each:
                lateral = [replace(s, side=unit.side) for s in lateral] if lateral and len(lateral) == 1 else [Spot(unit.side)]  # type: ignore[arg-type]
            elif unit.kind == "end":
                ends = ["lower", "upper"] if unit.each or (unit.plural and event.member is not None) else ["?"]
                shared |= unit.each
            elif unit.kind == "ridge":
                shared |= unit.each
            elif self._two_of_them(unit, event) and (lateral is None or (len(lateral) == 1 and lateral[0].side in (None, "centre"))):
                tube = lateral[0].tube if lateral else None
                lateral, shared = [Spot("left", tube), Spot("right", tube)], True  # "at the head of each post", of two at this hoop
        for place in event.places:
            if place.each and place.datum == "joint" and joints is None:
                joints, shared = self._joints(Unit("joint", each=True)), True
            elif place.each and place.datum in ("foot", "ground", "shoulder") and lateral is None:
                lateral, shared = [Spot("left"), Spot("right")], True
            elif place.each and place.datum == "end" and ends is None:
                ends, shared = ["lower", "upper"], True
        return self._combined(event, lateral, joints, ends), shared

    def _combined(self, event: Event, lateral: list[Spot] | None, joints: list[Spot] | None, ends: list[str] | None) -> list[Spot]:
        """The spots where sides or tubes, joints and ends are named together."""
        base = joints if joints is not None else lateral
        if base is None:
            base = [Spot()]
        elif joints is not None and lateral is not None and len(lateral) == 1 and lateral[0].side:
            base = [s for s in joints if s.side in (lateral[0].side, "centre")] or joints
        if ends and len(ends) == 2 and not _between_hoops(event):
            base = [Spot(self._end_side(s, e), s.tube, s.joint, e) for s in base for e in ends]
        if joints is not None and lateral is not None and len(lateral) == 2 and any(u.kind == "side" for u in event.units):
            base = [Spot(lat.side, s.tube, s.joint) for s in joints for lat in lateral]
        return base

    def _two_of_them(self, unit: Unit, event: Event) -> bool:
        """Whether two of a bar or post stand at each of the hoops: two at a single hoop, or four at both ends."""
        if unit.kind != "member" or not unit.each or event.member is not None:
            return False
        hoops = len(self.hoops(event.hoops)) if event.hoops is not None else 0
        if unit.name.split()[-1] in ("post", "stud", "jamb") and (hoops, unit.number) == (2, 2):
            return True  # "two door posts under each end hoop"
        return unit.number is not None and (hoops, unit.number) in ((1, 2), (2, 4))

    def _end_side(self, spot: Spot, end: str) -> Side | None:
        if spot.side == "centre" or (spot.tube is not None and 0 < spot.tube < len(self.tubes) - 1):
            return "left" if end == "lower" else "right"
        return spot.side

    def _tubes(self, unit: Unit) -> list[Spot]:
        many = unit.each or unit.plural or (unit.number or 1) > 1
        fits = self._named(unit.name)
        if len(self.tubes) == 1 and set(unit.name.split()) & _LEGS and (many or unit.side in ("left", "right")):
            # The legs of a hoop in one piece are its two sides.
            return [Spot(side, 0) for side in ("left", "right") if unit.side in (side, None)]
        if unit.side in ("left", "right"):
            mine = [k for k in fits if self.tubes[k].side == unit.side]
            return [Spot(unit.side, mine[0] if len(mine) == 1 else None)]  # type: ignore[arg-type]
        in_pairs = len(fits) > 1 and all(self.tubes[k].side != "centre" for k in fits)  # two roof tubes to a hoop
        if (unit.side == "centre" and not in_pairs) or (len(fits) == 1 and self.tubes[fits[0]].side == "centre"):
            return [Spot("centre", fits[0] if len(fits) == 1 else None)]
        if len(fits) == 1 and len(self.tubes) > 1 and self.tubes[fits[0]].name == unit.name:
            return [Spot(self.tubes[fits[0]].side, fits[0])]  # "every long arm", of which a hoop has one
        if many:
            return [Spot(self.tubes[k].side, k) for k in fits] if len(fits) > 1 else [Spot("left", 0), Spot("right", len(self.tubes) - 1)]
        return [Spot()]

    def _named(self, name: str) -> list[int]:
        """Which tubes a name may mean: those that share its telling words, all of them for a bare "tube"."""
        words = set(name.split()) - {"left", "right", "hoop", "other", "same"}
        exact = [k for k, t in enumerate(self.tubes) if words and words <= set(t.name.split())]
        if exact:
            return exact
        telling = words - {"tube", "section", "piece", "pipe", "half"}
        shared = [k for k, t in enumerate(self.tubes) if telling & set(t.name.split())]
        if shared:
            return shared
        if telling & _CROWN:
            return [k for k, t in enumerate(self.tubes) if t.side == "centre"] or list(range(len(self.tubes)))
        if telling & _LEGS or words == {"half"}:
            last = len(self.tubes) - 1
            return [0, last] if last > 0 else [0]
        return list(range(len(self.tubes)))

    def _joints(self, unit: Unit) -> list[Spot]:
        count = unit.number if unit.number and unit.each else self.joints
        if count <= 0:
            return [Spot()]
        if unit.side in ("left", "right"):
            return [Spot(unit.side, None, 0 if unit.side == "left" else count - 1)]  # type: ignore[arg-type]
        words = set(unit.name.split())
        middle = count // 2 if count % 2 else None
        telling = words - {"joint", "join", "hoop", "tube", "each", "ridge", "apex", "peak"}
        near = {k for k, t in enumerate(self.tubes) if telling & set(t.name.split()) - {"left", "right", "tube"}}
        if near and count == self.joints:
            adjacent = [k for k in range(count) if k in near or k + 1 in near]
            if 0 < len(adjacent) < count:
                return [Spot("left" if k < (count - 1) / 2 else "right" if k > (count - 1) / 2 else "centre", None, k) for k in adjacent]
        if words & {"ridge", "apex", "crown", "top", "peak"} and middle is not None:
            return [Spot("centre", None, middle)]
        if (
            words & {"leg", "shoulder", "side", "eave", "eaves", "lower", "haunch", "hip", "elbow", "knee"}
            and middle is not None
            and count > 1
        ):
            return [Spot("left" if k < middle else "right", None, k) for k in range(count) if k != middle]
        out = []
        for k in range(count):
            side: Side = "centre" if count == 1 or (count % 2 and k == count // 2) else "left" if k < count / 2 else "right"
            out.append(Spot(side, None, k))
        return out


def _between_hoops(event: Event) -> bool:
    """A bar that runs from hoop to hoop has each end on another hoop."""
    return (
        event.hoops is not None
        and event.hoops.kind in ("join", "numbers")
        and len(event.hoops.numbers or event.hoops.of) == 2
        and event.bar is not None
    )
