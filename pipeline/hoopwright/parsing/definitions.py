"""Sentences that say what the manual calls its hoops, sides and ends."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from hoopwright.model.events import Amount, Selector
from hoopwright.model.frame import Doubt
from hoopwright.parsing import gates, ownership
from hoopwright.parsing.chunk import number_list
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El
from hoopwright.parsing.lex import lex

_NAMED_PLACES = frozenset(
    {"door", "end", "ends", "entrance", "gate", "gable", "front", "back", "one", "first", "last", "middle", "far", "it"}
)


if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def counting(it: Interpreter, text: str) -> bool:
    """Read "Here the hoops are counted from the far end": turns the numbers round until the text turns them back."""
    low = text.lower()
    if (
        not gates.search(r"\b(?:count|number)(?:ed|s|ing)?\b", low)
        or not gates.search(r"\bfrom the\b", low)
        or it.section is None
        or it.section.role not in ("build", "other")
    ):
        return False
    if gates.search(r"\bfrom the (?:far|back|rear|other|north|south|east|west|last)\b", low):
        it.reverse = it.section.id
        return True
    if gates.search(r"\bfrom the (?:door|front|near|first|same)\b", low):
        it.reverse = None
        return True
    return False


def named_hoops(it: Interpreter) -> bool:
    """Read "Braced ribs: 2 and 11.", "Interior bows = bows 2 to 6": a name for some of the hoops."""
    words = "|".join(sorted(it.chunker.hoop_words)) or "hoop"
    numbered = re.findall(
        rf"\b(?:the )?([a-z-]+) (?:{words}) (?:is|being|has) (?:the )?(?:number|no\.?|#|(?:{words})) ?(\d+)", it.text.lower()
    )
    for name, number in numbered:
        it.chunker.groups[name] = Selector("numbers", (int(number),), text=name)
        it.chunker.defined.add(name)
    between = gates.search(
        rf"\b(?:between(?: them)?|in between|others?|rest)\b[^.;]{{0,12}}? (?:are|is|being|we call|the) (?:called )?(?:the )?([a-z-]+) (?:{words})(?:s|es)?\b",
        it.text.lower(),
    )
    if between and between[1] not in it.chunker.hoop_adjectives and between[1] not in ("of", "the", "all", "two", "end"):
        it.chunker.groups[between[1]] = Selector("inner", text=between[0])
        it.chunker.defined.add(between[1])
        numbered.append((between[1], ""))
    elif between:
        it.chunker.defined.add(between[1])  # "the four in between the middle hoops"
    if numbered:
        return True
    match = gates.match(
        rf"^(?:the )?([a-z-]+) (?:{words})(?:s|es)?\s*(?::|=|\bare\b|\bmeans?\b)\s*(?:the |nos?\.? |numbers? |(?:{words})(?:s|es)? )*(\d[\d ,&]*(?:(?:to|and|-|–|through)\s*\d+[ ,]*)*)(?:inclusive)?\.?;?$",
        it.text.strip().lower(),
    )
    if match is None:
        return False
    numbers, _, _ = number_list(lex(match[2]), 0, it.chunker.numbers)
    if not numbers:
        return False
    it.chunker.groups[match[1]] = Selector("numbers", numbers, text=match[0])
    it.chunker.defined.add(match[1])
    return True


def done_again(it: Interpreter, text: str) -> bool:
    """Read "The text speaks of frame 1; all of it is done again at frame 9": both hoops take what the section says of the first."""
    words = "|".join(sorted(it.chunker.hoop_words)) or "hoop"
    told = gates.search(
        rf"\b(?:all of (?:it|this|that)|everything|the whole(?: of it)?|the same|it all|all this) (?:is|has to be|must be) (?:all )?(?:done|repeated|carried out|built|made)"
        rf" (?:once more |again |too |also |as well )*(?:at|on|for) (?:the )?(?:(?:{words}) (?P<n>\d+)|(?P<last>far|back|last|other|rear))\b",
        text.lower(),
    )
    if told is None:
        return False
    second = int(told["n"]) if told["n"] else it.hoops
    before = " ".join(r.source.quote.lower() for r in it.readings[-2:] if r.step == it.step_id) + " " + text.lower()
    first = gates.search(rf"\b(?:speaks?|tells?|is (?:written|told|given)|describes?|shows?|deals?)\b[^.;]*?\b(?:{words}) (\d+)", before)
    if second is None or (first is None and it.ctx.last and it.ctx.last[-1].step == it.step_id):
        return False  # "At hoop 1 a ring is slid on. The same is done at hoop 6": what the step has just told
    it.done_again = (int(first[1]) if first is not None else 1, second)
    return True


def sided_tube(it: Interpreter, els: list[El]) -> bool:
    """Keep a tube's side: "the swaged half is always the left one"."""
    tube = next((e for e in els[:2] if e.type == "mem" and e.role == "tube" and e.side is None and len(e.words) > 1), None)
    side = gates.search(
        r"\b(?:is|are|goes|stands|belongs)\b.{0,20}\b(left|right)\b(?: |-hand)*(?:one|side|half|tube|piece|leg)?\.?$",
        it.text.strip().lower(),
    )
    if tube is None or side is None:
        return False
    it.chunker.side_words[tube.words[0]] = side[1]
    return True


