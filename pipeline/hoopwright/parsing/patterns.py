"""Patterns of wording that several readers of a clause share."""

from __future__ import annotations

import re

from hoopwright.parsing.gates import gated

UNIT_ROLES = {"tube", "joint", "foot", "side", "end", "crossing", "bay", "shoulder", "ridge"}
STEP_REF = gated(
    r"\b(?i:steps?|stages?|clauses?|paragraphs?|sections?|para\.?|operations?|jobs?|tasks?|points?|items?|phases?|moves?)\s+((?:[A-Z]?\d+(?:\.\d+)*[a-z]?|[A-Z]\d*\b|[a-z]\b)(?:\s*(?:,|and|to|-|–|&|through|or)\s*(?:[A-Z]?\d+(?:\.\d+)*[a-z]?\)?|[A-Z]\d*\b|[a-z]\b))*)"
)
AS_IN = gated(
    r"\bas (?:in |at |per |under |for )?(?:step |clause |para(?:graph)? )?(?=\d+\.\d|[A-Z]\d|\d+[a-z]?\b(?!\s*(?:mm|cm|m|ft|in)\b))([A-Z]?\d+(?:\.\d+)*[a-z]?(?:\s*(?:,|and|to|-|–|&)\s*[A-Z]?\d+(?:\.\d+)*[a-z]?)*)(?![\d.]*\s?(?:mm|m\b|in\b|ft))"
)
FOR_THIS = gated(r"^(?:for|to) (?:this|that|it|these)(?: purpose| end)?,? (?=(?:one|two|three|four|five|six|a|an|\d+)\b)", re.IGNORECASE)
ASIDE = gated(
    r",\s+(?:which|who)\b[^,;:.()\d]{1,60},\s+(?=(?:is|are|was|were|must|should|shall|will|may|can|has|have|goes?|sits?|takes?|gets?)\b)"
)  # "one bracket, which is open, is laid on"
CAPTION = gated(
    r"^\W*(?:fig(?:ure)?|photo(?:graph)?|picture|illustration|drawing|sketch|diagram|plate|view)s?\b\.?\s*(?:\d+|[A-Z]\b|\(|on the|overleaf)[^a-z]{0,4}",
    re.IGNORECASE,
)
WHEREVER = gated(r"^(?:wherever|whenever|where|with every|for every|with each|every time)\b", re.IGNORECASE)
HALF_IN = gated(r",? (?:one )?half (?:of it )?(?:in|into|inside) (?:either|each|one) \w+(?: and half in(?:to)? the other)?", re.IGNORECASE)
BY_RULE = gated(r"\b(?:according to|as per|per|to|by|following|under) (?:the |our )?(?:[\w-]+ ){0,2}(?:rules?\b|\d+\.\d+)", re.IGNORECASE)
OUT_OF_TURN = gated(
    r"\b(?:done|do|comes?|belongs?|carried out|carry out|fitted|fit)\b[^.;]{0,60}\bbefore (?:you (?:do|start|begin) )?(?:steps?|jobs?|stages?|tasks?|the hoops? (?:is|are)|joining|section) ?",
    re.IGNORECASE,
)
BY_TABLE = gated(
    r"\b(?:as|according to|per|to|by|following|from|see|in line with) (?:(?:shown|given|listed|set out|stated|in|per|the|this) )*(?:table|chart|schedule|list)\b",
    re.IGNORECASE,
)
ROW_REF = gated(r"\b(?:rows?|lines?)\s+((?:\d+|[a-h]\b)(?:\s*(?:,|and|to|-|–|&|or)\s*(?:\d+|[a-h]\b))*)", re.IGNORECASE)
TABLE_REF = gated(r"\b(?:table|chart|schedule|list)\s+([A-Z0-9]+)\b", re.IGNORECASE)
REMEMBER = gated(r"\bas you (?:will )?(?:remember|recall|know|saw)\b|\bas (?:already )?(?:said|mentioned|noted)\b", re.IGNORECASE)
ROUND = gated(
    r"^walk the (?:house|frame|tunnel|row|length|line|arcade|walk) (?:from end to end|through|round|over|with)\b|^(?:now |then )?(?:(?:put|set|ask|get|have) (?:[\w-]+ ){1,4}(?:on|to|do the) count(?:ing)?|let (?:[\w-]+ ){1,4}(?:count|check|look))\b|^(?:once|one last time|once again) (?:more )?(?:a?round|over)\b|^(?:have|take) a (?:good |last |quick )?look\b|^(?:now |then |finally |at the end,? )?(?:go|walk|look) (?:once |right )?(?:a?round|over|along|through) (?:the |w/|with |once|all |every)",
    re.IGNORECASE,
)
AFTERWARDS = gated(
    r"\b(?:after|before) (?:every|each|any|the first|a) \w+|\b(?:after|in|within) (?:about )?(?:[\w-]+ ){1,2}(?:weeks?|days?|months?|hours?|years?|storms?|gales?)\b|\b(?:every|each) (?:year|spring|autumn|season|month|week|winter|summer|fall)\b",
    re.IGNORECASE,
)
# "Bolts are put in together with the fitting": when, not how many
WITH_FITTING = re.compile(
    r"\b(?:bolts|screws|nuts|fasteners|they|these) (?:are|is|go|goes) (?:all )?(?:put|fitted|turned|screwed|placed|in|on)(?: in| on)? (?:together|along|at the same time|at once)? ?(?:with|as) (?:the|its|their|each|every) (?:fitting|clip|clamp|piece|part)",
    re.IGNORECASE,
)
# "Our neighbours put up one last year with two clips to each leg": what others did
ANECDOTE = gated(
    r"\b(?:last (?:year|spring|summer|autumn|fall|winter|season)|the (?:year|season|summer|winter) before(?: last)?|(?:some|many|a few|two|three|\d+) years ago|in (?:19|20)\d\d|the other (?:day|year))\b",
    re.IGNORECASE,
)
# "It is far easier to slide a collar on now than to take a hoop apart later": why, and no order
COMPARES = gated(
    r"^(?:it|that|this|you)(?: is|'s|’s| will be| will find it| find it| was| are) (?:far |much |so |a lot |a good deal |always |often |usually )?"
    r"(?:easier|simpler|quicker|faster|harder|better|cheaper|safer|less work|more work) (?:to|for|if)\b.*\bthan\b",
    re.IGNORECASE,
)
# "There is one for every rib": of what was spoken of last
THERE_IS = gated(
    r"^there (?:is|are|will be|should be) (?P<n>one|two|three|four|\d) (?P<at>on|to|for|at|in) (?=(?:each|every)\b)", re.IGNORECASE
)
NEEDS = gated(
    r"\b(?:ready|need|needs|needed|require|requires|required|to hand|at hand|tools?|parts?|hardware|materials?|fittings|kit|get out|collect|gather|lay out|fetch|checklist|contents|stock|bring|unpack|from the (?:bag|box|crate))\b"
)
STARTS = gated(r"(?:^|[.;,] )(?:start|begin|starting|beginning)\b.*\b(?:work|working|go|carry|move|continue|finish|proceed)\b")
AFTER_ELLIPSIS = {
    "there",
    "each",
    "apiece",
    "on",
    "is",
    "are",
    "being",
    "goes",
    "per",
    "more",
    "further",
    "high",
    "low",
    "up",
    "down",
    "also",
    "only",
    "just",
    "either",
    "halfway",
    "midway",
    "left",
    "right",
}
ONTO_STANDING = frozenset(["clip", "snap", "press", "hook", "strap", "wrap", "buckle", "click", "button", "lash", "tie", "stick"])
HOLDS_FOR_ALL = gated(
    r"^(?:this|that|the same|(?:the|this|that) rule|(?:these|those) rules) (?:holds?|appl(?:y|ies)|goes)\b", re.IGNORECASE
)
STANDS_BY = gated(
    r"\bshould (?:each |now |then |all |both )?(?:show|have|carry|bear|hold)\b"
    r"|\b(?:none|nothing)(?: is| are)?(?: left| over)? in the (?:bags?|box|bucket|tray|crate|tin)\b"
    r"|^(?:final |last |closing )?(?:check|inspection|control|checklist)\b[^:.]{0,20}:"
    r"|\b(?:hand|give|pass) (?:each|every|the|your) (?:helper|person|worker|volunteer|friend)s?\b"
    r"|^it (?:takes|will take) (?:about |some |roughly )?(?:[\w-]+ ){1,3}(?:hours?|minutes?|days?)\b"
    r"|^lay (?:[\w-]+ ){1,6}out\b|^lay out (?:the|your|all)\b"
    r"|^(?:slide|push|move|bring|shift) (?:the|all|these|those) (?:[\w-]+ ){1,5}to (?:its|their|the) (?:marks?|places?|positions?)\W*$"
    r"|\byou(?:'ll| will| should)? (?:use|need|have used) (?:[\w-]+ ){1,3}(?:in|for) this (?:step|stage)\b",
    re.IGNORECASE,
)
THE_OTHERS = gated(r"^the (?:others|rest) (?=(?:takes?|gets?|has|have|needs?|receives?|carry)\b)", re.IGNORECASE)
SETTING_OUT = gated(r"\b(?:rectangle|string lines?|diagonals?|square up|setting out|mark out)\b", re.IGNORECASE)
TABLE_SAYS = gated(
    r"^(?:where|when|if|wherever) (?:it (?:says|shows|reads)|(?:the|a) (?:table|chart|list|column|row|cell|box|figure|entry) (?:says|shows|gives|has|reads))\b",
    re.IGNORECASE,
)
DESCRIBES = gated(
    r"^(?:the |all |our )?[\w-]+ (?:hardware|fittings?|pieces|things|parts|metalwork) (?:is|are|opens?|comes?|goes?|slips?|slides?|threads?|snaps?|springs?|has|have|can|may|must|pass(?:es)?)\b(?! (?:fitted|added|slid|placed|needed)\b)"
    r"|^an? [\w -]+? (?:comes? in (?:two|several|three) (?:halves|parts|pieces)|is (?:made|built|shaped) (?:like|of|from))\b"
    r"|^(?:this|that|the)(?: \w+)? (?:group|kind|sort|class|family|set|lot|type)s? (?:consists? of|comprises?|includes?|takes? in|covers?|(?:is|are)(?: the|:))"
    # "Any clip that has slid during the lift is pushed back to its mark"
    r"|^(?:(?:any|all|the|every|each|an?) )?(?:[\w-]+ ){1,2}(?:that|which) (?:(?:has|have) )?(?:slides?|slid|slips?|slipped|moves?|moved|shifts?|shifted|drops?|dropped)\b[^.;]*"
    r" (?:is|are|be|gets?) (?:to be )?(?:pushed|moved|put|slid|returned|brought|set|shifted|eased) (?:back|again|home|to (?:its|their|the) (?:marks?|places?|old))"
    # "A clip may face either way", which says of no hoop that it has one
    r"|^an? [\w-]+(?: [\w-]+)? (?:may|can|should|must|has to|ought to) (?:face|point|look|have its|be (?:turned|either))\b"
    r"(?![^.;]*\b(?:on|onto|at|to|over|round) (?:each|every|both|either|all|hoops?|legs?|(?:an?|the) (?:end|left|right))\b)",
    re.IGNORECASE,
)
TURNS_TO = gated(
    r"^(?:now |then |next,? )?(?:turn|go|move|come|pass)(?: on)? to (?:the|your) |^(?:now|next|then|after that),? (?:for |to )?(?:the|your) [a-z -]{3,30}[.:]?$",
    re.IGNORECASE,
)
BOTH_ENDS = gated(
    r"\b(?:door|end)[ -]?(?:frames?|walls?|ways?|posts?|s)?\b.*\b(?:front and (?:rear|back)|both ends|each end|either end)\b"
    r"|^(?:the )?(?:two|both)(?: the)? (?:door|end) ?(?:frames|walls|ways|s)\b",
    re.IGNORECASE,
)
BOTH_ENDS_GET = gated(
    r"^(?:both|the two) ends (?:of the \w+ )?(?:get|have|take|need|receive|are given) (?:an?|the same|one) ", re.IGNORECASE
)
FOR_WHICH = gated(
    r"\b(?:identical|the same|alike|applies|apply|is (?:built|made|fitted)|stands?|belongs?)\b[^.;:]{0,20}\b(?:at|on|to|for|under)\b",
    re.IGNORECASE,
)  # "The door frame is identical at arch 1 and at arch 9."
ORDER_ONLY = gated(
    r"^(?:(?:do|take|set|stand|start with|begin with) )?(?:the )?[\w ]{3,24} first(?:\.?$|,? (?:and )?then (?:work|go|carry|move|continue|on|the (?:others|rest))\b[^.;:]{0,40}\.?$)"
    r"|^(?:now |then )?(?:start|begin)(?: work)? (?:at|from) (?:the |one )?[\w-]*(?: end)?(?: of the \w+)?\.?$"
    r"|^(?:the )?[a-z ]{3,24}s (?:first|next|then|last|after (?:that|those|these|them)),? (?:likewise |also |again |too )?(?:from|over) the [\w ]{2,20} end\.?$",
    re.IGNORECASE,
)  # "Hoop 1 first, then work back."

