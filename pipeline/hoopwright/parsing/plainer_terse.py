"""Wordings put into whole clauses by the names of the fittings: notes without verbs, rules of fasteners, what is done once more."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection

from hoopwright.grammar.inflect import plural

Rule = tuple[str, str | Callable[[re.Match[str]], str]]  # a pattern, and what stands in its place

_STEP = r"(?:steps?|paras?|paragraphs?|points?|stages?|sections?|no\.?|nos\.?|items?)?\.? ?"
_LABELS = r"[A-Z]?\d+(?:\.\d+)*[a-z]?(?:(?:, | and | or | to |-|–)[A-Z]?\d+(?:\.\d+)*[a-z]?)*"
_ONTO = r"(?:through|into|onto|on to|on|over|round|around|to|at|in|under|behind)"
_LENGTH = r"\d[\d.,/ -]*(?:\s?(?:mm|cm|m|ft|in|inches|feet)\b|[\"'″′])(?: ?\d[\d/ -]*(?:\s?(?:in|inches)\b|[\"″]))?"
_ON = "closed|snapped|slid|clipped|buckled|wrapped|pushed|threaded|slipped|laid|hung|bolted|clamped|hooked|strapped|stuck|sprung"
_PUT = "close|snap|slide|clip|buckle|wrap|push|thread|slip|lay|hang|bolt|clamp|hook|strap|stick"
_UNCOUNTED = r"(?<!\d )" + "".join(f"(?<!{word} )" for word in ("two", "three", "four", "five", "six", "eight", "of"))
_COVERS = r"(?:covers?|clasps?|embraces?|encircles?|surrounds?|hugs?|straddles?|caps?|shields?)"
_VERBS = r"is|are|be|must|should|has|have|takes?|gets?|goes|faces?|points?|carries|needs?|holds?|sits?|comes?|stays?|moves?|fits?|turns?|can|will|may"
_CODE = r"(?: ?\([\w.-]{1,5}\)| ?\[[\w.-]{1,5}\])?"  # of a fitting, behind its name


def terse_rules(name: str, names: str, number: str) -> list[Rule]:
    """In the order in which they are tried.

    ``name`` and ``names`` are patterns of the fittings in the singular and the plural, ``number`` one of a number of pieces.
    """
    return [*_asides(), *_alike(), *_fastened(name, names, number), *_pieces(name, names, number)]


def _asides() -> list[Rule]:
    """What stands beside a sentence or in front of it."""
    return [
        (rf",? ?\((?:see|cf\.?|as in|from|compare) (?:also )?{_STEP}{_LABELS}\)", ""),  # "to their places (see 6)"
        (rf"[,;] see (?:also )?{_STEP}{_LABELS}(?=[.;,]|$)", ""),
        (rf"^(?:here |there |now )?the distance (?:from|to) (the [^,.;]+?|it|them|there) is ({_LENGTH})", r"It is \2 from \1"),
        (
            r",? and, (?:a good (?:way|bit|deal)|some (?:way|distance)|well|far|a little|just|further|higher up|lower down) (?:above|below|beyond|behind|under) (?:that|it|this|them), ",
            " and ",
        ),
        # "Through each leg, into the ground tube that it covers, drive a screw"
        (r"^((?:through|into) (?:each|every|the|both) [^,;.]{3,30}), (?:and )?(?:on )?into [^,;.]+, (?=[a-z]+ (?:an?|one|two)\b)", r"\1 "),
        (r":? ?(?:one )?half of it (?:in|into|inside) (?:the|a|one) [^,.;]+, [^,.;]+? over the (?:rest|other half)\b", ""),
        (
            r"^(?:from here on|from now on|from this (?:point|step|stage) on(?:wards?)?|henceforth|from here onwards),? (?=(?:each|every|all|an?|the)\b)",
            "",
        ),
        (r", (?:while|whereas) (?=(?:each|every|both) [\w ]+? (?:carr(?:y|ies)|takes?|gets?|ha(?:s|ve)|receives?) )", "; "),
        # "It is arch 5 whose uprights carry one eye each"
        (r"\bit is ((?:the )?[\w -]{3,25}?) whose ([a-z]+s) (?=(?:carry|take|get|have|need|receive)\b)", r"the \2 of \1 "),
        # "There is also, on each half, a rail clip"
        (
            r"^there (?:is|are|comes|goes)(?: also| too| again)?, ((?:on|at|in) (?:each|every|both|the|either) [^,;.]+), ",
            r"\1 there is also ",
        ),
        (r",? of which one (?:comes|goes|is|sits|stands)? ?[^.;]*? and the other [^.;]*(?=[.;]|$)", ""),
    ]


def _alike() -> list[Rule]:
    """What is done once more, or as another hoop has it."""
    return [
        (
            r"^(?:and |then |now )?(?:the same|this|all this) (?:is|has to be|must be|should be) (?:then |also |now |to be )?(?:done|repeated|carried out) "
            r"(?:again |too |also |as well )*(?=(?:at|on|for|with|to) )",
            "Do the same ",
        ),
        # "The right is to be treated likewise", "…; the right leg is done in the same way"
        (
            r"(?:^(?:and |then |now )?|(?P<behind>[,;] (?:and |while |then )?))the (?P<side>left|right|other)(?:-hand)?(?: [a-z-]+)? "
            r"(?:is|are|shall be|must be|has to be|should be)(?: then| also| to be)* (?:treated|done|handled|dealt with|dressed|fitted|served|completed|equipped) "
            r"(?:just |exactly )?(?:(?:in )?the same(?: way| manner| fashion)?|likewise|alike|similarly|identically|to match)(?=[.;,]|$)",
            lambda match: f"{'; do' if match['behind'] else 'Do'} the same on the {match['side']} side",
        ),
        # "Treat the fourth rib as you did the second, and the fifth as you did the first"
        (
            r"^(?:treat|dress|do|fit out|equip|deal with|handle) ([\w -]+?) (?:just |exactly )?as you (?:did|have done|treated|dressed) ([\w -]+?),? and ([\w -]+?) "
            r"(?:just |exactly )?as you (?:did|have done|treated|dressed) ([\w -]+?)(?=[.;]|$)",
            r"\1 is dressed like \2; \3 is dressed like \4",
        ),
        # "The third rib has less on it: per half one top clip, …"
        (
            r"^((?:the |an? )?[\w -]+?) (?:has|have|gets?|takes?|needs?|carr(?:y|ies)|wears?) (?:less|more|fewer|other things|something else|only these)(?: on it| on them)?"
            r"(?: than [^:;.]+)?: ",
            r"\1: ",
        ),
        (r"^(?:make|perform) (?:this|the same|it) (?=(?:with|on|for|at) )", "Do the same "),
        (
            r"^(?:and |then |now )?the same (?:again |once more |too )?(?:to|on) the (left|right)(?: side)?(?: of [^.,;]+)?(?=[.;]|$)",
            r"Do the same on the \1 side",
        ),
        # "Now take the right legs of all the hoops and dress them as you did the left ones"
        (
            r"^(?:(?:now |then |next |finally )?take [^.;]*? and |(?:now |then |next |finally )?)(?:dress|treat|do|fit|serve|equip|kit out) "
            r"(?:them|it|these|those|the (?:right|left) [\w-]+(?: of [\w ]+?)?) (?:exactly |just |precisely )?(?:as|like|the way|in the same way as)(?: you (?:did|have done|dressed|treated))?"
            r"(?: with)?(?: on)? the (left|right)(?: ones?| [\w-]+)?(?=[.;,]|$)",
            lambda match: f"Do the same on the {'right' if match[1].lower() == 'left' else 'left'} side",
        ),
    ]


def _fastened(name: str, names: str, number: str) -> list[Rule]:
    """What fastens each fitting."""
    return [
        # "One M6 bolt closes each rail eye, and one closes each diagonal eye"
        (
            rf"^((?:{number}|an?|a single) [\w -]+?{_CODE}) (holds?|secures?|closes?|fastens?|tightens?|clamps?) (?:each|every) ([\w -]+?{_CODE}),? and "
            r"(?:likewise |also |so |another |one )*(?:\2 )?(?:each|every) ([\w -]+?)(?=[.;]|$)",
            r"Each \3 takes \1; each \4 takes \1",
        ),
        # "To pull a ridge collar tight, use one bolt with two washers", "To lock a ridge saddle to its bow you use two set screws"
        (
            rf"^to (?:lock|pull|draw|close|tighten|clamp|hold|fasten|fix|secure|bolt|pin) (?:an?|each|every|the) ((?:{name}){_CODE})"
            r"(?: (?:tight|up|shut|together|home|(?:to|on|in) [\w -]+?))?,? (?:you (?:will )?)?(?:use|need|want|take|there (?:is|are)) "
            rf"(?=(?:{number}|an?) )",
            r"Each \1 takes ",
        ),
        # "Three connections result, and each is secured with one screw"
        (
            rf"^({number}) (connections|joints|joins|splices) (?:result|come of it|are (?:made|formed|the result)|arise|follow),? and each (?:of (?:them|these) )?"
            r"(?:is|gets|takes|receives) (?:(?:secured|held|closed|fixed|made|pinned|fastened|locked) (?:with|by) )?(?=(?:an?|one|two|three|four) )",
            r"There are \1 \2, each made with ",
        ),
        # "One wing bolt pinches up a clip, and that holds for every kind of clip"
        (
            rf"^((?:{number}|an?|a single) [\w -]+?{_CODE}) (?:draws?|pulls?|nips?|pinch(?:es)?|snugs?|clamps?|closes?|tightens?) (?:up|together) "
            r"(?:an?|each|every|any|the) ([\w -]+?)(?:,? and (?:that|this|it) (?:holds|goes|is so|is true) (?:for|of) (?:every|each|all) [^,;.]+)?(?=[.;]|$)",
            r"Each \2 takes \1",
        ),
        # "An anchor bolt, passed through leg and stake, holds each foot"
        (
            rf"^((?:{number}|an?|each|every) [\w -]+?{_CODE}), (?:passed|put|driven|pushed|run|slid|inserted|screwed|laid|turned) [^,;.]+, "
            r"(?=(?:holds?|secures?|fixe?s?|fastens?|joins?|locks?|keeps?|closes?|tightens?)\b)",
            r"\1 ",
        ),
        # "One nut shall be run onto every bolt and tightened"
        (
            rf"^({number}|an?) ((?:[\w-]+ ){{0,2}}(?:nut|washer|cap)s?{_CODE}) (?:(?:is|are|shall be|must be|should be|to be) (?:then )?)?(?:run|spun|screwed|wound|turned|threaded|slipped|put) "
            rf"(?:up )?(?:onto|on to|on|over) (each|every) ((?:[\w-]+ ){{0,2}}(?:bolt|screw|stud|rod){_CODE})(?: (?:and|then) [^.;]*)?(?=[.;]|$)",
            r"\3 \4 takes \1 \2",
        ),
        (
            r"^neither (?:an? )?([\w -]+?) nor (?:an? )?([\w -]+?) (?:belongs?|goes|go|is (?:needed|used|wanted)|are (?:needed|used|wanted)) (?:to|with|for|on|in) "
            r"((?:an?|the|each|every|any) [^,.;]+)",
            r"\3 has no \1 and no \2",
        ),
        (
            rf"\bby (?:driving|putting|fitting|inserting|screwing|passing|pushing|using|adding)(?: in| through| home)? (?=(?:{number}|an?) )",
            "with ",
        ),
        (r"\bneither (?:an? |any )?([\w -]+?) nor (?:an? |any )?([\w -]+?)(?=[.,;]|$)", r"no \1 and no \2"),
        (
            rf"^no ([\w -]+?) (?:goes|is|remains|stays|can be|should be) (?:left )?without (?:an?|one|its|their) (?=(?:{name})\b)",
            r"Each \1 takes one ",
        ),
        (
            r"^the same (?:pair|set|two|ones|fasteners|fixings), ((?:an?|one|two) [\w -]+? and (?:an?|one|two) [\w -]+?), (belongs?|goe?s?) ",
            r"\1 \2 ",
        ),
        # "For a lintel clamp you use two bolts"
        (
            rf"^for (?:an?|each|every) ((?:{name}){_CODE}),? (?:you (?:will )?(?:use|need|want|take|require)|use|take|allow|reckon (?:on|with)) (?=(?:{number}|an?) )",
            r"Each \1 takes ",
        ),
        # "You clamp the ridge clip, the rail clip and the eye all in the same way: each takes one bolt"
        (
            r"^(?:you |we )?[a-z]+ ((?:the [\w -]+?, )*the [\w -]+? and the [\w -]+?),? (?:all |each |both )?(?:in the same way|the same way|alike|likewise): "
            r"(?:each|every one|they)(?: of them)?(?: all)? (takes?|gets?|needs?|ha(?:s|ve)) ",
            lambda match: f"Each {match[1].replace('the ', '')} takes ",
        ),
        # "There is one M6 bolt to close each rail ring and each brace ring"
        (
            rf"^there (?:is|are) (an?|{number}) ((?:{names}|{name}){_CODE}) to (?:close|hold|lock|fasten|tighten|secure|draw up|clamp|pinch) ((?:each|every) [^.;]+?)\.?$",
            r"\3 takes \1 \2.",
        ),
        (
            r",? (?:each|every one|both|all) of (?:which|these|them) (?:wants?|takes?|gets?|needs?|has|have) ((?:an?|one|two|three|four|\d) [\w -]+?)"
            r"(?: put (?:through|in)(?: it)?)?(?=[.;,]|$)",
            r"; each of them takes \1",
        ),
        # "There are two washers to a foot bolt: its head has one and its nut has the other"
        (
            rf"^there (?:is|are) ({number}) ((?:{names}|{name}){_CODE}) (?:to|for|on|in|with) (?:an?|each|every) ((?:{name}){_CODE})"
            r"(?:[:,] (?:one|its|the|which|that)\b[^;.\d]*)?\.?$",
            r"Each \3 takes \1 \2.",
        ),
    ]


def _pieces(name: str, names: str, number: str) -> list[Rule]:
    """How many pieces there are, and on what."""
    return [
        # "a brace band on both legs, one to a leg"
        (r"\b(both [\w -]+?s)\b((?: of [^,.;]+)?), one (?:to|on|for|per) (?:an?|each|every) [\w-]+(?=[,.;]|$)", r"\1\2"),
        # "Then the strut bands, for the uprights of the outer ribs only, one on each"; "Slide the bands onto the uprights of hoop 1, one on each"
        (
            rf"^(?:and |now )?(?:(?:then|next|now|after that|finally|last)[,:]? )?(?:(?:come|go|follow|put|slide|thread|push|slip|fit) )?the ((?:{names})),? (?:for|on|onto|to|over) "
            rf"(the [a-z]+s of [^,;.]+?)(?: only)?, ({number}) (?:on|to|for|onto) (?:each|either)(?: one| of them)?(?=[.;]|$)",
            r"Each of \2 takes \3 \1",
        ),
        # "On each end hoop, one further patch covers the clip"
        (
            rf"^((?:[^,;:.]+, )?)((?:an?|{number})(?: further| more| extra| other)? (?:{names}|{name}){_CODE}) {_COVERS} (?=(?:the|its|each|every|both|one) )",
            r"\1Put \2 on ",
        ),
        # "Foot screw (F5): one through each foot", "Foot screws: one through each foot"
        (rf"^((?:{names}|{name}){_CODE}): ({number}) (?={_ONTO} )", r"\2 \1 "),
        # "by pressing net buttons on to the arches: three on each leg"
        (
            rf"{_UNCOUNTED}\b((?:{names}){_CODE}) {_ONTO} (?:the |all |all the |every |each |both )?(?:[\w-]+ ?){{1,4}}: ({number}) (?=(?:{_ONTO}|per|for) )",
            r"\2 \1 ",
        ),
        # "Thermometer bracket: closed round the right leg of hoop 4": of which there is one
        (rf"^((?:{name}){_CODE}): (?:{_ON}|{_PUT}) (?={_ONTO} )", r"One \1 "),
        (
            rf"^((?:{name}){_CODE}) (?={_ONTO} (?:the )?(?:left|right|LH|RH|outer|inner|each|every)\b)(?=[^.;:]*\d)(?![^.;:]* (?:{_VERBS})\b)",
            r"One \1 ",
        ),
    ]


def any_of(names: Collection[str]) -> tuple[str, str]:
    """Patterns of one and of several of the things named."""
    longest = sorted(names, key=len, reverse=True)
    return tuple("|".join(map(re.escape, words)) or "(?!)" for words in (longest, [plural(name) for name in longest]))  # type: ignore[return-value]
