"""Answers that say who gets how many: on which hoops, on other members, on top of what is there; and warnings accepted."""

from __future__ import annotations

from pathlib import Path

import pytest
from hoopwright.model.errors import UsageError
from hoopwright.model.schedule import Question, Schedule
from hoopwright.reviewing.accepting import acceptance, accepted
from hoopwright.reviewing.session import Review

from reviewing.desks import kit, review_of

NAME = "e4-bundle"  # "Hang two tool hooks on hoops 3 and 4."


def _asked(review: Review) -> Question:
    return next(each for each in review.questions() if each.about == "quantity" and each.hoops)


def _hoops(made: Schedule, fitting: str | None) -> dict[str, int]:
    return {hoop: row[fitting] for hoop, row in made.counts.items() if fitting in row}


@pytest.mark.parametrize(
    ("words", "hoops", "elsewhere"),
    [
        ("1 on hoop 1; 3 on hoops 2 and 5", {"H1": 1, "H2": 3, "H5": 3}, 0),
        ("4 on the gate", {}, 4),
        ("2 on the gates; 1 on hoop 2", {"H2": 1}, 2),
        ("2 more on hoop 5", {"H3": 2, "H4": 2, "H5": 2}, 0),
        ("1 more on the gate", {"H3": 2, "H4": 2}, 1),
        ("none", {}, 0),
    ],
)
def test_the_words_say_where_all_of_them_go(tmp_path: Path, words: str, hoops: dict[str, int], elsewhere: int) -> None:
    review = review_of(kit(NAME), tmp_path)
    asked = _asked(review)
    before = review.settled().schedule
    assert _hoops(before, asked.fitting) == {"H3": 2, "H4": 2}
    review.answer(asked, words)
    made = review.settled().schedule
    assert _hoops(made, asked.fitting) == hoops
    assert sum(row.get(asked.fitting or "", 0) for row in made.elsewhere.values()) == elsewhere
    assert all(f"answered: {words}" in each.assumed for each in made.placements if each.fitting == asked.fitting and "more" not in words)
    others = [{name: number for name, number in row.items() if name != asked.fitting} for row in made.counts.values()]
    assert others == [{name: number for name, number in row.items() if name != asked.fitting} for row in before.counts.values()]


@pytest.mark.parametrize(("words", "hoops"), [("2 on hoops 1, 7", {"H1": 2, "H7": 2}), ("2 to 4", {"H2": 1, "H3": 1, "H4": 1})])
def test_which_hoops_may_come_with_the_number(tmp_path: Path, words: str, hoops: dict[str, int]) -> None:
    review = review_of(kit("e6-doubtful"), tmp_path)
    asked = next(each for each in review.questions() if each.about == "member")
    review.answer(asked, words)
    assert _hoops(review.settled().schedule, asked.fitting) == hoops


@pytest.mark.parametrize("words", ["2 on the gaet", "2 on hoop 99", "2 on each gate", "some on hoop 2"])
def test_a_slip_of_the_pen_is_refused(tmp_path: Path, words: str) -> None:
    review = review_of(kit(NAME), tmp_path)
    with pytest.raises(UsageError):
        review.answer(_asked(review), words)
    assert not review.path.exists()


def test_as_the_sentence_says_leaves_out_the_one_that_it_names(tmp_path: Path) -> None:
    """ "... equipped with hose loops in the same manner, however without the loop at 0,80 m." """
    review = review_of(kit("h3-passive-arches"), tmp_path)
    asked = next(each for each in review.questions() if "as the sentence says" in each.readings)
    before = [each for each in review.settled().schedule.placements if each.fitting == asked.fitting and each.hoop in asked.hoops]
    review.answer(asked, "as the sentence says")
    after = [each for each in review.settled().schedule.placements if each.fitting == asked.fitting and each.hoop in asked.hoops]
    assert len(before) == len(after) + len(asked.hoops)
    assert 800 in {each.offset_mm for each in before}
    assert 800 not in {each.offset_mm for each in after}


def test_an_accepted_warning_stays_says_so_and_can_be_taken_back(tmp_path: Path) -> None:
    review = review_of(kit("meadow-5"), tmp_path)
    warning = review.settled().schedule.warnings[0]
    review.correct(acceptance(warning, "the maker says that it opens"))
    after = review.settled().schedule.warnings
    assert after[0].message == warning.message
    assert [accepted(each) for each in after] == [True] + [False] * (len(after) - 1)
    assert "the maker says that it opens" in after[0].advice and warning.advice in after[0].advice
    review.undo()
    assert review.settled().schedule.warnings[0] == warning


def test_accepting_a_warning_that_is_not_there_is_refused(tmp_path: Path) -> None:
    review = review_of(kit("meadow-5"), tmp_path)
    warning = review.settled().schedule.warnings[0]
    with pytest.raises(UsageError, match="no such warning"):
        review.correct(acceptance(type(warning)(warning.code, "no such part", warning.hoops, (), "", "")))
