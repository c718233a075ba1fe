"""Parts lists in lines and bullets: "28 x Saddle clamp 42 mm (H)", "Item H: saddle clamps, 42 mm - 28 No."."""

from __future__ import annotations

import re

from hoopwright.model.outline import PartsEntry, Passage
from hoopwright.outlining.describing import code_of, describe
from hoopwright.outlining.listlines import COUNTED
from hoopwright.outlining.quantities import leading, trailing
from hoopwright.outlining.vocabulary import vocabulary

_LEAD_CODE = re.compile(
    rf"^(?:(?i:{vocabulary().code_words})\.?\s+(?:no\.?\s*)?(?P<item>[A-Za-z]{{0,3}}[-.]?\d{{0,4}}[A-Za-z]?)\s*(?:[:.)–—-]\s*|\s+)"
    r"|[(\[](?P<bracket>[A-Z]{0,3}[-.]?\d{0,4}[A-Z]?)[)\]]\s*[:–—-]?\s*"
    r"|(?P<bare>[A-Z]{1,2}[-.]?\d{0,3}|\d{1,3})(?P<mark>\s*[:.)=–—]\s+|(?<=[A-Z]\d),\s+|\s+-\s+|\s{2,}))"
)
# A line with one of these says something about a part; it is no line of a list.
_VERB = re.compile(
    r"\b(?:is|are|be|must|should|can|will|has|have|had|goes|takes?|needs?|gets?|comes?|do|does|not|they|them)\b", re.IGNORECASE
)
_BAG = re.compile(r"^bag\s+(?P<bag>[A-Z]{1,2}\d?|\d{1,2})\s*[:.–—-]\s*", re.IGNORECASE)
_OTHER_BOX = re.compile(
    rf"^(?:{vocabulary().container.pattern}) (?:no\.? ?)?(?:[A-Z]{{1,2}}\d?|\d{{1,2}})\s*[:.–—-]\s+(?=\S)", re.IGNORECASE
)
_CONTAINER_OF = re.compile(
    r"(?P<kind>bags?|box(?:es)?|packets?|packs?|tins?|handfuls?|rolls?|coils?|reels?)\s+of\s+(?=[a-z])", re.IGNORECASE
)
_LOOSE_END = re.compile(
    r"[\s,:;(–—-]+(?P<loose>(?:\d+|an?|one)?\s*(?:" + "|".join(vocabulary().loose_quantities) + r"))\s*\)?\.?$", re.IGNORECASE
)


def line_entries(passage: Passage, option: str | None, label: str | None = None) -> list[PartsEntry]:
    """The entry of one line of a list, empty if the line gives no number of pieces.

    ``label`` is a list letter before the line, taken as a code.
    """
    text = passage.text
    if len(text) > 160 or re.search(r"[.!?]\s+[A-Z]", COUNTED.sub("", text)) or _VERB.search(re.sub(r"\(.*?\)", "", text)):
        return []
    code = label
    at = 0
    bag = _BAG.match(text)
    if bag:
        code, at = bag.group("bag"), bag.end()
    if (box := _OTHER_BOX.match(text)) is not None:
        at = box.end()  # "Tray 1:  7 ridge loops": a tray holds many things, and its number is no code of theirs
    lead = _LEAD_CODE.match(text[at:])
    counted = lead is not None and (lead.group("bracket") or "").isdigit() and trailing(text[at + lead.end() :]) is None
    if lead and not counted and not _is_number_then_mark(lead, text[at:]):
        code = code_of(lead.group("item") or lead.group("bracket") or lead.group("bare") or "") or code
        at += lead.end() if lead.end() else 0
    end = len(text)
    comment = re.search(r"\s{2,}\([^()]*\)$|(?<=\d)\s+\([a-z][^()]*\)$", text)  # "head ring, 2   (closed)"
    behind = comment.group().strip(" ()") if comment is not None else ""
    text = text[: comment.start()] if comment is not None else text
    end = len(text)
    first = leading(text[at:])
    number, shown = None, ""
    if counted and lead is not None:
        number, shown, at = int(lead.group("bracket")), lead.group("bracket"), at + lead.end()  # "(16) Girt clips"
    elif first is not None:
        number, shown, at = first.number, text[at : at + first.end].strip(), at + first.end
    elif (last := trailing(text[at:])) is not None:
        number, shown, end = last.number, text[at + last.start :].strip(" -–—:,;()[]."), at + last.start
    elif (loose := _LOOSE_END.search(text[at:])) is not None and (code is not None or re.match(r"\s*[:–—(]|\s-", loose.group())):
        shown, end = loose.group("loose").strip(), at + loose.start()
    else:
        return []
    if first is not None and (container := _CONTAINER_OF.match(text, at)) is not None:
        # "1 bag of tape patches" counts bags and not patches.
        number, shown, at = None, f"{shown} {container.group('kind')}", container.end()
    said = describe(text[at:end])
    if not re.search(r"[A-Za-z]{3}", said.name) or len(said.name.split()) > 8:
        return []
    return [
        PartsEntry(
            name=said.name,
            source=passage.source(),
            code=code or said.code,
            size=said.size,
            quantity=number,
            quantity_text=shown,
            note=", ".join(note for note in (said.note, behind) if note),
            option=option,
        )
    ]


def _is_number_then_mark(match: re.Match[str], text: str) -> bool:
    """True for "28 - Saddle clamp": the number in front is the number of pieces unless another one stands at the end."""
    bare = match.group("bare")
    return bare is not None and bare.isdigit() and trailing(text[match.end() :]) is None and leading(text[match.end() :]) is None
