"""Plain text and Markdown manuals taken apart into what a typesetter would set: headings, paragraphs, items, tables.

No part of this is the tool's: a manual that is set from these blocks must be read as its plain text is, and a mistake that both shared
would not show.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from pathlib import Path

from markdown_it import MarkdownIt
from markdown_it.token import Token

Run = tuple[str, bool]  # words, and whether they are bold


@dataclass(frozen=True)
class Block:
    """One thing to set. ``kind`` is heading, text, item, table, boxed or kept (line by line, in typewriter type)."""

    kind: str
    runs: tuple[Run, ...] = ()  # "\n" in a run breaks the line
    label: str = ""
    level: int = 0
    rows: tuple[tuple[str, ...], ...] = ()
    head: bool = False
    right: frozenset[int] = field(default_factory=frozenset)  # columns set to the right
    body: tuple[Block, ...] = ()


def blocks_of(path: Path) -> list[Block]:
    """The blocks of a .txt or .md file."""
    text = path.read_text(encoding="utf-8-sig")
    return list(_markdown(text)) if path.suffix == ".md" else list(_text(text))


# Markdown -----------------------------------------------------------------------------------------------------------------------


def _markdown(text: str) -> Iterator[Block]:
    yield from _tokens(MarkdownIt("commonmark").enable("table").parse(text))


def _tokens(tokens: list[Token], level: int = 0) -> Iterator[Block]:
    at = 0
    while at < len(tokens):
        token = tokens[at]
        end = _end(tokens, at)
        inside = tokens[at + 1 : end]
        if token.type == "heading_open":
            yield Block("heading", _runs(inside[0]), level=int(token.tag[1]))
        elif token.type == "paragraph_open":
            yield Block("text", _runs(inside[0]), level=level)
        elif token.type in ("bullet_list_open", "ordered_list_open"):
            yield from _list(token, inside, level)
        elif token.type == "table_open":
            yield _table(inside)
        elif token.type == "blockquote_open":
            yield Block("boxed", body=tuple(_tokens(inside)))
        elif token.type in ("fence", "code_block"):
            yield Block("kept", ((token.content.rstrip("\n"), False),))
        elif token.type not in ("hr",):
            raise ValueError(f"Markdown that the typesetter does not know: {token.type}")
        at = end + 1


def _end(tokens: list[Token], at: int) -> int:
    depth = 0
    for place in range(at, len(tokens)):
        depth += tokens[place].nesting
        if depth == 0:
            return place
    raise ValueError("a Markdown block that does not end")


def _list(opening: Token, tokens: list[Token], level: int) -> Iterator[Block]:
    number = int(str(opening.attrs.get("start", 1)))
    at = 0
    while at < len(tokens):
        end = _end(tokens, at)
        label = "•" if opening.type == "bullet_list_open" else f"{number}{tokens[at].markup}"
        for place, block in enumerate(_tokens(tokens[at + 1 : end], level + 1)):
            yield Block("item", block.runs, label, level) if place == 0 and block.kind == "text" else block
        number += 1
        at = end + 1


def _runs(inline: Token) -> tuple[Run, ...]:
    runs: list[Run] = []
    bold = 0
    for child in inline.children or []:
        if child.type in ("strong_open", "strong_close"):
            bold += child.nesting
        elif child.type == "softbreak":
            runs.append((" ", bold > 0))
        elif child.type == "hardbreak":
            runs.append(("\n", bold > 0))
        elif child.content:
            runs.append((child.content, bold > 0))
    return tuple(runs)


def _table(tokens: list[Token]) -> Block:
    rows: list[list[str]] = []
    right: set[int] = set()
    for token in tokens:
        if token.type == "tr_open":
            rows.append([])
        elif token.type in ("td_open", "th_open") and "right" in str(token.attrs.get("style", "")):
            right.add(len(rows[-1]))
        elif token.type == "inline":
            rows[-1].append("".join(text for text, _ in _runs(token)))
    return Block("table", rows=tuple(map(tuple, rows)), head=any(rows[0]), right=frozenset(right))


# Plain text ---------------------------------------------------------------------------------------------------------------------

_LABEL = re.compile(
    r"(?:(?:Step|STEP|Stage|STAGE|Job|Item)\s+[0-9A-Za-z.]{1,4}(?:[:.)]|\s-)?|\(?[0-9]{1,2}(?:\.[0-9]{1,2})*[.):]|[0-9]{1,2}\.[0-9]{1,2}(?=\s\s)"
    r"|[0-9]{1,2}[a-z]?(?=\s\s)|\(?[A-Za-z][.)]|[A-Z][0-9]{1,2}|\(?[ivxIVX]{1,5}[.)])(?=\s)"
)
_BULLET = re.compile(r"[-*•–o](?=\s)")
_WIDE = re.compile(r" {2,}")
_LEADERS = re.compile(r"(?<=\s)\.{3,}(?=\s|$)|(?<=\w)\.{4,}(?=\s|$)")
_RULE = re.compile(r"^[\s\-=_+|]*$")
_PAGE = re.compile(r"\b(?:page|sheet|card)\s+\d+\s+of\s+\d+", re.IGNORECASE)
_MOST_TITLE = 70
_MOST_SHORT = 46  # characters of the text behind a number in a list of two columns


def _text(text: str) -> Iterator[Block]:
    lines = [line.expandtabs(8).rstrip() for line in text.replace("\f", "\n").splitlines()]
    lines = _without_heads(lines)
    widths = sorted(len(line) for line in lines if line.strip())
    width = widths[int(len(widths) * 0.97)]
    capitals = any(_is_heading("", group[0].strip()) and group[0].isupper() for group in _groups(lines) if len(group) == 1)
    first = True
    for group in _groups(lines):
        if first and len(group[0]) < _MOST_TITLE:
            yield Block("heading", ((group.pop(0).strip(), True),), level=1)
        for block in _parts(group, width) if group else ():
            words = "".join(text for text, _ in block.runs)
            # Where there are headings in capitals, others rank under them.
            yield replace(block, level=3) if block.kind == "heading" and capitals and not words.isupper() else block
        first = False


def _without_heads(lines: list[str]) -> list[str]:
    """The lines without running heads and page numbers, for the pages set from them get their own; a sentence runs on over the break."""
    kept: list[str] = []
    over = False  # behind a running head
    for number, line in enumerate(lines):
        if _PAGE.search(line) and number > 8:
            while kept and not kept[-1].strip():
                kept.pop()
            over = True
        elif not over:
            kept.append(line)
        elif line.strip():
            if not (line.startswith(" ") and kept[-1][-1].isalnum()):
                kept.append("")
            kept.append(line)
            over = False
    return kept


def _groups(lines: list[str]) -> Iterator[list[str]]:
    """Lines between blank ones; a table's head and body stay together."""
    group: list[str] = []
    for line in [*lines, ""]:
        if line.strip():
            group.append(line)
        elif group and not (len(group) == 1 and len(_WIDE.split(group[0].strip())) > 2 and not re.search(r"\d", group[0])):
            yield group
            group = []


