"""Rows folded into blocks: headings, paragraphs, list items, tables, call-outs, captions, footnotes."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from hoopwright.outlining.callouts import signal_of
from hoopwright.outlining.cards import Deck, Start, find_cards
from hoopwright.outlining.ink import Span, visible
from hoopwright.outlining.labels import Label, labels
from hoopwright.outlining.listlines import list_lines
from hoopwright.outlining.numbering import bullets, dangling, finished, numbering
from hoopwright.outlining.rows import Row, Sheet
from hoopwright.outlining.tables import RawTable, find_tables
from hoopwright.outlining.vocabulary import ends_name, vocabulary

BlockKind = Literal["heading", "text", "bullet", "table", "callout", "caption", "footnote", "rule", "card"]

_HASHES = re.compile(r"^(#{1,6})\s+")
_SETEXT = re.compile(r"^(=+|-{2,}|~{3,}|\*{3,}|_{3,}|[─━═]{2,})$")
_PICTURE = re.compile(r"^!\[[^\]]*\]\([^)]*\)$")
_SHORT_TITLE = 0.85  # of the measure
_ENDED = 0.6  # of the measure: the line was ended on purpose
_SPARE = 4  # characters of room that uneven lines may leave
_FOOTNOTE = re.compile(r"^(?:\[\^[^\]]+\]:|[*†‡§¹²³⁴⁵⁶⁷⁸⁹]+\s?(?=[A-Z]))")


@dataclass(frozen=True, slots=True)
class Block:
    """Rows that belong together. ``lead`` is where the words of the first row begin, behind label, bullet or heading marks.

    ``rank`` orders headings (1 outermost; 0: not yet known). ``signal`` is the signal word of a call-out.
    """

    kind: BlockKind
    rows: tuple[Row, ...]
    lead: int = 0
    label: Label | None = None
    mark: str | None = None
    table: RawTable | None = None
    signal: str | None = None
    rank: int = 0
    gap_after: bool = False
    titled: bool = False  # its words are the title of a step, which follows
    fields: tuple[Start | None, ...] = ()  # of a card: the one that starts in each of ``rows``, or None

    @property
    def first(self) -> Row:
        return self.rows[0]

    @property
    def spans(self) -> tuple[Span, ...]:
        """The block's words, without label, bullet or heading marks."""
        head, *rest = self.rows
        return (head.span(self.lead), *(row.span() for row in rest))

    def words(self, sheet: Sheet) -> str:
        """The block's words in one line, to judge them by."""
        head, *rest = self.rows
        parts = [head.text[self.lead :], *(row.text for row in rest)]
        return " ".join(" ".join(visible(part, sheet.document.kind) for part in parts).split())


def fold(sheet: Sheet) -> list[Block]:
    """The blocks of a sheet in reading order, list items and paragraphs still undecided as to headings."""
    rows = sheet.rows
    deck = find_cards(sheet)
    tables = find_tables(sheet, deck.taken)
    inside = frozenset(i for table in tables for i in table.positions)
    closed = frozenset(i for i in range(len(rows)) if (_complete(sheet, i) and i not in deck.more) or i in inside or i in deck.titles)
    elsewhere = inside | deck.taken
    numbered = {**numbering(rows, closed, frozenset(elsewhere)), **deck.labels}
    marks = bullets(rows, numbered, closed, frozenset(elsewhere))
    first_of = {table.positions[0]: table for table in tables}
    folder = _Folder(sheet, numbered, marks, closed, deck)
    for i in range(len(rows)):
        if i in first_of:
            folder.table(first_of[i])
        elif i not in inside:
            folder.row(i)
    return folder.done()


def _complete(sheet: Sheet, i: int) -> bool:
    row = sheet.rows[i]
    if row.rule:
        return True
    if sheet.document.kind == "markdown" and not row.fenced and _HASHES.match(row.text):
        return True
    return _is_title_row(sheet, i)


def _is_title_row(sheet: Sheet, i: int) -> bool:
    """A row in capitals, or larger or bolder than what is around it, that is short and not the end of anything."""
    row = sheet.rows[i]
    letters = [c for c in visible(row.text, sheet.document.kind) if c.isalpha()]
    if len(row.text) > 75 or len(letters) < 3 or row.text[0].islower() or row.quoted or row.boxed:
        return False
    large = _is_large(row, sheet)
    caps = not sheet.shouted and sum(c.isupper() for c in letters) >= 0.9 * len(letters) and len(letters) > 4
    return (
        large
        or _is_bold_alone(sheet.rows, i)
        or (caps and not row.text.rstrip().endswith(",") and not (i and row.gap == "none" and dangling(sheet.rows[i - 1].text)))
    )


def _is_large(row: Row, sheet: Sheet) -> bool:
    return row.size is not None and sheet.body_size is not None and row.size > 1.08 * sheet.body_size


