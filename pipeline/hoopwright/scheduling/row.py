"""Rings of one tube in a row, so that what lies to the left and to the right of a place is found without looking at each of them.

Two rings can be told apart by a reference that both have a place from (``ring.right_of``). Rings with the same references are sorted by
each of these; what sits on one side of a place is then an end of a few sorted lists.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from typing import NamedTuple

from hoopwright.scheduling.ring import SAME_PLACE_MM, Ring, right_of

FEW = 24  # up to so many rings are held against each other one by one: faster than sorting them


class Site(NamedTuple):
    """A ring with its place in the order given. Sites compare by when their rings go on."""

    step: int
    slot: int
    number: int
    ring: Ring


@dataclass(frozen=True)
class Sorted:
    """Sites by their distance ``mm`` from one reference, from left to right."""

    mm: tuple[float, ...]
    sites: tuple[Site, ...]

    @cached_property
    def first(self) -> tuple[tuple[Site, ...], tuple[Site, ...]]:
        """For each site, which of all up to it from the left, and from the right, goes on first."""
        return tuple(accumulate(self.sites, min)), tuple(accumulate(self.sites[::-1], min))[::-1]

    @cached_property
    def steps(self) -> tuple[tuple[int, ...], tuple[int, ...]]:
        """For each site, the steps (as bits) that put on all up to it from the left, and from the right."""
        bits = [1 << site.step for site in self.sites]
        return tuple(accumulate(bits, int.__or__)), tuple(accumulate(bits[::-1], int.__or__))[::-1]

    def left_of(self, mm: float) -> End:
        """The sites that surely sit to the left of ``mm``."""
        row, stop = self.mm, bisect_right(self.mm, mm - SAME_PLACE_MM)
        while stop < len(row) and row[stop] < mm and mm - row[stop] >= SAME_PLACE_MM:  # where the difference is rounded the other way
            stop += 1
        while stop and mm - row[stop - 1] < SAME_PLACE_MM:
            stop -= 1
        return self, 0, stop

    def right_of(self, mm: float) -> End:
        row, start = self.mm, bisect_left(self.mm, mm + SAME_PLACE_MM)
        while start and row[start - 1] > mm and row[start - 1] - mm >= SAME_PLACE_MM:
            start -= 1
        while start < len(row) and row[start] - mm < SAME_PLACE_MM:
            start += 1
        return self, start, len(row)


End = tuple[Sorted, int, int]  # an end of a sorted list: from its left end if the first number is 0, else up to its right end


class Side:
    """The rings on one side of a place: ends of sorted lists, none of them empty, and single sites where no list tells."""

    __slots__ = ("ends", "single")

    def __init__(self, ends: Sequence[End] = (), single: Sequence[Site] = ()) -> None:
        self.ends = ends
        self.single = single

    def __len__(self) -> int:
        return sum(stop - start for _, start, stop in self.ends) + len(self.single)

    @property
    def first(self) -> Site | None:
        """The ring that goes on first, None where there is none."""
        heads = [row.first[0][stop - 1] if start == 0 else row.first[1][start] for row, start, stop in self.ends]
        return min((*heads, *self.single), default=None)

    @property
    def steps(self) -> int:
        """The steps that put them on, as bits."""
        found = 0
        for row, start, stop in self.ends:
            found |= row.steps[0][stop - 1] if start == 0 else row.steps[1][start]
        for site in self.single:
            found |= 1 << site.step
        return found

    def sites(self) -> list[Site]:
        """All of them, in the order given."""
        found = [site for row, start, stop in self.ends for site in row.sites[start:stop]]
        return sorted([*found, *self.single], key=lambda site: site.number)


class Row:
    """Rings that are held against each other, in the order given."""

    def __init__(self, rings: Sequence[Ring]) -> None:
        self._sites = {ring.id: Site(ring.step, ring.slot, number, ring) for number, ring in enumerate(rings)}

    @cached_property
    def _limited(self) -> bool:
        return any(site.ring.limits for site in self._sites.values())

    @cached_property
    def _groups(self) -> list[tuple[tuple[str, ...], tuple[Site, ...], dict[str, Sorted]]]:
        """(references, sites, the sites sorted by each of these) for all sites that have the same references."""
        groups: dict[tuple[str, ...], list[Site]] = {}
        for names, site in zip(_telling([site.ring for site in self._sites.values()]), self._sites.values(), strict=True):
            groups.setdefault(names, []).append(site)
        return [(names, tuple(sites), {name: _sorted(name, sites) for name in names}) for names, sites in groups.items()]

    @cached_property
    def whole(self) -> Side:
        return Side((), tuple(self._sites.values()))

    @property
    def line(self) -> Sorted | None:
        """All of them sorted, where one reference alone tells all of them apart; else None."""
        if len(self._groups) != 1 or self._limited or len(self._groups[0][0]) != 1:
            return None
        (lists,) = (lists for _, _, lists in self._groups)
        return next(iter(lists.values()))

    def sides(self, ring: Ring) -> tuple[Side, Side]:
        """What surely sits to the left and to the right of ``ring``, itself left out."""
        if len(self._sites) < FEW or ring.id not in self._sites:
            return self._one_by_one(ring, self._sites.values())
        own = dict(reversed(ring.places))
        left: list[End] = []
        right: list[End] = []
        single: list[Site] = []
        for names, sites, lists in self._groups:
            name = next((name for name in names if name in own), None)
            if name is None:
                single += sites if self._limited else ()
                continue
            if (end := lists[name].left_of(own[name]))[2]:
                left.append(end)
            if (end := lists[name].right_of(own[name]))[1] < len(sites):
                right.append(end)
        if not single:
            return Side(left), Side(right)
        lone = self._one_by_one(ring, single)
        return Side(left, lone[0].single), Side(right, lone[1].single)

    def _one_by_one(self, ring: Ring, sites: Iterable[Site]) -> tuple[Side, Side]:
        left: list[Site] = []
        right: list[Site] = []
        for site in sites:
            side = None if site.ring.id == ring.id else right_of(site.ring, ring)
            if side is not None:
                (right if side else left).append(site)
        return Side((), left), Side((), right)


def _telling(rings: Sequence[Ring]) -> list[tuple[str, ...]]:
    """For each ring its references, in its own order, that can tell it from another: no further than the first that all have."""
    times: dict[str, int] = {}
    for ring in rings:
        for name in dict(ring.places):
            times[name] = times.get(name, 0) + 1
    found = []
    for ring in rings:
        names: list[str] = []
        for name, _ in ring.places:
            if times[name] > 1 and name not in names:
                names.append(name)
            if times[name] == len(rings):
                break
        found.append(tuple(names))
    return found


def _sorted(name: str, sites: Sequence[Site]) -> Sorted:
    known = sorted((next(mm for other, mm in site.ring.places if other == name), site.number, site) for site in sites)
    return Sorted(tuple(mm for mm, _, _ in known), tuple(site for _, _, site in known))
