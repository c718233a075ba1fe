"""The order of work that the manual asks for in so many words: which step waits for which, and which step has its place elsewhere.

Two kinds of sentence are read, both only where they name a step by its printed label, or a fitting that another step puts on:

* a step that waits: "the clamp of step 5 must already be on", "not until step 7 is done", "when step 6.7 is done, …";
* a step that says of itself when it is done: "do this before step 9", "this one has to be done early, after job 8",
  "they have to go on before the crown collar". It is moved there, as the manual wants it; if that cannot be, both wishes stand.

A step that is merely spoken of ("as in step 4", "the clips of step 2 are tightened") asks for nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from hoopwright.model.frame import ActKind, Call, Frame, OrderWish
from hoopwright.model.outline import Source, Step
from hoopwright.scheduling.names import loose

LABEL = r"\(?(?:\d+(?:[.\-]\d+)*[a-z]?|[a-z]{1,2}(?:[.\-]?\d+(?:[.\-]\d+)*)?|[ivxlc]+)\)?(?!\w)"
LAST_LABEL = rf"(?=\S*\d){LABEL}"  # of a range: with a digit in it, as "step 4 and a ring" is no range
NAMED = r"(?:steps?|jobs?|paragraphs?|operations?|tasks?|clauses?)"
CODED = r"[a-z]{1,2}[.\-]?\d+(?:\.\d+)*[a-z]?(?!\w)"  # a label that needs no word in front: "B6"
SECTION = r"(?:cards?|parts?|sections?|stages?|chapters?|sheets?|phases?)"
REFERENCE = rf"{NAMED}\s+(?P<label>{LABEL})(?:\s*(?:to|through|–|-|and)\s*(?P<more>{LAST_LABEL}))?"
MUST = r"(?:must|shall|should|ha(?:s|ve) to|needs? to|(?:is|are) to|had better)"
DONE = r"(?:done|finished|completed?|over|through|made|carried out|behind you)"
ALREADY = r"(?:already\b|first(?=\s*(?:[.,;:!)]|$))|before\s+(?:you|this|that|doing|starting|beginning|it)\b)"
# Each gives the steps that its own step waits for.
MUST_BE_ON = re.compile(rf"\b{REFERENCE}[^.,;:]*?\b{MUST}\b(?P<gap>[^.;:]*?)\b{ALREADY}", re.IGNORECASE)
WAITS = (
    re.compile(
        rf"\b(?:do not|don't|never)\s+(?:do|start|begin)\b[^.,;:]*\b(?:until|before|unless)\s+{REFERENCE}[^.;:]*?\b(?:is|are|has|have)\b",
        re.I,
    ),
    re.compile(rf"\b(?:this|it)\s+(?:{MUST}\s+wait|waits)\s+(?:until|for)\s+{REFERENCE}", re.I),
    re.compile(rf"\b(?:do|finish|complete|carry out)\s+{REFERENCE}\s+first\b", re.I),
)
# "When step 9 is done, …" asks for something only of a step behind it: in front of it, it tells of later work ("come back and tighten").
BEHIND = re.compile(rf"^\W*(?:when|once|after|as soon as|only when)\s+{REFERENCE}\s+(?:is|are|has been|have been)\s+{DONE}\b", re.I)
NOT = re.compile(r"\b(?:not|never|no)\b|n't\b", re.IGNORECASE)
# The sentence speaks of when its own step (or the steps that it names) is done.
ITSELF = re.compile(
    rf"\bthis\s+(?:(?P<whole>{NAMED}|part|work|one)\s+)?(?:is|must|has|had|should|shall|belongs|comes|goes)\b|\bdo\s+(?:this|these|them|it)\b",
    re.IGNORECASE,
)
THESE = re.compile(
    rf"\b(?:do|carry out|work)\s+(?:{REFERENCE}|(?P<first>\d+(?:\.\d+)+)\s*(?:to|through|–|-|and)\s*(?P<last>\d+(?:\.\d+)+)"
    rf"|(?P<coded>{CODED})(?:\s*(?:to|through|–|-|and)\s*(?P<coded_last>{CODED}))?)",
    re.I,
)
WHEN = re.compile(
    rf"\b(?P<word>after|before|when|once|as soon as)\s+"
    rf"(?:you\s+(?:have\s+)?(?:do|did|done|finished|completed|start|begin|touch|reach|get to|come to|go on to)\s+)?"
    rf"(?:{REFERENCE}|(?P<bare>\d+(?:\.\d+)+)(?![\w.])|(?P<coded>{CODED})|(?P<part>{SECTION}\s+(?:[a-z]|\d{{1,2}})\b))",
    re.IGNORECASE,
)
CLOSE = re.compile(r"\b(?:early|(?:directly|immediately|right|straight|just)\s+after)\b", re.IGNORECASE)
OPENING = re.compile(rf"^\W*before\s+{REFERENCE}\s*[,:]", re.IGNORECASE)
CLOSING: dict[ActKind, re.Pattern[str]] = {
    "join": re.compile(r"\bbefore\s+(?:\w+\s+){0,4}(?:join(?:ed|ing)?|plugged|closed)\b", re.IGNORECASE),
    "stand": re.compile(r"\bbefore\s+(?:\w+\s+){0,4}(?:stood|stands?|standing|raised?|raising)\b", re.IGNORECASE),
}
HAVE_TO = re.compile(r"\b(?:they|it|these|this|those)\s+(?:must|ha(?:s|ve) to|needs? to|should|shall)\b", re.IGNORECASE)
SENTENCE = re.compile(r"(?<=[.!?])\s+(?=[^a-z\s])")


@dataclass(frozen=True, slots=True)
class _Turn:
    """``steps`` are done after all of ``after`` and before all of ``before``, in the words of ``source``; ``close``: directly after."""

    steps: tuple[str, ...]
    after: tuple[str, ...]
    before: tuple[str, ...]
    source: Source
    close: bool = False


_AFTER_OR_BEFORE = re.compile(r"\b(?:after|before)\s+(?:the|its|their)\b", re.IGNORECASE)


def in_asked_order(frame: Frame) -> Frame:
    """The frame with what its sentences ask for: steps that say where they belong moved there, all else as wishes."""
    labels = _Labels(frame)
    wishes: list[OrderWish] = []
    order = list(frame.order)
    for step, source in _sentences(frame):
        for other in _waits_for(labels, step, source.quote):
            if other in labels.kept and other != step.id:
                wishes.append(OrderWish(other, step.id, source))
        turn = _turn(frame, labels, step, source)
        if turn is not None:
            _move(order, turn)
            wishes += _as_wishes(turn)
    if not wishes:
        return frame
    known = {(wish.first, wish.then) for wish in frame.wishes}
    fresh = [wish for wish in wishes if (wish.first, wish.then) not in known]
    return replace(frame, wishes=(*frame.wishes, *dict.fromkeys(fresh)), order=tuple(order))


def _sentences(frame: Frame) -> Iterator[tuple[Step, Source]]:
    """The sentences of the work; figures, tables and extras that are left out ask for no order."""
    kept = set(frame.order)
    for step in frame.outline.steps:
        if step.id not in kept:
            continue
        for item in step.items:
            text = item.passage.text
            if item.kind not in ("text", "bullet", "callout") or not item.passage.runs or not text:
                continue
            start = 0
            for end in [*(match.start() for match in SENTENCE.finditer(text)), len(text)]:
                sentence = text[start:end]
                at = start + len(sentence) - len(sentence.lstrip())
                if end > at:
                    yield step, item.passage.source(at, end)
                start = end


class _Labels:
    """The printed labels of the steps, and what stands behind a reference to one."""

    def __init__(self, frame: Frame) -> None:
        self.steps = frame.outline.steps
        self.sections = frame.outline.sections
        self.kept = set(frame.order)
        self.places: dict[str, list[int]] = {}
        for place, step in enumerate(self.steps):
            if step.label is not None:
                self.places.setdefault(_bare(step.label), []).append(place)
        self.place = {step.id: place for place, step in enumerate(self.steps)}

    def find(self, label: str, near: Step) -> int | None:
        """The step that a sentence of ``near`` means by ``label``: one of its own document, else the nearest before it, else the next."""
        here = self.place[near.id]
        found = self.places.get(_bare(label), [])
        own = [place for place in found if self.steps[place].document == near.document]
        return min(own or found, key=lambda place: (place > here, abs(place - here)), default=None)

    def between(self, first: str, last: str | None, near: Step) -> tuple[str, ...]:
        """The ids of the steps from ``first`` to ``last``; empty if the manual has no such label."""
        start = self.find(first, near)
        end = start if last is None else self.find(last, near)
        if start is None or end is None or end < start:
            return ()
        return tuple(step.id for step in self.steps[start : end + 1] if step.id in self.kept)

    def of_section(self, name: str, near: Step) -> tuple[str, ...]:
        """The ids of the steps under the heading that begins with ``name`` ("card B"), not those of ``near``'s own section."""
        wanted = re.compile(r"\s+".join(map(re.escape, name.split())) + r"\b", re.IGNORECASE)
        meant = {section.id for section in self.sections if wanted.match(section.title.strip("*# "))} - {near.section}
        return tuple(step.id for step in self.steps if step.section in meant and step.id in self.kept)


