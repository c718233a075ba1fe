"""Drawings: everything marked once, no label over another, nothing cut off, nothing at a made-up place."""

from __future__ import annotations

import math
import xml.etree.ElementTree as ET
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise

import pytest
from hoopwright.model.schedule import Schedule
from hoopwright.reporting.as_drawings import drawing_files, drawings
from hoopwright.reporting.canvas import Block, Disc, Drawing, Shape, Stroke, Words
from hoopwright.reporting.grouping import hoop_ids, placements_of, same_dress
from hoopwright.reporting.hoop_drawing import draw_hoop
from hoopwright.reporting.places import Places, letters
from hoopwright.reporting.spread import spread
from hoopwright.reporting.tapes import tapes
from hypothesis import given, settings
from hypothesis import strategies as st

from reporting import factory
from reporting.test_json import EMPTY

SHAPELESS = replace(factory.five(), shape=None, tubes=())


def crowded() -> Schedule:
    """One hoop with 90 places: more than labels have room for."""
    base = factory.five()
    shape = base.shape
    assert shape is not None
    model = base.placements[0]
    many = tuple(
        replace(
            model, id=f"P{n}", hoop="H1", along_mm=shape.length_mm * n / 90, side=None, datum=None, offset_mm=None, fitting=f"clip {n % 7}"
        )
        for n in range(90)
    )
    return replace(base, placements=many)


def without_along() -> Schedule:
    """The same kit as its manual would give it without a shape: words and offsets, but no distance along the hoop."""
    base = factory.five()
    return replace(base, shape=None, placements=tuple(replace(item, along_mm=None) for item in base.placements))


CASES = {
    "five": factory.five(),
    "thirty": factory.thirty(),
    "hostile": factory.hostile(),
    "shapeless": SHAPELESS,
    "without along": without_along(),
    "shape not stated": factory.five(stated=False),
    "crowded": crowded(),
    "empty": EMPTY,
}
ALL = pytest.mark.parametrize("schedule", CASES.values(), ids=CASES)


def _boxes(shapes: Iterator[Shape]) -> Iterator[tuple[Shape, tuple[float, float, float, float]]]:
    for shape in shapes:
        if isinstance(shape, Words):
            yield shape, shape.box()
        elif isinstance(shape, Stroke):
            xs, ys = [x for x, _ in shape.points], [y for _, y in shape.points]
            yield shape, (min(xs), min(ys), max(xs), max(ys))
        elif isinstance(shape, Disc):
            yield shape, (shape.x - shape.r, shape.y - shape.r, shape.x + shape.r, shape.y + shape.r)
        elif isinstance(shape, Block):
            yield shape, (shape.x, shape.y, shape.x + shape.w, shape.y + shape.h)


