"""Characters that fonts give for others: ligatures, private bullets, blanks that are none."""

from __future__ import annotations

# Unicode, block "Alphabetic Presentation Forms": the Latin ligatures.
_LIGATURES = {0xFB00: "ff", 0xFB01: "fi", 0xFB02: "fl", 0xFB03: "ffi", 0xFB04: "ffl", 0xFB05: "st", 0xFB06: "st"}
# Word processors keep the bullets of symbol fonts at U+F000 plus the font's own code. Common practice, no source.
_BULLETS = {
    0xF06C: "●", 0xF06E: "■", 0xF06F: "□", 0xF071: "❑", 0xF075: "◆", 0xF076: "❖", 0xF09F: "•", 0xF0A7: "▪", 0xF0A8: "◻", 0xF0B7: "•",
    0xF0D8: "➢", 0xF0DE: "⇒", 0xF0E0: "→", 0xF0E8: "➔", 0xF0F0: "⇨", 0xF0FC: "✓", 0xF0FE: "☑", 0xF0B0: "°", 0xF0B1: "±", 0xF0B4: "×",
}  # fmt: skip
_NOTHING = (0x00AD, 0x200B, 0x200C, 0x200D, 0x2060, 0xFEFF)  # soft hyphens inside a line, zero-width blanks and joiners
# Ghostscript (seen: 10.0) may give the letters of a ligature with their two bytes swapped: 昀椀 (U+6600 U+6900) for fi.
_SWAPPED = {code << 8: chr(code) for code in range(ord("A"), ord("z") + 1) if chr(code).isalpha()}
_TABLE = {**_LIGATURES, **_BULLETS, **dict.fromkeys(_NOTHING, "")}


def plain(word: str) -> str:
    """The word with its ligatures taken apart, known private bullets named, and characters without width left out."""
    if word.isascii():
        return word
    word = word.translate(_TABLE)
    return word.translate(_SWAPPED) if _has_swapped(word) else word


def _has_swapped(word: str) -> bool:
    """Whether the word has letters with swapped bytes, and no other character of a script that they could belong to."""
    codes = [ord(c) for c in word]
    return any(code in _SWAPPED for code in codes) and all(code < 0x2E80 or code in _SWAPPED for code in codes)
