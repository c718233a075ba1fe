"""Trays: what the manual gives no place for lies beside the tube, never at a made-up spot on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hoopwright.reporting.canvas import Block, Drawing, Item, Mark, Words
from hoopwright.reporting.glyphs import fitted, printable, wrapped
from hoopwright.reporting.labels import SIGN, Label, label_for
from hoopwright.reporting.places import Place, Places

_HEAD = 6.5
_WORDS = 4.2
_SPACE = 4.0
_SIDE = 2.5
_CELL = 54.0  # an entry is about this wide
_ROWS = 8  # rows of entries in one tray


@dataclass(frozen=True, slots=True)
class _Entry:
    """A place of a tray: its label and its words on at most two lines, ``width`` × ``height``."""

    label: Label
    words: tuple[str, ...]
    height: float


@dataclass(frozen=True, slots=True)
class _Tray:
    """Rows of entries, each ``cell`` wide; the tray covers ``cells`` columns of the sheet."""

    title: str
    rows: tuple[tuple[_Entry, ...], ...]
    cells: int

    @property
    def height(self) -> float:
        return _HEAD + sum(max(entry.height for entry in row) for row in self.rows) + 1.5


def draw_trays(loose: Sequence[Place], places: Places, width: float) -> list[Drawing]:
    """A drawing for each row of trays, ``width`` mm wide: one tray for each tube, as many side by side as there is room."""
    columns = max(int(width / _CELL), 1)
    cell = width / columns
    drawings: list[Drawing] = []
    for row in _shelves(
        [part for title, chosen in _groups(loose, places) for part in _trays(title, chosen, places, columns, cell)], columns
    ):
        top = 0.0 if drawings else 8.0
        items: list[Item] = [] if drawings else [Words(0.0, 5.0, "Lying ready, as their spot cannot be drawn:", 3.4, bold=True)]
        used = 0
        for tray in row:
            items += _drawn(tray, used * cell, top, tray.cells * cell - (_SPACE if used + tray.cells < columns else 0.0), cell, places)
            used += tray.cells
        height = top + max(tray.height for tray in row) + 2.0
        names = [item.name for item in items if isinstance(item, Mark)]
        drawings.append(Drawing(width, height, "Lying ready", "Not drawn at their spot: " + "; ".join(names), tuple(items)))
    return drawings


def _shelves(trays: Sequence[_Tray], columns: int) -> list[list[_Tray]]:
    """The trays in their order, row by row, each row as full as it gets."""
    shelves: list[list[_Tray]] = []
    for tray in trays:
        if shelves and sum(other.cells for other in shelves[-1]) + tray.cells <= columns:
            shelves[-1].append(tray)
        else:
            shelves.append([tray])
    return shelves


def _groups(loose: Sequence[Place], places: Places) -> list[tuple[str, list[Place]]]:
    order = [tube.name for tube in places.schedule.tubes]
    found: dict[str | None, list[Place]] = {}
    for place in loose:
        found.setdefault(place.tube, []).append(place)
    known = sorted((name for name in found if name is not None), key=lambda name: order.index(name) if name in order else len(order))
    titles = [(f"on the {printable(name)}", found[name]) for name in known]
    return titles + ([("tube not named", found[None])] if None in found else [])


def _trays(title: str, chosen: list[Place], places: Places, columns: int, cell: float) -> list[_Tray]:
    """The tray of one tube; more than one where it would be too tall for a page."""
    across = min(columns, len(chosen))
    entries = [_entry(place, places, cell - _SPACE - 2 * _SIDE) for place in chosen]
    rows = [tuple(entries[start : start + across]) for start in range(0, len(entries), across)]
    name = fitted(title, 3.2, across * cell - _SPACE - 2 * _SIDE)
    return [_Tray(name, tuple(rows[start : start + _ROWS]), across) for start in range(0, len(rows), _ROWS)]


def _entry(place: Place, places: Places, room: float) -> _Entry:
    label = label_for(place, places.pieces(place), room)
    words = wrapped(printable(place.place_words), 3.0, room)
    return _Entry(label, tuple(words), label.height + _WORDS * len(words) + 1.0)


def _drawn(tray: _Tray, x: float, y: float, width: float, cell: float, places: Places) -> list[Item]:
    items: list[Item] = [
        Block(x + 0.3, y, width - 0.6, tray.height, 1.5, "pale", "mid", 0.3, dashed=True),
        Words(x + _SIDE, y + 4.6, tray.title, 3.2, tone="ink"),
    ]
    y += _HEAD
    for row in tray.rows:
        for index, entry in enumerate(row):
            left = x + _SIDE + index * cell
            shapes, box = entry.label.drawn(left + SIGN / 2, y + entry.label.height / 2, "start")
            notes = [
                Words(left, y + entry.label.height + 3.2 + _WORDS * line, words, 3.0, tone="mid") for line, words in enumerate(entry.words)
            ]
            place = entry.label.place
            ids = tuple(item.id for item in place.placements)
            items.append(Mark(place.key, places.words(place), ids, (*shapes, *notes), box))
        y += max(entry.height for entry in row)
    return items
