"""What the manual says of the frame: how many hoops, how wide, how far apart, of how many tubes."""

from __future__ import annotations

import itertools
import re
from collections import Counter

from hoopwright.grammar import Grammar
from hoopwright.grammar.hoop_nouns import hoop_nouns
from hoopwright.grammar.inflect import plural
from hoopwright.model.events import Facts
from hoopwright.model.outline import Outline, Passage, Source
from hoopwright.parsing import gates
from hoopwright.parsing.chunk import number_list
from hoopwright.parsing.gates import gated
from hoopwright.parsing.lex import Tok, bare_lengths, lex
from hoopwright.parsing.sentences import sentences

_GAP = r"(?:[^.;\d]{0,24}?)"


def hoop_words(outline: Outline, grammar: Grammar) -> frozenset[str]:
    """Which words this manual uses for a hoop: hoop, bow, arch, rib; "frame" only where nothing else is."""
    text = " ".join(step.text for step in outline.steps).lower()
    counts = Counter({w: len(re.findall(rf"\b{w}s?\b|\b{w}es\b", text)) for w in hoop_nouns()})
    chosen = frozenset(w for w, n in counts.items() if n)
    numbered = {w: len(re.findall(rf"\b{w}(?:s|es)? \d", text)) for w in ("frame", *counts)}
    if numbered["frame"] > 2 and not any(numbered[w] for w in chosen) and "hoop" not in chosen:
        return frozenset({"frame"})  # "Frame 1 … a left post, a roof bow and a right post"
    return chosen or (frozenset({"frame"}) if len(re.findall(r"\bframe \d", text)) else frozenset())


_DIMENSIONS = r"(?:dim(?:ension)?s?\.?|measure(?:ment)?s?|lengths?|sizes?|distances?|figures?|positions?)"
_ALL_MM = gated(
    rf"\b(?:all|unless)\b[^.]{{0,40}}\b{_DIMENSIONS}(?!\w)[^.]{{0,40}}\b(?:mm|millimet(?:re|er)s)\b"
    rf"|\b{_DIMENSIONS} (?:are |is )?(?:all )?(?:given |stated |shown )?in (?:mm|millimet(?:re|er)s)\b|\bmm (?:u\.?n\.?o\b|unless (?:noted|stated|shown|marked))",
    re.IGNORECASE,
)


_ALL_INCHES = gated(
    r"\b(?:all|unless|every)\b[^.]{0,40}\b(?:figures?|dimensions?|measurements?|lengths?|sizes?|distances?|numbers)\b[^.]{0,40}\binches\b"
    r"|\b(?:figures|dimensions|measurements|lengths|distances) (?:are )?(?:given |stated )?in inches\b",
    re.IGNORECASE,
)


def bare_inches(outline: Outline) -> bool:
    """Whether the manual says that its numbers are inches."""
    return any(_ALL_INCHES.search(step.text) for step in outline.steps)


def bare_mm(outline: Outline) -> bool:
    """Whether the manual says that its numbers are millimetres."""
    return any(_ALL_MM.search(step.text) for step in outline.steps)


class _Reader:
    def __init__(self, outline: Outline, grammar: Grammar) -> None:
        self.grammar = grammar
        self.found: dict[str, list[tuple[float, Source, int]]] = {}
        self.outline = outline
        self.bare_mm = bare_mm(outline)
        self.hoop_names = {w for w, senses in grammar.senses.items() for s in senses if s.kind == "mem" and s.role == "hoop"}

    def note(self, key: str, value: float, source: Source, weight: int = 1) -> None:
        self.found.setdefault(key, []).append((value, source, weight))

    def best(self, key: str) -> float | None:
        rows = self.found.get(key)
        if not rows:
            return None
        top = max(w for _, _, w in rows)
        return next(v for v, _, w in rows if w == top)


