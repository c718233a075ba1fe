"""Which pages of a PDF, or which pictures on them, have to be read as pictures, and how they look."""

from __future__ import annotations

import ctypes
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2.raw as pdfium  # type: ignore[import-untyped]

from hoopwright.model.document import Box
from hoopwright.reading.characters import PageText
from hoopwright.reading.content import PageContent, PageGrid
from hoopwright.reading.frame import Frame, Rect
from hoopwright.reading.limits import MAX_PAGE_PATHS

_NAMELESS = 0.2  # share of a page's words with characters that no one can name, from which the page is read as a picture
_MOST_OF_PAGE = 0.5  # share of the page that a picture covers to be taken for the page itself
_LEAST_PICTURE = 0.12  # share of the page: smaller pictures are drawings of parts
_HIDDEN_WORDS = 10  # over a picture, from which they are the text that a scanner's program laid over it
_FEW_WORDS = 3  # over a picture that is looked at on its own
_DPI = (200, 300)  # the recogniser does best with type of these resolutions
_MOST_RENDERED = 40_000_000  # pixels: A3 at 300 dpi is 17 million
_MAX_DEPTH = 4  # of forms in forms


@dataclass(frozen=True, slots=True)
class Wanted:
    """What is to be read as a picture: a box in points, whether it is the whole page, its resolution, and why."""

    box: Rect
    whole: bool
    dpi: int
    reason: str


@dataclass(frozen=True, slots=True)
class _Image:
    box: Rect
    dpi: float

    @property
    def area(self) -> float:
        return max(self.box[2] - self.box[0], 0.0) * max(self.box[3] - self.box[1], 0.0)


def wanted_picture(page: Any, frame: Frame, text: PageText) -> Wanted | None:
    """What of the page must be read as a picture, None if its text layer is all there is."""
    width, height = frame.size
    whole = (0.0, 0.0, width, height)
    words = len(text.pieces)
    if words and text.unmapped > _NAMELESS * words:
        return Wanted(whole, True, _DPI[1], "its fonts do not name their characters")
    images, drawn = _images(page, frame)
    if not words:
        if not images and not drawn:
            return None
        dpi = max((image.dpi for image in images if image.area > 0.3 * width * height), default=float(_DPI[1]))
        return Wanted(whole, True, _clamped(dpi), "it has no text layer")
    for image in sorted(images, key=lambda i: -i.area):
        share = image.area / max(width * height, 1.0)
        over = sum(_inside(piece.x0, piece.top, piece.x1, piece.bottom, image.box) for piece in text.pieces)
        if share >= _MOST_OF_PAGE and over < _HIDDEN_WORDS:
            return Wanted(image.box, False, _clamped(image.dpi), "most of it is a picture")
        if share >= _LEAST_PICTURE and over < _FEW_WORDS:
            return Wanted(image.box, False, _clamped(image.dpi), "it has a picture with text")
    return None


def _clamped(dpi: float) -> int:
    return round(min(max(dpi, _DPI[0]), _DPI[1]))


def _inside(x0: float, top: float, x1: float, bottom: float, box: Rect) -> bool:
    return box[0] <= (x0 + x1) / 2 <= box[2] and box[1] <= (top + bottom) / 2 <= box[3]


def _images(page: Any, frame: Frame) -> tuple[list[_Image], bool]:
    """The pictures on the page, and whether anything else is drawn on it."""
    found: list[_Image] = []
    drawn = False
    width, height = frame.size
    for number, (obj, kind) in enumerate(_objects(page)):
        if number > MAX_PAGE_PATHS:
            break
        if kind != pdfium.FPDF_PAGEOBJ_IMAGE:
            drawn = drawn or kind in (pdfium.FPDF_PAGEOBJ_PATH, pdfium.FPDF_PAGEOBJ_TEXT, pdfium.FPDF_PAGEOBJ_SHADING)
            continue
        sides = [ctypes.c_float() for _ in range(4)]
        if not pdfium.FPDFPageObj_GetBounds(obj, *sides):
            continue
        left, bottom, right, top = (side.value for side in sides)
        x0, y0, x1, y1 = frame.rect(left, bottom, right, top)
        box = (max(x0, 0.0), max(y0, 0.0), min(x1, width), min(y1, height))
        across, down = ctypes.c_uint(), ctypes.c_uint()
        pdfium.FPDFImageObj_GetImagePixelSize(obj, across, down)
        inches = max(right - left, top - bottom, 1.0) / 72
        found.append(_Image(box, max(across.value, down.value) / inches))
    return found, drawn


