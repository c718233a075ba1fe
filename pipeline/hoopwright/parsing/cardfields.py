"""What the fields of a card say: its words, its hoops and its place, and what the manual says of its numbers."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import TYPE_CHECKING, Literal

from hoopwright.model.events import Selector
from hoopwright.model.outline import Field, FieldKind, Item, Outline, Passage, Run
from hoopwright.parsing.elements import El
from hoopwright.parsing.kit import unlisted
from hoopwright.parsing.lex import lex
from hoopwright.parsing.sentences import sentences
from hoopwright.parsing.tables import selector_of

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter

Basis = Literal["hoop", "piece", "total"]
"""What a field's numbers are for: one hoop, one of the pieces just fitted, all places of the card."""

_AS_CARD = re.compile(
    r"^(?:just |exactly )?(?:as|like|the same as|same as|see)(?: (?:on|in|at|for|with))? (?P<word>[a-z]+(?: [a-z]+)?) (?P<n>[A-Z]?\d{1,3})\b[^.]*\.?",
    re.IGNORECASE,
)
_SAME_HOOPS = re.compile(
    r"^(?:the )?same [a-z]+ (?:as|like)(?: (?:on|in|at|for))? [a-z]+(?: [a-z]+)? (?P<n>[A-Z]?\d{1,3})\b", re.IGNORECASE
)


class Cards:
    """The cards of an outline, with what the manual says of their numbers."""

    def __init__(self, outline: Outline) -> None:
        self.by_label = {step.label.lstrip("0"): item.fields for step in outline.steps if step.label for item in step.items if item.fields}
        self.items = [item for step in outline.steps for item in step.items if item.fields]
        self.by_list: dict[str, Basis | None] = {}
        self.notes = [
            item.passage.text[a:b]
            for step in outline.steps
            if self.items
            for item in step.items
            if not item.fields and item.table is None
            for a, b in sentences(item.passage.text)
        ]

    def basis(self, field: Field, it: Interpreter) -> Basis | None:
        """What the numbers of a field are for, by the bracket behind its word, by what the manual says of the word, or by the word."""
        bracket = field.word.partition("(")[2]
        if bracket and (told := _basis(f"for {bracket}", it)) is not None:
            return told
        bare = re.escape(_word(field))
        named = re.compile(
            rf"[\"'“‘]?\b{bare}\b[\"'”’]?"
            if bare.isupper()
            else rf"[\"'“‘]{bare}[\"'”’]|\b(?:after|behind|under|beside|at|against) (?:the word )?{bare}\b"
        )
        for note in self.notes:
            match = named.search(note)
            if match is not None and (told := _basis(note[match.end() :], it)) is not None:
                return told
        return self._by_list(_word(field), it) or ("total" if field.total else None)

    def _by_list(self, word: str, it: Interpreter) -> Basis | None:
        """What the numbers behind a word are for, by the parts list: two parts have to bear it out and none may speak against it."""
        if word not in self.by_list:
            each: dict[str, int] = {}
            total: dict[str, int] = {}
            too_few = False  # fewer pieces than hoops: the number is for each of them
            for item in self.items:
                card = Card(self, it, item)
                number = number_of(card.selector(), it.hoops)
                if "what" not in card.fields or _word(card.fields["what"]) != word or not number or number < 2:
                    continue
                for el in card.fits(card.text("what")):
                    if el.parts and el.amount is not None and el.amount.value and not card.fastens(el):
                        each[el.parts[0]] = each.get(el.parts[0], 0) + number * el.amount.value
                        total[el.parts[0]] = total.get(el.parts[0], 0) + el.amount.value
                        too_few = too_few or (el.amount.value < number and not el.amount.total)
            listed = {part: it.kit.parts[part].listed for part in each}
            for_each = sum(listed[part] == n for part, n in each.items())
            for_all = sum(listed[part] == n for part, n in total.items())
            per_hoop = for_each > 1 or (too_few and for_each)
            self.by_list[word] = "hoop" if per_hoop and not for_all else "total" if for_all > 1 and not for_each and not too_few else None
        return self.by_list[word]


def number_of(hoops: Selector | None, all_hoops: int | None) -> int | None:
    """How many hoops are meant; None where that is not plain."""
    if hoops is None or all_hoops is None:
        return None
    if hoops.kind == "join":
        numbers = [number_of(part, all_hoops) for part in hoops.of]
        return sum(n for n in numbers if n) if all(numbers) else None
    if hoops.kind == "numbers":
        return len(hoops.numbers)
    known = {"all": all_hoops, "end": 2, "inner": all_hoops - 2, "first": 1, "last": 1, "door": 1, "far": 1}
    return known.get(hoops.kind)


def _word(field: Field) -> str:
    return field.word.partition("(")[0].strip(" :=*_-•·")


def _basis(text: str, it: Interpreter) -> Basis | None:
    hoops = "|".join(sorted(it.chunker.hoop_words))
    if re.search(r"\b(?:in all|total|altogether|together|whole|all (?:the )?\w+s)\b", text, re.IGNORECASE):
        return "total"
    one = re.search(r"\b(?:for|per|to|on|of) (?:per |one |each |every |an? |a single |the )*(?P<noun>[a-z]+)", text, re.IGNORECASE)
    if one is None:
        return None
    if re.fullmatch(hoops, one["noun"], re.IGNORECASE):
        return "hoop"
    return "piece" if re.fullmatch(r"pieces?|fittings?|parts?|items?|ones?|them|of", one["noun"], re.IGNORECASE) else None