def _is_bold_alone(rows: Sequence[Row], i: int) -> bool:
    """True for a short bold row with a space before it and no bold row below it: a title, however small, and no stressed sentence."""
    row, below = rows[i], rows[i + 1] if i + 1 < len(rows) else None
    if not row.bold or row.gap == "none" or row.reach > _SHORT_TITLE or finished(row.text):
        return False
    if row.reach > _ENDED and dangling(row.text):
        return False
    return below is None or not below.bold or below.gap == "hard"


class _Folder:
    """Puts rows together one by one."""

    def __init__(
        self, sheet: Sheet, numbered: Mapping[int, Label], marks: Mapping[int, tuple[str, int]], closed: frozenset[int], deck: Deck
    ) -> None:
        self.sheet = sheet
        self.numbered = numbered
        self.marks = marks
        self.closed = closed
        self.closed_lines = {sheet.rows[i].index for i in closed}
        self.deck = deck
        self.lines = list_lines(sheet, closed, numbered, marks, deck.taken)
        self.blocks: list[Block] = []
        self.open: Block | None = None  # without its rows, which gather in ``rows`` until it is complete
        self.rows: list[Row] = []

    def done(self) -> list[Block]:
        self.flush()
        return [replace(b, gap_after=_gap_after(self.blocks, i)) for i, b in enumerate(self.blocks)]

    def flush(self) -> None:
        if self.open is not None:
            self.blocks.append(_classify(replace(self.open, rows=tuple(self.rows)), self.sheet))
        self.open, self.rows = None, []

    def start(self, block: Block) -> None:
        self.flush()
        self.open, self.rows = block, list(block.rows)

    def table(self, table: RawTable) -> None:
        self.flush()
        rows = tuple(self.sheet.rows[i] for i in table.positions)
        self.blocks.append(Block("table", rows, table=table))

    def row(self, i: int) -> None:
        row = self.sheet.rows[i]
        if row.rule:
            self.rule(row)
        elif self.sheet.document.kind == "markdown" and not row.fenced and (match := _HASHES.match(row.text)):
            self.flush()
            bare = row.text.rstrip("#")  # "## Fitting ##"
            row = replace(row, text=bare.rstrip()) if bare[-1:].isspace() and bare.strip() else row
            self.blocks.append(Block("heading", (row,), lead=match.end(), rank=len(match.group(1))))
        elif i in self.deck.fields or i in self.deck.more or i in self.deck.titles:
            self.card(i)
        elif i in self.numbered:
            label = self.numbered[i]
            self.start(Block("text", (row,), lead=label.body, label=label))
        elif i in self.marks:
            mark, lead = self.marks[i]
            self.start(Block("bullet", (row,), lead=lead, mark=mark))
        elif i in self.lines:
            self.start(Block("bullet", (row,)))
        elif self.open is None or not self.runs_on(self.open, row, i):
            self.start(Block("text", (row,)))
        else:
            self.rows.append(row)

    def card(self, i: int) -> None:
        """A row of a card: its name, the start of a field, or a row that goes on with one."""
        row, start, label = self.sheet.rows[i], self.deck.fields.get(i), self.deck.labels.get(i)
        if label is not None:
            end = self.deck.titles.get(i, label.body)
            title = replace(row, text=row.text[:end].rstrip())
            self.start(Block("text", (title,), lead=min(label.body, len(title.text)), label=label, titled=True))
        if i in self.deck.titles:
            return
        block = self.open
        again = block is not None and start is not None and any(f is not None and f.kind == start.kind for f in block.fields)
        if block is None or block.kind != "card" or again:
            assert start is not None
            self.start(Block("card", (row,), lead=start.at, fields=(start,)))
        else:
            self.open = replace(block, fields=(*block.fields, start))
            self.rows.append(row)

    def rule(self, row: Row) -> None:
        """A rule under a single short row makes it a heading; any other rule only parts."""
        block = self.open
        if (
            block is not None
            and len(self.rows) == 1
            and row.gap == "none"
            and _SETEXT.match(row.text)
            and len(block.first.text) <= 80
            and block.mark is None
            and not block.first.boxed
        ):
            self.blocks.append(replace(block, kind="heading", rank=1 if row.text[0] in "=═━*" else 2))
            self.open, self.rows = None, []
            return
        self.flush()
        self.blocks.append(Block("rule", (row,)))

    def runs_on(self, block: Block, row: Row, i: int) -> bool:
        """True if ``row`` goes on with the block under way."""
        last = self.rows[-1]
        if block.kind == "card" or block.titled:
            return False
        if row.gap == "hard" or row.boxed != last.boxed or row.quoted != last.quoted or row.fenced != last.fenced:
            # A lazy line of Markdown may drop the ">" of its block quotation, but we have seen no manual that does.
            return False
        if row.gap == "soft":
            return not (finished(last.text) or _ended(last, row) or _starts_anew(row, self.sheet))
        if row.size is not None and last.size is not None and abs(row.size - last.size) > 0.05 * last.size:
            return False
        if _is_caption(block, self.sheet) and abs(row.indent - last.indent) > 1.5 and row.text[0].isupper():
            return False  # a centred caption with running text close below it
        if i in self.closed or last.index in self.closed_lines:
            return _wrapped_title(last, row, self.sheet)
        if _starts_anew(row, self.sheet) and finished(last.text):
            return False
        if row.boxed or row.quoted:
            return True
        return not self._new_paragraph(block, row)

    def _new_paragraph(self, block: Block, row: Row) -> bool:
        last = self.rows[-1]
        if not finished(last.text):
            return False
        hanging = len(self.rows) > 1 and self.rows[1].indent > block.first.indent + 1
        outdent = hanging and row.indent <= block.first.indent + 0.5
        indent = row.indent > last.indent + 1.5 and len(self.rows) > 1
        return outdent or indent or (block.label is not None and len(self.rows) == 1 and row.indent < block.first.indent - 1)


