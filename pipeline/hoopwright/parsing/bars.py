"""Which steps put up the bars that hoops carry, and in which fittings: "Feed the ridge bar through the ridge clips"."""

from __future__ import annotations

from dataclasses import dataclass, field

from hoopwright.model.events import BarPut
from hoopwright.parsing.elements import El

_PUTS = frozenset({"put", "feed", "stand", "fasten", "handle"})  # classes of verbs.yaml that can put up a bar
_NAMES_NOTHING = frozenset({"of", "length", "section", "piece", "the", "all", "both", "each"})  # "the four lengths of the ridge bar"
_INTO = frozenset({"through", "thru", "in", "into", "inside", "onto", "on", "on to", "between", "under", "to", "with"})
_LINKS = frozenset({"is", "are", "be", "then", "now", "can", "may", "has", "have", "to", "been", "being", "will", "should", "must", "next"})


@dataclass(slots=True)
class Bars:
    """The bars of the building steps as their sentences are read."""

    put_up: list[BarPut] = field(default_factory=list)
    spoken: dict[str, BarPut] = field(default_factory=dict)  # by name, where it was first spoken of

    def note(self, step: str, els: list[El]) -> None:
        """Take in a sentence of a building step."""
        for place, el in enumerate(els):
            if el.type != "mem" or el.role != "bar":
                continue
            if _object(els, place) or _subject(els, place):
                self.put_up.append(BarPut(_full_name(el.name, self.put_up), step, _holders(els, place)))
            name = _full_name(el.name, [*self.spoken.values()])
            self.spoken.setdefault(name, BarPut(name, step, put=False))

    def told(self) -> tuple[BarPut, ...]:
        """One entry for each sentence that puts a bar up, in the manual's order; then one for each bar that is only spoken of."""
        up = {put.name for put in self.put_up}
        full = {name.split()[-1] for name in up}
        return (*self.put_up, *(put for name, put in self.spoken.items() if name not in up and name not in full))


def _object(els: list[El], place: int) -> bool:
    """Whether the bar is what a verb before it puts up; only words that name nothing, and other bars, stand between."""
    for el in reversed(els[:place]):
        if el.type == "verb":
            return el.cls in _PUTS and not el.neg and not el.passive
        if el.type == "fit" or (el.type == "mem" and el.role != "bar" and el.name not in _NAMES_NOTHING) or el.type == "punct":
            return False
        if el.type == "prep" and el.low not in _NAMES_NOTHING:
            return False
    return False


def _subject(els: list[El], place: int) -> bool:
    """Whether the bar is put up by a passive after it ("is then fed"), or runs from hoop to hoop by itself."""
    clause = False  # inside "…, which are of three lengths each, …"
    for n, el in enumerate(els[place + 1 :], place + 1):
        if el.type == "punct" and (clause or (n + 1 < len(els) and els[n + 1].low in ("which", "that"))):
            clause = not clause
        elif clause:
            continue
        elif el.type == "verb":
            return el.cls in _PUTS and not el.neg and (el.passive or el.verb == "run")
        elif el.type not in ("word", "prep") or el.low not in _LINKS:
            return False
    return False


def _holders(els: list[El], place: int) -> tuple[str, ...]:
    """The fittings that the bar is put through or into: "through the ridge clips", "in each pair of crop saddles"."""
    found: dict[str, None] = {}
    inside = False
    for el in els[place + 1 :]:
        if el.type == "prep":
            inside = el.low in _INTO or (inside and el.low == "of")
        elif el.type == "fit" and el.parts and inside:
            found[el.parts[0]] = None
        elif found and el.type not in ("fit", "conj"):
            break
    return tuple(found)


def _full_name(name: str, before: list[BarPut]) -> str:
    """ "The bar is then fed in": the bar named last whose name ends in that word; a name in full stays."""
    if len(name.split()) > 1:
        return name
    return next((put.name for put in reversed(before) if put.name.split()[-1] == name), name)
