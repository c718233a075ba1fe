"""The web page: one file, nothing fetched. Table, drawings and the manual's words point at one another; it works by keyboard."""

from __future__ import annotations

import base64
import hashlib
import unicodedata
from collections.abc import Mapping
from functools import lru_cache
from importlib.resources import files
from typing import TYPE_CHECKING, Any

from hoopwright.model.schedule import Placement, Schedule, When
from hoopwright.reporting.canvas import Drawing, number
from hoopwright.reporting.cautions import CAUTIONS, LIMITS
from hoopwright.reporting.grouping import hoop_range, same_counts
from hoopwright.reporting.hoop_drawing import draw_hoop
from hoopwright.reporting.hoop_sheet import Row, StepNames, finding_row, hoop_views, question_row
from hoopwright.reporting.lengths import Units
from hoopwright.reporting.marks import codes_of, fittings_of
from hoopwright.reporting.places import TIME_WORDS, TIMES, HoopView, Places
from hoopwright.reporting.plan_drawing import draw_plan
from hoopwright.reporting.stencils import Stencils
from hoopwright.reporting.tape_drawing import draw_tape
from hoopwright.reporting.tapes import Tape, hook_words, tapes
from hoopwright.reporting.terminal import bag_note, structure_line
from hoopwright.reporting.text import plural, shown
from hoopwright.reporting.thread_order import threads_of

if TYPE_CHECKING:
    from markupsafe import Markup

NARROW_WIDTH = 96.0  # mm: at 360 px the smallest words are about 11 px high


def page_html(schedule: Schedule, units: Units = "metric") -> str:
    """The page as HTML text. Text from the manual is escaped everywhere; the policy in its head forbids any request."""
    from jinja2 import Environment

    folder = files(__package__)
    style, script = ((folder / name).read_text(encoding="utf-8") for name in ("page.css", "page.js"))
    environment = Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True)
    environment.filters |= {"shown": shown, "told": _told, "early": _early}
    template = environment.from_string((folder / "page.j2").read_text(encoding="utf-8"))
    stencils = Stencils()
    data = page_data(schedule, units, stencils)
    style += stencils.styles()
    return template.render(data, stamps=stencils.stamps(), style=style, script=script, policy=policy(style, script)) + "\n"


def _told(text: str) -> Markup:
    """Text from a manual, kept to itself where some of it runs from right to left and would turn round what stands beside it."""
    from markupsafe import Markup, escape

    words = escape(shown(text))
    turned = not words.isascii() and any(unicodedata.bidirectional(character) in ("R", "AL", "AN") for character in words)
    return Markup("<bdi>{}</bdi>").format(words) if turned else words


def _early(time: When) -> str:
    """What the class of a sign has besides: nothing for what can wait, which is how a plain sign looks."""
    return "" if time == "any-time" else f" {time}"


def policy(style: str, script: str = "") -> str:
    """A content security policy that lets in this very style and script and nothing else."""
    scripts = f"script-src {_digest(script)}; " if script else ""
    return f"default-src 'none'; style-src {_digest(style)}; {scripts}base-uri 'none'; form-action 'none'"


@lru_cache(maxsize=8)
def _digest(text: str) -> str:
    return f"'sha256-{base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()}'"


def page_data(schedule: Schedule, units: Units, stencils: Stencils) -> dict[str, Any]:
    """All that the template shows; what the drawings share is left in ``stencils``."""
    places, steps = Places(schedule, units), StepNames(schedule)
    views = [view for view, _ in hoop_views(schedule, places, share=True)]
    return {
        "title": shown(schedule.title) or "Fitting schedule",
        "structure": structure_line(schedule, units),
        "documents": [document.name for document in schedule.documents],
        "options": schedule.options,
        "table": _table(schedule, places, views),
        "elsewhere": schedule.elsewhere,
        "plan": _svg(draw_plan(schedule, units, scale_words=False), stencils, "plan"),
        "hoops": [_hoop(view, places, steps, stencils) for view in views],
        "tapes": [_tape(group, places, index, stencils) for index, group in enumerate(tapes(places), 1)],
        "warnings": [finding_row(finding, steps) for finding in schedule.warnings],
        "questions": [question_row(question, steps) for question in schedule.questions],
        "bag": _bag(schedule),
        "words": _words(schedule, steps, views),
        "order": _order(schedule, steps),
        "limits": LIMITS,
        "cautions": CAUTIONS,
        "own": [f"{steps.page(source)}: “{source.quote}”" for source in schedule.cautions],
        "times": TIME_WORDS,
    }


def _table(schedule: Schedule, places: Places, views: list[HoopView]) -> Row:
    names = [name for name in fittings_of(schedule) if any(name in row for row in schedule.counts.values())]
    codes = codes_of(schedule)
    where = {hoop: view.hoops[0] for view in views for hoop in view.hoops}
    rows = []
    for group in same_counts(schedule):
        counts, before = schedule.counts.get(group[0], {}), schedule.before_joining.get(group[0], {})
        cells = [{"all": counts.get(name, 0), "before": before.get(name, 0)} for name in names]
        anchors = list(dict.fromkeys(where[hoop] for hoop in group))
        rows.append({"name": hoop_range(group), "hoops": " ".join(group), "cells": cells, "anchors": anchors})
    heads = [{"name": name, "mark": places.marks[name], "code": codes.get(name)} for name in names]
    return {"heads": heads, "rows": rows}


