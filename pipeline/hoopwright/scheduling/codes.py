"""What each warning code means, in full: printed on request. A test fails if a code lacks a heading."""

from __future__ import annotations

from typing import get_args

from hoopwright.model.schedule import WarningCode

HEADINGS = ("What it says", "Why it matters", "What to do", "Example", "Not this")
CODES: tuple[WarningCode, ...] = get_args(WarningCode)

TEXTS: dict[WarningCode, tuple[str, str, str, str, str]] = {
    "trapped": (
        "A fitting that slides on over a tube's end is called for after every open end of its tube is shut: joined, fixed, capped or "
        "standing on a ground tube. The warning names the steps that shut the ways and the last step after which a way was free.",
        "A closed fitting cannot pass a joint, a screw or a foot. Found out on the site, it means taking a standing hoop apart.",
        "Slide the fitting on before the step that the advice names, when the tubes still lie loose. If the hoop stands already, take "
        "it apart at the nearest joint, or ask for a fitting of the same size that opens.",
        "Step 12 screws all joints and step 16 stands the hoops. Step 32 says: “Slide one prop ring on to the right bow tube of hoop 6.”",
        "A fitting that the manual calls hinged, two-part or snap-on; a ring for a leg whose foot does not stand yet; a ring that a step "
        "adds and the same step then shuts in; a bracket or holder of which nobody says whether it opens: that is a question.",
    ),
    "blocked": (
        "An end of the tube is open, but a fitting that is on already sits between that end and the place where this one belongs. "
        "The warning names what is in the way.",
        "Two fittings on a tube cannot pass each other. The one in the way may be tight, or have a bar in it, by then.",
        "Put the deeper one on first: the advice names the step to go before. If the outer one is on already, take it off and put it "
        "back afterwards.",
        "The foot of the half is bolted. Step 5a: “slide on 1 ridge clamp from the top, 6 in down; tighten.” Step 5b: “slide 1 lamp "
        "clamp on from the top, 3 ft down.”",
        "Fittings of one step, unless its words say which comes after which; fittings whose places are not known well enough to say "
        "which is the outer one; a tube whose other end is still free.",
    ),
    "conflict": (
        "Two places of the manual give different numbers, places or parts for the same thing, or sizes of the hoop that cannot all be "
        "true. The warning quotes both and says which one was counted.",
        "One of the two is wrong. Which, decides how many pieces each hoop takes, or where they sit.",
        "Compare with the bag and the drawings. If the reading that was counted is not the right one, answer it in the answers file.",
        "The table gives one hanging eye to a hoop; step 7 says: “two on each, one to the left of the ridge and one to the right.”",
        "A correction slip that replaces what it corrects; a summary that gives the same numbers; a length rounded to the unit it is "
        "printed in.",
    ),
    "clash": (
        "Two fittings of one hoop are called for at the same place on the tube, or nearer to each other than their widths allow.",
        "They cannot both grip the same piece of tube. One will end up beside its mark, and what hangs on it out of line.",
        "Find out which of the two may shift, mark its new place before you begin, and keep to one side for all hoops.",
        "Step 5 puts the crop bar clip 2100 mm above the ground; step 25 the mist hanger a third of the way from the joint to the ridge. "
        "Both are 2152 mm along the tube.",
        "The same height on the other leg or on another hoop; a bolt through its own clip; a pad over a clip; two fittings both simply "
        "“at the ridge”, without a measure; places that are not known.",
    ),
    "loop": (
        "The order that the manual asks for contradicts itself: this before that, and that before this. The warning quotes the shortest "
        "circle of sentences, or the sentence that the places on the tube make impossible.",
        "No order of work can satisfy both sentences, so one is wrong. Followed blindly, the fittings end up in the wrong order.",
        "Go by the places on the tube: the deepest goes on first. If that leaves a bar on the wrong side, ask the supplier.",
        "Step 4: “The purlin clip of step 5 must already be on the tube.” Step 5: “The crop bar clip of step 4 must already be on the "
        "tube.”",
        "Steps that merely stand in an unlucky order (the revised order mends that); a step that speaks of a later one without asking "
        "for it first; the same words about different hoops.",
    ),
    "mismatch": (
        "The size of a fitting suits no usual meaning of the size of the hoop's tube: outside diameter, nominal bore, or the name under "
        "which the tube is sold.",
        "Too small, it does not go on; too large, it turns and slips. It may be meant for another bar of the frame.",
        "Try one on the tube before you begin. If it does not fit, ask for the right size; do not pack it out.",
        "The tie ring is 1.315 in. Step 3d: “slide 1 tie ring onto each half”, and the half is 1.66 in tube.",
        "42 mm on nominal 1 1/4 in tube, which is 42.2 or 42.4 mm outside; 48 mm on 1.90 in; a clip whose name or sentence speaks of the "
        "bar that has its size; a clip made for two tubes, one of which is the hoop's.",
    ),
    "short": (
        "The steps use more of a part than the parts list supplies. The warning gives both numbers and the steps that use it.",
        "The bag runs out part-way through, often with a hoop half dressed.",
        "Count the bag. If it holds what the list says, get the missing pieces first, and check the steps for a number read wrongly.",
        "The list has 18 hinged clamps. Step 27 takes 16, step 22 two and step 29 two: 20.",
        "A part that the list gives without a number (“1 bag”); parts of an optional extra that is left out; spares; a number so far "
        "above the list that a sentence may have been misunderstood: that is a question.",
    ),
    "unlisted": (
        "A step uses a part that no parts list of the kit names.",
        "It may be missing from the kit, or go by another name there; a part under two names is counted twice as different parts.",
        "Look for it in the bags. If it goes by another name, add that to the answers; if it is missing, ask the supplier.",
        "Step 10a: “1 liner pad between U-bolt and bow.” The list has no liner pad.",
        "A manual that has no parts list at all; a part that the list names without a number; a code or a short name of a listed part.",
    ),
    "unused": (
        "The parts list supplies a fitting that no step uses.",
        "A step may be missing from the manual, or it calls the part by another name; what it holds would then be left loose.",
        "Look for steps that name a similar part, and ask the supplier what it is for before the cover goes on.",
        "The list has 6 shade hooks; no step speaks of a shade hook.",
        "Tubes, boards and tools; parts of an optional extra that is left out; spare pieces of a part that is used; a part that a step "
        "speaks of without a number that was understood: that is a question.",
    ),
}


def describe(code: str) -> str:
    """The full description of a warning code as Markdown. Raises KeyError with the known codes for any other text."""
    known = {name: name for name in CODES}
    if code not in known:
        raise KeyError(f"{code!r} is no warning code; the codes are {', '.join(CODES)}")
    parts = (f"## {heading}\n\n{text}\n" for heading, text in zip(HEADINGS, TEXTS[known[code]], strict=True))
    return f"# {code}\n\n" + "\n".join(parts)
