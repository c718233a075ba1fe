"""Compounds of nouns to mentions of fittings and members, with the codes and sizes behind them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hoopwright.grammar.load import Sense
from hoopwright.model.events import Amount, Selector
from hoopwright.parsing.closed_words import ARTICLES, CONJUNCTIONS, DETERMINERS, LISTING, is_counted
from hoopwright.parsing.elements import El
from hoopwright.parsing.hoops import read_hoops
from hoopwright.parsing.kit import singular
from hoopwright.parsing.lex import Tok
from hoopwright.parsing.lexicon import Lexicon
from hoopwright.parsing.premodifiers import Premodifiers

if TYPE_CHECKING:
    from hoopwright.parsing.chunk import Chunker

_UNTELLING = frozenset({"closed", "loose", "new", "pair", "same", "single"})  # words that name no part, mostly
_POSITION_WORDS = frozenset(
    {
        *("above", "below", "from", "up", "down", "in", "over", "under", "along", "apart", "to", "either", "each"),
        *("inside", "outside", "high", "short", "beyond", "off", "away"),
    }
)
_ANY_TUBE = frozenset({"left", "right", "other", "same", "first", "second"})
_OWN_TUBE = frozenset(
    {
        *("left", "right", "upper", "lower", "side", "crown", "hoop", "top", "bottom", "centre", "center", "middle"),
        *("leg", "roof", "arch", "bow", "other", "same", "curved", "straight", "first", "second", "long", "short"),
        *("outer", "bent", "single", "whole", "next", "apex", "rib", "half", "plain", "swaged", "swedged", "main"),
        *("end", "joined", "each", "open", "new", "eaves", "intermediate"),
    }
)


def noun_phrase(chunker: Chunker, toks: list[Tok], start: int, i: int, state: Premodifiers) -> El:
    """The mention whose phrase starts at ``start`` and whose nouns start at ``i``; its head is its last noun."""
    said, sense, j = _compound(chunker, toks, i, state)
    text = " ".join(t.text for t in toks[start:j])
    kit = chunker.kit
    if sense.id == "code":
        name = kit.codes[sense.word.upper()]
        spelled = [t.low for t in toks[i:j] if t.cat == "word" and t.low != sense.word.lower()]
        named = kit.aliases.get((*spelled[:-1], singular(spelled[-1], chunker.grammar))) if len(spelled) > 1 else None
        if named is not None and named != name and kit.parts[named].is_fitting and kit.words[named][-1] != kit.words[name][-1]:
            name = named  # "wing nut M6", where M6 is the code of a pin: the words go before what may be a size
        el = El("fit", start, j, text, text.lower(), words=kit.words[name], name=name, parts=(name,))
        state.fill(el)
        before = toks[j - 2].low if j - 2 >= i else ""  # "film straps FS"
        named_many = bool(before) and singular(before, chunker.grammar) != before
        el.plural = (el.amount.value or 0) > 1 if el.amount is not None else named_many
        _fitting(chunker, el, toks)
        return el
    head = singular(said[-1], chunker.grammar)
    names = (*said[:-1], head)
    listed = _listed_pieces(chunker, toks, j, sense, names)
    if listed is not None:
        sense, names = Sense("fit", "code", listed, sense.form), kit.words.get(listed, names)
    sense = _member_meant(chunker, sense, names)
    el = El("fit" if sense.kind == "fit" else "mem", start, j, text, text.lower(), words=names, name=sense.word)
    el.role = sense.role if sense.kind == "mem" else ""
    el.plural = sense.form == "many" or said[-1] != head
    state.fill(el)
    if el.type == "fit":
        _fitting(chunker, el, toks)
    else:
        _member(chunker, el, toks, sense, state)
    return el


def _compound(words: Lexicon, toks: list[Tok], i: int, state: Premodifiers) -> tuple[list[str], Sense, int]:
    """(words, sense of the head, end) of the nouns that run on from token ``i``, which is one."""
    said = [*state.adjectives]
    found, end = words.noun(toks, i)
    assert found is not None, "a noun phrase starts at a noun"
    sense = found
    while True:
        if sense.role == "bar" and found.role == "thing" and found.word == "length":
            found = Sense("mem", sense.id, sense.word, found.form, "bar")
        member_code = toks[i].text.upper() in words.kit.member_codes
        said += found.word.split() if found.id == "code" or member_code else [t.low for t in toks[i:end]]
        if found.id == "code" or (member_code and toks[i].text.isupper()):
            return said, found, end
        if found.form == "many" and not (end < len(toks) and words.is_nounish(toks[end])):
            return said, found, end
        sense, i = found, end
        found, end = words.noun(toks, i)
        if found is None or _begins_member(sense, found) or _stops_compound(words, toks, i, end, found, sense):
            return said, sense, i
        if state.det in ARTICLES and _does(words, toks, i, end, found, sense):
            return said, sense, i


def _begins_member(sense: Sense, found: Sense) -> bool:
    """ "a clip ridge bar": a member behind a fitting is a mention of its own, unless it is "piece" or the like."""
    return sense.kind == "fit" and found.kind == "mem" and found.role != "thing"


def _stops_compound(words: Lexicon, toks: list[Tok], j: int, end: int, found: Sense, sense: Sense) -> bool:
    """ "On each corner section thread a clamp": whether the next noun is the verb of the sentence instead."""
    if (sense.role == "hoop" and found.kind == "mem" and found.role in ("side", "end")) or end >= len(toks):
        return False
    verbs = words.verb_forms(toks[j].low)
    if not verbs:
        return False
    nxt = toks[end]
    counted = nxt.low in ARTICLES or is_counted(nxt, words.numbers)
    loose = sense.kind == "mem" and found.role in ("thing", "")
    if loose and counted and any(s.form == "base" and s.role in ("put", "fasten") for s in verbs):
        return True
    determined = nxt.low != "a" and (nxt.low in DETERMINERS or nxt.low in words.numbers)
    return sense.form == "one" and determined and any(s.form == "s" for s in verbs)


def _does(words: Lexicon, toks: list[Tok], j: int, end: int, found: Sense, sense: Sense) -> bool:
    """ "A stay hooks into the lower ring": what one of something does, since the article speaks of no more than one."""
    return (
        sense.kind == "mem"
        and sense.form == "one"
        and found.form == "many"
        and end < len(toks)
        and toks[end].low in words.onto
        and any(s.form == "s" for s in words.verb_forms(toks[j].low))
    )


def _listed_pieces(words: Lexicon, toks: list[Tok], j: int, sense: Sense, names: tuple[str, ...]) -> str | None:
    """ "two film channel lengths (M16)": the part of the list that a member's noun means; None if it means none."""
    bracket = j < len(toks) and toks[j].text == "("
    if bracket and sense.kind == "mem" and sense.role in ("thing", "film", "other", "tube"):
        coded = words.bracket_code(toks, j)
        if coded:
            return coded[0]
    if sense.role == "thing" and len(names) > 1:
        return words.kit.aliases.get(names[:-1])
    return None


