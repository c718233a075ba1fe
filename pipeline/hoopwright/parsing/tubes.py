"""Of which tubes a hoop is made, left foot to right foot: from what the manual says of a hoop and from the parts list's numbers."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from hoopwright.grammar import Grammar
from hoopwright.grammar.hoop_nouns import hoop_nouns
from hoopwright.grammar.inflect import plural
from hoopwright.grammar.load import Sense
from hoopwright.model.outline import Outline
from hoopwright.parsing.kit import Kit
from hoopwright.parsing.lex import lex

_LOWER = {"leg", "side", "lower", "upright", "bottom", "straight", "post", "wall", "stem"}
_HOOP = f"(?:{'|'.join(hoop_nouns())})"
_OTHER_WORDS = tuple(word for word in hoop_nouns() if word != "hoop")  # where the hoops are called something else, a tube of theirs
_UPPER = {"crown", "top", "upper", "roof", "bow", "arch", "rafter", "centre", "center", "middle", "apex", "arc", "curved", "head"}
_OUT = {
    *("ground", "earth", "ridge", "purlin", "brace", "crop", "rail", "post", "door", "bar", "vent", "tie", "base"),
    *("sole", "anchor", "foundation", "film", "winding", "roll", "end", "stake", "socket", "strut", "lintel", "spare"),
}


def own_tubes(
    outline: Outline, grammar: Grammar, kit: Kit, hoops: int | None, hoop_names: frozenset[str], sections: int | None
) -> tuple[tuple[str, str], ...]:
    """(name, side) of a hoop's tubes; empty where neither the parts list nor a sentence tells. ``sections``: of how many it is, if known.

    A word for a hoop that the kit lists as a tube beside another word for the hoop ("two legs and one bow") becomes a tube in ``grammar``.
    """
    demote_hoop_words(grammar, kit, hoop_names, hoops)
    _driven_tubes(outline, grammar, kit)
    _door_uprights(outline, grammar, kit)
    listed = (_arrange(_from_list(kit, grammar, hoops)) or _by_side(_from_list(kit, grammar, hoops), outline)) if hoops else ()
    told = _arrange(_from_sentences(outline, grammar)) if len(listed) < 3 or sections not in (None, len(listed)) else ()
    as_stated = sections is not None and len(told) == sections != len(listed)
    found = told if as_stated or len(told) > len(listed) or (told and len(listed) < 2) else listed
    for name, side in found:
        if name.split()[-1] == "bend":
            _as_tube(grammar, "bend", "centre" if side == "centre" else None, "shoulder")
        elif name in ("crown", "top") and side == "centre" and len(found) > 1:
            _as_tube(grammar, name, side, "ridge")  # "a left leg, a right leg and a crown"
    for name, _ in found if len(found) > 1 and len(hoop_names) > 1 else ():
        bare = name.removeprefix("left ").removeprefix("right ")
        if bare in _OTHER_WORDS and bare in hoop_names:
            _as_tube(grammar, bare, "centre" if sum(n.endswith(bare) for n, _ in found) == 1 else None)
    for name, side in found:
        if (
            (base := name.removeprefix("left ")) != name
            and side == "left"
            and ("right " + base, "right") in found
            and base.split()[-1] in _OTHER_WORDS
            and " " in base
        ):
            for form, number in (
                (base, "one"),
                (plural(base), "many"),
            ):  # "leg bow" beside "center bow", where a bow is the one in the middle
                grammar.senses[form] = [Sense("mem", base, base.split()[-1], number, "tube", None)]
    _either_side(grammar, found)
    _other_tubes(grammar, kit, {name for name, _ in found}, hoops, sections)
    return found


def _either_side(grammar: Grammar, found: tuple[tuple[str, str], ...]) -> None:
    """Where a hoop has a roof tube on the left and one on the right, "the roof tube" is not the one in the middle. Changes ``grammar``."""
    for name, side in found:
        base = name.removeprefix("left ")
        if side == "left" and ("right " + base, "right") in found:
            for form in (base, plural(base)):
                if any(s.role == "tube" and s.side == "centre" for s in grammar.senses.get(form, ())):
                    grammar.senses[form] = [
                        replace(s, side=None) if s.role == "tube" and s.side == "centre" else s for s in grammar.senses[form]
                    ]


def tubes_by_other_names(outline: Outline, grammar: Grammar, hoop_words: frozenset[str]) -> None:
    """Words that no grammar file knows are tubes of the hoop where the manual says "a hoop is two shanks and a bend". Changes ``grammar``."""
    hoop = "|".join(sorted(hoop_words)) or "hoop"
    told = re.compile(
        rf"\b(?:an?|each|every|the) (?:{hoop}) (?:is|has|comes in|consists of|comprises|is (?:made|built|put together|assembled|composed|formed)(?: up)? (?:of|from|out of))\b(?P<rest>[^.;]+)",
        re.IGNORECASE,
    )
    listed = {entry.name.lower().split()[-1].removesuffix("s") for entry in outline.parts if entry.name}
    per = re.compile(
        rf"\b(?:tubes|pieces|parts|sections|pipes|members|lengths) (?:per|in|of|to) (?:an? |each |one |every )?(?:{hoop})\b(?P<rest>[^.;]+)",
        re.IGNORECASE,
    )
    for text in _texts(outline):
        for match in (*told.finditer(text), *per.finditer(text)):
            for piece in re.finditer(
                r"\b(?:(?:an?|one|two|three|four|[1-4]) (?P<a>(?:left|right)[ -])?|the (?P<b>(?:left|right)[ -]))(?:(?:straight|bent|curved|arched|bowed|long|short|upright|plain) )?(?P<word>[a-z]{3,}?)(?P<many>s?)\b(?= ?(?:[,.:;(\[)]|and\b|that\b|which\b|of\b|joined\b|left\b|on\b|$))",
                match["rest"],
            ):
                word = piece["word"].lower()
                known = {*grammar.senses, *grammar.words["numbers"]}
                sided = piece["a"] or piece["b"]  # "a left post, a roof bow and a right post": also of a word that means something else
                if not sided and (word in known or word + "s" in known or (word not in listed and not piece["many"])):
                    continue
                if sided and word not in listed:
                    continue  # "a left one and a right one"
                if sided and any(s.role in ("tube", "hoop", "joint", "foot", "end", "side") for s in grammar.senses.get(word, ())):
                    continue
                for form, number in ((word, "one"), (word + "s", "many")):
                    grammar.senses[form] = [Sense("mem", word, word, number, "tube", None)]


def _texts(outline: Outline) -> Iterator[str]:
    """The running text of every step, and the rows of its tables as "head: value"."""
    for step in outline.steps:
        yield step.text
        for item in step.items:
            if item.table is not None:
                yield from (": ".join(cell.text for cell in row if cell.text) for row in item.table.rows)


def ends_by_other_names(outline: Outline, grammar: Grammar) -> None:
    """ "Inches 'from the boot' are measured along the limb from its lower end": the manual's word for a foot. Changes ``grammar``."""
    told = re.compile(
        r"[\"“‘'](?:up )?(?:from|above) the (?P<word>[a-z]+)[\"”’'],? (?:\w+ ){1,3}(?:measured|taken|along|up|taped)\b[^.;]*?\bfrom (?:its|the) (?:lower|bottom) end\b"
        r"|\bthe (?P<other>[a-z]+) (?:is|being|means) (?:its|the) (?:lower|bottom) end of (?:an?|the|each) \w+",
        re.IGNORECASE,
    )
    for text in _texts(outline):
        for match in told.finditer(text):
            word = (match["word"] or match["other"]).lower()
            if grammar.senses.get(word) or grammar.senses.get(word + "s"):
                continue
            for form, number in ((word, "one"), (word + "s", "many")):
                grammar.senses[form] = [Sense("mem", "foot", word, number, "foot", None)]


