"""Ink that the recogniser passed over: short numbers on their own are easily taken for dirt, and they are quantities and numbers of steps.

It is looked for on lines of text beside their words, and read anew.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from hoopwright.reading.spots import Spot, read_lines
from hoopwright.reading.tesseract import Found, Gray, Recogniser

_DARK = 128
_LEAST_INK = 12  # pixels of a figure 1 in small type
_MOST_SPOTS = 300
_SURE = 0.5  # confidence from which a spot beside a line is believed to be text
_NEIGHBOURS = 3
_BEFORE = 2.5  # of a word's height: how far before it a bullet stands
_LEAST_BULLET, _MOST_BULLET, _FILLED = 0.15, 0.5, 0.6  # of a word's height, and of its own box that its ink fills
_SURE_BULLET = 0.9
_ALONE, _LABEL = 1.0, 0.4  # of a word's height: the white between it and a spot, and that between a label and the first word of a line
_JOIN, _LEAST_TALL, _MOST_TALL, _MOST_WIDE = 0.6, 0.4, 1.5, 12.0  # of the line's height: white inside of a spot, its height, its width


def missed_words(picture: Gray, dpi: int, words: list[Found], recogniser: Recogniser) -> list[Found]:
    """The words that were passed over. Raises RecogniserError."""
    bullets = _bullets(picture, words)
    spots = _beside_lines(picture, [*words, *bullets])
    if not spots or len(spots) > _MOST_SPOTS:
        return bullets
    lines = [_with_neighbour(spot, words) for spot in spots]
    found = read_lines(picture, dpi, lines, recogniser)
    return bullets + [w for w in found if w.line >= 0 and w.confidence >= _SURE and any(c.isalnum() for c in w.text)]


def with_bullets(words: list[Found], picture: Gray) -> list[Found]:
    """The words with "•" for a round mark that was read as another sign: "«" or "e" at the start of a line, "e" between words."""
    firsts = {id(first) for first in _firsts(words).values()}
    return [replace(w, text="•") if _may_be_mark(w, id(w) in firsts) and _is_round(w, picture) else w for w in words]


def _may_be_mark(word: Found, first: bool) -> bool:
    return len(word.text) == 1 and (first or word.text.isalpha() or word.text in "@0*")


def _is_round(word: Found, picture: Gray) -> bool:
    top, left = int(word.top), int(word.left)
    ink = picture[top : int(word.bottom) + 1, left : int(word.right) + 1] < _DARK
    rows, columns = np.nonzero(ink.any(axis=1))[0], np.nonzero(ink.any(axis=0))[0]
    if not len(rows):
        return False
    high, wide = int(rows[-1] - rows[0]) + 1, int(columns[-1] - columns[0]) + 1
    return _is_dot(ink[rows[0] : rows[-1] + 1, columns[0] : columns[-1] + 1]) and high >= 4 and wide >= 4


def _is_dot(ink: NDArray[np.bool_]) -> bool:
    high, wide = ink.shape
    corners = [ink[0, 0], ink[0, -1], ink[-1, 0], ink[-1, -1]]
    return 0.7 <= wide / high <= 1.4 and float(ink.mean()) >= _FILLED and sum(map(bool, corners)) <= 1


def _firsts(words: list[Found]) -> dict[int, Found]:
    firsts: dict[int, Found] = {}
    for word in words:
        if word.line not in firsts or word.left < firsts[word.line].left:
            firsts[word.line] = word
    return firsts


def _bullets(picture: Gray, words: list[Found]) -> list[Found]:
    """Round marks before the first words of lines, which the recogniser has no sign for."""
    out: list[Found] = []
    for line, first in _firsts(words).items():
        top, bottom, height = int(first.top), int(first.bottom) + 1, int(first.bottom - first.top)
        start = max(int(first.left - _BEFORE * height), 0)
        ink = picture[top:bottom, start : max(int(first.left) - 2, start)] < _DARK
        runs = _joined(np.nonzero(ink.any(axis=0))[0], 1.0)
        if len(runs) != 1 or height < 6:
            continue
        left, right = runs[0]
        rows = np.nonzero(ink[:, left:right].any(axis=1))[0]
        high = int(rows[-1] - rows[0]) + 1
        if (
            _is_dot(ink[rows[0] : rows[-1] + 1, left:right])
            and _LEAST_BULLET * height <= high <= _MOST_BULLET * height
            and rows[0] > 0
            and rows[-1] < height - 1
        ):
            box = (float(start + left), float(top + rows[0]), float(start + right), float(top + rows[-1] + 1))
            out.append(Found("•", *box, _SURE_BULLET, line))
    return out


def _with_neighbour(spot: Spot, words: list[Found]) -> list[Spot]:
    """The spot and the nearest words of its line, by which the recogniser sees where the line stands; these get the line -1."""
    after = sorted((w for w in words if w.line == spot.line and w.left >= spot.right), key=lambda w: w.left)[:_NEIGHBOURS]
    before = sorted((w for w in words if w.line == spot.line and w.right <= spot.left), key=lambda w: w.left)[-_NEIGHBOURS:]
    beside = after or before
    if not beside:
        return [spot]
    box = (min(w.top for w in beside), max(w.bottom for w in beside), min(w.left for w in beside), max(w.right for w in beside))
    top, bottom, left, right = (int(side) for side in box)
    other = Spot(top, bottom + 1, left, right + 1, -1)
    return [spot, other] if after else [other, spot]


def _beside_lines(picture: Gray, words: list[Found]) -> list[Spot]:
    """Ink on the level of a line of text, as high as the line and no higher, that no word covers."""
    ink = picture < _DARK
    firsts: dict[int, float] = {}
    for word in words:
        firsts[word.line] = min(firsts.get(word.line, word.left), word.left)
    for word in words:
        # What stands close to a word is a part of it that its box leaves out
        height = word.bottom - word.top
        left = word.left - (_LABEL if word.left == firsts[word.line] else _ALONE) * height
        ink[max(int(word.top) - 2, 0) : int(word.bottom) + 3, max(int(left), 0) : int(word.right + _ALONE * height) + 1] = False
    lines: dict[int, list[Found]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word)
    spots: list[Spot] = []
    for number, line in lines.items():
        top, bottom = float(np.median([w.top for w in line])), float(np.median([w.bottom for w in line]))
        if bottom - top >= 6:
            spots.extend(_on_level(ink, int(top), int(bottom), number))
    return spots


def _on_level(ink: NDArray[np.bool_], top: int, bottom: int, line: int) -> list[Spot]:
    """The spots of ink on a line, each looked at only once: what is found is taken from the ink."""
    height = bottom - top
    above, below = max(top - height, 0), bottom + height
    spots: list[Spot] = []
    for left, right in _joined(np.nonzero(ink[top:bottom].any(axis=0))[0], _JOIN * height):
        part = ink[above:below, left:right]
        ys = np.nonzero(part.any(axis=1))[0]
        rows = [run for run in _joined(ys, 0.3 * height) if run[0] < bottom - above and run[1] > top - above]
        if len(rows) != 1 or right - left > _MOST_WIDE * height:
            continue
        first, last = above + rows[0][0], above + rows[0][1]
        inside = ink[first:last, left:right]
        if _LEAST_TALL * height <= last - first <= _MOST_TALL * height and int(inside.sum()) >= _LEAST_INK:
            spots.append(Spot(max(first - 2, 0), last + 2, max(left - 2, 0), right + 2, line))
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
