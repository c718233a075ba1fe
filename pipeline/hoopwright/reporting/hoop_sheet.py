"""What the printed sheet of a hoop says: rows to tick off, by the time at which they are due, and the manual's words."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from hoopwright.model.outline import Source
from hoopwright.model.schedule import Finding, Placement, Question, Schedule, When
from hoopwright.reporting.grouping import hoop_ids, same_dress
from hoopwright.reporting.places import HoopView, Place, Places
from hoopwright.reporting.text import clipped, plural, shown
from hoopwright.reporting.thread_order import threads_of

NAME_LIMIT = 90
QUOTE_LIMIT = 320
MESSAGE_LIMIT = 700
KIT_WIDE = ("short", "unlisted", "unused")  # warnings about the bag: they belong on the front page, not on every hoop's sheet

Row = dict[str, Any]


class StepNames:
    """How a step is named on paper: ``step 5, page 4``; with the document where there are several."""

    def __init__(self, schedule: Schedule) -> None:
        self.schedule = schedule
        self._labels = {step.id: step.label for step in schedule.steps}

    def of(self, id: str) -> str:
        """``step 5``, or ``unnumbered step`` where the manual prints no label."""
        label = self._labels.get(id)
        return f"step {clipped(shown(label), 12)}" if label else "unnumbered step"

    def all_of(self, ids: Iterable[str]) -> str:
        """``step 5`` or ``steps 5, 7``; nothing where the manual prints no label."""
        wanted = set(ids)
        labels = dict.fromkeys(clipped(shown(label), 12) for id, label in self._labels.items() if label and id in wanted)
        return f"step{'s' if len(labels) > 1 else ''} {', '.join(labels)}" if labels else ""

    def page(self, source: Source) -> str:
        """``page 4``, with the document's name where the manual comes in several files."""
        if len(self.schedule.documents) < 2:
            return f"page {source.page}"
        name = next((document.name for document in self.schedule.documents if document.id == source.document), source.document)
        return f"{clipped(shown(name), 28)}, page {source.page}"

    def reference(self, *items: Placement) -> str:
        """Steps and pages of placements in few words."""
        pages = dict.fromkeys(str(item.source.page) for item in items)
        return ", ".join(part for part in (self.all_of(item.step for item in items), f"p. {', '.join(pages)}") if part)


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
    """What goes in at joining or later: one row for each fitting and step, with all its places.

    What only holds other fittings (the bolts of the clamps) has one row for all of them, which names them by their marks.
    """
    keys = view.key_of()
    groups: dict[tuple[str, str, int], list[Placement]] = {}
    found: dict[str, tuple[Place, str]] = {}  # the place, and the mark of the fitting that it goes with there
    for place in view.places:
        for item in place.placements:
            if item.when == time:
                held = _held(item, place, places)
                groups.setdefault((item.fitting, "" if held else item.step, item.quantity), []).append(item)
                found[item.id] = place, held
    rows = []
    for (_, _, quantity), items in groups.items():
        row = _row(items[0], keys, places, steps)
        row["ids"] = [item.id for item in items]
        row["keys"] = list(dict.fromkeys(keys[item.id] for item in items))
        row["number"] = quantity * len(items)
        row["reference"] = steps.reference(*items)
        held = ", ".join(dict.fromkeys(mark for item in items if (mark := found[item.id][1])))
        where = f"with {held}" if held else _spots(items, {item.id: found[item.id][0] for item in items}, places)
        row["where"] = clipped(where, NAME_LIMIT)
        if len(items) > 1 and quantity > 1:
            row["each"] = f"{quantity} at each"
        rows.append(row)
    return rows


def _held(item: Placement, place: Place, places: Places) -> str:
    """The mark of the fitting that this one only holds: the first of its place, if the manual gives this one no words of its own."""
    first = place.placements[0]
    same = first.fitting != item.fitting and places.where_at(item, place) in (places.where(first), places.spot(first))
    return places.marks[first.fitting] if same and (place.drawn_mm is not None or first.datum is not None) else ""


def _spots(items: list[Placement], at: dict[str, Place], places: Places) -> str:
    """Where all of these sit, as short as it can be said."""
    spots = [places.where_at(item, at[item.id]) for item in items]
    if len(items) == 1:
        return spots[0]
    bare = list(dict.fromkeys(spot.removeprefix(f"{item.side}, ") for item, spot in zip(items, spots, strict=True)))
    sides = [side for side in ("left", "centre", "right") if any(item.side == side for item in items)]
    where = "both sides" if sides == ["left", "right"] else _listed(sides)
    return ", ".join(word for word in (where, _one_of(bare)) if word) or "as numbered"


def _listed(words: Sequence[str]) -> str:
    return " and ".join(part for part in (", ".join(words[:-1]), words[-1]) if part) if words else ""


def _one_of(spots: Sequence[str]) -> str:
    """``350 mm and 1000 mm from the foot``: distances from one datum together; nothing where spots are told in different ways."""
    if len(spots) == 1:
        return spots[0]
    for word in (" from the ", " above the "):
        parts = [spot.partition(word) for spot in spots]
        if len({tail for _, _, tail in parts}) == 1 and all(found for _, found, _ in parts):
            return f"{_listed([head for head, _, _ in parts])}{word}{parts[0][2]}"
    return ""


def quotes(items: list[Placement], steps: StepNames) -> list[Row]:
    """The manual's words for the placements, each sentence once with all steps that rest on it, in the order of the steps."""
    order = {step.id: index for index, step in enumerate(steps.schedule.steps)}
    found: dict[tuple[str, str], list[Placement]] = {}
    for item in sorted(items, key=lambda item: order.get(item.step, len(order))):
        found.setdefault((steps.page(item.source), item.source.quote), []).append(item)
    return [
        {
            "from": ", ".join(part for part in (steps.all_of(item.step for item in group), page) if part),
            "quote": clipped(shown(quote), QUOTE_LIMIT),
        }
        for (page, quote), group in found.items()
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
        "message": clipped(shown(finding.message), MESSAGE_LIMIT),
        "advice": clipped(shown(finding.advice), MESSAGE_LIMIT),
        "quotes": [_quote(source, steps) for source in finding.sources] if with_quotes else [],
    }


def question_row(question: Question, steps: StepNames, with_quotes: bool = True) -> Row:
    """A question as printed."""
    return {
        "id": question.id,
        "kind": question.about,
        "hoops": list(question.hoops),
        "fitting": clipped(shown(question.fitting or ""), NAME_LIMIT),
        "message": clipped(_ended(shown(question.message)), MESSAGE_LIMIT),
        "readings": [clipped(shown(reading), 160) for reading in question.readings],
        "assumed": clipped(shown(question.assumed), 160) if question.assumed else "",
        "quotes": [_quote(question.source, steps)] if with_quotes and question.source else [],
    }


def _ended(sentence: str) -> str:
    """With a full stop where it has no sign at its end, since more follows on the line."""
    return sentence if not sentence or sentence.rstrip("\"'”’)")[-1:] in tuple(".?!…") else f"{sentence}."


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
