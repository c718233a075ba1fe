"""What the manual says of a hoop's shape: its kind of bend, its straight legs, the radius, and how long its tubes are."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace

from hoopwright.grammar import Grammar
from hoopwright.model.events import Facts
from hoopwright.model.outline import Outline, Passage, Source
from hoopwright.parsing import gates
from hoopwright.parsing.gates import gated
from hoopwright.parsing.kit import Kit
from hoopwright.parsing.lex import Tok, bare_lengths, lex
from hoopwright.parsing.sentences import sentences
from hoopwright.parsing.tube_lengths import EVERY, WHOLE, Names, TubeLength, describing, plugged, tube_lengths

NEAR_MM, NEAR_SHARE = 10.0, 0.005  # rounding between two statements of one length (common practice, no source)
PLUG_MM = 250.0  # most by which a tube may be longer than what shows of it, both ends together (common practice, no source)

_LOWEST = r"(?:(?:up |for|over|in|to|along)+\s*(?:to\s+)?(?:about\s+)?(?:a height of\s+)?(?:(?:their|its|the)\s+)?(?:lower|lowest|bottom|first)?\s*)"
_STRAIGHT_UP_TO = gated(rf"\b(?:straight|upright|vertical|plumb)(?:\s+(?:and|&)\s+(?:straight|upright|vertical|plumb))?\s+{_LOWEST}$")
_STRAIGHT_PART = gated(
    r"\bstraight (?:sides?|legs?|walls?|parts?|lower parts?|uprights?)(?: height| length)?\s*(?:of|:|=|is|are|measures?|,)?\s*(?:about\s+)?$"
)
_BEND_BEGINS = gated(
    r"\b(?:bend|curve|bow|arch|arc|radius)s?(?: of (?:the|each|a) [a-z -]{3,20}?)? (?:only )?(?:begins?|starts?|springs?)\s*(?:at|from)?\s*(?:a height of\s+)?(?:about\s+)?$"
)
_LEG_BEHIND = gated(r"[\s-]*(?:of |long |high )?(?:straight|vertical|upright)\s+(?:sides?|legs?|walls?|uprights?)\b")
_RADIUS_AHEAD = re.compile(r"(?:\bradius|\bradii|\br)\s*(?:of|is|:|=|,|\.{2,})?\s*(?:about\s+)?$")
_RADIUS_BEHIND = gated(r"[\s-]*(?:\[[^\]]*\]\s*)?(?:in )?(?:centre-line |center-line )?radius\b")
_RIDGE_AHEAD = gated(r"\b(?:ridge|peak|apex|crown|top of the (?:hoop|bow|arch|rib))(?: height)?\s*(?:is|at|stands|=|:|-)?\s*(?:about\s+)?$")
_ABOVE_GROUND = gated(r"\s*(?:[\[(][^\])]*[\])]\s*)?(?:above|over|from)\s+(?:the\s+)?(?:ground|grade|soil|floor)\b")
_JOINT_HEIGHT = gated(
    r"\bheight of (?:the |each |both )?(?:leg |shoulder |side |eaves |lower |haunch )?joints?\b|\b(?:leg|shoulder|eaves|side) joint height\b"
)
_FEET_UP = gated(r"\bfe?o?e?t (?:stand|stands|sit|sits|rest|rests|stay|stays|end|ends|finish|finishes) (?:about )?$")
_UPRIGHT = gated(r"\b(?:upright|vertical|plumb|straight)\b")
_BENT = gated(r"\b(?:bent|curved|bend|curve|around the|round the)\b")
_DIRECTION = gated(r"\b(?:along|set|hold|held|keep|check|stand (?:it|them|each)|until|level|make sure)\b")
_RANGES = {"leg_mm": (150.0, 5000.0), "radius_mm": (400.0, 15000.0), "height_mm": (1000.0, 9000.0), "joint_height_mm": (150.0, 5000.0), "foot_mm": (10.0, 1000.0)}  # fmt: skip


@dataclass(frozen=True, slots=True)
class _Note:
    field: str
    mm: float
    source: Source


def shape_facts(outline: Outline, grammar: Grammar, kit: Kit, facts: Facts, hoops: frozenset[str], bare_mm: bool) -> Facts:
    """``facts`` with shape, leg, radius and tube lengths filled in as far as the manual states them; what is not stated stays None.

    ``hoops``: the manual's words for a hoop; ``bare_mm``: its bare numbers are millimetres. Two statements of one length that do not
    agree go to ``facts.disagreements``.
    """
    own = tuple(dict.fromkeys(_bare(name) for name, _ in facts.tubes)) or _default_tubes(facts.sections)
    names = Names(grammar, own, hoops - set(own) if (facts.sections or 1) > 1 else hoops, facts.sections or 1)
    lengths = tube_lengths(outline, grammar, kit, names, bare_mm)
    chosen, clashes = _chosen(lengths)
    told = {note.field: note for note in reversed(list(_measures(outline, names, bare_mm)))}
    shape, shape_source = _shape(outline, grammar, names)
    upright = _upright_leg(outline, facts, names, chosen)
    # A manual that leaves the plugged ends out of one tube's length leaves them out of all.
    unsure = not any(length.shown for length in chosen.values()) and len(facts.tubes) > 1
    sources = dict(facts.sources) | {note.field: note.source for note in told.values()}
    if chosen:
        sources["tubes_mm"] = next(iter(chosen.values())).source
    if shape_source is not None:
        sources["shape"] = shape_source

    def value(field: str, old: float | None) -> float | None:
        return old if old is not None else told[field].mm if field in told else None

    return replace(
        facts,
        shape=facts.shape or shape,
        leg_mm=value("leg_mm", facts.leg_mm),
        radius_mm=value("radius_mm", facts.radius_mm),
        height_mm=value("height_mm", facts.height_mm),
        joint_height_mm=value("joint_height_mm", None),
        foot_mm=value("foot_mm", None),
        upright_mm=upright,
        tube_lengths=tuple((length.key, length.mm) for length in chosen.values() if length.key != WHOLE),
        hoop_length_mm=chosen[WHOLE].mm if WHOLE in chosen else None,
        hidden_mm=None if unsure and plugged(outline, names) else 0.0,
        disagreements=clashes,
        sources=sources,
    )


def _bare(name: str) -> str:
    return name.removeprefix("left ").removeprefix("right ")


def _default_tubes(sections: int | None) -> tuple[str, ...]:
    return ("half",) if sections == 2 else ()


# ---- lengths ------------------------------------------------------------------------------------------------------------------


def _chosen(lengths: list[TubeLength]) -> tuple[dict[str, TubeLength], tuple[tuple[str, float, float, Source, Source], ...]]:
    """The length of each key: what shows on the finished hoop before the list's, else the first; and pairs that do not agree."""
    chosen: dict[str, TubeLength] = {}
    clashes: list[tuple[str, float, float, Source, Source]] = []
    for length in lengths:
        old = chosen.get(length.key)
        if old is None:
            chosen[length.key] = length
            continue
        if not _agree(old, length) and all(c[0] != length.key for c in clashes):
            clashes.append((length.key, old.mm, length.mm, old.source, length.source))
        if length.shown and not old.shown:
            chosen[length.key] = length
    return chosen, tuple(clashes)


