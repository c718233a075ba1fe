"""The kit's own dictionary: the parts list's names, codes and sizes, and how a mention in a sentence finds its part."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace

from hoopwright.grammar import Grammar
from hoopwright.grammar.inflect import plural
from hoopwright.grammar.load import Sense
from hoopwright.model.frame import Part
from hoopwright.model.outline import Outline, PartsEntry
from hoopwright.parsing import gates
from hoopwright.parsing.gates import gated
from hoopwright.parsing.lex import lex

_NOISE = {
    *("of", "the", "a", "an", "and", "with", "for", "to", "item", "bag", "part", "no", "nos", "off", "pcs"),
    *("type", "ref", "spare", "spares", "supplied", "extra", "dia", "diam", "diameter", "lg", "thk", "nom"),
    *("od", "id", "approx"),
}
_CUT = re.compile(
    r"\s*(?:[,;:(]|\s[-–—]\s|\bwith\b|\bfor\b|\bto suit\b|\bto fit\b|\bincl|\bc/w\b|\bw/|\bwhich\b|\bthat\b|\bin (?:the|two|three|four|one|zinc|steel)\b|\bof\s+\d|\bfrom\b)",
    re.IGNORECASE,
)
_KNOWN_AS = gated(r"which we (?:call|shall call|will call)|called|known as|\bor\b", re.IGNORECASE)


def singular(word: str, grammar: Grammar) -> str:
    """The singular of a noun: from the grammar where it knows it, else by the spelling rules."""
    for sense in grammar.senses.get(word, ()):
        if sense.kind in ("fit", "mem") and sense.form == "many":
            return sense.word.split()[-1]
        if sense.kind in ("fit", "mem"):
            return word
    if len(word) > 3 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 3 and word.endswith(("ches", "shes", "xes", "sses")):
        return word[:-2]
    if len(word) > 3 and word.endswith("s") and not word.endswith(("ss", "us")):
        return word[:-1]
    return word


@dataclass
class Kit:
    """Parts by name, with the words of each; ``members`` are the list's tubes, posts and boards with their numbers."""

    grammar: Grammar
    parts: dict[str, Part] = field(default_factory=dict)
    words: dict[str, tuple[str, ...]] = field(default_factory=dict)  # part -> its words, head last
    codes: dict[str, str] = field(default_factory=dict)  # code -> part
    member_codes: dict[str, str] = field(default_factory=dict)
    members: dict[str, int | None] = field(default_factory=dict)
    heads: dict[str, list[str]] = field(default_factory=dict)  # head word -> parts
    aliases: dict[tuple[str, ...], str] = field(default_factory=dict)
    twins: set[tuple[str, ...]] = field(default_factory=set)
    member_sizes: dict[str, str] = field(default_factory=dict)
    has_list: bool = False

    def add(self, part: Part, words: tuple[str, ...]) -> None:
        """Take ``part`` in under its name."""
        self.parts[part.name] = part
        self.words[part.name] = words
        if words in self.twins or self.aliases.get(words, part.name) != part.name:
            self.twins.add(words)  # only the size tells them apart
            self.aliases.pop(words, None)
        else:
            self.aliases[words] = part.name
        if part.is_fitting:
            self.heads.setdefault(words[-1], []).append(part.name)
        if part.code:
            (self.codes if part.is_fitting else self.member_codes)[part.code.upper()] = part.name

    def head(self, name: str) -> str:
        """The head word of a part: "nut" of "hex nut 5/16 in"."""
        return self.words[name][-1] if name in self.words else name.split()[-1]

    def resolve(self, words: tuple[str, ...], size: str | None = None) -> tuple[str, ...]:
        """Names of the parts that a mention may mean, best first. ``words`` are singular, the head last. Empty if the kit has none."""
        if words in self.aliases and (not size or self._sized(self.aliases[words], size)):
            return (self.aliases[words],)
        head = words[-1]
        said = set(words)
        fits = []
        for name in self.heads.get(head, ()):
            own = set(self.words[name])
            if said <= own or (own <= said and len(own) > 1):
                fits.append((len(own ^ said), name))
        if size:
            sized = [f for f in fits if self._sized(f[1], size)]
            fits = sized or fits
        fits.sort(key=lambda item: item[0])
        if fits and fits[0][0] == 0 and len([f for f in fits if f[0] == 0]) == 1:
            return (fits[0][1],)
        return tuple(name for _, name in fits)

    def _sized(self, name: str, size: str) -> bool:
        squeeze = re.sub(r"[^0-9a-z/.]", "", size.lower())
        have = re.sub(r"[^0-9a-z/.]", "", (self.parts[name].size_text or "").lower())
        return bool(have) and (squeeze in have or have in squeeze)


