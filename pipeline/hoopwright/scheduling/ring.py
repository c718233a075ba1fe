"""A fitting on a chain of tubes, and what its place tells of another one's."""

from __future__ import annotations

from dataclasses import dataclass

SAME_PLACE_MM = 0.5  # nearer than this, two places do not say which fitting is the outer one


@dataclass(frozen=True, slots=True)
class Ring:
    """A fitting on the chain. ``tubes``: the tube it sits on, or every tube it may sit on where that is not known.

    ``step`` is the index of the step that puts it on, ``slot`` how many changes of the same step come before it. ``places`` holds its
    place as (reference, mm to the right of it) pairs; two rings of a tube can be told apart by a reference that both have.
    ``slides`` is False for what is only in the way of others (a screw in the tube, a clip that opens). ``limits`` are places that are
    known from one side only: (reference, mm, +1 at least, -1 at most so far to the right of it).
    """

    id: str
    tubes: tuple[int, ...]
    step: int
    slot: int = 0
    places: tuple[tuple[str, float], ...] = ()
    slides: bool = True
    limits: tuple[tuple[str, float, int], ...] = ()


def right_of(a: Ring, b: Ring) -> bool | None:
    """Whether ring ``a`` sits to the right of ring ``b``; None if their places do not tell."""
    for reference, mm in a.places:
        for other, at in b.places:
            if other == reference:
                return None if abs(mm - at) < SAME_PLACE_MM else mm > at
    if (a.limits and _beyond(a, b)) or (b.limits and _beyond(b, a, -1)):
        return True
    return False if (a.limits and _beyond(a, b, -1)) or (b.limits and _beyond(b, a)) else None


def _beyond(a: Ring, b: Ring, towards: int = 1) -> bool:
    """Whether ``a``, of which only limits are known, surely sits to the right (``towards`` -1: left) of the place of ``b``."""
    return any(
        way == towards and other == reference and (mm - at) * towards >= SAME_PLACE_MM
        for reference, mm, way in a.limits
        for other, at in b.places
    )
