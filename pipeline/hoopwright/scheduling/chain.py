"""From the frame to the core's cases: one chain of tubes for each hoop."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from hoopwright.model.frame import Act, Call
from hoopwright.model.schedule import Side
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.ring import Ring
from hoopwright.scheduling.solver import Case, Change, GateState
from hoopwright.scheduling.wording import words_of

SIGN = {"left": -1, "right": 1}
# How far up a foot bolt sits at most: the piece of a ground tube that stands out of the soil is 200 to 450 mm (common practice, no source).
FOOT_MM = 450.0
LAST = 1 << 30  # the place inside its step of what bolts a foot: after all else that the step does


@dataclass(frozen=True, slots=True)
class Chain:
    """A hoop's case. ``calls`` gives the call of each ring id; ``acts`` the act behind each change, by (step index, slot, gate)."""

    hoop: int
    case: Case
    calls: dict[str, Call]
    acts: dict[tuple[int, int, int], Act]


def places(context: Context, call: Call, seen: frozenset[str] = frozenset()) -> tuple[tuple[str, float], ...]:
    """Where the call sits, as (reference, mm to the right of it). Two calls of a tube compare where they share a reference.

    "along" is the distance from the left foot; "gate k" the left foot (0), the k-th joint or the right foot; "ridge" the ridge where no
    joint lies there; "ground left" a height; "call C7" another call whose own place is unknown.
    """
    found: dict[str, float] = {}
    if call.along_mm is not None:
        found["along"] = call.along_mm
    if call.anchor is not None:
        found.update(_by_anchor(context, call, seen))
    elif call.offset_mm is not None or call.datum in ("ridge", "joint"):
        reference = _reference(context, call)
        if reference is not None:
            name, sign = reference
            found.setdefault(name, sign * (call.offset_mm or 0.0))
    found.setdefault(f"call {call.id}", 0.0)
    return tuple(found.items())


def _by_anchor(context: Context, call: Call, seen: frozenset[str]) -> dict[str, float]:
    anchor = context.calls.get(call.anchor or "")
    if anchor is None or anchor.id in seen or call.offset_mm is None:
        return {}
    if call.offset_mm and call.towards is None:
        return {}
    shift = call.offset_mm * (call.towards or 0)
    return {name: mm + shift for name, mm in places(context, anchor, seen | {call.id}) if name != "along" or call.along_mm is None}


def _reference(context: Context, call: Call) -> tuple[str, int] | None:
    """The reference that the datum stands for and the direction in which the offset counts, or None where it cannot be told."""
    side = SIGN.get(call.side or "", 0)
    last = context.tube_count
    if call.datum == "foot" and side:
        return ("gate 0", 1) if side < 0 else (f"gate {last}", -1)
    if call.datum == "ground" and side:
        return ("ground left", 1) if side < 0 else ("ground right", -1)
    if call.datum == "ridge":
        sign = call.towards or side
        name = f"gate {last // 2}" if last % 2 == 0 else "ridge"
        return (name, sign) if sign or not call.offset_mm else None
    if call.datum in ("joint", "end") and call.tube is not None and call.towards is not None:
        return f"gate {call.tube + (call.towards < 0)}", call.towards
    return None


def possible_tubes(context: Context, call: Call) -> tuple[int, ...]:
    """The tubes that the call may sit on: one where the frame says so, else those of its side."""
    tubes = context.frame.tubes
    if call.tube is not None:
        return (min(max(call.tube, 0), context.tube_count - 1),)
    if len(tubes) <= 1:
        return (0,)
    if call.along_mm is not None:
        inside = tuple(
            i
            for i, tube in enumerate(tubes)
            if tube.start_mm is not None and tube.end_mm is not None and tube.start_mm <= call.along_mm <= tube.end_mm
        )
        if inside:
            return inside
    sided = tuple(i for i, tube in enumerate(tubes) if tube.side in (call.side, "centre"))
    return sided if call.side in SIGN and sided else tuple(range(len(tubes)))


