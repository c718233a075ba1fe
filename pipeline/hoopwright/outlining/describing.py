"""A description from a parts list taken apart: code, name, size, note."""

from __future__ import annotations

import re
from dataclasses import dataclass

from hoopwright.outlining.vocabulary import vocabulary

_UNIT = r"(?:mm|cm|m|metres?|meters?|(?:ft|in)\.(?=[\s,;)\]]|$)|ft|feet|foot|in|inch(?:es)?|['\"′″])"
_FIGURE = r"(?:(?:\d+[-\s])?\d+/\d+|\d+(?:[.,]\d+)?|\d*\s?[½¼¾⅜⅝⅛⅞⅓⅔])"
_THREAD = r"(?:M\d{1,2}|\d{1,2}-\d{1,2}(?=\s*[x×]\s*\d)|(?<![A-Za-z])ST\s?\d(?:\.\d)?|#\d{1,2}|No\.?\s?\d{1,2}(?=\s*[x×])|\d+/\d+(?:-\d+)?)"
_FEET = r"\d+\s?['′]\s?-?\s?\d+(?:[-\s]\d+/\d+)?\s?[\"″]|\d+\s?ft\s\d+(?:[-\s]\d+/\d+)?\s?in(?!\w)"
_MANNER = r"(?:\s?(?:o\.?d|i\.?d|dia(?:meter)?|diam|bore|wide|thick|long|length)\b\.?)?"
_MEASURE = rf"(?:{_FEET}|{_FIGURE}(?:\s?{_UNIT}(?!\w))?)"
_SIZE = re.compile(
    rf"(?:[Øø⌀]\s?{_FIGURE}(?:\s?{_UNIT}(?!\w))?"
    rf"|{_THREAD}(?:\s?{_UNIT}(?!\w))?(?:\s?[x×]\s?{_MEASURE})+"
    rf"|{_MEASURE}{_MANNER}(?:\s?[x×]\s?{_MEASURE}{_MANNER})+"
    rf"|M\d{{1,2}}(?![\w.])"
    rf"|{_FEET}|{_FIGURE}\s?{_UNIT}(?!\w))"
    rf"{_MANNER}",
    re.IGNORECASE,
)
_CODE = re.compile(
    r"^#\d{1,4}$|^[A-Z]{0,3}[-.]?\d{1,4}[A-Za-z]?$|^[A-Z]{1,3}$|^[A-Z]{1,3}[-./]?\d{0,4}[A-Z]?$|^[A-Z]{1,2}[-.][a-z]$|^[a-z]\d{0,2}$|^[ivx]{1,4}$"
)
_BRACKETS = re.compile(r"\s*[(\[](?P<inner>[^()\[\]]*)[)\]]")
_WITH = re.compile(
    r"\s+(?P<with>(?:complete )?with\s.+|c/w\s.+|incl(?:uding|\.)\s.+"
    r"|(?:and|\+|plus|&) (?:an? |its |\d )?(?:(?:hex|lock|wing|nyloc|flange|plain|flat) )?(?:nuts?|washers?)(?: .+)?)$",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Description:
    """What a parts list says about one part."""

    name: str
    size: str | None = None
    note: str = ""
    code: str | None = None


def is_code(text: str) -> bool:
    """True for a printed item code: "H", "C6", "T-12", "104"."""
    return bool(_CODE.match(text.strip(" .:()[]"))) and len(text.strip(" .:()[]")) <= 7


def is_size(text: str) -> bool:
    """True for a size alone: "42 mm", "M8 × 45"."""
    return bool(_SIZE.fullmatch(text.strip()))


def code_of(text: str) -> str | None:
    """The code without the marks around it, or None."""
    plain = re.sub(rf"^(?:{vocabulary().code_words}|no|bag)\.?\s+", "", text.strip(), flags=re.IGNORECASE).strip(" .:()[]*")
    return plain if plain and is_code(plain) else None


def describe(text: str) -> Description:
    """Takes name, size, brackets and what follows a comma apart: "Clamp bolt M8 × 45, with nut" → Clamp bolt | M8 × 45 | with nut."""
    notes: list[str] = []
    code: str | None = None
    size: str | None = None
    other_size = ""  # the same size in the other system of units, in brackets
    rest = " ".join(text.split()).strip(" .;:–—-")
    for match in _BRACKETS.finditer(rest):
        inner = match.group("inner").strip()
        found = code_of(inner)
        if (
            found
            and code is None
            and (re.match(rf"(?:{vocabulary().code_words}|bag)\b", inner, re.I) or len(found) <= 4)
            and not _SIZE.fullmatch(inner)
        ):
            code = found
        elif not other_size and _SIZE.fullmatch(inner):
            other_size = match.group().strip()
        elif inner:
            notes.append(inner)
    rest = _BRACKETS.sub("", rest).strip(" .;:")
    pieces = [piece.strip() for piece in re.split(r"\s*[,;]\s+|\s+[-–—]\s+", rest) if piece.strip()]
    name = pieces[0] if pieces else ""
    tail = [*pieces[1:]]
    if (joined := _WITH.search(name)) is not None:
        tail.insert(0, joined.group("with"))
        name = name[: joined.start()]
    name, inside = _without_size(name)
    size = size or inside
    extra: list[str] = []
    for piece in tail:
        left, found_size = _without_size(piece)
        size = size or found_size
        # A size within other words ("one strip of 9000 mm a side") stays where it stands, too.
        if found_size is None or left or found_size != size:
            extra.append(piece)
    size = " ".join(part for part in (size, other_size if size else other_size.strip("()[]")) if part) or None
    return Description(name.strip(" ,;:–—-"), size, ", ".join([*extra, *notes]), code)


def _without_size(text: str) -> tuple[str, str | None]:
    match = _SIZE.search(text)
    if match is None or re.match(r"\s?(?:way|hole|part|piece|leg)\b", text[match.end() :], re.I):
        return text, None
    size = match.group().strip()
    if match.start() == 0 and match.end() < len(text):
        return text, size  # "M6 bolt": in front, the size is part of the name
    return f"{text[: match.start()].rstrip(' ,-–')} {text[match.end() :].lstrip(' ,')}".strip(), size
