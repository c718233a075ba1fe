"""Other frames than the kit of ``parsing/mini.py``: one-piece bows, arcs, ribs with colours, sides and feet by other names."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hoopwright.model.schedule import Schedule
from parsing.mini import manual, row, scheduled, table

FITTINGS = """   Ground tube ............................. 14
   Ridge bar ............................... 1
   Snap ring ............................... 60
   Folding band ............................ 60
   Rail hook ............................... 60
   Cap screw ............................... 200
   Join screw .............................. 90
"""
Spot = tuple[str | None, str | None, str | None, float | None]


def made_of(hoop: str, hoops: int, tubes: str, listed: str, steps: Sequence[str], more: str = "") -> Schedule:
    """The schedule of a manual whose hoops are called and made so; ``more`` stands behind what they are made of."""
    many = f"{hoop}es" if hoop.endswith("ch") else f"{hoop}s"
    numbered = "\n\n".join(f"{k}. {step}" for k, step in enumerate(steps, 1))
    size = f"The tunnel is 5 m wide, {2 * (hoops - 1)} m long and 2.4 m high. It has {hoops} {many}, 2 m apart."
    return scheduled(f"GROWING TUNNEL\n\n{size} {tubes} {more}\n\nPARTS LIST\n\n   {listed}\n{FITTINGS}\nFITTING OUT\n\n{numbered}\n")


def bows(*steps: str) -> Schedule:
    """Seven bows of one tube each."""
    return made_of("bow", 7, "Each bow is a single tube.", "Bow, one piece .......................... 7", steps)


def arcs(*steps: str, more: str = "") -> Schedule:
    """Seven arcs of two halves each."""
    tubes = "Each arc is made of two halves, a left half and a right half."
    return made_of("arc", 7, tubes, "Half arc ................................ 14", steps, more)


def ribs(*steps: str, names: str = "silver copper violet white black") -> Schedule:
    """Five ribs of two halves each; a table gives them ``names``."""
    rows = [f"   {n}     {name}" for n, name in enumerate(names.split(), 1)]
    marks = "\n\nHOW THE RIBS ARE MARKED\n\n   Rib   Colour\n" + "\n".join(rows)
    tubes = "Each rib is made of two halves, a left half and a right half."
    return made_of("rib", 5, tubes, "Half rib ................................ 10", steps, marks)


def told(said: str, *steps: str) -> Schedule:
    """The kit of ``parsing/mini.py`` with something more said before its parts list."""
    return scheduled(manual(steps).replace("PARTS LIST", f"{said}\n\nPARTS LIST", 1))


def spots(found: Schedule, fitting: str) -> list[Spot]:
    """(hoop, side, datum, offset) of every placement of a fitting."""
    return [(p.hoop, p.side, p.datum, p.offset_mm) for p in found.placements if p.fitting == fitting]


def clear(found: Schedule) -> dict[str, str]:
    """The counts of a schedule that asks nothing."""
    assert [question.about for question in found.questions] == []
    return table(found)


@pytest.mark.parametrize(
    ("steps", "counts"),
    [
        (["Push one snap ring over each end of all seven bows."], {"snap ring": "2 2 2 2 2 2 2"}),
        (["Slip one rail hook over either end of every one of the bows."], {"rail hook": "2 2 2 2 2 2 2"}),
        (["Put one rail hook over both ends of all bows."], {"rail hook": "2 2 2 2 2 2 2"}),
        (["Push one snap ring over the left end of each bow."], {"snap ring": "1 1 1 1 1 1 1"}),
        (["Inner bows only: one rail hook over the left end of each bow."], {"rail hook": "0 1 1 1 1 1 0"}),
        (["Slide one snap ring over each end of every bow, to 850 mm."], {"snap ring": "2 2 2 2 2 2 2"}),
        (["Bows 2 and 4: push a rail hook over each foot, to 1.1 m."], {"rail hook": "0 2 0 2 0 0 0"}),
        (["Slide one rail hook onto each bow. Cut the string to 850 mm."], {"rail hook": "1 1 1 1 1 1 1"}),
        (["Slide one rail hook onto each bow, to the middle of the tube, 3120 mm from either foot."], {"rail hook": "1 1 1 1 1 1 1"}),
        (["Push a snap ring along bow 3 as far as the middle, that is 3.1 m from each end."], {"snap ring": "0 0 1 0 0 0 0"}),
        (["Slide two rail hooks onto each bow, 900 mm from either foot."], {"rail hook": "2 2 2 2 2 2 2"}),
        (
            ["Bow 1: one snap ring over each end, 300 mm up, and one rail hook at the middle.", "Bow 7: same as bow 1."],
            {"rail hook": "1 0 0 0 0 0 1", "snap ring": "2 0 0 0 0 0 2"},
        ),
    ],
)
def test_bows_of_one_tube(steps: list[str], counts: dict[str, str]) -> None:
    assert clear(bows(*steps)) == counts


def test_a_one_piece_bow_has_no_joins() -> None:
    found = bows("The ridge bar lies under the bows. Push it together; each of its four joins takes two join screws.")
    assert clear(found) == {}
    assert {member: dict(cells) for member, cells in found.elsewhere.items()} == {"ridge bar": {"join screw": 8}}


def test_joints_are_the_hoops_where_a_hoop_has_some() -> None:
    assert clear(scheduled(manual(["The ridge bar runs under all hoops.", "Each join takes two joint screws."]))) == {
        "joint screw": "4 4 4 4 4 4"
    }


def test_how_far_pieces_are_slid() -> None:
    found = spots(bows("Inner bows: thread one rail hook over each foot, to 2 ft."), "rail hook")
    assert {(hoop, side) for hoop, side, _, _ in found} == {(f"H{n}", side) for n in range(2, 7) for side in ("left", "right")}
    assert {offset for _, _, _, offset in found} == {609.6}
    assert spots(bows("Push one rail hook over the right foot of bow 3, to 1100 mm from the foot."), "rail hook") == [
        ("H3", "right", "foot", 1100.0)
    ]


GROUPS = {
    "outer": ("inner", "Arcs 1 and 7 are designated as outer arcs, arcs 2 to 6 as inner arcs."),
    "gable": ("field", "Arcs 1 and 7 are called gable arcs and arcs 2 to 6 as field arcs."),
}


@pytest.mark.parametrize("outer", GROUPS)
def test_groups_of_arcs(outer: str) -> None:
    inner, told_so = GROUPS[outer]
    found = arcs(f"Each {outer} arc takes one folding band on each half.", f"The {inner} arcs take two rail hooks each.", more=told_so)
    assert clear(found) == {"folding band": "2 0 0 0 0 0 2", "rail hook": "0 2 2 2 2 2 0"}


@pytest.mark.parametrize(
    ("steps", "counts"),
    [
        (
            ["Slide one folding band onto each half of every arc.", "Put one rail hook on arc 3."],
            {"folding band": "2 2 2 2 2 2 2", "rail hook": "0 0 1 0 0 0 0"},
        ),
        (
            ["On arc 1 one folding band is laid round each half.", "On arc 4 likewise one folding band is laid round each half."],
            {"folding band": "2 0 0 2 0 0 0"},
        ),
        (["Slide four rail hooks onto each arc, i.e. two on each half."], {"rail hook": "4 4 4 4 4 4 4"}),
        (
            ["On every arc a folding band is put round the left half and locked with three cap screws."],
            {"cap screw": "3 3 3 3 3 3 3", "folding band": "1 1 1 1 1 1 1"},
        ),
        (
            ["A rail hook is pushed over each half of arc 5, and held with one cap screw."],
            {"cap screw": "0 0 0 0 2 0 0", "rail hook": "0 0 0 0 2 0 0"},
        ),
        (["While arcs 2 and 6 are still on the trestles, slide two rail hooks onto each half."], {"rail hook": "0 4 0 0 0 4 0"}),
    ],
)
def test_arcs_of_two_halves(steps: list[str], counts: dict[str, str]) -> None:
    assert clear(arcs(*steps)) == counts


def test_an_arc_is_a_tube_where_the_hoops_have_another_name() -> None:
    listed = "   Leg ........ 12\n   Arc ........ 6\n   Ground tube ........ 12\n   Ridge clip ........ 60"
    text = manual(["Slide one ridge clip onto the arc of hoops 2 and 5."], listed=listed).replace("a crown tube", "an arc")
    found = scheduled(text)
    assert clear(found) == {"ridge clip": "0 1 0 0 1 0"}
    assert {side for _, side, _, _ in spots(found, "ridge clip")} == {"centre"}


@pytest.mark.parametrize(
    ("steps", "counts"),
    [
        (
            ["Slide two rail hooks onto the copper rib.", "Slide one folding band onto each half of the silver and black ribs."],
            {"folding band": "2 0 0 0 2", "rail hook": "0 2 0 0 0"},
        ),
        (["The violet rib takes three rail hooks, the white rib takes one."], {"rail hook": "0 0 3 1 0"}),
        (
            ["Copper, violet and white: one rail hook each.", "From silver to white every rib gets two folding bands."],
            {"rail hook": "0 1 1 1 0", "folding band": "2 2 2 2 0"},
        ),
        (["The violet rib: one folding band over the left foot."], {"folding band": "0 0 1 0 0"}),
        (["Every half of every rib: one folding band over the foot."], {"folding band": "2 2 2 2 2"}),
        # a colour that a fitting has names no rib
        (
            ["Slide two black rail hooks onto the copper rib.", "Put one copper folding band on rib 4."],
            {"rail hook": "0 2 0 0 0", "folding band": "0 0 0 1 0"},
        ),
    ],
)
def test_ribs_by_their_colours(steps: list[str], counts: dict[str, str]) -> None:
    assert clear(ribs(*steps)) == counts


@pytest.mark.parametrize(
    ("said", "step", "expected"),
    [
        (
            "When you stand in the door and look in, port is on your left hand, starboard on your right.",
            "Slide one lamp ring onto the starboard leg of hoop 2, 900 mm up from the foot.",
            [("H2", "right", "foot", 900.0)],
        ),
        (
            "Seen from the door, the hedge side is on your right and the house side on your left.",
            "The house leg of hoop 4 takes a lamp ring, 200 mm up.",
            [("H4", "left", "foot", 200.0)],
        ),
        (
            'Lengths "from the shoe" are taken along the leg from its lower end.',
            "Slide one lamp ring onto the left leg of hoop 2, 900 mm from the shoe.",
            [("H2", "left", "foot", 900.0)],
        ),
        (
            "The heel is the lower end of a leg.",
            "Slide one lamp ring onto the right leg of hoop 6, 300 mm up from the heel.",
            [("H6", "right", "foot", 300.0)],
        ),
        # a near miss: nothing says which side that is
        (
            "The shed door is on your left. The trees are shady.",
            "Slide one lamp ring onto the shady leg of hoop 4.",
            [("H4", None, None, None)],
        ),
    ],
)
def test_sides_and_feet_by_other_names(said: str, step: str, expected: list[Spot]) -> None:
    assert spots(told(said, step), "lamp ring") == expected


def test_a_pin_goes_through_what_the_manual_calls_a_heel() -> None:
    assert row(told("The heel is the lower end of a leg.", "Push one foot pin through each heel."), "foot pin") == [2] * 6
