"""Drawings inside a page. What they draw alike many times is told once and stamped; looks are classes, colours those of the page.

A page shows each hoop twice, for wide and for narrow screens, and every tape: told shape by shape they were two thirds of the file.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from xml.sax.saxutils import escape, quoteattr

from hoopwright.reporting.canvas import FONT, Block, Disc, Item, Mark, Shape, Stroke, Tone, Words, number
from hoopwright.reporting.text import shown

_LONG = 4  # a line of more points than this is told once

# For the roots of all drawings. Text that runs from right to left must not turn the rest of its line round.
_ROOT = f"svg{{font-family:{FONT};fill:none;stroke-linejoin:round;direction:ltr}}"


class Stencils:
    """The looks and stamps that the drawings of one page share. Draw first, then ask for ``styles`` and ``stamps``."""

    def __init__(self) -> None:
        self._looks: dict[str, str] = {}
        self._stamps: dict[str, str] = {}
        self._known: dict[tuple[object, ...], str] = {}  # what was stamped before, told by its shapes: quicker than writing them again

    def draw(self, shapes: Sequence[Shape]) -> str:
        """The shapes as SVG elements."""
        return "".join(self._svg(unit) for unit in _units(shapes))

    def marked(self, items: Iterable[Item], prefix: str = "", link: str = "") -> str:
        """The items as SVG elements. With ``link`` marks are links to ``#link + prefix + key``; without it they only have a title."""
        parts: list[str] = []
        for item in items:
            if not isinstance(item, Mark):
                parts.append(self.draw((item,)))
            elif link:
                parts.append(self._linked(item, prefix + item.key, link))
            else:
                parts.append(f'<g class="mark"><title>{escape(shown(item.name))}</title>{self.draw(item.shapes)}</g>')
        return "\n".join(parts)

    def _linked(self, mark: Mark, key: str, link: str) -> str:
        left, top, right, bottom = map(number, mark.box)
        hit = f'<path class="hit" d="M{left} {top}H{right}V{bottom}H{left}Z"/>'
        names = f"id={quoteattr('mark-' + key)} href={quoteattr(f'#{link}{key}')} aria-label={quoteattr(shown(mark.name))}"
        place = f"data-place={quoteattr(key)} data-placements={quoteattr(' '.join(mark.placements))}"
        return f'<a class="mark" {names} {place}>{hit}{self.draw(mark.shapes)}</a>'

    def styles(self) -> str:
        """The style sheet of all that was drawn; it needs the page's ``--ink``, ``--mid``, ``--light``, ``--pale`` and ``--paper``."""
        return "\n".join([_ROOT, *(f".{name}{{{look}}}" for look, name in self._looks.items())]) + "\n"

    def stamps(self) -> str:
        """The stamps, to stand in one place of the page where nothing shows."""
        return "\n".join(f'<g id="{name}">{svg}</g>' for svg, name in self._stamps.items())

    def _svg(self, unit: tuple[Shape, ...]) -> str:
        first = unit[0]
        if isinstance(first, Stroke):
            return self._stamped(unit, *first.points[0]) if len(first.points) > _LONG else self._shape(first)
        if len(unit) > 1 or isinstance(first, Disc):
            return self._stamped(unit, first.x, first.y)
        return self._shape(first)

    def _stamped(self, unit: Sequence[Shape], x: float, y: float) -> str:
        key = tuple(_key(shape, x, y) for shape in unit)
        if (name := self._known.get(key)) is None:
            svg = "".join(self._shape(_shifted(shape, -x, -y)) for shape in unit)
            name = self._known[key] = self._stamps.setdefault(svg, f"g{len(self._stamps)}")
        return f'<use href="#{name}" x="{number(x)}" y="{number(y)}"/>'

    def _shape(self, shape: Shape) -> str:
        look = f'class="{self._look(_css(shape))}"'
        if isinstance(shape, Stroke):
            points = " ".join(f"{number(x)},{number(y)}" for x, y in shape.points)
            return f'<{"polygon" if shape.closed else "polyline"} {look} points="{points}"/>'
        x, y = number(shape.x), number(shape.y)
        if isinstance(shape, Disc):
            return f'<circle {look} cx="{x}" cy="{y}" r="{number(shape.r)}"/>'
        if isinstance(shape, Block):
            corner = f' rx="{number(shape.round)}"' if shape.round else ""
            return f'<rect {look} x="{x}" y="{y}" width="{number(shape.w)}" height="{number(shape.h)}"{corner}/>'
        turn = f' transform="rotate(-90 {x} {y})"' if shape.turned else ""
        return f'<text {look} x="{x}" y="{y}"{turn}>{escape(shown(shape.text))}</text>'

    def _look(self, css: str) -> str:
        return self._looks.setdefault(css, f"k{len(self._looks)}")


def _units(shapes: Sequence[Shape]) -> Iterator[tuple[Shape, ...]]:
    """Each shape for itself, but words with the plate that they stand on."""
    index = 0
    while index < len(shapes):
        plate, words = shapes[index], shapes[index + 1] if index + 1 < len(shapes) else None
        pair = isinstance(plate, Disc | Block) and isinstance(words, Words) and _stands_on(words, plate)
        yield tuple(shapes[index : index + 1 + pair])
        index += 1 + pair


def _stands_on(words: Words, plate: Disc | Block) -> bool:
    left, top, right, bottom = words.box()
    x, y = (left + right) / 2, (top + bottom) / 2
    if isinstance(plate, Disc):
        return abs(x - plate.x) <= plate.r and abs(y - plate.y) <= plate.r
    return plate.x <= x <= plate.x + plate.w and plate.y <= y <= plate.y + plate.h


def _key(shape: Shape, x: float, y: float) -> tuple[object, ...]:
    """All of a shape, with its place told from (x, y) on."""
    if isinstance(shape, Stroke):
        points = tuple((round(px - x, 2), round(py - y, 2)) for px, py in shape.points)
        return points, shape.width, shape.tone, shape.dashed, shape.closed, shape.fill
    at = round(shape.x - x, 2), round(shape.y - y, 2)
    if isinstance(shape, Disc):
        return *at, shape.r, shape.fill, shape.tone, shape.width
    if isinstance(shape, Block):
        return *at, shape.w, shape.h, shape.round, shape.fill, shape.tone, shape.width, shape.dashed
    return *at, shape.text, shape.size, shape.anchor, shape.bold, shape.tone, shape.turned


def _shifted(shape: Shape, right: float, down: float) -> Shape:
    if isinstance(shape, Stroke):
        return replace(shape, points=tuple((x + right, y + down) for x, y in shape.points))
    return replace(shape, x=shape.x + right, y=shape.y + down)


def _colour(tone: Tone) -> str:
    return f"var(--{tone})"


def _css(shape: Shape) -> str:
    """The looks of a shape, without its place and size."""
    if isinstance(shape, Words):
        anchor = "" if shape.anchor == "start" else f";text-anchor:{shape.anchor}"
        weight = ";font-weight:700" if shape.bold else ""
        return f"font-size:{number(shape.size)}px;fill:{_colour(shape.tone)}{anchor}{weight}"
    parts = [f"fill:{_colour(shape.fill)}"] if shape.fill else []
    if shape.width:
        parts.append(f"stroke:{_colour(shape.tone)};stroke-width:{number(shape.width)}px")
        if not isinstance(shape, Disc) and shape.dashed:
            parts.append(f"stroke-dasharray:{number(shape.width * 4)}px {number(shape.width * 3)}px")
    return ";".join(parts)
