"""A hoop's shape from whatever the manual states. Places on the shape are in ``shape``, its lines and arcs in ``curve``.

Data that say more than needed are checked against each other; data that say too little give a shape for the picture only, or none, and
``position_question`` makes the question for a place that needs it. Never a statement about strength.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from math import hypot, pi
from typing import Literal

from hoopwright.framing.curve import Path, arc_hoop, bend_of_arc, drawn, pointed_hoop, rise_of, rise_of_arc, root, segment, upright_radius
from hoopwright.framing.shape import HoopShape
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Finding, HoopCurve, Question

Kind = Literal["half", "arc", "pointed"]

NEAR_MM = 10.0  # rounding that a manual may leave between two facts
NEAR_SHARE = 0.005  # or half a per cent of the larger; common practice, no source
HIDDEN_MM = 150.0  # most that a tube usually reaches into the next (75 to 150 mm: common practice, no source)

POINTED = re.compile(r"\b(?:point\w*|gothic|ogiv\w*|peaked)\b", re.IGNORECASE)
HALF = re.compile(r"\b(?:half[\s-]*(?:a\s+)?circ\w*|semi[\s-]*circ\w*|half[\s-]*round)\b", re.IGNORECASE)
ARC = re.compile(r"\b(?:arcs?|segments?|(?:single|one|plain|simple|flat(?:ter)?|shallow) (?:curve|bend|arch))\b", re.IGNORECASE)
PLAIN = re.compile(r"\b(?:plain|simple|single|without (?:straight )?legs?|no legs?)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class HoopFacts:
    """What the manual states of one hoop, all in mm, None where it says nothing.

    ``shape``: its words ("half circle", "pointed arch", "arc"). ``width_mm``: centre to centre at the feet. ``height_mm``: ridge above
    ground. ``leg_mm``: ground to where the bend begins, 0 for "no legs". ``radius_mm``: of the bend. ``rise_mm``: of the bend above the
    legs. ``tubes_mm``: visible length of each tube from the left foot, None for one not given. ``hidden_mm``: how much of each joint's
    tube is hidden in the next, 0 if the lengths are without it, None if the manual does not say. ``foot_mm``: the feet above ground.
    ``joint_heights_mm``: height of each joint from the left. ``whole_mm``: along the tube from foot to foot. ``upright_mm``: a height up
    to which the legs are straight and upright at least (a straight lowest tube; the bend may begin above it). ``sources``: the words
    behind each field, by field name.
    """

    shape: str | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    leg_mm: float | None = None
    radius_mm: float | None = None
    rise_mm: float | None = None
    tubes_mm: tuple[float | None, ...] = ()
    hidden_mm: float | None = None
    foot_mm: float = 0.0
    joint_heights_mm: tuple[float | None, ...] = ()
    whole_mm: float | None = None
    upright_mm: float | None = None
    sources: Mapping[str, Source] = field(default_factory=dict)

    @property
    def tube_total(self) -> float | None:
        """All visible tube lengths together; where one is not given, the whole hoop's length, if that is."""
        known = [tube for tube in self.tubes_mm if tube is not None]
        if not self.tubes_mm or len(known) < len(self.tubes_mm):
            return self.whole_mm
        return sum(known) - (self.hidden_mm or 0.0) * (len(known) - 1)


@dataclass(frozen=True, slots=True)
class Built:
    """``shape`` to place things on; ``curve`` to draw (``stated`` False: a guess, for the picture only); ``findings`` contradictions.

    ``missing`` names the facts of which any one more would settle the shape; ``assumed`` what was taken for granted on the way.
    """

    shape: HoopShape
    curve: HoopCurve | None
    findings: tuple[Finding, ...] = ()
    missing: tuple[str, ...] = ()
    assumed: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Form:
    """One way to read the facts: the hoop's measures, and whether the facts leave no other."""

    kind: Kind
    width: float
    leg: float
    rise: float
    radius: float
    path: Path
    sure: bool


def near(a: float, b: float) -> bool:
    """Whether two lengths agree as far as a manual's rounding goes."""
    return abs(a - b) <= max(NEAR_MM, NEAR_SHARE * max(abs(a), abs(b)))


def kind_of(words: str | None) -> Kind | None:
    """The kind of bend that the words name, None if they name none."""
    if not words:
        return None
    return "pointed" if POINTED.search(words) else "half" if HALF.search(words) else "arc" if ARC.search(words) else None


