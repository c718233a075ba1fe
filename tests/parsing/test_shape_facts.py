"""A hoop's shape and the lengths of its tubes, as manuals put them; and near misses that must leave them open."""

from __future__ import annotations

import pytest
from hoopwright.grammar import load_grammar
from hoopwright.model.events import Facts
from hoopwright.outlining import outline
from hoopwright.parsing import parse

from parsing.mini import document, read

FOOT, INCH = 304.8, 25.4
SIZE = "The tunnel is 5 m wide, 10 m long and 2.4 m high. It has 6 hoops, 2 m apart."
STEPS = """FITTING OUT

1. Slide one ridge clip onto the crown tube of each hoop.

2. Join the tubes of each hoop and stand it on its ground tubes."""
THREE = "Each hoop is made of two legs and a crown tube."
TWO = "Each hoop is made of two halves, a left half and a right half."
ONE = "Each hoop is a single tube."

LISTED = "\n".join(
    [
        "Leg ............ 12",
        "Crown tube ............ 6",
        "Ground tube ............ 12",
        "Ridge bar ............ 1",
        "Ridge clip ............ 6",
    ]
)
LISTED_ONCE = "\n".join(LISTED.split("\n")[2:])


def facts_of(words: str, made: str = THREE, parts: str = LISTED) -> Facts:
    """The facts of a manual that describes its frame in these words."""
    text = f"GROWING TUNNEL\n\n{SIZE} {made} {words}\n\nPARTS LIST\n\n{parts}\n\n{STEPS}\n"
    return parse(outline([document(text)]), load_grammar()).facts


LENGTHS = [
    ("Each leg is 1500 mm long and the crown tube 4267 mm.", {"leg": 1500, "crown tube": 4267}),
    ("A leg measures 1.5 m and the crown tube is 4.2 m long, measured round the bend.", {"leg": 1500, "crown tube": 4200}),
    ("Each leg 1500 mm and each crown tube 4267.", {"leg": 1500, "crown tube": 4267}),
    ("A leg is 5 ft from foot to joint, and a crown tube 14 ft from joint to joint.", {"leg": 5 * FOOT, "crown tube": 14 * FOOT}),
    ("The legs stand plumb. They are 1400 mm long without their narrowed top end.", {"leg": 1400}),
    ("Along the tape it is 1.5 m from the foot to the joint and 4.4 m from joint to joint.", {"leg": 1500, "crown tube": 4400}),
    ("The three tubes are of equal length, 2.4 m each.", {"*": 2400}),
    ("The three tubes of a hoop are of the same length, 7 ft 4 in along the curve.", {"*": 88 * INCH}),
    ("Not counting the ends that are plugged in, a leg is 1,200 mm long, a crown tube 1,600 mm.", {"leg": 1200, "crown tube": 1600}),
    # near misses: other members, distances, sizes of the whole tunnel
    ("The ground tubes are 900 mm long.", {}),
    ("The tunnel stands 2.5 m wide between the legs, 10 m long.", {}),
    ("A rail is clipped to the legs, 900 mm from the foot.", {}),
    ("The door posts are 1900 mm long and stand between the legs.", {}),
    ("The legs are of 42 mm tube.", {}),
]


@pytest.mark.parametrize(("words", "lengths"), LENGTHS)
def test_lengths_of_tubes(words: str, lengths: dict[str, float]) -> None:
    assert dict(facts_of(words).tube_lengths) == pytest.approx(lengths)


@pytest.mark.parametrize(
    ("words", "made", "length"),
    [
        ("Each half is 11 feet long measured along the tube.", TWO, 11 * FOOT),
        ("A half is 3.3 m, measured over the bend.", TWO, 3300),
        ("Each hoop is 5370 mm from foot to foot.", ONE, 5370),
        ("A hoop measures 6.4 metres along the bend.", ONE, 6400),
    ],
)
def test_lengths_of_halves_and_of_whole_hoops(words: str, made: str, length: float) -> None:
    facts = facts_of(words, made, LISTED_ONCE)
    (found,) = [mm for mm in (*dict(facts.tube_lengths).values(), facts.hoop_length_mm) if mm is not None]
    assert found == pytest.approx(length)


