"""What a heading says: the role of its section, the optional extra that it describes, the steps that it corrects."""

from __future__ import annotations

import re
from dataclasses import dataclass

from hoopwright.model.outline import SectionRole
from hoopwright.outlining.vocabulary import vocabulary

_NUMBER = re.compile(
    r"^(?:(?:section|chapter|part|appendix|annex|leaflet|sheet|stage|step|phase|task|operation)\s+)?(?:\d+(?:\.\d+)*|[A-Z]|[IVX]+)[.):]?\s*[-–—:.]?\s+",
    re.IGNORECASE,
)
_STEP_NAMES = re.compile(
    r"\b(?:steps?|clauses?|paragraphs?|paras?\.?|items?|operations?|instructions?)\s+((?:\d+(?:\.\d+)*[a-z]?|[A-Z]\d+)(?:\s*(?:,|and|to|–|-|&)\s*(?:\d+(?:\.\d+)*[a-z]?|[A-Z]\d+))*)",
    re.IGNORECASE,
)
_CONTAINER = re.compile(r"^(?:box|bag|sack|carton|pack|packet|bundle|crate)\s+\w{1,3}\s*[:,.–—-]\s*", re.IGNORECASE)
_ARTICLE = re.compile(r"^(?:the|an?|our|your)\s+", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Extra:
    """An optional extra announced by a heading; ``name`` is None where the sections below name the extras."""

    name: str | None


def plain_title(title: str) -> str:
    """A heading without its number and the marks around it."""
    text = " ".join(title.split()).strip(" *_#-–—=~:.")
    # A single letter is a number only with a mark behind it ("A. Frame"): "A tunnel" keeps its article.
    match = _NUMBER.match(text)
    if match and not re.match(r"^[A-Za-z]\s", match.group()):
        return text[match.end() :] or text
    return text


def role_of(title: str) -> SectionRole | None:
    """The role that a heading names, or None if it names none."""
    text = plain_title(title)
    return next((rule.role for rule in vocabulary().roles if rule.matches(text)), None)


def needs_no_labels(title: str) -> bool:
    """True if the role that a heading names holds only for a section without labelled steps."""
    text = plain_title(title)
    rule = next((rule for rule in vocabulary().roles if rule.matches(text)), None)
    return rule is not None and rule.unlabelled


def extra_of(title: str) -> Extra | None:
    """The optional extra that a heading speaks of, or None."""
    for text in dict.fromkeys((plain_title(title), title.strip(" *_#"))):
        for rule in vocabulary().options:
            match = rule.pattern.search(text)
            if match is None:
                continue
            if rule.generic:
                return Extra(None)
            name = _extra_name(match.group("name"))
            if name:
                return Extra(name)
    return None


def extra_of_step(text: str) -> str | None:
    """The extra that a step begins with: "If you bought the crop bars, slide …" → crop bars."""
    match = vocabulary().option_step.match(text)
    return _extra_name(next(group for group in match.groups() if group)) if match else None


def stems(text: str) -> list[str]:
    """The words of a name without articles and plural s, to compare names by."""
    return [word.rstrip("s") for word in re.findall(r"[a-z]+", text.lower()) if word not in ("the", "a", "an", "of", "and", "for")]


def own_name(title: str) -> str:
    """The name of an extra whose heading is nothing but its name: "1 The staging rail" → staging rail."""
    return _extra_name(plain_title(title))


def _extra_name(text: str) -> str:
    name = re.sub(r"\s*[(\[].*?[)\]]\s*$", "", text).strip(" .:;,-–—")
    name = _CONTAINER.sub("", name)
    name = _ARTICLE.sub("", name)
    return name.lower() if name.isupper() or name[1:].islower() else name


def replaced_steps(title: str) -> tuple[str, ...]:
    """Labels of the steps that a heading names: "Correction to steps 4 and 6" → ("4", "6"); ranges are filled in."""
    found: list[str] = []
    for match in _STEP_NAMES.finditer(title):
        tokens = re.findall(r"[A-Za-z]?\d+(?:\.\d+)*[a-z]?|to\b|–|-", match.group(1))
        for i, token in enumerate(tokens):
            if token in ("to", "–", "-"):
                if 0 < i < len(tokens) - 1 and tokens[i - 1].isdigit() and tokens[i + 1].isdigit():
                    found += [str(n) for n in range(int(tokens[i - 1]) + 1, int(tokens[i + 1]))]
            else:
                found.append(token)
    return tuple(found)
