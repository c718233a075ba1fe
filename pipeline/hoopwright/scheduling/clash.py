"""``clash``: two fittings of one hoop at the same place, or nearer than half the sum of their widths."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence

from hoopwright.model.frame import Call, Part
from hoopwright.model.schedule import Finding
from hoopwright.scheduling.chain import places
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.wording import capital, hoop_list, millimetres

# Length along the tube where the parts list gives none. Real clips and clamps are 20 to 40 mm wide (common practice, no source): the
# low end, so that only what surely overlaps is reported.
DEFAULT_WIDTH_MM = {"closed": 20.0, "open": 20.0, "fastener": 0.0}
TOUCHING_MM = 0.5  # fittings that just touch do not clash


def width(part: Part) -> float:
    """The part's length along the tube in mm, the default of its form if the manual gives none."""
    return part.width_mm if part.width_mm is not None else DEFAULT_WIDTH_MM.get(part.form, 0.0)


def clashes(context: Context) -> list[Finding]:
    """One finding for each pair of parts and steps, with all hoops concerned."""
    found: dict[tuple[str, str, str, str], list[tuple[Call, Call, float]]] = {}
    for calls in context.hoop_calls.values():
        for first, then, gap in _pairs(context, calls):
            key = (then.part, then.step, first.part, first.step)
            if context.part(then).form == "fastener":  # bolt, washer and nut of one place: told once
                key = ("", then.step, first.part, first.step)
            found.setdefault(key, []).append((first, then, gap))
    return [_finding(context, pairs) for pairs in found.values()]


def _pairs(context: Context, calls: Sequence[Call]) -> Iterator[tuple[Call, Call, float]]:
    """Pairs of a hoop that sit too near, the earlier call first. Each reference is swept once: only neighbours on it can be too near."""
    row: dict[str, list[tuple[float, int, Call]]] = defaultdict(list)
    alone = [(number, call, places(context, call)) for number, call in enumerate(calls) if _stands_alone(context, call)]
    clips = [(call, known) for _, call, known in alone if context.part(call).form != "fastener"]
    told = {call.source for call, _ in clips}
    taken = {(call.step, reference, mm) for call, known in clips for reference, mm in known}
    for number, call, known in alone:
        own = call.source in told or any((call.step, reference, mm) in taken for reference, mm in known)
        if own and context.part(call).form == "fastener":
            continue  # the screw of a bracket that its own sentence or step puts there: told of the bracket
        for reference, mm in known:
            row[reference].append((mm, number, call))
    seen: set[tuple[str, str]] = set()
    for sites in row.values():
        sites.sort(key=lambda site: site[:2])
        reach = max(width(context.part(call)) for _, _, call in sites)
        for i, (mm, _, call) in enumerate(sites):
            for number in range(i + 1, len(sites)):
                at, _, other = sites[number]
                if at - mm >= reach:
                    break
                first, then = sorted((call, other), key=context.when_called)
                if (first.id, then.id) not in seen and _too_near(context, first, then, at - mm):
                    seen.add((first.id, then.id))
                    yield first, then, at - mm


def _stands_alone(context: Context, call: Call) -> bool:
    """Whether the call takes a place of its own on the tube: a clip or clamp, or a screw that holds nothing that the frame knows of."""
    form = context.part(call).form
    alone = call.holds is None and call.anchor is None and call.when == "any-time" and call.offset_mm is not None
    return call.quantity > 0 and (form in ("closed", "open") or (form == "fastener" and alone))


def _too_near(context: Context, first: Call, then: Call, gap: float) -> bool:
    a, b = context.part(first), context.part(then)
    if (width(a) + width(b)) / 2 - gap <= TOUCHING_MM:
        return False
    if first.id in (then.anchor, then.holds) or then.id in (first.anchor, first.holds):
        return False  # measured from each other: meant to sit together
    if not (_measured(first) or _measured(then)):
        return False  # both just "at the ridge": no two places that contradict each other
    fasteners = [call for call, part in ((first, a), (then, b)) if part.form == "fastener"]
    if len(fasteners) == 2:
        return False
    if fasteners:
        other = then if fasteners[0] is first else first
        return first.step != then.step and other.part.lower() not in fasteners[0].source.quote.lower()
    return (first.part, first.step) != (then.part, then.step)  # two pieces called for in one breath are one place


def _measured(call: Call) -> bool:
    return bool(call.offset_mm) or (call.along_mm is not None and call.datum not in ("ridge", "joint", "end"))


def _finding(context: Context, pairs: Sequence[tuple[Call, Call, float]]) -> Finding:
    first, then, gap = pairs[0]
    hoops = tuple(context.hoop_id(hoop) for hoop in sorted({call.hoop for _, call, _ in pairs if call.hoop is not None}))
    apart = "at the same place as" if gap < TOUCHING_MM else f"{millimetres(gap)} from"
    where = f", {millimetres(then.along_mm)} along the hoop from its left foot" if then.along_mm is not None else ""
    message = (
        f"{capital(context.step_name(then.step))} puts the {then.part} {apart} the {first.part} of {context.step_name(first.step)} "
        f"on {hoop_list(hoops)}{where}. Two fittings cannot grip the same piece of tube."
    )
    advice = (
        "Find out which of the two may shift, and by how much; a bar or brace that hangs on one settles it for that one. "
        "Mark the new place of the other before you begin."
    )
    sources = tuple(dict.fromkeys((then.source, first.source)))
    return Finding("clash", then.part, hoops, tuple(dict.fromkeys((then.step, first.step))), message, advice, sources=sources)
