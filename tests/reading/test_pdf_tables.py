"""Tables in PDF files."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pdfplumber
import pytest
from hoopwright.reading import read_document

from reading.sheets import HEADED, SHEETS, Sheet

SheetFile = Callable[[Sheet | str], Path]
RULED = ("ruled_table", "ruled_in_columns", "merged_cells", "table_over_pages", "table_as_layout", "two_tables_side_by_side")


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda s: s.name)
def test_tables_as_written(sheet: Sheet, sheet_file: SheetFile) -> None:
    document = read_document(sheet_file(sheet), "D1")
    assert len(document.grids) == sheet.grids
    if sheet.rows:
        assert document.grids[0].rows == sheet.rows


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda s: s.name)
def test_rows_cover_their_lines(sheet: Sheet, sheet_file: SheetFile) -> None:
    document = read_document(sheet_file(sheet), "D1")
    for grid in document.grids:
        covered = [index for lines in grid.lines for index in lines]
        assert covered == list(range(covered[0], covered[-1] + 1))
        for row, lines in zip(grid.rows, grid.lines, strict=True):
            assert {document.lines[index].page for index in lines} == {grid.page}
            printed = " ".join(document.lines[index].text for index in lines).split()
            assert sorted(printed) == sorted(" ".join(row).split())


@pytest.mark.parametrize("name", RULED)
def test_ruled_tables_as_pdfplumber_finds_them(name: str, sheet_file: SheetFile) -> None:
    """The cells of ruled tables agree with pdfplumber's table finder, which is no part of ours."""
    path = sheet_file(name)
    with pdfplumber.open(path) as pdf:
        theirs = [[[" ".join((cell or "").split()) for cell in row] for row in t] for page in pdf.pages for t in page.extract_tables()]
    ours = [[list(row) for row in grid.rows] for grid in read_document(path, "D1").grids]
    assert ours == theirs


def test_table_split_by_a_page_break(sheet_file: SheetFile) -> None:
    grids = read_document(sheet_file("table_over_pages"), "D1").grids
    assert [grid.page for grid in grids] == sorted({grid.page for grid in grids})
    assert sum((grid.rows for grid in grids), ())[:7] == HEADED
