"""``conflict`` of positions: a fitting's place told twice and differently, by a step and by another one, a caption, a table, a summary."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from hoopwright.framing.assembly import Assembly, names
from hoopwright.framing.drafts import Draft
from hoopwright.model.events import Place, ToldPlace
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Finding

SAME_MM, SAME_SHARE = 6.0, 0.01  # inches and millimetres of one place, each rounded, are not further apart
ADVICE = "Ask the maker which place is right and mark it on the tubes before you slide anything on."


def places_apart(told: Iterable[ToldPlace], assembly: Assembly) -> list[Finding]:
    """One finding for each fitting whose places differ. A later step's place is used from here on; captions and tables only warn."""
    found: dict[str, Finding] = {}
    index = assembly.steps.index
    for again in told:
        if again.part in found or assembly.parts.get(again.part) is None:
            continue
        apart = _apart(again, assembly)
        if not apart:
            continue
        later = not again.shown and index[again.step] > max(index[d.step] for d in apart)
        found[again.part] = _finding(again, apart, later)
        for d in apart if later else ():
            d.place = replace(again.place, side=d.place.side if d.place is not None else None)
    return list(found.values())


def _apart(again: ToldPlace, assembly: Assembly) -> list[Draft]:
    """The drafts that the words speak of, if their places are known for sure and none of them is the one that is told."""
    hoops = assembly.hosts.every if again.hoops is None else assembly.hosts.hoops(again.hoops)
    mine = assembly.drafts.on(again.part, hoops)
    if not mine or not all(d.place is not None and d.measured and _comparable(d.place, again.place) for d in mine):
        return []
    if any(d.event is not None and d.event.table is not None and d.source == again.source for d in mine):
        return []
    offsets = {d.place.offset_mm for d in mine if d.place is not None}
    if len(offsets) != 1 or any(_same(offset or 0.0, again.place.offset_mm or 0.0) for offset in offsets):
        return []
    return mine


def _comparable(one: Place, other: Place) -> bool:
    """Whether two places are measured from the same mark in the same way, so that different distances are different places."""
    ways = {one.way, other.way} - {None}
    return (
        one.datum == other.datum
        and (one.datum == "ground" or bool(one.height) == bool(other.height))  # above the ground is plumb in any case
        and len(ways) < 2
        and one.fraction is other.fraction is None
        and (one.side is None or other.side is None or one.side == other.side)
    )


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= max(SAME_MM, SAME_SHARE * max(one, other))


def _finding(again: ToldPlace, drafts: Sequence[Draft], later: bool) -> Finding:
    first = drafts[0]
    mm = first.place.offset_mm if first.place is not None else None
    return position_finding(again.part, drafts, (first.source, mm or 0.0), (again.source, again.place.offset_mm or 0.0), later)


def position_finding(part: str, drafts: Sequence[Draft], put: tuple[Source, float], other: tuple[Source, float], later: bool) -> Finding:
    """``put`` and ``other``: the words and the distance (mm) of the step and of the other statement; ``later``: the other one is used."""
    (a, mm), (b, other_mm) = put, other
    datum = next((d.place.datum for d in drafts if d.place is not None), None) or "mark"
    message = (
        f'The manual puts the {part} {mm:.0f} mm from the {datum} ("{a.quote}", page {a.page}) and {other_mm:.0f} mm from it '
        f'("{b.quote}", page {b.page}). Used: {other_mm if later else mm:.0f} mm.'
    )
    hoops = names(sorted({d.hoop for d in drafts if d.hoop is not None}))
    return Finding("conflict", part, hoops, tuple(dict.fromkeys(d.step for d in drafts))[:1], message, ADVICE, sources=(a, b))
