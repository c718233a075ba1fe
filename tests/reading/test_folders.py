"""Several files, and folders with a list of them."""

from __future__ import annotations

from pathlib import Path

import pytest
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading import read_documents


def folder(path: Path, order: str | None) -> Path:
    for name in ("parts.txt", "steps.md", "left out.txt"):
        (path / name).write_text(f"{name}\n", "utf-8")
    if order is not None:
        (path / "order").write_text(order, "utf-8")
    return path


def test_ids_in_order(tmp_path: Path) -> None:
    folder(tmp_path, None)
    documents = read_documents([tmp_path / "steps.md", tmp_path / "parts.txt"])
    assert [(d.id, d.name, d.kind) for d in documents] == [("D1", "steps.md", "markdown"), ("D2", "parts.txt", "text")]


def test_folder_in_its_order(tmp_path: Path) -> None:
    documents = read_documents([folder(tmp_path, "\ufeffsteps.md\r\n\nparts.txt\n")])
    assert [d.name for d in documents] == ["steps.md", "parts.txt"]


@pytest.mark.parametrize("order", [None, "", "\n \n", "none.txt", "../order", "/etc/hostname", ".", "parts.txt/x", "a\x00b"])
def test_folder_without_a_usable_order(order: str | None, tmp_path: Path) -> None:
    with pytest.raises(UnreadableDocument) as caught:
        read_documents([folder(tmp_path, order)])
    assert "order" in str(caught.value)
    assert "\n" not in str(caught.value)


def test_progress_names_each_file(tmp_path: Path) -> None:
    said: list[str] = []
    read_documents([folder(tmp_path, "steps.md\nparts.txt\n")], progress=said.append)
    assert said == ["reading steps.md", "reading parts.txt"]
