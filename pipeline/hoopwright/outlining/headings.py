"""Which blocks are headings, how they rank, and which of them are titles of steps."""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from hoopwright.outlining.blocks import Block
from hoopwright.outlining.ink import visible
from hoopwright.outlining.labels import Label, follows, labels, roman_heads, starts
from hoopwright.outlining.numbering import dangling, finished
from hoopwright.outlining.parts_prose import list_sentences
from hoopwright.outlining.roles import extra_of, role_of
from hoopwright.outlining.rows import Sheet

_SECTION_WORDS = frozenset({"stage", "phase", "part", "task", "operation", "section", "chapter"})
_HEADING_WORDS = frozenset({"part", "section", "chapter"})  # never the label of a step
_END = re.compile(r"[.;,!?]$")
# Ranks of heading styles, outermost first. Markdown levels take 10 to 60.
TITLE, CAPS, _PLAIN = 5, 20, 50
_FRAMED = re.compile(r"^(?P<mark>[~=*+<>_-]{1,5})\s*[A-Za-z0-9].*?\s*(?:(?P=mark)|>+)$")  # "~ First evening: the plot ~"
_MANY_RUN_IN = 4  # fewer run-in titles may be stressed words


def mark_headings(blocks: Sequence[Block], sheet: Sheet) -> list[Block]:
    """The blocks with headings told from paragraphs, ranked, and step titles told from headings of sections."""
    blocks = _title_row(blocks, sheet)
    result = [_own_heading(block, i, blocks, sheet) for i, block in enumerate(blocks)]
    result = _run_in_titles(result, sheet)
    result = _one_style(_single_file(result, sheet), sheet)
    result = _labelled(result, sheet)
    return _title_first(result, sheet)


def _title_row(blocks: Sequence[Block], sheet: Sheet) -> list[Block]:
    """Parts the title from the lines set close below it, where a document begins with short lines."""
    first = next((i for i, block in enumerate(blocks) if block.kind != "rule"), None)
    if first is None or blocks[first].label is not None:
        return list(blocks)
    block = blocks[first]
    boxed = (
        block.kind == "callout" and block.first.boxed and block.signal is None and len(block.rows) < 4 and not finished(block.rows[-1].text)
    )
    if boxed:
        return [*blocks[:first], replace(block, kind="heading", rank=1), *blocks[first + 1 :]]
    if block.kind != "text":
        return list(blocks)
    short = all(row.reach < 0.75 or len(row.text) < 45 for row in block.rows)
    lines_apart = not finished(block.rows[-1].text) or (block.first.text.isupper() and not sheet.shouted)
    if not 2 <= len(block.rows) <= 4 or not short or not lines_apart or finished(block.first.text) or block.first.text[0].islower():
        return list(blocks)
    title = replace(block, kind="heading", rows=block.rows[:1], rank=1)
    return [*blocks[:first], title, replace(block, rows=block.rows[1:], lead=0), *blocks[first + 1 :]]


def _own_heading(block: Block, i: int, blocks: Sequence[Block], sheet: Sheet) -> Block:
    if block.kind == "heading":
        return replace(block, rank=block.rank * 10)
    if block.label is not None and block.kind == "text" and block.words(sheet) and not finished(block.rows[-1].text):
        wrapped = len(block.rows) < 4 and len({row.size for row in block.rows}) == 1
        rank = _size_rank(block, sheet) if wrapped else 0
        return replace(block, kind="heading", rank=rank) if rank else block
    if block.kind != "text" or block.label is not None or len(block.rows) > 2 or block.first.boxed or block.first.quoted:
        return block
    rank = _rank(block, blocks[i + 1] if i + 1 < len(blocks) else None, sheet, first=i == 0)
    return replace(block, kind="heading", rank=rank) if rank else block


def _rank(block: Block, following: Block | None, sheet: Sheet, first: bool) -> int:
    """The rank of an unlabelled block as a heading; 0 if it is none."""
    text = block.words(sheet)
    if len(text) > 90 or not text or text[0].islower() or text.count(". ") > 1:
        return 0
    if (by_size := _size_rank(block, sheet)) > 0:
        return by_size
    if _is_upper(text, sheet) and not text.endswith(","):
        return CAPS
    if len(block.rows) == 1 and _FRAMED.match(text) and block.first.gap != "none" and following is not None:
        return CAPS
    if _all_bold(block, sheet) and not re.search(r"[.!?]$", text) and block.first.gap != "none":
        return _PLAIN - 5
    return _PLAIN if _plain_heading(block, text, following, sheet, first) else 0


