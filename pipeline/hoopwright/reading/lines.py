"""Fragments put together to printed lines, with text, box, type size and weight."""

from __future__ import annotations

from itertools import takewhile

from hoopwright.model.document import Box
from hoopwright.reading.characters import Piece
from hoopwright.reading.content import PageLine, PageWord
from hoopwright.reading.fragments import Fragment, share_line
from hoopwright.reading.frame import SLANTED, upright


def rows_of(fragments: list[Fragment]) -> list[list[Fragment]]:
    """The fragments in rows, top to bottom, each row left to right."""
    rows: list[list[Fragment]] = []
    for fragment in sorted(fragments, key=lambda f: (f.middle, f.x0)):
        row = next((row for row in reversed(rows[-3:]) if _fits(row, fragment)), None)
        if row is None:
            rows.append([fragment])
        else:
            row.append(fragment)
    for row in rows:
        row.sort(key=lambda f: f.x0)
    return rows


def _fits(row: list[Fragment], fragment: Fragment) -> bool:
    """On the line of one of the row's fragments, and over none of them."""
    return any(share_line(f, fragment) for f in row) and not any(f.x0 < fragment.x1 - 0.5 and fragment.x0 < f.x1 - 0.5 for f in row)


def line_of(fragments: list[Fragment], turn: int = 0) -> PageLine:
    """One printed line made of fragments that stand side by side, set with ``turn`` quarter turns clockwise."""
    pieces = [piece for fragment in fragments for piece in fragment.words]
    words = [PageWord(piece.text, _box(piece, turn), piece.confidence) for piece in pieces]
    longest = max(pieces, key=lambda piece: len(piece.text))
    text = " ".join(word.text for word in words)
    box = around([word.box for word in words if word.box is not None])
    bold = list(takewhile(lambda piece: piece.bold, pieces))
    bold_end = len(" ".join(piece.text for piece in bold))
    return PageLine(text, box, words, round(longest.size, 2) or None, len(bold) == len(pieces), bold_end)


def _box(piece: Piece, turn: int) -> Box:
    if turn in (0, SLANTED):
        return Box(piece.x0, piece.top, piece.x1, piece.bottom)
    return Box(*upright((piece.x0, piece.top, piece.x1, piece.bottom), -turn % 4))


def around(boxes: list[Box]) -> Box | None:
    """The smallest box that holds all of ``boxes``."""
    if not boxes:
        return None
    return Box(min(b.x0 for b in boxes), min(b.top for b in boxes), max(b.x1 for b in boxes), max(b.bottom for b in boxes))
