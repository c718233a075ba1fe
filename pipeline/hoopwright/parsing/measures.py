"""From a length to a place: "900 mm along the tube from the foot", "2 ft up", "at a height of 1 m"."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hoopwright.model.events import Place
from hoopwright.parsing.elements import El

DATUM = {"ground": "ground", "foot": "foot", "ridge": "ridge", "joint": "joint", "end": "end", "shoulder": "shoulder"}
UP = frozenset({"above", "up", "over", "higher", "up from", "high", "upwards", "on top of"})
DOWN = frozenset({"below", "beneath", "under", "down", "lower", "underneath", "down from", "downwards"})
BOTH_SIDES = frozenset(
    {
        *("to either side of", "to each side of", "at either side of", "at each side of", "either side of"),
        *("each side of", "on either side of", "on each side of", "on both sides of", "both sides of"),
    }
)
_REACH = 12  # elements behind a length that can still say from where it is measured
_SKIP = frozenset(
    {
        *("measured", "along", "the", "vertically", "plumb", "further", "more", "way", "up", "down", "in", "out"),
        *("away", "back", "high", "is", "it", "where", "will", "be", "comes", "bend", "all", "straight", "taped"),
        *("about", "exactly", "only", "clear", "again", "as", "before", "its", "a", "this", "time", "round"),
        *("around", "curve"),
    }
)
_HOST_PREPOSITIONS = frozenset({"with", "for", "onto", "round", "on", "at"})  # what follows is no landmark
_MEASURED_FROM = frozenset(
    {
        *("from", "above", "below", "beyond", "short of", "inside", "outside", "clear of", "away from", "in from"),
        *("past", "before", "off", "up from", "down from", "beneath"),
    }
)


@dataclass(slots=True)
class _Measure:
    """What the words behind a length of ``mm`` say. ``measured``: a landmark is due; ``height``: plumb, not along."""

    mm: float | None
    way: str | None = None
    side: str | None = None
    both: bool = False
    measured: bool = False
    along: bool = False
    height: bool | None = None

    def hear(self, low: str) -> None:
        """Take in one preposition or small word."""
        if low in UP:
            self.way = self.way or "up"
            self.measured = self.measured or low not in ("up", "high")
        elif low in DOWN:
            self.way = self.way or "down"
            self.measured = self.measured or low != "down"
        if low in BOTH_SIDES:
            self.both = self.measured = True
        side = next((side for side in ("left", "right") if side in low), None)
        if side:
            self.side, self.measured = side, True
        self.measured = self.measured or low in _MEASURED_FROM
        if low in ("in", "in from", "inside"):
            self.way = self.way or "in"
        self.along = self.along or low in ("along", "taped", "round", "around", "curve")
        self.height = self.height or low in ("vertically", "plumb", "high") or None

    def place(self, datum: str | None, way: str | None, text: str) -> Place:
        """The place at this length ``way`` from ``datum``."""
        return Place(datum, self.mm, way, self.side, text=text)


def from_length(els: list[El], k: int, last: Place | None = None) -> tuple[Place | None, int]:
    """(place, end) of the length at ``k``; ``last`` is what "it" means. No place if nothing says from where."""
    said = _Measure(els[k].mm)
    if k >= 3 and els[k - 1].low == "of" and els[k - 2].low in ("height", "distance"):
        said.measured = True
        said.height = els[k - 2].low == "height" or None
        said.way = "up" if said.height else None
    j = k + 1
    while j < min(len(els), k + _REACH):
        el = els[j]
        if el.type in ("fit", "mem"):
            if not _runs_along(els, j, said):
                return _at_mention(els, k, j, said)
        elif _ends_alone(els, j):
            datum, way = ("ridge", "down") if el.low == "above" else ("foot", "up")
            return said.place(datum, way, text_of(els, k, j)), j + 1  # "0.9 m from below"
        elif el.type == "pron" and el.name in ("it", "them", "that") and said.measured and last is not None:
            return replace(last, offset_mm=said.mm, way=said.way or last.way, text=text_of(els, k, j)), j + 1
        elif el.type == "prep" or el.low in _SKIP:
            if el.low in _HOST_PREPOSITIONS:
                break
            said.hear(el.low)
        elif _names_side(els, j):
            said.side, said.measured = el.side or el.low, True
        elif not _goes_on(els, j, said):
            break
        j += 1
    return _without_mark(els, k, j, said)


def _runs_along(els: list[El], j: int, said: _Measure) -> bool:
    """ "900 mm along the tube from the foot": the tube is what is measured along, the landmark follows."""
    el = els[j]
    if el.type != "mem" or el.role not in ("tube", "hoop"):
        return False
    undecided = said.way in ("up", "down") and not said.measured
    return (said.along or undecided) and _landmark_follows(els, j + 1)


def _landmark_follows(els: list[El], j: int) -> bool:
    mention = any(e.type in ("fit", "mem") for e in els[j : j + 4])
    return mention and any(e.low in ("from", "above", "up from", "in from", "below", "off") for e in els[j : j + 3])


def _at_mention(els: list[El], k: int, j: int, said: _Measure) -> tuple[Place | None, int]:
    """The place where the mention at ``j`` stands behind the length at ``k``."""
    el = els[j]
    if not said.measured and not said.way:
        return None, k + 1
    host = el.type == "mem" and el.role in ("tube", "hoop", "side")
    if host and said.way in ("up", "down") and not said.measured:
        datum = "foot" if said.way == "up" else "ridge"
        place = Place(datum, said.mm, said.way, el.side, text=text_of(els, k, j), height=False)
        return place, j  # "300 mm up the leg": the leg stays a host
    return _landmark(els, k, j, said)


def _ends_alone(els: list[El], j: int) -> bool:
    """ "from below", "from above", with no mention behind it."""
    if els[j].low not in ("below", "beneath", "above") or els[j - 1].low != "from":
        return False
    return j + 1 >= len(els) or els[j + 1].type not in ("fit", "mem")


def _names_side(els: list[El], j: int) -> bool:
    """ "to the left", "on the right-hand"."""
    el = els[j]
    if el.low in ("left", "right") and els[j - 1].low in ("the", "to", "to the"):
        return True
    return bool(el.side) and el.type in ("word", "ellip")


def _goes_on(els: list[El], j: int, said: _Measure) -> bool:
    """Whether a verb of measuring, a bracket or a comma at ``j`` leaves the measure unfinished."""
    el = els[j]
    if el.type == "verb":
        return el.low in ("measured", "taped", "measuring")
    if el.type != "punct":
        return False
    if el.low != ",":
        return el.low in ("(", ")")
    return not said.along and j + 1 < len(els) and els[j + 1].low in ("measured", "measuring", "along")


def _without_mark(els: list[El], k: int, j: int, said: _Measure) -> tuple[Place | None, int]:
    """ "2 ft up", "at a height of 1 m", "at 900 mm": no landmark is named up to ``j``, so the words tell the datum."""
    text = text_of(els, k, j - 1)
    if said.way == "up" and not said.measured:
        return replace(said.place("ground" if said.height else "foot", "up", text), height=said.height), j
    if said.way == "down" and not said.measured:
        return said.place("ridge", "down", text), j
    if said.measured and said.height:
        return replace(said.place("ground", "up", text), height=True), j
    if k and els[k - 1].low == "at":
        return said.place(None, said.way, text_of(els, k, k)), k + 1
    return None, k + 1


def _landmark(els: list[El], k: int, j: int, said: _Measure) -> tuple[Place, int]:
    """The place measured from the landmark at ``j``, which it uses up."""
    mark = els[j]
    part: str | None = None
    if mark.type == "fit":
        datum, part = "fitting", name_of(mark)
    elif mark.role == "tube":
        datum = "end"
    elif mark.role in DATUM:
        datum = DATUM[mark.role]
    else:
        datum, part = "member", mark.name
    mark.used = True
    end = j + 1
    # "the end of the crown tube": the tail names the host and stays
    if mark.role == "end" and end + 1 < len(els) and els[end].low == "of" and els[end + 1].role == "tube":
        end += 1
    own_side = mark.side if mark.role in ("foot", "joint", "end", "ridge") else None
    height = False if said.along else True if datum == "ground" else said.height
    tube = mark.name if mark.role == "tube" else None
    place = Place(datum, said.mm, said.way, said.side or own_side, said.both, part, height, text=text_of(els, k, j))
    return replace(place, tube=tube, each=mark.each or mark.det in ("both", "either")), end


def name_of(mark: El) -> str:
    """The part that a fitting's mention means first, or its own words."""
    return mark.parts[0] if mark.parts else " ".join(mark.words)


def text_of(els: list[El], a: int, b: int) -> str:
    """The words of the elements from ``a`` to ``b``, both included."""
    return " ".join(e.text for e in els[a : b + 1])
