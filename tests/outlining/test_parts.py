"""Parts lists in every form: tables, leaders, lines, bullets, running prose; and what is none."""

from __future__ import annotations

import pytest
from hoopwright.model.document import DocumentKind
from hoopwright.outlining import outline
from hoopwright.outlining.describing import Description, describe, is_code
from hoopwright.outlining.quantities import cell_quantity, leading, number, trailing

from .pages import document, outlined

Row = tuple[str | None, str, str | None, int | None, str]


def rows(text: str, kind: DocumentKind = "text") -> list[Row]:
    return [(part.code, part.name, part.size, part.quantity, part.note) for part in outlined(text, kind).parts]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("28", 28), ("1,200", 1200), ("four", 4), ("twenty-four", 24), ("forty", 40), ("a dozen", 12), ("two dozen", 24),
        ("half a dozen", 6), ("a pair of", 2), ("three pairs", 6), ("a hundred and ten", 110), ("one hundred and twenty-five", 125),
        ("single", 1), ("clamp", None), ("", None),
    ],
)  # fmt: skip
def test_numbers(text: str, value: int | None) -> None:
    assert number(text) == value


@pytest.mark.parametrize(
    ("cell", "value"),
    [
        ("28", 28),
        ("28 off", 28),
        ("10 No.", 10),
        ("6 pcs", 6),
        ("x 4", 4),
        ("twelve", 12),
        ("as required", None),
        ("1 bag", None),
        ("2 or 3", None),
        ("-", None),
        ("", None),
        ("4 (2 spare)", 4),
    ],
)
def test_quantity_cells(cell: str, value: int | None) -> None:
    assert cell_quantity(cell) == value


@pytest.mark.parametrize(
    ("text", "value", "rest"),
    [
        ("28 x Saddle clamp", 28, "Saddle clamp"),
        ("10 No. ridge clips", 10, "ridge clips"),
        ("Ten hoop halves", 10, "hoop halves"),
        ("A pair of hinges", 2, "hinges"),
        ("60 foot bolts", 60, "foot bolts"),
        ("2 off Brace", 2, "Brace"),
    ],
)
def test_leading_quantities(text: str, value: int, rest: str) -> None:
    found = leading(text)
    assert found is not None and (found.number, text[found.end :]) == (value, rest)


@pytest.mark.parametrize("text", ["42 mm tube", "1 1/4 in tube", "10 ft of cord", "M8 bolt", "clamps"])
def test_no_leading_quantity(text: str) -> None:
    assert leading(text) is None


@pytest.mark.parametrize(
    ("text", "value", "rest"),
    [
        ("saddle clamps, 42 mm - 28 No.", 28, "saddle clamps, 42 mm"),
        ("Saddle clamps  28 off", 28, "Saddle clamps"),
        ("braces (4 No.)", 4, "braces"),
        ("Hinges: 3", 3, "Hinges"),
        ("Ridge clips, qty 10", 10, "Ridge clips"),
        ("Door x 1", 1, "Door"),
    ],
)
def test_trailing_quantities(text: str, value: int, rest: str) -> None:
    found = trailing(text)
    assert found is not None and (found.number, text[: found.start].rstrip(" ,-:")) == (value, rest)