def joints_by_other_names(outline: Outline, grammar: Grammar) -> None:
    """ "A shank and a head meet in the neck", "elbow = where a lower meets an upper": a joint's own name. Changes ``grammar``."""
    told = re.compile(
        r"\b(?:an?|the|each|two|both) [a-z ]{3,30}? (?:meets?|joins?|are joined|come together|touch) (?:[a-z ]{0,20})?(?:in|at) (?:the|an?) (?P<a>[a-z]{3,})\b(?! (?:joint|of)\b)"
        r"|\b(?P<b>[a-z]{3,})s? (?:=|is|are|means) (?:the )?(?:place |point |spot )?where (?:an?|the|two|both) [a-z ]{3,30}? (?:meets?|joins?|touch)",
        re.IGNORECASE,
    )
    for text in _texts(outline):
        for match in told.finditer(text):
            word = (match["a"] or match["b"]).lower().removesuffix("s")
            if grammar.senses.get(word) or grammar.senses.get(word + "s") or word in ("top", "middle", "centre", "center"):
                continue
            for form, number in ((word, "one"), (word + "s", "many")):
                grammar.senses[form] = [Sense("mem", "joint", word, number, "joint", None)]


def _other_tubes(grammar: Grammar, kit: Kit, own: set[str], hoops: int | None, sections: int | None) -> None:
    """A listed tube that is none of the hoop's, and not so many to a hoop, is a bar: an "apex tube" in four lengths."""
    mine = {n.removeprefix("left ").removeprefix("right ") for n in own}
    for name, listed in kit.members.items():
        if (len(own) < 2 and sections != 1) or len(name.split()) < 2 or name in mine or not hoops or not listed or listed % hoops == 0:
            continue
        head = name.split()[-1]
        for form, number in ((name, "one"), (name + "s", "many")):
            if any(s.role == "tube" for s in grammar.senses.get(form, ())):
                grammar.senses[form] = [s for s in grammar.senses[form] if s.role != "tube"] + [
                    Sense("mem", name, head, number, "bar", None)
                ]


