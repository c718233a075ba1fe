"""What an answer does to the calls that its sentence made. Each function gives None, or why the words have no effect."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from hoopwright.model.frame import Call, Frame
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Question
from hoopwright.reviewing.bench import Bench, by_hoop
from hoopwright.reviewing.words import AmountWords, amount, hoops, number, place

_ON_HOOPS = re.compile(
    r"^\s*(?P<amount>\w+)\s+(?:(?:each\s+)?(?:on|at|to)\s+)?(?:each\s+of\s+)?(?P<hoops>(?:hoops?|bows?|arch(?:es)?|frames?|h\d).*)$",
    re.IGNORECASE,
)


AS_COUNTED = "as counted"


@dataclass(frozen=True, slots=True)
class Task:
    """A question with the words it was answered by, and the calls (ids; clones join) that its sentence made for its fitting."""

    question: Question
    words: str
    group: list[str]

    @property
    def confirms(self) -> bool:
        """Whether the answer is what was assumed anyway."""
        return self.question.assumed is not None and _plain(self.words) == _plain(self.question.assumed)


def _plain(text: str) -> str:
    return " ".join(text.casefold().split())


def group_of(frame: Frame, question: Question) -> list[str]:
    """The calls of the question's sentence and fitting: the very sentence, else those whose words overlap with it."""
    mine = [call for call in frame.calls if question.fitting in (None, call.part)]
    exact = [call.id for call in mine if call.source == question.source]
    if exact or question.source is None:
        return exact
    return [call.id for call in mine if call.step == question.step and _overlap(call.source, question.source)]


def _overlap(a: Source, b: Source) -> bool:
    return a.document == b.document and a.start < b.end and b.start < a.end


def carry_out(bench: Bench, task: Task) -> str | None:
    """Apply one answer. Returns None when done, else why nothing was changed and what to write instead."""
    if task.confirms:
        return None
    about = task.question.about
    if about == "quantity":
        return _quantity(bench, task)
    if about == "member":
        return _member(bench, task)
    if about == "fitting":
        return _fitting(bench, task)
    if about == "position":
        return _position(bench, task)
    return None if about == "order" else _reference(bench, task)


# ---- how many --------------------------------------------------------------------------------------------------------------------


def _quantity(bench: Bench, task: Task) -> str | None:
    count = len(bench.frame.structure.hoops)
    named = _ON_HOOPS.match(task.words)
    if named is not None and number(named["amount"]) is not None:
        chosen = hoops(named["hoops"], count)
        if chosen is not None:
            return _so_many_on(bench, task, number(named["amount"]) or 0, chosen)
    wanted = amount(task.words)
    if wanted is None:
        return f"“{task.words}” gives no number: give one as a value, such as '3 on each hoop' or '12 in all'"
    calls = bench.living(task.group)
    if not calls:
        if wanted.number == 0:
            return None
        on = tuple(int(id[1:]) for id in task.question.hoops if id[1:].isdecimal())
        if not on:
            return "the tool has not put it anywhere yet: give a value with the hoops, such as '1 on hoops 2 and 4'"
        return _so_many_on(bench, task, wanted.number, on)
    return _share(bench, task, wanted, calls)


def _share(bench: Bench, task: Task, wanted: AmountWords, calls: list[Call]) -> str | None:
    rows = by_hoop(calls)
    per = wanted.per if wanted.per != "bare" else _meant(task.question, rows)
    if per == "place":
        for call in calls:
            bench.set_quantity(call.id, wanted.number)
        return None
    if per == "total":
        each, rest = divmod(wanted.number, len(rows))
        if rest:
            return f"{wanted.number} in all cannot be shared out evenly among {len(rows)} places: file a correction for each hoop"
        wanted = AmountWords(each, "hoop")
    for row in rows.values():
        _deal(bench, row, wanted.number)
    return None


def _meant(question: Question, rows: dict[tuple[int | None, str], list[Call]]) -> str:
    """What a bare number is for: what the question's own readings say, else what makes the assumed number come true."""
    words = " ".join(question.readings) + " " + (question.assumed or "")
    if "at each place" in words:
        return "place"
    if re.search(r"\b(?:on each|to a hoop)\b", words):
        return "hoop"
    assumed = number(question.assumed or "")
    calls = [call for row in rows.values() for call in row]
    if assumed is None or all(call.quantity == assumed for call in calls):
        return "place"
    if all(sum(call.quantity for call in row) == assumed for row in rows.values()):
        return "hoop"
    return "total" if sum(call.quantity for call in calls) == assumed else "place"


