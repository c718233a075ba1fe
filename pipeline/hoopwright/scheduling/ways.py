"""``trapped`` and ``blocked``: fittings that cannot reach their place at the step that calls for them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.model.frame import Act, Call
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Finding, WarningCode
from hoopwright.scheduling.chain import Chain
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.solver import Verdict, Way
from hoopwright.scheduling.wording import capital, hoop_list, listed

WHY = {
    "trapped": "A closed fitting cannot pass a joint, a screw or a foot, so it cannot be put on without taking the hoop apart.",
    "blocked": "A closed fitting cannot pass another one, so it cannot reach its place as the steps stand.",
}


@dataclass(frozen=True, slots=True)
class Stuck:
    """A call that cannot reach its place; ``free_until`` is the id of the last step after which it could, None before the first step.

    ``closing`` are the acts that shut its ways, ``in_way`` the calls that stand in them; ``never`` if no step leaves a way free.
    """

    call: Call
    code: WarningCode
    free_until: str | None
    never: bool
    closing: tuple[Act, ...]
    in_way: tuple[Call, ...]


def stuck(context: Context, chain: Chain, verdicts: Sequence[Verdict], model: Chain) -> list[Stuck]:
    """The calls of the chain that are trapped or blocked. ``verdicts`` speak of ``model``, a hoop on which the same is done."""
    place = {ring.id: i for i, ring in enumerate(model.case.rings)}

    def here(id: str) -> Call:
        return chain.calls[chain.case.rings[place[id]].id]

    found: list[Stuck] = []
    for verdict in verdicts:
        if verdict.answer == "free":
            continue
        call = here(verdict.ring)
        ring = chain.case.rings[place[verdict.ring]]
        closing = [act for way in verdict.ways if not way.open for act in _shut_by(chain, way, (ring.step, ring.slot))]
        in_way = [here(id) for way in verdict.ways if way.open for id in way.rings]
        last = verdict.last_free
        code: WarningCode = "trapped" if verdict.answer == "trapped" else "blocked"
        until = context.order[last] if last is not None and last >= 0 else None
        found.append(Stuck(call, code, until, last is None, _once(closing), tuple(dict.fromkeys(in_way))))
    return found


def _once(acts: Sequence[Act]) -> tuple[Act, ...]:
    return tuple(act for i, act in enumerate(acts) if all(act is not other for other in acts[:i]))


def _shut_by(chain: Chain, way: Way, moment: tuple[int, int]) -> list[Act]:
    """The acts that shut the way's gate: its first shutting after it was last open."""
    shut: Act | None = None
    for change in chain.case.timeline:
        if change.gate != way.gate or (change.step, change.slot) >= moment:
            continue
        if change.state == "open":
            shut = None
        elif shut is None and change.state == "shut":
            shut = chain.acts.get((change.step, change.slot, change.gate))
    return [shut] if shut is not None else []


def way_findings(context: Context, found: Sequence[Stuck]) -> list[Finding]:
    """One finding for each code, fitting and step, with all hoops concerned."""
    groups: dict[tuple[str, str, str], list[Stuck]] = {}
    for item in found:
        groups.setdefault((item.code, item.call.part, item.call.step), []).append(item)
    return [_finding(context, items) for items in groups.values()]


def _earliest(context: Context, items: Sequence[Stuck]) -> Stuck:
    """The item whose way was shut first: its advice serves all the others."""
    return min(items, key=lambda item: -2 if item.never else context.index.get(item.free_until or "", -1))


def _finding(context: Context, items: Sequence[Stuck]) -> Finding:
    item = _earliest(context, items)
    hoops = tuple(context.hoop_id(hoop) for hoop in sorted({i.call.hoop for i in items if i.call.hoop is not None}))
    closing = _once([act for i in items for act in i.closing])
    in_way = tuple(dict.fromkeys(call for i in items for call in i.in_way))
    wish = f"{capital(context.step_name(item.call.step))} puts the {item.call.part} on {hoop_list(hoops)}"
    message = f"{wish}, but {_reason(context, item.code, closing, in_way)}. {WHY[item.code]}"
    steps = tuple(dict.fromkeys([item.call.step, *(act.step for act in closing), *(call.step for call in in_way)]))
    sources = _sources(items, closing, in_way)
    return Finding(item.code, item.call.part, hoops, steps, message, _advice(context, item, in_way), sources=sources)


def _reason(context: Context, code: str, closing: Sequence[Act], in_way: Sequence[Call]) -> str:
    shut = listed(_shutting(context, closing))
    if code == "trapped":
        return "by then every open end of its tube is shut" + (f" ({shut})" if shut else "")
    names = list(dict.fromkeys(f"the {call.part} of {context.step_name(call.step)}" for call in in_way))
    other = f", and the other end is shut ({shut})" if shut else ""
    return f"by then {listed(names)} {_is(names)} in the way{other}"


def _shutting(context: Context, closing: Sequence[Act]) -> list[str]:
    """What shut the ways, by kind, in the order of work: "tubes joined in step 6 and step 7"."""
    steps: dict[str, list[str]] = {}
    for act in sorted(_one_each(closing), key=lambda act: context.index.get(act.step, -1)):
        steps.setdefault(_what(act), []).append(context.step_name(act.step))
    return [f"{what} in {listed(names)}" for what, names in steps.items()]


def _is(names: Sequence[str]) -> str:
    return "is" if len(names) == 1 else "are"


def _one_each(acts: Sequence[Act]) -> list[Act]:
    """One act for each step and kind: four joints joined in one step are told once."""
    return list({(act.step, act.kind): act for act in acts}.values())


def _what(act: Act) -> str:
    match act.kind:
        case "join":
            return "tubes joined"
        case "fix":
            return "joints fixed"
        case "stand":
            return "feet set on the ground tubes"
        case _:
            return "closed"


def _advice(context: Context, item: Stuck, in_way: Sequence[Call]) -> str:
    if item.never:
        return "No step leaves its way free: ask the supplier for a fitting that opens, or for another order of work."
    following = _next_step(context, item.free_until)
    when = f"before {context.step_name(following)}" if following else "before anything is joined"
    after = f"; {context.step_name(item.free_until)} is the last step after which its way is free" if item.free_until else ""
    own = f"Slide the {item.call.part} on {when}{after}."
    if item.code == "blocked":
        names = list(dict.fromkeys(f"the {call.part}" for call in in_way))
        return f"{own} If {listed(names)} {_is(names)} on already, take off what is in the way and put it back afterwards."
    return f"{own} If the hoop is closed already, it has to be taken apart at the nearest joint, or a fitting that opens used instead."


def _next_step(context: Context, step: str | None) -> str | None:
    place = -1 if step is None else context.index[step]
    return context.order[place + 1] if place + 1 < len(context.order) else None


def _sources(items: Sequence[Stuck], closing: Sequence[Act], in_way: Sequence[Call]) -> tuple[Source, ...]:
    words = [items[0].call.source, *(act.source for act in _one_each(closing)), *(call.source for call in in_way)]
    return tuple(dict.fromkeys(words))[:6]
