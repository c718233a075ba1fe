"""Bytes to text: UTF-8, UTF-16 and Windows-1252, and a refusal of what is no text."""

from __future__ import annotations

import codecs
import re
from pathlib import Path

from hoopwright.model.errors import UnreadableDocument

_REMEDY = "save it as UTF-8 text, or give the PDF or picture it comes from"
_CONTROLS = re.compile(r"[\x00-\x08\x0e-\x1a\x1c-\x1f\x7f]")  # all but tab, line and page breaks, and escape
_MAX_CONTROL_SHARE = 0.002  # text has none; a stray one from a copy is let pass
_MIN_ODD_NULS = 0.3  # share of NULs in every other byte that tells UTF-16 without a mark from binary data


def decode(data: bytes, path: Path) -> tuple[str, tuple[str, ...]]:
    """The text of ``data`` and notes on what was guessed. Raises UnreadableDocument for binary data and undecodable text."""
    text, notes = _decoded(data, path)
    controls = len(_CONTROLS.findall(text))
    if "\x00" in text or controls > max(3, _MAX_CONTROL_SHARE * len(text)):
        where = text[: _first_control(text)].count("\n") + 1
        raise UnreadableDocument(f"it is not text (unprintable characters from line {where} on)", _REMEDY, file=path)
    if controls:
        text = _CONTROLS.sub("", text)
        notes += (f"{controls} unprintable characters left out",)
    return text, notes


def _first_control(text: str) -> int:
    match = _CONTROLS.search(text)
    return match.start() if match else 0


def _decoded(data: bytes, path: Path) -> tuple[str, tuple[str, ...]]:
    if data.startswith(codecs.BOM_UTF8):
        return _utf8(data[3:], path)
    wide = _utf16_name(data)
    if wide:
        try:
            return data.decode(wide).lstrip("\ufeff"), (f"read as {wide.upper()}",)
        except UnicodeDecodeError as error:
            raise UnreadableDocument(f"it starts as UTF-16 text but breaks at byte {error.start:,}", _REMEDY, file=path) from error
    if b"\x00" in data:
        line = data[: data.index(b"\x00")].count(b"\n") + 1
        raise UnreadableDocument(f"it is not text (unprintable characters from line {line} on)", _REMEDY, file=path)
    return _utf8(data, path)


def _utf16_name(data: bytes) -> str | None:
    if data.startswith((codecs.BOM_UTF32_LE, codecs.BOM_UTF32_BE)):
        return "utf-32"
    if data.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16"
    sample = data[:4096]
    half = len(sample) // 2
    if half < 2 or b"\x00" not in sample:
        return None
    even, odd = sample[0::2].count(0) / half, sample[1::2].count(0) / half
    if odd > _MIN_ODD_NULS and even < 0.02:
        return "utf-16-le"
    if even > _MIN_ODD_NULS and odd < 0.02:
        return "utf-16-be"
    return None


def _utf8(data: bytes, path: Path) -> tuple[str, tuple[str, ...]]:
    try:
        return data.decode("utf-8").lstrip("\ufeff"), ()
    except UnicodeDecodeError as error:
        first = error.start
    line = data[:first].count(b"\n") + 1
    # A UTF-8 file with a damaged byte or two must not be read as Windows-1252: that would spoil every ″ and × in it.
    patched = data.decode("utf-8", "replace")
    bad = patched.count("\ufffd")
    good = sum(1 for c in patched if c > "\x7f") - bad
    if good > 2 * bad:
        return patched.lstrip("\ufeff"), (f"{bad} damaged characters from line {line} on, shown as \ufffd",)
    try:
        return data.decode("cp1252"), (f"not UTF-8 (line {line}); read as Windows-1252",)
    except UnicodeDecodeError as error:
        problem = f"its text is in no encoding that is known here (line {line})"
        raise UnreadableDocument(problem, _REMEDY, file=path) from error
