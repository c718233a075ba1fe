"""Whole kits printed anew, and what the schedule of the print has otherwise than the schedule of the text."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pypdfium2
from hoopwright.api import build_schedule
from hoopwright.model.errors import HoopwrightError
from hoopwright.reporting import to_dict

import library
import score
from reading.layouts import Layout, printed, scanned


@dataclass(frozen=True)
class Difference:
    """Cells of the hoop by fitting table that are alike, all cells, and those that differ in silence; ``lines`` says which differ."""

    alike: int = 0
    cells: int = 0
    silent: int = 0
    lines: tuple[str, ...] = ()
    others: int = 0  # differences in parts, steps and questions, which may be harmless

    def __add__(self, other: Difference) -> Difference:
        return Difference(
            self.alike + other.alike,
            self.cells + other.cells,
            self.silent + other.silent,
            self.lines + other.lines,
            self.others + other.others,
        )

    @property
    def is_none(self) -> bool:
        return not self.lines

    def __str__(self) -> str:
        share = 100 * self.alike / max(self.cells, 1)
        return f"{self.alike}/{self.cells} cells alike ({share:.2f} %), {self.silent} silent, {self.others} others"


def texts_of(kit: library.Kit) -> list[Path]:
    """The plain text of a kit, file by file."""
    if kit.manual.is_dir():
        return [kit.manual / name for name in (kit.manual / "order").read_text(encoding="utf-8").split()]
    words = kit.folder / "words.txt"
    return [words if words.is_file() else kit.manual]


def reprinted(kit: library.Kit, layout: Layout, folder: Path, *, scan: bool = False, seed: int = 1) -> int:
    """Writes the kit's PDFs and their order into ``folder``; returns the number of pages. A kit that is only a PDF is scanned as it is."""
    folder.mkdir(parents=True, exist_ok=True)
    count = 0
    names = []
    for text in texts_of(kit):
        data = text.read_bytes() if text.suffix == ".pdf" else printed(text, layout)
        if scan:
            data = scanned(data, seed)
        with pypdfium2.PdfDocument(data) as document:
            count += len(document)
        names.append(f"{text.stem}.pdf")
        (folder / names[-1]).write_bytes(data)
    (folder / "order").write_text("\n".join(names), encoding="utf-8")
    return count


def against_text(kit: library.Kit, folder: Path) -> Difference:
    """The schedule of the kit in ``folder`` against that of the kit's text."""
    texts = texts_of(kit)
    wanted = _schedule_of_text(tuple(texts))
    try:
        got = _schedule([folder])
    except HoopwrightError as error:
        got = {"refused": str(error)}
    if "refused" in wanted or "refused" in got:
        alike = ("refused" in wanted) == ("refused" in got)
        return Difference(lines=() if alike else (f"text: {wanted.get('refused')}, print: {got.get('refused')}",), silent=0 if alike else 1)
    return compared(got, wanted, kit.reference.get("names", {}))


@cache
def _schedule_of_text(paths: tuple[Path, ...]) -> dict[str, Any]:
    return _schedule(list(paths))


def _schedule(paths: list[Path]) -> dict[str, Any]:
    try:
        return to_dict(build_schedule(paths))
    except HoopwrightError as error:
        return {"refused": str(error)}


def compared(got: dict[str, Any], wanted: dict[str, Any], names: dict[str, list[str]]) -> Difference:
    """A print's schedule against the text's, both as written to JSON."""
    placed_by: dict[str, list[str]] = {}
    labels = {step["id"]: str(step.get("label") or step["id"]) for step in wanted["steps"]}
    for placement in wanted["placements"]:
        placed_by.setdefault(placement["fitting"], []).append(labels.get(placement.get("step"), ""))
    reading = {"names": names, "counts": wanted["counts"], "placed_by": placed_by, "hoops": len(wanted["structure"]["hoops"])}
    row = score.score(got, reading)
    silent = {(hoop, fitting) for hoop, fitting, _, _ in row["silent"]}
    known = score.Names(reading)
    have, want = score.table(got["counts"], known), score.table(wanted["counts"], known)
    lines = [f"{'SILENT ' if key in silent else ''}{' '.join(key)}: text {want[key]}, print {have[key]}" for key in row["wrong"]]
    others = [f"other: {line}" for line in _others(got, wanted)]
    return Difference(*row["cells"], len(silent), tuple(lines + others), len(others))


def _others(got: dict[str, Any], wanted: dict[str, Any]) -> list[str]:
    lines = []
    for what in ("parts", "warnings", "questions"):
        a, b = _told(wanted, what), _told(got, what)
        lines += [f"{what} only in text: {line}" for line in sorted(a) if line not in b]
        lines += [f"{what} only in print: {line}" for line in sorted(b) if line not in a]
    a_steps, b_steps = [[str(s.get("label")) for s in schedule["steps"]] for schedule in (wanted, got)]
    if a_steps != b_steps:
        lines.append(f"steps: text {' '.join(a_steps)[:300]}\n          print {' '.join(b_steps)[:300]}")
    return lines


def _told(schedule: dict[str, Any], what: str) -> set[str]:
    if what == "parts":
        return {f"{part['fitting']} listed {part.get('listed')} needed {part.get('needed')}" for part in schedule["parts"]}
    key = "code" if what == "warnings" else "about"
    return {f"{item[key]} {item.get('fitting')} {' '.join(item.get('hoops') or [])}" for item in schedule[what]}
