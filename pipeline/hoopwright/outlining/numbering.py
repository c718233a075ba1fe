"""Which numbers at the start of a row are labels, and which only the wrapped text of a sentence ("… the first\\n2. hoop")."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from hoopwright.outlining.labels import Label, bullet, follows, labels, roman_heads, starts
from hoopwright.outlining.rows import Row
from hoopwright.outlining.vocabulary import vocabulary

_FINISHED = re.compile(r"[.!?:;…][\"'”’)\]*_]*$|[)\]]\.$")
_SHORT = 0.72  # a row that ends before this part of the measure was ended on purpose


@dataclass(slots=True)
class _Last:
    label: Label
    row: int  # position among the rows
    indent: float


@dataclass(slots=True)
class _State:
    """The labels accepted so far, by form."""

    last: dict[str, _Last] = field(default_factory=dict)
    accepted: dict[int, Label] = field(default_factory=dict)


def finished(text: str) -> bool:
    """True if a row's text ends a sentence or announces what follows."""
    return bool(_FINISHED.search(text.rstrip()))


def dangling(text: str) -> bool:
    """True if a row's text cannot end there: "… of the", "… each hoop", "…, "."""
    words = text.lower().rstrip().split()
    if len(words) > 1 and words[-1] == "in" and re.search(r"\d$|[½¼¾⅛⅜⅝⅞]$", words[-2]):
        return False  # "5/16 x 2 in" ends with its unit
    return bool(words) and (words[-1] in vocabulary().dangling or words[-1][-1] in ",-–—(/&")


def numbering(rows: Sequence[Row], closed: frozenset[int], table: frozenset[int]) -> Mapping[int, Label]:
    """Position among ``rows`` → label, for the rows that begin with one.

    ``closed`` holds positions whose row is complete in itself (a heading, a rule): what follows it starts anew.
    ``table`` holds positions inside tables, which have no labels.
    """
    state = _State()
    heads = roman_heads({i: row.text for i, row in enumerate(rows) if i not in table and _head_like(rows, i, closed)})
    candidates = {i: labels(row.text) for i, row in enumerate(rows) if i not in table and not row.rule}
    counts = _bracketed_counts(rows, candidates)
    candidates = {i: () if i in counts else found for i, found in candidates.items()}
    for i, row in enumerate(rows):
        if i in table or (i in heads and not _letter_head(state, row, closed)):
            continue
        for label in candidates.get(i, ()):
            if _accept(state, rows, i, label, closed) and not (label.weak and not _row_of_them(state, candidates, rows, i, label)):
                state.accepted[i] = label
                state.last[label.form] = _Last(label, i, row.indent)
                break
    return state.accepted


def _bracketed_counts(rows: Sequence[Row], candidates: Mapping[int, Sequence[Label]]) -> frozenset[int]:
    """Positions of rows such as "(16) Girt clips" in a list: beside a number in brackets that does not go on counting."""
    number = {i: label.path for i, found in candidates.items() for label in found if label.form == "bracketed number"}
    alike = {i for i in number if i + 1 in number and abs(rows[i].indent - rows[i + 1].indent) <= 1 and rows[i + 1].gap == "none"}
    # Of "(2)", "(1)", "(3)" the one in the middle is a reference at the start of a row.
    told_of = {i for i in alike if i + 2 in number and follows(number[i], number[i + 2])}
    apart = {i for i in alike - told_of if not follows(number[i], number[i + 1]) and i - 1 not in told_of}
    return frozenset(apart | {i + 1 for i in apart})


def _head_like(rows: Sequence[Row], i: int, closed: frozenset[int]) -> bool:
    """True for a row that can be a heading: complete in itself, or short, on its own and without a stop."""
    if i in closed:
        return True
    alone = rows[i].gap == "hard" and (i + 1 == len(rows) or rows[i + 1].gap == "hard" or rows[i + 1].rule)
    return alone and len(rows[i].text) <= 75 and not finished(rows[i].text)


