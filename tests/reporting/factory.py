"""Schedules built by hand for the tests of reporting: an invented 5-hoop and an invented 30-hoop kit, and one with hostile
names.

Geometry: a hoop is two straight legs and a circular arc. For a chord c and a rise h the radius is (c²/4 + h²) / 2h and the
angle 4·atan(2h/c) (plane geometry of the circular segment).
"""

from __future__ import annotations

import math
from collections import defaultdict
from dataclasses import dataclass, field

from hoopwright.model.outline import Source
from hoopwright.model.schedule import (
    DocumentInfo,
    Finding,
    Hoop,
    HoopCurve,
    Move,
    PartBalance,
    Placement,
    Question,
    Schedule,
    Side,
    StepInfo,
    Structure,
    TubeInfo,
    When,
)


def curve(width: float, height: float, leg: float, tubes: int, stated: bool = True) -> HoopCurve:
    """The centre line of a hoop ``width`` wide and ``height`` high with straight legs, cut into equal ``tubes``."""
    rise = height - leg
    radius = (width * width / 4 + rise * rise) / (2 * rise)
    angle = 4 * math.atan(2 * rise / width)
    arc = radius * angle
    points = [(-width / 2, 0.0, 0.0), (-width / 2, leg, leg)]
    for index in range(1, 49):
        turn = -angle / 2 + angle * index / 48
        points.append((radius * math.sin(turn), height - radius + radius * math.cos(turn), leg + arc * index / 48))
    total = 2 * leg + arc
    points.append((width / 2, 0.0, total))
    return HoopCurve(tuple(points), total, tuple(total * index / tubes for index in range(1, tubes)), stated)


@dataclass
class Kit:
    """Collects placements and sums them up as a schedule does."""

    hoops: int
    spacing: float
    placements: list[Placement] = field(default_factory=list)
    steps: list[StepInfo] = field(default_factory=list)
    codes: dict[str, str | None] = field(default_factory=dict)
    listed: dict[str, int | None] = field(default_factory=dict)

    def step(self, label: str | None, section: str, page: int, text: str, option: str | None = None, document: str = "D1") -> str:
        name = f"S{len(self.steps) + 1}"
        self.steps.append(StepInfo(name, document, label, section, option, page, text))
        return name

    def put(
        self,
        fitting: str,
        hoop: int | None,
        step: str,
        quantity: int = 1,
        *,
        side: Side | None = None,
        section: str | None = None,
        along: float | None = None,
        datum: str | None = None,
        offset: float | None = None,
        when: When = "any-time",
        order: int | None = None,
        end: str | None = None,
        member: str = "hoop",
        assumed: tuple[str, ...] = (),
        loose: str | None = None,
    ) -> None:
        info = next(item for item in self.steps if item.id == step)
        start = 1000 * len(self.steps)
        quote = info.text.split(". ")[0].rstrip(".") + "."
        self.placements.append(
            Placement(
                id=f"P{len(self.placements) + 1}",
                fitting=fitting,
                code=self.codes.get(fitting),
                quantity=quantity,
                hoop=None if hoop is None else f"H{hoop}",
                member=member,
                section=section,
                side=side,
                datum=datum,
                offset_mm=offset,
                along_mm=along,
                when=when,
                thread_order=order,
                step=step,
                source=Source(info.document, info.page, start, start + len(quote), quote),
                option=info.option,
                assumed=assumed,
                thread_end=end,
                loose=loose,
            )
        )

    def tally(self, before: bool = False) -> dict[str, dict[str, int]]:
        counts: dict[str, dict[str, int]] = {f"H{number}": {} for number in range(1, self.hoops + 1)}
        for item in self.placements:
            if item.hoop and (not before or item.when == "before-joining"):
                counts[item.hoop][item.fitting] = counts[item.hoop].get(item.fitting, 0) + item.quantity
        return {hoop: row for hoop, row in counts.items() if row or not before}

    def elsewhere(self) -> dict[str, dict[str, int]]:
        result: dict[str, dict[str, int]] = defaultdict(dict)
        for item in self.placements:
            if item.hoop is None:
                result[item.member][item.fitting] = result[item.member].get(item.fitting, 0) + item.quantity
        return dict(result)

    def parts(self) -> tuple[PartBalance, ...]:
        needed: dict[str, int] = {}
        for item in self.placements:
            needed[item.fitting] = needed.get(item.fitting, 0) + item.quantity
        rows = []
        for fitting in dict.fromkeys([*self.listed, *needed]):
            listed, use = self.listed.get(fitting), needed.get(fitting, 0)
            rows.append(
                PartBalance(fitting, self.codes.get(fitting), listed, use, None if listed is None else listed - use, fitting in self.listed)
            )
        return tuple(rows)

    def frame(self, width: float | None, height: float | None, tubes: int) -> Structure:
        hoops = tuple(
            Hoop(f"H{n}", "end" if n in (1, self.hoops) else "intermediate", self.spacing * (n - 1)) for n in range(1, self.hoops + 1)
        )
        return Structure(hoops, width, height, self.spacing * (self.hoops - 1), self.spacing, tubes, "round arch on straight legs")


