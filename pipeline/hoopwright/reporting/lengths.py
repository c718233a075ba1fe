"""Lengths as people read them: millimetres, or feet and inches to the nearest sixteenth."""

from __future__ import annotations

from math import gcd
from typing import Literal

Units = Literal["metric", "imperial"]

MM_PER_INCH = 25.4  # exact since 1 July 1959: NIST SP 811 (2008), appendix B, "inch (in)"
_SIXTEENTHS = 16


def length(mm: float | None, units: Units = "metric") -> str:
    """``mm`` as text: ``1219 mm`` (a half stays: ``12.5 mm``) or ``4 ft 3 1/8 in``; ``not given`` for None."""
    if mm is None:
        return "not given"
    return _metric(mm) if units == "metric" else _imperial(mm)


def _metric(mm: float) -> str:
    rounded = round(mm * 2) / 2
    # Above a metre a tape is not read to half a millimetre, and an inch manual would bring nothing but halves.
    if abs(mm) >= 1000 or rounded == int(rounded):
        return f"{round(mm)} mm"
    return f"{rounded:.1f} mm"


def _imperial(mm: float) -> str:
    sign = "-" if mm < 0 else ""
    total = round(abs(mm) / MM_PER_INCH * _SIXTEENTHS)
    feet, rest = divmod(total, 12 * _SIXTEENTHS)
    inches, sixteenths = divmod(rest, _SIXTEENTHS)
    words = [f"{feet} ft"] if feet else []
    if sixteenths:
        shared = gcd(sixteenths, _SIXTEENTHS)
        fraction = f"{sixteenths // shared}/{_SIXTEENTHS // shared}"
        words.append(f"{inches} {fraction} in" if inches else f"{fraction} in")
    elif inches or not feet:
        words.append(f"{inches} in")
    return sign + " ".join(words)
