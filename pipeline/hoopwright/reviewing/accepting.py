"""Warnings that the user has looked at and accepts as they stand: they stay in the schedule, and say so."""

from __future__ import annotations

from dataclasses import replace

from hoopwright.model.schedule import Finding, Schedule
from hoopwright.reviewing.answers import Answers, Correction
from hoopwright.reviewing.corrections import describe
from hoopwright.reviewing.matching import Leftover
from hoopwright.reviewing.words import hoops

_SAID = "You have accepted this as it stands"


def accept(made: Schedule, answers: Answers) -> tuple[Schedule, tuple[Leftover, ...]]:
    """The schedule with every accepted warning marked in its advice; corrections that accept a warning which is not there (any more)."""
    count = len(made.structure.hoops)
    warnings = list(made.warnings)
    left = []
    for correction in answers.corrections:
        if correction.do != "accept":
            continue
        meant = [index for index, each in enumerate(warnings) if _is_meant(each, correction, count)]
        if not meant:
            left.append(Leftover(describe(correction), "there is no such warning any more", correction))
        for index in meant:
            note = f" ({correction.note})" if correction.note else ""
            if not accepted(warnings[index]):
                warnings[index] = replace(warnings[index], advice=f"{_SAID}{note}. {warnings[index].advice}")
    return replace(made, warnings=tuple(warnings)), tuple(left)


def accepted(warning: Finding) -> bool:
    """Whether the user has accepted it."""
    return warning.advice.startswith(_SAID)


def acceptance(warning: Finding, note: str = "") -> Correction:
    """The correction that accepts a warning: by its code, its fitting and its hoops, for steps get other numbers."""
    on = ", ".join(hoop.removeprefix("H") for hoop in warning.hoops)
    return Correction("accept", warning.fitting, hoops=on or None, value=warning.code, note=note)


def _is_meant(warning: Finding, correction: Correction, count: int) -> bool:
    chosen = hoops(correction.hoops, count) if correction.hoops else ()
    return (
        warning.code == correction.value
        and (warning.fitting or "").casefold() == (correction.fitting or "").casefold()
        and {f"H{each}" for each in chosen or ()} == set(warning.hoops)
    )
