"""Numbers, codes and units of a scan that the text recogniser was not sure of: a question for each sentence that counts on one.

A digit read wrongly gives a wrong count without a trace in the grammar of the sentence; only the recogniser's own doubt tells of it.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace

from hoopwright.model.document import Document, Word
from hoopwright.model.frame import Frame
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Question

# Confidence below which a word is asked about. Of the words with a digit on clean scans at 200 dpi (tests/bench/bench_layouts.py) about
# one in forty lies below it; words that the reader mended (fractions, marks for inches) are set to 0.6 or less.
UNSURE = 0.6
_UNIT = re.compile(r"^\(?(?:mm|cm|m|in|ft|feet|foot|inch|inches|metres?|meters?)[.,;:)]*$", re.IGNORECASE)


def ask_of_blurred(frame: Frame) -> Frame:
    """The frame with a question for each fitting and sentence, or line of the parts list, in which a telling word is hard to read.

    Nothing is asked of documents that have a text layer: their words have no confidence.
    """
    codes = frozenset(part.code.lower() for part in frame.parts if part.code)
    blurred = {document.id: list(_blurred(document, codes)) for document in frame.outline.documents}
    if not any(blurred.values()):
        return frame
    return replace(frame, questions=(*frame.questions, *_questions(frame, blurred)))


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
