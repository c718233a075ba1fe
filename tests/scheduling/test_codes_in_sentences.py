"""Every warning code in a manual's own words: at least four sentences that raise it, and four near misses that must not.

A small manual of ours with a place for lines of the parts list, for steps before the hoops are joined and for steps after they stand. It
goes the whole way from the file, so a code that no reading can reach would be found here.
"""

from __future__ import annotations

from pathlib import Path
from typing import get_args

import pytest
from hoopwright.api import build_schedule
from hoopwright.model.schedule import Schedule, WarningCode

MANUAL = """# Hedge tunnel, 4 hoops

The tunnel is 4.0 m wide, 2.2 m high and 4.5 m long. Each hoop is made of two half hoops of 48 mm tube, a left half and a right half, \
joined at the ridge.

## Parts

| Code | Part | Quantity |
| --- | --- | --- |
| A | half hoop, 48 mm | 8 |
| B | ridge clamp, one-piece, 48 mm | 4 |
| C | side clamp, one-piece, 48 mm | 8 |
| D | joint screw | 8 |
| E | film strap | 8 |
{rows}
## Building the hoops

{dress}
{early}
{join}
5. Wrap one film strap (E) round each leg, 300 mm above the ground.
{late}
"""
SIDE = "Slide one side clamp (C) onto each half hoop from the top, 800 mm above the foot."
RIDGE = "Slide one ridge clamp (B) onto the left half of each hoop, 100 mm from the ridge."
JOIN = "Push the two halves of each hoop together at the ridge and fix the joint with two joint screws (D)."
FLAT = (f"1. {SIDE}\n2. {RIDGE}", f"3. {JOIN}\n4. Stand each hoop on its ground tubes.")
STOOD = (f"1. {SIDE}\n2. Set both feet of every hoop on their ground tubes.\n3. {RIDGE}", f"4. {JOIN}")  # the ridge ends stay open

RING = "| F | lamp ring, closed | {} |"
HINGED = "| F | lamp ring, hinged | 4 |"
HOOK = "| F | mist hook | 8 |"
BOLT = "| F | clamp bolt | 16 |"
COACH = "\n| G | coach bolt | 4 |"
RIDGE_COACH = "Close each ridge clamp (B) with one coach bolt (G)."
EYE = "| F | rope eye, hinged | 16 |"
TIE = "| F | tie ring, {} | 4 |"
LOW, HIGH = "Close one rope eye (F) round each leg, 1 m above the ground.", "Close one rope eye (F) round each leg, 1.5 m above the ground."
ON_RIGHT = "2a. Slide one tie ring (F) onto the right half of each hoop."

Case = tuple[WarningCode, str, str, str]  # code, rows of the parts list, steps before joining, steps at the end

