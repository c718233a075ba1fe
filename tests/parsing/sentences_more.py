"""Sentences and their readings: bars, places, order, references, what adds nothing, names, style."""

from __future__ import annotations

from .sentence_cases import act, add, case, copy, rule

# Bars between places
BARS = [
    case(
        "A brace runs from the foot of hoop 1 to the shoulder of hoop 2, with a brace clip at each end.",
        add("brace clip", "1", "1,2", units="foot; shoulder; end each; brace ×1", places="shoulder"),
    ),
    case("The ridge bar is held by one saddle clamp at every hoop.", add("saddle clamp", "1", "all")),
    case("Carry the crop bar across hoop 3 with a crop clip at each end.", add("crop clip", "1", "3", units="end each")),
    case("A saddle clamp fixes the ridge bar to each hoop.", add("saddle clamp", "1", "all")),
    case("Fix the ridge bar to hoop 2 with a hinged clamp.", add("hinged clamp", "1", "2")),
    case(
        "Fix the brace to hoop 5 with one brace clip and to hoop 6 with another.",
        add("brace clip", "1", "5"),
        add("brace clip", "1", "6", flags="more"),
        wrong="the two hoops are joined for the first clip",
    ),
    case("Fasten the ridge bar to every hoop it crosses with a saddle clamp.", add("saddle clamp", "1", "all")),
    case(
        "The crop bar of each intermediate hoop hangs in two crop clips, one on each leg.",
        add("crop clip", "2", "inner", places="×2 both sides"),
        wrong="asks instead of counting",
    ),
]


