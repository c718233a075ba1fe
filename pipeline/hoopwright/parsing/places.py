"""Where: lengths and landmarks to places. Landmarks that a place uses up are marked so that they are not taken for hosts."""

from __future__ import annotations

import re
from dataclasses import replace

from hoopwright.model.events import Place
from hoopwright.parsing.elements import El

_DATUM = {"ground": "ground", "foot": "foot", "ridge": "ridge", "joint": "joint", "end": "end", "shoulder": "shoulder"}
_UP = {"above", "up", "over", "higher", "up from", "high", "upwards", "on top of"}
_DOWN = {"below", "beneath", "under", "down", "lower", "underneath", "down from", "downwards"}
_MEASURE = {
    "above",
    "below",
    "beneath",
    "under",
    "from",
    "over",
    "off",
    "inside",
    "outside",
    "beyond",
    "past",
    "short of",
    "before",
    "clear of",
    "away from",
    "in from",
    "up from",
    "down from",
    "to the left of",
    "to the right of",
    "left of",
    "right of",
    "either side of",
    "each side of",
    "on either side of",
    "on each side of",
    "on both sides of",
    "both sides of",
    "up",
    "down",
    "along",
    "of",
    "underneath",
    "to",
    "in",
    "out",
    "at",
    "on",
    "beside",
    "behind",
    "next to",
    "level with",
    "in line with",
}
_BOTH = {
    "to either side of",
    "to each side of",
    "at either side of",
    "at each side of",
    "either side of",
    "each side of",
    "on either side of",
    "on each side of",
    "on both sides of",
    "both sides of",
}
_NEAR = {
    "above",
    "below",
    "beneath",
    "under",
    "beside",
    "next to",
    "close to",
    "adjacent to",
    "alongside",
    "against",
    "behind",
    "underneath",
    "over",
    "level with",
    "in line with",
    "between",
    "on top of",
    "inside",
    "outside",
} | _BOTH
_SKIP = {
    "measured",
    "along",
    "the",
    "vertically",
    "plumb",
    "further",
    "more",
    "way",
    "up",
    "down",
    "in",
    "out",
    "away",
    "back",
    "high",
    "is",
    "it",
    "where",
    "will",
    "be",
    "comes",
    "bend",
    "all",
    "straight",
    "taped",
    "about",
    "exactly",
    "only",
    "clear",
    "again",
    "as",
    "before",
    "its",
    "a",
    "this",
    "time",
    "round",
    "around",
    "curve",
}
_FIGURE = re.compile(
    r"\b(?:see|as (?:shown )?in|shown in|as per|per|according to|at the (?:place|height|position)s? (?:shown|marked|given) (?:in|on)|refer to|where (?:shown|marked) (?:in|on)|drawn in|marked in)\s+(?:the\s+)?(?:fig(?:ure|\.|s)?|drawing|diagram|sketch|picture|photo|plate|illustration)\b",
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
            place, end = _from_length(els, k, last)
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


def _from_length(els: list[El], k: int, last: Place | None = None) -> tuple[Place | None, int]:
    length = els[k]
    # "300 mm to 350 mm", "300-350 mm" is left to the caller
    way, side, both, along = None, None, False, None
    j = k + 1
    measured = False
    height: bool | None = None
    if k >= 3 and els[k - 1].low == "of" and els[k - 2].low in ("height", "distance"):
        measured = True
        height = els[k - 2].low == "height" or None
        way = "up" if height else None
    while j < len(els) and j < k + 12:
        el = els[j]
        if el.type in ("fit", "mem"):
            if (
                el.type == "mem"
                and el.role in ("tube", "hoop")
                and (along or (way in ("up", "down") and not measured))
                and _landmark_follows(els, j + 1)
            ):
                j += 1  # "900 mm along the tube from the foot"
                continue
            if el.type == "mem" and el.role in ("tube", "hoop", "side") and (way in ("up", "down")) and not measured:
                el_place = Place("foot" if way == "up" else "ridge", length.mm, way, el.side, text=_text(els, k, j), height=False)
                return el_place, j  # "300 mm up the leg": the leg stays a host
            if not measured and not way:
                return None, k + 1
            return _landmark(els, k, j, length.mm, way, side, both, height, along)
        if el.low in ("below", "beneath") and els[j - 1].low == "from" and not (j + 1 < len(els) and els[j + 1].type in ("fit", "mem")):
            return Place("foot", length.mm, "up", side, text=_text(els, k, j)), j + 1  # "0.9 m from below"
        if el.low == "above" and els[j - 1].low == "from" and not (j + 1 < len(els) and els[j + 1].type in ("fit", "mem")):
            return Place("ridge", length.mm, "down", side, text=_text(els, k, j)), j + 1
        if el.type == "pron" and el.name in ("it", "them", "that") and measured and last is not None:
            return replace(last, offset_mm=length.mm, way=way or last.way, text=_text(els, k, j)), j + 1
        if el.type == "prep" or el.low in _SKIP:
            low = el.low
            if (
                low in ("at", "on", "onto", "to", "round", "of", "for", "with")
                and not (low == "of" and side)
                and not (low == "to" and j + 1 < len(els) and els[j + 1].low in ("the",))
            ) and low in ("with", "for", "onto", "round", "on", "at"):
                break
            if low in _UP:
                way = way or "up"
                measured = measured or low not in ("up", "high")
            elif low in _DOWN:
                way = way or "down"
                measured = measured or low not in ("down",)
            if low in _BOTH:
                both = measured = True
            if "left" in low:
                side, measured = "left", True
            elif "right" in low:
                side, measured = "right", True
            if low in (
                "from",
                "above",
                "below",
                "beyond",
                "short of",
                "inside",
                "outside",
                "clear of",
                "away from",
                "in from",
                "past",
                "before",
                "off",
                "up from",
                "down from",
                "beneath",
            ):
                measured = True
            if low in ("in", "in from", "inside"):
                way = way or "in"
            if low in ("along", "taped", "round", "around", "curve"):
                along = True
            if low in ("vertically", "plumb", "high"):
                height = True
            if low == "high":
                way = way or "up"
            j += 1
            continue
        if (el.low in ("left", "right") and els[j - 1].low in ("the", "to", "to the")) or (el.side and el.type in ("word", "ellip")):
            side = el.side or el.low
            measured = True
            j += 1
            continue
        if el.type == "verb" and el.low in ("measured", "taped", "measuring"):
            j += 1
            continue
        if (el.type == "punct" and el.low in ("(", ")")) or (
            el.type == "punct"
            and el.low == ","
            and along is None
            and j + 1 < len(els)
            and els[j + 1].low in ("measured", "measuring", "along")
        ):
            j += 1
            continue
        break
    if way == "up" and (height or (k and els[k - 1].low in ("at", "of", "is", "sits", "stops", "stands")) or True) and not measured:
        return Place("ground" if height else "foot", length.mm, way, side, height=height, text=_text(els, k, j - 1)), j
    if way == "down" and not measured:
        return Place("ridge", length.mm, way, side, text=_text(els, k, j - 1)), j
    if measured and height:
        return Place("ground", length.mm, "up", side, height=True, text=_text(els, k, j - 1)), j
    if k and els[k - 1].low == "at":
        return Place(None, length.mm, way, side, text=_text(els, k, k)), k + 1
    return None, k + 1


def _landmark_follows(els: list[El], j: int) -> bool:
    return any(e.type in ("fit", "mem") for e in els[j : j + 4] if e.type != "punct") and any(
        e.low in ("from", "above", "up from", "in from", "below", "off") for e in els[j : j + 3]
    )


def _landmark(
    els: list[El], k: int, j: int, mm: float | None, way: str | None, side: str | None, both: bool, height: bool | None, along: bool | None
) -> tuple[Place | None, int]:
    mark = els[j]
    text = _text(els, k, j)
    part = None
    datum: str | None
    if mark.type == "fit":
        datum, part = "fitting", mark.parts[0] if mark.parts else " ".join(mark.words)
    else:
        datum = _DATUM.get(mark.role)
        if mark.role == "tube":
            datum = "end"
        if datum is None:
            datum = "member"
            part = mark.name
    mark.used = True
    end = j + 1
    # "the end of the crown tube", "the joint of hoop 1": the tail names the host and stays
    if mark.role == "end" and end + 1 < len(els) and els[end].low == "of" and els[end + 1].role == "tube":
        end += 1
    # "the centre of the clamp", "the top of the joint": the landmark is what follows
    if mark.side and side is None and mark.role in ("foot", "joint", "end", "ridge"):
        side = mark.side
    if datum == "ground":
        height = bool(not along)
    if along:
        height = False
    return Place(
        datum,
        mm,
        way,
        side,
        both,
        part,
        height,
        text=text,
        tube=mark.name if mark.role == "tube" else None,
        each=mark.each or mark.det in ("both", "either"),
    ), end


def _from_word(els: list[El], k: int) -> tuple[Place | None, int]:
    """ "at the ridge", "directly below each crop bar clip", "midway between A and B", "over the joint"."""
    prep = els[k]
    if k + 1 >= len(els):
        return None, k + 1
    mark = els[k + 1]
    if prep.low in ("half way", "midway") or (k and els[k - 1].low in ("midway", "halfway", "half-way")):
        return _midway(els, k)
    if (
        mark.type == "fit"
        and prep.low in _NEAR | {"of"}
        and (prep.low != "of" or (k and els[k - 1].low.endswith("side")))
        and (mark.definite or mark.each)
        and not mark.amount
    ):
        mark.used = True
        way = "up" if prep.low in _UP else "down" if prep.low in _DOWN else None
        return Place(
            "fitting",
            None,
            way,
            mark.side,
            prep.low in _BOTH,
            mark.parts[0] if mark.parts else " ".join(mark.words),
            text=_text(els, k, k + 1),
            each=mark.each,
        ), k + 2
    if (
        mark.type == "mem"
        and mark.role in ("ridge", "shoulder")
        and prep.low in ("at", "on", "to", "over", "under", "beneath", "below", "near", "by", "close to", "in", "round", "above", "around")
    ):
        zero = 0.0 if prep.low in ("at", "on", "over", "to", "under", "beneath", "round", "in", "around") and mark.role == "ridge" else None
        return Place(
            mark.role,
            zero,
            "down" if prep.low in _DOWN else None,
            mark.side or ("centre" if mark.role == "ridge" else None),
            text=_text(els, k, k + 1),
        ), k + 2
    if (
        mark.type == "mem"
        and mark.role in ("ridge", "shoulder")
        and prep.low in _BOTH | {"to either side of", "to each side of", "at either side of", "at each side of"}
    ):
        return Place(mark.role, None, None, mark.side, True, text=_text(els, k, k + 1)), k + 2
    if mark.type == "mem" and mark.role == "joint" and prep.low in _NEAR | {"near"}:
        way = "up" if prep.low in _UP else "down" if prep.low in _DOWN else None
        return Place("joint", None, way, mark.side, prep.low in _BOTH, text=_text(els, k, k + 1)), k + 2
    return None, k + 1


_FRACTIONS = {"half": 0.5, "third": 1 / 3, "thirds": 2 / 3, "quarter": 0.25, "quarters": 0.75, "fifth": 0.2}


def _part_of_the_way(els: list[El], k: int) -> tuple[Place, int] | None:
    """ "a quarter of the way from the leg joint to the ridge", "a third of the way up the leg"."""
    text = " ".join(e.low for e in els[max(0, k - 3) : k + 3])
    match = re.search(r"\b(?:(one|two|three|a)\s+)?(half|thirds?|quarters?|fifth)\s*(?:of the )?way\b|\bhalf-?way\b", text)
    if match is None:
        return None
    fraction = 0.5 if not match[2] else _FRACTIONS[match[2]]
    marks: list[El] = []
    j = k
    while j < len(els) and len(marks) < 2 and j < k + 14 and els[j].type not in ("verb",):
        e = els[j]
        if e.type in ("fit", "mem") and not e.used:
            if e.type == "fit" or e.role in _DATUM:
                marks.append(e)
            elif marks or els[j - 1].low not in ("up", "along", "down"):
                break
        j += 1
    if len(marks) < 2 and not any(m.type == "mem" for m in marks):
        return Place("part-way", None, fraction=fraction, text=text), min(j, k + 3)
    names = []
    for mark in marks:
        mark.used = True
        names.append((mark.parts[0] if mark.parts else " ".join(mark.words)) if mark.type == "fit" else _DATUM[mark.role])
    return Place("part-way", None, fraction=fraction, part="|".join(names), text=_text(els, max(0, k - 2), j - 1)), j


def _midway(els: list[El], k: int) -> tuple[Place | None, int]:
    marks: list[El] = []
    j = k + 1
    while j < len(els) and len(marks) < 2 and els[j].type in ("fit", "mem", "prep", "conj", "word"):
        if els[j].type in ("fit", "mem"):
            marks.append(els[j])
        j += 1
    for mark in marks:
        if mark.type == "fit" or mark.role in _DATUM:
            mark.used = True
    return Place(
        "midway",
        None,
        None,
        fraction=0.5,
        part="|".join(m.parts[0] if m.parts else _DATUM.get(m.role, m.name) for m in marks),
        text=_text(els, max(k - 1, 0), j - 1),
    ), j


def _text(els: list[El], a: int, b: int) -> str:
    return " ".join(e.text for e in els[a : b + 1])
