"""From facts to shape: what settles it, what contradicts it, what leaves it open; places there and back."""

from __future__ import annotations

from dataclasses import replace
from math import pi

import pytest
from hoopwright.framing.geometry import HoopFacts, build_curve, kind_of, position_question
from hoopwright.framing.shape import HoopShape, along, at_inset, height, offset, opposite, side_of
from hoopwright.model.outline import Source
from hypothesis import given, settings
from hypothesis import strategies as st

QUARTER = pi * 2200 / 2
SMALL = HoopFacts("half circle on legs", 4400, 3200, 1000, 2200, tubes_mm=(1000, QUARTER, QUARTER, 1000))
LENGTH = 2000 + 2 * QUARTER


def test_every_fact_agrees() -> None:
    built = build_curve(SMALL)
    assert built.findings == ()
    assert built.curve is not None
    assert built.curve.stated
    assert built.shape.length_mm == pytest.approx(8911.5, abs=0.05)
    assert built.shape.joints_mm == pytest.approx((1000, LENGTH / 2, LENGTH - 1000), abs=1e-6)
    assert built.curve.joints_mm == pytest.approx((1000, LENGTH / 2, LENGTH - 1000), abs=1e-6)


@pytest.mark.parametrize(
    "facts",
    [
        HoopFacts("half circle", 4400, 3200),
        HoopFacts("half-circle top", 4400, None, 1000),
        HoopFacts("semicircle", None, 3200, 1000),
        HoopFacts("half circle", None, 3200, None, 2200),
        HoopFacts("half circle", None, None, 1000, 2200),
        HoopFacts("half circle", None, 3200, None, None, None, (LENGTH,)),
        HoopFacts("half circle", 4400, None, None, None, None, (LENGTH / 2, LENGTH / 2)),
        HoopFacts("half circle", None, None, 1000, None, None, (LENGTH,)),
        HoopFacts(None, 4400, 3200, 1000),
        HoopFacts(None, 4400, 3200, None, 2200),
        HoopFacts(None, 4400, 3200, None, None, None, (LENGTH / 2, LENGTH / 2), 0.0),
    ],
)
def test_any_two_facts_settle_legs_and_half_circle(facts: HoopFacts) -> None:
    built = build_curve(facts)
    assert built.shape.path is not None
    assert built.curve is not None
    assert built.curve.stated
    assert built.shape.length_mm == pytest.approx(LENGTH, abs=0.01)
    assert built.shape.height_mm == pytest.approx(3200, abs=0.01)


@pytest.mark.parametrize(
    ("facts", "length"),
    [
        # Trade notes §4, circular segment table.
        (HoopFacts("plain arc", 6000, 1500), 6954.71),
        (HoopFacts("arc", 4800, 3200, 0), 9272.95),
        (HoopFacts("single arc", 6000, None, None, 3750), 6954.71),
        (HoopFacts("arc", 6000, 1500, None, None, None, (6954.71,)), 6954.71),
        (HoopFacts("plain arc", 6000, None, None, None, None, (6954.71,)), 6954.71),
        (HoopFacts("flat arc on legs", 6000, 2700, 1200), 6954.71 + 2400),
        (HoopFacts("arc", 6000, 2700, None, None, 1500), 6954.71 + 2400),
        (HoopFacts("arc", 6000, 2700, None, None, None, (6954.71 + 2400,)), 6954.71 + 2400),
        (HoopFacts(None, 6000, 2700, 1200, 3750), 6954.71 + 2400),
        (HoopFacts(None, 6000, 1500, None, 3750), 6954.71),
        (HoopFacts("plain half circle", 5500), 8639.38),
        (HoopFacts(None, 5500, 2750), 8639.38),
    ],
)
def test_arcs(facts: HoopFacts, length: float) -> None:
    built = build_curve(facts)
    assert built.curve is not None
    assert built.curve.stated
    assert built.findings == ()
    assert built.shape.length_mm == pytest.approx(length, abs=0.02)


