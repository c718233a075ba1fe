"""Blocks put in order: sections with their roles and extras, steps with their items."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from hoopwright.model.outline import Field, Item, Passage, Section, Step, Table
from hoopwright.outlining.blocks import Block
from hoopwright.outlining.callouts import signal_of
from hoopwright.outlining.headings import bold_lead
from hoopwright.outlining.ink import Ink, Span
from hoopwright.outlining.rawtable import RawTable
from hoopwright.outlining.roles import extra_of, extra_of_step
from hoopwright.outlining.rows import Sheet
from hoopwright.outlining.sectioning import Sections
from hoopwright.outlining.steptables import has_fields, row_steps

_RUN_IN_CORRECTION = re.compile(r"^(?:correction|erratum|addendum|amendment|corrigendum)\b[^.:]{0,40}[.:–—-]", re.IGNORECASE)


@dataclass(slots=True)
class _Builder:
    """A step under way."""

    block: Block
    section: Section
    title: Passage | None = None
    items: list[Item] = field(default_factory=list)
    indents: list[float] = field(default_factory=list)  # of its nested lists, outermost first
    loose: bool = False  # a rule ended it: what follows unindented is not its own

    @property
    def labelled(self) -> bool:
        return self.block.label is not None


class Assembler:
    """Builds the sections and steps of one document."""

    def __init__(self, sheet: Sheet, ink: Ink) -> None:
        self.sheet = sheet
        self.ink = ink
        self.sections = Sections(ink.document.id)
        self.steps: list[Step] = []
        self.current: _Builder | None = None
        self.caption: Passage | None = None
        self.signal: str | None = None
        self.title = ""

    def assemble(self, blocks: Sequence[Block]) -> None:
        """Takes all blocks in; afterwards ``sections`` and ``steps`` are complete."""
        for i, block in enumerate(blocks):
            following = blocks[i + 1] if i + 1 < len(blocks) else None
            self._block(block, following)
        self._close()

    def _block(self, block: Block, following: Block | None) -> None:
        if block.kind == "heading":
            self._heading(block)
        elif block.kind == "rule":
            if self.current is not None:
                self.current.loose = True
        elif block.kind == "table" and block.table is not None:
            self._table_block(block, block.table)
        elif block.kind == "callout":
            self._callout(block, following)
        elif block.kind == "caption":
            self._captioned(block, following)
        elif block.kind == "footnote":
            self._attach(block, Item("footnote", self.ink.passage(block.spans)))
        elif block.kind == "bullet":
            self._bullet(block)
        elif block.kind == "card":
            self._card(block)
        else:
            self._text(block)

    def _heading(self, block: Block) -> None:
        title = self.ink.passage((block.first.span(self._mark_end(block)), *block.spans[1:]))
        signal = signal_of(title.text)
        if signal is not None and signal.end >= len(title.text) and not title.text.lower().endswith("s"):
            self.signal = signal.word  # "#### Note" over a paragraph is a call-out; "NOTES" over many is a section
            return
        self._close()
        if not title.text:
            return
        self.title = self.title or title.text
        self.sections.heading(title, block.rank, block.first.page)

    def _mark_end(self, block: Block) -> int:
        """A heading's words begin behind the marks of Markdown; its number is part of its title."""
        match = re.match(r"#{1,6}\s+", block.first.text)
        return match.end() if match and self.sheet.document.kind == "markdown" else 0

    # Steps

    def _close(self) -> None:
        builder, self.current = self.current, None
        if builder is None:
            return
        label = builder.block.label
        title = builder.title
        items = tuple(item for item in builder.items if item.passage.text or item.table)
        if not items and title is not None:
            # A title with nothing below it is the step itself.
            items, title = (Item("text", title),), None
        if not items:
            return
        option = builder.section.option
        if title is not None and (extra := extra_of(title.text)) is not None and extra.name:
            option = extra.name
        option = extra_of_step(items[0].passage.text) or option
        self.steps.append(
            Step(
                id=f"{self.ink.document.id}.{len(self.steps) + 1}",
                document=self.ink.document.id,
                label=label.printed if label else None,
                section=builder.section.id,
                option=option,
                page=builder.block.first.page,
                items=items,
                title=title.text if title else None,
            )
        )

    def _start(self, block: Block) -> _Builder:
        self._close()
        self.current = _Builder(block, self.sections.current)
        return self.current

    def _attach(self, block: Block, item: Item) -> None:
        """Puts an item under the step before it, or makes it a step of its own where none stands before it in its section."""
        builder = self.current or self._start(replace(block, label=None))
        builder.items.append(item)

    def _text(self, block: Block) -> None:
        if self.signal is not None:
            self._attach(block, Item("callout", self.ink.passage(block.spans), signal=self.signal))
            self.signal = None
        elif block.label is not None and self._is_sub(block):
            self._nested(block, block.label.printed)
        elif block.label is not None and block.label.word and not block.titled and self.sections.role == "correction":
            # "Step 12: three screws": the step that it corrects, and none of the slip's own
            self._start(replace(block, label=None)).items.append(Item("text", self.ink.passage((block.first.span(), *block.spans[1:]))))
        elif block.label is not None:
            self._labelled(block)
        elif self._continues(block):
            assert self.current is not None
            self.current.items.append(Item("text", self.ink.passage(block.spans)))
        else:
            self._paragraph(block)

    def _labelled(self, block: Block) -> None:
        if block.titled or (block.label is not None and block.label.word):
            self._close()
            self.sections.leave_lists(block.rank, block.first.page)
        builder = self._start(block)
        if block.titled:
            title = self.ink.passage(block.spans)
            builder.title = title if title.text else None
            return
        spans = block.spans
        end = bold_lead(block, self.sheet)
        if end is not None:
            builder.title = self.ink.passage((block.first.span(block.lead, end),))
            spans = (block.first.span(end), *spans[1:])
        passage = self.ink.passage(spans)
        if passage.text:
            builder.items.append(Item("text", passage))

    def _paragraph(self, block: Block) -> None:
        passage = self.ink.passage(block.spans)
        if _RUN_IN_CORRECTION.match(passage.text) and self.sections.role != "correction":
            self._close()
            self.current = _Builder(block, self.sections.correction(passage), items=[Item("text", passage)])
            self._close()
            return
        self._start(block).items.append(Item("text", passage))

    def _is_sub(self, block: Block) -> bool:
        """True if a label stands for a part of the step under way and not for a step of its own."""
        builder, label = self.current, block.label
        if builder is None or builder.block.label is None or label is None or label.word:
            return False
        above = builder.block.label
        if label.form == above.form and abs(block.first.indent - builder.block.first.indent) <= 1:
            return False
        if label.letter:
            lower = label.printed.islower()
            return (lower and not (above.letter and above.form == label.form)) or block.first.indent > builder.block.first.indent + 1
        if builder.block.titled and above.word and not label.word:
            return True
        return block.first.indent > builder.block.first.indent + 1 and label.form != above.form and not label.form.startswith("clause")

    def _continues(self, block: Block) -> bool:
        """True if an unlabelled paragraph goes on with the step under way: below a title, or indented deeper than the label."""
        builder = self.current
        if builder is None or (builder.loose and block.first.indent <= builder.block.first.indent + 1):
            return False
        if builder.block.titled:
            return True
        base = builder.indents[0] if builder.indents and not builder.labelled else builder.block.first.indent
        return (builder.labelled or bool(builder.indents)) and block.first.indent > base + 1

    def _bullet(self, block: Block) -> None:
        if self.current is None:
            self._start(block).items.append(Item("bullet", self.ink.passage(block.spans), level=1))
            assert self.current is not None
            self.current.indents = [block.first.indent]
        elif self.current.block.kind == "bullet" and block.first.indent <= self.current.indents[0] + 1:
            # A list without a line above it: each of its points stands for itself.
            self._close()
            self._bullet(block)
        else:
            self._nested(block, None)

    def _nested(self, block: Block, label: str | None) -> None:
        builder = self.current
        assert builder is not None
        builder.indents = [indent for indent in builder.indents if indent < block.first.indent - 1] + [block.first.indent]
        builder.items.append(Item("bullet", self.ink.passage(block.spans), level=len(builder.indents), label=label))

    def _card(self, block: Block) -> None:
        """The fields of a card go to the step that its name or number has begun; without one they are a step of their own."""
        starts = [n for n, start in enumerate(block.fields) if start is not None]
        fields: list[Field] = []
        for a, b in pairwise([*starts, len(block.rows)]):
            start = block.fields[a]
            assert start is not None
            rows = [block.rows[a].span(start.body), *(row.span() for row in block.rows[a + 1 : b])]
            fields.append(Field(start.kind, start.word, self.ink.passage(rows), start.total))
        builder = self.current
        if builder is None or not builder.labelled or builder.loose or any(item.fields for item in builder.items):
            self._start(block)
            assert self.current is not None
        self._attach(block, Item("text", self.ink.passage(block.spans), fields=tuple(fields)))

    def _callout(self, block: Block, following: Block | None) -> None:
        spans, signal = block.spans, block.signal
        if signal is not None:
            spans = self._without_signal(block)
        passage = self.ink.passage(spans)
        if passage.text:
            self._attach(block, Item("callout", passage, signal=signal))
        elif following is not None and following.kind == "text":
            self.signal = signal

    def _without_signal(self, block: Block) -> tuple[Span, ...]:
        """The words of a call-out behind its signal word, without the marks that close it ("*** CAUTION: … ***")."""
        rows = [block.first.span(block.lead), *block.spans[1:]]
        signal = signal_of(self.ink.text(rows[0]), shouted=self.sheet.shouted)
        if signal is not None:
            rows[0] = rows[0].cut(signal.end, rows[0].end - rows[0].start)
        last = self.ink.text(rows[-1])
        bare = last.rstrip("*!=#")
        rows[-1] = rows[-1].cut(0, len(bare.rstrip()) if bare[-1:].isspace() else len(last))
        return tuple(rows)

    def _captioned(self, block: Block, following: Block | None) -> None:
        """A caption goes to the table that it announces, or that it stands under; a picture's is an item of its own."""
        passage = self.ink.passage(block.spans)
        last = self.current.items[-1] if self.current is not None and self.current.items else None
        if following is not None and following.kind == "table":
            self.caption = passage
        elif last is not None and last.table is not None and last.table.caption is None and passage.text.lower().startswith("tab"):
            assert self.current is not None
            self.current.items[-1] = replace(last, table=replace(last.table, caption=passage))
        else:
            self._attach(block, Item("caption", passage))

    def _table_block(self, block: Block, raw: RawTable) -> None:
        rows = row_steps(self.sheet, raw)
        if not rows:
            self._attach(block, self._table(raw))
            return
        whole = self._table(raw) if has_fields(self.sheet, raw) else None
        for n, row in enumerate(rows):
            builder = self._start(replace(block, kind="text", label=row.label))
            if whole is None or whole.table is None:
                builder.items += [Item("text", self.ink.passage(cell)) for cell in row.cells]
            else:  # a step's own row of the table, under the same heads
                table = replace(whole.table, head=whole.table.head[1:], rows=(whole.table.rows[n][1:],))
                builder.items.append(replace(whole, passage=whole.table.rows[n][0], table=table))

    def _table(self, raw: RawTable) -> Item:
        # The words of a table are in its cells; its own passage, like that of an empty cell, only says where it stands.
        place = self.ink.place(self.sheet.rows[raw.positions[0]].span())
        rows = tuple(tuple(self.ink.passage(cell) if cell else place for cell in row) for row in raw.rows)
        head = tuple(self.ink.passage(cell).text for cell in raw.head)
        caption, self.caption = self.caption, None
        return Item("table", place, table=Table(head, rows, caption))
