"""The characters of a PDF page through pdfium, put together to words with boxes."""

from __future__ import annotations

import ctypes
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from math import isfinite
from typing import Any

import pypdfium2.raw as pdfium  # type: ignore[import-untyped]

from hoopwright.reading.limits import MAX_PAGE_CHARS
from hoopwright.reading.symbols import plain

_HYPHENS = "\x02\ufffe"  # what pdfium puts for a hyphen at the end of a line, where it leaves out the line's end
_TOKEN = re.compile(rf"[^\s{_HYPHENS}]+[{_HYPHENS}]?|[{_HYPHENS}]")
_DIGIT = re.compile(r"\d")
_BOLD_NAME = re.compile(r"bold|black|heavy|demi|(?:^|\+)cmbx|[-,]b(?:d|i)?$", re.IGNORECASE)
_BOLD_WEIGHT = 600  # of CSS and OpenType: semi-bold
_BREAK_GAP = 0.35  # of the type height: more than a word's letters ever stand apart
_BREAK_BACK = 0.6  # of the type height: a step back that no kerning makes
_EM_WIDE = 1.3  # of the type height: no letter is wider on average
_RAISED = 0.15  # of the type height: how far the foot of a raised figure stands above the line, at least

Rect = tuple[float, float, float, float]  # x0, top, x1, bottom


@dataclass(slots=True, eq=False)
class Piece:
    """A word on the page. The box is in points from the top left corner; ``turn`` tells how many quarter turns clockwise it is set.

    ``order`` is its place in the drawing order. ``glued`` says that it was drawn without a blank before it.
    """

    text: str
    x0: float
    top: float
    x1: float
    bottom: float
    order: int = 0
    size: float = 0.0
    bold: bool = False
    turn: int = 0
    glued: bool = False
    confidence: float | None = None

    @property
    def height(self) -> float:
        return self.bottom - self.top


@dataclass(slots=True)
class Fonts:
    """What is known of a document's fonts, by pdfium's handle; a handle lives as long as its document."""

    bold: dict[int, bool] = field(default_factory=dict)

    def is_bold(self, obj: Any) -> bool:
        font = pdfium.FPDFTextObj_GetFont(obj) if obj else None
        if not font:
            return False
        key = ctypes.addressof(font.contents)
        if key not in self.bold:
            self.bold[key] = _is_bold(font)
        return self.bold[key]


def _is_bold(font: Any) -> bool:
    buffer = ctypes.create_string_buffer(128)
    pdfium.FPDFFont_GetBaseFontName(font, buffer, len(buffer))
    name = buffer.value.decode("latin-1")
    return bool(_BOLD_NAME.search(name)) or pdfium.FPDFFont_GetWeight(font) >= _BOLD_WEIGHT


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


@dataclass(frozen=True, slots=True)
class PageText:
    """The words of a page in drawing order, and how many of them have characters that no one can name."""

    pieces: list[Piece]
    unmapped: int


class TooManyCharacters(Exception):
    """A page with more characters than any page holds."""


@dataclass(slots=True)
class _Style:
    """What all characters of a text object share."""

    size: float
    bold: bool
    turn: int
    unmapped: bool


def page_text(textpage: Any, frame: Frame, fonts: Fonts) -> PageText:
    """The words of the page. Raises TooManyCharacters."""
    count = pdfium.FPDFText_CountChars(textpage)
    if count > MAX_PAGE_CHARS:
        raise TooManyCharacters
    if count <= 0:
        return PageText([], 0)
    text = _characters(textpage, count)
    boxes = _Boxes(textpage, frame)
    pieces: list[Piece] = []
    unmapped = 0
    last_end = -1
    last_object, style = 0, _Style(0.0, False, 0, False)
    for match in _TOKEN.finditer(text):
        start, end = match.span()
        obj = _text_object(boxes.handle, start) or 0
        if obj != last_object or not obj:
            last_object, style = obj, _style(textpage, start, frame.rotation, fonts)
        unmapped += style.unmapped
        for first, last in _parts(text, start, end, style.turn, boxes):
            rect = boxes.around(first, last)
            word = plain(text[first:last].replace("\x02", "-").replace("\ufffe", "-"))
            if rect is None or not word:
                continue
            pieces.append(Piece(word, *rect, len(pieces), style.size, style.bold, style.turn, first == last_end))
            last_end = last
    return PageText(pieces, unmapped)


def _style(textpage: Any, index: int, rotation: int, fonts: Fonts) -> _Style:
    size = pdfium.FPDFText_GetFontSize(textpage, index)
    matrix = pdfium.FS_MATRIX()
    if pdfium.FPDFText_GetMatrix(textpage, index, matrix):  # some producers set 1 point type and scale it
        size *= math.hypot(matrix.c, matrix.d)
    bold = fonts.is_bold(pdfium.FPDFText_GetTextObject(textpage, index))
    turn = _turn(pdfium.FPDFText_GetCharAngle(textpage, index), rotation)
    return _Style(size, bold, turn, pdfium.FPDFText_HasUnicodeMapError(textpage, index) == 1)


def _characters(textpage: Any, count: int) -> str:
    """The page's characters, exactly one for each of pdfium's indices."""
    buffer = (ctypes.c_ushort * (count + 1))()
    length = pdfium.FPDFText_GetText(textpage, 0, count, buffer)
    text = bytes(buffer)[: 2 * count].decode("utf-16-le", "replace")
    if length != count + 1 or len(text) != count or "\ufffd" in text:
        # pdfium leaves out nameless characters there, and takes two units for those past U+FFFF
        codes = (pdfium.FPDFText_GetUnicode(textpage, index) for index in range(count))
        text = "".join(_character(code) for code in codes)
    return text


