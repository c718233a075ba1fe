"""The user's own corrections, carried out on the calls; structure facts, carried out before the frame is made."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hoopwright.model.events import Facts
from hoopwright.model.frame import Call
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Side
from hoopwright.reviewing.answers import Answers, Correction
from hoopwright.reviewing.bench import Bench
from hoopwright.reviewing.matching import Leftover
from hoopwright.reviewing.words import PlaceWords, hoops, length, number, place

MOST_HOOPS = 500
_SIDES: dict[str, Side] = {"left": "left", "right": "right", "centre": "centre", "center": "centre"}


def settle_facts(facts: Facts, answers: Answers) -> tuple[Facts, tuple[Leftover, ...]]:
    """The manual's facts with the user's own in their place; whatever is not understood is handed back."""
    left = []
    for correction in answers.corrections:
        if correction.do != "structure":
            continue
        value = correction.value or ""
        if correction.fact == "hoops":
            count = number(value)
            if count is None or not 1 <= count <= MOST_HOOPS:
                left.append(Leftover(describe(correction), f"“{value}” is no number of hoops", correction))
                continue
            facts = replace(facts, hoops=count)
            continue
        mm = length(value)
        if mm is None or mm <= 0:
            left.append(Leftover(describe(correction), f"“{value}” is no length: write it as '2 m' or '6 ft 6 in'", correction))
            continue
        facts = _with_fact(facts, correction.fact or "", mm)
    return facts, tuple(left)


def _with_fact(facts: Facts, fact: str, mm: float) -> Facts:
    if fact == "width":
        return replace(facts, width_mm=mm)
    if fact == "height":
        return replace(facts, height_mm=mm)
    return replace(facts, length_mm=mm) if fact == "length" else replace(facts, spacing_mm=mm)


def unbought(options: Iterable[str], answers: Answers) -> tuple[frozenset[str], tuple[Leftover, ...]]:
    """The manual's optional extras that were not bought, by the manual's own names; and those that the manual does not have."""
    known = {" ".join(option.casefold().split()): option for option in options}
    out: set[str] = set()
    left = []
    for name, bought in answers.extras:
        option = known.get(" ".join(name.casefold().split()))
        if option is None:
            said = "bought" if bought else "not bought"
            left.append(Leftover(f"extra {name}: {said}", f"the manual has no such extra; it has {', '.join(known.values()) or 'none'}"))
        elif not bought:
            out.add(option)
    return frozenset(out), tuple(left)


def carry_out_correction(bench: Bench, correction: Correction) -> str | None:
    """Apply one correction to the calls. Returns None when done, else why nothing was changed."""
    part = bench.part(correction.fitting)
    if part is None:
        return f"the kit has no part “{correction.fitting}”: give its name or its code as the parts list has it"
    if correction.do == "form":
        if part.form not in ("closed", "open"):
            return f"the {part.name} is no clip or clamp: it goes on as the manual says"
        bench.set_form(part, correction.value == "slides on", _text(correction))
        return None
    count = len(bench.frame.structure.hoops)
    chosen = hoops(correction.hoops, count) if correction.hoops else None
    if correction.hoops and chosen is None:
        return f"“{correction.hoops}” names no hoops of this frame: write them as '2, 4, 6' or '2 to 4'"
    words = place(correction.at) if correction.at else None
    if correction.at and words is None:
        return f"“{correction.at}” gives no place: write it as '300 mm above the ground' or '1 ft from the ridge'"
    side = _SIDES.get(correction.side.lower()) if correction.side else None
    if correction.side and side is None:
        return f"“{correction.side}” is no side: write left, right or centre"
    if correction.do == "add":
        return _add(bench, correction, chosen, words, side)
    calls = _meant(bench, correction, part.name, chosen, side if correction.do != "move" or correction.at else None)
    if not calls:
        return f"there is no {part.name} there to {correction.do}"
    group = [call.id for call in calls]
    if correction.do == "remove":
        for id in group:
            if id in bench.calls:
                bench.drop(id)
        return None
    for id in group:
        if correction.do == "change":
            bench.set_quantity(id, correction.quantity or 0)
        else:
            bench.place(id, words or PlaceWords(None, None, side), correction.at or correction.side or "")
    bench.note(group, _text(correction))
    return None


def _add(bench: Bench, correction: Correction, chosen: tuple[int, ...] | None, words: PlaceWords | None, side: Side | None) -> str | None:
    part = bench.part(correction.fitting)
    step = _step(bench, correction)
    if part is None or step is None:
        return f"there is no step “{correction.step}”: give its printed number or letter, or none"
    if words is not None and side is not None:
        words = replace(words, side=words.side or side)
    source = _source(bench, part.source, correction)
    for hoop in chosen or (None,):
        call = Call(
            "U", part.name, correction.quantity or 1, hoop, correction.member or "hoop", step, source, bench.when_for(part, hoop), side=side
        )
        fresh = bench.add(call)
        if words is not None:
            bench.place(fresh, words, correction.at or "")
        bench.note([fresh], _text(correction))
    return None


def _source(bench: Bench, listed: Source | None, correction: Correction) -> Source:
    """An addition has no sentence in the manual; it shows the user's words, on the page of the parts list if there is one."""
    document = bench.frame.outline.documents[0].id
    where = listed or Source(document, 1, 0, 0, "")
    return Source(where.document, where.page, 0, 0, _text(correction))


