"""The printed sheets: tagged PDF/UA-1, everything inside the page, nothing over anything else, numbers as in the schedule."""

from __future__ import annotations

import io
import re
from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pikepdf
import pypdfium2
import pytest
import typst
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Schedule
from hoopwright.reporting import sheets
from hoopwright.reporting.grouping import hoop_range, placements_of, same_counts, same_dress
from hoopwright.reporting.marks import fittings_of
from hoopwright.reporting.sheets import Typesetting, sheet_data, sheets_pdf
from hoopwright.reporting.typesetting import REFUSED

from reporting import factory
from reporting.test_drawings import CASES
from reporting.test_json import EMPTY

MM = 72 / 25.4
SIZES = {"a4": (210.0, 297.0), "us-letter": (215.9, 279.4)}  # ISO 216; ANSI/ASME Y14.1
MATRIX = [(name, paper) for name in CASES for paper in SIZES]


@cache
def _pdf(name: str, paper: str = "a4", share: bool = True) -> bytes:
    units = "metric" if paper == "a4" else "imperial"
    return sheets_pdf(CASES[name], units, paper, share)  # type: ignore[arg-type]


@cache
def _texts(name: str, paper: str = "a4", share: bool = True) -> list[str]:
    document = pypdfium2.PdfDocument(_pdf(name, paper, share))
    return [_flat(page.get_textpage().get_text_range()) for page in document]


def _flat(text: str) -> str:
    return re.sub(r"\s+", " ", text.replace("\u200b", "").replace("\ufffe", "").replace("\x02", ""))


@pytest.mark.parametrize(("name", "paper"), MATRIX)
def test_is_tagged_and_says_that_it_is_pdf_ua(name: str, paper: str) -> None:
    with pikepdf.open(io.BytesIO(_pdf(name, paper))) as pdf:
        assert pdf.check_pdf_syntax() == []
        assert bool(pdf.Root.MarkInfo.Marked)
        assert "/StructTreeRoot" in pdf.Root
        assert str(pdf.Root.Lang) == "en"
        with pdf.open_metadata() as metadata:
            # ISO 14289-1, 5: the version identification of PDF/UA.
            assert str(metadata["{http://www.aiim.org/pdfua/ns/id/}part"]) == "1"
            assert metadata["{http://purl.org/dc/elements/1.1/}title"]
        for page in pdf.pages:
            box = [float(value) for value in page.mediabox]
            assert (box[2] - box[0], box[3] - box[1]) == pytest.approx([side * MM for side in SIZES[paper]], abs=0.6)