def _run_in_titles(blocks: list[Block], sheet: Sheet) -> list[Block]:
    """Parts run-in titles ("**Stakes.** Lay out …") from their paragraphs, where most paragraphs begin with one."""
    plain = [i for i, block in enumerate(blocks) if block.kind == "text" and block.label is None]
    ends = {i: end for i in plain if (end := bold_lead(blocks[i], sheet)) is not None}
    if len(ends) < _MANY_RUN_IN or 2 * len(ends) < len(plain):
        return blocks
    result: list[Block] = []
    for i, block in enumerate(blocks):
        if (end := ends.get(i)) is None:
            result.append(block)
            continue
        title = replace(block.first, text=block.first.text[:end].rstrip())
        result += [replace(block, kind="heading", rows=(title,), rank=_PLAIN - 5), replace(block, lead=end)]
    return result


def _size_rank(block: Block, sheet: Sheet) -> int:
    """The rank of a heading that is set larger than the running text, 0 for other blocks."""
    size = block.first.size
    if size is None or not sheet.body_size or size <= 1.08 * sheet.body_size:
        return 0
    return max(10, 30 - round(2 * (size - sheet.body_size)))


def _is_upper(text: str, sheet: Sheet) -> bool:
    """True for words in capitals, but for what stands in brackets, in a document that is not all in capitals."""
    letters = [c for c in re.sub(r"\(.*?\)", "", text) if c.isalpha()]
    return not sheet.shouted and len(letters) > 3 and sum(c.isupper() for c in letters) >= 0.9 * len(letters)


def _all_bold(block: Block, sheet: Sheet) -> bool:
    if sheet.document.kind == "markdown":
        return all(re.fullmatch(r"(\*\*|__)[^*_]+(\*\*|__):?", row.text) for row in block.rows)
    return all(row.bold for row in block.rows)


def _plain_heading(block: Block, text: str, following: Block | None, sheet: Sheet, first: bool) -> bool:
    """A short line on its own, without a stop, with something to head below it. The document's first may stand over another heading."""
    title = first and role_of(text) != "build"
    if not title and following is not None and following.kind == "text" and following.label is None and len(following.rows) == 1:
        below = following.words(sheet)
        if not finished(below) and not _is_upper(below, sheet):
            return False
    if (
        len(block.rows) > 1
        or block.first.gap == "none"
        or not block.gap_after
        or following is None
        or following.kind in ("heading", "rule")
    ):
        return False
    if len(text) > 60 or len(text.split()) > 8 or _END.search(text) or sum(c.isalpha() for c in text) < 3:
        return False
    if list_sentences(text) is not None:
        return False  # "Contents: 4 clips, 8 bolts"
    return not text.endswith(":") or role_of(text) not in (None, "build", "intro", "correction")


def _single_file(blocks: list[Block], sheet: Sheet) -> list[Block]:
    """Short lines that follow each other are no headings: only the last one before a text may be one."""
    result = list(blocks)
    for i, block in enumerate(blocks[:-1]):
        if (
            i > 0
            and block.kind == "heading"
            and block.rank == _PLAIN
            and blocks[i + 1].kind == "heading"
            and role_of(block.words(sheet)) in (None, "build")
        ):
            result[i] = replace(block, kind="text", rank=0)
    return result


def _one_style(blocks: list[Block], sheet: Sheet) -> list[Block]:
    """Where headings are marked or set larger, a short line in plain type is none."""
    marked = sum(block.kind == "heading" and block.rank < CAPS + 15 and _is_marked(block, sheet) for block in blocks)
    if marked < 2:
        return blocks
    return [replace(block, kind="text", rank=0) if block.kind == "heading" and block.rank == _PLAIN else block for block in blocks]


def _is_marked(block: Block, sheet: Sheet) -> bool:
    if block.first.size is not None:
        return sheet.body_size is not None and block.first.size > 1.08 * sheet.body_size
    return sheet.document.kind == "markdown" and block.first.text.startswith("#")


