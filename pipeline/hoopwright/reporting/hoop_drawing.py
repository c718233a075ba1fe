"""A hoop drawn to scale, seen from the front, with every fitting marked at its place, and a tray for what has none."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from hoopwright.model.schedule import HoopCurve
from hoopwright.reporting.canvas import Anchor, Disc, Drawing, Item, Mark, Shape, Stroke, Words, moved, thinned
from hoopwright.reporting.glyphs import fitted, mono_width, printable
from hoopwright.reporting.labels import SIGN, Label, bare_label, label_for, legend
from hoopwright.reporting.lengths import length
from hoopwright.reporting.places import HoopView, Place, Places
from hoopwright.reporting.spread import spread
from hoopwright.reporting.trays import draw_trays

GUTTER = 9.0  # between the labels and the widest point of the hoop
COLUMN_LIMIT = 46.0
CROWN_SHARE = 0.07  # places this near to the middle (of the width) are labelled above the crown
TALLEST = 64.0
LOWEST_LABELS = 160.0  # mm that a column of labels may take before the marks are left to the list
SIDE_WORDS = 4.4
NARROW = 130.0  # mm: a drawing for a telephone


Placed = tuple[tuple[Place, float], ...]  # places with their distance along the line that is drawn


@dataclass(frozen=True, slots=True)
class _Spot:
    """A point of the hoop on paper, and the direction away from the inside of the tunnel."""

    x: float
    y: float
    out_x: float
    out_y: float


class _Arch:
    """The hoop's centre line on paper. ``left``, ``ground`` place the left foot; ``scale`` is paper mm for each mm."""

    def __init__(self, curve: HoopCurve, centre: float, ground: float, scale: float) -> None:
        self.curve, self.centre, self.ground, self.scale = curve, centre, ground, scale
        self._along = [along for _, _, along in curve.points]

    def spot(self, along: float) -> _Spot:
        points = self.curve.points
        index = min(max(bisect_right(self._along, along), 1), len(points) - 1)
        (x0, y0, a0), (x1, y1, a1) = points[index - 1], points[index]
        part = min(max((along - a0) / (a1 - a0), 0.0), 1.0) if a1 > a0 else 0.0
        size = math.hypot(x1 - x0, y1 - y0) or 1.0
        x, y = x0 + (x1 - x0) * part, y0 + (y1 - y0) * part
        # Walking from the left foot to the right one, the outside is on the left hand.
        out_x, out_y = -(y1 - y0) / size, -(x1 - x0) / size
        return _Spot(self.centre + x * self.scale, self.ground - y * self.scale, out_x, out_y)

    @cached_property
    def line(self) -> tuple[tuple[float, float], ...]:
        return thinned([(self.centre + x * self.scale, self.ground - y * self.scale) for x, y, _ in self.curve.points])


@dataclass(frozen=True, slots=True)
class _Plan:
    """Which labels go left, right and above the crown, in order along the hoop."""

    left: tuple[Label, ...]
    crown: tuple[Label, ...]
    right: tuple[Label, ...]

    @property
    def column(self) -> float:
        return max((label.width for label in (*self.left, *self.right)), default=SIGN)

    @property
    def tallest(self) -> float:
        return max(sum(label.height for label in self.left), sum(label.height for label in self.right))


