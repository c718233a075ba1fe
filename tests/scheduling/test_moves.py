"""The revised order of work on frames: what moves, in front of what, and why."""

from __future__ import annotations

from hoopwright.model.frame import Bar
from hoopwright.scheduling import schedule

from .kits import Kit

TUBES = (("left bow", "left", 0.0, 3000.0), ("right bow", "right", 3000.0, 6000.0))


def late_ring() -> Kit:
    kit = Kit(tubes=TUBES)
    kit.step("Slide a purlin clip onto each bow.")
    kit.call("purlin clip", tube=0, side="left", along_mm=800.0)
    kit.call("purlin clip", tube=1, side="right", along_mm=5200.0)
    kit.step("Slide a ridge clip onto each left bow.")
    kit.call("ridge clip", tube=0, side="left", along_mm=2900.0)
    kit.step("Join the bows.")
    kit.act("join")
    kit.step("Stand the hoops.")
    kit.act("stand")
    kit.step("Slide a prop ring onto both bows of hoop 3.")
    kit.call("prop ring", [3], tube=0, side="left", along_mm=1100.0)
    kit.call("prop ring", [3], tube=1, side="right", along_mm=4900.0)
    kit.step("Pull the cover over.")
    return kit


def test_nothing_moves_in_a_sound_manual() -> None:
    kit = late_ring()
    kit.calls = [call for call in kit.calls if call.part != "prop ring"]
    result = schedule(kit.frame())
    assert result.moves == ()
    assert result.work_order == ("S1", "S2", "S3", "S4", "S5", "S6")


def test_one_move_frees_both_rings_of_a_step() -> None:
    result = schedule(late_ring().frame())
    assert [finding.code for finding in result.warnings] == ["trapped"]
    (move,) = result.moves
    assert (move.step, move.before, move.fitting, move.hoops) == ("S5", "S2", "prop ring", ("H3",))
    assert result.work_order == ("S1", "S5", "S2", "S3", "S4", "S6")
    assert "step 2 puts the ridge clip in the way" in move.reason
    assert "step 3 shuts the way" in move.reason


def test_the_new_order_leaves_nothing_trapped() -> None:
    kit = late_ring()
    order = schedule(kit.frame()).work_order
    assert not schedule(kit.frame(order=order)).warnings


def test_a_clip_is_not_moved_behind_the_bar_that_it_carries() -> None:
    kit = Kit(hoops=1, tubes=TUBES)
    kit.step("Stand the halves.")
    kit.act("stand")
    for number, (name, mm) in enumerate((("purlin clip", 2800.0), ("a ring", 400.0), ("b ring", 500.0), ("c ring", 600.0)), start=2):
        kit.step(f"Step {number}: slide on the {name}.")
        kit.call(name, tube=0, side="left", along_mm=mm)
        if number == 2:
            kit.step("Lay the purlin in.")
    kit.step("Join.")
    kit.act("join")
    assert [move.step for move in schedule(kit.frame()).moves] == ["S2"]
    kit.bars.append(Bar("purlin", (1,), "S3"))
    result = schedule(kit.frame())
    assert result.work_order.index("S2") < result.work_order.index("S3")
    assert {move.step for move in result.moves} == {"S2", "S3"}  # the purlin goes with its clip: two moves, not three


def test_a_wish_for_a_later_step_moves_it_and_is_quoted() -> None:
    kit = Kit()
    kit.step("Fit the brace; the latch of step 3 must be on by then.")
    kit.call("brace")
    kit.wish("S3", "S1")
    kit.step("Tighten.")
    kit.step("Fit the latch.")
    kit.call("latch")
    result = schedule(kit.frame())
    assert result.work_order in (("S3", "S1", "S2"), ("S2", "S3", "S1"))
    assert len(result.moves) == 1
    assert "the latch of step 3 must be on by then" in result.moves[0].reason


def test_steps_that_join_or_stand_do_not_move() -> None:
    kit = Kit(hoops=1, tubes=TUBES)
    kit.step("Join and stand the hoop, then slide a ring onto it.")
    kit.act("join", sequence=1)
    kit.act("stand", sequence=2)
    kit.call("ring", tube=0, order=3)
    result = schedule(kit.frame())
    assert [finding.code for finding in result.warnings] == ["trapped"]
    assert result.moves == ()
