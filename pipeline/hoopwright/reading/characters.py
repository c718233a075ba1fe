"""The characters of a PDF page through pdfium, put together to words with boxes."""

from __future__ import annotations

import ctypes
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from math import isfinite
from statistics import median
from typing import Any

import pypdfium2.raw as pdfium  # type: ignore[import-untyped]

from hoopwright.reading.frame import SLANTED, Frame, Rect, upright
from hoopwright.reading.limits import MAX_PAGE_CHARS
from hoopwright.reading.symbols import plain

_HYPHENS = "\x02\ufffe"  # what pdfium puts for a hyphen at the end of a line, where it leaves out the line's end
_DRAWN_HYPHENS = {0x02: "-", 0xFFFE: "-", 0xAD: "-"}  # a soft hyphen that is drawn is one that shows
_TOKEN = re.compile(rf"[^\s{_HYPHENS}]+[{_HYPHENS}]?|[{_HYPHENS}]")
_DIGIT = re.compile(r"\d")
_BOLD_NAME = re.compile(r"bold|black|heavy|demi|(?:^|\+)cmbx|[-,]b(?:d|i)?$", re.IGNORECASE)
_BOLD_WEIGHT = 600  # of CSS and OpenType: semi-bold
_BREAK_GAP = 0.2  # of the type height: more than a word's letters stand apart, unless it is spaced out
_BREAK_BACK = 0.6  # of the type height: a step back that no kerning makes
_EM_WIDE = 1.3  # of the type height: no letter is wider on average
_ASCENT, _DESCENT = 0.78, 0.22  # of the type size: where type stands over and under its line. Common practice, no source
_TRIM_FROM = 0.1  # of the type size
_RAISED = 0.15  # of the type height: how far the foot of a raised figure stands above the line, at least


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
class PageText:
    """The words of a page in drawing order, and how many of them have characters that no one can name."""

    pieces: list[Piece]
    unmapped: int


class TooManyCharacters(Exception):
    """A page with more characters than any page holds."""


@dataclass(slots=True)
class _Style:
    """What all characters of a text object share. ``trim`` is what their boxes have too much on top and bottom."""

    size: float
    bold: bool
    turn: int
    unmapped: bool
    trim: tuple[float, float] | None = None


def page_text(textpage: Any, frame: Frame, fonts: Fonts) -> PageText:
    """The words of the page. Raises TooManyCharacters."""
    count = pdfium.FPDFText_CountChars(textpage)
    if count > MAX_PAGE_CHARS:
        raise TooManyCharacters
    if count <= 0:
        return PageText([], 0)
    text = _characters(textpage, count)
    boxes = _Boxes(textpage, count, frame)
    pieces: list[Piece] = []
    unmapped = 0
    last_end = -1
    last_object, style = 0, _Style(0.0, False, 0, False)
    for match in _TOKEN.finditer(text):
        start, end = match.span()
        obj = _text_object(boxes.handle, start) or 0
        if obj != last_object or not obj:
            last_object, style = obj, _style(textpage, start, boxes, fonts)
        unmapped += style.unmapped
        for first, last, rect in _parts(text, start, end, style.turn, boxes):
            word = plain(text[first:last].translate(_DRAWN_HYPHENS))
            if rect is None or not word:
                continue
            pieces.append(Piece(word, *_trimmed(rect, style), len(pieces), style.size, style.bold, style.turn, first == last_end))
            last_end = last
    return PageText(pieces, unmapped)


def _style(textpage: Any, index: int, boxes: _Boxes, fonts: Fonts) -> _Style:
    size = pdfium.FPDFText_GetFontSize(textpage, index)
    matrix = pdfium.FS_MATRIX()
    if pdfium.FPDFText_GetMatrix(textpage, index, matrix):  # some producers set 1 point type and scale it
        size *= math.hypot(matrix.c, matrix.d)
    bold = fonts.is_bold(pdfium.FPDFText_GetTextObject(textpage, index))
    turn = _turn(pdfium.FPDFText_GetCharAngle(textpage, index), boxes.frame.rotation)
    unmapped = pdfium.FPDFText_HasUnicodeMapError(textpage, index) == 1
    return _Style(size, bold, turn, unmapped, _trim(index, boxes, size, turn))


def _trim(index: int, boxes: _Boxes, size: float, turn: int) -> tuple[float, float] | None:
    """How far a character's box reaches over and under the type's own height.

    pdfium takes the height from the font, and some fonts claim half as much again, so that boxes of one line reach into the next.
    """
    box, foot = boxes.get(index), boxes.foot(index)
    if box is None or foot is None or turn == SLANTED:
        return None
    _, top, _, bottom = upright(box, turn)
    base = upright((*foot, *foot), turn)[3]
    if not 0.25 * (bottom - top) < size < 1.25 * (bottom - top):
        return None
    above, below = (base - _ASCENT * size) - top, bottom - (base + _DESCENT * size)
    return (above, below) if max(abs(above), abs(below)) > _TRIM_FROM * size else None


def _trimmed(rect: Rect, style: _Style) -> Rect:
    if style.trim is None:
        return rect
    x0, top, x1, bottom = upright(rect, style.turn)
    return upright((x0, top + style.trim[0], x1, bottom - style.trim[1]), -style.turn % 4)


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
    """Quarter turns clockwise, as shown, of text at ``angle`` (radians) on a page with ``rotation``, or SLANTED."""
    quarters = angle / (math.pi / 2)
    nearest = round(quarters)
    return (nearest + rotation) % 4 if abs(quarters - nearest) < 0.06 else SLANTED


