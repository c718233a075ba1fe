"""Fuzzes the reading room: ``python tests/bench/fuzz_reading.py [count] [seed]`` damages sound files and reads them.

Prints how many were read and refused, the slowest, and every file that broke a rule; leaves with 1 if one did. Each batch runs in a
process of its own, so that a crash or a hang of a library is seen and counted.
"""

from __future__ import annotations

import multiprocessing
import random
import sys
import tempfile
import time
import traceback
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from reading.mutations import check, mutated
from reading.seeds import seeds

BATCH = 100
SECONDS = 120.0  # for a batch


def run_batch(data: dict[str, bytes], numbers: list[int], seed: int, results: multiprocessing.Queue[tuple[int, str, float]]) -> None:
    """Reads the damaged files with these numbers; puts (number, outcome, seconds) for each."""
    from hoopwright.model.errors import UnreadableDocument
    from hoopwright.reading import read_document, tesseract

    tesseract.PROGRAM = "no-such-program"
    names = sorted(data)
    with tempfile.TemporaryDirectory() as folder:
        for number in numbers:
            name = names[number % len(names)]
            path = Path(folder) / name
            path.write_bytes(mutated(data[name], random.Random(f"{seed} {number}")))
            begun = time.monotonic()
            try:
                check(read_document(path, "D1"))
                outcome = "read"
            except UnreadableDocument:
                outcome = "refused"
            except BaseException:
                outcome = f"BROKE on {name}:\n{traceback.format_exc()}"
            results.put((number, outcome, time.monotonic() - begun))


def main(count: int = 5000, seed: int = 1) -> int:
    """Runs ``count`` damaged files. Returns 1 if one broke a rule, crashed or hung."""
    data = seeds()
    spawn = multiprocessing.get_context("spawn")  # typst has started threads here, which a fork would not survive
    tally: dict[str, int] = {}
    slowest = 0.0
    broken: list[str] = []
    for first in range(0, count, BATCH):
        numbers = list(range(first, min(first + BATCH, count)))
        results: multiprocessing.Queue[tuple[int, str, float]] = spawn.Queue()
        process = spawn.Process(target=run_batch, args=(data, numbers, seed, results))
        process.start()
        done = 0
        limit = time.monotonic() + SECONDS
        while done < len(numbers) and time.monotonic() < limit:
            try:
                number, outcome, seconds = results.get(timeout=1.0)
            except Exception:
                if not process.is_alive() and results.empty():
                    break
                continue
            done += 1
            slowest = max(slowest, seconds)
            tally[outcome.split()[0]] = tally.get(outcome.split()[0], 0) + 1
            if outcome.startswith("BROKE"):
                broken.append(f"{number}: {outcome}")
        if done < len(numbers):
            broken.append(f"{numbers[done]}: {'hang' if process.is_alive() else f'crash, exit code {process.exitcode}'}")
        process.kill()
        process.join()
        print(f"{numbers[-1] + 1}/{count} {tally}", file=sys.stderr, flush=True)
    print(f"{count} files, seed {seed}: {tally}, slowest {slowest:.2f} s")
    print("\n".join(broken))
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main(*(int(argument) for argument in sys.argv[1:3])))