def test_pointed_arches() -> None:
    equilateral = HoopFacts("pointed arch", 4000, 4000 * 3**0.5 / 2, 0, 4000)  # two arcs of 60 degrees (standard geometry)
    assert build_curve(equilateral).shape.length_mm == pytest.approx(2 * 4000 * pi / 3, abs=0.01)
    by_tube = HoopFacts("gothic arch", 4000, 4000 * 3**0.5 / 2, 0, tubes_mm=(4000 * pi / 3, 4000 * pi / 3), hidden_mm=0.0)
    built = build_curve(by_tube)
    assert built.curve is not None
    assert built.curve.extra["radius"] == pytest.approx(4000, abs=0.1)
    assert built.shape.joints_mm == pytest.approx((4000 * pi / 3,), abs=0.01)


def test_a_pointed_arch_without_radius_or_tube_is_drawn_but_not_placed_on() -> None:
    built = build_curve(HoopFacts("pointed arch", 4000, 3500))
    assert built.curve is not None
    assert not built.curve.stated
    assert built.shape.path is None
    assert "the radius of the bend" in built.missing


@pytest.mark.parametrize(
    ("change", "gap"),
    [({"height_mm": 3400.0}, 200), ({"leg_mm": 1300.0}, 300), ({"radius_mm": 2400.0}, 200), ({"tubes_mm": (1000, 3900, 3900, 1000)}, 888)],
)
def test_facts_that_disagree_raise_one_conflict_with_the_gap(change: dict[str, float], gap: int) -> None:
    source = Source("D1", 1, 0, 4, "Leg 1000")
    facts = replace(SMALL, hidden_mm=0.0, sources={"leg_mm": source}, **change)  # type: ignore[arg-type]
    built = build_curve(facts, ("H1", "H2"))
    (finding,) = built.findings
    assert (finding.code, finding.hoops) == ("conflict", ("H1", "H2"))
    assert f"{gap} mm off" in finding.message
    assert finding.sources == (source,)


@pytest.mark.parametrize(
    "change",
    [{"height_mm": 3205.0}, {"radius_mm": 2195.0}, {"tubes_mm": (1000, 3456, 3456, 1000)}, {"tubes_mm": (1000, 3600, 3600, 1000)}],
    ids=["rounded height", "rounded radius", "printed tubes", "hidden ends not told"],
)
def test_rounding_and_hidden_tube_ends_are_no_conflict(change: dict[str, float]) -> None:
    assert build_curve(replace(SMALL, **change)).findings == ()  # type: ignore[arg-type]


def test_hidden_ends_are_shared_out_and_said() -> None:
    built = build_curve(replace(SMALL, tubes_mm=(1050, QUARTER + 100, QUARTER + 100, 1050)))
    assert built.shape.joints_mm == pytest.approx((1000, LENGTH / 2, LENGTH - 1000), abs=0.01)
    assert built.assumed == ("each tube is taken to reach 100 mm into the next: the manual does not say",)


def test_tubes_not_given_share_what_is_left_where_both_sides_are_alike() -> None:
    built = build_curve(replace(SMALL, tubes_mm=(1000, None, None, 1000)))
    assert built.shape.joints_mm == pytest.approx((1000, LENGTH / 2, LENGTH - 1000), abs=0.01)
    three = build_curve(replace(SMALL, tubes_mm=(None, 5000, None)))
    assert three.shape.joints_mm == pytest.approx(((LENGTH - 5000) / 2, (LENGTH + 5000) / 2), abs=0.01)
    uneven = build_curve(replace(SMALL, tubes_mm=(None, 3000, 3000)))
    assert uneven.shape.joints_mm == pytest.approx((LENGTH - 6000, LENGTH - 3000), abs=0.01)


def test_joints_by_height() -> None:
    built = build_curve(HoopFacts("half circle", 4400, 3200, joint_heights_mm=(1000, 3200, 1000)))
    assert built.shape.joints_mm == pytest.approx((1000, LENGTH / 2, LENGTH - 1000), abs=0.01)


