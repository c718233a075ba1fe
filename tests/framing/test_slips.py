"""Correction slips: what they say takes the place of what the step said, at the time of that step, and raises no conflict."""

from __future__ import annotations

import pytest
from hoopwright.framing import frame
from hoopwright.grammar import load_grammar
from hoopwright.outlining import outline
from hoopwright.parsing import parse
from hoopwright.scheduling import schedule
from parsing.mini import document, manual, row, scheduled

STEPS = [
    "Slide one ridge clip (RC) onto the crown tube of each hoop.",
    "Slide two lamp rings (LR) onto the left leg of each hoop.",
    "Join the tubes of each hoop.",
    "Stand the hoops.",
]
ONE, THREE = [1] * 6, [3] * 6


@pytest.mark.parametrize(
    ("slip", "rings"),
    [
        ("CORRECTIONS\n\nStep 2: one lamp ring on the left leg of each hoop.", ONE),
        ("CORRECTIONS\n\nStep 2: one lamp ring (LR) on each hoop, not two.", ONE),
        ("CORRECTION SLIP\n\nStep 2: Slide one lamp ring (LR) onto the left leg of each hoop.", ONE),
        ("ERRATA\n\nStep 2. Slide one lamp ring (LR) onto the left leg of each hoop.", ONE),
        ("AMENDMENTS\n\nStep 2 - Slide one lamp ring (LR) onto the left leg of each hoop.", ONE),
        ("CORRECTIONS\n\nStep 2\n\nSlide one lamp ring (LR) onto the left leg of each hoop.", ONE),
        ("CORRECTIONS\n\nIn step 2, use one lamp ring (LR) per hoop in place of two.", ONE),
        ("CORRECTIONS\n\nUse one lamp ring (LR) per hoop instead of two.", ONE),
        ("CORRECTIONS\n\nEach hoop now takes three lamp rings (LR).", THREE),
        ("CORRECTIONS\n\nStep 2. The rings have changed. Fit three lamp rings (LR) to each hoop.", THREE),
        ("CORRECTIONS\n\nStep 2: Slide three lamp rings (LR) onto the left leg of hoop 4.", [2, 2, 2, 3, 2, 2]),
        ("AMENDMENT SHEET to the tunnel manual\n\nStep 2: slide three lamp rings onto the left leg of each hoop instead of two.", THREE),
        ("Errata to the manual of this tunnel\n\nStep 2: put one lamp ring on the left leg instead of two.", ONE),
        ("CORRECTIONS\n\nStep 2: one further lamp ring (LR) goes on the left leg of hoop 4.", [2, 2, 2, 3, 2, 2]),
        ("NOTES\n\nThe lamp rings of step 2 can be painted.", [2] * 6),
    ],
)
def test_a_slip_replaces_what_it_corrects(slip: str, rings: list[int]) -> None:
    found = scheduled(manual(STEPS, after=slip))
    assert row(found, "lamp ring") == rings
    assert row(found, "ridge clip") == ONE
    assert "conflict" not in {finding.code for finding in found.warnings}


@pytest.mark.parametrize(
    "said", ["Step 2: one lamp ring on the left leg of each hoop.", "Use one lamp ring (LR) per hoop in place of two."]
)
def test_what_is_corrected_is_done_when_its_step_is_done(said: str) -> None:
    found = scheduled(manual(STEPS, after=f"CORRECTIONS\n\n{said}"))
    assert [finding for finding in found.warnings if finding.code == "trapped"] == []
    labels = {step.id: step.label for step in found.steps}
    assert {labels[each.step] for each in found.placements if each.fitting == "lamp ring"} == {"2"}
    assert {each.source.quote for each in found.placements if each.fitting == "lamp ring"} == {said}


def test_a_slip_may_number_its_own_lines() -> None:
    found = scheduled(manual(STEPS, after="CORRECTIONS\n\n1. In step 2, three lamp rings (LR) go on each hoop.\n\n2. Wear gloves."))
    assert row(found, "lamp ring") == THREE
    assert row(found, "ridge clip") == ONE


@pytest.mark.parametrize(
    ("sheet", "rings"),
    [
        (
            "AMENDMENT SHEET to the manual\n\nStep 2: slide three lamp rings onto the left leg of each hoop instead of two.\n\n"
            "All other steps stay as they are.",
            THREE,
        ),
        ("Correction note for the growing tunnel\n\nStep 2: slide one lamp ring onto the left leg of each hoop instead of two.", ONE),
        ("Note to the manual\n\nThe lamp rings of step 2 can be painted.", [2] * 6),
    ],
)
def test_a_sheet_of_its_own_amends_the_manual(sheet: str, rings: list[int]) -> None:
    contents = outline([document(manual(STEPS)), document(sheet, "D2")])
    read = parse(contents, load_grammar())
    found = schedule(frame(contents, read.facts, read.parts, read.sentences, read.member_numbers, frozenset()))
    assert row(found, "lamp ring") == rings
    assert row(found, "ridge clip") == ONE
    assert [question.about for question in found.questions] == []
