"""Whether columns side by side are columns of running text, a table without rules, or labels beside their text."""

from __future__ import annotations

import re
from enum import Enum
from itertools import pairwise
from statistics import mean, median

from hoopwright.reading.blocks import Item, TableBlock
from hoopwright.reading.fragments import Fragment
from hoopwright.reading.lines import rows_of

_LABEL = re.compile(
    r"^(?:[(\[]?(?:\d{1,3}(?:\.\d{1,2})*|[a-zA-Z]|[ivxIVX]{1,5}|[a-zA-Z]{1,2}-?\d{1,2})[.):\]]{1,2}|step \d+\w?[.:]?|[^\w\s]{1,2}|o)$",
    re.IGNORECASE,
)
_BARE_NUMBER = re.compile(r"^(?:\d{1,3}[a-z]?|[a-zA-Z]{3,10} \d{1,3}[a-z]?\s?[.:)–—-]?)$")  # "12", "4a", "Job 3:"; or a column of numbers
_RISING = re.compile(r"^([A-Za-z]?)(\d{1,3})([a-z]?)$")
_NUMBER = re.compile(r"^[×x*]?\s?\d[\d.,/½¼¾⅓⅔⅛⅜⅝⅞×x\s–-]*(?:mm|cm|m|in|ft|″|′|\"|'|pcs?|off|no|ea|each)?\.?$", re.IGNORECASE)
_PROSE_WORDS = 4.2  # a line, on average
_PROSE_FILL = 0.7  # of the column's width that its lines take, on average
_UNPARTED = 0.4  # of its lines, at least, that no wide gap parts
_ROW_BY_ROW = 0.45  # share of neighbours in the drawing order that stand in different columns
_COLUMN_BY_COLUMN = 0.2  # the same share, at most, in columns of text drawn one after the other
_SHORT_WORDS = 3.5  # of a row's cells, on average
_CONTRAST = 0.85  # difference of the shares of rows with short cells in two parts that are not of a kind
_LEAST_ROWS = 3  # of such a part
_SAME_EDGE = 0.35  # of the type height
_LARGER = 1.12  # of the type height
_SPACE_ABOVE = 1.25  # of the step from row to row
_SURELY_WIDE = 1.5  # of the type height: no river through running text is so wide


class Verdict(Enum):
    """What columns side by side are. HANGING: the first holds labels of the text beside it. NONE: white by chance."""

    COLUMNS = "columns"
    TABLE = "table"
    HANGING = "hanging"
    NONE = "none"


def judge(columns: list[list[Item]], height: float) -> Verdict:
    """What the columns (left to right, none empty) are."""
    if any(isinstance(item, TableBlock) for column in columns for item in column):
        return Verdict.COLUMNS
    cells = [[i for i in column if isinstance(i, Fragment)] for column in columns]
    total = max(f.x1 for column in cells for f in column) - min(f.x0 for column in cells for f in column)
    prose = [_is_prose(column, total) for column in cells]
    sentences = prose[1] or _one_a_line(cells) or (len(cells) == 2 and _words(cells[1]) >= _PROSE_WORDS and _counts_up(cells[0]))
    if _is_labels(cells[0], sentences):
        return Verdict.HANGING
    if all(prose):
        return Verdict.COLUMNS
    verdict = _table_or_columns(cells, prose)
    if verdict is Verdict.TABLE and not all(_leans(column, height) for column in columns[1:]):
        return Verdict.COLUMNS  # labels scattered over a drawing
    return verdict


def _one_a_line(cells: list[list[Fragment]]) -> bool:
    """Whether short sentences, which end with a stop, stand beside marks that rise."""
    if len(cells) != 2 or not _counts_up(cells[0]):
        return False
    ended = sum(f.text.endswith(".") and len(f.words) > 2 for f in cells[1])
    return ended >= 0.5 * len(cells[0])


