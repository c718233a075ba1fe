"""Numbers, codes and units of a scan that the text recogniser was not sure of, and steps whose numbers it lost: a question for each.

A digit read wrongly gives a wrong count without a trace in the grammar of the sentence; only the recogniser's own doubt tells of it. A
step whose number was lost runs into the one before it; only the gap in the numbers tells of it.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from string import ascii_lowercase, ascii_uppercase

from hoopwright.model.document import Document, Word
from hoopwright.model.frame import Frame
from hoopwright.model.outline import Source, Step
from hoopwright.model.schedule import Question

# Confidence below which a word is asked about. Of the words with a digit on clean scans at 200 dpi (tests/bench/bench_layouts.py) about
# one in forty lies below it; words that the reader mended (fractions, marks for inches) are set to 0.6 or less.
UNSURE = 0.6
_LABEL = re.compile(r"^((?:.*\D)?)(\d{1,3})$")
_LETTERS = (ascii_uppercase, ascii_lowercase)
_SKIPPED = frozenset("IOio")  # letters that makers leave out of a row, for they look like figures. Common practice, no source
_MOST_LOST = 3  # numbers in a row that a scan may lose; where more are missing the manual counts otherwise
_UNIT = re.compile(r"^\(?(?:mm|cm|m|in|ft|feet|foot|inch|inches|metres?|meters?)[.,;:)]*$", re.IGNORECASE)


def ask_of_blurred(frame: Frame) -> Frame:
    """The frame with a question for each fitting and sentence, or line of the parts list, in which a telling word is hard to read, and for
    each gap in the numbers of a scan's steps.

    Nothing is asked of documents that have a text layer: their words have no confidence.
    """
    codes = frozenset(part.code.lower() for part in frame.parts if part.code)
    blurred = {document.id: list(_blurred(document, codes)) for document in frame.outline.documents}
    return replace(frame, questions=(*frame.questions, *_questions(frame, blurred), *_lost_steps(frame)))


def _blurred(document: Document, codes: frozenset[str]) -> Iterator[Word]:
    """The document's doubtful numbers, codes and units, in the order of its text."""
    for line in document.lines:
        for word in line.words:
            if word.confidence is not None and word.confidence < UNSURE and _tells(word.text, codes):
                yield word


def _tells(text: str, codes: frozenset[str]) -> bool:
    bare = text.strip(".,;:()[]").lower()
    return bool(re.search(r"[\d½¼¾⅓⅔⅛⅜⅝⅞]", text) or bare in codes or _UNIT.match(text))


def _questions(frame: Frame, blurred: Mapping[str, list[Word]]) -> Iterator[Question]:
    asked: set[tuple[str, Source]] = set()
    places: list[tuple[str, Source, str | None]] = [(call.part, call.source, call.step) for call in frame.calls if call.quantity > 0]
    places += [(part.name, part.source, None) for part in frame.parts if part.source is not None and part.is_fitting]
    for name, source, step in places:
        words = _within(blurred.get(source.document, []), source)
        if words and (name, source) not in asked:
            asked.add((name, source))
            yield _question(name, source, step, words)


def _within(words: list[Word], source: Source) -> list[str]:
    first = bisect_left(words, source.start, key=lambda word: word.start)
    last = bisect_left(words, source.end, key=lambda word: word.start)
    return [word.text for word in words[first:last]]


def _question(name: str, source: Source, step: str | None, words: Iterable[str]) -> Question:
    told = ", ".join(f'"{word}"' for word in dict.fromkeys(words))
    message = f"The scan is hard to read here: {told}. Does the manual have it so? The number or place of {name} rests on it."
    assumed = "as it was read"
    return Question("quantity", name, (), step, message, (assumed,), assumed, source=source)


def _lost_steps(frame: Frame) -> Iterator[Question]:
    """A question for each gap in the numbers of a scan's steps, with the hoops that the step before it speaks of."""
    scans = {document.id for document in frame.outline.documents if document.kind == "scan"}
    hoops: dict[str, set[int]] = {}
    for call in frame.calls:
        if call.hoop is not None:
            hoops.setdefault(call.step, set()).add(call.hoop)
    labelled = [(step, label) for step in frame.outline.steps if step.document in scans and (label := _numbered(step.label)) is not None]
    for (before, first), (after, last) in pairwise(labelled):
        lost = _between(first[0], first[1], last[1])
        alike = before.document == after.document and before.option == after.option and first[0] == last[0]
        if alike and 0 < len(lost) <= _MOST_LOST and before.items:
            named = tuple(f"H{hoop}" for hoop in sorted(hoops.get(before.id, ())))
            yield _lost(lost, before, named)


def _numbered(label: str | None) -> tuple[str, int] | None:
    """A step's label as what stands before its last number, and that number: "4.3" as "4." and 3. Letters count, too: "C" as "A" and 2."""
    match = _LABEL.match(label or "")
    if match is not None:
        return match.group(1), int(match.group(2))
    for letters in _LETTERS:
        if label is not None and len(label) == 1 and label in letters:
            return letters[0], letters.index(label)
    return None


def _between(prefix: str, first: int, last: int) -> list[str]:
    """The labels that are missing between two."""
    letters = next((letters for letters in _LETTERS if letters[0] == prefix), None)
    if letters is not None:
        return [letter for letter in letters[first + 1 : last] if letter not in _SKIPPED]
    return [f"{prefix}{number}" for number in range(first + 1, last)]


def _lost(labels: list[str], before: Step, hoops: tuple[str, ...]) -> Question:
    which = f"step {labels[0]}" if len(labels) == 1 else f"steps {labels[0]} to {labels[-1]}"
    message = (
        f"The number of {which} was not found in the scan, between step {before.label} (page {before.page}) and the one that follows. "
        f"Does the manual have {which}, and does it call for fittings that are not counted here?"
    )
    assumed = f"what {which} says is part of step {before.label}"
    readings = (assumed, f"there is no {which}" if len(labels) == 1 else f"there are no {which}")
    return Question("reference", None, hoops, before.id, message, readings, assumed, source=before.items[0].passage.source())
