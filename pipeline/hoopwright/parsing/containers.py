"""What is said of all that is packed together: "everything in the blue tin", and "each of these pieces" behind it."""

from __future__ import annotations

import re

from hoopwright.model.outline import Outline
from hoopwright.parsing.kit import Kit, split_name

_THINGS = r"(?:pieces?|parts?|fittings?|items?|things?|ones?)"
_THESE = re.compile(rf"^(?P<each>each|every one|all) of (?:these|those|the|them)(?: {_THINGS})?(?= )", re.IGNORECASE)


class Containers:
    """Puts the names of what a container holds for "each piece in the blue tin"."""

    def __init__(self, outline: Outline, kit: Kit) -> None:
        self.holds: dict[str, list[str]] = {}
        for entry in outline.parts:
            name = kit.aliases.get(split_name(entry.name, kit.grammar)[0])
            if entry.container and name is not None and kit.parts[name].is_fitting:
                self.holds.setdefault(entry.container, []).append(name)
        boxes = "|".join(sorted(map(re.escape, self.holds), key=len, reverse=True))
        self.said = (
            re.compile(
                rf"\b(?:everything|(?:each|every|all|all the|all of the|each of the) {_THINGS}|each|all) (?:that (?:is|comes|are) |which (?:is|comes|are) )?"
                rf"(?:packed )?(?:in|from|out of|inside) (?:the )?(?P<box>{boxes})\b",
                re.IGNORECASE,
            )
            if boxes
            else None
        )
        self.before: list[str] = []  # what the sentence before was about

    def __call__(self, text: str) -> str:
        """``text`` with the names; a sentence about a container makes the next one's "each of these pieces" mean what it holds."""
        if self.said is None:
            return text
        these, self.before = self.before, []
        match = self.said.search(text)
        if match is not None:
            self.before = self.holds[match["box"].lower()]
            return f"{text[: match.start()]}each {_and(self.before)}{text[match.end() :]}"
        return _THESE.sub(lambda _: f"Each {_and(these)}", text) if these else text


def _and(names: list[str]) -> str:
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