def _table_or_columns(cells: list[list[Fragment]], prose: list[bool]) -> Verdict:
    rows = rows_of([f for column in cells for f in column])
    column_of = {id(f): index for index, column in enumerate(cells) for f in column}
    shared = [row for row in rows if len({column_of[id(f)] for f in row}) > 1]
    if len(shared) < (3 if len(cells) == 2 else 2):
        return Verdict.COLUMNS
    if len(cells) == 2 and all(_words(column) >= _PROSE_WORDS for column in cells):
        return Verdict.COLUMNS
    alternation = _alternation(cells, column_of)
    if alternation >= _ROW_BY_ROW:
        if len(cells) == 2 and prose[1] and _words(cells[0]) <= 2.5 and len(cells[0]) < len(cells[1]):
            return Verdict.HANGING  # side heads: "Step 4" beside its text
        if len(cells) == 2 and any(prose) and len(shared) < 0.5 * len(rows):
            return Verdict.COLUMNS
        return Verdict.TABLE if len(shared) >= 0.4 * len(rows) else Verdict.COLUMNS
    # Drawn in another order: a table only if it cannot be text, with its cells short and on the lines of their neighbours
    in_turn = alternation < _COLUMN_BY_COLUMN or alternation * len(column_of) <= len(cells)
    aligned = len(shared) >= (0.9 if in_turn else 0.6) * max(len(column) for column in cells)
    short = sum(_words(column) <= _SHORT_WORDS for column in cells) >= len(cells) - (not in_turn) and not any(prose)
    numbers = not in_turn or len(cells) > 3 or any(_numeric(column) for column in cells)
    return Verdict.TABLE if aligned and short and numbers else Verdict.COLUMNS


def _is_prose(column: list[Fragment], total: float) -> bool:
    """Running text: lines of several words that fill the column."""
    rows = rows_of(column)
    widths = [row[-1].x1 - row[0].x0 for row in rows]
    widest = max(widths)
    words = [sum(len(f.words) for f in row) for row in rows]
    if sum(len(row) == 1 for row in rows) < _UNPARTED * len(rows):
        return False
    return len(rows) >= 3 and widest >= 0.2 * total and mean(words) >= _PROSE_WORDS and mean(widths) >= _PROSE_FILL * widest


def _is_labels(column: list[Fragment], prose: bool) -> bool:
    """Numbers, letters or bullets of a list; plain numbers only beside running text, for they may be a column of a table."""
    marks = sum(bool(_LABEL.match(f.text)) or (prose and bool(_BARE_NUMBER.match(f.text))) for f in column)
    return marks >= 0.8 * len(column)


def _counts_up(column: list[Fragment]) -> bool:
    """Whether the column holds the numbers 1, 2, 3 … or 4a, 4b, 5a … or B1, B2 …, one after the other, as a list does."""
    found = [_RISING.match(f.text) for f in sorted(column, key=lambda f: f.top)]
    marks = [(m.group(1), int(m.group(2)), m.group(3)) for m in found if m is not None]
    return len(marks) == len(found) and all(_follows(a, b) for a, b in pairwise(marks))


def _follows(a: tuple[str, int, str], b: tuple[str, int, str]) -> bool:
    if a[0] != b[0]:
        return bool(a[0] and b[0]) and ord(b[0]) == ord(a[0]) + 1 and b[1] == 1
    if b[1] == a[1]:
        return bool(a[2] and b[2]) and ord(b[2]) == ord(a[2]) + 1
    return b[1] == a[1] + 1 and b[2] in ("", "a")


def _words(column: list[Fragment]) -> float:
    return float(median(len(f.words) for f in column))


def _numeric(column: list[Fragment]) -> bool:
    return sum(bool(_NUMBER.match(f.text)) for f in column) >= 0.6 * len(column)


def _alternation(cells: list[list[Fragment]], column_of: dict[int, int]) -> float:
    """How often the drawing changes the column: near 1 for a table drawn row by row, near 0 for columns of text."""
    drawn = [column_of[id(f)] for f in sorted((f for column in cells for f in column), key=lambda f: f.order)]
    return sum(a != b for a, b in pairwise(drawn)) / max(len(drawn) - 1, 1)


def is_label_column(column: list[Item], beside: list[Item]) -> bool:
    """Whether the column holds nothing but the labels of the text in the column beside it."""
    texts = [i for i in column if isinstance(i, Fragment)]
    return len(texts) == len(column) and _is_labels(texts, any(isinstance(i, Fragment) and len(i.words) > _PROSE_WORDS for i in beside))