@pytest.mark.parametrize("text", ["Clamp bolt M8 x 45", "Saddle clamp 42 mm", "for hoop 4", "Ridge clips"])
def test_no_trailing_quantity(text: str) -> None:
    assert trailing(text) is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("Saddle clamp, 42 mm", Description("Saddle clamp", "42 mm")),
        ("Saddle clamp 42 mm (H)", Description("Saddle clamp", "42 mm", code="H")),
        ("Clamp bolt M8 × 45, with nut", Description("Clamp bolt", "M8 × 45", "with nut")),
        ("Clamp bolt M8 x 45 with nut", Description("Clamp bolt", "M8 x 45", "with nut")),
        ("Purlin clamp, closed ring", Description("Purlin clamp", None, "closed ring")),
        ("Ridge clamp (two-part), 42 mm", Description("Ridge clamp", "42 mm", "two-part")),
        ("Foam pad, self-adhesive", Description("Foam pad", None, "self-adhesive")),
        ("Hoop tube, 1-3/8 in", Description("Hoop tube", "1-3/8 in")),
        ("Short screw, no. 10 x 3/4 in", Description("Short screw", "no. 10 x 3/4 in")),
        ("Joint screw 5.5 × 25", Description("Joint screw", "5.5 × 25")),
        ("Washer M8", Description("Washer", "M8")),
        ("M6 bolt", Description("M6 bolt", "M6")),
        (
            "Purlin clamp, closed, 1.66 x 1.315 in [42.2 x 33.4 mm]",
            Description("Purlin clamp", "1.66 x 1.315 in [42.2 x 33.4 mm]", "closed"),
        ),
        ("Side rail, one strip of 9000 mm a side", Description("Side rail", "9000 mm", "one strip of 9000 mm a side")),
        ("Tube, Ø42", Description("Tube", "Ø42")),
        ("Side tube, 2.4 m long", Description("Side tube", "2.4 m long")),
        ("U-bolt", Description("U-bolt")),
        ("Half bow, 1-5/8 in. x 11 ft", Description("Half bow", "1-5/8 in. x 11 ft")),
        ("Lock washer, 5/16 in.", Description("Lock washer", "5/16 in")),
        ("Hinge (pair)", Description("Hinge", None, "pair")),
    ],
)
def test_descriptions(text: str, expected: Description) -> None:
    assert describe(text) == expected


@pytest.mark.parametrize(
    ("text", "code"), [("H", True), ("C6", True), ("T-12", True), ("104", True), ("#9", True), ("Ridge", False), ("clamp", False)]
)
def test_codes(text: str, code: bool) -> None:
    assert is_code(text) is code


