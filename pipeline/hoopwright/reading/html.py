"""HTML: the text as Markdown lines, tables as rows between bars and as grids."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path

from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading.content import PageContent, PageGrid, PageLine
from hoopwright.reading.limits import MAX_LINE_CHARS

_START = re.compile(r"\s*(?:<\?xml[^>]*>\s*)?(?:<!--.*?-->\s*)*<(?:!doctype\s+html|html|head|body)\b", re.IGNORECASE | re.DOTALL)
_TAG = re.compile(r"</?(?:p|div|br|li|ul|ol|table|tr|td|th|h[1-6]|span|b|strong|i|em|a)\b[^<>]{0,500}>", re.IGNORECASE)
_PASTED_TAGS = 6  # in the first characters, of text that is HTML without saying so
_PASTED_WINDOW = 4000
_NAMES = {".html", ".htm", ".xhtml"}
_HIDDEN = {"script", "style", "title", "template", "noscript", "svg", "select", "iframe", "object"}  # not head: its end may be left out
_BLOCKS = {
    "address", "article", "aside", "blockquote", "body", "caption", "center", "dd", "details", "div", "dl", "dt", "fieldset", "figcaption",
    "figure", "footer", "form", "header", "hr", "html", "main", "nav", "p", "section", "summary", "thead", "tbody", "tfoot",
}  # fmt: skip
_HEADINGS = {f"h{level}": level for level in range(1, 7)}
_MOST_SPAN = 100  # columns or rows of one cell; a page may ask for a million
_BLANKS = re.compile(r"[ \t\r\n\f\v]+")


def is_html(text: str, path: Path) -> bool:
    """Whether the text is HTML: a page that says so, or text with enough tags in it."""
    if _START.match(text[:20_000]):
        return True
    tags = len(_TAG.findall(text[:_PASTED_WINDOW]))
    return tags >= (1 if path.suffix.lower() in _NAMES else _PASTED_TAGS)


def read_html(text: str, path: Path) -> list[PageContent]:
    """The page of an HTML text, as Markdown lines. Raises UnreadableDocument for a line past the limit."""
    parser = _Reader()
    parser.feed(text)
    parser.close()
    parser.end()
    for number, line in enumerate(parser.content.lines, start=1):
        if len(line.text) > MAX_LINE_CHARS:
            problem = f"paragraph {number} has {len(line.text):,} characters, more than {MAX_LINE_CHARS:,}"
            raise UnreadableDocument(problem, "give the manual's own page, not data", file=path)
    return [parser.content]


@dataclass(slots=True)
class _List:
    """An open list: the number of its next item, None if it has bullets."""

    number: int | None
    style: str = "1"


@dataclass(slots=True)
class _Cell:
    text: list[str] = field(default_factory=list)
    columns: int = 1
    rows: int = 1


@dataclass(slots=True)
class _Table:
    rows: list[list[_Cell]] = field(default_factory=list)


class _Reader(HTMLParser):
    """Collects lines. What stands in a table goes to its open cell."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.content = PageContent()
        self._text: list[str] = []
        self._mark = ""  # what the next line begins with
        self._hidden = 0
        self._verbatim = 0
        self._lists: list[_List] = []
        self._tables: list[_Table] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attrs}
        if tag in _HIDDEN:
            self._hidden += 1
        elif tag == "br":
            self._break()
        elif tag in _HEADINGS:
            self._paragraph()
            self._mark = "#" * _HEADINGS[tag] + " "
        elif tag in ("ul", "ol", "menu"):
            self._break()
            self._lists.append(_List(_number(values.get("start", "1"), 1) if tag == "ol" else None, values.get("type", "1")))
        elif tag == "li":
            self._item(values)
        elif tag == "pre":
            self._paragraph()
            self._verbatim += 1
        elif tag == "img" and values.get("alt", "").strip():
            self._text.append(f" {values['alt']} ")
        elif tag in ("table", "tr", "td", "th"):
            self._open_table_part(tag, values)
        elif tag in _BLOCKS:
            self._paragraph()

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in _HIDDEN:
            self.handle_starttag(tag, attrs)

    def handle_endtag(self, tag: str) -> None:
        if tag in _HIDDEN:
            self._hidden = max(0, self._hidden - 1)
        elif tag in ("ul", "ol", "menu"):
            self._break()
            if self._lists:
                self._lists.pop()
            if not self._lists:
                self._paragraph()
        elif tag == "pre":
            if self._verbatim and self._text:
                self._break(keep=True)
            self._paragraph()
            self._verbatim = max(0, self._verbatim - 1)
        elif tag == "table":
            self._close_table()
        elif tag in ("td", "th", "li"):
            self._break()
        elif tag in _BLOCKS or tag in _HEADINGS:
            self._paragraph()

    def handle_data(self, data: str) -> None:
        if self._hidden:
            return
        if self._verbatim and not self._tables:
            first, *rest = data.split("\n")
            self._text.append(first)
            for line in rest:
                self._break(keep=True)
                self._text.append(line)
        else:
            self._text.append(data)

    def end(self) -> None:
        """What is still open is closed."""
        while self._tables:
            self._close_table()
        self._paragraph()
        lines = self.content.lines
        while lines and not lines[-1].text:
            lines.pop()

    def _item(self, values: dict[str, str]) -> None:
        self._break()
        inner = self._lists[-1] if self._lists else _List(None)
        if "value" in values and inner.number is not None:
            inner.number = _number(values["value"], inner.number)
        indent = "   " * max(len(self._lists) - 1, 0)
        self._mark = f"{indent}{_label(inner)} "
        if inner.number is not None:
            inner.number += 1

    def _break(self, keep: bool = False) -> None:
        """The end of a line."""
        text = "".join(self._text).rstrip() if keep else _BLANKS.sub(" ", "".join(self._text).replace("\xa0", " ")).strip()
        self._text.clear()
        if self._tables:
            if text:
                self._put_in_cell(f"{self._mark.strip()} {text}".strip() if not self._mark.startswith("#") else text)
            self._mark = ""
            return
        if not text and not keep:
            return
        self.content.lines.append(PageLine(self._mark + text))
        self._mark = " " * len(self._mark) if self._lists else ""

    def _paragraph(self) -> None:
        """The end of a paragraph: a blank line, but inside of lists and tables."""
        self._break()
        lines = self.content.lines
        if not self._lists and not self._tables:
            self._mark = ""
            if lines and lines[-1].text:
                lines.append(PageLine(""))

    def _open_table_part(self, tag: str, values: dict[str, str]) -> None:
        if tag == "table":
            self._paragraph()
            # A table in a table: the outer one is there for the page's layout, and its cells are plain text.
            for outer in self._tables:
                self._flatten(outer)
            self._tables = [_Table()]
            return
        self._break()
        if not self._tables:
            return
        rows = self._tables[-1].rows
        if tag == "tr" or not rows:
            rows.append([])
        if tag != "tr":
            columns, height = _number(values.get("colspan", "1"), 1), _number(values.get("rowspan", "1"), 1)
            rows[-1].append(_Cell([], min(max(columns, 1), _MOST_SPAN), min(max(height, 1), _MOST_SPAN)))

    def _put_in_cell(self, text: str) -> None:
        rows = self._tables[-1].rows
        if rows and rows[-1]:
            rows[-1][-1].text.append(text)
        else:  # a caption, or text that stands wrongly between the cells
            self.content.lines.append(PageLine(text))

    def _flatten(self, table: _Table) -> None:
        self.content.lines.extend(PageLine(text) for row in table.rows for cell in row for text in cell.text)

    def _close_table(self) -> None:
        self._break()
        if not self._tables:
            return
        table = self._tables.pop()
        rows = [row for row in _grid(table) if any(row)]
        if len(rows) < 2 or len(rows[0]) < 2:
            self._flatten(table)
            self._paragraph()
            return
        first = len(self.content.lines)
        self.content.lines.extend(PageLine("| " + " | ".join(row) + " |") for row in rows)
        self.content.grids.append(PageGrid(rows, [[first + index] for index in range(len(rows))]))
        self._paragraph()