def demote_hoop_words(grammar: Grammar, kit: Kit, hoop_names: frozenset[str], hoops: int | None) -> None:
    """Where the manual has another word for a hoop, a listed "bow", "arch" or "rib" is a tube of it: two to a hoop, or one beside legs."""
    for name, listed in kit.members.items():
        head = name.split()[-1]
        if head in _OTHER_WORDS and len(hoop_names) > 1 and len(name.split()) == 1:
            per = listed // hoops if listed and hoops and listed % hoops == 0 else 0
            if head not in hoop_names or not (per >= 2 or "hoop" in hoop_names):
                continue
            _as_tube(grammar, head, "centre" if per < 2 else None)
        elif head in _OTHER_WORDS and len(hoop_names) > 1 and head in hoop_names and set(name.split()[:-1]) & _UPPER and listed == hoops:
            _as_tube(grammar, head, "centre")  # "center arch" beside "side leg", where the hoops are bows


def frames_are_hoops(grammar: Grammar) -> None:
    """In a manual whose hoops are called frames, "frame" is a hoop, and a "roof bow" one of its tubes. Changes ``grammar``."""
    for form in ("frame", "frames"):
        senses = grammar.senses.get(form, [])
        grammar.senses[form] = [replace(s, role="hoop") if s.role == "hoop-maybe" else s for s in senses]
    for word in _OTHER_WORDS:
        _as_tube(grammar, word, "centre")


def _as_tube(grammar: Grammar, word: str, side: str | None, instead: str = "hoop") -> None:
    """From here on ``word`` means a tube of the hoop, and nothing of the role ``instead``."""
    for form, number in ((word, "one"), (plural(word), "many")):
        grammar.senses[form] = [s for s in grammar.senses.get(form, []) if s.role != instead]
        grammar.senses[form].insert(0, Sense("mem", "bow tube", word, number, "tube", side))


