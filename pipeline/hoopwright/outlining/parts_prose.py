"""Parts lists in running prose: "Bag A holds ten ridge clips, bag B ten rail clips and bag C six crop bar clips"."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache

from hoopwright.model.outline import PartsEntry, Passage
from hoopwright.outlining.describing import describe
from hoopwright.outlining.quantities import number, number_pattern
from hoopwright.outlining.roles import role_of
from hoopwright.outlining.vocabulary import alternatives, vocabulary

_SENTENCE = re.compile(r"(?:[^.!?]|(?<=\b[Nn]o)\.(?=\s*[),;a-z])|\.(?=\d))+[.!?]?")
# A word of two letters behind "bag" is no code: "The red bag is …".
_BAG = re.compile(r"\bbag\s+(?P<bag>[A-Z]\d?|(?!(?:is|in|of|on|to|by|at|or|we|it)\b)[A-Z]{2}\d?|\d{1,2})\b", re.IGNORECASE)
_ALIAS = re.compile(r",?\s*(?P<alias>(?:which (?:we|the steps)|also|or) (?:call|called|known as|call them)\b[^.;,]*)", re.IGNORECASE)
_HEADS = re.compile(r"[A-Z][a-z]+(?:, [a-z]+)*,? and [a-z]+ (?=\d+ [a-z])")  # "Tubing and lumber", on a line of its own
# "There are three tubes in a hoop: a side piece on the left, …" says what a hoop is made of and not what is in the box.
_OF_A_HOOP = re.compile(
    r"\b(?:tubes?|pieces?|sections?|lengths?|halves|pipes?) (?:in|to|of|per|for|make) (?:an? |each |every |one )"
    r"(?!(?:\w+ )?(?:bag|box|tin|tub|pack|packet|crate|bundle|kit|carton|pouch|sack|tray|parcel)\b)[a-z-]+\b[^:;.]*:",
    re.IGNORECASE,
)
_DENIED = re.compile(
    r"\b(?:there (?:is|are) no|will not|do not|does not|cannot)\b"
    r"|^\s*you(?: will)? also need\b|^\s*(?:you )?bring\b|^\s*if you (?:find|see|come across)\b"
    # "A saddle or a lug is held by one bolt" says what a part takes
    r"|\b(?:is|are) (?:each |always )?(?:held|fixed|fastened|bolted|secured|closed|locked|drawn up|clamped)\b",
    re.IGNORECASE,
)
_LONGEST = 8000  # characters
_LOOSE = re.compile(r"(?:rolls?|bags?|box(?:es)?|packets?|packs?|coils?|tins?|reels?|bundles?|handfuls?)\s+of\s+", re.IGNORECASE)
_COUNT_IN_FRONT = re.compile(r"(?:^|[;:.]\s+)\(\d{1,4}\)\s", re.IGNORECASE)  # "(16) Girt clips (8) Ridge hangers"
_HOW_MANY = r"(?:of\s+(?:them|these|each|those)|in\s+(?:all|number|total)|altogether|pieces|off)"
_LONGEST_NAME = 6  # words
_MANY = 3  # numbers in brackets make a list of a paragraph
_NAME_BEGINS = re.compile(
    r"(?:(?<!\bno)[.:]\s+|^[,;.]?\s*|[,;]\s+(?=(?:and|then|also|plus|with)\b)|;\s+)?"
    r"(?:\b(?:and|then|also|plus|with|the|an?|find|holds|contains|are|is|you have|there (?:is|are)|of)\s+)+|(?<!\bno)[.:;]\s+|^[,;.\s]+",
    re.IGNORECASE,
)
_COUNT_BEHIND = re.compile(r"\s*\((?P<n>\d+)\s*(?:no\.?|off|pcs\.?|x|×)?\)", re.IGNORECASE)


@cache
def _item() -> re.Pattern[str]:
    ends = alternatives(sorted(vocabulary().name_ends))
    size = r"M\d+(?:\s?[x×]\s?\d+)?|\d+(?:[-\s]\d+/\d+|/\d+|\.\d+)?(?:\s?[x×]\s?\d+|\s?(?:mm|in|ft|m)\b)"
    word = rf"{size}|(?!(?:{ends})\b)[A-Za-z][\w/'’-]*"
    between = r"(?:(?:more|further|other|spare|lengths? of|pieces? of|sets? of)\s+)*"
    name = rf"(?P<name>(?:{word})(?:\s+(?:{word})){{0,5}})"
    counted = r"(?:\s*(?:nos?\b\.?|off\b|pcs\b\.?|[x×](?=\s)))?"
    return re.compile(rf"(?<![\w/.-])(?P<n>{number_pattern()}){counted}\s+{between}{name}", re.IGNORECASE)


@cache
def _counted_after() -> re.Pattern[str]:
    """ "the ridge loops, five of them, and the side loops, ten": the number stands behind the name, between commas."""
    ends = alternatives(sorted(vocabulary().name_ends))
    word = rf"(?!(?:{ends}|the|{number_pattern()})\b)[A-Za-z][\w/'’-]*"
    before = r"(?:[,;:]|\b(?:and|the|your|has|have|holds?|contains?|includes?|are|is|with|find)\b)"
    return re.compile(
        rf"{before}\s+(?P<name>{word}(?:\s+{word}){{0,3}}),\s+(?:all\s+)?(?P<n>(?!(?:an?|no)\b){number_pattern()})(?:\s+{_HOW_MANY})?(?=\s*(?:[,;)]|\.(?!\d)|$|and\b))",
        re.IGNORECASE,
    )


@cache
def _number_behind() -> re.Pattern[str]:
    """ "Legs 10, tops 5, ridge tube 3 pieces": a bare number behind each name, between commas."""
    ends = alternatives(sorted(vocabulary().name_ends))
    word = rf"(?!(?:{ends}|the|{number_pattern()})\b)[A-Za-z][\w/'’-]*"
    return re.compile(
        rf"(?:^|(?<=[,;:])|\band\b)\s*(?P<name>{word}(?:\s+{word}){{0,3}}) (?P<n>\d{{1,3}})(?:\s+{_HOW_MANY})?"
        r"(?=\s*(?:[,;(]|\.(?!\d)|$|and\b))",
        re.IGNORECASE,
    )


def _tells_behind(text: str) -> bool:
    return len(_number_behind().findall(text)) > 2


def _named(text: str) -> int:
    """The number of parts that a text names with their numbers, in front or behind."""
    behind = len(_counted_after().findall(text)) if "," in text else 0
    return len(_item().findall(text)) + behind


@cache
def _tally() -> re.Pattern[str]:
    """ "Ridge saddles, 7." as a sentence of its own."""
    return re.compile(rf"\s*(?P<name>[A-Z][A-Za-z/'’-]+(?: [A-Za-z0-9/'’-]+){{0,3}}),\s+(?P<n>{number_pattern()})[.;]?\s*", re.IGNORECASE)


def is_tally(text: str) -> bool:
    """Whether a paragraph is but names with a number behind each ("Ridge saddles, 7. Wire collars, 14."), or a row of counted names.

    "Fourteen arms; fourteen pins; six lengths of pipe" has its numbers in front and semicolons between.
    """
    sentences = [m.group() for m in _SENTENCE.finditer(text) if m.group().strip()]
    if len(sentences) > 2 and all(_tally().fullmatch(sentence) for sentence in sentences):
        return True
    pieces = [piece.strip(" .") for piece in text.split(";")]
    return len(pieces) > 3 and all(_bare_list(piece, 1) for piece in pieces)


def _tally_entries(passage: Passage, option: str | None) -> list[PartsEntry]:
    found: list[PartsEntry] = []
    for sentence in _SENTENCE.finditer(passage.text):
        match = _tally().fullmatch(sentence.group())
        if match is not None:
            said = describe(match["name"])
            source = passage.source(sentence.start() + match.start("name"), sentence.start() + match.end("n"))
            found.append(
                PartsEntry(
                    name=said.name,
                    source=source,
                    size=said.size,
                    quantity=number(match["n"]),
                    quantity_text=match["n"],
                    note=said.note,
                    option=option,
                )
            )
    return found


def prose_entries(passage: Passage, option: str | None, bare: int = 3) -> list[PartsEntry]:
    """The parts that a paragraph says are supplied; sentences that only speak about parts give none.

    ``bare`` is the number of parts that a sentence without a verb must name to be taken as a list.
    """
    found: list[PartsEntry] = []
    if len(passage.text) > _LONGEST:
        return found  # a paragraph of this length is no paragraph
    if (listed := _between_semicolons(passage, option)) is not None:
        return listed
    if is_tally(passage.text):
        tallied = _tally_entries(passage, option)
        return tallied or [e for m in _SENTENCE.finditer(passage.text) for e in _sentence(passage, m.start(), m.end(), option)]
    if len(_COUNT_BEHIND.findall(passage.text)) >= _MANY and not _COUNT_IN_FRONT.search(passage.text):
        return _counted_behind(passage, 0, passage.text, option)
    opened = False  # "The jam jar. Twelve hooks, four rings.": the sentence before only names a container
    for sentence in _SENTENCE.finditer(passage.text):
        least, opened = (1 if opened else bare), _only_container(sentence.group())
        if _supplies(sentence.group(), least):
            listed = _sentence(passage, sentence.start(), sentence.end(), option)
            found += listed
            if listed:
                continue
        if (inner := _bracketed_list(sentence.group())) is not None:
            found += _sentence(passage, sentence.start() + inner[0], sentence.start() + inner[1], option)
    return found


def _between_semicolons(passage: Passage, option: str | None) -> list[PartsEntry] | None:
    """ "Red tub, pieces that open: post clamps, two halves each, 2; cover straps, 16; gale hooks 4": None for all that is no such list."""
    lead = re.match(r"(?:[*_]*[A-Z][^:;.]{2,60}:[*_]*\s+)?", passage.text)
    text = passage.text.rstrip(" .")
    assert lead is not None
    pieces = list(re.finditer(r"[^;]+", text[lead.end() :]))
    if len(pieces) < _MANY:
        return None
    entries: list[PartsEntry] = []
    for piece in pieces:
        words = piece.group().strip()
        last = re.search(r"(?:,| of| -| –|:|=| x| ×)?\s(?P<n>\d{1,4})$", words)
        said = describe(words[: last.start()]) if last is not None else None
        if last is None or said is None or not re.search(r"[A-Za-z]{3}", said.name) or len(said.name.split()) > _LONGEST_NAME:
            return None
        start = lead.end() + piece.start()
        entries.append(
            PartsEntry(
                name=said.name,
                source=passage.source(start, lead.end() + piece.end()),
                size=said.size,
                quantity=int(last["n"]),
                quantity_text=last["n"],
                note=said.note,
                option=option,
            )
        )
    return entries


def list_sentences(text: str) -> tuple[int, int] | None:
    """Start and end of the sentences that list what is supplied by their own words, wherever they stand; None if there are none.

    "In the bag: 7 rings, 9 hooks." and "The box holds 4 clips and 8 bolts." are such; what stands before and behind them is not.
    """
    if len(text) > _LONGEST:
        return None
    if is_tally(text):
        return 0, len(text)
    found: list[tuple[int, int]] = []
    for match in _SENTENCE.finditer(text):
        sentence = match.group().strip()
        lead = vocabulary().list_lead.match(sentence)
        start = match.start() + len(match.group()) - len(match.group().lstrip())
        # The words of the lead belong to the first name: "The white bag has the loops, five of them".
        many = _named(f" has {sentence[lead.end() :]}") if lead is not None else 0
        if lead is None or not many:
            if found:
                break
            continue
        if lead.group().endswith(":") or many > 1:
            found.append((start, match.end()))
    return (found[0][0], found[-1][1]) if found else None


def _bracketed_list(sentence: str) -> tuple[int, int] | None:
    """Where the list stands that a bracket holds behind a heading: "Schedule of parts (tubes: 24 no. legs, 24 no. rafters, 1 no. door)"."""
    match = re.search(r"\((?:[A-Za-z][\w ]{2,30}:\s*)?(?P<list>[^()]{20,})\)", sentence)
    if match is None or _item().search(sentence[: match.start()]) or _item().search(sentence[match.end() :]):
        return None  # what is said in brackets about a part that stands before them
    return match.span("list") if _bare_list(match.group("list"), 3) else None


def _only_container(sentence: str) -> bool:
    """Whether a sentence is no more than the name of a container: "The jam jar.", "In the sack:"."""
    text = sentence.strip(" .:\n")
    return len(text.split()) < 6 and vocabulary().container.search(text) is not None and not _named(text)


def _supplies(sentence: str, bare: int) -> bool:
    """True if a sentence says what is there: a lead such as "you should find", a named bag, or a bare list of numbers and names."""
    words = vocabulary()
    text = sentence.strip()
    if not (_named(text) or _number_behind().search(text)) or _DENIED.search(text) or _OF_A_HOOP.search(text):
        return False
    if words.list_lead.match(text) or words.supply_opening.match(text):
        return True
    lead = words.supply_lead.search(text)
    # "The wrap clips in bag F have a hinge" only speaks of a bag.
    if _BAG.search(text) and (lead or re.match(r"(?:the |in |also in )*bag\b", text, re.IGNORECASE)):
        return True
    container = words.container.search(text)
    if lead and (
        container
        or re.match(r"(?:you|we|there)\b", text, re.I)
        or lead.group().lower().startswith(("you", "we", "there", "suppl", "are suppl"))
    ):
        return True
    return _bare_list(text, bare) or _tells_behind(text)


def _bare_list(text: str, bare: int) -> bool:
    """ "Ten hoop halves, ten ground tubes, four braces." has no verb at all: next to nothing is left when the parts are taken out."""
    if re.match(r"(?:for\s+)?(?:each|every)\b", text, re.IGNORECASE):
        return False  # "Each door clamp: 2 no. set bolts, 2 no. nuts" says what one part takes and not what is in the box
    lead = re.match(r"(?P<lead>(?:[A-Z][a-z]+ [A-Z0-9]{1,2}, )?[A-Za-z][^.:;,]{2,50}?)\s*:\s*", text) if text[:1].isupper() else None
    if lead is not None:
        if role_of(lead.group("lead")) == "tools":
            return False
        bare = 1 if vocabulary().list_lead.match(text) else bare
        text = text[lead.end() :]
    elif (heads := _HEADS.match(text)) is not None:
        text = text[heads.end() :]  # "Tubing and lumber 14 leg tubes, 7 center tubes, …"
    if len(_item().findall(text)) < bare or not (lead or re.match(rf"(?:{number_pattern()})\s", text, re.I)):
        return False
    left = re.sub(r"\([^()]*\)|\band\b|\bin\b", " ", _item().sub(" ", text))
    return len(re.findall(r"[a-z]+", left, re.I)) <= 0.25 * len(text.split())


def _sentence(passage: Passage, start: int, end: int, option: str | None) -> list[PartsEntry]:
    text = passage.text[start:end]
    depth = _brackets(text)
    entries: list[PartsEntry] = []
    at = 0
    behind = [m.span() for m in _number_behind().finditer(text)] if _tells_behind(text) else []
    while (match := _item().search(text, at)) is not None:
        at = match.end()
        if any(match.start() < e and s < match.end() for s, e in behind):
            continue
        if depth[match.start()] or re.search(r"\bin\s+$", text[: match.start()]):
            continue
        loose = _LOOSE.match(match.group("name"))  # "1 roll of tape" is no number of pieces
        said = describe(match.group("name")[loose.end() if loose else 0 :])
        value = number(match.group("n"))
        if not value or not re.search(r"[A-Za-z]{3}", said.name) or vocabulary().container.fullmatch(said.name.split()[-1].rstrip("s")):
            continue
        if said.name.split()[-1].lower() in vocabulary().papers:
            continue
        note, stop = _note(text, match.end())
        at = stop
        entries.append(
            PartsEntry(
                name=said.name,
                source=passage.source(start + match.start(), start + stop),
                code=_code(text, match.start()),
                size=said.size,
                quantity=None if loose else value,
                quantity_text=f"{match.group('n')} {loose.group().strip().removesuffix(' of')}" if loose else match.group("n"),
                note=", ".join(n for n in (said.note, note) if n),
                option=option,
            )
        )
    entries += _counted_between_commas(passage, start, text, option, entries)
    return sorted(entries, key=lambda entry: entry.source.start) or _counted_behind(passage, start, text, option)


def _counted_between_commas(passage: Passage, start: int, text: str, option: str | None, others: Sequence[PartsEntry]) -> list[PartsEntry]:
    """The parts whose number stands behind their name, apart from those of ``others``, whose number stands in front."""
    entries: list[PartsEntry] = []
    for match in (_number_behind() if _tells_behind(text) else _counted_after()).finditer(text):
        said = describe(match.group("name"))
        source = passage.source(start + match.start("name"), start + match.end())
        taken = any(source.start < other.source.end and other.source.start < source.end for other in others)
        if taken or vocabulary().container.fullmatch(said.name.split()[-1].rstrip("s")):
            continue
        entries.append(
            PartsEntry(
                name=said.name,
                source=source,
                size=said.size,
                quantity=number(match.group("n")),
                quantity_text=match.group("n"),
                note=said.note,
                option=option,
                code=_code(text, match.start("name")),
            )
        )
    return entries


def _counted_behind(passage: Passage, start: int, text: str, option: str | None) -> list[PartsEntry]:
    """ "…, braces (4 No.), joint bolts, M8 x 70 (24)": between one number and the next stands a name with what belongs to it."""
    entries: list[PartsEntry] = []
    at = 0
    for match in _COUNT_BEHIND.finditer(text):
        begin = max(at, *(m.end() for m in _NAME_BEGINS.finditer(text, at, match.start())), 0)
        at = match.end()
        name = text[begin : match.start()]
        said = describe(name)
        if not re.search(r"[A-Za-z]{3}", said.name) or len(said.name.split()) > _LONGEST_NAME:
            continue
        entries.append(
            PartsEntry(
                name=said.name,
                source=passage.source(start + begin, start + match.end()),
                size=said.size,
                quantity=int(match.group("n")),
                quantity_text=match.group("n"),
                note=said.note,
                option=option,
                code=_code(text, begin),
            )
        )
    return entries


def _code(text: str, at: int) -> str | None:
    """The letter of the bag named last before a part; None if another part lies between, for then the bag holds several."""
    bags = list(_BAG.finditer(text, 0, at))
    if not bags:
        return None
    between = text[bags[-1].end() : at]
    return bags[-1].group("bag") if not _item().search(between) else None


def _note(text: str, at: int) -> tuple[str, int]:
    """What is said about a part right behind its name: a bracket, a short name, how it comes."""
    bracket = re.match(r"\s*\((?P<inner>[^()]*)\)", text[at:])
    if bracket:
        return bracket.group("inner").strip(), at + bracket.end()
    alias = _ALIAS.match(text, at)
    if alias:
        return alias.group("alias").strip(), alias.end()
    manner = re.match(r"\s+(?P<how>(?:in|with|for|to)\s[^,.;()]*?)(?=\s*(?:,|;|\.|\band\b|$))", text[at:])
    if (manner and not _item().search(manner.group("how"))) or (
        manner and re.match(r"in \w+ (?:lengths|pieces|halves|parts|sections)", manner.group("how"))
    ):
        return manner.group("how").strip(), at + manner.end()
    return "", at


def _brackets(text: str) -> list[int]:
    depth, result = 0, []
    for char in text:
        depth = max(depth + (char in "([") - (char in ")]"), 0)
        result.append(depth)
    return result
