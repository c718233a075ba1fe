"""``schedule.json``: exactly the promised format, checked at every write."""

from __future__ import annotations

import copy
import json
from dataclasses import replace
from importlib.resources import files
from typing import Any

import pytest
from hoopwright.model.schedule import DocumentInfo, Schedule, Structure
from hoopwright.reporting.as_json import ScheduleFormatError, check, to_dict, to_json, validator
from jsonschema import Draft202012Validator

from reporting import factory

EMPTY = Schedule((DocumentInfo("D1", "empty.txt", 1, "0" * 64),), Structure(()), (), (), {}, {}, {}, (), (), ())


@pytest.mark.parametrize(
    "schedule", [factory.five(), factory.thirty(), factory.hostile(), EMPTY], ids=["five", "thirty", "hostile", "empty"]
)
def test_every_schedule_is_valid_and_reads_back_the_same(schedule: Schedule) -> None:
    data = json.loads(to_json(schedule))
    check(data)
    assert data == to_dict(schedule)


def test_the_schema_is_itself_a_valid_schema() -> None:
    schema = json.loads((files("hoopwright.reporting") / "schedule.schema.json").read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(schema)
    assert list(Draft202012Validator(schema).iter_errors(to_dict(factory.five()))) == []
    Draft202012Validator.check_schema(dict(validator().schema))


def test_keys_are_those_of_the_format_and_no_others() -> None:
    data = to_dict(factory.five())
    assert list(data) == [
        *(
            "schema",
            "documents",
            "structure",
            "steps",
            "placements",
            "counts",
            "elsewhere",
            "before_joining",
            "parts",
            "warnings",
            "questions",
        ),
    ]
    assert set(data["placements"][0]) == {
        *("id", "fitting", "code", "quantity", "hoop", "member", "section", "side", "datum", "offset_mm", "along_mm", "when"),
        *("thread_order", "step", "source", "option", "assumed"),
    }
    assert set(data["placements"][0]["source"]) == {"document", "page", "quote"}
    assert set(data["structure"]) == {
        *("hoops", "width_mm", "height_mm", "length_mm", "spacing_mm", "sections_per_hoop", "shape"),
    }
    assert set(data["questions"][0]) == {"id", "about", "fitting", "hoops", "step", "message", "readings", "assumed"}
    assert set(data["warnings"][0]) == {"id", "code", "fitting", "hoops", "steps", "message", "advice"}
    assert set(data["parts"][0]) == {"fitting", "code", "listed", "needed", "difference"}
    assert set(data["steps"][0]) == {"id", "document", "label", "section", "option", "page", "text"}


def _change(data: dict[str, Any], path: tuple[str | int, ...], value: Any) -> dict[str, Any]:
    changed = copy.deepcopy(data)
    spot: Any = changed
    for part in path[:-1]:
        spot = spot[part]
    spot[path[-1]] = value
    return changed


@pytest.mark.parametrize(
    ("path", "value"),
    [
        (("schema",), "hoopwright/schedule/2"),
        (("extra",), 1),
        (("documents", 0, "id"), "1"),
        (("documents", 0, "sha256"), "abc"),
        (("structure", "hoops", 0, "id"), "H0"),
        (("structure", "hoops", 0, "role"), "middle"),
        (("structure", "width_mm"), "4 m"),
        (("placements", 0, "quantity"), 0),
        (("placements", 0, "quantity"), 1.5),
        (("placements", 0, "when"), "later"),
        (("placements", 0, "side"), "front"),
        (("placements", 0, "datum"), "somewhere"),
        (("placements", 0, "thread_end"), "left"),
        (("placements", 0, "source", "start"), 3),
        (("placements", 0, "along_mm"), -1),
        (("counts", "H1", "ridge clamp"), "2"),
        (("counts", "hoop 1"), {}),
        (("warnings", 0, "code"), "odd"),
        (("questions", 0, "about"), "weather"),
        (("parts", 0, "needed"), None),
    ],
)
def test_what_breaks_the_format_is_refused(path: tuple[str | int, ...], value: Any) -> None:
    with pytest.raises(ScheduleFormatError, match=r"schedule\.json"):
        check(_change(to_dict(factory.five()), path, value))


def test_a_missing_key_is_refused() -> None:
    data = to_dict(factory.five())
    del data["placements"][0]["assumed"]
    with pytest.raises(ScheduleFormatError, match="placements/0"):
        check(data)


def test_half_a_surrogate_pair_does_not_stop_the_write() -> None:
    schedule = factory.five()
    broken = replace(schedule, steps=(replace(schedule.steps[0], text="half \ud83d here"), *schedule.steps[1:]))
    assert "half ? here" in to_json(broken)
