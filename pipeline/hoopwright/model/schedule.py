"""What the tool promises: placements, counts, warnings, questions. Lengths are millimetres; unknown is None."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from hoopwright.model.connections import Connections
from hoopwright.model.outline import Source

When = Literal["before-joining", "at-joining", "any-time"]
Side = Literal["left", "right", "centre"]
WarningCode = Literal["trapped", "blocked", "conflict", "clash", "loop", "mismatch", "short", "unlisted", "unused"]
About = Literal["quantity", "fitting", "member", "position", "order", "reference"]


@dataclass(frozen=True, slots=True)
class DocumentInfo:
    """One input file."""

    id: str
    name: str
    pages: int
    sha256: str


@dataclass(frozen=True, slots=True)
class Hoop:
    """``id`` H1…HN from the front; ``station_mm`` is the distance from H1, None if unknown."""

    id: str
    role: Literal["end", "intermediate"]
    station_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Structure:
    """What the manual says of the frame."""

    hoops: tuple[Hoop, ...]
    width_mm: float | None = None
    height_mm: float | None = None
    length_mm: float | None = None
    spacing_mm: float | None = None
    sections_per_hoop: int | None = None
    shape: str | None = None


@dataclass(frozen=True, slots=True)
class StepInfo:
    """A step as the schedule shows it; ``section`` is the title it stands under."""

    id: str
    document: str
    label: str | None
    section: str | None
    option: str | None
    page: int
    text: str


@dataclass(frozen=True, slots=True)
class Placement:
    """One place on the frame; the fields are those of the schedule file. ``hoop`` is "H3" or None for another member."""

    id: str
    fitting: str
    code: str | None
    quantity: int
    hoop: str | None
    member: str
    section: str | None
    side: Side | None
    datum: str | None  # ground, foot, ridge, joint, end, or another placement's id
    offset_mm: float | None
    along_mm: float | None
    when: When
    thread_order: int | None
    step: str
    source: Source
    option: str | None = None
    assumed: tuple[str, ...] = ()
    thread_end: str | None = None  # "left tube, upper end": the open end it goes on from; not in the file
    loose: str | None = None  # words of the manual for where it sits when no distance is known; not in the file


@dataclass(frozen=True, slots=True)
class PartBalance:
    """A part of the list against what the steps use. ``listed`` None: the list lacks it or gives no number."""

    fitting: str
    code: str | None
    listed: int | None
    needed: int
    difference: int | None
    in_list: bool = True


@dataclass(frozen=True, slots=True)
class Finding:
    """A warning. ``message`` says what was found and why it matters; ``advice`` what to do; ``sources`` each side's words."""

    code: WarningCode
    fitting: str | None
    hoops: tuple[str, ...]
    steps: tuple[str, ...]
    message: str
    advice: str
    id: str = ""
    sources: tuple[Source, ...] = ()


@dataclass(frozen=True, slots=True)
class Question:
    """A place where the manual can be read in more than one way, or leaves something out. ``assumed`` is the reading in use."""

    about: About
    fitting: str | None
    hoops: tuple[str, ...]
    step: str | None
    message: str
    readings: tuple[str, ...]
    assumed: str | None
    id: str = ""
    source: Source | None = None
    key: str = ""  # what an answer is filed under: the sentence and what was asked


@dataclass(frozen=True, slots=True)
class Move:
    """A step of the revised order that does not stand where the manual has it, and why."""

    step: str
    before: str | None  # the step it now stands in front of; None: at the end
    reason: str
    fitting: str | None = None
    hoops: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Schedule:
    """Everything that reports show. ``counts`` etc. are as in the schedule file; the rest feeds sheets and drawings."""

    documents: tuple[DocumentInfo, ...]
    structure: Structure
    steps: tuple[StepInfo, ...]
    placements: tuple[Placement, ...]
    counts: dict[str, dict[str, int]]
    elsewhere: dict[str, dict[str, int]]
    before_joining: dict[str, dict[str, int]]
    parts: tuple[PartBalance, ...]
    warnings: tuple[Finding, ...]
    questions: tuple[Question, ...]
    title: str = ""
    options: tuple[str, ...] = ()
    cautions: tuple[Source, ...] = ()  # the manual's own safety call-outs
    moves: tuple[Move, ...] = ()
    work_order: tuple[str, ...] = ()  # step ids in the revised order
    tubes: tuple[TubeInfo, ...] = ()  # the tubes of one hoop, left foot to right foot
    shape: HoopCurve | None = None
    connections: Connections = field(default_factory=Connections)


@dataclass(frozen=True, slots=True)
class TubeInfo:
    """A tube of a hoop: name as the manual has it, and where it runs along the hoop, None where unknown."""

    name: str
    start_mm: float | None
    end_mm: float | None


@dataclass(frozen=True, slots=True)
class HoopCurve:
    """The hoop's centre line from left foot to right foot: points (x, height, along) in mm, x 0 in the middle, dense enough to draw."""

    points: tuple[tuple[float, float, float], ...]
    length_mm: float
    joints_mm: tuple[float, ...] = ()
    stated: bool = True  # False: drawn from too few facts, for the picture only
    extra: dict[str, float] = field(default_factory=dict)
