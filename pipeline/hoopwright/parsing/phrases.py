"""Noun phrases of all sorts: with a noun, a pronoun, a code, or nothing behind the number ("and two on each end")."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from hoopwright.parsing.closed_words import (
    ADVERBS,
    ARTICLES,
    BE,
    CONJUNCTIONS,
    DASHES,
    PER_ONE,
    lows,
    multi_preposition,
)
from hoopwright.parsing.elements import El
from hoopwright.parsing.hoops import by_words
from hoopwright.parsing.lex import Tok
from hoopwright.parsing.lexicon import Lexicon
from hoopwright.parsing.lookahead import adjective
from hoopwright.parsing.nouns import noun_phrase
from hoopwright.parsing.premodifiers import Premodifiers, premodifier

if TYPE_CHECKING:
    from hoopwright.parsing.chunk import Chunker

_PRONOUNS = PER_ONE - {"per"} | {"it", "they", "them", "these", "those", "ones", "both", "others", "rest"}
_PLURAL_PRONOUNS = frozenset({"they", "them", "these", "those", "ones", "both", "others", "rest"})
_EMPTY_DETERMINERS = frozenset({"the", "its", "their", "your", "our", "no", "any"}) | ARTICLES
_COMPARING = frozenset(
    {"beside", "under", "below", "above", "behind", "than", "after", "before", "over", "against"},
)
_CODE_LEADS = frozenset({"item", "items", "part", "parts", "ref", "ref.", "code", "type"})
_CODE_LINKS = frozenset({"and", ",", "&", "to", "-", "–"})
_CODE = re.compile(r"([A-Za-z]*)(\d*)")


def read_phrase(chunker: Chunker, toks: list[Tok], start: int) -> El | None:
    """The noun phrase that starts at token ``start``; None if none does."""
    if not chunker.may_lead(toks[start]):
        return _bare(chunker, toks, start)
    state = Premodifiers()
    i = start
    while i < len(toks):
        if state.seen and multi_preposition(toks, i):
            break
        end = premodifier(chunker, toks, i, state)
        if end:
            i = end
            continue
        if chunker.noun(toks, i)[0] is not None:
            return noun_phrase(chunker, toks, start, i, state)
        tok = toks[i]
        if tok.cat != "word":
            break
        if tok.low == "ones" or (tok.low == "one" and state.seen):
            return _pronoun(chunker, toks, start, i + 1, state, "one")
        if not state.seen or not adjective(chunker, toks, i):
            break
        state.adjectives.append(tok.low)
        i += 1
    return _elliptic(chunker, toks, start, i, state) if state.seen else _bare(chunker, toks, start)


def _bare(chunker: Chunker, toks: list[Tok], start: int) -> El | None:
    """A phrase that nothing leads: a code, a pronoun, or a plain adjective and its noun."""
    coded = _code(chunker, toks, start)
    if coded is not None:
        return coded
    tok = toks[start]
    if tok.cat != "word":
        return None
    if tok.low in _PRONOUNS:
        return _pronoun(chunker, toks, start, start + 1, Premodifiers(), tok.low)
    return _adjective_phrase(chunker, toks, start) if adjective(chunker, toks, start) else None


def _adjective_phrase(chunker: Chunker, toks: list[Tok], start: int) -> El | None:
    """A noun phrase that begins with plain adjectives, two at most: "long wing bolts", "closed clamps"."""
    for j in range(start, min(start + 3, len(toks))):
        if chunker.is_nounish(toks[j]) and chunker.noun(toks, j)[0] is not None:  # "Join arches 2 to 7": no noun here
            return noun_phrase(chunker, toks, start, j, Premodifiers(adjectives=[t.low for t in toks[start:j]]))
        if not adjective(chunker, toks, j):
            return None
    return None


def _pronoun(words: Lexicon, toks: list[Tok], start: int, end: int, state: Premodifiers, word: str) -> El:
    """ "it", "each", "the first one"; one that an ordinal or an adjective of hoops leads is a hoop."""
    text = " ".join(t.text for t in toks[start:end])
    el = El("pron", start, end, text, text.lower(), name=word)
    state.fill(el)
    el.plural = word in _PLURAL_PRONOUNS
    el.each = el.each or word in PER_ONE
    one_of_hoops = bool(state.ords) and "one" in el.low and state.det == "the"
    if state.ords == [2] and state.det == "a":
        el.more, el.ords = True, ()  # "a second one"
    elif state.hoop_adjectives or one_of_hoops:
        el.type = "mem"
        _as_hoop(words, el, state)
    return el


def _as_hoop(words: Lexicon, el: El, state: Premodifiers) -> None:
    el.role, el.words = "hoop", ("hoop",)
    el.hoops = by_words(words, el, state, el.text)


def _elliptic(words: Lexicon, toks: list[Tok], start: int, i: int, state: Premodifiers) -> El | None:
    """ "two", "the other", "the third": a phrase from ``start`` to ``i`` whose noun was left out."""
    text = " ".join(t.text for t in toks[start:i])
    el = El("ellip", start, i, text, text.lower())
    state.fill(el)
    if state.ords and state.det == "the" and not state.other and _ordinal_is_hoop(words, toks, start, i, state):
        el.type = "mem"
        _as_hoop(words, el, state)
        return el
    if state.amount or state.other:
        return el
    if state.det in _EMPTY_DETERMINERS and not state.side:
        # an article in front of a word that means nothing here
        return El("word", start, start + 1, toks[start].text, toks[start].low)
    if state.side and not state.det:
        return El("word", start, i, text, text.lower(), side=state.side)
    return el


def _ordinal_is_hoop(words: Lexicon, toks: list[Tok], start: int, i: int, state: Premodifiers) -> bool:
    """ "on the third, fit two": an ordinal that ends its phrase and is compared with nothing is a hoop's."""
    if start and toks[start - 1].low in _COMPARING:
        return False
    if i >= len(toks):
        return True
    nxt = toks[i]
    if nxt.cat == "punct":
        return state.ords != [1] or start > 0  # "The first, …" may be a step
    return (
        nxt.low in CONJUNCTIONS
        or nxt.low in BE
        or (nxt.low in words.onto and nxt.low != "of")
        or nxt.low in ADVERBS
        or words.verb(toks, i)[0] is not None
    )


