"""Parts of the list of which the steps were read to use none though they speak of them, or far fewer or far more: a question each.

Where nothing is used, the list and the steps agree that the part is; what is open is how many go where. Saying that no step uses it would
blame the manual for what was not understood. Makers pack spare screws, but hardly ever a spare clamp: where the steps use fewer clamps
than the list has, a sentence may have been missed, and a wrong count must not stand without a doubt (common practice, no source).
A list that falls short does so by a few pieces; where the steps seem to use half as many again as it has, a sentence was just as likely
taken for more than it says ("one at each" of places counted wrongly), so the list is not blamed before that is answered.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from hoopwright.model.frame import Call, Frame, Part
from hoopwright.model.outline import Item, Outline, Passage, Source
from hoopwright.model.schedule import Question
from hoopwright.scheduling.names import loose, plain
from hoopwright.scheduling.opening import opening

# Passages that name parts without using them.
IDLE_ROLES = frozenset({"parts", "tools", "contents", "summary", "safety"})
IDLE_ITEMS = frozenset({"caption", "footnote"})
LETTER = re.compile(r"[A-Za-z]")
NEVER = r"(?!)"
# The share of the listed number below which a sentence may have been missed: screws and pads are packed with spares, clamps are not.
FEW = {"fastener": 0.6, "closed": 1.0, "sleeve": 1.0}
FEW_OTHERS = 0.8
# The share of the listed number from which a sentence may have been taken for more than it says (common practice, no source).
MANY = 1.5
SENTENCE_END = re.compile(r"[.!?;:](?=\s|$)")


def ask_of_unread(frame: Frame) -> Frame:
    """The frame with a question for each such part, and for each of which it matters and is not known whether it opens.

    Made before answers are carried out, so that these questions can be answered.
    """
    found = (*unread(frame), *left_over(frame), *overused(frame), *no_list(frame), *opening(frame))
    return replace(frame, questions=(*frame.questions, *found))


def no_list(frame: Frame) -> tuple[Question, ...]:
    """The question whether there is no parts list, where none was found: names and numbers then rest on the steps alone."""
    if any(part.in_list for part in frame.parts):
        return ()
    first = next((call for call in frame.calls if call.hoop is not None and call.quantity > 0), None)
    if first is None:
        return ()
    hoops = tuple(hoop.id for hoop in frame.structure.hoops)
    message = (
        "No parts list was found in the manual, so the names and numbers of all fittings rest on the steps alone and nothing holds them "
        "up. Has the manual none, or was it not recognised?"
    )
    return (Question("fitting", None, hoops, first.step, message, ("it has none", "it has one"), "it has none", source=first.source),)


def unread(frame: Frame) -> tuple[Question, ...]:
    """One question for each fitting that the list supplies, the steps name and no call uses; none where one is asked already."""
    asked = {question.fitting for question in frame.questions}
    used = {call.part for call in frame.calls if call.quantity > 0}
    idle = [part for part in frame.parts if _supplied(frame, part) and part.name not in used and part.name not in asked]
    return tuple(_question(part, step, source) for part, step, source in _named(frame, idle))


def left_over(frame: Frame) -> tuple[Question, ...]:
    """One question for each part of which the hoops take some, but the steps suspiciously few; none where one is asked already."""
    asked = {question.fitting for question in frame.questions}
    used: Counter[str] = Counter()
    first: dict[str, Call] = {}
    for call in frame.calls:
        used[call.part] += call.quantity
        if call.hoop is not None:
            first.setdefault(call.part, call)
    found = []
    for part in frame.parts:
        if part.name in asked or part.name not in first or not _supplied(frame, part) or not 0 < used[part.name] < (part.listed or 0):
            continue
        left = (part.listed or 0) - used[part.name]
        share = used[part.name] / (part.listed or 1)
        if share < FEW.get(part.form, FEW_OTHERS) and not _called_spare(frame.outline, part.name):
            found.append(_left_over(part, used[part.name], left, first[part.name]))
    return tuple(found)


def overused(frame: Frame) -> tuple[Question, ...]:
    """One question for each part of which the steps seem to use far more than the list has; none where its number is asked already."""
    doubted = in_doubt(frame)
    used: dict[str, dict[Source, int]] = {}
    steps: dict[Source, str] = {}
    for call in frame.calls:
        if call.quantity > 0:
            by_sentence = used.setdefault(call.part, {})
            by_sentence[call.source] = by_sentence.get(call.source, 0) + call.quantity
            steps.setdefault(call.source, call.step)
    found = []
    for part in frame.parts:
        by_sentence = used.get(part.name, {})
        if part.name in doubted or not _supplied(frame, part) or not is_far_more(sum(by_sentence.values()), part.listed):
            continue
        source = max(by_sentence, key=lambda source: by_sentence[source])
        found.append(_overused(part, sum(by_sentence.values()), by_sentence[source], steps[source], source))
    return tuple(found)


def in_doubt(frame: Frame) -> frozenset[str]:
    """The parts whose number a question is open about."""
    return frozenset(question.fitting for question in frame.questions if question.fitting and question.about in ("quantity", "reference"))


def is_far_more(used: int, listed: int | None) -> bool:
    """Whether the number used is so far above the listed one that a sentence may have been taken for more than it says."""
    return listed is not None and listed > 0 and used >= MANY * listed


def _overused(part: Part, used: int, here: int, step: str, source: Source) -> Question:
    """``here`` of the ``used`` pieces come from the sentence of ``source``, the one that takes most."""
    most = "" if here == used else f", {here} of them by this sentence"
    message = (
        f"The parts list supplies {part.listed} × {part.name}, but the steps as they were understood use {used}{most}. "
        "Does the list fall short, or was the sentence taken for more than it says?"
    )
    assumed = f"{here} in all"
    fitting = (part.listed or 0) - (used - here)
    readings = (assumed, f"{fitting} in all") if fitting > 0 else (assumed,)
    return Question("quantity", part.name, (), step, message, readings, assumed, source=source)


def _called_spare(outline: Outline, name: str) -> bool:
    """Whether the manual says that some of the part are spare."""
    head = re.escape(name.split()[-1])
    left = r"\b(?:spares?|extras?|(?<!none is )(?<!none are )(?<!nothing is )left over|keep)\b"
    spare = re.compile(rf"\b{head}s?\b[^.;]*{left}|{left}[^.;]*\b{head}s?\b", re.IGNORECASE)
    return any(spare.search(step.text) for step in outline.steps)


def _left_over(part: Part, used: int, left: int, call: Call) -> Question:
    message = (
        f"The parts list supplies {part.listed} × {part.name}, and the steps as they were understood use {used}. "
        f"{'Is 1' if left == 1 else f'Are {left}'} spare, or was a sentence not understood?"
    )
    spare = f"{left} spare"
    return Question("quantity", part.name, (), call.step, message, (spare,), spare, source=call.source)


def _supplied(frame: Frame, part: Part) -> bool:
    bought = part.option_only is None or part.option_only in frame.options
    return part.is_fitting and part.in_list and bool(part.listed) and bought


def _named(frame: Frame, parts: Iterable[Part]) -> Iterator[tuple[Part, str, Source]]:
    """(part, step, sentence) of the first sentence of the work that names each part, in the manual's order."""
    waiting = {plain(part.name): part for part in parts}
    if not waiting:
        return
    coded = {part.code: part for part in parts if part.code and LETTER.search(part.code)}
    names = "|".join(sorted(map(loose, waiting), key=len, reverse=True))
    codes = "|".join(map(re.escape, coded)) or NEVER
    # Codes only in brackets and as printed: a bare "A" is a word, "(7)" the number of a step.
    pattern = re.compile(rf"(?<![0-9A-Za-z])(?i:{names})(?![0-9A-Za-z])|\(\s*(?P<code>{codes})\s*\)")
    found: set[str] = set()
    for step, words, passage in _work(frame.outline, frozenset(frame.order)):
        for match in pattern.finditer(words):
            part = coded.get(match["code"]) if match["code"] else waiting.get(plain(match[0]))
            if part is not None and part.name not in found:
                found.add(part.name)
                source = _sentence(passage, match.start(), match.end()) if words == passage.text else passage.source()
                yield part, step, source


