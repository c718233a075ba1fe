"""Every sample manual is registered with its purpose and licence, and has what belongs to it."""

from __future__ import annotations

import re

import pytest

from library import CORPUS, CORPUS_FOLDER, EXAMPLES, HELD_OUT, LATEST, NEWEST, RETOLD, SAMPLE_FOLDER, SAMPLES, UNRELATED, UNSEEN, Kit

APART = [*HELD_OUT, *UNSEEN, *NEWEST, *LATEST, *RETOLD]


def registered(folder_readme: str) -> dict[str, list[str]]:
    """The rows of the register: the kit's name (in a link or not) and the cells behind it."""
    below_the_head = folder_readme.partition("| ---")[2]
    rows = re.findall(r"^\| \[?([\w-]+)\]?(?:\([^)]*\))? \|(.*)\|$", below_the_head, re.MULTILINE)
    return {name: [cell.strip() for cell in cells.split("|")] for name, cells in rows}


def test_the_register_of_the_samples_is_complete() -> None:
    register = registered((SAMPLE_FOLDER / "README.md").read_text(encoding="utf-8"))
    assert set(register) == {path.name for path in SAMPLE_FOLDER.iterdir() if path.is_dir()} == {kit.name for kit in SAMPLES}
    for cells in register.values():
        assert all(cells), "a cell of the register is empty"
        assert cells[-1] == "MIT"


def test_the_register_of_the_test_manuals_is_complete() -> None:
    register = registered((CORPUS_FOLDER / "README.md").read_text(encoding="utf-8"))
    folders = {path.name for path in CORPUS_FOLDER.iterdir() if path.is_dir() and path.name != "__pycache__"}
    assert set(register) == folders == {kit.name for kit in [*EXAMPLES, *CORPUS, *APART, *UNRELATED]}
    assert all(all(cells) for cells in register.values())


@pytest.mark.parametrize("kit", [*SAMPLES, *EXAMPLES, *CORPUS, *APART], ids=lambda kit: kit.name)
def test_a_kit_has_its_notes_and_a_reference_that_adds_up(kit: Kit) -> None:
    assert (kit.folder / "notes.md").read_text(encoding="utf-8").strip()
    assert kit.manual.exists()
    reference = kit.reference
    assert set(reference["counts"]) == {f"H{number}" for number in range(1, reference["hoops"] + 1)}
    for hoop, row in reference.get("before_joining", {}).items():
        for fitting, number in row.items():
            assert number <= reference["counts"][hoop][fitting], (hoop, fitting)
    on_hoops = {name for row in reference["counts"].values() for name in row}
    for position in reference.get("positions", []):
        assert position["fitting"] in on_hoops | set(reference.get("elsewhere", {})), position


def test_the_three_samples_are_unlike_each_other() -> None:
    assert {kit.name: kit.reference["hoops"] for kit in SAMPLES} == {"meadow-5": 5, "orchard-6": 6, "valley-7": 7}
    assert {kit.manual.suffix for kit in SAMPLES} == {".pdf", ".txt", ""}
