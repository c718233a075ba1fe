"""What neighbouring elements lend each other: sides, determiners and numbers across "and" and "of"."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from hoopwright.model.events import Selector
from hoopwright.parsing.closed_words import LISTING, PIECES
from hoopwright.parsing.elements import El
from hoopwright.parsing.hoops import join_selectors

_NOT_END_OF_TUNNEL = frozenset({"bar", "tube", "other", "thing", "hoop", "joint"})  # have ends of their own
_COUNTED_HOOPS = ("numbers", "first", "last")


def coordinate(out: list[El]) -> None:
    """Settle, in order, what each element takes from the ones around it; elements used up become plain words."""
    for k, el in enumerate(out):
        if el.type in ("fit", "ellip"):
            _side_behind(out, k)
        if el.type == "fit":
            if k and out[k - 1].low in ("without", "no"):
                el.det, el.amount = "no", None
            _of_before(out, k)
            _share_determiner(out, k)
        elif el.type == "mem":
            _each_of(out, k)
            _share_each(out, k)
            _share_hoops(out, k)
            _share_side(out, k)


def _use(el: El) -> None:
    el.type, el.used = "word", True


def _side_behind(out: list[El], k: int) -> None:
    """ "one bracket left and one right": a bare side behind a counted fitting is its side."""
    el = out[k]
    if el.amount is None or el.side or k + 1 >= len(out):
        return
    nxt = out[k + 1]
    bare = nxt.type in ("word", "ellip") and nxt.low in ("left", "right")
    if bare and (k + 2 == len(out) or out[k + 2].type in ("conj", "punct")):
        el.side = nxt.low
        _use(nxt)


def _of_before(out: list[El], k: int) -> None:
    """ "each of the eight bands", "two of the clips", "a strip of rub tape"."""
    if k < 2 or out[k - 1].low != "of":
        return
    _each_of(out, k)
    _amount_of(out, k)
    _pieces_of(out, k)


def _each_of(out: list[El], k: int) -> None:
    """ "each of the eight bands", "both of the end hoops"."""
    if k < 2 or out[k - 1].low != "of":
        return
    el, lead = out[k], out[k - 2]
    if lead.type not in ("ellip", "pron") or not (lead.each or lead.low == "both"):
        return
    el.each, el.definite = True, False
    if el.type == "mem" and el.hoops is not None:
        el.hoops = replace(el.hoops, each=True)
    _use(lead)
    out[k - 1].type = "word"


def _amount_of(out: list[El], k: int) -> None:
    """ "two of the clips"."""
    el, lead = out[k], out[k - 2]
    if lead.type in ("ellip", "pron") and lead.amount is not None and el.definite:
        el.amount, el.definite, el.plural, el.more = lead.amount, False, False, lead.more
        _use(lead)
        out[k - 1].type = "word"


def _pieces_of(out: list[El], k: int) -> None:
    """ "a strip of rub tape", "two lengths of film channel"."""
    el, lead = out[k], out[k - 2]
    if el.amount is not None or lead.amount is None or lead.type not in ("fit", "mem", "ellip"):
        return
    if lead.low.split()[-1] in PIECES:
        el.amount, el.definite, el.plural, el.more, el.each = lead.amount, False, False, lead.more, lead.each
        _use(lead)
        out[k - 1].type = "word"


def _share_determiner(out: list[El], k: int) -> None:
    """ "each clip, washer and bolt", "the clip and bolt": a bare fitting takes the determiner of the one before."""
    if k < 2 or out[k - 2].type != "fit":
        return
    el, link, before = out[k], out[k - 1], out[k - 2]
    if el.det is not None or el.amount is not None:
        return
    if link.low == "," and before.amount is None and (before.each or before.definite):
        el.det, el.each, el.definite = before.det, before.each, before.definite
    if link.type != "conj":
        return
    if el.plural:
        el.definite = el.definite or before.definite
        return
    el.det, el.each, el.definite = before.det, before.each, before.definite
    if before.det in ("a", "an"):
        el.amount = before.amount


def _share_each(out: list[El], k: int) -> None:
    """ "each bar and the foot": the second is on each, too."""
    el = out[k]
    if k < 2 or out[k - 1].type != "conj" or out[k - 2].type != "mem" or not out[k - 2].each:
        return
    if el.det == "the" and el.role in ("tube", "foot", "joint") and not el.plural:
        el.each = True


def _share_hoops(out: list[El], k: int) -> None:
    """ "the first and the fifth hoop", "hoops 1, 3 and hoop 5": one mention of all of them."""
    el = out[k]
    if el.role != "hoop" or el.hoops is None or el.hoops.kind not in (*_COUNTED_HOOPS, "end", "inner"):
        return
    back = k - 1
    while back >= 1 and out[back].type in ("conj", "punct") and out[back].low in LISTING:
        prev = out[back - 1]
        if not _names_hoops(prev):
            return
        selector = prev.hoops or Selector("numbers", prev.ords, text=prev.text)
        if selector.kind not in _COUNTED_HOOPS:
            return
        el.hoops = join_selectors(selector, el.hoops)
        _use(prev)
        back -= 2


def _names_hoops(el: El) -> bool:
    return el.type in ("ellip", "mem") and not el.used and (el.role == "hoop" or bool(el.ords)) and not el.amount


def _share_side(out: list[El], k: int) -> None:
    """ "the left and right legs": both, so no side."""
    el = out[k]
    if k < 2 or out[k - 1].type != "conj" or not el.side or not out[k - 2].side:
        return
    before = out[k - 2]
    if before.type == "word":
        el.side, el.plural = None, True
    elif before.type == "ellip" and not before.amount:
        el.side = None
        _use(before)


def settle_ends(out: list[El]) -> None:
    """ "both ends", "at the far end": the end hoops, where no bar or tube is there whose ends they could be."""
    for k, el in enumerate(out):
        if el.type != "mem" or el.role != "end":
            continue
        after = out[k + 1].low if k + 1 < len(out) else ""
        if after != "of" and (after == ":" or not _has_other_ends(out, k)):
            _end_hoops(out, k)


def _has_other_ends(out: list[El], k: int) -> bool:
    """Whether the ends at ``k`` can be those of a member or of a fitting in the sentence."""
    if any(e.type == "mem" and e.role in _NOT_END_OF_TUNNEL for e in out):
        return True
    return any(e.type == "fit" for e in out[:k]) and out[k - 1].low != "at"


def _end_hoops(out: list[El], k: int) -> None:
    el = out[k]
    said = set(el.words[:-1])
    if el.det == "both" or (el.each and k == 0):
        kind = "end"
    elif said & {"door", "front", "entrance", "near"}:
        kind = "first"
    elif said & {"far", "back", "rear"} and k and out[k - 1].low in ("at", "for", "on", ":"):
        kind = "far"
    else:
        return
    el.role, el.hoops = "hoop", Selector(kind, each=True, text=el.text)  # type: ignore[arg-type]


def settle_sides(out: list[El]) -> None:
    """ "on each side of every hoop": both sides of the hoop are hosts, not a place beside it."""
    for k, (el, nxt) in enumerate(pairwise(out)):
        if nxt.role != "hoop":
            continue
        beside = el.type == "prep" and el.low.endswith("side of") and nxt.type == "mem"
        if beside or el.low in ("on both sides of", "both sides of"):
            side = El("mem", el.i, el.j, el.text, el.low, words=("side",), role="side", name="side")
            side.det, side.each = "each", True
            out[k] = side