def _agree(a: TubeLength, b: TubeLength) -> bool:
    gap = abs(a.mm - b.mm)
    if gap <= max(NEAR_MM, NEAR_SHARE * max(a.mm, b.mm)):
        return True
    shown, whole = (a, b) if a.shown and not b.shown else (b, a) if b.shown and not a.shown else (None, None)
    return shown is not None and whole is not None and 0 <= whole.mm - shown.mm <= PLUG_MM


# ---- leg, radius, ridge -------------------------------------------------------------------------------------------------------


def _measures(outline: Outline, names: Names, bare_mm: bool) -> Iterator[_Note]:
    """Straight legs, radius, ridge and joint heights, in the manual's order."""
    descriptions = describing(outline)
    for step in (s for s in outline.steps if s.id in descriptions):
        for item in step.items:
            if item.table is not None:
                for row in item.table.rows:
                    if len(row) >= 2 and row[0].runs and row[1].runs:
                        yield from _from_row(row, bare_mm)
                continue
            for start, end in sentences(item.passage.text):
                yield from _from_sentence(item.passage, start, end, names, bare_mm)


def _from_row(row: tuple[Passage, ...], bare_mm: bool) -> Iterator[_Note]:
    key = row[0].text.lower()
    toks = _lengths(row[1].text, bare_mm)
    if not toks:
        return
    field = (
        "joint_height_mm"
        if _JOINT_HEIGHT.search(key)
        else "radius_mm"
        if gates.search(r"\b(?:radius|radii)\b", key)
        else "leg_mm"
        if gates.search(r"\bstraight (?:sides?|legs?|walls?|parts?)\b", key)
        else None
    )
    if field is not None and _possible(field, toks[0]):
        yield _Note(field, float(toks[0].value), row[1].source())


def _lengths(text: str, bare_mm: bool) -> list[Tok]:
    toks = lex(text)
    return [t for t in (bare_lengths(toks) if bare_mm else toks) if t.cat == "len"]


def _possible(field: str, tok: Tok) -> bool:
    low, high = _RANGES[field]
    return low <= float(tok.value) <= high