def build_curve(facts: HoopFacts, hoops: Sequence[str] = ()) -> Built:
    """The hoop's shape from the facts. Never raises: facts that cannot be (a negative width) are treated as not stated.

    Parameters
    ----------
    facts: lengths in mm.
    hoops: ids that a ``conflict`` finding names.
    """
    facts = _possible(facts)
    if facts.leg_mm is not None or facts.upright_mm is None:
        return _settled(facts, hoops)
    to_joint = _settled(replace(facts, leg_mm=facts.upright_mm), hoops)
    if to_joint.shape.path is not None and not to_joint.findings:
        return to_joint
    free = _settled(facts, hoops)
    fits = free.shape.path is not None and not free.findings and (free.shape.leg_mm or 0.0) >= facts.upright_mm - NEAR_MM
    return free if fits else to_joint


def _settled(facts: HoopFacts, hoops: Sequence[str]) -> Built:
    """The shape where the leg, if it is given, ends where the bend begins."""
    kind = kind_of(facts.shape)
    form = _form(facts, kind) if kind is not None else _unnamed(facts)
    if form is None or not form.sure:
        return _lengths_only(facts, form, hoops)
    gaps = _gaps(facts, form)
    joints, assumed = _joints(facts, form.path.length, form.path)
    shape = HoopShape(form.path.length, joints, form.path.length / 2, form.path, form.leg, facts.foot_mm)
    finding = _conflict(facts, form, gaps, hoops)
    return Built(shape, _curve(form, joints), (finding,) if finding is not None else (), (), assumed)


def _possible(facts: HoopFacts) -> HoopFacts:
    """The facts without lengths that no hoop can have."""

    def positive(value: float | None) -> float | None:
        return value if value is not None and 0 < value < 1e6 else None

    leg = facts.leg_mm if facts.leg_mm is not None and 0 <= facts.leg_mm < 1e6 else None
    return HoopFacts(
        facts.shape, positive(facts.width_mm), positive(facts.height_mm), leg, positive(facts.radius_mm), positive(facts.rise_mm),
        tuple(positive(tube) for tube in facts.tubes_mm), facts.hidden_mm, facts.foot_mm, facts.joint_heights_mm,
        positive(facts.whole_mm), positive(facts.upright_mm), facts.sources,
    )  # fmt: skip


def _form(facts: HoopFacts, kind: Kind) -> _Form | None:
    return {"half": _half, "arc": _arc, "pointed": _pointed}[kind](facts)


def _half(facts: HoopFacts) -> _Form | None:
    """Legs and half a circle: the radius and the leg from any two facts that give them."""
    foot, height, total = facts.foot_mm, facts.height_mm, facts.tube_total
    radius = facts.width_mm / 2 if facts.width_mm is not None else facts.radius_mm or facts.rise_mm
    leg = facts.leg_mm if facts.leg_mm is not None else foot if PLAIN.search(facts.shape or "") else None
    if radius is None and leg is not None:
        radius = height - leg if height is not None else (total - 2 * (leg - foot)) / pi if total is not None else None
    if radius is None and height is not None and total is not None:
        radius = (total - 2 * (height - foot)) / (pi - 2)
    if radius is None or radius <= 0:
        return None
    if leg is None:
        leg = height - radius if height is not None else foot + (total - pi * radius) / 2 if total is not None else None
    if leg is None:
        return None
    leg = foot if abs(leg - foot) <= NEAR_MM and facts.leg_mm is None else leg
    return _made("half", 2 * radius, leg, radius, radius, foot, sure=True) if leg >= foot else None


def _arc(facts: HoopFacts) -> _Form | None:
    """Legs and one arc of any rise; where the leg is not stated, the tube's length tells it, or words such as "plain"."""
    foot, height = facts.foot_mm, facts.height_mm
    leg, told = _arc_leg(facts)
    rise = facts.rise_mm if facts.rise_mm is not None else height - leg if height is not None else None
    width = facts.width_mm
    bend = None if facts.tube_total is None else facts.tube_total - 2 * (leg - foot)
    if width is not None and rise is None:
        rise = rise_of(width, facts.radius_mm) if facts.radius_mm is not None else rise_of_arc(width, bend) if bend is not None else None
    if width is None and rise is not None and facts.radius_mm is not None and rise < 2 * facts.radius_mm:
        width = 2 * (2 * facts.radius_mm * rise - rise * rise) ** 0.5
    if width is None or rise is None or rise <= 0 or leg < foot:
        return None
    form = _made("arc", width, leg, rise, segment(width, rise)[0], foot, sure=told)
    if form is not None and not told and facts.radius_mm is not None and near(facts.radius_mm, form.radius):
        return replace(form, sure=True)
    return form


