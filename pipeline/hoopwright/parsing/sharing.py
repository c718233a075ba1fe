"""Places told after the number: "two clips, one 400 mm and one 800 mm up"."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hoopwright.model.events import Amount, Event, Place, Selector, Unit
from hoopwright.parsing import spotting
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def share_out(it: Interpreter, c: Clause, shares: list[El]) -> bool:
    """Read "two on each, one 300 mm to the left and one to the right": how the pieces just named are spread, not more pieces."""
    pool = it.ctx.current or [e for e in it.ctx.last if e.step == it.step_id]
    if (
        not pool
        or any(t.more for t in shares)
        or any(e.type == "mem" and e.role == "hoop" and e.hoops is not None and not e.used for e in c.els)
    ):
        return False
    whole = pool[-1]
    if whole.amount is None or whole.amount.value is None:
        if whole.amount is not None and whole.amount.open == "none" and len(shares) == 1 and whole in it.out:
            swap(
                it,
                whole,
                replace(
                    whole,
                    amount=shares[0].amount,
                    units=(*whole.units, *spotting.units_between(it, c, 0, len(c.els))),
                    places=whole.places or tuple(p for _, p in c.places),
                ),
            )
            return True
        return False
    if _one_for_each(c, shares, whole):
        here = tuple(p for _, p in c.places)
        swap(it, whole, replace(whole, amount=replace(shares[0].amount, each=True), places=whole.places or here))  # type: ignore[type-var]
        return True
    places = share_places(it, c, shares)
    if sum(p.count or 1 for p in places) > whole.amount.value or whole.amount.value < 2:
        return False
    sides = {u.side for u in whole.units if u.side in ("left", "right")}
    if sides and any(p.side in ("left", "right") and p.side not in sides for p in places):
        return False  # "two on to the left leg. Two on to the right leg": two more
    if not whole.places or all(p.offset_mm is None for p in whole.places):
        swap(it, whole, replace(whole, places=tuple(places)))
    return True


def _one_for_each(c: Clause, shares: list[El], whole: Event) -> bool:
    """ "You need two hooks, for the right legs of hoops 3 and 5. Slide one onto each": as many hoops as pieces."""
    if len(shares) != 1 or shares[0].amount is None or whole.amount is None or whole.hoops is None or whole.hoops.kind != "numbers":
        return False
    each = any(e.type == "pron" and e.each and e.gov in ("on", "onto", "to", "over", "round") for e in c.els)
    sides = {u.side for u in whole.units}
    return each and len(sides) < 2 and (shares[0].amount.value or 0) * len(whole.hoops.numbers) == whole.amount.value


def uncounted_whole(it: Interpreter, c: Clause) -> Event | None:
    """The event without a number in front of a colon, whose pieces the clause behind it shares out."""
    whole = it.ctx.current[-1] if it.ctx.current else None
    if whole is None or whole not in it.out or not c.after_colon or whole.amount is None:
        return None
    shares = sum(e.type == "ellip" and e.amount is not None for e in c.els)
    one_of_a_kind = (
        whole.amount.value == 1 and whole.amount.text.lower().split()[0] in ("a", "an") and shares > 1
    )  # "with a clip: 1 left, 1 right"
    return whole if whole.amount.open == "none" or one_of_a_kind else None


def per_shares(it: Interpreter, c: Clause) -> bool:
    """Read "Drive pins through the legs: two per leg at the end hoops, one per leg at the others" behind its colon."""
    whole = uncounted_whole(it, c)
    heads = [k for k, e in enumerate(c.els) if e.type == "mem" and e.det == "per" and e.amount is not None and e.role in _SHARING]
    if whole is None or not heads or heads[0] != 0:
        return False
    shares: list[Event] = []
    for n, k in enumerate(heads):
        end = heads[n + 1] if n + 1 < len(heads) else len(c.els)
        behind = [e for e in c.els[k + 1 : end] if e.type == "mem" and not e.used]
        rest = any(e.type != "mem" and e.low.endswith(("others", "other", "rest")) for e in c.els[k + 1 : end])
        hoops = Selector("rest", text=c.els[end - 1].text) if rest else spotting.find_hosts(it, behind, c)[0]
        unit = replace(spotting.unit_of(it, c.els[k]), each=True, number=None)
        shares.append(replace(whole, amount=c.els[k].amount, hoops=hoops or whole.hoops, units=(unit,)))
    it.out.remove(whole)
    it.ctx.current.remove(whole)
    for share in shares:
        it.emit(share)
        it.ctx.current.append(share)
    return True


_SHARING = ("tube", "joint", "foot", "side", "hoop", "shoulder")


def own_share(it: Interpreter, c: Clause, themes: list[El]) -> list[El]:
    """Within one clause: "two clips, one 400 mm and one 800 mm above the ground": keep the fittings, turn the shares into places."""
    out: list[El] = []
    k = 0
    while k < len(themes):
        t = themes[k]
        run: list[El] = []
        while k + 1 + len(run) < len(themes) and (themes[k + 1 + len(run)].type != "fit" or again(it, t, themes[k + 1 + len(run)])):
            run.append(themes[k + 1 + len(run)])
        out.append(t)
        n = t.amount.value if t.amount is not None and t.amount.value is not None else None
        pair = _pair_of(c, t, run) if n == 1 else None
        if pair is not None:
            n = 2  # "a hanger at either end, one on the left half and one on the right"; "a clamp at each post, one left, one right"
            t.amount = Amount(2, text=t.text)
            pair.used = pair.used or pair.role in ("other", "bar")
        at = c.els.index(run[0]) if run else 0
        if run and at and c.els[at - 1].type == "conj" and any(e.type == "mem" and not e.used for e in c.els[c.els.index(t) : at]):
            n = None  # "two through the left half and two through the right half"
        if len(run) == 1 and n is not None and t.type == "fit" and _each_behind(c, run[0], n):
            run[0].used = True  # "a loop onto the crowns of hoops 3 and 5, one on each"
            for e in c.els[c.els.index(run[0]) :]:
                e.used = e.used or (e.type == "mem" and e.each and e.i > run[0].i and e.i < run[0].i + 4)
            t.amount = Amount(n, text=t.text, each=True)
            k += 2
            out[-1:] = [t]
            continue
        own = t.definite and t.det in ("their", "its")  # "arches 2 and 4 get their loops, one on each half"
        if len(run) == 1 and t.type == "fit" and t.amount is None and (not t.definite or own) and not run[0].more:
            t.definite = False
            t.amount, run[0].used = run[0].amount, True
            k += 2
            continue
        if run and n is not None and n >= 2 and (enough := _all_told(it, c, run, n)):
            run = run[:enough]  # "two on hoop 10, one low and one high, and two on hoop 11"
        if run and n is not None and n >= 2 and not any(r.more for r in run):
            stop = c.els.index(themes[k + 1 + len(run)]) if k + 1 + len(run) < len(themes) else len(c.els)
            hoops = [
                e for e in c.els[c.els.index(run[0]) : stop] if e.type == "mem" and e.role == "hoop" and e.hoops is not None and not e.used
            ]
            places = share_places(it, c, run)
            shared = next((r for r in run if any(e in hoops and e.each for e in c.els[c.els.index(r) : c.els.index(r) + 4])), None)
            if shared is not None and shared.amount is not None and len(hoops) == 1:
                t.amount = replace(shared.amount, each=True)
                for e in c.els[c.els.index(run[0]) :]:
                    e.used = True
                c.places = [(i, p) for i, p in c.places if i < c.els.index(run[0])]
                k += 1 + len(run)
                continue
            if not hoops and sum(p.count or 1 for p in places) <= n:
                first, last = c.els.index(run[0]), c.els.index(run[-1])
                for e in c.els[first:stop]:
                    if e.type == "mem":
                        e.used = True
                behind = [(i, p) for i, p in c.places if i >= stop]
                c.places = [(i, p) for i, p in c.places if i < first] + [(first, p) for p in places] + behind
                for r in run:
                    r.used = True
                assert last >= first
                run_done = len(run)
                k += 1 + run_done
                continue
        out += run
        k += 1 + len(run)
    return out


def _all_told(it: Interpreter, c: Clause, run: list[El], n: int) -> int:
    """How many of the shares make up the whole number ``n``, where a further number with hoops of its own follows them; 0 elsewhere."""
    for k in range(1, len(run)):
        if sum(p.count or 1 for p in share_places(it, c, run[:k])) == n:
            behind = c.els[c.els.index(run[k]) :]
            return k if any(e.type == "mem" and e.role == "hoop" and not e.used for e in behind) else 0
    return 0


def _each_behind(c: Clause, share: El, n: int) -> bool:
    """Whether a share only says again that each of the hosts takes so many: "one on each"."""
    k = c.els.index(share)
    behind = c.els[k + 1 : k + 4]
    if share.amount is not None and share.amount.value == n and _host_again(c, k):
        return True  # "a ring onto both side tubes of hoops 2 to 6, one to each tube"
    each = next((m for m, e in enumerate(behind) if e.type == "pron" and e.name in ("each", "ea")), None)
    if share.amount is None or share.amount.value != n or each is None or not all(e.type == "prep" for e in behind[:each]):
        return False
    hosts = [e for e in c.els[:k] if e.type == "mem" and not e.used and e.role == "hoop"]
    return bool(hosts) and (each + 1 == len(behind) or behind[each + 1].type in ("punct", "conj"))


def _host_again(c: Clause, k: int) -> bool:
    """Whether the share at ``k`` goes to each of the tubes, sides or joints that the clause has named already."""
    again = next((e for e in c.els[k + 1 : k + 3] if e.type == "mem" and e.each and e.role in ("tube", "side", "foot", "joint")), None)
    if again is None or not all(e.type == "prep" or e is again for e in c.els[k + 1 : c.els.index(again) + 1]):
        return False
    named = [e for e in c.els[:k] if e.type == "mem" and e.role == again.role and e.words[-1:] == again.words[-1:]]
    return any(e.each or e.det == "both" or e.plural for e in named)


def _pair_of(c: Clause, t: El, run: list[El]) -> El | None:
    """The ends, sides or posts that a single piece is told for each of, where two shares follow."""
    if len(run) != 2:
        return None
    between = c.els[: c.els.index(run[0])]  # also in front: "For each post slide an eye along the bend, one from the left …"
    return next(
        (e for e in between if e.type == "mem" and e.role in ("end", "side", "other", "bar") and (e.each or e.det in ("both", "either"))),
        None,
    )


def again(it: Interpreter, whole: El, piece: El) -> bool:
    """Read "a pair to each arch, one ring to either rib": fewer of the same part again."""
    if whole.type != "fit" or piece.amount is None or whole.amount is None or not whole.parts or whole.definite or piece.more:
        return False
    same = whole.parts[0] in piece.parts and len(piece.words) < len(it.kit.words.get(whole.parts[0], ())) + (
        1 if len(piece.words) == 1 else 0
    )
    return same and (piece.amount.value or 0) < (whole.amount.value or 0)


def share_places(it: Interpreter, c: Clause, shares: list[El]) -> list[Place]:
    places: list[Place] = []
    for n, t in enumerate(shares):
        a = c.els.index(t)
        b = c.els.index(shares[n + 1]) if n + 1 < len(shares) else len(c.els)
        own = [p for i, p in c.places if a <= i < b]
        segment = c.els[a:b]
        side = next((e.side for e in segment if e.side), None)
        twice = (
            t.each
            or any(e.type == "mem" and (e.each or e.det in ("either", "both")) for e in segment)
            or any(
                e.low in ("each side of", "either side of", "on either side of", "on each side of")
                or (e.low == "each" and not (k + 1 < len(segment) and segment[k + 1].type == "len"))
                for k, e in enumerate(segment)
            )
        )
        count = (t.amount.value if t.amount and t.amount.value else 1) * (2 if twice and not any(p.both for p in own) else 1)
        place = (
            replace(own[0], count=count, side=own[0].side or side)
            if own
            else Place(side=side, count=count, both=twice, text=" ".join(e.text for e in segment))
        )
        places.append(place)
    return places


def all_places(it: Interpreter) -> tuple[Place, ...]:
    return tuple(p for clause in it.clauses for _, p in clause.places if p.offset_mm is not None)


def refine(it: Interpreter, c: Clause) -> None:
    """Read "… which stops 900 mm up from the foot": a place for the last thing added."""
    _goes_into(it, c)
    places = tuple(p for _, p in c.places)
    if not places or not (it.ctx.current or it.ctx.last):
        return
    verb = c.verb
    if (
        c.kind == "relative"
        or (verb is not None and (verb.cls in ("go", "null", "put", "move") or verb.modal))
        or c.word in ("until", "so")
        or verb is None
        or c.els[0].type == "pron"
    ):
        if it.ctx.current:
            set_places(it, it.ctx.current[-1], places)
        elif it.ctx.last and c.els[0].type in ("pron", "ellip", "prep", "mem"):
            set_places(it, it.ctx.last[-1], places)


def wrapped_round(it: Interpreter, c: Clause) -> bool:
    """ "Each post is held by a clamp. Wrap it round the hoop": what was said to sit on the post sits on the hoop."""
    pool = it.ctx.current or [e for e in it.ctx.last if e.step == it.step_id]
    host = next(
        (e for e in c.els if e.type == "mem" and e.role in ("hoop", "tube") and e.gov in ("round", "around", "over", "onto", "on")), None
    )
    pron = any(e.type == "pron" and e.gov == "obj" and e.name in ("it", "them", "each") for e in c.els)
    if not pool or host is None or not pron or c.verb is None or c.verb.cls != "put":
        return False
    last = pool[-1]
    if not it.is_clip(last.parts) or (last.member is None and (last.units or last.places)):
        return False
    places = tuple(p for _, p in c.places)
    hoops = host.hoops or it.ctx.hoops
    posts = tuple(
        replace(u, each=True, number=u.number or it.bar_numbers.get(u.name.split()[-1])) for u in last.units if u.kind == "member"
    )
    shares = sum(e.amount.value or 0 for e in c.els if e.type == "ellip" and e.amount is not None)
    units = (Unit("side", "side", None, True, 2),) if shares == 2 else posts  # "one to the left and one to the right"
    swap(it, last, replace(last, member=None, hoops=hoops, units=units, places=places or last.places))
    return True


def _goes_into(it: Interpreter, c: Clause) -> None:
    """ "two wood screws, which go into the board": the member that the fastener added last is driven into."""
    last = it.ctx.current[-1] if it.ctx.current else None
    if last is None or c.kind != "relative" or not it.is_fastener(last.parts):
        return
    if any(u.kind in ("foot", "joint") for u in last.units) and any(e.low == "through" for e in c.els):
        return  # "each foot is held by a screw, which you drive through it into the ground tube"
    into = next((e for e in c.els if e.type == "mem" and e.gov in ("into", "in") and e.role in ("bar", "other")), None)
    if into is not None:
        swap(it, last, replace(last, member=into.name, hoops=None, units=(), places=()))


def set_places(it: Interpreter, event: Event, places: tuple[Place, ...]) -> None:
    """Give ``event`` its places where it has none yet, in this sentence or in an earlier one of the same step."""
    if event.step != it.step_id or any(p.offset_mm is not None for p in event.places):
        return
    if event.places and len(places) == 1 and any(p.side for p in event.places):
        places = tuple(replace(places[0], side=p.side, count=p.count) for p in event.places)
    swap(it, event, replace(event, places=places))


def swap(it: Interpreter, event: Event, new: Event) -> None:
    if event in it.out:
        it.out[it.out.index(event)] = new
    else:
        for k in range(len(it.readings) - 1, max(-1, len(it.readings) - 6), -1):
            reading = it.readings[k]
            if event in reading.events:
                it.readings[k] = replace(reading, events=tuple(new if e is event or e == event else e for e in reading.events))
                break
    for events in (it.ctx.current, it.ctx.last):
        for n, e in enumerate(events):
            if e == event:
                events[n] = new
