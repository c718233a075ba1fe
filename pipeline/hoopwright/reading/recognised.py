"""Known slips of the recogniser mended: inch and foot marks, the multiplication sign, and fractions in one sign."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hoopwright.reading.blanks import with_blanks
from hoopwright.reading.spelling import respelled
from hoopwright.reading.tesseract import Found, Gray, Recogniser

# Unicode, blocks "Latin-1 Supplement" and "Number Forms": the fractions that rules and drills are marked in.
_FRACTIONS = {
    (1, 2): "½", (1, 4): "¼", (3, 4): "¾", (1, 3): "⅓", (2, 3): "⅔", (1, 8): "⅛", (3, 8): "⅜", (5, 8): "⅝", (7, 8): "⅞",
}  # fmt: skip
_PERCENT = re.compile(r"^(\d{0,3})[%‰]{1,2}\w?([.,;:)]?)$")
_MARKS = re.compile(r"^(\(?\d+(?:[.,]\d+)?)(['’‘`]|[\"”“]|'')([.,;:)]?)$")
_TIMES = {"«", "~«", "»", "«»", "~", "¥", "*"}  # between two numbers
_BOLT = re.compile(r"^\(?M\d{1,2}$")  # before the sign and the length: M8 × 65
_QUOTES = frozenset('"“”')
_LONGEST_QUOTE = 14  # words
_NUMBER = re.compile(r"^(\d{1,3})([.;,]?)$")
_DOT, _DOT_AWAY = 0.35, 0.4  # of the ink's height: the size of a dot, and how far behind a figure it stands
_STOPPED = re.compile(r"^\d{1,2}\.$")
_FOOT = 0.3  # of the ink's height: how far a comma may reach below the box of its word
_TAIL = 0.1  # of the ink's height, that a comma reaches below the figure before it
_MENDED = 0.6  # confidence, at most, of a word that was read anew
_DOUBTFUL = 0.2  # confidence, at most, of a sign that may be a fraction and could not be read anew
_DIGIT_HEIGHT = 48  # pixels, of the figures that are read anew
_MOST_PARTS = 12  # of a sign's ink; more is dirt


def mended(words: list[Found], picture: Gray, recogniser: Recogniser) -> list[Found]:
    """The words with known slips set right, their confidence lowered. Raises RecogniserError."""
    words = _with_diameters(words)
    quoted = _in_quotes(words)
    out = [
        word if i in quoted else _signs(word, words[i - 1] if i else None, words[i + 1] if i + 1 < len(words) else None, picture)
        for i, word in enumerate(words)
    ]
    out = [_comma(word, out[i + 1] if i + 1 < len(out) else None, picture) for i, word in enumerate(out)]
    out = respelled(with_blanks(out, picture))
    out = _with_stops(out, picture)
    doubtful = [i for i, word in enumerate(out) if _PERCENT.match(word.text)]
    if not doubtful:
        return out
    halves = [_halves(_crop(picture, out[i])) for i in doubtful]
    figures = _read_figures([half for pair in halves if pair is not None for half in pair], recogniser)
    for i, pair in zip(doubtful, halves, strict=True):
        above, below = (figures.pop(0), figures.pop(0)) if pair is not None else (None, None)
        out[i] = _as_fraction(out[i], above, below)
    return out


def _with_diameters(words: list[Found]) -> list[Found]:
    """The words with the sign for a diameter, which the recogniser does not know, in place of "©", and there of "@", by numbers."""
    before = [i for i, (a, b) in enumerate(pairwise(words)) if a.text in ("©", "@") and a.line == b.line and b.text[0].isdigit()]
    if not any(words[i].text == "©" for i in before):
        return words
    signs = frozenset(before)
    return [replace(word, text="Ø", confidence=min(word.confidence, _MENDED)) if i in signs else word for i, word in enumerate(words)]


def _in_quotes(words: list[Found]) -> frozenset[int]:
    """The places of the words with a closing mark that an opening one stands before: "arches 2 and 8", which is no length in inches."""
    found: set[int] = set()
    opened = -_LONGEST_QUOTE - 1
    for place, word in enumerate(words):
        if word.text[0] in _QUOTES and len(word.text) > 1:
            opened = place
        elif word.text.rstrip(".,;:)")[-1:] in _QUOTES:
            if place - opened <= _LONGEST_QUOTE:
                found.add(place)
            opened = -_LONGEST_QUOTE - 1
    return frozenset(found)


def _with_stops(words: list[Found], picture: Gray) -> list[Found]:
    """The words with the stop behind the number of a step as its ink has it, for a missing or a false one breaks the row of steps."""
    ordered = (sorted(line, key=lambda w: w.left) for line in _by_line(words).values())
    # "1, 10" in a cell is no step
    firsts = {id(line[0]) for line in ordered if len(line) < 2 or not line[1].text[0].isdigit()}
    out: list[Found] = []
    for word in words:
        number = _NUMBER.match(word.text) if id(word) in firsts else None
        if number is not None:
            stop = number.group(2) in (";", ",") or _has_dot(word, picture)
            word = replace(word, text=f"{number.group(1)}{'.' if stop else ''}")
        out.append(word)
    return out


def _by_line(words: list[Found]) -> dict[int, list[Found]]:
    lines: dict[int, list[Found]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word)
    return lines


def _comma(word: Found, after: Found | None, picture: Gray) -> Found:
    """A number with its stop read as the comma that it is: in "1, 10" the mark reaches below the line."""
    if after is None or after.line != word.line or not (_STOPPED.match(word.text) and after.text[0].isdigit()):
        return word
    height = word.bottom - word.top
    low = int(word.bottom + _FOOT * height)  # the box may end at the line
    ink = picture[int(word.top) : low, int(word.left) : int(word.right) + 1] < 128
    columns = np.nonzero(ink.any(axis=0))[0]
    starts = np.nonzero(np.diff(columns) > 1)[0]
    if not len(starts):
        return word
    split = columns[starts[-1]] + 1
    feet = [int(np.nonzero(part.any(axis=1))[0][-1]) for part in (ink[:, :split], ink[:, split:])]
    return replace(word, text=f"{word.text[:-1]},") if feet[1] - feet[0] >= _TAIL * height else word


def _has_dot(word: Found, picture: Gray) -> bool:
    """Whether the last ink of the word, or close behind it, is a dot on the base line."""
    top, bottom = int(word.top), int(word.bottom) + 1
    height = bottom - top
    ink = picture[top:bottom, int(word.left) : int(word.right + _DOT_AWAY * height)] < 128
    columns = np.nonzero(ink.any(axis=0))[0]
    if not len(columns):
        return False
    starts = np.nonzero(np.diff(columns) > 1)[0]
    if not len(starts):
        return False
    last = ink[:, columns[starts[-1] + 1] : columns[-1] + 1]
    rows = np.nonzero(last.any(axis=1))[0]
    return bool(rows[0] > (1 - _DOT) * height and last.shape[1] < _DOT * height)


def _signs(word: Found, before: Found | None, after: Found | None, picture: Gray) -> Found:
    """A word with the marks for feet and inches, and a multiplication sign between numbers, in place of what looks like them."""
    match = _MARKS.match(word.text)
    if match:
        mark = "′" if match.group(2) in "'’‘`" else "″"
        return replace(word, text=f"{match.group(1)}{mark}{match.group(3)}")
    if word.text == "=" and after is not None and after.text[0].isdigit() and not _is_parted(_crop(picture, word)):
        return replace(word, text="×", confidence=min(word.confidence, _MENDED))
    if before is None or after is None or not (before.text[-1].isdigit() and after.text[0].isdigit()):
        return word
    if word.text in _TIMES or (word.text in ("x", "X", "+") and _BOLT.match(before.text)):
        return replace(word, text="×", confidence=min(word.confidence, _MENDED))
    return word


def _is_parted(sign: Gray) -> bool:
    """Whether white goes through the sign from side to side, as between the strokes of an equals sign."""
    rows = np.nonzero((sign < 128).any(axis=1))[0]
    return len(rows) > 0 and bool((np.diff(rows) > 1).any())


def _as_fraction(word: Found, above: int | None, below: int | None) -> Found:
    """The word with its percent sign read as a fraction, if it is one; else in great doubt, for manuals give no percentages."""
    match = _PERCENT.match(word.text)
    sign = _FRACTIONS.get((above or 0, below or 0))
    if match is None or sign is None:
        return replace(word, confidence=min(word.confidence, _DOUBTFUL))
    return replace(word, text=f"{match.group(1)}{sign}{match.group(2)}", confidence=min(word.confidence, _MENDED))


def _crop(picture: Gray, word: Found) -> Gray:
    return picture[int(word.top) : int(word.bottom) + 1, int(word.left) : int(word.right) + 1]


def _halves(sign: Gray) -> tuple[Gray, Gray] | None:
    """The figures over and under the stroke of the word's last sign, None if they cannot be told apart."""
    height = sign.shape[0]
    parts = _parts(sign < 140)
    if not 3 <= len(parts) <= _MOST_PARTS:
        return None
    strokes = [p for p in parts if _is_slash(p, height)]
    if not strokes:
        return None
    stroke = max(strokes, key=lambda p: p[1].stop)
    middle = (stroke[0].start + stroke[0].stop) / 2
    over = [p for p in parts if p is not stroke and _center(p[1]) < _center(stroke[1]) and p[0].stop <= middle + 0.2 * height]
    under = [p for p in parts if p is not stroke and _center(p[1]) > _center(stroke[1]) and p[0].start >= middle - 0.2 * height]
    if len(over) != 1 or len(under) != 1:
        return None
    return sign[over[0]], sign[under[0]]


