"""A copy of the user's PDF with standard annotations: sentences highlighted, tags in the margin, warnings and questions as notes.

Annotation types and keys: ISO 32000-1 (PDF 1.7), 12.5.6. Every annotation brings its own appearance, so that all viewers show the same.
"""

from __future__ import annotations

import io
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hoopwright.reporting.manual_marks import Letters, ManualMark
from hoopwright.reporting.spread import spread
from hoopwright.reporting.text import clipped

Rect = tuple[float, float, float, float]  # left, bottom, right, top in points

TAG_SIZE = 7.5
TAG_WIDTH = 98.0
TAG_LINES = 4
_NARROW = 60.0  # a margin with less room than this is widened
_NOTE = 13.0
_LETTER = 0.56  # em: wider than the mean letter of Helvetica, so that a line never runs over its tag
_PRINT = 4  # annotation flag 3, "Print"


@dataclass(frozen=True, slots=True)
class _Found:
    mark: ManualMark
    rects: tuple[Rect, ...]


def marked_pdf(path: Path, marks: list[ManualMark]) -> bytes | None:
    """The marked copy of the PDF at ``path``; None where its owner does not allow annotations. The file itself is only read."""
    import pikepdf

    with pikepdf.open(path) as pdf:
        if pdf.is_encrypted and not pdf.allow.modify_annotation:
            return None
        places = _places(path, marks, len(pdf.pages))
        for number, (found, text_left, text_right) in places.items():
            _mark_page(pdf, pdf.pages[number - 1], found, (text_left, text_right), number)
        stream = io.BytesIO()
        pdf.save(stream, deterministic_id=True)
    return stream.getvalue()


def _places(path: Path, marks: list[ManualMark], pages: int) -> dict[int, tuple[list[_Found], float, float]]:
    """For each page with marks: where their sentences stand, and where its text begins and ends from left to right."""
    import pypdfium2  # type: ignore[import-untyped]

    by_page: dict[int, list[ManualMark]] = {}
    for mark in marks:
        by_page.setdefault(min(max(mark.source.page, 1), pages), []).append(mark)
    result: dict[int, tuple[list[_Found], float, float]] = {}
    document = pypdfium2.PdfDocument(path)
    try:
        for number, chosen in sorted(by_page.items()):
            page = document[number - 1]
            text = page.get_textpage()
            letters = Letters(_characters(text))
            found = [_Found(mark, _rects(text, letters, mark.source.quote)) for mark in chosen]
            every = [text.get_rect(index) for index in range(text.count_rects())]
            edges = min((rect[0] for rect in every), default=40.0), max((rect[2] for rect in every), default=0.0)
            result[number] = (found, *edges)
            text.close()
            page.close()
    finally:
        document.close()
    return result


def _characters(text: Any) -> str:
    """The page's text, one character for each of PDFium's, so that its numbering holds."""
    from pypdfium2 import raw

    handle = text.raw
    codes = [raw.FPDFText_GetUnicode(handle, index) for index in range(text.count_chars())]
    return "".join([chr(code) if code < 0x110000 else " " for code in codes])


def _rects(text: Any, letters: Letters, quote: str) -> tuple[Rect, ...]:
    """The lines on which the quote stands; empty where the page does not hold it as text (a scan)."""
    span = letters.find(quote)
    if span is None:
        return ()
    count = text.count_rects(span[0], span[1] - span[0])
    return tuple(text.get_rect(index) for index in range(count))


def _mark_page(pdf: Any, page: Any, found: list[_Found], edges: tuple[float, float], number: int) -> None:
    import pikepdf

    annotations = page.obj.get("/Annots", pikepdf.Array())
    if not isinstance(annotations, pikepdf.Array):
        annotations = pikepdf.Array()
    rotated = int(page.obj.get("/Rotate", page.get("/Rotate", 0)) or 0) % 360 != 0
    left, bottom, right, top = (float(value) for value in page.cropbox)
    # On a page that is shown turned, a tag would stand on its side: there the words stand in the highlight's own note.
    tagged = [] if rotated else [item for item in found if item.mark.kind == "fitting"]
    if tagged and right - edges[1] < _NARROW:
        right = _widen(page, right + TAG_WIDTH)
    for index, item in enumerate(found):
        if item.mark.kind == "fitting" and item.rects:
            annotations.append(pdf.make_indirect(_highlight(pdf, item, f"hoopwright-{number}-{index}")))
    area = (left + 3, bottom + 3, right - 3, top - 3)
    for annotation in [*_tags(pdf, tagged, edges[1], area), *_notes(pdf, found, edges[0], area)]:
        annotations.append(pdf.make_indirect(annotation))
    page.obj["/Annots"] = annotations