def document(name: str, pages: int, id: str = "D1") -> DocumentInfo:
    return DocumentInfo(id, name, pages, id[-1] * 64)


def bolted(kit: Kit, clamp: str, hoop: int, step: str, *, bolt: str, washer: str, side: Side, section: str, along: float) -> None:
    """The bolt and two washers that every clamp takes."""
    kit.put(bolt, hoop, step, 1, side=side, section=section, along=along)
    kit.put(washer, hoop, step, 2, side=side, section=section, along=along)


def _five_steps(kit: Kit) -> dict[str, str]:
    return {
        "foot": kit.step("1", "Setting out", 2, "Drive the ground tubes and check both diagonals. Leave 200 mm above the ground."),
        "lay": kit.step("2", "Making the hoops", 3, "Lay the three tubes of each hoop flat on the ground, swaged ends to the right."),
        "ridge": kit.step("3", "Making the hoops", 3, "Slide one ridge clamp (J) onto the middle tube of each hoop. It sits at the ridge."),
        "rail": kit.step(
            "4", "Making the hoops", 3, "Slide a rail clamp (K) onto the left and right tube of each hoop, 900 mm from the foot."
        ),
        "join": kit.step("5", "Making the hoops", 4, "Push the tubes together and drive one joint screw (S) through each joint."),
        "stand": kit.step("6", "Standing up", 4, "Stand each hoop on its ground tubes and fit one foot bolt (F) at each foot."),
        "brace": kit.step("7", "Bracing", 5, "Fit a brace clip (M) on each side of both end hoops, 1 400 mm from the foot."),
        "bolt": kit.step(
            "8", "Bars", 5, "Bolt the ridge bar and the rails down with one clamp bolt (B) and two washers (W) at each clamp."
        ),
        "eye": kit.step("9", "Crop wires", 6, "Hang two wire eyes (E) from each intermediate hoop near the ridge."),
        "tape": kit.step("10", "Cover", 6, "Lay hot-spot tape (T) over the outside of each hoop."),
        "door": kit.step("11", "Door", 7, "Screw two hinges (N) to the left door post."),
        "lintel": kit.step("12", "Door", 7, "Put a lintel clamp on each side of the front hoop, 1 950 mm above the ground."),
    }