def _driven_tubes(outline: Outline, grammar: Grammar, kit: Kit) -> None:
    """Listed tubes that the manual drives into the ground carry the hoops and are none of theirs: "foot tubes". Changes ``grammar``."""
    for name in kit.members:
        head = name.split()[-1]
        if len(name.split()) < 2 or head not in _GENERAL or set(name.split()) & _OUT:
            continue
        tube = rf"{re.escape(name)}s?\b"
        driven = re.compile(
            rf"\b{tube}(?: \([^)]*\))? (?:is|are|being|to be) (?:\w+ )?(?:driven|hammered|knocked|sunk|rammed|dug|pounded|beaten)\b"
            rf"|\b(?:drive|hammer|knock|sink|ram|dig|pound|beat)s? (?:in |down )?(?:the |an? |one |each |every |all |\w+ )?{tube}",
            re.IGNORECASE,
        )
        if any(driven.search(text) for step in outline.steps for text in (step.text, step.title or "")):
            for form, number in ((name, "one"), (plural(name), "many")):
                grammar.senses[form] = [Sense("mem", name, head, number, "other")]


def _door_uprights(outline: Outline, grammar: Grammar, kit: Kit) -> None:
    """Where the list has uprights for the door and none for the hoops, or a frame has uprights, "the left upright" is one of the door's."""
    uprights = [n for n in kit.members if n.split()[-1] == "upright"]
    if not uprights and any(
        re.search(r"\buprights? of (?:the|its|each|a) (?:door )?frame\b", step.text, re.IGNORECASE) for step in outline.steps
    ):
        uprights = ["door upright"]
    if uprights and all(set(n.split()) & _OUT for n in uprights):
        for form, number in (("upright", "one"), ("uprights", "many")):
            grammar.senses[form] = [s for s in grammar.senses.get(form, []) if s.role != "tube"]
            grammar.senses[form].insert(0, Sense("mem", uprights[0], "upright", number, "other", None))


def _from_list(kit: Kit, grammar: Grammar, hoops: int) -> dict[str, int]:
    counts: dict[str, int] = {}
    for name, listed in kit.members.items():
        words = name.split()
        role = next((s.role for k in range(len(words)) for s in grammar.senses.get(" ".join(words[k:]), ()) if s.kind == "mem"), "")
        own = any(s.role == "tube" for s in grammar.senses.get(name, ()))  # "post", where the manual says that a frame has two
        if role == "ridge" and listed == hoops and len(words) == 1:
            role = "tube"  # "crown, 42 mm: 6" among the tubes of six hoops
        if role not in ("tube", "hoop") or not listed or listed % hoops or listed // hoops > 4 or (set(words) & _OUT and not own):
            continue
        bare = re.sub(r"^(?:left|right)(?:[ -]hand)? ", "", name)  # "left limb" and "right limb" are a pair
        counts[bare] = counts.get(bare, 0) + listed // hoops
    return counts


_SIZE_OF_TUBE = re.compile(
    r"(?:\bØ\s*(?P<a>[\d.,]+)|(?P<b>[\d.,]+)\s*(?P<u>mm|in)?\.?\s*(?:\([^)]*\)\s*)?(?:outside diameter|outer diameter|o\.?d\b|dia\b|diameter|(?:\w+ )?(?:tube|pipe)s?\b))",
    re.IGNORECASE,
)


def tube_sizes(kit: Kit, names: tuple[str, ...], hoop_words: frozenset[str]) -> tuple[tuple[str, float], ...]:
    """(name without its side, outside diameter in mm) of the hoop's tubes, as far as the parts list prints one."""
    own = {n.removeprefix("left ").removeprefix("right ") for n in names} | set(hoop_words)
    found = []
    for name, size in kit.member_sizes.items():
        if name in own or any(name.endswith(f" {n}") and not set(name.split()) & _OUT for n in own):
            across = next((float(t.value) for t in lex(size) if t.cat == "len" and 15 <= float(t.value) <= 130), None)
            if across is not None:
                found.append((name, across))
    return tuple(found)


