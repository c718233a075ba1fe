"""Step labels at the start of a row, and numbers that only look like them."""

from __future__ import annotations

import pytest
from hoopwright.outlining.labels import bullet, follows, labels

from .pages import labels as step_labels
from .pages import outlined


@pytest.mark.parametrize(
    ("row", "printed", "body"),
    [
        ("1. Peg out a rectangle.", "1", "Peg out a rectangle."),
        ("12) Slide one clip on.", "12", "Slide one clip on."),
        ("(3) Slide one clip on.", "3", "Slide one clip on."),
        ("1.2 Slide one clip on.", "1.2", "Slide one clip on."),
        ("4.2.1 Slide one clip on.", "4.2.1", "Slide one clip on."),
        ("Step 3 Slide one clip on.", "3", "Slide one clip on."),
        ("STEP 3 - RIDGE CLIPS", "3", "RIDGE CLIPS"),
        ("Step 3a: Slide one clip on.", "3a", "Slide one clip on."),
        ("Step three: slide one clip on.", "three", "slide one clip on."),
        ("Stage 2", "2", ""),
        ("STEP 4 OF 12. Slide", "4", "Slide"),
        ("a) Slide one clip on.", "a", "Slide one clip on."),
        ("(b) Slide one clip on.", "b", "Slide one clip on."),
        ("C. JOINING", "C", "JOINING"),
        ("A1. Slide one clip on.", "A1", "Slide one clip on."),
        ("B12 Slide one clip on.", "B12", "Slide one clip on."),
        ("3a  Slide one clip on.", "3a", "Slide one clip on."),
        ("9a 1 tie across each bow.", "9a", "1 tie across each bow."),
        ("**1.** Slide one clip on.", "1", "Slide one clip on."),
        ("- **1.1** Find out what is buried.", "1.1", "Find out what is buried."),
        ("5 - Slide one clip on.", "5", "Slide one clip on."),
        ("iv) Slide one clip on.", "iv", "Slide one clip on."),
        ("7 Slide one clip on.", "7", "Slide one clip on."),
        ("4.1.2 In addition slide one clip on.", "4.1.2", "In addition slide one clip on."),
        ("3.2.1 Foot pins go in last.", "3.2.1", "Foot pins go in last."),
        ("5.2 Foot bolts go through each foot.", "5.2", "Foot bolts go through each foot."),
        ("5.3 In the crown tube put a ring.", "5.3", "In the crown tube put a ring."),
    ],
)
def test_label_is_seen(row: str, printed: str, body: str) -> None:
    found = labels(row)
    assert printed in [label.printed for label in found]
    label = next(label for label in found if label.printed == printed)
    assert row[label.body :].lstrip("*_ ") == body


@pytest.mark.parametrize(
    "row",
    [
        "1.5 m apart, on both sides.",
        "42 mm tube",
        "1 1/4 in tube",
        "12 in from the ridge",
        "5.2 in apart, on both sides",
        "5.3 ft above the ground",
        "3 x saddle clamp",
        "PARTS",
        "Stepladders are needed.",
        "Stage 9 is for the side vents.",
        "Partly tighten the bolts.",
        "A pair of clips",
        "- 28 saddle clamps",
        "M8 x 45",
    ],
)
def test_no_label_with_punctuation(row: str) -> None:
    assert [label for label in labels(row) if not label.weak] == []


@pytest.mark.parametrize(
    ("before", "after", "next_one"),
    [
        ((3,), (4,), True),
        ((3,), (5,), False),
        ((3,), (3, 1), True),
        ((3, 1), (3, 2), True),
        ((3, 2), (4,), True),
        ((3, 2), (4, 1), True),
        ((4, 2, 3), (4, 3), True),
        ((4, 2, 3), (4, 3, 1), True),
        ((4, 2, 3), (4, 3, 2), False),
        ((4,), (4,), False),
    ],
)
def test_order_of_labels(before: tuple[int, ...], after: tuple[int, ...], next_one: bool) -> None:
    assert follows(before, after) is next_one


@pytest.mark.parametrize(
    ("row", "mark"), [("- Slide", "-"), ("* Slide", "*"), ("• Slide", "•"), ("o Slide", "o"), ("[ ] Slide", "[ ]"), ("–  Slide", "–")]
)
def test_bullet_is_seen(row: str, mark: str) -> None:
    found = bullet(row)
    assert found is not None and found[0] == mark and row[found[1] :] == "Slide"


@pytest.mark.parametrize("row", ["-3 mm", "over the foot", "Slide - then push", "*Figure 2. A hoop.*"])
def test_no_bullet(row: str) -> None:
    assert bullet(row) is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(
            """
            1. Slide one clip onto each leg of the first
            2. hoop, and stop it at the mark.

            2. Go on.
            """,
            ["1", "2"],
            id="wrapped number at the left edge",
        ),
        pytest.param(
            """
            4. The brace runs from hoop 1 down to the clip that is on hoop
               2. Tighten it.
            5. Go on with the brace of the back bay, from hoop 7 to hoop
               6. That makes four braces.
            6. Tighten them.
            """,
            ["4", "5", "6"],
            id="wrapped number below the text",
        ),
        pytest.param(
            ("1) slide on the clips\n2) slide on the rings\n3) join the tubes\n"), ["1", "2", "3"], id="small letters, one row each"
        ),
        pytest.param("3. Fit it.\n\n5. Close it.\n\n4. Stand it.\n", ["3", "5", "4"], id="out of order, blank lines between"),
        pytest.param("1 Peg out the ground.\n2 Drive the tubes.\n3 Lay out the hoops.\n", ["1", "2", "3"], id="numbers alone"),
        pytest.param("Hoops stand on\n12 Ground tubes of steel, and no more.\n", [None], id="one number alone is none"),
        pytest.param("As said in\nStep 6. Do not tighten before.\n", [None], id="wrapped reference"),
        pytest.param("A1. Peg out.\n\nA2. Drive.\n\nB1. Slide.\n", ["A1", "A2", "B1"], id="letter and number"),
        pytest.param("4.2.1 Slide it on.\n\n4.2.2 Push it home.\n\n4.3.1 Close it.\n", ["4.2.1", "4.2.2", "4.3.1"], id="clauses"),
        pytest.param("Stand 1.5 m apart the\n1.2 m tubes. Go on.\n", [None], id="measure"),
        pytest.param(
            "4.1.1 Slide one clip onto each leg.\n\n4.1.2 In addition slide one ring onto each end leg.\n\n4.1.3 Foot pins go in last.\n",
            ["4.1.1", "4.1.2", "4.1.3"],
            id="clauses that begin like measures",
        ),
        pytest.param(
            "4.1.1 Slide one clip onto each leg, and leave it\n4.5 in above its foot.\n\n4.1.2 Go on.\n",
            ["4.1.1", "4.1.2"],
            id="inches among clauses",
        ),
        pytest.param("(1) Peg out.\n(2) Drive, as said under\n(1) above.\n(3) Slide.\n", ["1", "2", "3"], id="bracketed reference"),
    ],
)
def test_which_numbers_are_steps(text: str, expected: list[str | None]) -> None:
    assert step_labels(outlined(text)) == expected
