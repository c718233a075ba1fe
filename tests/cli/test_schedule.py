"""``hoopwright schedule``: what it writes, where, what it shows, and how it ends."""

from __future__ import annotations

import csv
import json
from pathlib import Path
from typing import Any

import pytest

from cli.running import change, run, run_alone


def schedule_in(folder: Path) -> dict[str, Any]:
    data: dict[str, Any] = json.loads((folder / "schedule.json").read_text(encoding="utf-8"))
    return data


def test_results_go_to_a_folder_named_after_the_manual(folder: Path, manual: Path) -> None:
    ended = run("schedule", manual)
    assert (ended.code, ended.err) == (0, "")
    assert schedule_in(folder / "outputs" / "back-yard")["counts"]["H3"] == {"ridge clip": 1, "joint bolt": 2, "cover clip": 2}
    assert "outputs/back-yard" in ended.out
    assert sorted(path.name for path in folder.iterdir()) == ["back-yard.txt", "outputs"]
    assert [path.name for path in (folder / "outputs").iterdir()] == ["back-yard"]


def test_results_go_where_they_are_told(folder: Path, manual: Path) -> None:
    assert run("schedule", manual, "--out", "mine/first").code == 0
    assert schedule_in(folder / "mine" / "first")["schema"] == "hoopwright/schedule/1"
    assert not (folder / "outputs").exists()


def test_every_file_that_is_written_is_named(folder: Path, manual: Path) -> None:
    out = run("schedule", manual).out
    written = [path.name for path in (folder / "outputs" / "back-yard").rglob("*") if path.is_file()]
    assert len(written) >= 3
    assert all(name in out for name in written)


def test_the_table_is_shown(manual: Path) -> None:
    out = run("schedule", manual, "--only", "csv").out
    assert "H1–H5" in out
    assert "5 hoops" in out
    assert "1500 mm apart" in out


def test_units_change_what_is_shown_and_not_what_is_written(folder: Path, manual: Path) -> None:
    metric = run("schedule", manual, "--only", "json", "--out", "a").out
    imperial = run("schedule", manual, "--only", "json", "--out", "b", "--units", "imperial").out
    assert "3000 mm wide" in metric
    assert "9 ft 10 1/8 in wide" in imperial  # 3000 / 25.4 = 118.11 in, to the nearest sixteenth 118 1/8 in
    assert (folder / "a" / "schedule.json").read_bytes() == (folder / "b" / "schedule.json").read_bytes()


def test_a_bundle_is_read_in_the_order_given(folder: Path, manual: Path, extra: Path) -> None:
    assert run("schedule", manual, extra, "--only", "json").code == 0
    data = schedule_in(folder / "outputs" / "back-yard")
    assert [document["name"] for document in data["documents"]] == ["back-yard.txt", "shade-rail.txt"]
    assert data["counts"]["H1"]["rail clip"] == 1


def test_a_folder_with_an_order_file_is_a_bundle(folder: Path, manual: Path, extra: Path) -> None:
    kit = folder / "my kit"
    kit.mkdir()
    for path in (manual, extra):
        path.rename(kit / path.name)
    (kit / "order").write_text("back-yard.txt\nshade-rail.txt\n", encoding="utf-8")
    assert run("schedule", kit).code == 0
    assert len(schedule_in(folder / "outputs" / "my-kit")["documents"]) == 2


@pytest.mark.parametrize("words", ["shade rail", "Shade Rail", "shade"])
def test_an_extra_is_left_out(folder: Path, manual: Path, extra: Path, words: str) -> None:
    assert run("schedule", manual, extra, "--without", words, "--only", "json").code == 0
    assert "rail clip" not in schedule_in(folder / "outputs" / "back-yard")["counts"]["H1"]


def test_an_unknown_extra_lists_those_that_there_are(folder: Path, manual: Path, extra: Path) -> None:
    ended = run("schedule", manual, extra, "--without", "fan")
    assert ended.code == 2
    assert ended.err == "hoopwright: there is no optional extra “fan” in the manual; choose from “shade rail”\n"
    assert not (folder / "outputs").exists()


def test_an_extra_of_a_manual_that_has_none(manual: Path) -> None:
    ended = run("schedule", manual, "--without", "fan")
    assert ended.code == 2
    assert "the manual has none; leave --without away" in ended.err


def test_strict_is_content_with_a_manual_without_doubts(manual: Path) -> None:
    assert run("schedule", manual, "--strict", "--only", "json").code == 0


