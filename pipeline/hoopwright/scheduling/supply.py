"""``short``, ``unlisted``, ``unused``: the parts list against what the steps use."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from hoopwright.model.frame import Call, Part
from hoopwright.model.outline import Source
from hoopwright.model.schedule import Finding, PartBalance
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.unread import in_doubt, is_far_more
from hoopwright.scheduling.wording import capital, hoop_list, listed, plural

MOST_SOURCES = 6
NUMBER_OPEN = "number not given"  # what the frame notes on calls whose number no sentence tells


def supply(context: Context, rows: Sequence[PartBalance]) -> list[Finding]:
    """The findings of the parts balance, one for each part at most."""
    has_list = any(part.in_list for part in context.frame.parts) or bool(context.frame.outline.parts)
    calls: dict[str, list[Call]] = {}
    for call in sorted(context.frame.calls, key=context.when_called):
        if call.quantity > 0:
            calls.setdefault(call.part, []).append(call)
    asked = {question.fitting for question in context.frame.questions}
    doubted = in_doubt(context.frame)
    found: list[Finding] = []
    for row in rows:
        part = context.parts.get(row.fitting)
        used = calls.get(row.fitting, [])
        if row.listed is not None and row.needed > row.listed:
            if row.fitting not in doubted or not is_far_more(row.needed, row.listed):
                found.append(_short(context, row, part, used))
        elif has_list and not row.in_list and row.needed > 0 and not _maybe_none(used):
            found.append(_unlisted(context, row, used))
        elif row.listed and row.needed == 0 and not _left_out(context, part) and row.fitting not in asked:
            found.append(_unused(row, part))
    return found


def _maybe_none(calls: Iterable[Call]) -> bool:
    """Whether no sentence gives a number and none is for a hoop: "the braces have hooks at their ends" may speak of no part at all.

    How many there are is asked already.
    """
    return all(call.hoop is None and any(text.startswith(NUMBER_OPEN) for text in call.assumed) for call in calls)


def _left_out(context: Context, part: Part | None) -> bool:
    return part is not None and part.option_only is not None and part.option_only not in context.frame.options


def _steps(calls: Iterable[Call]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(call.step for call in calls))


def _hoops(context: Context, calls: Iterable[Call]) -> tuple[str, ...]:
    return tuple(context.hoop_id(hoop) for hoop in sorted({call.hoop for call in calls if call.hoop is not None}))


def _sources(part: Part | None, calls: Iterable[Call]) -> tuple[Source, ...]:
    """The line of the parts list, then the words of the steps, each once."""
    first = [part.source] if part is not None and part.source is not None else []
    return tuple(dict.fromkeys([*first, *(call.source for call in calls)]))[:MOST_SOURCES]


def _by_step(context: Context, calls: Iterable[Call]) -> str:
    """ "12 in step 6, 8 in step 9"."""
    sums: dict[str, int] = {}
    for call in calls:
        sums[call.step] = sums.get(call.step, 0) + call.quantity
    return ", ".join(f"{number} in {context.step_name(step)}" for step, number in sums.items())


def _short(context: Context, row: PartBalance, part: Part | None, calls: Sequence[Call]) -> Finding:
    listed_number = row.listed or 0
    message = (
        f"The parts list supplies {listed_number} × {row.fitting}; the steps use {row.needed} ({_by_step(context, calls)}). "
        f"{plural(row.needed - listed_number, 'piece')} will be missing part-way through the work."
    )
    advice = (
        f"Count what is in the bag. If it holds {listed_number}, get {row.needed - listed_number} more before you begin, "
        "and check the steps named here for a number read wrongly."
    )
    return Finding("short", row.fitting, _hoops(context, calls), _steps(calls), message, advice, sources=_sources(part, calls))


def _unlisted(context: Context, row: PartBalance, calls: Sequence[Call]) -> Finding:
    hoops = _hoops(context, calls)
    where = [f"on {hoop_list(hoops)}"] if hoops else []
    where += [f"on the {member}" for member in dict.fromkeys(call.member for call in calls if call.hoop is None)]
    message = (
        f"{capital(listed([context.step_name(step) for step in _steps(calls)]))} "
        f"{'uses' if len(_steps(calls)) == 1 else 'use'} {row.needed} × {row.fitting} {listed(where)}, "
        "but no parts list names it. It may be missing from the kit, or go by another name there."
    )
    advice = "Look for it in the bags under another name before you begin; if it is not there, ask the supplier or get it yourself."
    return Finding("unlisted", row.fitting, hoops, _steps(calls), message, advice, sources=_sources(None, calls))


def _unused(row: PartBalance, part: Part | None) -> Finding:
    message = (
        f"The parts list supplies {row.listed} × {row.fitting}, but no step uses any. "
        "A step may be missing from the manual, or it calls the part by another name; left in the bag, it may be needed on the frame."
    )
    advice = "Ask the supplier what it is for before the cover goes on, and look for steps that name a similar part."
    return Finding("unused", row.fitting, (), (), message, advice, sources=_sources(part, ()))
