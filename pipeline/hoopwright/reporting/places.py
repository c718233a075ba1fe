"""The places on a hoop: what sits together gets one number; what the manual gives no place for gets a letter."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.model.schedule import Placement, Schedule, When
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
    """Fittings that sit together. ``along_mm`` None: the manual gives no place; ``tube`` is where it is known to be, if anything is."""

    key: str
    placements: tuple[Placement, ...]
    along_mm: float | None
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
        """The places with a distance along the hoop, from the left foot on."""
        return tuple(place for place in self.places if place.along_mm is not None)

    def unknown(self) -> tuple[Place, ...]:
        """The places that the manual leaves open."""
        return tuple(place for place in self.places if place.along_mm is None)

    def key_of(self) -> dict[str, str]:
        """The place's number or letter for every placement id."""
        return {item.id: place.key for place in self.places for item in place.placements}


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
        shape = schedule.shape
        # On a curve that only stands for the hoop, a distance along it would be a made-up place.
        self._to_scale = shape is None or shape.stated
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
        known = self._together(sorted((item for item in items if item.along_mm is not None), key=lambda item: item.along_mm or 0.0))
        loose: dict[tuple[str | None, str], list[Placement]] = {}
        for item in items:
            if item.along_mm is None:
                loose.setdefault((item.section, self.where(item)), []).append(item)
        numbered = known if self._to_scale else []
        lettered = [*([] if self._to_scale else known), *loose.values()]
        places = [self._place(str(index + 1), group, group[0].along_mm) for index, group in enumerate(numbered)]
        places += [self._place(letters(index), group, None) for index, group in enumerate(lettered)]
        role = self._roles.get(hoops[0], "")
        return HoopView(hoops, f"{role} hoop" + ("s" if len(hoops) > 1 else "") if role else "", tuple(places))

    @staticmethod
    def _together(items: Sequence[Placement]) -> list[list[Placement]]:
        groups: list[list[Placement]] = []
        for item in items:
            start = groups[-1][0].along_mm if groups else None
            if start is not None and item.along_mm is not None and item.along_mm - start <= SAME_PLACE_MM:
                groups[-1].append(item)
            else:
                groups.append([item])
        return groups

    def _place(self, key: str, items: list[Placement], along: float | None) -> Place:
        ordered = tuple(sorted(items, key=lambda item: TIMES.index(item.when)))
        # The words of the most telling fitting stand for all that sit there: a bolt in a clamp is where the clamp is.
        best = min(ordered, key=lambda item: (item.datum is None or item.offset_mm is None, item.loose is None))
        return Place(key, ordered, along, self.tube_at(ordered[0]), self.where(best))

    def pieces(self, place: Place) -> list[tuple[str, When]]:
        """The marks at a place, each with its number where it is more than one: ``J``, ``2×W``; equal ones counted together."""
        counts: dict[tuple[str, When], int] = {}
        for item in place.placements:
            key = (self.marks[item.fitting], item.when)
            counts[key] = counts.get(key, 0) + item.quantity
        return [(f"{count}×{mark}" if count > 1 else mark, when) for (mark, when), count in counts.items()]

    def words(self, place: Place) -> str:
        """The place in words, for readers who cannot see the drawing."""
        pieces = ", ".join(f"{item.quantity} {shown(item.fitting)}" for item in place.placements)
        return f"Place {place.key}: {pieces}; {place.place_words}"
