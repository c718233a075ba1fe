"""Small manuals and what each hoop takes: terse notes, remarks between the steps, hoops named twice in one breath, sheets that amend."""

from __future__ import annotations

from .frame_cases import kit

TIES = """
   Leg ..................................... 12
   Crown tube .............................. 6
   Ground tube ............................. 12
   Cross-tie ............................... 3
   Cross-tie collar ........................ 60
   T-bolt .................................. 60
"""
RAILS = """
   Leg ..................................... 12
   Crown tube .............................. 6
   Ground tube ............................. 12
   Side rail ............................... 2
   Rail clip ............................... 60
   Rail screw .............................. 60
"""
HANGERS = """
   Leg ..................................... 12
   Crown tube .............................. 6
   Ground tube ............................. 12
   Beam .................................... 4
   Hanger .................................. 60
   Hanger nut .............................. 200
"""

# Notes: hoops in front of a colon, no numbers, "ditto"
TERSE = [
    kit(["Inner hoops only: two ridge clips on each hoop."], {"ridge clip": "0 2 2 2 2 0"}),
    kit(["Hoops 2, 4 and 6 only: a vent hook on the left leg of every hoop."], {"vent hook": "0 1 0 1 0 1"}),
    kit(["Hoop 1: three brace clips.", "Hoop 6: same as hoop 1."], {"brace clip": "3 0 0 0 0 3"}),
    kit(
        ["Hoop 2: two crop clips and one lamp ring.", "Hoop 5: like hoop 2.", "Hoop 3: one lamp ring."],
        {"crop clip": "0 2 0 0 2 0", "lamp ring": "0 1 1 0 1 0"},
    ),
    kit(["Hoop 1: one lamp ring.", "Hoops 2 and 3 are the same length as hoop 1."], {"lamp ring": "1 0 0 0 0 0"}),
    kit(
        ["Hoop 3, each leg: one crop clip, one lamp ring.", "Hoop 5, each leg: ditto."],
        {"crop clip": "0 0 2 0 2 0", "lamp ring": "0 0 2 0 2 0"},
    ),
    kit(["Hoop 3, left leg: a foot collar, 200 mm up.", "Right leg: ditto."], {"foot collar": "0 0 2 0 0 0"}),
    kit(
        ["Hoop 5, each leg: lamp ring 38 in, vent hook 62 in from the foot."],
        {"lamp ring": "0 0 0 0 2 0", "vent hook": "0 0 0 0 2 0"},
    ),
    kit(
        ["Hoop 4, left leg: foot collar 250 mm, crop clip 950 mm and brace clip 1350 mm, all from the foot."],
        {"foot collar": "0 0 0 1 0 0", "crop clip": "0 0 0 1 0 0", "brace clip": "0 0 0 1 0 0"},
    ),
    # near misses: numbers stand in front; nothing of the kit is named
    kit(
        ["Hoop 4, left leg: two foot collars 250 mm up, one crop clip 950 mm up."],
        {"foot collar": "0 0 0 2 0 0", "crop clip": "0 0 0 1 0 0"},
    ),
    kit(["Marks for hoop 4: left leg 250 mm, right leg 950 mm."], {}),
]