# Where
WHERE = [
    case(
        "Slide a crop clip onto each of hoops 2 to 5, 900 mm up from the foot.",
        add("crop clip", "1", "2,3,4,5", places="900 up foot"),
    ),
    case(
        "Slide a crop clip onto hoop 4, 900 mm up from the foot.",
        add("crop clip", "1", "4", places="900 up foot"),
    ),
    case("Slide a crop clip onto each leg, 900 mm above the ground.", add("crop clip", units="leg each", places="900 up ground as height")),
    case("Slide a ridge clip onto each hoop, 300 mm below the ridge.", add("ridge clip", "1", "all", places="300 down ridge")),
    case("Slide a ridge clip onto each hoop at the ridge.", add("ridge clip", "1", "all", units="ridge", places="0 centre ridge")),
    case("Slide a lamp ring onto hoop 3, 600 mm to the left of the ridge.", add("lamp ring", "1", "3", places="600 left ridge")),
    case(
        "Slide two ridge clips onto each hoop, 200 mm either side of the ridge.",
        add("ridge clip", "2", "all", places="200 both sides ridge"),
    ),
    case("Slide a brace clip onto each leg, 100 mm below the joint.", add("brace clip", units="leg each", places="100 down joint")),
    case("Slide a crop clip onto each leg, 4 ft 6 in up from the foot.", add("crop clip", units="leg each", places="1371.6 up foot")),
    case("Slide a crop clip onto each leg, 1⅜ in. below the joint.", add("crop clip", units="leg each", places="34.925 down joint")),
    case(
        "Slide a lamp ring onto hoop 3, midway between the left joint and the ridge.",
        add("lamp ring", "1", "3", places="0.50 midway [joint|ridge]"),
    ),
    case(
        "Slide a brace clip a third of the way up each leg of hoop 1.",
        add("brace clip", "1", "1", units="leg each", places="0.33 part-way"),
    ),
    case(
        "Slide a brace clip onto each leg of hoop 1, directly above the crop clip.",
        add("brace clip", "1", "1", units="leg each", places="up crop clip"),
    ),
    case(
        "Slide two crop clips onto each leg, one 400 mm and one 800 mm above the ground.",
        add("crop clip", "2", units="leg each", places="×1 400 up ground as height; ×1 800 up ground as height"),
    ),
    case(
        "Slide a brace clip onto each leg of hoop 1 at the height shown in Fig. 4.",
        add("brace clip", "1", "1", units="leg each", places="figure"),
    ),
    case(
        "Slide a vent hook onto the right leg of each hoop, 1.2 m up from the foot.",
        add("vent hook", "1", "all", units="right leg", places="1200 up foot"),
    ),
    case(
        "Slide a brace clip onto each leg of hoop 1, 150 mm above the crop clip.",
        add("brace clip", "1", "1", units="leg each", places="150 up crop clip"),
    ),
    case(
        "Slide a crop clip onto each leg at a height of 1,5 m above the ground.",
        add("crop clip", units="leg each", places="1500 up ground as height"),
    ),
    case("Slide a foot collar onto each leg, 50 mm from its lower end.", add("foot collar", units="leg each", places="50 foot")),
    case(
        "Slide a brace clip onto the left leg of hoop 2, 6'-3\" up from the foot.",
        add("brace clip", "1", "2", units="left leg", places="1905 up foot"),
    ),
    case(
        "Slip a lamp ring over the crown tube of hoop 3 until it is 250 mm from the right joint.",
        add("lamp ring", "1", "3", units="centre crown tube", places="250 right joint"),
    ),
    case(
        "Slide one saddle clamp up each leg to 2 ft above the ground.",
        add("saddle clamp", units="leg each", places="609.6 up ground as height"),
    ),
    case(
        "Fit a vent hook inside each leg, halfway up.",
        add("vent hook", "1", units="leg each", places="0.50 part-way"),
        wrong="'halfway up' gives no place",
    ),
    case("Slide a brace clip onto the left shoulder of hoop 2.", add("brace clip", "1", "2", units="left shoulder")),
    case(
        "Fit one lamp ring to hoop 3, see Fig. 5.",
        add("lamp ring", "1", "3", places="figure"),
        wrong="a place that only a figure shows raises no question",
    ),
    case(
        "Fit a vent hook at eye level on the right leg of each hoop.",
        add("vent hook", "1", "all", units="right leg", flags="doubt:position"),
    ),
    case('Slide a saddle clamp onto each hoop, 48" from the foot.', add("saddle clamp", "1", "all", places="1219.2 foot")),
    case(
        "Thread a saddle clamp onto each leg, 2 ft (610 mm) above the ground.",
        add("saddle clamp", units="leg each", places="609.6 up ground as height"),
    ),
    case(
        "Slide a ridge clip onto each hoop, 12 in below the ridge on the left.",
        add("ridge clip", "1", "all", places="304.8 down left ridge"),
    ),
    case("Slide a lamp ring onto hoop 3, half a metre to the right of the ridge.", add("lamp ring", "1", "3", places="500 right ridge")),
    case(
        "Bow 3 takes a lamp ring at the middle, 3.12 m from each foot.",
        add("lamp ring", "1", "3", places="0 centre ridge"),
        hoop="bow",
    ),
    case(
        "One lamp ring sits at the ridge of hoop 4, 3120 mm from either end.",
        add("lamp ring", "1", "4", units="ridge", places="0 centre ridge"),
    ),
    case("Thread a lamp ring over the right foot of hoop 3, to 1100 mm.", add("lamp ring", "1", "3", units="right foot", places="1100")),
    case("Hang a vent hook on each leg, 1 foot below the joint.", add("vent hook", units="leg each", places="304.8 down joint")),
]


# In what order; joining and standing
WHEN = [
    case("Before you join the tubes, slide a ridge clip onto each hoop.", add("ridge clip", "1", "all")),
    case("Once the hoops are standing, put a vent hook on each hoop.", add("vent hook", "1", "all")),
    case(
        "As you join the tubes, put two joint screws through each joint.",
        add("joint screw", "2", units="joint each"),
        act("join"),
        act("fix"),
    ),
    case("After joining, stick a foam pad onto each joint.", add("foam pad", units="joint each")),
    case("Do not tighten the clamp bolts yet."),
    case("Leave the coach bolts loose for now."),
    case("At the same time thread a lamp ring onto hoop 3.", add("lamp ring", "1", "3")),
    case("Only when the film is on, fit two film straps to each end hoop.", add("film strap", "2", "end")),
    case("Join the three tubes of each hoop.", act("join", "all")),
    case("Stand every hoop on its ground tubes.", act("stand", "all")),
    case("Lower hoop 3 onto its ground tubes.", act("stand", "3")),
    case("Drive two joint screws through each joint.", add("joint screw", "2", units="joint each"), act("join"), act("fix")),
    case("Push the crown tube into the two legs.", act("join")),
]


