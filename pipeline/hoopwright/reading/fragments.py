"""Words put together to fragments: runs of words on one line with no wide gap between them."""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass
from statistics import median

from hoopwright.reading.characters import Piece

WIDE_GAP = 0.62  # of the type height: a wider gap than between words parts two fragments
_GLUE_GAP = 0.08  # of the type height: pieces that stand nearer are one word, if no blank was drawn between them
_MOST_RUNS = 8000  # on a page that are looked through for such that continue each other; a full page has two hundred
_SAME_LINE = 0.5  # of the lower height that two pieces of a line share


@dataclass(slots=True, eq=False)
class Fragment:
    """Words on one line, left to right, with the box around them. ``order`` is the first word's place in the drawing order."""

    words: list[Piece]
    x0: float
    top: float
    x1: float
    bottom: float
    order: int

    @property
    def width(self) -> float:
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        return self.bottom - self.top

    @property
    def middle(self) -> float:
        return (self.top + self.bottom) / 2

    @property
    def text(self) -> str:
        return " ".join(word.text for word in self.words)


def fragments_of(pieces: list[Piece]) -> list[Fragment]:
    """The fragments of upright pieces, in drawing order."""
    runs: list[Fragment] = []
    for piece in pieces:
        if runs and _follows(runs[-1], piece):
            _extend(runs[-1], piece)
        else:
            runs.append(Fragment([piece], piece.x0, piece.top, piece.x1, piece.bottom, piece.order))
    return _merged(runs)


def share_line(a: Fragment | Piece, b: Fragment | Piece) -> bool:
    """Whether two stand on one line: the lower of them overlaps the other by half its height."""
    overlap = min(a.bottom, b.bottom) - max(a.top, b.top)
    return overlap > _SAME_LINE * min(a.bottom - a.top, b.bottom - b.top)


def type_height(fragments: list[Fragment]) -> float:
    """The usual height of the type, in points; 10 if there is none."""
    return median(f.bottom - f.top for f in fragments) if fragments else 10.0


def _follows(run: Fragment, piece: Piece) -> bool:
    last = run.words[-1]
    height = max(last.bottom - last.top, piece.bottom - piece.top)
    gap = piece.x0 - last.x1
    return -0.3 * height < gap < WIDE_GAP * height and share_line(last, piece)


def _extend(run: Fragment, piece: Piece) -> None:
    last = run.words[-1]
    if piece.glued and piece.x0 - last.x1 < _GLUE_GAP * (last.bottom - last.top) and not _two_numbers(last, piece):
        _glue(last, piece)
    else:
        run.words.append(piece)
    run.top, run.bottom = min(run.top, piece.top), max(run.bottom, piece.bottom)
    run.x1 = max(run.x1, piece.x1)


def _two_numbers(last: Piece, piece: Piece) -> bool:
    return last.text[-1].isdigit() and piece.text[0].isdigit()


def _glue(last: Piece, piece: Piece) -> None:
    last.text += piece.text
    last.x1 = max(last.x1, piece.x1)
    last.top, last.bottom = min(last.top, piece.top), max(last.bottom, piece.bottom)


def _merged(runs: list[Fragment]) -> list[Fragment]:
    """Runs that continue each other on the page though not in the drawing order made one."""
    if len(runs) > _MOST_RUNS:
        return runs
    ordered = sorted(runs, key=lambda f: f.x0)
    starts = [f.x0 for f in ordered]
    gone: set[int] = set()
    for index, left in enumerate(ordered):
        if index in gone:
            continue
        while True:
            follower = _follower(left, index, ordered, starts, gone)
            if follower is None:
                break
            gone.add(follower)
            _append(left, ordered[follower])
    kept = [f for index, f in enumerate(ordered) if index not in gone]
    return sorted(kept, key=lambda f: f.order)


def _follower(left: Fragment, index: int, ordered: list[Fragment], starts: list[float], gone: set[int]) -> int | None:
    height = left.words[-1].height
    reach = left.x1 + WIDE_GAP * 2 * height
    for other in range(bisect_left(starts, left.x1 - 0.3 * height), len(ordered)):
        if starts[other] > reach:
            return None
        if other != index and other not in gone and _follows(left, ordered[other].words[0]):
            return other
    return None


def _append(left: Fragment, right: Fragment) -> None:
    for piece in right.words:
        _extend(left, piece)
    left.order = min(left.order, right.order)
