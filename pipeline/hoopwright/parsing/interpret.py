"""Clauses to events: what is added, how many, on which hosts, where, and what only speaks of what is on already."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from hoopwright.grammar import Grammar
from hoopwright.model.events import Amount, Event, Place, Selector, StepReading, Unit
from hoopwright.model.frame import Doubt
from hoopwright.model.outline import Outline, Passage, Section, Source, Step
from hoopwright.parsing.chunk import Chunker, join_selectors, number_list
from hoopwright.parsing.clauses import Clause, split
from hoopwright.parsing.elements import El
from hoopwright.parsing.kit import Kit, unlisted
from hoopwright.parsing.lex import lex
from hoopwright.parsing.sentences import sentences
from hoopwright.parsing.types import spell_types

_UNIT_ROLES = {"tube", "joint", "foot", "side", "end", "crossing", "bay", "shoulder", "ridge"}
_STEP_REF = re.compile(r"\b(?i:steps?|stages?|clauses?|paragraphs?|sections?|para\.?|operations?|jobs?|tasks?|points?|items?|phases?|moves?)\s+((?:[A-Z]?\d+(?:\.\d+)*[a-z]?|[A-Z]\d*|[a-z]\b)(?:\s*(?:,|and|to|-|–|&|through|or)\s*(?:[A-Z]?\d+(?:\.\d+)*[a-z]?\)?|[A-Z]\d*|[a-z]\b))*)")
_AS_IN = re.compile(r"\bas (?:in |at |per |under |for )?(?:step |clause |para(?:graph)? )?(?=\d+\.\d|[A-Z]\d|\d+[a-z]?\b(?!\s*(?:mm|cm|m|ft|in)\b))([A-Z]?\d+(?:\.\d+)*[a-z]?(?:\s*(?:,|and|to|-|–|&)\s*[A-Z]?\d+(?:\.\d+)*[a-z]?)*)(?![\d.]*\s?(?:mm|m\b|in\b|ft))")
_FOR_THIS = re.compile(r"^(?:for|to) (?:this|that|it|these)(?: purpose| end)?,? (?=(?:one|two|three|four|five|six|a|an|\d+)\b)", re.IGNORECASE)
_ASIDE = re.compile(r",\s+(?:which|who)\b[^,;:.()\d]{1,60},\s+(?=(?:is|are|was|were|must|should|shall|will|may|can|has|have|goes?|sits?|takes?|gets?)\b)")  # "one bracket, which is open, is laid on"
_CAPTION = re.compile(r"^\W*(?:fig(?:ure)?|photo(?:graph)?|picture|illustration|drawing|sketch|diagram|plate|view)s?\b\.?\s*(?:\d+|[A-Z]\b|\(|on the|overleaf)[^a-z]{0,4}", re.IGNORECASE)
_WHEREVER = re.compile(r"^(?:wherever|whenever|where|with every|for every|with each|every time)\b", re.IGNORECASE)
_HALF_IN = re.compile(r",? (?:one )?half (?:of it )?(?:in|into|inside) (?:either|each|one) \w+(?: and half in(?:to)? the other)?", re.IGNORECASE)
_BY_RULE = re.compile(r"\b(?:according to|as per|per|to|by|following|under) (?:the |our )?(?:[\w-]+ ){0,2}(?:rules?\b|\d+\.\d+)", re.IGNORECASE)
_OUT_OF_TURN = re.compile(r"\b(?:done|do|comes?|belongs?|carried out|carry out|fitted|fit)\b[^.;]{0,60}\bbefore (?:you (?:do|start|begin) )?(?:steps?|jobs?|stages?|tasks?|the hoops? (?:is|are)|joining|section) ?", re.IGNORECASE)
_ROW_REF = re.compile(r"\brows?\s+(\d+(?:\s*(?:,|and|to|-|–|&|or)\s*\d+)*)", re.IGNORECASE)
_TABLE_REF = re.compile(r"\b(?:table|chart|schedule|list)\s+([A-Z0-9]+)\b", re.IGNORECASE)


_REMEMBER = re.compile(r"\bas you (?:will )?(?:remember|recall|know|saw)\b|\bas (?:already )?(?:said|mentioned|noted)\b", re.IGNORECASE)
_ROUND = re.compile(r"^(?:now |then |finally |at the end,? )?(?:go|walk|look) (?:once |right )?(?:a?round|over|along|through) (?:the |w/|with |once|all |every)", re.IGNORECASE)
_AFTERWARDS = re.compile(r"\b(?:after|before) (?:every|each|any|the first|a) \w+|\b(?:every|each) (?:year|spring|autumn|season|month|week|winter|summer|fall)\b", re.IGNORECASE)
_NEEDS = re.compile(r"\b(?:ready|need|needs|needed|require|requires|required|to hand|at hand|tools?|parts?|hardware|materials?|fittings|kit|get out|collect|gather|lay out|fetch|checklist|contents|stock|bring|unpack|from the (?:bag|box|crate))\b")
_STARTS = re.compile(r"(?:^|[.;,] )(?:start|begin|starting|beginning)\b.*\b(?:work|working|go|carry|move|continue|finish|proceed)\b")
_AFTER_ELLIPSIS = {"each", "apiece", "on", "is", "are", "being", "goes", "per", "more", "further", "high", "low", "up", "down", "also", "only", "just", "either", "halfway", "midway", "left", "right", "only"}


@dataclass
class Context:
    """What the text has been speaking of."""

    hoops: Selector | None = None
    units: tuple[Unit, ...] = ()
    member: str | None = None
    last: list[Event] = field(default_factory=list)  # adds of the last sentence that had some
    current: list[Event] = field(default_factory=list)  # adds of this sentence so far
    example: bool = False  # the hoops were picked up to be worked on
    heading: Selector | None = None
    clause_hoops: Selector | None = None
    tube: Unit | None = None
    bar: str | None = None
    across: bool = False
    bars: tuple[str, ...] = ()


class Interpreter:
    """Reads the steps of an outline in order."""

    def __init__(self, outline: Outline, grammar: Grammar, kit: Kit, chunker: Chunker) -> None:
        self.outline, self.grammar, self.kit, self.chunker = outline, grammar, kit, chunker
        self.ctx = Context()
        self.readings: list[StepReading] = []
        words = grammar.words
        self.already = re.compile(r"\b(?:" + "|".join(re.escape(w) for w in words["already"]) + r")\b")
        self.vague = re.compile(r"\b(?:" + "|".join(re.escape(w) for w in words["vague"]) + r")\b")
        self.may = re.compile(r"\b(?:" + "|".join(re.escape(w) for w in words["may"]) + r")\b")
        self.same = re.compile(r"\b(?:" + "|".join(re.escape(w) for w in sorted(words["same_way"], key=len, reverse=True) if w not in ("like", "as for", "as on", "as at", "as with", "in turn", "just as", "matching", "to match")) + r")\b")
        self.group = 0
        self.step: Step | None = None
        self.section: Section | None = None
        self.passage: Passage | None = None
        self.span = (0, 0)
        self.wait = False
        self.types: dict[str, tuple[int, ...]] = {}  # "type E": the hoops a table calls so
        self.early = ""  # the step that says of itself that it comes before another
        self.rule_fastener: str | None = None
        self.rule_set: tuple[str, ...] = ()  # all fasteners of the rule read last: "two of each"
        self.held_group = 0
        self.rule_step = ""
        self.rule_owners: tuple[str, ...] = ()
        self.open_owner: tuple[str, ...] = ()
        self.prefix_owner = ()
        self.checking = False
        self.last_is_member = False
        self.last_noun = ""
        self.edits: dict[str, list[tuple[str, str]]] = {}
        self.bar_numbers: dict[str, int] = {}  # "the two purlins": how many there are, by the last word
        self.reverse: str | None = None  # the section that counts its hoops from the far end
        self.reversed_steps: set[str] = set()
        self.last_mention: tuple[tuple[str, ...], str] = ((), "")
        self.recent: list[tuple[tuple[str, ...], bool]] = []
        self.recent_section = self.section_bar = ""  # fittings mentioned lately, last one last; whether it was more than one

    # ---- steps ----------------------------------------------------------------------------------------------------------

    def read(self) -> list[StepReading]:
        """One reading per sentence (and table row) of every step, in order."""
        self.edits = corrections(self.outline)
        for step in self.outline.steps:
            self._step(step)
        return self.readings

    def _step(self, step: Step) -> None:
        section = self.outline.section(step.section)
        if self.section is None or section.id != self.section.id:
            self.ctx = Context(heading=self._heading_hoops(section))
            self.ctx.hoops = self.ctx.heading
        elif step.label is not None and not self.ctx.example:
            self.ctx = Context(hoops=self.ctx.heading, heading=self.ctx.heading, last=self.ctx.last)
        else:
            self.ctx.units, self.ctx.member, self.ctx.bar = (), None, None
        if section.id != self.recent_section:
            self.recent, self.recent_section = [], section.id
            self.section_bar = ""
        self.step, self.section = step, section
        self.step_hoops: Selector | None = None
        if step.title:
            sel = self._hoops_in(step.title)
            if sel is not None:
                self.ctx.hoops = sel
        intro: Context | None = None
        self.open_owner, self.checking = (), False
        self.spoken: Selector | None = None
        if self.reverse is not None and section.id != self.reverse:
            self.reverse = None
        for item in step.items:
            if item.kind == "caption" or (item.kind == "callout" and item.signal in ("danger", "warning", "caution")):
                continue
            if item.kind == "table" or _CAPTION.match(item.passage.text):
                continue
            if item.kind == "bullet":
                if intro is None:
                    intro = replace(self.ctx)
                self.ctx.hoops, self.ctx.units, self.ctx.member = intro.hoops, intro.units, intro.member
            self.passage = item.passage
            for start, end in sentences(item.passage.text):
                self.span = (start, end)
                text = item.passage.text[start:end]
                for old, new in self.edits.get(step.id, ()):
                    text = text.replace(old, new)
                self._sentence(spell_types(text, self.types, self.chunker.hoop_words), bullet=item.kind == "bullet")

    def _heading_hoops(self, section: Section) -> Selector | None:
        return self._hoops_in(section.title)

    def _hoops_in(self, text: str) -> Selector | None:
        sel = None
        for el in self.chunker.elements(lex(text.lower() if text.isupper() else text)):
            if el.type == "mem" and el.role == "hoop" and el.hoops is not None and el.hoops.kind not in ("all", "topic"):
                sel = el.hoops if sel is None else join_selectors(sel, el.hoops)
        return sel

    def _source(self) -> Source:
        assert self.passage is not None
        return self.passage.source(*self.span)

    def _emit(self, event: Event) -> Event:
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
        self.conditional = self.fronted = self.prefix_side = self.needs = False
        self.sentence_els: list[El] = []
        if not (bullet and self.open_owner):
            self.prefix_owner: tuple[str, ...] = ()
        else:
            self.prefix_owner = self.open_owner
        self.ctx.bars = ()
        aside = _ASIDE.search(text)
        toks = lex(_HALF_IN.sub("", _ASIDE.sub(" ", _FOR_THIS.sub("", text))))
        role = self.section.role
        els = self.chunker.elements(toks)
        clauses = split(els)
        self.sentence_els = els
        self.clauses = clauses
        form = next((f for phrase, f in self.grammar.stated_forms if aside is not None and re.search(rf"\b{re.escape(phrase)}\b", aside.group().lower())), None)
        named = next((e.parts[0] for e in els if e.type == "fit" and e.parts), None)
        if form is not None and named is not None and not self.kit.parts[named].stated:
            self.kit.parts[named] = replace(self.kit.parts[named], form=form, stated=True)  # type: ignore[arg-type]
        lead = next((x for x in clauses if x.after_colon), None)
        head = " ".join(x.low for x in clauses[: clauses.index(lead)]) if lead is not None else ""
        self.needs = bool(head) and bool(_NEEDS.search(head)) and not any(e.type == "mem" and e.role in ("hoop", "tube", "joint", "foot") for x in clauses[: clauses.index(lead)] for e in x.els)  # type: ignore[arg-type]
        self.conditional = bool(clauses) and clauses[0].kind == "sub" and clauses[0].word in ("if", "unless", "should") and not re.match(r"^(?:if|unless) (?:you (?:have )?(?:order|b[ou]|want|have)|the kit|your)", text.lower())
        if self._counting(text):
            self.why = "says from which end the hoops are counted"
        elif is_edit(text):
            self.why = "corrects a step"
        elif self._definition(clauses, els):
            self.why = "names a group of hoops"
        elif self._wherever():
            pass
        elif _OUT_OF_TURN.search(text) and not any(e.type == "fit" and e.amount is not None for e in els):
            self.early = self.step.id
            self.why = "says when this step is done"
        elif role in ("parts", "tools", "safety", "contents", "summary", "intro"):
            for clause in clauses:
                self.group += 1
                _ = self._form_statement(clause) or self._local_rules(clause) or self._rule(clause)
            self.why = self.why or f"{role}: only rules are read here"
        else:
            for clause in clauses:
                self.group += 1
                self._clause(clause)
                self._remember(clause.els)
        if role in ("parts", "tools", "safety", "contents", "summary", "intro"):
            self._remember(els)
        if self.ctx.current:
            self.ctx.last = list(self.ctx.current)
        if not self.out and role in ("build", "other", "correction") and self.why in (None, "only speaks of fittings") and not self.checking:
            self._unread(els)
        if not self.out and re.search(r"\bshould (?:now |then |each )?(?:have|carry|show|bear)\b|\bready to (?:stand|join|raise)\b", text.lower()):
            self.checking = True
        if any(c.verb is not None and c.verb.verb == "check" and c.verb.form == "base" and c.kind == "main" for c in clauses):
            self.checking = True
        if self.reverse is not None:
            self.reversed_steps.add(self.step.id)
            self.out = [turned(e) for e in self.out]
        self.readings.append(StepReading(self.step.id, self._source(), tuple(self.out), self.why if not self.out else None))

    def _unread(self, els: list[El]) -> None:
        """A sentence that numbers a fitting and gave nothing is asked about, not dropped."""
        for k, e in enumerate(els):
            if e.type == "fit" and e.amount is not None and e.amount.value and not e.definite and not e.used and e.det != "no" and e.parts and e.det not in ("a", "an") \
                    and not (k and els[k - 1].low in ("through", "between", "from", "past", "of", "than")) and self.step is not None:
                name = e.parts[0]
                self._emit(Event("ask", self.step.id, self._source(), (name,), doubts=(Doubt("quantity", f"This names {e.text}, but does not say clearly what is done with it; none is counted.", ("none", f"{e.amount.value}"), "none"),), group=self.group))
                return

    def _counting(self, text: str) -> bool:
        """"Here the hoops are counted from the far end": turns the numbers round until the text turns them back."""
        low = text.lower()
        if not re.search(r"\b(?:count|number)(?:ed|s|ing)?\b", low) or not re.search(r"\bfrom the\b", low) or self.section is None or self.section.role not in ("build", "other"):
            return False
        if re.search(r"\bfrom the (?:far|back|rear|other|north|south|east|west|last)\b", low):
            self.reverse = self.section.id
            return True
        if re.search(r"\bfrom the (?:door|front|near|first|same)\b", low):
            self.reverse = None
            return True
        return False

    def _named_hoops(self) -> bool:
        """"Braced ribs: 2 and 11.", "Interior bows = bows 2 to 6": a name for some of the hoops."""
        words = "|".join(sorted(self.chunker.hoop_words)) or "hoop"
        numbered = re.findall(rf"\b(?:the )?([a-z-]+) (?:{words}) (?:is|being|has) (?:the )?(?:number|no\.?|#|(?:{words})) ?(\d+)", self.text.lower())
        for name, number in numbered:
            self.chunker.groups[name] = Selector("numbers", (int(number),), text=name)
            self.chunker.defined.add(name)
        between = re.search(rf"\b(?:between(?: them)?|in between|others?|rest)\b[^.;]{{0,12}}? (?:are|is|being|we call|the) (?:called )?(?:the )?([a-z-]+) (?:{words})(?:s|es)?\b", self.text.lower())
        if between and between[1] not in self.chunker.hoop_adjectives and between[1] not in ("of", "the", "all", "two", "end"):
            self.chunker.groups[between[1]] = Selector("inner", text=between[0])
            self.chunker.defined.add(between[1])
            numbered.append((between[1], ""))
        if numbered:
            return True
        match = re.match(rf"^(?:the )?([a-z-]+) (?:{words})(?:s|es)?\s*(?::|=|\bare\b|\bmeans?\b)\s*(?:the |nos?\.? |numbers? |(?:{words})(?:s|es)? )*(\d[\d ,&]*(?:(?:to|and|-|–|through)\s*\d+[ ,]*)*)(?:inclusive)?\.?;?$", self.text.strip().lower())
        if match is None:
            return False
        numbers, _, _ = number_list(lex(match[2]), 0, self.chunker.numbers)
        if not numbers:
            return False
        self.chunker.groups[match[1]] = Selector("numbers", numbers, text=match[0])
        self.chunker.defined.add(match[1])
        return True

    def _sided_tube(self, els: list[El]) -> bool:
        """Keep a tube's side: "the swaged half is always the left one"."""
        tube = next((e for e in els[:2] if e.type == "mem" and e.role == "tube" and e.side is None and len(e.words) > 1), None)
        side = re.search(r"\b(?:is|are|goes|stands|belongs)\b.{0,20}\b(left|right)\b(?: |-hand)*(?:one|side|half|tube|piece|leg)?\.?$", self.text.strip().lower())
        if tube is None or side is None:
            return False
        self.chunker.side_words[tube.words[0]] = side[1]
        return True

    def _remember(self, els: list[El]) -> None:
        nouns = [e for e in els if e.type in ("fit", "mem") and e.gov == "obj" and e.role not in ("thing", "hoop", "ground", "side", "ridge")] \
            or [e for e in els[:3] if e.type == "mem" and e.gov == "subj" and e.role in ("bar", "other")]
        subject = next((e for e in els if e.type == "fit" and e.gov == "subj" and not e.used), None)
        if subject is not None:
            self.last_is_member, self.last_noun = False, subject.name
        elif nouns:
            self.last_is_member = nouns[-1].type == "mem" and nouns[-1].role in ("bar", "other", "film")
            self.last_noun = nouns[-1].name
        for e in els:
            if e.type == "mem" and e.role in ("bar", "other") and e.amount is not None and e.amount.value and e.plural and "length" not in e.low:
                self.bar_numbers[e.words[-1]] = e.amount.value
        bars = [e for e in els if e.type == "mem" and e.role in ("bar", "other") and len(e.name.split()) > 1]
        if bars:
            self.section_bar = bars[-1].name
        step = self.step.id if self.step is not None else ""
        for e in els:
            if e.type == "fit" and e.parts and e.parts[0] in self.kit.parts and not (e.used and e.gov in ("over", "above", "below", "under", "beside", "of")):
                if self.kit.parts[e.parts[0]].form != "fastener":
                    self.recent.append((e.parts, e.plural))
                elif e.definite and len(e.parts) == 1:
                    self._note_rule(e.parts[0], ())  # "Put the clamp bolts in. A saddle takes two."
                self.last_mention = (e.parts, step)
        del self.recent[:-6]

    def _definition(self, clauses: list[Clause], els: list[El]) -> bool:
        """"Hoops 2 to 7 are the inner hoops; we call hoops 1 and 8 the door hoops.\""""
        done = self._named_hoops() or self._sided_tube(els)
        hoops = [e for e in els if e.type == "mem" and e.role == "hoop"]
        for k, el in enumerate(els):
            if el.type == "word" and el.low in ("are", "is") or el.type == "verb" and el.name == "call":
                left = [e for e in hoops if e.j <= el.i and e.hoops is not None]
                right = [e for e in hoops if e.i >= el.j]
                between = [e for e in els[:k] if e.type == "fit"]
                if left and right and not between:
                    words = [w for w in right[0].words if w not in ("hoop", "bow", "arch", "rib")]
                    subject = left[-1].hoops
                    if right[0].hoops is not None and right[0].hoops.kind in ("end", "inner") and subject is not None:
                        done = True
                        self.chunker.defined.update(right[0].words)
                        self.chunker.defined.update(w for w in right[0].low.split() if w in self.chunker.hoop_adjectives)
                    elif words and subject is not None and subject.kind in ("numbers", "first", "last"):
                        self.chunker.groups[words[-1]] = subject
                        done = True
        return done and not any(e.type == "fit" for e in els)

    # ---- clauses --------------------------------------------------------------------------------------------------------

    def _purpose(self, c: Clause) -> None:
        """"… to hold the heads of the posts": what a fitting is for is no host."""
        until = next((k for k, e in enumerate(c.els) if k and e.low == "until"), None)
        for m in c.els[until:] if until is not None else ():
            if m.type == "mem":
                m.used = True
        for k, el in enumerate(c.els):
            if el.type != "verb" or el.form != "base" or not k or c.els[k - 1].low != "to" or el is c.verb or el.cls not in ("take", "fasten", "feed") and el.name not in ("hold", "carry", "support", "guide", "take"):
                continue
            for m in c.els[k + 1:]:
                if m.type == "punct" or m.type == "prep" and m.low not in ("of",):
                    break
                if m.type == "mem":
                    m.used = True

    def _wherever(self) -> bool:
        """"Wherever a hex bolt or a joint bolt is used, a lock nut goes with it": so many of a fastener for every one of another."""
        if len(self.clauses) < 2 or not _WHEREVER.match(self.text) or not re.search(r"\b(?:with|on|to) (?:it|each|that|them)\b", self.text.lower()):
            return False
        owners = tuple(dict.fromkeys(f.parts[0] for x in self.clauses[:-1] for f in x.fits() if f.parts))
        closers = [f for f in self.clauses[-1].fits() if f.amount is not None and f.parts and f.parts[0] not in owners and self.kit.parts[f.parts[0]].form == "fastener"]
        if not owners or not closers:
            return False
        for f in closers:
            self._emit(Event("rule", self.step.id, self._source(), owners=owners, amount=f.amount, fastener=f.parts[0], parts=f.parts, group=self.group))  # type: ignore[union-attr]
        return True

    def _one_in_each(self, c: Clause) -> bool:
        """"Start the set screws: one in each clamp, two in each hanger": shares of the fastener named in front of the colon."""
        if not self.rule_fastener or c.verb is not None or self.rule_step != (self.step.id if self.step is not None else ""):
            return False
        found = [(e, c.els[k + 2]) for k, e in enumerate(c.els[:-2]) if e.type == "ellip" and e.amount is not None and e.amount.value and c.els[k + 1].type == "prep" and c.els[k + 2].type == "fit" and c.els[k + 2].each]
        if not found or not c.after_colon:
            return False
        for e, owner in found:
            self._emit(Event("rule", self.step.id, self._source(), owners=self._here(self._class(owner)), amount=e.amount, fastener=self.rule_fastener, parts=(self.rule_fastener,), group=self.group, per="here"))  # type: ignore[union-attr]
        return True

    def _clause(self, c: Clause) -> None:
        if self._one_in_each(c):
            return
        self._purpose(c)
        self._topic(c)
        if c.prefix and c.fits() and not c.members() and all(f.amount is None for f in c.fits()):
            self.prefix_owner = tuple(dict.fromkeys(n for f in c.fits() for n in self._class(f)))
            return
        if self.prefix_owner:
            done = self._local_rules(c)
            if self._owner_list(c) or done and not [f for f in c.fits() if f.amount is not None]:
                return
        if self._rows(c) or self._copy(c):
            return
        if self._form_statement(c):
            return
        if self._local_rules(c) and not [f for f in c.fits() if f.amount is not None]:
            self._act(c)
            return
        if self._rule(c):
            return
        named = next((e.hoops for e in c.els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and (e.gov == "except" or c.els[c.els.index(e) - 1].low in ("except", "but"))), None)
        if named is not None and c.verb is not None and c.verb.cls == "take" and not c.fits() and any(e.type == "pron" and e.name in ("them", "it", "one", "these") for e in c.els) and self.recent:
            self._emit(Event("remove", self.step.id, self._source(), self.recent[-1][0][:1], hoops=named, group=self.group))  # type: ignore[union-attr]
            return
        excepted = next((e.hoops for e in c.els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.hoops.kind == "except"), None) if c.verb is not None and c.verb.cls == "take" else None
        if c.verb is not None and c.verb.name in ("make", "give", "come") and c.els[0].low in ("that", "which", "this") and c.fits() and c.fits()[0].amount is not None and c.fits()[0].parts:
            f = c.fits()[0]
            hoops, units, member, _ = self._hosts([e for e in c.els if e.type == "mem" and not e.used], c)
            if member is None:
                self._emit(Event("claim", self.step.id, self._source(), f.parts[:1], f.amount, hoops, units, per="makes", group=self.group))  # type: ignore[union-attr]
            return
        if excepted is not None and not c.fits() and any(e.type == "pron" and e.name in ("them", "it", "one", "these") for e in c.els) and self.recent:
            self._emit(Event("remove", self.step.id, self._source(), self.recent[-1][0][:1], hoops=excepted.of[1], group=self.group))  # type: ignore[union-attr]
            return
        null = self._null(c)
        if null is None and self.conditional and c.kind == "main":
            null = "depends on something"
            maybe = [t for t in self._themes(c) if t.type == "fit" and t.amount is not None and t.parts]
            if maybe and c.verb is not None and c.verb.cls in ("put", "fasten"):
                name = maybe[0].parts[0]
                self._emit(Event("ask", self.step.id, self._source(), (name,), doubts=(Doubt("quantity", f"How many {name}? It depends on what happens on the site; none is counted.", ("none", "one for each time it happens"), "none"),), group=self.group))  # type: ignore[union-attr]
        themes = [] if null and null != "ellip" else self._themes(c)
        if themes and c.kind == "relative" and self.ctx.current:
            first = c.els.index(themes[0])
            before = tuple(p for i, p in c.places if i < first)
            if before:
                self._set_places(self.ctx.current[-1], before)
                c.places = [(i, p) for i, p in c.places if i >= first]
        if themes and all(t.type in ("ellip", "pron") for t in themes) and self._share_out(c, themes):
            self._act(c)
            return
        if len(themes) > 1 and any(t.type != "fit" for t in themes):
            themes = self._own_share(c, themes)
        if not themes:
            self._refine(c)
            self._act(c)
            if c.fits() and not self.out:
                self.why = null or "only speaks of fittings"
            return
        self._adds(c, themes)
        self._act(c)

    def _topic(self, c: Clause) -> None:
        """Note which hoops, tube or bar the clause speaks of."""
        hoops = [e for e in c.els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and not e.used]
        sels = [e.hoops for e in hoops if e.hoops is not None]
        if (c.prefix or c.verb is None and hoops and len([e for e in c.els if e.type != "punct" and e.low not in ("now", "then", "next", "finally", "first")]) == 1) and not c.fits():
            mems = [e for e in c.els if e.type == "mem" and not e.used and e.role not in ("thing", "ground", "film")]
            found, units, member, _ = self._hosts(mems, c)
            sides = [e.side for e in c.els if e.side and e.type in ("word", "ellip")]
            if sides and not units:
                units = (Unit("side", "side", sides[0], False),)
            self.prefix_side = bool(sides) or any(u.kind == "side" and u.side for u in units)
            if found is not None:
                self.ctx.hoops, self.ctx.example = found, False
            if units:
                self.ctx.units = tuple(replace(u, each=u.each or u.kind == "tube" and u.plural) for u in units)  # "Legs, every hoop: slide a clip on"
            if member is not None and found is None and not any(u.kind not in ("end", "joint", "side") for u in units):
                self.ctx.bar = member
            return
        be = any(e.low in ("is", "are", "was", "were") for e in c.els)
        front = bool(hoops) and c.els[0].low in ("at", "on", "for", "to", "in", "onto") and any(e is hoops[0] for e in c.els[1:4])
        it_has = c.els[0].type == "pron" and c.verb is not None and c.verb.cls in ("take", "go") and bool(self.ctx.current or c.kind == "relative" or re.search(r"\bit has\b", c.low))
        if c.kind != "sub" and not it_has and sels and (c.verb is not None and not c.verb.neg or be or front or c.verb is None and not c.fits() and len(c.els) > 3) and not _STARTS.search(self.text.lower()) and not re.search(r"\b(?:where|as|like|same|likewise|than)\b|^the (?:last|first) of (?:these|them|those)\b", c.low):
            # what a sentence is about holds for "that hoop", "these hoops", "each half" in the next
            spoken = [e.hoops for e in hoops if e.gov not in ("from", "above", "below", "until", "than", "between") and e.hoops is not None]
            fronted = front
            self.fronted = self.fronted or front
            if spoken and (fronted or spoken[0].kind != "all" and all(f.definite and f.amount is None for f in c.fits())):
                sel = spoken[0]
                for other in spoken[1:]:
                    sel = join_selectors(sel, other)
                self.ctx.hoops = self.spoken = sel
                if not all(u.kind == "side" for u in self.ctx.units):
                    self.ctx.units = ()
        if not c.fits() and c.verb is not None and c.verb.cls in ("put", "take", "go") and (c.els[-1] is c.verb or c.els[-1].low in ("on", ":", "onto")) and c.kind == "main":
            # "Onto each leg tube, from its top end, slide" with bullets below
            mems = [e for e in c.els if e.type == "mem" and not e.used and (e.role not in ("thing", "ground", "film", "end") or e.role == "end" and e.side)]
            found, units, member, _ = self._hosts(mems, c)
            if found is not None:
                self.ctx.hoops = found
            if units:
                self.ctx.units = tuple(units)
            if member is not None and found is None and not units:
                self.ctx.member = member
        sided = [e for e in c.els if e.type == "mem" and e.role == "tube" and e.side in ("left", "right") and e.gov == "obj"]
        if sided and hoops and not c.fits() and c.verb is not None and c.verb.cls in ("put", "join"):
            self.ctx.tube, self.ctx.example, self.ctx.hoops = self._unit(sided[0]), True, hoops[0].hoops
        bars = [e for e in c.els if e.type == "mem" and e.role in ("bar", "other") and not e.used and e.gov in ("obj", "subj", "of")]
        if bars and all(f.definite and (f.amount is None or f.gov in self.chunker.through) for f in c.fits()) and (not c.fits() or bars[0].i < c.fits()[0].i) and not any(e.role in ("hoop", "joint", "foot", "tube") and e.gov in ("obj", "subj") for e in c.els if e.type == "mem"):
            self.ctx.bar = bars[0].name
            self.ctx.across = any(e.type == "mem" and e.role == "hoop" and e.gov in ("across", "of", "at", "to", "on") for e in c.els) or c.els[0].role == "hoop"
            crossed = [e.hoops for e in c.els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.gov in ("across", "of", "on", "to", "at")]
            if crossed and self.ctx.across:
                self.ctx.hoops = crossed[0]
        elif bars and c.verb is not None and c.verb.cls == "feed":
            self.ctx.bar = bars[0].name
        elif hoops and c.verb is not None and any(e.gov in ("obj", "subj") for e in hoops):
            self.ctx.bar = None
        if c.verb is not None and c.verb.cls == "handle" or (c.verb is not None and c.verb.name in ("take", "lay", "begin", "start", "pick") and not c.fits()):
            if not any("same" in e.words or "same" in e.adjectives for e in c.members("tube")) and "same" not in c.low:
                self.ctx.tube = None
            if sels and not _STARTS.search(self.text.lower()):
                self.ctx.hoops, self.ctx.example, self.ctx.units = sels[0], sels[0].kind in ("numbers", "first", "last"), ()
            for el in c.members("tube"):
                if el.side or el.tube_at:
                    self.ctx.tube = self._unit(el)
                    self.ctx.units = (self._unit(el),)

    def _null(self, c: Clause) -> str | None:
        """Why the clause adds nothing, None if it may add."""
        low = c.low
        verb = c.verb
        if c.kind == "sub" and c.word in ("if", "unless"):
            return "depends on something"
        if self.text.rstrip().endswith("?"):
            return "asks the reader to check"
        if c.after_colon and verb is None and self.needs:
            return "a list of what is needed"
        if _ROUND.search(self.text):
            self.checking = True
            return "part of a check"
        if _REMEMBER.search(self.text):
            return "speaks of what is on already"
        if re.match(r"^(?:neither|none|nothing)\b", low):
            return "says that nothing is needed"
        if re.match(r"^only\b", low) and verb is not None and verb.cls == "take":
            return "says which ones, not how many"
        lead = next((e for e in c.els if e.low not in ("now", "then", "next", "finally", "also") and e.type not in ("punct", "conj")), None)
        if self.already.search(low) and not (verb is not None and verb.cls in ("put", "fasten") and verb.form == "base" and lead is verb):
            return "speaks of what is on already"
        if verb is not None and verb.neg:
            return "says what not to do"
        if self.checking and (verb is None or verb.cls in ("take", "go")):
            return "part of a check"
        if verb is not None and verb.cls == "null" and not (verb.passive and any(f.gov in ("by", "with") for f in c.fits())):
            places_it = verb.form == "base" and any(f.gov == "obj" and f.amount is not None and not f.definite and f.det != "no" for f in c.fits()) and any(e.type == "prep" and e.low in ("round", "around", "over", "onto", "through") for e in c.els)
            if (verb.name == "leave" or verb.verb in ("tighten", "check", "measure")) and not places_it:
                return f"'{verb.low}' adds nothing"
        if _BY_RULE.search(low) and c.fits() and all(f.amount is None and f.parts and self.kit.parts[f.parts[0]].form == "fastener" for f in c.fits() if f.gov == "obj"):
            return "a rule told before counts them"
        if verb is not None and verb.cls == "supply":
            return "speaks of what is supplied"
        if c.kind == "sub" and c.word in ("when", "once", "after", "before", "until", "as", "because", "so", "since", "while", "although", "where"):
            if verb is None or verb.form != "base" or verb.modal:
                return f"'{c.word}' speaks of another time"
        if verb is not None and verb.cls == "remove":
            return "takes off"
        return None

    def _themes(self, c: Clause) -> list[El]:
        verb = c.verb
        out: list[El] = []
        if c.prefix:
            return out
        for f in c.els:
            if f.type == "fit" and not f.used and self._is_theme(f, c, verb):
                out.append(f)
            elif f.type in ("ellip", "pron") and not f.used and f.amount is not None and self._elliptic_theme(f, c):
                out.append(f)
            elif f.type == "pron" and f.name in ("it", "them", "these") and self._pronoun_theme(f, c, verb):
                out.append(f)
        return out

    def _pronoun_theme(self, f: El, c: Clause, verb: El | None) -> bool:
        """"The lamp ring comes first. Slide it onto the left half of hoop 3": a part that was named but not put anywhere yet."""
        if verb is None or verb.cls != "put" or f.gov != "obj" or not self.recent or self.ctx.current or any(e.type == "fit" for e in c.els):
            return False
        parts = self.recent[-1][0]
        if any(e.parts[:1] == parts[:1] for e in self.ctx.last if e.step == self.step.id):  # type: ignore[union-attr]
            return False
        if not any(e.type == "mem" and not e.used and e.role in ("hoop", "tube", "foot", "joint") for e in c.els):
            return False
        f.definite, f.parts = True, parts[:1]
        return True

    def _is_theme(self, f: El, c: Clause, verb: El | None) -> bool:
        indefinite = f.amount is not None and not f.definite
        if f.det in ("your", "our", "my") and f.amount is None:
            return False  # "hook your tape on the foot"
        if f.det == "no" or f.ords and not f.more and f.ords != (2,) or f.ords and f.definite:
            return False
        if f.definite and f.amount is None and self.kit.has_list and (not f.parts or not self.kit.parts[f.parts[0]].in_list) and not any(e.type == "mem" and not e.used and e.role in ("hoop", "tube", "foot", "joint") for e in c.els):
            return False
        if f.gov in self.chunker.with_:
            if f.amount is None and not f.definite and verb is not None and verb.cls in ("take", "go", "feed", "null"):
                return False
            return not f.definite or f.amount is not None
        if f.amount is None and not f.definite and self.kit.has_list and (not f.parts or not self.kit.parts[f.parts[0]].in_list) and f.gov in ("and", "subj", "next"):
            return False
        if f.amount is None and not f.definite and (f.gov == "next" or f.gov == "subj" and (verb is not None and not verb.passive) or " whose " in f" {c.low} "):
            return False
        if f.gov in ("obj", "(", "next", "and"):
            if verb is not None and verb.passive and f.gov == "obj" and verb.name not in ("give", "allow", "provide") and not f.amount:
                return False
            if verb is not None and verb.cls == "fasten" and (f.each or f.definite and not f.amount and f.plural) and any(g.gov in self.chunker.with_ for g in c.els if g is not f and (g.type == "fit" or g.type == "ellip" and g.amount)):
                return False
            if verb is not None and verb.cls in ("feed", "stand", "join"):
                return indefinite
            if verb is not None and verb.cls == "move":
                return indefinite
            if f.each and verb is not None and verb.cls in ("put", "fasten"):
                return False
            if f.gov == "next" and f.definite and not f.amount:
                return False
            return True
        if f.gov == "subj":
            after = next((e for e in self.sentence_els if e.i >= f.j), None)
            if f.det in ("a", "an", "any") and after is not None and after.low in ("that", "which", "whose"):
                return False
            told = verb is not None and verb.cls == "go" and not f.plural and any(e.per == "described" and e.step == self.step.id and set(e.parts) & set(f.parts) for e in self.ctx.last)  # type: ignore[union-attr]
            if told and any(e.type == "mem" and e.role in ("hoop", "tube") for e in c.els):
                return True  # "Every brace gets a collar at both ends. The upper collar goes on the end hoop"
            if f.definite and verb is not None and not verb.passive and not f.amount:
                return False
            if verb is None:
                be = any(e.low in ("is", "are", "be", "was", "were") for e in c.els)
                hosted = any(e.type == "mem" and not e.used and e.role not in ("thing", "ground", "film") for e in c.els) or bool(c.places)
                unknown = self.kit.has_list and (not f.parts or not self.kit.parts[f.parts[0]].in_list) and not hosted
                return not be and not unknown and (indefinite or (f.amount is None and f.plural and not f.definite and not f.each and hosted))
            if verb.passive and verb.name == "close" and f.definite and not any(e.type == "mem" and not e.used for e in c.els):
                return False
            if verb.cls == "fasten" and not verb.passive and indefinite and not f.each and f.parts and self.kit.parts[f.parts[0]].form in ("fastener", "sleeve") \
                    and any(e.gov == "obj" and (e.type == "pron" or e.type == "mem" and e.role in ("joint", "foot", "hoop", "tube", "bar", "other")) for e in c.els):
                return True  # "Four screws hold the joint"
            if verb.cls in ("go",) or verb.passive and verb.cls in ("put", "fasten", "go", "feed"):
                return not f.each
            if verb.form == "ed" and verb.cls in ("put", "fasten") and indefinite:
                return True
            if verb.cls in ("take",):
                return False
            if verb.cls in ("put", "fasten") and verb.form in ("s", "base"):
                return verb.low in ("fits", "hangs", "fit", "clips", "snaps", "slides", "slide", "screws", "bolts", "attaches", "runs", "hooks") and not f.each
            return False
        if f.gov in ("of", "plus", "and") and indefinite and verb is None:
            return True
        if f.gov in ("in", "over", "onto", "by") and indefinite and f.parts and self.kit.parts[f.parts[0]].form == "sleeve" and verb is not None and verb.cls in ("put", "join", "fasten"):
            return True
        if f.gov == "on" and indefinite and verb is not None and verb.cls in ("put", "stand") and any(e.type == "mem" and e.gov == "obj" and e.role in ("bar", "other") for e in c.els) and self.kit.parts.get(f.parts[0] if f.parts else "") is not None:
            return True
        if f.gov in ("on", "by", "from") and indefinite and verb is not None and verb.name in ("hang", "rest", "sit", "carry", "support", "hold") and (f.amount.value or 0) > 0 and any(e.type == "mem" for e in c.els[c.els.index(f):]):
            return True
        return False

    def _elliptic_theme(self, f: El, c: Clause) -> bool:
        if f.det == "other" and not any(e.amount is not None and e.type in ("fit", "ellip") and e.j <= f.i and e is not f for e in self.sentence_els):
            return False
        before = any(e.type == "fit" for e in c.els[: c.els.index(f)])
        if f.role == "hoop" or not (before or self.ctx.current or self.ctx.last or self.recent):
            return False
        if f.gov not in ("obj", "subj", "next", "(", "and") and f.gov not in self.chunker.with_ and f.gov not in ("of",):
            return False
        if c.verb is not None and c.verb.name == "take" and c.verb.form == "base" and c.els[0] is c.verb and f.type == "ellip":
            return False  # "take five and count"
        if f.ords or f.definite or f.det in ("all", "both", "any") or f.det in ("a", "an") and not f.more or f.adjectives and "way" in c.low or self.text_of_thing(f, c):
            return False
        if c.verb is not None and c.verb.cls in ("repeat", "null", "stand", "handle") or f.each or c.verb is None and c.els[0] is not f and not c.after_colon and not any(e.type == "mem" for e in c.els[: c.els.index(f)]):
            return False
        k = c.els.index(f)
        if any(e.type == "mem" and e.role in ("bar", "other", "film") and e.gov in ("obj", "subj") and (e.amount or e.plural) for e in c.els[:k]) and not any(e.type == "fit" for e in c.els[:k]):
            return False  # "hang two door leaves, one on each post"
        if self.last_is_member and not any(e.type == "fit" and e.amount is not None and not e.definite and e.j <= f.i for e in self.sentence_els):
            return False
        if any(e.type == "mem" and e.role in ("bar", "other") and (e.amount or e.plural) and e.j <= f.i and e.gov in ("subj", "obj") for e in self.sentence_els) and not any(e.type == "fit" and e.amount and e.j <= f.i for e in self.sentence_els):
            return False
        if k and (c.els[k - 1].low == "not" or k > 1 and c.els[k - 2].low == "not"):
            return False
        if any(e.type == "ellip" and e is not f and e.amount and n + 1 < len(self.sentence_els) and self.sentence_els[n + 1].type == "word" and self.sentence_els[n + 1].low not in _AFTER_ELLIPSIS for n, e in enumerate(self.sentence_els) if e.i < f.i):
            return False  # "four people lift: one at each foot"
        after = c.els.index(f)
        nxt = c.els[after + 1] if after + 1 < len(c.els) else None
        return nxt is None or nxt.type == "pron" and nxt.name in ("each", "ea") or nxt.low == "of" and after + 2 < len(c.els) and c.els[after + 2].low in ("same", "these", "those", "them", "the same") or nxt.type in ("prep", "len", "punct", "conj", "verb") and nxt.low not in ("of",) or nxt.type == "word" and nxt.low in _AFTER_ELLIPSIS or nxt.type == "mem" and nxt.each

    def text_of_thing(self, f: El, c: Clause) -> bool:
        """A number of something that is neither fitting nor member: "three people"."""
        return f.gov in self.chunker.with_ and not f.more and not any(e.type == "fit" for e in c.els) and self.kit.parts.get(self.ctx.last[-1].parts[0] if self.ctx.last else "") is None

    # ---- hosts ----------------------------------------------------------------------------------------------------------

    def _unit(self, el: El) -> Unit:
        number = el.amount.value if el.amount and el.det in ("its", "the", "both", None, "all") else (2 if el.det == "both" or (el.name == "pair") else None)
        return Unit(el.role if el.role in _UNIT_ROLES else "member", el.name if el.role not in ("tube", "joint") else " ".join(w for w in el.words if w not in ("other", "same")), el.side, el.each or el.det in ("both", "either") or el.role in ("joint", "foot") and el.det in ("a", "an") or el.role in ("tube", "side") and el.gov == "to" and el.det in ("the", "a") and not el.side and not el.plural and el.amount is None, number, el.plural, el.det)  # type: ignore[arg-type]

    def _hosts(self, mems: list[El], c: Clause) -> tuple[Selector | None, tuple[Unit, ...], str | None, tuple[Unit, ...]]:
        """(hoops, units, member, bars) that the mentions name."""
        hoops: Selector | None = None
        corner = next((m for m in mems if m.role in ("tube", "foot") and "corner" in (*m.words, *m.adjectives) and not any("corner" in w for w in self.chunker.tube_words)), None)
        if corner is not None:
            hoops = Selector("end", each=True, text=corner.text)  # the four corner legs of the tunnel
            corner.each, corner.amount, corner.hoops = True, None, hoops
        units: list[Unit] = []
        bars: list[Unit] = []
        others: list[El] = []
        passed: list[El] = []
        hoopish = False
        foreign: set[int] = set()
        for m in mems:
            k = c.els.index(m)
            if m.role in ("foot", "ridge", "side", "shoulder") and k + 2 < len(c.els) and c.els[k + 1].low == "of" and c.els[k + 2].type == "mem" and c.els[k + 2].role in ("bar", "other"):
                foreign.add(id(m))  # "the foot of each door post"
        for m in mems:
            if id(m) in foreign:
                continue
            if m.gov in self.chunker.through and m.role in ("tube", "joint", "foot", "hoop"):
                pass
            elif m.gov in self.chunker.through or m.gov in ("with", "by", "using", "between") and not (m.gov == "between" and m.role == "hoop" and m.hoops is not None and m.hoops.kind == "numbers"):
                if m.gov == "between":
                    continue
                if m.role in ("bar", "other"):
                    passed.append(m)
                if m.role == "hoop" and m.hoops is not None:
                    hoopish = True
                    hoops = m.hoops if hoops is None else hoops
                continue
            if m.role == "hoop":
                hoopish = True
                if m.hoops is None and m.det in ("these", "those", "that", "this", "such") and self.spoken is not None and self.ctx.hoops is None:
                    m.hoops = replace(self.spoken, each=m.each or self.spoken.each)
                if m.hoops is not None and not m.hoops.each and any(e.type == "pron" and e.name == "each" and e.i >= m.j for e in c.els[:-1]) and " each of " not in f" {c.low} ":
                    m.hoops = replace(m.hoops, each=True)
                if m.hoops is not None and m.hoops.numbers == (-2,) and m.hoops.kind == "numbers":
                    m.hoops = self._neighbour(m.hoops)
                if m.hoops is not None:
                    hoops = m.hoops if hoops is None else join_selectors(hoops, m.hoops)
            elif m.role == "tube" and m.words == ("tube",) and m.det == "the" and self.section_bar and self.section_bar.split()[-1] == "tube":
                others.append(m)
                m.name = self.section_bar
            elif m.role in ("tube", "foot", "joint", "shoulder", "ridge", "crossing", "side", "end", "bay"):
                units.append(self._unit(m))
                if m.role in ("tube", "foot", "shoulder", "crossing"):
                    hoopish = True
            elif m.role in ("bar", "other"):
                others.append(m)
        member = None
        if not others and not hoopish and not units and passed:
            others = [m for m in passed if m.gov in self.chunker.through]
        if others:
            host = next((m for m in others if m.gov in ("on", "onto", "to", "in", "into", "round", "at", "around", "over", "along", "of", "across")), None) or next((m for m in others if m.gov in ("obj", "subj")), None) or others[0]
            if not hoopish:
                member = host.name
            bars = [Unit("member", m.name, m.side, m.each or m.det == "both", m.amount.value if m.amount else 2 if m.det == "both" else self.bar_numbers.get(m.words[-1] if m.words else "") if m.each else None, m.plural, m.det) for m in others]
        return hoops, tuple(units), member, tuple(bars)

    def _neighbour(self, sel: Selector) -> Selector:
        """"The neighbouring hoop": next to the end hoop, or to both ends, that the step spoke of before."""
        step = self.step.id if self.step is not None else ""
        kinds = [e.hoops.kind for e in [*self.ctx.last, *self.ctx.current] if e.step == step and e.hoops is not None]
        if "end" in kinds:
            return replace(sel, numbers=(2, -2))
        return replace(sel, numbers=(2,)) if kinds and kinds[-1] in ("first", "door") else sel

    def _adds(self, c: Clause, themes: list[El]) -> None:
        for k, e in enumerate(c.els):
            # "as far up as on bow 1", "like hoop 2": what it is compared with is no host
            if e.type == "mem" and e.role == "hoop" and k and (c.els[k - 1].low in ("as", "like", "than") or k > 1 and c.els[k - 1].type == "prep" and c.els[k - 2].low in ("as", "than", "like")):
                e.used = True
        first = c.els.index(themes[0])
        pre = [e for e in c.els[:first] if e.type == "mem" and not e.used and e.role not in ("thing", "ground", "film")]
        segments = []
        for n, t in enumerate(themes):
            a = c.els.index(t)
            b = c.els.index(themes[n + 1]) if n + 1 < len(themes) else len(c.els)
            segments.append((a, b))
        made: list[Event] = []
        for e in c.els:
            # "two lengths to each hoop, one per side": how the two are shared out
            if e.type == "mem" and e.role in ("side", "tube", "joint") and e.det == "per" and e.amount is not None and any(t.amount is not None and t.amount.value == 2 * (e.amount.value or 0) for t in themes):
                e.used = True
        for n, t in enumerate(themes):
            a, b = segments[n]
            seg = [e for e in c.els[a:b] if e.type == "mem" and not e.used and e.role not in ("thing", "ground", "film")]
            k = n
            while not seg and k + 1 < len(themes) and self._listed(c, segments[k]):
                k += 1
                x, y = segments[k]
                seg = [e for e in c.els[x:y] if e.type == "mem" and not e.used and e.role not in ("thing", "ground", "film")]
            places = [p for i, p in c.places if a <= i < b or (n == 0 and i < a) or (n == len(themes) - 1 and i >= b)]
            made.append(self._add(c, t, pre, seg, places, made))
        if len(made) > 1 and made[-1].places and not any(e.places for e in made[:-1]) and len({e.parts[:1] for e in made}) == 1:
            made = [e if e.places else self._with_places(e, made[-1].places) for e in made]
        replaces = self._corrected()
        if replaces and not re.search(r"\b(?:further|addition|additional|also|another)\b", self.text.lower()):
            made = [replace(e, steps=replaces) for e in made if e.amount is None or not self._denied(c, e)]
        for event in made:
            self._emit(event)

    def _corrected(self) -> tuple[str, ...]:
        """The printed labels that a sentence of a correction speaks of."""
        ref = _STEP_REF.search(self.text)
        return tuple(labels(ref[1])) if ref and self.section is not None and self.section.role == "correction" else ()

    def _denied(self, c: Clause, event: Event) -> bool:
        """"… and not by four": the number that no longer holds."""
        return bool(event.amount is not None and event.amount.text and re.search(rf"\bnot (?:by |with )?{re.escape(event.amount.text.lower())}", c.low))

    def _with_places(self, event: Event, places: tuple[Place, ...]) -> Event:
        new = replace(event, places=places)
        self.ctx.current = [new if e is event else e for e in self.ctx.current]
        return new

    def _listed(self, c: Clause, segment: tuple[int, int]) -> bool:
        a, b = segment
        return all(e.type in ("conj", "fit", "punct") for e in c.els[a:b])

    def _add(self, c: Clause, t: El, pre: list[El], seg: list[El], places: list[Place], made: list[Event]) -> Event:
        if t.parts and self.kit.parts[t.parts[0]].form == "fastener" and seg and seg[0].role in ("bar", "other") and seg[0].gov in ("into", "in", "to") and made and not any(e.role in ("hoop", "tube", "foot", "joint") for e in seg):
            pre = []  # "… and one deck screw into the board"
        hoops, units, member, bars = self._hosts([*pre, *seg], c)
        nothing = hoops is None and member is None and not units and not bars
        pron = next((e for e in c.els if e.type == "pron" and e.gov in ("over", "onto", "on", "to", "in", "into", "round", "through")), None)
        if nothing and pron is not None and self.last_is_member and not self.ctx.current:
            member, nothing = self.last_noun, False
        things = [e for e in c.els if e.type == "mem" and e.role == "thing" and not e.used and e.gov in ("on", "onto", "in", "into", "to", "at") and c.els.index(e) > c.els.index(t)]
        if nothing and things and self.kit.parts.get(t.parts[0] if t.parts else "") is not None and self.kit.parts[t.parts[0]].form != "fastener":
            member = things[0].name
        elif nothing and self.ctx.current and self.ctx.current[-1].kind == "add" and not t.more:
            before = self.ctx.current[-1]
            units = tuple(u for u in before.units if u.kind in ("tube", "side", "foot", "joint", "shoulder") or before.member is not None)
            hoops, member = before.hoops, before.member
        if nothing and member is None and c.verb is not None and c.verb.passive and self.ctx.hoops is None:
            subject_of = next((e for e in c.els if e.type == "mem" and e.gov == "subj" and e.role in ("thing", "film", "bar", "other") and len(e.words) > 1), None)
            if subject_of is not None:
                member, nothing = " ".join(subject_of.words), False  # "Channel lengths are joined with a joiner"
        if t.side and t.type in ("fit", "ellip") and not any(u.side for u in units):
            units = (*units, Unit("side", "side", t.side, False))
        parts, amount, doubts = self._what(t, c, made)
        fastened = self._fastens(t, c, made)
        ctx = self.ctx
        named = hoops is not None and not nothing
        if hoops is None and member is None:
            of_these = any(e.type == "pron" and e.name in ("these", "those", "them") and e.gov in ("at", "on", "of", "to", "onto") for e in c.els)
            hoops = self.spoken if of_these and self.spoken is not None and ctx.hoops is None else ctx.hoops
        if member is None and not named and ctx.bar is not None and units and all(u.kind in ("joint", "end") for u in units):
            member = ctx.bar
        a_hoop = any(e.type == "mem" and e.role == "hoop" and e.gov in ("to", "on", "onto", "round", "around", "over") for e in [*pre, *seg])
        if member is None and not named and not a_hoop and not units and not bars and ctx.bar is not None and not places and not self.fronted:
            member = ctx.bar
        if member is None and not units and not named and ctx.member is not None and hoops is None:
            member = ctx.member
        if len(ctx.units) == 1 and ctx.units[0].kind == "side" and ctx.units[0].side and member is None and any(u.kind == "tube" and u.side is None and not u.each for u in units):
            units = tuple(replace(u, side=ctx.units[0].side) if u.kind == "tube" and u.side is None else u for u in units)
        if not units and ctx.units and (not named or all(u.kind == "side" for u in ctx.units)) and member is None:
            units = ctx.units
        if ctx.example and ctx.tube is not None and not named and member is None and len(units) == 1 and units[0].kind == "joint" and not units[0].each and not units[0].plural and units[0].side is None:
            units = (replace(units[0], side=ctx.tube.side),)
        if ctx.example and ctx.tube is not None and not named and member is None and all(u.kind in ("foot", "end") and u.side is None and not u.each for u in units):
            units = (ctx.tube, *units)
        if named:
            ctx.hoops, ctx.member = hoops, None
            if hoops is not None and hoops.kind == "all":
                ctx.example = False
        elif member is not None:
            ctx.member = member
        if member is not None and member == ctx.bar and ctx.across and units and all(u.kind == "end" and (u.each or u.plural) for u in units if u.kind != "member") \
                and t.parts and self.kit.parts[t.parts[0]].form in ("closed", "open"):
            # a clip at either end of a bar that lies across a hoop sits on the hoop
            hoops, member, units, bars = ctx.hoops, None, (Unit("side", "side", None, True, 2),), ()
        if member is not None:
            hoops = None
        verb = c.verb
        low = c.low
        subject = c.els[0]
        described = verb is not None and (verb.cls == "take" or verb.passive and verb.name in ("carry", "hold", "hang", "support", "bear")) and (subject.type == "mem" and subject.role == "bar" and subject.det in ("a", "an", "each", "every") or subject.type in ("pron", "ellip") and self.last_is_member) \
            and any(u.kind == "end" for u in units)
        if self.vague.search(low) and not any(p.offset_mm is not None for p in places) and self.kit.parts[parts[0]].form != "fastener":
            doubts = (*doubts, Doubt("position", f"Where the {parts[0]} goes is not measured: '{self.vague.search(low).group()}'.", ()))  # type: ignore[union-attr]
        event = Event(
            "add", self.step.id, self._source(), parts, amount, hoops, units, tuple(places), definite=t.definite and not t.each, more=t.more, member=member,  # type: ignore[union-attr]
            holds=fastened if fastened is None or fastened < 1000 else fastened - 1000, per="described" if described else None, doubts=doubts, verb=verb.low if verb is not None else None, text=t.text, group=self.group if fastened is None or fastened < 1000 else self.held_group, option=self.step.option,  # type: ignore[union-attr]
            slide=_slides(low, verb), early=self.early == self.step.id or bool(re.search(r"\bbefore (?:you |it is |they are |the hoops? (?:is|are) )?(?:join|assembl|stand|push)", low)),
            late=bool(re.search(r"\b(?:later|not yet|wait)\b", low)), bar="|".join(b.name for b in bars) if bars and member is None else None,
        )
        if bars and member is None:
            event = replace(event, units=(*event.units, *(b for b in bars if b.each or b.number)))
        elif bars and member is not None:
            event = replace(event, units=(*event.units, *(b for b in bars if b.name == member)))
        ctx.current.append(event)
        return event

    def _what(self, t: El, c: Clause, made: list[Event]) -> tuple[tuple[str, ...], Amount | None, tuple[Doubt, ...]]:
        amount = t.amount
        tail = self._tail(c, t)
        if amount is not None and re.match(r"^(?:each|apiece|per|ea\.?)\b", tail):
            amount = replace(amount, each=True)
        if amount is not None and re.search(r"\b(?:in all|altogether|in total|all told)\b", c.low):
            amount = replace(amount, total=True)
        if t.type == "pron" and t.parts:
            return t.parts, None, ()
        if t.type in ("ellip", "pron"):
            joint = any(e.type == "mem" and e.role == "joint" for e in c.els)
            if joint and not self.ctx.current and not made and self.last_mention[1] == self.step.id and self.last_mention[0]:  # type: ignore[union-attr]
                return self.last_mention[0][:1], amount, ()
            if t.gov not in self.chunker.with_ and (not self.ctx.current or self.recent and not any(e.parts[:1] == self.recent[-1][0][:1] for e in self.ctx.current)) and not made and self.recent:
                return self.recent[-1][0][:1], amount, ()
            previous = [*self.ctx.current, *([] if self.ctx.current else self.ctx.last)]
            for event in reversed([*made, *previous]):
                if event.holds is None or t.gov in self.chunker.with_:
                    return event.parts, amount, ()
            return (previous[-1].parts if previous else ()), amount, ()
        parts = t.parts
        doubts: tuple[Doubt, ...] = ()
        if not parts:
            part = unlisted(tuple(w for w in t.words if w not in ("closed", "same", "new")), self.grammar)
            if part.name not in self.kit.parts:
                self.kit.parts[part.name] = part
                self.kit.words[part.name] = tuple(part.name.split())
                self.kit.aliases.setdefault(tuple(part.name.split()), part.name)
                self.kit.heads.setdefault(part.name.split()[-1], []).append(part.name)
            parts = (part.name,)
        elif len(parts) > 1 and not t.classes:
            if t.definite or self._mentioned_here(parts):
                parts = self._narrow(parts)
            if len(parts) > 1:
                doubts = (Doubt("fitting", f"'{t.text}' may be {' or '.join(parts[:4])}", tuple(parts[:4]), parts[0]),)
        if amount is None and not t.definite:
            if re.search(r"\b(?:as required|as needed|as necessary|as many as)\b", c.low):
                amount = Amount(None, open="as-required")
            elif t.gov in self.chunker.with_ and not t.plural:
                amount = Amount(1, text="")
            elif t.plural or not t.each:
                amount = Amount(None, open="none")
        return parts, amount, doubts

    def _mentioned_here(self, parts: tuple[str, ...]) -> bool:
        """Whether this sentence has named one of the candidates in full already."""
        return any(p in parts for e in self.ctx.current for p in e.parts[:1])

    def _narrow(self, parts: tuple[str, ...]) -> tuple[str, ...]:
        """The candidate that the text spoke of last, if any."""
        recent = [p for e in [*reversed(self.ctx.current), *reversed(self.ctx.last)] for p in e.parts[:1]]
        for name in recent:
            if name in parts:
                return (name,)
        in_step = [p for r in reversed(self.readings[-40:]) for e in r.events for p in e.parts[:1] if e.step == self.step.id]  # type: ignore[union-attr]
        for name in in_step:
            if name in parts:
                return (name,)
        return parts

    def _tail(self, c: Clause, t: El) -> str:
        k = c.els.index(t)
        return " ".join(e.low for e in c.els[k + 1: k + 4]).strip(", ")

    def _fastens(self, t: El, c: Clause, made: list[Event]) -> int | None:
        """Whether a fastener closes a fitting of the same clause (its index among the clause's events) or of the sentence before."""
        if not t.parts or self.kit.parts[t.parts[0]].form != "fastener":
            return None
        if t.words[-1] in ("nut", "washer") or t.parts[0].split()[-1] in ("nut", "washer"):
            for k in range(len(made) - 1, -1, -1):
                head = made[k].parts[0].split()[-1] if made[k].parts else ""
                if made[k].parts and self.kit.parts[made[k].parts[0]].form == "fastener" and head not in ("nut", "washer"):
                    return k
            held = self._bolt_before()
            if held is not None and not any(e.type == "mem" and not e.used and e.role in ("hoop", "tube", "joint", "foot", "bar", "other") for e in c.els):
                return held
        if t.gov in self.chunker.with_:
            for k in range(len(made) - 1, -1, -1):
                if made[k].parts and self.kit.parts[made[k].parts[0]].form != "fastener":
                    return k
        return None

    def _bolt_before(self) -> int | None:
        """The bolt of an earlier clause of this sentence that a washer or nut belongs to; 1000 is added to its index."""
        for event in reversed(self.ctx.current):
            if event.parts and self.kit.parts[event.parts[0]].form == "fastener" and event.parts[0].split()[-1] not in ("nut", "washer"):
                same = [e for e in self.out if e.kind == "add" and e.group == event.group]
                if event in same:
                    self.held_group = event.group
                    return 1000 + same.index(event)
        return None

    # ---- other kinds of sentence -------------------------------------------------------------------------------------------

    def _rule(self, c: Clause) -> bool:
        """"Each clamp takes one bolt and two washers": so many of a fastener for each of a part."""
        verb = c.verb
        fits = c.fits()
        if not fits and not (verb is not None and verb.cls == "take" and c.els[-1] is verb):
            return False
        if verb is not None and verb.neg and verb.cls == "take":
            denied = next((e for e in fits if e.gov == "subj" and e.amount is None), None)
            if denied is not None and any(f.gov == "obj" and f.parts and self.kit.parts[f.parts[0]].form == "fastener" for f in fits):
                self._emit(Event("rule", self.step.id, self._source(), owners=self._owners(denied, c), amount=Amount(0), fastener=None, group=self.group))  # type: ignore[union-attr]
                return True
        owners: tuple[str, ...] = ()
        things: list[El] = []
        subject = next((e for e in c.els if e.type in ("fit", "pron", "ellip") and e.gov == "subj" and not e.used and e.det != "no"), None)
        if verb is None:
            subject = None
        elif subject is not None and subject.type == "fit" and subject.amount is not None and subject.parts and self.kit.parts[subject.parts[0]].form == "fastener" and verb.cls == "fasten" and not verb.passive:
            target = next((e for e in c.els if e.type in ("pron", "fit") and e.gov == "obj"), None)
            placed = any(e.type == "mem" and not e.used and e.role in ("joint", "side", "foot", "tube") for e in c.els) or any(p.both for _, p in c.places)
            if target is not None and not placed:
                owners = self._owners(target, c)
                things = [subject]
        elif subject is not None and (verb.cls == "take" or verb.passive and verb.cls in ("fasten", "null", "put", "take") or verb.cls in ("fasten",) and verb.form == "s"):
            things = [f for f in fits if f is not subject and (f.amount is not None or f.det == "no") and (verb.cls == "take" and f.gov in ("obj", "next") or f.gov in self.chunker.with_ or f.gov == "and")]
            owners = self._owners(subject, c)
            if not things and owners and self.rule_fastener and verb.passive:
                single = next((e for e in c.els if e.type in ("ellip", "pron") and e.gov in self.chunker.with_ and (e.amount is not None or e.name == "one")), None)
                if single is not None or re.search(r"\b(?:with|by) (?:just |only )?one$", c.low):
                    number = single.amount if single is not None and single.amount is not None else Amount(1)
                    self._emit(Event("rule", self.step.id, self._source(), owners=owners, amount=number, fastener=self.rule_fastener, parts=(self.rule_fastener,), group=self.group))  # type: ignore[union-attr]
                    return True
            if not things and owners and verb.cls == "take" and self.rule_fastener:
                pair = next((e for e in c.els if e.type in ("ellip", "pron") and e.amount is not None and e is not subject and e.gov == "obj"), None)
                alone = pair is not None and c.els.index(pair) == len(c.els) - 1
                if pair is not None and pair.amount is not None and pair.amount.value and (alone or re.search(r"\b(?:of (?:them|these|those)|such|the same)\b|\b(?:two|three|four|pair|one)\b$", c.low)):
                    self._emit(Event("rule", self.step.id, self._source(), owners=owners, amount=pair.amount, fastener=self.rule_fastener, parts=(self.rule_fastener,), group=self.group))  # type: ignore[union-attr]
                    return True
        elif verb.cls == "go" and c.els[0].low in ("to", "with") and c.els[1].type == "fit" and c.els[1].each:
            owners = self._owners(c.els[1], c)
            things = [f for f in fits if f is not c.els[1] and f.amount is not None]
        elif verb.passive and verb.cls in ("fasten", "null") or verb.form == "ed" and verb.cls == "fasten" and subject is None and c.els[0] is verb:
            earlier = [e for e in self.sentence_els if e.type == "fit" and e.definite and e.j <= c.start and e.parts and self.kit.parts[e.parts[0]].form != "fastener" and not e.plural]
            if earlier and not any(e.type == "mem" and e.gov == "subj" for e in c.els):
                things = [f for f in fits if f.gov in self.chunker.with_ and f.amount is not None]
                owners = self._here(earlier[-1].parts)[:1] if things else ()
        elif verb.cls in ("fasten", "null", "put") and verb.form == "base":
            owner = next((f for f in c.els if f.type in ("fit", "pron") and f.gov == "obj" and (f.each or f.det == "code" or f.type == "pron" and f.name in ("each", "them", "it"))), None)
            if owner is not None:
                things = [f for f in fits if f is not owner and f.gov in self.chunker.with_ and f.amount is not None]
                owners = self._owners(owner, c)
        pair = next((e for e in c.els if e.type == "ellip" and e.amount is not None and e.gov == "obj"), None)
        if owners and not things and verb is not None and verb.cls == "take" and pair is not None and re.search(r"\bof (?:each|both|either)$", c.low) and self.rule_set:
            for fastener in self.rule_set:
                self._emit(Event("rule", self.step.id, self._source(), owners=owners, amount=pair.amount, fastener=fastener, parts=(fastener,), group=self.group))  # type: ignore[union-attr]
            return True
        if owners and not things and verb is not None and verb.cls == "take" and (c.els[-1] is verb or c.els[-1].low == ":"):
            self.open_owner = owners
            return True
        if not owners:
            return False
        if not things and verb is not None and verb.cls == "take" and all(f.definite and f.amount is None or f.amount is None and f.parts and self.kit.parts[f.parts[0]].form == "fastener" for f in fits if f is not subject) and len(fits) > 1:
            return True  # "each collar takes its bolt and washers": told elsewhere how many
        if not things:
            none = verb.cls == "take" and re.search(r"\b(?:none|no|neither|nothing)\b", c.low)
            if none and subject is not None:
                self._emit(Event("rule", self.step.id, self._source(), owners=owners, amount=Amount(0), fastener=None, group=self.group))  # type: ignore[union-attr]
                return True
            return False
        within: tuple[str, ...] = ()
        bare = subject is not None and subject.type == "fit" and len(subject.words) == 1 and subject.parts and self.kit.parts[subject.parts[0]].form == "fastener"
        if bare:
            mine = [e.parts[0] for e in [*self.ctx.last, *self.ctx.current] if e.step == self.step.id and e.parts and self.kit.parts[e.parts[0]].form == "fastener" and e.parts[0].split()[-1] == subject.words[0]]  # type: ignore[union-attr]
            if mine:
                owners = (mine[-1],)
            elif self.rule_step == (self.step.id if self.step else "") and self.rule_fastener and self.rule_fastener.split()[-1] == subject.words[0]:  # type: ignore[union-attr]
                owners, within = (self.rule_fastener,), self.rule_owners
        if subject is not None and subject.type in ("pron", "ellip") and things and all(f.parts and f.parts[0].split()[-1] in ("washer", "nut") for f in things):
            bolts = [e.parts[0] for e in [*self.ctx.last, *self.ctx.current] if e.parts and self.kit.parts[e.parts[0]].form == "fastener" and e.parts[0].split()[-1] not in ("washer", "nut")]
            rule_bolt = self.rule_fastener if self.rule_step == (self.step.id if self.step else "") else None
            if bolts or rule_bolt:
                owners = (bolts[-1] if bolts else rule_bolt,)  # type: ignore[assignment]
                within = self.rule_owners if not bolts else ()
        none_of = [f for f in things if f.det == "no"]
        if none_of and not all(f.parts and self.kit.parts[f.parts[0]].form == "fastener" for f in none_of):
            return False  # "it has no brace ring"
        if none_of and len(none_of) == len(things):
            self._emit(Event("rule", self.step.id, self._source(), owners=owners, amount=Amount(0), fastener=None, group=self.group))  # type: ignore[union-attr]
            return True
        closers = [f for f in things if f.parts and self.kit.parts[f.parts[0]].form == "fastener" or not f.parts]
        if closers and len(closers) < len(things) and verb is not None and verb.cls == "take":
            closers = things  # "It takes one saddle plate and two lock nuts"
        if not closers:
            return False
        _, _, member, _ = self._hosts([e for e in c.els if e.type == "mem" and not e.used and e.role in ("bar", "other")], c)
        so_far = bool(re.search(r"\b(?:so far|threaded|already on)\b", c.low))
        here = "so-far" if so_far else "here" if self.section is not None and self.section.role in ("build", "other") and (verb is None or verb.cls in ("put", "fasten")) else None
        self.rule_set = tuple(f.parts[0] for f in closers if f.parts)
        for f in closers:
            parts, amount, doubts = self._what(f, c, [])
            k = c.els.index(f)
            follow = next((n for n in range(k + 1, len(c.els)) if c.els[n].type in ("ellip", "fit", "punct")), None)
            if follow is not None and c.els[follow].type == "ellip" and c.els[follow].amount is not None and (c.els[follow - 1].type == "conj" or c.els[follow - 1].low in self.chunker.with_ and c.els[follow - 2].type == "conj") and amount is not None and amount.value and any(e.type == "mem" for e in c.els[k:follow]):
                amount = replace(amount, value=amount.value + (c.els[follow].amount.value or 0))  # type: ignore[union-attr]
            self._note_rule(parts[0], owners)
            self._emit(Event("rule", self.step.id, self._source(), owners=owners, amount=amount, fastener=parts[0], parts=parts, doubts=doubts, member=member, group=self.group, within=within, steps=self._corrected(),  # type: ignore[union-attr]
                             verb=verb.low if verb is not None else None, per=here))
        return True

    def _local_rules(self, c: Clause) -> bool:
        """"Put one bolt into each vent clip", "1 FN on ea FB", "2 SD per PU": so many of a fastener, a preposition, and each of what takes it."""
        if self._null(c):
            return False
        done = self._gapped(c) or self._on_each(c) or self._through_them(c)
        for k, owner in enumerate(c.els):
            if owner.type == "fit" and owner.definite and not owner.plural and owner.words[-1] in ("nut", "head") and k >= 2 and not (k + 1 < len(c.els) and c.els[k + 1].low == "of") and c.els[k - 1].low in ("under", "beneath", "below") and not any(e.type == "fit" and e.parts and self.kit.parts[e.parts[0]].form == "fastener" and e.words[-1] not in ("nut", "washer") for e in c.els[:k]) \
                    and self._bolt_before() is None and (bolt := self._last_bolt()) is not None:
                washers = [f for f in c.els[:k] if f.type == "fit" and not f.used and f.amount is not None and f.parts and f.parts[0].split()[-1] == "washer"]
                for f in washers[-1:]:
                    self._emit(Event("rule", self.step.id, self._source(), owners=(bolt,), amount=f.amount, fastener=f.parts[0], parts=f.parts, group=self.group, per="here",  # type: ignore[union-attr]
                                     within=self.rule_owners if bolt == self.rule_fastener else ()))
                    f.used = True
                    done = True
                owner.used = True
                continue
            if owner.type == "fit" and owner.used and owner.each and owner.words[-1] in ("nut", "head") and k >= 2 and c.els[k - 1].low in ("under", "beneath", "below"):
                owner.gov, owner.used = "on", False
            if owner.type != "fit" or owner.used or k < 1 or c.els[k - 1].type != "prep" and c.els[k - 1].low not in ("per", "of") and owner.det not in ("per", "each", "ea", "every"):
                continue
            under = owner.gov == "of" and k >= 3 and c.els[k - 2].type == "fit" and c.els[k - 2].words[-1] in ("nut", "head", "bolt") and owner.each
            if under:
                k -= 3
                if c.els[k].low not in ("under", "beneath", "below", "behind", "on"):
                    k -= 1
                k += 1
            elif owner.gov not in ("to", "into", "in", "through", "per", "for", "on", "onto", "thru", "with", "next", "obj", "subj") or c.els[k - 1].low in self.chunker.with_:
                continue
            to_bolt = owner.definite and not owner.plural and len(owner.words) == 1 and owner.gov == "to"
            own_bolt = next((f.parts for f in reversed(c.els[:k]) if f.type == "fit" and f.parts and f.parts[0] in owner.parts), ()) if to_bolt else ()
            to_def = owner.definite and not owner.plural and owner.gov in ("through", "thru") and owner.parts and self.kit.parts[owner.parts[0]].form != "fastener" and len(self._here(owner.parts)) == 1
            to_a = to_def or owner.det in ("a", "an") and owner.gov in ("to", "per", "for") and self.kit.parts[owner.parts[0]].form != "fastener" if owner.parts else False
            if not (owner.each or to_bolt or to_a or owner.words[-1] == "nut" and owner.each):
                continue
            things: list[El] = []
            j = k - (1 if owner.det in ("per", "each", "ea", "every") and c.els[k - 1].type == "fit" else 2)
            if c.els[k - 1].low == "of":
                j = next((n for n in range(k - 2, -1, -1) if c.els[n].type == "prep"), 0) - 1
            while j >= 0:
                e = c.els[j]
                if e.type == "fit" and not e.used and (e.amount is not None or e.gov in self.chunker.with_ and not e.plural) and e.parts and not e.each and self.kit.parts[e.parts[0]].form == "fastener":
                    things.insert(0, e)
                elif e.type in ("verb", "word") and not things and c.verb is not None and (c.verb.passive or c.verb.cls == "go") and not owner.det == "per":
                    pass
                elif not things and (e.type == "mem" or e.type == "prep" and e.low in ("through", "thru", "into", "in")) and j > 0 and owner.gov in ("into", "in", "on"):
                    pass
                elif e.low in self.chunker.with_ and things:
                    pass
                elif not (e.type == "conj" or e.low == "," and things):
                    break
                j -= 1
            if not things:
                continue
            if owner.words[-1] in ("nut", "head") and owner.parts and self.kit.parts[owner.parts[0]].listed is None and not self.kit.parts[owner.parts[0]].in_list or not owner.parts:
                owners = tuple(e.parts[0] for e in self.ctx.current if e.parts and self.kit.parts[e.parts[0]].form == "fastener")[-1:]
                if not owners and not owner.parts and (self.ctx.bar or self.section_bar):
                    for f in things:  # "1 screw ea. splice": a joint of the bar
                        parts, amount, doubts = self._what(f, c, [])
                        self._emit(Event("add", self.step.id, self._source(), parts, amount, member=self.ctx.bar or self.section_bar, text=f.text, group=self.group, option=self.step.option))  # type: ignore[union-attr]
                        f.used = True
                    owner.used = done = True
                    continue
                if not owners:
                    continue
            else:
                owners = own_bolt[:1] if own_bolt else self._owners(owner, c) if not to_bolt else self._narrow(owner.parts)[:1]
            within: tuple[str, ...] = ()
            if self.prefix_owner and len(owner.words) == 1 and owner.parts and self.kit.parts[owner.parts[0]].form == "fastener":
                mine = [f.parts[0] for f in self.sentence_els if f.type == "fit" and f.parts and f.parts[0] in owner.parts and f.amount is not None]
                owners, within = tuple(mine[:1]) or owners, self.prefix_owner
            elif len(owner.words) == 1 and owner.parts and self.kit.parts[owner.parts[0]].form == "fastener" and self.rule_fastener in owner.parts and self.rule_step == self.step.id and self.rule_owners:  # type: ignore[union-attr]
                owners, within = (self.rule_fastener,), self.rule_owners  # type: ignore[assignment]
            for f in things:
                parts, amount, doubts = self._what(f, c, [])
                f.used = True
                self._note_rule(parts[0], owners)
                self._emit(Event("rule", self.step.id, self._source(), owners=owners, amount=amount, fastener=parts[0], parts=parts, doubts=doubts, group=self.group, more=f.more, within=within,  # type: ignore[union-attr]
                                 per="so-far" if re.search(r"\b(?:so far|already on)\b", self.text) else "here" if self.section is not None and self.section.role in ("build", "other") else None))
            owner.used = True
            done = True
        return done

    def _owner_list(self, c: Clause) -> bool:
        """"Ridge clamp: one clamp bolt and one washer", or bullets under "Each takes"."""
        fits = [f for f in c.fits() if f.det != "no"]
        if not fits or c.members("hoop", "tube", "joint", "foot") or not all(f.amount is not None and f.parts and self.kit.parts[f.parts[0]].form == "fastener" for f in fits) \
                or c.verb is not None and c.verb.cls in ("put", "fasten", "null"):
            return False
        for f in fits:
            parts, amount, doubts = self._what(f, c, [])
            washer = parts[0].split()[-1] in ("washer", "nut") and self.rule_fastener is not None and (c.els[0].type in ("pron", "ellip") or re.search(r"\bto (?:each|the) bolt\b", c.low))
            owners = (self.rule_fastener,) if washer else self.prefix_owner
            self._emit(Event("rule", self.step.id, self._source(), owners=tuple(o for o in owners if o), amount=amount, fastener=parts[0], parts=parts, doubts=doubts, group=self.group,  # type: ignore[union-attr]
                             within=self.prefix_owner if washer else (), per="here"))
            if not washer:
                self._note_rule(parts[0], self.prefix_owner)
        return True

    def _note_rule(self, fastener: str, owners: tuple[str, ...]) -> None:
        self.rule_fastener, self.rule_owners, self.rule_step = fastener, owners, self.step.id if self.step is not None else ""

    def _gapped(self, c: Clause) -> bool:
        """"… secured by a foot pin, and the foot pin by a spring cotter": the verb is left out the second time."""
        for k in range(1, len(c.els) - 2):
            a, b, d = c.els[k], c.els[k + 1], c.els[k + 2]
            if a.type == "fit" and d.type == "fit" and b.low in ("by", "with") and c.els[k - 1].type in ("conj",) and (a.definite or a.each) and d.amount is not None and a.parts and d.parts \
                    and self.kit.parts[d.parts[0]].form == "fastener" and any(e.type == "verb" for e in c.els[:k]):
                self._emit(Event("rule", self.step.id, self._source(), owners=a.parts[:1], amount=d.amount, fastener=d.parts[0], parts=d.parts, group=self.group, per="here"))  # type: ignore[union-attr]
                a.used = d.used = True
                return True
        return False

    def _last_bolt(self) -> str | None:
        """The bolt that this step spoke of last."""
        step = self.step.id if self.step is not None else ""
        mine = [e.parts[0] for e in [*self.ctx.last, *self.ctx.current] if e.step == step and e.parts and self.kit.parts[e.parts[0]].form == "fastener" and e.parts[0].split()[-1] not in ("nut", "washer")]
        if mine:
            return mine[-1]
        return self.rule_fastener if self.rule_step == step and self.rule_fastener and self.rule_fastener.split()[-1] not in ("nut", "washer") else None

    def _through_them(self, c: Clause) -> bool:
        """"Put a bolt with two washers through each of them": the fittings just named take the fasteners."""
        for k, e in enumerate(c.els):
            if e.type != "pron" or not (e.each or e.name in ("them", "these", "it")) or e.gov not in ("through", "into", "in", "thru") or c.verb is not None and c.verb.cls not in ("put", "fasten"):
                continue
            things = [f for f in c.els[:k] if f.type == "fit" and not f.used and f.amount is not None and f.parts and self.kit.parts[f.parts[0]].form == "fastener"]
            pool = self.ctx.current or self.ctx.last
            owners = tuple(dict.fromkeys(x.parts[0] for x in pool if x.parts and self.kit.parts[x.parts[0]].form != "fastener"))
            k2 = c.els.index(e)
            count = c.els[k2 + 2].amount if k2 + 2 < len(c.els) and c.els[k2 + 1].low == "of" and c.els[k2 + 2].type in ("ellip", "pron") else None
            if count is not None and count.value:
                owners = tuple(dict.fromkeys(parts[0] for parts, _ in reversed(self.recent)))[: count.value]
            if not things or not owners:
                continue
            bolt: str | None = None
            for f in things:
                washer = f.parts[0].split()[-1] in ("washer", "nut") and bolt is not None
                self._emit(Event("rule", self.step.id, self._source(), owners=(bolt,) if washer and bolt else owners, amount=f.amount, fastener=f.parts[0], parts=f.parts, group=self.group,  # type: ignore[union-attr]
                                 within=owners if washer else (), per="here"))
                bolt = bolt or f.parts[0]
                f.used = True
            return True
        return False

    def _on_each(self, c: Clause) -> bool:
        """"… by a pair of bolts, a wing nut being put on each"."""
        each = next((e for e in c.els if e.type == "pron" and e.each and e.gov in ("on", "to", "under", "onto", "with")), None)
        nut = next((f for f in c.fits() if f.amount is not None and f.parts and f.parts[0].split()[-1] in ("nut", "washer")), None)
        if each is None or nut is None or c.els.index(each) < c.els.index(nut):
            return False
        before = [f for f in c.fits() if f.amount is not None and f is not nut and f.parts and self.kit.parts[f.parts[0]].form == "fastener" and f.parts[0].split()[-1] not in ("nut", "washer") and c.els.index(f) < c.els.index(nut)]
        subject = next((f for f in c.fits() if f.gov == "subj" and f.each), None)
        if before:
            self._emit(Event("rule", self.step.id, self._source(), owners=before[-1].parts[:1], amount=nut.amount, fastener=nut.parts[0], parts=nut.parts, group=self.group,  # type: ignore[union-attr]
                             within=self._class(subject) if subject is not None else (), per="here"))
            nut.used = True
            return False
        bolts = [e.parts[0] for e in self.ctx.current if e.parts and self.kit.parts[e.parts[0]].form == "fastener"]
        owner = bolts[-1] if bolts else self.rule_fastener if self.rule_step == self.step.id else None  # type: ignore[union-attr]
        if owner is None:
            return False
        self._emit(Event("rule", self.step.id, self._source(), owners=(owner,), amount=nut.amount, fastener=nut.parts[0], parts=nut.parts, group=self.group, within=() if bolts else self.rule_owners, per="here"))  # type: ignore[union-attr]
        nut.used = True
        return True

    def _form_statement(self, c: Clause) -> bool:
        """"Items C1 to C5 are closed", "Clips and rings are closed loops": how kinds of fitting go on."""
        if any(e.type == "mem" and e.role == "hoop" for e in c.els) or c.kind == "sub":
            return False
        subjects = [e for e in c.els if e.type == "fit" and e.gov in ("subj", "and") and e.amount is None or e.type == "fit" and e.det in ("a", "an") and e.gov == "subj"]
        states = any(e.low in ("is", "are", "has", "have", "opens", "open", "closes", "close", "cannot", "can", "do", "does", "buckles", "springs", "snaps", "slides", "slide", "go", "goes", "be") for e in c.els)
        if not subjects or not states or c.verb is not None and c.verb.cls in ("put", "fasten") and c.verb.form == "base" and not c.verb.modal and not c.verb.passive and c.els[0] is c.verb:
            return False
        low = f" {c.low} "
        form = next((f for phrase, f in self.grammar.stated_forms if re.search(rf"(?<![\w-]){re.escape(phrase)}(?![\w-])", low)), None)
        if c.verb is not None and c.verb.passive and any(f.gov in ("by", "with") and f.amount is not None for f in c.fits()):
            return False
        if form is None or re.search(r"\b(?:step|tight|hoop)\b", low) or c.places:
            return False
        names = [n for e in subjects for n in self._here(self._class(e))]
        for name in names:
            part = self.kit.parts[name]
            if part.form in ("closed", "open") and (not part.stated or self.section is not None and self.section.role == "correction"):
                self.kit.parts[name] = replace(part, form=form, stated=True)  # type: ignore[arg-type]
        self.why = f"says that {', '.join(names)} {'slide on' if form == 'closed' else 'open'}"
        return bool(names)

    def _owners(self, subject: El, c: Clause) -> tuple[str, ...]:
        if subject.type in ("pron", "ellip"):
            if subject.type == "ellip" and not (subject.each or "of" in c.low):
                return ()
            if subject.name in ("it", "each", "they", "them", "these", "those", "both") or subject.type == "ellip" or subject.each:
                # "Each of the clips takes …": the noun behind "of"
                k = c.els.index(subject)
                for e in c.els[k + 1: k + 5]:
                    if e.type == "fit" and c.els[k + 1].low == "of":
                        return self._class(e)
                    if e.type in ("verb", "mem"):
                        break
                if self.last_is_member and not self.ctx.current and subject.name in ("it", "they"):
                    return ()
                recent = self.ctx.current or self.ctx.last
                if not recent and self.recent:
                    single = [parts for parts, _ in self.recent if len(parts) == 1]
                    return single[-1] if single and single[-1][0] in self.recent[-1][0] else self._here(self.recent[-1][0])
                if not recent and self._table_parts():
                    return self._table_parts()
                names = [e.parts[0] for e in recent if e.parts and self.kit.parts[e.parts[0]].form != "fastener"]
                return tuple(dict.fromkeys(names[-1:] if subject.name in ("it", "each") and not subject.plural else names))
            return ()
        owners = list(self._here(self._class(subject)))
        k = c.els.index(subject)
        j = k + 1
        while j < len(c.els) and (c.els[j].type in ("conj", "punct") or c.els[j].low == "of" or c.els[j].type == "fit" and c.els[j].det != "no" and (c.els[j].amount is None or c.els[j].det in ("a", "an"))):
            if c.els[j].type == "fit":
                owners += [n for n in self._class(c.els[j]) if n not in owners] if c.els[j - 1].low != "of" else []
                if c.els[j - 1].low == "of" and c.els[j].det == "code":
                    owners = list(c.els[j].parts)
            j += 1
        return tuple(owners)

    def _table_parts(self) -> tuple[str, ...]:
        """The fittings that the tables of this step name."""
        found: list[str] = []
        for item in self.step.items if self.step is not None else ():
            for row in item.table.rows if item.table is not None else ():
                for cell in row:
                    found += [e.parts[0] for e in self.chunker.elements(lex(cell.text)) if e.type == "fit" and e.parts and self.kit.parts[e.parts[0]].form != "fastener"]
        return tuple(dict.fromkeys(found))

    def _here(self, names: tuple[str, ...]) -> tuple[str, ...]:
        """Of several parts of one kind, the one that this step has spoken of, if it has."""
        if len(names) < 2 or re.search(r"\bwhat(?:so)?ever\b|\bof any\b|\ball kinds\b", self.text.lower()):
            return names
        step = self.step.id if self.step is not None else ""
        mine = [e.parts[0] for e in [*self.ctx.last, *self.ctx.current] if e.step == step and e.parts and e.parts[0] in names and (len(e.parts) == 1 or not e.definite)]
        if not mine:
            mine = [e.parts[0] for e in self.sentence_els if e.type == "fit" and len(e.parts) == 1 and e.parts[0] in names and e.amount is not None]
        if not mine and len(names) > 1:
            section = {s.id for s in self.outline.steps if self.section is not None and s.section == self.section.id and s.option is not None}
            mine = [e.parts[0] for r in self.readings[-30:] if r.step in section for e in r.events if e.kind == "add" and e.parts and e.parts[0] in names]
        if not mine and self.last_mention[1] == step and self.last_mention[0][:1] and self.last_mention[0][0] in names and len(self.last_mention[0]) == 1:
            mine = [self.last_mention[0][0]]
        return (mine[-1],) if mine else names

    def _class(self, el: El) -> tuple[str, ...]:
        """All parts that a mention stands for where it speaks of a whole kind: "clips", "every clamp"."""
        if el.det == "code":
            return el.parts
        if len(el.words) == 1 and (el.plural or el.each or el.det in ("any", "all", "the", "a")):
            group = tuple(self.kit.heads.get(el.words[0], ()))
            if group:
                return group
        if len(el.parts) > 1 and (el.each or el.plural) and all(self.kit.words.get(p, ())[-len(el.words):] == el.words for p in el.parts):
            return el.parts  # "each of the four frame clamps", of two sizes
        return el.parts[:1] if len(el.words) > 1 else el.parts

    def _rows(self, c: Clause) -> bool:
        match = _ROW_REF.search(c.low)
        if not match or c.verb is None or c.verb.cls not in ("put", "fasten", "take", "go"):
            return False
        fits = [f for f in c.fits() if f.amount is not None]
        if fits:
            return False
        numbers = _numbers(match[1])
        self._emit(Event("rows", self.step.id, self._source(), rows=tuple(numbers), group=self.group, late=c.verb.name in ("wait",)))  # type: ignore[union-attr]
        return True

    def _copy(self, c: Clause) -> bool:
        low = c.low
        verb = c.verb
        repeat = verb is not None and verb.cls == "repeat" or re.match(r"^(?:repeat|same|the same|ditto|and so on|as above|likewise|similarly)\b", low)
        alike = self.same.search(low) or re.search(r"\b(?:like|follows?|matches|match|mirrors?|identical to|the way (?:you|we|that)|as (?:in |per )?\d+(?:\.\d+)?[a-z]?\b|as (?:for|on|in|at) (?:the )?(?:\w+ )?(?:hoops?|bows?|arch(?:es)?|ribs?|steps?|stages?)\b|as (?:hoops?|bows?|arch(?:es)?|ribs?|steps?|stages?) \w+|the same (?:\w+ ){0,2}(?:fittings|clips|clamps|rings|set|pieces|things|items|ones|way))", low)
        onward = verb is not None and verb.name in ("move", "go", "continue", "work", "proceed", "carry on") and re.search(r"\band so on\b|\buntil the last\b|\bto the last\b|\bone (?:after|by)\b|\bhoop by hoop\b", low)
        if onward and not c.fits():
            self._emit(Event("copy", self.step.id, self._source(), hoops=Selector("rest", text=low), group=self.group, text=self.text))  # type: ignore[union-attr]
            self.ctx.example = False
            return True
        if not repeat and not alike:
            return False
        if repeat and verb is not None and _AFTERWARDS.search(self.text):
            return not c.fits()  # "repeat this after every storm"
        fresh = [f for f in c.fits() if f.amount is not None and not f.definite]
        if fresh and (not repeat or verb is None and re.match(r"^(?:likewise|similarly)\b", low)):
            return False
        hoops = [e for e in c.els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and not e.used]
        ref = _STEP_REF.search(self.text) or _AS_IN.search(self.text)
        steps = tuple(labels(ref[1])) if ref else ()
        flanks = [e for e in c.els if e.side and e.type in ("mem", "word", "ellip") and (e.role in ("side", "tube", "foot", "end", "joint", ""))]
        like_word = bool(alike) and alike is not None and alike.group().startswith(("like", "follow", "match", "mirror", "identical"))
        side = bool(flanks) and not hoops and not like_word or bool(re.search(r"\b(?:other|opposite|second|right|left)(?:-hand)? (?:side|half|leg|halves|legs|rail|tube|upright|foot|end of)\b|\bboth sides\b", low))
        target, like = None, None
        if hoops:
            at = alike.end() if alike else 0
            position = [sum(len(x.low) + 1 for x in c.els[: c.els.index(h)]) for h in hoops]
            if alike and not repeat and len(hoops) > 1 and position[-1] >= at - 12:
                target, like = hoops[0].hoops, hoops[-1].hoops
                for h in hoops[1:-1]:
                    target = join_selectors(target, h.hoops)  # type: ignore[arg-type]
            else:
                target = hoops[0].hoops
                for h in hoops[1:]:
                    target = join_selectors(target, h.hoops)  # type: ignore[arg-type]
        elif re.match(r"^(?:all|both|each)(?: of (?:them|these|those))?\b", low):
            target = Selector("all", text="all of them")
        elif re.search(r"\bthe (?:other|remaining) (?:two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|\d+|ones?)\b", low):
            target = Selector("rest", text="the others")
        elif re.match(r"^(?:the )?(?:others?|rest)\b", low):
            target = Selector("rest", text="the others")
        elif re.search(r"\b(?:other|far|opposite|back|rear) end\b", low):
            target = Selector("far", text="the other end")
        elif not side and not steps and not self.prefix_side:
            if repeat and verb is not None and verb.name == "repeat":
                self._emit(Event("copy", self.step.id, self._source(), doubts=(Doubt("reference", "Repeat what, and where? The manual does not say.", ()),), group=self.group, text=self.text))  # type: ignore[union-attr]
                return True
            return bool(repeat) and not c.fits()
        if target is None and steps and not side and not repeat and self.ctx.hoops is not None and any(x.prefix for x in self.clauses):
            target = self.ctx.hoops  # "Hoop 6: as 4.4, but 900 from the ridge"
        if not repeat and target is None and not side:
            return False
        if target is None and steps and not side:
            named = [e.hoops for clause in self.clauses for e in clause.els if e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.hoops.kind in ("numbers", "first", "last", "far", "end")]
            target = named[0] if named else None
        if target is None and not side and self.prefix_side:
            side = True
        if repeat and target is None and not side and not steps:
            return False
        if repeat and steps and target is None and not side and not re.search(r"\b(?:until|each|every|all|rest|remaining|others?|in turn|hoop by hoop|bow by bow|till)\b", self.text.lower()):
            self._emit(Event("copy", self.step.id, self._source(), doubts=(Doubt("reference", "Repeated where? The manual does not say.", ()),), group=self.group, text=self.text, steps=()))  # type: ignore[union-attr]
            return True
        if repeat and target is not None and re.search(r"\b(?:with|on|to|for) (?:its|the) (?:right|left|other|second|opposite)(?:-hand)? (?:half|leg|side|tube|foot)\b.*\band\b", low):
            # "the same with its right half, and then with both halves of the other six"
            self._emit(Event("copy", self.step.id, self._source(), side=True, group=self.group, text=self.text))  # type: ignore[union-attr]
            side = False
        less: tuple[Doubt, ...] = ()
        left_out = next((f for f in c.fits() if f.parts and re.search(rf"\b(?:without|except|but not|less|minus|leaving out|omitting)\b.{{0,40}}{re.escape(f.low)}", low)), None)
        if left_out is not None:
            less = (Doubt("quantity", f"The same, but without some {left_out.parts[0]}: which are left out?", ("none left out", "as the sentence says"), "none left out"),)
        self._emit(Event("copy", self.step.id, self._source(), doubts=less, parts=left_out.parts[:1] if left_out is not None else (), places=self._all_places() if not repeat else (), hoops=target, like=like, steps=steps, side=side and target is None or bool(re.search(r"other side|opposite side", low)), group=self.group,  # type: ignore[union-attr]
                         verb=verb.low if verb is not None else None, text=self.text, act=verb.cls if verb is not None and verb.cls in ("join", "stand") else None))
        if target is not None:
            self.ctx.example = False
            self.ctx.hoops = target
        return True


    def _share_out(self, c: Clause, shares: list[El]) -> bool:
        """"two on each, one 300 mm to the left and one to the right": how the pieces just named are spread, not more pieces."""
        pool = self.ctx.current or [e for e in self.ctx.last if e.step == self.step.id]  # type: ignore[union-attr]
        if not pool or any(t.more for t in shares) or any(e.type == "mem" and e.role == "hoop" and e.hoops is not None and not e.used for e in c.els):
            return False
        whole = pool[-1]
        if whole.amount is None or whole.amount.value is None:
            if whole.amount is not None and whole.amount.open == "none" and len(shares) == 1 and whole in self.out:
                self._swap(whole, replace(whole, amount=shares[0].amount, units=(*whole.units, *self._units_of(c, 0, len(c.els))), places=whole.places or tuple(p for _, p in c.places)))
                return True
            return False
        places = self._shares(c, shares)
        if sum(p.count or 1 for p in places) > whole.amount.value or whole.amount.value < 2:
            return False
        if not whole.places or all(p.offset_mm is None for p in whole.places):
            self._swap(whole, replace(whole, places=tuple(places)))
        return True

    def _own_share(self, c: Clause, themes: list[El]) -> list[El]:
        """Within one clause: "two clips, one 400 mm and one 800 mm above the ground": keep the fittings, turn the shares into places."""
        out: list[El] = []
        k = 0
        while k < len(themes):
            t = themes[k]
            run = []
            while k + 1 + len(run) < len(themes) and (themes[k + 1 + len(run)].type != "fit" or self._again(t, themes[k + 1 + len(run)])):
                run.append(themes[k + 1 + len(run)])
            out.append(t)
            n = t.amount.value if t.amount is not None and t.amount.value is not None else None
            if n == 1 and len(run) == 2 and any(e.type == "mem" and e.role in ("end", "side") and (e.each or e.det in ("both", "either")) for e in c.els[c.els.index(t): c.els.index(run[0])]):
                n = 2  # "a hanger at either end, one on the left half and one on the right"
                t.amount = replace(t.amount, value=2)
            at = c.els.index(run[0]) if run else 0
            if run and at and c.els[at - 1].type == "conj" and any(e.type == "mem" and not e.used for e in c.els[c.els.index(t): at]):
                n = None  # "two through the left half and two through the right half"
            if len(run) == 1 and t.type == "fit" and t.amount is None and not t.definite and not run[0].more:
                t.amount, run[0].used = run[0].amount, True
                k += 2
                continue
            if run and n is not None and n >= 2 and not any(r.more for r in run):
                hoops = [e for e in c.els[c.els.index(run[0]):] if e.type == "mem" and e.role == "hoop" and e.hoops is not None and not e.used]
                places = self._shares(c, run)
                shared = next((r for r in run if any(e in hoops and e.each for e in c.els[c.els.index(r): c.els.index(r) + 4])), None)
                if shared is not None and shared.amount is not None and len(hoops) == 1:
                    t.amount = replace(shared.amount, each=True)
                    for e in c.els[c.els.index(run[0]):]:
                        e.used = True
                    c.places = [(i, p) for i, p in c.places if i < c.els.index(run[0])]
                    k += 1 + len(run)
                    continue
                if not hoops and sum(p.count or 1 for p in places) <= n:
                    first, last = c.els.index(run[0]), c.els.index(run[-1])
                    for e in c.els[first:]:
                        if e.type == "mem":
                            e.used = True
                    c.places = [(i, p) for i, p in c.places if i < first] + [(first, p) for p in places]
                    for r in run:
                        r.used = True
                    assert last >= first
                    run_done = len(run)
                    k += 1 + run_done
                    continue
            out += run
            k += 1 + len(run)
        return out

    def _again(self, whole: El, piece: El) -> bool:
        """"a pair to each arch, one ring to either rib": fewer of the same part again."""
        if whole.type != "fit" or piece.amount is None or whole.amount is None or not whole.parts or whole.definite or piece.more:
            return False
        same = whole.parts[0] in piece.parts and len(piece.words) < len(self.kit.words.get(whole.parts[0], ())) + (1 if len(piece.words) == 1 else 0)
        return same and (piece.amount.value or 0) < (whole.amount.value or 0)

    def _shares(self, c: Clause, shares: list[El]) -> list[Place]:
        places: list[Place] = []
        for n, t in enumerate(shares):
            a = c.els.index(t)
            b = c.els.index(shares[n + 1]) if n + 1 < len(shares) else len(c.els)
            own = [p for i, p in c.places if a <= i < b]
            segment = c.els[a:b]
            side = next((e.side for e in segment if e.side), None)
            twice = t.each or any(e.type == "mem" and (e.each or e.det in ("either", "both")) for e in segment) or any(e.low in ("each side of", "either side of", "on either side of", "on each side of") or e.low == "each" and not (k + 1 < len(segment) and segment[k + 1].type == "len") for k, e in enumerate(segment))
            count = (t.amount.value if t.amount and t.amount.value else 1) * (2 if twice and not any(p.both for p in own) else 1)
            place = replace(own[0], count=count, side=own[0].side or side) if own else Place(side=side, count=count, both=twice, text=" ".join(e.text for e in segment))
            places.append(place)
        return places

    def _units_of(self, c: Clause, a: int, b: int) -> tuple[Unit, ...]:
        return tuple(self._unit(e) for e in c.els[a:b] if e.type == "mem" and not e.used and e.role in ("tube", "joint", "foot", "side", "end"))

    def _all_places(self) -> tuple[Place, ...]:
        return tuple(p for clause in self.clauses for _, p in clause.places if p.offset_mm is not None)

    def _refine(self, c: Clause) -> None:
        """"… which stops 900 mm up from the foot": a place for the last thing added."""
        places = tuple(p for _, p in c.places)
        if not places or not (self.ctx.current or self.ctx.last):
            return
        verb = c.verb
        if c.kind == "relative" or verb is not None and (verb.cls in ("go", "null", "put", "move") or verb.modal) or c.word in ("until", "so") or verb is None or c.els[0].type == "pron":
            if self.ctx.current:
                self._set_places(self.ctx.current[-1], places)
            elif self.ctx.last and c.els[0].type in ("pron", "ellip", "prep", "mem"):
                self._set_places(self.ctx.last[-1], places)

    def _set_places(self, event: Event, places: tuple[Place, ...]) -> None:
        """Give ``event`` its places where it has none yet, in this sentence or in an earlier one of the same step."""
        if event.step != self.step.id or any(p.offset_mm is not None for p in event.places):  # type: ignore[union-attr]
            return
        if event.places and len(places) == 1 and any(p.side for p in event.places):
            places = tuple(replace(places[0], side=p.side, count=p.count) for p in event.places)
        self._swap(event, replace(event, places=places))

    def _swap(self, event: Event, new: Event) -> None:
        if event in self.out:
            self.out[self.out.index(event)] = new
        else:
            for k in range(len(self.readings) - 1, max(-1, len(self.readings) - 6), -1):
                reading = self.readings[k]
                if event in reading.events:
                    self.readings[k] = replace(reading, events=tuple(new if e is event or e == event else e for e in reading.events))
                    break
        for events in (self.ctx.current, self.ctx.last):
            for n, e in enumerate(events):
                if e == event:
                    events[n] = new

    def _act(self, c: Clause) -> None:
        """Joining, fixing and standing."""
        verb = c.verb
        if verb is None or verb.neg or c.kind == "relative" or self._null(c) or verb.name == "close" and verb.passive \
                or c.kind == "sub" and c.word in ("if", "when", "once", "after", "before", "until", "unless", "as"):
            return
        hoopish = [m for m in c.els if m.type == "mem" and m.role in ("hoop", "tube", "joint", "foot") and not m.used]
        if not hoopish and not (verb.cls in ("join", "stand") and any(e.type == "pron" and e.gov == "obj" for e in c.els)):
            return
        sel = None
        for m in hoopish:
            if m.role == "hoop" and m.hoops is not None and m.gov not in ("between", "from"):
                sel = m.hoops if sel is None else join_selectors(sel, m.hoops)
        for kind in self._closing(c, verb, hoopish):
            self._emit(Event("act", self.step.id, self._source(), hoops=sel or self.ctx.hoops, act=kind, group=self.group))  # type: ignore[union-attr]

    def _closing(self, c: Clause, verb: El, hoopish: list[El]) -> list[str]:
        """What the clause closes: join (tubes pushed together), fix (a screw through a joint), stand (feet on ground tubes)."""
        kinds = []
        low = c.low
        tubes = [m for m in hoopish if m.role == "tube"]
        fits = [f for f in c.els if f.type == "fit" and f.amount is not None]
        closers = [f for f in fits if f.parts and self.kit.parts[f.parts[0]].form in ("fastener", "sleeve")]
        onto_tube = any(m.gov in ("into", "onto", "over", "in", "to", "on") for m in tubes)
        moved = any(m.gov in ("obj", "subj") for m in tubes) or any(e.type == "pron" and e.gov == "obj" for e in c.els) and not self.recent_fit_named(c)
        ground = bool(re.search(r"\bground (?:tube|post|stake|socket)s?|\bfoundation|\bstakes?\b|\bground anchors?|\bsockets?\b|\bposts?\b|\bstubs?\b|\bspigots?\b", low))
        if verb.cls == "join" or verb.name in ("push", "plug", "slide", "slip", "bring", "fit", "press", "insert", "ease", "push on") and onto_tube and moved and len(tubes) > 1 and not fits \
                or re.search(r"\btogether\b", low) and tubes and not fits:
            kinds.append("join")
        if any(m.role == "joint" for m in hoopish) and closers and verb.cls in ("fasten", "put"):
            kinds += ["join", "fix"]
        if verb.cls == "stand" and any(m.role in ("hoop", "foot", "tube") for m in hoopish) and (ground or verb.name in ("stand", "stand up", "erect", "raise", "lift") and any(m.role == "hoop" for m in hoopish)) \
                or ground and verb.name in ("slide", "drop", "place", "push", "fit", "set", "slip", "lift", "put", "lower") and any(m.role in ("hoop", "tube", "foot") and m.gov in ("obj", "subj") for m in hoopish) and not fits:
            kinds.append("stand")
        if any(m.role == "foot" for m in hoopish) and any(self.kit.parts[f.parts[0]].form == "fastener" for f in closers) and verb.cls in ("fasten", "put"):
            kinds.append("stand")
        return list(dict.fromkeys(kinds))

    def recent_fit_named(self, c: Clause) -> bool:
        """Whether "it" may be a fitting that the sentence before has named."""
        return bool(self.ctx.last or self.recent) and not any(e.type == "mem" and e.role == "tube" and e.gov == "obj" for e in self.sentence_els)


