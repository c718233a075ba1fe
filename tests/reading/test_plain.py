"""Plain text and Markdown."""

from __future__ import annotations

from pathlib import Path

import pytest
from hoopwright.model.document import Document
from hoopwright.reading import read_document

TEXT = "Fix the 1½ in clamp – 25 mm² × 3″\n"


def read(tmp_path: Path, data: bytes | str, name: str = "a.txt") -> Document:
    path = tmp_path / name
    path.write_bytes(data if isinstance(data, bytes) else data.encode("utf-8"))
    return read_document(path, "D1")


@pytest.mark.parametrize(
    ("encoding", "note"),
    [("utf-8", ""), ("utf-8-sig", ""), ("utf-16", "UTF-16"), ("utf-16-le", "UTF-16-LE"), ("utf-16-be", "UTF-16-BE"), ("utf-32", "UTF-32")],
)
def test_encodings(encoding: str, note: str, tmp_path: Path) -> None:
    document = read(tmp_path, (TEXT * 5).encode(encoding))
    assert document.text == "\n".join([TEXT.strip()] * 5)
    assert note in "".join(document.notes)
    assert bool(document.notes) == bool(note)


def test_windows_1252_is_noted(tmp_path: Path) -> None:
    text = "Fix the 1½ in clamp – 25 mm² × 3"
    document = read(tmp_path, text.encode("cp1252"))
    assert document.text == text
    assert document.notes == ("not UTF-8 (line 1); read as Windows-1252",)


def test_damaged_utf_8_stays_utf_8(tmp_path: Path) -> None:
    document = read(tmp_path, (TEXT * 3).encode("utf-8") + b"the \xff end")
    assert document.text.count("1½") == 3
    assert "1 damaged characters from line 4" in document.notes[0]


def test_lines_pages_and_blanks(tmp_path: Path) -> None:
    document = read(tmp_path, "One\r\n\r\n    two  \r\x0cthree\n\x0c")
    assert [(line.text, line.page) for line in document.lines] == [("One", 1), ("", 1), ("    two", 1), ("three", 2)]
    assert document.pages == 2
    assert document.text == "One\n\n    two\nthree"
    assert [line.start for line in document.lines] == [0, 4, 5, 13]


@pytest.mark.parametrize(
    ("name", "text", "kind"),
    [
        ("a.md", "Fix it", "markdown"),
        ("a.txt", "# Frame\n\ntext\n\n## Ends\n", "markdown"),
        ("a.txt", "Part | Qty\n---|---\nClip | 3\n", "markdown"),
        ("a.txt", "1. Fix it\n# of clips: 3\n", "text"),
    ],
)
def test_kind(name: str, text: str, kind: str, tmp_path: Path) -> None:
    assert read(tmp_path, text, name).kind == kind


HEAD = ("Code", "Part", "Qty")
RC, CB = ("RC", "Ridge clamp", "10"), ("CB", "Crop bar clip", "12")
TABLES: dict[str, tuple[str, tuple[tuple[str, ...], ...], tuple[tuple[int, ...], ...]]] = {
    "markdown": (
        "| Code | Part | Qty |\n|:--|---|--:|\n| RC | Ridge clamp | 10 |\n| CB | Crop bar clip | 12 |\n",
        (HEAD, RC, CB),
        ((0, 1), (2,), (3,)),
    ),
    "markdown without outer bars": (
        "Code | Part\n--- | ---\nRC | Ridge \\| clamp\n",
        (("Code", "Part"), ("RC", "Ridge | clamp")),
        ((0, 1), (2,)),
    ),
    "rows between bars": ("| RC | Ridge clamp | 10 |\n| CB | Crop bar clip | 12 |\n", (RC, CB), ((0,), (1,))),
    "box": (
        "┌────┬───────────────┬─────┐\n│ Code │ Part        │ Qty │\n├────┼───────────────┼─────┤\n│ RC │ Ridge clamp   │ 10  │\n"
        "│ CB │ Crop bar      │ 12  │\n│    │ clip          │     │\n└────┴───────────────┴─────┘\n",
        (HEAD, RC, CB),
        ((0, 1, 2), (3,), (4, 5, 6)),
    ),
    "grid of signs": (
        "+------+---------------+-----+\n| Code | Part          | Qty |\n+======+===============+=====+\n| RC   | Ridge clamp   | 10  |\n"
        "+------+---------------+-----+\n| CB   | Crop bar      | 12  |\n|      | clip          |     |\n+------+---------------+-----+\n",
        (HEAD, RC, CB),
        ((0, 1, 2), (3, 4), (5, 6, 7)),
    ),
    "merged cells": (
        "┌────┬────┬────┐\n│ A  │ B  │ C  │\n├────┴────┼────┤\n│ all     │ 22 │\n└─────────┴────┘\n",
        (("A", "B", "C"), ("all", "", "22")),
        ((0, 1, 2), (3, 4)),
    ),
    "tabs": ("Code\tPart\tQty\nRC\tRidge clamp\t10\nCB\tCrop bar clip\t12\n", (HEAD, RC, CB), ((0,), (1,), (2,))),
    "tabs as blanks": ("Code\t\tPart\t\tQty\nRC\t\tRidge clamp\t10\n", (HEAD, RC), ((0,), (1,))),
    "blanks": (
        "Parts of the frame\n\nCode  Part           Qty\n----  -------------  ---\nRC    Ridge clamp     10\nCB    Crop bar        12\n"
        "      clip\n",
        (HEAD, RC, CB),
        ((2, 3), (4,), (5, 6)),
    ),
    "values": (
        "Tube diameter    38 mm\nHoop spacing     1.5 m\nLength           6 m\n",
        (("Tube diameter", "38 mm"), ("Hoop spacing", "1.5 m"), ("Length", "6 m")),
        ((0,), (1,), (2,)),
    ),
}


@pytest.mark.parametrize("case", TABLES.values(), ids=TABLES.keys())
def test_tables(case: tuple[str, tuple[tuple[str, ...], ...], tuple[tuple[int, ...], ...]], tmp_path: Path) -> None:
    text, rows, lines = case
    document = read(tmp_path, text)
    assert [(grid.rows, grid.lines) for grid in document.grids] == [(rows, lines)]
    assert document.text == text.rstrip("\n")


@pytest.mark.parametrize(
    "text",
    [
        "1.\tLay out the tubes.\n2.\tFix the clamps.\n3.\tStand the hoop up.\n",
        "1.  Lay out the tubes.\n2.  Fix the clamps.\n3.  Stand the hoop up.\n",
        "a)  Ridge clamp\nb)  Film clip\nc)  Sleeve\n",
        "Lay  out the  tubes of  the first\nhoop on  flat ground and slide  two\nridge clamps  onto  the left top tube\n",
        "Fix the clamp | or the clip.\nThen go on.\n",
        "    Fix the clamp\n        at the ridge\n    and go on\n",
        "Hoop 1 -----> Hoop 2\n   |            |\n   +---- x -----+\n",
        "Step 1   Lay out the tubes of the first hoop on flat ground.\nStep 2   Fix two ridge clamps to the left top tube.\n"
        "Step 3   Stand the hoop up between the stakes.\n",
    ],
)
def test_no_tables(text: str, tmp_path: Path) -> None:
    assert read(tmp_path, text).grids == ()