def definition(it: Interpreter, clauses: list[Clause], els: list[El]) -> bool:
    """Read "Hoops 2 to 7 are the inner hoops; we call hoops 1 and 8 the door hoops.\""""
    done = named_hoops(it) or sided_tube(it, els)
    hoops = [e for e in els if e.type == "mem" and e.role == "hoop"]
    for k, el in enumerate(els):
        if (el.type == "word" and el.low in ("are", "is")) or (el.type == "verb" and el.name == "call"):
            left = [e for e in hoops if e.j <= el.i and e.hoops is not None]
            right = [e for e in hoops if e.i >= el.j]
            between = [e for e in els[:k] if e.type == "fit"]
            if left and right and not between:
                words = [w for w in right[0].words if w not in {*it.chunker.hoop_words, *it.chunker.hoop_nouns}]
                subject = left[-1].hoops
                if right[0].hoops is not None and right[0].hoops.kind in ("end", "inner") and subject is not None:
                    done = True
                    it.chunker.defined.update(right[0].words)
                    it.chunker.defined.update(w for w in right[0].low.split() if w in it.chunker.hoop_adjectives)
                elif words and subject is not None and subject.kind in ("numbers", "first", "last", "even", "odd", "join"):
                    it.chunker.groups[words[-1]] = subject
                    done = True
    return done and not any(e.type == "fit" for e in els)


def same_fastening(it: Interpreter) -> bool:
    """Read "A door band is made like a crown saddle and is fastened in the same way": it takes the fasteners that the other takes."""
    if not gates.search(
        r"\b(?:fastened|fixed|tightened|held|closed|locked|bolted|secured)\b[^.;]*\b(?:same (?:way|manner)|likewise|like|as)\b",
        it.text.lower(),
    ):
        return False
    fits = [e for e in it.sentence_els if e.type == "fit" and e.parts]
    if len(fits) < 2 or fits[0].gov != "subj" or any(e.amount is not None and e.det not in ("a", "an") for e in fits[:2]):
        return False
    mine, model = fits[0].parts[0], fits[1].parts[0]
    if mine == model or not it.is_clip(fits[0].parts) or not it.is_clip(fits[1].parts):
        return False
    rules = [e for r in it.readings for e in r.events if e.kind == "rule" and e.fastener is not None]
    own = [e for e in rules if model in e.owners]
    for rule in own:
        it.emit(it.event("rule", rule.parts, rule.amount, owners=(mine,), fastener=rule.fastener, per=rule.per))
    return bool(own)


_HOLDS_FOR = gates.gated(
    r"^(?:and |but )?(?:this|that|it|so it|the same|this rule|that rule)(?: rule)?(?: also)? "
    r"(?:(?:is|was) (?:also )?(?:the rule|true|so|the case)|goes|applies|holds|counts|stands)(?: good)?(?: too| also| as well)? (?:for|to|of|with) (?P<whom>[^.;]+)",
    re.IGNORECASE,
)