_EDIT = re.compile(r"(?:\bfor [\"“'‘]?(?P<a>[^\"”'’;]+?)[\"”'’]?,? (?:please )?(?:read|substitute|put) [\"“'‘]?(?P<b>[^\"”'’;]+?)[\"”'’]?(?:[.;]|$))"
                   r"|(?:\b(?:read|put) [\"“'‘]?(?P<b2>[^\"”'’;]+?)[\"”'’]? (?:for|instead of|in place of) [\"“'‘]?(?P<a2>[^\"”'’;]+?)[\"”'’]?(?:[.;]|$))"
                   r"|(?:\b(?:replace|change) [\"“'‘]?(?P<a3>[^\"”'’;]+?)[\"”'’]? (?:by|with|to|into) [\"“'‘]?(?P<b3>[^\"”'’;]+?)[\"”'’]?(?:[.;]|$))"
                   r"|(?:[\"“'‘](?P<a4>[^\"”'’;]+?)[\"”'’] (?:should|must|is to) (?:read|be) [\"“'‘](?P<b4>[^\"”'’;]+?)[\"”'’])", re.IGNORECASE)


def is_edit(text: str) -> bool:
    """Whether a sentence corrects the words of a step: "In step 12 read three for two."."""
    return bool(_STEP_REF.search(text) and _EDIT.search(text))


