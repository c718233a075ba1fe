"""Roles that show only once a section is complete: by its first words, by what its lists hold, by where it stands."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise, takewhile

from hoopwright.model.outline import Section, Step
from hoopwright.outlining.labels import follows, labels
from hoopwright.outlining.listed import lists_apart, pieces
from hoopwright.outlining.listlines import COUNTED
from hoopwright.outlining.parts import step_entries
from hoopwright.outlining.roles import needs_no_labels, own_name, stems
from hoopwright.outlining.vocabulary import vocabulary

_COMPOUND = re.compile(r"(?P<letter>[A-Z])[.-]?(?P<n>\d{1,2})")
_FEWEST_PARTS = 5
_OF_TOOLS = re.compile(r"\btools?\b|\bneed(?:ed)?\b|\bto hand\b|\bsupplied\b", re.IGNORECASE)


def settle(sections: Sequence[Section], steps: Sequence[Step]) -> tuple[list[Section], list[Step]]:
    """The sections and steps of one document, with the roles that the sections' contents give them."""
    builds = {section.id for section in sections if section.role == "build"}
    steps = [piece for step in steps for piece in (pieces(step) if step.section in builds else [step])]
    steps = _work_after_list(sections, steps)
    inside: dict[str, list[Step]] = defaultdict(list)
    for step in steps:
        inside[step.section].append(step)
    titles = {_letters(section.title) for section in sections}
    settled = [part for section in sections for part in _parted(_settle(section, inside[section.id]), inside)]
    settled = [part for section in settled for part in lists_apart(section, inside)]
    settled = _lists_go_on(settled, inside)
    settled = _counted_through(_optional(settled, inside), inside)
    section_of = {step.id: id for id, its in inside.items() for step in its}
    option_of = {section.id: section.option for section in settled}
    moved = [replace(step, section=section_of[step.id], option=step.option or option_of[section_of[step.id]]) for step in steps]
    contents = {section.id for section in settled if section.role == "contents"}
    kept = [step for step in moved if not _is_contents(step, titles) and not (step.section in contents and _only_lists(step))]
    return _introductions(settled, inside), kept


def _lists_go_on(sections: Sequence[Section], inside: dict[str, list[Step]]) -> list[Section]:
    """ "Tubes and bars", "Bolts and screws": a table of numbers and names under a heading of its own beside a list of parts is one, too."""
    result = list(sections)
    for order in (range(1, len(result)), range(len(result) - 2, -1, -1)):
        step = -1 if order.step > 0 else 1
        for n in order:
            if result[n].role == "build" and result[n + step].role == "parts" and _only_counts(inside[result[n].id]):
                result[n] = replace(result[n], role="parts")
    return result


def _only_counts(steps: Sequence[Step]) -> bool:
    """Whether nothing here bears a label, and the first thing is a table without heads whose rows have one number and a name."""
    tables = [item.table for step in steps for item in step.items if item.table is not None]
    if not tables or any(step.label for step in steps) or steps[0].items[0].table is None:
        return False
    rows = [[cell.text.strip() for cell in row if cell.text.strip()] for table in tables for row in table.rows]
    counted = [row for row in rows if sum(cell.isdigit() for cell in row) == 1 and any(len(cell) > 3 for cell in row)]
    return not any(table.head for table in tables) and len(rows) > 1 and len(counted) == len(rows)


def one_name(sections: Sequence[Section], steps: Sequence[Step]) -> tuple[list[Section], list[Step]]:
    """Gives an extra that the documents write in two ways ("side vent", "the side vents") the name that it has first."""
    first: dict[frozenset[str], str] = {}
    for option in [*(section.option for section in sections), *(step.option for step in steps)]:
        if option:
            first.setdefault(frozenset(stems(option)), option)

    def name(option: str | None) -> str | None:
        return first[frozenset(stems(option))] if option else option

    return [replace(section, option=name(section.option)) for section in sections], [
        replace(step, option=name(step.option)) for step in steps
    ]


def _counted_through(sections: Sequence[Section], inside: dict[str, list[Step]]) -> list[Section]:
    """An introduction whose numbered steps go on in the next section that builds is part of the building."""
    result = list(sections)
    for n in range(len(sections) - 2, -1, -1):
        if sections[n].role not in ("intro", "other", "tools", "safety"):
            continue
        own = _paths(inside[sections[n].id])
        behind = range(n + 1, len(result))
        later = next((paths[0] for k in behind if (paths := _paths(inside[result[k].id]))), None)
        after = next((result[k] for k in behind if any(step.label for step in inside[result[k].id])), None)
        builds = after is not None and after.role == "build"
        if builds and own and later and _goes_on(own[-1], later):
            result[n] = replace(sections[n], role="build")
    for n, section in enumerate(result):
        # "Equipment" over steps that go on counting equips the hoops; the things of a list of tools are counted anew.
        if section.role != "tools":
            continue
        own = _paths(inside[section.id], compound=True)
        before = next((paths[-1] for k in range(n - 1, -1, -1) if (paths := _paths(inside[result[k].id], compound=True))), None)
        plain = all(len(path[1]) == 1 for path in own) or not _lists_things(section, inside[section.id])
        if len(own) > 1 and plain and before and _goes_on(before, own[0]):
            result[n] = replace(section, role="build")
    return result


