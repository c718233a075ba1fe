"""The words of a page put into reading order: lines, columns, tables."""

from __future__ import annotations

from hoopwright.reading.blocks import Block, TableBlock
from hoopwright.reading.characters import Piece
from hoopwright.reading.content import PageContent, PageGrid, PageLine
from hoopwright.reading.flow import flow
from hoopwright.reading.fragments import Fragment, fragments_of
from hoopwright.reading.frame import SLANTED, upright
from hoopwright.reading.lines import line_of
from hoopwright.reading.ruled import take_tables
from hoopwright.reading.rules import RuledTable


def arrange(pieces: list[Piece], tables: list[RuledTable], size: tuple[float, float]) -> PageContent:
    """The lines and tables of a page in reading order.

    ``pieces`` and ``tables`` have boxes in points from the top left corner of the page as shown. Text that is set in another direction
    than most of the page comes after it.
    """
    content = PageContent(size=size)
    turns = sorted({piece.turn for piece in pieces}, key=lambda turn: -sum(len(p.text) for p in pieces if p.turn == turn))
    for turn in turns:
        group = [piece for piece in pieces if piece.turn == turn]
        if turn:
            for piece in group:
                piece.x0, piece.top, piece.x1, piece.bottom = upright((piece.x0, piece.top, piece.x1, piece.bottom), turn)
        if turn == SLANTED:
            content.lines.extend(_slanted(group))
            continue
        fragments, blocks = take_tables(fragments_of(group), [table.turned(turn) for table in tables])
        _emit(flow(fragments, blocks), content, turn)
    return content


def _slanted(pieces: list[Piece]) -> list[PageLine]:
    """Text at an angle, such as a stamp: words drawn one after the other make a line."""
    runs: list[list[Piece]] = []
    for piece in sorted(pieces, key=lambda p: p.order):
        if runs and piece.order == runs[-1][-1].order + 1:
            runs[-1].append(piece)
        else:
            runs.append([piece])
    return [line_of([Fragment(run, 0.0, 0.0, 0.0, 0.0, run[0].order)]) for run in runs]


def _emit(blocks: list[Block], content: PageContent, turn: int) -> None:
    for block in blocks:
        if isinstance(block, TableBlock):
            _emit_table(block, content, turn)
        else:
            content.lines.append(line_of(block, turn))


def _emit_table(table: TableBlock, content: PageContent, turn: int) -> None:
    grid = PageGrid([row.cells for row in table.rows], [])
    for row in table.rows:
        lines: list[PageLine] = [line_of(fragments, turn) for fragments in row.lines]
        first = len(content.lines)
        content.lines.extend(lines)
        grid.lines.append(list(range(first, first + len(lines))))
    content.grids.append(grid)
