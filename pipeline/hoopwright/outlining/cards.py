"""Steps that are set as cards: the same few words at the starts of lines, each with what it asks for behind it.

3   Hoops:    2 and 5
    Fit:      2 brace rings
    Position: one on each half, 900 mm from the foot
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations, pairwise

from hoopwright.model.outline import FieldKind
from hoopwright.outlining.labels import Label
from hoopwright.outlining.numbering import dangling, finished
from hoopwright.outlining.rows import Row, Sheet
from hoopwright.outlining.vocabulary import vocabulary

_ENOUGH = 3  # cards with the same two words: fewer may be chance
_NUMBER = re.compile(r"(?P<n>\d{1,3}|[A-Z]\d{1,2})(?P<mark>[.):/]?)\s+(?=\S)")
_DRAWN = re.compile(r"^[-=_*~#+.\s─━═]{3,}(?=\w)")
_DRAWN_END = re.compile(r"(?<=[\w).])\s+[-=_*~#+.\s─━═]{3,}$")


@dataclass(frozen=True, slots=True)
class Start:
    """Where a field begins in a row: its kind, its word as printed ("FIT:"), where the word and where what it says begin."""

    kind: FieldKind
    word: str
    at: int
    body: int
    total: bool = False


@dataclass(slots=True)
class Deck:
    """The cards of a sheet, by the positions of its rows: fields that start there, rows that go on with one, and the cards' labels."""

    fields: dict[int, Start] = field(default_factory=dict)
    more: set[int] = field(default_factory=set)
    labels: dict[int, Label] = field(default_factory=dict)
    titles: dict[int, int] = field(default_factory=dict)  # rows that only name a card: where the title ends

    @property
    def taken(self) -> set[int]:
        """The rows that are of no table."""
        return {*self.fields, *self.more, *self.labels, *self.titles}


def find_cards(sheet: Sheet) -> Deck:
    """The cards of a sheet; empty if not at least three share two of their words, one of which says what is fitted."""
    rows = sheet.rows
    starts = {i: start for i, row in enumerate(rows) if not row.rule and (start := _start(row)) is not None}
    more = {i: _goes_on(rows, i, start, starts) for i, start in starts.items()}
    cards = _grouped(starts, more)
    words = _shared(starts, cards)
    if not words:
        return Deck()
    deck = Deck()
    for card in cards:
        known = [i for i in card if starts[i].word in words]
        known = card if len(known) > 1 else known  # a word that one card alone has is a field as well
        for i in known:
            deck.fields[i] = starts[i]
            deck.more |= set(more[i])
    firsts = [card[0] for card in cards if card[0] in deck.fields]
    _named(rows, deck, firsts)
    _numbered(rows, deck, firsts)
    return deck


def _start(row: Row) -> Start | None:
    """The field that a row begins with, behind a card's number if there is one."""
    for at in (0, number.end() if (number := _NUMBER.match(row.text)) else 0):
        match = vocabulary().card_field.match(row.text, at)
        if match is not None and match["word"][0].isupper():
            kind = next(kind for kind in vocabulary().card_kinds if match[kind] is not None)
            return Start(kind, " ".join(match["head"].split()), at, match.end(), match["word"].lower() in vocabulary().card_total)
    return None


def _column(row: Row, start: Start) -> float:
    return row.indent + start.at


def _goes_on(rows: Sequence[Row], i: int, start: Start, starts: Mapping[int, Start]) -> list[int]:
    """The rows below that go on with a field: deeper than its word, or in the middle of its sentence."""
    found: list[int] = []
    for j in range(i + 1, len(rows)):
        row, before = rows[j], rows[j - 1]
        if j in starts or row.rule or row.gap == "hard" or row.boxed != before.boxed:
            break
        deeper = row.indent > _column(rows[i], start) + 1.5
        within = not finished(before.text) and (row.text[0].islower() or dangling(before.text))
        if not deeper and not within:
            break
        found.append(j)
    return found


