"""What the sentences of a manual say, still in the manual's own terms: "each end hoop", "one on either side", "300 mm above the foot"."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Literal

from hoopwright.model.frame import Doubt
from hoopwright.model.outline import Source

SelectorKind = Literal[
    "all",
    "end",
    "inner",
    "numbers",
    "nth",
    "odd",
    "even",
    "first",
    "last",
    "middle",
    "rest",
    "except",
    "door",
    "far",
    "topic",
    "join",
    "and",
]


@dataclass(frozen=True, slots=True)
class Selector:
    """Which hoops. ``numbers`` 1-based, negative from the far end (-1 = last); ``step``/``start`` for every n-th; ``of`` what
    rest/except are taken from.

    ``each`` is True where the words share out ("each", "every", "per"), False for a bare plural ("the end hoops"), which may mean a total.
    """

    kind: SelectorKind
    numbers: tuple[int, ...] = ()
    start: int = 1
    step: int = 1
    of: tuple[Selector, ...] = ()
    each: bool = False
    from_far: bool = False
    text: str = ""
    stated: int | None = None  # "all five hoops": the number said


@dataclass(frozen=True, slots=True)
class Amount:
    """How many. ``value`` is the number to count (the lower end of a range); ``high`` the upper end; None: no number given.

    ``open`` is "range", "as-required", "none" or "approx" where the number is open.
    """

    value: int | None
    high: int | None = None
    open: str | None = None
    text: str = ""
    each: bool = False  # "two each", "one apiece"
    total: bool = False  # "24 in all"


@dataclass(frozen=True, slots=True)
class Unit:
    """Where on the hosts, as a kind of place that repeats: every tube, side, joint, foot, end, crossing, bay, or another member.

    ``number`` is how many of them a host has when the words say so ("its two joints"); ``each`` as in Selector.
    """

    kind: Literal["tube", "side", "joint", "foot", "end", "ridge", "crossing", "bay", "member", "fitting", "shoulder"]
    name: str = ""
    side: str | None = None
    each: bool = False
    number: int | None = None
    plural: bool = False
    det: str | None = None


@dataclass(frozen=True, slots=True)
class Place:
    """A position. ``datum`` is ground, foot, ridge, joint, end, shoulder, fitting; ``offset_mm`` from it; ``way`` up, down, left, right,
    in, out, along.

    ``both`` is True for "either side of"; ``part`` the fitting it is measured from; ``height`` True when measured plumb above ground.
    ``fraction`` with ``datum``..``other``: midway = 0.5.
    """

    datum: str | None = None
    offset_mm: float | None = None
    way: str | None = None
    side: str | None = None
    both: bool = False
    part: str | None = None
    height: bool | None = None
    figure: bool = False
    same_as: str | None = None  # "at the same height as before": the part, or "" for the part itself
    text: str = ""
    count: int | None = None  # "one … and one …": how many go here
    tube: str | None = None
    fraction: float | None = None
    inside: str | None = None  # inside / outside / front / back face
    each: bool = False  # measured from each of the landmarks: "300 mm from each joint"


EventKind = Literal["add", "copy", "act", "rule", "claim", "rows", "topic", "remove", "correct", "wish", "bar", "ask"]


@dataclass(frozen=True, slots=True)
class Event:
    """One thing that a clause says. Which fields are set depends on ``kind``.

    add: ``parts`` (candidate names, best first), ``amount``, ``hoops``, ``units``, ``places``; ``definite`` if it may only speak of what
    is on already.
    copy: ``hoops`` get what ``like`` (or the running topic, or ``steps``) has; ``side`` True: the other side of the same hoops.
    act: ``act`` join, fix, stand, part on ``hoops``. rule: each of ``parts`` takes ``amount`` of ``fastener``. claim: a statement to check.
    rows: the table rows ``rows`` of ``table`` are carried out now.
    """

    kind: EventKind
    step: str
    source: Source
    parts: tuple[str, ...] = ()
    amount: Amount | None = None
    hoops: Selector | None = None
    units: tuple[Unit, ...] = ()
    places: tuple[Place, ...] = ()
    definite: bool = False
    more: bool = False
    member: str | None = None
    like: Selector | None = None
    steps: tuple[str, ...] = ()
    side: bool = False
    act: str | None = None
    fastener: str | None = None
    owners: tuple[str, ...] = ()
    rows: tuple[int, ...] = ()
    table: str | None = None
    holds: int | None = None  # index of the event in the same clause that this fastener closes
    per: str | None = None  # what the amount is for one of: "hoop", "joint", "fitting", "bar"…
    slide: bool | None = None  # the clause's own word on how it goes on
    early: bool = False  # "before joining"
    late: bool = False
    doubts: tuple[Doubt, ...] = ()
    verb: str | None = None
    text: str = ""
    group: int = 0  # the clause it came from
    bar: str | None = None
    option: str | None = None
    entries: tuple[str, ...] = ()  # grammar entries that were used
    within: tuple[str, ...] = ()  # rule: only for those owners that themselves fasten one of these


@dataclass(frozen=True, slots=True)
class StepReading:
    """What one sentence gave, for the x-ray: its words, its events, and why nothing if there are none."""

    step: str
    source: Source
    events: tuple[Event, ...]
    why_none: str | None = None


@dataclass(frozen=True, slots=True)
class ToldPlace:
    """A place that is told of a fitting besides the sentence that puts it on; ``hoops`` None: of whichever it is on.

    ``shown`` is True for captions, tables and summaries, which only repeat what the steps do.
    """

    part: str
    hoops: Selector | None
    place: Place
    step: str
    source: Source
    shown: bool = False


@dataclass(frozen=True, slots=True)
class BarPut:
    """A bar that a step puts up; ``parts`` are the fittings that it is put through or into ("through the ridge clips").

    ``put`` is False where the step only speaks of the bar, and none was found that puts it up.
    """

    name: str
    step: str
    parts: tuple[str, ...] = ()
    put: bool = True


@dataclass(frozen=True, slots=True)
class Facts:
    """What the manual says of the frame; lengths in mm, each with the words it came from under ``sources``."""

    hoops: int | None = None
    width_mm: float | None = None
    length_mm: float | None = None
    height_mm: float | None = None
    spacing_mm: float | None = None
    sections: int | None = None
    shape: str | None = None
    leg_mm: float | None = None
    radius_mm: float | None = None
    tube_size_mm: float | None = None
    tube_sizes: tuple[tuple[str, float], ...] = ()  # where the hoop's tubes differ
    tube_lengths: tuple[tuple[str, float], ...] = ()  # by name without its side; "*": all of them
    hoop_length_mm: float | None = None  # along the tube from foot to foot
    hidden_mm: float | None = None  # of each length in the next tube, 0 where lengths are as they show; None: not said
    upright_mm: float | None = None  # the legs are straight and upright at least so far up
    joint_height_mm: float | None = None  # of the lowest joint above ground
    foot_mm: float | None = None  # the feet above ground
    disagreements: tuple[tuple[str, float, float, Source, Source], ...] = ()  # one tube's length stated twice: key, mm, mm, where, where
    hoop_totals: tuple[tuple[int, Source], ...] = ()  # every statement of how many hoops there are in all
    joints: int | None = None
    tubes: tuple[tuple[str, str], ...] = ()  # (name, side) from the left foot
    door_end: str = "first"
    sources: dict[str, Source] = field(default_factory=dict)
    doubts: tuple[Doubt, ...] = ()
