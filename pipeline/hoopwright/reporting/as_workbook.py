"""The workbook (XLSX): hoops, what goes on first, placements, bag check, warnings, questions.

Numbers are real numbers; text never acts as a formula.
"""

from __future__ import annotations

import io
import textwrap
from datetime import UTC, datetime
from functools import lru_cache
from typing import Any

from hoopwright.model.schedule import Schedule
from hoopwright.reporting.as_csv import placements_table
from hoopwright.reporting.cautions import CAUTIONS, LIMITS
from hoopwright.reporting.grouping import hoop_ids, hoop_range
from hoopwright.reporting.lengths import Units
from hoopwright.reporting.marks import codes_of, fittings_of
from hoopwright.reporting.tabled import Table, Value, table_of
from hoopwright.reporting.terminal import bag_note, structure_line
from hoopwright.reporting.text import clipped, shown

_CELL_LIMIT = 32_000  # a cell holds 32 767 characters (ECMA-376, "Excel specifications and limits")
_PAPER = {"metric": 9, "imperial": 1}  # ECMA-376 part 1, 18.3.1.63 paperSize: 9 is A4, 1 is Letter
# The sheet of placements has the columns of the CSV file in the order in which a person asks: where, what, how many, where exactly, when,
# said where. What only leads back to schedule.json comes last, folded away: one click on the "+" above shows it.
_PLACEMENTS = (
    *("hoop", "member", "side", "section", "fitting", "code", "quantity", "offset_mm", "datum", "when", "thread_order"),
    *("label", "page", "quote", "option", "assumed"),
)
_FOLDED = ("along_mm", "id", "step", "document")
# Letters to a line where words may break; 30 for what is not named.
_WIDEST = {"fitting": 24, "section": 18, "when": 15, "option": 14, "hoops": 22, "quote": 40, "quotes": 44, "assumed": 34}
_WIDEST |= {"message": 46, "advice": 40, "question": 46, "readings": 30, "text": 76, "moved": 34}
_ANSWER = 24  # room to write
_MANY = 12  # columns of numbers: with more than so many their heads stand upright, or the printed page would be too small to read
_LINE = 15.0  # points, the height of a line at the usual size
_HEAD = {"bold": True, "text_wrap": True, "valign": "bottom", "bottom": 2, "bg_color": "#E9ECEA"}
_CELL = {"valign": "top", "bottom": 1, "bottom_color": "#B9BFBD"}
# Two runs over one manual give the same bytes, so the file says no time of its own.
_MADE = datetime(2000, 1, 1, tzinfo=UTC)


def workbook(schedule: Schedule, units: Units = "metric") -> bytes:
    """The workbook's bytes. ``units`` chooses the paper; lengths stay millimetres, as the column heads say."""
    from xlsxwriter import Workbook  # type: ignore[import-untyped]

    stream = io.BytesIO()
    options = {"strings_to_formulas": False, "strings_to_urls": False, "strings_to_numbers": False, "in_memory": True}
    with Workbook(stream, options) as book:
        book.set_properties({"title": clipped(shown(schedule.title), 200) or "Fitting schedule", "created": _MADE.replace(tzinfo=None)})
        styles = {
            "head": book.add_format(_HEAD),
            "upright": book.add_format(_HEAD | {"rotation": 90, "align": "center"}),
            "wrap": book.add_format({"text_wrap": True, "valign": "top"}),
            "text": book.add_format(_CELL | {"text_wrap": True}),
            "number": book.add_format(_CELL | {"align": "right", "indent": 1}),
            "count": book.add_format(_CELL | {"align": "center"}),
            "title": book.add_format({"bold": True, "font_size": 14}),
        }
        for name, table in tables(schedule).items():
            _write(table, name, book, styles, units, shown(schedule.title))
        _write_care(schedule, book, styles, units)
    return stream.getvalue()


def tables(schedule: Schedule) -> dict[str, Table]:
    """The tables by the names of their sheets."""
    return {
        "Hoops": _hoops(schedule, schedule.counts),
        "Before joining": _hoops(schedule, schedule.before_joining),
        "Placements": _placements(schedule),
        "Other members": _elsewhere(schedule),
        "Bag check": _bag(schedule),
        "Warnings": _warnings(schedule),
        "Questions": _questions(schedule),
        "Order of work": _order(schedule),
    }