class Card:
    """One card under way."""

    def __init__(self, cards: Cards, it: Interpreter, item: Item) -> None:
        self.cards, self.it, self.whole = cards, it, item.passage
        self.fields: dict[FieldKind, Field] = {}
        for field in item.fields:
            self.fields.setdefault(field.kind, field)
        self.hoops, self.place = self._where()

    def text(self, kind: FieldKind) -> str:
        """The words of a field without the stop at their end, and without those that only point to another card."""
        field = self.fields.get(kind)
        if field is None:
            return ""
        text = field.passage.text.strip().rstrip(".;, ")
        other = self._other(_AS_CARD.match(text))
        same = other.get(kind) if other else None
        return same.passage.text.strip().rstrip(".;, ") if same is not None else text

    def _other(self, match: re.Match[str] | None) -> Mapping[FieldKind, Field] | None:
        """The fields of the card that a reference names."""
        if match is None:
            return None
        return {field.kind: field for field in reversed(self.cards.by_label.get(match["n"].lstrip("0"), ()))}

    def _where(self) -> tuple[str, str]:
        """The hoops of a card in words ("each of arches 2 and 4"), and the place on them; the hoops may stand in front of the place."""
        place = self.text("where")
        if "hoops" in self.fields:
            return self._hoops(self.text("hoops")), place
        other = self._other(_SAME_HOOPS.match(place))
        if other is not None and "where" in other:
            head = self._split(other["where"].passage.text.rstrip(" ."))[0]
            return head, place.partition(":")[2].strip() or place.partition(",")[2].strip()
        return self._split(place)

    def _split(self, place: str) -> tuple[str, str]:
        hoop = "|".join(sorted({*self.it.chunker.hoop_words, *(f"{word}s" for word in self.it.chunker.hoop_words)}, key=len, reverse=True))
        head, colon, rest = place.partition(":")
        if colon and re.search(rf"\b(?:{hoop})\b", head, re.IGNORECASE) and not re.search(r"\d+ ?(?:mm|cm|m|ft|in)\b", head):
            return head, rest.strip()
        of = re.match(
            rf"^((?:each|every) (?:foot|feet|half|side|leg|end|joint)) of ((?:each|every|the|all) (?:[a-z]+ )?(?:{hoop}))\b,?\s*(.*)$",
            place,
            re.IGNORECASE,
        )
        if of is not None:
            return of[2], f"{of[1]}, {of[3]}".rstrip(", ")
        name = rf"(?:the |each |every |all |both )*(?:[a-z]+ ){{0,2}}(?:{hoop})(?: \d+(?:(?:, | and | to )\d+)*)?"
        lead = re.match(rf"^({name}(?:(?:,| and|, and| but| except) {name})*)(?:,\s*(.*))?$", place, re.IGNORECASE | re.DOTALL)
        return (lead[1], lead[2] or "") if lead is not None else ("", place)

    def _hoops(self, text: str) -> str:
        words = self.it.chunker.hoop_words
        own = _word(self.fields["hoops"]).lower().split()[-1]
        hoop = next((w for w in sorted(words) if own in (w, f"{w}s", f"{w}es")), min(words, default="hoop"))
        many = f"{hoop}es" if hoop.endswith("ch") else f"{hoop}s"
        text = re.sub(r"^on\s+", "", text)
        if any(re.search(rf"\b{word}(?:e?s)?\b", text, re.IGNORECASE) for word in words):
            return text
        if re.fullmatch(r"#?\d+", text):
            return f"{hoop} {text.strip('#')}"
        if re.match(r"#?\d", text):
            return f"each of {many} {text}"
        if (match := re.fullmatch(r"(?:all|every|each|any)(?P<but> (?:but|except|save) .+)?", text, re.IGNORECASE)) is not None:
            but = match["but"] or ""
            named = hoop if re.fullmatch(r"\D*\d+", but) else many
            return f"each {hoop}" + re.sub(r"(?<=\s)(?=\d)", f"{named} ", but, count=1)
        bare = re.sub(r"^(?:the|all|both|each of the) ", "", text)
        return f"each of the {bare} {many}"

    def selector(self) -> Selector | None:
        """The card's hoops."""
        return selector_of(self.it.spelt(self.hoops), self.it.chunker) if self.hoops else None

    def each_of(self) -> str:
        """The card's hoops in words that share out: "hoops 2 and 3" → "each of hoops 2 and 3"."""
        text = re.sub(r"^(?:all|both)(?: of)?(?: the)? (?=[a-z]+s$)", "each of the ", self.hoops, flags=re.IGNORECASE)
        plural = re.match(r"(?:the )?(?:[a-z]+ )?[a-z]+s\b", text, re.IGNORECASE)
        return f"each of {text}" if plural and not re.match(r"(?:each|every)\b", text, re.IGNORECASE) else text

    def fits(self, text: str) -> list[El]:
        """The fittings that a text names."""
        return [el for el in self.it.chunker.elements(lex(text)) if el.type == "fit" and (el.parts or el.words)]

    def name(self, el: El) -> str:
        """The name of a fitting, listed or not."""
        return el.parts[0] if el.parts else " ".join(el.words)

    def fastens(self, el: El) -> bool:
        """Whether a fitting is a bolt, nut, screw or the like."""
        return self.it.is_fastener(el.parts) if el.parts else unlisted(el.words, self.it.grammar).form == "fastener"

    def printed(self, *kinds: FieldKind) -> Passage:
        """The printed words of some fields; of the whole card where it has none of them."""
        found = [field.passage for field in self.fields.values() if field.kind in kinds]
        return _joined(found) if found else self.whole


def _joined(passages: list[Passage]) -> Passage:
    """Passages one behind the other, with a blank between them."""
    text, runs = "", []
    for passage in passages:
        text += " " if text else ""
        runs += [Run(len(text) + run.at, run.start, run.length, run.page) for run in passage.runs]
        text += passage.text
    return Passage(text, passages[0].document, tuple(runs))
