"""What is installed when somebody installs the project: the code, the grammar and every file that the reports need."""

from __future__ import annotations

import shutil
import subprocess
import sys
import zipfile
from importlib.metadata import version
from pathlib import Path

import pytest

from library import PROJECT

OLD = int(version("setuptools").partition(".")[0]) < 77


@pytest.mark.skipif(OLD, reason="setuptools 77, which the locks bring, is not installed")
def test_the_wheel_holds_every_file(tmp_path: Path) -> None:
    source = tmp_path / "source"  # a copy, for building leaves files behind
    source.mkdir()
    for name in ("pyproject.toml", "README.md", "LICENSE"):
        shutil.copy(PROJECT / name, source)
    for name in ("pipeline", "grammars"):
        shutil.copytree(PROJECT / name, source / name, ignore=shutil.ignore_patterns("__pycache__", "*.egg-info"))
    options = ["--quiet", "--no-deps", "--no-build-isolation", "--no-index", "--wheel-dir", str(tmp_path)]
    subprocess.run([sys.executable, "-m", "pip", "wheel", *options, str(source)], check=True, capture_output=True)
    (wheel,) = tmp_path.glob("*.whl")
    shipped = {name for name in zipfile.ZipFile(wheel).namelist() if ".dist-info/" not in name}
    code = {str(path.relative_to(source / "pipeline")) for path in (source / "pipeline" / "hoopwright").rglob("*") if path.is_file()}
    words = {f"hoopwright/grammars/{path.name}" for path in (source / "grammars").iterdir() if path.is_file()}
    assert shipped == code | words
