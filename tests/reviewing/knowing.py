"""What somebody answers who has read the manual as the reference has: words for every question, from the reference's counts."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import replace

from hoopwright.model.frame import Call, Frame
from hoopwright.model.schedule import Question
from hoopwright.reviewing.answers import Answer, Answers
from hoopwright.reviewing.apply import apply
from hoopwright.reviewing.matching import asked_of
from hoopwright.reviewing.previews import with_answer

import score
from library import Kit

Row = dict[int | None, int]  # pieces of one fitting by hoop; None: on other members, together

# Words where a reference says nothing that an answer could be made of.
OPEN = {"position": "300 mm above the ground", "order": "as printed", "reference": "as counted", "member": "all", "quantity": "none"}


class Reader:
    """Reads a kit's reference. ``frame`` is the frame before answers, its questions keyed."""

    def __init__(self, kit: Kit, frame: Frame) -> None:
        reference = kit.reference
        self.frame = frame
        self.names = score.Names(reference)
        self.hoops = range(1, reference["hoops"] + 1)
        self._counts = score.table(reference["counts"], self.names)
        self._elsewhere = score.flat(reference.get("elsewhere", {}), self.names)
        self._positions = reference.get("positions", [])

    def row(self, fitting: str) -> Row:
        """The reference's counts of a fitting."""
        name = self.names(fitting)
        return {hoop: self._counts[f"H{hoop}", name] for hoop in self.hoops} | {None: self._elsewhere[name]}

    def told(self, fitting: str, calls: tuple[Call, ...]) -> Row:
        """The counts of a fitting in ``calls``."""
        name, out = self.names(fitting), Counter[int | None]()
        for call in calls:
            if self.names(call.part) == name:
                out[call.hoop] += call.quantity
        return {place: out[place] for place in (*self.hoops, None)}

    def answers(self) -> dict[str, str]:
        """Words by question key."""
        given, out = Answers(), {}
        for question in self.frame.questions:
            words = self._best(question, given)
            out[question.key] = words
            blank = asked_of(question, self.frame.questions, self.frame.outline)
            given = with_answer(given, _with_words(blank, words))
        return out

    def _best(self, question: Question, given: Answers) -> str:
        """Of the words that have an effect those that come nearest to the reference, the hoops before the rest; the assumed first."""
        blank = asked_of(question, self.frame.questions, self.frame.outline)
        best: tuple[tuple[int, int], str] | None = None
        for words in self._words(question, apply(self.frame, given)[0].calls):
            made = _with_words(blank, words)
            answered, leftovers = apply(self.frame, with_answer(given, made))
            if any(each.item == made for each in leftovers):
                continue
            away = self._away(question, answered.calls)
            if best is None or away < best[0]:
                best = (away, words)
            if away == (0, 0):
                break
        assert best is not None, f"no words answer: {question.message}"
        return best[1]

    def _away(self, question: Question, calls: tuple[Call, ...]) -> tuple[int, int]:
        """Pieces too many and too few on the hoops, and elsewhere: of the question's fitting and of what it may be mistaken for."""
        fittings = {question.fitting, *(question.readings if question.about == "fitting" else ())} - {None}
        on_hoops = elsewhere = 0
        for fitting in fittings:
            want, got = self.row(fitting or ""), self.told(fitting or "", calls)
            on_hoops += sum(abs(want[hoop] - got[hoop]) for hoop in self.hoops)
            elsewhere += abs(want[None] - got[None])
        return on_hoops, elsewhere

    def _words(self, question: Question, calls: tuple[Call, ...]) -> Iterator[str]:
        yield from dict.fromkeys((*((question.assumed,) if question.assumed else ()), *question.readings))
        if question.about in ("quantity", "member") and question.fitting is not None:
            want, got = self.row(question.fitting), self.told(question.fitting, calls)
            if question.about == "member":
                yield ", ".join(str(hoop) for hoop in self.hoops if want[hoop])
            mine = self.told(question.fitting, tuple(call for call in calls if call.source == question.source))
            yield self._shares({place: want[place] - got[place] + mine[place] for place in want}, calls)
            yield self._shares({place: want[place] - got[place] for place in want}, calls, " more")
        if question.about == "position":
            for place in self._positions:
                if self.names(place["fitting"]) == self.names(question.fitting):
                    yield f"{place['offset_mm']} mm from the {place.get('datum') or 'ground'}"
        yield OPEN.get(question.about, "none")

    def _shares(self, row: Row, calls: tuple[Call, ...], more: str = "") -> str:
        """``2 on hoops 1, 6; 3 on hoops 2, 3``; what is on other members is put on the first that the manual speaks of."""
        groups: dict[int, list[str]] = defaultdict(list)
        for hoop in self.hoops:
            if row[hoop] > 0:
                groups[row[hoop]].append(str(hoop))
        said = [f"{number}{more} on hoops {', '.join(hoops)}" for number, hoops in groups.items()]
        if row[None] > 0:
            hosts = [call.member for call in calls if call.hoop is None]
            said.append(f"{row[None]}{more} on the {hosts[0] if hosts else 'door'}")
        return "; ".join(said) or "none"


def _with_words(blank: Answer, words: str) -> Answer:
    return replace(blank, value=words)
