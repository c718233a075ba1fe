"""Figures, labels and blanks of scans that the recogniser gets wrong by itself, set right by the page's own type and words."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from hoopwright.reading import read_document, tesseract
from hoopwright.reading.glyphs import Glyphs, Level
from hoopwright.reading.spelling import respelled
from hoopwright.reading.tesseract import Found
from hoopwright.reading.type_sizes import type_sizes

from reading.layouts import COLUMN, print_manual, scanned
from reading.manual_blocks import Block

needs_tesseract = pytest.mark.skipif(not tesseract.is_installed(), reason="tesseract (Debian: tesseract-ocr) is not installed")


def read(blocks: list[Block], folder: Path) -> tuple[str, str]:
    """The words of the blocks' print and of its scan."""
    data = print_manual(blocks, COLUMN)
    texts = []
    for name, content in (("print.pdf", data), ("scan.pdf", scanned(data))):
        (folder / name).write_bytes(content)
        document = read_document(folder / name, "D1")
        texts.append(" ".join(" ".join(line.text for line in document.lines).split()))
    return texts[0], texts[1]


def step(label: str, words: str) -> Block:
    return Block("item", ((words, False),), label)


@needs_tesseract
def test_labels_and_codes(tmp_path: Path) -> None:
    clips = ("one saddle clamp (K1) onto the roof tube", "two rail clips (K14) onto each leg", "a brace ring (M5) onto every leg tube")
    steps = [step(f"{n}.", f"Slide {clips[n % 3]} of hoop {n % 7 + 1}, {n * 55} mm from the foot, for its M6 bolt.") for n in range(1, 24)]
    printed, read_anew = read(steps, tmp_path)
    assert read_anew == printed


@needs_tesseract
def test_dashes_and_figures_in_cells(tmp_path: Path) -> None:
    rows = (
        ("Hoop", "Ridge clip", "Stay ring", "Crop hook"),
        *((str(n), "1", "2" if n % 3 == 1 else "-", "-" if n == 4 else "2") for n in range(1, 10)),
    )
    text = Block("text", (("Check all hoops 1 to 9 by the table: 1 ridge clip each, 2, 3 or 4 more, 567 in all, 8 spare.", False),))
    document = Path(tmp_path / "scan.pdf")
    document.write_bytes(scanned(print_manual([text, Block("table", rows=rows, head=True), text], COLUMN)))
    assert [grid.rows for grid in read_document(document, "D1").grids] == [rows]


@needs_tesseract
def test_words_stay_whole_and_apart(tmp_path: Path) -> None:
    sentences = (
        "Push a clip onto the door. If a screw is left over, put it in the bag; at arch 4 no screw is used, nor is one at the corner.",
        "Cut a cover, lay a cover, fix the cover. On each corner of a traverse run a screw in, then measure from 1 to 8.",
    )
    printed, read_anew = read([Block("text", ((sentence, False),)) for sentence in sentences * 4], tmp_path)
    assert read_anew == printed


def found(text: str, confidence: float = 0.9) -> Found:
    return Found(text, 0.0, 0.0, 60.0, 20.0, confidence, 0)


@pytest.mark.parametrize(
    ("texts", "expected"),
    [
        (["Oty", "OTY"], ["Qty", "QTY"]),
        (["10", "pes.", "1", "pe."], ["10", "pcs.", "1", "pc."]),
        (["STEP", "1", "SLEP", "2", "STEP", "3"], ["STEP", "1", "STEP", "2", "STEP", "3"]),
        (["clip", "chip", "clip"], ["clip", "chip", "clip"]),  # words that manuals have, whichever the page has more often
        (["RACE", "TRACE", "RACE", "FACE"], ["RACE", "TRACE", "RACE", "FACE"]),
    ],
)
def test_slips_in_words(texts: list[str], expected: list[str]) -> None:
    assert [word.text for word in respelled([found(text) for text in texts])] == expected


def test_a_sign_that_the_page_does_not_have_is_not_told() -> None:
    picture = np.full((60, 200), 255, dtype=np.uint8)
    picture[20:40, 10:14] = 0  # a bar, of which the page says that it is a 1
    picture[20:40, 100:120] = 0  # a block, like nothing on the page
    level = Level(40.0, 29.0)
    glyphs = Glyphs(picture, [Found("1", 10.0, 20.0, 13.0, 39.0, 0.95, 0)], {0: level})
    assert glyphs.text(glyphs.signs(5, 20, level)) == "1"
    assert glyphs.text(glyphs.signs(95, 125, level)) is None


def test_a_short_line_is_of_the_size_of_the_text() -> None:
    """A t is lower than an h, and figures may be: "nuts." at the end of a paragraph is no small print."""
    body = [Found("hinges", 0.0, 30.0 * n, 60.0, 30.0 * n + 27.0, 0.95, n) for n in range(9)]  # 27 pixels: 0.9 of 30
    last = Found("nuts.", 0.0, 300.0, 40.0, 318.0, 0.95, 9)
    sizes = type_sizes([*body, last])
    assert sizes[9] == sizes[0]
