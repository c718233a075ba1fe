"""Lists that count their pieces in other ways: item numbers beside quantities, pieces in every row, codes, numbers behind names, packs."""

from __future__ import annotations

import pytest
from hoopwright.model.document import DocumentKind
from hoopwright.outlining.labels import labels as row_labels

from .pages import labels, outlined

Row = tuple[str | None, str, int | None]
BUILD = "GROWING TUNNEL\n\nFITTING OUT\n\n1. Slide one ridge clip onto each hoop.\n\n2. Stand the hoops.\n\n"
STEPS = "1. Slide one flap hook onto each leg of the end hoops.\n\n2. Close each with two lug bolts.\n"


def rows(text: str, kind: DocumentKind = "text") -> list[Row]:
    """(code, name, quantity) of every part of a text."""
    return [(part.code, part.name, part.quantity) for part in outlined(text, kind).parts]


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        pytest.param(
            "PARTS\n\n| Qty | Part | No. |\n| --- | --- | --- |\n"
            "| 12 | Sill plate | 41 |\n| 24 | Rail hook | 42 |\n| 6 | Eye bracket | 57 |\n",
            "markdown",
            [("41", "Sill plate", 12), ("42", "Rail hook", 24), ("57", "Eye bracket", 6)],
            id="item numbers behind",
        ),
        pytest.param(
            "PARTS\n\n  Pieces  Part           No.\n  14      Ear clamp      3\n  28      Lug bolt       8\n  7       End cap        11\n",
            "text",
            [("3", "Ear clamp", 14), ("8", "Lug bolt", 28), ("11", "End cap", 7)],
            id="item numbers behind pieces",
        ),
        pytest.param(
            "WHAT YOU HAVE\n\nTubes and bars\n\n  T1   12 legs, 48 mm\n  T2   12 roof tubes, 48 mm\n\n"
            "Fittings\n\n  A     6 top clips, closed\n  B    12 bar clips, closed\n\n"
            "Bolts and screws\n\n  P    24 joint bolts, M8 x 70\n  Q    50 washers, M8\n",
            "text",
            [
                ("T1", "legs", 12),
                ("T2", "roof tubes", 12),
                ("A", "top clips", 6),
                ("B", "bar clips", 12),
                ("P", "joint bolts", 24),
                ("Q", "washers", 50),
            ],
            id="a list under several headings",
        ),
        pytest.param(
            "PARTS\n\n(16) Girt clips\n(8) Ridge eyes\n(32) Lug bolts\n",
            "text",
            [(None, "Girt clips", 16), (None, "Ridge eyes", 8), (None, "Lug bolts", 32)],
            id="the number in brackets in front",
        ),
        pytest.param(
            "PARTS\n\nleg tube, 48 mm (12)\nridge eye, closed (6)\nlug bolt, M8 x 50 (24)\n",
            "text",
            [(None, "leg tube", 12), (None, "ridge eye", 6), (None, "lug bolt", 24)],
            id="the number in brackets behind",
        ),
        pytest.param(
            "MATERIALS\n\nBolts, washers and nuts\n    14  JB  splice bolt, 5/16 inch\n    30  FW  flat washer, 5/16 inch\n"
            "    14  WN  wing nut, 5/16 inch\n\n"
            "Tubing and lumber\n    14 leg tubes, 7 center tubes, 14 ground tubes, 5 crossbars, 4 braces, 2 door\n    posts\n",
            "text",
            [
                ("JB", "splice bolt", 14),
                ("FW", "flat washer", 30),
                ("WN", "wing nut", 14),
                (None, "leg tubes", 14),
                (None, "center tubes", 7),
                (None, "ground tubes", 14),
                (None, "crossbars", 5),
                (None, "braces", 4),
                (None, "door posts", 2),
            ],
            id="running text under a line of its own",
        ),
        pytest.param(
            "PARTS\n\n| Part | No. |\n| --- | --- |\n| Sill plate | 41 |\n| Rail hook | 42 |\n| Eye bracket | 57 |\n",
            "markdown",
            [(None, "Sill plate", 41), (None, "Rail hook", 42), (None, "Eye bracket", 57)],
            id="near miss: numbers of pieces",
        ),
        pytest.param(
            "# The tunnel\n\n## Crate one\n\n| | | |\n| --- | --- | --- |\n"
            "| 8 x | sill plate | SP |\n| 16 x | rail hook | RH |\n| 4 x | eye bracket | EB |\n",
            "markdown",
            [("SP", "sill plate", 8), ("RH", "rail hook", 16), ("EB", "eye bracket", 4)],
            id="every row counts",
        ),
        pytest.param(
            "THE TUNNEL\n\nWHAT LIES WHERE\n\n  SP   sill plate     8 pcs\n  RH   rail hook     16 pcs\n  EB   eye bracket    4 pcs\n",
            "text",
            [("SP", "sill plate", 8), ("RH", "rail hook", 16), ("EB", "eye bracket", 4)],
            id="every row counts behind",
        ),
        pytest.param(
            "# The tunnel\n\n## Crate one\n\n| | | |\n| --- | --- | --- |\n"
            "| 8 x | sill plate | SP |\n| front | rail hook | RH |\n| 4 x | eye bracket | EB |\n",
            "markdown",
            [],
            id="near miss: one row tells a place",
        ),
        pytest.param(
            "PARTS LIST\n\n- G1, sill plate, bare: 8\n- G2, gate band, one-piece: 2\n- G3, rail hook, hinged: 16\n",
            "text",
            [("G1", "sill plate", 8), ("G2", "gate band", 2), ("G3", "rail hook", 16)],
            id="codes with a comma",
        ),
        pytest.param(
            "PARTS LIST\n\nT1, roof bar: 3\n\nT2, roof clip, hinged: 7\n\nT3, clip bolt: 14\n",
            "text",
            [("T1", "roof bar", 3), ("T2", "roof clip", 7), ("T3", "clip bolt", 14)],
            id="codes with a comma, no bullets",
        ),
        pytest.param(
            "PARTS LIST\n\n- Legs, straight: 12\n- Clamps, hinged: 8\n- Bolts, long: 16\n",
            "text",
            [(None, "Legs", 12), (None, "Clamps", 8), (None, "Bolts", 16)],
            id="near miss: names with a comma",
        ),
        pytest.param(
            "THE TUNNEL\n\nPARTS\n\nPosts 12, rails 4, door hook 2 pieces, eye brackets 18 and lug bolts 40.\n",
            "text",
            [(None, "Posts", 12), (None, "rails", 4), (None, "door hook", 2), (None, "eye brackets", 18), (None, "lug bolts", 40)],
            id="numbers behind names",
        ),
        pytest.param(
            "THE TUNNEL\n\nPARTS\n\nWe counted: posts 9, post caps 9, roof bar 4 pieces. Roof bar and post are each held by one hook.\n",
            "text",
            [(None, "posts", 9), (None, "post caps", 9), (None, "roof bar", 4)],
            id="what a part is held by is no list",
        ),
        pytest.param(
            "THE TUNNEL\n\nPARTS\n\nPosts 9, caps 9, roof bar 4 pieces. If you find 2 hooks in the sack, they are spare.\n",
            "text",
            [(None, "Posts", 9), (None, "caps", 9), (None, "roof bar", 4)],
            id="what you may find is no list",
        ),
        pytest.param(
            "THE TUNNEL\n\nFITTING\n\n1. Stand hoops 3, 4 and 5. Go on to step 6.\n2. See steps 4, 5 and table 2.\n",
            "text",
            [],
            id="near miss: numbers of hoops and steps",
        ),
    ],
)
def test_lists_that_count(text: str, kind: DocumentKind, expected: list[Row]) -> None:
    assert rows(text, kind) == expected


