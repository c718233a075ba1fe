"""Mentions of members to the hoops, tubes, sides and bars that take a fitting."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hoopwright.model.events import Selector, Unit
from hoopwright.parsing import patterns
from hoopwright.parsing.chunk import join_selectors
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def unit_of(it: Interpreter, el: El) -> Unit:
    number = (
        el.amount.value
        if el.amount and el.det in ("its", "the", "both", None, "all")
        else (2 if el.det == "both" or (el.name == "pair") else None)
    )
    return Unit(
        el.role if el.role in patterns.UNIT_ROLES else "member",  # type: ignore[arg-type]
        el.name if el.role not in ("tube", "joint") else " ".join(w for w in el.words if w not in ("other", "same")),
        el.side,
        el.each
        or el.det in ("both", "either")
        or (el.role in ("joint", "foot") and el.det in ("a", "an"))
        or (
            el.role in ("tube", "side")
            and el.gov == "to"
            and el.det in ("the", "a")
            and not el.side
            and not el.plural
            and (el.amount is None or (el.det == "a" and el.amount.value == 1))
        ),
        number,
        el.plural,
        el.det,
    )


def find_hosts(it: Interpreter, mems: list[El], c: Clause) -> tuple[Selector | None, tuple[Unit, ...], str | None, tuple[Unit, ...]]:
    """(hoops, units, member, bars) that the mentions name."""
    hoops: Selector | None = None
    corner = _corner(it, mems)
    if corner is not None:
        hoops = Selector("end", each=True, text=corner.text)  # the four corner legs of the tunnel
        corner.each, corner.amount, corner.hoops = True, None, hoops
    units: list[Unit] = []
    bars: list[Unit] = []
    others: list[El] = []
    passed: list[El] = []
    between: list[El] = []
    hoopish = False
    foreign = _of_bars(mems, c)
    for m in mems:
        if id(m) in foreign:
            continue
        if m.gov in it.chunker.through and m.role in ("tube", "joint", "foot", "hoop"):
            pass
        elif m.gov in it.chunker.through or (
            m.gov in ("with", "by", "using", "between")
            and not (m.gov == "between" and m.role == "hoop" and m.hoops is not None and m.hoops.kind == "numbers")
        ):
            if m.gov == "between":
                if m.role in ("bar", "other"):
                    between.append(m)
                continue
            if m.role in ("bar", "other"):
                passed.append(m)
            if m.role == "hoop" and m.hoops is not None:
                hoopish = True
                hoops = m.hoops if hoops is None else hoops
            continue
        if m.role == "hoop":
            hoopish = True
            _settle_hoops(it, m, c)
            if m.gov == "except" and hoops is not None and m.hoops is not None:
                hoops = Selector("except", of=(hoops, m.hoops), text=m.text)
            elif m.hoops is not None and not (_any_of_them(m) and (hoops is not None or fronted_hoops(it, c))):
                hoops = m.hoops if hoops is None else join_selectors(hoops, m.hoops)
        elif m.role == "tube" and m.words == ("tube",) and m.det == "the" and it.section_bar and it.section_bar.split()[-1] == "tube":
            others.append(m)
            m.name = it.section_bar
        elif m.role == "joint" and it.one_piece:
            others.append(m)  # a hoop of one tube has no joint: those of the bar that the sentences are about
            m.name = it.ctx.bar or it.section_bar or m.name
        elif m.role == "side" and _told_by_what_follows(m, c):
            continue
        elif m.role == "joint" and (bar := _joined_bar(m, c)) is not None:
            units.append(unit_of(it, m))
            others.append(bar)  # "each butt between two base rails"
        elif m.role in ("tube", "foot", "joint", "shoulder", "ridge", "crossing", "side", "end", "bay"):
            unit = _same_tube(it, m, unit_of(it, m))
            if m.role == "tube" and m.det in ("a", "an") and m.gov == "subj" and c.verb is not None and c.verb.cls == "take":
                unit = replace(unit, each=True)  # "a limb gets one each"
            units.append(unit)
            if m.role in ("tube", "foot", "shoulder", "crossing"):
                hoopish = True
            if m.role == "tube" and m.det in ("these", "those") and m.amount is not None and hoops is None:
                hoops = it.named_hoops.get(m.amount.value or 0)  # "from hoops 2, 3 and 4 … over the end of each of those three arches"
        elif m.role in ("bar", "other"):
            others.append(m)
    member = None
    if len(between) > 1 and not others and not hoopish:
        others = between[:1]  # "into the corner between header and post"
    if not others and not hoopish and not units and passed:
        others = [m for m in passed if m.gov in it.chunker.through]
    if others:
        host = (
            next(
                (
                    m
                    for m in others
                    if m.gov in ("on", "onto", "to", "in", "into", "round", "at", "around", "over", "along", "of", "across")
                ),
                None,
            )
            or next((m for m in others if m.gov in ("obj", "subj")), None)
            or others[0]
        )
        if not hoopish:
            member = host.name
        bars = [_bar_unit(it, m, c) for m in others]
    if any(m.each and m.role == "other" and m.gov in it.chunker.through for m in mems):
        # "through each socket and through the foot in it": a foot for each socket
        units = [
            replace(u, each=True) if u.kind in ("foot", "tube") and not u.plural and not u.side and u.det == "the" else u for u in units
        ]
    if hoopish:
        bars = [b if b.number or not b.each else replace(b, number=listed_number(it, b.name)) for b in bars]
    return hoops, tuple(_on_its_tube(_sides_named(it, units))), member, tuple(bars)


def _any_of_them(m: El) -> bool:
    """ "On each bow": of those that the sentence is about."""
    return m.det in ("per", "each", "every") and m.hoops is not None and m.hoops.kind == "all"


def fronted_hoops(it: Interpreter, c: Clause) -> bool:
    """Whether hoops stand in front of a colon: "Field bows only: one over the right end of each bow"."""
    return not c.prefix and it.ctx.hoops is not None and any(x.prefix and x.members("hoop") for x in it.clauses)


def _same_tube(it: Interpreter, m: El, unit: Unit) -> Unit:
    """ "Lower the long arm over its stub and put a bolt through arm and stub": the arm that the sentence has named."""
    if m.role != "tube" or m.det is not None or m.plural or m.amount is not None or len(m.words) > 1 or m.side:
        return unit
    named = [e for e in it.sentence_els if e.type == "mem" and e.role == "tube" and e.j <= m.i and e.words[-1:] == m.words and not e.plural]
    return (
        replace(unit, name=" ".join(named[-1].words), side=named[-1].side)
        if named and (named[-1].side or len(named[-1].words) > 1)
        else unit
    )


def _sides_named(it: Interpreter, units: list[Unit]) -> list[Unit]:
    """ "Each shoulder joint, both sides": a hoop has one on each side, and the sides only say which."""
    pairs = [
        u
        for u in units
        if u.kind in ("joint", "shoulder", "foot") and u.each and any(word in u.name for word in it.grammar.words["paired"])
    ]
    return [u for u in units if u.kind != "side" or not u.each or u.side] if pairs else units


def _on_its_tube(units: list[Unit]) -> list[Unit]:
    """ "The foot of the left leg": the foot is on the side of its tube."""
    sides = {u.side for u in units if u.kind == "tube" and u.side and not u.each}
    if len(sides) != 1:
        return units
    return [
        replace(u, side=next(iter(sides))) if u.kind in ("foot", "end", "shoulder") and u.side is None and not u.each else u for u in units
    ]


def _joined_bar(m: El, c: Clause) -> El | None:
    """The bars or boards whose joint it is: "each joint between two rails"."""
    k = c.els.index(m)
    if k + 2 >= len(c.els) or c.els[k + 1].low != "between":
        return None
    bar = c.els[k + 2]
    return bar if bar.type == "mem" and bar.role in ("bar", "other") else None


def _told_by_what_follows(m: El, c: Clause) -> bool:
    """ "On the side that the cover will touch": a face of what it lies on, and no side of the hoop."""
    k = c.els.index(m)
    after = c.els[k + 1].low if k + 1 < len(c.els) else ""
    return (
        m.det == "the" and not m.side and not m.each and after in ("that", "which", "where", "facing", "away", "towards", "nearest", "next")
    )


def neighbour(it: Interpreter, sel: Selector) -> Selector:
    """Read "The neighbouring hoop": next to the end hoop, or to both ends, that the step spoke of before."""
    step = it.step_id
    kinds = [e.hoops.kind for e in [*it.ctx.last, *it.ctx.current] if e.step == step and e.hoops is not None]
    if "end" in kinds:
        return replace(sel, numbers=(2, -2))
    return replace(sel, numbers=(2,)) if kinds and kinds[-1] in ("first", "door") else sel


def units_between(it: Interpreter, c: Clause, a: int, b: int) -> tuple[Unit, ...]:
    return tuple(
        unit_of(it, e) for e in c.els[a:b] if e.type == "mem" and not e.used and e.role in ("tube", "joint", "foot", "side", "end")
    )


def _bar_unit(it: Interpreter, m: El, c: Clause) -> Unit:
    """A bar or other member as a unit, with how many of it there are."""
    k = c.els.index(m)
    of_lengths = k > 1 and c.els[k - 1].low == "of" and c.els[k - 2].name == "length" and c.els[k - 2].each
    described = m.det in ("a", "an") and m.gov == "subj" and c.verb is not None and c.verb.cls == "take"  # "A leaf has three hinges"
    each = m.each or m.det == "both" or of_lengths or described
    number = m.amount.value if m.amount and not described else 2 if m.det == "both" else None
    if m.plural and m.words and m.words[-1] == "length":
        number = None  # "join the three rail lengths": one rail
    if number is None and each:
        listed = it.kit.members.get(m.name)
        told = it.bar_numbers.get(m.words[-1] if m.words else "")
        # The list counts the lengths of a bar, and the pieces of anything else.
        number = listed or told if of_lengths or m.role == "other" else told
    return Unit("member", m.name, m.side, each, number, m.plural, m.det)


def listed_number(it: Interpreter, name: str) -> int | None:
    """How many posts the parts list has, where only one kind of them bears that name; bars come in lengths."""
    if name.split()[-1] not in ("post", "stud", "jamb") or name.startswith("ground"):
        return None
    alike = [n for known, n in it.kit.members.items() if known.split()[-1] == name.split()[-1] and not known.startswith("ground")]
    return alike[0] if len(alike) == 1 else None


def _corner(it: Interpreter, mems: list[El]) -> El | None:
    """The corner leg or foot among the mentions, unless "corner" is what the manual calls a kind of tube."""
    return next(
        (
            m
            for m in mems
            if m.role in ("tube", "foot")
            and "corner" in (*m.words, *m.adjectives)
            and not any("corner" in w for w in it.chunker.tube_words)
        ),
        None,
    )


def _settle_hoops(it: Interpreter, m: El, c: Clause) -> None:
    """Settle which hoops a mention means where it leans on other words: "these hoops", "on hoops 2 and 3 ... each", "the neighbouring hoop"."""
    if m.det in ("these", "those") and m.hoops is not None and m.hoops.kind == "all" and m.hoops.stated:
        named = it.spoken or it.ctx.hoops
        if named is not None and named.kind != "all":
            m.hoops = replace(named, each=True)  # "… the second and the sixth arch. … onto both uprights of these two arches"
    if "same" in (*m.words, *m.adjectives) and m.plural and (m.hoops is None or m.hoops.kind == "all"):
        last = next((e for e in reversed(it.ctx.last) if e.step == it.step_id and e.hoops is not None), None)
        if last is not None and last.hoops is not None:
            m.hoops = replace(last.hoops, each=m.each or last.hoops.each)  # "over the right leg of each of the same hoops"
    behind = c.els[c.els.index(m) + 1].low if c.els.index(m) + 1 < len(c.els) else ""
    if behind in ("named", "mentioned", "listed") and m.hoops is not None and m.hoops.stated and m.hoops.kind == "all":
        m.hoops = it.named_hoops.get(m.hoops.stated, m.hoops)  # "on the four arches named"
    if m.hoops is None and m.det in ("these", "those", "that", "this", "such") and it.spoken is not None and it.ctx.hoops is None:
        m.hoops = replace(it.spoken, each=m.each or it.spoken.each)
    if m.hoops is None and m.det in ("these", "those") and it.ctx.hoops is None:
        # nothing in the step explains them: those of the step before
        earlier = next((e.hoops for e in reversed(it.ctx.last) if e.hoops is not None), None)
        if earlier is not None and earlier.kind != "all":
            m.hoops = replace(earlier, each=m.each or earlier.each)
    if (
        m.hoops is not None
        and not m.hoops.each
        and any(e.type == "pron" and e.name == "each" and e.i >= m.j for e in c.els[:-1])
        and " each of " not in f" {c.low} "
    ):
        m.hoops = replace(m.hoops, each=True)
    if m.hoops is not None and m.hoops.numbers == (-2,) and m.hoops.kind == "numbers":
        m.hoops = neighbour(it, m.hoops)


def _of_bars(mems: list[El], c: Clause) -> set[int]:
    """The mentions (by id) of feet, ridges and sides that belong to a bar and so name no part of a hoop."""
    foreign: set[int] = set()
    for m in mems:
        k = c.els.index(m)
        one_end = m.role == "end" and m.det == "the" and not m.each and not m.plural  # "the upper end of each door post"
        if (
            (m.role in ("foot", "ridge", "side", "shoulder") or one_end)
            and k + 2 < len(c.els)
            and c.els[k + 1].low == "of"
            and c.els[k + 2].type == "mem"
            and c.els[k + 2].role in ("bar", "other")
        ):
            foreign.add(id(m))  # "the foot of each door post"
    return foreign
