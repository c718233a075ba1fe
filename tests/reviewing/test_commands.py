"""The commands: questions, answer, and schedule with an answers file beside the manual; review in a process of its own."""

from __future__ import annotations

import json
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from cli.running import run

from reviewing.desks import fetch, kit

KEY = re.compile(r"^([a-z0-9-]+-[0-9a-f]{8})  ?", re.MULTILINE)


@pytest.fixture
def manual(tmp_path: Path) -> Path:
    path = tmp_path / "tunnel.txt"
    path.write_bytes(kit("e6-doubtful").manual.read_bytes())
    return path


def _schedule(manual: Path, folder: Path, *more: str) -> tuple[str, dict[str, object]]:
    ended = run("schedule", manual, "--out", folder, "--only", "csv", *more)
    assert ended.code == 0, ended.err
    return ended.out, json.loads((folder / "schedule.json").read_text(encoding="utf-8"))


def test_list_answer_schedule_take_back(manual: Path, tmp_path: Path) -> None:
    before, first = _schedule(manual, tmp_path / "a")
    assert "From " not in before
    keys = KEY.findall(run("questions", manual).out)
    assert len(keys) == len(first["questions"])  # type: ignore[arg-type]
    key = next(each for each in keys if each.startswith("fitting"))
    ended = run("answer", manual, "--question", key[-8:], "--say", "b", "--note", "asked the maker")
    assert ended.code == 0, ended.err
    out, second = _schedule(manual, tmp_path / "b")
    assert "tunnel.answers.yaml: 1 answer." in out
    assert len(second["questions"]) == len(keys) - 1  # type: ignore[arg-type]
    assert "answered: short net hook (asked the maker)" in json.dumps(second["placements"])
    assert run("answer", manual, "--question", key, "--take-back").code == 0
    assert _schedule(manual, tmp_path / "c")[1] == first


def test_a_form_is_written_filled_in_and_taken_over(manual: Path, tmp_path: Path) -> None:
    form = tmp_path / "form.yaml"
    assert run("questions", manual, "--form", form).code == 0
    assert run("questions", manual, "--form", form).code == 2  # it may be filled in already
    text = form.read_text(encoding="utf-8")
    head, mark, rest = text.partition("    choice:")
    form.write_text(f"{head}{mark} short net hook{rest}", encoding="utf-8")
    ended = run("answer", manual, "--from", form)
    assert ended.code == 0 and ended.out.startswith("1 entries taken over")
    assert "5 of 6 questions are open" in ended.out


def test_a_warning_is_accepted_and_stays(tmp_path: Path) -> None:
    manual = tmp_path / "kit.pdf"
    manual.write_bytes(kit("meadow-5").manual.read_bytes())
    assert run("schedule", manual, "--out", tmp_path / "a", "--only", "csv", "--strict").code == 1
    warned = json.loads((tmp_path / "a" / "schedule.json").read_text(encoding="utf-8"))["warnings"]
    assert run("answer", manual, "--accept", "W99").code == 2
    for each in warned:
        assert run("answer", manual, "--accept", each["id"], "--note", "looked at").code == 0
    ended = run("schedule", manual, "--out", tmp_path / "b", "--only", "csv", "--strict")
    again = json.loads((tmp_path / "b" / "schedule.json").read_text(encoding="utf-8"))
    assert [each["message"] for each in again["warnings"]] == [each["message"] for each in warned]
    assert all("accepted this as it stands (looked at)" in each["advice"] for each in again["warnings"])
    assert ended.code == (1 if again["questions"] else 0)


@pytest.mark.parametrize(
    ("more", "words"),
    [
        (["--question", "nonsense", "--say", "2"], "there is no question"),
        (["--question", "quantity", "--say", "2"], "fits 2 questions"),
        (["--question", "f591d284", "--say", "by eye"], "no"),
        (["--say", "2"], "say what to answer"),
        (["--question", "x"], "say what to answer"),
        (["--from", "missing.yaml"], "no such form"),
    ],
)
def test_wrong_use_is_one_line(manual: Path, more: list[str], words: str) -> None:
    ended = run("answer", manual, *more)
    assert ended.code == 2
    assert words in ended.err and ended.err.count("\n") == 1
    assert not manual.with_name("tunnel.answers.yaml").exists()


def test_a_broken_file_stops_the_schedule_with_its_line(manual: Path, tmp_path: Path) -> None:
    manual.with_name("tunnel.answers.yaml").write_text("answers:\n  - choice: 2\n", encoding="utf-8")
    ended = run("schedule", manual, "--out", tmp_path / "out")
    assert ended.code == 3
    assert "tunnel.answers.yaml: line 2:" in ended.err and ended.err.count("\n") == 1
    assert not (tmp_path / "out").exists()


def test_an_answers_file_that_is_named_must_be_there(manual: Path, tmp_path: Path) -> None:
    assert run("schedule", manual, "--out", tmp_path / "out", "--answers", tmp_path / "none.yaml").code == 2


def test_the_page_from_the_command_line_until_ctrl_c(manual: Path, tmp_path: Path) -> None:
    command = [sys.executable, "-m", "hoopwright.cli", "review", str(manual), "--no-browser", "--out", str(tmp_path / "out")]
    process = subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env={**_environment(), "PYTHONUNBUFFERED": "1"}
    )
    assert process.stdout is not None
    try:
        url = ""
        while not url:
            line = process.stdout.readline()
            assert line or process.poll() is None
            url = line.strip() if line.strip().startswith("http://127.0.0.1:") else ""
        assert fetch(url).status == 200
        assert "schedule.json" in fetch(f"{url}write", b"").text
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=20)
    finally:
        process.kill()
    assert process.returncode == 0 and err == ""
    assert "Your answers are in" in out
    assert (tmp_path / "out" / "sheets.pdf").exists()


def _environment() -> dict[str, str]:
    import os

    return dict(os.environ)
