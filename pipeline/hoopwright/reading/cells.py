"""The words of a table's cells."""

from __future__ import annotations

from hoopwright.reading.fragments import Fragment
from hoopwright.reading.lines import rows_of


def cell_text(parts: list[Fragment]) -> str:
    """The text of a cell: its lines joined by blanks."""
    return " ".join(" ".join(f.text for f in row) for row in rows_of(parts))


def lines_of_row(cells: list[list[Fragment]]) -> list[list[Fragment]]:
    """The printed lines of a table row, given its filled cells from left to right.

    Across the cells as long as only one has several lines; else cell by cell, for sentences side by side must not be mixed.
    """
    if sum(len(rows_of(parts)) > 1 for parts in cells) <= 1:
        return rows_of([part for parts in cells for part in parts])
    return [line for parts in cells for line in rows_of(parts)]
