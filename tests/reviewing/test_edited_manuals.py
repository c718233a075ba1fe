"""Answers outlive a new edition of the manual: steps put in, other numbers, other pages, other lines."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from hoopwright.api import settle, understand
from hoopwright.reviewing import Answers, load
from hoopwright.reviewing.session import Review

from reviewing.desks import kit, review_of
from reviewing.knowing import Reader

NAMES = ("e6-doubtful", "g1-numbered-uk")  # plain numbered steps in plain text
STEP = re.compile(r"^(\d+)\.(?=\s)", re.MULTILINE)
REFERENCE = re.compile(r"\b(steps?\s+)(\d+)((?:\s*(?:,|to|and|-)\s*)\d+)?")


def _moved_by(text: str, first: int, more: int) -> str:
    """The text with the steps from ``first`` on numbered ``more`` higher, and what refers to them."""

    def later(number: str) -> str:
        return str(int(number) + more) if int(number) >= first else number

    text = STEP.sub(lambda found: f"{later(found[1])}.", text)
    return REFERENCE.sub(lambda found: found[1] + later(found[2]) + re.sub(r"\d+", lambda each: later(each[0]), found[3] or ""), text)


def step_put_in(text: str) -> str:
    """A new step 3, all after it renumbered."""
    moved = _moved_by(text, 3, 1)
    return re.sub(
        r"^4\. ", "3. Sweep the ground and lay out the tubes where you can reach them.\n\n4. ", moved, count=1, flags=re.MULTILINE
    )


def all_renumbered(text: str) -> str:
    """The first step is 101."""
    return _moved_by(text, 1, 100)


def other_pages(text: str) -> str:
    """A new page before every fifth step."""
    return re.sub(r"^(?=\d*[05]\.\s)", "\f", text, flags=re.MULTILINE)


def other_lines(text: str) -> str:
    """The lines of every paragraph of a step joined to one."""
    before, first, steps = text.partition("\n1.")
    return before + first + re.sub(r"(?<=\S)\n {3,4}(?=[A-Za-z(])", " ", steps)


EDITS: tuple[Callable[[str], str], ...] = (step_put_in, all_renumbered, other_pages, other_lines)


@pytest.mark.parametrize("edit", EDITS, ids=lambda edit: str(edit.__name__))
@pytest.mark.parametrize("name", NAMES)
def test_all_answers_still_apply(name: str, edit: Callable[[str], str], tmp_path: Path) -> None:
    review = review_of(kit(name), tmp_path)
    words = Reader(kit(name), review.frame).answers()
    for key, said in words.items():
        review.answer(review.find(key), said)
    text = kit(name).manual.read_text(encoding="utf-8")
    assert edit(text) != text
    manual = tmp_path / "edited.txt"
    manual.write_text(edit(text), encoding="utf-8")
    found = understand([manual])
    asked = settle(found, Answers()).schedule.questions
    settled = Review(review.path, lambda answers: settle(found, answers)).settled()
    assert len(asked) == len(words) > 0
    assert (settled.leftovers, settled.schedule.questions) == ((), ())
    assert settled.schedule.counts == review.settled().schedule.counts


@pytest.mark.parametrize("name", NAMES)
def test_the_answer_to_a_sentence_that_was_taken_out_is_listed_and_kept(name: str, tmp_path: Path) -> None:
    review = review_of(kit(name), tmp_path)
    for key, said in Reader(kit(name), review.frame).answers().items():
        review.answer(review.find(key), said)
    gone = next(each for each in review.questions() if each.source is not None)
    assert gone.source is not None
    text = kit(name).manual.read_text(encoding="utf-8")
    sentence = re.compile(r"\s+".join(map(re.escape, gone.source.quote.split())))
    manual = tmp_path / "edited.txt"
    manual.write_text(sentence.sub("Have a rest.", text, count=1), encoding="utf-8")
    found = understand([manual])
    kept = load(review.path).answers
    settled = Review(review.path, lambda answers: settle(found, answers)).settled()
    assert [each.why for each in settled.leftovers] == ["the manual has no such sentence any more"]
    assert load(review.path).answers == kept