def tube_size(outline: Outline, kit: Kit, names: tuple[str, ...], hoop_words: frozenset[str]) -> float | None:
    """Outside diameter of the hoop's tube in mm, from the list's entries for it or from the sentence that says what a hoop is made of."""
    own = {n.removeprefix("left ").removeprefix("right ") for n in names} | set(hoop_words)
    listed = {size for _, size in tube_sizes(kit, names, hoop_words)}
    if listed:
        return listed.pop() if len(listed) == 1 else None
    words = re.compile(rf"\b(?:{'|'.join(sorted(own)) or 'hoop'})s?\b", re.IGNORECASE)
    for step in outline.steps:
        if outline.section(step.section).role not in ("intro", "other", "summary"):
            continue
        for sentence in re.split(r"(?<=[.;])\s", step.text):
            found = _SIZE_OF_TUBE.search(sentence)
            if found is None or not words.search(sentence):
                continue
            try:
                value = float((found["a"] or found["b"]).replace(",", ".").rstrip("."))
            except ValueError:
                continue
            value *= 25.4 if (found["u"] or "").lower() == "in" else 1.0
            if 15 <= value <= 130:
                return value
    return None


_EACH = re.compile(
    rf"\b(?:each|every|an?|one|the)\b[^.;:|]{{0,40}}?\b{_HOOP}s?\b|^{_HOOP}s?(?=\s*[:=])"
    rf"|^(?:tubes|sections|pieces|parts) (?:in|of|to|per) (?:a|each|every|one) {_HOOP}\b",
    re.IGNORECASE,
)


# "Two uprights and one crown make an arch"
_MAKE = re.compile(
    rf"^(?P<tubes>[^.;:]{{8,80}}?) (?:makes?|forms?|gives?|go to make)(?: up)? (?:an?|one|each|every) {_HOOP}\b", re.IGNORECASE
)
_NOUNS = ("tube", "section", "piece", "pipe", "leg", "bow", "arch", "half", "halves", "upright", "rib", "rafter", "crown", "bend", "curve")


_GENERAL = frozenset({"tube", "section", "piece", "pipe"})


def _from_sentences(outline: Outline, grammar: Grammar) -> dict[str, int]:
    numbers = grammar.words["numbers"]
    known = {
        word for word, senses in grammar.senses.items() if " " not in word and any(s.kind == "mem" and s.role == "tube" for s in senses)
    }
    nouns = "|".join(sorted({*_NOUNS, *(re.escape(word.removesuffix("s")) for word in known)}, key=len, reverse=True))
    pattern = re.compile(
        rf"\b(a|an|one|two|three|four|1|2|3|4)\s+(?:no\.?\s+|nos\.?\s+|off\s+|x\s+)?((?:[a-z-]+\s+){{0,2}}?(?:{nouns})s?)\b", re.IGNORECASE
    )
    for step in outline.steps:
        for item in step.items:
            texts = [item.passage.text]
            if item.table is not None:
                texts = [" ".join(c.text for c in row) for row in item.table.rows]
            for text in texts:
                for sentence in re.split(r"(?<=[.;])(?<!\bno\.)(?<!\bnos\.)\s", text):
                    if (
                        not _EACH.search(sentence)
                        or not re.search(
                            r"\b(?:makes?|forms?|made|consists?|comes?|of|put together|assembled|built|each hoop|each bow|each arch|has)\b|^\w+s?\s*[:=]|^(?:tubes|sections|pieces|parts) ",
                            sentence,
                            re.IGNORECASE,
                        )
                        or len(sentence) > 260
                    ):
                        continue
                    start = _EACH.search(sentence)
                    assert start is not None
                    made = _MAKE.match(sentence)
                    tail = made["tubes"] if made is not None and ":" not in sentence[made.end() :] else sentence[start.end() :]
                    if made is not None and ":" in tail:
                        tail = tail.split(":", 1)[1]  # "Four tubes make one arch: a leg and a roof tube on the left, …"
                    if ":" in tail and re.search(r"\b(?:tubes|sections|pieces|pipes|parts|lengths)\b", tail.split(":")[0]):
                        tail = tail.split(":", 1)[1]
                    tail = re.split(
                        rf"\b(?:i\.e|that is|in all|joined|with(?! (?:an?|one|the) (?:[a-z-]+ )?(?:{nouns})\b)|held)\b", tail, maxsplit=1
                    )[0]
                    found: dict[str, int] = {}
                    for m in pattern.finditer(tail):
                        n = int(m[1]) if m[1].isdigit() else numbers.get(m[1].lower(), 1)
                        name = re.sub(r"\bhalves$", "half", m[2].lower())
                        name = name[:-1] if name.endswith("s") and not name.endswith("ss") else name
                        if set(name.split()) & _OUT:
                            continue
                        side = next((w for w in name.split() if w in ("left", "right")), None)
                        if side:
                            name = " ".join(w for w in name.split() if w != side)
                        found[name] = found.get(name, 0) + n
                    for general in _GENERAL & set(found):
                        if len(found) > 1 and found[general] == sum(found.values()) - found[general]:
                            del found[general]  # "two tubes, a left half and a right half"
                    found = found or _named_in_turn(tail, nouns)
                    if 2 <= sum(found.values()) <= 6 and len(found) >= 2:
                        return found
    return {}


