"""The whole way from files to a schedule, in one readable function."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from hoopwright.framing import frame
from hoopwright.grammar import load_grammar
from hoopwright.model.schedule import Schedule
from hoopwright.outlining import outline
from hoopwright.parsing import parse
from hoopwright.reading import read_documents
from hoopwright.scheduling import schedule

Progress = Callable[[str], None]


def build_schedule(manuals: Sequence[Path], *, without: Sequence[str] = (), grammars: Sequence[Path] = (), progress: Progress | None = None) -> Schedule:
    """Read the manuals of one kit, in order, and schedule every fitting hoop by hoop.

    ``without`` names optional extras to leave out; ``grammars`` are the user's own grammar files. Raises HoopwrightError.
    """
    documents = read_documents(list(manuals), progress=progress)
    contents = outline(documents)
    reading = parse(contents, load_grammar(tuple(grammars)))
    frame_ = frame(contents, reading.facts, reading.parts, reading.sentences, reading.member_numbers, frozenset(without))
    return schedule(frame_)
