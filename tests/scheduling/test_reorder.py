"""The revised order: valid always, least by clingo's optimum and by trying every order."""

from __future__ import annotations

from dataclasses import replace

import networkx as nx
from hoopwright.scheduling.puzzle import Puzzle, regions
from hoopwright.scheduling.reorder import _reorder, inversions, least_moved, reorder
from hoopwright.scheduling.ring import Ring
from hoopwright.scheduling.solver import Case, Change, solve
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


@settings(LONG)
@given(st.lists(st.integers(0, 40), max_size=60))
def test_inversions_are_the_pairs_that_stand_the_other_way_round(order: list[int]) -> None:
    assert inversions(order) == sum(a > b for place, a in enumerate(order) for b in order[place + 1 :])


def beside(left: Puzzle, right: Puzzle) -> Puzzle:
    """Two puzzles in one, their steps by turns: no step of one is a step of the other."""
    steps = max(left.steps, right.steps)

    def shifted(puzzle: Puzzle, by: int) -> tuple[Case, ...]:
        return tuple(
            replace(
                case,
                rings=tuple(replace(ring, step=2 * ring.step + by) for ring in case.rings),
                changes=tuple(replace(change, step=2 * change.step + by) for change in case.changes),
            )
            for case in puzzle.cases
        )

    pairs = [(2 * a + by, 2 * b + by) for puzzle, by in ((left, 0), (right, 1)) for a, b in puzzle.before]
    return Puzzle(2 * steps, (*shifted(left, 0), *shifted(right, 1)), tuple(pairs))


@settings(LONG, max_examples=max(100, EXAMPLES // 10))
@given(puzzles(most_steps=4), puzzles(most_steps=4))
def test_regions_cost_what_the_whole_costs(left: Puzzle, right: Puzzle) -> None:
    """Two manuals worked side by side: taken apart and solved as a whole, as many steps move and the same rings are left."""
    puzzle = beside(left, right)
    unfree = frozenset(n for n, case in enumerate(puzzle.cases) if any(v.answer != "free" for v in solve(case)))
    apart, whole = reorder(puzzle, unfree=unfree), _reorder(puzzle, 400)
    assert (apart.order, apart.moved) == (reorder(puzzle).order, reorder(puzzle).moved)
    assert (len(apart.moved), apart.hopeless) == (len(whole.moved), whole.hopeless)
    assert sorted(apart.order) == list(range(puzzle.steps))
    turn = {step: place for place, step in enumerate(apart.order)}
    assert all(turn[a] < turn[b] for a, b in apart.because)
    kept = [step for step in apart.order if step not in apart.moved]
    assert kept == sorted(kept)
    stuck = {(n, v.ring) for n, case in enumerate(puzzle.cases) for v in solve(worked(case, apart.order)) if v.answer != "free"}
    assert stuck == set(apart.hopeless)


def test_hoops_with_steps_of_their_own_are_regions_of_their_own() -> None:
    cases = tuple(Case(1, (Ring("a", (0,), 3 * hoop), Ring("b", (0,), 3 * hoop + 1)), (Change(9, hoop, 0, "shut"),)) for hoop in range(3))
    found = regions(Puzzle(10, cases, before=((0, 1), (9, 3))))
    assert [region.steps for region in found] == [(0, 1, 9), (3, 4, 9), (6, 7, 9)]
    assert [region.cases for region in found] == [(0,), (1,), (2,)]
    assert [region.puzzle.before for region in found] == [((0, 1),), ((2, 0),), ()]
