"""The thread-on order: for each tube and each of its ends, which fitting goes on first.

On one end the deepest goes on first. A fitting goes on over the end that the manual names, else over the only end that is free when it
is called for, else the shorter way round. Where places do not tell the order, the manual's own order is kept and the placement says so.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from hoopwright.model.frame import Call, Tube
from hoopwright.scheduling.chain import Chain
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.ring import SAME_PLACE_MM, Ring, right_of
from hoopwright.scheduling.row import FEW, Row
from hoopwright.scheduling.solver import Verdict

KEPT_ORDER = "place along the tube not known well enough to tell its turn: kept in the manual's order"
SHORTER_UNKNOWN = "the manual does not say over which end it goes on"
UNKNOWN_TUBE = "the manual does not say on which tube it goes"


@dataclass(frozen=True, slots=True)
class Turn:
    """``order`` counts from 1 on one end of one tube; ``end`` is that end in words; ``towards`` -1 its left end, +1 its right end."""

    tube: int
    towards: int
    order: int
    end: str
    notes: tuple[str, ...] = ()


def end_name(tubes: Sequence[Tube], tube: int, towards: int) -> str:
    """The end of a tube in words: foot, lower, upper, left or right end."""
    name = tubes[tube].name if tube < len(tubes) else "hoop"
    last = max(len(tubes) - 1, 0)
    if last == 0:
        return f"{name}, {'left' if towards < 0 else 'right'} foot"
    if (tube == 0 and towards < 0) or (tube == last and towards > 0):
        return f"{name}, foot end"
    middle = last / 2
    if tube == middle:
        return f"{name}, {'left' if towards < 0 else 'right'} end"
    return f"{name}, {'lower' if (tube < middle) == (towards < 0) else 'upper'} end"


def turns(context: Context, chain: Chain, verdicts: Sequence[Verdict]) -> dict[str, Turn]:
    """The turn of every fitting of the chain that slides on, by call id."""
    ways = {verdict.ring: verdict for verdict in verdicts}
    by_tube: dict[int, list[Ring]] = defaultdict(list)
    unknown: set[str] = set()
    for ring in chain.case.rings:
        if chain.calls[ring.id].when != "before-joining":
            continue
        if len(ring.tubes) > 1:
            unknown.add(ring.id)
        by_tube[ring.tubes[0]].append(ring)
    found: dict[str, Turn] = {}
    for tube, rings in sorted(by_tube.items()):
        found.update(_tube_turns(context, chain, ways, tube, rings, unknown))
    return found


def _tube_turns(
    context: Context, chain: Chain, ways: dict[str, Verdict], tube: int, rings: list[Ring], unknown: set[str]
) -> dict[str, Turn]:
    ends = _ends(context, chain, ways, tube, rings)
    found: dict[str, Turn] = {}
    for towards in (-1, 1):
        group = [ring for ring in rings if ends[ring.id][0] == towards]
        vague = _vague(group)
        for order, ring in enumerate(deepest_first(group, towards), start=1):
            notes = [UNKNOWN_TUBE] if ring.id in unknown else []
            notes += [KEPT_ORDER] if ring.id in vague else []
            notes += [SHORTER_UNKNOWN] if not ends[ring.id][1] and ring.id not in unknown else []
            found[ring.id] = Turn(tube, towards, order, end_name(context.frame.tubes, tube, towards), tuple(notes))
    return found


def _vague(group: Sequence[Ring]) -> set[str]:
    """The rings of one end whose order against some other one their places do not tell."""
    if len(group) < FEW:
        return {ring.id for ring in group for other in group if other is not ring and right_of(other, ring) is None}
    row = Row(group)
    return {ring.id for ring in group if sum(map(len, row.sides(ring))) < len(group) - 1}


def deepest_first(group: Sequence[Ring], towards: int) -> list[Ring]:
    """Rings that all go on over one end, deepest first; where places do not tell, in the order given."""
    line = Row(group).line if len(group) >= FEW else None
    if line is None:
        return _sorted_out(group, towards)
    found: list[Ring] = []
    near: list[tuple[int, Ring]] = []  # rings so near to their neighbours that places may not tell: (place in the order given, ring)
    last: float | None = None
    for mm, site in zip(line.mm[::towards], line.sites[::towards], strict=True):
        if last is not None and abs(mm - last) >= SAME_PLACE_MM:
            found += _sorted_out([ring for _, ring in sorted(near, key=lambda item: item[0])], towards)
            near = []
        near.append((site.number, site.ring))
        last = mm
    return found + _sorted_out([ring for _, ring in sorted(near, key=lambda item: item[0])], towards)


def _sorted_out(group: Sequence[Ring], towards: int) -> list[Ring]:
    """``deepest_first`` by holding each against each."""
    if len(group) < 2:
        return list(group)
    waits = [0] * len(group)
    frees: list[list[int]] = [[] for _ in group]
    for i, ring in enumerate(group):
        for j, other in enumerate(group):
            if i != j and right_of(other, ring) is (towards > 0):  # the other sits nearer to the end, so it comes later
                frees[i].append(j)
                waits[j] += 1
    ready = [i for i, count in enumerate(waits) if count == 0]
    heapify(ready)
    order: list[Ring] = []
    while ready:
        i = heappop(ready)
        order.append(group[i])
        for j in frees[i]:
            waits[j] -= 1
            if waits[j] == 0:
                heappush(ready, j)
    # Places that contradict each other leave some waiting for ever; those keep the order given.
    placed = {ring.id for ring in order}
    return order + [ring for ring in group if ring.id not in placed]


def _ends(context: Context, chain: Chain, ways: dict[str, Verdict], tube: int, rings: Sequence[Ring]) -> dict[str, tuple[int, bool]]:
    """For each ring the end that it goes on over, and whether anything but habit tells which."""
    ends: dict[str, tuple[int, bool]] = {}
    costs: dict[str, tuple[float, float]] = {}
    for ring in rings:
        call = chain.calls[ring.id]
        forced = call.enters or _only_free_end(ways.get(ring.id), tube)
        left, right = _distances(context, ring, tube)
        if forced:
            ends[ring.id] = (forced, True)
        elif left is None and right is None:
            ends[ring.id] = (_outer_end(context, call, tube), False)
        elif left is None or right is None:
            ends[ring.id] = (-1 if left is not None else 1, False)
        else:
            costs[ring.id] = (left, right)
    # A ring that came from the left cannot lie to the right of one that came from the right: one split point for the whole tube.
    fixed = [(ring, ends[ring.id][0]) for ring in rings if ring.id in ends]
    return ends | _split([ring for ring in rings if ring.id in costs], costs, fixed)


def _split(free: Sequence[Ring], costs: dict[str, tuple[float, float]], fixed: Sequence[tuple[Ring, int]]) -> dict[str, tuple[int, bool]]:
    """Choose the split point of least total distance (the leftmost of equals); rings of ``fixed`` keep their ends."""
    order = sorted(free, key=lambda ring: costs[ring.id][0])
    from_left, from_right = (Row([ring for ring, end in fixed if end == towards]) for towards in (-1, 1))
    # For each ring what it costs to come from either end: (rings that it would have to pass, way to go in thousandths of a millimetre).
    left = [(len(from_right.sides(ring)[0]), round(1000 * costs[ring.id][0])) for ring in order]
    right = [(len(from_left.sides(ring)[1]), round(1000 * costs[ring.id][1])) for ring in order]
    crossed, length = sum(cost[0] for cost in right), sum(cost[1] for cost in right)
    best, cut = (crossed, length), 0
    for place in range(len(order)):
        crossed += left[place][0] - right[place][0]
        length += left[place][1] - right[place][1]
        if (crossed, length) < best:
            best, cut = (crossed, length), place + 1
    return {ring.id: (-1 if place < cut else 1, True) for place, ring in enumerate(order)}


def _only_free_end(verdict: Verdict | None, tube: int) -> int | None:
    """The direction of the only free way, if the verdict has just one on that tube."""
    if verdict is None:
        return None
    free = [way.towards for way in verdict.ways if way.free and way.tube == tube]
    return free[0] if len(free) == 1 else None


def _distances(context: Context, ring: Ring, tube: int) -> tuple[float | None, float | None]:
    """How far the ring's place is from the tube's left and right end, as far as known."""
    known = dict(ring.places)
    left, right = (abs(known[gate]) if gate in known else None for gate in (f"gate {tube}", f"gate {tube + 1}"))
    if "along" in known and tube < len(context.frame.tubes):
        start, end = context.frame.tubes[tube].start_mm, context.frame.tubes[tube].end_mm
        left = known["along"] - start if start is not None else left
        right = end - known["along"] if end is not None else right
    return left, right


def _outer_end(context: Context, call: Call, tube: int) -> int:
    """The end of a tube that is nearer to a foot: where nothing tells, a fitting is put on from there."""
    if context.tube_count == 1:
        return 1 if call.side == "right" else -1
    return -1 if tube <= (context.tube_count - 1) / 2 else 1