def _parts(group: list[str], width: int) -> Iterator[Block]:
    at = 0
    while at < len(group):
        end = at
        while end < len(group) and _is_boxed(group[end]):
            end += 1
        if end > at:
            inside = [line.strip().strip("|").rstrip() for line in group[at:end] if not _RULE.match(line)]
            yield Block("boxed", body=tuple(_parts(inside, max(map(len, inside)))) if inside else ())
            at = end
            continue
        while end < len(group) and (_is_row(group, end) or (end > at and _goes_on(group, end))):
            end += 1
        if end - at >= 2 and (table := _aligned(group[at:end])):
            yield table
            at = end
            continue
        end = max(end, at + 1)
        while (
            end < len(group)
            and not _is_boxed(group[end])
            and not (_is_row(group, end) and end + 1 < len(group) and _is_row(group, end + 1))
        ):
            end += 1
        yield from _prose(group[at:end], width)
        at = end


def _is_boxed(line: str) -> bool:
    return line.strip()[0] in "|+" and "|" not in line.strip()[1:-1]


def _is_row(group: list[str], at: int) -> bool:
    """Whether the line is one of a table: with wide gaps that do not only stand behind the label of a sentence."""
    line = group[at]
    if _is_boxed(line):
        return False
    if _BULLET.match(line.strip()):
        return False
    if _RULE.match(line) or "|" in line:
        return "|" in line or bool(_WIDE.search(line.strip()) or len(line.strip()) > 3)
    fields = _WIDE.split(_LEADERS.sub("  ", line).strip())
    if len(fields) < 2:
        return False
    if len(fields) == 2 and _LABEL.match(fields[0] + "  "):
        below = group[at + 1] if at + 1 < len(group) else ""
        goes_on = below and len(below) - len(below.lstrip()) >= line.index(fields[1]) - 1
        return not goes_on and len(fields[1]) < _MOST_SHORT and not fields[1].endswith((".", ":")) and not fields[1][0].isupper()
    return True


