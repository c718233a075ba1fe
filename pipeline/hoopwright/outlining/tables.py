"""Tables: Markdown and drawn ones, leaders and tabs, aligned columns, and the grids that the reader found."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from hoopwright.model.document import Grid
from hoopwright.outlining.columns import aligned_tables
from hoopwright.outlining.ink import Span
from hoopwright.outlining.rawtable import Cell, RawTable, Slice, merge_continuations, printed, split_head
from hoopwright.outlining.rows import Row, Sheet

__all__ = ["Cell", "RawTable", "find_tables"]

_BAR = re.compile(r"(?<!\\)[|│║┃]")
_LEADER = re.compile(r"(?:\.{3,}|…{2,}|(?:\.\s){3,}\.?|_{4,}|(?:_\s){3,}_?|-{5,}|·{3,}|(?:·\s){3,}|(?<=[\w)])\s\.{1,2}\s+(?=\d{1,4}$))")
_FRAMED = re.compile(r"^[|│║┃].*[|│║┃]$")
_MARKDOWN_RULE = re.compile(r"^\|?\s*:?-{1,}:?\s*(?:\|\s*:?-{1,}:?\s*)*\|?$")


def find_tables(sheet: Sheet, other: Iterable[int] = ()) -> list[RawTable]:
    """The tables of a sheet in order; no row stands in two of them. ``other`` are rows that are known to be of none."""
    taken = set(other)
    found: list[RawTable] = []
    finders: tuple[Callable[[Sheet, set[int]], Iterator[RawTable]], ...] = (_grids, _barred, _delimited, aligned_tables)
    for finder in finders:
        for table in finder(sheet, taken):
            if not taken & set(table.positions):
                taken |= set(table.positions)
                found.append(table)
    found.sort(key=lambda table: table.positions[0])
    return _joined(sheet, found)


def _joined(sheet: Sheet, tables: list[RawTable]) -> list[RawTable]:
    """Joins a table that a page break or a blank line cut: the same number of columns, no head of its own or the same one."""
    result: list[RawTable] = []
    for table in tables:
        before = result[-1] if result else None
        if before is not None and table.positions[0] == before.positions[-1] + 1 and _continues(sheet, before, table):
            rows = _over_the_break(sheet, before, table)
            result[-1] = replace(before, rows=rows, positions=(*before.positions, *table.positions))
        else:
            result.append(table)
    return result


def _over_the_break(sheet: Sheet, before: RawTable, table: RawTable) -> tuple[tuple[Cell, ...], ...]:
    """The rows of both, with a row put together that the page break cut: what is left of it has no first cell."""
    first = table.rows[0] if table.rows else ()
    cut = sheet.rows[table.positions[0]].gap == "soft" and before.rows and first and not first[0] and len(first) == len(before.rows[-1])
    counted = any(printed(sheet, cell).isdigit() for cell in first)  # a row of its own: "| 1 | washer" below "Each foot | 1 | bolt"
    if not cut or counted or any(cell and not above for cell, above in zip(first, before.rows[-1], strict=True)):
        return (*before.rows, *table.rows)
    whole = tuple((*above, *cell) for above, cell in zip(before.rows[-1], first, strict=True))
    return (*before.rows[:-1], whole, *table.rows[1:])


def _continues(sheet: Sheet, before: RawTable, table: RawTable) -> bool:
    if before.columns != table.columns or before.style != table.style:
        return False
    if not table.head:
        return bool(before.head) or sheet.rows[table.positions[0]].gap == "soft" or before.style == "leader"
    words = [[sheet.document.text[s.start : s.end] for s in cell] for cell in table.head]
    return words == [[sheet.document.text[s.start : s.end] for s in cell] for cell in before.head]


def _runs(sheet: Sheet, taken: set[int], belongs: Callable[[Row], bool]) -> Iterator[list[int]]:
    """Runs of neighbouring rows that ``belongs`` holds for, cut at blank lines."""
    run: list[int] = []
    for i, row in enumerate(sheet.rows):
        fits = i not in taken and belongs(row)
        if run and (not fits or row.gap == "hard"):
            yield run
            run = []
        if fits:
            run.append(i)
    if run:
        yield run


def _barred(sheet: Sheet, taken: set[int]) -> Iterator[RawTable]:
    """Markdown tables and tables drawn with bars."""

    def belongs(row: Row) -> bool:
        if row.rule:
            return True
        return bool(_BAR.search(row.text))

    for run in _runs(sheet, taken, belongs):
        lines = [i for i in run if not sheet.rows[i].rule]
        marked = any(
            _MARKDOWN_RULE.match(sheet.rows[i].text) or "+" in sheet.rows[i].text or "┼" in sheet.rows[i].text
            for i in run
            if sheet.rows[i].rule
        )
        framed = all(_FRAMED.match(sheet.rows[i].text) for i in lines)
        if len(lines) < (1 if marked else 2 if framed else 3):
            continue
        yield _barred_table(sheet, run)


def _barred_table(sheet: Sheet, run: list[int]) -> RawTable:
    rules = [n for n, i in enumerate(run) if sheet.rows[i].rule]
    lines = [n for n, i in enumerate(run) if not sheet.rows[i].rule]
    # Where every row is ruled off, the lines between two rules are one row.
    groups: list[list[int]] = []
    inner = sum(lines[0] < r < lines[-1] for r in rules)
    ruled_off = sheet.document.kind != "markdown" and inner >= 2 and inner + 1 >= 0.4 * len(lines)
    for n in lines:
        if ruled_off and groups and not any(groups[-1][-1] < r < n for r in rules):
            groups[-1].append(n)
        else:
            groups.append([n])
    rows = [_merge([_cut(sheet.rows[run[n]], _bars(sheet.rows[run[n]].text)) for n in group]) for group in groups]
    head_end = next((r for r in rules if r > lines[0]), None)
    head_count = 1 if head_end is not None and len(groups) > 1 and sum(g[-1] < head_end for g in groups) == 1 else 0
    head, body = split_head(sheet, rows, head_count)
    body = body if ruled_off or sheet.document.kind == "markdown" else merge_continuations(sheet, body)
    return RawTable(tuple(run), head, tuple(body), "barred")


def _bars(text: str) -> list[Slice]:
    cuts = [m.start() for m in _BAR.finditer(text)]
    edges = [-1, *cuts, len(text)]
    cells = [(a + 1, b) for a, b in pairwise(edges)]
    if cells and not text[cells[0][0] : cells[0][1]].strip() and text.lstrip()[:1] in ("|", "│", "║", "┃"):
        cells = cells[1:]
    if cells and not text[cells[-1][0] : cells[-1][1]].strip() and text.rstrip()[-1:] in ("|", "│", "║", "┃"):
        cells = cells[:-1]
    return cells


def _cut(row: Row, slices: Sequence[Slice]) -> list[Cell]:
    """The row's cells as spans, blanks around them left out."""
    cells: list[Cell] = []
    for start, end in slices:
        text = row.text[start:end]
        lead = len(text) - len(text.lstrip())
        body = text.strip()
        cells.append((row.span(start + lead, start + lead + len(body)),) if body else ())
    return cells


