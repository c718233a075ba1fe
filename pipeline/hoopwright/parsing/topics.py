"""What a clause speaks of, and why it may add nothing."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING

from hoopwright.model.events import Selector, Unit
from hoopwright.parsing import gates, patterns, spotting
from hoopwright.parsing.chunk import join_selectors
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter

_OTHER_TIME = frozenset(["when", "once", "after", "before", "until", "as", "because", "so", "since", "while", "although", "where"])


def _side_of_a_bar(it: Interpreter, c: Clause) -> None:
    """ "On the left, three boards are set along the hoops": what holds them to the hoops in the next sentences is on the left, too."""
    if c is not it.clauses[0] or len(c.els) < 3 or c.els[0].type != "prep" or c.els[1].side not in ("left", "right") or c.fits():
        return
    bar = next((e for e in c.els[2:] if e.type == "mem" and e.role in ("bar", "other") and e.gov in ("subj", "obj")), None)
    if bar is not None and c.verb is not None and c.verb.cls in ("put", "stand", "feed", "fasten"):
        it.ctx.units = (Unit("side", "side", c.els[1].side, False),)


def _same_as_before(it: Interpreter, mems: list[El]) -> tuple[Selector, tuple[Unit, ...]] | None:
    """ "Same leg: …", "Same hoops, right leg: …": (hoops, units) of what was put on last, with another side where one is named."""
    same = next((m for m in mems if "same" in (*m.words, *m.adjectives) and m.role in ("hoop", "tube", "side")), None)
    last = next((e for e in reversed(it.ctx.last) if e.kind == "add" and e.hoops is not None and e.member is None), None)
    if same is None or last is None or last.hoops is None:
        return None
    named = tuple(spotting.unit_of(it, m) for m in mems if m is not same and m.role in ("tube", "side"))
    return last.hoops, named or tuple(u for u in last.units if u.kind in ("tube", "side"))


def topic(it: Interpreter, c: Clause) -> None:
    """Note which hoops, tube or bar the clause speaks of."""
    before = it.ctx.hoops
    hoops = [e for e in c.els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and not e.used]
    sels = [e.hoops for e in hoops if e.hoops is not None]
    if (
        c.prefix
        or (
            c.verb is None
            and hoops
            and len([e for e in c.els if e.type != "punct" and e.low not in ("now", "then", "next", "finally", "first", "only")]) == 1
        )
    ) and (not c.fits() or (c.prefix and bool(hoops) and all(f.amount is None for f in c.fits()))):
        mems = [e for e in c.els if e.type == "mem" and not e.used and e.role not in ("thing", "ground", "film")]
        found, units, member, _ = spotting.find_hosts(it, mems, c)
        sides = [e.side for e in c.els if e.side and e.type in ("word", "ellip")]
        if sides and not units:
            units = (Unit("side", "side", sides[0], False),)
        if found is None and (before_it := _same_as_before(it, mems)) is not None:
            found, units = before_it
        it.prefix_side = bool(sides) or any(u.kind == "side" and u.side for u in units)
        if found is not None:
            it.ctx.hoops, it.ctx.example = found, False
            label = it.step.label if it.step is not None else None
            it.ctx.prefixed = label.rstrip("abcdefghi") if label and label[-1].isalpha() and label[0].isdigit() else ""
        if units:
            it.ctx.units = tuple(
                replace(u, each=u.each or (u.kind == "tube" and u.plural)) for u in units
            )  # "Legs, every hoop: slide a clip on"
            # "On each short arm: on hoops 2 and 5 a collar, on all the hoops an eye"
            it.for_this_sentence = found is None and any(u.kind == "tube" for u in units)
        if member is not None and found is None and not any(u.kind not in ("end", "joint", "side") for u in units):
            it.ctx.bar = member
        return
    _side_of_a_bar(it, c)
    be = any(e.low in ("is", "are", "was", "were") for e in c.els)
    front = bool(hoops) and c.els[0].low in ("at", "on", "for", "to", "in", "onto") and any(e is hoops[0] for e in c.els[1:4])
    onward = bool(hoops) and c.els[0].low == "from" and c.els[1] is hoops[0] and sels[0].kind == "nth" and sels[0].step == 1
    front = front or onward  # "From rib 7 on the purlin is thicker. Here …"
    it_has = (
        c.els[0].type == "pron"
        and c.verb is not None
        and c.verb.cls in ("take", "go")
        and bool(it.ctx.current or c.kind == "relative" or gates.search(r"\bit has\b", c.low))
    )
    if (
        c.kind != "sub"
        and not it_has
        and sels
        and ((c.verb is not None and not c.verb.neg) or be or front or (c.verb is None and not c.fits() and len(c.els) > 3))
        and not patterns.STARTS.search(it.text.lower())
        and not gates.search(r"\b(?:where|as|like|same|likewise|than)\b|^the (?:last|first) of (?:these|them|those)\b", c.low)
    ):
        # what a sentence is about holds for "that hoop", "these hoops", "each half" in the next
        spoken = (
            sels[:1]
            if onward
            else [e.hoops for e in hoops if e.gov not in ("from", "above", "below", "until", "than", "between") and e.hoops is not None]
        )
        k = next((n for n, x in enumerate(it.clauses) if x is c), 0)
        fronted = front or (k + 1 < len(it.clauses) and it.clauses[k + 1].after_colon)  # "… on all the hoops: one to each side"
        it.fronted = it.fronted or fronted
        if spoken and (fronted or (spoken[0].kind != "all" and all((f.definite and f.amount is None) or f.det == "no" for f in c.fits()))):
            sel = spoken[0]
            for other in spoken[1:]:
                sel = join_selectors(sel, other)
            it.ctx.hoops = it.spoken = sel
            if not it.for_this_sentence and not all(u.kind == "side" for u in it.ctx.units):
                it.ctx.units = ()
    if (
        not c.fits()
        and c.verb is not None
        and c.verb.cls in ("put", "take", "go")
        and (c.els[-1] is c.verb or c.els[-1].low in ("on", ":", "onto"))
        and c.kind == "main"
    ):
        # "Onto each leg tube, from its top end, slide" with bullets below
        mems = [
            e
            for e in c.els
            if e.type == "mem" and not e.used and (e.role not in ("thing", "ground", "film", "end") or (e.role == "end" and e.side))
        ]
        found, units, member, _ = spotting.find_hosts(it, mems, c)
        if found is not None:
            it.ctx.hoops = found
        if units:
            it.ctx.units = tuple(units)
        if member is not None and found is None and not units:
            it.ctx.member = member
    sided = [e for e in c.els if e.type == "mem" and e.role == "tube" and e.side in ("left", "right") and e.gov == "obj"]
    if sided and hoops and not c.fits() and c.verb is not None and c.verb.cls in ("put", "join"):
        it.ctx.tube, it.ctx.example, it.ctx.hoops = spotting.unit_of(it, sided[0]), True, hoops[0].hoops
    if patterns.TURNS_TO.match(it.text) and not hoops and not c.fits() and any(e.plural for e in c.members("tube")):
        it.ctx.hoops, it.ctx.example, it.spoken = it.ctx.heading, False, None  # "Now turn to the top curves": those of all hoops
    if (
        c.verb is not None
        and c.verb.name in ("follow", "continue", "carry on", "go on")
        and gates.match(r"^(?:now |then )?\w+(?: on)? with\b", c.low)
        and sels
        and not c.fits()
        and before is not None
    ):
        it.ctx.hoops = join_selectors(before, sels[0])  # "Stand hoop 1 … Follow with hoops 2 to 7."
    if it.ctx.carried and c.kind == "main" and c.verb is not None and any(e.gov == "obj" and _any_hoops(e) for e in hoops):
        it.ctx.hoops, it.ctx.example, it.ctx.carried = None, False, False  # a new step's "join the hoops" means all of them
    bars = [e for e in c.els if e.type == "mem" and e.role in ("bar", "other") and not e.used and e.gov in ("obj", "subj", "of")]
    if (
        bars
        and all(f.gov in it.chunker.through or (f.definite and f.amount is None) for f in c.fits())
        and (not c.fits() or bars[0].i < c.fits()[0].i)
        and not any(e.role in ("hoop", "joint", "foot", "tube") and e.gov in ("obj", "subj") for e in c.els if e.type == "mem")
    ):
        it.ctx.bar = bars[0].name
        it.ctx.across = (
            any(e.type == "mem" and e.role == "hoop" and e.gov in ("across", "of", "at", "to", "on") for e in c.els)
            or c.els[0].role == "hoop"
        )
        crossed = [
            e.hoops
            for e in c.els
            if e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.gov in ("across", "of", "on", "to", "at")
        ]
        if crossed and it.ctx.across:
            it.ctx.hoops = crossed[0]
    elif bars and c.verb is not None and c.verb.cls == "feed":
        it.ctx.bar = bars[0].name
    elif hoops and c.verb is not None and any(e.gov in ("obj", "subj") for e in hoops):
        it.ctx.bar = None
    if (c.verb is not None and c.verb.cls == "handle") or (
        c.verb is not None and c.verb.name in ("take", "lay", "begin", "start", "pick") and not c.fits()
    ):
        if not any("same" in e.words or "same" in e.adjectives for e in c.members("tube")) and "same" not in c.low:
            it.ctx.tube = None
        if sels and not patterns.STARTS.search(it.text.lower()):
            it.ctx.hoops, it.ctx.example, it.ctx.units = sels[0], sels[0].kind in ("numbers", "first", "last"), ()
        for el in c.members("tube"):
            if el.side or el.tube_at:
                it.ctx.tube = spotting.unit_of(it, el)
                it.ctx.units = (spotting.unit_of(it, el),)


def _any_hoops(e: El) -> bool:
    """ "The hoops": hoops in the plural without a number or a name of theirs."""
    return e.plural and e.hoops is not None and e.hoops.kind == "all" and not e.adjectives


@lru_cache(maxsize=8)
def _said_of(text: str) -> tuple[bool, bool, bool]:
    """Whether a sentence speaks of what lies ready, sends round to check, or reminds of what is on; asked again for each clause."""
    return tuple(pattern.search(text) is not None for pattern in (patterns.STANDS_BY, patterns.ROUND, patterns.REMEMBER))  # type: ignore[return-value]


def null(it: Interpreter, c: Clause) -> str | None:
    """Why the clause adds nothing, None if it may add."""
    low = c.low
    verb = c.verb
    if c.kind == "sub" and c.word in ("if", "unless"):
        return "depends on something"
    if patterns.DESCRIBES.match(it.text):
        return "describes a fitting"
    if patterns.TABLE_SAYS.match(it.text):
        return "says how a table is read"
    if patterns.HOLDS_FOR_ALL.match(it.text):
        return "says where a rule holds"
    if patterns.WITH_FITTING.search(it.text) and not any(f.amount is not None for f in c.fits()):
        return "says when they go in"
    if patterns.COMPARES.search(it.text):
        return "says why"
    if patterns.ANECDOTE.search(it.text):
        return "tells of another time"
    stands_by, going_round, remembered = _said_of(it.text)
    if stands_by:
        return "speaks of what lies ready, or of time and helpers"
    first = it.clauses[0] if it.clauses else c
    told = verb is None or verb.form != "base" or any(e.gov == "subj" for e in c.els)  # "six hoops have twelve clips", and no order
    checked = c is not first and first.verb is not None and first.verb.verb == "check" and told
    if checked and first.verb is not None and (first.verb.form == "base" or (first.verb.passive and low.startswith("that "))):
        return "part of a check"
    if it.text.rstrip().endswith("?"):
        return "asks the reader to check"
    supplied = first.verb is not None and first.verb.cls == "supply"  # "This option ships in its own bag: 4 stops, 4 bolts"
    if c.after_colon and verb is None and (it.needs or supplied):
        return "a list of what is needed"
    if going_round:
        it.checking = True
        return "part of a check"
    if remembered:
        return "speaks of what is on already"
    if gates.match(r"^(?:neither|none|nothing)\b|.*\b(?:needs?|takes?|has|have|gets?) (?:neither|none)\b", low):
        return "says that nothing is needed"
    if gates.match(r"^only\b", low) and verb is not None and verb.cls == "take":
        return "says which ones, not how many"
    lead = next((e for e in c.els if e.low not in ("now", "then", "next", "finally", "also") and e.type not in ("punct", "conj")), None)
    if it.already.search(low) and not (verb is not None and verb.cls in ("put", "fasten") and verb.form == "base" and lead is verb):
        return "speaks of what is on already"
    if verb is not None and verb.neg:
        return "says what not to do"
    if it.checking and (verb is None or verb.cls in ("take", "go")):
        return "part of a check"
    if (
        verb is not None
        and verb.cls == "null"
        and not (verb.passive and verb.verb not in ("check", "measure") and any(f.gov in ("by", "with") for f in c.fits()))
    ):
        places_it = (
            verb.form == "base"
            and any(f.gov == "obj" and f.amount is not None and not f.definite and f.det != "no" for f in c.fits())
            and any(e.type == "prep" and e.low in ("round", "around", "over", "onto", "through") for e in c.els)
        )
        if (verb.name == "leave" or verb.verb in ("tighten", "check", "measure")) and not places_it:
            return f"'{verb.low}' adds nothing"
    if patterns.BY_RULE.search(low) and c.fits() and all(f.amount is None and it.is_fastener(f.parts) for f in c.fits() if f.gov == "obj"):
        return "a rule told before counts them"
    if verb is not None and (_has_a_feature(it, c, verb) or (verb.name == "provide" and verb.passive and low.startswith("for the "))):
        return "describes a fitting"
    if verb is not None and _has_them(it, c, verb):
        return "speaks of what is on already"
    fasteners = [f for f in c.fits() if it.is_fastener(f.parts)]
    if patterns.HAND_TIGHT.search(low) and fasteners and all(f.definite and f.amount is None for f in fasteners) and not c.members():
        return "says how tight"
    if verb is not None and verb.cls == "supply":
        return "speaks of what is supplied"
    yours = any(e.low in ("you", "we") for e in c.els[:3])  # "put them in as you fit the loop"
    if c.kind == "sub" and c.word in _OTHER_TIME and (verb is None or verb.form != "base" or verb.modal or (yours and c.word == "as")):
        return f"'{c.word}' speaks of another time"
    if verb is not None and verb.cls == "remove":
        return "takes off"
    return None


def _has_a_feature(it: Interpreter, c: Clause, verb: El) -> bool:
    """ "The folding clamp is the exception: it has a hinge and is laid round the tube": what a fitting is like."""
    fits = c.fits()
    subject = next((e for e in c.els if e.gov == "subj" and e.type in ("fit", "pron")), None)
    if verb.name != "have" or verb.form != "s" or verb.passive or subject is None or c.places:
        return False
    of_fitting = it.is_clip(subject.parts) if subject.type == "fit" else subject.name == "it" and not it.last_is_member
    things = [f for f in fits if f is not subject]
    return (
        of_fitting
        and bool(things)
        and all(f.det in ("a", "an") and not it.is_fastener(f.parts) for f in things)
        and not c.members("hoop", "tube")
    )


def _has_them(it: Interpreter, c: Clause, verb: El) -> bool:
    """ "Hoops 2, 4 and 6 have tie bar eyes": no number, and an earlier step put them on."""
    fits = c.fits()
    if verb.name not in ("have", "carry", "bear") or (verb.form == "base" and c.els[0] is verb) or not fits:
        return False
    if gates.search(r"\b(?:too|also|as well)\b", it.text.lower()) or any(
        e.type == "ellip" and e.amount is not None for e in it.sentence_els
    ):
        return False  # "Hoops 2 and 6 have strut bands too, one on each half"
    bare = all(f.amount is None and f.plural and not f.definite and f.gov in ("obj", "and") and f.parts for f in fits)
    return bare and all(any(e.kind == "add" and f.parts[0] in e.parts for r in it.readings for e in r.events) for f in fits)


def by_table(it: Interpreter, c: Clause) -> str | None:
    """Why "Foot bolts are fitted as in Table 4" adds nothing where the step has that table; None for other clauses."""
    if it.text.rstrip().endswith(":") and it.step is not None and any(item.table is not None for item in it.step.items):
        counted = any(f.amount is not None and f.gov in ("obj", "subj") for f in c.fits())
        return None if counted else "the table below tells how many"
    if (
        c.verb is not None
        and c.verb.cls in ("put", "fasten", "take", "go")
        and patterns.BY_TABLE.search(it.text)
        and it.step is not None
        and _table_at_hand(it)
        and not any(f.amount is not None and f.gov in ("obj", "subj") for f in c.fits())
    ):
        return "the table tells how many"
    return None


def _table_at_hand(it: Interpreter) -> bool:
    """Whether this step or one of the next two has a table."""
    steps = it.outline.steps
    here = next(n for n, step in enumerate(steps) if it.step is not None and step.id == it.step.id)
    return any(item.kind == "table" for step in steps[here : here + 3] for item in step.items)


def purpose(it: Interpreter, c: Clause) -> None:
    """ "… to hold the heads of the posts": what a fitting is for is no host."""
    until = next((k for k, e in enumerate(c.els) if k and e.low == "until"), None)
    for m in c.els[until:] if until is not None else ():
        if m.type == "mem":
            m.used = True
    for k, el in enumerate(c.els):
        if (
            el.type != "verb"
            or el.form != "base"
            or not k
            or c.els[k - 1].low != "to"
            or el is c.verb
            or (el.cls not in ("take", "fasten", "feed") and el.name not in ("hold", "carry", "support", "guide", "take"))
        ):
            continue
        for m in c.els[k + 1 :]:
            if m.type == "punct" or (m.type == "prep" and m.low not in ("of",)):
                break
            if m.type == "mem":
                m.used = True
