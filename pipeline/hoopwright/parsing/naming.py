"""What a sentence leaves to the one before it, or to the parts list, put into it by name: "two of them", "both", "[10]"."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from hoopwright.grammar.inflect import plural
from hoopwright.parsing import patterns
from hoopwright.parsing.elements import El
from hoopwright.parsing.lex import lex

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def in_names(it: Interpreter, text: str) -> str:
    """``text`` with the names in it that the words before it give."""
    for named in (_there_are, _both, _so_many, _those_of, _each_of_them, _of_these, _there_is_one, _one_of_each):
        text = named(it, text)
    return text


def bare_codes(it: Interpreter, text: str) -> str:
    """ "Crop hook [10]": the number in square brackets is the part's code and counts nothing; "tighten [10]" names the part by it."""
    known = {**it.kit.member_codes, **it.kit.codes}
    if "[" in text:
        text = patterns.SQUARE_RANGE.sub(lambda match: _codes_between(match, list(known)), text)
        text = patterns.SQUARE_CODE.sub(lambda match: _code_in_words(match, known.get(match["code"].upper())), text)
    return patterns.DOTTED_CODE.sub(lambda match: "" if match[1].upper() in known else match[0], text)


def _there_are(it: Interpreter, text: str) -> str:
    """ "There is a hook on every other hoop", of hooks that nothing has put on yet: put there; else it says what is on already."""
    match = patterns.THERE_ARE.match(text)
    if match is None or it.section is None or it.section.role not in ("build", "other", "correction"):
        return text
    fits = [e for e in it.chunker.elements(lex(match["what"])) if e.type == "fit"]
    if len(fits) != 1 or not fits[0].parts or (it.is_fastener(fits[0].parts) and "each" not in text and "every" not in text):
        return text
    more = match["more"] or match["lead"].lower().startswith(("in addition", "also", "besides", "further"))
    put = any(e.kind == "add" and fits[0].parts[0] in e.parts for r in it.readings for e in r.events)
    return text if put and not more else f"{match['lead']}put {match['what']}{text[match.end() :]}"


def _many(fitting: El) -> str:
    return f"{' '.join(fitting.words[:-1])} {plural(fitting.words[-1])}".lstrip()


def _both(it: Interpreter, text: str) -> str:
    """ "Two post clamps keep the posts in place. Close both round the crown": the two that the sentence before names and puts nowhere."""
    pairs = [e for e in it.els_before if e.type == "fit" and e.amount is not None and e.amount.value == 2 and not e.definite]
    if len(pairs) != 1 or patterns.BOTH_ONTO.search(text) is None:
        return text
    if any(e.kind == "add" and e.step == it.step_id and e.parts[:1] == pairs[0].parts[:1] for e in it.ctx.last):
        return text
    return patterns.BOTH_ONTO.sub(f"two {_many(pairs[0])}", text)


def _so_many(it: Interpreter, text: str) -> str:
    """ "The heads are held by jamb clamps. Two of them close round the crown": two jamb clamps."""
    match = patterns.SO_MANY_OF_THEM.match(text)
    named = [e for e in it.els_before if e.type == "fit" and e.parts]
    if match is None or len(named) != 1 or not named[0].plural or not it.is_clip(named[0].parts):
        return text
    return f"{match['number']} {_many(named[0])} {text[match.end() :]}"


def _those_of(it: Interpreter, text: str) -> str:
    """ "Both uprights of arch 1 take one eye apiece. Those of arch 2 take one as well": the uprights of arch 2."""
    match = patterns.THOSE_OF.match(text)
    tubes = [e for e in it.els_before if e.type == "mem" and e.role == "tube"]
    if match is None or len({e.name for e in tubes}) != 1:
        return text
    return f"The {plural(tubes[0].name)} of {text[match.end() :]}"


def _each_of_them(it: Interpreter, text: str) -> str:
    """ "Start with the fourteen uprights. Every one of them gets a rail ring": each upright, as the sentence before names them."""
    match = patterns.EACH_OF_THEM.match(text)
    if match is None or any(e.type == "fit" for e in it.els_before):
        return text
    number = (match["number"] or "").lower()
    told = int(number) if number.isdigit() else it.chunker.numbers.get(number)
    tubes = [e for e in it.els_before if e.type == "mem" and e.role in ("tube", "foot", "joint") and e.plural]
    others = [e for e in it.els_before if e.type == "mem" and e.role not in ("tube", "foot", "joint", "ground")]
    if len(tubes) == 1 and not others and (not number or told is not None):
        return f"Each {tubes[0].name} {text[match.end() :]}"
    if told is not None and told == it.hoops:
        return f"Each {min(it.chunker.hoop_words, default='hoop')} {text[match.end() :]}"
    return text


def _of_these(it: Interpreter, text: str) -> str:
    """ "The header hangs from two line eyes. Slide one of these onto hoop 3": the fitting's own name for "of these", if none is on yet."""
    if not it.recent or not it.recent[-1][1] or patterns.OF_THESE.search(text) is None:
        return text
    part = it.recent[-1][0][0]
    if any(e.kind == "add" and e.step == it.step_id and part in e.parts for e in it.ctx.last):
        return text
    return patterns.OF_THESE.sub(rf"\1 {part}", text)


def _there_is_one(it: Interpreter, text: str) -> str:
    """ "The top keeper goes on over the end; there is one on every long arm": put there, unless a sentence before has put it on."""
    match = patterns.THERE_IS.match(text)
    if match is None or not it.recent or it.recent[-1][1]:
        return text
    part = it.recent[-1][0][0]
    if any(e.kind == "add" and e.parts[:1] == (part,) for r in it.readings[-6:] for e in r.events):
        return text
    return f"Put {match['n']} {part} {'on' if match['at'] == 'for' else match['at']} {text[match.end() :]}"


def _one_of_each(it: Interpreter, text: str) -> str:
    """ "Hoop 2, each leg: side ring 46 in, eye 58 in": a note without numbers names one of each, with its place."""
    head, colon, rest = text.partition(": ")
    if not colon or len(head) > 60 or not patterns.BARE_LIST.match(rest):
        return text
    pieces = patterns.LIST_COMMA.split(rest)
    found = [patterns.BARE_ITEM.match(piece) for piece in pieces[::2]]
    named = [m for m in found if m is not None and it.kit.resolve(tuple(m["name"].lower().split()))]
    if not named or len(named) < sum(m is not None for m in found):
        return text
    pieces[::2] = [f"one {piece}" if m in named else piece for piece, m in zip(pieces[::2], found, strict=True)]
    return f"{head}: {''.join(pieces)}"


def _codes_between(match: re.Match[str], codes: list[str]) -> str:
    """ "[10]-[15]" as a bracket for each code of the list from the first to the last."""
    first, last = match[1].upper(), match[2].upper()
    if first not in codes or last not in codes or codes.index(first) > codes.index(last):
        return match[0]
    return ", ".join(f"[{code}]" for code in codes[codes.index(first) : codes.index(last) + 1])


def _code_in_words(match: re.Match[str], name: str | None) -> str:
    """What a code in square brackets says: nothing behind the part's own name or size, else the name."""
    if name is None:
        return match[0]
    before = match["before"] or ""
    own = {stem for word in name.lower().split() for stem in (word, word.removesuffix("s"))}
    said = before.lower()
    if said and (said in own or said.removesuffix("s") in own or said.removesuffix("es") in own or said[-1].isdigit()):
        return before
    return f"{before} {name}".strip() if before else f"{match['gap']}{name}"