_AFTER = {
    "width_mm": ("wide", "in width", "across", "width", "span"),
    "length_mm": (
        *("long", "in length", "length", "from end to end", "end to end", "from the first to the last"),
        *(f"from the first {word} to the last" for word in (*hoop_nouns(), "frame")),
    ),
    "height_mm": (
        *("high", "in height", "tall", "height"),
        *(f"{way} the {top}" for way in ("to", "at", "under") for top in ("ridge", "crown", "peak", "apex")),
        *(
            f"from {low} to {top}"
            for low in ("the ground", "the soil", "ground", "grade")
            for top in ("the ridge", "the crown", "the peak", "ridge", "peak")
        ),
    ),
    "spacing_mm": (
        "apart",
        "centres",
        "centers",
        "c/c",
        "o.c.",
        "o.c",
        "between hoops",
        "between centres",
        "on center",
        "on centre",
        "spacing",
        "pitch",
        *(f"from {one} to the {other}" for one in ("one", *(f"one {word}" for word in hoop_nouns())) for other in ("next", "other")),
        *(f"from {word} to {word}" for word in hoop_nouns()),
    ),
}
_BEFORE = {
    "width_mm": ("width", "wide", "span"),
    "length_mm": ("length", "overall length"),
    "height_mm": (
        "height",
        "height at the ridge",
        "height to the ridge",
        "height of the ridge",
        "height of the ridge above the ground",
        "height at the peak",
        "height to the peak",
        "ht. at ridge",
        "height to the top of the bow",
        "height at ridge",
        "height at peak",
        "ridge height",
        "high",
        "headroom",
    ),
    "spacing_mm": ("spacing", "spaced", "every", "at intervals of", "centres", "pitch", "set at", "apart"),
    "leg_mm": ("straight side", "straight legs", "leg length", "straight for their lower", "straight for the lower", "straight leg"),
}


def _any_of(names: tuple[str, ...]) -> str:
    return f"(?:{'|'.join(map(re.escape, names))})"


_NAMED_BEHIND = {fact: re.compile(rf"(?:\(|overall |\w+ )?{_any_of(names)}(?!\w)") for fact, names in _AFTER.items()}
_NAMED_AHEAD = {
    fact: re.compile(rf"\b{_any_of(names)}(?: is| of| are|:| at|=|,)*(?: about| exactly| every)?$") for fact, names in _BEFORE.items()
}
_IN_HALVES = gated(r"\b(?:comes?|made|built|consists?|supplied|put together|formed|assembled)\b.{0,24}\b(?:two )?halves\b")
_HYPHENED = gated(
    r"\b(?P<n>\d{1,3}|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve)-(?P<hoop>[a-z]+) (?:tunnel|house|frame|kit|model|size|version|greenhouse)\b"
)
_PIECES_PER = gated(
    r"\b(?:tubes|sections|pieces|pipes|parts|halves|lengths|segments|limbs)(?: of (?:pipe|tube|tubing))? (?:in|per|to|for|of|making) (?:an? |each |every |one )?(?P<hoop>[a-z]+)"
    r"[\s.:=…–-]+(?P<n>one|two|three|four|five|[1-5])\b"
)  # "Halves in an arch: 2"
_IN_SECTIONS = gated(
    r"\b(?:each|every|an?|one|the|all)\b[^.]{0,30}\b(?:comes?|made|consists?|built|supplied|formed|put together|has|have|assembled|arrives?|is|are)\b[^.]{0,24}?\b(one|two|three|four|five|six|\d)\s+(?:[\w-]+ ){0,3}?(?:tubes|sections|pieces|pipes|parts|lengths|segments|halves|ribs|limbs|arms)\b"
)
_IN_ONE = gated(r"\b(?:one piece|one-piece|single piece|single tube|single length|one length)\b")