def _goes_on(group: list[str], at: int) -> bool:
    """Whether the line goes on with the last cell of the row above it."""
    above = _WIDE.split(group[at - 1].strip())
    indent = len(group[at]) - len(group[at].lstrip())
    return indent > 6 and (
        indent >= group[at - 1].index(above[-1]) - 1 if len(above) > 1 else indent == len(group[at - 1]) - len(group[at - 1].lstrip())
    )


def _aligned(lines: list[str]) -> Block | None:
    """The table of lines whose fields stand in columns; None if there are no columns."""
    if any("|" in line for line in lines):
        cells = [tuple(cell.strip() for cell in line.strip().strip("|").split("|")) for line in lines if not _RULE.match(line)]
        return Block("table", rows=tuple(cells), head=True) if len({len(row) for row in cells}) == 1 else None
    kept = [_LEADERS.sub(lambda m: " " * len(m.group()), line) for line in lines if not _RULE.match(line)]
    if len(kept) < 2:
        return None
    fields = [list(re.finditer(r"\S+(?: \S+)*", line)) for line in kept]
    count = max({len(row) for row in fields} - {1}, key=lambda n: (sum(len(row) == n for row in fields), n), default=0)
    full = [len(row) == count for row in fields]
    if count and sum(full) >= 0.6 * len(kept):
        columns = [
            (min(r[c].start() for r in same), max(r[c].end() for r in same))
            for same in [[r for r, f in zip(fields, full, strict=True) if f]]
            for c in range(count)
        ]
    else:
        columns = _gaps(kept)
    if len(columns) < 2:
        return None
    rows: list[list[str]] = []
    for line, row, is_full in zip(kept, fields, full, strict=True):
        cells = [""] * len(columns)
        if is_full and len(columns) == count:
            cells = [match.group() for match in row]
        else:
            for match in re.finditer(r"\S+", line):
                middle = (match.start() + match.end()) / 2
                near = min(range(len(columns)), key=lambda c: max(columns[c][0] - middle, middle - columns[c][1], 0.0))
                cells[near] = f"{cells[near]} {match.group()}".strip()
        if rows and (
            (not cells[0] and sum(map(bool, cells)) == 1)
            or (not any(full[: len(rows)]) and not is_full and any(full) and not re.search(r"\s\d+\s", line[:-3]))
        ):
            rows[-1] = [f"{above} {below}".strip() for above, below in zip(rows[-1], cells, strict=True)]
        else:
            rows.append(cells)
    return _table_of([tuple(row) for row in rows])


def _gaps(lines: list[str]) -> list[tuple[int, int]]:
    """From where to where the columns reach, parted where no line has a letter for two places."""
    longest = max(map(len, lines))
    filled = [any(place < len(line) and line[place] != " " for line in lines) for place in range(longest)]
    columns: list[list[int]] = []
    for place in (place for place in range(longest) if filled[place]):
        if columns and place - columns[-1][1] < 2:
            columns[-1][1] = place + 1
        else:
            columns.append([place, place + 1])
    return [(start, end) for start, end in columns]


