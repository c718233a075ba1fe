"""Names of a manual's own for some of its hoops: letters in a table ("Type E: hoops 1 and 10"), nouns ("we call these two the gables")."""

from __future__ import annotations

import re

from hoopwright.grammar import Grammar
from hoopwright.grammar.inflect import plural
from hoopwright.grammar.load import Sense
from hoopwright.model.events import Selector
from hoopwright.model.outline import Outline
from hoopwright.parsing import gates
from hoopwright.parsing.chunk import number_list
from hoopwright.parsing.gates import gated
from hoopwright.parsing.lex import lex
from hoopwright.parsing.sentences import sentences

_KIND = r"(?:type|kind|class|group|set|pattern)"
_REST = gated(r"\b(?:others?|rest|remaining|remainder)\b", re.IGNORECASE)


def hoop_types(outline: Outline, hoop_words: frozenset[str], hoops: int | None, numbers: dict[str, int]) -> dict[str, tuple[int, ...]]:
    """Letter -> hoop numbers, from tables with a column of letters and a column that says which hoops. Empty if there is none."""
    found: dict[str, tuple[int, ...]] = {}
    rest: list[str] = []
    for step in outline.steps:
        for item in step.items:
            if item.table is None or len(item.table.head) < 2:
                continue
            head = [cell.lower() for cell in item.table.head]
            kind = next((k for k, cell in enumerate(head) if gates.search(rf"\b{_KIND}\b", cell)), None)
            which = next(
                (k for k, cell in enumerate(head) if k != kind and any(gates.search(rf"\b{word}s?\b", cell) for word in hoop_words)), None
            )
            if kind is None or which is None:
                continue
            for row in item.table.rows:
                if len(row) <= max(kind, which):
                    continue
                letter = re.fullmatch(
                    r"\W*([A-Za-z0-9]{1,2})(?:\W*|[,:=]?\s+[(–-]?\s*[a-z -]+\W*)", row[kind].text.strip()
                )  # "E", "E, end"
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


def hoop_letter(outline: Outline, hoop_words: frozenset[str], hoops: int | None) -> str:
    """The letter that a manual puts before a hoop's number ("6 ribs, called R1 to R6", "R1 is the rib with the door"); empty if none."""
    words = "|".join(sorted(hoop_words)) or "hoop"
    told = re.compile(
        rf"\b(?:(?:{words})s?\b[^.|]{{0,40}}?(?P<a>[A-Z])-?1 ?(?:to|–|-|through|…) ?(?P=a)-?(?P<last>\d+)\b|(?P<b>[A-Z])-?1 is the (?:\w+ )?(?:{words})\b)",
        re.IGNORECASE,
    )
    said = re.compile(
        rf"\b(?P<c>[a-z])-?1 ?(?:to|–|-|through|…) ?(?P=c)-?(?P<last>\d+) ?(?:=|are|is|:) ?(?:the )?(?:\w+ )?(?:{words})s?\b", re.IGNORECASE
    )
    for step in outline.steps:
        for named in said.finditer(step.text):
            if hoops in (None, int(named["last"])):
                return named["c"]  # "h1 to h5 = the hoops"
        rows = [" ".join(cell.text for cell in row) for item in step.items if item.table is not None for row in item.table.rows]
        for text in (step.text, *rows):
            match = told.search(text)
            letter = (match["a"] or match["b"]) if match is not None else ""
            if match is not None and letter.isupper() and (match["last"] is None or hoops in (None, int(match["last"]))):
                return letter
    return ""


def spell_letter(text: str, letter: str, hoop_words: frozenset[str]) -> str:
    """``text`` with "R2 and R5" as "hoops 2 and 5", in the manual's word for a hoop."""
    if not letter:
        return text
    word = min(hoop_words, default="hoop")
    number = rf"{letter}-?(\d{{1,2}})"
    several = re.compile(rf"\b{number}(?:(?:, | and | or |, and | & | to | ?– ?|-){number})+\b")
    text = several.sub(lambda match: f"{plural(word)} " + re.sub(rf"\b{letter}-?(?=\d)", "", match[0]), text)
    return re.sub(rf"\b{number}\b", rf"{word} \1", text)


_HASHED = re.compile(
    r"(?P<before>\b[a-z]+ |[,&] ?)#(?P<n>\d{1,3})\b(?!\s?[x×/-]|[.,]\d| ?(?:[a-z-]+ ){0,2}(?:screw|bolt|nail|tapper|tek|pin|rivet)s?\b)",
    re.IGNORECASE,
)


