"""What the printed sheet of a hoop says: rows to tick off, by the time at which they are due, and the manual's words."""

from __future__ import annotations

from typing import Any

from hoopwright.model.outline import Source
from hoopwright.model.schedule import Finding, Placement, Question, Schedule, When
from hoopwright.reporting.grouping import hoop_ids, same_dress
from hoopwright.reporting.places import HoopView, Places
from hoopwright.reporting.text import clipped, plural, shown
from hoopwright.reporting.thread_order import threads_of

NAME_LIMIT = 90
QUOTE_LIMIT = 320
KIT_WIDE = ("short", "unlisted", "unused")  # warnings about the bag: they belong on the front page, not on every hoop's sheet

Row = dict[str, Any]


class StepNames:
    """How a step is named on paper: ``step 5, page 4``; with the document where there are several."""

    def __init__(self, schedule: Schedule) -> None:
        self.schedule = schedule
        self._labels = {step.id: step.label for step in reversed(schedule.steps)}

    def of(self, id: str) -> str:
        """``step 5``, or ``unnumbered step`` where the manual prints no label."""
        label = self._labels.get(id)
        return f"step {clipped(shown(label), 12)}" if label else "unnumbered step"

    def page(self, source: Source) -> str:
        """``page 4``, with the document's name where the manual comes in several files."""
        if len(self.schedule.documents) < 2:
            return f"page {source.page}"
        name = next((document.name for document in self.schedule.documents if document.id == source.document), source.document)
        return f"{clipped(shown(name), 28)}, page {source.page}"

    def reference(self, item: Placement) -> str:
        """Step and page of a placement in few words."""
        return f"{self.of(item.step)}, p. {item.source.page}"


def hoop_views(schedule: Schedule, places: Places, share: bool) -> list[tuple[HoopView, tuple[str, ...]]]:
    """The views to print, each with all hoops that are dressed alike: one view a hoop, or with ``share`` one a group of alike hoops."""
    groups = same_dress(schedule)
    if share:
        return [(places.view(group), group) for group in groups]
    alike = {hoop: group for group in groups for hoop in group}
    return [(places.view((hoop,)), alike[hoop]) for hoop in hoop_ids(schedule)]


def thread_rows(view: HoopView, places: Places, steps: StepNames) -> list[Row]:
    """What threads on: for each open end its rows, first on first."""
    keys = view.key_of()
    items = [item for place in view.places for item in place.placements]
    tubes = [tube.name for tube in places.schedule.tubes]
    return [{"end": shown(end), "rows": [_row(item, keys, places, steps) for item in chosen]} for end, chosen in threads_of(items, tubes)]


def _row(item: Placement, keys: dict[str, str], places: Places, steps: StepNames) -> Row:
    return {
        "ids": [item.id],
        "keys": [keys[item.id]],
        "mark": places.marks[item.fitting],
        "name": clipped(shown(item.fitting), NAME_LIMIT),
        "number": item.quantity,
        "each": "",
        "where": clipped(places.where(item), NAME_LIMIT),
        "reference": steps.reference(item),
        "time": item.when,
        "extra": clipped(shown(item.option), 40) if item.option else "",
    }


def later_rows(view: HoopView, places: Places, steps: StepNames, time: When) -> list[Row]:
    """What goes in at joining or later: one row for each fitting and step, with all its places."""
    keys = view.key_of()
    groups: dict[tuple[str, str, int], list[Placement]] = {}
    spot_of: dict[str, str] = {}
    for place in view.places:
        for item in place.placements:
            if item.when == time:
                groups.setdefault((item.fitting, item.step, item.quantity), []).append(item)
                spot_of[item.id] = places.where_at(item, place)
    rows = []
    for (_, _, quantity), items in groups.items():
        row = _row(items[0], keys, places, steps)
        row["ids"] = [item.id for item in items]
        row["keys"] = list(dict.fromkeys(keys[item.id] for item in items))
        row["number"] = quantity * len(items)
        row["where"] = clipped(spot_of[items[0].id], NAME_LIMIT)
        if len(items) > 1:
            row["each"] = f"{quantity} at each"
            spots = list(dict.fromkeys(spot_of[item.id].removeprefix(f"{item.side}, ") for item in items))
            sides = [side for side in ("left", "centre", "right") if any(item.side == side for item in items)]
            common = spots[0] if len(spots) == 1 else ""
            row["where"] = clipped(", ".join(word for word in (" and ".join(sides), common) if word) or "as numbered", NAME_LIMIT)
        rows.append(row)
    return rows


