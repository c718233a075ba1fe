"""The marked manual: standard annotations on a copy, at the right words; the original untouched; text manuals as a page."""

from __future__ import annotations

import hashlib
import io
from dataclasses import dataclass, replace
from pathlib import Path

import html5lib
import pikepdf
import pypdfium2
import pytest
import typst
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Finding, Schedule
from hoopwright.reporting.manual_marks import Letters, manual_marks
from hoopwright.reporting.marked_pdf import marked_pdf
from hoopwright.reporting.marked_text import decoded, marked_html
from hoopwright.reporting.writing import write_outputs

from reporting import factory


def _manual(schedule: Schedule, folder: Path, *, margin: str = "35mm", rotate: int = 0) -> Path:
    """The schedule's own steps, set as a manual of as many pages as it needs."""
    pages = max(step.page for step in schedule.steps)
    parts = []
    for number in range(1, pages + 1):
        steps = [f"{step.label}. {step.text}" for step in schedule.steps if step.page == number]
        parts.append("\n\n".join(f"#text({line!r})".replace("'", '"') for line in [f"Page {number}", *steps]))
    body = "\n#pagebreak()\n".join(parts)
    data = typst.compile(f'#set page(paper: "a4", margin: {margin})\n#set par(justify: true)\n{body}'.encode(), ignore_system_fonts=True)
    path = folder / schedule.documents[0].name
    if rotate:
        with pikepdf.open(io.BytesIO(data)) as pdf:
            for page in pdf.pages:
                page.rotate(rotate, relative=False)
            pdf.save(path)
    else:
        path.write_bytes(data)
    return path


@pytest.fixture(scope="module")
def five() -> Schedule:
    return factory.five()


@pytest.fixture
def manual(five: Schedule, tmp_path: Path) -> Path:
    return _manual(five, tmp_path)


@dataclass
class Seen:
    """An annotation as read back."""

    page: int
    kind: str
    words: str
    quads: list[float]


def _annotations(data: bytes) -> list[Seen]:
    with pikepdf.open(io.BytesIO(data)) as pdf:
        return [
            Seen(
                number,
                str(item.Subtype).removeprefix("/"),
                str(item.get("/Contents", "")),
                [float(value) for value in item.get("/QuadPoints", [])],
            )
            for number, page in enumerate(pdf.pages, 1)
            for item in page.obj.get("/Annots", [])
        ]


def _marked(path: Path, schedule: Schedule) -> bytes:
    data = marked_pdf(path, manual_marks(schedule, "D1"))
    assert data is not None
    return data


def test_each_fitting_sentence_is_highlighted_where_it_stands(five: Schedule, manual: Path) -> None:
    data = _marked(manual, five)
    pages = pypdfium2.PdfDocument(io.BytesIO(data))
    highlights = [item for item in _annotations(data) if item.kind == "Highlight"]
    wanted = {(item.source.page, item.source.quote) for item in five.placements}
    found = set()
    for item in highlights:
        text = pages[item.page - 1].get_textpage()
        quads = item.quads
        lines = []
        for start in range(0, len(quads), 8):
            xs, ys = quads[start : start + 8 : 2], quads[start + 1 : start + 8 : 2]
            lines.append(text.get_text_bounded(min(xs), min(ys), max(xs), max(ys)))
        letters = "".join(character for character in "".join(lines) if character.isalnum())
        for page, quote in wanted:
            if page == item.page and letters == "".join(character for character in quote if character.isalnum()):
                found.add((page, quote))
    assert found == wanted
    assert len(highlights) == len(wanted)


def test_tags_say_which_hoops_and_how_many(five: Schedule, manual: Path) -> None:
    notes = {item.words for item in _annotations(_marked(manual, five)) if item.kind == "FreeText"}
    assert "each of H1–H5: 1 ridge clamp (J)" in notes
    assert "each of H1, H5: 2 brace clip (M)" in notes
    assert "each of H1–H5: 3 clamp bolt (B), 6 washer (W)" in notes
    assert "door post: 2 hinge (N)" in notes


def test_warnings_and_questions_are_notes(five: Schedule, manual: Path) -> None:
    notes = [item.words for item in _annotations(_marked(manual, five)) if item.kind == "Text"]
    for finding in five.warnings:
        assert any(note.startswith(f"Warning {finding.id}, {finding.code}") and finding.message in note for note in notes)
    for question in five.questions:
        assert any(note.startswith(f"Question {question.id}, {question.about}") and question.message in note for note in notes)