def _in_the_way(context: Context, call: Call) -> bool:
    """Whether a call that does not slide on stops a ring: a clip round the tube, or a screw in it at a place of its own."""
    part = context.part(call)
    if call.when == "before-joining" or part.form in ("closed", "open"):
        return True
    alone = call.holds is None and call.anchor is None and call.when == "any-time"
    return part.form == "fastener" and alone and call.offset_mm is not None


def _over_joint(context: Context, call: Call) -> bool:
    """Whether the call sits right over a joint and nothing says how it goes on: what covers a joint goes round it once it is made."""
    return call.datum == "joint" and not call.offset_mm and not context.part(call).stated and call.anchor is None


def _limits(context: Context, found: tuple[tuple[str, float], ...]) -> tuple[tuple[str, float, int], ...]:
    """What is known of a place only as a limit: (reference, mm, +1 at least or -1 at most so far to the right of it).

    A half of a hoop is never shorter than the straight line from its foot to the ridge. What sits so far from one end of a half is
    therefore at least the rest of that line from its other end.
    """
    reach = context.half_mm
    if reach is None:
        return ()
    limits: list[tuple[str, float, int]] = []
    for name, mm in found:
        if name == "gate 0" and mm >= 0:
            limits.append(("gate 1", mm - reach, -1))
        elif name == "gate 2" and mm <= 0:
            limits.append(("gate 1", mm + reach, 1))
    return tuple(limits)


def _ring(context: Context, call: Call, slots: list[tuple[int, int]]) -> Ring:
    """``slots`` are the (step index, sequence) of the hoop's acts in order of work."""
    step = context.index[call.step]
    sequence = context.sequence.get(call.id, -1)
    slot = len([order for at, order in slots if at == step and order < sequence])
    slides = call.when == "before-joining" and context.part(call).form == "closed" and not _over_joint(context, call)
    known = places(context, call)
    tubes = possible_tubes(context, call)
    return Ring(call.id, tubes, step, slot, known, slides, _limits(context, known))


def _gates(context: Context, act: Act) -> list[tuple[int, GateState]]:
    """The gates that an act changes, and to what."""
    last = context.tube_count
    feet = [0 if foot == "left" else last for foot in act.feet if foot in SIGN]
    joints = [joint + 1 for joint in act.joints if 0 <= joint < last - 1] or list(range(1, last))
    if act.kind in ("stand", "lift"):
        return [(gate, "shut" if act.kind == "stand" else "open") for gate in feet]
    state: GateState = "open" if act.kind == "part" else "through" if act.passable else "shut"
    return [(gate, state) for gate in joints]


def _acts_by_hoop(context: Context) -> dict[int, list[Act]]:
    found: dict[int, list[Act]] = defaultdict(list)
    for act in context.frame.acts:
        for hoop in act.hoops:
            found[hoop].append(act)
    for hoop, calls in context.hoop_calls.items():
        found[hoop] += _stood_by_bolts(context, hoop, calls, found[hoop])
    for acts in found.values():
        acts.sort(key=lambda act: (context.index[act.step], act.sequence))
    return found


def _bolts_foot(context: Context, call: Call) -> bool:
    """Whether the call is the bolt, pin or screw that holds a foot of the hoop on what it stands on."""
    if call.hoop is None or context.part(call).form != "fastener" or call.side not in SIGN or call.holds is not None:
        return False
    if call.when == "at-joining":
        return call.datum in (None, "foot", "ground", "end") and call.tube in (None, 0, context.tube_count - 1)
    low = call.datum in ("foot", "ground") and call.offset_mm is not None and call.offset_mm <= FOOT_MM
    return low and call.anchor is None and call.when == "any-time" and "foot" in words_of(call.part)


