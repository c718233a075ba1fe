"""Tables of `hoop | fitting | number | place`, and hoop × fitting tables, to events."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

from hoopwright.grammar.hoop_nouns import hoop_forms
from hoopwright.model.events import Amount, Event, Place, Selector, StepReading, Unit
from hoopwright.model.frame import Doubt
from hoopwright.model.outline import Outline, Passage, Section, Step, Table
from hoopwright.parsing import gates
from hoopwright.parsing.chunk import Chunker, join_selectors, number_list
from hoopwright.parsing.clauses import split
from hoopwright.parsing.elements import El
from hoopwright.parsing.gates import gated
from hoopwright.parsing.kit import Kit
from hoopwright.parsing.lex import lex
from hoopwright.parsing.places import find_places
from hoopwright.parsing.ruling import driven_into
from hoopwright.parsing.types import spell_hashed, spell_types

_QTY = gated(r"\b(?:qty|quantity|number|no\.?|nos\.?|how many|count|pieces|pcs|each|per hoop|per bow)\b", re.IGNORECASE)
_PLACE = gated(r"\b(?:place|position|where|location|height|at|distance|set)\b", re.IGNORECASE)
_FIT = gated(r"\b(?:(?:fitting|part|item|component|clip|clamp|piece|fixing)s?|what|description|hardware)\b", re.IGNORECASE)
_ROW = re.compile(r"^(?:row|line|entry|ref|no\.?|#)$", re.IGNORECASE)
_BOLTS = gated(r"\b(?:bolts?|screws?|washers?|fasteners?|fixings?)\b", re.IGNORECASE)

_HARDWARE = gated(r"\b(?:hardware|bolts?|screws?|fasteners?|fixings?|fix|with)\b", re.IGNORECASE)


def read_tables(outline: Outline, kit: Kit, chunker: Chunker) -> list[StepReading]:
    """Events of every table in a step that says which fittings go where; summary, parts and tool tables give claims or nothing."""
    out: list[StepReading] = []
    for step in outline.steps:
        section = outline.section(step.section)
        for n, item in enumerate(step.items):
            if item.table is None or not item.table.rows:
                continue
            if _holds_parts(item.table, outline):
                out += _rule_lines(item.table, step, kit, chunker, _takes_columns(item.table))
                continue
            if section.role in ("parts", "tools", "contents", "safety"):
                out += _rules_table(item.table, step, kit, chunker)
                continue
            out += _table(item.table, step, section, kit, chunker, f"{step.id}/{n}")
    return out


def _holds_parts(table: Table, outline: Outline) -> bool:
    """Whether the table is (part of) a parts list that the outline has read already."""
    cells = [c for row in table.rows for c in row if c.runs]
    if not cells:
        return False
    document = cells[0].document
    low = min(c.source().start for c in cells)
    high = max(c.source().end for c in cells)
    return sum(p.source.document == document and low <= p.source.start < high for p in outline.parts) >= max(1, len(table.rows) // 3)


def _columns(table: Table, chunker: Chunker) -> dict[str, int]:
    """Which column is the hoop, the fitting, the number, the place, the row's number."""
    found: dict[str, int] = {}
    hoops = [k for k, head in enumerate(table.head) if _names_hoops(head)]
    if sum(_counts(table, k) for k in hoops) > 1:
        hoops = [k for k in hoops if not _counts(table, k)]  # "Hoop 1 | Hoop 2 | Hoop 3" over numbers of pieces
    for k, head in enumerate(table.head):
        low = head.strip().lower()
        if _ROW.match(low) and "row" not in found and k == 0:
            found["row"] = k
        elif k in hoops and "hoop" not in found:
            found["hoop"] = k
        elif _QTY.search(low) and "qty" not in found:
            found["qty"] = k
        elif _PLACE.search(low) and "place" not in found:
            found["place"] = k
        elif _FIT.search(low) and "fit" not in found and not _counts(table, k):
            found["fit"] = k
        elif low in ("side", "sides", "leg", "tube", "section"):
            found.setdefault("side", k)
    if "fit" not in found and "qty" in found and _names_fittings(table, found["qty"], chunker):
        found["fit"] = found.pop("qty")  # below "Pieces" stands "2 brace loops, one to each leg"
    return found


