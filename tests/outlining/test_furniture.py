"""Running heads and feet, page numbers and contents pages are left out; titles and text that comes back are not."""

from __future__ import annotations

import pytest
from hoopwright.outlining import outline

from .pages import Print, document, labels, outlined, printed


def words(text: str) -> str:
    found = outline([document(text)])
    return " | ".join([*(section.title for section in found.sections if section.title), *(step.text for step in found.steps)])


@pytest.mark.parametrize(
    "line",
    [
        "PAGE 3 OF 7",
        "Page 3",
        "- 3 -",
        "SEEDLING SHELTER        PAGE 3 OF 7",
        "Plant shelter, page 3 of 7",
        "Page 3 of 7 | Plant shelter",
        "Sheet 3 of 7",
        "p. 3/7",
        "continued on next page",
        "P.T.O.",
    ],
)
def test_line_of_the_page(line: str) -> None:
    assert words(f"1. Slide one clip on.\n\n{line}\n\n2. Stand it.\n") == "Slide one clip on. | Stand it."


@pytest.mark.parametrize(
    "line", ["See the figure on page 3.", "Page through the manual first.", "3", "Three of 7 hoops carry one.", "- 3 mm of play is left"]
)
def test_line_of_the_text(line: str) -> None:
    assert line.lstrip("- ") in words(f"1. Slide one clip on.\n\n{line}\n\n2. Stand it.\n") or labels(outlined(f"{line}\n")) == ["3"]


def test_running_head_goes_and_the_title_stays() -> None:
    pages = ["THE TUNNEL\n\n1. Slide one clip on.\n", "THE TUNNEL\n\n2. Stand it.\n", "THE TUNNEL\n\n3. Cover it.\n"]
    found = outline([document("\f".join(pages))])
    assert (found.title, labels(found)) == ("THE TUNNEL", ["1", "2", "3"])
    assert [step.text for step in found.steps] == ["Slide one clip on.", "Stand it.", "Cover it."]


def test_page_numbers_of_a_printed_page() -> None:
    prints = []
    for page in (1, 2, 3):
        prints += [
            Print("The tunnel, a manual", 1, page=page, size=8.0),
            Print(f"{page}. Slide one clip on, and leave it where it is.", 4, page=page),
        ]
        prints += [Print("It is closed.", 5, x=13, page=page), Print(str(page), 60, x=50, page=page, size=8.0)]
    found = outline([printed(prints)])
    assert [(step.label, step.text) for step in found.steps] == [
        (str(n), "Slide one clip on, and leave it where it is. It is closed.") for n in (1, 2, 3)
    ]


@pytest.mark.parametrize(
    "text",
    [
        "CONTENTS\n\nTHE TUNNEL ......... 1\nFITTING ............ 2\n\n\nTHE TUNNEL\n\nIt is long.\n\nFITTING\n\n1. Slide.\n",
        "CONTENTS\n\n1  The tunnel        1\n2  Fitting           2\n\n\nTHE TUNNEL\n\nIt is long.\n\nFITTING\n\n1. Slide.\n",
        (
            "THE HOUSE\n\n"
            "The tunnel ......... 1\n"
            "Fitting ............ 2\n"
            "Standing ........... 3\n\n\n"
            "THE TUNNEL\n\n"
            "It is long.\n\n"
            "FITTING\n\n"
            "1. Slide.\n\n"
            "STANDING\n\n"
            "2. Stand.\n"
        ),
    ],
)
def test_contents_page(text: str) -> None:
    assert [step.text for step in outlined(text).steps][:2] == ["It is long.", "Slide."]


def test_markdown_contents() -> None:
    found = outlined(
        ("# House\n\n## Contents\n\n- [The tunnel](#t)\n- [Fitting](#f)\n\n## The tunnel\n\nIt is long.\n\n## Fitting\n\n1. Slide.\n"),
        "markdown",
    )
    assert [step.text for step in found.steps] == ["It is long.", "Slide."]
    assert [section.role for section in found.sections] == ["build", "contents", "intro", "build"]
