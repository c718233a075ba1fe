"""Tables with drawn rules: the rules of a page through pdfium, and the cells they bound."""

from __future__ import annotations

import ctypes
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

import pypdfium2.raw as pdfium  # type: ignore[import-untyped]

from hoopwright.reading.frame import Frame, Rect, upright
from hoopwright.reading.limits import MAX_PAGE_PATHS

_THIN = 2.5  # points: a filled rectangle no thicker is a rule
_NEAR = 2.5  # points by which rules that meet may miss each other
_SHORTEST = 6.0  # points: a shorter stroke bounds no cell
_MAX_RULES = 2000  # more are a drawing or a hatch, not a table
_MAX_DEPTH = 4  # of forms in forms


@dataclass(frozen=True, slots=True)
class Rule:
    """A horizontal or vertical stroke: it stands at ``at`` and reaches from ``start`` to ``end``."""

    across: bool
    at: float
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Cell:
    """A cell of a table: its first row and column, how many it spans, and its box."""

    row: int
    column: int
    rows: int
    columns: int
    box: Rect


@dataclass(slots=True)
class RuledTable:
    """A table of drawn rules. ``cells`` cover ``rows`` × ``columns``."""

    box: Rect
    rows: int
    columns: int
    cells: list[Cell] = field(default_factory=list)

    def turned(self, turn: int) -> RuledTable:
        """The table as it stands when the page is turned back by ``turn`` quarters, so that text set that way is upright."""
        if turn == 0:
            return self
        cells = sorted((self._turned_cell(cell, turn) for cell in self.cells), key=lambda c: (c.row, c.column))
        rows, columns = (self.columns, self.rows) if turn % 2 else (self.rows, self.columns)
        return RuledTable(upright(self.box, turn), rows, columns, cells)

    def _turned_cell(self, cell: Cell, turn: int) -> Cell:
        from_bottom, from_right = self.rows - cell.row - cell.rows, self.columns - cell.column - cell.columns
        box = upright(cell.box, turn)
        if turn == 1:
            return Cell(from_right, cell.row, cell.columns, cell.rows, box)
        if turn == 2:
            return Cell(from_bottom, from_right, cell.rows, cell.columns, box)
        return Cell(cell.column, from_bottom, cell.columns, cell.rows, box)


def page_tables(page: Any, frame: Frame) -> list[RuledTable]:
    """The tables that the page's drawn rules make: at least two rows or columns of closed cells. Top to bottom."""
    return tables_of(page_rules(page, frame))


def tables_of(strokes: list[Rule]) -> list[RuledTable]:
    """The tables that the strokes bound, top to bottom."""
    rules = _merged(strokes)
    if len(rules) < 4 or len(rules) > _MAX_RULES:
        return []
    tables = (_table(group) for group in _connected(rules))
    return sorted((table for table in tables if table is not None), key=lambda table: (table.box[1], table.box[0]))


def page_rules(page: Any, frame: Frame) -> list[Rule]:
    """Every straight horizontal or vertical stroke of the page, and the sides of its rectangles."""
    found: list[Rule] = []
    budget = [MAX_PAGE_PATHS]
    count = pdfium.FPDFPage_CountObjects(page)
    objects = (pdfium.FPDFPage_GetObject(page, index) for index in range(count))
    _collect(objects, (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), frame, found, budget, 0)
    return found


Matrix = tuple[float, float, float, float, float, float]


def _collect(objects: Iterable[Any], outer: Matrix, frame: Frame, found: list[Rule], budget: list[int], depth: int) -> None:
    for obj in objects:
        kind = pdfium.FPDFPageObj_GetType(obj)
        if kind not in (pdfium.FPDF_PAGEOBJ_PATH, pdfium.FPDF_PAGEOBJ_FORM):
            continue
        budget[0] -= 1
        if budget[0] < 0:
            return
        matrix = _times(_matrix(obj), outer)
        if kind == pdfium.FPDF_PAGEOBJ_PATH:
            found.extend(_path_rules(obj, matrix, frame, budget))
        elif depth < _MAX_DEPTH:
            inner = (pdfium.FPDFFormObj_GetObject(obj, index) for index in range(pdfium.FPDFFormObj_CountObjects(obj)))
            _collect(inner, matrix, frame, found, budget, depth + 1)


