"""Hoops that share a solution get what they would get alone, in their own steps."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.scheduling.alike import alike, same_pattern, verdicts
from hoopwright.scheduling.chain import Chain, chains
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.solver import Case, solve
from hypothesis import given, settings
from hypothesis import strategies as st

from .cases import cases
from .kits import Kit


def spread(case: Case, gaps: list[int]) -> Case:
    """The case with its steps further apart: step n becomes the sum of the first n + 1 gaps."""
    turn = [sum(gaps[: n + 1]) for n in range(len(gaps))]
    rings = tuple(replace(ring, step=turn[ring.step]) for ring in case.rings)
    return replace(case, rings=rings, changes=tuple(replace(change, step=turn[change.step]) for change in case.changes))


def chain(case: Case, hoop: int) -> Chain:
    """A chain of that case; every ring by the same call, as the calls tell no difference here."""
    kit = Kit(hoops=1)
    kit.step("A ring.")
    kit.call("ring")
    return Chain(hoop, case, dict.fromkeys((ring.id for ring in case.rings), kit.calls[0]), {})


@settings(max_examples=400, deadline=None)
@given(cases(5, 5), st.lists(st.integers(1, 4), min_size=6, max_size=6))
def test_a_pattern_in_other_steps_gets_the_same_verdicts_in_its_own_steps(case: Case, gaps: list[int]) -> None:
    first, then = chain(case, 1), chain(spread(case, gaps), 2)
    assert same_pattern(first) == same_pattern(then)
    (_, _, model), (_, found, shared) = verdicts([first, then])
    assert model is shared is first
    assert found == solve(then.case)


def test_what_differs_is_not_shared() -> None:
    kit = Kit(hoops=3)
    kit.step("Slide a ring on.")
    kit.call("ring", [1, 2, 3], tube=0, side="left", along_mm=900.0)
    kit.step("Slide a band on; on hoop 3 sooner than the ring.")
    kit.call("band", [1, 2], tube=0, side="left", along_mm=500.0)
    kit.calls.append(replace(kit.calls[-1], id="C9", hoop=3, along_mm=1200.0))
    found = chains(Context(kit.frame()))
    assert same_pattern(found[0]) == same_pattern(found[1]) != same_pattern(found[2])
    assert alike(found[0]) == alike(found[1]) != alike(found[2])
