"""Fittings that the manual speaks of more than once: said again, told again with a place, corrected."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace

from hoopwright.framing.assembly import Assembly, names, number
from hoopwright.framing.drafts import Draft
from hoopwright.framing.hosts import Spot
from hoopwright.model.events import Event, Selector
from hoopwright.model.frame import Part
from hoopwright.model.schedule import Finding

_ANAPHORS = frozenset(["one", "two", "three", "four"])


def said_already(assembly: Assembly, event: Event, part: Part, hoops: tuple[int, ...], spots: list[Spot]) -> bool:
    """Whether the event only speaks of what is on these hoops already: "the clips", "all six hoops get one"."""
    amount = event.amount
    numbered = amount is not None and amount.value and event.text.lower() in _ANAPHORS and not event.places and not event.units
    if event.more or not (event.definite or numbered):
        return False
    already = assembly.drafts.on(part.name, hoops)
    if not already:
        return False
    if event.definite and (amount is None or amount.value is None or _same_number(already, hoops, amount.value, spots)):
        return True
    here = _per_hoop(d for d in already if d.step == event.step)
    return bool(numbered and here) and all(here[hoop] == number(event) for hoop in hoops)


def _same_number(already: list[Draft], hoops: tuple[int, ...], n: int, spots: list[Spot]) -> bool:
    """Whether a number is that of one hoop, or of all of them."""
    per = _per_hoop(already)
    total = sum(per.values())
    return total == n or not {per[hoop] for hoop in hoops}.isdisjoint({n, n * len(spots), total})


def _per_hoop(drafts: Iterable[Draft]) -> Counter[int | None]:
    """How many pieces on each hoop."""
    per: Counter[int | None] = Counter()
    for d in drafts:
        if d.quantity > 0:
            per[d.hoop] += d.quantity
    return per


def drop_restated(assembly: Assembly, event: Event, made: list[Draft]) -> list[Draft]:
    """The same part at the same stated place again is the same piece, not another one."""
    if event.more:
        return made
    return [d for d in made if not (d.measured and _stands(assembly, event, d))]


def _stands(assembly: Assembly, event: Event, d: Draft) -> bool:
    """Whether another step has put such a fitting at the same place."""
    where = d.where()
    return any(x.step != event.step and x.measured and x.where() == where for x in assembly.drafts.on_hoop(d.part, d.hoop))


def replace_vague(assembly: Assembly, event: Event, part: Part, hoops: tuple[int, ...], made: list[Draft]) -> None:
    """The same number of a part on the same hoops, told again in one step with its place, is the same pieces.

    A table's row that the step itself contradicts gives way.
    """
    if event.more or not made:
        return
    wanted = set(hoops)
    old = [d for d in assembly.drafts.in_step(part.name, event.step) if d.hoop in wanted and d.sequence != assembly.sequence]
    if not old or {d.hoop for d in old} != wanted:
        return
    if event.table is not None:
        if all(d.event is not None and d.event.definite and d.event.amount is None for d in old):
            assembly.drafts.forget(old)
        return
    same = _per_hoop(old) == _per_hoop(made)
    if all(d.event is not None and d.event.table is not None for d in old):
        if not same:
            report_conflict(assembly, event, part, hoops, old, made)
        assembly.drafts.forget(old)
    elif same and any(d.measured for d in made) and not any(d.measured for d in old):
        assembly.drafts.forget(old)


def report_conflict(assembly: Assembly, event: Event, part: Part, hoops: tuple[int, ...], old: list[Draft], new: list[Draft]) -> None:
    """Two numbers for the same pieces: the new one is counted, the user hears of both; unless it is a correction."""
    if event.step in assembly.steps.correcting:
        return
    n_old, n_new = (sum(d.quantity for d in drafts) // max(1, len({d.hoop for d in drafts})) for drafts in (old, new))
    a, b = old[0].source, event.source
    assembly.findings.append(
        Finding(
            "conflict",
            part.name,
            names(hoops),
            (event.step,),
            f'The manual says {n_old} {part.name} on each hoop ("{a.quote}", page {a.page}) and {n_new} '
            f'("{b.quote}", page {b.page}). Counted: {n_new}.',
            "Ask the maker which number is right before the hoops are joined.",
            sources=(a, b),
        )
    )


def corrected(assembly: Assembly, event: Event) -> Event:
    """A correction takes the place of what the step said of the same part; it keeps its hoops and spots where it names none."""
    wanted = assembly.steps.corrected(event.steps, event.step)
    old = [d for d in assembly.drafts.of_parts(event.parts, wanted) if d.hoop is not None]
    if not old:
        return event
    first = old[0].event
    hoops = event.hoops
    if hoops is not None and hoops.text:
        named = set(assembly.hosts.hoops(hoops))
        old = [d for d in old if d.hoop in named]  # a correction for some hoops leaves the others as they are
    else:
        hoops = Selector("numbers", tuple(sorted({d.hoop for d in old if d.hoop is not None})), each=True, text="as corrected")
    assembly.drafts.forget(old)
    # It is done when the step that it corrects is done, not at the end where the slip is bound in.
    return replace(event, hoops=hoops, units=event.units or (first.units if first is not None else ()), step=old[0].step)
