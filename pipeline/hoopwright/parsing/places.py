"""Where: lengths and landmarks to places. Landmarks that a place uses up are marked so that they are not taken for hosts."""

from __future__ import annotations

import re
from dataclasses import replace

from hoopwright.model.events import Place
from hoopwright.parsing.elements import El
from hoopwright.parsing.gates import gated
from hoopwright.parsing.measures import BOTH_SIDES, DATUM, DOWN, UP, from_length, name_of, text_of

_NEAR = BOTH_SIDES | {
    *("above", "below", "beneath", "under", "beside", "next to", "close to", "adjacent to", "alongside", "against"),
    *("behind", "underneath", "over", "level with", "in line with", "between", "on top of", "inside", "outside"),
}
_AT_TOP = frozenset({"at", "on", "over", "to", "under", "beneath", "round", "in", "around"})  # no distance from it
_ABOUT_TOP = _AT_TOP | {"below", "near", "by", "close to", "above"}
_REACH = 14  # elements within which both ends of a fraction of the way are named
_FRACTIONS = {"half": 0.5, "third": 1 / 3, "thirds": 2 / 3, "quarter": 0.25, "quarters": 0.75, "fifth": 0.2}
_FRACTION = gated(
    r"\b(?:(one|two|three|a)\s+)?(half|thirds?|quarters?|fifth)\s*(?:of the )?way\b|\bhalf-?way\b",
)
_FIGURE = gated(
    r"\b(?:see|as (?:shown )?in|shown in|as per|per|according to|at the (?:place|height|position)s? (?:shown|marked|given) (?:in|on)"
    r"|refer to|where (?:shown|marked) (?:in|on)|drawn in|marked in)\s+"
    r"(?:the\s+)?(?:fig(?:ure|\.|s)?|drawing|diagram|sketch|picture|photo|plate|illustration)\b",
    re.IGNORECASE,
)


def find_places(els: list[El], text: str) -> list[tuple[int, Place]]:
    """(element index, place) for each position in the sentence part, in order."""
    found: list[tuple[int, Place]] = []
    k = 0
    while k < len(els):
        el = els[k]
        way = _part_of_the_way(els, k) if el.low in ("of", "way") or "way" in el.low.split() else None
        if way is not None:
            found.append((k, way[0]))
            k = way[1]
            continue
        if el.type == "len" and not el.used:
            last = next((p for _, p in reversed(found) if p.datum in ("ridge", "joint", "foot", "end", "fitting", "shoulder")), None)
            place, end = from_length(els, k, last)
            if place is not None:
                found.append((k, place))
                k = end
                continue
        elif el.type == "prep" and not el.used:
            place, end = _from_word(els, k)
            if place is not None:
                found.append((k, place))
                k = end
                continue
        k += 1
    found = _merged(_shared(els, found))
    if _FIGURE.search(text):
        found.append((len(els), Place(figure=True, text=_FIGURE.search(text).group())))  # type: ignore[union-attr]
    return found


def _merged(found: list[tuple[int, Place]]) -> list[tuple[int, Place]]:
    """ "on each side of the ridge clamp, 600 mm from the ridge" is one place, told twice."""
    both = [item for item in found if item[1].both and item[1].offset_mm is None]
    exact = [item for item in found if item[1].offset_mm is not None]
    if len(both) == 1 and len(exact) == 1 and len(found) == 2 and not exact[0][1].both:
        return [(min(both[0][0], exact[0][0]), replace(exact[0][1], both=True))]
    return found


def _shared(els: list[El], found: list[tuple[int, Place]]) -> list[tuple[int, Place]]:
    """ "one 400 mm and one 800 mm above the ground": the first length shares the landmark of the second."""
    have = {i for i, _ in found}
    out = list(found)
    for k, el in enumerate(els):
        if el.type != "len" or k in have or el.used:
            continue
        later = next(((i, p) for i, p in found if i > k and p.offset_mm is not None and els[i].type == "len"), None)
        if later is None:
            earlier = next(((i, p) for i, p in reversed(found) if i < k and p.offset_mm is not None and els[i].type == "len"), None)
            if (
                earlier is not None
                and k - earlier[0] <= 14
                and any(e.side for e in els[earlier[0] : k + 4])
                and all(e.type != "fit" or e.used for e in els[earlier[0] : k])
            ):
                side = next((e.side or e.low for e in els[k + 1 : k + 5] if e.side or e.low in ("left", "right")), None)
                if side:
                    out.append((k, replace(earlier[1], offset_mm=el.mm, side=side, text=el.text)))
            continue
        between = els[k + 1 : later[0]]
        if all(e.type in ("punct", "conj", "ellip", "len", "word", "pron") or e.low in ("at",) for e in between) and len(between) <= 8:
            out.append((k, replace(later[1], offset_mm=el.mm, text=el.text)))
    return sorted(out, key=lambda item: item[0])


