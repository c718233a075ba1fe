"""What is wrong with a grammar file, said so that whoever wrote it can mend it."""

from __future__ import annotations

import math
from collections.abc import Collection, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any, get_args

from hoopwright.model.frame import Form

KINDS = ("fittings", "members", "verbs", "words")
FORMS: tuple[str, ...] = get_args(Form)
# What an entry must have, and what it may have. The second field says what the parser does with the words; its values are those of
# the shipped file, since each stands for code.
_NEEDS = {
    "fittings": ("id", "form", "words", "examples"),
    "members": ("id", "role", "words", "examples"),
    "verbs": ("id", "class", "words", "examples"),
}
_MAY_HAVE = {"fittings": ("not", "opens"), "members": ("not", "side", "at", "only"), "verbs": ("not", "forms")}
_VALUES: dict[str, Collection[str]] = {"form": FORMS, "side": ("left", "right", "centre"), "opens": ("perhaps",)}
_LISTS = frozenset({"words", "examples", "not", "only"})
_LONGEST_SHOWN = 30
_LARGEST_NUMBER = 1_000_000  # far above any count or number of a hoop, far below where arithmetic overflows
_COMPARE = "compare it with the shipped file of that kind"


class Fault(Exception):
    """What is wrong and how to mend it; ``path`` leads to the place: keys of maps, and numbers of list items from 0."""

    def __init__(self, problem: str, remedy: str, *path: str | int) -> None:
        super().__init__(problem)
        self.problem = problem
        self.remedy = remedy
        self.path = path


@dataclass(frozen=True, slots=True)
class Known:
    """What is loaded already, and that a user's file can only add to: values by field, and the word lists."""

    values: Mapping[str, Collection[str]]
    words: Mapping[str, Any]


def check(data: object, known: Known | None) -> dict[str, Any]:
    """The file's contents, as parsed from YAML, if they are of the form that the rest of the loader relies on; else raises Fault.

    ``known`` is None for a shipped file, which may define new words lists and values.
    """
    if not isinstance(data, dict) or data.get("kind") not in KINDS:
        raise Fault(f"no 'kind:' of {', '.join(KINDS)}", "start the file with one of them", "kind")
    if data["kind"] == "words":
        _check_word_lists({key: value for key, value in data.items() if key != "kind"}, known)
    else:
        _check_entry_file(data, data["kind"], known)
    return data


# ---- files of entries -------------------------------------------------------------------------------------------------


def _check_entry_file(data: dict[str, Any], kind: str, known: Known | None) -> None:
    allowed = ("kind", "entries", *(("forms",) if kind == "fittings" else ()))
    _only(data, allowed, "")
    if "forms" in data:
        _check_stated_forms(data["forms"])
    entries = data.get("entries", [] if "forms" in data else None)
    if entries is None:
        raise Fault("no 'entries:'", "write entries: and below it one '- {id: ..., words: [...], ...}' for each")
    if not isinstance(entries, list) or not (entries or "forms" in data):
        raise Fault(f"'entries' must be a list of entries, not {shown(entries)}", _COMPARE, "entries")
    first: dict[str, int] = {}
    for number, entry in enumerate(entries, 1):
        _check_entry(entry, kind, number, known)
        if entry["id"] in first:
            other = first[entry["id"]]
            remedy = f"give it an id of its own, or put its words into entry {other}"
            raise Fault(f"entry {number} ({cut(entry['id'])}): has the id of entry {other}", remedy, "entries", number - 1, "id")
        first[entry["id"]] = number


def _check_entry(entry: object, kind: str, number: int, known: Known | None) -> None:
    place = ("entries", number - 1)
    if not isinstance(entry, dict):
        raise Fault(f"entry {number}: must be a map with 'id', 'words' and more, not {shown(entry)}", _COMPARE, *place)
    where = f"entry {number}"
    if isinstance(entry.get("id"), str) and entry["id"].strip():
        where += f" ({cut(entry['id'])})"
    _only(entry, (*_NEEDS[kind], *_MAY_HAVE[kind]), f"{where}: ", *place)
    for field in _NEEDS[kind]:
        if field not in entry:
            lacks = "has no examples" if field == "examples" else f"has no '{field}'"
            raise Fault(f"{where}: {lacks}", _remedy(kind, field, known), *place)
    for field in (*_NEEDS[kind], *_MAY_HAVE[kind]):  # the words first: what comes behind them speaks of them
        if field not in entry:
            continue
        value = entry[field]
        if field in _LISTS:
            _check_texts(value, f"{where}: '{field}'", *place, field)
        elif field == "forms":
            _check_irregular(value, entry["words"], where, *place)
        else:
            _check_text(value, kind, field, where, known, *place)
    if "only" in entry and not {phrase(word) for word in entry["only"]} <= {phrase(word) for word in entry["words"]}:
        raise Fault(f"{where}: 'only' holds words that 'words' does not", "add them to 'words' too", *place, "only")


def _remedy(kind: str, field: str, known: Known | None) -> str:
    if field == "examples":
        return "add a sentence that it must match"
    values = _allowed(kind, field, known)
    return f"give one of {', '.join(sorted(values))}" if values else f"add it: {', '.join(_NEEDS[kind])} are needed"


def _allowed(kind: str, field: str, known: Known | None) -> Collection[str]:
    return _VALUES.get(field) or (known.values.get(f"{kind}:{field}", ()) if known is not None else ())


def _check_text(value: object, kind: str, field: str, where: str, known: Known | None, *place: str | int) -> None:
    if not isinstance(value, str) or not value.strip():
        raise Fault(f"{where}: '{field}' must be a word, not {shown(value)}", quoted(value, _remedy(kind, field, known)), *place, field)
    allowed = _allowed(kind, field, known)
    if allowed and value not in allowed:
        raise Fault(f"{where}: '{field}' cannot be {shown(value)}", _remedy(kind, field, known), *place, field)


