"""Whole manuals that the project keeps, as the reader hands them over: a PDF with tables over page breaks, a text, a bundle of leaflets."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest
from hoopwright.model.outline import Outline
from hoopwright.outlining import outline
from hoopwright.reading import read_documents

from .mapping import check

SAMPLES = Path(__file__).parents[2] / "sample_manuals"


@pytest.fixture(scope="module")
def pdf() -> Outline:
    return outline(read_documents([SAMPLES / "meadow-5" / "meadow-5.pdf"]))


def test_pdf_steps_are_the_printed_ones(pdf: Outline) -> None:
    assert [step.label for step in pdf.steps if step.label] == [str(n) for n in range(1, 36)]


def test_pdf_title_and_sections(pdf: Outline) -> None:
    roles = Counter(section.role for section in pdf.sections if section.level > 1)
    assert pdf.title == "Herb tunnel on timber sills"
    assert (roles["parts"], roles["summary"]) == (1, 1) and roles["build"] >= 7


def test_pdf_parts_list_over_a_page_break(pdf: Outline) -> None:
    codes = [part.code for part in pdf.parts]
    assert codes == [*map(str, range(101, 115)), *map(str, range(201, 215)), *map(str, range(301, 311))]
    assert {part.code: (part.name, part.size, part.quantity, part.note) for part in pdf.parts}["301"] == (
        "Clip bolt",
        "M6 × 40",
        36,
        "with nut",
    )


def test_pdf_has_no_running_heads_in_its_steps(pdf: Outline) -> None:
    words = " ".join(step.text for step in pdf.steps)
    assert "Assembly instructions" not in words and "Page " not in words


def test_pdf_maps_back(pdf: Outline) -> None:
    assert check(pdf) > 150


def test_bundle_of_leaflets() -> None:
    found = outline(read_documents([SAMPLES / "valley-7"]))
    extras = {step.option for step in found.steps if step.document == "D3"}
    assert extras == {"basket rail"} and {step.option for step in found.steps if step.document != "D3"} == {None}
    assert {document.id: sum(part.source.document == document.id for part in found.parts) for document in found.documents} == {
        "D1": 25,
        "D2": 13,
        "D3": 6,
    }
    assert [step.label for step in found.steps if step.document == "D3" and step.label] == ["i", "ii", "iii", "iv", "v", "vi", "vii"]


def test_dotted_leaders_of_a_whole_list() -> None:
    found = outline(read_documents([SAMPLES / "orchard-6" / "orchard-6.txt"]))
    quantities = {part.name: part.quantity for part in found.parts}
    assert len(found.parts) == 33 and (quantities["Clamp bolt"], quantities["Latch"], quantities["Half bow"]) == (42, 1, 12)
    assert {part.name for part in found.parts if part.option == "bird screen"} == {"Screen ring", "Screen rod"}
