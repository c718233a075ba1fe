"""The one-dimensional core: can a fitting that slides on still reach its place along a chain of tubes?

It knows no manual and no frame, only tubes 0..n-1 from the left foot, gates 0..n between them (gate 0 the left foot, gate n the
right foot, gate k the joint between tube k-1 and tube k), rings on tubes, and the steps at which rings go on and gates change. A ring
moves along the chain and cannot pass another ring, so the answer is exact; the tests put the same question to an independent solver.

Terms: a gate is ``open`` while the tubes there are apart (or the foot stands on nothing): it is an open end for both tubes. It is
``shut`` when nothing can come in or pass. It is ``through`` when the tubes are pushed together but a ring can still pass the joint.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Literal

from hoopwright.scheduling.ring import Ring
from hoopwright.scheduling.row import Row, Side

GateState = Literal["open", "shut", "through"]
Answer = Literal["free", "trapped", "blocked"]


@dataclass(frozen=True, slots=True)
class Change:
    """Gate ``gate`` gets ``state``, as change number ``slot`` (from 0) of step ``step``."""

    step: int
    slot: int
    gate: int
    state: GateState


@dataclass(frozen=True)
class Case:
    """One hoop's question. ``after`` holds (a, b) ring ids of one step of which the manual puts b on after a; else they go on together."""

    tubes: int
    rings: tuple[Ring, ...]
    changes: tuple[Change, ...] = ()
    after: frozenset[tuple[str, str]] = frozenset()

    @cached_property
    def rows(self) -> dict[int, Row]:
        """The rings whose tube is known, by tube."""
        found: dict[int, list[Ring]] = {tube: [] for tube in range(self.tubes)}
        for ring in self.rings:
            if len(ring.tubes) == 1:
                found.setdefault(ring.tubes[0], []).append(ring)
        return {tube: Row(rings) for tube, rings in found.items()}

    @cached_property
    def _beside(self) -> dict[tuple[str, int], tuple[Side, Side]]:
        return {}

    def beside(self, ring: Ring, tube: int) -> tuple[Side, Side]:
        """The rings of ``tube`` that surely sit to the left and to the right of ``ring``."""
        key = (ring.id, tube)
        if key not in self._beside:
            self._beside[key] = self.rows[tube].sides(ring) if tube in self.rows else (Side(), Side())
        return self._beside[key]

    @cached_property
    def late(self) -> frozenset[str]:
        """The rings that go on after another one of their own step."""
        return frozenset(then for _, then in self.after)

    @cached_property
    def change_steps(self) -> tuple[int, ...]:
        """The steps that change gates, each once, in the order of work."""
        return tuple(sorted({change.step for change in self.changes}))

    @cached_property
    def timeline(self) -> tuple[Change, ...]:
        """The changes in the order of work."""
        return tuple(sorted(self.changes, key=lambda change: (change.step, change.slot, change.gate)))

    @cached_property
    def gates_over_time(self) -> tuple[list[tuple[int, int]], list[list[GateState]]]:
        """The moments of the timeline's changes, and the state of each gate before the first and after each of them."""
        states: list[list[GateState]] = [["open"] * (self.tubes + 1)]
        for change in self.timeline:
            states.append([*states[-1]])
            states[-1][change.gate] = change.state
        return [(change.step, change.slot) for change in self.timeline], states


@dataclass(frozen=True, slots=True)
class Way:
    """A way from a tube's end to a ring's place. ``gate`` is where it starts or is shut; ``towards`` -1 left, +1 right.

    ``rings`` are the ids of the rings in the way, in the order of the chain as given; of a ring that is free over some other way, only
    the one that went on first.
    """

    tube: int
    towards: int
    gate: int
    open: bool
    rings: tuple[str, ...]

    @property
    def free(self) -> bool:
        return self.open and not self.rings


@dataclass(frozen=True, slots=True)
class Verdict:
    """``ways`` are all ways at the ring's own moment. ``last_free`` is the last step before the ring's own at whose end its way was free.

    -1 stands for the time before the first step, None for never; for a free ring ``last_free`` is its own step.
    """

    ring: str
    answer: Answer
    ways: tuple[Way, ...]
    last_free: int | None


Moment = tuple[int, int]


