"""Writes what the tool makes of the sample manuals into ``outputs/``: run it when a change of the tool changes them.

    python tests/project/refresh_outputs.py

``test_outputs.py`` regenerates the same files and compares.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from hoopwright.api import build_schedule, manual_files
from hoopwright.reporting import Units, summary_text, write_outputs

from library import PROJECT, SAMPLES, Kit

OUTPUTS = PROJECT / "outputs"
PICTURE = "hoop-sheet.png"  # for the README
PICTURE_OF = "orchard-6"
PICTURE_HOOP = "H2"
IMPERIAL = {"orchard-6"}  # its manual is in feet and inches, so the reports are too


def make_outputs(kit: Kit, folder: Path) -> list[Path]:
    """The kit's results in ``folder``: all reports, and the terminal summary as text."""
    units: Units = "imperial" if kit.name in IMPERIAL else "metric"
    files = manual_files([kit.manual])
    schedule = build_schedule(files)
    written = write_outputs(schedule, folder, units=units, sources=files)
    summary = folder / "summary.txt"
    summary.write_text(summary_text(schedule, 100, units), encoding="utf-8")
    return [*written, summary]


def picture(sheets: Path, target: Path) -> None:
    """The sheet of ``PICTURE_HOOP`` from the printed PDF as a picture with 90 dots to the inch."""
    import pypdfium2  # type: ignore[import-untyped]

    pdf = pypdfium2.PdfDocument(sheets)
    try:
        page = next(page for page in pdf if f"hoop {PICTURE_HOOP} ·" in page.get_textpage().get_text_bounded())
        page.render(scale=90 / 72).to_pil().quantize(64).save(target, optimize=True)
    finally:
        pdf.close()


def refresh() -> None:
    """Replace the results of every sample."""
    for kit in SAMPLES:
        folder = OUTPUTS / kit.name
        shutil.rmtree(folder, ignore_errors=True)
        for path in make_outputs(kit, folder):
            print(path.relative_to(PROJECT))
    picture(OUTPUTS / PICTURE_OF / "sheets.pdf", OUTPUTS / PICTURE_OF / PICTURE)


if __name__ == "__main__":
    refresh()
