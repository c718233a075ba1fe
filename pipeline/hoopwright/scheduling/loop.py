"""``loop``: what the manual wants first, and what the tubes allow, contradict each other.

Every wish "A before B" is an arrow, and so is what the places force ("the deeper ring before the outer one" where only one end serves).
A step is two nodes, its begin and its end, with the calls of the step that a wish names between them. A circle of arrows is a
contradiction; the shortest is reported in the manual's own words.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from hoopwright.model.frame import Call, OrderWish
from hoopwright.model.schedule import Finding
from hoopwright.scheduling.chain import Chain
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.puzzle import Pair
from hoopwright.scheduling.reorder import closure, ways_out
from hoopwright.scheduling.thread import Turn
from hoopwright.scheduling.wording import capital, hoop_list, listed

Node = str
Arrow = tuple[Node, Node]


@dataclass(frozen=True, slots=True)
class Circle:
    """A contradiction: the nodes once round, and the wishes behind its arrows (what places or steps force has none)."""

    nodes: tuple[Node, ...]
    wishes: tuple[OrderWish, ...]


def circles(context: Context, chains: Sequence[Chain], stuck: frozenset[str]) -> list[Circle]:
    """All independent contradictions, shortest first within each knot. ``stuck``: ids of calls that are trapped or blocked anyway."""
    wishes: dict[Arrow, OrderWish] = {}
    for wish in context.frame.wishes:
        first, then = _end(context, wish.first), _begin(context, wish.then)
        if first is not None and then is not None:
            wishes.setdefault((first, then), wish)
    if not wishes:
        return []
    arrows: dict[Node, list[Node]] = {}
    for a, b in [*wishes, *_inside(context), *_forced(context, chains, stuck)]:
        arrows.setdefault(a, []).append(b)
        arrows.setdefault(b, [])
    found: list[Circle] = []
    for knot in knots(arrows):
        found += _unpick(arrows, knot, wishes)
    return found


def _begin(context: Context, id: str) -> Node | None:
    return id if id in context.calls else f"{id} begin" if id in context.index else None


def _end(context: Context, id: str) -> Node | None:
    return id if id in context.calls else f"{id} end" if id in context.index else None


def _named(context: Context) -> set[str]:
    return {id for wish in context.frame.wishes for id in (wish.first, wish.then)}


def _inside(context: Context) -> Iterable[Arrow]:
    """A step begins before it ends, and the calls that wishes name lie in between."""
    named = _named(context)
    calls = [context.calls[id] for id in sorted(named & context.calls.keys())]
    for step in sorted({*(id for id in named if id in context.index), *(call.step for call in calls)}):
        yield f"{step} begin", f"{step} end"
    for call in calls:
        yield f"{call.step} begin", call.id
        yield call.id, f"{call.step} end"


def _forced(context: Context, chains: Sequence[Chain], stuck: frozenset[str]) -> Iterable[Arrow]:
    """Between calls that wishes name: the ring that every way out puts first. Needs no arrow where the ring is reported as stuck."""
    named = _named(context)
    base = _acts_in_order(context)
    for chain in chains:
        here = [ring for ring in chain.case.rings if ring.id in named and ring.slides]
        if len(here) < 2:
            continue
        for ring in here:
            ways = [] if ring.id in stuck else [way for way in ways_out(chain.case, ring) if closure(len(context.order), base | way)]
            for other in here:
                if other.step != ring.step and ways and all((ring.step, other.step) in way for way in ways):
                    yield ring.id, other.id


def _acts_in_order(context: Context) -> frozenset[Pair]:
    """The steps that join and stand, in a row, and the wishes that tie another step to one of them."""
    acts = sorted({context.index[act.step] for act in context.frame.acts if act.step in context.index})
    pairs = set(pairwise(acts))
    for wish in context.frame.wishes:
        ends = [context.calls[id].step if id in context.calls else id for id in (wish.first, wish.then)]
        first, then = (context.index.get(step, -1) for step in ends)
        if first >= 0 and then >= 0 and (first in acts) != (then in acts) and closure(len(context.order), {*pairs, (first, then)}):
            pairs.add((first, then))
    return frozenset(pairs)


def knots(arrows: Mapping[Node, Sequence[Node]]) -> list[list[Node]]:
    """The strongly connected parts of more than one node (Tarjan, without recursion), each sorted."""
    index: dict[Node, int] = {}
    low: dict[Node, int] = {}
    stack: list[Node] = []
    on: set[Node] = set()
    found: list[list[Node]] = []
    for root in sorted(arrows):
        work: list[tuple[Node, Iterator[Node]]] = []
        if root not in index:
            _open(root, index, low, stack, on)
            work.append((root, iter(arrows[root])))
        while work:
            node, rest = work[-1]
            for other in rest:
                if other not in index:
                    _open(other, index, low, stack, on)
                    work.append((other, iter(arrows[other])))
                    break
                if other in on:
                    low[node] = min(low[node], index[other])
            else:
                work.pop()
                found += _close(node, index, low, stack, on)
                if work:
                    low[work[-1][0]] = min(low[work[-1][0]], low[node])
    return sorted(knot for knot in found if len(knot) > 1)


def _open(node: Node, index: dict[Node, int], low: dict[Node, int], stack: list[Node], on: set[Node]) -> None:
    index[node] = low[node] = len(index)
    stack.append(node)
    on.add(node)


def _close(node: Node, index: dict[Node, int], low: dict[Node, int], stack: list[Node], on: set[Node]) -> list[list[Node]]:
    """Take the part that ``node`` is the root of from the stack."""
    if low[node] != index[node]:
        return []
    part: list[Node] = []
    while not part or part[-1] != node:
        part.append(stack.pop())
    on.difference_update(part)
    return [sorted(part)]


def _unpick(arrows: dict[Node, list[Node]], knot: Sequence[Node], wishes: Mapping[Arrow, OrderWish]) -> list[Circle]:
    """The shortest circles of a knot that share no wish, then those of what is left without them, until no circle is left."""
    members = set(knot)
    inside = {node: [other for other in arrows[node] if other in members] for node in knot}
    tails = sorted({a for a, b in wishes if a in members and b in members})  # every circle has a wish in it
    found: list[Circle] = []
    while True:
        around = sorted((circle for node in tails if (circle := _around(inside, node))), key=lambda circle: (len(circle), circle))
        if not around:
            return found
        taken: set[Arrow] = set()
        for circle in around:
            used = [arrow for arrow in zip(circle, (*circle[1:], circle[0]), strict=True) if arrow in wishes]
            if taken.isdisjoint(used):
                found.append(Circle(tuple(circle), tuple(wishes[arrow] for arrow in used)))
                taken.update(used)
        for a in {a for a, _ in taken}:
            inside[a] = [b for b in inside[a] if (a, b) not in taken]


def _around(arrows: Mapping[Node, Sequence[Node]], start: Node) -> list[Node] | None:
    """A shortest way from ``start`` back to it, without the return; None if there is none."""
    came: dict[Node, Node] = {}
    queue = deque([start])
    while queue:
        node = queue.popleft()
        for other in arrows[node]:
            if other == start:
                way = [node]
                while way[-1] != start:
                    way.append(came[way[-1]])
                return way[::-1]
            if other not in came:
                came[other] = node
                queue.append(other)
    return None


def loops(context: Context, chains: Sequence[Chain], turns: Mapping[str, Turn], stuck: frozenset[str]) -> list[Finding]:
    """One finding for each set of steps that contradict each other, with all hoops concerned."""
    groups: dict[tuple[str, ...], list[Circle]] = {}
    for circle in circles(context, chains, stuck):
        groups.setdefault(_steps(context, circle), []).append(circle)
    return [_finding(context, steps, group, turns) for steps, group in groups.items()]


def _steps(context: Context, circle: Circle) -> tuple[str, ...]:
    """The steps on the circle, in the order of work."""
    ids = {context.calls[node].step if node in context.calls else node.rsplit(" ", 1)[0] for node in circle.nodes}
    return tuple(sorted(ids, key=lambda id: context.index.get(id, len(context.index))))


def _calls(context: Context, steps: Iterable[str], group: Sequence[Circle]) -> list[Call]:
    """The calls that a circle names, else those of its steps that slide on, else all of its steps."""
    named = [context.calls[node] for circle in group for node in circle.nodes if node in context.calls]
    of_steps = [call for call in context.frame.calls if call.step in set(steps)]
    return named or [call for call in of_steps if call.when == "before-joining"] or of_steps


def _hoops(context: Context, steps: Sequence[str], calls: Sequence[Call]) -> tuple[str, ...]:
    """The hoops on which every step of the circle has something to do; all that any has, if there is no such hoop."""
    by_step = [{call.hoop for call in calls if call.step == step and call.hoop is not None} for step in steps]
    some = [hoops for hoops in by_step if hoops]
    common = set.intersection(*some) if some else set()
    return tuple(context.hoop_id(hoop) for hoop in sorted(common or set().union(*some)))


def _finding(context: Context, steps: tuple[str, ...], group: Sequence[Circle], turns: Mapping[str, Turn]) -> Finding:
    calls = _calls(context, steps, group)
    wishes = list({(wish.first, wish.then, wish.source): wish for circle in group for wish in circle.wishes}.values())
    hoops = _hoops(context, steps, calls)
    quotes = dict.fromkeys(f"“{wish.source.quote}” (page {wish.source.page})" for wish in wishes)
    names = listed([context.step_name(step) for step in steps])
    on = f" on {hoop_list(hoops)}" if hoops else ""
    if len(steps) > 1:
        what = f"{capital(names)} wait for each other{on}"
    else:
        what = f"{capital(names)} asks for an order{on} that contradicts itself"
    if len(wishes) < 2:
        what += "; the places on the tube allow only the reverse of what the words ask"
    message = f"{what}: {listed(list(quotes)[:4])}. No order of work can do both, so one of the two sentences is wrong."
    first = next((call.part for step in steps for call in calls if call.step == step), None)
    sources = tuple(dict.fromkeys([wish.source for wish in wishes]))[:6]
    here = [call for call in calls if call.hoop is not None and context.hoop_id(call.hoop) in hoops]
    return Finding("loop", first, hoops, steps, message, _advice(context, here, turns), sources=sources)


def _advice(context: Context, calls: Sequence[Call], turns: Mapping[str, Turn]) -> str:
    """Which goes on first by the places on the tube, where they tell."""
    hoop = min((call.hoop for call in calls if call.hoop is not None and call.id in turns), default=None)
    ends: dict[str, list[tuple[int, str]]] = {}
    for call in calls:
        if call.hoop == hoop and call.id in turns:
            ends.setdefault(turns[call.id].end, []).append((turns[call.id].order, call.part))
    for end, row in sorted(ends.items()):
        parts = list(dict.fromkeys(part for _, part in sorted(row)))
        if len(parts) > 1:
            row_of_parts = listed(parts, "then")
            return f"Go by the places on the tube: from the {end}, {row_of_parts}. Ask the supplier if a bar then lies on the wrong side."
    return "Ask the supplier which is meant before you begin; the other steps can go on."
