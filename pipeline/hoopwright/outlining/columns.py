"""Tables that are set with blanks only: columns are where a river of blanks runs down through all rows."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import pairwise

from hoopwright.outlining.labels import bullet, follows, labels
from hoopwright.outlining.numbering import finished
from hoopwright.outlining.rawtable import Cell, RawTable, column_kind, merge_continuations, printed, split_head
from hoopwright.outlining.rows import Row, Sheet

Word = tuple[int, int, int, int]  # first and last column on the page, first and last character in the row's text
_WIDE = 2  # blanks that part columns in most rows; one is enough in a row whose cell is full


def aligned_tables(sheet: Sheet, taken: set[int]) -> Iterator[RawTable]:
    """Tables without bars or leaders."""
    end = -2  # last row of the table before
    for run in _clusters(sheet, taken):
        for table in _tables_in(sheet, run, end + 1):
            end = table.positions[-1]
            yield table


def _clusters(sheet: Sheet, taken: set[int]) -> Iterator[list[int]]:
    """Runs of rows without a blank line, but for the one that may stand between a table's head and its first row."""
    run: list[int] = []
    for i, row in enumerate(sheet.rows):
        cut = i in taken or (row.gap != "none" and not (len(run) in (1, 2) and is_head_row(sheet, run[0])))
        if run and cut:
            yield run
            run = []
        if i not in taken:
            run.append(i)
    if run:
        yield run


def is_head_row(sheet: Sheet, i: int) -> bool:
    """True for column heads with wide blanks between them: "Item   Part        Quantity"."""
    chunks = [chunk for chunk in re.split(r"\s{2,}|\t", sheet.rows[i].text) if chunk]
    return len(chunks) > 1 and sum(column_kind(chunk) is not None for chunk in chunks) >= max(2, len(chunks) - 1)


def _words(sheet: Sheet, row: Row) -> list[Word]:
    line = sheet.document.lines[row.index]
    lead = row.start - line.start
    placed = [w for w in line.words if w.box is not None]
    if placed and sheet.char_width:
        unit = sheet.char_width
        return [
            (round(w.box.x0 / unit), round(w.box.x1 / unit), w.start - row.start, w.start - row.start + len(w.text))
            for w in placed
            if w.box is not None and w.start >= row.start
        ]
    return [(lead + m.start(), lead + m.end(), m.start(), m.end()) for m in re.finditer(r"\S+", row.text)]


def _gaps(words: Sequence[Word]) -> list[tuple[int, int]]:
    return [(a[1], b[0]) for a, b in pairwise(words) if b[0] - a[1] >= _WIDE]


def _tables_in(sheet: Sheet, run: list[int], goes_on_at: int) -> Iterator[RawTable]:
    """Finds stretches of rows with wide gaps in one cluster and tries each as a table. ``goes_on_at``: the row behind the last table."""
    words = {i: _words(sheet, sheet.rows[i]) for i in run}
    start = 0
    while start < len(run):
        group = (
            run[start] == goes_on_at and start + 1 < len(run) and _is_group_row(sheet, run[start]) and bool(_gaps(words[run[start + 1]]))
        )
        if sheet.rows[run[start]].rule or not (_gaps(words[run[start]]) or group):
            start += 1
            continue
        end = start
        while end + 1 < len(run) and _belongs(sheet, run, words, start, end + 1):
            end += 1
        while end > start and (sheet.rows[run[end]].rule or _is_left_alone(words, run, start, end)):
            end -= 1
        table = _table(sheet, run[start : end + 1], words)
        if table is None:
            start += 1
        else:
            yield table
            start = end + 1


def _is_group_row(sheet: Sheet, i: int) -> bool:
    """A short line that heads some rows of a table: "Bolts and screws"."""
    text = sheet.rows[i].text
    return len(text) <= 40 and not finished(text) and text[0].isupper()


def _is_left_alone(words: dict[int, list[Word]], run: list[int], start: int, at: int) -> bool:
    return not _gaps(words[run[at]]) and words[run[at]][0][0] <= words[run[start]][0][0] + _WIDE


