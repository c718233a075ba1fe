"""Small manuals and what each hoop takes: hoops that follow, posts that meet a hoop, lists beside sentences."""

from __future__ import annotations

from .frame_cases import kit

TABLE = "   Hoop     Ridge clip   Crop clip\n   1        1            0\n   2 to 5   1            2\n   6        1            0"
RINGS = "   Hoop     Lamp ring   Vent hook\n   1        1           0\n   2 to 5   1           2\n   6        1           0"

# Hoops that follow, hoops named by words
ONWARD = [
    kit(["Stand the front hoop, then the rest. Each foot takes one foot pin."], {"foot pin": "2 2 2 2 2 2"}),
    kit(
        ["Stand the front hoop on its ground tubes, then the rest, working back. Hold each foot with two joint screws."],
        {"joint screw": "4 4 4 4 4 4"},
    ),
    kit(["Slide one ridge clip onto the front hoop, then the rest."], {"ridge clip": "1 1 1 1 1 1"}),
    kit(["Stand hoop 1, then the others. Drive one foot pin through each foot."], {"foot pin": "2 2 2 2 2 2"}),
    kit(["Slide one crop clip onto each leg of the front hoop, then of the rest."], {"crop clip": "2 2 2 2 2 2"}),
    kit(["Slide one ridge clip onto the front hoop.", "Stow the rest in the dry."], {"ridge clip": "1 0 0 0 0 0"}),
    kit(["Slide two vent hooks onto the front hoop. Do the back hoop like that, too."], {"vent hook": "2 0 0 0 0 2"}),
    kit(["Fit hoop 1 with one lamp ring.", "Do hoops 2 and 3 like that."], {"lamp ring": "1 1 1 0 0 0"}),
    kit(
        ["Slide two crop clips onto hoop 4, one on each leg. Do all the others like that."],
        {"crop clip": "2 2 2 2 2 2"},
        wrong="right, but asked about although it is clear",
    ),
    kit(
        ["Push the tubes of hoop 1 together and drive two joint screws through each joint.", "Do all the others like that."],
        {"joint screw": "4 4 4 4 4 4"},
        wrong="right, but asked about although it is clear",
    ),
    kit(
        ["Slide one crop clip onto each leg of hoop 2.", "The others are stacked like that by the shed."],
        {"crop clip": "0 2 0 0 0 0"},
        wrong="'are stacked like that' is taken for work that is done again",
    ),
    kit(["Thread a lamp ring onto hoop 2. Follow with hoops 3 and 4."], {"lamp ring": "0 1 1 1 0 0"}),
    kit(["Slide a brace clip onto each leg of hoop 1.", "Follow with hoops 5 and 6."], {"brace clip": "2 0 0 0 2 2"}),
    kit(
        ["Stand hoop 1 on its ground tubes. Follow with hoops 2 to 6.", "Put one foot pin through each foot."], {"foot pin": "2 2 2 2 2 2"}
    ),
    kit(
        ["With a helper, stand hoop 1 on its ground tubes. Follow with hoops 2 to 6 in order. Put one foot pin through each foot."],
        {"foot pin": "2 2 2 2 2 2"},
    ),
    kit(["Slide a ridge clip onto hoop 1. Follow with the rest."], {"ridge clip": "1 1 1 1 1 1"}),
    kit(
        ["Slide a lamp ring onto hoop 2.", "Follow the string with your eye from hoop 2 to hoop 5."],
        {"lamp ring": "0 1 0 0 0 0"},
        wrong="'follow the string' is taken for hoops that follow",
    ),
    kit(
        ["Slide a lamp ring onto hoop One.", "Slide two vent hooks onto each of hoops Three and Five."],
        {"lamp ring": "1 0 0 0 0 0", "vent hook": "0 0 2 0 2 0"},
    ),
    kit(["Hoop One takes a lamp ring.", "Hoop Two takes two."], {"lamp ring": "1 2 0 0 0 0"}),
    kit(
        ["Hoop One takes a lamp ring, hoop Two takes two."],
        {"lamp ring": "1 2 0 0 0 0"},
        wrong="hoops named by words in one sentence are joined",
    ),
    kit(["Slide a ridge clip onto one hoop after another."], {"ridge clip": "1 1 1 1 1 1"}),
    kit(
        ["Now turn to the crown tubes. One ridge clip is threaded onto each of them and slid along to the middle."],
        {"ridge clip": "1 1 1 1 1 1"},
    ),
    kit(["Now take the crop clips. Every hoop gets two, one on each leg, 900 mm up."], {"crop clip": "2 2 2 2 2 2"}),
    kit(["Hoops 2 and 4 get their crop clips, one on each leg."], {"crop clip": "0 2 0 2 0 0"}),
    kit(
        ["Brace clips next, on hoops 1 and 6: one on each leg, 250 mm up from the foot."],
        {"brace clip": "2 0 0 0 0 2"},
    ),
    kit(
        ["The crop clips on the end hoops are closed."],
        {},
        wrong="what a fitting is like is read as a call for it",
    ),
    kit(["Slide a vent hook onto the hoop nearest the tap."], {}, asks=("member",)),
    kit(["The lamp ring goes over the hoop that is closest to the water butt."], {}, asks=("member",)),
    kit(["Put two vent hooks on the hoop nearest the door."], {"vent hook": "2 0 0 0 0 0"}),
    kit(
        ["Slide one vent hook onto hoop 2. The hoop nearest the tap gets two."],
        {"vent hook": "0 1 0 0 0 0"},
        asks=("member",),
        wrong="the hoop nearest the tap is taken for the hoop named before",
    ),
    kit(["Slide a ridge clip onto each hoop.", "Hang the hose on the hoop nearest the tap."], {"ridge clip": "1 1 1 1 1 1"}),
]