def _labelled(blocks: list[Block], sheet: Sheet) -> list[Block]:
    """Numbered titles: headings of sections, or titles of steps, all of one form alike."""
    roman = roman_heads({i: block.first.text[block.lead :] for i, block in enumerate(blocks) if block.kind == "heading"})
    named = [block if i in roman and block.label is None else _with_label(block, sheet) for i, block in enumerate(blocks)]
    labelled = [part for block in named for part in _parted_title(block, sheet)]
    groups: dict[tuple[str, str, int], list[int]] = defaultdict(list)
    for i, block in enumerate(labelled):
        if _bare_label(block, sheet):
            labelled[i] = replace(block, kind="text", titled=True)
        elif block.label is not None and not block.titled and _title_like(labelled, i, sheet):
            groups[_form(block)].append(i)
    result = list(labelled)
    for key, members in groups.items():
        sections = _are_sections(labelled, members, sheet)
        above = sections and _holds_headings(labelled, members)
        for i in members:
            block = labelled[i]
            if sections:
                result[i] = replace(block, kind="heading", rank=block.rank or _label_rank(block, key, above))
            elif len(members) > 1 or block.kind == "heading" or (block.label is not None and block.label.word):
                result[i] = replace(block, kind="text", titled=True)
    # A numbered heading in the house style that is no member of a row of titles stays a heading.
    return [replace(b, label=None) if b.kind == "heading" else b for b in result]


def _with_label(block: Block, sheet: Sheet) -> Block:
    """A Markdown or printed heading with the label that it begins with, if any."""
    if block.kind != "heading" or block.label is not None:
        return block
    found = next((label for label in labels(block.first.text[block.lead :]) if not label.letter or label.sep), None)
    if found is None or (found.form == "bare letter-number"):
        return block
    return replace(block, label=found, lead=block.lead + found.body)


def _parted_title(block: Block, sheet: Sheet) -> list[Block]:
    """Parts "Step 1: Ridge clips" from the text set close below it."""
    if block.label is None or not block.label.word or block.kind != "text" or len(block.rows) < 2:
        return [block]
    first, second = block.first, block.rows[1]
    if (
        first.reach > 0.7
        or not first.text[block.lead :].strip()
        or finished(first.text)
        or dangling(first.text)
        or second.text[0].islower()
    ):
        return [block]
    return [replace(block, rows=(first,)), replace(block, rows=block.rows[1:], label=None, lead=0)]


def _bare_label(block: Block, sheet: Sheet) -> bool:
    """True for a label that stands alone over its step: "1", "Step 3." """
    return block.label is not None and block.label.word not in _SECTION_WORDS and not block.words(sheet)


def _form(block: Block) -> tuple[str, str, int]:
    assert block.label is not None
    return (block.label.word or block.label.form, block.kind, len(block.label.path))


def _label_rank(block: Block, key: tuple[str, str, int], holds_headings: bool) -> int:
    return (CAPS - 5 if key[0] in _SECTION_WORDS and holds_headings else CAPS) + 5 * key[2] - 5


def _holds_headings(blocks: Sequence[Block], members: Sequence[int]) -> bool:
    """True if other headings stand between the titles, so that the titles rank above them. What follows the last title tells nothing."""
    return any(blocks[j].kind == "heading" for a, b in pairwise(members) for j in range(a + 1, b))


def _title_like(blocks: Sequence[Block], i: int, sheet: Sheet) -> bool:
    block = blocks[i]
    if block.kind == "heading":
        return True
    text = block.words(sheet)
    shout = text.isupper() and not sheet.shouted
    if block.kind != "text" or len(block.rows) > 1 or not text or len(text) > 70 or text[0].islower():
        return False
    if text.endswith(":") or (_END.search(text) and not (shout and len(text.split()) < 6)):
        return False
    following = blocks[i + 1] if i + 1 < len(blocks) else None
    if following is None or block.label is None or following.kind in ("heading", "rule"):
        return False
    if following.label is None:
        return following.kind != "bullet" or block.label.word != "" or text.isupper()
    deeper = len(following.label.path) > len(block.label.path) and following.label.path[: len(block.label.path)] == block.label.path
    # Steps below may count on through all stages: "Stage Five" with (ix) below it.
    # "Procedure C" over step 17
    lettered = block.label.word not in ("", "step") and block.label.printed.isalpha() and following.label.printed.isdigit()
    other_row = following.label.form != block.label.form and (
        starts(following.label.path) or block.label.word in _SECTION_WORDS or lettered
    )
    return deeper or other_row or text.isupper()


