"""Tables, bold type and marks of scanned pages, which the recogniser by itself reads badly."""

from __future__ import annotations

from pathlib import Path

import pytest
from hoopwright.model.document import Document
from hoopwright.reading import read_document, tesseract

from reading.layouts import COLUMN, print_manual, scanned
from reading.manual_blocks import Block

needs_tesseract = pytest.mark.skipif(not tesseract.is_installed(), reason="tesseract (Debian: tesseract-ocr) is not installed")
PARTS = (
    ("Code", "Part", "Size", "Quantity"),
    *(
        (f"1{n:02}", f"{name} clip, closed", f"{n}.2 m", str(n % 9 + 1))
        for n, name in enumerate(("Ridge", "Rail", "Crop", "Stay", "Door"), 2)
    ),
)
MATRIX = (("Clip", "Hoop 1", "Hoop 2", "Hoop 3"), ("Ridge clip", "1", "1", "1"), ("Rail clip", "2", "2", "2"), ("Stay clip", "2", "0", "2"))
LINES = Block("text", (("Slide the clips over the open ends of the tubes before the hoops are joined and stood up on the ground.", False),))


def scan_of(blocks: list[Block], folder: Path) -> Document:
    path = folder / "scan.pdf"
    path.write_bytes(scanned(print_manual(blocks, COLUMN)))
    return read_document(path, "D1")


@needs_tesseract
@pytest.mark.parametrize("rows", [PARTS, MATRIX], ids=["parts", "figures"])
def test_cells(rows: tuple[tuple[str, ...], ...], tmp_path: Path) -> None:
    document = scan_of([LINES, Block("table", rows=rows, head=True, right=frozenset({3})), LINES], tmp_path)
    assert [grid.rows for grid in document.grids] == [rows]


@needs_tesseract
def test_bold_words_are_seen(tmp_path: Path) -> None:
    text = Block("text", (("Ridge clips.", True), (" Slide one onto every hoop and push it up to the peak of the arch.", False)))
    lines = scan_of([text, LINES, LINES], tmp_path).lines
    assert lines[0].text[: lines[0].bold_end] == "Ridge clips."
    assert not any(line.bold_end for line in lines[1:])


@needs_tesseract
def test_bullets_are_seen(tmp_path: Path) -> None:
    items = [Block("item", ((f"{name} clips go onto the loose tubes first of all.", False),), "•") for name in ("Ridge", "Rail", "Crop")]
    assert [line.text[:2] for line in scan_of([LINES, *items], tmp_path).lines[-3:]] == ["• "] * 3


@needs_tesseract
def test_list_of_hoops_in_a_cell(tmp_path: Path) -> None:
    rows = (("Type", "Hoops", "Job"), ("End hoops", "1, 10", "carry the doors"), ("Brace hoops", "2, 9", "take the tops of the braces"))
    document = scan_of([LINES, Block("table", rows=rows, head=True), LINES], tmp_path)
    assert [row[1] for grid in document.grids for row in grid.rows] == ["Hoops", "1, 10", "2, 9"]
