"""Which part a mention names, how many, and what a fastener closes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from hoopwright.model.events import Amount, Event
from hoopwright.model.frame import Doubt
from hoopwright.parsing import gates
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El
from hoopwright.parsing.kit import unlisted

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def what(it: Interpreter, t: El, c: Clause, made: list[Event]) -> tuple[tuple[str, ...], Amount | None, tuple[Doubt, ...]]:
    amount = t.amount
    tail = words_after(it, c, t)
    if amount is not None and gates.match(r"^(?:each|apiece|per|ea\.?)\b", tail):
        amount = replace(amount, each=True)
    if amount is not None and gates.search(r"\b(?:in all|altogether|in total|all told)\b", c.low):
        amount = replace(amount, total=True)
    if t.type == "pron" and t.parts:
        return t.parts, None, ()
    if t.type in ("ellip", "pron"):
        joint = any(e.type == "mem" and e.role == "joint" for e in c.els)
        if joint and not it.ctx.current and not made and it.last_mention[1] == it.step_id and it.last_mention[0]:
            return it.last_mention[0][:1], amount, ()
        if (
            t.gov not in it.chunker.with_
            and (not it.ctx.current or (it.recent and not any(e.parts[:1] == it.recent[-1][0][:1] for e in it.ctx.current)))
            and not made
            and it.recent
        ):
            return it.recent[-1][0][:1], amount, ()
        previous = [*it.ctx.current, *([] if it.ctx.current else it.ctx.last)]
        for event in reversed([*made, *previous]):
            if event.holds is None or t.gov in it.chunker.with_:
                return event.parts, amount, ()
        return (previous[-1].parts if previous else ()), amount, ()
    parts = t.parts
    doubts: tuple[Doubt, ...] = ()
    if not parts:
        part = unlisted(tuple(w for w in t.words if w not in ("closed", "same", "new")), it.grammar)
        if part.name not in it.kit.parts:
            it.kit.parts[part.name] = part
            it.kit.words[part.name] = tuple(part.name.split())
            it.kit.aliases.setdefault(tuple(part.name.split()), part.name)
            it.kit.heads.setdefault(part.name.split()[-1], []).append(part.name)
        parts = (part.name,)
    elif len(parts) > 1 and not t.classes:
        if t.definite or mentioned_here(it, parts):
            parts = narrowed(it, parts)
        if len(parts) > 1:
            doubts = (Doubt("fitting", f"'{t.text}' may be {' or '.join(parts[:4])}", tuple(parts[:4]), parts[0]),)
    if amount is None and not t.definite:
        if gates.search(r"\b(?:as required|as needed|as necessary|as many as)\b", it.text.lower()):
            amount = Amount(None, open="as-required")
        elif t.gov in it.chunker.with_ and not t.plural:
            amount = Amount(1, text="")
        elif t.plural or not t.each:
            amount = Amount(None, open="none")
    return parts, amount, doubts


def mentioned_here(it: Interpreter, parts: tuple[str, ...]) -> bool:
    """Whether this sentence has named one of the candidates in full already."""
    return any(p in parts for e in it.ctx.current for p in e.parts[:1])


def narrowed(it: Interpreter, parts: tuple[str, ...]) -> tuple[str, ...]:
    """The candidate that the text spoke of last, if any."""
    recent = [p for e in [*reversed(it.ctx.current), *reversed(it.ctx.last)] for p in e.parts[:1]]
    for name in recent:
        if name in parts:
            return (name,)
    in_step = [p for r in reversed(it.readings[-40:]) for e in r.events for p in e.parts[:1] if e.step == it.step_id]
    for name in in_step:
        if name in parts:
            return (name,)
    return parts


def words_after(it: Interpreter, c: Clause, t: El) -> str:
    k = c.els.index(t)
    return " ".join(e.low for e in c.els[k + 1 : k + 4]).strip(", ")


def fastens(it: Interpreter, t: El, c: Clause, made: list[Event]) -> int | None:
    """Whether a fastener closes a fitting of the same clause (its index among the clause's events) or of the sentence before."""
    if not t.parts or it.is_clip(t.parts):
        return None
    if t.words[-1] in ("nut", "washer") or it.kit.head(t.parts[0]) in ("nut", "washer"):
        for k in range(len(made) - 1, -1, -1):
            head = it.kit.head(made[k].parts[0]) if made[k].parts else ""
            if made[k].parts and it.kit.parts[made[k].parts[0]].form == "fastener" and head not in ("nut", "washer"):
                return k
        held = bolt_before(it)
        if held is not None and not any(
            e.type == "mem" and not e.used and e.role in ("hoop", "tube", "joint", "foot", "bar", "other") for e in c.els
        ):
            return held
    if t.gov in it.chunker.with_:
        for k in range(len(made) - 1, -1, -1):
            if made[k].parts and it.kit.parts[made[k].parts[0]].form != "fastener":
                return k
        verb = c.verb
        if verb is not None and verb.cls == "fasten" and verb.form == "ed" and c.els[0] is verb:
            return _before(it, lambda event: not it.is_fastener(event.parts))  # "… is laid round the leg, and closed with two screws"
    return None


def bolt_before(it: Interpreter) -> int | None:
    """The bolt of an earlier clause of this sentence that a washer or nut belongs to; 1000 is added to its index."""
    return _before(it, lambda event: it.is_fastener(event.parts) and it.kit.head(event.parts[0]) not in ("nut", "washer"))


def _before(it: Interpreter, test: Callable[[Event], bool]) -> int | None:
    for event in reversed(it.ctx.current):
        if test(event):
            same = [e for e in it.out if e.kind == "add" and e.group == event.group]
            if event in same:
                it.held_group = event.group
                return 1000 + same.index(event)
    return None
