"""The order of work with the fewest moved steps in which every ring reaches its place. As pure as the core: steps are indices.

Steps that change a gate are pinned: everything that hangs on a standing hoop relies on them. All other steps may move. What must hold is
kept as pairs (a, b), "a before b". A ring that is not free has a few ways out, each a handful of such pairs: over which end, between
which pinned steps, before which rings. The search adds one way out at a time, cheapest first, where the price of a set of pairs is the
least number of steps that have to move. That price only grows as pairs are added, so the first order without a stuck ring is the best.

The price: two steps are at odds if the pairs demand the reverse of the order given. A set of steps can all stay if no two of them are at
odds. "At odds" is transitive, so the largest such set is a largest antichain, found by matching (Dilworth's theorem by way of König's).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush
from itertools import count, pairwise

from hoopwright.scheduling.puzzle import Pair, Pairs, Puzzle, regions
from hoopwright.scheduling.ring import Ring
from hoopwright.scheduling.solver import Case, GateState, gates_at, path

NODES = 400  # sets of pairs looked at before the search settles for the best order at hand
SEARCHES = 5  # as many times that number over all searches of a region, each of which gives up one ring


@dataclass(frozen=True, slots=True)
class Order:
    """``order`` holds all steps; ``moved`` those that do not keep their turn; ``hopeless`` the (case, ring id) that no order frees.

    ``dropped`` are pairs of ``Puzzle.before`` that could not be kept; ``because`` the pairs that the order was made to satisfy, the
    wanted ones among them; ``proven`` is False where the search stopped early.
    """

    order: tuple[int, ...]
    moved: frozenset[int]
    hopeless: tuple[tuple[int, str], ...] = ()
    dropped: tuple[Pair, ...] = ()
    because: Pairs = frozenset()
    proven: bool = True


@dataclass(frozen=True, slots=True)
class _Need:
    """``ring`` (case, id), called for in ``step``, is free if all pairs of one of the ``ways`` hold; so are all ``rings`` like it."""

    ring: tuple[int, str]
    step: int
    ways: tuple[Pairs, ...]
    rings: list[tuple[int, str]] = field(default_factory=list)


@dataclass(slots=True)
class _Search:
    puzzle: Puzzle
    fixed: frozenset[int]
    base: Pairs
    likely: frozenset[int]
    needs: list[_Need]
    hopeless: set[tuple[int, str]] = field(default_factory=set)
    looked: int = 0  # sets of pairs looked at so far


@dataclass(frozen=True, slots=True)
class _Plan:
    """``stir`` is how many pairs of steps trade turns: of orders with as few moved steps, the calmest is looked at first."""

    cost: int
    stir: int
    order: tuple[int, ...]
    moved: frozenset[int]
    pairs: Pairs


def reorder(puzzle: Puzzle, nodes: int = NODES, work: int | None = None, unfree: frozenset[int] | None = None) -> Order:
    """The best order of work; the order given, with nothing moved, if no ring is stuck and all pairs hold.

    The puzzle is taken apart into regions that share no step that may move; so a manual that dresses a thousand hoops one by one costs a
    thousand small searches. ``work`` bounds each of them further, in (ring, step) look-ups. ``unfree`` are the cases that have a stuck
    ring, if that is known: a region without one, all of whose pairs hold, is left as it is.
    """
    fixed = puzzle.fixed
    moved: set[int] = set()
    because: set[Pair] = set(pairwise(sorted(fixed)))
    hopeless: list[tuple[int, str]] = []
    dropped: set[Pair] = set()
    proven = True
    for region in regions(puzzle):
        if unfree is not None and unfree.isdisjoint(region.cases) and all(a < b for a, b in region.puzzle.before):
            because |= {(region.steps[a], region.steps[b]) for a, b in region.puzzle.before}
            continue
        rings = sum(len(case.rings) for case in region.puzzle.cases)
        most = nodes if work is None else min(nodes, max(20, work // max(1, rings * region.puzzle.steps)))
        found = _reorder(region.puzzle, most)
        moved |= {region.steps[step] for step in found.moved}
        because |= {(region.steps[a], region.steps[b]) for a, b in found.because}
        hopeless += [(region.cases[case], ring) for case, ring in found.hopeless]
        dropped |= {(region.steps[a], region.steps[b]) for a, b in found.dropped}
        proven = proven and found.proven
    order = tuple(range(puzzle.steps))
    if moved:
        order = _latest(puzzle.steps, [*because, *pairwise(step for step in order if step not in moved)])
    left = tuple(dict.fromkeys(pair for pair in puzzle.before if pair in dropped))
    return Order(order, frozenset(moved), tuple(sorted(hopeless)), left, frozenset(because), proven)


def _reorder(puzzle: Puzzle, nodes: int) -> Order:
    """``reorder`` of one region."""
    fixed = puzzle.fixed
    base, dropped = _base(puzzle, fixed)
    needs = _needs(puzzle)
    stuck = _stuck(needs, range(puzzle.steps), set())
    search = _Search(puzzle, fixed, base, frozenset(need.step for need in stuck), needs)
    for need in stuck:
        if not any(closure(puzzle.steps, base | pairs) for pairs in need.ways):
            search.hopeless.add(need.ring)
    while True:
        result = _best_first(search, nodes)
        if isinstance(result, _Plan):
            left = _stuck(needs, result.order, set())
            proven = {need.ring for need in left} <= search.hopeless
            hopeless = sorted(ring for need in left for ring in need.rings)
            return Order(result.order, result.moved, tuple(hopeless), tuple(dropped), result.pairs, proven)
        search.hopeless.add(result)


def _best_first(search: _Search, nodes: int) -> _Plan | tuple[int, str]:
    """The best plan (past ``nodes`` sets of pairs: the one with the fewest stuck rings); else the ring most often without a way out."""
    first = _plan(search, search.base)
    assert first is not None  # the base holds by construction
    ticket = count()
    heap: list[tuple[tuple[int, int], int, int, _Plan]] = [((first.cost, first.stir), 0, next(ticket), first)]
    seen: set[Pairs] = {search.base}
    fails: dict[tuple[int, str], int] = {}
    best: tuple[int, int, _Plan] | None = None
    for _ in range(max(1, min(nodes, SEARCHES * nodes - search.looked))):
        search.looked += 1
        if not heap:
            return max(fails, key=lambda key: (fails[key], key))
        _, depth, _, plan = heappop(heap)
        stuck = _stuck(search.needs, plan.order, search.hopeless)
        if not stuck:
            return plan
        if best is None or (len(stuck), plan.cost) < best[:2]:
            best = (len(stuck), plan.cost, plan)
        grown = [more for way in stuck[0].ways if (more := plan.pairs | way) not in seen]
        seen.update(grown)
        plans = [next_plan for more in grown if (next_plan := _plan(search, more)) is not None]
        for next_plan in plans:
            heappush(heap, ((next_plan.cost, next_plan.stir), depth - 1, next(ticket), next_plan))
        if not plans:
            fails[stuck[0].ring] = fails.get(stuck[0].ring, 0) + 1
    assert best is not None  # at least one set was looked at and had a stuck ring
    return best[2]


def _base(puzzle: Puzzle, fixed: frozenset[int]) -> tuple[Pairs, list[Pair]]:
    """The pinned steps in a row, and of the wanted pairs all that go with them and with each other."""
    row = sorted(fixed)
    base: Pairs = frozenset(pairwise(row))
    dropped: list[Pair] = []
    for pair in puzzle.before:
        if pair[0] != pair[1] and closure(puzzle.steps, base | {pair}):
            base |= {pair}
        elif pair[0] != pair[1]:
            dropped.append(pair)
    return base, dropped


def _needs(puzzle: Puzzle) -> list[_Need]:
    """What every sliding ring needs. Rings that need the same are asked about once, by the first of them."""
    needs: dict[tuple[Pairs, ...], _Need] = {}
    for number, case in enumerate(puzzle.cases):
        for ring in case.rings:
            if ring.slides:
                ways = tuple(ways_out(case, ring))
                if frozenset() not in ways:
                    needs.setdefault(ways, _Need((number, ring.id), ring.step, ways)).rings.append((number, ring.id))
    return list(needs.values())


def _stuck(needs: Sequence[_Need], order: Sequence[int], skip: set[tuple[int, str]]) -> list[_Need]:
    """The needs that ``order`` leaves open."""
    turn = {step: place for place, step in enumerate(order)}
    return [need for need in needs if need.ring not in skip and not any(all(turn[a] < turn[b] for a, b in way) for way in need.ways)]


def ways_out(case: Case, ring: Ring) -> list[Pairs]:
    """Every way in which ``ring`` could be free, as pairs that make sure of it; none contains another."""
    found: list[Pairs] = []
    for start, states, end in _stretches(case, ring):
        frame = {pair for pair in ((start, ring.step), (ring.step, end)) if None not in pair}
        for tube in ring.tubes:
            for towards in (-1, 1):
                in_way = _obstacles(case, ring, tube, towards, states)
                if in_way is not None:
                    found.append(frozenset((*frame, *((ring.step, step) for step in in_way))))  # type: ignore[arg-type]
    unique = list(dict.fromkeys(found))
    return [pairs for pairs in unique if not any(other < pairs for other in unique)]


def _stretches(case: Case, ring: Ring) -> list[tuple[int | None, list[GateState], int | None]]:
    """The times at which the ring could go on: (step it must follow, state of the gates, step it must precede).

    A ring in a step that changes gates itself has only its own moment. Stretches in which the gates do not differ are drawn together.
    """
    steps = sorted({change.step for change in case.changes})
    if ring.step in steps:
        return [(None, gates_at(case, (ring.step, ring.slot)), None)]
    found: list[tuple[int | None, list[GateState], int | None]] = []
    for start, end in zip([None, *steps], [*steps, None], strict=True):
        states = gates_at(case, (-1 if start is None else start + 1, 0))
        if found and found[-1][1] == states:
            found[-1] = (found[-1][0], states, end)
        else:
            found.append((start, states, end))
    return found


def _obstacles(case: Case, ring: Ring, tube: int, towards: int, states: list[GateState]) -> set[int] | None:
    """The steps of the rings that lie on a way to the ring's place; None if the way is shut or a ring of its own step is in it."""
    gate, on_way = path(case, ring, tube, towards, states)
    if states[gate] == "shut":
        return None
    steps, own = 0, 1 << ring.step
    for side in on_way:
        steps |= side.steps
    if steps & own and any(
        site.step == ring.step and (site.slot < ring.slot or (site.ring.id, ring.id) in case.after)
        for side in on_way
        for site in side.sites()
    ):
        return None
    return set(_bits(steps & ~own))