def _code(words: Lexicon, toks: list[Tok], i: int) -> El | None:
    """Parts named by their codes alone: "fit C4", "item H", "parts C1 to C3"."""
    j = i + (toks[i].low in _CODE_LEADS and i + 1 < len(toks))
    raw = toks[j].text
    codes = words.kit.codes
    name = codes.get(raw.upper())
    if name is None or not (raw.isupper() or any(c.isdigit() for c in raw)):
        return None
    if j == i and (len(raw) < 2 or raw.isdigit()):
        return None  # a letter or number alone is a code only behind "item" or the like
    end = j + 1
    names = [name]
    while end + 1 < len(toks) and toks[end].low in _CODE_LINKS and toks[end + 1].text.upper() in codes:
        last = toks[end + 1].text
        if toks[end].low == "to" or toks[end].low in DASHES:
            names = _code_range(words, raw, last)
        elif codes[last.upper()] not in names:
            names.append(codes[last.upper()])
        end += 2
    text = " ".join(t.text for t in toks[i:end])
    el = El("fit", i, end, text, text.lower(), words=(names[0],), parts=tuple(names), det="code", definite=True)
    el.classes = el.plural = len(names) > 1
    return el


def _code_range(words: Lexicon, first: str, last: str) -> list[str]:
    """The parts whose codes lie between two codes, "C1 to C4" or "A to D"; the first alone if none does."""
    low, high = _CODE.match(first), _CODE.match(last)
    assert low is not None and high is not None, "the pattern matches the empty text, too"
    names = []
    for code, name in words.kit.codes.items():
        found = _CODE.fullmatch(code)
        if found is None:
            continue
        letters, digits = found[1], found[2]
        if low[2]:
            within = letters == low[1].upper() and digits and int(low[2]) <= int(digits) <= int(high[2] or 0)
        else:
            same_length = len(letters) == len(low[1])
            within = not digits and same_length and low[1].upper() <= letters <= high[1].upper()
        if within:
            names.append(name)
    return names or [words.kit.codes[first.upper()]]


def single(words: Lexicon, toks: list[Tok], i: int) -> El:
    """The token at ``i`` as an element of its own: length (mm), stop, conjunction, preposition or plain word."""
    tok = toks[i]
    low = tok.low
    if tok.cat == "len":
        return El("len", i, i + 1, tok.text, low, mm=float(tok.value))
    if tok.cat == "punct":
        return El("punct", i, i + 1, tok.text, low)
    if low in {"and", "or", "&", "plus"}:
        return El("conj", i, i + 1, tok.text, "or" if low == "or" else "and")
    if words.is_relation(low) or low in {"than", "except", "underneath", "over", "below", "w/", "o/"}:
        return El("prep", i, i + 1, tok.text, low)
    side = words.sides.get(low)
    if side is not None and lows(toks, i + 1, 1) not in {":", "-", "–"}:
        side = None
    return El("word", i, i + 1, tok.text, low, side=side)
