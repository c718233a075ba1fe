"""Documents built by hand, as the reading stage would hand them over."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain
from textwrap import dedent

from hoopwright.model.document import Box, Document, DocumentKind, Grid, Line, Word
from hoopwright.model.outline import Outline, Step
from hoopwright.outlining import outline

CHAR = 5.0  # points to a character of the pages drawn here
PITCH = 12.0  # points from line to line


def document(text: str, kind: DocumentKind = "text", id: str = "D1") -> Document:
    """Plain text or Markdown; a form feed ends a page."""
    lines: list[Line] = []
    at = 0
    sheets = dedent(text).strip("\n").split("\f")
    for page, sheet in enumerate(sheets, start=1):
        for row in sheet.strip("\n").split("\n") if page > 1 else sheet.split("\n"):
            lines.append(Line(row, page, at))
            at += len(row) + 1
    return Document(id, f"{id}.txt", kind, len(sheets), "0" * 64, "\n".join(line.text for line in lines), tuple(lines))


@dataclass(frozen=True)
class Print:
    """A printed line of a page: its words stand where the text has them, ``x`` characters from the left edge, on line ``y``."""

    text: str
    y: float
    x: float = 10.0
    page: int = 1
    size: float = 10.0
    bold: bool = False


def printed(prints: Iterable[Print], grids: tuple[Grid, ...] = (), id: str = "D1") -> Document:
    """A PDF document. Wide blanks in a line's text part words on the page, as in a table; the line's own text has single blanks."""
    lines: list[Line] = []
    at = 0
    pages = 1
    for item in prints:
        text = " ".join(item.text.split())
        words, start, column = [], at, 0
        for piece in item.text.split():
            column = item.text.index(piece, column)
            x0 = (item.x + column) * CHAR
            words.append(Word(piece, start, Box(x0, item.y * PITCH, x0 + len(piece) * CHAR, item.y * PITCH + item.size)))
            start += len(piece) + 1
            column += len(piece)
        boxes = [word.box for word in words if word.box]
        box = Box(boxes[0].x0, item.y * PITCH, boxes[-1].x1, item.y * PITCH + item.size)
        lines.append(Line(text, item.page, at, box, tuple(words), item.size, item.bold))
        at += len(text) + 1
        pages = max(pages, item.page)
    joined = "\n".join(line.text for line in lines)
    return Document(id, f"{id}.pdf", "pdf", pages, "0" * 64, joined, tuple(lines), grids, ((595.0, 842.0),) * pages)


def outlined(text: str, kind: DocumentKind = "text") -> Outline:
    """The outline of one document."""
    return outline([document(text, kind)])


def labels(found: Outline) -> list[str | None]:
    """The labels of all steps, in order."""
    return [step.label for step in found.steps]


def shape(step: Step) -> list[tuple[str, str]]:
    """(kind, text) of each item of a step; nested ones with their level and label in front."""
    return [
        (
            item.kind + (f" {item.level}{item.label or ''}" if item.level else "") + (f" {item.signal}" if item.signal else ""),
            item.passage.text,
        )
        for item in step.items
    ]


def cells(found: Outline) -> list[list[list[str]]]:
    """Every table of an outline as rows of cell texts, its head first."""
    items = chain.from_iterable(step.items for step in found.steps)
    return [[list(item.table.head), *([cell.text for cell in row] for row in item.table.rows)] for item in items if item.table]