STARTS_WITH = gated(r"^(?:now |then )?(?:start|begin) (?:with|at|from) (?:the )?[\w ]{3,24}\.?$", re.IGNORECASE)
SAME_FOR_REST = gated(
    r"^(?:and |then )?(?:do )?the same (?:for|with) (?:all )?(?:of )?the (?:rest|others?)\b[^.;:]{0,30}\.?$", re.IGNORECASE
)
# A line of a check sheet: a fitting, then a number for some hoops and another for others.
CHECK_LINE = gated(r"^\W*(?P<name>[^\d:.]{3,40}):\s*(?P<cells>\d+ (?:on|at|to) .+)$", re.DOTALL)
CHECK_CELL = re.compile(r"(\d+) (?:on|at|to) (.+?)(?=\s*(?:,|;|\band\b)\s*\d+ (?:on|at|to)\b|[.;]?\s*$)", re.DOTALL)
# "Slide one of these onto hoop 3": a number of the fittings spoken of last
OF_THESE = gated(r"(?<=[a-z] )(one|two|three|four|a pair) of (?:these|those|them)(?= (?:on|onto|over|to|round|around|through|at)\b)")
# "Two of them close round …", "Those of hoop 2 take one", "Every one of them gets a ring": of what the sentence before was about
SO_MANY_OF_THEM = gated(r"^(?P<number>two|three|four|five|six|[2-6]) (?:of them|of these|of those|more of them) (?=[a-z]+ )", re.IGNORECASE)
THOSE_OF = gated(r"^(?:those|the ones) (?:of|on) (?=[a-z]+ \d|the |each |every |both )", re.IGNORECASE)
EACH_OF_THEM = gated(
    r"^(?:each|every one|every single one|all) of (?:them|these|those|the (?P<number>[a-z]+|\d+)) (?=(?:gets?|takes?|has|have|needs?|receives?|carr(?:y|ies)|is|are)\b)",
    re.IGNORECASE,
)
# A note without numbers: "side ring 46 in, hook sleeve 58 in, stay bracket 70 in"
_LENGTH = r"(?:at )?\d[\d.,/ ]*(?:mm|cm|m|ft|in|inches|feet|[\"'″′])"
BARE_ITEM = re.compile(
    rf"(?:then )?(?!(?:an?|another|the|one|two|three|four|five|six|seven|eight|nine|ten)\b)(?P<name>[A-Za-z]+(?:[ -][A-Za-z]+){{0,3}}?) (?={_LENGTH})"
)
BARE_LIST = re.compile(
    rf"(?!(?:an?|another|the|one|two|three|four|five|six|seven|eight|nine|ten)\b)[A-Za-z]+(?:[ -][A-Za-z]+){{0,3}}? {_LENGTH}"
)
LIST_COMMA = re.compile(r"(,\s+(?:and |then )?|\s+and\s+)")
REPEAT_REF = gated(
    r"\brepeat(?:ing)? ((?:[A-Z][A-Za-z]?\d+|\d+(?:\.\d+)+)(?:\s*(?:,|and|to|-|–|&|through)\s*(?:[A-Z][A-Za-z]?\d+|\d+(?:\.\d+)+))*)"
)  # "repeat F1 to F4"
# "The middle of the tube, 2635 mm from either foot": one place, told by how far it is from both ends
MIDDLE_TOLD = r"(?P<middle>\b(?:middle|centre|center|ridge|peak|apex|crown)\b[^,.;]*)?, (?:that is |which is |i\.e\. )?\d[\d.,/ -]*(?:\s?(?:mm|cm|m|ft|in|inches|feet)\b\.?|[\"'″′]) from (?:either|each) (?:foot|end)(?: of it)?(?=[,.;]|$)"
FROM_BOTH = gated(MIDDLE_TOLD)
# "To add a ring after that you would have to take the hoop apart"
WOULD_HAVE_TO = gated(r"^(?:to|if) [^.;]* would (?:have|need|be obliged) to\b|\b(?:you|one|we|it) would (?:have|need) to\b", re.IGNORECASE)
# "Up to now a clip had one bolt"
SO_FAR = gated(
    r"^(?:up to now|until now|so far|up to here|previously|in the steps (?:so far|before)),? [^.;]*\b(?:had|took|got|has had|have had|needed|was|were)\b",
    re.IGNORECASE,
)
# "There is a hook on every other hoop", "In addition, there are two rings on each leg"
THERE_ARE = gated(
    r"^(?P<lead>(?:(?:in addition|also|besides|further(?:more)?|here|then|next|finally|as well)(?: to (?:that|this|these|those))?,? )?)there (?:is|are|will be)"
    r" (?P<more>(?:also |in addition |then |further )?)(?P<what>(?:an?|one|two|three|four|five|six|\d+|another) [\w' -]+?(?: \([\w.-]{1,5}\))?)"
    r"(?=,? (?:(?:on|onto|round|around|over|at|in|under) (?!(?:an?|it|them|that|this)\b)|to (?:each|every|both|the)\b))",
    re.IGNORECASE,
)
BARE_ORDINAL = re.compile(r"the (?:first|second|third|fourth|last|other)(?: one)?")
# "Clips F6 and F7 can be opened and may be mounted at any stage"
ANY_STAGE = gated(
    r"\b(?:can|may|could) (?:also )?(?:be \w+|go on|be) (?:\w+ ){0,2}(?:at any (?:time|stage|moment|point)|any ?time|whenever you)\b",
    re.IGNORECASE,
)
BOTH_ONTO = gated(r"(?<=[a-z] )both(?: of them| of these)?(?= (?:round|around|onto|on to|on|over|to)\b)")
# "Put the bolts in finger-tight": how far to tighten what is counted elsewhere
HAND_TIGHT = gated(r"\b(?:finger|hand)[ -]?tight\b|\b(?:tight|loose(?:ly)?) by hand\b|\bonly (?:loosely|hand-tight)\b")
DOTTED_CODE = re.compile(r"(?<=[a-z])\s*\(([A-Za-z]{1,2}[.-](?:\d{1,3}|[a-z]))\)")  # "one jamb ring (D.4)"
SQUARE_CODE = gated(r"(?P<before>\b[\w.'’\"″-]*\w)?(?P<gap>\s*)\[(?P<code>[A-Za-z]{0,2}\d{0,3}[a-z]?)\]", re.IGNORECASE)
SQUARE_RANGE = gated(r"\[([A-Za-z]{0,2}\d{1,3})\] ?(?:-|–|to) ?\[([A-Za-z]{0,2}\d{1,3})\]")
