"""Whether a word that can be a verb is one here, and what stands around it: negation, modal, passive."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.grammar.load import Sense
from hoopwright.parsing.closed_words import (
    ADVERBS,
    BE,
    CONJUNCTIONS,
    DETERMINERS,
    MODALS,
    MORE,
    OTHER,
    is_counted,
    lows,
)
from hoopwright.parsing.elements import El
from hoopwright.parsing.kit import singular
from hoopwright.parsing.lex import Tok
from hoopwright.parsing.lexicon import Lexicon
from hoopwright.parsing.lookahead import leads_to_noun, object_follows

_MENTIONS = ("fit", "mem", "pron", "ellip")
_NEGATIONS = frozenset({"not", "never", "don't", "doesn't", "cannot", "can't", "won't"})
_SAME_PAST = frozenset({"put", "set", "cut", "fit", "let", "shut", "spread"})  # the participle is the base form
_STRONG_MODALS = frozenset({"should", "must", "ought", "can", "may", "will", "has", "have"})
_SMALL_WORDS = DETERMINERS | CONJUNCTIONS | BE | MODALS | ADVERBS | MORE | OTHER
_ACTING = frozenset({"take", "go", "put", "fasten", "null", "join", "stand", "feed", "move"})
_SUBJECT_DETERMINERS = frozenset({"each", "both", "this", "that", "one", "all", "these", "those"})  # "each takes two"


def verb_here(words: Lexicon, toks: list[Tok], i: int, out: list[El]) -> El | None:
    """The verb at ``i``, or None; ``out`` holds the elements in front of it."""
    tok = toks[i]
    if tok.cat != "word" or (tok.low in words.compound_starts and i + 1 < len(toks) and lows(toks, i, 2) in words.compounds):
        return None  # "sliding foil" is a part of the kit
    sense, end = words.verb(toks, i)
    if sense is None:
        if _unknown_imperative(words, toks, i):
            return El("verb", i, i + 1, tok.text, tok.low, verb="put", cls="put", form="base", name=tok.low)
        if _unknown_participle(words, toks, i, out):
            return El("verb", i, i + 1, tok.text, tok.low, verb="put", cls="put", form="ed", name=tok.low)
        return None
    if tok.low == "uses":
        sense = Sense("verb", "take", "take", "s", "take")  # "each clamp uses one bolt"
    if sense.form == "base" and tok.low in _SAME_PAST and i and toks[i - 1].low in BE - {"being"}:
        sense = replace(sense, form="ed")  # "three hinges are put on the post"
    if not _verbal(words, toks, i, end, sense, out) or _starts_fitting(words, toks, i, end, sense):
        return None
    neg, modal = _before_verb(out)
    text = " ".join(t.text for t in toks[i:end])
    el = El("verb", i, end, text, text.lower(), verb=sense.id, cls=sense.role, form=sense.form, name=sense.word)
    el.neg, el.modal = neg, modal
    return el


def _starts_fitting(words: Lexicon, toks: list[Tok], i: int, end: int, sense: Sense) -> bool:
    """ "lock screws" in a list: the verb is the first word of a fitting's name."""
    if sense.form != "base" or end != i + 1:
        return False
    noun, noun_end = words.noun(toks, i)
    return noun is not None and noun.kind == "fit" and noun_end > end


def _unknown_imperative(words: Lexicon, toks: list[Tok], i: int) -> bool:
    """ "Click one clip on every hoop": an unknown word that starts a clause in front of a counted fitting means to put."""
    tok = toks[i]
    if i:
        before = toks[i - 1]
        if not ((before.cat == "punct" and before.text in ":;") or before.low == "then"):
            return False
    if i + 1 >= len(toks) or len(tok.low) < 3 or _is_known(words, tok.low):
        return False
    return is_counted(toks[i + 1], words.numbers) and any(words.is_fitting(t) for t in toks[i + 2 : i + 5])


def _unknown_participle(words: Lexicon, toks: list[Tok], i: int, out: list[El]) -> bool:
    """ "One screw is started in each collar": an unknown participle with a counted fitting before it and a place behind it."""
    tok = toks[i]
    if not tok.low.endswith("ed") or len(tok.low) < 5 or i < 2 or i + 1 >= len(toks) or _is_known(words, tok.low):
        return False
    if toks[i - 1].low not in BE or toks[i + 1].low not in words.onto:
        return False
    subject = next((el for el in reversed(out) if el.type in _MENTIONS), None)
    return subject is not None and subject.type == "fit" and subject.amount is not None


def _is_known(words: Lexicon, low: str) -> bool:
    return (
        bool(words.grammar.senses.get(low))
        or low in _SMALL_WORDS
        or words.is_relation(low)
        or low in words.numbers
        or low in words.ordinals
        or low in words.sides
        or low in words.hoop_adjectives
        or low in words.collectives
    )


def _verbal(words: Lexicon, toks: list[Tok], i: int, end: int, sense: Sense, out: list[El]) -> bool:
    """Whether the verb reading of the words from ``i`` to ``end`` holds."""
    tok = toks[i]
    prev = toks[i - 1] if i else None
    if tok.low in words.sides and end < len(toks) and words.is_nounish(toks[end]):
        return False  # "Left side: …"
    if tok.low == "left" and (prev is None or (prev.low not in BE and prev.low not in MODALS)):
        return False  # "one bracket left and one right"
    if sense.form == "ed":
        return _participle(words, toks, i, end)
    if sense.form == "ing":
        return prev is None or prev.low not in DETERMINERS
    if sense.form == "base":
        return _base_form(words, toks, i, end, sense, out)
    return _third_person(words, toks, i, end, out)


