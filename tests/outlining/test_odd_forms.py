"""Forms that only some manuals have: front matter, alerts, check boxes, drawn frames, entities, signal words without a mark."""

from __future__ import annotations

import pytest

from .mapping import check
from .pages import labels, outlined, shape


def test_front_matter_and_attributes() -> None:
    found = outlined("---\ntitle: House\nversion: 2\n---\n\n# The house {#top}\n\n## Fitting\n\n1. Slide.\n", "markdown")
    assert (found.title, [section.title for section in found.sections]) == ("The house", ["The house", "Fitting"])


def test_a_rule_at_the_top_is_no_front_matter() -> None:
    found = outlined("---\n\n# The house\n\n---\n\n1. Slide.\n", "markdown")
    assert (found.title, labels(found)) == ("The house", ["1"])


def test_alert_of_markdown() -> None:
    (step,) = outlined("1. Lift.\n\n> [!WARNING]\n> Wear gloves.\n", "markdown").steps
    assert shape(step) == [("text", "Lift."), ("callout warning", "Wear gloves.")]


def test_check_boxes_with_labels() -> None:
    found = outlined(
        "- [ ] **Step 1** — Slide one clip on:\n  1. from the left;\n  2. from the right.\n- [ ] **Step 2** — Stand it.\n", "markdown"
    )
    assert [(step.label, shape(step)) for step in found.steps] == [
        ("1", [("text", "Slide one clip on:"), ("bullet 11", "from the left;"), ("bullet 12", "from the right.")]),
        ("2", [("text", "Stand it.")]),
    ]


def test_title_in_a_frame() -> None:
    found = outlined("--------------------\n|    THE SHELTER   |\n--------------------\n\n1. Slide.\n")
    assert (found.title, labels(found)) == ("THE SHELTER", ["1"])


@pytest.mark.parametrize(
    ("text", "signal", "words"),
    [
        ("NOTE 1  Clips are closed.", "note", "Clips are closed."),
        ("WARNING Tube ends are sharp.", "warning", "Tube ends are sharp."),
        ("*** CAUTION: Clips are closed. ***", "caution", "Clips are closed."),
        ("N.B. Clips are closed.", "note", "Clips are closed."),
    ],
)
def test_signal_words(text: str, signal: str, words: str) -> None:
    (step,) = outlined(f"1. Lift.\n\n{text}\n").steps
    assert [(item.kind, item.signal, item.passage.text) for item in step.items[1:]] == [("callout", signal, words)]


def test_in_a_document_of_capitals_a_signal_word_wants_a_mark() -> None:
    found = outlined("1. LIFT THE HOOP OVER ITS TUBES.\n\n2. NOTE THE PLACE OF EACH CLIP AND WRITE IT DOWN.\n\n3. STAND THE HOOP.\n")
    assert [step.items[0].kind for step in found.steps] == ["text"] * 3


def test_heading_of_one_signal_word_is_a_callout() -> None:
    found = outlined("# T\n\n## Fitting\n\n1. Slide.\n\n### Note\n\nClips are closed.\n\n2. Stand.\n", "markdown")
    assert [(step.label, shape(step)) for step in found.steps] == [
        ("1", [("text", "Slide."), ("callout note", "Clips are closed.")]),
        ("2", [("text", "Stand.")]),
    ]


def test_entities_are_their_characters() -> None:
    found = outlined("# T\n\n1. Slide 1&frac12; in clips, 900&nbsp;mm up &amp; no more.\n", "markdown")
    assert found.steps[-1].text == "Slide 1½ in clips, 900 mm up & no more."
    assert check(found, whole=False)


def test_tags_alone_on_a_line_are_nothing() -> None:
    assert [step.text for step in outlined("# T\n\n<details>\n\nSpare clips.\n\n</details>\n", "markdown").steps] == ["Spare clips."]


def test_circled_numbers() -> None:
    assert labels(outlined("① Slide one clip on.\n② Join the hoop.\n③ Stand it.\n")) == ["1", "2", "3"]


def test_numbers_that_go_on_make_an_introduction_part_of_the_building() -> None:
    found = outlined("THE HOUSE\n\nBEFORE YOU START\n\n1. Count the clips.\n\n2. Peg out.\n\nRINGS\n\n3. Slide.\n\n4. Stand.\n")
    assert [section.role for section in found.sections] == ["build", "build", "build"]


def test_numbers_that_start_again_leave_it_an_introduction() -> None:
    found = outlined("THE HOUSE\n\nBEFORE YOU START\n\n1. Count the clips.\n\n2. Peg out.\n\nRINGS\n\n1. Slide.\n\n2. Stand.\n")
    assert [section.role for section in found.sections] == ["build", "intro", "build"]


BOX = "    +------------------------+\n    | KIT  {kit:17} |\n    +------------------------+\n"


def test_bare_step_numbers_over_drawn_boxes() -> None:
    found = outlined(
        f"THE TUNNEL\n\nFITTING\n\n1   Lay the hoops flat.\n{BOX.format(kit='4 ridge eyes')}\n"
        f"2   Take hoop 2 and slide a band over\n    each end.\n{BOX.format(kit='2 stay bands')}\n"
        f"3   Stand it.\n{BOX.format(kit='your eyes')}"
    )
    assert [(step.label, shape(step)) for step in found.steps] == [
        ("1", [("text", "Lay the hoops flat."), ("callout", "KIT 4 ridge eyes")]),
        ("2", [("text", "Take hoop 2 and slide a band over each end."), ("callout", "KIT 2 stay bands")]),
        ("3", [("text", "Stand it."), ("callout", "KIT your eyes")]),
    ]


def test_one_number_over_a_drawn_box_is_no_step() -> None:
    found = outlined(f"THE TUNNEL\n\nFITTING\n\nHoops stand on\n12 Ground tubes.\n{BOX.format(kit='12 ground tubes')}")
    assert labels(found) == [None]
