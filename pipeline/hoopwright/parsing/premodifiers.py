"""What stands in front of a noun: determiner, number, ordinal, side, size and the adjectives of hoops."""

from __future__ import annotations

from dataclasses import dataclass, field

from hoopwright.model.events import Amount
from hoopwright.parsing.closed_words import DEFINITE, DETERMINERS, MORE, OTHER, PER_ONE, first_word, lows
from hoopwright.parsing.elements import El
from hoopwright.parsing.lex import Tok
from hoopwright.parsing.lexicon import Lexicon
from hoopwright.parsing.lookahead import adjective, hoopish_soon, nominal_ahead
from hoopwright.parsing.numbers import amount

_NTH = frozenset({"every", "each", "alternate"})
_EVERY_SECOND = frozenset({"every other", "every second", "each alternate", "every alternate"})
# Determiners that can stand alone ("both are fitted"), or be no determiner at all ("so that").
_PRONOMINAL = frozenset({"that", "this", "these", "those", "both", "all", "any", "no", "either"}) | PER_ONE
_JOINING_ADJECTIVES = frozenset({"same", "single", "whole", "pair", "couple", "next", "new", "two-metre"})


@dataclass(slots=True)
class Premodifiers:
    """What was gathered in front of a noun. ``seen`` says that a noun phrase has begun; ``nth`` is 3 in "every third"."""

    det: str | None = None
    amount: Amount | None = None
    ords: list[int] = field(default_factory=list)  # 1 is the first hoop, -1 the last
    side: str | None = None
    each: bool = False
    more: bool = False
    other: bool = False
    neg: bool = False
    same: bool = False
    seen: bool = False
    nth: int | None = None
    hoop_adjectives: list[str] = field(default_factory=list)
    adjectives: list[str] = field(default_factory=list)
    size: str | None = None

    def fill(self, el: El) -> None:
        """Hand what was gathered to the element; "a clip" and "the other clip" are one clip."""
        el.det, el.each, el.more, el.other, el.side = self.det, self.each, self.more, self.other, self.side
        el.amount, el.size, el.neg = self.amount, self.size, self.neg
        el.ords, el.adjectives = tuple(self.ords), tuple(self.adjectives)
        if el.amount is None and self.det in ("a", "an", "another"):
            el.amount = Amount(1, text=self.det)
        if self._one_other(el) and el.type == "fit":
            el.amount, el.more, self.det = Amount(1, text="the other"), True, "other"
        if self.ords == [2] and self.det == "a" and self.amount is not None and el.type == "ellip":
            el.ords, el.more = (), True  # "a second one"
        if self._one_other(el) and el.type == "ellip" and not self.side:
            el.amount, self.det = Amount(1, text="the other"), "other"
        el.definite = self.det in DEFINITE or (self.det == "all" and el.amount is None)

    def _one_other(self, el: El) -> bool:
        return self.other and self.det == "the" and el.amount is None


def premodifier(words: Lexicon, toks: list[Tok], i: int, state: Premodifiers) -> int:
    """Take the premodifier at ``i`` into ``state``; where it ends, or 0 if there is none."""
    tok = toks[i]
    low = tok.low
    if tok.cat != "word":
        return _number(words, toks, i, state) or _size(words, toks, i, state)
    end = _number(words, toks, i, state) if words.may_number(low) else 0
    end = end or (_every_nth(words, toks, i, state) if low in _NTH else 0)
    if end:
        return end
    if low in DETERMINERS:
        return _determiner(words, toks, i, state)
    begins = low in words.sides or low in words.ordinals or low in words.hoop_adjectives
    if not state.seen and not begins:
        return 0
    if low in MORE and low != "second":
        state.more = True
        return i + 1
    end = _ordinal(words, toks, i, state) or _side_or_hoops(words, toks, i, state)
    if end:
        return end
    if low in OTHER:
        state.other = True
        return i + 1
    if low in _JOINING_ADJECTIVES:
        state.adjectives.append(low)
        state.same = state.same or low == "same"
        return i + 1
    return 0


