"""The summary on the terminal: everything said, nothing cut off, nothing a terminal would obey."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pytest
from hoopwright.model.schedule import Schedule
from hoopwright.reporting.cautions import CAUTIONS
from hoopwright.reporting.terminal import print_summary, structure_line, summary_text
from rich.cells import cell_len
from rich.console import Console

from reporting import factory
from reporting.test_json import EMPTY

ALL = [factory.five(), factory.thirty(), factory.hostile(), EMPTY]
IDS = ["five", "thirty", "hostile", "empty"]


def _flat(text: str) -> str:
    return re.sub(r"\s+", " ", text)


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("schedule", ALL, ids=IDS)
def test_no_line_is_wider_than_the_screen(schedule: Schedule, width: int) -> None:
    assert max(cell_len(line) for line in summary_text(schedule, width).splitlines()) <= width


@pytest.mark.parametrize("schedule", ALL, ids=IDS)
@pytest.mark.parametrize("colour", [None, "truecolor"])
def test_no_control_character_of_the_manual_reaches_the_terminal(schedule: Schedule, colour: str | None) -> None:
    stream = io.StringIO()
    print_summary(schedule, Console(file=stream, width=80, color_system=colour, force_terminal=colour is not None))  # type: ignore[arg-type]
    text = re.sub(r"\x1b\[[0-9;]*m", "", stream.getvalue())  # rich's own styles
    assert not re.search(r"[\x00-\x09\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]", text)


def test_every_count_stands_in_the_table() -> None:
    schedule = factory.five()
    text = summary_text(schedule, 120)
    head = next(line for line in text.splitlines() if line.startswith("hoop "))
    codes = re.findall(r"\((\w)\)", head)
    assert codes == list("JKMBWSFET")
    inner = next(line for line in text.splitlines() if line.startswith("H2–H4 "))
    assert inner.split()[1:] == ["1", "2", "·", "3", "6", "2", "2", "2", "1", "·"]


def test_thread_order_is_said_end_by_end() -> None:
    text = _flat(summary_text(factory.five(), 120))
    assert "H5 left tube, upper end: 1 × rail clamp (K), then 1 × brace clip (M)" in text


def test_bag_check_shows_what_is_off_and_counts_the_rest() -> None:
    text = _flat(summary_text(factory.five(), 120))
    assert "joint screw (S): listed 9, needed 10: 1 short" in text
    assert "lintel clamp: listed no number, needed 2: not in the list" in text
    assert "8 other parts: enough." in text
    assert "washer (W): listed" not in text


@pytest.mark.parametrize("schedule", ALL[:2], ids=IDS[:2])
def test_warnings_and_questions_come_with_page_and_quote(schedule: Schedule) -> None:
    text = _flat(summary_text(schedule, 100))
    for finding in schedule.warnings:
        assert _flat(f"{finding.message} Do: {finding.advice}") in text
        for source in finding.sources:
            assert _flat(f"page {source.page}: “{source.quote}”") in text
    for question in schedule.questions:
        assert question.message in text
        assert question.source is not None and f"page {question.source.page}: “{question.source.quote}”" in text
        for reading in question.readings:
            assert f"either: {reading}" in text


def test_cautions_close_every_summary() -> None:
    text = _flat(summary_text(EMPTY, 100))
    assert "does not say that a frame is strong enough" in text
    assert all(caution.text in text for caution in CAUTIONS)
    assert "Do not lift the hoops in a wind" in summary_text(factory.five(), 100)


def test_structure_line_leaves_out_what_is_unknown() -> None:
    schedule = factory.five()
    assert structure_line(schedule, "imperial").startswith("5 hoops, 4 ft 11 1/16 in apart · 13 ft 1 1/2 in wide")
    bare = replace(schedule.structure, width_mm=None, spacing_mm=None, shape=None, height_mm=None, length_mm=None, sections_per_hoop=None)
    assert structure_line(replace(schedule, structure=bare)) == "5 hoops"


def test_piped_output_has_no_escape_codes() -> None:
    stream = io.StringIO()
    print_summary(factory.five(), Console(file=stream, width=80))
    assert "\x1b" not in stream.getvalue()
