"""Ink that the recogniser passed over: short numbers on their own are easily taken for dirt, and they are the quantities of a parts list.

It is looked for in cells of ruled tables without a word, and on lines of text beside their words, and read anew.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.reading.frame import Rect
from hoopwright.reading.rules import RuledTable
from hoopwright.reading.tesseract import Found, Gray, Recogniser

_DARK = 128
_RIM = 3  # pixels inside of a cell's sides that may be left of its rules
_LEAST_INK = 12  # pixels of a figure 1 in small type
_MOST_SPOTS = 300
_WHITE = 24  # pixels between two spots that are read together
_SURE = 0.5  # confidence from which a spot beside a line is believed to be text
_ALONE = 1.0  # of a word's height: the white between it and a spot
_JOIN, _LEAST_TALL, _MOST_TALL, _MOST_WIDE = 0.6, 0.4, 1.5, 12.0  # of the line's height: white inside of a spot, its height, its width


@dataclass(frozen=True, slots=True)
class _Spot:
    """Ink to be read anew, in pixels, and the number of the line that it stands on."""

    top: int
    bottom: int
    left: int
    right: int
    line: int


def missed_words(picture: Gray, dpi: int, tables: list[RuledTable], words: list[Found], recogniser: Recogniser) -> list[Found]:
    """The words that were passed over. Raises RecogniserError."""
    next_line = max((word.line for word in words), default=-1) + 1
    in_cells = _read(picture, dpi, _in_cells(picture, dpi, tables, words, next_line), recogniser)
    beside = _read(picture, dpi, _beside_lines(picture, [*words, *in_cells]), recogniser)
    return in_cells + [w for w in beside if w.confidence >= _SURE and any(c.isalnum() for c in w.text)]


def _read(picture: Gray, dpi: int, spots: list[_Spot], recogniser: Recogniser) -> list[Found]:
    """The words of the spots, which are put under one another on a sheet of their own."""
    if not spots or len(spots) > _MOST_SPOTS:
        return []
    width = max(spot.right - spot.left for spot in spots) + 2 * _WHITE
    strips: list[Gray] = [np.full((_WHITE, width), 255, dtype=np.uint8)]
    tops: list[int] = []
    height = _WHITE
    for spot in spots:
        strip = np.full((spot.bottom - spot.top + _WHITE, width), 255, dtype=np.uint8)
        strip[: spot.bottom - spot.top, _WHITE : _WHITE + spot.right - spot.left] = picture[spot.top : spot.bottom, spot.left : spot.right]
        strips.append(strip)
        tops.append(height)
        height += len(strip)
    out: list[Found] = []
    for word in recogniser.words(np.concatenate(strips), dpi, one_block=True):
        number = max((i for i, top in enumerate(tops) if top <= (word.top + word.bottom) / 2), default=0)
        spot = spots[number]
        down, across = spot.top - tops[number], spot.left - _WHITE
        out.append(
            replace(
                word, left=word.left + across, right=word.right + across, top=word.top + down, bottom=word.bottom + down, line=spot.line
            )
        )
    return out


def _in_cells(picture: Gray, dpi: int, tables: list[RuledTable], words: list[Found], next_line: int) -> list[_Spot]:
    """The ink of cells that have no word in them."""
    scale = dpi / 72
    spots: list[_Spot] = []
    for table in tables:
        for cell in table.cells:
            x0, top, x1, bottom = (side * scale for side in cell.box)
            if any(x0 <= (w.left + w.right) / 2 <= x1 and top <= (w.top + w.bottom) / 2 <= bottom for w in words):
                continue
            spot = _inked(picture, (x0 + _RIM, top + _RIM, x1 - _RIM, bottom - _RIM), next_line + len(spots))
            if spot is not None:
                spots.append(spot)
    return spots


def _inked(picture: Gray, box: Rect, line: int) -> _Spot | None:
    """The ink in the box with a little white around it, None if there is next to none."""
    x0, top, x1, bottom = (max(int(side), 0) for side in box)
    ink = picture[top:bottom, x0:x1] < _DARK
    if int(ink.sum()) < _LEAST_INK:
        return None
    ys, xs = np.nonzero(ink.any(axis=1))[0], np.nonzero(ink.any(axis=0))[0]
    return _Spot(top + max(int(ys[0]) - 2, 0), top + int(ys[-1]) + 3, x0 + max(int(xs[0]) - 2, 0), x0 + int(xs[-1]) + 3, line)


def _beside_lines(picture: Gray, words: list[Found]) -> list[_Spot]:
    """Ink on the level of a line of text, as high as the line and no higher, that no word covers."""
    ink = picture < _DARK
    for word in words:
        # What stands close to a word is a part of it that its box leaves out
        rim = _ALONE * (word.bottom - word.top)
        ink[max(int(word.top) - 2, 0) : int(word.bottom) + 3, max(int(word.left - rim), 0) : int(word.right + rim) + 1] = False
    lines: dict[int, list[Found]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word)
    spots: list[_Spot] = []
    for number, line in lines.items():
        top, bottom = float(np.median([w.top for w in line])), float(np.median([w.bottom for w in line]))
        if bottom - top >= 6:
            spots.extend(_on_level(ink, int(top), int(bottom), number))
    return spots


def _on_level(ink: NDArray[np.bool_], top: int, bottom: int, line: int) -> list[_Spot]:
    """The spots of ink on a line, each looked at only once: what is found is taken from the ink."""
    height = bottom - top
    above, below = max(top - height, 0), bottom + height
    spots: list[_Spot] = []
    for left, right in _joined(np.nonzero(ink[top:bottom].any(axis=0))[0], _JOIN * height):
        part = ink[above:below, left:right]
        ys = np.nonzero(part.any(axis=1))[0]
        rows = [run for run in _joined(ys, 0.3 * height) if run[0] < bottom - above and run[1] > top - above]
        if len(rows) != 1 or right - left > _MOST_WIDE * height:
            continue
        first, last = above + rows[0][0], above + rows[0][1]
        inside = ink[first:last, left:right]
        if _LEAST_TALL * height <= last - first <= _MOST_TALL * height and int(inside.sum()) >= _LEAST_INK:
            spots.append(_Spot(max(first - 2, 0), last + 2, max(left - 2, 0), right + 2, line))
            inside[:] = False
    return spots


def _joined(places: NDArray[np.int64], gap: float) -> list[tuple[int, int]]:
    """(first, behind the last) of the runs of places with no wider gap than ``gap`` between them."""
    if not len(places):
        return []
    breaks = np.nonzero(np.diff(places) > max(gap, 1.0))[0]
    firsts = [0, *(breaks + 1).tolist()]
    lasts = [*breaks.tolist(), len(places) - 1]
    return [(int(places[a]), int(places[b]) + 1) for a, b in zip(firsts, lasts, strict=True)]
