"""The piece of the manual that a question stands on: a picture of the page with the sentence marked, and its words with those around it."""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path

from hoopwright.model.document import Box, Document
from hoopwright.model.outline import Outline, Source

AROUND = 90.0  # points of the page above and below the sentence
SCALE = 2.0  # pixels per point: sharp on a telephone too
MARGIN = 10.0  # points of blank paper left and right
COLUMN = 0.35  # of the page's width: a column of text is no narrower
LINES = 4  # of text before and after


@dataclass(frozen=True, slots=True)
class Words:
    """The sentence as the document has it, and what stands before and after it."""

    before: str
    sentence: str
    after: str


def document_of(outline: Outline, source: Source) -> Document | None:
    """The document that a source points into."""
    return next((each for each in outline.documents if each.id == source.document), None)


def words_around(outline: Outline, source: Source) -> Words:
    """The sentence and some lines around it, as in the document."""
    document = document_of(outline, source)
    if document is None or source.end <= source.start:
        return Words("", source.quote, "")
    text, start, end = document.text, source.start, source.end
    first, last = start, end
    for _ in range(LINES + 1):
        first = max(text.rfind("\n", 0, max(first, 0)), 0)
    for _ in range(LINES + 1):
        found = text.find("\n", last + 1)
        last = len(text) if found < 0 else found
    return Words(text[first:start].lstrip("\n"), text[start:end], text[end:last])


def marked_boxes(document: Document, source: Source) -> list[Box]:
    """Where the sentence stands on its page, a box for each word or line; empty for plain text."""
    boxes: list[Box] = []
    for line in document.lines:
        if line.page != source.page or line.start >= source.end or line.start + len(line.text) <= source.start:
            continue
        words = [word.box for word in line.words if word.box is not None and source.start <= word.start < source.end]
        boxes += words or ([line.box] if line.box is not None else [])
    return boxes


def has_picture(outline: Outline, source: Source | None) -> bool:
    """Whether the page can be drawn: a PDF in which the sentence has a place."""
    document = document_of(outline, source) if source is not None else None
    return document is not None and source is not None and document.kind in ("pdf", "scan") and bool(marked_boxes(document, source))


def _columns(document: Document, page: int, top: float, bottom: float, boxes: list[Box]) -> tuple[float, float]:
    """From where to where to cut: the sentence's own column if the page has several, the lines of that part of the page else.

    Blank margins and another column make the words small on a narrow screen.
    """
    near = [
        line.box
        for line in document.lines
        if line.page == page and line.box is not None and line.box.bottom > top and line.box.top < bottom
    ]
    left, right = min(box.x0 for box in boxes), max(box.x1 for box in boxes)
    for box in sorted(near, key=lambda box: abs(box.x0 + box.x1 - left - right)):
        if box.x0 < right and box.x1 > left:
            left, right = min(left, box.x0), max(right, box.x1)
    wide = document.page_sizes[page - 1][0] if page <= len(document.page_sizes) else 0.0
    if right - left >= COLUMN * wide > 0:  # narrower: a table's cell, which says little without its row
        return left - MARGIN, right + MARGIN
    return (min(box.x0 for box in near) - MARGIN, max(box.x1 for box in near) + MARGIN) if near else (0.0, 0.0)


def picture(outline: Outline, source: Source, file: Path) -> bytes | None:
    """A PNG of the page around the sentence, the sentence marked; None where the file cannot be drawn (any more)."""
    import pypdfium2  # type: ignore[import-untyped]
    from PIL import ImageDraw

    document = document_of(outline, source)
    if document is None:
        return None
    boxes = marked_boxes(document, source)
    try:
        pdf = pypdfium2.PdfDocument(file)
    except (OSError, pypdfium2.PdfiumError):
        return None
    try:
        if not boxes or not 1 <= source.page <= len(pdf):
            return None
        page = pdf[source.page - 1]
        image = page.render(scale=SCALE).to_pil().convert("RGB")
        # The boxes were measured on the page as the reader saw it; a page turned or cut since would give another size.
        size = document.page_sizes[source.page - 1] if source.page <= len(document.page_sizes) else page.get_size()
        wide, high = image.width / size[0], image.height / size[1]
        drawing = ImageDraw.Draw(image, "RGBA")
        for box in boxes:
            area = (box.x0 * wide - 2, box.top * high - 2, box.x1 * wide + 2, box.bottom * high + 2)
            drawing.rectangle(area, fill=(255, 221, 87, 90))
        lowest, highest = max(box.bottom for box in boxes), min(box.top for box in boxes)
        top = int(max((highest - AROUND) * high, 0))
        bottom = int(min((lowest + AROUND) * high, image.height))
        stream = io.BytesIO()
        left, right = _columns(document, source.page, highest - AROUND, lowest + AROUND, boxes)
        edges = (int(max(left * wide, 0)), int(min(right * wide, image.width))) if right > left else (0, image.width)
        image.crop((edges[0], top, edges[1], max(bottom, top + 1))).save(stream, "PNG")
        return stream.getvalue()
    finally:
        pdf.close()
