"""Settles at the end what the sentences left open: numbers that are not given, and what was told in full, or anew, later."""

from __future__ import annotations

from collections.abc import Iterable

from hoopwright.framing.assembly import Assembly, names_of
from hoopwright.framing.drafts import Draft
from hoopwright.framing.restated import place_tabled, restated
from hoopwright.framing.said_again import report_conflict
from hoopwright.model.events import Event


def drop_announced(assembly: Assembly) -> None:
    """ "Slide on the wire rings", or what a bar has at its ends: only the announcement, where the text then tells hoop by hoop."""
    drafts = assembly.drafts
    for event, made in assembly.announced:
        if not event.parts:
            continue
        mine = {id(d) for d in made}
        later: Iterable[Draft]
        if event.per == "described":
            later = drafts.every.by_part.get(event.parts[0], {}).values()
        else:
            later = (d for d in drafts.in_step(event.parts[0], event.step) if d.sequence > made[0].sequence)
        if any(id(d) not in mine for d in later):
            drafts.forget(made)


def drop_told_twice(assembly: Assembly) -> None:
    """A table and the steps that say where, or a number told anew: the same pieces, where the parts list has no more."""
    drafts = assembly.drafts
    drafts.forget(place_tabled(list(drafts)))
    for found in restated(list(drafts), assembly.parts):
        if found.differs and (event := found.new[0].event) is not None and _numbered(found.old[0].event):
            report_conflict(assembly, event, assembly.parts[found.part], found.hoops, list(found.old), list(found.new))
        drafts.forget(found.old)
        step = found.old[0].step
        for d in found.new:
            d.assumed.append(f"step {assembly.steps.label(step) or step} speaks of the same pieces")


def _numbered(event: Event | None) -> bool:
    """Whether a statement gives a number: "a sleeve where leg and bend meet" and "all the others" say what, not how many on a hoop."""
    amount = event.amount if event is not None else None
    return amount is not None and amount.text.lower() not in ("", "a", "an", "another", "other", "the other")


def settle_open_numbers(assembly: Assembly) -> None:
    """Where no number is given: what the parts list leaves, if it divides evenly among the places; else one at each."""
    for event, made in assembly.open_numbers:
        alive = [d for d in made if d in assembly.drafts]
        if not alive:
            continue
        told = assembly.drafts.in_step(alive[0].part, event.step)
        if any(d.event is not event and d.sequence > alive[0].sequence for d in told):
            assembly.drafts.forget(alive)  # "close both joints with screws", and then how many, hoop by hoop
        else:
            _settle(assembly, event, alive)


def _settle(assembly: Assembly, event: Event, made: list[Draft]) -> None:
    name = made[0].part
    places = len(made)
    left = assembly.left(name)
    if left is not None:
        left += sum(d.quantity for d in made)  # these are not settled yet
    quantity = left // places if left is not None and left > 0 and left % places == 0 else 1
    for d in made:
        assembly.drafts.take(d, quantity)
        d.assumed.append("number not given: " + ("what the parts list leaves" if quantity * places == left else "one at each place"))
    if event.definite and quantity == 1 and left == places:
        return  # the parts list leaves no doubt
    number = f"{quantity} at each place"
    message = f"How many {name} at each place? The manual gives no number."
    assembly.ask("quantity", name, names_of(made), event, message, (number,), number)
