"""Sentences to clauses: one verb each, with what governs every mention."""

from __future__ import annotations

from dataclasses import dataclass, field

from hoopwright.model.events import Place
from hoopwright.parsing.elements import El
from hoopwright.parsing.places import find_places

_SUBORD = {
    *("if", "when", "once", "after", "before", "until", "while", "so", "because", "unless", "since", "as"),
    *("although", "where", "whereas"),
}
_RELATIVE = {"which", "that", "who"}
_BREAK = {",", ";", ":", "and", "or", "then", "but", "(", ")", "–", "—", "-"} | _SUBORD | _RELATIVE
_PARTICLES = {"on", "in", "up", "down", "over", "onto"}
_AUX = {
    *("is", "are", "be", "been", "was", "were", "being", "must", "should", "can", "may", "will", "shall"),
    *("could", "would", "might", "ought", "cannot", "to", "do", "does", "did", "has", "have", "had", "not"),
    *("now", "then", "also", "always", "only", "just", "never", "again", "each", "both", "all", "first"),
    *("next", "finally", "still", "already", "likewise", "simply", "you", "we", "they", "it", "need", "needs"),
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


@dataclass(slots=True)
class _Governor:
    """What governs the next mention of a clause: ``gov``, the mention before it, and the last fitting that can share."""

    gov: str = "subj"
    verb_seen: bool = False
    last: El | None = None
    last_fit: El | None = None

    def verb(self, el: El) -> None:
        """Behind a verb stand its objects; "using" gives what something is done with."""
        if not el.passive:
            self.last_fit = None  # but "a holder is clipped to the left leg and a hook to the right leg"
        if el.form == "ing" and el.low == "using":
            self.gov = "with"
        elif el.form != "ing" or not self.verb_seen:
            self.gov, self.verb_seen = "obj", True
        self.last = None

    def mention(self, els: list[El], k: int) -> None:
        """Set ``gov`` of the mention at ``k``."""
        el = els[k]
        joined = _joined(els, k)
        if el.type == "fit" and k > 1 and els[k - 1].type == "pron" and els[k - 2].type == "verb" and els[k - 2].name in ("give", "allow"):
            el.gov = "obj"  # "give them crop eyes"
        elif self.last is not None and self.gov == "subj" and not self.verb_seen:
            el.gov = "subj"
        elif self.last is not None and not joined and not self.verb_seen and _subject_of_passive(els, k):
            el.gov = self.gov = "subj"
        elif (self.last is not None and not joined) or self._counts_anew(els, k):
            el.gov = "next"
        elif joined and self.last_fit is not None and _pairs_with(el, self.last_fit):
            el.gov = self.last_fit.gov
        else:
            el.gov = self.gov
        counted = el.amount is not None or self.last_fit is None or self.last_fit.amount is None
        if el.type == "fit" and not el.used and counted:
            self.last_fit = el
        self.last = el

    def _counts_anew(self, els: list[El], k: int) -> bool:
        """ ", two at the ridge": a number behind a comma, with no fitting before it."""
        bare = els[k].type == "ellip" and els[k].amount is not None and self.last_fit is None
        return bare and k > 0 and els[k - 1].low == ","


def govern(clause: Clause) -> None:
    """Set ``gov`` of every mention: subj, obj, or the preposition in front.

    What stands behind "and" or a comma takes the one before.
    """
    state = _Governor()
    els = clause.els
    for k, el in enumerate(els):
        if el.type == "verb":
            state.verb(el)
        elif el.type == "prep":
            if not _is_particle(els, k):
                state.gov, state.last = el.low, None
        elif el.type in ("fit", "mem", "pron", "ellip"):
            if el.type == "fit" and el.amount is not None and not el.definite and not state.verb_seen and _behind_measure(els, k):
                state.gov, state.last = "subj", None  # "one eye at 0.20 m, then one tee at 1.10 m"
            state.mention(els, k)
        elif el.type == "punct" and el.low == "," and (not state.verb_seen or _purpose_in_front(els, k)) and _subject_behind(els, k):
            state.verb_seen = False
            state.gov, state.last = "subj", None  # "In addition to those, a further clip is …"
        elif el.type == "punct" and el.low in ("(", ")"):
            state.gov = "(" if el.low == "(" else "next"


def _is_particle(els: list[El], k: int) -> bool:
    """ "slide on 1 clamp": the preposition belongs to the verb."""
    if k == 0 or k + 1 >= len(els) or els[k].low not in _PARTICLES:
        return False
    verb, nxt = els[k - 1], els[k + 1]
    if verb.type != "verb" or verb.form != "base":
        return False
    if nxt.type == "fit" and nxt.amount is not None:
        return True
    thing = nxt.type in ("fit", "mem") and nxt.role in ("", "bar", "other") and (nxt.definite or nxt.amount is not None)
    return thing and els[k].low == "in" and verb.cls in ("put", "fasten")


def _subject_behind(els: list[El], k: int) -> bool:
    """A counted fitting, or a bar with its verb, behind the comma that closes a phrase in front of the clause."""
    first = next((e for e in els if e.low not in ("also", "again", "then", "now", "next", "finally")), els[0])
    if first.type != "prep" or k + 1 >= len(els):
        return False
    if els[k + 1].type == "fit":
        return els[k + 1].amount is not None
    return els[k + 1].role in ("bar", "other") and _before_its_verb(els, k + 1)


def _purpose_in_front(els: list[El], k: int) -> bool:
    """ "To protect the cover from the bolts, one pad is stuck …": the verb in front of the comma is no verb of the clause."""
    start = next((n for n, e in enumerate(els[:2]) if e.low == "to"), None)
    return start is not None and start + 1 < k and els[start + 1].type == "verb" and _before_its_verb(els, k + 1)


def _subject_of_passive(els: list[El], k: int) -> bool:
    """ "At every hoop one U-bolt is put …": a counted thing behind a phrase in front, with "is" or "are" and its verb behind it."""
    return els[0].type == "prep" and els[k].type in ("fit", "mem") and els[k].amount is not None and _before_its_verb(els, k)


def _before_its_verb(els: list[El], k: int) -> bool:
    verb = next((n for n in range(k + 1, len(els)) if els[n].type == "verb"), None)
    between = els[k + 1 : verb] if verb is not None else []
    return any(e.low in ("is", "are", "be") for e in between) and all(e.type == "word" for e in between)


def _behind_measure(els: list[El], k: int) -> bool:
    """Whether a length ends the phrase in front, with a comma or "and" between."""
    m = k - 1
    while m > 0 and (els[m].type in ("punct", "conj") or els[m].low in ("then", "next", "also")):
        m -= 1
    return 0 < m < k - 1 and (els[m].type == "len" or (els[m].type == "prep" and els[m - 1].type == "len"))


def _pairs_with(el: El, fitting: El) -> bool:
    """ "a crop clip, 4 ft up from the foot, and a brace ring": both hang on the verb."""
    if el.type == "ellip":
        return el.amount is not None
    return el.type == "fit" and (el.amount is None) == (fitting.amount is None)


def _joined(els: list[El], k: int) -> bool:
    return k > 0 and (els[k - 1].type == "conj" or els[k - 1].low == ",")
