"""Measures of a reading: words in order against another reading of the same page."""

from __future__ import annotations

import re
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path

import pytest

POPPLER = shutil.which("pdftotext")
needs_poppler = pytest.mark.skipif(POPPLER is None, reason="poppler's pdftotext (Debian: poppler-utils) is not installed")
_LIGATURES = str.maketrans({"ﬀ": "ff", "ﬁ": "fi", "ﬂ": "fl", "ﬃ": "ffi", "ﬄ": "ffl", "\u00ad": ""})


def words_of(text: str) -> list[str]:
    """The words, with words broken at a line's end put together, for pdftotext does so."""
    return re.sub(r"[-\u00ad]\n\f?", "", text + "\n").translate(_LIGATURES).split()


def pdftotext(path: Path, *options: str) -> list[str]:
    """The words that poppler reads, in its order; ``-raw`` gives the drawing order."""
    assert POPPLER is not None
    run = subprocess.run([POPPLER, *options, "-enc", "UTF-8", str(path), "-"], capture_output=True, check=True)
    return words_of(run.stdout.decode("utf-8"))


def in_order(a: Sequence[str], b: Sequence[str]) -> int:
    """The length of the longest common subsequence, by the bit-vector method of L. Allison and T. I. Dix (1986)."""
    places: dict[str, int] = {}
    for index, word in enumerate(a):
        places[word] = places.get(word, 0) | 1 << index
    full = (1 << len(a)) - 1
    row = full
    for word in b:
        hits = row & places.get(word, 0)
        row = ((row + hits) | (row - hits)) & full
    return len(a) - row.bit_count()


def f1(a: Sequence[str], b: Sequence[str]) -> float:
    """Words in the same order in both, as the F1 measure."""
    return 2 * in_order(a, b) / max(len(a) + len(b), 1)