def _hoops(schedule: Schedule, counts: dict[str, dict[str, int]]) -> Table:
    hoops = {hoop.id: hoop for hoop in schedule.structure.hoops}
    codes = codes_of(schedule)
    names = [name for name in fittings_of(schedule) if any(name in row for row in counts.values())]
    heads = {name: shown(name) + (f" ({shown(code)})" if (code := codes.get(name)) else "") for name in names}
    rows = []
    for id in hoop_ids(schedule):
        hoop = hoops.get(id)
        row: dict[str, Any] = {"hoop": id, "role": hoop.role if hoop else None, "station mm": hoop.station_mm if hoop else None}
        rows.append(row | {heads[name]: counts.get(id, {}).get(name, 0) for name in names})
    return table_of(rows, ("hoop", "role", "station mm", *heads.values()))


def _placements(schedule: Schedule) -> Table:
    """The table of the CSV file with its columns in another order, their names in words that can break."""
    table = placements_table(schedule, for_cells=shown)
    order = [table.columns.index(name) for name in (*_PLACEMENTS, *_FOLDED)]
    names = tuple(table.columns[index].replace("_", " ") for index in order)
    return Table(names, [[row[index] for index in order] for row in table.rows])


def _elsewhere(schedule: Schedule) -> Table:
    rows: list[dict[str, Value]] = [
        {"member": shown(member), "fitting": shown(name), "number": number}
        for member, row in schedule.elsewhere.items()
        for name, number in row.items()
    ]
    return table_of(rows, ("member", "fitting", "number"))


def _bag(schedule: Schedule) -> Table:
    rows = [
        {
            "fitting": shown(part.fitting),
            "code": shown(part.code) if part.code else None,
            "listed": part.listed,
            "needed": part.needed,
            "left over": part.difference,
            "result": bag_note(part),
        }
        for part in schedule.parts
    ]
    return table_of(rows, ("fitting", "code", "listed", "needed", "left over", "result"))


def _warnings(schedule: Schedule) -> Table:
    labels = {step.id: step.label or step.id for step in schedule.steps}
    rows = [
        {
            "id": finding.id,
            "warning": finding.code,
            "hoops": hoop_range(finding.hoops),
            "fitting": shown(finding.fitting or ""),
            "message": shown(finding.message),
            "advice": shown(finding.advice),
            "steps": ", ".join(shown(labels.get(id, id)) for id in finding.steps),
            "quotes": " | ".join(f"page {source.page}: {shown(source.quote)}" for source in finding.sources),
        }
        for finding in schedule.warnings
    ]
    return table_of(rows, ("id", "warning", "hoops", "fitting", "message", "advice", "steps", "quotes"))


def _questions(schedule: Schedule) -> Table:
    rows = [
        {
            "id": question.id,
            "about": question.about,
            "hoops": hoop_range(question.hoops),
            "fitting": shown(question.fitting or ""),
            "question": shown(question.message),
            "readings": " | ".join(shown(reading) for reading in question.readings),
            "assumed": shown(question.assumed or ""),
            "quote": f"page {question.source.page}: {shown(question.source.quote)}" if question.source else "",
            "answer": "",
        }
        for question in schedule.questions
    ]
    return table_of(rows, ("id", "about", "hoops", "fitting", "question", "readings", "assumed", "quote", "answer"))


def _order(schedule: Schedule) -> Table:
    known = {step.id: step for step in schedule.steps}
    rows: list[dict[str, Value]] = []
    for number, id in enumerate(schedule.work_order or tuple(known), 1):
        step = known.get(id)
        if step is not None:
            reasons = [move.reason for move in schedule.moves if move.step == id]
            label, section = shown(step.label or ""), shown(step.section or "")
            moved = " | ".join(f"moved: {shown(reason)}" for reason in reasons)
            rows.append({"order": number, "step": label, "section": section, "page": step.page, "text": shown(step.text), "moved": moved})
    return table_of(rows, ("order", "step", "section", "page", "text", "moved"))


