"""The workbook, reopened with openpyxl: real numbers, no formulas, heads frozen, ready to print."""

from __future__ import annotations

import io
from typing import Any

import openpyxl
import pytest
from hoopwright.model.schedule import Schedule
from hoopwright.reporting.as_csv import placements_table
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
        assert (row["id"], row["fitting"], row["quantity"], row["thread order"]) == (
            item.id,
            item.fitting,
            item.quantity,
            item.thread_order,
        )
        assert (row["along mm"] is None) == (item.along_mm is None)
        if item.along_mm is not None:
            assert row["along mm"] == pytest.approx(item.along_mm)


def test_placements_have_all_columns_of_the_csv_file_the_least_needed_last_and_folded() -> None:
    sheet = _open(factory.thirty())["Placements"]
    heads = [cell.value for cell in sheet[1]]
    assert sorted(heads) == sorted(name.replace("_", " ") for name in placements_table(factory.thirty()).columns)
    columns = _columns(sheet)
    folded = {head for number, head in enumerate(heads, 1) if columns[number].hidden}
    assert heads[-4:] == ["along mm", "id", "step", "document"]
    assert set(heads[-4:]) <= folded <= {*heads[-4:], "code", "option"}
    assert all((columns[number].outlineLevel == 1) == (head in folded) for number, head in enumerate(heads, 1))


def _columns(sheet: Any) -> dict[int, Any]:
    """Width and outline of each column by its number; the file tells columns that are alike and side by side once."""
    return {number: each for each in sheet.column_dimensions.values() for number in range(each.min, each.max + 1)}


def _printed_width(sheet: Any) -> float:
    """In letters; Excel's usual font sets some 1.9 mm a letter."""
    columns = _columns(sheet)
    return sum(columns[number].width for number in range(1, sheet.max_column + 1) if not columns[number].hidden)


def test_no_printed_sheet_is_shrunk_below_seven_points() -> None:
    """A landscape A4 page is 277 mm wide between its margins of 10 mm; the usual size is 11 points."""
    book = _open(factory.thirty())
    for name in SHEETS[:-1]:
        assert 11 * 277 / (1.9 * max(_printed_width(book[name]), 1)) >= 7, name


@BOTH
def test_rows_are_as_high_as_their_longest_cell_needs(schedule: Schedule) -> None:
    """Programs that do not work out a row's height would print one line of words over another."""
    for sheet in list(_open(schedule))[:-1]:
        columns = _columns(sheet)
        for row in sheet.iter_rows(min_row=2):
            for cell in row:
                if isinstance(cell.value, str):
                    lines = len(cell.value) / columns[cell.column].width
                    height = sheet.row_dimensions[cell.row].height or 15  # the usual height is not written
                    assert height >= 15 * lines, (sheet.title, cell.coordinate)


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
