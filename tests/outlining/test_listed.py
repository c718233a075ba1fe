"""Parts that a paragraph lists in prose, wherever it stands, and captions, which list nothing."""

from __future__ import annotations

import pytest
from hoopwright.model.outline import Outline

from .pages import document, outlined


def listed(found: Outline) -> list[tuple[str, int | None, str | None]]:
    return [(part.name, part.quantity, part.option) for part in found.parts]


def roles(found: Outline, word: str) -> set[str]:
    return {found.section(step.section).role for step in found.steps if word in step.text}


@pytest.mark.parametrize(
    "sentence",
    [
        "In the bag: 7 roller rings, 9 curtain hooks.",
        "In this pack you find 7 roller rings and 9 curtain hooks.",
        "The box holds seven roller rings and nine curtain hooks.",
        "Supplied with the extra: 7 roller rings, 9 curtain hooks.",
        "Contents: 7 roller rings, 9 curtain hooks",
    ],
)
@pytest.mark.parametrize(("before", "behind"), [("", ""), ("Hang it last. ", " The screws are in the crate."), ("", " Oil them.")])
def test_a_list_in_prose_is_no_step(before: str, sentence: str, behind: str) -> None:
    stop = "" if sentence[-1] == "." or not behind else "."
    head = "THE SIDE CURTAIN (an optional extra)\n\nFor the right side.\n\n"
    text = f"{head}{before}{sentence}{stop}{behind}\n\n1. Thread a roller ring onto each leg.\n"
    found = outlined(text)
    assert listed(found) == [("roller rings", 7, "side curtain"), ("curtain hooks", 9, "side curtain")]
    assert roles(found, "curtain hooks") == {"parts"}
    assert roles(found, "Thread") == {"build"}
    assert len({step.id for step in found.steps}) == len(found.steps)
    for word in (before.strip(), behind.strip()):
        assert not word or roles(found, word) <= {"build", "intro"}
    source = document(text).text
    for step in found.steps:
        whole = step.items[0].passage.source()
        assert " ".join(source[whole.start : whole.end].split()) == whole.quote


@pytest.mark.parametrize(
    "step",
    [
        "2. Thread 7 roller rings and 9 curtain hooks onto the rail.",
        "2. Inside the leg: two clips and two rings.",
        "2. Take the bag with 4 clips and 8 bolts and put them on.",
    ],
)
def test_instructions_are_no_lists(step: str) -> None:
    found = outlined(f"THE HOUSE\n\n1. Mark the ground.\n\n{step}\n")
    assert [s.label for s in found.steps] == ["1", "2"]
    assert listed(found) == []


def test_table_that_says_where_its_parts_are() -> None:
    found = outlined(
        "# The bench (optional)\n\n| In the bag | |\n| --- | --- |\n| bench eyes | 5 |\n| rail caps | 2 |\n\n1. Thread.\n", "markdown"
    )
    assert listed(found) == [("bench eyes", 5, "bench"), ("rail caps", 2, "bench")]


def test_numbers_with_gaps_are_codes_beside_a_count() -> None:
    rows = ["No. | Part | Count", "--- | --- | ---", "101 | Post | 12", "102 | Bow half | 6", "201 | Ridge tee | 6", "301 | Tape | 1 roll"]
    table = "".join(f"| {row} |\n" for row in rows)
    found = outlined(f"# Parts\n\n{table}", "markdown")
    assert [(p.code, p.name, p.quantity) for p in found.parts] == [
        ("101", "Post", 12), ("102", "Bow half", 6), ("201", "Ridge tee", 6), ("301", "Tape", None),
    ]  # fmt: skip


def test_members_in_brackets_behind_the_heading_of_a_list() -> None:
    text = (
        "HOUSE\n\n1 MATERIALS\n\n1.1 Schedule of parts (tubes: 24 no. legs, 24 no. rafters, 4 no. ridge tube\n    lengths, 1 no. door).\n\n"
        "1.2 Each door head clamp: 2 no. set bolts, 2 no. locking nuts, 2 no. washers.\n\n"
        "1.3 Ten clamps (one bolt, one nut, two washers each).\n"
    )
    names = [(part.name, part.quantity) for part in outlined(text).parts]
    assert names[:4] == [("legs", 24), ("rafters", 24), ("ridge tube lengths", 4), ("door", 1)]
    assert not {"set bolts", "bolt", "nut"} & {name for name, _ in names}


