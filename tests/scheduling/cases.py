"""Random small cases for the core, and two other ways to answer the same question.

``clingo_answer`` states the problem as an answer-set program in which a ring floods in from the open ends, cell by cell; ``walk_answer``
moves a ring along a row of cells, one cell at a time. Neither shares a line with the solver.
"""

from __future__ import annotations

import os

import clingo
from hoopwright.scheduling.ring import Ring
from hoopwright.scheduling.solver import Case, Change, GateState
from hypothesis import strategies as st

EXAMPLES = int(os.environ.get("HOOPWRIGHT_EXAMPLES", "300"))
# Verdicts against clingo: 3,000 whenever everything has to hold (.ci/run sets CI), about 40 s; 300 are enough beside other work.
VERDICTS = max(EXAMPLES, 3000) if os.environ.get("CI") else EXAMPLES
CELLS = 4  # places on one tube
STATES: tuple[GateState, ...] = ("shut", "shut", "shut", "open", "through")


@st.composite
def cases(draw: st.DrawFn, most_rings: int = 6, most_steps: int = 6, gate_steps: frozenset[int] | None = None) -> Case:
    """A chain of 1 to 3 tubes with up to six rings (some at the same place, some at none known) and up to five changes of gates.

    ``gate_steps``: the only steps that change gates; rings then go on in other steps, but for one in eight.
    """
    tubes = draw(st.sampled_from((1, 1, 2, 3)))
    steps = most_steps if gate_steps is not None else draw(st.integers(1, most_steps))
    any_step = st.integers(0, steps - 1)
    ring_step, gate_step = any_step, any_step
    if gate_steps is not None:
        gate_step = st.sampled_from(sorted(gate_steps))
        quiet = st.sampled_from([step for step in range(steps) if step not in gate_steps])
        ring_step = st.integers(0, 7).flatmap(lambda odd: quiet if odd else any_step)
    rings = tuple(draw(_rings(number, tubes, ring_step)) for number in range(draw(st.integers(1, most_rings))))
    changes: list[Change] = []
    slots: dict[int, int] = {}
    for _ in range(draw(st.integers(0, 5))):
        step = draw(gate_step)
        slot = slots.get(step, 0)
        slots[step] = slot + 1
        changes.append(Change(step, slot, draw(st.integers(0, tubes)), draw(st.sampled_from(STATES))))
    same = [(a.id, b.id) for a in rings for b in rings if a.id < b.id and a.step == b.step]
    after = frozenset(draw(st.sampled_from([pair, pair[::-1]])) for pair in same if draw(st.booleans()))
    return Case(tubes, rings, tuple(changes), after)


@st.composite
def _rings(draw: st.DrawFn, number: int, tubes: int, step: st.SearchStrategy[int]) -> Ring:
    tube = draw(st.integers(0, tubes - 1))
    cell = draw(st.sampled_from((None, *range(CELLS), *range(CELLS))))
    known = (("along", tube * 1000.0 + cell * 100.0 + 50.0),) if cell is not None else ()
    several = cell is None and tubes > 1 and draw(st.booleans())
    on = tuple(range(tubes)) if several else (tube,)
    return Ring(f"r{number}", on, draw(step), draw(st.integers(0, 2)), known, draw(st.integers(0, 7)) > 0)