def _member_meant(words: Lexicon, sense: Sense, names: tuple[str, ...]) -> Sense:
    """ "each sleeve" in a kit whose only sleeves are ground sleeves: the member that a fitting's word stands for; else ``sense``."""
    if sense.kind != "fit":
        return sense
    if names[0] in ("ground", "foundation", "footing") and len(names) > 1 and not words.kit.resolve(names):
        return Sense("mem", names[-1], " ".join(names), sense.form, "other")  # "twenty ground spigots" that no list names
    if names[-1] in words.kit.heads:
        return sense
    known = [name for name in words.kit.members if name.split()[-1] == names[-1] and set(names) <= set(name.split())]
    if not known:
        return sense
    member = next((s for s in words.grammar.senses.get(known[0], ()) if s.kind == "mem"), None)
    return Sense("mem", names[-1], known[0], sense.form, member.role if member is not None else "other")


# ---- fittings ---------------------------------------------------------------------------------------------------------


def _fitting(words: Lexicon, el: El, toks: list[Tok]) -> None:
    """Take size, code and count behind a fitting's name into the mention, and find its parts."""
    j = el.j
    while j < len(toks):
        end = _behind_fitting(words, el, toks, j)
        if not end:
            break
        j = end
    el.j = j
    el.text = " ".join(t.text for t in toks[el.i : j])
    said = _telling(words, el.words)
    if not el.parts:
        el.parts = _resolve(words, said or el.words, len(said) > 1, el.size)
    el.words = said or el.words


