"""``mismatch`` and the meanings of sizes. Tables: ASME B36.10M, EN 10255, ANSI C80.3, EN 39, as in the project's trade notes."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hoopwright.model.frame import Bar
from hoopwright.model.schedule import Finding
from hoopwright.scheduling import schedule
from hoopwright.scheduling.sizes import meanings, printed_sizes, suits

from .kits import Kit

IN = 25.4


@pytest.mark.parametrize(
    ("fitting", "tube"),
    [
        (42.0, 1.66 * IN),  # rounded metric twin of NPS 1 1/4
        (42.4, 1.66 * IN),  # EN against ASME
        (1.25 * IN, 42.0),  # nominal bore against outside diameter
        (42.2, 1.25 * IN),
        (48.0, 1.9 * IN),
        (48.3, 1.5 * IN),
        (60.0, 2 * IN),
        (1.315 * IN, 1 * IN),
        (1.375 * IN, 33.4),  # fence rail sold as 1 3/8 in
        (1.375 * IN, 1.315 * IN),
        (1.5 * IN, 38.0),  # an outside diameter in inches is one too
        (25.0, 1 * IN),
        (38.4, 1.25 * IN),  # thin-wall conduit
        (21.3, 0.5 * IN),
        (76.1, 2.5 * IN),
        (50.0, 50.0),
        (50.0, 2 * IN),  # 50.8 outside
    ],
)
def test_twins_suit_each_other(fitting: float, tube: float) -> None:
    assert suits(fitting, tube)
    assert suits(tube, fitting)


@pytest.mark.parametrize(
    ("fitting", "tube"),
    [(1.315 * IN, 1.66 * IN), (42.0, 48.0), (48.3, 50.0), (32.0, 42.0), (1 * IN, 1.66 * IN), (60.3, 48.3), (38.0, 42.0), (48.26, 42.164)],
)
def test_other_sizes_do_not(fitting: float, tube: float) -> None:
    assert not suits(fitting, tube)


def test_words_narrow_the_meanings() -> None:
    assert suits(1.25 * IN, 42.2, "1 1/4 in NB")
    assert not suits(1.25 * IN, 32.0, "1 1/4 in NB")
    assert not suits(1.25 * IN, 42.2, "1 1/4 in OD")
    assert suits(32.0, 42.4, "DN 32")
    assert not suits(32.0, 42.4, "32 mm")
    assert meanings(48.3) == (48.3,)


@pytest.mark.parametrize(
    ("text", "sizes"),
    [
        ("42 mm bow, 32 mm bar", (42.0, 32.0)),
        ("1.66 x 1.315 in [42.2 x 33.4 mm]", (1.66 * IN, 1.315 * IN, 42.2, 33.4)),
        ("1-3/8 in", (1.375 * IN,)),
        ("1 1/4 in", (1.25 * IN,)),
        ("1⅜ in", (1.375 * IN,)),
        ("1/2 in", (12.7,)),
        ("clip for 5 rails", ()),
        ("", ()),
    ],
)
def test_printed_sizes(text: str, sizes: tuple[float, ...]) -> None:
    assert printed_sizes(text) == pytest.approx(sizes)


def found(kit: Kit) -> list[Finding]:
    return [finding for finding in schedule(kit.frame()).warnings if finding.code == "mismatch"]


def ring_kit(name: str = "tie ring", size: float | None = 1.315 * IN, tube: float | None = 1.66 * IN, **part: Any) -> Kit:
    kit = Kit(tube_size_mm=tube)
    kit.part(name, size_mm=size, **part)
    kit.step(f"Slide 1 {name} onto the left tube of hoops 1 and 3.")
    kit.call(name, [1, 3], tube=0, side="left")
    return kit


def test_a_ring_for_a_thinner_tube_on_the_hoop() -> None:
    (finding,) = found(ring_kit(size_text="1.315 in"))
    assert (finding.fitting, finding.hoops, finding.steps) == ("tie ring", ("H1", "H3"), ("S1",))
    assert "1.315 in" in finding.message
    assert "42.2 mm" in finding.message


def test_tubes_of_one_hoop_may_differ() -> None:
    kit = ring_kit(size=42.0, tube=None)
    kit.tube_sizes = (48.0, 42.0)
    assert found(kit)
    kit.tube_sizes = (42.0, 48.0)
    assert not found(kit)
    kit.calls[:] = [replace(call, tube=None, side=None) for call in kit.calls]
    kit.tube_sizes = (48.0, 42.0)
    assert not found(kit)


@pytest.mark.parametrize(
    "kit",
    [
        ring_kit(size=None),
        ring_kit(tube=None),
        ring_kit(size=42.0),
        ring_kit(size=33.4, other_sizes_mm=(42.2,)),
        ring_kit(size=32.0, size_text="32 mm bar, 42 mm bow"),
        ring_kit(name="joint bolt", size=8.0, form="fastener"),
        ring_kit(name="p clip 42 mm", size=32.0),
    ],
    ids=["no size", "no tube size", "same", "made for both", "both sizes printed", "a bolt", "size in the name"],
)
def test_near_misses(kit: Kit) -> None:
    assert not found(kit)


def test_a_clip_for_the_bar_that_it_speaks_of_is_none() -> None:
    kit = ring_kit(name="purlin clip", size=1.315 * IN)
    assert found(kit)
    kit.bars.append(Bar("side purlin", (1, 2, 3), "S1", size_mm=33.4))
    assert not found(kit)


def test_a_bar_of_that_size_elsewhere_does_not_excuse_a_ring_that_does_not_speak_of_it() -> None:
    kit = ring_kit()
    kit.bars += [Bar("ridge purlin", (1, 2, 3), "S1", size_mm=33.4), Bar("cross tie", (1, 3), "S1")]
    assert found(kit)


def test_a_ring_on_another_member_is_not_measured_against_the_hoop() -> None:
    kit = ring_kit()
    kit.calls.clear()
    kit.call("tie ring", (), member="door post")
    assert not found(kit)
