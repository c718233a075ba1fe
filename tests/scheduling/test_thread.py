"""The thread-on order: deepest first on each end, the shorter way round, the same every run."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.model.schedule import Placement
from hoopwright.scheduling import schedule
from hypothesis import given, settings
from hypothesis import strategies as st

from .kits import Kit

THREE = (("left leg", "left", 0.0, 1000.0), ("bow", "centre", 1000.0, 5000.0), ("right leg", "right", 5000.0, 6000.0))


def turns(kit: Kit) -> dict[str, tuple[str | None, int | None]]:
    return {placement.fitting: (placement.thread_end, placement.thread_order) for placement in schedule(kit.frame()).placements}


def on_bow(*rings: tuple[str, float | None]) -> Kit:
    kit = Kit(hoops=1, tubes=THREE)
    for name, mm in rings:
        kit.step(f"Slide a {name} onto the bow.")
        kit.call(name, tube=1, along_mm=mm)
    kit.step("Join and stand.")
    kit.act("join")
    kit.act("stand")
    return kit


def test_deepest_first_from_the_nearer_end() -> None:
    kit = on_bow(("a", 2900.0), ("b", 1500.0), ("c", 3500.0), ("d", 4500.0), ("e", 2000.0))
    left = {"a": ("bow, left end", 1), "e": ("bow, left end", 2), "b": ("bow, left end", 3)}
    assert turns(kit) == {**left, "c": ("bow, right end", 1), "d": ("bow, right end", 2)}


def test_the_only_free_end_is_taken_though_it_is_farther() -> None:
    kit = Kit(hoops=1, tubes=THREE)
    kit.step("Stand the legs.")
    kit.act("stand")
    kit.step("Slide a clip onto the left leg.")
    kit.call("clip", tube=0, side="left", along_mm=100.0)
    kit.step("Join the bows.")
    kit.act("join")
    assert turns(kit)["clip"] == ("left leg, upper end", 1)


def test_the_end_that_the_manual_names_is_taken() -> None:
    kit = on_bow(("a", 1500.0))
    kit.calls[0] = replace(kit.calls[0], enters=1)
    assert turns(kit)["a"] == ("bow, right end", 1)


def test_ends_are_named_by_foot_upper_and_side() -> None:
    kit = Kit(hoops=1, tubes=THREE)
    kit.step("Slide clips on.")
    kit.call("low", tube=0, side="left", along_mm=100.0)
    kit.call("high", tube=0, side="left", along_mm=900.0)
    kit.call("low right", tube=2, side="right", along_mm=5900.0)
    kit.call("high right", tube=2, side="right", along_mm=5100.0)
    ends = {name: end for name, (end, _) in turns(kit).items()}
    assert ends == {
        "low": "left leg, foot end",
        "high": "left leg, upper end",
        "low right": "right leg, foot end",
        "high right": "right leg, upper end",
    }


def test_unknown_places_keep_the_manual_order_and_say_so() -> None:
    kit = on_bow(("a", None), ("b", None), ("c", 1500.0))
    kit.calls = [replace(call, enters=-1) for call in kit.calls]
    result = schedule(kit.frame())
    assert [(p.fitting, p.thread_order) for p in result.placements] == [("a", 1), ("b", 2), ("c", 3)]
    assert all(any("manual's order" in text for text in p.assumed) for p in result.placements)


def test_ties_keep_the_manual_order_and_say_so() -> None:
    result = schedule(on_bow(("a", 1500.0), ("b", 1500.0)).frame())
    assert [(p.fitting, p.thread_order) for p in result.placements] == [("a", 1), ("b", 2)]
    assert all(any("manual's order" in text for text in p.assumed) for p in result.placements)


def test_known_places_say_nothing() -> None:
    assert all(p.assumed == () for p in schedule(on_bow(("a", 1500.0), ("b", 2500.0)).frame()).placements)


def test_what_does_not_slide_has_no_turn() -> None:
    kit = on_bow(("a", 1500.0))
    kit.part("strap", "open")
    kit.step("Put a strap round the bow.")
    kit.call("strap", tube=1, along_mm=2000.0)
    assert turns(kit)["strap"] == (None, None)


def test_hoops_that_are_alike_get_the_same_turns() -> None:
    kit = Kit(hoops=5, tubes=THREE)
    kit.step("Slide three rings onto each bow.")
    for name, mm in (("a", 1500.0), ("b", 2500.0), ("c", 4600.0)):
        kit.call(name, tube=1, along_mm=mm)
    by_hoop: dict[str | None, set[tuple[str, str | None, int | None]]] = {}
    for p in schedule(kit.frame()).placements:
        by_hoop.setdefault(p.hoop, set()).add((p.fitting, p.thread_end, p.thread_order))
    assert len(by_hoop) == 5
    assert all(turn == {("a", "bow, left end", 2), ("b", "bow, left end", 1), ("c", "bow, right end", 1)} for turn in by_hoop.values())


def _slid_on(placements: list[Placement]) -> list[str]:
    """Slide the fittings on in thread order, each from its end, and read the row from left to right."""
    row: list[str] = []
    for end in ("bow, left end", "bow, right end"):
        for p in sorted((p for p in placements if p.thread_end == end), key=lambda p: p.thread_order or 0):
            row = [p.fitting, *row] if end == "bow, left end" else [*row, p.fitting]
        if end == "bow, left end":
            left, row = row, []
    return left + row


@settings(deadline=None)
@given(st.lists(st.integers(10, 49), min_size=1, max_size=8, unique=True))
def test_sliding_on_in_thread_order_gives_the_order_on_the_tube(places: list[int]) -> None:
    kit = on_bow(*((f"ring {place}", place * 100.0) for place in places))
    result = schedule(kit.frame())
    assert _slid_on(list(result.placements)) == [f"ring {place}" for place in sorted(places)]
    for p in result.placements:
        assert p.along_mm is not None
    assert schedule(kit.frame()) == result
