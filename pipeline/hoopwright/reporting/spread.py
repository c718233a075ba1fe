"""Labels moved apart: as little as possible, and never over one another."""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float] | None:
    """Centres for labels of ``sizes`` that would like to be at ``wanted`` (ascending).

    They lie inside ``low`` … ``high``, in that order, none overlapping.

    The sum of squared moves is the least possible (pooling of adjacent violators). None where they cannot all fit.
    """
    if sum(sizes) > high - low + 1e-9:
        return None
    # In coordinates less the room of the labels before, "not overlapping" becomes "not descending".
    before = [0.0]
    for size in sizes:
        before.append(before[-1] + size)
    ideal = [want - size / 2 - start for want, size, start in zip(wanted, sizes, before, strict=False)]
    blocks: list[tuple[float, int]] = []
    for value in ideal:
        total, count = value, 1
        while blocks and blocks[-1][0] / blocks[-1][1] >= total / count:
            total, count = total + blocks[-1][0], count + blocks[-1][1]
            blocks.pop()
        blocks.append((total, count))
    top = high - before[-1]
    starts = [min(max(total / count, low), top) for total, count in blocks for _ in range(count)]
    return [start + offset + size / 2 for start, offset, size in zip(starts, before, sizes, strict=False)]
