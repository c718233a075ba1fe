"""Whole manuals against reference readings that people made, by the rules of ``tests/score.py``.

Every row is printed at the end of the run, whether the test passes or not.
"""

from __future__ import annotations

from collections import Counter

import pytest
from hoopwright.api import build_schedule
from hoopwright.model.errors import NotAManual
from hoopwright.reporting.as_json import check
from rows import Rows

import score
from library import (
    CORPUS,
    EXAMPLES,
    HELD_OUT,
    LATEST,
    NEWEST,
    RETOLD,
    SAMPLES,
    UNRELATED,
    UNSEEN,
    Kit,
    scored,
    shortcomings,
    total,
    written,
)

APART = [*HELD_OUT, *UNSEEN, *NEWEST, *LATEST, *RETOLD]
GROUPS = {"examples": EXAMPLES, "corpus": CORPUS}
# The least count F1 and the most silent mistakes of manuals that were written apart from the parser: a little below what they have
# today, so that a fall fails. Raise a floor when its manual is read better.
FLOORS = {
    "h1-method-statement": (0.99, 0),
    "h2-us-bows": (0.99, 0),
    "h3-passive-arches": (0.99, 0),
    "h4-club-bundle": (0.99, 0),
    "d1-bow-house": (0.99, 0),
    "d2-field-edge": (0.99, 0),
    "d3-school-ribs": (0.99, 0),
    "d4-orchard-ten": (0.98, 2),
    "d5-market-bundle": (0.99, 0),
    "d6-prairie-twelve": (0.99, 0),
    "f1-plot-four": (0.99, 0),
    "f2-county-nine": (0.99, 0),
    "f3-lane-notes": (0.99, 0),
    "f4-spec-eleven": (0.99, 0),
    "g1-numbered-uk": (0.99, 0),
    "g2-lettered-us": (0.94, 0),
    "g3-captions-cm": (0.99, 0),
    "g4-matrix-us": (0.99, 0),
    "g5-paragraphs": (0.99, 0),
    "g6-leaflets": (0.99, 0),
    "k1-bullets-codes": (0.99, 0),
    "k2-bold-leads": (0.97, 0),
    "k3-clauses-corrections": (0.97, 0),
    "k4-allotment-sheet": (0.99, 0),
    "k5-maker-letter": (0.98, 0),
    "k6-arches-terse": (0.96, 0),
    "l1-school-sheet": (0.99, 0),
    "l2-farm-store": (0.93, 0),
    "l3-smallholder": (0.96, 0),
    "l4-step-parts-lines": (0.96, 2),
    "l5-grower-prose": (0.89, 0),
    "l6-workshop-card": (0.77, 0),
    "m1-propagation-uk": (0.99, 0),
    "m2-high-tunnel-us": (0.97, 0),
    "m3-bundle-arches": (0.83, 0),
    "m4-doubtful-growers": (0.93, 0),
    "n1-bean-arcade": (0.99, 0),
    "n2-orchard-walk": (0.95, 0),
    "n4-long-house": (0.99, 0),
    "p1-clipbags": (0.99, 0),
    "p2-farmbows": (0.99, 0),
    "p3-webribs": (0.99, 0),
    "p4-archbundle": (0.98, 0),
    "q1-jobcards": (0.99, 0),
    "q2-translated": (0.99, 0),
    "q3-us-kit": (0.99, 0),
    "q4-weekend": (0.99, 0),
    "r1-society": (0.99, 0),
    "r2-extension": (0.99, 0),
    "r3-clauses": (0.97, 0),
    "t1-job-cards": (0.99, 0),
    "t2-checkbox-ribs": (0.80, 2),
    "t3-frames-bundle": (0.98, 0),
    "t4-three-evenings": (0.94, 0),
    "t5-key-numbers": (0.99, 0),
    "t6-two-teams": (0.73, 6),
    "u1-chitting-ribs": (0.99, 0),
    "u2-handout-arches": (0.99, 0),
    "u3-binder-cm": (0.92, 0),
    "u4-long-bows": (0.99, 0),
    "u6-card-deck": (0.99, 0),
    "v1-ten-bows": (0.99, 0),
    "v2-grower-notes": (0.86, 0),
    "v3-school-cards": (0.99, 0),
    "v4-bundle-twelve": (0.97, 0),
    "v5-extension-guide": (0.99, 0),
    "v6-translated": (0.99, 0),
    "w1-arch-netting": (0.99, 0),
    "w2-shade-house": (0.95, 0),
    "w3-lending-tunnel": (0.97, 0),
    "w4-potting-house": (0.75, 0),
    "x1-bean-tunnel-bundle": (0.99, 0),
    "x2-shared-plot-ribs": (0.99, 0),
    "x3-six-arches-translated": (0.94, 0),
    "x4-fern-house-repeats": (0.97, 0),
    "y1-tree-house": (0.83, 0),
    "y2-seedling-bullets": (0.71, 4),
    "y3-hen-shelter": (0.99, 0),
    "y4-cycle-shelter": (0.97, 0),
    "y5-flower-list": (0.89, 0),
    "y6-member-letter": (0.99, 0),
    "a1-sapling-house": (0.97, 1),
    "a2-seedling-tunnel": (0.76, 0),
    "a3-garden-hens": (0.82, 10),
    "a4-cycle-arches": (0.94, 0),
    "a5-flower-frames": (0.97, 0),
    "a6-pond-plants": (0.98, 0),
    "b1-fruit-walk": (0.99, 0),
    "b2-metric-shade": (0.82, 2),
    "b3-tunnel-cards": (0.67, 0),
    "b4-forty-sentences": (0.94, 0),
    "b5-terse-plot": (0.51, 0),
    "b6-fern-stages": (0.81, 0),
    "z1-handbook-chapter": (0.97, 0),
    "z2-stages-leaflet": (0.86, 0),
    "z3-method-statement": (0.97, 0),
    "z4-shelter-papers": (0.99, 0),
    "z5-plain-words": (0.99, 0),
    "z6-extension-bulletin": (0.94, 0),
}