def closure(steps: int, pairs: Iterable[Pair]) -> list[int] | None:
    """For each step the set (as bits) of the steps that must come after it; None if the pairs contradict each other."""
    after = [0] * steps
    waits = [0] * steps
    ahead: list[list[int]] = [[] for _ in range(steps)]
    for a, b in pairs:
        ahead[b].append(a)
        waits[a] += 1
    ready = [step for step in range(steps) if not waits[step]]
    done = 0
    for step in ready:
        done += 1
        for earlier in ahead[step]:
            after[earlier] |= after[step] | 1 << step
            waits[earlier] -= 1
            if not waits[earlier]:
                ready.append(earlier)
    return after if done == steps else None


def _bits(mask: int) -> Iterator[int]:
    while mask:
        low = mask & -mask
        yield low.bit_length() - 1
        mask ^= low


def _plan(search: _Search, pairs: Pairs) -> _Plan | None:
    """The fewest moved steps that satisfy ``pairs``, and the order that moves them the least; None if the pairs cannot hold."""
    steps = search.puzzle.steps
    after = closure(steps, pairs)
    if after is None:
        return None
    odds: dict[int, set[int]] = {}
    for later in range(steps):
        for earlier in _bits(after[later] & ((1 << later) - 1)):
            odds.setdefault(earlier, set()).add(later)
            odds.setdefault(later, set()).add(earlier)
    moved = least_moved(odds, search.fixed, search.likely)
    if moved is None:
        return None
    kept = [step for step in range(steps) if step not in moved]
    order = _latest(steps, [*pairs, *pairwise(kept)])
    return _Plan(len(moved), inversions(order), order, frozenset(moved), pairs)