def _five_fittings(kit: Kit, step: dict[str, str], shape: HoopCurve) -> None:
    total = shape.length_mm
    for n in range(1, kit.hoops + 1):
        kit.put(
            "ridge clamp",
            n,
            step["ridge"],
            side="centre",
            section="middle tube",
            along=total / 2,
            datum="ridge",
            offset=0.0,
            when="before-joining",
            order=1,
            end="middle tube, left end",
        )
        for side, place, section in (("left", 900.0, "left tube"), ("right", total - 900.0, "right tube")):
            upper = f"{section}, upper end"
            if n in (1, kit.hoops):
                inset = 1400.0 if side == "left" else total - 1400.0
                kit.put(
                    "brace clip",
                    n,
                    step["brace"],
                    side=side,
                    section=section,
                    along=inset,
                    datum="foot",
                    offset=1400.0,
                    when="before-joining",
                    order=2,
                    end=upper,
                )
            kit.put(
                "rail clamp",
                n,
                step["rail"],
                side=side,
                section=section,
                along=place,
                datum="foot",
                offset=900.0,
                when="before-joining",
                order=1,
                end=upper,
            )
            if n == 1:
                kit.put(
                    "lintel clamp",
                    n,
                    step["lintel"],
                    side=side,
                    section=None,
                    datum="ground",
                    offset=1950.0,
                    when="before-joining",
                    order=3,
                    end=upper,
                    assumed=("one clamp on each side", "slides on: the manual does not say"),
                    loose="1 950 mm above the ground",
                )
        for at, side in zip(shape.joints_mm, ("left", "right"), strict=True):
            kit.put("joint screw", n, step["join"], side=side, along=at, datum="joint", offset=0.0, when="at-joining")
        for at, side in ((0.0, "left"), (total, "right")):
            kit.put("foot bolt", n, step["stand"], side=side, along=at, datum="foot", offset=0.0, when="at-joining")
        for at, side, section in (
            (total / 2, "centre", "middle tube"),
            (900.0, "left", "left tube"),
            (total - 900.0, "right", "right tube"),
        ):
            bolted(kit, "clamp", n, step["bolt"], bolt="clamp bolt", washer="washer", side=side, section=section, along=at)
        if n not in (1, kit.hoops):
            kit.put("wire eye", n, step["eye"], 2, section="middle tube", loose="near the ridge", assumed=("hung from the hoop itself",))
        kit.put("hot-spot tape", n, step["tape"], loose="over the outside of the hoop")
    kit.put("hinge", None, step["door"], 2, side="left", member="door post")


def _five_findings(kit: Kit, step: dict[str, str]) -> tuple[tuple[Finding, ...], tuple[Question, ...]]:
    ends = ("H1", f"H{kit.hoops}")
    inner = tuple(f"H{n}" for n in range(2, kit.hoops))
    brace = kit.steps[6]
    warnings = (
        Finding(
            "trapped",
            "brace clip",
            ends,
            (step["brace"],),
            "Step 7 asks for brace clips after the hoops are joined and stood; a brace clip slides on.",
            "Thread them on before step 5, after the rail clamps.",
            "W1",
            (Source("D1", 5, 7000, 7000 + len(brace.text), brace.text),),
        ),
        Finding(
            "unlisted",
            "lintel clamp",
            ("H1",),
            (step["lintel"],),
            "The steps use 2 lintel clamps; the parts list has none.",
            "Ask the supplier before you start.",
            "W2",
            (Source("D1", 7, 12000, 12060, kit.steps[11].text),),
        ),
        Finding(
            "short",
            "joint screw",
            (),
            (step["join"],),
            "The steps use 10 joint screws; the bag holds 9.",
            "Get one more of the same size.",
            "W3",
        ),
    )
    eye = kit.steps[8]
    questions = (
        Question(
            "position",
            "wire eye",
            inner,
            step["eye"],
            "How far from the ridge do the wire eyes sit?",
            ("100 mm either side of the ridge", "beside the ridge clamp"),
            None,
            "Q1",
            Source("D1", 6, 9000, 9000 + len(eye.text), eye.text),
            "k1",
        ),
        Question(
            "quantity",
            "hot-spot tape",
            (),
            step["tape"],
            "How much tape does each hoop take? The manual gives no number.",
            ("one length from foot to foot",),
            "one length on each hoop",
            "Q2",
            Source("D1", 6, 10000, 10050, kit.steps[9].text),
            "k2",
        ),
    )
    return warnings, questions


