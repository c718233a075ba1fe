"""What can hurt people, said on every report. The manual, local codes and licensed practice come first.

Each caution names its published source, or says that it has none.
"""

from __future__ import annotations

from dataclasses import dataclass

LIMITS = (
    "The manual, the local codes and the judgement of licensed practice come before this schedule. It sorts the manual's own words; "
    "it does not say that a frame is strong enough, and it does not replace a check on the site."
)


@dataclass(frozen=True, slots=True)
class Caution:
    """``heading`` in one or two words, ``text`` as an instruction, ``source`` where it is published (None: common practice, no source)."""

    heading: str
    text: str
    source: str | None


CAUTIONS = (
    Caution(
        "Buried services",
        "Find out what lies in the ground before anything is dug or driven: plans, a locator, careful hand digging.",
        "HSE HSG47 (2014), Avoiding danger from underground services; in the US, call 811 first",
    ),
    Caution(
        "Ladders",
        "Stand the ladder on firm ground, one out for four up, and keep three points of contact. Use it for short, light work only.",
        "HSE, Ladders: three points of contact; UNLV, ladder training (4 to 1)",
    ),
    Caution(
        "Lifting hoops",
        "Stand hoops with enough people: at least three for a hoop of 20 ft (6.1 m) or more. Keep clear of lines under tension.",
        "University of Vermont, High Tunnels (2007)",
    ),
    Caution("Wind", "Raise hoops and pull covers on a calm day. Brace what stands before you leave it.", None),
    Caution(
        "Cut ends",
        "Cut tubes flush, take off the burr and cover rough edges. Wear gloves.",
        "Cornell Extension, Purlin Installation (2013)",
    ),
    Caution(
        "Drilling",
        "Wear eye protection with power tools. Clamp the work; never hold a tube by hand in front of a drill.",
        "OSHA 3080 (2002) by its contents list; the rule from memory",
    ),
    Caution(
        "Permits",
        "Ask before you build: rules differ from place to place, and some places want an engineer's seal.",
        "University of Connecticut, Securing a Building Permit for a Greenhouse",
    ),
    Caution("Tightening", "Tighten fully only after the frame is lined up, unless the manual says otherwise.", None),
)
