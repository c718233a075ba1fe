"""Places told round about: on which side each of a pair sits, what "from it" is measured from, and sentences that only say where.

The clauses give most events their places. This looks at the sentence of an event once more, as a whole, and at the sentences behind it
that add nothing: "Slide two rings on, one from each foot. Leave them 300 mm up."
"""

from __future__ import annotations

import itertools
import re
from dataclasses import dataclass, replace

from hoopwright.grammar.inflect import plural
from hoopwright.model.events import Event, Place, StepReading
from hoopwright.parsing import gates, patterns
from hoopwright.parsing.chunk import Chunker
from hoopwright.parsing.elements import El
from hoopwright.parsing.gates import gated
from hoopwright.parsing.lex import Tok, lex
from hoopwright.parsing.places import find_places

_EACH_SIDE = re.compile(
    r"\b(?:each|either|both|every)(?: other)?[\s-]+(?:hand[\s-]+)?(?:sides?|ends?|foot|feet|legs?|halves|half|ribs?|uprights?|rafters?|joints?)\b"
    r"|\b(?:left|lh|l\.h\.)(?:[\s-]hand)?\b.{0,60}(?:\band\b|&|/|,)\s?.{0,40}?\b(?:right|rh|r\.h\.)"
    r"|\b(?:right|rh|r\.h\.)(?:[\s-]hand)?\b.{0,60}(?:\band\b|&|/|,)\s?.{0,40}?\b(?:left|lh|l\.h\.)"
)
_ONE_SIDE = gated(
    r"\b(left|right|lh|rh)(?:[\s-]hand)?\s+(?:side\b|(?:[a-z-]+\s+)?(?:legs?|halves|half|ribs?|uprights?|rafters?|tubes?|pipes?|pieces?|sections?|half-bows?)\b)"
    r"|\b(?:on|to|at) the (left|right)\b(?! of\b)"
)
_BELOW_IT = gated(
    r"\s*(?:\[[^\]]*\]\s*)?(?:further\s+)?(above|below|over|under)\s+the\s+(?:first|other|lower|upper|second|one before|previous)\b"
)
_EACH_OF_PAIR = gated(r"\b(?:each|either|both|every)[\s-]+(?:sides?|ends?|foot|feet|legs?|halves|half|ribs?|uprights?)\b")
_FROM_BELOW = gated(r"\s*(?:measured\s+)?from\s+(below|above)\b(?!\s+(?:the|its|a)\b)")
_WITHOUT = gated(r"\b(?:without|except(?: for)?|but not|omitting|leaving out)\b")
_ON_LEFT = re.compile(r"\b(?:left|lh|l\.h\.)(?:[\s-]hand)?(?:\b|(?<=\.))")
_ON_RIGHT = re.compile(r"\b(?:right|rh|r\.h\.)(?:[\s-]hand)?(?:\b|(?<=\.))")
_FROM_IT = gated(
    r"\s*(?:\[[^\]]*\]\s*)?(?:\w+ )?(from|above|below|short of|away from|clear of|off|up from|down from)\s+(?:it|that|there|them)\b"
)
_SHARE = re.compile(
    r"\b(?:one|another|the other|the others?|the first|the second|the third|the upper(?: one)?|the lower(?: one)?|two|three|the two|a second|a third)\b"
)
_SHARE_COUNT = {"two": 2, "the two": 2, "three": 3}
_MIDDLE = gated(
    r"\b(?:to|at|in|up to|into|on|till|until)\s+(?:the|its)\s+(?:exact\s+|very\s+)?(?:middle|centre|center|mid[\s-]?point)\b(?!\s+of\s+the\s+(?:house|tunnel|door))"
)
_SPEAKS_ON = gated(
    r"\b(?:it|them|they|these|those|each|both|all|their|its|one|the other|the first|the second|the place|the places|the height|that|the two|the same)\b"
)
_ORDERS = gated(r"^(?:but |then |and )?(?:stop|leave|set|keep|bring|place|position|push|slide|move|take|put)\b")
_NO_PLACE = gated(r"\b(?:apart|wide|long|thick|deep|check|measure from hoop|spanner|deviation|tolerance|except|unless|instead)\b")
_REACH = 3  # sentences behind an event that can still say where it goes


