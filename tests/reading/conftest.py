"""PDF files of the sheets, made once a run."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from reading.sheets import SHEETS, Sheet, pdf


@pytest.fixture(scope="session")
def sheet_file(tmp_path_factory: pytest.TempPathFactory) -> Callable[[Sheet | str], Path]:
    """The PDF file of a sheet, or of the sheet with that name."""
    folder = tmp_path_factory.mktemp("sheets")
    by_name = {sheet.name: sheet for sheet in SHEETS}

    def make(sheet: Sheet | str) -> Path:
        chosen = by_name[sheet] if isinstance(sheet, str) else sheet
        path = folder / f"{chosen.name}.pdf"
        if not path.exists():
            path.write_bytes(pdf(chosen.source))
        return path

    return make
