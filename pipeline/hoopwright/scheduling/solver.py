"""The one-dimensional core: can a fitting that slides on still reach its place along a chain of tubes?

It knows no manual and no frame, only tubes 0..n-1 from the left foot, gates 0..n between them (gate 0 the left foot, gate n the
right foot, gate k the joint between tube k-1 and tube k), rings on tubes, and the steps at which rings go on and gates change. A ring
moves along the chain and cannot pass another ring, so the answer is exact; the tests put the same question to an independent solver.

Terms: a gate is ``open`` while the tubes there are apart (or the foot stands on nothing): it is an open end for both tubes. It is
``shut`` when nothing can come in or pass. It is ``through`` when the tubes are pushed together but a ring can still pass the joint.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Literal

GateState = Literal["open", "shut", "through"]
Answer = Literal["free", "trapped", "blocked"]

SAME_PLACE_MM = 0.5  # nearer than this, two places do not say which fitting is the outer one


@dataclass(frozen=True, slots=True)
class Ring:
    """A fitting on the chain. ``tubes``: the tube it sits on, or every tube it may sit on where that is not known.

    ``step`` is the index of the step that puts it on, ``slot`` how many changes of the same step come before it. ``places`` holds its
    place as (reference, mm to the right of it) pairs; two rings of a tube can be told apart by a reference that both have.
    ``slides`` is False for what is only in the way of others (a screw in the tube, a clip that opens). ``limits`` are places that are
    known from one side only: (reference, mm, +1 at least, -1 at most so far to the right of it).
    """

    id: str
    tubes: tuple[int, ...]
    step: int
    slot: int = 0
    places: tuple[tuple[str, float], ...] = ()
    slides: bool = True
    limits: tuple[tuple[str, float, int], ...] = ()


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
    def settled(self) -> dict[int, tuple[Ring, ...]]:
        """The rings whose tube is known, by tube."""
        found: dict[int, list[Ring]] = {}
        for ring in self.rings:
            if len(ring.tubes) == 1:
                found.setdefault(ring.tubes[0], []).append(ring)
        return {tube: tuple(rings) for tube, rings in found.items()}

    @cached_property
    def _beside(self) -> dict[tuple[str, int], tuple[tuple[Ring, ...], tuple[Ring, ...]]]:
        return {}

    def beside(self, ring: Ring, tube: int) -> tuple[tuple[Ring, ...], tuple[Ring, ...]]:
        """The rings of ``tube`` that surely sit to the left and to the right of ``ring``."""
        key = (ring.id, tube)
        if key not in self._beside:
            left: list[Ring] = []
            right: list[Ring] = []
            for other in self.settled.get(tube, ()):
                side = None if other.id == ring.id else right_of(other, ring)
                if side is not None:
                    (right if side else left).append(other)
            self._beside[key] = (tuple(left), tuple(right))
        return self._beside[key]

    @cached_property
    def timeline(self) -> tuple[Change, ...]:
        """The changes in the order of work."""
        return tuple(sorted(self.changes, key=lambda change: (change.step, change.slot, change.gate)))


@dataclass(frozen=True, slots=True)
class Way:
    """A way from a tube's end to a ring's place. ``gate`` is where it starts or is shut; ``towards`` -1 left, +1 right.

    ``rings`` are the ids of the rings in the way, in the order of the chain as given.
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
    states: list[GateState] = ["open"] * (case.tubes + 1)
    for change in case.timeline:
        if (change.step, change.slot) >= moment:
            break
        states[change.gate] = change.state
    return states


def right_of(a: Ring, b: Ring) -> bool | None:
    """Whether ring ``a`` sits to the right of ring ``b``; None if their places do not tell."""
    for reference, mm in a.places:
        for other, at in b.places:
            if other == reference:
                return None if abs(mm - at) < SAME_PLACE_MM else mm > at
    if (a.limits and _beyond(a, b)) or (b.limits and _beyond(b, a, -1)):
        return True
    return False if (a.limits and _beyond(a, b, -1)) or (b.limits and _beyond(b, a)) else None


def _beyond(a: Ring, b: Ring, towards: int = 1) -> bool:
    """Whether ``a``, of which only limits are known, surely sits to the right (``towards`` -1: left) of the place of ``b``."""
    return any(
        way == towards and other == reference and (mm - at) * towards >= SAME_PLACE_MM
        for reference, mm, way in a.limits
        for other, at in b.places
    )


def path(case: Case, ring: Ring, tube: int, towards: int, states: Sequence[GateState]) -> tuple[int, list[Ring]]:
    """Follow the chain from the ring's place on ``tube`` to the first gate that is not passed through.

    Returns that gate and all rings of the hoop that lie on the way, whenever they go on.
    """
    on_way = list(case.beside(ring, tube)[towards > 0])
    gate = tube + (towards > 0)
    while states[gate] == "through" and 0 < gate < case.tubes:
        on_way += [other for other in case.settled.get(gate if towards > 0 else gate - 1, ()) if other.id != ring.id]
        gate += towards
    return gate, on_way


def _ways(case: Case, ring: Ring, states: Sequence[GateState], present: Callable[[Ring], bool]) -> Iterator[Way]:
    for tube in ring.tubes:
        for towards in (-1, 1):
            gate, on_way = path(case, ring, tube, towards, states)
            yield Way(tube, towards, gate, states[gate] != "shut", tuple(other.id for other in on_way if present(other)))


def ways_at_call(case: Case, ring: Ring) -> tuple[Way, ...]:
    """All ways to the ring's place at the moment at which the manual calls for it."""

    def present(other: Ring) -> bool:
        if other.step != ring.step:
            return other.step < ring.step
        return other.slot < ring.slot or (other.id, ring.id) in case.after

    return tuple(_ways(case, ring, gates_at(case, (ring.step, ring.slot)), present))


def last_free_step(case: Case, ring: Ring) -> int | None:
    """The last step before the ring's own at whose end some way to its place is free; -1 before the first step, None if never."""
    moments = {-1, ring.step - 1, *(change.step - 1 for change in case.changes), *(other.step - 1 for other in case.rings)}
    # Between two of these steps nothing changes, so the last step of each stretch stands for the stretch.
    for step in sorted((moment for moment in moments if -1 <= moment < ring.step), reverse=True):
        states = gates_at(case, (step + 1, 0))
        if any(way.free for way in _ways(case, ring, states, partial(_on_at_end, step))):
            return step
    return None


def _on_at_end(step: int, other: Ring) -> bool:
    return other.step <= step


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