def five(stated: bool = True) -> Schedule:
    """A 4 m × 6 m kit with 5 hoops of 3 tubes, a door and doubts of several kinds."""
    kit = Kit(5, 1500.0)
    kit.codes = {
        "ridge clamp": "J",
        "rail clamp": "K",
        "brace clip": "M",
        "clamp bolt": "B",
        "washer": "W",
        "joint screw": "S",
        "foot bolt": "F",
        "wire eye": "E",
        "hot-spot tape": "T",
        "hinge": "N",
    }
    kit.listed = {
        "ridge clamp": 5,
        "rail clamp": 10,
        "brace clip": 4,
        "clamp bolt": 15,
        "washer": 32,
        "joint screw": 9,
        "foot bolt": 10,
        "wire eye": 6,
        "hot-spot tape": None,
        "hinge": 2,
    }
    shape = curve(4000, 2300, 700, 3, stated)
    step = _five_steps(kit)
    _five_fittings(kit, step, shape)
    warnings, questions = _five_findings(kit, step)
    joints = (0.0, *shape.joints_mm, shape.length_mm)
    order = [step[name] for name in ("foot", "lay", "ridge", "rail", "brace", "lintel", "join", "stand", "bolt", "eye", "tape", "door")]
    return Schedule(
        documents=(document("kitchen-garden-tunnel.pdf", 8),),
        structure=kit.frame(4000.0, 2300.0, 3),
        steps=tuple(kit.steps),
        placements=tuple(kit.placements),
        counts=kit.tally(),
        elsewhere=kit.elsewhere(),
        before_joining=kit.tally(before=True),
        parts=kit.parts(),
        warnings=warnings,
        questions=questions,
        title="Kitchen garden tunnel, 4 m × 6 m",
        cautions=(Source("D1", 1, 120, 190, "WARNING: Do not lift the hoops in a wind. A hoop can pull two people over."),),
        moves=(
            Move(step["brace"], step["join"], "Brace clips slide on, and the hoops are closed from step 5 on.", "brace clip", ("H1", "H5")),
            Move(step["lintel"], step["join"], "Lintel clamps are taken to slide on.", "lintel clamp", ("H1",)),
        ),
        work_order=tuple(order),
        tubes=tuple(TubeInfo(name, joints[i], joints[i + 1]) for i, name in enumerate(("left tube", "middle tube", "right tube"))),
        shape=shape,
    )


_BIG_STEPS = (
    ("mark", "1", "Ground", 3, "Set out 30 stations at 1 200 mm and drive a ground post at each end of every station."),
    ("dress", "2.1", "Arches on the ground", 5, "Slide the ridge saddle (RS) onto the crown tube of each arch."),
    (
        "purlin",
        "2.2",
        "Arches on the ground",
        5,
        "Slide two purlin bands (PB) onto each arch, one on each haunch tube, 1 500 mm from the ridge.",
    ),
    ("crop", "2.3", "Arches on the ground", 6, "Every other arch takes two crop bar eyes (CE), 2 000 mm from the foot, eye to the inside."),
    ("stay", "2.4", "Arches on the ground", 6, "Slide one stay ring (SR) onto each leg of the arches at stations 1, 2, 29 and 30."),
    ("close", "2.5", "Arches on the ground", 7, "Push the five tubes together and drive two joint screws (JS) into each joint."),
    ("lift", "3.1", "Standing", 8, "Lift each arch onto its ground posts and fix each foot with a foot bolt (FB) and a foot washer (FW)."),
    ("run", "3.2", "Standing", 9, "Run the ridge tube and the purlins, and close each band with a band bolt (BB)."),
    ("hip", "3.3", "Standing", 10, "Screw a hip bracket (HB) to the outside of each leg, 1 000 mm above the ground."),
    ("channel", "4.1", "Cover", 12, "Fix wire-lock channel (WC) along both end arches with channel screws (CS), every 600 mm."),
    ("shade", "5.1", "Shade line", 14, "Fit one shade hook (SH) to each intermediate arch, beside the ridge saddle."),
)