def _named_in_turn(tail: str, nouns: str) -> dict[str, int]:
    """How many of each in "left leg, left bend, right bend, right leg."; empty for anything but such a list."""
    found: dict[str, int] = {}
    for item in re.split(r",\s*(?:and\s+)?|\s+and\s+", tail.strip(" .:;")):
        match = re.fullmatch(rf"(?:(?:the|a|one)\s+)?(?:left|right)\s+((?:[a-z-]+\s+)?(?:{nouns}))", item.strip(), re.IGNORECASE)
        if match is None:
            return {}
        found[match[1].lower()] = found.get(match[1].lower(), 0) + 1
    return found


def _by_side(counts: dict[str, int], outline: Outline) -> tuple[tuple[str, str], ...]:
    """Two unlike tubes that the manual puts left and right: "The long arm stands on the left … and the short arm comes up on the right"."""
    if len(counts) != 2 or set(counts.values()) != {1}:
        return ()
    text = " ".join(word for step in outline.steps for word in step.text.lower().split())
    sides: dict[str, str] = {}
    for name in counts:
        match = re.search(rf"\b(?:the|each|every|an?) {re.escape(name)}\b[^.;:]{{0,40}}?\b(?:on|at|to) (?:the|your) (left|right)\b", text)
        if match is not None:
            sides[name] = match[1]
    if set(sides.values()) != {"left", "right"}:
        return ()
    return tuple((name, side) for side in ("left", "right") for name, told in sides.items() if told == side)


def _arrange(counts: dict[str, int]) -> tuple[tuple[str, str], ...]:
    """Pairs stand left and right, the lower ones outside; a single one is in the middle."""
    pairs = [n for n, c in counts.items() if c == 2]
    singles = [n for n, c in counts.items() if c == 1]
    if not counts or len(singles) > 1 or any(c > 2 for c in counts.values()):
        total = sum(counts.values())
        if len(counts) == 1 and total > 2:
            name = next(iter(counts))
            return tuple(
                (f"{name} {k + 1}", "left" if k < (total - 1) / 2 else "right" if k > (total - 1) / 2 else "centre") for k in range(total)
            )
        return ()
    pairs.sort(key=lambda n: 0 if set(n.split()) & _LOWER else 2 if set(n.split()) & _UPPER else 1)
    left = [(f"left {n}", "left") for n in pairs]
    right = [(f"right {n}", "right") for n in reversed(pairs)]
    middle = [(n, "centre") for n in singles]
    return (*left, *middle, *right)