def gates_at(case: Case, moment: Moment) -> list[GateState]:
    """The state of each gate just before ``moment``: the changes with a smaller (step, slot) have been made."""
    moments, states = case.gates_over_time
    return list(states[bisect_left(moments, moment)])


def path(case: Case, ring: Ring, tube: int, towards: int, states: Sequence[GateState]) -> tuple[int, list[Side]]:
    """Follow the chain from the ring's place on ``tube`` to the first gate that is not passed through.

    Returns that gate and all rings of the hoop that lie on the way, whenever they go on.
    """
    on_way = [case.beside(ring, tube)[towards > 0]]
    gate = tube + (towards > 0)
    while states[gate] == "through" and 0 < gate < case.tubes:
        on_way.append(case.rows[gate if towards > 0 else gate - 1].whole)
        gate += towards
    return gate, on_way


def _paths(case: Case, ring: Ring, states: Sequence[GateState]) -> Iterator[tuple[int, int, int, list[Side]]]:
    """(tube, towards, gate, rings on the way) for each way to the ring's place."""
    for tube in ring.tubes:
        for towards in (-1, 1):
            yield tube, towards, *path(case, ring, tube, towards, states)


def ways_at_call(case: Case, ring: Ring) -> tuple[Way, ...]:
    """All ways to the ring's place at the moment at which the manual calls for it."""
    states = gates_at(case, (ring.step, ring.slot))
    paths = list(_paths(case, ring, states))
    first = [_first_on(case, ring, on_way) for *_, on_way in paths]
    free = any(stop is None and states[gate] != "shut" for (_, _, gate, _), stop in zip(paths, first, strict=True))
    ways = []
    for (tube, towards, gate, on_way), stop in zip(paths, first, strict=True):
        rings = () if stop is None else (stop,) if free else _on_at_call(case, ring, on_way)
        ways.append(Way(tube, towards, gate, states[gate] != "shut", rings))
    return tuple(ways)


def _first_on(case: Case, ring: Ring, on_way: Sequence[Side]) -> str | None:
    """The id of the ring on the way that went on first; None if none is on yet when ``ring`` is called for."""
    if ring.id in case.late:
        return next(iter(_on_at_call(case, ring, on_way)), None)
    # Numbers tell sites of one row apart, not those of two.
    first = min((side.first for side in on_way if side.first is not None), key=lambda site: site[:3], default=None)
    return None if first is None or (first.step, first.slot) >= (ring.step, ring.slot) else first.ring.id


def _on_at_call(case: Case, ring: Ring, on_way: Sequence[Side]) -> tuple[str, ...]:
    """The ids of the rings on the way that are on when ``ring`` is called for."""
    moment = (ring.step, ring.slot)
    return tuple(
        site.ring.id
        for side in on_way
        for site in side.sites()
        if (site.step, site.slot) < moment or (site.step == ring.step and (site.ring.id, ring.id) in case.after)
    )


def last_free_step(case: Case, ring: Ring) -> int | None:
    """The last step before the ring's own at whose end some way to its place is free; -1 before the first step, None if never."""
    starts = [-1, *(step for step in case.change_steps if step < ring.step)]
    end = ring.step - 1
    for start in reversed(starts):  # from one change of gates to the next, a way is free until the first ring on it goes on
        states = gates_at(case, (start + 1, 0))
        found = None
        for _, _, gate, on_way in _paths(case, ring, states) if start <= end else ():
            if states[gate] != "shut":
                free_until = min([end, *(side.first.step - 1 for side in on_way if side.first is not None)])
                if free_until >= start:
                    found = free_until if found is None else max(found, free_until)
        if found is not None:
            return found
        end = min(end, start - 1)
    return None


def verdict(case: Case, ring: Ring) -> Verdict:
    """What becomes of ``ring`` when the steps are worked in the order given."""
    ways = ways_at_call(case, ring)
    if any(way.free for way in ways):
        return Verdict(ring.id, "free", ways, ring.step)
    answer: Answer = "blocked" if any(way.open for way in ways) else "trapped"
    return Verdict(ring.id, answer, ways, last_free_step(case, ring))


def solve(case: Case) -> tuple[Verdict, ...]:
    """The verdict for every ring that slides, in the order of ``case.rings``."""
    return tuple(verdict(case, ring) for ring in case.rings if ring.slides)
