"""Pages to read, set with typst: each sheet is a typst source, and what is known of it because it was written so.

All texts are invented.
"""

from __future__ import annotations

from dataclasses import dataclass

import typst

HEAD = '#set text(size: 10pt, lang: "en", hyphenate: true)\n#set par(justify: true)\n'

STEPS = (
    "Lay the four tubes of the first hoop on flat ground and slide two ridge clamps, one crop bar clip and three film clips onto the left "
    "top tube.",
    "Turn the open side of every clamp upwards; the wing nut must point away from the film.",
    "Push the swaged end of the right top tube 75 mm into the left one until the pin shows in the hole, then drive the 6 mm self-drilling "
    "screw.",
    "Fix the base rail bracket 300 mm above the foot with an M8 × 65 bolt and a 1½ in washer, but do not tighten it yet.",
    "Stand the hoop up between the ground stakes. On each intermediate hoop set one brace clamp 1200 mm from the ridge on either side.",
    "Repeat steps 2 to 5 for hoops 3, 4 and 5. The end hoops take a door post clamp in place of the brace clamp.",
    "Thread the ridge tube through the loose clamps of all hoops, starting at hoop 1, and close the joint with a 38 mm sleeve.",
    "Check that no clip is trapped between two joints, then tighten all wing nuts by hand and a quarter turn more.",
)  # fmt: skip

PARTS = (
    ("RC-38", "Ridge clamp 38 mm", "10"),
    ("CB-2", "Crop bar clip, two-part", "12"),
    ("FC-7", "Film clip", "48"),
    ("BR-M8", "Base rail bracket with bolt M8 × 65", "14"),
    ("DP-1", "Door post clamp", "4"),
    ("SL-38", "Sleeve 38 mm", "5"),
)


@dataclass(frozen=True)
class Sheet:
    """A typst source with the number of tables that it shows, and the words of text that it must read in this order."""

    name: str
    source: str
    grids: int = 0
    rows: tuple[tuple[str, ...], ...] = ()  # of its first table


def pdf(source: str) -> bytes:
    """The PDF of a typst source."""
    result = typst.compile(source.encode())
    assert isinstance(result, bytes)
    return result


def prose(count: int, start: int = 0) -> str:
    """``count`` paragraphs of assembly text."""
    return "\n\n".join(STEPS[(start + i) % len(STEPS)] + " " + STEPS[(start + 3 * i + 1) % len(STEPS)] for i in range(count))


def _cells(rows: tuple[tuple[str, ...], ...]) -> str:
    return ", ".join(f"[{cell}]" for row in rows for cell in row)


HEADED = (("Code", "Part", "Qty"), *PARTS)


def _ruled(extra: str = "") -> str:
    return f"#table(columns: 3, {extra} {_cells(HEADED)})"


def _unruled(extra: str = "column-gutter: 12pt") -> str:
    return f"#table(columns: 3, stroke: none, align: (left, left, right), {extra}, {_cells(HEADED)})"


def _drawing() -> str:
    """A hoop with its measures: strokes and scattered labels."""
    labels = ((10, 20, "A"), (70, 8, "Ridge"), (120, 30, "38 mm"), (20, 70, "1200 mm"), (100, 75, "B"), (60, 95, "3.2 m"), (5, 100, "Foot"))
    strokes = "".join(f"#place(line(start: ({x}pt, 5pt), end: ({x + 20}pt, 105pt)))" for x in range(0, 130, 12))
    marks = "".join(f"#place(dx: {x}pt, dy: {y}pt)[#text(8pt)[{label}]]" for x, y, label in labels)
    return f"#block(width: 150pt, height: 110pt)[{strokes}#place(rect(width: 150pt, height: 110pt)){marks}]"


def _numbered(count: int) -> str:
    return "\n".join(f"+ {STEPS[i % len(STEPS)]}" for i in range(count))


