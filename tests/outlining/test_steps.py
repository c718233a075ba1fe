"""Steps with their items: titles, sub-letters, bullets, continuation, call-outs, captions, footnotes."""

from __future__ import annotations

import pytest
from hoopwright.model.document import DocumentKind

from .pages import labels, outlined, shape


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        pytest.param(
            """
            FITTING

            1. Do this at each hoop:
               a) slide one clip on,
               b) slide one ring on.

               Leave both loose.

            2. Go on.
            """,
            "text",
            [
                [
                    ("text", "Do this at each hoop:"),
                    ("bullet 1a", "slide one clip on,"),
                    ("bullet 1b", "slide one ring on."),
                    ("text", "Leave both loose."),
                ],
                [("text", "Go on.")],
            ],
            id="sub-letters and an indented paragraph",
        ),
        pytest.param(
            "## Fitting\n\n1. Slide on:\n   - one clip\n     - with one bolt\n   - one ring\n2. Go on.\n",
            "markdown",
            [
                [("text", "Slide on:"), ("bullet 1", "one clip"), ("bullet 2", "with one bolt"), ("bullet 1", "one ring")],
                [("text", "Go on.")],
            ],
            id="nested Markdown list",
        ),
        pytest.param(
            "FITTING\n\na) Slide one clip on.\n\nb) Slide one ring on.\n",
            "text",
            [[("text", "Slide one clip on.")], [("text", "Slide one ring on.")]],
            id="letters under a plain heading are steps",
        ),
        pytest.param(
            "FITTING\n\n1. Slide one clip on.\n\nThe clips are closed.\n",
            "text",
            [[("text", "Slide one clip on.")], [("text", "The clips are closed.")]],
            id="paragraph at the left edge stands for itself",
        ),
        pytest.param(
            "FITTING\n\nEach leg takes:\n\n- one clip\n- one ring\n",
            "text",
            [[("text", "Each leg takes:"), ("bullet 1", "one clip"), ("bullet 1", "one ring")]],
            id="bullets below a paragraph",
        ),
        pytest.param(
            "FITTING\n\n- Slide one clip on.\n- Slide one ring on,\n  with its lug up.\n",
            "text",
            [[("bullet 1", "Slide one clip on.")], [("bullet 1", "Slide one ring on, with its lug up.")]],
            id="bullets alone",
        ),
        pytest.param(
            "FITTING\n\n1. Slide one clip on.\n   WARNING: Do not let it drop.\n\n   Figure 3. The clip.\n\n* Not for end hoops.\n",
            "text",
            [
                [
                    ("text", "Slide one clip on."),
                    ("callout warning", "Do not let it drop."),
                    ("caption", "Figure 3. The clip."),
                    ("bullet 1", "Not for end hoops."),
                ]
            ],
            id="call-out, caption",
        ),
        pytest.param(
            "FITTING\n\n1. Slide one clip on.¹\n\n¹ Not for end hoops.\n",
            "text",
            [[("text", "Slide one clip on.¹"), ("footnote", "¹ Not for end hoops.")]],
            id="footnote",
        ),
        pytest.param(
            "# T\n\n1. Slide one clip on.[^1]\n\n[^1]: Not for end hoops.\n",
            "markdown",
            [[("text", "Slide one clip on."), ("footnote", "Not for end hoops.")]],
            id="Markdown footnote",
        ),
    ],
)
def test_items(text: str, kind: DocumentKind, expected: list[list[tuple[str, str]]]) -> None:
    assert [shape(step) for step in outlined(text, kind).steps] == expected


