"""Lengths in the sentences of all manuals against quantulum3 (PyPI), an independent reader of quantities.

The two differ where quantulum3 does not know the trade's notations. Each kind of difference was looked at in the corpus and judged;
a difference of any other kind fails the test:

* feet with inches, inch marks, "in" without a full stop, fractions with a hyphen: it reads a part of the length, two lengths, or none
  (judged: ours is right; such notations have tests of their own in test_lexing.py and test_units.py, against pint);
* a foot of a hoop, "one foot bolt": it reads a length of one foot (judged: ours is right);
* the same length again in other units, "4 ft [1219 mm]": it gives both, we keep the first (judged: ours is right);
* a span, "from 900 mm to 1,400 mm": it gives the middle with an uncertainty (judged: both ends are wanted).
"""

from __future__ import annotations

import re
import warnings
from collections import Counter
from collections.abc import Iterator
from functools import cache
from typing import Any

import pytest
from hoopwright.parsing.lex import Tok, lex
from hoopwright.parsing.sentences import sentences

from library import CORPUS, EXAMPLES, SAMPLES, Kit, understood

with warnings.catch_warnings():
    warnings.simplefilter("ignore")  # it says that its optional classifier is not installed
    from quantulum3 import parser  # type: ignore[import-untyped]

MM = {"millimetre": 1.0, "centimetre": 10.0, "metre": 1000.0, "foot": 304.8, "inch": 25.4, "yard": 914.4}
HAS_LENGTH = re.compile(r"\d\s?(?:mm|cm|m|ft|foot|feet|in|inch(?:es)?)\b|\d\s?['\"’”′″]")
IMPERIAL = re.compile(r"\b(?:ft|feet|foot|in|ins|inch|inches)\b|['\"’”′″]")
FOOT_OF_A_HOOP = re.compile(r"\s*(?:[a-z(]|$|[.,;:])")
KITS = [*SAMPLES, *EXAMPLES, *CORPUS]


@cache
def with_lengths(kit: Kit) -> tuple[str, ...]:
    """The sentences of a manual that hold a number with a unit of length, each once."""
    found: dict[str, None] = {}
    for step in understood(kit).outline.steps:
        for item in step.items:
            text = item.passage.text
            found.update(dict.fromkeys(text[a:b] for a, b in sentences(text) if HAS_LENGTH.search(text[a:b])))
    return tuple(found)


def ours(text: str) -> list[Tok]:
    """Our lengths."""
    return [tok for tok in lex(text) if tok.cat == "len"]


def theirs(text: str, mine: list[Tok]) -> Iterator[float]:
    """Their lengths in mm, without those that were judged above."""
    found: list[Any] = parser.parse(text)
    for quantity in found:
        if quantity.unit.name not in MM:
            continue
        start, end = quantity.span
        factor = MM[quantity.unit.name]
        in_brackets = text[:start].count("[") > text[:start].count("]") or text[:start].count("(") > text[:start].count(")")
        of_a_hoop = (
            quantity.surface.endswith(("foot", "feet"))
            and FOOT_OF_A_HOOP.match(text, end)
            and not any(t.start < end and start < t.end for t in mine)
        )
        part = any(tok.start < end and start < tok.end and IMPERIAL.search(tok.text) for tok in mine)
        if of_a_hoop or part or (in_brackets and not any(t.start < end and start < t.end for t in mine)):
            continue
        if quantity.uncertainty:
            yield from ((quantity.value - quantity.uncertainty) * factor, (quantity.value + quantity.uncertainty) * factor)
        else:
            yield quantity.value * factor


@pytest.mark.parametrize("kit", KITS, ids=lambda kit: kit.name)
def test_lengths_are_those_of_quantulum(kit: Kit) -> None:
    different = []
    for text in with_lengths(kit):
        mine = ours(text)
        a = Counter(round(float(tok.value), 1) for tok in mine if not IMPERIAL.search(tok.text))
        b = Counter(round(value, 1) for value in theirs(text, mine))
        if a != b:
            different.append((text, sorted((a - b).elements()), sorted((b - a).elements())))
    assert different == []


def test_there_is_something_to_compare() -> None:
    texts = [text for kit in KITS for text in with_lengths(kit)]
    metric = [tok for text in texts for tok in ours(text) if not IMPERIAL.search(tok.text)]
    assert len(metric) > 150
