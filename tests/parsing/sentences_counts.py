"""Sentences and their readings: how many, on which sides and joints, for each fitting, on which hoops."""

from __future__ import annotations

from .sentence_cases import add, case, rule

# How many
QUANTITIES = [
    case("Slide two ridge clips onto each hoop (12 in total).", add("ridge clip", "2", "all")),
    case("Slide two ridge clips onto each hoop.", add("ridge clip", "2", "all")),
    case("Slide 2 ridge clips onto each hoop.", add("ridge clip", "2", "all")),
    case("Thread a pair of saddle clamps onto every hoop.", add("saddle clamp", "2", "all")),
    case("Thread a couple of saddle clamps onto every hoop.", add("saddle clamp", "2", "all")),
    case("Put half a dozen film straps round hoop 4.", add("film strap", "6", "4")),
    case("Every hoop gets a dozen film straps.", add("film strap", "12", "all")),
    case("Fit 2 No. brace clips to hoop 1.", add("brace clip", "2", "1")),
    case("Fit 2 off brace clips to hoop 1.", add("brace clip", "2", "1")),
    case("Hoop 1: brace clips x4.", add("brace clip", "4", "1")),
    case("Fit brace clips (4) to hoop 3.", add("brace clip", "4", "3")),
    case("Fit four (4) brace clips to hoop 3.", add("brace clip", "4", "3")),
    case("Fit three or four film straps to hoop 2.", add("film strap", "3-4", "2")),
    case("Fit 2 to 3 vent hooks to hoop 5.", add("vent hook", "2-3", "5")),
    case(
        "Fit film straps as required to the end hoops.",
        add("film strap", "? as-required", "end"),
    ),
    case("Fit film straps to hoop 6.", add("film strap", "? none", "6")),
    case("Put several film straps round hoop 2.", add("film strap", "? as-required", "2")),
    case("Slip a single lamp ring over the crown tube of hoop 3.", add("lamp ring", "1", "3", units="centre crown tube")),
    case("Add one more film strap to hoop 2.", add("film strap", "1", "2", flags="more")),
    case("Put a further two vent hooks on hoop 4.", add("vent hook", "2", "4", flags="more")),
    case("Fit twenty-one film straps to hoop 2.", add("film strap", "21", "2")),
    case("Slide on 3 x ridge clip per hoop.", add("ridge clip", "3 each", "all")),
    case("Qty. 2 lamp rings on hoop 3.", add("lamp ring", "2", "3")),
    case("No lamp ring goes on hoop 1."),
    case("Put 24 vent hooks, four to a hoop, on the hoops.", add("vent hook", "4", "all")),
    case("Slide three clips onto hoop 2: two ridge clips and one brace clip.", add("ridge clip", "2", "2"), add("brace clip", "1", "2")),
]


# Shared out over sides, legs, joints, posts
DISTRIBUTION = [
    case("Slide one ridge clip on each side of every hoop.", add("ridge clip", "1", "all", units="side each")),
    case("Two joint screws go into each joint of every hoop.", add("joint screw", "2", "all", units="joint each")),
    case("Put one foam pad over each of the two joints of every hoop.", add("foam pad", "1", "all", units="joint each ×2")),
    case("Each leg takes a foot collar.", add("foot collar", units="leg each")),
    case("Each hoop carries two crop clips, one on each leg.", add("crop clip", "2", "all", places="×2 both sides")),
    case("Slide two brace clips onto each leg of the end hoops.", add("brace clip", "2", "end", units="leg each")),
    case("Slide four ridge clips onto the end hoops, two on each.", add("ridge clip", "2", "end")),
    case("Put three film straps on each of the intermediate hoops.", add("film strap", "3", "inner")),
    case("Two vent hooks per hoop.", add("vent hook", "2 each", "all")),
    case("One foot pin goes through each foot.", add("foot pin", units="foot each")),
    case("Fit one lamp ring to the crown tube of each hoop.", add("lamp ring", "1", "all", units="centre crown tube")),
    case("At each crossing of the ridge bar and a hoop fit one saddle clamp.", add("saddle clamp", units="crossing each")),
    case("Fit one hinge to each door post.", add("hinge", units="door post each ×2", member="door post")),
    case("Screw two hinges to the left door post.", add("hinge", "2", units="left door post", member="door post")),
    case("Slide one foot collar up either leg of every hoop.", add("foot collar", "1", "all", units="leg each")),
    case(
        "Onto each leg of hoops 2 and 5 thread a crop clip and a brace clip.",
        add("crop clip", "1", "2,5", units="leg each"),
        add("brace clip", "1", "2,5", units="leg each"),
    ),
    case("Hoop 3, both legs: one crop clip.", add("crop clip", "1", "3", units="leg each ×2")),
    case("Hoop 3, RH leg: one crop clip.", add("crop clip", "1", "3", units="right leg")),
    case(
        "Left and right legs of hoop 3: one crop clip each.",
        add("crop clip", "1 each", "3", units="leg each ×2"),
    ),
    case("Screw two hinges to each of the two door posts.", add("hinge", "2", units="door post each ×2", member="door post")),
    case("A coach bolt goes through each ground tube.", add("coach bolt", units="ground tube each ×12", member="ground tube")),
    case("From hoop 4 on each joint takes three joint screws.", add("joint screw", "3", "every 1 from 4", units="joint each")),
]


