"""What can be written, by name. Each maker writes its files into a folder; heavy libraries are imported only when they are used."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, Protocol

from hoopwright.model.schedule import Schedule
from hoopwright.reporting.lengths import Units

Paper = Literal["a4", "us-letter"]


@dataclass(frozen=True, slots=True)
class Job:
    """What to write about, and how. ``sources`` are the user's files in the order of ``schedule.documents``, or empty."""

    schedule: Schedule
    units: Units
    paper: Paper
    share_sheets: bool
    sources: tuple[Path, ...]


class UnderWay(Protocol):
    """A report that is made in a process of its own while others are made here."""

    def wait(self) -> None:
        """Return when it is there. Raises RuntimeError if it cannot be made."""

    def stop(self) -> None:
        """Give it up."""


def write_text(path: Path, text: str) -> None:
    """UTF-8 with plain line feeds on every system."""
    path.write_text(text, encoding="utf-8", errors="replace", newline="\n")


def make_json(job: Job, folder: Path) -> None:
    """``schedule.json``."""
    from hoopwright.reporting.as_json import to_json

    write_text(folder / "schedule.json", to_json(job.schedule))


def make_csv(job: Job, folder: Path) -> None:
    """``placements.csv`` and ``hoops.csv``."""
    from hoopwright.reporting.as_csv import as_csv, hoops_table, placements_table

    write_text(folder / "placements.csv", as_csv(placements_table(job.schedule)))
    write_text(folder / "hoops.csv", as_csv(hoops_table(job.schedule)))


def make_sheets(job: Job, folder: Path) -> UnderWay:
    """``sheets.pdf``, to print."""
    from hoopwright.reporting.sheets import Typesetting

    return Typesetting(job.schedule, folder / "sheets.pdf", job.units, job.paper, job.share_sheets)


def make_page(job: Job, folder: Path) -> None:
    """``schedule.html``, to look at."""
    from hoopwright.reporting.as_page import page_html

    write_text(folder / "schedule.html", page_html(job.schedule, job.units))


def make_workbook(job: Job, folder: Path) -> None:
    """``schedule.xlsx``."""
    from hoopwright.reporting.as_workbook import workbook

    (folder / "schedule.xlsx").write_bytes(workbook(job.schedule, job.units))


def make_drawings(job: Job, folder: Path) -> None:
    """``drawings/*.svg``."""
    from hoopwright.reporting.as_drawings import drawing_files

    (folder / "drawings").mkdir()
    for name, text in drawing_files(job.schedule, job.units):
        write_text(folder / "drawings" / name, text)


def make_marked(job: Job, folder: Path) -> None:
    """``marked-…`` for each of the user's files: a PDF for a PDF, a page for text. Without the files there is nothing to mark."""
    from hoopwright.reporting.manual_marks import manual_marks

    for document, path in zip(job.schedule.documents, job.sources, strict=False):
        marks = manual_marks(job.schedule, document.id)
        name = f"marked-{document.id}-{_plain_name(document.name)}"
        if path.read_bytes()[:1024].lstrip().startswith(b"%PDF"):
            from hoopwright.reporting.marked_pdf import marked_pdf

            data = marked_pdf(path, marks)
            if data is not None:
                (folder / f"{name}.pdf").write_bytes(data)
        else:
            from hoopwright.reporting.marked_text import marked_html

            write_text(folder / f"{name}.html", marked_html(path, marks, document.name))


def make_graph(job: Job, folder: Path) -> None:
    """``connections.graphml`` and ``connections.json``: what is held to what, by which fittings, from which step on."""
    from hoopwright.reporting.as_graph import graphml, node_link

    (folder / "connections.graphml").write_bytes(graphml(job.schedule))
    write_text(folder / "connections.json", node_link(job.schedule))


def _plain_name(name: str) -> str:
    """A file name without its ending and without anything that a file system could take amiss."""
    return re.sub(r"[^\w.-]+", "_", Path(name).stem)[:60].strip("._") or "manual"


MAKERS: dict[str, Callable[[Job, Path], UnderWay | None]] = {
    "json": make_json,
    "csv": make_csv,
    "sheets": make_sheets,
    "page": make_page,
    "workbook": make_workbook,
    "drawings": make_drawings,
    "marked": make_marked,
    "graph": make_graph,
}
# The drawings stand on the sheets and on the page already; as files of their own they are for those who ask for them. So is the graph.
DEFAULT = ("json", "csv", "sheets", "page", "workbook", "marked")
