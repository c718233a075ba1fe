"""A tube drawn straight, with what the tape reads at every fitting."""

from __future__ import annotations

from dataclasses import dataclass

from hoopwright.model.schedule import When
from hoopwright.reporting.canvas import Disc, Drawing, Item, Mark, Shape, Stroke, Words
from hoopwright.reporting.glyphs import fitted, mono_width, printable
from hoopwright.reporting.grouping import hoop_range
from hoopwright.reporting.labels import LINE, Label, label_for, tape_hook
from hoopwright.reporting.lengths import length
from hoopwright.reporting.places import TIMES, Place, Places, counted
from hoopwright.reporting.spread import spread
from hoopwright.reporting.tapes import Reading, Tape

END_ROOM = 7.0
READ_SIZE = 4.4
LABEL_ROOM = 40.0
_HALF = 1.5  # half of the tube's width on paper
_LEADER = 5.5


@dataclass(frozen=True, slots=True)
class _Flag:
    """A label of the tape: what it reads, and the marks under it."""

    reading: Reading
    words: str
    pieces: Label | None
    width: float
    height: float
    turned: bool = False


def draw_tape(tape: Tape, places: Places, width: float = 180.0) -> Drawing:
    """The tube over the whole ``width`` (mm), true to scale where its length is known.

    Labels stand above it, and below where they are many.
    """
    known = [reading for reading in tape.readings if reading.tape_mm is not None]
    total, cut = _drawn_length(tape, known)
    flags = [_flag(reading, places) for reading in known]
    above, below = _rows(flags, width)
    top = max((flag.height for flag in above), default=0.0) + 1.0
    tube = top + (_LEADER if above else 4.0) + _HALF
    low = tube + _HALF + _LEADER
    items: list[Item] = [*_tube(tape, tube, width, cut)]
    for row, edge, direction in ((above, top, -1), (below, low, 1)):
        items += _marks(row, tape, places, total, width, tube, edge, direction)
    bottom = low + max((flag.height for flag in below), default=0.0) if below else tube + _HALF
    items += _end_words(tape, bottom + 5.0, width)
    return Drawing(width, bottom + 6.5, _title(tape), _description(tape, places), tuple(items))


def _title(tape: Tape) -> str:
    return f"{tape.tube}, {hoop_range(tape.hoops)}, lying flat"


def reading_words(reading: Reading, places: Places) -> str:
    """A reading in words: ``900 mm: 1 rail clamp, 2 washer``."""
    where = length(reading.tape_mm, places.units) if reading.tape_mm is not None else "no distance given"
    return f"{where}: {counted(reading.placements)}"


def _description(tape: Tape, places: Places) -> str:
    words = "; ".join(reading_words(reading, places) for reading in tape.readings)
    return f"The tube lies with its left end to the left; the tape hooks over the {tape.hook} end. {words or 'No fitting sits on it'}."


def _drawn_length(tape: Tape, known: list[Reading]) -> tuple[float, bool]:
    """The length that the drawing covers in mm, and whether the far end is cut off because the tube's length is not known."""
    if tape.length_mm:
        return tape.length_mm, False
    far = max((reading.tape_mm or 0.0 for reading in known), default=0.0)
    return (far * 1.25 or 1000.0), True


def _flag(reading: Reading, places: Places) -> _Flag:
    place = Place("", tuple(sorted(reading.placements, key=lambda item: TIMES.index(item.when))), reading.tape_mm, None, "")
    pieces: list[tuple[str, When]] = places.pieces(place)
    label = label_for(place, pieces, LABEL_ROOM)
    words = length(reading.tape_mm, places.units)
    width = max(mono_width(words, READ_SIZE), label.marks_width)
    return _Flag(reading, words, label, width + 5.0, READ_SIZE + 2.0 + LINE * len(label.lines))


def _rows(flags: list[_Flag], width: float) -> tuple[list[_Flag], list[_Flag]]:
    """All above where they fit, else by turns above and below; where even that is too much, the distances alone, at last turned.

    The marks stand in the list under the drawing as well, so that nothing is lost.
    """
    for chosen in (flags, [_bare(flag) for flag in flags], [_turned(flag, width, len(flags)) for flag in flags]):
        for above, below in ((chosen, []), (chosen[::2], chosen[1::2])):
            if all(sum(flag.width for flag in row) <= width for row in (above, below)):
                return above, below
    return chosen[::2], chosen[1::2]