def _names_fittings(table: Table, k: int, chunker: Chunker) -> bool:
    """Whether the cells of a column say what goes on, and not only how many."""
    cells = [row[k].text for row in table.rows if k < len(row) and row[k].text.strip()]
    return bool(cells) and sum(any(e.type == "fit" and e.parts for e in chunker.elements(lex(c))) for c in cells) > 0.8 * len(cells)


def _names_hoops(head: str) -> bool:
    low = head.strip().lower()
    words = set(re.findall(r"[a-z]+", low))
    return (
        any(w in hoop_forms() or w in ("frame", "frames") for w in words)
        and not words & {"whole", "entire", "total"}  # "Whole frame" heads a total
        and not _QTY.search(low)
    )


def _counts(table: Table, k: int) -> bool:
    """Whether a column holds numbers and no names: under "Crop clip" stands how many."""
    cells = [row[k].text.strip() for row in table.rows if k < len(row) and row[k].text.strip(" -–—")]
    return bool(cells) and sum(cell.isdigit() for cell in cells) > 0.5 * len(cells)


def _summary(table: Table, step: Step, section: Section) -> bool:
    caption = (table.caption.text if table.caption else "") + " " + section.title
    text = f"{caption} {step.text[:200]}".lower()
    return section.role == "summary" or bool(
        gates.search(
            r"\b(?:summary|check(?:ing|list| list| sheet| table)?|repeats?|nothing (?:in it|here|new) is to be added|says? (?:over )?again|adds? nothing|summing[- ]up|tick(?:ing|ed)? off|finished|totals?|at a glance|recap|reminder|should now|for reference)\b",
            text,
        )
    )


def _table(table: Table, step: Step, section: Section, kit: Kit, chunker: Chunker, key: str) -> list[StepReading]:
    columns = _columns(table, chunker)
    claim = _summary(table, step, section)
    if "hoop" not in columns and not claim:
        rules = _rules_table(table, step, kit, chunker)
        if rules:
            return rules
    if "hoop" in columns and "fit" in columns:
        return [r for n, row in enumerate(table.rows, 1) if (r := _row(table, row, columns, n, step, kit, chunker, key, claim)) is not None]
    if not claim and (places := _per_place(table, step, chunker, key)):
        return places
    if not claim and (shares := _shares_by_hoop(table, step, chunker, key)):
        return shares
    matrix = _matrix(table, step, kit, chunker, key, claim)
    if matrix:
        return matrix
    if "fit" in columns and ("place" in columns or "qty" in columns):
        return [r for n, row in enumerate(table.rows, 1) if (r := _row(table, row, columns, n, step, kit, chunker, key, claim)) is not None]
    return _rules_table(table, step, kit, chunker)


def _per_place(table: Table, step: Step, chunker: Chunker, key: str) -> list[StepReading]:
    """`Each foot: | 1 leg bolt`, `Per joint | 2 screws`: what every place of that kind takes on every hoop."""
    out: list[StepReading] = []
    units: tuple[Unit, ...] = ()
    for n, row in enumerate(table.rows, 1):
        filled = [cell for cell in row if cell.text.strip()]
        if not filled:
            continue
        first, *rest = filled
        told = gates.match(r"(?:at |in |for )?(?:each|every|per)\b", first.text.strip(), re.IGNORECASE)
        if told is not None:
            # of "Each arch-to-leg joint" the last word is the place
            units = _places_of(re.sub(r"\b(each|every|per)\b.*?([a-z]+)\W*$", r"\1 \2", first.text.strip(), flags=re.IGNORECASE), chunker)
        cells = rest if told is not None else [first, *rest]
        text = " ".join(cell.text for cell in cells).strip()
        fits = [e for e in chunker.elements(lex(re.sub(r"\(#?\d+\)", "", text))) if e.type == "fit" and e.parts and e.amount is not None]
        if not units or len(fits) != 1:
            return []
        source = cells[-1].source()
        everywhere = Selector("all", each=True)
        event = Event(
            "add",
            step.id,
            source,
            fits[0].parts,
            fits[0].amount,
            everywhere,
            units,
            rows=(n,),
            table=key,
            text=text,
            option=step.option,
            per="row",
        )
        out.append(StepReading(step.id, source, (event,)))
    return out