def spell_hashed(text: str, hoop_words: frozenset[str], hoops: int | None) -> str:
    """``text`` with "Bows #1 and #8" as "Bows 1 and 8"; "a clip #2" of a coded list and "#10 x 1 in screws" stay."""
    words = "|".join(sorted(hoop_words)) or "hoop"
    if "#" not in text or not gates.search(rf"\b(?:{words})(?:s|es)? (?:from )?#\d", text, re.IGNORECASE):
        return text
    named = re.compile(rf"(?:{words})(?:s|es)? |(?:and|or|to|through|from|thru|number) |[,&] ?", re.IGNORECASE)

    def plain(match: re.Match[str]) -> str:
        return f"{match['before']}{match['n']}" if named.fullmatch(match["before"]) and int(match["n"]) <= (hoops or 99) else match[0]

    return _HASHED.sub(plain, text)


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


_NAMES_THEM = gated(
    r"\b(?:we(?: shall| will)? call (?:them|these|those|both|the) ?(?:two )?|(?:these|those|they)(?: two)? are (?:called|known as|named|the) ?)"
    r"(?:(?:of them|hoops) )?(?:the )?(?P<noun>[a-z]{4,})s\b(?! (?:and|or|of) )"
)


def group_nouns(outline: Outline, grammar: Grammar, hoop_words: frozenset[str], hoops: int | None) -> dict[str, tuple[int, ...]]:
    """Noun in the singular -> hoop numbers: "Arch 1 is at the front. Arch 9 is at the back. We call these two the gables."

    Only nouns count that mean nothing else in the manual's grammar. Empty where no sentence names some hoops so.
    """
    found: dict[str, tuple[int, ...]] = {}
    for step in outline.steps:
        for item in step.items:
            text = item.passage.text.lower()
            before: list[tuple[int, ...]] = []
            for start, end in sentences(text):
                sentence = text[start:end]
                match = _NAMES_THEM.search(sentence)
                noun = match["noun"] if match is not None else ""
                if match is not None and noun not in hoop_words and noun not in grammar.senses and noun + "s" not in grammar.senses:
                    named = [n for told in (*before[-2:], _numbers(sentence[: match.start()], grammar, hoop_words, hoops)) for n in told]
                    if len(named) > 1:
                        found[noun] = tuple(dict.fromkeys(named))
                before.append(_numbers(sentence, grammar, hoop_words, hoops))
    return found


_NAMES_THOSE = gated(
    r"\b(?:(?:we|you)(?: shall| will)? call|(?:is|are) (?:called|named|known as))\b(?P<rest> (?:all )?(?:the )?(?:rest|others?|remaining (?:ones|\w+)))?[^.;\"“”]{0,25}?"
    r"[\"“](?P<phrase>[a-z][a-z -]{3,30})[\"”]"
    r"|\b(?P<rest2>(?:the )?(?:rest|others?|remaining (?:ones|\w+))) (?:is|are) (?:called|named|known as|our)? ?[\"“](?P<phrase2>[a-z][a-z -]{3,30})[\"”]"
)


def group_phrases(outline: Outline, grammar: Grammar, hoop_words: frozenset[str], hoops: int | None) -> dict[str, tuple[int, ...]]:
    """Phrase in small letters -> hoop numbers: "The first is the door hoop, the seventh the back hoop, and we call the rest 'the five between'"."""
    found: dict[str, tuple[int, ...]] = {}
    for step in outline.steps if hoops else ():
        for item in step.items:
            text = item.passage.text.lower()
            before: list[tuple[int, ...]] = []
            for start, end in sentences(text):
                sentence = text[start:end]
                match = _NAMES_THOSE.search(sentence)
                named = [n for told in (*before[-2:], _numbers(sentence, grammar, hoop_words, hoops)) for n in told]
                phrase = (match["phrase"] or match["phrase2"] or "").removeprefix("the ") if match is not None else ""
                if match is not None and named and len(phrase.split()) > 1:
                    rest = bool(match["rest"] or match["rest2"])
                    found[phrase] = tuple(n for n in range(1, (hoops or 0) + 1) if n not in named) if rest else tuple(dict.fromkeys(named))
                before.append(_numbers(sentence, grammar, hoop_words, hoops))
    return {phrase: numbers for phrase, numbers in found.items() if numbers}


