"""The short cut by which most patterns are passed over loses no match."""

from __future__ import annotations

import re
from collections.abc import Iterator
from importlib import import_module
from pkgutil import iter_modules

import hoopwright.parsing
import pytest
from hoopwright.grammar import load_grammar
from hoopwright.parsing import gates, parse
from hoopwright.parsing.gates import Gated, gated, needed
from hoopwright.parsing.plainer import Plainer
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from hypothesis.errors import Unsatisfiable

from library import CORPUS, EXAMPLES, NEWEST, SAMPLES, Kit, understood


@pytest.mark.parametrize(
    ("pattern", "pieces"),
    [
        (r"\bwalk (it|them) up\b", (("walk ",), (" up",), ("it", "them"))),
        (r"\b(one|each) run(?=$|[,.])", ((" run",), ("one", "each"))),
        (r"stays? put", (("stay",), (" put",))),  # the s may be missing
        (r"clips{0,2} on", (("clip",), (" on",))),
        (r"clips+ on", (("clip",), (" on",), ("s",))),
        (r"clip(?: ring)?", (("clip",),)),
        (r"a|the clip", (("a", "the clip"),)),
        (r"(?:a|the)? clip", ((" clip",),)),
        (r"(?:a|) clip", ((" clip",),)),  # the way without a letter will do
        (r"(?:Each|every \d) \w+", (("each", "every "), (" ",))),
        (r"[^]a] clip", ((" clip",),)),
        (r"(?<=on )hoop(?! \d)", (("hoop",), ("on ",))),
        (r"\d+|\w+", ()),
    ],
)
def test_what_each_match_has_is_found_in_the_pattern(pattern: str, pieces: tuple[tuple[str, ...], ...]) -> None:
    assert needed(pattern) == pieces


def test_a_letter_that_matches_in_another_case_is_not_passed_over() -> None:
    kelvin = "\N{KELVIN SIGN}"  # Unicode CaseFolding.txt: 212A folds to 6B
    assert gated("keep", re.IGNORECASE).search(f"{kelvin}eep") is not None


def test_methods_give_what_the_pattern_gives() -> None:
    rule = gated(r"\b(clip)s? on\b", re.IGNORECASE)
    text = "Clips on hoop 1, a clip on hoop 2."
    found = rule.search(text)
    assert found is not None
    assert (found.span(), found[1]) == ((0, 8), "Clip")
    assert [match.span() for match in rule.finditer(text)] == [(0, 8), (19, 26)]
    assert rule.sub(r"<\1>", text) == "<Clip> hoop 1, a <clip> hoop 2."
    assert rule.match("a clip on") is None
    assert rule.search("a clamp on") is None
    assert list(rule.finditer("a clamp on")) == []
    assert rule.sub("", "a clamp on") == "a clamp on"


def _patterns() -> Iterator[tuple[str, Gated]]:
    for module in iter_modules(hoopwright.parsing.__path__):
        for name, value in vars(import_module(f"hoopwright.parsing.{module.name}")).items():
            if isinstance(value, Gated):
                yield f"{module.name}.{name}", value
    for number, (rule, _) in enumerate(Plainer(("hoop", "bow", "arch", "rib"), 6, far_end=("stream",)).rules):
        yield f"rule {number}", rule


PATTERNS = dict(_patterns())


@pytest.mark.parametrize("name", PATTERNS)
def test_a_made_up_match_is_let_through(name: str) -> None:
    rule = PATTERNS[name]

    @settings(max_examples=10, deadline=None, database=None, derandomize=True, suppress_health_check=list(HealthCheck))
    @given(st.from_regex(rule.pattern, alphabet=st.characters(max_codepoint=127)))
    def check(text: str) -> None:
        assert rule.open(text.lower())

    try:
        check()
    except Unsatisfiable:
        pytest.skip("no match could be made up in ASCII")


@pytest.mark.parametrize("kit", [*SAMPLES, *EXAMPLES, *CORPUS, *NEWEST], ids=lambda kit: kit.name)
def test_nothing_that_would_match_is_passed_over_in_a_manual(kit: Kit, monkeypatch: pytest.MonkeyPatch) -> None:
    missed: list[tuple[str, str]] = []
    opened = Gated.open

    def watched(self: Gated, low: str) -> bool:
        found = opened(self, low)
        if not found and re.search(self.pattern.pattern, low, self.pattern.flags | re.IGNORECASE) is not None:
            missed.append((self.pattern.pattern, low))
        return found

    contents = understood(kit).outline
    monkeypatch.setattr(gates.Gated, "open", watched)
    parse(contents, load_grammar())
    assert missed == []
