"""Cards with fields ("Hoops: 2 and 5 / Fit: 2 brace rings / Where: one on each half") put into sentences as other manuals have them.

The sentences are only what is read; each keeps the printed words of its fields as its source.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal

from hoopwright.model.events import Amount, Event
from hoopwright.model.frame import Doubt
from hoopwright.model.outline import Item, Passage
from hoopwright.parsing.cardfields import Basis, Card, Cards, number_of
from hoopwright.parsing.elements import El
from hoopwright.parsing.kit import singular
from hoopwright.parsing.sentences import sentences

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter

_COUNT = r"(?:an?|one|two|three|four|five|six|seven|eight|\d{1,2})"
_IN_ALL = re.compile(r",?\s*\b(?:in all|in total|altogether|all told|all together)\b", re.IGNORECASE)
_EACH = re.compile(r"\b(?:each|every|per|either|both)\b", re.IGNORECASE)
_BOTH = re.compile(r"^(?:on )?(?:both|each|every|either|the two)(?: of the)? (?P<noun>[a-z]+)(?:,\s*|$)", re.IGNORECASE)
_NOTHING = re.compile(r"^(?:nothing|none|no \w+|nil|n/a|not? needed|[-–—])(?![\w-])", re.IGNORECASE)
_SHARE = re.compile(
    rf"^(?P<n>{_COUNT}) (?P<rest>(?:on|onto|over|in|into|at|to|round|around|through|under|for|per|each side|either side)\b.*)$",
    re.IGNORECASE | re.DOTALL,
)
_BARE = re.compile(
    r"\b(?P<n>(?:one|two|three|four|\d{1,2}))(?P<each>(?: of them| of these)?)(?=(?: on| onto| over| in| into| at| to| round| around| per| through)\b)",
    re.IGNORECASE,
)
_BESIDES = re.compile(r"^(?:the )?(?:[a-z]+ )?(?:half|side|leg|foot|end|tube|upright|limb)\b(?! of)", re.IGNORECASE)  # a place without "on"
_ARTICLE = re.compile(r"^the ", re.IGNORECASE)
_PLACED = re.compile(r"^(?:on|onto|over|in|into|at|to|round|around|through|under|inside|across|between)\b", re.IGNORECASE)
_FOR_EACH = re.compile(
    rf"^(?:for|to|on|with) (?:each|every) (?P<owner>[a-z]+(?: [a-z]+)?),? (?P<what>{_COUNT} .+)$", re.IGNORECASE | re.DOTALL
)
_TAKES = re.compile(r"\b(?:takes?|needs?|gets?|has|have)\b", re.IGNORECASE)
_UNDER_EACH = re.compile(
    rf",? and (?P<what>{_COUNT} [\w ()-]+?) under (?:the|its) (?:head|nut)s? of (?:each|every) (?P<owner>[a-z]+)\b", re.IGNORECASE
)


@dataclass(frozen=True, slots=True)
class Told:
    """A sentence to be read, the printed words that it stands for, and what else its numbers may mean."""

    text: str
    passage: Passage
    doubt: Doubt | None = None
    within: str = ""  # a rule for the fasteners of this fitting alone
    kind: Literal["say", "fetched", "unsaid"] = "say"  # the others have no sentence: what is fetched of ``part``, and what is told nowhere
    part: str = ""
    number: int = 0
    or_number: int = 0  # what "fetched" may mean as well
    adds: bool = True  # False: it can only speak of what is on already


def card_sentences(cards: Cards, it: Interpreter, item: Item) -> Iterator[Told]:
    """A card's sentences in the order in which they are read."""
    card = _Work(cards, it, item)
    if "what" in card.fields:
        yield from card.gathered() if cards.basis(card.fields["what"], it) == "total" else card.fitted()
    elif "how" in card.fields:
        yield from card.done()