def names_of_hoops(outline: Outline, hoop_words: frozenset[str], hoops: int | None) -> dict[str, int]:
    """Word in small letters -> hoop number, from a table that gives each hoop a colour or another name of its own."""
    found: dict[str, int] = {}
    for table in (item.table for step in outline.steps for item in step.items if item.table is not None):
        head = [cell.lower().strip(" .:") for cell in table.head]
        if not head or head[0].rstrip("s") not in {word.rstrip("s") for word in hoop_words} or len(table.rows) != hoops:
            continue
        if [row[0].text.strip() for row in table.rows if row] != [str(n) for n in range(1, len(table.rows) + 1)]:
            continue
        for k in range(1, len(head)):
            names = [row[k].text.strip().lower() for row in table.rows if k < len(row)]
            if len(set(names)) == len(table.rows) and all(re.fullmatch(r"[a-z]{3,}", name) for name in names):
                found |= {name: n for n, name in enumerate(names, 1)}
    return found


def spell_names(text: str, names: dict[str, int], hoop_words: frozenset[str]) -> str:
    """``text`` with hoops that are called by names of their own ("yellow and green arch", "from orange up to red") told by number."""
    if not names:
        return text
    one, hoop = "|".join(map(re.escape, names)), "|".join(sorted(hoop_words)) or "hoop"
    word = min(hoop_words, default="hoop")
    join = r",? and |, | or | & | to "

    def numbered(listed: str) -> str:
        told = re.sub(rf"\b(?:{one})\b", lambda match: str(names[match[0].lower()]), listed, flags=re.IGNORECASE)
        return f"{plural(word) if re.search(join, listed) else word} {told}"

    text = re.sub(
        rf"\b(?:the )?(?P<list>(?:{one})(?:(?:{join})(?:the )?(?:{one}))*) (?:{hoop})(?:s|es)?\b",
        lambda m: numbered(m["list"]),
        text,
        flags=re.IGNORECASE,
    )
    text = re.sub(rf"\b(?P<list>(?:{one})(?:(?:{join})(?:{one})){{2,}})\b", lambda m: numbered(m["list"]), text, flags=re.IGNORECASE)
    return re.sub(
        rf"\bfrom (?:the )?(?P<a>{one})(?P<way> (?:up |down |back |across )?to )(?:the )?(?P<b>{one})\b",
        lambda m: f"from {numbered(m['a'])}{m['way']}{numbered(m['b'])}",
        text,
        flags=re.IGNORECASE,
    )


def spell_phrases(text: str, phrases: dict[str, tuple[int, ...]], hoop_words: frozenset[str]) -> str:
    """``text`` with the manual's own names for some hoops ("the five between") told by number."""
    word = min(hoop_words, default="hoop")
    for phrase, numbers in phrases.items():
        told = f"{plural(word)} {', '.join(map(str, numbers[:-1]))} and {numbers[-1]}" if len(numbers) > 1 else f"{word} {numbers[0]}"
        text = re.sub(rf"[\"“]?\b(?:(?:all|both) )?(?:the |these )?{re.escape(phrase)}\b[\"”]?", told, text, flags=re.IGNORECASE)
    return text


def _numbers(sentence: str, grammar: Grammar, hoop_words: frozenset[str], hoops: int | None) -> tuple[int, ...]:
    """The hoops that a sentence names by number or ordinal."""
    words = "|".join(sorted(hoop_words)) or "hoop"
    numbers, ordinals = grammar.words["numbers"], grammar.words["ordinals"]
    found: list[int] = []
    for match in gates.finditer(rf"\b(?:(?P<ordinal>[a-z-]+) (?:{words})s?\b(?! \d)|(?:{words})s? (?=\w))", sentence):
        if match["ordinal"] in grammar.words["hoops"]["first"]:
            found.append(1)
        elif match["ordinal"] in grammar.words["hoops"]["last"]:
            found += [hoops] if hoops else []
        elif match["ordinal"] is None:
            found += number_list(lex(sentence[match.end() :][:40]), 0, numbers)[0]
        elif match["ordinal"] in ordinals:
            n = ordinals[match["ordinal"]]
            found += [n] if n > 0 else [hoops + 1 + n] if hoops else []
    return tuple(found)


def name_groups(grammar: Grammar, nouns: dict[str, tuple[int, ...]]) -> dict[str, Selector]:
    """Makes each noun a word for hoops in ``grammar``; the selector that each stands for."""
    for noun in nouns:
        for form, number in ((noun, "one"), (plural(noun), "many")):
            grammar.senses.setdefault(form, []).insert(0, Sense("mem", noun, noun, number, "hoop", None))
    return {noun: Selector("numbers", numbers, text=noun) for noun, numbers in nouns.items()}
