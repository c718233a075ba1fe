"""The printed sheets: data for ``sheets.typ``, and the PDF that Typst makes of it (PDF/UA-1, fonts embedded).

Everything from the manual reaches Typst as JSON strings, never as markup.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

from hoopwright.model.schedule import Placement, Schedule, When
from hoopwright.reporting.canvas import TONES, Block, Disc, Drawing, Shape, Stroke
from hoopwright.reporting.cautions import CAUTIONS, LIMITS
from hoopwright.reporting.glyphs import breakable, mono_width, plain_letters, printable
from hoopwright.reporting.grouping import hoop_range, same_counts
from hoopwright.reporting.hoop_drawing import hoop_drawings
from hoopwright.reporting.hoop_sheet import NAME_LIMIT, Row, StepNames, finding_row, hoop_sheet, hoop_views, question_row
from hoopwright.reporting.lengths import Units, length
from hoopwright.reporting.makers import Paper
from hoopwright.reporting.marks import codes_of, fittings_of
from hoopwright.reporting.places import TIME_WORDS, Places
from hoopwright.reporting.plan_drawing import draw_plan
from hoopwright.reporting.tape_drawing import draw_tape
from hoopwright.reporting.tapes import Reading, Tape, hook_words, tapes
from hoopwright.reporting.terminal import bag_note, structure_line
from hoopwright.reporting.text import clipped, shown
from hoopwright.reporting.typesetting import REFUSED, typeset

TEMPLATE = Path(__file__).with_name("sheets.typ")
PROGRAM = Path(__file__).with_name("typesetting.py")
STEP_LIMIT = 1500  # what is to be done, and what to take care of, must not be cut short
WIDTH = 180.0  # mm between the margins, on both papers
_COLUMNS = 11  # fittings that stand side by side in one table of the front page


def sheets_pdf(schedule: Schedule, units: Units = "metric", paper: Paper = "a4", share: bool = False) -> bytes:
    """The sheets as a tagged PDF: front page, order of work, hoops, tapes, bag check. ``share``: alike hoops share a sheet."""
    import typst

    data = sheet_data(schedule, units, paper, share)
    try:
        return typeset(TEMPLATE.read_bytes(), _json(data, breakable))
    except typst.TypstError:
        return typeset(TEMPLATE.read_bytes(), _json(data, _letter_by_letter))


class Typesetting:
    """``sheets_pdf`` under way in a process of its own, which writes ``output``. Leave it by ``wait`` or ``stop``."""

    def __init__(self, schedule: Schedule, output: Path, units: Units = "metric", paper: Paper = "a4", share: bool = False) -> None:
        self._data = sheet_data(schedule, units, paper, share)
        self._output = output
        self._process = self._started(breakable)

    def _started(self, words: Callable[[str], str]) -> subprocess.Popen[bytes]:
        # -P: a file of the user's that happens to be called typst.py is not what is meant.
        command = [sys.executable, "-P", str(PROGRAM), str(TEMPLATE), str(self._output)]
        process = subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
        assert process.stdin is not None
        try:
            process.stdin.write(_json(self._data, words).encode("utf-8", "replace"))
            process.stdin.close()
        except BrokenPipeError:
            pass  # it has ended; ``wait`` says why
        process.stdin = None
        return process

    def wait(self) -> None:
        """Return when the file is written. Raises RuntimeError if it cannot be."""
        _, words = self._process.communicate()
        if self._process.returncode == REFUSED:
            self._process = self._started(_letter_by_letter)
            _, words = self._process.communicate()
        if self._process.returncode:
            last = words.decode("utf-8", "replace").strip().rpartition("\n")[2]
            raise RuntimeError(f"the sheets could not be typeset (code {self._process.returncode}) {last}".strip())

    def stop(self) -> None:
        """End it, whatever it has done so far; nothing happens if it has ended."""
        if self._process.poll() is None:
            self._process.kill()
            self._process.communicate()


def _letter_by_letter(text: str) -> str:
    """Some scripts join letters into forms that no font has, though it has each letter. Then every such letter is named."""
    return breakable(plain_letters(text))


def _json(data: Row, words: Callable[[str], str]) -> str:
    """The data for Typst, every string of it made fit to print by ``words``."""
    return json.dumps(_clean(data, cache(words)), ensure_ascii=False)


def _clean(value: Any, words: Callable[[str], str]) -> Any:
    """Every string made fit to print."""
    if isinstance(value, str):
        return words(value)
    if isinstance(value, dict):
        return {key: _clean(item, words) for key, item in value.items()}
    return [_clean(item, words) for item in value] if isinstance(value, list) else value


def sheet_data(schedule: Schedule, units: Units, paper: Paper, share: bool) -> Row:
    """All that the sheets show, as JSON."""
    places, steps = Places(schedule, units), StepNames(schedule)
    drawings: dict[tuple[str, ...], list[Row]] = {}  # hoops that are dressed alike look alike
    hoops = []
    for view, alike in hoop_views(schedule, places, share):
        if alike not in drawings:
            drawings[alike] = [_drawing(part) for part in hoop_drawings(view, places, WIDTH)]
        hoops.append({**hoop_sheet(view, alike, places, steps), "drawing": list(drawings).index(alike)})
    return {
        "paper": paper,
        "tones": dict(TONES),
        "title": clipped(shown(schedule.title), 160) or "Fitting schedule",
        "head": clipped(printable(schedule.title), 60) or "Fitting schedule",
        "front": _front(schedule, places, steps),
        "order": _order(schedule, steps),
        "hoops": hoops,
        "drawings": list(drawings.values()),
        "tapes": [_tube(group, places) for group in tapes(places)],
        "bag": _bag(schedule),
        "times": dict(TIME_WORDS),
    }


def _front(schedule: Schedule, places: Places, steps: StepNames) -> Row:
    return {
        "structure": structure_line(schedule, places.units),
        "documents": [clipped(shown(document.name), 60) for document in schedule.documents],
        "options": [clipped(shown(option), 60) for option in schedule.options],
        "plan": _drawing(draw_plan(schedule, places.units, WIDTH)),
        "counts": _tables(schedule, schedule.counts, places),
        "before": _tables(schedule, schedule.before_joining, places),
        "elsewhere": [
            {
                "member": clipped(shown(member), 40),
                "pieces": [f"{number} {clipped(shown(name), NAME_LIMIT)}" for name, number in row.items()],
            }
            for member, row in schedule.elsewhere.items()
        ],
        "warnings": [finding_row(finding, steps) for finding in schedule.warnings],
        "questions": [question_row(question, steps) for question in schedule.questions],
        "limits": LIMITS,
        "cautions": [{"head": caution.heading, "text": caution.text} for caution in CAUTIONS],
        "own": [f"{steps.page(source)}: “{clipped(shown(source.quote), STEP_LIMIT)}”" for source in schedule.cautions],
    }


def _tables(schedule: Schedule, counts: dict[str, dict[str, int]], places: Places) -> list[Row]:
    """The hoop-by-fitting table in pieces that fit the page: heads (mark, name) and a row for each group of alike hoops."""
    names = [name for name in fittings_of(schedule) if any(name in row for row in counts.values())]
    groups = same_counts(schedule)
    tables = []
    pieces = -(-len(names) // _COLUMNS)
    step = -(-len(names) // pieces) if pieces else 1
    for start in range(0, len(names), step):
        chosen = names[start : start + step]
        tables.append(
            {
                "heads": [{"mark": places.marks[name], "name": clipped(shown(name), 40)} for name in chosen],
                "rows": [
                    {"hoops": hoop_range(group), "numbers": [counts.get(group[0], {}).get(name, 0) for name in chosen]} for group in groups
                ],
            }
        )
    return tables


def _order(schedule: Schedule, steps: StepNames) -> list[Row]:
    """The steps in the revised order, moved ones with their reason."""
    known = {step.id: step for step in schedule.steps}
    order = schedule.work_order or tuple(known)
    labelled = sum(step.label is not None for step in schedule.steps) * 2 > len(schedule.steps)
    used = {item.step for item in schedule.placements}
    rows = []
    for id in order:
        if (step := known.get(id)) is None or not step.text.strip():
            continue
        moves = [move for move in schedule.moves if move.step == id]
        rows.append(
            {
                "step": clipped(printable(step.label), 7) if step.label else "",
                # Between numbered steps, words without a number that put nothing anywhere are there to be read, not ticked off.
                "tick": step.label is not None or not labelled or id in used or bool(moves),
                "section": clipped(shown(step.section or ""), 80),
                "text": clipped(shown(step.text), STEP_LIMIT),
                "page": step.page,
                "option": clipped(shown(step.option), 40) if step.option else "",
                "moved": [_moved(move.before, move.reason, move.hoops, steps) for move in moves],
            }
        )
    return rows


def _moved(before: str | None, reason: str, hoops: tuple[str, ...], steps: StepNames) -> str:
    where = f"before {steps.of(before)}" if before else "to the end"
    about = f" ({hoop_range(hoops)})" if hoops else ""
    return f"Moved {where}{about}: {clipped(shown(reason), 240)}"


def _tube(group: list[Tape], places: Places) -> Row:
    tube = group[0]
    size = f"{length(tube.length_mm, places.units)} long" if tube.length_mm else "length not in the manual"
    return {
        "name": clipped(shown(tube.tube), 60),
        "size": size,
        "hook": clipped(hook_words(tube), 60),
        "strips": [
            {
                "hoops": hoop_range(tape.hoops),
                "drawing": _drawing(draw_tape(tape, places, WIDTH)),
                "rows": [_reading(reading, places) for reading in tape.readings],
                "threads": [
                    {"end": clipped(shown(end), 60), "pieces": [_piece(item, places) for item in items]} for end, items in tape.threads
                ],
            }
            for tape in group
        ],
    }


def _piece(item: Placement, places: Places) -> str:
    return f"{item.quantity} {clipped(shown(item.fitting), 60)} ({places.marks[item.fitting]})"


def _reading(reading: Reading, places: Places) -> Row:
    known = reading.tape_mm is not None
    spots = dict.fromkeys(places.where(item) for item in reading.placements)
    pieces: dict[tuple[str, When], int] = {}
    for item in reading.placements:
        pieces[item.fitting, item.when] = pieces.get((item.fitting, item.when), 0) + item.quantity
    return {
        "tape": length(reading.tape_mm, places.units) if known else "–",
        "where": "" if known else clipped("; ".join(spots), NAME_LIMIT),
        "pieces": [
            {"mark": places.marks[name], "name": clipped(shown(name), 60), "number": number, "time": time}
            for (name, time), number in pieces.items()
        ],
    }


def _bag(schedule: Schedule) -> list[Row]:
    codes = codes_of(schedule)
    return [
        {
            "name": clipped(shown(part.fitting), NAME_LIMIT),
            "code": clipped(printable(part.code or codes.get(part.fitting) or ""), 12),
            "listed": "–" if part.listed is None else str(part.listed),
            "needed": str(part.needed),
            "left": "–" if part.difference is None else str(part.difference),
            "note": bag_note(part),
            "off": part.difference is None or part.difference < 0 or part.needed == 0,
        }
        for part in schedule.parts
    ]


def _drawing(drawing: Drawing) -> Row:
    return {
        "w": drawing.width,
        "h": round(drawing.height, 2),
        "alt": clipped(drawing.description, 4000),
        "shapes": [_shape(shape) for shape in drawing.shapes()],
    }


def _shape(shape: Shape) -> list[Any]:
    """A shape as a short list whose first entry is its kind; see ``draw-shape`` in sheets.typ."""
    if isinstance(shape, Stroke):
        points = [[round(x, 2), round(y, 2)] for x, y in shape.points]
        return ["s", points, shape.width, shape.tone, shape.dashed, shape.closed, shape.fill]
    if isinstance(shape, Disc):
        return ["d", round(shape.x, 2), round(shape.y, 2), round(shape.r, 2), shape.fill, shape.tone, shape.width]
    if isinstance(shape, Block):
        x, y, w, h = (round(value, 2) for value in (shape.x, shape.y, shape.w, shape.h))
        return ["b", x, y, w, h, shape.round, shape.fill, shape.tone, shape.width, shape.dashed]
    text = printable(shape.text)
    width = round(mono_width(text, shape.size) + 4, 2)
    return ["w", round(shape.x, 2), round(shape.y, 2), text, shape.size, shape.anchor, shape.bold, shape.tone, shape.turned, width]
