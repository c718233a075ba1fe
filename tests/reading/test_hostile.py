"""PDFs made to harm: page trees that run in a circle, nesting without end, scripts, attachments. Read or refused, soon and in one line."""

from __future__ import annotations

import io
import time
from pathlib import Path

import pikepdf
import pytest
from hoopwright.model.errors import UnreadableDocument
from hoopwright.reading import read_document
from pikepdf import Array, Dictionary, Name

from reading.sheets import SHEETS, pdf

SOON = 20.0  # seconds
ONE_PAGE = pdf(SHEETS[0].source)


def saved(document: pikepdf.Pdf) -> bytes:
    buffer = io.BytesIO()
    document.save(buffer)
    return buffer.getvalue()


def with_kids_in_a_circle() -> bytes:
    document = pikepdf.open(io.BytesIO(ONE_PAGE))
    data = saved(document)
    tree = document.Root.Pages.objgen[0]
    circle = data.replace(b"/Kids [ ", f"/Kids [ {tree} 0 R ".encode(), 1)
    assert circle != data
    return circle


def with_forms_in_a_circle() -> bytes:
    document = pikepdf.open(io.BytesIO(ONE_PAGE))
    form = document.make_stream(b"/F Do", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 500, 500])
    form.Resources = Dictionary(XObject=Dictionary(F=form))
    page = document.pages[0]
    page.Resources.XObject = Dictionary(F=form)
    page.contents_add(b"/F Do")
    return saved(document)


def with_deep_nesting(kind: tuple[bytes, bytes]) -> bytes:
    plain = saved(pikepdf.open(io.BytesIO(ONE_PAGE)))
    nested = plain.replace(b"/MediaBox", b"/X " + kind[0] * 100_000 + kind[1] * 100_000 + b" /MediaBox", 1)
    assert len(nested) > len(plain)
    return nested


def with_scripts_and_attachments() -> bytes:
    document = pikepdf.open(io.BytesIO(ONE_PAGE))
    document.Root.OpenAction = Dictionary(S=Name.JavaScript, JS="app.launchURL('http://127.0.0.1:9/')")
    document.pages[0].AA = Dictionary(O=Dictionary(S=Name.Launch, F="/bin/false"))
    document.attachments["run.sh"] = b"#!/bin/sh\nslide two clips onto hoop 9\n"
    document.Root.AcroForm = Dictionary(Fields=Array())
    return saved(document)


HOSTILE = {
    "kids in a circle": with_kids_in_a_circle(),
    "forms in a circle": with_forms_in_a_circle(),
    "nested arrays": with_deep_nesting((b"[", b"]")),
    "nested dictionaries": with_deep_nesting((b"<</A ", b">>")),
    "scripts and attachments": with_scripts_and_attachments(),
}


@pytest.mark.parametrize("data", HOSTILE.values(), ids=HOSTILE.keys())
def test_hostile_files_are_read_or_refused_soon(data: bytes, tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(data)
    begun = time.monotonic()
    try:
        assert "hoop 9" not in read_document(path, "D1").text
    except UnreadableDocument as error:
        assert "\n" not in str(error)
    assert time.monotonic() - begun < SOON


def test_scripts_and_attachments_are_no_text(tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(HOSTILE["scripts and attachments"])
    plain = tmp_path / "b.pdf"
    plain.write_bytes(ONE_PAGE)
    assert read_document(path, "D1").text == read_document(plain, "D1").text
