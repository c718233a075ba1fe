"""Lays a fitting's pieces out on one hoop: which of its spots and places take how many."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.framing.assembly import Assembly
from hoopwright.framing.drafts import Draft
from hoopwright.framing.hosts import Spot
from hoopwright.model.events import Event, Place


def lay_out(assembly: Assembly, event: Event, hoop: int, n: int, spots: list[Spot]) -> list[Draft]:
    """The drafts of ``n`` pieces on one hoop."""
    beside = next((p for p in event.places if p.each and p.part and p.datum == "fitting"), None)
    if beside is not None and beside.part is not None and event.amount is not None and event.amount.value:
        marks = assembly.drafts.on_hoop(beside.part, hoop)
        place = replace(beside, both=False)
        return [draft(assembly, event, event.amount.value * d.quantity, hoop, d.spot, place) for d in marks]
    counted = [p for p in event.places if p.count is not None]
    if counted and len(counted) == len(event.places):
        told = _counted(assembly, event, hoop, n, spots)
        if told is not None:
            return told
    spread = _spread(event, n, spots)
    if not spread:
        return []
    base, extra = divmod(n, len(spread))
    numbers = [base + (1 if k < extra else 0) for k in range(len(spread))]
    return [draft(assembly, event, q, hoop, spot, place) for q, (spot, place) in zip(numbers, spread, strict=True) if q]


def _spread(event: Event, n: int, spots: list[Spot]) -> list[tuple[Spot, Place | None]]:
    """The places among which ``n`` pieces are shared out."""
    places: list[Place | None] = list(event.places) or [None]
    spread: list[tuple[Spot, Place | None]] = []
    for spot in spots:
        for place in places:
            if place is not None and place.both:
                spread += [(replace(spot, end="a"), place), (replace(spot, end="b"), place)]
            else:
                spread.append((spot, place))
    if len(spread) > n:
        # more places than pieces: the places describe one spot together ("900 mm up the left leg"), or sides of one place
        spread = [(spot, places[0]) for spot in spots] if len(spots) <= n else spread[:n]
    if len(spread) == 1 and n == 2 and spread[0][0].side is None and _two_sided(spread[0][1]):
        spot, place = spread[0]
        return [(replace(spot, side="left"), place), (replace(spot, side="right"), place)]
    return spread


def _two_sided(place: Place | None) -> bool:
    """Whether a place exists once on each side of the hoop."""
    return (
        place is None
        or place.datum in ("ground", "foot", "shoulder")
        or (place.offset_mm is not None and place.offset_mm > 0 and place.datum in ("ridge", "joint", "fitting") and not place.side)
    )


def _counted(assembly: Assembly, event: Event, hoop: int, n: int, spots: list[Spot]) -> list[Draft] | None:
    """Pieces whose places are told one by one: "one 300 mm to the left and one to the right"; None where the numbers do not add up."""
    total = sum(p.count or 1 for p in event.places)
    if total not in (n, n // max(len(spots), 1)):
        return None
    use = spots if total * len(spots) == n else [spots[0] if len(spots) == 1 else Spot()]
    out = []
    for spot in use:
        for place in event.places:
            count = place.count or 1
            halves = [replace(spot, end="a"), replace(spot, end="b")] if place.both and count % 2 == 0 else [spot]
            for half in halves:
                side = place.side or half.side
                out.append(draft(assembly, event, count // len(halves), hoop, replace(half, side=side), place))  # type: ignore[arg-type]
    return out


def draft(assembly: Assembly, event: Event, quantity: int, hoop: int, spot: Spot, place: Place | None) -> Draft:
    """A draft of the event's fitting on a hoop."""
    return Draft(
        event.parts[0],
        quantity,
        hoop,
        "hoop",
        event.step,
        event.source,
        spot,
        place,
        slide=event.slide,
        option=event.option,
        late=event.late,
        early=event.early,
        joint=spot.joint is not None or any(u.kind == "joint" for u in event.units),
        foot=any(u.kind == "foot" for u in event.units),
        sequence=assembly.sequence,
        event=event,
    )
