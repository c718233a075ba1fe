"""How a small manual and what each hoop takes are written down in the tables of test_frames.py."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class KitCase:
    """The steps of a small manual, and hoop by hoop the numbers of each fitting: "2 0 0 2". ``asks`` are what its questions are about.

    ``wrong`` says what is misread today; such a case must fail.
    """

    steps: Sequence[str]
    counts: Mapping[str, str]
    elsewhere: Mapping[str, Mapping[str, int]] = field(default_factory=dict)
    asks: tuple[str, ...] = ()
    hoops: int = 6
    quantities: Mapping[str, int] = field(default_factory=dict)
    after: str = ""
    listed: str = ""  # a parts list of the manual's own
    wrong: str = ""


def kit(
    steps: Sequence[str],
    counts: Mapping[str, str],
    *,
    elsewhere: Mapping[str, Mapping[str, int]] | None = None,
    asks: tuple[str, ...] = (),
    hoops: int = 6,
    quantities: Mapping[str, int] | None = None,
    after: str = "",
    listed: str = "",
    wrong: str = "",
) -> KitCase:
    """A row of a table."""
    return KitCase(steps, counts, elsewhere or {}, asks, hoops, quantities or {}, after, listed, wrong)
