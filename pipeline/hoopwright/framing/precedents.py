"""The places that a part has had so far: what "as before" and "directly opposite" are read against."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator

from hoopwright.framing.drafts import Draft
from hoopwright.model.events import Place

_Ranked = tuple[int, Draft]
_Distance = tuple[str | None, float | None, str | None, str | None]


class Precedents:
    """Drafts of each part at a stated distance, hoop by hoop; an event is no precedent for itself, nor for one before it."""

    def __init__(self, by_hoop: dict[int, list[Draft]]) -> None:
        self._all: defaultdict[str, list[Draft]] = defaultdict(list)
        self._placed: defaultdict[str, list[Draft]] = defaultdict(list)
        for drafts in by_hoop.values():
            for d in drafts:
                self._all[d.part].append(d)
                if d.measured:
                    self._placed[d.part].append(d)
        self._summed: dict[str, dict[tuple[int, int], tuple[int, Place | None]]] = {}

    def before(self, d: Draft) -> Iterator[Draft]:
        """The precedents of a draft, hoop by hoop."""
        return (x for x in self._placed[d.part] if x.sequence <= d.sequence and x.event is not d.event)

    def summary(self, d: Draft) -> tuple[int, Place | None]:
        """(how many different distances the precedents have, the place of the first of them)."""
        if d.part not in self._summed:
            self._summed[d.part] = _sum_up(self._all[d.part], self._placed[d.part])
        return self._summed[d.part].get((d.sequence, id(d.event)), (0, None))


def _sum_up(asking: Iterable[Draft], placed: Iterable[Draft]) -> dict[tuple[int, int], tuple[int, Place | None]]:
    """By (sequence, event), what ``summary`` gives, in one pass through the sequences."""
    arriving: defaultdict[int, list[_Ranked]] = defaultdict(list)
    for rank, d in enumerate(placed):
        arriving[d.sequence].append((rank, d))
    wanted: defaultdict[int, dict[int, None]] = defaultdict(dict)
    for d in asking:
        wanted[d.sequence][id(d.event)] = None
    state = _SoFar()
    found: dict[tuple[int, int], tuple[int, Place | None]] = {}
    for sequence in sorted(wanted):
        for ranked in arriving[sequence]:
            state.take(ranked)
        for event in wanted[sequence]:
            found[sequence, event] = state.without(event)
    return found


class _SoFar:
    """Counts distances so that one event can be left out: those that only it has, and the first draft that it has not made."""

    def __init__(self) -> None:
        self.events: defaultdict[_Distance, set[int]] = defaultdict(set)
        self.alone: Counter[int] = Counter()  # of each event, the distances that no other event has
        self.first: _Ranked | None = None
        self.first_of_others: _Ranked | None = None  # the first of those that ``first``'s event has not made

    def take(self, ranked: _Ranked) -> None:
        """Count a draft in. Its rank is its place hoop by hoop."""
        place, event = ranked[1].place, id(ranked[1].event)
        assert place is not None
        events = self.events[place.datum, place.offset_mm, place.way, place.part]
        if event not in events:
            if len(events) == 1:
                self.alone[next(iter(events))] -= 1
            self.alone[event] += not events
            events.add(event)
        if self.first is None:
            self.first = ranked
        elif event == id(self.first[1].event):
            self.first = min(self.first, ranked, key=_rank)
        elif ranked[0] < self.first[0]:
            self.first, self.first_of_others = ranked, self.first
        elif self.first_of_others is None or ranked[0] < self.first_of_others[0]:
            self.first_of_others = ranked

    def without(self, event: int) -> tuple[int, Place | None]:
        """(how many distances, the place of the first draft), without those of an event."""
        first = self.first
        if first is not None and id(first[1].event) == event:
            first = self.first_of_others
        return len(self.events) - self.alone[event], None if first is None else first[1].place


def _rank(ranked: _Ranked) -> int:
    return ranked[0]