def _shares_by_hoop(table: Table, step: Step, chunker: Chunker, key: str) -> list[StepReading]:
    """`hoops 1 and 7 | one to each upright, 20 cm up` below "Next come the stay collars:": shares of the fitting named last."""
    if table.head or any(len([cell for cell in row if cell.text.strip()]) != 2 for row in table.rows):
        return []
    intro = next(
        (item.passage.text for item in step.items if item.kind in ("text", "bullet") and item.passage.text.rstrip().endswith(":")), ""
    )
    named = [e for e in chunker.elements(lex(intro)) if e.type == "fit" and e.parts]
    if not named:
        return []
    out: list[StepReading] = []
    for n, row in enumerate(table.rows, 1):
        which, what = (cell for cell in row if cell.text.strip())
        hoops = selector_of(spell_hashed(which.text, chunker.hoop_words, None), chunker)
        els = chunker.elements(lex(what.text))
        share = next((e for e in els if e.type == "ellip" and e.amount is not None and e.amount.value), None)
        if hoops is None or share is None:
            return []
        places = tuple(p for _, p in find_places(els, what.text))
        units = _places_of(what.text, chunker)
        event = Event(
            "add",
            step.id,
            what.source(),
            named[-1].parts,
            share.amount,
            hoops,
            units,
            places,
            rows=(n,),
            table=key,
            text=what.text,
            option=step.option,
            per="row",
        )
        out.append(StepReading(step.id, what.source(), (event,)))
    return out


def head(table: Table, columns: dict[str, int], name: str) -> str:
    """The head of a named column and the table's caption; empty if it has neither."""
    k = columns.get(name)
    return (table.head[k] if k is not None and k < len(table.head) else "") + " " + (table.caption.text if table.caption else "")


def _cell(row: tuple[Passage, ...], columns: dict[str, int], name: str) -> Passage | None:
    k = columns.get(name)
    return row[k] if k is not None and k < len(row) and row[k].text.strip() else None


def selector_of(text: str, chunker: Chunker) -> Selector | None:
    """Which hoops a table cell means: "1 and 8", "2 to 7", "end hoops", "H3", "all"."""
    low = spell_types(text.strip(), chunker.types, chunker.hoop_words).lower()
    cleaned = re.sub(rf"\b(?:h|{chunker.hoop_letter.lower() or 'h'})-?(?=\d)", "", low)
    toks = lex(cleaned)
    found, end, onward = number_list(toks, 0, chunker.numbers)
    if found and end >= len(toks) - 1:
        return Selector("nth", start=found[0], text=text) if onward else Selector("numbers", found, text=text, each=True)
    sel = None
    for el in chunker.elements(lex(low)):
        if el.type == "mem" and el.role == "hoop" and el.hoops is not None:
            sel = el.hoops if sel is None else join_selectors(sel, el.hoops)
    if sel is not None:
        return replace(sel, each=True)
    if gates.match(rf"^(?:all|every|each)(?: of (?:them|the))?(?: (?:{'|'.join(chunker.numbers)}|\d+))?$", low):
        return Selector("all", each=True, text=text)  # "all eight"
    for probe in (f"{low} hoops", f"the {low} hoops"):
        for el in chunker.elements(lex(probe)):
            if (
                el.type == "mem"
                and el.role == "hoop"
                and el.hoops is not None
                and (el.hoops.kind != "all" or low in ("all", "each", "every", "any"))
            ):
                return replace(el.hoops, each=True, text=text)
    return None


