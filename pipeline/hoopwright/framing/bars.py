"""The bars that the hoops carry: which hoops each one meets, and which fittings hold it there."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from hoopwright.model.events import BarPut
from hoopwright.model.frame import Bar, Call, Part

# Words of names that do not tell which bar a fitting is for: a "rail clip" need not be for the hand rail.
_TELLS_NOTHING = frozenset({"bar", "tube", "pole", "pipe", "clip", "clamp", "length", "of", "the", "rail", "side", "end"})


def carried(
    puts: Iterable[BarPut], calls: Sequence[Call], parts: Mapping[str, Part], listed: Iterable[str]
) -> tuple[tuple[Bar, ...], tuple[Call, ...]]:
    """The bars with the hoops that they meet, and the calls with the bar that each carries, where the manual tells.

    A fitting carries a bar if their names have a telling word in common, else if the sentence that puts the bar up names it. A single
    word that no parts list names (``listed``) may be anything ("stretch a line along the foot collars"), and a fitting's name has to
    speak of it.
    """
    named: dict[str, BarPut] = {}
    told: dict[str, set[str]] = {}
    for put in puts:
        named.setdefault(put.name, put)
        told.setdefault(put.name, set()).update(put.parts)
    known = {bar for bar in named if (named[bar].put and len(bar.split()) > 1) or any(bar in (name, name.split()[-1]) for name in listed)}
    mine: dict[str, set[str]] = {bar: set() for bar in named}  # the parts that carry it
    for part in dict.fromkeys(call.part for call in calls if call.hoop is not None and _holds(parts.get(call.part))):
        by_name = [bar for bar in named if in_common(bar, part)]
        for bar in by_name or [bar for bar in known if part in told[bar]]:
            mine[bar].add(part)
    bars = tuple(
        Bar(name, tuple(sorted({c.hoop for c in calls if c.hoop is not None and c.part in mine[name]})), put.step, _size(name, parts))
        for name, put in named.items()
        if name in known or mine[name]
    )
    only = {part: [bar for bar in mine if part in mine[bar]] for names in mine.values() for part in names}
    return bars, tuple(_carrying(call, only.get(call.part, [])) for call in calls)


def _size(bar: str, parts: Mapping[str, Part]) -> float | None:
    """The size that the parts list prints for a bar ("Ridge purlin length, 38 mm")."""
    mine = (part for part in parts.values() if not part.is_fitting and f" {part.name} ".find(f" {bar} ") >= 0)
    return next((part.size_mm for part in mine if part.size_mm is not None), None)


def _carrying(call: Call, bars: list[str]) -> Call:
    return replace(call, carries=bars[0]) if call.hoop is not None and len(bars) == 1 and call.carries is None else call


def _holds(part: Part | None) -> bool:
    """Whether such a part can hold a bar to a hoop; bolts, sleeves, pads and caps only help."""
    return part is not None and part.form in ("closed", "open")


def in_common(bar: str, fitting: str) -> bool:
    """Whether a fitting's name speaks of a bar: "purlin clip" of the side purlin, but not "rail clip" of the hand rail."""
    words = frozenset(re.findall(r"[a-z]+", bar.lower()))
    others = frozenset(re.findall(r"[a-z]+", fitting.lower()))
    own = words - _TELLS_NOTHING
    return bool(own & others) or (not own and bar.split()[-1] in others)
