"""Clauses to events: what is added, how many, on which hosts, where, and what only speaks of what is on already."""

from __future__ import annotations

import copy
import re
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Any

from hoopwright.grammar import Grammar
from hoopwright.model.events import Amount, Event, EventKind, Place, Selector, StepReading, Unit
from hoopwright.model.frame import Doubt
from hoopwright.model.outline import Item, Outline, Passage, Section, Source, Step
from hoopwright.parsing import (
    acting,
    adding,
    definitions,
    gates,
    local_rules,
    naming,
    ownership,
    patterns,
    repeats,
    ruling,
    sharing,
    spotting,
    theming,
    topics,
)
from hoopwright.parsing.bars import Bars
from hoopwright.parsing.cardfields import Cards
from hoopwright.parsing.cards import beside, card_sentences, turned_card
from hoopwright.parsing.chunk import Chunker, join_selectors
from hoopwright.parsing.clauses import Clause, split
from hoopwright.parsing.corrections import corrected, corrections, is_edit, moves, turned, without_old_number
from hoopwright.parsing.elements import El
from hoopwright.parsing.kit import Kit
from hoopwright.parsing.kitlists import kit_lists
from hoopwright.parsing.lex import lex
from hoopwright.parsing.sentences import sentences
from hoopwright.parsing.taking import put_together
from hoopwright.parsing.types import spell_hashed, spell_letter, spell_names, spell_phrases, spell_types


@dataclass
class Context:
    """What the text has been speaking of."""

    hoops: Selector | None = None
    units: tuple[Unit, ...] = ()
    member: str | None = None
    last: list[Event] = field(default_factory=list)  # adds of the last sentence that had some
    current: list[Event] = field(default_factory=list)  # adds of this sentence so far
    example: bool = False  # the hoops were picked up to be worked on
    prefixed: str = ""  # the number of the step whose sub-steps are for the hoops named in front of a colon
    carried: bool = False  # the hoops are those of an earlier step
    heading: Selector | None = None
    tube: Unit | None = None
    bar: str | None = None
    across: bool = False


_BESIDE = frozenset({"over", "above", "below", "under", "beside", "of", "from", "outside", "inside", "between", "behind", "next to"})


def _stem(label: str) -> str:
    """The number of a sub-step's label: "11b" → "11"."""
    return label.rstrip("abcdefghijklmnopqrstuvwxyz")


