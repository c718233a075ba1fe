"""Sentences that speak in the letters of a parts list: "Using (T), clamp the line to …", "one nut in each (C) and (D)"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from itertools import takewhile

from hoopwright.grammar.hoop_nouns import hoop_nouns
from hoopwright.grammar.inflect import plural
from hoopwright.parsing import gates
from hoopwright.parsing.gates import gated

_NUMBER = r"(?:an?|one|two|three|four|five|six|seven|eight|nine|ten|\d+)"
_BEFORE_CODE = rf"(?:^|(?<=[,;:])|\b(?i:using|with|by|and|or|of|in|on|to|from|through|under|over|onto|into|for|at|each|every|the|both|per|all|any|{_NUMBER}))"
_TOOLS = gated(r"^(?:using|with|taking|take) ", re.IGNORECASE)

_NUMBERED_THINGS = (
    "step",
    "stage",
    "section",
    "table",
    "fig",
    "figure",
    "detail",
    "point",
    "bag",
    "box",
    "page",
    "row",
    "part",
    "item",
    "note",
    "line",
    "view",
    "chart",
    "type",
    *hoop_nouns(),
)


def _alone(codes: Mapping[str, str]) -> re.Pattern[str] | None:
    """A code of one capital ("K", or "AA" behind Z) as a noun of its own, with the word or number before it."""
    letters = "|".join(sorted((re.escape(code) for code in codes if re.fullmatch(r"([A-Z])\1?", code)), key=len, reverse=True))
    if not letters:
        return None
    # "A" and "I" are words unless a number stands before them.
    return re.compile(
        rf"(?P<before>(?:\(\d+\)|\b\d+|\b[A-Za-z]+|^|[,;:])\s*)\b(?P<code>(?<=\) )(?:{letters})|(?<=\d )(?:{letters})|(?![AI]\b)(?:{letters}))\b"
        r"(?![-.]\w|[/'’°]|\s?=)"
    )


def _item_pattern(codes: Mapping[str, str]) -> re.Pattern[str] | None:
    """ "item K", "items J, K and L", "pos. 21", "#21", "two pieces of item T"; "no. 7" is a hoop as often as a part."""
    if not codes:
        return None
    code = _any_of(codes)
    one, some = r"(?i:(?:pos|item|ref|part|fitting)\.?(?: no\.?)? ?#?)|#", r"(?i:(?:items|refs|parts|fittings|pos)\.?(?: nos?\.?)? ?)"
    more = rf"(?:(?:, ?| and | or |, and | to | ?[-–/+] ?){code})"
    lettered = _any_of(known for known in codes if known[0].isalpha())
    return re.compile(
        rf"(?P<noun>\b[A-Za-z-]+)?(?P<comma>,)?\s*(?:\((?:{one}|{some})(?P<inside>{code}{more}*)\)|(?:(?<=\W)|^)(?P<pieces>(?i:pieces?|pcs\.?|off) (?i:of )?)?"
        # a number behind "pos. 21, " may count the next thing
        rf"(?P<word>{some}(?={code}{more}(?! [a-z]))|{one}|{some})(?P<codes>(?<=[sS] ){code}{more}*|{lettered}{more}*|{code}(?: (?:and|or|to) {code}(?! [a-z]))*)(?!:))"
    )


def _any_of(codes: Iterable[str]) -> str:
    """A printed code and no more: "A" is none in "A4" or "A-frame", nor in "item A long tube", where the article would stand."""
    letters = "|".join(sorted(map(re.escape, codes), key=len, reverse=True)) or "(?!)"
    return rf"(?<![\w-])(?:{letters})(?![\w’'-])"


def speaks_in_letters(codes: Mapping[str, str], texts: Iterable[str]) -> bool:
    """Whether a manual uses the letters of its list as nouns: "Slide (1) K onto each", "each L and each M uses"."""
    alone = _alone(codes)
    if alone is None:
        return False
    told = re.compile(r"(?:\(\d+\)|\b(?:\d+|one|two|three|four|each|every|both))\s+$", re.IGNORECASE)
    uses = sum(bool(told.search(match["before"])) for text in texts for match in alone.finditer(text))
    return uses >= 3


class Lettering:
    """Puts names for the letters of ``codes`` (printed code → part name) where a letter in brackets stands for a noun.

    ``fittings`` are the names that count on hoops; a part named before the sentence proper ("Using (T), …") is the one that it is
    done with.
    """

    def __init__(
        self,
        codes: Mapping[str, str],
        fittings: frozenset[str],
        letters_alone: bool = False,
        marks: Mapping[str, Sequence[str]] | None = None,
    ) -> None:
        self.marks = [
            (
                re.compile(
                    rf"\b(?:parts?|fittings?|pieces?|items?) (?:that (?:is|are) )?marked (?:with )?(?:an? )?{re.escape(mark)}(?!\S)",
                    re.IGNORECASE,
                ),
                names,
            )
            for mark, names in (marks or {}).items()
        ]
        self.kinds = [
            (re.compile(rf"\b(?P<det>every|each|all) {re.escape(mark)}[ -](?:parts?|fittings?|pieces?|items?)\b", re.IGNORECASE), names)
            for mark, names in (marks or {}).items()
        ]
        self.codes, self.fittings = dict(codes), fittings
        self.code = _any_of(self.codes) if self.codes else ""
        self.item = _item_pattern(self.codes)
        # "every piece from R1 to R6": each of these kinds
        self.kind_of_items = re.compile(
            rf"(?P<det>(?i:every|each|all)) (?i:pieces?|parts?|items?|fittings?|ones?|things?) (?i:of |from |marked |coded |with )?(?i:nos?\.? ?|items? |parts? )?(?P<codes>{self.code} ?(?:to|-|–|through) ?{self.code})"
        )
        self.alone = _alone(self.codes) if letters_alone else None
        letters = "|".join(sorted(map(re.escape, self.codes), key=len, reverse=True))
        self.bare = re.compile(rf"{_BEFORE_CODE}\s*\(({letters})\)") if letters else None
        names = "|".join(sorted((re.escape(n) + "s?" for n in {*self.codes.values(), *fittings}), key=len, reverse=True))
        self.tools = re.compile(rf"(?:the |some )?({names})(?: \([A-Z0-9]{{1,4}}\))?", re.IGNORECASE) if names else None

    def __call__(self, text: str, around: str = "") -> str:
        """``text`` in names; ``around`` is the step that it stands in, whose other sentences may count what this one only names."""
        around = around.replace(text, " ")
        for pattern, names in self.marks:
            text = pattern.sub(_and(tuple(plural(name) for name in names)).capitalize(), text)
        for pattern, names in self.kinds:
            text = pattern.sub(lambda match, names=names: f"{match['det']} {_and(names)}", text)  # type: ignore[misc]
        if self.item is not None:
            text = self.kind_of_items.sub(lambda match: f"{match['det']} {_and(self._coded(match['codes']))}", text)
            text = self.item.sub(self._item, text)
        if self.alone is not None:
            text = self.alone.sub(self._name, re.sub(r"\((\d+)\)(?= (?:to|or|and) \(\d)", r"\1", text))
        if self.bare is not None and "(" in text:
            while (match := self.bare.search(text)) is not None:
                lead = match[0][: match[0].rindex("(")].rstrip()
                text = f"{text[: match.start()]}{lead} {self.codes[match[1]]}{text[match.end() :]}".lstrip()
        return self._without_tools(text, around)

    def _item(self, match: re.Match[str]) -> str:
        """ "bolt pos. 21" → "bolt M8 × 50"; "the ridge tubes (pos. 4)" → "the ridge tubes"; "two items K" → "two cross holders"."""
        noun, bracketed = match["noun"] or "", match["inside"] is not None
        kind = re.search(r"([A-Za-z]+) $", match.string[: match.start("noun")]) if noun.lower() == "of" else None
        if kind is not None and kind[1].lower().removesuffix("s") in {name.split()[-1] for name in self.fittings}:
            return match[0]  # "each clamp or clip of items C1 to C6"
        names = self._coded(match["inside"] or match["codes"])
        head = names[0].split()
        words = list(takewhile(lambda word: not any(c.isdigit() for c in word), head))
        said = noun.lower().removesuffix("s")
        if len(names) == 1 and words and said == words[-1] and names[0] in self.fittings and (len(words) == 1 or len(head) > len(words)):
            return f"{noun} {' '.join(head[len(words) :])}".rstrip()
        if bracketed or any(said in (word, word.removesuffix("s")) for name in names for word in name.split()):
            return noun
        if match["comma"]:
            noun = f"{noun},"
        many = match["word"].lower().rstrip(". #").endswith("s") or match["pieces"] is not None
        if noun.lower() in ("a", "an"):
            noun = "an" if names[0][0] in "aeiou" else "a"
        return f"{noun} {_and([plural(name) if many and name[-1].isalpha() else name for name in names])}".lstrip()

    def _coded(self, text: str) -> list[str]:
        """The parts of "J, K and L" or "10 to 12", in the order of the list."""
        order = list(self.codes)
        found: list[str] = []
        for piece in re.split(r",| and | or ", text):
            printed = re.findall(self.code, piece)
            if len(printed) == 2 and order.index(printed[0]) < order.index(printed[1]):
                printed = order[order.index(printed[0]) : order.index(printed[1]) + 1]
            found += printed
        return [self.codes[code] for code in found]

    def _name(self, match: re.Match[str]) -> str:
        """ "(2) R" → "2 self-drilling screws"; the letter behind its own noun ("bolts S") stays."""
        name, before = self.codes[match["code"]], match["before"]
        head = name.split()[-1]
        said = before.strip(" ()").lower()
        if said.removesuffix("s") in (head, *_NUMBERED_THINGS):
            return match[0]
        open_number = said in ("with", "using", "by")  # "screw it to the board with V": the plural leaves the number open
        many = open_number or (
            said not in ("1", "one", "a", "an", "each", "every", "per", "the", "another") and re.fullmatch(_NUMBER, said)
        )
        article = "a" if said in ("a", "an") else before.strip("() ") if before.startswith("(") else before.strip()
        if article == "a" and name[0] in "aeiou":
            article = "an"
        return f"{article} {plural(name) if many else name}".lstrip()

    def _without_tools(self, text: str, around: str) -> str:
        """ "Using carriage bolt and lock nut, put one carriage bolt …": the parts that the sentence names itself are left out."""
        match = _TOOLS.match(text)
        if match is None or self.tools is None:
            return text
        listed = self._listed(text, match.end())
        if listed is None:
            return text
        names, rest = listed
        left = []
        for name in names:
            known = name if name in self.fittings else name.removesuffix("s")
            if known not in self.fittings:
                continue
            rest, named = _named(rest, known)
            if not named and not _named(around, known)[1]:
                left.append(known)
        rest = rest[0].upper() + rest[1:]
        if not left:
            return rest
        # No number is said: the plural leaves it open.
        return f"With {' and '.join(plural(name) for name in left)}, {rest[0].lower()}{rest[1:]}"

    def _listed(self, text: str, start: int) -> tuple[list[str], str] | None:
        """(the parts listed from ``start`` on, the sentence behind them); None where anything else stands in the list."""
        assert self.tools is not None
        for comma in sorted((m.start() for m in gates.finditer(r", (?=[a-z])", text)), reverse=True):
            items = [item for item in re.split(r",? and |, ", text[start:comma]) if item]
            found = [self.tools.fullmatch(item.strip()) for item in items]
            if items and all(found):
                return [m[1].lower() for m in found if m is not None], re.sub(r"^(?:then|now) ", "", text[comma + 2 :])
        return None


def _and(names: Sequence[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def _named(rest: str, name: str) -> tuple[str, bool]:
    """(``rest`` with ``name`` in full where only its head word stands, whether it names the part at all)."""
    low = rest.lower()
    if gates.search(rf"\b{re.escape(name)}s?\b", low):
        return rest, True
    head = name.split()[-1]
    match = gates.search(rf"(?<![\w-])({_NUMBER}|the|each|every) ({re.escape(head)}s?)\b", rest, re.IGNORECASE)
    if match is None:
        return rest, False
    return f"{rest[: match.start(2)]}{' '.join(name.split()[:-1])} {rest[match.start(2) :]}", True
