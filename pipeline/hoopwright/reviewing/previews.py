"""What each reading would change, in words, and which questions to ask first: those that settle most."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from hoopwright.model.frame import Frame
from hoopwright.model.schedule import Question, Schedule
from hoopwright.reporting.grouping import grouped, hoop_range
from hoopwright.reviewing.answers import Answer, Answers
from hoopwright.reviewing.apply import apply
from hoopwright.reviewing.matching import asked_of

Tally = dict[tuple[str, str], int]  # (hoop id or member, part): pieces


@dataclass(frozen=True, slots=True)
class Reading:
    """A choice: its words, what it would change, and how many pieces that is. ``why_not`` says why it has no effect as it stands."""

    words: str
    effect: str
    pieces: int
    assumed: bool
    why_not: str | None = None


def readings(frame: Frame, answers: Answers, question: Question) -> tuple[Reading, ...]:
    """Every reading of a question with what it would change. ``frame`` has keyed questions and no answers in it yet."""
    offered = dict.fromkeys((*question.readings, *((question.assumed,) if question.assumed else ())))
    before = tally(apply(frame, answers)[0])
    blank = asked_of(question, frame.questions, frame.outline)
    return tuple(_reading(frame, answers, question, replace(blank, choice=words), before) for words in offered)


def refused(frame: Frame, answers: Answers, answer: Answer) -> str | None:
    """Why an answer would have no effect, None if it has one."""
    _, leftovers = apply(frame, with_answer(answers, answer))
    return next((each.why for each in leftovers if each.item == answer), None)


def with_answer(answers: Answers, answer: Answer) -> Answers:
    """The answers with one more; it takes the place of one to the same question."""
    mark = (answer.sentence, answer.about, answer.fitting, answer.under, answer.place)
    others = (each for each in answers.answers if (each.sentence, each.about, each.fitting, each.under, each.place) != mark)
    return replace(answers, answers=(*others, answer))


def _reading(frame: Frame, answers: Answers, question: Question, answer: Answer, before: Tally) -> Reading:
    after, leftovers = apply(frame, with_answer(answers, answer))
    why_not = next((each.why for each in leftovers if each.item == answer), None)
    changes, pieces = difference(before, tally(after))
    return Reading(answer.words, changes, pieces, answer.words == question.assumed, why_not)


def tally(frame: Frame) -> Tally:
    """Pieces of every part on every hoop and other member."""
    out: Tally = {}
    for call in frame.calls:
        key = (call.member if call.hoop is None else f"H{call.hoop}", call.part)
        out[key] = out.get(key, 0) + call.quantity
    return out


def counted(made: Schedule) -> Tally:
    """The same of a schedule."""
    return {(host, part): number for rows in (made.counts, made.elsewhere) for host, row in rows.items() for part, number in row.items()}


def difference(before: Tally, after: Tally) -> tuple[str, int]:
    """``H2–H4: 3 saddle clamp instead of 2; H7: no lamp ring instead of 1`` and the number of pieces that differ."""
    changed: dict[str, list[tuple[str, int, int]]] = {}
    pieces = 0
    for host, part in sorted(set(before) | set(after), key=_natural):
        old, new = before.get((host, part), 0), after.get((host, part), 0)
        if old != new:
            changed.setdefault(host, []).append((part, old, new))
            pieces += abs(new - old)
    hoops = [host for host in changed if host[:1] == "H" and host[1:].isdecimal()]
    lines = [f"{hoop_range(group)}: {_said(changed[group[0]])}" for group in grouped(hoops, lambda host: tuple(changed[host]))]
    lines += [f"{host}: {_said(items)}" for host, items in changed.items() if host not in hoops]
    return "; ".join(lines), pieces


def _said(items: Iterable[tuple[str, int, int]]) -> str:
    return ", ".join(f"{new or 'no'} {_several(part) if new > 1 else part} instead of {old or 'none'}" for part, old, new in items)


def _several(part: str) -> str:
    return part if part.endswith("s") else f"{part}es" if part.endswith(("x", "ch", "sh", "z")) else f"{part}s"


def _natural(key: tuple[str, str]) -> tuple[int, str, str]:
    host, part = key
    return (int(host[1:]) if host[1:].isdecimal() else 10_000, host, part)


def most_first(frame: Frame, answers: Answers, questions: Iterable[Question]) -> list[Question]:
    """The questions in the order in which to ask them: where most pieces hang on the answer first, then as the manual has them."""
    asked = list(questions)
    weight = {question.key: max((each.pieces for each in readings(frame, answers, question)), default=0) for question in asked}
    return sorted(asked, key=lambda question: -weight[question.key])
