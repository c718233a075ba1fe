"""Passages to sentences, by character position."""

from __future__ import annotations

import re
from functools import lru_cache
from string import ascii_letters

_ABBREVIATIONS = {
    *("e.g", "i.e", "approx", "no", "nos", "nr", "fig", "figs", "dia", "ea", "int", "typ", "ref", "min"),
    *("max", "ft", "in", "ins", "incl", "qty", "pc", "pcs", "st", "mr", "cf", "vs", "etc", "sec", "para"),
    *("pt", "l.h", "r.h", "o.c", "ctrs", "horiz", "vert", "galv", "thk", "sq", "alt", "w", "mm", "cm", "m"),
    "ga",
}
_END = re.compile(r"[.!?]+[\"'”’)\]]*(?=\s+[\"'“‘(\[]?[A-Z0-9•¼½¾])|[;](?=\s)|\s[•▪‣◦]\s")
_IMPERATIVE = re.compile(r"[A-Z][a-z]{2,} [A-Za-z(\d]")
_ITEM = re.compile(r"\b(?:items?|parts?|pos|ref)\.? (?:[A-Z]{1,2}(?:, | and | or ))*[A-Z]$", re.IGNORECASE)
_ITEM_REACH = 40  # characters in front of the stop
_WORD_CHARACTERS = frozenset(f"{ascii_letters}./")
_CODE = re.compile(r"[A-Z]{2,4}\b")
_ALWAYS_GO_ON = {
    "pos",
    "fig",
    "figs",
    "no",
    "nos",
    "e.g",
    "i.e",
    "approx",
    "dia",
    "ref",
    "cf",
    "vs",
    "para",
    "sec",
    "w",
    "incl",
    "min",
    "max",
}


def sentences(text: str) -> list[tuple[int, int]]:
    """(start, end) of each sentence of ``text``; an abbreviation's full stop before a small letter or a number does not end one."""
    return list(_spans(text))


@lru_cache(maxsize=1 << 12)  # a step is read in several passes
def _spans(text: str) -> tuple[tuple[int, int], ...]:
    spans = []
    start = 0
    for match in _END.finditer(text):
        if match.group()[0] == "." and _abbreviated(text, match):
            continue
        spans.append((start, match.end()))
        start = match.end()
    spans.append((start, len(text)))
    out = []
    for begin, end in spans:
        while begin < end and text[begin].isspace():
            begin += 1
        while end > begin and text[end - 1].isspace():
            end -= 1
        if begin < end:
            out.append((begin, end))
    return tuple(out)


def _word_before(text: str, end: int) -> str:
    """The letters, stops and strokes that end in front of ``end``, from their first letter on. Only they are looked at, not all the text."""
    if text[end - 1 : end] == "\n":
        end -= 1
    start = end
    while start and text[start - 1] in _WORD_CHARACTERS:
        start -= 1
    while start < end and text[start] in "./":
        start += 1
    return text[start:end]


def _abbreviated(text: str, match: re.Match[str]) -> bool:
    word = _word_before(text, match.start())
    if not word or text[match.start() - len(word) - 1 : match.start() - len(word)] in ("'", "’"):
        return False  # "the ridge pipe's. Then …"
    low = word.lower()
    at = match.end()
    while at < len(text) and text[at].isspace():
        at += 1
    follow = text[at : at + 1]
    if (
        len(low) == 1
        and word.isupper()
        and (_IMPERATIVE.match(text, at) or _ITEM.search(text, max(0, match.start() - _ITEM_REACH), match.start()))
    ):
        return False  # "… and one T. Start them by hand now", "… belongs one item P. To each …"
    if low in _ALWAYS_GO_ON or (len(low) == 1 and low not in "a"):
        return not (len(low) == 1 and low == "m" and follow.isupper())
    if low in _ABBREVIATIONS and not word.isupper() and _CODE.match(text, at):
        return True  # "1 CB ea. TC"
    if low in _ABBREVIATIONS:
        # "ea. Fit": a capital after it starts a sentence, unless the capital is a code or a number follows
        return follow.isdigit()
    return False