RAISED: list[Case] = [
    ("trapped", RING.format(4), "", "6. Slide one lamp ring (F) onto the right half of each hoop."),
    ("trapped", RING.format(4), "", "6. Hang a lamp ring (F) on every hoop, 300 mm from the ridge."),
    ("trapped", RING.format(4), "", "6. Each end hoop gets two lamp rings (F)."),
    ("trapped", RING.format(2), "", "6. Put a lamp ring on hoops 1 and 3."),
    ("blocked", RING.format(4), "3a. Slide one lamp ring (F) onto the left half of each hoop from the top, 900 mm from the ridge.", ""),
    (
        "blocked",
        RING.format(2),
        "3a. From the top, slide one lamp ring (F) onto the left half of hoops 2 and 3, 1200 mm from the ridge.",
        "",
    ),
    ("blocked", RING.format(2), "3a. Each end hoop gets a lamp ring (F) on its left half, 600 mm from the ridge.", ""),
    ("blocked", RING.format(4), "3a. Push a lamp ring (F) down the left half of every hoop to 1500 mm from the ridge.", ""),
    ("conflict", BOLT, "2a. Close each side clamp (C) with one clamp bolt (F).", "Each side clamp (C) takes two clamp bolts (F)."),
    ("conflict", BOLT, "2a. Every ridge clamp (B) takes two clamp bolts (F).\n2b. Secure each ridge clamp (B) with 1 clamp bolt (F).", ""),
    ("conflict", "", "", "## Summary\n\nEach hoop has three side clamps (C) and one ridge clamp (B).\n"),
    ("conflict", "", "", "## Summary\n\n| Fitting | Each hoop |\n| --- | --- |\n| Side clamp (C) | 2 |\n| Ridge clamp (B) | 2 |\n"),
    # of positions
    ("conflict", "", "", "## Summary\n\nThe side clamps (C) sit 900 mm above the foot.\n"),
    ("conflict", "", "", "6. Check that every side clamp (C) is 1 m above the foot."),
    ("conflict", "", "", "6. Hang the lamps in the side clamps (C), which are 900 mm above the foot."),
    ("conflict", "", "", "*Figure 2. Side clamp (C), 900 mm above the foot.*"),
    ("conflict", "", "Figure 3: Left half of hoop 1 with its ridge clamp (B), 200 mm from the ridge.\n", ""),
    (
        "conflict",
        "",
        "",
        "## Places\n\n| Fitting | Place |\n| --- | --- |\n| Side clamp (C) | 900 mm above the foot |\n"
        "| Ridge clamp (B) | 100 mm from the ridge |\n",
    ),
    # of parts
    (
        "conflict",
        BOLT.replace("16", "8"),
        "2a. Close each side clamp (C) with one clamp bolt (F).",
        "6. Each side clamp (C) takes one coach bolt.",
    ),
    (
        "conflict",
        BOLT.replace("16", "8") + COACH,
        f"2a. Close each side clamp (C) with one clamp bolt (F). {RIDGE_COACH}",
        "Every side clamp (C) takes one coach bolt (G).\n",
    ),
    (
        "conflict",
        BOLT.replace("16", "4") + COACH.replace("4", "8"),
        "2a. Each side clamp (C) is held with one clamp bolt (F).\n2b. Secure each ridge clamp (B) with one clamp bolt (F).",
        "6. Close every side clamp (C) with one coach bolt (G).",
    ),
    ("conflict", "", "", "## Summary\n\nEach hoop has two brace clamps and one ridge clamp (B).\n"),
    ("conflict", "", "", "## Summary\n\nEach hoop has two side clamps (C), one ridge clamp (B) and two tarp straps.\n"),
    ("clash", HOOK, "", "6. Clip one mist hook (F) onto each leg, 800 mm above the foot."),
    ("clash", HOOK, "", "6. Clip one mist hook (F) onto each leg, 300 mm above the ground."),
    ("clash", HOOK, "", "6. Clip a mist hook (F) onto the left half of each hoop, 100 mm from the ridge."),
    ("clash", HOOK, "", "6. Hoops 2 and 3 get a mist hook (F) on each leg, 80 cm above the foot."),
    ("loop", EYE, "", f"6. {LOW} Step 7 must already be done.\n7. {HIGH} Step 6 must already be done."),
    ("loop", EYE, "", f"6. {LOW} Do not begin until step 7 is finished.\n7. {HIGH} When step 6 is done, tighten it."),
    ("loop", EYE, "", f"6. {LOW} This step has to be done after step 7.\n7. {HIGH} This step has to be done after step 6."),
    ("loop", EYE, "", f"6. {LOW} Finish step 7 first.\n7. {HIGH} The rope eye of step 6 must already be on."),
    ("mismatch", TIE.format("closed, 32 mm"), ON_RIGHT, ""),
    ("mismatch", TIE.format("60 mm"), "2a. A tie ring (F) is threaded on to the right half of every hoop.", ""),
    ("mismatch", TIE.format("1 1/4 in"), "2a. Put one tie ring (F) on the right half of hoops 1 to 4.", ""),
    ("mismatch", "| F | lamp hook, for 25 mm tube | 4 |", "", "6. Clip one lamp hook (F) onto the left leg of each hoop."),
    ("short", HOOK.replace("8", "7"), "", "6. Clip one mist hook (F) onto each leg, 1500 mm above the foot."),
    ("short", HOOK.replace("8", "3"), "", "6. A mist hook (F) is hung from every hoop."),
    ("short", BOLT.replace("16", "10"), "2a. Close each clamp (B, C) with one clamp bolt (F).", ""),
    ("short", HOOK.replace("8", "5"), "", "6. Fit two mist hooks (F) to each end hoop.\n7. Fit one mist hook (F) to hoops 2 and 3."),
    ("unlisted", "", "", "6. Wrap one rub pad round each hoop at the ridge."),
    ("unlisted", "", "", "6. Clip a vent hook to both end hoops."),
    ("unlisted", "", "", "6. Lock each ridge clamp (B) with one stop pin."),
    ("unlisted", "", "", "6. Hoop 2 gets two hose clips on its left leg."),
    ("unused", HOOK, "", "6. Tighten every side clamp (C)."),
    ("unused", "| F | corner plug | 4 |", "", ""),
    ("unused", "| F | gutter hook | 4 |", "", "6. Leave the gutter off until the film has settled."),
    ("unused", "| F | lamp ring, closed | 4 |", "", "6. Hang the lamps where you want them."),
]
NOT_RAISED: list[Case] = [
    ("trapped", HINGED, "", "6. Close one lamp ring (F) round the right half of each hoop."),
    ("trapped", RING.format(4), "2a. Slide one lamp ring (F) onto the right half of each hoop, 500 mm from the ridge.", ""),
    ("trapped", RING.format(4), "", "6. Slide one lamp ring (F) onto each door post."),
    ("trapped", RING.format(4), "", "6. Slide one lamp ring (F) onto the right half of each hoop. Do this before step 3."),
    ("trapped", "| F | lamp holder | 4 |", "", "6. Fit one lamp holder (F) to the right half of each hoop."),  # a question: does it open?
    ("trapped", "| F | sheet clip | 8 |", "", "6. Fasten the sheet to each end hoop with four sheet clips (F)."),
    ("trapped", "| F | lamp ring, snapping on | 4 |", "", "6. Put one lamp ring (F) on each hoop."),
    (
        "trapped",
        RING.format(4),
        "1a. The feet will drop over the ground tubes and rest on the soil.\n2a. Each hoop takes one lamp ring (F), 500 mm from the ridge.",
        "",
    ),
    ("blocked", RING.format(4), "3a. Slide one lamp ring (F) onto the right half of each hoop from the top, 900 mm from the ridge.", ""),
    ("blocked", RING.format(4), "3a. Slide one lamp ring (F) onto the left half of each hoop from the top, 50 mm from the ridge.", ""),
    ("blocked", RING.format(4), "3a. Slide one lamp ring (F) onto the left half of each hoop.", ""),
    ("blocked", HINGED, "3a. Close one lamp ring (F) round the left half of each hoop, 900 mm from the ridge.", ""),
    ("conflict", BOLT, "2a. Close each side clamp (C) with one clamp bolt (F).", "Each side clamp (C) takes one clamp bolt (F)."),
    ("conflict", "", "", "## Summary\n\nEach hoop has two side clamps (C) and one ridge clamp (B).\n"),
    ("conflict", "", "", "## Summary\n\n| Fitting | Each hoop |\n| --- | --- |\n| Side clamp (C) | 2 |\n| Ridge clamp (B) | 1 |\n"),
    ("conflict", BOLT, "2a. Close each side clamp (C) with one clamp bolt (F) and each ridge clamp (B) with two.", ""),
    ("conflict", "", "", "## Summary\n\nThe side clamps (C) sit 800 mm above the foot.\n"),
    ("conflict", "", "", "6. Check that every side clamp (C) is 2 ft 7 1/2 in above the foot."),  # 800.1 mm
    ("conflict", "", "", "6. The water line hangs above the side clamps (C), 1 m above the foot."),
    ("conflict", "", "", "6. Do not let a side clamp (C) sit less than 700 mm above the foot."),
    ("conflict", "", "", "*Figure 2. Side clamp (C) with its bar, 2.1 m below the ridge.*"),
    ("conflict", "", "", "6. Lay the crop bar in the side clamps (C) and prop it 1.2 m above the foot."),
    ("conflict", "", "", "## Places\n\n| Fitting | Place |\n| --- | --- |\n| Side clamp (C) | 800 mm above the foot |\n"
     "| Ridge clamp (B) | 100 mm from the ridge |\n"),
    ("conflict", BOLT.replace("16", "8") + COACH.replace("4", "8"), "2a. Close each side clamp (C) with one clamp bolt (F).",
     "6. Each side clamp (C) takes one coach bolt (G) as a stop."),
    ("conflict", BOLT + "\n| G | lock nut | 8 |\n| H | wing nut | 8 |",
     "2a. Close each side clamp (C) with one clamp bolt (F) and one lock nut (G).", "6. Each side clamp (C) takes one wing nut (H)."),
    ("conflict", BOLT + COACH, "2a. Close each side clamp (C) with one clamp bolt (F).",
     "6. Each ridge clamp (B) takes one coach bolt (G)."),
    ("conflict", "", "", "## Summary\n\nEach hoop has two side clamps (C) and one ridge clamp (B). The gate has two brace clamps.\n"),
    ("conflict", "| F | lamp ring, hinged | 8 |", "2a. Each hoop carries a lamp ring (F).",
     "6. Close two lamp rings (F) round the left half of each hoop."),
    ("conflict", "| F | lamp holder | 4 |", "", "## Summary\n\nEach hoop has two side clamps (C), and room for one lamp holder (F).\n"),
    ("clash", HOOK, "", "6. Clip one mist hook (F) onto each leg, 900 mm above the foot."),
    ("clash", HOOK, "", "6. Clip one mist hook (F) onto each leg, 100 mm above the side clamp (C)."),
    ("clash", HOOK, "", "6. Clip one mist hook (F) onto the right half of each hoop, 100 mm from the ridge."),
    ("clash", HOOK, "", "6. Clip one mist hook (F) onto each leg."),
    ("loop", EYE, "", f"6. {LOW} Step 7 must already be done.\n7. {HIGH}"),
    ("loop", EYE, "", f"6. {LOW} Step 7 adds the others.\n7. {HIGH} Step 6 must already be done."),
    ("loop", EYE, "", f"6. {LOW} It is tightened in step 7.\n7. {HIGH} After step 6, tighten it."),
    ("loop", EYE, "", f"6. {LOW} Do this before step 7.\n7. {HIGH} Do this after step 6."),
    ("mismatch", TIE.format("48.3 mm"), ON_RIGHT, ""),
    ("mismatch", TIE.format("1.90 in"), ON_RIGHT, ""),
    ("mismatch", TIE.format("nominal 1 1/2 in"), ON_RIGHT, ""),
    ("mismatch", TIE.format("closed"), ON_RIGHT, ""),
    ("mismatch", "| F | crop bar clip, 25 mm | 4 |\n| G | crop bar, 25 mm | 2 |", "",
     "6. Clip the crop bar (G) to each leg of hoops 2 and 3 with one crop bar clip (F)."),
    ("short", HOOK, "", "6. Clip one mist hook (F) onto each leg, 1500 mm above the foot."),
    ("short", HOOK, "", "6. A mist hook (F) is hung from every hoop, two from the end hoops."),
    ("short", "| F | mist hook | 1 bag |", "", "6. Clip one mist hook (F) onto each leg, 1500 mm above the foot."),
    ("short", HOOK.replace("8", "2"), "", "6. Clip one mist hook (F) onto each leg, 1500 mm above the foot."),  # 8 for 2: a question
    ("unlisted", HOOK, "", "6. Clip a hook (F) to both end hoops."),
    ("unlisted", "| F | rub pad | as required |", "", "6. Wrap one rub pad round each hoop at the ridge."),
    ("unlisted", "", "", "6. No hose clip is needed on this tunnel."),
    ("unlisted", "", "", "6. Tighten the clamps, and check the straps."),
    ("unlisted", "", "", "6. The stays have hooks at their ends."),
    ("unlisted", "", "", "6. A stay hooks into the side clamp (C) at one end and into the ridge clamp (B) at the other."),
    ("unused", HOOK, "", "6. Mist hooks (F) are pressed over the tube wherever the line sags."),
    ("unused", HOOK, "", "6. Clip one mist hook (F) to hoop 2; the others are spare."),
    ("unused", "| F | end board | 2 |", "", ""),
    ("unused", "| F | mist hook | 0 |", "", ""),
]  # fmt: skip


