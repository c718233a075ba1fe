"""Files that cannot be read: each gives one line with the file, what is wrong and what to do about it."""

from __future__ import annotations

import io
import os
import zlib
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading import limits, read_document, read_documents

from reading.sheets import SHEETS, Sheet, pdf

SheetFile = Callable[[Sheet | str], Path]
ONE_PAGE = pdf(SHEETS[0].source)


def saved(document: pikepdf.Pdf, **options: object) -> bytes:
    buffer = io.BytesIO()
    document.save(buffer, **options)
    return buffer.getvalue()


def blank_pages(count: int) -> bytes:
    document = pikepdf.new()
    for _ in range(count):
        document.add_blank_page()
    return saved(document)


def locked(user: str) -> bytes:
    return saved(pikepdf.open(io.BytesIO(ONE_PAGE)), encryption=pikepdf.Encryption(user=user, owner="o"))


def png_that_unpacks_to(side: int) -> bytes:
    """A small PNG file that claims ``side`` times ``side`` pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return len(data).to_bytes(4, "big") + kind + data + zlib.crc32(kind + data).to_bytes(4, "big")

    head = side.to_bytes(4, "big") * 2 + bytes((8, 0, 0, 0, 0))
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(bytes(1000))) + chunk(b"IEND", b"")


BAD: dict[str, tuple[str, bytes, str]] = {
    "empty": ("a.txt", b"", "it is empty"),
    "blank": ("a.txt", b" \r\n\t\n", "it is empty"),
    "only a mark": ("a.txt", b"\xef\xbb\xbf", "it is empty"),
    "junk": ("a.txt", bytes(range(256)) * 20, "not text"),
    "NULs": ("a.txt", b"Fix\x00 the clamp\n" * 40, "not text"),
    "no encoding": ("a.txt", b"Clip \x81\x8d\x9d\n", "no encoding"),
    "broken UTF-16": ("a.txt", "Clip".encode("utf-16") + b"\x00", "UTF-16"),
    "endless line": ("a.txt", b"clamp " * 200_000, "1,200,000 characters"),
    "endless line of HTML": ("a.html", b"<html><p>" + b"clamp " * 200_000, "characters"),
    "too many text pages": ("a.txt", b"clamp\f" * 2001, "2,001 pages"),
    "zip": ("a.pdf", b"PK\x03\x04" + bytes(30), "zip archive"),
    "old office": ("a.doc", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(30), "old office file"),
    "rich text": ("a.rtf", b"{\\rtf1 clamp}", "rich text"),
    "phone photo": ("a.jpg", b"\x00\x00\x00\x18ftypheic" + bytes(30), "HEIC"),
    "program": ("a.pdf", b"\x7fELF" + bytes(30), "program"),
    "half a PDF": ("a.pdf", ONE_PAGE[: len(ONE_PAGE) // 2], "damaged"),
    "a PDF's head": ("a.pdf", ONE_PAGE[:60], "damaged"),
    "PDF without pages": ("a.pdf", saved(pikepdf.new()), ""),
    "PDF with a blank page": ("a.pdf", blank_pages(1), "no text"),
    "PDF of too many pages": ("a.pdf", blank_pages(limits.MAX_PAGES + 1), "2,001 pages"),
    "locked PDF": ("a.pdf", locked("secret"), "password"),
    "half a PNG": ("a.png", png_that_unpacks_to(100)[:40], "damaged"),
    "unpacking PNG": ("a.png", png_that_unpacks_to(60_000), "million pixels"),
    "tiny PNG": ("a.png", png_that_unpacks_to(8), "too small"),
    "half a JPEG": ("a.jpg", b"\xff\xd8\xff\xe0\x00\x10JFIF", "damaged"),
}


@pytest.mark.parametrize("case", BAD.values(), ids=BAD.keys())
def test_bad_file_is_named_with_a_remedy(case: tuple[str, bytes, str], tmp_path: Path) -> None:
    name, data, problem = case
    path = tmp_path / name
    path.write_bytes(data)
    with pytest.raises(UnreadableDocument) as caught:
        read_document(path, "D1")
    message = str(caught.value)
    assert message.startswith(f"{path}: ")
    assert "\n" not in message
    assert problem in message
    assert caught.value.remedy


def test_missing_file(tmp_path: Path) -> None:
    with pytest.raises(UnreadableDocument, match="no such file"):
        read_document(tmp_path / "none.pdf", "D1")


@pytest.mark.parametrize("name", ["a" * 5000, "a\x00b"])
def test_impossible_name(name: str) -> None:
    with pytest.raises(UnreadableDocument):
        read_documents([Path(name)])


def test_larger_than_the_limit(tmp_path: Path) -> None:
    path = tmp_path / "large.txt"
    with path.open("wb") as file:
        file.truncate(limits.MAX_BYTES + 1)  # takes no room on most disks
    with pytest.raises(UnreadableDocument, match="limit of 200 MB"):
        read_document(path, "D1")


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names here")
def test_pipe_is_not_waited_for(tmp_path: Path) -> None:
    path = tmp_path / "pipe"
    os.mkfifo(path)
    with pytest.raises(UnreadableDocument, match="no ordinary file"):
        read_document(path, "D1")


def test_page_is_named(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    path.write_text("clamp\f" + "x" * 100_001, "utf-8")
    with pytest.raises(UnreadableDocument, match="page 2: line 1 has") as caught:
        read_document(path, "D1")
    assert caught.value.page == 2


def test_pdf_locked_against_changes_only(tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(locked(""))
    assert read_document(path, "D1").lines[0].text == "Frame"


def test_content_counts_not_the_name(tmp_path: Path, sheet_file: SheetFile) -> None:
    named_text, named_pdf = tmp_path / "a.txt", tmp_path / "a.pdf"
    named_text.write_bytes(ONE_PAGE)
    named_pdf.write_text("Step 1. Fix the clamp.\n", "utf-8")
    first, second = read_documents([named_text, named_pdf])
    assert (first.kind, second.kind, second.text) == ("pdf", "text", "Step 1. Fix the clamp.")


def test_pdf_behind_other_bytes(tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(b"\r\nmail header\r\n" + ONE_PAGE)
    assert read_document(path, "D1").kind == "pdf"
