"""Small manuals that speak in the letters, position numbers and marks of their parts lists, and charts that only say where."""

from __future__ import annotations

from .frame_cases import kit

LETTERS = """
   A   Ground tube ............................. 12
   B   Leg ..................................... 12
   C   Crown tube .............................. 6
   D   Ridge bar ............................... 1
   K   Ridge clip, one piece ................... 40
   L   Line clip, one piece .................... 40
   M   Brace ring, one piece ................... 40
   Q   Post clamp, hinged ...................... 40
   R   Self-drilling screw ..................... 100
   S   Carriage bolt ........................... 100
   T   Flange nut .............................. 200
   AA  Splice plate ............................ 40
"""
POSITIONS = """
   Pos.  Designation               Pcs.
   1     Ground tube               12
   2     Leg                       12
   3     Crown tube                6
   11    Ridge clamp K1            40
   12    Line clamp K2             40
   13    Brace clamp K3            40
   14    End ring K4               40
   21    Bolt M8 × 50              100
   22    Bolt M8 × 75              100
   23    Washer 8.4                200
   24    Nut M8                    200
   25    Tapping screw 6.3 × 25    200
"""
CHART = """
WHERE THE FITTINGS SIT

The chart says where and the steps say how many.

   Part   Pipe                  Measure from        Distance
   K      crown tube            joint, up           400 mm
   L      leg                   foot, up            1100 mm
   M      leg, hoops 2 and 5    foot, up            250 mm
"""

BARE = [
    kit(
        ["Slide (1) K onto each crown tube.", "Slide (2) L onto each leg.", "Each K and each L uses (1) S and (1) T. Start them by hand."],
        {"ridge clip": "1 1 1 1 1 1", "line clip": "4 4 4 4 4 4", "carriage bolt": "5 5 5 5 5 5", "flange nut": "5 5 5 5 5 5"},
        listed=LETTERS,
    ),
    kit(
        ["Slide (1) M onto each leg of hoops 1 and 6.", "Drive (2) R into each joint.", "Run (1) S through each foot, with (1) T."],
        {"brace ring": "2 0 0 0 0 2", "self-drilling screw": "4 4 4 4 4 4", "carriage bolt": "2 2 2 2 2 2", "flange nut": "2 2 2 2 2 2"},
        listed=LETTERS,
    ),
    kit(
        [
            "Slide (1) M onto each of hoops 3 through 5, on the right leg.",
            "Swing (1) Q around each leg of the end hoops. Each Q gets (1) S and (1) T, through the clamp and the leg together.",
            "Drive (1) R into each foot.",
        ],
        {
            "brace ring": "0 0 1 1 1 0",
            "post clamp": "2 0 0 0 0 2",
            "carriage bolt": "2 0 0 0 0 2",
            "flange nut": "2 0 0 0 0 2",
            "self-drilling screw": "2 2 2 2 2 2",
        },
        listed=LETTERS,
    ),
    kit(
        [
            "Slide (1) L onto every leg, over the top end.",
            "On hoops 2 and 5, slide (1) M onto each leg.",
            "Each L and each M takes (1) S. Each S gets (1) T.",
        ],
        {"line clip": "2 2 2 2 2 2", "brace ring": "0 2 0 0 2 0", "carriage bolt": "2 4 2 2 4 2", "flange nut": "2 4 2 2 4 2"},
        listed=LETTERS,
    ),
    kit(
        [
            "Slide (1) K onto each crown tube.",
            "Slide (1) L onto each leg.",
            "Set the ridge bar in the clips as in view K. See detail L and step M.",
            "Drive (2) R into each joint.",
        ],
        {"ridge clip": "1 1 1 1 1 1", "line clip": "2 2 2 2 2 2", "self-drilling screw": "4 4 4 4 4 4"},
        listed=LETTERS,
    ),
    kit(
        [
            "Slide (1) K onto each crown tube.",
            "Slide (1) L onto each leg.",
            "Check that all K and L are still in place.",
            "Count: 6 K, 12 L.",
        ],
        {"ridge clip": "1 1 1 1 1 1", "line clip": "2 2 2 2 2 2"},
        listed=LETTERS,
    ),
    kit(
        [
            "Slide one ridge clip onto each crown tube.",
            "Slide one line clip onto each leg.",
            "Using (S) and (T), put one carriage bolt and one flange nut in each (K) and (L).",
        ],
        {"ridge clip": "1 1 1 1 1 1", "line clip": "2 2 2 2 2 2", "carriage bolt": "3 3 3 3 3 3", "flange nut": "3 3 3 3 3 3"},
        listed=LETTERS,
    ),
    kit(
        ["Using (B) and (M), dress the legs of hoops 1 and 6. Slide one brace ring onto each leg."],
        {"brace ring": "2 0 0 0 0 2"},
        listed=LETTERS,
    ),
    kit(["Using (R), join the hoops. Drive two screws through each joint."], {"self-drilling screw": "4 4 4 4 4 4"}, listed=LETTERS),
    kit(
        ["Using (Q), hang the line from hoops 3 and 4. One clamp on each leg."],
        {"post clamp": "0 0 2 2 0 0"},
        listed=LETTERS,
        wrong="'hang the line from hoops 3 and 4' does not carry its hoops on to the next sentence",
    ),
    kit(["Slide one ridge clip onto each crown tube.", "Using (S), tighten nothing yet."], {"ridge clip": "1 1 1 1 1 1"}, listed=LETTERS),
]

