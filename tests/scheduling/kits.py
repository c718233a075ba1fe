"""Frames for the tests, built by hand: a kit is a list of steps, each with the calls and acts that it makes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from hoopwright.model.document import Document, Line
from hoopwright.model.frame import Act, ActKind, Bar, Call, Form, Frame, OrderWish, Part, Tube
from hoopwright.model.outline import Item, Outline, Passage, Run, Section, Source, Step
from hoopwright.model.schedule import Finding, Hoop, Question, Side, Structure, When

WHEN: dict[str, When] = {"closed": "before-joining", "sleeve": "at-joining"}  # all other forms: any-time


@dataclass
class Kit:
    """``tubes``: (name, side, start, end). Steps are added with ``step``; what follows belongs to the last one added."""

    hoops: int = 3
    tubes: Sequence[tuple[str, Side, float | None, float | None]] = (("left tube", "left", None, None), ("right tube", "right", None, None))
    parts: dict[str, Part] = field(default_factory=dict)
    calls: list[Call] = field(default_factory=list)
    acts: list[Act] = field(default_factory=list)
    bars: list[Bar] = field(default_factory=list)
    wishes: list[OrderWish] = field(default_factory=list)
    findings: list[Finding] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    sequence: dict[str, int] = field(default_factory=dict)
    texts: list[str] = field(default_factory=list)
    options: tuple[str, ...] = ()
    tube_size_mm: float | None = None
    tube_sizes: Sequence[float | None] = ()

    def part(self, name: str, form: Form = "closed", **more: Any) -> str:
        self.parts[name] = Part(name, more.pop("code", None), form, stated=more.pop("stated", True), **more)
        return name

    def step(self, text: str) -> str:
        self.texts.append(text)
        return self.id

    @property
    def id(self) -> str:
        return f"S{len(self.texts)}"

    @property
    def source(self) -> Source:
        start = sum(len(text) + 1 for text in self.texts[:-1])
        return Source("D1", 1, start, start + len(self.texts[-1]), self.texts[-1])

    def call(self, part: str, hoops: Iterable[int] | None = None, **more: Any) -> list[str]:
        """One call for each hoop (all by default; ``hoops=()`` for another member, named by ``member``)."""
        if part not in self.parts:
            self.part(part)
        on: list[int | None] = list(range(1, self.hoops + 1)) if hoops is None else list(hoops) or [None]
        order = more.pop("order", None)
        made: list[str] = []
        for hoop in on:
            id = f"C{len(self.calls) + 1}"
            when = WHEN.get(self.parts[part].form, "any-time")
            values: dict[str, Any] = {"quantity": 1, "member": "hoop", "when": when, "step": self.id, "source": self.source}
            values.update(more)
            self.calls.append(Call(id=id, part=part, hoop=hoop, **values))
            if order is not None:
                self.sequence[id] = order
            made.append(id)
        return made

    def act(self, kind: ActKind, hoops: Iterable[int] | None = None, **more: Any) -> None:
        on = tuple(range(1, self.hoops + 1) if hoops is None else hoops)
        self.acts.append(Act(kind, on, self.id, self.source, **more))

    def wish(self, first: str, then: str) -> None:
        self.wishes.append(OrderWish(first, then, self.source))

    def frame(self, **more: Any) -> Frame:
        text = "\n".join(self.texts)
        starts = [sum(len(other) + 1 for other in self.texts[:i]) for i in range(len(self.texts))]
        lines = tuple(Line(line, 1, start) for line, start in zip(self.texts, starts, strict=True))
        document = Document("D1", "kit.txt", "text", 1, "0" * 64, text, lines)
        section = Section("A", "D1", "Steps", 1, "build")
        steps = tuple(
            Step(f"S{i}", "D1", str(i), "A", None, 1, (Item("text", Passage(line, "D1", (Run(0, start, len(line), 1),))),))
            for i, (line, start) in enumerate(zip(self.texts, starts, strict=True), start=1)
        )
        sizes = list(self.tube_sizes) or [None] * len(self.tubes)
        tubes = tuple(Tube(*tube, size_mm=size) for tube, size in zip(self.tubes, sizes, strict=True))
        hoops = tuple(Hoop(f"H{n}", "end" if n in (1, self.hoops) else "intermediate") for n in range(1, self.hoops + 1))
        frame = Frame(
            outline=Outline((document,), (section,), steps, (), "A kit"),
            structure=Structure(hoops, sections_per_hoop=len(tubes)),
            tubes=tubes,
            parts=tuple(self.parts.values()),
            calls=tuple(self.calls),
            acts=tuple(self.acts),
            bars=tuple(self.bars),
            wishes=tuple(self.wishes),
            findings=tuple(self.findings),
            questions=tuple(self.questions),
            order=tuple(step.id for step in steps),
            call_sequence=tuple(self.sequence.items()),
            options=self.options,
            tube_size_mm=self.tube_size_mm,
        )
        return replace(frame, **more)
