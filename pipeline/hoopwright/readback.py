"""What was understood, sentence by sentence: the manual's words, and under them what they were taken to say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hoopwright.model.events import Amount, Event, Place, Selector, StepReading, Unit
from hoopwright.model.outline import Outline, Step
from hoopwright.reporting.lengths import Units, length
from hoopwright.reporting.text import shown

_VERBS = {
    "add": "adds",
    "copy": "again as before",
    "rule": "rule",
    "claim": "to be checked",
    "rows": "carries out a table",
    "topic": "from here on speaks of",
    "remove": "takes away",
    "correct": "corrects",
    "wish": "order",
    "bar": "puts up",
    "ask": "leaves open, and asks",
}
_ACTS = {
    "join": "pushes tubes together",
    "fix": "fixes joints",
    "stand": "stands on the ground tubes",
    "part": "takes apart",
    "lift": "lifts off the ground tubes",
}


def lines_of(outline: Outline, sentences: Sequence[StepReading], step: str | None = None, units: Units = "metric") -> Iterator[str]:
    """The read-back as lines of text, safe to print. ``step`` is a printed step label; None: every step.

    A label that the manual does not have gives nothing; ``labels_of`` lists those it has.
    """
    steps = {item.id: item for item in outline.steps}
    names = {document.id: document.name for document in outline.documents}
    current = None
    for sentence in sentences:
        of = steps[sentence.step]
        if step is not None and not _same_label(of.label, step):
            continue
        if of.id != current:
            if current is not None:
                yield ""
            yield _head(of, names if len(names) > 1 else {})
            current = of.id
        yield f"  “{shown(sentence.source.quote)}”"
        for event in sentence.events:
            yield f"      {event_words(event, units)}"
            for doubt in event.doubts:
                yield f"          unsure: {shown(doubt.message)}"
        if not sentence.events:
            yield f"      nothing{f': {shown(sentence.why_none)}' if sentence.why_none else ''}"


def labels_of(outline: Outline) -> list[str]:
    """The step labels as printed, each once, in order."""
    return list(dict.fromkeys(shown(step.label) for step in outline.steps if step.label))


def _same_label(label: str | None, wanted: str) -> bool:
    return label is not None and label.strip("().: ").casefold() == wanted.strip("().: ").casefold()


def _head(step: Step, names: dict[str, str]) -> str:
    where = f"{shown(names[step.document])}, page {step.page}" if names else f"page {step.page}"
    title = f"step {shown(step.label)}" if step.label else "unnumbered paragraph"
    return f"{title} ({where}){f', optional extra “{shown(step.option)}”' if step.option else ''}"


def event_words(event: Event, units: Units = "metric") -> str:
    """One event on one line: what it does, then the hoops, the members and the places, parted by middle dots."""
    parts = [_what(event)]
    if event.hoops is not None:
        parts.append(_hoops(event.hoops))
    parts += [_unit(unit) for unit in event.units]
    if event.member and not event.units:
        parts.append(event.member)
    parts += [_place(place, units) for place in event.places]
    if event.slide is not None:
        parts.append("slides on" if event.slide else "goes round the tube")
    if event.early:
        parts.append("before joining")
    if event.late:
        parts.append("waits for a later step")
    if event.definite:
        parts.append("may speak of what is on already")
    return shown(" · ".join(part for part in parts if part))


def _what(event: Event) -> str:
    if event.kind == "act":
        return _ACTS.get(event.act or "", event.act or "acts")
    if event.kind == "rule":
        owners = ", ".join(event.owners) or "fitting"
        return f"rule: each {owners} takes {_amount(event.amount)} × {event.fastener or ' or '.join(event.parts)}"
    words = [_VERBS[event.kind]]
    if event.parts:
        amount = f"{_amount(event.amount)} × " if event.kind in ("add", "remove") else ""
        words.append(amount + " or ".join(event.parts))
    if event.bar:
        words.append(event.bar)
    if event.steps:
        words.append("steps " + ", ".join(event.steps))
    if event.rows:
        words.append("rows " + ", ".join(str(row + 1) for row in event.rows))
    return " ".join(words)


def _amount(amount: Amount | None) -> str:
    if amount is None or amount.value is None:
        return "an open number of"
    text = f"{amount.value} to {amount.high}" if amount.high else str(amount.value)
    return text + (" in all" if amount.total else " each" if amount.each else "")


def _hoops(selector: Selector) -> str:
    if selector.numbers and selector.kind == "numbers":
        return f"hoop{'s' if len(selector.numbers) > 1 else ''} " + ", ".join(map(str, selector.numbers))
    return f"hoops: {selector.text or selector.kind}"


def _unit(unit: Unit) -> str:
    words = ["each" if unit.each else str(unit.number) if unit.number else "", unit.side or "", unit.name or unit.kind]
    return " ".join(word for word in words if word)


def _place(place: Place, units: Units) -> str:
    if place.offset_mm is None or place.datum is None:
        return f"at “{place.text}”" if place.text else place.datum or ""
    way = f" {place.way}" if place.way else ""
    start = place.part if place.datum == "fitting" and place.part else place.datum
    return f"{length(place.offset_mm, units)}{way} from the {start}" + (", both sides" if place.both else "")