def _row(
    table: Table, row: tuple[Passage, ...], columns: dict[str, int], n: int, step: Step, kit: Kit, chunker: Chunker, key: str, claim: bool
) -> StepReading | None:
    fit_cell = _cell(row, columns, "fit")
    if fit_cell is None:
        return None
    source = next(cell for cell in row if cell.runs).source()
    whole = " ".join(cell.text for cell in row if cell.text)
    source = replace(
        source, quote=fit_cell.text.strip(), start=fit_cell.source().start, end=fit_cell.source().end, page=fit_cell.source().page
    )
    hoop_cell = _cell(row, columns, "hoop")
    hoops = selector_of(hoop_cell.text, chunker) if hoop_cell else Selector("all", each=True)
    fits = [e for e in chunker.elements(lex(fit_cell.text)) if e.type == "fit"]
    parts = fits[0].parts if fits else kit.resolve(tuple(re.findall(r"[a-z-]+", fit_cell.text.lower())) or ("?",))
    row_number = _cell(row, columns, "row")
    number = int(row_number.text) if row_number and row_number.text.strip().isdigit() else n
    if not parts:
        if not fits:
            return None
        from hoopwright.parsing.kit import unlisted

        part = unlisted(fits[0].words, chunker.grammar)
        kit.parts.setdefault(part.name, part)
        parts = (part.name,)
    qty = _cell(row, columns, "qty")
    amount, per_all = _amount(qty.text if qty else "", fits)
    per_all = per_all or bool(
        gates.search(r"\b(?:in all|total|together|altogether|whole|all hoops|all bows)\b", head(table, columns, "qty"), re.IGNORECASE)
    )
    place_cell = _cell(row, columns, "place")
    units: list[Unit] = []
    places: list[Place] = []
    member = None
    doubts: tuple[Doubt, ...] = ()
    named = {columns.get(n) for n in ("hoop", "fit", "qty", "row", "place", "side")}
    others = [cell for k, cell in enumerate(row) if k not in named and cell.text.strip()]
    if qty is None and place_cell is None and fits and (shared := _share_in(fit_cell, chunker)) is not None:
        # "2 brace loops, one to each leg, 30 cm up"
        amount, others = shared, [fit_cell, *others]
    elif qty is None and place_cell is None and fits and fits[0].amount is not None:
        others = [fit_cell, *others]
    for cell in (place_cell, _cell(row, columns, "side"), qty, *others):
        if cell is None:
            continue
        els = chunker.elements(lex(cell.text))
        found = find_places(els, cell.text)
        places += [p for _, p in found]
        for el in els:
            if el.type == "mem" and not el.used and el.role in ("tube", "joint", "foot", "side", "end", "ridge", "shoulder"):
                units.append(
                    Unit(
                        el.role,  # type: ignore[arg-type]
                        " ".join(el.words) if el.role == "tube" else el.name,
                        el.side,
                        el.each or el.det == "both",
                        el.amount.value if el.amount else None,
                        el.plural,
                        el.det,
                    )
                )
            elif el.type == "mem" and not el.used and el.role in ("bar", "other") and not places:
                member = el.name
            elif el.side and el.type in ("word", "ellip") and not units:
                units.append(Unit("side", "side", el.side))
        if re.fullmatch(r"\s*(?:both|l\s*(?:\+|&|and|/)\s*r|left (?:and|&) right)\s*(?:sides)?\s*", cell.text, re.IGNORECASE):
            units.append(Unit("side", "side", None, True, 2))
    if hoops is None and hoop_cell is not None:
        mems = [e for e in chunker.elements(lex(hoop_cell.text)) if e.type == "mem"]
        if mems:
            member = mems[0].name
        else:
            return None
    event = Event(
        "claim" if claim else "add",
        step.id,
        source,
        parts,
        amount,
        None if member else hoops,
        tuple(units),
        tuple(places),
        member=member,
        rows=(number,),
        table=key,
        doubts=doubts,
        text=whole,
        option=step.option,
        per="row-total" if per_all else "row",
    )
    own = (
        ()
        if claim
        else tuple(rule for k, cell in enumerate(row) if k not in named for rule in _own_fasteners(table, k, cell, event, kit, chunker))
    )
    # "1 ridge collar, 2 purlin collars and 2 brace loops" in one cell
    more = tuple(
        replace(event, parts=e.parts, amount=e.amount)
        for e in fits[1:]
        if len(fits) > 1 and qty is None and not units and not places and e.parts and e.amount is not None and e.amount.value is not None
    )
    return StepReading(step.id, source, (event, *more, *own))


def _share_in(cell: Passage, chunker: Chunker) -> Amount | None:
    """What each place gets, where a cell goes on to share its pieces out: "2 stay collars, one to each upright"."""
    els = chunker.elements(lex(cell.text))
    shares = [e for e in els if e.type == "ellip" and e.amount is not None and e.amount.value]
    places = [e for e in els if e.type == "mem" and e.role in ("tube", "joint", "foot", "side", "end") and (e.each or e.det == "both")]
    return shares[0].amount if len(shares) == 1 and places else None


def _own_fasteners(table: Table, k: int, cell: Passage, event: Event, kit: Kit, chunker: Chunker) -> list[Event]:
    """What each piece of a row takes, from a column headed "Hardware for each piece": "1 clamp bolt, 1 nut"."""
    title = table.head[k].lower() if k < len(table.head) else ""
    if not _HARDWARE.search(title) or _names_hoops(title) or not cell.runs:
        return []
    fits = [e for e in chunker.elements(lex(cell.text)) if e.type == "fit" and e.parts and e.amount is not None]
    return [
        Event("rule", event.step, cell.source(), e.parts, e.amount, owners=event.parts[:1], fastener=e.parts[0], per="here")
        for e in fits
        if kit.parts[e.parts[0]].form == "fastener"
    ]


