"""The register of calls in the making, against a plain list of them; and that framing costs no more than the fittings it places."""

from __future__ import annotations

import sys
from collections.abc import Callable
from dataclasses import replace
from types import FrameType
from typing import Any

import pytest
from hoopwright.framing import frame
from hoopwright.framing.drafts import Draft, Drafts
from hoopwright.framing.steps import Steps
from hoopwright.grammar import load_grammar
from hoopwright.model.outline import Source
from hoopwright.parsing import parse
from hypothesis import given
from hypothesis import strategies as st
from parsing.mini import manual, outlined

STEPS = Steps(outlined(manual(["Slide a ridge clip onto hoop 1.", "Slide a lamp ring onto hoop 2.", "Stand the hoops."])))
IDS = [step for step in STEPS.index if STEPS.label(step)]
PARTS = ["ridge clip", "clamp bolt", "wing nut"]
SOURCE = Source("D1", 1, 0, 1, "x")

# what is done: (part, hoop, step, quantity, which of the drafts it holds), or which draft is forgotten, or given another number
adds = st.tuples(
    st.sampled_from(PARTS), st.sampled_from([None, 1, 2, 3]), st.sampled_from(IDS), st.integers(0, 4), st.none() | st.integers(0, 30)
)
deeds = st.lists(adds | st.tuples(st.just("forget"), st.integers(0, 30)) | st.tuples(st.just("take"), st.integers(0, 30)), max_size=40)


def follow(register: Drafts, plain: list[Draft], deed: tuple[Any, ...], number: int) -> list[Draft]:
    """Do one thing to the register and to the plain list."""
    chosen = plain[deed[-1] % len(plain)] if plain and deed[-1] is not None else None
    if deed[0] == "forget":
        gone = [] if chosen is None else [chosen]
        register.forget(gone)
        return [d for d in plain if d not in gone and not any(d.holds is g for g in gone)]
    if deed[0] == "take":
        if chosen is not None:
            register.take(chosen, chosen.quantity * 2)
        return plain
    part, hoop, step, quantity, _ = deed
    made = Draft(part, quantity, hoop, "hoop" if hoop else "ridge bar", step, SOURCE, holds=chosen, sequence=number)
    register.add([made])
    return [*plain, made]


def same(found: Any, expected: list[Draft]) -> None:
    assert [id(d) for d in found] == [id(d) for d in expected]


@given(deeds)
def test_the_register_finds_what_a_search_would_find(deeds: list[tuple[Any, ...]]) -> None:
    register, plain = Drafts(STEPS), list[Draft]()
    for number, deed in enumerate(deeds):
        register.bare("ridge clip", "clamp bolt")  # from the first time that it is asked for, it has to be kept up to date
        plain = follow(register, plain, deed, number)
        same(register, plain)
        same(register.bare("ridge clip", "clamp bolt"), bare(plain, "ridge clip", "clamp bolt"))
    same(register.bare("clamp bolt", "wing nut"), bare(plain, "clamp bolt", "wing nut"))
    for part in PARTS:
        same(register.on(part, [3, 1]), [d for d in plain if d.part == part and d.hoop in (1, 3)])
        same(register.on_hoop(part, None), [d for d in plain if d.part == part and d.hoop is None])
        assert register.pieces(part) == sum(d.quantity for d in plain if d.part == part)
        assert register.has_any([part]) == any(d.part == part for d in plain)
        assert register.on_member(part, "ridge bar") == any(d.part == part and d.hoop is None for d in plain)
    for step in IDS:
        same(register.of_parts(PARTS[:2], [step, step]), [d for d in plain if d.part in PARTS[:2] and d.step == step])
        assert set(register.of_step[step].by_hoop) == {d.hoop for d in plain if d.step == step}
    for d in plain:
        assert d in register
        assert replace(d) not in register
        same(register.fasteners(d), [x for x in plain if x.holds is d])
    for on_hoops in (False, True):
        steps = [d.step for d in plain if d.hoop is not None or not on_hoops]
        last = register.last_step(STEPS.section[IDS[0]], on_hoops=on_hoops)
        assert last == max(steps, key=lambda step: STEPS.index[step], default=None)


def bare(plain: list[Draft], part: str, fastener: str) -> list[Draft]:
    return [d for d in plain if d.part == part and not any(x.holds is d and x.part == fastener for x in plain)]


def told_one_by_one(hoops: int) -> list[str]:
    """Five steps for every hoop, and a rule for all of them."""
    steps = []
    for hoop in range(1, hoops + 1):
        steps += [
            f"Slide a ridge clip onto hoop {hoop} and close it with one clamp bolt.",
            f"Slide a crop clip onto each leg of hoop {hoop}, 900 mm up from the foot.",
            f"Slide a brace clip onto the left leg of hoop {hoop}, 150 mm above the crop clip. Repeat on the other side.",
            f"Slide two lamp rings onto hoop {hoop}.",
            f"Drive a joint screw through each joint of hoop {hoop}. Stand hoop {hoop}.",
        ]
    return [*steps, "Each crop clip takes one coach bolt and one wing nut."]


def told_once(hoops: int) -> list[str]:
    """The first hoop, and that the others are done like it."""
    first, rule = told_one_by_one(1)[:-1], told_one_by_one(1)[-1]
    return [*first, *(f"Repeat steps 1 to 5 on hoop {hoop}." for hoop in range(2, hoops + 1)), rule]


def operations(steps: list[str], hoops: int) -> int:
    """How many operations of the interpreter the framing of a manual takes."""
    contents = outlined(manual(steps, hoops=hoops, default=2000))
    reading = parse(contents, load_grammar())
    count = 0

    def trace(running: FrameType, event: str, _: object) -> Any:
        nonlocal count
        running.f_trace_opcodes = True
        count += event == "opcode"
        return trace

    before = sys.gettrace()
    sys.settrace(trace)
    try:
        frame(contents, reading.facts, reading.parts, reading.sentences, reading.member_numbers)
    finally:
        sys.settrace(before)
    return count


@pytest.mark.parametrize("told", [told_one_by_one, told_once])
def test_twice_the_hoops_take_twice_the_work(told: Callable[[int], list[str]]) -> None:
    assert operations(told(80), 80) < 2.4 * operations(told(40), 40)
