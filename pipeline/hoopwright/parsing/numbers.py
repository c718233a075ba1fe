"""Numbers in sentences: lists of hoop numbers, and how many of a thing there are."""

from __future__ import annotations

from hoopwright.grammar.hoop_nouns import hoop_forms
from hoopwright.model.events import Amount
from hoopwright.parsing.closed_words import ARTICLES, COLLECTIVE_LEADS, LISTING, first_word, lows
from hoopwright.parsing.gates import gated
from hoopwright.parsing.lex import Tok, word_number
from hoopwright.parsing.lexicon import Lexicon
from hoopwright.parsing.lookahead import nominal_ahead

_MOST_HOOPS = 400  # no frame has more; a greater number is a length or a year
_MOST_PIECES = 5000
_NUMBER_WORDS = frozenset({"no", "no.", "nos", "nos.", "number", "numbers", "#", "."})
_SPAN = frozenset({"to", "-", "–", "—", "through", "thru", "until", "…"})
_AGAIN = frozenset({*hoop_forms(), "no", "no.", "nos"})
_ONWARD = gated(
    r"(onwards?|and up(?:wards)?|on(?= |$)|and (?:on|onwards|over|above|beyond)\b|inclusive|incl)",
)
_MEASURED = frozenset({"apart", "from", "up", "above", "below", "long", "high", "wide"})  # "rib 1, 100 apart"
_SHARED = frozenset({"on", "at", "in", "per", "to", "each", "above", "below", "either", "up", "over", "inside", "outside", "for", "near"})
_NUMBERED = frozenset(
    {
        *hoop_forms(),
        *("step", "steps", "stage", "row", "rows"),
        *("fig", "fig.", "figure", "table", "bag", "item", "no", "no.", "section", "part", "clause", "note"),
        *("page", "paragraph"),
    }
)


def number_list(toks: list[Tok], i: int, words: dict[str, int]) -> tuple[tuple[int, ...], int, bool]:
    """(numbers, end, onward) of "2 to 7", "1, 4 and 7", "no. 3", "16 onwards" from token ``i`` on.

    ``words`` gives the values of numbers in words. No numbers, and ``i`` itself as the end, if there are none.
    """
    j = i
    while j < len(toks) and toks[j].low in _NUMBER_WORDS and j - i < 3:
        j += 1
    out: list[int] = []
    end = i
    span = digits = False
    while j < len(toks):
        value = _hoop_number(toks[j], words)
        if value is None or (digits and toks[j].cat == "word") or (out and _shares_out(toks, j)):
            break
        digits = digits or toks[j].cat == "num"
        out += _run(out[-1], value) if span else [value]
        j += 1
        end = j
        if j == len(toks):
            break
        span = toks[j].low in _SPAN
        if not span and toks[j].low not in LISTING | {"/", "+"}:
            break
        j = _next_item(toks, j)
    if not out:
        return (), i, False
    end, onward = _onward(toks, end, single=len(out) == 1)
    return tuple(out), end, onward


def _shares_out(toks: list[Tok], j: int) -> bool:
    """ "hoops Three and Five, one on each half": the number word at ``j`` counts pieces and is no hoop of the list."""
    if toks[j - 1].low != "," or j + 1 >= len(toks):
        return False
    return toks[j + 1].low in (_SHARED if toks[j].cat == "word" else _MEASURED)


def _hoop_number(tok: Tok, words: dict[str, int]) -> int | None:
    if tok.cat == "num" and float(tok.value).is_integer():
        value: int | None = int(tok.value)
    else:
        value = words.get(tok.low) if tok.low not in ("a", "an", "single") else None
    return value if value is not None and value <= _MOST_HOOPS else None


def _run(last: int, value: int) -> list[int]:
    """The numbers behind ``last`` up, or down, to ``value``."""
    return list(range(last + 1, value + 1)) if value > last else list(range(last - 1, value - 1, -1))


def _next_item(toks: list[Tok], j: int) -> int:
    """Where the next number of a list can stand, behind the separator at ``j`` and a noun said again."""
    if toks[j].low == "," and j + 1 < len(toks) and toks[j + 1].low in {"and", "or"}:
        j += 1
    j += 1
    while j < len(toks) and toks[j].low in _AGAIN:  # "hoop 1 and hoop 5"
        stop = j + 1 < len(toks) and toks[j].low in {"no", "nos"} and toks[j + 1].text == "."
        j += 2 if stop else 1
    return j + 1 if j < len(toks) and toks[j].low == "including" else j


