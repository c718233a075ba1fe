"""The parts lists of all documents, from tables, lines, bullets and running prose."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace

from hoopwright.model.outline import Item, PartsEntry, Section, Step, Table
from hoopwright.outlining.describing import code_of, describe
from hoopwright.outlining.parts_lines import line_entries
from hoopwright.outlining.parts_prose import is_tally, prose_entries
from hoopwright.outlining.parts_tables import table_entries
from hoopwright.outlining.roles import extra_of, role_of, stems
from hoopwright.outlining.vocabulary import vocabulary

_BAG_OF = re.compile(
    rf"^(?:the )?(?:[\w-]+ )?{vocabulary().container.pattern}(?: [A-Z]?\d{{0,2}})?\s*[,:(–-]\s*"
    r"(?P<kind>(?:the )?(?:pieces|parts|fittings|things|those|all) [a-z][^.;:]{3,60}?)\)?[.:]?$",
    re.IGNORECASE,
)


_TAILED_CELL = re.compile(r"(?P<name>[A-Za-z][^;:]{2,50}?)[,:]? (?P<n>\d{1,4})")
_CONTAINER = re.compile(
    rf"^(?:the |in the )?(?P<name>(?:(?P<kind>[a-z-]+) )?{vocabulary().container.pattern}"
    r"(?P<number> (?:no\.? ?)?(?:[A-Z]\d?|\d{1,2}))?)\s*(?=$|[,:(–—-])",
    re.IGNORECASE,
)


def parts_of(sections: Sequence[Section], steps: Sequence[Step]) -> tuple[PartsEntry, ...]:
    """The entries in the order of the documents. ``option`` names the extra whose own list an entry stands in."""
    by_id = {section.id: section for section in sections}
    extras = tuple(dict.fromkeys(section.option for section in sections if section.option))
    entries = [entry for step in steps for entry in step_entries(step, by_id[step.section], extras)]
    return tuple(_turned_round(entries, steps))


def step_entries(step: Step, section: Section, extras: Sequence[str] = ()) -> list[PartsEntry]:
    """The parts that one step or paragraph lists, empty for all that is no list of parts. ``extras`` are the names known elsewhere."""
    entries: list[PartsEntry] = []
    announced = False
    own = step.option or _named_extra(section.title, extras) if section.role == "parts" else step.option
    extra, level = own, 0  # the extra that a line above names ("Box 6, side vents (only if ordered)"), and that line's level
    container = _container(step.title or section.title)
    kind = ""  # what the line above a table says of all that it lists: "Red bag, pieces that open"
    for item in step.items:
        if item.kind != "table" and item.level <= level:
            extra = own
        found = list(_item_entries(item, step, section, announced, extra))
        if item.table is not None and kind:
            found = [replace(entry, note=", ".join(note for note in (entry.note, kind) if note)) for entry in found]
        container = _container(item.passage.text) or container
        found = [replace(entry, container=container) for entry in found] if container else found
        kind = match["kind"] if section.role == "parts" and (match := _BAG_OF.match(item.passage.text)) is not None else ""
        if not found and item.kind in ("text", "bullet"):
            named = extra_of(item.passage.text)
            own_words = named.name if named is not None else None
            name = (_same_extra(set(stems(own_words)), extras) or own_words) if own_words else _named_extra(item.passage.text, extras)
            extra, level = (name, item.level) if name else (extra, level)
        entries += found
        lead_in = item.kind == "text" and item.passage.text.rstrip().endswith(":")
        announced = announced or (lead_in and _lists_parts(item.passage.text))
    return entries


def _container(text: str) -> str:
    """ "blue tin" of "Blue tin (closed pieces)", "box 2" of "Box 2 - everything else"; empty where no colour or number names one."""
    match = _CONTAINER.match(text)
    if match is None or not (match["kind"] or match["number"]):
        return ""
    return re.sub(r"\bno\.? ?", "", match["name"].lower())


def _item_entries(item: Item, step: Step, section: Section, announced: bool, extra: str | None) -> Iterator[PartsEntry]:
    if item.table is not None:
        item = replace(item, table=_without_bars(item.table))
        assert item.table is not None
        # The table below "Bag with the set:" is a list wherever it stands.
        listed = table_entries(item.table, "parts" if announced and section.role == "build" else section.role, section.title, extra)
        if not listed and (announced or section.role == "parts") and not item.table.head:
            listed = list(_coded_lines(item.table, extra) or _cell_by_cell(item.table, extra))
        yield from listed
    elif (section.role == "parts" or announced or _announces(item.passage.text)) and item.kind in ("text", "bullet"):
        label = item.label if item.kind == "bullet" else step.label
        several = prose_entries(item.passage, extra, bare=1 if item.kind == "bullet" else 3)
        yield from several if len(several) > 1 else line_entries(item.passage, extra, label) or several


def _without_bars(table: Table) -> Table:
    """The table without columns that hold nothing but a printed bar between two lists."""
    width = max((len(row) for row in table.rows), default=0)
    bars = {k for k in range(width) if {row[k].text.strip() for row in table.rows if k < len(row)} <= {"|", "│", ""}}
    filled = {k for k in bars if any(k < len(row) and row[k].text.strip() for row in table.rows)}
    if not filled:
        return table
    return Table(table.head, tuple(tuple(cell for k, cell in enumerate(row) if k not in filled) for row in table.rows), table.caption)


def _cell_by_cell(table: Table, extra: str | None) -> Iterator[PartsEntry]:
    """ "Tray 1:   7 ridge loops   14 rail loops" set in columns: each cell is a list."""
    cells = [cell for row in table.rows for cell in row if cell.text]
    tailed = [_TAILED_CELL.fullmatch(cell.text) for cell in cells]  # "apex loop 8", "door clamp, hinged 2"
    if len(cells) > 2 and all(tailed):
        for cell, match in zip(cells, tailed, strict=True):
            assert match is not None
            said = describe(match["name"])
            yield PartsEntry(said.name, cell.source(), None, said.size, int(match["n"]), match["n"], said.note, extra)
        return
    for cell in cells:
        yield from prose_entries(cell, extra, bare=2) or line_entries(cell, extra)


def _coded_lines(table: Table, extra: str | None) -> list[PartsEntry]:
    """ "E1   ridge eye, 48 mm (6)": codes in a column of their own, and all the rest of a line of the list beside them."""
    rows = [row for row in table.rows if len(row) == 2 and row[1].text]  # others head a group: "Opening"
    if len(rows) < 2 or not all(code_of(row[0].text) for row in rows):
        return []
    return [entry for row in rows for entry in line_entries(row[1], extra, code_of(row[0].text))]


def _announces(text: str) -> bool:
    """True for a paragraph that names itself a parts list: "What's in the boxes: 14 side poles, …", or that is nothing else."""
    if is_tally(text):
        return True
    lead = re.match(r"(?P<lead>[^.:;,]{4,50}):\s", text)
    return lead is not None and (role_of(lead.group("lead")) == "parts" or _lists_parts(lead.group("lead")))


def _lists_parts(lead: str) -> bool:
    """True for a lead such as "In this bag:" or "It comes in its own bag with:"."""
    last = re.split(r"(?<=[.!?])\s+", lead.strip())[-1]
    holds = re.search(
        r"\b(?:comes?|came|packed|supplied|delivered|ships?|shipped|arrives?|sent|contains?|holds?|inside)\b", last, re.IGNORECASE
    )
    return role_of(last) == "parts" or (holds is not None and vocabulary().container.search(last) is not None)


def _named_extra(title: str, extras: Sequence[str]) -> str | None:
    """The extra whose pack a heading names: "Crop bar pack", "Side vent kit" beside the extras "crop bars" and "side vents"."""
    words = set(stems(title))
    container = vocabulary().container
    if len(words) > 5 or not container.search(title):
        return None
    return _same_extra({word for word in words if not container.fullmatch(word)}, extras)


def _same_extra(words: set[str], extras: Sequence[str]) -> str | None:
    """The one extra whose words hold these, or are held by them."""
    matches = [extra for extra in extras if words and (words <= set(stems(extra)) or set(stems(extra)) <= words)]
    return matches[0] if len(matches) == 1 else None


def _turned_round(entries: Sequence[PartsEntry], steps: Sequence[Step]) -> Iterator[PartsEntry]:
    """Turns names round that are printed for sorting: "Clamp, saddle" is the steps' saddle clamp where several parts are called "Clamp"."""
    names = Counter(entry.name.lower() for entry in entries)
    text = " ".join(item.passage.text.lower() for step in steps for item in step.items if item.kind in ("text", "bullet"))
    for entry in entries:
        kind, _, rest = entry.note.partition(", ")
        turned = f"{kind} {entry.name.lower()}"
        if names[entry.name.lower()] > 1 and kind and re.search(rf"\b{re.escape(turned)}s?\b", text):
            yield replace(entry, name=turned[0].upper() + turned[1:] if entry.name[0].isupper() else turned, note=rest)
        else:
            yield entry
