"""Tables in plain text whose columns are parted by blanks: the lines are laid out as on a page, and judged as a page's columns are."""

from __future__ import annotations

import re
from collections.abc import Sequence

from hoopwright.reading.aligned import build_table
from hoopwright.reading.blocks import Item
from hoopwright.reading.characters import Piece
from hoopwright.reading.content import PageGrid
from hoopwright.reading.fragments import Fragment
from hoopwright.reading.gutters import Gutter, gutters
from hoopwright.reading.judging import Verdict, judge

_FIELD = re.compile(r"\S+(?: \S+)*")  # fields stand at least two blanks apart
_DASHES = re.compile(r"^[\s\-=_─═]*[-=_─═]{2}[\s\-=_─═]*$")
_WIDTH, _STEP, _HEIGHT = 6.0, 12.0, 10.0  # of a character and a line of typewriter type, in points
_MOST_LINES = 400


def spaced_table(lines: Sequence[str]) -> PageGrid | None:
    """The table that the lines (none blank) hold, or None. Lines above and below its rows may be no part of it."""
    if not 3 <= len(lines) <= _MOST_LINES:
        return None
    rules = [bool(_DASHES.match(line)) for line in lines]
    text = [index for index, rule in enumerate(rules) if not rule]
    if len(text) < 3:
        return None
    fragments = [f for place, index in enumerate(text) for f in _fragments(lines[index].expandtabs(8), place)]
    if len(fragments) < len(text) + 3:
        return None
    columns = _columns(fragments)
    if columns is None:
        return None
    table = build_table(columns, _HEIGHT)
    place_of = {id(f): round(f.top / _STEP) for f in fragments}
    rows = [sorted({text[place_of[id(f)]] for line in row.lines for f in line}) for row in table.block.rows]
    return PageGrid([row.cells for row in table.block.rows], _with_rules(rows, rules))


def _fragments(line: str, place: int) -> list[Fragment]:
    found: list[Fragment] = []
    top = place * _STEP
    for match in _FIELD.finditer(line):
        x0, x1 = match.start() * _WIDTH, match.end() * _WIDTH
        words = [Piece(word, x0, top, x1, top + _HEIGHT) for word in match.group().split(" ")]
        found.append(Fragment(words, x0, top, x1, top + _HEIGHT, place * 1000 + len(found)))
    return found


def _columns(fragments: list[Fragment]) -> list[list[Fragment]] | None:
    """The fragments in the table's columns, None if they make no table."""
    items: list[Item] = list(fragments)
    chosen: list[Gutter] = []
    for gutter in gutters(items, _HEIGHT):
        if not chosen or (all(gutter.x1 < g.x0 or gutter.x0 > g.x1 for g in chosen) and gutter.reach >= 0.75 * chosen[0].reach):
            chosen.append(gutter)
    if not chosen:
        return None
    top, bottom = max(g.top for g in chosen), min(g.bottom for g in chosen)
    edges = sorted((g.x0 + g.x1) / 2 for g in chosen)
    columns: list[list[Item]] = [[] for _ in range(len(edges) + 1)]
    for item in items:
        if top <= item.middle <= bottom:
            columns[sum(edge < (item.x0 + item.x1) / 2 for edge in edges)].append(item)
    if any(not column for column in columns) or judge(columns, _HEIGHT) is not Verdict.TABLE:
        return None
    return [[i for i in column if isinstance(i, Fragment)] for column in columns]


def _with_rules(rows: list[list[int]], rules: list[bool]) -> list[list[int]]:
    """The rows with the lines of dashes between them, each with the row above it."""
    out = [list(row) for row in rows]
    for above, below in zip(out, rows[1:], strict=False):
        above.extend(i for i in range(above[-1] + 1, below[0]) if rules[i])
    return out