def corrections(outline: Outline) -> dict[str, list[tuple[str, str]]]:
    """Step id -> (old words, new words), from sentences that correct a step by its printed label."""
    found: dict[str, list[tuple[str, str]]] = {}
    by_label: dict[str, list[str]] = {}
    for step in outline.steps:
        if step.label and outline.section(step.section).role != "correction":
            by_label.setdefault(step.label.lower(), []).append(step.id)
    for step in outline.steps:
        for item in step.items:
            for start, end in sentences(item.passage.text):
                text = item.passage.text[start:end]
                ref, edit = _STEP_REF.search(text), _EDIT.search(text)
                if not ref or not edit or step.label and step.label.lower() in (label.lower() for label in labels(ref[1])) and outline.section(step.section).role != "correction":
                    continue
                old = next(g for g in (edit["a"], edit["a2"], edit["a3"], edit["a4"]) if g)
                new = next(g for g in (edit["b"], edit["b2"], edit["b3"], edit["b4"]) if g)
                for label in labels(ref[1]):
                    for target in by_label.get(label.lower(), ()):
                        found.setdefault(target, []).append((old.strip(), new.strip()))
    return found


def turned(event: Event) -> Event:
    """The event with its hoops counted from the far end."""
    if event.hoops is None or event.hoops.kind in ("all", "end", "inner", "rest", "topic"):
        return event
    return replace(event, hoops=replace(event.hoops, from_far=True))


