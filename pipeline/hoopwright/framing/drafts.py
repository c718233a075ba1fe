"""Calls in the making, and the register that finds them by part, hoop, step and section without a search over all of them."""

from __future__ import annotations

from bisect import insort
from collections import Counter, defaultdict
from collections.abc import Hashable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import TypeVar

from hoopwright.framing.hosts import Spot
from hoopwright.framing.steps import Steps
from hoopwright.model.events import Event, Place
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Side

_Key = TypeVar("_Key", bound=Hashable)
Bucket = dict[int, "Draft"]  # by serial number, which is the order of making as long as nothing is put back


@dataclass
class Draft:
    """A call in the making. Its part, hoop, member, step and what it holds stay; ``quantity`` changes by ``Drafts.take``."""

    part: str
    quantity: int
    hoop: int | None
    member: str
    step: str
    source: Source
    spot: Spot = field(default_factory=Spot)
    place: Place | None = None
    slide: bool | None = None
    holds: Draft | None = None
    assumed: list[str] = field(default_factory=list)
    option: str | None = None
    late: bool = False
    early: bool = False
    joint: bool = False  # goes through or into a joint of the hoop
    foot: bool = False
    sequence: int = 0  # of the event that it came from
    event: Event | None = None
    serial: int = field(default=0, compare=False)  # given by the register

    @property
    def side(self) -> Side | None:
        """Left, right or centre, from the spot or the place."""
        return self.spot.side or (self.place.side if self.place is not None else None)  # type: ignore[return-value]

    @property
    def measured(self) -> bool:
        """Whether its place is a distance."""
        return self.place is not None and self.place.offset_mm is not None

    def where(self) -> tuple[object, ...]:
        """What makes two calls the same place."""
        p = self.place
        return (
            self.hoop,
            self.member,
            self.side,
            self.spot.joint,
            self.spot.end,
            None if p is None else (p.datum, p.offset_mm, p.way, p.part),
        )


class Group:
    """Some of the drafts in order, and those of each hoop and part; a hoop or part without a draft has no entry."""

    __slots__ = ("all", "by_hoop", "by_part")

    def __init__(self, drafts: Iterable[Draft] = ()) -> None:
        self.all: Bucket = {}
        self.by_hoop: dict[int | None, Bucket] = {}
        self.by_part: dict[str, Bucket] = {}
        for d in drafts:
            self.add(d)

    def add(self, d: Draft) -> None:
        """Put a draft behind the others."""
        self.all[d.serial] = d
        self.by_hoop.setdefault(d.hoop, {})[d.serial] = d
        self.by_part.setdefault(d.part, {})[d.serial] = d

    def remove(self, d: Draft) -> None:
        """Take out a draft that is in."""
        del self.all[d.serial]
        _drop(self.by_hoop, d.hoop, d)
        _drop(self.by_part, d.part, d)


