"""Sentences to clauses: one verb each, with what governs every mention."""

from __future__ import annotations

from dataclasses import dataclass, field

from hoopwright.model.events import Place
from hoopwright.parsing.elements import El
from hoopwright.parsing.places import find_places

_SUBORD = {
    "if",
    "when",
    "once",
    "after",
    "before",
    "until",
    "while",
    "so",
    "because",
    "unless",
    "since",
    "as",
    "although",
    "where",
    "whereas",
}
_RELATIVE = {"which", "that", "who"}
_BREAK = {",", ";", ":", "and", "or", "then", "but", "(", ")", "–", "—", "-"} | _SUBORD | _RELATIVE
_PARTICLES = {"on", "in", "up", "down", "over", "onto"}
_AUX = {
    "is",
    "are",
    "be",
    "been",
    "was",
    "were",
    "being",
    "must",
    "should",
    "can",
    "may",
    "will",
    "shall",
    "could",
    "would",
    "might",
    "ought",
    "cannot",
    "to",
    "do",
    "does",
    "did",
    "has",
    "have",
    "had",
    "not",
    "now",
    "then",
    "also",
    "always",
    "only",
    "just",
    "never",
    "again",
    "each",
    "both",
    "all",
    "first",
    "next",
    "finally",
    "still",
    "already",
    "likewise",
    "simply",
    "you",
    "we",
    "they",
    "it",
    "need",
    "needs",
}


@dataclass(slots=True)
class Clause:
    """A clause: its elements, its main verb if it has one, and how it hangs on the sentence.

    ``kind``: main, sub (``word`` is the conjunction), relative.
    """

    els: list[El]
    verb: El | None = None
    kind: str = "main"
    word: str = ""
    places: list[tuple[int, Place]] = field(default_factory=list)
    start: int = 0
    end: int = 0
    after_colon: bool = False
    prefix: bool = False  # hosts in front of a colon: "Bow 4: …"

    @property
    def low(self) -> str:
        """The clause in small letters."""
        return " ".join(e.low for e in self.els)

    def fits(self) -> list[El]:
        """Mentions of fittings that no position has used up."""
        return [e for e in self.els if e.type == "fit" and not e.used]

    def members(self, *roles: str) -> list[El]:
        """Mentions of members in one of ``roles`` that no position has used up."""
        return [e for e in self.els if e.type == "mem" and not e.used and (not roles or e.role in roles)]


def split(els: list[El]) -> list[Clause]:
    """The clauses of one sentence."""
    cuts = {0}
    previous_verb: int | None = None
    for k, el in enumerate(els):
        if el.low in (";", ":") and el.type == "punct":
            cuts.add(k + 1)
            previous_verb = None
            continue
        if el.type != "verb" or not _finite(els, k):
            continue
        if previous_verb is not None or _boundary_before(els, k) is not None:
            cut = _subject_start(els, k)
            if cut is not None and cut > max(c for c in cuts if c <= cut or c == 0):
                cuts.add(cut)
        previous_verb = k
    ordered = sorted(cuts)
    clauses = []
    for a, b in zip(ordered, [*ordered[1:], len(els)], strict=True):
        part = els[a:b]
        while part and part[-1].type in ("punct", "conj") and part[-1].low not in (")",):
            part = part[:-1]
        if part:
            clause = _clause(part, colon=a > 0 and els[a - 1].low == ":")
            clause.prefix = b < len(els) and els[b - 1].low == ":" and clause.verb is None
            clauses.append(clause)
    for clause in clauses:
        clause.places = find_places(clause.els, " ".join(e.text for e in clause.els))
        govern(clause)
    return clauses


def _finite(els: list[El], k: int) -> bool:
    el = els[k]
    if el.form == "ing":
        return False
    if el.form == "ed" and not el.passive:
        if el.modal in ("has", "have", "had"):
            return True
        # "the clips fitted in step 4" is no clause of its own; "2 clips fitted to each hoop" is telegraphic and is one
        before = els[k - 1] if k else None
        return not (
            before is not None
            and before.type in ("fit", "mem", "pron")
            and (before.definite or (before.det is None and before.amount is None))
        )
    if el.form == "base" and k and els[k - 1].low == "to":
        # an infinitive of purpose stays with its clause, but "is to be fitted", "you will need to slide" count
        back = [e.low for e in els[max(0, k - 4) : k - 1]]
        return any(w in ("need", "have", "is", "are", "has", "needs", "want", "going") for w in back)
    return True


def _boundary_before(els: list[El], k: int) -> int | None:
    for j in range(k - 1, -1, -1):
        if els[j].low in _SUBORD | _RELATIVE and els[j].type in ("word", "conj", "prep"):
            return j
        if els[j].low == "and" and j and els[j - 1].low == "," and els[j + 1].type in ("pron", "ellip"):
            return j  # "two bolts, and each of these has two washers"
        if els[j].type == "verb":
            return None
    return None


def _subject_start(els: list[El], k: int) -> int | None:
    """Where the clause of the verb at ``k`` starts: behind the last break, in front of its subject."""
    j = k - 1
    while j >= 0 and els[j].type == "word" and (els[j].low in _AUX or els[j].low.endswith("ly")):
        j -= 1
    seen_subject = False
    while j >= 0:
        el = els[j]
        if el.type == "verb":
            return j + 1
        if el.low == "so" and not ((j + 1 < len(els) and els[j + 1].low == "that") or (j and els[j - 1].low in (",", ";", "and"))):
            j -= 1
            continue
        if el.low in _BREAK and el.type in ("punct", "conj", "word", "prep"):
            if el.low == "and" and not seen_subject:
                return j + 1
            if (
                el.low == "and"
                and j
                and els[j - 1].type in ("mem", "fit", "ellip", "pron")
                and els[j + 1].type in ("mem", "fit", "ellip", "pron")
            ):
                # "… to each hoop and a bolt is put …": the subject starts behind the conjunction unless both stand before one verb
                return j + 1
            if el.low in _RELATIVE and j and els[j - 1].low in _SUBORD:
                return j - 1
            return j if el.low in _SUBORD | _RELATIVE else j + 1
        if el.type in ("fit", "mem", "pron", "ellip"):
            seen_subject = True
        j -= 1
    return 0


