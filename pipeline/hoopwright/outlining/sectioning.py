"""The way down from the title to the section under way, and the sections met so far."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from hoopwright.model.outline import Passage, Section, SectionRole
from hoopwright.outlining.headings import CAPS, TITLE
from hoopwright.outlining.roles import extra_of, own_name, replaced_steps, role_of

_INHERITED: frozenset[SectionRole] = frozenset({"parts", "tools", "safety", "summary", "contents", "correction", "intro", "other"})


@dataclass(frozen=True, slots=True)
class _Open:
    """A section on the way down. ``extras`` is True under a heading that announces extras without naming one."""

    rank: int
    section: Section
    named: SectionRole | None = None
    extras: bool = False


class Sections:
    """The sections of one document; ``all`` holds them in order."""

    def __init__(self, document: str) -> None:
        self.document = document
        self.all: list[Section] = []
        self._stack: list[_Open] = []

    @property
    def role(self) -> SectionRole:
        """The role of the section under way."""
        return self._stack[-1].section.role if self._stack else "build"

    @property
    def current(self) -> Section:
        """The section under way; one without a title where text stands before any heading."""
        if not self._stack:
            self._open(_Open(0, Section(f"{self.document}.s0", self.document, "", 0, "build")))
        return self._stack[-1].section

    def _open(self, opened: _Open) -> None:
        self.all.append(opened.section)
        self._stack.append(opened)

    def _id(self) -> str:
        return f"{self.document}.s{len(self.all) + 1}"

    def _up_to(self, rank: int) -> Section | None:
        """Closes the sections of this rank and below; the one that stays open."""
        self._stack = [opened for opened in self._stack if 0 < opened.rank < rank]
        return self._stack[-1].section if self._stack else None

    def _path(self) -> tuple[str, ...]:
        return tuple(opened.section.title for opened in self._stack if opened.section.title)

    def heading(self, title: Passage, rank: int, page: int) -> None:
        """Opens the section of a heading."""
        above = self._up_to(rank)
        parent = self._stack[-1] if self._stack else None
        named, extra = role_of(title.text), extra_of(title.text)
        if rank <= TITLE and named != "correction":
            named = None  # a document's title says what it is about, not what its first lines do
        option = above.option if above else None
        if extra is not None and extra.name is not None:
            option = extra.name
        elif parent is not None and parent.extras:
            option = own_name(title.text)
        # Of a document's title only its corrections go down to the sections below it.
        inherited = parent.section.role if parent is not None and (parent.rank > TITLE or parent.named == "correction") else None
        role = _inherit(named, inherited)
        section = Section(
            id=self._id(),
            document=self.document,
            title=title.text,
            level=len(self._stack) + 1,
            role=role,
            path=self._path(),
            option=option,
            page=page,
            source=title.source(),
            replaces=replaced_steps(title.text) if role == "correction" else (),
        )
        self._open(_Open(rank, section, named, extra is not None and extra.name is None))

    def leave_lists(self, rank: int, page: int) -> bool:
        """Ends a parts list or an introduction above a step that has a heading of its own ("STEP 1 - LAYOUT"); True if one was ended."""
        rank = rank or CAPS
        if self.role in ("build", "correction") or not self._stack or self._stack[-1].rank < rank:
            return False
        above = self._up_to(rank)
        option = above.option if above else None
        self._open(_Open(rank, Section(self._id(), self.document, "", len(self._stack) + 1, "build", self._path(), option, page)))
        return True

    def correction(self, passage: Passage) -> Section:
        """A paragraph that corrects ("Correction slip. In step 12 …") is a section of its own; what follows belongs to the one before."""
        section = replace(
            self.current,
            id=self._id(),
            role="correction",
            title=re.split(r"[.:–—-]", passage.text)[0].strip(),
            replaces=replaced_steps(passage.text),
            source=passage.source(),
        )
        self.all.append(section)
        return section


def _inherit(named: SectionRole | None, above: SectionRole | None) -> SectionRole:
    if above == "correction":
        return "correction"
    if named is not None:
        return named
    return above if above in _INHERITED else "build"
