"""Call-outs by their signal words: those of ANSI Z535.6 and their everyday relatives."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from hoopwright.outlining.vocabulary import alternatives, vocabulary


@dataclass(frozen=True, slots=True)
class Signal:
    """A signal word ("warning") at the start of a text, which goes on at ``end``."""

    word: str
    end: int


@cache
def _marked() -> re.Pattern[str]:
    words = vocabulary()
    either = alternatives(sorted(words.strong_signals | words.weak_signals))
    # The word may be marked itself (! WARNING !, [!NOTE], bold); behind it stands a mark or nothing.
    return re.compile(rf"^[\W_]*(?P<word>{either})(?P<end>(?:\s*\d+)?[*_]*\s*(?:[:!–—.\]]|-\s|$)[*_!]*)\s*", re.IGNORECASE)


@cache
def _loud() -> re.Pattern[str]:
    words = vocabulary()
    either = alternatives(sorted(word.upper() for word in words.strong_signals | words.weak_signals))
    return re.compile(rf"^[\W_]*(?P<word>{either})(?:\s+\d+)?[*_]*\s+(?:[*_]{{2,}}\s+)?(?=\S*[a-z]|\S+\s+\S*[a-z])")


def signal_of(text: str, *, shouted: bool = False) -> Signal | None:
    """The signal word that a text begins with, or None.

    "Note: …", "WARNING - …", "CAUTION!" and "NOTE 1  Clips are …" have one; "Notice that …" and "Tips of the tubes" have none.
    In a document that is ``shouted`` capitals are no mark.
    """
    match = _marked().match(text)
    if match is not None and _is_marked(match, text):
        return Signal(_plain(match.group("word")), match.end())
    loud = None if shouted else _loud().match(text)
    return Signal(_plain(loud.group("word")), loud.end()) if loud else None


def _is_marked(match: re.Match[str], text: str) -> bool:
    word, end = match.group("word"), match.group("end").strip("*_ 0123456789")
    if end[:1] and end[0] in ":!–—-]":
        return True
    return word.isupper() or match.end() >= len(text) or (end == "." and word[0].isupper())


def _plain(word: str) -> str:
    plain = re.sub(r"\s+", " ", word.lower())
    return vocabulary().signal_as.get(plain, plain)
