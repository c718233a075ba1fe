"""How many joins a bar has: what its fasteners and sleeves are counted by where the words give them to each join."""

from __future__ import annotations

import re
from collections.abc import Mapping

from hoopwright.parsing.gates import gated

_JOIN = r"(?:joins?|joints?|splices?|butts?|seams?|unions?|meeting[ -](?:places?|points?)|plug-in points?|(?:places|points) where)"
_SPEAKS = gated(rf"\b{_JOIN}\b|\b(?:place|point) where\b|\bmeets?\b", re.IGNORECASE)
_EACH_JOIN = gated(
    rf"\b(?:each|every|per|both|at a|to a|all|through each|(?:a|one|two|three|four|\d) (?:per|to a)) (?:of (?:the|its|these|those|them) )?"
    rf"(?:[a-z]+ )?(?:[a-z-]+ )?{_JOIN}|\beach of (?:these|those|them|which)\b|\bapiece\b|\bwhere(?:ver)? (?:two|they|the lengths|lengths)\b|\b{_JOIN}\b.{{0,30}}\beach\b",
    re.IGNORECASE,
)
_HAS_JOINS = gated(rf"(?P<words>\b(?:[\w-]+ )(?:\(\d+\) )?(?:[\w-]+ )?)(?=\b{_JOIN}\b)", re.IGNORECASE)
_LENGTHS = gated(r"(?P<words>\b(?:[\w-]+ )(?:\(\d+\) )?(?:[\w-]+ )?)(?=\b(?:lengths|sections|pieces)\b)", re.IGNORECASE)
_TO_A_SIDE = gated(
    r"\b(?:to|per|on|for|at) (?:a|each|either|every|both) sides?\b|\b(?:per|each) side\b|\b(?:lengths|sections|[a-z]*joins?|joints|splices) a side\b",
    re.IGNORECASE,
)
_TWO = 2


def joins_of_bar(
    bar: str, sentence: str, before: str, numbers: Mapping[str, int], bars: Mapping[str, int], listed: int | None
) -> int | None:
    """In how many places all the bars of that name are joined, as the sentence and those ``before`` it in the step tell; None: not told.

    ``numbers``: the words for numbers; ``bars``: how many bars there are, by the last word of their name; ``listed``: how many lengths of the
    bar the parts list has. Where a bar at the sides is spoken of in the plural and nothing says how many, there are two (common practice, no
    source).
    """
    if _SPEAKS.search(sentence) is None or _EACH_JOIN.search(sentence) is None:
        return None
    context = _last_of(before, bar)
    told = _told(sentence, numbers) or _told(context, numbers)
    if told is None:
        return None
    if listed and listed % (told + 1) == 0:
        return told * (listed // (told + 1))
    return told * _runs(bar, f"{context} {sentence}", numbers, bars)


def _last_of(before: str, bar: str) -> str:
    """What stands in front, from the last sentence that speaks of the bar."""
    at = before.lower().rfind(bar.split()[-1])
    if at < 0:
        return before
    return before[max((before.rfind(mark, 0, at) for mark in (". ", ".\n", "; ")), default=-1) + 1 :]


def _number(word: str, numbers: Mapping[str, int]) -> int | None:
    return int(word) if word.isdigit() else numbers.get(word.lower())


def _told(text: str, numbers: Mapping[str, int]) -> int | None:
    for pattern, fewer in ((_HAS_JOINS, 0), (_LENGTHS, 1)):
        for match in pattern.finditer(text):
            for word in reversed(match["words"].split()):
                many = _number(word, numbers)
                if many is not None and many > fewer and word.lower() not in ("a", "an", "one"):
                    return many - fewer
    return None


def _runs(bar: str, text: str, numbers: Mapping[str, int], bars: Mapping[str, int]) -> int:
    """How many bars of that name there are."""
    if "ridge" in bar:
        return 1
    last = bar.split()[-1]
    if re.search(rf"\b(?:joins?|joints?|splices?) (?:in|of) (?:the|this) (?:[a-z-]+ )?{re.escape(last)}\b", text, re.IGNORECASE):
        return 1
    kinds: dict[str, int] = {}
    for match in re.finditer(
        rf"\b(?P<n>the|[a-z]+|\d+)(?: \(\d+\))? (?P<kind>(?:(?!(?:each|every|both|the) )[a-z-]+ )?){re.escape(last)}(?P<many>s?)\b",
        text,
        re.IGNORECASE,
    ):
        several = match["many"] or match["n"].lower() in ("both", "each", "every")
        told = _number(match["n"], numbers) or 1
        many = told if told > 1 else bars.get(last, _TWO) if several else 1
        kinds[match["kind"]] = max(many, kinds.get(match["kind"], 0))
    if len(kinds) > 1 and bar == last:
        return sum(many for kind, many in kinds.items() if kind)  # "the peak purlin and the two side purlins. Each purlin has four splices"
    if _TO_A_SIDE.search(text):
        return max(kinds.get("", 0), bars.get(last, _TWO))
    return max(kinds.values(), default=1)