def _matrix(obj: Any) -> Matrix:
    m = pdfium.FS_MATRIX()
    if not pdfium.FPDFPageObj_GetMatrix(obj, m):
        return 1.0, 0.0, 0.0, 1.0, 0.0, 0.0
    return m.a, m.b, m.c, m.d, m.e, m.f


def _times(inner: Matrix, outer: Matrix) -> Matrix:
    a, b, c, d, e, f = inner
    p, q, r, s, t, u = outer
    return a * p + b * r, a * q + b * s, c * p + d * r, c * q + d * s, e * p + f * r + t, e * q + f * s + u


def _path_rules(obj: Any, matrix: Matrix, frame: Frame, budget: list[int]) -> Iterator[Rule]:
    count = pdfium.FPDFPath_CountSegments(obj)
    if count < 2 or not _painted(obj):
        return
    budget[0] -= count
    if budget[0] < 0:
        return
    a, b, c, d, e, f = matrix
    x, y = ctypes.c_float(), ctypes.c_float()
    first = last = (0.0, 0.0)
    for index in range(count):
        segment = pdfium.FPDFPath_GetPathSegment(obj, index)
        kind = pdfium.FPDFPathSegment_GetType(segment)
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        point = (a * x.value + c * y.value + e, b * x.value + d * y.value + f)
        if kind == pdfium.FPDF_SEGMENT_MOVETO:
            first = point
        elif kind == pdfium.FPDF_SEGMENT_LINETO:
            yield from _stroke(last, point, frame)
        last = point
        if pdfium.FPDFPathSegment_GetClose(segment):
            yield from _stroke(last, first, frame)
            last = first


def _painted(obj: Any) -> bool:
    fill, stroke = ctypes.c_int(), pdfium.FPDF_BOOL()
    pdfium.FPDFPath_GetDrawMode(obj, fill, stroke)
    return bool(fill.value or stroke.value)


def _stroke(a: tuple[float, float], b: tuple[float, float], frame: Frame) -> Iterator[Rule]:
    x0, top, x1, bottom = frame.rect(min(a[0], b[0]), min(a[1], b[1]), max(a[0], b[0]), max(a[1], b[1]))
    if bottom - top <= 0.5 and x1 - x0 > _THIN:
        yield Rule(True, (top + bottom) / 2, x0, x1)
    elif x1 - x0 <= 0.5 and bottom - top > _THIN:
        yield Rule(False, (x0 + x1) / 2, top, bottom)


def _merged(rules: list[Rule]) -> list[Rule]:
    """Rules on one line that touch made one, the two sides of a thin rectangle too; short ones left out."""
    out: list[Rule] = []
    for across in (True, False):
        same = sorted((r for r in rules if r.across is across), key=lambda r: (r.at, r.start))
        for line in _snapped(same):
            out.extend(r for r in _joined(line) if r.end - r.start >= _SHORTEST)
    return out


def _snapped(rules: list[Rule]) -> Iterator[list[Rule]]:
    """Groups of rules that stand on one line, each moved to the group's middle."""
    group: list[Rule] = []
    for rule in rules:
        if group and rule.at - group[0].at > _NEAR:
            yield _level(group)
            group = []
        group.append(rule)
    if group:
        yield _level(group)


def _level(group: list[Rule]) -> list[Rule]:
    at = (group[0].at + group[-1].at) / 2
    return [Rule(r.across, at, r.start, r.end) for r in group]


def _joined(line: list[Rule]) -> Iterator[Rule]:
    ordered = sorted(line, key=lambda r: r.start)
    start, end = ordered[0].start, ordered[0].end
    for rule in ordered[1:]:
        if rule.start <= end + _NEAR:
            end = max(end, rule.end)
            continue
        yield Rule(rule.across, rule.at, start, end)
        start, end = rule.start, rule.end
    yield Rule(ordered[0].across, ordered[0].at, start, end)


