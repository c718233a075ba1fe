"""The order in which a page is read: columns one after the other, tables row by row, everything else from top to bottom."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.reading.aligned import break_between, build_table
from hoopwright.reading.blocks import Block, Item, TableBlock
from hoopwright.reading.fragments import Fragment, type_height
from hoopwright.reading.gutters import Gutter, gutters
from hoopwright.reading.headed import first_headed, take_headed
from hoopwright.reading.judging import Verdict, change_between, heading_between, is_label_column, judge, list_between, stands_apart
from hoopwright.reading.lines import rows_of
from hoopwright.reading.margins import in_turn, take_foot, take_head
from hoopwright.reading.sections import sections

_MOST_WORK = 200  # searches for gutters on a page; one among many items counts more. A page of columns and tables takes ten
_ITEMS_A_SEARCH = 400
_COLUMN_REACH = 0.3  # of the longest gutter on the page
_STRAY = 0.05  # of the items on both sides of a gutter that are drawn out of turn: running heads and feet
_MOST_TRIED = 12  # gutters of a part that are looked at
_JOINED_GAP = 3.0  # of the type height: text farther apart in a row is two lines, unless the left one is a label
_SHORT_LABEL = 14  # characters


def flow(fragments: list[Fragment], tables: list[TableBlock]) -> list[Block]:
    """The printed lines and the tables in reading order."""
    return _ordered([*fragments, *tables], _Page(type_height(fragments)))


@dataclass(slots=True)
class _Page:
    """What holds for a whole page: the height of its type in points, and how much more is spent on it. Scattered labels never end."""

    height: float
    work: float = _MOST_WORK


def _ordered(items: Sequence[Item], page: _Page) -> list[Block]:
    height = page.height
    page.work -= 1 + len(items) / _ITEMS_A_SEARCH
    if len(items) < 6 or page.work < 0:
        return _rows(items, height)
    candidates = _page_first(items, gutters(items, height))
    if not candidates or not _drawn_apart(items, candidates[0]):
        headed = _under_heads(items, page)  # not over columns of the page, whose headings may stand side by side
        if headed is not None:
            return headed
    for gutter in candidates[:_MOST_TRIED]:
        band = _band(items, gutter, candidates, height)
        if band is None:
            continue
        change = change_between(band.columns)
        if change is not None:
            return _in_two(items, change, page)
        verdict = judge(band.columns, height)
        if verdict is Verdict.HANGING:
            return _ordered([*band.above, *_hung(band.columns[0], band.columns[1:]), *band.below], page)
        if verdict is Verdict.NONE:
            continue
        between = _between_tables(band, height) if verdict is Verdict.TABLE else None
        if between is not None:
            return _in_two(items, between, page)
        return _cut(band, verdict, page)
    return _rows(items, height)


def _under_heads(items: Sequence[Item], page: _Page) -> list[Block] | None:
    """What stands above the first table with bold heads, the table, and what stands below; None if there is no such table."""
    found = first_headed(rows_of([i for i in items if isinstance(i, Fragment)]), page.height)
    if found is None:
        return None
    table, inside = found
    rest = [i for i in items if not any(i is fragment for fragment in inside)]
    if any(i.top < table.bottom and i.bottom > table.top and i.middle > table.top and i.middle < table.bottom for i in rest):
        return None
    above, below = [i for i in rest if i.middle <= table.top], [i for i in rest if i.middle >= table.bottom]
    return [*(_ordered(above, page) if above else []), table, *(_ordered(below, page) if below else [])]


def _between_tables(band: _Band, height: float) -> float | None:
    """Where a table ends and another one, or a list, begins that happens to have the same gutters."""
    texts = [[i for i in column if isinstance(i, Fragment)] for column in band.columns]
    return heading_between(band.columns, height) or list_between(band.columns) or break_between(texts)


def _in_two(items: Sequence[Item], at: float, page: _Page) -> list[Block]:
    """What stands above ``at``, then what stands below."""
    return [*_ordered([i for i in items if i.middle < at], page), *_ordered([i for i in items if i.middle >= at], page)]


@dataclass(slots=True)
class _Band:
    """The part of a page that gutters run through, and what stands above and below."""

    above: list[Item]
    columns: list[list[Item]]
    below: list[Item]


def _band(items: Sequence[Item], gutter: Gutter, candidates: list[Gutter], height: float) -> _Band | None:
    """The items that ``gutter``, and others beside it that reach as far, part into columns; None if the white is there by chance."""
    chosen = _between_columns(items, _peers(gutter, candidates))
    if gutter not in chosen:
        gutter = chosen[0]
    while True:
        band = _parted_by(items, chosen, height)
        if any(not column for column in band.columns):
            return None
        doubtful = [g for g, column in zip(chosen, band.columns[1:], strict=True) if not stands_apart(column, g.x1 - g.x0, height)]
        if not doubtful:
            return band
        if gutter in doubtful:
            return None
        chosen = [g for g in chosen if g not in doubtful]


def _page_first(items: Sequence[Item], candidates: list[Gutter]) -> list[Gutter]:
    """The gutters with the one between the page's columns before that of a table in one of them, which may be longer."""
    if not candidates or _drawn_apart(items, candidates[0]):
        return candidates
    longest = candidates[0]
    beside = [g for g in candidates if (g.x1 <= longest.x0 or g.x0 >= longest.x1) and g.reach >= _COLUMN_REACH * longest.reach]
    found = next((g for g in beside if _drawn_apart(items, g)), None)
    return candidates if found is None else [found, *(g for g in candidates if g is not found)]


