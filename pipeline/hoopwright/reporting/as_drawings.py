"""The drawings as SVG files of their own: the plan, every hoop, and the tapes of every tube."""

from __future__ import annotations

from collections.abc import Iterator

from hoopwright.model.schedule import Schedule
from hoopwright.reporting.canvas import Drawing, to_svg
from hoopwright.reporting.grouping import hoop_ids, same_dress
from hoopwright.reporting.hoop_drawing import draw_hoop
from hoopwright.reporting.lengths import Units
from hoopwright.reporting.places import Places
from hoopwright.reporting.plan_drawing import draw_plan
from hoopwright.reporting.tape_drawing import draw_tape
from hoopwright.reporting.tapes import tapes


def drawings(schedule: Schedule, units: Units = "metric") -> Iterator[tuple[str, Drawing]]:
    """(name, drawing): ``plan``, ``hoop-H1`` …, ``tape-1-H2`` (tube 1, the hoops that are dressed like H2)."""
    places = Places(schedule, units)
    yield "plan", draw_plan(schedule, units)
    alike = {hoop: group for group in same_dress(schedule) for hoop in group}
    for hoop in hoop_ids(schedule):
        view = places.view((hoop,))
        drawing = draw_hoop(view, places)
        words = f" Dressed like {', '.join(other for other in alike[hoop] if other != hoop)}." if len(alike[hoop]) > 1 else ""
        yield f"hoop-{hoop}", Drawing(drawing.width, drawing.height, drawing.title, drawing.description + words, drawing.items)
    for number, group in enumerate(tapes(places), 1):
        for tape in group:
            yield f"tape-{number}-{tape.hoops[0]}", draw_tape(tape, places)


def drawing_files(schedule: Schedule, units: Units = "metric") -> Iterator[tuple[str, str]]:
    """(file name, SVG text) for every drawing."""
    for name, drawing in drawings(schedule, units):
        yield f"{name}.svg", to_svg(drawing)
