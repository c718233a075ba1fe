"""The two CSV files: read back equal to the schedule, and harmless."""

from __future__ import annotations

import csv
import io

import pytest
from hoopwright.model.schedule import Schedule
from hoopwright.reporting.as_csv import as_csv, hoops_table, placements_table

from reporting import factory
from reporting.test_json import EMPTY


def _rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


@pytest.mark.parametrize("schedule", [factory.five(), factory.thirty()], ids=["five", "thirty"])
def test_placements_read_back(schedule: Schedule) -> None:
    rows = _rows(as_csv(placements_table(schedule)))
    assert len(rows) == len(schedule.placements)
    for row, item in zip(rows, schedule.placements, strict=True):
        assert (row["id"], row["fitting"], row["hoop"], row["step"]) == (item.id, item.fitting, item.hoop or "", item.step)
        assert int(row["quantity"]) == item.quantity
        assert row["along_mm"] == "" if item.along_mm is None else float(row["along_mm"]) == pytest.approx(item.along_mm)
        assert row["thread_order"] == ("" if item.thread_order is None else str(item.thread_order))
        assert int(row["page"]) == item.source.page


@pytest.mark.parametrize("schedule", [factory.five(), factory.thirty()], ids=["five", "thirty"])
def test_hoops_read_back(schedule: Schedule) -> None:
    rows = _rows(as_csv(hoops_table(schedule)))
    assert [row["hoop"] for row in rows] == [hoop.id for hoop in schedule.structure.hoops]
    for row in rows:
        counts = {name: int(row[name]) for name in row if name not in ("hoop", "role", "station_mm") and ":" not in name}
        before = {name.removeprefix("before joining: "): int(row[name]) for name in row if name.startswith("before joining: ")}
        assert {name: number for name, number in counts.items() if number} == schedule.counts[row["hoop"]]
        assert {name: number for name, number in before.items() if number} == schedule.before_joining.get(row["hoop"], {})


def test_no_cell_can_act_as_a_formula_and_none_holds_a_control_character() -> None:
    schedule = factory.hostile()
    for table in (placements_table(schedule), hoops_table(schedule)):
        text = as_csv(table)
        for row in csv.reader(io.StringIO(text)):
            assert not any(value.lstrip().startswith(("=", "+", "-", "@")) for value in row)
            assert not any(ord(character) < 32 for value in row for character in value)


def test_numbers_stay_numbers() -> None:
    table = placements_table(factory.five())
    assert {type(value) for value in table.column("quantity")} == {int}
    assert {type(value) for value in table.column("along_mm") if value is not None} == {float}
    assert ",900,900," in as_csv(table)


def test_an_empty_schedule_still_has_its_heads() -> None:
    assert as_csv(placements_table(EMPTY)).startswith("id,hoop,member,")
    assert as_csv(hoops_table(EMPTY)) == "hoop,role,station_mm\n"