_Path = tuple[bool, tuple[int, ...]]  # True for a letter, and the ordinals


def _lists_things(section: Section, steps: Sequence[Step]) -> bool:
    """True for a list of tools whose numbers contain the section's own ("E-1 Hammer", "5.2 Spanner"), and so go on everywhere."""
    texts = [step.items[0].passage.text for step in steps if step.label]
    sentences = sum(text.endswith(".") and len(text.split()) > 4 for text in texts)
    return _OF_TOOLS.search(section.title) is not None or 2 * sentences <= len(texts)


def _paths(steps: Sequence[Step], *, compound: bool = False) -> list[_Path]:
    """The ordinals of the steps' labels that are numbers or capital letters; with ``compound`` also those that are both ("E-1")."""
    found: list[_Path] = []
    for step in steps:
        if step.label and re.fullmatch(r"\d+(?:\.\d+)*", step.label):
            found.append((False, tuple(int(part) for part in step.label.split("."))))
        elif step.label and re.fullmatch(r"[A-Z]{1,2}", step.label):
            path = next((label.path for label in labels(f"{step.label}. ") if label.form == "upper letter"), None)
            found += [(True, path)] if path is not None else []  # "PS" is a code and no place in a row of letters
        elif step.label and compound and (match := _COMPOUND.fullmatch(step.label)):
            found.append((True, (ord(match.group("letter")) - ord("A") + 1, int(match.group("n")))))
    return found


def _goes_on(before: _Path, after: _Path) -> bool:
    """True if two labels are of one row. Letters that start again in every section never are: A follows no letter."""
    return before[0] == after[0] and follows(before[1], after[1])


def _letters(text: str) -> str:
    return re.sub(r"[\W\d_]", "", text).lower()


def _is_contents(step: Step, titles: set[str]) -> bool:
    """True for a list of the headings that stands without a heading of its own."""
    names = [_letters(item.passage.text) for item in step.items if item.kind in ("text", "bullet")]
    names += [_letters(" ".join(cell.text for cell in row)) for item in step.items if item.table for row in item.table.rows]
    return step.label is None and len(names) > 2 and sum(name in titles for name in names) >= 0.7 * len(names)


def _optional(sections: Sequence[Section], inside: dict[str, list[Step]]) -> list[Section]:
    """Sections that say themselves that they are for an extra ("Skip this section if you did not order …")."""
    result: list[Section] = []
    named: tuple[str, ...] | None = None
    for section in sections:
        steps = inside[section.id]
        first = ". ".join(steps[0].items[0].passage.text.split(". ")[:2]) if steps else ""
        below = named is not None and section.path[: len(named)] == named
        if section.option is None and section.role in ("build", "parts") and section.title and vocabulary().option_sentence.search(first):
            named, name = (*section.path, section.title), own_name(section.title)
            section = replace(section, option=name)
        elif below and section.option is None:
            section = replace(section, option=result[-1].option)
        result.append(section)
    return result


def _only_lists(step: Step) -> bool:
    """Whether a step under "Contents" holds nothing but lines of a list; a call-out set into it is kept."""
    return all(item.kind != "callout" for item in step.items)


def _settle(section: Section, steps: Sequence[Step]) -> Section:
    first = steps[0].items[0].passage.text if steps else ""
    labelled = any(step.label for step in steps)
    if section.role == "contents":
        return replace(section, role="parts") if _of_the_kit(section, steps) else section
    for rule in vocabulary().first_words:
        if section.role in ("build", "other") and rule.matches(first):
            return replace(section, role=rule.role)
    if section.role == "summary" and labelled and needs_no_labels(section.title):
        return replace(section, role="build")
    if section.role == "build" and section.level > 1 and not labelled and sum(len(step_entries(step, section)) for step in steps) >= 3:
        return replace(section, role="parts")
    if section.role == "build" and not labelled and _nothing_else(section, steps):
        return replace(section, role="parts")
    if section.role in ("build", "intro") and section.level > 1 and not labelled and _is_list(section, steps):
        return replace(section, role="parts")
    if section.role == "build" and labelled and _begins_with_list(steps):
        return replace(section, role="parts")  # the steps below are parted from it
    return section


def _of_the_kit(section: Section, steps: Sequence[Step]) -> bool:
    """Whether what stands under "Contents" is the kit's: things with counts that do not rise from line to line like page numbers."""
    entries = [entry for step in steps for entry in step_entries(step, replace(section, role="parts"))]
    numbers = [entry.quantity for entry in entries if entry.quantity is not None]
    falls = sum(b < a for a, b in pairwise(numbers))
    return len(numbers) >= _FEWEST_PARTS and falls > 1


