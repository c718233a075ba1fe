"""Pages of a PDF drawn and read as pictures."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future
from statistics import mean
from typing import Any

import numpy as np

from hoopwright.reading.content import PageContent
from hoopwright.reading.pdf_pictures import Wanted, merged, resolution
from hoopwright.reading.scan import Picture, ScanReader
from hoopwright.reading.tesseract import Gray, is_installed

_LOOK_DPI = 50  # is enough to tell a page of text from a photo
_PAPER, _INK = 200, 110  # grey levels from which and to which a pixel is paper and ink
_LEAST_PAPER, _MOST_GREY = 0.55, 0.25  # shares of a page of text
_LEAST_WORDS, _LEAST_SURE = 8, 0.75  # of a picture on a page with text, for its words to be believed


class PageScanner:
    """Reads pages of one PDF as pictures, side by side. Use it in a ``with`` block."""

    def __init__(self) -> None:
        self.reader = ScanReader()

    def __enter__(self) -> PageScanner:
        return self

    def __exit__(self, *error: Any) -> None:
        self.reader.__exit__(*error)

    def submit(self, page: Any, wanted: Wanted, text: PageContent, size: tuple[float, float]) -> Future[PageContent] | PageContent:
        """The page's content, to come: its own text, with what is read of the picture."""
        if not wanted.whole and not looks_like_text(draw(page, wanted, size, _LOOK_DPI)):
            return text
        if not is_installed() and not (wanted.whole and looks_like_text(draw(page, wanted, size, _LOOK_DPI))):
            text.notes.append("a picture on it was not read, for the text recogniser tesseract is not installed")
            return text
        dpi = resolution(wanted.box, wanted.dpi)
        picture = Picture(draw(page, wanted, size, dpi), dpi, size, wanted.box[0], wanted.box[1])
        return self.reader.submit(picture, _put_together(text, wanted))


def _put_together(text: PageContent, wanted: Wanted) -> Callable[[PageContent], PageContent]:
    """What to do with the picture's content once it is read."""

    def together(read: PageContent) -> PageContent:
        if wanted.whole:
            read.notes.insert(0, f"read as a picture by the text recogniser: {wanted.reason}")
            return read
        words = [word for line in read.lines for word in line.words]
        if len(words) < _LEAST_WORDS or mean(word.confidence or 0.0 for word in words) < _LEAST_SURE:
            return text
        text.notes.append(f"a picture on it was read by the text recogniser: {wanted.reason}")
        return merged(text, read)

    return together


def draw(page: Any, wanted: Wanted, size: tuple[float, float], dpi: int) -> Gray:
    """The wanted part of the page in grey."""
    x0, top, x1, bottom = wanted.box
    width, height = size
    edges = (max(x0, 0.0), max(height - bottom, 0.0), max(width - x1, 0.0), max(top, 0.0))  # left, bottom, right, top
    bitmap = page.render(scale=dpi / 72, crop=edges, grayscale=True, may_draw_forms=False)
    try:
        pixels = np.array(bitmap.to_numpy(), dtype=np.uint8)
    finally:
        bitmap.close()
    return pixels if pixels.ndim == 2 else pixels[:, :, 0]


def looks_like_text(picture: Gray) -> bool:
    """Whether the picture is mostly paper with a little ink, as a page of text is, and not a photo."""
    if not picture.size:
        return False
    paper, ink = float((picture >= _PAPER).mean()), float((picture <= _INK).mean())
    light = float(np.percentile(picture, 90))
    if light < _PAPER:  # a dark photo of a page: measured against its own paper
        paper, ink = float((picture >= 0.75 * light).mean()), float((picture <= 0.45 * light).mean())
    return paper >= _LEAST_PAPER and 1.0 - paper - ink <= _MOST_GREY
