"""The manuals that the tests read, each with its reference reading: the samples, the corpus, and two that are no manuals of tunnels."""

from __future__ import annotations

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from hoopwright.api import Understanding, settle, understand
from hoopwright.reporting import to_dict
from hoopwright.reviewing import Answers

import score

PROJECT = Path(__file__).parent.parent
SAMPLE_FOLDER = PROJECT / "sample_manuals"
CORPUS_FOLDER = PROJECT / "tests" / "manuals"


@dataclass(frozen=True, slots=True)
class Kit:
    """A kit's documents in a folder with ``reference.json``: a folder with an ``order`` file, or one file."""

    folder: Path

    @property
    def name(self) -> str:
        return self.folder.name

    @property
    def manual(self) -> Path:
        """What is given on the command line: the folder where it is a bundle, else the one file."""
        if (self.folder / "order").is_file():
            return self.folder
        names = ("manual", self.name)
        found = [self.folder / f"{name}{ending}" for name in names for ending in (".pdf", ".md", ".txt")]
        return next(path for path in found if path.is_file())

    @property
    def reference(self) -> dict[str, Any]:
        text = (self.folder / "reference.json").read_text(encoding="utf-8")
        reading: dict[str, Any] = json.loads(text)
        return reading


def kits(folder: Path, start: str = "") -> list[Kit]:
    """The kits in ``folder`` whose names begin with ``start``, by name."""
    return [Kit(path.parent) for path in sorted(folder.glob(f"{start}*/reference.json"))]


SAMPLES = kits(SAMPLE_FOLDER)
EXAMPLES = kits(CORPUS_FOLDER, "e")  # the six that the parser was first developed on
CORPUS = kits(CORPUS_FOLDER, "c")  # eight more, in other styles
# Written apart from the parser; what it made of them at first sight stands in tests/manuals/README.md.
HELD_OUT = kits(CORPUS_FOLDER, "h")
UNSEEN = kits(CORPUS_FOLDER, "d")
NEWEST = [kit for start in "fgklmnp" for kit in kits(CORPUS_FOLDER, start)]
LATEST = [kit for start in ("q", "r", "t", "u[0-9]", "v", "w", "x") for kit in kits(CORPUS_FOLDER, start)]
RETOLD = [kit for start in "yabz" for kit in kits(CORPUS_FOLDER, start)]  # kits of the above, told again in other words and layouts
UNRELATED = kits(CORPUS_FOLDER, "unrelated")


@cache
def understood(kit: Kit) -> Understanding:
    """The kit's outline and reading, made once for all tests: half of the time that a manual takes."""
    return understand([kit.manual])


@cache
def written(kit: Kit) -> dict[str, Any]:
    """The kit's schedule without answers, as it is written to JSON; made once for all tests."""
    return to_dict(settle(understood(kit), Answers()).schedule)


@cache
def scored(kit: Kit) -> dict[str, Any]:
    """The kit's schedule against its reference: the figures of ``score.py``."""
    row: dict[str, Any] = score.score(written(kit), kit.reference)
    return row


def total(group: list[Kit]) -> dict[str, Any]:
    """The figures of several kits taken together."""
    figures: dict[str, Any] = score.add([scored(kit) for kit in group])
    return figures


def shortcomings(row: dict[str, Any]) -> str:
    """The cells that are wrong, for a failing test's message."""
    silent = {(hoop, fitting) for hoop, fitting, _, _ in row["silent"]}
    lines = [f"silent: {hoop} {fitting}: should be {want}, is {got}" for hoop, fitting, want, got in row["silent"]]
    lines += [f"wrong, but asked about: {hoop} {fitting}" for hoop, fitting in row["wrong"] if (hoop, fitting) not in silent]
    return "\n".join(["", *lines])
