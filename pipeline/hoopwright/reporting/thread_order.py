"""What is threaded on before a hoop is closed: hoops that are alike, open end by open end, in the order in which it goes on."""

from __future__ import annotations

from collections.abc import Hashable, Sequence

from hoopwright.model.schedule import Placement, Schedule
from hoopwright.reporting.grouping import grouped, hoop_ids, placements_of

NO_END = "end not known"

Thread = tuple[str, tuple[Placement, ...]]


def end_of(placement: Placement) -> str:
    """The open end that it goes on from, in words; the tube where the end is not known."""
    return placement.thread_end or (f"{placement.section}, {NO_END}" if placement.section else NO_END)


def threads_of(placements: Sequence[Placement], tubes: Sequence[str] = ()) -> tuple[Thread, ...]:
    """The before-joining placements of one hoop, end by end, first on first. What has no order comes last at its end.

    ``tubes`` names the tubes from the left foot to the right foot, in which order the ends come.
    """
    ends: dict[str, list[Placement]] = {}
    for placement in placements:
        if placement.when == "before-joining":
            ends.setdefault(end_of(placement), []).append(placement)

    def order(placement: Placement) -> tuple[bool, int]:
        return placement.thread_order is None, placement.thread_order or 0

    def place(end: str) -> tuple[int, bool, float]:
        tube = next((index for index, name in enumerate(tubes) if any(item.section == name for item in ends[end])), len(tubes))
        known = [placement.along_mm for placement in ends[end] if placement.along_mm is not None]
        return tube, not known, min(known, default=0.0)

    # From the left foot to the right foot, as the tubes lie on the ground.
    return tuple((end, tuple(sorted(ends[end], key=order))) for end in sorted(ends, key=place))


def threads(schedule: Schedule) -> list[tuple[tuple[str, ...], tuple[Thread, ...]]]:
    """Groups of hoops that are threaded alike, each with its ends; hoops with nothing to thread are left out."""
    tubes = [tube.name for tube in schedule.tubes]
    found = {hoop: threads_of(placements, tubes) for hoop, placements in placements_of(schedule).items()}

    def key(hoop: str) -> Hashable:
        return tuple((end, tuple((item.fitting, item.quantity, item.thread_order) for item in items)) for end, items in found[hoop])

    groups = grouped([hoop for hoop in hoop_ids(schedule) if found[hoop]], key)
    return [(group, found[group[0]]) for group in groups]