SHEETS = (
    Sheet("one_column", HEAD + f"= Frame\n{prose(9)}"),
    Sheet("one_column_list", HEAD + f"= Frame\n{_numbered(8)}\n== Ends\n{_numbered(5)}"),
    Sheet("two_columns", HEAD + f"#set page(columns: 2)\n= Frame\n{prose(16)}"),
    Sheet("two_columns_ragged", HEAD + f"#set page(columns: 2)\n#set par(justify: false)\n= Frame\n{prose(15)}"),
    Sheet("two_columns_list", HEAD + f"#set page(columns: 2)\n= Frame\n{_numbered(26)}"),
    Sheet("two_columns_head_foot", HEAD + f"#set page(columns: 2, header: [Tunnel 6 m #h(1fr) Issue 4], "
          f"footer: [Page 3 of 9])\n{prose(17)}"),
    Sheet("two_columns_narrow_gutter", HEAD + f"#set page(columns: 2)\n#set columns(gutter: 9pt)\n{prose(18)}"),
    Sheet("three_columns", HEAD + f"#set page(columns: 3, flipped: true)\n= Frame\n{prose(14)}"),
    Sheet("ruled_table", HEAD + f"= Parts\n{prose(2)}\n\n{_ruled()}\n\n{prose(2, 3)}", 1, HEADED),
    Sheet("ruled_rows_only", HEAD + f"{prose(1)}\n\n{_ruled('stroke: (x: none, y: 0.5pt),')}\n\n{prose(1, 3)}", 1, HEADED),
    Sheet("ruled_in_columns", HEAD + f"#set page(columns: 2)\n{prose(5)}\n\n{_ruled()}\n\n{prose(9, 3)}", 1, HEADED),
    Sheet("unruled_table", HEAD + f"= Parts\n{prose(2)}\n\n{_unruled()}\n\n{prose(2, 3)}", 1, HEADED),
    Sheet("unruled_table_tight", HEAD + f"{_unruled('column-gutter: 0pt')}", 1, HEADED),
    Sheet("unruled_table_wide", HEAD + f"{prose(1)}\n\n{_unruled('column-gutter: 60pt')}", 1, HEADED),
    Sheet("unruled_in_columns", HEAD + f"#set page(columns: 2)\n{prose(5)}\n\n{_unruled()}\n\n{prose(9, 3)}", 1, HEADED),
    Sheet("unruled_wrapped", HEAD + "#table(columns: (50pt, 110pt, 30pt), stroke: none, " + _cells(HEADED) + ")", 1, HEADED),
    Sheet("title_page", HEAD + "#align(center)[#v(5cm) #text(28pt)[*Growing tunnel*]\n\n#text(18pt)[Six metres, five hoops]\n\n"
          "#v(3cm) Assembly manual\n\nIssue 4\n\n#v(6cm) Keep this manual. Read it before you dig.]"),
    Sheet("rotated_page", HEAD + f"#set page(flipped: true)\n#rotate(90deg, reflow: true)[#block(width: 16cm)[= Frame\n{prose(5)}]]"),
    Sheet("rotated_table", HEAD + f"{prose(2)}\n\n#rotate(-90deg, reflow: true)[#block(width: 12cm)[{_ruled()}]]", 1, HEADED),
    Sheet("sidebar_right", HEAD + f"#grid(columns: (1fr, 130pt), column-gutter: 16pt, [{prose(5)}], [#block(fill: luma(230), inset: 8pt)"
          f"[*Before you start* \\ {prose(2, 4)}]])"),
    Sheet("sidebar_left", HEAD + f"#grid(columns: (120pt, 1fr), column-gutter: 16pt, [{prose(2, 2)}], [{prose(5)}])"),
    Sheet("columns_change", HEAD + f"= Frame\n{prose(2)}\n#columns(2)[{prose(6, 1)}]\n= Ends\n{prose(1, 5)}\n#columns(3)[{prose(5, 2)}]"),
    Sheet("sections_in_columns", HEAD + f"== First\n#columns(2)[{prose(3)} #colbreak() {prose(3, 2)}]\n== Second\n#columns(2)[{prose(3, 4)}"
          f" #colbreak() {prose(3, 1)}]"),
    Sheet("step_grid", HEAD + "#grid(columns: (1fr, 1fr), gutter: 18pt, "
          + ", ".join(f"[*Step {i + 1}* \\ {STEPS[i]} {STEPS[(i + 2) % 8]}]" for i in range(8)) + ")"),
    Sheet("side_heads", HEAD + "#grid(columns: (60pt, 1fr), row-gutter: 10pt, "
          + ", ".join(f"[*Step {i + 1}*], [{STEPS[i]} {STEPS[(i + 1) % 8]}]" for i in range(8)) + ")"),
    Sheet("merged_cells", HEAD + "#table(columns: 3, table.cell(colspan: 2)[Frame], [Qty], table.cell(rowspan: 2)[Hoop], [Top tube], [10],"
          " [Foot tube], [10], table.cell(colspan: 2)[All tubes], [20])", 1,
          (("Frame", "", "Qty"), ("Hoop", "Top tube", "10"), ("", "Foot tube", "10"), ("All tubes", "", "20"))),
    Sheet("table_as_layout", HEAD + "#table(columns: (40pt, 1fr, 1fr), "
          + ", ".join(f"[{i + 1}], [{STEPS[i]}], [{STEPS[(i + 3) % 8]}]" for i in range(6)) + ")", 1),
    Sheet("callouts", HEAD + f"{prose(2)}\n#block(stroke: 1pt, inset: 8pt)[*Warning* Wear gloves: cut ends are sharp.]\n{prose(2, 3)}"),
    Sheet("table_over_pages", HEAD + f"#set page(height: 9cm)\n{prose(1)}\n\n#table(columns: 3, {_cells(HEADED + PARTS + PARTS)})", 2),
    Sheet("two_columns_short_steps", HEAD + "#set page(columns: 2, height: 11cm)\n#set par(justify: false)\n"
          + "\n".join(f"+ Fix clip {i} to hoop {i % 5 + 1}." for i in range(1, 31))),
    Sheet("tool_columns", HEAD + "#columns(3)[" + "\n".join(f"- {t}" for t in ("Spirit level", "Tape, 8 m", "Hammer", "Drill",
          "Hex key 6 mm", "Step ladder", "Gloves", "String line", "Chalk", "Knife", "Spanner 13 mm", "Goggles")) + "]"),
    Sheet("bullets", HEAD + "#set list(marker: ([•], [‣], [–]))\n"
          + "- Two ridge clamps\n  - one for the left\n    - with nut\n- Film clips\n" * 4),
    Sheet("drawing_beside", HEAD + f"#grid(columns: (1fr, 150pt), column-gutter: 14pt, [{_numbered(8)}], [{_drawing()}])"),
    Sheet("drawing_below", HEAD + f"{prose(2)}\n{_drawing()}\n{prose(2, 4)}"),
    Sheet("drawing_between_columns", HEAD + f"#set page(columns: 2)\n{prose(4)}\n{_drawing()}\n{prose(10, 2)}"),
    Sheet("step_pictures", HEAD + "#grid(columns: (1fr, 1fr), gutter: 14pt, "
          + ", ".join(f"[*{i + 1}* #h(4pt) {STEPS[i]} {_drawing()}]" for i in range(6)) + ")"),
    Sheet("two_tables_side_by_side", HEAD + f"#grid(columns: (1fr, 1fr), gutter: 20pt, [{_ruled()}], [{_ruled()}])", 2, HEADED),
    Sheet("definitions", HEAD + "#table(columns: 2, stroke: none, column-gutter: 30pt, [Tube diameter], [38 mm], [Hoop spacing], [1.5 m],"
          " [Length], [6 m], [Width], [3.2 m])", 1,
          (("Tube diameter", "38 mm"), ("Hoop spacing", "1.5 m"), ("Length", "6 m"), ("Width", "3.2 m"))),
    Sheet("booktabs", HEAD + f"{prose(1)}\n#table(columns: 3, stroke: none, column-gutter: 10pt, table.hline(), {_cells(HEADED[:1])},"
          f" table.hline(), {_cells(HEADED[1:])}, table.hline())\n{prose(1, 2)}", 1, HEADED),
    Sheet("matrix", HEAD + "#table(columns: 6, stroke: none, [Fitting], [Hoop 1], [Hoop 2], [Hoop 3], [Hoop 4], [Hoop 5], "
          "[Ridge clamp], [2], [2], [2], [2], [2], [Brace clamp], [], [2], [2], [2], [], [Door post clamp], [2], [], [], [], [2])", 1,
          (("Fitting", "Hoop 1", "Hoop 2", "Hoop 3", "Hoop 4", "Hoop 5"), ("Ridge clamp", "2", "2", "2", "2", "2"),
           ("Brace clamp", "", "2", "2", "2", ""), ("Door post clamp", "2", "", "", "", "2"))),
    Sheet("size_change", HEAD + f"#text(7pt)[{prose(3)}]\n\n#text(16pt)[{prose(2)}]\n\n{prose(2)}"),
)  # fmt: skip