def _table_of(rows: list[tuple[str, ...]]) -> Block | None:
    if (
        len(rows[0]) == 2
        and max(len(cells[1]) for cells in rows) > _MOST_SHORT
        and sum(len(cells[1]) for cells in rows) > _MOST_SHORT * len(rows)
    ):
        return None  # sentences behind labels
    right = {column for column in range(len(rows[0])) if all(re.fullmatch(r"[\d.,]*", row[column]) for row in rows[1:])}
    plain = [re.sub(r"\b(?:Hoop|Bow|Rib|Arch) \d+", "", cell) for cell in rows[0]]
    numbered = [any(re.search(r"\d", row[column]) for row in rows[1:]) for column in range(len(rows[0]))]
    head = any(numbered) and not any(re.search(r"\d", cell) for cell, n in zip(plain, numbered, strict=True) if n)
    return Block("table", rows=tuple(rows), head=head, right=frozenset(right))


def _prose(group: list[str], width: int) -> Iterator[Block]:
    """Paragraphs and items: a line begins a new one behind a label, or where the words before it would have had room for its first."""
    group = [line for line in group if not _RULE.match(line)]
    kept: list[tuple[int, str, str]] = []  # indent, label, text
    for place, line in enumerate(group):
        words = line.strip()
        indent = len(line) - len(line.lstrip())
        label = _BULLET.match(words) or _LABEL.match(words)
        above = group[place - 1].rstrip() if place else ""
        ended = above.endswith((".", ":", ";", "!", "?", ")")) or words[0].isupper() or bool(label)
        broken = place > 0 and ended and len(above) + 1 + len(words.split()[0]) < width - 6
        hangs = bool(kept) and bool(kept[-1][1]) and indent > kept[-1][0]
        starts = bool(label) and (
            place == 0
            or broken
            or (indent <= kept[-1][0] and (_shape(kept[-1][1]) == _shape(label.group()) or group[place - 1].endswith((".", ":"))))
        )
        if place and not starts and not broken:
            before = kept[-1][2]
            joined = (
                before[:-1] + words
                if before.endswith("-") and before[-2:-1].isupper()
                else before + (words if before.endswith("-") else " " + words)
            )
            kept[-1] = (*kept[-1][:2], joined)
        elif place and not starts and hangs:
            kept[-1] = (*kept[-1][:2], kept[-1][2] + "\n" + words)
        elif label and starts:
            kept.append((indent, label.group(), words[label.end() :].strip()))
        else:
            kept.append((indent, "", words))
    alone = len(group) == 1
    for place, (indent, label_, text) in enumerate(kept):
        over = (
            place == 0
            and not text.split("\n")[0].endswith(".")
            and len(kept) > 1
            and label_
            and _shape(label_) != _shape(kept[1][1])
            and text.split("\n")[0].split("(")[0].split(" - ")[0].isupper()
        )
        if over:
            title, _, rest = text.partition("\n")
            yield Block("heading", ((f"{label_} {title}", True),), level=2)
            if rest:
                yield Block("text", ((rest, False),))
        elif alone and text and _is_heading(label_, text):
            yield Block("heading", ((f"{label_} {text}".strip(), True),), level=2)
        elif label_:
            yield Block("item", ((text, False),), "•" if label_ in "-*•–o" else label_, level=0 if indent < 6 else 1)
        else:
            yield Block("text", ((text, False),), level=0 if indent < 3 else 1)


def _shape(label: str) -> str:
    return re.sub(r"\d+", "1", re.sub(r"[A-Za-z]+", "a", label))


def _is_heading(label: str, text: str) -> bool:
    letters = [c for c in text if c.isalpha()]
    if not letters or len(text) >= 60 or ". " in text or (label and text.endswith(".")):
        return False
    short = not label and len(text) < 40 and text[-1] not in ".;,:"
    return all(c.isupper() for c in letters) or short