def _wrapped_title(last: Row, row: Row, sheet: Sheet) -> bool:
    """True if a title in large type goes on in the next row: the first is full, and the second as large, close below and no label."""
    large = _is_large(last, sheet) and _is_large(row, sheet) and last.size == row.size and last.bold == row.bold
    full = not _ended(last, row) or row.text[0].islower()
    return large and full and row.gap == "none" and not finished(last.text) and not labels(row.text)


def _ended(last: Row, row: Row) -> bool:
    """True if the last row was ended on purpose: the next one's first word had room in it, and no sentence runs on."""
    room = len(last.text) * (1 - last.reach) / max(last.reach, 0.1)
    return room > len(row.text.split()[0]) + _SPARE and not row.text[0].islower() and not dangling(last.text)


def _starts_anew(row: Row, sheet: Sheet) -> bool:
    """True for a row that begins a call-out, a caption or a footnote."""
    words = vocabulary()
    text = visible(row.text, sheet.document.kind)
    caption = words.caption.match(text)
    return bool(signal_of(text, shouted=sheet.shouted) or ends_name(caption) or _FOOTNOTE.match(row.text))


def _is_caption(block: Block, sheet: Sheet) -> bool:
    match = vocabulary().caption.match(block.words(sheet))
    return ends_name(match)


def _classify(block: Block, sheet: Sheet) -> Block:
    """Names what an unlabelled block is by its first words."""
    if block.label is not None or block.kind == "card":
        return block
    words, text = vocabulary(), block.words(sheet)
    signal = signal_of(text, shouted=sheet.shouted)
    if signal is not None and not (block.kind == "bullet" and text[0].islower()):
        return replace(block, kind="callout", signal=signal.word)
    if block.kind != "bullet" and len(block.rows) == 1 and _is_large(block.first, sheet):
        return block  # "Table 1: what is supplied" as a heading
    caption = words.caption.match(text)
    if block.kind != "bullet" and len(text) < 200 and _named_picture(block, text):
        return replace(block, kind="caption")
    if (block.first.quoted or block.first.boxed) and not ends_name(caption):
        return replace(block, kind="callout")
    if block.kind == "bullet":
        return block
    if _PICTURE.match(block.first.text) or (caption and (ends_name(caption) or not finished(text)) and len(text) < 200):
        return replace(block, kind="caption")
    if words.bracketed_picture.match(text) and len(text) < 200:
        return replace(block, kind="caption")
    size = block.first.size
    if size is not None and sheet.body_size is not None and size < 0.85 * sheet.body_size and len(text) < 40 and not finished(text):
        return replace(block, kind="caption")  # the lettering of a drawing
    if (_FOOTNOTE.match(block.first.text) and sheet.document.kind != "markdown") or block.first.text.startswith("[^"):
        return replace(block, kind="footnote")
    return block


def _named_picture(block: Block, text: str) -> bool:
    """True for a picture's name in bold ("**Fig. 4** Lateral holder with …"), or with a box around it and a capital behind it."""
    words = vocabulary()
    name = words.picture_name.match(text)
    if name is None:
        return False
    bold = re.match(r"(?P<em>\*{1,3}|_{1,3})(?P<name>[^*_]+)(?P=em)(?=\s)", block.first.text[block.lead :])
    if bold is not None:
        return words.picture_name.fullmatch(bold.group("name").strip()) is not None
    behind = text[name.end() :].lstrip()
    return (block.first.quoted or block.first.boxed) and behind[:1].isupper()


def _gap_after(blocks: Sequence[Block], i: int) -> bool:
    return i + 1 >= len(blocks) or blocks[i + 1].first.gap == "hard" or blocks[i + 1].kind == "rule"
