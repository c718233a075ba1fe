"""What a clause closes: joining, fixing and standing of hoops."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hoopwright.parsing import gates, topics
from hoopwright.parsing.chunk import join_selectors
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El
from hoopwright.parsing.gates import gated

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


_NOBODY = gated(r"\b(?:nobody|no[\s-]one)\b")


def act(it: Interpreter, c: Clause) -> None:
    """Joining, fixing and standing."""
    verb = c.verb
    if (
        verb is None
        or verb.neg
        or (verb.modal == "will" and not verb.passive)  # "the legs will drop over the stakes": what a later step does is told ahead
        or _NOBODY.search(c.low)
        or c.kind == "relative"
        or topics.null(it, c)
        or _describes(c, verb)
        or (verb.name == "close" and verb.passive)
        or (c.kind == "sub" and c.word in ("if", "when", "once", "after", "before", "until", "unless", "as"))
    ):
        return
    hoopish = [m for m in c.els if m.type == "mem" and m.role in ("hoop", "tube", "joint", "foot") and not m.used]
    if not hoopish and not (verb.cls in ("join", "stand") and any(e.type == "pron" and e.gov == "obj" for e in c.els)):
        return
    sel = None
    for m in hoopish:
        if m.role == "hoop" and m.hoops is not None and m.gov not in ("between", "from"):
            sel = m.hoops if sel is None else join_selectors(sel, m.hoops)
    for kind in what_it_closes(it, c, verb, hoopish):
        it.emit(it.event("act", hoops=sel or it.ctx.hoops, act=kind))


_MADE_OF = gated(r"\b(?:together|up|made|assembled|built|joined) (?:from|of|out of)\b")


def _describes(c: Clause, verb: El) -> bool:
    """ "Seven hoops stand 1.25 m apart", "the door stands in hoop 1", "every hoop is put together from three tubes": how the frame is made."""
    if verb.passive:
        return _MADE_OF.search(c.low) is not None
    subject = next((e for e in c.els if e.gov == "subj" and e.type == "mem"), None)
    if verb.cls != "stand" or subject is None or subject.i > verb.i:
        return False
    return subject.role in ("bar", "other") or gates.search(r"\bapart\b|\b(?:distance|spacing|intervals?) of\b", c.low) is not None


def what_it_closes(it: Interpreter, c: Clause, verb: El, hoopish: list[El]) -> list[str]:
    """What the clause closes: join (tubes pushed together), fix (a screw through a joint), stand (feet on ground tubes)."""
    kinds = []
    low = c.low
    tubes = [m for m in hoopish if m.role == "tube"]
    fits = [f for f in c.els if f.type == "fit" and f.amount is not None]
    closers = [f for f in fits if f.parts and it.kit.parts[f.parts[0]].form in ("fastener", "sleeve")]
    onto_tube = any(m.gov in ("into", "onto", "over", "in", "to", "on") for m in tubes)
    moved = any(m.gov in ("obj", "subj") for m in tubes) or (
        any(e.type == "pron" and e.gov == "obj" for e in c.els) and not recent_fit_named(it, c)
    )
    ground = bool(
        gates.search(
            r"\bground (?:tube|post|stake|socket)s?|\bfoundation|\bstakes?\b|\bground anchors?|\bsockets?\b|\bposts?\b|\bstubs?\b|\bspigots?\b",
            low,
        )
    )
    if (
        verb.cls == "join"
        or (
            verb.name in ("push", "plug", "slide", "slip", "bring", "fit", "press", "insert", "ease", "push on")
            and onto_tube
            and moved
            and len(tubes) > 1
            and not fits
        )
        or (gates.search(r"\btogether\b", low) and tubes and not fits)
    ):
        kinds.append("join")
    if any(m.role == "joint" for m in hoopish) and closers and verb.cls in ("fasten", "put"):
        kinds += ["join", "fix"]
    if (
        verb.cls == "stand"
        and any(m.role in ("hoop", "foot", "tube") for m in hoopish)
        and (ground or (verb.name in ("stand", "stand up", "erect", "raise", "lift") and any(m.role == "hoop" for m in hoopish)))
    ) or (
        ground
        and verb.name in ("slide", "drop", "place", "push", "fit", "set", "slip", "lift", "put", "lower")
        and any(m.role in ("hoop", "tube", "foot") and m.gov in ("obj", "subj") for m in hoopish)
        and not fits
    ):
        kinds.append("stand")
    if any(m.role == "foot" for m in hoopish) and any(it.is_fastener(f.parts) for f in closers) and verb.cls in ("fasten", "put"):
        kinds.append("stand")
    return list(dict.fromkeys(kinds))


def recent_fit_named(it: Interpreter, c: Clause) -> bool:
    """Whether "it" may be a fitting that the sentence before has named."""
    return bool(it.ctx.last or it.recent) and not any(e.type == "mem" and e.role == "tube" and e.gov == "obj" for e in it.sentence_els)
