"""Everything is in place at the end, or nothing has changed."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest
from hoopwright.model.errors import OutputError, UsageError
from hoopwright.reporting import makers
from hoopwright.reporting.writing import write_outputs

from reporting import factory


def _tree(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()}


def test_writes_schedule_first_and_leaves_nothing_else(tmp_path: Path) -> None:
    written = write_outputs(factory.five(), tmp_path / "deep" / "out", only=["csv"])
    assert [path.name for path in written] == ["schedule.json", "hoops.csv", "placements.csv"]
    assert all(path.is_file() for path in written)
    assert sorted(path.name for path in (tmp_path / "deep").iterdir()) == ["out"]


def test_two_runs_write_the_same_bytes(tmp_path: Path) -> None:
    write_outputs(factory.five(), tmp_path / "a")
    write_outputs(factory.five(), tmp_path / "b")
    assert _tree(tmp_path / "a") == _tree(tmp_path / "b")


def test_replaces_an_earlier_run(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_outputs(factory.five(), out, only=["json"])
    before = _tree(out)
    write_outputs(factory.thirty(), out, only=["json"])
    assert _tree(out) != before


def test_an_unknown_choice_is_refused(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="choose from json"):
        write_outputs(factory.five(), tmp_path / "out", only=["poster"])
    assert not (tmp_path / "out").exists()


def test_a_file_in_the_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine")
    with pytest.raises(OutputError, match="in the way; move it"):
        write_outputs(factory.five(), tmp_path / "out")
    assert _tree(tmp_path) == {"out": b"mine"}


def test_a_file_in_the_place_of_a_parent(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine")
    with pytest.raises(OutputError, match="in the way"):
        write_outputs(factory.five(), tmp_path / "out" / "deeper")
    assert _tree(tmp_path) == {"out": b"mine"}


def test_a_folder_in_the_place_of_a_file_changes_nothing(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_outputs(factory.five(), out, only=["csv"])
    (out / "placements.csv").unlink()
    (out / "placements.csv").mkdir()
    before = _tree(out)
    with pytest.raises(OutputError, match="in the way"):
        write_outputs(factory.thirty(), out, only=["csv"])
    assert _tree(out) == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out"]


@pytest.mark.parametrize("number", [errno.ENOSPC, errno.EROFS, errno.EACCES])
def test_a_full_or_locked_disk_leaves_nothing_half_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    out = tmp_path / "out"
    real = makers.write_text

    def fails(path: Path, text: str) -> None:
        real(path, text[:10])
        if path.name == "hoops.csv":
            raise OSError(number, os.strerror(number), str(path))

    monkeypatch.setattr(makers, "write_text", fails)
    with pytest.raises(OutputError) as caught:
        write_outputs(factory.five(), out)
    assert str(out) in str(caught.value) and caught.value.exit_code == 3
    assert "\n" not in str(caught.value)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_read_only_folder(tmp_path: Path) -> None:
    tmp_path.chmod(0o500)
    try:
        with pytest.raises(OutputError, match="choose another folder"):
            write_outputs(factory.five(), tmp_path / "out")
    finally:
        tmp_path.chmod(0o700)


def test_a_stop_half_way_puts_the_old_files_back(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = tmp_path / "out"
    write_outputs(factory.five(), out, only=["csv"])
    before = _tree(out)
    real = Path.replace
    moved: list[Path] = []

    def replace(self: Path, target: Path) -> Path:
        if self.name == "placements.csv" and not moved.count(self):
            moved.append(self)
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return real(self, target)

    monkeypatch.setattr(Path, "replace", replace)
    with pytest.raises(OutputError):
        write_outputs(factory.thirty(), out, only=["csv"])
    monkeypatch.undo()
    assert _tree(out) == before