def _svg(drawing: Drawing, stencils: Stencils, key: str, prefix: str = "", link: str = "") -> str:
    """The drawing inside the page. With ``link`` its places are links, so it is a group of things and not one picture."""
    title, text = shown(drawing.title), shown(drawing.description)
    from markupsafe import escape

    names = f'role="img" aria-labelledby="{key}-t {key}-d"' if not link else f'role="group" aria-labelledby="{key}-t"'
    described = f'<title id="{key}-t">{escape(title)}</title>' + (f'<desc id="{key}-d">{escape(text)}</desc>' if not link else "")
    box = f"-1 -1 {number(drawing.width + 2)} {number(drawing.height + 2)}"
    return f'<svg viewBox="{box}" {names}>{described}{stencils.marked(drawing.items, prefix, link)}</svg>'


def _hoop(view: HoopView, places: Places, steps: StepNames, stencils: Stencils) -> Row:
    first, schedule = view.hoops[0], places.schedule
    touched = set(view.hoops)
    items = [item for place in view.places for item in place.placements]
    keys = view.key_of()
    notes: dict[str, int] = {}
    for words in (words for item in items for words in item.assumed):
        notes.setdefault(words, len(notes) + 1)
    tubes = [tube.name for tube in schedule.tubes]
    narrow = _svg(draw_hoop(view, places, NARROW_WIDTH, scale_words=False), stencils, f"narrow-{first}", f"{first}-", "row-")
    return {
        "id": first,
        "name": view.name,
        "role": view.role,
        "pieces": plural(sum(item.quantity for item in items), "piece") + (" on each" if len(view.hoops) > 1 else ""),
        "wide": _svg(draw_hoop(view, places, scale_words=False), stencils, f"wide-{first}", f"{first}-", "row-"),
        # The same places are marked on both drawings; an id may stand on a page only once.
        "narrow": narrow.replace('id="mark-', 'id="small-mark-'),
        "threads": [(end, [(keys[item.id], item) for item in chosen]) for end, chosen in threads_of(items, tubes)],
        "places": [
            {
                "key": place.key,
                "id": f"{first}-{place.key}",
                "rows": [_placement(item, places.where_at(item, place), places, steps, notes) for item in place.placements],
            }
            for place in view.places
        ],
        "notes": list(notes),
        "warnings": [finding.id for finding in schedule.warnings if touched & set(finding.hoops)],
        "questions": [question.id for question in schedule.questions if touched & set(question.hoops)],
    }


def _placement(item: Placement, where: str, places: Places, steps: StepNames, notes: Mapping[str, int]) -> Row:
    """A row of the hoop's table; what was filled in for it is told once under the table, in ``notes`` by its number there."""
    return {
        "mark": places.marks[item.fitting],
        "fitting": item.fitting,
        "number": item.quantity,
        "where": where,
        "time": item.when,
        "time_words": TIME_WORDS[item.when],
        "step": item.step,
        "reference": steps.reference(item),
        "quote": item.source.quote,
        "option": item.option,
        "assumed": [notes[words] for words in item.assumed],
    }


def _tape(group: list[Tape], places: Places, index: int, stencils: Stencils) -> Row:
    return {
        "name": group[0].tube,
        "hook": hook_words(group[0]),
        "strips": [
            {"name": hoop_range(tape.hoops), "svg": _svg(draw_tape(tape, places), stencils, f"tape-{index}-{part}")}
            for part, tape in enumerate(group, 1)
        ],
    }


def _bag(schedule: Schedule) -> list[Row]:
    codes = codes_of(schedule)
    return [
        {
            "name": part.fitting,
            "code": part.code or codes.get(part.fitting) or "",
            "listed": "–" if part.listed is None else part.listed,
            "needed": part.needed,
            "left": "–" if part.difference is None else part.difference,
            "note": bag_note(part),
            "off": part.difference is None or part.difference < 0 or part.needed == 0,
        }
        for part in schedule.parts
    ]


def _words(schedule: Schedule, steps: StepNames, views: list[HoopView]) -> list[Row]:
    """Every step that puts something on a hoop, with the places that it leads to."""
    found: dict[str, list[tuple[str, str]]] = {}
    for view in views:
        for place in view.places:
            for id in dict.fromkeys(item.step for item in sorted(place.placements, key=lambda item: TIMES.index(item.when))):
                found.setdefault(id, []).append((view.name, f"{view.hoops[0]}-{place.key}"))
    return [
        {
            "id": step.id,
            "step": steps.of(step.id),
            "page": step.page,
            "document": next((document.name for document in schedule.documents if document.id == step.document), ""),
            "text": step.text,
            "links": _by_hoop(found[step.id]),
        }
        for step in schedule.steps
        if step.id in found
    ]


def _by_hoop(links: list[tuple[str, str]]) -> dict[str, list[tuple[str, str]]]:
    hoops: dict[str, list[tuple[str, str]]] = {}
    for name, target in links:
        hoops.setdefault(name, []).append((target, target.rpartition("-")[2]))
    return hoops


def _order(schedule: Schedule, steps: StepNames) -> list[Row]:
    known = {step.id: step for step in schedule.steps}
    rows = []
    for id in schedule.work_order or tuple(known):
        if (step := known.get(id)) is not None:
            moves = [move for move in schedule.moves if move.step == id]
            rows.append(
                {
                    "step": steps.of(id),
                    "page": step.page,
                    "section": step.section,
                    "text": step.text,
                    "moved": [(steps.of(move.before) if move.before else None, hoop_range(move.hoops), move.reason) for move in moves],
                }
            )
    return rows
