"""Questions that arise on the hoops: how many of a range, in all or on each, which of the hoops."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import islice

from hoopwright.framing.assembly import Assembly, names, names_of, number, words
from hoopwright.framing.drafts import Draft
from hoopwright.model.events import Event
from hoopwright.model.frame import Part


def ask_range(assembly: Assembly, event: Event, made: list[Draft]) -> None:
    """ "Two or three clips": the lower number is taken."""
    amount = event.amount
    assert amount is not None
    assembly.ask(
        "quantity",
        event.parts[0],
        names_of(made),
        event,
        f"The manual says {amount.text} {event.parts[0]}: how many?",
        (f"{amount.value}", f"{amount.high}"),
        f"{amount.value}",
    )
    for d in made:
        d.assumed.append(f"{amount.value} of {amount.text}: the lower number")


def ask_total_or_each(assembly: Assembly, event: Event, part: Part, hoops: tuple[int, ...], made: list[Draft], per_hoop: int) -> None:
    """ "Twelve clips on the end hoops": ``per_hoop`` is what is taken."""
    n = number(event, 0)
    used = f"{per_hoop} on each"
    other = f"{n} on each" if per_hoop != n else f"{n} in all, {n // max(1, len(hoops))} on each"
    message = f"{n} {part.name} on {len(hoops)} hoops: in all, or on each?"
    assembly.ask("quantity", part.name, names(hoops), event, message, (used, other), used)
    for d in made:
        d.assumed.append(f"read as {used}")


def ask_each_post(assembly: Assembly, event: Event, part: Part, made: list[Draft]) -> None:
    """ "Fasten the hoops to the ground posts with two screws": to each post, or to each hoop? As many as the list has."""
    n = number(event, 0) or 1
    left = assembly.left(part.name)
    each_post = left is None or left >= sum(d.quantity for d in made)
    if each_post:
        for d in made:
            assembly.drafts.take(d, d.quantity * 2)
    readings = (f"{n} at each post, {2 * n} to a hoop", f"{n} to a hoop")
    message = f"{n} {part.name}: for each post, or for each hoop?"
    assembly.ask("quantity", part.name, names_of(made), event, message, readings, readings[0] if each_post else readings[1])


def ask_which_half(assembly: Assembly, event: Event, part: Part, hoops: tuple[int, ...]) -> None:
    """ "Every second hoop" without a word on where to begin."""
    named = set(hoops)
    other = [h for h in range(1, assembly.hosts.n + 1) if h not in named]
    message = f"'{words(event.hoops)}': starting with which hoop?"
    assembly.ask("member", part.name, names(hoops), event, message, (_listed(hoops), _listed(other)), _listed(hoops))


def ask_which_middle(assembly: Assembly, event: Event, part: Part, hoops: tuple[int, ...]) -> None:
    """ "The middle hoop" of an even number."""
    n = assembly.hosts.n
    readings = (f"hoop {n // 2}", f"hoop {n // 2 + 1}")
    message = f"'{words(event.hoops)}' of {n} hoops: which one?"
    assembly.ask("member", part.name, names(hoops), event, message, readings, f"hoop {hoops[0]}")


def middle_hoops(assembly: Assembly, event: Event, part: Part, hoops: tuple[int, ...]) -> tuple[int, ...]:
    """ "The middle hoops", where the manual does not say which: as many as the parts list has pieces for, around the middle."""
    listed = part.listed
    inner = len(hoops)
    chosen = hoops
    if listed is not None and 0 < listed < inner and (inner - listed) % 2 == 0:
        cut = (inner - listed) // 2
        chosen = hoops[cut : inner - cut]
    sizes = range(1 if assembly.hosts.n % 2 else 2, inner + 1, 2)
    centred = (hoops[(inner - n) // 2 : (inner + n) // 2] for n in sizes)
    others = islice((hs for hs in centred if hs != chosen), 2)
    message = f"'{words(event.hoops)}': which hoops are meant?"
    assembly.ask("member", part.name, names(chosen), event, message, (_listed(chosen), *map(_listed, others)), _listed(chosen))
    return chosen


def _listed(hoops: Iterable[int]) -> str:
    return "hoops " + ", ".join(map(str, hoops))
