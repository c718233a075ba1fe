"""Clauses that put fittings somewhere, to add events."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from typing import TYPE_CHECKING

from hoopwright.model.events import Event, Place, Selector, Unit
from hoopwright.model.frame import Doubt
from hoopwright.parsing import gates, patterns, spotting, wording
from hoopwright.parsing.bar_joins import joins_of_bar
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.corrections import corrected_steps
from hoopwright.parsing.elements import El

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def add_all(it: Interpreter, c: Clause, themes: list[El]) -> None:
    for k, e in enumerate(c.els):
        # "as far up as on bow 1", "like hoop 2": what it is compared with is no host
        if (
            e.type == "mem"
            and e.role == "hoop"
            and k
            and (
                c.els[k - 1].low in ("as", "like", "than")
                or (k > 1 and c.els[k - 1].type == "prep" and c.els[k - 2].low in ("as", "than", "like"))
            )
        ):
            e.used = True
    first = c.els.index(themes[0])
    pre = [e for e in c.els[:first] if e.type == "mem" and not e.used and e.role not in ("thing", "ground", "film")]
    segments = []
    for n, t in enumerate(themes):
        a = c.els.index(t)
        b = c.els.index(themes[n + 1]) if n + 1 < len(themes) else len(c.els)
        segments.append((a, b))
    made: list[Event] = []
    for e in c.els:
        # "two lengths to each hoop, one per side": how the two are shared out
        if (
            e.type == "mem"
            and e.role in ("side", "tube", "joint")
            and e.det == "per"
            and e.amount is not None
            and any(t.amount is not None and t.amount.value == 2 * (e.amount.value or 0) for t in themes)
        ):
            e.used = True
    for n, t in enumerate(themes):
        a, b = segments[n]
        seg = [e for e in c.els[a:b] if e.type == "mem" and not e.used and e.role not in ("thing", "ground", "film")]
        k = n
        while not seg and k + 1 < len(themes) and listed(it, c, segments[k]):
            k += 1
            x, y = segments[k]
            seg = [e for e in c.els[x:y] if e.type == "mem" and not e.used and e.role not in ("thing", "ground", "film")]
        places = [p for i, p in c.places if a <= i < b or (n == 0 and i < a) or (n == len(themes) - 1 and i >= b)]
        made.append(add_one(it, c, t, pre, seg, places, made))
    if len(made) > 1 and made[-1].places and not any(e.places for e in made[:-1]) and len({e.parts[:1] for e in made}) == 1:
        made = [e if e.places else with_places(it, e, made[-1].places) for e in made]
    for at, (earlier, later) in enumerate(pairwise(list(made))):
        tubes = all(e.units and all(u.kind == "tube" and u.side for u in e.units) for e in (earlier, later))
        own = any(e.type == "mem" and e.role == "hoop" for e in (*pre, *c.els[segments[at][0] : segments[at][1]]))
        if tubes and earlier.parts[:1] == later.parts[:1] and not own and later.hoops is not None:
            made[at] = replace(earlier, hoops=later.hoops)  # "one on the left leg and one on the right leg of hoop 3"
    replaces = corrected(it)
    if replaces and not gates.search(r"\b(?:further|addition|additional|also|another)\b", it.text.lower()):
        made = [replace(e, steps=replaces) for e in made if e.amount is None or not denied(it, c, e)]
    for event in made:
        it.emit(event)


def shares_of_rule(it: Interpreter, c: Clause) -> bool:
    """ "Each cleat has four screws: two into the jamb, two into the board": behind the colon stand the shares of the rule."""
    behind = c.after_colon or (c is not it.clauses[0] and c.verb is not None and c.verb.form == "ed")
    if not behind or not it.out or it.out[-1].kind != "rule" or it.out[-1].amount is None or c.fits():
        return False
    shares = [e.amount.value or 0 for e in c.els if e.type == "ellip" and e.amount is not None]
    return bool(shares) and sum(shares) == it.out[-1].amount.value


def corrected(it: Interpreter) -> tuple[str, ...]:
    """The printed labels that a sentence of a correction speaks of."""
    return corrected_steps(it.outline, it.step, it.passage, it.span) if it.step is not None and it.passage is not None else ()


def denied(it: Interpreter, c: Clause, event: Event) -> bool:
    """Read "… and not by four": the number that no longer holds."""
    return bool(
        event.amount is not None
        and event.amount.text
        and gates.search(rf"\bnot (?:by |with )?{re.escape(event.amount.text.lower())}", c.low)
    )


def with_places(it: Interpreter, event: Event, places: tuple[Place, ...]) -> Event:
    new = replace(event, places=places)
    it.ctx.current = [new if e is event else e for e in it.ctx.current]
    return new


def listed(it: Interpreter, c: Clause, segment: tuple[int, int]) -> bool:
    a, b = segment
    return all(
        e.type in ("conj", "fit", "punct") or e.low in it.chunker.with_ for e in c.els[a:b]
    )  # "one bolt with one nut through each foot"


def add_one(it: Interpreter, c: Clause, t: El, pre: list[El], seg: list[El], places: list[Place], made: list[Event]) -> Event:
    if (
        it.is_fastener(t.parts)
        and seg
        and seg[0].role in ("bar", "other")
        and seg[0].gov in ("into", "in", "to")
        and made
        and not any(e.role in ("hoop", "tube", "foot", "joint") for e in seg)
    ):
        pre = []  # "… and one deck screw into the board"
    if c.els and c.els[0].low in it.chunker.with_ and t.gov in it.chunker.with_ and it.is_fastener(t.parts) and not made and not pre:
        seg = c.els[c.els.index(t) :]  # "With one screw you fasten the hinge to the post": the hosts stand behind the hinge
    hoops, units, member, bars = spotting.find_hosts(it, [*pre, *seg], c)
    if hoops is None and member is None and units and units[-1].det == "its" and (lifted := _before_it_is_lifted(it, c)) is not None:
        hoops = lifted
    if hoops is None and (before := _same_tube_before(it, c)) is not None:
        hoops = before.hoops  # "around the same three limbs"
    hoops, units, member, nothing = _hosts_or_last(it, c, t, hoops, units, member, bars)
    parts, amount, doubts = wording.what(it, t, c, made)
    fastened = wording.fastens(it, t, c, made)
    if fastened is None and t.type == "ellip" and t.more and made and made[-1].holds is not None:
        fastened = made[-1].holds  # "one washer under its head and another under its nut"
    one = amount is not None and amount.text.lower() in ("a", "an", "one") and c.verb is not None and c.verb.cls == "take"
    if amount is not None and (amount.each or one) and any(m.role == "tube" and m.plural and m.gov == "subj" for m in [*pre, *seg]):
        units = tuple(replace(u, each=True) if u.kind == "tube" else u for u in units)  # "the legs of the end hoops get a ring each"
    ctx = it.ctx
    named = hoops is not None and not nothing
    just_before = [e for e in ctx.last if e.step == it.step_id][-1:]
    if hoops is None and member is None and nothing and not units and ctx.prefixed and just_before and just_before[0].member == ctx.member:
        member = ctx.member  # "11e Hang the door on three hinges. Mount one latch": no longer on the bow of 11a
    if hoops is None and member is None:
        of_these = any(
            e.type == "pron" and e.name in ("these", "those", "them") and e.gov in ("at", "on", "of", "to", "onto") for e in c.els
        )
        hoops = it.spoken if of_these and it.spoken is not None and ctx.hoops is None else ctx.hoops
        if _of_every_tube(c) and not ctx.example and not ctx.prefixed:
            hoops = ctx.heading  # "Ribs 2 and 5 want a collar. After that every long arm has a keeper": of all the ribs
    a_hoop = spotting.fronted_hoops(it, c) or any(
        e.type == "mem" and e.role == "hoop" and e.gov in ("to", "on", "onto", "round", "around", "over") for e in [*pre, *seg]
    )
    if member is None and not named and not a_hoop and ctx.bar is not None and units and _of_a_bar(units):
        member = ctx.bar
    lengths = any(e.type == "mem" and e.name == "length" for e in c.els)
    per_side = c.after_colon and ctx.bar is not None and bool(units) and all(u.kind == "side" and u.det == "per" for u in units)
    if member is None and not named and not a_hoop and per_side and _about_a_bar(it):
        member = ctx.bar  # "Run the side bars through the clips in the same way: two sleeves per side"
    lengths_of_it = [u for u in units if u.kind == "tube" and u.name in ("section", "length", "piece") and u.number]
    spoken_of = [e for e in it.clauses[0].els if e.type == "mem" and e.role == "bar"]
    if member is None and not named and not a_hoop and c.after_colon and lengths_of_it and len(spoken_of) == 1:
        joints = [u for u in units if u.kind == "joint"]
        if len(joints) + len(lengths_of_it) == len(units):
            # "Do both side bars the same way: four sections apiece, three joins apiece, one screw per join"
            member = spoken_of[0].name
            units = tuple(replace(u, each=True) for u in joints if u.number)[:1] or tuple(joints[:1])
            bars = (Unit("member", member, None, True, 2 if spoken_of[0].det == "both" else None),)
    if member is None and not named and not a_hoop and ctx.bar is not None and lengths and all(u.kind == "side" for u in units):
        member = ctx.bar  # "each side has two lengths and one sleeve"
    if member is None and not named and not a_hoop and not units and not bars and ctx.bar is not None and not places and not it.fronted:
        member = ctx.bar
    if member is None and not units and not named and ctx.member is not None and hoops is None:
        member = ctx.member
    units = _on_the_same(it, c, _units_in_context(it, units, member, named))
    if member is None and not named:
        units = tuple(_each_as_before(it, u) for u in units)
    if amount is not None and amount.value == len(places) == 2 and any(p.side for p in places):
        # "held to the roof bend above it by a clip, one on the left of the ridge and one on the right"
        units = tuple(replace(u, each=False) if u.kind == "tube" and u.det == "the" and not u.plural else u for u in units)
    if not units and member is None and not named and (spoken := _each_spoken_of(it, c)) is not None:
        units = (spoken,)
    if named:
        ctx.hoops, ctx.member = hoops, None
        if hoops is not None and hoops.kind == "all":
            ctx.example = False
    elif member is not None:
        ctx.member = member
    if (
        member is not None
        and member == ctx.bar
        and ctx.across
        and units
        and all(u.kind == "end" and (u.each or u.plural) for u in units if u.kind != "member")
        and t.parts
        and it.kit.parts[t.parts[0]].form in ("closed", "open")
    ):
        # a clip at either end of a bar that lies across a hoop sits on the hoop
        hoops, member, units, bars = ctx.hoops, None, (Unit("side", "side", None, True, 2),), ()
    path = it.bar_path
    if member is not None and path is not None and member.split()[-1] == path[0] and gates.search(r"\b(?:each|either|both) ends?\b", c.low):
        hoops, member, bars = Selector("numbers", path[1], each=True, text="its ends"), None, ()
        units = (Unit("side", "side", None, True, 2),) if it.kit.members.get(path[0]) == 2 else ()  # one on each side of the frame
    if member is None and hoops is not None and hoops.kind != "all" and _into_the_hoop(c):
        hoops = replace(hoops, each=True)  # "At both end hoops, two screws are driven through the board into the hoop"
        if not units and not any(p.side for p in places) and _through_a_board_on_both_sides(it, c):
            units = (Unit("side", "side", None, True, 2),)
    if member is None and not named and _in_bays(units):
        # "In every bay there is one hook at the middle": between two hoops, and on neither
        number = it.hoops - 1 if it.hoops else None
        member, units, places = "bay", (Unit("member", "bay", None, True, number), *(u for u in units if u.kind == "side")), []
    if member is not None:
        hoops = None
        joins = _joins_told(it, member, units)
        if joins is not None:
            units, bars = (Unit("joint", "joint", None, True, joins),), ()
    verb = c.verb
    low = c.low
    described = _described(it, c, units)
    vague = it.vague.search(low)
    if vague is not None and not any(p.offset_mm is not None for p in places) and it.kit.parts[parts[0]].form != "fastener":
        doubts = (*doubts, Doubt("position", f"Where the {parts[0]} goes is not measured: '{vague.group()}'.", ()))
    event = it.event(
        "add",
        parts,
        amount,
        hoops,
        units,
        tuple(places),
        definite=t.definite and not t.each,
        more=t.more,
        member=member,
        holds=fastened if fastened is None or fastened < 1000 else fastened - 1000,
        per="described" if described or _announced(it, t, parts) else None,
        doubts=doubts,
        verb=verb.low if verb is not None else None,
        text=t.text,
        group=it.group if fastened is None or fastened < 1000 else it.held_group,
        option=it.option,
        slide=_slides(low, verb),
        early=it.early == it.step_id
        or bool(gates.search(r"\bbefore (?:you |it is |they are |the hoops? (?:is|are) )?(?:join|assembl|stand|push)", low)),
        late=bool(gates.search(r"\b(?:later|not yet|wait)\b", low)),
        bar="|".join(b.name for b in bars) if bars and member is None else None,
    )
    if bars and member is None:
        event = replace(event, units=(*event.units, *(b for b in bars if b.each or b.number)))
    elif bars and member is not None:
        own = _ends_of_them_all(it, c, bars, event.units) or tuple(
            b for b in bars if b.name == member or (b.each and not any(x.each for x in units))
        )
        event = replace(event, units=(*event.units, *own))
    ctx.current.append(event)
    return event


def _hosts_or_last(
    it: Interpreter,
    c: Clause,
    t: El,
    hoops: Selector | None,
    units: tuple[Unit, ...],
    member: str | None,
    bars: tuple[Unit, ...],
) -> tuple[Selector | None, tuple[Unit, ...], str | None, bool]:
    """(hoops, units, member, whether the clause names no host), with the host spoken of last where the clause leaves it out."""
    nothing = hoops is None and member is None and not units and not bars
    pron = next((e for e in c.els if e.type == "pron" and e.gov in ("over", "onto", "on", "to", "in", "into", "round", "through")), None)
    if nothing and pron is not None and pron.name == "it" and it.it_hoops is not None and not it.ctx.current:
        hoops, nothing = it.it_hoops, False
        units = (it.ctx.tube,) if it.ctx.tube is not None else ()  # "Take the left leg of hoop 1. Onto it go …"
    if nothing and pron is not None and it.last_is_member and not it.ctx.current:
        member, nothing = it.last_noun, False
        if gates.search(r"\b(?:each|every one|all) of (?:them|these|those)\b", c.low):
            units = (Unit("member", member, None, True, spotting.listed_number(it, member)),)  # "over every one of them"
    if nothing and (met := _where_pieces_meet(it, c)) is not None:
        bar = it.ctx.bar or next(reversed(it.bars.spoken), met[0])
        member, units, nothing = bar, (Unit("joint", "joint", None, True, met[1]),), False
    things = [
        e
        for e in c.els
        if e.type == "mem"
        and e.role == "thing"
        and not e.used
        and not (e.name in ("mark", "stroke") and e.gov == "to" and e.det == "the")  # of the tube that is being dressed
        and e.gov in ("on", "onto", "in", "into", "to", "at")
        and c.els.index(e) > c.els.index(t)
    ]
    if nothing and things and it.kit.parts.get(t.parts[0] if t.parts else "") is not None and it.is_clip(t.parts):
        member = things[0].name
    elif nothing and (not t.more or it.ctx.current) and (before := _goes_on_from(it)) is not None:
        units = tuple(u for u in before.units if u.kind in ("tube", "side", "foot", "joint", "shoulder") or before.member is not None)
        hoops, member = before.hoops, before.member
    if nothing and member is None and c.verb is not None and c.verb.passive and it.ctx.hoops is None:
        subject_of = next(
            (e for e in c.els if e.type == "mem" and e.gov == "subj" and e.role in ("thing", "film", "bar", "other") and len(e.words) > 1),
            None,
        )
        if subject_of is not None:
            member, nothing = " ".join(subject_of.words), False  # "Channel lengths are joined with a joiner"
    if t.side and t.type in ("fit", "ellip") and not any(u.side for u in units):
        units = (*units, Unit("side", "side", t.side, False))
    return hoops, units, member, nothing


def _where_pieces_meet(it: Interpreter, c: Clause) -> tuple[str, int | None] | None:
    """ "The pieces meet in four places. Each of these places gets one screw": (what meets, in how many places)."""
    these = any(e.type == "mem" and e.role == "thing" and e.gov == "subj" and e.det in ("these", "those") for e in c.els)
    pieces = [e for e in it.els_before if e.type == "mem" and e.name in ("piece", "length", "section") and e.plural]
    places = [e for e in it.els_before if e.type == "mem" and e.role == "thing" and e.plural]
    if not these or not pieces or not places or not any(e.low in ("meet", "join", "touch") for e in it.els_before):
        return None
    return pieces[0].name, places[-1].amount.value if places[-1].amount is not None else None


def _into_the_hoop(c: Clause) -> bool:
    """Whether a clause about several hoops goes on to speak of one of them: what it counts is for each."""
    return any(
        e.type == "mem"
        and e.role == "hoop"
        and e.det == "the"
        and not e.plural
        and e.gov in ("into", "onto", "to", "against")
        and (e.hoops is None or e.hoops.kind in ("all", "topic"))
        for e in c.els
    )


def _through_a_board_on_both_sides(it: Interpreter, c: Clause) -> bool:
    """ "Through the board", where the section has put such boards up on one side and then done the other side likewise."""
    board = next((e for e in c.els if e.type == "mem" and e.role in ("bar", "other") and e.gov == "through" and e.det == "the"), None)
    assert it.section is not None
    here = {step.id for step in it.outline.steps if step.section == it.section.id}
    return (
        board is not None and not board.plural and any(e.kind == "copy" and e.side for r in it.readings if r.step in here for e in r.events)
    )


def _in_bays(units: tuple[Unit, ...]) -> bool:
    return any(u.kind == "bay" and u.each for u in units) and all(u.kind in ("bay", "side") for u in units)


def _of_every_tube(c: Clause) -> bool:
    """ "Every long leg has …": the subject of a clause that says what is so on the hoops."""
    subject = next((e for e in c.els if e.gov == "subj" and e.type == "mem"), None)
    takes = c.verb is not None and c.verb.cls == "take" and c.verb.form == "s"
    return takes and subject is not None and subject.role == "tube" and subject.det == "every"


def _about_a_bar(it: Interpreter) -> bool:
    """Whether the sentence begins with what is done to a bar."""
    return any(e.type == "mem" and e.role == "bar" and e.gov == "obj" for e in it.clauses[0].els)


def _goes_on_from(it: Interpreter) -> Event | None:
    """What was added last in this sentence, or in the one before if a semicolon parts the two: "…; then a purlin clip"."""
    if it.ctx.current:
        return it.ctx.current[-1] if it.ctx.current[-1].kind == "add" else None
    last = it.ctx.last[-1] if it.ctx.last else None
    goes_on = it.text[:1].islower() and gates.match(r"(?:and |but )?(?:then|next|lastly|last|after (?:that|it))\b", it.text)
    return last if goes_on and last is not None and last.step == it.step_id and last.kind == "add" else None


def _units_in_context(it: Interpreter, units: tuple[Unit, ...], member: str | None, named: bool) -> tuple[Unit, ...]:
    """The places on the hoop, completed with the side or tube that the text before is about."""
    ctx = it.ctx
    if (
        len(ctx.units) == 1
        and ctx.units[0].kind == "side"
        and ctx.units[0].side
        and member is None
        and any(u.kind == "tube" and u.side is None and not u.each for u in units)
    ):
        units = tuple(replace(u, side=ctx.units[0].side) if u.kind == "tube" and u.side is None else u for u in units)
    each_tube = [u for u in ctx.units if u.kind == "tube" and u.each]
    if (
        each_tube
        and member is None
        and not named
        and units
        and all(u.kind in ("foot", "end") and u.det == "the" and not u.side for u in units)
    ):
        units = (*each_tube, *units)  # "Every half of every arch: one collar over the foot"
    if not units and ctx.units and (not named or it.for_this_sentence or all(u.kind == "side" for u in ctx.units)) and member is None:
        units = ctx.units
    if (
        ctx.example
        and ctx.tube is not None
        and not named
        and member is None
        and len(units) == 1
        and units[0].kind == "joint"
        and not units[0].each
        and not units[0].plural
        and units[0].side is None
    ):
        units = (replace(units[0], side=ctx.tube.side),)
    if (
        ctx.example
        and ctx.tube is not None
        and not named
        and member is None
        and all(u.kind in ("foot", "end") and u.side is None and not u.each for u in units)
    ):
        units = (ctx.tube, *units)
    return units


def _before_it_is_lifted(it: Interpreter, c: Clause) -> Selector | None:
    """ "Before an end hoop is lifted, slide a collar over each of its feet": the hoops that the clause in front speaks of."""
    front = it.clauses[0]
    if front is c or front.kind != "sub" or front.word not in ("before", "while", "once", "when", "after", "as"):
        return None
    return next((e.hoops for e in front.els if e.type == "mem" and e.role == "hoop" and e.hoops is not None), None)


def _each_as_before(it: Interpreter, unit: Unit) -> Unit:
    """ "Each leg is let down on to its post. Through the post and the leg within it one pin is passed": each leg."""
    if unit.kind != "tube" or unit.each or unit.plural or unit.side or unit.det != "the" or unit.number is not None:
        return unit
    before = [e for e in it.els_before if e.type == "mem" and e.role == "tube"]
    alike = bool(before) and all(e.each and not e.side and e.words[-1:] == tuple(unit.name.split()[-1:]) for e in before)
    return replace(unit, each=True) if alike else unit


def _each_spoken_of(it: Interpreter, c: Clause) -> Unit | None:
    """ "Take the two legs of hoop 1. Slide a ring on to each": each of the tubes, joints or feet that were spoken of just before."""
    each = next(
        (e for e in c.els if e.type == "pron" and e.each and e.gov in ("on", "onto", "to", "over", "round", "around", "in", "into")), None
    )
    if each is None:
        return None
    before = [e for e in (*it.els_before, *it.sentence_els) if e.type == "mem" and (e in it.els_before or e.j <= each.i)]
    roles = ("tube", "joint", "foot", "side", "hoop", "bar", "other")
    last = next((e for e in reversed(before) if e.role in roles and not (e.role == "hoop" and e.gov == "of")), None)
    if last is None or last.role not in ("tube", "joint", "foot", "side") or not (last.plural or last.amount is not None):
        return None
    return Unit(last.role, " ".join(last.words), last.side, True, None, True, last.det)  # type: ignore[arg-type]


def _on_the_same(it: Interpreter, c: Clause, units: tuple[Unit, ...]) -> tuple[Unit, ...]:
    """ "Snap a hook over the same leg": the tube, with its side, of what was added last."""
    before = _same_tube_before(it, c)
    told = [u for u in before.units if u.kind == "tube" and u.side] if before is not None else []
    if len(told) != 1:
        return units
    return tuple(told[0] if u.kind == "tube" and u.side is None and not u.each else u for u in units)


def _same_tube_before(it: Interpreter, c: Clause) -> Event | None:
    """What was added last, where the clause says "the same leg"."""
    same = any(e.type == "mem" and e.role == "tube" and "same" in (*e.words, *e.adjectives, e.det) for e in c.els)
    return next(iter(reversed([*it.ctx.last, *it.ctx.current])), None) if same else None


def _described(it: Interpreter, c: Clause, units: tuple[Unit, ...]) -> bool:
    """Whether the clause describes what a bar carries at its ends, which a later step puts on."""
    verb, subject = c.verb, c.els[0]
    return (
        verb is not None
        and (verb.cls == "take" or (verb.passive and verb.name in ("carry", "hold", "hang", "support", "bear")))
        and (
            (subject.type == "mem" and subject.role == "bar" and subject.det in ("a", "an", "each", "every"))
            or (subject.type in ("pron", "ellip") and it.last_is_member)
        )
        and any(u.kind == "end" for u in units)
    )


def _joins_told(it: Interpreter, member: str, units: tuple[Unit, ...]) -> int | None:
    """ "The ridge bar has three joins. Drive two screws into each join.": how many joins of its bars the step tells of, if it does."""
    if it.step is None or it.passage is None or not all(u.kind in ("joint", "side") or (u.kind == "tube" and u.number) for u in units):
        return None
    names = sorted((name for name, part in it.kit.parts.items() if part.is_fitting and len(name.split()) > 1), key=len, reverse=True)
    text = it.passage.text
    sentence, before = (_without(names, part) for part in (text[it.span[0] : it.span[1]], text[: it.span[0]]))
    return joins_of_bar(member, sentence, before, it.chunker.numbers, it.bar_numbers, it.kit.members.get(member))


def _without(names: list[str], text: str) -> str:
    """The text without the names of fittings: "two joint screws" are no joints."""
    low = text.lower()
    for name in names:
        if name in low:
            text = re.sub(rf"\b{re.escape(name)}s?\b", "-", text, flags=re.IGNORECASE)
    return text


def _ends_of_them_all(it: Interpreter, c: Clause, bars: tuple[Unit, ...], units: tuple[Unit, ...]) -> tuple[Unit, ...]:
    """ "In each end of the ridge bar and of the four purlins": every bar that is named, with how many there are of it; else none.

    A bar at the sides that is named in the plural without a number comes twice (common practice, no source).
    """
    if not any(u.kind == "end" and (u.each or u.plural) for u in units) or not all(u.kind == "end" for u in units):
        return ()
    whole = {e.name for e in c.els if e.type == "mem" and e.role == "bar" and e.gov == "of"}
    bars = tuple(b for b in bars if b.name in whole)
    if len(bars) < 2 and not any(b.plural for b in bars):
        return ()
    return tuple(
        replace(b, each=True, number=b.number or (it.bar_numbers.get(b.name.split()[-1], 2) if b.plural and "ridge" not in b.name else 1))
        for b in bars
    )


def _of_a_bar(units: tuple[Unit, ...]) -> bool:
    """Whether joints and ends are those of a bar that was spoken of; "each of the 7 joints per side" can be no hoop's."""
    per_side = any(u.kind == "side" and not u.side for u in units)  # a hoop of up to four tubes has one joint to a side
    return all(u.kind in ("joint", "end") for u in units) or any(
        u.kind == "joint" and ((u.number or 0) > 4 or (per_side and (u.number or 0) > 1)) for u in units
    )


def _announced(it: Interpreter, t: El, parts: tuple[str, ...]) -> bool:
    """Whether "Push the clamps on from the top end" only announces, over the steps of its section, what they do one kind after another."""
    unlabelled = it.step is not None and it.step.label is None
    return unlabelled and t.amount is None and t.plural and len(parts) > 1


def _slides(low: str, verb: El | None = None) -> bool | None:
    """Whether the clause's own words say that a fitting slides on (True) or goes round a standing tube (False)."""
    if gates.search(r"\b(?:slid|slide|slides|thread|threads|threaded|slip|slips|slipped|sliding)\b", low):
        return True
    if gates.search(
        r"\b(?:snap|snaps|snapped|springs?|sprung|clip (?:it )?(?:round|over|around)|(?:goes|put|bolted|closes?) (?:round|around)|wrap|buckles?)\b",
        low,
    ):
        return False
    return False if verb is not None and verb.name in patterns.ONTO_STANDING else None
