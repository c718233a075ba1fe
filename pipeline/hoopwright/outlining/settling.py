"""Roles that show only once a section is complete: by its first words, by what its lists hold, by where it stands."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace

from hoopwright.model.outline import Section, Step
from hoopwright.outlining.parts import step_entries
from hoopwright.outlining.roles import needs_no_labels
from hoopwright.outlining.vocabulary import vocabulary


def settle(sections: Sequence[Section], steps: Sequence[Step]) -> list[Section]:
    """The sections of one document with the roles that their contents give them."""
    inside: dict[str, list[Step]] = defaultdict(list)
    for step in steps:
        inside[step.section].append(step)
    settled = [_settle(section, inside[section.id]) for section in sections]
    return _introductions(settled, inside)


def _settle(section: Section, steps: Sequence[Step]) -> Section:
    first = steps[0].items[0].passage.text if steps else ""
    for rule in vocabulary().first_words:
        if section.role in ("build", "other") and rule.matches(first):
            return replace(section, role=rule.role)
    if section.role == "parts" and any(step.label for step in steps) and not any(step_entries(step, section) for step in steps):
        return replace(section, role="build")  # "Small fittings" with steps in it
    if section.role == "summary" and any(step.label for step in steps) and needs_no_labels(section.title):
        return replace(section, role="build")
    return section


def _introductions(sections: Sequence[Section], inside: dict[str, list[Step]]) -> list[Section]:
    """The title's own paragraphs are an introduction where sections follow that build something."""
    result = list(sections)
    builds = [n for n, section in enumerate(sections) if section.role == "build" and inside[section.id]]
    if len(builds) > 1 and sections[builds[0]].level == 1 and builds[0] == 0 and not any(step.label for step in inside[sections[0].id]):
        result[0] = replace(sections[0], role="intro")
    return result
