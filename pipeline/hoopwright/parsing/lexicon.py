"""The words that one manual is read with: the grammar's, the kit's own, and what the manual itself defines."""

from __future__ import annotations

from rapidfuzz.distance import OSA

from hoopwright.grammar import Grammar
from hoopwright.grammar.inflect import plural
from hoopwright.grammar.load import Sense
from hoopwright.model.events import Selector
from hoopwright.parsing.closed_words import COLLECTIVE_LEADS, DETERMINERS, first_word, lows
from hoopwright.parsing.kit import Kit
from hoopwright.parsing.lex import Tok, bare_lengths, lex

_LONGEST = 6  # words of the longest noun that is looked up
_SHORTEST_MENDED = 5  # letters; shorter words are too often one slip away from another
_OFTEN = 2  # a word that occurs more often than this is no slip


class Lexicon:
    """Looks words up. ``hoop_words``: the manual's nouns for a hoop, singular; ``tube_names``: the tubes of one hoop.

    ``bare_mm`` and ``bare_inches`` say that the manual gives lengths in that unit without naming it; ``side_words`` maps words to "left" or "right"
    ("the swaged half is always the left one"); ``defined`` are adjectives of hoops that the manual explains; ``groups``
    maps the manual's own names for some of its hoops ("door hoops") to those hoops.
    """

    def __init__(
        self,
        grammar: Grammar,
        kit: Kit,
        hoop_words: frozenset[str] = frozenset(),
        tube_names: tuple[str, ...] = (),
    ) -> None:
        self.grammar = grammar
        self.kit = kit
        self.hoop_words = hoop_words
        self.tube_words = [set(name.split()) - {"left", "right"} for name in tube_names]
        words = grammar.words
        self.numbers: dict[str, int] = words["numbers"]
        self.collectives: dict[str, int] = words["collectives"]
        self.ordinals: dict[str, int] = words["ordinals"]
        self.sides: dict[str, str] = words["sides"]
        self.hoop_adjectives: dict[str, str] = {word: key for key, group in words["hoops"].items() for word in group}
        self.abbreviations: dict[str, str] = {str(k): str(v) for k, v in words["abbreviations"].items()}
        self.plain = set(words["plain"])
        self.onto, self.landmark = set(words["onto"]), set(words["landmark"])
        self.through, self.with_ = set(words["through"]), set(words["with"])
        self.required: dict[str, list[str]] = {}  # first word -> phrases for "as many as required", longest first
        for phrase in sorted(words["as_required"], key=len, reverse=True):
            self.required.setdefault(phrase.split()[0], []).append(phrase)
        self.compounds = frozenset(" ".join(name[:2]) for name in kit.aliases if len(name) > 1)
        self._index()
        self.bare_mm = False
        self.bare_inches = False
        self.hoop_letter = ""  # "R" where the ribs are called R1 to R6
        self.types: dict[str, tuple[int, ...]] = {}  # "type E": the hoops a table calls so
        self.side_words: dict[str, str] = {}
        self.defined: set[str] = set()
        self.groups: dict[str, Selector] = {}
        self.known: set[str] = set()
        self.targets: dict[str, list[str]] = {}  # by first letter
        self._mended: dict[str, str | None] = {}

    def tokens(self, text: str) -> list[Tok]:
        """The tokens of a text, its bare numbers as lengths where the manual gives lengths without a unit."""
        return self.with_lengths(lex(text))

    def with_lengths(self, toks: list[Tok]) -> list[Tok]:
        """The same tokens, bare numbers as lengths where the manual gives lengths without a unit."""
        if self.bare_mm:
            return bare_lengths(toks)
        return bare_lengths(toks, inches=True) if self.bare_inches else toks

    def _index(self) -> None:
        """Sets that answer for most words of a text, which mean nothing here, without a search: kept from the grammar as it is now."""
        self._noun_starts: dict[str, int] = {}  # first word -> words of the longest noun that it starts
        self._verb_starts: dict[str, int] = {}
        self._nouns: set[str] = set()
        self._fittings: set[str] = set()
        self.hoop_nouns: set[str] = set()  # nouns for a hoop or a bay
        self.finite_verbs: set[str] = set()  # "slide", "slides", but neither "sliding" nor "slid"
        for phrase, senses in self.grammar.senses.items():
            first, length = phrase.partition(" ")[0], phrase.count(" ") + 1
            for sense in senses:
                if sense.kind == "verb":
                    self._verb_starts[first] = max(length, self._verb_starts.get(first, 0))
                    if sense.form in ("s", "base"):
                        self.finite_verbs.add(phrase)
                    continue
                self._noun_starts[first] = max(length, self._noun_starts.get(first, 0))
                self._nouns.add(phrase)
                if sense.kind == "fit":
                    self._fittings.add(phrase)
                elif sense.role in ("hoop", "bay", "hoop-maybe"):
                    self.hoop_nouns.add(phrase)
        self._relations = self.onto | self.landmark | self.through | self.with_
        self.compound_starts = {phrase.partition(" ")[0] for phrase in self.compounds}
        self.collective_starts = {*map(first_word, self.collectives), *COLLECTIVE_LEADS}
        self.flank_starts = {first_word(phrase) for phrase in (*self.sides, *self.hoop_adjectives)}
        self._number_starts = {*self.required, *self.numbers, *self.collective_starts}
        leading = (DETERMINERS, self.sides, self.ordinals, self.hoop_adjectives, self._number_starts, self._noun_starts)
        self._leading = {"ones", "alternate"}.union(*leading)
        self._coded: dict[str, Sense | None] = {}  # printed word -> what its code means

    # ---- nouns and verbs ------------------------------------------------------------------------------------------

    def noun(self, toks: list[Tok], i: int) -> tuple[Sense | None, int]:
        """(sense, end) of the longest fitting or member noun at ``i``; a part's code in capitals is one."""
        if i >= len(toks):
            return None, i
        first = toks[i]
        if first.cat != "word":
            return None, i
        if not (first.text.islower() and first.text.isalpha()):
            coded = self._code_noun(first)
            if coded is not None:
                return coded, i + 1
        longest = min(_LONGEST, self._noun_starts.get(first_word(first.low), 0))
        if not longest:
            return None, i
        run: list[str] = []
        for tok in toks[i : i + longest]:
            if tok.cat != "word":
                break
            run.append(tok.low)
        for length in range(len(run), 0, -1):
            phrase = " ".join(run[:length])
            senses = self.grammar.senses.get(phrase)
            if not senses or (phrase == "join" and not self._counted_before(toks, i)):
                continue
            for sense in senses:
                if sense.kind in ("fit", "mem"):
                    return sense, i + length
        return None, i

    def _counted_before(self, toks: list[Tok], i: int) -> bool:
        """ "the join", "two join pieces": a noun only behind a determiner or a number."""
        return i > 0 and (toks[i - 1].low in DETERMINERS or toks[i - 1].low in self.numbers)

    def verb(self, toks: list[Tok], i: int) -> tuple[Sense | None, int]:
        """(sense, end) of the longest verb that starts at ``i``."""
        for length in range(min(3, self._verb_starts.get(first_word(toks[i].low), 0), len(toks) - i), 0, -1):
            for sense in self.grammar.senses.get(lows(toks, i, length), ()):
                if sense.kind == "verb":
                    return sense, i + length
        return None, i

    def may_number(self, low: str) -> bool:
        """False where no number of pieces can start with the word: neither digits in words nor "a pair of" nor "as many as required"."""
        return low in self._number_starts or "-" in low or " " in low

    def may_lead(self, tok: Tok) -> bool:
        """False where neither a noun nor what stands in front of one can begin with the token: so it is with most of a text."""
        if tok.cat != "word":
            return tok.cat != "punct"
        low = tok.low
        return low in self._leading or "-" in low or " " in low or self._code_noun(tok) is not None

    def is_nounish(self, tok: Tok) -> bool:
        """Whether the token can be a noun of ours."""
        return tok.cat == "word" and (self.is_noun_word(tok.low) or self._code_noun(tok) is not None)

    def is_noun_word(self, word: str) -> bool:
        """Whether a word, in small letters, is one of our nouns."""
        return word in self._nouns

    def is_fitting_word(self, word: str) -> bool:
        """Whether a word, in small letters, can be a fitting."""
        return word in self._fittings

    def is_fitting(self, tok: Tok) -> bool:
        """Whether the token can be a fitting or a part's code."""
        return self.is_fitting_word(tok.low) or self._code_noun(tok) is not None

    def verb_forms(self, word: str) -> list[Sense]:
        """The verb senses of one word."""
        return [s for s in self.grammar.senses.get(word, ()) if s.kind == "verb"]

    def is_relation(self, low: str) -> bool:
        """Whether the word is one of the grammar's prepositions."""
        return low in self._relations

    # ---- codes of the parts list ----------------------------------------------------------------------------------

    def _code_noun(self, tok: Tok) -> Sense | None:
        raw = tok.text
        if tok.cat != "word" or raw.islower():
            return None if tok.cat != "word" or raw.isalpha() else self._coded_word(raw)
        return self._coded_word(raw)

    def _coded_word(self, raw: str) -> Sense | None:
        if raw not in self._coded:
            self._coded[raw] = self._code_of(raw)
        return self._coded[raw]

    def _code_of(self, raw: str) -> Sense | None:
        if len(raw) < 2 or not (raw.isupper() or any(c.isdigit() for c in raw)):
            return None
        if raw.upper() in self.kit.codes:
            return Sense("fit", "code", raw, "one", "closed")
        name = self.kit.member_codes.get(raw.upper())
        return None if name is None else self._coded_member(name)

    def _coded_member(self, name: str) -> Sense:
        """The member noun that ends a coded name; "ridge bar length" is a ridge bar."""
        words = name.split()
        if len(words) > 1 and words[-1] in ("length", "lengths", "piece"):
            words = words[:-1]
        for k in range(len(words)):
            ending = " ".join(words[k:])
            for sense in self.grammar.senses.get(ending, ()):
                if sense.kind == "mem":
                    return Sense("mem", sense.id, ending, "one", sense.role, sense.side)
        return Sense("mem", "other", name, "one", "other")

    def numeric_code(self, tok: Tok) -> str | None:
        """The part of "(201)": a number in brackets that is a code of the parts list is no count."""
        if tok.cat != "count" or not tok.text.startswith("("):
            return None
        code = str(int(tok.value))
        return self.kit.codes.get(code) or self.kit.member_codes.get(code)

    def bracket_code(self, toks: list[Tok], j: int) -> tuple[str, int] | None:
        """(part, end) of a fitting's code in brackets, "(item H)", whose bracket opens at ``j``."""
        k = j + 1
        if k < len(toks) and toks[k].low in {"item", "part", "bag", "ref", "ref.", "code"}:
            k += 1
        if k + 1 < len(toks) and toks[k].text.upper() in self.kit.codes and toks[k + 1].text == ")":
            return self.kit.codes[toks[k].text.upper()], k + 2
        return None

    # ---- short forms and slips ------------------------------------------------------------------------------------

    def expand(self, toks: list[Tok]) -> list[Tok]:
        """Short forms ("ea.", "int.") in full and misspelt words mended; every token keeps its place in the text."""
        out: list[Tok] = []
        k = 0
        while k < len(toks):
            tok = toks[k]
            k += 1
            if tok.cat != "word":
                out.append(tok)
                continue
            full = self.abbreviations.get(tok.low.rstrip("."))
            stop = k < len(toks) and toks[k].text == "." and toks[k].start == tok.end
            if full is None or not (stop or self._short_without_stop(tok.low)):
                out.append(self._mend(tok))
                continue
            out.append(Tok(tok.text, full, tok.start, toks[k].end if stop else tok.end, "word"))
            k += stop
        return out

    def _short_without_stop(self, low: str) -> bool:
        return len(low) > 1 and low not in self.grammar.senses

    def _mend(self, tok: Tok) -> Tok:
        """A word that nothing knows, one slip away from a noun or verb of this manual, is read as that word.

        Never numbers or codes.
        """
        low = tok.low
        if len(low) < _SHORTEST_MENDED or not low.isalpha() or low in self.known or low in self.grammar.senses:
            return tok
        if low not in self._mended:
            alike = self.targets.get(low[0], ())
            near = [word for word in alike if abs(len(word) - len(low)) <= 1 and OSA.distance(low, word, score_cutoff=1) <= 1]
            self._mended[low] = near[0] if len(near) == 1 else None
        fixed = self._mended[low]
        return Tok(tok.text, fixed, tok.start, tok.end, "word") if fixed else tok

    def learn(self, counts: dict[str, int]) -> None:
        """Take in how often each word stands in the manual.

        Words used often are right as they are; the grammar's own that occur are what slips are mended to.
        """
        self.known = {word for word, n in counts.items() if n > _OFTEN} | self.onto | self.landmark | self.through
        self.known |= {*self.numbers, *self.ordinals, *self.hoop_adjectives, *self.plain}
        vocabulary = set(" ".join(self.grammar.senses).split())
        kit = {word for words in self.kit.words.values() for word in words}
        kit |= {plural(word) for word in kit}
        occurring = {word for word in vocabulary if counts.get(word, 0) > 0}
        self.targets = {}
        for word in sorted(word for word in occurring | kit if len(word) >= _SHORTEST_MENDED):
            self.targets.setdefault(word[0], []).append(word)
