"""``outputs/`` holds what the tool makes of the sample manuals today, not what it made of them some time ago.

When this fails because the tool has changed for the better: ``python tests/project/refresh_outputs.py``, look at the difference, commit it.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import openpyxl
import pypdfium2  # type: ignore[import-untyped]
import pytest
from hoopwright.reporting.as_json import check

from library import SAMPLES, Kit
from project.refresh_outputs import OUTPUTS, PICTURE, PICTURE_OF, make_outputs


def pdf_words(path: Path) -> list[list[str]]:
    """The words of each page. The bytes of a PDF depend on the compression library, its words do not."""
    pdf = pypdfium2.PdfDocument(path)
    try:
        return [page.get_textpage().get_text_bounded().split() for page in pdf]
    finally:
        pdf.close()


def workbook_cells(path: Path) -> dict[str, list[tuple[Any, ...]]]:
    book = openpyxl.load_workbook(path)
    return {sheet.title: list(sheet.iter_rows(values_only=True)) for sheet in book.worksheets}


CONTENT: dict[str, Callable[[Path], object]] = {".pdf": pdf_words, ".xlsx": workbook_cells}


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda kit: kit.name)
def made(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[Kit, Path]:
    """A sample and a folder with fresh results."""
    kit: Kit = request.param
    folder = tmp_path_factory.mktemp(kit.name)
    make_outputs(kit, folder)
    return kit, folder


def test_the_kept_results_are_those_of_today(made: tuple[Kit, Path]) -> None:
    kit, fresh = made
    kept = OUTPUTS / kit.name
    names = {str(path.relative_to(fresh)) for path in fresh.rglob("*") if path.is_file()}
    pictures = {PICTURE} if kit.name == PICTURE_OF else set()
    assert {str(path.relative_to(kept)) for path in kept.rglob("*") if path.is_file()} == names | pictures
    differing = [name for name in names if content(kept / name) != content(fresh / name)]
    assert differing == []


def content(path: Path) -> object:
    return CONTENT.get(path.suffix, Path.read_bytes)(path)


def test_the_kept_schedules_are_valid(made: tuple[Kit, Path]) -> None:
    kit, _ = made
    data = json.loads((OUTPUTS / kit.name / "schedule.json").read_text(encoding="utf-8"))
    check(data)
    assert len(data["structure"]["hoops"]) == kit.reference["hoops"]


def test_nothing_else_is_kept() -> None:
    assert {path.name for path in OUTPUTS.iterdir()} >= {kit.name for kit in SAMPLES}
