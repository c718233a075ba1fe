"""The small words of English that no grammar file changes: determiners, conjunctions, auxiliaries, adverbs."""

from __future__ import annotations

from hoopwright.parsing.lex import Tok


def _words(*lines: str) -> frozenset[str]:
    return frozenset(word for line in lines for word in line.split())


ARTICLES = _words("a an")
PER_ONE = _words("each every per ea ea.")  # distributive: so many on each
DETERMINERS = PER_ONE | _words(
    "the a an all both its their this that these those no any either another your our one's",
)
DEFINITE = _words("the its their these those this that both your our")
MORE = _words("another further more additional extra second")
OTHER = _words("other remaining opposite others")
BE = _words("is are be been was were being")
MODALS = _words(
    "must should can may will shall could would might ought cannot can't won't",
    "to do does did don't doesn't has have had need needs",
)
CONJUNCTIONS = _words(
    "and or & plus then but nor while so because when where if as until before after once since",
    "which that who although unless whereas",
)
ADVERBS = _words(
    "now then first firstly next finally lastly also again please always only just simply here likewise later last",
    "not never still too carefully gently loosely lightly together already instead afterwards meanwhile thereafter",
    "subsequently hereafter temporarily",
)
COLLECTIVE_LEADS = _words("a one two three another")  # "two dozen", "a pair"
LISTING = frozenset({",", "and", "&", "or"})  # what stands between the items of a list
DASHES = frozenset({"-", "–", "—"})
PIECES = _words(
    "piece pieces strip strips length lengths bit bits turn turns patch patches layer layers section sections",
)
MULTI_PREPOSITIONS = frozenset(
    {
        *("next to", "close to", "clear of", "short of", "adjacent to", "away from", "by means of", "on top of"),
        *("in from", "up from", "down from", "in front of", "half way", "level with", "in line with"),
        *("to the left of", "to the right of", "left of", "right of", "both sides of", "on both sides of"),
        *(f"{lead}{which} side of" for lead in ("", "on ", "to ", "at ") for which in ("each", "either")),
    }
)
_MULTI_STARTS = frozenset(phrase.split()[0] for phrase in MULTI_PREPOSITIONS)


def first_word(low: str) -> str:
    """The first word of a token; a short form may stand for several."""
    return low.partition(" ")[0] if " " in low else low


def lows(toks: list[Tok], i: int, length: int) -> str:
    """Up to ``length`` tokens from ``i`` on, in small letters, parted by one blank."""
    return " ".join([t.low for t in toks[i : i + length]])


def is_counted(tok: Tok, numbers: dict[str, int]) -> bool:
    """Whether the token is a number or count, in digits or in words."""
    return tok.cat in ("num", "count") or tok.low in numbers


def multi_preposition(toks: list[Tok], i: int) -> tuple[str, int] | None:
    """(preposition, end) of a preposition of several words that starts at ``i``; None if there is none."""
    if toks[i].low not in _MULTI_STARTS:
        return None
    for length in (4, 3, 2):
        phrase = lows(toks, i, length)
        if phrase in MULTI_PREPOSITIONS:
            return phrase, i + length
    return None
