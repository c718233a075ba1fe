"""The size of type in a picture, told from the height of the ink and the letters that it shows."""

from __future__ import annotations

from collections import defaultdict
from statistics import median

from hoopwright.reading.tesseract import Found

_TALL = frozenset("bdfhijkl")
_DEEP = frozenset("gjpqy,;()[]")
# Shares of the type size in common book faces: head of an h or a capital over the line, head of an x, foot of a p below the line.
# Common practice, no source.
ASCENT, _X_HEIGHT, DESCENT = 0.69, 0.45, 0.21
_T_HEIGHT = 0.6  # of a t, which is lower than an h: "nuts."
_SAME = 0.13  # lines that differ less in size are of one size: at 200 dpi a pixel is a twentieth of a letter's height
_LOWER = 0.19  # lines that are smaller by less are of one size with the text: of figures and of a t one does not know how tall they are
_STEP = 1.22  # from one larger size to the next that can be told from it: headings are mostly a fifth larger than what they stand over


def type_sizes(words: list[Found]) -> dict[int, float]:
    """Line number → size of its type in pixels; lines that are nearly as large as most of the text get exactly its size."""
    sizes, body = _measured(words)
    return {line: _snapped(size, body) for line, size in sizes.items()}


def exact_sizes(words: list[Found]) -> dict[int, float]:
    """Line number → size of its type in pixels as measured, but for the lines that have the size of most of the text."""
    sizes, body = _measured(words)
    return {line: body if _snapped(size, body) == body else size for line, size in sizes.items()}


def _measured(words: list[Found]) -> tuple[dict[int, float], float]:
    """Line number → size of its type, and the size of most of the text."""
    lines: dict[int, list[float]] = defaultdict(list)
    letters: dict[int, int] = defaultdict(int)
    only_t: dict[int, list[float]] = defaultdict(list)
    for word in words:
        if any(c.isalnum() for c in word.text):
            (lines if _is_tall(word.text) or "t" not in word.text else only_t)[word.line].extend([_size(word)] * len(word.text))
        letters[word.line] += len(word.text)
    sizes = {line: median(found) for line, found in (only_t | lines).items()}
    body = median([size for line, size in sizes.items() for _ in range(letters[line])]) if sizes else 1.0
    return {line: sizes.get(line, body) for line in letters}, body


def base_lines(words: list[Found], sizes: dict[int, float]) -> dict[int, float]:
    """Line number → where its letters stand, in pixels from the top."""
    lines: dict[int, list[float]] = defaultdict(list)
    for word in words:
        deep = any(c in _DEEP for c in word.text)
        lines[word.line].append(word.bottom - (DESCENT * sizes[word.line] if deep else 0.0))
    return {line: median(found) for line, found in lines.items()}


def _size(word: Found) -> float:
    deep = any(c in _DEEP for c in word.text)
    head = ASCENT if _is_tall(word.text) else _T_HEIGHT if "t" in word.text else _X_HEIGHT
    return (word.bottom - word.top) / (head + (DESCENT if deep else 0.0))


def _is_tall(text: str) -> bool:
    return any(c.isupper() or c.isdigit() or c in _TALL for c in text) or not any(c.isalpha() for c in text)


def _snapped(size: float, body: float) -> float:
    if abs(size - body) <= _SAME * body or body > size >= (1 - _LOWER) * body:
        return body
    steps = 0
    while size > body * _STEP ** (steps + 0.5):
        steps += 1
    while size < body * _STEP ** (steps - 0.5):
        steps -= 1
    return body * _STEP**steps
