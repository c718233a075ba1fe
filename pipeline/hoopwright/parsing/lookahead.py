"""What comes next: whether a noun phrase, a hoop or an object stands at or soon behind a token."""

from __future__ import annotations

from hoopwright.parsing.closed_words import BE, CONJUNCTIONS, DETERMINERS, MODALS, MORE, OTHER, is_counted
from hoopwright.parsing.lex import Tok
from hoopwright.parsing.lexicon import Lexicon

_STOPS_ADJECTIVES = DETERMINERS | CONJUNCTIONS | BE | MODALS
_NO_ADJECTIVES = _STOPS_ADJECTIVES | {
    *("you", "we", "they", "it", "them", "i", "he"),
    *("not", "there", "here", "than", "except", "but", "excluding"),
}
_OBJECT_STARTS = frozenset({"it", "them", "on", "onto", "up", "over", "round", "around", "down", "through"})
_OBJECT_STARTS |= DETERMINERS | {"hoop", "hoops"}
_NOMINAL_WORDS = frozenset({"one", "ones", "same", "the", "pair", "last"}) | OTHER | MORE


def adjective(words: Lexicon, toks: list[Tok], i: int) -> bool:
    """Whether the token at ``i`` is a plain adjective, or a size, of a noun that follows within three tokens."""
    tok = toks[i]
    if tok.cat in ("len", "size"):
        return True
    if tok.cat != "word" or tok.low in _NO_ADJECTIVES or words.is_relation(tok.low):
        return False
    if _reads_as_verb(words, tok) and not _verb_names_fitting(words, toks, i):
        return False
    for nxt in toks[i + 1 : i + 4]:
        if words.is_nounish(nxt):
            return True
        if nxt.cat not in ("word", "len", "size") or nxt.low in words.onto or nxt.low in _STOPS_ADJECTIVES:
            return False
    return False


def _reads_as_verb(words: Lexicon, tok: Tok) -> bool:
    return tok.low in words.finite_verbs and not words.is_nounish(tok)


def _verb_names_fitting(words: Lexicon, toks: list[Tok], i: int) -> bool:
    """ "two lock nuts": behind a determiner or number and in front of a fitting, a verb is part of its name."""
    if i == 0 or i + 1 >= len(toks) or not words.is_fitting_word(toks[i + 1].low):
        return False
    before = toks[i - 1]
    return before.low in DETERMINERS or is_counted(before, words.numbers)


def nominal_ahead(words: Lexicon, toks: list[Tok], i: int) -> bool:
    """Whether a noun phrase goes on at ``i``: number, adjective or noun, not a verb, preposition or stop."""
    if i >= len(toks):
        return False
    tok = toks[i]
    if tok.cat in ("num", "count", "len", "size"):
        return True
    if tok.cat != "word":
        return False
    if _goes_on(words, tok):
        return tok.low not in {"the", "a", "an"} or toks[i - 1].low in {"all", "both"}
    # "each lower pipe": a name of two words may begin with a verb
    return adjective(words, toks, i) or (tok.low in words.finite_verbs and words.noun(toks, i)[1] > i + 1)


def _goes_on(words: Lexicon, tok: Tok) -> bool:
    low = tok.low
    return (
        low in words.numbers
        or low in words.ordinals
        or low in words.sides
        or low in words.hoop_adjectives
        or low in _NOMINAL_WORDS
        or low in words.collectives
        or words.is_nounish(tok)
    )


def hoopish_soon(words: Lexicon, toks: list[Tok], i: int) -> bool:
    """Whether a hoop or bay is named within four tokens from ``i`` on, behind nothing but numbers and adjectives."""
    for j in range(i, min(i + 4, len(toks))):
        tok = toks[j]
        if tok.cat == "word" and tok.low in words.hoop_nouns:
            return True
        if tok.low in {"ones", "one"}:
            return all(t.low != "," for t in toks[i:j])
        if not _leads_to_hoop(words, tok):
            return False
    return False


def _leads_to_hoop(words: Lexicon, tok: Tok) -> bool:
    return (
        tok.cat == "num"
        or tok.low in words.ordinals
        or tok.low in words.hoop_adjectives
        or tok.low in words.numbers
        or tok.low in ("and", "or", ",", "of", "the")
    )


def leads_to_noun(words: Lexicon, toks: list[Tok], i: int) -> bool:
    """Whether a noun of ours stands within three tokens from ``i`` on, with no preposition or determiner before it."""
    for tok in toks[i : i + 3]:
        if words.is_nounish(tok):
            return True
        if tok.cat != "word" or tok.low in words.onto or tok.low in DETERMINERS:
            return False
    return False


def object_follows(words: Lexicon, toks: list[Tok], end: int) -> bool:
    """Whether what stands at ``end`` can be the object of a verb in front of it."""
    if end >= len(toks):
        return False
    nxt = toks[end]
    if nxt.low in ("in", "on", "up", "down") and end + 1 < len(toks):
        behind = toks[end + 1].low
        if behind in DETERMINERS or behind in words.numbers:
            return True
    if nxt.cat != "word":
        return nxt.cat in ("num", "count")
    if nxt.low in _OBJECT_STARTS or nxt.low in words.numbers:
        return True
    return nxt.low in words.hoop_adjectives or nxt.low in words.sides
