"""Grammar files to a checked, compiled vocabulary."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from importlib import resources
from pathlib import Path
from typing import Any

import yaml

from hoopwright.grammar.check import Fault, Known, check, cut, phrase
from hoopwright.grammar.inflect import plural, verb_forms
from hoopwright.model.errors import GrammarError

_LARGEST = 4 * 1024 * 1024  # bytes; the shipped files have less than a hundredth of it


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
    may_open: set[str] = field(default_factory=set)  # fitting words of kinds that may as well open
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
    """YAML in which only numbers are more than text: "on", "off", "no", "null" and dates are the words they are."""

    def construct_mapping(self, node: yaml.MappingNode, deep: bool = False) -> dict[Any, Any]:
        """A map; a key that stands twice is refused: the first would be lost (YAML 1.2.2, 3.2.1.3: the keys of a map are unique)."""
        written: dict[tuple[str, str], yaml.Node] = {}
        for key, _ in node.value:
            if written.setdefault((key.tag, str(key.value)), key) is not key and key.tag != "tag:yaml.org,2002:merge":
                raise yaml.MarkedYAMLError(problem=f"'{cut(str(key.value))}' stands twice", problem_mark=key.start_mark)
        made: dict[Any, Any] = super().construct_mapping(node, deep=deep)
        return made


_Loader.yaml_implicit_resolvers = {
    first: [(tag, regexp) for tag, regexp in rules if tag.rpartition(":")[2] in ("int", "float", "merge")]
    for first, rules in _Loader.yaml_implicit_resolvers.items()
}


@lru_cache(maxsize=4)
def load_grammar(extra: tuple[Path, ...] = ()) -> Grammar:
    """The shipped grammar, and the user's own files after it.

    Raises GrammarError (file, line, entry, what is wrong) for a file that is not of the form described at the top of each shipped file.
    """
    grammar = Grammar()
    names = []
    for entry in sorted(resources.files("hoopwright.grammars").iterdir(), key=lambda e: e.name):
        if entry.name.endswith(".yaml") and entry.name != "outline.yaml":
            _merge(grammar, entry.name, entry.read_text(encoding="utf-8"))
            names.append(entry.name)
    for path in extra:
        _merge(grammar, str(path), _text(path), _known(grammar))
        names.append(str(path))
    grammar.stated_forms.sort(key=lambda item: -len(item[0]))
    grammar.sources = tuple(names)
    return grammar


def _text(path: Path) -> str:
    remedy = "give a YAML file in UTF-8"
    try:
        if path.stat().st_size > _LARGEST:
            raise GrammarError("is too large for a file of words", "leave it out, or split it", file=path)
        return path.read_text(encoding="utf-8")
    except OSError as error:
        raise GrammarError(f"cannot be read ({error.strerror})", remedy, file=path) from error
    except ValueError as error:  # also a name that no file can have
        raise GrammarError("is not UTF-8 text", remedy, file=path) from error


def _known(grammar: Grammar) -> Known:
    """What a user's file can only add to: the values of a field each stand for code."""
    values: dict[str, set[str]] = {}
    for key, entry in grammar.entries.items():
        kind = key.partition(":")[0]
        for name in {"role", "class", "at"} & entry.keys():
            values.setdefault(f"{kind}:{name}", set()).add(entry[name])
    return Known(values, grammar.words)


def _merge(grammar: Grammar, name: str, text: str, known: Known | None = None) -> None:
    """Take a file in. ``known`` is None for a shipped one."""
    data = _parsed(name, text)
    try:
        checked = check(data, known)
    except Fault as fault:
        line = _line(text, fault.path)
        raise GrammarError(f"line {line}: {fault.problem}" if line else fault.problem, fault.remedy, file=name) from None
    kind = checked["kind"]
    if kind == "words":
        _merge_words(grammar.words, {k: v for k, v in checked.items() if k != "kind"})
        return
    for entry in checked.get("entries", ()):
        grammar.entries[f"{kind}:{entry['id']}"] = entry
        _ADD[kind](grammar, entry)
    for form, phrases in checked.get("forms", {}).items():
        grammar.stated_forms += [(phrase(text), form) for text in phrases]


def _parsed(name: str, text: str) -> object:
    remedy = "mend the line, or leave the file out"
    try:
        return yaml.load(text, Loader=_Loader)
    except yaml.YAMLError as error:
        mark = getattr(error, "problem_mark", None)
        line = f"line {mark.line + 1}: " if mark else ""
        why = getattr(error, "problem", None) or getattr(error, "reason", None)
        raise GrammarError(f"{line}not valid YAML{f' ({why})' if why else ''}", remedy, file=name) from error
    except (ValueError, IndexError, RecursionError) as error:  # a number that is none behind a tag; nested hundreds deep
        raise GrammarError("not valid YAML", remedy, file=name) from error


def _line(text: str, path: tuple[str | int, ...]) -> int | None:
    """The line, from 1, on which the last thing stands that ``path`` leads to; None if not even its beginning is there."""
    node = yaml.compose(text, Loader=_Loader)
    line = None
    for step in path:
        if isinstance(node, yaml.SequenceNode) and isinstance(step, int):
            node = node.value[step]
            line = node.start_mark.line + 1
            continue
        pairs = node.value if isinstance(node, yaml.MappingNode) else []
        found = next(((key, value) for key, value in pairs if key.value == str(step)), None)
        if found is None:
            break
        line, node = found[0].start_mark.line + 1, found[1]
    return line


def _merge_words(into: dict[str, Any], new: dict[str, Any]) -> None:
    for key, value in new.items():
        if isinstance(value, dict):
            _merge_words(into.setdefault(key, {}), value)
        elif isinstance(value, list):
            into.setdefault(key, []).extend(value)
        else:
            into[key] = value


def _add_fitting(grammar: Grammar, entry: dict[str, Any]) -> None:
    for word in entry["words"]:
        low = phrase(word)
        grammar.forms[low] = entry["form"]
        (grammar.may_open.add if "opens" in entry else grammar.may_open.discard)(low)
        grammar.add_sense(low, Sense("fit", entry["id"], low, "one", entry["form"]))
        grammar.add_sense(plural(low), Sense("fit", entry["id"], low, "many", entry["form"]))


def _add_member(grammar: Grammar, entry: dict[str, Any]) -> None:
    for word in entry.get("only") or entry["words"]:
        low = phrase(word)
        grammar.add_sense(low, Sense("mem", entry["id"], low, "one", entry["role"], entry.get("side")))
        grammar.add_sense(plural(low), Sense("mem", entry["id"], low, "many", entry["role"], entry.get("side")))


def _add_verb(grammar: Grammar, entry: dict[str, Any]) -> None:
    irregular = {phrase(verb): forms for verb, forms in entry.get("forms", {}).items()}
    for word in entry["words"]:
        low = phrase(word)
        forms = verb_forms(low)
        for form in irregular.get(low, ()):
            forms.setdefault(phrase(form), "ed")
        for form, kind in forms.items():
            grammar.add_sense(form, Sense("verb", entry["id"], low, kind, entry["class"]))


_ADD = {"fittings": _add_fitting, "members": _add_member, "verbs": _add_verb}