def _starts_clause(prev: Tok | None) -> bool:
    """Whether a clause, or the verb of one, can start behind ``prev``."""
    return (
        prev is None
        or (prev.cat == "punct" and prev.text not in "-/'’)")
        or (prev.low in CONJUNCTIONS and prev.low != "as")
        or prev.low in ADVERBS
        or prev.low.endswith("ly")
        or prev.low in MODALS
    )


def _participle(words: Lexicon, toks: list[Tok], i: int, end: int) -> bool:
    """ "is fitted", "fitted to each hoop", but not "two fitted clips"."""
    prev = toks[i - 1] if i else None
    if prev is not None and end < len(toks) and leads_to_noun(words, toks, end):
        word_or_number = prev.cat == "word" and (prev.low in DETERMINERS or prev.low in words.numbers)
        if word_or_number or prev.cat == "num":
            return False
    return not words.is_nounish(toks[i]) or _starts_clause(prev) or (prev is not None and prev.low in BE)  # "the boards are set along"


def _base_form(words: Lexicon, toks: list[Tok], i: int, end: int, sense: Sense, out: list[El]) -> bool:
    """ "Clamp the bar", "you slide", "do not clamp", but not "the clamp"."""
    nounish = words.is_nounish(toks[i])
    if i:
        before = toks[i - 1].low
        if before in DETERMINERS and before not in ("both", "all"):
            return False
        if before in MODALS or before in ("not", "which", "who", "they"):
            return True
        if i > 1 and before in ("each", "both", "all") and toks[i - 2].low in MODALS:
            return True  # "hoops 4, 6 and 8 shall each receive one clamp"
        if not _starts_clause(toks[i - 1]):
            if before in {"you", "we"} and sense.role in _ACTING and object_follows(words, toks, end):
                return True  # "onto each upright you thread a socket"
            subject = before in {"you", "we", "i"} or _mention_before(out)
            return not nounish and subject and sense.role in _ACTING
    return not nounish or object_follows(words, toks, end) or (not i and _names_part(words, toks, end))


def _names_part(words: Lexicon, toks: list[Tok], i: int) -> bool:
    """ "Buckle tie-down straps round …": the words behind are a listed part's whole name."""
    for length in (4, 3, 2):
        said = tuple(t.low for t in toks[i : i + length])
        if len(said) == length and (*said[:-1], singular(said[-1], words.grammar)) in words.kit.aliases:
            return True
    return False


def _third_person(words: Lexicon, toks: list[Tok], i: int, end: int, out: list[El]) -> bool:
    """ "each hoop takes two", but not "2 clamps"."""
    if i == 0:
        return not words.is_nounish(toks[i])
    prev = toks[i - 1]
    if _counts_noun(words, toks, i):
        return False
    if prev.low in ("which", "that", "who", "it"):
        return True
    if not words.is_nounish(toks[i]):
        return prev.low not in DETERMINERS or prev.low in _SUBJECT_DETERMINERS
    if not _mention_before(out) or out[-1].plural or end >= len(toks):
        return False
    after = toks[end].low
    return after in DETERMINERS or after in words.numbers or after in words.onto


def _counts_noun(words: Lexicon, toks: list[Tok], i: int) -> bool:
    """A number in front, "2 clamps" or "two threaded clamps", makes the word at ``i`` a noun."""
    prev = toks[i - 1]
    if prev.cat == "num" or (prev.cat == "count" and not prev.text.startswith("(")):
        return True
    if prev.low in words.numbers and prev.low != "one":
        return True
    return prev.low.endswith("ed") and i > 1 and (toks[i - 2].low in words.numbers or toks[i - 2].cat == "num")


def _mention_before(out: list[El]) -> bool:
    return bool(out) and out[-1].type in _MENTIONS


def _is_adverb(low: str) -> bool:
    return low in ADVERBS or low.endswith("ly")


def _before_verb(out: list[El]) -> tuple[bool, str | None]:
    """(negated, modal) from the auxiliaries and adverbs straight in front of a verb."""
    neg, modal = False, None
    for el in reversed(out[-4:]):
        auxiliary = el.low in MODALS or el.low in BE
        if el.type != "word" or not (auxiliary or _is_adverb(el.low)):
            break
        neg = neg or el.low in _NEGATIONS
        if auxiliary and (modal is None or el.low in _STRONG_MODALS):
            modal = el.low
    return neg, modal


def mark_passives(out: list[El]) -> None:
    """Set ``passive`` of the participles behind a form of "be" or "get"."""
    for k, el in enumerate(out):
        if el.type != "verb" or el.form != "ed":
            continue
        back = k - 1
        while back >= 0 and (
            (out[back].type == "word" and (_is_adverb(out[back].low) or out[back].low == "to")) or out[back].low in ("each", "both", "all")
        ):
            back -= 1
        el.passive = back >= 0 and (out[back].low in BE or out[back].low in {"get", "gets"})
