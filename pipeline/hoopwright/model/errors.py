"""The one family of errors that a user can mend: one line that names the file, the page and the remedy."""

from __future__ import annotations

from pathlib import Path


class HoopwrightError(Exception):
    """A failure that the user can mend.

    ``str(error)`` is one line: what file, what page (if any), what is wrong, what to do about it.
    ``exit_code`` is what the command line ends with.
    """

    exit_code = 3

    def __init__(self, problem: str, remedy: str, *, file: Path | str | None = None, page: int | None = None) -> None:
        self.problem = problem
        self.remedy = remedy
        self.file = None if file is None else str(file)
        self.page = page
        where = "" if self.file is None else f"{self.file}: "
        if page is not None:
            where += f"page {page}: "
        # A name on disk may hold control characters; one line stays one line.
        line = f"{where}{problem}; {remedy}" if remedy else f"{where}{problem}"
        super().__init__("".join(c if c.isprintable() else " " for c in line))


class UnreadableDocument(HoopwrightError):
    """A document that is missing, damaged, locked, empty, too large, or of a kind that is not read."""


class NotAManual(HoopwrightError):
    """A document that was read, but holds no hoops or no fittings, or is in another language."""


class GrammarError(HoopwrightError):
    """A grammar file that breaks its own form."""

    exit_code = 2


class UsageError(HoopwrightError):
    """Arguments that contradict each other or name something that is not there."""

    exit_code = 2


class OutputError(HoopwrightError):
    """The place for the results cannot be written."""
