"""The workbook, reopened with openpyxl: real numbers, no formulas, heads frozen, ready to print."""

from __future__ import annotations

import io
from typing import Any

import openpyxl
import pytest
from hoopwright.model.schedule import Schedule
from hoopwright.reporting.as_workbook import workbook

from reporting import factory
from reporting.test_json import EMPTY

SHEETS = ["Hoops", "Before joining", "Placements", "Other members", "Bag check", "Warnings", "Questions", "Order of work", "Take care"]
BOTH = pytest.mark.parametrize("schedule", [factory.five(), factory.thirty()], ids=["five", "thirty"])
ALL = pytest.mark.parametrize(
    "schedule", [factory.five(), factory.thirty(), factory.hostile(), EMPTY], ids=["five", "thirty", "hostile", "empty"]
)


def _open(schedule: Schedule, units: str = "metric") -> Any:
    return openpyxl.load_workbook(io.BytesIO(workbook(schedule, units)))  # type: ignore[arg-type]


def _rows(sheet: Any) -> list[dict[str, Any]]:
    head, *rows = sheet.iter_rows(values_only=True)
    return [dict(zip(head, row, strict=True)) for row in rows]


@BOTH
@pytest.mark.parametrize("name", ["Hoops", "Before joining"])
def test_hoop_tables_equal_the_schedule(schedule: Schedule, name: str) -> None:
    codes = {part.fitting: part.code for part in schedule.parts}
    heads = {fitting + (f" ({code})" if code else ""): fitting for fitting, code in codes.items()}
    counts = schedule.counts if name == "Hoops" else schedule.before_joining
    rows = _rows(_open(schedule)[name])
    assert [row["hoop"] for row in rows] == [hoop.id for hoop in schedule.structure.hoops]
    for row in rows:
        numbers = {heads[head]: number for head, number in row.items() if head in heads}
        assert all(type(number) is int for number in numbers.values())
        assert {fitting: number for fitting, number in numbers.items() if number} == counts.get(row["hoop"], {})


@BOTH
def test_placements_equal_the_schedule(schedule: Schedule) -> None:
    rows = _rows(_open(schedule)["Placements"])
    for row, item in zip(rows, schedule.placements, strict=True):
        assert (row["id"], row["fitting"], row["quantity"], row["thread_order"]) == (
            item.id,
            item.fitting,
            item.quantity,
            item.thread_order,
        )
        assert (row["along_mm"] is None) == (item.along_mm is None)
        if item.along_mm is not None:
            assert row["along_mm"] == pytest.approx(item.along_mm)


@BOTH
def test_bag_check_equals_the_schedule(schedule: Schedule) -> None:
    rows = _rows(_open(schedule)["Bag check"])
    for row, part in zip(rows, schedule.parts, strict=True):
        assert (row["fitting"], row["listed"], row["needed"], row["left over"]) == (part.fitting, part.listed, part.needed, part.difference)


@ALL
def test_no_cell_is_a_formula_or_holds_a_control_character(schedule: Schedule) -> None:
    book = _open(schedule)
    assert book.sheetnames == SHEETS
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                assert cell.data_type != "f"
                assert cell.hyperlink is None
                if isinstance(cell.value, str):
                    assert not any(ord(character) < 32 for character in cell.value)


@ALL
@pytest.mark.parametrize(("units", "paper"), [("metric", 9), ("imperial", 1)])
def test_sheets_are_set_up_for_screen_and_print(schedule: Schedule, units: str, paper: int) -> None:
    book = _open(schedule, units)
    for name in SHEETS:
        sheet = book[name]
        assert sheet.page_setup.paperSize == paper
        assert sheet.page_setup.orientation == "landscape"
        assert (sheet.page_setup.fitToWidth or 1, sheet.page_setup.fitToHeight) == (1, 0)  # 1 is the default, left out
        if name != "Take care":
            assert sheet.freeze_panes == "B2"
            assert sheet.auto_filter.ref
            assert sheet.print_title_rows == "$1:$1"


def test_hostile_text_is_there_as_text() -> None:
    book = _open(factory.hostile())
    names = {row["fitting"] for row in _rows(book["Placements"])}
    assert {"=cmd|' /C calc'!A0", "<script>alert(1)</script>", "-2 clip  of two lines"} <= names


def test_two_runs_make_the_same_bytes() -> None:
    assert workbook(factory.five()) == workbook(factory.five())
