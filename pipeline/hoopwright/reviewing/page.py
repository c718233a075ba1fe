"""The local page's HTML: a question, the list of all, corrections, the end. Every word of a manual is escaped by the template."""

from __future__ import annotations

from dataclasses import fields
from functools import cache
from typing import TYPE_CHECKING, Any

from hoopwright.model.schedule import Question
from hoopwright.reporting.text import plural, shown
from hoopwright.reviewing.accepting import accepted
from hoopwright.reviewing.answers import Correction
from hoopwright.reviewing.corrections import describe as describe_correction
from hoopwright.reviewing.listing import hint, where
from hoopwright.reviewing.piece import has_picture, words_around
from hoopwright.reviewing.session import Review

if TYPE_CHECKING:
    from jinja2 import Environment

COUNTED = {"quantity": "How many?", "member": "Which hoops?", "fitting": "Which part?", "position": "Where?", "order": "In which order?"}

MOST_COUSINS = 12  # a form has no more fields than the server reads
_FIELDS = [field.name for field in fields(Correction)]


@cache
def _templates() -> Environment:
    from jinja2 import Environment, PackageLoader, StrictUndefined

    made = Environment(loader=PackageLoader("hoopwright.reviewing", "."), autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    made.filters["t"] = lambda text: shown(str(text))
    made.filters["changes"] = lambda text: [shown(line) for line in str(text).split("; ")]
    made.filters["lines"] = lambda text: "\n".join(shown(line) for line in str(text).split("\n"))
    return made


def _render(name: str, review: Review, token: str, **more: Any) -> bytes:
    asked, open_ = review.questions(), review.open()
    common = {
        "base": f"/{token}/",
        "title": review.settled().schedule.title or "Manual",
        "done": len(asked) - len(open_),
        "warned": sum(not accepted(each) for each in review.settled().schedule.warnings),
        "all": len(asked),
        "undoable": review.undoable,
        "effect": review.effect,
        "file": str(review.path),
        "problem": "",
    }
    return _templates().get_template(name).render(common | more).encode("utf-8", "replace")


def question_page(review: Review, token: str, question: Question, problem: str = "", said: str = "", note: str = "") -> bytes:
    """One question: the piece of the manual, the readings with what each would change, a free value, skip."""
    given = review.given(question)
    source, outline = question.source, review.frame.outline
    step = next((each for each in outline.steps if each.id == question.step), None)
    return _render(
        "question.j2",
        review,
        token,
        question=question,
        head=COUNTED.get(question.about, "What is meant?"),
        where=where(review, question),
        picture=has_picture(outline, source),
        words=words_around(outline, source) if source is not None else None,
        step=step.text if step is not None else "",
        readings=review.choices(question),
        hint=hint(question),
        given=given,
        seen=given.words if given is not None else "",
        value=said or (given.value if given is not None and given.value else ""),
        note=note or (given.note if given is not None else ""),
        cousins=[(each, where(review, each)) for each in review.cousins(question)][:MOST_COUSINS],
        problem=problem,
    )


def list_page(review: Review, token: str, written: list[str] | None = None, problem: str = "") -> bytes:
    """All questions with their answers, what had no effect, corrections, and the way to the sheets; ``written`` are the files made."""
    open_ = {question.key for question in review.open()}
    rows = [(question, where(review, question), review.given(question), question.key in open_) for question in review.questions()]
    return _render("list.j2", review, token, rows=rows, leftovers=review.settled().leftovers, written=written, problem=problem)


def corrections_page(review: Review, token: str, problem: str = "", said: dict[str, str] | None = None) -> bytes:
    """The user's corrections, a form for one more, and the counts as they are now."""
    made = review.settled().schedule
    corrections = [(index, describe_correction(each), each.note) for index, each in enumerate(review.answers.corrections)]
    names = _names(review)
    return _render(
        "corrections.j2",
        review,
        token,
        corrections=corrections,
        names=names,
        taken=_taken(review),
        counts=[
            (hoop, [(index, name, row[name]) for index, name in enumerate(names) if row.get(name)]) for hoop, row in made.counts.items()
        ],
        said=dict.fromkeys(_FIELDS, "") | (said or {}),
        problem=problem,
    )


def prefilled(review: Review, hoop: str, index: str) -> dict[str, str] | None:
    """What the correction form holds when it is opened from the table: ``hoop`` is ``h3``, ``index`` the part's place in the list."""
    row = review.settled().schedule.counts.get(hoop.upper())
    names = _names(review)
    if row is None or not index.isdecimal() or int(index) >= len(names):
        return None
    number = row.get(names[int(index)], 0)
    return {"do": "change" if number else "add", "fitting": names[int(index)], "hoops": hoop[1:]}


def _names(review: Review) -> list[str]:
    return [part.name for part in review.frame.parts if part.is_fitting]


def warnings_page(review: Review, token: str, problem: str = "") -> bytes:
    """Every warning with its words in the manual, the way to accept it as it stands, and the way to correct what it is about."""
    made, names = review.settled().schedule, _names(review)
    labels = {step.id: step.label for step in made.steps}
    rows = []
    for each in made.warnings:
        steps = ", ".join(shown(labels[step] or "") for step in each.steps if labels.get(step))
        fix = f"{each.hoops[0].lower()}/{names.index(each.fitting)}" if each.hoops and each.fitting in names else ""
        rows.append((each, accepted(each), steps, list(dict.fromkeys(source.quote for source in each.sources)), fix))
    return _render("warnings.j2", review, token, rows=rows, problem=problem)


def _taken(review: Review) -> list[tuple[str, bool, str]]:
    """Parts on hoops of which the manual does not say how they go on: name, whether taken to slide on, and on how many hoops."""
    answered = {each.fitting for each in review.answers.corrections if each.do == "form"}
    out = []
    for part in review.frame.parts:
        hoops = {call.hoop for call in review.frame.calls if call.part == part.name and call.hoop is not None}
        if not part.stated and part.form in ("closed", "open") and hoops and part.name not in answered:
            out.append((part.name, part.form == "closed", plural(len(hoops), "hoop")))
    return out


def stopped_page(review: Review, token: str) -> bytes:
    """The last page: the window can be closed."""
    return _render("stopped.j2", review, token)
