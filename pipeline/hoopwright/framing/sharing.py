"""How many of a fitting one hoop takes: a number for each place, for each hoop, or a total to be shared out."""

from __future__ import annotations

from hoopwright.framing.assembly import Assembly
from hoopwright.framing.hosts import Spot
from hoopwright.model.events import Amount, Event
from hoopwright.model.frame import Part


def share(assembly: Assembly, event: Event, part: Part, hoops: tuple[int, ...], spots: list[Spot], shared: bool) -> tuple[int, bool]:
    """(how many on one hoop, whether a total may be meant instead, or the other way round). ``shared``: as from ``Hosts.spots``."""
    amount = event.amount
    if amount is None or amount.value is None:
        return len(spots), False
    n = amount.value
    selector = event.hoops
    bare = selector is not None and not selector.each and len(hoops) > 1 and selector.kind != "topic" and selector.text != ""
    if n == 1 and any(p.both for p in event.places) and not any(p.count for p in event.places):
        n = 2
    if event.per == "row":
        return n * (len(spots) if amount.each or (n == 1 and shared) else 1), False
    if event.per == "row-total" or amount.total:
        return max(1, n // max(len(hoops), 1)), False
    if _at_each_place(event, spots, shared):
        return n * len(spots), False
    if amount.each:
        return n * (1 if bare else len(spots)), False
    if bare:
        return _on_bare_plural(assembly, event, part, amount, n, len(hoops), len(spots) if shared else 1)
    if len(spots) > 1 and not shared and n % len(spots) == 0:
        return n, False
    return n * len(spots), False


def _at_each_place(event: Event, spots: list[Spot], shared: bool) -> bool:
    """ "Two on each leg", "300 mm from each joint": the number is for each of the places on a hoop."""
    told = shared and bool(spots) and any(u.each or u.side for u in event.units if u.kind != "member")
    return told or any(p.each for p in event.places)


def _on_bare_plural(assembly: Assembly, event: Event, part: Part, amount: Amount, n: int, hoops: int, singles: int) -> tuple[int, bool]:
    """ "Twelve clips on the end hoops": in all, or on each? The parts list decides where it can."""
    if n == 1:
        return singles, False
    if n % hoops or n < hoops:
        return n, False
    left = assembly.left(part.name)
    if event.hoops is not None and event.hoops.kind in ("numbers", "join"):
        return n if left is None or left >= n * hoops else n // hoops, True
    return (n, True) if left == n * hoops else (n // hoops, n != hoops)