@dataclass(frozen=True, slots=True)
class _Text:
    """A sentence in lower case with its lengths and the places that its clauses as a whole name."""

    low: str
    lengths: tuple[Tok, ...]
    places: tuple[Place, ...]
    fittings: tuple[str, ...]  # named before the first length
    free: tuple[tuple[int, str], ...]  # (word index, part) of mentions that are no landmarks
    at: tuple[int, ...]  # word index of each place
    beside: str | None  # the part that something goes to the left or right of
    middle: frozenset[str]


class TellingPlaces:
    """Reads places again, sentence by sentence. ``middle``: names of the tube in the middle of a hoop, whose middle is the ridge."""

    def __init__(self, chunker: Chunker, middle: frozenset[str] = frozenset()) -> None:
        self.chunker, self.middle = chunker, middle

    def read(self, readings: list[StepReading]) -> list[StepReading]:
        """The readings with the places of their events filled in where they had none, or named only one of two sides."""
        out: list[StepReading] = []
        for reading in readings:
            out.append(self._own(reading, out[-1] if out and out[-1].step == reading.step else None))
        for k, reading in enumerate(out):
            if reading.step != (out[k - 1].step if k else None) or any(
                e.kind not in ("ask", "wish", "claim", "topic") for e in reading.events
            ):
                continue
            back = range(k - 1, max(-1, k - 1 - _REACH), -1)
            self._tell(out, reading, [j for j in back if out[j].step == reading.step])
        return out

    def _text(self, quote: str) -> _Text:
        quote = patterns.FROM_BOTH.sub(r"\g<middle>", quote)
        toks = self.chunker.tokens(quote)
        els = self.chunker.elements(toks)
        first = next((k for k, el in enumerate(els) if el.type == "len"), len(els))
        found = find_places(els, quote)
        named = [(k, el.parts[0]) for k, el in enumerate(els) if el.type == "fit" and el.parts]
        free = [(k, el.parts[0]) for k, el in enumerate(els) if el.type == "fit" and el.parts and not el.used]
        return _Text(
            quote.lower(),
            tuple(t for t in toks if t.cat == "len"),
            tuple(p for _, p in found),
            tuple(name for k, name in named if k < first),
            tuple(free),
            tuple(k for k, _ in found),
            next((el.parts[0] for k, el in enumerate(els) if el.type == "fit" and el.parts and _beside(els, k)), None),
            self.middle,
        )

    # ---- an event's own sentence ---------------------------------------------------------------------------------------------

    def _own(self, reading: StepReading, before: StepReading | None) -> StepReading:
        reading = replace(reading, events=tuple(_merged(_no_exception(e)) for e in reading.events))
        adds = [e for e in reading.events if e.kind == "add" and e.member is None and e.table is None and e.holds is None]
        if not adds:
            return reading
        text = self._text(reading.source.quote)
        pair = _told_apart(adds, text)
        alone = len({x.parts[:1] for x in adds}) == 1
        fresh = {id(e): pair.get(id(e)) or _completed(e, text, alone=alone) for e in adds}
        side = _one_side(text.low, before.source.quote.lower() if before is not None else "")
        if side is not None:
            fresh = {key: _on_side(e, side) for key, e in fresh.items()}
        return replace(reading, events=tuple(fresh.get(id(e), e) for e in reading.events))

    # ---- sentences that only say where ---------------------------------------------------------------------------------------

    def _tell(self, out: list[StepReading], reading: StepReading, back: list[int]) -> None:
        """Give the places of ``reading`` to what the sentences ``back`` (nearest first) have put on without saying where."""
        low = reading.source.quote.lower()
        if not gates.search(r"\d|\b(?:centre|center|middle|ridge|apex|peak)\b", low) or _NO_PLACE.search(low):
            return
        if not any(e.kind == "add" for j in back for e in out[j].events):
            return  # and need not be read again
        text = self._text(reading.source.quote)
        found = False
        for j in back:
            open_adds = [e for e in out[j].events if _open(e) or _half_told(e, text)]
            if not open_adds:
                if any(e.kind == "add" for e in out[j].events):
                    return
                continue
            last = [e for e in open_adds if e.parts[:1] == open_adds[-1].parts[:1]]
            if not (_SPEAKS_ON.search(low) or _ORDERS.match(low)) and not _names(last[-1], low):
                return
            if any(f not in last[-1].parts for f in text.fittings[:1]) and not _names(last[-1], low):
                return
            fresh = {id(e): new for e in last if (new := _placed(e, text)) is not None}
            out[j] = replace(out[j], events=tuple(fresh.get(id(e), e) for e in out[j].events))
            found = found or bool(fresh)
            if not found or not gates.search(r"\b(?:they|all|them|their|each|both)\b", low):
                return


