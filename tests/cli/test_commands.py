"""The command as a whole: help, versions, warnings explained, interruption, faults of its own."""

from __future__ import annotations

import os
import pty
import re
import shlex
import shutil
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

import hoopwright
import pytest
from hoopwright import api
from hoopwright.api import WARNING_CODES

from cli.running import COMMANDS, run, run_alone
from library import SAMPLE_FOLDER

PROGRAM = [sys.executable, "-m", "hoopwright.cli"]


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help_has_an_example_that_works(command: str, folder: Path) -> None:
    ended = run(*command.split(), "--help")
    assert ended.code == 0
    example = re.search(r"Example:\s+hoopwright (.+)\Z", ended.out.strip(), re.DOTALL)
    assert example is not None
    words = shlex.split(" ".join(example[1].split()))
    shutil.copytree(SAMPLE_FOLDER, folder / "sample_manuals")  # a copy: an answer is filed beside its manual
    if command == "review":  # it serves a page until it is stopped; its own tests open it
        assert Path(words[1]).is_file()
    else:
        assert run(*words).code == 0


def test_help_of_schedule_names_every_exit_code() -> None:
    text = " ".join(run("schedule", "--help").out.split())
    for code in (0, 1, 2, 3):
        assert re.search(rf"\b{code} \w+", text)


def test_help_imports_nothing_heavy() -> None:
    """What makes ``--help`` quick; the time itself is measured by the bench, not here."""
    code = "import sys; from hoopwright.cli import app; print(*sorted({name.partition('.')[0] for name in sys.modules}))"
    loaded = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split()
    heavy = {"pandas", "numpy", "networkx", "jsonschema", "pypdfium2", "pikepdf", "typst", "rich", "yaml", "jinja2", "xlsxwriter"}
    assert heavy.isdisjoint(loaded)


def test_version() -> None:
    assert run("--version").out == f"hoopwright {hoopwright.__version__}\n"


def test_warnings_are_listed() -> None:
    out = run("warnings").out
    assert [line.split()[0] for line in out.splitlines() if re.match(r"[a-z]", line)] == list(WARNING_CODES)


@pytest.mark.parametrize("code", WARNING_CODES)
def test_a_warning_is_explained(code: str) -> None:
    ended = run("warnings", code)
    assert ended.code == 0
    assert ended.out.startswith(f"{code}\n")
    assert {"Why it matters", "What to do", "Example"} <= set(ended.out.splitlines())


def test_an_unknown_warning_lists_those_that_there_are() -> None:
    ended = run("warnings", "traped")
    assert ended.code == 2
    assert ended.err == f"hoopwright: there is no warning “traped”; choose from {', '.join(WARNING_CODES)}\n"


def test_a_fault_of_the_tool_is_one_line_too(manual: Path, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object, **__: object) -> None:
        raise ZeroDivisionError("by design")

    monkeypatch.setattr(api, "understand", broken)
    ended = run("schedule", manual)
    assert ended.code == 70
    assert re.fullmatch(r"hoopwright: the tool itself has failed \(ZeroDivisionError in \S+, line \d+: by design\); please .*\n", ended.err)
    assert not (folder / "outputs").exists()


def test_control_c_stops_cleanly(folder: Path, manual: Path) -> None:
    # A manual long enough to be still at work when the signal comes.
    long = manual.read_text(encoding="utf-8") + "\n6. Slide one ridge clip (B) onto the left half of each hoop.\n" * 4000
    manual.write_text(long, encoding="utf-8")
    process, screen = on_a_terminal(folder, "schedule", str(manual))
    shown = os.read(screen, 4096)  # it has begun
    process.send_signal(signal.SIGINT)
    shown += everything(screen)
    assert process.wait(timeout=60) == 130
    assert shown.decode().rstrip().endswith("hoopwright: stopped")
    assert "Traceback" not in shown.decode()
    assert list(folder.iterdir()) == [manual]


def test_a_reader_that_has_gone_is_no_reason_to_fail(folder: Path, manual: Path) -> None:
    process = subprocess.Popen([*PROGRAM, "readback", str(manual)], cwd=folder, stderr=subprocess.PIPE, stdout=subprocess.PIPE)
    assert process.stdout is not None
    process.stdout.close()
    _, err = process.communicate(timeout=60)
    assert (process.returncode, err) == (0, b"")


def test_a_terminal_sees_progress(folder: Path, manual: Path) -> None:
    process, screen = on_a_terminal(folder, "schedule", str(manual), "--only", "json")
    shown = everything(screen)
    assert process.wait(timeout=60) == 0
    stages = rb"reading back-yard\.txt|finding the steps|reading the steps|putting the fittings on|what goes on first|writing the reports"
    assert re.search(stages, shown)  # a stage that is over in a blink may not be drawn


def on_a_terminal(folder: Path, *arguments: str) -> tuple[subprocess.Popen[bytes], int]:
    """The command with a terminal for its standard error, and the end of that terminal from which its screen is read."""
    ours, theirs = pty.openpty()
    environment = {**os.environ, "TERM": "xterm"}
    process = subprocess.Popen([*PROGRAM, *arguments], cwd=folder, stderr=theirs, stdout=subprocess.DEVNULL, env=environment)
    os.close(theirs)
    return process, ours


def everything(screen: int) -> bytes:
    """All that is written until the program has gone."""
    shown = b""
    with suppress(OSError):  # the other end is closed: Linux says so with EIO
        while piece := os.read(screen, 4096):
            shown += piece
    os.close(screen)
    return shown


def test_the_command_is_installed(folder: Path, manual: Path) -> None:
    script = Path(sys.executable).with_name("hoopwright")
    assert script.is_file()
    assert subprocess.run([script, "schedule", manual], cwd=folder, capture_output=True, check=False).returncode == 0


def test_it_runs_without_a_home(folder: Path, manual: Path) -> None:
    assert run_alone(["schedule", manual], folder).code == 0
