"""Regular English inflection, just enough to recognise the forms of the grammar's own words."""

from __future__ import annotations

_VOWELS = "aeiou"


def plural(noun: str) -> str:
    """The regular plural of a noun or noun phrase (its last word is changed).

    Source: the spelling rules of any English grammar; checked in the tests against a published inflection library.
    """
    if noun.endswith(("s", "x", "z", "ch", "sh")):
        return noun + "es"
    if noun.endswith("y") and len(noun) > 1 and noun[-2] not in _VOWELS:
        return noun[:-1] + "ies"
    if noun.endswith("foot"):
        return noun[:-4] + "feet"
    if noun.endswith(("half", "leaf")):
        return noun[:-1] + "ves"
    return noun + "s"


def verb_forms(verb: str) -> dict[str, str]:
    """Regular forms of a verb or phrasal verb (its first word is changed), each with its kind: base, s, ed, ing."""
    head, _, tail = verb.partition(" ")
    tail = f" {tail}" if tail else ""
    if head.endswith("e"):
        past, present = head + "d", head[:-1] + "ing"
    elif head.endswith("y") and len(head) > 1 and head[-2] not in _VOWELS:
        past, present = head[:-1] + "ied", head + "ing"
    elif _doubles(head):
        past, present = head + head[-1] + "ed", head + head[-1] + "ing"
    else:
        past, present = head + "ed", head + "ing"
    if head in {"lie", "tie", "die"}:
        present = head[:-2] + "ying"
    if head.endswith(("s", "x", "z", "ch", "sh", "o")):
        third = head + "es"
    else:
        third = head[:-1] + "ies" if past.endswith("ied") and head.endswith("y") else head + "s"
    if head == "have":
        third = "has" + tail
    return {verb: "base", third + tail: "s", past + tail: "ed", present + tail: "ing"}


def _doubles(head: str) -> bool:
    """A short last syllable, consonant-vowel-consonant, doubles its last letter: slip, slipped."""
    if len(head) < 3 or head[-1] in _VOWELS + "wxy" or head[-2] not in _VOWELS or head[-3] in _VOWELS:
        return False
    return sum(c in _VOWELS for c in head) == 1 or head in {"begin", "refit"}
