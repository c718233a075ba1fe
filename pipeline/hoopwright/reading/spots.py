"""Ink read anew on a sheet of its own: set side by side in lines, as words of running text are.

White that is wide against the blanks between words breaks the recogniser's lines, and figures alone on a line are read badly.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from statistics import median

import numpy as np

from hoopwright.reading.frame import Rect
from hoopwright.reading.tesseract import Found, Gray, Recogniser

ONE_LINE = 1.7  # of the usual height of ink: higher ink is several lines
_DARK = 128
_LEAST_INK = 12  # pixels of a figure 1 in small type
_BLANK = 0.5  # of the ink's height: the white between two spots. At 0.8 the recogniser loses the blanks between words
_NARROW, _FIGURES = 1.2, 0.9  # of the ink's height: spots so narrow are single figures, which stand farther apart or are read as one number
_AROUND = 10  # pixels of white above and below a line
_LONE = 4.0  # of the ink's height: what is narrower in all is read worse on a line of its own, and set behind another
_SURE_SPLIT = 0.55  # confidence, at most, of figures that were read as one number over several spots


@dataclass(frozen=True, slots=True)
class Spot:
    """Ink to be read anew, in pixels, and the number of the line that it stands on."""

    top: int
    bottom: int
    left: int
    right: int
    line: int


def inked(picture: Gray, box: Rect, line: int) -> Spot | None:
    """The ink in the box with a little white around it, None if there is next to none."""
    x0, top, x1, bottom = (max(int(side), 0) for side in box)
    ink = picture[top:bottom, x0:x1] < _DARK
    if int(ink.sum()) < _LEAST_INK:
        return None
    ys, xs = np.nonzero(ink.any(axis=1))[0], np.nonzero(ink.any(axis=0))[0]
    return Spot(top + max(int(ys[0]) - 2, 0), top + int(ys[-1]) + 3, x0 + max(int(xs[0]) - 2, 0), x0 + int(xs[-1]) + 3, line)


def read_lines(picture: Gray, dpi: int, lines: list[list[Spot]], recogniser: Recogniser) -> list[Found]:
    """The words of the spots, which are set side by side in these lines; each has its spot's line and its own place in the picture.

    Raises RecogniserError.
    """
    if not lines:
        return []
    height = median(spot.bottom - spot.top for line in lines for spot in line)
    sheet, places = _sheet(picture, lines, height)
    return _placed(recogniser.words(sheet, dpi, one_block=True), places, picture)


@dataclass(frozen=True, slots=True)
class _Put:
    """Ink that stands at (left, top) of the sheet."""

    spot: Spot
    left: int
    top: int


@dataclass(slots=True)
class _Band:
    """A line on the sheet: its top, its base line from there, and the next free pixel in it."""

    top: int
    base: int
    free: int
    is_one_line: bool


def _sheet(picture: Gray, lines: list[list[Spot]], height: float) -> tuple[Gray, list[_Put]]:
    """The sheet with the lines below each other, and where each cell stands on it."""
    blank = max(int(_BLANK * height), 4)
    places: list[_Put] = []
    band: _Band | None = None
    bottom = _AROUND
    for line in lines:
        top, end = min(s.top for s in line), max(s.bottom for s in line)
        base = _base(picture, line) - top
        one_line = end - top <= ONE_LINE * height
        lone = one_line and sum(s.right - s.left for s in line) < _LONE * height
        if band is None or not (lone and band.is_one_line):
            band = _Band(bottom, base, blank, one_line)
            bottom += end - top + 2 * _AROUND
        shift = band.top + band.base - base - top  # onto the base line of what stands before it
        for spot in line:
            places.append(_Put(spot, band.free, max(spot.top + shift, 0)))
            narrow = spot.right - spot.left < _NARROW * height
            band.free += spot.right - spot.left + (max(int(_FIGURES * height), 4) if narrow else blank)
    sheet = np.full((bottom + 2 * _AROUND, max(p.left + p.spot.right - p.spot.left for p in places) + blank), 255, dtype=np.uint8)
    for put in places:
        ink = picture[put.spot.top : put.spot.bottom, put.spot.left : put.spot.right]
        under = sheet[put.top : put.top + ink.shape[0], put.left : put.left + ink.shape[1]]
        np.minimum(under, ink[: under.shape[0]], out=under)
    return sheet, places


def _base(picture: Gray, line: list[Spot]) -> int:
    """The row of pixels on which most of the line's letters stand."""
    top, end = min(s.top for s in line), max(s.bottom for s in line)
    ink = np.zeros(end - top, dtype=np.int64)
    for spot in line:
        ink[spot.top - top : spot.bottom - top] += (picture[spot.top : spot.bottom, spot.left : spot.right] < 128).sum(axis=1)
    falls = -np.diff(ink, append=0)
    half = len(ink) // 2
    return top + half + int(falls[half:].argmax()) + 1


def _placed(words: list[Found], places: list[_Put], picture: Gray) -> list[Found]:
    """The words moved to where their spots stand in the picture; one that was read over several spots is parted."""
    out: list[Found] = []
    for word in words:
        for piece, put in _over(word, places, picture):
            across, down = put.spot.left - put.left, put.spot.top - put.top
            left, top, right, bottom = piece.left + across, piece.top + down, piece.right + across, piece.bottom + down
            out.append(replace(piece, left=left, top=top, right=right, bottom=bottom, line=put.spot.line))
    return out


def _over(word: Found, places: list[_Put], picture: Gray) -> list[tuple[Found, _Put]]:
    """The word with its spot; "222" over three spots as a 2 for each."""
    middle = (word.top + word.bottom) / 2
    under = [p for p in places if p.top <= middle <= p.top + p.spot.bottom - p.spot.top]
    under = [p for p in under if word.left <= p.left + (p.spot.right - p.spot.left) / 2 <= word.right]
    if len(under) > 1 and len(word.text) >= len(under):
        return _shared(word, under, picture)
    return [(word, min(places, key=lambda p: _distance(p, (word.left + word.right) / 2, middle)))]


def _shared(word: Found, under: list[_Put], picture: Gray) -> list[tuple[Found, _Put]]:
    """The word's characters shared out to the spots that it was read over, by the pieces of ink in each, or else by where they stand."""
    counts = [_pieces_of_ink(picture, put.spot) for put in under]
    exact = sum(counts) == len(word.text)
    step = (word.right - word.left) / len(word.text)
    out: list[tuple[Found, _Put]] = []
    at = 0
    for left, (put, count) in enumerate(zip(under, counts, strict=True), start=1):
        right = put.left + put.spot.right - put.spot.left
        end = at + count if exact else len(word.text) if left == len(under) else round((right - word.left) / step)
        end = min(max(end, at + 1), len(word.text) - (len(under) - left))
        sure = min(word.confidence, _SURE_SPLIT)
        out.append((replace(word, text=word.text[at:end], left=float(put.left), right=float(right), confidence=sure), put))
        at = end
    return out


def _pieces_of_ink(picture: Gray, spot: Spot) -> int:
    """How many pieces of ink stand side by side in the spot."""
    inside = (picture[spot.top : spot.bottom, spot.left : spot.right] < _DARK).any(axis=0)
    return int((np.diff(inside.astype(np.int8), prepend=0) == 1).sum())


def _distance(put: _Put, x: float, y: float) -> float:
    width, height = put.spot.right - put.spot.left, put.spot.bottom - put.spot.top
    across = max(put.left - x, x - put.left - width, 0.0)
    down = max(put.top - y, y - put.top - height, 0.0)
    return across + 4 * down
