"""The places on a hoop: what sits together gets one number; what the manual gives no place for gets a letter."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from hoopwright.model.schedule import Placement, Schedule, When
from hoopwright.reporting.drawn_line import DrawnLine
from hoopwright.reporting.grouping import hoop_range, placements_of
from hoopwright.reporting.lengths import Units, length
from hoopwright.reporting.marks import marks_of
from hoopwright.reporting.text import shown

SAME_PLACE_MM = 1.0
TIMES: tuple[When, ...] = ("before-joining", "at-joining", "any-time")
TIME_WORDS: dict[When, str] = {
    "before-joining": "thread on before the hoop is closed",
    "at-joining": "goes in as the hoop is joined and stood",
    "any-time": "can wait until the hoop stands",
}


@dataclass(frozen=True, slots=True)
class Place:
    """Fittings that sit together. ``drawn_mm`` is the distance along the drawn line, None where the manual leaves the place open.

    ``tube`` is where it is known to be, if anything is.
    """

    key: str
    placements: tuple[Placement, ...]
    drawn_mm: float | None
    tube: str | None
    place_words: str

    @property
    def time(self) -> When:
        """When the first of its fittings has to be on."""
        return min((item.when for item in self.placements), key=TIMES.index)


@dataclass(frozen=True, slots=True)
class HoopView:
    """Hoops that share a picture, with the places of the first of them."""

    hoops: tuple[str, ...]
    role: str
    places: tuple[Place, ...]

    @property
    def name(self) -> str:
        return hoop_range(self.hoops)

    def known(self) -> tuple[Place, ...]:
        """The places that can be drawn on the hoop, from the left foot on."""
        return tuple(place for place in self.places if place.drawn_mm is not None)

    def unknown(self) -> tuple[Place, ...]:
        """The places that the manual leaves open."""
        return tuple(place for place in self.places if place.drawn_mm is None)

    def key_of(self) -> dict[str, str]:
        """The place's number or letter for every placement id."""
        return {item.id: place.key for place in self.places for item in place.placements}


def counted(items: Iterable[Placement]) -> str:
    """``1 rail clamp, 2 washer``: the pieces of each fitting together."""
    counts: dict[str, int] = {}
    for item in items:
        counts[item.fitting] = counts.get(item.fitting, 0) + item.quantity
    return ", ".join(f"{number} {shown(name)}" for name, number in counts.items())


def letters(number: int) -> str:
    """a, b … z, aa, ab … for 0, 1 …"""
    word = ""
    number += 1
    while number:
        number, rest = divmod(number - 1, 26)
        word = chr(ord("a") + rest) + word
    return word


class Places:
    """Words and places for every placement of a schedule, in the wanted units."""

    def __init__(self, schedule: Schedule, units: Units = "metric") -> None:
        self.schedule = schedule
        self.units = units
        self.marks = marks_of(schedule)
        self._by_id = {placement.id: placement for placement in schedule.placements}
        self._by_hoop = placements_of(schedule)
        self.line = DrawnLine(schedule)
        self._roles = {hoop.id: hoop.role for hoop in schedule.structure.hoops}

    def where(self, item: Placement) -> str:
        """Where a fitting sits, in words: ``left, 900 mm from the foot``."""
        words = [item.side] if item.side else []
        return ", ".join([*words, self.spot(item)])

    def spot(self, item: Placement) -> str:
        """As ``where``, without the side."""
        if item.datum is not None and item.offset_mm is not None:
            return self._from_datum(item.datum, item.offset_mm)
        if item.loose:
            return shown(item.loose)
        if item.along_mm is not None:
            return f"{length(item.along_mm, self.units)} along the hoop from the left foot"
        return "place not given"

    def where_at(self, item: Placement, place: Place) -> str:
        """As ``where``; a fitting without words of its own (the bolt of a clamp) is where its place is."""
        bare = item.loose is None and (item.datum is None or item.offset_mm is None)
        return place.place_words if bare and item.along_mm is not None else self.where(item)

    def _from_datum(self, datum: str, offset: float) -> str:
        other = self._by_id.get(datum)
        name = f"the {shown(datum if other is None else other.fitting)}"
        if abs(offset) < SAME_PLACE_MM:
            return f"at {name}"
        return f"{length(offset, self.units)} {'above' if datum == 'ground' else 'from'} {name}"

    def tube_at(self, item: Placement) -> str | None:
        """The tube that it sits on: the manual's word, else the one that covers its distance along the hoop."""
        if item.section:
            return item.section
        if item.along_mm is None:
            return None
        for tube in self.schedule.tubes:
            if tube.start_mm is not None and tube.end_mm is not None and tube.start_mm <= item.along_mm <= tube.end_mm:
                return tube.name
        return None

    def view(self, hoops: tuple[str, ...]) -> HoopView:
        """The view of hoops that are dressed alike; ids are those of the first."""
        items = self._by_hoop[hoops[0]]
        spots = [(spot, item) for item in items if (spot := self.line.at(item)) is not None]
        known = self._together(sorted(spots, key=lambda pair: pair[0]))
        drawn = {item.id for _, item in spots}
        loose: dict[tuple[str | None, str], list[Placement]] = {}
        for item in items:
            if item.id not in drawn:
                loose.setdefault((item.section, self.where(item)), []).append(item)
        places = [self._place(str(index + 1), group, spot) for index, (spot, group) in enumerate(known)]
        tubes = [tube.name for tube in self.schedule.tubes]
        rest = sorted(loose.values(), key=lambda group: tubes.index(tube) if (tube := self.tube_at(group[0])) in tubes else len(tubes))
        places += [self._place(letters(index), group, None) for index, group in enumerate(rest)]
        role = self._roles.get(hoops[0], "")
        return HoopView(hoops, f"{role} hoop" + ("s" if len(hoops) > 1 else "") if role else "", tuple(places))

    @staticmethod
    def _together(spots: Sequence[tuple[float, Placement]]) -> list[tuple[float, list[Placement]]]:
        groups: list[tuple[float, list[Placement]]] = []
        for spot, item in spots:
            if groups and spot - groups[-1][0] <= SAME_PLACE_MM:
                groups[-1][1].append(item)
            else:
                groups.append((spot, [item]))
        return groups

    def _place(self, key: str, items: list[Placement], drawn: float | None) -> Place:
        ordered = tuple(sorted(items, key=lambda item: TIMES.index(item.when)))
        # The words of the most telling fitting stand for all that sit there: a bolt in a clamp is where the clamp is.
        best = min(ordered, key=lambda item: (item.datum is None or item.offset_mm is None, item.loose is None))
        return Place(key, ordered, drawn, self.tube_at(ordered[0]), self.where(best))

    def pieces(self, place: Place) -> list[tuple[str, When]]:
        """The marks at a place, each with its number where it is more than one: ``J``, ``2×W``; equal ones counted together."""
        counts: dict[tuple[str, When], int] = {}
        for item in place.placements:
            key = (self.marks[item.fitting], item.when)
            counts[key] = counts.get(key, 0) + item.quantity
        return [(f"{count}×{mark}" if count > 1 else mark, when) for (mark, when), count in counts.items()]

    def words(self, place: Place) -> str:
        """The place in words, for readers who cannot see the drawing."""
        return f"Place {place.key}: {counted(place.placements)}; {place.place_words}"
