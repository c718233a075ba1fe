"""A review of one kit: open questions, answers given, undo. The file is the truth; it is read again whenever it has changed."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path

from hoopwright.model.errors import UsageError
from hoopwright.model.frame import Frame
from hoopwright.model.schedule import Question
from hoopwright.reviewing.answers import Answer, Answers, Correction
from hoopwright.reviewing.apply import Settled
from hoopwright.reviewing.corrections import describe as describe_correction
from hoopwright.reviewing.keys import keyed
from hoopwright.reviewing.matching import Match, asked_of, match
from hoopwright.reviewing.previews import Reading, counted, difference, most_first, readings, refused
from hoopwright.reviewing.store import Change, change, correcting, load, setting, uncorrecting, withdrawing

Build = Callable[[Answers], Settled]
LONGEST = 300  # characters of an answer or a note


class Review:
    """``path`` is the answers file, ``build`` makes the schedule with answers in it (half a second at most: the manual is read already).

    Methods raise UsageError for an unknown question or an answer without effect, AnswersError where the file fails; then nothing changed.
    """

    def __init__(self, path: Path, build: Build) -> None:
        self.path = path
        self._build = build
        self._lock = threading.RLock()
        self._stamp: object = None
        self._answers = Answers()
        self._settled: Settled | None = None
        self._undo: list[tuple[str, str, Sequence[Change]]] = []
        self.skipped: dict[str, None] = {}
        self._order: list[Question] | None = None

    def settled(self) -> Settled:
        """The schedule with what stands in the file now."""
        with self._lock:
            stamp = _stamp(self.path)
            if self._settled is None or stamp != self._stamp:
                self._take(load(self.path), stamp)
            assert self._settled is not None
            return self._settled

    def _take(self, answers: Answers, stamp: object) -> None:
        settled = self._build(answers)
        frame = replace(settled.frame, questions=keyed(settled.frame.questions, settled.frame.outline))
        self._settled, self._answers, self._stamp = replace(settled, frame=frame), answers, stamp
        self._order = None

    @property
    def frame(self) -> Frame:
        """The frame before answers, every question keyed."""
        return self.settled().frame

    @property
    def answers(self) -> Answers:
        """What stands in the file."""
        self.settled()
        return self._answers

    def questions(self) -> tuple[Question, ...]:
        """All questions, answered or not, in the manual's order."""
        return self.frame.questions

    def open(self) -> list[Question]:
        """What is still to be answered, the questions that settle most first, skipped ones last."""
        with self._lock:
            settled = self.settled()
            if self._order is None:
                self._order = most_first(settled.frame, self._answers, settled.schedule.questions)
            order = self._order
        return sorted(order, key=lambda question: question.key in self.skipped)

    def find(self, name: str) -> Question:
        """A question by its key, the end of its key, or its number in the schedule (``Q3``)."""
        wanted = name.strip().casefold()
        numbered = [question.key for question in self.settled().schedule.questions if question.id.casefold() == wanted]
        found = [each for each in self.questions() if each.key == wanted or each.key in numbered]
        if not found and len(wanted) >= 4:
            found = [each for each in self.questions() if each.key.endswith(wanted) or each.key.startswith(wanted)]
        if len(found) != 1:
            problem = f"there is no question “{name}”" if not found else f"“{name}” fits {len(found)} questions"
            raise UsageError(problem, "'hoopwright questions' lists the open ones with their keys")
        return found[0]

    def given(self, question: Question) -> Answer | None:
        """The answer that a question has in the file."""
        matched = self._match(question)
        return matched.answer if matched is not None else None

    def _match(self, question: Question) -> Match | None:
        frame = self.frame
        return match(frame.questions, self._answers, frame.outline)[0].get(question.key)

    def choices(self, question: Question) -> tuple[Reading, ...]:
        """The readings with what each would change; what was already answered to this question does not count."""
        mine = self.given(question)
        others = replace(self._answers, answers=tuple(each for each in self._answers.answers if each is not mine))
        return readings(self.frame, others, question)

    def cousins(self, question: Question) -> list[Question]:
        """Open questions that ask the same of other sentences: the same fitting, the same readings. One answer may be meant for all."""
        alike = (question.about, question.fitting, question.readings)
        return [each for each in self.open() if (each.about, each.fitting, each.readings) == alike and each.key != question.key]

    def answer(self, question: Question, words: str, note: str = "", also: Sequence[Question] = ()) -> Answer:
        """File an answer, on disk when this returns; ``words`` is a reading or a value of the user's own.

        ``also`` are further questions that the user wants answered the same: all are filed, or none, and one ``undo`` takes all back.
        """
        words, note = _clean(words), _clean(note)
        if not words:
            raise UsageError("the answer is empty", "choose a reading, or write a value")
        with self._lock:
            made = [self._prepared(each, words, note) for each in (question, *also)]
            self._change(f"{question.message} — {words}", [forth for _, forth, _ in made], [back for _, _, back in made])
            for each in (question, *also):
                self.skipped.pop(each.key, None)
            return made[0][0]

    def _prepared(self, question: Question, words: str, note: str) -> tuple[Answer, Change, Change]:
        """An answer, the change that files it and the one that takes it back. Raises UsageError if it would have no effect."""
        with self._lock:
            before = self.given(question)
            blank = asked_of(question, self.frame.questions, self.frame.outline)
            offered = next((each for each in (*question.readings, question.assumed or "") if each.casefold() == words.casefold()), None)
            made = replace(blank, choice=offered, value=None if offered else words, note=note)
            others = replace(self._answers, answers=tuple(each for each in self._answers.answers if each is not before))
            why = refused(self.frame, others, made)
            if why is not None:
                raise UsageError(why, "")
            return made, setting(made), setting(before) if before is not None else withdrawing(made)

    def withdraw(self, question: Question) -> bool:
        """Take an answer back; False if there was none."""
        with self._lock:
            before = self.given(question)
            if before is None:
                return False
            self._change(f"taken back: {question.message}", [withdrawing(before)], [setting(before)])
            return True

    def correct(self, correction: Correction) -> None:
        """File a correction."""
        with self._lock:
            self.settled()
            trial = self._build(replace(self._answers, corrections=(*self._answers.corrections, correction)))
            why = next((each.why for each in trial.leftovers if each.item is correction), None)
            if why is not None:
                raise UsageError(why, "")
            self._change(describe_correction(correction), [correcting(correction)], [uncorrecting(correction)])

    def uncorrect(self, correction: Correction) -> None:
        """Take a correction back."""
        with self._lock:
            self.settled()
            self._change(f"taken back: {describe_correction(correction)}", [uncorrecting(correction)], [correcting(correction)])

    def adopt(self, filled: Answers) -> int:
        """File every answer, correction and extra of a filled-in form in one go; the number of them."""
        from hoopwright.reviewing.store import buying

        changes = [setting(each) for each in filled.answers if each.words]
        changes += [correcting(each) for each in filled.corrections]
        changes += [buying(name, bought) for name, bought in filled.extras]
        if changes:
            with self._lock:
                self._take(change(self.path, *changes), _stamp(self.path))
        return len(changes)

    def skip(self, question: Question) -> None:
        """Ask it last."""
        self.skipped.pop(question.key, None)
        self.skipped[question.key] = None

    @property
    def undoable(self) -> str | None:
        """What ``undo`` would take back, in words."""
        return self._undo[-1][0] if self._undo else None

    @property
    def effect(self) -> str:
        """What the last change did to the counts, in words."""
        return self._undo[-1][1] if self._undo else ""

    def undo(self) -> str | None:
        """Take back the last change of this session; what it was, None if there is none."""
        with self._lock:
            if not self._undo:
                return None
            text, _, back = self._undo[-1]
            self._take(change(self.path, *back), _stamp(self.path))
            self._undo.pop()
            return text

    def _change(self, text: str, forth: Sequence[Change], back: Sequence[Change]) -> None:
        before = counted(self.settled().schedule)
        self._take(change(self.path, *forth), _stamp(self.path))
        self._undo.append((text, difference(before, counted(self.settled().schedule))[0], back))


def _stamp(path: Path) -> object:
    try:
        stat = path.stat()
    except OSError:
        return None
    return stat.st_mtime_ns, stat.st_size, stat.st_ino


def _clean(text: str) -> str:
    if len(text) > LONGEST:
        raise UsageError(f"longer than {LONGEST} characters", "write a shorter answer")
    return " ".join("".join(c if c.isprintable() else " " for c in text).split())
