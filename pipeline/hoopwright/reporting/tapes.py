"""What a tape reads on a tube that lies on the ground: distances from the end over which the tape hooks."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from dataclasses import dataclass

from hoopwright.model.schedule import Placement, TubeInfo
from hoopwright.reporting.grouping import grouped, placements_of
from hoopwright.reporting.places import SAME_PLACE_MM, Places
from hoopwright.reporting.text import shown
from hoopwright.reporting.thread_order import Thread, threads_of


@dataclass(frozen=True, slots=True)
class Reading:
    """Fittings at ``tape_mm`` from the hook; None: the manual gives no distance on this tube."""

    tape_mm: float | None
    placements: tuple[Placement, ...]


@dataclass(frozen=True, slots=True)
class Tape:
    """A tube as it lies, left foot to the left.

    ``hook`` is the end that the tape hooks over, ``ends`` what is at its left and right end.
    """

    tube: str
    hoops: tuple[str, ...]
    length_mm: float | None
    hook: str  # "left" or "right"
    ends: tuple[str, str]
    readings: tuple[Reading, ...]
    threads: tuple[Thread, ...]


def _hooks_right(index: int, number: int) -> bool:
    """Tubes of the right half hook at their right end, the one nearer to the foot; the middle one at its left end."""
    return index > (number - 1) / 2


def _ends(index: int, names: Sequence[str]) -> tuple[str, str]:
    left = "left foot" if index == 0 else f"to the {names[index - 1]}"
    right = "right foot" if index == len(names) - 1 else f"to the {names[index + 1]}"
    return left, right


def _on_tube(item: Placement, index: int, tubes: Sequence[TubeInfo]) -> bool:
    """Whether the fitting sits on that tube. What sits exactly on a joint is told with the tube on its left."""
    tube = tubes[index]
    named = {other.name for other in tubes}
    if item.section in named:
        return item.section == tube.name
    if item.thread_end and any(item.thread_end.startswith(f"{name},") for name in named):
        return item.thread_end.startswith(f"{tube.name},")
    if item.along_mm is None or tube.start_mm is None or tube.end_mm is None:
        return False
    first = index == 0
    return (tube.start_mm - SAME_PLACE_MM if first else tube.start_mm + SAME_PLACE_MM) < item.along_mm <= tube.end_mm + SAME_PLACE_MM


def _tape_mm(item: Placement, index: int, tubes: Sequence[TubeInfo]) -> float | None:
    tube, right = tubes[index], _hooks_right(index, len(tubes))
    if item.along_mm is not None and tube.start_mm is not None and tube.end_mm is not None:
        return max(tube.end_mm - item.along_mm if right else item.along_mm - tube.start_mm, 0.0)
    outer = index in (0, len(tubes) - 1)
    # The foot is the hooked end of the outer tubes, so a distance from the foot is a reading even where the hoop's length is not known.
    if outer and item.datum == "foot" and item.offset_mm is not None and item.offset_mm >= 0:
        return item.offset_mm
    return None


def _readings(items: Sequence[Placement], index: int, tubes: Sequence[TubeInfo]) -> tuple[Reading, ...]:
    known: list[tuple[float, list[Placement]]] = []
    loose: list[Placement] = []
    pairs = [(_tape_mm(item, index, tubes), item) for item in items]
    for tape, item in sorted(pairs, key=lambda pair: (pair[0] is None, pair[0] or 0.0)):
        if tape is None:
            loose.append(item)
        elif known and tape - known[-1][0] <= SAME_PLACE_MM:
            known[-1][1].append(item)
        else:
            known.append((tape, [item]))
    readings = [Reading(tape, tuple(group)) for tape, group in known]
    return (*readings, *([Reading(None, tuple(loose))] if loose else []))


def tapes(places: Places) -> list[list[Tape]]:
    """For every tube, from the left foot on: a tape for each group of hoops on which that tube is dressed alike."""
    tubes = places.schedule.tubes
    by_hoop = placements_of(places.schedule)
    names = [tube.name for tube in tubes]
    found: list[list[Tape]] = []
    for index, tube in enumerate(tubes):
        chosen = {hoop: [item for item in items if _on_tube(item, index, tubes)] for hoop, items in by_hoop.items()}
        readings = {hoop: _readings(items, index, tubes) for hoop, items in chosen.items()}
        threads = {hoop: threads_of(items) for hoop, items in chosen.items()}
        groups = grouped(list(by_hoop), lambda hoop, readings=readings, threads=threads: _key(readings[hoop], threads[hoop]))  # type: ignore[misc]
        size = tube.end_mm - tube.start_mm if tube.start_mm is not None and tube.end_mm is not None else None
        hook = "right" if _hooks_right(index, len(tubes)) else "left"
        found.append([Tape(tube.name, group, size, hook, _ends(index, names), readings[group[0]], threads[group[0]]) for group in groups])
    return found


def _key(readings: tuple[Reading, ...], threads: tuple[Thread, ...]) -> Hashable:
    return (
        tuple((reading.tape_mm, frozenset(_same(item) for item in reading.placements), len(reading.placements)) for reading in readings),
        tuple((end, tuple((item.fitting, item.quantity) for item in items)) for end, items in threads),
    )


def _same(item: Placement) -> Hashable:
    return item.fitting, item.quantity, item.when, item.thread_order, item.loose, item.side


def hook_words(tape: Tape) -> str:
    """Which end the tape hooks over, in words."""
    end = tape.ends[0] if tape.hook == "left" else tape.ends[1]
    return end if end.endswith("foot") else f"{tape.hook} end ({shown(end)})"
