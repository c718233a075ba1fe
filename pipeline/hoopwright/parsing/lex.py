"""Characters to tokens: words, numbers, lengths, sizes. Nothing here knows what a fitting is."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from hoopwright.grammar.hoop_nouns import hoop_forms
from hoopwright.parsing.gates import gated

FRACTIONS = {
    "¼": 0.25,
    "½": 0.5,
    "¾": 0.75,
    "⅛": 0.125,
    "⅜": 0.375,
    "⅝": 0.625,
    "⅞": 0.875,
    "⅓": 1 / 3,
    "⅔": 2 / 3,
    "⅙": 1 / 6,
    "⅚": 5 / 6,
    "⅕": 0.2,
    "⅖": 0.4,
    "⅗": 0.6,
    "⅘": 0.8,
}
_FR = "".join(FRACTIONS)
# 1 in = 25.4 mm exactly, 1 ft = 304.8 mm (international yard, 1959: NBS Circular 572 addendum).
MM = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "ft": 304.8, "in": 25.4, "yd": 914.4}

_NUM = rf"(?:\d+[\s-]+\d+\s?[/⁄]\s?\d+|\d+\s?[/⁄]\s?\d+|\d+[\s-]?[{_FR}]|[{_FR}]|\d{{1,3}}(?:[,\u2009\u202f]\d{{3}})+(?:\.\d+)?|\d{{1,2}} \d{{3}}(?![\d.,])|\d+(?:[.,·]\d+)?)"
_WORDNUM = (
    r"(?:(?:a|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|thirteen|fourteen|fifteen|sixteen|seventeen|eighteen|nineteen"
    r"|twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)(?:[\s-](?:one|two|three|four|five|six|seven|eight|nine))?(?:\s+and\s+(?:a\s+)?(?:half|quarter|three\s+quarters))?|half\s+an?)"
)
_FEET = r"(?:ft\b\.?|feet\b|foot\b|['’′](?!['’′]|[^\W\d]))"
_INCH = r"(?:inch(?:es)?\b|ins\b\.?|in\b\.?|\"|″|”|''|’’|′′)"
_METRIC = r"(?:mm\b|millimet(?:re|er)s?\b|cm\b|centimet(?:re|er)s?\b|m\b(?!\d)|met(?:re|er)s?\b)"

# Where a pattern can begin is looked at first, since it saves most of the time of its many ways at all other places.
_LENGTH = re.compile(
    rf"(?=[\d{_FR}])(?:(?P<ft>{_NUM})\s?-?(?:{_FEET})[\s,-]*(?:and\s+)?(?P<ftin>{_NUM})\s?-?(?:{_INCH})"
    rf"|(?P<ft2>{_NUM})\s?-?(?:{_FEET})"
    rf"|(?P<inch>{_NUM})\s?-?(?P<inu>{_INCH})"
    rf"|(?P<met>{_NUM})\s?-?(?P<unit>{_METRIC}))",
    re.IGNORECASE,
)
_WORD_LENGTH = gated(
    rf"(?P<n>{_WORDNUM})[\s-]+(?P<u>feet|foot|inch(?:es)?|met(?:re|er)s?|millimet(?:re|er)s?|centimet(?:re|er)s?|yards?)\b"
    rf"(?:(?:\s+and)?\s+(?P<n2>{_WORDNUM}|\d+)\s+inch(?:es)?\b|\s+and\s+(?P<h>a\s+half))?",
    re.IGNORECASE,
)
_SIZE = re.compile(
    rf"(?=[\dMN#Ø⌀D{_FR}])(?:\bM\d{{1,2}}(?:\s?[x×X]\s?\d+(?:\s?mm\b)?)?|(?:No\.\s?|#)\d+\s?[x×X-]\s?{_NUM}\s?(?:{_INCH})?|\#\d+"
    rf"|\b\d+[/⁄]\d+[-–]\d+\s?[x×X]\s?{_NUM}\s?(?:{_INCH})?|{_NUM}\s?(?:{_INCH}|mm\b)?\s?[x×X]\s?{_NUM}(?:\s?(?:{_INCH}|mm\b))?"
    rf"|(?:Ø|⌀|\bdia\.?\s)\s?{_NUM}(?:\s?(?:mm\b|{_INCH}))?|\b\d+\s?(?:ga\b\.?|gauge\b))",
    re.IGNORECASE,
)
_COUNT = re.compile(
    r"(?=[(\dX×Q])(?:\((?P<par>\d{1,3})\)|(?P<no>(?<!\d x )(?<!\d × )(?<!\dx)(?<!\d×)\d{1,4})[\s-]*(?:No\.?|nos\.?|off|pcs\.?|pc\.?|pieces|ea\.?)(?![\w.]*\d)(?=[\s,;:.)]|$)|(?P<x1>\d{1,4})\s?[x×]\s(?=[A-Za-z(])|(?<![\w.])[x×]\s?(?P<x2>\d{1,4})\b(?!\s?(?:mm|cm|m\b|ft\b|in\b|\"|'|’)|[.,]\d)"
    r"|\bqty\.?:?\s?(?P<qty>\d{1,4})\b)",
    re.IGNORECASE,
)
_TOKEN = re.compile(  # most are plain words
    rf"(?=\S)(?:[a-z]+(?=[ ,])|[A-Za-z]{{1,3}}-?\d{{1,4}}[A-Za-z]?\b|w/o|w/|c/c|[A-Za-z][A-Za-z.]*\.(?=[A-Za-z.]*[a-z]\.)[A-Za-z.]+|[^\W\d_]+(?:['’](?=s\b|t\b|ll\b|l\b|re\b|ve\b)[^\W\d_]+)?(?:-[^\W\d_]+)*|(?P<num>{_NUM})|[^\w\s]|\w+)"
)


@dataclass(slots=True)
class Tok:
    """A token of a passage. ``cat``: word, num, len, size, count, punct. ``value`` is mm for lengths, a number for num and count."""

    text: str
    low: str
    start: int
    end: int
    cat: str
    value: Any = None
    unit: str | None = None


def number(text: str) -> float:
    """The value of a number as printed: 1 3/8, 1-3/8, 1⅜, 1,200 (thousands), 2,5 (comma decimal), 3/4."""
    t = text.strip().replace("⁄", "/").replace("·", ".")
    if t[-1] in FRACTIONS:
        whole = t[:-1].strip(" -\u00a0")
        return (float(whole) if whole else 0.0) + FRACTIONS[t[-1]]
    match = re.fullmatch(r"(?:(\d+)[\s-]+)?(\d+)\s?/\s?(\d+)", t)
    if match:
        whole, top, bottom = match.groups()
        return float(whole or 0) + (float(top) / float(bottom) if float(bottom) else 0.0)
    if re.fullmatch(r"\d{1,3}(?:[, \u2009\u202f]\d{3})+(?:\.\d+)?", t):
        return float(re.sub(r"[, \u2009\u202f]", "", t))
    return float(t.replace(",", "."))


_UNITS = (
    *("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"),
)
_TENS = ("twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_WORD_VALUES = {
    **{word: value for value, word in enumerate(_UNITS)},
    **{word: 10 * tens for tens, word in enumerate(_TENS, 2)},
    "a": 1,
    "an": 1,
}
_WORD_PARTS = {"half": 0.5, "a half": 0.5, "quarter": 0.25, "a quarter": 0.25, "three quarters": 0.75}


def word_number(text: str) -> float | None:
    """The value of a number in words up to ninety-nine, with "and a half" and the like; None if it is not one."""
    words = re.split(r"[\s-]+", text.lower().strip())
    if words and words[0] == "half":
        return 0.5
    total, extra = 0.0, 0.0
    for index, word in enumerate(words):
        if word == "and":
            rest = " ".join(words[index + 1 :])
            extra = _WORD_PARTS.get(rest, 0.0)
            break
        if word not in _WORD_VALUES:
            return None
        total += _WORD_VALUES[word]
    return total + extra


# "2 in each", "put 4 in the": a count and a preposition, not inches.
_NOT_INCH = re.compile(
    r"\s+(?:each|every|the|both|all|any|hoops?|bags?|place|total|this|that|its|their|turn|one|two|position|a|an|it|them|these|half)\b",
    re.IGNORECASE,
)

_AFTER_FOOT = re.compile(
    r"\s+(?:up|above|below|from|in\b|and|along|down|apart|inside|outside|either|each side|long|high|wide|deep|of|on|at|to|out|away|further|more|back|over)\b",
    re.IGNORECASE,
)
_NEVER_INCH = re.compile(
    r"\s+(?:(?:just |exactly |much |precisely |quite )?the same|(?:a |much the )?(?:similar|like) (?:way|manner|fashion)|turn\b|all\b|total\b|order\b|each\b|every\b|step\b|stage\b|this way|that way|like manner|exactly the same)",
    re.IGNORECASE,
)


_DIGIT = re.compile(rf"[\d{_FR}]")  # every number in digits has one


def _lengths(text: str, digits: bool) -> list[Tok]:
    found = []
    for m in _LENGTH.finditer(text) if digits else ():
        start = m.start()
        if start and (text[start - 1].isalnum() or text[start - 1] in "./"):
            continue
        if m["ft"]:
            value, unit = number(m["ft"]) * MM["ft"] + number(m["ftin"]) * MM["in"], "ft"
        elif m["ft2"]:
            if (
                m.group().lower().endswith("foot")
                and re.match(r"\s+[a-z]", text[m.end() :], re.IGNORECASE)
                and not _AFTER_FOOT.match(text, m.end())
            ):
                continue  # "1 foot pin"
            value, unit = number(m["ft2"]) * MM["ft"], "ft"
        elif m["inch"]:
            plain = m["inch"].isdigit() and m["inu"].lower() == "in"
            if plain and ((_NOT_INCH.match(text, m.end()) and int(m["inch"]) < 9) or _NEVER_INCH.match(text, m.end())):
                continue
            value, unit = number(m["inch"]) * MM["in"], "in"
        else:
            name = m["unit"].lower()
            unit = "mm" if name.startswith(("mm", "milli")) else "cm" if name.startswith("c") else "m"
            value = number(m["met"]) * MM[unit]
        found.append(Tok(m.group(), m.group().lower(), start, m.end(), "len", round(value, 4), unit))
    for m in _WORD_LENGTH.finditer(text):
        n = word_number(m["n"])
        if n is None or (
            m["u"].lower() == "foot"
            and not re.match(r"\s*(?:up|above|below|from|in\b|and|along|six|down|apart|inside|outside|either|each side)", text[m.end() :])
        ):
            continue
        unit = {"f": "ft", "i": "in", "m": "m", "c": "cm", "y": "yd"}[m["u"][0].lower()]
        if m["u"].lower().startswith("milli"):
            unit = "mm"
        value = n * MM[unit] + (0.5 * MM[unit] if m["h"] else 0.0)
        if m["n2"]:
            value += ((word_number(m["n2"]) or 0) if not m["n2"].isdigit() else float(m["n2"])) * MM["in"]
        found.append(Tok(m.group(), m.group().lower(), m.start(), m.end(), "len", round(value, 4), unit))
    return found


def _sizes(text: str) -> list[Tok]:
    return [
        Tok(m.group(), m.group().lower(), m.start(), m.end(), "size")
        for m in _SIZE.finditer(text)
        if not (m.start() and text[m.start() - 1].isalnum())
    ]


def _counts(text: str) -> list[Tok]:
    found = []
    for m in _COUNT.finditer(text):
        if m.start() and text[m.start() - 1].isalnum() and not m["x2"]:
            continue
        value = int(next(g for g in m.groups() if g))
        if m["no"] and m.group().rstrip(".").endswith(("PC", "PCS", "EA")) and not text.isupper():
            continue  # a code in a text that is not all capitals
        found.append(Tok(m.group(), m.group().lower(), m.start(), m.end(), "count", value))
    return found


def lex(text: str) -> list[Tok]:
    """Tokens of ``text`` in order; the longest of lengths, sizes and counts goes before plain words and numbers.

    The tokens are shared between all who ask for the same text: nobody changes one.
    """
    return list(_lexed(text))


def forget_texts() -> None:
    """Let go of the tokens that are kept while a manual is read, pass after pass."""
    _lexed.cache_clear()


@lru_cache(maxsize=1 << 15)
def _lexed(text: str) -> tuple[Tok, ...]:
    digits = _DIGIT.search(text) is not None
    found = [*_sizes(text), *_counts(text), *_lengths(text, digits)] if digits else _lengths(text, digits)
    special = sorted(found, key=lambda t: (t.start, -(t.end - t.start)))
    tokens: list[Tok] = []
    at = 0
    for tok in special:
        if tok.start < at:
            continue
        tokens += _plain(text, at, tok.start)
        tokens.append(tok)
        at = tok.end
    return tuple(_without_twins(_shared_units(tokens + _plain(text, at, len(text)))))


def _shared_units(tokens: list[Tok]) -> list[Tok]:
    """ "30, 60 and 90 cm up": the unit behind the last number holds for all of the list."""
    out = list(tokens)
    for k, tok in enumerate(tokens):
        if tok.cat != "len" or tok.unit not in MM or not tok.low[0].isdigit():
            continue
        first = k
        while first >= 2 and tokens[first - 1].low in {",", "and", "or", "&"} and tokens[first - 2].cat == "num":
            first -= 2
        before = tokens[first - 1] if first else None
        if before is not None and (before.cat != "punct" and before.low not in {"at", "be", "sit", "sits", "go", "goes", "stop"}):
            continue  # "hoops 2, 3 and 7, 90 cm up": those are hoops
        for j in range(first, k, 2):
            one = tokens[j]
            out[j] = Tok(one.text, one.low, one.start, one.end, "len", round(float(one.value) * MM[tok.unit], 4), tok.unit)
    return out


_COUNTED = frozenset({*hoop_forms(), "step", "steps", "no", "no."})  # what a bare number names, and is no length
_BARE_AFTER = {
    *("above", "below", "from", "up", "down", "in", "long", "wide", "high", "apart", "along", "c/c"),
    *("centres", "centers", "deep", "short", "either", "each", "beyond", "inside", "outside", "to", "off"),
    *("off-centre", "away", "between"),
}
_BARE_BEFORE = {
    *("width", "length", "height", "spacing", "radius", "diagonal", "diagonals", "at", "x", "by"),
    *("projection", "overall", "pitch", "centres", "distance"),
}


def bare_lengths(tokens: list[Tok], inches: bool = False) -> list[Tok]:
    """In a manual that gives all dimensions in mm without the unit: "1350 above foot", "at 1750 c/c" are lengths.

    With ``inches`` its bare numbers are inches: "at 62-1/4", "to 9 3/8 up".
    """
    if inches:
        return [_bare_inches(tokens, k) for k in range(len(tokens))]
    out = []
    for k, tok in enumerate(tokens):
        if tok.cat == "num" and float(tok.value).is_integer() and 20 <= tok.value < 100000:
            after = tokens[k + 1].low if k + 1 < len(tokens) else ""
            before = tokens[k - 1].low if k else ""
            far = tok.value >= 1000 and (not after or after in {",", ".", ";", ")"})
            if (
                (after in _BARE_AFTER and tok.value >= 20 and before not in _COUNTED)
                or (before in _BARE_BEFORE and tok.value >= 100)
                or far
            ):
                out.append(Tok(tok.text, tok.low, tok.start, tok.end, "len", float(tok.value), "mm"))
                continue
        out.append(tok)
    return out


def _bare_inches(tokens: list[Tok], k: int) -> Tok:
    """The token, as a length if it is a number behind "at" or "to" with no noun of its own."""
    tok = tokens[k]
    before = tokens[k - 1].low if k else ""
    after = tokens[k + 1] if k + 1 < len(tokens) else None
    alone = after is None or after.cat == "punct" or after.low in _BARE_AFTER or after.low == "and"
    if tok.cat != "num" or not 1 <= tok.value <= 400 or before not in ("at", "to", "and") or not alone:
        return tok
    if before == "to" and k > 1 and tokens[k - 2].cat == "num" and (after is None or after.low == "in"):
        return tok  # "bows 2 to 11 in the same way"
    if before == "and" and not any(t.low == "at" for t in tokens[max(0, k - 4) : k - 1]):
        return tok  # "at 18 and 62-1/4"
    return Tok(tok.text, tok.low, tok.start, tok.end, "len", 25.4 * float(tok.value), "in")


def _without_twins(tokens: list[Tok]) -> list[Tok]:
    """Drop a length in brackets behind a length: it says the same in other units."""
    if not any(t.cat == "len" for t in tokens):
        return tokens
    out: list[Tok] = []
    k = 0
    while k < len(tokens):
        if (
            out
            and out[-1].cat == "len"
            and k + 2 < len(tokens)
            and tokens[k].text in "(["
            and tokens[k + 1].cat == "len"
            and tokens[k + 2].text in ")]"
            and abs(tokens[k + 1].value - out[-1].value) <= 0.03 * out[-1].value + 1
        ):
            k += 3
            continue
        out.append(tokens[k])
        k += 1
    return out


def _plain(text: str, start: int, end: int) -> list[Tok]:
    out = []
    for m in _TOKEN.finditer(text, start, end):
        word = m[0]
        first, last = m.span()
        if word.isalpha():
            out.append(Tok(word, word.lower(), first, last, "word"))
        elif m.lastgroup is not None:  # a number
            if text[last : last + 1] == "°":
                out.append(Tok(word, word, first, last, "word"))  # an angle is no count
                continue
            out.append(Tok(word, word, first, last, "num", number(word)))
        elif word[0].isalpha():
            out.append(Tok(word, word.lower().replace("’", "'"), first, last, "word"))
        elif word[0].isdigit():
            out.append(Tok(word, word.lower(), first, last, "word"))
        else:
            out.append(Tok(word, word, first, last, "punct"))
    return out
