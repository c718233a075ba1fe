"""Corrections of a manual by a slip or a later sheet, and step labels in running text."""

from __future__ import annotations

import re
from dataclasses import replace

from hoopwright.model.events import Event
from hoopwright.model.outline import Outline
from hoopwright.parsing import patterns
from hoopwright.parsing.sentences import sentences

_EDIT = re.compile(
    r"(?:\bfor [\"“'‘]?(?P<a>[^\"”'’;]+?)[\"”'’]?,? (?:please )?(?:read|substitute|put) [\"“'‘]?(?P<b>[^\"”'’;]+?)[\"”'’]?(?:[.;]|$))"
    r"|(?:\b(?:read|put) [\"“'‘]?(?P<b2>[^\"”'’;]+?)[\"”'’]? (?:for|instead of|in place of) [\"“'‘]?(?P<a2>[^\"”'’;]+?)[\"”'’]?(?:[.;]|$))"
    r"|(?:\b(?:replace|change) [\"“'‘]?(?P<a3>[^\"”'’;]+?)[\"”'’]? (?:by|with|to|into) [\"“'‘]?(?P<b3>[^\"”'’;]+?)[\"”'’]?(?:[.;]|$))"
    r"|(?:[\"“'‘](?P<a4>[^\"”'’;]+?)[\"”'’] (?:should|must|is to) (?:read|be) [\"“'‘](?P<b4>[^\"”'’;]+?)[\"”'’])",
    re.IGNORECASE,
)


def is_edit(text: str) -> bool:
    """Whether a sentence corrects the words of a step: "In step 12 read three for two."."""
    return bool(patterns.STEP_REF.search(text) and _EDIT.search(text))


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
                ref, edit = patterns.STEP_REF.search(text), _EDIT.search(text)
                if (
                    not ref
                    or not edit
                    or (
                        step.label
                        and step.label.lower() in (label.lower() for label in labels(ref[1]))
                        and outline.section(step.section).role != "correction"
                    )
                ):
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