def rule_for_more(it: Interpreter) -> bool:
    """Read "This is the rule for every closed clip and collar": they take the fasteners of the rule before."""
    match = _HOLDS_FOR.match(it.text)
    rules = [e for r in it.readings[-4:] for e in r.events if e.kind == "rule" and e.fastener is not None and e.step == it.step_id]
    fits = [e for e in it.sentence_els if e.type == "fit" and e.parts and e.amount is None]
    if match is None or not rules or not fits or any(it.is_fastener(f.parts) for f in fits):
        return False
    closed = gates.search(r"\b(?:closed|one-piece)\b", match["whom"]) is not None
    owners = [name for f in fits for name in ownership.class_of(it, f) if not closed or it.kit.parts[name].form == "closed"]
    last = [e for e in rules if e.owners == rules[-1].owners]
    more = tuple(name for name in dict.fromkeys(owners) if name not in last[-1].owners)
    for rule in last if more else ():
        it.emit(it.event("rule", rule.parts, rule.amount, owners=more, fastener=rule.fastener))
    return bool(more)


def _called_as_nothing_else(it: Interpreter, el: El) -> bool:
    """ "Onto the copper hoop", where nothing says which hoop that is."""
    if el.type != "mem" or el.role != "hoop" or el.det != "the" or el.plural or el.hoops is not None or len(el.adjectives) != 1:
        return False
    word = el.adjectives[0]
    known = word in it.chunker.hoop_adjectives or word in it.chunker.defined or word in it.grammar.senses or word in it.chunker.numbers
    return (
        el.gov in ("on", "onto", "over")
        and not known
        and not re.search(r"(?:ed|ing|en|ly)$|-", word)
        and word not in it.grammar.words["any_hoop"]
    )


def unnamed_hoop(it: Interpreter) -> bool:
    """Ask about "The hook goes over the hoop nearest the tap", "the hoops near the door": hoops told by a thing, and no number of theirs."""
    words = "|".join(sorted(it.chunker.hoop_words)) or "hoop"
    near = r"(?:that (?:is|are|stands?) )?(?:nearest|closest|next|nearer|beside|near|opposite|close)(?: to)?(?: the| your| a| an)? ((?:front |back |far )?[a-z]+)"
    match = gates.search(rf"\b(?:the|that|those|whichever|any) (?:{words})(s|es)? {near}", it.text.lower())
    fit = next((e for e in it.sentence_els if e.type == "fit" and e.parts), None)
    called = next((e for e in it.sentence_els if _called_as_nothing_else(it, e)), None)
    if match is None and called is not None and fit is not None and fit.amount is not None:
        message = f"'{called.text}': which hoop takes the {fit.parts[0]}? None is counted."
        it.emit(it.event("ask", fit.parts[:1], doubts=(Doubt("member", message, ("none yet",), "none yet"),)))
        return True
    if match is None or fit is None or match[2] in it.chunker.hoop_words or (match[1] is None and match[2].split()[-1] in _NAMED_PLACES):
        return False
    part = fit.parts[0]
    listed = it.kit.parts[part].listed
    if match[1] is not None and listed and match[2].split()[-1] in ("door", "entrance", "gate", "front"):
        # "The hoops near the front door have a label clip apiece": as many as the list has
        hoops = Selector("numbers", tuple(range(1, listed + 1)), each=True, text=match[0])
        doubt = Doubt("member", f"'{match[0]}': which hoops are meant?", (f"hoops 1 to {listed}",), f"hoops 1 to {listed}")
        it.emit(it.event("add", (part,), Amount(1, each=True), hoops, doubts=(doubt,)))
        return True
    message = f"'{match[0]}': which {'hoops take' if match[1] else 'hoop takes'} the {part}? None is counted."
    it.emit(it.event("ask", fit.parts[:1], doubts=(Doubt("member", message, ("none yet",), "none yet"),)))
    return True
