""" "Each clamp takes one bolt": so many of a fastener for each of a part."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import TYPE_CHECKING

from hoopwright.model.events import Amount
from hoopwright.parsing import adding, ownership, patterns, spotting, wording
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def rule(it: Interpreter, c: Clause) -> bool:
    """ "Each clamp takes one bolt and two washers": so many of a fastener for each of a part."""
    verb = c.verb
    fits = c.fits()
    if not fits and not (verb is not None and verb.cls == "take" and c.els[-1] is verb):
        return False
    if verb is not None and verb.neg and verb.cls == "take":
        denied = next((e for e in fits if e.gov == "subj" and e.amount is None), None)
        if denied is not None and any(f.gov == "obj" and f.parts and it.kit.parts[f.parts[0]].form == "fastener" for f in fits):
            it.emit(it.event("rule", owners=ownership.owners_of(it, denied, c), amount=Amount(0), fastener=None))
            return True
    owners: tuple[str, ...] = ()
    things: list[El] = []
    subject = next((e for e in c.els if e.type in ("fit", "pron", "ellip") and e.gov == "subj" and not e.used and e.det != "no"), None)
    if verb is None:
        subject = None
    elif (
        subject is not None
        and subject.type == "fit"
        and subject.amount is not None
        and subject.parts
        and it.kit.parts[subject.parts[0]].form == "fastener"
        and verb.cls == "fasten"
        and not verb.passive
    ):
        target = next((e for e in c.els if e.type in ("pron", "fit") and e.gov == "obj"), None)
        placed = any(e.type == "mem" and not e.used and e.role in ("joint", "side", "foot", "tube") for e in c.els) or any(
            p.both for _, p in c.places
        )
        if target is not None and not placed:
            owners = ownership.owners_of(it, target, c)
            things = [subject]
    elif subject is not None and (
        verb.cls == "take" or (verb.passive and verb.cls in ("fasten", "null", "put", "take")) or (verb.cls in ("fasten",) and verb.form == "s")
    ):
        things = [
            f
            for f in fits
            if f is not subject
            and (f.amount is not None or f.det == "no")
            and ((verb.cls == "take" and f.gov in ("obj", "next")) or f.gov in it.chunker.with_ or f.gov == "and")
        ]
        owners = ownership.owners_of(it, subject, c)
        if not things and owners and it.rule_fastener and verb.passive:
            single = next(
                (
                    e
                    for e in c.els
                    if e.type in ("ellip", "pron") and e.gov in it.chunker.with_ and (e.amount is not None or e.name == "one")
                ),
                None,
            )
            if single is not None or re.search(r"\b(?:with|by) (?:just |only )?one$", c.low):
                number = single.amount if single is not None and single.amount is not None else Amount(1)
                it.emit(it.event("rule", owners=owners, amount=number, fastener=it.rule_fastener, parts=(it.rule_fastener,)))
                return True
        if not things and owners and verb.cls == "take" and it.rule_fastener:
            pair = next(
                (e for e in c.els if e.type in ("ellip", "pron") and e.amount is not None and e is not subject and e.gov == "obj"), None
            )
            alone = pair is not None and c.els.index(pair) == len(c.els) - 1
            if (
                pair is not None
                and pair.amount is not None
                and pair.amount.value
                and (alone or re.search(r"\b(?:of (?:them|these|those)|such|the same)\b|\b(?:two|three|four|pair|one)\b$", c.low))
            ):
                it.emit(it.event("rule", owners=owners, amount=pair.amount, fastener=it.rule_fastener, parts=(it.rule_fastener,)))
                return True
    elif verb.cls == "go" and c.els[0].low in ("to", "with") and c.els[1].type == "fit" and c.els[1].each:
        owners = ownership.owners_of(it, c.els[1], c)
        things = [f for f in fits if f is not c.els[1] and f.amount is not None]
    elif (
        (verb.passive
        and verb.cls in ("fasten", "null"))
        or (verb.form == "ed"
        and verb.cls == "fasten"
        and subject is None
        and c.els[0] is verb)
    ):
        earlier = [
            e
            for e in it.sentence_els
            if e.type == "fit"
            and e.definite
            and e.j <= c.start
            and e.parts
            and it.kit.parts[e.parts[0]].form != "fastener"
            and not e.plural
        ]
        if earlier and not any(e.type == "mem" and e.gov == "subj" for e in c.els):
            things = [f for f in fits if f.gov in it.chunker.with_ and f.amount is not None]
            owners = ownership.spoken_of(it, earlier[-1].parts)[:1] if things else ()
    elif verb.cls in ("fasten", "null", "put") and verb.form == "base":
        owner = next(
            (
                f
                for f in c.els
                if f.type in ("fit", "pron")
                and f.gov == "obj"
                and (f.each or f.det == "code" or (f.type == "pron" and f.name in ("each", "them", "it")))
            ),
            None,
        )
        if owner is not None:
            things = [f for f in fits if f is not owner and f.gov in it.chunker.with_ and f.amount is not None]
            owners = ownership.owners_of(it, owner, c)
    pair = next((e for e in c.els if e.type == "ellip" and e.amount is not None and e.gov == "obj"), None)
    if (
        owners
        and not things
        and verb is not None
        and verb.cls == "take"
        and pair is not None
        and re.search(r"\bof (?:each|both|either)$", c.low)
        and it.rule_set
    ):
        for fastener in it.rule_set:
            it.emit(it.event("rule", owners=owners, amount=pair.amount, fastener=fastener, parts=(fastener,)))
        return True
    if owners and not things and verb is not None and verb.cls == "take" and (c.els[-1] is verb or c.els[-1].low == ":"):
        it.open_owner = owners
        return True
    if not owners:
        return False
    if (
        not things
        and verb is not None
        and verb.cls == "take"
        and all(
            (f.definite and f.amount is None) or (f.amount is None and f.parts and it.kit.parts[f.parts[0]].form == "fastener")
            for f in fits
            if f is not subject
        )
        and len(fits) > 1
    ):
        return True  # "each collar takes its bolt and washers": told elsewhere how many
    if not things:
        none = verb.cls == "take" and re.search(r"\b(?:none|no|neither|nothing)\b", c.low)
        if none and subject is not None:
            it.emit(it.event("rule", owners=owners, amount=Amount(0), fastener=None))
            return True
        return False
    within: tuple[str, ...] = ()
    bare = (
        subject is not None
        and subject.type == "fit"
        and len(subject.words) == 1
        and subject.parts
        and it.kit.parts[subject.parts[0]].form == "fastener"
    )
    if bare:
        mine = [
            e.parts[0]
            for e in [*it.ctx.last, *it.ctx.current]
            if e.step == it.step_id
            and e.parts
            and it.kit.parts[e.parts[0]].form == "fastener"
            and e.parts[0].split()[-1] == subject.words[0]
        ]
        if mine:
            owners = (mine[-1],)
        elif it.rule_step == (it.step_id) and it.rule_fastener and it.rule_fastener.split()[-1] == subject.words[0]:
            owners, within = (it.rule_fastener,), it.rule_owners
    if (
        subject is not None
        and subject.type in ("pron", "ellip")
        and things
        and all(f.parts and f.parts[0].split()[-1] in ("washer", "nut") for f in things)
    ):
        bolts = [
            e.parts[0]
            for e in [*it.ctx.last, *it.ctx.current]
            if e.parts and it.kit.parts[e.parts[0]].form == "fastener" and e.parts[0].split()[-1] not in ("washer", "nut")
        ]
        rule_bolt = it.rule_fastener if it.rule_step == (it.step_id) else None
        if bolts or rule_bolt:
            owners = (bolts[-1] if bolts else rule_bolt,)  # type: ignore[assignment]
            within = it.rule_owners if not bolts else ()
    none_of = [f for f in things if f.det == "no"]
    if none_of and not all(f.parts and it.kit.parts[f.parts[0]].form == "fastener" for f in none_of):
        return False  # "it has no brace ring"
    if none_of and len(none_of) == len(things):
        it.emit(it.event("rule", owners=owners, amount=Amount(0), fastener=None))
        return True
    closers = [f for f in things if (f.parts and it.kit.parts[f.parts[0]].form == "fastener") or not f.parts]
    if closers and len(closers) < len(things) and verb is not None and verb.cls == "take":
        closers = things  # "It takes one saddle plate and two lock nuts"
    if not closers:
        return False
    _, _, member, _ = spotting.find_hosts(it, [e for e in c.els if e.type == "mem" and not e.used and e.role in ("bar", "other")], c)
    so_far = bool(re.search(r"\b(?:so far|threaded|already on)\b", c.low))
    here = (
        "so-far"
        if so_far
        else "here"
        if it.section is not None and it.section.role in ("build", "other") and (verb is None or verb.cls in ("put", "fasten"))
        else None
    )
    it.rule_set = tuple(f.parts[0] for f in closers if f.parts)
    for f in closers:
        parts, amount, doubts = wording.what(it, f, c, [])
        k = c.els.index(f)
        follow = next((n for n in range(k + 1, len(c.els)) if c.els[n].type in ("ellip", "fit", "punct")), None)
        if (
            follow is not None
            and c.els[follow].type == "ellip"
            and c.els[follow].amount is not None
            and (c.els[follow - 1].type == "conj" or (c.els[follow - 1].low in it.chunker.with_ and c.els[follow - 2].type == "conj"))
            and amount is not None
            and amount.value
            and any(e.type == "mem" for e in c.els[k:follow])
        ):
            amount = replace(amount, value=amount.value + (c.els[follow].amount.value or 0))
        note_rule(it, parts[0], owners)
        it.emit(
            it.event(
                "rule",
                owners=owners,
                amount=amount,
                fastener=parts[0],
                parts=parts,
                doubts=doubts,
                member=member,
                within=within,
                steps=adding.corrected(it),
                verb=verb.low if verb is not None else None,
                per=here,
            )
        )
    return True


def wherever(it: Interpreter) -> bool:
    """ "Wherever a hex bolt or a joint bolt is used, a lock nut goes with it": so many of a fastener for every one of another."""
    if (
        len(it.clauses) < 2
        or not patterns.WHEREVER.match(it.text)
        or not re.search(r"\b(?:with|on|to) (?:it|each|that|them)\b", it.text.lower())
    ):
        return False
    owners = tuple(dict.fromkeys(f.parts[0] for x in it.clauses[:-1] for f in x.fits() if f.parts))
    closers = [
        f
        for f in it.clauses[-1].fits()
        if f.amount is not None and f.parts and f.parts[0] not in owners and it.kit.parts[f.parts[0]].form == "fastener"
    ]
    if not owners or not closers:
        return False
    for f in closers:
        it.emit(it.event("rule", owners=owners, amount=f.amount, fastener=f.parts[0], parts=f.parts))
    return True


def one_in_each(it: Interpreter, c: Clause) -> bool:
    """ "Start the set screws: one in each clamp, two in each hanger": shares of the fastener named in front of the colon."""
    if not it.rule_fastener or c.verb is not None or it.rule_step != (it.step_id):
        return False
    found = [
        (e, c.els[k + 2])
        for k, e in enumerate(c.els[:-2])
        if e.type == "ellip"
        and e.amount is not None
        and e.amount.value
        and c.els[k + 1].type == "prep"
        and c.els[k + 2].type == "fit"
        and c.els[k + 2].each
    ]
    if not found or not c.after_colon:
        return False
    for e, owner in found:
        it.emit(
            it.event(
                "rule",
                owners=ownership.spoken_of(it, ownership.class_of(it, owner)),
                amount=e.amount,
                fastener=it.rule_fastener,
                parts=(it.rule_fastener,),
                per="here",
            )
        )
    return True


def owner_list(it: Interpreter, c: Clause) -> bool:
    """ "Ridge clamp: one clamp bolt and one washer", or bullets under "Each takes"."""
    fits = [f for f in c.fits() if f.det != "no"]
    if (
        not fits
        or c.members("hoop", "tube", "joint", "foot")
        or not all(f.amount is not None and f.parts and it.kit.parts[f.parts[0]].form == "fastener" for f in fits)
        or (c.verb is not None
        and c.verb.cls in ("put", "fasten", "null"))
    ):
        return False
    for f in fits:
        parts, amount, doubts = wording.what(it, f, c, [])
        washer = (
            parts[0].split()[-1] in ("washer", "nut")
            and it.rule_fastener is not None
            and (c.els[0].type in ("pron", "ellip") or re.search(r"\bto (?:each|the) bolt\b", c.low))
        )
        owners = (it.rule_fastener,) if washer else it.prefix_owner
        it.emit(
            it.event(
                "rule",
                owners=tuple(o for o in owners if o),
                amount=amount,
                fastener=parts[0],
                parts=parts,
                doubts=doubts,
                within=it.prefix_owner if washer else (),
                per="here",
            )
        )
        if not washer:
            note_rule(it, parts[0], it.prefix_owner)
    return True


def note_rule(it: Interpreter, fastener: str, owners: tuple[str, ...]) -> None:
    it.rule_fastener, it.rule_owners, it.rule_step = fastener, owners, it.step_id
