"""Hoops on which the same is done share the work of solving them, also where each is dressed in steps of its own."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hoopwright.scheduling.chain import Chain
from hoopwright.scheduling.solver import Verdict, solve


def alike(chain: Chain) -> tuple[object, ...]:
    """A key that is equal for hoops on which the same steps do the same at the same places."""
    return (tuple(ring.step for ring in chain.case.rings), tuple(change.step for change in chain.case.changes), *_pattern(chain))


def same_pattern(chain: Chain) -> tuple[object, ...]:
    """A key that is equal for hoops on which the same is done at the same places in the same order, if not in the same steps."""
    rank = {step: place for place, step in enumerate(_steps(chain))}
    calls = (chain.calls[ring.id] for ring in chain.case.rings)
    return (
        tuple(rank[ring.step] for ring in chain.case.rings),
        tuple(rank[change.step] for change in chain.case.changes),
        tuple((call.when, call.side, call.enters) for call in calls),
        *_pattern(chain),
    )


def _pattern(chain: Chain) -> tuple[object, ...]:
    """The hoop's case without its steps, rings told by their place in the hoop."""
    number = {ring.id: place for place, ring in enumerate(chain.case.rings)}
    rings = tuple(
        (ring.tubes, ring.slot, ring.slides, tuple((_general(name, number), mm) for name, mm in ring.places), ring.limits)
        for ring in chain.case.rings
    )
    changes = tuple((change.slot, change.gate, change.state) for change in chain.case.changes)
    return chain.case.tubes, rings, changes, frozenset((number[a], number[b]) for a, b in chain.case.after)


def _general(reference: str, number: dict[str, int]) -> object:
    """A reference to a call by its place in the hoop, not by its id."""
    return number.get(reference[5:], reference) if reference.startswith("call ") else reference


def _steps(chain: Chain) -> list[int]:
    """The steps that do anything on the hoop."""
    return sorted({*(ring.step for ring in chain.case.rings), *(change.step for change in chain.case.changes)})


def verdicts(chains: Iterable[Chain]) -> list[tuple[Chain, tuple[Verdict, ...], Chain]]:
    """Each chain with its verdicts and the chain that they were worked out on; hoops of one pattern share them.

    The verdicts name the rings of that second chain: the ring at the same place of ``case.rings`` is the one meant. Their steps are
    those of the first chain.
    """
    solved: dict[tuple[object, ...], tuple[Chain, tuple[Verdict, ...]]] = {}
    found: list[tuple[Chain, tuple[Verdict, ...], Chain]] = []
    for chain in chains:
        key = same_pattern(chain)
        if key not in solved:
            solved[key] = (chain, solve(chain.case))
        model, result = solved[key]
        found.append((chain, result if model is chain else _in_steps_of(chain, model, result), model))
    return found


def _in_steps_of(chain: Chain, model: Chain, result: tuple[Verdict, ...]) -> tuple[Verdict, ...]:
    """The model's verdicts with the chain's own steps. The last free step is a ring's own, or the one just before something is done."""
    steps = dict(zip(_steps(model), _steps(chain), strict=True))
    out: list[Verdict] = []
    for verdict in result:
        last = verdict.last_free
        if last is not None:
            last = steps[last] if verdict.answer == "free" else steps[last + 1] - 1
        out.append(replace(verdict, last_free=last))
    return tuple(out)