class _Work(Card):
    """The sentences that a card stands for."""

    def fitted(self) -> Iterator[Told]:
        """A card that says what one hoop gets."""
        what, how = self.text("what"), self.text("how")
        shown = self.printed("hoops", "what", "where", "how")
        fits = self.fits(what)
        in_all = _IN_ALL.search(what) is not None
        share = _SHARE.match(self.place)
        where = f": {self.place}" if self.place else ""
        if _BESIDES.match(self.place):
            where = f" on the {_ARTICLE.sub('', self.place)}"
        if self.hoops:
            basis = self.cards.basis(self.fields["what"], self.it)
            doubt = self._each_or_all(fits) if basis is None and not share and not _EACH.search(what) and not in_all else None
            tail = f"{', ' if where else ': '}{how}" if how else ""
            if share is not None and len(fits) == 1 and (basis is None or not self._agrees(fits[0], share)):
                yield Told(f"On {self.each_of()}, put {share['n']} {self.name(fits[0])} {share['rest']}{', ' if how else ''}{how}.", shown)
                yield from self._fetched(fits[0], basis)
            else:
                yield Told(f"On {self.each_of()}, fit {what}{where}{tail}.", shown, doubt)
        elif share is not None and len(fits) == 1:
            yield Told(f"Put {share['n']} {self.name(fits[0])} {share['rest']}.", shown)
        elif _PLACED.match(self.place) and not _EACH.search(self.place):
            yield Told(f"Put {_IN_ALL.sub('', what)} {self.place}.", shown)
        else:
            yield Told(f"Fit {what}{where}.", shown)
        yield from self._fixing(fits)

    def _agrees(self, fit: El, share: re.Match[str]) -> bool:
        """Whether a hoop's number and the shares of its places agree, as far as the places are two by nature: "2 rings: one on each half"."""
        pair = re.search(r"\b(?:each|every|either|both) (?:side|half|halves|leg|foot|feet|end)s?\b", share["rest"], re.IGNORECASE)
        number = fit.amount.value if fit.amount is not None else None
        one = self.it.grammar.words["numbers"].get(share["n"].lower()) or (int(share["n"]) if share["n"].isdigit() else 1)
        return number is None or (number == 2 * one if pair is not None else not number % one)

    def _fetched(self, fit: El, basis: Basis | None) -> Iterator[Told]:
        """The number of a card, to be held against what its places get: for one hoop, or for all of them."""
        number = fit.amount.value if fit.amount is not None and fit.amount.open is None else None
        hoops = number_of(self.selector(), self.it.hoops)
        if not number or not fit.parts:
            return
        if basis == "hoop" or basis is None:
            each = (number * hoops,) if hoops else ()
            either = (number, *each) if basis is None else each
            if either:
                yield Told("", self.printed("what"), kind="fetched", part=self.name(fit), number=either[0], or_number=either[-1])
        else:
            yield Told("", self.printed("what"), kind="fetched", part=self.name(fit), number=number)

    def _each_or_all(self, fits: list[El]) -> Doubt | None:
        """The question that a number leaves which may be for each hoop or for all of them."""
        counted = next((el for el in fits if el.amount is not None and el.amount.value), None)
        if counted is None or re.match(r"(?:the )?[a-z]+ \d+$", self.hoops):
            return None
        message = (
            f"The card says {counted.text} for several hoops; each hoop is taken to get that many. Or is it the number for all of them?"
        )
        return Doubt("quantity", message, ("on each", "in all"), "on each")

    def _fixing(self, fits: list[El]) -> Iterator[Told]:
        """What fastens each piece."""
        fix = self.text("fix")
        if not fix or not fits or _NOTHING.match(fix):
            return
        shown = self.printed("what", "fix")
        owner = self.name(fits[0])
        under = _UNDER_EACH.search(fix)
        body = fix[: under.start()] + fix[under.end() :] if under else fix
        share = self._for_one(fits[0], body)
        yield Told(f"Each {owner} takes {share or body}.", shown)
        if share is None and self._open_fixing(fits[0], body):
            message = f"The card says {body}; each {owner} is taken to get that. Or is it for all that the card fits?"
            yield Told(
                "",
                shown,
                Doubt("quantity", message, ("for each", "for all of them"), "for each"),
                kind="unsaid",
                part=self.name(self.fits(body)[0]),
            )
        if under is not None:
            held = next(
                (self.name(el) for el in self.fits(body) if self.name(el).split()[-1] == under["owner"].lower().rstrip("s")), under["owner"]
            )
            yield Told(f"Each {held} takes {under['what']}.", shown, within=owner)

    def _for_one(self, owner: El, fix: str) -> str | None:
        """What one piece takes, where the card's numbers are plainly for all of them ("Parts: 6 tees / With: 6 bolts"); None elsewhere."""
        number = owner.amount.value if owner.amount is not None else None
        fasteners = self.fits(fix)
        counts = [el.amount.value if el.amount is not None else None for el in fasteners]
        told = self.cards.basis(self.fields["fix"], self.it) or self.cards.basis(self.fields["what"], self.it)
        plain = told == "total" and not _EACH.search(fix) and self.cards.basis(self.fields["fix"], self.it) != "piece"
        if not plain or not number or not fasteners or any(not n or n % number for n in counts):
            return None
        return " and ".join(f"{n // number} {self.name(el)}" for n, el in zip(counts, fasteners, strict=True) if n)

    def _open_fixing(self, owner: El, fix: str) -> bool:
        """Whether the fasteners of a card may as well be for all its pieces together: there are as many of them as pieces, or more."""
        number = owner.amount.value if owner.amount is not None else None
        if _EACH.search(fix) or self.cards.basis(self.fields["fix"], self.it) is not None or number == 1:
            return False
        return any(el.amount is not None and el.amount.value and (not number or not el.amount.value % number) for el in self.fits(fix))

    def gathered(self) -> Iterator[Told]:
        """A card that says what is fetched for all its places; how many go where is told by the other fields."""
        what = self.text("what")
        fits = self.fits(what)
        if not fits:
            # who fetches no fitting puts none on
            yield from (replace(told, adds=False) for told in self.done())
            return
        main = self._main(fits)
        told = [*self._shared_by_place(fits), *self.done(self.name(main))]
        counted = any(self._counts(main, sentence.text) for sentence in told)
        if not counted:
            yield self._for_all(main)
        yield from told
        yield from self._fetched(main, "total")
        beside = re.search(r";\s*(?P<rest>.+)$", what)
        if beside is not None and _EACH.search(beside["rest"]):
            each = _FOR_EACH.match(beside["rest"])
            text = f"Each {each['owner']} takes {each['what']}" if each is not None else beside["rest"]
            yield Told(f"{text[:1].upper()}{text[1:]}.", self.printed("what"))
        yield from self._fixing([main])
        yield from self._beside(main, fits)

    def _main(self, fits: list[El]) -> El:
        """What the card is about, of all that it fetches: a fitting before a fastener, and one that is put on by its name before others."""
        pieces = [el for el in fits if not self.fastens(el)] or fits
        how = self.text("how")
        return next((el for el in pieces if self._counts(el, how)), pieces[0])

    def _counts(self, main: El, text: str) -> bool:
        """Whether a text puts on some number of a fitting."""
        for a, b in sentences(text):
            found = [
                el for el in self.fits(text[a:b]) if self.name(el) == self.name(main) and (el.amount is not None or el.det in ("a", "an"))
            ]
            if found and _TAKES.search(text[a:b]) is None:
                return True
        return False

    def _shared_by_place(self, fits: list[El]) -> Iterator[Told]:
        """Fittings that the place names: "hinges on the left post, catch on the right post"."""
        pieces = [piece.strip() for piece in re.split(r"[,;]", self.place)]
        found: list[Told] = []
        for piece in pieces:
            named = next((el for el in self.fits(piece)[:1] if re.match(rf"(?:the )?{re.escape(el.text)} ", piece, re.IGNORECASE)), None)
            number = next((el for el in fits if named is not None and self.name(el) == self.name(named) and el.amount is not None), None)
            rest = re.sub(rf"^(?:the )?{re.escape(named.text)} ", "", piece, flags=re.IGNORECASE) if named is not None else ""
            if number is None or number.amount is None or not number.amount.value or not _PLACED.match(rest) or self.hoops:
                return
            found.append(Told(f"Put {number.amount.value} {self.name(number)} {rest}.", self.printed("what", "where")))
        yield from found

    def _for_all(self, main: El) -> Told:
        """What is fetched, put on the card's places: shared out among its hoops where the number allows it."""
        name, place, shown = self.name(main), self.place, self.printed("what", "where")
        share = _SHARE.match(place)
        if share is not None:
            lead = f"On {self.each_of()}, put" if self.hoops else "Put"
            return Told(f"{lead} {share['n']} {name} {share['rest']}.", shown)
        number = main.amount.value if main.amount is not None and main.amount.open is None else None
        hoops = number_of(self.selector(), self.it.hoops)
        both = _BOTH.match(place)
        ways = 2 if both is not None else 1
        if number and hoops and not number % (hoops * ways) and (both is not None or not _EACH.search(place)):
            side, place = (
                (f" on each {singular(both['noun'].lower(), self.it.grammar)}", place[both.end() :]) if both is not None else ("", place)
            )
            joint = "" if not place else f" on the {_ARTICLE.sub('', place)}" if _BESIDES.match(place) else f", {place}"
            return Told(f"On {self.each_of()}, fit {number // (hoops * ways)} {name}{side}{joint}.", shown)
        pieces = re.split(r"[,;] (?:and )?", self.text("what"))
        what = next((piece for piece in pieces if any(self.name(el) == name for el in self.fits(piece))), self.text("what"))
        where = f": {place}" if place else ""
        return Told(f"{f'On {self.hoops}, fit' if self.hoops else 'Fit'} {what}{where}.", shown, self._shared_out(main))

    def _shared_out(self, main: El) -> Doubt | None:
        if main.amount is None or not main.amount.value:
            return None
        message = f"The card takes {main.text} and does not say how they are shared out."
        return Doubt("quantity", message, ("in all", "on each"), "in all")

    def _beside(self, main: El, fits: list[El]) -> Iterator[Told]:
        """What is fetched besides and told nowhere: fasteners of each piece where the numbers are right for that, a question elsewhere."""
        told = {self.name(el) for kind in ("how", "fix", "where") for el in self.fits(self.text(kind))}
        what = self.text("what")
        told |= {self.name(el) for el in self.fits(what.partition(";")[2])}
        for el in fits:
            if self.name(el) in told | {self.name(main)} or el.amount is None or not el.amount.value:
                continue
            pieces = main.amount.value if main.amount is not None else None
            if self.fastens(el) and pieces and not el.amount.value % pieces:
                yield Told(f"Each {self.name(main)} takes {el.amount.value // pieces} {self.name(el)}.", self.printed("what"))
            elif el.parts:
                yield Told("", self.printed("what"), kind="unsaid", part=self.name(el), number=el.amount.value)

    def done(self, main: str = "") -> Iterator[Told]:
        """What a card tells to do, with its hoops and places; ``main`` is what "one" stands for."""
        shown = self.printed("what", "where", "how")
        first = True
        how = self.text("how")
        for a, b in sentences(how):
            text = self._numbered(how[a:b].rstrip(". "))
            text = self._named(text, main) if main else text
            adds = [el for el in self.fits(text) if el.amount is not None or el.det in ("a", "an")]
            if first and adds and self.hoops:
                place = self.place
                both = _BOTH.match(place)
                if both is not None:
                    place = place[both.end() :]
                    if not _EACH.search(text):
                        text = re.sub(
                            rf"\b({re.escape(main)})\b", rf"\1 on each {singular(both['noun'].lower(), self.it.grammar)}", text, count=1
                        )
                elif re.search(r"\beach (?:left|right)\b", text):
                    place = re.sub(r"^(?:left|right) [a-z]+(?: only)?(?:,\s*|$)", "", place)
                clause = place.lower().startswith(("where ", "wherever ", "when "))
                lead, tail = (f"{place}, ", "") if place and not clause else ("", f", {place}" if place else "")
                text = f"On {self.hoops}, {lead}{text[:1].lower()}{text[1:]}{tail}"
                first = False
            held = (
                re.search(
                    rf"^(?P<put>.*\bone (?P<owner>{re.escape(main)})\b.*\b(?:each|every|both|either)\b.*?)(?<!,) with (?P<what>{_COUNT} .+)$",
                    text,
                )
                if main
                else None
            )
            if held is not None and " under " not in held["what"] and all(self.fastens(el) for el in self.fits(held["what"])):
                yield Told(f"{held['put']}.", shown)
                text = f"Each {main} takes {held['what']}"
            yield Told(f"{text}.", shown)

    def _numbered(self, text: str) -> str:
        """A sentence with the number put in for "the" where the card fetches a thing and the work only names it."""
        for el in self.fits(self.text("what")) if not self.hoops and _TAKES.search(text) is None else ():
            name = self.name(el)
            if el.amount is not None and el.amount.value and not self._counts(el, self.text("how")):
                text = re.sub(rf"\bthe ({re.escape(name)}s?)\b", rf"{el.amount.value} \1", text, count=1, flags=re.IGNORECASE)
        return text

    def _named(self, text: str, main: str) -> str:
        """A sentence with the card's fitting put in for a bare number: "Slide one on", "Slide one ring on" → "Slide one ridge ring on"."""
        *more, last = main.split()
        if more:
            text = re.sub(rf"\b({_COUNT}) ({re.escape(last)}s?)\b", rf"\1 {' '.join(more)} \2", text, flags=re.IGNORECASE)
        bare = _BARE.search(text)
        if bare is None or self.fits(text[: bare.start()]):
            return text
        verb = "Put " if not bare.start() else ""
        return f"{text[: bare.start()]}{verb}{bare['n'].lower() if verb else bare['n']} {main}{text[bare.end() :]}"


def beside(it: Interpreter, told: Told) -> Event:
    """What a card says without a sentence: how many are fetched, to be held against what is put on, or a question."""
    if told.kind == "fetched":
        return it.event("claim", (told.part,), Amount(told.number, high=told.or_number or None, total=True), per="card")
    if told.doubt is not None:
        return it.event("ask", (told.part,), doubts=(told.doubt,))
    message = f"The card takes {told.number} {told.part}, but does not say clearly where they go; none is counted."
    return it.event("ask", (told.part,), doubts=(Doubt("quantity", message, ("none", f"{told.number}"), "none"),))


def turned_card(event: Event, told: Told) -> Event:
    """An event of a card's sentence with what the card says besides: what is in doubt, and what it cannot mean."""
    numbered = event.amount is not None and event.amount.value is not None
    if not told.adds and event.kind == "add":
        return (
            replace(event, kind="claim", per="claim", doubts=())
            if numbered and event.hoops is not None
            else replace(event, kind="claim", per="card")
        )
    if told.doubt is not None and numbered and event.kind in ("add", "rule"):
        event = replace(event, doubts=(*event.doubts, told.doubt))
    if told.within and event.kind == "rule":
        event = replace(event, within=(told.within,))
    return event