def test_too_little_is_drawn_as_a_guess_or_not_at_all() -> None:
    tall = build_curve(HoopFacts(None, 3048, 2057))
    assert tall.curve is not None
    assert not tall.curve.stated
    assert tall.shape == HoopShape(None, ())
    assert build_curve(HoopFacts(None, 3048)).curve is None
    assert build_curve(HoopFacts()).missing
    assert build_curve(HoopFacts("half circle", -5, 0, tubes_mm=(-1,))).curve is None


def test_lengths_alone_place_from_foot_joint_and_ridge() -> None:
    built = build_curve(HoopFacts(None, 4267, 2286, tubes_mm=(3353, 3353)))
    shape = built.shape
    assert (shape.length_mm, shape.joints_mm, shape.ridge_mm) == (6706, (3353,), 3353)
    assert along(shape, "foot", 457, "right") == 6706 - 457
    assert along(shape, "ridge", 152, "left") == 3353 - 152
    assert along(shape, "joint", 152, None, joint=0, towards=1) == 3353 + 152
    assert along(shape, "ground", 900, "left") is None
    assert "do not" not in "".join(built.assumed)
    assert len(built.assumed) == 1


def test_heights_on_upright_legs_need_no_bend() -> None:
    shape = build_curve(HoopFacts(None, 5400, 3100, 2100)).shape
    assert along(shape, "ground", 1900, "left") == 1900
    assert along(shape, "ground", 1900, "right") is None
    assert along(shape, "ground", 2150, "left") is None
    assert height(shape, 1900) == 1900


def test_a_question_names_what_is_missing() -> None:
    built = build_curve(HoopFacts(None, 4267, 2286))
    question = position_question(built, "pipe clip", ("H4",), "S27")
    assert (question.about, question.fitting, question.hoops, question.step) == ("position", "pipe clip", ("H4",), "S27")
    assert question.assumed is None
    assert "where the straight leg ends" in question.message


@pytest.mark.parametrize(
    ("datum", "distance", "joint", "towards", "expected"),
    [
        # Worked by hand in the notes of a sample manual: leg 1000, radius 2200.
        ("joint", QUARTER / 4, 0, 1, 1863.9),
        ("ground", 2100, None, None, 2151.9),
        ("joint", QUARTER / 3, 0, 1, 2151.9),
        ("ridge", 90, None, -1, 4365.8),
        ("foot", 300, None, None, 300),
    ],
)
def test_places_worked_by_hand(datum: str, distance: float, joint: int | None, towards: int | None, expected: float) -> None:
    shape = build_curve(SMALL).shape
    found = along(shape, datum, distance, "left", joint=joint, towards=towards)
    assert found == pytest.approx(expected, abs=0.06)
    mirrored = along(shape, datum, distance, "right", joint=None if joint is None else 2, towards=None if towards is None else -towards)
    assert mirrored == pytest.approx(8911.5 - expected, abs=0.06)


def test_height_of_a_place_worked_by_hand() -> None:
    assert height(build_curve(SMALL).shape, 1863.9) == pytest.approx(1842, abs=0.5)


def test_the_ridge_from_the_ground_and_beyond() -> None:
    shape = build_curve(SMALL).shape
    assert along(shape, "ground", 3200, "centre") == shape.ridge_mm
    assert along(shape, "ground", 3203, "left") == shape.ridge_mm
    assert along(shape, "ground", 3300, "left") is None
    assert along(shape, "ground", 2000, None) is None
    assert along(shape, "ridge", 0, None) == shape.ridge_mm
    assert along(shape, "ridge", 100, None) is None
    assert along(shape, "joint", 100, "left", joint=7) is None


def test_feet_above_ground() -> None:
    shape = build_curve(replace(SMALL, foot_mm=150.0, leg_mm=1000.0, tubes_mm=())).shape
    assert along(shape, "ground", 900, "left") == pytest.approx(750)
    assert height(shape, 0) == 150


