"""Dresses the hoops: a fitting that a sentence calls for, on every hoop that it speaks of."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.framing.assembly import Assembly, names, number
from hoopwright.framing.doubting import ask_each_post, ask_range, ask_total_or_each, ask_which_half, ask_which_middle, middle_hoops
from hoopwright.framing.drafts import Draft
from hoopwright.framing.hosts import Spot
from hoopwright.framing.laying_out import lay_out
from hoopwright.framing.members import bars_described
from hoopwright.framing.said_again import corrected, drop_restated, replace_vague, said_already
from hoopwright.framing.sharing import share
from hoopwright.model.events import Event
from hoopwright.model.frame import Part

_STANDING = {"post", "tube", "stake", "socket"}  # what a hoop's feet are fastened to


def dress(assembly: Assembly, event: Event, part: Part, called: bool) -> list[Draft]:
    """The drafts that the event makes. ``called`` as in ``add``."""
    if event.steps:
        event = corrected(assembly, event)
    hoops = assembly.hoops(event)
    if event.hoops is not None and event.hoops.kind == "inner" and event.hoops.stated == -2 and assembly.hosts.n > 3:
        hoops = middle_hoops(assembly, event, part, hoops)
    spots, shared = assembly.hosts.spots(event)
    if part.form == "sleeve" and not any(u.kind in ("joint", "end") or u.each for u in event.units):
        spots = [Spot("centre") if assembly.hosts.joints == 1 else Spot()]
    if not called and said_already(assembly, event, part, hoops, spots):
        return []
    per_hoop, ambiguous = share(assembly, event, part, hoops, spots, shared)
    if (bars := _bars_per_hoop(assembly, event, part, hoops, spots)) is not None:
        per_hoop, ambiguous = bars, False
        if bars == 2:
            spots = [replace(spots[0], side="left"), replace(spots[0], side="right")]
    made = [d for hoop in hoops for d in lay_out(assembly, event, hoop, per_hoop, spots)]
    if not called:
        made = drop_restated(assembly, event, made)
        replace_vague(assembly, event, part, hoops, made)
    assembly.drafts.add(made)
    _leave_open(assembly, event, part, made, len(spots) == 1 and not shared)
    if _to_posts(event, part, made):
        ask_each_post(assembly, event, part, made)
    if ambiguous:
        ask_total_or_each(assembly, event, part, hoops, made, per_hoop)
    _ask_where(assembly, event, part, hoops)
    return made


def _bars_per_hoop(assembly: Assembly, event: Event, part: Part, hoops: tuple[int, ...], spots: list[Spot]) -> int | None:
    """How many bars end on each hoop, where the step goes on to tell at which place the bars' ends are; else None."""
    bars = bars_described(assembly, event, part)
    if not bars or not hoops or bars % len(hoops):
        return None
    if len(spots) != 1 or spots[0].side not in (None, "centre") or number(event) != 1:
        return None
    return bars // len(hoops)


def _leave_open(assembly: Assembly, event: Event, part: Part, made: list[Draft], one_place: bool) -> None:
    """Note what only the parts list or later sentences can settle."""
    amount = event.amount
    if amount is not None and amount.open == "range":
        ask_range(assembly, event, made)
    elif amount is not None and amount.value is None and not event.definite:
        assembly.open_numbers.append((event, made))
    whole = event.hoops is None or event.hoops.kind == "all"
    if (event.definite and amount is None and made and whole) or event.per == "described":
        assembly.announce(event, made)
    if (
        amount is None
        and event.definite
        and event.verb is not None
        and one_place
        and part.listed not in (None, len(made))
        and part.form != "fastener"
    ):
        assembly.open_numbers.append((event, made))


def _to_posts(event: Event, part: Part, made: list[Draft]) -> bool:
    """Whether fasteners hold the hoops to posts or ground tubes, and the words do not say whether the number is for each of these."""
    return bool(
        part.form == "fastener"
        and made
        and event.bar
        and _STANDING & set(event.bar.replace("|", " ").split())
        and not event.units
        and event.hoops is not None
        and not event.hoops.each
        and event.amount is not None
        and event.amount.value is not None
        and not any(d.foot or d.joint for d in made)
    )


def _ask_where(assembly: Assembly, event: Event, part: Part, hoops: tuple[int, ...]) -> None:
    """Questions about the hoops and the place."""
    selector = event.hoops
    if selector is not None and selector.kind == "nth" and selector.step == 2 and selector.stated is None:
        ask_which_half(assembly, event, part, hoops)
    if selector is not None and selector.kind == "middle" and assembly.hosts.n % 2 == 0:
        ask_which_middle(assembly, event, part, hoops)
    if any(p.figure for p in event.places):
        assembly.ask("position", part.name, names(hoops), event, f"The place of the {part.name} is only in a figure.")
