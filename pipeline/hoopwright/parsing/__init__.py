"""The steps' sentences to events: what is added, how many, on what, where, when; and what could not be read for sure."""

from __future__ import annotations

import re
from collections import Counter
from copy import copy, deepcopy
from dataclasses import dataclass, replace

from hoopwright.grammar import Grammar
from hoopwright.model.events import BarPut, Event, Facts, StepReading, ToldPlace
from hoopwright.model.frame import Part
from hoopwright.model.outline import Outline
from hoopwright.parsing.charts import apply_charts
from hoopwright.parsing.chunk import Chunker
from hoopwright.parsing.containers import Containers
from hoopwright.parsing.corrections import turned, with_list_corrected
from hoopwright.parsing.facts import bare_inches, bare_mm, hoop_words, read_facts
from hoopwright.parsing.hoop_totals import hoop_totals
from hoopwright.parsing.interpret import Interpreter
from hoopwright.parsing.kit import Kit, abbreviations, build_kit, places_not_pieces, split_name
from hoopwright.parsing.lettering import Lettering, speaks_in_letters
from hoopwright.parsing.lex import forget_texts
from hoopwright.parsing.marks import Marks
from hoopwright.parsing.measured_from import measured_from
from hoopwright.parsing.place_links import link_places
from hoopwright.parsing.plainer import Plainer
from hoopwright.parsing.shape_facts import shape_facts
from hoopwright.parsing.short_forms import hoops_in_full, sides_in_full
from hoopwright.parsing.tables import read_tables
from hoopwright.parsing.told_again import told_again
from hoopwright.parsing.told_places import TellingPlaces
from hoopwright.parsing.tubes import (
    ends_by_other_names,
    frames_are_hoops,
    joints_by_other_names,
    own_tubes,
    tube_size,
    tube_sizes,
    tubes_by_other_names,
)
from hoopwright.parsing.types import group_nouns, group_phrases, hoop_letter, hoop_types, name_groups, names_of_hoops
from hoopwright.parsing.unnamed import unnamed_pieces

__all__ = ["Reading", "parse"]

_WORD = re.compile(r"[a-z][a-z'-]+")


@dataclass(frozen=True, slots=True)
class Reading:
    """All that was read: the frame's facts, the kit's parts, one StepReading per sentence or table row in order, and the bars put up."""

    facts: Facts
    parts: tuple[Part, ...]
    sentences: tuple[StepReading, ...]
    member_numbers: dict[str, int | None]
    bars: tuple[BarPut, ...] = ()
    told_again: tuple[ToldPlace, ...] = ()

    @property
    def events(self) -> list[Event]:
        """All events in order."""
        return [event for reading in self.sentences for event in reading.events]


def parse(outline: Outline, grammar: Grammar) -> Reading:
    """Read every step of ``outline``. The grammar is extended by the manual's own parts list in a copy; the one given is left as it is."""
    try:
        return _parse(outline, grammar)
    finally:
        forget_texts()


