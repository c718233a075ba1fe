"""Input that cannot be used: one line with file, page and remedy, exit code 3, and nothing left behind."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest

from cli.running import Ended, run, run_alone
from library import SAMPLE_FOLDER

BREAD = """HOW TO BAKE BREAD

1. Mix the flour and the water.
2. Let the dough rest for 2 hours.
3. Bake it.
"""
BARE_HOOPS = """GROWING TUNNEL

The tunnel has 5 hoops, 1.5 m apart.

1. Stand the hoops.
2. Water the beds each morning.
"""
GERMAN = """Schieben Sie auf jeden Bogen eine Schelle und ziehen Sie die Schrauben nicht fest.
Die Bögen werden mit dem Fuß in den Boden gesteckt.
"""

PDF = SAMPLE_FOLDER / "meadow-5" / "meadow-5.pdf"


def missing(path: Path) -> None:
    """Nothing is there."""


def folder_without_order(path: Path) -> None:
    path.mkdir()


def empty(path: Path) -> None:
    path.write_bytes(b"")


def blanks(path: Path) -> None:
    path.write_bytes(b" \n\t\n" * 100)


def pdf_without_text(path: Path) -> None:
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(path)


def encrypted_pdf(path: Path) -> None:
    with pikepdf.open(PDF) as pdf:
        pdf.save(path, encryption=pikepdf.Encryption(owner="spade", user="fork"))


def truncated_pdf(path: Path) -> None:
    path.write_bytes(PDF.read_bytes()[:3000])


def corrupt_pdf(path: Path) -> None:
    path.write_bytes(b"%PDF-1.7\n" + bytes(range(256)) * 40)


def binary_junk(path: Path) -> None:
    path.write_bytes(bytes((index * 197 + index // 256) % 256 for index in range(20_000)))


def huge(path: Path) -> None:
    with path.open("wb") as file:  # sparse: it takes no room on the disk
        file.truncate(201 * 1024 * 1024)


def no_hoop(path: Path) -> None:
    path.write_text(BREAD, encoding="utf-8")


def no_fitting(path: Path) -> None:
    path.write_text(BARE_HOOPS, encoding="utf-8")


def other_language(path: Path) -> None:
    path.write_text(GERMAN * 5, encoding="utf-8")


CASES: list[tuple[Callable[[Path], None], str, str]] = [
    (missing, "manual.pdf", "no such file"),
    (folder_without_order, "manual", "it is a folder"),
    (empty, "manual.txt", "empty"),
    (blanks, "manual.txt", "empty"),
    (pdf_without_text, "manual.pdf", "text"),
    (encrypted_pdf, "manual.pdf", "password|encrypted|locked"),
    (truncated_pdf, "manual.pdf", "damaged|cut off|broken|truncated"),
    (corrupt_pdf, "manual.pdf", "damaged|cut off|broken"),
    (binary_junk, "manual.txt", "text"),
    (huge, "manual.pdf", "MB"),
    (no_hoop, "manual.txt", "no hoop"),
    (no_fitting, "manual.txt", "no fitting"),
    (other_language, "manual.txt", "German"),
]


def is_one_clean_line(ended: Ended, path: Path) -> bool:
    """``hoopwright: <file>: <what is wrong>; <what to do>``, and no trace of Python."""
    return bool(re.fullmatch(rf"hoopwright: \S*{re.escape(path.name)}: [^\n;]+; [^\n]+\n", ended.err))


@pytest.mark.parametrize(("make", "name", "says"), CASES, ids=[make.__name__ for make, _, _ in CASES])
def test_each_gets_its_line_and_leaves_nothing_behind(folder: Path, make: Callable[[Path], None], name: str, says: str) -> None:
    path = folder / name
    make(path)
    before = sorted(folder.rglob("*"))
    ended = run("schedule", path)
    assert ended.code == 3, ended
    assert is_one_clean_line(ended, path), ended.err
    assert re.search(says, ended.err), ended.err
    assert sorted(folder.rglob("*")) == before
    assert ended.out == ""


# A leaflet need not speak of hoops or fittings.
LEAFLETS = [(make, name) for make, name, _ in CASES if make not in (no_hoop, no_fitting)]


@pytest.mark.parametrize(("make", "name"), LEAFLETS, ids=[make.__name__ for make, _ in LEAFLETS])
def test_a_bad_leaflet_spoils_the_bundle(folder: Path, manual: Path, make: Callable[[Path], None], name: str) -> None:
    path = folder / name
    make(path)
    ended = run("schedule", manual, path)
    assert ended.code == 3
    assert is_one_clean_line(ended, path), ended.err
    assert not (folder / "outputs").exists()


def test_an_earlier_result_outlives_a_failed_run(folder: Path, manual: Path) -> None:
    run("schedule", manual, "--only", "json")
    result = folder / "outputs" / "back-yard" / "schedule.json"
    before = result.read_bytes()
    empty(manual)
    assert run("schedule", manual).code == 3
    assert result.read_bytes() == before


@pytest.mark.parametrize("encoding", ["utf-8-sig", "utf-16", "cp1252"])
def test_text_in_another_encoding_is_read(folder: Path, manual: Path, encoding: str) -> None:
    text = manual.read_text(encoding="utf-8").replace("A   Hoop half  ", "A   Hoop half Ø 42 mm – ½ length")
    manual.write_bytes(text.encode(encoding))
    assert run("schedule", manual, "--only", "json").code == 0


def test_a_place_that_cannot_be_written(folder: Path, manual: Path) -> None:
    (folder / "taken").write_text("a file", encoding="utf-8")
    ended = run("schedule", manual, "--out", "taken/deep")
    assert ended.code == 3
    assert ended.err.startswith("hoopwright: ")
    assert ended.err.count("\n") == 1
    assert (folder / "taken").read_text(encoding="utf-8") == "a file"


def test_control_characters_in_a_name_do_not_reach_the_terminal(folder: Path) -> None:
    ended = run("schedule", folder / "no\x1b[31mred\n.txt")
    assert ended.code == 3
    assert ended.err.count("\n") == 1
    assert "\x1b" not in ended.err


def test_control_characters_in_a_manual_do_not_reach_the_terminal(folder: Path, manual: Path) -> None:
    manual.write_text(manual.read_text(encoding="utf-8").replace("BACK YARD", "BACK \x1b[31mYARD\x07"), encoding="utf-8")
    commands: list[list[str | Path]] = [["schedule", manual, "--only", "json"], ["readback", manual]]
    for arguments in commands:
        ended = run_alone(arguments, folder)
        assert ended.code == 0
        assert "\x1b" not in ended.out + ended.err
        assert "\x07" not in ended.out + ended.err
