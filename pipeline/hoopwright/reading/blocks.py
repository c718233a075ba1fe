"""What a page is made of when it is put in order: printed lines and tables."""

from __future__ import annotations

from dataclasses import dataclass, field

from hoopwright.reading.fragments import Fragment


@dataclass(slots=True)
class TableRow:
    """A row of a table: its cells' texts, and its printed lines as fragments side by side."""

    cells: list[str]
    lines: list[list[Fragment]] = field(default_factory=list)


@dataclass(slots=True, eq=False)
class TableBlock:
    """A table with its place on the page and in the drawing order."""

    rows: list[TableRow]
    x0: float
    top: float
    x1: float
    bottom: float
    order: int

    @property
    def middle(self) -> float:
        return (self.top + self.bottom) / 2

    @property
    def width(self) -> float:
        return self.x1 - self.x0


Item = Fragment | TableBlock
Block = list[Fragment] | TableBlock  # a printed line, or a table
