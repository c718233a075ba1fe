"""The tray: what the manual gives no place for lies beside the hoop, never at a made-up spot on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.reporting.canvas import Block, Drawing, Item, Mark, Words
from hoopwright.reporting.glyphs import mono_width, printable, wrapped
from hoopwright.reporting.labels import SIGN, Label, label_for
from hoopwright.reporting.places import Place, Places

_TITLES = ("Lying ready: the manual does not say where, or not well enough to draw it", "Lying ready: not drawn on the hoop", "")
_HEAD = 6.5
_WORDS = 4.2
_SIDE = 2.5
_CELL = 58.0  # an entry is about this wide
_ROWS = 8  # rows of entries in one tray: more would not break over a page


@dataclass(frozen=True, slots=True)
class _Entry:
    """A place of a tray: its label and its words on at most two lines, ``width`` × ``height``."""

    label: Label
    words: tuple[str, ...]
    height: float


def draw_trays(loose: Sequence[Place], places: Places, width: float) -> list[Drawing]:
    """The tray as a drawing ``width`` mm wide; more than one where it would be too tall for a page."""
    columns = max(int(width / _CELL), 1)
    cell = (width - 2 * _SIDE) / columns
    entries = [_entry(place, places, cell - _SIDE) for place in loose]
    rows = [entries[start : start + columns] for start in range(0, len(entries), columns)]
    return [_tray(rows[start : start + _ROWS], width, cell, places, first=start == 0) for start in range(0, len(rows), _ROWS)]


def _entry(place: Place, places: Places, room: float) -> _Entry:
    label = label_for(place, places.pieces(place), room)
    words = wrapped(printable(_where(place)), 3.0, room)
    return _Entry(label, tuple(words), label.height + _WORDS * len(words) + 1.0)


def _where(place: Place) -> str:
    """The tube, and what else is known; the side only where the tube's name does not say it."""
    if place.tube is None:
        return place.place_words
    side = place.placements[0].side
    told = side is not None and place.tube.startswith(f"{side} ")
    return f"{place.tube}, {place.place_words.removeprefix(f'{side}, ') if told else place.place_words}"


def _tray(rows: Sequence[Sequence[_Entry]], width: float, cell: float, places: Places, first: bool) -> Drawing:
    height = sum(max(entry.height for entry in row) for row in rows)
    y = _HEAD if first else 1.5
    items: list[Item] = [Block(0.3, 0.3, width - 0.6, y + height + 0.7, 1.5, "pale", "mid", 0.3, dashed=True)]
    if first:
        items.append(Words(_SIDE, 4.6, next(words for words in _TITLES if mono_width(words, 3.0) < width - 2 * _SIDE), 3.0))
    for row in rows:
        for index, entry in enumerate(row):
            items.append(_mark(entry, _SIDE + index * cell, y, places))
        y += max(entry.height for entry in row)
    names = "; ".join(item.name for item in items if isinstance(item, Mark))
    return Drawing(width, y + 3.0, "Lying ready", f"Not drawn at their spot: {names}", tuple(items))


def _mark(entry: _Entry, left: float, y: float, places: Places) -> Mark:
    shapes, box = entry.label.drawn(left + SIGN / 2, y + entry.label.height / 2, "start")
    top = y + entry.label.height + 3.2
    notes = [Words(left, top + _WORDS * line, words, 3.0, tone="mid") for line, words in enumerate(entry.words)]
    place = entry.label.place
    return Mark(place.key, places.words(place), tuple(item.id for item in place.placements), (*shapes, *notes), box)
