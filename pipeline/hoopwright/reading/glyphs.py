"""The page's own type as the pattern by which its figures are read a second time.

A recogniser guesses by what usually stands beside what: it reads a 6 behind an M as "é", a 1 as "l" or "I", a 5 as "S", and short numbers
alone on a line hardly at all. But the same figures stand elsewhere on the page in words that were read well, in the same type. So each
figure is held to those (nearest neighbours of small pictures), which knows nothing of words.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from hoopwright.reading.tesseract import Found, Gray

_DARK = 150  # grey level of ink: a little more than its core, so that thin strokes hold together
_SURE = 0.8  # confidence of words that patterns are taken from
_WIDE, _HIGH = 12, 16  # pixels of a pattern
_SPECK = 4  # pixels of ink: less is dirt
_ABOVE, _BELOW = 0.95, 0.35  # of the type size: what is looked at above and below the line
_MOST_PATTERNS = 30  # of one sign
_MOST_LETTERS = 12  # of one letter: they are only there to be told from figures
_SIZE, _FOOT = 8.0, 8.0  # how much the size of a sign and its place over the line count against its shape, in pixels of the pattern
_ALIKE = 7.0  # distance up to which a sign is the same as a pattern: two prints of one sign differ by about 2 at 200 dpi
_APART = 1.35  # how much farther the nearest pattern of any other sign must be
_LIKENED = 2.0  # how much farther than the nearest letter a figure may be, where one is looked for
_DASH_HIGH, _DASH_WIDE, _DASH_LOW, _DASH_TOP = 0.14, 0.16, 0.08, 0.45  # of the type size
_LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
_SIGNS = frozenset(_LETTERS + "0123456789()[].,;:#&/")


@dataclass(frozen=True, slots=True)
class Sign:
    """Ink that stands apart from its neighbours: its place in the picture in pixels, and its shape as a row of numbers."""

    left: int
    right: int
    top: int
    bottom: int
    shape: NDArray[np.float32]
    is_dash: bool = False


@dataclass(frozen=True, slots=True)
class Level:
    """Where a line of type stands: its base line in pixels from the top, and the size of its type."""

    base: float
    size: float


class Glyphs:
    """The signs of one page that were read well."""

    def __init__(self, picture: Gray, words: Iterable[Found], levels: dict[int, Level]) -> None:
        self._picture = picture
        shapes: list[NDArray[np.float32]] = []
        signs: list[str] = []
        owners: list[tuple[float, float]] = []
        texts: list[str] = []
        counts = dict.fromkeys(_SIGNS, _MOST_PATTERNS) | dict.fromkeys(_LETTERS, _MOST_LETTERS)
        for word in words:
            if word.confidence < _SURE or not set(word.text) <= _SIGNS or not any(counts[c] for c in word.text):
                continue
            found = self.signs(word.left, word.right, levels[word.line])
            if len(found) != len(word.text):
                continue
            for sign, text in zip(found, word.text, strict=True):
                if counts[text]:
                    counts[text] -= 1
                    shapes.append(sign.shape)
                    signs.append(text)
                    owners.append((word.left, word.top))
                    texts.append(word.text if len(word.text) > 1 else "")
        self._shapes = np.stack(shapes) if shapes else np.zeros((0, _WIDE * _HIGH + 3), dtype=np.float32)
        self._squares = np.square(self._shapes).sum(axis=1)
        self._signs = np.array(signs)
        self._texts = np.array(texts)
        self._figures = np.array([not text.isalpha() for text in signs], dtype=np.bool_)
        self._owners = np.array(owners, dtype=np.float64).reshape(-1, 2)

    def signs(self, left: float, right: float, level: Level) -> list[Sign]:
        """The signs on a line between two places, left to right."""
        top = max(int(level.base - _ABOVE * level.size), 0)
        bottom = int(level.base + _BELOW * level.size)
        x0 = max(int(left), 0)
        part = self._picture[top:bottom, x0 : int(right) + 1]
        ink = part < _DARK
        columns = np.nonzero(ink.any(axis=0))[0]
        if not len(columns):
            return []
        breaks = np.nonzero(np.diff(columns) > 1)[0]
        firsts, lasts = columns[[0, *(breaks + 1)]], columns[[*breaks, len(columns) - 1]]
        cut = (_sign(part, ink, (a, b + 1), (x0, top), level) for a, b in zip(firsts.tolist(), lasts.tolist(), strict=True))
        return [sign for sign in cut if sign is not None]

    def text(self, signs: list[Sign], word: Found | None = None, *, figures: bool = False) -> str | None:
        """What the signs say together, blanks left out; None if one of them cannot be told.

        That is so where the page has nothing like it, or two signs that are. The patterns of ``word`` itself do not count. With
        ``figures`` a sign may not be told from a letter of the same shape: it is taken for a figure or a mark if it looks like one.
        """
        if not signs or not len(self._shapes):
            return None
        shapes = np.stack([sign.shape for sign in signs])
        distances = np.square(shapes).sum(axis=1)[:, None] + self._squares[None, :] - 2.0 * (shapes @ self._shapes.T)
        if word is not None:
            own = (self._owners[:, 0] == word.left) & (self._owners[:, 1] == word.top)
            distances[:, own | (self._texts == word.text)] = np.inf  # a word that is misread everywhere must not bear itself out
        if figures and self._figures.any():
            marked = distances.copy()
            marked[:, ~self._figures] = np.inf
            distances = np.where((marked.min(axis=1) <= _LIKENED * distances.min(axis=1))[:, None], marked, distances)
        told = ["-" if sign.is_dash else self._told(row) for sign, row in zip(signs, distances, strict=True)]
        return None if None in told else "".join(t for t in told if t is not None)

    def _told(self, distances: NDArray[np.float32]) -> str | None:
        nearest = int(distances.argmin())
        if not distances[nearest] <= _ALIKE:
            return None
        found = str(self._signs[nearest])
        others = distances[self._signs != found]
        return None if len(others) and float(others.min()) < _APART * float(distances[nearest]) else found


def _sign(part: Gray, ink: NDArray[np.bool_], columns: tuple[int, int], corner: tuple[int, int], level: Level) -> Sign | None:
    a, b = columns
    inside = ink[:, a:b]
    rows = np.nonzero(inside.any(axis=1))[0]
    first, last = int(rows[0]), int(rows[-1]) + 1
    if int(inside.sum()) < _SPECK:
        return None
    small = Image.fromarray(np.ascontiguousarray(part[first:last, a:b])).resize((_WIDE, _HIGH), Image.Resampling.BILINEAR)
    grey = 1.0 - np.asarray(small, dtype=np.float32).ravel() / 255.0
    high, wide = (last - first) / level.size, (b - a) / level.size
    foot = (level.base - (corner[1] + last)) / level.size
    sizes = np.array([_SIZE * high, _SIZE * wide, _FOOT * foot], dtype=np.float32)
    is_dash = high <= _DASH_HIGH and wide >= _DASH_WIDE and _DASH_LOW <= foot <= _DASH_TOP
    return Sign(corner[0] + a, corner[0] + b, corner[1] + first, corner[1] + last, np.concatenate([grey, sizes]), is_dash)
