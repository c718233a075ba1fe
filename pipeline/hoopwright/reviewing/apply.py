"""``apply``: a frame and the answers to it give a frame in which what was answered is no longer asked. Pure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hoopwright.model.frame import Frame
from hoopwright.model.schedule import About, Question, Schedule
from hoopwright.reviewing.answers import Answers
from hoopwright.reviewing.bench import Bench
from hoopwright.reviewing.corrections import carry_out_correction
from hoopwright.reviewing.corrections import describe as describe_correction
from hoopwright.reviewing.effects import Task, carry_out, group_of, noted
from hoopwright.reviewing.keys import keyed
from hoopwright.reviewing.matching import Leftover, Match, describe, match

# Which part and which hoops are settled before how many and where: a number "on each" needs to know on each of what.
_FIRST: tuple[About, ...] = ("reference", "order", "fitting", "member", "quantity", "position")


@dataclass(frozen=True, slots=True)
class Settled:
    """A schedule with the user's answers in it. ``frame`` is the frame before them, its questions keyed; ``leftovers`` had no effect."""

    schedule: Schedule
    frame: Frame
    leftovers: tuple[Leftover, ...] = ()


def apply(frame: Frame, answers: Answers) -> tuple[Frame, tuple[Leftover, ...]]:
    """Carry out every answer on the calls that came from its sentence, then every correction; the order of answers makes no difference.

    Answered questions leave ``questions``; one whose answer has no effect stays, and the answer is handed back with the reason.
    Every question gets its key. Elsewhere: facts of the structure (``settle_facts``), extras (``unbought``), warnings (``accept``).
    """
    questions = keyed(frame.questions, frame.outline)
    frame = replace(frame, questions=questions)
    if answers.empty:
        return frame, ()
    found, leftovers = match(questions, answers, frame.outline)
    bench = Bench(frame)
    done, failed = _answers(bench, questions, found)
    leftovers += failed
    for correction in answers.corrections:
        if correction.do not in ("structure", "accept"):
            why = carry_out_correction(bench, correction)
            if why is not None:
                leftovers.append(Leftover(describe_correction(correction), why, correction))
    still = tuple(question for question in questions if question.key not in done)
    return replace(bench.result(), questions=still), tuple(leftovers)


def _answers(bench: Bench, questions: Sequence[Question], found: dict[str, Match]) -> tuple[set[str], list[Leftover]]:
    answered = [question for question in questions if question.key in found]
    tasks = [Task(question, found[question.key].answer.words, group_of(bench.frame, question)) for question in answered]
    bench.groups = [task.group for task in tasks]
    done: set[str] = set()
    failed: list[Leftover] = []
    for task in sorted(tasks, key=lambda task: _FIRST.index(task.question.about)):
        matched = found[task.question.key]
        why = carry_out(bench, task)
        if why is None:
            noted(bench, task, matched.answer.note, matched.stale)
            done.add(task.question.key)
        else:
            failed.append(Leftover(describe(matched.answer), why, matched.answer))
    return done, failed