def _check_irregular(value: object, words: list[str], where: str, *place: str | int) -> None:
    """Irregular forms of verbs: each under the verb that they belong to."""
    if not isinstance(value, dict):
        raise Fault(f"{where}: 'forms' must be a map, not {shown(value)}", "write forms: {hang: [hung]}", *place, "forms")
    own = {phrase(word) for word in words}
    for verb, forms in value.items():
        at = (*place, "forms", str(verb))
        if not isinstance(verb, str) or phrase(verb) not in own:
            raise Fault(f"{where}: 'forms' are given for {shown(verb)}, which is none of its words", "add it to 'words'", *at)
        _check_texts(forms, f"{where}: 'forms' of {shown(verb)}", *at)


def _check_stated_forms(value: object) -> None:
    """The words of a part's description that say how it goes on."""
    if not isinstance(value, dict):
        raise Fault(f"'forms' must be a map, not {shown(value)}", "write forms: {open: [snaps on]}", "forms")
    _only(value, FORMS, "'forms': ", "forms")
    for form, phrases in value.items():
        _check_texts(phrases, f"'forms' of '{form}'", "forms", form)


# ---- files of words ---------------------------------------------------------------------------------------------------


def _check_word_lists(data: dict[str, Any], known: Known | None) -> None:
    if known is not None:
        if not data:
            raise Fault("holds no words", "add lists of words, or leave the file out")
        _only(data, known.words, "")
    for key, value in data.items():
        shape = known.words[key] if known is not None else value
        if isinstance(shape, list):
            _check_texts(value, f"'{key}'", key)
        elif isinstance(value, dict) and isinstance(shape, dict):
            _check_word_map(key, value, shape, known)
        else:
            raise Fault(f"'{key}' must be a map, not {shown(value)}", "write it as in the shipped words.yaml", key)


def _check_word_map(key: str, value: dict[Any, Any], shape: dict[str, Any], known: Known | None) -> None:
    """A map of word lists, whose keys stand for code, or of words to what they mean."""
    kinds = {type(item) for item in shape.values()}
    if list in kinds:
        if known is not None:
            _only(value, shape, f"'{key}': ", key)
        for name, words in value.items():
            _check_texts(words, f"'{key}', '{name}'", key, str(name))
        return
    for word, meaning in value.items():
        what = f"'{key}', {shown(word)}:"
        if not isinstance(word, str) or not word.strip():
            raise Fault(f"{what} is no word", quoted(word, "leave it out"), key, str(word))
        if kinds <= {int, float}:
            _check_number(meaning, float not in kinds, what, key, word)
        elif not isinstance(meaning, str) or not meaning.strip():
            raise Fault(f"{what} must mean a word, not {shown(meaning)}", quoted(meaning, "write the word in full"), key, word)
        elif key == "sides" and meaning not in ("left", "right"):
            raise Fault(f"{what} cannot mean {shown(meaning)}", "give left or right", key, word)


def _check_number(value: object, whole: bool, what: str, *place: str | int) -> None:
    good = isinstance(value, int) if whole else isinstance(value, int | float) and math.isfinite(value)
    if not good or isinstance(value, bool) or not 0 <= value <= _LARGEST_NUMBER:  # type: ignore[operator]
        number = "whole number" if whole else "number"
        raise Fault(f"{what} must be a {number} from 0 to a million, not {shown(value)}", "write it in figures", *place)


# ---- what all have in common ------------------------------------------------------------------------------------------


def _only(data: Mapping[Any, Any], allowed: Collection[str], where: str, *place: str | int) -> None:
    """Raise Fault for a key that nothing reads."""
    for key in data:
        if key in allowed:
            continue
        near = get_close_matches(str(key), allowed, 1)
        remedy = f"did you mean '{near[0]}'?" if near else f"use {', '.join(allowed)}"
        raise Fault(f"{where}does not know '{cut(str(key))}'", remedy, *place, str(key))


def _check_texts(value: object, what: str, *place: str | int) -> None:
    if not isinstance(value, list):
        inside = cut(value) if isinstance(value, str) and value.strip() else "one, two"
        raise Fault(f"{what} must be a list, not {shown(value)}", f"write it in brackets: [{inside}]", *place)
    if not value:
        raise Fault(f"{what} is empty", "put something into it, or leave it out", *place)
    for index, item in enumerate(value):
        if not isinstance(item, str) or not item.strip():
            raise Fault(f"{what} holds {shown(item)}, which is no word", quoted(item, "take it out"), *place, index)


def phrase(text: str) -> str:
    """A phrase as it is looked up: lower case, words parted by one blank."""
    return " ".join(text.lower().split())


def quoted(value: object, otherwise: str) -> str:
    """The remedy for something that YAML takes for a number, else ``otherwise``."""
    return f'put it in quotes: "{cut(str(value))}"' if isinstance(value, int | float) else otherwise


def shown(value: object) -> str:
    """A value in a message: what it is, in a few characters."""
    if isinstance(value, dict):
        return "a map"
    if isinstance(value, list):
        return "a list" if value else "an empty list"
    if isinstance(value, int | float):
        return f"the number {cut(str(value))}"
    return f"'{cut(value)}'" if isinstance(value, str) and value.strip() else "nothing"


def cut(text: str) -> str:
    """The beginning of a text, for a message."""
    return text if len(text) <= _LONGEST_SHOWN else text[: _LONGEST_SHOWN - 1] + "…"
