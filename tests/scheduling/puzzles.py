"""Two other ways to find the least number of moved steps: clingo's optimum, and every permutation tried in turn."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, permutations

import clingo
from hoopwright.scheduling.puzzle import Puzzle
from hoopwright.scheduling.solver import Case
from hypothesis import strategies as st

from .cases import CELLS, cases, walk_answer


@st.composite
def puzzles(draw: st.DrawFn, most_steps: int = 5) -> Puzzle:
    """One or two hoops that share up to five steps, and now and then a wanted order of two steps."""
    gates = frozenset(draw(st.sets(st.integers(0, most_steps - 1), min_size=1, max_size=2)))
    hoops = tuple(draw(cases(5, most_steps, gates)) for _ in range(draw(st.integers(1, 2))))
    steps = most_steps
    pairs = st.tuples(st.integers(0, steps - 1), st.integers(0, steps - 1)).filter(lambda pair: pair[0] != pair[1])
    wanted = draw(st.lists(pairs, max_size=2))
    return Puzzle(steps, hoops, tuple(wanted))


PROGRAM = """
1 { pos(S,P) : place(P) } 1 :- step(S).
1 { pos(S,P) : step(S) } 1 :- place(P).
earlier(A,B) :- pos(A,P), pos(B,Q), P < Q.
{ moved(S) } :- step(S), not pinned(S).
:- step(A), step(B), A < B, not moved(A), not moved(B), earlier(B,A).
:- wanted(A,B), earlier(B,A).
#minimize { 1,S : moved(S) }.

made(R,K) :- ring(H,R,S,L,slides), change(H,K,S2,_,_,_), earlier(S2,S).
made(R,K) :- ring(H,R,S,L,slides), change(H,K,S,L2,_,_), L2 < L.
old(R,K) :- made(R,K), made(R,K2), change(H,K,S,L,G,_), change(H,K2,S2,L2,G,_), (S2,L2) > (S,L).
at(R,G,Z) :- made(R,K), not old(R,K), change(_,K,_,_,G,Z).
touched(R,G) :- made(R,K), change(_,K,_,_,G,_).
at(R,G,"open") :- ring(H,R,_,_,slides), gate(H,G), not touched(R,G).
start(R,G) :- at(R,G,"open").
start(R,G) :- at(R,G,"through"), foot(H,G), ring(H,R,_,_,_).

on(R,R2) :- ring(H,R,S,_,slides), ring(H,R2,S2,_,_), R != R2, earlier(S2,S).
on(R,R2) :- ring(H,R,S,L,slides), ring(H,R2,S,L2,_), R != R2, L2 < L.
on(R,R2) :- ring(H,R,S,_,slides), ring(H,R2,S,_,_), after(R2,R).
stop(R,T,C) :- on(R,R2), in(R2,T,C), not in(R,T,C).
wall(R,T) :- on(R,R2), somewhere(R2,T).

wet(R,T,0,1) :- ring(H,R,_,_,slides), start(R,T), tube(H,T).
wet(R,T,n,-1) :- ring(H,R,_,_,slides), start(R,T+1), tube(H,T).
wet(R,T,C+1,1) :- wet(R,T,C,1), C < n, not stop(R,T,C).
wet(R,T,C-1,-1) :- wet(R,T,C,-1), C > 0, not stop(R,T,C-1).
wet(R,T+1,0,1) :- wet(R,T,n,1), at(R,T+1,"through"), ring(H,R,_,_,_), tube(H,T+1), not wall(R,T).
wet(R,T-1,n,-1) :- wet(R,T,0,-1), at(R,T,"through"), ring(H,R,_,_,_), tube(H,T-1), not wall(R,T).
free(R) :- in(R,T,C), wet(R,T,C,1).
free(R) :- in(R,T,C), wet(R,T,C+1,-1).
free(R) :- may(R,T), wet(R,T,_,_).
:- ring(_,R,_,_,slides), not free(R).
#show moved/1.
"""


def _facts(puzzle: Puzzle) -> str:
    lines = [f"step({s}). place({s})." for s in range(puzzle.steps)] + [f"pinned({s})." for s in puzzle.fixed]
    lines += [f"wanted({a},{b})." for a, b in puzzle.before]
    for h, case in enumerate(puzzle.cases):
        lines += [f"tube({h},{t})." for t in range(case.tubes)] + [f"gate({h},{g})." for g in range(case.tubes + 1)]
        lines.append(f"foot({h},0). foot({h},{case.tubes}).")
        lines += [f'change({h},{100 * h + k},{c.step},{c.slot},{c.gate},"{c.state}").' for k, c in enumerate(case.changes)]
        lines += [f'after("{h}{a}","{h}{b}").' for a, b in case.after]
        for ring in case.rings:
            r = f'"{h}{ring.id}"'
            lines.append(f"ring({h},{r},{ring.step},{ring.slot},{'slides' if ring.slides else 'sits'}).")
            if ring.places:
                lines.append(f"in({r},{ring.tubes[0]},{int((ring.places[0][1] - ring.tubes[0] * 1000 - 50) / 100)}).")
            else:
                lines += [f"may({r},{t})." for t in ring.tubes]
                lines += [f"somewhere({r},{ring.tubes[0]})."] if len(ring.tubes) == 1 else []
    return "\n".join(lines)


def clingo_least(puzzle: Puzzle) -> int | None:
    """The least number of moved steps by clingo; None if no order frees every ring and keeps every pair."""
    control = clingo.Control(["--warn=none", "--opt-mode=opt"])
    control.add("base", [], f"#const n={CELLS}.\n{PROGRAM}{_facts(puzzle)}")
    control.ground([("base", [])])
    cost: int | None = None
    with control.solve(yield_=True) as handle:
        for model in handle:
            cost = model.cost[0] if model.cost else 0
    return cost


def worked(case: Case, order: tuple[int, ...]) -> Case:
    """The case as it is when the steps are worked in ``order``."""
    turn = {step: place for place, step in enumerate(order)}
    rings = tuple(replace(ring, step=turn[ring.step]) for ring in case.rings)
    return replace(case, rings=rings, changes=tuple(replace(change, step=turn[change.step]) for change in case.changes))


def all_free(puzzle: Puzzle, order: tuple[int, ...]) -> bool:
    return all(answer == "free" for case in puzzle.cases for answer, _ in walk_answer(worked(case, order)).values())


def keeps(puzzle: Puzzle, order: tuple[int, ...], moved: frozenset[int]) -> bool:
    """Whether the wanted pairs hold, fixed steps did not move, and the steps that did not move keep their order."""
    turn = {step: place for place, step in enumerate(order)}
    still = [step for step in order if step not in moved]
    return not moved & puzzle.fixed and still == sorted(still) and all(turn[a] < turn[b] for a, b in puzzle.before)


def brute_least(puzzle: Puzzle) -> int | None:
    """The least number of moved steps by trying every order and every choice of steps to call moved."""
    loose = [step for step in range(puzzle.steps) if step not in puzzle.fixed]
    orders = [order for order in permutations(range(puzzle.steps)) if all_free(puzzle, order)]
    for number in range(len(loose) + 1):
        for chosen in combinations(loose, number):
            if any(keeps(puzzle, order, frozenset(chosen)) for order in orders):
                return number
    return None