def _overlap(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> float:
    wide = min(a[2], b[2]) - max(a[0], b[0])
    high = min(a[3], b[3]) - max(a[1], b[1])
    return min(wide, high)


def check_layout(drawing: Drawing) -> None:
    """Nothing outside the sheet, no label over another label, no words over other words."""
    for shape, box in _boxes(drawing.shapes()):
        assert box[0] >= -0.5 and box[2] <= drawing.width + 0.5, (drawing.title, shape)
        assert box[1] >= -0.5 and box[3] <= drawing.height + 0.5, (drawing.title, shape)
    labels = [(mark.key, mark.box) for mark in drawing.marks()]
    for (key, one), (other_key, other) in combinations(labels, 2):
        assert _overlap(one, other) < 0.05, (drawing.title, key, other_key)
    words = [(shape.text, shape.box()) for shape in drawing.shapes() if isinstance(shape, Words)]
    for (text, one), (other_text, other) in combinations(words, 2):
        assert _overlap(one, other) < 0.35, (drawing.title, text, other_text)


@ALL
@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_nothing_overlaps_and_nothing_is_cut(schedule: Schedule, units: str) -> None:
    for _, drawing in drawings(schedule, units):  # type: ignore[arg-type]
        check_layout(drawing)


@ALL
def test_narrow_drawings_keep_their_layout(schedule: Schedule) -> None:
    places = Places(schedule)
    for group in same_dress(schedule):
        check_layout(draw_hoop(places.view(group), places, 96.0))


@ALL
def test_every_placement_is_marked_exactly_once_on_its_hoop(schedule: Schedule) -> None:
    places = Places(schedule)
    by_hoop = placements_of(schedule)
    for hoop in hoop_ids(schedule):
        marked = Counter(id for mark in draw_hoop(places.view((hoop,)), places).marks() for id in mark.placements)
        assert marked == Counter(item.id for item in by_hoop[hoop])


def test_every_placement_with_a_tube_is_on_one_tape() -> None:
    for schedule in (factory.five(), factory.thirty()):
        seen: Counter[str] = Counter()
        for group in tapes(Places(schedule)):
            for tape in group:
                items = [item for reading in tape.readings for item in reading.placements]
                seen.update(item.id for item in items)
                assert {item.hoop for item in items} <= {tape.hoops[0]}
        first = {hoop for group in tapes(Places(schedule)) for tape in group for hoop in tape.hoops}
        assert first == set(hoop_ids(schedule))
        assert all(count == 1 for count in seen.values())


@pytest.mark.parametrize(("tube", "fitting", "reads"), [(0, "rail clamp", 900.0), (2, "rail clamp", 900.0), (0, "brace clip", 1400.0)])
def test_tapes_read_from_the_foot_on_both_sides(tube: int, fitting: str, reads: float) -> None:
    tape = tapes(Places(factory.five()))[tube][0]
    found = [reading.tape_mm for reading in tape.readings if any(item.fitting == fitting for item in reading.placements)]
    assert found == [pytest.approx(reads)]
    assert tape.hook == ("left" if tube == 0 else "right")


def test_offsets_from_the_foot_are_read_even_where_the_hoop_has_no_length() -> None:
    schedule = replace(without_along(), tubes=tuple(replace(tube, start_mm=None, end_mm=None) for tube in factory.five().tubes))
    tape = tapes(Places(schedule))[0][0]
    assert [reading.tape_mm for reading in tape.readings] == [900.0, 1400.0, None]


def _spot(drawing: Drawing, key: str) -> tuple[float, float]:
    mark = next(mark for mark in drawing.marks() if mark.key == key)
    dot = next(shape for shape in mark.shapes if isinstance(shape, Disc) and shape.r < 2)
    return dot.x, dot.y


def test_dots_stand_to_scale_at_their_distance_along_the_hoop() -> None:
    """Against plain geometry: 900 mm up a straight leg of 700 mm and then 200 mm along an arc of radius 2050 mm."""
    schedule = factory.five()
    places = Places(schedule)
    view = places.view(("H2",))
    drawing = draw_hoop(view, places)
    ground = _spot(drawing, "1")
    right = _spot(drawing, view.known()[-1].key)
    scale = (right[0] - ground[0]) / 4000
    rail = next(place for place in view.known() if place.drawn_mm == 900)
    x, y = _spot(drawing, rail.key)
    # c = 4000, h = 1600: R = (c²/4 + h²) / 2h = 2050, half angle = 2·atan(2h/c), as in the factory.
    turn = -2 * math.atan(2 * 1600 / 4000) + 200 / 2050
    assert (x - ground[0]) / scale == pytest.approx(2000 + 2050 * math.sin(turn), abs=8)
    assert (ground[1] - y) / scale == pytest.approx(2300 - 2050 + 2050 * math.cos(turn), abs=8)


def test_left_is_left_and_right_is_right() -> None:
    schedule = factory.five()
    places = Places(schedule)
    drawing = draw_hoop(places.view(("H1",)), places)
    words = {shape.text: shape.x for shape in drawing.shapes() if isinstance(shape, Words)}
    assert words["LEFT"] < drawing.width / 2 < words["RIGHT"]
    side = {item.id: item.side for item in schedule.placements}
    for mark in drawing.marks():
        dots = [shape for shape in mark.shapes if isinstance(shape, Disc) and shape.r < 2]
        for dot in dots:
            for id in mark.placements:
                if side[id] in ("left", "right"):
                    assert (dot.x < drawing.width / 2) == (side[id] == "left")
    assert {"outside", "inside"} <= set(words)


def test_what_has_no_place_lies_in_a_tray_and_not_on_the_hoop() -> None:
    schedule = factory.five()
    places = Places(schedule)
    drawing = draw_hoop(places.view(("H2",)), places)
    unknown = {item.id for item in schedule.placements if item.hoop == "H2" and item.along_mm is None}
    for mark in drawing.marks():
        dots = [shape for shape in mark.shapes if isinstance(shape, Disc) and shape.r < 2]
        assert bool(dots) == (not unknown & set(mark.placements))


def _drawn(schedule: Schedule, hoop: str = "H1") -> dict[str, float]:
    """How far from left to right the dot of each placement stands that is drawn on the hoop, 0 at the left foot and 1 at the right one."""
    places = Places(schedule)
    return {
        item.id: place.drawn_mm / places.line.curve.length_mm
        for place in places.view((hoop,)).known()
        for item in place.placements
        if place.drawn_mm is not None
    }


def test_without_distances_along_the_hoop_only_feet_ridge_and_joints_are_drawn() -> None:
    schedule = without_along()
    by_id = {item.id: item for item in schedule.placements}
    found = _drawn(schedule)
    landmarks = {item.id for item in schedule.placements if item.hoop == "H1" and item.datum in ("foot", "ridge") and item.offset_mm == 0}
    assert landmarks and set(found) >= landmarks
    assert all(by_id[id].datum in ("foot", "ridge", "joint") and by_id[id].offset_mm == 0 for id in found)


def test_an_arch_that_stands_for_the_hoop_keeps_every_fitting_on_its_tube_and_in_order() -> None:
    schedule = factory.five(stated=False)
    # The tubes of the manual are longer than the arch that is drawn, and not in its proportions.
    stretched = tuple(
        replace(tube, start_mm=start, end_mm=end)
        for tube, (start, end) in zip(schedule.tubes, [(0, 3000), (3000, 9000), (9000, 12000)], strict=True)
    )
    wide = replace(schedule, tubes=stretched)
    moved = tuple(
        replace(item, along_mm=None if item.along_mm is None else item.along_mm * 12000 / schedule.shape.length_mm)  # type: ignore[union-attr]
        for item in schedule.placements
    )
    wide = replace(wide, placements=moved)
    found = _drawn(wide)
    known = [item for item in moved if item.hoop == "H1" and item.along_mm is not None]
    assert known and {item.id for item in known} <= set(found)
    joints = [0.0, *(joint / wide.shape.length_mm for joint in wide.shape.joints_mm), 1.0]  # type: ignore[union-attr]
    for one, other in combinations(known, 2):
        if one.along_mm < other.along_mm - 10:  # type: ignore[operator]
            assert found[one.id] < found[other.id]
    for item in known:
        tube = next(index for index, (_, end) in enumerate([(0, 3000), (3000, 9000), (9000, 12000)]) if item.along_mm <= end + 1e-6)  # type: ignore[operator]
        assert joints[tube] - 1e-6 <= found[item.id] <= joints[tube + 1] + 1e-6
    words = " ".join(shape.text for shape in draw_hoop(Places(wide).view(("H1",)), Places(wide)).shapes() if isinstance(shape, Words))
    assert "Not to scale: the manual gives no shape" in words


def _told(datum: str, offset: float, side: str | None, **frame: float | None) -> float | None:
    """Where a single fitting is drawn whose hoop has no shape and whose tubes have no length."""
    base = factory.five(stated=False)
    item = replace(base.placements[0], hoop="H1", datum=datum, offset_mm=offset, side=side, along_mm=None)  # type: ignore[arg-type]
    tubes = tuple(replace(tube, start_mm=None, end_mm=None) for tube in base.tubes)
    size = {"width_mm": 4000.0, "height_mm": 2300.0, **frame}
    schedule = replace(base, placements=(item,), tubes=tubes, structure=replace(base.structure, **size))
    return _drawn(schedule).get(item.id)


def test_distances_from_foot_ground_and_ridge_are_drawn_where_they_cannot_change_places() -> None:
    left, right = _told("foot", 500, "left"), _told("foot", 500, "right")
    assert left is not None and right is not None and 0 < left < 0.25 and left + right == pytest.approx(1)
    assert _told("ridge", 0, "centre") == pytest.approx(0.5)
    beside = _told("ridge", 400, "left")
    assert beside is not None and left < beside < 0.5
    high = _told("ground", 500, "right")
    assert high is not None and high == pytest.approx(right, abs=0.02)  # the leg stands upright
    # Too near to what is measured from the other end, no side, or no size of the frame to draw it by: left open.
    assert _told("foot", 2900, "left") is None and _told("ridge", 2900, "left") is None and _told("ground", 2200, "left") is None
    assert _told("foot", 500, None) is None and _told("ridge", 300, None) is None and _told("ground", 500, "centre") is None
    assert _told("foot", 500, "left", width_mm=None) is None and _told("foot", 0, "left", width_mm=None) == 0
    assert _told("foot", -100, "left") is None


def test_joints_are_drawn_where_the_side_says_which() -> None:
    joints = factory.five(stated=False).shape.joints_mm  # type: ignore[union-attr]
    whole = factory.five(stated=False).shape.length_mm  # type: ignore[union-attr]
    assert _told("joint", 0, "left") == pytest.approx(joints[0] / whole)
    assert _told("joint", 0, "right") == pytest.approx(joints[1] / whole)
    assert _told("joint", 0, None) is None and _told("joint", 0, "centre") is None and _told("joint", 50, "left") is None


@ALL
def test_svg_files_are_well_formed_and_show_text_as_text(schedule: Schedule) -> None:
    names = []
    for name, text in drawing_files(schedule):
        names.append(name)
        root = ET.fromstring(text)
        assert root.tag == "{http://www.w3.org/2000/svg}svg"
        assert {child.tag.split("}")[1] for child in root.iter()} <= {
            "svg",
            "title",
            "desc",
            "g",
            "text",
            "rect",
            "circle",
            "polyline",
            "polygon",
        }
    assert len(set(names)) == len(names)
    assert [name for name in names if name.startswith("hoop-")] == [f"hoop-{hoop}.svg" for hoop in hoop_ids(schedule)]


def test_letters_run_on_behind_z() -> None:
    assert [letters(n) for n in (0, 25, 26, 27, 701, 702)] == ["a", "z", "aa", "ab", "zz", "aaa"]


@settings(deadline=None)
@given(st.lists(st.tuples(st.floats(0, 100), st.floats(0.5, 9)), max_size=12))
def test_spread_labels_never_overlap_and_stay_in_order(items: list[tuple[float, float]]) -> None:
    wanted = sorted(want for want, _ in items)
    sizes = [size for _, size in items]
    centres = spread(wanted, sizes, 0, 100)
    if sum(sizes) > 100:
        assert centres is None
        return
    assert centres is not None
    edges = [(centre - size / 2, centre + size / 2) for centre, size in zip(centres, sizes, strict=True)]
    assert all(low >= -1e-6 and high <= 100 + 1e-6 for low, high in edges)
    assert all(one[1] <= other[0] + 1e-6 for one, other in pairwise(edges))


def test_spread_leaves_alone_what_fits() -> None:
    assert spread([10, 30, 50], [4, 4, 4], 0, 100) == [10, 30, 50]
    assert spread([10, 10], [4, 4], 0, 100) == [8, 12]