def _nothing_else(section: Section, steps: Sequence[Step]) -> bool:
    """Whether every paragraph and point of a section lists pieces, and puts none of them anywhere: "14 legs, 7 crowns, 14 ground tubes"."""
    as_parts = replace(section, role="parts")
    items = [(step, item) for step in steps for item in step.items if item.passage.text or item.table]
    listed = [step_entries(replace(step, items=(item,)), as_parts) for step, item in items]
    puts = any(_PUT.search(item.passage.text) for _, item in items)
    return all(listed) and not puts and not any(item.table for _, item in items) and sum(map(len, listed)) >= _FEWEST_PARTS


def _begins_with_list(steps: Sequence[Step]) -> bool:
    """Whether nothing but counted pieces stand above the first labelled step: "2 pcs. Folding clamp" in what comes with an extra."""
    lead = [item for step in takewhile(lambda step: step.label is None, steps) for item in step.items]
    labelled = sum(step.label is not None for step in steps)
    return labelled > 1 and len(lead) > 2 and all(item.table is None and COUNTED.match(item.passage.text) for item in lead)


def _is_list(section: Section, steps: Sequence[Step]) -> bool:
    """Whether a section holds little but numbers and names of things that are put nowhere: "7 ridge clips", "ridge tee, 12"."""
    points = [(step, item) for step in steps for item in step.items if item.kind == "bullet"]
    told = [item for step in steps for item in step.items if item.kind == "text" and item.passage.text.count(" ") > 5]
    as_parts = replace(section, role="parts")
    listed = sum(bool(step_entries(replace(step, items=(item,)), as_parts)) and not _PUT.search(item.passage.text) for step, item in points)
    return listed >= 5 and listed >= 0.8 * len(points) and len(told) <= 0.4 * len(points)


_PUT = re.compile(r"\b(?:on|onto|at|per|each|every|round|around|over|through|into|hoops?|bows?|arch(?:es)?|ribs?) \w", re.IGNORECASE)


def _parted(section: Section, inside: dict[str, list[Step]]) -> list[Section]:
    """Parts the steps from a parts list that stands under the same heading: labelled ones that list nothing, to the section's end."""
    steps = inside[section.id]
    if section.role != "parts":
        return [section]
    lists = [n for n, step in enumerate(steps) if step_entries(step, section)]
    behind = range(lists[-1] + 1 if lists else 0, len(steps))
    start = next((n for n in behind if steps[n].label is not None or (lists and _announces_work(steps[n]))), None)
    if start is None:
        return [section]
    if not lists:
        return [replace(section, role="build")]  # "Small fittings" with steps in it
    if len(steps) - start < 2 and steps[start].label is not None:
        return [section]
    build = replace(
        section, id=f"{section.id}b", title="", role="build", path=(*section.path, section.title), source=None, page=steps[start].page
    )
    inside[section.id], inside[build.id] = steps[:start], steps[start:]
    return [section, build]


def _announces_work(step: Step) -> bool:
    """True for "What to do:" with sentences in bullets below it."""
    lead, *rest = step.items
    bullets = [item.passage.text.rstrip() for item in rest if item.kind == "bullet"]
    told = [text for text in bullets if text.endswith(".") and text.count(" ") > 4]
    return lead.kind == "text" and lead.passage.text.rstrip().endswith(":") and 2 * len(told) > len(rest) > 0


def _introductions(sections: Sequence[Section], inside: dict[str, list[Step]]) -> list[Section]:
    """The title's own paragraphs are an introduction where sections follow that build something."""
    result = list(sections)
    builds = [n for n, section in enumerate(sections) if section.role == "build" and inside[section.id]]
    if len(builds) > 1 and builds[0] == 0 and sections[0].level <= 1 and not any(step.label for step in inside[sections[0].id]):
        result[0] = replace(sections[0], role="intro")
    return result


def _work_after_list(sections: Sequence[Section], steps: Sequence[Step]) -> list[Step]:
    """Work lettered behind a leaflet's list ("In this bag: …", then "a. Snap one clip …") belongs to the section before the list."""
    roles = {section.id: section.role for section in sections}
    before = {b.id: a.id for a, b in pairwise(sections)}
    listed: set[str] = set()
    out = []
    for step in steps:
        home = before.get(step.section)
        work = step.label is not None and bool(_SENTENCE.search(step.text)) and step.section in listed
        if (
            roles.get(step.section) == "parts"
            and work
            and home is not None
            and roles[home] == "build"
            and step.label is not None
            and step.label.isalpha()
        ):
            out.append(replace(step, section=home))
            continue
        if step.label is None:
            listed.add(step.section)
        out.append(step)
    return out


_SENTENCE = re.compile(r"^[A-Z][a-z]+ (?:\w+[ ,]+){3,}.*\.$", re.DOTALL)
