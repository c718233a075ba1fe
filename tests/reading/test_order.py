"""Reading order: each sheet is drawn in the order in which it is to be read, which poppler, no part of ours, gives with ``-raw``."""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path

import hoopwright.reading.pdf as pdf_module
import pytest
from hoopwright.model.document import Document
from hoopwright.reading import read_document

from reading.measures import f1, needs_poppler, pdftotext, words_of
from reading.sheets import SHEETS, STEPS, Sheet

SheetFile = Callable[[Sheet | str], Path]
BAR = 0.995

# Where the drawing order is not the one and only order of reading, with the order that is measured instead.
# A cell's second line is drawn before the cell beside it; we give printed lines.
AS_PRINTED = {"unruled_wrapped", "unruled_in_columns"}
# The order of the labels of a drawing means nothing; the sentences are what counts.
FREE_ORDER = {"drawing_beside", "drawing_below", "drawing_between_columns", "step_pictures", "merged_cells"}
# Sections with columns of their own cannot be told from columns that run on once the drawing order is lost and no step is numbered.
NEEDS_DRAWING_ORDER = {"sections_in_columns"}


def joined(document: Document) -> str:
    return " ".join(words_of(document.text)).replace("-", "")


@needs_poppler
@pytest.mark.parametrize("sheet", [s for s in SHEETS if s.name not in FREE_ORDER], ids=lambda s: s.name)
def test_words_in_order(sheet: Sheet, sheet_file: SheetFile) -> None:
    path = sheet_file(sheet)
    ours = words_of(read_document(path, "D1").text)
    drawn, laid_out = f1(ours, pdftotext(path, "-raw")), f1(ours, pdftotext(path))
    assert max(drawn, laid_out if sheet.name in AS_PRINTED else 0.0) >= BAR


@needs_poppler
@pytest.mark.parametrize("sheet", SHEETS, ids=lambda s: s.name)
def test_all_words_once(sheet: Sheet, sheet_file: SheetFile) -> None:
    path = sheet_file(sheet)
    assert sorted(words_of(read_document(path, "D1").text)) == sorted(pdftotext(path, "-raw"))


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda s: s.name)
def test_sentences_unbroken(sheet: Sheet, sheet_file: SheetFile) -> None:
    text = joined(read_document(sheet_file(sheet), "D1"))
    for sentence in STEPS:
        assert text.count(" ".join(sentence.split()).replace("-", "")) == sheet.source.count(sentence)


@pytest.mark.parametrize("drawn", ["shuffled", "row by row"])
@pytest.mark.parametrize("sheet", [s for s in SHEETS if s.name not in NEEDS_DRAWING_ORDER], ids=lambda s: s.name)
def test_other_drawing_order(sheet: Sheet, drawn: str, sheet_file: SheetFile, monkeypatch: pytest.MonkeyPatch) -> None:
    """The same page drawn in another order gives the same lines and tables."""
    path = sheet_file(sheet)
    plain = read_document(path, "D1")
    arrange = pdf_module.arrange

    def arrange_other(pieces, tables, size):  # type: ignore[no-untyped-def]
        if drawn == "shuffled":
            random.Random(len(pieces)).shuffle(pieces)
        else:
            pieces.sort(key=lambda p: (round(p.x0 / 3), p.top) if p.turn % 2 else (round(p.top / 3), p.x0))
        for number, piece in enumerate(pieces):
            piece.order, piece.glued = number, False
        return arrange(pieces, tables, size)

    monkeypatch.setattr(pdf_module, "arrange", arrange_other)
    other = read_document(path, "D1")
    assert f1(words_of(plain.text), words_of(other.text)) >= 0.999
    assert [grid.rows for grid in other.grids] == [grid.rows for grid in plain.grids]


def test_lines_keep_their_offsets(sheet_file: SheetFile) -> None:
    document = read_document(sheet_file("two_columns"), "D1")
    assert document.text == "\n".join(line.text for line in document.lines)
    for line in document.lines:
        assert document.text[line.start : line.start + len(line.text)] == line.text
        for word in line.words:
            assert document.text[word.start : word.start + len(word.text)] == word.text
            assert word.box is not None
            assert 0 <= word.box.x0 < word.box.x1 <= document.page_sizes[0][0]
            assert 0 <= word.box.top < word.box.bottom <= document.page_sizes[0][1]


def test_size_and_weight(sheet_file: SheetFile) -> None:
    document = read_document(sheet_file("title_page"), "D1")
    title = document.lines[0]
    assert (title.text, title.size, title.bold) == ("Growing tunnel", 28.0, True)
    assert [line.bold for line in document.lines[1:]] == [False] * (len(document.lines) - 1)
