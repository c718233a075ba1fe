"""The centre line of a hoop as straight lines and arcs of circles, and distances along it.

Coordinates in mm: x to the right, 0 in the middle of the hoop; y is height above ground. The line runs from the left foot over the ridge
to the right foot; "along" is the distance on it from the left foot. Segment formulas: R = (c²/4 + h²)/2h, θ = 4·atan(2h/c), arc = Rθ for
chord c and rise h (standard geometry).
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from math import acos, asin, atan, atan2, ceil, cos, hypot, pi, sin, sqrt

from hoopwright.model.schedule import HoopCurve

TINY_MM = 1e-9
DRAWN_STEP = pi / 180  # an arc is drawn with a point at least every degree: 0.1 mm from the true line at 3 m radius


@dataclass(frozen=True, slots=True)
class Line:
    """A straight piece from (x0, y0) to (x1, y1)."""

    x0: float
    y0: float
    x1: float
    y1: float

    @property
    def length(self) -> float:
        return hypot(self.x1 - self.x0, self.y1 - self.y0)

    def at(self, s: float) -> tuple[float, float]:
        share = s / self.length if self.length else 0.0
        return self.x0 + share * (self.x1 - self.x0), self.y0 + share * (self.y1 - self.y0)

    def stations(self) -> tuple[float, ...]:
        return (0.0, self.length)

    def at_height(self, y: float) -> tuple[float, ...]:
        return _on_line(y, self.y0, self.y1, self.length)

    def at_x(self, x: float) -> tuple[float, ...]:
        return _on_line(x, self.x0, self.x1, self.length)


def _on_line(value: float, first: float, last: float, length: float) -> tuple[float, ...]:
    if abs(last - first) < TINY_MM:
        return ()
    share = (value - first) / (last - first)
    return (min(max(share, 0.0), 1.0) * length,) if -1e-9 <= share <= 1 + 1e-9 else ()


@dataclass(frozen=True, slots=True)
class Arc:
    """A piece of a circle with centre (x, y), from angle ``start``, turning clockwise by ``sweep`` radians."""

    x: float
    y: float
    radius: float
    start: float
    sweep: float

    @property
    def length(self) -> float:
        return self.radius * self.sweep

    def at(self, s: float) -> tuple[float, float]:
        angle = self.start - s / self.radius
        return self.x + self.radius * cos(angle), self.y + self.radius * sin(angle)

    def stations(self) -> tuple[float, ...]:
        number = max(1, ceil(self.sweep / DRAWN_STEP))
        return tuple(self.length * i / number for i in range(number + 1))

    def at_height(self, y: float) -> tuple[float, ...]:
        ratio = (y - self.y) / self.radius
        return self._at_angles((asin(_clip(ratio)), pi - asin(_clip(ratio)))) if abs(ratio) <= 1 + 1e-12 else ()

    def at_x(self, x: float) -> tuple[float, ...]:
        ratio = (x - self.x) / self.radius
        return self._at_angles((acos(_clip(ratio)), -acos(_clip(ratio)))) if abs(ratio) <= 1 + 1e-12 else ()

    def _at_angles(self, angles: Iterable[float]) -> tuple[float, ...]:
        found: list[float] = []
        for angle in angles:
            turn = (self.start - angle) % (2 * pi)
            if turn > 2 * pi - 1e-9:
                turn = 0.0
            if turn <= self.sweep + 1e-9:
                found.append(min(turn, self.sweep) * self.radius)
        return tuple(found)


def _clip(ratio: float) -> float:
    return min(max(ratio, -1.0), 1.0)


Piece = Line | Arc


@dataclass(frozen=True)
class Path:
    """A line of pieces, each beginning where the one before ends."""

    pieces: tuple[Piece, ...]

    @cached_property
    def starts(self) -> tuple[float, ...]:
        return (0.0, *accumulate(piece.length for piece in self.pieces))

    @property
    def length(self) -> float:
        return self.starts[-1]

    def at(self, along: float) -> tuple[float, float]:
        """(x, height) at a distance along the path; beyond its ends, the end."""
        for piece, start in zip(self.pieces, self.starts, strict=False):
            if along <= start + piece.length:
                return piece.at(max(along - start, 0.0))
        return self.pieces[-1].at(self.pieces[-1].length)

    def at_height(self, y: float) -> tuple[float, ...]:
        """Every distance along at which the path is ``y`` above ground, in order; the two legs give two."""
        return _distinct(s + start for piece, start in zip(self.pieces, self.starts, strict=False) for s in piece.at_height(y))

    def at_x(self, x: float) -> tuple[float, ...]:
        """Every distance along at which the path is at ``x``; an upright piece gives none."""
        return _distinct(s + start for piece, start in zip(self.pieces, self.starts, strict=False) for s in piece.at_x(x))

    def stations(self) -> tuple[float, ...]:
        """Distances at which to draw a point."""
        return _distinct(s + start for piece, start in zip(self.pieces, self.starts, strict=False) for s in piece.stations())


def _distinct(values: Iterable[float]) -> tuple[float, ...]:
    found: list[float] = []
    for value in sorted(values):
        if not found or value - found[-1] > 1e-6:
            found.append(value)
    return tuple(found)


def segment(chord: float, rise: float) -> tuple[float, float, float]:
    """(radius, angle in radians, arc length) of a circular segment; valid beyond a half circle too. Both must be above 0."""
    radius = (chord * chord / 4 + rise * rise) / (2 * rise)
    angle = 4 * atan(2 * rise / chord)
    return radius, angle, radius * angle


def rise_of(chord: float, radius: float) -> float | None:
    """The rise of the flatter of the two arcs of that radius over the chord; None if the radius is too small."""
    rest = radius * radius - chord * chord / 4
    return None if rest < -1e-6 else radius - sqrt(max(rest, 0.0))


def rise_of_arc(chord: float, arc: float) -> float | None:
    """The rise at which an arc over the chord has that length (up to a full circle nearly); None if it is shorter than the chord."""
    return root(lambda rise: segment(chord, rise)[2] - arc, 1e-6, arc) if arc > chord else None


def bend_of_arc(chord: float, arc: float) -> float | None:
    """The radius of an arc of that length over the chord, up to a half circle; None if there is none."""
    if not chord < arc <= chord * pi / 2 + 1e-9:
        return None
    half = root(lambda angle: sin(angle) / angle - chord / arc, 1e-9, pi / 2)
    return None if half is None else arc / (2 * half)


def root(function: Callable[[float], float], low: float, high: float) -> float | None:
    """A root between ``low`` and ``high`` by bisection, None if the signs do not differ."""
    at_low, at_high = function(low), function(high)
    if at_low * at_high > 0:
        return None
    for _ in range(200):
        middle = (low + high) / 2
        value = function(middle)
        if (value > 0) == (at_low > 0):
            low, at_low = middle, value
        else:
            high = middle
    return (low + high) / 2


def arc_hoop(width: float, leg: float, rise: float, foot: float = 0.0) -> Path:
    """Upright legs from ``foot`` to ``leg`` above ground (none if they are equal), and one arc over the width that rises by ``rise``."""
    radius, angle, _ = segment(width, rise)
    arc = Arc(0.0, leg + rise - radius, radius, pi / 2 + angle / 2, angle)
    return _with_legs(width, leg, foot, (arc,))


def pointed_hoop(width: float, leg: float, rise: float, radius: float, foot: float = 0.0) -> Path | None:
    """Upright legs and two equal arcs that meet in a point ``rise`` above the legs; None if the radius is too small for that."""
    chord = hypot(width / 2, rise)
    if radius < chord / 2 - 1e-9:
        return None
    half = asin(_clip(chord / (2 * radius)))
    # The centre lies on the far side of the chord, at right angles to its middle.
    reach = sqrt(max(radius * radius - chord * chord / 4, 0.0))
    x, y = -width / 4 + reach * rise / chord, leg + rise / 2 - reach * (width / 2) / chord
    start = atan2(leg - y, -width / 2 - x)
    left = Arc(x, y, radius, start, 2 * half)
    right = Arc(-x, y, radius, pi - start + 2 * half, 2 * half)
    return _with_legs(width, leg, foot, (left, right))


def _with_legs(width: float, leg: float, foot: float, arcs: tuple[Piece, ...]) -> Path:
    if leg - foot < TINY_MM:
        return Path(arcs)
    return Path((Line(-width / 2, foot, -width / 2, leg), *arcs, Line(width / 2, leg, width / 2, foot)))


def upright_radius(width: float, rise: float) -> float:
    """The radius of the arcs of a pointed hoop that leave the legs upright: (h² + w²/4)/w."""
    return (rise * rise + width * width / 4) / width


def drawn(path: Path, joints: Sequence[float], stated: bool, extra: dict[str, float]) -> HoopCurve:
    """The path as the schedule shows it: points dense enough to draw, one on each joint."""
    at = _distinct((*path.stations(), *(joint for joint in joints if 0 <= joint <= path.length)))
    points = tuple((*path.at(s), s) for s in at)
    return HoopCurve(points, path.length, tuple(joints), stated, extra)
