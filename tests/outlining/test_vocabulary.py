"""Every entry of outline.yaml against its own examples, and the file's form."""

from __future__ import annotations

import re
from typing import Any

import pytest
from hoopwright.outlining.roles import plain_title, role_of
from hoopwright.outlining.vocabulary import raw, vocabulary

DATA = raw()


def cases(kind: str, which: str) -> list[Any]:
    return [
        pytest.param(entry, text, id=f"{entry.get('role') or entry.get('id') or kind}: {text}")
        for entry in DATA[kind]
        for text in entry.get(which, [])
    ]


def matches(entry: dict[str, Any], text: str) -> bool:
    unless = entry.get("unless")
    return bool(re.search(entry["pattern"], text, re.I)) and not (unless and re.search(unless, text, re.I))


@pytest.mark.parametrize(("entry", "text"), cases("roles", "examples"))
def test_role_example(entry: dict[str, Any], text: str) -> None:
    assert role_of(text) == entry["role"]


@pytest.mark.parametrize(("entry", "text"), cases("roles", "not"))
def test_role_counter_example(entry: dict[str, Any], text: str) -> None:
    assert role_of(text) != entry["role"]


@pytest.mark.parametrize("kind", ["options", "option_sentences", "option_steps", "first_words"])
def test_examples_and_counter_examples(kind: str) -> None:
    for entry in DATA[kind]:
        wrong = [text for text in entry["examples"] if not matches(entry, plain_title(text))]
        wrong += [text for text in entry["not"] if matches(entry, plain_title(text))]
        assert wrong == [], entry["pattern"]


@pytest.mark.parametrize("kind", ["roles", "options", "option_sentences", "option_steps", "first_words"])
def test_every_entry_has_examples(kind: str) -> None:
    assert [entry for entry in DATA[kind] if not entry.get("examples")] == []


def test_words_are_words() -> None:
    """YAML reads a bare no, on or off as a truth value; such words stand in quotation marks."""
    lists = [DATA["counting"], DATA["dangling"], DATA["units"], DATA["name_ends"], DATA["place_columns"], *DATA["columns"].values()]
    assert [word for words in lists for word in words if not isinstance(word, str)] == []


def test_no_column_head_has_two_meanings() -> None:
    words = vocabulary()
    heads = [head for known in [*words.columns.values(), words.place_columns] for head in known]
    assert sorted({head for head in heads if heads.count(head) > 1}) == []