def split_name(entry_name: str, grammar: Grammar) -> tuple[tuple[str, ...], str]:
    """(words of the name, singular, head last; what was cut off) of a description as printed in a list."""
    text = entry_name.strip()
    cut = _CUT.search(text)
    main, rest = (text[: cut.start()], text[cut.start() :]) if cut and cut.start() > 0 else (text, "")
    words = _words(main, grammar)
    if len(words) == 1 and rest.lstrip().startswith(","):
        # "Clip, ridge": the list puts the head word first
        after = _words(re.split(r"[,;(]", rest.lstrip(" ,"), maxsplit=1)[0], grammar)
        stated = {w for phrase, _ in grammar.stated_forms for w in phrase.split()}
        if 0 < len(after) <= 2 and not set(after) & stated:
            words = (*after, *words)
    return words, rest


def _words(text: str, grammar: Grammar) -> tuple[str, ...]:
    out = [
        tok.low for tok in lex(text) if tok.cat == "word" and tok.low not in _NOISE and not re.fullmatch(r"[a-z]{1,3}-?\d+[a-z]?", tok.low)
    ]
    if out:
        out[-1] = singular(out[-1], grammar)
    if len(out) > 2 and out[-1] == "length":
        del out[-1]  # "film channel lengths": so many pieces of film channel
    return tuple(out)


def size_of(entry: PartsEntry) -> str | None:
    """The size printed with a part, from its own column or its name."""
    if entry.size:
        return entry.size
    for tok in lex(entry.name):
        if tok.cat in ("size", "len"):
            return tok.text
    return None


def size_mm(text: str | None) -> float | None:
    """A single length in a size text, in mm; None for threads (M8), pairs (5.5 × 25) and anything else."""
    if not text:
        return None
    toks = [t for t in lex(text) if t.cat in ("len", "size", "num")]
    if len(toks) == 1 and toks[0].cat == "len":
        return float(toks[0].value) if 15 <= toks[0].value <= 130 else None  # anything longer is no bore
    if len(toks) == 1 and toks[0].cat == "size" and toks[0].text[0] in "Ø⌀":
        inner = gates.search(r"[\d.]+", toks[0].text)
        return float(inner.group()) if inner else None
    return None


def _form(name: str, note: str, words: tuple[str, ...], grammar: Grammar) -> tuple[str, bool]:
    """(form, stated): what the description says of how it goes on, else the default of its kind."""
    default = form_of_words(words, grammar)
    if default in ("fastener", "cover", "cap", "sleeve"):
        return default, True
    low = f" {name} {note} ".lower()
    for phrase, form in grammar.stated_forms:
        if phrase in low and gates.search(rf"(?<![\w-]){re.escape(phrase)}(?![\w-])", low):
            return form, True
    return default, False


def form_of_words(words: tuple[str, ...], grammar: Grammar) -> str:
    """The default form of a fitting by the longest grammar name that ends its name; closed where nothing names it."""
    for start in range(len(words)):
        form = grammar.forms.get(" ".join(words[start:]))
        if form:
            return form
    if words and words[-1].endswith(_FASTENER_ENDS):
        return "fastener"  # "thumbscrew", "locknut", "hairpin"
    return "closed"


def may_open(words: tuple[str, ...], grammar: Grammar) -> bool:
    """Whether fittings of its kind are as often screwed on or laid round as slid on, by the longest grammar name that ends its name."""
    endings = (" ".join(words[start:]) for start in range(len(words)))
    return next((ending for ending in endings if ending in grammar.forms), "") in grammar.may_open


_FASTENER_ENDS = ("screw", "bolt", "nut", "washer", "rivet", "nail", "pin")


def places_not_pieces(kit: Kit) -> None:
    """Where the parts list has no splice, "the eave splice" is the joint there, and no piece. Changes the kit's grammar."""
    if not kit.has_list or any(name.split()[-1] == "splice" for name in kit.parts):
        return
    for form, number in (("splice", "one"), ("splices", "many")):
        kit.grammar.senses[form] = [Sense("mem", "joint", "joint", number, "joint", None)]


def is_fitting(words: tuple[str, ...], grammar: Grammar) -> bool:
    """Whether a list entry is a fitting or fastener, by its head word; a head that no grammar file knows counts as one."""
    in_ground = len(words) > 1 and any(s.id == "ground tube" for s in grammar.senses.get(words[-1], ()))
    held = ("bar", "ridge", "joint", "shoulder", "crossing")
    if in_ground and any(s.kind == "mem" and s.role in held for s in grammar.senses.get(words[0], ())):
        return True  # a stay socket holds a stay, and does not stand in the ground
    for start in range(len(words)):
        senses = grammar.senses.get(" ".join(words[start:]), ())
        kinds = {s.kind for s in senses if s.kind in ("fit", "mem")}
        if kinds:
            return "fit" in kinds
    return bool(words)


