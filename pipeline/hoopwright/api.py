"""The whole way from files to a schedule, in one readable function; and the first half of it, for reading back what was understood."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from hoopwright.checks import check_frame, check_language, left_out
from hoopwright.framing import frame
from hoopwright.grammar import load_grammar
from hoopwright.legibility import ask_of_blurred
from hoopwright.model.outline import Outline
from hoopwright.model.schedule import Schedule
from hoopwright.outlining import outline
from hoopwright.parsing import Reading, parse
from hoopwright.reading import read_documents
from hoopwright.reading.sources import expand
from hoopwright.reviewing import Answers, Settled, accept, apply, settle_facts, unbought
from hoopwright.scheduling import CODES as WARNING_CODES
from hoopwright.scheduling import ask_of_unread, schedule
from hoopwright.scheduling import describe as describe_warning

__all__ = ["WARNING_CODES", "Progress", "Understanding", "build_schedule", "describe_warning", "manual_files", "settle", "understand"]

Progress = Callable[[str], None]


def build_schedule(
    manuals: Sequence[Path],
    *,
    without: Sequence[str] = (),
    grammars: Sequence[Path] = (),
    answers: Answers | None = None,
    progress: Progress | None = None,
) -> Schedule:
    """Read the manuals of one kit, in order, and schedule every fitting hoop by hoop.

    ``without`` names optional extras to leave out; ``grammars`` are the user's own grammar files, read after the shipped ones;
    ``answers`` is what the user has settled (``settle`` also says which of them had no effect).
    ``progress`` is called with one line of text as each stage begins. Raises HoopwrightError; writes nothing.
    """
    found = understand(manuals, grammars=grammars, progress=progress)
    return settle(found, answers or Answers(), without=without, progress=progress).schedule


def manual_files(manuals: Sequence[Path]) -> list[Path]:
    """The files read for ``manuals``, in order: a folder stands for those that its file ``order`` names. Raises HoopwrightError."""
    return expand(manuals)


@dataclass(frozen=True, slots=True)
class Understanding:
    """How far the manual was understood before anything was put on a hoop."""

    outline: Outline
    reading: Reading


def understand(manuals: Sequence[Path], *, grammars: Sequence[Path] = (), progress: Progress | None = None) -> Understanding:
    """The first half of the way: every sentence with what it was taken to say. Raises HoopwrightError."""
    tell = progress or _silent
    documents = read_documents(list(manuals), progress=progress)
    check_language(documents)
    tell("finding the steps")
    contents = outline(documents)
    tell("reading the steps")
    return Understanding(contents, parse(contents, load_grammar(tuple(grammars))))


def settle(found: Understanding, answers: Answers, *, without: Sequence[str] = (), progress: Progress | None = None) -> Settled:
    """The second half of the way: what was understood, with the user's answers and corrections in it, as a schedule.

    ``without`` as in ``build_schedule``. Raises UsageError for an extra that there is not, NotAManual where nothing goes on a hoop.
    """
    tell = progress or _silent
    contents, reading = found.outline, found.reading
    unwanted, no_extra = unbought((step.option for step in contents.steps if step.option), answers)
    facts, no_fact = settle_facts(reading.facts, answers)
    tell("putting the fittings on the hoops")
    left = left_out(contents, without) | unwanted
    framed = frame(contents, facts, reading.parts, reading.sentences, reading.member_numbers, left, reading.bars, reading.told_again)
    made = ask_of_blurred(ask_of_unread(framed))
    check_frame(made)
    answered, no_effect = apply(made, answers)
    tell("working out what goes on first")
    scheduled, no_warning = accept(schedule(answered), answers)
    return Settled(scheduled, made, (*no_effect, *no_fact, *no_extra, *no_warning))


def _silent(line: str) -> None:
    """Progress that nobody watches."""
