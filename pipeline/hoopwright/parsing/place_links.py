"""Places that one thing lends another: a bar to the fittings that hold it, a piece to its fellow "directly opposite"."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from hoopwright.grammar.inflect import plural
from hoopwright.model.events import Event, Place, StepReading
from hoopwright.parsing import gates
from hoopwright.parsing.chunk import Chunker
from hoopwright.parsing.gates import gated
from hoopwright.parsing.places import find_places

_OPPOSITE = gated(r"\bopposite\b")
_ITS_ENDS = gated(r"^(?:it|they|each|this|the bar)\b.*\b(?:ends?|sides?)\b")
_BAR_ROLES = ("bar", "other")
_LANDMARKS = ("foot", "ground", "ridge", "joint")
_OTHER_SIDE = {"left": "right", "right": "left"}


@dataclass(frozen=True, slots=True)
class _Bar:
    """A bar or board that the step has put up at ``place``; ``heads`` are the words by which it is named."""

    heads: frozenset[str]
    place: Place


def link_places(readings: list[StepReading], chunker: Chunker) -> list[StepReading]:
    """The readings with places filled in that follow from where another part or a bar was put."""
    out: list[StepReading] = []
    bar: _Bar | None = None
    for reading in readings:
        if not out or out[-1].step != reading.step:
            bar = None
        adds = [e for e in reading.events if _unplaced(e)]
        fresh = {id(e): _opposite(e, out) for e in adds if _OPPOSITE.search(e.source.quote.lower())}
        if bar is not None:
            held = [e for e in adds if id(e) not in fresh and _holds(e, bar)]
            fresh |= {id(e): replace(e, places=(bar.place,)) for e in held}
        out.append(replace(reading, events=tuple(fresh.get(id(e), e) for e in reading.events)) if fresh else reading)
        if not any(e.kind == "add" for e in reading.events):
            bar = _bar_of(reading, chunker) or bar
    return out


def _unplaced(event: Event) -> bool:
    return event.kind == "add" and event.member is None and event.table is None and event.holds is None and not event.places


def _opposite(event: Event, out: list[StepReading]) -> Event:
    """The event at the place of the last piece of its part, on the other side where it names none."""
    for reading in reversed(out):
        for other in reversed(reading.events):
            if other.kind != "add" or other.parts[:1] != event.parts[:1] or not other.places:
                continue
            if not all(p.offset_mm is not None or p.fraction is not None for p in other.places):
                return event
            sided = any(u.side in ("left", "right") for u in event.units)
            places = tuple(replace(p, side=None if sided else _OTHER_SIDE.get(p.side or "", p.side)) for p in other.places)
            return replace(event, places=places)
    return event


def _bar_of(reading: StepReading, chunker: Chunker) -> _Bar | None:
    """ "Set the hip boards along the bows, 900 mm from the foot": the bar, and the one place that the sentence gives it."""
    quote = reading.source.quote
    toks = chunker.tokens(quote)
    if not any(t.cat == "len" for t in toks):
        return None
    els = chunker.elements(toks)
    bars = [el for el in els if el.type == "mem" and el.role in _BAR_ROLES and "ground" not in el.name]
    exact = [p for _, p in find_places(els, quote) if p.offset_mm]
    if not bars or len(exact) != 1 or exact[0].datum not in _LANDMARKS:
        return None
    if any(el.type == "fit" for el in els):
        return None
    return _Bar(frozenset(el.name.split()[-1] for el in bars[:1]), exact[0])


def _holds(event: Event, bar: _Bar) -> bool:
    """Whether the event's sentence puts it where the bar is: it names the bar, or speaks of the ends of "it"."""
    low = event.source.quote.lower()
    if any(p.offset_mm is not None for p in event.places) or any(u.kind in ("joint", "foot", "ridge") for u in event.units):
        return False
    named = any(gates.search(rf"\b(?:{re.escape(h)}|{re.escape(plural(h))})\b", low) for h in bar.heads)
    return named or _ITS_ENDS.search(low) is not None
