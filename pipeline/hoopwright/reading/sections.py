"""Columns that do not run on to the page's end: rows of steps side by side, and sections that each have columns of their own."""

from __future__ import annotations

import re
from itertools import pairwise

from hoopwright.reading.blocks import Item
from hoopwright.reading.fragments import Fragment

_STEP_NUMBER = re.compile(r"^(?i:step|stage|fig(?:ure)?\.?|no\.?)?\s*[(\[]?(\d{1,3})(?:[.):\]](?!\d)|$|\s+(?=[A-Z(–-]))")
_LEAST_NUMBERS = 3  # steps that must be numbered before their numbers tell the order
_SAME_TOP = 3.0  # points by which the tops of one line may differ

Columns = list[list[Item]]


def sections(columns: Columns) -> list[Columns]:
    """The columns cut through where the reading goes on with the first column again, top to bottom; most often in one piece.

    The white bands that cross all columns are where that may be. The numbers of the steps tell whether it is so; without them the
    drawing order does: in columns that run on, the left one's lower part is drawn before the right one's upper part.
    """
    cuts = _bands(columns)
    if not cuts:
        return [columns]
    steps = [y for y in cuts if _step_under(columns, y)]
    parts = _cut(columns, steps)
    by_row, by_column = _ascending(parts), _ascending([[column] for column in columns])
    if steps and by_row != by_column:
        return parts if by_row else [columns]
    drawn = _drawn_apart(columns, cuts)
    return _cut(columns, drawn) if drawn else [columns]


def _bands(columns: Columns) -> list[float]:
    """The middles of the white bands that have at least two columns above and below them."""
    items = sorted((i for column in columns for i in column), key=lambda i: i.top)
    found: list[float] = []
    bottom = items[0].bottom
    for item in items[1:]:
        if item.top >= bottom:
            found.append((bottom + item.top) / 2)
        bottom = max(bottom, item.bottom)
    return [y for y in found if _sides(columns, y, above=True) > 1 and _sides(columns, y, above=False) > 1]


def _sides(columns: Columns, y: float, *, above: bool) -> int:
    return sum(any((i.middle < y) is above for i in column) for column in columns)


def _step_under(columns: Columns, y: float) -> bool:
    """Whether at least two columns have a numbered step right under the band at ``y``."""
    firsts = [_first(column, y) for column in columns]
    top = min(first.top for first in firsts if first is not None)
    return sum(_number(first) is not None and first.top - top < _SAME_TOP for first in firsts if first is not None) > 1


def _first(column: list[Item], y: float) -> Item | None:
    """The leftmost item of the column's first line under ``y``."""
    under = [i for i in column if i.middle > y]
    if not under:
        return None
    top = min(i.top for i in under)
    return min((i for i in under if i.top - top < _SAME_TOP), key=lambda i: i.x0)


def _number(item: Item) -> int | None:
    match = _STEP_NUMBER.match(item.text) if isinstance(item, Fragment) else None
    return int(match.group(1)) if match else None


def _cut(columns: Columns, cuts: list[float]) -> list[Columns]:
    bounds = [float("-inf"), *cuts, float("inf")]
    return [[[i for i in column if a < i.middle <= b] for column in columns] for a, b in pairwise(bounds)]


def _ascending(parts: list[Columns]) -> bool:
    """Whether the numbered lines ascend when the parts, and in each its columns, are read in turn; False if few are numbered."""
    found = [_number(i) for columns in parts for column in columns for i in sorted(column, key=lambda i: i.top)]
    numbers = [number for number in found if number is not None]
    return len(numbers) >= _LEAST_NUMBERS and all(a < b for a, b in pairwise(numbers))


def _drawn_apart(columns: Columns, cuts: list[float]) -> list[float]:
    """The bands with everything above them drawn before everything below; none if the page was drawn row by row."""
    items = [i for column in columns for i in column]
    apart = [y for y in cuts if max(i.order for i in items if i.middle < y) < min(i.order for i in items if i.middle >= y)]
    return [] if len(apart) >= max(3, len(items) // 6) else apart
