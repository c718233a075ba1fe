"""A small manual, and a working folder of its own for each test."""

from __future__ import annotations

from pathlib import Path

import pytest

MANUAL = """GROWING TUNNEL FOR A BACK YARD

The tunnel is 3 m wide and 6 m long. It has 5 hoops, 1.5 m apart. Each hoop is made of two tubes, a left half and a right half.
Hoops 1 and 5 are the end hoops.

Parts

  A   Hoop half                 10
  B   Ridge clip, closed         5
  C   Joint bolt                10
  D   Cover clip, snap-on       10

Assembly

1. Lay out the two halves of each hoop.
2. Slide one ridge clip (B) onto the left half of each hoop.
3. Join the two halves of each hoop and fix the joint with two joint bolts (C).
4. Stand the hoops on their ground tubes.
5. Snap two cover clips (D) onto each hoop.
"""

EXTRA = """SHADE RAIL (optional)

In this bag:

  R1   Rail clip, snap-on    5
  R2   Shade rail            2

a. Snap one rail clip (R1) onto the right half of each hoop.
"""


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """An empty working folder."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.fixture
def manual(folder: Path) -> Path:
    """A manual without faults: no warning, no question."""
    path = folder / "back-yard.txt"
    path.write_text(MANUAL, encoding="utf-8")
    return path


@pytest.fixture
def extra(folder: Path) -> Path:
    """The leaflet of an optional extra."""
    path = folder / "shade-rail.txt"
    path.write_text(EXTRA, encoding="utf-8")
    return path