def _big_fittings(kit: Kit, step: dict[str, str], shape: HoopCurve) -> None:
    total = shape.length_mm
    cut = (0.0, *shape.joints_mm, total)
    names = ("left leg", "left haunch", "crown tube", "right haunch", "right leg")

    def tube(at: float) -> str:
        return names[max(index for index in range(5) if cut[index] <= at)] if at < total else names[-1]

    for n in range(1, kit.hoops + 1):
        ends = n in (1, kit.hoops)
        kit.put(
            "ridge saddle",
            n,
            step["dress"],
            side="centre",
            section="crown tube",
            along=total / 2,
            datum="ridge",
            offset=0.0,
            when="before-joining",
            order=1,
            end="crown tube, left end",
        )
        for side, sign in (("left", -1), ("right", 1)):
            at = total / 2 + sign * 1500
            kit.put(
                "purlin band",
                n,
                step["purlin"],
                side=side,
                section=tube(at),
                along=at,
                datum="ridge",
                offset=1500.0,
                when="before-joining",
                order=1,
                end=f"{tube(at)}, upper end",
            )
            foot = 0.0 if sign < 0 else total
            kit.put("band bolt", n, step["run"], side=side, section=tube(at), along=at)
            if n % 2 == 0:
                at = foot - sign * 2000
                kit.put(
                    "crop bar eye",
                    n,
                    step["crop"],
                    side=side,
                    section=tube(at),
                    along=at,
                    datum="foot",
                    offset=2000.0,
                    when="before-joining",
                    order=2,
                    end=f"{tube(at)}, upper end",
                )
            if n in (1, 2, kit.hoops - 1, kit.hoops):
                kit.put(
                    "stay ring",
                    n,
                    step["stay"],
                    side=side,
                    section=f"{side} leg",
                    when="before-joining",
                    order=1,
                    end=f"{side} leg, upper end",
                    loose="on the leg; the manual gives no height",
                )
            kit.put("foot bolt", n, step["lift"], side=side, section=f"{side} leg", along=foot, datum="foot", offset=0.0, when="at-joining")
            kit.put(
                "foot washer", n, step["lift"], side=side, section=f"{side} leg", along=foot, datum="foot", offset=0.0, when="at-joining"
            )
            kit.put("hip bracket", n, step["hip"], side=side, section=f"{side} leg", along=abs(foot - 1000), datum="ground", offset=1000.0)
            if ends:
                kit.put("channel screw", n, step["channel"], 8, side=side, loose="every 600 mm along the channel")
        for at in shape.joints_mm:
            kit.put(
                "joint screw",
                n,
                step["close"],
                2,
                side="left" if at < total / 2 else "right",
                along=at,
                datum="joint",
                offset=0.0,
                when="at-joining",
            )
        if ends:
            kit.put("wire-lock channel", n, step["channel"], 2, loose="along the whole arch, on the outside")
        else:
            kit.put("shade hook", n, step["shade"], section="crown tube", assumed=("left of the saddle",), loose="beside the ridge saddle")


def thirty() -> Schedule:
    """An 8 m × 34.8 m kit with 30 hoops of 5 tubes, a second document for an extra, and more fittings than one line holds."""
    kit = Kit(30, 1200.0)
    kit.codes = {
        "ridge saddle": "RS",
        "purlin band": "PB",
        "crop bar eye": "CE",
        "stay ring": "SR",
        "joint screw": "JS",
        "foot bolt": "FB",
        "foot washer": "FW",
        "band bolt": "BB",
        "hip bracket": "HB",
        "wire-lock channel": "WC",
        "channel screw": "CS",
        "shade hook": None,
    }
    kit.listed = {
        "ridge saddle": 30,
        "purlin band": 60,
        "crop bar eye": 30,
        "stay ring": 8,
        "joint screw": 240,
        "foot bolt": 60,
        "foot washer": 60,
        "band bolt": 58,
        "hip bracket": 60,
        "wire-lock channel": 4,
        "channel screw": None,
        "spare cap": 4,
    }
    shape = curve(8000, 3600, 1200, 5)
    step: dict[str, str] = {}
    for name, label, section, page, text in _BIG_STEPS:
        extra = name == "shade"
        step[name] = kit.step(label, section, page, text, "shade line" if extra else None, "D2" if extra else "D1")
    _big_fittings(kit, step, shape)
    cut = (0.0, *shape.joints_mm, shape.length_mm)
    names = ("left leg", "left haunch", "crown tube", "right haunch", "right leg")
    warnings = (
        Finding(
            "short",
            "band bolt",
            (),
            (step["run"],),
            "The steps use 60 band bolts; the bag holds 58.",
            "Get two more of the same size.",
            "W1",
        ),
        Finding(
            "unused", "spare cap", (), (), "The bag holds 4 spare caps; no step uses them.", "Keep them aside; ask the supplier.", "W2"
        ),
        Finding(
            "unlisted",
            "shade hook",
            tuple(f"H{n}" for n in range(2, 30)),
            (step["shade"],),
            "The steps use 28 shade hooks; the parts list has none.",
            "Look in the box of the extra.",
            "W3",
        ),
    )
    question = Question(
        "position",
        "stay ring",
        ("H1", "H2", "H29", "H30"),
        step["stay"],
        "How high on the leg does the stay ring sit?",
        (),
        None,
        "Q1",
        Source("D1", 6, 4000, 4080, _BIG_STEPS[4][4]),
        "k1",
    )
    return Schedule(
        documents=(document("field-tunnel.pdf", 16), document("shade-line.txt", 2, "D2")),
        structure=kit.frame(8000.0, 3600.0, 5),
        steps=tuple(kit.steps),
        placements=tuple(kit.placements),
        counts=kit.tally(),
        elsewhere={},
        before_joining=kit.tally(before=True),
        parts=kit.parts(),
        warnings=warnings,
        questions=(question,),
        title="Field tunnel, 8 m × 34.8 m",
        options=("shade line",),
        work_order=tuple(step.values()),
        tubes=tuple(TubeInfo(name, cut[i], cut[i + 1]) for i, name in enumerate(names)),
        shape=shape,
    )


