"""Characters to tokens: lengths in every notation of the trade, counts, sizes, and what looks like them and is not.

The notations are common practice, no source; their values follow from 1 in = 25.4 mm and 1 ft = 304.8 mm, which are exact
(NIST Special Publication 811, 2008 edition, appendix B.8; see test_units.py, where the factors are held against it and against pint).
"""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest
from hoopwright.parsing.lex import FRACTIONS, lex, number, word_number
from hypothesis import given
from hypothesis import strategies as st
from num2words import num2words  # type: ignore[import-untyped]

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()


def lengths(text: str) -> list[float]:
    """The lengths in ``text`` in mm, in order."""
    return [round(float(tok.value), 3) for tok in lex(text) if tok.cat == "len"]


def counts(text: str) -> list[int]:
    """The counts in ``text`` ("2 No.", "(4)", "x 3"), in order."""
    return [int(tok.value) for tok in lex(text) if tok.cat == "count"]


def sizes(text: str) -> list[str]:
    """The sizes in ``text``: threads, gauges, pairs, diameters."""
    return [tok.text for tok in lex(text) if tok.cat == "size"]


NOTATIONS = [
    ('1-3/8" up from the foot', [34.925]),
    ("1 3/8 in up from the foot", [34.925]),
    ("1⅜″ up from the foot", [34.925]),
    ("1 ⅜″ up from the foot", [34.925]),
    ("1⁄2 in. up", [12.7]),
    ("6'-3\" up", [1905.0]),
    ("6ft 3in up", [1905.0]),
    ("6 ft. 3 in. up", [1905.0]),
    ("6 feet 3 inches up", [1905.0]),
    ("6 feet and 3 inches up", [1905.0]),
    ("6′ 3″ up", [1905.0]),
    ("6'-3 1/2\" up", [1917.7]),
    ('48" o.c.', [1219.2]),
    ("48 in. c/c", [1219.2]),
    ("1200 mm c/c", [1200.0]),
    ("1.2m up", [1200.0]),
    ("2,5 m up", [2500.0]),
    ("2·5 m up", [2500.0]),
    ("1,200 mm up", [1200.0]),
    ("1\u202f200 mm up", [1200.0]),
    ("10,000 mm long", [10000.0]),
    ("45cm up", [450.0]),
    ("300 millimetres up", [300.0]),
    ("300 millimeters up", [300.0]),
    ("2 metres up", [2000.0]),
    ("½ in up", [12.7]),
    ("0.5 m up", [500.0]),
    ("42mm dia", [42.0]),
    ("100 mm and 300 mm up", [100.0, 300.0]),
    ("between 4 ft and 5 ft up", [1219.2, 1524.0]),
    ("a foot above the joint", [304.8]),
    ("four feet six inches up", [1371.6]),
    ("twenty-two inches up", [558.8]),
    ("2 ft (610 mm) above", [609.6]),  # the same length again in brackets is no second one
    ("900 mm (3 ft) above", [900.0]),
]


@pytest.mark.parametrize(("text", "mm"), NOTATIONS)
def test_notations_of_lengths(text: str, mm: list[float]) -> None:
    assert lengths(text) == mm


def test_feet_and_inches_without_a_blank() -> None:
    assert lengths("6'3\" up") == [1905.0]


NO_LENGTHS = [
    "put 2 in each bag",
    "2 in each hoop",
    "fit 4 in the same way",
    "one foot pin",
    "1 foot pin for each leg",
    "2 foot collars",
    "step 3 in this section",
    "do step 4 in turn",
    "hoop 3 in all",
    "M8 × 40",
    "Ø42",
    "14 ga",
    "No. 8 screw",
    "1200",
    "items 4 to 6",
    "the feet of hoop 2",
]


@pytest.mark.parametrize("text", NO_LENGTHS)
def test_what_is_no_length(text: str) -> None:
    assert lengths(text) == []


SIZES = [
    ("two M8 bolts", ["M8"]),
    ("M8 x 40 bolts", ["M8 x 40"]),
    ("Ø42 tube", ["Ø42"]),
    ("Ø 42 mm tube", ["Ø 42 mm"]),
    ("dia. 42 tube", ["dia. 42"]),
    ('#12 x 3/4" screws', ['#12 x 3/4"']),
    ("5.5 × 25 screws", ["5.5 × 25"]),
    ("14 ga wire", ["14 ga"]),
    ("18 gauge tube", ["18 gauge"]),
    ("2 × 6 board", ["2 × 6"]),
]