@pytest.mark.parametrize(
    ("text", "kind", "label", "title", "first"),
    [
        (
            ("STEP 1 - RIDGE CLIPS\n\nSlide one clip on.\n\nSTEP 2 - RINGS\n\nSlide one ring on.\n"),
            "text",
            "1",
            "RIDGE CLIPS",
            "Slide one clip on.",
        ),
        ("STEP 1: RIDGE CLIPS\nSlide one clip on.\nSTEP 2: RINGS\nSlide one ring on.\n", "text", "1", "RIDGE CLIPS", "Slide one clip on."),
        (
            ("## Step 1 – Ridge clips\n\nSlide one clip on.\n\n## Step 2 – Rings\n\nSlide one ring on.\n"),
            "markdown",
            "1",
            "Ridge clips",
            "Slide one clip on.",
        ),
        ("### Step 1\n\nSlide one clip on.\n\n### Step 2\n\nSlide one ring on.\n", "markdown", "1", None, "Slide one clip on."),
        (
            ("**Step 1 – Ridge clips.** Slide one clip on.\n\n**Step 2 – Rings.** Slide one ring on.\n"),
            "markdown",
            "1",
            "Ridge clips.",
            "Slide one clip on.",
        ),
        (
            ("1. **Ridge clips.** Slide one clip on.\n2. **Rings.** Slide one ring on.\n"),
            "markdown",
            "1",
            "Ridge clips.",
            "Slide one clip on.",
        ),
        ("1. RIDGE CLIPS. Slide one clip on.\n2. RINGS. Slide one ring on.\n", "text", "1", "RIDGE CLIPS.", "Slide one clip on."),
        (
            ("Step 1: Ridge clips\nSlide one clip on, then another one on the other leg of it.\n\nStep 2: Rings\nSlide one ring on.\n"),
            "text",
            "1",
            "Ridge clips",
            "Slide one clip on, then another one on the other leg of it.",
        ),
        (
            ("## 1. Ridge clips\n\nSlide one clip on.\n\n## 2. Rings\n\nSlide one ring on.\n"),
            "markdown",
            "1",
            "Ridge clips",
            "Slide one clip on.",
        ),
        ("1\n\nSlide one clip on.\n\n2\n\nSlide one ring on.\n\n3\n\nStand it.\n", "text", "1", None, "Slide one clip on."),
    ],
)
def test_titles_of_steps(text: str, kind: DocumentKind, label: str, title: str | None, first: str) -> None:
    step = outlined(text, kind).steps[0]
    assert (step.label, step.title, step.items[0].passage.text) == (label, title, first)
    assert len(outlined(text, kind).steps) in (2, 3)


def test_title_without_text_is_the_step() -> None:
    found = outlined("STEP 1 - SLIDE TWO CLIPS ON\n\nSTEP 2 - STAND THE HOOP\n")
    assert [(step.label, step.title, step.text) for step in found.steps] == [
        ("1", None, "SLIDE TWO CLIPS ON"),
        ("2", None, "STAND THE HOOP"),
    ]


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        pytest.param(
            ("STEP 1 GROUND\n\n  1a  Drive the posts.\n  1b  Check them.\n\nSTEP 2 RINGS\n\n  2a  Slide a ring on.\n"),
            "text",
            ["1a", "1b", "2a"],
            id="1a inside STEP 1",
        ),
        pytest.param(
            ("STAGE 1: GROUND\n\na) Peg out.\n\nb) Drive.\n\nSTAGE 2: RINGS\n\na) Slide a ring on.\n"),
            "text",
            ["a", "b", "a"],
            id="letters inside stages",
        ),
        pytest.param(
            ("PART A  GROUND\n\n1. Peg out.\n\n2. Drive.\n\nPART B  RINGS\n\n3. Slide a ring on.\n"),
            "text",
            ["1", "2", "3"],
            id="numbers through parts",
        ),
        pytest.param("STAGE 1: GROUND\n\nPeg out.\n\nSTAGE 2: RINGS\n\nSlide.\n", "text", ["1", "2"], id="stages without labels inside"),
        pytest.param("PART 1: GROUND\n\nPeg out.\n\nPART 2: RINGS\n\nSlide.\n", "text", [None, None], id="parts without labels inside"),
        pytest.param(
            ("1 GENERAL\n\nThe frame.\n\n2 RINGS\n\n2.1 Slide a ring on.\n\n2.2 Stand it.\n"),
            "text",
            [None, "2.1", "2.2"],
            id="clauses below numbered headings",
        ),
        pytest.param(
            ("## Stage 1\n\n- **1.1** Peg out.\n  - Both sides.\n- **1.2** Drive.\n"), "markdown", ["1.1", "1.2"], id="labels in bullets"
        ),
        pytest.param("1. THE KIT\n\nCount it.\n\n2. RINGS\n\nSlide a ring on.\n", "text", [None, None], id="numbered headings of sections"),
        pytest.param(
            ("Step 3.\n\nSlide a ring on:\n1. from the left,\n2. from the right.\n\nStep 4.\n\nStand it.\n"),
            "text",
            ["3", "4"],
            id="numbers inside a step",
        ),
    ],
)
def test_which_label_is_the_steps(text: str, kind: DocumentKind, expected: list[str | None]) -> None:
    assert labels(outlined(text, kind)) == expected


