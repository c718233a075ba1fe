"""Tokens to elements: noun phrases with their numbers and determiners, verbs, prepositions, lengths."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from hoopwright.grammar import Grammar
from hoopwright.grammar.inflect import plural
from hoopwright.grammar.load import Sense
from hoopwright.model.events import Amount, Selector
from hoopwright.parsing.elements import El
from hoopwright.parsing.kit import Kit, singular
from hoopwright.parsing.lex import Tok, bare_lengths, word_number

_DETS = {
    "the",
    "a",
    "an",
    "each",
    "every",
    "all",
    "both",
    "its",
    "their",
    "this",
    "that",
    "these",
    "those",
    "no",
    "any",
    "either",
    "another",
    "your",
    "our",
    "one's",
    "per",
    "ea",
    "ea.",
}
_MORE = {"another", "further", "more", "additional", "extra", "second"}
_OTHER = {"other", "remaining", "opposite", "others"}
_BE = {"is", "are", "be", "been", "was", "were", "being"}
_MODALS = {
    "must",
    "should",
    "can",
    "may",
    "will",
    "shall",
    "could",
    "would",
    "might",
    "ought",
    "cannot",
    "can't",
    "won't",
    "to",
    "do",
    "does",
    "did",
    "don't",
    "doesn't",
    "has",
    "have",
    "had",
    "need",
    "needs",
}
_CONJ = {
    "and",
    "or",
    "&",
    "plus",
    "then",
    "but",
    "nor",
    "while",
    "so",
    "because",
    "when",
    "where",
    "if",
    "as",
    "until",
    "before",
    "after",
    "once",
    "since",
    "which",
    "that",
    "who",
    "although",
    "unless",
    "whereas",
}
_ADVERB = {
    "now",
    "then",
    "first",
    "firstly",
    "next",
    "finally",
    "lastly",
    "also",
    "again",
    "please",
    "always",
    "only",
    "just",
    "simply",
    "here",
    "likewise",
    "later",
    "last",
    "not",
    "never",
    "still",
    "too",
    "carefully",
    "gently",
    "loosely",
    "lightly",
    "together",
    "already",
    "instead",
    "afterwards",
    "meanwhile",
    "thereafter",
    "subsequently",
    "hereafter",
    "temporarily",
}
_MULTI_PREPS = {
    "next to",
    "close to",
    "clear of",
    "short of",
    "either side of",
    "each side of",
    "on either side of",
    "on each side of",
    "on both sides of",
    "both sides of",
    "adjacent to",
    "to the left of",
    "to the right of",
    "left of",
    "right of",
    "away from",
    "in from",
    "up from",
    "down from",
    "by means of",
    "on top of",
    "in front of",
    "half way",
    "level with",
    "in line with",
    "to either side of",
    "to each side of",
    "at either side of",
    "at each side of",
}


class Chunker:
    """Turns the tokens of one sentence into elements, with the words of the grammar and of the kit."""

    def __init__(self, grammar: Grammar, kit: Kit, hoop_words: frozenset[str] = frozenset(), tube_names: tuple[str, ...] = ()) -> None:
        self.grammar = grammar
        self.kit = kit
        self.hoop_words = hoop_words
        self.tube_words = [set(name.split()) - {"left", "right"} for name in tube_names]
        words = grammar.words
        self.numbers: dict[str, int] = words["numbers"]
        self.collectives: dict[str, int] = words["collectives"]
        self.ordinals: dict[str, int] = words["ordinals"]
        self.sides: dict[str, str] = words["sides"]
        self.hoop_adjectives = {word: key for key, group in words["hoops"].items() for word in group}
        self.abbreviations: dict[str, str] = {str(k): str(v) for k, v in words["abbreviations"].items()}
        self.bare_mm = False  # the manual gives lengths in mm without the unit
        self.side_words: dict[str, str] = {}  # "the swaged half is always the left one"
        self.plain = set(words["plain"])
        self.known: set[str] = set()
        self.targets: list[str] = []
        self.mended: dict[str, str | None] = {}
        self.defined: set[str] = set()  # adjectives of hoops that the manual explains
        self.groups: dict[str, Selector] = {}  # "door hoops": the manual's own names for some of its hoops
        self.onto, self.landmark = set(words["onto"]), set(words["landmark"])
        self.through, self.with_ = set(words["through"]), set(words["with"])
        self.required = sorted(words["as_required"], key=len, reverse=True)
        self.compounds = frozenset(" ".join(words[:2]) for words in kit.aliases if len(words) > 1)
        self.longest = min(6, max(len(p.split()) for p in grammar.senses))
        self.fit_words = {w for w in grammar.senses if any(s.kind == "fit" for s in grammar.senses[w])}

    # ---- single words -------------------------------------------------------------------------------------------------

    def senses(self, toks: list[Tok], i: int, limit: int) -> tuple[list[Sense], int]:
        """The senses of the longest phrase that starts at token ``i``, and where it ends."""
        for length in range(min(self.longest, limit - i), 0, -1):
            if length > 1 and any(t.cat != "word" for t in toks[i : i + length]):
                continue
            phrase = " ".join(t.low for t in toks[i : i + length])
            found = self.grammar.senses.get(phrase)
            if found:
                return found, i + length
        return [], i

    def noun(self, toks: list[Tok], i: int, limit: int) -> tuple[Sense | None, int]:
        """The longest fitting or member noun that starts at ``i``; a part's code in capitals is one."""
        coded = self._code_noun(toks[i]) if i < limit else None
        if coded is not None:
            return coded, i + 1
        for length in range(min(self.longest, limit - i), 0, -1):
            if any(t.cat != "word" for t in toks[i : i + length]):
                continue
            phrase = " ".join(t.low for t in toks[i : i + length])
            if phrase == "join" and not (i and (toks[i - 1].low in _DETS or toks[i - 1].low in self.numbers)):
                continue
            for sense in self.grammar.senses.get(phrase, ()):
                if sense.kind in ("fit", "mem"):
                    return sense, i + length
        return None, i

    def _code_noun(self, tok: Tok) -> Sense | None:
        raw = tok.text
        if tok.cat != "word" or len(raw) < 2 or not (raw.isupper() or any(c.isdigit() for c in raw)):
            return None
        name = self.kit.codes.get(raw.upper())
        if name is not None:
            return Sense("fit", "code", raw, "one", "closed")
        name = self.kit.member_codes.get(raw.upper())
        if name is None:
            return None
        words = name.split()
        if len(words) > 1 and words[-1] in ("length", "lengths", "piece"):
            words = words[:-1]
        for k in range(len(words)):
            for sense in self.grammar.senses.get(" ".join(words[k:]), ()):
                if sense.kind == "mem":
                    return Sense("mem", sense.id, " ".join(words[k:]), "one", sense.role, sense.side)
        return Sense("mem", "other", name, "one", "other")

    def verb(self, toks: list[Tok], i: int) -> tuple[Sense | None, int]:
        """The longest verb that starts at ``i``."""
        for length in (3, 2, 1):
            if i + length > len(toks):
                continue
            phrase = " ".join(t.low for t in toks[i : i + length])
            for sense in self.grammar.senses.get(phrase, ()):
                if sense.kind == "verb":
                    return sense, i + length
        return None, i

    def is_nounish(self, tok: Tok) -> bool:
        """Whether the token can be a noun of ours."""
        return tok.cat == "word" and (
            any(s.kind in ("fit", "mem") for s in self.grammar.senses.get(tok.low, ())) or self._code_noun(tok) is not None
        )

    # ---- whole sentence -----------------------------------------------------------------------------------------------

    def elements(self, toks: list[Tok]) -> list[El]:
        """The elements of a sentence, in order."""
        toks = self._expand(bare_lengths(toks) if self.bare_mm else toks)
        out: list[El] = []
        i = 0
        while i < len(toks):
            el = self._prep_here(toks, i) or self._verb_here(toks, i, out) or self._phrase(toks, i) or self._single(toks, i)
            out.append(el)
            i = el.j
        _passives(out)
        self._ends(out)
        self._sides_of_hoops(out)
        self._coordinate(out)
        return out

    def _sides_of_hoops(self, out: list[El]) -> None:
        """ "on each side of every hoop": both sides of the hoop are hosts, not a place beside it."""
        for k, el in enumerate(out[:-1]):
            nxt = out[k + 1]
            if (el.type == "prep" and el.low.endswith("side of") and nxt.type == "mem" and nxt.role == "hoop") or (
                el.low in ("on both sides of", "both sides of") and nxt.role == "hoop"
            ):
                out[k] = El("mem", el.i, el.j, el.text, el.low, words=("side",), det="each", each=True, role="side", name="side")

    def _ends(self, out: list[El]) -> None:
        """ "both ends", "at the far end": the end hoops, where no bar or tube is there whose ends they could be."""
        for k, el in enumerate(out):
            if el.type != "mem" or el.role != "end" or (k + 1 < len(out) and out[k + 1].low == "of"):
                continue
            prefix = k + 1 < len(out) and out[k + 1].low == ":"
            if (not prefix and any(e.type == "mem" and e.role in ("bar", "tube", "other", "thing", "hoop", "joint") for e in out)) or (
                not prefix and any(e.type == "fit" for e in out[:k]) and k and out[k - 1].low not in ("at",)
            ):
                continue
            words = set(el.words[:-1])
            if el.det == "both" or (el.each and k == 0):
                el.role, el.hoops = "hoop", Selector("end", each=True, text=el.text)
            elif words & {"door", "front", "entrance", "near"}:
                el.role, el.hoops = "hoop", Selector("first", each=True, text=el.text)
            elif words & {"far", "back", "rear"} and k and out[k - 1].low in ("at", "for", "on", ":"):
                el.role, el.hoops = "hoop", Selector("far", each=True, text=el.text)

    def _numeric_code(self, tok: Tok) -> str | None:
        """ "(201)": a number in brackets that is a code of the parts list is no count."""
        if tok.cat != "count" or not tok.text.startswith("("):
            return None
        code = str(int(tok.value))
        return self.kit.codes.get(code) or self.kit.member_codes.get(code)

    def _verb_here(self, toks: list[Tok], i: int, out: list[El]) -> El | None:
        tok = toks[i]
        if tok.cat != "word":
            return None
        if i + 1 < len(toks) and " ".join(t.low for t in toks[i : i + 2]) in self.compounds:
            return None  # "sliding foil"
        sense, end = self.verb(toks, i)
        if sense is None and self._unknown_imperative(toks, i):
            return El("verb", i, i + 1, tok.text, tok.low, verb="put", cls="put", form="base", name=tok.low)
        if sense is None or not self._verbal(toks, i, end, sense, out):
            return None
        noun, noun_end = self.noun(toks, i, len(toks))
        if noun is not None and noun.kind == "fit" and noun_end > end and sense.form == "base" and end == i + 1:
            return None  # "lock screws" in a list
        neg, modal = _before_verb(out)
        text = " ".join(t.text for t in toks[i:end])
        return El("verb", i, end, text, text.lower(), verb=sense.id, cls=sense.role, form=sense.form, neg=neg, modal=modal, name=sense.word)

    def _unknown_imperative(self, toks: list[Tok], i: int) -> bool:
        """ "Click one clip on every hoop": a word that nothing knows, at the head of a clause and in front of a counted fitting, is a verb of putting."""
        tok, before = toks[i], toks[i - 1] if i else None
        if before is not None and not ((before.cat == "punct" and before.text in ":;") or before.low == "then"):
            return False
        if (
            len(tok.low) < 3
            or self.grammar.senses.get(tok.low)
            or tok.low in self.onto | self.landmark | self.through | self.with_ | _DETS | _CONJ | _BE | _MODALS | _ADVERB | _MORE | _OTHER
            or tok.low in self.numbers
            or tok.low in self.ordinals
            or tok.low in self.sides
            or tok.low in self.hoop_adjectives
            or tok.low in self.collectives
            or i + 1 >= len(toks)
        ):
            return False
        nxt = toks[i + 1]
        if not (nxt.cat in ("num", "count") or nxt.low in self.numbers):
            return False
        return any(
            any(s.kind == "fit" for s in self.grammar.senses.get(t.low, ())) or self._code_noun(t) is not None for t in toks[i + 2 : i + 5]
        )

    def _verbal(self, toks: list[Tok], i: int, end: int, sense: Sense, out: list[El]) -> bool:
        tok = toks[i]
        if tok.low in self.sides and end < len(toks) and self.is_nounish(toks[end]):
            return False  # "Left side: …"
        prev = toks[i - 1] if i else None
        after = toks[end] if end < len(toks) else None
        if tok.low == "left" and (prev is None or prev.low not in _BE | _MODALS):
            return False  # "one bracket left and one right"
        nounish = self.is_nounish(tok)
        start = (
            prev is None
            or (prev.cat == "punct" and prev.text not in "-/'’)")
            or (prev.low in _CONJ and prev.low != "as")
            or prev.low in _ADVERB
            or prev.low.endswith("ly")
            or (prev.low in _MODALS)
        )
        if sense.form == "ed":
            if (
                prev is not None
                and prev.cat in ("word", "num")
                and (prev.low in _DETS or prev.low in self.numbers or prev.cat == "num")
                and after is not None
                and self._leads_to_noun(toks, end)
            ):
                return False
            return not nounish or start
        if sense.form == "ing":
            return prev is None or prev.low not in _DETS
        if sense.form == "base":
            if prev is not None and prev.low in _DETS and prev.low not in ("both", "all"):
                return False
            if (start and prev is not None and prev.low in ("to", "not", "don't")) or (start and prev is not None and prev.low in _MODALS):
                return True
            if prev is not None and prev.low in ("which", "who", "they"):
                return True
            if not start:
                return (
                    not nounish
                    and prev is not None
                    and (prev.low in {"you", "we", "they", "then", "i"} or self._plural_before(out))
                    and sense.role in ("take", "go", "put", "fasten", "null", "join", "stand", "feed", "move")
                )
            if not nounish:
                return True
            return self._object_follows(toks, end)
        if prev is not None and (
            prev.cat == "num"
            or (prev.cat == "count" and not prev.text.startswith("("))
            or (prev.low in self.numbers and prev.low not in ("one",))
            or (prev.low.endswith("ed") and i > 1 and (toks[i - 2].low in self.numbers or toks[i - 2].cat == "num"))
        ):
            return False
        # third person
        if prev is not None and prev.low in ("which", "that", "who", "it"):
            return True
        if nounish:
            return (
                bool(out)
                and out[-1].type in ("fit", "mem", "pron", "ellip")
                and not out[-1].plural
                and after is not None
                and (after.low in _DETS or after.low in self.numbers or after.low in self.onto)
            )
        return not (
            prev is not None and prev.low in _DETS and prev.low not in ("each", "both", "this", "that", "one", "all", "these", "those")
        )

    def _plural_before(self, out: list[El]) -> bool:
        return bool(out) and (out[-1].type in ("fit", "mem", "pron", "ellip"))

    def _leads_to_noun(self, toks: list[Tok], i: int) -> bool:
        for j in range(i, min(i + 3, len(toks))):
            if self.is_nounish(toks[j]):
                return True
            if toks[j].cat != "word" or toks[j].low in self.onto or toks[j].low in _DETS:
                return False
        return False

    def _object_follows(self, toks: list[Tok], end: int) -> bool:
        if end >= len(toks):
            return False
        nxt = toks[end]
        if (
            nxt.low in ("in", "on", "up", "down")
            and end + 1 < len(toks)
            and (toks[end + 1].low in _DETS or toks[end + 1].low in self.numbers)
        ):
            return True
        if nxt.cat in ("num", "count"):
            return True
        if nxt.cat != "word":
            return False
        return (
            nxt.low in _DETS
            or nxt.low in self.numbers
            or nxt.low in {"it", "them", "on", "onto", "up", "over", "round", "around", "hoops", "hoop", "down", "through"}
            or nxt.low in self.hoop_adjectives
            or nxt.low in self.sides
        )

    def _expand(self, toks: list[Tok]) -> list[Tok]:
        """Short forms ("ea.", "fr.", "int.") in full, and misspelt words mended; every token keeps its place in the text."""
        out: list[Tok] = []
        k = 0
        while k < len(toks):
            tok = toks[k]
            stop = k + 1 < len(toks) and toks[k + 1].text == "." and toks[k + 1].start == tok.end
            full = self.abbreviations.get(tok.low.rstrip(".")) if tok.cat == "word" else None
            if (
                full is not None
                and (stop or (len(tok.low) > 1 and tok.low not in self.grammar.senses))
                and not (tok.low in ("w", "o") and not stop)
            ):
                out.append(Tok(tok.text, full, tok.start, toks[k + 1].end if stop else tok.end, "word"))
                k += 2 if stop else 1
                continue
            out.append(self._mend(tok) if tok.cat == "word" else tok)
            k += 1
        return out

    def _mend(self, tok: Tok) -> Tok:
        """A word that nothing knows, one slip away from a noun or verb that this manual uses, is read as that word. Never numbers or codes."""
        low = tok.low
        if len(low) < 5 or not low.isalpha() or low in self.known or low in self.grammar.senses:
            return tok
        if low not in self.mended:
            from rapidfuzz.distance import OSA

            near = [w for w in self.targets if w[0] == low[0] and abs(len(w) - len(low)) <= 1 and OSA.distance(low, w, score_cutoff=1) <= 1]
            self.mended[low] = near[0] if len(near) == 1 else None
        fixed = self.mended[low]
        return Tok(tok.text, fixed, tok.start, tok.end, "word") if fixed else tok

    def learn(self, counts: dict[str, int]) -> None:
        """Take in how often each word stands in the manual: words used often are right as they are; the grammar's own that occur are what slips are mended to."""
        self.known = (
            {w for w, n in counts.items() if n > 2}
            | self.onto
            | self.landmark
            | self.through
            | set(self.numbers)
            | set(self.ordinals)
            | set(self.hoop_adjectives)
            | set(self.plain)
        )
        vocabulary = {w for phrase in self.grammar.senses for w in phrase.split()} | {w for ws in self.kit.words.values() for w in ws}
        kit = {w for ws in self.kit.words.values() for w in ws}
        kit |= {plural(w) for w in kit}
        self.targets = sorted(w for w in vocabulary | kit if len(w) >= 5 and (counts.get(w, 0) > 0 or w in kit))

    def _prep_here(self, toks: list[Tok], i: int) -> El | None:
        for length in (4, 3, 2):
            phrase = " ".join(t.low for t in toks[i : i + length])
            if phrase in _MULTI_PREPS:
                return El("prep", i, i + length, phrase, phrase)
        return None

    def _single(self, toks: list[Tok], i: int) -> El:
        tok = toks[i]
        low = tok.low
        if tok.cat == "len":
            return El("len", i, i + 1, tok.text, low, mm=float(tok.value))
        if tok.cat == "punct":
            return El("punct", i, i + 1, tok.text, low)
        if low in {"and", "or", "&", "plus"}:
            return El("conj", i, i + 1, tok.text, "and" if low in {"&", "plus"} else low)
        if (
            low in self.onto
            or low in self.landmark
            or low in self.through
            or low in self.with_
            or low in {"than", "except", "underneath", "over", "below", "w/", "o/"}
        ):
            return El("prep", i, i + 1, tok.text, low)
        side = self.sides.get(low) if i + 1 < len(toks) and toks[i + 1].low in (":", "-", "–") else None
        return El("word", i, i + 1, tok.text, low, side=side)

    # ---- noun phrases -------------------------------------------------------------------------------------------------

    def _phrase(self, toks: list[Tok], i: int) -> El | None:
        start = i
        state = _Pre()
        limit = len(toks)
        while i < limit:
            tok = toks[i]
            if state.seen and self._prep_here(toks, i):
                break
            step = self._premodifier(toks, i, state)
            if step:
                i = step
                continue
            sense, _end = self.noun(toks, i, limit)
            if sense is not None:
                return self._noun_phrase(toks, start, i, state)
            if tok.cat == "word" and tok.low in {"one", "ones"} and (state.seen or tok.low == "ones"):
                return self._pron(toks, start, i + 1, state, "one")
            if state.seen and tok.cat == "word" and self._adjective(toks, i):
                state.adjectives.append(tok.low)
                i += 1
                continue
            break
        if not state.seen:
            tok = toks[start]
            code = self._code(toks, start)
            if code is not None:
                return code
            if tok.cat == "word" and tok.low in {
                "it",
                "they",
                "them",
                "these",
                "those",
                "ones",
                "both",
                "each",
                "others",
                "rest",
                "ea",
                "ea.",
                "every",
            }:
                return self._pron(toks, start, start + 1, state, tok.low)
            if tok.cat == "word" and self._adjective(toks, start):
                return self._adjective_phrase(toks, start)
            return None
        return self._elliptic(toks, start, i, state)

    def _adjective_phrase(self, toks: list[Tok], start: int) -> El | None:
        """A noun phrase that begins with a plain adjective: "ridge clips" is a compound; "long wing bolts", "closed clamps"."""
        for j in range(start, min(start + 3, len(toks))):
            if self.is_nounish(toks[j]):
                state = _Pre()
                state.adjectives = [t.low for t in toks[start:j]]
                return self._noun_phrase(toks, start, j, state)
            if not self._adjective(toks, j):
                return None
        return None

    def _adjective(self, toks: list[Tok], i: int) -> bool:
        tok = toks[i]
        if tok.cat in ("len", "size"):
            return True
        if (
            tok.cat != "word"
            or tok.low in _CONJ
            or tok.low in _BE
            or tok.low in _MODALS
            or tok.low in self.onto
            or tok.low in self.landmark
            or tok.low in self.through
            or tok.low in self.with_
            or tok.low in _DETS
            or tok.low in {"you", "we", "they", "it", "them", "i", "he", "not", "there", "here", "than", "except", "but", "excluding"}
        ):
            return False
        verb = any(s.kind == "verb" and s.form in ("s", "base") for s in self.grammar.senses.get(tok.low, ()))
        if verb and not self.is_nounish(tok):
            before = toks[i - 1].low if i else ""
            fit_next = i + 1 < len(toks) and any(s.kind == "fit" for s in self.grammar.senses.get(toks[i + 1].low, ()))
            if not (fit_next and (before in _DETS or before in self.numbers or (i and toks[i - 1].cat in ("num", "count")))):
                return False
        for j in range(i + 1, min(i + 4, len(toks))):
            if self.is_nounish(toks[j]):
                return True
            if (
                toks[j].cat not in ("word", "len", "size")
                or toks[j].low in self.onto
                or toks[j].low in _DETS
                or toks[j].low in _CONJ
                or toks[j].low in _BE
                or toks[j].low in _MODALS
            ):
                return False
        return False

    def _premodifier(self, toks: list[Tok], i: int, state: _Pre) -> int:
        tok = toks[i]
        low = tok.low
        if tok.cat == "count" and not self._numeric_code(tok):
            state.amount = Amount(int(tok.value), text=tok.text)
            state.seen = True
            return i + 1
        if tok.cat in ("num", "word") and not state.amount:
            amount, end = self._amount(toks, i, state)
            if amount is not None:
                state.amount, state.seen = amount, True
                return end
        if (
            tok.cat in ("len", "size")
            and state.seen
            and i + 1 < len(toks)
            and (self.is_nounish(toks[i + 1]) or self._adjective(toks, i + 1))
        ):
            state.size = tok.text
            return i + 1
        if tok.cat == "size" and i + 1 < len(toks) and self.is_nounish(toks[i + 1]):
            state.size, state.seen = tok.text, True
            return i + 1
        if tok.cat != "word":
            return 0
        two = " ".join(t.low for t in toks[i : i + 2])
        if two in ("every other", "every second", "each alternate", "every alternate"):
            state.nth, state.seen, state.each = 2, True, True
            return i + 2
        if low in ("every", "each") and i + 1 < len(toks) and toks[i + 1].low in self.ordinals and self._hoopish_soon(toks, i + 2):
            state.nth, state.seen, state.each = self.ordinals[toks[i + 1].low], True, True
            return i + 2
        if low == "alternate" and self._hoopish_soon(toks, i + 1):
            state.nth, state.seen = 2, True
            return i + 1
        if low in _DETS:
            if low in (
                "that",
                "this",
                "these",
                "those",
                "each",
                "both",
                "all",
                "any",
                "no",
                "either",
                "per",
                "ea",
                "ea.",
                "every",
            ) and not self._nominal_ahead(toks, i + 1):
                return 0
            state.det = low
            state.seen = True
            state.each = state.each or low in ("each", "every", "per", "ea", "ea.", "any")
            state.more = state.more or low == "another"
            if low == "no":
                state.neg = True
            return i + 1
        if not state.seen and low not in self.sides and low not in self.ordinals and low not in self.hoop_adjectives:
            return 0
        if low in _MORE - {"second"}:
            state.more = True
            return i + 1
        if (
            low in self.ordinals
            and (state.det or self._hoopish_soon(toks, i + 1))
            and not (low == "first" and not self._nominal_ahead(toks, i + 1) and state.det != "the")
        ):
            state.ords.append(self.ordinals[low])
            state.seen = True
            return i + 1
        if low in ("last",) and (state.det or self._hoopish_soon(toks, i + 1)):
            state.ords.append(-1)
            state.seen = True
            return i + 1
        for length in (3, 2, 1):
            phrase = " ".join(t.low for t in toks[i : i + length])
            if (
                phrase in self.sides
                and (self._nominal_ahead(toks, i + length) or state.det)
                and (len(phrase) > 1 or (i and self._nominal_ahead(toks, i + length)))
            ):
                state.side = self.sides[phrase]
                state.seen = True
                return i + length
            if phrase in self.hoop_adjectives and self._hoopish_soon(toks, i + length) and not (length == 1 and phrase in self.sides):
                state.hoop_adjectives.append(phrase)
                state.seen = True
                return i + length
        if low in _OTHER:
            state.other = True
            return i + 1
        if low in {"same", "single", "whole", "pair", "couple", "next", "new", "two-metre"}:
            state.adjectives.append(low)
            state.same = state.same or low == "same"
            return i + 1
        if low == "of" and state.of_ok and i + 1 < len(toks):
            return 0
        return 0

    def _amount(self, toks: list[Tok], i: int, state: _Pre) -> tuple[Amount | None, int]:
        tok = toks[i]
        joined = " ".join(t.low for t in toks[i : i + 4])
        for phrase in self.required:
            if joined.startswith(phrase) and (len(joined) == len(phrase) or joined[len(phrase)] == " "):
                if not self._nominal_ahead(toks, i + len(phrase.split())) and phrase not in ("enough", "several"):
                    continue
                end = i + len(phrase.split())
                if end < len(toks) and toks[end].low == "of":
                    end += 1
                return Amount(None, open="as-required", text=phrase), end
        value, end = self._number_at(toks, i)
        if value is None:
            return None, i
        if tok.cat == "num" and not self._counts(toks, i, end):
            return None, i
        if end < len(toks) and toks[end].cat == "count" and int(toks[end].value) == value:
            end += 1  # "TWO (2)"
        high = None
        if end + 1 < len(toks) and toks[end].low in {"or", "to", "-", "–"}:
            high, stop = self._number_at(toks, end + 1)
            if high is not None and high > value and (tok.low not in ("a", "an")):
                end = stop
            else:
                high = None
        if end < len(toks) and toks[end].low == "of" and any(t.low in self.collectives for t in toks[i:end]):
            end += 1
        elif end + 1 < len(toks) and toks[end].low == "of" and toks[end + 1].low in ("the", "these", "those", "them"):
            return None, i
        text = " ".join(t.text for t in toks[i:end])
        return Amount(value, high, "range" if high else None, text), end

    def _number_at(self, toks: list[Tok], i: int) -> tuple[int | None, int]:
        if i >= len(toks):
            return None, i
        tok = toks[i]
        if tok.cat == "num":
            return (int(tok.value), i + 1) if float(tok.value).is_integer() and tok.value < 5000 else (None, i)
        if tok.cat != "word":
            return None, i
        for length in (4, 3, 2, 1):
            phrase = " ".join(t.low for t in toks[i : i + length])
            if phrase in self.collectives:
                return self.collectives[phrase], i + length
            if (
                length > 1
                and phrase.split()[0] in ("a", "one", "two", "three", "another")
                and phrase[len(phrase.split()[0]) + 1 :] in self.collectives
            ):
                return self.collectives[phrase[len(phrase.split()[0]) + 1 :]] * {"two": 2, "three": 3}.get(phrase.split()[0], 1), i + length
        if tok.low in ("a", "an") or (tok.low not in self.numbers and "-" not in tok.low):
            return None, i
        words = [tok.low]
        j = i + 1
        while (
            j < len(toks)
            and toks[j].cat == "word"
            and toks[j].low in self.numbers
            and toks[j].low not in ("a", "an")
            and self.numbers.get(words[-1].split("-")[-1], 0) >= 20
        ):
            words.append(toks[j].low)
            j += 1
        value = word_number(" ".join(words).replace("fourty", "forty").replace("single", "one"))
        return (int(value), j) if value is not None and float(value).is_integer() else (None, i)

    def _counts(self, toks: list[Tok], i: int, end: int) -> bool:
        """Whether a bare number is a count of the noun that follows, and not the number of a hoop, step or bag."""
        if i > 1 and toks[i - 2].low in ("each", "every", "ea", "per", "ea."):
            return True
        return not (
            i
            and (
                toks[i - 1].low
                in {
                    "hoop",
                    "hoops",
                    "step",
                    "steps",
                    "stage",
                    "bow",
                    "bows",
                    "arch",
                    "arches",
                    "rib",
                    "ribs",
                    "row",
                    "rows",
                    "fig",
                    "fig.",
                    "figure",
                    "table",
                    "bag",
                    "item",
                    "no",
                    "no.",
                    "section",
                    "part",
                    "clause",
                    "note",
                    "page",
                    "paragraph",
                }
                or toks[i - 1].low in self.hoop_words
            )
        )

    def _hoopish_soon(self, toks: list[Tok], i: int) -> bool:
        for j in range(i, min(i + 4, len(toks))):
            tok = toks[j]
            if tok.cat == "word" and any(
                s.role in ("hoop", "bay", "hoop-maybe") for s in self.grammar.senses.get(tok.low, ()) if s.kind == "mem"
            ):
                return True
            if tok.low in {"ones", "one"}:
                return not any(t.low == "," for t in toks[i:j])
            if (
                tok.low in self.ordinals
                or tok.low in self.hoop_adjectives
                or tok.low in self.numbers
                or tok.low in ("and", "or", ",", "of", "the")
                or tok.cat == "num"
            ):
                continue
            return False
        return False

    def _nominal_ahead(self, toks: list[Tok], i: int) -> bool:
        """Whether a noun phrase goes on at ``i``: number, adjective or noun, not a verb, preposition or stop."""
        if i >= len(toks):
            return False
        tok = toks[i]
        if tok.cat in ("num", "count", "len", "size"):
            return True
        if tok.cat != "word":
            return False
        if (
            tok.low in self.numbers
            or tok.low in self.ordinals
            or tok.low in self.sides
            or tok.low in self.hoop_adjectives
            or tok.low in _OTHER
            or tok.low in _MORE
            or self.is_nounish(tok)
            or tok.low in {"one", "ones", "same", "the", "pair", "last"}
            or tok.low in self.collectives
        ):
            return not (tok.low in {"the", "a", "an"} and toks[i - 1].low not in {"all", "both"})
        return self._adjective(toks, i)

    def _code(self, toks: list[Tok], i: int) -> El | None:
        """A part named by its code alone: "fit C4", "item H", "two (H)"."""
        tok = toks[i]
        j = i
        if tok.low in {"item", "items", "part", "parts", "ref", "ref.", "code", "type"} and i + 1 < len(toks):
            j = i + 1
        raw = toks[j].text
        name = self.kit.codes.get(raw.upper()) if raw and (raw.isupper() or any(c.isdigit() for c in raw)) else None
        if name is None or (len(raw) < 2 and j == i) or (raw.isdigit() and j == i):
            return None
        end = j + 1
        names = [name]
        while end + 1 < len(toks) and toks[end].low in {"and", ",", "to", "-", "–", "&"} and toks[end + 1].text.upper() in self.kit.codes:
            last = self.kit.codes[toks[end + 1].text.upper()]
            if toks[end].low in {"to", "-", "–"}:
                names = self._code_range(raw, toks[end + 1].text)
            elif last not in names:
                names.append(last)
            end += 2
        text = " ".join(t.text for t in toks[i:end])
        return El(
            "fit",
            i,
            end,
            text,
            text.lower(),
            words=(names[0],),
            parts=tuple(names),
            classes=len(names) > 1,
            plural=len(names) > 1,
            det="code",
            definite=True,
        )

    def _code_range(self, first: str, last: str) -> list[str]:
        a, b = re.match(r"([A-Za-z]*)(\d*)", first), re.match(r"([A-Za-z]*)(\d*)", last)
        names = []
        for code, name in self.kit.codes.items():
            m = re.match(r"([A-Za-z]*)(\d*)$", code)
            if not m or not a or not b:
                continue
            if (a[2] and m[1] == a[1].upper() and m[2] and int(a[2]) <= int(m[2]) <= int(b[2] or 0)) or (
                not a[2] and not m[2] and a[1].upper() <= m[1] <= b[1].upper() and len(m[1]) == len(a[1])
            ):
                names.append(name)
        return names or [self.kit.codes[first.upper()]]

    def _noun_phrase(self, toks: list[Tok], start: int, i: int, state: _Pre) -> El:
        """The compound from token ``i`` on; its head is its last noun."""
        j = i
        words: list[str] = [*state.adjectives]
        sense: Sense | None = None
        limit = len(toks)
        while j < limit:
            found, end = self.noun(toks, j, limit)
            if found is None:
                break
            if sense is not None and sense.kind == "fit" and found.kind == "mem" and found.role != "thing":
                break
            if sense is not None and self._stops_compound(toks, j, end, found, sense):
                break
            if sense is not None and sense.role == "bar" and found.role == "thing" and found.word == "length":
                found = Sense("mem", sense.id, sense.word, found.form, "bar")
            words += (
                [t.low for t in toks[j:end]]
                if found.id != "code" and toks[j].text.upper() not in self.kit.member_codes
                else found.word.split()
            )
            sense = found
            if found.id == "code" or (toks[j].text.upper() in self.kit.member_codes and toks[j].text.isupper()):
                j = end
                break
            j = end
            if found.form == "many" and not (j < limit and self.is_nounish(toks[j])):
                break
        assert sense is not None
        if sense.id == "code":
            name = self.kit.codes[sense.word.upper()]
            text = " ".join(t.text for t in toks[start:j])
            el = El("fit", start, j, text, text.lower(), words=self.kit.words[name], name=name, parts=(name,))
            state.fill(el)
            el.plural = el.amount is not None and (el.amount.value or 0) > 1
            self._fit(el, toks)
            return el
        head = singular(words[-1], self.grammar)
        names = (*words[:-1], head)
        text = " ".join(t.text for t in toks[start:j])
        coded = (
            sense.kind == "mem"
            and sense.role in ("thing", "film", "other", "tube")
            and j < limit
            and toks[j].text == "("
            and self._bracket_code(toks, j)
        )
        if coded or (sense.role == "thing" and len(names) > 1 and names[:-1] in self.kit.aliases):
            # "two film channel lengths (M16)"
            name = coded[0] if coded else self.kit.aliases[names[:-1]]
            sense, names = Sense("fit", "code", name, sense.form), self.kit.words.get(name, names)
        el = El(
            "fit" if sense.kind == "fit" else "mem",
            start,
            j,
            text,
            text.lower(),
            words=names,
            role=sense.role if sense.kind == "mem" else "",
            name=sense.word,
        )
        el.plural = sense.form == "many" or words[-1] != head
        state.fill(el)
        if el.type == "fit":
            self._fit(el, toks)
        else:
            self._member(el, toks, sense, state)
        return el

    def _stops_compound(self, toks: list[Tok], j: int, end: int, found: Sense, sense: Sense) -> bool:
        """ "each hoop two clips": the next noun begins a new phrase only after a number or determiner, which noun() never spans; a verb reading may."""
        if sense.role == "hoop" and found.kind == "mem" and found.role in ("side", "end"):
            return False
        verb = any(s.kind == "verb" and s.form == "s" for s in self.grammar.senses.get(toks[j].low, ()))
        base = any(s.kind == "verb" and s.form == "base" and s.role in ("put", "fasten") for s in self.grammar.senses.get(toks[j].low, ()))
        if (
            base
            and sense.kind == "mem"
            and found.role in ("thing", "")
            and end < len(toks)
            and (toks[end].low in ("a", "an") or toks[end].low in self.numbers or toks[end].cat in ("num", "count"))
        ):
            return True  # "On each corner section thread a clamp"
        return bool(
            verb
            and sense.form == "one"
            and end < len(toks)
            and (toks[end].low in _DETS or toks[end].low in self.numbers)
            and toks[end].low not in ("a",)
        )

    def _fit(self, el: El, toks: list[Tok]) -> None:
        words = tuple(
            w
            for w in el.words
            if w not in {"closed", "loose", "new", "pair", "same", "single"} or w in {v for ws in self.kit.words.values() for v in ws}
        )
        j = el.j
        # a size or a code may follow: "saddle clamp 42 mm (H)", "clips (C4)", "clips C1"
        while j < len(toks):
            tok = toks[j]
            if tok.cat == "size" and tok.text.upper() in self.kit.codes and not el.parts:
                el.parts = (self.kit.codes[tok.text.upper()],)
                j += 1
            elif tok.cat in ("len", "size") and el.size is None and not self._position_follows(toks, j):
                el.size = tok.text
                j += 1
            elif self._numeric_code(tok):
                el.parts = (self._numeric_code(tok),)  # type: ignore[assignment]
                j += 1
            elif tok.text == "(" and self._bracket_code(toks, j):
                name, end = self._bracket_code(toks, j)  # type: ignore[misc]
                el.parts = (name,)
                j = end
            elif tok.text.upper() in self.kit.codes and len(tok.text) > 1 and tok.text.isupper() and not el.parts:
                el.parts = (self.kit.codes[tok.text.upper()],)
                j += 1
            elif (
                len(tok.text) == 1
                and tok.text.isupper()
                and tok.text in self.kit.codes
                and not el.parts
                and tok.text not in ("A", "I")
                and (j + 1 == len(toks) or toks[j + 1].cat == "punct" or toks[j + 1].low in _CONJ | self.onto)
            ):
                el.parts = (self.kit.codes[tok.text],)
                j += 1
            elif (
                el.plural
                and len(tok.text) <= 2
                and tok.text.isupper()
                and tok.text in self.kit.codes
                and self.kit.words[self.kit.codes[tok.text]][-1] == el.words[-1]
            ):
                listed = [self.kit.codes[tok.text]]
                while j + 2 < len(toks) and toks[j + 1].low in {",", "and", "&", "or"} and toks[j + 2].text in self.kit.codes:
                    listed.append(self.kit.codes[toks[j + 2].text])
                    j += 2
                el.parts, el.classes, el.det = tuple(listed), len(listed) > 1, el.det or "code"
                j += 1
            elif (
                tok.cat == "count"
                and el.amount is None
                and (tok.text.startswith("(") or tok.text[0] in "x×" or not tok.text[0].isdigit() or j == len(toks) - 1)
            ):
                el.amount = Amount(int(tok.value), text=tok.text)
                j += 1
            else:
                break
        el.j = j
        el.text = " ".join(t.text for t in toks[el.i : j])
        if not el.parts:
            found = self.kit.resolve(words or el.words, el.size)
            if not found and len(words) > 1:
                # adjectives that no part has: "long brace clips"
                for cut in range(1, len(words)):
                    found = self.kit.resolve(words[cut:], el.size)
                    if found:
                        known = any(set(words[:cut]) & set(self.kit.words[f]) for f in found)
                        telling = [w for w in words[:cut] if w not in self.plain and not w.isdigit()]
                        if (
                            not known
                            and telling
                            and (any(self.is_noun_word(w) for w in telling) or len(found) > 1 or len(self.kit.words[found[0]]) > 1)
                        ):
                            found = ()
                        break
            el.parts = found
        el.words = words or el.words

    def is_noun_word(self, word: str) -> bool:
        """Whether a word is one of our nouns."""
        return any(s.kind in ("fit", "mem") for s in self.grammar.senses.get(word, ()))

    def _position_follows(self, toks: list[Tok], j: int) -> bool:
        for k in range(j + 1, min(j + 3, len(toks))):
            if toks[k].low in {
                "above",
                "below",
                "from",
                "up",
                "down",
                "in",
                "over",
                "under",
                "along",
                "apart",
                "to",
                "either",
                "each",
                "inside",
                "outside",
                "high",
                "short",
                "beyond",
                "off",
                "away",
            }:
                return True
            if toks[k].cat == "punct":
                return False
        return False

    def _bracket_code(self, toks: list[Tok], j: int) -> tuple[str, int] | None:
        k = j + 1
        if k < len(toks) and toks[k].low in {"item", "part", "bag", "ref", "ref.", "code"}:
            k += 1
        if k + 1 < len(toks) and toks[k].text.upper() in self.kit.codes and toks[k + 1].text == ")":
            return self.kit.codes[toks[k].text.upper()], k + 2
        return None

    def _member(self, el: El, toks: list[Tok], sense: Sense, state: _Pre) -> None:
        phrase = " ".join(w for w in el.words if w not in ("same", "pair", "single", "whole"))
        el.name = sense.word
        for known in self.kit.members:
            if (
                set(el.words)
                and known.split()[-1] == el.words[-1]
                and set(el.words) & set(known.split()[:-1])
                and set(el.words) <= set(known.split()) | {"same"}
            ):
                el.name = known
        if el.role == "tube" and el.each and el.amount and el.amount.value == 2 and "pair" in el.low.split():
            el.role, el.amount, el.hoops = "hoop", None, Selector("all", each=True, text=el.text)
            return
        if el.role == "tube" and el.side is None:
            el.side = next((self.side_words[w] for w in el.words if w in self.side_words), None)
        if el.role == "tube":
            el.tube_at = "centre" if sense.side == "centre" else None
            if el.side is None and sense.side:
                el.side = sense.side
        if el.role == "tube" and self._foreign_tube(el):
            el.role = "other"
            el.name = phrase
        if el.role == "hoop-maybe":
            el.role = "hoop" if self.hoop_words and el.words[-1] in self.hoop_words else "other"
        if el.role in ("bar", "other") and len(phrase.split()) > 1:
            el.name = el.name if len(el.name) >= len(phrase) else phrase
        if el.role in ("hoop", "bay"):
            self._hoop(el, toks, state)
        j = el.j
        if el.role != "hoop" and j < len(toks) and toks[j].cat == "size" and toks[j].text.upper() in self.kit.member_codes:
            el.name = self.kit.member_codes[toks[j].text.upper()]
            el.j = j + 1
        elif el.role != "hoop" and j < len(toks) and self._numeric_code(toks[j]):
            el.name = self._numeric_code(toks[j]) or el.name
            el.j = j + 1
        elif (
            el.role != "hoop"
            and j + 2 < len(toks)
            and toks[j].text == "("
            and toks[j + 1].text.upper() in self.kit.member_codes
            and toks[j + 2].text == ")"
        ):
            el.j = j + 3
            el.name = self.kit.member_codes[toks[j + 1].text.upper()]

    def _foreign_tube(self, el: El) -> bool:
        """A tube, piece or length that is no part of a hoop: "ridge purlin length", "watering tube"."""
        said = set(el.words) - {"left", "right", "other", "same", "first", "second"}
        if any(said <= words for words in self.tube_words):
            return False
        own = {
            "left",
            "right",
            "upper",
            "lower",
            "side",
            "crown",
            "hoop",
            "top",
            "bottom",
            "centre",
            "center",
            "middle",
            "leg",
            "roof",
            "arch",
            "bow",
            "other",
            "same",
            "curved",
            "straight",
            "first",
            "second",
            "long",
            "short",
            "outer",
            "bent",
            "single",
            "whole",
            "next",
            "apex",
            "rib",
            "half",
            "plain",
            "swaged",
            "swedged",
            "main",
            "end",
            "joined",
            "each",
            "open",
            "new",
            "eaves",
            "intermediate",
        }
        known = [m for m in self.kit.members if m.split()[-1] == el.words[-1]]
        extra = [w for w in el.words[:-1] if w not in own]
        return bool(extra) and (any(set(extra) & set(m.split()) for m in known) or any(self.is_noun_word(w) for w in extra))

    # ---- which hoops --------------------------------------------------------------------------------------------------

    def _hoop(self, el: El, toks: list[Tok], state: _Pre) -> None:
        numbers, end, onward = number_list(toks, el.j, {**self.numbers}) if el.role == "hoop" else ((), el.j, False)
        text = el.text
        if (
            numbers
            and el.det in ("each", "every", "ea", "ea.", "per")
            and end < len(toks)
            and (self.is_nounish(toks[end]) or self._adjective(toks, end))
        ):
            numbers = ()  # "at every bow 1 U-bolt"
        if numbers and end < len(toks) and toks[end - 1].cat == "word" and (self.is_nounish(toks[end]) or self._adjective(toks, end)):
            numbers = ()  # "of all arches one lateral ring"
        if len(numbers) == 1 and not onward and end < len(toks) and toks[end].low == "on" and el.i and toks[el.i - 1].low == "from":
            onward, end = True, end + 1  # "from hoop 16 on a joint takes four"
        if numbers:
            el.j = end
            text = " ".join(t.text for t in toks[el.i : end])
            if onward:
                el.hoops = Selector("nth", start=numbers[0], step=1, text=text, each=el.each)
            else:
                el.hoops = Selector("numbers", tuple(numbers), text=text, each=el.each or (len(numbers) == 1))
            el.text = text
            if el.amount and not state.det:
                el.amount = None
            return
        el.hoops = self._by_words(el, state, text)
        el.hoops = self._nth_from(el, toks)
        tail = " ".join(t.low for t in toks[el.j : el.j + 3])
        parity = re.match(r"(?:with|of|having|that have|bearing|carrying) (?:an )?(odd|even) numbers?\b", tail)
        between = re.match(
            r"(?:in )?between (?:the )?(?:two )?(?:ends?|them|end \w+|gables?)\b", " ".join(t.low for t in toks[el.j : el.j + 5])
        )
        if el.role == "hoop" and between and (el.each or el.plural):
            el.hoops = Selector("inner", each=el.each, text=f"{el.text} {between.group()}")
            el.j = min(len(toks), el.j + len(between.group().split()))
        if el.role == "hoop" and parity:
            el.hoops = Selector(parity[1], each=True, text=f"{el.text} {parity.group()}")  # type: ignore[arg-type]
            el.j = min(len(toks), el.j + len(parity.group().split()))
        if el.role == "hoop" and el.hoops is not None and el.hoops.kind != "numbers":
            self._except(el, toks)

    def _except(self, el: El, toks: list[Tok]) -> None:
        """ "all hoops but 1, 2 and 28", "every hoop except the end hoops"."""
        j = el.j
        if j < len(toks) and toks[j].low in (",", "("):
            j += 1
        words = [t.low for t in toks[j : j + 3]]
        length = (
            3
            if words == ["with", "the", "exception"]
            else 2
            if words[:2] in (["except", "for"], ["apart", "from"], ["other", "than"], ["but", "not"])
            else 1
            if words[:1] and words[0] in ("but", "except", "excluding", "excepting", "save")
            else 0
        )
        if not length:
            return
        j += length
        while j < len(toks) and toks[j].low in ("of", "for", "on", "from"):
            j += 1
        first = j
        if j < len(toks) and (toks[j].low in self.hoop_words or toks[j].low.rstrip("s") in self.hoop_words):
            j += 1
        numbers, end, _ = number_list(toks, j, self.numbers)
        if numbers:
            out: Selector | None = Selector("numbers", numbers, each=True)
        else:
            other = self._phrase(toks, first)
            out = other.hoops if other is not None and other.role == "hoop" else None
            end = other.j if other is not None else first
        if out is None or el.hoops is None:
            return
        el.j = end
        el.text = " ".join(t.text for t in toks[el.i : end])
        el.hoops = Selector("except", of=(el.hoops, out), each=el.hoops.each, text=el.text)

    def _nth_from(self, el: El, toks: list[Tok]) -> Selector | None:
        """ "every third hoop from hoop 3", "starting with hoop 2"."""
        sel = el.hoops
        if sel is None or sel.kind not in ("nth", "odd", "even", "all", "inner"):
            return sel
        if el.j < len(toks) and toks[el.j].low == "from":
            j = el.j + 1
            while j < len(toks) and (toks[j].low in ("the", "no", "no.", "number") or toks[j].low in self.hoop_words):
                j += 1
            found, end, _ = number_list(toks, j, self.numbers)
            if len(found) > 1:
                el.j = end
                every = sel if sel.kind != "nth" else Selector("nth", start=found[0], step=sel.step, stated=-1)
                return Selector("and", of=(every, Selector("numbers", found)), each=True, text=el.text)
        if sel.kind != "nth":
            return sel
        tail = " ".join(t.low for t in toks[el.j : el.j + 6])
        m = re.match(
            r"(?:,? ?(?:from|starting (?:with|from|at)|beginning (?:with|at)|counting from|commencing (?:with|at)) (?:the )?)(?:(?:hoop|bow|arch|rib|no\.?|number) )*(\w+)",
            tail,
        )
        if not m:
            return sel
        start = self.numbers.get(m[1]) or self.ordinals.get(m[1]) or (int(m[1]) if m[1].isdigit() else None)
        if start is None:
            return sel
        n_words = len(m.group().split()) + m.group().count(",")
        el.j = min(el.j + n_words, len(toks))
        if el.j < len(toks) and toks[el.j].low in ("on", "onwards", "onward", "upwards"):
            el.j += 1
        return Selector("nth", start=start, step=sel.step, each=True, text=el.text, stated=-1)

    def _by_words(self, el: El, state: _Pre, text: str) -> Selector | None:
        each = el.each
        stated = el.amount.value if el.amount else None
        if state.nth:
            inner = any(self.hoop_adjectives.get(a) == "inner" for a in state.hoop_adjectives)
            return Selector("nth", start=1, step=state.nth, each=True, text=text, of=(Selector("inner"),) if inner else ())
        adjectives = [self.hoop_adjectives[a] for a in state.hoop_adjectives if self.hoop_adjectives[a] not in ("all",)]
        named = next((self.groups[w] for w in el.words if w in self.groups), None)
        if state.ords and not adjectives:
            numbers = tuple(state.ords)
            if stated and len(numbers) == 1:
                if numbers[0] == -1:
                    return Selector("numbers", tuple(range(-stated, 0)), text=text, each=each)
                return (
                    Selector("numbers", tuple(range(1, stated + 1)), text=text, each=each)
                    if numbers[0] == 1 and el.plural
                    else Selector("numbers", numbers, text=text, each=True)
                )
            return Selector("numbers", numbers, text=text, each=True)
        if named is not None:
            return Selector(named.kind, named.numbers, named.start, named.step, named.of, each or not el.plural, text=text, stated=stated)
        if adjectives:
            kind = adjectives[0]
            if kind == "next_to_end":
                return Selector("numbers", (2, -2) if el.plural else (-2,), each=each, text=text)
            if kind == "inner" and not el.plural and not each and "middle" in " ".join([*state.hoop_adjectives, *el.words]):
                return Selector("middle", text=text, each=True)
            if kind in ("first", "last"):
                if stated and el.plural:
                    numbers = tuple(range(1, stated + 1)) if kind == "first" else tuple(range(-stated, 0))
                    return Selector("numbers", numbers, text=text, each=each)
                return Selector(kind, each=True, text=text)
            if kind == "rest":
                return Selector("rest", each=each, text=text, stated=stated)
            if kind == "alternate":
                return Selector("nth", start=1, step=2, each=True, text=text)
            if (
                kind == "inner"
                and stated is None
                and "middle" in state.hoop_adjectives
                and "middle" not in self.defined
                and not self.defined & {"inner"}
            ):
                stated = -2  # the manual does not say which hoops are the middle ones
            return Selector(kind, each=each, text=text, stated=stated)
        if el.other:
            return Selector("rest", each=each, text=text, stated=stated)
        if "next" in el.words and el.role == "hoop":
            return Selector("topic", numbers=(1,), text=text)
        if el.det in ("each", "every", "all", "any", "per", "ea", "ea.") or state.same:
            return Selector("all", each=each, text=text, stated=stated)
        if el.det in ("the", "this", "that", "its", "these", "those") and not el.plural:
            return None  # "the hoop": the one being worked on
        if el.det in ("both",):
            return Selector("topic", each=True, text=text)
        if el.plural:
            return Selector("all", each=False, text=text, stated=stated) if (el.det in ("the", None) and not stated) or stated else None
        return None

    # ---- pronouns and phrases without a noun ----------------------------------------------------------------------------

    def _pron(self, toks: list[Tok], start: int, end: int, state: _Pre, word: str) -> El:
        text = " ".join(t.text for t in toks[start:end])
        el = El("pron", start, end, text, text.lower(), name=word)
        state.fill(el)
        el.plural = word in {"they", "them", "these", "those", "ones", "both", "others", "rest"}
        if word in ("each", "ea", "ea.", "every"):
            el.each = True
        if state.ords == [2] and state.det == "a":
            el.more, el.ords = True, ()
        elif state.hoop_adjectives or (state.ords and "one" in text.lower() and state.det == "the"):
            el.type, el.role = "mem", "hoop"
            el.words = ("hoop",)
            el.hoops = self._by_words(el, state, text)
        return el

    def _elliptic(self, toks: list[Tok], start: int, i: int, state: _Pre) -> El | None:
        if i == start:
            return None
        text = " ".join(t.text for t in toks[start:i])
        el = El("ellip", start, i, text, text.lower())
        state.fill(el)
        nxt = toks[i] if i < len(toks) else None
        if state.ords and state.det == "the" and not state.other:
            compared = start and toks[start - 1].low in (
                "beside",
                "under",
                "below",
                "above",
                "behind",
                "than",
                "after",
                "before",
                "over",
                "against",
            )
            ends = not compared and (
                nxt is None
                or nxt.cat == "punct"
                or nxt.low in _CONJ
                or nxt.low in _BE
                or nxt.low in self.onto - {"of"}
                or self.verb(toks, i)[0] is not None
                or nxt.low in _ADVERB
            )
            if ends and not (state.ords == [1] and nxt is not None and nxt.cat == "punct" and start == 0):
                el.type, el.role, el.words = "mem", "hoop", ("hoop",)
                el.hoops = self._by_words(el, state, text)
                return el
        if (
            state.det in ("the", "a", "an", "its", "their", "your", "our", "no", "any")
            and not state.amount
            and not state.side
            and not state.other
        ):
            # an article in front of a word that means nothing here
            return El("word", start, start + 1, toks[start].text, toks[start].low)
        if state.side and not state.det and not state.amount and not state.other:
            return El("word", start, i, text, text.lower(), side=state.side)
        return el

    def _coordinate(self, out: list[El]) -> None:
        """ "the first and the fifth hoop", "hoops 1, 3 and 5", "the left and right legs": what stands on either side of the conjunction is one."""
        for k, el in enumerate(out):
            if (
                el.type in ("fit", "ellip")
                and el.amount is not None
                and not el.side
                and k + 1 < len(out)
                and out[k + 1].type in ("word", "ellip")
                and out[k + 1].low in ("left", "right")
                and (k + 2 == len(out) or out[k + 2].type in ("conj", "punct"))
            ):
                el.side = out[k + 1].low  # "one bracket left and one right"
                out[k + 1].type, out[k + 1].used = "word", True
            if el.type == "fit" and k and out[k - 1].low in ("without", "no"):
                el.det, el.amount = "no", None
            if (
                el.type in ("fit", "mem")
                and k >= 2
                and out[k - 1].low == "of"
                and out[k - 2].type in ("ellip", "pron")
                and (out[k - 2].each or out[k - 2].low == "both")
            ):
                # "each of the eight bands"
                el.each, el.definite = True, False
                if el.type == "mem" and el.hoops is not None:
                    el.hoops = replace(el.hoops, each=True)
                out[k - 2].type, out[k - 2].used = "word", True
                out[k - 1].type = "word"
            if (
                el.type == "mem"
                and k >= 2
                and out[k - 1].type == "conj"
                and out[k - 2].type == "mem"
                and out[k - 2].each
                and el.det == "the"
                and el.role in ("tube", "foot", "joint")
                and not el.plural
            ):
                el.each = True
            if (
                el.type == "fit"
                and k >= 2
                and out[k - 1].low == "of"
                and out[k - 2].type in ("ellip", "pron")
                and out[k - 2].amount is not None
                and el.definite
            ):
                el.amount, el.definite, el.plural = out[k - 2].amount, False, False
                el.more = out[k - 2].more
                out[k - 2].type, out[k - 2].used, out[k - 1].type = "word", True, "word"
            if (
                el.type == "fit"
                and k >= 2
                and out[k - 1].low == "of"
                and out[k - 2].type in ("fit", "mem", "ellip")
                and out[k - 2].amount is not None
                and out[k - 2].low.split()[-1] in _PIECES
                and el.amount is None
            ):
                # "a strip of rub tape", "two lengths of film channel"
                el.amount, el.definite, el.plural, el.more, el.each = out[k - 2].amount, False, False, out[k - 2].more, out[k - 2].each
                out[k - 2].type, out[k - 2].used, out[k - 1].type = "word", True, "word"
            if (
                el.type == "fit"
                and k >= 2
                and out[k - 1].low == ","
                and out[k - 2].type == "fit"
                and el.det is None
                and el.amount is None
                and out[k - 2].amount is None
                and (out[k - 2].each or out[k - 2].definite)
            ):
                el.det, el.each, el.definite = out[k - 2].det, out[k - 2].each, out[k - 2].definite
            if (
                el.type == "fit"
                and k >= 2
                and out[k - 1].type == "conj"
                and out[k - 2].type == "fit"
                and el.det is None
                and el.amount is None
                and not el.plural
            ):
                el.det, el.each, el.definite = out[k - 2].det, out[k - 2].each, out[k - 2].definite
                if out[k - 2].det in ("a", "an"):
                    el.amount = out[k - 2].amount
            elif (
                el.type == "fit"
                and k >= 2
                and out[k - 1].type == "conj"
                and out[k - 2].type == "fit"
                and el.det is None
                and el.amount is None
                and out[k - 2].definite
            ):
                el.definite = True
            if (
                el.type == "mem"
                and el.role == "hoop"
                and el.hoops is not None
                and el.hoops.kind in ("numbers", "first", "last", "end", "inner")
            ):
                back = k - 1
                while back >= 1 and out[back].type in ("conj", "punct") and out[back].low in {"and", "or", ",", "&"}:
                    prev = out[back - 1]
                    if prev.type in ("ellip", "mem") and not prev.used and (prev.role == "hoop" or prev.ords) and not prev.amount:
                        sel = prev.hoops or Selector("numbers", prev.ords, text=prev.text)
                        if sel.kind in ("numbers", "first", "last"):
                            el.hoops = join_selectors(sel, el.hoops)
                            prev.used = True
                            prev.type = "word"
                            back -= 2
                            continue
                    break
            if el.type == "mem" and k >= 2 and out[k - 1].type == "conj" and el.side and out[k - 2].type == "word" and out[k - 2].side:
                el.side = None
                el.plural = True
            if (
                el.type == "mem"
                and k >= 2
                and out[k - 1].type == "conj"
                and el.side
                and out[k - 2].type in ("ellip",)
                and out[k - 2].side
                and not out[k - 2].amount
            ):
                el.side = None
                out[k - 2].type, out[k - 2].used = "word", True