def _grouped(starts: Mapping[int, Start], more: Mapping[int, Sequence[int]]) -> list[list[int]]:
    """The fields of each card: they stand close below each other, and none comes twice."""
    cards: list[list[int]] = []
    for i, start in starts.items():
        card = cards[-1] if cards else []
        end = max([*card, *(more[card[-1]] if card else ())], default=-2)
        if card and i == end + 1 and not start.at and all(starts[j].kind != start.kind for j in card):
            card.append(i)
        else:
            cards.append([i])
    return cards


def _shared(starts: Mapping[int, Start], cards: Sequence[Sequence[int]]) -> frozenset[str]:
    """The words that the cards of a deck have in common; empty where there is no deck."""
    pairs: Counter[tuple[str, str]] = Counter()
    kind_of = {start.word: start.kind for start in starts.values()}
    for card in cards:
        pairs.update(combinations(sorted({starts[i].word for i in card}), 2))
    enough = [pair for pair, n in pairs.items() if n >= _ENOUGH and {"what", "where", "hoops"} & {kind_of[word] for word in pair}]
    kinds = {kind_of[word] for pair in enough for word in pair}
    if "what" not in kinds or not kinds & {"where", "hoops"}:
        return frozenset()
    main = {word for pair in enough for word in pair}
    beside = {word for pair, n in pairs.items() if n > 1 and main & set(pair) for word in pair}
    return frozenset(main | beside)


def _named(rows: Sequence[Row], deck: Deck, firsts: Sequence[int]) -> None:
    """Labels of cards that a line of their own names ("---- CARD 3 - Ridge saddles"), those without fields among them."""
    above = [i - 1 for i in firsts if i and _name(rows[i - 1]) is not None]
    if len(above) < 2:
        return
    for i, row in enumerate(rows):
        if (
            i in deck.fields
            or i in deck.more
            or (named := _name(row)) is None
            or (row.gap == "none" and i and i - 1 not in deck.taken and not rows[i - 1].rule)
        ):
            continue
        deck.labels[i], deck.titles[i] = named


def _name(row: Row) -> tuple[Label, int] | None:
    """The label of a row that names a card, and where its title ends."""
    lead = _DRAWN.match(row.text)
    match = vocabulary().card_name.match(row.text, lead.end() if lead else 0)
    tail = _DRAWN_END.search(row.text)
    end = tail.start() if tail else len(row.text)
    if match is None or finished(row.text[:end]):
        return None
    printed = match["n"]
    return Label(printed, "card", (int(re.sub(r"\D", "", printed)),), min(match.end(), end), match["word"].lower()), end


def _numbered(rows: Sequence[Row], deck: Deck, firsts: Sequence[int]) -> None:
    """Labels of cards that a number in the margin heads ("050  Hoops: all"), those among them that are told in sentences."""
    heads = [(i, number) for i in firsts if deck.fields[i].at and (number := _NUMBER.match(rows[i].text)) is not None]
    if len(heads) < 2 or not all(_value(a) < _value(b) for (_, a), (_, b) in pairwise(heads)):
        return
    forms = {_form(rows[i], number) for i, number in heads}
    step = min(_value(b) - _value(a) for (_, a), (_, b) in pairwise(heads))
    last = 0
    for i, row in enumerate(rows):
        match = _NUMBER.match(row.text)
        if match is None or _form(row, match) not in forms or not (_opens(rows, i) or {i, i - 1} & deck.taken) or i in deck.more:
            continue
        value = _value(match)
        if last < value and (i in deck.fields or not value % step):
            last = value
            deck.labels[i] = Label(match["n"], "card", (value,), match.end(), sep=match["mark"])


def _form(row: Row, number: re.Match[str]) -> tuple[int, str, int]:
    """What numbers of one row have in common: their place, the mark behind them, and their length if they are filled up with zeros."""
    filled = number["n"].isdigit() and (number["n"][0] == "0" or len(number["n"]) == 3)
    return round(row.indent / 2), number["mark"], len(number["n"]) if filled else 0


def _value(number: re.Match[str]) -> int:
    return int(re.sub(r"\D", "", number["n"]))


def _opens(rows: Sequence[Row], i: int) -> bool:
    return not i or rows[i].gap != "none" or rows[i - 1].rule or finished(rows[i - 1].text)
