"""Every mistake in a user's grammar file is one line that names the file, the line, the entry and the remedy; never a traceback."""

from __future__ import annotations

import copy
import re
from pathlib import Path
from typing import Any

import pytest
import yaml
from hoopwright.grammar import load_grammar
from hoopwright.grammar.check import Fault, Known, check
from hoopwright.model.errors import GrammarError
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from parsing.mini import manual, read

SHIPPED = Path(__file__).parents[2] / "grammars"


def refusal(folder: Path, text: str) -> str:
    """The one line with which a file is refused."""
    path = folder / "mine.yaml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(GrammarError) as caught:
        load_grammar((path,))
    line = str(caught.value)
    assert line.startswith(f"{path}: ")
    assert "\n" not in line
    assert caught.value.remedy
    assert line.endswith(caught.value.remedy)
    return line.removeprefix(f"{path}: ")


GOOD = """kind: fittings
entries:
  - id: grommle
    form: open
    words: [grommle]
    examples: [two grommles]
  - id: gronk
    form: closed
    words:
      - gronk
      - side gronk
    examples: [a gronk]
"""
# What is changed in GOOD, and the message: where, what, remedy.
CHANGES = [
    ("    form: open\n", "", "line 3: entry 1 (grommle): has no 'form'; give one of cap, closed, cover, fastener, open, sleeve"),
    ("form: open", "form: sideways", "line 4: entry 1 (grommle): 'form' cannot be 'sideways'; give one of cap, closed,"),
    ("form: open", "form: [open]", "line 4: entry 1 (grommle): 'form' must be a word, not a list; give one of"),
    ("form: open", "form:", "line 4: entry 1 (grommle): 'form' must be a word, not nothing; give one of"),
    ("form: open", "from: open", "line 4: entry 1 (grommle): does not know 'from'; did you mean 'form'?"),
    ("form: open", "form: open\n    colour: red", "line 5: entry 1 (grommle): does not know 'colour'; use id, form, words, examples, not"),
    ("form: open", "form: open\n    5: red", "line 5: entry 1 (grommle): does not know '5'; use id,"),
    ("id: gronk", "id: 201", "line 7: entry 2: 'id' must be a word, not the number 201; put it in quotes: \"201\""),
    (
        "id: gronk",
        "id: grommle",
        "line 7: entry 2 (grommle): has the id of entry 1; give it an id of its own, or put its words into entry 1",
    ),
    ("  - id: gronk\n", "  - words: [x]\n", "line 9: not valid YAML ('words' stands twice); mend the line"),
    (
        "words: [grommle]",
        "words: grommle",
        "line 5: entry 1 (grommle): 'words' must be a list, not 'grommle'; write it in brackets: [grommle]",
    ),
    ("words: [grommle]", "words: []", "line 5: entry 1 (grommle): 'words' is empty; put something into it"),
    ("words: [grommle]", "words: {a: b}", "line 5: entry 1 (grommle): 'words' must be a list, not a map; write it in brackets"),
    (
        "      - side gronk",
        "      - 201",
        "line 11: entry 2 (gronk): 'words' holds the number 201, which is no word; put it in quotes: \"201\"",
    ),
    ("      - side gronk", "      - [side, gronk]", "line 11: entry 2 (gronk): 'words' holds a list, which is no word; take it out"),
    ("      - side gronk", "      -", "line 11: entry 2 (gronk): 'words' holds nothing, which is no word; take it out"),
    ("examples: [a gronk]", "examples: a gronk", "line 12: entry 2 (gronk): 'examples' must be a list, not 'a gronk'"),
    ("examples: [a gronk]", "examples: [a gronk]\n    not: x", "line 13: entry 2 (gronk): 'not' must be a list, not 'x'"),
    ("    examples: [a gronk]\n", "", "line 7: entry 2 (gronk): has no examples; add a sentence that it must match"),
    (
        "  - id: gronk\n    form",
        "  - just a word\n  - form",
        "line 7: entry 2: must be a map with 'id', 'words' and more, not 'just a word'",
    ),
    ("kind: fittings", "kind: fittings\nentry: x", "line 2: does not know 'entry'; did you mean 'entries'?"),
    ("kind: fittings", "kind: fitting", "line 1: no 'kind:' of fittings, members, verbs, words; start the file with one of them"),
    ("kind: fittings", "kind: fittings\nforms: 5", "line 2: 'forms' must be a map, not the number 5; write forms: {open: [snaps on]}"),
    ("kind: fittings", "kind: fittings\nforms: {ajar: [x]}", "line 2: 'forms': does not know 'ajar'; use closed, open,"),
    ("kind: fittings", "kind: fittings\nforms: {open: snaps on}", "line 2: 'forms' of 'open' must be a list, not 'snaps on'"),
    ("kind: fittings", "kind: members", "line 4: entry 1 (grommle): does not know 'form'; use id, role, words, examples"),
    ("entries:\n", "entries: 5\nmore:\n", "line 3: does not know 'more'; use kind, entries, forms"),
    (GOOD[15:], "entries: 5\n", "line 2: 'entries' must be a list of entries, not the number 5; compare it with the shipped file"),
    (GOOD[15:], "entries: {id: x}\n", "line 2: 'entries' must be a list of entries, not a map"),
    (GOOD[15:], "entries:\n", "line 2: 'entries' must be a list of entries, not nothing"),
    (GOOD[15:], "entries: []\n", "line 2: 'entries' must be a list of entries, not an empty list"),
    (GOOD[15:], "", "no 'entries:'; write entries: and below it one"),
    ("form: open", "form: !!int open", "not valid YAML; mend the line"),
    ("form: open", "form: !!python/name:os.system open", "line 4: not valid YAML"),
    ("form: open", "form: *nobody", "line 4: not valid YAML (found undefined alias)"),
    ("form: open", "form: o\x07pen", "not valid YAML"),
    ("form: open", f"form: {'[' * 950}{']' * 950}", "line 4: entry 1 (grommle): 'form' must be a word, not a list"),
    ("form: open", f"form: {'[' * 20000}", "not valid YAML"),
]


