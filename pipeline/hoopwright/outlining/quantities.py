"""Numbers of pieces: "28", "28 off", "10 No.", "twenty-four", "a pair of", "half a dozen"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from hoopwright.outlining.vocabulary import alternatives, vocabulary


@dataclass(frozen=True, slots=True)
class Quantity:
    """A number of pieces found in a text from ``start`` to ``end``; ``number`` is None for "1 bag", "as required"."""

    number: int | None
    start: int
    end: int


@cache
def number_pattern() -> str:
    """A regular expression for a number in figures or in words, without groups."""
    words = vocabulary()
    units, tens = alternatives(list(words.number_units)), alternatives(list(words.number_tens))
    groups = alternatives(list(words.number_groups))
    small = rf"(?:(?:{tens})(?:[\s-]+(?:{units}))?|{units})"
    grouped = rf"(?:half\s+a\s+dozen|(?:{small}\s+|a\s+|\d+\s+)?(?:{groups})(?:\s+and\s+{small}|\s+{small})?)(?:\s+of)?"
    return rf"(?:\d{{1,3}}(?:[,  ]\d{{3}})+|\d+(?:\s+(?:dozen|pairs?)(?:\s+of)?)?|{grouped}|{small})"


def number(text: str) -> int | None:
    """The value of a number in figures or words; None if it is none."""
    words = vocabulary()
    plain = re.sub(r"\s+of$", "", text.lower().strip())
    if re.fullmatch(r"\d{1,3}(?:[,  ]\d{3})+|\d+", plain):
        return int(re.sub(r"\D", "", plain))
    if re.fullmatch(r"half\s+a\s+dozen", plain):
        return 6
    total = current = 0
    seen = False
    for token in re.split(r"[\s-]+", plain):
        if token == "and":
            continue
        if token.isdigit():
            current += int(token)
        elif token in words.number_units:
            current += words.number_units[token]
        elif token in words.number_tens:
            current += words.number_tens[token]
        elif token in words.number_groups:
            total, current = total + max(current, 1) * words.number_groups[token], 0
        else:
            return None
        seen = True
    return total + current if seen else None


@cache
def _cell() -> re.Pattern[str]:
    counting = alternatives(sorted(vocabulary().counting))
    return re.compile(rf"^(?:(?:{counting})\s*)?(?P<n>{number_pattern()})\s*(?:{counting})?\.?$", re.IGNORECASE)


def cell_quantity(text: str) -> int | None:
    """The number in a quantity column; None for "as required", "1 bag", a range or a dash."""
    plain = re.sub(r"\(.*?\)", "", text).strip(" *~")
    if re.fullmatch(r"[A-Z]\d+", plain):
        return None  # "X1" is a code
    match = _cell().match(plain)
    return number(match.group("n")) if match else None


@cache
def _leading() -> re.Pattern[str]:
    counting = alternatives(sorted(vocabulary().counting))
    return re.compile(
        rf"^(?P<n>{number_pattern()})(?:\s*(?:(?:{counting})(?=[\s,:;–—-])|[x×](?=\s|[A-Z]))|(?=\s))(?:\s*(?:of|[:–—-]))?\s+", re.IGNORECASE
    )


@cache
def _trailing() -> re.Pattern[str]:
    counting = alternatives(sorted(vocabulary().counting))
    mark = r"(?:\s*[-–—:;,=]\s*|\s*[(\[]\s*|\s+[x×]\s*|\s{2,}|\s*\.{2,}\s*|\s+)"
    return re.compile(
        rf"{mark}(?:(?:qty|quantity|total|supplied)\.?:?\s*)?(?:[x×]\s*)?(?P<n>{number_pattern()})\s*(?P<unit>(?:{counting})\.?)?\s*[)\]]?\s*\.?$",
        re.IGNORECASE,
    )


def leading(text: str) -> Quantity | None:
    """A number of pieces at the start: "28 x Saddle clamp", "Ten hoop halves"; None for a measure ("42 mm tube")."""
    match = _leading().match(text)
    if match is None or _measured(text[match.end() :]):
        return None
    return Quantity(number(match.group("n")), match.start(), match.end())


def trailing(text: str) -> Quantity | None:
    """A number of pieces at the end: "Saddle clamp - 28 No.", "braces (4 No.)", "clamps, qty 28"; None where it may be a size."""
    match = _trailing().search(text)
    if match is None or match.start() == 0:
        return None
    marked = (
        match.group("unit")
        or re.match(r"\s*[-–—:;=(\[]|\s{2,}|\s*\.{2,}|\s+[x×]", match.group())
        or match.group().lstrip().startswith(",")  # "door post, 2"
        or re.search(r"qty|quantity", match.group(), re.I)
    )
    if not marked or (re.search(r"\d\s*$", text[: match.start()]) and not match.group("unit") and re.search(r"[x×]", match.group())):
        return None
    return Quantity(number(match.group("n")), match.start(), match.end())


def _measured(rest: str) -> bool:
    words = rest.split(maxsplit=2)
    first = words[0].lower().rstrip(".,;:") if words else ""
    if first == "foot" and len(words) > 1 and words[1].rstrip(",;.").isalpha():
        return False  # "60 foot bolts"
    return first in vocabulary().units or bool(re.match(r"^\d+/\d+|^[½¼¾⅜⅝⅛⅞]", first))
