"""The list of characters that the sheets' fonts can draw, against Typst itself; and what is said instead of the others."""

from __future__ import annotations

import json
from importlib.resources import files

import pytest
import typst
from hoopwright.reporting.glyphs import breakable, fitted, has_glyph, mono_width, plain_letters, printable, wrapped


def _compiles(text: str) -> bool:
    """Whether Typst makes a PDF/UA-1 file of the text: it refuses characters without a glyph (ISO 14289-1, 7.21.8)."""
    source = '#set document(title: "t")\n#set text(font: "Libertinus Serif", lang: "en")\n#sys.inputs.text'
    try:
        typst.compile(source.encode(), ignore_system_fonts=True, pdf_standards=["ua-1"], sys_inputs={"text": text})
    except typst.TypstError as error:
        assert "could not be displayed" in error.message
        return False
    return True


def _listed() -> list[str]:
    data = json.loads((files("hoopwright.reporting") / "glyphs.json").read_text(encoding="utf-8"))
    found = []
    for item in " ".join(data["covered"]).split():
        first, _, last = item.partition("-")
        found += [chr(code) for code in range(int(first, 16), int(last or first, 16) + 1)]
    return found


def test_every_listed_character_can_be_drawn() -> None:
    listed = _listed()
    assert len(listed) > 4000 and all(map(has_glyph, listed))
    assert _compiles(" ".join(listed))


@pytest.mark.parametrize("character", ["中", "👷", "␛", "\ufffd" if not has_glyph("\ufffd") else "한"])
def test_what_is_not_listed_cannot_be_drawn(character: str) -> None:
    assert not has_glyph(character)
    assert not _compiles(character)


@pytest.mark.parametrize("text", ["👷🏽‍♀️ clip 🧤", "中文 clip", "\x1b[31mred", "a\u202eb", "e\u0301 \ud83d", "☐ ½ ⅜ ″ ′ Ø ° – — × ·"])
def test_printable_text_always_compiles(text: str) -> None:
    assert _compiles(printable(text))
    assert _compiles(breakable(text))


def test_what_stands_in_for_missing_characters() -> None:
    assert printable("👷🏽 clip 🧤") == "[construction worker] clip [gloves]"
    assert printable("\x1b[31m") == "[U+001B][31m"
    assert printable("中") == "[U+4E2D]"
    assert printable("Ø42 mm × 1⅜″") == "Ø42 mm × 1⅜″"


def test_plain_letters_names_all_other_scripts() -> None:
    assert plain_letters("clip Ø½ – клип") == "clip Ø½ – клип"
    assert plain_letters("מה") == "[U+05DE][U+05D4]"


def test_long_words_get_places_to_break() -> None:
    assert breakable("x" * 40) == "\u200b".join(["x" * 16, "x" * 16, "x" * 8])
    assert breakable("short words stay") == "short words stay"


def test_mono_width_is_that_of_the_font() -> None:
    """DejaVu Sans Mono: 1233 of 2048 units for every character, as Typst measures it too."""
    source = '#set page(width: auto, height: auto, margin: 0pt)\n#text(font: "DejaVu Sans Mono", size: 10mm)[#sys.inputs.text]'
    svg = typst.compile(source.encode(), ignore_system_fonts=True, format="svg", sys_inputs={"text": "900 mm J 2×W"})
    width = float(svg.decode().split('width="')[1].split("pt")[0]) / 72 * 25.4
    assert mono_width("900 mm J 2×W", 10) == pytest.approx(width, rel=0.01)


@pytest.mark.parametrize("text", ["a short text", "a text that is a good deal longer than its room", "x" * 80, ""])
def test_fitted_and_wrapped_text_keeps_to_its_room(text: str) -> None:
    assert mono_width(fitted(text, 3, 30), 3) <= 30
    lines = wrapped(text, 3, 30)
    assert len(lines) <= 2 and all(mono_width(line, 3) <= 30 for line in lines)
