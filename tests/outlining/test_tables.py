"""Tables of all kinds: every cell with its words, heads told from rows, wrapped rows and cut tables put together."""

from __future__ import annotations

import pytest
from hoopwright.model.document import DocumentKind, Grid
from hoopwright.outlining import outline

from .pages import Print, cells, labels, outlined, printed, shape

PLAIN = [["Item", "Part", "Qty"], ["A", "Clip, closed", "10"], ["B", "Bolt M8", "20"]]


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        pytest.param(
            ("| Item | Part | Qty |\n| --- | --- | ---: |\n| A | Clip, closed | 10 |\n| B | **Bolt** M8 | 20 |\n"),
            "markdown",
            PLAIN,
            id="Markdown",
        ),
        pytest.param(
            ("Item | Part | Qty\n--- | --- | ---\nA | Clip, closed | 10\nB | Bolt M8 | 20\n"),
            "markdown",
            PLAIN,
            id="Markdown without outer bars",
        ),
        pytest.param(
            (
                "+------+--------------+-----+\n"
                "| Item | Part         | Qty |\n"
                "+------+--------------+-----+\n"
                "| A    | Clip, closed | 10  |\n"
                "| B    | Bolt M8      | 20  |\n"
                "+------+--------------+-----+\n"
            ),
            "text",
            PLAIN,
            id="drawn with signs",
        ),
        pytest.param(
            (
                "┌──────┬──────────────┬─────┐\n"
                "│ Item │ Part         │ Qty │\n"
                "├──────┼──────────────┼─────┤\n"
                "│ A    │ Clip, closed │ 10  │\n"
                "│ B    │ Bolt M8      │ 20  │\n"
                "└──────┴──────────────┴─────┘\n"
            ),
            "text",
            PLAIN,
            id="box drawing",
        ),
        pytest.param("Item\tPart\tQty\nA\tClip, closed\t10\nB\tBolt M8\t20\n", "text", PLAIN, id="tabs"),
        pytest.param(
            ("  Item   Part             Qty\n  A      Clip, closed      10\n  B      Bolt M8           20\n"), "text", PLAIN, id="aligned"
        ),
        pytest.param(
            (
                "  Item   Part             Qty\n"
                "  ----   -------------    ---\n"
                "  A      Clip, closed      10\n"
                "  B      Bolt M8           20\n"
            ),
            "text",
            PLAIN,
            id="aligned, ruled head",
        ),
        pytest.param(
            ("  Item   Part             Qty\n\n  A      Clip, closed      10\n  B      Bolt M8           20\n"),
            "text",
            PLAIN,
            id="aligned, blank line below the head",
        ),
        pytest.param(
            "Part | Qty\nClip, closed | 10\nBolt M8 | 20\n",
            "text",
            [["Part", "Qty"], ["Clip, closed", "10"], ["Bolt M8", "20"]],
            id="single bars",
        ),
        pytest.param(
            "Clip, closed ....... 10\nBolt M8 ............ 20\n", "text", [[], ["Clip, closed", "10"], ["Bolt M8", "20"]], id="leaders"
        ),
        pytest.param(
            ("Clip, 42 mm,\n  closed ........... 10\nBolt M8 ............ 20\n"),
            "text",
            [[], ["Clip, 42 mm, closed", "10"], ["Bolt M8", "20"]],
            id="wrapped leader",
        ),
        pytest.param(
            "A  Clip, closed .... 10\nB  Bolt M8 ......... 20\n",
            "text",
            [[], ["A", "Clip, closed", "10"], ["B", "Bolt M8", "20"]],
            id="leaders with codes",
        ),
        pytest.param(
            (
                "  Item   Part                        Qty\n"
                "  A      Clip with a long name,       10\n"
                "         closed\n"
                "  B      Bolt M8                      20\n"
            ),
            "text",
            [["Item", "Part", "Qty"], ["A", "Clip with a long name, closed", "10"], ["B", "Bolt M8", "20"]],
            id="wrapped cell",
        ),
        pytest.param(
            ("  Hoop        1   2   3\n  Clip        2   -   2\n  Ring        1   1   1\n"),
            "text",
            [["Hoop", "1", "2", "3"], ["Clip", "2", "-", "2"], ["Ring", "1", "1", "1"]],
            id="hoops across",
        ),
        pytest.param(
            (
                "  Part                How many\n"
                "  Clip, closed              10\n"
                "  Bolt M8                   20\n"
                "  Pad                        5\n"
            ),
            "text",
            [["Part", "How many"], ["Clip, closed", "10"], ["Bolt M8", "20"], ["Pad", "5"]],
            id="head of two words",
        ),
        pytest.param(
            ("  Width                   4.4 m\n  Height at the ridge     3.2 m\n  Length                  9 m\n"),
            "text",
            [[], ["Width", "4.4 m"], ["Height at the ridge", "3.2 m"], ["Length", "9 m"]],
            id="facts",
        ),
        pytest.param(
            "| A | B |\n| --- | --- |\n| 1<br>2 | a \\| b |\n", "markdown", [["A", "B"], ["12", "a | b"]], id="marks inside cells"
        ),
        pytest.param("| | |\n| --- | --- |\n| Width | 4 m |\n", "markdown", [[], ["Width", "4 m"]], id="empty head"),
    ],
)
def test_tables(text: str, kind: DocumentKind, expected: list[list[str]]) -> None:
    assert cells(outlined("The list.\n\n" + text, kind)) == [expected]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(
            ("1.  Slide one clip on,\n    and leave it.\n2.  Slide one ring on.\n3.  Stand the hoop.\n"),
            ["1", "2", "3"],
            id="hanging labels",
        ),
        pytest.param(
            ("  1a  Drive 14 posts. Tops level.\n  1b  Check the diagonals.\n  1c  Posts stay bare.\n"),
            ["1a", "1b", "1c"],
            id="labels without punctuation",
        ),
        pytest.param("Slide it on.  Push it home.\nClose it up.  Leave it there.\n", [None], id="two blanks between sentences"),
        pytest.param("-  Slide one clip on.\n-  Slide one ring on.\n-  Stand it.\n", [None, None, None], id="bullets"),
    ],
)
def test_lists_are_no_tables(text: str, expected: list[str | None]) -> None:
    found = outlined(text)
    assert cells(found) == []
    assert labels(found) == expected