PROGRAM = """
% Time: moments (S,L) of the manual are numbered 0.. in m/3; every ring R is asked about at each of its moments ask(R,M).
% cell(T,C): places on a tube. in(R,T,C): ring R sits there; somewhere(R,T): on that tube, place unknown.
at(M,G,"open") :- moment(M,S,L), gate(G), not changed(M,G).
before(M,K) :- moment(M,S,L), change(K,S2,L2,_,_), S2 < S.
before(M,K) :- moment(M,S,L), change(K,S,L2,_,_), L2 < L.
changed(M,G) :- before(M,K), change(K,_,_,G,_).
superseded(M,K) :- before(M,K), before(M,K2), change(K,S,L,G,_), change(K2,S2,L2,G,_), S2 > S.
superseded(M,K) :- before(M,K), before(M,K2), change(K,S,L,G,_), change(K2,S,L2,G,_), L2 > L.
at(M,G,Z) :- before(M,K), not superseded(M,K), change(K,_,_,G,Z).

% An end is where a ring can start: an open gate, or a foot that is open or "through".
start(M,G) :- at(M,G,"open").
start(M,G) :- at(M,G,"through"), foot(G).

% Obstacles: a ring that is on (on/2 says which at which question) stops the flood in its cell.
stop(Q,T,C) :- ask(R,Q,M), on(Q,R2), R2 != R, in(R2,T,C), not mine(R,T,C).
% A ring on a known tube at an unknown place stops only a flood that has to cross the whole tube.
wall(Q,T) :- ask(R,Q,M), on(Q,R2), R2 != R, somewhere(R2,T).

% Flood from left to right and from right to left, each kept apart: a ring never turns round.
wet(Q,T,0,1) :- ask(R,Q,M), start(M,T), tube(T).
wet(Q,T,n,-1) :- ask(R,Q,M), start(M,T+1), tube(T).
wet(Q,T,C+1,1) :- wet(Q,T,C,1), C < n, not stop(Q,T,C).
wet(Q,T,C-1,-1) :- wet(Q,T,C,-1), C > 0, not stop(Q,T,C-1).
% wet(..,C,..) is the border left of cell C; border n is the tube's right end. Crossing a whole tube needs no wall on it.
wet(Q,T+1,0,1) :- wet(Q,T,n,1), ask(R,Q,M), at(M,T+1,"through"), tube(T+1), not wall(Q,T).
wet(Q,T-1,n,-1) :- wet(Q,T,0,-1), ask(R,Q,M), at(M,T,"through"), tube(T-1), not wall(Q,T).

% A ring gets to its own cell from either border; one of unknown place is content with any border of its tubes that is wet.
free(Q) :- ask(R,Q,M), in(R,T,C), wet(Q,T,C,1).
free(Q) :- ask(R,Q,M), in(R,T,C), wet(Q,T,C+1,-1).
free(Q) :- ask(R,Q,M), may(R,T), wet(Q,T,_,_).

% The same flood with no ring on at all tells trapped from blocked.
damp(Q,T,1) :- ask(R,Q,M), start(M,T), tube(T).
damp(Q,T,-1) :- ask(R,Q,M), start(M,T+1), tube(T).
damp(Q,T+1,1) :- damp(Q,T,1), ask(R,Q,M), at(M,T+1,"through"), tube(T+1).
damp(Q,T-1,-1) :- damp(Q,T,-1), ask(R,Q,M), at(M,T,"through"), tube(T-1).
open(Q) :- ask(R,Q,M), in(R,T,_), damp(Q,T,_).
open(Q) :- ask(R,Q,M), may(R,T), damp(Q,T,_).
#show free/1.
#show open/1.
"""


def _facts(case: Case) -> tuple[str, dict[tuple[str, int], int]]:
    """The case as facts, and the number of each question: (ring, own step) at its call, (ring, s) at the end of step s < own step."""
    lines = [f"tube({t})." for t in range(case.tubes)] + [f"gate({g})." for g in range(case.tubes + 1)] + [f"foot(0). foot({case.tubes})."]
    lines += [f'change({k},{c.step},{c.slot},{c.gate},"{c.state}").' for k, c in enumerate(case.changes)]
    for ring in case.rings:
        r = f'"{ring.id}"'
        if ring.places:
            cell = int((ring.places[0][1] - ring.tubes[0] * 1000 - 50) / 100)
            lines.append(f"in({r},{ring.tubes[0]},{cell}). mine({r},{ring.tubes[0]},{cell}).")
        else:
            lines += [f"may({r},{t})." for t in ring.tubes]
            lines += [f"somewhere({r},{ring.tubes[0]})."] if len(ring.tubes) == 1 else []
    numbers: dict[tuple[str, int], int] = {}
    moments: dict[tuple[int, int], int] = {}
    for ring in case.rings:
        if not ring.slides:
            continue
        for step in range(-1, ring.step + 1):
            own = step == ring.step
            moment = (ring.step, ring.slot) if own else (step + 1, 0)
            m = moments.setdefault(moment, len(moments))
            q = numbers.setdefault((ring.id, step), len(numbers))
            lines.append(f'ask("{ring.id}",{q},{m}).')
            for other in case.rings:
                said = other.step == ring.step and (other.id, ring.id) in case.after
                on = (other.step, other.slot) < (ring.step, ring.slot) or said if own else other.step <= step
                if on and other.id != ring.id:
                    lines.append(f'on({q},"{other.id}").')
    lines += [f"moment({m},{s},{slot})." for (s, slot), m in moments.items()]
    return "\n".join(lines), numbers


