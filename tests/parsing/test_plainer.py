"""Wordings that say the same as a plainer one: the short cut by which most rules are passed over loses none."""

from __future__ import annotations

import pytest
from hoopwright.parsing.plainer import Plainer, plain_part
from hoopwright.parsing.sentences import sentences

from library import CORPUS, EXAMPLES, NEWEST, SAMPLES, Kit, understood


@pytest.mark.parametrize(
    ("pattern", "part"),
    [
        (r"\bwalk (it|them) up\b", "walk "),
        (r"\b(one|each) run(?=$|[,.])", " run"),
        (r"^(.{3,60}?) (?:go|goes) (?:under|beneath) the head of each ([\w -]+)\.?$", " the head of each "),
        (r"stays? put", "stay"),  # the s may be missing
        (r"clips{0,2} on", "clip"),
        (r"clips+ on", "clips"),
        (r"a|the clip", ""),  # either will do
        (r"\b(?:eye|ear) (?:shield)\b", " "),
        (r"[^]a] clip", " clip"),
    ],
)
def test_a_patterns_plain_part_stands_in_all_its_matches(pattern: str, part: str) -> None:
    assert plain_part(pattern) == part


@pytest.mark.parametrize("kit", [*SAMPLES, *EXAMPLES, *CORPUS, *NEWEST], ids=lambda kit: kit.name)
def test_no_rule_is_passed_over_that_would_match(kit: Kit) -> None:
    plainer = Plainer(("hoop", "bow", "arch", "rib"), 6)
    for step in understood(kit).outline.steps:
        for start, end in sentences(step.text):
            text = step.text[start:end]
            missed = [pattern.pattern for part, pattern, _ in plainer.rules if pattern.search(text) and part not in text.lower()]
            assert missed == []