def test_papers_are_no_parts() -> None:
    found = outlined("KIT\n\nWHAT IS IN THE CRATE\n\nThere are three papers in the crate, ten clips and four bolts.\n")
    assert [name for name, _, _ in listed(found)] == ["clips", "bolts"]


@pytest.mark.parametrize(
    "caption",
    [
        "Fig. 2 (not to scale). Rib 2, left leg: purlin saddle, two hose clamps.",
        "(Drawing on the back: a right half of hoop 3, with its clip.)",
        "(The sketch overleaf shows a right half with one clip.)",
        "Illustration 3: Left foot piece with one ring.",
        "Photo F. Bow 2, left half: one ring and two clips.",
        "Sketch (overleaf): one ring on each leg.",
        "Picture overleaf: two clips on the leg.",
        "Detail A (from the door): one ring on each leg.",
        "Diagram: one ring on each leg.",
    ],
)
def test_captions(caption: str) -> None:
    found = outlined(f"THE HOUSE\n\n1.  Slide one ring onto each leg of the house and push it up.\n\n    {caption}\n")
    assert [(item.kind, item.passage.text) for item in found.steps[-1].items][1:] == [("caption", caption)]


@pytest.mark.parametrize(
    "text",
    [
        "Figure 2 (overleaf) shows where the clips go.",
        "Drawing pins hold the film: two to each leg.",
        "Plate the foot: one clip to each leg.",
        "(Draw the film tight and put one clip on each leg.)",
    ],
)
def test_sentences_that_are_no_captions(text: str) -> None:
    found = outlined(f"THE HOUSE\n\n1.  Slide one ring onto each leg of the house and push it up.\n\n    {text}\n")
    assert "caption" not in [item.kind for step in found.steps for item in step.items]


PROSE = """\
THE GROWING HOUSE

{heading}

Five ribs, ten ground sockets, two lengths of ridge bar and the gate.

Then the bags. The white bag has the ridge loops, five of them, and the side loops, ten. In the green bag are eight
collars and six eyes, and in the blue bag two rings. The red bag is the heavy one: thirty pinch screws, ten pins and
ten split rings. The yellow bag holds six straps, a name plate and two rivets. The brown paper bag is for the gate,
with three hinges, one latch and four wood screws in it.

A loop of either sort is held by one pinch screw, and so is a collar.

Dressing the ribs

1. Thread one ridge loop onto each rib.
"""
BAGS = [
    ("ridge loops", 5), ("side loops", 10), ("collars", 8), ("eyes", 6), ("rings", 2), ("pinch screws", 30), ("pins", 10),
    ("split rings", 10), ("straps", 6), ("name plate", 1), ("rivets", 2), ("hinges", 3), ("latch", 1), ("wood screws", 4),
]  # fmt: skip


@pytest.mark.parametrize("heading", ["What came with it", "What you should have"])
def test_bags_told_in_prose(heading: str) -> None:
    text = PROSE.format(heading=heading)
    found = outlined(text)
    assert [(part.name, part.quantity) for part in found.parts] == [("ribs", 5), ("ground sockets", 10), ("ridge bar", 2), *BAGS]
    assert {part.code for part in found.parts} == {None}
    source = document(text).text
    for part in found.parts:
        assert " ".join(source[part.source.start : part.source.end].split()).startswith(part.source.quote.split()[0])
    assert roles(found, "Then the bags") == {"parts"} and roles(found, "held by one") == {"parts"}
    assert roles(found, "Thread one") == {"build"}


def test_bags_told_under_a_heading_that_says_nothing() -> None:
    found = outlined(PROSE.format(heading="From the carrier"))
    assert [(part.name, part.quantity) for part in found.parts] == BAGS
    for word in ("white bag", "green bag", "red bag", "yellow bag", "paper bag"):
        assert roles(found, word) == {"parts"}
    assert roles(found, "held by one") == {"build"}


