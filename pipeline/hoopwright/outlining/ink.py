"""Printed characters to running text: spans of a document put together into a Passage that knows its way back."""

from __future__ import annotations

import html
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from hoopwright.model.document import Document, DocumentKind
from hoopwright.model.outline import Passage, Run

_ENTITY = re.compile(r"&(?:[a-zA-Z]{2,8}\d{0,2}|#\d{2,5});")
_WORD = re.compile(r"[^\W\d_]+(?:[-‐‑][^\W\d_]+)*")
_SPLIT_WORD = re.compile(r"(?<!\w)\w{1,40}[-‐‑][ \t]{0,200}\n[ \t]{0,200}\w{1,40}")
_SPLIT_CELL = re.compile(r"(\w[-‐‑]) (?=[a-z])")  # where the lines of a cell are joined by blanks
_LETTER = re.compile(r"[^\W\d_]")
_BLANK = re.compile(r"\s")
_GAP = re.compile(r"\s{2,}")
_HYPHENS = "-‐‑"
_SOFT_HYPHEN = "\xad"

# What is left out of running text: the marks of Markdown, never the words between them.
_MARKDOWN_DROP = re.compile(
    r"!\[(?P<alt>[^\]]*)\]\([^)]*\)"  # a picture
    r"|(?<!\\)\[\^[^\]]+\]:?"  # a footnote mark
    r"|(?<!\\)\[(?P<link>[^\]]+)\]\([^)\s]*\)"
    r"|</?[a-zA-Z][^<>]*>|<!--.*?-->"
    r"|\s*\{[#.][^}]*\}$"  # an attribute behind a heading
    r"|\\(?=[\\`*_{}\[\]()#+\-.!|>~])"  # the backslash of an escape
    r"|(?<!\\)`+|(?<!\\)~~"
    r"|(?<!\\)(?<!\d)\*+(?=\S)|(?<=\S)(?<!\\)\*+(?!\d)"
    r"|(?<![\w\\])_+(?=\S)|(?<=\S)(?<!\\)_+(?!\w)"
)
# In plain text only marks that come in pairs around words are emphasis; a lone star may be a footnote's.
_PAIRS = re.compile(r"(?<![\w*])(?P<mark>\*\*|__|\*|_)(?=[^\s*_])(?P<inner>[^*_]*[^\s*_])(?P=mark)(?![\w*])")


@dataclass(frozen=True, slots=True)
class Span:
    """Characters ``start`` to ``end`` of a document, all on one printed line of ``page``."""

    start: int
    end: int
    page: int

    def cut(self, start: int, end: int) -> Span:
        """The part of the span from its character ``start`` up to ``end``."""
        return Span(self.start + start, min(self.start + end, self.end), self.page)


def _hidden_markdown(text: str) -> set[int]:
    hidden: set[int] = set()
    for match in _MARKDOWN_DROP.finditer(text):
        keep: range = range(0)
        for group in ("alt", "link"):
            if match.group(group) is not None:
                keep = range(match.start(group), match.end(group))
        hidden.update(i for i in range(match.start(), match.end()) if i not in keep)
    return hidden


def _hidden_plain(text: str) -> set[int]:
    hidden: set[int] = set()
    for match in _PAIRS.finditer(text):
        size = len(match.group("mark"))
        hidden.update(range(match.start(), match.start() + size))
        hidden.update(range(match.end() - size, match.end()))
    return hidden


def hidden(text: str, kind: DocumentKind) -> set[int]:
    """Indices of the characters of ``text`` that are marks and no words."""
    if not any(mark in text for mark in "*_`[<{\\~"):
        return set()
    return _hidden_markdown(text) if kind == "markdown" else _hidden_plain(text)


def visible(text: str, kind: DocumentKind) -> str:
    """``text`` without the marks of Markdown."""
    marks = hidden(text, kind)
    return "".join(c for i, c in enumerate(text) if i not in marks) if marks else text


@dataclass(frozen=True, slots=True)
class Words:
    """The words that the documents use, to tell a line-end hyphen from a word's own. Needs no dictionary."""

    plain: frozenset[str]
    hyphened: frozenset[str]

    @classmethod
    def of(cls, documents: Iterable[Document]) -> Words:
        plain: set[str] = set()
        hyphened: set[str] = set()
        for document in documents:
            # The two parts of a word at a line end are no evidence: they are what is to be judged.
            for word in _WORD.findall(_SPLIT_WORD.sub(" ", _running(document))):
                lower = word.lower().replace("‐", "-").replace("‑", "-")
                (hyphened if "-" in lower else plain).add(lower)
        return cls(frozenset(plain), frozenset(hyphened))

    def splits(self, before: str, after: str) -> bool:
        """True if the hyphen between the two parts is only the line end's and goes when they are joined."""
        left, right = before.lower(), after.lower()
        if left + right in self.plain:
            return True
        # Parts that stand alone elsewhere ("one", "piece") are words, so that the hyphen is the word's own.
        return f"{left}-{right}" not in self.hyphened and not {left, right} <= self.plain


