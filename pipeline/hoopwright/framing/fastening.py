"""Fasteners that a sentence calls for with the fitting that they hold."""

from __future__ import annotations

from hoopwright.framing.assembly import Assembly, number
from hoopwright.framing.drafts import Draft
from hoopwright.framing.hosts import Spot
from hoopwright.model.events import Event
from hoopwright.model.frame import Part


def fasten(assembly: Assembly, event: Event, part: Part) -> list[Draft]:
    """A fastener of the clause's own fitting: so many for each piece."""
    held = _held(assembly, event, part)
    made = []
    for d, quantity in zip(held, _quantities(assembly, event, held), strict=True):
        beside = event.member is None  # else it goes through another member as well, and is counted there
        made.append(
            Draft(
                part.name,
                quantity,
                d.hoop if beside else None,
                d.member if event.member is None else event.member,
                event.step,
                event.source,
                d.spot if beside else Spot(),
                d.place if beside else None,
                holds=d,
                option=event.option,
                sequence=assembly.sequence,
                event=event,
            )
        )
    if sum(d.quantity for d in held):
        assembly.drafts.add(made)
    return made


def _held(assembly: Assembly, event: Event, part: Part) -> list[Draft]:
    """What the fastener holds: what the clause itself has put on, or what of that part no such fastener holds yet."""
    group = assembly.groups[event.group]
    if event.holds is None:
        return []
    held = group[event.holds] if event.holds < len(group) else []
    owner = assembly.owners_of.get((event.group, event.holds))
    if not held and owner is not None:
        return assembly.drafts.bare(owner, part.name)
    return held


def _quantities(assembly: Assembly, event: Event, held: list[Draft]) -> list[int]:
    """How many for each of the drafts held."""
    if not held:
        return []
    n = number(event)
    per_hoop = sum(d.quantity for d in held if d.hoop == held[0].hoop)
    each = event.amount is not None and event.amount.each
    if assembly.parts[held[0].part].form == "fastener" and held[0].event is not None and (bolts := number(held[0].event, 0)) > 0:
        # "two bolts and four washers": shared out among the bolts where that comes out even
        return [n * d.quantity // bolts if n * d.quantity % bolts == 0 else n * d.quantity for d in held]
    ruled = {number(rule) for rule in assembly.rules if rule.fastener in event.parts and held[0].part in rule.owners}
    # "A clamp goes round each leg and is closed with two bolts": each is
    apart = held[0].event is not None and any(u.each for u in held[0].event.units) and held[0].quantity == 1
    if not each and per_hoop > 1 and n == per_hoop and not event.definite and ruled != {n} and not apart:
        return [d.quantity for d in held]
    return [n * d.quantity for d in held]
