"""The marked manual for text and Markdown: one page with the text as it is, sentences marked, notes beside them."""

from __future__ import annotations

from importlib.resources import files
from itertools import pairwise
from pathlib import Path

from hoopwright.reporting.as_page import policy
from hoopwright.reporting.manual_marks import Letters, ManualMark
from hoopwright.reporting.text import shown

Segment = tuple[str, tuple[int, ...]]  # words, and the numbers of the marks that they belong to


def decoded(data: bytes) -> str:
    """The file's text: UTF-8 or UTF-16 by its mark, else UTF-8, else Windows-1252."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return data.decode("utf-16", "replace")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return data.decode("cp1252", "replace")


def marked_html(path: Path, marks: list[ManualMark], title: str) -> str:
    """The text at ``path`` as a page with its marks. The file itself is only read."""
    from jinja2 import Environment

    text = decoded(path.read_bytes()).replace("\r\n", "\n").replace("\r", "\n").replace("\f", "\n")
    letters = Letters(text)
    spans = [letters.find(mark.source.quote, mark.source.start) for mark in marks]
    lines = _lines(text, [span or (0, 0) for span in spans])
    lost = [(number, mark) for number, mark in enumerate(marks, 1) if spans[number - 1] is None]
    folder = files(__package__)
    style = (folder / "marked.css").read_text(encoding="utf-8")
    environment = Environment(autoescape=True, trim_blocks=True, lstrip_blocks=True)
    environment.filters["shown"] = shown
    template = environment.from_string((folder / "marked.j2").read_text(encoding="utf-8"))
    return template.render(title=shown(title), lines=lines, marks=marks, lost=lost, style=style, policy=policy(style)) + "\n"


def _lines(text: str, spans: list[tuple[int, int]]) -> list[tuple[list[Segment], list[int]]]:
    """For each line: its segments, and the numbers (from 1) of the marks that begin on it."""
    result: list[tuple[list[Segment], list[int]]] = []
    start = 0
    for line in text.split("\n"):
        end = start + len(line)
        here = [(number, max(a, start), min(b, end)) for number, (a, b) in enumerate(spans, 1) if a < b and a < end and b > start]
        cuts = sorted({start, end, *(cut for _, a, b in here for cut in (a, b))})
        segments = [(text[a:b], tuple(number for number, first, last in here if first <= a and b <= last)) for a, b in pairwise(cuts)]
        begins = [number for number, (a, b) in enumerate(spans, 1) if a < b and start <= a <= end]
        result.append((segments, begins))
        start = end + 1
    return result