def _number(text: str, default: int) -> int:
    return int(text) if re.fullmatch(r"\s*\d{1,6}\s*", text) else default


def _label(items: _List) -> str:
    """The mark of a list's next item, as a browser shows it; Roman numbers past 20 as plain ones."""
    number = items.number
    if number is None:
        return "-"
    if items.style in ("a", "A") and 1 <= number <= 26:
        letter = chr(ord("a") + number - 1)
        return f"{letter.upper() if items.style == 'A' else letter}."
    if items.style in ("i", "I") and 1 <= number <= 20:
        roman = "x" * (number // 10) + ("", "i", "ii", "iii", "iv", "v", "vi", "vii", "viii", "ix")[number % 10]
        return f"{roman.upper() if items.style == 'I' else roman}."
    return f"{number}."


def _grid(table: _Table) -> list[list[str]]:
    """The cells' texts in rows of one length; a cell over several rows or columns stands in the first, the others are empty."""
    taken: dict[tuple[int, int], str] = {}
    for row, cells in enumerate(table.rows):
        column = 0
        for cell in cells:
            while (row, column) in taken:
                column += 1
            for down in range(min(cell.rows, len(table.rows) - row)):
                for right in range(cell.columns):
                    taken.setdefault((row + down, column + right), "")
            taken[row, column] = " ".join(cell.text)
            column += cell.columns
    width = max((column for _, column in taken), default=-1) + 1
    return [[taken.get((row, column), "") for column in range(width)] for row in range(len(table.rows))]
