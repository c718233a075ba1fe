"""Small manuals and what each hoop takes: bars, tables, corrections, whole kits."""

from __future__ import annotations

from .frame_cases import kit

KITS = [
    kit(["Carry a crop bar across each intermediate hoop with a crop clip at each end."], {"crop clip": "0 2 2 2 2 0"}),
    kit(["Fix the ridge bar to each hoop with a saddle clamp."], {"saddle clamp": "1 1 1 1 1 1"}),
    kit(
        ["Fix the brace to hoop 5 with one brace clip and to hoop 6 with another."],
        {"brace clip": "0 0 0 0 1 1"},
        wrong="'and to hoop 6 with another' is not told apart",
    ),
    kit(
        ["Screw three hinges to the left door post, each with four wood screws."],
        {},
        elsewhere={"door post": {"hinge": 3, "wood screw": 12}},
    ),
    kit(["Fit two hinges to each door post."], {}, elsewhere={"door post": {"hinge": 4}}),
    kit(["Put a coach bolt through each ground tube."], {}, elsewhere={"ground tube": {"coach bolt": 12}}),
    kit(["Slide two crop clips onto each leg of hoop 2, one 400 mm and one 800 mm above the ground."], {"crop clip": "0 4 0 0 0 0"}),
    kit(["Slide two ridge clips onto each hoop, 200 mm either side of the ridge."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(["Slide a ridge clip onto each hoop, 200 mm either side of the ridge."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(
        ["Thread onto each end hoop:\n   - two brace clips\n   - one lamp ring\n   - a foot collar on each leg"],
        {"brace clip": "2 0 0 0 0 2", "lamp ring": "1 0 0 0 0 1", "foot collar": "2 0 0 0 0 2"},
    ),
    kit(
        [
            (
                "Thread the fittings of this table.\n\n   Hoop     Fitting       Number\n   1   "
                "     Brace clip    2\n   2 to 5   Lamp ring     1\n   6        Brace clip    3"
            )
        ],
        {"brace clip": "2 0 0 0 0 3", "lamp ring": "0 1 1 1 1 0"},
    ),
    kit(
        ["Two ridge clips are to be slid onto each hoop; one foam pad is then laid over each joint."],
        {"ridge clip": "2 2 2 2 2 2", "foam pad": "2 2 2 2 2 2"},
    ),
    kit(
        ["Ea. hoop: 2 RC, 1 LR.", "Int. hoops: 1 CC ea. leg."],
        {"ridge clip": "2 2 2 2 2 2", "lamp ring": "1 1 1 1 1 1", "crop clip": "0 2 2 2 2 0"},
    ),
    kit(
        ["Thread a lamp ring and a ridge clip onto hoop 2. They each take a clamp bolt."],
        {"lamp ring": "0 1 0 0 0 0", "ridge clip": "0 1 0 0 0 0", "clamp bolt": "0 2 0 0 0 0"},
    ),
    kit(["Slide two hinged clamps onto each end hoop.", "On all other hoops use one hinged clamp."], {"hinged clamp": "2 1 1 1 1 2"}),
    kit(["Working from the door end, slide two ridge clips onto each hoop."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(["Please slide two ridge clips onto each hoop (see Fig. 2)."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(["Film straps: 2 per end hoop."], {"film strap": "2 0 0 0 0 2"}),
    kit(
        ["A ridge clip is needed at the crown of each hoop."],
        {"ridge clip": "1 1 1 1 1 1"},
    ),
    kit(["Slide three clips onto hoop 2: two ridge clips and one brace clip."], {"ridge clip": "0 2 0 0 0 0", "brace clip": "0 1 0 0 0 0"}),
    kit(
        ["Slide a ridge clip onto each leg of hoop 2; hoop 3 takes the same, and hoop 4 takes one lamp ring."],
        {"ridge clip": "0 2 2 0 0 0", "lamp ring": "0 0 0 1 0 0"},
    ),
    kit(
        ["Onto hoop 1 go two brace clips, onto hoop 2 one brace clip and a lamp ring."],
        {"brace clip": "2 1 0 0 0 0", "lamp ring": "0 1 0 0 0 0"},
    ),
    kit(["Hoops 2 and 4 take a lamp ring each, hoop 6 takes two."], {"lamp ring": "0 1 0 1 0 2"}),
    kit(
        ["Slide a lamp ring onto each hoop.", "Take the lamp ring off hoop 3 again."],
        {"lamp ring": "1 1 0 1 1 1"},
        wrong="what a later step takes off stays counted",
    ),
    kit(
        ["Slide two ridge clips onto each hoop.", "Fit one lamp ring to hoop 3."],
        {"ridge clip": "3 3 3 3 3 3", "lamp ring": "0 0 1 0 0 0"},
        after="CORRECTIONS\n\nIn step 1 read three for two.",
    ),
    kit(
        ["Slide two ridge clips onto each hoop.", "Fit one lamp ring to hoop 3."],
        {"ridge clip": "2 2 2 2 2 2", "lamp ring": "0 0 0 1 0 0"},
        after="ADDENDUM\n\nStep 2: the lamp ring goes on hoop 4, not on hoop 3.",
    ),
    kit(
        ["Slide two ridge clips onto each hoop."],
        {"ridge clip": "2 2 2 2 2 2"},
        after="SUMMARY FOR CHECKING\n\nRidge clips: two on each hoop, twelve in all.",
    ),
    kit(
        ["Each hoop takes two ridge clips.", "Up to hoop 3 each ridge clip takes one clamp bolt; from hoop 4 on it takes two."],
        {"ridge clip": "2 2 2 2 2 2", "clamp bolt": "2 2 2 4 4 4"},
        wrong="a rule that changes with the hoop adds clips instead",
    ),
    kit(
        [
            "Slide two ridge clips onto each hoop, 300 mm either side of the ridge.",
            "Slide a crop clip onto each leg of the intermediate hoops, 900 mm up from the foot.",
            "Slide a brace clip onto each leg of the end hoops, 200 mm up from the foot.",
            "Join the tubes of each hoop with two joint screws through each joint.",
            "Stand the hoops on their ground tubes.",
            "Tighten every clip.",
        ],
        {"ridge clip": "2 2 2 2 2 2", "crop clip": "0 2 2 2 2 0", "brace clip": "2 0 0 0 0 2", "joint screw": "4 4 4 4 4 4"},
    ),
    kit(
        [
            (
                "Begin with hoop 1. Slide a brace clip onto its left leg and another "
                "onto its right leg. Slide a lamp ring over its crown tube."
            ),
            "Work through hoops 2 to 5 in the same way, but leave out the brace clips.",
        ],
        {"brace clip": "2 0 0 0 0 0", "lamp ring": "1 1 1 1 1 0"},
        wrong="'but leave out the brace clips' is not carried out",
    ),
    kit(["Slide one ridge clip onto each hoop.", "Slide one further ridge clip onto each end hoop."], {"ridge clip": "2 1 1 1 1 2"}),
    kit(["Slide three ridge clips onto each end hoop and two onto each of the others."], {"ridge clip": "3 2 2 2 2 3"}),
    kit(["Slide two saddle clamps onto hoop 1 and one onto hoop 2."], {"saddle clamp": "2 1 0 0 0 0"}),
    kit(
        ["Each ridge clip takes one clamp bolt; a brace clip takes two.", "Slide a ridge clip and a brace clip onto each end hoop."],
        {"ridge clip": "1 0 0 0 0 1", "brace clip": "1 0 0 0 0 1", "clamp bolt": "3 0 0 0 0 3"},
    ),
    kit(
        [
            "Slide one crop clip onto the left leg of hoops 2 to 5, 1 m up from the foot.",
            "Repeat step 1 for the right leg.",
            "Fit a clamp bolt to each crop clip.",
        ],
        {"crop clip": "0 2 2 2 2 0", "clamp bolt": "0 2 2 2 2 0"},
    ),
    kit(
        ["Slide a lamp ring onto hoop 2.", "Slide two lamp rings onto hoop 3.", "Repeat steps 1 and 2 at hoops 4 and 5."],
        {"lamp ring": "0 1 2 1 2 0"},
    ),
    kit(
        [
            "Dress hoop 1: two brace clips, one ridge clip.",
            "Dress hoop 2: two crop clips, one ridge clip.",
            "Dress hoops 3, 4 and 5 like hoop 2 and hoop 6 like hoop 1.",
        ],
        {"brace clip": "2 0 0 0 0 2", "ridge clip": "1 1 1 1 1 1", "crop clip": "0 2 2 2 2 0"},
    ),
    kit(["Slide two ridge clips onto all hoops but the last. The last hoop takes three."], {"ridge clip": "2 2 2 2 2 3"}),
    kit(
        ["Put a foam pad over each joint of every hoop, and a film strap round each leg of the end hoops."],
        {"foam pad": "2 2 2 2 2 2", "film strap": "2 0 0 0 0 2"},
    ),
    kit(
        [
            (
                "The hoops are numbered from the door. Slide a vent hook onto the right "
                "leg of every hoop with an even number, 1.2 m up from the foot."
            )
        ],
        {"vent hook": "0 1 0 1 0 1"},
    ),
    kit(
        ["Hang the doors: screw two hinges to each door post with three wood screws to a hinge."],
        {},
        elsewhere={"door post": {"hinge": 4, "wood screw": 12}},
    ),
    kit(
        [
            (
                "Slide a hinged clamp round each leg of hoop 1, 1.8 m above the ground. "
                "Close each with a coach bolt, a penny washer and a wing nut."
            )
        ],
        {"hinged clamp": "2 0 0 0 0 0", "coach bolt": "2 0 0 0 0 0", "penny washer": "2 0 0 0 0 0", "wing nut": "2 0 0 0 0 0"},
    ),
    kit(
        [
            (
                "There are four braces. Two run from the foot of hoop 1 to the shoulder "
                "of hoop 2, one on each side, with a brace clip at each end."
            )
        ],
        {"brace clip": "2 2 0 0 0 0"},
        wrong="two braces with a clip at each end: four clips on each hoop instead of two",
    ),
    kit(
        ["A brace runs from hoop 1 to hoop 2 on each side. Slide a brace clip onto each leg of hoop 1 and of hoop 2 for it."],
        {"brace clip": "2 2 0 0 0 0"},
    ),
    kit(
        [
            (
                "Thread the following onto the left leg of hoop 2, in this order:\n   a) a foot collar\n "
                "  b) a crop clip\n   c) a brace clip\n   The right leg takes the same."
            )
        ],
        {"foot collar": "0 2 0 0 0 0", "crop clip": "0 2 0 0 0 0", "brace clip": "0 2 0 0 0 0"},
        wrong="the last bullet is lost, and so is 'the right leg takes the same'",
    ),
    kit(
        ["Use saddle clamps on hoops 1 to 3 and hinged clamps on hoops 4 to 6, two on each."],
        {"saddle clamp": "2 2 2 0 0 0", "hinged clamp": "0 0 0 2 2 2"},
        wrong="'two on each' reaches only the last of the two fittings",
    ),
    kit(
        ["Slide a ridge clip onto each hoop.", "If you have ordered the lamp kit, slide a lamp ring onto hoops 2 and 5."],
        {"ridge clip": "1 1 1 1 1 1", "lamp ring": "0 1 0 0 1 0"},
    ),
    kit(["Slide four brace clips in all onto hoops 1 and 6."], {"brace clip": "2 0 0 0 0 2"}),
    kit(["Slide two ridge clips onto each hoop. That makes twelve."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(["Slide two ridge clips onto each hoop (12 in total)."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(
        ["Slide two ridge clips onto each hoop.\n\nNOTE: A hoop without both its ridge clips cannot carry the ridge bar."],
        {"ridge clip": "2 2 2 2 2 2"},
    ),
    kit(
        ["Every leg of every hoop carries, from the foot upwards, a foot collar, a crop clip and a brace clip."],
        {"foot collar": "2 2 2 2 2 2", "crop clip": "2 2 2 2 2 2", "brace clip": "2 2 2 2 2 2"},
    ),
]