@pytest.mark.parametrize(("text", "found"), SIZES)
def test_sizes(text: str, found: list[str]) -> None:
    assert sizes(text) == found
    assert lengths(text) == []


COUNTS = [
    ("2 No. clips", [2]),
    ("2 no. clips", [2]),
    ("4 off clips", [4]),
    ("4 pcs. clips", [4]),
    ("6 ea. clips", [6]),
    ("clips (4)", [4]),
    ("clips x4", [4]),
    ("clips × 4", [4]),
    ("3 x clips", [3]),
    ("qty. 5 clips", [5]),
    ("Qty: 12", [12]),
    ("clips M8 x 40", []),
    ("hoop 4 of 6", []),
    ("2000 x 40 mm", []),
]


@pytest.mark.parametrize(("text", "found"), COUNTS)
def test_counts(text: str, found: list[int]) -> None:
    assert counts(text) == found


WORDS_OF_TENS = [num2words(n) for n in range(1, 100)]


@pytest.mark.parametrize("n", range(1, 100))
def test_number_words_are_those_of_num2words(n: int) -> None:
    """num2words (PyPI) writes out every number from 1 to 99; with a hyphen, with a blank, in capitals."""
    words = num2words(n)
    assert word_number(words) == n
    assert word_number(words.replace("-", " ")) == n
    assert word_number(words.upper()) == n


@given(n=st.integers(1, 99), unit=st.sampled_from(["feet", "inches", "metres"]))
def test_lengths_in_words(n: int, unit: str) -> None:
    expected = UNITS.Quantity(n, {"feet": "foot", "inches": "inch", "metres": "meter"}[unit]).to("millimeter").magnitude
    assert lengths(f"{num2words(n)} {unit} up") == [pytest.approx(expected, abs=0.001)]


@given(whole=st.integers(0, 60), character=st.sampled_from(sorted(FRACTIONS)), blank=st.sampled_from(["", " "]))
def test_fraction_characters(whole: int, character: str, blank: str) -> None:
    printed = f"{whole}{blank}{character}" if whole else character
    assert number(printed) == pytest.approx(whole + FRACTIONS[character])
    assert lengths(f"{printed} in. up") == [pytest.approx((whole + FRACTIONS[character]) * 25.4, abs=0.001)]


@given(mm=st.integers(1, 30_000))
def test_feet_and_inches_round_trip(mm: int) -> None:
    """A length printed to the nearest sixteenth of an inch comes back within half of one."""
    sixteenths = round(mm / 25.4 * 16)
    feet, rest = divmod(sixteenths, 12 * 16)
    inches, part = divmod(rest, 16)
    fraction = f" {Fraction(part, 16)}" if part else ""
    printed = f"{feet} ft {inches}{fraction} in." if feet else f"{inches}{fraction} in."
    assert lengths(f"{printed} up") == [pytest.approx(mm, abs=25.4 / 32 + 0.001)]


@given(mm=st.integers(1, 99_999))
def test_metric_round_trip(mm: int) -> None:
    for printed in (f"{mm} mm", f"{mm}mm", f"{mm:,} mm", f"{mm / 10:.1f} cm", f"{mm / 1000:.3f} m"):
        assert lengths(f"{printed} up") == [pytest.approx(mm, abs=0.06)], printed


@given(mm=st.integers(1001, 99_999).filter(lambda n: n % 1000))
def test_comma_decimals_round_trip(mm: int) -> None:
    """ "2,5 m" and "2,75 m" are decimals; three digits behind a comma are thousands, so that such a number of metres is never written."""
    short = f"{mm / 1000:.2f}".replace(".", ",")
    assert lengths(f"{short} m up") == [pytest.approx(round(mm / 1000, 2) * 1000, abs=0.001)]


@given(text=st.text(alphabet=st.characters(codec="utf-8", exclude_categories=["Cs"]), max_size=60))
def test_any_text_is_lexed_and_every_token_stands_where_it_says(text: str) -> None:
    at = 0
    for tok in lex(text):
        assert tok.start >= at
        assert text[tok.start : tok.end] == tok.text
        at = tok.end
