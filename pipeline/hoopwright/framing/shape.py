"""Places on a hoop: heights, and distances along the tube from foot, joint, ridge and end, both sides, there and back."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from hoopwright.framing.curve import Path
from hoopwright.model.schedule import Side

HALF_MM = 0.5
ROUNDED_MM = 10.0  # a height this little above the ridge means the ridge


@dataclass(frozen=True, slots=True)
class HoopShape:
    """Where things are on a hoop. ``path`` is None where only lengths are known; then heights above ``leg_mm`` cannot be converted.

    ``joints_mm`` holds each joint's distance along from the left foot, None where unknown; ``leg_mm`` the height up to which the legs
    are straight and upright.
    """

    length_mm: float | None
    joints_mm: tuple[float | None, ...] = ()
    ridge_mm: float | None = None
    path: Path | None = None
    leg_mm: float | None = None
    foot_mm: float = 0.0

    @property
    def height_mm(self) -> float | None:
        """The height of the ridge above ground, None without a path."""
        return None if self.path is None or self.ridge_mm is None else self.path.at(self.ridge_mm)[1]

    def spans(self) -> tuple[tuple[float | None, float | None], ...]:
        """(start, end) of each tube along the hoop."""
        ends = (0.0, *self.joints_mm, self.length_mm)
        return tuple(pairwise(ends))


def along(
    shape: HoopShape, datum: str, offset_mm: float, side: Side | None, *, joint: int | None = None, towards: int | None = None
) -> float | None:
    """Distance along the hoop from the left foot, None where the facts do not give it or it is off the hoop.

    ``datum``: "ground" (a height), "foot", "ridge", "joint" (number ``joint`` from 0 at the left) or "end" of the hoop. ``side`` is the
    side of the hoop; from a joint or the ridge, ``towards`` (-1 left, +1 right) goes before it.
    """
    found = _along(shape, datum, offset_mm, side, joint, towards)
    end = shape.length_mm
    return None if found is None or found < -HALF_MM or (end is not None and found > end + HALF_MM) else found


def _along(shape: HoopShape, datum: str, offset_mm: float, side: Side | None, joint: int | None, towards: int | None) -> float | None:
    if datum == "ground":
        return _from_ground(shape, offset_mm, side)
    if datum in ("foot", "end"):
        if side == "left":
            return offset_mm
        return shape.length_mm - offset_mm if side == "right" and shape.length_mm is not None else None
    sign = towards if towards is not None else {"left": -1, "right": 1}.get(side or "", 0)
    if datum == "ridge":
        start = shape.ridge_mm
    elif datum == "joint" and joint is not None and 0 <= joint < len(shape.joints_mm):
        start = shape.joints_mm[joint]
    else:
        return None
    return start + sign * offset_mm if start is not None and (sign or not offset_mm) else None


def _from_ground(shape: HoopShape, height: float, side: Side | None) -> float | None:
    if side == "centre" or (side is None and shape.height_mm is not None and abs(height - shape.height_mm) < 1e-6):
        return shape.ridge_mm if shape.height_mm is not None and abs(height - shape.height_mm) <= HALF_MM else None
    if shape.path is not None:
        found = shape.path.at_height(height)
        if not found and shape.height_mm is not None and 0 < height - shape.height_mm <= ROUNDED_MM:
            return shape.ridge_mm
        return None if not found or side is None else found[0] if side == "left" else found[-1]
    if shape.leg_mm is None or not shape.foot_mm <= height <= shape.leg_mm:
        return None
    up = height - shape.foot_mm
    return up if side == "left" else shape.length_mm - up if side == "right" and shape.length_mm is not None else None


def height(shape: HoopShape, along_mm: float) -> float | None:
    """Height above ground at a distance along the hoop, None where unknown or off the hoop."""
    if shape.path is not None:
        return shape.path.at(along_mm)[1] if -1e-6 <= along_mm <= shape.path.length + 1e-6 else None
    straight = None if shape.leg_mm is None else shape.leg_mm - shape.foot_mm
    if straight is None:
        return None
    from_foot = along_mm if along_mm <= straight else shape.length_mm - along_mm if shape.length_mm is not None else None
    return from_foot + shape.foot_mm if from_foot is not None and 0 <= from_foot <= straight else None


def offset(shape: HoopShape, datum: str, along_mm: float, *, joint: int | None = None) -> float | None:
    """The reverse of ``along``: how far a place is from the datum (a height for "ground", else along the hoop), never below 0."""
    if datum == "ground":
        return height(shape, along_mm)
    if datum in ("foot", "end"):
        return None if shape.length_mm is None else min(along_mm, shape.length_mm - along_mm)
    start = shape.ridge_mm if datum == "ridge" else shape.joints_mm[joint] if joint is not None and joint < len(shape.joints_mm) else None
    return None if start is None else abs(along_mm - start)


def side_of(shape: HoopShape, along_mm: float) -> Side | None:
    """The side of the hoop at a distance along it, None where its length is unknown."""
    if shape.ridge_mm is None:
        return None
    return "centre" if abs(along_mm - shape.ridge_mm) < HALF_MM else "left" if along_mm < shape.ridge_mm else "right"


def opposite(shape: HoopShape, along_mm: float) -> float | None:
    """The place directly opposite on the same hoop."""
    return None if shape.length_mm is None else shape.length_mm - along_mm


def at_inset(shape: HoopShape, inset_mm: float, side: Side) -> float | None:
    """Distance along to the place on the bend that lies ``inset_mm`` inward from the foot, measured level; None where unknown."""
    if shape.path is None or side == "centre":
        return None
    x0 = shape.path.at(0.0)[0]
    found = shape.path.at_x(x0 + inset_mm if side == "left" else -x0 - inset_mm)
    # Beyond a half circle the line bulges past its foot; the upper of two places is meant.
    path = shape.path
    return max(found, key=lambda s: path.at(s)[1], default=None)
