"""Text from a manual is data: these functions make it safe and plain to show, wherever it ends up."""

from __future__ import annotations

import unicodedata

_FORMULA_STARTS = "=+-@\uff1d\uff0b\uff0d\uff20"
_JOINERS = "\u200c\u200d"  # part of how some scripts and emoji are written; they move no other text


def _shown_character(character: str) -> str:
    code = ord(character)
    if character.isspace():
        return " "
    if code < 0x20:
        return chr(0x2400 + code)  # the control pictures block: a visible "ESC" instead of the real one
    if code == 0x7F:
        return "\u2421"
    category = unicodedata.category(character)
    if category == "Cf" and character not in _JOINERS:
        return "" if character == "\u00ad" else f"[U+{code:04X}]"
    if category in ("Cc", "Cs") or code & 0xFFFE == 0xFFFE:
        return "\ufffd"
    return character


def shown(text: str) -> str:
    """``text`` on one line, safe to show: no control characters (terminal escapes), no invisible marks that reorder text.

    Line breaks and tabs become blanks, control characters become visible signs, direction marks become ``[U+202E]``.
    """
    if text.isascii() and text.isprintable():
        return text
    return "".join(_shown_character(character) for character in text)


def cell(text: str) -> str:
    """``text`` for a spreadsheet cell: as ``shown``, and an apostrophe in front where a program would take it for a formula.

    The characters are those of the OWASP page "CSV Injection": = + - @ tab and carriage return, and their full-width forms.
    """
    plain = shown(text)
    risky = plain.lstrip().startswith(tuple(_FORMULA_STARTS)) or text[:1] in ("\t", "\r", "\n")
    return f"'{plain}" if risky else plain


def clipped(text: str, limit: int) -> str:
    """``text`` cut to at most ``limit`` characters, with an ellipsis where something is left off."""
    return text if len(text) <= limit else text[: max(limit - 1, 0)].rstrip() + "…"


def plural(number: int, noun: str) -> str:
    """``1 hoop``, ``2 hoops``."""
    return f"{number} {noun}" if number == 1 else f"{number} {noun}s"