def quotes(items: list[Placement], steps: StepNames) -> list[Row]:
    """The manual's words for the placements, each sentence once, in the order of the steps."""
    order = {step.id: index for index, step in enumerate(steps.schedule.steps)}
    found: dict[tuple[str, str], Placement] = {}
    for item in sorted(items, key=lambda item: order.get(item.step, len(order))):
        found.setdefault((item.step, item.source.quote), item)
    return [
        {"step": steps.of(item.step), "page": steps.page(item.source), "quote": clipped(shown(item.source.quote), QUOTE_LIMIT)}
        for item in found.values()
    ]


def assumptions(items: list[Placement]) -> list[str]:
    """What was filled in for these placements, each said once."""
    found: dict[str, dict[str, None]] = {}
    for item in items:
        for text in item.assumed:
            found.setdefault(text, {})[item.fitting] = None
    return [f"{clipped(shown(text), 160)}: {', '.join(clipped(shown(name), 40) for name in names)}" for text, names in found.items()]


def finding_row(finding: Finding, steps: StepNames, with_quotes: bool = True) -> Row:
    """A warning as printed."""
    return {
        "id": finding.id,
        "kind": finding.code,
        "hoops": list(finding.hoops),
        "fitting": clipped(shown(finding.fitting or ""), NAME_LIMIT),
        "message": clipped(shown(finding.message), 400),
        "advice": clipped(shown(finding.advice), 300),
        "quotes": [_quote(source, steps) for source in finding.sources] if with_quotes else [],
    }


def question_row(question: Question, steps: StepNames, with_quotes: bool = True) -> Row:
    """A question as printed."""
    return {
        "id": question.id,
        "kind": question.about,
        "hoops": list(question.hoops),
        "fitting": clipped(shown(question.fitting or ""), NAME_LIMIT),
        "message": clipped(shown(question.message), 400),
        "readings": [clipped(shown(reading), 160) for reading in question.readings],
        "assumed": clipped(shown(question.assumed), 160) if question.assumed else "",
        "quotes": [_quote(question.source, steps)] if with_quotes and question.source else [],
    }


def _quote(source: Source, steps: StepNames) -> str:
    return f"{steps.page(source)}: “{clipped(shown(source.quote), QUOTE_LIMIT)}”"


def hoop_sheet(view: HoopView, alike: tuple[str, ...], places: Places, steps: StepNames) -> Row:
    """Everything on the sheet of a hoop but its drawing."""
    schedule = places.schedule
    items = [item for place in view.places for item in place.placements]
    touched = set(view.hoops)
    met = [finding for finding in schedule.warnings if touched & set(finding.hoops)]
    pieces = sum(item.quantity for item in items)
    return {
        "name": view.name,
        "hoops": list(view.hoops),
        "role": view.role,
        "alike": [hoop for hoop in alike if hoop not in touched],
        "pieces": f"{plural(pieces, 'piece')} on {'each' if len(view.hoops) > 1 else 'this hoop'}",
        "threads": thread_rows(view, places, steps),
        "joining": later_rows(view, places, steps, "at-joining"),
        "later": later_rows(view, places, steps, "any-time"),
        "quotes": quotes(items, steps),
        "assumed": assumptions(items),
        "warnings": [finding_row(finding, steps, False) for finding in met if finding.code not in KIT_WIDE],
        "front": ", ".join(finding.id for finding in met if finding.code in KIT_WIDE),
        "questions": [question_row(question, steps, False) for question in schedule.questions if touched & set(question.hoops)],
    }
