"""Rules told in the middle of a clause: "one bolt into each clip", "two screws per coupler"."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hoopwright.model.events import Amount
from hoopwright.parsing import gates, ownership, ruling, topics, wording
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter

_INSIDE = ("into", "between")


def local_rules(it: Interpreter, c: Clause) -> bool:
    """Read so many of a fastener, a preposition, and each of what takes it: "put one bolt into each vent clip", "1 FN on ea FB"."""
    if topics.null(it, c):
        return False
    done = gapped(it, c) or on_each(it, c) or through_them(it, c) or trailing_nut(it, c)
    for k, owner in enumerate(c.els):
        if owner.type != "fit":
            continue
        bolt = _bolt_of_nut(it, c, k, owner)
        if bolt is not None:
            done = _washer_under(it, c, k, bolt) or done
            owner.used = True
            continue
        if owner.used and owner.each and k > 1 and c.els[k - 2].type == "ellip":
            done = _another_on_each(it, c, k, owner) or done
            continue
        if owner.used and owner.each and _below_nut(c, k, owner):
            owner.gov, owner.used = "on", False
        done = _rule_of(it, c, k, owner) or done
    if done:
        _shares_behind(it, c)
        _into_the_other(it, c)
        _with_it(it, c)
    return done


def _shares_behind(it: Interpreter, c: Clause) -> None:
    """ "(4) wood screws per bracket, two into the stud and two into the header": where the four go, and no more of them."""
    last = it.out[-1] if it.out else None
    if last is None or last.kind != "rule" or last.amount is None or not last.amount.value:
        return
    taken = max((k for k, e in enumerate(c.els) if e.type == "fit" and e.used), default=len(c.els))
    shares = [e for e in c.els[taken + 1 :] if e.type == "ellip" and e.amount is not None and not e.used]
    if len(shares) > 1 and sum(e.amount.value or 0 for e in shares if e.amount) == last.amount.value:
        for e in shares:
            e.used = True


def _with_it(it: Interpreter, c: Clause) -> None:
    """Read the end of "one bolt goes through each tie loop, with one washer under the nut": the loop takes that, too."""
    last = it.out[-1] if it.out else None
    if last is None or last.kind != "rule" or not last.owners or last.member is not None:
        return
    for f in c.fits():
        behind = f.gov in it.chunker.with_ and f.parts and it.kit.head(f.parts[0]) in ("washer", "nut", "pin")
        if behind and not f.used and f.amount is not None and f.amount.value and it.is_fastener(f.parts):
            it.emit(it.event("rule", f.parts, f.amount, owners=last.owners, fastener=f.parts[0], per="here", within=last.within))
            f.used = True


def _into_the_other(it: Interpreter, c: Clause) -> None:
    """Read the rest of "two screws through each bracket into the hoop and two wood screws into the post": so many in the post, too."""
    last = it.out[-1] if it.out else None
    if last is None or last.kind != "rule" or not last.owners:
        return
    for f in c.fits():
        if f.used or f.amount is None or f.amount.value is None or not it.is_fastener(f.parts) or f.gov not in ("and", "obj"):
            continue
        into = ruling.driven_into(c, f)
        if into is not None:
            it.emit(it.event("rule", f.parts, f.amount, owners=last.owners, fastener=f.parts[0], member=into, per="here"))
            f.used = True


def _below_nut(c: Clause, k: int, owner: El) -> bool:
    """Whether the mention is the nut or head that something lies under."""
    return owner.words[-1] in ("nut", "head") and k >= 2 and c.els[k - 1].low in ("under", "beneath", "below")


def _bolt_of_nut(it: Interpreter, c: Clause, k: int, owner: El) -> str | None:
    """The bolt spoken of last, where "under the nut" can only mean the nut of that bolt."""
    if (
        not owner.definite
        or owner.plural
        or not _below_nut(c, k, owner)
        or (k + 1 < len(c.els) and c.els[k + 1].low == "of")
        or any(e.type == "fit" and it.is_fastener(e.parts) and e.words[-1] not in ("nut", "washer") for e in c.els[:k])
        or wording.bolt_before(it) is not None
    ):
        return None
    return last_bolt(it)


def _washer_under(it: Interpreter, c: Clause, k: int, bolt: str) -> bool:
    """Give the bolt the washer that the clause puts under its nut."""
    washers = [
        f for f in c.els[:k] if f.type == "fit" and not f.used and f.amount is not None and f.parts and it.kit.head(f.parts[0]) == "washer"
    ]
    for f in washers[-1:]:
        within = it.rule_owners if bolt == it.rule_fastener else ()
        it.emit(it.event("rule", owners=(bolt,), amount=f.amount, fastener=f.parts[0], parts=f.parts, per="here", within=within))
        f.used = True
    return bool(washers)


def _rule_of(it: Interpreter, c: Clause, k: int, owner: El) -> bool:
    """Read the fasteners told before ``owner`` as a rule for it."""
    if (
        owner.used
        or k < 1
        or (c.els[k - 1].type != "prep" and c.els[k - 1].low not in ("per", "of") and owner.det not in ("per", "each", "ea", "every"))
    ):
        return False
    start = _start_of_phrase(it, c, k, owner)
    if start is None:
        return False
    to_bolt = owner.definite and not owner.plural and len(owner.words) == 1 and owner.gov == "to"
    if not (owner.each or to_bolt or _one_clip(it, owner, c.verb is None)):
        return False
    things = _things_before(it, c, start, owner)
    if not things:
        return _another_on_each(it, c, k, owner)
    if _unlisted_nut(it, owner) or not owner.parts:
        owners = tuple(e.parts[0] for e in it.ctx.current if it.is_fastener(e.parts))[-1:]
        if not owners:
            return not owner.parts and _onto_bar(it, c, owner, things)
    else:
        owners = _named_owners(it, c, start, owner, to_bolt)
    owners, within = _fasteners_meant(it, owner, owners)
    _emit_rules(it, c, things, owners, within)
    owner.used = True
    return True


def _another_on_each(it: Interpreter, c: Clause, k: int, owner: El) -> bool:
    """Read "a strip over the joint, and another over each tee": the cover or fastener named before, once more for each of a fitting."""
    share = c.els[k - 2] if k > 1 and c.els[k - 1].type == "prep" else None
    if share is None or share.type != "ellip" or share.amount is None or share.used or not owner.each or not it.is_clip(owner.parts):
        return False
    before = [f for f in c.els[: k - 2] if f.type == "fit" and f.parts and f.amount is not None]
    if not before or it.kit.parts[before[-1].parts[0]].form not in ("cover", "cap", "fastener"):
        return False
    owners = ownership.owners_of(it, owner, c)
    it.emit(it.event("rule", before[-1].parts, share.amount, owners=owners, fastener=before[-1].parts[0], per="here"))
    share.used = owner.used = True
    return True


def _start_of_phrase(it: Interpreter, c: Clause, k: int, owner: El) -> int | None:
    """Where the phrase that ends in ``owner`` has its noun; None if the governing word does not make it a taker."""
    if owner.gov == "of" and k >= 3 and c.els[k - 2].type == "fit" and c.els[k - 2].words[-1] in ("nut", "head", "bolt") and owner.each:
        # "under the head of each bolt": the preposition stands before the head
        return k - 2 if c.els[k - 3].low in ("under", "beneath", "below", "behind", "on") else k - 3
    if (
        owner.gov == "of"
        and k >= 4
        and (c.els[k - 2].low == "head" or c.els[k - 2].role == "end")
        and owner.each
        and it.is_fastener(owner.parts)
    ):
        c.els[k - 2].used = True
        return k - 2 if c.els[k - 2].type == "mem" else k - 3  # "over the head of every bolt", "onto the end of every pin"
    takes = owner.gov in ("to", "into", "in", "through", "per", "for", "on", "onto", "thru", "with", "next", "obj", "subj")
    # "two screws into the sill at each clamp", "one liner between each clamp and the tube"
    takes = takes or (owner.gov in ("at", "between") and owner.each and it.is_clip(owner.parts))
    return k if takes and c.els[k - 1].low not in it.chunker.with_ else None


def _one_clip(it: Interpreter, owner: El, note: bool) -> bool:
    """Whether one clip stands for all of its kind: "one bolt to a clip", "through the clip" where the step knows only one."""
    if not owner.parts or not it.is_clip(owner.parts):
        return False
    # "through collar and post", in a note without articles
    bare = owner.det is None and owner.amount is None and note
    through = (
        (owner.definite or bare)
        and not owner.plural
        and owner.gov in ("through", "thru")
        and len(ownership.spoken_of(it, owner.parts)) == 1
    )
    return through or (owner.det in ("a", "an") and owner.gov in ("to", "per", "for"))


def _things_before(it: Interpreter, c: Clause, k: int, owner: El) -> list[El]:
    """The counted fasteners that stand before the taker, first to last."""
    things: list[El] = []
    j = k - (1 if owner.det in ("per", "each", "ea", "every") and c.els[k - 1].type == "fit" else 2)
    if c.els[k - 1].low == "of":
        j = next((n for n in range(k - 2, -1, -1) if c.els[n].type == "prep"), 0) - 1
    while j >= 0:
        e = c.els[j]
        covers = owner.each and it.is_fastener(owner.parts) and owner.words[-1] not in ("washer", "nut")  # "a pad over every bolt"
        covers = covers or (owner.each and owner.gov in _INSIDE and it.is_clip(owner.parts))  # "a bush into each clip"
        if (
            e.type == "fit"
            and not e.used
            and (e.amount is not None or (e.gov in it.chunker.with_ and not e.plural))
            and not e.each
            and (covers or it.is_fastener(e.parts))
            and (e.parts or owner.gov in _INSIDE)
        ):
            things.insert(0, e)
        elif not (
            _between(c, j, owner, bool(things)) or (e.low in it.chunker.with_ and things) or e.type == "conj" or (e.low == "," and things)
        ):
            break
        j -= 1
    return things


def _between(c: Clause, j: int, owner: El, found: bool) -> bool:
    """Whether the element may stand between the fasteners and their taker: a passive verb, or a tube that they go through."""
    e = c.els[j]
    if found:
        return False
    told = e.type in ("verb", "word") and c.verb is not None and (c.verb.passive or c.verb.cls == "go") and owner.det != "per"
    passed = e.type == "mem" or (e.type == "prep" and e.low in ("through", "thru", "into", "in"))
    return told or (passed and j > 0 and owner.gov in ("into", "in", "on"))


def _unlisted_nut(it: Interpreter, owner: El) -> bool:
    """Whether "nut" or "head" is no part of the kit, so that it means the bolt's own."""
    if owner.words[-1] not in ("nut", "head") or not owner.parts:
        return False
    part = it.kit.parts[owner.parts[0]]
    return part.listed is None and not part.in_list


