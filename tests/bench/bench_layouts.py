"""The same manuals in other layouts: ``python tests/bench/bench_layouts.py [--scans] [--layout NAME] [--keep FOLDER] [NAME ...]``.

Every manual of the corpus and every sample is printed with typst in each layout of ``tests/reading/layouts.py``, and with ``--scans`` also
scanned at 200 dpi, aslant, grainy and unevenly lit. Its schedule is held against the schedule from the plain text: cells of the hoop by
fitting table that are alike, and cells that differ without a question or warning that speaks of them. NAMEs choose manuals by the
beginning of their names.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from reading.layouts import PRINTED
from reading.reprinting import Difference, against_text, reprinted

import library


def main(arguments: list[str]) -> int:
    """Prints a line for each manual and layout that differs, and the totals. Returns 1 if a cell differs in silence."""
    parser = argparse.ArgumentParser()
    parser.add_argument("--scans", action="store_true", help="scans only; they take seconds a page")
    parser.add_argument("--layout", action="append", help="only the layouts with these names")
    parser.add_argument("--keep", type=Path, help="keep the PDFs in this folder")
    parser.add_argument("names", nargs="*")
    options = parser.parse_args(arguments)
    kits = [
        k for k in [*library.SAMPLES, *library.kits(library.CORPUS_FOLDER)] if not options.names or k.name.startswith(tuple(options.names))
    ]
    layouts = [layout for layout in PRINTED if not options.layout or layout.name in options.layout]
    totals: dict[str, Difference] = {}
    pages: dict[str, tuple[int, float]] = {}
    for kit in kits:
        for layout in layouts[:1] if options.scans and not options.layout else layouts:
            name = f"scan of {layout.name}" if options.scans else layout.name
            with tempfile.TemporaryDirectory() as scratch:
                folder = (options.keep or Path(scratch)) / f"{kit.name}-{name.replace(' ', '-')}"
                count = reprinted(kit, layout, folder, scan=options.scans)
                begun = time.perf_counter()
                found = against_text(kit, folder)
                taken = time.perf_counter() - begun
            totals[name] = totals.get(name, Difference()) + found
            pages[name] = (pages.get(name, (0, 0.0))[0] + count, pages.get(name, (0, 0.0))[1] + taken)
            if not found.is_none:
                print(f"{kit.name:24} {name:20} {found}", flush=True)
                print("\n".join(f"    {line}" for line in found.lines), flush=True)
    for name, total in totals.items():
        count, taken = pages[name]
        print(f"{'ALL':24} {name:20} {total}, {count} pages, {taken:.0f} s")
    return 1 if any(total.silent for total in totals.values()) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
