"""The frame from above and from the side: where every hoop stands, counted from the front."""

from __future__ import annotations

from itertools import pairwise

from hoopwright.model.schedule import Schedule
from hoopwright.reporting.canvas import Drawing, Item, Shape, Stroke, Words
from hoopwright.reporting.glyphs import mono_width
from hoopwright.reporting.lengths import Units, length

_SIDE_ROOM = 24.0
_HOOP_SIZE = 3.4
_TALLEST = 38.0


def draw_plan(schedule: Schedule, units: Units = "metric", width: float = 180.0, scale_words: bool = True) -> Drawing:
    """Plan over side view on a drawing ``width`` mm wide, front end to the left; hoops evenly spaced where the manual gives no spacing.

    ``scale_words``: say the scale, which is true at printed size.
    """
    frame = schedule.structure
    stations, known = _stations(schedule)
    span = max(stations[-1], 1.0) if stations else 1.0
    room = width - 2 * _SIDE_ROOM
    wide = frame.width_mm
    scale = room / span
    if wide:
        scale = min(scale, _TALLEST / wide)
    xs = [width / 2 + (station - span / 2) * scale for station in stations]
    top = 9.0
    deep = wide * scale if wide and known else 26.0
    items: list[Item] = [*_plan(schedule, xs, top, deep, units)]
    side_top = top + deep + 12.0
    high = _height(schedule, scale, known)
    items += _elevation(schedule, xs, side_top, high, width, units)
    words = "Seen from above and from the left side. " + _scale_words(known and wide is not None, scale, scale_words)
    items.append(Words(width / 2, side_top + high + 14.5, words, 3.2, "middle"))
    text = f"{len(stations)} hoops in a row, H1 at the front end, seen from above and from the side."
    return Drawing(width, side_top + high + 16.5, "The frame in plan and elevation", text, tuple(items))


def _stations(schedule: Schedule) -> tuple[list[float], bool]:
    """Distances from H1, and whether the manual gives them all."""
    given = [hoop.station_mm for hoop in schedule.structure.hoops]
    known = [station for station in given if station is not None]
    if len(known) == len(given) and known == sorted(known) and len(known) > 1 and known[-1] > known[0]:
        return [station - known[0] for station in known], True
    return [1500.0 * index for index in range(len(given))], False


def _scale_words(known: bool, scale: float, wanted: bool) -> str:
    return (f"1 : {round(1 / scale)}" if wanted else "") if known else "Not to scale: the manual gives too few sizes"


def _height(schedule: Schedule, scale: float, known: bool) -> float:
    tall = schedule.structure.height_mm
    return max(tall * scale, 8.0) if tall and known else 16.0


def _named(xs: list[float], y: float, names: list[str]) -> list[Shape]:
    """Hoop numbers over their hoops: all of them where they fit, else the first, the last and as many between as fit."""
    gap = min((b - a for a, b in pairwise(xs)), default=99.0)
    widest = max((mono_width(name, _HOOP_SIZE) for name in names), default=1.0) + 1.2
    step = 1
    while gap * step < widest and step < len(xs):
        step += 1
    last = len(xs) - 1
    chosen = [index for index in range(0, len(xs), step) if index == 0 or last - index >= step] + [last]
    return [Words(xs[index], y, names[index], _HOOP_SIZE, "middle", True) for index in dict.fromkeys(chosen)]


def _plan(schedule: Schedule, xs: list[float], top: float, deep: float, units: Units) -> list[Shape]:
    if not xs:
        return []
    frame = schedule.structure
    shapes: list[Shape] = [Stroke(((xs[0], y), (xs[-1], y)), 0.5, "mid") for y in (top, top + deep)]
    shapes.append(Stroke(((xs[0], top + deep / 2), (xs[-1], top + deep / 2)), 0.3, "mid", True))
    for x, hoop in zip(xs, frame.hoops, strict=True):
        shapes.append(Stroke(((x, top - 1.2), (x, top + deep + 1.2)), 1.1 if hoop.role == "end" else 0.6, "ink"))
    shapes += _named(xs, top - 3.4, [hoop.id for hoop in frame.hoops])
    left, right = xs[0] - 4.0, xs[-1] + 4.0
    shapes.append(Words(left, top + deep / 2 + 1.5, "FRONT", 4.2, "end", True))
    if frame.width_mm is not None:
        shapes += _dimension_upright(right, top, top + deep, length(frame.width_mm, units))
    # Someone at the front who looks along the tunnel has the plan's upper edge on the left hand.
    shapes.append(Words(left, top + 1.1, "left side", 3.0, "end", tone="mid"))
    shapes.append(Words(left, top + deep + 1.1, "right side", 3.0, "end", tone="mid"))
    return shapes


def _dimension_upright(x: float, top: float, bottom: float, text: str) -> list[Shape]:
    return [
        Stroke(((x, top), (x, bottom)), 0.25, "mid"),
        Stroke(((x - 1.2, top), (x + 1.2, top)), 0.25, "mid"),
        Stroke(((x - 1.2, bottom), (x + 1.2, bottom)), 0.25, "mid"),
        *_upright_words(x + 4.4, (top + bottom) / 2, bottom - top, text),
    ]


def _upright_words(x: float, middle: float, room: float, text: str) -> list[Shape]:
    """Turned where it fits beside its line, else level."""
    if mono_width(text, 3.0) <= room + 6:
        return [Words(x, middle, text, 3.0, "middle", turned=True)]
    lines = text.replace(" ft ", " ft|").split("|")
    return [Words(x - 2.4, middle + 1.0 + 4.0 * (index - (len(lines) - 1) / 2), line, 3.0) for index, line in enumerate(lines)]


def _elevation(schedule: Schedule, xs: list[float], top: float, high: float, width: float, units: Units) -> list[Shape]:
    if not xs:
        return []
    frame = schedule.structure
    ground = top + high
    shapes: list[Shape] = [
        Stroke(((xs[0] - 5, ground), (xs[-1] + 5, ground)), 0.5, "mid"),
        Stroke(((xs[0], top), (xs[-1], top)), 0.8, "ink"),
    ]
    for x, hoop in zip(xs, frame.hoops, strict=True):
        shapes.append(Stroke(((x, top), (x, ground)), 1.1 if hoop.role == "end" else 0.6, "ink"))
    shapes.append(Words(xs[0] - 4.0, top + high / 2 + 1.5, "FRONT", 4.2, "end", True))
    if frame.height_mm is not None:
        shapes += _dimension_upright(xs[-1] + 4.0, top, ground, length(frame.height_mm, units))
    words = []
    if frame.spacing_mm is not None:
        words.append(f"hoops {length(frame.spacing_mm, units)} apart")
    if frame.length_mm is not None:
        words.append(f"{length(frame.length_mm, units)} long")
    if words:
        shapes.append(Stroke(((xs[0], ground + 3.6), (xs[-1], ground + 3.6)), 0.25, "mid"))
        shapes += [Stroke(((x, ground + 2.4), (x, ground + 4.8)), 0.25, "mid") for x in (xs[0], xs[-1])]
        shapes.append(Words(width / 2, ground + 8.2, ", ".join(words), 3.2, "middle"))
    return shapes