def read_facts(outline: Outline, grammar: Grammar) -> Facts:
    """The frame's facts, from the sentences of introductions and setting-out steps. Lengths in mm."""
    reader = _Reader(outline, grammar)
    for step in outline.steps:
        role = outline.section(step.section).role
        weight = 3 if role == "intro" else 1
        for item in step.items:
            passage = item.passage
            if item.table is not None:
                unit = head_unit(item.table.head[1]) if len(item.table.head) > 1 else ""
                for row in item.table.rows:
                    if len(row) >= 2:
                        _pair(reader, row[0], row[1], unit)
                continue
            for start, end in sentences(passage.text):
                _sentence(reader, passage, start, end, weight)
    for document in outline.documents:
        for line in document.lines[:12]:
            passage = Passage(line.text, document.id, ())
            _title(reader, line.text, Source(document.id, line.page, line.start, line.start + len(line.text), line.text.strip()))
    return _collect(reader, outline, grammar)


def _title(reader: _Reader, text: str, source: Source) -> None:
    toks = lex(text)
    lens = [t for t in toks if t.cat == "len"]
    if len(lens) >= 2 and gates.search(r"\b(?:x|by|×)\b|×", text.lower()):
        reader.note("title_w", float(lens[0].value), source)
        reader.note("title_l", float(lens[1].value), source)
    _hoop_count(reader, toks, source, 2)
    _note_hyphened(reader, text.lower(), source)


def _note_hyphened(reader: _Reader, low: str, source: Source) -> None:
    """ "The five-hoop tunnel"."""
    for joined in _HYPHENED.finditer(low):
        if joined["hoop"] in reader.hoop_names:
            reader.note("hoops", float(reader.grammar.words["numbers"].get(joined["n"]) or int(joined["n"])), source, 2)


def head_unit(head: str) -> str:
    """The unit that the head of a column gives for its bare numbers: "cm", "Distance (mm)", "mm from the foot"; empty if it has none."""
    match = gates.match(
        r"^(?:[\w ,-]+[(,] ?)?(?:in )?(mm|cm|m|ft|feet|in|inches)\b\.?\)?(?: (?:from|above|up|along|to)\b.*)?$", head.strip().lower()
    )
    return match[1] if match else ""


def _pair(reader: _Reader, key: Passage, value: Passage, unit: str) -> None:
    low = key.text.lower()
    bare = unit and re.fullmatch(r"[\d ,.]+", value.text.strip())
    toks = lex(f"{value.text} {unit}" if bare else value.text)
    lens = [t for t in toks if t.cat == "len"]
    if not key.runs or not value.runs:
        return
    match = gates.match(
        r"(\d+|one|two|three|four|five)\s+(?:[\w-]+\s+){0,2}?(?:tubes?|sections?|pieces?|pipes?|half-bows?|half-hoops?|halves|parts|half-arches)\b",
        value.text.lower().strip(),
    )
    count = _PIECES_PER.search(f"{low}: {value.text.lower()}")
    if count is not None and count["hoop"].rstrip("s") in reader.hoop_names:
        reader.note("sections", reader.grammar.words["numbers"].get(count["n"]) or int(count["n"]), value.source(), 3)
    if match and any(w in low.split() for w in hoop_nouns()):
        reader.note("sections", float(match[1]) if match[1].isdigit() else reader.grammar.words["numbers"][match[1]], value.source(), 3)
    if (
        any(w in low.split() for w in map(plural, hoop_nouns()))
        and len(low.split()) <= 4
        and toks
        and toks[0].cat == "num"
        and float(toks[0].value).is_integer()
    ):
        reader.note("hoops", float(toks[0].value), value.source(), 3)
    if lens:
        for fact, names in _BEFORE.items():
            if any(gates.search(rf"\b{n}\b", low) for n in names):
                reader.note(fact, float(lens[0].value), value.source(), 3)
                break