def _onto_bar(it: Interpreter, c: Clause, owner: El, things: list[El]) -> bool:
    """Read "1 screw ea. splice" where the text is on a bar: the taker is a joint of that bar."""
    bar = it.ctx.bar or it.section_bar
    if not bar:
        return False
    for f in things:
        parts, amount, _ = wording.what(it, f, c, [])
        it.emit(it.event("add", parts, amount, member=it.ctx.bar or it.section_bar, text=f.text, option=it.option))
        f.used = True
    owner.used = True
    return True


def _named_owners(it: Interpreter, c: Clause, k: int, owner: El, to_bolt: bool) -> tuple[str, ...]:
    """The parts that the taker's own name stands for."""
    if not to_bolt:
        return ownership.owners_of(it, owner, c)
    own_bolt = next((f.parts for f in reversed(c.els[:k]) if f.type == "fit" and f.parts and f.parts[0] in owner.parts), ())
    return own_bolt[:1] or wording.narrowed(it, owner.parts)[:1]


def _fasteners_meant(it: Interpreter, owner: El, owners: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """(owners, within): "each bolt" after "for each clip" speaks only of the bolts in those clips."""
    if len(owner.words) != 1 or not it.is_fastener(owner.parts):
        return owners, ()
    if it.prefix_owner:
        mine = [f.parts[0] for f in it.sentence_els if f.type == "fit" and f.parts and f.parts[0] in owner.parts and f.amount is not None]
        return tuple(mine[:1]) or owners, it.prefix_owner
    if it.rule_fastener in owner.parts and it.rule_step == it.step_id and it.rule_owners:
        return (it.rule_fastener,), it.rule_owners
    return owners, ()


def _emit_rules(it: Interpreter, c: Clause, things: list[El], owners: tuple[str, ...], within: tuple[str, ...]) -> None:
    per = None
    if gates.search(r"\b(?:so far|already on)\b", it.text):
        per = "so-far"
    elif it.section is not None and it.section.role in ("build", "other"):
        per = "here"
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
                per=per,
                member=ruling.driven_into(c, f, it.last_noun if it.last_is_member else None),
            )
        )