def _telling(words: Lexicon, said: tuple[str, ...]) -> tuple[str, ...]:
    """``said`` without the words that tell no parts apart, unless the kit's own names have them."""
    if _UNTELLING.isdisjoint(said):
        return said
    own = {word for name in words.kit.words.values() for word in name}
    return tuple(word for word in said if word not in _UNTELLING or word in own)


def _behind_fitting(words: Lexicon, el: El, toks: list[Tok], j: int) -> int:
    """ "saddle clamp 42 mm (H)", "clips C1 and C2", "screws × 4": take what stands at ``j``; its end, 0 if no part of it."""
    tok = toks[j]
    codes = words.kit.codes
    if tok.cat == "size" and tok.text.upper() in codes and not el.parts and not _of_another(words, el, codes[tok.text.upper()]):
        el.parts = (codes[tok.text.upper()],)
        return j + 1
    if tok.cat in ("len", "size") and el.size is None and not _position_follows(toks, j):
        el.size = tok.text
        return j + 1
    numeric = words.numeric_code(tok)
    if numeric:
        el.parts = (numeric,)
        return j + 1
    bracket = words.bracket_code(toks, j) if tok.text == "(" else None
    if bracket is not None:
        el.parts = (bracket[0],)
        return bracket[1]
    if tok.text.isupper() and tok.text in codes:
        if not el.parts and (len(tok.text) > 1 or _letter_is_code(words, toks, j)):
            el.parts = (codes[tok.text],)
            return j + 1
        if (el.plural or el.each) and len(tok.text) <= 3 and words.kit.words[codes[tok.text]][-1] == el.words[-1]:
            return _code_list(words, el, toks, j)
    if tok.cat == "count" and el.amount is None and _counts_before(toks, j):
        el.amount = Amount(int(tok.value), text=tok.text)
        return j + 1
    return 0


def _of_another(words: Lexicon, el: El, part: str) -> bool:
    """ "wing nut M6" where M6 is also the code of a pin: the size tells nothing about a name that the list has."""
    return el.words in words.kit.aliases and words.kit.words[part][-1] != el.words[-1]


def _letter_is_code(words: Lexicon, toks: list[Tok], j: int) -> bool:
    """ "clip H,": a single letter in front of a stop, conjunction or preposition; "A" and "I" are words."""
    if toks[j].text in ("A", "I"):
        return False
    if j + 1 == len(toks):
        return True
    nxt = toks[j + 1]
    return nxt.cat == "punct" or nxt.low in CONJUNCTIONS or nxt.low in words.onto


def _code_list(words: Lexicon, el: El, toks: list[Tok], j: int) -> int:
    """ "clips C1, C2 and C3"."""
    codes = words.kit.codes
    listed = [codes[toks[j].text]]
    while j + 2 < len(toks) and toks[j + 1].low in LISTING and toks[j + 2].text in codes:
        listed.append(codes[toks[j + 2].text])
        j += 2
    el.parts, el.classes, el.det = tuple(listed), len(listed) > 1, el.det or "code"
    return j + 1


def _counts_before(toks: list[Tok], j: int) -> bool:
    """ "clips (4)", "clips × 4", "clips 4 off" at the end: the count belongs to the noun before it, not behind it."""
    text = toks[j].text
    return text[0] in "(x×" or not text[0].isdigit() or j == len(toks) - 1


def _position_follows(toks: list[Tok], j: int) -> bool:
    """Whether the length at ``j`` says where, "600 mm above the foot", and not how big."""
    for tok in toks[j + 1 : j + 3]:
        if tok.low in _POSITION_WORDS:
            return True
        if tok.cat == "punct":
            return False
    return False


def _resolve(words: Lexicon, said: tuple[str, ...], several: bool, size: str | None) -> tuple[str, ...]:
    """The parts that ``said`` may mean; adjectives that no part has ("long brace clips") are left out one by one."""
    found = words.kit.resolve(said, size)
    if found or not several:
        return found
    for cut in range(1, len(said)):
        found = words.kit.resolve(said[cut:], size)
        if found:
            return () if _names_another(words, said[:cut], found) else found
    return ()