def _beside(els: list[El], k: int) -> bool:
    """Whether "to the left of" or "to the right of" stands before the mention at ``k``."""
    return gates.search(r"\b(?:left|right)(?:-hand side)? of(?: the| each)?$", " ".join(e.low for e in els[max(0, k - 5) : k])) is not None


def _open(event: Event) -> bool:
    return (
        event.kind == "add"
        and event.member is None
        and event.table is None
        and event.holds is None
        and not any(p.offset_mm is not None or p.figure or p.fraction is not None for p in event.places)
    )


def _half_told(event: Event, text: _Text) -> bool:
    """Whether the event has taken the first of several places that a sentence tells one by one."""
    exact = [p for p in event.places if p.offset_mm is not None]
    return (
        event.kind == "add"
        and event.member is None
        and event.holds is None
        and len(event.places) == len(exact) == 1
        and _number(event) > 1
        and len({t.value for t in text.lengths}) > 1
        and any(float(t.value) == exact[0].offset_mm for t in text.lengths)
    )


def _names(event: Event, low: str) -> bool:
    """Whether a text speaks of the event's part, by its name or the head of it."""
    head = event.parts[0].split()[-1] if event.parts else ""
    return bool(head) and gates.search(rf"\b(?:{re.escape(head)}|{re.escape(plural(head))})\b", low) is not None


def _no_exception(event: Event) -> Event:
    """ "In the same manner, without the ring at 800 mm": the length is that of what is left out."""
    text = event.source.quote.lower()
    match = _WITHOUT.search(text) if event.kind == "copy" and event.places else None
    if match is None or not any(t.cat == "len" and t.start > match.end() for t in lex(event.source.quote)):
        return event
    return replace(event, places=())


def _merged(event: Event) -> Event:
    """One place told twice: on both sides of a landmark, and how far from it; or how far up, and behind what else it goes on."""
    places = event.places
    exact = [p for p in places if p.offset_mm is not None and p.datum is not None]
    vague = [p for p in places if p.offset_mm is None and p.datum is not None and p.fraction is None and not p.figure]
    if event.kind != "add" or len(exact) != 1 or len(exact) + len(vague) != len(places) or not vague:
        return event
    (one,) = exact
    if one.datum in ("ridge", "joint") and all(v.datum == one.datum and (v.both or v.side) for v in vague):
        return replace(event, places=tuple(replace(v, offset_mm=one.offset_mm, way=v.way or one.way) for v in vague))
    if len(places) > _number(event) and all(v.datum == "fitting" and not v.both and not v.side for v in vague):
        return replace(event, places=(one,))
    return event


def _one_side(low: str, before: str) -> str | None:
    """The only side that a sentence speaks of; where it speaks of none and of "its" end, that of the sentence before."""
    found = {"left" if (m[1] or m[2]) in ("left", "lh") else "right" for m in _ONE_SIDE.finditer(low)}
    both = _ON_LEFT.search(low) is not None and _ON_RIGHT.search(low) is not None
    if both or len(found) > 1 or _EACH_SIDE.search(low):
        return None
    if found:
        return found.pop()
    if gates.search(r"\b(?:left|right)\b", low) or gates.search(r"\bits\b", low) is None or not before:
        return None
    return _one_side(before, "")


def _on_side(event: Event, side: str) -> Event:
    """``event`` with its measured places on that side, where neither they nor the hosts say another."""
    if _lateral(event) or any(p.side or p.both for p in event.places) or any(u.kind == "joint" for u in event.units):
        return event
    if not any(p.offset_mm for p in event.places):
        return event
    return replace(event, places=tuple(replace(p, side=side) if p.offset_mm else p for p in event.places))


