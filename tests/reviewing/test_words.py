"""Numbers, hoops, lengths and places as people write them in answers."""

from __future__ import annotations

import pytest
from hoopwright.reviewing.words import AmountWords, Share, amount, hoops, length, place, shares
from hypothesis import given
from hypothesis import strategies as st


@pytest.mark.parametrize(
    ("text", "number", "per"),
    [
        ("2 on each", 2, "hoop"),
        ("2 in all, 1 on each", 1, "hoop"),
        ("2 at each post, 4 to a hoop", 4, "hoop"),
        ("three to an end arch", 3, "hoop"),
        ("four on each rib, sixteen in all", 16, "total"),
        ("6 at each place", 6, "place"),
        ("12 in all", 12, "total"),
        ("3 on each hoop", 3, "hoop"),
        ("5", 5, "bare"),
        ("none", 0, "bare"),
        ("four", 4, "bare"),
    ],
)
def test_amounts(text: str, number: int, per: str) -> None:
    assert amount(text) == AmountWords(number, per)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "text", ["one for each time it happens", "as many as wanted", "", "left leg", "any number", "-3", "four on each rib"]
)
def test_words_without_a_plain_number_give_none(text: str) -> None:
    assert amount(text) is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("1 on hoops 2 and 4", (Share(1, (2, 4)),)),
        ("2 on hoops 1, 6; 3 on hoops 2 to 5", (Share(2, (1, 6)), Share(3, (2, 3, 4, 5)))),
        ("2 on hoops 1 and 6, and 3 on hoops 2 to 5", (Share(2, (1, 6)), Share(3, (2, 3, 4, 5)))),
        ("two each on bows 2, 4", (Share(2, (2, 4)),)),
        ("one on each of hoops 2 and 3", (Share(1, (2, 3)),)),
        ("3 H2-H4", (Share(3, (2, 3, 4)),)),
        ("1 on the door post", (Share(1, member="door post"),)),
        ("2 more on hoop 7, 1 on the door", (Share(2, (7,), more=True), Share(1, member="door"))),
    ],
)
def test_shares(text: str, expected: tuple[Share, ...]) -> None:
    assert shares(text, 7) == expected


@pytest.mark.parametrize(
    "text",
    [
        "2 on each",
        "12 in all",
        "3 on each hoop",
        "4 to a hoop",
        "6 at each place",
        "2 on the end ribs",
        "4 to 6",
        "2 in 3",
        "1 on hoop 9",
        "19 spare",
        "",
    ],
)
def test_words_that_share_nothing_out(text: str) -> None:
    assert shares(text, 7) is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("hoops 2, 4, 6", (2, 4, 6)),
        ("hoops 4", (4,)),
        ("H2-H4", (2, 3, 4)),
        ("2 to 4 and 7", (2, 3, 4, 7)),
        ("bows 3, 5 and 7", (3, 5, 7)),
        ("all", (1, 2, 3, 4, 5, 6, 7)),
        ("all hoops", (1, 2, 3, 4, 5, 6, 7)),
        ("odd", (1, 3, 5, 7)),
        ("the end hoops", (1, 7)),
        ("inner hoops", (2, 3, 4, 5, 6)),
        ("all but 3", (1, 2, 4, 5, 6, 7)),
        ("every hoop except the end hoops", (2, 3, 4, 5, 6)),
        ("all but the red one", None),
        ("hoop 9", None),
        ("hoop 0", None),
        ("4-2", None),
        ("somewhere", None),
        ("", None),
        ("2 saddles", None),
    ],
)
def test_hoops(text: str, expected: tuple[int, ...] | None) -> None:
    assert hoops(text, 7) == expected


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("1.6 m", 1600.0),
        ("1,6 m", 1600.0),
        ("1600", 1600.0),
        ("120 cm", 1200.0),
        ("5 ft 3 1/2 in", 1612.9),
        ("5'-3\"", 1600.2),
        ("33 in", 838.2),
        ("6 ft", 1828.8),
        ("½ m", None),
        ("near the top", None),
    ],
)
def test_lengths(text: str, mm: float | None) -> None:
    assert length(text) == mm


@pytest.mark.parametrize(
    ("text", "datum", "offset", "side"),
    [
        ("1.2 m above the ground", "ground", 1200.0, None),
        ("left side, 2 ft from the ridge", "ridge", 609.6, "left"),
        ("at the ridge", "ridge", 0.0, None),
        ("600 mm below the ridge joint", "ridge", 600.0, None),
        ("right leg", None, None, "right"),
        ("9 ft from the foot", "foot", 2743.2, None),
        ("300 mm from the joint, right", "joint", 300.0, "right"),
    ],
)
def test_places(text: str, datum: str | None, offset: float | None, side: str | None) -> None:
    found = place(text)
    assert found is not None
    assert (found.datum, found.offset_mm, found.side) == (datum, offset, side)


@pytest.mark.parametrize("text", ["somewhere near", "300 mm", "", "eye level"])
def test_no_places(text: str) -> None:
    assert place(text) is None


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused_without_failing(text: str) -> None:
    amount(text), length(text), place(text)
    found = hoops(text, 9)
    assert found is None or all(1 <= hoop <= 9 for hoop in found)


@given(st.sets(st.integers(1, 40), min_size=1))
def test_hoops_written_out_come_back(chosen: set[int]) -> None:
    assert hoops("hoops " + ", ".join(map(str, sorted(chosen))), 40) == tuple(sorted(chosen))
