"""Columns of a page: the left edge and the measure that the lines of each column share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hoopwright.model.document import Box, Document

_SAME = 0.06  # columns whose left edges lie within this part of the page's width are one
_FULL = 0.62  # a stretch of text wider than this part of the page is no column beside another


@dataclass(frozen=True, slots=True)
class Margin:
    """Left and right edge of a column of text, in points."""

    left: float
    right: float


def margins(document: Document, indices: Sequence[int]) -> dict[int, Margin]:
    """Line index → the margin of its column, for the lines that have boxes. ``indices`` are the lines of the text, in reading order."""
    stretches = list(_stretches(document, indices))
    groups: list[list[list[int]]] = []
    for stretch in stretches:
        group = next((g for g in groups if _alike(document, g[0], stretch)), None)
        if group is None:
            groups.append([stretch])
        else:
            group.append(stretch)
    result: dict[int, Margin] = {}
    for group in groups:
        boxes = [box for stretch in group for box in _boxes(document, stretch)]
        rights = sorted(box.x1 for box in boxes)
        margin = Margin(min(box.x0 for box in boxes), rights[int(0.9 * (len(rights) - 1))])
        result.update({i: margin for stretch in group for i in stretch})
    return result


def _stretches(document: Document, indices: Sequence[int]) -> Iterator[list[int]]:
    """Runs of lines that go down one column of one page."""
    run: list[int] = []
    for i in indices:
        line = document.lines[i]
        if line.box is None:
            continue
        last = document.lines[run[-1]] if run else None
        if last is not None and last.box is not None and (last.page != line.page or line.box.top < last.box.top - 1):
            yield run
            run = []
        run.append(i)
    if run:
        yield run


def _boxes(document: Document, stretch: Sequence[int]) -> list[Box]:
    return [box for i in stretch if (box := document.lines[i].box) is not None]


def _alike(document: Document, a: Sequence[int], b: Sequence[int]) -> bool:
    """True if two stretches stand in the same column, on whatever page."""
    page = document.page_sizes[0][0] if document.page_sizes else 595.0
    left_a, wide_a = _extent(document, a)
    left_b, wide_b = _extent(document, b)
    full_a, full_b = wide_a > _FULL * page, wide_b > _FULL * page
    return abs(left_a - left_b) <= _SAME * page and (full_a == full_b or min(len(a), len(b)) < 4)


def _extent(document: Document, stretch: Sequence[int]) -> tuple[float, float]:
    boxes = _boxes(document, stretch)
    left = min(box.x0 for box in boxes)
    return left, max(box.x1 for box in boxes) - left