def test_group_rows_stay_in_the_table() -> None:
    found = outlined(
        "PARTS\n\n"
        "  Item  Part              Qty\n\n"
        "  Tubes\n"
        "  T1    Leg tube           12\n"
        "  T2    Bow tube           12\n\n"
        "  Fittings\n"
        "  A     Clip, closed       10\n"
        "  B     Ring, closed        8\n"
    )
    (table,) = cells(found)
    assert [row[0] for row in table] == ["Item", "Tubes", "T1", "T2", "Fittings", "A", "B"]
    assert [(part.code, part.quantity) for part in found.parts] == [("T1", 12), ("T2", 12), ("A", 10), ("B", 8)]


def test_caption_goes_to_its_table() -> None:
    found = outlined(
        (
            "# T\n\n"
            "Table B. Fittings\n\n"
            "| Hoop | Clip |\n"
            "| --- | --- |\n"
            "| 1 | 2 |\n\n"
            "| Hoop | Ring |\n"
            "| --- | --- |\n"
            "| 1 | 2 |\n\n"
            "Table C. More of them.\n"
        ),
        "markdown",
    )
    captions = [item.table.caption.text for step in found.steps for item in step.items if item.table and item.table.caption]
    assert captions == ["Table B. Fittings", "Table C. More of them."]


def test_table_over_a_page_break() -> None:
    found = outlined(
        "PARTS\n\n"
        "  Item   Part             Qty\n"
        "  A      Clip, closed      10\n"
        "  B      Bolt M8           20\n\n"
        "                   PAGE 1 OF 2\n\f\n"
        "THE TUNNEL         PAGE 2 OF 2\n\n"
        "  C      Pad                5\n"
        "  D      Ring, closed       6\n"
    )
    assert len(cells(found)) == 1
    assert [part.code for part in found.parts] == ["A", "B", "C", "D"]


def test_grids_of_a_page_with_repeated_head() -> None:
    def grid(page: int, first: int, rows: list[tuple[str, ...]]) -> Grid:
        return Grid(page, tuple(rows), tuple((first + n,) for n in range(len(rows))))

    head = ("Item", "Part", "Qty")
    prints = [Print("PARTS", 2, size=14.0, bold=True)]
    prints += [Print(text, 4 + n) for n, text in enumerate(("Item    Part    Qty", "A       Clip    10", "B       Bolt    20"))]
    prints += [Print(text, 2 + n, page=2) for n, text in enumerate(("Item    Part    Qty", "C       Pad     5"))]
    prints += [Print("The steps follow. They are short, and each of them stands for itself.", 8, page=2)]
    found = outline(
        [printed(prints, (grid(1, 1, [head, ("A", "Clip", "10"), ("B", "Bolt", "20")]), grid(2, 4, [head, ("C", "Pad", "5")])))]
    )
    assert cells(found) == [[["Item", "Part", "Qty"], ["A", "Clip", "10"], ["B", "Bolt", "20"], ["C", "Pad", "5"]]]


def test_wrapped_cell_of_a_grid() -> None:
    prints = [
        Print("A   Saddle clamp,   10", 3),
        Print("closed ring", 4, x=14),
        Print("B   Bolt            20", 5),
        Print("Nothing else is in the bag that comes with the kit.", 8),
    ]
    grid = Grid(1, (("A", "Saddle clamp, closed ring", "10"), ("B", "Bolt", "20")), ((0, 1), (2,)))
    found = outline([printed(prints, (grid,))])
    assert cells(found) == [[[], ["A", "Saddle clamp, closed ring", "10"], ["B", "Bolt", "20"]]]


def test_aligned_columns_of_a_page_without_grid() -> None:
    prints = [Print("PARTS", 2, size=14.0, bold=True)]
    prints += [
        Print(text, 4 + n)
        for n, text in enumerate(
            (
                "Item    Part                Qty",
                "A       Clip, closed         10",
                "B       Bolt M8              20",
                "C       Pad                   5",
            )
        )
    ]
    prints += [Print("The steps follow. They are short, and each of them stands for itself.", 10)]
    found = outline([printed(prints)])
    assert cells(found) == [[["Item", "Part", "Qty"], ["A", "Clip, closed", "10"], ["B", "Bolt M8", "20"], ["C", "Pad", "5"]]]


def test_steps_in_a_table() -> None:
    found = outlined(
        (
            "# Fitting\n\n"
            "| Step | What to do | Parts |\n"
            "| --- | --- | --- |\n"
            "| 1 | Slide one clip onto each leg. | 10 clips |\n"
            "| 2 | Stand the hoop up. | |\n"
        ),
        "markdown",
    )
    assert [(step.label, shape(step)) for step in found.steps] == [
        ("1", [("text", "Slide one clip onto each leg."), ("text", "10 clips")]),
        ("2", [("text", "Stand the hoop up.")]),
    ]


def test_rows_with_numbers_are_no_steps() -> None:
    found = outlined(
        ("| Row | Hoop | Fitting |\n| --- | --- | --- |\n| 1 | 1 and 8 | Brace clip |\n| 2 | 1 to 8 | Purlin clamp |\n"), "markdown"
    )
    assert labels(found) == [None]