def _sentence(reader: _Reader, passage: Passage, start: int, end: int, weight: int) -> None:
    text = passage.text[start:end]
    toks = bare_lengths(lex(text)) if reader.bare_mm else lex(text)
    source = passage.source(start, end)
    _hoop_count(reader, toks, source, weight)
    low = text.lower()
    for k, tok in enumerate(toks):
        if tok.cat != "len":
            continue
        value = float(tok.value)
        after = low[tok.end : tok.end + 34].strip()
        before = low[max(0, tok.start - 40) : tok.start].rstrip()
        for fact, named in _NAMED_BEHIND.items():
            if named.match(after):
                _note_fact(reader, fact, value, source, weight, low, k)
        for fact, named in _NAMED_AHEAD.items():
            if named.search(before):
                _note_fact(reader, fact, value, source, weight, low, k)
    lens = [t for t in toks if t.cat == "len"]
    for a, b in itertools.pairwise(lens):
        if (
            low[a.end : b.start].strip() in ("by", "x", "×", "wide and", "wide by", "wide x", "wide,", "wide ×")
            and min(a.value, b.value) > 1200
            and not re.match(r"\s*(?:high|tall|in height)\b", low[b.end :])
        ):
            reader.note("title_w", float(a.value), source, weight)
            reader.note("title_l", float(b.value), source, weight)
    _note_hyphened(reader, low, source)
    count = _PIECES_PER.search(low)
    if count is not None and count["hoop"].rstrip("s") in reader.hoop_names:
        reader.note("sections", reader.grammar.words["numbers"].get(count["n"]) or int(count["n"]), source, 3)
    if _IN_HALVES.search(low):
        reader.note("sections", 2, source, 2)
    match = _IN_SECTIONS.search(low)
    if match and any(w in low[: match.end()] for w in reader.hoop_names):
        n = reader.grammar.words["numbers"].get(match[1]) or (int(match[1]) if match[1].isdigit() else None)
        if n:
            reader.note("sections", n, source, weight)
    if _IN_ONE.search(low) and any(w in low for w in reader.hoop_names) and "clip" not in low and "clamp" not in low:
        reader.note("sections", 1, source, 1)


def _note_fact(reader: _Reader, fact: str, value: float, source: Source, weight: int, low: str, k: int) -> None:
    limits = {
        "width_mm": (1500, 20000),
        "length_mm": (2000, 200000),
        "height_mm": (1200, 8000),
        "spacing_mm": (300, 4000),
        "leg_mm": (200, 4000),
    }
    a, b = limits[fact]
    if not a <= value <= b:
        return
    if (
        fact != "leg_mm"
        and fact != "spacing_mm"
        and gates.search(r"\b(door|post|bench|trench|bag|roll|opening|lintel|board|board|brace|crop bar|purlin length|vent)\b", low)
        and weight < 3
    ):
        weight = 0
    if fact == "spacing_mm" and not (any(w in low for w in reader.hoop_names) or "ground" in low or "mark" in low or "bay" in low):
        weight = 0
    if fact == "spacing_mm" and gates.search(r"\bposts?\b.*apart|screws?.*apart|clips?.*apart", low) and "ground" not in low:
        weight = 0
    reader.note(fact, value, source, weight)