@pytest.mark.parametrize(
    ("entry", "length"),
    [("Leg, 42 mm, 1500 mm long", 1500), ("Leg, 1.66 in OD x 5 ft", 5 * FOOT), ("Leg, 1.6 m", 1600), ("Leg, 42 mm", None)],
)
def test_lengths_in_the_parts_list(entry: str, length: float | None) -> None:
    parts = LISTED.replace("Leg", entry).replace("Ground tube", "Ground tube, 900 mm long").replace("Ridge bar", "Ridge bar, 2.5 m")
    found = dict(facts_of("", parts=parts).tube_lengths)
    assert found == ({} if length is None else {"leg": pytest.approx(length)})


@pytest.mark.parametrize(
    ("words", "shape"),
    [
        ("The top of a hoop is a half circle.", "half circle"),
        ("Every hoop is half-round.", "half circle"),
        ("The hoops are semicircular above their legs.", "half circle"),
        ("Each hoop is a plain half circle.", "plain half circle"),
        ("Each hoop is shaped like a pointed arch.", "pointed arch"),
        ("The gothic hoops shed snow well.", "pointed arch"),
        ("The crown tube is bent to a single arc.", "arc"),
        # near misses
        ("The lock screws are pointed.", None),
        ("The hoops are not pointed.", None),
        ("Use a half-round file on cut ends.", None),
        ("The path runs in a half circle round the pond.", None),
    ],
)
def test_the_kind_of_bend(words: str, shape: str | None) -> None:
    assert facts_of(words).shape == shape


@pytest.mark.parametrize(
    ("words", "leg", "radius"),
    [
        ("The legs are straight for their lower 2,100 mm.", 2100, None),
        ("The legs are upright for the lowest 800 mm.", 800, None),
        ("The hoops have straight sides of 600 mm.", 600, None),
        ("Legs straight and plumb to 5'-6\".", 66 * INCH, None),
        ("The bend of the crown tube starts at 900 mm above the ground.", 900, None),
        ("Above that the hoop is a half circle of 1200 mm radius.", None, 1200),
        ("The crown tube is bent to a radius of 2.2 m.", None, 2200),
        # near misses
        ("Keep the legs upright to 5 mm.", None, None),
        ("The door posts are straight for 1500 mm.", None, None),
    ],
)
def test_straight_legs_and_radius(words: str, leg: float | None, radius: float | None) -> None:
    facts = facts_of(words)
    assert facts.leg_mm == (None if leg is None else pytest.approx(leg))
    assert facts.radius_mm == (None if radius is None else pytest.approx(radius))


def test_an_upright_leg_is_straight_as_far_as_its_tube_goes() -> None:
    assert facts_of("The legs stand upright and are 1.2 m long.").upright_mm == 1200
    assert facts_of("A leg is 1.2 m long.").upright_mm is None


def test_plugged_ends_leave_open_how_much_of_a_tube_shows() -> None:
    swaged = "The swaged top of each leg plugs into the crown tube."
    assert facts_of(f"A leg is 1.5 m long. {swaged}").hidden_mm is None
    assert facts_of(f"A leg is 1.5 m long without its swaged end. {swaged}").hidden_mm == 0
    assert facts_of("A leg is 1.5 m long.").hidden_mm == 0


def test_two_lengths_of_one_tube_are_kept_as_a_disagreement() -> None:
    ((key, first, second, _, _),) = facts_of("Each leg is 1500 mm long. The legs are 1650 mm long in all.").disagreements
    assert (key, first, second) == ("leg", 1500, 1650)
    assert facts_of("Each leg is 1500 mm long. A leg measures 1505 mm.").disagreements == ()


def test_a_manual_that_states_nothing_leaves_everything_open() -> None:
    facts = read("GROWING TUNNEL\n\nThe tunnel has 6 hoops.\n\n1. Slide one ridge clip onto each hoop.\n").facts
    assert (facts.shape, facts.leg_mm, facts.radius_mm, facts.tube_lengths, facts.hoop_length_mm) == (None, None, None, (), None)
