"""The question that ``reorder`` answers, and how it falls into regions that can be answered one by one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from hoopwright.scheduling.ring import Ring
from hoopwright.scheduling.solver import Case, Change

Pair = tuple[int, int]
Pairs = frozenset[Pair]


@dataclass(frozen=True, slots=True)
class Puzzle:
    """``steps`` steps 0..n-1 in the order given, the hoops' cases, the pairs to keep, and the steps that must not move."""

    steps: int
    cases: tuple[Case, ...]
    before: tuple[Pair, ...] = ()
    pinned: frozenset[int] = frozenset()

    @property
    def fixed(self) -> frozenset[int]:
        return self.pinned | {change.step for case in self.cases for change in case.changes}


@dataclass(frozen=True, slots=True)
class Region:
    """A part of a puzzle as a puzzle of its own; ``steps`` and ``cases`` give the whole puzzle's number of each of its steps and cases."""

    puzzle: Puzzle
    steps: tuple[int, ...]
    cases: tuple[int, ...]


def regions(puzzle: Puzzle) -> list[Region]:
    """The puzzle's parts, by their first step. Two steps that may move are of one part if a hoop or a pair to keep has both in it.

    Fixed steps stand in every part that speaks of them. As they keep their turns, and steps that stay keep theirs, the orders of the
    parts always go together: no part asks anything of another one's steps.
    """
    fixed = puzzle.fixed
    groups = _Groups()
    for case in puzzle.cases:
        groups.join({ring.step for ring in case.rings} - fixed)
    for pair in puzzle.before:
        groups.join(set(pair) - fixed)
    cases: dict[int, list[int]] = {}
    for number, case in enumerate(puzzle.cases):
        movable = {ring.step for ring in case.rings} - fixed
        # A hoop on which only fixed steps put something is a part of its own: numbers below zero name no step.
        cases.setdefault(groups.root(min(movable)) if movable else -1 - number, []).append(number)
    pairs: dict[int, list[Pair]] = {}
    for pair in puzzle.before:
        movable = set(pair) - fixed
        pairs.setdefault(groups.root(min(movable)) if movable else -1 - len(puzzle.cases), []).append(pair)
    found = [_region(puzzle, fixed, cases.get(root, []), pairs.get(root, [])) for root in {**cases, **pairs}]
    return sorted(found, key=lambda region: (region.steps, region.cases))


def _region(puzzle: Puzzle, fixed: frozenset[int], cases: list[int], pairs: list[Pair]) -> Region:
    used = {step for pair in pairs for step in pair}
    for number in cases:
        used.update(ring.step for ring in puzzle.cases[number].rings)
        used.update(change.step for change in puzzle.cases[number].changes)
    steps = tuple(sorted(used))
    turn = {step: place for place, step in enumerate(steps)}
    part = Puzzle(
        len(steps),
        tuple(_renumbered(puzzle.cases[number], turn) for number in cases),
        tuple((turn[a], turn[b]) for a, b in pairs),
        frozenset(turn[step] for step in used & fixed),
    )
    return Region(part, steps, tuple(cases))


def _renumbered(case: Case, turn: dict[int, int]) -> Case:
    rings = tuple(Ring(r.id, r.tubes, turn[r.step], r.slot, r.places, r.slides, r.limits) for r in case.rings)
    return Case(case.tubes, rings, tuple(Change(turn[c.step], c.slot, c.gate, c.state) for c in case.changes), case.after)


class _Groups:
    """Sets of steps that grow together (union-find with path halving)."""

    def __init__(self) -> None:
        self._above: dict[int, int] = {}

    def root(self, step: int) -> int:
        above = self._above
        while above.setdefault(step, step) != step:
            above[step] = above[above[step]]
            step = above[step]
        return step

    def join(self, steps: Iterable[int]) -> None:
        roots = sorted({self.root(step) for step in steps})
        for root in roots[1:]:
            self._above[root] = roots[0]
