"""Rules told in the middle of a clause: "one bolt into each clip", "two screws per coupler"."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from hoopwright.parsing import ownership, ruling, topics, wording
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def local_rules(it: Interpreter, c: Clause) -> bool:
    """ "Put one bolt into each vent clip", "1 FN on ea FB", "2 SD per PU": so many of a fastener, a preposition, and each of what takes it."""
    if topics.null(it, c):
        return False
    done = gapped(it, c) or on_each(it, c) or through_them(it, c)
    for k, owner in enumerate(c.els):
        if (
            owner.type == "fit"
            and owner.definite
            and not owner.plural
            and owner.words[-1] in ("nut", "head")
            and k >= 2
            and not (k + 1 < len(c.els) and c.els[k + 1].low == "of")
            and c.els[k - 1].low in ("under", "beneath", "below")
            and not any(e.type == "fit" and it.is_fastener(e.parts) and e.words[-1] not in ("nut", "washer") for e in c.els[:k])
            and wording.bolt_before(it) is None
            and (bolt := last_bolt(it)) is not None
        ):
            washers = [
                f
                for f in c.els[:k]
                if f.type == "fit" and not f.used and f.amount is not None and f.parts and f.parts[0].split()[-1] == "washer"
            ]
            for f in washers[-1:]:
                it.emit(
                    it.event(
                        "rule",
                        owners=(bolt,),
                        amount=f.amount,
                        fastener=f.parts[0],
                        parts=f.parts,
                        per="here",
                        within=it.rule_owners if bolt == it.rule_fastener else (),
                    )
                )
                f.used = True
                done = True
            owner.used = True
            continue
        if (
            owner.type == "fit"
            and owner.used
            and owner.each
            and owner.words[-1] in ("nut", "head")
            and k >= 2
            and c.els[k - 1].low in ("under", "beneath", "below")
        ):
            owner.gov, owner.used = "on", False
        if (
            owner.type != "fit"
            or owner.used
            or k < 1
            or (c.els[k - 1].type != "prep" and c.els[k - 1].low not in ("per", "of") and owner.det not in ("per", "each", "ea", "every"))
        ):
            continue
        under = (
            owner.gov == "of" and k >= 3 and c.els[k - 2].type == "fit" and c.els[k - 2].words[-1] in ("nut", "head", "bolt") and owner.each
        )
        if under:
            k -= 3
            if c.els[k].low not in ("under", "beneath", "below", "behind", "on"):
                k -= 1
            k += 1
        elif (
            owner.gov not in ("to", "into", "in", "through", "per", "for", "on", "onto", "thru", "with", "next", "obj", "subj")
            or c.els[k - 1].low in it.chunker.with_
        ):
            continue
        to_bolt = owner.definite and not owner.plural and len(owner.words) == 1 and owner.gov == "to"
        own_bolt = (
            next((f.parts for f in reversed(c.els[:k]) if f.type == "fit" and f.parts and f.parts[0] in owner.parts), ()) if to_bolt else ()
        )
        to_def = (
            owner.definite
            and not owner.plural
            and owner.gov in ("through", "thru")
            and it.is_clip(owner.parts)
            and len(ownership.spoken_of(it, owner.parts)) == 1
        )
        to_a = (
            to_def or (owner.det in ("a", "an") and owner.gov in ("to", "per", "for") and it.is_clip(owner.parts)) if owner.parts else False
        )
        if not (owner.each or to_bolt or to_a or (owner.words[-1] == "nut" and owner.each)):
            continue
        things: list[El] = []
        j = k - (1 if owner.det in ("per", "each", "ea", "every") and c.els[k - 1].type == "fit" else 2)
        if c.els[k - 1].low == "of":
            j = next((n for n in range(k - 2, -1, -1) if c.els[n].type == "prep"), 0) - 1
        while j >= 0:
            e = c.els[j]
            if (
                e.type == "fit"
                and not e.used
                and (e.amount is not None or (e.gov in it.chunker.with_ and not e.plural))
                and e.parts
                and not e.each
                and it.is_fastener(e.parts)
            ):
                things.insert(0, e)
            elif (
                (
                    e.type in ("verb", "word")
                    and not things
                    and c.verb is not None
                    and (c.verb.passive or c.verb.cls == "go")
                    and owner.det != "per"
                )
                or (
                    not things
                    and (e.type == "mem" or (e.type == "prep" and e.low in ("through", "thru", "into", "in")))
                    and j > 0
                    and owner.gov in ("into", "in", "on")
                )
                or (e.low in it.chunker.with_ and things)
            ):
                pass
            elif not (e.type == "conj" or (e.low == "," and things)):
                break
            j -= 1
        if not things:
            continue
        if (
            owner.words[-1] in ("nut", "head")
            and owner.parts
            and it.kit.parts[owner.parts[0]].listed is None
            and not it.kit.parts[owner.parts[0]].in_list
        ) or not owner.parts:
            owners = tuple(e.parts[0] for e in it.ctx.current if it.is_fastener(e.parts))[-1:]
            if not owners and not owner.parts and (it.ctx.bar or it.section_bar):
                for f in things:  # "1 screw ea. splice": a joint of the bar
                    parts, amount, doubts = wording.what(it, f, c, [])
                    it.emit(it.event("add", parts, amount, member=it.ctx.bar or it.section_bar, text=f.text, option=it.option))
                    f.used = True
                owner.used = done = True
                continue
            if not owners:
                continue
        else:
            owners = (
                own_bolt[:1] if own_bolt else ownership.owners_of(it, owner, c) if not to_bolt else wording.narrowed(it, owner.parts)[:1]
            )
        within: tuple[str, ...] = ()
        if it.prefix_owner and len(owner.words) == 1 and it.is_fastener(owner.parts):
            mine = [
                f.parts[0] for f in it.sentence_els if f.type == "fit" and f.parts and f.parts[0] in owner.parts and f.amount is not None
            ]
            owners, within = tuple(mine[:1]) or owners, it.prefix_owner
        elif (
            len(owner.words) == 1
            and it.is_fastener(owner.parts)
            and it.rule_fastener in owner.parts
            and it.rule_step == it.step_id
            and it.rule_owners
        ):
            owners, within = (it.rule_fastener,), it.rule_owners
        for f in things:
            parts, amount, doubts = wording.what(it, f, c, [])
            f.used = True
            ruling.note_rule(it, parts[0], owners)
            it.emit(
                it.event(
                    "rule",
                    owners=owners,
                    amount=amount,
                    fastener=parts[0],
                    parts=parts,
                    doubts=doubts,
                    more=f.more,
                    within=within,
                    per="so-far"
                    if re.search(r"\b(?:so far|already on)\b", it.text)
                    else "here"
                    if it.section is not None and it.section.role in ("build", "other")
                    else None,
                )
            )
        owner.used = True
        done = True
    return done


def gapped(it: Interpreter, c: Clause) -> bool:
    """ "… secured by a foot pin, and the foot pin by a spring cotter": the verb is left out the second time."""
    for k in range(1, len(c.els) - 2):
        a, b, d = c.els[k], c.els[k + 1], c.els[k + 2]
        if (
            a.type == "fit"
            and d.type == "fit"
            and b.low in ("by", "with")
            and c.els[k - 1].type in ("conj",)
            and (a.definite or a.each)
            and d.amount is not None
            and a.parts
            and it.is_fastener(d.parts)
            and any(e.type == "verb" for e in c.els[:k])
        ):
            it.emit(it.event("rule", owners=a.parts[:1], amount=d.amount, fastener=d.parts[0], parts=d.parts, per="here"))
            a.used = d.used = True
            return True
    return False


def last_bolt(it: Interpreter) -> str | None:
    """The bolt that this step spoke of last."""
    step = it.step_id
    mine = [
        e.parts[0]
        for e in [*it.ctx.last, *it.ctx.current]
        if e.step == step and it.is_fastener(e.parts) and e.parts[0].split()[-1] not in ("nut", "washer")
    ]
    if mine:
        return mine[-1]
    return it.rule_fastener if it.rule_step == step and it.rule_fastener and it.rule_fastener.split()[-1] not in ("nut", "washer") else None


def through_them(it: Interpreter, c: Clause) -> bool:
    """ "Put a bolt with two washers through each of them": the fittings just named take the fasteners."""
    for k, e in enumerate(c.els):
        if (
            e.type != "pron"
            or not (e.each or e.name in ("them", "these", "it"))
            or e.gov not in ("through", "into", "in", "thru")
            or (c.verb is not None and c.verb.cls not in ("put", "fasten"))
        ):
            continue
        things = [f for f in c.els[:k] if f.type == "fit" and not f.used and f.amount is not None and it.is_fastener(f.parts)]
        pool = it.ctx.current or it.ctx.last
        owners = tuple(dict.fromkeys(x.parts[0] for x in pool if it.is_clip(x.parts)))
        k2 = c.els.index(e)
        count = (
            c.els[k2 + 2].amount if k2 + 2 < len(c.els) and c.els[k2 + 1].low == "of" and c.els[k2 + 2].type in ("ellip", "pron") else None
        )
        if count is not None and count.value:
            owners = tuple(dict.fromkeys(parts[0] for parts, _ in reversed(it.recent)))[: count.value]
        if not things or not owners:
            continue
        bolt: str | None = None
        for f in things:
            washer = f.parts[0].split()[-1] in ("washer", "nut") and bolt is not None
            it.emit(
                it.event(
                    "rule",
                    owners=(bolt,) if washer and bolt else owners,
                    amount=f.amount,
                    fastener=f.parts[0],
                    parts=f.parts,
                    within=owners if washer else (),
                    per="here",
                )
            )
            bolt = bolt or f.parts[0]
            f.used = True
        return True
    return False


def on_each(it: Interpreter, c: Clause) -> bool:
    """ "… by a pair of bolts, a wing nut being put on each"."""
    each = next((e for e in c.els if e.type == "pron" and e.each and e.gov in ("on", "to", "under", "onto", "with")), None)
    nut = next((f for f in c.fits() if f.amount is not None and f.parts and f.parts[0].split()[-1] in ("nut", "washer")), None)
    if each is None or nut is None or c.els.index(each) < c.els.index(nut):
        return False
    before = [
        f
        for f in c.fits()
        if f.amount is not None
        and f is not nut
        and it.is_fastener(f.parts)
        and f.parts[0].split()[-1] not in ("nut", "washer")
        and c.els.index(f) < c.els.index(nut)
    ]
    subject = next((f for f in c.fits() if f.gov == "subj" and f.each), None)
    if before:
        it.emit(
            it.event(
                "rule",
                owners=before[-1].parts[:1],
                amount=nut.amount,
                fastener=nut.parts[0],
                parts=nut.parts,
                within=ownership.class_of(it, subject) if subject is not None else (),
                per="here",
            )
        )
        nut.used = True
        return False
    bolts = [e.parts[0] for e in it.ctx.current if it.is_fastener(e.parts)]
    owner = bolts[-1] if bolts else it.rule_fastener if it.rule_step == it.step_id else None
    if owner is None:
        return False
    it.emit(
        it.event(
            "rule",
            owners=(owner,),
            amount=nut.amount,
            fastener=nut.parts[0],
            parts=nut.parts,
            within=() if bolts else it.rule_owners,
            per="here",
        )
    )
    nut.used = True
    return True
