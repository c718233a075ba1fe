"""Pictures of pages read by a text recogniser, several side by side."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import dataclass
from statistics import mean
from types import TracebackType

import numpy as np

from hoopwright.model.document import Box
from hoopwright.reading.blanks import with_whole_boxes
from hoopwright.reading.cell_figures import with_cell_figures
from hoopwright.reading.characters import Piece
from hoopwright.reading.content import PageContent, PageLine
from hoopwright.reading.glyphs import Glyphs
from hoopwright.reading.layout import arrange
from hoopwright.reading.missed import missed_words, with_bullets
from hoopwright.reading.picture import View, flattened, lies_on_its_side, slant, turned, without_rules
from hoopwright.reading.recognised import mended
from hoopwright.reading.reread import levels_of, reread, with_labels_beside
from hoopwright.reading.rowwise import with_cells_white, words_of_cells
from hoopwright.reading.rules import RuledTable, tables_of
from hoopwright.reading.strokes import with_weights
from hoopwright.reading.tesseract import Found, Gray, Recogniser
from hoopwright.reading.type_sizes import ASCENT, DESCENT, base_lines, exact_sizes, type_sizes

_SURE = 0.7  # mean confidence above which the picture was surely read the right way up
_NOISE = 0.35  # mean confidence of a line below which it is no text
_LEAST_WORDS = 5  # of a page that is to be judged by its confidence
_MOST_WORKERS = 8
_INK_HEIGHT = 0.75  # of the type size: from the foot of a p to the head of an h, in most type. Common practice, no source


@dataclass(frozen=True, slots=True)
class Picture:
    """A page as a picture: grey levels, its resolution, its size in points, and the place of its corner on the page in points."""

    pixels: Gray
    dpi: int
    size: tuple[float, float]
    left: float = 0.0
    top: float = 0.0


class ScanReader:
    """Reads pictures side by side. Use it in a ``with`` block: leaving it, by Ctrl-C too, stops what still runs."""

    def __init__(self) -> None:
        self._recogniser = Recogniser()
        self._pool: ThreadPoolExecutor | None = None
        self.workers = min(_cores(), _MOST_WORKERS)

    def __enter__(self) -> ScanReader:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self._recogniser.close()
        if self._pool is not None:
            self._pool.shutdown(wait=True, cancel_futures=True)

    def submit(self, picture: Picture, then: Callable[[PageContent], PageContent] | None = None) -> Future[PageContent]:
        """The content of the picture, to come, handed through ``then``; its result may raise RecogniserError."""
        if self._pool is None:
            self._pool = ThreadPoolExecutor(self.workers)
        return self._pool.submit(self._read, picture, then)

    def _read(self, picture: Picture, then: Callable[[PageContent], PageContent] | None) -> PageContent:
        content = read_picture(picture, self._recogniser)
        return content if then is None else then(content)


def _cores() -> int:
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def read_picture(picture: Picture, recogniser: Recogniser) -> PageContent:
    """The lines and tables of a picture of a page, with a confidence for each word. Raises RecogniserError."""
    even = flattened(picture.pixels)
    side = lies_on_its_side(even)
    # Which of its sides, the recogniser tells
    quarters = (1 + _quarters(turned(even, 1, 0.0), picture.dpi, recogniser)) % 4 if side else 0
    reading = _read_straight(even, picture, quarters, recogniser)
    if reading.sure or not reading.words:
        return _content(reading, picture)
    other = (quarters + _quarters(reading.straight, picture.dpi, recogniser)) % 4
    others = [other, (quarters + 2) % 4, 0] if side else [other]
    for tried in dict.fromkeys(others):
        if tried != quarters and not reading.sure:
            reading = max(reading, _read_straight(even, picture, tried, recogniser), key=lambda r: r.certainty)
    return _content(reading, picture)


def _quarters(pixels: Gray, dpi: int, recogniser: Recogniser) -> int:
    """How many quarter turns set the picture upright; told from it at half the size, which is enough and takes a third of the time."""
    return recogniser.quarters(np.ascontiguousarray(pixels[::2, ::2]), dpi // 2) if dpi >= 200 else recogniser.quarters(pixels, dpi)


@dataclass(slots=True)
class _Reading:
    """What was read of a picture set straight in one way."""

    straight: Gray
    view: View
    words: list[Found]
    content: PageContent

    @property
    def certainty(self) -> float:
        """Words by how sure they are: a page the wrong way up gives few sure ones."""
        return sum(word.confidence**2 for word in self.words)

    @property
    def sure(self) -> bool:
        return len(self.words) >= _LEAST_WORDS and mean(word.confidence for word in self.words) >= _SURE


def _read_straight(even: Gray, picture: Picture, quarters: int, recogniser: Recogniser) -> _Reading:
    upright = turned(even, quarters, 0.0)
    angle = slant(upright)
    straight, strokes = without_rules(turned(upright, 0, angle), picture.dpi)
    tables = tables_of(strokes)
    words = recogniser.words(with_cells_white(straight, picture.dpi, tables), picture.dpi)
    first_cell = 1 + max((word.line for word in words), default=-1)
    words += words_of_cells(straight, picture.dpi, tables, first_cell, recogniser)
    words = with_bullets(words, straight)
    words += missed_words(straight, picture.dpi, words, recogniser)
    words = _read_twice(words, straight, picture.dpi, tables, first_cell)
    words = mended(words, straight, recogniser)
    points = 72.0 / picture.dpi
    height, width = even.shape
    view = View(width, height, (straight.shape[1], straight.shape[0]), points, quarters, angle, picture.left, picture.top)
    kept, dropped = _without_noise(words, first_cell)
    content = arrange(_pieces(kept, straight, points), tables, (straight.shape[1] * points, straight.shape[0] * points))
    if dropped:
        content.notes.append(f"{dropped} marks in the picture that gave no readable text left out")
    return _Reading(straight, view, words, content)


def _read_twice(words: list[Found], picture: Gray, dpi: int, tables: list[RuledTable], first_cell: int) -> list[Found]:
    """The words with their figures and codes held to the page's own type, and each label before its text."""
    if not words:
        return words
    words = with_whole_boxes(words, picture)
    levels = levels_of(words)
    glyphs = Glyphs(picture, words, levels)
    words = reread(words, glyphs, levels, first_cell)
    words = with_cell_figures(words, picture, dpi, tables, glyphs, levels, first_cell)
    return with_labels_beside(words, {**levels_of(words), **levels}, first_cell)


