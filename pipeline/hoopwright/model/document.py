"""What a file holds once it is read: lines of text, each with its page and its place."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from typing import Literal

DocumentKind = Literal["pdf", "text", "markdown", "scan"]


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle on a page in points (1/72 in), measured from the page's top left corner."""

    x0: float
    top: float
    x1: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Word:
    """A word of a line. ``start`` is its first character in ``Document.text``; ``confidence`` (0..1) is None for a text layer."""

    text: str
    start: int
    box: Box | None = None
    confidence: float | None = None


@dataclass(frozen=True, slots=True)
class Line:
    """A line as printed, in reading order. Leading blanks of plain text are kept: they show nesting.

    ``start`` is the offset of its first character in ``Document.text``; ``size`` the font size in points, None in plain text.
    """

    text: str
    page: int
    start: int
    box: Box | None = None
    words: tuple[Word, ...] = ()
    size: float | None = None
    bold: bool = False
    bold_end: int = 0  # characters at its start that are set bold, where a PDF tells


@dataclass(frozen=True, slots=True)
class Grid:
    """A table as rows of cell texts. ``lines`` gives, for each row, the indices into ``Document.lines`` that the row covers."""

    page: int
    rows: tuple[tuple[str, ...], ...]
    lines: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Document:
    """One input file. ``text`` is exactly the lines joined by newlines, so that an offset names a character for good."""

    id: str
    name: str
    kind: DocumentKind
    pages: int
    sha256: str
    text: str
    lines: tuple[Line, ...]
    grids: tuple[Grid, ...] = ()
    page_sizes: tuple[tuple[float, float], ...] = ()  # width, height in points; empty for plain text
    notes: tuple[str, ...] = ()  # what the reader had to guess, e.g. an encoding

    def line_at(self, offset: int) -> Line:
        """The line that holds the character at ``offset``."""
        index = bisect_right(self.lines, offset, key=lambda line: line.start) - 1
        return self.lines[max(index, 0)]
