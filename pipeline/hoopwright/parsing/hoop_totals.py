"""How many hoops the manual says that the tunnel has: in its title and in sentences that tell of the whole."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from hoopwright.model.outline import Outline, Source
from hoopwright.parsing.sentences import sentences

_ADJECTIVE = r"(?:pointed|steel|complete|round|identical|curved|tubular|galvanised|galvanized|equal|single|strong)"
_WHOLE = (
    r"(?:tunnel|house|frame|kit|shelter|structure|greenhouse|it|this|walk|arcade|store|pack)\b[^.;:|]{0,40}?"
    r"\b(?:has|have|stands on|is carried by|consists of|is made (?:up )?of|comprises|is built (?:up )?(?:of|from|on)|contains)"
)
_NOT_ALL = re.compile(
    r"\b(?:if|extension|extended|extra|option|optional|more|another|further|each|every|old|older|earlier|other|longer|shorter|some|between"
    r"|except|left|middle|inner|end|door|also|model|version)\b",
    re.IGNORECASE,
)


def hoop_totals(outline: Outline, names: frozenset[str], numbers: Mapping[str, int]) -> tuple[tuple[int, Source], ...]:
    """(hoops, where) of every statement of the whole number, in the manual's order; extras and what speaks of some hoops are left out.

    ``names`` are the manual's words for hoops, ``numbers`` the number words.
    """
    said = "|".join(re.escape(word) for word in sorted(numbers, key=len, reverse=True) if numbers[word] > 1)
    hoop = "|".join(re.escape(name) for name in sorted(names, key=len, reverse=True))
    if not hoop:
        return ()
    count = rf"(?P<n>\d{{1,3}}|{said})(?:[ -]{_ADJECTIVE})?[ -](?:{hoop})(?:e?s)?"
    titled = re.compile(rf"(?<![\d×]\s)(?<!\bx\s)(?<!\bby[ -])(?<![\w.,-]){count}\b", re.IGNORECASE)
    told = re.compile(
        rf"(?:\b{_WHOLE} (?:a total of )?|\bthere are ){count}\b|^{count.replace('?P<n>', '?P<m>')}(?=,|\.$| (?:carry|hold) it\b| (?:set|spaced|on|at)\b)",
        re.IGNORECASE,
    )
    many = re.compile(rf"(?:s|-(?:{hoop}))$", re.IGNORECASE)  # "9 hoops", "the nine-hoop tunnel"
    found: list[tuple[int, Source]] = []
    for pattern, source in (*((titled, each) for each in _titles(outline)), *((told, each) for each in _sentences(outline))):
        match = pattern.search(source.quote)
        if match is not None and many.search(match[0]) and not _NOT_ALL.search(source.quote):
            word = next(each for each in match.groupdict().values() if each).lower()
            found.append((int(word) if word.isdigit() else numbers[word], source))
    return tuple((n, source) for n, source in found if 2 <= n <= 400)


def _titles(outline: Outline) -> Iterator[Source]:
    """The title of each document that begins with one."""
    begun: set[str] = set()
    for section in outline.sections:
        if section.document not in begun and section.source is not None and section.option is None:
            yield section.source
        begun.add(section.document)


def _sentences(outline: Outline) -> Iterator[Source]:
    main = {section.id for section in outline.sections if section.option is None and section.role in ("intro", "build", "other", "summary")}
    for step in outline.steps:
        for item in step.items if step.section in main and step.option is None else ():
            if item.table is None and item.passage.runs:
                for start, end in sentences(item.passage.text):
                    yield item.passage.source(start, end)
