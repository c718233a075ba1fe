"""Small tables without rules, known by their bold heads: too few rows for the white between their columns to prove anything."""

from __future__ import annotations

from itertools import pairwise

from hoopwright.reading.blocks import TableBlock, TableRow
from hoopwright.reading.cells import cell_text, lines_of_row
from hoopwright.reading.fragments import Fragment

_HEAD_GAP = 0.9  # of the type height between two heads, at least
_SAME_EDGE = 0.4  # of the type height
_ROW_STEP = 2.2  # of the type height from one line of the table to the next, at most
_TAIL_STEP = 1.6  # the same to a cell's second line


def take_headed(rows: list[list[Fragment]], height: float) -> tuple[list[TableBlock], list[list[Fragment]]]:
    """The tables that begin with a row of bold heads, and the rows (fragments left to right, from top to bottom) that are in none."""
    tables: list[TableBlock] = []
    left: list[list[Fragment]] = []
    at = 0
    while at < len(rows):
        end = _end(rows, at, height) if _is_head(rows[at], height) else at
        if end > at + 1:
            tables.append(_table(rows[at:end], height))
            at = end
        else:
            left.append(rows[at])
            at += 1
    return tables, left


def _is_head(row: list[Fragment], height: float) -> bool:
    bold = all(word.bold for fragment in row for word in fragment.words)
    return len(row) > 1 and bold and all(b.x0 - a.x1 > _HEAD_GAP * height for a, b in pairwise(row))


def _end(rows: list[list[Fragment]], at: int, height: float) -> int:
    """Where the table ends that begins at ``at``: before the first row that has no place under its heads."""
    heads = rows[at]
    end = at + 1
    while end < len(rows):
        row, step = rows[end], rows[end][0].middle - rows[end - 1][0].middle
        columns = [_column(fragment, heads, height) for fragment in row]
        if None in columns or len(set(columns)) < len(columns) or step > _ROW_STEP * height or _is_head(row, height):
            break
        if len(row) == 1 and (end == at + 1 or columns == [0] or step > _TAIL_STEP * height):
            break  # a row has more than one cell, and no cell of the first column goes on by itself
        end += 1
    return end


def _column(fragment: Fragment, heads: list[Fragment], height: float) -> int | None:
    """The head that the fragment stands under, with one edge or the middle in common; None if there is none."""
    for index, head in enumerate(heads):
        between = (head.x0 + head.x1) / 2 - (fragment.x0 + fragment.x1) / 2
        if min(abs(fragment.x0 - head.x0), abs(fragment.x1 - head.x1), abs(between)) <= _SAME_EDGE * height:
            return index
    return None


def _table(rows: list[list[Fragment]], height: float) -> TableBlock:
    heads = rows[0]
    body: list[list[list[Fragment]]] = []
    for row in rows:
        cells: list[list[Fragment]] = [[] for _ in heads]
        for fragment in row:
            cells[_column(fragment, heads, height) or 0].append(fragment)
        if body and not cells[0] and len(row) == 1:
            for above, below in zip(body[-1], cells, strict=True):
                above.extend(below)
        else:
            body.append(cells)
    inside = [fragment for row in rows for fragment in row]
    made = [TableRow([cell_text(cell) for cell in cells], lines_of_row([cell for cell in cells if cell])) for cells in body]
    box = (min(f.x0 for f in inside), min(f.top for f in inside), max(f.x1 for f in inside), max(f.bottom for f in inside))
    return TableBlock(made, *box, min(f.order for f in inside))