def test_strict_tells_that_something_is_open(folder: Path, manual: Path) -> None:
    change(manual, "D   Cover clip, snap-on       10", "D   Cover clip, snap-on        9")
    assert run("schedule", manual, "--only", "json").code == 0
    ended = run("schedule", manual, "--only", "json", "--strict")
    assert ended.code == 1
    assert ended.err == "hoopwright: still open: 1 warnings, 0 questions\n"
    assert [warning["code"] for warning in schedule_in(folder / "outputs" / "back-yard")["warnings"]] == ["short"]


def test_only_writes_the_schedule_and_what_is_asked_for(folder: Path, manual: Path) -> None:
    assert run("schedule", manual, "--only", "csv").code == 0
    assert sorted(path.name for path in (folder / "outputs" / "back-yard").iterdir()) == ["hoops.csv", "placements.csv", "schedule.json"]
    with (folder / "outputs" / "back-yard" / "hoops.csv").open(encoding="utf-8", newline="") as file:
        assert len(list(csv.reader(file))) >= 6


def test_an_unknown_report_lists_those_that_there_are(folder: Path, manual: Path) -> None:
    ended = run("schedule", manual, "--only", "poem")
    assert ended.code == 2
    assert "choose from json, csv" in ended.err
    assert not (folder / "outputs").exists()


def test_a_grammar_of_ones_own_adds_words(folder: Path, manual: Path) -> None:
    change(manual, "Ridge clip", "Ridge gubbin")
    change(manual, "ridge clip", "ridge gubbin")
    grammar = folder / "mine.yaml"
    entry = "{id: gubbin, form: closed, words: [gubbin], examples: [one gubbin]}"
    grammar.write_text(f"kind: fittings\nentries:\n  - {entry}\n", encoding="utf-8")
    assert run("schedule", manual, "--grammar", grammar, "--only", "json").code == 0
    assert schedule_in(folder / "outputs" / "back-yard")["before_joining"]["H1"] == {"ridge gubbin": 1}


def test_a_wrong_grammar_is_refused_by_file_and_reason(folder: Path, manual: Path) -> None:
    grammar = folder / "mine.yaml"
    grammar.write_text("kind: fittings\nentries:\n  - {id: gubbin, form: closed, words: [gubbin]}\n", encoding="utf-8")
    ended = run("schedule", manual, "--grammar", grammar)
    assert ended.code == 2
    assert ended.err.startswith("hoopwright: ")
    assert ended.err.count("\n") == 1
    assert "mine.yaml: line 3: entry 1 (gubbin): has no examples; add" in ended.err


@pytest.mark.parametrize("arguments", [["schedule"], ["schedule", "x.txt", "--units", "cubits"], ["schedule", "x.txt", "--what"], ["bake"]])
def test_wrong_usage_ends_with_2(arguments: list[str]) -> None:
    assert run(*arguments).code == 2


def test_a_second_run_replaces_the_first_and_leaves_other_files_alone(folder: Path, manual: Path) -> None:
    run("schedule", manual, "--only", "json")
    mine = folder / "outputs" / "back-yard" / "my notes.txt"
    mine.write_text("bought new drill", encoding="utf-8")
    change(manual, "Snap two cover clips", "Snap one cover clip")
    run("schedule", manual, "--only", "json")
    assert schedule_in(folder / "outputs" / "back-yard")["counts"]["H1"]["cover clip"] == 1
    assert mine.read_text(encoding="utf-8") == "bought new drill"


def test_the_same_manual_gives_the_same_files(folder: Path, manual: Path) -> None:
    for seed in ("1", "2"):
        assert run_alone(["schedule", manual, "--out", seed], folder, PYTHONHASHSEED=seed).code == 0
    names = sorted(path.name for path in (folder / "1").iterdir())
    assert names == sorted(path.name for path in (folder / "2").iterdir())
    assert [name for name in names if (folder / "1" / name).read_bytes() != (folder / "2" / name).read_bytes()] == []


def test_a_terminal_that_lacks_characters_is_no_reason_to_fail(folder: Path, manual: Path) -> None:
    ended = run_alone(["schedule", manual, "--only", "json"], folder, PYTHONIOENCODING="ascii")
    assert ended.code == 0
    assert "H1?H5" in ended.out


def test_no_progress_is_shown_where_no_terminal_is(folder: Path, manual: Path) -> None:
    assert run_alone(["schedule", manual, "--only", "json"], folder).err == ""