def _number(words: Lexicon, toks: list[Tok], i: int, state: Premodifiers) -> int:
    tok = toks[i]
    if tok.cat == "count" and not words.numeric_code(tok):
        state.amount, state.seen = Amount(int(tok.value), text=tok.text), True
        return i + 1
    if tok.cat in ("num", "word") and not state.amount:
        found, end = amount(words, toks, i)
        if found is not None:
            state.amount, state.seen = found, True
            return end
    return 0


def _size(words: Lexicon, toks: list[Tok], i: int, state: Premodifiers) -> int:
    """ "two 42 mm clamps", "M8 bolts": a size needs its noun behind it, and a bare length a phrase that has begun."""
    tok = toks[i]
    if tok.cat not in ("len", "size") or i + 1 >= len(toks):
        return 0
    nounish = words.is_nounish(toks[i + 1])
    if state.seen and (nounish or adjective(words, toks, i + 1)):
        state.size = tok.text
        return i + 1
    if tok.cat == "size" and nounish:
        state.size, state.seen = tok.text, True
        return i + 1
    return 0


def _every_nth(words: Lexicon, toks: list[Tok], i: int, state: Premodifiers) -> int:
    low = toks[i].low
    if low in ("every", "each"):
        if lows(toks, i, 2) in _EVERY_SECOND:
            state.nth, state.seen, state.each = 2, True, True
            return i + 2
        nth = words.ordinals.get(toks[i + 1].low) if i + 1 < len(toks) else None
        if nth is not None and hoopish_soon(words, toks, i + 2):
            state.nth, state.seen, state.each = nth, True, True
            return i + 2
    if low == "alternate" and hoopish_soon(words, toks, i + 1):
        state.nth, state.seen = 2, True
        return i + 1
    return 0


def _determiner(words: Lexicon, toks: list[Tok], i: int, state: Premodifiers) -> int:
    low = toks[i].low
    if low in _PRONOMINAL and not nominal_ahead(words, toks, i + 1):
        return 0
    state.det, state.seen = low, True
    state.each = state.each or low in PER_ONE or low == "any"
    state.more = state.more or low == "another"
    state.neg = state.neg or low == "no"
    return i + 1


def _ordinal(words: Lexicon, toks: list[Tok], i: int, state: Premodifiers) -> int:
    low = toks[i].low
    value = words.ordinals.get(low)
    last = low == "last"
    if (value is None and not last) or not (state.det or hoopish_soon(words, toks, i + 1)):
        return 0
    adverb = low == "first" and state.det != "the" and not nominal_ahead(words, toks, i + 1)
    if value is not None and not adverb:
        state.ords.append(value)
    elif last:
        state.ords.append(-1)
    else:
        return 0
    state.seen = True
    return i + 1


def _side_or_hoops(words: Lexicon, toks: list[Tok], i: int, state: Premodifiers) -> int:
    """A side ("left-hand") or an adjective of hoops ("inner"), of up to three words."""
    if first_word(toks[i].low) not in words.flank_starts:
        return 0
    for length in (3, 2, 1):
        phrase = lows(toks, i, length)
        is_side = phrase in words.sides
        if is_side and _stands_for_side(phrase, i, nominal_ahead(words, toks, i + length), state):
            state.side, state.seen = words.sides[phrase], True
            return i + length
        hoops = phrase in words.hoop_adjectives and not (length == 1 and is_side)
        if hoops and hoopish_soon(words, toks, i + length):
            state.hoop_adjectives.append(phrase)
            state.seen = True
            return i + length
    return 0


def _stands_for_side(phrase: str, i: int, ahead: bool, state: Premodifiers) -> bool:
    """A side in front of a noun, or alone behind a determiner; a single letter only inside a phrase, before its noun."""
    if len(phrase) == 1:
        return i > 0 and ahead
    return ahead or bool(state.det)
