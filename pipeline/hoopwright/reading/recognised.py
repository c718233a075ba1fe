"""Known slips of the recogniser mended: inch and foot marks, the multiplication sign, and fractions in one sign."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from PIL import Image

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
_NARROW, _WIDE = set("iljtfrI1.,;:)"), set("mwMW")
_RUN_TOGETHER = re.compile(
    r"^([A-Za-z]{2,}|\d{1,2},|\d[\d.,]*)((?:(?<=[a-z])\d{1,3}|(?<=,)\d{1,2}|(?<=\d)(?:to|and|or)\d{1,3}|(?<=\d)(?:mm|cm|m|in|ft|kg))[.,;:)]?)$"
)
_STOPPED = re.compile(r"^\d{1,2}\.$")
_FOOT = 0.3  # of the ink's height: how far a comma may reach below the box of its word
_TAIL = 0.1  # of the ink's height, that a comma reaches below the figure before it
_LISTED = 0.4  # of the ink's height: the least white behind a comma between two numbers; less stands in 1,30
_WIDER = 1.8  # of the usual gap between a word's characters, that a blank in it is at least
_LONG = 6  # letters of a word that may be two
_CONTRAST = 2.5  # of the next widest gap, that the gap in such a word is at least
_BLANK = 0.22  # of the ink's height: the least white between two words
_MENDED = 0.6  # confidence, at most, of a word that was read anew
_DOUBTFUL = 0.2  # confidence, at most, of a sign that may be a fraction and could not be read anew
_DIGIT_HEIGHT = 48  # pixels, of the figures that are read anew
_MOST_PARTS = 12  # of a sign's ink; more is dirt


def mended(words: list[Found], picture: Gray, recogniser: Recogniser) -> list[Found]:
    """The words with known slips set right, their confidence lowered. Raises RecogniserError."""
    quoted = _in_quotes(words)
    out = [
        word if i in quoted else _signs(word, words[i - 1] if i else None, words[i + 1] if i + 1 < len(words) else None)
        for i, word in enumerate(words)
    ]
    out = [_comma(word, out[i + 1] if i + 1 < len(out) else None, picture) for i, word in enumerate(out)]
    out = [part for word in out for whole in _at_blanks(word, picture) for part in _parted(whole, picture)]
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


def _signs(word: Found, before: Found | None, after: Found | None) -> Found:
    """A word with the marks for feet and inches, and a multiplication sign between numbers, in place of what looks like them."""
    match = _MARKS.match(word.text)
    if match:
        mark = "′" if match.group(2) in "'’‘`" else "″"
        return replace(word, text=f"{match.group(1)}{mark}{match.group(3)}")
    if before is None or after is None or not (before.text[-1].isdigit() and after.text[0].isdigit()):
        return word
    if word.text in _TIMES or (word.text in ("=", "x", "X", "+") and _BOLT.match(before.text)):
        return replace(word, text="×", confidence=min(word.confidence, _MENDED))
    return word


def _at_blanks(word: Found, picture: Gray) -> list[Found]:
    """The word parted at the blanks that its ink shows, where each of its characters stands apart: "2CB+2FNea", "Runa"."""
    columns = np.nonzero((_crop(picture, word) < 128).any(axis=0))[0]
    gaps = np.diff(columns)
    ends = np.nonzero(gaps > 1)[0]
    if not 3 <= len(word.text) == len(ends) + 1:
        return [word]
    widths = gaps[ends]
    least = max(_BLANK * (word.bottom - word.top), _WIDER * float(np.median(widths)))
    cuts = [at for at, width in enumerate(widths.tolist(), start=1) if width > least and _may_part(word.text, at)]
    cuts = [at for at in cuts if word.text[at - 1] != "," or widths[at - 1] > _LISTED * (word.bottom - word.top)]
    parts = [word.text[a:b] for a, b in pairwise([0, *cuts, len(word.text)])]
    if word.text.isalpha() and any(len(part) < 3 and part.lower() != "a" for part in parts):
        return [word]  # letters stand unevenly: an r far from its e
    if not cuts:
        return [word]
    out: list[Found] = []
    for first, last in pairwise([0, *cuts, len(word.text)]):
        left, right = columns[ends[first - 1] + 1] if first else columns[0], columns[ends[last - 1]] if last <= len(ends) else columns[-1]
        box = word.left + float(left), word.left + float(right) + 1
        sure = min(word.confidence, _MENDED)
        out.append(replace(word, text=word.text[first:last], left=box[0], right=box[1], confidence=sure))
    return out


def _may_part(text: str, at: int) -> bool:
    """Whether a blank may stand at that place: not within a number, nor before a mark. A figure 1 has much white around it."""
    left, right = text[at - 1], text[at]
    if not (left.isalnum() or left in ",+") or not (right.isalnum() or right in "+("):
        return False
    if left == ",":
        return not re.match(r"\d{3}(?!\d)", text[at:])
    return not (left.isdigit() and right.isdigit())


def _parted(word: Found, picture: Gray) -> list[Found]:
    """Two words that were run together, "Hoop1" or "Toptube", parted where the ink has one gap as wide as a blank."""
    expected = _seam(word.text)
    if expected is None and not (len(word.text) >= _LONG and word.text.isalpha()):
        return [word]
    columns = np.nonzero((_crop(picture, word) < 128).any(axis=0))[0]
    steps = np.diff(columns)
    if len(steps) < 2:
        return [word]
    widest = int(steps.argmax())
    second = int(np.partition(steps, -2)[-2])
    height, contrast = word.bottom - word.top, 1.25 if expected else _CONTRAST
    if steps[widest] < (_LISTED if "," in word.text else _BLANK) * height or steps[widest] < contrast * second:
        return [word]
    left, right = int(columns[widest]), int(columns[widest + 1])
    listed = expected is not None and word.text[expected - 1] == ","  # "2,9": the only wide gap is the one behind the comma
    at = expected if listed else _character_at((left + right) / 2 / (word.right - word.left), word.text)
    if at is None or (expected or at) != at or (expected is None and not 3 <= at <= len(word.text) - 3):
        return [word]
    confidence = min(word.confidence, _MENDED)
    behind = replace(word, text=word.text[at:], left=word.left + right, confidence=confidence)
    return [replace(word, text=word.text[:at], right=word.left + left + 1, confidence=confidence), *_parted(behind, picture)]


def _seam(text: str) -> int | None:
    """Where a word and a number, or a number and a unit, stand together."""
    match = _RUN_TOGETHER.match(text)
    return len(match.group(1)) if match else None


def _character_at(place: float, text: str) -> int | None:
    """The number of characters before ``place``, a share of the word's width, told from usual widths; None if that is not clear."""
    widths = [0.5 if c in _NARROW else 1.5 if c in _WIDE else 1.0 for c in text]
    total = sum(widths)
    starts = [sum(widths[:index]) / total for index in range(1, len(text))]
    errors = sorted((abs(start - place), index) for index, start in enumerate(starts, start=1))
    if errors[0][0] * total > 0.45 or text[: errors[0][1]][-1] in ".,;:":
        return None
    return errors[0][1]


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