def _merge(rows: Sequence[Sequence[Cell]]) -> tuple[Cell, ...]:
    width = max(len(row) for row in rows)
    return tuple(tuple(span for row in rows if k < len(row) for span in row[k]) for k in range(width))


def _delimited(sheet: Sheet, taken: set[int]) -> Iterator[RawTable]:
    """Rows parted by tabs or by leaders ("Saddle clamp ........ 28")."""
    yield from _parted(sheet, taken, "tab", lambda row: "\t" in row.text, lambda text: _split(text, re.compile(r"\t")))
    wrapped = _wrapped_leaders(sheet)
    yield from _parted(
        sheet, taken, "leader", lambda row: not row.rule and (row.index in wrapped or bool(_LEADER.search(row.text))), _leaders
    )


def _parted(
    sheet: Sheet, taken: set[int], style: str, belongs: Callable[[Row], bool], cut: Callable[[str], list[Slice]]
) -> Iterator[RawTable]:
    for run in _runs(sheet, taken, lambda row: row.rule or belongs(row)):
        while run and sheet.rows[run[0]].rule:
            run = run[1:]
        while run and sheet.rows[run[-1]].rule:
            run = run[:-1]
        lines = [i for i in run if not sheet.rows[i].rule]
        if len(lines) < 2 and not (style == "leader" and lines):
            continue
        rows = [tuple(_cut(sheet.rows[i], cut(sheet.rows[i].text))) for i in lines]
        if style == "leader":
            wrapped = _wrapped_leaders(sheet)
            rows = _unwrapped(rows, [sheet.rows[i].index in wrapped for i in lines])
        width = max(len(row) for row in rows)
        rows = [(*row, *((),) * (width - len(row))) for row in rows]
        ruled = len(run) > 1 and sheet.rows[run[1]].rule
        head, body = split_head(sheet, rows, int(ruled))
        yield RawTable(tuple(run), head, tuple(body), style)


def _unwrapped(rows: Sequence[tuple[Cell, ...]], wrapped: Sequence[bool]) -> list[tuple[Cell, ...]]:
    """Puts the first half of a wrapped description before the second, which stands in the next row."""
    result: list[tuple[Cell, ...]] = []
    waiting: Cell = ()
    for row, half in zip(rows, wrapped, strict=True):
        if half:
            waiting = (*waiting, *(span for cell in row for span in cell))
        else:
            result.append(((*waiting, *row[0]), *row[1:]) if row else row)
            waiting = ()
    return result


