"""Whole manuals against reference readings that people made, by the rules of ``tests/score.py``.

Every row is printed at the end of the run, whether the test passes or not.
"""

from __future__ import annotations

import pytest
from hoopwright.api import build_schedule
from hoopwright.model.errors import NotAManual

import score
from library import CORPUS, EXAMPLES, SAMPLES, UNRELATED, Kit, scored, shortcomings, total

GROUPS = {"examples": EXAMPLES, "corpus": CORPUS}


def test_no_manual_has_been_lost() -> None:
    assert [len(SAMPLES), len(EXAMPLES), len(CORPUS), len(UNRELATED)] == [3, 6, 8, 2]


@pytest.mark.parametrize("kit", SAMPLES, ids=lambda kit: kit.name)
def test_sample_manuals_are_read_without_a_mistake(kit: Kit, record_row: list[str]) -> None:
    row = scored(kit)
    record_row.append(score.line(kit.name, row))
    assert row["hoops_right"]
    assert score.f1(*row["count"]) == 1.0, shortcomings(row)
    assert not row["silent"], shortcomings(row)
    assert score.f1(*row["before"]) == 1.0


@pytest.mark.parametrize("kit", [*EXAMPLES, *CORPUS], ids=lambda kit: kit.name)
def test_every_manual_has_the_right_number_of_hoops(kit: Kit, record_row: list[str]) -> None:
    row = scored(kit)
    record_row.append(score.line(kit.name, row))
    assert row["hoops_right"]


@pytest.mark.parametrize("name", GROUPS)
def test_counts_of_a_group_of_manuals(name: str, record_row: list[str]) -> None:
    row = total(GROUPS[name])
    record_row.append(score.line(f"ALL {name}", row))
    wrong = "".join(f"\n{kit.name}{shortcomings(scored(kit))}" for kit in GROUPS[name] if scored(kit)["wrong"])
    assert score.f1(*row["count"]) >= 0.95, wrong
    assert len(row["silent"]) <= 3, wrong


@pytest.mark.parametrize("kit", UNRELATED, ids=lambda kit: kit.name)
def test_instructions_for_something_else_are_turned_away(kit: Kit) -> None:
    with pytest.raises(NotAManual):
        build_schedule([kit.manual])
