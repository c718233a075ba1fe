"""Two CSV files: every placement, and fittings hoop by hoop. Text cells cannot act as formulas; numbers stay numbers."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from typing import Any

from hoopwright.model.schedule import Placement, Schedule
from hoopwright.reporting.grouping import hoop_ids
from hoopwright.reporting.marks import fittings_of
from hoopwright.reporting.tabled import Table, table_of
from hoopwright.reporting.text import cell

_COLUMNS = (
    *("id", "hoop", "member", "section", "side", "fitting", "code", "quantity", "datum", "offset_mm", "along_mm", "when", "thread_order"),
    *("step", "label", "document", "page", "quote", "option", "assumed"),
)


def _row(placement: Placement, labels: dict[str, str | None]) -> dict[str, Any]:
    return {
        "id": placement.id,
        "hoop": placement.hoop,
        "member": placement.member,
        "section": placement.section,
        "side": placement.side,
        "fitting": placement.fitting,
        "code": placement.code,
        "quantity": placement.quantity,
        "datum": placement.datum,
        "offset_mm": placement.offset_mm,
        "along_mm": placement.along_mm,
        "when": placement.when,
        "thread_order": placement.thread_order,
        "step": placement.step,
        "label": labels.get(placement.step),
        "document": placement.source.document,
        "page": placement.source.page,
        "quote": placement.source.quote,
        "option": placement.option,
        "assumed": "; ".join(placement.assumed) or None,
    }


def placements_table(schedule: Schedule, for_cells: Callable[[str], str] = cell) -> Table:
    """A row per placement, columns as in the schedule file (source spread over document, page, quote); unknown is missing.

    ``for_cells`` makes a text safe where it goes.
    """
    labels = {step.id: step.label for step in schedule.steps}
    rows = [
        {name: for_cells(value) if isinstance(value, str) else value for name, value in _row(item, labels).items()}
        for item in schedule.placements
    ]
    return table_of(rows, _COLUMNS)  # the columns of an empty schedule still have to be there


def hoops_table(schedule: Schedule) -> Table:
    """A row per hoop: id, role, station, then the number of each fitting, then the part of it that goes on before joining."""
    hoops = {hoop.id: hoop for hoop in schedule.structure.hoops}
    fittings = [name for name in fittings_of(schedule) if any(name in row for row in schedule.counts.values())]
    early = [name for name in fittings if any(name in row for row in schedule.before_joining.values())]
    rows = []
    for id in hoop_ids(schedule):
        row: dict[str, Any] = {
            "hoop": id,
            "role": hoops[id].role if id in hoops else None,
            "station_mm": hoops[id].station_mm if id in hoops else None,
        }
        row |= {cell(name): schedule.counts.get(id, {}).get(name, 0) for name in fittings}
        row |= {f"before joining: {cell(name)}": schedule.before_joining.get(id, {}).get(name, 0) for name in early}
        rows.append(row)
    return table_of(rows, tuple(rows[0]) if rows else ("hoop", "role", "station_mm"))


def as_csv(table: Table) -> str:
    """The table as CSV text with a head line; missing cells are empty, whole numbers have no point."""
    stream = io.StringIO()
    writer = csv.writer(stream, lineterminator="\n")
    writer.writerow(table.columns)
    writer.writerows([f"{value:.12g}" if isinstance(value, float) else value for value in row] for row in table.rows)
    return stream.getvalue()