def _number(event: Event) -> int:
    return event.amount.value if event.amount is not None and event.amount.value is not None else 1


def _lateral(event: Event) -> bool:
    """Whether the event's hosts already say left and right: legs, sides, feet, each joint."""
    return any(
        (
            u.kind in ("side", "foot", "shoulder", "joint", "end")
            and (u.each or u.plural or u.side in ("left", "right") or (u.number or 1) > 1)
        )
        or (u.kind == "tube" and u.side != "centre" and (u.each or u.plural or u.side is not None or (u.number or 1) > 1))
        for u in event.units
    )


def _told_apart(adds: list[Event], text: _Text) -> dict[int, Event]:
    """ "One clamp on the left and one on the right, each 550 mm from the ridge": two events, a side for each."""
    out: dict[int, Event] = {}
    left, right = _ON_LEFT.search(text.low), _ON_RIGHT.search(text.low)
    for a, b in itertools.pairwise(adds):
        alike = a.parts[:1] == b.parts[:1] and _number(a) == _number(b) and len(a.places) == len(b.places) == 1
        if not alike or left is None or right is None or id(a) in out:
            continue
        p, q = a.places[0], b.places[0]
        if p.offset_mm is None or not p.offset_mm or (p.datum, p.offset_mm) != (q.datum, q.offset_mm) or p.side or q.side:
            continue
        sides = ("left", "right") if left.start() < right.start() else ("right", "left")
        out[id(a)] = replace(a, places=(replace(p, side=sides[0]),))
        out[id(b)] = replace(b, places=(replace(q, side=sides[1]),))
    return out


def _completed(event: Event, text: _Text, *, alone: bool) -> Event:
    """``event`` with "from it", shared landmarks and sides put into its places."""
    places = _from_it(event, text)
    if alone:
        places = _several(event, places, text) or places
    places = _grounded(_filled(places), text)
    if not places:
        places = _between(event, text)
    relative = next((t for t in text.lengths if _BELOW_IT.match(text.low[t.end :])), None)
    if not places and alone and relative is not None:
        match = _BELOW_IT.match(text.low[relative.end :])
        way = "up" if match is not None and match[1] in ("above", "over") else "down"
        places = (Place("fitting", float(relative.value), way, part=event.parts[0], text=text.low[relative.start : relative.end]),)
    if (
        not places
        and alone
        and event.amount is not None
        and _MIDDLE.search(text.low)
        and not text.lengths
        and not _off_centre(event, text.middle)
    ):
        places = (Place("ridge", 0.0, None, "centre", text="the middle"),)
    places = _sided(event, places, text)
    return event if places == event.places else replace(event, places=places)


def _off_centre(event: Event, middle: frozenset[str]) -> bool:
    """Whether the middle of what carries it is not the ridge: a leg, a half, a side."""
    return any(
        u.kind in ("side", "foot", "shoulder", "joint", "member") or (u.kind == "tube" and u.side != "centre" and u.name not in middle)
        for u in event.units
    )


