"""Corrections of a manual by a slip or a later sheet, and step labels in running text."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace

from hoopwright.grammar.hoop_nouns import hoop_forms
from hoopwright.model.events import Event
from hoopwright.model.outline import Outline, PartsEntry, Passage, Step
from hoopwright.parsing import gates, patterns
from hoopwright.parsing.gates import gated
from hoopwright.parsing.sentences import sentences

_OPEN, _SHUT = "[\"“‘']?", "[\"”’']?"


def _words(name: str) -> str:
    return rf"{_OPEN}(?P<{name}>[^\"”’;]+?){_SHUT}"


_READ = "(?:please )?(?:read|substitute|put|write)"
_EDIT = gated(
    rf"\b(?:for|instead of|in place of|where it says) {_words('a')},? {_READ} {_words('b')}(?:[.;](?!\d)|$)"
    rf"|\b(?:read|put|write) {_words('b2')} (?:for|instead of|in place of) {_words('a2')}(?:[.;](?!\d)|$)"
    rf"|\b(?:replace|change) {_words('a3')} (?:by|with|to|into) {_words('b3')}(?:[.;](?!\d)|$)"
    r"|[\"“‘'](?P<a4>[^\"”’;]+?)[\"”’'] (?:should|must|is to) (?:read|be) [\"“‘'](?P<b4>[^\"”’;]+?)[\"”’']"
    r"|\b(?:strike|cross|leave|cut) out [\"“‘'](?P<a5>[^\"”’;]+?)[\"”’']|\b(?:delete|omit|remove) [\"“‘'](?P<a6>[^\"”’;]+?)[\"”’']",
    re.IGNORECASE,
)


def is_edit(text: str, slip: bool = False) -> bool:
    """Whether a sentence corrects the words of a step: "In step 12 read three for two."; on a ``slip`` the step may stand before it."""
    return bool((slip or patterns.STEP_REF.search(text)) and _EDIT.search(text))


def corrections(outline: Outline) -> dict[str, list[tuple[str, str]]]:
    """Step id -> (old words, new words), from sentences that correct a step by its printed label.

    On a correction slip the label may stand in the sentence before ("Main manual, C2. Instead of … read …"), with the document's name.
    """
    found: dict[str, list[tuple[str, str]]] = {}
    by_label: dict[str, list[Step]] = {}
    for step in outline.steps:
        if step.label and outline.section(step.section).role != "correction":
            by_label.setdefault(step.label.lower(), []).append(step)
    for step in outline.steps:
        slip = outline.section(step.section).role == "correction"
        for item in step.items:
            before = ""
            for start, end in sentences(item.passage.text):
                text = item.passage.text[start:end]
                edit = _EDIT.search(text)
                told = _labels_of(text, by_label, slip) or (_labels_of(before, by_label, slip) if slip else [])
                before = f"{before} {text}" if slip else ""
                if edit is None or (not slip and step.label and step.label.lower() in told):
                    continue
                old = next(g for name in ("a", "a2", "a3", "a4", "a5", "a6") if (g := edit[name]))
                new = next((g for name in ("b", "b2", "b3", "b4") if (g := edit[name])), "")
                for label in told:
                    for target in _in_named_document(outline, by_label.get(label, []), before or text):
                        found.setdefault(target.id, []).append((old.strip(), new.strip()))
    return found


_HOOPS = rf"(?:(?:{'|'.join(hoop_forms())}) )?\d+(?:(?:, | and | to |-|–)\d+)*"
_LENGTH = r"\d[\d.,]*(?: \d+/\d+)?\s?(?:mm|cm|m|ft|in|inches|feet)\b(?: \d+(?: \d+/\d+)?\s?in\b)?"
# "The upper lugs belong on hoop 6, not on hoop 5", "the clamps sit 1,400 mm above the foot, not 1,350 mm"
_NOT_THE_OLD = (
    gated(rf"\b(?:on|at|onto|to|of|over) (?:the )?(?P<b>{_HOOPS}),? (?:and )?not (?:on |at |to |of )?(?P<a>{_HOOPS})\b", re.IGNORECASE),
    gated(rf"(?<![\d.,])(?P<b>{_LENGTH})[^.;,\d]*,? (?:and )?not (?:at )?(?P<a>{_LENGTH})", re.IGNORECASE),
)


def moves(outline: Outline) -> tuple[dict[str, list[tuple[str, str]]], frozenset[str]]:
    """(step id -> (old words, new words), the sentences that say so) for corrections such as "on hoop 6, not on hoop 5".

    Only those whose old words stand in the step that the sentence names.
    """
    found: dict[str, list[tuple[str, str]]] = {}
    said: set[str] = set()
    for step in outline.steps:
        if outline.section(step.section).role != "correction":
            continue
        for item in step.items:
            for start, end in sentences(item.passage.text):
                text = item.passage.text[start:end]
                told = next((match for pattern in _NOT_THE_OLD if (match := pattern.search(text)) is not None), None)
                ref = patterns.STEP_REF.search(text) or patterns.STEP_REF.search(step.title or "")
                if told is None or ref is None:
                    continue
                wanted = [label.lower() for label in labels(ref[1])]
                others = [s for s in outline.steps if s.label and s.label.lower() in wanted and s.section != step.section]
                for target in _in_named_document(outline, others, text):
                    if re.search(rf"(?<![\d.,]){re.escape(told['a'])}(?![\d.,]\d)", target.text, re.IGNORECASE):
                        found.setdefault(target.id, []).append((told["a"], told["b"]))
                        said.add(text)
    return found, frozenset(said)


_LIST = gated(r"\b(?:list of (?:pieces|parts|contents)|(?:parts|packing|piece|contents) list|list)\b", re.IGNORECASE)


def with_list_corrected(outline: Outline) -> Outline:
    """``outline`` with the numbers that a slip changes in the parts list: "list of pieces, no. [15]. Instead of 16 read 20"."""
    told: list[tuple[str, int, int]] = []
    for step in outline.steps:
        if outline.section(step.section).role == "correction":
            for item in step.items:
                edit, text = _EDIT.search(item.passage.text), item.passage.text
                numbers = [g for g in edit.groups() if g] if edit is not None and _LIST.search(text) else []
                if edit is not None and len(numbers) == 2 and all(n.strip().isdigit() for n in numbers):
                    old = next(g for name in ("a", "a2", "a3", "a4") if (g := edit[name]))
                    new = next(g for name in ("b", "b2", "b3", "b4") if (g := edit[name]))
                    told.append((text[: edit.start()].lower(), int(old), int(new)))
    parts = tuple(
        next((replace(p, quantity=new) for before, old, new in told if p.quantity == old and _speaks_of(before, p)), p)
        for p in outline.parts
    )
    return replace(outline, parts=parts) if told else outline


def _speaks_of(text: str, entry: PartsEntry) -> bool:
    """Whether a slip's words in small letters name a line of the list, by its code or its name."""
    coded = entry.code is not None and gates.search(rf"(?<!\w){re.escape(entry.code.lower())}(?!\w)", text) is not None
    return coded or entry.name.lower() in text


