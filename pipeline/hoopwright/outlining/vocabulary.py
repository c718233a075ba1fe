"""The words by which a manual's order is seen, loaded once from ``grammars/outline.yaml``."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any, cast

import yaml

from hoopwright.model.outline import FieldKind, SectionRole

_LOADER = getattr(yaml, "CSafeLoader", yaml.SafeLoader)  # much faster, where PyYAML was built with it


@dataclass(frozen=True, slots=True)
class RoleRule:
    """A heading that matches ``pattern``, and not ``unless``, opens a section of this role."""

    role: SectionRole
    pattern: re.Pattern[str]
    unless: re.Pattern[str] | None
    unlabelled: bool = False  # holds only for a section without labelled steps

    def matches(self, heading: str) -> bool:
        return bool(self.pattern.search(heading)) and not (self.unless and self.unless.search(heading))


@dataclass(frozen=True, slots=True)
class OptionRule:
    """A heading that names an optional extra in group ``name``, or announces extras without a name (``generic``)."""

    id: str
    pattern: re.Pattern[str]
    generic: bool


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """Everything that ``outline.yaml`` holds, compiled."""

    roles: tuple[RoleRule, ...]
    first_words: tuple[RoleRule, ...]
    options: tuple[OptionRule, ...]
    option_sentence: re.Pattern[str]
    option_step: re.Pattern[str]
    signal_as: dict[str, str]
    strong_signals: frozenset[str]
    weak_signals: frozenset[str]
    caption: re.Pattern[str]
    picture_name: re.Pattern[str]  # "Fig. 4" by itself
    bracketed_picture: re.Pattern[str]  # a paragraph in brackets that speaks of a picture
    columns: dict[str, frozenset[str]]
    place_columns: frozenset[str]
    card_field: re.Pattern[str]  # a field of a card, with a group for its kind
    card_kinds: tuple[FieldKind, ...]
    card_total: frozenset[str]  # words of fields that name what is fetched for all places of the card
    card_name: re.Pattern[str]
    number_units: dict[str, int]
    number_tens: dict[str, int]
    number_groups: dict[str, int]
    counting: frozenset[str]
    loose_quantities: tuple[str, ...]
    code_words: str  # a pattern
    supply_lead: re.Pattern[str]
    supply_opening: re.Pattern[str]
    list_lead: re.Pattern[str]
    supplied_head: re.Pattern[str]
    papers: frozenset[str]
    container: re.Pattern[str]
    name_ends: frozenset[str]
    units: frozenset[str]
    dangling: frozenset[str]


def alternatives(words: list[str]) -> str:
    """A regular expression that matches any of the words, the longest first."""
    return "|".join(re.escape(word).replace(r"\ ", r"\s+") for word in sorted(words, key=len, reverse=True))


def raw() -> dict[str, Any]:
    """The file as plain data, for the tests that run its examples."""
    text = (resources.files("hoopwright.grammars") / "outline.yaml").read_text(encoding="utf-8")
    return cast(dict[str, Any], yaml.load(text, Loader=_LOADER))


def _compile(pattern: str | None) -> re.Pattern[str]:
    return re.compile(pattern or r"(?!)", re.IGNORECASE)


def _any(rules: list[dict[str, Any]]) -> re.Pattern[str]:
    return _compile("|".join(rule["pattern"] for rule in rules))


def _role(rule: dict[str, Any]) -> RoleRule:
    unless = _compile(rule["unless"]) if "unless" in rule else None
    return RoleRule(rule["role"], _compile(rule["pattern"]), unless, bool(rule.get("unlabelled")))


def _caption(data: dict[str, Any]) -> re.Pattern[str]:
    """Captions: "Figure 3a. …", "Fig. 2 (not to scale). …", "Photo F", "Sketch: …", "Drawing (overleaf): …"; ``mark`` ends the name."""
    bracket = r"(?:\s*[(\[][^()\[\]]{0,40}[)\]])?"
    numbered = (
        rf"(?:{alternatives(data['captions'])})s?(?:\.\s*|\s+|(?=\d))(?:no\.?\s*)?(?:\d+[a-z]?(?:[.-]\d+)?|(?-i:[A-Z])\d*)\b"
        rf"(?:{bracket}(?P<mark>[*_]*\s*[.:)–—-]|[*_]*$))?"
    )
    places = alternatives(data["picture_places"])
    # A picture without a number needs a colon or a bracket: "Sketch of the joint" may head a section.
    coloned = rf"(?:\s+(?:{places}))?{bracket}(?P<colon>[*_]*\s*:)"
    stopped = r"\s*[(\[][^()\[\]]{2,40}[)\]](?P<stop>[*_]*\s*[.–—-]|[*_]*$)"
    plain = rf"(?:{alternatives(data['pictures'])})s?\.?(?:{coloned}|{stopped})"
    return re.compile(rf"^[*_\[(]*(?:{numbered}|{plain})", re.IGNORECASE)


def _card_field(data: dict[str, Any]) -> re.Pattern[str]:
    """ "Fit: 2 rings", "FIT (each hoop):  2 rings", "**Fit:** 2 rings", "Fit    2 rings"; ``head`` is all before what it says."""
    words = "|".join(f"(?P<{entry['kind']}>{alternatives(entry['words'])})" for entry in data["card_fields"])
    return re.compile(
        rf"(?:[-*•·]\s+)?(?P<head>[*_]{{0,2}}(?P<word>{words})(?:\s*\([^()]{{2,40}}\))?(?:[*_]{{0,2}}\s*[:=][*_]{{0,2}}(?=\s)\s*|[*_]{{2}}\s+|\s{{2,}}))(?=\S)",
        re.IGNORECASE,
    )


def _card_name(data: dict[str, Any]) -> re.Pattern[str]:
    """ "CARD 3 - Ridge rings", "Job no. 12:"; what stands behind is the title."""
    name = rf"(?P<word>{alternatives(data['card_names'])})\s+(?:no\.?\s*)?(?P<n>[A-Z]?\d{{1,3}})(?!\w)"
    return re.compile(rf"{name}(?:\s*[.:)–—-]+(?=\s|$))?\s*", re.IGNORECASE)


def ends_name(match: re.Match[str] | None) -> bool:
    """True if a match of the caption pattern shows by its mark that a caption begins, and no sentence about a figure."""
    return match is not None and any(match.group(name) is not None for name in ("mark", "colon", "stop"))


@cache
def vocabulary() -> Vocabulary:
    """The vocabulary; read from disk at the first call only."""
    data = raw()
    signals, numbers = data["signals"], data["numbers"]
    roles = tuple(_role(rule) for rule in data["roles"])
    options = tuple(OptionRule(rule["id"], _compile(rule["pattern"]), bool(rule.get("generic"))) for rule in data["options"])
    return Vocabulary(
        roles=roles,
        first_words=tuple(_role(rule) for rule in data["first_words"]),
        options=options,
        option_sentence=_any(data["option_sentences"]),
        option_step=_any(data["option_steps"]),
        signal_as=dict(signals["as"]),
        strong_signals=frozenset(signals["strong"]),
        weak_signals=frozenset(signals["weak"]),
        caption=_caption(data),
        picture_name=re.compile(rf"(?:{alternatives(data['pictures'])})s?\.?\s*(?:no\.?\s*)?(?:\d+[a-z]?|(?-i:[A-Z])\d*)\b", re.IGNORECASE),
        bracketed_picture=re.compile(
            rf"^[*_]*[(\[](?:the\s+)?(?:{alternatives(data['pictures'])})\b[^()\[\]]*[)\]]\.?[*_]*$", re.IGNORECASE
        ),
        columns={kind: frozenset(words) for kind, words in data["columns"].items()},
        place_columns=frozenset(data["place_columns"]),
        card_field=_card_field(data),
        card_kinds=tuple(entry["kind"] for entry in data["card_fields"]),
        card_total=frozenset(word for entry in data["card_fields"] for word in entry.get("total", ())),
        card_name=_card_name(data),
        number_units=dict(numbers["units"]),
        number_tens=dict(numbers["tens"]),
        number_groups=dict(numbers["groups"]),
        counting=frozenset(data["counting"]),
        loose_quantities=tuple(data["loose_quantities"]),
        code_words=f"(?:{alternatives(data['code_words'])})",
        supply_lead=_compile(r"\b(?:" + "|".join(data["supply_leads"]) + r")\b"),
        supply_opening=_compile(r"^(?:" + "|".join(data["supply_openings"]) + r")\b"),
        list_lead=_any(data["list_leads"]),
        supplied_head=_compile(data["supplied_head"]),
        papers=frozenset(data["papers"]),
        container=_compile(rf"\b(?:{alternatives(data['containers'])})\b"),
        name_ends=frozenset(data["name_ends"]),
        units=frozenset(data["units"]),
        dangling=frozenset(data["dangling"]),
    )
