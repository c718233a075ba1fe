"""Sentences and their readings: rules told in passing, hoops that follow, posts, butts and faces, what only looks like these."""

from __future__ import annotations

from dataclasses import replace

from .mini import Said
from .sentence_cases import add, case, copy, rule

# How fittings are fastened
FASTENED = [
    case("The halves of a hinged clamp are pulled together by two coach bolts.", rule("coach bolt", "2", "hinged clamp")),
    case(
        "The halves of a hinged clamp are held together by a pair of clamp bolts, without washers.", rule("clamp bolt", "2", "hinged clamp")
    ),
    case("The halves of a hinged clamp are painted grey."),
    case(
        "Ridge clips and crop clips all lock alike: one clamp bolt in each, and one wing nut on each bolt.",
        rule("clamp bolt", "1", "ridge clip, crop clip"),
        rule("wing nut", "1", "clamp bolt"),
    ),
    case("Brace clips and saddle clamps both close alike: two coach bolts in each.", rule("coach bolt", "2", "brace clip, saddle clamp")),
    case("Ridge clips and crop clips all look alike."),
    case(
        "Every crop clip takes one clamp bolt. A brace clip is made like a crop clip and is fastened in the same way.",
        rule("clamp bolt", "1", "crop clip"),
        rule("clamp bolt", "1", "brace clip"),
    ),
    case("A brace clip looks the same as a crop clip."),
    case(
        "Each saddle clamp takes two coach bolts with a wing nut on each.",
        rule("wing nut", "1", "coach bolt"),
        rule("coach bolt", "2", "saddle clamp"),
    ),
    case(
        "Each saddle clamp takes two coach bolts, and one wing nut goes on each saddle clamp.",
        rule("coach bolt", "2", "saddle clamp"),
        rule("wing nut", "1", "saddle clamp"),
    ),
    case("Stick a foam pad over the head of every clamp bolt.", rule("foam pad", "1", "clamp bolt")),
    case("Look under the head of each coach bolt for the stamp."),
    case("Keep the foam pads away from the clamp bolts."),
    case(
        "A coach bolt through each joint, wing nut on the inside.",
        rule("wing nut", "1", "coach bolt"),
        add("coach bolt", units="joint each"),
    ),
]

# Hoops that follow, hoops that the manual does not name
ONWARD = [
    case("Slide two vent hooks onto the front hoop. Do the back hoop like that, too.", add("vent hook", "2", "1"), copy("-1")),
    case("Thread a lamp ring onto hoop 2. Follow with hoops 3 and 4.", add("lamp ring", "1", "2"), copy("3,4")),
    case("Stand hoop 1. Follow with hoops 2 to 6.", copy("2,3,4,5,6")),
    case("Follow the string with your eye from hoop 2 to hoop 5.", wrong="'follow the string' is taken for hoops that follow"),
    case("Slide a lamp ring onto the hoop nearest the tap.", Said("ask", "lamp ring", flags="doubt:member")),
    case("Put two vent hooks on the hoop nearest the door.", add("vent hook", "2", "1")),
    case("Wash the hoop nearest the tap."),
    case("Slide one lamp ring onto hoop One.", add("lamp ring", "1", "1")),
    case("Slide two vent hooks onto each of hoops Three and Five.", add("vent hook", "2", "3,5")),
    case("Slide a ridge clip onto one hoop.", add("ridge clip", "1")),
    case("The lamp rings come next. Slide one onto the crown tube of hoop 3.", add("lamp ring", "1", "3", units="centre crown tube")),
    case("Every hoop should by now have its lamp ring."),
    case("Vent hooks belong on hoops 3 to 5, one on each leg.", add("vent hook", "1", "3,4,5", units="leg each")),
]

# Posts, butts and faces
MEETING = [
    case(
        "Two door posts stand under hoop 1. Close one saddle clamp round the hoop at each post.",
        add("saddle clamp", "1", "1", units="post each ×2"),
    ),
    case(
        "Two door posts stand under each end hoop. Where a post meets the hoop, fix it with a saddle clamp.",
        add("saddle clamp", "1", "end", units="post each ×2"),
    ),
    case(
        "Cover each butt between two ground rails with a film strap.",
        add("film strap", "1", units="joint each; ground rail ×2", member="ground rail"),
    ),
    case("Drive two wood screws into each butt between two boards.", add("wood screw", "2", units="joint each; board ×2", member="board")),
    case("Wrap a film strap round the front hoop, 300 mm from the ridge.", add("film strap", "1", "1", places="300 ridge")),
    case(
        "Drive two joint screws through each vent hook into the hoop and two wood screws into the door post.",
        rule("joint screw", "2", "vent hook"),
        replace(rule("wood screw", "2", "vent hook"), member="door post"),
    ),
    case(
        "Stick a foam pad over each joint, on the side that the film will touch.",
        add("foam pad", "1", units="joint each", places="up joint"),
    ),
    case(
        "Lay a foam pad over every joint of hoop 3, on the side that faces the film.",
        add("foam pad", "1", "3", units="joint each", places="up joint"),
        wrong="'the side that faces the film' is read as a side of the hoop",
    ),
    case(
        "Put one film strap round each leg of hoop 5, on the side that the wind comes from.",
        add("film strap", "1", "5", units="leg each"),
        wrong="'the side that the wind comes from' is read as a side of the hoop",
    ),
    case("Slide a vent hook onto hoop 2 on the left side.", add("vent hook", "1", "2", units="left side")),
    case(
        "Now turn to the crown tubes. One ridge clip is threaded onto each of them and slid along to the middle.",
        add("ridge clip", "1", units="centre crown tube", places="0 centre ridge"),
    ),
]