@pytest.mark.parametrize(
    ("text", "kind", "signal", "words"),
    [
        ("1. Lift.\n\nWARNING: Wear gloves.\n", "text", "warning", "Wear gloves."),
        ("1. Lift.\n\nCAUTION! Wear gloves.\n", "text", "caution", "Wear gloves."),
        ("1. Lift.\n\n! DANGER ! Wear gloves.\n", "text", "danger", "Wear gloves."),
        ("1. Lift.\n\nNOTICE\n\nWear gloves.\n", "text", "notice", "Wear gloves."),
        ("1. Lift.\n\nTip: wear gloves.\n", "text", "tip", "wear gloves."),
        ("1. Lift.\n\nImportant - wear gloves.\n", "text", "important", "wear gloves."),
        ("1. Lift.\n\n> **Note:** wear\n> gloves.\n", "markdown", "note", "wear gloves."),
        ("1. Lift.\n\n> Wear gloves.\n", "markdown", None, "Wear gloves."),
        (
            ("1. Lift.\n\n+-------------------+\n| WARNING: Wear     |\n| gloves.           |\n+-------------------+\n"),
            "text",
            "warning",
            "Wear gloves.",
        ),
        ("1. Lift.\n\n┌──────────────┐\n│ Wear gloves. │\n└──────────────┘\n", "text", None, "Wear gloves."),
        ("1. Lift.\n\n********************\n* NOTE: Wear gloves *\n********************\n", "text", "note", "Wear gloves"),
    ],
)
def test_callouts(text: str, kind: DocumentKind, signal: str | None, words: str) -> None:
    (step,) = outlined(text, kind).steps
    assert [(item.kind, item.signal, item.passage.text) for item in step.items[1:]] == [("callout", signal, words)]


@pytest.mark.parametrize(
    "text", ["Notice that the clip is closed.", "Note the place of each clip.", "Tips of the tubes are sharp.", "Caution is needed here."]
)
def test_words_that_only_look_like_signals(text: str) -> None:
    (step,) = outlined(f"{text}\n").steps
    assert [item.kind for item in step.items] == ["text"]


@pytest.mark.parametrize(
    "caption",
    [
        "Figure 2. A hoop.",
        "Fig. 3: A hoop",
        "FIG. 1 - Joint, LH",
        "Photo 4 – the ridge",
        "Diagram B. The base",
        "Sketch 1. Hoop 2",
        "*Figure 2. A hoop.*",
        "Picture 1.1: a hoop",
    ],
)
def test_captions(caption: str) -> None:
    found = outlined(f"# T\n\n1. Lift.\n\n{caption}\n", "markdown")
    assert [item.kind for item in found.steps[-1].items] == ["text", "caption"]


@pytest.mark.parametrize(
    "text",
    [
        "Figures are on the back cover.",
        "Table B says which fittings each hoop carries.",
        "Figure 3 shows the ridge.",
        "Figs. on back cover.",
    ],
)
def test_sentences_that_only_look_like_captions(text: str) -> None:
    assert [item.kind for step in outlined(f"1. Lift.\n\n{text}\n").steps for item in step.items] == ["text", "text"]
