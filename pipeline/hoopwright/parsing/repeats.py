"""Read "Do the same on the other side", "as step 4", and table rows that a step calls for."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from hoopwright.model.events import Selector
from hoopwright.model.frame import Doubt
from hoopwright.parsing import gates, patterns, sharing, spotting
from hoopwright.parsing.chunk import join_selectors
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.corrections import labels, numbers_in
from hoopwright.parsing.elements import El

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def rows(it: Interpreter, c: Clause) -> bool:
    match = patterns.ROW_REF.search(c.low)
    if not match or c.verb is None or c.verb.cls not in ("put", "fasten", "take", "go"):
        return False
    fits = [f for f in c.fits() if f.amount is not None]
    if fits:
        return False
    numbers = numbers_in(re.sub(r"\b[a-h]\b", lambda letter: str(ord(letter[0]) - ord("a") + 1), match[1].lower()))  # "line c" is the third
    it.emit(it.event("rows", rows=tuple(numbers), late=c.verb.name in ("wait",)))
    return True


def copy(it: Interpreter, c: Clause) -> bool:
    low = c.low
    verb = c.verb
    repeat = (
        (verb is not None and verb.cls == "repeat")
        or gates.match(r"^(?:repeat|same|the same|ditto|and so on|as above|likewise|similarly)\b", low) is not None
        or gates.search(r"\b(?:takes?|gets?|has|have|needs?|receives?) (?:exactly )?the same$", low) is not None
        or gates.match(r"^(?:now |then )?do (?:the|both|all)\b.*\b(?:to match|likewise|the same|alike)$", low) is not None
    )
    alike = it.same.search(low) or gates.search(
        r"\b(?:like|follows?|matches|match|mirrors?|identical to|the way (?:you|we|that)|as (?:in |per )?[a-z]?\d+(?:\.\d+)?[a-z]?\b|as (?:for|on|in|at) (?:the )?(?:\w+ )?(?:hoops?|bows?|arch(?:es)?|ribs?|steps?|stages?)\b|as (?:hoops?|bows?|arch(?:es)?|ribs?|steps?|stages?) \w+|the same (?:\w+ ){0,2}(?:fittings|clips|clamps|rings|set|pieces|things|items|ones|way))",
        low,
    )
    onward = (
        verb is not None
        and verb.name in ("move", "go", "continue", "work", "proceed", "carry on")
        and gates.search(r"\band so on\b|\buntil the last\b|\bto the last\b|\bone (?:after|by)\b|\bhoop by hoop\b", low)
    )
    if onward and not c.fits():
        it.emit(it.event("copy", hoops=Selector("rest", text=low), text=it.text))
        it.ctx.example, it.ctx.hoops = False, None
        return True
    if not repeat and not alike:
        return False
    if repeat and verb is not None and verb.neg:
        return not c.fits()  # "This is not repeated in the stages"
    if repeat and verb is not None and patterns.AFTERWARDS.search(it.text):
        return not c.fits()  # "repeat this after every storm"
    if not repeat and verb is not None and verb.name == "follow" and any(f.gov == "obj" for f in c.fits()):
        return False  # "on hoops 2 and 7 they follow the brace collar": an order
    fresh = [f for f in c.fits() if f.amount is not None and not f.definite]
    if fresh and (not repeat or (verb is None and gates.match(r"^(?:likewise|similarly)\b", low))):
        return False
    hoops = [e for e in c.els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and not e.used]
    if len(hoops) == 1 and "same" in (*hoops[0].words, *hoops[0].adjectives):
        hoops = []  # "Do the right rafters of the same three hoops to match"
    if (
        not repeat
        and {"from", "to"} <= {e.gov for e in hoops}
        and any(e.type == "mem" and e.role in ("bar", "other") for e in it.sentence_els)
    ):
        return False  # "the braces go from hoop 1 to hoop 2, and likewise from hoop 7 to hoop 6": the way of a bar
    ref = patterns.STEP_REF.search(it.text) or patterns.AS_IN.search(it.text) or patterns.REPEAT_REF.search(it.text)
    steps = tuple(labels(ref[1])) if ref else ()
    flanks = [
        e for e in c.els if e.side and e.type in ("mem", "word", "ellip") and (e.role in ("side", "tube", "foot", "end", "joint", ""))
    ]
    like_word = (
        bool(alike)
        and alike is not None
        and alike.group().startswith(("like", "follow", "match", "mirror", "identical"))
        and not low.endswith("to match")
    )
    side = (bool(flanks) and not hoops and not like_word) or bool(
        gates.search(
            r"\b(?:other|opposite|second|right|left)(?:-hand)? (?:side|half|leg|halves|legs|rail|tube|upright|foot|end of)\b|\bboth sides\b",
            low,
        )
    )
    target, like = None, None
    if (
        len(hoops) == 1
        and spotting.fronted_hoops(it, c)
        and gates.match(r"^(?:(?:do |exactly |just |all |the |same |identical )*(?:as|to|like|with)|matche?s?|mirrors?) ", low)
    ):
        target, like = it.ctx.hoops, hoops[0].hoops  # "Bow 10: same as bow 1"
    elif hoops:
        target, like = _hoops_named(c, hoops, alike if not repeat else None)
    elif gates.match(r"^(?:all|both|each)(?: of (?:them|these|those))?\b", low):
        target = Selector("all", text="all of them")
    elif gates.search(
        r"\bthe (?:other|remaining) (?:two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\d+|ones?)\b", low
    ) or gates.match(
        r"^(?:the )?(?:others?|rest)\b|^(?:do )?(?:the )?same (?:again )?(?:for|with|on) (?:all )?(?:of )?the (?:others|rest)\b", low
    ):
        target = Selector("rest", text="the others")
    elif gates.search(r"\b(?:other|far|opposite|back|rear) end\b", low):
        target = Selector("far", text="the other end")
    elif repeat and not side and spotting.fronted_hoops(it, c):
        target = it.ctx.hoops  # "Hoop 12: do the same", "Yard gate, at A5: repeat F1 to F4"
    elif not side and not steps and not it.prefix_side and not any(x.prefix and x.members("tube") for x in it.clauses):
        if repeat and verb is not None and verb.name == "repeat":
            it.emit(it.event("copy", doubts=(Doubt("reference", "Repeat what, and where? The manual does not say.", ()),), text=it.text))
            return True
        return bool(repeat) and not c.fits()
    if target is None and steps and not side and not repeat and it.ctx.hoops is not None and any(x.prefix for x in it.clauses):
        target = it.ctx.hoops  # "Hoop 6: as 4.4, but 900 from the ridge"
    if not repeat and target is None and not side:
        return False
    if target is None and steps and not side:
        named = [
            e.hoops
            for clause in it.clauses
            for e in clause.els
            if e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.hoops.kind in ("numbers", "first", "last", "far", "end")
        ]
        target = named[0] if named else None
    other_tube = repeat and any(x.prefix and any(e.side and e.role == "tube" for e in x.els) for x in it.clauses)  # "East leg: ditto"
    if target is None and not side and (it.prefix_side or other_tube):
        side = True
    if repeat and target is None and not side and not steps:
        return False
    if (
        repeat
        and steps
        and target is None
        and not side
        and not gates.search(r"\b(?:until|each|every|all|rest|remaining|others?|in turn|hoop by hoop|bow by bow|till)\b", it.text.lower())
    ):
        it.emit(it.event("copy", doubts=(Doubt("reference", "Repeated where? The manual does not say.", ()),), text=it.text, steps=()))
        return True
    if (
        repeat
        and target is not None
        and gates.search(
            r"\b(?:with|on|to|for) (?:its|the) (?:right|left|other|second|opposite)(?:-hand)? (?:half|leg|side|tube|foot)\b.*\band\b", low
        )
    ):
        # "the same with its right half, and then with both halves of the other six"
        it.emit(it.event("copy", side=True, text=it.text))
        side = False
    _emit_copy(it, c, repeat, target, like, steps, side)
    if target is not None:
        it.ctx.example = False
        it.ctx.hoops = None if _all_with(it, target) else target  # "Plant the remaining arches likewise. Drive a screw …": in all of them
    return True


def _all_with(it: Interpreter, target: Selector) -> bool:
    """Whether the hoops that are done likewise, with those spoken of before, are all of them."""
    before = it.ctx.hoops
    if target.kind != "numbers" or before is None or before.kind not in ("numbers", "first", "last") or it.hoops is None:
        return target.kind == "rest"
    first = before.numbers or ((1,) if before.kind == "first" else (it.hoops,))
    return {*first, *target.numbers} == set(range(1, it.hoops + 1))


def _hoops_named(c: Clause, hoops: list[El], alike: re.Match[str] | None) -> tuple[Selector | None, Selector | None]:
    """(target, like): the hoops that get the copy and, where the clause compares, the hoop that they are like."""
    like = None
    if alike and len(hoops) > 1 and sum(len(x.low) + 1 for x in c.els[: c.els.index(hoops[-1])]) >= alike.end() - 12:
        like = hoops[-1].hoops
        hoops = hoops[:-1]
    target = hoops[0].hoops
    for h in hoops[1:]:
        if target is not None and h.hoops is not None:
            target = join_selectors(target, h.hoops)
    return target, like


def _emit_copy(
    it: Interpreter,
    c: Clause,
    repeat: bool,
    target: Selector | None,
    like: Selector | None,
    steps: tuple[str, ...],
    side: bool,
) -> None:
    """Emit the copy, with a doubt where the clause leaves some fitting out."""
    low, verb = c.low, c.verb
    less: tuple[Doubt, ...] = ()
    left_out = next(
        (
            f
            for f in c.fits()
            if f.parts
            and gates.search(
                rf"\b(?:without|except|but not|less|minus|leaving out|leaves? out|omit|omitting)\b.{{0,40}}{re.escape(f.low)}", low
            )
        ),
        None,
    )
    if left_out is not None and not (
        left_out.plural
        and re.search(
            rf"\bwithout (?:any |the ){re.escape(left_out.words[-1])}|\bwithout the (?:\w+ ){{0,2}}{re.escape(left_out.words[-1])}s\b", low
        )
    ):
        less = (
            Doubt(
                "quantity",
                f"The same, but without some {left_out.parts[0]}: which are left out?",
                ("none left out", "as the sentence says"),
                "none left out",
            ),
        )
    it.emit(
        it.event(
            "copy",
            doubts=less,
            parts=left_out.parts[:1] if left_out is not None else (),
            places=sharing.all_places(it) if not repeat else (),
            hoops=target,
            like=like,
            steps=steps,
            side=(side and (target is None or target.kind == "except")) or bool(gates.search(r"other side|opposite side", low)),
            verb=verb.low if verb is not None else None,
            text=it.text,
            act=verb.cls if verb is not None and verb.cls in ("join", "stand") else None,
        )
    )
