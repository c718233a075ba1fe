"""Lines, arcs and distances along them, against scipy quadrature, shapely polylines and the published-form segment table.

The oracles know only three points of each arc (or two and a radius) and build the circle from those, not from the code under test.
"""

from __future__ import annotations

from collections.abc import Callable
from math import atan2, cos, degrees, hypot, pi, sin

import numpy as np
import pytest
from hoopwright.framing.curve import Path, arc_hoop, bend_of_arc, drawn, pointed_hoop, rise_of, rise_of_arc, segment, upright_radius
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from scipy.integrate import quad
from scipy.optimize import fsolve
from shapely.geometry import LineString, Point

# Trade notes §4, circular segment (standard geometry): chord, rise -> radius, angle in degrees, arc.
TABLE = [
    (8, 2, 5, 106.260, 9.2730),
    (24, 8, 13, 134.760, 30.5761),
    (10, 4, 5.125, 154.639, 13.8322),
    (6000, 1500, 3750, 106.260, 6954.71),
    (5500, 2750, 2750, 180, 8639.38),
    (4800, 3200, 2500, 212.520, 9272.95),
]

Curve = Callable[[float], tuple[float, float]]


@pytest.mark.parametrize(("chord", "rise", "radius", "angle", "arc"), TABLE)
def test_segment_table(chord: float, rise: float, radius: float, angle: float, arc: float) -> None:
    found = segment(chord, rise)
    assert found[0] == pytest.approx(radius, abs=1e-9)
    assert degrees(found[1]) == pytest.approx(angle, abs=5e-4)
    assert found[2] == pytest.approx(arc, abs=0.006 if arc > 100 else 6e-5)


def test_inset_of_the_trade_notes() -> None:
    # Trade notes §4: inset x from one springing to distance along the arc, c = 30, h = 10, x = 6 -> 9.5717.
    path = arc_hoop(30, 0, 10)
    assert path.at_x(-15 + 6)[0] == pytest.approx(9.5717, abs=5e-5)