def change_between(columns: list[list[Item]]) -> float | None:
    """Where rows of short cells and rows of running text meet that only happen to have the same gutters; None if there is no such place."""
    cells = [[i for i in column if isinstance(i, Fragment)] for column in columns]
    rows = rows_of([f for column in cells for f in column])
    short = [mean(len(f.words) for f in row) <= _SHORT_WORDS for row in rows]
    best, place = 0.0, 0
    for index in range(_LEAST_ROWS, len(rows) - _LEAST_ROWS + 1):
        if min(f.top for f in rows[index]) < max(f.bottom for f in rows[index - 1]):
            continue
        contrast = abs(mean(short[:index]) - mean(short[index:]))
        if contrast > best:
            best, place = contrast, index
    if best < _CONTRAST:
        return None
    above, below = (f.order for row in rows[:place] for f in row), (f.order for row in rows[place:] for f in row)
    column_of = {id(f): index for index, column in enumerate(cells) for f in column}
    if max(above) > min(below) and _alternation(cells, column_of) < _COLUMN_BY_COLUMN:
        return None  # drawn as columns that run through
    return (max(f.bottom for f in rows[place - 1]) + min(f.top for f in rows[place])) / 2


def heading_between(columns: list[list[Item]], height: float) -> float | None:
    """Where a heading stands between two tables that happen to have the same gutters; None if there is none.

    It stands alone over the first column, or is a row of bold heads, with more space above it than there is between rows, in bold or in
    larger type than they have.
    """
    first = {id(i) for i in columns[0]}
    rows = rows_of([i for column in columns for i in column if isinstance(i, Fragment)])
    step = median(b[0].middle - a[0].middle for a, b in pairwise(rows)) if len(rows) > 1 else 0.0
    for index in range(1, len(rows) - 1):
        above, row = rows[index - 1], rows[index]
        stressed = all(word.bold for f in row for word in f.words) or row[0].height > _LARGER * height
        plain = not all(word.bold for f in above for word in f.words)
        alone = len(row) == 1 and id(row[0]) in first
        heads = len(row) > 1 and all(word.bold for f in row for word in f.words)
        if (alone or heads) and stressed and plain and row[0].middle - above[0].middle > _SPACE_ABOVE * step:
            return (max(f.bottom for f in above) + row[0].top) / 2
    return None


def list_between(columns: list[list[Item]]) -> float | None:
    """Where a table's rows and the numbered sentences of a list meet that only happen to have the same gutter; None if they do not."""
    first = {id(i) for i in columns[0]}
    rows = rows_of([i for column in columns for i in column if isinstance(i, Fragment)])
    kinds = [_is_listed(row, first) for row in rows]
    for index in range(1, len(rows)):
        kind = kinds[index]
        before = next((k for k in reversed(kinds[:index]) if k is not None), None)
        if kind is not None and before is not None and kind is not before:
            return (max(f.bottom for f in rows[index - 1]) + min(f.top for f in rows[index])) / 2
    return None


def _is_listed(row: list[Fragment], first: set[int]) -> bool | None:
    """Whether a row is a numbered sentence, as against a table's; None for one that has nothing in the first column."""
    if id(row[0]) not in first:
        return None
    return len(row) == 2 and bool(_LABEL.match(row[0].text)) and len(row[1].words) > _PROSE_WORDS


def stands_apart(column: list[Item], gap: float, height: float) -> bool:
    """Whether the white left of a column (``gap`` wide) is no chance: it is wide, or text begins along it, or has a common edge."""
    return gap >= _SURELY_WIDE * height or _begin_together(column, height) or _leans(column, height)


def _begin_together(column: list[Item], height: float) -> bool:
    starts = [row[0].x0 for row in rows_of([i for i in column if isinstance(i, Fragment)])]
    if len(starts) < len(column) / 2:
        return True  # mostly tables
    left = min(starts)
    return sum(start - left <= _SAME_EDGE * height for start in starts) >= max(3, 0.15 * len(starts))


def _leans(column: list[Item], height: float) -> bool:
    """Whether the rows of a column share an edge, left, right or middle."""
    rows = rows_of([i for i in column if isinstance(i, Fragment)])
    if len(rows) < 3:
        return True
    for edges in ([r[0].x0 for r in rows], [r[-1].x1 for r in rows], [(r[0].x0 + r[-1].x1) / 2 for r in rows]):
        if _most_common(edges, _SAME_EDGE * height) >= 0.45 * len(rows):
            return True
    return False


def _most_common(values: list[float], tolerance: float) -> int:
    """How many of the values lie together within ``tolerance``, at most."""
    ordered = sorted(values)
    best = start = 0
    for end, value in enumerate(ordered):
        while value - ordered[start] > tolerance:
            start += 1
        best = max(best, end - start + 1)
    return best