class Drafts:
    """Every draft in the order of making."""

    def __init__(self, steps: Steps) -> None:
        self._steps = steps
        self._made = 0
        self.every = Group()
        self.of_step: defaultdict[str, Group] = defaultdict(Group)
        self.of_section: defaultdict[str, Group] = defaultdict(Group)
        self._steps_used: defaultdict[str, list[int]] = defaultdict(list)  # of each section, ascending; some may be empty again
        self._of_part_on_hoop: dict[tuple[str, int | None], Bucket] = {}
        self._of_sequence: dict[int, Bucket] = {}
        self._on_member: Counter[tuple[str, str]] = Counter()
        self._pieces: Counter[str] = Counter()
        self._fasteners: dict[int, Bucket] = {}  # by id: what is held need not be in the register any more
        self._bare: defaultdict[str, dict[str, Bucket]] = defaultdict(dict)

    def __iter__(self) -> Iterator[Draft]:
        return iter(self.every.all.values())

    def __contains__(self, d: Draft) -> bool:
        return self.every.all.get(d.serial) is d

    # ---- finding ----------------------------------------------------------------------------------------------------------

    def on(self, part: str, hoops: Iterable[int]) -> list[Draft]:
        """The drafts of a part on some hoops."""
        return in_order(self._of_part_on_hoop.get((part, hoop), {}) for hoop in hoops)

    def on_hoop(self, part: str, hoop: int | None) -> Iterable[Draft]:
        """The drafts of a part on one hoop, or on no hoop."""
        return self._of_part_on_hoop.get((part, hoop), {}).values()

    def on_member(self, part: str, member: str) -> bool:
        """Whether a part has been put on a member."""
        return self._on_member[part, member] > 0

    def has_any(self, parts: Iterable[str]) -> bool:
        """Whether any of the parts has been put somewhere."""
        return any(part in self.every.by_part for part in parts)

    def in_step(self, part: str, step: str) -> Iterable[Draft]:
        """The drafts of a part that one step has made."""
        return self.of_step[step].by_part.get(part, {}).values()

    def of_parts(self, parts: Iterable[str], steps: Iterable[str]) -> list[Draft]:
        """The drafts of some parts that some steps have made."""
        wanted = set(steps)
        return in_order(self.of_step[step].by_part.get(part, {}) for part in dict.fromkeys(parts) for step in wanted)

    def of_sequence(self, sequence: int) -> Iterable[Draft]:
        """The drafts that one event has led to."""
        return self._of_sequence.get(sequence, {}).values()

    def fasteners(self, d: Draft) -> list[Draft]:
        """What holds a draft."""
        return list(self._fasteners.get(id(d), {}).values())

    def bare(self, part: str, fastener: str) -> list[Draft]:
        """The drafts of a part that no such fastener holds yet. The pairs that have been asked for are kept up to date."""
        known = self._bare[part]
        if fastener not in known:
            mine = self.every.by_part.get(part, {}).values()
            known[fastener] = {d.serial: d for d in mine if not self._held_by(d, fastener)}
        return in_order([known[fastener]])

    def last_step(self, section: str, *, on_hoops: bool) -> str | None:
        """The last step of a section that has made a draft; with ``on_hoops``, one on a hoop."""
        for index in reversed(self._steps_used[section]):
            step = self._steps.id_at(index)
            if any(not on_hoops or hoop is not None for hoop in self.of_step[step].by_hoop):
                return step
        return None

    def pieces(self, part: str) -> int:
        """How many of a part all drafts take together."""
        return self._pieces[part]

    # ---- changing ---------------------------------------------------------------------------------------------------------

    def add(self, drafts: Iterable[Draft]) -> None:
        """Put drafts behind the others."""
        for d in drafts:
            self._made += 1
            d.serial = self._made
            section = self._steps.section[d.step]
            if not self.of_step[d.step].all and (index := self._steps.index[d.step]) not in self._steps_used[section][-1:]:
                insort(self._steps_used[section], index)
            self.every.add(d)
            self.of_step[d.step].add(d)
            self.of_section[section].add(d)
            self._of_part_on_hoop.setdefault((d.part, d.hoop), {})[d.serial] = d
            self._of_sequence.setdefault(d.sequence, {})[d.serial] = d
            self._on_member[d.part, d.member] += 1
            self._pieces[d.part] += d.quantity
            if d.holds is not None:
                self._fasteners.setdefault(id(d.holds), {})[d.serial] = d
                self._bare[d.holds.part].get(d.part, {}).pop(d.holds.serial, None)
            for bucket in self._bare[d.part].values():
                bucket[d.serial] = d

    def take(self, d: Draft, quantity: int) -> None:
        """Change a draft's number."""
        if d in self:
            self._pieces[d.part] += quantity - d.quantity
        d.quantity = quantity

    def forget(self, drafts: Iterable[Draft]) -> None:
        """Take drafts out, with what holds them."""
        for d in drafts:
            for gone in (d, *self.fasteners(d)):
                if gone in self:
                    self._remove(gone)

    def _remove(self, d: Draft) -> None:
        self.every.remove(d)
        self.of_step[d.step].remove(d)
        self.of_section[self._steps.section[d.step]].remove(d)
        _drop(self._of_part_on_hoop, (d.part, d.hoop), d)
        _drop(self._of_sequence, d.sequence, d)
        self._on_member[d.part, d.member] -= 1
        self._pieces[d.part] -= d.quantity
        for bucket in self._bare[d.part].values():
            bucket.pop(d.serial, None)
        if d.holds is not None:
            _drop(self._fasteners, id(d.holds), d)
            bare = self._bare[d.holds.part].get(d.part)
            if bare is not None and d.holds in self and not self._held_by(d.holds, d.part):
                bare[d.holds.serial] = d.holds

    def _held_by(self, d: Draft, fastener: str) -> bool:
        return any(x.part == fastener for x in self._fasteners.get(id(d), {}).values())


def in_order(buckets: Iterable[Bucket]) -> list[Draft]:
    """The drafts of some buckets that share none, in the order of making."""
    return sorted((d for bucket in buckets for d in bucket.values()), key=lambda d: d.serial)


def _drop(buckets: dict[_Key, Bucket], key: _Key, d: Draft) -> None:
    del buckets[key][d.serial]
    if not buckets[key]:
        del buckets[key]
