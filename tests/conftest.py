"""What all tests share: the rows of scored manuals at the end of a run, and no skipping under CI for want of a program."""

from __future__ import annotations

import os
from collections.abc import Callable, Generator
from typing import TypeVar

import pytest
from hoopwright.parsing.interpret import Interpreter
from rows import Rows

Report = TypeVar("Report", pytest.TestReport, pytest.CollectReport)


@pytest.fixture
def record_row(record_property: Callable[[str, object], None]) -> Rows:
    """Takes lines that are printed at the end of the run."""
    return Rows(record_property)


def pytest_configure() -> None:
    """Let faults of the reader fail a test instead of becoming questions."""
    Interpreter.strict = True


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Show the figures of the scored manuals."""
    reports = [report for outcome in ("passed", "failed") for report in terminalreporter.stats.get(outcome, ())]
    rows = [str(value) for report in reports for name, value in getattr(report, "user_properties", ()) if name == "row"]
    if rows:
        terminalreporter.section("manuals against their reference readings")
        for row in sorted(rows):
            terminalreporter.write_line(row)


def _no_excuse(report: Report) -> Report:
    """A check against an outside program may be skipped where the program is not installed, but CI has to have it."""
    if report.skipped and os.environ.get("CI") == "true" and "not installed" in str(report.longrepr):
        report.outcome = "failed"
    return report


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport() -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Under CI, a test that is skipped for want of a program fails."""
    return _no_excuse((yield))


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report() -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """Under CI, a module that is skipped for want of a library fails."""
    return _no_excuse((yield))
