"""Pages as pictures, read by the text recogniser; every test here but the last two needs tesseract."""

from __future__ import annotations

import _thread
import io
import subprocess
import threading
import time
from collections.abc import Callable
from pathlib import Path
from statistics import mean

import numpy as np
import pikepdf
import pypdfium2
import pytest
from hoopwright.model.document import Document
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading import read_document, tesseract
from hoopwright.reading.picture import View, slant, turned, without_rules
from PIL import Image, ImageFilter

from reading.measures import f1, words_of
from reading.sheets import HEADED, Sheet

SheetFile = Callable[[Sheet | str], Path]
needs_tesseract = pytest.mark.skipif(not tesseract.is_installed(), reason="tesseract (Debian: tesseract-ocr) is not installed")
BAR = 0.98  # of the words in order; tesseract's own rate on clean pages is 0.998


def picture_of(path: Path, dpi: int = 200) -> Image.Image:
    with pypdfium2.PdfDocument(path) as pdf:
        return pdf[0].render(scale=dpi / 72, grayscale=True).to_pil().convert("L")


def read_picture(image: Image.Image, folder: Path, name: str = "scan.png", **options: object) -> Document:
    path = folder / name
    image.save(path, **options)
    return read_document(path, "D1")


def uneven(image: Image.Image) -> Image.Image:
    """The page as a phone sees it: darker to one corner, a shadow across it, grain."""
    levels = np.asarray(image, dtype=np.float64)
    height, width = levels.shape
    y, x = np.mgrid[0:height, 0:width]
    light = 0.5 + 0.35 * x / width + 0.15 * (1 - y / height)
    shadow = 1 - 0.35 * np.exp(-((x - 0.3 * width) ** 2 + (y - 0.6 * height) ** 2) / (2 * (0.2 * width) ** 2))
    grain = np.random.default_rng(3).normal(0, 5, levels.shape)
    return Image.fromarray((levels * light * shadow + grain).clip(0, 255).astype(np.uint8)).filter(ImageFilter.GaussianBlur(0.6))


CHANGES: dict[str, Callable[[Image.Image], Image.Image]] = {
    "clean": lambda image: image,
    "aslant": lambda image: image.rotate(2.4, expand=True, fillcolor=255, resample=Image.Resampling.BICUBIC),
    "on its side": lambda image: image.transpose(Image.Transpose.ROTATE_90),
    "on its other side": lambda image: image.transpose(Image.Transpose.ROTATE_270),
    "upside down": lambda image: image.transpose(Image.Transpose.ROTATE_180),
    "uneven light": uneven,
}


@needs_tesseract
@pytest.mark.parametrize("change", CHANGES.values(), ids=CHANGES.keys())
def test_photos_of_a_page(change: Callable[[Image.Image], Image.Image], sheet_file: SheetFile, tmp_path: Path) -> None:
    path = sheet_file("one_column")
    document = read_picture(change(picture_of(path)), tmp_path)
    assert document.kind == "scan"
    assert f1(words_of(read_document(path, "D2").text), words_of(document.text)) >= BAR
    confidences = [word.confidence for line in document.lines for word in line.words]
    assert all(c is not None and 0 <= c <= 1 for c in confidences)
    assert mean(c for c in confidences if c is not None) > 0.8


@needs_tesseract
@pytest.mark.parametrize("name", ["two_columns", "three_columns", "side_heads"])
def test_columns_in_scans(name: str, sheet_file: SheetFile, tmp_path: Path) -> None:
    path = sheet_file(name)
    assert f1(words_of(read_document(path, "D2").text), words_of(read_picture(picture_of(path), tmp_path).text)) >= BAR


@needs_tesseract
@pytest.mark.parametrize("name", ["ruled_table", "unruled_table_wide", "merged_cells", "matrix"])
def test_tables_in_scans(name: str, sheet_file: SheetFile, tmp_path: Path) -> None:
    path = sheet_file(name)
    ours = read_picture(picture_of(path), tmp_path)
    assert [grid.rows for grid in ours.grids] == [grid.rows for grid in read_document(path, "D2").grids]