# pypdfium2's own wrappers check and convert every argument, which takes longer than the calls themselves. These two are called for every
# word; they take plain addresses.
_object_type = ctypes.CFUNCTYPE(ctypes.c_void_p, ctypes.c_void_p, ctypes.c_int)
_box_type = ctypes.CFUNCTYPE(ctypes.c_int, ctypes.c_void_p, ctypes.c_int, ctypes.c_void_p)
_text_object = _object_type(ctypes.cast(pdfium.FPDFText_GetTextObject, ctypes.c_void_p).value or 0)
_loose_box = _box_type(ctypes.cast(pdfium.FPDFText_GetLooseCharBox, ctypes.c_void_p).value or 0)


class _Boxes:
    """The boxes of a page's characters."""

    def __init__(self, textpage: Any, count: int, frame: Frame) -> None:
        self._textpage = textpage
        self.frame = frame
        self.handle = ctypes.cast(textpage.raw, ctypes.c_void_p).value or 0
        buffer = (pdfium.FS_RECTF * count)()
        address, step, handle = ctypes.addressof(buffer), ctypes.sizeof(pdfium.FS_RECTF), self.handle
        for index in range(count):
            _loose_box(handle, index, address + step * index)
        self._sides = memoryview(buffer).cast("B").cast("f")  # left, top, right, bottom of each, in the page's own coordinates

    def get(self, index: int) -> Rect | None:
        """The box of a character as shown, None if it has none."""
        left, top, right, bottom = self._sides[4 * index : 4 * index + 4]
        if not isfinite(left + top + right + bottom) or (left == right and top == bottom):
            return None
        return self.frame.rect(left, bottom, right, top)

    def gaps(self, first: int, last: int) -> list[float]:
        """The white between the characters ``first`` to before ``last`` of upright text on an upright page."""
        sides = self._sides
        return [sides[i + 4] - sides[i + 2] for i in range(4 * first, 4 * (last - 1), 4)]

    def around(self, first: int, last: int) -> Rect | None:
        """The box around the characters ``first`` to before ``last``, told from the outer two."""
        a, b = self.get(first), self.get(last - 1)
        if a is None or b is None:
            return a or b
        if a[1] == b[1] and a[3] == b[3] and a[0] <= b[0]:  # most words: written out for speed
            return a[0], a[1], b[2], a[3]
        return min(a[0], b[0]), min(a[1], b[1]), max(a[2], b[2]), max(a[3], b[3])

    def foot(self, index: int) -> tuple[float, float] | None:
        """Where the character stands on its line, as shown."""
        x, y = ctypes.c_double(), ctypes.c_double()
        if not pdfium.FPDFText_GetCharOrigin(self._textpage, index, x, y):
            return None
        left, top, _, _ = self.frame.rect(x.value, y.value, x.value, y.value)
        return left, top

    def raised(self, index: int, turn: int) -> bool:
        """Whether the ink of a figure stands above the line of the figure before it.

        A whole number and a raised one behind it are two numbers: 1 1/2 set as a fraction, or 24 with the mark of a footnote.
        """
        before, foot = self.get(index - 1), self.foot(index - 1)
        sides = [ctypes.c_double() for _ in range(4)]
        if before is None or foot is None or not pdfium.FPDFText_GetCharBox(self._textpage, index, *sides):
            return False
        left, right, bottom, top = (side.value for side in sides)
        ink = upright(self.frame.rect(left, bottom, right, top), turn)
        whole = upright(before, turn)
        return upright((*foot, *foot), turn)[3] - ink[3] > _RAISED * (whole[3] - whole[1])


def _parts(text: str, start: int, end: int, turn: int, boxes: _Boxes) -> Iterator[tuple[int, int, Rect | None]]:
    """The token with its box, cut where its characters do not stand together.

    pdfium runs the ends of two columns into one, and takes narrow blanks for none.
    """
    rect = boxes.around(start, end)
    if rect is None or end - start == 1 or _is_whole(text, start, end, turn, boxes, rect):
        yield start, end, rect
        return
    gaps = [_gap(boxes.get(index - 1), boxes.get(index), turn) for index in range(start + 1, end)]
    usual = max(median(gaps), 0.0)  # spaced-out headings have wide gaps all over
    begin = start
    for index, gap in enumerate(gaps, start=start + 1):
        two_digits = text[index - 1].isdigit() and text[index].isdigit()
        if gap > max(_BREAK_GAP, 2.5 * usual) or (two_digits and boxes.raised(index, turn)):
            yield begin, index, boxes.around(begin, index)
            begin = index
    yield begin, end, boxes.around(begin, end)


def _is_whole(text: str, start: int, end: int, turn: int, boxes: _Boxes, rect: Rect) -> bool:
    """The quick look that settles it for most words."""
    if _odd_shape(rect, end - start, turn) or _DIGIT.search(text, start, end):
        return False
    return turn != 0 or boxes.frame.rotation != 0 or max(boxes.gaps(start, end)) < _BREAK_GAP * (rect[3] - rect[1])


def _odd_shape(rect: Rect, length: int, turn: int) -> bool:
    width, height = rect[2] - rect[0], rect[3] - rect[1]
    if turn % 2:
        width, height = height, width
    return width > _EM_WIDE * height * length or height > 2 * width


def _gap(before: Rect | None, after: Rect | None, turn: int) -> float:
    """The white between two characters in type heights; a great one if they do not stand on one line, or the second before the first."""
    if before is None or after is None:
        return 0.0
    a, b = upright(before, turn), upright(after, turn)
    low, tall = sorted((a[3] - a[1], b[3] - b[1]))
    if low <= 0:
        return 0.0
    if a[0] - b[0] > _BREAK_BACK * tall or min(a[3], b[3]) - max(a[1], b[1]) < 0.2 * low:
        return math.inf
    return (b[0] - a[2]) / tall