def _bare(label: str) -> str:
    return label.lower().strip("().")


def _waits_for(labels: _Labels, step: Step, sentence: str) -> Iterator[str]:
    """The steps that the sentence wants done before its own step."""
    for match in MUST_BE_ON.finditer(sentence):
        if not NOT.search(match["gap"]):
            yield from labels.between(match["label"], match["more"], step)
    for pattern in WAITS:
        for match in pattern.finditer(sentence):
            yield from labels.between(match["label"], match["more"], step)
    for match in BEHIND.finditer(sentence):
        yield from (id for id in labels.between(match["label"], match["more"], step) if labels.place[id] < labels.place[step.id])


def _turn(frame: Frame, labels: _Labels, step: Step, source: Source) -> _Turn | None:
    """Where the sentence puts its own step, or the steps that it names; None if it puts none anywhere."""
    steps, words = _subject(labels, step, source.quote)
    if not words:
        return None
    after: list[str] = []
    before: list[str] = []
    for match in WHEN.finditer(words):
        if match["part"]:
            named = list(labels.of_section(match["part"], step))
        else:
            named = list(labels.between(match["label"] or match["bare"] or match["coded"], match["more"], step))
        (before if match["word"].lower() == "before" else after).extend(id for id in named if id not in steps)
    more_after, more_before = _by_fitting(frame, labels, step, words)
    after += more_after
    before += [*more_before, *_by_act(frame, words)]
    before = [id for id in before if id not in steps]
    itself = ITSELF.search(words)
    if steps == (step.id,) and not (itself is not None and itself["whole"]):
        # A bare "this" may be the last thing said ("tighten them; do this after step 12"): no reason to put the whole step off.
        after = [id for id in after if labels.place[id] < labels.place[step.id]]
    return _Turn(steps, tuple(after), tuple(before), source, CLOSE.search(words) is not None) if after or before else None


