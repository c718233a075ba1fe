"""The frame's width and length as read from a manual, against right angles that are published or exact, and its printed diagonals.

A ground plan is a rectangle: the diagonal that a manual prints must be that of the width and length that were read.
"""

from __future__ import annotations

import re
from math import hypot
from pathlib import Path

import pytest
from hoopwright.api import understand
from hoopwright.model.events import Facts

from library import SAMPLES, Kit

FOOT = 304.8

# FAO, Topographic Surveying (1985), on setting out a right angle with a tape: 3-4-5, and its multiples 6-8-10 and 9-12-15, in metres.
FAO_TRIANGLES = [(3, 4, 5), (6, 8, 10), (9, 12, 15)]
# Ground plans in feet and metres whose diagonals are whole numbers; each is exact (w² + l² = d²), so that it proves itself.
WHOLE_DIAGONALS = [(14, 48, 50, "ft"), (20, 48, 52, "ft"), (30, 72, 78, "ft"), (24, 32, 40, "ft"), (8, 15, 17, "m")]

MANUAL = """GROWING TUNNEL

The tunnel is {width} wide and {length} long. It has 5 hoops. Each hoop is made of two tubes.

1. Peg out a rectangle. Both diagonals must measure {diagonal}.
2. Slide one ridge clip onto the left tube of each hoop.
3. Join the two tubes of each hoop and stand the hoops on their ground tubes.
"""


def facts_of(manual: Path) -> Facts:
    return understand([manual]).reading.facts


def written(folder: Path, width: str, length: str, diagonal: str) -> Path:
    manual = folder / "manual.txt"
    manual.write_text(MANUAL.format(width=width, length=length, diagonal=diagonal), encoding="utf-8")
    return manual


@pytest.mark.parametrize(("width", "length", "diagonal"), FAO_TRIANGLES)
def test_published_corners(tmp_path: Path, width: int, length: int, diagonal: int) -> None:
    facts = facts_of(written(tmp_path, f"{width} m", f"{length}.0 m", f"{diagonal} m"))
    assert (facts.width_mm, facts.length_mm) == (width * 1000, length * 1000)
    assert hypot(facts.width_mm or 0, facts.length_mm or 0) == pytest.approx(diagonal * 1000)


@pytest.mark.parametrize(("width", "length", "diagonal", "unit"), WHOLE_DIAGONALS)
def test_whole_diagonals(tmp_path: Path, width: int, length: int, diagonal: int, unit: str) -> None:
    assert width**2 + length**2 == diagonal**2
    facts = facts_of(written(tmp_path, f"{width} {unit}", f"{length} {unit}", f"{diagonal} {unit}"))
    in_mm = FOOT if unit == "ft" else 1000
    assert hypot(facts.width_mm or 0, facts.length_mm or 0) / in_mm == pytest.approx(diagonal)


@pytest.mark.parametrize("kit", [kit for kit in SAMPLES if kit.name != "orchard-6"], ids=lambda kit: kit.name)
def test_diagonals_printed_in_the_sample_manuals(kit: Kit) -> None:
    found = understand([kit.manual])
    printed = [re.search(r"diagonals.*?([\d,]{5,}) mm", sentence.source.quote) for sentence in found.reading.sentences]
    values = [int(match[1].replace(",", "")) for match in printed if match]
    assert len(values) == 1
    facts = found.reading.facts
    assert hypot(facts.width_mm or 0, facts.length_mm or 0) == pytest.approx(values[0], abs=1)
