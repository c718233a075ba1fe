"""A manual's own order: sections, steps, parts list, tables and call-outs, each pointing at its characters."""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Callable
from dataclasses import dataclass, field
from operator import attrgetter
from typing import Literal

from hoopwright.model.document import Document

SectionRole = Literal["build", "intro", "parts", "tools", "safety", "summary", "contents", "correction", "other"]
ItemKind = Literal["text", "bullet", "table", "callout", "caption", "footnote"]
FieldKind = Literal["hoops", "what", "where", "how", "fix"]


@dataclass(frozen=True, slots=True)
class Source:
    """Characters of a document: ``Document.text[start:end]`` is ``quote``, but for line breaks, list marks and hyphens at line ends."""

    document: str
    page: int
    start: int
    end: int
    quote: str


@dataclass(frozen=True, slots=True)
class Run:
    """``length`` characters of a passage from ``at`` on that stand in the document from ``start`` on, on ``page``."""

    at: int
    start: int
    length: int
    page: int


_at = attrgetter("at")


@dataclass(frozen=True, slots=True)
class Passage:
    """Running text put together from printed lines, with the way back to the document. Blanks stand between the runs.

    ``printed`` holds (start, end, words as printed) of those pieces of ``text`` that stand in full where the print has a short form.
    """

    text: str
    document: str
    runs: tuple[Run, ...]
    printed: tuple[tuple[int, int, str], ...] = ()

    def offset(self, at: int) -> tuple[int, int]:
        """(document offset, page) of the passage's character ``at``; a blank put in between two lines belongs to the line before."""
        run = self.runs[max(bisect_right(self.runs, at, key=_at) - 1, 0)]
        return run.start + min(at - run.at, max(run.length - 1, 0)), run.page

    def source(self, start: int = 0, end: int | None = None) -> Source:
        """The characters ``start`` to ``end`` of the passage (all of it by default) as a source."""
        stop = len(self.text) if end is None else end
        first, page = self.offset(start)
        last, _ = self.offset(max(stop - 1, start))
        return Source(self.document, page, first, last + 1, self._as_printed(start, stop).strip())

    def _as_printed(self, start: int, stop: int) -> str:
        pieces, at = [], start
        for begin, end, words in self.printed:
            if start <= begin and end <= stop:
                pieces += [self.text[at:begin], words]
                at = end
        return "".join((*pieces, self.text[at:stop]))

    def in_full(self, short: re.Pattern[str], full: Callable[[str], str]) -> Passage:
        """The passage with every match of ``short`` put in full; sources go on pointing at the characters as printed."""
        matches = list(short.finditer(self.text))
        if not matches or not self.runs:
            return self
        text, at, runs, printed = "", 0, list[Run](), list[tuple[int, int, str]]()

        def take(stop: int, words: str | None = None) -> None:
            nonlocal text, at
            for run in self.runs:
                begin, end = max(at, run.at), min(stop, run.at + run.length)
                if begin < end:
                    runs.append(Run(len(text) + begin - at, run.start + begin - run.at, end - begin, run.page))
            if words is not None:
                printed.append((len(text), len(text) + len(words), self.text[at:stop]))
            text, at = text + (self.text[at:stop] if words is None else words), stop

        for match in matches:
            take(match.start())
            take(match.end(), full(match.group()))
        take(len(self.text))
        return Passage(text, self.document, tuple(runs), tuple(printed))


@dataclass(frozen=True, slots=True)
class Table:
    """A table: column heads (empty if it has none), rows of cells, and the caption or line that announces it."""

    head: tuple[str, ...]
    rows: tuple[tuple[Passage, ...], ...]
    caption: Passage | None = None


@dataclass(frozen=True, slots=True)
class Field:
    """A field of a card: its word as printed ("Fit:"), and what it says.

    ``total`` is True where the word names what is fetched for all the card's places ("Take"), and not what one of them gets.
    """

    kind: FieldKind
    word: str
    passage: Passage
    total: bool = False


@dataclass(frozen=True, slots=True)
class Item:
    """A piece of a step: running text, a bullet (``level`` 1, 2 …, ``label`` as printed: "a"), a table, a call-out, a caption.

    ``signal`` is the signal word of a call-out ("warning", "note"), None elsewhere. ``fields`` are those of a step that is set as a card;
    ``passage`` is then all of the card as printed.
    """

    kind: ItemKind
    passage: Passage
    level: int = 0
    label: str | None = None
    table: Table | None = None
    signal: str | None = None
    fields: tuple[Field, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and what stands under it. ``path`` holds the titles above it, outermost first.

    ``option`` is the name of the optional extra the section describes, None for the main build.
    ``replaces`` holds printed step labels that a correction or addendum speaks of, if its heading names some.
    """

    id: str
    document: str
    title: str
    level: int
    role: SectionRole
    path: tuple[str, ...] = ()
    option: str | None = None
    page: int = 1
    source: Source | None = None
    replaces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """A labelled step, or an unlabelled paragraph (``label`` None), in the manual's order. ``id`` is unique over all documents."""

    id: str
    document: str
    label: str | None
    section: str  # id of its Section
    option: str | None
    page: int
    items: tuple[Item, ...]
    title: str | None = None  # a run-in heading of the step's own: "Step 3 - Ridge clips"

    @property
    def text(self) -> str:
        """The step's words, one blank between its items."""
        return " ".join(item.passage.text for item in self.items if item.passage.text)


@dataclass(frozen=True, slots=True)
class PartsEntry:
    """A row of a parts list. ``quantity`` is None where the list gives no number ("1 bag", "as required").

    ``name`` is the description as printed, without code and quantity; ``size`` the size column or the size at the end of the name.
    """

    name: str
    source: Source
    code: str | None = None
    size: str | None = None
    quantity: int | None = None
    quantity_text: str = ""
    note: str = ""  # a remarks column, or the bracket behind the name: "closed ring", "two-part"
    option: str | None = None  # the extra whose own list it stands in
    container: str = ""  # what it is packed in, as the line above says, in small letters: "blue tin", "box 2"


@dataclass(frozen=True, slots=True)
class Outline:
    """All documents of one kit, in order."""

    documents: tuple[Document, ...]
    sections: tuple[Section, ...]
    steps: tuple[Step, ...]
    parts: tuple[PartsEntry, ...]
    title: str = ""
    _by_id: dict[str, Section] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_by_id", {section.id: section for section in reversed(self.sections)})

    def section(self, id: str) -> Section:
        """The section with that id. Raises KeyError."""
        return self._by_id[id]
