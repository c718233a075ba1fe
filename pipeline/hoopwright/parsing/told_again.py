"""Places that are told besides the sentences that put a fitting on: "the clips, which sit 1,800 mm above the ground", captions, tables.

They add nothing. The frame holds them against where the steps have put the fittings.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from hoopwright.model.events import Place, Selector, StepReading, ToldPlace
from hoopwright.model.outline import Item, Outline, Passage, Source, Table
from hoopwright.parsing.chunk import Chunker
from hoopwright.parsing.elements import El
from hoopwright.parsing.lex import lex
from hoopwright.parsing.places import find_places
from hoopwright.parsing.sentences import sentences

_MARKS = frozenset({"foot", "ground", "ridge", "joint"})  # what a place is measured from that every hoop has
_STATES = frozenset({"null", "go", "say", "wait"})  # classes of verbs.yaml that put nothing anywhere
_HOLDS = frozenset({"in", "into", "through", "of", "with", "by", "on", "onto", "at"})
_BESIDES = frozenset({"hoop", "tube", "side", "joint", "foot", "ridge", "end", "ground", "height", "thing", "shoulder", "film"})
_NO_STATEMENT = re.compile(
    r"\b(?:not|never|no|nor|nobody|if|unless|for now|for the moment|at first|temporarily|until|till|later|before|would|could|may|might|than"
    r"|at least|at most|up to|about|roughly|approximately|between|further|another|other|instead|above it|below it|apart|wide|long|deep|thick)\b"
    r"|n't\b",
    re.IGNORECASE,
)


def told_again(outline: Outline, readings: Sequence[StepReading], chunker: Chunker) -> tuple[ToldPlace, ...]:
    """Every place that is told of one fitting by words that do not put it on, in the manual's order.

    Each is the place of all such fittings of the hoops that the words name (None: of whichever). Sentences that put anything on are left
    out, and so are those that name two fittings or two places.
    """
    roles = {section.id: section.role for section in outline.sections}
    puts = {reading.source for reading in readings if any(event.kind in ("add", "copy", "remove") for event in reading.events)}
    found: list[ToldPlace] = []
    for step in outline.steps:
        role = roles.get(step.section)
        if role in ("correction", "parts", "tools", "contents"):
            continue
        for item in step.items:
            if item.table is not None:
                found += _in_table(step.id, item.table, chunker)
            for start, end in sentences(item.passage.text) if item.table is None else ():
                source = _source(item.passage, start, end)
                text = item.passage.text[start:end]
                if source is None or source in puts or not any(c.isdigit() for c in text) or _NO_STATEMENT.search(text):
                    continue
                shown = _is_shown(item, role)
                found += _in_sentence(step.id, source, chunker.elements(lex(text.lower())), text.lower(), shown)
    return tuple(found)


def _source(passage: Passage, start: int, end: int) -> Source | None:
    return passage.source(start, end) if passage.runs else None


def _is_shown(item: Item, role: str | None) -> bool:
    """Whether the words only show or sum up the work, so that the step's own place stands."""
    return item.kind in ("caption", "callout", "footnote") or role in ("summary", "intro", "other", "safety")


def _in_sentence(step: str, source: Source, els: list[El], text: str, shown: bool) -> Iterator[ToldPlace]:
    fits = [el for el in els if el.type == "fit" and len(el.parts) == 1]
    places = [(k, place) for k, place in find_places(els, text) if place.offset_mm]
    if len({el.parts for el in fits}) != 1 or any(el.type == "fit" and len(el.parts) != 1 for el in els) or len(places) != 1:
        return
    k, place = places[0]
    at = max((n for n, el in enumerate(els[:k]) if el.type == "fit"), default=-1)
    if place.datum not in _MARKS or at < 0 or not _of_it(els[:k], at):
        return
    yield ToldPlace(els[at].parts[0], _hoops(els), place, step, source, shown)


def _of_it(before: list[El], at: int) -> bool:
    """Whether the place behind ``before`` is that of the fitting at ``at``: no other thing is named behind it, and nothing is moved."""
    between = before[at + 1 :]
    if at and before[at - 1].type == "prep" and before[at - 1].low not in _HOLDS:
        return False  # "It goes above the collar, 1.6 m from the foot"
    if any(el.type in ("fit", "pron", "ellip") or (el.type == "mem" and el.role not in _BESIDES) for el in between):
        return False
    verbs = [el for el in before if el.type == "verb"]
    behind = [el for el in between if el.type == "verb"]
    lead = [el for el in verbs if el not in behind]
    still = all(el.cls in _STATES for el in behind)
    # "Feed the bar through the clips, which sit …": what the sentence does is done with something else.
    apart = any(el.low in ("which", "that", "who") for el in between)
    return still and (
        apart or (all(el.cls in _STATES for el in lead) and not any(el.type == "mem" and el.role == "bar" for el in before[:at]))
    )


def _hoops(els: Iterable[El]) -> Selector | None:
    named = [el.hoops for el in els if el.type == "mem" and el.role == "hoop" and el.hoops is not None and el.hoops.kind != "topic"]
    return named[0] if len(named) == 1 else None


def _in_table(step: str, table: Table, chunker: Chunker) -> Iterator[ToldPlace]:
    """A row that names one fitting, and one place in another cell; where the head of its column says from what, with that."""
    for row in table.rows:
        cells = [chunker.elements(lex(cell.text.lower())) for cell in row]
        named = [(n, el) for n, els in enumerate(cells) for el in els if el.type == "fit" and len(el.parts) == 1]
        if len(named) != 1:
            continue
        own, fit = named[0]
        places = [(n, place) for n, cell in enumerate(row) if n != own for place in _cell_places(cell, table.head[n : n + 1], chunker)]
        if len(places) == 1 and row[places[0][0]].runs:
            hoops = _hoops(el for n, els in enumerate(cells) if n != own for el in els)
            yield ToldPlace(fit.parts[0], hoops, places[0][1], step, row[places[0][0]].source(), shown=True)


def _cell_places(cell: Passage, head: Sequence[str], chunker: Chunker) -> list[Place]:
    if not any(c.isdigit() for c in cell.text) or _NO_STATEMENT.search(cell.text):
        return []
    for text in (
        cell.text.lower(),
        f"{cell.text} {re.sub(r'^(height|distance|place|position)s?|[(),]', ' ', ' '.join(head).lower())}".lower(),
    ):
        found = [place for _, place in find_places(chunker.elements(lex(text)), text) if place.offset_mm and place.datum in _MARKS]
        if found:
            return found
    return []
