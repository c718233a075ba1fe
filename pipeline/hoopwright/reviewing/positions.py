"""An answered place as fields of a call: datum, offset, side, tube, and the distance along the hoop where its curve is known."""

from __future__ import annotations

from itertools import pairwise

from hoopwright.model.frame import Call, Frame
from hoopwright.model.schedule import HoopCurve, Side
from hoopwright.reviewing.words import PlaceWords

_SIGN: dict[str | None, int] = {"left": -1, "right": 1}


def side_of(call: Call, words: PlaceWords) -> Side | None:
    """The side: the answer's, else the call's own."""
    return words.side if words.side is not None else call.side


def along_of(frame: Frame, call: Call, words: PlaceWords) -> float | None:
    """Distance along the hoop from the left foot in mm, None where the frame's facts do not give it.

    A height is looked up on the hoop's curve; from a joint, the one that bounds the call's tube on the side that is meant.
    """
    curve, offset, side = frame.curve, words.offset_mm, side_of(call, words)
    if offset is None or call.hoop is None:
        return None
    whole = curve.length_mm if curve is not None and curve.stated else None
    if words.datum in ("foot", "end"):
        return offset if side == "left" else whole - offset if side == "right" and whole is not None else None
    if words.datum == "ground":
        return _at_height(curve, offset, side) if curve is not None and curve.stated else None
    if words.datum == "ridge" and whole is not None:
        if not offset:
            return whole / 2
        sign = _SIGN.get(side, 0)
        return whole / 2 + sign * offset if sign else None
    if words.datum == "joint":
        return _from_joint(frame, call, words, side)
    return None


def _at_height(curve: HoopCurve, height: float, side: Side | None) -> float | None:
    """Along the curve to a height above ground, on the left or the right half."""
    if side not in ("left", "right"):
        return None
    points = curve.points if side == "left" else tuple(reversed(curve.points))
    for (_, low, start), (_, high, end) in pairwise(points):
        if low <= height <= high:
            share = 0.0 if high == low else (height - low) / (high - low)
            return start + share * (end - start)
        if high < low:
            return None  # over the ridge
    return None


def _from_joint(frame: Frame, call: Call, words: PlaceWords, side: Side | None) -> float | None:
    joints = [tube.end_mm for tube in frame.tubes[:-1]]
    if not joints:
        return None
    index = 0 if len(joints) == 1 or side == "left" else len(joints) - 1 if side == "right" else None
    at = None if index is None else joints[index]
    if at is None:
        return None
    if not words.offset_mm:
        return at
    uphill = {"left": 1, "right": -1}.get(side or "", 0)
    if len(joints) == 1:
        sign = _SIGN.get(side, 0)  # the one joint is the ridge: away from it on that side
    elif words.way is not None:
        sign = uphill if words.way == "up" else -uphill
    else:
        return None
    return at + sign * words.offset_mm if sign else None


def tube_of(frame: Frame, call: Call, along_mm: float | None, side: Side | None) -> int | None:
    """The tube at that distance; where it is unknown, the call's own as long as it lies on that side."""
    if call.hoop is None:
        return call.tube
    if along_mm is not None:
        for index, tube in enumerate(frame.tubes):
            if tube.start_mm is not None and tube.end_mm is not None and tube.start_mm <= along_mm <= tube.end_mm:
                return index
        return None
    if call.tube is not None and 0 <= call.tube < len(frame.tubes) and side in (None, frame.tubes[call.tube].side):
        return call.tube
    matching = [index for index, tube in enumerate(frame.tubes) if tube.side == side]
    return matching[0] if len(matching) == 1 else None
