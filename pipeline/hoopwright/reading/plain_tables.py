"""Tables in plain text and Markdown: rows between bars, boxes drawn with characters, fields parted by tabs, columns parted by blanks."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from hoopwright.reading.content import PageGrid
from hoopwright.reading.spaced import spaced_table

BARS = "|│┃║"
_CORNERS = "┌┬┐├┼┤└┴┘┏┳┓┣╋┫┗┻┛╔╦╗╠╬╣╚╩╝╭╮╰╯╒╤╕╞╪╡╘╧╛╓╥╖╟╫╢╙╨╜┍┑┕┙┝┥┠┨┯┷┿"
_RULE = re.compile(rf"^\s*[{_CORNERS}{BARS}+](?:[-=─━═┄┈╌:\s]*[-=─━═┄┈╌][-=─━═┄┈╌:\s]*[{_CORNERS}{BARS}+])+\s*$")
_MARKDOWN_RULE = re.compile(r"^\s*\|?\s*:?-+:?\s*(?:\|\s*:?-+:?\s*)*\|?\s*$")
_BAR_ROW = re.compile(rf"^\s*[{BARS}].*[{BARS}]\s*$")
_SPLIT = re.compile(rf"(?<!\\)[{BARS}]")
_LIST_LABEL = re.compile(
    r"^\s*(?:[(\[]?(?:\d{1,3}(?:\.\d{1,2})*|[a-zA-Z])[.):\]]{1,2}|(?:step|stage) \d+\w?[.:]?|[^\w\s]{1,2})$", re.IGNORECASE
)
_BODY_SHARE = 0.6  # of all rows that stand in one body without rules in it, if every line of it is a row


@dataclass(frozen=True, slots=True)
class _Found:
    """A table in the lines up to before ``end``."""

    grid: PageGrid
    end: int


def find_tables(lines: Sequence[str]) -> list[PageGrid]:
    """The tables among the lines of a page, top to bottom; no line stands in two of them."""
    grids: list[PageGrid] = []
    index = looked_at = 0  # blank-parted columns are looked for in a whole paragraph at once
    while index < len(lines):
        if not lines[index].strip():
            index += 1
            continue
        found = _barred(lines, index) or _markdown(lines, index) or _tabbed(lines, index)
        if found is None and index >= looked_at:
            looked_at = _run(lines, index, str.strip)
            found = _spaced(lines, index, looked_at)
        if found is None:
            index += 1
            continue
        grids.append(found.grid)
        index = looked_at = found.end
    return grids


def _run(lines: Sequence[str], start: int, fits: Callable[[str], object]) -> int:
    """The index behind the lines from ``start`` on that fit."""
    end = start
    while end < len(lines) and fits(lines[end]):
        end += 1
    return end


# Rows between bars, with or without rules drawn between them


def _barred(lines: Sequence[str], start: int) -> _Found | None:
    end = _run(lines, start, lambda line: _RULE.match(line) or _BAR_ROW.match(line))
    if end - start < 2:
        return None
    block = lines[start:end]
    rules = [bool(_RULE.match(line)) for line in block]
    if rules.count(False) < 2:
        return None
    edges = _edges([line for line, rule in zip(block, rules, strict=True) if rule])
    cells = [[] if rule else _fields(line, edges) for line, rule in zip(block, rules, strict=True)]
    width = max(len(row) for row in cells)
    if width < 2:
        return None
    groups = _grouped(cells, rules)
    rows = [_joined([cells[i] for i in group if not rules[i]], width) for group in groups]
    return _Found(PageGrid(rows, [[start + i for i in group] for group in groups]), end)


def _edges(rules: list[str]) -> list[int]:
    """The places of the bars, told by the corners in the drawn rules."""
    return sorted({m.start() for rule in rules for m in re.finditer(rf"[{_CORNERS}{BARS}+]", rule)})


def _fields(line: str, edges: list[int]) -> list[str]:
    """The cells of a row; a cell that reaches over several columns is followed by empty ones."""
    bars = [m.start() for m in _SPLIT.finditer(line)]
    if len(edges) > len(bars) and bars and all(bar in edges for bar in bars):
        ends = dict(pairwise(bars))
        return [_cell(line[edge + 1 : ends[edge]]) if edge in ends else "" for edge in edges[:-1]]
    inner = _SPLIT.split(line.strip())
    return [_cell(field) for field in inner[1:-1]]


def _cell(field: str) -> str:
    return field.strip().replace("\\|", "|")


def _grouped(cells: list[list[str]], rules: list[bool]) -> list[list[int]]:
    """The lines' indices, a group for each row, with the drawn rules beside it.

    Where rules part the rows, what stands between two rules is one row. In a body without rules every line is a row, but for one that
    leaves cells empty which the line above fills.
    """
    chunks: list[list[int]] = [[]]
    for index, rule in enumerate(rules):
        if rule and chunks[-1]:
            chunks.append([])
        elif not rule:
            chunks[-1].append(index)
    chunks = [chunk for chunk in chunks if chunk]
    rows = sum(map(len, chunks[1:]))  # the first is the head
    groups: list[list[int]] = []
    for chunk in chunks:
        by_line = len(chunk) > _BODY_SHARE * rows or len(chunks) <= 2
        for position, index in enumerate(chunk):
            if position == 0 or (by_line and _filled(cells[index]) >= _filled(cells[groups[-1][0]])):
                groups.append([index])
            else:
                groups[-1].append(index)
    return _with_rules(groups, rules)


def _filled(row: list[str]) -> set[int]:
    return {column for column, field in enumerate(row) if field}


def _with_rules(groups: list[list[int]], rules: list[bool]) -> list[list[int]]:
    """Each rule with the row above it; the first with the row below."""
    owner = {index: number for number, group in enumerate(groups) for index in group}
    full: list[list[int]] = [[] for _ in groups]
    last = 0
    for index in range(len(rules)):
        last = owner.get(index, last)
        full[last].append(index)
    return full


def _joined(rows: list[list[str]], width: int) -> list[str]:
    out = [""] * width
    for row in rows:
        for column, field in enumerate(row[:width]):
            out[column] = f"{out[column]} {field}".strip()
    return out


# Markdown tables that leave the outer bars away


def _markdown(lines: Sequence[str], start: int) -> _Found | None:
    """A head, a rule of dashes under it, and rows with at least one bar."""
    if start + 2 >= len(lines) or "|" not in lines[start] or "|" not in lines[start + 1] or not _MARKDOWN_RULE.match(lines[start + 1]):
        return None
    end = _run(lines, start + 2, lambda line: "|" in line)
    rows = [[_cell(field) for field in _SPLIT.split(line.strip().strip("|"))] for line in (lines[start], *lines[start + 2 : end])]
    width = len(rows[0])
    if width < 2 or len(rows) < 2:
        return None
    rows = [(row + [""] * width)[:width] for row in rows]
    return _Found(PageGrid(rows, [[start, start + 1], *([i] for i in range(start + 2, end))]), end)


# Fields parted by tabs


def _tabbed(lines: Sequence[str], start: int) -> _Found | None:
    end = _run(lines, start, lambda line: "\t" in line.strip())
    if end - start < 2:
        return None
    block = [line.strip(" ") for line in lines[start:end]]
    if any(line.startswith("\t") for line in block) and not all(line.startswith("\t") for line in block):
        exact = [line.split("\t") for line in block]  # an empty first cell
    else:
        exact = [line.strip("\t").split("\t") for line in block]
    rows = exact if len({len(row) for row in exact}) == 1 else [re.split(r"\t+", line.strip("\t")) for line in block]
    width = max(len(row) for row in rows)
    if min(len(row) for row in rows) < 2 and width < 3:
        return None
    if width == 2 and sum(bool(_LIST_LABEL.match(row[0])) for row in rows) >= 0.7 * len(rows):
        return None  # the labels of a list
    rows = [[field.strip() for field in row] + [""] * (width - len(row)) for row in rows]
    return _Found(PageGrid(rows, [[i] for i in range(start, end)]), end)


# Columns parted by blanks


def _spaced(lines: Sequence[str], start: int, end: int) -> _Found | None:
    found = spaced_table(lines[start:end])
    if found is None:
        return None
    last = start + max(i for row in found.lines for i in row) + 1
    return _Found(PageGrid(found.rows, [[start + i for i in row] for row in found.lines]), last)