# Posts that meet a hoop, boards, faces of what lies under a pad
MEETING = [
    kit(["Two door posts stand under hoop 1. Close one saddle clamp round the hoop at each post."], {"saddle clamp": "2 0 0 0 0 0"}),
    kit(
        ["Stand two door posts under each end hoop. Where a post meets the hoop, fix it with a saddle clamp."],
        {"saddle clamp": "2 0 0 0 0 2"},
    ),
    kit(
        [
            "Two door posts stand under each end hoop. Close a hinged clamp round the hoop at the head of each post.",
            "Each hinged clamp takes two clamp bolts.",
        ],
        {"hinged clamp": "2 0 0 0 0 2", "clamp bolt": "4 0 0 0 0 4"},
    ),
    kit(["Stand a door post on each side of hoop 1. Close a hinged clamp round the hoop at each post."], {"hinged clamp": "2 0 0 0 0 0"}),
    kit(["Two door posts stand under hoop 1, 900 mm apart. Paint each post before it is put up."], {}),
    kit(
        [
            "Stand the two door posts under hoop 1. Each one is held at the top by a hinged clamp. "
            "Open the clamp, wrap it round the hoop 400 mm from the ridge, one to the left and one to the right."
        ],
        {"hinged clamp": "2 0 0 0 0 0"},
    ),
    kit(
        ["Each door post is held at the top by a hinged clamp. Wrap it round the end hoop."],
        {"hinged clamp": "2 0 0 0 0 2"},
        quantities={"hinged clamp": 4},
    ),
    kit(
        [
            "Stand the two door posts under hoop 1. Each is held at its head by a saddle clamp. "
            "Wrap the clamp round the hoop 450 mm from the ridge, one to the left and one to the right."
        ],
        {"saddle clamp": "2 0 0 0 0 0"},
        wrong="'Each is held' and 'Wrap the clamp' are not put together as 'Each one … Wrap it' is",
    ),
    kit(["Wrap a film strap round the front hoop, 300 mm from the ridge."], {"film strap": "1 0 0 0 0 0"}),
    kit(["Wrap the spare film straps in paper."], {}, wrong="'wrap in paper' is taken for putting on"),
    kit(
        ["Put the two door posts under hoop 1. Each one is held at the top by a vent hook. Screw it to the post."],
        {},
        elsewhere={"door post": {"vent hook": 2}},
        wrong="of the two posts only one gets its hook",
    ),
    kit(
        [
            "Slide two vent hooks onto each end hoop.",
            "Drive two joint screws through each vent hook into the hoop and two wood screws into the door post.",
        ],
        {"vent hook": "2 0 0 0 0 2", "joint screw": "4 0 0 0 0 4"},
        elsewhere={"door post": {"wood screw": 8}},
    ),
    kit(
        ["Put one film strap round each leg and drive two wood screws through each strap into the board."],
        {"film strap": "2 2 2 2 2 2", "wood screw": "4 4 4 4 4 4"},
    ),
    kit(
        ["Put a hinge on the left door post and drive three wood screws into the post."],
        {},
        elsewhere={"door post": {"hinge": 1, "wood screw": 3}},
        wrong="'the post' is taken for another member than the door post just named",
    ),
    kit(["Stick a foam pad over each joint, on the side that the film will touch."], {"foam pad": "2 2 2 2 2 2"}),
    kit(["Lay a foam pad over every joint of hoop 3, on the side that faces the film."], {"foam pad": "0 0 2 0 0 0"}),
    kit(["Put one film strap round each leg of hoop 5, on the side that the wind comes from."], {"film strap": "0 0 0 0 2 0"}),
    kit(["Slide a vent hook onto the right leg of each hoop, on the side that faces the path."], {"vent hook": "1 1 1 1 1 1"}),
    kit(["Slide a vent hook onto each leg on the right side."], {"vent hook": "1 1 1 1 1 1"}),
]