def _amount(text: str, fits: list[El]) -> tuple[Amount, bool]:
    low = text.strip().lower()
    toks = lex(low)
    total = bool(gates.search(r"\b(?:in all|total|all (?:hoops )?together|altogether)\b", low))
    numbers = [t for t in toks if t.cat in ("num", "count") and float(t.value).is_integer()]
    if len(numbers) >= 2 and gates.search(r"\d\s*(?:-|–|to|or)\s*\d", low):
        return Amount(int(numbers[0].value), int(numbers[1].value), "range", text), total
    if numbers:
        each = bool(gates.search(r"\b(?:each|per|ea)\b", low))
        return Amount(int(numbers[0].value), text=text, each=each, total=total), total
    from hoopwright.parsing.lex import word_number

    for tok in toks:
        value = word_number(tok.low) if tok.cat == "word" and tok.low not in ("a",) else None
        if value:
            return Amount(int(value), text=text), total
    if gates.search(r"\b(?:required|needed|necessary)\b", low):
        return Amount(None, open="as-required", text=text), total
    if fits and fits[0].amount is not None:
        return fits[0].amount, total
    return Amount(None, open="none", text=text), total


def _matrix(table: Table, step: Step, kit: Kit, chunker: Chunker, key: str, claim: bool) -> list[StepReading]:
    """A table with hoops down and fittings across, or the other way round."""
    if not table.head or len(table.head) < 2:
        return []
    heads = [_part_of(h, kit, chunker) for h in table.head[1:]]
    if sum(h is not None for h in heads) >= max(1, len(heads) - 1):
        return _cells(
            table,
            step,
            chunker,
            key,
            claim,
            [(r, c) for r in range(len(table.rows)) for c in range(1, len(table.head))],
            lambda r, c: (table.rows[r][0].text, heads[c - 1]),
        )
    hoops = [selector_of(h, chunker) for h in table.head]
    firsts = [_part_of(row[0].text, kit, chunker) if row else None for row in table.rows]
    columns = [c for c in range(1, len(table.head)) if hoops[c] is not None]
    # Between the names and the hoops may stand where they go: "Crop band | one on each half, 150 cm up | 2 | 2".
    where = tuple(c for c in range(1, len(table.head)) if c not in columns)
    if len(columns) > 1 and len(where) < 3 and (not where or max(where) < min(columns)) and any(firsts):
        return _cells(
            table,
            step,
            chunker,
            key,
            claim,
            [(r, c) for r in range(len(table.rows)) for c in columns],
            lambda r, c: (table.head[c], firsts[r]),
            where,
        )
    return []


def _part_of(text: str, kit: Kit, chunker: Chunker) -> str | None:
    code = re.sub(r"^(?:per|each|every|any|for each|for every) ", "", text.strip(), flags=re.IGNORECASE).upper()
    if code in kit.codes:
        return kit.codes[code]
    fits = [e for e in chunker.elements(lex(text.lower())) if e.type == "fit"]
    return fits[0].parts[0] if len(fits) == 1 and fits[0].parts else None


def _places_of(head: str, chunker: Chunker) -> tuple[Unit, ...]:
    """The places of a hoop that a head counts for: "Foot bolts at each foot", "Clips per side"."""
    return tuple(
        Unit(el.role, el.name, el.side, True, None, el.plural, el.det)  # type: ignore[arg-type]
        for el in chunker.elements(lex(head.lower()))
        if el.type == "mem" and el.role in ("joint", "foot", "side", "end", "tube") and (el.each or el.det in ("per", "each", "every"))
    )


def _cells(
    table: Table,
    step: Step,
    chunker: Chunker,
    key: str,
    claim: bool,
    cells: list[tuple[int, int]],
    lookup: Callable[[int, int], tuple[str, str | None]],
    where: tuple[int, ...] = (),
) -> list[StepReading]:
    """The events of number cells. ``lookup``: (words for the hoops, part) of a cell; ``where``: columns of their row that say where."""
    out = []
    units = [_places_of(head, chunker) for head in table.head]
    told = [_told_place([row[c].text for c in where if c < len(row)], chunker) for row in table.rows]
    for r, c in cells:
        row = table.rows[r]
        if c >= len(row) or not row[c].runs:
            continue
        hoop_words, part = lookup(r, c)
        hoops = selector_of(hoop_words, chunker)
        toks = lex(row[c].text)
        if part is None or hoops is None or not toks or toks[0].cat not in ("num", "count"):
            continue
        source = row[c].source()
        value = int(toks[0].value)
        if value == 0 and not claim:
            continue
        event = Event(
            "claim" if claim else "add",
            step.id,
            source,
            (part,),
            Amount(value, text=row[c].text),
            hoops,
            units[c],
            told[r],
            rows=(r + 1,),
            table=key,
            text=row[c].text,
            option=step.option,
            per="row",
        )
        out.append(StepReading(step.id, source, (event,)))
    return out


