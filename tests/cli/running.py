"""The command as users run it, in a process of its own or, quicker, in this one."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from hoopwright.cli import app
from typer.testing import CliRunner

COMMANDS = [command.name or getattr(command.callback, "__name__", "") for command in app.registered_commands]


@dataclass(frozen=True, slots=True)
class Ended:
    """How a run ended: exit code, standard output, standard error."""

    code: int
    out: str
    err: str


def run(*arguments: str | Path) -> Ended:
    """The command in this process."""
    result = CliRunner().invoke(app, [str(argument) for argument in arguments])
    return Ended(result.exit_code, result.stdout, result.stderr)


def run_alone(arguments: Sequence[str | Path], folder: Path, **environment: str) -> Ended:
    """The command in a process of its own, with ``folder`` as working folder."""
    done = subprocess.run(
        [sys.executable, "-m", "hoopwright.cli", *map(str, arguments)],
        cwd=folder,
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={"PATH": "/usr/bin:/bin", **environment},
        timeout=120,
        check=False,
    )
    return Ended(done.returncode, done.stdout, done.stderr)


def change(manual: Path, before: str, after: str) -> None:
    """Put other words in place of ``before``, which must be there."""
    text = manual.read_text(encoding="utf-8")
    assert before in text
    manual.write_text(text.replace(before, after), encoding="utf-8")