def _write(table: Table, name: str, book: Any, styles: dict[str, Any], units: Units, title: str) -> None:
    """One sheet: frozen heads, a filter, columns wide enough, landscape, one page wide, heads repeated on every printed page."""
    sheet = book.add_worksheet(name)
    sheet.freeze_panes(1, 1)
    upright = _upright(table)
    widths = [5.0 if index in upright else _width(table, index) for index in range(len(table.columns))]
    for index, column in enumerate(table.columns):
        sheet.write_string(0, index, column[:_CELL_LIMIT], styles["upright" if index in upright else "head"])
    sheet.set_row(0, _head_height(table, upright, widths))
    for number, row in enumerate(table.rows, 1):
        # Not every program works out the height of a row whose words are broken into lines.
        sheet.set_row(number, _LINE * max(_lines(value, width) for value, width in zip(row, widths, strict=True)))
        for index, value in enumerate(row):
            style = "count" if index in upright else "text" if isinstance(value, str) else "number"
            sheet.write(number, index, value[:_CELL_LIMIT] if isinstance(value, str) else value, styles[style])
    _fold(sheet, table, widths, name == "Placements")
    if len(table.columns):
        sheet.autofilter(0, 0, max(len(table.rows), 1), len(table.columns) - 1)
    _print_setup(sheet, units, title, name)
    sheet.repeat_rows(0)


def _fold(sheet: Any, table: Table, widths: list[float], placements: bool) -> None:
    """Set the columns' widths; on the sheet of placements the last ones, and those in which nothing stands, are folded away."""
    last = len(table.columns) - len(_FOLDED)
    for index, width in enumerate(widths):
        empty = table.rows and all(row[index] is None for row in table.rows)
        folded = placements and (index >= last or (empty and table.columns[index] in ("code", "option")))
        sheet.set_column(index, index, width, None, {"level": 1, "hidden": True} if folded else {})
    if placements:
        sheet.set_column(len(widths), len(widths), None, None, {"collapsed": True})


def _upright(table: Table) -> set[int]:
    """The columns whose heads stand upright: those of whole numbers, where there are many."""
    rows = table.rows
    columns = {index for index in range(1, len(table.columns)) if rows and all(isinstance(row[index], int) for row in rows)}
    return columns if len(columns) > _MANY else set()


def _head_height(table: Table, upright: set[int], widths: list[float]) -> float:
    level = _LINE * max((_lines(table.columns[i], width - 3) for i, width in enumerate(widths) if i not in upright), default=1)
    tall = min(7.0 * max((len(table.columns[i]) for i in upright), default=0), 200.0)  # a longer head breaks into two lines
    return max(level, tall)


def _width(table: Table, index: int) -> float:
    """In letters, with room for the filter's arrow beside the head."""
    column = table.columns[index]
    cells = [len(str(row[index])) for row in table.rows if row[index] is not None]
    longest_word = max((len(word) for word in column.split()), default=4)
    most = max([longest_word + 3, *cells, 6, _ANSWER if column == "answer" else 0])
    return float(min(most, max(_WIDEST.get(column, 30), longest_word + 3)) + 1)


def _lines(value: Value, width: float) -> int:
    """On how many lines a cell ``width`` letters wide holds the value; running text has narrower letters than the width counts."""
    return _wrapped(value, max(int(width), 1)) if isinstance(value, str) and len(value) > width else 1


@lru_cache(maxsize=4096)  # the same words stand in many rows
def _wrapped(text: str, letters: int) -> int:
    return len(textwrap.wrap(text, letters)) or 1


def _print_setup(sheet: Any, units: Units, title: str, name: str) -> None:
    sheet.set_landscape()
    sheet.set_paper(_PAPER[units])
    sheet.fit_to_pages(1, 0)
    sheet.set_margins(left=0.4, right=0.4, top=0.7, bottom=0.6)  # inches: a wide table needs the room
    # "&" starts a code in heads and feet of printed pages; doubled it stands for itself.
    head = clipped(title, 80).replace("&", "&&")
    sheet.set_header(f"&L{head}&R{name}")
    sheet.set_footer("&LThe manual, local codes and licensed practice come first.&R&P / &N")


def _write_care(schedule: Schedule, book: Any, styles: dict[str, Any], units: Units) -> None:
    """The last sheet: what the frame is, and what can hurt people."""
    sheet = book.add_worksheet("Take care")
    sheet.set_column(0, 0, 110, styles["wrap"])
    lines = [structure_line(schedule, units), LIMITS]
    lines += [f"The manual says, page {source.page}: {shown(source.quote)}" for source in schedule.cautions]
    lines += [f"{caution.heading}. {caution.text}" for caution in CAUTIONS]
    sheet.write_string(0, 0, clipped(shown(schedule.title), 200) or "Fitting schedule", styles["title"])
    for row, line in enumerate(lines, 1):
        sheet.set_row(row, _LINE * _lines(line, 110))
        sheet.write_string(row, 0, line[:_CELL_LIMIT])
    _print_setup(sheet, units, shown(schedule.title), "Take care")
