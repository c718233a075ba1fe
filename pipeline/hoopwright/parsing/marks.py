"""Marks that a manual has the reader chalk on the tubes: "mark B 1,200 mm" from the foot, and later "to mark B"."""

from __future__ import annotations

import re
from collections.abc import Iterator

from hoopwright.model.outline import Outline
from hoopwright.parsing.gates import gated
from hoopwright.parsing.lex import lex

_LEN = r"\d[\d.,/ -]*(?:\s?(?:mm|cm|m|ft|in|inches|feet)\b\.?|[\"'″′])"
_TOLD = gated(
    rf"\bmarks? (?P<name>[A-Z]|\d)\b[\s:.=–—-]*(?:(?:is|lies|stands|sits|comes) )?(?:now )?(?:at )?(?P<length>{_LEN})", re.IGNORECASE
)
_FROM = gated(r"\bfrom (?:the )?(?P<mark>foot|ground|soil|ridge|crown|peak|joint|shoulder|lower end|bottom)\b", re.IGNORECASE)
_MEANT = gated(
    rf"(?:(?P<more>{_LEN}) (?P<way>above|below) )?(?P<lead>\b(?:to|at|from|on|up to|as far as) )?(?:the )?\bmark (?P<name>[A-Z]|\d)\b",
    re.IGNORECASE,
)


class Marks:
    """Puts the distance for a mark's name: "slide it to mark B" → "slide it to 1,200 mm from the foot"."""

    def __init__(self, outline: Outline) -> None:
        self.mm: dict[str, float] = {}
        self.datum: dict[str, str] = {}
        for lead, text in _texts(outline):
            datum = _FROM.search(lead) or _FROM.search(text)
            for match in _TOLD.finditer(text):
                length = next((float(t.value) for t in lex(match["length"]) if t.cat == "len"), None)
                if length is not None:
                    name = match["name"].upper()
                    self.mm[name] = length  # a later one corrects
                    self.datum.setdefault(name, datum["mark"].lower() if datum is not None else "foot")

    def __call__(self, text: str) -> str:
        """``text`` with the distances of the marks that it names."""
        return _MEANT.sub(self._place, text) if self.mm and "mark" in text.lower() else text

    def _place(self, match: re.Match[str]) -> str:
        name = match["name"].upper()
        if name not in self.mm:
            return match[0]
        mm = self.mm[name]
        if match["more"]:
            more = next((float(t.value) for t in lex(match["more"]) if t.cat == "len"), 0.0)
            mm += more if match["way"].lower() == "above" else -more
        return f"{match['lead'] or ''}{mm:g} mm up from the {self.datum[name]}"


def _texts(outline: Outline) -> Iterator[tuple[str, str]]:
    """(what the step says before, a passage or a table row), in the manual's order."""
    for step in outline.steps:
        lead = ""
        for item in step.items:
            if item.table is not None:
                for row in item.table.rows:
                    yield lead, "  ".join(cell.text for cell in row)
            else:
                yield lead, item.passage.text
                lead = item.passage.text