def _character(code: int) -> str:
    if code == 0 or 0xD800 <= code < 0xE000 or code > 0x10FFFF:
        return "\ufffd"
    return chr(code)


def _turn(angle: float, rotation: int) -> int:
    """Quarter turns clockwise, as shown, of text at ``angle`` (radians) on a page with ``rotation``; slanted text counts as upright."""
    quarters = angle / (math.pi / 2)
    nearest = round(quarters)
    return (nearest + rotation) % 4 if abs(quarters - nearest) < 0.06 else rotation % 4


# pypdfium2's own wrappers check and convert every argument, which takes longer than the calls themselves. These two are called for every
# word; they take plain addresses.
_object_type = ctypes.CFUNCTYPE(ctypes.c_void_p, ctypes.c_void_p, ctypes.c_int)
_box_type = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_int, ctypes.c_void_p)
_text_object = _object_type(ctypes.cast(pdfium.FPDFText_GetTextObject, ctypes.c_void_p).value or 0)
_loose_box = _box_type(ctypes.cast(pdfium.FPDFText_GetLooseCharBox, ctypes.c_void_p).value or 0)


class _Boxes:
    """The boxes of single characters, asked of pdfium only where they are needed: the asking is most of a page's time."""

    def __init__(self, textpage: Any, frame: Frame) -> None:
        self._textpage = textpage
        self._frame = frame
        self._rect = pdfium.FS_RECTF()
        self._address = ctypes.addressof(self._rect)
        self._known: dict[int, Rect | None] = {}
        self.handle = ctypes.cast(textpage.raw, ctypes.c_void_p).value or 0

    def get(self, index: int) -> Rect | None:
        """The box of a character as shown, None if it has none."""
        if index not in self._known:
            rect = self._rect
            found = _loose_box(self.handle, index, self._address)
            box = self._frame.rect(rect.left, rect.bottom, rect.right, rect.top) if found else None
            self._known[index] = box if box is not None and isfinite(box[0] + box[1] + box[2] + box[3]) else None
        return self._known[index]

    def around(self, first: int, last: int) -> Rect | None:
        """The box around the characters ``first`` to before ``last``, told from the outer two."""
        a, b = self.get(first), self.get(last - 1)
        if a is None or b is None:
            return a or b
        if a[1] == b[1] and a[3] == b[3] and a[0] <= b[0]:  # most words: written out for speed
            return a[0], a[1], b[2], a[3]
        return min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3])


    def raised(self, index: int, turn: int) -> bool:
        """Whether the ink of a figure stands above the line of the figure before it.

        A whole number and a raised one behind it are two numbers: 1 1/2 set as a fraction, or 24 with the mark of a footnote.
        """
        before = self.get(index - 1)
        x, y = ctypes.c_double(), ctypes.c_double()
        sides = [ctypes.c_double() for _ in range(4)]
        if before is None or not pdfium.FPDFText_GetCharOrigin(self._textpage, index - 1, x, y):
            return False
        if not pdfium.FPDFText_GetCharBox(self._textpage, index, *sides):
            return False
        left, right, bottom, top = (side.value for side in sides)
        ink = upright(self._frame.rect(left, bottom, right, top), turn)
        foot = upright(self._frame.rect(x.value, y.value, x.value, y.value), turn)
        whole = upright(before, turn)
        return foot[3] - ink[3] > _RAISED * (whole[3] - whole[1])


def _parts(text: str, start: int, end: int, turn: int, boxes: _Boxes) -> Iterator[tuple[int, int]]:
    """The token cut where its characters do not stand together: pdfium may run two columns' ends into one."""
    if end - start == 1:
        yield start, end
        return
    rect = boxes.around(start, end)
    if rect is None or not (_odd_shape(rect, end - start, turn) or _DIGIT.search(text, start, end)):
        yield start, end
        return
    begin = start
    for index in range(start + 1, end):
        two_digits = text[index - 1].isdigit() and text[index].isdigit()
        if _apart(boxes.get(index - 1), boxes.get(index), turn) or (two_digits and boxes.raised(index, turn)):
            yield begin, index
            begin = index
    yield begin, end


def _odd_shape(rect: Rect, length: int, turn: int) -> bool:
    width, height = rect[2] - rect[0], rect[3] - rect[1]
    if turn % 2:
        width, height = height, width
    return width > _EM_WIDE * height * length or height > 2 * width


def upright(rect: Rect, turn: int) -> Rect:
    """The rectangle seen with its text upright: the page turned back by ``turn`` quarters. Only differences have a meaning."""
    x0, top, x1, bottom = rect
    if turn == 0:
        return rect
    if turn == 1:  # text runs down the page
        return top, -x1, bottom, -x0
    if turn == 2:
        return -x1, -bottom, -x0, -top
    return -bottom, x0, -top, x1


def _apart(before: Rect | None, after: Rect | None, turn: int) -> bool:
    if before is None or after is None:
        return False
    a, b = upright(before, turn), upright(after, turn)
    height = min(a[3] - a[1], b[3] - b[1])
    tall = max(a[3] - a[1], b[3] - b[1])
    if height <= 0:
        return False
    if b[0] - a[2] > _BREAK_GAP * tall or a[0] - b[0] > _BREAK_BACK * tall:
        return True
    return min(a[3], b[3]) - max(a[1], b[1]) < 0.2 * height