_PIECES = frozenset(
    [
        "piece",
        "pieces",
        "strip",
        "strips",
        "length",
        "lengths",
        "bit",
        "bits",
        "turn",
        "turns",
        "patch",
        "patches",
        "layer",
        "layers",
        "section",
        "sections",
    ]
)


class _Pre:
    """What stands in front of a noun."""

    def __init__(self) -> None:
        self.det: str | None = None
        self.amount: Amount | None = None
        self.ords: list[int] = []
        self.side: str | None = None
        self.each = self.more = self.other = self.neg = self.same = self.seen = False
        self.of_ok = False
        self.nth: int | None = None
        self.hoop_adjectives: list[str] = []
        self.adjectives: list[str] = []
        self.size: str | None = None

    def fill(self, el: El) -> None:
        """Hand what was gathered to the element."""
        el.det, el.amount, el.each, el.more, el.other, el.side = self.det, self.amount, self.each, self.more, self.other, self.side
        el.ords = tuple(self.ords)
        el.size = self.size
        el.neg = self.neg
        el.adjectives = tuple(self.adjectives)
        if el.amount is None and self.det in ("a", "an", "another"):
            el.amount = Amount(1, text=self.det)
        if self.other and self.det == "the" and el.amount is None and el.type == "fit":
            el.amount, el.more, self.det = Amount(1, text="the other"), True, "other"
        if self.ords == [2] and self.det == "a" and self.amount is not None and el.type == "ellip":
            el.ords, el.more = (), True  # "a second one"
        if self.other and self.det == "the" and el.amount is None and el.type == "ellip" and not self.side:
            el.amount, self.det = Amount(1, text="the other"), "other"
        el.definite = self.det in ("the", "its", "their", "these", "those", "this", "that", "both", "your", "our") or (
            self.det in ("all",) and el.amount is None
        )