# So many of a fastener for each fitting
RULES = [
    case(
        "Each saddle clamp takes one clamp bolt and two penny washers.",
        rule("clamp bolt", "1", "saddle clamp"),
        rule("penny washer", "2", "saddle clamp"),
    ),
    case("Close every ridge clip with a coach bolt.", rule("coach bolt", "1", "ridge clip")),
    case("Put a wing nut on each coach bolt.", rule("wing nut", "1", "coach bolt")),
    case("Every crop clip is held by one clamp bolt.", rule("clamp bolt", "1", "crop clip")),
    case("1 penny washer per clamp bolt.", rule("penny washer", "1 each", "clamp bolt")),
    case("Each brace clip and each crop clip needs a clamp bolt.", rule("clamp bolt", "1", "brace clip, crop clip")),
    case("Ridge clips and crop clips take one coach bolt apiece.", rule("coach bolt", "1 each", "ridge clip, crop clip")),
    case("Lamp rings need no bolt.", rule("", "0", "lamp ring")),
    case(
        "Slide a saddle clamp onto each hoop and close it with two clamp bolts.",
        add("saddle clamp", "1", "all"),
        rule("clamp bolt", "2", "saddle clamp"),
    ),
    case("Each hinge is fixed with six wood screws.", rule("wood screw", "6", "hinge")),
    case(
        "Fit a clamp bolt with a penny washer to each saddle clamp.",
        rule("clamp bolt", "1", "saddle clamp"),
        rule("penny washer", "1", "saddle clamp"),
    ),
    case("Use two coach bolts for each brace clip.", rule("coach bolt", "2", "brace clip")),
    case(
        "A hinged clamp is closed by a pair of coach bolts, each with its wing nut.",
        rule("coach bolt", "2 each", "hinged clamp"),
        rule("wing nut", "1", "coach bolt"),
        wrong="'each with its wing nut' gives no rule",
    ),
    case("Every clamp bolt gets a penny washer under its head.", rule("penny washer", "1", "clamp bolt")),
    case("Two penny washers go under the head of each coach bolt.", rule("penny washer", "2", "coach bolt")),
    case("All crop clips are closed with one coach bolt each.", rule("coach bolt", "1 each", "crop clip")),
]