def _onward(toks: list[Tok], end: int, single: bool) -> tuple[int, bool]:
    """(end, onward): whether "onwards" or "and up" stands behind a number, and where the list ends with it."""
    found = _ONWARD.match(lows(toks, end, 2))
    if found is None:
        return end, False
    said = found.group()
    if said in ("inclusive", "incl"):
        return end + 1, False
    follow = toks[end + 1].low if end + 1 < len(toks) else ""
    if said == "on" and follow not in {"", ",", ".", "use"}:
        return end, False  # "hoop 3 on the left"
    return end + len(said.split()), single


def amount(words: Lexicon, toks: list[Tok], i: int) -> tuple[Amount | None, int]:
    """(amount, end) of "as many as required", "two", "4 or 5", "a pair of" at ``i``; no amount if there is none."""
    required = _as_required(words, toks, i)
    if required is not None:
        return required
    value, end = _number_at(words, toks, i)
    tok = toks[i]
    if value is None or (tok.cat == "num" and not _counts(words, toks, i)):
        return None, i
    if end < len(toks) and toks[end].cat == "count" and int(toks[end].value) == value:
        end += 1  # "TWO (2)"
    high, end = _upper_end(words, toks, end, value) if tok.low not in ARTICLES else (None, end)
    if end < len(toks) and toks[end].low == "of":
        if any(t.low in words.collectives for t in toks[i:end]):
            end += 1
        elif end + 1 < len(toks) and toks[end + 1].low in ("the", "these", "those", "them"):
            return None, i  # "two of the clips" takes from what is there
    return Amount(value, high, "range" if high else None, " ".join(t.text for t in toks[i:end])), end


def _as_required(words: Lexicon, toks: list[Tok], i: int) -> tuple[Amount, int] | None:
    phrases = words.required.get(toks[i].low)
    if not phrases:
        return None
    joined = lows(toks, i, 4) + " "
    for phrase in phrases:
        end = i + len(phrase.split())
        if not joined.startswith(phrase + " ") or (phrase == "enough" and lows(toks, end, 1) in ("that", "to", "so")):
            continue
        if phrase in ("enough", "several") or nominal_ahead(words, toks, end):
            of = end < len(toks) and toks[end].low == "of"
            return Amount(None, open="as-required", text=phrase), end + of
    return None


def _upper_end(words: Lexicon, toks: list[Tok], end: int, low: int) -> tuple[int | None, int]:
    """(greater number, end) of "4 or 5", "4 to 6" whose first number ends at ``end``; None if there is no range."""
    if end + 1 < len(toks) and toks[end].low in {"or", "to", "-", "–"}:
        high, stop = _number_at(words, toks, end + 1)
        if high is None and toks[end + 1].cat == "count":
            high, stop = int(toks[end + 1].value), end + 2  # "1–2 pcs. screw"
        if high is not None and high > low:
            return high, stop
    return None, end


def _number_at(words: Lexicon, toks: list[Tok], i: int) -> tuple[int | None, int]:
    tok = toks[i]
    if tok.cat == "num":
        whole = float(tok.value).is_integer() and tok.value < _MOST_PIECES
        return (int(tok.value), i + 1) if whole else (None, i)
    if tok.cat != "word":
        return None, i
    collective = _collective(words, toks, i)
    if collective is not None:
        return collective
    if tok.low in ARTICLES or (tok.low not in words.numbers and "-" not in tok.low):
        return None, i
    said = [tok.low]
    j = i + 1
    while j < len(toks) and _adds_to(words, said[-1], toks[j]):
        said.append(toks[j].low)
        j += 1
    value = word_number(" ".join(said).replace("fourty", "forty").replace("single", "one"))
    return (int(value), j) if value is not None and float(value).is_integer() else (None, i)


def _collective(words: Lexicon, toks: list[Tok], i: int) -> tuple[int, int] | None:
    """(pieces, end) of "a pair", "two dozen", "half a dozen"."""
    if first_word(toks[i].low) not in words.collective_starts:
        return None
    for length in (4, 3, 2, 1):
        phrase = lows(toks, i, length)
        if phrase in words.collectives:
            return words.collectives[phrase], i + length
        first, _, rest = phrase.partition(" ")
        if first in COLLECTIVE_LEADS and rest in words.collectives:
            return words.collectives[rest] * {"two": 2, "three": 3}.get(first, 1), i + length
    return None


def _adds_to(words: Lexicon, last: str, tok: Tok) -> bool:
    """ "twenty four": a number word behind a word for tens."""
    if tok.cat != "word" or tok.low not in words.numbers or tok.low in ARTICLES:
        return False
    return words.numbers.get(last.split("-")[-1], 0) >= 20


def _counts(words: Lexicon, toks: list[Tok], i: int) -> bool:
    """Whether a bare number is a count of the noun that follows, and not the number of a hoop, step or bag."""
    if i > 1 and toks[i - 2].low in ("each", "every", "ea", "per", "ea."):
        return True
    return i == 0 or not (toks[i - 1].low in _NUMBERED or toks[i - 1].low in words.hoop_words)
