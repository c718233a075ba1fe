"""``conflict``: two sentences that give different numbers for the same thing, where neither corrects the other.

Three pairs are held against each other: a rule and another rule for the same fastener of the same fitting; a rule and a step that itself
says how many; a statement that adds nothing (a summary, a table for checking, the description of the frame) and what the steps put on.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence

from hoopwright.framing.drafts import Draft
from hoopwright.framing.hosts import Hosts
from hoopwright.framing.parts_apart import claimed_for_another
from hoopwright.model.events import Event
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Finding

TOGETHER = re.compile(r"\b(?:together|altogether|in all|in total|total)\b", re.IGNORECASE)
ADVICE = "Ask the maker which number is right before the hoops are joined."


def disagreements(
    rules: Sequence[Event], claims: Sequence[Event], drafts: Sequence[Draft], hosts: Hosts, corrects: Callable[[str], bool]
) -> list[Finding]:
    """One finding for each pair of statements that differ, with the hoops concerned. ``corrects``: whether a step is a correction."""
    plain = [rule for rule in rules if _tells_a_number(rule) and not corrects(rule.step)]
    found = [
        *_rules_apart(plain, drafts),
        *_rules_and_steps(plain, drafts, corrects),
        *_claims_apart(claims, drafts, hosts),
        *_fetched_apart(claims, drafts),
        *claimed_for_another(claims, drafts, hosts),
    ]
    return list({(finding.fitting, finding.hoops): finding for finding in reversed(found)}.values())[::-1]


def _tells_a_number(rule: Event) -> bool:
    amount = rule.amount
    number = amount is not None and amount.value is not None and amount.open is None
    return number and len(rule.owners) == 1 and rule.fastener is not None and not rule.more and not rule.within and not rule.steps


def _number(event: Event) -> int:
    return event.amount.value or 0 if event.amount is not None else 0


def _rules_apart(rules: Sequence[Event], drafts: Iterable[Draft]) -> Iterable[Finding]:
    """Two rules for the same fastener of the same fitting; the one whose fasteners were placed is the one that was counted."""
    for place, first in enumerate(rules):
        for then in rules[place + 1 :]:
            same = (first.owners, first.fastener) == (then.owners, then.fastener)
            if same and _number(first) != _number(then) and first.step != then.step:
                mine = [d for d in drafts if d.part == first.fastener and d.event in (first, then)]
                counted = next((d.event for d in mine if d.event is not None), then)
                other = first if counted is then else then
                numbers = (_number(other), _number(counted))
                yield _finding(first.fastener or "", mine, f"to each {first.owners[0]}", other.source, counted.source, numbers)


def _rules_and_steps(rules: Sequence[Event], drafts: Sequence[Draft], corrects: Callable[[str], bool]) -> Iterable[Finding]:
    """A rule, and steps that give the fastener another number in so many words."""
    for rule in rules:
        apart = [
            d
            for d in drafts
            if d.part == rule.fastener
            and d.holds is not None
            and d.holds.part == rule.owners[0]
            and d.event is not None
            and d.event.kind == "add"
            and d.event.step != rule.step
            and not corrects(d.step)
            and _tells(d.event)
            and d.quantity != _number(rule) * d.holds.quantity
        ]
        if apart:
            first = apart[0]
            per = first.quantity // max(1, first.holds.quantity if first.holds is not None else 1)
            yield _finding(first.part, apart, f"to each {rule.owners[0]}", rule.source, first.source, (_number(rule), per))


def _tells(event: Event) -> bool:
    return event.amount is not None and event.amount.value is not None and event.amount.open is None


def _claims_apart(claims: Sequence[Event], drafts: Sequence[Draft], hosts: Hosts) -> Iterable[Finding]:
    """Statements that add nothing against what was put on the hoops that they name, in whichever sense they can be true."""
    by_cell: dict[tuple[str, int], list[Draft]] = {}
    for draft in drafts:
        if draft.hoop is not None:
            by_cell.setdefault((draft.part, draft.hoop), []).append(draft)
    apart: dict[tuple[str, Source | None], list[tuple[int, Event, int]]] = {}
    for claim in claims:
        if len(claim.parts) != 1 or not _tells(claim) or claim.per not in ("row", "claim") or claim.member is not None:
            continue
        spots = len(hosts.spots(claim)[0]) if claim.per == "claim" else 1
        hoops = hosts.hoops(claim.hoops)
        have = {hoop: sum(d.quantity for d in by_cell.get((claim.parts[0], hoop), [])) for hoop in hoops}
        if sum(have.values()) == _number(claim) and TOGETHER.search(claim.source.quote):
            continue
        # "Two pins, four screws at the joints": whether the pins are for each joint is not said; "each foot has two" says it.
        right = {_number(claim) * spots} | (set() if any(unit.each for unit in claim.units) else {_number(claim)})
        for hoop in hoops:
            if have[hoop] not in right:
                key = (claim.parts[0], claim.source if claim.per == "claim" else None)
                apart.setdefault(key, []).append((hoop, claim, _number(claim) * spots))
    for (part, _), cells in apart.items():
        hoop, claim, wanted = cells[0]
        mine = [d for h, _, _ in cells for d in by_cell.get((part, h), [])]
        if mine:
            number = sum(d.quantity for d in by_cell.get((part, hoop), []))
            yield _finding(part, mine, "on the hoop", claim.source, mine[0].source, (wanted, number), [h for h, _, _ in cells])


def _fetched_apart(claims: Sequence[Event], drafts: Sequence[Draft]) -> Iterable[Finding]:
    """What a step says to fetch of a fitting ("Take: 6 side tees") against what the same step puts on."""
    for claim in claims:
        if claim.per != "card" or not _tells(claim) or claim.amount is None or not claim.amount.total:
            continue
        mine = [d for d in drafts if d.part == claim.parts[0] and d.step == claim.step]
        number = sum(d.quantity for d in mine)
        if mine and number not in (_number(claim), claim.amount.high):
            yield _finding(claim.parts[0], mine, "for the step", claim.source, mine[0].source, (_number(claim), number))


def _finding(
    part: str, drafts: Sequence[Draft], unit: str, other: Source, counted: Source, numbers: tuple[int, int], hoops: Sequence[int] = ()
) -> Finding:
    on = tuple(f"H{h}" for h in sorted({d.hoop for d in drafts if d.hoop is not None} | set(hoops)))
    steps = tuple(dict.fromkeys(d.step for d in drafts))[:1]
    message = (
        f'The manual says {numbers[0]} {part} {unit} ("{other.quote}", page {other.page}) and {numbers[1]} '
        f'("{counted.quote}", page {counted.page}). Counted: {numbers[1]}.'
    )
    return Finding("conflict", part, on, steps, message, ADVICE, sources=(other, counted))