def _clause(part: list[El], colon: bool) -> Clause:
    clause = Clause(part, start=part[0].i, end=part[-1].j, after_colon=colon)
    head = 0
    while (head < len(part) and part[head].type in ("punct", "conj")) or (
        head < len(part) and part[head].low in ("and", "but", "then", "also", "now")
    ):
        head += 1
    if head < len(part) and part[head].type in ("word", "conj", "prep"):
        after_it = (
            part[head].low in ("after", "before")
            and head + 1 < len(part)
            and (part[head + 1].type == "pron" or part[head + 1].low in ("that", "this", "which"))
        )
        inverted = (
            part[head].low in ("should", "were", "had") and clause.start == 0 and len(part) > 2 and not any(e.low == "?" for e in part)
        )
        if inverted and part[head].type == "word":
            clause.kind, clause.word = "sub", "if"
        elif part[head].low == "so" and not (head + 1 < len(part) and part[head + 1].low == "that"):
            pass
        elif part[head].low in ("after", "behind") and _inverted(part[head:]):
            pass  # "after the ring comes one brace collar"
        elif part[head].low in _SUBORD and not after_it:
            clause.kind, clause.word = "sub", part[head].low
        elif part[head].low in _RELATIVE:
            clause.kind, clause.word = "relative", part[head].low
    verbs = [e for k, e in enumerate(part) if e.type == "verb" and _finite(part, k)]
    clause.verb = (
        verbs[0]
        if verbs
        else next((e for e in part if e.type == "verb" and e.form != "ing"), None) or next((e for e in part if e.type == "verb"), None)
    )
    return clause


def _inverted(part: list[El]) -> bool:
    """ "After the ring comes one collar": verb of standing behind the phrase, and then what stands."""
    at = next((k for k, e in enumerate(part) if e.type == "verb"), None)
    return (
        at is not None
        and part[at].cls == "go"
        and at + 1 < len(part)
        and part[at + 1].type == "fit"
        and part[at + 1].amount is not None
        and not part[at + 1].definite
    )


def govern(clause: Clause) -> None:
    """Set ``gov`` of every mention: subj, obj, or the preposition in front; what stands behind "and" or a comma takes the one before."""
    gov = "subj"
    verb_seen = False
    last: El | None = None
    last_fit: El | None = None
    for k, el in enumerate(clause.els):
        if el.type == "verb":
            last_fit = last_fit if el.passive else None  # "a holder is clipped to the left leg and a hook to the right leg"
            if el.form == "ing" and el.low in ("using",):
                gov = "with"
            elif el.form != "ing" or not verb_seen:
                gov, verb_seen = "obj", True
            last = None
        elif el.type == "prep":
            nxt = clause.els[k + 1] if k + 1 < len(clause.els) else None
            if (
                k
                and clause.els[k - 1].type == "verb"
                and clause.els[k - 1].form == "base"
                and el.low in _PARTICLES
                and nxt is not None
                and (
                    (nxt.type == "fit" and nxt.amount is not None)
                    or (
                        nxt.type in ("fit", "mem")
                        and (nxt.definite or nxt.amount is not None)
                        and nxt.role in ("", "bar", "other")
                        and el.low == "in"
                        and clause.els[k - 1].cls in ("put", "fasten")
                    )
                )
            ):
                continue  # "slide on 1 clamp": the preposition belongs to the verb
            gov, last = el.low, None
        elif el.type in ("fit", "mem", "pron", "ellip"):
            if last is not None and gov == "subj" and not verb_seen:
                el.gov = "subj"
            elif (last is not None and not _joined(clause.els, k)) or (
                el.type == "ellip" and el.amount is not None and last_fit is None and k and clause.els[k - 1].low == ","
            ):
                el.gov = "next"
            elif (
                el.type in ("fit", "ellip")
                and last_fit is not None
                and _joined(clause.els, k)
                and el.amount is not None
                and (last_fit.amount is not None or el.type == "ellip")
            ) or (el.type == "fit" and last_fit is not None and _joined(clause.els, k) and el.amount is None and last_fit.amount is None):
                # "a crop clip, 4 ft up from the foot, and a brace ring": both hang on the verb
                el.gov = last_fit.gov
            else:
                el.gov = gov
            if el.type == "fit" and not el.used and (el.amount is not None or last_fit is None or last_fit.amount is None):
                last_fit = el
            last = el
        elif (
            el.type == "punct"
            and el.low == ","
            and not verb_seen
            and clause.els[0].type == "prep"
            and clause.els[k + 1 : k + 2]
            and clause.els[k + 1].type == "fit"
            and clause.els[k + 1].amount is not None
        ):
            gov, last = "subj", None  # "In addition to those, a further clip is …"
        elif el.type == "punct" and el.low == "(":
            gov = "("
        elif el.type == "punct" and el.low == ")":
            gov = "next"


def _joined(els: list[El], k: int) -> bool:
    return k > 0 and (els[k - 1].type == "conj" or els[k - 1].low == ",")
