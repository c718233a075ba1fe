"""Kinds of hoop that a manual names by a letter in a table: "Type E: hoops 1 and 10; type P: all the others"."""

from __future__ import annotations

import re

from hoopwright.model.outline import Outline
from hoopwright.parsing.chunk import number_list
from hoopwright.parsing.lex import lex

_KIND = r"(?:type|kind|class|group|set|pattern)"
_REST = re.compile(r"\b(?:others?|rest|remaining|remainder)\b", re.IGNORECASE)


def hoop_types(outline: Outline, hoop_words: frozenset[str], hoops: int | None, numbers: dict[str, int]) -> dict[str, tuple[int, ...]]:
    """Letter -> hoop numbers, from tables with a column of letters and a column that says which hoops. Empty if there is none."""
    found: dict[str, tuple[int, ...]] = {}
    rest: list[str] = []
    for step in outline.steps:
        for item in step.items:
            if item.table is None or len(item.table.head) < 2:
                continue
            head = [cell.lower() for cell in item.table.head]
            kind = next((k for k, cell in enumerate(head) if re.search(rf"\b{_KIND}\b", cell)), None)
            which = next(
                (k for k, cell in enumerate(head) if k != kind and any(re.search(rf"\b{word}s?\b", cell) for word in hoop_words)), None
            )
            if kind is None or which is None:
                continue
            for row in item.table.rows:
                if len(row) <= max(kind, which):
                    continue
                letter = re.fullmatch(r"\W*([A-Za-z0-9]{1,2})\W*", row[kind].text.strip())
                if letter is None:
                    continue
                listed, _, _ = number_list(lex(row[which].text.lower()), 0, numbers)
                if listed:
                    found[letter[1].upper()] = listed
                elif _REST.search(row[which].text):
                    rest.append(letter[1].upper())
    if len(rest) == 1 and found and hoops:
        taken = {n for listed in found.values() for n in listed}
        found[rest[0]] = tuple(n for n in range(1, hoops + 1) if n not in taken)
    return found


def spell_types(text: str, types: dict[str, tuple[int, ...]], hoop_words: frozenset[str]) -> str:
    """``text`` with "type E hoops" and "hoops of type E" told by number."""
    words = "|".join(sorted(hoop_words)) or "hoop"
    for letter, listed in types.items():
        pattern = rf"\b(?:(?:{words})(?:s|es)? (?:of )?)?(?i:{_KIND})s? {letter}\b(?: (?:{words})(?:s|es)?\b)?"
        text = re.sub(
            pattern,
            "hoops " + ", ".join(map(str, listed[:-1])) + (" and " if len(listed) > 1 else "") + str(listed[-1]) if listed else "",
            text,
        )
    return text