def clingo_answer(case: Case) -> dict[str, tuple[str, int | None]]:
    """(answer, last free step) of every ring that slides, by clingo."""
    facts, numbers = _facts(case)
    control = clingo.Control(["--warn=none"])
    control.add("base", [], f"#const n={CELLS}.\n{PROGRAM}{facts}")
    control.ground([("base", [])])
    with control.solve(yield_=True) as handle:
        model = next(iter(handle))
        free = {atom.arguments[0].number for atom in model.symbols(shown=True) if atom.name == "free"}
        unlocked = {atom.arguments[0].number for atom in model.symbols(shown=True) if atom.name == "open"}
    found: dict[str, tuple[str, int | None]] = {}
    for ring in case.rings:
        if not ring.slides:
            continue
        own = numbers[ring.id, ring.step]
        answer = "free" if own in free else "blocked" if own in unlocked else "trapped"
        last = max((step for step in range(-1, ring.step + 1) if numbers[ring.id, step] in free), default=None)
        found[ring.id] = (answer, last)
    return found


def walk_answer(case: Case) -> dict[str, tuple[str, int | None]]:
    """The same by moving a ring along a row of cells until it can go no further."""
    return {ring.id: _walk(case, ring) for ring in case.rings if ring.slides}


def _walk(case: Case, ring: Ring) -> tuple[str, int | None]:
    def reached(moment: tuple[int, int], on: list[Ring]) -> tuple[bool, bool]:
        gates: list[str] = ["open"] * (case.tubes + 1)
        for change in sorted(case.changes, key=lambda c: (c.step, c.slot)):
            if (change.step, change.slot) < moment:
                gates[change.gate] = change.state
        return _walks(case, ring, gates, on), _walks(case, ring, gates, [])

    here = [r for r in case.rings if r is not ring]
    own = [r for r in here if (r.step, r.slot) < (ring.step, ring.slot) or (r.step == ring.step and (r.id, ring.id) in case.after)]
    free, unlocked = reached((ring.step, ring.slot), own)
    if free:
        return "free", ring.step
    last = max((s for s in range(-1, ring.step) if reached((s + 1, 0), [r for r in here if r.step <= s])[0]), default=None)
    return ("blocked" if unlocked else "trapped"), last


def _walks(case: Case, ring: Ring, gates: list[str], on: list[Ring]) -> bool:
    """Push the ring in at every open end, in either direction, and see whether it comes to its place."""
    taken: dict[tuple[int, int], bool] = {}
    walls: set[int] = set()
    for other in on:
        if len(other.tubes) > 1:
            continue
        if other.places:
            taken[other.tubes[0], int((other.places[0][1] % 1000 - 50) / 100)] = True
        else:
            walls.add(other.tubes[0])
    goal = (ring.tubes[0], int((ring.places[0][1] % 1000 - 50) / 100)) if ring.places else None
    for gate in range(case.tubes + 1):
        usable = gates[gate] == "open" or (gates[gate] == "through" and gate in (0, case.tubes))
        for direction in (1, -1) if usable else ():
            tube = gate if direction > 0 else gate - 1
            while 0 <= tube < case.tubes:
                if goal is None and tube in ring.tubes:
                    return True
                stopped = False
                for cell in range(CELLS) if direction > 0 else reversed(range(CELLS)):
                    if (tube, cell) == goal:
                        return True
                    if (tube, cell) in taken:
                        stopped = True
                        break
                tube += direction
                passed = tube if direction > 0 else tube + 1
                if stopped or tube - direction in walls or not 0 < passed < case.tubes or gates[passed] != "through":
                    break
    return False