Part = tuple[slice, slice]


def _center(side: slice) -> float:
    return float(side.start + side.stop) / 2


def _is_slash(part: Part, height: int) -> bool:
    rows, columns = int(part[0].stop - part[0].start), int(part[1].stop - part[1].start)
    return rows > 0.8 * height and columns > 0.25 * height


def _parts(ink: NDArray[np.bool_]) -> list[Part]:
    """The boxes of the connected parts of the ink, each of at least six pixels."""
    seen = np.zeros_like(ink)
    height, width = ink.shape
    parts: list[Part] = []
    for y, x in zip(*np.nonzero(ink), strict=True):
        if seen[y, x]:
            continue
        stack, inside = [(int(y), int(x))], []
        seen[y, x] = True
        while stack:
            row, column = stack.pop()
            inside.append((row, column))
            for r in range(max(row - 1, 0), min(row + 2, height)):
                for c in range(max(column - 1, 0), min(column + 2, width)):
                    if ink[r, c] and not seen[r, c]:
                        seen[r, c] = True
                        stack.append((r, c))
        if len(inside) >= 6:
            rows, columns = [r for r, _ in inside], [c for _, c in inside]
            parts.append((slice(min(rows), max(rows) + 1), slice(min(columns), max(columns) + 1)))
    return parts


def _read_figures(figures: list[Gray], recogniser: Recogniser) -> list[int | None]:
    """Each picture of a figure read; None for one that gives no single figure."""
    if not figures:
        return []
    cells = [_cell(figure) for figure in figures]
    gap = np.full((cells[0].shape[0], _DIGIT_HEIGHT), 255, dtype=np.uint8)
    out: list[int | None] = []
    for start in range(0, len(cells), 20):
        some = cells[start : start + 20]
        strip = np.concatenate([part for cell in some for part in (gap, cell)] + [gap], axis=1)
        read = "".join(recogniser.figures(np.pad(strip, 20, constant_values=255)).split())
        out.extend([int(c) for c in read] if len(read) == len(some) else [None] * len(some))
    return out


def _cell(figure: Gray) -> Gray:
    height, width = figure.shape
    size = (max(round(width * _DIGIT_HEIGHT / height), 4), _DIGIT_HEIGHT)
    return np.pad(np.asarray(Image.fromarray(np.ascontiguousarray(figure)).resize(size, Image.Resampling.BICUBIC)), 8, constant_values=255)