def _letter_head(state: _State, row: Row, closed: frozenset[int]) -> bool:
    """True if a heading's "V." goes on with letters whose steps have headings, too: "U. THE VENTS" before "V. THE DOOR"."""
    for label in labels(row.text):
        last = state.last.get(label.form)
        if label.letter and last is not None and last.row in closed and follows(last.label.path, label.path):
            return True
    return False


def opens(rows: Sequence[Row], i: int, closed: frozenset[int]) -> bool:
    """True if nothing before row ``i`` runs on into it."""
    if i == 0 or rows[i].gap == "hard" or i - 1 in closed or rows[i - 1].rule or rows[i].boxed != rows[i - 1].boxed:
        return True
    before = rows[i - 1].text
    if finished(before):
        return True
    return not dangling(before) and rows[i - 1].reach < _SHORT and not _lower(rows[i].text)


def _accept(state: _State, rows: Sequence[Row], i: int, label: Label, closed: frozenset[int]) -> bool:
    row, last = rows[i], state.last.get(label.form)
    body = row.text[label.body :].lstrip("*_ ")
    next_one = last is not None and follows(last.label.path, label.path)
    beyond_z = len(label.printed) == 2 and label.form.endswith("letter")
    if label.letter and not next_one and (beyond_z or not _letter_starts(label, last)):
        return False
    if row.gap == "hard" or i == 0 or i - 1 in closed:
        # A page break inside a sentence also leaves a blank line; only a small letter behind the label gives it away.
        return not (_lower(body) and i > 0 and dangling(rows[i - 1].text) and not next_one)
    if opens(rows, i, closed):
        return next_one or starts(label.path) or (label.word != "" and last is None) or row.gap == "soft"
    same_place = last is not None and abs(last.indent - row.indent) <= 1
    if not next_one or not same_place or (dangling(rows[i - 1].text) and not _list_goes_on(label, rows[i - 1].text)):
        return False
    # A list that is written without capitals shows it from its first row on.
    return not _lower(body) or (last is not None and last.row == i - 1 and _lower(rows[i - 1].text[last.label.body :]))


def _list_goes_on(label: Label, before: str) -> bool:
    """ "a) one clip," or "a) one clip, and" may stand before "b) one ring"; before a number a comma is no sign of a new point."""
    return label.letter and bool(re.search(r"[,;](?:\s+(?:and|or|then))?$", before.rstrip().lower()))


def _letter_starts(label: Label, last: _Last | None) -> bool:
    """A letter begins a list only as a, A or i; another one may come back after other text ("b)" behind a picture)."""
    return starts(label.path) or (last is not None and label.path > last.label.path)


def _row_of_them(state: _State, candidates: Mapping[int, Sequence[Label]], rows: Sequence[Row], i: int, label: Label) -> bool:
    """True if a number without punctuation is one of a row of at least three that rise by one and head a sentence each."""
    body = rows[i].text[label.body :]
    if _lower(body) or (not body and rows[i].gap != "hard"):
        return False
    last = state.last.get(label.form)
    if last is not None and follows(last.label.path, label.path):
        return True
    if not starts(label.path):
        return False
    want, found = label.path, 1
    for j in range(i + 1, len(rows)):
        for other in candidates.get(j, ()):
            if other.form == label.form and follows(want, other.path) and not _lower(rows[j].text[other.body :]):
                want, found = other.path, found + 1
    return found >= 3


def _lower(text: str) -> bool:
    return bool(re.match(r"[\"'“‘(*_]*[a-zß-ÿ]", text))


def bullets(
    rows: Sequence[Row], labelled: Mapping[int, Label], closed: frozenset[int], table: frozenset[int]
) -> Mapping[int, tuple[str, int]]:
    """Position among ``rows`` → (bullet mark, start of the words), for the rows that begin with a bullet."""
    found: dict[int, tuple[str, int]] = {}
    last: int | None = None
    for i, row in enumerate(rows):
        mark = None if i in table or i in labelled or row.rule else bullet(row.text)
        if mark is None:
            continue
        same = last is not None and found[last][0] == mark[0] and abs(rows[last].indent - row.indent) <= 1
        if opens(rows, i, closed) or (same and not dangling(rows[i - 1].text)) or i - 1 in found or i - 1 in labelled:
            found[i], last = mark, i
    return found