def _from_it(event: Event, text: _Text) -> tuple[Place, ...]:
    """ "On either side of the ridge and 600 mm from it", "over the foot, 300 mm from it"."""
    places = event.places
    tok = next((t for t in text.lengths if _FROM_IT.match(text.low[t.end :])), None)
    if tok is None:
        return places
    match = _FROM_IT.match(text.low[tok.end :])
    assert match is not None
    way = "up" if match[1] in ("above", "up from") else "down" if match[1] in ("below", "down from") else None
    mm = float(tok.value)
    exact = [p for p in places if p.offset_mm is not None]
    vague = [p for p in places if p.offset_mm is None and p.datum is not None]
    if not exact and not vague:
        named = [p for p in text.places if p.datum is not None and p.offset_mm is None and p.fraction is None]
        if named and any(p.datum == named[0].datum for p in named):
            sides = {p.side for p in named if p.datum == named[0].datum and p.side}
            if len(places) > 1 or (places and places[0].side):
                return tuple(replace(named[0], offset_mm=mm, way=way, side=p.side, count=p.count) for p in places)
            if sides:
                return tuple(replace(named[0], offset_mm=mm, way=way, side=s, count=1) for s in ("left", "right") if s in sides)
        if text.beside is not None and _EACH_SIDE.search(text.low):
            return tuple(
                Place("fitting", mm, way, s, part=text.beside, count=_number(event) // 2 or 1, text="from it") for s in ("left", "right")
            )
        foot = any(u.kind == "foot" for u in event.units)
        before = text.low[: tok.start]
        if foot and gates.search(r"\b(?:foot|feet)\b", before):
            return (*places, Place("foot", mm, way, text=text.low[tok.start : tok.end + match.end()]))
        return places
    if exact and vague and all(e.datum == v.datum for e in exact for v in vague) and len(exact) == 1:
        return tuple(replace(v, offset_mm=exact[0].offset_mm, way=v.way or exact[0].way) for v in vague)
    if not exact:
        return tuple(replace(p, offset_mm=mm, way=p.way or way) if p in vague else p for p in places)
    return places


def _several(event: Event, places: tuple[Place, ...], text: _Text) -> tuple[Place, ...] | None:
    """ "One to sit 400 mm and one 800 mm above the ground", "one goes to 1200 mm from the foot and the other to 600": a length each."""
    exact = [p for p in places if p.offset_mm is not None and p.datum is not None]
    number = _number(event)
    if not exact or number < 2 or exact[0].both or len(text.lengths) < 2:
        return None
    if len({(p.datum, p.offset_mm, p.side) for p in exact}) > 1:
        return None
    return _shares(text, exact[0], number)


def _shares(text: _Text, landmark: Place, number: int) -> tuple[Place, ...] | None:
    """A place for each length that "one", "another", "the other" or "two" of ``number`` pieces stands before."""
    told: list[tuple[int, Tok, int]] = []
    last = 0
    for tok in text.lengths:
        shares = list(_SHARE.finditer(text.low, last, tok.start))
        if shares and not gates.search(r"\bapart\b", text.low[tok.end : tok.end + 10]):
            told.append((_SHARE_COUNT.get(shares[-1].group(), 1), tok, shares[-1].start()))
        last = tok.end
    if len(told) < 2 or len({t.value for _, t, _ in told}) < 2:
        return None
    ends = [*(start for _, _, start in told[1:]), len(text.low)]
    out: list[Place] = []
    for (count, tok, start), end in zip(told, ends, strict=True):
        own = text.low[tok.end : end]
        below = _BELOW_IT.match(own)
        place = next((p for p in text.places if p.offset_mm == float(tok.value) and p.datum is not None), landmark)
        side = "left" if _ON_LEFT.search(own) else "right" if _ON_RIGHT.search(own) else None
        if below is not None:
            step = _stepped(out[-1], float(tok.value), below[1] in ("above", "over")) if out else None
            if step is None:
                return None
            out.append(replace(step, count=count))
        elif _EACH_OF_PAIR.search(text.low[start:end]) is not None:
            out += [
                replace(place, offset_mm=float(tok.value), side=s, count=count if count == 1 else count // 2) for s in ("left", "right")
            ]
        else:
            out.append(replace(place, offset_mm=float(tok.value), side=side or place.side, count=count))
    return tuple(out) if sum(p.count or 1 for p in out) == number else None


def _stepped(first: Place, mm: float, higher: bool) -> Place | None:
    """The place ``mm`` above or below another one, from the same landmark."""
    if first.offset_mm is None or first.datum not in ("ridge", "foot", "ground", "joint"):
        return None
    rising = first.datum in ("foot", "ground") or (first.datum == "joint" and first.way == "up")
    if first.datum == "joint" and first.way not in ("up", "down") and "ridge" not in first.text.lower():
        return None
    offset = first.offset_mm + (mm if rising == higher else -mm)
    return replace(first, offset_mm=offset) if offset > 0 else None


def _grounded(places: tuple[Place, ...], text: _Text) -> tuple[Place, ...]:
    """ "At 450 and at 900 above the foot", "at 1.3 m from below": lengths whose landmark is that of the other, or "below"."""
    known = [p for p in places if p.offset_mm is not None and p.datum is not None]
    out = []
    for place in places:
        if place.offset_mm is not None and place.datum is None and not place.figure:
            tok = next((t for t in text.lengths if float(t.value) == place.offset_mm), None)
            ends = _FROM_BELOW.match(text.low[tok.end :]) if tok is not None else None
            if ends is not None:
                place = replace(place, datum="foot" if ends[1] == "below" else "ridge", way="up" if ends[1] == "below" else "down")
            elif len(known) == 1 and len(places) == 2:
                place = replace(place, datum=known[0].datum, way=known[0].way, height=known[0].height)
        out.append(place)
    return tuple(out)


def _between(event: Event, text: _Text) -> tuple[Place, ...]:
    """The one measured place that stands behind the event's own fitting and before the next one."""
    own = [k for k, name in text.free if name in event.parts]
    if len(own) != 1 or event.amount is None:
        return ()
    behind = min((k for k, _ in text.free if k > own[0]), default=1_000_000)
    exact = [p for k, p in zip(text.at, text.places, strict=True) if own[0] < k < behind and p.offset_mm is not None]
    usable = len(exact) == 1 and exact[0].datum in ("ground", "foot", "ridge", "joint") and len(text.lengths) == 1
    return (exact[0],) if usable else ()


def _filled(places: tuple[Place, ...]) -> tuple[Place, ...]:
    """ "One to the left and one to the right, each 500 mm from the ridge": the length belongs to both."""
    exact = [p for p in places if p.offset_mm is not None and p.datum is not None]
    bare = [p for p in places if p.offset_mm is None and p.datum is None and p.side and not p.figure]
    if len(exact) != 1 or not bare or len(places) != len(bare) + 1:
        return places
    return tuple(replace(exact[0], side=p.side or exact[0].side, count=p.count) if p in bare else p for p in places)


def _sided(event: Event, places: tuple[Place, ...], text: _Text) -> tuple[Place, ...]:
    """One of an even number on the left and the other on the right, where the words say so and the hosts do not."""
    number = _number(event)
    exact = [p for p in places if p.offset_mm is not None]
    if event.amount is None or number % 2 or len(exact) != 1 or len(places) != 1 or _lateral(event):
        return places
    (place,) = exact
    if place.both or place.datum is None or not place.offset_mm or place.fraction is not None or _EACH_SIDE.search(text.low) is None:
        return places
    half = number // 2
    if place.side in ("left", "right") and (place.count or 1) != half:
        return places
    return tuple(replace(place, side=side, count=half, both=False) for side in ("left", "right"))


def _placed(event: Event, text: _Text) -> Event | None:
    """``event`` with the places of a sentence that only says where; None where that is not clear."""
    number = _number(event)
    exact = tuple(p for p in text.places if p.offset_mm is not None and p.datum not in (None, "member"))
    if not exact:
        fraction = tuple(p for p in text.places if p.fraction is not None and p.part)
        if len(fraction) == 1 and not text.lengths:
            return replace(event, places=fraction)
        ridge = [p for p in text.places if p.datum == "ridge" and p.offset_mm == 0]
        middle = (_MIDDLE.search(text.low) or ridge) and number == 1 and not text.lengths and not _off_centre(event, text.middle)
        return replace(event, places=(Place("ridge", 0.0, None, "centre", text="the middle"),)) if middle else None
    if len(exact) > 1:
        shares = _shares(text, exact[0], number)
        return None if shares is None else replace(event, places=shares)
    if len(text.lengths) > 1 and any(t.value != text.lengths[0].value for t in text.lengths):
        shares = _shares(text, exact[0], number)
        return None if shares is None else replace(event, places=shares)
    sides = [p.side for p in event.places if p.side in ("left", "right")]
    if len(sides) > 1:
        return replace(event, places=tuple(replace(exact[0], side=p.side, count=p.count) for p in event.places if p.side))
    fresh = replace(event, places=exact)
    return replace(fresh, places=_sided(fresh, exact, replace(text, low=f"{event.source.quote.lower()} {text.low}")))
