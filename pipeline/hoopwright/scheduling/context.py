"""A frame with the look-ups that every part of scheduling needs, made once."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from math import hypot

from hoopwright.model.frame import Call, Frame, Part
from hoopwright.model.outline import Source, Step

FIRST = -1  # "before the first step" as a step index


@dataclass(frozen=True)
class Context:
    """``frame`` and what is looked up in it; nothing here is changed after it is made."""

    frame: Frame

    @cached_property
    def steps(self) -> dict[str, Step]:
        return {step.id: step for step in self.frame.outline.steps}

    @cached_property
    def order(self) -> tuple[str, ...]:
        """All step ids in the order of work; a step that the frame's order lacks follows the step printed before it.

        Steps that only calls, acts or bars name come last, so that every one of them has its place.
        """
        order = tuple(dict.fromkeys(self.frame.order))
        known = set(order)
        behind: dict[str | None, list[str]] = {}  # what the order lacks, by the step that it is printed behind
        previous: str | None = None
        for step in self.frame.outline.steps:
            if step.id in known:
                previous = step.id
            else:
                behind.setdefault(previous, []).append(step.id)
        whole = [*behind.get(None, ()), *(id for step_id in order for id in (step_id, *behind.get(step_id, ())))]
        used = (item.step for items in (self.frame.calls, self.frame.acts, self.frame.bars) for item in items)
        return tuple(dict.fromkeys((*whole, *used)))

    @cached_property
    def index(self) -> dict[str, int]:
        return {id: place for place, id in enumerate(self.order)}

    @cached_property
    def parts(self) -> dict[str, Part]:
        return {part.name: part for part in self.frame.parts}

    @cached_property
    def listed_bars(self) -> tuple[tuple[str, float], ...]:
        """(name, size in mm) of the bars, rails and other members of the parts list that are no fittings and whose size is printed."""
        return tuple((part.name, part.size_mm) for part in self.frame.parts if not part.is_fitting and part.size_mm is not None)

    @cached_property
    def calls(self) -> dict[str, Call]:
        return {call.id: call for call in self.frame.calls}

    @cached_property
    def sequence(self) -> dict[str, int]:
        return dict(self.frame.call_sequence)

    @cached_property
    def hoop_ids(self) -> tuple[str, ...]:
        return tuple(hoop.id for hoop in self.frame.structure.hoops)

    @cached_property
    def hoop_calls(self) -> dict[int, tuple[Call, ...]]:
        """The calls on each hoop (1..N), in the manual's order of work."""
        found: dict[int, list[Call]] = {number: [] for number in range(1, len(self.hoop_ids) + 1)}
        for call in self.frame.calls:
            if call.hoop is not None:
                found.setdefault(call.hoop, []).append(call)
        return {hoop: tuple(sorted(calls, key=self.when_called)) for hoop, calls in found.items()}

    @cached_property
    def tube_count(self) -> int:
        return max(1, len(self.frame.tubes))

    @cached_property
    def half_mm(self) -> float | None:
        """The straight line from foot to ridge in mm, where the hoop is two halves and the manual gives width and height; else None."""
        facts = self.frame.structure
        if self.tube_count != 2 or facts.width_mm is None or facts.height_mm is None:
            return None
        return hypot(facts.width_mm / 2, facts.height_mm)

    @cached_property
    def many_documents(self) -> bool:
        return len(self.frame.outline.documents) > 1

    @cached_property
    def document_names(self) -> dict[str, str]:
        return {document.id: document.name for document in self.frame.outline.documents}

    @cached_property
    def turn(self) -> dict[str, tuple[int, int, int]]:
        """For each call id (step's place, place inside the step, place in the frame): the order in which the manual has them worked."""
        return {call.id: (self.index[call.step], self.sequence.get(call.id, FIRST), place) for place, call in enumerate(self.frame.calls)}

    def when_called(self, call: Call) -> tuple[int, int, int]:
        """Sort key: the call's ``turn``."""
        return self.turn[call.id]

    def part(self, call: Call) -> Part:
        """The call's part; one that the frame does not know is taken for a closed fitting, the careful side."""
        return self.parts.get(call.part) or Part(call.part, None, "closed", stated=False)

    def fills_joint(self, call: Call) -> bool:
        """Whether the call is a sleeve, bolt or screw of a joint: its step joins the tubes, even if no sentence was read that says so."""
        return call.hoop is not None and call.when == "at-joining" and (self.part(call).form == "sleeve" or call.datum == "joint")

    @cached_property
    def joints_filled(self) -> int:
        """The place of the last step that fills a joint on any hoop; -1 if none does."""
        return max((self.index[call.step] for call in self.frame.calls if self.fills_joint(call)), default=-1)

    def hoop_id(self, number: int) -> str:
        return self.hoop_ids[number - 1] if 0 < number <= len(self.hoop_ids) else f"H{number}"

    def step_name(self, id: str) -> str:
        """How a message speaks of a step: "step 12", or the page and first words where no label is printed."""
        step = self.steps.get(id)
        if step is None:
            return f"step {id}"
        name = self.document_names.get(step.document, step.document)
        if step.label is not None:
            return f"step {step.label}" + (f" of {name}" if self.many_documents else "")
        words = step.title or " ".join(step.text.split()[:6])
        return f"the passage on page {step.page}" + (f" of {name}" if self.many_documents else "") + (f" (“{words} …”)" if words else "")

    def step_source(self, id: str) -> Source | None:
        """The step's own words as a source; None for a step without words."""
        step = self.steps.get(id)
        return None if step is None or not step.items else step.items[0].passage.source()
