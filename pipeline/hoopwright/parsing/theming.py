"""Which mentions of a clause are fittings that it puts somewhere."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from hoopwright.model.events import Amount
from hoopwright.parsing import gates, patterns
from hoopwright.parsing.clauses import Clause
from hoopwright.parsing.elements import El

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def find_themes(it: Interpreter, c: Clause) -> list[El]:
    verb = c.verb
    out: list[El] = []
    if c.prefix:
        return out
    for f in c.els:
        if (
            (f.type == "fit" and not f.used and is_theme(it, f, c, verb))
            or (f.type in ("ellip", "pron") and not f.used and f.amount is not None and elliptic_theme(it, f, c))
            or (f.type == "pron" and f.name in ("it", "them", "these") and pronoun_theme(it, f, c, verb))
        ):
            out.append(f)
    return out


def pronoun_theme(it: Interpreter, f: El, c: Clause, verb: El | None) -> bool:
    """Read "The lamp ring comes first. Slide it onto the left half of hoop 3": a part that was named but not put anywhere yet."""
    if verb is None or not it.recent or it.ctx.current or any(e.type == "fit" for e in c.els):
        return False
    goes = verb.cls == "go" and f.gov == "subj" and f.name == "it" and _on_named_hoops(c) and not it.recent[-1][1] and not it.last_is_member
    if not goes and (verb.cls != "put" or f.gov != "obj"):
        return False
    parts = it.recent[-1][0]
    if goes and any(e.kind == "add" and e.parts[:1] == parts[:1] for r in it.readings for e in r.events):
        return False
    if any(e.parts[:1] == parts[:1] for e in it.ctx.last if e.step == it.step_id):
        return False
    if not any(e.type == "mem" and not e.used and e.role in ("hoop", "tube", "foot", "joint") for e in c.els):
        return False
    f.definite, f.parts = True, parts[:1]
    return True


def is_theme(it: Interpreter, f: El, c: Clause, verb: El | None) -> bool:
    indefinite = f.amount is not None and not f.definite
    if f.det in ("your", "our", "my") and f.amount is None:
        return False  # "hook your tape on the foot"
    if (not f.parts or not it.kit.parts[f.parts[0]].in_list) and gates.search(rf"\b{re.escape(f.words[-1])} of (?:wood|timber)\b", c.low):
        return False  # "hold a block of wood over the end"
    if (not f.parts or not it.kit.parts[f.parts[0]].in_list) and it.kit.has_list and patterns.SETTING_OUT.search(it.text):
        return False  # "knock in four pegs for a rectangle"
    if _piece_of_another(it, f, c):
        return False
    if f.words[-1] == "tape" and f.definite and not any("tape" in name for name, part in it.kit.parts.items() if part.in_list):
        return False  # "bend the tape round with the curve": the one that is read
    if _second_of_them(it, f, c):
        f.definite, f.amount, f.ords, f.more = False, Amount(1, text=f.text), (), True
        return True
    if (
        verb is not None
        and verb.cls == "take"
        and f.gov == "obj"
        and f.definite
        and f.amount is None
        and not f.plural
        and _first_named(it, f)
    ):
        subject = next((e for e in c.els if e.gov == "subj" and e.type == "mem" and e.role == "hoop"), None)
        if subject is not None and subject.hoops is not None and subject.hoops.kind != "all":
            return True  # "Hoop 4 has the lamp clamp as well"
    if f.det == "no" or (f.ords and not f.more and f.ords != (2,)) or (f.ords and f.definite):
        return False
    if (
        f.definite
        and f.amount is None
        and it.kit.has_list
        and (not f.parts or not it.kit.parts[f.parts[0]].in_list)
        and not any(e.type == "mem" and not e.used and e.role in ("hoop", "tube", "foot", "joint") for e in c.els)
    ):
        return False
    if f.gov == "on" and indefinite and it.is_fastener(f.parts) and f.det not in ("a", "an") and c.els[0] is not f:
        return True  # "one plate on each leg, on two screws"
    if f.gov in it.chunker.with_:
        if f.amount is None and not f.definite and verb is not None and verb.cls in ("take", "go", "feed", "null"):
            return False
        return not f.definite or f.amount is not None
    if (
        f.amount is None
        and not f.definite
        and it.kit.has_list
        and (not f.parts or not it.kit.parts[f.parts[0]].in_list)
        and f.gov in ("and", "subj", "next")
    ):
        return False
    if (
        f.amount is None
        and not f.definite
        and (
            f.gov == "next"
            or (f.gov == "subj" and verb is not None and not verb.passive and not _shared_out_behind(it, f, c, verb))
            or " whose " in f" {c.low} "
        )
    ):
        return False
    if verb is not None and verb.name == "follow" and f.gov == "obj" and any(g.gov in it.chunker.with_ for g in c.fits()):
        return False  # "follow the crop bar clips with a brace band": they are on
    if f.gov in ("obj", "(", "next", "and"):
        return _object_theme(it, f, c, verb, indefinite)
    if f.gov == "subj":
        return _subject_theme(it, f, c, verb, indefinite)
    return _governed_theme(it, f, c, verb, indefinite)


def _second_of_them(it: Interpreter, f: El, c: Clause) -> bool:
    """ "One ring is slid on to the right leg. The second ring is slid on to the left leg": another one, at another place."""
    last = it.ctx.last[-1] if it.ctx.last and not it.ctx.current else None
    if f.ords != (2,) or not f.definite or f.amount is not None or f.plural or last is None or last.step != it.step_id or not f.parts:
        return False
    one = last.parts[:1] == f.parts[:1] and last.amount is not None and last.amount.value == 1
    return one and any(e.type == "mem" and not e.used and e.role in ("tube", "side", "foot", "hoop") and e.gov != "obj" for e in c.els)


def _piece_of_another(it: Interpreter, f: El, c: Clause) -> bool:
    """ "The pin on each brace", "the lug of the post": a piece of something else that the list does not name."""
    if not f.definite or f.amount is not None or (f.parts and it.kit.parts[f.parts[0]].in_list) or not it.kit.has_list:
        return False
    k = c.els.index(f)
    behind = c.els[k + 2] if k + 2 < len(c.els) and c.els[k + 1].low in ("on", "of", "at") else None
    if behind is not None and behind.type == "pron" and behind.each:
        behind = c.els[k + 3] if k + 3 < len(c.els) else behind
    return behind is not None and (behind.type == "fit" or (behind.type == "mem" and behind.role in ("bar", "other")))


def _shared_out_behind(it: Interpreter, f: El, c: Clause, verb: El) -> bool:
    """ "Bean rings belong on hoops 3 to 5, one on each half", "Straps go round the legs: two per hoop": the number stands behind."""
    below = next((x.els[0] for x in it.clauses if x.after_colon and x.start > c.start), None)
    if verb.cls == "go" and below is not None and below.amount is not None and (below.type == "ellip" or below.det == "per"):
        return True
    return verb.cls == "go" and any(
        e.type == "ellip" and e.amount is not None and e.i > f.j and not e.low.endswith(("other", "others", "rest")) for e in c.els
    )


def _object_theme(it: Interpreter, f: El, c: Clause, verb: El | None, indefinite: bool) -> bool:
    """Whether the object of the verb is put somewhere."""
    if verb is not None and verb.passive and f.gov == "obj" and verb.name not in ("give", "allow", "provide") and not f.amount:
        return False
    if (
        verb is not None
        and verb.cls == "fasten"
        and (f.each or (f.definite and not f.amount and f.plural))
        and any(g.gov in it.chunker.with_ for g in c.els if g is not f and (g.type == "fit" or (g.type == "ellip" and g.amount)))
    ):
        return False
    if verb is not None and verb.cls in ("feed", "stand", "join"):
        return indefinite
    if verb is not None and verb.cls == "move":
        return indefinite
    if f.each and verb is not None and verb.cls in ("put", "fasten"):
        return False
    return not (f.gov == "next" and f.definite and not f.amount)


def _subject_theme(it: Interpreter, f: El, c: Clause, verb: El | None, indefinite: bool) -> bool:
    """Whether the subject of the clause is put somewhere: "two clips go on each hoop"."""
    if f.det in ("a", "an") and not f.more and not c.places and _on_any_hoop(it, c):
        return False  # "A split clip closes round the standing hoop": how such a clip goes on
    after = next((e for e in it.sentence_els if e.i >= f.j), None)
    if f.det in ("a", "an", "any") and after is not None and after.low in ("that", "which", "whose"):
        return False
    told = (
        verb is not None
        and verb.cls == "go"
        and not f.plural
        and any(e.per == "described" and e.step == it.step_id and set(e.parts) & set(f.parts) for e in it.ctx.last)
    )
    if told and any(e.type == "mem" and e.role in ("hoop", "tube") for e in c.els):
        return True  # "Every brace gets a collar at both ends. The upper collar goes on the end hoop"
    if f.definite and verb is not None and not verb.passive and not f.amount:
        stays = verb.cls == "go" or (verb.form == "s" and verb.cls in ("put", "fasten") and _without_object(c))
        return stays and not f.plural and _first_named(it, f) and _on_named_hoops(c)
    if verb is None:
        return _verbless_theme(it, f, c, indefinite)
    if verb.passive and verb.name == "close" and f.definite and not any(e.type == "mem" and not e.used for e in c.els):
        return False
    if (
        verb.cls == "fasten"
        and not verb.passive
        and indefinite
        and not f.each
        and f.parts
        and it.kit.parts[f.parts[0]].form in ("fastener", "sleeve")
        and any(
            e.gov == "obj" and (e.type == "pron" or (e.type == "mem" and e.role in ("joint", "foot", "hoop", "tube", "bar", "other")))
            for e in c.els
        )
    ):
        return True  # "Four screws hold the joint"
    if (
        verb.name in ("carry", "hold", "support", "bear")
        and not verb.passive
        and indefinite
        and not f.each
        and any(e.type == "mem" and e.gov == "obj" and e.role in ("bar", "other") and e.definite for e in c.els)
        and any(e.type == "mem" and e.gov in ("on", "at", "to") and not e.used for e in c.els)
    ):
        return True  # "Three hinges carry the door on the left post"
    if verb.cls in ("go",) or (verb.passive and verb.cls in ("put", "fasten", "go", "feed")):
        return not f.each
    if verb.form == "ed" and verb.cls in ("put", "fasten") and indefinite:
        return True
    if verb.cls in ("take",):
        return False
    if verb.cls in ("put", "fasten") and verb.form in ("s", "base"):
        intransitive = verb.low in (
            "fits",
            "hangs",
            "fit",
            "clips",
            "snaps",
            "slides",
            "slide",
            "screws",
            "bolts",
            "attaches",
            "runs",
            "hooks",
        )
        return not f.each and (intransitive or (indefinite and _without_object(c)))
    return False


_HOSTS = ("hoop", "tube", "joint", "foot", "side", "ridge", "end", "other", "bar")


_STATE = re.compile(r"(?:ed|ing|en|lt)$")  # "the standing hoop", "the finished hoop", "the built hoop"


def _on_any_hoop(it: Interpreter, c: Clause) -> bool:
    """Whether the hosts of a clause are no hoop or tube in particular: "round the standing hoop", "over the end of a tube"."""
    hosts = [e for e in c.els if e.type == "mem" and not e.used and e.role in ("hoop", "tube", "bar", "other", "side", "foot", "joint")]
    any_hoop = set(it.grammar.words["any_hoop"])
    return bool(hosts) and all(
        (
            e.role == "hoop"
            and e.det == "the"
            and not e.plural
            and e.hoops is None
            and any(a in any_hoop or _STATE.search(a) for a in e.adjectives)
        )
        or (e.role == "tube" and e.det in ("a", "an") and not e.side)
        for e in hosts
    )


def _without_object(c: Clause) -> bool:
    """ "Two rings snap on to the right leg": the verb has a host and no object, so its subject is what goes there."""
    hosts = [e for e in c.els if e.type == "mem" and not e.used and e.role in _HOSTS]
    return bool(hosts) and not any(e.gov == "obj" and e.type in ("fit", "mem", "pron", "ellip") for e in c.els)


def named_first(it: Interpreter, c: Clause) -> El | None:
    """The part of which the list has one, in "the turn button is fixed to the right post by a screw", if nothing has put it on yet.

    Or the number alone, in "A shell comes in two parts. Put one round the left leg of hoop 3, with two screws to each shell".
    """
    alone = next((e for e in c.els if e.type == "ellip" and e.gov == "obj" and e.amount is not None and not e.used), None)
    if alone is not None and c.verb is not None and c.verb.cls == "put" and c.verb.form == "base" and _on_named_hoops(c):
        return alone if elliptic_theme(it, alone, c) else None
    f = next((e for e in c.fits() if e.gov == "subj" and e.definite and e.amount is None and not e.plural), None)
    if f is None or c.verb is None or not c.verb.passive or c.verb.cls not in ("fasten", "put"):
        return None
    return f if _first_named(it, f) and _on_named_hoops(c) else None


def _first_named(it: Interpreter, f: El) -> bool:
    """Whether the part, of which the list has one, was put nowhere yet: "The name plate goes on the door hoop"."""
    if len(f.parts) != 1 or it.kit.parts[f.parts[0]].listed != 1:
        return False
    return not any(e.kind == "add" and e.parts[:1] == f.parts for r in it.readings for e in r.events)


def _on_named_hoops(c: Clause) -> bool:
    """Whether the clause names the hoops, or the post or bar, that its subject goes on."""
    if any(e.type == "mem" and e.role in ("bar", "other") and e.gov in ("on", "onto", "to") and e.definite and not e.used for e in c.els):
        return True
    return any(e.type == "mem" and e.role == "hoop" and e.hoops is not None and e.hoops.kind != "all" and not e.used for e in c.els)


def _verbless_theme(it: Interpreter, f: El, c: Clause, indefinite: bool) -> bool:
    """Whether a note without a verb places the fitting: "two clips at each foot"."""
    be = any(e.low in ("is", "are", "be", "was", "were") for e in c.els)
    hosted = any(e.type == "mem" and not e.used and e.role not in ("thing", "ground", "film") for e in c.els) or bool(c.places)
    unknown = it.kit.has_list and (not f.parts or not it.kit.parts[f.parts[0]].in_list) and not hosted
    return not be and not unknown and (indefinite or (f.amount is None and f.plural and not f.definite and not f.each and hosted))


def _governed_theme(it: Interpreter, f: El, c: Clause, verb: El | None, indefinite: bool) -> bool:
    """Whether a fitting after some other preposition is put somewhere all the same: "hang it on two hooks"."""
    if f.gov in ("of", "plus", "and") and indefinite and verb is None:
        return True
    if (
        f.gov in ("in", "over", "onto", "by")
        and indefinite
        and f.parts
        and it.kit.parts[f.parts[0]].form == "sleeve"
        and verb is not None
        and verb.cls in ("put", "join", "fasten")
    ):
        return True
    if (
        f.gov == "on"
        and indefinite
        and verb is not None
        and verb.cls in ("put", "stand")
        and any(e.type == "mem" and e.gov == "obj" and e.role in ("bar", "other") for e in c.els)
        and it.kit.parts.get(f.parts[0] if f.parts else "") is not None
    ):
        return True
    return bool(
        f.gov in ("on", "by", "from")
        and indefinite
        and verb is not None
        and verb.name in ("hang", "rest", "sit", "carry", "support", "hold", "go", "lie")
        and f.amount is not None
        and (f.amount.value or 0) > 0
        and any(e.type == "mem" for e in (c.els if f.gov == "on" else c.els[c.els.index(f) :]))
    )


def elliptic_theme(it: Interpreter, f: El, c: Clause) -> bool:
    if f.det == "other" and not any(
        e.amount is not None and e.type in ("fit", "ellip") and e.j <= f.i and e is not f for e in it.sentence_els
    ):
        return False
    before = any(e.type == "fit" for e in c.els[: c.els.index(f)])
    if f.role == "hoop" or not (before or it.ctx.current or it.ctx.last or it.recent):
        return False
    if f.gov not in ("obj", "subj", "next", "(", "and") and f.gov not in it.chunker.with_ and f.gov not in ("of",) and not _parallel(c, f):
        return False
    if c.verb is not None and c.verb.name == "take" and c.verb.form == "base" and c.els[0] is c.verb and f.type == "ellip":
        return False  # "take five and count"
    if (
        f.ords
        or f.definite
        or f.det in ("all", "both", "any")
        or (f.det in ("a", "an") and not f.more)
        or (f.adjectives and "way" in c.low)
        or text_of_thing(it, f, c)
    ):
        return False
    if (
        (c.verb is not None and c.verb.cls in ("repeat", "null", "stand", "handle"))
        or f.each
        or (c.verb is None and c.els[0] is not f and not c.after_colon and not any(e.type == "mem" for e in c.els[: c.els.index(f)]))
    ):
        return False
    k = c.els.index(f)
    if any(
        e.type == "mem" and e.role in ("bar", "other", "film") and e.gov in ("obj", "subj") and (e.amount or e.plural) for e in c.els[:k]
    ) and not any(e.type == "fit" for e in c.els[:k]):
        return False  # "hang two door leaves, one on each post"
    behind_fitting = k > 1 and c.els[k - 1].type == "punct" and c.els[k - 2].type == "fit"  # "with cover clips, eight on each"
    if (
        it.last_is_member
        and not behind_fitting
        and not any(e.type == "fit" and e.amount is not None and not e.definite and e.j <= f.i for e in it.sentence_els)
    ):
        return False
    if any(
        e.type == "mem" and e.role in ("bar", "other") and (e.amount or e.plural) and e.j <= f.i and e.gov in ("subj", "obj")
        for e in it.sentence_els
    ) and not any(e.type == "fit" and e.amount and e.j <= f.i for e in it.sentence_els):
        return False
    if k and (c.els[k - 1].low == "not" or (k > 1 and c.els[k - 2].low == "not")):
        return False
    if any(
        e.type == "ellip"
        and e is not f
        and e.amount
        and n + 1 < len(it.sentence_els)
        and it.sentence_els[n + 1].type == "word"
        and it.sentence_els[n + 1].low not in patterns.AFTER_ELLIPSIS
        for n, e in enumerate(it.sentence_els)
        if e.i < f.i
    ):
        return False  # "four people lift: one at each foot"
    return _stands_alone(c, f)


def _parallel(c: Clause, f: El) -> bool:
    """The second number of "one on the left leg and one on the right leg"."""
    k = c.els.index(f)
    if k < 2 or k + 1 >= len(c.els) or c.els[k - 1].low not in ("and", ",") or c.els[k + 1].type != "prep":
        return False
    before = next((n for n in range(k - 1, -1, -1) if c.els[n].type == "ellip" and c.els[n].amount is not None), None)
    if before is None or c.els[before].gov not in ("obj", "subj", "next"):
        return False
    return c.els[before + 1].low == c.els[k + 1].low


def _stands_alone(c: Clause, f: El) -> bool:
    """Whether no noun of its own follows the number, so that it counts the fitting named before."""
    after = c.els.index(f)
    nxt = c.els[after + 1] if after + 1 < len(c.els) else None
    return (
        nxt is None
        or (nxt.type == "pron" and nxt.name in ("each", "ea"))
        or (nxt.low == "of" and after + 2 < len(c.els) and c.els[after + 2].low in ("same", "these", "those", "them", "the same"))
        or (nxt.type in ("prep", "len", "punct", "conj", "verb") and nxt.low not in ("of",))
        or (nxt.type == "word" and nxt.low in patterns.AFTER_ELLIPSIS)
        or (nxt.type == "mem" and nxt.each)
    )


def text_of_thing(it: Interpreter, f: El, c: Clause) -> bool:
    """A number of something that is neither fitting nor member: "three people"."""
    return (
        f.gov in it.chunker.with_
        and not f.more
        and not any(e.type == "fit" for e in c.els)
        and it.kit.parts.get(it.ctx.last[-1].parts[0] if it.ctx.last else "") is None
    )
