"""Trays: what the manual gives no place for lies beside the tube, never at a made-up spot on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.reporting.canvas import Block, Item, Mark, Words
from hoopwright.reporting.glyphs import fitted, printable, wrapped
from hoopwright.reporting.labels import SIGN, Label, label_for
from hoopwright.reporting.places import Place, Places

_HEAD = 6.5
_WORDS = 4.2
_SPACE = 4.0
_SIDE = 2.5
_CELL = 54.0  # an entry is about this wide


@dataclass(frozen=True, slots=True)
class _Entry:
    """A place of a tray: its label and its words on at most two lines, ``width`` × ``height``."""

    label: Label
    words: tuple[str, ...]
    height: float


@dataclass(frozen=True, slots=True)
class _Tray:
    """Rows of entries, each ``cell`` wide."""

    title: str
    rows: tuple[tuple[_Entry, ...], ...]
    cell: float

    @property
    def height(self) -> float:
        return _HEAD + sum(max(entry.height for entry in row) for row in self.rows) + 1.5


def trays(loose: Sequence[Place], places: Places, width: float, top: float) -> tuple[list[Item], float]:
    """The trays under a drawing ``width`` wide from ``top`` on, and where they end. A tray for each tube, up to three beside each other."""
    groups = _groups(loose, places)
    if not groups:
        return [], top
    columns = min(len(groups), max(int(width / 58), 1))
    room = (width - _SPACE * (columns - 1)) / columns
    built = [_tray(title, chosen, places, room) for title, chosen in groups]
    items: list[Item] = [Words(0.0, top + 5.0, "Lying ready, as their spot cannot be drawn:", 3.4, bold=True)]
    top += 8.0
    for start in range(0, len(built), columns):
        row = built[start : start + columns]
        for index, tray in enumerate(row):
            items += _drawn(tray, index * (room + _SPACE), top, room, places)
        top += max(tray.height for tray in row) + _SPACE
    return items, top - _SPACE + 1.0


def _groups(loose: Sequence[Place], places: Places) -> list[tuple[str, list[Place]]]:
    order = [tube.name for tube in places.schedule.tubes]
    found: dict[str | None, list[Place]] = {}
    for place in loose:
        found.setdefault(place.tube, []).append(place)
    known = sorted((name for name in found if name is not None), key=lambda name: order.index(name) if name in order else len(order))
    titles = [(f"somewhere on the {printable(name)}", found[name]) for name in known]
    return titles + ([("somewhere on the hoop", found[None])] if None in found else [])


def _tray(title: str, chosen: list[Place], places: Places, room: float) -> _Tray:
    inner = room - 2 * _SIDE
    across = max(min(int(inner / _CELL), len(chosen)), 1)
    cell = inner / across
    entries = [_entry(place, places, cell - _SPACE) for place in chosen]
    rows = [tuple(entries[start : start + across]) for start in range(0, len(entries), across)]
    return _Tray(fitted(title, 3.2, inner), tuple(rows), cell)


def _entry(place: Place, places: Places, room: float) -> _Entry:
    label = label_for(place, places.pieces(place), room)
    words = wrapped(printable(place.place_words), 3.0, room)
    return _Entry(label, tuple(words), label.height + _WORDS * len(words) + 1.0)


def _drawn(tray: _Tray, x: float, y: float, width: float, places: Places) -> list[Item]:
    items: list[Item] = [
        Block(x + 0.3, y, width - 0.6, tray.height, 1.5, "pale", "mid", 0.3, dashed=True),
        Words(x + _SIDE, y + 4.6, tray.title, 3.2, tone="ink"),
    ]
    y += _HEAD
    for row in tray.rows:
        for index, entry in enumerate(row):
            left = x + _SIDE + index * tray.cell
            shapes, box = entry.label.drawn(left + SIGN / 2, y + entry.label.height / 2, "start")
            notes = [
                Words(left, y + entry.label.height + 3.2 + _WORDS * line, words, 3.0, tone="mid") for line, words in enumerate(entry.words)
            ]
            place = entry.label.place
            ids = tuple(item.id for item in place.placements)
            items.append(Mark(place.key, places.words(place), ids, (*shapes, *notes), box))
        y += max(entry.height for entry in row)
    return items
