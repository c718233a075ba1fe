"""``schedule``: the whole way from frame to schedule, in one readable function."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hoopwright.model.document import Document
from hoopwright.model.frame import Frame
from hoopwright.model.outline import Outline, Source
from hoopwright.model.schedule import DocumentInfo, Finding, Question, Schedule, StepInfo, TubeInfo
from hoopwright.scheduling.alike import verdicts
from hoopwright.scheduling.asked_order import in_asked_order
from hoopwright.scheduling.chain import Chain, chains
from hoopwright.scheduling.clash import clashes
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.graph import connections
from hoopwright.scheduling.loop import loops
from hoopwright.scheduling.mismatch import mismatches
from hoopwright.scheduling.moves import revise
from hoopwright.scheduling.opening import as_answered, asked_about
from hoopwright.scheduling.placing import balance, placements, tables
from hoopwright.scheduling.solver import Verdict
from hoopwright.scheduling.supply import supply
from hoopwright.scheduling.thread import Turn, turns
from hoopwright.scheduling.ways import stuck, way_findings

CAUTION_SIGNALS = frozenset({"danger", "warning", "caution", "notice"})


def schedule(frame: Frame) -> Schedule:
    """The schedule of a frame. Deterministic; does not fail on a frame whose references lead nowhere.

    Parameters
    ----------
    frame: every call resolved to a hoop (or other member) and, where known, a place in mm.

    Returns
    -------
    Schedule with ids P1 … (placements), W1 … (warnings), Q1 … (questions), each in the manual's order of work.
    """
    frame = in_asked_order(as_answered(frame))
    context = Context(frame)
    hoops = chains(context)
    solved = verdicts(hoops)
    order = _turns(context, solved)
    places = placements(context, order)
    counts, elsewhere, before = tables(context, places)
    rows = balance(context)
    out_of_reach = [item for each in solved for item in stuck(context, *each)]
    unsure = asked_about(frame)
    findings = [
        *frame.findings,
        *way_findings(context, [item for item in out_of_reach if item.call.part not in unsure]),
        *clashes(context),
        *loops(context, hoops, order, frozenset(item.call.id for item in out_of_reach)),
        *mismatches(context),
        *supply(context, rows),
    ]
    revision = revise(context, hoops, out_of_reach)
    return Schedule(
        documents=tuple(_document(document) for document in frame.outline.documents),
        structure=frame.structure,
        steps=_steps(frame.outline),
        placements=places,
        counts=counts,
        elsewhere=elsewhere,
        before_joining=before,
        parts=rows,
        warnings=number_findings(context, findings),
        questions=number_questions(context, frame.questions),
        title=frame.outline.title,
        options=frame.options,
        cautions=cautions(frame.outline),
        moves=revision.moves,
        work_order=revision.order,
        tubes=tuple(TubeInfo(tube.name, tube.start_mm, tube.end_mm) for tube in frame.tubes),
        shape=frame.curve,
        connections=connections(context),
    )


def _turns(context: Context, solved: Iterable[tuple[Chain, tuple[Verdict, ...], Chain]]) -> dict[str, Turn]:
    """Every fitting's turn; hoops on which the same is done share the work."""
    known: dict[int, dict[str, Turn]] = {}
    found: dict[str, Turn] = {}
    for chain, results, model in solved:
        if model.hoop not in known:
            known[model.hoop] = turns(context, model, results)
        for mine, theirs in zip(chain.case.rings, model.case.rings, strict=True):
            if theirs.id in known[model.hoop]:
                found[mine.id] = known[model.hoop][theirs.id]
    return found


def _document(document: Document) -> DocumentInfo:
    return DocumentInfo(document.id, document.name, document.pages, document.sha256)


def _steps(outline: Outline) -> tuple[StepInfo, ...]:
    titles = {section.id: section.title for section in outline.sections}
    return tuple(
        StepInfo(step.id, step.document, step.label, titles.get(step.section), step.option, step.page, step.text) for step in outline.steps
    )


def number_findings(context: Context, findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """Findings as W1 … in the order of the steps they speak of, those of no step last; equal ones once."""
    rest = len(context.index)
    unique = dict.fromkeys(replace(finding, id="") for finding in findings)
    order = sorted(unique, key=lambda finding: min((context.index.get(step, rest) for step in finding.steps[:1]), default=rest))
    return tuple(replace(finding, id=f"W{number}") for number, finding in enumerate(order, start=1))


def number_questions(context: Context, questions: Iterable[Question]) -> tuple[Question, ...]:
    """Questions as Q1 … in the order of the steps they speak of; equal ones once."""
    rest = len(context.index)
    unique = dict.fromkeys(replace(question, id="") for question in questions)
    order = sorted(unique, key=lambda question: context.index.get(question.step or "", rest))
    return tuple(replace(question, id=f"Q{number}") for number, question in enumerate(order, start=1))


def cautions(outline: Outline) -> tuple[Source, ...]:
    """The manual's own safety words: call-outs with a signal word that warns, and everything under a safety heading."""
    safety = {section.id for section in outline.sections if section.role == "safety"}
    found: list[Source] = []
    for step in outline.steps:
        for item in step.items:
            warns = item.kind == "callout" and (item.signal or "").lower() in CAUTION_SIGNALS
            if item.passage.text and item.passage.runs and (warns or step.section in safety):
                found.append(item.passage.source())
    return tuple(dict.fromkeys(found))
