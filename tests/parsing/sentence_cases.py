"""How a sentence and its reading are written down in the tables of test_sentences.py."""

from __future__ import annotations

from dataclasses import dataclass, replace

from hoopwright.model.events import Event

from .mini import Said, said


@dataclass(frozen=True, slots=True)
class Case:
    """A step's words and the events that they must give, in order. ``wrong`` says what is misread today; such a case must fail."""

    text: str
    want: tuple[Said, ...]
    wrong: str = ""
    hoop: str = "hoop"  # what this manual calls a hoop


def case(text: str, *want: Said, wrong: str = "", hoop: str = "hoop") -> Case:
    """A row of a table."""
    return Case(text, want, wrong, hoop)


def add(part: str, amount: str = "1", hoops: str = "", *, units: str = "", places: str = "", member: str = "", flags: str = "") -> Said:
    """Pieces that are put somewhere."""
    return Said("add", part, amount, hoops, units, places, member, flags=flags)


def rule(part: str, amount: str, owners: str) -> Said:
    """So many of a fastener for each piece of the owners."""
    return Said("rule", part, amount, owners=owners)


def copy(hoops: str = "", *, steps: str = "", like: str = "", flags: str = "") -> Said:
    """What other hoops, other steps or the other side have."""
    return Said("copy", hoops=hoops, steps=steps, like=like, flags=flags)


def act(kind: str, hoops: str = "") -> Said:
    """Joining (join, fix) and standing (stand)."""
    return Said("act", act=kind, hoops=hoops)


def ask(part: str) -> Said:
    """Nothing is added; it is asked about."""
    return Said("ask", part, flags="doubt:quantity")


def compared(found: list[Event], want: tuple[Said, ...]) -> list[Said]:
    """What is held against ``want``: acts only where the row speaks of them; of the flags, those that change how much is counted."""
    kinds = {"add", "rule", "copy", "rows", "remove", "ask"} | {w.kind for w in want}
    out = []
    for event in found:
        if event.kind in kinds:
            spoken = said(event)
            flags = [flag for flag in spoken.flags.split() if flag in ("more", "side", "holds") or flag.startswith("doubt:")]
            out.append(replace(spoken, flags=" ".join(flags)))
    return out
