"""A document's lines as rows: without page furniture, quote marks and borders, with indentation and the space before them."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median
from typing import Literal

from hoopwright.model.document import Document, Line
from hoopwright.outlining.furniture import furniture
from hoopwright.outlining.ink import Span
from hoopwright.outlining.margins import Margin, margins

# "hard": a blank line or a visible space stands before the row; "soft": a page or column ends there, which says nothing about the text.
Gap = Literal["none", "soft", "hard"]

_QUOTE = re.compile(r"^(?:\s{0,3}>\s?)+")
_BORDERS = "|│║┃!*#"
_BOX_BARS = re.compile(r"[|│║┃]")
RULE = re.compile(r"^(?=.*[-=_*~+#─━═])[-=_*~+#.:|\s─━═╌┄┈│┃║┌┐└┘├┤┬┴┼╔╗╚╝╠╣╦╩╬]{3,}$")
_FENCE = re.compile(r"^\s*(?:```|~~~)")
_FULL_LINE = 0.85  # of the measure: the line was not ended on purpose
_CLOSE = 1.5  # of the type height: lines of one paragraph, unless all of it is set wide
_ENOUGH = 6  # full lines, to know the distance between lines by them
_SAME_STEP = 0.03
_COMMENT = re.compile(r"^\s*(?:<!--.*-->|(?:</?[a-zA-Z][^<>]*>\s*)+)\s*$")


@dataclass(frozen=True, slots=True)
class Row:
    """A printed line that belongs to the text. ``start`` is the offset of ``text[0]`` in the document; ``text`` has no blanks around it.

    ``indent`` is in characters from the column's left edge, in a PDF in units of the mean character width; ``reach`` is the part of the
    column's measure that the row fills: about 1 for a full row, less for one that was ended on purpose.
    """

    index: int  # into Document.lines
    page: int
    text: str
    start: int
    indent: float
    reach: float
    gap: Gap = "none"
    quoted: bool = False  # a Markdown block quotation
    boxed: bool = False  # drawn between borders
    rule: bool = False  # nothing but a line drawn with characters
    fenced: bool = False  # inside a Markdown code fence
    bold: bool = False
    size: float | None = None
    bold_end: int = 0  # characters at the start of ``text`` that are set bold, where the type tells

    def span(self, start: int = 0, end: int | None = None) -> Span:
        """The characters ``start`` to ``end`` of the row's text."""
        stop = len(self.text) if end is None else end
        return Span(self.start + start, self.start + stop, self.page)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A document's rows with what they have in common."""

    document: Document
    rows: tuple[Row, ...]
    measure: float  # the right edge that full lines reach, in characters
    body_size: float | None  # the font size of running text
    char_width: float | None  # points, None in plain text
    shouted: bool = False  # all in capitals, so that capitals tell nothing


def sheet(document: Document) -> Sheet:
    """The rows of a document."""
    dropped = furniture(document)
    dropped |= _front_matter(document)
    kept = [i for i, line in enumerate(document.lines) if i not in dropped and line.text.strip()]
    edges = margins(document, kept)
    setting = _Setting(document, _char_width(document), edges, _line_pitch(document, edges), _measure(document, kept))
    rows: list[Row] = []
    gap: Gap = "hard"
    fenced = False
    previous: Line | None = None
    for index, line in enumerate(document.lines):
        if document.kind == "markdown" and _FENCE.match(line.text):
            fenced, gap = not fenced, "hard"
        elif index in dropped:
            gap = "soft"
        elif not line.text.strip() or _COMMENT.match(line.text):
            gap = "hard" if gap == "none" else gap
        else:
            space = _space(previous, line, setting.pitch)
            rows.append(replace(_row(setting, index, fenced), gap=gap if gap != "none" else space))
            gap, previous = "none", line
    rows = _boxes([_soften(row, rows[i - 1] if i else None) for i, row in enumerate(rows)], document)
    return Sheet(document, tuple(rows), setting.measure, _body_size(document), setting.unit, _shouted(document))


@dataclass(frozen=True, slots=True)
class _Setting:
    """How a document is set: character width and line pitch in points, margins by line, measure in characters."""

    document: Document
    unit: float | None
    margins: dict[int, Margin]
    pitch: float | None
    measure: float


def _front_matter(document: Document) -> frozenset[int]:
    """The lines between two rules at the very start of a Markdown file, which describe the file."""
    lines = document.lines
    if document.kind != "markdown" or len(lines) < 3 or lines[0].text.strip() != "---" or not re.match(r"^[\w-]+:", lines[1].text):
        return frozenset()
    end = next((i for i, line in enumerate(lines[1:40], start=1) if line.text.strip() in ("---", "...")), 0)
    keyed = all(re.match(r"^\s*(?:[\w-]+:|- |#|$)", line.text) for line in lines[1:end])
    return frozenset(range(end + 1)) if end and keyed else frozenset()


def _soften(row: Row, before: Row | None) -> Row:
    """A blank line at the top of a page says nothing."""
    return replace(row, gap="soft") if before is not None and row.page != before.page else row


