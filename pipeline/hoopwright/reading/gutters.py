"""Gutters: upright white strips with text on both sides, between columns of text or of a table.

The strips are the maximal empty rectangles of the page, after T. M. Breuel, "Two Geometric Algorithms for Layout Analysis" (2002), found
here by a sweep from top to bottom, which is enough for strips that are higher than wide.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.reading.blocks import Item

_LEAST_WIDTH = 0.55  # of the type height
_LEAST_ROWS = 3  # on either side: two lines that break at the same place prove nothing
_MOST_OPEN = 80  # strips at a time; more are a page of scattered labels, which has no columns to find
_MOST_LOOKED_AT = 60  # strips, the highest first


@dataclass(frozen=True, slots=True)
class Gutter:
    """A white strip. ``top`` to ``bottom`` is where it is white; ``first`` to ``last`` where text stands on both its sides."""

    x0: float
    x1: float
    top: float
    bottom: float
    first: float
    last: float

    @property
    def reach(self) -> float:
        return self.last - self.first


def gutters(items: Sequence[Item], height: float) -> list[Gutter]:
    """The gutters among ``items`` (type ``height`` in points), the one that parts the most text first."""
    strips = sorted(_strips(sorted(items, key=lambda i: i.top), height * _LEAST_WIDTH), key=lambda s: s[2] - s[3])
    found = (_with_text(strip, items) for strip in strips[:_MOST_LOOKED_AT])
    return sorted((g for g in found if g is not None), key=lambda g: (-round(g.reach), -round(g.bottom - g.top), g.x0 - g.x1))


Strip = tuple[float, float, float, float]  # x0, x1, top, bottom


def _strips(items: list[Item], width: float) -> list[Strip]:
    """The white strips at least ``width`` wide that end at text on top and bottom or at the page's ends."""
    left, right = min(i.x0 for i in items), max(i.x1 for i in items)
    start, end = items[0].top - 1.0, max(i.bottom for i in items) + 1.0
    active: list[tuple[float, float, float]] = [(left, right, start)]
    closed: list[Strip] = []
    for item in items:
        still: list[tuple[float, float, float]] = []
        for strip in active:
            x0, x1, top = strip
            if item.x1 <= x0 or item.x0 >= x1:
                still.append(strip)
                continue
            if x0 > left and x1 < right and item.top - top > 2 * width:
                closed.append((x0, x1, top, item.top))
            if item.x0 - x0 >= width:
                still.append((x0, item.x0, top))
            if x1 - item.x1 >= width:
                still.append((item.x1, x1, top))
        still.append((left, right, item.bottom))
        active = _undominated(still)
        if len(active) > _MOST_OPEN:
            return []
    closed.extend((x0, x1, top, end) for x0, x1, top in active if x0 > left and x1 < right)
    return closed


def _undominated(strips: list[tuple[float, float, float]]) -> list[tuple[float, float, float]]:
    """The strips that no other one that began earlier covers."""
    kept: list[tuple[float, float, float]] = []
    for strip in sorted(strips, key=lambda s: (s[2], s[0] - s[1])):
        if not any(k[0] <= strip[0] and k[1] >= strip[1] for k in kept):
            kept.append(strip)
    return kept


def _with_text(strip: Strip, items: Sequence[Item]) -> Gutter | None:
    x0, x1, top, bottom = strip
    beside = [i for i in items if top <= i.middle <= bottom]
    before = [i for i in beside if i.x1 <= x0 + 0.01]
    after = [i for i in beside if i.x0 >= x1 - 0.01]
    if len(before) < _LEAST_ROWS or len(after) < _LEAST_ROWS:
        return None
    first = max(min(i.top for i in before), min(i.top for i in after))
    last = min(max(i.bottom for i in before), max(i.bottom for i in after))
    if last <= first or _rows(before, first, last) < _LEAST_ROWS or _rows(after, first, last) < _LEAST_ROWS:
        return None
    return Gutter(x0, x1, top, bottom, first, last)


def _rows(items: list[Item], first: float, last: float) -> int:
    """How many lines ``items`` have between ``first`` and ``last``; a table counts for many."""
    count, bottom = 0, first - 1.0
    for item in sorted(items, key=lambda i: i.middle):
        if first <= item.middle <= last and item.middle >= bottom:
            count += 1 if not hasattr(item, "rows") else len(item.rows)
            bottom = item.bottom
    return count
