"""The manual's facts of the hoop as the geometry takes them, and what it says of one length twice."""

from __future__ import annotations

from hoopwright.framing.geometry import HoopFacts
from hoopwright.model.events import Facts
from hoopwright.model.frame import Tube
from hoopwright.model.schedule import Finding

_EVERY = "*"


def hoop_facts(facts: Facts, tubes: tuple[Tube, ...]) -> HoopFacts:
    """The lengths in mm that ``build_curve`` needs, one for each of ``tubes`` from the left foot."""
    lengths = dict(facts.tube_lengths)
    own = tuple(lengths.get(bare(tube.name), lengths.get(_EVERY)) for tube in tubes)
    joints = len(tubes) - 1
    heights: tuple[float | None, ...] = ()
    if facts.joint_height_mm is not None and joints >= 2:
        heights = (facts.joint_height_mm, *[None] * (joints - 2), facts.joint_height_mm)
    return HoopFacts(
        shape=facts.shape,
        width_mm=facts.width_mm,
        height_mm=facts.height_mm,
        leg_mm=facts.leg_mm,
        radius_mm=facts.radius_mm,
        tubes_mm=own if any(own) or len(tubes) > 1 else (),
        hidden_mm=facts.hidden_mm,
        foot_mm=facts.foot_mm or 0.0,
        joint_heights_mm=heights,
        whole_mm=facts.hoop_length_mm,
        upright_mm=facts.upright_mm,
        sources=facts.sources,
    )


def bare(name: str) -> str:
    """A tube's name without its side."""
    return name.removeprefix("left ").removeprefix("right ")


def total_findings(facts: Facts, hoops: tuple[str, ...]) -> tuple[Finding, ...]:
    """A ``conflict`` where the manual says twice and differently how many hoops there are in all."""
    first = next((told for told in facts.hoop_totals if told[0] == facts.hoops), None)
    other = next((told for told in facts.hoop_totals if told[0] != facts.hoops), None)
    if first is None or other is None:
        return ()
    (n, a), (m, b) = first, other
    message = (
        f'The manual says that there are {n} hoops ("{a.quote}", page {a.page}) and {m} ("{b.quote}", page {b.page}). Taken: {n}. '
        "Everything that is counted hoop by hoop depends on it."
    )
    advice = "Count the hoops, or their tubes, in the delivery; if it is the other number, answer that in the answers file."
    return (Finding("conflict", None, hoops, (), message, advice, sources=(a, b)),)


def length_findings(facts: Facts, hoops: tuple[str, ...]) -> tuple[Finding, ...]:
    """A ``conflict`` for each length that the manual states twice and differently."""
    found = []
    for key, first, second, a, b in facts.disagreements:
        name = "the tubes of a hoop" if key == _EVERY else f"a {key}"
        message = (
            f"The length of {name} is given as {first:.0f} mm (page {a.page}) and as {second:.0f} mm (page {b.page}), "
            f"{abs(first - second):.0f} mm apart. Places measured from a joint, the ridge or the right foot depend on it."
        )
        advice = "Measure one before anything is threaded on; until then the first of the two is used."
        found.append(Finding("conflict", None, hoops, (), message, advice, sources=(a, b)))
    return tuple(found)
