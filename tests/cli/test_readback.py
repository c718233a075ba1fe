"""``hoopwright readback``: the manual's sentences with what they were taken to say."""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest
from hoopwright.model.events import Event, EventKind
from hoopwright.model.outline import Source
from hoopwright.readback import event_words

from cli.running import change, run


def test_every_sentence_is_shown_with_what_it_says(manual: Path) -> None:
    ended = run("readback", manual)
    assert ended.code == 0
    lines = ended.out.splitlines()
    at = lines.index("  “Slide one ridge clip (B) onto the left half of each hoop.”")
    assert lines[at + 1].startswith("      adds 1 × ridge clip · hoops: each hoop · left ")
    assert "step 2 (page 1)" in lines
    for sentence in ("Stand the hoops on their ground tubes.", "Snap two cover clips (D) onto each hoop."):
        assert f"  “{sentence}”" in lines


def test_one_step_is_chosen_by_its_printed_label(manual: Path) -> None:
    for label in ("3", "3.", "(3)"):
        lines = run("readback", manual, "--step", label).out.splitlines()
        assert [line for line in lines if line.startswith("step ")] == ["step 3 (page 1)"]
        assert any("adds 2 × joint bolt" in line for line in lines)


def test_a_step_that_is_not_there_lists_the_labels(manual: Path) -> None:
    ended = run("readback", manual, "--step", "33")
    assert ended.code == 2
    assert ended.err == "hoopwright: no sentence was found under a step “33”; the labels are 1, 2, 3, 4, 5\n"


def test_a_bundle_says_which_document_a_step_is_in(manual: Path, extra: Path) -> None:
    out = run("readback", manual, extra).out
    assert "step 2 (back-yard.txt, page 1)" in out
    assert "step a (shade-rail.txt, page 1), optional extra “shade rail”" in out


def test_a_text_without_hoops_is_shown_too(folder: Path) -> None:
    """That is how somebody finds out why no schedule was made."""
    path = folder / "shelf.txt"
    path.write_text("SHELF\n\n1. Fit two brackets to the wall.\n", encoding="utf-8")
    ended = run("readback", path)
    assert ended.code == 0
    assert "Fit two brackets to the wall." in ended.out


def test_nothing_is_written(folder: Path, manual: Path) -> None:
    run("readback", manual)
    assert list(folder.iterdir()) == [manual]


def test_lengths_follow_the_units(folder: Path, manual: Path) -> None:
    change(manual, "two cover clips (D) onto each hoop.", "one cover clip (D) onto the left half of each hoop, 305 mm above the foot.")
    assert "305 mm up from the foot" in run("readback", manual, "--step", "5").out
    assert "1 ft up from the foot" in run("readback", manual, "--step", "5", "--units", "imperial").out


@pytest.mark.parametrize("kind", get_args(EventKind))
def test_every_kind_of_event_has_its_words(kind: EventKind) -> None:
    assert event_words(Event(kind, "D1.1", Source("D1", 1, 0, 4, "Fit.")))
