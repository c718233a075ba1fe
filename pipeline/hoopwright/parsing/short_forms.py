"""Short forms and own words in full before anything is read: LHS, "fr." for a frame, "half-ring" where no other word for a hoop is used."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import replace

from hoopwright.grammar import load_grammar
from hoopwright.grammar.hoop_nouns import hoop_forms
from hoopwright.grammar.inflect import plural
from hoopwright.model.outline import Item, Outline, Passage, Table

_TITLE = re.compile(r"\b(?:abbreviat|short forms?|shorthand|key|legend|symbols?|terms)\w*", re.IGNORECASE)
_MEANS = re.compile(
    r"(?<![\w.])([A-Za-z]{1,4})\.?\s*(?:=|:|–|—|\bmeans\b|\bstands for\b|\s{2,})\s*((?:an? |one |the )?[A-Za-z][a-z]+(?: \([^)]*\))?)"
)
_SHORT = re.compile(r"[A-Za-z]{1,4}\.?")
_FRAME = re.compile(r"frames?", re.IGNORECASE)


_BEFORE_NOUN = re.compile(
    r"\b[LR]HS(?=\s+(?!(?:is|are|was|were|shall|must|should|will|to|and|or|of|as|only|apply|in|on|at|by|for|from)\b)[A-Za-z])"
)
_ALONE = re.compile(r"\b[LR]HS\b")


def hoops_in_full(outline: Outline) -> Outline:
    """``outline`` with the manual's own short forms for a hoop in full; the same outline where it has none."""
    told = dict(_told(outline)) or _own_word(outline)
    if not told:
        return outline
    words = "|".join(sorted((re.escape(short) for short in told), key=len, reverse=True))
    short = re.compile(rf"(?<![\w.])(?P<short>{words})(?P<many>s?)(?:\.(?=\s*[\w(,;:)/-]|$)|(?=\s?#?\d)|(?=s?\s)|$)", re.IGNORECASE)

    def full(found: str) -> str:
        bare = found.rstrip(".").lower()
        noun = told.get(bare) or plural(told.get(bare.removesuffix("s"), ""))
        return noun.capitalize() if found[0].isupper() else noun

    return _in_full(outline, short, full)


def sides_in_full(outline: Outline) -> Outline:
    """``outline`` with "LHS" and "RHS" as the left and the right side; the same outline where they do not occur."""
    if not any(_ALONE.search(text) for step in outline.steps for text in (step.text, step.title or "")):
        return outline
    outline = _in_full(outline, _BEFORE_NOUN, lambda found: "left" if found[0] == "L" else "right")
    return _in_full(outline, _ALONE, lambda found: "left side" if found[0] == "L" else "right side")


def _in_full(outline: Outline, short: re.Pattern[str], full: Callable[[str], str]) -> Outline:
    def item_in_full(item: Item) -> Item:
        table = item.table
        if table is not None:
            rows = tuple(tuple(cell.in_full(short, full) for cell in row) for row in table.rows)
            caption = None if table.caption is None else table.caption.in_full(short, full)
            table = Table(tuple(short.sub(lambda m: full(m[0]), head) for head in table.head), rows, caption)
        return replace(item, passage=item.passage.in_full(short, full), table=table)

    steps = tuple(
        replace(
            step,
            items=tuple(item_in_full(item) for item in step.items),
            title=None if step.title is None else short.sub(lambda m: full(m[0]), step.title),
        )
        for step in outline.steps
    )
    sections = tuple(replace(s, title=short.sub(lambda m: full(m[0]), s.title)) for s in outline.sections)
    return replace(outline, steps=steps, sections=sections)