def _connected(rules: list[Rule]) -> list[list[Rule]]:
    """The rules in groups that hang together by crossings."""
    across = sorted((r for r in rules if r.across), key=lambda r: r.at)
    upright = [r for r in rules if not r.across]
    heights = [r.at for r in across]
    parent = {rule: rule for rule in rules}

    def root(rule: Rule) -> Rule:
        while parent[rule] is not rule:
            parent[rule] = parent[parent[rule]]
            rule = parent[rule]
        return rule

    for wall in upright:
        for bar in across[bisect_left(heights, wall.start - _NEAR) : bisect_right(heights, wall.end + _NEAR)]:
            if bar.start - _NEAR <= wall.at <= bar.end + _NEAR:
                parent[root(wall)] = root(bar)
    groups: dict[Rule, list[Rule]] = {}
    for rule in rules:
        groups.setdefault(root(rule), []).append(rule)
    return [group for group in groups.values() if len(group) >= 4]


def _table(rules: list[Rule]) -> RuledTable | None:
    """The cells that the rules bound, or None if they are no more than a frame."""
    bars = [r for r in rules if r.across]
    walls = [r for r in rules if not r.across]
    bars, walls = _with_open_sides(bars, walls)
    ys, xs = sorted({r.at for r in bars}), sorted({r.at for r in walls})
    rows, columns = len(ys) - 1, len(xs) - 1
    if rows < 1 or columns < 2 or rows * columns > 20_000:
        return None
    owner = _spans(bars, walls, xs, ys)
    cells = [_cell(part, xs, ys) for part in owner]
    box = (xs[0], ys[0], xs[-1], ys[-1])
    closed = [cell for cell in cells if cell is not None]
    if len(closed) < 2 or len(closed) < len(cells):  # a shape that no rectangles fill is a drawing
        return None
    return RuledTable(box, rows, columns, sorted(closed, key=lambda c: (c.row, c.column)))


def _with_open_sides(bars: list[Rule], walls: list[Rule]) -> tuple[list[Rule], list[Rule]]:
    """Bars and walls with the outer sides put in that many tables leave undrawn: where the other rules end."""
    if not bars or not walls:
        return bars, walls
    left, right = min(r.start for r in bars), max(r.end for r in bars)
    top, bottom = min(r.start for r in walls), max(r.end for r in walls)
    columns, rows = [r.at for r in walls], [r.at for r in bars]
    sides = [Rule(False, at, top, bottom) for at in (left, right) if min(abs(at - x) for x in columns) > _SHORTEST]
    ends = [Rule(True, at, left, right) for at in (top, bottom) if min(abs(at - y) for y in rows) > _SHORTEST]
    return bars + ends, walls + sides


def _spans(bars: list[Rule], walls: list[Rule], xs: list[float], ys: list[float]) -> list[list[tuple[int, int]]]:
    """The fields of the grid in groups with no rule between them: (row, column) of each."""
    rows, columns = len(ys) - 1, len(xs) - 1
    bar_at, wall_at = _by_place(bars), _by_place(walls)
    parent = list(range(rows * columns))

    def root(index: int) -> int:
        while parent[index] != index:
            parent[index] = parent[parent[index]]
            index = parent[index]
        return index

    for row in range(rows):
        for column in range(columns):
            here = row * columns + column
            middle_x, middle_y = (xs[column] + xs[column + 1]) / 2, (ys[row] + ys[row + 1]) / 2
            if column + 1 < columns and not _covered(wall_at[xs[column + 1]], middle_y):
                parent[root(here + 1)] = root(here)
            if row + 1 < rows and not _covered(bar_at[ys[row + 1]], middle_x):
                parent[root(here + columns)] = root(here)
    groups: dict[int, list[tuple[int, int]]] = {}
    for index in range(rows * columns):
        groups.setdefault(root(index), []).append(divmod(index, columns))
    return list(groups.values())


def _by_place(rules: list[Rule]) -> dict[float, list[Rule]]:
    places: dict[float, list[Rule]] = {}
    for rule in rules:
        places.setdefault(rule.at, []).append(rule)
    return places


def _covered(rules: list[Rule], at: float) -> bool:
    return any(rule.start <= at <= rule.end for rule in rules)


def _cell(part: list[tuple[int, int]], xs: list[float], ys: list[float]) -> Cell | None:
    top, left = min(r for r, _ in part), min(c for _, c in part)
    rows, columns = max(r for r, _ in part) - top + 1, max(c for _, c in part) - left + 1
    if rows * columns != len(part):
        return None
    return Cell(top, left, rows, columns, (xs[left], ys[top], xs[left + columns], ys[top + rows]))
