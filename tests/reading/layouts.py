"""Manuals printed in several layouts with typst, and as a scan: the same words on other pages."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pypdfium2
from PIL import Image, ImageFilter

from reading.manual_blocks import Block, Run, blocks_of
from reading.sheets import pdf

DPI = 200
_WIDE = 24  # characters of a column that make a table too wide for its place, where there are two columns


@dataclass(frozen=True)
class Layout:
    """How pages look: ``page`` is typst set-up, ``columns`` of text, and whether parts tables have rules."""

    name: str
    page: str
    ruled: bool = True
    columns: int = 1


_HEAD = "header: context if counter(page).get().first() > 1 [#text(8pt)[Frame instructions #h(1fr) Issue 3]]"
_FOOT = "footer: context [#text(8pt)[#h(1fr) Page #counter(page).display() of #counter(page).final().first()]]"
COLUMN = Layout("column", '#set page(paper: "a4", margin: 22mm)\n#set text(size: 11pt, lang: "en")')
COLUMNS = Layout(
    "columns",
    f'#set page(paper: "a4", margin: 16mm, columns: 2, {_HEAD}, {_FOOT})\n'
    '#set text(size: 9.5pt, lang: "en", hyphenate: true)\n#set par(justify: true)',
    columns=2,
)  # fmt: skip
UNRULED = Layout(
    "unruled",
    f'#set page(paper: "us-letter", margin: 25mm, {_FOOT})\n#set text(size: 10.5pt, lang: "en", hyphenate: false)\n'
    '#set text(font: "New Computer Modern")\n'
    "#set par(justify: true)",
    ruled=False,
)  # fmt: skip
COLUMNS_UNRULED = Layout(
    "columns-unruled",
    f'#set page(paper: "us-letter", margin: 15mm, columns: 2, {_HEAD})\n'
    '#set text(size: 9pt, lang: "en", hyphenate: true, font: "New Computer Modern")\n#set par(justify: true)\n#set columns(gutter: 14pt)',
    ruled=False,
    columns=2,
)  # fmt: skip
BOOKLET = Layout(
    "booklet",
    f'#set page(width: 148mm, height: 140mm, margin: (x: 12mm, y: 14mm), {_HEAD}, {_FOOT})\n'
    '#set text(size: 9.5pt, lang: "en", hyphenate: true)\n#set par(justify: true)\n#set text(costs: (orphan: 0%, widow: 0%))',
)  # fmt: skip
PRINTED = (COLUMN, COLUMNS, UNRULED, COLUMNS_UNRULED, BOOKLET)


def print_manual(blocks: Iterable[Block], layout: Layout) -> bytes:
    """The PDF of a manual in a layout."""
    set_up = f"{layout.page}\n#set smartquote(enabled: false)\n#show table: set par(justify: false)\n"
    return pdf(set_up + "\n\n".join(_set(block, layout) for block in blocks))


def _set(block: Block, layout: Layout) -> str:
    words = _words(block.runs)
    if block.kind == "heading":
        return f"#heading(level: {block.level})[{words}]"
    if block.kind == "table":
        return _table(block, layout)
    if block.kind == "boxed":
        return "#block(stroke: 0.7pt, inset: 6pt, width: 100%)[" + "\n\n".join(_set(inner, layout) for inner in block.body) + "]"
    if block.kind == "kept":
        return f'#text(font: "DejaVu Sans Mono", size: 0.75em)[{words}]'
    inset = 14 * block.level
    if block.kind == "item":
        wide = "1.2em" if block.label == "•" else f"{max(1.6, 0.62 * len(block.label)):.2f}em"
        return f"#block(inset: (left: {inset}pt))[#grid(columns: ({wide}, 1fr), column-gutter: 4pt, [{_string(block.label)}], [{words}])]"
    return f"#block(inset: (left: {inset}pt))[{words}]"


def _words(runs: Iterable[Run]) -> str:
    out = []
    for text, bold in runs:
        for place, piece in enumerate(text.split("\n")):
            if place:
                out.append("#linebreak()")
            if piece:
                out.append(f"#strong[{_string(piece)}]" if bold else _string(piece))
    return "".join(out)


def _string(text: str) -> str:
    """Text that typst sets as it stands, whatever its characters are."""
    if not text.strip():
        return " "
    quoted = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'#"{quoted}"#""'


def _table(block: Block, layout: Layout) -> str:
    count = max(map(len, block.rows))
    align = ", ".join("right" if column in block.right else "left" for column in range(count))
    longest = [max((len(row[column]) for row in block.rows if column < len(row)), default=0) for column in range(count)]
    shared = layout.columns == 2 and max(longest) > _WIDE  # by the longer cells, or one column would be left without any width
    widths = [f"{n}fr" if shared and n > _WIDE / 2 else "auto" for n in longest]
    stroke = "0.5pt" if layout.ruled else "none"
    gutter = "" if layout.ruled else "column-gutter: 8pt, "
    cells: list[str] = []
    for number, row in enumerate(block.rows):
        for column in range(count):
            text = _string(row[column]) if column < len(row) and row[column] else ""
            cells.append(f"[#strong[{text}]]" if number == 0 and block.head and text else f"[{text}]")
    if block.head:
        cells = [f"table.header({', '.join(cells[:count])})", *cells[count:]]
    return (
        f"#table(columns: ({', '.join(widths)}), align: ({align},), stroke: {stroke}, inset: (x: 4pt, y: 3pt), {gutter}{', '.join(cells)})"
    )


def printed(path: Path, layout: Layout) -> bytes:
    """A manual's file, printed."""
    return print_manual(blocks_of(path), layout)


def scanned(
    printed_pdf: bytes, seed: int = 1, pages: int | None = None, change: Callable[[Image.Image], Image.Image] | None = None
) -> bytes:
    """The pages as an office scanner gives them at 200 dpi: aslant, with grain and light that falls off to one side."""
    images = []
    random = np.random.default_rng(seed)
    with pypdfium2.PdfDocument(printed_pdf) as document:
        for number in range(len(document) if pages is None else min(pages, len(document))):
            image = document[number].render(scale=DPI / 72, grayscale=True).to_pil().convert("L")
            images.append(change(image) if change else aged(image, random))
    buffer = io.BytesIO()
    images[0].save(buffer, "PDF", resolution=DPI, save_all=True, append_images=images[1:], quality=80)
    return buffer.getvalue()


def aged(image: Image.Image, random: np.random.Generator) -> Image.Image:
    """The page turned by up to 1.2 degrees, a little soft, grainy, and darker to one side."""
    turned = image.rotate(float(random.uniform(-1.2, 1.2)), expand=False, fillcolor=255, resample=Image.Resampling.BICUBIC)
    levels = np.asarray(turned.filter(ImageFilter.GaussianBlur(0.5)), dtype=np.float64)
    across = np.linspace(1.0, float(random.uniform(0.75, 0.9)), levels.shape[1])[None, :]
    down = np.linspace(float(random.uniform(0.9, 1.0)), 1.0, levels.shape[0])[:, None]
    grain = random.normal(0, 7, levels.shape)
    return Image.fromarray((levels * across * down + grain).clip(0, 255).astype(np.uint8))