_ONTO_STANDING = frozenset("clip snap press hook strap wrap buckle click button lash tie stick".split())


def _slides(low: str, verb: El | None = None) -> bool | None:
    """Whether the clause's own words say that a fitting slides on (True) or goes round a standing tube (False)."""
    if re.search(r"\b(?:slid|slide|slides|thread|threads|threaded|slip|slips|slipped|sliding)\b", low):
        return True
    if re.search(r"\b(?:snap|snaps|snapped|springs?|sprung|clip (?:it )?(?:round|over|around)|(?:goes|put|bolted|closes?) (?:round|around)|wrap|buckles?)\b", low):
        return False
    return False if verb is not None and verb.name in _ONTO_STANDING else None


def _numbers(text: str) -> list[int]:
    out: list[int] = []
    for piece in re.split(r"\s*(?:,|\band\b|&|\bor\b)\s*", text):
        span = re.split(r"\s*(?:to|-|–|through)\s*", piece.strip())
        if len(span) == 2 and all(s.isdigit() for s in span):
            out += list(range(int(span[0]), int(span[1]) + 1))
        elif piece.strip().isdigit():
            out.append(int(piece))
    return out


def labels(text: str) -> list[str]:
    """Step labels of "4 to 6", "3.1, 3.2 and 3.4", "A2 to A5"; a span keeps its two ends with ".." between."""
    out: list[str] = []
    for piece in re.split(r"\s*(?:,|\band\b|&|\bor\b)\s*", text):
        span = re.split(r"\s*(?:\bto\b|-|–|\bthrough\b)\s*", piece.strip())
        if len(span) == 2 and all(span):
            out.append(f"{span[0]}..{span[1]}")
        elif piece.strip():
            out.append(piece.strip())
    return out
