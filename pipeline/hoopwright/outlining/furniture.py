"""Running heads, running feet and page numbers: lines that belong to the page and not to the text."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from statistics import median

from hoopwright.model.document import Box, Document, Line

_EDGE = 3  # lines at the top and at the bottom of a page that may be furniture
_LEAST_LETTERS = 4  # of a running head
_MARGIN = 0.09  # of the page's height
_SAME_HEIGHT = 0.02  # of the page's height, by which running heads may stand higher or lower
_PAGE_NUMBER = re.compile(r"^\W*(?:page|p\.|sheet|pg\.?)?\s*\d{1,3}(?:\s*(?:of|/|\|)\s*\d{1,3})?\W*$", re.IGNORECASE)
_PAGE_WORD = re.compile(r"\b(?:page|sheet|pg\.?)\s*\d{1,3}\b|\b\d{1,3}\s+of\s+\d{1,3}\b", re.IGNORECASE)
_DASHED_NUMBER = re.compile(r"^[-–—=*~]+\s*\d{1,3}\s*[-–—=*~]+$")
# "THE TUNNEL      PAGE 2 OF 7", "Tunnel manual, page 2 of 7", "Page 2 of 7 | Tunnel manual".
_PAGE_OF = re.compile(
    r"^(?:.{1,60}(?:\s{2,}|[-–—|,;:]\s*))?(?:page|sheet|pg\.?|p\.)\s*\d{1,3}\s*(?:of|/)\s*\d{1,3}(?:(?:\s{2,}|\s*[-–—|,;:]).{1,60})?\W*$",
    re.IGNORECASE,
)
_ON = r"over(?:leaf)?|on (?:the )?next page|from .{0,30}"
_CONTINUED = re.compile(rf"^\W*(?:continued|cont\.?|cont'd|please turn over|p\.?t\.?o\.?|turn over)(?:\s+(?:{_ON}))?\W*$", re.IGNORECASE)


def furniture(document: Document) -> frozenset[int]:
    """Indices of the lines that are running heads, running feet or page numbers."""
    lines = document.lines
    by_page: dict[int, list[int]] = defaultdict(list)
    for index, line in enumerate(lines):
        if line.text.strip():
            by_page[line.page].append(index)
    found = {i for i, line in enumerate(lines) if _CONTINUED.match(line.text)}
    found |= _numbers_alone(document) | _small_in_the_margins(document, by_page)
    if len(by_page) > 1:
        found |= _at_page_edges(document, by_page)
    return frozenset(found)


def _mask(line: Line) -> str:
    return re.sub(r"\d+", "#", " ".join(line.text.lower().split())).strip("|-–— ")


def _at_page_edges(document: Document, by_page: dict[int, list[int]]) -> set[int]:
    in_grid = {i for grid in document.grids for row in grid.lines for i in row}
    edges: dict[str, set[int]] = defaultdict(set)
    pages: Counter[str] = Counter()
    found: set[int] = set()
    for indices in by_page.values():
        edge = [i for i in dict.fromkeys([*indices[:_EDGE], *indices[-_EDGE:]]) if i not in in_grid]
        pages.update({_mask(document.lines[i]) for i in edge})
        for i in edge:
            edges[_mask(document.lines[i])].add(i)
        found |= {i for i in (indices[0], indices[-1]) if _PAGE_NUMBER.match(document.lines[i].text) and len(indices) > 2}
    needed = 2 if len(by_page) < 6 else 3
    for mask, indices_of in edges.items():
        if pages[mask] >= needed and not _is_text(mask):
            found |= {i for i in _on_one_height(document, indices_of, needed) if not _is_title(document, i, indices_of)}
    return found


def _on_one_height(document: Document, alike: set[int], needed: int) -> set[int]:
    """Those of the lines that stand as high on their pages as one on another page does; all where the lines have no place."""
    tops = {i: box.top for i in alike if (box := document.lines[i].box) is not None}
    if len(tops) < len(alike) or any(document.lines[i].page > len(document.page_sizes) for i in alike):
        return alike

    def near(i: int, j: int) -> bool:
        a, b = document.lines[i].page - 1, document.lines[j].page - 1
        high, low = document.page_sizes[a][1], document.page_sizes[b][1]
        return min(abs(tops[i] - tops[j]), abs(high - tops[i] - (low - tops[j]))) < _SAME_HEIGHT * high

    return {i for i in alike if len({document.lines[j].page for j in alike if near(i, j)}) >= needed}


def _small_in_the_margins(document: Document, by_page: dict[int, list[int]]) -> set[int]:
    """Running heads and feet that come only once, as in two pages with a title on the first: small type at the page's edge, set apart."""
    found: set[int] = set()
    sizes = Counter(round(line.size, 1) for line in document.lines if line.size for _ in line.text)
    body = sizes.most_common(1)[0][0] if sizes else 0.0
    for page, indices in by_page.items():
        boxes = [(box, i) for i in indices if (box := document.lines[i].box) is not None]
        if len(boxes) < 3 or page > len(document.page_sizes):
            continue
        height = document.page_sizes[page - 1][1]
        head, foot = min(boxes, key=lambda b: b[0].top)[0], max(boxes, key=lambda b: b[0].bottom)[0]
        if head.bottom < _MARGIN * height:
            found |= _small_row(document, boxes, head, body)
        if foot.top > (1 - _MARGIN) * height:
            found |= _small_row(document, boxes, foot, body)
    return found


