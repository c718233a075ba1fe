"""The whole way from a reading to a Frame."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.framing.assembly import Assembly
from hoopwright.framing.bars import carried
from hoopwright.framing.carrying_out import carry_out
from hoopwright.framing.choosing import better_choices, chosen_anew
from hoopwright.framing.disagreeing import disagreements
from hoopwright.framing.drafts import Draft
from hoopwright.framing.geometry import Built, build_curve
from hoopwright.framing.hoop_facts import bare, hoop_facts, length_findings, total_findings
from hoopwright.framing.hosts import Hosts
from hoopwright.framing.places_apart import places_apart
from hoopwright.framing.placing import Placer, Spotted
from hoopwright.model.events import BarPut, Facts, StepReading, ToldPlace
from hoopwright.model.frame import Call, Frame, Part, Tube
from hoopwright.model.outline import Outline
from hoopwright.model.schedule import Finding, Hoop, Structure, When

_TUBES = {
    1: (("hoop", "centre"),),
    2: (("left half", "left"), ("right half", "right")),
    3: (("left side tube", "left"), ("crown tube", "centre"), ("right side tube", "right")),
}


def frame(
    outline: Outline,
    facts: Facts,
    parts: tuple[Part, ...],
    sentences: tuple[StepReading, ...],
    member_numbers: dict[str, int | None],
    without: frozenset[str] = frozenset(),
    bars: tuple[BarPut, ...] = (),
    told_again: tuple[ToldPlace, ...] = (),
) -> Frame:
    """Resolve every event on the manual's frame. ``without`` names optional extras that are left out; ``bars`` what steps put up.

    ``told_again``: places told besides the sentences that put the fittings on.
    """
    hoops = facts.hoops or 0
    tubes = _tubes(facts)
    hosts = Hosts(hoops, tubes)
    options = {s.id: s.option for s in outline.steps}
    kept = [s for s in sentences if options[s.step] not in without]
    assembly = Assembly(outline, {p.name: p for p in parts}, hosts, member_numbers)
    carry_out(kept, assembly)
    if choices := better_choices(assembly):
        assembly = Assembly(outline, {p.name: p for p in parts}, hosts, member_numbers)
        carry_out(chosen_anew(kept, choices), assembly)
    assembly.findings += places_apart([told for told in told_again if options[told.step] not in without], assembly)
    ids = tuple(f"H{k}" for k in range(1, hoops + 1))
    built = build_curve(hoop_facts(facts, tubes), ids)
    spans = built.shape.spans()
    if len(spans) == len(tubes):
        tubes = tuple(replace(t, start_mm=a, end_mm=b) for t, (a, b) in zip(tubes, spans, strict=True))
    calls = _calls(assembly, Placer(hosts, built.shape), built)
    known = {p.name: p for p in (*parts, *assembly.parts.values())}
    put_up, calls = carried([b for b in bars if options[b.step] not in without], calls, known, member_numbers)
    return Frame(
        outline,
        _structure(facts),
        tubes,
        tuple(known.values()),
        calls,
        tuple(assembly.acts),
        put_up,
        (),
        (*assembly.findings, *_apart(assembly), *built.findings, *length_findings(facts, ids), *total_findings(facts, ids)),
        tuple(assembly.questions),
        tuple(s.id for s in outline.steps if s.option not in without),
        options=tuple(dict.fromkeys(o for o in options.values() if o and o not in without)),
        tube_size_mm=facts.tube_size_mm,
        curve=built.curve,
    )


def _apart(assembly: Assembly) -> list[Finding]:
    """What the manual says twice and differently; a correction replaces, it does not contradict."""
    told = {(finding.code, finding.fitting) for finding in assembly.findings}
    found = disagreements(assembly.rules, assembly.claims, list(assembly.drafts), assembly.hosts, assembly.steps.correcting.__contains__)
    return [finding for finding in found if (finding.code, finding.fitting) not in told]


def _tubes(facts: Facts) -> tuple[Tube, ...]:
    count = facts.sections or 1
    names: tuple[tuple[str, str], ...] | None = facts.tubes or _TUBES.get(count)
    if names is None:
        names = tuple(
            (f"tube {k + 1}", "left" if k < count / 2 - 0.5 else "right" if k > count / 2 - 0.5 else "centre") for k in range(count)
        )
    sizes = dict(facts.tube_sizes)
    return tuple(Tube(name, side, size_mm=sizes.get(bare(name))) for name, side in names)  # type: ignore[arg-type]


def _structure(facts: Facts) -> Structure:
    n = facts.hoops or 0
    spacing = facts.spacing_mm
    hoops = tuple(
        Hoop(f"H{k}", "end" if k in (1, n) else "intermediate", None if spacing is None else (k - 1) * spacing) for k in range(1, n + 1)
    )
    return Structure(hoops, facts.width_mm, facts.height_mm, facts.length_mm, spacing, facts.sections, facts.shape)


def _when(d: Draft, part: Part) -> tuple[When, list[str]]:
    if part.form == "fastener" or part.form == "sleeve":
        if d.hoop is not None and d.holds is None and (d.joint or d.foot):
            return "at-joining", []
        return ("at-joining", []) if part.form == "sleeve" and d.joint else ("any-time", [])
    if part.form in ("cover", "cap"):
        return "any-time", []
    if d.hoop is None:
        return "any-time", []
    if part.stated:
        return ("before-joining" if part.form == "closed" else "any-time"), []
    if d.slide is False:
        return "any-time", []
    if d.slide is True:
        return "before-joining", []
    if part.form == "closed":
        return "before-joining", ["taken to slide on: the manual does not say"]
    return "any-time", ["taken to go round a standing tube: the manual does not say"]


def _taken(at: Spotted, built: Built) -> tuple[str, ...]:
    """What the shape takes for granted, where the distance along the tube rests on it; near the left foot it does not."""
    from_foot = at.side == "left" and at.datum in ("foot", "ground", "end")
    return () if at.along_mm is None or from_foot else built.assumed


def _calls(assembly: Assembly, placer: Placer, built: Built) -> tuple[Call, ...]:
    drafts = list(assembly.drafts)
    ids = {id(d): f"C{k}" for k, d in enumerate(drafts, 1)}
    out = []
    spotted = placer.place(drafts)
    for d in drafts:
        at = spotted[id(d)]
        part = assembly.parts[d.part]
        when, assumed = _when(d, part)
        place = d.place
        call = Call(
            ids[id(d)],
            d.part,
            d.quantity,
            d.hoop,
            d.member,
            d.step,
            d.source,
            when,
            tube=at.tube,
            side=at.side,
            datum=at.datum,
            offset_mm=at.offset_mm,
            along_mm=at.along_mm,
            anchor=ids.get(id(at.anchor)) if at.anchor is not None else None,
            towards=at.towards,
            holds=ids.get(id(d.holds)) if d.holds is not None else None,
            option=d.option,
            assumed=tuple(dict.fromkeys([*d.assumed, *assumed, *_taken(at, built)])),
            late=d.late,
            place_text=place.text if place else None,
        )
        out.append(call)
    return tuple(out)