@pytest.mark.parametrize("margin", ["35mm", "8mm"])
def test_every_annotation_is_inside_its_page_and_no_tag_covers_text_or_a_tag(five: Schedule, tmp_path: Path, margin: str) -> None:
    data = _marked(_manual(five, tmp_path, margin=margin), five)
    pdf, pages = pikepdf.open(io.BytesIO(data)), pypdfium2.PdfDocument(io.BytesIO(data))
    for number, page in enumerate(pdf.pages):
        left, bottom, right, top = (float(value) for value in page.cropbox)
        text = pages[number].get_textpage()
        words = [text.get_rect(index) for index in range(text.count_rects())]
        tags = []
        for item in page.obj.get("/Annots", []):
            x0, y0, x1, y1 = (float(value) for value in item.Rect)
            assert left <= x0 < x1 <= right and bottom <= y0 < y1 <= top
            assert item.AP.N.BBox is not None and int(item.F) == 4
            if item.Subtype == "/FreeText":
                tags.append((x0, y0, x1, y1))
        for index, one in enumerate(tags):
            for other in [*tags[index + 1 :], *words]:
                assert min(one[2], other[2]) - max(one[0], other[0]) < 0.5 or min(one[3], other[3]) - max(one[1], other[1]) < 0.5


def test_the_original_is_untouched_and_the_copy_is_sound(five: Schedule, manual: Path) -> None:
    before = hashlib.sha256(manual.read_bytes()).hexdigest()
    data = _marked(manual, five)
    assert hashlib.sha256(manual.read_bytes()).hexdigest() == before
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert pdf.check_pdf_syntax() == []
    assert len(pypdfium2.PdfDocument(io.BytesIO(data))) == len(pypdfium2.PdfDocument(manual))
    assert data == _marked(manual, five)


def test_annotations_that_were_there_stay(five: Schedule, manual: Path) -> None:
    with pikepdf.open(manual, allow_overwriting_input=True) as pdf:
        own = pikepdf.Dictionary(Type=pikepdf.Name.Annot, Subtype=pikepdf.Name.Text, Rect=[10, 10, 30, 30], Contents=pikepdf.String("mine"))
        pdf.pages[2].obj["/Annots"] = pikepdf.Array([pdf.make_indirect(own)])
        pdf.save(manual)
    notes = [item.words for item in _annotations(_marked(manual, five)) if item.page == 3]
    assert notes[0] == "mine" and len(notes) > 2


def test_turned_pages_get_highlights_but_no_tags_on_their_side(five: Schedule, tmp_path: Path) -> None:
    kinds = {item.kind for item in _annotations(_marked(_manual(five, tmp_path, rotate=90), five))}
    assert kinds == {"Highlight", "Text"}


def test_a_pdf_without_text_gets_its_notes_all_the_same(five: Schedule, tmp_path: Path) -> None:
    path = tmp_path / "scan.pdf"
    with pikepdf.new() as pdf:
        for _ in range(8):
            pdf.add_blank_page(page_size=(595, 842))
        pdf.save(path)
    kinds = [item.kind for item in _annotations(_marked(path, five))]
    assert kinds.count("FreeText") == len({(item.source.page, item.source.quote) for item in five.placements})
    assert "Highlight" not in kinds


def test_a_pdf_that_forbids_annotations_is_left_alone(five: Schedule, manual: Path) -> None:
    locked = manual.with_name("locked.pdf")
    with pikepdf.open(manual) as pdf:
        pdf.save(locked, encryption=pikepdf.Encryption(owner="owner", user="", allow=pikepdf.Permissions(modify_annotation=False)))
    assert marked_pdf(locked, manual_marks(five, "D1")) is None


def test_hostile_names_stay_text_in_annotations(tmp_path: Path) -> None:
    schedule = factory.hostile()
    schedule = replace(schedule, documents=(replace(schedule.documents[0], name="h.pdf"),))
    path = tmp_path / "h.pdf"
    with pikepdf.new() as pdf:
        for _ in range(20):
            pdf.add_blank_page(page_size=(595, 842))
        pdf.save(path)
    data = _marked(path, schedule)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert pdf.check_pdf_syntax() == []
    words = " ".join(item.words for item in _annotations(data))
    assert "<script>alert(1)</script>" in words and "#danger[]" in words
    assert "\x1b" not in words and "\u202e" not in words