def corrected(text: str, old: str, new: str) -> str:
    """``text`` with the new words for the old, however they are spaced."""
    spaced = r"\s+".join(re.escape(word) for word in old.split())
    return re.sub(
        rf"(?<!\w){spaced}(?!\w)" if old[:1].isalnum() and old[-1:].isalnum() else spaced, lambda _: new, text, flags=re.IGNORECASE
    )


def _labels_of(text: str, by_label: Mapping[str, object], slip: bool) -> list[str]:
    """The labels, in small letters, that a sentence speaks of; on a slip also those without the word "step": "C2."."""
    ref = patterns.STEP_REF.search(text)
    if ref is not None:
        return [label.lower() for label in labels(ref[1])]
    return [word.lower() for word in re.findall(r"\b(?:[A-Z]\d+|\d+(?:\.\d+)+)[a-z]?\b", text) if word.lower() in by_label] if slip else []


def _in_named_document(outline: Outline, steps: Sequence[Step], text: str) -> list[Step]:
    """Those of the steps whose document the text names by its title, all where it names none: "Door frame, step 4"."""
    low = text.lower()
    titles: dict[str, str] = {}
    for section in outline.sections:
        titles.setdefault(section.document, section.title.lower())
    named = [step for step in steps if len(titles.get(step.document, "")) > 3 and titles[step.document] in low]
    if not named and gates.search(r"\bmain (?:manual|booklet|leaflet|book|sheet|instructions?)\b", low):
        named = [step for step in steps if step.document == outline.documents[0].id]
    return named or list(steps)


_NUMBER = r"(?:\d{1,3}|one|two|three|four|five|six|seven|eight|nine|ten|twelve)"
_OLD_NUMBER = gated(
    rf",? (?:and )?(?:in place of|instead of|in lieu of|rather than) (?:the (?:former |previous |earlier )?)?{_NUMBER}(?=\s*(?:[,.;:)]|$|with\b))",
    re.IGNORECASE,
)
_REPLACES = gated(rf"\b(?:in place of|instead of|in lieu of|rather than|now|no longer|not {_NUMBER})\b", re.IGNORECASE)
ANY_STEP = "*"  # among the labels that a correction speaks of: whichever step it was


def without_old_number(text: str) -> str:
    """ "Use four bolts per rib in place of two": without the number that no longer holds."""
    return _OLD_NUMBER.sub("", text)


def corrected_steps(outline: Outline, step: Step, passage: Passage, span: tuple[int, int]) -> tuple[str, ...]:
    """The printed labels that a sentence of a correction is about: in it, in front of it, or in the heading above it.

    ``ANY_STEP`` where it names none and its words say that something else held before; empty where it only adds.
    """
    section = outline.section(step.section)
    if section.role != "correction":
        return ()
    text = passage.text[span[0] : span[1]]
    before = [match[1] for match in patterns.STEP_REF.finditer(passage.text[: span[0]])]
    for named in (patterns.STEP_REF.search(text), _printed_before(outline, step, passage), patterns.STEP_REF.search(step.title or "")):
        if named is not None:
            return tuple(labels(named[1]))
        if before:
            return tuple(labels(before[-1]))
    return section.replaces or ((ANY_STEP,) if _REPLACES.search(text) else ())


def _printed_before(outline: Outline, step: Step, passage: Passage) -> re.Match[str] | None:
    """ "Step 2:" in front of the passage, which the outline keeps as the step's label: not a number of the slip's own."""
    if step.label is None or not passage.runs:
        return None
    document = next((each for each in outline.documents if each.id == step.document), None)
    start = passage.runs[0].start
    lead = document.text[max(0, start - 40) : start] if document is not None else ""
    found = list(patterns.STEP_REF.finditer(lead))
    return found[-1] if found and not gates.search(r"\w", lead[found[-1].end() :]) else None


def turned(event: Event) -> Event:
    """The event with its hoops counted from the far end."""
    if event.hoops is None or event.hoops.kind in ("all", "end", "inner", "rest", "topic"):
        return event
    return replace(event, hoops=replace(event.hoops, from_far=True))


def numbers_in(text: str) -> list[int]:
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
