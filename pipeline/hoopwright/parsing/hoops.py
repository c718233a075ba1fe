"""Which hoops a mention of hoops means: by number, by words, every so many, all but some."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from hoopwright.grammar.hoop_nouns import hoop_nouns
from hoopwright.model.events import Selector
from hoopwright.parsing.closed_words import PER_ONE, lows
from hoopwright.parsing.elements import El
from hoopwright.parsing.gates import gated
from hoopwright.parsing.lex import Tok
from hoopwright.parsing.lexicon import Lexicon
from hoopwright.parsing.lookahead import adjective
from hoopwright.parsing.numbers import number_list
from hoopwright.parsing.premodifiers import Premodifiers

if TYPE_CHECKING:
    from hoopwright.parsing.chunk import Chunker

_PARITY = gated(r"(?:with|of|having|that have|bearing|carrying) (?:an )?(odd|even) numbers?\b")
_BETWEEN = gated(r"(?:in )?between (?:the )?(?:two )?(?:ends?|them|end \w+|gables?)\b")
_FROM = gated(
    r"(?:,? ?(?:from|starting (?:with|from|at)|beginning (?:with|at)|counting from|commencing (?:with|at)) (?:the )?)"
    rf"(?:(?:{'|'.join(hoop_nouns())}|no\.?|number) )*(\w+)",
)
_EXCEPT = ("with the exception", "except for", "apart from", "other than", "but not")
_EXCEPT_WORDS = frozenset({"but", "except", "excluding", "excepting", "save"})
_PAIR = 2  # numbers, or the tokens of "and 1"
UNEXPLAINED = -2  # as ``stated``: the manual does not say which hoops these are
FROM_STATED = -1  # as ``stated``: the manual says at which hoop the count starts


def join_selectors(a: Selector, b: Selector) -> Selector:
    """Both selections as one; they may overlap."""
    text = f"{a.text} and {b.text}"
    if a.kind == b.kind == "numbers":
        return Selector("numbers", tuple(dict.fromkeys((*a.numbers, *b.numbers))), text=text, each=b.each)
    return Selector("join", of=(a, b), text=text, each=b.each)


def read_hoops(chunker: Chunker, el: El, toks: list[Tok], state: Premodifiers) -> None:
    """Set ``el.hoops``, and take what stands behind the noun ("2 to 7", "except the ends") into the mention."""
    if el.role == "hoop" and _by_numbers(chunker, el, toks, state):
        return
    el.hoops = by_words(chunker, el, state, el.text)
    el.hoops = _nth_from(chunker, el, toks)
    if el.role != "hoop":
        return
    between = _BETWEEN.match(lows(toks, el.j, 5)) if el.each or el.plural else None
    parity = _PARITY.match(lows(toks, el.j, 3))
    if between:
        el.hoops = Selector("inner", each=el.each, text=f"{el.text} {between.group()}")
        _take(el, toks, between)
    if parity:
        el.hoops = Selector(parity[1], each=True, text=f"{el.text} {parity.group()}")  # type: ignore[arg-type]
        _take(el, toks, parity)
    if el.hoops is not None and el.hoops.kind != "numbers":
        _except(chunker, el, toks)


def _take(el: El, toks: list[Tok], found: re.Match[str]) -> None:
    el.j = min(len(toks), el.j + len(found.group().split()))


def _by_numbers(words: Lexicon, el: El, toks: list[Tok], state: Premodifiers) -> bool:
    """ "hoops 2 to 7", "bow 16 onwards"; False if no number of a hoop follows."""
    numbers, end, onward = number_list(toks, el.j, words.numbers)
    if not numbers or _counts_next(words, el, toks, end):
        return False
    if _shares_next(el, toks, numbers, end):
        numbers, end = numbers[:1], end - _PAIR
    if len(numbers) == 1 and not onward and _from_on(el, toks, end):
        onward, end = True, end + 1
    el.j = end
    el.text = " ".join(t.text for t in toks[el.i : end])
    if onward:
        el.hoops = Selector("nth", start=numbers[0], step=1, text=el.text, each=el.each)
    else:
        el.hoops = Selector("numbers", numbers, text=el.text, each=el.each or len(numbers) == 1)
    if el.amount and not state.det:
        el.amount = None
    return True


def _counts_next(words: Lexicon, el: El, toks: list[Tok], end: int) -> bool:
    """ "at every bow 1 U-bolt", "of all arches one lateral ring": the number counts the noun behind it."""
    per_one = el.det in PER_ONE or toks[end - 1].cat == "word"
    return per_one and end < len(toks) and (words.is_nounish(toks[end]) or adjective(words, toks, end))


def _shares_next(el: El, toks: list[Tok], numbers: tuple[int, ...], end: int) -> bool:
    """ "1 onto hoop 4 and 1 onto hoop 7": behind a single hoop "and" brings the next share, not a second hoop."""
    single = len(numbers) == _PAIR and not el.plural and numbers[0] > numbers[1] and toks[end - 2].low in ("and", "+", "plus")
    return single and end < len(toks) and toks[end].low in ("onto", "on", "to", "over", "round", "around", "at")


def _from_on(el: El, toks: list[Tok], end: int) -> bool:
    """ "from hoop 16 on a joint takes four"."""
    return end < len(toks) and toks[end].low == "on" and el.i > 0 and toks[el.i - 1].low == "from"


def _except(chunker: Chunker, el: El, toks: list[Tok]) -> None:
    """ "all hoops but 1, 2 and 28", "every hoop except the end hoops"."""
    j = el.j
    if j < len(toks) and toks[j].low in (",", "("):
        j += 1
    length = _except_words(lows(toks, j, 3))
    if not length:
        return
    j += length
    while j < len(toks) and toks[j].low in ("of", "for", "on", "from"):
        j += 1
    first = j
    hoop_words = chunker.hoop_words
    if j < len(toks) and (toks[j].low in hoop_words or toks[j].low.rstrip("s") in hoop_words):
        j += 1
    numbers, end, _ = number_list(toks, j, chunker.numbers)
    if numbers:
        out: Selector | None = Selector("numbers", numbers, each=True)
    else:
        other = chunker.phrase(toks, first)
        if other is None or other.role != "hoop":
            return
        out, end = other.hoops, other.j
        behind = chunker.phrase(toks, end + 1) if end + 1 < len(toks) and toks[end].low in ("and", "or", "&") else None
        if out is not None and behind is not None and behind.role == "hoop" and behind.hoops is not None:
            out, end = join_selectors(out, behind.hoops), behind.j  # "all but the end hoops and the crop hoops"
    if out is None or el.hoops is None:
        return
    el.j = end
    el.text = " ".join(t.text for t in toks[el.i : end])
    el.hoops = Selector("except", of=(el.hoops, out), each=el.hoops.each, text=el.text)


def _except_words(tail: str) -> int:
    """How many words at the head of ``tail`` mean "except"."""
    for phrase in _EXCEPT:
        if tail == phrase or tail.startswith(phrase + " "):
            return len(phrase.split())
    return int(tail.split(" ", 1)[0] in _EXCEPT_WORDS)


def _nth_from(words: Lexicon, el: El, toks: list[Tok]) -> Selector | None:
    """ "every third hoop from hoop 3", "starting with hoop 2"."""
    sel = el.hoops
    if sel is None or sel.kind not in ("nth", "odd", "even", "all", "inner"):
        return sel
    if el.j < len(toks) and toks[el.j].low == "from":
        listed = _from_list(words, el, toks, sel)
        if listed is not None:
            return listed
    found = _FROM.match(lows(toks, el.j, 6)) if sel.kind == "nth" else None
    if not found:
        return sel
    said = found[1]
    start = words.numbers.get(said) or words.ordinals.get(said) or (int(said) if said.isdigit() else None)
    if start is None:
        return sel
    el.j = min(el.j + len(found.group().split()) + found.group().count(","), len(toks))
    if el.j < len(toks) and toks[el.j].low in ("on", "onwards", "onward", "upwards"):
        el.j += 1
    return Selector("nth", start=start, step=sel.step, each=True, text=el.text, stated=FROM_STATED)


def _from_list(words: Lexicon, el: El, toks: list[Tok], sel: Selector) -> Selector | None:
    """ "every second hoop from 2 to 12": those of the list that the words mean."""
    j = el.j + 1
    while j < len(toks) and (toks[j].low in ("the", "no", "no.", "number") or toks[j].low in words.hoop_words):
        j += 1
    found, end, _ = number_list(toks, j, words.numbers)
    if len(found) < 2:
        return None
    el.j = end
    every = sel if sel.kind != "nth" else Selector("nth", start=found[0], step=sel.step, stated=FROM_STATED)
    return Selector("and", of=(every, Selector("numbers", found)), each=True, text=el.text)


def by_words(words: Lexicon, el: El, state: Premodifiers, text: str) -> Selector | None:
    """The hoops that the words in front of the noun mean; None for "the hoop", the one being worked on."""
    kinds = words.hoop_adjectives
    if state.nth:
        inner = any(kinds.get(a) == "inner" for a in state.hoop_adjectives)
        of = (Selector("inner"),) if inner else ()
        return Selector("nth", start=1, step=state.nth, each=True, text=text, of=of)
    adjectives = [kinds[a] for a in state.hoop_adjectives if kinds[a] != "all"]
    stated = el.amount.value if el.amount else None
    if state.ords and not adjectives:
        return _by_ordinals(el, tuple(state.ords), stated, text)
    named = next((words.groups[w] for w in el.words if w in words.groups), None)
    if named is not None:
        return replace(named, each=el.each or not el.plural, text=text, stated=stated)
    if adjectives:
        return _by_adjective(words, el, state, adjectives[0], text)
    return _by_determiner(el, state.same, stated, text)


def _by_ordinals(el: El, ords: tuple[int, ...], stated: int | None, text: str) -> Selector:
    """ "the first two hoops" are 1 and 2, "the last two" -2 and -1; else each ordinal is one hoop."""
    if stated and ords == (-1,):
        return Selector("numbers", _ends_run("last", stated), text=text, each=el.each)
    if stated and ords == (1,) and el.plural:
        return Selector("numbers", _ends_run("first", stated), text=text, each=el.each)
    return Selector("numbers", ords, text=text, each=True)


def _ends_run(kind: str, count: int) -> tuple[int, ...]:
    return tuple(range(1, count + 1)) if kind == "first" else tuple(range(-count, 0))


def _by_adjective(words: Lexicon, el: El, state: Premodifiers, kind: str, text: str) -> Selector:
    each = el.each
    stated = el.amount.value if el.amount else None
    if kind == "next_to_end":
        return Selector("numbers", (2, -2) if el.plural else (-2,), each=each, text=text)
    one = kind == "inner" and not el.plural and not each
    if one and "middle" in " ".join([*state.hoop_adjectives, *el.words]):
        return Selector("middle", text=text, each=True)
    if kind in ("first", "last"):
        if stated and el.plural:
            return Selector("numbers", _ends_run(kind, stated), text=text, each=each)
        return Selector(kind, each=True, text=text)  # type: ignore[arg-type]
    if kind == "alternate":
        return Selector("nth", start=1, step=2, each=True, text=text)
    unexplained = "middle" in state.hoop_adjectives and not words.defined & {"middle", "inner"}
    if kind == "inner" and stated is None and unexplained:
        stated = UNEXPLAINED
    return Selector(kind, each=each, text=text, stated=stated)  # type: ignore[arg-type]


def _by_determiner(el: El, same: bool, stated: int | None, text: str) -> Selector | None:
    if el.other:
        return Selector("rest", each=el.each, text=text, stated=stated)
    if "next" in el.words and el.role == "hoop":
        return Selector("topic", numbers=(1,), text=text)
    if el.det in PER_ONE or el.det in ("all", "any") or same:
        return Selector("all", each=el.each, text=text, stated=stated)
    if el.det == "both":
        return Selector("topic", each=True, text=text)
    if el.plural and (stated or el.det in ("the", None)):
        return Selector("all", each=False, text=text, stated=stated)
    return None