def _arc_leg(facts: HoopFacts) -> tuple[float, bool]:
    """The leg under a single arc, and whether the facts tell it; the foot (no leg) where they do not."""
    foot, height, width, total = facts.foot_mm, facts.height_mm, facts.width_mm, facts.tube_total
    if facts.leg_mm is not None:
        return facts.leg_mm, True
    if height is not None and facts.rise_mm is not None:
        return height - facts.rise_mm, True
    if PLAIN.search(facts.shape or ""):
        return foot, True
    if height is None or width is None or total is None:
        return foot, False
    whole = segment(width, height - foot)[2] if height > foot else 0.0
    if whole and near(total, whole):
        return foot, True
    leg = root(lambda leg: 2 * (leg - foot) + segment(width, height - leg)[2] - total, foot, height - 1.0) if height > foot + 1 else None
    return (foot, False) if leg is None else (leg, True)


def _pointed(facts: HoopFacts) -> _Form | None:
    """Legs (none, unless stated) and two arcs: the radius stated, or from the tube's length, or guessed so that they leave upright."""
    foot, width, total = facts.foot_mm, facts.width_mm, facts.tube_total
    leg = facts.leg_mm if facts.leg_mm is not None else foot
    rise = facts.rise_mm if facts.rise_mm is not None else facts.height_mm - leg if facts.height_mm is not None else None
    if width is None or rise is None or rise <= 0 or leg < foot:
        return None
    radius = facts.radius_mm
    if radius is None and total is not None:
        radius = bend_of_arc(hypot(width / 2, rise), (total - 2 * (leg - foot)) / 2)
    sure = radius is not None
    return _made("pointed", width, leg, rise, radius or upright_radius(width, rise), foot, sure=sure)


def _made(kind: Kind, width: float, leg: float, rise: float, radius: float, foot: float, *, sure: bool) -> _Form | None:
    path = pointed_hoop(width, leg, rise, radius, foot) if kind == "pointed" else arc_hoop(width, leg, rise, foot)
    return None if path is None else _Form(kind, width, leg, rise, radius, path, sure)


def _unnamed(facts: HoopFacts) -> _Form | None:
    """No words for the shape: the simplest shape that a fact beyond the needed ones confirms; else the likeliest, for the picture."""
    if facts.width_mm is None or (facts.height_mm is None and facts.rise_mm is None):
        return None
    forms = [form for form in (_half(facts), _arc(facts)) if form is not None]
    for form in forms:
        if not _gaps(facts, form) and _spare(facts, form):
            return form
    tall = (facts.height_mm or 0.0) - (facts.leg_mm or facts.foot_mm) >= facts.width_mm / 2
    guess = next((form for form in forms if form.kind == ("half" if tall else "arc")), None) or (forms[0] if forms else None)
    return None if guess is None else replace(guess, sure=False)


def _spare(facts: HoopFacts, form: _Form) -> bool:
    """Whether the facts say more than the form needs, so that their agreement confirms it."""
    radius_tells = facts.radius_mm is not None
    # A leg that was worked out from the tubes' length is not confirmed by it.
    leg_told = form.kind != "arc" or facts.leg_mm is not None or facts.rise_mm is not None or form.leg - facts.foot_mm < NEAR_MM
    tubes_tell = facts.tube_total is not None and leg_told
    # Width, height and leg fix any arc over legs; that the rise then is just half the width is no chance.
    half = form.kind == "half" and (facts.leg_mm is not None or near(facts.height_mm or 0.0, facts.foot_mm + form.radius))
    return radius_tells or tubes_tell or half