def gapped(it: Interpreter, c: Clause) -> bool:
    """Read "… secured by a foot pin, and the foot pin by a spring cotter": the verb is left out the second time."""
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


def trailing_nut(it: Interpreter, c: Clause) -> bool:
    """Read "A joint bolt through each joint, cap nut on the inside": a bare nut or washer behind the bolt that it goes with."""
    for k, e in enumerate(c.els):
        bare = e.type == "fit" and e.amount is None and e.det is None and not e.plural and not e.definite and bool(e.parts)
        if (
            not bare
            or not k
            or c.els[k - 1].low not in (",", "and")
            or e.low.startswith("without")
            or it.kit.head(e.parts[0]) not in ("nut", "washer")
        ):
            continue
        bolts = [f for f in c.els[:k] if f.type == "fit" and f.amount is not None and f.parts and it.is_fastener(f.parts)]
        if bolts:
            it.emit(it.event("rule", owners=bolts[-1].parts[:1], amount=Amount(1), fastener=e.parts[0], parts=e.parts, per="here"))
            e.used = True
            return False
    return False


def last_bolt(it: Interpreter) -> str | None:
    """The bolt that this step spoke of last."""
    step = it.step_id
    mine = [
        e.parts[0]
        for e in [*it.ctx.last, *it.ctx.current]
        if e.step == step and it.is_fastener(e.parts) and it.kit.head(e.parts[0]) not in ("nut", "washer")
    ]
    if mine:
        return mine[-1]
    return (
        it.rule_fastener if it.rule_step == step and it.rule_fastener and it.kit.head(it.rule_fastener) not in ("nut", "washer") else None
    )


