"""A drawing as a list of simple things in millimetres on paper, and that list as SVG.

The printed sheets draw the same list with Typst, so that a drawing looks the same everywhere and its labels are real text.
All words are set in a monospaced font: its width is the same in every program, so labels that are laid out apart stay apart.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal
from xml.sax.saxutils import escape, quoteattr

from hoopwright.reporting.glyphs import mono_width
from hoopwright.reporting.text import shown

Tone = Literal["ink", "mid", "light", "pale", "paper"]
Anchor = Literal["start", "middle", "end"]

# Greys that stay apart in grey print; "mid" on white has a contrast of 5.9 (WCAG 2.2 asks for 4.5).
TONES: dict[Tone, str] = {"ink": "#1b1f1e", "mid": "#5f6664", "light": "#b9bfbd", "pale": "#e9ecea", "paper": "#ffffff"}
FONT = "'DejaVu Sans Mono', ui-monospace, 'Liberation Mono', Menlo, Consolas, monospace"
TEXT = 3.0  # mm, about 8.5 points: the smallest words on a drawing
# For the root of an SVG. Text that runs from right to left must not turn the rest of its line round: the direction is inherited.
ROOT = f'font-family="{FONT}" fill="none" stroke-linejoin="round" direction="ltr"'
_ASCENT, _DESCENT = 0.76, 0.24  # of the size: room above and below the baseline


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through ``points``; ``closed`` with ``fill`` makes it an area."""

    points: tuple[tuple[float, float], ...]
    width: float = 0.35
    tone: Tone = "ink"
    dashed: bool = False
    closed: bool = False
    fill: Tone | None = None


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle around (x, y)."""

    x: float
    y: float
    r: float
    fill: Tone | None = "paper"
    tone: Tone = "ink"
    width: float = 0.35


@dataclass(frozen=True, slots=True)
class Block:
    """A rectangle with its top left corner at (x, y), corners rounded by ``round``; no outline where ``width`` is 0."""

    x: float
    y: float
    w: float
    h: float
    round: float = 0.0
    fill: Tone | None = None
    tone: Tone = "ink"
    width: float = 0.35
    dashed: bool = False


@dataclass(frozen=True, slots=True)
class Words:
    """One line of text with its baseline at (x, y); ``size`` is the font size in mm. ``turned``: read from below, turned left by 90°."""

    x: float
    y: float
    text: str
    size: float = TEXT
    anchor: Anchor = "start"
    bold: bool = False
    tone: Tone = "ink"
    turned: bool = False

    def box(self) -> tuple[float, float, float, float]:
        """left, top, right, bottom of the room that the words take at most."""
        width = mono_width(self.text, self.size)
        back = {"start": 0.0, "middle": width / 2, "end": width}[self.anchor]
        if self.turned:
            low = self.y + back
            return self.x - _ASCENT * self.size, low - width, self.x + _DESCENT * self.size, low
        left = self.x - back
        return left, self.y - _ASCENT * self.size, left + width, self.y + _DESCENT * self.size


Shape = Stroke | Disc | Block | Words


@dataclass(frozen=True, slots=True)
class Mark:
    """What belongs to one place on a hoop: its dot, leader and label.

    ``key`` is the place's number or letter; ``name`` says it in words.
    """

    key: str
    name: str
    placements: tuple[str, ...]
    shapes: tuple[Shape, ...]
    box: tuple[float, float, float, float]  # the label: left, top, right, bottom


Item = Shape | Mark


@dataclass(frozen=True, slots=True)
class Drawing:
    """``width`` × ``height`` in mm; ``title`` names it, ``description`` says in words what it shows."""

    width: float
    height: float
    title: str
    description: str
    items: tuple[Item, ...]

    def marks(self) -> Iterator[Mark]:
        """The places that are marked on it."""
        return (item for item in self.items if isinstance(item, Mark))

    def shapes(self) -> Iterator[Shape]:
        """Every shape, also those inside marks, in the order in which they are drawn."""
        for item in self.items:
            yield from item.shapes if isinstance(item, Mark) else (item,)


def moved(item: Item, down: float) -> Item:
    """The item ``down`` mm lower."""
    if isinstance(item, Mark):
        left, top, right, bottom = item.box
        shapes = tuple(_moved(shape, down) for shape in item.shapes)
        return replace(item, shapes=shapes, box=(left, top + down, right, bottom + down))
    return _moved(item, down)


def _moved(shape: Shape, down: float) -> Shape:
    if isinstance(shape, Stroke):
        return replace(shape, points=tuple((x, y + down) for x, y in shape.points))
    return replace(shape, y=shape.y + down)


def thinned(points: Sequence[tuple[float, float]], slack: float = 0.02) -> tuple[tuple[float, float], ...]:
    """The line with as few of its points as keep it within ``slack`` (mm) of where it was; both ends stay.

    Source: D. H. Douglas and T. K. Peucker, "Algorithms for the reduction of the number of points required to represent a digitized
    line or its caricature", 1973.
    """
    kept = {0, len(points) - 1}
    open_ = [(0, len(points) - 1)]
    while open_:
        first, last = open_.pop()
        (x0, y0), (x1, y1) = points[first], points[last]
        size = math.hypot(x1 - x0, y1 - y0)

        def off(index: int, x0: float = x0, y0: float = y0, dx: float = x1 - x0, dy: float = y1 - y0, size: float = size) -> float:
            x, y = points[index]
            return abs((x - x0) * dy - (y - y0) * dx) / size if size else math.hypot(x - x0, y - y0)

        farthest = max(range(first + 1, last), key=off, default=first)
        if farthest != first and off(farthest) > slack:
            kept.add(farthest)
            open_ += [(first, farthest), (farthest, last)]
    return tuple(points[index] for index in sorted(kept))


def number(value: float) -> str:
    """A length in as few characters as a hundredth of a millimetre takes."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def _style(fill: Tone | None, tone: Tone, width: float, dashed: bool) -> str:
    parts = [f'fill="{TONES[fill]}"'] if fill else []  # the root says that nothing is filled that does not say so
    if width:
        parts.append(f'stroke="{TONES[tone]}" stroke-width="{number(width)}"')
        if dashed:
            parts.append(f'stroke-dasharray="{number(width * 4)} {number(width * 3)}"')
    return " ".join(parts)


