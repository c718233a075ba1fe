"""Pieces that two places of a manual speak of: a table that gives the numbers and the steps that say where, or a number told anew.

The parts list decides: only where the pieces of both together are more than it supplies, and those of the later place alone are not,
the earlier place is taken to speak of the same pieces.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from hoopwright.framing.drafts import Draft
from hoopwright.model.frame import Part


@dataclass(frozen=True, slots=True)
class Restated:
    """``old`` gives way to ``new``; ``differs`` if the two give different numbers on a hoop that both speak of."""

    part: str
    hoops: tuple[int, ...]
    old: tuple[Draft, ...]
    new: tuple[Draft, ...]
    differs: bool


def place_tabled(drafts: Sequence[Draft]) -> list[Draft]:
    """Read "Ridge clamps are slid over the upper end" behind a table of their numbers: where those pieces go, and no more of them.

    Gives places to the table's drafts where a sentence without a number of its own has some; the sentence's drafts come back, to be
    taken out.
    """
    tabled: dict[tuple[str, int], list[Draft]] = defaultdict(list)
    for d in drafts:
        if d.hoop is not None and _from_table(d):
            tabled[d.part, d.hoop].append(d)
    since: dict[str, int] = {}  # where the table first tells of each part
    for (part, _), found in tabled.items():
        since[part] = min(since.get(part, found[0].sequence), *(t.sequence for t in found))
    gone: list[Draft] = []
    for d in drafts:
        if d.part not in since or d.hoop is None or _from_table(d) or not _open(d) or _more(d):
            continue
        rows = [t for t in tabled.get((d.part, d.hoop), ()) if t.sequence < d.sequence]
        if not rows and since[d.part] >= d.sequence:
            continue
        gone.append(d)
        for row in rows:
            if row.place is None:
                row.place, row.spot = d.place, d.spot
            break
    return gone


def restated(drafts: Sequence[Draft], parts: Mapping[str, Part]) -> list[Restated]:
    """The statements that a later one stands for, part by part."""
    mine: dict[str, list[Draft]] = defaultdict(list)
    for d in drafts:
        mine[d.part].append(d)
    found: list[Restated] = []
    for name, own in mine.items():
        listed = parts[name].listed
        if listed is None or (parts[name].form == "fastener" and any(d.holds is not None for d in own)):
            continue
        excess = sum(d.quantity for d in own) - listed
        if excess > 0 and (best := _explains(name, own, excess)) is not None:
            found.append(best)
    return found


def _explains(name: str, own: list[Draft], excess: int) -> Restated | None:
    """The statement whose pieces told again later are just the excess over the parts list; a table goes before sentences."""
    groups: dict[object, list[Draft]] = defaultdict(list)
    for d in own:
        if d.hoop is not None and not _open(d):
            groups[d.event.table or id(d.event) if d.event is not None else id(d)].append(d)
    on_hoop: dict[int | None, list[Draft]] = defaultdict(list)
    for d in own:
        on_hoop[d.hoop].append(d)
    order = sorted(groups.values(), key=lambda group: (not _from_table(group[0]), group[0].sequence))
    for group in order:
        first = group[0]
        later = {
            hoop: [d for d in on_hoop[hoop] if d.sequence > first.sequence and d.step != first.step and not _more(d)]
            for hoop in dict.fromkeys(d.hoop for d in group)
        }
        old = [d for d in group if later[d.hoop] and not _told_elsewhere(d, later[d.hoop])]
        if old and sum(d.quantity for d in old) == excess:
            new = sorted((d for hoop in {d.hoop for d in old} for d in later[hoop]), key=lambda d: d.serial)
            told = tuple(sorted(h for h in {d.hoop for d in old} if h is not None))
            return Restated(name, told, tuple(old), tuple(new), _per_hoop(old) != _per_hoop(new))
    return None


def _told_elsewhere(d: Draft, later: Iterable[Draft]) -> bool:
    """Whether the draft's place is measured and none of the later ones on its hoop can be the same."""
    if d.place is None or d.place.offset_mm is None:
        return False
    return not any(x.place is None or x.place.offset_mm in (None, d.place.offset_mm) for x in later)


def _per_hoop(drafts: Iterable[Draft]) -> Counter[int | None]:
    count: Counter[int | None] = Counter()
    for d in drafts:
        count[d.hoop] += d.quantity
    return count


def _from_table(d: Draft) -> bool:
    return d.event is not None and d.event.table is not None


def _open(d: Draft) -> bool:
    return d.event is not None and (d.event.amount is None or d.event.amount.value is None)


def _more(d: Draft) -> bool:
    return d.event is not None and d.event.more