def _stood_by_bolts(context: Context, hoop: int, calls: Iterable[Call], acts: Iterable[Act]) -> list[Act]:
    """Feet that stand because a step bolts them down, where no sentence was read that stands them: one act for each such foot."""
    standing = {foot for act in acts if act.kind == "stand" for foot in act.feet}
    found: dict[Side, Act] = {}
    for call in calls:
        if call.side is not None and call.side not in standing and call.side not in found and _bolts_foot(context, call):
            last = context.sequence.get(call.id, LAST)
            found[call.side] = Act("stand", (hoop,), call.step, call.source, feet=(call.side,), sequence=last)
    return list(found.values())


def _changes(context: Context, acts: Iterable[Act], calls: tuple[Call, ...]) -> tuple[list[Change], dict[tuple[int, int, int], Act]]:
    changes: list[Change] = []
    behind: dict[tuple[int, int, int], Act] = {}
    slots: dict[int, int] = defaultdict(int)
    joined: set[int] = set()
    for act in acts:
        step = context.index[act.step]
        slot = slots[step]
        slots[step] += 1
        gates = _gates(context, act)
        if act.kind in ("join", "fix"):
            joined.update(gate for gate, _ in gates)
        for gate, state in gates:
            changes.append(Change(step, slot, gate, state))
            behind[step, slot, gate] = act
    _join_by_standing(context, changes, behind, joined, calls)
    changes += _caps(context, calls, slots)
    return changes, behind


def _join_by_standing(
    context: Context, changes: list[Change], behind: dict[tuple[int, int, int], Act], joined: set[int], calls: Iterable[Call]
) -> None:
    """Joints that no step joins are taken to be shut once both feet stand and what belongs in a joint is in: the hoop is in one piece."""
    tubes = context.tube_count
    feet: dict[int, Change] = {}
    for change in changes:  # in order of work; what stands already is not stood by a later act
        if change.gate in (0, tubes) and change.state == "shut":
            feet.setdefault(change.gate, change)
        elif change.gate in (0, tubes):
            feet.pop(change.gate, None)
    loose = [gate for gate in range(1, tubes) if gate not in joined]
    if len(feet) < 2 or not loose:
        return
    last = max(feet.values(), key=lambda change: (change.step, change.slot))
    filled = max((context.index[call.step] for call in calls if context.fills_joint(call)), default=context.joints_filled)
    step = max(last.step, filled)
    for gate in loose:
        changes.append(Change(step, last.slot, gate, "shut"))
        behind[step, last.slot, gate] = behind[last.step, last.slot, last.gate]


def _caps(context: Context, calls: Iterable[Call], slots: dict[int, int]) -> list[Change]:
    """An end cap on a foot shuts it."""
    found: list[Change] = []
    for call in calls:
        if context.part(call).form == "cap" and call.datum in ("foot", "end", "ground") and call.side in SIGN:
            step = context.index[call.step]
            found.append(Change(step, slots[step], 0 if call.side == "left" else context.tube_count, "shut"))
    return found


def _after(context: Context, calls: Iterable[Call]) -> frozenset[tuple[str, str]]:
    """The order wishes between two calls of one step."""
    steps = {call.id: call.step for call in calls}
    return frozenset(
        (wish.first, wish.then)
        for wish in context.frame.wishes
        if wish.first in steps and wish.then in steps and steps[wish.first] == steps[wish.then]
    )


def chains(context: Context) -> list[Chain]:
    """One chain for each hoop, in hoop order."""
    acts = _acts_by_hoop(context)
    return [_chain(context, hoop, acts.get(hoop, []), calls) for hoop, calls in sorted(context.hoop_calls.items())]


def _chain(context: Context, hoop: int, acts: list[Act], calls: tuple[Call, ...]) -> Chain:
    changes, behind = _changes(context, acts, calls)
    slots = [(context.index[act.step], act.sequence) for act in acts]
    on = [call for call in calls if _in_the_way(context, call)]
    rings = tuple(_ring(context, call, slots) for call in on)
    case = Case(context.tube_count, rings, tuple(changes), _after(context, on))
    return Chain(hoop, case, {call.id: call for call in on}, behind)
