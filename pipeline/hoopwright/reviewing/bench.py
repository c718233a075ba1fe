"""The calls of a frame while answers are being applied to them: change, clone and drop, with what is fastened to them following."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import replace

from hoopwright.model.frame import Call, Frame, Part
from hoopwright.model.schedule import When
from hoopwright.reviewing.positions import along_of, side_of, tube_of
from hoopwright.reviewing.words import PlaceWords

# What the frame notes about a number, a choice of hoops or a place that it filled in itself; no longer true once a user has said it.
_RESTED = re.compile(r"^read as |^number not given|: the lower number$|' may be |is not measured")
_FORM_WORDS = ("taken to slide", "taken to go round")


class Bench:
    """Works on copies; ``frame`` is never changed. Groups of call ids are lists so that clones can join them."""

    def __init__(self, frame: Frame) -> None:
        self.frame = frame
        self.calls: dict[str, Call] = {call.id: call for call in frame.calls}
        self.sequence: dict[str, int] = dict(frame.call_sequence)
        self.groups: list[list[str]] = []
        self.parts: dict[str, Part] = {part.name: part for part in frame.parts}

    def result(self) -> Frame:
        """The frame with the calls as they are now."""
        sequence = tuple((id, place) for id, place in self.sequence.items() if id in self.calls)
        return replace(self.frame, parts=tuple(self.parts.values()), calls=tuple(self.calls.values()), call_sequence=sequence)

    def living(self, group: Iterable[str]) -> list[Call]:
        """The calls of a group that are still there, in the frame's order."""
        wanted = set(group)
        return [call for id, call in self.calls.items() if id in wanted]

    def held_by(self, id: str) -> list[Call]:
        """The fasteners that close a call."""
        return [call for call in self.calls.values() if call.holds == id and call.id != id]

    def note(self, group: Iterable[str], text: str) -> None:
        """Write on every call of a group that it rests on an answer; what the tool had filled in for it goes."""
        for call in self.living(group):
            kept = tuple(each for each in call.assumed if each.startswith("answered") or not _RESTED.search(each))
            self.calls[call.id] = replace(call, assumed=tuple(dict.fromkeys((*kept, text))))

    def set_quantity(self, id: str, quantity: int) -> None:
        """Give a call its number; its fasteners keep their number for each piece. 0 takes it away."""
        call = self.calls[id]
        if quantity <= 0:
            self.drop(id)
            return
        for held in self.held_by(id):
            wanted = held.quantity * quantity
            # An odd bolt for two clamps cannot be halved: one more is better than one short.
            self.set_quantity(held.id, -(-wanted // call.quantity) if call.quantity else held.quantity)
        self.calls[id] = replace(call, quantity=quantity)

    def drop(self, id: str) -> None:
        """Take a call away with its fasteners; what was measured from it keeps its distance along the tube."""
        for held in self.held_by(id):
            if held.id in self.calls:
                self.drop(held.id)
        self.calls.pop(id, None)
        for call in list(self.calls.values()):
            if call.anchor == id:
                self.calls[call.id] = replace(call, anchor=None, offset_mm=None if call.datum is None else call.offset_mm)

    def clone(self, id: str, hoop: int) -> str:
        """A call once more on another hoop, with its fasteners; it joins every group that the first is in."""
        call = self.calls[id]
        fresh = self._fresh(f"{id}-H{hoop}")
        anchor = self._counterpart(call.anchor, hoop)
        twin = replace(call, id=fresh, hoop=hoop, anchor=anchor, offset_mm=call.offset_mm if anchor or not call.anchor else None)
        self._insert_after(id, twin)
        for held in self.held_by(id):
            copied = self.clone(held.id, hoop)
            self.calls[copied] = replace(self.calls[copied], holds=fresh)
        return fresh

    def _counterpart(self, anchor: str | None, hoop: int) -> str | None:
        """The call on another hoop that is what ``anchor`` is on its own."""
        model = self.calls.get(anchor) if anchor is not None else None
        if model is None:
            return None
        marks = (hoop, model.part, model.source, model.side, model.tube)
        alike = (c.id for c in self.calls.values() if (c.hoop, c.part, c.source, c.side, c.tube) == marks)
        return next(alike, None)

    def rename(self, id: str, part: Part) -> None:
        """Make a call one for another part: how it goes on follows the part, and so do fasteners that a rule gives the part."""
        call = self.calls[id]
        if call.part == part.name:
            return
        pattern = self._pattern(part.name)  # before this call is one for that part itself
        when, assumed = self._manner(call, part)
        by_rule = [held for held in self.held_by(id) if held.source != call.source]
        self.calls[id] = replace(call, part=part.name, when=when, assumed=assumed)
        if pattern is None:
            return
        for held in by_rule:
            self.drop(held.id)
        self._fasten(id, pattern)

    def fasten(self, id: str) -> None:
        """Give a new call the fasteners that a rule gives its part elsewhere; none where it is used nowhere else."""
        pattern = self._pattern(self.calls[id].part, id)
        if pattern is not None:
            self._fasten(id, pattern)

    def _fasten(self, id: str, pattern: tuple[Call, list[Call]]) -> None:
        owner, fasteners = pattern
        call = self.calls[id]
        for held in fasteners:
            fresh = self._fresh(f"{id}-{held.id}")
            quantity = -(-held.quantity * call.quantity // owner.quantity)
            twin = replace(
                held,
                id=fresh,
                holds=id,
                quantity=quantity,
                hoop=call.hoop,
                member=call.member,
                side=call.side,
                tube=call.tube,
                step=call.step,
                datum=call.datum,
                offset_mm=call.offset_mm,
                along_mm=call.along_mm,
                anchor=call.anchor,
                option=call.option,
            )
            self._insert_after(id, twin)

    def _pattern(self, part: str, but: str = "") -> tuple[Call, list[Call]] | None:
        """A call for that part elsewhere with the fasteners that come by rule, None where the part is used nowhere else."""
        for call in self.calls.values():
            if call.part == part and call.quantity > 0 and call.id != but:
                return call, [held for held in self.held_by(call.id) if held.source != call.source]
        return None

    def _manner(self, call: Call, part: Part) -> tuple[When, tuple[str, ...]]:
        old = self.parts.get(call.part)
        if old is not None and old.form == part.form:
            return call.when, call.assumed
        kept = tuple(text for text in call.assumed if not text.startswith(_FORM_WORDS))
        return self.when_for(part, call.hoop), kept

    @staticmethod
    def when_for(part: Part, hoop: int | None) -> When:
        """When a part goes on by its form alone."""
        return "before-joining" if part.form == "closed" and hoop is not None else "any-time"

    def set_form(self, part: Part, slides: bool, text: str) -> None:
        """Say how a part goes on, wherever it stands on a hoop; the trade's default is no longer taken."""
        made = replace(part, form="closed" if slides else "open", stated=True)
        self.parts[part.name] = made
        for call in list(self.calls.values()):
            if call.part == part.name and call.hoop is not None:
                kept = tuple(each for each in call.assumed if not each.startswith(_FORM_WORDS))
                self.calls[call.id] = replace(call, when=self.when_for(made, call.hoop), assumed=(*kept, text))

    def place(self, id: str, words: PlaceWords, text: str) -> None:
        """Put a call, and its fasteners, at a place; what is measured from it moves along."""
        call = self.calls[id]
        side = side_of(call, words)
        if words.offset_mm is None:  # only the side was said: datum and offset stay, the distance is turned over
            along = call.along_mm if side == call.side else self._mirrored(call.along_mm) if call.side in ("left", "right") else None
            towards = None if call.towards is None or side == call.side else -call.towards
            moved = replace(call, side=side, along_mm=along, tube=tube_of(self.frame, call, along, side), towards=towards)
        else:
            along = along_of(self.frame, call, words)
            towards = {"left": -1, "right": 1}.get(side or "") if words.datum in ("ridge", "joint") else None
            moved = replace(
                call,
                side=side,
                datum=words.datum,
                offset_mm=words.offset_mm,
                along_mm=along,
                anchor=None,
                towards=towards,
                tube=tube_of(self.frame, call, along, side),
                place_text=text,
            )
        self.calls[id] = moved
        shift = moved.along_mm - call.along_mm if moved.along_mm is not None and call.along_mm is not None else None
        for other in list(self.calls.values()):
            if other.anchor == id and other.id != id:
                at = other.along_mm + shift if shift is not None and other.along_mm is not None and side == call.side else None
                self.calls[other.id] = replace(other, along_mm=at, side=side if other.side == call.side else other.side)
        for held in self.held_by(id):
            self.calls[held.id] = replace(
                held,
                side=moved.side,
                datum=moved.datum,
                offset_mm=moved.offset_mm,
                along_mm=moved.along_mm,
                tube=moved.tube,
                anchor=moved.anchor,
                towards=moved.towards,
                place_text=moved.place_text,
            )

    def _mirrored(self, along: float | None) -> float | None:
        whole = self.frame.curve.length_mm if self.frame.curve is not None and self.frame.curve.stated else None
        return None if along is None or whole is None else whole - along

    def add(self, call: Call) -> str:
        """A new call at the end of its step's calls."""
        fresh = self._fresh(call.id)
        last = [id for id, each in self.calls.items() if each.step == call.step]
        made = replace(call, id=fresh)
        if last:
            self._insert_after(last[-1], made)
        else:
            self.calls[fresh] = made
        return fresh

    def _fresh(self, wish: str) -> str:
        name, number = wish, 1
        while name in self.calls:
            number += 1
            name = f"{wish}.{number}"
        return name

    def _insert_after(self, id: str, call: Call) -> None:
        rebuilt: dict[str, Call] = {}
        for key, value in self.calls.items():
            rebuilt[key] = value
            if key == id:
                rebuilt[call.id] = call
        self.calls = rebuilt
        if id in self.sequence:
            self.sequence[call.id] = self.sequence[id]
        for group in self.groups:
            if id in group and call.part == self.calls[id].part:
                group.append(call.id)

    def part(self, name: str | None) -> Part | None:
        """A part of the kit by its name in any case, or by its code."""
        plain = " ".join((name or "").casefold().split())
        for each in self.parts.values():
            if plain and plain in (each.name.casefold(), (each.code or "").casefold()):
                return each
        return None


def by_hoop(calls: Sequence[Call]) -> dict[tuple[int | None, str], list[Call]]:
    """Calls of each hoop, or of each other member."""
    rows: dict[tuple[int | None, str], list[Call]] = {}
    for call in calls:
        rows.setdefault((call.hoop, call.member if call.hoop is None else ""), []).append(call)
    return rows
