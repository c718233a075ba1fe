"""The way back from an outline to the characters of its documents."""

from __future__ import annotations

import re
from collections.abc import Iterator

from hoopwright.model.document import Document
from hoopwright.model.outline import Outline, PartsEntry, Passage
from hoopwright.outlining.furniture import furniture

_MARKS = re.compile(r"[*_`|│║┃\\>#~]|</?[a-z]+/?>|\[\^?|\]\([^)]*\)|\]")


def passages(found: Outline) -> Iterator[Passage]:
    """Every passage of the steps: items, table cells, captions of tables."""
    for step in found.steps:
        for item in step.items:
            yield item.passage
            if item.table is not None:
                yield from (cell for row in item.table.rows for cell in row)
                if item.table.caption is not None:
                    yield item.table.caption


def plain(text: str) -> str:
    """Text without blanks, marks and hyphens, in which a passage and its stretch of the document must be the same."""
    return re.sub(r"[\s\xad]|-|‐", "", _MARKS.sub("", text))


def assert_stands_in(passage: Passage, document: Document) -> None:
    """Every run is, letter by letter, what the document has there; between runs of the passage there is nothing or one blank."""
    at = 0
    for run in passage.runs:
        assert passage.text[at : run.at] in ("", " "), (passage.text, at, run)
        said, there = passage.text[run.at : run.at + run.length], document.text[run.start : run.start + run.length]
        if "&" not in there:  # an entity stands for the character that it names
            assert said.replace(" ", "") == re.sub(r"\s", "", there), (said, there)
        if run.length:
            assert document.line_at(run.start).page == run.page
        at = run.at + run.length
    assert at == len(passage.text)


def assert_quote(source_text: str, quote: str) -> None:
    """The characters of a source are its quote, but for white space, marks, borders and hyphens at line ends."""
    assert plain(quote) in plain(source_text), (quote, source_text)


def check(found: Outline, *, whole: bool = True) -> int:
    """Asserts the way back for everything that an outline holds; the number of passages looked at.

    With ``whole``, the stretch of the document between a passage's ends must hold nothing else than the passage.
    """
    by_id = {document.id: document for document in found.documents}
    count = 0
    for passage in passages(found):
        assert_stands_in(passage, by_id[passage.document])
        if passage.text:
            source = passage.source()
            text = stretch(by_id[passage.document], source.start, source.end)
            if whole and ("\n" not in text or not _in_table(passage, found)):
                assert plain(text) == plain(source.quote), (text, source.quote)
            count += 1
    for part in found.parts if whole else ():
        _check_part(part, by_id[part.source.document])
    return count


def stretch(document: Document, start: int, end: int) -> str:
    """The document's characters from ``start`` to ``end`` without running heads and page numbers."""
    dropped = furniture(document)
    lines = [(line.start, line.start + len(line.text)) for i, line in enumerate(document.lines) if i not in dropped]
    return "\n".join(document.text[max(start, a) : min(end, b)] for a, b in lines if a < end and b > start)


def _in_table(passage: Passage, found: Outline) -> bool:
    """A cell that is wrapped over lines has other cells between its runs."""
    return any(passage in row for step in found.steps for item in step.items if item.table for row in item.table.rows)


def _check_part(part: PartsEntry, document: Document) -> None:
    text = document.text[part.source.start : part.source.end]
    assert plain(part.source.quote) in plain(text) or "\n" in text, (part.source.quote, text)
    assert part.name.split()[0].lower() in text.lower()