def _from_sentence(passage: Passage, start: int, end: int, names: Names, bare_mm: bool) -> Iterator[_Note]:
    text = passage.text[start:end]
    low = text.lower()
    mentions = names.find(low)
    frame = any(m.key is not None for m in mentions) or gates.search(r"\b(?:legs?|sides?|ribs?|top|roof|tunnel|house|frame)\b", low)
    for tok in _lengths(text, bare_mm):
        before, after = low[: tok.start], low[tok.end :]
        field = _field(before, after, low)
        if field is None or not _possible(field, tok) or not (frame or field == "height_mm"):
            continue
        nearest = [m for m in mentions if m.end <= tok.start][-1:]
        if nearest and nearest[0].key is None and field in ("leg_mm", "radius_mm"):
            continue  # the door's, the ground tube's
        yield _Note(field, float(tok.value), passage.source(start, end))


def _field(before: str, after: str, low: str) -> str | None:
    if _JOINT_HEIGHT.search(before):
        return "joint_height_mm"
    if _RADIUS_AHEAD.search(before) or _RADIUS_BEHIND.match(after):
        return "radius_mm"
    straight = _STRAIGHT_UP_TO.search(before) or _STRAIGHT_PART.search(before) or _LEG_BEHIND.match(after)
    if (straight or _BEND_BEGINS.search(before)) and not _DIRECTION.search(low):
        return "leg_mm"
    if _ABOVE_GROUND.match(after):
        return "height_mm" if _RIDGE_AHEAD.search(before) else "foot_mm" if _FEET_UP.search(before) else None
    return None


def _upright_leg(outline: Outline, facts: Facts, names: Names, chosen: dict[str, TubeLength]) -> float | None:
    """How far up the legs are straight for sure: the length of the lowest tube, where the manual says that it stands upright."""
    lowest = _bare(facts.tubes[0][0]) if len(facts.tubes) > 2 else None
    if lowest is None or lowest not in chosen:
        return None
    if lowest.split()[-1] == "upright":
        return chosen[lowest].mm
    descriptions = describing(outline)
    for step in (s for s in outline.steps if s.id in descriptions):
        for start, end in sentences(step.text):
            low = step.text[start:end].lower()
            found = _UPRIGHT.search(low)
            mentions = names.find(low)
            if found is None or _DIRECTION.search(low):
                continue
            behind = [m for m in mentions if m.start >= found.end()][:1]
            told = [m for m in behind if m.start - found.end() <= 2]  # "two vertical legs"
            ahead = told or [m for m in mentions if m.end <= found.start()][-1:] or behind
            subject = ahead[0].key if ahead else _before(step.text[:start].lower(), names)
            if subject == lowest or (subject == EVERY and not _BENT.search(low)):
                return chosen[lowest].mm
    return None


def _before(text: str, names: Names) -> str | None:
    """What the text before a sentence spoke of last."""
    own = [m.key for m in names.find(text[-200:]) if m.key is not None]
    return own[-1] if own else None


# ---- the kind of bend ---------------------------------------------------------------------------------------------------------


def _shape(outline: Outline, grammar: Grammar, names: Names) -> tuple[str | None, Source | None]:
    """(words for the kind of bend, where), from a sentence about the hoop or its tubes."""
    kinds: dict[str, list[str]] = grammar.words["shapes"]
    phrases = sorted(((p, kind) for kind, ps in kinds.items() for p in ps), key=lambda item: -len(item[0]))
    pattern = re.compile(
        r"(?<![\w-])(?:(?P<plain>plain|simple|single|true)\s+)?(?P<words>"
        + "|".join(re.escape(p).replace(r"\ ", r"[\s-]+") for p, _ in phrases)
        + r")(?!\w)"
    )
    kind_of = {p.replace("-", " "): kind for p, kind in phrases}
    descriptions = describing(outline)
    for step in (s for s in outline.steps if s.id in descriptions):
        for item in step.items:
            cells = [cell for row in item.table.rows for cell in row] if item.table is not None else [item.passage]
            for passage in cells:
                for start, end in sentences(passage.text) if passage.runs else ():
                    low = passage.text[start:end].lower()
                    match = pattern.search(low)
                    if match is not None and _of_the_hoop(low, match, names):
                        kind = kind_of[re.sub(r"[\s-]+", " ", match["words"])]
                        plain = "plain " if match["plain"] in ("plain", "simple") else ""
                        return plain + kind, passage.source(start, end)
    return None, None


def _of_the_hoop(low: str, match: re.Match[str], names: Names) -> bool:
    """Whether the words speak of the hoop: the noun before or behind them is the hoop, a tube of it, its top or the whole frame."""
    if gates.search(r"\b(?:no|not|never|neither|unlike|than)\s+(?:a\s+|an\s+)?(?:\w+\s+)?$", low[: match.start()]):
        return False
    mentions = names.find(low)
    behind = next((m for m in mentions if m.start >= match.end() - 1 and m.start - match.end() <= 14), None)
    ahead = [m for m in mentions if m.end <= match.start()][-1:]
    if behind is not None:
        return behind.key is not None
    if ahead:
        return ahead[0].key is not None
    return gates.search(r"\b(?:top|roof|tunnel|house|frame|shape|shelter)\b", low) is not None