CLAMP: list[Row] = [("H", "Saddle clamp", "42 mm", 28, "closed"), ("J", "Ridge clip", None, 10, "")]


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        pytest.param(
            ("| Item | Part | Qty |\n| --- | --- | --- |\n| H | Saddle clamp, 42 mm, closed | 28 |\n| J | Ridge clip | 10 |\n"),
            "markdown",
            CLAMP,
            id="Markdown",
        ),
        pytest.param(
            (
                "| Qty | Ref | Description | Size | Remarks |\n"
                "| --- | --- | --- | --- | --- |\n"
                "| 28 | H | Saddle clamp | 42 mm | closed |\n"
                "| 10 | J | Ridge clip | | |\n"
            ),
            "markdown",
            CLAMP,
            id="size and remarks",
        ),
        pytest.param(
            ("| Bag | Contents | No. |\n| --- | --- | --- |\n| H | Saddle clamp, 42 mm, closed | 28 |\n| J | Ridge clip | 10 |\n"),
            "markdown",
            CLAMP,
            id="bag letters",
        ),
        pytest.param(
            ("  H   Saddle clamp, 42 mm, closed   28\n  J   Ridge clip                    10\n  K   Pad                            5\n"),
            "text",
            [*CLAMP, ("K", "Pad", None, 5, "")],
            id="aligned, no head",
        ),
        pytest.param(
            ("  28   Saddle clamp, 42 mm, closed   H\n  10   Ridge clip                    J\n   5   Pad                           K\n"),
            "text",
            [*CLAMP, ("K", "Pad", None, 5, "")],
            id="aligned, number first",
        ),
        pytest.param(
            ("H  Saddle clamp, 42 mm, closed ........ 28\nJ  Ridge clip ......................... 10\n"), "text", CLAMP, id="leaders"
        ),
        pytest.param("28 x Saddle clamp, 42 mm, closed (H)\n10 x Ridge clip (J)\n", "text", CLAMP, id="lines, number first"),
        pytest.param("Item H: Saddle clamp, 42 mm, closed - 28 No.\nItem J: Ridge clip - 10 No.\n", "text", CLAMP, id="lines, code first"),
        pytest.param("H: Saddle clamp, 42 mm, closed, 28 off\nJ: Ridge clip, 10 off\n", "text", CLAMP, id="lines, off"),
        pytest.param("- 28 x Saddle clamp, 42 mm, closed (H)\n- 10 x Ridge clip (J)\n", "markdown", CLAMP, id="bullets"),
        pytest.param("- **H** – Saddle clamp, 42 mm, closed – 28\n- **J** – Ridge clip – 10\n", "markdown", CLAMP, id="bullets, dashes"),
        pytest.param(
            ("a) Saddle clamp, 42 mm, closed - 28 off\nb) Ridge clip - 10 off\n"),
            "text",
            [("a", *CLAMP[0][1:]), ("b", *CLAMP[1][1:])],
            id="lettered list",
        ),
        pytest.param(
            ("H  Saddle clamps  42 mm  28 off\nJ  Ridge clips  10 mm  10 off\nK  Pads  5 mm  5 off\n"),
            "text",
            [("H", "Saddle clamps", "42 mm", 28, ""), ("J", "Ridge clips", "10 mm", 10, ""), ("K", "Pads", "5 mm", 5, "")],
            id="columns without head",
        ),
        pytest.param(
            ("| Part | Pieces |\n| --- | --- |\n| Felt pad | 1 bag |\n| Tie | as required |\n| Clip | 4 |\n"),
            "markdown",
            [(None, "Felt pad", None, None, ""), (None, "Tie", None, None, ""), (None, "Clip", None, 4, "")],
            id="no number",
        ),
        pytest.param(
            ("No.   Part          Qty\n1     Ridge clip     10\n2     Saddle clamp   28\n3     Pad             5\n"),
            "text",
            [("1", "Ridge clip", None, 10, ""), ("2", "Saddle clamp", None, 28, ""), ("3", "Pad", None, 5, "")],
            id="numbers as codes",
        ),
    ],
)
def test_lists(text: str, kind: DocumentKind, expected: list[Row]) -> None:
    head = "# T\n\n## Parts\n\n" if kind == "markdown" else "THE TUNNEL\n\nPARTS\n\n"
    assert rows(head + text, kind) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(
            "Bag A holds ten ridge clips, bag B twenty-four rail clips and bag C six crop bar clips, which we call crop clips for short.",
            [
                ("A", "ridge clips", None, 10, ""),
                ("B", "rail clips", None, 24, ""),
                ("C", "crop bar clips", None, 6, "which we call crop clips for short"),
            ],
            id="bags",
        ),
        pytest.param(
            "You should find ten hoop halves, a ridge bar in two lengths, two side rails (each in two lengths) and a pair of doors.",
            [
                (None, "hoop halves", None, 10, ""),
                (None, "ridge bar", None, 1, "in two lengths"),
                (None, "side rails", None, 2, "each in two lengths"),
                (None, "doors", None, 2, ""),
            ],
            id="you should find",
        ),
        pytest.param(
            "The kit contains clamps (28 No.), braces (4 No.) and doors (2 No.).",
            [(None, "clamps", None, 28, ""), (None, "braces", None, 4, ""), (None, "doors", None, 2, "")],
            id="number behind",
        ),
        pytest.param(
            "Tubes and timber: 14 side tubes, 7 crown tubes, ridge bar in 6 lengths, 2 base boards.",
            [(None, "side tubes", None, 14, ""), (None, "crown tubes", None, 7, ""), (None, "base boards", None, 2, "")],
            id="list with a lead-in",
        ),
        pytest.param("A half clamp is made of two shells that are put together round the tube.", [], id="says something about a part"),
        pytest.param("Every clip is nipped up with a single wing bolt. Each hoop has two of them.", [], id="rule"),
        pytest.param("Tools: two spanners, a mallet and one tape.", [], id="tools"),
        pytest.param("A few washers and nuts are spare.", [], id="remark"),
        pytest.param("You will also need two 13 mm spanners and a mallet.", [], id="not supplied"),
    ],
)
def test_running_prose(text: str, expected: list[Row]) -> None:
    assert rows(f"THE TUNNEL\n\nWHAT IS IN THE BOX\n\n{text}\n") == expected