# References
REFERENCES = [
    case("Slide a ridge clip onto hoop 1. Do the same on hoop 6.", add("ridge clip", "1", "1"), copy("6")),
    case(
        "Slide a crop clip onto the left leg of each hoop. Repeat on the other side.",
        add("crop clip", "1", "all", units="left leg"),
        copy(flags="side"),
    ),
    case("Slide a ridge clip onto hoop 1. Treat the remaining hoops in the same way.", add("ridge clip", "1", "1"), copy("rest")),
    case("Slide a ridge clip onto hoop 2. Hoop 4 is like hoop 2.", add("ridge clip", "1", "2"), copy("4", like="2")),
    case(
        "Slide a saddle clamp onto each leg. Push it down until it is 300 mm above the foot.",
        add("saddle clamp", "1", units="leg each", places="300 up foot"),
    ),
    case(
        "Thread a lamp ring and a ridge clip onto hoop 2. They each take a clamp bolt.",
        add("lamp ring", "1", "2"),
        add("ridge clip", "1", "2"),
        rule("clamp bolt", "1", "lamp ring, ridge clip"),
    ),
    case(
        "Slide one crop clip onto the left leg of hoop 2 and another onto the right leg.",
        add("crop clip", "1", "2", units="left leg"),
        add("crop clip", "1", "2", units="right leg", flags="more"),
    ),
    case(
        "Slide a crop clip onto the left leg of hoop 2. Another goes on the right leg.",
        add("crop clip", "1", "2", units="left leg"),
        add("crop clip", "1", "2", units="right leg", flags="more"),
    ),
    case("Hoop 1 takes two brace clips. The last hoop takes the same.", add("brace clip", "2", "1"), copy("-1")),
    case("Take hoop 2. Thread a lamp ring over its crown tube.", add("lamp ring", "1", "2", units="centre crown tube")),
    case("As step 1, but on hoop 4.", copy("4", steps="1")),
    case("Fit hoop 5 out as hoop 2.", copy("5", like="2")),
]


# What adds nothing
NOTHING = [
    case("Tighten the clamp bolts."),
    case("Check that every hoop carries two ridge clips."),
    case("Slide the ridge clips along to their marks."),
    case("Loosen the coach bolts a little."),
    case("There should now be twelve ridge clips on the hoops."),
    case("The crop clips of step 4 stay where they are."),
    case("You will need a spanner for the clamp bolts."),
    case("Mark each leg 900 mm above the foot."),
    case("Count the film straps before you begin."),
    case("If a clip creeps, fit a second one beside it."),
    case("Bag 3 holds the clamp bolts."),
    case("Do not fit the vent hooks yet."),
    case("The ridge clips that you put on in step 2 take the ridge bar."),
    case("Feed the ridge bar through the ridge clips."),
    case("Hang the crop bars in the crop clips."),
    case("The lamp rings are shown in Fig. 3."),
    case("Turn each brace clip until its eye faces outwards."),
    case("Never hammer the saddle clamps."),
    case("Make sure that no brace clip is twisted."),
    case("Keep the wood screws dry."),
    case("Hoops 2 to 5 should each show two crop clips."),
    case("Nip up the coach bolts with a 13 mm spanner."),
    case("Two people lift each hoop, one at each leg."),
    case("The vent hooks were fitted in step 3."),
    case("All ridge clips must sit square to the tube."),
    case("Hand each helper two vent hooks."),
    case("It takes about two hours to fit the ridge clips."),
    case("The film straps, which are black, come last."),
    case("Are both ridge clips on each hoop?"),
    case("Do not lose the two spare lamp rings."),
    case("Lay the lamp rings out beside the hoops."),
    case("It is a good deal quicker to fit a lamp ring now than with the film on."),
    case("You will find it easier to slide two ridge clips onto a bare tube than to open a joint for them."),
    case("When you are done, none of the joint screws are left over in the tray."),
]


