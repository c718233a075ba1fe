"""Text made safe, lengths, runs of hoops, marks."""

from __future__ import annotations

import pint
import pytest
from hoopwright.reporting.grouping import hoop_range, same_counts, same_dress
from hoopwright.reporting.lengths import length
from hoopwright.reporting.marks import LONGEST_MARK, marks_of
from hoopwright.reporting.text import cell, clipped, shown
from hypothesis import given, settings
from hypothesis import strategies as st

from reporting import factory


@given(st.text())
def test_shown_text_holds_no_control_and_no_reordering_mark(text: str) -> None:
    result = shown(text)
    assert all(character.isprintable() or character in "\u200c\u200d" or ord(character) > 0x2FF for character in result)
    assert not set(result) & set("\x1b\x07\r\n\t\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u200e\u200f")
    assert shown(result) == result


def test_shown_keeps_plain_text_and_names_what_it_takes_out() -> None:
    assert shown("Ø42 mm – 1⅜″ clip") == "Ø42 mm – 1⅜″ clip"
    assert shown("\x1b[31mred") == "␛[31mred"
    assert shown("a\u202eb") == "a[U+202E]b"
    assert shown("two\nlines") == "two lines"


# The characters are those of the OWASP page "CSV Injection".
@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@sum", "\t=1", "\r=1", " =1", "＝1"])
def test_cells_that_a_spreadsheet_would_compute_get_an_apostrophe(text: str) -> None:
    assert cell(text).startswith("'")


def test_other_cells_stay_as_they_are() -> None:
    assert cell("clamp 42 mm (-)") == "clamp 42 mm (-)"
    assert cell("") == ""


@pytest.mark.parametrize(
    ("mm", "metric", "imperial"),
    [
        (0, "0 mm", "0 in"),
        (1219.2, "1219 mm", "4 ft"),
        (12.5, "12.5 mm", "1/2 in"),
        (25.4, "25.5 mm", "1 in"),
        (304.8, "305 mm", "1 ft"),
        (1908.175, "1908 mm", "6 ft 3 1/8 in"),
        (-50.8, "-51 mm", "-2 in"),
        (None, "not given", "not given"),
    ],
)
def test_lengths(mm: float | None, metric: str, imperial: str) -> None:
    assert length(mm) == metric
    assert length(mm, "imperial") == imperial


@settings(deadline=None)
@given(st.floats(min_value=0, max_value=200_000))
def test_imperial_lengths_are_right_to_half_a_sixteenth(mm: float) -> None:
    """Read back through pint, whose inch is NIST SP 811's 25.4 mm."""
    units = pint.get_application_registry()
    total = units.Quantity(0, "mm")
    words = length(mm, "imperial").split()
    value = 0.0
    for word in words:
        if word in ("ft", "in"):
            total += units.Quantity(value, "foot" if word == "ft" else "inch")
            value = 0.0
        elif "/" in word:
            top, bottom = word.split("/")
            value += int(top) / int(bottom)
        else:
            value += int(word)
    assert abs(total.to("mm").magnitude - mm) <= 25.4 / 32 + 1e-6


@pytest.mark.parametrize(
    ("numbers", "words"),
    [
        ([], ""),
        ([1], "H1"),
        ([1, 2], "H1, H2"),
        ([2, 3, 4], "H2–H4"),
        ([1, 5], "H1, H5"),
        ([1, 3, 4, 5, 9], "H1, H3–H5, H9"),
        ([3, 5, 7, 9], "H3–H9 odd"),
        ([2, 4, 6, 8, 10, 11, 12], "H2–H10 even, H11, H12"),
        ([10, 2], "H2, H10"),
    ],
)
def test_hoop_ranges(numbers: list[int], words: str) -> None:
    assert hoop_range(f"H{number}" for number in numbers) == words


def test_alike_hoops_are_found() -> None:
    schedule = factory.five()
    assert same_counts(schedule) == [("H1",), ("H2", "H3", "H4"), ("H5",)]
    assert same_dress(schedule) == [("H1",), ("H2", "H3", "H4"), ("H5",)]
    groups = same_dress(factory.thirty())
    assert sorted(hoop for group in groups for hoop in group) == sorted(f"H{n}" for n in range(1, 31))
    assert len(groups) == 6


@pytest.mark.parametrize("make", [factory.five, factory.thirty, factory.hostile])
def test_marks_are_short_and_no_two_are_the_same(make) -> None:  # type: ignore[no-untyped-def]
    marks = marks_of(make())
    assert len(set(marks.values())) == len(marks)
    assert all(0 < len(mark) <= LONGEST_MARK + 2 for mark in marks.values())


def test_marks_are_printed_codes_first_then_initials() -> None:
    marks = marks_of(factory.five())
    assert marks["ridge clamp"] == "J"
    assert marks["lintel clamp"] == "LC"


def test_clipping_never_passes_the_limit() -> None:
    assert clipped("abcdef", 4) == "abc…"
    assert clipped("abcd", 4) == "abcd"