def _text_manual(schedule: Schedule, folder: Path) -> Path:
    path = folder / "shade-line.txt"
    lines = [
        "SHADE LINE & <EXTRA>",
        "",
        *(f"  {step.label}  {step.text}".replace(" to ", "\n      to ") for step in schedule.steps if step.document == "D2"),
    ]
    path.write_text("\n".join(lines), encoding="utf-8")
    return path


def test_a_text_manual_is_marked_as_a_page(tmp_path: Path) -> None:
    schedule = factory.thirty()
    path = _text_manual(schedule, tmp_path)
    page = marked_html(path, manual_marks(schedule, "D2"), path.name)
    tree = html5lib.HTMLParser(tree=html5lib.getTreeBuilder("etree"), strict=True, namespaceHTMLElements=False).parse(page)
    marked = " ".join(" ".join(node.itertext()) for node in tree.iter("mark"))
    quote = next(item.source.quote for item in schedule.placements if item.source.document == "D2")
    assert "".join(filter(str.isalnum, marked)) == "".join(filter(str.isalnum, quote))
    text = " ".join("".join(tree.itertext()).split())
    assert "each of H2–H29: 1×SH" in text
    assert "SHADE LINE & <EXTRA>" in text


def test_marked_text_keeps_every_letter_of_the_manual(tmp_path: Path) -> None:
    schedule = factory.thirty()
    path = _text_manual(schedule, tmp_path)
    tree = html5lib.parse(marked_html(path, manual_marks(schedule, "D2"), "x"), namespaceHTMLElements=False)
    said = "\n".join("".join(node.itertext()).replace("\u200b", "") for node in tree.iter("div") if node.get("class") == "said")
    assert said == path.read_text(encoding="utf-8")


def test_what_is_not_found_is_said_at_the_top(tmp_path: Path) -> None:
    path = tmp_path / "other.txt"
    path.write_text("Nothing of the kind.", encoding="utf-8")
    page = marked_html(path, manual_marks(factory.five(), "D1"), "other.txt")
    assert "not found in this file letter by letter" in page and "ridge clamp" in page


@pytest.mark.parametrize("coding", ["utf-8", "utf-8-sig", "utf-16", "cp1252"])
def test_text_is_read_in_the_usual_codings(coding: str) -> None:
    assert decoded("½ clip – Ø42".encode(coding)) == "½ clip – Ø42"


def test_letters_find_quotes_over_line_breaks_and_hyphens() -> None:
    text = "1. Slide one rid-\n   ge clamp (J) onto\n   each hoop. 2. Slide one ridge clamp (J) onto each hoop."
    first = Letters(text).find("Slide one ridge clamp (J) onto each hoop.")
    assert first is not None and text[first[0] : first[1]].startswith("Slide one rid-\n")
    second = Letters(text).find("Slide one ridge clamp (J) onto each hoop.", near=70)
    assert second is not None and second[0] > 50
    assert Letters(text).find("not there") is None
    assert Letters(text).find("...") is None


def test_a_quote_that_runs_on_to_the_next_page_is_found_by_its_beginning() -> None:
    assert Letters("Fit the brace clips to both end").find("Fit the brace clips to both end hoops, left and right.") == (0, 31)
    assert Letters("Fit the brace clips to both ends.").find("Fit the brace clips to both sides of the hoop") is None


def test_warnings_without_a_quote_stand_at_their_step() -> None:
    schedule = replace(factory.five(), warnings=(Finding("short", "joint screw", (), ("S5",), "One is missing.", "", "W9"),), questions=())
    notes = [mark for mark in manual_marks(schedule, "D1") if mark.kind == "warning"]
    assert [(mark.source.page, mark.words) for mark in notes] == [(4, "Warning W9, short (joint screw): One is missing.")]
    assert isinstance(notes[0].source, Source)


def test_write_outputs_marks_each_document(tmp_path: Path) -> None:
    schedule = factory.thirty()
    pdf, text = _manual(schedule, tmp_path), _text_manual(schedule, tmp_path)
    written = write_outputs(schedule, tmp_path / "out", only=["marked"], sources=[pdf, text])
    assert [path.name for path in written] == ["schedule.json", "marked-D1-field-tunnel.pdf", "marked-D2-shade-line.html"]