shapes = st.tuples(st.floats(2000, 9000), st.floats(0, 2000), st.floats(0.15, 0.7)).map(
    lambda v: build_curve(HoopFacts("arc", v[0], v[1] + v[0] * v[2], v[1])).shape
)


@settings(deadline=None)
@given(shapes, st.floats(0, 1))
def test_round_trips(shape: HoopShape, share: float) -> None:
    assert shape.length_mm is not None
    s = share * shape.length_mm
    side = side_of(shape, s)
    up = height(shape, s)
    assert up is not None
    if side == "centre":
        return
    back = along(shape, "ground", up, side)
    assert back == pytest.approx(s, abs=0.1) or abs(s - shape.length_mm / 2) < 30  # near the ridge the line is level
    for datum in ("foot", "ridge"):
        gap = offset(shape, datum, s)
        assert gap is not None
        assert along(shape, datum, gap, side) == pytest.approx(s, abs=1e-6)
    other = opposite(shape, s)
    assert other is not None
    assert height(shape, other) == pytest.approx(up, abs=1e-6)
    assert side_of(shape, other) != side


@settings(deadline=None)
@given(st.floats(10, 2100))
def test_inset_round_trip(inset: float) -> None:
    shape = build_curve(SMALL).shape
    for side, sign in (("left", 1), ("right", -1)):
        s = at_inset(shape, inset, side)  # type: ignore[arg-type]
        assert s is not None
        assert shape.path is not None
        assert shape.path.at(s)[0] == pytest.approx(sign * (-2200 + inset), abs=1e-6)


@pytest.mark.parametrize(
    ("words", "kind"),
    [
        ("half circle", "half"),
        ("plain half-circle", "half"),
        ("Semi-circular", "half"),
        ("pointed arch", "pointed"),
        ("gothic", "pointed"),
        ("shallow arc", "arc"),
        ("single curve", "arc"),
        ("hoop", None),
        ("arch", None),
        ("bow", None),
        (None, None),
    ],
)
def test_kinds_in_words(words: str | None, kind: str | None) -> None:
    assert kind_of(words) == kind


def test_an_upright_leg_tube_bounds_the_straight_leg_from_below() -> None:
    facts = replace(SMALL, leg_mm=None, upright_mm=1000.0, tubes_mm=(1000, QUARTER, QUARTER, 1000), hidden_mm=0.0)
    assert build_curve(facts).shape.leg_mm == pytest.approx(1000)
    shorter = build_curve(replace(facts, upright_mm=800.0, tubes_mm=(), height_mm=3200.0))
    assert shorter.findings == ()
    assert shorter.shape.leg_mm == pytest.approx(1000)  # the bend begins above the joint
    longer = build_curve(replace(facts, upright_mm=1300.0, tubes_mm=()))
    assert [finding.code for finding in longer.findings] == ["conflict"]


def test_a_leg_that_only_the_tube_tells_settles_no_shape_without_a_name() -> None:
    built = build_curve(HoopFacts(None, 7200, 3350, tubes_mm=(2900, 5100, 2900), hidden_mm=0.0))
    assert built.shape.path is None
    assert built.shape.length_mm == 10900
    assert built.shape.joints_mm == (2900, 8000)


def test_the_whole_length_stands_in_for_tubes_that_are_not_given() -> None:
    built = build_curve(HoopFacts(tubes_mm=(1500, None, 1500), hidden_mm=0.0, whole_mm=7000))
    assert built.shape.length_mm == 7000
    assert built.shape.joints_mm == (1500, 5500)


def test_tubes_too_short_for_the_hoop_are_a_conflict_and_place_nothing_on_the_right() -> None:
    # The shortest way over the ridge is two straight lines: 2·√(2500² + 2900²) = 7657.7 mm (Pythagoras).
    built = build_curve(HoopFacts(None, 5000, 2900, tubes_mm=(1200, 1500, 1600, 1500, 1200), hidden_mm=0.0), ("H1",))
    (finding,) = built.findings
    assert (finding.code, finding.hoops) == ("conflict", ("H1",))
    assert "658 mm more" in finding.message
    assert built.shape.length_mm is None
