"""The same manual gives the same schedule, however it is printed: a few manuals in one layout each. bench_layouts.py has all of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from hoopwright.outlining import outline
from hoopwright.reading import read_document, tesseract

import library
from reading.layouts import BOOKLET, COLUMN, COLUMNS, PRINTED, UNRULED, Layout, print_manual
from reading.manual_blocks import Block
from reading.reprinting import Difference, against_text, reprinted

KITS = {kit.name: kit for kit in [*library.SAMPLES, *library.kits(library.CORPUS_FOLDER)]}
PRINTS = (
    ("c1-telegraphic-us", COLUMNS),
    ("c5-lettered-pointed", UNRULED),
    ("d1-bow-house", COLUMNS),
    ("e1-table-led", COLUMNS),
    ("g3-captions-cm", COLUMN),
    ("orchard-6", BOOKLET),
)
needs_tesseract = pytest.mark.skipif(not tesseract.is_installed(), reason="tesseract (Debian: tesseract-ocr) is not installed")


def difference(name: str, layout: Layout, folder: Path, *, scan: bool = False) -> Difference:
    reprinted(KITS[name], layout, folder, scan=scan)
    return against_text(KITS[name], folder)


@pytest.mark.parametrize(("name", "layout"), PRINTS, ids=lambda value: getattr(value, "name", value))
def test_a_print_gives_the_counts_of_the_text(name: str, layout: Layout, tmp_path: Path) -> None:
    found = difference(name, layout, tmp_path)
    assert found.cells and found.alike >= 0.99 * found.cells and not found.silent, "\n".join(found.lines)


@needs_tesseract
def test_a_scan_gives_the_counts_of_the_text(tmp_path: Path) -> None:
    found = difference("orchard-6", COLUMN, tmp_path, scan=True)
    assert found.cells and found.alike >= 0.97 * found.cells and not found.silent, "\n".join(found.lines)


def text(words: str) -> Block:
    return Block("text", ((words, False),))


def heading(words: str) -> Block:
    return Block("heading", ((words, True),), level=3)


STEPS = [
    heading("Legs"),
    text("Slide one ring onto each leg."),
    text("Tighten nothing yet."),
    heading("End hoops"),
    text("Slide one clip onto each leg of the two end hoops and turn its open side to the middle of the tunnel, so that it is in reach."),
    text("Go on with the others."),
]


@pytest.mark.parametrize("layout", PRINTED, ids=lambda layout: layout.name)
def test_short_paragraphs_under_small_headings_stay_apart(layout: Layout, tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(print_manual(STEPS, layout))
    found = outline([read_document(path, "D1")])
    assert [section.title.text if hasattr(section.title, "text") else section.title for section in found.sections][-2:] == [
        "Legs",
        "End hoops",
    ]
    assert len(found.steps) == 4


HOOPS = Block("table", rows=(("Hoop", "Fitting", "Place", "Qty"), ("1 to 6", "Foot bolt (L)", "each foot", "2")), head=True)
TUBES = Block(
    "table", rows=(("Member", "Fitting", "Qty"), ("Ridge rail", "Rail coupling (AA)", "3"), ("Left rail", "Clip (B)", "4")), head=True
)


@pytest.mark.parametrize("layout", [COLUMN, UNRULED], ids=lambda layout: layout.name)
def test_small_tables_one_below_the_other(layout: Layout, tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(print_manual([heading("Rails"), TUBES, heading("Feet"), HOOPS], layout))
    assert [grid.rows for grid in read_document(path, "D1").grids] == [TUBES.rows, HOOPS.rows]


def test_a_running_head_that_comes_once_is_no_text(tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(print_manual([text(f"Slide clip {n} onto the left leg of hoop {n}. " * 12) for n in range(1, 18)], COLUMNS))
    document = read_document(path, "D1")
    assert document.pages == 2 and "Issue 3" in document.text
    assert all("Issue 3" not in step.text for step in outline([document]).steps)
