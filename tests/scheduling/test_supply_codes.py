"""``short`` and ``unlisted``: four ways and more to raise each, and what is near."""

from __future__ import annotations

from typing import Any

import pytest
from hoopwright.scheduling import schedule

from .kits import Kit

Call = tuple[str, dict[str, Any]]


def found(
    parts: dict[str, dict[str, Any]], calls: list[Call], options: tuple[str, ...] = ()
) -> list[tuple[str, str | None, tuple[str, ...]]]:
    kit = Kit(hoops=4, options=options)
    for name, more in parts.items():
        kit.part(name, more.pop("form", "open"), **more)
    for name, more in calls:
        kit.step(f"Fit the {name}.")
        kit.call(name, more.pop("hoops", None), **more)
    return [(finding.code, finding.fitting, finding.hoops) for finding in schedule(kit.frame()).warnings]


ALL = ("H1", "H2", "H3", "H4")


@pytest.mark.parametrize(
    ("listed", "calls", "hoops"),
    [
        (3, [("hose clip", {})], ALL),
        (6, [("hose clip", {}), ("hose clip", {"hoops": [2, 3], "quantity": 2})], ALL),
        (4, [("hose clip", {}), ("hose clip", {"hoops": (), "member": "door post"})], ALL),
        (1, [("hose clip", {"hoops": (), "member": "rail", "quantity": 2})], ()),
        (5, [("hose clip", {"hoops": [1, 2]}), ("hose clip", {"hoops": [2, 4], "quantity": 2, "option": "vent"})], ("H1", "H2", "H4")),
    ],
)
def test_more_than_the_list_supplies_is_short(listed: int, calls: list[Call], hoops: tuple[str, ...]) -> None:
    assert found({"hose clip": {"listed": listed, "in_list": True}}, calls) == [("short", "hose clip", hoops)]


@pytest.mark.parametrize(
    ("parts", "calls"),
    [
        ({"hose clip": {"listed": 4, "in_list": True}}, [("hose clip", {})]),
        ({"hose clip": {"listed": 9, "in_list": True}}, [("hose clip", {}), ("hose clip", {})]),
        ({"hose clip": {"listed": None, "in_list": True}}, [("hose clip", {"quantity": 50})]),
        ({"hose clip": {"listed": 4, "in_list": True}}, [("hose clip", {}), ("hose clip", {"quantity": 0})]),
        (
            {"hose clip": {"listed": 4, "in_list": True}, "hose strap": {"listed": 4, "in_list": True}},
            [("hose clip", {}), ("hose strap", {})],
        ),
    ],
)
def test_what_the_list_covers_is_not_short(parts: dict[str, dict[str, Any]], calls: list[Call]) -> None:
    assert found(parts, calls) == []


LISTED = {"ridge ring": {"listed": 4, "in_list": True}}


@pytest.mark.parametrize(
    ("calls", "part", "hoops"),
    [
        ([("foam pad", {})], "foam pad", ALL),
        ([("foam pad", {"hoops": [3]})], "foam pad", ("H3",)),
        ([("rail stop", {"hoops": (), "member": "film rail", "quantity": 6})], "rail stop", ()),
        ([("foam pad", {"hoops": [1]}), ("foam pad", {"hoops": [4]})], "foam pad", ("H1", "H4")),
    ],
)
def test_a_part_that_the_list_lacks_is_unlisted(calls: list[Call], part: str, hoops: tuple[str, ...]) -> None:
    assert found(LISTED | {"ridge ring": {"listed": 4, "in_list": True}}, [("ridge ring", {}), *calls]) == [("unlisted", part, hoops)]


@pytest.mark.parametrize(
    ("parts", "calls"),
    [
        ({"foam pad": {"listed": None, "in_list": True}}, [("foam pad", {})]),
        ({"foam pad": {}}, [("foam pad", {})]),
        ({"foam pad": {"listed": 4, "in_list": True}, "rail stop": {}}, [("foam pad", {}), ("rail stop", {"quantity": 0})]),
        ({"foam pad": {"listed": 4, "in_list": True}, "rail stop": {}}, [("foam pad", {})]),
    ],
)
def test_what_is_not_unlisted(parts: dict[str, dict[str, Any]], calls: list[Call]) -> None:
    assert found(parts, calls) == []
