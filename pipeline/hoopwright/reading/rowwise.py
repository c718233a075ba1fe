"""Cells of ruled tables read by the text recogniser as lines of running text.

On the page the recogniser takes a column of short numbers for one tall word, or passes over it: white that is wide against the blanks
between words breaks its lines. So the cells of a row are set side by side on a sheet of their own, no farther apart than words are.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from statistics import median

from hoopwright.reading.rules import RuledTable
from hoopwright.reading.spots import ONE_LINE, Spot, inked, read_lines
from hoopwright.reading.tesseract import Found, Gray, Recogniser

_RIM = 5  # pixels inside of a cell's sides that may be left of its rules
_OVERLAP = 0.5  # of the lower ink: cells of one line
_OF_RULES = "_|"  # what is left of a rule is read so
_MOST_CELLS = 3000


def with_cells_white(picture: Gray, dpi: int, tables: list[RuledTable]) -> Gray:
    """The picture without what stands in the tables."""
    if not tables:
        return picture
    out = picture.copy()
    for table in tables:
        x0, top, x1, bottom = (max(int(side * dpi / 72), 0) for side in table.box)
        out[top:bottom, x0:x1] = 255
    return out


def words_of_cells(picture: Gray, dpi: int, tables: list[RuledTable], first_line: int, recogniser: Recogniser) -> list[Found]:
    """The words in the tables' cells, each cell a line from the number ``first_line`` on. Raises RecogniserError."""
    out: list[Found] = []
    for table in tables:
        rows = _rows(picture, dpi, table, first_line)
        first_line += len(table.cells)
        if not rows or len(table.cells) > _MOST_CELLS:
            continue
        height = median(spot.bottom - spot.top for row in rows for spot in row)
        out.extend(read_lines(picture, dpi, [line for row in rows for line in _lines(row, height)], recogniser))
    bare = (replace(word, text=word.text.strip(_OF_RULES)) for word in out)
    return [word for word in bare if word.text]


def _rows(picture: Gray, dpi: int, table: RuledTable, first_line: int) -> list[list[Spot]]:
    """The ink of the table's cells row by row."""
    scale = dpi / 72
    rows: dict[int, list[Spot]] = {}
    for number, cell in enumerate(table.cells):
        x0, top, x1, bottom = (side * scale for side in cell.box)
        spot = inked(picture, (x0 + _RIM, top + _RIM, x1 - _RIM, bottom - _RIM), first_line + number)
        if spot is not None:
            rows.setdefault(cell.row, []).append(spot)
    return list(rows.values())


def _lines(row: list[Spot], height: float) -> Iterator[list[Spot]]:
    """The cells of a row that stand on one level, left to right; each cell of several lines by itself."""
    level: list[list[Spot]] = []
    for spot in sorted(row, key=lambda s: s.left):
        if spot.bottom - spot.top > ONE_LINE * height:
            yield [spot]
            continue
        line = next((line for line in level if all(_on_level(spot, other) for other in line)), None)
        if line is None:
            level.append([spot])
        else:
            line.append(spot)
    yield from level


def _on_level(a: Spot, b: Spot) -> bool:
    lower = min(a.bottom - a.top, b.bottom - b.top)
    return min(a.bottom, b.bottom) - max(a.top, b.top) > _OVERLAP * lower