def _widen(page: Any, right: float) -> float:
    """A strip of blank paper at the right, for tags that would else stand on the text."""
    import pikepdf

    for name in ("/MediaBox", "/CropBox", "/TrimBox", "/BleedBox", "/ArtBox"):
        box = page.obj.get(name) if name != "/MediaBox" else page.mediabox
        if box is not None:
            x0, y0, x1, y1 = (float(value) for value in box)
            page.obj[name] = pikepdf.Array([x0, y0, max(x1, right) if name in ("/MediaBox", "/CropBox") else x1, y1])
    return right


def _appearance(pdf: Any, rect: Rect, content: str, **resources: Any) -> Any:
    import pikepdf

    form = pdf.make_stream(content.encode("cp1252", "replace"))
    form["/Type"], form["/Subtype"] = pikepdf.Name.XObject, pikepdf.Name.Form
    form["/BBox"] = pikepdf.Array(list(rect))
    form["/Resources"] = pikepdf.Dictionary(**resources)
    return pikepdf.Dictionary(N=form)


def _annotation(pdf: Any, kind: str, rect: Rect, words: str, appearance: Any, **more: Any) -> Any:
    import pikepdf

    return pikepdf.Dictionary(
        Type=pikepdf.Name.Annot,
        Subtype=pikepdf.Name(f"/{kind}"),
        Rect=pikepdf.Array([round(value, 2) for value in rect]),
        Contents=pikepdf.String(words),
        T=pikepdf.String("hoopwright"),
        F=_PRINT,
        AP=appearance,
        **more,
    )


def _box(rects: tuple[Rect, ...]) -> Rect:
    return min(r[0] for r in rects), min(r[1] for r in rects), max(r[2] for r in rects), max(r[3] for r in rects)


def _highlight(pdf: Any, item: _Found, name: str) -> Any:
    import pikepdf

    box = _box(item.rects)
    quads: list[float] = []
    for left, bottom, right, top in item.rects:
        quads += [left, top, right, top, left, bottom, right, bottom]
    paint = " ".join(f"{left:.2f} {bottom:.2f} {right - left:.2f} {top - bottom:.2f} re" for left, bottom, right, top in item.rects)
    state = pikepdf.Dictionary(Multiply=pikepdf.Dictionary(BM=pikepdf.Name.Multiply))
    look = _appearance(pdf, box, f"/Multiply gs 1 0.9 0.45 rg {paint} f", ExtGState=state)
    more = {
        "QuadPoints": pikepdf.Array([round(value, 2) for value in quads]),
        "C": pikepdf.Array([1, 0.9, 0.45]),
        "NM": pikepdf.String(name),
    }
    return _annotation(pdf, "Highlight", box, item.mark.words, look, **more)


def _tag_lines(mark: ManualMark, room: float) -> list[str]:
    """The tag's words broken to the margin's width."""
    most = max(int(room / (TAG_SIZE * _LETTER)), 6)
    lines: list[str] = []
    for entry in mark.tag:
        rest = entry.encode("cp1252", "replace").decode("cp1252")
        while rest:
            cut = len(rest) if len(rest) <= most else (rest.rfind(" ", 0, most + 1) if " " in rest[: most + 1] else most)
            lines.append(rest[: max(cut, 1)].strip())
            rest = rest[max(cut, 1) :].strip()
    return lines if len(lines) <= TAG_LINES else [*lines[: TAG_LINES - 1], clipped(lines[TAG_LINES - 1], most - 1) + "..."]