@pytest.mark.parametrize(
    "text",
    [
        pytest.param(
            ("## Fitting\n\n| Hoop | Fitting | Number |\n| --- | --- | --- |\n| 1 | Clip | 2 |\n| 2 | Clip | 2 |\n"), id="hoop by hoop"
        ),
        pytest.param(
            ("## Fitting\n\n| Fitting | Bolts for each | Washers for each |\n| --- | --- | --- |\n| Clip | 1 | 1 |\n| Ring | 2 | 0 |\n"),
            id="fasteners of a fitting",
        ),
        pytest.param("## Tools\n\n| Tool | Number |\n| --- | --- |\n| Spanner | 2 |\n| Mallet | 1 |\n", id="tools"),
        pytest.param("## Summary\n\n| Part | Quantity |\n| --- | --- |\n| Clip | 20 |\n| Ring | 8 |\n", id="summary"),
        pytest.param("## Sizes\n\n| Dimension | Value |\n| --- | --- |\n| Width | 4 |\n| Hoops | 7 |\n", id="facts"),
        pytest.param("## Contents\n\n| Section | Page |\n| --- | --- |\n| Parts | 1 |\n| Fitting | 2 |\n", id="contents"),
    ],
)
def test_tables_that_are_no_parts_list(text: str) -> None:
    assert rows(f"# T\n\n{text}", "markdown") == []


def test_several_kits_side_by_side() -> None:
    found = outlined(
        ("# T\n\n## Parts\n\n| Part | 4 hoops | 6 hoops |\n| --- | --- | --- |\n| Clip | 8 | 12 |\n| Door | 1 | 1 |\n"), "markdown"
    ).parts
    assert [(part.name, part.quantity, part.quantity_text) for part in found] == [
        ("Clip", None, "4 hoops: 8; 6 hoops: 12"),
        ("Door", 1, "4 hoops: 1; 6 hoops: 1"),
    ]


def test_lists_of_several_documents_and_extras() -> None:
    main = document(
        (
            "THE TUNNEL\n\n"
            "PARTS\n\n"
            "28 x clip\n"
            "10 x ring\n\n"
            "VENT PACK\n\n"
            "4 x vent clip\n"
            "2 x crank\n\n"
            "ASSEMBLY\n\n"
            "1. Slide.\n\n"
            "EXTRA: VENT\n\n"
            "2. Slide.\n"
        ),
        id="D1",
    )
    leaflet = document("SHADE RAIL (optional)\n\nIn this bag:\n\n6 x rail ring\n2 x rail\n\nSTEPS\n\n1. Slide.\n", id="D2")
    found = outline([main, leaflet])
    assert [(part.source.document, part.name, part.option) for part in found.parts] == [
        ("D1", "clip", None), ("D1", "ring", None), ("D1", "vent clip", "vent"), ("D1", "crank", "vent"),
        ("D2", "rail ring", "shade rail"), ("D2", "rail", "shade rail"),
    ]  # fmt: skip


def test_an_extra_has_one_name_in_all_documents() -> None:
    main = document("THE TUNNEL\n\nFITTING\n\n1. Slide.\n\nEXTRA: THE SIDE VENTS\n\n2. Slide.\n", id="D1")
    leaflet = document("SIDE VENT (optional)\n\nIn this bag:\n\n6 x ring\n2 x rail\n\nSTEPS\n\n1. Slide.\n", id="D2")
    found = outline([main, leaflet])
    assert {part.option for part in found.parts} == {"side vents"} == {step.option for step in found.steps if step.option}