class Interpreter:
    """Reads the steps of an outline in order. ``strict``: let a fault of the reader through instead of asking about its sentence."""

    strict = False

    def __init__(self, outline: Outline, grammar: Grammar, kit: Kit, chunker: Chunker) -> None:
        self.outline, self.grammar, self.kit, self.chunker = outline, grammar, kit, chunker
        self.cards = Cards(outline)
        self.ctx = Context()
        self.readings: list[StepReading] = []
        words = grammar.words
        self.already = re.compile(r"\b(?:" + "|".join(re.escape(w) for w in words["already"]) + r")\b")
        self.vague = re.compile(r"\b(?:" + "|".join(re.escape(w) for w in words["vague"]) + r")\b")
        self.same = re.compile(
            r"\b(?:"
            + "|".join(
                re.escape(w)
                for w in sorted(words["same_way"], key=len, reverse=True)
                if w not in ("like", "as for", "as on", "as at", "as with", "in turn", "just as", "matching", "to match")
            )
            + r")\b"
        )
        self.group = 0
        self.step: Step | None = None
        self.section: Section | None = None
        self.passage: Passage | None = None
        self.span = (0, 0)
        self.wait = False
        self.done_again: tuple[int, int] | None = None  # what the section puts on the first of these hoops goes on the second, too
        self.hoop_names: dict[str, int] = {}  # "the red arch"
        self.group_phrases: dict[str, tuple[int, ...]] = {}  # "the five between", as the manual calls some hoops
        self.types: dict[str, tuple[int, ...]] = {}  # "type E": the hoops a table calls so
        self.early = ""  # the step that says of itself that it comes before another
        self.hoops: int | None = None  # how many there are, if known
        self.one_piece = False  # whether a hoop is of one tube, without joints
        self.plainer: Callable[[str], str] = str  # puts odd wordings into plainer ones
        self.containers: Callable[[str], str] = str  # puts the names of what a box or bag holds
        self.marks: Callable[[str], str] = str  # puts distances for the marks that the manual has chalked on the tubes
        self.lettering: Callable[[str, str], str] = lambda text, _around: text  # puts names for letters of the parts list
        self.rule_fastener: str | None = None
        self.rule_set: tuple[str, ...] = ()  # all fasteners of the rule read last: "two of each"
        self.held_group = 0
        self.rule_step = ""
        self.rule_owners: tuple[str, ...] = ()
        self.open_owner: tuple[str, ...] = ()
        self.prefix_owner: tuple[str, ...] = ()
        self.checking = False
        self.last_is_member = False
        self.named_hoops: dict[int, Selector] = {}  # by how many they are, the hoops that were last named by their numbers
        self.bar_path: tuple[str, tuple[int, int]] | None = None  # a bar's last word, the hoops that its ends lie on
        self.it_hoops: Selector | None = None  # the single hoop that "it" stands for
        self.last_noun = ""
        self.edits: dict[str, list[tuple[str, str]]] = {}
        self.moves: frozenset[str] = frozenset()  # sentences of corrections that are carried out as edits
        self.members_named: dict[str, El] = {}  # bars and other members that this section has named, by their last word
        self.members_of = ""
        self.bar_numbers: dict[str, int] = {}  # "the two purlins": how many there are, by the last word
        self.reverse: str | None = None  # the section that counts its hoops from the far end
        self.reversed_steps: set[str] = set()
        self.bars = Bars()
        self.sentence_els: list[El] = []
        self.els_before: list[El] = []  # of the sentence before
        self.last_mention: tuple[tuple[str, ...], str] = ((), "")
        self.recent: list[tuple[tuple[str, ...], bool]] = []
        self.recent_section = self.section_bar = ""  # fittings mentioned lately, last one last; whether it was more than one

    # ---- steps ----------------------------------------------------------------------------------------------------------

    def read(self) -> list[StepReading]:
        """One reading per sentence (and table row) of every step, in order."""
        self.edits = corrections(self.outline)
        moved, self.moves = moves(self.outline)
        for step_id, edits in moved.items():
            self.edits.setdefault(step_id, []).extend(edits)
        for step in self.outline.steps:
            self._step(step)
        return self.readings

    def _step(self, step: Step) -> None:
        section = self.outline.section(step.section)
        if self.section is None or section.id != self.section.id:
            self.ctx = Context(heading=self._heading_hoops(section))
            self.ctx.hoops = self.ctx.heading
            if section.role == "build":
                self._title_bar(section.title)
        elif step.label is not None and self.ctx.prefixed and self.ctx.prefixed == _stem(step.label):
            self.ctx.units, self.ctx.member, self.ctx.bar = (), None, None  # "11a Front bow: stand …", "11b Close a clamp …"
        elif step.label is not None and not self.ctx.example:
            self.ctx = Context(hoops=self.ctx.heading, heading=self.ctx.heading, last=self.ctx.last)
        else:
            self.ctx.units, self.ctx.member, self.ctx.bar = (), None, None
            self.ctx.carried = step.label is not None
        if section.id != self.recent_section:
            self.recent, self.recent_section = [], section.id
            self.done_again = None
            self.section_bar = ""
        self.step, self.section = step, section
        self.step_hoops: Selector | None = None
        if step.title:
            sel = self._hoops_in(step.title)
            if sel is not None:
                self.ctx.hoops = sel
            self._title_bar(step.title)
            self._title_fitting(step.title)
        intro: Context | None = None
        self.open_owner, self.checking = (), False
        self.spoken: Selector | None = None
        if self.reverse is not None and section.id != self.reverse:
            self.reverse = None
        repeated = kit_lists(self, step)
        for n, item in enumerate(step.items):
            if n in repeated:
                self.readings.append(StepReading(step.id, item.passage.source(), (), "lists what the step's sentences use"))
                continue
            if item.kind == "caption" or (item.kind == "callout" and item.signal in ("danger", "warning", "caution")):
                continue
            if item.kind == "table" or patterns.CAPTION.match(item.passage.text):
                continue
            if item.kind == "bullet":
                if intro is None:
                    intro = replace(self.ctx)
                self.ctx.hoops, self.ctx.units, self.ctx.member = intro.hoops, intro.units, intro.member
            if item.fields:
                self._card(step, item)
                continue
            self.passage = item.passage
            for span, text in put_together(sentences(item.passage.text), item.passage.text, self.chunker):
                self.span = span
                for old, new in self.edits.get(step.id, ()):
                    text = corrected(text, old, new)
                if section.role == "correction" and not is_edit(text, slip=True):
                    text = without_old_number(text)
                self._read_or_ask(text, bullet=item.kind == "bullet")

    def _read_or_ask(self, text: str, bullet: bool) -> None:
        """Read a sentence; one that trips the reader up costs itself and not the whole manual: it is asked about."""
        kept = len(self.readings)
        try:
            self._sentence(self.spelt(text), bullet)
        except Exception:  # whatever it is, the person with the manual can read the sentence
            if self.strict:
                raise
            message = "This sentence could not be read: count by hand what it puts on."
            asked = self.event("ask", doubts=(Doubt("reference", message, ("nothing", "something"), "nothing"),))
            self.readings[kept:] = [StepReading(self.step_id, self.source(), (asked,))]

    def spelt(self, text: str) -> str:
        """A sentence with the manual's own marks and names of hoops put into numbers."""
        text = self.marks(text)
        text = spell_letter(spell_hashed(text, self.chunker.hoop_words, self.hoops), self.chunker.hoop_letter, self.chunker.hoop_words)
        text = spell_names(text, self.hoop_names, self.chunker.hoop_words)
        text = spell_phrases(text, self.group_phrases, self.chunker.hoop_words)
        return spell_types(text, self.types, self.chunker.hoop_words)

    def _card(self, step: Step, item: Item) -> None:
        """Reads a card of fields by the sentences that it stands for; their source is the printed card."""
        for told in card_sentences(self.cards, self, item):
            self.passage, self.span = told.passage, (0, len(told.passage.text))
            if told.kind != "say":
                self.readings.append(StepReading(step.id, self.source(), (beside(self, told),)))
                continue
            before = len(self.readings)
            self._read_or_ask(told.text, bullet=False)
            self.readings[before:] = [replace(r, events=tuple(turned_card(e, told) for e in r.events)) for r in self.readings[before:]]

    def _title_fitting(self, title: str) -> None:
        """ "Stretcher rings. These go on hoops 2 and 5, one on each leg": the fitting that a step's title names, if it names a single one."""
        fits = [e for e in self.chunker.elements(lex(title.lower())) if e.type == "fit"]
        if len(fits) == 1 and len(fits[0].parts) == 1 and fits[0].parts[0] in self.kit.parts:
            self.recent.append((fits[0].parts, fits[0].plural))

    def _title_bar(self, title: str) -> None:
        """ "10 Rails": the bar or post that a step is about, where its title names no fitting."""
        els = self.chunker.elements(lex(title.lower()))
        bars = [e for e in els if e.type == "mem" and e.role in ("bar", "other")]
        if bars and not any(e.type == "fit" for e in els):
            self.ctx.bar = self.last_noun = bars[0].name
            self.last_is_member = True

    def _heading_hoops(self, section: Section) -> Selector | None:
        found = self._hoops_in(section.title)
        if found is None and patterns.BOTH_ENDS.search(section.title):
            return Selector("end", each=True, text=section.title)  # "Door frame, front and rear"
        return found

    def _hoops_in(self, text: str) -> Selector | None:
        sel = None
        text = spell_letter(spell_hashed(text, self.chunker.hoop_words, self.hoops), self.chunker.hoop_letter, self.chunker.hoop_words)
        for el in self.chunker.elements(lex(text.lower() if text.isupper() else text)):
            if el.type == "mem" and el.role == "hoop" and el.hoops is not None and el.hoops.kind not in ("all", "topic"):
                sel = el.hoops if sel is None else join_selectors(sel, el.hoops)
        return sel

    def source(self) -> Source:
        assert self.passage is not None
        return self.passage.source(*self.span)

    @property
    def step_id(self) -> str:
        """The id of the step that is being read."""
        assert self.step is not None
        return self.step.id

    @property
    def option(self) -> str | None:
        """The extra that the step belongs to, None for the main build."""
        assert self.step is not None
        return self.step.option

    def is_fastener(self, parts: tuple[str, ...]) -> bool:
        """Whether the first of ``parts`` (names, best first) is a bolt, nut, washer, screw or pin."""
        return bool(parts) and self.kit.parts[parts[0]].form == "fastener"

    def is_clip(self, parts: tuple[str, ...]) -> bool:
        """Whether the first of ``parts`` is something that fasteners hold: clip, clamp, ring, sleeve."""
        return bool(parts) and self.kit.parts[parts[0]].form != "fastener"

    def event(
        self,
        kind: EventKind,
        parts: tuple[str, ...] = (),
        amount: Amount | None = None,
        hoops: Selector | None = None,
        units: tuple[Unit, ...] = (),
        places: tuple[Place, ...] = (),
        **more: Any,
    ) -> Event:
        """An event of this step and sentence; of the clause at hand unless ``more`` names another ``group``."""
        more.setdefault("group", self.group)
        return Event(kind, self.step_id, self.source(), parts, amount, hoops, units, places, **more)

    def emit(self, event: Event) -> Event:
        """Add an event to what the sentence gave."""
        if self.done_again is not None and event.hoops is not None and event.hoops.numbers == self.done_again[:1]:
            event = replace(event, hoops=replace(event.hoops, numbers=self.done_again, each=True))
        self.out.append(event)
        return event

    # ---- sentences ------------------------------------------------------------------------------------------------------

    def _sentence(self, text: str, bullet: bool) -> None:
        self.out: list[Event] = []
        self.why: str | None = None
        self.text = text
        assert self.step is not None and self.section is not None
        self.ctx.current = []
        self.clauses: list[Clause] = []
        self.conditional = self.fronted = self.prefix_side = self.needs = self.for_this_sentence = False
        self.els_before, self.sentence_els = self.sentence_els, []
        self.prefix_owner = self.open_owner if bullet else ()
        aside = patterns.ASIDE.search(text)
        before = self.readings[-1].events[-1] if self.readings and self.readings[-1].events else None
        if before is not None and before.kind == "add" and before.hoops is not None and before.hoops.kind != "all":
            text = patterns.THE_OTHERS.sub("the other hoops ", text)  # "Hoops 1 and 6 take four each; the others take two"
        lettered = self.lettering(naming.bare_codes(self, self.containers(text)), self.step.text)
        reworded = self.plainer(naming.in_names(self, lettered))
        toks = lex(patterns.ASIDE.sub(" ", reworded))
        role = self.section.role
        els = self.chunker.elements(toks)
        self._the_member_before(els)
        _pieces_by_ordinals(els)
        clauses = split(els)
        self.sentence_els = els
        if role in ("build", "correction"):
            self.bars.note(self.step.id, els)
        self.clauses = clauses
        if aside is not None:
            self._form_in_passing(aside.group().lower())
        lead = next((k for k, x in enumerate(clauses) if x.after_colon), 0)
        head = " ".join(x.low for x in clauses[:lead])
        placed = any(e.type == "mem" and e.role in ("hoop", "tube", "joint", "foot") for x in clauses[:lead] for e in x.els)
        self.needs = bool(patterns.NEEDS.search(head) or gates.search(r"\b(?:count|check|inspect|tally|verify)$", head)) and not placed
        maybe = next((x for x in (*clauses[:1], *clauses[-1:]) if x.kind == "sub" and x.word in ("if", "unless", "should")), None)
        trailing = (
            maybe is not None and maybe is not clauses[0] and gates.search(r"\b(?:second|another|extra|further|more|spare)\b", text.lower())
        )
        self.conditional = (
            maybe is not None
            and (maybe is clauses[0] or bool(trailing))
            and not gates.match(
                r"^(?:if|unless) (?:you (?:have )?(?:order|b[ou]|want|have)|the kit|your (?:kit|set|order|pack|parcel|version|delivery))",
                text.lower(),
            )
        )
        if definitions.counting(self, text):
            self.why = "says from which end the hoops are counted"
        elif patterns.ORDER_ONLY.match(text):
            self.why = "says in which order the hoops are done"
        elif patterns.STARTS_WITH.match(text) and self.readings and self.readings[-1].step == self.step_id and self._all_before():
            self.why = "says in which order the hoops are done"  # "Set each bow over its posts. Start with bow 1."
        elif patterns.SAME_FOR_REST.match(text) and not self._added_here():
            self.ctx.hoops = self.ctx.heading  # "Raise an arch. Begin with arch 1. The same for the rest."
            self.why = "says in which order the hoops are done"
        elif is_edit(text, slip=role == "correction") or self.source().quote in self.moves:
            self.why = "corrects a step"
        elif patterns.WOULD_HAVE_TO.search(text):
            self.why = "says what would have to be done"
        elif patterns.ANY_STAGE.search(text) and not any(e.amount is not None for e in els if e.type == "fit"):
            self.why = "says when they can go on"
        elif patterns.SO_FAR.match(text):
            self.why = "says how it was so far"
        elif self._goes_on_counting(text, clauses):
            self.why = self.readings[-1].why_none
        elif ownership.form_list(self):
            pass
        elif definitions.done_again(self, text):
            self.why = "says that all is done at another hoop, too"
        elif definitions.definition(self, clauses, els):
            self.why = "names a group of hoops"
        elif (
            ruling.wherever(self)
            or definitions.same_fastening(self)
            or definitions.rule_for_more(self)
            or (role in ("build", "other", "correction") and definitions.unnamed_hoop(self))
        ):
            pass
        elif patterns.OUT_OF_TURN.search(text) and not any(e.type == "fit" and e.amount is not None for e in els):
            self.early = self.step_id
            self.why = "says when this step is done"
        elif role in ("parts", "tools", "safety", "contents", "summary", "intro"):
            for clause in clauses:
                self.group += 1
                _ = ownership.form_statement(self, clause) or local_rules.local_rules(self, clause) or ruling.rule(self, clause)
            if not self.out and role in ("summary", "intro"):
                self._claims(text, clauses)
            self.why = self.why or f"{role}: only rules are read here"
        else:
            for clause in clauses:
                self.group += 1
                self._clause(clause)
                self._remember(clause.els)
        if role in ("parts", "tools", "safety", "contents", "summary", "intro"):
            self._remember(els)
        if self.step.label is None and not self.out and role == "build" and patterns.FOR_WHICH.search(text):
            named = self._hoops_in(text)
            if named is not None:
                self.ctx.heading = self.ctx.hoops = named  # for all the steps of the section
        if self.step.label is None and not self.out and role == "build" and patterns.BOTH_ENDS_GET.match(text):
            self.ctx.heading = self.ctx.hoops = Selector("end", each=True, text=text)  # "Both ends get a door frame"
        if self.ctx.current:
            self.ctx.last = list(self.ctx.current)
        if (
            not self.out
            and role in ("build", "other", "correction")
            and self.why in (None, "only speaks of fittings")
            and not self.checking
        ):
            self._unread(els)
            if not self.out:
                self._unread_number(els)
        if not self.out and gates.search(
            r"\bshould (?:now |then |each )?(?:have|carry|show|bear)\b|\bready to (?:stand|join|raise)\b", text.lower()
        ):
            self.checking = True
        if any(c.verb is not None and c.verb.verb == "check" and c.verb.form == "base" and c.kind == "main" for c in clauses):
            self.checking = True
        if self.reverse is not None:
            self.reversed_steps.add(self.step_id)
            self.out = [turned(e) for e in self.out]
        self.readings.append(StepReading(self.step_id, self.source(), tuple(self.out), self.why if not self.out else None))

    def _the_member_before(self, els: list[El]) -> None:
        """ "Lay the drip pipe in the clips. Push a collar onto each end of the pipe": the pipe that the section has named, and no hoop's."""
        assert self.section is not None
        if self.members_of != self.section.id:
            self.members_of, self.members_named = self.section.id, {}
        for e in els:
            if e.type != "mem" or not e.words:
                continue
            if e.role in ("bar", "other") and len(e.words) > 1:
                self.members_named[e.words[-1]] = e
            known = self.members_named.get(e.words[-1])
            if known is not None and e.role == "tube" and e.words == known.words[-1:] and e.det == "the" and not e.plural and not e.side:
                e.role, e.name, e.words, e.hoops = known.role, known.name, known.words, None

    def _all_before(self) -> bool:
        """Whether the sentence before was about each of the hoops."""
        hoops = [e.hoops for e in self.els_before if e.type == "mem" and e.role == "hoop" and e.hoops is not None]
        return len(hoops) == 1 and hoops[0].kind == "all" and hoops[0].each

    def _added_here(self) -> bool:
        """Whether the step has put anything on yet."""
        return any(e.kind == "add" for r in reversed(self.readings) if r.step == self.step_id for e in r.events)

    def _goes_on_counting(self, text: str, clauses: list[Clause]) -> bool:
        """ "On an end hoop you should see two rings; on hoops 2 and 7, four": behind the semicolon the counting goes on."""
        before = self.readings[-1] if self.readings else None
        if before is None or before.step != self.step_id or before.events or not before.source.quote.rstrip().endswith(";"):
            return False
        looks = before.why_none in ("speaks of what is on already", "speaks of what lies ready, or of time and helpers", "part of a check")
        return looks and text[:1].islower() and all(c.verb is None for c in clauses)

    def _claims(self, text: str, clauses: list[Clause]) -> None:
        """What a passage that adds nothing says of numbers on hoops, to be held against the steps."""
        kept = copy.deepcopy(self.ctx)
        sheet = patterns.CHECK_LINE.match(text)  # "Hip clamps: 2 on bows 2 to 7 and 4 on bows 1 and 8."
        if sheet is not None:
            lines = [f"Put {number} {sheet['name']} on {where}." for number, where in patterns.CHECK_CELL.findall(sheet["cells"])]
            clauses = [c for line in lines for c in split(self.chunker.elements(lex(self.plainer(line))))]
        for clause in clauses:
            self.group += 1
            self._clause(clause)
        self.ctx = kept
        self.out = [
            replace(e, kind="claim", per="claim", doubts=())
            for e in self.out
            if e.kind == "add"
            and e.member is None
            and e.holds is None
            and e.amount is not None
            and e.amount.value is not None
            and e.amount.open is None
            and not e.amount.total
            and (e.units or e.hoops is not None)
        ]

    def _form_in_passing(self, aside: str) -> None:
        """Keep the form of "one bracket, which is open, is laid on …"."""
        form = next((f for phrase, f in self.grammar.stated_forms if gates.search(rf"\b{re.escape(phrase)}\b", aside)), None)
        named = next((e.parts[0] for e in self.sentence_els if e.type == "fit" and e.parts), None)
        if form is not None and named is not None and not self.kit.parts[named].stated:
            self.kit.parts[named] = replace(self.kit.parts[named], form=form, stated=True)  # type: ignore[arg-type]

    def _unread(self, els: list[El]) -> None:
        """A sentence that numbers a fitting and gave nothing is asked about, not dropped."""
        for k, e in enumerate(els):
            if (
                e.type == "fit"
                and e.amount is not None
                and e.amount.value
                and not e.definite
                and not e.used
                and e.det != "no"
                and e.parts
                and e.det not in ("a", "an")
                and not (k and els[k - 1].low in ("through", "between", "from", "past", "of", "than"))
                and self.step is not None
            ):
                name = e.parts[0]
                self.emit(
                    self.event(
                        "ask",
                        (name,),
                        doubts=(
                            Doubt(
                                "quantity",
                                f"This names {e.text}, but does not say clearly what is done with it; none is counted.",
                                ("none", f"{e.amount.value}"),
                                "none",
                            ),
                        ),
                    )
                )
                return

    def _unread_number(self, els: list[El]) -> None:
        """Hoops that "have two there", and nothing was made of it: asked about, not dropped."""
        number = next(
            (e for e in els if e.type == "ellip" and e.amount is not None and e.amount.value and not e.definite and not e.used), None
        )
        hoops = any(e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.hoops.kind != "all" for e in els)
        takes = any(e.type == "verb" and e.cls == "take" for e in els)
        if number is None or not hoops or not takes or not self.recent:
            return
        name = self.recent[-1][0][0]
        message = f"This gives some hoops '{number.text}', perhaps of the {name}; none is counted."
        self.emit(self.event("ask", (name,), doubts=(Doubt("quantity", message, ("none", f"{number.amount.value}"), "none"),)))  # type: ignore[union-attr]

    def _remember(self, els: list[El]) -> None:
        self._note_path(els)
        for e in els:
            if e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.hoops.kind == "numbers":
                self.named_hoops[len(e.hoops.numbers)] = e.hoops
        nouns = [
            e for e in els if e.type in ("fit", "mem") and e.gov == "obj" and e.role not in ("thing", "hoop", "ground", "side", "ridge")
        ] or [e for e in els[:3] if e.type == "mem" and e.gov == "subj" and e.role in ("bar", "other")]
        subject = next((e for e in els if e.type == "fit" and e.gov == "subj" and not e.used), None)
        if subject is not None:
            self.last_is_member, self.last_noun = False, subject.name
        elif nouns:
            self.last_is_member = nouns[-1].type == "mem" and nouns[-1].role in ("bar", "other", "film")
            self.last_noun = nouns[-1].name
        for e in els:
            if (
                e.type == "mem"
                and e.role in ("bar", "other")
                and e.amount is not None
                and e.amount.value
                and e.plural
                and "length" not in e.low
            ):
                self.bar_numbers[e.words[-1]] = e.amount.value
        named = [
            e for e in els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.hoops.kind in ("numbers", "first", "last")
        ]
        single = len(named) == 1 and els[-1] is named[0] and not any(e.type in ("ellip", "fit") or e.role in ("bar", "other") for e in els)
        if single and els[-1].hoops is not None and len(els[-1].hoops.numbers) < 2:
            self.last_is_member, self.it_hoops = False, els[-1].hoops  # "The lamp hangs from the third rib." "Slip two rings on to it"
        elif nouns or subject is not None:
            self.it_hoops = None
        bars = [e for e in els if e.type == "mem" and e.role in ("bar", "other") and len(e.name.split()) > 1]
        if bars:
            self.section_bar = bars[-1].name
        step = self.step_id
        for k, e in enumerate(els):
            if (
                e.type == "fit"
                and e.parts
                and e.parts[0] in self.kit.parts
                and not (e.definite and k and els[k - 1].low in ("after", "before", "beyond", "past", "than", "behind"))  # a landmark
                and not (e.used and (e.gov in _BESIDE or (e.gov or "").endswith((" of", " from"))))
            ):
                if self.is_clip(e.parts):
                    self.recent.append((e.parts, e.plural))
                elif e.definite and len(e.parts) == 1:
                    ruling.note_rule(self, e.parts[0], ())  # "Put the clamp bolts in. A saddle takes two."
                self.last_mention = (e.parts, step)
        del self.recent[:-6]

    def _note_path(self, els: list[El]) -> None:
        """ "The bottom of a stay goes to the band on hoop 1 and the top to the band on hoop 2": on which hoops its two ends lie."""
        bars = [e for e in els if e.type == "mem" and e.role == "bar"]
        hoops = [e.hoops for e in els if e.type == "mem" and e.role == "hoop" and e.hoops is not None]
        ends = {e.low for e in els} & {"bottom", "top", "lower", "upper", "foot", "head"}
        single = [h.numbers[0] for h in hoops if h.kind == "numbers" and len(h.numbers) == 1]
        if len(bars) == 1 and len(single) == len(hoops) == 2 and single[0] != single[1] and len(ends) > 1:
            self.bar_path = (bars[0].name.split()[-1], (single[0], single[1]))

    def _depends(self, c: Clause) -> None:
        """Ask how many, and count none, where a piece is only put on if something happens on the site."""
        self.why = "depends on something"
        maybe = [t for t in theming.find_themes(self, c) if t.type == "fit" and t.amount is not None and t.parts]
        if maybe and c.verb is not None and c.verb.cls in ("put", "fasten"):
            name = maybe[0].parts[0]
            message = f"How many {name}? It depends on what happens on the site; none is counted."
            doubt = Doubt("quantity", message, ("none", "one for each time it happens"), "none")
            self.emit(self.event("ask", (name,), doubts=(doubt,)))

    # ---- clauses --------------------------------------------------------------------------------------------------------

    def _clause(self, c: Clause) -> None:
        if ruling.one_in_each(self, c):
            return
        topics.purpose(self, c)
        topics.topic(self, c)
        if c.prefix and c.fits() and not c.members() and all(f.amount is None for f in c.fits()):
            self.prefix_owner = tuple(dict.fromkeys(n for f in c.fits() for n in ownership.class_of(self, f)))
            fasteners = [n for n in self.prefix_owner if self.is_fastener((n,))]
            if len(fasteners) == 1 == len(self.prefix_owner) and not any(f.each for f in c.fits()):
                ruling.note_rule(self, fasteners[0], ())  # "Knob screws: every clip gets one"
                self.prefix_owner = ()
            return
        if self.prefix_owner:
            done = local_rules.local_rules(self, c)
            if ruling.owner_list(self, c) or (done and not [f for f in c.fits() if f.amount is not None]):
                return
        listing = self.checking and c.verb is None  # "Check: hoop 2 has a ring; hoop 5 the same"
        if repeats.rows(self, c) or (not listing and repeats.copy(self, c)):
            return
        if ownership.form_statement(self, c):
            return
        if self.conditional and c.kind == "main":
            self._depends(c)
            return
        if local_rules.local_rules(self, c) and not [f for f in c.fits() if f.amount is not None]:
            if (single := theming.named_first(self, c)) is not None:
                adding.add_all(self, c, [single])
            acting.act(self, c)
            return
        if ruling.rule(self, c):
            if (single := theming.named_first(self, c)) is not None:
                adding.add_all(self, c, [single])
            return
        named = next(
            (
                e.hoops
                for e in c.els
                if e.type == "mem"
                and e.role == "hoop"
                and e.hoops is not None
                and (e.gov == "except" or c.els[c.els.index(e) - 1].low in ("except", "but"))
            ),
            None,
        )
        if (
            named is not None
            and c.verb is not None
            and c.verb.cls == "take"
            and not c.fits()
            and any(e.type == "pron" and e.name in ("them", "it", "one", "these") for e in c.els)
            and self.recent
        ):
            self.emit(self.event("remove", self.recent[-1][0][:1], hoops=named))
            return
        excepted = (
            next(
                (e.hoops for e in c.els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.hoops.kind == "except"), None
            )
            if c.verb is not None and c.verb.cls == "take"
            else None
        )
        if (
            c.verb is not None
            and c.verb.name in ("make", "give", "come")
            and c.els[0].low in ("that", "which", "this")
            and c.fits()
            and c.fits()[0].amount is not None
            and c.fits()[0].parts
        ):
            f = c.fits()[0]
            hoops, units, member, _ = spotting.find_hosts(self, [e for e in c.els if e.type == "mem" and not e.used], c)
            if member is None:
                self.emit(self.event("claim", f.parts[:1], f.amount, hoops, units, per="makes"))
            return
        if (
            excepted is not None
            and not c.fits()
            and any(e.type == "pron" and e.name in ("them", "it", "one", "these") for e in c.els)
            and self.recent
        ):
            self.emit(self.event("remove", self.recent[-1][0][:1], hoops=excepted.of[1]))
            return
        if adding.shares_of_rule(self, c):
            return
        null = topics.null(self, c) or topics.by_table(self, c)
        if null is None and (sharing.wrapped_round(self, c) or sharing.per_shares(self, c)):
            return
        themes = [] if null and null != "ellip" else theming.find_themes(self, c)
        if themes and c.kind == "relative" and self.ctx.current:
            first = c.els.index(themes[0])
            before = tuple(p for i, p in c.places if i < first)
            if before:
                sharing.set_places(self, self.ctx.current[-1], before)
                c.places = [(i, p) for i, p in c.places if i >= first]
        if themes and all(t.type in ("ellip", "pron") for t in themes) and sharing.share_out(self, c, themes):
            acting.act(self, c)
            return
        if len(themes) > 1 and any(t.type != "fit" for t in themes):
            themes = sharing.own_share(self, c, themes)
        if not themes:
            sharing.refine(self, c)
            acting.act(self, c)
            if c.fits() and not self.out:
                self.why = null or "only speaks of fittings"
            return
        shared = all(t.type == "ellip" and t.amount is not None for t in themes)
        whole = sharing.uncounted_whole(self, c) if shared else None
        adding.add_all(self, c, themes)
        if whole is not None:
            self.out.remove(whole)
            self.ctx.current.remove(whole)
        acting.act(self, c)


def _pieces_by_ordinals(els: list[El]) -> None:
    """ "Two rings are slid on, the first 400 mm up, the second 800 mm", "opposite the first": the first of the pieces and no hoop."""
    several = next((e for e in els if e.type in ("fit", "ellip") and e.amount is not None and ((e.amount.value or 0) > 1 or e.more)), None)
    for k, e in enumerate(els):
        bare = e.type == "mem" and e.role == "hoop" and patterns.BARE_ORDINAL.fullmatch(e.low) is not None
        opposite = k > 0 and els[k - 1].low in ("opposite", "facing", "below", "above", "beneath")
        placed = k > 0 and els[k - 1].type == "prep" and not opposite
        if bare and not placed and (opposite or (several is not None and several.j <= e.i)):
            e.type, e.role, e.hoops = "word", "", None
