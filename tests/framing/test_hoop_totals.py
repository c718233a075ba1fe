"""How many hoops there are, said twice and differently."""

from __future__ import annotations

import pytest
from parsing.mini import manual, scheduled

STEPS = ["Slide one ridge clip (RC) onto the crown tube of each hoop.", "Join the tubes of each hoop.", "Stand the hoops."]
TEXT = manual(STEPS)  # "GROWING TUNNEL … It has 6 hoops, 2 m apart."
TITLE, SENTENCE = "GROWING TUNNEL", "It has 6 hoops, 2 m apart."


def conflicts(old: str, new: str) -> list[str]:
    assert old in TEXT
    found = scheduled(TEXT.replace(old, new, 1))
    return [finding.message for finding in found.warnings if finding.code == "conflict"]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (TITLE, "GROWING TUNNEL, FIVE HOOPS"),
        (TITLE, "FIVE-HOOP GROWING TUNNEL"),
        (SENTENCE, f"{SENTENCE} The frame consists of 5 hoops."),
        (SENTENCE, f"{SENTENCE} There are five hoops."),
        (SENTENCE, f"{SENTENCE} The tunnel stands on seven steel hoops."),
    ],
)
def test_two_totals_are_a_conflict(old: str, new: str) -> None:
    (message,) = conflicts(old, new)
    assert message.startswith("The manual says that there are ")
    assert SENTENCE in message or "page 1" in message


@pytest.mark.parametrize(
    ("old", "new"),
    [
        (TITLE, "GROWING TUNNEL, SIX HOOPS"),
        (TITLE, "GROWING TUNNEL, 5 x 10 HOOP FRAME"),
        (SENTENCE, f"{SENTENCE} With the extension set, the tunnel has eight hoops."),
        (SENTENCE, f"{SENTENCE} It has two end hoops and four inner hoops."),
        (SENTENCE, f"{SENTENCE} The older model of the tunnel has five hoops."),
        (SENTENCE, f"{SENTENCE} Two hoops carry the lamps."),
    ],
)
def test_what_speaks_of_some_of_them_or_of_others_is_none(old: str, new: str) -> None:
    assert conflicts(old, new) == []
