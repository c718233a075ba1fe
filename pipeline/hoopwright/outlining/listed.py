"""Sentences that list what a bag holds, taken out of a section that builds, so that nothing they name is fitted."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from hoopwright.model.outline import Passage, Section, Step
from hoopwright.outlining.parts_prose import list_sentences


def pieces(step: Step) -> list[Step]:
    """A step whose running text lists parts by its own words ("In the bag: 7 rings, 9 hooks.") as up to three: before, list, behind.

    All other steps come back as they are. The printed label stays with the words that are no list, if there are any.
    """
    span = _span(step)
    if span is None:
        return [step]
    first, rest = step.items[0], step.items[1:]
    before, listed, behind = _cut(first.passage, 0, span[0]), _cut(first.passage, *span), _cut(first.passage, span[1], None)
    result: list[Step] = []
    if before.text:
        result.append(replace(step, items=(replace(first, passage=before),)))
    result.append(replace(step, items=(replace(first, passage=listed),), label=None if before.text or behind.text or rest else step.label))
    if behind.text or rest:
        items = (replace(first, passage=behind), *rest) if behind.text else rest
        result.append(replace(step, items=items, label=None if before.text else step.label))
    return [replace(piece, id=step.id + "bcd"[n - 1] if n else step.id) for n, piece in enumerate(result)]


def _span(step: Step) -> tuple[int, int] | None:
    first = step.items[0]
    span = list_sentences(first.passage.text) if first.kind == "text" else None
    # Under a label only a lead with its colon tells a list from an instruction.
    return span if span is None or step.label is None or ":" in first.passage.text[span[0] : span[1]][:60] else None


def _cut(passage: Passage, start: int, end: int | None) -> Passage:
    """The characters ``start`` to ``end`` of a passage, without blanks around them, with their way back to the document."""
    stop = len(passage.text) if end is None else end
    text = passage.text[start:stop]
    start += len(text) - len(text.lstrip())
    stop = start + len(text.strip())
    runs = []
    for run in passage.runs:
        a, b = max(run.at, start), min(run.at + run.length, stop)
        if a < b:
            runs.append(replace(run, at=a - start, start=run.start + a - run.at, length=b - a))
    return Passage(passage.text[start:stop], passage.document, tuple(runs))


def lists_apart(section: Section, inside: dict[str, list[Step]]) -> Iterator[Section]:
    """The section, cut where such lists stand in it: they become sections of the role parts, of the same optional extra."""
    steps = inside[section.id]
    if section.role != "build" or not any(_is_list(step) for step in steps):
        yield section
        return
    runs: list[list[Step]] = []
    for step in steps:
        if runs and _is_list(runs[-1][-1]) == _is_list(step):
            runs[-1].append(step)
        else:
            runs.append([step])
    for n, run in enumerate(runs):
        part = section if n == 0 else _below(section, n, run)
        inside[part.id] = run
        yield replace(part, role="parts" if _is_list(run[0]) else "build")


def _is_list(step: Step) -> bool:
    span = _span(step)
    return len(step.items) == 1 and span == (0, len(step.items[0].passage.text))


def _below(section: Section, n: int, run: Sequence[Step]) -> Section:
    """A part of a section, with a name of its own and without a title."""
    path = (*section.path, section.title)
    return replace(section, id=f"{section.id}p{n}", title="", path=path, source=None, page=run[0].page)