def _running(document: Document) -> str:
    """The document's text with the lines of a table's cells under each other, so that a word split in a cell is seen to be one."""
    inside = {index for grid in document.grids for row in grid.lines for index in row}
    lines = [line.text for index, line in enumerate(document.lines) if index not in inside]
    cells = [_SPLIT_CELL.sub(r"\1\n", cell) for grid in document.grids for row in grid.rows for cell in row]
    return "\n".join([*lines, *cells])


@dataclass(slots=True)
class _Sheet:
    """Characters of a passage under way, and where they stand in the document; blanks put in stand nowhere."""

    chars: list[str] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)

    def add(self, text: str, offset: int, page: int) -> None:
        """Characters that stand one behind the other in the document, from ``offset`` on."""
        at = len(self.chars)
        self.chars.extend(text)
        last = self.runs[-1] if self.runs else None
        if last and last.at + last.length == at and last.start + last.length == offset and last.page == page:
            self.runs[-1] = Run(last.at, last.start, last.length + len(text), page)
        else:
            self.runs.append(Run(at, offset, len(text), page))

    def blank(self) -> None:
        self.chars.append(" ")

    def drop_last(self) -> None:
        """Take back the last character; it is no blank that was put in."""
        self.chars.pop()
        last = self.runs.pop()
        if last.length > 1:
            self.runs.append(Run(last.at, last.start, last.length - 1, last.page))


class Ink:
    """Makes passages from the spans of one document."""

    def __init__(self, document: Document, words: Words) -> None:
        self.document = document
        self.words = words

    def text(self, span: Span) -> str:
        """The span's characters as printed."""
        return self.document.text[span.start : span.end]

    def passage(self, spans: Sequence[Span]) -> Passage:
        """Running text of the spans, in order. Blanks are single, marks are left out, words split at a line end are joined."""
        sheet = _Sheet()
        for span in spans:
            pieces = self._pieces(span)
            if not pieces:
                continue
            if sheet.chars:
                self._glue(sheet, "".join(piece for piece, _ in pieces))
            for piece, offset in pieces:
                sheet.add(piece, offset, span.page)
        if not sheet.chars and spans:
            return self.place(spans[0])
        return Passage("".join(sheet.chars), self.document.id, tuple(sheet.runs))

    def place(self, span: Span) -> Passage:
        """A passage without words that still knows where it stands."""
        return Passage("", self.document.id, (Run(0, span.start, 0, span.page),))

    def _pieces(self, span: Span) -> list[tuple[str, int]]:
        """The span's words with single blanks: pieces that stand in the document in one go, each with its offset there."""
        text = self.text(span)
        marks = hidden(text, self.document.kind)
        if marks or (self.document.kind == "markdown" and "&" in text):
            return self._chars(text, marks, span)
        inner = text.strip()
        offset = span.start + len(text) - len(text.lstrip())
        pieces: list[tuple[str, int]] = []
        at = 0
        for gap in _GAP.finditer(inner):
            # Of several blanks the first one stays.
            pieces.append((_BLANK.sub(" ", inner[at : gap.start() + 1]), offset + at))
            at = gap.end()
        if at < len(inner):
            pieces.append((_BLANK.sub(" ", inner[at:]), offset + at))
        return pieces

    def _chars(self, text: str, marks: set[int], span: Span) -> list[tuple[str, int]]:
        chars: list[tuple[str, int]] = []
        entities = {m.start(): html.unescape(m.group()) for m in _ENTITY.finditer(text)} if self.document.kind == "markdown" else {}
        marks = marks | {i for m in _ENTITY.finditer(text) if m.start() in entities for i in range(m.start() + 1, m.end())}
        for index, char in enumerate(text):
            if index in marks:
                continue
            char = entities.get(index, char)
            blank = char.isspace()
            if blank and (not chars or chars[-1][0] == " "):
                continue
            chars.append((" " if blank else char, span.start + index))
        while chars and chars[-1][0] == " ":
            chars.pop()
        return chars

    def _glue(self, sheet: _Sheet, following: str) -> None:
        last = sheet.chars[-1]
        if last == _SOFT_HYPHEN:
            sheet.drop_last()
        elif last in _HYPHENS and len(sheet.chars) > 1 and sheet.chars[-2].isalnum():
            start = len(sheet.chars) - 1
            while start and _LETTER.match(sheet.chars[start - 1]):
                start -= 1
            after = re.match(r"[^\W\d_]*", following)
            left, right = "".join(sheet.chars[start:-1]), after.group() if after else ""
            if right in ("and", "or", "to"):  # "left- and right-hand"
                sheet.blank()
            elif left and right and (right[0].islower() or left.isupper()) and self.words.splits(left, right):
                sheet.drop_last()
        elif not _joins(sheet.chars, following):
            sheet.blank()


def _joins(before: Sequence[str], following: str) -> bool:
    """True for a dash or a stroke between two parts of one expression ("2–" + "7", "clamp/" + "clip"), but not for "w/" + "2 screws"."""
    word = "".join(before[-3:])
    return bool((re.search(r"\d–$", word) and following[0].isdigit()) or (re.search(r"\w\w/$", word) and following[0].isalpha()))