def result(path: Path, case: Case) -> Schedule:
    code, rows, early, late = case
    dress, join = STOOD if code == "blocked" else FLAT
    manual = path / "kit.md"
    manual.write_text(MANUAL.format(rows=rows, early=early, late=late, dress=dress, join=join), encoding="utf-8")
    return build_schedule([manual])


def name(case: Case) -> str:
    return f"{case[0]}: {case[3] or case[2] or case[1]}"


@pytest.mark.parametrize("case", RAISED, ids=name)
def test_a_sentence_that_raises_the_code(case: Case, tmp_path: Path) -> None:
    assert [finding.code for finding in result(tmp_path, case).warnings] == [case[0]]


@pytest.mark.parametrize("case", NOT_RAISED, ids=name)
def test_a_near_miss_that_does_not(case: Case, tmp_path: Path) -> None:
    assert case[0] not in [finding.code for finding in result(tmp_path, case).warnings]


@pytest.mark.parametrize("code", get_args(WarningCode))
def test_every_code_has_four_of_each(code: str) -> None:
    assert len({case[1:] for case in RAISED if case[0] == code}) >= 4
    assert len({case[1:] for case in NOT_RAISED if case[0] == code}) >= 4


@pytest.mark.parametrize("case", RAISED, ids=name)
def test_a_warning_says_what_was_found_why_and_what_to_do_with_the_words_of_each_side(case: Case, tmp_path: Path) -> None:
    (finding,) = result(tmp_path, case).warnings
    assert len(finding.message.split()) >= 12
    assert len(finding.advice.split()) >= 8
    assert finding.sources
    assert all(source.page and source.quote.strip() for source in finding.sources)
    if finding.code in ("trapped", "blocked", "conflict", "clash", "loop", "mismatch", "short"):
        assert len(finding.sources) >= 2
