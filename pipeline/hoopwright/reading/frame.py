"""Places on a page: from the page's own coordinates to points from the top left corner, and to text seen upright."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import pypdfium2.raw as pdfium  # type: ignore[import-untyped]

Rect = tuple[float, float, float, float]  # x0, top, x1, bottom
SLANTED = 4  # in the place of a number of quarter turns: text at an angle, such as a stamp across the page


@dataclass(frozen=True, slots=True)
class Frame:
    """The way from the page's own coordinates (y upwards, before rotation) to points from the top left of the page as shown."""

    left: float
    bottom: float
    right: float
    top: float
    rotation: int  # quarter turns clockwise

    @property
    def size(self) -> tuple[float, float]:
        width, height = self.right - self.left, self.top - self.bottom
        return (height, width) if self.rotation % 2 else (width, height)

    def rect(self, x0: float, y0: float, x1: float, y1: float) -> Rect:
        """The shown rectangle of the page's rectangle with the corners (x0, y0) and (x1, y1), y0 below y1."""
        if self.rotation == 0:
            return x0 - self.left, self.top - y1, x1 - self.left, self.top - y0
        if self.rotation == 1:
            return y0 - self.bottom, x0 - self.left, y1 - self.bottom, x1 - self.left
        if self.rotation == 2:
            return self.right - x1, y0 - self.bottom, self.right - x0, y1 - self.bottom
        return self.top - y1, self.right - x1, self.top - y0, self.right - x0


def page_frame(page: Any) -> Frame:
    """The frame of a loaded page, from the box that pdfium shows of it."""
    box = pdfium.FS_RECTF()
    pdfium.FPDF_GetPageBoundingBox(page, box)
    return Frame(box.left, box.bottom, box.right, box.top, pdfium.FPDFPage_GetRotation(page) % 4)


def upright(rect: Rect, turn: int) -> Rect:
    """The rectangle seen with its text upright: the page turned back by ``turn`` quarters. Only differences have a meaning.

    ``upright(…, -turn % 4)`` turns it back. SLANTED text is left as it stands.
    """
    x0, top, x1, bottom = rect
    if turn in (0, SLANTED):
        return rect
    if turn == 1:  # text runs down the page
        return top, -x1, bottom, -x0
    if turn == 2:
        return -x1, -bottom, -x0, -top
    return -bottom, x0, -top, x1
