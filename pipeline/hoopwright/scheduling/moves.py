"""The revised order of work: the frame's question to ``reorder``, and its answer as moves with their reasons."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hoopwright.model.frame import Call, OrderWish
from hoopwright.model.schedule import Move
from hoopwright.scheduling.chain import Chain, alike
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.reorder import Order, Pair, Puzzle, reorder
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
    rings = sum(len(chain.case.rings) for chain in models)
    found = reorder(puzzle, max(20, WORK // max(1, rings * puzzle.steps)))
    return Revision(tuple(context.order[step] for step in found.order), _moves(context, models, found, wishes, stuck), found.proven)


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


def _moves(
    context: Context, models: Sequence[Chain], found: Order, wishes: dict[Pair, OrderWish], stuck: Sequence[Stuck]
) -> tuple[Move, ...]:
    turn = {step: place for place, step in enumerate(found.order)}
    made: list[Move] = []
    for step in sorted(found.moved, key=lambda step: turn[step]):
        following = found.order[turn[step] + 1] if turn[step] + 1 < len(found.order) else None
        calls = [item.call for item in stuck if item.call.step == context.order[step]]
        made.append(
            Move(
                step=context.order[step],
                before=None if following is None else context.order[following],
                reason=_reason(context, models, found, step, wishes, calls),
                fitting=calls[0].part if calls else None,
                hoops=tuple(context.hoop_id(hoop) for hoop in sorted({call.hoop for call in calls if call.hoop is not None})),
            )
        )
    return tuple(made)


def _reason(
    context: Context, models: Sequence[Chain], found: Order, step: int, wishes: dict[Pair, OrderWish], calls: Sequence[Call]
) -> str:
    """Why a step moves: the pairs that the order given breaks, nearest first, in the manual's terms."""
    turn = {other: place for place, other in enumerate(found.order)}
    ahead = sorted((b for a, b in found.because if a == step and b < step), key=lambda b: turn[b])
    behind = sorted((a for a, b in found.because if b == step and a > step), key=lambda a: -turn[a])
    texts = [_ahead(context, models, step, b, wishes, calls) for b in ahead[:2]]
    texts += [_behind(context, models, step, a, wishes) for a in behind[:2]]
    return "; ".join(dict.fromkeys(texts)) or "so that the steps around it can be worked"


def _ahead(context: Context, models: Sequence[Chain], step: int, later: int, wishes: dict[Pair, OrderWish], calls: Sequence[Call]) -> str:
    """Why ``step`` comes before ``later``."""
    if (step, later) in wishes:
        return f"the manual wants it before {context.step_name(context.order[later])}: “{wishes[step, later].source.quote}”"
    what = f"the {calls[0].part} reaches its place" if calls else "its fittings reach their places"
    on = f" on {hoop_list(context.hoop_id(h) for h in sorted({c.hoop for c in calls if c.hoop is not None}))}" if calls else ""
    name = context.step_name(context.order[later])
    if any(change.step == later for chain in models for change in chain.case.changes):
        return f"{what}{on} only before {name} shuts the way"
    return f"{what}{on} only before {name} puts {_parts(models, later)} in the way"


def _behind(context: Context, models: Sequence[Chain], step: int, earlier: int, wishes: dict[Pair, OrderWish]) -> str:
    """Why ``step`` comes after ``earlier``."""
    name = context.step_name(context.order[earlier])
    if (earlier, step) in wishes:
        return f"the manual wants {name} done first: “{wishes[earlier, step].source.quote}”"
    return f"{_parts(models, step)} would be in the way of {_parts(models, earlier)} of {name}"


def _parts(models: Sequence[Chain], step: int) -> str:
    names = dict.fromkeys(chain.calls[ring.id].part for chain in models for ring in chain.case.rings if ring.step == step)
    return " and ".join(f"the {name}" for name in list(names)[:3]) or "what it adds"