def _from_word(els: list[El], k: int) -> tuple[Place | None, int]:
    """ "at the ridge", "directly below each crop bar clip", "midway between A and B", "over the joint"."""
    prep = els[k]
    if k + 1 >= len(els):
        return None, k + 1
    mark = els[k + 1]
    if prep.low in ("half way", "midway") or (k and els[k - 1].low in ("midway", "halfway", "half-way")):
        return _midway(els, k)
    text = text_of(els, k, k + 1)
    way = "up" if prep.low in UP else "down" if prep.low in DOWN else None
    place: Place | None = None
    if mark.type == "fit" and _beside_fitting(els, k):
        mark.used = True
        place = Place("fitting", None, way, mark.side, prep.low in BOTH_SIDES, name_of(mark), text=text, each=mark.each)
    elif mark.type == "mem" and mark.role in ("ridge", "shoulder"):
        place = _about_top(prep, mark, text)
    elif mark.type == "mem" and mark.role == "joint" and (prep.low in _NEAR or prep.low == "near"):
        place = Place("joint", None, way, mark.side, prep.low in BOTH_SIDES, text=text)
    elif mark.type == "word" and prep.low in BOTH_SIDES:
        named = text_of(els, k, min(k + 2, len(els) - 1)).lower()
        middle = any(word in named.split() for word in ("middle", "centre", "center", "top"))
        place = Place("ridge" if middle else None, None, None, None, True, text=text)
    return place, k + 1 if place is None else k + 2


def _beside_fitting(els: list[El], k: int) -> bool:
    """Whether the preposition at ``k`` places something beside the fitting behind it, one that is there already."""
    prep, mark = els[k], els[k + 1]
    if mark.amount or not (mark.definite or mark.each):
        return False
    side_of = prep.low == "of" and k > 0 and els[k - 1].low.endswith("side")
    return prep.low in _NEAR or side_of


def _about_top(prep: El, mark: El, text: str) -> Place | None:
    """At, near or on both sides of the ridge or a shoulder."""
    if prep.low in _ABOUT_TOP:
        at_ridge = mark.role == "ridge"
        offset = 0.0 if prep.low in _AT_TOP and at_ridge else None
        side = mark.side or ("centre" if at_ridge else None)
        return Place(mark.role, offset, "down" if prep.low in DOWN else None, side, text=text)
    if prep.low in BOTH_SIDES:
        return Place(mark.role, None, None, mark.side, True, text=text)
    return None


def _part_of_the_way(els: list[El], k: int) -> tuple[Place, int] | None:
    """ "a quarter of the way from the leg joint to the ridge", "a third of the way up the leg"."""
    text = " ".join(e.low for e in els[max(0, k - 3) : k + 3])
    match = _FRACTION.search(text)
    if match is None:
        return None
    fraction = 0.5 if not match[2] else _FRACTIONS[match[2]]
    marks: list[El] = []
    j = k
    while j < len(els) and len(marks) < 2 and j < k + _REACH and els[j].type != "verb":
        e = els[j]
        if e.type in ("fit", "mem") and not e.used:
            if e.type == "fit" or e.role in DATUM:
                marks.append(e)
            elif marks or els[j - 1].low not in ("up", "along", "down"):
                break
        j += 1
    if len(marks) < 2 and not any(m.type == "mem" for m in marks):
        return Place("part-way", None, fraction=fraction, text=text), min(j, k + 3)
    names = []
    for mark in marks:
        mark.used = True
        names.append(name_of(mark) if mark.type == "fit" else DATUM[mark.role])
    return Place("part-way", None, fraction=fraction, part="|".join(names), text=text_of(els, max(0, k - 2), j - 1)), j


def _midway(els: list[El], k: int) -> tuple[Place | None, int]:
    marks: list[El] = []
    j = k + 1
    while j < len(els) and len(marks) < 2 and els[j].type in ("fit", "mem", "prep", "conj", "word"):
        if els[j].type in ("fit", "mem"):
            marks.append(els[j])
        j += 1
    for mark in marks:
        if mark.type == "fit" or mark.role in DATUM:
            mark.used = True
    return Place(
        "midway",
        None,
        None,
        fraction=0.5,
        part="|".join(m.parts[0] if m.parts else DATUM.get(m.role, m.name) for m in marks),
        text=text_of(els, max(k - 1, 0), j - 1),
    ), j
