"""Schedules of whole manuals as they are reported: every placement once, numbers as in the schedule, nothing over anything else.

The factory's schedules show the extremes; these show what manuals really lead to: shapes that are not stated, gaps, many warnings.
"""

from __future__ import annotations

import io
import re
from collections import Counter
from functools import cache
from pathlib import Path

import openpyxl
import pypdfium2
import pytest
from hoopwright.model.schedule import Schedule
from hoopwright.reporting.as_drawings import drawings
from hoopwright.reporting.as_page import page_html
from hoopwright.reporting.as_workbook import workbook
from hoopwright.reporting.grouping import hoop_range, placements_of, same_counts
from hoopwright.reporting.hoop_drawing import draw_hoop
from hoopwright.reporting.marks import fittings_of
from hoopwright.reporting.places import Places
from hoopwright.reporting.sheets import sheet_data, sheets_pdf
from hoopwright.reporting.writing import write_outputs
from hoopwright.reviewing import Answers
from lxml import html

from library import CORPUS_FOLDER, SAMPLE_FOLDER, Kit, settle, understood
from reporting.test_drawings import check_layout

NAMES = [
    "meadow-5",
    "valley-7",
    "c5-lettered-pointed",
    "d6-prairie-twelve",
    "f3-lane-notes",
    "g6-leaflets",
    "k4-allotment-sheet",
    "l5-grower-prose",
]
ALL = pytest.mark.parametrize("name", NAMES)


@cache
def _schedule(name: str) -> Schedule:
    folder = SAMPLE_FOLDER / name
    return settle(understood(Kit(folder if folder.is_dir() else CORPUS_FOLDER / name)), Answers()).schedule


@ALL
def test_every_placement_is_drawn_and_listed_once_and_nothing_overlaps(name: str) -> None:
    schedule = _schedule(name)
    places, by_hoop = Places(schedule), placements_of(schedule)
    for sheet in sheet_data(schedule, "metric", "a4", False)["hoops"]:
        (hoop,) = sheet["hoops"]
        wanted = Counter(item.id for item in by_hoop[hoop])
        drawing = draw_hoop(places.view((hoop,)), places)
        rows = [row for end in sheet["threads"] for row in end["rows"]] + sheet["joining"] + sheet["later"]
        assert Counter(id for mark in drawing.marks() for id in mark.placements) == wanted
        assert Counter(id for row in rows for id in row["ids"]) == wanted
        counts: Counter[str] = Counter()
        for row in rows:
            counts[row["name"]] += row["number"]
        assert counts == Counter(schedule.counts.get(hoop, {}))
    for _, drawing in drawings(schedule):
        check_layout(drawing)


def test_all_files_of_the_longest_manual_are_small_enough_to_send(tmp_path: Path) -> None:
    """28 hoops with more than 900 placements: what is written without being asked for stays below 3 MiB."""
    name = "c2-long-thirty"
    written = write_outputs(_schedule(name), tmp_path / "out", sources=[CORPUS_FOLDER / name / "manual.md"])
    sizes = {path.name: path.stat().st_size for path in written}
    assert {"sheets.pdf", "schedule.html", "schedule.xlsx"} <= set(sizes)
    assert sum(sizes.values()) <= 3 * 2**20, sizes


@ALL
def test_numbers_read_back_from_pdf_page_and_workbook_are_those_of_the_schedule(name: str) -> None:
    schedule = _schedule(name)
    names = [fitting for fitting in fittings_of(schedule) if any(fitting in row for row in schedule.counts.values())]
    text = " ".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(sheets_pdf(schedule, share=True)))
    flat = re.sub(r"\s+", " ", text.replace("\u200b", "").replace("\ufffe", "").replace("\x02", ""))
    pieces = -(-len(names) // 11)
    step = -(-len(names) // pieces)
    for start in range(0, len(names), step):
        for group in same_counts(schedule):
            row = schedule.counts.get(group[0], {})
            numbers = " ".join(str(row.get(fitting, 0) or "·") for fitting in names[start : start + step])
            assert f"{hoop_range(group)} {numbers}" in flat
    tree = html.document_fromstring(page_html(schedule))
    for line in tree.xpath('//table[@class="counts"]//tr[@data-hoops]'):
        cells = [cell.xpath('string(span[@class="n"])') for cell in line.xpath("td")]
        for hoop in line.get("data-hoops").split():
            assert {fitting: int(cell) for fitting, cell in zip(names, cells, strict=True) if cell} == schedule.counts.get(hoop, {})
    sheet = openpyxl.load_workbook(io.BytesIO(workbook(schedule)))["Hoops"]
    lines = list(sheet.iter_rows(values_only=True))
    for line in lines[1:]:
        numbers = dict(zip(names, line[3:], strict=True))
        assert {fitting: number for fitting, number in numbers.items() if number} == schedule.counts.get(str(line[0]), {})