def hoop_drawings(view: HoopView, places: Places, width: float = 180.0, scale_words: bool = True) -> list[Drawing]:
    """The hoop on a drawing ``width`` mm wide, and under it a drawing for each row of trays.

    Below ``NARROW`` only the numbers stand at the hoop, without marks and legend. ``scale_words``: say the scale, true at printed size.
    """
    curve = places.line.curve
    placed = tuple((place, place.drawn_mm) for place in view.places if place.drawn_mm is not None)
    plan = _plan(placed, places, curve, width)
    span = max(x for x, _, _ in curve.points) - min(x for x, _, _ in curve.points)
    height = max(y for _, y, _ in curve.points)
    room = width - 2 * (plan.column + GUTTER)
    scale = min(room / span, TALLEST / height if height else math.inf)
    crown_row = 6.0 + max((label.height for label in plan.crown), default=0.0)
    top = crown_row + (7.0 if plan.crown else 3.0)
    ground = max(top + height * scale, crown_row + plan.tallest - 5.0, top + 12.0)
    arch = _Arch(curve, width / 2, ground, scale)
    low = ground + 6.0
    items: list[Item] = [*_frame_shapes(arch, places, width, height * scale)]
    items += _column_marks(plan.left, arch, plan.column, crown_row, low, "end", places)
    items += _column_marks(plan.right, arch, width - plan.column, crown_row, low, "start", places)
    items += _crown_marks(plan.crown, arch, width, places)
    foot, bottom = _foot_words(arch, places, width, ground + 7.0, bool(view.unknown()), scale_words)
    items += foot
    arch_drawing = Drawing(width, bottom, _title(view), _description([place for place, _ in placed], places), tuple(items))
    return [arch_drawing, *draw_trays(view.unknown(), places, width)]


def draw_hoop(view: HoopView, places: Places, width: float = 180.0, scale_words: bool = True) -> Drawing:
    """As ``hoop_drawings``, all on one drawing."""
    parts = hoop_drawings(view, places, width, scale_words)
    items: list[Item] = []
    top = 0.0
    for part in parts:
        items += [moved(item, top) for item in part.items]
        top += part.height
    return Drawing(width, top, parts[0].title, _description(view.places, places), tuple(items))


def _title(view: HoopView) -> str:
    return f"Hoop {view.name} from the front" if len(view.hoops) == 1 else f"Hoops {view.name} from the front (alike)"


def _description(shown_places: Sequence[Place], places: Places) -> str:
    intro = "Seen from the front end, left is left. Places are numbered from the left foot to the right foot."
    return (
        " ".join([intro, *(places.words(place) + "." for place in shown_places)]) if shown_places else f"{intro} No fitting is drawn here."
    )


def _plan(placed: Placed, places: Places, curve: HoopCurve, width: float) -> _Plan:
    """Full labels where they fit; only the numbers where a hoop has too many places for them."""
    flat = max(y for _, y, _ in curve.points) <= 0
    # With more than some fifty places even the signs have to shrink.
    small = min(SIGN, 2 * LOWEST_LABELS / max(len(placed) + 2, 1) - 0.4)
    for size in (0.0, SIGN, small) if width >= NARROW else (SIGN, small):
        groups: tuple[list[Label], list[Label], list[Label]] = ([], [], [])
        for place, along in placed:
            label = bare_label(place, along, size) if size else label_for(place, places.pieces(place), COLUMN_LIMIT, along)
            groups[_group(along, curve, flat)].append(label)
        left, crown, right = groups
        too_wide = sum(label.width + 3 for label in crown) > width - 20
        if too_wide and flat and size == 0.0:
            continue  # over a straight hoop the signs alone, in one row, are easier to follow than marks at both sides
        if too_wide:
            half = len(crown) // 2
            left, crown, right = [*left, *crown[:half]], [], [*crown[half:], *right]
        plan = _Plan(tuple(left), tuple(crown), tuple(right))
        if plan.tallest <= LOWEST_LABELS and plan.column <= (width - 60) / 2:
            break
    return plan


def _group(along: float, curve: HoopCurve, flat: bool) -> int:
    spot = _Arch(curve, 0.0, 0.0, 1.0).spot(along)
    span = max(x for x, _, _ in curve.points) - min(x for x, _, _ in curve.points)
    if flat or (abs(spot.x) <= CROWN_SHARE * span and -spot.y > 0.5 * max(y for _, y, _ in curve.points)):
        return 1
    return 0 if spot.x < 0 else 2


