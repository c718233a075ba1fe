"""Steps that are set as a table: a column that counts up beside a column of sentences."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.outlining.labels import Label, follows, labels
from hoopwright.outlining.rawtable import Cell, RawTable, column_kind, head_word, printed
from hoopwright.outlining.rows import Sheet

_HEADS = frozenset({"step", "steps", "no", "#", "stage", "operation", ""})


@dataclass(frozen=True, slots=True)
class RowStep:
    """A row of such a table: the label, and the cells that say what to do, in their order."""

    label: Label
    cells: tuple[Cell, ...]


def row_steps(sheet: Sheet, table: RawTable) -> list[RowStep]:
    """The rows as steps; empty if the table is no list of steps.

    "Step | What to do" is one where the first column counts up and most rows say a sentence; "Row | Hoop | Fitting" is none.
    """
    head = [head_word(printed(sheet, cell)) for cell in table.head]
    if table.columns < 2 or (head and head[0] not in _HEADS) or not table.rows:
        return []
    found: list[RowStep] = []
    for row in table.rows:
        first = printed(sheet, row[0]) if row and row[0] else ""
        label = next((label for label in labels(first) if label.body >= len(first.rstrip("*_. "))), None)
        if label is None or (found and not follows(found[-1].label.path, label.path)):
            return []
        found.append(RowStep(label, tuple(cell for cell in row[1:] if cell)))
    sentences = sum(any(_is_sentence(printed(sheet, cell)) for cell in step.cells) for step in found)
    named = bool(head) and head[0].startswith("step")
    if named and has_fields(sheet, table):
        return found
    return found if len(found) > 1 and sentences >= (0.4 if named else 0.7) * len(found) else []


def has_fields(sheet: Sheet, table: RawTable) -> bool:
    """Whether such a table's further columns say which hoops, what and how many: "Step | Bows | Piece | Per bow | Where"."""
    kinds = [column_kind(printed(sheet, cell)) for cell in table.head[1:] if cell]
    return len(kinds) > 2 and {"place", "name"} <= set(kinds)


def _is_sentence(text: str) -> bool:
    words = text.split()
    return len(words) >= 4 and (text.rstrip().endswith((".", "!")) or len(words) >= 7)