def _subject(labels: _Labels, step: Step, sentence: str) -> tuple[tuple[str, ...], str]:
    """The steps whose time the sentence tells, and its words from there on; no words if it tells no step's time."""
    these = THESE.search(sentence)
    if these is not None:
        first = these["label"] or these["first"] or these["coded"]
        named = labels.between(first, these["more"] or these["last"] or these["coded_last"], step)
        return (named or (step.id,)), sentence[these.end() :]
    if OPENING.match(sentence):
        return (step.id,), sentence
    starts = [match.start() for pattern in (HAVE_TO, ITSELF) if (match := pattern.search(sentence))]
    return (step.id,), sentence[min(starts) :] if starts else ""


def _by_act(frame: Frame, words: str) -> list[str]:
    """ "before you join anything": the first step that does it."""
    kinds = [kind for kind, pattern in CLOSING.items() if pattern.search(words)]
    turn = {id: place for place, id in enumerate(frame.order)}
    steps = [act.step for act in frame.acts if act.kind in kinds and act.step in turn]
    return [min(steps, key=lambda id: turn[id])] if steps else []


def _by_fitting(frame: Frame, labels: _Labels, step: Step, sentence: str) -> tuple[list[str], list[str]]:
    """The steps meant by "after the side collar and before the crown collar": those that put these on the same hoops."""
    if _AFTER_OR_BEFORE.search(sentence) is None:  # to look for each part would take long
        return [], []
    own = [call for call in frame.calls if call.step == step.id]
    hoops = {call.hoop for call in own if call.hoop is not None}
    parts = {call.part for call in own}
    after: list[str] = []
    before: list[str] = []
    for part in frame.parts:
        if part.name in parts:
            continue
        for match in re.finditer(rf"\b(?P<word>after|before)\s+(?:the|its|their)\s+{loose(part.name)}\b", sentence, re.IGNORECASE):
            steps = _put_on(frame.calls, part.name, hoops, step.id)
            places = sorted(labels.place[id] for id in steps if id in labels.place)
            if places:
                late = match["word"].lower() == "after"
                (after if late else before).append(labels.steps[places[-1] if late else places[0]].id)
    return after, before


def _put_on(calls: Iterable[Call], part: str, hoops: set[int], own: str) -> set[str]:
    return {call.step for call in calls if call.part == part and call.step != own and call.hoop in hoops and call.when == "before-joining"}


def _move(order: list[str], turn: _Turn) -> None:
    """Move the steps behind the last they follow, or in front of the first they precede, if they do not stand between these already."""
    steps = [id for id in order if id in turn.steps]
    if not steps:
        return
    at = {id: place for place, id in enumerate(order)}
    floor = max((at[id] for id in turn.after if id in at), default=-1)
    ceiling = min((at[id] for id in turn.before if id in at), default=len(order))
    between = floor < min(at[id] for id in steps) and max(at[id] for id in steps) < ceiling
    if floor >= ceiling or (between and not (turn.close and floor >= 0)):
        return
    target = order[floor + 1 : floor + 2] if floor >= 0 else order[ceiling : ceiling + 1]
    rest = [id for id in order if id not in steps]
    place = next((i for i, id in enumerate(rest) if [id] == target), None)
    if place is None:  # what follows is itself one of the steps, or nothing does
        last = order[floor] if floor >= 0 else None
        place = rest.index(last) + 1 if last in rest else len(rest)
    order[:] = [*rest[:place], *steps, *rest[place:]]


def _as_wishes(turn: _Turn) -> list[OrderWish]:
    first = [OrderWish(other, id, turn.source) for id in turn.steps for other in turn.after]
    return first + [OrderWish(id, other, turn.source) for id in turn.steps for other in turn.before]
