"""Fittings of which nobody knows whether they open: a question each, where the answer decides whether they can go on at all.

A ring, an eye or a collar is closed by its name, and a clamp or clip mostly is. A bracket, holder or hanger is as often screwed on or laid
round the tube in two halves; it is counted among what slides on, the careful side, but where a step puts it on a closed hoop, that the
manual cannot be followed rests on our guess alone. So that is asked, not said (common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

from hoopwright.model.frame import Call, Frame, Part
from hoopwright.model.schedule import Question
from hoopwright.scheduling.alike import verdicts
from hoopwright.scheduling.asked_order import in_asked_order
from hoopwright.scheduling.chain import chains
from hoopwright.scheduling.context import Context
from hoopwright.scheduling.ways import Stuck, stuck
from hoopwright.scheduling.wording import capital, hoop_list

OPENS = "it opens, or is screwed on: the step can be done as written"
SLIDES = "it slides on over an end"
ANSWERED = "answered: "  # what the answers write on the calls that rest on them
SAYS_OPEN = re.compile(r"\b(?:opens?|screwed|bolted|two|halves|hinged|split|round|snaps?)\b", re.IGNORECASE)
SAYS_NOT = re.compile(r"\b(?:not|never|no|slides?|closed)\b|n't\b", re.IGNORECASE)


def guessed(part: Part) -> bool:
    """Whether only habit tells that the part slides on, and it may as well open."""
    return part.form == "closed" and not part.stated and part.may_open


def opening(frame: Frame) -> tuple[Question, ...]:
    """One question for each such part that a step puts on a hoop whose ways are shut; none where one is open about its order or kind."""
    asked = {question.fitting for question in frame.questions if question.about in ("order", "fitting")}
    parts = {part.name for part in frame.parts if guessed(part) and part.name not in asked}
    if not frame.acts or not any(call.part in parts and call.hoop is not None and call.when == "before-joining" for call in frame.calls):
        return ()
    context = Context(in_asked_order(frame))
    found: dict[str, list[Stuck]] = {}
    for each in verdicts(chains(context)):
        for item in stuck(context, *each):
            if item.call.part in parts:
                found.setdefault(item.call.part, []).append(item)
    return tuple(_question(context, items) for items in found.values())


def asked_about(frame: Frame) -> frozenset[str]:
    """The guessed parts of which it is open whether they slide on: no finding may rest on that."""
    asked = {question.fitting for question in frame.questions if question.about in ("order", "fitting")}
    return frozenset(part.name for part in frame.parts if part.name in asked and guessed(part))


def as_answered(frame: Frame) -> Frame:
    """The frame with what the user has said of guessed parts: those that open need no free end."""
    told = {part.name: opens for part in frame.parts if guessed(part) and (opens := _told(frame.calls, part.name)) is not None}
    if not told:
        return frame
    parts = tuple(
        replace(part, form="open" if told[part.name] else part.form, stated=True) if part.name in told else part for part in frame.parts
    )
    return replace(frame, parts=parts, calls=tuple(_late(call) if told.get(call.part) else call for call in frame.calls))


def _told(calls: Iterable[Call], name: str) -> bool | None:
    """Whether the answer on the part's calls says that it opens; None without such an answer."""
    words = [text.removeprefix(ANSWERED) for call in calls if call.part == name for text in call.assumed if text.startswith(ANSWERED)]
    if any(SAYS_NOT.search(text) for text in words):
        return False
    return True if any(SAYS_OPEN.search(text) for text in words) else None


def _late(call: Call) -> Call:
    return replace(call, when="any-time") if call.when == "before-joining" else call


def _question(context: Context, items: list[Stuck]) -> Question:
    first = min(items, key=lambda item: context.when_called(item.call)).call
    hoops = tuple(context.hoop_id(hoop) for hoop in sorted({item.call.hoop for item in items if item.call.hoop is not None}))
    message = (
        f"{capital(context.step_name(first.step))} puts the {first.part} on {hoop_list(hoops)} when no end of its tube is free any more, "
        "and the manual does not say whether it opens. If it does not, it has to slide on before the hoop is closed. Does it open?"
    )
    return Question("order", first.part, hoops, first.step, message, (SLIDES, OPENS), SLIDES, source=first.source)
