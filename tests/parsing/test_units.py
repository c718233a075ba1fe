"""Lengths as manuals print them, against published conversions and against an independent library."""

from __future__ import annotations

from fractions import Fraction

import pint
import pytest
from hoopwright.parsing.lex import MM, Tok, lex, number, word_number
from hypothesis import given
from hypothesis import strategies as st

# NIST Special Publication 811 (2008 edition), appendix B.8, exact factors (printed there in bold type): what one unit is in metres.
NIST_METRES = {"foot": 3.048e-1, "inch": 2.54e-2, "yard": 9.144e-1}
# NIST SP 811, table 5: the SI prefixes centi and milli.
SI_METRES = {"m": 1.0, "cm": 1e-2, "mm": 1e-3}

UNITS: pint.UnitRegistry[float] = pint.UnitRegistry()
PINT_NAMES = {"ft": "foot", "in": "inch", "yd": "yard", "m": "meter", "cm": "centimeter", "mm": "millimeter"}


def only_length(text: str) -> float:
    """The one length in ``text``, in mm."""
    lengths: list[Tok] = [token for token in lex(text) if token.cat == "len"]
    assert len(lengths) == 1, lengths
    assert isinstance(lengths[0].value, float)
    return lengths[0].value


def test_factors_are_those_of_nist() -> None:
    expected = {"ft": NIST_METRES["foot"], "in": NIST_METRES["inch"], "yd": NIST_METRES["yard"], **SI_METRES}
    for unit, metres in expected.items():
        assert MM[unit] == pytest.approx(metres * 1000, rel=1e-12)
    assert set(MM) == set(expected)


def test_factors_are_those_of_pint() -> None:
    assert set(MM) == set(PINT_NAMES)
    for unit, name in PINT_NAMES.items():
        assert MM[unit] == pytest.approx(UNITS.Quantity(1, name).to("millimeter").magnitude, rel=1e-12)


# The notations of the trade (common practice, no source), with values worked out from the exact factors above.
NOTATIONS = [
    ("300 mm up", 300.0),
    ("300mm up", 300.0),
    ("1,050 mm", 1050.0),
    ("1.2 m apart", 1200.0),
    ("1.2m apart", 1200.0),
    ("2,5 m apart", 2500.0),
    ("45 cm above", 450.0),
    ("1-3/8 in. pipe", 34.925),
    ("1 3/8 in. pipe", 34.925),
    ("1⅜ in. pipe", 34.925),
    ('1-3/8" pipe', 34.925),
    ("1⅜″ pipe", 34.925),
    ("3/4 in. up", 19.05),
    ("½ in. up", 12.7),
    ("6 ft up", 1828.8),
    ("6' up", 1828.8),
    ("6'-3\" up", 1905.0),
    ("6' 3\" up", 1905.0),
    ("6’–3” up".replace("–", "-"), 1905.0),
    ("6 ft 3 in. up", 1905.0),
    ("6ft 3in up", 1905.0),
    ("4 ft 8-1/2 in. up", 1435.1),
    ('48" o.c.', 1219.2),
    ("six feet up", 1828.8),
    ("two feet six inches up", 762.0),
    ("two and a half feet up", 762.0),
    ("half a metre up", 500.0),
    ("a metre and a half up", 1500.0),
    ("ten inches up", 254.0),
]


@pytest.mark.parametrize(("text", "mm"), NOTATIONS)
def test_notations_of_the_trade(text: str, mm: float) -> None:
    assert only_length(text) == pytest.approx(mm, abs=0.001)


@pytest.mark.parametrize(
    "text", ["put 4 in the bag", "fit 2 in each hoop", "step 6 mentions hoop 3", "M8 x 40", "#12 x 3/4", "14 ga. wire"]
)
def test_what_looks_like_a_length_and_is_none(text: str) -> None:
    assert [token.text for token in lex(text) if token.cat == "len"] == []


@given(feet=st.integers(1, 99), inches=st.integers(0, 11), sixteenths=st.integers(1, 15))
def test_feet_inches_and_fractions_agree_with_pint(feet: int, inches: int, sixteenths: int) -> None:
    fraction = Fraction(sixteenths, 16)
    whole = f"{inches}-" if inches else ""
    text = f"{feet}'-{whole}{fraction.numerator}/{fraction.denominator}\""
    expected = UNITS.Quantity(feet, "foot") + UNITS.Quantity(float(inches + fraction), "inch")
    assert only_length(text) == pytest.approx(expected.to("millimeter").magnitude, abs=0.001)


@given(value=st.integers(1, 99_999), unit=st.sampled_from(["mm", "cm", "m", "ft", "in."]))
def test_whole_numbers_of_any_unit_agree_with_pint(value: int, unit: str) -> None:
    expected = UNITS.Quantity(value, PINT_NAMES[unit.rstrip(".")]).to("millimeter").magnitude
    for printed in (str(value), f"{value:,}"):
        assert only_length(f"{printed} {unit}") == pytest.approx(expected, abs=0.001)


@given(whole=st.integers(0, 30), top=st.integers(1, 31), bottom=st.sampled_from([2, 4, 8, 16, 32]))
def test_mixed_numbers_are_exact(whole: int, top: int, bottom: int) -> None:
    text = f"{whole} {top}/{bottom}" if whole else f"{top}/{bottom}"
    assert number(text) == float(whole + Fraction(top, bottom))


IN_WORDS = [("twelve", 12), ("thirty-two", 32), ("two and a half", 2.5), ("ninety nine", 99), ("hoop", None)]


@pytest.mark.parametrize(("words", "value"), IN_WORDS)
def test_numbers_in_words(words: str, value: float | None) -> None:
    assert word_number(words) == value
