"""Small manuals and what each hoop takes: fixings that are described in passing, and what holds them."""

from __future__ import annotations

from .frame_cases import kit

KITS = [
    kit(
        ["Slide a saddle clamp onto each hoop. It is threaded over the top end and pinched by one clamp bolt."],
        {"saddle clamp": "1 1 1 1 1 1", "clamp bolt": "1 1 1 1 1 1"},
    ),
    kit(
        ["Slide a lamp ring onto hoop 3. It is drawn tight by two coach bolts."],
        {"lamp ring": "0 0 1 0 0 0", "coach bolt": "0 0 2 0 0 0"},
    ),
    kit(["Slide a saddle clamp onto each hoop. It is drawn tight later with a spanner."], {"saddle clamp": "1 1 1 1 1 1"}),
    kit(
        [
            "A crop clip is threaded onto a leg and pinched by one coach bolt, which needs no washer.",
            "Slide a crop clip onto each leg of hoop 4.",
        ],
        {"crop clip": "0 0 0 2 0 0", "coach bolt": "0 0 0 2 0 0"},
        wrong="a description of how a clip is fastened, told in a step, puts a clip on every hoop and loses the bolt",
    ),
    kit(
        ["The halves of a hinged clamp are pulled together by two coach bolts.", "Close two hinged clamps round hoop 3."],
        {"hinged clamp": "0 0 2 0 0 0", "coach bolt": "0 0 4 0 0 0"},
    ),
    kit(
        [
            "Slide two hinged clamps onto hoop 2.",
            "The halves of a hinged clamp are held together by a pair of clamp bolts, without washers.",
        ],
        {"hinged clamp": "0 2 0 0 0 0", "clamp bolt": "0 4 0 0 0 0"},
    ),
    kit(
        ["Close a hinged clamp round each leg of hoop 6.", "The two halves of each hinged clamp are joined with one coach bolt."],
        {"hinged clamp": "0 0 0 0 0 2", "coach bolt": "0 0 0 0 0 2"},
        wrong="'the two halves of each' are taken for hoops: a bolt on every hoop",
    ),
    kit(
        ["Slide two hinged clamps onto hoop 2.", "The halves of a hinged clamp are packed apart from the clamp bolts."],
        {"hinged clamp": "0 2 0 0 0 0"},
    ),
    kit(
        [
            "Slide two vent hooks onto hoop 5.",
            "Slide a crop clip onto each leg of hoop 2.",
            "Every crop clip takes two coach bolts.",
            "A vent hook is fastened in the same way as a crop clip.",
        ],
        {"vent hook": "0 0 0 0 2 0", "crop clip": "0 2 0 0 0 0", "coach bolt": "0 4 0 0 4 0"},
    ),
    kit(
        [
            "Slide a brace clip onto each leg of hoop 1 and a crop clip onto each leg of hoop 2.",
            "Every crop clip takes one clamp bolt. A brace clip is made like a crop clip and is fastened in the same way.",
        ],
        {"brace clip": "2 0 0 0 0 0", "crop clip": "0 2 0 0 0 0", "clamp bolt": "2 2 0 0 0 0"},
    ),
    kit(
        [
            "Slide two lamp rings onto hoop 5.",
            "Slide a crop clip onto each leg of hoop 2.",
            "Every crop clip takes two coach bolts. Lamp rings are secured in exactly the same way.",
        ],
        {"lamp ring": "0 0 0 0 2 0", "crop clip": "0 2 0 0 0 0", "coach bolt": "0 4 0 0 4 0"},
        wrong="'are secured in exactly the same way', of several, puts more of them on instead of lending the bolts",
    ),
    kit(
        [
            "Slide two vent hooks onto hoop 5.",
            "Slide a crop clip onto each leg of hoop 2.",
            "Every crop clip takes two coach bolts.",
            "A vent hook is about as long as a crop clip.",
        ],
        {"vent hook": "0 0 0 0 2 0", "crop clip": "0 2 0 0 0 0", "coach bolt": "0 4 0 0 0 0"},
    ),
    kit(
        [
            "Slide two ridge clips onto each hoop.",
            "Slide one vent hook onto each leg.",
            "Ridge clips and vent hooks all lock alike: one clamp bolt in each, and one wing nut on each bolt.",
        ],
        {"ridge clip": "2 2 2 2 2 2", "vent hook": "2 2 2 2 2 2", "clamp bolt": "4 4 4 4 4 4", "wing nut": "4 4 4 4 4 4"},
    ),
    kit(
        ["Slide a brace clip and a saddle clamp onto hoop 6.", "Brace clips and saddle clamps both close alike: two coach bolts in each."],
        {"brace clip": "0 0 0 0 0 1", "saddle clamp": "0 0 0 0 0 1", "coach bolt": "0 0 0 0 0 4"},
    ),
    kit(["Fit two coach bolts to each end hoop with a wing nut on each."], {"coach bolt": "2 0 0 0 0 2", "wing nut": "2 0 0 0 0 2"}),
    kit(
        ["Slide a saddle clamp onto each end hoop.", "Each saddle clamp takes two coach bolts with a wing nut on each."],
        {"saddle clamp": "1 0 0 0 0 1", "coach bolt": "2 0 0 0 0 2", "wing nut": "2 0 0 0 0 2"},
    ),
    kit(
        ["Slide a saddle clamp onto hoop 4 and close it with two clamp bolts, a penny washer being put on each."],
        {"saddle clamp": "0 0 0 1 0 0", "clamp bolt": "0 0 0 2 0 0", "penny washer": "0 0 0 2 0 0"},
    ),
    kit(
        ["Two clamp bolts go through each joint of hoop 2, each with a wing nut on it."],
        {"clamp bolt": "0 4 0 0 0 0", "wing nut": "0 4 0 0 0 0"},
    ),
    kit(
        [
            "Slide a saddle clamp onto each end hoop.",
            "Each saddle clamp takes two coach bolts, and one wing nut goes on each saddle clamp.",
        ],
        {"saddle clamp": "1 0 0 0 0 1", "coach bolt": "2 0 0 0 0 2", "wing nut": "1 0 0 0 0 1"},
    ),
    kit(["Put a coach bolt through each joint, wing nut on the inside."], {"coach bolt": "2 2 2 2 2 2", "wing nut": "2 2 2 2 2 2"}),
    kit(
        ["Slide a foot collar onto each leg of hoop 2. Lock each collar with one joint screw."],
        {"foot collar": "0 2 0 0 0 0", "joint screw": "0 2 0 0 0 0"},
    ),
    kit(
        ["A foot pin is passed through each foot, with one penny washer under its head and another under its nut."],
        {"foot pin": "2 2 2 2 2 2", "penny washer": "4 4 4 4 4 4"},
    ),
    kit(
        ["A coach bolt is passed through each joint of hoop 2, with a penny washer under its head and two under its nut."],
        {"coach bolt": "0 2 0 0 0 0", "penny washer": "0 6 0 0 0 0"},
    ),
    kit(
        [
            "Slide a saddle clamp onto each hoop.",
            "Put a clamp bolt into each saddle clamp, one penny washer under its head and one under its nut.",
        ],
        {"saddle clamp": "1 1 1 1 1 1", "clamp bolt": "1 1 1 1 1 1", "penny washer": "2 2 2 2 2 2"},
    ),
    kit(
        ["Put a coach bolt through each foot, one penny washer under the head and one under the nut."],
        {"coach bolt": "2 2 2 2 2 2", "penny washer": "4 4 4 4 4 4"},
        wrong="'one under the nut' without 'with' is read as one more bolt",
    ),
    kit(
        ["Put a coach bolt through each joint of hoop 1, a penny washer under its head and another under its nut."],
        {"coach bolt": "2 0 0 0 0 0", "penny washer": "4 0 0 0 0 0"},
        wrong="'another under its nut' without 'with' is read as one more bolt",
    ),
    kit(
        [
            "Slide a saddle clamp onto each hoop.",
            "Put one clamp bolt into each saddle clamp.",
            "One penny washer goes under the head of each clamp bolt and two under its nut.",
        ],
        {"saddle clamp": "1 1 1 1 1 1", "clamp bolt": "1 1 1 1 1 1", "penny washer": "3 3 3 3 3 3"},
        wrong="'and two under its nut' is lost",
    ),
    kit(
        ["Put a coach bolt through each joint.", "Stick a foam pad over every coach bolt."],
        {"coach bolt": "2 2 2 2 2 2", "foam pad": "2 2 2 2 2 2"},
    ),
    kit(
        ["Put two clamp bolts through each joint of hoop 4.", "Stick a foam pad over the head of every clamp bolt."],
        {"clamp bolt": "0 0 0 4 0 0", "foam pad": "0 0 0 4 0 0"},
    ),
    kit(["Put a coach bolt through each joint.", "Keep the foam pads away from the coach bolts."], {"coach bolt": "2 2 2 2 2 2"}),
    kit(
        ["Slide a saddle clamp onto each hoop.", "Lay one foam pad over each joint, and another over each saddle clamp."],
        {"saddle clamp": "1 1 1 1 1 1", "foam pad": "3 3 3 3 3 3"},
        wrong="'another over each saddle clamp' is read, but not counted",
    ),
    kit(
        [
            "Slide a crop clip onto each leg of hoop 3.",
            "Each crop clip is nipped up with one clamp bolt and two penny washers, one washer against each face of the ear.",
        ],
        {"crop clip": "0 0 2 0 0 0", "clamp bolt": "0 0 2 0 0 0", "penny washer": "0 0 4 0 0 0"},
    ),
]
