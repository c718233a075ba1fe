"""Sections numbered in Roman figures over steps whose letters run on, past Z; and what "equipment" heads."""

from __future__ import annotations

import pytest
from hoopwright.outlining.labels import labels as read_labels
from hoopwright.outlining.labels import roman_heads

from .pages import labels, outlined

ROMAN = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X")


def lettered(title: str = "WORK AT THE HOOPS", per_section: int = 3, sections: int = 10) -> str:
    letters = [*"ABCDEFGHIJKLMNOPQRSTUVWXYZ", "AA", "BB", "CC", "DD"]
    rows = ["THE VAULT", ""]
    for n in range(sections):
        rows += [f"{ROMAN[n]}.  {title} {'ABCDEFGHIJ'[n] * 3}", ""]
        for letter in letters[n * per_section : (n + 1) * per_section]:
            rows += [f"{letter + '.':<4}One ring is shifted onto each foot piece of the hoop,", "    and is brought to its mark.", ""]
    return "\n".join(rows)


@pytest.mark.parametrize("title", ["WORK AT THE HOOPS", "Work at the hoops"])
def test_roman_headings_over_letters_that_run_on(title: str) -> None:
    found = outlined(lettered(title))
    assert [s.title.split(".")[0] for s in found.sections if s.level == 2] == list(ROMAN)
    assert labels(found) == [*"ABCDEFGHIJKLMNOPQRSTUVWXYZ", "AA", "BB", "CC", "DD"]


def test_lettered_procedures_over_steps_that_count_on() -> None:
    text = "A BOW SHELTER\n\n" + "".join(
        f"Procedure {letter}. Work {n}\n\n{2 * n + 1}. Slide one ring onto each bow.\n\n{2 * n + 2}. Drive one pin.\n\n"
        for n, letter in enumerate("ABC")
    )
    found = outlined(text)
    assert labels(found) == ["1", "2", "3", "4", "5", "6"]
    assert [s.title for s in found.sections if s.title.startswith("Procedure")] == [f"Procedure {c}. Work {n}" for n, c in enumerate("ABC")]


def test_roman_headings_of_markdown() -> None:
    text = "# The vault\n\n" + "".join(
        f"## {n}. Work {n}\n\n{letter}. Slide one ring on.\n\n" for n, letter in zip(ROMAN, "ABCDEFGHIJ", strict=True)
    )
    found = outlined(text, "markdown")
    assert labels(found) == list("ABCDEFGHIJ") and len([s for s in found.sections if s.level == 2]) == 10


def test_letters_with_titles_stay_steps() -> None:
    """H., I., J. in capitals are letters where no II. follows."""
    text = "THE HOUSE\n\n" + "".join(f"{c}. FIT THE RINGS {c}{c}{c}\n\nSlide one ring onto each leg.\n\n" for c in "ABCDEFGHIJ")
    assert labels(outlined(text)) == list("ABCDEFGHIJ")


def test_roman_heads_need_their_order() -> None:
    assert roman_heads({1: "I. FRAME", 4: "II. LEGS", 6: "V. DOOR", 9: "III. COVER"}) == {1, 4, 9}
    assert roman_heads({1: "I. FRAME"}) == frozenset()
    assert roman_heads({1: "V. FRAME", 2: "VI. LEGS"}) == frozenset()


@pytest.mark.parametrize(("text", "path"), [("Z. Lift.", 26), ("AA. Lift.", 27), ("BB. Lift.", 28), ("AB. Lift.", 28), ("bb) lift", 28)])
def test_letters_past_z(text: str, path: int) -> None:
    assert any(label.letter and label.path == (path,) for label in read_labels(text))


def test_double_letters_begin_no_list() -> None:
    found = outlined("THE HOUSE\n\n1. Slide one ring on.\n\nCC. Two of them are spare.\n")
    assert labels(found) == ["1", None]


STEPS = "C. One ring is slid onto each leg.\n\nD. One clip is slid onto each leg.\n"


@pytest.mark.parametrize(
    ("heading", "below", "role"),
    [
        ("EQUIPMENT OF THE TUBES", STEPS, "build"),
        ("EQUIPMENT", STEPS, "build"),
        ("TOOLS AND EQUIPMENT", "Hammer, spanner, two ladders.\n", "tools"),
        ("EQUIPMENT", "A. Hammer\n\nB. Spanner\n", "tools"),
    ],
)
def test_equipment_that_goes_on_counting_builds(heading: str, below: str, role: str) -> None:
    text = f"THE HOUSE\n\nGROUND\n\nA. Mark the ground.\n\nB. Drive the tubes.\n\n{heading}\n\n{below}"
    assert [s.role for s in outlined(text).sections if s.title == heading] == [role]


@pytest.mark.parametrize(
    ("heading", "below", "role"),
    [
        ("Entrance and equipment", ("Push one rail ring over each leg of hoop 1.", "Mount a hose holder on every even hoop."), "build"),
        ("Entrance and equipment", ("Hammer", "Spanner, 13 mm"), "tools"),
        ("Spanners and tools", ("Use two spanners of 13 mm.", "Wear gloves while you cut the tape."), "tools"),
    ],
)
@pytest.mark.parametrize(("before", "here"), [("B-", "C-"), ("B", "C")])
def test_equipment_under_letters_with_numbers(before: str, here: str, heading: str, below: tuple[str, str], role: str) -> None:
    steps = "".join(f"**{here}{n}** {text}\n\n" for n, text in enumerate(below, start=1))
    ground = f"## B Ground\n\n**{before}1** Mark the ground out.\n\n**{before}2** Drive the ground tubes in.\n\n"
    found = outlined(f"# House\n\n{ground}## C {heading}\n\n{steps}", "markdown")
    assert [s.role for s in found.sections if s.title == f"C {heading}"] == [role]