def _wrapped_leaders(sheet: Sheet) -> frozenset[int]:
    """Line indices of rows whose description goes on in the next row, which has the leader ("Saddle clamp, 42 mm," / "closed ..... 28")."""
    rows = sheet.rows
    led = [row for row in rows if _LEADER.search(row.text)]
    small = sum(row.text[0].islower() for row in led) > 0.8 * len(led)  # then a row with a capital above them is a head: "Carton 1"
    return frozenset(
        row.index
        for (row, below), after in zip(pairwise(rows), (*rows[2:], None), strict=False)
        if not (after is not None and row.indent < below.indent == after.indent and _LEADER.search(after.text))  # a head over its own rows
        and _LEADER.search(below.text)
        and not _LEADER.search(row.text)
        and below.gap == "none"
        and not row.text.rstrip().endswith(":")  # "In the bags:" stands over the list
        and (row.text.endswith(",") or (below.text[0].islower() and not (small and row.text[0].isupper())))
    )


def _split(text: str, by: re.Pattern[str]) -> list[Slice]:
    edges = [(0, 0), *((m.start(), m.end()) for m in by.finditer(text)), (len(text), len(text))]
    return [(a[1], b[0]) for a, b in pairwise(edges)]


def _leaders(text: str) -> list[Slice]:
    """Cells before and behind a leader, and wide blanks within them ("H   Saddle clamp ..... 28   two-part")."""
    return [
        (start + a, start + b)
        for start, end in _split(text, _LEADER)
        for a, b in _split(text[start:end], re.compile(r"\s{2,}"))
        if text[start + a : start + b].strip()
    ]


def _grids(sheet: Sheet, taken: set[int]) -> Iterator[RawTable]:
    """The reader's grids, each cell found again among the characters of its lines."""
    if sheet.document.kind in ("text", "markdown"):
        return  # there the characters themselves show more: bars, leaders, heads, wrapped cells
    at = {row.index: i for i, row in enumerate(sheet.rows)}
    placed = [sorted({at[i] for row in grid.lines for i in row if i in at}) for grid in sheet.document.grids]
    for number, (grid, positions) in enumerate(zip(sheet.document.grids, placed, strict=True)):
        if max(len(row) for row in grid.rows) < 2 or not positions:
            continue
        if len(grid.rows) < 2 and not _is_cut_off(sheet.document.grids, placed, number):
            continue
        rows = [_grid_row(sheet, grid, n, at) for n in range(len(grid.rows))]
        rows = [row for row in rows if any(row)]
        head, body = split_head(sheet, rows, int(_bold_head(sheet, grid)))
        # Every row between the first and the last belongs to the table, whatever the reader made of it.
        yield RawTable(tuple(range(positions[0], positions[-1] + 1)), head, tuple(body), "grid")


def _is_cut_off(grids: Sequence[Grid], placed: Sequence[Sequence[int]], number: int) -> bool:
    """True for a single row right above or below a table with as many columns, from which a space or a page's end cut it."""
    for first, second in ((number - 1, number), (number, number + 1)):
        if first >= 0 and second < len(grids) and placed[first] and placed[second] and placed[second][0] == placed[first][-1] + 1:
            other = grids[first if second == number else second]
            if {len(row) for row in other.rows} == {len(row) for row in grids[number].rows}:
                return True
    return False


def _bold_head(sheet: Sheet, grid: Grid) -> bool:
    """True if the first row is bold and no other row is."""
    bold = [all(sheet.document.lines[i].bold for i in row) for row in grid.lines if row]
    return bold[0] and not any(bold[1:])


def _grid_row(sheet: Sheet, grid: Grid, n: int, at: dict[int, int]) -> tuple[Cell, ...]:
    tokens: list[tuple[str, Span]] = []
    for index in grid.lines[n]:
        if index in at:
            row = sheet.rows[at[index]]
            tokens += [(m.group(), row.span(m.start(), m.end())) for m in re.finditer(r"\S+", row.text)]
    free = [True] * len(tokens)
    cells: list[Cell] = []
    for text in grid.rows[n]:
        spans: list[Span] = []
        at_token = 0
        for word in text.split():
            k = next((k for k in range(at_token, len(tokens)) if free[k] and tokens[k][0] == word), None)
            if k is not None:
                free[k], at_token = False, k + 1
                _append(sheet, spans, tokens[k][1])
        cells.append(tuple(spans))
    return tuple(cells)


def _append(sheet: Sheet, spans: list[Span], span: Span) -> None:
    """Joins words that stand one blank apart on a line into one span."""
    if spans and spans[-1].page == span.page and sheet.document.text[spans[-1].end : span.start] == " ":
        spans[-1] = Span(spans[-1].start, span.end, span.page)
    else:
        spans.append(span)
