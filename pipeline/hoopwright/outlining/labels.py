"""Step labels and bullets at the start of a row: "1.", "4.2.1", "(3)", "a)", "B1.", "Step 3 -", "-"."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from hoopwright.outlining.vocabulary import vocabulary

_WORDS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_ROMAN = {"i": 1, "v": 5, "x": 10}
_EM = r"(?P<em>[*_]{0,3})"
_END_EM = r"(?P<close>[*_]{0,3})"

_FORMS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (form, re.compile(rf"^{_EM}{pattern}", re.IGNORECASE if form == "word" else 0))
    for form, pattern in (
        (
            "word",
            r"(?P<word>step|stage|task|operation|phase|job|move|activity|action|procedure|round|part|section|chapter)(?:\s*[-–]\s*|\s+(?:no\.?\s*|number\s*|#\s*)?|(?=\d))"
            rf"(?P<n>\d{{1,3}}(?:\.\d+)*[a-z]?|[ivx]{{2,5}}|[a-z]\d{{0,2}}|{'|'.join(_WORDS)})(?![\w-])(?:\s*(?:of|/)\s*\d+)?(?P<sep>\s*[.:)–—-]*){_END_EM}(?P<sep2>\s*[.:–—-]?)(?:\s+|$)",
        ),
        ("clause", rf"(?P<n>\d{{1,2}}(?:\.\d{{1,2}}){{1,3}})(?P<sep>[.):]?){_END_EM}(?:\s+|$)"),
        ("letter-number", rf"(?P<n>[A-Z][A-Za-z]?[.-]?\d{{1,2}}(?:\.\d{{1,2}})?[a-z]?)(?P<sep>[.):]){_END_EM}(?:\s+|$)"),
        ("number-letter", rf"\(?(?P<n>\d{{1,3}}[a-z])(?P<sep>[.):]{{0,2}}){_END_EM}(?:\s+|$)"),
        ("bracketed number", rf"[(\[](?P<n>\d{{1,3}})(?P<sep>[)\]]\.?){_END_EM}(?:\s+|$)"),
        ("number", rf"(?P<n>\d{{1,3}})(?P<sep>[.):/]|[.][)]|\s*[–—-](?=\s)){_END_EM}(?:\s+|$)"),
        ("circled number", rf"(?P<n>[①-⑳])(?P<sep>){_END_EM}\s*"),
        ("bracketed letter", rf"[(\[](?P<n>[a-zA-Z])(?P<sep>[)\]]\.?){_END_EM}(?:\s+|$)"),
        ("letter", rf"(?P<n>[a-zA-Z])(?P<sep>[.)]){_END_EM}(?:\s+|$)"),
        ("double letter", rf"(?P<n>A[A-Z]|a[a-z]|(?P<twin>[a-zA-Z])(?P=twin))(?P<sep>[.)]){_END_EM}(?:\s+|$)"),
        ("bracketed roman", rf"[(\[](?P<n>[ivx]{{1,5}})(?P<sep>[)\]]\.?){_END_EM}(?:\s+|$)"),
        ("roman", rf"(?P<n>[ivx]{{1,5}})(?P<sep>[.)]){_END_EM}(?:\s+|$)"),
        ("bare letter-number", rf"(?P<n>[A-Z]{{1,2}}[.-]?\d{{1,2}})(?P<sep>){_END_EM}(?:\s+|$)"),
        ("bare number", rf"(?P<n>\d{{1,3}})(?P<sep>){_END_EM}(?:\s+|$)"),
    )
)
_ROMAN_HEAD = re.compile(r"^[*_]{0,3}(?:(?:PART|SECTION|CHAPTER)\s+)?(?P<n>[IVX]{1,6})\s*(?:[.:)–—-]+[*_]{0,3}\s+|\s{2,})(?=\S)")
_BOX = r"(?:\[[ xX_]?\]|[☐□❑])"
_BULLET_BEFORE = re.compile(
    rf"^(?:[-*+•]\s+(?P<ticked>{_BOX}\s+)?|(?P<box>{_BOX}\s+))(?=[*_]{{0,3}}[\w(])"
)  # "- **1.1** Find out …", "[ ] B1  Slide …"
_BULLET = re.compile(r"^(?P<mark>[-*+•·●○▪◦■□▫►▸‣⁃–—»☐☑✓✔❑➢]|\[[ xX]?\]|o(?=\s{1,4}[A-Z]))(?:\s+(?:\[[ xX]\]\s+)?|$)(?=\S|$)")


@dataclass(frozen=True, slots=True)
class Label:
    """A label at the start of a row.

    ``printed`` is the label without its punctuation ("3a"), ``path`` its ordinals ((3, 1)), ``body`` where the row's own words begin,
    ``word`` the word before a number ("step"), ``sep`` the punctuation behind it. ``emphasis`` marks that run on behind the label
    show a bold lead ("**Step 3 – Ridge clips.** Slide …").
    """

    printed: str
    form: str
    path: tuple[int, ...]
    body: int
    word: str = ""
    sep: str = ""
    emphasis: str = ""

    @property
    def weak(self) -> bool:
        """True where only a row of such labels shows that it is one: a number without punctuation."""
        return self.form.startswith("bare")

    @property
    def letter(self) -> bool:
        """True for "a)", "(b)", "iv." and the like, which stand below a numbered step."""
        return ("letter" in self.form and "number" not in self.form) or "roman" in self.form


def _ordinals(printed: str, roman: bool) -> tuple[int, ...]:
    if roman or (len(printed) > 1 and set(printed.lower()) <= set(_ROMAN)):
        values = [_ROMAN[c] for c in printed.lower()]
        return (sum(-v if i + 1 < len(values) and v < values[i + 1] else v for i, v in enumerate(values)),)
    if printed.lower() in _WORDS:
        return (_WORDS.index(printed.lower()) + 1,)
    parts = re.findall(r"\d+|[A-Za-z]", printed)
    return tuple(int(part) if part.isdigit() else ord(part.lower()) - 96 for part in parts)


def _beyond_z(printed: str) -> tuple[int, ...]:
    """The place of "AA" in a row of letters that ran out at Z: 27; "BB" and "AB", of the two ways to go on, are both 28."""
    return (26 + ord(printed[-1].lower()) - 96,)


def roman_heads(texts: Mapping[int, str]) -> frozenset[int]:
    """Keys of the headings that are numbered I., II., III. … in their order; none for a single one, which may be a letter."""
    found: list[int] = []
    for key, text in texts.items():
        match = _ROMAN_HEAD.match(text)
        if match is not None and _ordinals(match.group("n"), roman=True) == (len(found) + 1,):
            found.append(key)
    return frozenset(found) if len(found) > 1 else frozenset()


def labels(text: str) -> tuple[Label, ...]:
    """All readings of what stands at the start of ``text`` as a label, the most telling first. Empty if there is none."""
    found: list[Label] = []
    lead = _BULLET_BEFORE.match(text)
    at = lead.end() if lead else 0
    boxed = lead is not None and bool(lead["box"] or lead["ticked"])
    for form, pattern in _FORMS:
        match = pattern.match(text[at:])
        if match is None or not match.group("n") or (lead and not boxed and form not in ("word", "clause") and not match.group("em")):
            continue
        printed = str(ord(match.group("n")) - ord("①") + 1) if form == "circled number" else match.group("n")
        if _is_measure(form, printed, text[at + match.end() :]):
            continue
        em = match.group("em")
        open_em = em if em and not match.group("close") else ""
        case = "upper " if "letter" in form and printed[0].isupper() and "number" not in form else ""
        word = match.groupdict().get("word") or ""
        if word and printed.islower() and printed.isalpha() and printed not in _WORDS and printed != "a":
            continue
        if word and not match.group("sep").strip() and printed in ("a", "i"):
            continue
        if (
            word
            and not re.search(r"\S", (match.group("sep") or "") + (match.groupdict().get("sep2") or ""))
            and re.match(r"[a-z]", text[at + match.end() :])
        ):
            continue  # "Stage 9 is for the side vents"
        sep = (match.group("sep") + (match.groupdict().get("sep2") or "")).strip()
        found.append(
            Label(
                printed,
                word.lower() if word else case + form.removeprefix("double "),
                _beyond_z(printed) if form == "double letter" else _ordinals(printed, "roman" in form),
                at + match.end(),
                word.lower(),
                sep,
                open_em,
            )
        )
    return tuple(found)


def _is_measure(form: str, printed: str, rest: str) -> bool:
    """True if a number at a row's start is a measure ("1.5 m apart", "12 - 15 mm") and no label ("4.1.2 In addition", "5.2 Foot bolts")."""
    if form in ("word",) or not rest or printed.count(".") > 1:
        return False
    if form == "clause" and re.match(r"(?:In|Foot|Feet)\s[a-z]", rest):
        return False
    if form == "bare number" and re.match(r"(?:In|Foot|Feet)\s[a-z]", rest):
        return False  # "13  Feet still open."
    first = rest.split()[0].lower().rstrip(".,;:)")
    numeric = form in ("clause", "bare number", "number-letter")
    return numeric and (first in vocabulary().units or bool(re.match(r"^[\d/]", first) and form == "bare number"))


def bullet(text: str) -> tuple[str, int] | None:
    """The bullet's mark and where the words behind it begin, or None."""
    match = _BULLET.match(text)
    return (match.group("mark"), match.end()) if match else None


def follows(before: tuple[int, ...], after: tuple[int, ...]) -> bool:
    """True if ``after`` is the next label behind ``before``: 3 → 4, 3a → 3b, 3 → 3a, 4.2.3 → 4.2.4, 4.2.3 → 4.3 or 4.3.1, 3b → 4."""
    for depth in range(len(before)):
        head, value = before[:depth], before[depth]
        if after[: depth + 1] == (*head, value + 1) and all(v == 1 for v in after[depth + 1 :]):
            return True
    return after == (*before, 1)


def starts(path: tuple[int, ...]) -> bool:
    """True for the first label of a list: 1, a, 3.1, B1."""
    return path[-1] == 1
