"""Bold type in a picture, told by the thickness of its strokes."""

from __future__ import annotations

from dataclasses import replace
from statistics import mean, median

import numpy as np

from hoopwright.reading.tesseract import Found, Gray

_BOLD = 1.17  # of the usual thickness of strokes in type of the same size, above which type is bold
_LARGER, _THINNER = 1.08, 0.1  # type so much larger than most seems thinner by this share: the blur of the scan thickens small type more
_UNSURE = 0.06  # of the same: nearer to it, a word's neighbours decide
_ALONE = 1.13  # of the same, above which a line is bold that has no words to tell it more surely
_BULLETS = ("•", "-", "–")
_LETTERS = 2  # fewer do not show it, and figures are drawn thinner


def with_weights(words: list[Found], picture: Gray, sizes: dict[int, float]) -> list[Found]:
    """The words with those in bold type marked. ``sizes`` are those of the lines' type in pixels, as measured."""
    thick = {id(word): _thickness(word, picture) / sizes[word.line] for word in words}
    known = [thick[id(word)] for word in words for _ in word.text if _shows(word)]
    if not known:
        return words
    usual = median(known)
    most = median(sizes[word.line] for word in words for _ in word.text)
    bold: set[int] = set()
    lines: dict[int, list[Found]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word)
    for line in lines.values():
        line.sort(key=lambda word: word.left)
        thinner = _THINNER if sizes[line[0].line] > _LARGER * most else 0.0
        told = [_told(word, thick[id(word)] / usual + thinner) for word in line]
        shown = [thick[id(word)] / usual + thinner for word in line if _shows(word)]
        if shown and set(told) == {None} and mean(shown) > _ALONE:
            bold.update(id(word) for word in line)
        for place, word in enumerate(line):
            before = next((t for t in reversed(told[:place]) if t is not None), None)
            after = next((t for t in told[place + 1 :] if t is not None), None)
            if told[place] or (told[place] is None and False not in (before, after) and True in (before, after)):
                bold.add(id(word))
    return [replace(word, bold=True) if id(word) in bold else word for word in words]


def _told(word: Found, value: float) -> bool | None:
    """Whether the word is bold by itself; None if that is not clear. A bullet is not."""
    if word.text in _BULLETS:
        return False
    return value > _BOLD if _shows(word) and abs(value - _BOLD) > _UNSURE else None


def _shows(word: Found) -> bool:
    return sum(c.isalpha() for c in word.text) >= _LETTERS


def _thickness(word: Found, picture: Gray) -> float:
    """The mean width of the word's strokes in pixels: a stroke has two edges, so its area is half its outline times its width."""
    part = picture[max(int(word.top), 0) : int(word.bottom) + 1, max(int(word.left), 0) : int(word.right) + 1]
    ink = np.pad(1.0 - part.astype(np.float32) / 255.0, 1)
    ink[ink < 0.2] = 0.0  # the grain of the paper
    outline = float(np.abs(np.diff(ink, axis=0)).sum() + np.abs(np.diff(ink, axis=1)).sum())
    return 2.0 * float(ink.sum()) / outline if outline else 0.0