def _tags(pdf: Any, found: list[_Found], text_right: float, area: Rect) -> list[Any]:
    """A free-text tag beside each sentence, moved apart where sentences are close; sentences that were not found come first, at the top."""
    left = max(text_right + 5, area[2] - TAG_WIDTH)
    room = area[2] - left - 6
    built = [(item, _tag_lines(item.mark, room)) for item in found]
    built.sort(key=lambda pair: -(_box(pair[0].rects)[3] if pair[0].rects else area[3]))
    sizes = [len(lines) * (TAG_SIZE + 1.5) + 8 for _, lines in built]
    wanted = [area[3] - (_box(item.rects)[3] if item.rects else area[3]) + size / 2 for (item, _), size in zip(built, sizes, strict=True)]
    height = area[3] - area[1]
    squeeze = min(height / sum(sizes), 1.0) if sizes else 1.0
    centres = spread(wanted, [size * squeeze for size in sizes], 0.0, height) or wanted
    return [
        _tag(pdf, item, lines, (left, area[3] - centre - size / 2 + 1.5, area[2], area[3] - centre + size / 2 - 1.5))
        for (item, lines), centre, size in zip(built, centres, sizes, strict=True)
    ]


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")


def _tag(pdf: Any, item: _Found, lines: list[str], rect: Rect) -> Any:
    import pikepdf

    left, bottom, right, top = rect
    frame = f"1 1 1 rg 0.1 0.12 0.11 RG 0.6 w {left + 0.5:.2f} {bottom + 0.5:.2f} {right - left - 1:.2f} {top - bottom - 1:.2f} re B"
    first = top - TAG_SIZE - 2
    shown_lines = " ".join(f"({_escaped(line)}) Tj 0 {-(TAG_SIZE + 1.5)} Td" for line in lines)
    content = f"{frame} BT /Helv {TAG_SIZE} Tf 0 g {left + 3:.2f} {first:.2f} Td {shown_lines} ET"
    font = pikepdf.Dictionary(
        Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name("/Helvetica-Bold"), Encoding=pikepdf.Name.WinAnsiEncoding
    )
    look = _appearance(pdf, rect, content, Font=pikepdf.Dictionary(Helv=font))
    return _annotation(pdf, "FreeText", rect, item.mark.words, look, DA=pikepdf.String(f"/Helv {TAG_SIZE} Tf 0 g"))


def _notes(pdf: Any, found: list[_Found], text_left: float, area: Rect) -> list[Any]:
    """Warnings and questions as notes in the left margin: a sign with "!" or "?", never a colour alone."""
    import pikepdf

    chosen = [item for item in found if item.mark.kind != "fitting"]
    chosen.sort(key=lambda item: -(_box(item.rects)[3] if item.rects else area[3]))
    wanted = [area[3] - (_box(item.rects)[3] if item.rects else area[3]) + _NOTE / 2 for item in chosen]
    height = area[3] - area[1]
    size = min(_NOTE + 2, height / max(len(chosen), 1))
    centres = spread(wanted, [size] * len(chosen), 0.0, height) or wanted
    notes: list[Any] = []
    for item, centre in zip(chosen, centres, strict=True):
        middle = area[3] - centre
        left = max(area[0], text_left - 1.6 * _NOTE)
        rect = (left, middle - _NOTE / 2, left + _NOTE, middle + _NOTE / 2)
        asks = item.mark.kind == "question"
        frame = f"1 1 1 rg 0.1 0.12 0.11 RG 1.1 w {left + 1:.2f} {rect[1] + 1:.2f} {_NOTE - 2:.2f} {_NOTE - 2:.2f} re B"
        sign = f"BT /Helv 9 Tf 0 g {left + (3.8 if asks else 5.0):.2f} {rect[1] + 3.3:.2f} Td ({'?' if asks else '!'}) Tj ET"
        font = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name("/Helvetica-Bold"))
        look = _appearance(pdf, rect, f"{frame} {sign}", Font=pikepdf.Dictionary(Helv=font))
        name = pikepdf.Name.Help if asks else pikepdf.Name.Comment
        notes.append(_annotation(pdf, "Text", rect, item.mark.words, look, Name=name))
    return notes
