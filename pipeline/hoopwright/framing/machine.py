"""Events in the manual's order to calls: the running state that references, repeats and rules are read against."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from hoopwright.framing.hosts import Hosts, Spot
from hoopwright.framing.restated import place_tabled, restated
from hoopwright.model.events import Amount, Event, Facts, Place, Selector, StepReading
from hoopwright.model.frame import Act, OrderWish, Part
from hoopwright.model.outline import Outline, Source, Step
from hoopwright.model.schedule import Finding, Question, Side

_MIRROR: dict[Side | None, Side | None] = {"left": "right", "right": "left", "centre": "centre", None: None}


@dataclass
class Draft:
    """A call in the making; the machine changes it until the end."""

    part: str
    quantity: int
    hoop: int | None
    member: str
    step: str
    source: Source
    spot: Spot = field(default_factory=Spot)
    place: Place | None = None
    slide: bool | None = None
    holds: Draft | None = None
    assumed: list[str] = field(default_factory=list)
    option: str | None = None
    late: bool = False
    early: bool = False
    open_group: int | None = None  # quantity still to be settled from the parts list
    joint: bool = False  # goes through or into a joint of the hoop
    foot: bool = False
    sequence: int = 0
    event: Event | None = None

    @property
    def side(self) -> Side | None:
        """Left, right or centre, from the spot or the place."""
        return self.spot.side or (self.place.side if self.place is not None else None)  # type: ignore[return-value]

    def where(self) -> tuple[object, ...]:
        """What makes two calls the same place."""
        p = self.place
        return (
            self.hoop,
            self.member,
            self.side,
            self.spot.joint,
            self.spot.end,
            None if p is None else (p.datum, p.offset_mm, p.way, p.part),
        )


class Machine:
    """Runs the events. ``drafts``, ``acts``, ``questions`` and ``findings`` are what comes out."""

    def __init__(self, outline: Outline, facts: Facts, parts: dict[str, Part], hosts: Hosts, member_numbers: dict[str, int | None]) -> None:
        self.outline, self.facts, self.parts, self.hosts = outline, facts, parts, hosts
        self.member_numbers = member_numbers
        self.drafts: list[Draft] = []
        self.acts: list[Act] = []
        self.questions: list[Question] = []
        self.findings: list[Finding] = []
        self.claims: list[Event] = []
        self.rules: list[Event] = []
        self.groups: dict[int, list[list[Draft]]] = defaultdict(list)  # clause -> drafts of each add, in order
        self.steps: dict[str, Step] = {s.id: s for s in outline.steps}
        self.index = {s.id: n for n, s in enumerate(outline.steps)}
        self.pending: dict[tuple[str, int], Event] = {}
        self.mentioned: dict[str, set[int]] = defaultdict(set)
        self.open_groups: list[tuple[Event, list[Draft]]] = []
        self.sequence = 0
        self.carried_out: set[tuple[str, int]] = set()
        self.rule_sequence: dict[int, int] = {}
        self.rule_fasteners: set[str | None] = set()
        self.owners_of: dict[tuple[int, int], str] = {}
        self.wishes: list[OrderWish] = []
        self.announced: list[tuple[Event, list[Draft]]] = []

    # ---- running ----------------------------------------------------------------------------------------------------------

    def run(self, readings: Iterable[StepReading]) -> None:
        """All events in order, then what needs all of them: rules, open numbers."""
        events = [e for r in readings for e in r.events]
        self._hold_rows(events)
        self.rule_fasteners = {e.fastener for e in events if e.kind == "rule"}
        for event in events:
            self.sequence += 1
            handler = self._ask_event if event.kind == "ask" else getattr(self, f"_{event.kind}", None)
            if handler is not None:
                handler(event)
        self._drop_announced()
        self._drop_told_twice()
        self._settle_open()
        self._apply_rules()

    def _hold_rows(self, events: list[Event]) -> None:
        """Rows that a step calls for by number wait for that step."""
        called = {n for e in events if e.kind == "rows" for n in e.rows}
        for event in events:
            if event.kind == "add" and event.table is not None and event.rows and event.rows[0] in called:
                self.pending.setdefault((event.table, event.rows[0]), event)

    def _rows(self, event: Event) -> None:
        if event.late:
            return
        tables = [key for key, _ in self.pending]
        if not tables:
            return
        here = self.index[event.step]
        near = [t for t in dict.fromkeys(tables) if self.index[t.split("/")[0]] <= here] or tables
        for number in event.rows:
            row = self.pending.get((near[-1], number))
            if row is not None and (near[-1], number) not in self.carried_out:
                self.carried_out.add((near[-1], number))
                self._place(replace(row, step=event.step), force=True)

    def _claim(self, event: Event) -> None:
        self.claims.append(event)
        if event.per == "makes" and event.amount is not None and event.amount.value:
            self._makes(event)

    def _makes(self, event: Event) -> None:
        """ "That makes one bolt on each side of every hoop": the step's own sum decides how often its pieces stand on a hoop."""
        spots, _ = self.hosts.spots(event)
        wanted = (event.amount.value or 0) * len(spots) if event.amount is not None else 0
        mine = [d for d in self.drafts if d.part in event.parts and d.step == event.step and d.hoop is not None]
        for hoop in {d.hoop for d in mine}:
            here = [d for d in mine if d.hoop == hoop]
            have = sum(d.quantity for d in here)
            if 0 < have < wanted and wanted % have == 0:
                for d in here:
                    d.quantity *= wanted // have
                    for held in (x for x in self.drafts if x.holds is d):
                        held.quantity *= wanted // have

    def _ask_event(self, event: Event) -> None:
        for doubt in event.doubts:
            self._ask(doubt.about, event.parts[0] if event.parts else None, (), event, doubt.message, doubt.readings, doubt.assumed)

    def _rule(self, event: Event) -> None:
        if event.steps:
            wanted = self._labelled(event)
            self._forget([d for d in self.drafts if d.part in event.parts and d.step in wanted])
        self.rules.append(event)
        self.rule_sequence[id(event)] = self.sequence

    def _act(self, event: Event) -> None:
        hoops = self._hoops(event)
        self._do(event.act or "join", hoops, event)

    def _do(self, kind: str, hoops: tuple[int, ...], event: Event) -> None:
        self.acts.append(Act(kind, hoops, event.step, event.source, sequence=self.sequence))  # type: ignore[arg-type]

    def _hoops(self, event: Event) -> tuple[int, ...]:
        section = self.steps[event.step].section
        mentioned = self.mentioned[event.step] or self.mentioned[section]
        hoops = self.hosts.hoops(event.hoops, frozenset(mentioned))
        if event.hoops is not None and event.hoops.kind not in ("all", "rest", "topic"):
            self.mentioned[event.step].update(hoops)
            self.mentioned[section].update(hoops)
        return hoops

    # ---- adding -----------------------------------------------------------------------------------------------------------

    def _add(self, event: Event) -> None:
        if event.table is not None and event.rows and self.pending.get((event.table, event.rows[0])) is event:
            return
        self._place(event)

    def _place(self, event: Event, force: bool = False) -> None:
        if not event.parts:
            return
        name = event.parts[0]
        part = self.parts[name]
        if event.definite and (event.amount is None or event.amount.value is None) and not force and self._spoken_of(event):
            self.owners_of[event.group, len(self.groups[event.group])] = name
            self.groups[event.group].append([])
            return
        self.owners_of[event.group, len(self.groups[event.group])] = name
        made: list[Draft]
        if event.holds is not None:
            made = self._fasten(event, part)
        elif event.member is not None:
            made = self._elsewhere(event, part)
        else:
            made = self._on_hoops(event, part, force)
        self.groups[event.group].append(made)
        self._doubts(event, made)

    def _spoken_of(self, event: Event) -> bool:
        """ "these bolts", "the clips": whether they are on already, or come with what they fasten."""
        if self.parts[event.parts[0]].form == "fastener" and any(f in event.parts for f in self.rule_fasteners):
            return True
        return len(event.parts) > 1 and any(d.part in event.parts for d in self.drafts)

    def _doubts(self, event: Event, made: list[Draft]) -> None:
        hoops = tuple(dict.fromkeys(f"H{d.hoop}" for d in made if d.hoop is not None))
        for doubt in event.doubts:
            self._ask(doubt.about, event.parts[0] if event.parts else None, hoops, event, doubt.message, doubt.readings, doubt.assumed)
        for draft in made:
            if doubt_text := [d.message for d in event.doubts]:
                draft.assumed.extend(doubt_text)

    def _ask(
        self,
        about: str,
        fitting: str | None,
        hoops: tuple[str, ...],
        event: Event,
        message: str,
        readings: tuple[str, ...],
        assumed: str | None,
    ) -> None:
        self.questions.append(Question(about, fitting, hoops, event.step, message, readings, assumed, source=event.source))  # type: ignore[arg-type]

    def _fasten(self, event: Event, part: Part) -> list[Draft]:
        """A fastener of the clause's own fitting: so many for each piece."""
        group = self.groups[event.group]
        held = group[event.holds] if event.holds is not None and event.holds < len(group) else []
        if not held and event.holds is not None and (owner := self.owners_of.get((event.group, event.holds))) is not None:
            held = [d for d in self.drafts if d.part == owner and not any(x.holds is d and x.part == part.name for x in self.drafts)]
        n = event.amount.value if event.amount and event.amount.value is not None else 1
        made = []
        total = sum(d.quantity for d in held)
        one_hoop = [d for d in held if d.hoop == held[0].hoop] if held else []
        per_hoop = sum(d.quantity for d in one_hoop)
        share = not (event.amount and event.amount.each) and per_hoop > 1 and n == per_hoop and not event.definite
        bolts = held[0].event.amount.value if held and held[0].event is not None and held[0].event.amount is not None else None
        listed = bool(held) and self.parts[held[0].part].form == "fastener" and bolts is not None and bolts > 0
        for d in held:
            quantity = d.quantity if share else n * d.quantity
            if listed and bolts:
                quantity = n * d.quantity // bolts if (n * d.quantity) % bolts == 0 else n * d.quantity
            if event.member is not None:
                made.append(
                    Draft(
                        part.name,
                        quantity,
                        None,
                        event.member,
                        event.step,
                        event.source,
                        holds=d,
                        option=event.option,
                        sequence=self.sequence,
                        event=event,
                    )
                )
                continue
            made.append(
                Draft(
                    part.name,
                    quantity,
                    d.hoop,
                    d.member,
                    event.step,
                    event.source,
                    d.spot,
                    d.place,
                    holds=d,
                    option=event.option,
                    sequence=self.sequence,
                    event=event,
                )
            )
        if total:
            self.drafts += made
        return made

    def _elsewhere(self, event: Event, part: Part) -> list[Draft]:
        if event.definite and (event.amount is None) and any(d.part == part.name and d.member == event.member for d in self.drafts):
            return []
        n = event.amount.value if event.amount and event.amount.value is not None else 1
        factor = 1
        for unit in event.units:
            if unit.kind == "member" and (unit.each or unit.number):
                number = unit.number or self._number_of(unit.name) or 1
                factor *= number if unit.each or (unit.number and n == 1) else 1
            elif unit.kind in ("end", "side", "joint") and unit.each:
                factor *= unit.number or (2 if unit.kind != "joint" else 1)
        draft = Draft(
            part.name,
            n * factor,
            None,
            event.member or "",
            event.step,
            event.source,
            option=event.option,
            sequence=self.sequence,
            event=event,
        )
        self.drafts.append(draft)
        if event.per == "described":
            self.announced.append((event, [draft]))
        if event.amount is not None and event.amount.open in ("range",):
            self._range(event, [draft])
        elif event.amount is not None and event.amount.value is None:
            self.open_groups.append((event, [draft]))
        return [draft]

    def _number_of(self, name: str) -> int | None:
        if name in self.member_numbers:
            return self.member_numbers[name]
        alike = [
            number
            for known, number in self.member_numbers.items()
            if known.split()[-1] == name.split()[-1]
            and set(name.split()) <= set(known.split())
            and (not known.startswith("ground") or name.startswith("ground"))
        ]
        return min((n for n in alike if n), default=None)

    def _on_hoops(self, event: Event, part: Part, force: bool) -> list[Draft]:
        if event.steps:
            event = self._correcting(event)
        hoops = self._hoops(event)
        middle = event.hoops is not None and event.hoops.kind == "inner" and event.hoops.stated == -2 and self.hosts.n > 3
        if middle:
            hoops = self._middle(event, part, hoops)
        spots, shared = self.hosts.spots(event)
        if part.form == "sleeve" and not any(u.kind in ("joint", "end") or u.each for u in event.units):
            spots = [Spot("centre") if self.hosts.joints == 1 else Spot()]
        amount = event.amount
        already = [d for d in self.drafts if d.part == part.name and d.hoop in hoops]
        if (
            event.definite
            and already
            and not event.more
            and not force
            and (amount is None or amount.value is None or self._same_number(already, hoops, amount.value, spots))
        ):
            return []
        if (
            amount is not None
            and amount.value
            and event.text.lower() in _ANAPHORS
            and not event.more
            and not event.places
            and not event.units
            and not force
        ):
            step_has = Counter(d.hoop for d in already if d.step == event.step for _ in range(d.quantity))
            if step_has and all(step_has[h] == amount.value for h in hoops):
                return []  # "All six hoops get one": said again
        per_hoop, ambiguous = self._share(event, part, hoops, spots, shared)
        bars = self._bars_described(event, part)
        if (
            bars
            and bars % len(hoops) == 0
            and len(spots) == 1
            and spots[0].side in (None, "centre")
            and (amount is None or amount.value in (None, 1))
        ):
            per_hoop, ambiguous = bars // len(hoops), False
            if per_hoop == 2:
                spots = [replace(spots[0], side="left"), replace(spots[0], side="right")]
        made: list[Draft] = []
        for hoop in hoops:
            made += self._lay_out(event, part, hoop, per_hoop, spots)
        if not force:
            made = self._drop_restated(event, made, already)
            self._replace_vague(event, part, hoops, made, already)
        self.drafts += made
        if amount is not None and amount.open == "range":
            self._range(event, made)
        elif amount is not None and amount.value is None and not (event.definite):
            self.open_groups.append((event, made))
        if (event.definite and amount is None and made and (event.hoops is None or event.hoops.kind == "all")) or event.per == "described":
            self.announced.append((event, made))
        if (
            amount is None
            and event.definite
            and event.verb is not None
            and len(spots) == 1
            and not shared
            and self.parts[part.name].listed not in (None, len(made))
            and part.form != "fastener"
        ):
            self.open_groups.append((event, made))
        if (
            part.form == "fastener"
            and made
            and event.bar
            and any(w in ("post", "tube", "stake", "socket") for w in event.bar.replace("|", " ").split())
            and not event.units
            and event.hoops is not None
            and not event.hoops.each
            and event.amount is not None
            and event.amount.value is not None
            and not any(d.foot or d.joint for d in made)
        ):
            self._per_post(event, part, made)
        if ambiguous:
            self._total_or_each(event, part, hoops, made, per_hoop)
        if event.hoops is not None and event.hoops.kind == "nth" and event.hoops.step == 2 and event.hoops.stated is None:
            self._which_half(event, part, hoops)
        if event.hoops is not None and event.hoops.kind == "middle" and self.hosts.n % 2 == 0:
            self._ask(
                "member",
                part.name,
                tuple(f"H{h}" for h in hoops),
                event,
                f"'{event.hoops.text}' of {self.hosts.n} hoops: which one?",
                (f"hoop {self.hosts.n // 2}", f"hoop {self.hosts.n // 2 + 1}"),
                f"hoop {hoops[0]}",
            )
        if any(p.figure for p in event.places):
            self._ask(
                "position", part.name, tuple(f"H{h}" for h in hoops), event, f"The place of the {part.name} is only in a figure.", (), None
            )
        return made

    def _bars_described(self, event: Event, part: Part) -> int | None:
        """How many bars end at such a fitting, where the step has said that every bar gets one at both ends and goes on to tell where."""
        for described, _ in self.announced:
            if (
                described.per == "described"
                and described.step == event.step
                and described.parts[:1] == (part.name,)
                and described is not event
            ):
                number = next(
                    (self._number_of(u.name) if u.number in (None, 1) else u.number for u in described.units if u.kind == "member"), None
                )
                both = (
                    number
                    and event.definite
                    and event.amount is None
                    and part.listed == 2 * number
                    and not _ONE_END.search(event.text or "")
                )
                return 2 * number if both and number else number
        return None

    def _middle(self, event: Event, part: Part, hoops: tuple[int, ...]) -> tuple[int, ...]:
        """ "The middle hoops", where the manual does not say which: as many as the parts list has pieces for, around the middle."""
        listed = part.listed
        inner = len(hoops)
        chosen = hoops
        if listed is not None and 0 < listed < inner and (inner - listed) % 2 == 0:
            cut = (inner - listed) // 2
            chosen = hoops[cut : inner - cut]
        others = [
            hs for n in range(1 if self.hosts.n % 2 else 2, inner + 1, 2) if (hs := hoops[(inner - n) // 2 : (inner + n) // 2]) != chosen
        ][:2]
        self._ask(
            "member",
            part.name,
            tuple(f"H{h}" for h in chosen),
            event,
            f"'{event.hoops.text if event.hoops else ''}': which hoops are meant?",
            (_named(chosen), *(_named(o) for o in others)),
            _named(chosen),
        )
        return chosen

    def _correcting(self, event: Event) -> Event:
        """A correction takes the place of what the step said of the same part; it keeps its hoops and spots where it names none."""
        wanted = self._labelled(event)
        old = [d for d in self.drafts if d.part in event.parts and d.step in wanted and d.hoop is not None]
        if not old:
            return event
        first = old[0].event
        if event.hoops is not None and event.hoops.text:
            named = set(self.hosts.hoops(event.hoops))
            old = [d for d in old if d.hoop in named]  # a correction for some hoops leaves the others as they are
        hoops = (
            event.hoops
            if event.hoops is not None and event.hoops.text
            else Selector("numbers", tuple(sorted({d.hoop for d in old if d.hoop is not None})), each=True, text="as corrected")
        )
        self._forget(old)
        units = event.units or (first.units if first is not None else ())
        return replace(event, hoops=hoops, units=units)

    def _same_number(self, already: list[Draft], hoops: tuple[int, ...], n: int, spots: list[Spot]) -> bool:
        per = Counter(d.hoop for d in already for _ in range(d.quantity))
        counts = {per[h] for h in hoops}
        return bool(counts & {n, n * len(spots), sum(per.values())}) or sum(per.values()) == n

    def _share(self, event: Event, part: Part, hoops: tuple[int, ...], spots: list[Spot], shared: bool) -> tuple[list[int] | int, bool]:
        """How many on one hoop, and whether a total may be meant. A list gives the hoops different numbers (a total that is shared out)."""
        amount = event.amount
        if amount is None or amount.value is None:
            return len(spots), False
        n = amount.value
        sel = event.hoops
        bare = sel is not None and not sel.each and len(hoops) > 1 and sel.kind not in ("topic",) and sel.text != ""
        if n == 1 and any(p.both for p in event.places) and not any(p.count for p in event.places):
            n = 2
        if event.per == "row":
            return n * (len(spots) if len(spots) > 1 and (amount.each or (n == 1 and shared)) else 1), False
        if event.per == "row-total" or amount.total:
            return max(1, n // max(len(hoops), 1)), False
        if (shared and len(spots) >= 1 and any(u.each or u.side for u in event.units if u.kind != "member")) or any(
            p.each for p in event.places
        ):
            return n * len(spots), False

        if amount.each:
            return n * (len(spots) if len(spots) > 1 and not bare else 1), False
        if bare:
            k = len(hoops)
            if n == 1:
                return len(spots) if shared else 1, False
            if n % k == 0 and n >= k and sel is not None and sel.kind in ("numbers", "join"):
                left = self._left(part.name)
                if left is None or left >= n * k:
                    return n, True
                return n // k, True
            if n % k == 0 and n >= k:
                total_fits = self._left(part.name)
                each_total = n * k
                if total_fits is not None and total_fits == each_total and total_fits != n:
                    return n, True
                return n // k, n != k or False
            return n, False
        if len(spots) > 1 and not shared:
            if n % len(spots) == 0:
                return n, False
            return n * len(spots), False
        return n * len(spots), False

    def _left(self, name: str) -> int | None:
        listed = self.parts[name].listed
        if listed is None:
            return None
        return listed - sum(d.quantity for d in self.drafts if d.part == name)

    def _lay_out(self, event: Event, part: Part, hoop: int, per_hoop: list[int] | int, spots: list[Spot]) -> list[Draft]:
        n = per_hoop if isinstance(per_hoop, int) else per_hoop[0]
        beside = next((p for p in event.places if p.each and p.part and p.datum == "fitting"), None)
        if beside is not None and event.amount is not None and event.amount.value:
            marks = [d for d in self.drafts if d.part == beside.part and d.hoop == hoop]
            return [self._draft(event, event.amount.value * d.quantity, hoop, d.spot, replace(beside, both=False)) for d in marks]
        places: list[Place | None] = list(event.places) or [None]
        spread: list[tuple[Spot, Place | None]] = []
        for spot in spots:
            for place in places:
                if place is not None and place.both:
                    spread += [(replace(spot, end="a"), place), (replace(spot, end="b"), place)]
                else:
                    spread.append((spot, place))
        counted = [p for p in event.places if p.count is not None]
        if counted and len(counted) == len(event.places):
            made_by_count = self._counted(event, hoop, n, spots, counted)
            if made_by_count is not None:
                return made_by_count
        if len(spread) > n:
            # more places than pieces: the places describe one spot together ("900 mm up the left leg"), or sides of one place
            spread = [(spot, _first(places)) for spot in spots] if len(spots) <= n else spread[:n]
        if len(spread) == 1 and n == 2 and spread[0][0].side is None and _two_sided(spread[0][1]):
            spot, place = spread[0]
            spread = [(replace(spot, side="left"), place), (replace(spot, side="right"), place)]
        if not spread:
            return []
        base, extra = divmod(n, len(spread))
        made = []
        for k, (spot, place) in enumerate(spread):
            quantity = base + (1 if k < extra else 0)
            if quantity:
                made.append(self._draft(event, quantity, hoop, spot, place))
        return made

    def _counted(self, event: Event, hoop: int, n: int, spots: list[Spot], places: list[Place]) -> list[Draft] | None:
        """Pieces whose places are told one by one: "one 300 mm to the left and one to the right"; None where the numbers do not add up."""
        total = sum(p.count or 1 for p in places)
        if total not in (n, n // max(len(spots), 1)):
            return None
        use = spots if total * len(spots) == n else [spots[0] if len(spots) == 1 else Spot()]
        out = []
        for spot in use:
            for place in places:
                halves = [replace(spot, end="a"), replace(spot, end="b")] if place.both and (place.count or 1) % 2 == 0 else [spot]
                for half in halves:
                    side = place.side or half.side
                    out.append(self._draft(event, (place.count or 1) // len(halves), hoop, replace(half, side=side), place))  # type: ignore[arg-type]
        return out

    def _draft(self, event: Event, quantity: int, hoop: int, spot: Spot, place: Place | None) -> Draft:
        return Draft(
            event.parts[0],
            quantity,
            hoop,
            "hoop",
            event.step,
            event.source,
            spot,
            place,
            slide=event.slide,
            option=event.option,
            late=event.late,
            early=event.early,
            joint=spot.joint is not None or any(u.kind == "joint" for u in event.units),
            foot=any(u.kind == "foot" for u in event.units),
            sequence=self.sequence,
            event=event,
        )

    def _drop_restated(self, event: Event, made: list[Draft], already: list[Draft]) -> list[Draft]:
        """The same part at the same stated place again is the same piece, not another one."""
        if event.more or not already:
            return made
        known = {d.where() for d in already if d.place is not None and d.place.offset_mm is not None and d.step != event.step}
        return [d for d in made if not (d.place is not None and d.place.offset_mm is not None and d.where() in known)]

    def _replace_vague(self, event: Event, part: Part, hoops: tuple[int, ...], made: list[Draft], already: list[Draft]) -> None:
        """The same number of a part on the same hoops, told again in one step with its place, is the same pieces.

        A table's row that the step itself contradicts gives way.
        """
        if event.more or not made:
            return
        old = [d for d in already if d.step == event.step and d.sequence != self.sequence]
        if not old or {d.hoop for d in old} != set(hoops):
            return

        def count(drafts: list[Draft]) -> Counter[int]:
            return Counter({h: sum(d.quantity for d in drafts if d.hoop == h) for h in hoops})

        placed = any(d.place is not None and d.place.offset_mm is not None for d in made)
        vague = all(d.place is None or d.place.offset_mm is None for d in old)
        if event.table is not None:
            if all(d.event is not None and d.event.definite and d.event.amount is None for d in old):
                self._forget(old)
            return
        rows = [d for d in old if d.event is not None and d.event.table is not None]
        if rows and len(rows) == len(old):
            if count(old) != count(made):
                self._conflict(event, part, hoops, old, made)
            self._forget(old)
        elif count(old) == count(made) and placed and vague:
            self._forget(old)

    def _forget(self, drafts: list[Draft]) -> None:
        gone = {id(d) for d in drafts}
        self.drafts = [d for d in self.drafts if id(d) not in gone and not (d.holds is not None and id(d.holds) in gone)]

    def _conflict(self, event: Event, part: Part, hoops: tuple[int, ...], old: list[Draft], new: list[Draft]) -> None:
        n_old = sum(d.quantity for d in old) // max(1, len({d.hoop for d in old}))
        n_new = sum(d.quantity for d in new) // max(1, len({d.hoop for d in new}))
        a, b = old[0].source, event.source
        self.findings.append(
            Finding(
                "conflict",
                part.name,
                tuple(f"H{h}" for h in hoops),
                (event.step,),
                f'The manual says {n_old} {part.name} on each hoop ("{a.quote}", page {a.page}) and {n_new} '
                f'("{b.quote}", page {b.page}). Counted: {n_new}.',
                "Ask the maker which number is right before the hoops are joined.",
                sources=(a, b),
            )
        )

    # ---- doubts about numbers -------------------------------------------------------------------------------------------------

    def _range(self, event: Event, made: list[Draft]) -> None:
        amount = event.amount
        assert amount is not None
        hoops = tuple(dict.fromkeys(f"H{d.hoop}" for d in made if d.hoop is not None))
        self._ask(
            "quantity",
            event.parts[0],
            hoops,
            event,
            f"The manual says {amount.text} {event.parts[0]}: how many?",
            (f"{amount.value}", f"{amount.high}"),
            f"{amount.value}",
        )
        for d in made:
            d.assumed.append(f"{amount.value} of {amount.text}: the lower number")

    def _total_or_each(self, event: Event, part: Part, hoops: tuple[int, ...], made: list[Draft], per_hoop: list[int] | int) -> None:
        n = event.amount.value if event.amount else 0
        used = f"{per_hoop} on each"
        other = f"{n} on each" if per_hoop != n else f"{n} in all, {n // max(1, len(hoops))} on each"
        self._ask(
            "quantity",
            part.name,
            tuple(f"H{h}" for h in hoops),
            event,
            f"{n} {part.name} on {len(hoops)} hoops: in all, or on each?",
            (used, other),
            used,
        )
        for d in made:
            d.assumed.append(f"read as {used}")

    def _per_post(self, event: Event, part: Part, made: list[Draft]) -> None:
        """ "Fasten the hoops to the ground posts with two screws": to each post, or to each hoop? As many as the list has."""
        n = event.amount.value if event.amount is not None and event.amount.value else 1
        total = sum(d.quantity for d in made)
        left = self._left(part.name)
        each_post = left is None or left >= total
        if each_post:
            for d in made:
                d.quantity *= 2
        readings = (f"{n} at each post, {2 * n} to a hoop", f"{n} to a hoop")
        self._ask(
            "quantity",
            part.name,
            tuple(dict.fromkeys(f"H{d.hoop}" for d in made)),
            event,
            f"{n} {part.name}: for each post, or for each hoop?",
            readings,
            readings[0] if each_post else readings[1],
        )

    def _which_half(self, event: Event, part: Part, hoops: tuple[int, ...]) -> None:
        other = tuple(h for h in range(1, self.hosts.n + 1) if h not in hoops)
        self._ask(
            "member",
            part.name,
            tuple(f"H{h}" for h in hoops),
            event,
            f"'{event.hoops.text if event.hoops else ''}': starting with which hoop?",
            (_named(hoops), _named(other)),
            _named(hoops),
        )

    def _drop_announced(self) -> None:
        """ "Slide on the wire rings", or what a bar has at its ends: only the announcement, where the text then tells hoop by hoop."""
        for event, made in self.announced:
            mine = {id(d) for d in made}
            later = [
                d
                for d in self.drafts
                if d.part in event.parts[:1]
                and id(d) not in mine
                and ((d.step == event.step and d.sequence > made[0].sequence) or event.per == "described")
            ]
            if later:
                self._forget(made)

    def _drop_told_twice(self) -> None:
        """A table and the steps that say where, or a number told anew: the same pieces, where the parts list has no more."""
        self._forget(place_tabled(self.drafts))
        for found in restated(self.drafts, self.parts):
            if found.differs and (event := found.new[0].event) is not None:
                self._conflict(event, self.parts[found.part], found.hoops, list(found.old), list(found.new))
            self._forget(list(found.old))
            for d in found.new:
                d.assumed.append(f"step {self.steps[found.old[0].step].label or found.old[0].step} speaks of the same pieces")

    def _settle_open(self) -> None:
        """Where no number is given: what the parts list leaves, if it divides evenly among the places; else one at each."""
        for event, made in self.open_groups:
            if not made:
                continue
            name = made[0].part
            alive = {id(d) for d in self.drafts}
            made = [d for d in made if id(d) in alive]
            if any(
                d.part == name and d.step == event.step and d not in made and d.event is not event and d.sequence > event_sequence(made)
                for d in self.drafts
            ):
                self._forget(made)  # "close both joints with screws", and then how many, hoop by hoop
                continue
            if not made:
                continue
            listed = self.parts[name].listed
            mine = {id(d) for d in made}
            others = sum(d.quantity for d in self.drafts if d.part == name and id(d) not in mine)
            left = None if listed is None else listed - others
            places = len(made)
            quantity = left // places if left is not None and left > 0 and left % places == 0 else 1
            for d in made:
                d.quantity = quantity
                d.assumed.append(
                    "number not given: " + ("what the parts list leaves" if quantity * places == left else "one at each place")
                )
            obvious = event.definite and quantity == 1 and left == places
            if not obvious:
                hoops = tuple(dict.fromkeys(f"H{d.hoop}" for d in made if d.hoop is not None))
                self._ask(
                    "quantity",
                    name,
                    hoops,
                    event,
                    f"How many {name} at each place? The manual gives no number.",
                    (f"{quantity} at each place",),
                    f"{quantity} at each place",
                )

    def _remove(self, event: Event) -> None:
        hoops = self._hoops(event)
        step = event.step
        self._forget([d for d in self.drafts if d.part in event.parts and d.hoop in hoops and d.step == step])

    # ---- copies -----------------------------------------------------------------------------------------------------------

    def _copy(self, event: Event) -> None:
        drafts = self._copied_from(event)
        for doubt in event.doubts if drafts else ():
            self._ask(
                doubt.about,
                event.parts[0] if event.parts else None,
                tuple(f"H{h}" for h in self.hosts.hoops(event.hoops)),
                event,
                doubt.message,
                doubt.readings,
                doubt.assumed,
            )
        if not drafts:
            if event.hoops is not None:
                self._copy_acts(event, self._hoops(event))
            return
        if event.side and event.hoops is None:
            self._mirror(event, drafts)
            return
        have = {d.hoop for d in drafts if d.hoop is not None}
        if event.hoops is not None and event.hoops.kind in ("rest",):
            targets = tuple(h for h in self.hosts.hoops(None) if h not in have)
        elif event.hoops is None:
            targets = tuple(self.hosts.hoops(None))
        else:
            targets = self.hosts.hoops(event.hoops, frozenset(have))
        self.mentioned[event.step].update(targets)
        made: list[Draft] = []
        flip = event.hoops is not None and event.hoops.kind == "far" and len(have) > 1
        pairs = (
            dict(zip(sorted(targets), sorted(have), strict=True))
            if len(targets) == len(have) > 1 and not set(targets) & have and not flip
            else {}
        )
        if (
            event.steps
            and len(have) > 1
            and len(have) != len(targets)
            and not set(targets) >= have
            and not flip
            and event.hoops is not None
            and event.hoops.kind not in ("rest", "all", "except")
        ):
            for part in dict.fromkeys(d.part for d in drafts):
                self._ask(
                    "reference",
                    part,
                    tuple(f"H{t}" for t in targets),
                    event,
                    f"What is repeated stands on {len(have)} hoops, what is named here is {len(targets)}: which {part} goes where?",
                    (),
                    None,
                )
        for target in targets if have else ():
            source = pairs.get(target) or self._source_hoop(target, have, flip)
            if source is None:
                continue
            present = {(d.part, d.step, d.side, d.spot) for d in self.drafts if d.hoop == target}
            twins: dict[int, Draft] = {}
            for d in drafts:
                if d.hoop != source or (d.part, d.step, d.side, d.spot) in present:
                    continue
                twin = replace(
                    d,
                    hoop=target,
                    place=event.places[0] if len(event.places) == 1 else d.place,
                    assumed=list(d.assumed),
                    holds=twins.get(id(d.holds)) if d.holds is not None else None,
                )
                twins[id(d)] = twin
                made.append(twin)
        self.drafts += made
        self.groups[event.group].append(made)
        self._copy_acts(event, targets)

    def _source_hoop(self, target: int, have: set[int], flip: bool) -> int | None:
        if target in have:
            return None
        if flip:
            mirrored = self.hosts.n + 1 - target
            return mirrored if mirrored in have else min(have)
        return min(have)

    def _copied_from(self, event: Event) -> list[Draft]:
        if event.steps:
            wanted = self._labelled(event)
            return [d for d in self.drafts if d.step in wanted]
        section = self.steps[event.step].section
        here = [
            d for d in self.drafts if self.steps[d.step].section == section and (d.hoop is not None or (event.like is None and event.side))
        ]
        if event.like is not None:
            like = set(self.hosts.hoops(event.like))
            on_like = [d for d in here if d.hoop in like]
            if not on_like:
                on_like = [d for d in self.drafts if d.hoop in like and self.steps[d.step].document == self.steps[event.step].document]
            return on_like
        same = [d for d in self.drafts if d.step == event.step]
        if same or not here:
            return same
        if event.side and event.hoops is None:
            hoops = {d.hoop for d in here if d.sequence == here[-1].sequence}
            run: list[Draft] = []
            for d in reversed(here):
                if d.hoop not in hoops:
                    break
                run.insert(0, d)
            return run
        last = max(self.index[d.step] for d in here)
        if event.doubts:
            return [d for d in here if self.index[d.step] == last]
        if self.steps[event.step].label is not None:
            between = [s for s in self.outline.steps[last + 1 : self.index[event.step]] if s.section == section]
            hoops = {d.hoop for d in here if self.index[d.step] == last}
            return [d for d in here if d.hoop in hoops] if len(between) <= 3 else []
        return here

    def _labelled(self, event: Event) -> set[str]:
        """Step ids of the printed labels that a repeat names, in the same document."""
        document = self.steps[event.step].document
        ordered = [s for s in self.outline.steps if s.document == document and s.label]
        named = {label.split("..")[0].lower() for label in event.steps}
        if not any((s.label or "").lower().strip(".") in named for s in ordered):
            ordered = [s for s in self.outline.steps if s.label]  # a slip speaks of the steps of another paper
        by = {(s.label or "").lower().strip("."): s.id for s in ordered}
        out: set[str] = set()
        for label in event.steps:
            if ".." in label:
                a, b = (by.get(x.lower()) for x in label.split("..", 1))
                if a and b:
                    lo, hi = sorted((self.index[a], self.index[b]))
                    out |= {s.id for s in self.outline.steps[lo : hi + 1]}
            elif label.lower() in by:
                out.add(by[label.lower()])
        return out

    def _mirror(self, event: Event, drafts: list[Draft]) -> None:
        present = {(d.part, d.hoop, d.side, d.place and d.place.offset_mm) for d in self.drafts}
        made: list[Draft] = []
        if drafts and all(d.hoop is None for d in drafts):
            self.drafts += [replace(d, assumed=list(d.assumed)) for d in drafts]
            return
        twins: dict[int, Draft] = {}
        last = len(self.hosts.tubes) - 1
        for d in drafts:
            flipped = _MIRROR[d.side]
            if d.side in (None, "centre") or (d.part, d.hoop, flipped, d.place and d.place.offset_mm) in present:
                continue
            spot = replace(
                d.spot,
                side=flipped,
                tube=None if d.spot.tube is None else last - d.spot.tube,
                joint=None if d.spot.joint is None else self.hosts.joints - 1 - d.spot.joint,
            )
            place = replace(d.place, side=_MIRROR.get(d.place.side)) if d.place is not None and d.place.side else d.place  # type: ignore[call-overload]
            twin = replace(
                d, spot=spot, place=place, assumed=list(d.assumed), holds=twins.get(id(d.holds)) if d.holds is not None else None
            )
            twins[id(d)] = twin
            made.append(twin)
        self.drafts += made

    def _copy_acts(self, event: Event, targets: tuple[int, ...]) -> None:
        section = self.steps[event.step].section
        wanted = self._labelled(event) if event.steps else None
        kinds = {
            a.kind: a
            for a in self.acts
            if (a.step in wanted if wanted is not None else self.steps[a.step].section == section) and not set(targets) <= set(a.hoops)
        }
        if event.act in ("join", "stand"):
            kinds = {k: a for k, a in kinds.items() if (k == "stand") == (event.act == "stand")}
        for kind in kinds:
            self._do(kind, targets, event)

    # ---- rules ------------------------------------------------------------------------------------------------------------

    def _apply_rules(self) -> None:
        """Each fitting brings its own fasteners, once; the rule for fewer parts, then the later one, goes before."""
        best: dict[tuple[str, str, tuple[str, ...]], Event] = {}
        none: dict[str, Event] = {}
        for rule in self.rules:
            for owner in rule.owners:
                if rule.fastener is None:
                    none[owner] = rule
                    continue
                old = best.get((owner, rule.fastener, rule.within))
                if old is None or len(rule.owners) < len(old.owners) or (len(rule.owners) == len(old.owners) and old.step != rule.step):
                    best[owner, rule.fastener, rule.within] = rule
                if rule.more:
                    best[owner, rule.fastener, ("more", rule.step)] = rule
                    if old is not None:
                        best[owner, rule.fastener, rule.within] = old
        queue = list(self.drafts)
        while queue:
            fresh: list[Draft] = []
            for d in queue:
                explicit = {x.part for x in self.drafts if x.holds is d}
                for (owner, fastener, _), rule in best.items():
                    if owner != d.part or fastener in explicit or fastener == d.part:
                        continue
                    if rule.within and rule.within[0] != "more" and (d.holds is None or d.holds.part not in rule.within):
                        continue
                    if rule.per == "so-far" and d.sequence > self.rule_sequence.get(id(rule), 0):
                        continue
                    if owner in none and len(none[owner].owners) <= len(rule.owners):
                        continue
                    n = rule.amount.value if rule.amount and rule.amount.value is not None else 1
                    if n:
                        fresh.append(
                            Draft(
                                fastener,
                                n * d.quantity,
                                None if rule.member else d.hoop,
                                rule.member or d.member,
                                rule.step if rule.per == "here" else d.step,
                                rule.source,
                                d.spot,
                                d.place,
                                holds=d,
                                option=d.option,
                                sequence=d.sequence,
                                event=rule,
                            )
                        )
            self.drafts += fresh
            queue = fresh


_ANAPHORS = frozenset(["one", "two", "three", "four"])
_ONE_END = re.compile(r"\b(?:upper|lower|top|bottom|first|second|one|other|inner|outer)\b")


def _named(hoops: Iterable[int]) -> str:
    return "hoops " + ", ".join(map(str, hoops))


def event_sequence(made: list[Draft]) -> int:
    """When the drafts of one event were made."""
    return made[0].sequence if made else 0


def _first(places: list[Place | None]) -> Place | None:
    return places[0] if places else None


def _two_sided(place: Place | None) -> bool:
    """Whether a place exists once on each side of the hoop."""
    return (
        place is None
        or place.datum in ("ground", "foot", "shoulder")
        or (place.offset_mm is not None and place.offset_mm > 0 and place.datum in ("ridge", "joint", "fitting") and not place.side)
    )


def amount_of(event: Event) -> Amount | None:
    """The event's number."""
    return event.amount


def selector_text(sel: Selector | None) -> str:
    """The words of a selector."""
    return "" if sel is None else sel.text
