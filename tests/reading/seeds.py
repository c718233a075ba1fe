"""Sound files from which fuzzing starts."""

from __future__ import annotations

import io

import pikepdf

from reading.sheets import HEADED, SHEETS, STEPS, pdf

_SHEETS = (
    "two_columns_short_steps", "ruled_table", "unruled_table", "rotated_table", "bullets", "drawing_beside", "title_page", "merged_cells",
)  # fmt: skip
_BOX = "┌───┬───┐\n│ A │ B │\n├───┼───┤\n│ 1 │ 2 │\n└───┴───┘\n+---+---+\n| a | b |\n+---+---+\n| 1 | 2 |\n+---+---+\n"


def _bare(data: bytes) -> bytes:
    """The PDF with its streams not packed, so that damage reaches text and drawing."""
    buffer = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as document:
        document.save(buffer, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.generalized, qdf=True)
    return buffer.getvalue()


def _rows(parting: str) -> str:
    return "\n".join(parting.join(row) for row in HEADED)


def seeds() -> dict[str, bytes]:
    """Files by name; the ending tells the kind."""
    by_name = {sheet.name: sheet for sheet in SHEETS}
    found = {f"{name}.pdf": _bare(pdf(by_name[name].source)) for name in _SHEETS}
    found["packed.pdf"] = pdf(by_name["ruled_table"].source)
    steps = "\n\n".join(f"{i}. {step}" for i, step in enumerate(STEPS, start=1))
    found["steps.txt"] = f"FRAME\n\n{steps}\n\f{_rows('   ')}\n".encode()
    found["tabs.txt"] = f"{_rows(chr(9))}\n\n{steps}".encode("utf-16")
    found["latin.txt"] = f"{steps}\n½ in × 3".replace("″", '"').encode("cp1252", "replace")
    found["parts.md"] = f"# Parts\n\nCode | Part | Qty\n---|---|---\n{_rows(' | ')}\n\n## Steps\n\n{steps}".encode()
    found["box.txt"] = _BOX.encode()
    cells = "".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>" for row in HEADED)
    found["page.html"] = f"<html><body><h1>Frame</h1><ol><li>{STEPS[0]}<ul><li>a</ul></ol><table>{cells}</table><pre>x\n y</pre>".encode()
    return found
