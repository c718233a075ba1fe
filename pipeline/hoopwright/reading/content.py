"""What one page gives, before the pages are put together to a document."""

from __future__ import annotations

from dataclasses import dataclass, field

from hoopwright.model.document import Box


@dataclass(slots=True)
class PageWord:
    """A word with its box (None in plain text) and, from a scan, its confidence 0..1."""

    text: str
    box: Box | None = None
    confidence: float | None = None


@dataclass(slots=True)
class PageLine:
    """A line as printed. ``words`` stand in ``text`` in their order."""

    text: str
    box: Box | None = None
    words: list[PageWord] = field(default_factory=list)
    size: float | None = None
    bold: bool = False
    bold_end: int = 0  # characters at its start that are set bold


@dataclass(slots=True)
class PageGrid:
    """A table: rows of cell texts, and for each row the indices into the page's lines."""

    rows: list[list[str]]
    lines: list[list[int]]


@dataclass(slots=True)
class PageContent:
    """The lines of a page in reading order, its tables, its size in points (None for plain text), and what had to be guessed."""

    lines: list[PageLine] = field(default_factory=list)
    grids: list[PageGrid] = field(default_factory=list)
    size: tuple[float, float] | None = None
    notes: list[str] = field(default_factory=list)
    scanned: bool = False
