""" "Each clamp takes one bolt": so many of a fastener for each of a part."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hoopwright.model.events import Amount
from hoopwright.parsing import adding, gates, ownership, patterns, wording
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


# "takes none", "needs no fixings"; "has no opening" says nothing of fasteners
_NO_FASTENER = gates.gated(
    r"\b(?:none|neither|nothing)\b|\bno (?:[a-z-]+ ){0,2}(?:bolts?|screws?|nuts?|washers?|pins?|rivets?|fixings?|fasten(?:er|ing)s?|hardware|more)\b|\bno$"
)


def rule(it: Interpreter, c: Clause) -> bool:
    """Read "each clamp takes one bolt and two washers": so many of a fastener for each of a part. Whether the clause was a rule."""
    verb = c.verb
    for f in c.fits():
        if f.det == "both" and f.amount is None and f.gov == "obj" and it.is_fastener(f.parts):
            f.amount = Amount(2, text=f.text)  # "It takes both rivets"
    if verb is not None and _more_hold_it(it, c, verb):
        return True
    if (fronted := _for_each_in_front(it, c) or _with_bolts_in_front(it, c, verb)) is not None:
        _emit_rules(it, c, verb or c.els[0], fronted[1], fronted[0], ())
        return True
    if verb is None or (not c.fits() and not (verb.cls == "take" and c.els[-1] is verb)):
        return False
    if _denied_to(it, c, verb):
        return True
    subject = next((e for e in c.els if e.type in ("fit", "pron", "ellip") and e.gov == "subj" and not e.used and e.det != "no"), None)
    owners, things = _owners_and_things(it, c, verb, subject)
    if owners and not things:
        return _without_things(it, c, verb, subject, owners)
    if not owners:
        return False
    within: tuple[str, ...] = ()
    if subject is not None:
        owners, within = _bolts_meant(it, subject, things, owners)
    none_of = [f for f in things if f.det == "no"]
    if none_of and not all(it.is_fastener(f.parts) for f in none_of):
        return False  # "it has no brace ring"
    if none_of and len(none_of) == len(things):
        for name in _denied(it, none_of):
            it.emit(it.event("rule", owners=owners, amount=Amount(0), fastener=name))
        return True
    things = [f for f in things if f.det != "no"] if none_of else things
    closers = [f for f in things if it.is_fastener(f.parts) or not f.parts]
    if closers and len(closers) < len(things) and verb.cls == "take":
        closers = things  # "It takes one saddle plate and two lock nuts"
    if not closers:
        return False
    _emit_rules(it, c, verb, closers, owners, within)
    return True


def _with_bolts_in_front(it: Interpreter, c: Clause, verb: El | None) -> tuple[tuple[str, ...], list[El]] | None:
    """(owners, fasteners) of "With one bolt and two washers each, the ridge clips are drawn tight"."""
    if verb is None or not verb.passive or verb.cls not in ("fasten", "null", "put") or c.els[0].low not in it.chunker.with_:
        return None
    fits = c.fits()
    owner = next((f for f in fits if f.definite and f.amount is None and it.is_clip(f.parts) and f.j <= verb.i), None)
    bolts = [f for f in fits if owner is not None and f.j <= owner.i]
    each = any(e.type == "pron" and e.each for e in c.els[: c.els.index(owner)]) if owner is not None else False
    if owner is None or not bolts or not each or not all(it.is_fastener(f.parts) and f.amount is not None for f in bolts):
        return None
    return ownership.owners_of(it, owner, c), bolts


_FOR_EACH = frozenset({"for", "to", "with", "per", "in", "on", "onto", "into", "through", "over", "under"})


def _for_each_in_front(it: Interpreter, c: Clause) -> tuple[tuple[str, ...], list[El]] | None:
    """(owners, fasteners) of "For each ridge clip, each brace clip and each eye, one bolt and one nut are provided", whatever the verb."""
    first = next((k for k, e in enumerate(c.els[:3]) if e.type == "prep" and e.low in _FOR_EACH), None)
    fits = c.fits()
    if first is None or len(fits) < 2 or c.els[first + 1] is not fits[0] or not (fits[0].each or fits[0].det in ("per", "a", "an", "any")):
        return None
    nuts = all(f.parts and it.kit.head(f.parts[0]) in ("nut", "washer") for f in fits[1:])
    if not (it.is_clip(fits[0].parts) or nuts) or any(
        e.type == "mem" and not e.used and e.role in ("hoop", "tube", "foot", "joint", "side") for e in c.els
    ):
        return None
    if fits[0].each or fits[0].det == "per":
        owned = next((k for k, f in enumerate(fits) if k and f.amount is not None and not f.each), None)
    else:  # "With a ridge clip, a band or a ring it is one bolt and one nut"
        owned = next((k for k, f in enumerate(fits) if it.is_fastener(f.parts)), None)
        stated = gates.search(r"\b(?:it is|it's|there (?:is|are)|you (?:need|use|take|want)|comes?|goes?)\b", c.low)
        if stated is None or not all(f.det in ("a", "an", "any") for f in fits[:owned]):
            return None
    if not owned or not all(f.parts and f.amount is not None for f in fits[owned:]):
        return None
    owners = tuple(dict.fromkeys(name for f in fits[:owned] for name in ownership.owners_of(it, f, c)))
    return owners, fits[owned:]


def _more_hold_it(it: Interpreter, c: Clause, verb: El) -> bool:
    """Read "… and three more hold it to the gate": further pieces of the fastener that the rule before is about."""
    subject = next((e for e in c.els if e.gov == "subj" and e.type == "ellip" and e.more), None)
    held = any(e.type == "pron" and e.gov == "obj" for e in c.els)
    if subject is None or subject.amount is None or verb.passive or verb.cls != "fasten" or not held:
        return False
    if not it.rule_fastener or it.rule_step != it.step_id or not it.rule_owners:
        return False
    it.emit(
        it.event(
            "rule", (it.rule_fastener,), subject.amount, owners=it.rule_owners, fastener=it.rule_fastener, more=True, member=_other_end(c)
        )
    )
    return True


def _other_end(c: Clause) -> str | None:
    """The board or post that something is held to."""
    return next((e.name for e in c.els if e.type == "mem" and e.gov in ("to", "on", "into") and e.role in ("bar", "other")), None)


def _denied_to(it: Interpreter, c: Clause, verb: El) -> bool:
    """Read "Rings don't have a bolt"."""
    if not verb.neg or verb.cls != "take":
        return False
    denied = next((e for e in c.fits() if e.gov == "subj" and e.amount is None), None)
    if denied is None or not any(f.gov == "obj" and it.is_fastener(f.parts) for f in c.fits()):
        return False
    it.emit(it.event("rule", owners=ownership.owners_of(it, denied, c), amount=Amount(0), fastener=None))
    return True


def _owners_and_things(it: Interpreter, c: Clause, verb: El, subject: El | None) -> tuple[tuple[str, ...], list[El]]:
    """(parts that take something, mentions of what they take), by the voice and the class of the verb."""
    fits = c.fits()
    if (
        subject is not None
        and subject.type == "fit"
        and subject.amount is not None
        and it.is_fastener(subject.parts)
        and verb.cls == "fasten"
        and not verb.passive
    ):
        return _fastener_holds(it, c, subject)
    takes = (
        verb.cls == "take"
        or (verb.passive and verb.cls in ("fasten", "null", "put", "take"))
        or (verb.cls in ("fasten", "null") and verb.form == "s")  # "every loop pinches up with one bolt"
    )
    if subject is not None and takes and _put_on_here(it, c, verb, subject):
        return (), []
    if subject is not None and takes:
        given = verb.cls == "take" or verb.name in ("give", "allow")  # "every joint bolt is given one nut"
        governed = [f for f in fits if (given and f.gov in ("obj", "next")) or f.gov in it.chunker.with_ or f.gov == "and"]
        return ownership.owners_of(it, subject, c), [f for f in governed if f is not subject and (f.amount is not None or f.det == "no")]
    if verb.cls == "go" and c.els[0].low in ("to", "with", "on", "in", "into", "through") and c.els[1].type == "fit" and c.els[1].each:
        return ownership.owners_of(it, c.els[1], c), [f for f in fits if f is not c.els[1] and f.amount is not None]
    held_with = [f for f in fits if f.gov in it.chunker.with_ and f.amount is not None]
    if verb.name == "come" and subject is not None and subject.type == "fit" and subject.each and held_with:
        return ownership.owners_of(it, subject, c), held_with  # "Every ridge clip comes with one bolt"
    if (verb.passive and verb.cls in ("fasten", "null")) or (
        verb.form == "ed" and verb.cls in ("fasten", "null") and subject is None and verb in c.els[:2] and c.els[0].type in ("verb", "conj")
    ):
        earlier = [e for e in it.sentence_els if e.type == "fit" and e.definite and e.j <= c.start and it.is_clip(e.parts) and not e.plural]
        opening = it.sentence_els[0] if it.sentence_els else None
        if not earlier and held_with and opening is not None and opening.type == "pron" and opening.name in ("it", "they") and it.recent:
            return it.recent[-1][0][:1], held_with  # "It is threaded onto an upright and pinched by one bolt"
        if earlier and held_with and not any(e.type == "mem" and e.gov == "subj" for e in c.els):
            return ownership.spoken_of(it, earlier[-1].parts)[:1], held_with
    elif verb.cls in ("fasten", "null", "put") and verb.form == "base":
        owner = next((f for f in c.els if f.type in ("fit", "pron", "ellip") and f.gov == "obj" and _stands_for_each(f)), None)
        if owner is not None and owner.type == "pron" and it.last_is_member:
            owner = None  # "Set a brace between … Fasten it with one pin at each ring"
        if owner is None and held_with:  # "Fasten the board to every shelf clip with one bolt and two washers"
            owner = next((f for f in c.fits() if f.gov in ("to", "at", "in") and f.each and it.is_clip(f.parts)), None)
        # "Fix both ends of every brace to its ring with one bolt"
        if owner is None and any(e.type == "mem" and e.role == "end" for e in c.els):
            owner = next((f for f in c.fits() if f.gov == "to" and f.det in ("its", "their") and it.is_clip(f.parts)), None)
        if owner is not None:
            return ownership.owners_of(it, owner, c), [f for f in held_with if f is not owner]
    return (), []


def _put_on_here(it: Interpreter, c: Clause, verb: El, subject: El) -> bool:
    """ "One lamp ring is slid on to each leg of hoop 3 with one bolt" puts a ring on; "a ring is held by one bolt" says what rings take."""
    counted = (
        subject.type == "fit" and subject.amount is not None and not subject.each and not subject.definite and it.is_clip(subject.parts)
    )
    if not (counted and verb.passive and verb.cls in ("put", "fasten")):
        return False
    return any(
        (e.role == "hoop" and e.hoops is not None)
        or (e.role in ("tube", "side", "foot", "joint", "shoulder") and (e.each or e.side or e.plural or e.amount is not None))
        for e in c.els
        if e.type == "mem" and not e.used
    )


def _fastener_holds(it: Interpreter, c: Clause, subject: El) -> tuple[tuple[str, ...], list[El]]:
    """ "One bolt holds each clamp"; not "four screws hold the joint", which says where they go."""
    target = next((e for e in c.els if e.type in ("pron", "fit") and e.gov == "obj"), None)
    at_a_place = any(e.type == "mem" and not e.used and e.role in ("joint", "side", "foot", "tube") for e in c.els) or any(
        p.both for _, p in c.places
    )
    if target is None or at_a_place:
        return (), []
    before = [f for f in c.fits() if c.verb is not None and f.j <= c.verb.i and f.amount is not None and it.is_fastener(f.parts)]
    things = [f for f in before if f.gov == "subj" or f.gov in it.chunker.with_]
    return ownership.owners_of(it, target, c), things or [subject]


def _stands_for_each(f: El) -> bool:
    if f.type == "ellip":
        return f.low in ("each one", "every one", "each together", "each up")
    return f.each or f.det == "code" or (f.type == "pron" and f.name in ("each", "them", "it"))


def _denied(it: Interpreter, things: list[El]) -> list[str | None]:
    """What a fitting goes without: "no washers" still leaves it its bolt, "no bolt" leaves it nothing (None)."""
    names = [f.parts[0] for f in things if f.parts]
    return list(names) if len(names) == len(things) and all(it.kit.head(name) in ("washer", "nut") for name in names) else [None]


def _without_things(it: Interpreter, c: Clause, verb: El, subject: El | None, owners: tuple[str, ...]) -> bool:
    """Owners, and no fastener beside them: it was named before, it follows in bullets, or there is none."""
    if subject is not None and it.rule_fastener and (number := _number_alone(it, c, verb, subject)) is not None:
        it.emit(it.event("rule", owners=owners, amount=number, fastener=it.rule_fastener, parts=(it.rule_fastener,)))
        return True
    if verb.cls != "take":
        return False
    pair = next((e for e in c.els if e.type == "ellip" and e.amount is not None and e.gov == "obj"), None)
    if pair is not None and it.rule_set and gates.search(r"\bof (?:each|both|either)$", c.low):
        for fastener in it.rule_set:
            it.emit(it.event("rule", owners=owners, amount=pair.amount, fastener=fastener, parts=(fastener,)))
        return True
    if c.els[-1] is verb or c.els[-1].low == ":":
        it.open_owner = owners
        return True
    fits = c.fits()
    if len(fits) > 1 and all(f.amount is None and (f.definite or it.is_fastener(f.parts)) for f in fits if f is not subject):
        return True  # "each collar takes its bolt and washers": told elsewhere how many
    if subject is not None and _NO_FASTENER.search(c.low):
        it.emit(it.event("rule", owners=owners, amount=Amount(0), fastener=None))
        return True
    return False


def _number_alone(it: Interpreter, c: Clause, verb: El, subject: El) -> Amount | None:
    """The number in "the others are held by one", "a saddle takes two": of the fastener that the step named before."""
    alone = [e for e in c.els if e.type in ("ellip", "pron") and e is not subject]
    if verb.passive:
        single = next((e for e in alone if e.gov in it.chunker.with_ and (e.amount is not None or e.name == "one")), None)
        if single is not None or gates.search(r"\b(?:with|by) (?:just |only )?one$", c.low):
            return single.amount if single is not None and single.amount is not None else Amount(1)
    if verb.cls == "take":
        pair = next((e for e in alone if e.amount is not None and e.gov == "obj"), None)
        of_them = gates.search(r"\b(?:of (?:them|these|those)|such|the same)\b|\b(?:two|three|four|pair|one)\b$", c.low)
        if pair is not None and pair.amount is not None and pair.amount.value and (pair is c.els[-1] or of_them):
            return pair.amount
    return None


def _bolts_meant(it: Interpreter, subject: El, things: list[El], owners: tuple[str, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """(owners, owners' own owners) where "each bolt" or "it" means the bolt of the sentence or rule before."""
    before = [e for e in [*it.ctx.last, *it.ctx.current] if it.is_fastener(e.parts)]
    ruled = it.rule_fastener if it.rule_step == it.step_id else None
    if subject.type == "fit" and len(subject.words) == 1 and it.is_fastener(subject.parts):
        word = subject.words[0]
        mine = [e.parts[0] for e in before if e.step == it.step_id and it.kit.head(e.parts[0]) == word]
        if mine:
            return (mine[-1],), ()
        if subject.low.startswith(("these ", "those ", "each of these ", "each of those ")) and len(owners) == 1:
            # "Tighten the bolts of the ridge clips. Each of these bolts has two washers": no others
            held = {f.parts[0] for f in it.els_before if f.type == "fit" and f.parts and it.is_clip(f.parts)}
            return owners, tuple(held) if len(held) == 1 else ()
        if ruled and it.kit.head(ruled) == word:
            return (ruled,), it.rule_owners
    if subject.type in ("pron", "ellip") and all(f.parts and it.kit.head(f.parts[0]) in ("washer", "nut") for f in things):
        bolts = [e.parts[0] for e in before if it.kit.head(e.parts[0]) not in ("washer", "nut")]
        if bolts:
            return (bolts[-1],), ()
        if ruled:
            return (ruled,), it.rule_owners
    return owners, ()


def _emit_rules(it: Interpreter, c: Clause, verb: El, closers: list[El], owners: tuple[str, ...], within: tuple[str, ...]) -> None:
    per = None
    if gates.search(r"\b(?:so far|threaded|already on)\b", c.low):
        per = "so-far"
    elif it.section is not None and it.section.role in ("build", "other") and verb.cls in ("put", "fasten"):
        per = "here"
    it.rule_set = tuple(f.parts[0] for f in closers if f.parts)
    bolt: str | None = None
    for f in closers:
        parts, amount, doubts = wording.what(it, f, c, [])
        if bolt is not None and _on_each(c, f):
            # "two bolts with a square nut on each": the nut belongs to the bolt
            nut = it.event("rule", parts, amount, doubts=doubts, verb=verb.low, per=per)
            it.emit(replace(nut, fastener=parts[0], owners=(bolt,), within=owners))
            continue
        bolt = parts[0]
        note_rule(it, parts[0], owners)
        event = it.event(
            "rule", parts, _with_second_share(it, c, f, amount), doubts=doubts, member=driven_into(c, f), verb=verb.low, per=per
        )
        it.emit(replace(event, fastener=parts[0], owners=owners, within=within, steps=adding.corrected(it)))


def _on_each(c: Clause, f: El) -> bool:
    """Whether "on each" stands right behind the mention."""
    k = c.els.index(f)
    return k + 2 < len(c.els) and c.els[k + 1].low in ("on", "to") and c.els[k + 2].type == "pron" and c.els[k + 2].each


def driven_into(c: Clause, f: El, it_means: str | None = None) -> str | None:
    """The board or post that a fastener goes into ("two screws into the board"), None if it stays with its owner.

    ``it_means`` is the board that "into it" stands for.
    """
    k = c.els.index(f)
    for e in c.els[k + 1 :]:
        if e.type == "fit":
            break
        if e.type == "mem" and e.gov in ("into", "in") and not e.used:
            return e.name if e.role in ("bar", "other") else None
        if e.type == "pron" and e.gov == "into" and e.low == "it":
            return it_means
    return None


def _with_second_share(it: Interpreter, c: Clause, f: El, amount: Amount | None) -> Amount | None:
    """ "three screws in the frame and three in the door": the second number belongs to the same rule."""
    k = c.els.index(f)
    at = next((n for n in range(k + 1, len(c.els)) if c.els[n].type in ("ellip", "fit", "punct")), None)
    if at is None or amount is None or not amount.value or not any(e.type == "mem" for e in c.els[k:at]):
        return amount
    second, before = c.els[at], c.els[at - 1]
    joined = before.type == "conj" or (before.low in it.chunker.with_ and c.els[at - 2].type == "conj")
    if second.type != "ellip" or second.amount is None or not joined:
        return amount
    return replace(amount, value=amount.value + (second.amount.value or 0))


def wherever(it: Interpreter) -> bool:
    """ "Wherever a hex bolt or a joint bolt is used, a lock nut goes with it": so many of a fastener for every one of another."""
    if (
        len(it.clauses) < 2
        or not patterns.WHEREVER.match(it.text)
        or not gates.search(r"\b(?:with|on|to) (?:it|each|that|them)\b", it.text.lower())
    ):
        return False
    owners = tuple(dict.fromkeys(f.parts[0] for x in it.clauses[:-1] for f in x.fits() if f.parts))
    closers = [
        f for f in it.clauses[-1].fits() if f.amount is not None and f.parts and f.parts[0] not in owners and it.is_fastener(f.parts)
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
    fits = [f for f in c.fits() if f.det not in ("no", "without") and not f.low.startswith("without ")]
    if (
        not fits
        or c.members("hoop", "tube", "joint", "foot")
        or not all(f.amount is not None and it.is_fastener(f.parts) for f in fits)
        or (c.verb is not None and c.verb.cls in ("put", "fasten", "null"))
    ):
        return False
    for f in fits:
        parts, amount, doubts = wording.what(it, f, c, [])
        washer = (
            it.kit.head(parts[0]) in ("washer", "nut")
            and it.rule_fastener is not None
            and (c.els[0].type in ("pron", "ellip") or gates.search(r"\bto (?:each|the) bolt\b", c.low))
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
