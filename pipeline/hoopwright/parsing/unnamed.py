"""Pieces that no list names and no grammar file knows: "Press one rubber tab over each joint"."""

from __future__ import annotations

import re

from hoopwright.grammar import Grammar
from hoopwright.grammar.inflect import plural
from hoopwright.grammar.load import Sense
from hoopwright.model.outline import Outline
from hoopwright.parsing.sentences import sentences

_SINGLE = r"(?:an?|one|two|three|four|\d)"
_ONTO = r"(?:on|onto|over|round|around|to|into|in|through|under|at|across)"


def unnamed_pieces(outline: Outline, grammar: Grammar) -> tuple[str, ...]:
    """Words that become fittings because a step puts a number of them on a part of the hoop. Changes ``grammar``.

    Only nouns that mean nothing else: a sentence that begins with a verb of putting, a number, the noun, and then a tube, joint or foot.
    """
    verbs = "|".join(sorted((form for form, senses in grammar.senses.items() if " " not in form and _puts(senses)), key=len, reverse=True))
    told = re.compile(
        rf"^(?:then |now |next,? |also )?(?:{verbs}) {_SINGLE} (?P<name>(?:[a-z]+[ -]){{0,2}}(?P<head>[a-z]{{3,}}?)(?P<many>s?)) {_ONTO} "
        r"(?:each|every|both|either|the) (?P<host>[a-z]+(?: [a-z]+)?)\b",
        re.IGNORECASE,
    )
    others = frozenset(grammar.words["not_pieces"])
    found: list[str] = []
    for step in outline.steps:
        if outline.section(step.section).role not in ("build", "correction"):
            continue
        for item in step.items:
            for start, end in sentences(item.passage.text):
                match = told.match(item.passage.text[start:end])
                if match is None or not _host(match["host"].lower(), grammar):
                    continue
                head = match["head"].lower()
                if any(s.kind in ("fit", "mem") for word in match["name"].lower().split()[:-1] for s in grammar.senses.get(word, ())):
                    continue  # "two neck pins crosswise"
                known = any(grammar.senses.get(word) for word in (head, head + "s", match["name"].lower()))
                if known or head in others or head in grammar.words["numbers"] or head in found:
                    continue
                found.append(head)
                for form, number in ((head, "one"), (plural(head), "many")):
                    grammar.add_sense(form, Sense("fit", head, head, number, "cover"))
    return tuple(found)


def _puts(senses: list[Sense]) -> bool:
    return any(s.kind == "verb" and s.role in ("put", "fasten") and s.form == "base" for s in senses)


def _host(name: str, grammar: Grammar) -> bool:
    """Whether a name of one or two words is a part of the hoop."""
    return any(
        s.kind == "mem" and s.role in ("tube", "joint", "foot", "shoulder", "hoop")
        for word in (name, name.split()[0], name.split()[-1])
        for s in grammar.senses.get(word, ())
    )