def _told_place(texts: list[str], chunker: Chunker) -> tuple[Place, ...]:
    """Where the cells of a row put its pieces: "left half, 6 cm down" one place, "one on each half, 150 cm up" one on either side."""
    text = ", ".join(texts)
    if not text:
        return ()
    els = chunker.elements(lex(text))
    places = [p for _, p in find_places(els, text)]
    side = next((e.side for e in els if e.side in ("left", "right")), None)
    if len(places) != 1:
        return ()
    if gates.search(r"\b(?:each|either|both|every)\b", text, re.IGNORECASE):
        return (replace(places[0], side="left"), replace(places[0], side="right"))
    return (replace(places[0], side=places[0].side or side),)


def _rules_table(table: Table, step: Step, kit: Kit, chunker: Chunker) -> list[StepReading]:
    """A table that says which fasteners each fitting takes: `fitting | bolts | washers`."""
    listed = _rule_lines(table, step, kit, chunker)
    if listed or len(table.head) < 2 or not table.rows:
        return listed
    fasteners = {
        k: p
        for k in range(1, len(table.head))
        if (p := _part_of(table.head[k], kit, chunker)) is not None and kit.parts[p].form == "fastener"
    }
    if not fasteners:
        return []
    out = []
    for row in table.rows:
        owners = tuple(p for piece in re.split(r",|/|;|\band\b", row[0].text) if (p := _part_of(piece, kit, chunker)) is not None)
        if not owners:
            continue
        for k, fastener in fasteners.items():
            if k >= len(row) or not row[k].runs:
                continue
            toks = lex(row[k].text)
            if toks and toks[0].cat in ("num", "count"):
                source = row[k].source()
                event = Event(
                    "rule", step.id, source, (fastener,), Amount(int(toks[0].value)), owners=owners, fastener=fastener, text=row[k].text
                )
                out.append(StepReading(step.id, source, (event,)))
    return out


_TAKES = gated(
    r"\b(?:takes?|needs?|gets?|brings?|uses?|carries|comes with|goes with|held (?:by|with)|fixed (?:by|with)|fastened (?:by|with)|bolts?|screws?|fixings?|fasteners?)\b",
    re.IGNORECASE,
)


def _takes_columns(table: Table) -> frozenset[int]:
    """The columns of a parts list that say what each piece is fastened with: "Each one takes", "Fixings per piece"."""
    heads = enumerate(table.head)
    return frozenset(k for k, text in heads if k and _TAKES.search(text) and not _counts(table, k))


def _rule_lines(table: Table, step: Step, kit: Kit, chunker: Chunker, within: frozenset[int] | None = None) -> list[StepReading]:
    """`PC | 2 CB + 2 FN ea`: a part, and in one cell what fastens each of it. ``within``: the columns to look at, all but the first if None."""
    out = []
    for row in table.rows:
        if len(row) < 2 or not row[0].runs:
            continue
        owner = _part_of(row[0].text, kit, chunker)
        if owner is None or kit.parts[owner].form == "fastener":
            continue
        for k, cell in enumerate(row):
            if not cell.runs or (k not in within if within is not None else not k):
                continue
            els = chunker.elements(lex(cell.text))
            fits = [e for e in els if e.type == "fit" and e.amount is not None and e.amount.value and e.parts]
            for f in fits:
                if kit.parts[f.parts[0]].form == "fastener":
                    into = next((driven_into(c, f) for c in split(els) if f in c.els), None)
                    source = cell.source()
                    out.append(
                        StepReading(
                            step.id,
                            source,
                            (
                                Event(
                                    "rule",
                                    step.id,
                                    source,
                                    f.parts,
                                    f.amount,
                                    owners=(owner,),
                                    fastener=f.parts[0],
                                    member=into,
                                    text=cell.text,
                                ),
                            ),
                        )
                    )
    return out