def test_names_printed_for_sorting_are_turned_round() -> None:
    found = outlined(
        "THE TUNNEL\n\n"
        "PARTS\n\n"
        "28 x Clamp, saddle, 42 mm\n"
        "10 x Clamp, cross\n"
        "6 x Clip, closed\n\n"
        "ASSEMBLY\n\n"
        "1. Slide one saddle clamp and one cross clamp on, then a clip.\n"
    ).parts
    assert [(part.name, part.size, part.note) for part in found] == [
        ("Saddle clamp", "42 mm", ""),
        ("Cross clamp", None, ""),
        ("Clip", None, "closed"),
    ]


def test_sources_are_the_names_characters() -> None:
    found = outlined(
        "THE TUNNEL\n\nPARTS\n\n  H   Saddle clamp, 42 mm   28\n  J   Ridge clip            10\n  K   Pad                    5\n"
    )
    assert [found.documents[0].text[part.source.start : part.source.end] for part in found.parts] == [
        "Saddle clamp, 42 mm",
        "Ridge clip",
        "Pad",
    ]


def bullets(*lines: str, title: str = "PARTS") -> list[tuple[str, int | None, str]]:
    """(name, quantity, note) of each part of a list in bullets."""
    listed = "".join(f"  - {line}\n" for line in lines)
    found = outlined(f"THE TUNNEL\n\n{title}\n\n{listed}\nFITTING\n\n1. Slide.\n\n2. Stand.\n").parts
    return [(part.name, part.quantity, part.note) for part in found]


@pytest.mark.parametrize("title", ["Packed with this leaflet", "Packed with this sheet", "In this bag:", "What has been packed"])
def test_numbers_behind_a_comma(title: str) -> None:
    assert bullets("door post, 2", "sill ring, 4        (closed)", "grip screw, 10", title=title) == [
        ("door post", 2, ""),
        ("sill ring", 4, "closed"),
        ("grip screw", 10, ""),
    ]


def test_a_size_behind_a_comma_is_no_number() -> None:
    assert [row[1] for row in bullets("6 clips, 42 mm", "2 hinges, 100 mm", "4 bolts, M8")] == [6, 2, 4]


def test_a_number_behind_a_comma_and_a_size() -> None:
    assert [row[1] for row in bullets("clip for 42 mm tube, 6", "door post, 2", "hinge, 4")] == [6, 2, 4]


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("| Part | Number |\n| --- | --- |\n| Clip | 12 |\n| Roll of tape | 1 |\n| Coil of wire | 2 |\n| Ring | 4 |\n", "markdown"),
        ("   Clip             12\n   Roll of tape      1\n   Coil of wire      2\n   Ring              4\n", "text"),
        ("   12   Clip\n    1   Roll of tape\n    2   Coil of wire\n    4   Ring\n", "text"),
    ],
)
def test_rolls_and_coils_are_not_pieces_of_what_is_on_them(text: str, kind: DocumentKind) -> None:
    head = ("# T\n\n## Parts\n\n", "\n## Fitting\n\n") if kind == "markdown" else ("THE TUNNEL\n\nPARTS\n\n", "\nFITTING\n\n")
    found = outlined(f"{head[0]}{text}{head[1]}1. Slide.\n\n2. Stand.\n", kind).parts
    assert [(part.name, part.quantity) for part in found] == [("Clip", 12), ("tape", None), ("wire", None), ("Ring", 4)]


@pytest.mark.parametrize("head", ["| In the box | Pieces |", "| In the bag | |", "| What has been packed | Pieces |"])
def test_a_head_that_announces_the_list(head: str) -> None:
    found = outlined(f"# T\n\n{head}\n| --- | --- |\n| Clip | 12 |\n| Ring, one-piece | 6 |\n\n## Fitting\n\n1. Slide.\n", "markdown").parts
    assert [(part.name, part.quantity, part.note) for part in found] == [("Clip", 12, ""), ("Ring", 6, "one-piece")]


def test_a_table_of_measures_is_no_list() -> None:
    text = "# T\n\n| In the field | Metres |\n| --- | --- |\n| Width | 12 |\n| Length | 6 |\n\n## Fitting\n\n1. Slide.\n"
    assert outlined(text, "markdown").parts == ()
