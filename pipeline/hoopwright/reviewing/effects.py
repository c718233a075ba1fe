"""What an answer does to the calls that its sentence made. Each function gives None, or why the words have no effect."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from hoopwright.model.frame import Call, Frame
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Question
from hoopwright.reviewing.bench import Bench, by_hoop
from hoopwright.reviewing.words import AmountWords, Share, amount, hoops, length, number, place, shares

AS_COUNTED = "as counted"
AS_SAID = "as the sentence says"
_NUMBER_ON = re.compile(r"\s*\w+\s+(?:more\s+)?(?:each\s+)?on\b", re.IGNORECASE)
_LESS = re.compile(r"\b(?:without|except|but not|minus|leaving out|leaves? out|omit(?:ting)?)\b(.*)", re.IGNORECASE | re.DOTALL)


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
    """The calls of the question's fitting from its very sentence, else from words that overlap with it, else those on its hoops."""
    mine = [call for call in frame.calls if question.fitting in (None, call.part)]
    exact = [call.id for call in mine if call.source == question.source]
    if exact or question.source is None:
        return exact
    near = [call.id for call in mine if call.step == question.step and _overlap(call.source, question.source)]
    if near or question.about != "quantity" or question.fitting is None:
        return near
    # What "the same as before" put on these hoops is cited from the sentence before; the number asked for is that of all of it.
    return [call.id for call in mine if f"H{call.hoop}" in question.hoops]


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
    fewer = _LESS.search(task.question.source.quote if task.question.source and _plain(task.words) == AS_SAID else task.words)
    if fewer is not None:
        return _left_out(bench, task, fewer[1])
    told = shares(task.words, len(bench.frame.structure.hoops))
    if told is not None:
        return _shared_out(bench, task, told)
    wanted = amount(task.words)
    if wanted is None:
        return f"“{task.words}” gives no number: give one as a value, such as '3 on each hoop' or '2 on hoops 1 and 4; 3 on hoop 2'"
    calls = bench.living(task.group)
    if not calls:
        if wanted.number == 0:
            return None
        on = tuple(int(id[1:]) for id in task.question.hoops if id[1:].isdecimal())
        if not on:
            return "the tool has not put it anywhere yet: say where, such as '1 on hoops 2 and 4' or '1 on the door post'"
        return _shared_out(bench, task, (Share(wanted.number, on),))
    return _share(bench, task, wanted, calls)


def _left_out(bench: Bench, task: Task, which: str) -> str | None:
    """ "Without the one at 0.8 m": the places that are measured so go."""
    offset = length(which)
    gone = [
        call for call in bench.living(task.group) if offset is not None and call.offset_mm is not None and abs(call.offset_mm - offset) < 1
    ]
    if not gone:
        return (
            "that does not say which by its measure: write 'without the one at 0.8 m', or how many there are, such as '2 on hoops 3 and 7'"
        )
    for call in gone:
        bench.drop(call.id)
    return None


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
            return (
                f"{wanted.number} in all cannot be shared out evenly among {len(rows)} hoops: say which get them, such as '2 on hoops 1, 4'"
            )
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


def _shared_out(bench: Bench, task: Task, told: tuple[Share, ...]) -> str | None:
    """Who gets how many, told in full: what the sentence put anywhere else goes. "2 more on ..." leaves all that is there, and adds."""
    unknown = next((share.member for share in told if share.member and not _is_member(bench, share.member)), None)
    if unknown is not None:
        return f"the manual has no “{unknown}”: write 'hoops 2, 4', or another member by the manual's own word"
    whole = [share for share in told if not share.more]
    more = [share for share in told if share.more]
    if whole:
        problem = _told_whole(bench, task, whole)
        if problem is not None:
            return problem
    fresh: list[str] = []
    for share in more:
        for hoop in share.hoops or (None,):
            made = _create(bench, task, share.number, hoop, share.member)
            if made is None:
                return _NO_PART
            fresh.append(made)
    task.group[:] = [*task.group, *fresh] if whole else fresh  # the answer stands on what it has put there
    return None


def _told_whole(bench: Bench, task: Task, told: list[Share]) -> str | None:
    numbers = {hoop: share.number for share in told for hoop in share.hoops}
    members = {share.member: share.number for share in told if share.member}
    if numbers and not any(call.hoop is not None for call in bench.living(task.group)) and any(numbers.values()):
        made = _create(bench, task, 1, min(numbers), "")
        if made is None:
            return _NO_PART
        task.group.append(made)
    _move_to(bench, task.group, tuple(sorted(numbers)))
    rows = by_hoop(bench.living(task.group))
    for (hoop, host), row in rows.items():
        wanted = numbers.get(hoop, 0) if hoop is not None else members.pop(_known_as(host, members), 0)
        _deal(bench, row, wanted)
    for member, wanted in members.items():
        made = _create(bench, task, wanted, None, member)
        if made is None:
            return _NO_PART
        task.group.append(made)
    return None


_NO_PART = "the question names no fitting that the kit has: file a correction instead"


def _hosts(bench: Bench) -> list[str]:
    """What carries fittings and is no hoop."""
    return list(dict.fromkeys(call.member for call in bench.calls.values() if call.hoop is None and call.member))


def _is_member(bench: Bench, word: str) -> bool:
    """Whether fittings sit on something of that name, or the manual speaks of it, be it one or more: a slip of the pen is none."""
    if any(_known_as(host, [word]) == word for host in _hosts(bench)):
        return True
    spoken = re.compile(rf"\b{re.escape(_singular(word))}(?:e?s)?\b", re.IGNORECASE)
    return any(spoken.search(step.text) for step in bench.frame.outline.steps)


def _known_as(host: str, members: Iterable[str]) -> str:
    """The user's word for a member that calls stand on: the same but for the plural, or with a word more ("left door post")."""
    mine = f" {_singular(host.casefold())}"
    return next((each for each in members if f" {_singular(each)}".endswith(mine)), host)


def _singular(word: str) -> str:
    return word.removesuffix("s") if len(word) > 3 and not word.endswith("ss") else word


def _create(bench: Bench, task: Task, quantity: int, hoop: int | None, member: str) -> str | None:
    """A new call for the question's fitting, with the fasteners that a rule gives it; its id, None where the kit has no such part."""
    question = task.question
    part = bench.part(question.fitting)
    if part is None or question.step is None or question.source is None:
        return None
    name = "hoop" if hoop is not None else next((each for each in _hosts(bench) if _known_as(each, [member]) == member), member)
    made = Call("A", part.name, quantity, hoop, name, question.step, question.source, bench.when_for(part, hoop))
    fresh = bench.add(made)
    bench.fasten(fresh)
    return fresh


# ---- which hoops -----------------------------------------------------------------------------------------------------------------


def _member(bench: Bench, task: Task) -> str | None:
    count = len(bench.frame.structure.hoops)
    told = shares(task.words, count) if _NUMBER_ON.match(task.words) else None
    if told is not None:
        return _shared_out(bench, task, told)
    chosen = hoops(task.words, count)
    if chosen is None:
        return f"“{task.words}” names no hoops of this frame: give them as a value, such as 'hoops 2, 4, 6'"
    if not bench.living(task.group):
        return _shared_out(bench, task, (Share(1, chosen),))
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
    if not calls:  # where another answer says that none is put on, there is nothing to place
        return None if task.group else "no fitting was put on for that sentence: file a correction instead"
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