def _between_columns(items: Sequence[Item], chosen: list[Gutter]) -> list[Gutter]:
    """Of gutters side by side those between columns of the page, where the others part the columns of tables in them; else all."""
    return [gutter for gutter in chosen if _drawn_apart(items, gutter)] or chosen


def _drawn_apart(items: Sequence[Item], gutter: Gutter) -> bool:
    """Whether what stands left of the gutter is drawn before what stands right of it, but for running heads, as columns of a page are.

    A table is drawn row by row, and so are labels and the text beside them.
    """
    middle = (gutter.x0 + gutter.x1) / 2
    beside = sorted((i for i in items if gutter.top <= i.middle <= gutter.bottom), key=lambda i: i.order)
    left = [i.x1 <= middle for i in beside]
    count = sum(left)
    return 0 < count < len(left) and left[:count].count(False) <= _STRAY * len(left)


def _parted_by(items: Sequence[Item], chosen: list[Gutter], height: float) -> _Band:
    """The items parted by gutters that stand side by side, left to right."""
    top, bottom = max(g.top for g in chosen), min(g.bottom for g in chosen)
    edges = [(g.x0 + g.x1) / 2 for g in chosen]
    columns: list[list[Item]] = [[] for _ in range(len(edges) + 1)]
    for item in items:
        if top <= item.middle <= bottom:
            columns[sum(edge < (item.x0 + item.x1) / 2 for edge in edges)].append(item)
    return _Band([i for i in items if i.middle < top], columns, [i for i in items if i.middle > bottom])


def _peers(gutter: Gutter, candidates: list[Gutter]) -> list[Gutter]:
    """``gutter`` and those beside it that run along nearly all of it."""
    chosen = [gutter]
    for other in candidates:
        together = min(g.last for g in [*chosen, other]) - max(g.first for g in [*chosen, other])
        if together >= 0.75 * gutter.reach and all(other.x1 < g.x0 or other.x0 > g.x1 for g in chosen):
            chosen.append(other)
    return sorted(chosen, key=lambda g: g.x0)


def _cut(band: _Band, verdict: Verdict, page: _Page) -> list[Block]:
    height = page.height
    above, below = list(band.above), list(band.below)
    if verdict is Verdict.TABLE:
        table = build_table([[i for i in column if isinstance(i, Fragment)] for column in band.columns], height)
        middle: list[Block] = [
            *(block for column in table.prose_above for block in _rows(column, height)),
            table.block,
            *(block for column in table.prose_below for block in _rows(column, height)),
        ]
        above.extend(table.before)
        below.extend(table.after)
    else:
        head, columns = take_head(_with_labels(band.columns), height)
        foot, columns = take_foot(columns, height)
        columns = in_turn(columns, below, height)
        above, below = [*above, *head], [*foot, *below]
        middle = [block for group in sections(columns) for block in _side_by_side(group, page)]
    upper = _ordered(above, page) if above else []
    lower = _ordered(below, page) if below else []
    return [*upper, *middle, *lower]


def _side_by_side(columns: list[list[Item]], page: _Page) -> list[Block]:
    return [block for column in columns if column for block in _ordered(column, page)]


def _with_labels(columns: list[list[Item]]) -> list[list[Item]]:
    """The columns with each that holds only labels put to the text it belongs to."""
    out: list[list[Item]] = []
    for column in reversed(columns):
        if out and is_label_column(column, out[0]):
            out[0] = _hung(column, [out[0]])
        else:
            out.insert(0, column)
    return out


def _hung(labels: list[Item], columns: list[list[Item]]) -> list[Item]:
    """The items with each label of the first column put before the text on its line."""
    rest = [i for column in columns for i in column]
    out: list[Item] = []
    for label in labels:
        if not isinstance(label, Fragment):
            out.append(label)
            continue
        texts = [i for i in rest if isinstance(i, Fragment) and i.x0 >= label.x1 and i.top < label.middle < i.bottom]
        if not texts:
            out.append(label)
            continue
        text = min(texts, key=lambda i: i.x0)
        rest.remove(text)
        top, bottom = min(label.top, text.top), max(label.bottom, text.bottom)
        out.append(Fragment([*label.words, *text.words], label.x0, top, text.x1, bottom, min(label.order, text.order)))
    return [*out, *rest]


def _rows(items: Sequence[Item], height: float) -> list[Block]:
    """The items from top to bottom; what stands in a row and not too far apart makes a line. Rows under bold heads make a table."""
    headed, rows = take_headed(rows_of([i for i in items if isinstance(i, Fragment)]), height)
    tables = [*headed, *(i for i in items if isinstance(i, TableBlock))]
    blocks: list[tuple[float, float, Block]] = [(table.top, table.x0, table) for table in tables]
    for row in rows:
        for line in _parted(row):
            blocks.append((row[0].top, line[0].x0, line))
    return [block for _, _, block in sorted(blocks, key=lambda b: b[:2])]


def _parted(row: list[Fragment]) -> list[list[Fragment]]:
    lines = [[row[0]]]
    for fragment in row[1:]:
        last = lines[-1][-1]
        gap = fragment.x0 - last.x1
        near = gap <= _JOINED_GAP * max(last.height, fragment.height)
        if near or len(last.text) <= _SHORT_LABEL:
            lines[-1].append(fragment)
        else:
            lines.append([fragment])
    return lines
