"""PDF files: pages with a text layer through pdfium; pages that are pictures go to the scan reader."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import Future
from contextlib import closing
from typing import TYPE_CHECKING, Any

import pypdfium2  # type: ignore[import-untyped]
import pypdfium2.raw as pdfium  # type: ignore[import-untyped]

from hoopwright.model.document import Document
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading.ahead import in_order
from hoopwright.reading.assemble import assemble
from hoopwright.reading.characters import Fonts, PageText, TooManyCharacters, page_text
from hoopwright.reading.content import PageContent
from hoopwright.reading.frame import Frame, page_frame
from hoopwright.reading.layout import arrange
from hoopwright.reading.limits import MAX_PAGE_CHARS, MAX_PAGES
from hoopwright.reading.pdf_pictures import Wanted, wanted_picture
from hoopwright.reading.rules import page_tables
from hoopwright.reading.sources import Source
from hoopwright.reading.tesseract_error import RecogniserError

if TYPE_CHECKING:
    from hoopwright.reading.pdf_scan import PageScanner

_AHEAD = 6  # pages that are begun before they are asked for

_DAMAGED = "get another copy, or print it to PDF without this page"
Progress = Callable[[str], None]


def read_pdf(source: Source, id: str, progress: Progress | None = None) -> Document:
    """The document in a PDF file. Pages without a usable text layer are read as pictures. Raises UnreadableDocument."""
    with closing(_open(source)) as pdf, _Reader(pdf, source, progress) as reader:
        count = len(pdf)
        if count > MAX_PAGES:
            remedy = "split the file and give only the manual's pages"
            raise UnreadableDocument(f"it has {count:,} pages, more than {MAX_PAGES:,}", remedy, file=source.path)
        if count == 0:
            raise UnreadableDocument("it has no pages", "save it again, or get another copy", file=source.path)
        document = assemble(source.path, id, "pdf", source.sha256, reader.pages())
    if not document.lines:
        unread = "; ".join(document.notes)
        problem = f"no text was found in it ({unread})" if unread else "it has no text"
        raise UnreadableDocument(problem, "give a version with a text layer, or cleaner scans of its pages", file=source.path)
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


class _Reader:
    """Reads the pages of one PDF: text layers at once, pictures side by side and a few pages ahead."""

    def __init__(self, pdf: pypdfium2.PdfDocument, source: Source, progress: Progress | None) -> None:
        self._pdf = pdf
        self._source = source
        self._progress = progress
        self._fonts = Fonts()
        self._scanner: PageScanner | None = None

    def __enter__(self) -> _Reader:
        return self

    def __exit__(self, *error: Any) -> None:
        if self._scanner is not None:
            self._scanner.__exit__(*error)

    def pages(self) -> Iterator[PageContent]:
        """The pages in order. Raises UnreadableDocument."""
        given = 0
        try:
            for content in in_order(self._begun(), _AHEAD):
                given += 1
                yield content
        except RecogniserError as error:
            raise UnreadableDocument(error.problem, error.remedy, file=self._source.path, page=given + 1) from error

    def _begun(self) -> Iterator[PageContent | Future[PageContent]]:
        for index in range(len(self._pdf)):
            try:
                page = self._pdf[index]
            except pypdfium2.PdfiumError as error:
                raise self._damaged("the page is damaged", index + 1) from error
            with closing(page):
                yield self._page(page, index + 1)

    def _page(self, page: Any, number: int) -> PageContent | Future[PageContent]:
        frame = page_frame(page)
        text = self._text(page, frame, number)
        wanted = wanted_picture(page, frame, text)
        if wanted is not None and wanted.whole:
            return self._picture(page, wanted, PageContent(size=frame.size), number)
        tables = page_tables(page, frame) if text.pieces else []
        content = arrange(text.pieces, tables, frame.size)
        return content if wanted is None else self._picture(page, wanted, content, number)

    def _text(self, page: Any, frame: Frame, number: int) -> PageText:
        try:
            with closing(page.get_textpage()) as textpage:
                return page_text(textpage, frame, self._fonts)
        except TooManyCharacters as error:
            problem = f"it has more than {MAX_PAGE_CHARS:,} characters"
            raise UnreadableDocument(problem, "leave the page out", file=self._source.path, page=number) from error
        except pypdfium2.PdfiumError as error:
            raise self._damaged("its text is damaged", number) from error

    def _picture(self, page: Any, wanted: Wanted, content: PageContent, number: int) -> PageContent | Future[PageContent]:
        if self._scanner is None:
            from hoopwright.reading.pdf_scan import PageScanner  # heavy imports that files with a text layer do without

            self._scanner = PageScanner()
        if self._progress is not None:
            self._progress(f"reading {self._source.path.name}: page {number} of {len(self._pdf)} as a picture")
        try:
            return self._scanner.submit(page, wanted, content, content.size or (0.0, 0.0))
        except (pypdfium2.PdfiumError, ValueError, MemoryError) as error:
            raise self._damaged("the page cannot be drawn", number) from error

    def _damaged(self, problem: str, number: int) -> UnreadableDocument:
        return UnreadableDocument(problem, _DAMAGED, file=self._source.path, page=number)