def _work(outline: Outline, kept: frozenset[str]) -> Iterator[tuple[str, str, Passage]]:
    """(step, words, passage to cite) of all that tells of work: no lists of parts or tools, no captions, no extras left out."""
    idle = {section.id for section in outline.sections if section.role in IDLE_ROLES}
    rows = _list_rows(outline)
    for step in outline.steps:
        if step.section in idle or step.id not in kept:
            continue
        for item in step.items:
            if item.kind not in IDLE_ITEMS:
                yield from ((step.id, words, passage) for words, passage in _said(item) if not _in_list(passage, rows))


def _said(item: Item) -> Iterator[tuple[str, Passage]]:
    """(words, passage to cite) of an item: a table's cells one by one, its heads with the first cell, as heads keep no place."""
    cells = [item.passage] if item.table is None else [cell for row in item.table.rows for cell in row]
    cells = [cell for cell in cells if cell.text and cell.runs]
    if item.table is not None and cells:
        yield from ((head, cells[0]) for head in item.table.head if head)
    yield from ((cell.text, cell) for cell in cells)


def _list_rows(outline: Outline) -> dict[str, list[tuple[int, int]]]:
    rows: dict[str, list[tuple[int, int]]] = {}
    for entry in outline.parts:
        rows.setdefault(entry.source.document, []).append((entry.source.start, entry.source.end))
    return rows


def _in_list(passage: Passage, rows: dict[str, list[tuple[int, int]]]) -> bool:
    """Whether the passage is, or holds, a row of a parts list: a list in running text stands in a step like any other."""
    start, end = passage.runs[0].start, passage.runs[-1].start + passage.runs[-1].length
    return any(first < end and start < last for first, last in rows.get(passage.document, ()))


def _sentence(passage: Passage, start: int, end: int) -> Source:
    """The sentence round the characters ``start`` to ``end``."""
    begin = max((match.end() for match in SENTENCE_END.finditer(passage.text, 0, start)), default=0)
    stop = SENTENCE_END.search(passage.text, end)
    text = passage.text[begin:]
    return passage.source(begin + len(text) - len(text.lstrip()), len(passage.text) if stop is None else stop.end())


def _question(part: Part, step: str, source: Source) -> Question:
    message = (
        f"The parts list supplies {part.listed} × {part.name}, and this sentence speaks of it, but how many it puts where was not "
        "understood. How many go where?"
    )
    return Question("quantity", part.name, (), step, message, (), "none counted", source=source)
