"""Plurals and verb forms against lemminflect (PyPI), whose tables come from the NIH's SPECIALIST Lexicon, for every word of the grammar.

Only the first word of a phrasal verb and the last word of a noun phrase change; words that the library does not know it inflects by rules
of its own, so that only single words of its dictionary are held against it.
"""

from __future__ import annotations

import lemminflect  # type: ignore[import-untyped]
import pytest
from hoopwright.grammar import load_grammar
from hoopwright.grammar.inflect import plural, verb_forms
from hoopwright.grammar.load import Sense

GRAMMAR = load_grammar()
TAGS = {"s": "VBZ", "ed": "VBD", "ing": "VBG"}


def words(kind: str) -> list[str]:
    """Single lower-case words of all entries of a kind: heads of phrases, first words of phrasal verbs."""
    found = set()
    for key, entry in GRAMMAR.entries.items():
        if key.startswith(kind):
            for word in entry["words"]:
                found.add(str(word).lower().split()[0 if kind == "verbs" else -1])
    return sorted(word for word in found if word.isalpha())


def known(word: str, kind: str) -> bool:
    """Whether the library has the word in its dictionary as a verb or noun."""
    return bool(lemminflect.getAllInflections(word, upos=kind))


NOUNS = [word for word in (*words("fittings"), *words("members")) if known(word, "NOUN")]
VERBS = [word for word in words("verbs") if known(word, "VERB")]
MASS_NOUNS = {"tubing", "netting", "polythene"}  # the library has no plural for them
# Forms are looked for under another name: "is" and "are" among the small words, "seeing that" never stands for "see that".
OTHERWISE = {"be", "see"}
# Irregular forms, and doubled letters of longer words, that the grammar lacks today.
MISSING = {"bend", "bind", "choose", "deal", "embed", "equip", "get", "lead", "omit", "ride", "strike", "swing", "think"}


def test_most_words_of_the_grammar_are_in_the_dictionary() -> None:
    assert len(NOUNS) > 100
    assert len(VERBS) > 100


@pytest.mark.parametrize("noun", [noun for noun in NOUNS if noun not in MASS_NOUNS])
def test_plurals_are_those_of_the_library(noun: str) -> None:
    assert plural(noun) in lemminflect.getInflection(noun, "NNS", inflect_oov=False)


def verb_rows() -> list[object]:
    """Every verb; those with forms that are missing today must fail."""
    lacks = pytest.mark.xfail(strict=True, reason="a form of the library is not recognised")
    return [pytest.param(verb, marks=[lacks] if verb in MISSING else []) for verb in VERBS if verb not in OTHERWISE]


@pytest.mark.parametrize("verb", verb_rows())
def test_verb_forms_are_those_of_the_library(verb: str) -> None:
    """Every form of the library is recognised: regular ones are made by rule, irregular ones stand in the grammar file."""
    for tag in (*TAGS.values(), "VBN"):
        forms = lemminflect.getInflection(verb, tag, inflect_oov=False)
        sensed = [form for form in forms if any(sense.kind == "verb" and sense.word.split()[0] == verb for sense in all_senses(form))]
        assert sensed, (verb, tag, forms)


def all_senses(form: str) -> list[Sense]:
    """Senses of a form alone, or of a phrasal verb that begins with it."""
    return [sense for phrase, senses in GRAMMAR.senses.items() if phrase == form or phrase.startswith(f"{form} ") for sense in senses]


def test_forms_of_phrasal_verbs_change_the_first_word() -> None:
    assert verb_forms("slide on") == {"slide on": "base", "slides on": "s", "slided on": "ed", "sliding on": "ing"}
    assert verb_forms("slip") == {"slip": "base", "slips": "s", "slipped": "ed", "slipping": "ing"}
    assert verb_forms("tie") == {"tie": "base", "ties": "s", "tied": "ed", "tying": "ing"}
    assert verb_forms("carry on") == {"carry on": "base", "carries on": "s", "carried on": "ed", "carrying on": "ing"}


def test_plurals_of_phrases_change_the_last_word() -> None:
    assert [plural(noun) for noun in ("ridge clip", "eye bolt", "bush", "door leaf", "hoop half", "hoop foot", "batten clip assembly")] == [
        "ridge clips",
        "eye bolts",
        "bushes",
        "door leaves",
        "hoop halves",
        "hoop feet",
        "batten clip assemblies",
    ]
