"""What the README and DEVELOPERS.md say is what there is."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import hoopwright
import pytest
import yaml
from cli.running import COMMANDS, run
from hoopwright import cli
from hoopwright.model.errors import GrammarError, HoopwrightError, OutputError, UnreadableDocument, UsageError
from hoopwright.reporting import MAKERS

from library import PROJECT

README = (PROJECT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (PROJECT / "DEVELOPERS.md").read_text(encoding="utf-8")


def options_of(command: str) -> set[str]:
    return set(re.findall(r"(?<![\w-])--[a-z][a-z-]+", run(command, "--help").out)) - {"--help"}


def shell_lines(text: str) -> list[str]:
    return [line for block in re.findall(r"```sh\n(.*?)```", text, re.DOTALL) for line in block.splitlines()]


def test_every_option_of_the_main_command_is_in_the_readme() -> None:
    table = set(re.findall(r"^\| `(--[a-z-]+)", README, re.MULTILINE))
    assert table == options_of("schedule")


def test_no_option_is_mentioned_that_does_not_exist() -> None:
    ours = set().union(*(options_of(command) for command in COMMANDS)) | {"--version", "--help"}
    theirs = {"--require-hashes", "--no-deps", "--no-build-isolation"}
    mentioned = set(re.findall(r"(?<![\w-])--[a-z][a-z-]+", README))
    assert mentioned - theirs <= ours
    assert mentioned >= theirs


def test_every_command_is_in_the_readme_with_an_example() -> None:
    for command in COMMANDS:
        assert f"hoopwright {command}" in README


def test_the_exit_codes_are_those_of_the_program() -> None:
    table = [int(code) for code in re.findall(r"^\| (\d+) \|", README, re.MULTILINE)]
    assert table == [0, cli.DOUBTS_OPEN, UsageError.exit_code, UnreadableDocument.exit_code]
    assert OutputError.exit_code == HoopwrightError.exit_code == 3
    assert GrammarError.exit_code == 2
    assert f"({cli.FAULT} is a fault of the tool itself, {cli.STOPPED} means that you stopped it.)" in README


def test_the_two_commands_set_everything_up() -> None:
    """Each is one line that makes the environment, installs from a lock with hashes, and does what it says. CI runs the same steps."""
    first, second = [line for line in shell_lines(README) if line.startswith("python3 -m venv")]
    for line, lock in ((first, "requirements.lock"), (second, "requirements-dev.lock")):
        steps = [shlex.split(step) for step in line.split(" && ")]
        assert steps[0] == ["python3", "-m", "venv", ".venv"]
        assert steps[1] == [".venv/bin/pip", "install", "-q", "--require-hashes", "-r", lock]
        assert steps[2] == [".venv/bin/pip", "install", "-q", "--no-deps", "--no-build-isolation", "-e", "."]
        assert (PROJECT / lock).is_file()
    assert shlex.split(first)[-3:-1] == [".venv/bin/hoopwright", "schedule"]
    assert (PROJECT / shlex.split(first)[-1]).is_file()
    assert second.endswith(".venv/bin/python -m pytest")
    ci = (PROJECT / ".ci" / "run").read_text(encoding="utf-8")
    assert ci.rstrip().endswith('python" -m pytest')
    assert "--require-hashes -r requirements-dev.lock" in ci


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md", "sample_manuals/README.md", "outputs/README.md"])
def test_links_lead_somewhere(name: str) -> None:
    page = PROJECT / name
    text = page.read_text(encoding="utf-8")
    for target in re.findall(r"\]\(([^)\s]+)\)", text):
        if target.startswith("https://"):
            continue
        path, _, anchor = target.partition("#")
        linked = page.parent / path if path else page
        assert linked.exists(), target
        if anchor:
            headings = re.findall(r"^#+ (.+)$", linked.read_text(encoding="utf-8"), re.MULTILINE)
            assert anchor in {heading.lower().replace(" ", "-") for heading in headings}, target


def test_the_house_is_described_room_by_room() -> None:
    package = PROJECT / "pipeline" / "hoopwright"
    rooms = {f"{path.parent.name}/" for path in package.glob("*/__init__.py")}
    alone = {path.name for path in package.glob("*.py")} - {"__init__.py"}
    described = set(re.findall(r"`([\w/.]+)`", "".join(re.findall(r"^\| (`[^|]+) \|", DEVELOPERS, re.MULTILINE))))
    assert rooms | alone <= described


def test_the_grammar_files_are_listed() -> None:
    listed = set(re.findall(r"^\| `(\w+\.yaml)`", DEVELOPERS, re.MULTILINE))
    assert listed == {path.name for path in (PROJECT / "grammars").glob("*.yaml")}


def test_the_grammar_example_works(tmp_path: Path) -> None:
    example = re.search(r"```yaml\n(.*?)```", DEVELOPERS, re.DOTALL)
    assert example is not None
    assert yaml.safe_load(example[1])["kind"] == "fittings"
    path = tmp_path / "mine.yaml"
    path.write_text(example[1], encoding="utf-8")
    manual = PROJECT / "sample_manuals" / "orchard-6" / "orchard-6.txt"
    assert run("schedule", manual, "--grammar", path, "--out", tmp_path / "out", "--only", "json").code == 0


def test_the_reports_in_the_readme_are_those_that_are_written() -> None:
    """Files of the table of results, against what the makers say they write."""
    table = README.partition("| file | for |")[2].partition("\n\n")[0]
    files = set(re.findall(r"`([^`]+)`", table))
    made = {name for maker in MAKERS.values() for name in re.findall(r"``([\w.-]+\.\w+|marked-…)``", maker.__doc__ or "")}
    assert files == made


def test_the_changes_speak_of_this_version() -> None:
    assert f"### {hoopwright.__version__}\n" in DEVELOPERS
