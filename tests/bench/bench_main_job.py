"""How long the main job takes, against pdfplumber's bare word extraction of the same file in the same run. Prints; asserts nothing.

    python tests/bench/bench_main_job.py [--rounds 3]

Every figure is the median of the rounds; the programs take turns, so that a busy machine is unfair to all alike. Beside the time by the
clock stands the time of the processor, which a busy machine changes less. Peak memory is what the operating system reports for the process
(getrusage, ru_maxrss).
"""

from __future__ import annotations

import argparse
import os
import subprocess
import sys
import tempfile
import time
from dataclasses import dataclass
from pathlib import Path
from statistics import median

HOOPWRIGHT = [sys.executable, "-m", "hoopwright.cli"]
WRITE_MANUAL = [sys.executable, str(Path(__file__).with_name("long_manual.py"))]
BARE = """
import sys, pdfplumber
with pdfplumber.open(sys.argv[1]) as pdf:
    for page in pdf.pages:
        page.extract_words()
        page.close()
"""


@dataclass(frozen=True, slots=True)
class Measured:
    """Seconds by the clock and of the processor, and peak memory in MiB, of one run."""

    seconds: float
    busy: float
    mib: float


def measure(command: list[str], folder: Path) -> Measured:
    """Run ``command`` to its end in ``folder``; raises RuntimeError if it fails."""
    start = time.perf_counter()
    process = subprocess.Popen(command, cwd=folder, stdout=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        raise RuntimeError(f"{command} ended with {process.returncode}")
    return Measured(seconds, usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024)


def commands(folder: Path) -> dict[str, list[str]]:
    """What is measured, by name."""
    chosen = {"hoopwright --help": [*HOOPWRIGHT, "--help"]}
    for pages in (10, 100):
        manual = folder / f"{pages}.pdf"
        # In a process of its own: a child's peak memory is never reported as less than its parent's.
        subprocess.run([*WRITE_MANUAL, str(manual), str(pages)], check=True)
        chosen[f"schedule and tables, {pages} pages"] = [*HOOPWRIGHT, "schedule", str(manual), "--only", "csv"]
        chosen[f"every report, {pages} pages"] = [*HOOPWRIGHT, "schedule", str(manual)]
        chosen[f"pdfplumber words alone, {pages} pages"] = [sys.executable, "-c", BARE, str(manual)]
    return chosen


def row(runs: list[Measured]) -> str:
    """Clock, processor, memory."""
    clock, busy = median(run.seconds for run in runs), median(run.busy for run in runs)
    return f"{clock:7.2f} s {busy:7.2f} s busy {max(run.mib for run in runs):6.0f} MiB"


def compared(runs: list[Measured], bare: list[Measured]) -> str:
    """How many times the bare word extraction, by the clock and by the processor."""
    clock = median(run.seconds for run in runs) / median(run.seconds for run in bare)
    busy = median(run.busy for run in runs) / median(run.busy for run in bare)
    return f" {clock:5.2f} × pdfplumber by the clock, {busy:5.2f} × busy"


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--rounds", type=int, default=3)
    rounds = parser.parse_args().rounds
    with tempfile.TemporaryDirectory() as name:
        chosen = commands(Path(name))
        found = {title: [] for title in chosen}  # type: dict[str, list[Measured]]
        for _ in range(rounds):
            for title, command in chosen.items():
                found[title].append(measure(command, Path(name)))
    for title, runs in found.items():
        bare = found.get(f"pdfplumber words alone, {title.rpartition(', ')[2]}", runs)
        print(f"{title:38} {row(runs)} {compared(runs, bare) if bare is not runs else ''}")


if __name__ == "__main__":
    main()
