"""Which part a short name means where several would do: the one of which the parts list has enough left."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hoopwright.framing.assembly import Assembly
from hoopwright.model.events import Event, StepReading


def better_choices(assembly: Assembly) -> dict[int, Event]:
    """id of an event -> the event with another of its parts first, once all is on: "a tie loop" after all narrow ones are used.

    The doubt stays, with the other part as what is assumed.
    """
    found: dict[int, Event] = {}
    pieces: dict[int, int] = {}
    events: dict[int, Event] = {}
    for d in assembly.drafts:
        if d.event is not None and d.event.kind == "add" and len(d.event.parts) > 1 and d.part == d.event.parts[0]:
            events[id(d.event)] = d.event
            pieces[id(d.event)] = pieces.get(id(d.event), 0) + d.quantity
    for key, event in events.items():
        if not any(doubt.about == "fitting" for doubt in event.doubts):
            continue
        left = {part: assembly.left(part) for part in event.parts}
        first, needed = event.parts[0], pieces[key]
        if any(n is None for n in left.values()) or (left[first] or 0) >= 0:
            continue
        enough = [part for part in event.parts[1:] if (left[part] or 0) >= needed]
        if len(enough) == 1:
            chosen = enough[0]
            doubts = tuple(replace(x, assumed=chosen) if x.about == "fitting" else x for x in event.doubts)
            found[key] = replace(event, parts=(chosen, *(p for p in event.parts if p != chosen)), doubts=doubts)
    return found


def chosen_anew(readings: Iterable[StepReading], choices: dict[int, Event]) -> list[StepReading]:
    """The readings with those events in their place."""
    return [
        replace(reading, events=tuple(choices.get(id(e), e) for e in reading.events))
        if any(id(e) in choices for e in reading.events)
        else reading
        for reading in readings
    ]