def _frame_shapes(arch: _Arch, places: Places, width: float, height: float) -> list[Shape]:
    """Ground, tube, joints, the tubes' names, and the words inside and outside."""
    line = arch.line
    dashed = not arch.curve.stated
    left, right = line[0][0], line[-1][0]
    ground = arch.ground
    shapes: list[Shape] = []
    if height > 0:
        shapes.append(Stroke(((left - 6, ground), (right + 6, ground)), 0.5, "mid"))
        hatch = [((x, ground), (x - 1.6, ground + 1.6), (x, ground)) for x in _steps(left - 4, right + 6, 4.0)]
        shapes.append(Stroke(tuple(point for tooth in hatch for point in tooth), 0.25, "mid"))  # one comb: a line less for each tooth
        shapes.append(Words(width / 2, 4.0, "outside", 3.2, "middle", tone="mid"))
        shapes.append(Words(width / 2, ground - height + 7.5, "inside", 3.2, "middle", tone="mid"))
        shapes += _height_line(arch, places, width / 2, height)
    # An arch that only stands for the hoop is a pale band about a broken line.
    shapes.append(Stroke(line, 2.3, "light" if dashed else "ink"))
    shapes.append(Stroke(line, 0.35, "mid", True) if dashed else Stroke(line, 1.5, "pale"))
    for along in arch.curve.joints_mm:
        spot = arch.spot(along)
        shapes.append(
            Stroke(((spot.x - spot.out_x * 2.4, spot.y - spot.out_y * 2.4), (spot.x + spot.out_x * 2.4, spot.y + spot.out_y * 2.4)), 0.8)
        )
    return shapes + _tube_names(arch, places, height)


def _steps(start: float, stop: float, step: float) -> list[float]:
    return [start + index * step for index in range(max(int((stop - start) / step) + 1, 0))]


def _height_line(arch: _Arch, places: Places, centre: float, height: float) -> list[Shape]:
    tall = places.schedule.structure.height_mm
    if tall is None or height < 30:
        return []
    top, low = arch.ground - height + 20.0, arch.ground - 8.0
    words = Words(centre, arch.ground - 3.0, f"{length(tall, places.units)} high", 3.2, "middle", tone="mid")
    return [Stroke(((centre, top), (centre, low)), 0.25, "mid", True), words] if low - top > 6.0 else [words]


def _tube_names(arch: _Arch, places: Places, height: float) -> list[Shape]:
    """Each tube's name on the inside of its middle; none where a tube's ends are not known."""
    rows: list[tuple[float, _Spot, str]] = []
    for tube in places.schedule.tubes:
        if (middle := places.line.middle(tube)) is not None:
            spot = arch.spot(middle)
            rows.append((spot.y - spot.out_y * 5 + 1.1, spot, printable(tube.name)))
    crown = [(spot, fitted(name, 3.0, 46.0)) for _, spot, name in rows if _side(spot, arch) == 0 and height > 0]
    shapes: list[Shape] = [Words(spot.x, spot.y + 17.0, name, 3.0, "middle", tone="mid") for spot, name in crown]
    inner = [(spot.y + 17.0, mono_width(name, 3.0) / 2) for spot, name in crown] + [(arch.ground - height + 7.5, 7.0)]
    for side in (-1, 1):
        chosen = sorted((row for row in rows if _side(row[1], arch) == side), key=lambda row: row[0])
        heights = spread([row[0] for row in chosen], [4.6] * len(chosen), arch.ground - max(height, 1) + 6, arch.ground - 3) or []
        for y, (_, spot, name) in zip(heights, chosen, strict=False):
            anchor: Anchor = "start" if side < 0 else "end"
            x = spot.x - spot.out_x * 4
            taken = max((half for level, half in inner if abs(level - y) < 4.4), default=0.0)
            room = abs(arch.centre - x) - taken - 1.5
            words = fitted(name, 3.0, room)
            if words == name or len(words) > 9:  # a stump of a name says nothing
                shapes.append(Words(x, y, words, 3.0, anchor, tone="mid"))
    return shapes