# Names
NAMES = [
    case("Slide two RC onto each hoop.", add("ridge clip", "2", "all")),
    case("Slide two clips (RC) onto each hoop.", add("ridge clip", "2", "all")),
    case("Slide two item RC onto each hoop.", add("ridge clip", "2", "all")),
    case("SLIDE TWO RIDGE CLIPS ONTO EACH HOOP.", add("ridge clip", "2", "all")),
    case("Slide two ridge-clips onto each hoop.", add("ridge clip", "2", "all")),
    case("Slide two steel ridge clips onto each hoop.", add("ridge clip", "2", "all")),
    case("Slide two Ridge Clips (item RC) onto each hoop.", add("ridge clip", "2", "all")),
    case("Fit one wing clamp to hoop 3.", add("wing clamp", "1", "3")),
    case("Fit one net hook to hoop 3.", add("net hook", "1", "3")),
    case("Slide one saddle onto hoop 3.", add("saddle clamp", "1", "3"), wrong="the first word of a listed name is taken for another part"),
    case("Put a strap round each leg of hoop 2.", add("film strap", "1", "2", units="leg each")),
    case("Slide two ridge clisp onto each hoop.", add("ridge clip", "2", "all")),
    case("Slide one clip onto hoop 3.", add("ridge clip", "1", "3", flags="doubt:fitting")),
    case("Slide a collar up each leg.", add("foot collar", units="leg each")),
    case("Slide two long brace clips onto hoop 1.", add("brace clip", "2", "1")),
    case("Drive one screw through each joint.", add("joint screw", units="joint each", flags="doubt:fitting")),
]


# Style
STYLE = [
    case(
        "Each leg carries, from the foot upwards, a foot collar and a crop clip.",
        add("foot collar", units="leg each"),
        add("crop clip", units="leg each"),
    ),
    case("Two ridge clips are slid onto each hoop.", add("ridge clip", "2", "all")),
    case("You will need to slide two ridge clips onto each hoop.", add("ridge clip", "2", "all")),
    case("Ea. hoop: 2 ridge clips.", add("ridge clip", "2", "all")),
    case("2 RC ea. hoop.", add("ridge clip", "2 each", "all")),
    case("Int. hoops: 2 crop clips ea.", add("crop clip", "2 each", "inner")),
    case("LH leg of ea. hoop: 1 foot collar, 150 mm fr. foot.", add("foot collar", "1", "all", units="left leg", places="150 foot")),
    case("Now take hoop 2 and thread a lamp ring over its crown tube.", add("lamp ring", "1", "2", units="centre crown tube")),
    case("Both legs of every hoop have a foot collar.", add("foot collar", "1", "all", units="leg each ×2")),
    case("Film straps: 2 per end hoop.", add("film strap", "2 each", "end")),
    case("To each hoop are fitted two ridge clips.", add("ridge clip", "2", "all")),
    case("Give each intermediate hoop a pair of crop clips.", add("crop clip", "2", "inner")),
    case("It is now time to slide a lamp ring onto the third hoop.", add("lamp ring", "1", "3")),
    case("Onto each end hoop slide\n   - two brace clips\n   - one lamp ring", add("brace clip", "2", "end"), add("lamp ring", "1", "end")),
    case("A ridge clip is needed at the crown of each hoop.", add("ridge clip", "1", "all", units="ridge", places="0 centre ridge")),
    case("With a helper, slide two ridge clips onto each hoop.", add("ridge clip", "2", "all")),
    case(
        "Please slide two ridge clips onto each hoop (see Fig. 2).",
        add("ridge clip", "2", "all"),
    ),
    case("Each end hoop has two brace clips; each intermediate hoop has none.", add("brace clip", "2", "end")),
    case("Each of the six hoops is to receive two ridge clips.", add("ridge clip", "2", "all")),
    case("One lamp ring is threaded onto hoop 3 and a second onto hoop 4.", add("lamp ring", "1", "3,4")),
    case("Bows 1, 3 & 5: one lamp ring ea.", add("lamp ring", "1 each", "1,3,5"), hoop="bow"),
    case("Hoop 2 - one lamp ring, two ridge clips.", add("lamp ring", "1", "2"), add("ridge clip", "2", "2")),
    case("Lamp ring x 1 to hoop 3.", add("lamp ring", "1", "3")),
    case("Two vent hooks shall be fitted to every intermediate hoop.", add("vent hook", "2", "inner")),
]
