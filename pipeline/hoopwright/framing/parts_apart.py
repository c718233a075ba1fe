"""``conflict`` of parts: two places of a manual name different parts for the same job, and the list shows that not both can be meant."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations

from hoopwright.framing.assembly import Assembly, names
from hoopwright.framing.drafts import Draft
from hoopwright.framing.hosts import Hosts
from hoopwright.model.events import Event
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Finding

_GO_WITH_OTHERS = frozenset({"nut", "washer"})  # a bolt may well have two kinds of these
ADVICE = "Ask the maker which of the two parts is meant, and look in the bag for both, before you begin."


def drop_parts_apart(assembly: Assembly) -> None:
    """Two kinds of bolt (screw, pin …) told for one fitting in two places: what the parts list has not enough of goes, and the user hears.

    A fitting may well take both. Only where the list lacks just the pieces that one of the two statements calls for, they contradict.
    """
    pairs: dict[tuple[str, str, str], tuple[list[Draft], list[Draft]]] = {}
    for owner in list(assembly.drafts):
        for one, other in combinations(sorted(assembly.drafts.fasteners(owner), key=lambda d: d.serial), 2):
            if _same_job(one, other):
                first, second = pairs.setdefault((owner.part, one.part, other.part), ([], []))
                first.append(one)
                second.append(other)
    for (owner_part, _, _), (first, second) in pairs.items():
        lacking = [group for group in (first, second) if _lacks(assembly, group)]
        if lacking:
            gone = lacking[0]
            kept = second if gone is first else first
            assembly.findings.append(_finding(f"each {owner_part}", gone[0].part, gone[0].source, kept))
            assembly.drafts.forget(gone)


def _same_job(one: Draft, other: Draft) -> bool:
    heads = {d.part.split()[-1] for d in (one, other)}
    return one.part != other.part and len(heads) == 1 and heads.isdisjoint(_GO_WITH_OTHERS) and one.source != other.source


def _lacks(assembly: Assembly, group: Sequence[Draft]) -> bool:
    """Whether the parts list has just so many fewer of the part than all statements together call for."""
    part = assembly.parts[group[0].part]
    if not any(other.in_list for other in assembly.parts.values()):
        return False
    listed = part.listed if part.in_list else 0
    return listed is not None and assembly.drafts.pieces(part.name) - listed == sum({id(d): d.quantity for d in group}.values())


def claimed_for_another(claims: Sequence[Event], drafts: Sequence[Draft], hosts: Hosts) -> Iterator[Finding]:
    """ "Each hoop has two brace clamps" where the steps put two side clamps on it, of which no such sentence speaks, and no brace clamp."""
    used = {d.part for d in drafts}
    spoken = {(claim.step, part) for claim in claims for part in claim.parts}
    for claim in claims:
        amount = claim.amount
        if len(claim.parts) != 1 or claim.parts[0] in used or amount is None or not amount.value or amount.open is not None or claim.member:
            continue
        hoops = hosts.hoops(claim.hoops)
        number = amount.value * (len(hosts.spots(claim)[0]) if claim.per == "claim" else 1)
        mine = [d for d in drafts if d.hoop in hoops and d.part.split()[-1] == claim.parts[0].split()[-1] and d.holds is None]
        others = [part for part in dict.fromkeys(d.part for d in mine) if (claim.step, part) not in spoken]
        fit = [part for part in others if all(_number(mine, part, hoop) == number for hoop in hoops)]
        if len(fit) == 1 == len(others):
            yield _finding("the same place", claim.parts[0], claim.source, [d for d in mine if d.part == fit[0]])


def _number(drafts: Iterable[Draft], part: str, hoop: int) -> int:
    return sum(d.quantity for d in drafts if d.part == part and d.hoop == hoop)


def _finding(what: str, other: str, source: Source, kept: Sequence[Draft]) -> Finding:
    first = kept[0]
    message = (
        f'For {what} the manual names the {other} ("{source.quote}", page {source.page}) and the {first.part} '
        f'("{first.source.quote}", page {first.source.page}). Counted: the {first.part}.'
    )
    hoops = names(sorted({d.hoop for d in kept if d.hoop is not None}))
    return Finding("conflict", first.part, hoops, (first.step,), message, ADVICE, sources=(source, first.source))