def build_kit(outline: Outline, grammar: Grammar) -> Kit:
    """The dictionary of a manual's parts lists. The same name in several lists is one part with the numbers added up."""
    kit = Kit(grammar)
    kit.has_list = bool(outline.parts)
    rows = [(entry, *split_name(entry.name, grammar)) for entry in outline.parts]
    rows = [row for row in rows if row[1]]
    for entry, words, rest in rows:
        twins = {size.lower() for e, w, _ in rows if w == words and (size := size_of(e))}  # a list without the size means the same part
        fitting = is_fitting(words, grammar) and not _long(entry, words, grammar)
        size = size_of(entry)
        name = " ".join(words)
        if len(twins) > 1 and size and fitting:
            printed = re.sub(r"\s+", " ", (_CUT.split(entry.name.strip(), maxsplit=1)[0] or entry.name)).strip().lower()
            name = printed if any(t.cat in ("size", "len") for t in lex(printed)) else f"{name} {size.lower()}"
        form, stated = _form(entry.name, f"{rest} {entry.note}", words, grammar)
        a_bar = any(s.kind == "mem" and s.role in ("bar", "hoop") for s in grammar.senses.get(words[-1], ()))
        of_film = any(s.kind == "mem" and s.role == "film" for s in grammar.senses.get(words[-1], ()))
        if of_film and len(words) > 1 and (entry.quantity or 0) >= _MANY_COVERS:
            fitting, form, stated = True, "cover", True  # "joint cover, 22": a tunnel has one or two of its own
        fitting = fitting or (stated and form in ("closed", "open") and len(words) > 1 and not a_bar)  # "shelf arm, split"
        part = Part(
            name=name,
            code=entry.code,
            form=form,  # type: ignore[arg-type]
            stated=stated,
            listed=entry.quantity,
            in_list=True,
            size_mm=size_mm(size),
            size_text=size,
            option_only=entry.option,
            source=entry.source,
            is_fitting=fitting,
            may_open=fitting and may_open(words, grammar),
        )
        old = kit.parts.get(name)
        if old is not None:
            part = _merged(old, part)
        if not fitting:
            kit.members[name] = part.listed
            if size:
                kit.member_sizes[name] = size
        if old is not None:
            kit.parts[name] = part
            if entry.code:
                (kit.codes if fitting else kit.member_codes)[entry.code.upper()] = name
        else:
            kit.add(part, words)
        _add_aliases(kit, name, entry, words)
        _add_initials(kit, name, entry, fitting)
        _add_head(grammar_senses=kit.grammar, words=words, fitting=fitting)
        _add_phrase(kit.grammar, words, fitting)
    _heads_of_fittings(kit)
    return kit


_MANY_COVERS = 4


def _heads_of_fittings(kit: Kit) -> None:
    """ "Each socket", in a kit whose only sockets hold a ridge tube: the fitting, and no member that the grammar files know."""
    of_members = {name.split()[-1] for name in kit.members}
    for head in kit.heads:
        senses = kit.grammar.senses.get(head, ())
        if head in of_members or not any(s.id == "ground tube" for s in senses) or any(s.kind == "fit" for s in senses):
            continue
        for form, number in ((head, "one"), (plural(head), "many")):
            kit.grammar.senses[form] = [Sense("fit", head, head, number, "closed")]


def _long(entry: PartsEntry, words: tuple[str, ...], grammar: Grammar) -> bool:
    """Whether a part whose head word nothing knows is a tube or bar: it is as long as one."""
    if any(s.kind == "fit" for s in grammar.senses.get(words[-1], ())):
        return False
    return any(t.cat == "len" and float(t.value) >= 600 for t in lex(f"{entry.name} {entry.size or ''}"))


def _merged(old: Part, new: Part) -> Part:
    listed = old.listed if new.listed is None else new.listed if old.listed is None else old.listed + new.listed
    option = old.option_only if old.option_only == new.option_only else None
    return replace(old, listed=listed, code=old.code or new.code, option_only=option)


def _add_aliases(kit: Kit, name: str, entry: PartsEntry, words: tuple[str, ...]) -> None:
    for text in (entry.note, entry.name):
        match = _KNOWN_AS.search(text)
        if match:
            short = _words(re.sub(r"\bfor short\b.*", "", text[match.end() :]).strip(" ,().'\"‘’“”"), kit.grammar)
            if 0 < len(short) <= 3 and short[-1] == words[-1]:
                kit.aliases.setdefault(short, name)
    if any("-" in word and all(len(piece) > 2 for piece in word.split("-")) for word in words[:-1]):
        kit.aliases.setdefault(tuple(piece for word in words for piece in word.split("-")), name)  # "cross tie collar"


