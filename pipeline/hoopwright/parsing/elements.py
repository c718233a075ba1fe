"""The pieces a sentence is made of once its words are known: mentions, verbs, prepositions, lengths."""

from __future__ import annotations

from dataclasses import dataclass, field

from hoopwright.model.events import Amount, Place, Selector


@dataclass(slots=True)
class El:
    """An element of a sentence, from token ``i`` up to ``j``. ``type``: fit, mem, pron, ellip, verb, prep, len, conj, punct, word.

    Fields are filled as far as the type has them; ``gov`` is the word that governs a mention: "obj", "subj", "and" or a preposition.
    """

    type: str
    i: int
    j: int
    text: str
    low: str
    # mentions
    words: tuple[str, ...] = ()
    det: str | None = None
    amount: Amount | None = None
    each: bool = False
    plural: bool = False
    definite: bool = False
    more: bool = False
    other: bool = False
    side: str | None = None
    ords: tuple[int, ...] = ()
    parts: tuple[str, ...] = ()
    classes: bool = False  # "every clip, of whatever sort"
    size: str | None = None
    role: str = ""
    name: str = ""
    adjectives: tuple[str, ...] = ()
    hoops: Selector | None = None
    gov: str = ""
    used: bool = False  # taken up by a position or another mention
    tube_at: str | None = None
    upper: str | None = None  # "upper", "lower", "reduced"
    # verbs
    verb: str = ""
    cls: str = ""
    form: str = ""
    passive: bool = False
    neg: bool = False
    modal: str | None = None
    # lengths
    mm: float | None = None
    place: Place | None = None
    number: int | None = None
    post: list[str] = field(default_factory=list)
