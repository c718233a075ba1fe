"""Which parts a rule speaks of, and how kinds of fitting go on."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from hoopwright.parsing import gates
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El
from hoopwright.parsing.lex import lex

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def owners_of(it: Interpreter, subject: El, c: Clause) -> tuple[str, ...]:
    if subject.type in ("pron", "ellip"):
        if subject.type == "ellip" and not (subject.each or "of" in c.low or subject.low in ("each one", "every one")):
            return ()
        if subject.name in ("it", "each", "they", "them", "these", "those", "both") or subject.type == "ellip" or subject.each:
            # "Each of the clips takes …": the noun behind "of"
            k = c.els.index(subject)
            for e in c.els[k + 1 : k + 5]:
                if e.type == "fit" and c.els[k + 1].low == "of":
                    return class_of(it, e)
                if e.type in ("verb", "mem"):
                    break
            if it.last_is_member and not it.ctx.current and subject.name in ("it", "they"):
                return ()
            recent = it.ctx.current or it.ctx.last
            if not recent and it.recent:
                single = [parts for parts, _ in it.recent if len(parts) == 1]
                return single[-1] if single and single[-1][0] in it.recent[-1][0] else spoken_of(it, it.recent[-1][0])
            if not recent and table_parts(it):
                return table_parts(it)
            names = [e.parts[0] for e in recent if it.is_clip(e.parts)]
            return tuple(dict.fromkeys(names[-1:] if subject.name in ("it", "each") and not subject.plural else names))
        return ()
    owners = list(spoken_of(it, class_of(it, subject)))
    k = c.els.index(subject)
    j = k + 1
    while j < len(c.els) and (
        c.els[j].type in ("conj", "punct")
        or c.els[j].low == "of"
        or (c.els[j].type == "fit" and c.els[j].det != "no" and (c.els[j].amount is None or c.els[j].det in ("a", "an")))
    ):
        if c.els[j].type == "fit":
            owners += [n for n in class_of(it, c.els[j]) if n not in owners] if c.els[j - 1].low != "of" else []
            if c.els[j - 1].low == "of" and c.els[j].det == "code":
                owners = list(c.els[j].parts)
        j += 1
    return tuple(owners)


def table_parts(it: Interpreter) -> tuple[str, ...]:
    """The fittings that the tables of this step name."""
    found: list[str] = []
    for item in it.step.items if it.step is not None else ():
        for row in item.table.rows if item.table is not None else ():
            for cell in row:
                found += [e.parts[0] for e in it.chunker.elements(lex(cell.text)) if e.type == "fit" and it.is_clip(e.parts)]
    return tuple(dict.fromkeys(found))


def spoken_of(it: Interpreter, names: tuple[str, ...]) -> tuple[str, ...]:
    """Of several parts of one kind, the one that this step has spoken of, if it has."""
    if len(names) < 2 or gates.search(r"\bwh(?:at(?:so)?|ich)ever\b|\bof any\b|\ball kinds\b", it.text.lower()):
        return names
    step = it.step_id
    mine = [
        e.parts[0]
        for e in [*it.ctx.last, *it.ctx.current]
        if e.step == step and e.parts and e.parts[0] in names and (len(e.parts) == 1 or not e.definite)
    ]
    if not mine:
        mine = [
            e.parts[0] for e in it.sentence_els if e.type == "fit" and len(e.parts) == 1 and e.parts[0] in names and e.amount is not None
        ]
    if not mine and len(names) > 1:
        section = {s.id for s in it.outline.steps if it.section is not None and s.section == it.section.id and s.option is not None}
        mine = [
            e.parts[0]
            for r in it.readings[-30:]
            if r.step in section
            for e in r.events
            if e.kind == "add" and e.parts and e.parts[0] in names
        ]
    if (
        not mine
        and it.last_mention[1] == step
        and it.last_mention[0][:1]
        and it.last_mention[0][0] in names
        and len(it.last_mention[0]) == 1
    ):
        mine = [it.last_mention[0][0]]
    if not mine and it.section is not None and it.section.role == "build" and not gates.search(r"\b(?:every|all|any)\b", it.text.lower()):
        # "Slide one head ring on … Lock each ring": the only one of them that the last sentences of the section have named
        lately = {parts[0] for parts, _ in it.recent if len(parts) == 1 and parts[0] in names}
        mine = list(lately) if len(lately) == 1 else []
    return (mine[-1],) if mine else names


def class_of(it: Interpreter, el: El) -> tuple[str, ...]:
    """All parts that a mention stands for where it speaks of a whole kind: "clips", "every clamp"."""
    if el.det == "code":
        return el.parts
    if len(el.words) == 1 and (el.plural or el.each or el.det in ("any", "all", "the", "a")):
        group = tuple(it.kit.heads.get(el.words[0], ()))
        if group:
            return group
    if len(el.parts) > 1 and (el.each or el.plural) and all(it.kit.words.get(p, ())[-len(el.words) :] == el.words for p in el.parts):
        return el.parts  # "each of the four frame clamps", of two sizes
    return el.parts[:1] if len(el.words) > 1 else el.parts


def form_list(it: Interpreter) -> bool:
    """Read "Wrap-round fittings are put on at any time: hinged clip, string hook, cord cleat": how the kinds behind the colon go on."""
    if len(it.clauses) < 2 or not it.clauses[1].after_colon or it.clauses[0].fits():
        return False
    listed = [e for c in it.clauses[1:] for e in c.fits()]
    if len(listed) < 2 or any(c.verb is not None and c.verb.form == "base" for c in it.clauses[1:]) or any(e.amount for e in listed):
        return False
    low = it.clauses[0].low
    form = next((f for phrase, f in it.grammar.stated_forms if gates.search(rf"(?<![\w-]){re.escape(phrase)}(?![\w-])", low)), None)
    if form is None or not gates.search(r"\b(?:fittings|pieces|parts|ones|hardware|items|clips|rings|clamps)\b", low):
        return False
    for name in dict.fromkeys(e.parts[0] for e in listed if e.parts):
        part = it.kit.parts[name]
        if part.form in ("closed", "open") and not part.stated:
            it.kit.parts[name] = replace(part, form=form, stated=True)  # type: ignore[arg-type]
    it.why = f"says how {len(listed)} kinds of fitting go on"
    return True


def form_statement(it: Interpreter, c: Clause) -> bool:
    """Read "Items C1 to C5 are closed", "Clips and rings are closed loops": how kinds of fitting go on."""
    if any(e.type == "mem" and e.role == "hoop" for e in c.els) or c.kind == "sub":
        return False
    subjects = [
        e
        for e in c.els
        if (e.type == "fit" and e.gov in ("subj", "and") and e.amount is None)
        or (e.type == "fit" and e.det in ("a", "an") and e.gov == "subj")
    ]
    k = it.clauses.index(c) if c in it.clauses else 0
    if not subjects and k and any(e.type == "pron" and e.name == "it" and e.gov == "subj" for e in c.els[:1]):
        before = it.clauses[k - 1].fits()  # "The exception is the folding clamp: it has a hinge"
        subjects = before if len(before) == 1 and before[0].amount is None else []
    states = any(
        e.low
        in (
            "is",
            "are",
            "has",
            "have",
            "opens",
            "open",
            "closes",
            "close",
            "cannot",
            "can",
            "do",
            "does",
            "buckles",
            "springs",
            "snaps",
            "slides",
            "slide",
            "go",
            "goes",
            "be",
        )
        for e in c.els
    )
    if (
        not subjects
        or not states
        or (
            c.verb is not None
            and c.verb.cls in ("put", "fasten")
            and c.verb.form == "base"
            and not c.verb.modal
            and not c.verb.passive
            and c.els[0] is c.verb
        )
    ):
        return False
    low = f" {c.low} "
    form = next(
        (f for phrase, f in it.grammar.stated_forms if phrase in low and gates.search(rf"(?<![\w-]){re.escape(phrase)}(?![\w-])", low)),
        None,
    )
    if c.verb is not None and c.verb.passive and any(f.gov in ("by", "with") and f.amount is not None for f in c.fits()):
        return False
    if form is None or gates.search(r"\b(?:step|tight|hoop)\b", low) or c.places:
        return False
    names = [n for e in subjects for n in spoken_of(it, class_of(it, e))]
    for name in names:
        part = it.kit.parts[name]
        if part.form in ("closed", "open") and (not part.stated or (it.section is not None and it.section.role == "correction")):
            it.kit.parts[name] = replace(part, form=form, stated=True)  # type: ignore[arg-type]
    it.why = f"says that {', '.join(names)} {'slide on' if form == 'closed' else 'open'}"
    return bool(names)
