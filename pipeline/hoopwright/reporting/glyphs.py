"""Which characters the fonts of the printed sheets can draw, and how wide they come out.

A PDF/UA-1 file must not hold a character without a glyph, so what no font has is named in brackets instead.
"""

from __future__ import annotations

import unicodedata
from bisect import bisect_right
from functools import cache

from hoopwright.reporting.text import shown

MONO_ADVANCE = 0.602  # DejaVu Sans Mono, em per character (the font's own advance: 1233 of 2048 units)
_BREAK = "\u200b"
_LONGEST_WORD = 16


@cache
def _covered() -> tuple[tuple[int, ...], tuple[int, ...]]:
    import json
    from importlib.resources import files

    data = json.loads((files(__package__) / "glyphs.json").read_text(encoding="utf-8"))
    starts: list[int] = []
    ends: list[int] = []
    for item in " ".join(data["covered"]).split():
        first, _, last = item.partition("-")
        starts.append(int(first, 16))
        ends.append(int(last or first, 16))
    return tuple(starts), tuple(ends)


def has_glyph(character: str) -> bool:
    """Whether a font of the printed sheets can draw the character."""
    starts, ends = _covered()
    index = bisect_right(starts, ord(character)) - 1
    return index >= 0 and ord(character) <= ends[index]


def _drawn(character: str) -> str:
    if character.isascii() or has_glyph(character):
        return character
    code = ord(character)
    if 0x2400 < code <= 0x2421:  # a control picture put in by ``shown``
        return f"[U+{code - 0x2400 if code < 0x2421 else 0x7F:04X}]"
    if unicodedata.category(character) in ("Mn", "Me", "Cf", "Sk"):
        return ""  # joiners, variation selectors, skin tones: nothing to draw on their own
    name = unicodedata.name(character, "")
    return f"[{name.lower()}]" if name and unicodedata.category(character) == "So" else f"[U+{code:04X}]"


def printable(text: str) -> str:
    """``shown(text)`` with every character that the fonts lack named in brackets: ``[construction worker] clip``."""
    plain = shown(text)
    return plain if plain.isascii() else "".join(_drawn(character) for character in plain)


def plain_letters(text: str) -> str:
    """``text`` with every character outside Latin, Greek, Cyrillic and the usual signs named: ``[U+0627]``."""
    return "".join(
        character if ord(character) < 0x530 or 0x2000 <= ord(character) < 0x2C00 else f"[U+{ord(character):04X}]" for character in text
    )


def breakable(text: str, longest: int = _LONGEST_WORD) -> str:
    """``printable(text)`` with places to break (zero-width blanks) in words that no line could hold."""
    words = printable(text).split(" ")
    return " ".join(
        _BREAK.join(word[i : i + longest] for i in range(0, len(word), longest)) if len(word) > longest else word for word in words
    )


def _cells(character: str) -> float:
    if ord(character) < 0x590:  # Latin, Greek, Cyrillic and their marks
        return 0.0 if unicodedata.combining(character) else 1.0
    if unicodedata.category(character) in ("Mn", "Me", "Cf"):
        return 0.0
    # Other scripts come from fallback fonts; two cells is more than any of their letters takes.
    return 1.0 if 0x2000 <= ord(character) < 0x2C00 else 2.0


def mono_width(text: str, size: float) -> float:
    """The width of ``text`` in a monospaced font of ``size``, in the unit of ``size``; never less than it comes out."""
    count = float(len(text)) if text.isascii() else sum(map(_cells, text))
    return count * MONO_ADVANCE * size


def fitted(text: str, size: float, room: float) -> str:
    """``text`` cut with an ellipsis so that it takes at most ``room``."""
    if mono_width(text, size) <= room:
        return text
    while text and mono_width(text + "…", size) > room:
        text = text[:-1]
    return text.rstrip() + "…"


def wrapped(text: str, size: float, room: float, most: int = 2) -> list[str]:
    """``text`` broken at blanks into at most ``most`` lines of at most ``room``; what does not fit ends in an ellipsis."""
    lines: list[str] = []
    rest = text.split()
    while rest and len(lines) < most - 1:
        taken = 1
        while taken < len(rest) and mono_width(" ".join(rest[: taken + 1]), size) <= room:
            taken += 1
        lines.append(fitted(" ".join(rest[:taken]), size, room))
        rest = rest[taken:]
    return [*lines, fitted(" ".join(rest), size, room)] if rest else lines