# What stands before an order or between two
REMARKS = [
    kit(["While hoops 2 and 5 are still on the trestles, slide two ridge clips onto each leg."], {"ridge clip": "0 4 0 0 4 0"}),
    kit(["With hoops 3 and 4 still lying flat on the grass, thread one lamp ring onto each leg."], {"lamp ring": "0 0 2 2 0 0"}),
    kit(["As long as hoop 5 is down, slide three ridge clips onto it."], {"ridge clip": "0 0 0 0 3 0"}),
    kit(["While hoops 1 and 2 lie on the grass, slide two ridge clips onto hoop 3."], {"ridge clip": "0 0 2 0 0 0"}),
    kit(["While hoop 3 is being held by your helper, slide two ridge clips onto each hoop."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(
        [
            "Slide one foot collar onto each leg of hoop 2. "
            "It is much easier to slide a foot collar on now than to take a joint apart in autumn."
        ],
        {"foot collar": "0 2 0 0 0 0"},
    ),
    kit(
        ["Slide one vent hook onto each leg of hoop 4. You will find it far quicker to fit two vent hooks on the ground than up a ladder."],
        {"vent hook": "0 0 0 2 0 0"},
    ),
    kit(["It is easier if two people lift. Slide one foot collar onto each leg of hoop 2."], {"foot collar": "0 2 0 0 0 0"}),
    kit(["It is best to slide one foot collar onto each leg of hoop 2 now."], {"foot collar": "0 2 0 0 0 0"}),
    kit(
        ["Slide one ridge clip onto each hoop.", "Now up with the hoops, hoop 1 first.", "Put one foot pin through each foot."],
        {"ridge clip": "1 1 1 1 1 1", "foot pin": "2 2 2 2 2 2"},
    ),
    kit(
        ["Slide one ridge clip onto each hoop.", "Then up with them all, and put a vent hook on each leg of hoop 6."],
        {"ridge clip": "1 1 1 1 1 1", "vent hook": "0 0 0 0 0 2"},
    ),
    kit(["Slide a ridge clip onto each hoop, hoop 6 first."], {"ridge clip": "1 1 1 1 1 1"}),
    kit(["Hoop 2 takes three vent hooks.", "Hoop 6 likewise takes two vent hooks."], {"vent hook": "0 3 0 0 0 2"}),
    kit(["Slide four ridge clips onto each hoop, i.e. two on each side."], {"ridge clip": "4 4 4 4 4 4"}),
    kit(["Hoops 3 and 5 carry six crop clips each, that is three to each leg."], {"crop clip": "0 0 6 0 6 0"}),
    kit(["Slide crop clips onto each end hoop, two on each leg."], {"crop clip": "4 0 0 0 0 4"}),
]

# Which hoops, which feet, told in one breath
NAMED = [
    kit(["Slide two ridge clips onto the odd-numbered hoops (1, 3 and 5)."], {"ridge clip": "2 0 2 0 2 0"}),
    kit(["Slide two lamp rings onto the copper hoop."], {}, asks=("member",)),
    kit(["Slide two lamp rings onto the whole hoop before you join it."], {"lamp ring": "2 2 2 2 2 2"}),
    kit(["Slide two ridge clips onto the odd-numbered hoops (1, 3, 5)."], {"ridge clip": "2 0 2 0 2 0"}),
    kit(
        ["All the even hoops (2, 4 and 6) take one lamp ring each.", "The end hoops (1 and 6) get two brace clips apiece."],
        {"lamp ring": "0 1 0 1 0 1", "brace clip": "2 0 0 0 0 2"},
    ),
    kit(["Thread the four inner hoops (2, 3, 4 and 5) with one crop clip on each leg."], {"crop clip": "0 2 2 2 2 0"}),
    kit(["Push one foot collar over the right foot and one over the left foot of hoop 4."], {"foot collar": "0 0 0 2 0 0"}),
    kit(["Slip one lamp ring onto the left leg and another onto the right leg of hoops 2, 4 and 5."], {"lamp ring": "0 2 0 2 2 0"}),
    kit(["Push one foot collar over the left foot of hoop 2 and another over the right foot of hoop 4."], {"foot collar": "0 1 0 1 0 0"}),
]

# Bars and what carries them
BARS = [
    kit(
        ["Push the ridge bar through the ridge clips. The ridge bar has 3 joins. Drive two join screws into each join."],
        {},
        elsewhere={"ridge bar": {"join screw": 6}},
    ),
    kit(
        [
            "Run a side rail along each side, held to every hoop with one rail clip. "
            "Drive one rail screw into each joint, 4 joints on each side."
        ],
        {"rail clip": "1 1 1 1 1 1"},
        elsewhere={"side rail": {"rail screw": 8}},
        listed=RAILS,
    ),
    kit(
        ["Push the side rails together, end to end, and drive two rail screws into each join, 3 joins on a side."],
        {},
        elsewhere={"side rail": {"rail screw": 12}},
        listed=RAILS,
    ),
    kit(["Drive two rail screws into each joint."], {"rail screw": "4 4 4 4 4 4"}, listed=RAILS),
    kit(
        ["Slide one hanger onto each leg of hoops 2 and 5.", "Each hanger fits over the end of its beam and gets two hanger nuts."],
        {"hanger": "0 2 0 0 2 0", "hanger nut": "0 4 0 0 4 0"},
        listed=HANGERS,
    ),
    kit(
        [
            "Slide one saddle clamp onto each end hoop.",
            "Every saddle clamp closes round the ridge bar from below and needs three clamp bolts.",
        ],
        {"saddle clamp": "1 0 0 0 0 1", "clamp bolt": "3 0 0 0 0 3"},
    ),
    kit(
        ["Slide one saddle clamp onto each end hoop.", "Each saddle clamp closes round the ridge bar and sits flat."],
        {"saddle clamp": "1 0 0 0 0 1"},
    ),
    kit(
        [
            "Slide one cross tie collar onto each leg of hoops 2 to 4.",
            "Fit a cross tie to each of hoops 2 to 4, and hold it in each cross tie collar with one t-bolt.",
        ],
        {"cross-tie collar": "0 2 2 2 0 0", "t-bolt": "0 2 2 2 0 0"},
        listed=TIES,
    ),
    kit(["Slide one cross-tie collar onto each leg of hoop 5.", "Paint each cross tie."], {"cross-tie collar": "0 0 0 0 2 0"}, listed=TIES),
]

# What comes with an extra, and what closes a fitting
EXTRAS = [
    kit(
        ["Slide one ridge clip onto each hoop."],
        {"ridge clip": "1 1 1 1 1 1", "swivel hook": "0 1 0 0 1 0", "hook screw": "0 2 0 0 2 0"},
        after=(
            "EXTRA: CROP LINE\n\n3 pcs. Line drum\n2 pcs. Swivel hook\n4 pcs. Hook screw\n\n"
            "1. Slide one swivel hook onto each of hoops 2 and 5.\n\n2. Each swivel hook takes two hook screws."
        ),
    ),
    kit(
        ["Slide one ridge clip onto each hoop."],
        {"ridge clip": "1 1 1 1 1 1", "flap hook": "2 0 0 0 0 2", "lug bolt": "4 0 0 0 0 4"},
        after=(
            "OPTION: VENT FLAP\n\nThis option arrives in a box of its own: 4 flap hooks and 8 lug bolts.\n\n"
            "1. Slide one flap hook onto each leg of the end hoops.\n\n2. Each flap hook takes two lug bolts."
        ),
    ),
    kit(
        [
            "Each hinged clamp takes two clamp bolts.",
            "A hinged clamp is laid around each leg of hoop 4, 1.2 m above the ground, and closed with two clamp bolts.",
        ],
        {"hinged clamp": "0 0 0 2 0 0", "clamp bolt": "0 0 0 4 0 0"},
    ),
    kit(
        ["A hinged clamp is laid around each leg of hoop 4 and closed with two clamp bolts."],
        {"hinged clamp": "0 0 0 2 0 0", "clamp bolt": "0 0 0 4 0 0"},
    ),
    kit(
        ["On every hoop a hinged clamp is put round the left leg and locked with three clamp bolts."],
        {"hinged clamp": "1 1 1 1 1 1", "clamp bolt": "3 3 3 3 3 3"},
    ),
    kit(["A hinged clamp is laid round each leg of hoop 5 and closed by hand."], {"hinged clamp": "0 0 0 0 2 0"}),
]

KITS = [*TERSE, *REMARKS, *NAMED, *BARS, *EXTRAS]
