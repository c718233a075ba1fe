"""Short marks for fittings: the code that the manual prints, or initials where it has none. No two fittings share one."""

from __future__ import annotations

from hoopwright.model.schedule import Schedule
from hoopwright.reporting.glyphs import printable
from hoopwright.reporting.text import clipped

LONGEST_MARK = 6


def _initials(name: str) -> str:
    letters = [word[0] for word in printable(name).split() if word[0].isalnum()]
    return "".join(letters[:3]).upper() or "?"


def fittings_of(schedule: Schedule) -> tuple[str, ...]:
    """Every fitting that sits somewhere, in the order of the parts list, then of the placements."""
    used = dict.fromkeys(placement.fitting for placement in schedule.placements)
    listed = [part.fitting for part in schedule.parts if part.fitting in used]
    return tuple(dict.fromkeys([*listed, *used]))


def codes_of(schedule: Schedule) -> dict[str, str | None]:
    """The printed code of every fitting, None where the manual has none."""
    codes = {part.fitting: part.code for part in schedule.parts}
    for placement in schedule.placements:
        if not codes.get(placement.fitting):
            codes[placement.fitting] = placement.code
    return codes


def marks_of(schedule: Schedule) -> dict[str, str]:
    """A mark of at most ``LONGEST_MARK`` characters (and a number where two would be the same) for each fitting."""
    codes = codes_of(schedule)
    marks: dict[str, str] = {}
    taken: set[str] = set()
    names = fittings_of(schedule)
    # Printed codes first: they are what stands on the bags, so initials have to give way to them.
    for name in sorted(names, key=lambda name: not codes.get(name)):
        code = printable(codes.get(name) or "").strip()
        mark = base = clipped(code, LONGEST_MARK) if code else _initials(name)
        number = 2
        while mark in taken:
            mark, number = f"{base}{number}", number + 1
        taken.add(mark)
        marks[name] = mark
    return {name: marks[name] for name in names}