def circle_through(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> tuple[float, float, float]:
    """Centre and radius of the circle through three points, from the perpendicular bisectors."""
    matrix = 2 * np.array([[b[0] - a[0], b[1] - a[1]], [c[0] - a[0], c[1] - a[1]]])
    right = np.array([b[0] ** 2 - a[0] ** 2 + b[1] ** 2 - a[1] ** 2, c[0] ** 2 - a[0] ** 2 + c[1] ** 2 - a[1] ** 2])
    x, y = np.linalg.solve(matrix, right)
    return float(x), float(y), hypot(a[0] - x, a[1] - y)


def arc_oracle(width: float, leg: float, rise: float) -> Curve:
    """t in 0..3: up the left leg, round the bend, down the right leg."""
    x, y, radius = circle_through((-width / 2, leg), (0, leg + rise), (width / 2, leg))
    first = atan2(leg - y, -width / 2 - x) % (2 * pi)
    sweep = 2 * (first - pi / 2)

    def at(t: float) -> tuple[float, float]:
        if t <= 1:
            return -width / 2, leg * t
        if t >= 2:
            return width / 2, leg * (3 - t)
        angle = first - sweep * (t - 1)
        return x + radius * cos(angle), y + radius * sin(angle)

    return at


def speed(curve: Curve, t: float) -> float:
    step = 1e-5
    (x0, y0), (x1, y1) = curve(t - step), curve(t + step)
    return hypot(x1 - x0, y1 - y0) / (2 * step)


def by_quadrature(curve: Curve, first: float, last: float) -> float:
    """Arc length by numerical integration, whole pieces only so that no kink lies inside."""
    total = 0.0
    for piece in range(3):
        low, high = max(first, piece) + 2e-5 * (first <= piece), min(last, piece + 1) - 2e-5 * (last >= piece + 1)
        if high > low:
            total += quad(lambda t: speed(curve, t), low, high, epsabs=1e-6, limit=200)[0]
            total += speed(curve, low) * (low - max(first, piece)) + speed(curve, high) * (min(last, piece + 1) - high)
    return total


hoops = st.tuples(st.floats(1500, 9000), st.floats(0, 2500), st.floats(0.12, 0.8)).map(lambda v: (v[0], v[1], v[0] * v[2]))


@settings(deadline=None)
@given(hoops, st.floats(0.05, 2.95))
def test_length_and_distance_along_by_quadrature(hoop: tuple[float, float, float], t: float) -> None:
    width, leg, rise = hoop
    assume(leg == 0 or leg > 1)
    path, oracle = arc_hoop(width, leg, rise), arc_oracle(width, leg, rise)
    assert path.length == pytest.approx(by_quadrature(oracle, 0, 3), abs=0.1)
    s = by_quadrature(oracle, 0, t)
    x, y = oracle(t)
    got = path.at(s)
    assert hypot(got[0] - x, got[1] - y) < 0.1


def polyline(curve: Curve, number: int = 6000) -> LineString:
    return LineString([curve(3 * i / number) for i in range(number + 1)])


@settings(deadline=None)
@given(hoops, st.floats(0.02, 0.98))
def test_heights_on_both_sides_by_shapely(hoop: tuple[float, float, float], share: float) -> None:
    width, leg, rise = hoop
    assume(leg == 0 or leg > 1)
    path, line = arc_hoop(width, leg, rise), polyline(arc_oracle(width, leg, rise))
    assert path.length == pytest.approx(line.length, abs=0.1)
    height = share * (leg + rise)
    left, right = path.at_height(height)
    for s in (left, right):
        x, y = path.at(s)
        assert y == pytest.approx(height, abs=1e-6)
        assert line.project(Point(x, y)) == pytest.approx(s, abs=0.1)
        assert line.distance(Point(x, y)) < 0.1
    assert left + right == pytest.approx(path.length, abs=1e-6)


def pointed_oracle(width: float, leg: float, rise: float, radius: float) -> LineString:
    """A pointed hoop as a polyline: the left arc's centre by fsolve from its two ends and the radius, the rest by mirroring."""
    a, b = (-width / 2, leg), (0.0, leg + rise)

    def misses(centre: list[float]) -> list[float]:
        return [hypot(centre[0] - p[0], centre[1] - p[1]) - radius for p in (a, b)]

    solved = fsolve(misses, [radius, leg - radius / 4], xtol=1e-13)
    assert max(map(abs, misses(solved))) < 1e-6
    centre = Point(solved)
    first, last = (atan2(p[1] - centre.y, p[0] - centre.x) % (2 * pi) for p in (a, b))
    left = [(centre.x + radius * cos(v), centre.y + radius * sin(v)) for v in np.linspace(first, last, 3000)]
    legs = [(-width / 2, 0.0)] if leg else []
    half = legs + left
    return LineString(half + [(-x, y) for x, y in reversed(half[:-1])])


@settings(deadline=None)
@given(st.floats(2000, 9000), st.floats(0, 2000), st.floats(0.4, 0.9), st.floats(1.0, 1.8), st.floats(0.05, 0.95))
def test_pointed_hoops_by_shapely(width: float, leg: float, rise_share: float, radius_share: float, share: float) -> None:
    assume(leg == 0 or leg > 1)
    rise = width * rise_share
    radius = hypot(width / 2, rise) * radius_share
    path = pointed_hoop(width, leg, rise, radius)
    assert path is not None
    line = pointed_oracle(width, leg, rise, radius)
    assert path.length == pytest.approx(line.length, abs=0.1)
    assert path.at(path.length / 2) == pytest.approx((0.0, leg + rise), abs=1e-6)
    s = share * path.length
    assert line.distance(Point(*path.at(s))) < 0.1
    assert line.project(Point(*path.at(s))) == pytest.approx(s, abs=0.1)


def test_pointed_hoop_with_upright_arcs_leaves_the_legs_without_a_kink() -> None:
    path = pointed_hoop(5000, 1000, 3000, upright_radius(5000, 3000))
    assert path is not None
    (x0, y0), (x1, y1) = path.at(1000.0), path.at(1001.0)
    assert (x1 - x0, y1 - y0) == pytest.approx((0, 1), abs=1e-3)


def test_pointed_hoop_with_two_times_the_half_chord_is_one_half_circle_each() -> None:
    # Published as the lancet's limit: equilateral arch, radius = width, rise = width * sqrt(3)/2, arcs of 60 degrees (standard geometry).
    path = pointed_hoop(4000, 0, 4000 * 3**0.5 / 2, 4000)
    assert path is not None
    assert path.length == pytest.approx(2 * 4000 * pi / 3, abs=1e-6)


@settings(deadline=None)
@given(st.floats(1000, 9000), st.floats(0.02, 1.2))
def test_rise_from_arc_and_from_radius_come_back(width: float, share: float) -> None:
    rise = width * share
    radius, _, arc = segment(width, rise)
    assert rise_of_arc(width, arc) == pytest.approx(rise, abs=1e-3)
    if share <= 0.5:
        assert rise_of(width, radius) == pytest.approx(rise, abs=0.01)


@settings(deadline=None)
@given(st.floats(500, 5000), st.floats(0.51, 20))
def test_radius_from_arc_and_chord_comes_back(chord: float, share: float) -> None:
    from math import asin

    radius = chord * share
    arc = 2 * radius * asin(chord / (2 * radius))
    assert bend_of_arc(chord, arc) == pytest.approx(radius, rel=1e-3)


def test_what_cannot_be_gives_none() -> None:
    assert rise_of(4000, 1500) is None
    assert rise_of_arc(4000, 3999) is None
    assert bend_of_arc(4000, 3000) is None
    assert pointed_hoop(4000, 0, 3000, 500) is None


def test_the_drawn_line_has_its_joints_and_is_dense() -> None:
    path = arc_hoop(4400, 1000, 2200)
    curve = drawn(path, [1000.0, path.length / 2, 7911.5], True, {})
    assert {1000.0, path.length / 2, 7911.5} <= {s for _, _, s in curve.points}
    gaps = [hypot(b[0] - a[0], b[1] - a[1]) - (b[2] - a[2]) for a, b in zip(curve.points, curve.points[1:], strict=False)]
    assert all(abs(gap) < 0.1 for gap in gaps)
    middle = max(curve.points, key=lambda p: p[1])
    assert middle == pytest.approx((0, 3200, path.length / 2), abs=1e-6)


def test_a_path_knows_its_ends() -> None:
    path: Path = arc_hoop(4000, 500, 2000)
    assert path.at(-5) == pytest.approx((-2000, 0))
    assert path.at(path.length + 5) == pytest.approx((2000, 0))
    assert path.at_height(2500.1) == ()
    assert path.at_height(-1) == ()
