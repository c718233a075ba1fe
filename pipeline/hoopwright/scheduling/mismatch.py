"""``mismatch``: a fitting whose size suits no meaning of the size of the hoop tube that it goes on."""

from __future__ import annotations

from collections.abc import Sequence

from hoopwright.model.frame import Bar, Call, Part
from hoopwright.model.schedule import Finding
from hoopwright.scheduling.chain import possible_tubes
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.sizes import any_suits, printed_sizes, suits
from hoopwright.scheduling.wording import capital, hoop_list, listed, millimetres, name_in_common, words_of


def mismatches(context: Context) -> list[Finding]:
    """One finding for each part and step, with all hoops concerned."""
    wrong: dict[tuple[str, str], list[Call]] = {}
    for call in sorted(context.frame.calls, key=context.when_called):
        part = context.part(call)
        if call.hoop is not None and part.size_mm is not None and part.form in ("closed", "open") and not _suits(context, call, part):
            wrong.setdefault((call.part, call.step), []).append(call)
    return [_finding(context, calls) for calls in wrong.values()]


def _tube_sizes(context: Context, call: Call) -> tuple[float, ...]:
    """The sizes of the tubes that the call may sit on; empty if any of them is unknown."""
    tubes = context.frame.tubes
    known = [tubes[tube].size_mm if tube < len(tubes) else None for tube in possible_tubes(context, call)]
    sizes = [size or context.frame.tube_size_mm for size in known]
    return tuple(dict.fromkeys(size for size in sizes if size is not None)) if all(sizes) else ()


def _suits(context: Context, call: Call, part: Part) -> bool:
    """Whether the part goes on the tube, or may be meant for something else than the tube, or too little is known."""
    tubes = _tube_sizes(context, call)
    text = part.size_text or ""
    sizes = (part.size_mm or 0.0, *part.other_sizes_mm, *printed_sizes(text), *printed_sizes(part.name))
    return not tubes or any(any_suits(sizes, tube, text) for tube in tubes) or _meant_for_bar(context, call, part, text)


def _meant_for_bar(context: Context, call: Call, part: Part, text: str) -> bool:
    """Whether the size is that of a bar of which the fitting's name or the step's words speak: one at this hoop, or one of the list."""
    here = [bar for bar in context.frame.bars if call.hoop in bar.hoops]
    known = {bar.name for bar in context.frame.bars if bar.size_mm is not None}
    listed_only = [Bar(name, (), call.step, size) for name, size in context.listed_bars if name not in known]
    return any(_speaks_of(bar, call, part) and _bar_suits(bar, part, text) for bar in (*here, *listed_only))


def _speaks_of(bar: Bar, call: Call, part: Part) -> bool:
    said = f"{call.place_text or ''} {call.source.quote}".lower()
    by_words = words_of(bar.name) <= words_of(part.name) if not bar.hoops else name_in_common(bar.name, part.name)
    return call.carries == bar.name or by_words or bar.name.lower() in said


def _bar_suits(bar: Bar, part: Part, text: str) -> bool:
    if bar.size_mm is not None:
        return suits(part.size_mm or 0.0, bar.size_mm, text)
    return words_of(bar.name) <= words_of(part.name)  # a bar of unknown size: only "crop bar clip" surely speaks of the crop bar


def _finding(context: Context, calls: Sequence[Call]) -> Finding:
    call = calls[0]
    part = context.part(call)
    tubes = listed([millimetres(size) for size in _tube_sizes(context, call)], "or")
    hoops = tuple(context.hoop_id(hoop) for hoop in sorted({c.hoop for c in calls if c.hoop is not None}))
    printed = f"{part.size_text} ({millimetres(part.size_mm or 0.0)})" if part.size_text else millimetres(part.size_mm or 0.0)
    message = (
        f"{capital(context.step_name(call.step))} puts the {part.name} on {hoop_list(hoops)}. It is made for {printed}, but the hoop's "
        f"tube is {tubes}, and no usual meaning of either size makes them one. Too small, it does not go on; too large, it does not hold."
    )
    advice = "Try one piece on the tube before you begin. If it does not fit, ask the supplier for the right size; do not pack it out."
    sources = tuple(dict.fromkeys(source for source in (call.source, part.source) if source is not None))
    return Finding("mismatch", part.name, hoops, (call.step,), message, advice, sources=sources)