def _deal(bench: Bench, row: list[Call], total: int) -> None:
    """Share a hoop's pieces out among its places: as before if only one has to grow or shrink evenly, the first places first."""
    each, rest = divmod(total, len(row))
    for index, call in enumerate(row):
        bench.set_quantity(call.id, each + (index < rest))


def _so_many_on(bench: Bench, task: Task, each: int, chosen: tuple[int, ...]) -> str | None:
    if not bench.living(task.group) and each:
        problem = _create(bench, task, chosen[0])
        if problem is not None:
            return problem
    _move_to(bench, task.group, chosen)
    for row in by_hoop(bench.living(task.group)).values():
        _deal(bench, row, each)
    return None


def _create(bench: Bench, task: Task, hoop: int) -> str | None:
    question = task.question
    part = bench.part(question.fitting)
    if part is None or question.step is None or question.source is None:
        return "the question names no fitting that the kit has: file a correction instead"
    made = Call("A", part.name, 1, hoop, "hoop", question.step, question.source, bench.when_for(part, hoop))
    task.group.append(bench.add(made))
    return None


# ---- which hoops -----------------------------------------------------------------------------------------------------------------


def _member(bench: Bench, task: Task) -> str | None:
    chosen = hoops(task.words, len(bench.frame.structure.hoops))
    if chosen is None:
        return f"“{task.words}” names no hoops of this frame: give them as a value, such as 'hoops 2, 4, 6'"
    if not bench.living(task.group):
        return _so_many_on(bench, task, 1, chosen)
    _move_to(bench, task.group, chosen)
    return None


def _move_to(bench: Bench, group: list[str], chosen: tuple[int, ...]) -> None:
    """The group's calls on just these hoops: those of the first hoop are the model for new ones."""
    rows: dict[int, list[Call]] = {}
    for call in bench.living(group):
        if call.hoop is not None:
            rows.setdefault(call.hoop, []).append(call)
    if not rows:
        return
    model = next((rows[hoop] for hoop in sorted(rows) if hoop in chosen), rows[min(rows)])
    for hoop in chosen:
        if hoop not in rows:
            for call in model:
                copied = bench.clone(call.id, hoop)
                if copied not in group:
                    group.append(copied)
    for hoop, calls in rows.items():
        if hoop not in chosen:
            for call in calls:
                bench.drop(call.id)


# ---- which part, where, what else ------------------------------------------------------------------------------------------------


def _fitting(bench: Bench, task: Task) -> str | None:
    part = bench.part(task.words)
    if part is None:
        return f"the kit has no part “{task.words}”: give its name or its code as the parts list has it"
    calls = bench.living(task.group)
    if not calls:
        return "no fitting was put on for that sentence: file a correction instead"
    for call in calls:
        bench.rename(call.id, part)
    return None


def _position(bench: Bench, task: Task) -> str | None:
    words = place(task.words)
    calls = bench.living(task.group)
    if words is None:
        return f"“{task.words}” gives no distance: give one as a value, such as '1.2 m above the ground' or '300 mm from the ridge'"
    if not calls:
        return "no fitting was put on for that sentence: file a correction instead"
    sides = {call.side for call in calls}
    if words.side is not None and len(sides) > 1:
        return f"its places are on {len(sides)} sides: give the distance alone, or file a correction for one side"
    for call in calls:
        bench.place(call.id, words, task.words)
    return None


def _reference(bench: Bench, task: Task) -> str | None:
    """What a repeat refers to cannot be carried out on calls; hoops or numbers given in words can."""
    if _plain(task.words) == AS_COUNTED:
        return None  # the user has looked at the counts, and corrected them if need be
    if bench.living(task.group) and task.question.fitting is not None:
        problem = _quantity(bench, task)
        if problem is None or _member(bench, task) is None:
            return None
    note = "does not say how many go on which hoop"
    return f"“{task.words}” {note}: give a value such as '2 on hoops 4 and 6', or file corrections and answer '{AS_COUNTED}'"


def noted(bench: Bench, task: Task, note: str, stale: bool) -> None:
    """Write the answer on every call that rests on it."""
    text = f"answered: {task.words}" + (f" ({note})" if note else "") + ("; the sentence has changed a little since" if stale else "")
    if bench.living(task.group):
        bench.note(task.group, text)
        return
    for call in [each for each in bench.calls.values() if each.source == task.question.source]:
        bench.calls[call.id] = replace(call, assumed=tuple(dict.fromkeys((*call.assumed, text))))