_NUMBERED = re.compile(
    r"\b(?P<noun>[a-z]+(?:-[a-z]+)?)s? (?:no\.? ?|#)?(?P<first>\d{1,2})(?:(?: to |-|–| and |, )(?P<last>\d{1,2}))?\b", re.IGNORECASE
)
_FEWEST = 3  # numbers that a word must stand before to be a hoop's
_OTHER_THINGS = frozenset(
    {
        *(
            "step",
            "stage",
            "section",
            "table",
            "fig",
            "figure",
            "picture",
            "sketch",
            "photo",
            "drawing",
            "box",
            "bag",
            "bay",
            "part",
            "item",
        ),
        *(
            "page",
            "card",
            "day",
            "note",
            "option",
            "no",
            "tin",
            "tub",
            "pouch",
            "carton",
            "packet",
            "sheet",
            "point",
            "paragraph",
            "clause",
        ),
        *("row", "line", "lot", "pair", "pack", "pos", "to", "and", "or", "of", "by", "about", "than", "from", "at", "x", "job", "phase"),
    }
)


def _own_word(outline: Outline) -> dict[str, str]:
    """The word that stands for a hoop where no known one is used: "half-ring 3", of which the manual says how many there are."""
    rows = [": ".join(cell.text for cell in row) for step in outline.steps for item in step.items if item.table for row in item.table.rows]
    whole = " . ".join([*(step.text for step in outline.steps), *rows]).lower()
    if re.search(rf"\b(?:{'|'.join(map(re.escape, (*hoop_forms(), 'frame', 'frames')))})\b", whole):
        return {}
    numbers: dict[str, set[int]] = {}
    for match in _NUMBERED.finditer(whole):
        noun = match["noun"].removesuffix("s")
        if noun not in _OTHER_THINGS and len(noun) > 2:
            numbers.setdefault(noun, set()).update(int(n) for n in (match["first"], match["last"]) if n)
    number = "|".join(word for word in load_grammar().words["numbers"] if len(word) > 2)
    for noun, found in sorted(numbers.items(), key=lambda each: -len(each[1])):
        counted = re.search(
            rf"\b(?:\d{{1,2}}|{number}) (?:[a-z]+ )?{re.escape(noun)}s\b|\b{re.escape(noun)}s(?: in all)?\s*[:=.]+\s*(?:\d{{1,2}}|{number})\b",
            whole,
        )
        if len(found) >= _FEWEST and 1 in found and counted is not None:
            return {noun: "hoop"}
    return {}


def _told(outline: Outline) -> Iterator[tuple[str, str]]:
    """(short form in small letters without its stop, the word for a hoop)."""
    codes = {part.code.lower() for part in outline.parts if part.code}
    words = load_grammar().senses
    for step in outline.steps:
        key = _TITLE.search(outline.section(step.section).title) is not None
        for item in step.items:
            for short, meaning in (*_in_table(item.table, key), *_in_text(item.passage, key)):
                noun = _hoop(meaning)
                bare = short.rstrip(".").lower()
                if noun is not None and bare not in codes and bare not in words:
                    yield bare, noun


def _in_table(table: Table | None, key: bool) -> Iterator[tuple[str, str]]:
    for row in table.rows if table is not None and key else ():
        for left, right in zip(row[::2], row[1::2], strict=False):
            if _SHORT.fullmatch(left.text.strip()):
                yield left.text.strip(), right.text


def _in_text(passage: Passage, key: bool) -> Iterator[tuple[str, str]]:
    for match in _MEANS.finditer(passage.text):
        if key or "=" in match.group() or "means" in match.group():
            yield match[1], match[2]


def _hoop(meaning: str) -> str | None:
    """The word for a hoop in what a short form means; a frame is one if the key says that a frame is a hoop."""
    nouns = [hoop_forms()[w] for w in re.findall(r"[a-z]+", meaning.lower()) if w in hoop_forms()]
    if not nouns or len(meaning.split()) > 5:
        return None
    first = next(word for word in re.findall(r"[a-z]+", meaning.lower()) if word not in ("a", "an", "one", "the"))
    return nouns[0] if first in hoop_forms() or _FRAME.fullmatch(first) else None
