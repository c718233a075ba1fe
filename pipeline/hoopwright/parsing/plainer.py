"""Wordings that say the same as a plainer one, put into the plainer one before a sentence is read.

Each rule keeps the meaning and the order of the hosts; what is shown to the reader stays the sentence as printed.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Mapping

from hoopwright.grammar.inflect import plural
from hoopwright.parsing import patterns
from hoopwright.parsing.gates import Gated, gated
from hoopwright.parsing.plainer_terse import Rule, any_of, terse_rules

_NUM = r"(?:\d+|one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve|sixteen|eighteen|twenty)"
_LEN = r"\d[\d.,/ -]*(?:\s?(?:mm|cm|m|ft|in|inches|feet)\b\.?|[\"'″′])"
_TAKES = r"(?:takes?|gets?|has|have|needs?|receives?|carr(?:y|ies))"
_KIND = r"(?:clip|ring|clamp|fitting|piece|part|item|eye|collar|band|loop|strap|hook|bracket)s"
_FIGURE = r"(?:fig(?:ure)?s?|drawing|photo|picture|illustration|sketch|diagram)\.?\s*\d+[a-z]?"
_ANY = "(?:.)"
_ONTO = r"(?:on|onto|to|over|round)"
_WORD_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth", "seventh", "eighth")


def _first_word(hoop: str) -> str:
    """The first of the words in a pattern of alternatives."""
    return hoop.removeprefix("(?:").split("|")[0].rstrip(")")


class Plainer:
    """Rewrites sentences of a manual whose word for a hoop is one of ``hoop_words``; ``hoops`` is how many there are, if known.

    ``names`` are the two-word names of the parts list, in the singular, to undo hyphens ("ridge-clips"); ``far_end`` are the manual's
    words for what stands at the last hoop ("hoop 22 is at the stream"); ``fittings`` are the names of all that counts on hoops.
    """

    def __init__(
        self,
        hoop_words: Collection[str],
        hoops: int | None,
        names: Collection[str] = (),
        ordinals: Mapping[str, int] | None = None,
        numbers: Mapping[str, int] | None = None,
        far_end: Collection[str] = (),
        fittings: Collection[str] = (),
    ) -> None:
        self.hoops = hoops
        self.far = "|".join(map(re.escape, far_end)) or "(?!)"
        self.hoop = min(hoop_words, default="hoop")
        self.numbers = {word.capitalize(): n for word, n in (numbers or {}).items() if n and n > 0 and len(word) > 2 and word.isalpha()}
        self.names = frozenset(names)
        self.ordinals = dict(ordinals or {word: n for n, word in enumerate(_WORD_ORDINALS, 1)})
        self.ordinal = rf"(?:{'|'.join(sorted(self.ordinals, key=len, reverse=True))})"
        one = "|".join(sorted(hoop_words)) or "hoop"
        hoop = rf"(?:{one})"
        many = rf"(?:{one})(?:s|es)?"
        behind_hoop = "".join(f"(?<!{word} )(?<!{word}s )" for word in sorted(hoop_words))
        self.capital = re.compile(rf"(?<=[a-z,] ){behind_hoop}(?:{'|'.join(self.numbers) or '(?!)'})\b(?! (?:of|more|other)\b)")
        self.rules: list[tuple[Gated, str | Callable[[re.Match[str]], str]]] = [
            (gated(pattern, re.IGNORECASE, like), into)
            for (pattern, into), (like, _) in zip(
                [*terse_rules(*any_of(fittings), _NUM), *self._rules(hoop, many)],
                [*terse_rules(_ANY, _ANY, _NUM), *self._rules(_ANY, _ANY)],
                strict=True,
            )
        ]

    def __call__(self, text: str) -> str:
        if self.numbers:
            text = self.capital.sub(lambda match: f"hoop {self.numbers[match[0]]}", text)
        low = text.lower() if text.isascii() else None  # beyond ASCII a letter may match in other cases than its own
        for rule, into in self.rules:
            if (low is None or (rule.first in low and rule.open(low))) and rule.pattern.search(
                text
            ) is not None:  # seldom; to search takes half the time of "sub"
                text = rule.pattern.sub(into, text)
                low = text.lower() if text.isascii() else None
        return re.sub(r"\b[A-Za-z]+-[a-z]+\b", self._without_hyphen, text) if "-" in text else text

    def _without_hyphen(self, match: re.Match[str]) -> str:
        apart = match[0].replace("-", " ")
        return apart if apart.lower() in self.names or apart.lower().removesuffix("s") in self.names else match[0]

    def _from_far(self, match: re.Match[str]) -> str:
        n = self.ordinals.get(match[1].lower())
        return f"hoop {self.hoops + 1 - n}" if n and self.hoops and n <= self.hoops else match[0]

    def _by_ordinals(self, match: re.Match[str]) -> str:
        """ "The second, third and sixth arches" by their numbers."""
        found = [self.ordinals[word] for word in re.findall(r"[a-z]+", match[1].lower()) if word in self.ordinals]
        if self.hoops is not None and max(found) > self.hoops:
            return match[0]
        return f"{plural(self.hoop)} {', '.join(map(str, found[:-1]))} and {found[-1]}"

    def _span(self, match: re.Match[str]) -> str:
        """ "The second to the fifth have one": by their numbers."""
        first, last = self.ordinals[match[1].lower()], self.ordinals[match[2].lower()]
        return f"{plural(self.hoop)} {first} to {last} " if 0 < first < last else match[0]

    def _each_with(self, match: re.Match[str]) -> str:
        """ ", each with two screws in the post and two in the door": four each."""
        words = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
        first, second = (int(n) if n.isdigit() else words.index(n.lower()) + 1 if n.lower() in words else 0 for n in (match[1], match[3]))
        return f", {first + second} {match[2]} on each" if first and second else match[0]

    def _gapped(self, match: re.Match[str]) -> str:
        """ "A collar is nipped with one bolt, a ring with one, a saddle with two": the verb and the bolt stand once."""
        more = re.findall(
            rf"[,;] (?:and |but )?((?:an?|each|every|the) [\w ,-]+?) (?:with|by) (?:only |just )?({_NUM})(?: each)?(?=[,;]|$)",
            match[4],
            re.IGNORECASE,
        )
        if not more:
            return match[0]
        return "; ".join([match[1], *(f"{owner} is {match[2]} with {n} {match[3]}" for owner, n in more)]) + "."

    def _all_from(self, match: re.Match[str]) -> str:
        """ "A ring 46 in, a sleeve 58 in, all from the foot": each from there."""
        return re.sub(rf"({_LEN})(?=,| and\b|$)", rf"\1 {match[2]}", match[1]) + "."

    def _hosts_apart(self, match: re.Match[str]) -> str:
        """ ": on hoops 2 and 5 a collar 6 ft up, on hoops 2 to 5 an eye 5 ft up": each fitting behind its own hoops."""
        return re.sub(
            r",? (?:and |, )?(?=on (?:the |all |each |every )?[^,;:]+? (?:an?|one|two|three|four) [a-z])(?<!:)(?<!: )", "; ", match[0]
        )

    def _to_the_far_end(self, match: re.Match[str]) -> str:
        return f"hoops {match[1]} to {self.hoops}" if self.hoops and int(match[1]) > 1 else match[0]

    def _one_in_each(self, match: re.Match[str]) -> str:
        """ "There is one bolt in a ridge clip and one in a purlin clip, but two in a crop clip": what each takes."""
        told = [
            (match[1], match[3]),
            *re.findall(rf"(?:and|but) ({_NUM}) (?:in|on|to|for) ((?:an?|each|every) [\w -]+)", match[4], re.IGNORECASE),
        ]
        return "; ".join(f"{owner.strip()} takes {number} {match[2]}" for number, owner in told)

    def _on_all(self, match: re.Match[str]) -> str:
        """ "Side loops come next, on all five": of five hoops."""
        words = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
        said = match[1].lower()
        n = int(said) if said.isdigit() else words.index(said) + 1 if said in words else None
        return f"on all the {plural(self.hoop)}" if n is not None and n == self.hoops else match[0]

    def _beside_bay(self, match: re.Match[str]) -> str:
        word = (match[1] or match[2]).lower()
        n = int(word) if word.isdigit() else self.ordinals.get(word)
        return f"hoops {n} and {n + 1}" if n else match[0]

    def _rules(self, hoop: str, many: str) -> list[Rule]:
        """In the order in which they are tried. ``hoop`` and ``many`` are patterns of the manual's words for one hoop and for one or more."""
        topics = (self._no_count, self._hoops, self._exceptions, self._shares, self._order, self._verbs)
        return [rule for topic in topics for rule in topic(hoop, many)]

    def _no_count(self, hoop: str, many: str) -> list[Rule]:
        """What is no count, and small wordings."""
        hoop_word = _first_word(hoop)
        return [
            (r"(?<=[\s,(])@ ?(?=\d)", "at "),
            (rf",? (?:no matter|whichever|whatever|regardless of) (?:on |to )?(?:which|what|the)? ?{many}\b[^,.;]*", ""),
            (r"\s*\([^()]*\b(?:in total|in all|altogether|total of)\b[^()]*\)", ""),
            (rf",?\s*\(?\b(?:see|cf\.?|refer to)\s+(?:also\s+)?{_FIGURE}\)?", ""),
            (rf"\b(?:at|to) the (?:height|place|position|distance)s? (?:shown|given|marked) (?:in|on) ({_FIGURE})", r"per \1"),
            (r"^(?:for|to) (?:this|that|it|these)(?: purpose| end)?,? (?=(?:one|two|three|four|five|six|a|an|\d+)\b)", ""),
            (r",? (?:one )?half (?:of it )?(?:in|into|inside) (?:either|each|one) \w+(?: and half in(?:to)? the other)?", ""),
            (r",\s*from (?:the )?(?:foot|bottom|top|ridge) (?:up(?:wards)?|down(?:wards)?)\s*,", " "),
            (r"(?<=\w) \+ (?=\d+ [A-Za-z])", " and "),
            (
                rf"(^|[:;,.] )(\d+(?:-\d+)?|one|two) ea(?:ch|\.)? (?=(?:half|leg|side|foot|end|joint|splice|tube|upright|rafter|bend|{hoop})\b)",
                r"\1\2 on each ",
            ),
            (r"\b(?:eye|hand|ear|face|head) (?:protection|wear|shields?)\b", "goggles"),
            (r",? in (?:each|every) case\b|,? in both cases\b", ""),
            (r",? from (?:the |one )?([a-z]+(?: [a-z]+)?) to (?:the |the other |another )?\1\b(?! \d)", ""),
            (
                rf"\bone to the (left|right) of (the [a-z]+) and (?:one|the other) to the (left|right)(?: of it)?, ({_LEN}) (?:from|away from) it\b",
                r"one \4 to the \1 of \2 and one \4 to the \3 of \2",
            ),
            (
                r"\b(?:with|by) (?:a|one) ([a-z ]*?washer)( \([^)]*\))? (?:on |at )?(?:either|each) side\b(?: of [^.,;]*)?(?:,? which makes two)?",
                r"with two \1s\2",
            ),
            (
                r"\b(in|at|during|until|from|by|see) ((?:steps|stages|sections|jobs)) \d+[a-z]?(?:, \d+[a-z]?)*,? (?:and|or|&) \d+[a-z]?\b",
                r"\1 those \2",
            ),
            (
                r"\bwhile (?:another|the other|a second|somebody|someone|a helper|your helper)(?: person| one)? (?=(?:puts|drives|fits|pushes|slides|slips|screws|bolts|passes)\b)",
                "; a helper ",
            ),
            (
                r"^that(?:['’]s| is)(?: then)?(?: a total of)? (?=(?:\d+|[a-z]+) [\w -]+? (?:in|on|for|to) (?:each|every|an?|the)\b)",
                "That makes ",
            ),
            (
                r"^((?:all|both|the) [\w() -]+?), (?:lower and upper|upper and lower|left and right|large and small|small and large|inner and outer|top and bottom|long and short|short and long)(?: alike)?, ",
                r"\1 ",
            ),
            (
                rf"^({many} [\d, ]+(?:and|to) \d+) are (?:termed|styled|designated|called|known)(?: as)? ([\w -]+?),? (?:and )?({many} [\d, ]+(?:and|to) \d+) as (?=[a-z])",
                r"\1 are the \2; \3 are the ",
            ),
            (r"\b(is|are) (?:termed|styled|designated|referred to|known)(?: as)? (?:the )?(?=[a-z])", r"\1 the "),
            (rf"(?<=[\w]) likewise (?=(?:an?|{_NUM}) )", " "),  # "On hoop 7 likewise one clamp is laid round"
            (
                rf",? (?:i\.e\.|that is|making|thus|hence|in other words),? {_NUM} (?:on|to|per|for|at|in) (?:each|every|a|either|both) (?:side|hoop|half|leg|end|row|tube)s?(?=[.;,]|$)",
                "",
            ),
            (rf"^({many}) with (?:an )?(odd|even) numbers?\b", r"The \2-numbered \1"),
            (
                r"^((?:an?|one|two|three|four|\d+) [\w -]+?(?:bolt|screw|pin|rivet|nail)s?) (?:pass(?:es)?|go(?:es)?|runs?) (?:right |straight )?through ",
                r"Put \1 through ",
            ),
            (rf"\b(?:to|at) (?:a|the) (?:level|height|mark) of (?={_LEN})", "at "),
            (
                rf", the first (?:at|to|being) ({_LEN}) and the second(?:, [\w ]{{3,20}},)? (?:at|to|being) ({_LEN})",
                r", one at \1 and one at \2",
            ),
            (
                rf"^{_NUM} ([\w -]+?) are (\w+ (?:about|round|around|over|on|onto|to)) (the [^,;:]+), ({_NUM}) (?:to|on|per) (?:an?|each|every) \w+(?=[,.;])",
                r"\4 \1 is \2 each of \3",
            ),
            (
                r"\b(has|takes|gets|carries|receives) (?:an?|one) ([\w -]*?(?:washer|nut|pin|cap)) (?:at|on) (?:either|each|both) (?:end|side)s?(?: of it)?\b",
                r"\1 two \2s",
            ),
            (rf"\ball (?:of )?(?:the )?({many}) (?:in )?between\b", r"the intermediate \1"),
            (rf"\bthe ((?:two|three|four|five|\d) {many}) in the middle\b", r"the middle \1"),
            (
                rf"^there are ({_NUM}) (joints|joins|splices|butts) in (?:it|them|this|each), (?:and )?each (?:has|takes|gets|needs) ((?:an?|one|two|three|\d) [\w -]+?)\.?$",
                r"Put \3 into each of its \1 \2.",
            ),
            (r",? with the (?:sole |single |one )?exception of ", " except "),
            (
                r"^((?:an?|one|two|three|four|six|\d+) [\w -]+?) (?:close|hold|secure|fasten|join|lock|fix|pin|retain)s? (each|every) ((?:[\w-]+ )?(?:joint|shoulder|foot|splice|leg|upright|seam))(?=[,.;]|$)",
                r"Secure \2 \3 with \1",
            ),
            (
                r"^((?:an?|one|two|three|four|\d+) [\w -]+?(?:, each with (?:an?|one|two|its) [\w -]+?,)?) shuts? (?=(?:an?|each|every|the) )",
                r"\1 closes ",
            ),
            (
                r"^(?:pin|secure|fix|bolt|fasten|lock|close) (every|each) ([\w -]*?(?:foot|joint|leg|shoulder|upright)): ((?:an?|one|two|three|four|\d+) [\w -]+?) through (?:the )?[\w -]+? and (?:the )?[\w -]+?(?=,| with\b|\.|$)",
                r"Put \3 through \1 \2",
            ),
            (
                r",? that is (?:to say )?(?:one|two|three|four|five|six|\d+) on the left and (?:one|two|three|four|five|six|\d+) on the right\b",
                "",
            ),
            (rf"^(.*{_LEN}.*), (?:all|each)(?: of them)?(?: measured| taken)? (from the [a-z]+|up)\.?$", self._all_from),
            (
                rf"^((?:[\w ]+: )?(?:now |then )?(?:slide|push|thread|pass|slip|move|put|bring|run|work|draw)\b[^.]*?), to (?={_LEN}(?:$|[.,;)]))",
                r"\1, at ",
            ),
            (
                rf"\b(each|both|either|the (?:left|right|far|near)) (?:free |open |tube )?end(s?) of (?:(?:each|every|an?|(?:all|every one of|each of)(?: the)?)(?: {_NUM})?) {many}\b",
                lambda match: f"{match[1]} {'feet' if match[2] else 'foot'} of each {hoop_word}",
            ),
            (
                rf"\b(each|both|either) (?:free |open |tube )?end(s?) of ((?:the )?{hoop}s? \d+(?:, \d+)*(?:,? (?:and|to|&) \d+)?)\b",
                lambda match: f"{match[1]} {'feet' if match[2] else 'foot'} of {match[3]}",
            ),
            (patterns.MIDDLE_TOLD, r"\g<middle>"),
        ]

    def _hoops(self, hoop: str, many: str) -> list[Rule]:
        """Which hoops are meant."""
        hoop_word = _first_word(hoop)
        return [
            (
                rf"\b(every (?:\w+ )?{hoop}),? (?:the first of (?:these|them|which) (?:being|is)|beginning with|starting (?:with|at|from)) ({hoop} \d+)",
                r"\1 from \2",
            ),
            (
                rf"\bthe ((?:two|three|four|five|six|\d) {many}) (?:nearest|next to|closest to|at) the (?:back|far end|rear|last {hoop})\b",
                r"the last \1",
            ),
            (
                rf"\bthe ((?:two|three|four|five|six|\d) {many}) (?:nearest|next to|closest to|at) the (?:front|door|entrance|near end|first {hoop})\b",
                r"the first \1",
            ),
            (rf"\bthe ({self.ordinal}(?:, (?:the )?{self.ordinal})+,? and (?:the )?{self.ordinal}) {many}\b", self._by_ordinals),
            (
                rf"\bthe ({self.ordinal}(?:, (?:the )?{self.ordinal})*,? and (?:the )?{self.ordinal})(?=[,;:]| (?:wants?|takes?|gets?|has|have|needs?|carry|carries|an?|one|two|three|four)\b)",
                self._by_ordinals,
            ),
            (
                rf"\bthe ({self.ordinal}) to (?:the )?({self.ordinal}) (?=(?:{many}|wants?|take|get|have|need|carry|an?|one|two|three|four)\b)",
                self._span,
            ),
            (
                rf"^(?:every|each) (?:other|second|third|alternate) {hoop} (.*?), (?:that is to say|that is|namely|i\.e\.),? ({plural(hoop_word)} \d[\d, ]* and \d+),? (.*)$",
                r"\2 \1, \3",
            ),
            # "Rear frame: as the door frame"
            (
                rf"^([^:;.]*\b{many}\b[^:;.]{{0,20}}): (?:just |exactly |same )?as (?:for |on )?((?:the )?[^:;.,]*\b{many}\b[^:;.,]*)(?=\.?$)",
                r"\1 is dressed like \2",
            ),
            (rf"\b(end {many}) \(\d+ ?(?:[+&,]|and) ?\d+\)", r"\1"),
            (rf"^(?:starting|beginning|working) (?:at|from|with) (?:{many} \d+|the [\w-]+ {many}),? (?=[a-z])", ""),
            (rf"\b(every|each|all|the) ({hoop})(s|es)? with (?:an )?(odd|even) numbers?\b", r"\1 \4-numbered \2\3"),
            (rf"\ball (?:but|except|save) (?=(?:the )?(?:\w+ ){{0,2}}{many}\b)", "all hoops but "),
            (rf"\b(?:each|every|all) {many} from {hoop} (\d+) (?:onwards?|on|upwards)\b", r"each of hoops \1 onwards"),
            (rf"\bfrom {hoop} (\d+) (?:onwards?|on|upwards),? (?:each|every) {hoop}\b", r"each of hoops \1 onwards"),
            (rf"\bthe (\w+) {hoop} from the (?:far|back|rear|other|last) end\b", self._from_far),
            (rf"\bthe {hoop} (?:at|on) the (?:far|back|rear) end\b", "the last hoop"),
            (rf"\bthe {hoop} (?:nearest|next to|closest to) the (?:door|entrance|gate)\b", "the first hoop"),
            (rf"\bthe {many} (?:on )?(?:either|each) side of (?:the (\w+) bay|bay (\d+))\b", self._beside_bay),
            (r"\bleft and right (?=(?:legs|halves|tubes|feet|sides|rafters|uprights|sections)\b)", "both "),
            (
                rf"\b(?:the|each|every|all|both|these) (?:[\w-]+ )?{many} \(((?:{many} )?\d+(?:, \d+)*(?:,? (?:and|&) |, )\d+)\)",
                r"hoops \1",
            ),
            (
                rf"\b((?:the|these|those|both) [\w-]+ {hoop}e?s) (one|two|three|four) (?=(?:on|to|at|over|round) (?:each|every|either)\b)",
                r"\1, \2 ",
            ),
            (rf"\b((?:an?|each|every|one) {hoop}) end to end\b", r"\1"),
            (
                rf"\b(into|in|through|at|with) each (join|joint|splice|butt), ({_NUM}) \2s (?:on|to|per|at|for) (?:a|each|either|every) side\b",
                r"\1 each of the \3 \2s on each side",
            ),
            (rf",? (?:so|that is|making|which is) (?:just |only )?{_NUM} {many} in all", ""),
            (rf",? (?:that is |making |so )?{_NUM} (?:for|on) (?:both|the two) sides together", ""),
            (
                rf"^(?:while|with|when|as long as) ((?:the )?(?:[\w-]+ )?{many}(?: \d[\d, ]*(?:(?:and|to) \d+)?)?) (?:are |is )?(?:still |yet )?(?:on|lying|down|flat|loose|open|apart|in)\b[^,:;]*, ",
                r"On \1, ",
            ),
            (
                rf"\bthe (left|right) (\w+) and (another|one|the other|a second) (\w+) the (left|right) \2 of ((?:(?:each|every|all|the|both) )?(?:[\w-]+ )?{many}(?: \d[\d, ]*(?:(?:and|to) \d+)?)?)(?=[,.;]|$)",
                r"the \1 \2 of \6 and \3 \4 the \5 \2 of \6",
            ),
            (
                rf"^(?:then |now )?up with (?:them|the {many})(?: all)?(?:, {hoop} \d+ first)?(?=[,.;]|$)",
                f"Stand all the {plural(hoop_word)} up",
            ),
            (rf", {hoop} \d+ first(?=[,.;]|$)", ""),
            (
                rf", which (?:makes|gives|leaves) ({_NUM}) (joints|joins|splices|butts)(?: in all)?,? (?:and )?(?:I |we |you )?(?:put|drive|use|turn) ((?:an?|one|two|three|\d) [\w -]+?) (?:in|into|through|to) (?:each|every one)(?=[.,;]|$)",
                r". Put \3 into each of its \1 \2",
            ),
            (
                rf"^(each|every|an?) ([\w-]+(?: [\w-]+)?) (?:goes|fits|clamps|closes|sits|reaches) [^,;.]*? and (takes|has|gets|needs) (?={_NUM} )",
                r"\1 \2 \3 ",
            ),
        ]

    def _exceptions(self, hoop: str, many: str) -> list[Rule]:
        """An exception with its own number, and what goes on in several places."""
        hoop_word = _first_word(hoop)
        return [
            (
                rf"^(each|every) ({hoop}) ({_TAKES}) ({_NUM}|an?) ([\w -]+?), (?:except|but|save) ({many} \d+|the [\w ]*{many}),?"
                rf" which {_TAKES} ({_NUM})\.?$",
                r"\1 \2 except \6 \3 \4 \5; \6 \3 \7 \5.",
            ),
            (
                rf"^(each|every) ({hoop}) ({_TAKES}) ({_NUM}|an?) ([\w -]+?)[,;] (?:but |and )?({many} \d+|the [\w-]+ {many})"
                rf" {_TAKES} ({_NUM})\.?$",
                r"\1 \2 except \6 \3 \4 \5; \6 \3 \7 \5.",
            ),
            (rf"\b({many}\b[^.;:]*) and ({_NUM}) (onto|on|to) each of the others\b", r"\1 and \2 \3 each of the other hoops"),
            (
                rf"\b(?:the (?:front|first|back|last|end) {hoop}|{hoop} \d+)((?: [\w ]{{0,30}})?), (?:and )?then (?:of |on |onto )?(?:all )?the (?:rest|others?)"
                rf"(?: of the {many})?\b(?:, working \w+)?",
                r"all the hoops\1",
            ),
            (r"^(?:now |then )?follow with (?:all )?the (?:rest|others?)(?=[.,;]|$)", "Follow with the other hoops"),
            (rf"\b(on|onto|over|to) one {hoop} after (?:another|the other)\b", r"\1 each hoop"),
            (rf"\b({many}) one (?:after|by) (?:the other|another|one)\b", r"\1"),
            (
                r", (?:beginning|starting|working) (?:at|from|with|away from) the (?:door|front|back|gate|rear|(?:far|near|door|front|back) end)\b",
                "",
            ),
            (
                rf"^(?:now |then )?do (?:all )?the (others?|rest|other {many})(?: of the {many})? (?:like that|that way|the same way|in the same way|likewise|just the same|the same)",
                r"Repeat for the \1",
            ),
            (
                r"\b(every|each|all) ([\w -]{1,20}?) in the (?:house|tunnel|frame)\b(?:, these \w+ included,)?",
                rf"\1 \2 of every {hoop_word}",
            ),
            (
                r"^((?:an?|each|every|the) [\w -]+?)(?: of (?:either|any|each) (?:sort|kind|size))? (is|takes|has|gets|needs) (.+?),? and so (?:is|does|has|do|are) ((?:an?|each|every|the) [\w -]+?)\.?$",
                r"\1 and \4 \2 \3.",
            ),
            (r"^its (?:two )?(?:halves|jaws|ears|shells) are\b", "It is"),
            (r"^the (?:two )?(?:halves|jaws|ears|shells) of (an?|each|every|the) ([\w -]+?) are\b", r"\1 \2 is"),
            (r"^after (?:that|this),? (?=(?:every|each|all|the|you|an?|one|two|both|on|onto)\b)", "Then "),
            (r",? (?:with|by|using) (?:the|its|their) (?:[\w-]+ )?[\w-]+'s own [\w-]+", ""),
            (rf"\bon all ({_NUM})(?=[,:;.]| (?:an?|one|two|three|four)\b)", self._on_all),
            (r"\b(over|on|onto|round|around|to|under) each of (?:its|the|their) ([\w-]+?)s(?=[.,;]|$)", r"\1 each \2"),
            (
                rf"(\bend {many}\b[^.;]*?)\bthe {many} (?:next to|beside|behind|inside) (?:them|those|these)\b",
                rf"\1the second and second-to-last {plural(hoop_word)}",
            ),
            (
                rf"\b(each|every one|all) of the ({_NUM}) (?:places|points|spots) where (?:they|the (?:lengths|pieces|tubes)) (?:meet|join|are joined|touch)\b",
                r"\1 of the \2 joints",
            ),
            (r"\b(?:meeting|joining) (?:place|point)(s?)\b", r"joint\1"),
            (
                r"^(?:and |then |now |finally )?(?:do|proceed|act|repeat|continue) (?:likewise|similarly|identically|so too|so again) (?=(?:on|at|for|with|to|over)\b)",
                "Do the same ",
            ),
            (r"^(?:and |then |now )?the same (?:again|once more|too) (?=(?:on|at|for|with|to|over)\b)", "Do the same "),
            (rf"^(?:up to|as far as)(?: and including)? {hoop} (\d+),", rf"On {plural(hoop_word)} 1 to \1,"),
            (
                rf"\bfrom {hoop} (\d+) (?:on |down |along |back |up |right )*to the (?:(?:far|back|rear|other) end|{self.far})\b",
                self._to_the_far_end,
            ),
            (r"\b(?:go|run|work) through (steps? [\d, and]+\d) (?:once )?again\b", r"repeat \1"),
            (
                r"^(?:then|now|next) the (left|right)(?:-hand)? side,? (?:by the same rules?|likewise|in the same way|the same)\b",
                r"Do the same on the \1 side",
            ),
            (
                rf",? except(?:ing)? (?:that )?({many} \d[\d, ]*(?:(?:and|to) \d+)?) (?:is|are) (?:left out|left free|left bare|skipped|omitted|passed over)\b",
                rf" of all the {plural(hoop_word)} except \1",
            ),
        ]

    def _shares(self, hoop: str, many: str) -> list[Rule]:
        """What each of several takes, and clauses without their verb."""
        return [
            (
                rf"^(.*?\b){_NUM} ([\w -]+?) ({_ONTO}) ((?:the )?(?:\w+ ){{0,2}}{many}\b[^,:;]*), ({_NUM}) (?:on|to|per) each\.?$",
                r"\1\5 \2 \3 each of \4.",
            ),
            (
                rf"^(\w+) {_NUM} ([\w -]+?), ({_NUM}) (?:to|on|per) (?:a|each|every) ({hoop}), on (?:the|all|all the) {many}",
                r"\1 \3 \2 on each \4",
            ),
            (rf"^(\w+) {_NUM} {_KIND} ({_ONTO} [^:;,]+): ((?:{_NUM}|an?) [^:;]+?)\.?$", r"\1 \3 \2."),
            (rf"(\bas (?:required|needed|necessary))( {_ONTO} [^.;,]+)", r"\2 \1"),
            (
                rf"^((?:\w+ )?(?:two|three|four|\d) [\w -]+?), (one [^,;:.]{{3,40}}?), ((?:go(?:es)? )?{_ONTO} [^,;:]*?)(?=\.?$)",
                r"\1 \3, \2",
            ),
            # a clause without its verb, or joined by a comma alone
            (rf", (?:and )?((?:each|every) (?:[\w-]+ )?{hoop}) ({_NUM})(?=\.?$)", r"; \1 takes \2"),
            (rf",\s+(?:and )?(?=(?:{many} \d+|the others?|(?:the|every|each) (?:\w+ )?{many}) {_TAKES} {_NUM}\b)", "; "),
            (rf"(?<=; )the (?:others|rest) (?={_TAKES}\b)", "the other hoops "),
            (rf"(?<=[:;] )(?:likewise|similarly) (?={_NUM}\b)", ""),
            (r"\b(?:a|one) ([a-z]+(?: [a-z]+)?) or two\b", r"one or two \1s"),
            (rf"^(?:on|onto|to) ({many} \d+) (?:go|goes) ([^,;]+), (?:on|onto|to) ({many} \d+) (.+?)\.?$", r"\1 takes \2; \3 takes \4."),
            (rf"^(\w+) ({many} [^;]+? like {hoop} \d+),? and ({many} [\d, and]+ like {hoop} \d+)\.?$", r"\1 \2; \1 \3."),
        ]

    def _order(self, hoop: str, many: str) -> list[Rule]:
        """The order of fitting, number and host."""
        return [
            (rf"^([A-Z][a-z]+(?: [a-z]+){{0,2}}s): ({_NUM}) ((?:per|on|to|for) (?:each |every |the )?(?:\w+ )?{many}\b.*)$", r"\2 \1 \3"),
            (
                rf"^(an?|{_NUM}) ([\w -]+?) (?:fix(?:es)?|holds?|secures?|fastens?|attach(?:es)?) (the [\w -]+?) to ((?:each|every|the) [^,;]+?)\.?$",
                r"Fix \3 to \4 with \1 \2.",
            ),
            (
                rf"^(.*?\b(?:into|on|onto|over|to|at|in) (?:each|every|both|either) (?:open )?ends? of )(the [\w -]+?) and (?:of |also of )?"
                rf"((?:both|the two|all|each)(?: the)? (?!{many}|ends? )[\w -]+?)\.?$",
                r"\1\2; \1\3.",
            ),
            (
                rf"^(?:then |now )?(\w+) (?:an?|one) ([\w -]+?) (into|onto|on|over|to|in|at) (?:each|every) (?!(?:\w+ )*(?:{many}|leg|foot|side|joint)\b)([^,]*?),"
                rf" ({_NUM}) in (?:all|total)\.?$",
                r"\1 \5 \2s \3 the \4.",
            ),
            (
                r"^at (each|every) ([\w -]+?),? the (?:\w+ )?(?:end|foot|head|top|bottom) of (?:the|each|its) [\w -]+? is (?:held|fastened|fixed|secured|bolted|pinned)"
                r"(?: \w+)? (?:by|with) ",
                r"\1 \2 takes ",
            ),
            (
                r"^((?:an?|one|two|a single|a pair of) [\w -]+?(?: \([^)]*\))?)( with (?:an?|one|two|a single) [\w -]+?)? (?:draws?|pulls?|nips?|pinch(?:es)?|snugs?) "
                r"(each of (?:them|these|those)|each|it|them|(?:the|an?|each|every) [\w, -]+?) (?:up|tight|together|shut|home)\b",
                r"\1\2 holds \3",
            ),
            (
                rf"^((?:an?|each|every|the) [\w -]+? (?:is|are) (\w+) (?:with|by) \w+ ([a-z][\w -]+?))"
                rf"((?:[,;] (?:and |but )?(?:an?|each|every|the) [\w ,-]+? (?:with|by) (?:only |just )?{_NUM}(?: each)?)+)\.?$",
                self._gapped,
            ),
            (r"^(?:then )?hinge (?=(?:an?|one|two|each)\b)", "Put "),
            (rf"\bwalk (it|them|(?:the|each|every) {many}|{many} \d+) (?:up|upright)\b", r"raise \1"),
            (r"\band its (?:fellow|partner|twin|mate|counterpart) (?=(?:onto|on|over|to)\b)", "and one "),
            (r", half of (?:them|these|those) (?:in|into) [^,.;]+? and (?:the other )?half (?:of them )?(?:in|into) [^,.;]+", ""),
            (
                rf"^(?:then )?give (each of (?:its|the|their|these|those) [\w -]+?s|(?:each|every|both) (?!of)[\w -]+?) (?=(?:{_NUM}|an?|a pair of) )",
                r"\1 takes ",
            ),
            (r"^give (each|every) ([\w -]+?)( \([^)]*\))? its (?:own )?(?!(?:bolts|screws|nuts|washers|clips)\b)", r"\1 \2\3 takes one "),
            (r",? which (?:is|are) [^,;.\d]{3,40}, (?=(?:into|onto|on|over|round|in|to|through)\b)", " "),
            (
                rf"\bthere (?:is|are) ({_NUM}) ([a-z][\w -]*?) (?:in|on|to|for) ((?:an?|each|every) [\w -]+?)((?:,? (?:and|but) {_NUM} (?:in|on|to|for) (?:an?|each|every) [\w -]+?)+)(?=[,.;]|$)",
                self._one_in_each,
            ),
            (
                rf"^there (?:is|are) ({_NUM}) ([a-z][\w -]*?)(s?) (?:in|on|to|for) ((?:an?|each|every) [\w -]+?) and each (?:of (?:them|these) )?(?:has|takes|gets|carries) ([^,;:]+)$",
                r"\4 takes \1 \2\3; each \2 takes \5",
            ),
            (r"^(?:to|on) the (left|right)(?: (?:of|side)\b[^,.;]*?)?,? do (?:just |exactly )?the same\b", r"Do the same on the \1"),
            (rf",? (?:placed|set|fitted|arranged|spaced|in order) (?:just )?as (?:on|in|at) the [\w -]*?{many}\b", ""),
            (r"\b(is|are) each (?=(?:[a-z]+ed|drawn|held|shut|bound|wound)\b)", r"\1 "),
            (
                r"\bstart (every one of them|each of them|them all|each one|every one|(?:each|every) [\w-]+) with (?:its|an?|one) ([\w -]+?)(?=[,.;]|$)",
                r"put one \2 on \1",
            ),
            (
                r"^(?:to|on) the (left|right) of the ridge(?: [a-z]+)?,? (?=(?:go(?:es)?|comes?|sits?|put|slide|fit|thread)\b)",
                r"On the \1 side ",
            ),
            (r"\b(one|each|every|a) (length|section|piece|tube) (?:plugs|slots|screws|clips) (into|together)\b", r"\1 \2 fits \3"),
            (
                rf", each with ({_NUM}) ([a-z][\w -]*?) (?:in|into|through) [^,.;]+? and ({_NUM}) (?:in|into|through) [^,.;]+",
                self._each_with,
            ),
            (r"^in (an?|each|every) ([\w -]+?) there (?:is|are) ", r"\1 \2 takes "),
            (r"\bwith (an?|one) ([\w -]*?washer) under (?:its|the) ([a-z]+ nut)\b", r"with one \3 and one \2"),
            (r"^(?:here |there |now |instead )?(an?|one|two) ([\w -]+?) takes? the place of [^,.;]+(?=[,.;]|$)", r"Put \1 \2 on"),
            (
                rf": one from the left (?:end|foot|side) and (?:one|the other|another) from the right(?: end| foot| side)?,? each (?:up |down )?to ({_LEN}) from the (?:middle|centre|center|ridge)\b",
                r": one on the left side, \1 from the ridge, and one on the right side, \1 from the ridge",
            ),
            (
                rf": one from the left (end|foot) and (?:one|the other|another) from the right(?: end| foot)?,? each (?:up |down )?to ({_LEN}) from the (?:end|foot|tip)\b",
                r": one \2 from the left \1 and one \2 from the right \1",
            ),
            (
                rf"({_LEN}) (from|to the left of|to the right of|left of|right of|either side of|each side of) the (?:middle|centre|center|mid-?point)\b(?! of| {hoop})",
                r"\1 \2 the ridge",
            ),
            (r"^before you (?:go|leave|finish|stop|pack up|put the tools away)\b[^,.;:]{0,25}?,? (?=(?:see|check|look|make|count)\b)", ""),
            (
                r"^the ([\w -]+?)s are (?:just |exactly |much |done )?(?:the same as|like) (?:the|those)[^:;.]*: (?=on\b)",
                r"On each \1: ",
            ),
            (r"^([^:]*: on [^,;:]+? (?:an?|one|two|three|four) [^;:]*)$", self._hosts_apart),
        ]

    def _verbs(self, hoop: str, many: str) -> list[Rule]:
        """Verbs."""
        return [
            (
                rf"^open (the )?({_NUM}) ([\w -]+?)s( \([^)]*\))? and (?:shut|close|put|hang|clip|fix|fasten) one (?=(?:on|onto|over|round|around|to|at)\b)",
                r"Put one \3\4 ",
            ),
            (
                rf"\b(on|onto|over|to|round|around) (one|either) of (?:the|its|their|these|those|both|the two) (?!{many}\b)([a-z]+(?: [a-z]+)?)s(?=[,.;]|$)",
                r"\1 one \3",
            ),
            (r"\bin the (two|three|four|both|pair) of them\b", "in them"),
            (r"\b((?:each|every|an?|the|this)(?: [a-z]+){1,2}) (?:plugs|clips|screws|bolts|hooks|slots) together\b", r"\1 fits together"),
            (
                r"^((?:an?|each|every|the) [\w -]+?) (?:has|have|must|needs?|is|are) [^,;.\d]*? and (?:so |therefore )?is given (?=(?:an?|one|two|three|four|\d)\b)",
                r"\1 takes ",
            ),
            (r"\bstay(s?) put\b", r"stay\1"),
            (r"^((?:every|each) joint), (?:at|on|in|both) [\w ,]+?(?: alike)?, (?=is|are|takes|gets|has)", r"\1 "),
            (
                rf"^where (?:an?|each|the|every) ([\w-]+(?: [\w-]+)?) meets? (?:the|an?|each|its) {hoop}, (fix|hold|join|secure|bolt|fasten) (?:it|them|the two)(?: together)? ",
                r"\2 each \1 to the hoop ",
            ),
            (r"\b(close|lay|put|clamp|fold|bolt) (?:the )?(?:two )?(?:halves|jaws|shells) of (an?|one|each|the) ", r"\1 \2 "),
            (
                r"\b(one|each|every|per|a|this) run(?=$|[,.;:)]| (?:of|is|are|takes?|gets?|has|needs?|with|and|in|on|to|from)\b)",
                r"\1 length",
            ),
            (
                r"^((?:an?|each|every|the) [\w -]+?) (?:has|have|is|are) [^,.;]*? and (?:so|therefore|for (?:that|this) reason),? (?=(?:takes?|gets?|needs?)\b)",
                r"\1 ",
            ),
            (
                r",? and each (bolt|screw|nut|pin|rivet|washer) (?:again |in turn |itself )?(?:with|having) (?=(?:an?|one|two|three|its)\b)",
                r"; each \1 takes ",
            ),
            (r"\b(is|are) (?:needed|required|called for|wanted) (?=(?:at|on|for|to|in)\b)", r"\1 fitted "),
            (rf"\b(?:fit|dress|kit) ({many} [^.;]+?) out (?:as|like) ({many} [^.;]+)", r"\1 is dressed like \2"),
            (rf"\b(they|these) each (?={_TAKES}\b)", r"\1 "),
            (r", each with (?:its|their|an?|one) (?:own )?([\w -]+?)(?=[.,;]|$)", r", a \1 on each"),
            (
                r"^(.{3,60}?) (?:go|goes|lie|lies|sit|sits|come|comes) (?:under|beneath) the head of each ([\w -]+)\.?$",
                r"Each \2 takes \1.",
            ),
        ]
