"""What stands around columns but is no part of them: heads and feet, titles over one column, text that runs on past a sidebar."""

from __future__ import annotations

from hoopwright.reading.blocks import Item
from hoopwright.reading.fragments import Fragment

_MOST_ROWS = 2  # lines of a head or foot
_LEAST_WHITE = 1.3  # of the type height: over or under it
_TITLE_WHITE = 0.4  # of the type height: under a centred title
_FOOT_CHARS = 80
_STEP = 2.0  # of the type height: lines of a paragraph stand no farther apart
_ENDS = (".", "!", "?", ":", ";")

Columns = list[list[Item]]


def take_head(columns: Columns, height: float) -> tuple[list[Item], Columns]:
    """A running head or a title that stands over the columns, and the columns without it."""
    items = sorted((i for column in columns for i in column), key=lambda i: i.middle)
    for outer, inner in _ends(items, height):
        white = min(i.top for i in inner) - max(i.bottom for i in outer)
        if white > _LEAST_WHITE * height or (white > _TITLE_WHITE * height and _is_title(outer, columns, height)):
            return outer, _without(columns, outer)
    return [], columns


def take_foot(columns: Columns, height: float) -> tuple[list[Item], Columns]:
    """A running foot that stands under the columns, and the columns without it."""
    items = sorted((i for column in columns for i in column), key=lambda i: -i.middle)
    for outer, inner in _ends(items, height):
        white = min(i.top for i in outer) - max(i.bottom for i in inner)
        if white > _LEAST_WHITE * height and _is_foot(outer, inner, columns):
            return outer, _without(columns, outer)
    return [], columns


def in_turn(columns: Columns, below: list[Item], height: float) -> Columns:
    """The columns in the order in which they are read: a sidebar first, if the first column's last sentence goes on below it."""
    if len(columns) != 2 or not below:
        return columns
    last = max(columns[0], key=lambda i: i.middle)
    first = min(below, key=lambda i: (round(i.top), i.x0))
    if not isinstance(last, Fragment) or not isinstance(first, Fragment) or last.text.endswith(_ENDS):
        return columns
    goes_on = abs(first.x0 - last.x0) < height and first.middle - last.middle < _STEP * height and first.x1 > columns[1][0].x0
    return columns[::-1] if goes_on and not first.text[0].isupper() else columns


def _ends(items: list[Item], height: float) -> list[tuple[list[Item], list[Item]]]:
    """The first line, the first two … of ``items``, and the rest; fewest first."""
    found: list[tuple[list[Item], list[Item]]] = []
    rows = 1
    for count in range(1, len(items)):
        if abs(items[count].middle - items[count - 1].middle) > 0.5 * height:
            found.append((items[:count], items[count:]))
            rows += 1
            if rows > _MOST_ROWS:
                break
    return found


def _is_title(outer: list[Item], columns: Columns, height: float) -> bool:
    """One line in one column that does not begin where the column's lines begin, but is centred over all of them."""
    if len(outer) != 1:
        return False
    title = outer[0]
    home = next(column for column in columns if title in column)
    inner = [i for column in columns for i in column if i is not title]
    middle = (min(i.x0 for i in inner) + max(i.x1 for i in inner)) / 2
    starts = [i.x0 for i in home if i is not title]
    return bool(starts) and title.x0 - min(starts) > height and abs((title.x0 + title.x1) / 2 - middle) < height


def _is_foot(outer: list[Item], inner: list[Item], columns: Columns) -> bool:
    """A foot stands under columns that are full: a paragraph at the end of the longer column is no foot."""
    kept = {id(i) for i in inner}
    ends = [max((i.bottom for i in column if id(i) in kept), default=0.0) for column in columns]
    top = min(i.top for i in inner)
    return min(ends) > top + 0.6 * (max(ends) - top) and all(isinstance(i, Fragment) and len(i.text) < _FOOT_CHARS for i in outer)


def _without(columns: Columns, outer: list[Item]) -> Columns:
    gone = {id(i) for i in outer}
    return [[i for i in column if id(i) not in gone] for column in columns]
