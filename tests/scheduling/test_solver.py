"""The core against two independent answers. With CI set, 3,000 cases go to clingo."""

from __future__ import annotations

from hoopwright.scheduling.ring import Ring
from hoopwright.scheduling.solver import Case, Change, solve
from hypothesis import HealthCheck, given, settings

from .cases import EXAMPLES, VERDICTS, cases, clingo_answer, walk_answer

LONG = settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=[HealthCheck.too_slow])


def ours(case: Case) -> dict[str, tuple[str, int | None]]:
    return {verdict.ring: (verdict.answer, verdict.last_free) for verdict in solve(case)}


@settings(LONG, max_examples=VERDICTS)
@given(cases())
def test_clingo_agrees_on_verdict_and_last_free_step(case: Case) -> None:
    assert ours(case) == clingo_answer(case)


@LONG
@given(cases())
def test_a_ring_pushed_along_cell_by_cell_agrees(case: Case) -> None:
    assert ours(case) == walk_answer(case)


def test_a_ring_between_two_rings_is_blocked_on_a_tube_with_two_open_ends() -> None:
    rings = tuple(Ring(id, (0,), step, 0, (("along", mm),)) for id, step, mm in (("a", 0, 100.0), ("b", 1, 900.0), ("c", 2, 500.0)))
    a, b, c = solve(Case(1, rings))
    assert (a.answer, b.answer, c.answer) == ("free", "free", "blocked")
    assert c.last_free == 0
    assert {way.rings for way in c.ways} == {("a",), ("b",)}


def test_the_time_before_the_first_step_is_minus_one() -> None:
    case = Case(1, (Ring("a", (0,), 3),), (Change(0, 0, 0, "shut"), Change(0, 1, 1, "shut")))
    (verdict,) = solve(case)
    assert (verdict.answer, verdict.last_free) == ("trapped", -1)


def test_places_compare_only_by_a_shared_reference() -> None:
    near = Ring("a", (0,), 0, 0, (("gate 1", -100.0),))
    deep = Ring("b", (0,), 1, 0, (("gate 0", 50.0), ("gate 1", -500.0)))
    other = Ring("c", (0,), 1, 0, (("gate 0", 50.0),))
    verdicts = {v.ring: v.answer for v in solve(Case(1, (near, deep, other), (Change(0, 0, 0, "shut"),)))}
    assert verdicts == {"a": "free", "b": "blocked", "c": "free"}


def test_rings_of_two_tubes_that_go_on_at_once_are_told_apart_on_the_way() -> None:
    near = tuple(Ring(id, (tube,), 0, 0, (("along", mm),)) for id, tube, mm in (("a", 0, 50.0), ("b", 1, 150.0)))
    late = Ring("c", (0,), 1, 0, (("along", 20.0),))
    joined = (Change(0, 0, 1, "through"), Change(0, 1, 0, "shut"))
    *_, verdict = solve(Case(2, (*near, late), joined))
    assert (verdict.answer, verdict.last_free) == ("blocked", -1)
    assert {way.rings for way in verdict.ways if way.open} == {("a", "b")}
