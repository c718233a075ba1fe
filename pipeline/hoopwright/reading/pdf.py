"""PDF files: pages with a text layer through pdfium; pages that are pictures go to the scan reader."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import closing
from typing import Any

import pypdfium2  # type: ignore[import-untyped]
import pypdfium2.raw as pdfium  # type: ignore[import-untyped]

from hoopwright.model.document import Document
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading.assemble import assemble
from hoopwright.reading.characters import Fonts, TooManyCharacters, page_text
from hoopwright.reading.content import PageContent
from hoopwright.reading.frame import page_frame
from hoopwright.reading.layout import arrange
from hoopwright.reading.limits import MAX_PAGE_CHARS, MAX_PAGES
from hoopwright.reading.rules import page_tables
from hoopwright.reading.sources import Source

_OCR_REMEDY = "its pages are pictures: save a version with a text layer and give that"


def read_pdf(source: Source, id: str, progress: Callable[[str], None] | None = None) -> Document:
    """The document in a PDF file. Raises UnreadableDocument."""
    with closing(_open(source)) as pdf:
        count = len(pdf)
        if count > MAX_PAGES:
            remedy = "split the file and give only the manual's pages"
            raise UnreadableDocument(f"it has {count:,} pages, more than {MAX_PAGES:,}", remedy, file=source.path)
        if count == 0:
            raise UnreadableDocument("it has no pages", "save it again, or get another copy", file=source.path)
        document = assemble(source.path, id, "pdf", source.sha256, _pages(pdf, source))
    if not document.lines:
        raise UnreadableDocument("it has no text", _OCR_REMEDY, file=source.path)
    return document


def _open(source: Source) -> pypdfium2.PdfDocument:
    try:
        return pypdfium2.PdfDocument(source.data)
    except pypdfium2.PdfiumError as error:
        code = getattr(error, "err_code", None)
        if code == pdfium.FPDF_ERR_PASSWORD and b"/Encrypt" in source.data:  # pdfium says so of some damaged files, too
            remedy = "open it with its password and save or print it to PDF without one"
            raise UnreadableDocument("it is locked with a password", remedy, file=source.path) from error
        if code == pdfium.FPDF_ERR_SECURITY:
            remedy = "print it to PDF with the program that opens it"
            raise UnreadableDocument("it is locked in a way that is not known here", remedy, file=source.path) from error
        remedy = "get another copy, or open it in a viewer and print it to PDF"
        raise UnreadableDocument("it is damaged or cut off, or no PDF", remedy, file=source.path) from error


def _pages(pdf: pypdfium2.PdfDocument, source: Source) -> Iterator[PageContent]:
    fonts = Fonts()
    for index in range(len(pdf)):
        try:
            page = pdf[index]
        except pypdfium2.PdfiumError as error:
            remedy = "get another copy, or print it to PDF without this page"
            raise UnreadableDocument("the page is damaged", remedy, file=source.path, page=index + 1) from error
        with closing(page):
            yield _page(page, fonts, source, index + 1)


def _page(page: Any, fonts: Fonts, source: Source, number: int) -> PageContent:
    frame = page_frame(page)
    try:
        with closing(page.get_textpage()) as textpage:
            text = page_text(textpage, frame, fonts)
    except TooManyCharacters as error:
        problem = f"it has more than {MAX_PAGE_CHARS:,} characters"
        raise UnreadableDocument(problem, "leave the page out", file=source.path, page=number) from error
    except pypdfium2.PdfiumError as error:
        remedy = "get another copy, or print it to PDF without this page"
        raise UnreadableDocument("its text is damaged", remedy, file=source.path, page=number) from error
    tables = page_tables(page, frame) if text.pieces else []
    return arrange(text.pieces, tables, frame.size)
