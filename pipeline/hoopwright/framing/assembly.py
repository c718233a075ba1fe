"""The assembly as far as the manual has been followed: what is on the hoops, what was done to them, what is in doubt."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from hoopwright.framing.drafts import Draft, Drafts
from hoopwright.framing.hosts import Hosts
from hoopwright.framing.steps import Steps
from hoopwright.model.events import Event, Selector
from hoopwright.model.frame import Act, ActKind, Part
from hoopwright.model.outline import Outline
from hoopwright.model.schedule import About, Finding, Question

ActLog = dict[ActKind, list[tuple[int, frozenset[int]]]]  # of each kind: place in the order of all acts, hoops


class Assembly:
    """What later sentences are read against. ``drafts``, ``acts``, ``questions`` and ``findings`` are what comes out."""

    def __init__(self, outline: Outline, parts: dict[str, Part], hosts: Hosts, member_numbers: dict[str, int | None]) -> None:
        self.parts, self.hosts, self.member_numbers = parts, hosts, member_numbers
        self.steps = Steps(outline)
        self.drafts = Drafts(self.steps)
        self.acts: list[Act] = []
        self.acts_of_step: defaultdict[str, ActLog] = defaultdict(dict)
        self.acts_of_section: defaultdict[str, ActLog] = defaultdict(dict)
        self.questions: list[Question] = []
        self.findings: list[Finding] = []
        self.sequence = 0  # of the event that is being carried out
        self.mentioned: defaultdict[str, set[int]] = defaultdict(set)  # step or section -> hoops named there so far
        self.groups: defaultdict[int, list[list[Draft]]] = defaultdict(list)  # clause -> drafts of each add, in order
        self.owners_of: dict[tuple[int, int], str] = {}  # clause and place in its group -> the part that was named
        self.rules: list[Event] = []
        self.claims: list[Event] = []  # statements that add nothing, to be held against what is on the hoops
        self.rule_sequence: dict[int, int] = {}  # id of the rule -> sequence
        self.rule_fasteners: set[str | None] = set()
        self.open_numbers: list[tuple[Event, list[Draft]]] = []  # quantities still to be settled from the parts list
        self.announced: list[tuple[Event, list[Draft]]] = []  # may only announce what later sentences tell hoop by hoop
        self.described: defaultdict[tuple[str, str], list[Event]] = defaultdict(list)  # step and part -> what bars have at their ends

    def hoops(self, event: Event) -> tuple[int, ...]:
        """The hoops that an event speaks of; those it names count as mentioned from here on."""
        section = self.steps.section[event.step]
        hoops = self.hosts.hoops(event.hoops, self.mentioned[event.step] or self._dressed(event, section) or self.mentioned[section])
        if event.hoops is not None and event.hoops.kind not in ("all", "rest", "topic"):
            self.mentioned[event.step].update(hoops)
            self.mentioned[section].update(hoops)
        return hoops

    def _dressed(self, event: Event, section: str) -> set[int]:
        """For "the remaining hoops": those that this section has given the part to; empty where all or none of them have it."""
        if event.hoops is None or event.hoops.kind != "rest" or not event.parts:
            return set()
        have = {d.hoop for d in self.drafts.of_section[section].by_part.get(event.parts[0], {}).values() if d.hoop is not None}
        return have if 0 < len(have) < self.hosts.n else set()

    def do(self, kind: ActKind, hoops: tuple[int, ...], event: Event) -> None:
        """Note that something is done to hoops."""
        entry = (len(self.acts), frozenset(hoops))
        self.acts_of_step[event.step].setdefault(kind, []).append(entry)
        self.acts_of_section[self.steps.section[event.step]].setdefault(kind, []).append(entry)
        self.acts.append(Act(kind, hoops, event.step, event.source, sequence=self.sequence))

    def left(self, part: str) -> int | None:
        """What the parts list has of a part beyond what has been called for; None where it names no number."""
        listed = self.parts[part].listed
        return None if listed is None else listed - self.drafts.pieces(part)

    def announce(self, event: Event, made: list[Draft]) -> None:
        """Note drafts that go if the text then tells hoop by hoop."""
        self.announced.append((event, made))
        if event.per == "described" and event.parts:
            self.described[event.step, event.parts[0]].append(event)

    def ask(
        self,
        about: About,
        fitting: str | None,
        hoops: tuple[str, ...],
        event: Event,
        message: str,
        readings: tuple[str, ...] = (),
        assumed: str | None = None,
    ) -> None:
        """Put a question to the user. ``hoops`` are names."""
        self.questions.append(Question(about, fitting, hoops, event.step, message, readings, assumed, source=event.source))

    def ask_doubts(self, event: Event, hoops: tuple[str, ...] = ()) -> None:
        """Put the doubts that the reading of an event came with."""
        for doubt in event.doubts:
            self.ask(doubt.about, event.parts[0] if event.parts else None, hoops, event, doubt.message, doubt.readings, doubt.assumed)


def names(hoops: Iterable[int]) -> tuple[str, ...]:
    """Hoop numbers as names."""
    return tuple(f"H{hoop}" for hoop in hoops)


def names_of(drafts: Iterable[Draft]) -> tuple[str, ...]:
    """The hoops of drafts as names, each once."""
    return names(dict.fromkeys(d.hoop for d in drafts if d.hoop is not None))


def number(event: Event, default: int = 1) -> int:
    """The event's number, or ``default`` where it gives none."""
    return event.amount.value if event.amount is not None and event.amount.value is not None else default


def words(selector: Selector | None) -> str:
    """The manual's words for some hoops."""
    return "" if selector is None else selector.text