# Which hoops
HOOPS = [
    case("Slide a lamp ring onto every hoop with an even number.", add("lamp ring", "1", "even")),
    case("Slide a lamp ring onto all hoops with even numbers.", add("lamp ring", "1", "even")),
    case("Slide one lamp ring onto all but the end hoops.", add("lamp ring", "1", "except(all / end)")),
    case("Slide a lamp ring onto each of the two middle hoops.", add("lamp ring", "1", "inner")),
    case("Slide a lamp ring onto all six hoops.", add("lamp ring", "1", "all")),
    case("Slide a lamp ring onto each of the end hoops.", add("lamp ring", "1", "end")),
    case("Slide a lamp ring onto both end hoops.", add("lamp ring", "1", "end")),
    case("Slide a lamp ring onto each intermediate hoop.", add("lamp ring", "1", "inner")),
    case("Slide a lamp ring onto hoop 3.", add("lamp ring", "1", "3")),
    case("Slide a lamp ring onto hoop no. 3.", add("lamp ring", "1", "3")),
    case("Slide a lamp ring onto each of hoops 2 and 5.", add("lamp ring", "1", "2,5")),
    case("Slide one lamp ring onto each of hoops 2, 3 and 5.", add("lamp ring", "1", "2,3,5")),
    case("Slide one lamp ring each onto hoops 2 to 5.", add("lamp ring", "1 each", "2,3,4,5")),
    case("Hoops 1-3 take one lamp ring each.", add("lamp ring", "1 each", "1,2,3")),
    case("Slide a lamp ring onto the first hoop.", add("lamp ring", "1", "1")),
    case("Slide a lamp ring onto the last hoop.", add("lamp ring", "1", "-1")),
    case("Slide a lamp ring onto the first and the last hoop.", add("lamp ring", "1", "1,-1")),
    case("Slide a lamp ring onto each of the first three hoops.", add("lamp ring", "1", "1,2,3")),
    case("Slide a lamp ring onto each of the last two hoops.", add("lamp ring", "1", "-2,-1")),
    case("Slide a lamp ring onto each odd-numbered hoop.", add("lamp ring", "1", "odd")),
    case("Slide a lamp ring onto each even-numbered hoop.", add("lamp ring", "1", "even")),
    case("Slide a lamp ring onto every other hoop, starting with hoop 2.", add("lamp ring", "1", "every 2 from 2")),
    case("Slide a lamp ring onto every third hoop from hoop 3.", add("lamp ring", "1", "every 3 from 3")),
    case("Slide a lamp ring onto the second-to-last hoop.", add("lamp ring", "1", "-2")),
    case("Slide a lamp ring onto the second and the second-to-last hoop.", add("lamp ring", "1", "2,-2")),
    case("Slide a lamp ring onto every hoop but hoop 4.", add("lamp ring", "1", "except(all / 4)")),
    case("Slide a lamp ring onto each hoop except the end hoops.", add("lamp ring", "1", "except(all / end)")),
    case("Slide a lamp ring onto every hoop except 1 and 6.", add("lamp ring", "1", "except(all / 1,6)")),
    case(
        "Slide a lamp ring onto hoop 2, and two lamp rings onto each of the remaining hoops.",
        add("lamp ring", "1", "2"),
        add("lamp ring", "2", "rest"),
    ),
    case("Slide a lamp ring onto the door hoop.", add("lamp ring", "1", "1")),
    case("Slide a lamp ring onto each hoop from hoop 3 onwards.", add("lamp ring", "1", "every 1 from 3")),
    case("Slide a lamp ring onto the third hoop from the far end.", add("lamp ring", "1", "4")),
    case("Slide a lamp ring onto hoop 1, then onto hoop 4.", add("lamp ring", "1", "1,4")),
    case("Slide a lamp ring onto the hoop at the far end.", add("lamp ring", "1", "-1")),
    case("The hoop nearest the door gets one lamp ring.", add("lamp ring", "1", "1")),
    case("Slide a lamp ring onto the hoops either side of the second bay.", add("lamp ring", "1", "2,3")),
    case("Slide a lamp ring onto hoop 2 only.", add("lamp ring", "1", "2")),
    case("On all hoops apart from the first, slide one lamp ring.", add("lamp ring", "1", "except(all / 1)")),
    case("Hoops 2 and 4 take a lamp ring each, hoop 6 takes two.", add("lamp ring", "1 each", "2,4"), add("lamp ring", "2", "6")),
    case("Slide one lamp ring onto hoops 2-4 & 6.", add("lamp ring", "1", "2,3,4,6")),
    case("Each bow takes two lamp rings.", add("lamp ring", "2", "all"), hoop="bow"),
    case("Thread a lamp ring onto every arch.", add("lamp ring", "1", "all"), hoop="arch"),
    case("Thread a lamp ring onto ribs 2 and 3.", add("lamp ring", "1", "2,3"), hoop="rib"),
]
