"""HTML, as a page or pasted."""

from __future__ import annotations

from pathlib import Path

import pytest
from hoopwright.model.document import Document
from hoopwright.reading import read_document


def read(tmp_path: Path, text: str, name: str = "a.html") -> Document:
    path = tmp_path / name
    path.write_text(text, "utf-8")
    return read_document(path, "D1")


def lines(document: Document) -> list[str]:
    return [line.text for line in document.lines if line.text]


CASES: dict[str, tuple[str, list[str]]] = {
    "paragraphs": (
        "<html><p>Fix the <b>ridge</b>\nclamp<br>at&nbsp;1&frac12;&#8243;.<p>Go on.",
        ["Fix the ridge clamp", "at 1½″.", "Go on."],
    ),
    "headings": ("<html><head><title>x</title><h1>Frame</h1><h3>Ends</h3>a", ["# Frame", "### Ends", "a"]),
    "no text in scripts": ("<html><style>p {}</style><script>if (a<b) '<p>'</script><p>a", ["a"]),
    "numbered list": ("<html><ol start=3><li>a<li>b<p>more</ol>c", ["3. a", "4. b", "   more", "c"]),
    "lettered list": ("<html><ol type=a><li>x<li>y</ol>", ["a. x", "b. y"]),
    "list in a list": ("<html><ul><li>a<ol><li>b</ol><li>c</ul>", ["- a", "   1. b", "- c"]),
    "as typed": ("<html><pre>a\n   b</pre>", ["a", "   b"]),
    "table": ("<html><table><tr><th>Part<th>Qty<tr><td>Clip<br>small<td>3</table>x", ["| Part | Qty |", "| Clip small | 3 |", "x"]),
    "table for layout": (
        "<html><table><tr><td>menu<td><table><tr><td>a<td>b<tr><td>c<td>d</table></table>",
        ["menu", "| a | b |", "| c | d |"],
    ),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())
def test_lines(case: tuple[str, list[str]], tmp_path: Path) -> None:
    text, expected = case
    document = read(tmp_path, text)
    assert lines(document) == expected
    assert document.kind == "markdown"


def test_cells_over_rows_and_columns(tmp_path: Path) -> None:
    text = "<html><table><tr><td rowspan=2>Hoop<td>Top<td>10<tr><td>Foot<td>10<tr><td colspan=2>All<td>20</table>"
    grid = read(tmp_path, text).grids[0]
    assert grid.rows == (("Hoop", "Top", "10"), ("", "Foot", "10"), ("All", "", "20"))


def test_pasted_without_a_head(tmp_path: Path) -> None:
    text = "<div><p>Fix it.</p><ul><li>one</li><li>two</li></ul></div>"
    assert lines(read(tmp_path, text, "a.txt")) == ["Fix it.", "- one", "- two"]


def test_text_with_a_few_signs_is_no_html(tmp_path: Path) -> None:
    text = "Use <b> for bold.\nFix clamp if d < 38 mm and > 25 mm.\n"
    document = read(tmp_path, text, "a.txt")
    assert (document.kind, document.text) == ("text", text.rstrip())