# Lists and tables beside the sentences that use them
BESIDE = [
    kit(["KIT: 6 ridge clips, mallet.\n\n   Slide one ridge clip onto each hoop."], {"ridge clip": "1 1 1 1 1 1"}),
    kit(
        ["You will need: 4 brace clips, 4 clamp bolts.\n\n   Slide two brace clips onto each end hoop. One clamp bolt to each."],
        {"brace clip": "2 0 0 0 0 2", "clamp bolt": "2 0 0 0 0 2"},
    ),
    kit(
        ["Slide a lamp ring onto hoops 2 and 3.\n\n   +---------------------+\n   | KIT  2 lamp rings   |\n   +---------------------+"],
        {"lamp ring": "0 1 1 0 0 0"},
    ),
    kit(
        [
            "Slide a lamp ring onto hoops 2 and 3.\n\n"
            "   +---------------------------------------+\n"
            "   | Two vent hooks go on hoop 5 as well.  |\n"
            "   +---------------------------------------+"
        ],
        {"lamp ring": "0 1 1 0 0 0", "vent hook": "0 0 0 0 2 0"},
    ),
    kit([f"Thread the fittings of the table.\n\n{RINGS}"], {"lamp ring": "1 1 1 1 1 1", "vent hook": "0 2 2 2 2 0"}),
    kit(
        [f"Thread the fittings of the table.\n\n{TABLE}"],
        {"ridge clip": "1 1 1 1 1 1", "crop clip": "0 2 2 2 2 0"},
    ),
    kit(
        [f"Thread the fittings of the table.\n\n{RINGS}", "Slide the lamp rings to the ridge and the vent hooks to 900 mm above the foot."],
        {"lamp ring": "1 1 1 1 1 1", "vent hook": "0 2 2 2 2 0"},
    ),
    kit(
        [f"Thread the fittings of the table.\n\n{RINGS}", "Vent hooks: one on each leg of hoops 2 to 5, 900 mm up from the foot."],
        {"lamp ring": "1 1 1 1 1 1", "vent hook": "0 2 2 2 2 0"},
        quantities={"vent hook": 8, "lamp ring": 6},
    ),
    kit(
        [f"Thread the fittings of the table.\n\n{RINGS}", "Slide one further lamp ring onto hoop 3."],
        {"lamp ring": "1 1 2 1 1 1", "vent hook": "0 2 2 2 2 0"},
    ),
    kit(
        [f"Thread the fittings of the table.\n\n{RINGS}", "Every lamp ring in this table takes one clamp bolt."],
        {"lamp ring": "1 1 1 1 1 1", "vent hook": "0 2 2 2 2 0", "clamp bolt": "1 1 1 1 1 1"},
    ),
]

KITS = [*ONWARD, *MEETING, *BESIDE]
