"""The summary on the terminal: the table, what goes on before joining, the bag check, warnings, questions, cautions."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from hoopwright.model.outline import Source
from hoopwright.model.schedule import Finding, PartBalance, Question, Schedule
from hoopwright.reporting.cautions import CAUTIONS, LIMITS
from hoopwright.reporting.grouping import hoop_range, placements_of, same_counts
from hoopwright.reporting.lengths import Units, length
from hoopwright.reporting.marks import codes_of, fittings_of
from hoopwright.reporting.text import clipped, plural, shown
from hoopwright.reporting.thread_order import threads

if TYPE_CHECKING:
    from rich.console import Console, RenderableType
    from rich.table import Table

_NAME_LIMIT = 60
_QUOTE_LIMIT = 400
_COLUMN_GAP = 3  # blanks between two columns of the table
_MAX_WORD = 14  # longer words in a column head are cut: a head must not push the table off the screen


def structure_line(schedule: Schedule, units: Units = "metric") -> str:
    """One line on the frame: hoops, spacing, width, height, length, tubes. What the manual does not give is left out."""
    frame = schedule.structure
    words = [plural(len(frame.hoops), "hoop")]
    if frame.spacing_mm is not None:
        words[0] += f", {length(frame.spacing_mm, units)} apart"
    for value, name in ((frame.width_mm, "wide"), (frame.height_mm, "high"), (frame.length_mm, "long")):
        if value is not None:
            words.append(f"{length(value, units)} {name}")
    if frame.sections_per_hoop:
        words.append(f"{plural(frame.sections_per_hoop, 'tube')} to a hoop")
    if frame.shape:
        words.append(shown(frame.shape))
    return " · ".join(words)


def summary_text(schedule: Schedule, width: int = 80, units: Units = "metric") -> str:
    """The summary as plain text, ``width`` characters wide, without colour."""
    from rich.console import Console

    stream = io.StringIO()
    console = Console(file=stream, width=width, color_system=None, force_terminal=False, legacy_windows=False)
    print_summary(schedule, console, units)
    return "\n".join(line.rstrip() for line in stream.getvalue().splitlines()) + "\n"


def print_summary(schedule: Schedule, console: Console | None = None, units: Units = "metric") -> None:
    """Print the summary on ``console`` (standard output by default). Text of the manual is never taken for markup or control codes."""
    from rich.console import Console

    console = console or Console(highlight=False)
    for block in _blocks(schedule, units, console.width):
        console.print(block, highlight=False, markup=False, emoji=False)


def _blocks(schedule: Schedule, units: Units, width: int) -> list[RenderableType]:
    from rich.text import Text

    title = shown(schedule.title) or "Fitting schedule"
    blocks: list[RenderableType] = [Text(title, style="bold"), Text(structure_line(schedule, units)), Text()]
    if schedule.options:
        blocks.insert(2, Text("With the extras: " + ", ".join(map(shown, schedule.options))))
    blocks += [_heading("Fittings on each hoop"), *_count_tables(schedule, width), Text()]
    blocks += _elsewhere(schedule)
    blocks += [_heading("Before the hoop is closed, thread on"), *_threading(schedule), Text()]
    blocks += [_heading("Bag check"), *_bag(schedule.parts), Text()]
    names = {document.id: shown(document.name) for document in schedule.documents}
    blocks += [_heading(f"Warnings ({len(schedule.warnings)})"), *_warnings(schedule.warnings, schedule, names), Text()]
    blocks += [_heading(f"Questions ({len(schedule.questions)})"), *_questions(schedule.questions, schedule, names), Text()]
    blocks += [_heading("Take care"), *_cautions(schedule, names)]
    return blocks


def _heading(text: str) -> RenderableType:
    from rich.text import Text

    return Text(text.upper(), style="bold")


def _indented(text: str, left: int = 2, style: str = "") -> RenderableType:
    from rich.padding import Padding
    from rich.text import Text

    return Padding(Text(text, style=style), (0, 0, 0, left))


def _bulleted(head: str, text: str, style: str = "") -> RenderableType:
    """A mark in a column of its own, so that wrapped lines stay under the text and not under the mark."""
    return _rows([(f"  {head}", text)], style)


def _rows(rows: list[tuple[str, str]], style: str = "") -> RenderableType:
    from rich.table import Table
    from rich.text import Text

    grid = Table.grid(padding=(0, 2, 0, 0))
    grid.add_column(no_wrap=True)
    grid.add_column(overflow="fold")
    for head, text in rows:
        grid.add_row(Text(head, style=style), Text(text, style=style))
    return grid


def _head_word(word: str) -> str:
    return clipped(word, _MAX_WORD)


def _head(name: str, code: str | None) -> str:
    """A column head: the name on as many lines as it has words (at most four), then the code."""
    words = [_head_word(word) for word in shown(name).split()] or ["?"]
    if len(words) > 4:
        words = [*words[:3], "…"]
    return "\n".join([*words, f"({clipped(shown(code), 8)})"] if code else words)


def _count_tables(schedule: Schedule, width: int) -> list[RenderableType]:
    """Tables that fit the width, each with the hoops in its first column: one table where that is enough."""
    from rich.text import Text

    groups = same_counts(schedule)
    if not groups:
        return [_indented("The manual names no hoop.")]
    codes = codes_of(schedule)
    columns = [name for name in fittings_of(schedule) if any(name in row for row in schedule.counts.values())]
    if not columns:
        return [_indented("No fitting sits on a hoop.")]
    first = min(max(len(hoop_range(group)) for group in groups), max(width // 3, 8))
    tables: list[RenderableType] = []
    start = 0
    while start < len(columns):
        room, stop = width - first - _COLUMN_GAP, start
        while stop < len(columns) and (stop == start or room >= _column_width(columns[stop], codes) + _COLUMN_GAP):
            room -= _column_width(columns[stop], codes) + _COLUMN_GAP
            stop += 1
        tables += [Text()] if tables else []
        tables.append(_count_table(schedule, groups, columns[start:stop], codes, first))
        start = stop
    return tables


def _column_width(name: str, codes: dict[str, str | None]) -> int:
    return max(len(line) for line in _head(name, codes.get(name)).split("\n"))


def _count_table(schedule: Schedule, groups: list[tuple[str, ...]], columns: list[str], codes: dict[str, str | None], first: int) -> Table:
    from rich import box
    from rich.table import Table
    from rich.text import Text

    table = Table(box=box.SIMPLE_HEAD, pad_edge=False, padding=(0, 1), show_edge=False)
    heads = [_head(name, codes.get(name)) for name in columns]
    lowest = max(head.count("\n") for head in heads)
    table.add_column("\n" * lowest + "hoop", width=first)
    for name, head in zip(columns, heads, strict=True):
        lines = "\n" * (lowest - head.count("\n")) + head
        table.add_column(Text(lines), justify="right", no_wrap=True, min_width=_column_width(name, codes))
    for group in groups:
        row = schedule.counts.get(group[0], {})
        table.add_row(Text(hoop_range(group), style="bold"), *(Text(str(row[name]) if row.get(name) else "·") for name in columns))
    return table


def _elsewhere(schedule: Schedule) -> list[RenderableType]:
    from rich.text import Text

    if not schedule.elsewhere:
        return []
    rows = [
        (f"  {clipped(shown(member), _NAME_LIMIT // 2)}:", ", ".join(_piece(number, name, None) for name, number in row.items()))
        for member, row in schedule.elsewhere.items()
    ]
    return [_heading("On other members, all together"), _rows(rows), Text()]


def _threading(schedule: Schedule) -> list[RenderableType]:
    lines: list[RenderableType] = []
    by_hoop = placements_of(schedule)
    for group, ends in threads(schedule):
        lines.append(_indented(hoop_range(group), style="bold"))
        rows = [(clipped(shown(end), 34) + ":", [_piece(item.quantity, item.fitting, item.code) for item in items]) for end, items in ends]
        lines.append(_rows([(f"    {end}", ", then ".join(pieces)) for end, pieces in rows]))
    bare = [hoop for hoop, items in by_hoop.items() if not any(item.when == "before-joining" for item in items)]
    if bare:
        lines.append(_indented(f"{hoop_range(bare)}: nothing"))
    return lines or [_indented("Nothing.")]


def _piece(quantity: int, fitting: str, code: str | None) -> str:
    mark = f" ({clipped(shown(code), 8)})" if code else ""
    return f"{quantity} × {clipped(shown(fitting), _NAME_LIMIT)}{mark}"


def _is_off(part: PartBalance) -> bool:
    return part.difference is None or part.difference < 0 or part.needed == 0 or not part.in_list


def bag_note(part: PartBalance) -> str:
    """What the bag check says of a part: short, left over, not listed, no number, right."""
    if part.difference is None:
        return "no number in the list" if part.in_list else "not in the list"
    if part.difference < 0:
        return f"{-part.difference} short"
    if part.needed == 0:
        return "not used by any step"
    return "right" if part.difference == 0 else f"{part.difference} left over"


def _bag(parts: tuple[PartBalance, ...]) -> list[RenderableType]:
    off = [part for part in parts if _is_off(part)]
    lines = []
    for part in off:
        listed = "no number" if part.listed is None else str(part.listed)
        name = clipped(shown(part.fitting), _NAME_LIMIT) + (f" ({clipped(shown(part.code), 8)})" if part.code else "")
        lines.append(_bulleted("!", f"{name}: listed {listed}, needed {part.needed}: {bag_note(part)}"))
    fine = len(parts) - len(off)
    if fine:
        lines.append(_indented(f"{plural(fine, 'other part')}: enough." if off else f"{plural(fine, 'part')}: enough of each."))
    return lines or [_indented("The manual has no parts list, and no fitting.")]


def _where(source: Source, names: dict[str, str]) -> str:
    document = f"{names.get(source.document, source.document)}, " if len(names) > 1 else ""
    return f"{document}page {source.page}: “{clipped(shown(source.quote), _QUOTE_LIMIT)}”"


def _step_words(steps: tuple[str, ...], schedule: Schedule, names: dict[str, str]) -> list[str]:
    """Page and words of each step: what stands under a finding that brings no quote of its own."""
    known = {step.id: step for step in schedule.steps}
    return [_where(Source(step.document, step.page, 0, 0, step.text), names) for id in steps if (step := known.get(id))]


def _warnings(warnings: tuple[Finding, ...], schedule: Schedule, names: dict[str, str]) -> list[RenderableType]:
    lines: list[RenderableType] = []
    for finding in warnings:
        about = ", ".join(word for word in (hoop_range(finding.hoops), clipped(shown(finding.fitting or ""), _NAME_LIMIT)) if word)
        head = f"{finding.code}{': ' + about if about else ''}. {shown(finding.message)}"
        lines.append(_bulleted(f"! {finding.id}", head))
        if finding.advice:
            lines.append(_indented(f"Do: {shown(finding.advice)}", 8))
        quotes = [_where(source, names) for source in finding.sources] or _step_words(finding.steps, schedule, names)
        lines += [_indented(quote, 8, "dim") for quote in quotes]
    return lines or [_indented("None.")]


def _questions(questions: tuple[Question, ...], schedule: Schedule, names: dict[str, str]) -> list[RenderableType]:
    lines: list[RenderableType] = []
    for question in questions:
        about = ", ".join(word for word in (hoop_range(question.hoops), clipped(shown(question.fitting or ""), _NAME_LIMIT)) if word)
        lines.append(_bulleted(f"? {question.id}", f"{question.about}{': ' + about if about else ''}. {shown(question.message)}"))
        lines += [_indented(f"either: {shown(reading)}", 8) for reading in question.readings]
        lines.append(_indented(f"until you answer: {shown(question.assumed)}" if question.assumed else "nothing is assumed", 8))
        steps = (question.step,) if question.step else ()
        quotes = [_where(question.source, names)] if question.source else _step_words(steps, schedule, names)
        lines += [_indented(quote, 8, "dim") for quote in quotes]
    return lines or [_indented("None.")]


def _cautions(schedule: Schedule, names: dict[str, str]) -> list[RenderableType]:
    lines = [_indented(LIMITS)]
    lines += [_bulleted("-", f"The manual, {_where(source, names)}") for source in schedule.cautions]
    lines += [_bulleted("-", f"{caution.heading}. {caution.text}") for caution in CAUTIONS]
    return lines
