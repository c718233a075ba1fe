"""Labels of places: the place's number in a sign that says when, and the marks of what sits there.

The signs are told apart by shape and filling, never by colour alone: a full disc threads on before the hoop is closed, a square goes in
as it is joined, an open ring can wait.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.model.schedule import When
from hoopwright.reporting.canvas import Anchor, Block, Disc, Shape, Stroke, Words
from hoopwright.reporting.glyphs import mono_width
from hoopwright.reporting.places import Place

SIGN = 6.4  # mm across
MARK_SIZE = 3.7  # mm, about 10.5 points
LINE = 6.0
GAP = 1.2
_PAD = 0.9


def sign(x: float, y: float, key: str, time: When, size: float = SIGN) -> tuple[Shape, ...]:
    """The sign of a place, centred on (x, y), with its number or letter."""
    room = {1: 0.62, 2: 0.55, 3: 0.42}.get(len(key), 1.3 / max(len(key), 1))
    text_size = size * room
    half = size / 2
    early = time == "before-joining"
    frame: Shape
    if time == "at-joining":
        frame = Block(x - half + 0.3, y - half + 0.3, size - 0.6, size - 0.6, 0, "paper", "ink", 0.6)
    else:
        frame = Disc(x, y, half - 0.2, "ink" if early else "paper", "ink", 0.4)
    return frame, Words(x, y + text_size * 0.36, key, text_size, "middle", True, "paper" if early else "ink")


@dataclass(frozen=True, slots=True)
class Label:
    """A place's label before it has found its spot: ``lines`` of (mark, when) pieces, ``width`` × ``height`` in mm."""

    place: Place
    lines: tuple[tuple[tuple[str, When], ...], ...]
    width: float
    height: float
    along: float = 0.0  # where its place stands on the drawn line
    sign: float = SIGN  # how large its sign is

    @property
    def marks_width(self) -> float:
        """The width of the marks alone, without the sign."""
        return max(map(_line_width, self.lines), default=0.0)

    def marks_at(self, x: float, y: float) -> list[Shape]:
        """The marks alone, centred on ``x``, the first line centred on ``y``."""
        shapes: list[Shape] = []
        for index, line in enumerate(self.lines):
            shapes += _pieces(x - _line_width(line) / 2, y + LINE * index, line)
        return shapes

    def drawn(self, x: float, y: float, side: Anchor) -> tuple[tuple[Shape, ...], tuple[float, float, float, float]]:
        """Shapes and box with the sign's centre at (x, y); ``side`` "start": the marks stand right of the sign, "end": left of it."""
        direction = -1 if side == "end" else 1
        shapes: list[Shape] = list(sign(x, y, self.place.key, self.place.time, self.sign))
        top = y - LINE * len(self.lines) / 2
        for index, line in enumerate(self.lines):
            start = x + direction * (SIGN / 2 + GAP)
            if side == "end":
                start -= _line_width(line)
            shapes += _pieces(start, top + LINE * (index + 0.5), line)
        far = x + direction * (self.width - self.sign / 2)
        near = x - direction * self.sign / 2
        return tuple(shapes), (min(near, far), y - self.height / 2, max(near, far), y + self.height / 2)


def _piece_width(piece: tuple[str, When]) -> float:
    return mono_width(piece[0], MARK_SIZE) + 2 * _PAD


def _line_width(line: Sequence[tuple[str, When]]) -> float:
    return sum(map(_piece_width, line)) + GAP * max(len(line) - 1, 0)


def _pieces(x: float, y: float, line: Sequence[tuple[str, When]]) -> list[Shape]:
    """The marks of one line from ``x`` on, centred on ``y``; what threads on first stands white on dark, the rest in a frame."""
    shapes: list[Shape] = []
    for text, when in line:
        width = _piece_width((text, when))
        early = when == "before-joining"
        outline = {"before-joining": 0.3, "at-joining": 0.5, "any-time": 0.0}[when]
        shapes.append(Block(x, y - 2.45, width, 4.9, 0.9 if when != "at-joining" else 0, "ink" if early else "paper", "ink", outline))
        shapes.append(Words(x + width / 2, y + MARK_SIZE * 0.36, text, MARK_SIZE, "middle", True, "paper" if early else "ink"))
        x += width + GAP
    return shapes


def label_for(place: Place, pieces: Sequence[tuple[str, When]], room: float, along: float = 0.0) -> Label:
    """A label no wider than ``room`` (but for a single mark that is wider on its own)."""
    space = room - SIGN - GAP
    lines: list[list[tuple[str, When]]] = [[]]
    for piece in pieces:
        if lines[-1] and _line_width([*lines[-1], piece]) > space:
            lines.append([])
        lines[-1].append(piece)
    width = max(map(_line_width, lines))
    height = max(LINE * len(lines), SIGN) + 0.6
    return Label(place, tuple(map(tuple, lines)), SIGN + GAP + width, height, along)


def bare_label(place: Place, along: float, size: float = SIGN) -> Label:
    """Only the sign, for hoops with more places than their marks have room for; the marks stand in the list."""
    return Label(place, (), size, size + 0.3, along, size)


def legend(y: float, width: float, letters: bool) -> tuple[Shape, ...]:
    """One line over the whole ``width`` that says what the signs mean; ``letters``: also what a letter means."""
    entries: list[tuple[str, When, str]] = [
        ("1", "before-joining", "thread on first"),
        ("2", "at-joining", "as it is joined"),
        ("3", "any-time", "can wait"),
    ]
    if letters:
        entries.append(("a", "any-time", "spot not drawn"))
    sizes = [6.2 + mono_width(words, 3.0) for _, _, words in entries]
    space = (width - sum(sizes)) / max(len(entries) - 1, 1)
    shapes: list[Shape] = []
    x = 0.0
    for (key, time, words), size in zip(entries, sizes, strict=True):
        shapes += sign(x + 2.4, y, key, time, 4.8)
        shapes.append(Words(x + 6.2, y + 1.1, words, 3.0))
        x += size + space
    return tuple(shapes)


def tape_hook(x: float, y: float, direction: int) -> tuple[Shape, ...]:
    """A small hook over the end of a tube: where the tape's zero hangs. ``direction`` +1: the tube runs to the right."""
    back = -direction
    hook = ((x + back * 1.4, y + 3.4), (x + back * 1.4, y - 3.4), (x + direction * 3.0, y - 3.4))
    return (Stroke(hook, 0.9),)