def _add_initials(kit: Kit, name: str, entry: PartsEntry, fitting: bool) -> None:
    """ "Sheet metal screw (SMS)", "Ridge clamp K1": the initials in brackets, or a mark behind the name, are a name of the part."""
    mark = gates.search(r"[a-z] ([A-Z]{1,2}-?\d{1,2})$", entry.name.strip())
    if mark is not None and mark[1] != entry.code and not re.fullmatch(r"M\d+", mark[1]):
        (kit.codes if fitting else kit.member_codes).setdefault(mark[1], name)
    initials = "".join(w[0] for w in kit.words.get(name, ())).upper()
    found = re.findall(r"\(([A-Z]{2,5})\)", f"{entry.name} {entry.note}") + [
        w for w in re.findall(r"\b[A-Z]{2,5}\b", entry.note) if w == initials
    ]
    for short in found:
        (kit.codes if fitting else kit.member_codes).setdefault(short, name)


def _add_head(grammar_senses: Grammar, words: tuple[str, ...], fitting: bool) -> None:
    """A head word that no grammar file knows becomes a word of this kit's own."""
    head = words[-1]
    if not any(s.kind in ("fit", "mem") for s in grammar_senses.senses.get(head, ())):
        kind, role = ("fit", "closed") if fitting else ("mem", "other")
        grammar_senses.add_sense(head, Sense(kind, head, head, "one", role))
        grammar_senses.add_sense(plural(head), Sense(kind, head, head, "many", role))


def _add_phrase(grammar: Grammar, words: tuple[str, ...], fitting: bool) -> None:
    """The whole name as a noun, so that "one tap bracket" is no verb."""
    if len(words) < 2 or not fitting:
        return
    phrase = " ".join(words)
    head = next((s for s in grammar.senses.get(words[-1], ()) if s.kind == "fit"), None)
    role = head.role if head is not None else "closed"
    for form, number in ((phrase, "one"), (" ".join((*words[:-1], plural(words[-1]))), "many")):
        if not any(s.kind in ("fit", "mem") for s in grammar.senses.get(form, ())):
            grammar.add_sense(form, Sense("fit", words[-1], phrase, number, role))


def unlisted(words: tuple[str, ...], grammar: Grammar) -> Part:
    """A part that no list names, made from its mention."""
    form = form_of_words(words, grammar)
    return Part(
        name=" ".join(words),
        code=None,
        form=form,  # type: ignore[arg-type]
        stated=form in ("fastener", "cover", "cap", "sleeve"),
        may_open=may_open(words, grammar),
    )


_MEANS = re.compile(
    r"[\"“']?([A-Za-z][\w/. -]{0,18}?)[\"”']?\s*(?:\(([A-Za-z/]{1,5})\))?\s*=\s*[\"“']?(?:your |the )?([a-z][a-z -]{1,24})", re.IGNORECASE
)


_WORLD = r"(?:port|starboard|north|south|east|west|near|off|kerb|street|road|house|yard|hedge|wood|field|sunny|shady)"
# "West limbs are on your left, east limbs on your right", "port is on your left hand, starboard on your right"
_ON_YOUR = re.compile(
    rf"\b(?P<a>{_WORLD})(?: side| [a-z]+s?)? (?:is|are|means?|lies?|stands?) (?:on |to )?(?:your |the )?(?P<side>left|right)\b"
    rf"(?:[ -]hand)?(?: side)?(?:,? (?:and |the )*(?P<b>{_WORLD})(?: side| [a-z]+s?)? (?:is |are )?(?:on |to )?(?:your |the )?(?P<other>left|right)\b)?",
    re.IGNORECASE,
)


def abbreviations(outline: Outline, sides: dict[str, str]) -> dict[str, str]:
    """What the manual says its own short forms mean ("ea = each", "Near side (NS) = your left"); sides are added to ``sides``."""
    found: dict[str, str] = {}
    for step in outline.steps:
        for item in step.items:
            for match in _ON_YOUR.finditer(item.passage.text):
                for word, side in ((match["a"], match["side"]), (match["b"], match["other"])):
                    if word:
                        sides[word.lower()] = side.lower()
            if "=" not in item.passage.text:
                continue
            for match in _MEANS.finditer(item.passage.text):
                short, bracket, meaning = match[1].strip().lower(), (match[2] or "").lower(), match[3].strip().lower()
                side = next((w for w in ("left", "right") if w in meaning.split()), None)
                if side:
                    sides[short] = side
                    if bracket:
                        sides[bracket] = side
                elif meaning.split()[0] in ("each", "with", "both", "left", "right", "typical", "center", "centre") and len(short) <= 4:
                    found[short] = meaning.split()[0]
    return found