def _objects(page: Any) -> Iterator[tuple[Any, int]]:
    """The page's objects with their kinds. Pictures inside of forms count as the forms: their place is the form's."""
    for index in range(pdfium.FPDFPage_CountObjects(page)):
        obj = pdfium.FPDFPage_GetObject(page, index)
        kind = pdfium.FPDFPageObj_GetType(obj)
        if kind == pdfium.FPDF_PAGEOBJ_FORM:
            kind = _form_kind(obj, 0)
        yield obj, kind


def _form_kind(form: Any, depth: int) -> int:
    """IMAGE for a form that holds a picture and no text, else PATH."""
    kinds: set[int] = set()
    for index in range(min(pdfium.FPDFFormObj_CountObjects(form), 50)):
        obj = pdfium.FPDFFormObj_GetObject(form, index)
        kind = pdfium.FPDFPageObj_GetType(obj)
        if kind == pdfium.FPDF_PAGEOBJ_FORM and depth < _MAX_DEPTH:
            kind = _form_kind(obj, depth + 1)
        kinds.add(kind)
    image = pdfium.FPDF_PAGEOBJ_IMAGE in kinds and pdfium.FPDF_PAGEOBJ_TEXT not in kinds
    return int(pdfium.FPDF_PAGEOBJ_IMAGE if image else pdfium.FPDF_PAGEOBJ_PATH)


def resolution(box: Rect, dpi: int) -> int:
    """The resolution at which the box can be drawn without eating the memory."""
    inches = max((box[2] - box[0]) * (box[3] - box[1]), 1.0) / 72**2
    return max(min(dpi, int((_MOST_RENDERED / inches) ** 0.5)), 10)


def merged(page: PageContent, picture: PageContent) -> PageContent:
    """The page's own lines with those of a picture on it put in where the picture's text begins.

    Where the picture shows the page's own text, which was drawn over it, that is left out.
    """
    own = [line.box for line in page.lines if line.box is not None]
    _drop_lines(picture, {i for i, line in enumerate(picture.lines) if line.box is not None and _covered(line.box, own)})
    if not picture.lines:
        return page
    first = picture.lines[0].box
    at = next((i for i, line in enumerate(page.lines) if line.box and first and line.box.top > first.top), len(page.lines))
    count = len(picture.lines)
    page.grids = [
        *(PageGrid(grid.rows, _shifted(grid.lines, at, count)) for grid in page.grids),
        *(PageGrid(grid.rows, [[i + at for i in row] for row in grid.lines]) for grid in picture.grids),
    ]
    page.grids.sort(key=lambda grid: grid.lines[0])
    page.lines[at:at] = picture.lines
    page.notes.extend(picture.notes)
    return page


def _covered(box: Box, boxes: list[Box]) -> bool:
    """Whether the middle of the box lies in one of the boxes."""
    x, y = (box.x0 + box.x1) / 2, (box.top + box.bottom) / 2
    return any(b.x0 <= x <= b.x1 and b.top <= y <= b.bottom for b in boxes)


def _drop_lines(content: PageContent, gone: set[int]) -> None:
    gone -= {i for grid in content.grids for row in grid.lines for i in row}
    if not gone:
        return
    place: dict[int, int] = {}
    for index in range(len(content.lines)):
        if index not in gone:
            place[index] = len(place)
    content.lines = [line for index, line in enumerate(content.lines) if index in place]
    content.grids = [PageGrid(grid.rows, [[place[i] for i in row] for row in grid.lines]) for grid in content.grids]


def _shifted(lines: Iterable[list[int]], at: int, count: int) -> list[list[int]]:
    return [[i + count if i >= at else i for i in row] for row in lines]
