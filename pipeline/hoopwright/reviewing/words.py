"""What people write in an answer: numbers, hoops, lengths and places in words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from hoopwright.model.schedule import Side

Per = Literal["hoop", "place", "total", "bare"]

MM_PER_INCH = 25.4  # exact since 1 July 1959: NIST SP 811 (2008), appendix B, "inch (in)"
_UNITS = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH, "ft": 12 * MM_PER_INCH}
_SPELT = (
    "no one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen twenty"
)
_NUMBERS = {word: value for value, word in enumerate(_SPELT.split())} | {"none": 0, "a": 1, "an": 1, "both": 2, "zero": 0, "single": 1}
_HOST = r"(?:hoops?|bows?|arch(?:es)?|frames?)"
_KIND = r"(?:(?:end|inner|inside|intermediate|middle|of the|of them|named)\s+)*"
_PER_HOOP = re.compile(rf"\b(?:each|every|per|an?)\s+{_KIND}{_HOST}\b|\b(?:on|for|to)\s+each\b\s*$")
_PER_PLACE = re.compile(r"\b(?:at|in)\s+(?:each|every)(?:\s+place)?\b\s*$|\b(?:each|every)\s+place\b")
_TOTAL = re.compile(r"\b(?:in\s+all|in\s+total|altogether|all\s+told)\b")
_WORD_NUMBER = re.compile(r"\d+|[a-z]+")
_RANGE = re.compile(r"(\d+)\s*(?:-|–|—|\.\.|to|through)\s*h?(\d+)")
_HOOP_NOISE = re.compile(rf"\b(?:{_HOST}|on|at|of|only|and|the|numbers?|nos?)\b|[,;&+.#]")
# "2 on hoops 1 and 6; 3 more on the door post": a new share begins where a number with its "on" follows.
_SHARE = re.compile(
    rf"(?P<number>\w+)\s+(?P<more>more\s+|further\s+|additional\s+)?(?:pieces?\s+)?(?P<each>each\s+)?(?:(?P<on>on|at|to|in|for)\s+|(?={_HOST}\b|h\d))"
    r"(?P<each_of>each\s+of\s+)?(?P<host>.+)",
    re.IGNORECASE,
)
_NEXT_SHARE = re.compile(
    r"\s*(?:[;,]\s*(?:and\s+)?|\band\s+)(?=\w+\s+(?:more\s+|further\s+|additional\s+)?(?:pieces?\s+)?(?:each\s+)?(?:on|at|to|in|for)\s)",
    re.IGNORECASE,
)
_BUT = re.compile(r"\b(?:but|except(?:\s+for)?|without)\b")
_LENGTH = re.compile(
    r"""(?P<number>\d+\s+\d+/\d+|\d+/\d+|\d+(?:[.,]\d+)?)\s*-?\s*
        (?P<unit>millimet(?:re|er)s?|mm|centimet(?:re|er)s?|cm|met(?:re|er)s?|m|inch(?:es)?|in\.?|feet|foot|ft\.?|["″”]|['′’])?(?![a-z0-9])""",
    re.IGNORECASE | re.VERBOSE,
)
_DATUMS = (
    ("ground", r"\b(?:above|over|off|from)\s+(?:the\s+)?(?:ground|soil|floor)\b|\bhigh\b|\bof\s+(?:the\s+)?ground\b"),
    ("foot", r"\b(?:foot|feet\s+of|bottom|lower\s+end)\b"),
    ("ridge", r"\b(?:ridge|apex|peak|top|crown|middle\s+of\s+the\s+hoop)\b"),
    ("joint", r"\b(?:joint|shoulder|splice)\b"),
    ("end", r"\bend\b"),
)


@dataclass(frozen=True, slots=True)
class AmountWords:
    """A number and what it is the number for: each hoop, each place, all of them together, or not said."""

    number: int
    per: Per


@dataclass(frozen=True, slots=True)
class Share:
    """A number for each of some ``hoops``, or in all for another ``member`` (lower case); ``more`` where it comes on top."""

    number: int
    hoops: tuple[int, ...] = ()
    member: str = ""
    more: bool = False


@dataclass(frozen=True, slots=True)
class PlaceWords:
    """A place: ``offset_mm`` from ``datum`` (ground, foot, ridge, joint, end), on ``side``; ``way`` up or down where it is said."""

    datum: str | None
    offset_mm: float | None
    side: Side | None
    way: str | None = None


def number(text: str) -> int | None:
    """The one whole number that the text is, in figures or words up to twenty; None otherwise."""
    word = text.strip().lower().strip(".×x ")
    return int(word) if word.isdecimal() and len(word) <= 4 else _NUMBERS.get(word)


def amount(text: str) -> AmountWords | None:
    """``2 on each``, ``2 in all, 1 on each``, ``four on each rib, sixteen in all``, ``none``, ``3``: None where no number is plain.

    Where several are told, the one for a hoop is taken before the one for a place, that before the sum.
    """
    found: dict[Per, int] = {}
    for piece in re.split(r"[,;:]", text.lower()):
        value = _leading(piece)
        if value is None:
            continue
        rest = piece.strip()
        per: Per = "bare"
        if _TOTAL.search(rest):
            per = "total"
        elif _PER_PLACE.search(rest):
            per = "place"
        elif _PER_HOOP.search(rest):
            per = "hoop"
        elif len(rest.split()) > 2 or re.search(r"\b(?:each|every|per|if|unless)\b", rest):
            continue  # "one for each time it happens", "four on each rib": not a number for a hoop or a place
        found.setdefault(per, value)
    for kind in ("hoop", "place", "total", "bare"):
        if kind in found:
            return AmountWords(found[kind], kind)
    return None


def _leading(piece: str) -> int | None:
    words = _WORD_NUMBER.findall(piece)
    if re.search(r"[-−]\s*\d|\d[.,]\d", piece):
        return None  # less than none, or a part of a piece
    for word in words[:2]:
        value = number(word)
        if value is not None and not (word in ("a", "an") and len(words) > 1):
            return value
    return None


def shares(text: str, count: int) -> tuple[Share, ...] | None:
    """``2 on hoops 1 and 6; 3 on hoops 2 to 5``, ``2 more on the door post``: who gets how many, None if the text is not that.

    ``count`` is how many hoops there are. Hoops get the number each, another member gets it in all.
    """
    found = [_share(piece, count) for piece in _NEXT_SHARE.split(text.strip())]
    made = tuple(each for each in found if each is not None)
    return made if made and len(made) == len(found) else None


def _share(text: str, count: int) -> Share | None:
    match = _SHARE.fullmatch(text.strip().rstrip("."))
    value = number(match["number"]) if match is not None else None
    if match is None or value is None:
        return None
    each = match["each_of"] is None and re.match(r"\s*(?:each|every|any|all$)\b", match["host"], re.IGNORECASE)
    # "2 on each", "2 in all" are numbers for places that the sentence has named already: see ``amount``.
    # Nor is "4 to 6" a number on a hoop: figures alone are hoops behind "on" only.
    figures = r"|\d" if (match["on"] or "").lower() == "on" else r"|\bh\d"
    chosen = hoops(match["host"], count) if not each and re.search(rf"\b{_HOST}\b{figures}", match["host"], re.IGNORECASE) else None
    more = match["more"] is not None
    if chosen is not None:
        return Share(value, chosen, more=more)
    member = re.sub(r"^(?:the|an?|its|their)\s+", "", " ".join(match["host"].lower().split()))
    # A rib is a hoop in one manual and half of one in the next: it is for hoops to be said by their numbers.
    plain = re.fullmatch(r"[a-z][a-z'’ -]*", member) and not re.search(rf"\b(?:{_HOST}|ribs?|places?|each|every|all|total)\b", member)
    return Share(value, member=member, more=more) if plain and not (match["each"] or match["each_of"]) else None


def hoops(text: str, count: int) -> tuple[int, ...] | None:
    """``hoops 2, 4, 6``, ``H2-H4``, ``3 to 5 and 7``, ``all but 3``, ``odd``, ``the end hoops``: numbers from 1, None if it names none.

    ``count`` is how many hoops there are; a number beyond it gives None.
    """
    plain = re.sub(r"\bh(\d)", r"\1", text.lower())
    if _BUT.search(plain):
        whole, less = (hoops(each, count) for each in _BUT.split(plain, maxsplit=1))
        return tuple(each for each in whole if each not in less) or None if whole is not None and less is not None else None
    named = _named(plain, count)
    if named is not None:
        return named
    plain = _HOOP_NOISE.sub(" ", plain)
    chosen: set[int] = set()
    for first, last in _RANGE.findall(plain):
        if int(first) > int(last) or int(last) > count:
            return None
        chosen.update(range(int(first), int(last) + 1))
    for word in _RANGE.sub(" ", plain).split():
        value = number(word)
        if value is None or word in ("a", "an"):
            return None
        chosen.add(value)
    return tuple(sorted(chosen)) if chosen and min(chosen) >= 1 and max(chosen) <= count else None


def _named(plain: str, count: int) -> tuple[int, ...] | None:
    every = range(1, count + 1)
    kinds = {
        "odd": every[::2],
        "even": every[1::2],
        "end": dict.fromkeys((1, count)),
        "ends": dict.fromkeys((1, count)),
        "first": every[:1],
        "last": every[-1:],
        "inner": every[1:-1],
        "inside": every[1:-1],
        "intermediate": every[1:-1],
        "all": every,
        "every": every,
        "each": every,
    }
    words = re.sub(rf"\b(?:{_HOST}|the|of|on|both|numbered)\b|[.,]", " ", plain).split()
    if len(words) == 2 and words[0] in ("all", "every", "each"):
        words = words[1:]
    if len(words) == 1 and words[0] in kinds:
        return tuple(kinds[words[0]]) or None
    return None


def length(text: str) -> float | None:
    """``1.6 m``, ``1600``, ``5 ft 3 1/2 in``, ``5'-3"`` in millimetres, None if there is no length. A bare number is millimetres."""
    found = _lengths(text)
    return found[0] if found is not None else None


def _lengths(text: str) -> tuple[float, str] | None:
    """The length and the text without it."""
    total, rest, last = 0.0, text, ""
    matches = list(_LENGTH.finditer(text))
    used: list[tuple[int, int]] = []
    for match in matches:
        unit = _unit(match["unit"])
        if used and (last != "ft" or unit != "in" or text[used[-1][1] : match.start()].strip(" -,") not in ("", "and")):
            break
        if unit is None and len(matches) > 1:
            continue
        total += _value(match["number"]) * _UNITS[unit or "mm"]
        used.append(match.span())
        last = unit or "mm"
    if not used:
        return None
    for start, end in reversed(used):
        rest = f"{rest[:start]} {rest[end:]}"
    return round(total, 1), rest


def _unit(word: str | None) -> str | None:
    if word is None:
        return None
    plain = word.lower().rstrip(".")
    if plain in ('"', "″", "”") or plain.startswith("in"):
        return "in"
    if plain in ("'", "′", "’", "ft", "foot", "feet"):
        return "ft"
    if plain.startswith(("mm", "milli")):
        return "mm"
    return "cm" if plain.startswith(("cm", "centi")) else "m"


def _value(text: str) -> float:
    total = 0.0
    for piece in text.replace(",", ".").split():
        above, _, below = piece.partition("/")
        total += float(above) / float(below) if below and float(below) else float(above)
    return total


def place(text: str) -> PlaceWords | None:
    """``1600 mm above the ground``, ``left side, 2 ft from the ridge``, ``at the ridge``, ``right leg``; None where it names no place."""
    plain = " ".join(text.lower().split())
    found = _lengths(plain)
    offset, rest = found if found is not None else (None, plain)
    side: Side | None = None
    sides = set(re.findall(r"\b(left|right|centre|center|middle)\b", rest))
    if len(sides) == 1:
        side = {"left": "left", "right": "right"}.get(sides.pop(), "centre")  # type: ignore[assignment]
    datum = next((name for name, pattern in _DATUMS if re.search(pattern, rest)), None)
    way = "up" if re.search(r"\b(?:up|above)\b", rest) else "down" if re.search(r"\b(?:down|below|under)\b", rest) else None
    if datum in ("ridge", "joint") and offset is None and re.search(r"\b(?:at|on|over)\b", rest):
        offset = 0.0
    if offset is not None and datum is None and side is None:
        return None
    return PlaceWords(datum, offset, side, way) if (datum is not None and offset is not None) or side is not None else None
