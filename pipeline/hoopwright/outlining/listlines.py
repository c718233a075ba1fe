"""Lists without bullets: rows that each begin or end with a number of pieces, set one below the other."""

from __future__ import annotations

import re
from collections.abc import Collection

from hoopwright.outlining.numbering import dangling, finished
from hoopwright.outlining.quantities import leading, trailing
from hoopwright.outlining.rows import Sheet
from hoopwright.outlining.vocabulary import vocabulary

# "2 pcs. Folding clamp", "4 x bolt"
COUNTED = re.compile(r"^\d{1,4}\s*(?:[x×]\s|off\b|no\.?\s|nos\.?\s|p(?:c|ce|cs)\.?\s|pieces?\b|ea\b)", re.IGNORECASE)
_BRACKETED = re.compile(r"^\(\d{1,4}\)\s+[A-Z]")  # "(16) Girt clips"
_CONTAINER = re.compile(
    r"^(?:bag|box|tray|carton|pack|packet|sack|tin|bundle|parcel|crate) (?:[A-Z]{1,2}\d?|\d{1,2})\s*[:.–—-]\s+(?=\d)", re.IGNORECASE
)
_TAILED = re.compile(  # "leg tube, 48 mm (12)", "crop bar x 4", "rail clip, closed ....... 16"
    r"[A-Za-z][^.;:()]{2,60}(?:\([^()]*[A-Za-z][^()]*\) ?)?(?:\(\d{1,4}\)| [x×] ?\d{1,4})"
    r"|[A-Za-z][^;:]{2,60}?\s?(?:\.{3,}|…+|(?:\. ){3,})\s*\d{1,4}"
)
_SHORT = 0.85  # a full row that begins with a number may as well be running text
_CODED = re.compile(
    rf"^(?:(?:{vocabulary().code_words}\.?\s+)?\(?[A-Z]{{1,2}}[-.]?\d{{0,3}}\)?|{vocabulary().code_words}\.?\s+\d{{1,3}})\s*[:=–—-]\s+\S",
    re.IGNORECASE,
)


def list_lines(sheet: Sheet, closed: Collection[int], *taken: Collection[int]) -> frozenset[int]:
    """Positions of the rows that are points of such a list: at least two neighbours of the same form, none of them running on."""
    forms = {
        i: form
        for i, row in enumerate(sheet.rows)
        if i not in closed and not any(i in some for some in taken) and (form := _form(row.text)) is not None
    }
    rows_of_numbers = {i for i in forms if all(forms.get(k) == "numbered" for k in (i, i + 1, i + 2))}
    rows_of_numbers |= {k for i in rows_of_numbers for k in (i + 1, i + 2)}
    forms = {i: form for i, form in forms.items() if form != "numbered" or sheet.rows[i].reach < _SHORT or i in rows_of_numbers}
    return frozenset(i for i, form in forms.items() if _has_neighbour(sheet, forms, i, form))


def _form(text: str) -> str | None:
    """ "28 x saddle clamp" is counted, "Ten ground tubes" numbered, "H: saddle clamps - 28 No." coded, "crop bar (4)" tailed.

    A container in front ("Tray 1:  7 ridge loops") makes no difference. Other rows have no form.
    """
    text = _CONTAINER.sub("", text)
    if (
        len(text) > 90
        or re.search(r"[.!?]\s+[A-Z]", COUNTED.sub("", text))
        or (text.endswith((".", ":")) and not re.search(r"\b(?:no|off|pcs|nos)\.$", text, re.I))
    ):
        return None
    if COUNTED.match(text):
        return "counted"
    if _BRACKETED.match(text):
        return "bracketed"
    if leading(text) is not None and re.match(r"\d|[A-Z]", text):
        return "numbered"
    if _CODED.match(text) and trailing(text) is not None:
        return "coded"
    return "tailed" if _TAILED.fullmatch(text) else None


def _has_neighbour(sheet: Sheet, forms: dict[int, str], i: int, form: str) -> bool:
    return (_next_to(sheet, forms, i, form, -1) and _parted(sheet, i)) or (_next_to(sheet, forms, i, form, 1) and _parted(sheet, i + 1))


def _next_to(sheet: Sheet, forms: dict[int, str], i: int, form: str, step: int) -> bool:
    # Numbers that are set flush right begin at different places.
    return forms.get(i + step) == form and abs(sheet.rows[i].indent - sheet.rows[i + step].indent) <= (2 if form == "numbered" else 1)


def _parted(sheet: Sheet, i: int) -> bool:
    """True if row ``i`` does not go on with the row before it, as "… and two or" / "three clips" would."""
    before = sheet.rows[i - 1].text
    return (
        sheet.rows[i].gap == "hard" or finished(before) or not dangling(before) or (before.endswith(",") and sheet.rows[i - 1].reach < 0.7)
    )