def test_no_manual_has_been_lost() -> None:
    assert [len(SAMPLES), len(EXAMPLES), len(CORPUS), len(UNRELATED)] == [3, 6, 8, 2]
    assert [len(HELD_OUT), len(UNSEEN), len(NEWEST), len(LATEST), len(RETOLD)] == [4, 6, 33, 32, 24]
    assert set(FLOORS) == {kit.name for kit in APART}


@pytest.mark.parametrize("kit", SAMPLES, ids=lambda kit: kit.name)
def test_sample_manuals_are_read_without_a_mistake(kit: Kit, record_row: Rows) -> None:
    row = scored(kit)
    record_row.append(score.line(kit.name, row))
    assert row["hoops_right"]
    assert score.f1(*row["count"]) == 1.0, shortcomings(row)
    assert not row["silent"], shortcomings(row)
    assert score.f1(*row["before"]) == 1.0


@pytest.mark.parametrize("kit", [*EXAMPLES, *CORPUS], ids=lambda kit: kit.name)
def test_every_manual_has_the_right_number_of_hoops(kit: Kit, record_row: Rows) -> None:
    row = scored(kit)
    record_row.append(score.line(kit.name, row))
    assert row["hoops_right"]


@pytest.mark.parametrize("name", GROUPS)
def test_counts_of_a_group_of_manuals(name: str, record_row: Rows) -> None:
    row = total(GROUPS[name])
    record_row.append(score.line(f"ALL {name}", row))
    wrong = "".join(f"\n{kit.name}{shortcomings(scored(kit))}" for kit in GROUPS[name] if scored(kit)["wrong"])
    assert score.f1(*row["count"]) >= 0.95, wrong
    assert len(row["silent"]) <= 3, wrong


@pytest.mark.parametrize("kit", APART, ids=lambda kit: kit.name)
def test_a_manual_written_apart_is_read_no_worse_than_before(kit: Kit, record_row: Rows) -> None:
    row = scored(kit)
    record_row.append(score.line(kit.name, row))
    floor, silent = FLOORS[kit.name]
    assert row["hoops_right"]
    assert score.f1(*row["count"]) >= floor, shortcomings(row)
    assert len(row["silent"]) <= silent, shortcomings(row)


@pytest.mark.parametrize("kit", APART, ids=lambda kit: kit.name)
def test_a_manual_written_apart_gives_a_whole_schedule(kit: Kit) -> None:
    """What the figures do not show: every number stands on a hoop that there is, under a step that there is, and the sums agree."""
    found = written(kit)
    check(found)
    hoops = [hoop["id"] for hoop in found["structure"]["hoops"]]
    assert len(hoops) == len(set(hoops)) > 0
    placed: Counter[tuple[str, str]] = Counter()
    for placement in found["placements"]:
        if placement["hoop"]:
            placed[placement["hoop"], placement["fitting"]] += placement["quantity"]
    counted = {(hoop, fitting): n for hoop, row in found["counts"].items() for fitting, n in row.items() if n}
    assert placed == counted
    assert set(found["counts"]) <= set(hoops)
    steps = {step["id"] for step in found["steps"]}
    assert steps
    assert {placement["step"] for placement in found["placements"]} <= steps


@pytest.mark.parametrize("kit", UNRELATED, ids=lambda kit: kit.name)
def test_instructions_for_something_else_are_turned_away(kit: Kit) -> None:
    with pytest.raises(NotAManual):
        build_schedule([kit.manual])
