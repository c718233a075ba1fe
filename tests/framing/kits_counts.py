"""Small manuals and what each hoop takes: shares, rules, copies, selectors, totals."""

from __future__ import annotations

from .frame_cases import kit

KITS = [
    kit(["Slide four ridge clips onto the end hoops, two on each."], {"ridge clip": "2 0 0 0 0 2"}),
    kit(["Each hoop carries two crop clips, one on each leg."], {"crop clip": "2 2 2 2 2 2"}),
    kit(["Slide a crop clip onto each leg of hoops 2 and 5. The other hoops take one on the left leg only."], {"crop clip": "1 2 1 1 2 1"}),
    kit(
        ["Slide two saddle clamps onto each intermediate hoop.", "Each saddle clamp takes one clamp bolt and two penny washers."],
        {"saddle clamp": "0 2 2 2 2 0", "clamp bolt": "0 2 2 2 2 0", "penny washer": "0 4 4 4 4 0"},
    ),
    kit(
        ["Slide a saddle clamp onto each hoop and close it with two clamp bolts."],
        {"saddle clamp": "1 1 1 1 1 1", "clamp bolt": "2 2 2 2 2 2"},
    ),
    kit(
        [
            "Slide a brace clip onto each leg of hoops 1 and 6.",
            "Put a coach bolt into each brace clip.",
            "Every coach bolt takes a wing nut.",
        ],
        {"brace clip": "2 0 0 0 0 2", "coach bolt": "2 0 0 0 0 2", "wing nut": "2 0 0 0 0 2"},
    ),
    kit(["Close each joint with two joint screws."], {"joint screw": "4 4 4 4 4 4"}),
    kit(["Slide one ridge clip on each side of every hoop."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(["At each crossing of the ridge bar and a hoop fit one saddle clamp."], {"saddle clamp": "1 1 1 1 1 1"}),
    kit(["Drive a foot pin through each foot of every hoop."], {"foot pin": "2 2 2 2 2 2"}),
    kit(
        ["Push a crown spigot into each joint of every hoop and fix it with three joint screws."],
        {"crown spigot": "2 2 2 2 2 2", "joint screw": "6 6 6 6 6 6"},
    ),
    kit(
        ["Slide two ridge clips and one lamp ring onto hoop 1. Do the same on hoop 6."],
        {"ridge clip": "2 0 0 0 0 2", "lamp ring": "1 0 0 0 0 1"},
    ),
    kit(
        ["Slide a crop clip and a brace clip onto the left leg of hoop 2. Repeat on the other side."],
        {"crop clip": "0 2 0 0 0 0", "brace clip": "0 2 0 0 0 0"},
    ),
    kit(
        ["Slide two ridge clips onto hoop 1.", "Slide a lamp ring onto hoop 1.", "Repeat steps 1 and 2 for the remaining hoops."],
        {"ridge clip": "2 2 2 2 2 2", "lamp ring": "1 1 1 1 1 1"},
    ),
    kit(
        ["Slide two ridge clips onto hoop 2.", "Slide a lamp ring onto hoop 2.", "Repeat step 1 on hoops 3 to 5."],
        {"ridge clip": "0 2 2 2 2 0", "lamp ring": "0 1 0 0 0 0"},
    ),
    kit(["Slide a brace clip onto the left leg of hoop 1.", "Repeat step 1 for the right leg."], {"brace clip": "2 0 0 0 0 0"}),
    kit(
        ["Hoop 1 takes two brace clips. Hoop 6 is dressed like hoop 1. The hoops between them take one lamp ring each."],
        {"brace clip": "2 0 0 0 0 2", "lamp ring": "0 1 1 1 1 0"},
    ),
    kit(["Slide two brace clips onto hoop 1.", "Repeat step 1 at the far end."], {"brace clip": "2 0 0 0 0 2"}),
    kit(["Thread three film straps onto hoop 3.", "Treat hoops 4 and 5 likewise."], {"film strap": "0 0 3 3 3 0"}),
    kit(["Slide one lamp ring onto every hoop but hoops 3 and 4."], {"lamp ring": "1 1 0 0 1 1"}),
    kit(["Slide one lamp ring onto all but the end hoops."], {"lamp ring": "0 1 1 1 1 0"}),
    kit(["Every third hoop, from hoop 2, takes one lamp ring."], {"lamp ring": "0 1 0 0 1 0 0 1 0"}, hoops=9),
    kit(["Slide a lamp ring onto the odd hoops and two lamp rings onto the even ones."], {"lamp ring": "1 2 1 2 1 2"}),
    kit(["Each odd hoop takes one lamp ring, each even hoop two."], {"lamp ring": "1 2 1 2 1 2"}),
    kit(["The middle hoop takes a lamp ring."], {"lamp ring": "0 0 1 0 0"}, hoops=5),
    kit(["The middle hoop takes a lamp ring."], {"lamp ring": "0 0 1 0 0 0"}, asks=("member",), hoops=6),
    kit(["The two middle hoops take a lamp ring each."], {"lamp ring": "0 0 1 1 0 0"}),
    kit(["The first two hoops and the last hoop take one vent hook each."], {"vent hook": "1 1 0 0 0 1"}),
    kit(["The third hoop from the far end takes a lamp ring."], {"lamp ring": "0 0 0 1 0 0"}),
    kit(["From hoop 4 onwards each hoop takes a lamp ring."], {"lamp ring": "0 0 0 1 1 1"}),
    kit(["Every hoop takes a vent hook, hoop 3 takes two."], {"vent hook": "1 1 2 1 1 1"}),
    kit(["Every hoop takes a vent hook. On hoop 3 put one more."], {"vent hook": "1 1 2 1 1 1"}),
    kit(["Hoops 1 and 6 take four film straps each; the others take two each."], {"film strap": "4 2 2 2 2 4"}),
    kit(["Each hoop has two ridge clips, except hoop 6, which has three."], {"ridge clip": "2 2 2 2 2 3"}),
    kit(["Slide a lamp ring onto every second hoop, beginning with the second."], {"lamp ring": "0 1 0 1 0 1"}),
    kit(
        ["Hoops 1 to 3: one brace clip per leg. Hoops 4 to 6: one crop clip per leg."],
        {"brace clip": "2 2 2 0 0 0", "crop clip": "0 0 0 2 2 2"},
    ),
    kit(["Slide twelve ridge clips onto the hoops, two on each."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(["Slide two ridge clips onto each hoop. You will use twelve in this step."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(["Put film straps round each end hoop."], {"film strap": "3 0 0 0 0 3"}, asks=("quantity",), quantities={"film strap": 6}),
    kit(["Put film straps round each hoop as required."], {"film strap": "1 1 1 1 1 1"}, asks=("quantity",), quantities={"film strap": 7}),
    kit(["Fit two or three film straps to hoop 2."], {"film strap": "0 2 0 0 0 0"}, asks=("quantity",)),
    kit(["Slide six lamp rings onto hoops 2 to 4."], {"lamp ring": "0 2 2 2 0 0"}, asks=("quantity",), quantities={"lamp ring": 6}),
    kit(
        ["Slide two ridge clips onto each hoop.", "Check that every hoop carries two ridge clips.", "Tighten the ridge clips."],
        {"ridge clip": "2 2 2 2 2 2"},
    ),
    kit(["Slide two ridge clips onto each hoop.", "Slide the ridge clips along to their marks."], {"ridge clip": "2 2 2 2 2 2"}),
    kit(["Slide a lamp ring onto hoops 2 to 5.", "The four lamp rings now hang in line."], {"lamp ring": "0 1 1 1 1 0"}),
    kit(["Slide a crop clip onto each leg of every hoop.", "Hang a crop bar in the crop clips of hoop 2."], {"crop clip": "2 2 2 2 2 2"}),
    kit(["A brace runs from the foot of hoop 1 to the shoulder of hoop 2, with a brace clip at each end."], {"brace clip": "1 1 0 0 0 0"}),
    kit(["Carry a crop bar across hoop 3 with a crop clip at each end."], {"crop clip": "0 0 2 0 0 0"}),
]