@pytest.mark.parametrize(
    ("sentence", "expected"),
    [
        ("The box has clips, nine, and twelve bolts.", [("clips", 9), ("bolts", 12)]),
        ("In the small tin are the pins, twelve in all, and the rings, six of these.", [("pins", 12), ("rings", 6)]),
        ("The kit holds nine clips, five of them spare.", [("clips", 9)]),
        ("The bag is shut with one strap.", []),
        ("The rings, once on, stay on both legs.", []),
    ],
)
def test_numbers_behind_the_name(sentence: str, expected: list[tuple[str, int]]) -> None:
    found = outlined(f"THE HOUSE\n\nPARTS SUPPLIED\n\n{sentence}\n\nFITTING\n\n1. Slide one clip on.\n\n2. Lift the hoop.\n")
    assert [(part.name, part.quantity) for part in found.parts] == expected


def test_table_below_the_bag_of_a_set() -> None:
    rows = "  T1  wire collar, closed ....   6 pieces\n  T2  collar screw ..........   8 pieces\n  T3  wire clip .............  12 pieces\n"
    found = outlined(f"WIRE SET\n\nBag with the set:\n{rows}\na.  Shove a collar over each leg.\n\nb.  Lock it with a collar screw.\n")
    assert [(part.code, part.name, part.quantity) for part in found.parts] == [
        ("T1", "wire collar", 6), ("T2", "collar screw", 8), ("T3", "wire clip", 12),
    ]  # fmt: skip


def test_bags_of_things_and_gauges() -> None:
    found = outlined("# Parts\n\n- 1 bag of tape patches (no. 29)\n- 14 x cap (no. 30)\n- 160 x Roof screw 12-14 x 20\n", "markdown")
    assert [(part.name, part.quantity, part.size) for part in found.parts] == [
        ("tape patches", None, None), ("cap", 14, None), ("Roof screw", 160, "12-14 x 20"),
    ]  # fmt: skip


@pytest.mark.parametrize(
    ("line", "kind"),
    [
        ("> **Fig. 4** Lateral holder with its bolt.", "caption"),
        ("> Fig. 4 Lateral holder with its bolt.", "caption"),
        ("**Photo 2** Holder with both washers.", "caption"),
        ("> Fig. 4 shows where the holder goes.", "callout"),
        ("> Keep clear of cables.", "callout"),
    ],
)
def test_captions_set_apart_by_their_type(line: str, kind: str) -> None:
    found = outlined(f"# House\n\n## Fitting\n\n**A-1** Slide one ring on.\n\n{line}\n\n**A-2** Lift the hoop.\n", "markdown")
    kinds = {item.passage.text: item.kind for step in found.steps for item in step.items}
    assert kinds[line.strip("> ").replace("*", "")] == kind


STEPS = "FITTING\n\n1. Slide one ridge clip onto each leg.\n"


@pytest.mark.parametrize("who", ["End hoops get", "Hoop two takes", "Hoops then take", "Slide on"])
def test_what_hoops_get_is_no_list(who: str) -> None:
    """Unlike "Tubing and lumber 14 leg tubes, …", a heading of nouns on a line of its own."""
    found = outlined(f"THE TUNNEL\n\nPARTS\n\n14 ridge clips\n7 lamp rings\n\n{who} 2 ridge clips, 3 vent hooks, 4 foam pads.\n\n{STEPS}")
    assert [(part.name, part.quantity) for part in found.parts] == [("ridge clips", 14), ("lamp rings", 7)]


def test_what_a_hoop_is_made_of_is_no_list() -> None:
    found = outlined(
        "THE TUNNEL\n\nThere are three tubes in a hoop: a side piece on the left, a side piece on the right, "
        "and a roof piece on the two of them.\n\n"
        "PARTS\n\n14 side pieces\n7 roof pieces\n14 ridge clips\n\nFITTING\n\n1. Slide one ridge clip onto each leg.\n"
    )
    assert [(part.name, part.quantity) for part in found.parts] == [("side pieces", 14), ("roof pieces", 7), ("ridge clips", 14)]