def join_selectors(a: Selector, b: Selector) -> Selector:
    """Both selections as one."""
    text = f"{a.text} and {b.text}"
    if a.kind == b.kind == "numbers":
        return Selector("numbers", tuple(dict.fromkeys((*a.numbers, *b.numbers))), text=text, each=b.each)
    return Selector("join", of=(a, b), text=text, each=b.each)


def number_list(toks: list[Tok], i: int, words: dict[str, int]) -> tuple[tuple[int, ...], int, bool]:
    """(numbers, end, onward) of "2 to 7", "1, 4 and 7", "no. 3", "16 onwards" from token ``i`` on; no numbers if there are none."""
    j = i
    while j < len(toks) and toks[j].low in {"no", "no.", "nos", "nos.", "number", "numbers", "#", "."} and j - i < 3:
        j += 1
    out: list[int] = []
    end = i
    expect = True
    span = digits = False
    while j < len(toks):
        tok = toks[j]
        if expect:
            value = (
                int(tok.value)
                if tok.cat == "num" and float(tok.value).is_integer()
                else (words.get(tok.low) if tok.low not in ("a", "an", "single") else None)
            )
            if value is None or value > 400 or (out and tok.cat == "word" and digits):
                break
            digits = digits or tok.cat == "num"
            if span and out:
                out += list(range(out[-1] + 1, value + 1)) if value > out[-1] else list(range(out[-1] - 1, value - 1, -1))
            else:
                out.append(value)
            span, expect = False, False
            j += 1
            end = j
            continue
        if tok.low in {"to", "-", "–", "—", "through", "thru", "until", "…"}:
            span, expect = True, True
        elif tok.low in {",", "and", "&", "or", "/", "+"}:
            expect = True
            if tok.low == "," and j + 1 < len(toks) and toks[j + 1].low in {"and", "or"}:
                j += 1
        else:
            break
        j += 1
        # the same noun again: "hoop 1 and hoop 5"
        while j < len(toks) and toks[j].low in {"hoop", "hoops", "bow", "bows", "arch", "arches", "rib", "ribs", "no", "no.", "nos"}:
            j += 2 if j + 1 < len(toks) and toks[j].low in {"no", "nos"} and toks[j + 1].text == "." else 1
        if j < len(toks) and toks[j].low == "including":
            j += 1
    onward = False
    tail = " ".join(t.low for t in toks[end : end + 2])
    m = re.match(r"(onwards?|and up(?:wards)?|on(?= |$)|and (?:on|onwards|over|above|beyond)\b|inclusive|incl)", tail)
    if out and m and m.group() not in ("inclusive", "incl"):
        follow = toks[end + 1].low if end + 1 < len(toks) else ""
        if m.group() != "on" or follow in {"", ",", ".", "use"}:
            onward = len(out) == 1
            end += len(m.group().split())
    elif out and m:
        end += 1
    return tuple(out), end, onward


def _before_verb(out: list[El]) -> tuple[bool, str | None]:
    neg, modal = False, None
    for el in reversed(out[-4:]):
        if el.type != "word" or (el.low not in _MODALS and el.low not in _BE and el.low not in _ADVERB and not el.low.endswith("ly")):
            break
        if el.low in {"not", "never", "don't", "doesn't", "cannot", "can't", "won't"}:
            neg = True
        if el.low in _MODALS or el.low in _BE:
            modal = el.low if modal is None or el.low in {"should", "must", "ought", "can", "may", "will", "has", "have"} else modal
    return neg, modal


def _passives(out: list[El]) -> None:
    for k, el in enumerate(out):
        if el.type != "verb" or el.form != "ed":
            continue
        back = k - 1
        while (
            back >= 0
            and out[back].type == "word"
            and (out[back].low in _ADVERB or out[back].low.endswith("ly") or out[back].low in {"not", "to"})
        ):
            back -= 1
        el.passive = (back >= 0 and out[back].low in _BE) or (back >= 0 and out[back].low in {"get", "gets"})


def sense_role(senses: list[Any]) -> str:
    """The role of the first member sense, empty if there is none."""
    return next((s.role for s in senses if s.kind == "mem"), "")
