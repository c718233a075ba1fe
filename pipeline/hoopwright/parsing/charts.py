"""Charts that only say where: tables of fittings and distances beside steps that say how many."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass, replace

from hoopwright.model.events import Event, Place, Selector, StepReading
from hoopwright.model.outline import Outline, Passage, Table
from hoopwright.parsing import gates
from hoopwright.parsing.chunk import Chunker
from hoopwright.parsing.facts import head_unit
from hoopwright.parsing.gates import gated
from hoopwright.parsing.lex import lex
from hoopwright.parsing.places import find_places

_AWAY = gated(r"^(?P<mark>[\w ]+?),? (?P<way>up|down|above|below)$")


@dataclass(frozen=True, slots=True)
class _Line:
    """A row of a chart: a part, the hoops that it is for (None: all), the words for the tube, and the place."""

    part: str
    hoops: Selector | None
    tube: str
    place: Place | None


def apply_charts(outline: Outline, readings: list[StepReading], chunker: Chunker) -> list[StepReading]:
    """Take charts out of what is added, and give their places to the events of the steps that have none.

    A table is a chart if it has distances and no numbers of pieces, and the steps put on most of its parts. What no step speaks of stays
    an event of its row.
    """
    lines: dict[str, list[_Line]] = {}
    spoken: set[str] = set()
    for step in outline.steps:
        for n, item in enumerate(step.items):
            if item.table is None or not (found := _lines(item.table, chunker)):
                continue
            key = f"{step.id}/{n}"
            others = {e.parts[0] for r in readings for e in r.events if e.kind in ("add", "ask") and e.parts and e.table != key}
            if 2 * sum(line.part in others for line in found) > len(found):
                lines[key] = found
                spoken |= others
    if not lines:
        return readings
    known: dict[str, list[_Line]] = {}
    for found in lines.values():
        for line in found:
            known.setdefault(line.part, []).append(line)
    return [_with_places(reading, lines.keys(), spoken, known) for reading in readings]


def _with_places(reading: StepReading, charts: Collection[str], spoken: Collection[str], known: dict[str, list[_Line]]) -> StepReading:
    events: list[Event] = []
    for event in reading.events:
        if event.table in charts and event.parts and event.parts[0] in spoken:
            continue
        events.append(_placed(event, known.get(event.parts[0], [])) if event.kind == "add" and event.parts else event)
    if not events and reading.events:
        return replace(reading, events=(), why_none="says where; the steps say how many")
    return replace(reading, events=tuple(events))


def _placed(event: Event, lines: list[_Line]) -> Event:
    """The event with the place of the one line that speaks of its hoops and tube; as it is where it has a place of its own."""
    if event.member is not None or any(p.offset_mm is not None for p in event.places):
        return event
    tubes = {word for u in event.units if u.kind == "tube" for word in u.name.split()}
    fit = [line for line in lines if _same_hoops(line.hoops, event.hoops)] or [line for line in lines if line.hoops is None]
    near = [line for line in fit if not line.tube or not tubes or set(line.tube.split()) & tubes] or fit
    place = near[0].place if len({line.place for line in near}) == 1 else None
    if place is None:
        return event
    sides = [p.side for p in event.places if p.side]
    return replace(event, places=tuple(replace(place, side=side) for side in sides) or (place,))


def _same_hoops(line: Selector | None, event: Selector | None) -> bool:
    if line is None or event is None:
        return line is None and event is None
    return (line.kind == event.kind and line.numbers == event.numbers) or _numbers(line) == _numbers(event) != ()


def _numbers(selector: Selector) -> tuple[int, ...]:
    """The numbers of a list, ends as 1 and -1; empty for other selectors."""
    if selector.kind == "end":
        return (1, -1)
    if selector.kind == "join":
        return tuple(sorted(n for part in selector.of for n in _numbers(part)))
    return {"first": (1,), "last": (-1,)}.get(selector.kind, selector.numbers if selector.kind == "numbers" else ())


def _lines(table: Table, chunker: Chunker) -> list[_Line]:
    """The rows of a chart, empty for any other table."""
    units = [head_unit(head) for head in table.head]
    found: list[_Line] = []
    for row in table.rows:
        line = _line(row, units, chunker)
        if line is None:
            if any(_is_count(cell.text) for cell, unit in zip(row[1:], units[1:], strict=False) if not unit):
                return []
            continue
        found.append(line)
    measured = sum(line.place is not None for line in found)
    return found if measured and len(found) >= 0.8 * len(table.rows) else []


def _is_count(text: str) -> bool:
    return re.fullmatch(r"\(?\d{1,2}\)?(?: ?(?:no|off|x|each|per \w+)\.?)?", text.strip().lower()) is not None


def _line(row: tuple[Passage, ...], units: list[str], chunker: Chunker) -> _Line | None:
    if len(row) < 2 or not row[0].text.strip():
        return None
    first = row[0].text.strip()
    code = chunker.kit.codes.get(first.upper())
    els = chunker.elements(lex(first))
    fits = [e for e in els if e.type == "fit" and e.parts]
    meant = {f.parts[0] for f in fits}  # "RS10 ridge saddle" names one part twice
    part = code or (meant.pop() if len(meant) == 1 else None)
    if part is None or any(f.amount is not None for f in fits):
        return None
    length, said, told = "", [], ""
    for k, cell in enumerate(row[1:], 1):
        text = cell.text.strip()
        unit = units[k] if k < len(units) else ""
        if unit and re.fullmatch(r"[\d ,.]+", text):
            length = f"{text} {unit}"
        elif text and all(t.cat == "len" for t in lex(text)):
            length = text
        elif text and any(t.cat == "len" for t in lex(text)):
            told = text  # "6 in. down"
        elif text:
            said.append(text)
    hoops, tube, landmark = _hoops_of(els), "", ""
    said = [piece for text in said for piece in (re.split(r", (?=up|down|from)", text) if not _AWAY.match(text) else [text])]
    for text in said:
        inside = chunker.elements(lex(text))
        hoops = hoops or _hoops_of(inside)
        mems = [e for e in inside if e.type == "mem" and e.role == "tube"]
        if mems and not landmark and text == said[0] and len(said) > 1:
            tube = " ".join(mems[0].words)
        else:
            landmark = text
    if told:
        mems = [e for text in said for e in chunker.elements(lex(text)) if e.type == "mem" and e.role == "tube"]
        places = [p for _, p in find_places(chunker.elements(lex(told)), told)]
        return _Line(part, hoops, " ".join(mems[0].words) if mems else "", places[0] if places else None)
    if not length or not landmark:
        return _Line(part, hoops, tube, None) if said else None
    away = _AWAY.match(landmark)
    if away is not None:
        landmark = f"{away['way']} from the {away['mark']}"
    elif landmark and not gates.search(r"\b(?:from|above|below|up|down|along|of)\b", landmark):
        landmark = f"from the {landmark}"
    phrase = f"{length} {landmark or 'from the foot'}"
    places = [p for _, p in find_places(chunker.elements(lex(phrase)), phrase)]
    side = next((m[1].lower() for text in said if (m := gates.search(r"\b(left|right)\b", text, re.IGNORECASE))), None)
    place = replace(places[0], side=places[0].side or side) if places else None
    return _Line(part, hoops, tube, place)


def _hoops_of(els: list) -> Selector | None:  # type: ignore[type-arg]
    found = [e.hoops for e in els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.hoops.kind != "all"]
    return found[0] if found else None
