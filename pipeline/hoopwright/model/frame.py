"""The frame with every call for a fitting resolved to a hoop (or other member) and a place. What scheduling reads; nothing needs more
reading."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hoopwright.model.outline import Outline, Source
from hoopwright.model.schedule import About, Finding, HoopCurve, Question, Side, Structure, When

Form = Literal["closed", "open", "fastener", "sleeve", "cover", "cap"]
ActKind = Literal["join", "stand", "fix", "part", "lift"]


@dataclass(frozen=True, slots=True)
class Doubt:
    """Why something read may be wrong, and the readings in words; becomes a question."""

    about: About
    message: str
    readings: tuple[str, ...] = ()
    assumed: str | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """A kind of fitting in this kit. ``form``: closed = slides on over a tube's end; open = goes round a standing tube;
    fastener = bolt, screw, rivet, nut, washer; sleeve = inside or over a joint; cover = pad, tape; cap = closes an end.

    ``stated`` is False where the form is the trade's default and not the manual's word. ``width_mm`` is its length along the tube,
    ``size_mm`` the
    tube outside diameter it is made for, None if unknown (``other_sizes_mm``: of the bar that it also takes).
    ``may_open``: fittings of its kind are as often screwed on or laid round as slid on.
    ``listed`` is the parts list's number; ``in_list`` says whether a list names it.
    """

    name: str
    code: str | None
    form: Form
    stated: bool
    listed: int | None = None
    in_list: bool = False
    width_mm: float | None = None
    size_mm: float | None = None
    size_text: str | None = None
    option_only: str | None = None
    source: Source | None = None
    other_sizes_mm: tuple[float, ...] = ()
    is_fitting: bool = True  # False: a tube, post, board or tool of the parts list
    may_open: bool = False


@dataclass(frozen=True, slots=True)
class Call:
    """One fitting called for at one place. ``hoop`` is 1..N or None for another member; ``tube`` indexes ``Frame.tubes``.

    ``id`` is unique ("C12"); ``anchor`` is the id of the call that ``offset_mm`` is measured from; ``holds`` the id of the call that
    this fastener closes.
    ``towards`` is +1/-1 along the hoop (left foot to right foot) for an offset from a joint, end or another fitting, None if unknown.
    ``enters`` is -1/+1 where the manual says that it goes on over its tube's end nearer the left/right foot ("over the lower end").
    ``carries`` is the name of the bar that it holds to the hoop (``Bar.name``), None if the manual does not say.
    """

    id: str
    part: str  # Part.name
    quantity: int
    hoop: int | None
    member: str
    step: str
    source: Source
    when: When
    tube: int | None = None
    side: Side | None = None
    datum: str | None = None
    offset_mm: float | None = None
    along_mm: float | None = None
    anchor: str | None = None
    towards: int | None = None
    holds: str | None = None
    option: str | None = None
    assumed: tuple[str, ...] = ()
    late: bool = False  # the manual itself says that it waits for a later step
    place_text: str | None = None
    enters: int | None = None
    carries: str | None = None


@dataclass(frozen=True, slots=True)
class Act:
    """Something a step does to hoops that closes or opens ways along the tubes.

    ``join``: tubes pushed together at ``joints`` (indices, left to right; empty: all). ``fix``: screws, bolts or rivets through those
    joints.
    ``stand``: feet put on ground tubes (``feet``: left, right); ``lift``: taken off them again. ``part``: joints taken apart.
    ``sequence`` orders acts and calls inside a step. ``passable``: joined, but the manual says that a fitting still passes the joint.
    """

    kind: ActKind
    hoops: tuple[int, ...]
    step: str
    source: Source
    joints: tuple[int, ...] = ()
    feet: tuple[Side, ...] = ("left", "right")
    sequence: int = 0
    passable: bool = False


@dataclass(frozen=True, slots=True)
class Bar:
    """A member that is not a hoop: ridge bar, purlin, crop bar, brace, rail, post. ``hoops`` it meets; ``step`` that puts it up."""

    name: str
    hoops: tuple[int, ...]
    step: str
    size_mm: float | None = None


@dataclass(frozen=True, slots=True)
class OrderWish:
    """The manual wants ``first`` done before ``then``: step ids or call ids, with its words."""

    first: str
    then: str
    source: Source


@dataclass(frozen=True, slots=True)
class Tube:
    """A tube of every hoop, numbered from the left foot. Lengths in mm along the centre line, None where unknown."""

    name: str
    side: Side
    start_mm: float | None = None
    end_mm: float | None = None
    size_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Frame:
    """All that scheduling needs. ``order`` holds the step ids in the order the manual has them worked."""

    outline: Outline
    structure: Structure
    tubes: tuple[Tube, ...]
    parts: tuple[Part, ...]
    calls: tuple[Call, ...]
    acts: tuple[Act, ...]
    bars: tuple[Bar, ...]
    wishes: tuple[OrderWish, ...]
    findings: tuple[Finding, ...]
    questions: tuple[Question, ...]
    order: tuple[str, ...]
    curve: HoopCurve | None = None
    call_sequence: tuple[tuple[str, int], ...] = ()  # (call id, place inside its step), where a step both adds and joins
    options: tuple[str, ...] = ()
    tube_size_mm: float | None = None
