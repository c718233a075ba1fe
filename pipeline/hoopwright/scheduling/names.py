"""A part's name in running text: one or many, its words parted by blanks or hyphens."""

from __future__ import annotations

import re

NOT_IN_A_NAME = re.compile(r"[^0-9a-z]+")


def plain(text: str) -> str:
    """The words of a name, lower case, the last one without the ending of the plural."""
    words = NOT_IN_A_NAME.sub(" ", text.lower()).split()
    if words:
        words[-1] = _one(words[-1])
    return " ".join(words)


def _one(word: str) -> str:
    """A noun without its plural ending: "eyes" eye, "boxes" and "box" box, "assemblies" assembly."""
    if word.endswith("ies") and len(word) > 4:
        return word[:-3] + "y"
    if word.endswith(("ches", "shes", "sses", "xes")):
        return word[:-2]
    return word[:-1] if word.endswith("s") and not word.endswith("ss") and len(word) > 3 else word


def loose(name: str) -> str:
    """A pattern, as text, that finds the name in running text."""
    words = [re.escape(word) for word in plain(name).split()]
    if not words:
        return r"(?!)"
    *first, last = words
    ending = f"{last[:-1]}(?:y|ies)" if last.endswith("y") else f"{last}(?:e?s)?"
    return r"[\s\-‐‑–]+".join((*first, ending))