def _small_row(document: Document, boxes: list[tuple[Box, int]], edge: Box, body: float) -> set[int]:
    """The lines side by side with ``edge``, if they stand apart from the text and are small print."""
    row = {i for box, i in boxes if abs(box.top - edge.top) < 0.5 * (edge.bottom - edge.top)}
    apart = all(max(box.top - edge.bottom, edge.top - box.bottom) > 0.8 * (edge.bottom - edge.top) for box, i in boxes if i not in row)
    return row if apart and all(_is_small_print(document.lines[i], body) for i in row) else set()


def _is_small_print(line: Line, body: float) -> bool:
    text = line.text.strip()
    return line.size is not None and line.size < 0.9 * body and len(text) < 80 and text[0].isalpha() and not text.endswith(".")


def _is_title(document: Document, index: int, alike: set[int]) -> bool:
    """True for the document's title, which its running heads repeat: set larger than they are, or the very first line."""
    line = document.lines[index]
    sizes = [size for i in alike if (size := document.lines[i].size) is not None]
    if line.size is not None and sizes:
        return line.size > 1.2 * median(sizes)
    first = next(i for i, other in enumerate(document.lines) if other.text.strip())
    return index == first and not _PAGE_WORD.search(line.text)


def _is_text(mask: str) -> bool:
    """A masked line that is a step or a sentence of its own is text, however often it comes back; so is a measure ("1,500 mm")."""
    if sum(c.isalpha() for c in mask) < _LEAST_LETTERS and not _PAGE_WORD.search(mask.replace("#", "1")):
        return True
    sentence = mask.endswith(".") and " " in mask and "page" not in mask
    return sentence or len(mask) > 90 or bool(re.match(r"^(?:step|stage)?\s*#[.)]", mask)) or mask in ("", "#")


def _numbers_alone(document: Document) -> set[int]:
    """Page numbers printed into plain text ("PAGE 3 OF 7", "- 3 -") with the running lines that touch them."""
    lines = document.lines
    in_grid = {i for grid in document.grids for row in grid.lines for i in row} if document.kind in ("pdf", "scan") else set()
    masks = Counter(_mask(line) for line in lines)
    marks = [
        i
        for i, line in enumerate(lines)
        if _PAGE_OF.match(line.text.strip())
        or (_PAGE_WORD.search(line.text) and (_PAGE_NUMBER.match(line.text) or _comes_back(masks, lines[i])))
        or (_DASHED_NUMBER.match(line.text.strip()) and _stands_alone(document, i))
    ]
    found = set(marks)
    for i in marks:
        for j in (i - 2, i - 1, i + 1, i + 2):
            if (
                0 <= j < len(lines)
                and j not in in_grid
                and masks[_mask(lines[j])] >= max(2, len(marks) - 1)
                and not _is_text(_mask(lines[j]))
                and j in _on_one_height(document, {k for k, line in enumerate(lines) if _mask(line) == _mask(lines[j])}, 2)
            ):
                between = range(min(i, j) + 1, max(i, j))
                if len(marks) > 1 and all(not lines[k].text.strip() or k in found for k in between):
                    found.add(j)
    return found


def _comes_back(masks: Counter[str], line: Line) -> bool:
    """True if the line, but for its numbers, stands in the document more than once, and is short."""
    mask = _mask(line)
    return len(mask) < 80 and not _is_text(mask) and masks[mask] > 1


def _stands_alone(document: Document, index: int) -> bool:
    return all(not 0 <= j < len(document.lines) or not document.lines[j].text.strip() for j in (index - 1, index + 1))