@needs_tesseract
@pytest.mark.parametrize("change", ["clean", "aslant", "on its side", "upside down"])
def test_boxes_stand_on_the_given_picture(change: str, sheet_file: SheetFile, tmp_path: Path) -> None:
    """The words' boxes hold the ink of the picture as it was given, however it was turned for reading."""
    image = CHANGES[change](picture_of(sheet_file("title_page")))
    document = read_picture(image, tmp_path, dpi=(200, 200))
    ink = np.asarray(image) < 128
    held = np.zeros_like(ink)
    for line in document.lines:
        for word in line.words:
            assert word.box is not None
            x0, top, x1, bottom = (round(side * 200 / 72) for side in (word.box.x0, word.box.top, word.box.x1, word.box.bottom))
            assert ink[top:bottom, x0:x1].any()
            held[top:bottom, x0:x1] = True
    assert (ink & held).sum() / ink.sum() > 0.97


@needs_tesseract
@pytest.mark.parametrize(("name", "options"), [("a.jpg", {"quality": 60}), ("a.webp", {}), ("a.tif", {"compression": "tiff_lzw"})])
def test_kinds_of_pictures(name: str, options: dict[str, object], sheet_file: SheetFile, tmp_path: Path) -> None:
    assert read_picture(picture_of(sheet_file("title_page")), tmp_path, name, **options).lines[0].text == "Growing tunnel"


@needs_tesseract
def test_tiff_of_two_pages(sheet_file: SheetFile, tmp_path: Path) -> None:
    pages = [picture_of(sheet_file("title_page")), picture_of(sheet_file("ruled_table"))]
    document = read_picture(pages[0], tmp_path, "a.tif", save_all=True, append_images=pages[1:])
    assert document.pages == 2
    assert document.lines[0].text == "Growing tunnel"
    assert [(grid.page, grid.rows[0]) for grid in document.grids] == [(2, HEADED[0])]


def scanned_pdf(sheet_file: SheetFile, *names: str) -> bytes:
    pages = [picture_of(sheet_file(name)) for name in names]
    buffer = io.BytesIO()
    pages[0].save(buffer, "PDF", resolution=200, save_all=True, append_images=pages[1:])
    return buffer.getvalue()


