"""Figures in the cells of ruled tables, read cell by cell from the shapes of their signs.

The recogniser reads the cells of a row side by side and may shift, join or lose single figures and dashes among them; where the page's
type tells every sign of a cell, and they make a number, a dash or a list of numbers, that is what stands in the cell.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from itertools import groupby
from statistics import median

import numpy as np

from hoopwright.reading.glyphs import Glyphs, Level, Sign
from hoopwright.reading.rules import Cell, RuledTable
from hoopwright.reading.tesseract import Found, Gray

_NUMBERS = re.compile(r"^(?:-|\d{1,4}(?:\.\d)?|\d{1,2}(?:(?:,|to|and|or|-)\d{1,2})+)$")
_RIM = 5  # pixels inside of a cell's sides that may be left of its rules
_DARK = 128
_TALL = 0.5  # of the type size: signs as high stand on the line
_ONE_LINE = 1.1  # of the type size: higher ink is more than one line
_MOST_SIGNS = 10
_BLANK = 0.2  # of the type size: the least white between two words
_DASH_FOOT = 0.2  # of the type size: where a dash stands over the line. Common practice, no source
_READ, _DASH = 0.8, 0.7  # confidence of what was told from its shape


@dataclass(frozen=True, slots=True)
class _Ink:
    """The ink of a cell: its sides in pixels."""

    top: int
    bottom: int
    left: int
    right: int


def with_cell_figures(
    words: list[Found], picture: Gray, dpi: int, tables: list[RuledTable], glyphs: Glyphs, levels: dict[int, Level], first_line: int
) -> list[Found]:
    """The words with those of cells that hold figures put anew. ``first_line`` is the number of the first cell's line, as it was read."""
    for table in tables:
        words = _of_table(words, picture, dpi / 72, table, glyphs, levels, first_line)
        first_line += len(table.cells)
    return words


def _of_table(
    words: list[Found], picture: Gray, scale: float, table: RuledTable, glyphs: Glyphs, levels: dict[int, Level], first_line: int
) -> list[Found]:
    sizes = [levels[word.line].size for word in words if first_line <= word.line < first_line + len(table.cells)]
    if not sizes:
        return words
    size = median(sizes)
    put: dict[int, list[Found]] = {}
    for number, cell in enumerate(table.cells, start=first_line):
        ink = _ink(picture, cell, scale)
        if ink is not None and ink.bottom - ink.top <= _ONE_LINE * size:
            found = _figures(ink, glyphs, size, number)
            if found:
                put[number] = found
    boxes = [(number, [side * scale for side in table.cells[number - first_line].box]) for number in put]
    kept = [word for word in words if word.line not in put and not any(_inside(word, box) for _, box in boxes)]
    return _in_order([*kept, *(word for found in put.values() for word in found)], first_line)


def _in_order(words: list[Found], first_line: int) -> list[Found]:
    """The words of cells in the order of their lines, behind all others."""
    cells = sorted((word for word in words if word.line >= first_line), key=lambda word: word.line)
    return [word for word in words if word.line < first_line] + cells


def _inside(word: Found, box: list[float]) -> bool:
    across, down = (word.left + word.right) / 2, (word.top + word.bottom) / 2
    return box[0] <= across <= box[2] and box[1] <= down <= box[3]


def _ink(picture: Gray, cell: Cell, scale: float) -> _Ink | None:
    x0, top, x1, bottom = (int(side * scale) for side in cell.box)
    x0, top, x1, bottom = max(x0 + _RIM, 0), max(top + _RIM, 0), x1 - _RIM, bottom - _RIM
    part = picture[top:bottom, x0:x1] < _DARK
    rows, columns = np.nonzero(part.any(axis=1))[0], np.nonzero(part.any(axis=0))[0]
    if not len(rows):
        return None
    return _Ink(top + int(rows[0]), top + int(rows[-1]) + 1, x0 + int(columns[0]), x0 + int(columns[-1]) + 1)


def _figures(ink: _Ink, glyphs: Glyphs, size: float, line: int) -> list[Found]:
    """The words in the cell; none if they are not figures that can be told."""
    tall = ink.bottom - ink.top >= _TALL * size
    for base in (ink.bottom, ink.bottom - 0.12 * size) if tall else (ink.bottom + _DASH_FOOT * size,):  # a comma reaches below the line
        signs = glyphs.signs(ink.left, ink.right, Level(base, size))
        text = glyphs.text(signs, figures=True) if len(signs) <= _MOST_SIGNS else None
        if text is not None and _NUMBERS.match(text):
            return _words(signs, text, size, line, ink)
    return []


def _words(signs: list[Sign], text: str, size: float, line: int, ink: _Ink) -> list[Found]:
    """The signs as words: where there is white between them that is no number's."""
    group = 0
    groups: list[int] = []
    for place, sign in enumerate(signs):
        wide = place > 0 and sign.left - signs[place - 1].right > _BLANK * size
        if wide and not (text[place].isdigit() and text[place - 1].isdigit()) and text[place] != ",":
            group += 1
        groups.append(group)
    out: list[Found] = []
    for _, members in groupby(range(len(signs)), key=lambda place: groups[place]):
        places = list(members)
        part, own = text[places[0] : places[-1] + 1], [signs[place] for place in places]
        sure = _DASH if part == "-" else _READ
        box = (float(own[0].left), float(ink.top), float(own[-1].right), float(ink.bottom))
        out.append(Found(part, *box, sure, line))
    return out
