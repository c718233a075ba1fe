"""Where a manual measures from unless it says otherwise: "run the tape from the foot", "heights are from the ground"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from hoopwright.model.events import Event, StepReading
from hoopwright.model.outline import Outline
from hoopwright.parsing import gates
from hoopwright.parsing.gates import gated

_RULE = gated(
    r"\b(?:unless|all|every|any|where|heights?|levels?|figures?|distances?|measurements?|dimensions?|settings|we measure|tape)\b[^.;]{0,90}?"
    r"\b(?:from|above) (?:the |its )?(?:\w+ ){0,2}?(?P<mark>foot|feet|bottom|base|lower end|ground|grade|soil)\b",
    re.IGNORECASE,
)
_GROUND = frozenset({"ground", "grade", "soil"})


def measured_from(outline: Outline, readings: Iterable[StepReading]) -> list[StepReading]:
    """The readings; a distance along a hoop without a mark of its own gets the one that the manual measures from.

    Nothing is filled in where the manual gives two such marks.
    """
    told = {
        "ground" if match["mark"].lower() in _GROUND else "foot"
        for step in outline.steps
        if step.label is None
        for sentence in re.split(r"(?<=[.;])\s", step.text)
        if not gates.search(r"\d", sentence) and (match := _RULE.search(sentence)) is not None
    }
    if len(told) != 1:
        return list(readings)
    datum = told.pop()
    return [replace(reading, events=tuple(_filled(e, datum) for e in reading.events)) for reading in readings]


def _filled(event: Event, datum: str) -> Event:
    if event.kind != "add" or event.member is not None or not any(p.datum is None and p.offset_mm for p in event.places):
        return event
    places = tuple(
        replace(p, datum=datum, way="up") if p.datum is None and p.offset_mm and p.part is None and p.way in (None, "up") else p
        for p in event.places
    )
    return replace(event, places=places)
