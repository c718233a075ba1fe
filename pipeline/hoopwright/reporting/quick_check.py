"""A JSON Schema as a plain yes-or-no question, some fifty times as fast as the full check.

"Yes" means that the full check would find no fault; "no" only that it has to be asked. So whatever is not sure is answered "no", and a
schema with a keyword that is not known here gives a question that is always answered so. JSON Schema draft 2020-12, validation
vocabulary: https://json-schema.org/draft/2020-12/json-schema-validation.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

Question = Callable[[Any], bool]

_SAYS_NOTHING = {"description", "title", "$schema", "$id", "$comment"}


def surely_valid(schema: Any) -> Question:
    """Whether a value surely follows ``schema``, whose references have been filled in."""
    try:
        return _all(schema)
    except (NotImplementedError, re.error):
        return lambda value: False


def _all(schema: Any) -> Question:
    if not isinstance(schema, dict):
        raise NotImplementedError("a schema that is no object")
    asked = [question for keyword in schema if (question := _one(keyword, schema)) is not None]
    if len(asked) == 1:
        return asked[0]

    def all_hold(value: Any) -> bool:
        for holds in asked:  # noqa: SIM110 - a loop takes half the time of all()
            if not holds(value):
                return False
        return True

    return all_hold


def _one(keyword: str, schema: dict[str, Any]) -> Question | None:
    wanted = schema[keyword]
    if keyword in _SAYS_NOTHING or (keyword == "properties" and "additionalProperties" in schema):
        return None  # the latter looks after both
    if keyword in ("properties", "additionalProperties"):
        return _properties(schema)
    if keyword not in _KEYWORDS:
        raise NotImplementedError(keyword)
    return _KEYWORDS[keyword](wanted)


def _is_number(value: Any) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


_TYPES: dict[str, Question] = {
    "object": lambda value: isinstance(value, dict),
    "array": lambda value: isinstance(value, list),
    "string": lambda value: isinstance(value, str),
    "number": _is_number,
    "integer": lambda value: isinstance(value, int) and not isinstance(value, bool),
    "null": lambda value: value is None,
}


def _type(wanted: str | list[str]) -> Question:
    names = [wanted] if isinstance(wanted, str) else wanted
    if unknown := set(names) - set(_TYPES):
        raise NotImplementedError(f"type {unknown}")
    asked = [_TYPES[name] for name in names]
    return asked[0] if len(asked) == 1 else lambda value: any(holds(value) for holds in asked)


def _enum(wanted: list[Any]) -> Question:
    if not all(value is None or isinstance(value, str) for value in wanted):
        raise NotImplementedError("a choice that is no text")
    chosen = frozenset(wanted)
    return lambda value: (value is None or isinstance(value, str)) and value in chosen


def _pattern(wanted: str) -> Question:
    search = re.compile(wanted).search
    return lambda value: not isinstance(value, str) or search(value) is not None


def _minimum(wanted: float) -> Question:
    return lambda value: not _is_number(value) or value >= wanted


def _min_length(wanted: int) -> Question:
    return lambda value: not isinstance(value, str) or len(value) >= wanted


def _min_items(wanted: int) -> Question:
    return lambda value: not isinstance(value, list) or len(value) >= wanted


def _unique(wanted: bool) -> Question:
    def holds(value: Any) -> bool:
        if not wanted or not isinstance(value, list):
            return True
        return all(isinstance(item, str) for item in value) and len(set(value)) == len(value)

    return holds


def _items(wanted: Any) -> Question:
    holds = _all(wanted)
    return lambda value: not isinstance(value, list) or all(map(holds, value))


def _names(wanted: Any) -> Question:
    holds = _all(wanted)
    return lambda value: not isinstance(value, dict) or all(map(holds, value))


def _required(wanted: list[str]) -> Question:
    needed = frozenset(wanted)
    return lambda value: not isinstance(value, dict) or needed <= value.keys()


def _any_of(wanted: list[Any]) -> Question:
    asked = [_all(schema) for schema in wanted]
    return lambda value: any(holds(value) for holds in asked)


def _properties(schema: dict[str, Any]) -> Question:
    known = {name: _all(inner) for name, inner in schema.get("properties", {}).items()}
    others = schema.get("additionalProperties", True)
    other: Question = (lambda value: bool(others)) if isinstance(others, bool) else _all(others)

    def holds(value: Any) -> bool:
        return not isinstance(value, dict) or all(known.get(name, other)(item) for name, item in value.items())

    return holds


_KEYWORDS: dict[str, Callable[[Any], Question]] = {
    "type": _type,
    "enum": _enum,
    "const": lambda wanted: _enum([wanted]),
    "pattern": _pattern,
    "minimum": _minimum,
    "minLength": _min_length,
    "minItems": _min_items,
    "uniqueItems": _unique,
    "items": _items,
    "propertyNames": _names,
    "required": _required,
    "anyOf": _any_of,
}
