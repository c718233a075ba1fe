"""Parts lists in tables: which tables are such lists, which column is what, and their rows as entries."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from hoopwright.model.outline import PartsEntry, Passage, SectionRole, Table
from hoopwright.outlining.describing import code_of, describe, is_code, is_size
from hoopwright.outlining.quantities import cell_quantity
from hoopwright.outlining.rawtable import column_kind, head_word
from hoopwright.outlining.roles import role_of
from hoopwright.outlining.vocabulary import vocabulary

_LOOSE = re.compile(r"^\W*$|\b(?:" + "|".join(vocabulary().loose_quantities) + r")\b", re.IGNORECASE)
_ROLL = re.compile(r"(?:rolls?|coils?|reels?|bags?|box(?:es)?|packets?|tins?|tubs?) of (?=[a-z])", re.IGNORECASE)
_COUNTED = re.compile(r"\d{1,4}\s*(?:[x×]|off|pcs?\.?|pieces?|nos?\.)", re.IGNORECASE)
_NUMBER_HEADS = frozenset({"no", "nos", "number", "n°"})
_KITS = re.compile(r"\d+\s*(?:-|\s)?\s*(?:hoops?|m|metres?|ft|bays?)\b|\bkit\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Columns:
    """Column numbers by kind. ``quantities`` holds all columns of numbers of pieces: more than one where a table covers several kits."""

    name: int
    quantities: tuple[int, ...] = ()
    code: int | None = None
    size: int | None = None
    notes: tuple[int, ...] = ()
    bag: int | None = None


def table_entries(table: Table, role: SectionRole, title: str, option: str | None) -> list[PartsEntry]:
    """The entries of a table, empty if it is no parts list."""
    stacked = _stacked(table, role)
    if stacked is not None:
        table, role = stacked, "parts"
    columns = parts_columns(table, role, title)
    if columns is None:
        return []
    entries: list[PartsEntry] = []
    bag = None
    for row in table.rows:
        group = _group_row(row)
        if group is not None:
            bag = re.sub(r"^bag\s+", "", group, flags=re.I) if re.match(r"bag\s+\w+$", group, re.I) else bag
            continue
        entry = _entry(table, row, columns, option, bag)
        if entry is not None:
            entries.append(entry)
    return entries


def _stacked(table: Table, role: SectionRole) -> Table | None:
    """A list set in two columns side by side ("12 | crown tees | 72 | M6 bolts") as one below the other; None for any other table."""
    width = max((len(row) for row in table.rows), default=0)
    for period in (2, 3):
        groups = [range(start, start + period) for start in range(0, width, period)]
        if width % period or len(groups) < 2 or len(table.rows) < (2 if role == "parts" and not table.head else 4):
            continue
        kinds = [tuple("n" if _all_numbers(table, k) else "t" for k in group) for group in groups]
        if len(set(kinds)) == 1 and kinds[0].count("n") == 1 and not any(_counts_up(table, group[kinds[0].index("n")]) for group in groups):
            rows = tuple(
                tuple(row[k] for k in group)
                for group in groups
                for row in table.rows
                if group[-1] < len(row) and any(row[k].text for k in group)
            )
            return Table(table.head[:period], rows, table.caption)
    return None


def parts_columns(table: Table, role: SectionRole, title: str) -> Columns | None:
    """The columns of a parts list; None for any other table."""
    if role in ("tools", "safety", "contents", "other", "summary"):
        return None
    kinds = [column_kind(head) for head in table.head]
    caption = table.caption.text if table.caption else ""
    heads = [head for head in table.head if head.strip()]
    # | In the bag | |, | In the box | Pieces |
    over_all = len(table.head) > 1 and bool(heads) and role_of(heads[0]) == "parts" and (len(heads) == 1 or column_kind(heads[0]) is None)
    announced = _is_coded_list(table) or any(vocabulary().supplied_head.search(head) for head in heads)
    announced = announced or over_all or role == "parts" or role_of(_bare_caption(caption)) == "parts" or role_of(title) == "parts"
    supplied = announced and "quantity" in kinds and "name" in kinds  # a list may say in which step a part is used
    if ("place" in kinds and not supplied) or any(
        re.search(r"\bhoops?\b", head_word(head)) and not _KITS.search(head) for head in table.head
    ):
        return None
    if caption and role_of(_bare_caption(caption)) in ("tools", "summary", "contents", "safety"):
        return None
    across = len(heads) > 1 and not table.head[0].strip() and not any(kinds) and not any(_KITS.search(head) for head in heads)
    if across:
        return None  # "| M8 bolt | M8 nut |" over numbers: what each piece of the list takes
    columns = _by_heads(table, kinds, announced) if table.head else None
    columns = columns or (_by_content(table) if announced else None)
    if columns is None or (not columns.quantities and not announced):
        return None
    return columns


def _is_coded_list(table: Table) -> bool:
    """Whether every row counts pieces, or codes of one kind ("S-a", "S-b") stand before names: a list under whatever heading."""
    width = max((len(row) for row in table.rows), default=0)
    if len(table.rows) < 3 or width < 3:
        return False
    if any(all(len(row) > k and _COUNTED.fullmatch(row[k].text) for row in table.rows) for k in range(width)):
        return True  # "10 x | ground stake | GK"
    codes = [row[0].text.strip(" .:()[]*") for row in table.rows if row]
    kinds = {re.sub(r"\d+|(?<=[-.])[A-Za-z]$", "", code) for code in codes}
    lettered = len(kinds) == 1 and all(is_code(code) and not code.isdigit() and re.match("[A-Za-z]", code) for code in codes)
    return lettered and any(_all_numbers(table, k) for k in range(1, width))


def _bare_caption(caption: str) -> str:
    match = vocabulary().caption.match(caption)
    return caption[match.end() :].strip() if match else caption


def _by_heads(table: Table, kinds: Sequence[str | None], announced: bool) -> Columns | None:
    def of(kind: str) -> list[int]:
        return [k for k, found in enumerate(kinds) if found == kind]

    quantities = of("quantity")
    if not announced and of("code") and of("name") and len(table.rows) > 4:
        announced = _mostly(table, of("code")[0], is_code)  # codes, names and numbers: a parts list under whatever heading
    if not quantities:
        # Several kits side by side: the heads are the kits' names, and the columns hold nothing but numbers.
        quantities = [k for k, found in enumerate(kinds) if found is None and announced and _all_numbers(table, k)]
    names, codes, sizes = of("name"), of("code"), of("size")
    if not names and codes:
        texts = [k for k in codes if not _mostly(table, k, is_code)]
        names = sorted(texts, key=lambda k: -sum(len(cell) for cell in _cells(table, k)))[:1]
        codes = [k for k in codes if k not in names]
    if not names:
        return None
    # "No." is a code where it counts up in front of the names or stands beside "Qty", and a number of pieces elsewhere.
    by_number = [k for k in quantities if head_word(table.head[k]) in _NUMBER_HEADS]
    beside = len(by_number) < len(quantities)  # another column is of quantities by its head
    numbered = next(
        (k for k in by_number if beside or (k < names[0] and (_counts_up(table, k) or (len(quantities) > 1 and _rises(table, k))))), None
    )
    if numbered is not None and not codes:
        codes = [numbered]
        quantities = [k for k in quantities if k != numbered] or [
            k for k in range(names[0] + 1, len(kinds)) if kinds[k] is None and _all_numbers(table, k)
        ]
    name = names[0]
    if _mostly(table, name, is_code) and len(names) > 1:
        codes, name = [name, *codes], names[1]
    marks = [k for k, head in enumerate(table.head) if not head.strip() and k != name and _mostly(table, k, _is_mark)]
    return Columns(
        name,
        tuple(quantities),
        codes[0] if codes else None,
        sizes[0] if sizes else None,
        (*of("note"), *marks),
        next(iter(of("bag")), None),
    )


def _is_mark(text: str) -> bool:
    """True for a sign that marks a kind of part, explained elsewhere: "●", "*", "**"."""
    return len(text.strip()) in (1, 2) and not text.strip().isalnum() and text.strip() not in "-–—."


def _by_content(table: Table) -> Columns | None:
    """Columns of a table without telling heads: numbers are quantities, short codes codes, the longest text the name."""
    width = max((len(row) for row in table.rows), default=0)
    numbers = [k for k in range(width) if _mostly(table, k, lambda text: cell_quantity(text) is not None or bool(_LOOSE.search(text)))]
    codes = [k for k in range(width) if k not in numbers and _mostly(table, k, code_of)]  # also "Bag F"
    texts = [k for k in range(width) if k not in numbers and k not in codes]
    if not texts:
        return None
    if len(numbers) > 1 and numbers[0] < texts[0] and _counts_up(table, numbers[0]):
        codes, numbers = [numbers[0], *codes], numbers[1:]
    elif numbers and numbers[0] < texts[0] and _counts_up(table, numbers[0]) and len(table.rows) > 3:
        codes, numbers = [numbers[0], *codes], []
    if not numbers:
        return None
    size = next((k for k in texts[1:] if _mostly(table, k, is_size)), None)
    notes = tuple(k for k in texts[1:] if k != size)
    return Columns(texts[0], (numbers[-1],) if len(numbers) < 3 else tuple(numbers), codes[0] if codes else None, size, notes)


def _cells(table: Table, k: int) -> list[str]:
    return [row[k].text for row in table.rows if k < len(row) and row[k].text and _group_row(row) is None]


def _mostly(table: Table, k: int, test: object) -> bool:
    cells = [cell for cell in _cells(table, k) if cell.strip(" -–—")] if test is is_code else _cells(table, k)
    assert callable(test)
    return bool(cells) and sum(bool(test(cell)) for cell in cells) >= 0.7 * len(cells)


def _all_numbers(table: Table, k: int) -> bool:
    return _mostly(table, k, lambda text: cell_quantity(text) is not None or text.strip() in "-–—")


def _counts_up(table: Table, k: int) -> bool:
    numbers = [int(cell.strip("#.()[]")) for cell in _cells(table, k) if cell.strip("#.()[]").isdigit()]
    return len(numbers) >= 2 and numbers == list(range(numbers[0], numbers[0] + len(numbers))) and numbers[0] in (0, 1)


def _rises(table: Table, k: int) -> bool:
    """True for item numbers with gaps between their groups: 101, 102, 201, 202, 301."""
    numbers = [int(cell.strip("#.()[]")) for cell in _cells(table, k) if cell.strip("#.()[]").isdigit()]
    return len(numbers) > 2 and len(numbers) == len(_cells(table, k)) and all(a < b for a, b in pairwise(numbers))


def _group_row(row: Sequence[Passage]) -> str | None:
    """The text of a row that only heads the rows below it ("Clamps and clips"), else None."""
    filled = [cell.text for cell in row if cell.text]
    return filled[0] if len(filled) == 1 and len(row) > 1 and cell_quantity(filled[0]) is None else None


def _entry(table: Table, row: Sequence[Passage], columns: Columns, option: str | None, bag: str | None) -> PartsEntry | None:
    def cell(k: int | None) -> str:
        return row[k].text if k is not None and k < len(row) else ""

    loose = _ROLL.match(cell(columns.name))  # "1 | roll of tape" counts rolls, and no pieces of tape
    said = describe(cell(columns.name)[loose.end() if loose else 0 :])
    if not said.name or re.fullmatch(r"(?:sub-?)?totals?", said.name, re.IGNORECASE):
        return None
    numbers = [cell(k) for k in columns.quantities]
    quantity = cell_quantity(numbers[0]) if len(numbers) == 1 else None
    text = (
        numbers[0]
        if len(numbers) == 1
        else "; ".join(f"{table.head[k]}: {cell(k)}" if k < len(table.head) else cell(k) for k in columns.quantities)
    )
    if len(numbers) > 1 and len({cell_quantity(n) for n in numbers}) == 1:
        quantity = cell_quantity(numbers[0])
    if loose is not None:
        quantity = None
    printed_code = code_of(cell(columns.code))
    short = said.code if printed_code and said.code else ""  # "SHEET METAL SCREW (SMS)" beside a code column: a short name
    notes = [said.note, short, *(cell(k) for k in columns.notes)]
    code = printed_code or said.code or bag
    if columns.code is None and columns.bag is not None and _distinct(table, columns.bag):
        code = code or code_of(cell(columns.bag))
    return PartsEntry(
        name=said.name,
        source=row[columns.name].source(),
        code=code,
        size=cell(columns.size).strip(" -–—") or said.size,
        quantity=quantity,
        quantity_text=text,
        note=", ".join(note for note in notes if note.strip(" -–—")),
        option=option,
    )


def _distinct(table: Table, k: int) -> bool:
    return all(count == 1 for count in Counter(_cells(table, k)).values())
