"""Words of a scan that were misread in one sign of a like shape: "SLEP" where the page has STEP, "Oty" for Qty.

A word gives way only to one that the page has more often, or that manuals of every kind have in heads and lists; never a number.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace

from hoopwright.reading.tesseract import Found

_WORD = re.compile(r"^(\W*)([A-Za-z]{2,})(\W*)$")
_EVERYWHERE = ("qty", "pcs", "pc", "step")  # in heads and lists of manuals, and hardly ever misread into another word
_ALIKE = frozenset(frozenset(pair) for pair in ("OQ", "oq", "ce", "TL", "tl", "TI", "EF", "PF", "Bb", "ft", "lI", "il", "hb"))
_LEAST_OF_PAGE = 4  # letters
_MORE = 2  # how often the page has the right word, at least


def respelled(words: list[Found]) -> list[Found]:
    """The words with such slips mended."""
    found = [_WORD.match(word.text) for word in words]
    counts = Counter(match.group(2) for match in found if match is not None)
    put: dict[str, str] = {}
    for text in counts:
        right = _right(text, counts)
        if right is not None:
            put[text] = right
    out: list[Found] = []
    for word, match in zip(words, found, strict=True):
        if match is not None and match.group(2) in put:
            word = replace(word, text=f"{match.group(1)}{put[match.group(2)]}{match.group(3)}")
        out.append(word)
    return out


def _right(text: str, counts: Counter[str]) -> str | None:
    """The one word that the text is a slip of; None if there is none, or more."""
    cased = [_as(text, word) for word in _EVERYWHERE if len(word) == len(text)]
    if text in cased:
        return None
    near = {word for word in cased if _one_off(text, word)}
    if len(text) >= _LEAST_OF_PAGE and text.isupper():
        near |= {word for word, count in counts.items() if count >= max(_MORE, 2 * counts[text]) and _one_off(text, word)}
    return near.pop() if len(near) == 1 else None


def _as(text: str, word: str) -> str:
    """The word in the case of the text."""
    return word.upper() if text.isupper() else word.capitalize() if text[0].isupper() else word


def _one_off(text: str, word: str) -> bool:
    """Whether the two differ in one sign, which looks like the other's."""
    apart = [frozenset((a, b)) for a, b in zip(text, word, strict=True) if a != b] if len(text) == len(word) else []
    return len(apart) == 1 and apart[0] in _ALIKE
