"""Fittings on other members than hoops: bars, posts, boards."""

from __future__ import annotations

import re

from hoopwright.framing.assembly import Assembly, number
from hoopwright.framing.doubting import ask_range
from hoopwright.framing.drafts import Draft
from hoopwright.model.events import Event
from hoopwright.model.frame import Part

_ONE_END = re.compile(r"\b(?:upper|lower|top|bottom|first|second|one|other|inner|outer)\b")


def put_on_member(assembly: Assembly, event: Event, part: Part) -> list[Draft]:
    """One draft for all pieces on members of that name."""
    member = event.member or ""
    if event.definite and event.amount is None and assembly.drafts.pieces(part.name):
        return []  # "slide the clips to their places", "put the upper ring on first": those that are on already
    draft = Draft(
        part.name,
        number(event) * _times(assembly, event),
        None,
        member,
        event.step,
        event.source,
        option=event.option,
        sequence=assembly.sequence,
        event=event,
    )
    assembly.drafts.add([draft])
    if event.per == "described":
        assembly.announce(event, [draft])
    if event.amount is not None and event.amount.open == "range":
        ask_range(assembly, event, [draft])
    elif event.amount is not None and event.amount.value is None:
        assembly.open_numbers.append((event, [draft]))
    return [draft]


def _times(assembly: Assembly, event: Event) -> int:
    """How often the event's number is wanted: on each of so many members, at each end, on each side."""
    several = [unit for unit in event.units if unit.kind == "member" and unit.each and unit.number]
    if len(several) > 1 and any(unit.kind == "end" for unit in event.units):
        return sum(unit.number or 0 for unit in several) * 2  # "each end of the ridge bar and of the four purlins"
    times = 1
    for unit in event.units:
        if unit.kind == "member" and (unit.each or unit.number):
            count = unit.number or _number_of(assembly, unit.name) or 1
            times *= count if unit.each or (unit.number and number(event) == 1) else 1
        elif unit.kind == "joint" and unit.each:
            times *= unit.number or _joints(assembly, event.member or "")
        elif unit.kind in ("end", "side") and unit.each:
            times *= unit.number or 2
    return times


def _joints(assembly: Assembly, bar: str) -> int:
    """The joints of a bar whose lengths the list counts: one run for a ridge, one on each side for others (common practice, no source)."""
    lengths = _number_of(assembly, bar) or 0
    runs = 1 if "ridge" in bar or lengths % 2 else 2
    return max(lengths - runs, 1)


def _number_of(assembly: Assembly, name: str) -> int | None:
    """How many of a member the manual lists; for a shorter name the least of those that it may mean."""
    known = assembly.member_numbers
    if name in known:
        return known[name]
    words = set(name.split())
    alike = [
        count
        for other, count in known.items()
        if other.split()[-1] == name.split()[-1]
        and words <= set(other.split())
        and (not other.startswith("ground") or name.startswith("ground"))
    ]
    return min((n for n in alike if n), default=None)


def bars_described(assembly: Assembly, event: Event, part: Part) -> int | None:
    """How many bars end at such a fitting, where the step has said that every bar gets one at both ends and goes on to tell where."""
    described = next((e for e in assembly.described[event.step, part.name] if e is not event), None)
    if described is None:
        return None
    bars = next(
        (_number_of(assembly, u.name) if u.number in (None, 1) else u.number for u in described.units if u.kind == "member"),
        None,
    )
    both = bars and event.definite and event.amount is None and part.listed == 2 * bars and not _ONE_END.search(event.text or "")
    return 2 * bars if bars and both else bars
