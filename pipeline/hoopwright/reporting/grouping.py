"""Hoops that are alike, and names for runs of hoops."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import replace

from hoopwright.model.schedule import Placement, Schedule


def hoop_number(hoop: str) -> int:
    """3 for ``H3``."""
    return int(hoop[1:])


def hoop_range(hoops: Iterable[str]) -> str:
    """``H1, H3–H5`` for H1 H3 H4 H5; ``H3–H27 odd`` for every other one from 3 to 27. Runs of two stay apart: ``H1, H2``."""
    numbers = sorted({hoop_number(hoop) for hoop in hoops})
    words: list[str] = []
    at = 0
    while at < len(numbers):
        ones, twos = _run(numbers, at, 1), _run(numbers, at, 2)
        if ones >= 3:
            words.append(f"H{numbers[at]}–H{numbers[at + ones - 1]}")
            at += ones
        elif twos >= 4:
            words.append(f"H{numbers[at]}–H{numbers[at + twos - 1]} {'odd' if numbers[at] % 2 else 'even'}")
            at += twos
        else:
            words.append(f"H{numbers[at]}")
            at += 1
    return ", ".join(words)


def _run(numbers: Sequence[int], start: int, gap: int) -> int:
    """How many numbers from ``start`` on lie exactly ``gap`` apart."""
    stop = start + 1
    while stop < len(numbers) and numbers[stop] == numbers[stop - 1] + gap:
        stop += 1
    return stop - start


def grouped(hoops: Sequence[str], key: Callable[[str], Hashable]) -> list[tuple[str, ...]]:
    """Hoops with equal keys together, in the order in which each group first comes."""
    groups: dict[Hashable, list[str]] = {}
    for hoop in hoops:
        groups.setdefault(key(hoop), []).append(hoop)
    return [tuple(group) for group in groups.values()]


def hoop_ids(schedule: Schedule) -> tuple[str, ...]:
    """The hoops in order; also those that only a placement names, so that nothing goes unseen."""
    known = [hoop.id for hoop in schedule.structure.hoops]
    extra = sorted({placement.hoop for placement in schedule.placements if placement.hoop} - set(known), key=hoop_number)
    return (*known, *extra)


def placements_of(schedule: Schedule) -> dict[str, list[Placement]]:
    """Placements of every hoop, in the schedule's order; a hoop without any has an empty list."""
    by_hoop: dict[str, list[Placement]] = {hoop: [] for hoop in hoop_ids(schedule)}
    for placement in schedule.placements:
        if placement.hoop:
            by_hoop[placement.hoop].append(placement)
    return by_hoop


def same_counts(schedule: Schedule) -> list[tuple[str, ...]]:
    """Groups of hoops that take the same fittings, and the same of them before joining."""

    def key(hoop: str) -> Hashable:
        counts, before = schedule.counts.get(hoop, {}), schedule.before_joining.get(hoop, {})
        return frozenset(counts.items()), frozenset(before.items())

    return grouped(hoop_ids(schedule), key)


def same_dress(schedule: Schedule) -> list[tuple[str, ...]]:
    """Groups of hoops that are dressed alike: every fitting at the same place, in the same order, from the same step.

    Only the placement's own id may differ, and the id of the fitting that it is measured from (the fitting must be the same).
    """
    names = {placement.id: (placement.fitting, placement.side, placement.along_mm) for placement in schedule.placements}
    by_hoop = placements_of(schedule)

    def bare(placement: Placement) -> Hashable:
        datum = placement.datum
        anchor = None if datum is None or datum not in names else names[datum]
        return replace(placement, id="", hoop=None, datum=None if anchor else datum), anchor

    return grouped(hoop_ids(schedule), lambda hoop: tuple(bare(placement) for placement in by_hoop[hoop]))