def _hoop_count(reader: _Reader, toks: list[Tok], source: Source, weight: int) -> None:
    numbers = reader.grammar.words["numbers"]
    low = [t.low for t in toks]
    for k, tok in enumerate(toks):
        if tok.low in reader.hoop_names and tok.low.endswith("s") and k:
            prev = toks[k - 1]
            adjectives = 0
            while (
                prev.cat == "word"
                and prev.low
                in {
                    "pointed",
                    "steel",
                    "complete",
                    "single",
                    "one-piece",
                    "round",
                    "identical",
                    "gothic",
                    "curved",
                    "tubular",
                    "half-round",
                }
                and k - 2 - adjectives >= 0
            ):
                adjectives += 1
                prev = toks[k - 1 - adjectives]
            value = int(prev.value) if prev.cat in ("num", "count") and float(prev.value).is_integer() else numbers.get(prev.low)
            lead = low[k - 2 - adjectives] if k - 2 - adjectives >= 0 else ""
            if (
                value
                and 2 <= value <= 400
                and lead not in ("first", "last", "remaining", "other", "next", "end", "to", "and", "any", "inner", "step", "of", "middle")
            ):
                bonus = (
                    3
                    if any(w in low for w in ("has", "have", "with", "of", "there", "tunnel", "frame", "kit", "house", "all", "consists"))
                    else 0
                )
                if "carry" in low or lead in ("these", "those"):
                    bonus = 0
                reader.note("hoops", value, source, weight + bonus)
        if tok.low in reader.hoop_names:
            found, _, _ = number_list(toks, k + 1, numbers)
            if found and (len(found) > 1 or tok.low.rstrip("s") in reader.hoop_names):
                for n in found:
                    reader.note("numbered", n, source)
        if tok.cat == "word" and tok.low in reader.hoop_names and k + 2 < len(toks) and toks[k + 1].low == ":" and toks[k + 2].cat == "num":
            reader.note("hoops", float(toks[k + 2].value), source, 4)


def _collect(reader: _Reader, outline: Outline, grammar: Grammar) -> Facts:
    hoops = _best_hoops(reader)
    width = reader.best("width_mm") or reader.best("title_w")
    length = reader.best("length_mm") or reader.best("title_l")
    if reader.best("width_mm") is None and width and length and width > length:
        width, length = length, width
    spacing = reader.best("spacing_mm")
    if hoops and hoops > 1 and spacing is None and length:
        spacing = length / (hoops - 1)
    if hoops is None and spacing and length and _speaks_of_hoops(outline, reader):
        ratio = length / spacing
        hoops = round(ratio) + 1 if abs(ratio - round(ratio)) < 0.02 else None
    if hoops and spacing and length is None:
        length = spacing * (hoops - 1)
    sections = reader.best("sections")
    sources = {key: rows[0][1] for key, rows in reader.found.items() if rows}
    return Facts(
        hoops=hoops,
        width_mm=width,
        length_mm=length,
        height_mm=reader.best("height_mm"),
        spacing_mm=spacing,
        sections=int(sections) if sections else None,
        leg_mm=reader.best("leg_mm"),
        sources=sources,
    )


def _speaks_of_hoops(outline: Outline, reader: _Reader) -> bool:
    """Whether the manual names a hoop at all; a rack has places at a spacing too."""
    words = re.compile(rf"\b(?:{'|'.join(map(re.escape, sorted(reader.hoop_names)))})\b", re.IGNORECASE)
    return any(words.search(step.text) for step in outline.steps)


def _by_length(reader: _Reader) -> int | None:
    """How many hoops stand on the length at the spacing, if both are stated and the sum comes out even."""
    length, spacing = reader.best("length_mm"), reader.best("spacing_mm")
    if not length or not spacing:
        return None
    ratio = length / spacing
    return round(ratio) + 1 if ratio > 0.9 and abs(ratio - round(ratio)) < 0.02 else None


def _best_hoops(reader: _Reader) -> int | None:
    rows = reader.found.get("hoops", [])
    named = Counter(v for v, _, _ in reader.found.get("numbered", []))
    stated = max((v for v, _, weight in rows or () if weight > 2), default=0)
    # A single number far beyond what is said is no number of a hoop.
    numbered = max((v for v, times in named.items() if times > 1 or not stated or v <= 2 * stated), default=0)
    if rows and (fitting := _by_length(reader)) is not None and any(v == fitting for v, _, _ in rows):
        return fitting  # two statements and a sum that agree outweigh any number beside a word for a hoop
    if rows:
        scores: Counter[float] = Counter()
        for value, _, weight in rows:
            scores[value] += weight
        candidates = [v for v in scores if v >= numbered]
        if candidates:
            return int(max(candidates, key=lambda v: (scores[v], v)))
    return int(numbered) if numbered > 1 else (int(max(v for v, _, _ in rows)) if rows else None)
