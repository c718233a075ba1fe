"""The line that stands for a hoop on paper, and where on it each fitting is drawn.

With a known shape the line is the hoop itself. Without one it is an arch that only stands for it: what the manual says of a place (so far
along a tube, so far from a foot or from the ridge) is kept, tube by tube and in its order, and the drawing says that it is not to scale.
What the manual leaves open is drawn nowhere.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise

from hoopwright.model.schedule import HoopCurve, Placement, Schedule, Structure, TubeInfo

# On an arch that only stands for the hoop, distances from a foot and from the ridge meet somewhere on each half, and it is not known
# where: no nearer to each other than this are they drawn, so that two fittings never change places.
_FROM_FOOT, _FROM_RIDGE = 0.55, 0.35  # of the half from foot to ridge


class DrawnLine:
    """The line of a schedule's hoops; ``curve.stated`` is False where it only stands for them."""

    def __init__(self, schedule: Schedule) -> None:
        known = schedule.shape is not None and len(schedule.shape.points) > 1 and schedule.shape.length_mm > 0
        self._tubes = _tube_ends(schedule)
        self._measured = schedule.structure.width_mm is not None and schedule.structure.height_mm is not None
        far = max((item.along_mm or 0.0 for item in schedule.placements), default=0.0)
        self._straight = not known and self._tubes is None and far > 0
        if schedule.shape is not None and known:
            self.curve = schedule.shape
        elif self._straight:
            self.curve = _straight(max(far, 1000.0))
        else:
            self.curve = _symbol(schedule.structure)
        inner = self.curve.joints_mm
        self._joints = inner if len(inner) == len(schedule.tubes) - 1 else ()

    def at(self, item: Placement) -> float | None:
        """The distance along ``curve`` at which the fitting is drawn; None: the manual leaves it open."""
        if self.curve.stated or self._straight:
            return item.along_mm
        if item.along_mm is not None and self._tubes is not None:
            return self._on_tubes(item.along_mm)
        return self._from_landmark(item)

    def middle(self, tube: TubeInfo) -> float | None:
        """Where on ``curve`` the middle of a tube is drawn; None where its ends are not known."""
        if tube.start_mm is None or tube.end_mm is None:
            return None
        middle = (tube.start_mm + tube.end_mm) / 2
        if self.curve.stated or self._straight:
            return middle
        return self._on_tubes(middle) if self._tubes is not None else None

    def _on_tubes(self, along: float) -> float:
        """The same share of the same tube."""
        ends = self._tubes or (0.0, self.curve.length_mm)
        drawn = (0.0, *self._joints, self.curve.length_mm) if self._joints else tuple(end / ends[-1] * self.curve.length_mm for end in ends)
        index = min(max(bisect_right(ends, along), 1), len(ends) - 1)
        share = (along - ends[index - 1]) / (ends[index] - ends[index - 1])
        return drawn[index - 1] + min(max(share, 0.0), 1.0) * (drawn[index] - drawn[index - 1])

    def _from_landmark(self, item: Placement) -> float | None:
        """At a foot, the ridge or a joint; or as far from a foot or the ridge as the manual says, as long as that is near."""
        total, offset = self.curve.length_mm, item.offset_mm
        if item.datum is None or offset is None or offset < 0:
            return None
        if item.datum == "joint":
            return self._joint(item) if offset == 0 else None
        if item.datum == "ground":
            return self._height(offset, item.side)
        near = {"foot": _FROM_FOOT, "ridge": _FROM_RIDGE}.get(item.datum)
        if near is None or (offset > 0 and not (self._measured and self._tubes is None and offset <= near * total / 2)):
            return None
        if item.datum == "ridge":
            turn = {"left": -1, "right": 1}.get(item.side or "", 0)
            return total / 2 + turn * offset if turn or offset == 0 else None
        return {"left": offset, "right": total - offset}.get(item.side or "")

    def _height(self, height: float, side: str | None) -> float | None:
        """So high above the ground on that side: true to scale wherever width and height are known, unless it is near the crown."""
        points = self.curve.points
        if not self._measured or self._tubes is not None or height > _FROM_FOOT * max(y for _, y, _ in points):
            return None
        rising = points if side == "left" else tuple(reversed(points)) if side == "right" else ()
        for (_, low, start), (_, high, end) in pairwise(rising):
            if low <= height <= high and high > low:
                return start + (height - low) / (high - low) * (end - start)
        return None

    def _joint(self, item: Placement) -> float | None:
        """The only joint, the middle one, or the only one on that side."""
        middle = self.curve.length_mm / 2
        sides = {"left": -1, "centre": 0, "right": 1}
        if item.side not in sides:
            return self._joints[0] if len(self._joints) == 1 else None
        found = [joint for joint in self._joints if _sign(joint - middle, self.curve.length_mm / 100) == sides[item.side]]
        return found[0] if len(found) == 1 else None


def _sign(value: float, slack: float) -> int:
    return 0 if abs(value) <= slack else 1 if value > 0 else -1


def _tube_ends(schedule: Schedule) -> tuple[float, ...] | None:
    """Where each tube begins, and the end of the last one; None unless all are known and run on from each other."""
    tubes = schedule.tubes
    if not tubes or any(tube.start_mm is None or tube.end_mm is None for tube in tubes):
        return None
    ends = (0.0, *(tube.end_mm or 0.0 for tube in tubes))
    return ends if all(low < high for low, high in pairwise(ends)) else None


def _symbol(frame: Structure) -> HoopCurve:
    """Half an ellipse in the frame's proportions, or in plain ones."""
    wide, high = frame.width_mm or 2000.0, frame.height_mm or 1100.0
    points: list[tuple[float, float, float]] = []
    along = 0.0
    for index in range(61):
        turn = math.pi * (1 - index / 60)
        x, y = wide / 2 * math.cos(turn), high * math.sin(turn)
        if points:
            along += math.hypot(x - points[-1][0], y - points[-1][1])
        points.append((x, y, along))
    return HoopCurve(tuple(points), along, (), stated=False)


def _straight(total: float, joints: Sequence[float] = ()) -> HoopCurve:
    """A hoop of unknown shape and tubes lies straight: distances along it still hold."""
    return HoopCurve(((-total / 2, 0.0, 0.0), (total / 2, 0.0, total)), total, tuple(joints), stated=False)
