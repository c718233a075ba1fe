"""Damaged files: read, or refused with UnreadableDocument; nothing else, and soon."""

from __future__ import annotations

import random
import time
from pathlib import Path

import pytest
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading import read_document, tesseract
from hoopwright.reading.html import read_html
from hoopwright.reading.plain import read_plain
from hypothesis import given, settings
from hypothesis import strategies as st

from reading.mutations import check, mutated
from reading.seeds import seeds

EACH = 25  # of every seed; tests/bench/fuzz_reading.py does thousands
SOON = 20.0  # seconds
SEEDS = seeds()
TAGS = (
    "<table>", "<tr>", "<td>", "</td>", "</table>", "<ol>", "<li>", "</ol>", "<pre>", "</pre>", "<p>", "</p>", "a", "b", "\n", "<h1>",
    "&amp;", "<", "<td colspan=3>",
)  # fmt: skip


@pytest.mark.parametrize("name", SEEDS)
def test_damaged_files(name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tesseract, "PROGRAM", "no-such-program")  # the recogniser would take a second for each page without text
    path = tmp_path / name
    for number in range(EACH):
        path.write_bytes(mutated(SEEDS[name], random.Random(f"{name} {number}")))
        begun = time.monotonic()
        try:
            check(read_document(path, "D1"))
        except UnreadableDocument as error:
            assert "\n" not in str(error)
        assert time.monotonic() - begun < SOON


@settings(max_examples=150, deadline=None)
@given(st.text(alphabet="ab 1.|-+\t\n\f│┌┬┐├┼┤─=:\\", max_size=200))
def test_any_text(text: str) -> None:
    for page in read_plain(text, Path("a.txt")):
        for grid in page.grids:
            covered = [index for lines in grid.lines for index in lines]
            assert sorted(set(covered)) == covered
            assert len({len(row) for row in grid.rows}) == 1


@settings(max_examples=150, deadline=None)
@given(st.lists(st.sampled_from(TAGS)))
def test_any_tags(tags: list[str]) -> None:
    for page in read_html("".join(tags), Path("a.html")):
        assert all("\n" not in line.text for line in page.lines)
        for grid in page.grids:
            assert all(0 <= index < len(page.lines) for lines in grid.lines for index in lines)
