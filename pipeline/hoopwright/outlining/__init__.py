"""Documents to an Outline: sections, steps, parts list, tables and call-outs, each pointing at its characters."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.model.document import Document
from hoopwright.model.outline import Outline, Section, Step
from hoopwright.outlining.assembling import Assembler
from hoopwright.outlining.blocks import fold
from hoopwright.outlining.headings import mark_headings
from hoopwright.outlining.ink import Ink, Words
from hoopwright.outlining.parts import parts_of
from hoopwright.outlining.rows import sheet
from hoopwright.outlining.settling import one_name, settle

__all__ = ["outline"]


def outline(documents: Sequence[Document]) -> Outline:
    """The order of a kit's documents, in the order given.

    A document without headings, labels or lists gives one section with its paragraphs as steps. Raises nothing.
    """
    words = Words.of(documents)
    sections: list[Section] = []
    steps: list[Step] = []
    title = ""
    for document in documents:
        page = sheet(document)
        assembler = Assembler(page, Ink(document, words))
        assembler.assemble(mark_headings(fold(page), page))
        settled = settle(assembler.sections.all, assembler.steps)
        sections += settled[0]
        steps += settled[1]
        title = title or assembler.title
    sections, steps = one_name(sections, steps)
    return Outline(tuple(documents), tuple(sections), tuple(steps), parts_of(sections, steps), title)
