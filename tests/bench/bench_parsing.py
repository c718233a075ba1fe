"""How many words a second are parsed, framed and scheduled after start-up, and how the time grows. Prints; asserts nothing.

    python tests/bench/bench_parsing.py [--rounds 3] [--words 1000 10000 100000]

The texts are made of the manuals of the tests and samples, one after another and again from the first, each as a bundle of its own with its
own parts list: concatenated files would be a kit that cannot be. ``--joined`` also measures one ever longer manual that
tells every hoop by itself, up to 400 hoops: growth with the length of a manual.
Reading and outlining are done beforehand and not counted; they are in bench_main_job.py. Seconds are those of the processor
(time.process_time), which a busy machine changes less than those of the clock; the figure is the median of the rounds.
"""

from __future__ import annotations

import argparse
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import cycle
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[1]))  # the modules that the tests share, also without pytest

from hoopwright.framing import frame
from hoopwright.grammar import load_grammar
from hoopwright.model.outline import Outline
from hoopwright.outlining import outline
from hoopwright.parsing import parse
from hoopwright.reading import read_documents
from hoopwright.scheduling import schedule
from parsing.mini import document, manual

from library import CORPUS, EXAMPLES, SAMPLES, Kit

LONGEST = 36_000  # words of one manual: 400 hoops, the most that is read
STAGES = ("parse", "frame", "schedule")


@dataclass(frozen=True, slots=True)
class Work:
    """Outlines to work on, and how many words their steps have."""

    outlines: tuple[Outline, ...]
    words: int


def words(contents: Outline) -> int:
    """Words of the steps: what the parser reads."""
    return sum(len(step.text.split()) for step in contents.steps)


def bundles(target: int) -> Work:
    """Whole manuals, again and again, until they have ``target`` words; the last one is kept whole if that is nearer."""
    found: list[Outline] = []
    total = 0
    known: dict[Kit, Outline] = {}
    for kit in cycle([*SAMPLES, *EXAMPLES, *CORPUS]):
        if kit not in known:
            known[kit] = outline(read_documents([kit.manual]))
        more = words(known[kit])
        if found and total + more / 2 > target:
            break
        found.append(known[kit])
        total += more
    return Work(tuple(found), total)


PER_HOOP = [
    "Slide two ridge clips onto hoop {h}, {a} mm either side of the ridge.",
    "Slide a crop clip onto each leg of hoop {h}, {b} mm up from the foot, and close it with a clamp bolt.",
    "Slip one lamp ring over the crown tube of hoop {h}.",
    "Check that every clip of hoop {h} sits square to its tube and tighten the clamp bolts.",
    "Slide one brace clip onto each leg of hoop {h}, {c} mm up from the foot. It points to the middle of the tunnel.",
    "Drive two joint screws through each joint of hoop {h}.",
    "Stand hoop {h} on its ground tubes with one helper at each leg.",
]


def one_manual(target: int) -> Work:
    """One manual of about ``target`` words that tells every hoop by itself; the number of hoops grows with it."""
    per = sum(len(step.split()) for step in PER_HOOP)
    hoops = max(6, round(target / per))
    steps = [step.format(h=h, a=200 + h % 90, b=900 + h % 90, c=200 + h % 90) for h in range(1, hoops + 1) for step in PER_HOOP]
    contents = outline([document(manual(steps, hoops=hoops, default=10**6))])
    return Work((contents,), words(contents))


def measure(work: Work) -> dict[str, float]:
    """Processor seconds of each stage."""
    spent = dict.fromkeys(STAGES, 0.0)
    grammar = load_grammar()
    for contents in work.outlines:
        start = time.process_time()
        reading = parse(contents, grammar)
        parsed = time.process_time()
        built = frame(contents, reading.facts, reading.parts, reading.sentences, reading.member_numbers)
        framed = time.process_time()
        schedule(built)
        done = time.process_time()
        for stage, seconds in zip(STAGES, (parsed - start, framed - parsed, done - framed), strict=True):
            spent[stage] += seconds
    return spent


def table(title: str, make: Callable[[int], Work], sizes: Sequence[int], rounds: int) -> None:
    """Print a row for each size: words, seconds of each stage, words a second, growth from the row above."""
    print(f"{title}\n{'words':>9} {'parse':>9} {'frame':>9} {'schedule':>9} {'all':>9} {'words/s':>10}  growth (time ÷ words)")
    before: tuple[int, float] | None = None
    for size in sizes:
        work = make(size)
        runs = [measure(work) for _ in range(rounds)]
        middle = {stage: median(run[stage] for run in runs) for stage in STAGES}
        total = sum(middle.values())
        growth = (
            ""
            if before is None
            else f"{total / before[1]:.1f} ÷ {work.words / before[0]:.1f} = {(total / before[1]) / (work.words / before[0]):.2f}"
        )
        stages = " ".join(f"{middle[stage]:7.2f} s" for stage in STAGES)
        print(f"{work.words:9} {stages} {total:7.2f} s {work.words / total:10.0f}  {growth}", flush=True)
        before = (work.words, total)


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--rounds", type=int, default=3)
    options.add_argument("--words", type=int, nargs="+", default=[1_000, 10_000, 100_000])
    options.add_argument("--joined", action="store_true", help="also one ever longer manual")
    chosen = options.parse_args()
    measure(bundles(1))  # start-up: imports on first use, compiled patterns
    table("manuals of the tests, one after another", bundles, chosen.words, chosen.rounds)
    if chosen.joined:
        table("\none manual, longer and longer", one_manual, [size for size in chosen.words if size <= LONGEST], chosen.rounds)


if __name__ == "__main__":
    main()
