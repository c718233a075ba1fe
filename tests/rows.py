"""Lines that tests leave for the end of the run."""

from __future__ import annotations

from collections.abc import Callable


class Rows:
    """Lines that are printed at the end of the run. They travel with the test's report, from whichever process it ran in."""

    def __init__(self, record: Callable[[str, object], None]) -> None:
        self._record = record

    def append(self, row: str) -> None:
        self._record("row", row)