HOSTILE = (
    "<script>alert(1)</script>",
    "=cmd|' /C calc'!A0",
    "#danger[] $x$ *bold* _it_ @ref <label>",
    "]]> --> &amp; \" ' %s {0} {{7*7}}",
    "right‮tfel‬ mark",
    "👷🏽‍♀️ clip 🧤",
    "\x1b[31mred\x07 clip",
    "clamp " + "very long name of a fitting " * 11,
    "x" * 300,
    "מהדק צינור",
    "+1 clip\twith tab",
    "-2 clip\r\nof two lines",
)


def hostile() -> Schedule:
    """Three hoops whose fittings, codes, sections, steps and title are all hostile."""
    kit = Kit(3, 1500.0)
    shape = curve(4000, 2300, 700, 3)
    joints = (0.0, *shape.joints_mm, shape.length_mm)
    names = tuple(HOSTILE[:3])
    for index, name in enumerate(HOSTILE):
        kit.codes[name] = name if index % 2 else None
        kit.listed[name] = index
        step = kit.step(name, name, index + 1, f"Fit a {name} to each hoop.", name if index == 3 else None)
        for n in range(1, 4):
            placed = index % 3
            kit.put(
                name,
                n,
                step,
                index + 1,
                section=names[placed],
                along=None if placed == 2 else 300.0 + 500 * index,
                when="before-joining",
                order=index + 1,
                end=name,
                assumed=(name,),
                loose=name,
            )
    kit.put(HOSTILE[0], None, "S1", 2, member=HOSTILE[7])
    hoops = ("H1", "H2", "H3")
    warnings = tuple(
        Finding("trapped", name, hoops, (f"S{i + 1}",), f"About {name}", f"Do {name}", f"W{i + 1}", (Source("D1", i + 1, 0, 9, name),))
        for i, name in enumerate(HOSTILE)
    )
    questions = tuple(
        Question(
            "position",
            name,
            hoops,
            f"S{i + 1}",
            f"Where is {name}?",
            (name, name),
            name,
            f"Q{i + 1}",
            Source("D1", i + 1, 0, 9, name),
            f"k{i}",
        )
        for i, name in enumerate(HOSTILE)
    )
    return Schedule(
        documents=(document(f"{HOSTILE[0].replace('/', '_')}.pdf", 20),),
        structure=kit.frame(4000.0, 2300.0, 3),
        steps=tuple(kit.steps),
        placements=tuple(kit.placements),
        counts=kit.tally(),
        elsewhere=kit.elsewhere(),
        before_joining=kit.tally(before=True),
        parts=kit.parts(),
        warnings=warnings,
        questions=questions,
        title=" ".join(HOSTILE[:7]),
        options=(HOSTILE[3],),
        cautions=tuple(Source("D1", 1, 0, 9, name) for name in HOSTILE),
        moves=(Move("S2", "S1", HOSTILE[1], HOSTILE[2], hoops),),
        work_order=("S2", "S1", *(f"S{i}" for i in range(3, len(HOSTILE) + 1))),
        tubes=tuple(TubeInfo(name, joints[i], joints[i + 1]) for i, name in enumerate(names)),
        shape=shape,
    )
