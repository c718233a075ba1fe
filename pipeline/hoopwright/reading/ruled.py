"""Tables with drawn rules filled with the page's words."""

from __future__ import annotations

from bisect import bisect_right

from hoopwright.reading.blocks import TableBlock, TableRow
from hoopwright.reading.cells import cell_text, lines_of_row
from hoopwright.reading.fragments import Fragment, fragments_of
from hoopwright.reading.rules import Cell, RuledTable

_LEAST_FILLED = 0.3  # of a table's cells; what has fewer is a drawing with a label in it


def take_tables(fragments: list[Fragment], tables: list[RuledTable]) -> tuple[list[Fragment], list[TableBlock]]:
    """The fragments outside of the tables, and the tables filled with those inside."""
    blocks: list[TableBlock] = []
    for table in tables:
        inside, outside = _split(fragments, table)
        block = _fill(table, inside)
        if block is not None:
            blocks.append(block)
            fragments = outside
    return fragments, blocks


def _split(fragments: list[Fragment], table: RuledTable) -> tuple[list[Fragment], list[Fragment]]:
    """Fragments inside and outside of the table; one that reaches over its side is cut at the side."""
    x0, top, x1, bottom = table.box
    inside: list[Fragment] = []
    outside: list[Fragment] = []
    for fragment in fragments:
        if not top <= fragment.middle <= bottom or fragment.x1 <= x0 or fragment.x0 >= x1:
            outside.append(fragment)
            continue
        within = [w for w in fragment.words if x0 <= (w.x0 + w.x1) / 2 <= x1]
        if len(within) == len(fragment.words):
            inside.append(fragment)
        elif within:
            inside.extend(fragments_of(within))
            outside.extend(fragments_of([w for w in fragment.words if not x0 <= (w.x0 + w.x1) / 2 <= x1]))
        else:
            outside.append(fragment)
    return inside, outside


def _fill(table: RuledTable, fragments: list[Fragment]) -> TableBlock | None:
    places = _Places(table)
    cells: dict[Cell, list[Fragment]] = {cell: [] for cell in table.cells}
    for fragment in fragments:
        for cell, part in places.parts(fragment):
            cells[cell].append(part)
    filled = [cell for cell, parts in cells.items() if parts]
    if len(filled) < 2 or len(filled) < _LEAST_FILLED * len(cells):
        return None
    rows = [TableRow([""] * table.columns) for _ in range(table.rows)]
    parts_of_row: list[list[list[Fragment]]] = [[] for _ in range(table.rows)]
    for cell, parts in cells.items():
        rows[cell.row].cells[cell.column] = cell_text(parts)
        if parts:
            parts_of_row[cell.row].append(parts)
    for row, parts_list in zip(rows, parts_of_row, strict=True):
        row.lines = lines_of_row(parts_list)
    order = min((f.order for f in fragments), default=0)
    kept = [row for row in rows if row.lines]
    if len(kept) < 2 and table.rows > 1:
        return None
    return TableBlock(kept, *table.box, order)


class _Places:
    """Finds the cell that a word stands in."""

    def __init__(self, table: RuledTable) -> None:
        self._xs = sorted({cell.box[0] for cell in table.cells})
        self._ys = sorted({cell.box[1] for cell in table.cells})
        self._fields: dict[tuple[int, int], Cell] = {}
        # Every row and column of the table starts some cell, so that the places of the starts number them.
        rows, columns = {y: i for i, y in enumerate(self._ys)}, {x: i for i, x in enumerate(self._xs)}
        for cell in table.cells:
            last_row = bisect_right(self._ys, cell.box[3] - 0.01) - 1
            last_column = bisect_right(self._xs, cell.box[2] - 0.01) - 1
            for row in range(rows[cell.box[1]], last_row + 1):
                for column in range(columns[cell.box[0]], last_column + 1):
                    self._fields[row, column] = cell

    def parts(self, fragment: Fragment) -> list[tuple[Cell, Fragment]]:
        """The fragment cut at the cells' sides."""
        runs: list[tuple[Cell, list[int]]] = []
        for index, word in enumerate(fragment.words):
            cell = self._at((word.x0 + word.x1) / 2, fragment.middle)
            if runs and runs[-1][0] is cell:
                runs[-1][1].append(index)
            else:
                runs.append((cell, [index]))
        if len(runs) == 1:
            return [(runs[0][0], fragment)]
        return [(cell, _sub(fragment, indices)) for cell, indices in runs]

    def _at(self, x: float, y: float) -> Cell:
        row = max(bisect_right(self._ys, y) - 1, 0)
        column = max(bisect_right(self._xs, x) - 1, 0)
        return self._fields[row, column]


def _sub(fragment: Fragment, indices: list[int]) -> Fragment:
    words = [fragment.words[index] for index in indices]
    top, bottom = min(w.top for w in words), max(w.bottom for w in words)
    return Fragment(words, words[0].x0, top, words[-1].x1, bottom, words[0].order)