def _belongs(sheet: Sheet, run: list[int], words: dict[int, list[Word]], start: int, at: int) -> bool:
    """A row with a wide gap, a rule, one that goes on below a column that is not the first, or one that heads the next rows."""
    row = sheet.rows[run[at]]
    if row.boxed != sheet.rows[run[start]].boxed:
        return False  # a drawn box below a line is no second row of it
    if row.rule or _gaps(words[run[at]]):
        return True
    if words[run[at]][0][0] > words[run[start]][0][0] + _WIDE:
        return True
    return _is_group_row(sheet, run[at]) and at + 1 < len(run) and bool(_gaps(words[run[at + 1]]))


def _table(sheet: Sheet, run: list[int], words: dict[int, list[Word]]) -> RawTable | None:
    lines = [i for i in run if not sheet.rows[i].rule]
    gappy = [i for i in lines if _gaps(words[i])]
    left = words[gappy[0]][0][0] if gappy else 0
    # A line over some rows runs across the columns and says nothing about them.
    gutters = _gutters([words[i] for i in lines if i in gappy or words[i][0][0] > left + _WIDE])
    # Where every row has the same number of cells, two blanks between them are enough: they need not stand one below the other.
    even = len({len(_gaps(words[i])) for i in lines}) == 1
    if (not gutters and not even) or len(gappy) < 2:
        return None
    ruled = [i for i in run if sheet.rows[i].rule]
    widest = min(max(b - a for a, b in _gaps(words[i])) for i in gappy)
    if len(gappy) < 3 and not ruled and widest < 3:
        return None
    if even:
        rows = [_cells(sheet.rows[i], words[i], [b for _, b in _gaps(words[i])]) for i in lines]
    else:
        rows = [_cells(sheet.rows[i], words[i], gutters if i in gappy or words[i][0][0] > left + _WIDE else ()) for i in lines]
        rows = [(*row, *((),) * (len(gutters) + 1 - len(row))) for row in rows]
    rows[0] = _head_in_place(rows[0], [words[i] for i in lines], gutters)
    if _is_list(sheet, rows) or _is_prose(sheet, lines, rows):
        return None
    above = sum(i < ruled[0] for i in lines) if ruled else 0
    if above > 1:  # a head of two lines above its rule
        rows = [_stack(rows[:above]), *rows[above:]] if above <= 3 else rows
    head, body = split_head(sheet, rows, 1 if 0 < above <= 3 else 0)
    return RawTable(tuple(run), head, tuple(merge_continuations(sheet, body)), "aligned")


def _head_in_place(row: tuple[Cell, ...], lines: Sequence[Sequence[Word]], gutters: Sequence[int]) -> tuple[Cell, ...]:
    """The first row with nothing over the first column, where its words begin right of all that stands in that column below."""
    if len(lines) < 4 or len(row) < 3 or not gutters or not row[0] or not row[1]:
        return row
    below = [w[1] for line in lines[1:] for w in line if w[1] <= gutters[0]]
    return ((), (*row[0], *row[1]), *row[2:]) if below and lines[0][0][0] > max(below) else row


def _stack(rows: Sequence[tuple[Cell, ...]]) -> tuple[Cell, ...]:
    return tuple(tuple(span for row in rows for span in row[k]) for k in range(len(rows[0])))


def _gutters(lines: Sequence[Sequence[Word]]) -> list[int]:
    """Columns of the page at which a new column of the table begins."""
    rivers = _rivers(lines)
    while rivers:
        weakest = min(range(len(rivers)), key=lambda n: _strength(lines, rivers, n))
        if _strength(lines, rivers, weakest) >= 0.5:
            break
        del rivers[weakest]
    return [end for _, end in _whole_heads(lines, rivers)]


