"""Manuals of a few lines, read in memory: the kit that the tables of sentences speak of, and short names for what was read.

The kit has six hoops of two legs and a crown tube (two joints), 2 m apart. Its parts list has more of everything than any sentence
uses, so that no sum over it decides how a sentence is read.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from hoopwright.framing import frame
from hoopwright.grammar import load_grammar
from hoopwright.model.document import Document, Line
from hoopwright.model.events import Amount, Event, Place, Selector, Unit
from hoopwright.model.outline import Outline
from hoopwright.model.schedule import Schedule
from hoopwright.outlining import outline
from hoopwright.parsing import Reading, parse
from hoopwright.scheduling import schedule

INTRO = "The tunnel is 5 m wide, 10 m long and 2.4 m high. It has {hoops} hoops, 2 m apart. Each hoop is made of two legs and a crown tube."

# name, code; every fitting has its own head word or its own telling word, as in a well-made list
FITTINGS = [
    ("Ridge clip", "RC"),
    ("Brace clip", "BC"),
    ("Crop clip", "CC"),
    ("Saddle clamp", "SC"),
    ("Foot collar", "FC"),
    ("Lamp ring", "LR"),
    ("Hinged clamp, two-part", "HC"),
    ("Film strap", "FS"),
    ("Vent hook", "VH"),
    ("Foam pad", "FP"),
    ("Crown spigot", "SP"),
    ("Clamp bolt", "CB"),
    ("Coach bolt", "KB"),
    ("Joint screw", "JS"),
    ("Foot pin", "PN"),
    ("Wing nut", "WN"),
    ("Penny washer", "PW"),
    ("Hinge", "HG"),
    ("Wood screw", "WS"),
]
MEMBERS = [("Leg", 2), ("Crown tube", 1), ("Ground tube", 2)]  # so many to a hoop


def document(text: str, id: str = "D1") -> Document:
    """Plain text as the reading stage would hand it over."""
    lines: list[Line] = []
    at = 0
    for row in text.strip("\n").split("\n"):
        lines.append(Line(row, 1, at))
        at += len(row) + 1
    return Document(id, f"{id}.txt", "text", 1, "0" * 64, "\n".join(line.text for line in lines), tuple(lines))


def parts_list(hoops: int, quantities: dict[str, int] | None = None, default: int = 200) -> str:
    """The list of the kit as aligned text; ``quantities`` gives some fittings a number of their own."""
    own = quantities or {}
    rows = [("Code", "Part", "Quantity")]
    rows += [(f"T{k}", name, str(per * hoops)) for k, (name, per) in enumerate(MEMBERS, 1)]
    rows += [("DP", "Door post", "2"), ("RB", "Ridge bar", "1"), ("BR", "Brace", "4"), ("XB", "Crop bar", "4")]
    rows += [(code, name, str(own.get(name.split(",")[0].lower(), default))) for name, code in FITTINGS]
    return "\n".join(f"{code:8}{name:30}{quantity}" for code, name, quantity in rows)


def manual(
    steps: Sequence[str],
    *,
    hoops: int = 6,
    quantities: dict[str, int] | None = None,
    default: int = 200,
    after: str = "",
    heading: str = "FITTING OUT",
    listed: str = "",
) -> str:
    """The text of a manual whose build section has these steps, numbered from 1; ``after`` stands behind them as it is.

    ``listed`` is a parts list of the manual's own in place of the kit's, with whatever else stands in front of the steps.
    """
    numbered = "\n\n".join(f"{k}. {step}" for k, step in enumerate(steps, 1))
    intro = INTRO.format(hoops=hoops)
    parts = listed.strip("\n") or parts_list(hoops, quantities, default)
    return f"GROWING TUNNEL\n\n{intro}\n\nPARTS LIST\n\n{parts}\n\n{heading}\n\n{numbered}\n\n{after}\n"


def outlined(text: str) -> Outline:
    """The outline of a text, by the real outlining stage."""
    return outline([document(text)])


def read(text: str, grammars: tuple[Path, ...] = ()) -> Reading:
    """All that the parser reads in a text."""
    return parse(outlined(text), load_grammar(grammars))


def scheduled(text: str, without: frozenset[str] = frozenset()) -> Schedule:
    """The whole way but for the reading of files and the checks between the stages."""
    contents = outlined(text)
    reading = parse(contents, load_grammar())
    return schedule(frame(contents, reading.facts, reading.parts, reading.sentences, reading.member_numbers, without))


@dataclass(frozen=True, slots=True)
class Said:
    """An event in a few words, as the tables of sentences write them down; empty where the event says nothing of it."""

    kind: str
    part: str = ""
    amount: str = ""
    hoops: str = ""
    units: str = ""
    places: str = ""
    member: str = ""
    owners: str = ""
    act: str = ""
    steps: str = ""
    like: str = ""
    flags: str = ""


def said(event: Event) -> Said:
    """The facets of an event that the tables speak of."""
    flags = [
        name
        for name, on in (("definite", event.definite), ("more", event.more), ("side", event.side), ("holds", event.holds is not None))
        if on
    ]
    flags += [f"doubt:{doubt.about}" for doubt in event.doubts]
    return Said(
        event.kind,
        event.fastener if event.kind == "rule" and event.fastener else "/".join(event.parts[:1]),
        _amount(event.amount),
        which(event.hoops),
        "; ".join(_unit(unit) for unit in event.units),
        "; ".join(_place(place) for place in event.places),
        event.member or "",
        ", ".join(event.owners),
        event.act or "",
        ", ".join(event.steps),
        which(event.like),
        " ".join(flags),
    )


def which(selector: Selector | None) -> str:
    """ "1,3" for numbers ("-1" is the last), "every 3 from 2", else the kind with what it is taken from."""
    if selector is None:
        return ""
    far = " from the far end" if selector.from_far else ""
    if selector.kind == "numbers":
        return ",".join(map(str, selector.numbers)) + far
    if selector.kind in ("first", "last"):
        return ("1" if selector.kind == "first" else "-1") + far
    if selector.kind == "nth":
        of = f" of {which(selector.of[0])}" if selector.of else ""
        return f"every {selector.step} from {selector.start}{of}{far}"
    if selector.kind == "join" and len({which(s) for s in selector.of}) == 1:
        return which(selector.of[0])
    if selector.kind in ("except", "join", "and"):
        return f"{selector.kind}({' / '.join(which(s) for s in selector.of)}){far}"
    return selector.kind + far


def _amount(amount: Amount | None) -> str:
    if amount is None:
        return ""
    number = "?" if amount.value is None else str(amount.value) if amount.high is None else f"{amount.value}-{amount.high}"
    marks = [
        mark
        for mark, on in (("each", amount.each), ("in all", amount.total), (amount.open or "", amount.open not in (None, "range")))
        if on
    ]
    return " ".join([number, *marks])


def _unit(unit: Unit) -> str:
    name = unit.name if unit.kind in ("tube", "member") else unit.kind
    pieces = [
        unit.side or "",
        name,
        "each" if unit.each else "",
        f"×{unit.number}" if unit.number else "",
    ]
    return " ".join(piece for piece in pieces if piece)


def _place(place: Place) -> str:
    if place.figure:
        return "figure"
    pieces = [
        f"×{place.count}" if place.count else "",
        "" if place.offset_mm is None else f"{place.offset_mm:g}",
        "both sides" if place.both else "",
        place.way or "",
        place.side or "",
        f"{place.fraction:.2f}" if place.fraction is not None else "",
        place.part if place.datum == "fitting" and place.part else place.datum or "",
        f"[{place.part}]" if place.datum in ("midway", "part-way") and place.part else "",
        "as height" if place.height else "",
        "each" if place.each else "",
    ]
    return " ".join(piece for piece in pieces if piece)


def events(step: str, hoop: str = "hoop") -> list[Event]:
    """The events of a manual that has this one step; ``hoop`` is its word for a hoop."""
    many = f"{hoop}es" if hoop.endswith("ch") else f"{hoop}s"
    text = manual([step]).replace("6 hoops", f"6 {many}", 1).replace("Each hoop", f"Each {hoop}", 1)
    start = text.index("FITTING OUT")
    return [event for event in read(text).events if event.source.start > start]


def row(found: Schedule, fitting: str) -> list[int]:
    """How many of a fitting each hoop takes, H1 first."""
    return [found.counts.get(hoop.id, {}).get(fitting, 0) for hoop in found.structure.hoops]


def table(found: Schedule) -> dict[str, str]:
    """Fitting -> its numbers hoop by hoop: "2 2 0 2"."""
    names = {name for cells in found.counts.values() for name in cells}
    return {name: " ".join(map(str, row(found, name))) for name in sorted(names)}