def through_them(it: Interpreter, c: Clause) -> bool:
    """Read "Put a bolt with two washers through each of them": the fittings just named take the fasteners."""
    for k, e in enumerate(c.els):
        if (
            e.type != "pron"
            or not (e.each or e.name in ("them", "these", "it"))
            or (e.gov not in ("through", "into", "in", "thru") and not (e.gov == "to" and c.verb is None))
            or (c.verb is not None and c.verb.cls not in ("put", "fasten"))
        ):
            continue
        things = [f for f in c.els[:k] if f.type == "fit" and not f.used and f.amount is not None and it.is_fastener(f.parts)]
        pool = it.ctx.current or it.ctx.last
        own = [
            f.parts[0] for f in c.els[:k] if f.type == "fit" and f.amount is not None and f.gov in ("subj", "obj") and it.is_clip(f.parts)
        ]
        if not own and c.after_colon and c.verb is None:  # "Cradles and rings all lock alike: one bolt in each"
            own = [
                n
                for f in it.sentence_els
                if f.type == "fit" and f.j <= c.start and f.amount is None and f.plural
                for n in f.parts[:1]
                if it.is_clip(f.parts)
            ]
        owners = tuple(dict.fromkeys(own or (x.parts[0] for x in pool if it.is_clip(x.parts))))
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
            washer = it.kit.head(f.parts[0]) in ("washer", "nut") and bolt is not None
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
    """Read "… by a pair of bolts, a wing nut being put on each"."""
    each = next((e for e in c.els if e.type == "pron" and e.each and e.gov in ("on", "to", "under", "onto", "with")), None)
    nut = next((f for f in c.fits() if f.amount is not None and f.parts and it.kit.head(f.parts[0]) in ("nut", "washer")), None)
    if each is None or nut is None or c.els.index(each) < c.els.index(nut):
        return False
    k = c.els.index(nut)
    if c.verb is None and each.gov == "to" and k and c.els[k - 1].type == "conj":
        return False  # "a bolt and a nut to each": to each of the clamps
    before = [
        f
        for f in c.fits()
        if (f.amount is not None or f.gov == "subj")
        and f is not nut
        and it.is_fastener(f.parts)
        and it.kit.head(f.parts[0]) not in ("nut", "washer")
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
