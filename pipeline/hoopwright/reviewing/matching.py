"""Which answer belongs to which question: the same sentence and the same asked, or a sentence that has changed a little."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from rapidfuzz.distance import Indel

from hoopwright.model.outline import Outline
from hoopwright.model.schedule import Question
from hoopwright.reviewing.answers import Answer, Answers, Correction
from hoopwright.reviewing.keys import identity, normalised, numbers_in, section_of, sentence_of

ALIKE = 0.85  # share of a sentence's characters that stay in a small edit; with every number in it the same


@dataclass(frozen=True, slots=True)
class Leftover:
    """An answer, correction or extra that had no effect, in words, and why. ``item`` is what stands in the file."""

    what: str
    why: str
    item: Answer | Correction | None = None


@dataclass(frozen=True, slots=True)
class Match:
    """An answer for a question; ``stale`` where the manual's sentence is no longer quite the one that was answered."""

    answer: Answer
    stale: bool = False


def asked_of(question: Question, questions: Sequence[Question], outline: Outline) -> Answer:
    """The answer to a question, still without words: what identifies it in the file."""
    sentence = sentence_of(question)
    mine = identity(sentence, question.about, question.fitting)
    alike = [other for other in questions if identity(sentence_of(other), other.about, other.fitting) == mine]
    if len(alike) == 1:
        return Answer(sentence, question.about, question.fitting, question=question.message)
    title = section_of(outline, question.step)
    same = [other.key for other in alike if section_of(outline, other.step) == title]
    number = same.index(question.key) + 1 if question.key in same else 1
    return Answer(sentence, question.about, question.fitting, question=question.message, under=" ".join(title.split()), place=number)


def match(questions: Sequence[Question], answers: Answers, outline: Outline) -> tuple[dict[str, Match], list[Leftover]]:
    """Answers by question key, and those that fit nothing."""
    found: dict[str, Match] = {}
    open_: list[Answer] = []
    leftovers: list[Leftover] = []
    for answer in answers.answers:
        if not answer.words:
            continue  # a form that is still to be filled in
        fitting = _fitting_questions(answer, questions, outline)
        if len(fitting) > 1:
            why = f"{len(fitting)} places ask that of the same words: give 'under' (the section's title) or 'place' (1 for the first)"
            leftovers.append(Leftover(describe(answer), why, answer))
        elif not fitting:
            open_.append(answer)
        else:
            before = found.get(fitting[0].key)
            if before is not None and before.answer.words != answer.words:
                leftovers.append(Leftover(describe(before.answer), "a later answer to the same question stands in the file", before.answer))
            found[fitting[0].key] = Match(answer)
    _nearly(questions, open_, found)
    taken = {id(each.answer) for each in found.values()}
    leftovers += [Leftover(describe(answer), _why_not(answer, questions, outline), answer) for answer in open_ if id(answer) not in taken]
    return found, leftovers


def _fitting_questions(answer: Answer, questions: Sequence[Question], outline: Outline) -> list[Question]:
    mine = identity(answer.sentence, answer.about, answer.fitting)
    alike = [question for question in questions if identity(sentence_of(question), question.about, question.fitting) == mine]
    if len(alike) > 1 and answer.under:
        alike = [question for question in alike if normalised(section_of(outline, question.step)) == normalised(answer.under)]
    if len(alike) > 1 and answer.place:
        alike = alike[answer.place - 1 : answer.place]
    return alike


def _nearly(questions: Sequence[Question], open_: Sequence[Answer], found: dict[str, Match]) -> None:
    """Pair what is left where a small edit leaves no doubt: one answer, one question, all numbers the same."""
    rest = [question for question in questions if question.key not in found]
    pairs = [(answer, question) for answer in open_ for question in rest if _close(answer, question)]
    for answer, question in pairs:
        if sum(a is answer for a, _ in pairs) == 1 and sum(q is question for _, q in pairs) == 1:
            found[question.key] = Match(answer, stale=True)


def _close(answer: Answer, question: Question) -> bool:
    theirs = sentence_of(question)
    if identity("", answer.about, answer.fitting) != identity("", question.about, question.fitting):
        return False
    if sorted(numbers_in(answer.sentence)) != sorted(numbers_in(theirs)):
        return False
    return float(Indel.normalized_similarity(normalised(answer.sentence), normalised(theirs))) >= ALIKE


def _why_not(answer: Answer, questions: Sequence[Question], outline: Outline) -> str:
    same = [question for question in questions if normalised(sentence_of(question)) == normalised(answer.sentence)]
    if same:
        asked = ", ".join(f"{question.about} of {question.fitting or 'it'}" for question in same)
        return f"that sentence now asks something else: {asked}"
    if any(normalised(answer.sentence) in normalised(step.text) for step in outline.steps):
        return "the manual still has that sentence, but it raises no such question"
    return "the manual has no such sentence any more"


def describe(answer: Answer) -> str:
    """An answer in one line."""
    of = f" of {answer.fitting}" if answer.fitting else ""
    return f"{answer.about}{of}: {answer.words} (“{answer.sentence}”)"
