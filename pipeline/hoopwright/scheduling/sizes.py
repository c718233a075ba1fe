"""Which outside diameters a size may mean, and whether a fitting's size suits a tube.

A size in inches may be an outside diameter ("1.66 in") or the nominal bore of a pipe ("1 1/4 in", which is 42.2 mm outside); a size in
millimetres may be a rounded or a catalogue figure. A size suits a tube if any of its meanings does: only a sure mismatch is one.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from fractions import Fraction
from functools import lru_cache

INCH = 25.4  # exactly, since 1 July 1959 (NBS Circular 572, addendum 1960)
TOLERANCE_MM = 1.0  # 42 or 42.4 for 42.2; 48 for 48.3; not 50 for 48.3. Common practice, no source

# Nominal size in inches -> outside diameters in mm: ASME B36.10M; EN 10255/10220 where it differs (from memory); ANSI C80.3 thin-wall
# conduit (EMT), https://sizes.com/materials/conduit_EMT.htm. EN 39 scaffold tube is 48.3 mm, as nominal 1 1/2.
NOMINAL: dict[Fraction, tuple[float, ...]] = {
    Fraction(1, 2): (21.3, 17.9),
    Fraction(3, 4): (26.7, 26.9, 23.4),
    Fraction(1): (33.4, 33.7, 29.5),
    Fraction(5, 4): (42.2, 42.4, 38.4),
    Fraction(3, 2): (48.3, 44.2),
    Fraction(2): (60.3, 55.8),
    Fraction(5, 2): (73.0, 76.1),
}
NOMINAL_DN: dict[int, Fraction] = {
    15: Fraction(1, 2), 20: Fraction(3, 4), 25: Fraction(1), 32: Fraction(5, 4), 40: Fraction(3, 2), 50: Fraction(2), 65: Fraction(5, 2)
}  # fmt: skip
# Fence rail sold as 1 3/8 in is 34.9 mm by its name and 33.4 mm as pipe of nominal 1 in, 1 5/8 likewise 41.3 or 42.2 (from memory).
SOLD_AS: dict[Fraction, tuple[float, ...]] = {
    Fraction(11, 8): (33.4,), Fraction(13, 8): (42.2,), Fraction(15, 8): (48.3,), Fraction(19, 8): (60.3,)
}  # fmt: skip

BORE = re.compile(r"\b(?:nominal|bore|n\.?b\.?|d\.?n\.?)\b", re.IGNORECASE)
OUTSIDE = re.compile(r"\b(?:o\.?d\.?|outside|outer)\b", re.IGNORECASE)


def as_inches(size_mm: float) -> Fraction | None:
    """The size as a plain fraction of an inch (eighths), None if it is no such fraction or just as well a whole number of millimetres."""
    eighths = size_mm / INCH * 8
    if abs(eighths - round(eighths)) * INCH / 8 > 0.06 or abs(size_mm - round(size_mm)) < 0.001:
        return None
    return Fraction(round(eighths), 8)


@lru_cache(maxsize=4096)
def meanings(size_mm: float, text: str = "") -> tuple[float, ...]:
    """The outside diameters in mm that a size may stand for; ``text`` is the size as printed, for words such as "nominal" or "OD"."""
    inches = as_inches(size_mm)
    nominal = NOMINAL.get(inches, ()) if inches is not None else ()
    if BORE.search(text):
        metric = NOMINAL.get(NOMINAL_DN.get(round(size_mm), Fraction(0)), ()) if abs(size_mm - round(size_mm)) < 0.001 else ()
        return tuple(nominal or metric or (size_mm,))
    if OUTSIDE.search(text) or inches is None:
        return (size_mm,)
    return tuple(dict.fromkeys((size_mm, *nominal, *SOLD_AS.get(inches, ()))))


@lru_cache(maxsize=4096)
def suits(fitting_mm: float, tube_mm: float, fitting_text: str = "", tube_text: str = "") -> bool:
    """Whether some meaning of the fitting's size fits some meaning of the tube's, within ``TOLERANCE_MM``."""
    return any(abs(a - b) <= TOLERANCE_MM + 1e-9 for a in meanings(fitting_mm, fitting_text) for b in meanings(tube_mm, tube_text))


FRACTIONS = {"⅛": " 1/8", "¼": " 1/4", "⅜": " 3/8", "½": " 1/2", "⅝": " 5/8", "¾": " 3/4", "⅞": " 7/8"}
SIZE = re.compile(
    r"(?P<whole>\d+)[\s-]+(?P<top>\d+)\s*/\s*(?P<bottom>\d+)|(?P<t>\d+)\s*/\s*(?P<b>\d+)|(?P<number>\d+(?:[.,]\d+)?)|(?P<unit>mm|in\b|inch|\"|″)"
)


@lru_cache(maxsize=4096)
def printed_sizes(text: str) -> tuple[float, ...]:
    """All sizes in a printed text in mm, each number taken with the next unit that follows: "42 mm bow, 32 mm bar" gives 42.0 and 32.0."""
    found: list[float] = []
    waiting: list[Fraction] = []
    plain = "".join(FRACTIONS.get(character, character) for character in text)
    for match in SIZE.finditer(plain):
        if match["unit"]:
            factor = Fraction(1) if match["unit"] == "mm" else Fraction(127, 5)
            found += [float(number * factor) for number in waiting]
            waiting = []
        elif match["whole"] and int(match["bottom"]):
            waiting.append(int(match["whole"]) + Fraction(int(match["top"]), int(match["bottom"])))
        elif match["t"] and int(match["b"]):
            waiting.append(Fraction(int(match["t"]), int(match["b"])))
        elif match["number"]:
            waiting.append(Fraction(match["number"].replace(",", ".")))
    return tuple(found)


def any_suits(sizes: Iterable[float], tube_mm: float, text: str = "") -> bool:
    return any(suits(size, tube_mm, text) for size in sizes)
