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
from parsing.mini import read

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


def in_words(said: str, hoop: str) -> Facts:
    """The facts of a manual that describes its frame in these words."""
    parts = "Leg ............ 12\nCrown tube ............ 6\nRidge clip ............ 6"
    steps = f"1. Slide one ridge clip onto each {hoop}.\n\n2. Stand the {hoop}s."
    return read(f"GROWING TUNNEL\n\n{said}\n\nPARTS LIST\n\n{parts}\n\nFITTING\n\n{steps}\n").facts


@pytest.mark.parametrize(
    ("said", "hoop", "spacing"),
    [
        ("There are 6 ribs, 120 cm from one to the next.", "rib", 1200),
        ("Six ribs stand in a row, 1.6 m from one rib to the next.", "rib", 1600),
        ("The six hoops follow each other at 4 ft from one hoop to the other.", "hoop", 4 * FOOT),
        ("There are 5 bows, 110 cm from bow to bow.", "bow", 1100),
        # near misses
        ("There are 6 ribs. The rope runs 4 m from the first peg to the last.", "rib", None),
        ("There are 6 ribs. Each leg is 1.5 m from the foot to the joint.", "rib", None),
    ],
)
def test_how_far_apart_the_hoops_stand(said: str, hoop: str, spacing: float | None) -> None:
    assert in_words(said, hoop).spacing_mm == (None if spacing is None else pytest.approx(spacing))


@pytest.mark.parametrize(
    ("said", "hoop", "size"),
    [
        ("There are 5 ribs, and it is 4.4 m from the first rib to the last.", "rib", (None, 4400, None)),
        ("The house has 6 bows and measures 7.5 m from the first to the last.", "bow", (None, 7500, None)),
        ("It has 6 ribs and is 9 m from end to end.", "rib", (None, 9000, None)),
        # two numbers side by side are width and length, unless the second is a height
        ("The tunnel has 6 hoops and is 4 m wide by 9 m.", "hoop", (4000, 9000, None)),
        ("The tunnel has 6 hoops. It is 3.4 m wide and 2.15 m high.", "hoop", (3400, None, 2150)),
        ("The tunnel has 6 hoops and is 4 m wide and 2.6 m tall.", "hoop", (4000, None, 2600)),
    ],
)
def test_width_length_and_height(said: str, hoop: str, size: tuple[float | None, float | None, float | None]) -> None:
    facts = in_words(said, hoop)
    assert (facts.width_mm, facts.length_mm, facts.height_mm) == size
