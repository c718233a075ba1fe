"""The revised order of work: the frame's question to ``reorder``, and its answer as moves with their reasons."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

from hoopwright.model.frame import Call, OrderWish
from hoopwright.model.schedule import Move
from hoopwright.scheduling.alike import alike
from hoopwright.scheduling.chain import Chain
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.puzzle import Pair, Puzzle
from hoopwright.scheduling.reorder import Order, reorder
from hoopwright.scheduling.ways import Stuck
from hoopwright.scheduling.wording import hoop_list, name_in_common

WORK = 2_000_000  # what the search may spend, in (ring, step) look-ups: beyond it the order is still valid, but not proven the best


@dataclass(frozen=True, slots=True)
class Revision:
    """``order`` holds all step ids; ``proven`` is False where a shorter list of moves may exist."""

    order: tuple[str, ...]
    moves: tuple[Move, ...] = ()
    proven: bool = True


def revise(context: Context, chains: Sequence[Chain], stuck: Sequence[Stuck]) -> Revision:
    """The order of work with the fewest moved steps; the manual's own where nothing is stuck and no wish is broken."""
    wishes = _wishes(context)
    if not stuck and all(a < b for a, b in wishes):
        return Revision(context.order)
    models = list({alike(chain): chain for chain in reversed(chains)}.values())[::-1]
    pinned = frozenset(context.index[act.step] for act in context.frame.acts if act.step in context.index)
    keep = dict.fromkeys([*sorted(_kept(context)), *wishes])
    puzzle = Puzzle(len(context.order), tuple(chain.case for chain in models), tuple(keep), pinned)
    waiting = {item.call.hoop for item in stuck}
    unfree = frozenset(number for number, chain in enumerate(models) if chain.hoop in waiting)
    found = reorder(puzzle, work=WORK, unfree=unfree)
    return Revision(tuple(context.order[step] for step in found.order), _moves(_Found(context, models, found, wishes, stuck)), found.proven)


def _wishes(context: Context) -> dict[Pair, OrderWish]:
    """The wishes as pairs of steps, in the manual's order; those inside one step say nothing about steps."""
    found: dict[Pair, OrderWish] = {}
    for wish in context.frame.wishes:
        ends = [context.calls[id].step if id in context.calls else id for id in (wish.first, wish.then)]
        if all(step in context.index for step in ends) and ends[0] != ends[1]:
            found.setdefault((context.index[ends[0]], context.index[ends[1]]), wish)
    return found


def _kept(context: Context) -> Iterable[Pair]:
    """What has to stay as it is: a clamp before the bolt that closes it, and before the bar that it carries."""
    pairs: set[Pair] = set()
    carriers: dict[tuple[str, str], set[int]] = {}
    for call in context.frame.calls:
        held = context.calls.get(call.holds or "")
        if held is not None:
            pairs.add((context.index.get(held.step, 0), context.index.get(call.step, 0)))
        if call.when == "before-joining":
            carriers.setdefault((call.part, call.carries or ""), set()).add(context.index.get(call.step, 0))
    for bar in context.frame.bars:
        for (part, carries), steps in carriers.items():
            if carries == bar.name or name_in_common(bar.name, part):
                pairs.update((step, context.index.get(bar.step, 0)) for step in steps)
    return {(a, b) for a, b in pairs if a < b}


@dataclass(frozen=True)
class _Found:
    """The order found, with what its reasons are looked up in, each made once."""

    context: Context
    models: Sequence[Chain]
    order: Order
    wishes: dict[Pair, OrderWish]
    stuck: Sequence[Stuck]

    @cached_property
    def turn(self) -> dict[int, int]:
        return {step: place for place, step in enumerate(self.order.order)}

    @cached_property
    def ahead(self) -> dict[int, list[int]]:
        """The earlier steps that a step has to come before now, soonest first."""
        return self._broken(lambda a, b: (a, b) if b < a else None, 1)

    @cached_property
    def behind(self) -> dict[int, list[int]]:
        """The later steps that a step has to come after now, latest first."""
        return self._broken(lambda a, b: (b, a) if a > b else None, -1)

    def _broken(self, sort: Callable[[int, int], Pair | None], way: int) -> dict[int, list[int]]:
        found: dict[int, list[int]] = {}
        for a, b in self.order.because:
            if (pair := sort(a, b)) is not None:
                found.setdefault(pair[0], []).append(pair[1])
        return {step: sorted(others, key=lambda other: way * self.turn[other]) for step, others in found.items()}

    @cached_property
    def closing(self) -> frozenset[int]:
        """The steps that change a gate."""
        return frozenset(change.step for chain in self.models for change in chain.case.changes)

    @cached_property
    def parts(self) -> dict[int, list[str]]:
        """What each step puts on the tubes."""
        found: dict[int, dict[str, None]] = {}
        for chain in self.models:
            for ring in chain.case.rings:
                found.setdefault(ring.step, {})[chain.calls[ring.id].part] = None
        return {step: list(names) for step, names in found.items()}

    @cached_property
    def calls(self) -> dict[str, list[Call]]:
        """The stuck calls of each step id."""
        found: dict[str, list[Call]] = {}
        for item in self.stuck:
            found.setdefault(item.call.step, []).append(item.call)
        return found

    def name(self, step: int) -> str:
        return self.context.step_name(self.context.order[step])

    def things(self, step: int) -> str:
        return " and ".join(f"the {name}" for name in self.parts.get(step, [])[:3]) or "what it adds"


def _moves(found: _Found) -> tuple[Move, ...]:
    context, order = found.context, found.order.order
    made: list[Move] = []
    for step in sorted(found.order.moved, key=lambda step: found.turn[step]):
        place = found.turn[step]
        following = order[place + 1] if place + 1 < len(order) else None
        calls = found.calls.get(context.order[step], [])
        made.append(
            Move(
                step=context.order[step],
                before=None if following is None else context.order[following],
                reason=_reason(found, step, calls),
                fitting=calls[0].part if calls else None,
                hoops=tuple(context.hoop_id(hoop) for hoop in sorted({call.hoop for call in calls if call.hoop is not None})),
            )
        )
    return tuple(made)


def _reason(found: _Found, step: int, calls: Sequence[Call]) -> str:
    """Why a step moves: the pairs that the order given breaks, nearest first, in the manual's terms."""
    texts = [_ahead(found, step, other, calls) for other in found.ahead.get(step, [])[:2]]
    texts += [_behind(found, step, other) for other in found.behind.get(step, [])[:2]]
    return "; ".join(dict.fromkeys(texts)) or "so that the steps around it can be worked"


def _ahead(found: _Found, step: int, later: int, calls: Sequence[Call]) -> str:
    """Why ``step`` comes before ``later``."""
    name = found.name(later)
    if (step, later) in found.wishes:
        return f"the manual wants it before {name}: “{found.wishes[step, later].source.quote}”"
    what = f"the {calls[0].part} reaches its place" if calls else "its fittings reach their places"
    hoops = sorted({call.hoop for call in calls if call.hoop is not None})
    on = f" on {hoop_list(found.context.hoop_id(hoop) for hoop in hoops)}" if calls else ""
    if later in found.closing:
        return f"{what}{on} only before {name} shuts the way"
    return f"{what}{on} only before {name} puts {found.things(later)} in the way"


def _behind(found: _Found, step: int, earlier: int) -> str:
    """Why ``step`` comes after ``earlier``."""
    name = found.name(earlier)
    if (earlier, step) in found.wishes:
        return f"the manual wants {name} done first: “{found.wishes[earlier, step].source.quote}”"
    return f"{found.things(step)} would be in the way of {found.things(earlier)} of {name}"
