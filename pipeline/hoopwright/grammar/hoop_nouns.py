"""The words for a hoop in the shipped vocabulary, for those rooms that look for them before a manual's own words are known."""

from __future__ import annotations

from functools import cache

from hoopwright.grammar.load import load_grammar


@cache
def hoop_forms() -> dict[str, str]:
    """Form -> singular, of one word each: "hoop", "hoops" → hoop, "arches" → arch."""
    found = {form: sense for form, senses in load_grammar().senses.items() for sense in senses if sense.role == "hoop"}
    return {form: sense.word for form, sense in found.items() if form.isalpha()}


@cache
def hoop_nouns() -> tuple[str, ...]:
    """The singulars, in the order of the file: hoop, bow, arch, rib, arc."""
    return tuple(dict.fromkeys(hoop_forms().values()))
