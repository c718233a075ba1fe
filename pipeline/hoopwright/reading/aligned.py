"""Tables without rules, made of columns of words that stand in line."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from hoopwright.reading.blocks import TableBlock, TableRow
from hoopwright.reading.cells import cell_text, lines_of_row
from hoopwright.reading.fragments import Fragment, share_line
from hoopwright.reading.lines import rows_of

_ROW_GAP_RATIO = 1.25  # of the usual step between lines: rows stand farther apart than the lines of a cell
_SHORT_WORDS = 3.5  # of a table row's cells, on average
_PROSE_WORDS = 4  # of a line of running text, at least
_MOSTLY = 0.6
_BOTH_SIDES = 2  # lines with text left and right of a strip of white, for it to part two columns
_BREAK = 1.5  # of the usual step from row to row, that between two tables at least
_MOST_STEPS = 0.8  # of a table's steps, which are no wider than the usual one
_LEAST_PART = 2  # rows of a table that are told from another by the white between them
_TAIL_STEP = 1.6  # of the type height: a cell's second line stands no farther below the first


@dataclass(slots=True)
class AlignedTable:
    """A table, the lines that stand above and below it, and columns of running text right over or under its own columns."""

    block: TableBlock
    before: list[Fragment]
    after: list[Fragment]
    prose_above: list[list[Fragment]]
    prose_below: list[list[Fragment]]


def build_table(columns: list[list[Fragment]], height: float) -> AlignedTable:
    """The table made of ``columns``, left to right, of which at least two rows have more than one cell."""
    columns = [part for column in columns for part in parted(column)]
    column_of = {id(f): index for index, column in enumerate(columns) for f in column}
    rows = rows_of([f for column in columns for f in column])
    spans = [len({column_of[id(f)] for f in row}) > 1 for row in rows]
    first, last = spans.index(True), len(spans) - 1 - spans[::-1].index(True)
    while last + 1 < len(rows) and _continues(rows[last], rows[last + 1], column_of, height):
        last += 1
    start, end = _without_prose(rows, first, last)
    groups = _grouped(rows[start : end + 1], column_of)
    body = [_row(group, column_of, len(columns)) for group in groups]
    inside = [f for row in rows[start : end + 1] for f in row]
    box = (min(f.x0 for f in inside), min(f.top for f in inside), max(f.x1 for f in inside), max(f.bottom for f in inside))
    block = TableBlock(body, *box, min(f.order for f in inside))
    return AlignedTable(
        block,
        [f for row in rows[:first] for f in row],
        [f for row in rows[last + 1 :] for f in row],
        _by_column(rows[first:start], column_of, len(columns)),
        _by_column(rows[end + 1 : last + 1], column_of, len(columns)),
    )


def parted(column: list[Fragment]) -> list[list[Fragment]]:
    """A column that is two: white runs through it, and at least twice there is text on a line on both its sides.

    The white may be too short to be seen as a gutter, for the table's other columns have text on more lines.
    """
    edges = sorted((f.x0, f.x1) for f in column)
    reach = edges[0][1]
    for x0, x1 in edges[1:]:
        if x0 > reach:
            left, right = [f for f in column if f.x1 <= reach], [f for f in column if f.x0 >= x0]
            both = sum(any(share_line(a, b) for b in right) for a in left)
            if both >= _BOTH_SIDES:
                return [left, *parted(right)]
        reach = max(reach, x1)
    return [column]


def break_between(columns: list[list[Fragment]]) -> float | None:
    """Where two tables meet whose columns do not stand under each other: at a step wider than those from row to row; None if nowhere."""
    rows = rows_of([f for column in columns for f in column])
    steps = sorted(b[0].middle - a[0].middle for a, b in pairwise(rows))
    for index in range(_LEAST_PART, len(rows) - _LEAST_PART + 1):
        end, start = rows[index - 1][0].middle, rows[index][0].middle
        if start - end <= _BREAK * steps[int(_MOST_STEPS * len(steps))]:
            continue
        above, below = (_strips([[f for f in column if (f.middle < start) is upper] for column in columns]) for upper in (True, False))
        if len(above) != len(below) or any(a[0] >= b[1] or b[0] >= a[1] for a, b in zip(above, below, strict=True)):
            return (max(f.bottom for f in rows[index - 1]) + min(f.top for f in rows[index])) / 2
    return None


def _strips(columns: list[list[Fragment]]) -> list[tuple[float, float]]:
    """The white between the columns, left to right, as (left, right)."""
    parts = [part for column in columns if column for part in parted(column)]
    return [(max(f.x1 for f in a), min(f.x0 for f in b)) for a, b in pairwise(parts)]


def _by_column(rows: list[list[Fragment]], column_of: dict[int, int], count: int) -> list[list[Fragment]]:
    columns: list[list[Fragment]] = [[] for _ in range(count)]
    for row in rows:
        for fragment in row:
            columns[column_of[id(fragment)]].append(fragment)
    return [column for column in columns if column]


def _without_prose(rows: list[list[Fragment]], first: int, last: int) -> tuple[int, int]:
    """The table's first and last row without lines of running text in columns that happen to stand under or over its own."""
    words = [sum(len(f.words) for f in row) / len(row) for row in rows]
    if sorted(words[first : last + 1])[(last - first) // 2] > _SHORT_WORDS:
        return first, last
    while last - first > 1 and _is_prose(rows[last]):
        last -= 1
    while last - first > 1 and _is_prose(rows[first]):
        first += 1
    return first, last


def _is_prose(row: list[Fragment]) -> bool:
    return len(row) > 1 and all(len(f.words) >= _PROSE_WORDS for f in row)


def _continues(row: list[Fragment], below: list[Fragment], column_of: dict[int, int], height: float) -> bool:
    """Whether the line ``below`` goes on with a cell of ``row``: in one column, not the first, and close under it."""
    columns = {column_of[id(f)] for f in below}
    filled = {column_of[id(f)] for f in row}
    return len(columns) == 1 and 0 not in columns and columns <= filled and below[0].middle - row[0].middle < _TAIL_STEP * height


def _grouped(lines: list[list[Fragment]], column_of: dict[int, int]) -> list[list[list[Fragment]]]:
    """The printed lines in groups that make a row each."""
    steps = [b[0].middle - a[0].middle for a, b in pairwise(lines)]
    apart = _row_step(steps)
    if apart is not None and _each_a_row(lines, steps, apart, column_of):
        apart = None
    groups = [[lines[0]]]
    for line, step in zip(lines[1:], steps, strict=True):
        if apart is not None:
            new = step > apart
        else:
            filled = {column_of[id(f)] for f in line}
            before = {column_of[id(f)] for f in groups[-1][0]}
            new = 0 in filled or len(filled) > 1 or not filled <= before
        if new:
            groups.append([line])
        else:
            groups[-1].append(line)
    return groups


def _each_a_row(lines: list[list[Fragment]], steps: list[float], apart: float, column_of: dict[int, int]) -> bool:
    """Whether lines that stand close together are rows all the same, and the wider steps part groups of them: each has a number."""
    close = [line for line, step in zip(lines[1:], steps, strict=True) if step <= apart]
    filled = [{column_of[id(f)] for f in line} for line in close]
    counted = [any(f.text.isdigit() or (column_of[id(f)] and f.text[0].isdigit()) for f in line) for line in close]
    return sum(0 in columns and n for columns, n in zip(filled, counted, strict=True)) > _MOSTLY * len(close)


def _row_step(steps: list[float]) -> float | None:
    """The step between lines from which on a new row begins, None if the steps are all alike."""
    if len(steps) < 2:
        return None
    low, high = min(steps), max(steps)
    ordered = sorted(steps)
    gaps = [(b - a, (a + b) / 2) for a, b in pairwise(ordered)]
    widest, middle = max(gaps)
    if high < _ROW_GAP_RATIO * low or widest < 0.5 * (high - low):
        return None
    return middle


def _row(group: list[list[Fragment]], column_of: dict[int, int], count: int) -> TableRow:
    cells: list[list[Fragment]] = [[] for _ in range(count)]
    for line in group:
        for fragment in line:
            cells[column_of[id(fragment)]].append(fragment)
    return TableRow([cell_text(parts) for parts in cells], lines_of_row([parts for parts in cells if parts]))
