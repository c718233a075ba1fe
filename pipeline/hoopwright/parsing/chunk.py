"""Tokens to elements: noun phrases with their numbers and determiners, verbs, prepositions, lengths."""

from __future__ import annotations

from hoopwright.parsing.closed_words import multi_preposition
from hoopwright.parsing.coordination import coordinate, settle_ends, settle_sides
from hoopwright.parsing.elements import El
from hoopwright.parsing.hoops import join_selectors
from hoopwright.parsing.lex import Tok
from hoopwright.parsing.lexicon import Lexicon
from hoopwright.parsing.numbers import number_list
from hoopwright.parsing.phrases import read_phrase, single
from hoopwright.parsing.verbs import mark_passives, verb_here

__all__ = ["Chunker", "join_selectors", "number_list"]


class Chunker(Lexicon):
    """Turns the tokens of one sentence into elements, with the words of the grammar and of the kit."""

    def elements(self, toks: list[Tok]) -> list[El]:
        """The elements of a sentence, in order; each spans tokens ``i`` up to ``j`` of ``toks``, short forms expanded."""
        toks = self.expand(self.with_lengths(toks))
        out: list[El] = []
        i = 0
        while i < len(toks):
            el = _preposition(toks, i) or verb_here(self, toks, i, out)
            el = el or read_phrase(self, toks, i) or single(self, toks, i)
            out.append(el)
            i = el.j
        mark_passives(out)
        settle_ends(out)
        settle_sides(out)
        coordinate(out)
        return out

    def phrase(self, toks: list[Tok], i: int) -> El | None:
        """The noun phrase that starts at token ``i``; None if none does."""
        return read_phrase(self, toks, i)


def _preposition(toks: list[Tok], i: int) -> El | None:
    found = multi_preposition(toks, i)
    return El("prep", i, found[1], found[0], found[0]) if found is not None else None
