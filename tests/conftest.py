"""What all tests share: the rows of scored manuals at the end of a run, and programs from outside that some checks need."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable

import pytest

_ROWS: list[str] = []


@pytest.fixture
def record_row() -> list[str]:
    """Lines that are printed at the end of the run."""
    return _ROWS


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Show the figures of the scored manuals."""
    if _ROWS:
        terminalreporter.section("manuals against their reference readings")
        for row in _ROWS:
            terminalreporter.write_line(row)


@pytest.fixture
def outside() -> Callable[[str], str]:
    """The path of a program from outside (``pdftotext``): a test that asks for one that is not there is skipped, but fails under CI."""

    def find(program: str) -> str:
        path = shutil.which(program)
        if path is None and os.environ.get("CI") == "true":
            pytest.fail(f"{program} is not installed, and CI must not skip the check")
        if path is None:
            pytest.skip(f"{program} is not installed")
        return str(path)

    return find
