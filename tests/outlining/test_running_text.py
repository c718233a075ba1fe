"""Lines put together to running text: hyphens, wrapped lines, marks of Markdown, and the way back to the document."""

from __future__ import annotations

from pathlib import Path

import pytest
from hoopwright.model.document import DocumentKind
from hoopwright.outlining import outline
from hoopwright.outlining.ink import Ink, Span, Words, visible
from hoopwright.reading import read_document

from .mapping import check
from .pages import Print, document, labels, outlined, printed, shape


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(
            "Feed the purl-\nin through. The purlin is long.",
            "Feed the purlin through. The purlin is long.",
            id="the word stands elsewhere",
        ),
        pytest.param(
            "A one-\npiece clamp. Each one-piece clamp slides.",
            "A one-piece clamp. Each one-piece clamp slides.",
            id="the hyphen stands elsewhere",
        ),
        pytest.param("Tigh-\nten it.", "Tighten it.", id="no word of its own"),
        pytest.param("A half-\nround clip. A half is round.", "A half-round clip. A half is round.", id="both parts are words"),
        pytest.param("left-\nand right-hand tubes", "left- and right-hand tubes", id="hanging hyphen"),
        pytest.param("hoops 2–\n7 take one", "hoops 2–7 take one", id="dash in a range"),
        pytest.param("one clamp –\nno more", "one clamp – no more", id="dash between words"),
        pytest.param("tube and/\nor pipe", "tube and/or pipe", id="stroke"),
        pytest.param("held w/\n2 screws", "held w/ 2 screws", id="w/ is short for with"),
        pytest.param("Slide a cla\u00ad\nmp on", "Slide a clamp on", id="soft hyphen"),
        pytest.param("AT 1.2 M CEN-\nTRES ON BOTH SIDES", "AT 1.2 M CENTRES ON BOTH SIDES", id="capitals"),
        pytest.param("Hoop-\nB is last", "Hoop-B is last", id="a capital follows"),
        pytest.param("one   clip \n  and  one ring", "one clip and one ring", id="blanks"),
    ],
)
def test_lines_are_joined(text: str, expected: str) -> None:
    page = document(text)
    ink = Ink(page, Words.of([page]))
    passage = ink.passage([Span(line.start, line.start + len(line.text), line.page) for line in page.lines])
    assert passage.text == expected


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        ("Slide **one** clip _on_.", "markdown", "Slide one clip on."),
        ("***One*** `M8` bolt", "markdown", "One M8 bolt"),
        ("2 * 3 = 6 and M6*40", "markdown", "2 * 3 = 6 and M6*40"),
        ("a snake_case_name", "markdown", "a snake_case_name"),
        ("see [step 4](#s4) and ![Figure 2](f2.png)", "markdown", "see step 4 and Figure 2"),
        ("5 \\* 3 and 1\\. May", "markdown", "5 * 3 and 1. May"),
        ("one<br>two ~~three~~", "markdown", "onetwo three"),
        ("clip[^1] on", "markdown", "clip on"),
        ("**One** clip, *not* two", "text", "One clip, not two"),
        ("a clip* and a ring*", "text", "a clip* and a ring*"),
        ("12 __ mm", "text", "12 __ mm"),
    ],
)
def test_marks_are_left_out(text: str, kind: DocumentKind, expected: str) -> None:
    assert visible(text, kind) == expected


def test_step_runs_over_a_page() -> None:
    found = outlined(
        "1. Slide one clip onto each leg, and leave\n"
        "   it there until the\n\n"
        "                         PAGE 1 OF 2\n\f\n"
        "THE TUNNEL          PAGE 2 OF 2\n\n"
        "   hoop stands.\n\n"
        "2. Go on.\n"
    )
    assert labels(found) == ["1", "2"]
    assert found.steps[0].text == "Slide one clip onto each leg, and leave it there until the hoop stands."


def test_step_runs_over_a_column() -> None:
    full = "x" * 9
    left = [Print("1. Slide one clip onto the leg of hoop", 10), Print("   2 and one onto the leg of hoop 3, as", 11)]
    left += [Print(f"{n}. Slide one more {full} clip on there.", 12 + n) for n in (2, 3, 4)] + [
        Print("5. Push each of them along the tube to", 18)
    ]
    right = [
        Print("its mark, and leave it there.", 10, x=63),
        Print("6. Stand the hoop with three helpers.", 11, x=60),
        Print("7. Go on to the next one and the others.", 12, x=60),
    ]
    found = outline([printed(left + right)])
    assert labels(found) == ["1", "2", "3", "4", "5", "6", "7"]
    assert found.steps[4].text == "Push each of them along the tube to its mark, and leave it there."


def test_column_indentation_is_the_columns_own() -> None:
    left = [Print(f"{n}. Slide one clip on, and one more besides it.", 10 + n) for n in range(1, 6)]
    right = [
        Print("6. Stand it, with a helper at each of the legs.", 10, x=60),
        Print("The hoops are closed from now on, all of them.", 13, x=60),
    ]
    found = outline([printed(left + right)])
    assert shape(found.steps[-1]) == [("text", "The hoops are closed from now on, all of them.")]
    assert labels(found) == ["1", "2", "3", "4", "5", "6", None]


@pytest.mark.parametrize(
    "text",
    [
        (
            "THE TUNNEL\n\n"
            "It has five hoops, 4 ft apart. We count\n"
            "them from the front.\n\n"
            "PARTS\n\n"
            "  A   Clip, closed ring   10\n"
            "  B   Bolt M8 x 45        20\n"
            "  C   Pad                  5\n\n"
            "1. Slide one clip (A) onto the foot of\n"
            "   the one-\n"
            "   piece tube.\n"
            "   - a bullet\n"
        ),
        (
            "# The tunnel\n\n"
            "| Item | Part | Qty |\n"
            "| --- | --- | ---: |\n"
            "| A | **Clip**, closed | 10 |\n\n"
            "**1.1** Slide *one*   clip on.\n\n"
            "> Note: it is\n"
            "> closed.\n\n"
            "- [ ] check `it`\n"
        ),
    ],
)
@pytest.mark.parametrize("kind", ["text", "markdown"])
def test_every_run_stands_in_the_document(text: str, kind: DocumentKind) -> None:
    assert check(outline([document(text, kind)])) > 4


def manuals() -> list[Path]:
    """The manuals that the project keeps, whatever they are kept for."""
    folders = [Path(__file__).parents[2] / "sample_manuals", Path(__file__).parents[1] / "bench"]
    return sorted(
        path
        for folder in folders
        for ending in ("md", "txt")
        for path in folder.rglob(f"*.{ending}")
        if path.stem not in ("README", "notes")
    )


@pytest.mark.parametrize("path", manuals(), ids=lambda path: f"{path.parent.name}/{path.name}")
def test_every_passage_of_every_manual_stands_in_it(path: Path) -> None:
    assert check(outline([read_document(path, "D1")])) > 0
