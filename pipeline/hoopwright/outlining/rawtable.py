"""What every finder of tables works with: cells as spans, heads told from rows, wrapped rows put together."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from hoopwright.outlining.ink import Span
from hoopwright.outlining.rows import Sheet
from hoopwright.outlining.vocabulary import vocabulary

Cell = tuple[Span, ...]  # empty for an empty cell
Slice = tuple[int, int]  # start and end in a row's text

_NUMBER = re.compile(r"^[~c.]*\d[\d.,/ –-]*")


@dataclass(frozen=True, slots=True)
class RawTable:
    """A table as spans. ``positions`` are its rows among the sheet's, ``style`` tells how it is drawn."""

    positions: tuple[int, ...]
    head: tuple[Cell, ...]
    rows: tuple[tuple[Cell, ...], ...]
    style: str

    @property
    def columns(self) -> int:
        return max([len(self.head), *(len(row) for row in self.rows)])


def printed(sheet: Sheet, cell: Cell) -> str:
    """A cell's characters, one blank between its spans."""
    return " ".join(sheet.document.text[span.start : span.end] for span in cell)


def head_word(text: str) -> str:
    """A column head as the vocabulary has it: lower case, without marks, brackets and dots at its end."""
    plain = re.sub(r"[*_`]|\(.*?\)|\[.*?\]", " ", text.lower())
    return " ".join(plain.split()).strip(" .:")


def column_kind(text: str) -> str | None:
    """ "code", "bag", "name", "size", "quantity" or "note" for a column head, "place" for one about the frame, else None."""
    words = vocabulary()
    word = head_word(text)
    in_box = re.fullmatch(r"(\w+) (?:in|to) (?:the |a |each |this )?(\w+)", word)  # "pieces in tub"
    bare = in_box[1] if in_box is not None and words.container.fullmatch(in_box[2]) else word
    for form in dict.fromkeys((word, word[:-1] if word.endswith("s") else word, bare)):
        if form in words.place_columns:
            return "place"
        for kind, known in words.columns.items():
            if form in known:
                return kind
    return None


def split_head(sheet: Sheet, rows: Sequence[tuple[Cell, ...]], ruled: int) -> tuple[tuple[Cell, ...], list[tuple[Cell, ...]]]:
    """(head, rows). ``ruled`` rows stand above a rule and are the head for sure; without a rule the first row's words decide."""
    body = list(rows)
    if len(body) < 2:
        return (), body
    if ruled:
        return _with_numbers(sheet, (body[0] if any(body[0]) else ()), body[1:])
    texts = [printed(sheet, cell) for cell in body[0]]
    if sum(bool(text) for text in texts) < 2:
        return (), body
    known = sum(column_kind(text) is not None for text in texts if text)
    if known and texts[0] and column_kind(texts[0]) and _counting_up([text for text in texts[1:] if text]):
        return body[0], body[1:]  # "Hoop | 1 | 2 | 3"
    figures = sum(bool(_NUMBER.match(text)) for text in texts)
    if (known >= 2 and not figures) or (known and not figures and _figures_below(sheet, body[1:])):
        return _with_numbers(sheet, body[0], body[1:])
    if not texts[0] and not figures and len(body) > 3 and _figures_right(sheet, body[1:]):
        return body[0], body[1:]  # names down, what each takes across: nothing stands over the names
    return (), body


def _figures_right(sheet: Sheet, rows: Sequence[tuple[Cell, ...]]) -> bool:
    """True if all that stands right of the first column are numbers and dashes."""
    cells = [printed(sheet, cell) for row in rows for cell in row[1:] if cell]
    return len(cells) > len(rows) and all(_NUMBER.match(cell) or cell in "-–—" for cell in cells)


def _with_numbers(sheet: Sheet, head: tuple[Cell, ...], body: list[tuple[Cell, ...]]) -> tuple[tuple[Cell, ...], list[tuple[Cell, ...]]]:
    """(head, rows) with a head of two lines put together: "Hoop | Hoop | Hoop", or one "Hoop" over all, above "1 | 2 | 3"."""
    if len(body) < 2 or not body[0] or body[0][0] or len(body[0]) != len(head):
        return head, body
    numbered = [k for k, cell in enumerate(body[0]) if printed(sheet, cell).isdigit()]
    over = {head_word(printed(sheet, head[k])) for k in numbered} - {""}
    if not _counting_up([printed(sheet, body[0][k]) for k in numbered]) or len(over) != 1:
        return head, body
    return tuple((*above, *below) for above, below in zip(head, body[0], strict=True)), body[1:]


def _counting_up(texts: Sequence[str]) -> bool:
    numbers = [int(text) for text in texts if text.isdigit()]
    return len(numbers) == len(texts) > 1 and all(b == a + 1 for a, b in pairwise(numbers))


def _figures_below(sheet: Sheet, rows: Sequence[tuple[Cell, ...]]) -> bool:
    """True if some column holds nothing but numbers below the first row."""
    width = max(len(row) for row in rows)
    return any(all(k < len(row) and _NUMBER.match(printed(sheet, row[k])) for row in rows) for k in range(width))


def merge_continuations(sheet: Sheet, rows: Sequence[tuple[Cell, ...]]) -> list[tuple[Cell, ...]]:
    """Puts a row whose first cell is empty, or that only goes on with a text, onto the row above."""
    merged: list[tuple[Cell, ...]] = []
    for row in rows:
        if merged and _goes_on(sheet, merged[-1], row):
            width = max(len(row), len(merged[-1]))
            above = (*merged[-1], *((),) * (width - len(merged[-1])))
            below = (*row, *((),) * (width - len(row)))
            merged[-1] = tuple((*a, *b) for a, b in zip(above, below, strict=True))
        else:
            merged.append(tuple(row))
    return merged


def _goes_on(sheet: Sheet, above: tuple[Cell, ...], row: tuple[Cell, ...]) -> bool:
    filled = [k for k, cell in enumerate(row) if cell]
    if not filled:
        return False
    texts = {k: printed(sheet, row[k]) for k in filled}
    if any(re.fullmatch(r"\d+", text) for text in texts.values()):
        return False
    if filled[0] > 0:
        return all(k < len(above) and above[k] for k in filled)
    return len(filled) == 1 and len(row) > 1 and texts[0][0].islower() and bool(above[0])
