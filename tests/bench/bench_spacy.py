"""What our own lexer and spotting cost against spaCy's tokenizer and PhraseMatcher on the same sentences. Prints; asserts nothing.

    python tests/bench/bench_spacy.py [--rounds 5]

The sentences are those of all manuals of the tests and samples, each looked through for the names of its own parts list. The two do not do
the same amount of work: spaCy parts words and marks the phrases that it was given; ours also values numbers, lengths and sizes, mends
slips, and makes every mention a phrase with its number, hoops and part, besides verbs and places. tests/parsing/test_against_spacy.py holds
their results against each other.
Seconds are those of the processor; both are timed in turn in every round, and the ratio is the median of the rounds' ratios. Both keep
what they have once parted, so each round starts anew with nothing kept, as a run of the tool does; "again" is a second pass.
What a library costs to load is measured in processes of their own, the median of the rounds, above a bare Python.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from statistics import median

sys.path.insert(0, str(Path(__file__).parents[1]))  # the modules that the tests share, also without pytest

import spacy
from hoopwright.parsing.chunk import Chunker
from hoopwright.parsing.lex import lex
from parsing.test_against_spacy import KITS, chunker_of, spotter, texts, tube_names
from spacy.language import Language
from spacy.matcher import PhraseMatcher

from library import understood

LOADS = {
    "bare Python": "pass",
    "spaCy, blank English": "import spacy; from spacy.matcher import PhraseMatcher; spacy.blank('en')",
    "our parsing, its grammar": "import hoopwright.parsing; from hoopwright.grammar import load_grammar; load_grammar()",
}
# Seconds of the processor, and the peak of memory in KiB: VmHWM of proc(5), since that of getrusage(2) can be the parent's.
REPORT = """
import re, time
print(time.process_time(), re.search(r"VmHWM:\\s+(\\d+)", open("/proc/self/status").read())[1])
"""


@dataclass(frozen=True, slots=True)
class Theirs:
    """A new pipeline, and a matcher for each manual's parts."""

    pipeline: Language
    matchers: tuple[PhraseMatcher, ...]

    def tokens(self) -> None:
        for kit in KITS:
            for text in texts(kit):
                self.pipeline.make_doc(text)

    def names(self) -> None:
        for kit, matcher in zip(KITS, self.matchers, strict=True):
            for text in texts(kit):
                matcher(self.pipeline.make_doc(text))


def theirs() -> Theirs:
    """spaCy as it is when a program starts."""
    pipeline = spacy.blank("en")
    matchers = []
    for kit in KITS:
        matcher = PhraseMatcher(pipeline.vocab, attr="LOWER")
        matcher.add("part", [pipeline.make_doc(name) for name in spotter(kit).entries])
        matchers.append(matcher)
    return Theirs(pipeline, tuple(matchers))


@dataclass(frozen=True, slots=True)
class Ours:
    """Our lexer with nothing kept, and a new chunker for each manual."""

    chunkers: tuple[Chunker, ...]

    def tokens(self) -> None:
        for kit in KITS:
            for text in texts(kit):
                lex(text)

    def names(self) -> None:
        for kit, chunker in zip(KITS, self.chunkers, strict=True):
            for text in texts(kit):
                chunker.elements(lex(text))


def ours() -> Ours:
    """The project as it is when a program starts."""
    chunkers = tuple(chunker_of(understood(kit).outline, tube_names(understood(kit))) for kit in KITS)
    for name, module in list(sys.modules.items()):
        if name.startswith("hoopwright.parsing"):
            for kept in vars(module).values():
                if hasattr(kept, "cache_clear"):
                    kept.cache_clear()
    return Ours(chunkers)


def seconds(work: Callable[[], None]) -> float:
    """Processor seconds of ``work``."""
    start = time.process_time()
    work()
    return time.process_time() - start


@dataclass(frozen=True, slots=True)
class Round:
    """Processor seconds of one round, with nothing kept and a second time."""

    spacy: float
    spacy_again: float
    ours: float
    ours_again: float


def one_round(names: bool) -> Round:
    """Both on all sentences, one after the other."""
    new, own = theirs(), ours()
    their_work, our_work = (new.names, own.names) if names else (new.tokens, own.tokens)
    return Round(seconds(their_work), seconds(their_work), seconds(our_work), seconds(our_work))


def load(code: str) -> tuple[float, float]:
    """(processor seconds, peak memory in MiB) of a process that only loads something."""
    done = subprocess.run([sys.executable, "-c", code + REPORT], capture_output=True, text=True, check=True)
    spent, peak = done.stdout.split()
    return float(spent), float(peak) / 1024


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--rounds", type=int, default=5)
    rounds = options.parse_args().rounds
    words = sum(len(text.split()) for kit in KITS for text in texts(kit))
    print(f"{words} words in {sum(len(texts(kit)) for kit in KITS)} sentences of {len(KITS)} manuals; {rounds} rounds")
    more_a_word = 0.0
    for names in (True, False):
        one_round(names)  # first use: parts lists, compiled patterns
        runs = [one_round(names) for _ in range(rounds)]
        print("tokens and names of parts" if names else "tokens")
        for label in ("spacy", "spacy_again", "ours", "ours_again"):
            spent = median(getattr(run, label) for run in runs)
            print(f"    {label:12} {spent:7.3f} s {words / spent:10,.0f} words/s")
        print(f"    ours ÷ spaCy {median(run.ours / run.spacy for run in runs):.1f}")
        more_a_word = median(run.ours - run.spacy for run in runs) / words
    loads = {name: [load(code) for _ in range(rounds)] for name, code in LOADS.items()}
    middle = {name: tuple(median(run[which] for run in found) for which in (0, 1)) for name, found in loads.items()}
    bare = middle["bare Python"]
    print("to load, above bare Python")
    for name, (spent, peak) in middle.items():
        print(f"    {name:26} {spent - bare[0]:6.2f} s {peak - bare[1]:5.0f} MiB")
    loading = middle["spaCy, blank English"][0] - bare[0]
    after = f"after {loading / more_a_word:,.0f} words" if more_a_word > 0 else "never"
    print(f"tokens alone: spaCy has made up for its loading {after}")


if __name__ == "__main__":
    main()
