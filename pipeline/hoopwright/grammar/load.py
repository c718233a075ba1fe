"""Grammar files to a checked, compiled vocabulary."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from importlib import resources
from pathlib import Path
from typing import Any

import yaml

from hoopwright.grammar.inflect import plural, verb_forms
from hoopwright.model.errors import GrammarError

KINDS = ("fittings", "members", "verbs", "words", "phrases")
_FIELDS = {
    "fittings": {"id", "form", "words", "examples", "not"},
    "members": {"id", "role", "words", "examples", "not", "side", "at", "only"},
    "verbs": {"id", "class", "words", "forms", "examples", "not"},
}


@dataclass(frozen=True, slots=True)
class Sense:
    """One meaning of a word or phrase. ``kind``: fit, mem or verb; ``form`` of a noun: one, many; of a verb: base, s, ed, ing."""

    kind: str
    id: str
    word: str
    form: str
    role: str = ""
    side: str | None = None


@dataclass
class Grammar:
    """The vocabulary. ``senses`` maps a phrase (lower case, words parted by one blank) to its meanings; ``words`` holds the word lists."""

    senses: dict[str, list[Sense]] = field(default_factory=dict)
    forms: dict[str, str] = field(default_factory=dict)  # fitting word -> form
    stated_forms: list[tuple[str, str]] = field(default_factory=list)  # (words of a description, form), longest first
    words: dict[str, Any] = field(default_factory=dict)
    entries: dict[str, dict[str, Any]] = field(default_factory=dict)  # "file:id" -> entry
    sources: tuple[str, ...] = ()

    def add_sense(self, phrase: str, sense: Sense) -> None:
        """Register a meaning of ``phrase``; the same meaning twice is kept once. Two words may also be written with a hyphen."""
        if sense.kind != "verb" and phrase.count(" ") == 1:
            self.add_sense(phrase.replace(" ", "-"), sense)
        known = self.senses.setdefault(phrase, [])
        if sense not in known:
            known.append(sense)


class _Loader(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):  # type: ignore[misc]
    """YAML in which "on", "off" and "no" are the words they are."""


_Loader.yaml_implicit_resolvers = {
    first: [(tag, regexp) for tag, regexp in rules if tag != "tag:yaml.org,2002:bool"]
    for first, rules in _Loader.yaml_implicit_resolvers.items()
}


@lru_cache(maxsize=4)
def load_grammar(extra: tuple[Path, ...] = ()) -> Grammar:
    """The shipped grammar, and the user's own files after it.

    Raises GrammarError (file, entry, what is wrong) for a file that is not of the form described at the top of each shipped file.
    """
    grammar = Grammar()
    names = []
    for entry in sorted(resources.files("hoopwright.grammars").iterdir(), key=lambda e: e.name):
        if entry.name.endswith(".yaml") and entry.name != "outline.yaml":
            _merge(grammar, entry.name, entry.read_text(encoding="utf-8"))
            names.append(entry.name)
    for path in extra:
        try:
            text = path.read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as error:
            raise GrammarError(f"cannot be read ({error})", "give a YAML file in UTF-8", file=path) from error
        _merge(grammar, str(path), text)
        names.append(str(path))
    grammar.stated_forms.sort(key=lambda item: -len(item[0]))
    grammar.sources = tuple(names)
    return grammar


def _merge(grammar: Grammar, name: str, text: str) -> None:
    try:
        data = yaml.load(text, Loader=_Loader)
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        line = f"line {mark.line + 1}: " if mark else ""
        raise GrammarError(f"{line}not valid YAML", "mend the line, or leave the file out", file=name) from error
    if not isinstance(data, dict) or data.get("kind") not in KINDS:
        raise GrammarError(f"no 'kind:' of {', '.join(KINDS)}", "start the file with one of them", file=name)
    kind = data["kind"]
    if kind in ("words", "phrases"):
        _merge_words(grammar.words, {k: v for k, v in data.items() if k != "kind"})
        return
    for number, entry in enumerate(data.get("entries") or [], 1):
        _check(name, kind, number, entry)
        grammar.entries[f"{kind}:{entry['id']}"] = entry
        _ADD[kind](grammar, entry)
    for form, phrases in (data.get("forms") or {}).items():
        grammar.stated_forms += [(str(phrase).lower(), form) for phrase in phrases]


def _merge_words(into: dict[str, Any], new: dict[str, Any]) -> None:
    for key, value in new.items():
        if isinstance(value, dict):
            _merge_words(into.setdefault(key, {}), value)
        elif isinstance(value, list):
            into.setdefault(key, []).extend(value)
        else:
            into[key] = value


def _check(name: str, kind: str, number: int, entry: Any) -> None:
    where = f"entry {number}" + (f" ({entry['id']})" if isinstance(entry, dict) and "id" in entry else "")
    if not isinstance(entry, dict) or not isinstance(entry.get("id"), str) or not isinstance(entry.get("words"), list):
        raise GrammarError(f"{where}: needs 'id' and a list 'words'", "compare it with the shipped file of that kind", file=name)
    unknown = set(entry) - _FIELDS[kind]
    if unknown:
        raise GrammarError(f"{where}: does not know {', '.join(sorted(unknown))}", f"use {', '.join(sorted(_FIELDS[kind]))}", file=name)
    if not entry.get("examples"):
        raise GrammarError(f"{where}: has no examples", "add a sentence that it must match", file=name)


def _add_fitting(grammar: Grammar, entry: dict[str, Any]) -> None:
    for word in entry["words"]:
        low = str(word).lower()
        grammar.forms[low] = entry["form"]
        grammar.add_sense(low, Sense("fit", entry["id"], low, "one", entry["form"]))
        grammar.add_sense(plural(low), Sense("fit", entry["id"], low, "many", entry["form"]))


def _add_member(grammar: Grammar, entry: dict[str, Any]) -> None:
    for word in entry.get("only") or entry["words"]:
        low = str(word).lower()
        grammar.add_sense(low, Sense("mem", entry["id"], low, "one", entry["role"], entry.get("side")))
        grammar.add_sense(plural(low), Sense("mem", entry["id"], low, "many", entry["role"], entry.get("side")))


def _add_verb(grammar: Grammar, entry: dict[str, Any]) -> None:
    irregular = entry.get("forms") or {}
    for word in entry["words"]:
        low = str(word).lower()
        forms = verb_forms(low)
        for form in irregular.get(low) or ():
            forms.setdefault(form, "ed")
        for form, kind in forms.items():
            grammar.add_sense(form, Sense("verb", entry["id"], low, kind, entry["class"]))


_ADD = {"fittings": _add_fitting, "members": _add_member, "verbs": _add_verb}