def _parse(outline: Outline, grammar: Grammar) -> Reading:
    own = copy(grammar)
    own.words = deepcopy(grammar.words)
    own.senses = {phrase: list(senses) for phrase, senses in grammar.senses.items()}
    outline = with_list_corrected(sides_in_full(hoops_in_full(outline)))
    names = hoop_words(outline, own)
    if names == {"frame"}:
        frames_are_hoops(own)
    joints_by_other_names(outline, own)
    ends_by_other_names(outline, own)
    tubes_by_other_names(outline, own, names)
    kit = build_kit(outline, own)
    places_not_pieces(kit)
    abbreviations(outline, own.words["sides"])
    facts = read_facts(outline, own)
    facts = replace(facts, hoop_totals=hoop_totals(outline, names, own.words["numbers"]))
    groups = name_groups(own, group_nouns(outline, own, names, facts.hoops))
    tubes = own_tubes(outline, own, kit, facts.hoops, names, facts.sections)
    if facts.sections == 3 and [side for _, side in tubes] == ["left", "right"]:
        tubes = (tubes[0], ("top tube", "centre"), tubes[1])  # three pieces, and only the pair at the sides has a name that is known
    if len(tubes) > 1 or (tubes and facts.sections in (None, 1)):
        facts = replace(facts, tubes=tubes, sections=len(tubes))
    facts = replace(
        facts,
        tube_sizes=tube_sizes(kit, tuple(name for name, _ in tubes), names),
        tube_size_mm=tube_size(outline, kit, tuple(name for name, _ in tubes), names),
    )
    facts = shape_facts(outline, own, kit, facts, names, bare_mm(outline))
    unnamed_pieces(outline, own)
    chunker = Chunker(own, kit, names, tuple(name for name, _ in facts.tubes))
    chunker.bare_mm, chunker.bare_inches = bare_mm(outline), bare_inches(outline)
    chunker.groups.update(groups)
    chunker.hoop_letter = hoop_letter(outline, names, facts.hoops)
    chunker.learn(Counter(w for step in outline.steps for w in _WORD.findall(step.text.lower())))
    interpreter = Interpreter(outline, own, kit, chunker)
    interpreter.hoop_names = names_of_hoops(outline, names, facts.hoops)
    interpreter.group_phrases = group_phrases(outline, own, names, facts.hoops)
    interpreter.hoops, interpreter.one_piece = facts.hoops, facts.sections == 1
    interpreter.types = chunker.types = hoop_types(outline, names, facts.hoops, own.words["numbers"])
    pairs = (" ".join(words) for words in kit.aliases if len(words) == 2)
    numbers = own.words["numbers"] if _named_by_words(outline, names) else {}
    fittings = frozenset(name for name, part in kit.parts.items() if part.is_fitting)
    interpreter.plainer = Plainer(
        names, facts.hoops, tuple(pairs), own.words["ordinals"], numbers, _far_end(outline, names, facts.hoops), fittings
    )
    codes = {**kit.member_codes, **kit.codes}
    interpreter.lettering = Lettering(
        codes, fittings, speaks_in_letters(codes, (step.text for step in outline.steps)), _marks(outline, kit)
    )
    interpreter.marks = Marks(outline)
    interpreter.containers = Containers(outline, kit)
    readings = interpreter.read()
    tables = [
        replace(t, events=tuple(turned(e) for e in t.events)) if t.step in interpreter.reversed_steps else t
        for t in read_tables(outline, kit, chunker)
    ]
    middle = frozenset(name for name, side in facts.tubes if side == "centre")
    merged = apply_charts(outline, merge_tables(outline, readings, tables), chunker)
    whole = TellingPlaces(chunker, middle).read(merged)
    placed = measured_from(outline, link_places(whole, chunker))
    return Reading(
        facts, tuple(kit.parts.values()), tuple(placed), dict(kit.members), interpreter.bars.told(), told_again(outline, placed, chunker)
    )


def _far_end(outline: Outline, names: frozenset[str], hoops: int | None) -> frozenset[str]:
    """What the manual says to stand at the last hoop: "hoop 22 is at the stream"."""
    words = "|".join(sorted(names))
    told = re.compile(
        rf"\b(?:{words}) {hoops} (?:is|stands|ends|closes|comes) (?:up )?(?:at|by|against|near|next to|beside|towards) the ([a-z]+)",
        re.IGNORECASE,
    )
    return frozenset(match[1].lower() for step in outline.steps for match in told.finditer(step.text)) if hoops and words else frozenset()


def _marks(outline: Outline, kit: Kit) -> dict[str, tuple[str, ...]]:
    """The parts by the sign that the list marks them with ("●"), for rules told of all that bear it."""
    found: dict[str, list[str]] = {}
    for entry in outline.parts:
        words, _ = split_name(entry.name, kit.grammar)
        for mark in entry.note.split(", "):
            if mark and len(mark) < 3 and not mark.isalnum() and (name := kit.aliases.get(words)) is not None:
                found.setdefault(mark, []).append(name)
    return {mark: tuple(names) for mark, names in found.items()}


def _named_by_words(outline: Outline, names: frozenset[str]) -> bool:
    """Whether the manual's hoops bear number words as names: "hoop One"."""
    called = re.compile(rf"\b(?i:{'|'.join(map(re.escape, sorted(names)))})s? (?:One|Two|Three|Four|Five|Six|Seven|Eight|Nine|Ten)\b")
    return any(called.search(step.text) for step in outline.steps)


def merge_tables(outline: Outline, readings: list[StepReading], tables: list[StepReading]) -> list[StepReading]:
    """Table rows take their place behind the sentences of their step."""
    if not tables:
        return readings
    out: list[StepReading] = []
    pending = list(tables)
    for index, reading in enumerate(readings):
        out.append(reading)
        last = index + 1 == len(readings) or readings[index + 1].step != reading.step
        if last:
            out += [t for t in pending if t.step == reading.step]
            pending = [t for t in pending if t.step != reading.step]
    order = {step.id: n for n, step in enumerate(outline.steps)}
    for table in pending:
        at = next((n for n, r in enumerate(out) if order[r.step] > order[table.step]), len(out))
        out.insert(at, table)
    return out
