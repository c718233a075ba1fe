"""Calls to placements, counts and the balance of parts."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from hoopwright.model.frame import Call, Part
from hoopwright.model.schedule import PartBalance, Placement
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.thread import Turn

Table = dict[str, dict[str, int]]

SLIDES = "taken to slide on over a tube's end: the manual does not say whether it opens"
OPENS = "taken to go round a standing tube: the manual does not say how it goes on"
DEFAULTS = {"closed": SLIDES, "open": OPENS}


def placements(context: Context, turns: Mapping[str, Turn]) -> tuple[Placement, ...]:
    """One placement per call, in the manual's order of work, P1, P2 …"""
    calls = sorted(context.frame.calls, key=context.when_called)
    ids = {call.id: f"P{number}" for number, call in enumerate(calls, start=1)}
    return tuple(_placement(context, call, ids, turns.get(call.id)) for call in calls)


def _placement(context: Context, call: Call, ids: Mapping[str, str], turn: Turn | None) -> Placement:
    part = context.part(call)
    tubes = context.frame.tubes
    tube = call.tube if call.tube is not None else None
    return Placement(
        id=ids[call.id],
        fitting=call.part,
        code=part.code,
        quantity=call.quantity,
        hoop=None if call.hoop is None else context.hoop_id(call.hoop),
        member=call.member,
        section=tubes[tube].name if tube is not None and 0 <= tube < len(tubes) and call.hoop is not None else None,
        side=call.side,
        datum=ids.get(call.anchor, call.datum) if call.anchor is not None else call.datum,
        offset_mm=call.offset_mm,
        along_mm=call.along_mm,
        when=call.when,
        thread_order=None if turn is None else turn.order,
        step=call.step,
        source=call.source,
        option=call.option,
        assumed=_assumed(call, part, turn),
        thread_end=None if turn is None else turn.end,
        loose=call.place_text,
    )


def _assumed(call: Call, part: Part, turn: Turn | None) -> tuple[str, ...]:
    """What the frame already took for granted, then the default of the form, then what the thread-on order took for granted."""
    texts = list(call.assumed)
    fits = (part.form, call.when) in (("closed", "before-joining"), ("open", "any-time"))
    if not part.stated and fits and call.hoop is not None:
        texts.append(DEFAULTS[part.form])
    texts += turn.notes if turn is not None else ()
    return tuple(dict.fromkeys(texts))


def tables(context: Context, placements: Iterable[Placement]) -> tuple[Table, Table, Table]:
    """(counts, elsewhere, before_joining) as the schedule file has them: every hoop is there, fittings in the order of the parts list."""
    counts: Table = {hoop: {} for hoop in context.hoop_ids}
    before: Table = {hoop: {} for hoop in context.hoop_ids}
    elsewhere: Table = {}
    for placement in placements:
        if placement.hoop is None:
            _add(elsewhere, placement.member, placement)
            continue
        _add(counts, placement.hoop, placement)
        if placement.when == "before-joining":
            _add(before, placement.hoop, placement)
    rank = {part.name: place for place, part in enumerate(context.frame.parts)}
    counts, elsewhere, before = (_ranked(table, rank) for table in (counts, elsewhere, before))
    return counts, dict(sorted(elsewhere.items())), before


def _add(table: Table, row: str, placement: Placement) -> None:
    if placement.quantity > 0:
        cells = table.setdefault(row, {})
        cells[placement.fitting] = cells.get(placement.fitting, 0) + placement.quantity


def _ranked(table: Table, rank: Mapping[str, int]) -> Table:
    return {row: dict(sorted(cells.items(), key=lambda cell: (rank.get(cell[0], len(rank)), cell[0]))) for row, cells in table.items()}


def needed(context: Context) -> dict[str, int]:
    """How many of each part the steps use, on hoops and elsewhere."""
    total: dict[str, int] = {}
    for call in context.frame.calls:
        total[call.part] = total.get(call.part, 0) + call.quantity
    return total


def balance(context: Context) -> tuple[PartBalance, ...]:
    """The parts list against what the steps use, fittings only: listed parts first, then parts that only the steps name.

    ``difference`` is what is left over: listed - needed, None where the list gives no number.
    """
    use = needed(context)
    rows = [_row(part, use.get(part.name, 0)) for part in context.frame.parts if part.is_fitting and (part.in_list or use.get(part.name))]
    known = set(context.parts)
    extra = [PartBalance(name, None, None, number, None, in_list=False) for name, number in use.items() if name not in known and number]
    return tuple(sorted(rows, key=lambda row: not row.in_list) + extra)


def _row(part: Part, number: int) -> PartBalance:
    difference = None if part.listed is None else part.listed - number
    return PartBalance(part.name, part.code, part.listed, number, difference, part.in_list)
