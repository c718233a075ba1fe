"""The terminal's side of a review: the list of open questions, and a YAML form of them to fill in."""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence
from pathlib import Path
from string import ascii_lowercase

from ruamel.yaml.comments import CommentedMap, CommentedSeq

from hoopwright.model.errors import UsageError
from hoopwright.model.schedule import Question
from hoopwright.reporting.text import plural, shown
from hoopwright.reviewing.accepting import acceptance
from hoopwright.reviewing.answers import FORM, Answers, AnswersError, answer_entry, answers_path
from hoopwright.reviewing.apply import Settled
from hoopwright.reviewing.keys import sentence_of
from hoopwright.reviewing.matching import asked_of
from hoopwright.reviewing.session import Review
from hoopwright.reviewing.store import load, round_trip

_HINTS = {
    "quantity": "a number: '3 on each hoop', '12 in all', '2 on hoops 1, 6; 3 on hoops 2 to 5', '1 on the door post', '2 more on hoop 7'",
    "member": "hoops: '2, 4, 6', '2 to 4', 'all but 3', 'odd', 'inner'; with a number: '2 on hoops 1, 8'",
    "fitting": "the part's name or its code in the parts list",
    "position": "a place: '1.2 m above the ground', '1 ft 6 in from the ridge', 'left side'",
    "order": "in your own words",
    "reference": "how many on which hoops: '2 on hoops 4 and 6', or 'as counted' once the counts are right",
}


def hint(question: Question) -> str:
    """What may be written where none of the readings fits."""
    return _HINTS[question.about]


def where(review: Review, question: Question) -> str:
    """``step 12, page 3``: where the question stands in the manual."""
    step = next((each for each in review.settled().schedule.steps if each.id == question.step), None)
    page = question.source.page if question.source is not None else step.page if step is not None else None
    words = [f"step {shown(step.label)}" if step is not None and step.label else "", f"page {page}" if page is not None else ""]
    return ", ".join(word for word in words if word)


def lines(review: Review) -> Iterator[str]:
    """Every open question with its key, its sentence and its readings, then what had no effect."""
    for question in review.open():
        place = where(review, question)
        yield f"{question.key}  ({place})" if place else question.key
        yield f"  {shown(question.message)}"
        if question.source is not None:
            yield f"  “{shown(question.source.quote)}”"
        for letter, reading in zip(ascii_lowercase, review.choices(question), strict=False):
            change = (
                f" → {shown(reading.effect)}"
                if reading.effect
                else f" (not as it stands: {shown(reading.why_not)})"
                if reading.why_not
                else ""
            )
            assumed = "  [in use until answered]" if reading.assumed else ""
            yield f"    {letter}) {shown(reading.words)}{change}{assumed}"
        yield f"    or {hint(question)}"
        yield ""
    for leftover in review.settled().leftovers:
        yield f"no effect: {shown(leftover.what)}: {shown(leftover.why)}"


def chosen(review: Review, question: Question, said: str) -> str:
    """The words that an answer stands for: ``b`` is the second reading, anything else is itself."""
    plain = said.strip().lower().rstrip(")")
    offered = review.choices(question)
    if len(plain) == 1 and plain in ascii_lowercase[: len(offered)]:
        return offered[ascii_lowercase.index(plain)].words
    return said


def form(review: Review) -> str:
    """The open questions as an answers file in which only the choices or values are missing."""
    entries = CommentedSeq()
    frame = review.frame
    for question in review.open():
        entry = CommentedMap(answer_entry(asked_of(question, frame.questions, frame.outline)))
        place = " ".join(sentence_of(question).split()) and where(review, question)
        entry.insert(3, "choice", None)
        entry.insert(4, "value", None)
        readings = "".join(
            f"\n  {shown(each.words)}" + (f" → {shown(each.effect)}" if each.effect else "") for each in review.choices(question)
        )
        entry.yaml_set_comment_before_after_key(
            "choice", before=f"choice, one of:{readings}" if readings else "no readings: give a value", indent=4
        )
        entry.yaml_set_comment_before_after_key("value", before=f"or {hint(question)}", indent=4)
        entries.append(entry)
        entries.yaml_set_comment_before_after_key(len(entries) - 1, before=place or None, indent=2)
    data = CommentedMap({"form": FORM, "answers": entries})
    data.yaml_set_start_comment(
        "Fill in a choice or a value where you know it; leave the rest empty. Then: hoopwright answer MANUAL --from THIS FILE"
    )
    stream = io.StringIO()
    round_trip().dump(data, stream)
    return stream.getvalue()


def write_form(review: Review, path: Path) -> None:
    """Write the form to a new file. Raises UsageError where there already is one: it may be filled in."""
    try:
        with path.open("x", encoding="utf-8", newline="\n") as file:
            file.write(form(review))
    except FileExistsError:
        raise UsageError(f"{path}: there already is such a file", "name a new one: that one may be filled in already") from None
    except OSError as error:
        raise AnswersError(f"it cannot be written ({error.strerror})", "name another file", file=path) from None


def answer(review: Review, name: str | None, said: str | None, note: str, source: Path | None, also: Sequence[str] = ()) -> Iterator[str]:
    """Carry out the command ``answer``: one answer, one taken back (``said`` is None), or a form; what was done, in lines."""
    if source is not None:
        if not source.is_file():
            raise UsageError(f"{source}: there is no such form", "'hoopwright questions MANUAL --form FILE' writes one")
        yield f"{review.adopt(load(source))} entries taken over into {shown(str(review.path))}"
        for leftover in review.settled().leftovers:
            yield f"no effect: {shown(leftover.what)}: {shown(leftover.why)}"
    else:
        question = review.find(name or "")
        if said is None:
            done = review.withdraw(question)
            yield f"{'taken back' if done else 'there was no answer'}: {shown(question.message)}"
        else:
            made = review.answer(question, chosen(review, question, said), note, [review.find(each) for each in also])
            yield f"{shown(question.message)} → {shown(made.words)}"
            yield f"kept in {shown(str(review.path))}"
    yield f"{len(review.open())} of {len(review.questions())} questions are open"


def accept(review: Review, name: str, note: str) -> Iterator[str]:
    """Accept the warning with that id as it stands; what was done, in lines. Raises UsageError if there is none."""
    warning = next((each for each in review.settled().schedule.warnings if each.id.casefold() == name.strip().casefold()), None)
    if warning is None:
        raise UsageError(f"there is no warning “{name}”", "'hoopwright schedule' lists them with their ids")
    review.correct(acceptance(warning, note))
    yield f"accepted as it stands: {shown(warning.message)}"
    yield f"kept in {shown(str(review.path))}"


def load_answers(manual: Path, named: Path | None) -> Answers:
    """The answers for a manual: the file that was named, which must be there, or the one beside the manual, if there is one."""
    if named is not None and not named.is_file():
        raise UsageError(f"{named}: there is no such answers file", "name one that is there, or leave --answers away")
    return load(named or answers_path(manual))


def answers_used(manual: Path, named: Path | None, answers: Answers, settled: Settled) -> Iterator[str]:
    """What was taken from the answers file, and what in it had no effect; nothing where there is none."""
    if answers.empty:
        return
    counted = (
        (sum(bool(each.words) for each in answers.answers), "answer"),
        (len(answers.corrections), "correction"),
        (len(answers.extras), "extra"),
    )
    said = ", ".join(plural(number, noun) for number, noun in counted if number)
    yield f"\nFrom {shown(str(named or answers_path(manual)))}: {said}."
    for leftover in settled.leftovers:
        yield f"No effect: {shown(leftover.what)}: {shown(leftover.why)}."