@needs_tesseract
def test_pdf_of_pictures(sheet_file: SheetFile, tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(scanned_pdf(sheet_file, "one_column", "title_page", "ruled_table"))
    said: list[str] = []
    document = read_document(path, "D1", progress=said.append)
    assert (document.kind, document.pages) == ("scan", 3)
    assert said[1:] == [f"reading a.pdf: page {n} of 3 as a picture" for n in (1, 2, 3)]
    assert next(line.text for line in document.lines if line.page == 2) == "Growing tunnel"
    assert document.grids[0].rows == HEADED
    assert all(f"page {n}: read as a picture" in document.notes[n - 1] for n in (1, 2, 3))


@needs_tesseract
def test_pdf_of_text_and_pictures(sheet_file: SheetFile, tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    with pikepdf.open(sheet_file("one_column")) as pdf, pikepdf.open(io.BytesIO(scanned_pdf(sheet_file, "title_page"))) as scan:
        pdf.pages.extend(scan.pages)
        pdf.save(path)
    document = read_document(path, "D1")
    assert (document.kind, document.pages) == ("pdf", 2)
    assert {line.page: line.words[0].confidence is None for line in document.lines} == {1: True, 2: False}


@needs_tesseract
def test_fonts_that_name_no_characters(sheet_file: SheetFile, tmp_path: Path) -> None:
    """A text layer of nameless glyphs is noticed, and the page read as a picture."""
    path = tmp_path / "a.pdf"
    with pikepdf.open(sheet_file("one_column")) as pdf:
        for thing in pdf.objects:
            if isinstance(thing, pikepdf.Dictionary) and "/ToUnicode" in thing:
                del thing["/ToUnicode"]
        pdf.save(path)
    document = read_document(path, "D1")
    assert "its fonts do not name their characters" in document.notes[0]
    assert f1(words_of(read_document(sheet_file("one_column"), "D2").text), words_of(document.text)) >= BAR


@needs_tesseract
def test_no_text_in_a_photo(tmp_path: Path) -> None:
    noise = np.random.default_rng(1).integers(0, 255, (60, 80), dtype=np.uint8)
    image = Image.fromarray(noise).resize((800, 600), Image.Resampling.BICUBIC)
    with pytest.raises(UnreadableDocument, match="no text was found"):
        read_picture(image, tmp_path)


@needs_tesseract
def test_ctrl_c_stops_the_recogniser(sheet_file: SheetFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(scanned_pdf(sheet_file, *["two_columns"] * 6))
    started: list[subprocess.Popen[bytes]] = []
    start = tesseract.Recogniser._start

    def noted(self: tesseract.Recogniser, command: list[str]) -> subprocess.Popen[bytes]:
        started.append(start(self, command))
        threading.Timer(0.05, _thread.interrupt_main).start()
        monkeypatch.setattr(tesseract.Recogniser, "_start", start)
        return started[0]

    monkeypatch.setattr(tesseract.Recogniser, "_start", noted)
    begun = time.monotonic()
    with pytest.raises(KeyboardInterrupt):
        read_document(path, "D1")
    assert time.monotonic() - begun < 20
    assert started[0].poll() is not None


def test_without_tesseract(sheet_file: SheetFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tesseract, "PROGRAM", "no-such-program")
    path = tmp_path / "a.pdf"
    path.write_bytes(scanned_pdf(sheet_file, "one_column"))
    with pytest.raises(UnreadableDocument, match=r"page 1: .*tesseract is not installed; install it .*tesseract-ocr"):
        read_document(path, "D1")


def test_a_photo_in_a_manual_does_not_need_tesseract(sheet_file: SheetFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(tesseract, "PROGRAM", "no-such-program")
    levels = np.linspace(40, 200, 640 * 480).reshape(480, 640).astype(np.uint8)
    buffer = io.BytesIO()
    Image.fromarray(levels).save(buffer, "PDF")
    path = tmp_path / "a.pdf"
    with pikepdf.open(sheet_file("one_column")) as pdf, pikepdf.open(buffer) as photo:
        pdf.pages.extend(photo.pages)
        pdf.save(path)
    document = read_document(path, "D1")
    assert document.lines[0].text == "Frame"
    assert "page 2: a picture on it was not read" in document.notes[0]


@pytest.mark.parametrize("angle", [-7.0, -1.3, 0.0, 0.8, 5.0])
def test_slant_is_measured(angle: float, sheet_file: SheetFile) -> None:
    image = picture_of(sheet_file("two_columns"), 150).rotate(-angle, expand=True, fillcolor=255, resample=Image.Resampling.BICUBIC)
    assert slant(np.asarray(image)) == pytest.approx(angle, abs=0.15)


@pytest.mark.parametrize("quarters", [0, 1, 2, 3])
@pytest.mark.parametrize("angle", [0.0, 3.0])
def test_places_found_again_after_turning(quarters: int, angle: float) -> None:
    picture = np.full((400, 600), 255, dtype=np.uint8)
    picture[100:110, 450:470] = 0
    straight = turned(picture, quarters, angle)
    ys, xs = np.nonzero(straight < 128)
    view = View(600, 400, (straight.shape[1], straight.shape[0]), 1.0, quarters, angle)
    box = view.on_page((float(xs.min()), float(ys.min()), float(xs.max() + 1), float(ys.max() + 1)))
    assert box == pytest.approx((450, 100, 470, 110), abs=2.5 if angle else 0.01)


def test_rules_of_a_scanned_table(sheet_file: SheetFile) -> None:
    image = np.asarray(picture_of(sheet_file("ruled_table")))
    clean, rules = without_rules(image, 200)
    assert len({round(r.at / 3) for r in rules if r.across}) == len(HEADED) + 1
    assert len({round(r.at / 3) for r in rules if not r.across}) == 4
    assert (clean < 128).sum() < (image < 128).sum()