def _whole_heads(lines: Sequence[Sequence[Word]], rivers: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Without the river inside a head of two words ("How many" over a column of numbers): only one row has words before it."""
    kept = list(rivers)
    for left, right in pairwise(rivers):
        inside = [line for line in lines if any(left[1] <= w[0] < right[0] for w in line)]
        if len(inside) == 1 and len(lines) > 2 and all(b - a < _WIDE for a, b in _across(inside[0], right)):
            kept.remove(right)
    return kept


def _across(line: Sequence[Word], river: tuple[int, int]) -> list[tuple[int, int]]:
    """The blank of a row over a river, as (end of the word before, start of the word behind)."""
    return [(a[1], b[0]) for a, b in pairwise(line) if a[1] <= river[0] and b[0] >= river[1]]


def _rivers(lines: Sequence[Sequence[Word]]) -> list[tuple[int, int]]:
    """Stretches of columns that are blank in all rows, with something on both sides."""
    width = max(word[1] for line in lines for word in line) + 1
    used = [False] * (width + 1)
    for line in lines:
        for first, last, _, _ in line:
            used[first:last] = [True] * (last - first)
    rivers: list[tuple[int, int]] = []
    column = min(word[0] for line in lines for word in line)
    while column < width:
        end = column
        while end < width and not used[end]:
            end += 1
        if column < end < width:
            rivers.append((column, end))
        column = max(end, column + 1)
    return rivers


def _strength(lines: Sequence[Sequence[Word]], rivers: Sequence[tuple[int, int]], n: int) -> float:
    """The part of the rows with words in the column behind river ``n`` that a wide blank parts from the words before it."""
    start, end = rivers[n]
    stop = rivers[n + 1][0] if n + 1 < len(rivers) else 10**6
    wide = filled = 0
    for line in lines:
        behind = [w[0] for w in line if end <= w[0] < stop]
        before = [w[1] for w in line if w[1] <= start]
        if behind and before:
            filled += 1
            wide += min(behind) - max(before) >= _WIDE
    return wide / filled if filled else 0.0


def _cells(row: Row, words: Sequence[Word], gutters: Sequence[int]) -> tuple[Cell, ...]:
    edges = [-1, *gutters, 10**6]
    cells: list[Cell] = []
    for left, right in pairwise(edges):
        inside = [w for w in words if left <= w[0] < right]
        cells.append((row.span(inside[0][2], inside[-1][3]),) if inside else ())
    return tuple(cells)


def _is_list(sheet: Sheet, rows: Sequence[tuple[Cell, ...]]) -> bool:
    """True if the first column is nothing but list marks or step labels before a text: a list with hanging indentation."""
    firsts = [printed(sheet, row[0]) for row in rows if row[0]]
    if len(rows[0]) != 2 or not firsts:
        return False
    marks = sum(bool(bullet(first)) or any(not label.weak and label.sep for label in labels(first)) for first in firsts)
    return marks >= 0.6 * len(firsts) or _counts_sentences(sheet, rows)


def _counts_sentences(sheet: Sheet, rows: Sequence[tuple[Cell, ...]]) -> bool:
    """True if labels without punctuation ("3a", "3b") count up along the first column and sentences stand behind them."""
    pairs = [(printed(sheet, row[0]), printed(sheet, row[1])) for row in rows if row[0] and row[1]]
    found = [{label.form: label.path for label in labels(first)} for first, _ in pairs]
    forms = set.intersection(*(set(one) for one in found)) if found else set()
    rising = any(all(follows(a[form], b[form]) for a, b in pairwise(found)) for form in forms)
    return rising and any(text.rstrip().endswith((".", "?", "!")) or len(text) > 45 for _, text in pairs)


def _is_prose(sheet: Sheet, lines: Sequence[int], rows: Sequence[tuple[Cell, ...]]) -> bool:
    """True for sentences with two blanks between them, or for steps behind bare numbers."""
    if len(rows[0]) > 2 or any(column_kind(printed(sheet, cell)) for cell in rows[0] if cell):
        return False
    texts = [printed(sheet, row[1]) for row in rows if len(row) > 1 and row[1]]
    long = sum(len(text) > 45 for text in texts)
    firsts = [printed(sheet, row[0]) for row in rows if row[0]]
    counted = [int(first) for first in firsts if first.isdigit()]
    rising = len(counted) >= 2 and counted == list(range(counted[0], counted[0] + len(counted)))
    if sum(first.endswith((".", "!", "?")) and " " in first for first in firsts) > 0.5 * len(firsts):
        return True
    full = sum(sheet.rows[i].reach > 0.85 for i in lines)
    return (
        (rising and any(text.rstrip().endswith(".") for text in texts))
        or long >= 0.6 * len(texts)
        or (full > 0.7 * len(lines) and sum(map(len, texts)) > 30 * len(texts))
    )