def _step(bench: Bench, correction: Correction) -> str | None:
    if not correction.step:
        part = bench.part(correction.fitting)
        wanted = (part.name if part is not None else "", not correction.hoops)
        same = [call.step for call in bench.calls.values() if (call.part, call.hoop is None) == wanted]
        return same[-1] if same else next(iter(bench.frame.order), None)
    return next((step.id for step in bench.frame.outline.steps if _label(step.label) == _label(correction.step)), None)


def _label(text: str | None) -> str:
    return (text or "").casefold().strip(" .):(")


def _meant(bench: Bench, correction: Correction, part: str, chosen: tuple[int, ...] | None, side: Side | None) -> list[Call]:
    step = _step(bench, correction) if correction.step else None
    out = []
    for call in bench.calls.values():
        if call.part != part or (chosen is not None and call.hoop not in chosen):
            continue
        if side is not None and call.side not in (side, None):
            continue
        if correction.member and call.member.casefold() != correction.member.casefold():
            continue
        if correction.step and call.step != step:
            continue
        out.append(call)
    return out


def _text(correction: Correction) -> str:
    return f"your correction: {describe(correction)}" + (f" ({correction.note})" if correction.note else "")


def describe(correction: Correction) -> str:
    """A correction in one line."""
    if correction.do == "structure":
        return f"{correction.fact} is {correction.value}"
    if correction.do == "accept":
        on = f" on hoops {correction.hoops}" if correction.hoops else ""
        return f"warning accepted: {correction.value}{f', {correction.fitting}' if correction.fitting else ''}{on}"
    if correction.do == "form":
        goes = "slides on over a tube’s end" if correction.value == "slides on" else "opens, and goes round a standing tube"
        return f"{correction.fitting} {goes}"
    bits: list[str] = [correction.do]
    if correction.quantity is not None:
        bits.append(f"{'to ' if correction.do == 'change' else ''}{correction.quantity}")
    bits.append(correction.fitting or "")
    if correction.hoops:
        bits.append(f"on hoops {correction.hoops}" if correction.hoops[:1].isdecimal() else f"on {correction.hoops}")
    if correction.member:
        bits.append(f"on the {correction.member}")
    if correction.step:
        bits.append(f"of step {correction.step}")
    if correction.at:
        bits.append(("to " if correction.do == "move" else "at ") + correction.at)
    if correction.side:
        bits.append(f"{correction.side} side")
    return " ".join(bits)
