"""What is to be marked in the manual itself: each sentence that calls for fittings, with its hoops and numbers; warnings and questions."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from hoopwright.model.outline import Source
from hoopwright.model.schedule import Placement, Schedule
from hoopwright.reporting.grouping import grouped, hoop_number, hoop_range
from hoopwright.reporting.marks import marks_of
from hoopwright.reporting.text import shown

Kind = Literal["fitting", "warning", "question"]


@dataclass(frozen=True, slots=True)
class ManualMark:
    """A sentence of a document to mark. ``tag`` holds short lines for the margin, ``words`` says all of it."""

    kind: Kind
    source: Source
    tag: tuple[str, ...]
    words: str


def manual_marks(schedule: Schedule, document: str) -> list[ManualMark]:
    """The marks of one document, in the order of its text."""
    found = [*_fittings(schedule, document), *_warnings(schedule, document), *_questions(schedule, document)]
    return sorted(found, key=lambda mark: (mark.source.page, mark.source.start))


def _fittings(schedule: Schedule, document: str) -> Iterable[ManualMark]:
    names = marks_of(schedule)
    sentences: dict[tuple[int, str], list[Placement]] = {}
    for item in schedule.placements:
        if item.source.document == document:
            sentences.setdefault((item.source.page, item.source.quote), []).append(item)
    for items in sentences.values():
        tag: list[str] = []
        words: list[str] = []
        for where, numbers in _totals(items):
            tag.append(f"{where}: " + ", ".join(f"{number}×{names[fitting]}" for fitting, number in numbers))
            words.append(f"{where}: " + ", ".join(f"{number} {shown(fitting)} ({names[fitting]})" for fitting, number in numbers))
        yield ManualMark("fitting", items[0].source, tuple(tag), "; ".join(words))


def _totals(items: Sequence[Placement]) -> list[tuple[str, tuple[tuple[str, int], ...]]]:
    """``each of H1–H5`` or a member's name, with the number of every fitting there."""
    counts: dict[str, dict[str, int]] = {}
    for item in items:
        row = counts.setdefault(item.hoop or shown(item.member), {})
        row[item.fitting] = row.get(item.fitting, 0) + item.quantity
    hoops = sorted({item.hoop for item in items if item.hoop}, key=hoop_number)
    totals = [
        (f"{'each of ' if len(group) > 1 else ''}{hoop_range(group)}", tuple(counts[group[0]].items()))
        for group in grouped(hoops, lambda hoop: tuple(sorted(counts[hoop].items())))
    ]
    return totals + [(member, tuple(row.items())) for member, row in counts.items() if member not in hoops]


def _step_source(schedule: Schedule, id: str) -> Source | None:
    step = next((step for step in schedule.steps if step.id == id), None)
    return Source(step.document, step.page, 0, 0, step.text) if step else None


def _warnings(schedule: Schedule, document: str) -> Iterable[ManualMark]:
    for finding in schedule.warnings:
        sources = finding.sources or tuple(source for id in finding.steps if (source := _step_source(schedule, id)))
        about = "; ".join(word for word in (hoop_range(finding.hoops), shown(finding.fitting or "")) if word)
        head = f"Warning {finding.id}, {finding.code}" + (f" ({about})" if about else "")
        words = f"{head}: {shown(finding.message)} {shown(finding.advice)}".strip()
        for source in sources:
            if source.document == document:
                yield ManualMark("warning", source, (f"! {finding.id} {finding.code}",), words)


def _questions(schedule: Schedule, document: str) -> Iterable[ManualMark]:
    for question in schedule.questions:
        source = question.source or (_step_source(schedule, question.step) if question.step else None)
        if source is None or source.document != document:
            continue
        readings = "".join(f" Either: {shown(reading)}." for reading in question.readings)
        assumed = f" Until it is answered: {shown(question.assumed)}." if question.assumed else " Nothing is assumed."
        words = f"Question {question.id}, {question.about}: {shown(question.message)}{readings}{assumed}"
        yield ManualMark("question", source, (f"? {question.id} {question.about}",), words)


class Letters:
    """Finds a quote in a text by its letters and digits alone, so that line breaks, hyphens and list marks do not matter."""

    def __init__(self, text: str) -> None:
        pairs = [(small, index) for index, character in enumerate(text) if character.isalnum() for small in character.casefold()]
        self._letters = "".join(letter for letter, _ in pairs)
        self._index = [index for _, index in pairs]

    def find(self, quote: str, near: int = 0) -> tuple[int, int] | None:
        """Start and end (exclusive) of the quote in the text, of the occurrence nearest to ``near``; None where it is not there.

        A quote that runs on behind the end of the text (onto the next page) is found by its beginning.
        """
        wanted = "".join(small for character in quote if character.isalnum() for small in character.casefold())
        if not wanted:
            return None
        places = self._all(wanted)
        if not places and len(wanted) > _ENOUGH:
            start = self._letters.rfind(wanted[:_ENOUGH])
            if start < 0 or not wanted.startswith(self._letters[start:]):
                return None
            return self._index[start], self._index[-1] + 1
        if not places:
            return None
        start = min(places, key=lambda place: abs(self._index[place] - near))
        return self._index[start], self._index[start + len(wanted) - 1] + 1

    def _all(self, wanted: str) -> list[int]:
        places: list[int] = []
        at = self._letters.find(wanted)
        while at >= 0:
            places.append(at)
            at = self._letters.find(wanted, at + 1)
        return places


_ENOUGH = 16  # letters that make a sentence's beginning unmistakable
