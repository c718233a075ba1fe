"""The parts lists of all documents, from tables, lines, bullets and running prose."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.model.outline import Item, PartsEntry, Section, Step
from hoopwright.outlining.parts_lines import line_entries
from hoopwright.outlining.parts_prose import prose_entries
from hoopwright.outlining.parts_tables import table_entries
from hoopwright.outlining.roles import extra_of, role_of


def parts_of(sections: Sequence[Section], steps: Sequence[Step]) -> tuple[PartsEntry, ...]:
    """The entries in the order of the documents."""
    by_id = {section.id: section for section in sections}
    return tuple(entry for step in steps for entry in step_entries(step, by_id[step.section]))


def step_entries(step: Step, section: Section) -> list[PartsEntry]:
    """The parts that one step or paragraph lists, empty for all that is no list of parts."""
    entries: list[PartsEntry] = []
    announced = False
    extra, level = step.option, 0  # the extra that a line above ("Box 6, side vents (only if ordered)") names, and its level
    for item in step.items:
        if item.level <= level:
            extra = step.option
        found = _item_entries(item, step, section, announced, extra)
        if not found and item.kind in ("text", "bullet") and (named := extra_of(item.passage.text)) is not None and named.name:
            extra, level = named.name, item.level
        entries += found
        lead_in = item.kind == "text" and item.passage.text.rstrip().endswith(":")
        announced = announced or (lead_in and role_of(item.passage.text) == "parts")
    return entries


def _item_entries(item: Item, step: Step, section: Section, announced: bool, extra: str | None) -> list[PartsEntry]:
    if item.table is not None:
        return table_entries(item.table, section.role, section.title, extra)
    if (section.role != "parts" and not announced) or item.kind not in ("text", "bullet"):
        return []
    label = item.label if item.kind == "bullet" else step.label
    several = prose_entries(item.passage, extra, bare=1 if item.kind == "bullet" else 3)
    return several if len(several) > 1 else line_entries(item.passage, extra, label) or several
