"""What lies left and right of a place, found in sorted lists, against each ring held against each; and the orders made from it."""

from __future__ import annotations

from hoopwright.scheduling.ring import Ring, right_of
from hoopwright.scheduling.row import FEW, Row, Side
from hoopwright.scheduling.thread import _sorted_out, _split, deepest_first
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

# Tenths, so that some places are just and some just not the same (half a millimetre); three references, so that some rings share none.
MM = st.integers(0, 40).map(lambda tenths: tenths / 10)
NAMES = ("along", "gate 1", "call C1")


@st.composite
def rings(draw: st.DrawFn, least: int = 1, most: int = 10) -> list[Ring]:
    limited = draw(st.booleans())
    found = []
    for number in range(draw(st.integers(least, most))):
        names = draw(st.lists(st.sampled_from((*NAMES, f"call R{number}")), unique=True, max_size=3))
        limits = ((draw(st.sampled_from(NAMES)), draw(MM), draw(st.sampled_from((-1, 1)))),) if limited and draw(st.booleans()) else ()
        places = tuple((name, draw(MM)) for name in names)
        found.append(Ring(f"r{number}", (0,), draw(st.integers(0, 5)), draw(st.integers(0, 2)), places, limits=limits))
    return found


@settings(max_examples=400, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large])
@given(st.one_of(rings(), rings(FEW, FEW + 6)), rings(1, 1))
def test_sides_are_those_of_holding_each_against_each(row: list[Ring], stranger: list[Ring]) -> None:
    made = Row(row)
    outside = Ring("outside", (0, 1), 0, 0, stranger[0].places, limits=stranger[0].limits)
    for ring in (*row, outside):
        for side, towards in zip(made.sides(ring), (False, True), strict=True):
            want = [other for other in row if other.id != ring.id and right_of(other, ring) is towards]
            _same(side, want)
    _same(made.whole, row)


def _same(side: Side, want: list[Ring]) -> None:
    assert [site.ring for site in side.sites()] == want
    assert len(side) == len(want)
    assert side.steps == sum(1 << step for step in {ring.step for ring in want})
    first = min(want, key=lambda ring: (ring.step, ring.slot), default=None)
    assert (side.first.ring if side.first else None) == first


def line(places: list[float]) -> list[Ring]:
    return [Ring(f"r{number}", (0,), 0, 0, (("along", mm), (f"call R{number}", 0.0))) for number, mm in enumerate(places)]


@settings(max_examples=100, deadline=None)
@given(st.lists(st.integers(0, 400).map(lambda tenths: tenths / 10), min_size=FEW, max_size=3 * FEW), st.sampled_from((-1, 1)))
def test_the_deepest_goes_on_first_however_many_there_are(places: list[float], towards: int) -> None:
    group = line(places)
    assert Row(group).line is not None
    assert deepest_first(group, towards) == _sorted_out(group, towards)


@settings(max_examples=300, deadline=None)
@given(st.lists(st.tuples(st.integers(1, 99), st.sampled_from((-1, 0, 0, 1))), min_size=1, max_size=8))
def test_the_split_is_the_best_of_all(sites: list[tuple[int, int]]) -> None:
    """A tube of 100 mm; some rings come from a fixed end. The others are split where the fewest are passed, then the shortest way."""
    row = line([float(mm) for mm, _ in sites])
    fixed = [(ring, end) for ring, (_, end) in zip(row, sites, strict=True) if end]
    free = [ring for ring, (_, end) in zip(row, sites, strict=True) if not end]
    costs = {ring.id: (ring.places[0][1], 100 - ring.places[0][1]) for ring in free}
    ends = {id: end for id, (end, _) in _split(free, costs, fixed).items()}

    def price(chosen: dict[str, int]) -> tuple[int, float]:
        crossed = sum(end != chosen[ring.id] and right_of(ring, other) is (end > 0) for ring in free for other, end in fixed)
        return crossed, sum(costs[ring.id][chosen[ring.id] > 0] for ring in free)

    order = sorted(free, key=lambda ring: costs[ring.id][0])
    ways = [{ring.id: -1 if place < cut else 1 for place, ring in enumerate(order)} for cut in range(len(order) + 1)]
    assert ends in ways
    assert price(ends) == min(map(price, ways))
    assert ends == next(way for way in ways if price(way) == price(ends))  # the leftmost of equals


def test_half_a_millimetre_tells_two_places_apart_and_less_does_not() -> None:
    for many in (0, FEW):
        row = Row(line([1.0, 1.4, 1.5, 2.0, *([9.0] * many)]))
        left, right = row.sides(line([1.0])[0])
        assert [site.ring.id for site in left.sites()] == []
        assert [site.ring.id for site in right.sites()][:2] == ["r2", "r3"]