def _bare(flag: _Flag) -> _Flag:
    return _Flag(flag.reading, flag.words, None, mono_width(flag.words, READ_SIZE) + 5.0, READ_SIZE + 2.0)


def _turned(flag: _Flag, width: float, number: int) -> _Flag:
    """A distance read from below, in a size at which two rows of them fit whatever their number."""
    size = min(READ_SIZE * 0.8, 2 * width / number - 0.4)
    return _Flag(flag.reading, flag.words, None, size + 0.4, mono_width(flag.words, size) + 1.0, turned=True)


def _x(tape: Tape, mm: float, total: float, width: float) -> float:
    span = width - 2 * END_ROOM
    share = min(mm / total, 1.0)
    return END_ROOM + span * (share if tape.hook == "left" else 1 - share)


def _tube(tape: Tape, y: float, width: float, cut: bool) -> list[Shape]:
    left, right = END_ROOM, width - END_ROOM
    shapes: list[Shape] = [
        Stroke(((left, y), (right, y)), 2 * _HALF, "ink"),
        Stroke(((left + 0.4, y), (right - 0.4, y)), 2 * _HALF - 0.8, "pale"),
        *tape_hook(left if tape.hook == "left" else right, y, 1 if tape.hook == "left" else -1),
    ]
    if cut:
        at = right - 12 if tape.hook == "left" else left + 12
        for shift in (-1.0, 1.0):
            shapes.append(Stroke(((at + shift - 1.2, y + 3.4), (at + shift + 1.2, y - 3.4)), 0.5, "ink"))
    return shapes


def _marks(
    row: list[_Flag], tape: Tape, places: Places, total: float, width: float, tube: float, edge: float, direction: int
) -> list[Item]:
    """The labels of one row; ``edge`` is the height at which they end towards the tube, ``direction`` -1: above it."""
    ordered = sorted(row, key=lambda flag: _x(tape, flag.reading.tape_mm or 0.0, total, width))
    spots = [_x(tape, flag.reading.tape_mm or 0.0, total, width) for flag in ordered]
    sizes = [flag.width for flag in ordered]
    centres = spread(spots, sizes, 0.0, width) or spread(spots, [width / max(len(spots), 1)] * len(spots), 0.0, width) or spots
    marks: list[Item] = []
    for flag, spot, x in zip(ordered, spots, centres, strict=True):
        top = edge - flag.height if direction < 0 else edge
        shapes: list[Shape] = [
            Stroke(((spot, tube), (x, edge)), 0.3),
            Disc(spot, tube, 1.25, "ink" if _is_early(flag.reading) else "paper", "ink", 0.5),
            _distance(flag, x, top),
        ]
        if flag.pieces is not None:
            shapes += flag.pieces.marks_at(x, top + READ_SIZE + 1.0 + LINE / 2)
        ids = tuple(item.id for item in flag.reading.placements)
        air = 0.2 if flag.turned else 2.0
        box = (x - flag.width / 2 + air, top, x + flag.width / 2 - air, top + flag.height)
        marks.append(Mark(flag.words, reading_words(flag.reading, places), ids, tuple(shapes), box))
    return marks


def _distance(flag: _Flag, x: float, top: float) -> Words:
    if not flag.turned:
        return Words(x, top + READ_SIZE * 0.85, flag.words, READ_SIZE, "middle", True)
    size = flag.width - 0.4
    return Words(x + size * 0.26, top + flag.height / 2, flag.words, size, "middle", True, turned=True)


def _is_early(reading: Reading) -> bool:
    return any(item.when == "before-joining" for item in reading.placements)


def _end_words(tape: Tape, y: float, width: float) -> list[Shape]:
    hook = {"left": "", "right": ""} | {tape.hook: "tape hooks here: "}
    room = width / 2 - 4
    left, right = (printable(end) for end in tape.ends)
    return [
        Words(END_ROOM - 3, y, fitted(hook["left"] + left, 3.2, room), 3.2, "start", bool(hook["left"])),
        Words(width - END_ROOM + 3, y, fitted(hook["right"] + right, 3.2, room), 3.2, "end", bool(hook["right"])),
    ]