def _svg_shape(shape: Shape) -> str:
    if isinstance(shape, Stroke):
        points = " ".join(f"{number(x)},{number(y)}" for x, y in shape.points)
        style = _style(shape.fill, shape.tone, shape.width, shape.dashed)
        return f'<{"polygon" if shape.closed else "polyline"} points="{points}" {style}/>'
    if isinstance(shape, Disc):
        style = _style(shape.fill, shape.tone, shape.width, False)
        return f'<circle cx="{number(shape.x)}" cy="{number(shape.y)}" r="{number(shape.r)}" {style}/>'
    if isinstance(shape, Block):
        style = _style(shape.fill, shape.tone, shape.width, shape.dashed)
        corner = f' rx="{number(shape.round)}"' if shape.round else ""
        return f'<rect x="{number(shape.x)}" y="{number(shape.y)}" width="{number(shape.w)}" height="{number(shape.h)}"{corner} {style}/>'
    return _svg_words(shape)


def _svg_words(words: Words) -> str:
    x, y = number(words.x), number(words.y)
    turn = f' transform="rotate(-90 {x} {y})"' if words.turned else ""
    anchor = "" if words.anchor == "start" else f' text-anchor="{words.anchor}"'
    weight = ' font-weight="700"' if words.bold else ""
    attributes = f'x="{x}" y="{y}" font-size="{number(words.size)}"{anchor}{weight} fill="{TONES[words.tone]}"{turn}'
    return f"<text {attributes}>{escape(shown(words.text))}</text>"


def _svg_items(items: Iterable[Item]) -> str:
    """The items as SVG elements, each with all of its looks; marks are groups with ``data-place`` and a title."""
    parts: list[str] = []
    for item in items:
        if not isinstance(item, Mark):
            parts.append(_svg_shape(item))
            continue
        place = f"data-place={quoteattr(item.key)} data-placements={quoteattr(' '.join(item.placements))}"
        parts.append(f'<g class="mark" {place}><title>{escape(shown(item.name))}</title>{"".join(map(_svg_shape, item.shapes))}</g>')
    return "\n".join(parts)


def to_svg(drawing: Drawing) -> str:
    """A whole SVG file, sized in millimetres, with title and description for readers who cannot see it."""
    width, height = number(drawing.width), number(drawing.height)
    size = f'width="{width}mm" height="{height}mm" viewBox="0 0 {width} {height}"'
    names = f'role="img" aria-labelledby="title desc" {ROOT}'
    parts = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} {names}>',
        f'<title id="title">{escape(shown(drawing.title))}</title>',
        f'<desc id="desc">{escape(shown(drawing.description))}</desc>',
        f'<rect width="100%" height="100%" fill="{TONES["paper"]}"/>',
        _svg_items(drawing.items),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"
