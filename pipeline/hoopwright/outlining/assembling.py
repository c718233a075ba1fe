"""Blocks put in order: sections with their roles and extras, steps with their items."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from hoopwright.model.outline import Item, Passage, Run, Section, SectionRole, Step, Table
from hoopwright.outlining.blocks import Block
from hoopwright.outlining.headings import CAPS, TITLE, bold_lead
from hoopwright.outlining.ink import Ink, Span
from hoopwright.outlining.rawtable import RawTable
from hoopwright.outlining.roles import extra_of, replaced_steps, role_of
from hoopwright.outlining.rows import Sheet
from hoopwright.outlining.vocabulary import vocabulary

_INHERITED: frozenset[SectionRole] = frozenset({"parts", "tools", "safety", "summary", "contents", "correction", "intro", "other"})
_RUN_IN_CORRECTION = re.compile(r"^(?:correction|erratum|addendum|amendment|corrigendum)\b[^.:]{0,40}[.:–—-]", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class _Open:
    """A section on the way down from the title. ``extras`` is True under a heading that announces extras without naming one."""

    rank: int
    section: Section
    named: SectionRole | None
    extras: bool = False


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

    def __init__(self, sheet: Sheet, ink: Ink, prefix: str) -> None:
        self.sheet = sheet
        self.ink = ink
        self.prefix = prefix
        self.sections: list[Section] = []
        self.steps: list[Step] = []
        self.stack: list[_Open] = []
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
        elif self._role() == "contents" and block.kind != "callout":
            return
        elif block.kind == "table" and block.table is not None:
            self._attach(block, self._table(block.table))
        elif block.kind == "callout":
            self._callout(block, following)
        elif block.kind == "caption":
            passage = self.ink.passage(block.spans)
            if following is not None and following.kind == "table":
                self.caption = passage
            else:
                self._attach(block, Item("caption", passage))
        elif block.kind == "footnote":
            self._attach(block, Item("footnote", self.ink.passage(block.spans)))
        elif block.kind == "bullet":
            self._bullet(block)
        else:
            self._text(block)

    # Sections

    def _role(self) -> SectionRole:
        return self.stack[-1].section.role if self.stack else "build"

    def _section(self) -> Section:
        if not self.stack:
            # Text before any heading: the section has no title of its own.
            self._open(Section(f"{self.prefix}.s0", self.ink.document.id, "", 0, "intro"), 0, None)
        return self.stack[-1].section

    def _open(self, section: Section, rank: int, named: SectionRole | None, extras: bool = False) -> None:
        self.sections.append(section)
        self.stack.append(_Open(rank, section, named, extras))

    def _heading(self, block: Block) -> None:
        self._close()
        passage = self.ink.passage((block.first.span(self._mark_end(block)), *block.spans[1:]))
        self.stack = [open_ for open_ in self.stack if 0 < open_.rank < block.rank]
        parent = self.stack[-1] if self.stack else None
        named, extra = role_of(passage.text), extra_of(passage.text)
        if block.rank <= TITLE and named != "correction":
            named = None  # a document's title says what it is about, not what its first lines do
        option = parent.section.option if parent else None
        if extra is not None and extra.name is not None:
            option = extra.name
        elif parent is not None and parent.extras:
            option = _own_name(passage.text)
        self.title = self.title or passage.text
        section = Section(
            id=f"{self.prefix}.s{len(self.sections) + 1}",
            document=self.ink.document.id,
            title=passage.text,
            level=len(self.stack) + 1,
            role=_inherit(
                named, parent.section.role if (parent and parent.rank > TITLE) or (parent and parent.named == "correction") else None
            ),
            path=tuple(open_.section.title for open_ in self.stack if open_.section.title),
            option=option,
            page=block.first.page,
            source=passage.source(),
        )
        if section.role == "correction":
            section = replace(section, replaces=replaced_steps(passage.text))
        self._open(section, block.rank, named, extras=extra is not None and extra.name is None)

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
        items = tuple(builder.items)
        if not items and title is not None:
            # A title with nothing below it is the step itself.
            items, title = (Item("text", title),), None
        if not items:
            return
        option = builder.section.option
        if title is not None and (extra := extra_of(title.text)) is not None and extra.name:
            option = extra.name
        self.steps.append(
            Step(
                id=f"{self.prefix}.{len(self.steps) + 1}",
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
        self.current = _Builder(block, self._section())
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
        elif block.label is not None:
            self._labelled(block)
        elif self._continues(block):
            assert self.current is not None
            self.current.items.append(Item("text", self.ink.passage(block.spans)))
        else:
            self._paragraph(block)

    def _labelled(self, block: Block) -> None:
        if block.titled or (block.label is not None and block.label.word):
            self._leave_lists(block)
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

    def _leave_lists(self, block: Block) -> None:
        """Steps with headings of their own ("STEP 1 - LAYOUT") end a parts list or an introduction of no higher rank."""
        rank = block.rank or CAPS
        if self._role() in ("build", "correction") or not self.stack or self.stack[-1].rank < rank:
            return
        self._close()
        self.stack = [open_ for open_ in self.stack if 0 < open_.rank < rank]
        above = self.stack[-1].section if self.stack else None
        path = tuple(open_.section.title for open_ in self.stack if open_.section.title)
        section = Section(
            f"{self.prefix}.s{len(self.sections) + 1}", self.ink.document.id, "", len(self.stack) + 1, "build", path=path,
            option=above.option if above else None, page=block.first.page,
        )
        self._open(section, rank, None)

    def _paragraph(self, block: Block) -> None:
        passage = self.ink.passage(block.spans)
        if _RUN_IN_CORRECTION.match(passage.text) and self._role() != "correction":
            self._close()
            section = replace(
                self._section(),
                id=f"{self.prefix}.s{len(self.sections) + 1}",
                role="correction",
                title=re.split(r"[.:–—-]", passage.text)[0].strip(),
                replaces=replaced_steps(passage.text),
                source=passage.source(),
            )
            self.sections.append(section)
            self.current = _Builder(block, section, items=[Item("text", passage)])
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
        match = vocabulary().signal.match(block.first.text[block.lead :])
        cut = match.end() if match else 0
        return (block.first.span(block.lead + cut), *block.spans[1:])

    def _table(self, raw: RawTable) -> Item:
        rows = tuple(tuple(self.ink.passage(cell) for cell in row) for row in raw.rows)
        head = tuple(self.ink.passage(cell).text for cell in raw.head)
        first = self.sheet.rows[raw.positions[0]]
        # The words of a table are in its cells; its own passage only says where it stands.
        place = Passage("", self.ink.document.id, (Run(0, first.start, 0, first.page),))
        caption, self.caption = self.caption, None
        return Item("table", place, table=Table(head, rows, caption))


def _own_name(title: str) -> str:
    name = re.sub(r"^(?:the|an?)\s+", "", title.strip(" .:"), flags=re.IGNORECASE)
    return name.lower() if name.isupper() or name[1:].islower() else name


def _inherit(named: SectionRole | None, above: SectionRole | None) -> SectionRole:
    if above == "correction":
        return "correction"
    if named is not None:
        return named
    return above if above in _INHERITED else "build"
