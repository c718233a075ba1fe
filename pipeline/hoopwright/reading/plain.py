"""Plain text and Markdown: lines as they stand, page by page (a form feed ends a page)."""

from __future__ import annotations

import re
from pathlib import Path

from hoopwright.model.document import DocumentKind
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading.content import PageContent, PageLine
from hoopwright.reading.limits import MAX_LINE_CHARS, MAX_PAGES
from hoopwright.reading.plain_tables import find_tables

_BREAKS = re.compile("\r\n|[\n\r\x0b\x85\u2028\u2029]")
_MARKDOWN_HEADING = re.compile(r"^#{1,6} +\S", re.MULTILINE)
_MARKDOWN_TABLE = re.compile(r"^ {0,3}\|?\s*:?-{2,}:?\s*(?:\|\s*:?-{2,}:?\s*)+\|?\s*$", re.MULTILINE)
_MARKDOWN_NAMES = {".md", ".markdown", ".mdown", ".mkd"}


def kind_of(text: str, path: Path) -> DocumentKind:
    """Markdown if the name says so, or if a plainly named file has Markdown headings or a Markdown table's rule."""
    if path.suffix.lower() in _MARKDOWN_NAMES or len(_MARKDOWN_HEADING.findall(text)) >= 2 or _MARKDOWN_TABLE.search(text):
        return "markdown"
    return "text"


def read_plain(text: str, path: Path) -> list[PageContent]:
    """The pages of ``text``. Blank lines are kept as empty lines, for they part paragraphs. Raises UnreadableDocument past the limits."""
    sheets = text.split("\f")
    if len(sheets) > 1 and not sheets[-1].strip():
        sheets.pop()  # printers end the last page with a form feed, too
    if len(sheets) > MAX_PAGES:
        raise UnreadableDocument(f"it has {len(sheets):,} pages, more than {MAX_PAGES:,}", "split it", file=path)
    return [_page(sheet, number, path) for number, sheet in enumerate(sheets, start=1)]


def _page(sheet: str, number: int, path: Path) -> PageContent:
    rows = _BREAKS.split(sheet)
    if rows and not rows[-1]:
        rows.pop()  # what stands behind the last newline is no line
    for index, row in enumerate(rows, start=1):
        if len(row) > MAX_LINE_CHARS:
            problem = f"line {index} has {len(row):,} characters, more than {MAX_LINE_CHARS:,}"
            raise UnreadableDocument(problem, "it is data or lost its line breaks; give the manual with its lines", file=path, page=number)
    return PageContent([PageLine(row.rstrip()) for row in rows], find_tables(rows))
