"""How long the hoop's tubes are, from sentences, tables and the parts list: "each leg is 1500 mm long", "three tubes of 2.4 m".

A length counts where its words say that it is one ("long", "round the bend", "from foot to joint"), or where it stands right behind the
tube in a description of the frame; a distance at which something is fitted does not.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from operator import attrgetter

from hoopwright.grammar import Grammar
from hoopwright.grammar.inflect import plural
from hoopwright.model.outline import Outline, Passage, Source
from hoopwright.parsing import gates
from hoopwright.parsing.gates import gated
from hoopwright.parsing.kit import Kit, split_name
from hoopwright.parsing.lex import Tok, bare_lengths, lex
from hoopwright.parsing.sentences import sentences

WHOLE = "hoop"  # the key of the whole hoop's length, foot to foot
EVERY = "*"  # the key of a length that all tubes of a hoop have
TUBE_MM = (300.0, 15000.0)
WHOLE_MM = (1500.0, 40000.0)
BESIDE_MM = 600.0  # least that a bare length behind a tube's name is taken for its length: below, it may be a size or a place

_GENERIC = ("tube", "section", "piece", "pipe", "part", "length", "segment")
_PLACES = frozenset(
    {"joint", "foot", "ridge", "shoulder", "end", "side", "bay", "crossing", "ground", "hoop", "tube", "hoop-maybe", "height"}
)
_WORD = re.compile(r"[a-z]+(?:[-'][a-z]+)*")
_BRACKET = r"\s*(?:[\[(][^\])]*[\])]\s*)?"
_ENDS = r"(?:foot|feet|joint|end|tip|bottom|base|lower end|upper end)"
_TO = r"(?:foot|joint|end|tip|top|shoulder|crown|ridge|upper end)"
_FROM_TO = rf"(?:from\s+)?(?:(?:its|the|each|one|a)\s+)?{_ENDS}\s+to\s+(?:(?:its|the|a|other|the other)\s+)?{_TO}\b"
_ROUND = (
    r"(?:(?:as\s+)?(?:measured|taped|taken)\s+)?(?:along|round|around|over|on|following)\s+(?:the|its|their)\s+(?:outside of the\s+)?"
    r"(?:curve|bend|tube|pipe|rib|half|arc|bow|centre[\s-]?line|center[\s-]?line|outside|inside)\b(?!\s*,?\s*(?:from|above|below|up|down)\b(?!\s+(?:its\s+|the\s+)?"
    + _ENDS
    + r"\s+to\b))"
)
_LONG = r"(?:overall\s+|in all\s+|total\s+)?(?:long\b|in length\b|length\b)"
_APART = gated(
    rf"{_BRACKET},?\s*(?:{_LONG}|{_ROUND}|{_FROM_TO}|developed\b|without\b|not counting\b|excluding\b|less the\b|each(?=\s*(?:[.,;)]|$)))"
)
_PLAIN_LONG = gated(rf"{_BRACKET},?\s*(?:{_LONG}|{_FROM_TO})")
_BEFORE = gated(
    r"(?:\b(?:overall |developed |total |cut |finished )?length(?: of)?|\bmeasur(?:es?|ing)|\b(?:the same|equal|one) lengths?,?)\s*(?:is|of|are|:|=|\.{2,}|-|–)?\s*$"
)
_BESIDE = re.compile(r"\s*(?:,|:|=|-|–|is|are|of|\.{2,}|at|x|×)?\s*(?:about\s+)?$")
_NO_LENGTH = re.compile(
    rf"{_BRACKET},?\s*(?:apart|wide|high|tall|above|below|from(?!\s+(?:(?:its|the)\s+)?{_ENDS}\s+to\b)|up\b|down\b|dia|diameter|o\.?\s?d\b|outside|bore|into|"
    r"centres|centers|c/c|o\.c|deep|thick|in radius|radius|out of|of (?:it|them|each)|in from|to (?:the|its|their) (?:left|right))"
)
_ATTRIBUTE = re.compile(r"[\s-]*(?:long\s+)?(?:steel\s+|straight\s+|bent\s+|curved\s+|lengths? of\s+)?$")
_SHOWN = gated(
    rf"\b(?:without|plus|not counting|not including|excluding|less the|when (?:fitted|joined|assembled|plugged)|visible|showing|{_FROM_TO}|joint to joint|foot to foot)\b"
)
_NOT_A_LENGTH_KEY = re.compile(r"\b(?:height|spacing|distance|diameter|width|between|radius|bore|wall|apart|number|quantity|depth|o\.?d)\b")
_WHOLE_KEY = gated(r"\b(?:developed|curve|bend|foot to foot)\b")
_WHOLE_OF = gated(r"\b(?:length|tube) (?:of|in|for|per) (?:a|an|each|every|one|the)\s+(?:\w+\s+)?$")
_FOOT_TO_JOINT = gated(rf"{_BRACKET},?\s*(?:from\s+)?(?:(?:its|the|each)\s+)?foot to (?:(?:its|the|first|lower)\s+)*joint\b")
_JOINT_TO_JOINT = gated(rf"{_BRACKET},?\s*(?:from\s+)?(?:(?:one|the|each)\s+)?joint to (?:(?:the|the other|the next)\s+)?joint\b")
_LANDMARK = gated(
    r"\b(?:between|above|below|over|onto|on|to|into|from|at|outside|inside|across|through|behind|beside)\s+(?:(?:the|its|their|each|every|two|both|all)\s+)*"
    r"(?:(?:left|right)\s+)?$"
)
_PLUGGED = gated(
    r"\b(?:swaged|swedged|narrowed|reduced|tapered|necked|flared|belled|crimped|expanded)\b"
    r"|\b(?:plugs?|plugged|fits?|push(?:ed|es)?|slides?|goes|go)\s+(?:\d[\d.,]*\s*(?:mm|cm|in)\s+)?(?:up |down )?(?:in|into|inside|over)\s+(?:its|the|each|every)\s+"
)
_IN_FRONT = 160  # characters in front of a word in which what belongs to it stands
_start, _end = attrgetter("start"), attrgetter("end")
_PRONOUN = gated(r"^(?:and\s+|but\s+)?(?:they|it|these|each|both|all)\b|\b(?:it|they|each|both) (?:is|are|measures?|has|have)\b")


@dataclass(frozen=True, slots=True)
class TubeLength:
    """A length in mm of the tubes named ``key`` (a tube's name without its side, WHOLE or EVERY).

    ``shown``: the words say that ends hidden in a joint are not in it; ``listed``: it stands in the parts list.
    """

    key: str
    mm: float
    source: Source
    shown: bool = False
    listed: bool = False


@dataclass(frozen=True, slots=True)
class _Mention:
    """A noun at characters ``start`` to ``end``; ``key`` is None for what is no tube of the hoop."""

    start: int
    end: int
    key: str | None
    name: str


class Names:
    """Finds mentions of the hoop, its tubes and other members in a text in lower case."""

    def __init__(self, grammar: Grammar, own: tuple[str, ...], hoops: frozenset[str], count: int) -> None:
        self.grammar, self.count = grammar, count
        self.numbers: dict[str, int] = {str(count): count} | {w: n for w, n in grammar.words["numbers"].items() if n == count}
        self.own: dict[str, str] = {}
        for word in hoops:
            self._add(word, WHOLE)
        for name in own:
            self._add(name, name if name not in hoops or count > 1 else WHOLE)
        for name in own:
            self._add_short(name, hoops, len(set(own)))
        self.tubes = set(own)
        # The kinds of tube from foot to joint and from joint to joint, in a hoop of three tubes or two.
        self.by_ends = own if len(own) == 2 and count == 3 else own[:1] if count == 2 and len(own) == 1 else ()
        self._starts = self._first_words()
        self._found: dict[str, list[_Mention]] = {}  # sentence -> its mentions: each is read for lengths, for legs, for the bend

    def _first_words(self) -> dict[str, int]:
        """First word -> words of the longest name that it starts: most words of a text start none."""
        nouns = (phrase for phrase, senses in self.grammar.senses.items() for s in senses if s.kind in ("fit", "mem"))
        starts: dict[str, int] = {}
        for name in (*self.own, *nouns):
            first = name.partition(" ")[0]
            starts[first] = max(starts.get(first, 0), name.count(" ") + 1)
        return starts

    def _longest(self, word: str) -> int:
        """How many words a name that starts with ``word`` can have; 0 if none does."""
        longest = self._starts.get(word, 0)
        if "-" in word:  # a hyphen stands for a blank, too
            longest = max(longest, self._starts.get(word.replace("-", " ").partition(" ")[0], 0))
        return longest or (1 if word.rstrip("s") in _GENERIC else 0)

    def _add(self, name: str, key: str) -> None:
        head = name.split()[-1]
        many = "halves" if head == "half" else plural(head)
        for form in (name, " ".join((*name.split()[:-1], many))):
            self.own[form.replace("-", " ")] = key

    def _add_short(self, name: str, hoops: frozenset[str], kinds: int) -> None:
        """ "Half" for a half bow, "leg" for a leg tube: one word alone, where it means no other tube and no hoop."""
        words = name.replace("-", " ").split()
        for word in words if len(words) > 1 else ():
            generic = word in _GENERIC or word in hoops or word in ("left", "right", "side", "end", "top", "bottom", "upper", "lower")
            if (not generic or (kinds == 1 and word in ("half", "rib", "rafter"))) and word not in self.own:
                self._add(word, name)

    def find(self, low: str) -> list[_Mention]:
        """All mentions, in order; the longest name that fits at each word."""
        if low not in self._found:
            self._found[low] = self._find(low)
        return self._found[low]

    def _find(self, low: str) -> list[_Mention]:
        words = [(m.start(), m.end(), m.group()) for m in _WORD.finditer(low)]
        found: list[_Mention] = []
        k = 0
        while k < len(words):
            longest = min(4, self._longest(words[k][2]), len(words) - k)
            hit = next((hit for n in range(longest, 0, -1) if (hit := self._at(low, words, k, n))), None)
            k += 1
            if hit is not None:
                found.append(hit)
                while k < len(words) and words[k][0] < hit.end:
                    k += 1
        return found

    def _at(self, low: str, words: list[tuple[int, int, str]], k: int, n: int) -> _Mention | None:
        start, end = words[k][0], words[k + n - 1][1]
        if n > 1 and gates.search(r"[^\s\w'-]", low[start:end]):
            return None
        phrase = " ".join(word for _, _, word in words[k : k + n])
        key = self.own.get(phrase.replace("-", " "))
        if key is not None:
            return _Mention(start, end, key, phrase)
        if n == 1 and phrase.rstrip("s") in _GENERIC:
            if k and (words[k - 1][2] in ("each", "every", "all") or self._counted(words, k)):
                return _Mention(start, end, EVERY, phrase)
            return None
        senses = self.grammar.senses.get(phrase, ())
        if any(s.kind == "fit" or (s.kind == "mem" and s.role not in _PLACES) for s in senses) and phrase not in (
            "length",
            "lengths",
            "place",
        ):
            return _Mention(start, end, None, phrase)
        return None

    def _counted(self, words: list[tuple[int, int, str]], k: int) -> bool:
        return any(self.numbers.get(word) for _, _, word in words[max(0, k - 2) : k] if word not in ("a", "an"))


def tube_lengths(outline: Outline, grammar: Grammar, kit: Kit, names: Names, bare_mm: bool) -> list[TubeLength]:
    """Every length that the manual states for a tube of a hoop or for a whole hoop, in the manual's order, the parts list last."""
    found: list[TubeLength] = []
    descriptions = describing(outline)
    for step in outline.steps:
        telling = step.id in descriptions
        subject: _Mention | None = None
        for item in step.items:
            if item.table is not None:
                found += [length for row in item.table.rows if len(row) >= 2 for length in _of_row(row, names, bare_mm)]
                continue
            for start, end in sentences(item.passage.text):
                reader = _Sentence(item.passage, start, end, names, bare_mm, telling, subject)
                found += reader.read()
                subject = reader.subject
    return [*found, *_listed(outline, grammar, names, kit)]


def describing(outline: Outline) -> frozenset[str]:
    """Ids of the steps that describe the frame: all outside of the building, and unlabelled text that stands before the parts list."""
    roles = [outline.section(step.section).role for step in outline.steps]
    parts = roles.index("parts") if "parts" in roles else 0
    return frozenset(
        step.id
        for k, (step, role) in enumerate(zip(outline.steps, roles, strict=True))
        if role not in ("build", "correction", "contents", "safety") or (role == "build" and step.label is None and k < parts)
    )


def plugged(outline: Outline, names: Names) -> bool:
    """Whether the ends of the hoop's tubes go into one another, so that a tube is longer than what shows of it."""
    for step in outline.steps:
        for start, end in sentences(step.text):
            low = step.text[start:end].lower()
            match = _PLUGGED.search(low)
            if match is None:
                continue
            near = [m for m in names.find(low) if abs(m.start - match.start()) <= 60 and not m.name.startswith("plug")]
            if any(m.key in names.tubes for m in near) and not any(
                m.key is None and any(s.kind == "fit" for s in names.grammar.senses.get(m.name, ())) for m in near
            ):
                return True
    return False


class _Sentence:
    """The lengths of one sentence; ``subject`` is what the next sentence's "it" or "they" speaks of."""

    def __init__(self, passage: Passage, start: int, end: int, names: Names, bare_mm: bool, telling: bool, before: _Mention | None) -> None:
        self.passage, self.start, self.end = passage, start, end
        self.text = passage.text[start:end]
        self.low = self.text.lower()
        self.names, self.telling = names, telling
        toks = lex(self.text)
        self.toks = bare_lengths(toks) if bare_mm else toks
        self.mentions = names.find(self.low)
        self._subjects: list[_Mention] | None = None
        own = [m for m in self.mentions if m.key is not None]
        opening = before if _PRONOUN.search(self.low) else None
        self.carried = opening if not own else None
        self.subject = own[0] if own else (before if opening is not None else None)

    def read(self) -> Iterator[TubeLength]:
        """The lengths, left to right; one that follows another in the same clause needs fewer words."""
        said = False
        for tok in self.toks:
            value = self._value(tok, said)
            if value is None or self._dual(tok):
                continue
            mention = self._subject_of(tok)
            if mention is None or mention.key is None or mention is self.carried:
                mention = self._by_ends(tok) or mention
            if mention is None or mention.key is None:
                continue
            low, high = WHOLE_MM if mention.key == WHOLE else TUBE_MM
            if low <= value <= high and self._is_length(tok, mention, said):
                said = True
                yield TubeLength(mention.key, value, self.passage.source(self.start, self.end), shown=_SHOWN.search(self.low) is not None)

    def _value(self, tok: Tok, said: bool) -> float | None:
        if tok.cat == "len":
            return float(tok.value)
        # "each leg 1500 mm and each crown 4267": the unit is not said again
        if said and tok.cat == "num" and float(tok.value).is_integer() and tok.value >= TUBE_MM[0]:
            return float(tok.value) if gates.search(r"\bmm\b", self.low) else None
        return None

    def _dual(self, tok: Tok) -> bool:
        """Whether it is the same length again in other units, in a bracket."""
        before = self.low[max(0, tok.start - _IN_FRONT) : tok.start].rstrip()
        return before.endswith(("[", "(")) and bool(
            gates.search(r"[\d\"']\s*(?:mm|cm|m|in|ft|inch(?:es)?|feet|foot|\"|')?\.?\s*[\[(]$", before)
        )

    def _subject_of(self, tok: Tok) -> _Mention | None:
        at = bisect_left(self.mentions, tok.end, key=_start)
        behind = self.mentions[at] if at < len(self.mentions) else None
        if behind is not None and behind.key is not None and _ATTRIBUTE.fullmatch(self.low[tok.end : behind.start]):
            return behind
        if self._subjects is None:
            # Only the words straight in front make a mention a landmark; to search all of a long sentence for each would take its square.
            self._subjects = [m for m in self.mentions if not _LANDMARK.search(self.low[max(0, m.start - _IN_FRONT) : m.start])]
        ahead = self._subjects[: bisect_right(self._subjects, tok.start, key=_end)][-2:]
        if len(ahead) > 1 and ahead[-1].key == WHOLE and gates.search(r"\bof (?:a|an|each|every|the|one) $", self.low[: ahead[-1].start]):
            return ahead[-2]  # "the tubes of a hoop are 2.4 m long"
        return ahead[-1] if ahead else self.carried

    def _by_ends(self, tok: Tok) -> _Mention | None:
        """ "1.5 m from the foot to the joint and 4.4 m from joint to joint": the ends say which tube it is."""
        after = self.low[tok.end :]
        ends = self.names.by_ends
        key = ends[0] if ends and _FOOT_TO_JOINT.match(after) else ends[1] if len(ends) == 2 and _JOINT_TO_JOINT.match(after) else None
        return None if key is None or not self.telling else _Mention(0, 0, key, key)

    def _is_length(self, tok: Tok, mention: _Mention, said: bool) -> bool:
        after, before = self.low[tok.end :], self.low[: tok.start]
        if mention.start >= tok.end:
            return self.telling and tok.value >= BESIDE_MM and _ATTRIBUTE.fullmatch(self.low[tok.end : mention.start]) is not None
        if mention.key == WHOLE and not self._of_one_hoop(mention):
            return False
        if _PLAIN_LONG.match(after):
            return True
        if not self.telling or _NO_LENGTH.match(after):
            return False
        if _APART.match(after) or (_BEFORE.search(before) and mention.end > tok.start - 60):
            return True
        if mention.key == WHOLE and self.names.count > 1:
            return False
        beside = mention is not self.carried and _BESIDE.fullmatch(self.low[mention.end : tok.start]) is not None
        return beside and (said or (tok.cat == "len" and tok.value >= BESIDE_MM))

    def _of_one_hoop(self, mention: _Mention) -> bool:
        """ "A hoop is 5.4 m long", and not "the hoops stand in a house 5.4 m long"."""
        lead = self.low[max(0, mention.start - 14) : mention.start]
        single = not mention.name.endswith("s") or mention.name in self.names.tubes
        return single and gates.search(r"\b(?:a|an|each|every|one|the|per|of)\s+(?:\w+\s+)?$", lead) is not None


def _of_row(row: tuple[Passage, ...], names: Names, bare_mm: bool) -> Iterator[TubeLength]:
    """ "Leg tube, without its narrowed end | 1000 mm": a row of a table of sizes."""
    key = row[0].text.lower()
    if _NOT_A_LENGTH_KEY.search(key) or not row[0].runs or not row[1].runs:
        return
    value = row[1]
    toks = [t for t in (bare_lengths(lex(value.text)) if bare_mm else lex(value.text)) if t.cat == "len"]
    mentions = names.find(key)
    if not toks or not mentions or any(m.key is None for m in mentions):
        return
    tubes = [m for m in mentions if m.key not in (WHOLE, None)]
    whole = not tubes and (_WHOLE_KEY.search(key) or _WHOLE_OF.search(key[: mentions[0].start]))
    chosen = tubes[0] if tubes else mentions[0] if whole and not mentions[0].name.endswith("s") else None
    low, high = WHOLE_MM if chosen is not None and chosen.key == WHOLE else TUBE_MM
    mm = float(toks[0].value)
    if chosen is not None and chosen.key is not None and low <= mm <= high and mm >= BESIDE_MM:
        yield TubeLength(chosen.key, mm, value.source(), shown=_SHOWN.search(f"{key} {value.text.lower()}") is not None)


def _listed(outline: Outline, grammar: Grammar, names: Names, kit: Kit) -> Iterator[TubeLength]:
    """ "Hoop section, 2.6 m": lengths that the parts list prints with a tube of the hoop."""
    for entry in outline.parts:
        words, _ = split_name(entry.name, grammar)
        name = " ".join(words)
        if name not in kit.members:
            continue
        key = names.own.get(name.replace("-", " "))
        if key is None:
            continue
        text = f"{entry.name} {entry.size or ''} {entry.note} {entry.source.quote}"
        # "1.66 in x 11 ft": across and along
        pieces = re.split(r"\s+[x×]\s+", text)
        lengths = [float(t.value) for piece in pieces for t in lex(piece) if t.cat == "len" and t.value >= BESIDE_MM]
        low, high = WHOLE_MM if key == WHOLE else TUBE_MM
        mm = next((v for v in lengths if low <= v <= high), None)
        if mm is not None:
            yield TubeLength(key, mm, entry.source, shown=_SHOWN.search(text.lower()) is not None, listed=True)