def _names_another(words: Lexicon, left_out: tuple[str, ...], found: tuple[str, ...]) -> bool:
    """Whether the words left out tell of a part that is none of those found."""
    if any(set(left_out) & set(words.kit.words[name]) for name in found):
        return False
    telling = [word for word in left_out if word not in words.plain and not word.isdigit()]
    vague = len(found) > 1 or len(words.kit.words[found[0]]) > 1
    return bool(telling) and (vague or any(words.is_noun_word(word) for word in telling))


# ---- members ----------------------------------------------------------------------------------------------------------


def _member(chunker: Chunker, el: El, toks: list[Tok], sense: Sense, state: Premodifiers) -> None:
    """Settle a member's role, name and side, and which hoops a hoop or bay means."""
    el.name = _listed_member(chunker, el.words) or sense.word
    phrase = " ".join(w for w in el.words if w not in ("same", "pair", "single", "whole"))
    if el.role == "tube" and el.each and el.amount and el.amount.value == 2 and "pair" in el.low.split():
        el.role, el.amount, el.hoops = "hoop", None, Selector("all", each=True, text=el.text)
        return  # "each pair of tubes" is each hoop
    if el.role == "tube":
        _tube(chunker, el, sense, phrase)
    if el.role == "hoop-maybe":
        el.role = "hoop" if el.words[-1] in chunker.hoop_words else "other"
    if el.role in ("bar", "other") and " " in phrase and len(el.name) < len(phrase):
        el.name = phrase
    if el.role in ("hoop", "bay"):
        read_hoops(chunker, el, toks, state)
    if el.role != "hoop":
        _member_code(chunker, el, toks)


def _listed_member(words: Lexicon, said: tuple[str, ...]) -> str | None:
    """The listed tube or bar of that head with an adjective in common and none that is not its own; the last one."""
    own = set(said)
    name = None
    for known in words.kit.members:
        listed = known.split()
        if listed[-1] == said[-1] and own & set(listed[:-1]) and own <= {*listed, "same"}:
            name = known
    return name


def _tube(words: Lexicon, el: El, sense: Sense, phrase: str) -> None:
    if el.side is None:
        el.side = next((words.side_words[w] for w in el.words if w in words.side_words), None) or sense.side
    el.tube_at = "centre" if sense.side == "centre" else None
    if _foreign_tube(words, el):
        el.role, el.name = "other", phrase


def _foreign_tube(words: Lexicon, el: El) -> bool:
    """A tube, piece or length that is no part of a hoop: "ridge purlin length", "watering tube"."""
    said = set(el.words) - _ANY_TUBE
    if any(said <= tube for tube in words.tube_words):
        return False
    if "side" in said and el.plural and len(words.tube_words) > 1 and not any(said & set(tube) for tube in words.tube_words):
        return True  # "run the side pipes through the collars" in a frame of legs and crown tubes
    extra = {word for word in el.words[:-1] if word not in _OWN_TUBE}
    if not extra:
        return False
    alike = [known.split() for known in words.kit.members if known.split()[-1] == el.words[-1]]
    return any(extra & set(known) for known in alike) or any(words.is_noun_word(word) for word in extra)


def _member_code(words: Lexicon, el: El, toks: list[Tok]) -> None:
    """ "ridge bar T4", "ridge bar (201)", "ridge bar (RB)": the code behind a member gives its name in the list."""
    if el.j >= len(toks):
        return
    tok = toks[el.j]
    codes = words.kit.member_codes
    numeric = words.numeric_code(tok)
    if tok.cat == "size" and tok.text.upper() in codes:
        el.name, el.j = codes[tok.text.upper()], el.j + 1
    elif numeric:
        el.name, el.j = numeric, el.j + 1
    elif tok.text == "(" and el.j + 2 < len(toks) and toks[el.j + 2].text == ")":
        name = codes.get(toks[el.j + 1].text.upper())
        if name is not None:
            el.name, el.j = name, el.j + 3
