"""Pages put together to a document, with the offset of every line and word in the document's text."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from hoopwright.model.document import Document, DocumentKind, Grid, Line, Word
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading.content import PageContent, PageGrid, PageLine
from hoopwright.reading.limits import MAX_TEXT_CHARS


def assemble(path: Path, id: str, kind: DocumentKind, sha256: str, pages: Iterable[PageContent], notes: Iterable[str] = ()) -> Document:
    """The document made of ``pages``; ``Document.text`` is the lines joined by newlines. A PDF of nothing but pictures is a scan.

    Raises UnreadableDocument if the text passes the limit.
    """
    lines: list[Line] = []
    grids: list[Grid] = []
    sizes: list[tuple[float, float]] = []
    all_notes = list(notes)
    count = offset = filled = scanned = 0
    for number, content in enumerate(pages, start=1):
        count = number
        first = len(lines)
        filled += bool(content.lines)
        scanned += bool(content.lines) and content.scanned
        for printed in content.lines:
            lines.append(_line(printed, number, offset))
            offset += len(printed.text) + 1
        if offset > MAX_TEXT_CHARS:
            remedy = "split the file and give only the pages of the manual"
            raise UnreadableDocument(f"more than {MAX_TEXT_CHARS:,} characters of text", remedy, file=path, page=number)
        grids.extend(_grid(grid, number, first) for grid in content.grids)
        if content.size is not None:
            sizes.append(content.size)
        all_notes.extend(f"page {number}: {note}" for note in content.notes)
    if kind == "pdf" and scanned and scanned == filled:
        kind = "scan"
    text = "\n".join(line.text for line in lines)
    return Document(
        id=id,
        name=path.name,
        kind=kind,
        pages=count,
        sha256=sha256,
        text=text,
        lines=tuple(lines),
        grids=tuple(grids),
        page_sizes=tuple(sizes),
        notes=tuple(all_notes),
    )


def _line(printed: PageLine, page: int, start: int) -> Line:
    return Line(printed.text, page, start, printed.box, tuple(_words(printed, start)), printed.size, printed.bold, printed.bold_end)


def _words(printed: PageLine, start: int) -> Iterator[Word]:
    at = 0
    for word in printed.words:
        at = printed.text.index(word.text, at)
        yield Word(word.text, start + at, word.box, word.confidence)
        at += len(word.text)


def _grid(grid: PageGrid, page: int, first: int) -> Grid:
    rows = tuple(tuple(row) for row in grid.rows)
    return Grid(page, rows, tuple(tuple(first + index for index in row) for row in grid.lines))