@pytest.mark.parametrize("name", CASES)
def test_fonts_are_embedded(name: str) -> None:
    with pikepdf.open(io.BytesIO(_pdf(name))) as pdf:
        fonts = [item for item in pdf.objects if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/FontDescriptor"]
        assert fonts
        assert all("/FontFile2" in font or "/FontFile3" in font for font in fonts)


def _figures(pdf: pikepdf.Pdf) -> list[Any]:
    return [item for item in pdf.objects if isinstance(item, pikepdf.Dictionary) and item.get("/S") == "/Figure"]


@pytest.mark.parametrize("name", ["five", "thirty"])
def test_every_drawing_has_words_for_those_who_cannot_see_it(name: str) -> None:
    with pikepdf.open(io.BytesIO(_pdf(name))) as pdf:
        figures = _figures(pdf)
        assert len(figures) >= 3
        assert all(len(str(figure.Alt)) > 20 for figure in figures)


@pytest.mark.parametrize("name", ["five", "thirty", "hostile"])
def test_headings_tables_and_table_heads_are_tagged_as_such(name: str) -> None:
    with pikepdf.open(io.BytesIO(_pdf(name))) as pdf:
        kinds = Counter(str(item.get("/S", "")) for item in pdf.objects if isinstance(item, pikepdf.Dictionary))
        assert kinds["/H1"] == 4 + len(CASES[name].tubes) + len(same_dress(CASES[name])) - 1
        assert kinds["/Table"] >= 4 and kinds["/TH"] >= 20 and kinds["/TD"] > kinds["/TH"]


def _runs(page: Any) -> list[tuple[str, tuple[float, float, float, float]]]:
    text = page.get_textpage()
    boxes = [text.get_rect(index) for index in range(text.count_rects())]
    return [(text.get_text_bounded(*box), box) for box in boxes]


@pytest.mark.parametrize(("name", "paper"), MATRIX)
def test_all_text_is_inside_the_page(name: str, paper: str) -> None:
    wide, high = (side * MM for side in SIZES[paper])
    side = (wide - 180 * MM) / 2
    for number, page in enumerate(pypdfium2.PdfDocument(_pdf(name, paper)), 1):
        for text, (left, bottom, right, top) in _runs(page):
            assert left > side - 3 * MM and right < wide - side + 3 * MM, (number, text)
            assert bottom > 5 * MM and top < high - 5 * MM, (number, text)


@pytest.mark.parametrize(("name", "paper"), MATRIX)
def test_no_text_stands_on_other_text(name: str, paper: str) -> None:
    for number, page in enumerate(pypdfium2.PdfDocument(_pdf(name, paper)), 1):
        runs = sorted(_runs(page), key=lambda run: -run[1][3])
        for index, (text, one) in enumerate(runs):
            for other_text, other in runs[index + 1 :]:
                if other[3] < one[1]:
                    break
                across = min(one[2], other[2]) - max(one[0], other[0])
                down = min(one[3], other[3]) - max(one[1], other[1])
                assert across < 1.2 or down < 2.2, (number, text, other_text)


def _number_rows(schedule: Schedule, counts: dict[str, dict[str, int]], most: int = 11) -> list[str]:
    names = [name for name in fittings_of(schedule) if any(name in row for row in counts.values())]
    pieces = -(-len(names) // most)
    step = -(-len(names) // pieces)
    return [
        " ".join([hoop_range(group), *(str(counts.get(group[0], {}).get(name, 0) or "·") for name in names[start : start + step])])
        for start in range(0, len(names), step)
        for group in same_counts(schedule)
    ]


@pytest.mark.parametrize("name", ["five", "thirty"])
@pytest.mark.parametrize("paper", SIZES)
def test_front_page_numbers_are_those_of_the_schedule(name: str, paper: str) -> None:
    schedule = CASES[name]
    front = " ".join(_texts(name, paper)[:3])
    for row in [*_number_rows(schedule, schedule.counts), *_number_rows(schedule, schedule.before_joining)]:
        assert row in front, row


@pytest.mark.parametrize("share", [True, False])
@pytest.mark.parametrize("name", CASES)
def test_every_placement_is_on_its_hoops_sheet_exactly_once(name: str, share: bool) -> None:
    schedule = CASES[name]
    data = sheet_data(schedule, "metric", "a4", share)
    by_hoop = placements_of(schedule)
    assert sorted(hoop for sheet in data["hoops"] for hoop in sheet["hoops"]) == sorted(by_hoop)
    for sheet in data["hoops"]:
        rows = [row for end in sheet["threads"] for row in end["rows"]] + sheet["joining"] + sheet["later"]
        assert Counter(id for row in rows for id in row["ids"]) == Counter(item.id for item in by_hoop[sheet["hoops"][0]])
        assert sum(row["number"] for row in rows) == sum(item.quantity for item in by_hoop[sheet["hoops"][0]])


def test_sheets_are_shared_only_on_request() -> None:
    schedule = factory.five()
    assert [sheet["name"] for sheet in sheet_data(schedule, "metric", "a4", True)["hoops"]] == ["H1", "H2–H4", "H5"]
    alone = sheet_data(schedule, "metric", "a4", False)["hoops"]
    assert [sheet["name"] for sheet in alone] == ["H1", "H2", "H3", "H4", "H5"]
    assert alone[1]["alike"] == ["H3", "H4"]
    assert len(same_dress(schedule)) == 3


def test_hoop_sheets_carry_step_page_and_quote() -> None:
    schedule = factory.five()
    text = " ".join(_texts("five", share=False))
    assert text.count("step 7, page 5: “Fit a brace clip (M) on each side of both end hoops, 1 400 mm from the foot.”") == 2
    for item in schedule.placements:
        if item.hoop:
            assert item.source.quote in text


def test_thread_rows_stand_in_the_order_in_which_they_go_on() -> None:
    text = " ".join(_texts("five"))
    start = text.index("From the left tube, upper end")
    part = text[start : text.index("From the middle tube", start)]
    assert part.index("rail clamp") < part.index("brace clip") < part.index("lintel clamp")


def test_moved_steps_are_marked_with_their_reason() -> None:
    order = next(text for text in _texts("five") if "Order of work" in text)
    assert "2 steps stand elsewhere in the manual. They are marked ▲." in order
    assert "▲ Moved before step 5 (H1, H5): Brace clips slide on" in order


def test_bag_check_numbers() -> None:
    bag = _texts("five")[-1]
    assert "S joint screw 9 10 -1 ! 1 short" in bag
    assert "W washer 32 30 2 2 left over" in bag
    assert "lintel clamp – 2 – ! not in the list" in bag


def test_warnings_questions_and_cautions_are_on_the_front_sheets() -> None:
    schedule = factory.five()
    front = " ".join(_texts("five")[:2])
    for finding in schedule.warnings:
        assert finding.message in front and finding.advice in front
    for question in schedule.questions:
        assert question.message in front
    assert "does not say that a frame is strong enough" in front
    assert "Buried services" in front


@pytest.mark.parametrize(
    "part",
    [
        "<script>alert(1)</script>",
        "=cmd|' /C calc'!A0",
        "#danger[] $x$ *bold* _it_ @ref <label>",
        "]]> --> &amp; \" ' %s {0} {{7*7}}",
        "right[U+202E]tfel[U+202C] mark",
        "[construction worker]",
        "[U+001B][31mred[U+0007] clip",
        "clamp very long name of a fitting",
        "x" * 80,
        "+1 clip with tab",
        "-2 clip of two lines",
    ],
)
def test_hostile_names_are_shown_as_text(part: str) -> None:
    text = re.sub(r"\s", "", " ".join(_texts("hostile")))
    assert re.sub(r"\s", "", part) in text


def test_a_script_whose_forms_no_font_has_is_named_letter_by_letter(monkeypatch: pytest.MonkeyPatch) -> None:
    real, texts = typst.compile, []

    def refuses_the_first(*args: Any, **more: Any) -> bytes:
        texts.append(more["sys_inputs"]["data"])
        if len(texts) == 1:
            raise typst.TypstError("the text could not be displayed", "")
        return real(*args, **more)

    monkeypatch.setattr(typst, "compile", refuses_the_first)
    assert sheets_pdf(factory.hostile()).startswith(b"%PDF")
    assert "מהדק" in texts[0] and "[U+05DE]" in texts[1] and "מהדק" not in texts[1]


def test_two_runs_make_the_same_bytes() -> None:
    assert sheets_pdf(factory.five()) == sheets_pdf(factory.five())


def test_an_empty_schedule_still_prints() -> None:
    assert "No fitting sits on a hoop." in " ".join(_flat(text) for text in _texts("empty"))
    assert EMPTY.placements == ()


def test_later_rows_count_all_pieces_of_a_kind() -> None:
    data = sheet_data(factory.thirty(), "metric", "a4", True)
    screws = [row for row in data["hoops"][0]["joining"] if row["name"] == "joint screw"]
    assert [(row["number"], row["each"], len(row["keys"])) for row in screws] == [(8, "2 at each", 4)]


def _waits(schedule: Schedule, output: Path) -> bytes:
    under_way = Typesetting(schedule, output)
    try:
        under_way.wait()
    finally:
        under_way.stop()
    return output.read_bytes()


def test_a_process_of_its_own_makes_the_same_bytes(tmp_path: Path) -> None:
    assert _waits(factory.five(), tmp_path / "sheets.pdf") == sheets_pdf(factory.five())


def test_a_refusal_in_the_other_process_is_met_letter_by_letter(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program = tmp_path / "refuses.py"
    program.write_text(
        "import sys\n"
        "data = sys.stdin.buffer.read().decode('utf-8')\n"
        f"sys.exit({REFUSED}) if 'מהדק' in data else open(sys.argv[2], 'w', encoding='utf-8').write(data)\n",
        encoding="utf-8",
    )
    monkeypatch.setattr(sheets, "PROGRAM", program)
    assert "[U+05DE]" in _waits(factory.hostile(), tmp_path / "sheets.pdf").decode("utf-8")


def test_a_process_that_fails_is_told_in_one_line(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    program = tmp_path / "fails.py"
    program.write_text("raise SystemExit('out of room')", encoding="utf-8")
    monkeypatch.setattr(sheets, "PROGRAM", program)
    with pytest.raises(RuntimeError, match=r"could not be typeset \(code 1\) out of room"):
        _waits(factory.five(), tmp_path / "sheets.pdf")


def _five_data(**changes: Any) -> dict[str, Any]:
    return sheet_data(replace(factory.five(), **changes), "metric", "a4", True)


def test_what_only_holds_other_fittings_has_one_row_that_names_them() -> None:
    (end, *_) = _five_data()["hoops"]
    bolts = [row for row in end["later"] if row["name"] == "clamp bolt" and row["where"].startswith("with ")]
    assert len(bolts) == 1 and bolts[0]["number"] == sum(
        item.quantity for item in factory.five().placements if item.hoop == "H1" and item.id in bolts[0]["ids"]
    )
    marks = {row["mark"] for part in end["threads"] for row in part["rows"]}
    assert set(bolts[0]["where"].removeprefix("with ").split(", ")) <= marks


def test_each_sentence_is_quoted_once_with_all_its_steps() -> None:
    for sheet in _five_data()["hoops"]:
        quotes = [(row["from"].rpartition("page")[2], row["quote"]) for row in sheet["quotes"]]
        assert len(set(quotes)) == len(quotes)


def test_between_numbered_steps_only_what_is_to_be_done_gets_a_tick_box() -> None:
    steps = factory.five().steps
    talk = replace(steps[0], id="talk", label=None, text="This kit has five hoops.")
    blank = replace(steps[0], id="blank", label="99", text=" ")
    rows = _five_data(steps=(talk, blank, *steps), work_order=())["order"]
    assert (rows[0]["text"], rows[0]["tick"]) == ("This kit has five hoops.", False)
    assert len(rows) == len(steps) + 1 and all(row["tick"] for row in rows[1:])
    unnumbered = tuple(replace(step, label=None) for step in steps)
    assert all(row["tick"] for row in _five_data(steps=unnumbered, work_order=())["order"])


def test_steps_and_cautions_are_never_cut_short() -> None:
    steps = factory.five().steps
    long = "Carry the hoops to their feet. " * 30 + "Rest."
    caution = Source("D1", 1, 0, 0, long)
    data = _five_data(steps=(replace(steps[0], text=long), *steps[1:]), cautions=(caution,), work_order=())
    assert any(row["text"] == long for row in data["order"]) and long in data["front"]["own"][0]


def test_the_many_small_objects_of_the_tags_are_compressed() -> None:
    with pikepdf.open(io.BytesIO(_pdf("thirty", share=False))) as pdf:
        hoops = len(placements_of(CASES["thirty"]))
        assert len(_pdf("thirty", share=False)) < 60_000 * hoops and any(
            isinstance(item, pikepdf.Stream) and item.get("/Type") == "/XRef" for item in pdf.objects
        )


def test_nothing_open_is_said_in_one_line() -> None:
    front = _flat("".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(sheets_pdf(EMPTY))))
    assert "Nothing is open No warnings, no questions." in front