def _gaps(facts: HoopFacts, form: _Form) -> list[tuple[str, str, float, float]]:
    """(field, words, stated, computed) for every fact that the form does not meet."""
    computed = {
        "width_mm": ("width", form.width),
        "height_mm": ("height at the ridge", form.leg + form.rise),
        "leg_mm": ("leg", form.leg),
        "radius_mm": ("radius of the bend", form.radius),
        "rise_mm": ("rise of the bend", form.rise),
    }
    found = [
        (name, words, float(stated), value)
        for name, (words, value) in computed.items()
        if (stated := getattr(facts, name)) is not None and not near(stated, value)
    ]
    total = facts.tube_total
    if total is not None and not near(total, form.path.length):
        hidden = HIDDEN_MM * (len(facts.tubes_mm) - 1) if facts.hidden_mm is None else 0.0
        if not 0 <= total - form.path.length <= hidden:
            found.append(("tubes_mm", "tubes end to end", total, form.path.length))
    if facts.whole_mm is not None and total is not None and facts.whole_mm != total and not near(facts.whole_mm, form.path.length):
        found.append(("whole_mm", "tube from foot to foot", facts.whole_mm, form.path.length))
    return found


def _conflict(facts: HoopFacts, form: _Form, gaps: Sequence[tuple[str, str, float, float]], hoops: Sequence[str]) -> Finding | None:
    if not gaps:
        return None
    name = {"half": "legs and a half circle", "arc": "one arc", "pointed": "two arcs that meet in a point"}[form.kind]
    used = {"width_mm": form.width, "height_mm": form.leg + form.rise, "leg_mm": form.leg, "radius_mm": form.radius}
    words = {"width_mm": "width", "height_mm": "height", "leg_mm": "leg", "radius_mm": "radius"}
    agreed = [f"{words[key]} {used[key]:.0f} mm" for key in used if getattr(facts, key) is not None and key not in {gap[0] for gap in gaps}]
    parts = [
        f"the {text} is stated as {stated:.0f} mm but comes to {value:.0f} mm, {abs(stated - value):.0f} mm off"
        for _, text, stated, value in gaps
    ]
    message = (
        f"The sizes of the hoop do not fit together. Taken as {name} ({', '.join(agreed)}), {'; '.join(parts)}. "
        "Places measured from the ground or round the bend will be out by up to that much."
    )
    advice = "Measure one hoop when it lies on the ground, and trust the tape; until then the first set of sizes is used."
    sources = tuple(
        dict.fromkeys(facts.sources[key] for key in ("shape", *used, "rise_mm", "tubes_mm", "whole_mm") if key in facts.sources)
    )
    return Finding("conflict", None, tuple(hoops), (), message, advice, sources=sources)


def _too_short(facts: HoopFacts, hoops: Sequence[str]) -> Finding | None:
    """Tubes that together are shorter than two straight lines from the feet to the ridge: no bend makes such a hoop."""
    total, width, height = facts.tube_total, facts.width_mm, facts.height_mm
    if total is None or width is None or height is None:
        return None
    least = 2 * hypot(width / 2, height - facts.foot_mm)
    if total >= least or near(total, least):
        return None
    message = (
        f"The tubes of a hoop come to {total:.0f} mm end to end, but a hoop {width:.0f} mm wide and {height:.0f} mm high needs at least "
        f"{least:.0f} mm, {least - total:.0f} mm more. Places measured from the right foot or the ridge are left open."
    )
    advice = "Count the tubes of one hoop and measure them; a tube may be missing from the manual, or a length may be wrong."
    sources = tuple(dict.fromkeys(facts.sources[key] for key in ("width_mm", "height_mm", "tubes_mm") if key in facts.sources))
    return Finding("conflict", None, tuple(hoops), (), message, advice, sources=sources)


def _lengths_only(facts: HoopFacts, guess: _Form | None, hoops: Sequence[str] = ()) -> Built:
    """What can be placed without a shape: along the tubes from foot, joint and ridge, and heights on upright legs."""
    short = _too_short(facts, hoops)
    if short is not None:
        blank = replace(facts, tubes_mm=tuple(None for _ in facts.tubes_mm), whole_mm=None)
        return replace(_lengths_only(blank, guess), findings=(short,))
    total = facts.tube_total
    joints, assumed = _joints(facts, total, None)
    if total is not None and facts.hidden_mm is None and len(facts.tubes_mm) > 1:
        assumed = ("tube lengths are taken as they show on the finished hoop: the manual does not say how far the joints overlap",)
    ridge = total / 2 if total is not None and _mirrored(facts.tubes_mm) else None
    shape = HoopShape(total, joints, ridge, None, facts.leg_mm, facts.foot_mm)
    curve = None
    if guess is not None:
        curve = _curve(guess, _joints(facts, guess.path.length, guess.path)[0], stated=False)
    return Built(shape, curve, (), _missing(facts), assumed)


