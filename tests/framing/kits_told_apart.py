"""Small manuals with ways of telling that stood in manuals by other hands, each beside cousins in other words."""

from __future__ import annotations

from .frame_cases import kit

TAKEN_UP = [
    kit(["Take a lamp ring. Slide it onto the right leg of hoop 6."], {"lamp ring": "0 0 0 0 0 1"}),
    kit(["Take the lamp ring. Close it round the right leg of hoop 4."], {"lamp ring": "0 0 0 1 0 0"}, quantities={"lamp ring": 1}),
    kit(["Take the two lamp rings. They will hold the fan plate. Put both on the left leg of hoop 4."], {"lamp ring": "0 0 0 2 0 0"}),
    kit(
        ["Take the left leg of hoop 1. Onto it go a ridge clip, 5 in from the joint; a crop clip, 38 in up from the foot."],
        {"ridge clip": "1 0 0 0 0 0", "crop clip": "1 0 0 0 0 0"},
    ),
    kit(
        ["The legs are still on the ground. Every one of them has a ridge clip slid onto it, to stay 70 cm up from the foot."],
        {"ridge clip": "2 2 2 2 2 2"},
    ),
    kit(
        [
            "Saddle clamps hold the door. Two of them close around the crown tube of hoop 1, one "
            "to the left of the ridge and one to the right."
        ],
        {"saddle clamp": "2 0 0 0 0 0"},
    ),
]
THESE_AND_THOSE = [
    kit(
        [
            "Snap one lamp ring over the left leg of each of hoops 1, 3 and 5.",
            "Snap another lamp ring over the right leg of each of these hoops.",
        ],
        {"lamp ring": "2 0 2 0 2 0"},
    ),
    kit(
        [
            "Both legs of hoop 1 take one lamp ring apiece, 90 cm above the foot. Those of hoop 2 take one "
            "lamp ring apiece as well, but only 25 cm above the foot."
        ],
        {"lamp ring": "2 2 0 0 0 0"},
    ),
    kit(
        [
            "For the back bay, it is hoop 5 whose legs carry one lamp ring each at 105 cm above the "
            "foot, while each leg of hoop 6 carries one at 25 cm."
        ],
        {"lamp ring": "0 0 0 0 2 2"},
    ),
    kit(["Hoops 1 and 6 need a lamp ring on both legs, one to a leg, 120 cm above the ground."], {"lamp ring": "2 0 0 0 0 2"}),
]
LIKE_ANOTHER = [
    kit(["Slide a ridge clip onto the left leg of every hoop. The right is to be treated likewise."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(["Hoop 1: one brace clip per leg. Rear hoop: as the front hoop."], {"brace clip": "2 0 0 0 0 2"}),
    kit(["On hoop 1 one brace clip per leg, 30 cm from the foot. Hoop 6: as hoop 1."], {"brace clip": "2 0 0 0 0 2"}),
    kit(
        [
            "Slide a ridge clip onto the second hoop. Slide a lamp ring onto the first hoop. Treat the fourth "
            "hoop as you did the second, and the sixth as you did the first."
        ],
        {"ridge clip": "0 1 0 1 0 0", "lamp ring": "1 0 0 0 0 1"},
    ),
    kit(
        ["Slide two crop clips onto hoop 1. The third hoop has less on it: per leg one ridge clip and one lamp ring."],
        {"crop clip": "2 0 0 0 0 0", "ridge clip": "0 0 2 0 0 0", "lamp ring": "0 0 2 0 0 0"},
    ),
    kit(
        [
            "Turn to hoop 2. There is also, on each leg, a ridge clip 58 in up from the foot and, a "
            "good way above that, a lamp ring 73 in up from the foot."
        ],
        {"ridge clip": "0 2 0 0 0 0", "lamp ring": "0 2 0 0 0 0"},
    ),
]
FASTENED = [
    kit(
        ["Slide a ridge clip onto each hoop. One clamp bolt pinches up a clip, and that holds for every kind of clip."],
        {"ridge clip": "1 1 1 1 1 1", "clamp bolt": "1 1 1 1 1 1"},
    ),
    kit(
        [
            "Slide a ridge clip onto each hoop and a brace clip onto hoop 1. A single clamp bolt "
            "closes each ridge clip, and likewise each brace clip."
        ],
        {"ridge clip": "1 1 1 1 1 1", "brace clip": "1 0 0 0 0 0", "clamp bolt": "2 1 1 1 1 1"},
    ),
    kit(
        ["Slide a ridge clip onto each hoop. To pull a ridge clip tight, use one clamp bolt with two penny washers."],
        {"ridge clip": "1 1 1 1 1 1", "clamp bolt": "1 1 1 1 1 1", "penny washer": "2 2 2 2 2 2"},
    ),
    kit(
        [
            "Slide a ridge clip onto each hoop. Each ridge clip takes two clamp bolts. One wing nut "
            "shall be run onto every clamp bolt and tightened."
        ],
        {"ridge clip": "1 1 1 1 1 1", "clamp bolt": "2 2 2 2 2 2", "wing nut": "2 2 2 2 2 2"},
    ),
    kit(["A coach bolt, passed through leg and stake, holds each foot of every hoop."], {"coach bolt": "2 2 2 2 2 2"}),
    kit(["Through each leg, into the ground tube that it covers, drive a foot pin."], {"foot pin": "2 2 2 2 2 2"}),
    kit(["When it has been plumbed, each leg is fixed to its foot tube with a foot pin."], {"foot pin": "2 2 2 2 2 2"}),
]
NOTHING_MORE = [
    kit(
        ["Slide a ridge clip onto each hoop. A ridge clip may face either way, though a row that faces outwards is neater."],
        {"ridge clip": "1 1 1 1 1 1"},
    ),
    kit(
        ["Slide a ridge clip onto each hoop. Clips that slide while you are lifting are pushed back to where they were."],
        {"ridge clip": "1 1 1 1 1 1"},
    ),
    kit(
        ["Slide a ridge clip onto each hoop. This group consists of the lamp ring, the brace clip and the crop clip."],
        {"ridge clip": "1 1 1 1 1 1"},
    ),
    kit(
        ["Slide two ridge clips onto each hoop. Count the clips: six hoops have twelve ridge clips between them."],
        {"ridge clip": "2 2 2 2 2 2"},
    ),
    kit(["Any clip that has slid while the hoop was lifted is pushed back to its mark."], {}),
    kit(["Height: as for the rear hoop."], {}),
    kit(["In every bay there is one vent hook at the middle."], {}, elsewhere={"bay": {"vent hook": 5}}),
]
# What reads like the sentences of NOTHING_MORE and puts something on all the same
STILL_PUT_ON = [
    kit(["Put two ridge clips that slide freely onto each leg of hoop 2."], {"ridge clip": "0 4 0 0 0 0"}),
    kit(["A foam pad should lie on each joint."], {"foam pad": "2 2 2 2 2 2"}),
    kit(
        ["A brace clip must point outwards on each leg of hoop 1."],
        {"brace clip": "2 0 0 0 0 0"},
        wrong="a clip that points somewhere is not counted, and not asked about",
    ),
]
BARS = [
    kit(
        ["Lay the five pieces of ridge bar in the ridge clips. The pieces meet in four places. Each of these places gets one joint screw."],
        {},
        elsewhere={"ridge bar": {"joint screw": 4}},
    ),
    kit(
        [
            "Connect four rail lengths to form the ridge rail and bring them into the ridge clips. "
            "Three connections result, and each is secured with one joint screw."
        ],
        {},
        elsewhere={"ridge rail": {"joint screw": 3}},
        wrong="counted beside the hoops, but once and on a length of the rail",
    ),
    kit(["At both end hoops, two joint screws are driven through the board into the hoop."], {"joint screw": "2 0 0 0 0 2"}),
    kit(["End hoops: two joint screws shall be driven through the board into the hoop."], {"joint screw": "2 0 0 0 0 2"}),
    kit(["Then the brace clips, for the legs of the end hoops only, one on each."], {"brace clip": "2 0 0 0 0 2"}),
    kit(["Slide the brace clips onto the legs of the end hoops, one on each."], {"brace clip": "2 0 0 0 0 2"}),
    kit(["Measure out the middle of every crown tube and mark it. Slide one lamp ring along to the mark."], {"lamp ring": "1 1 1 1 1 1"}),
]
KITS = [*STILL_PUT_ON, *BARS, *TAKEN_UP, *THESE_AND_THOSE, *LIKE_ANOTHER, *FASTENED, *NOTHING_MORE]
