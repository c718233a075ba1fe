"""Damaged files for fuzzing: bytes changed, dropped, repeated, swapped and cut off; and what must hold for what is read of them."""

from __future__ import annotations

import random
import re

from hoopwright.model.document import Document

TOKENS = (
    b"%PDF-1.7", b"obj", b"endobj", b"stream", b"endstream", b"xref", b"trailer", b"startxref", b"/Type", b"/Page", b"/Pages", b"/Kids",
    b"/Count", b"/MediaBox [0 0 1e9 1e9]", b"/Rotate 90", b"/Length 99999999", b"<<", b">>", b"[", b"]", b"(", b")", b"BT", b"ET", b"Tj",
    b"-1", b"0", b"99999999999", b"1e38", b"NaN", b"\x00", b"\xff\xfe", b"\xef\xbb\xbf", b"|", b"---", b"\t", b"\f", b"<table>", b"<td>",
    b"&#0;", b"<!--", b"\xe2\x94\x8c\xe2\x94\x80\xe2\x94\xac", b"+---+",
)  # fmt: skip


def mutated(data: bytes, rng: random.Random) -> bytes:
    """``data`` with one to eight kinds of damage."""
    out = bytearray(data)
    for _ in range(rng.randint(1, 8)):
        if not out:
            break
        at, length = rng.randrange(len(out)), rng.choice((1, 1, 2, 4, 16, 64, 512))
        kind = rng.randrange(7)
        if kind == 0:
            out[at] = rng.randrange(256)
        elif kind == 1:
            del out[at : at + length]
        elif kind == 2:
            out[at:at] = out[at : at + length] * rng.randint(1, 8)
        elif kind == 3:
            out[at : at + length] = rng.choice(TOKENS)
        elif kind == 4:
            out[at : at + length] = bytes(rng.randrange(256) for _ in range(length))
        elif kind == 5:
            _change_number(out, rng)
        elif rng.random() < 0.3:
            del out[at:]
    return bytes(out)


def _change_number(out: bytearray, rng: random.Random) -> None:
    numbers = list(re.finditer(rb"-?\d+\.?\d*", out))
    if numbers:
        match = rng.choice(numbers)
        out[match.start() : match.end()] = rng.choice((b"0", b"-1", b"1", b"65536", b"4294967295", b"-99999999999", b"0.00001", b"1e30"))


def check(document: Document) -> None:
    """What holds for every document."""
    assert document.text == "\n".join(line.text for line in document.lines)
    for line in document.lines:
        assert document.text.startswith(line.text, line.start)
        assert 1 <= line.page <= document.pages
        for word in line.words:
            assert document.text.startswith(word.text, word.start)
    for grid in document.grids:
        assert len(grid.rows) == len(grid.lines)
        assert len({len(row) for row in grid.rows}) == 1
        assert all(document.lines[index].page == grid.page for lines in grid.lines for index in lines)