def inversions(order: Sequence[int]) -> int:
    """How many pairs of steps stand the other way round than their numbers: each step against the larger ones that came before it."""
    before: list[int] = []
    count = 0
    for step in order:
        place = bisect_right(before, step)
        count += len(before) - place
        before.insert(place, step)
    return count


def least_moved(odds: dict[int, set[int]], fixed: frozenset[int], likely: frozenset[int]) -> set[int] | None:
    """A smallest set of steps whose moving leaves no two at odds, stuck steps rather than others. None if fixed steps are at odds."""
    moved = {step for pin in odds if pin in fixed for step in odds[pin]}
    if moved & fixed:
        return None
    rest = {step: odds[step] - moved for step in odds if step not in moved and step not in fixed}
    price = _matching(rest)
    for step in sorted(rest, key=lambda step: (step in likely, step)):
        if step not in rest or not rest[step]:
            continue
        near = set(rest[step])
        left = {other: rest[other] - near - {step} for other in rest if other not in near and other != step}
        if len(near) + _matching(left) == price:
            moved |= near
            price -= len(near)
            rest = left
    return moved


def _matching(odds: dict[int, set[int]]) -> int:
    """The size of a largest matching between steps as the earlier and as the later one: the least number of steps to move."""
    later = {step: sorted(other for other in others if other > step) for step, others in odds.items()}
    partner: dict[int, int] = {}  # later step -> earlier step
    mate: dict[int, int] = {}  # earlier step -> later step
    return sum(_augment(step, later, partner, mate) for step in sorted(later))


def _augment(start: int, later: dict[int, list[int]], partner: dict[int, int], mate: dict[int, int]) -> bool:
    """Look, breadth first, for a way to match ``start`` by rematching others; do it if there is one."""
    came: dict[int, int] = {}
    queue = [start]
    for step in queue:
        for other in later[step]:
            if other in came:
                continue
            came[other] = step
            if other in partner:
                queue.append(partner[other])
                continue
            free: int | None = other
            while free is not None:
                earlier = came[free]
                partner[free] = earlier
                mate[earlier], free = free, mate.get(earlier)
            return True
    return False


def _latest(steps: int, pairs: Iterable[Pair]) -> tuple[int, ...]:
    """An order that satisfies ``pairs`` and puts a step that moves forward as late, one that moves back as early, as they allow."""
    ahead: list[set[int]] = [set() for _ in range(steps)]
    waits = [0] * steps
    for a, b in set(pairs):
        ahead[b].add(a)
        waits[a] += 1
    ready: list[int] = []
    for step in range(steps):
        if not waits[step]:
            heappush(ready, -step)
    order: list[int] = []
    while ready:
        step = -heappop(ready)
        order.append(step)
        for earlier in ahead[step]:
            waits[earlier] -= 1
            if not waits[earlier]:
                heappush(ready, -earlier)
    return tuple(reversed(order))
