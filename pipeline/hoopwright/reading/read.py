"""The way in: files to documents."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from hoopwright.model.document import Document
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading.assemble import assemble
from hoopwright.reading.encodings import decode
from hoopwright.reading.html import is_html, read_html
from hoopwright.reading.plain import kind_of, read_plain
from hoopwright.reading.sources import Source, expand, load

Progress = Callable[[str], None]


def read_documents(paths: Sequence[Path], *, progress: Progress | None = None) -> tuple[Document, ...]:
    """The documents in ``paths`` in order, with ids D1, D2 …

    A folder stands for the files that its ``order`` file names, one a line. ``progress`` is called with a line of text for each file,
    and for each page of a scan. Raises UnreadableDocument, which names file, page and remedy; nothing is returned then.
    """
    files = expand([Path(path) for path in paths])
    return tuple(read_document(file, f"D{number}", progress=progress) for number, file in enumerate(files, start=1))


def read_document(path: Path, id: str, *, progress: Progress | None = None) -> Document:
    """The document in the file ``path``: PDF, text, Markdown, HTML, or a picture of a page; told by the content, not by the name.

    Boxes are in points from the page's top left corner, as the page is shown. Raises UnreadableDocument.
    """
    source = load(Path(path))
    if progress is not None:
        progress(f"reading {source.path.name}")
    if source.kind == "pdf":
        from hoopwright.reading.pdf import read_pdf  # a heavy import that plain text can do without

        return read_pdf(source, id, progress)
    if source.kind == "image":
        from hoopwright.reading.images import read_image  # numpy and Pillow: as heavy

        return read_image(source, id, progress)
    return _read_text(source, id)


def _read_text(source: Source, id: str) -> Document:
    text, notes = decode(source.data, source.path)
    if is_html(text, source.path):
        note = "HTML: headings, lists and tables are shown as Markdown"
        return _filled(assemble(source.path, id, "markdown", source.sha256, read_html(text, source.path), (*notes, note)), source)
    kind = kind_of(text, source.path)
    return _filled(assemble(source.path, id, kind, source.sha256, read_plain(text, source.path), notes), source)


def _filled(document: Document, source: Source) -> Document:
    if not document.text.strip():
        raise UnreadableDocument("it has no text in it", "give a file with the manual's text", file=source.path)
    return document