def _are_sections(blocks: Sequence[Block], members: Sequence[int], sheet: Sheet) -> bool:
    """True if the titled blocks are sections; False if each is a step with a title."""
    first = blocks[members[0]].label
    assert first is not None
    inner = [_inner_labels(blocks, start, _end(blocks, members, n)) for n, start in enumerate(members)]
    if first.word == "step":
        # "STEP 3" with 3a, 3b, 3c below it: the printed labels of the steps are those inside.
        return _runs_through(inner) or any(len(label.path) > 1 and label.path[0] == first.path[0] for label in inner[0])
    if first.word in _HEADING_WORDS or (first.word and any(inner)):
        return True  # "Part B"; "Stage 2" with a), b), c) below it
    roles = {role_of(blocks[i].words(sheet)) for i in members}
    if roles & {"intro", "parts", "tools", "safety", "summary", "contents", "other", "correction"}:
        return True
    if any(extra_of(blocks[i].words(sheet)) for i in members) and len(members) < 4:
        return True
    return any(any(not label.letter for label in found) for found in inner)


def _end(blocks: Sequence[Block], members: Sequence[int], n: int) -> int:
    """Where what belongs to a title ends: at the next title or the next heading."""
    stop = members[n + 1] if n + 1 < len(members) else len(blocks)
    return next((j for j in range(members[n] + 1, stop) if blocks[j].kind == "heading"), stop)


def _inner_labels(blocks: Sequence[Block], start: int, stop: int) -> list[Label]:
    return [block.label for block in blocks[start + 1 : stop] if block.label is not None and block.kind == "text"]


def _runs_through(inner: Sequence[Sequence[Label]]) -> bool:
    """True if the numbers inside go on from one title to the next, so that they, and not the titles, are the steps."""
    numbers = [[label.path for label in found if not label.letter] for found in inner]
    filled = [paths for paths in numbers if paths]
    return len(filled) > 1 and all(follows(a[-1], b[0]) for a, b in pairwise(filled))


def _title_first(blocks: list[Block], sheet: Sheet) -> list[Block]:
    """The first heading is the document's title if others of its rank follow and it names no part of the manual."""
    heads = [i for i, block in enumerate(blocks) if block.kind == "heading"]
    if not heads or any(b.kind not in ("heading", "rule", "callout", "caption") and b.titled is False for b in blocks[: heads[0]]):
        return blocks
    first = blocks[heads[0]]
    ranks = Counter(blocks[i].rank for i in heads)
    if role_of(first.words(sheet)) in ("parts", "tools", "safety", "contents", "summary") or (
        len(heads) > 1 and ranks[min(ranks)] == 1 and first.rank > min(ranks)
    ):
        return blocks
    if len(heads) > 1 and first.rank > TITLE:
        blocks = list(blocks)
        blocks[heads[0]] = replace(first, rank=TITLE)
    return blocks


def bold_lead(block: Block, sheet: Sheet) -> int | None:
    """Where a bold or capital run-in title of the first row ends ("**Ridge clips.** Slide …"), None if there is none.

    Counted in characters of the row's text.
    """
    rest = block.first.text[block.lead :]
    title, end = _bold_title(block, rest)
    if not title or len(title.split()) > 8 or not visible(rest[end:], sheet.document.kind).strip():
        return None
    if re.search(r"\b(?:two|three|four|five|six|one|each|every|both|all|\d+)\b", title, re.IGNORECASE):
        return None
    return block.lead + end


def _bold_title(block: Block, rest: str) -> tuple[str, int]:
    """The run-in title at the start of ``rest``, and where it ends; empty if there is none."""
    set_bold = block.first.bold_end - block.lead
    if set_bold > 0:  # told by the type
        return (rest[:set_bold], set_bold) if rest[set_bold : set_bold + 1].strip(" :.") == "" else ("", 0)
    emphasis = block.label.emphasis if block.label else ""
    match = re.match(
        r"(?P<title>[^*_]+?)(?P<close>\*{1,3}|_{1,3})(?=\s|$)"
        if emphasis
        else r"(?P<open>\*\*|__)(?P<title>[^*_]+?)(?P<close>\*\*|__)(?=[\s:.]|$)",
        rest,
    ) or re.match(r"(?P<title>[A-Z][A-Z0-9 ,&/'’-]{3,60}[.:])\s+(?=[A-Z0-9][a-z0-9])", rest)
    return (match.group("title"), match.end()) if match is not None else ("", 0)