def _missing(facts: HoopFacts) -> tuple[str, ...]:
    named = kind_of(facts.shape)
    wanted = {
        "the width": facts.width_mm,
        "the height at the ridge": facts.height_mm,
        "the shape of the bend": named,
        "where the straight leg ends": facts.leg_mm,
        "the radius of the bend": facts.radius_mm,
        "the length of the tube from foot to foot": facts.tube_total,
    }
    return tuple(words for words, value in wanted.items() if value is None)


def _joints(facts: HoopFacts, total: float | None, path: Path | None) -> tuple[tuple[float | None, ...], tuple[str, ...]]:
    """Each joint's distance along, from heights, tube lengths counted from the nearer foot, or symmetry."""
    number = len(facts.tubes_mm) or len(facts.joint_heights_mm) + 1
    tubes, assumed = _visible(facts, total)
    joints: list[float | None] = [None] * (number - 1)
    for joint in range(number - 1):
        left, right = tubes[: joint + 1], tubes[joint + 1 :]
        if number == 2 * (joint + 1) and total is not None and _mirrored(tubes):
            joints[joint] = total / 2
        elif joint < (number - 1) / 2 and None not in left:
            joints[joint] = sum(tube for tube in left if tube is not None)
        elif None not in right and total is not None:
            joints[joint] = total - sum(tube for tube in right if tube is not None)
        elif None not in left:
            joints[joint] = sum(tube for tube in left if tube is not None)
    for joint, height in enumerate(facts.joint_heights_mm[: number - 1]):
        found = () if path is None or height is None else path.at_height(height)
        if found and path is not None:
            joints[joint] = found[0] if joint < (number - 1) / 2 else found[-1]
    return tuple(joints), assumed


def _mirrored(tubes: Sequence[float | None]) -> bool:
    return all(a is None or b is None or near(a, b) for a, b in zip(tubes, reversed(tubes), strict=True))


def _visible(facts: HoopFacts, total: float | None) -> tuple[list[float | None], tuple[str, ...]]:
    """Tube lengths as they show on the finished hoop; one or two alike that are not given share what is left."""
    count = len(facts.tubes_mm)
    if not count:
        return [None] * (len(facts.joint_heights_mm) + 1), ()
    hidden = facts.hidden_mm or 0.0
    if facts.hidden_mm is None and facts.tube_total is not None and total is not None and count > 1:
        hidden = max(0.0, (facts.tube_total - total) / (count - 1))
        hidden = 0.0 if near(facts.tube_total, total) else hidden
    guessed = hidden > 0 and facts.hidden_mm is None
    assumed = (f"each tube is taken to reach {hidden:.0f} mm into the next: the manual does not say",) if guessed else ()
    # Which of two tubes is the inner one is seldom said: each gives half of what is hidden.
    shown = [None if tube is None else tube - hidden / 2 * ((i > 0) + (i < count - 1)) for i, tube in enumerate(facts.tubes_mm)]
    gaps = [i for i, tube in enumerate(shown) if tube is None]
    if total is not None and 0 < len(gaps) <= 2 and gaps == [count - 1 - i for i in reversed(gaps)]:
        share = (total - sum(tube for tube in shown if tube is not None)) / len(gaps)
        shown = [share if tube is None and share > 0 else tube for tube in shown]
    return shown, assumed


def _curve(form: _Form, joints: Sequence[float | None], *, stated: bool = True) -> HoopCurve:
    extra = {"width": form.width, "height": form.leg + form.rise, "leg": form.leg, "rise": form.rise, "radius": form.radius}
    return drawn(form.path, [joint for joint in joints if joint is not None], stated, extra | {"ridge": form.path.length / 2})


def position_question(built: Built, fitting: str | None, hoops: Sequence[str], step: str | None, source: Source | None = None) -> Question:
    """The question for a place that needs the hoop's shape where the facts do not give it."""
    missing = " or ".join(built.missing) or "the shape of the hoop"
    message = (
        f"The place{f' of the {fitting}' if fitting else ''} cannot be turned into a distance along the tube: the manual does not give "
        f"enough of the hoop's shape. Needed: {missing}."
    )
    return Question("position", fitting, tuple(hoops), step, message, (), None, source=source)
