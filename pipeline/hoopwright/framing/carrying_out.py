"""Carries out what the sentences say, in the manual's order, and then what needs all of them: rules and open numbers."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable
from dataclasses import replace

from hoopwright.framing.adding import add
from hoopwright.framing.assembly import Assembly, number
from hoopwright.framing.drafts import Draft
from hoopwright.framing.parts_apart import drop_parts_apart
from hoopwright.framing.repeating import repeat
from hoopwright.framing.rules import apply_rules, note_rule
from hoopwright.framing.settling import drop_announced, drop_told_twice, settle_open_numbers
from hoopwright.model.events import Event, StepReading


def carry_out(readings: Iterable[StepReading], assembly: Assembly) -> None:
    """Every event of the readings, on the assembly."""
    events = [event for reading in readings for event in reading.events]
    rows = _Rows(events, assembly)
    handlers: dict[str, Callable[[Assembly, Event], None]] = {
        "act": _act,
        "ask": Assembly.ask_doubts,
        "claim": _claim,
        "copy": repeat,
        "remove": _remove,
        "rule": note_rule,
    }
    assembly.rule_fasteners = {event.fastener for event in events if event.kind == "rule"}
    for event in events:
        assembly.sequence += 1
        if event.kind == "rows":
            rows.call(event)
        elif event.kind == "add":
            if not rows.waits(event):
                add(assembly, event)
        elif event.kind in handlers:
            handlers[event.kind](assembly, event)
    drop_announced(assembly)
    drop_told_twice(assembly)
    settle_open_numbers(assembly)
    apply_rules(assembly)
    drop_parts_apart(assembly)


class _Rows:
    """Rows of tables that a step calls for by number wait for that step."""

    def __init__(self, events: list[Event], assembly: Assembly) -> None:
        self.assembly = assembly
        self.pending: dict[tuple[str, int], Event] = {}
        self.done: set[tuple[str, int]] = set()
        called = {n for event in events if event.kind == "rows" for n in event.rows}
        for event in events:
            if event.kind == "add" and event.table is not None and event.rows and event.rows[0] in called:
                self.pending.setdefault((event.table, event.rows[0]), event)
        self.tables = list(dict.fromkeys(table for table, _ in self.pending))

    def waits(self, event: Event) -> bool:
        """Whether this is a row that some step will call for."""
        return event.table is not None and bool(event.rows) and self.pending.get((event.table, event.rows[0])) is event

    def call(self, event: Event) -> None:
        """Carry out the rows that a step names, of the nearest table before it."""
        if event.late or not self.tables:
            return
        index = self.assembly.steps.index
        table = next((t for t in reversed(self.tables) if index[t.split("/")[0]] <= index[event.step]), self.tables[-1])
        for n in event.rows:
            row = self.pending.get((table, n))
            if row is not None and (table, n) not in self.done:
                self.done.add((table, n))
                add(self.assembly, replace(row, step=event.step), called=True)


def _act(assembly: Assembly, event: Event) -> None:
    assembly.do(event.act or "join", assembly.hoops(event), event)  # type: ignore[arg-type]


def _remove(assembly: Assembly, event: Event) -> None:
    hoops = set(assembly.hoops(event))
    assembly.drafts.forget([d for d in assembly.drafts.of_parts(event.parts, [event.step]) if d.hoop in hoops])


def _claim(assembly: Assembly, event: Event) -> None:
    """ "That makes one bolt on each side of every hoop": the step's own sum decides how often its pieces stand on a hoop."""
    assembly.claims.append(event)
    if event.per != "makes" or not number(event, 0):
        return
    drafts = assembly.drafts
    spots, _ = assembly.hosts.spots(event)
    wanted = number(event, 0) * len(spots)
    by_hoop: defaultdict[int, list[Draft]] = defaultdict(list)
    for d in drafts.of_parts(event.parts, [event.step]):
        if d.hoop is not None:
            by_hoop[d.hoop].append(d)
    for here in by_hoop.values():
        have = sum(d.quantity for d in here)
        if 0 < have < wanted and wanted % have == 0:
            for d in here:
                for piece in (d, *drafts.fasteners(d)):
                    drafts.take(piece, piece.quantity * (wanted // have))