def _row(setting: _Setting, index: int, fenced: bool) -> Row:
    document, line = setting.document, setting.document.lines[index]
    raw = line.text.expandtabs(1)
    quote = _QUOTE.match(raw) if document.kind == "markdown" and not fenced else None
    lead = quote.end() if quote else 0
    text = raw[lead:]
    lead += len(text) - len(text.lstrip())
    text = text.strip()
    indent: float = lead - (quote.end() if quote else 0)
    reach = (lead + len(text)) / setting.measure if setting.measure else 1.0
    if "\t" in line.text[:lead]:
        indent = len(line.text[:lead].expandtabs(4))
    if line.box is not None and setting.unit:
        margin = setting.margins[index]
        indent = (line.box.x0 - margin.left) / setting.unit
        reach = (line.box.x1 - margin.left) / max(margin.right - margin.left, setting.unit)
    return Row(
        index=index,
        page=line.page,
        text=line.text[lead : lead + len(text)],
        start=line.start + lead,
        indent=indent,
        reach=reach,
        quoted=quote is not None,
        rule=bool(RULE.match(text)),
        fenced=fenced,
        bold=line.bold,
        size=line.size,
        bold_end=max(line.bold_end - lead, 0),
    )


def _boxes(rows: list[Row], document: Document) -> list[Row]:
    """Takes the side borders off rows that stand in a drawn box of one cell."""
    result: list[Row] = []
    for row in rows:
        bars = len(_BOX_BARS.findall(row.text))
        text = row.text
        framed = len(text) > 2 and text[0] in _BORDERS and text[1].isspace() and text[-1] in _BORDERS
        one_cell = framed and not row.rule and bars in (0, 2)
        if not one_cell or (document.kind == "markdown" and not row.fenced and text[0] not in "│║┃"):
            result.append(row)
            continue
        inner = text[1:-1]
        lead = 1 + len(inner) - len(inner.lstrip())
        result.append(replace(row, text=inner.strip(), start=row.start + lead, indent=row.indent + lead, boxed=True, bold_end=0))
    return [row for row in result if row.text]


def _shouted(document: Document) -> bool:
    letters = [c for c in document.text if c.isalpha()]
    return sum(c.isupper() for c in letters) > 0.8 * len(letters)


def _char_width(document: Document) -> float | None:
    widths = [(line.box.x1 - line.box.x0) / len(line.text) for line in document.lines if line.box is not None and len(line.text) > 20]
    return median(widths) if widths else None


def _line_pitch(document: Document, edges: dict[int, Margin]) -> float | None:
    """The usual distance from one line's top to the next within a paragraph, in points.

    Only lines that fill their measure are asked where there are enough of them: in a list of short steps the space between two steps
    is commoner than that between two lines, and the rows of a table stand as far apart as its rules let them.
    """
    cells = {index for grid in document.grids for row in grid.lines for index in row}
    every, full = [], []
    for index, (before, line) in enumerate(pairwise(document.lines)):
        if not before.box or not line.box or before.page != line.page or index in cells or index + 1 in cells:
            continue
        step = _top(line) - _top(before)
        if not 0 < step < 60:
            continue
        every.append(step)
        edge = edges.get(index)
        if edge is not None and before.size == line.size and before.box.x1 - edge.left > _FULL_LINE * (edge.right - edge.left):
            full.append(step)
    if len(full) >= _ENOUGH:
        return _commonest(full)
    heights = [_height(line) for line in document.lines if line.box]
    close = [step for step in every if step < _CLOSE * median(heights)] if heights else []
    return _commonest(close or every)


def _top(line: Line) -> float:
    """Where the line's first word stands, in points from the page's top: a line of a slanting scan is lower at its other end."""
    box = line.words[0].box if line.words else line.box
    assert box is not None
    return box.top


def _height(line: Line) -> float:
    box = line.words[0].box if line.words else line.box
    assert box is not None
    return box.bottom - box.top


def _commonest(steps: list[float]) -> float | None:
    """The step about which most others lie; scans and fractions of points make no two of them quite the same."""
    if not steps:
        return None
    counts = Counter(round(step, 1) for step in steps)
    near = {step: sum(n for other, n in counts.items() if abs(other - step) <= _SAME_STEP * step) for step in counts}
    return max(near, key=lambda step: (near[step], counts[step], -step))


def _space(before: Line | None, line: Line, pitch: float | None) -> Gap:
    if before is None or before.box is None or line.box is None or pitch is None:
        return "none"
    if before.page != line.page or _top(line) < _top(before) - 1:
        return "soft"
    height = max(_height(before), _height(line))
    return "hard" if _top(line) - _top(before) > max(1.2 * pitch, 1.35 * height) else "none"


def _measure(document: Document, kept: list[int]) -> float:
    """The right edge in characters that nine of ten lines of running text keep within."""
    texts = [document.lines[i].text.rstrip() for i in kept]
    prose = [len(text) for text in texts if not re.search(r"\S\s{3,}\S|\.{4,}|\|", text)]
    widths = sorted(prose or [len(text) for text in texts])
    return widths[int(len(widths) * 0.9)] if widths else 0


def _body_size(document: Document) -> float | None:
    sizes: Counter[float] = Counter()
    for line in document.lines:
        if line.size is not None:
            sizes[round(line.size, 1)] += len(line.text)
    return sizes.most_common(1)[0][0] if sizes else None
