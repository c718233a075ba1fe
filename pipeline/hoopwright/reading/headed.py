"""Small tables without rules, known by their bold heads: too few rows for the white between their columns to prove anything."""

from __future__ import annotations

from itertools import pairwise
from statistics import mean

from hoopwright.reading.blocks import TableBlock, TableRow
from hoopwright.reading.cells import cell_text, lines_of_row
from hoopwright.reading.fragments import Fragment

_HEAD_GAP = 0.9  # of the type height between two heads, at least
_SAME_EDGE = 0.4  # of the type height
_ROW_STEP = 2.2  # of the type height from one line of the table to the next, at most
_LOOKED_AT = 10  # rows that may show a column without a head
_TEXT_WORDS = 4.0  # of a line of running text, on average
_TAIL_STEP = 1.6  # the same to a cell's second line


def take_headed(rows: list[list[Fragment]], height: float) -> tuple[list[TableBlock], list[list[Fragment]]]:
    """The tables that begin with a row of bold heads, and the rows (fragments left to right, from top to bottom) that are in none."""
    tables: list[TableBlock] = []
    left: list[list[Fragment]] = []
    at = 0
    while at < len(rows):
        heads = _heads(rows, at, height)
        end = _end(rows, at, heads, height) if heads else at
        if end > at + 1:
            tables.append(_made(_body(rows[at:end], heads, height)))
            at = end
        else:
            left.append(rows[at])
            at += 1
    return tables, left


def first_headed(rows: list[list[Fragment]], height: float) -> tuple[TableBlock, list[Fragment]] | None:
    """The first table with a row of bold heads, and the fragments that it is made of; None if there is none.

    Two headings over two columns of running text are no such row.
    """
    for at, row in enumerate(rows):
        if not _is_head(row, height):
            continue
        heads = _heads(rows, at, height)
        end = _end(rows, at, heads, height)
        cells = _body(rows[at:end], heads, height)
        if len(cells) > 1 and not _is_text(cells[1:]):
            return _made(cells), [fragment for row in rows[at:end] for fragment in row]
    return None


def _is_text(body: list[list[list[Fragment]]]) -> bool:
    """Whether every column holds lines of several words, as running text does."""
    columns = [[fragment for row in body for fragment in row[k]] for k in range(len(body[0]))]
    return all(mean(len(f.words) for f in column) >= _TEXT_WORDS for column in columns if column)


def _is_head(row: list[Fragment], height: float) -> bool:
    bold = all(word.bold for fragment in row for word in fragment.words)
    return len(row) > 1 and bold and all(b.x0 - a.x1 > _HEAD_GAP * height for a, b in pairwise(row))


def _heads(rows: list[list[Fragment]], at: int, height: float) -> list[Fragment]:
    """The heads in a row, left to right, and wordless ones for what stands between two of them in the row below; empty if it has none."""
    if not _is_head(rows[at], height):
        return []
    heads = list(rows[at])
    for above, row in pairwise(rows[at : at + 1 + _LOOKED_AT]):
        if row[0].middle - above[0].middle > _ROW_STEP * height:
            break
        placed = [_column(fragment, heads, height) for fragment in row]
        lost = [fragment for fragment, column in zip(row, placed, strict=True) if column is None]
        if len(lost) == 1 and len(row) > 2 and heads[0].x1 < lost[0].x0 and lost[0].x1 < heads[-1].x0:
            heads.append(Fragment([], lost[0].x0, heads[0].top, lost[0].x1, heads[0].bottom, heads[0].order))
            heads.sort(key=lambda head: head.x0)
    return heads


def _end(rows: list[list[Fragment]], at: int, heads: list[Fragment], height: float) -> int:
    """Where the table ends that begins at ``at``: before the first row that has no place under its heads."""
    end = at + 1
    while end < len(rows):
        row, step = rows[end], rows[end][0].middle - rows[end - 1][0].middle
        columns = [_column(fragment, heads, height) for fragment in row]
        if None in columns or len(set(columns)) < len(columns) or step > _ROW_STEP * height:
            break
        bold = all(word.bold for fragment in row for word in fragment.words)
        if bold and not (end == at + 1 and step <= _TAIL_STEP * height):
            break  # the heads of another table; a head's second line stands close below the first
        tail = step <= _TAIL_STEP * height and (columns != [0] or _goes_on(rows[end - 1], row[0], columns))
        if len(row) == 1 and not bold and (end == at + 1 or not tail):
            break  # a row has more than one cell
        end += 1
    return end


def _goes_on(above: list[Fragment], below: Fragment, columns: list[int | None]) -> bool:
    """Whether a line that stands alone in the first column goes on with the cell above it."""
    return columns == [0] and (below.text[0].islower() or below.text[0] == "(" or above[0].text.endswith((",", "-")))


def _column(fragment: Fragment, heads: list[Fragment], height: float) -> int | None:
    """The head that the fragment stands under, with one edge or the middle in common, or alone under it; None if there is none."""
    for index, head in enumerate(heads):
        between = (head.x0 + head.x1) / 2 - (fragment.x0 + fragment.x1) / 2
        if min(abs(fragment.x0 - head.x0), abs(fragment.x1 - head.x1), abs(between)) <= _SAME_EDGE * height:
            return index
    over = [index for index, head in enumerate(heads) if fragment.x0 < head.x1 and fragment.x1 > head.x0]
    return over[0] if len(over) == 1 else None


def _body(rows: list[list[Fragment]], heads: list[Fragment], height: float) -> list[list[list[Fragment]]]:
    """The rows as cells, the heads first; lines that go on with a row are put to it."""
    body: list[list[list[Fragment]]] = []
    for row in rows:
        cells: list[list[Fragment]] = [[] for _ in heads]
        for fragment in row:
            cells[_column(fragment, heads, height) or 0].append(fragment)
        if body and (_is_second_head(rows, row) or _is_tail(body[-1], cells)):
            for above, below in zip(body[-1], cells, strict=True):
                above.extend(below)
        else:
            body.append(cells)
    return body


def _is_second_head(rows: list[list[Fragment]], row: list[Fragment]) -> bool:
    return len(rows) > 1 and row is rows[1] and all(word.bold for fragment in row for word in fragment.words)


def _is_tail(above: list[list[Fragment]], cells: list[list[Fragment]]) -> bool:
    """Whether a line has no row of its own: nothing in its first cell, nothing that the row has not, and no number by itself."""
    filled = [k for k, cell in enumerate(cells) if cell]
    if filled == [0]:
        return True
    return 0 not in filled and all(above[k] and not cells[k][0].text.isdigit() for k in filled)


def _made(body: list[list[list[Fragment]]]) -> TableBlock:
    inside = [fragment for row in body for cell in row for fragment in cell]
    made = [TableRow([cell_text(cell) for cell in cells], lines_of_row([cell for cell in cells if cell])) for cells in body]
    box = (min(f.x0 for f in inside), min(f.top for f in inside), max(f.x1 for f in inside), max(f.bottom for f in inside))
    return TableBlock(made, *box, min(f.order for f in inside))
