"""The revised order: valid always, least by clingo's optimum and by trying every order."""

from __future__ import annotations

import networkx as nx
from hoopwright.scheduling.reorder import Puzzle, least_moved, reorder
from hoopwright.scheduling.solver import Case, Change, Ring, solve
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from .cases import EXAMPLES
from .puzzles import all_free, brute_least, clingo_least, keeps, puzzles, worked

LONG = settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])


@LONG
@given(puzzles())
def test_moved_steps_are_as_few_as_clingo_can_do(puzzle: Puzzle) -> None:
    found = reorder(puzzle)
    least = clingo_least(puzzle)
    solved = not found.hopeless and not found.dropped
    assert solved == (least is not None)
    assert found.proven
    if least is not None:
        assert len(found.moved) == least


@settings(LONG, max_examples=max(150, EXAMPLES // 10))
@given(puzzles(most_steps=4))
def test_trying_every_order_agrees(puzzle: Puzzle) -> None:
    found = reorder(puzzle)
    least = brute_least(puzzle)
    assert (not found.hopeless and not found.dropped) == (least is not None)
    if least is not None:
        assert len(found.moved) == least


@LONG
@given(puzzles(most_steps=6))
def test_the_order_is_valid(puzzle: Puzzle) -> None:
    found = reorder(puzzle)
    assert sorted(found.order) == list(range(puzzle.steps))
    if not found.hopeless and not found.dropped:
        assert all_free(puzzle, found.order)
        assert keeps(puzzle, found.order, found.moved)
    stuck = {(n, v.ring) for n, case in enumerate(puzzle.cases) for v in solve(worked(case, found.order)) if v.answer != "free"}
    assert stuck == set(found.hopeless)


def test_nothing_moves_where_nothing_is_stuck() -> None:
    found = reorder(Puzzle(3, (Case(1, (Ring("a", (0,), 0), Ring("b", (0,), 2))),)))
    assert (found.order, found.moved, found.proven) == ((0, 1, 2), frozenset(), True)


def test_a_trapped_step_moves_to_just_before_the_step_that_shuts_its_way() -> None:
    case = Case(1, (Ring("a", (0,), 4),), (Change(1, 0, 0, "shut"), Change(2, 0, 1, "shut")))
    found = reorder(Puzzle(6, (case,)))
    assert (found.order, found.moved) == ((0, 1, 4, 2, 3, 5), frozenset({4}))


def test_one_clamp_in_the_way_of_three_moves_rather_than_the_three() -> None:
    rings = tuple(Ring(f"r{step}", (0,), step, 0, (("along", mm),)) for step, mm in ((1, 900.0), (2, 400.0), (3, 500.0), (4, 600.0)))
    found = reorder(Puzzle(5, (Case(1, rings, (Change(0, 0, 0, "shut"),)),)))
    assert (found.order, found.moved) == ((0, 2, 3, 4, 1), frozenset({1}))


def test_a_ring_in_a_step_that_joins_first_is_hopeless_and_the_rest_is_still_solved() -> None:
    stays = Ring("a", (0,), 0, 2)
    late = Ring("b", (0,), 2)
    case = Case(1, (stays, late), (Change(0, 0, 0, "shut"), Change(0, 1, 1, "shut")))
    found = reorder(Puzzle(3, (case,)))
    assert found.hopeless == ((0, "a"),)
    assert found.order == (2, 0, 1)


def test_wanted_pairs_that_contradict_each_other_are_dropped_one_by_one() -> None:
    found = reorder(Puzzle(3, (Case(1, ()),), before=((0, 1), (1, 0), (2, 0))))
    assert found.dropped == ((1, 0),)
    assert found.order == (2, 0, 1)
    assert len(found.moved) == 1


@settings(LONG, max_examples=max(150, EXAMPLES // 10))
@given(puzzles(most_steps=6))
def test_a_search_cut_short_still_says_what_is_left_stuck(puzzle: Puzzle) -> None:
    found = reorder(puzzle, nodes=1)
    assert sorted(found.order) == list(range(puzzle.steps))
    stuck = {(n, v.ring) for n, case in enumerate(puzzle.cases) for v in solve(worked(case, found.order)) if v.answer != "free"}
    assert stuck == set(found.hopeless)


@settings(LONG)
@given(st.permutations(range(9)), st.integers(0, 8))
def test_the_price_is_a_least_vertex_cover_by_networkx(order: list[int], cut: int) -> None:
    """Two steps are at odds where a permutation turns them round; all rows beyond ``cut`` are left out to have loose ends."""
    rows = [step for step in order if step <= cut]
    odds: dict[int, set[int]] = {}
    for place, step in enumerate(rows):
        for other in rows[place + 1 :]:
            if other < step:
                odds.setdefault(step, set()).add(other)
                odds.setdefault(other, set()).add(step)
    graph = nx.Graph((a, b) for a, others in odds.items() for b in others)
    best = max((len(clique) for clique in nx.find_cliques(nx.complement(graph))), default=0)
    moved = least_moved(odds, frozenset(), frozenset())
    assert moved is not None
    assert len(moved) == graph.number_of_nodes() - best
    assert all(a in moved or b in moved for a, b in graph.edges)