def test_the_file_that_is_changed_is_good(tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    path.write_text(GOOD, encoding="utf-8")
    assert {"grommle", "side gronks"} <= load_grammar((path,)).senses.keys()


@pytest.mark.parametrize(("old", "new", "message"), CHANGES, ids=[f"{new[:40]!r}, {message[:40]}" for _, new, message in CHANGES])
def test_a_mistake_is_told_with_its_place_and_remedy(tmp_path: Path, old: str, new: str, message: str) -> None:
    assert GOOD.count(old) >= 1
    line = refusal(tmp_path, GOOD.replace(old, new, 1))
    assert line.startswith(message) or (message.startswith("not valid") and message in line), line
    assert len(line) < 200


OTHER_KINDS = [
    ("kind: members\nentries:\n  - {id: x, words: [x], examples: [an x]}\n", "line 3: entry 1 (x): has no 'role'; give one of bar, bay,"),
    (
        "kind: members\nentries:\n  - {id: x, role: leg, words: [x], examples: [an x]}\n",
        "line 3: entry 1 (x): 'role' cannot be 'leg'; give",
    ),
    (
        "kind: members\nentries:\n  - {id: x, role: tube, side: up, words: [x], examples: [an x]}\n",
        "line 3: entry 1 (x): 'side' cannot be 'up'; give one of centre, left, right",
    ),
    (
        "kind: members\nentries:\n  - {id: x, role: tube, words: [x], only: [y], examples: [an x]}\n",
        "line 3: entry 1 (x): 'only' holds words that 'words' does not; add them",
    ),
    (
        "kind: verbs\nentries:\n  - {id: x, words: [x], examples: [x it]}\n",
        "line 3: entry 1 (x): has no 'class'; give one of fasten, feed,",
    ),
    (
        "kind: verbs\nentries:\n  - {id: x, class: put, words: [x], forms: [xed], examples: [x it]}\n",
        "line 3: entry 1 (x): 'forms' must be a map, not a list; write forms:",
    ),
    (
        "kind: verbs\nentries:\n  - {id: x, class: put, words: [x], forms: {y: [yed]}, examples: [x it]}\n",
        "line 3: entry 1 (x): 'forms' are given for 'y', which is none of its words; add it",
    ),
    (
        "kind: verbs\nentries:\n  - {id: x, class: put, words: [x], forms: {x: xed}, examples: [x it]}\n",
        "line 3: entry 1 (x): 'forms' of 'x' must be a list, not 'xed'",
    ),
    ("kind: words\n", "holds no words; add lists of words, or leave the file out"),
    ("kind: words\nontto: [upon]\n", "line 2: does not know 'ontto'; did you mean 'onto'?"),
    ("kind: words\nonto: upon\n", "line 2: 'onto' must be a list, not 'upon'; write it in brackets: [upon]"),
    ("kind: words\nonto: [3]\n", "line 2: 'onto' holds the number 3, which is no word; put it in quotes"),
    ("kind: words\nnumbers: [1, 2]\n", "line 2: 'numbers' must be a map, not a list; write it as in the shipped words.yaml"),
    ("kind: words\nnumbers:\n  tuppence: two\n", "line 3: 'numbers', 'tuppence': must be a whole number from 0 to a million, not 'two'"),
    ("kind: words\nnumbers: {tuppence: 2.5}\n", "line 2: 'numbers', 'tuppence': must be a whole number"),
    ("kind: words\nnumbers: {tuppence: -2}\n", "line 2: 'numbers', 'tuppence': must be a whole number"),
    (f"kind: words\nnumbers: {{lots: 1{'0' * 400}}}\n", "line 2: 'numbers', 'lots': must be a whole number"),
    ("kind: words\nfraction_words: {bit: .inf}\n", "line 2: 'fraction_words', 'bit': must be a number from 0 to a million"),
    ("kind: words\nfraction_words: {bit: .nan}\n", "line 2: 'fraction_words', 'bit': must be a number from 0 to a million"),
    ("kind: words\nnumbers: {2: 2}\n", "line 2: 'numbers', the number 2: is no word; put it in quotes"),
    ("kind: words\nhoops: {middling: [x]}\n", "line 2: 'hoops': does not know 'middling'; use all, end,"),
    ("kind: words\nhoops: {end: x}\n", "line 2: 'hoops', 'end' must be a list, not 'x'"),
    ("kind: words\nsides: {port: larboard}\n", "line 2: 'sides', 'port': cannot mean 'larboard'; give left or right"),
    ("kind: words\nabbreviations: {hp: [hoop]}\n", "line 2: 'abbreviations', 'hp': must mean a word, not a list"),
    ("", "no 'kind:'"),
    ("5\n", "no 'kind:'"),
    ("kind: [words]\n", "line 1: no 'kind:'"),
    ("kind: words\n---\nkind: words\n", "line 2: not valid YAML"),
    ("? [kind]\n: words\n", "line 1: not valid YAML (found unhashable key)"),
]


@pytest.mark.parametrize(("text", "message"), OTHER_KINDS, ids=[message[:60] for _, message in OTHER_KINDS])
def test_a_mistake_in_a_file_of_another_kind(tmp_path: Path, text: str, message: str) -> None:
    line = refusal(tmp_path, text)
    assert line.startswith(message)


def test_what_a_file_may_add_is_taken(tmp_path: Path) -> None:
    """Each list and map of the shipped words, with a word more."""
    own = tmp_path / "own.yaml"
    own.write_text(
        "\ufeffkind: words\nonto: [atop]\nnumbers: {tuppence: 2}\nfraction_words: {a bit: 0.125}\nhoops: {end: [endmost]}\n"
        "sides: {port: left}\nabbreviations: {hp: hoop}\n",  # the mark in front is how some editors begin a file in UTF-8
        encoding="utf-8",
    )
    words = load_grammar((own,)).words
    assert "atop" in words["onto"]
    assert words["numbers"]["tuppence"] == 2
    assert "endmost" in words["hoops"]["end"]


@pytest.mark.parametrize("word", ["y", "Y", "null", "~", "2024-99-99", "off", "e", "ss"])
def test_odd_words_are_words(tmp_path: Path, word: str) -> None:
    """What plain YAML would make a date, a truth value or nothing, and words too short for a rule of spelling."""
    own = tmp_path / "own.yaml"
    own.write_text(f"kind: verbs\nentries:\n  - {{id: x, class: put, words: [{word}], examples: [{word} it]}}\n", encoding="utf-8")
    assert word.lower() in load_grammar((own,)).senses


def test_a_file_of_another_coding_and_a_giant_are_refused(tmp_path: Path) -> None:
    path = tmp_path / "wide.yaml"
    path.write_bytes(GOOD.encode("utf-16"))
    with pytest.raises(GrammarError, match="UTF-8"):
        load_grammar((path,))
    giant = tmp_path / "giant.yaml"
    giant.write_bytes(b"#" * (5 << 20))
    with pytest.raises(GrammarError, match="too large"):
        load_grammar((giant,))


# ---- any change at all -----------------------------------------------------------------------------------------------------------

FILES = ("fittings.yaml", "members.yaml", "verbs.yaml", "words.yaml")
JUNK: list[Any] = [
    None,
    True,
    5,
    -1,
    2.5,
    float("nan"),
    10**30,
    "",
    " ",
    "x",
    "left",
    [],
    [[]],
    ["x"],
    [None],
    [5],
    {},
    {"x": "x"},
    {5: []},
]


def places(tree: object, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The ways to all nodes of nested maps and lists."""
    pairs = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    return [path, *(place for key, value in pairs for place in places(value, (*path, key)))]


def first_three(tree: Any) -> Any:
    """Lists, and maps of words, cut to three."""
    if isinstance(tree, list):
        return [first_three(item) for item in tree[:3]]
    return {key: first_three(value) for key, value in list(tree.items())[:9]} if isinstance(tree, dict) else tree


def shortened(name: str) -> Any:
    """A shipped file with the first of each of its lists. The words come as they are loaded, since numbers are among them."""
    if name == "words.yaml":
        return {"kind": "words", **{key: first_three(value) for key, value in load_grammar().words.items()}}
    tree = first_three(yaml.load((SHIPPED / name).read_text(encoding="utf-8"), Loader=yaml.BaseLoader))
    for entry in tree["entries"]:
        if "forms" in entry:
            entry["words"] = list(entry["forms"])  # forms are given for words of the entry only
    return tree


TREES = {name: shortened(name) for name in FILES}
PLACES = [(name, place) for name in FILES for place in places(TREES[name])]
TEXT = manual(["Put two ridge clips on each end hoop, 300 mm up."])


def changed(where: tuple[str, tuple[Any, ...]], junk: object, how: str) -> Any:
    """A shipped file with one node exchanged, dropped, or moved to another key."""
    name, place = where
    tree = copy.deepcopy(TREES[name])
    if not place:
        return junk
    parent = tree
    for step in place[:-1]:
        parent = parent[step]
    if how == "put":
        parent[place[-1]] = copy.deepcopy(junk)
    else:
        old = parent.pop(place[-1])
        if how == "rename" and isinstance(parent, dict):
            parent[junk if isinstance(junk, int | float | str) else None] = old
    return tree


def test_every_one_change_is_taken_or_is_a_fault() -> None:
    """All of them, on what YAML gives: nothing but a Fault is ever raised."""
    known = Known({"members:role": {"hoop", "hoop-maybe", "tube"}, "verbs:class": {"put", "fasten", "take"}}, load_grammar().words)
    for tree in TREES.values():
        check(tree, known)  # good as it is
    taken = 0
    for where in PLACES:
        for junk in JUNK:
            for how in ("put", "drop", "rename"):
                try:
                    check(changed(where, junk, how), known)
                    taken += 1
                except Fault as fault:
                    assert fault.problem
                    assert fault.remedy
    assert 0 < taken < len(PLACES) * len(JUNK) * 3


@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(where=st.sampled_from(PLACES), junk=st.sampled_from(JUNK), how=st.sampled_from(["put", "drop", "rename"]))
def test_any_one_change_is_refused_in_one_line_or_read_with(
    tmp_path: Path, where: tuple[str, tuple[Any, ...]], junk: Any, how: str
) -> None:
    """Some of them, written to a file: refused with a remedy, or a manual is read with it."""
    path = tmp_path / "mine.yaml"
    path.write_text(yaml.safe_dump(changed(where, junk, how)), encoding="utf-8")
    load_grammar.cache_clear()
    try:
        load_grammar((path,))
    except GrammarError as error:
        assert re.fullmatch(r".*mine\.yaml: [^\n]+; [^\n]+", str(error))
        return
    assert read(TEXT, (path,)).events
