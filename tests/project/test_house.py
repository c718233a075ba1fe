"""The shape of the project: who imports whom, what is declared, what lies at the top, what must not be in it."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from importlib.metadata import packages_distributions
from pathlib import Path
from typing import Any

import pytest

from library import PROJECT

PACKAGE = PROJECT / "pipeline" / "hoopwright"
CONFIG: dict[str, Any] = tomllib.loads((PROJECT / "pyproject.toml").read_text(encoding="utf-8"))
# What the test commands run. Type stubs are for mypy alone.
NOT_IMPORTED = {"import-linter", "mypy", "pytest-xdist", "ruff"}


def plain(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def tracked(*patterns: str) -> list[Path]:
    """Files that git knows or would add. In a source archive without git the test that asks is skipped."""
    command = ["git", "-C", str(PROJECT), "ls-files", "--cached", "--others", "--exclude-standard", "--", *patterns]
    listing = subprocess.run(command, capture_output=True, text=True, check=False)
    if listing.returncode:
        pytest.skip("no git repository here")
    return [PROJECT / line for line in listing.stdout.splitlines() if (PROJECT / line).is_file()]


def third_parties(folder: Path) -> set[str]:
    """The distributions whose modules the Python files under ``folder`` import."""
    modules: set[str] = set()
    for path in folder.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Import):
                modules |= {alias.name.partition(".")[0] for alias in node.names}
            elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
                modules.add(node.module.partition(".")[0])
            elif isinstance(node, ast.Call) and ast.unparse(node.func) == "pytest.importorskip":
                modules.add(ast.literal_eval(node.args[0]).partition(".")[0])
    ours = {"hoopwright"} | {path.stem for path in (PROJECT / "tests").iterdir()}
    owners = packages_distributions()
    return {plain(owners[module][0]) for module in modules - ours - sys.stdlib_module_names if module in owners}


def named(requirements: list[str]) -> set[str]:
    return {plain(re.split(r"[<>=!~ \[;]", requirement, maxsplit=1)[0]) for requirement in requirements}


def test_the_arrows_of_the_house_hold() -> None:
    script = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run([script, "--no-cache"], cwd=PROJECT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout
    assert f"{len(CONFIG['tool']['importlinter']['contracts'])} kept, 0 broken" in done.stdout


def test_every_room_is_under_contract() -> None:
    rooms = {f"hoopwright.{path.parent.name}" for path in PACKAGE.glob("*/__init__.py")}
    alone = {f"hoopwright.{path.stem}" for path in PACKAGE.glob("*.py")} - {"hoopwright.__init__"}
    contracts = CONFIG["tool"]["importlinter"]["contracts"]
    stages = set(contracts[1]["modules"])
    assert rooms == stages | {"hoopwright.model"}
    assert set(contracts[0]["forbidden_modules"]) == stages | alone


def test_every_package_is_shipped() -> None:
    packages = {f"hoopwright.{path.parent.name}" for path in PACKAGE.glob("*/__init__.py")} | {"hoopwright", "hoopwright.grammars"}
    assert set(CONFIG["tool"]["setuptools"]["packages"]) == packages


def test_every_data_file_is_shipped() -> None:
    shipped = CONFIG["tool"]["setuptools"]["package-data"]
    folders = {f"hoopwright.{path.parent.name}": path.parent for path in PACKAGE.glob("*/__init__.py")}
    folders["hoopwright.grammars"] = PROJECT / "grammars"
    for package, folder in folders.items():
        data = {path.name for path in folder.iterdir() if path.is_file() and path.suffix not in (".py", ".pyc")}
        matched = {path.name for pattern in shipped.get(package, []) for path in folder.glob(pattern)}
        assert data <= matched, package


def test_what_is_imported_is_declared_and_the_other_way_round() -> None:
    declared = named(CONFIG["project"]["dependencies"])
    for_tests = {name for name in named(CONFIG["dependency-groups"]["dev"]) if not name.startswith("types-")}
    assert third_parties(PROJECT / "pipeline") == declared - NOT_IMPORTED
    assert third_parties(PROJECT / "tests") - declared == for_tests - declared - NOT_IMPORTED


@pytest.mark.parametrize(("lock", "groups"), [("requirements.lock", ["build"]), ("requirements-dev.lock", ["build", "dev"])])
def test_locks_hold_every_requirement_with_hashes(lock: str, groups: list[str]) -> None:
    text = (PROJECT / lock).read_text(encoding="utf-8")
    pinned = re.findall(r"^([\w.-]+)==\S+[^\n]*((?:\n    \S.*)*)", text, re.MULTILINE)
    wanted = CONFIG["project"]["dependencies"] + [each for group in groups for each in CONFIG["dependency-groups"][group]]
    assert named(wanted) <= {plain(name) for name, _ in pinned}
    assert [name for name, below in pinned if "--hash=sha256:" not in below] == []


def test_both_locks_pin_the_same_versions() -> None:
    short, long = (
        set(re.findall(r"^([\w.-]+==[^\s;]+)", (PROJECT / lock).read_text(encoding="utf-8"), re.MULTILINE))
        for lock in ("requirements.lock", "requirements-dev.lock")
    )
    assert short <= long


def test_nothing_else_lies_at_the_top() -> None:
    allowed = {"README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml", "requirements.lock", "requirements-dev.lock"}
    allowed |= {"pipeline", "grammars", "tests", "sample_manuals", "outputs"}
    top = {path.relative_to(PROJECT).parts[0] for path in tracked()}
    assert {name for name in top if not name.startswith(".")} == allowed


def test_no_path_of_a_machine_is_written_down() -> None:
    pattern = re.compile(r"/(?:h[o]me|r[o]ot|w[o]rk|t[m]p|Us[e]rs)/[a-z]", re.IGNORECASE)
    ends = {".py", ".md", ".yaml", ".toml", ".json", ".j2", ".js", ".css", ".typ", ".txt", ".csv", ".html", ".lock", ""}
    files = [path for path in tracked() if path.suffix in ends]
    assert len(files) > 100
    found = [str(path.relative_to(PROJECT)) for path in files if pattern.search(path.read_text(encoding="utf-8", errors="replace"))]
    assert found == []
