"""A table of plain values on its way to CSV or to a workbook."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

Value = str | int | float | None  # None where something is not known


@dataclass(frozen=True, slots=True)
class Table:
    """Rows of as many values as there are columns. A column with a float in it holds no int."""

    columns: tuple[str, ...]
    rows: list[list[Value]]

    def column(self, name: str) -> list[Value]:
        """The values below a head, from the top. Raises ValueError where there is none of that name."""
        index = self.columns.index(name)
        return [row[index] for row in self.rows]


def table_of(rows: Sequence[Mapping[str, Value]], columns: Sequence[str]) -> Table:
    """The rows' values in the order of ``columns``; what a row does not have is None."""
    floats = {name for name in columns if any(isinstance(row.get(name), float) for row in rows)}

    def value(row: Mapping[str, Value], name: str) -> Value:
        found = row.get(name)
        return float(found) if name in floats and isinstance(found, int) else found

    return Table(tuple(columns), [[value(row, name) for name in columns] for row in rows])