def _side(spot: _Spot, arch: _Arch) -> int:
    if abs(spot.x - arch.centre) < 12:
        return 0
    return -1 if spot.x < arch.centre else 1


def _mark(label: Label, spot: _Spot, x: float, y: float, side: Anchor, edge: tuple[float, float], places: Places) -> Mark:
    shapes, box = label.drawn(x, y, side)
    leader = Stroke(((spot.x, spot.y), edge), 0.3, "ink")
    dot = Disc(spot.x, spot.y, 1.25, "ink" if label.place.time == "before-joining" else "paper", "ink", 0.5)
    ids = tuple(item.id for item in label.place.placements)
    return Mark(label.place.key, places.words(label.place), ids, (leader, dot, *shapes), box)


def _column_marks(labels: tuple[Label, ...], arch: _Arch, edge: float, top: float, low: float, side: Anchor, places: Places) -> list[Item]:
    spots = {label.place.key: arch.spot(label.along) for label in labels}
    ordered = sorted(labels, key=lambda label: spots[label.place.key].y)
    wanted = [spots[label.place.key].y for label in ordered]
    sizes = [label.height for label in ordered]
    heights = spread(wanted, sizes, top, max(low, top + sum(sizes))) or wanted
    outward = -0.5 if side == "end" else 0.5
    return [
        _mark(label, spots[label.place.key], edge + outward * label.sign, y, side, (edge, y), places)
        for label, y in zip(ordered, heights, strict=True)
    ]


def _crown_marks(labels: tuple[Label, ...], arch: _Arch, width: float, places: Places) -> list[Item]:
    """Labels above the crown, side by side; each is centred on its spot where there is room."""
    spots = [arch.spot(label.along) for label in labels]
    centres = spread([spot.x for spot in spots], [label.width + 3 for label in labels], 0.0, width) or []
    row = 6.0 + max((label.height for label in labels), default=0.0) / 2
    marks: list[Item] = []
    for label, spot, centre in zip(labels, spots, centres, strict=False):
        x = centre - label.width / 2 + label.sign / 2
        marks.append(_mark(label, spot, x, row, "start", (x, row + label.sign / 2), places))
    return marks


def _foot_words(arch: _Arch, places: Places, width: float, y: float, letters: bool, scale_words: bool) -> tuple[list[Item], float]:
    """LEFT and RIGHT under the feet, the width between them, how to look at it, and the legend."""
    line = arch.line
    left, right = line[0][0], line[-1][0]
    flat = max(point_y for _, point_y, _ in arch.curve.points) <= 0
    items: list[Item] = [
        Words(left, y, "LEFT", SIDE_WORDS, "middle", True),
        Words(right, y, "RIGHT", SIDE_WORDS, "middle", True),
    ]
    wide = places.schedule.structure.width_mm
    if wide is not None and not flat and right - left > 50:
        text = f"{length(wide, places.units)} wide"
        items.append(Words((left + right) / 2, y, text, 3.2, "middle", tone="mid"))
    items.append(Words(width / 2, y + 7.5, _how(arch, width, flat, scale_words), 3.2, "middle"))
    if width < NARROW:
        return items, y + 10.0
    items += legend(y + 15.0, width, letters)
    return items, y + 19.0


def _how(arch: _Arch, width: float, flat: bool, scale_words: bool) -> str:
    """How to look at the drawing, in one line that fits it."""
    if width < NARROW:
        to_scale = "" if arch.curve.stated else ", not to scale"
        return "Drawn straight: shape not in the manual" if flat else f"Seen from the front end{to_scale}"
    if flat:
        return "Shape not in the manual: the hoop is drawn straight, seen from the front end"
    if not arch.curve.stated:
        return "Seen from the front end. Not to scale: the manual gives no shape, this arch stands for it"
    return "Seen from the front end, looking along the tunnel" + (f", 1 : {round(1 / arch.scale)}" if scale_words else "")
