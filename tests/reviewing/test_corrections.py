"""The user's own corrections, structure facts and extras."""

from __future__ import annotations

from pathlib import Path

import pytest
from hoopwright.model.schedule import Schedule
from hoopwright.reviewing import Answers, Correction
from hoopwright.reviewing.store import buying, change, correcting

from reviewing.desks import kit, review_of


def _with(folder: Path, name: str, *corrections: Correction) -> tuple[Schedule, tuple[str, ...]]:
    review = review_of(kit(name), folder)
    if corrections:
        change(review.path, *[correcting(each) for each in corrections])
    settled = review.settled()
    return settled.schedule, tuple(each.why for each in settled.leftovers)


@pytest.fixture
def before(tmp_path: Path) -> Schedule:
    (tmp_path / "before").mkdir()
    return _with(tmp_path / "before", "meadow-5")[0]


def _part(schedule: Schedule, form: str = "before-joining") -> str:
    return next(each.fitting for each in schedule.placements if each.hoop == "H2" and each.when == form and each.quantity == 1)


def test_remove_takes_a_fitting_and_its_fasteners_from_a_hoop(tmp_path: Path, before: Schedule) -> None:
    part = _part(before)
    after, why = _with(tmp_path, "meadow-5", Correction("remove", part, hoops="2"))
    assert why == ()
    assert part not in after.counts["H2"]
    assert {hoop: row for hoop, row in after.counts.items() if hoop != "H2"} == {
        hoop: row for hoop, row in before.counts.items() if hoop != "H2"
    }
    assert all(after.counts["H2"].get(name, 0) <= number for name, number in before.counts["H2"].items())


def test_change_sets_the_number_at_each_place(tmp_path: Path, before: Schedule) -> None:
    part = _part(before)
    places = sum(each.fitting == part and each.hoop == "H2" for each in before.placements)
    after, why = _with(tmp_path, "meadow-5", Correction("change", part, quantity=3, hoops="2", note="the bag says so"))
    assert why == ()
    assert after.counts["H2"][part] == 3 * places
    mine = [each for each in after.placements if each.fitting == part and each.hoop == "H2"]
    assert all(any("your correction" in text and "the bag says so" in text for text in each.assumed) for each in mine)


def test_add_puts_one_on_each_hoop_named(tmp_path: Path, before: Schedule) -> None:
    part = _part(before)
    step = next(each.label for each in before.steps if each.label)
    after, why = _with(
        tmp_path, "meadow-5", Correction("add", part, quantity=2, hoops="1 to 3", at="400 mm above the ground", side="left", step=step)
    )
    assert why == ()
    for hoop, row in before.counts.items():
        assert after.counts[hoop].get(part, 0) - row.get(part, 0) == (2 if hoop in ("H1", "H2", "H3") else 0)
    added = [each for each in after.placements if "your correction" in each.source.quote]
    assert {(each.datum, each.offset_mm, each.side) for each in added} == {("ground", 400.0, "left")}


def test_move_changes_the_place_and_nothing_else(tmp_path: Path, before: Schedule) -> None:
    part = _part(before)
    after, why = _with(tmp_path, "meadow-5", Correction("move", part, at="450 mm above the ground"))
    assert why == ()
    assert after.counts == before.counts
    assert {(each.datum, each.offset_mm) for each in after.placements if each.fitting == part and each.hoop} == {("ground", 450.0)}


def test_structure_facts_go_before_the_manuals(tmp_path: Path, before: Schedule) -> None:
    facts = [Correction("structure", fact="spacing", value="1.5 m"), Correction("structure", fact="hoops", value="6")]
    after, why = _with(tmp_path, "meadow-5", *facts)
    assert why == ()
    assert after.structure.spacing_mm == 1500.0
    assert [hoop.station_mm for hoop in after.structure.hoops] == [1500.0 * number for number in range(6)]
    assert len(before.structure.hoops) != 6


@pytest.mark.parametrize(
    ("correction", "words"),
    [
        (Correction("remove", "golden hook", hoops="2"), "no part"),
        (Correction("remove", "ridge clip", hoops="2", step="999"), ""),
        (Correction("structure", fact="width", value="wide"), "no length"),
        (Correction("structure", fact="hoops", value="0"), "no number of hoops"),
        (Correction("structure", fact="hoops", value="100000"), "no number of hoops"),
    ],
)
def test_a_correction_that_fits_nothing_is_listed_with_the_reason(
    tmp_path: Path, before: Schedule, correction: Correction, words: str
) -> None:
    after, why = _with(tmp_path, "meadow-5", correction)
    assert len(why) == 1 and words in why[0]
    assert after.counts == before.counts


def test_an_extra_that_was_not_bought_is_left_out(tmp_path: Path) -> None:
    review = review_of(kit("valley-7"), tmp_path)
    extra = review.settled().schedule.options[0]
    change(review.path, buying(extra.upper(), False), buying("moon roof", True))
    settled = review.settled()
    assert extra not in settled.schedule.options
    assert [each.what for each in settled.leftovers] == ["extra moon roof: bought"]
    assert all(each.option != extra for each in settled.schedule.placements)


def test_nothing_settled_is_empty() -> None:
    assert Answers().empty
    assert not Answers(extras=(("shade rail", True),)).empty