NUMBERED = [
    kit(
        [
            "Mount 2 pcs. clamp K2 on each hoop, one left and one right.",
            "Each clamp K2 is fastened with 1 pc. bolt pos. 21, 2 pcs. washer pos. 23 and 1 pc. nut pos. 24.",
        ],
        {"line clamp": "2 2 2 2 2 2", "bolt m8 × 50": "2 2 2 2 2 2", "washer": "4 4 4 4 4 4", "nut": "2 2 2 2 2 2"},
        listed=POSITIONS,
    ),
    kit(
        [
            "Mount 1 pc. clamp K1 on the crown tube of each hoop.",
            "Mount 2 pcs. clamp K3 on hoop 1 and hoop 6 each, one left and one right.",
            "Each clamp K1 and K3 is fastened with 1 pc. bolt pos. 22 and 1 pc. nut pos. 24.",
        ],
        {"ridge clamp": "1 1 1 1 1 1", "brace clamp": "2 0 0 0 0 2", "bolt m8 × 75": "3 1 1 1 1 3", "nut": "3 1 1 1 1 3"},
        listed=POSITIONS,
    ),
    kit(
        [
            "Secure each joint with 2 pcs. tapping screw (pos. 25).",
            "Fasten each foot with 1 pc. bolt pos. 22, 2 pcs. washer pos. 23 and 1 pc. nut pos. 24.",
        ],
        {"tapping screw": "4 4 4 4 4 4", "bolt m8 × 75": "2 2 2 2 2 2", "washer": "4 4 4 4 4 4", "nut": "2 2 2 2 2 2"},
        listed=POSITIONS,
    ),
    kit(
        ["Fasten each foot with 1 pc. bolt pos. 22 and 1 pc. nut pos. 24."],
        {"bolt m8 x 75": "2 2 2 2 2 2", "nut": "2 2 2 2 2 2"},
        listed=POSITIONS.replace("×", "x"),
    ),
    kit(
        ["Put up hoop 1 on its ground tubes (pos. 1).", "Mount 1–2 pcs. clamp K2 on hoop 4."],
        {"line clamp": "0 0 0 1 0 0"},
        asks=("quantity",),
        listed=POSITIONS,
    ),
    kit(
        [
            "Mount 2 pcs. clamp K2 on each hoop, one left and one right.",
            "Tighten all bolts of K1 and K2.",
            "Control: clamp K2, 2 per hoop.",
        ],
        {"line clamp": "2 2 2 2 2 2"},
        listed=POSITIONS,
    ),
    kit(
        ["Push 1 pc. ring K4 on the left leg of hoop 3 and 1 pc. on the right leg. Secure each ring with 1 pc. tapping screw (pos. 25)."],
        {"end ring": "0 0 2 0 0 0", "tapping screw": "0 0 2 0 0 0"},
        listed=POSITIONS,
    ),
    kit(
        ["Push 1 pc. ring K4 on the left leg and 1 pc. on the right leg of hoop 3. Secure each ring with 1 pc. tapping screw (pos. 25)."],
        {"end ring": "0 0 2 0 0 0", "tapping screw": "0 0 2 0 0 0"},
        listed=POSITIONS,
    ),
]

CHARTED = [
    kit(
        ["Slide (1) K onto each crown tube.", "Slide (1) L onto each leg.", "On hoops 2 and 5, slide (1) M onto each leg."],
        {"ridge clip": "1 1 1 1 1 1", "line clip": "2 2 2 2 2 2", "brace ring": "0 2 0 0 2 0"},
        listed=LETTERS + CHART,
    ),
    kit(
        [
            "Slide (2) L onto each leg of hoop 3.",
            "Slide (1) K onto the crown tube of hoop 3.",
            "On hoops 2 and 5, slide (1) M onto each leg.",
            "Tighten each K and each L by hand.",
        ],
        {"line clip": "0 0 4 0 0 0", "ridge clip": "0 0 1 0 0 0", "brace ring": "0 2 0 0 2 0"},
        listed=LETTERS + CHART,
    ),
]

KITS = [*BARE, *NUMBERED, *CHARTED]