@pytest.mark.parametrize(
    ("lead", "expected"),
    [
        ("4 pcs. Flap hook\n8 pcs. Lug bolt\n2 pcs. Line drum", [("Flap hook", 4), ("Lug bolt", 8), ("Line drum", 2)]),
        ("4 x Flap hook\n8 x Lug bolt\n2 x Line drum", [("Flap hook", 4), ("Lug bolt", 8), ("Line drum", 2)]),
        (
            "This option arrives in a box of its own: 4 flap hooks, 8 lug bolts and 8 lug nuts.",
            [("flap hooks", 4), ("lug bolts", 8), ("lug nuts", 8)],
        ),
        # near miss: a colon behind something that holds nothing
        ("The flap is worked from both sides: 4 flap hooks, 8 lug bolts.", []),
    ],
)
def test_what_comes_with_an_extra(lead: str, expected: list[tuple[str, int]]) -> None:
    found = outlined(f"{BUILD}EXTRA: VENT FLAP\n\n{lead}\n\n{STEPS}")
    assert [(part.name, part.quantity) for part in found.parts] == expected
    assert {part.option for part in found.parts} <= {"vent flap"}
    assert [label for label in labels(found) if label] == ["1", "2", "1", "2"]


def test_labels_with_stop_and_bracket() -> None:
    assert labels(outlined("1.) Peg out.\n\n2.) Drive the stakes.\n\n3.) Lay the hoops out.\n")) == ["1", "2", "3"]
    assert [label.printed for label in row_labels("12.) Slide one clip on.")] == ["12"]
    assert list(row_labels("G2.) Slide one clip on.")) == []


@pytest.mark.parametrize(
    ("first", "role"),
    [
        ("AMENDMENT SHEET to the manual of the tunnel", "correction"),
        ("Correction slip for the door leaflet", "correction"),
        ("Errata to the growing tunnel's manual", "correction"),
        ("Change the tape for a new one.", "build"),
        ("The sheet is for the main manual.", "build"),
    ],
)
def test_a_sheet_is_known_by_its_first_line(first: str, role: str) -> None:
    found = outlined(f"{first}\n\nStep 2: slide three lamp rings onto each hoop instead of two.\n")
    assert {section.role for section in found.sections} == {role}