def _without_noise(words: list[Found], first_cell: int) -> tuple[list[Found], int]:
    """The words without the lines that are specks, shadows or drawings; a table's cells hold text, however badly it is read."""
    lines: dict[int, list[Found]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word)
    kept = [word for number, line in lines.items() if number >= first_cell or _is_text(line) for word in line]
    return kept, len(words) - len(kept)


def _is_text(line: list[Found]) -> bool:
    return any(c.isalnum() for word in line for c in word.text) and mean(word.confidence for word in line) >= _NOISE


def _pieces(words: list[Found], picture: Gray, points: float) -> list[Piece]:
    """The words as pieces of a page in points. All words of a line get the height of its type, for the recogniser's boxes hug the ink."""
    sizes = type_sizes(words)
    words = with_weights(words, picture, exact_sizes(words))
    bases = base_lines(words, sizes)
    pieces: list[Piece] = []
    for word in words:
        size = sizes[word.line]
        top, bottom = bases[word.line] - ASCENT * size, bases[word.line] + DESCENT * size
        if not (word.top < bottom and word.bottom > top):  # a line of the recogniser's that is none
            top, bottom = word.top, word.bottom
        rim = (bottom - top) * (1 / _INK_HEIGHT - 1) / 2  # gaps are judged by the type's height, not by its ink's
        left, right, top, bottom = (side * points for side in (word.left, word.right, top - rim, bottom + rim))
        pieces.append(Piece(word.text, left, top, right, bottom, len(pieces), size * points, word.bold, confidence=word.confidence))
    return pieces


def _content(reading: _Reading, picture: Picture) -> PageContent:
    """What was read, with its boxes moved to where they stand on the page."""
    content = reading.content
    for line in content.lines:
        _move(line, reading.view)
    content.size = picture.size
    content.scanned = True
    return content


def _move(line: PageLine, view: View) -> None:
    if line.box is not None:
        line.box = _moved(line.box, view)
    for word in line.words:
        if word.box is not None:
            word.box = _moved(word.box, view)


def _moved(box: Box, view: View) -> Box:
    return Box(*view.on_page((box.x0, box.top, box.x1, box.bottom)))
