"""Keys outlive renumbered steps and changed white space; a changed number is another sentence."""

from __future__ import annotations

import pytest
from hoopwright.reviewing.keys import normalised, numbers_in

SENTENCE = "Hang two tool hooks on hoops 3 and 4."


@pytest.mark.parametrize(
    "other",
    [
        "12. Hang two tool hooks on hoops 3 and 4.",
        "  hang  two tool\nhooks on hoops 3 and 4",
        "Step 9: Hang two tool hooks on hoops 3 and 4.",
        "(b) Hang two tool hooks on hoops 3 and 4.",
        "3.1 Hang two tool hooks on hoops 3 and 4.",
        "• Hang two tool hooks on hoops 3 and 4.",
    ],
)
def test_the_same_sentence(other: str) -> None:
    assert normalised(other) == normalised(SENTENCE)


@pytest.mark.parametrize(
    "other", ["Hang three tool hooks on hoops 3 and 4.", "Hang two tool hooks on hoops 3 and 5.", "Hang two lamp hooks on hoops 3 and 4."]
)
def test_another_sentence(other: str) -> None:
    assert normalised(other) != normalised(SENTENCE)


def test_numbers_of_steps_do_not_count() -> None:
    assert normalised("Repeat steps 3 to 5 on hoop 2.") == normalised("Repeat steps 4 to 6 on hoop 2.")
    assert normalised("Repeat step 3 on hoop 2.") != normalised("Repeat step 3 on hoop 4.")


@pytest.mark.parametrize("text", ["2", "a.", "3.", "1 hoop", "Two hooks", "A. Hook"])
def test_a_sentence_never_becomes_nothing(text: str) -> None:
    assert normalised(text)


def test_numbers_are_told_apart() -> None:
    assert numbers_in("two hooks on hoop 3") != numbers_in("three hooks on hoop 3")
    assert numbers_in("two hooks on hoop 3") == numbers_in("7. Two good hooks on hoop 3")
