"""The answers file's contents as types, and the way from plain YAML data to them and back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any, Literal, cast, get_args

from hoopwright.model.errors import HoopwrightError
from hoopwright.model.schedule import About, WarningCode

FORM = "hoopwright/answers/1"
ENDING = ".answers.yaml"
Deed = Literal["add", "move", "remove", "change", "form", "structure", "accept"]
FORMS = ("slides on", "opens")
FACTS = ("hoops", "width", "height", "length", "spacing")

_TOP = ("form", "answers", "corrections", "extras")
_ANSWER = ("sentence", "asked", "question", "choice", "value", "note", "under", "place")
_BOUGHT = {"bought": True, "yes": True, "true": True, "not bought": False, "no": False, "false": False}


class AnswersError(HoopwrightError):
    """An answers file that is broken, or that cannot be read or written."""


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer. ``choice`` is a reading in words, ``value`` a free one; one of the two is set, or neither in a form yet to be filled in.

    ``under`` (section title) and ``place`` (1, 2 …; 0: not said) tell apart questions that the same sentence asks more than once.
    """

    sentence: str
    about: About
    fitting: str | None = None
    choice: str | None = None
    value: str | None = None
    note: str = ""
    question: str = ""
    under: str = ""
    place: int = 0

    @property
    def words(self) -> str:
        """What was answered, ``""`` where nothing was yet."""
        return self.value or self.choice or ""


@dataclass(frozen=True, slots=True)
class Correction:
    """The user's own word on a placement or on the structure, whatever the manual says.

    add: ``quantity`` more of ``fitting`` on ``hoops`` (words: "2 to 4") or on ``member``, ``at`` a place ("300 mm above the ground").
    move, change, remove: the placements of ``fitting`` on ``hoops``, on ``side`` or of ``step`` (printed label) where given.
    form: how ``fitting`` goes on, ``value`` "slides on" (over a tube's end) or "opens" (goes round a standing tube).
    accept: the warning with the code ``value`` about ``fitting`` on ``hoops`` is right as it stands.
    structure: the ``fact`` (hoops, width, height, length, spacing) is ``value``.
    """

    do: Deed
    fitting: str | None = None
    quantity: int | None = None
    hoops: str | None = None
    member: str | None = None
    at: str | None = None
    side: str | None = None
    step: str | None = None
    fact: str | None = None
    value: str | None = None
    note: str = ""


@dataclass(frozen=True, slots=True)
class Answers:
    """All that a user has settled. ``extras`` maps an optional extra's name to whether it was bought."""

    answers: tuple[Answer, ...] = ()
    corrections: tuple[Correction, ...] = ()
    extras: tuple[tuple[str, bool], ...] = ()

    @property
    def empty(self) -> bool:
        """Whether nothing at all was settled."""
        return not (self.corrections or self.extras or any(answer.words for answer in self.answers))


def answers_path(manual: Path) -> Path:
    """Where the answers for a manual (the kit's first file) stand: beside it, ``back-yard.answers.yaml``."""
    return manual.with_name(f"{manual.stem}{ENDING}")


class Reader:
    """Plain YAML data to Answers; every fault names its line. ``data`` is what ruamel.yaml's round trip gives."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def read(self, data: Any) -> Answers:
        """The answers in ``data``. Raises AnswersError."""
        if data is None:
            return Answers()
        top = self._mapping(data, 0, "the file", _TOP)
        form = self._text(top, "form", 0)
        if form is not None and form != FORM:
            problem = f"its form is “{form}”, and only “{FORM}” is read"
            self._fail(self._line(top, "form"), problem, "use the version of hoopwright that wrote it")
        answers = tuple(self._answer(*each) for each in self._list(top, "answers"))
        corrections = tuple(self.correction(*each) for each in self._list(top, "corrections"))
        return Answers(answers, corrections, self._extras(top))

    def _answer(self, data: Any, line: int) -> Answer:
        entry = self._mapping(data, line, "an answer", _ANSWER)
        sentence = self._text(entry, "sentence", line)
        if not sentence:
            self._fail(line, "an answer without its sentence", "give the manual's sentence under 'sentence'")
        asked_line = self._line(entry, "asked", line)
        asked = self._mapping(entry.get("asked"), asked_line, "'asked'", ("about", "fitting"))
        about = self._text(asked, "about", asked_line)
        if about not in get_args(About):
            self._fail(asked_line, f"'about' is “{about or ''}”", f"choose from {', '.join(get_args(About))}")
        place = self._number(entry, "place", line)
        return Answer(
            cast(str, sentence),
            cast(About, about),
            self._text(asked, "fitting", asked_line),
            choice=self._text(entry, "choice", line),
            value=self._text(entry, "value", line),
            note=self._text(entry, "note", line) or "",
            question=self._text(entry, "question", line) or "",
            under=self._text(entry, "under", line) or "",
            place=place or 0,
        )

    def correction(self, data: Any, line: int = 0) -> Correction:
        """One correction from plain data. Raises AnswersError."""
        names = tuple(field.name for field in fields(Correction))
        entry = self._mapping(data, line, "a correction", names)
        do = self._text(entry, "do", line)
        if do not in get_args(Deed):
            self._fail(self._line(entry, "do", line), f"'do' is “{do or ''}”", f"choose from {', '.join(get_args(Deed))}")
        made: dict[str, Any] = {name: self._text(entry, name, line) for name in names if name not in ("do", "quantity", "note")}
        made["quantity"] = self._number(entry, "quantity", line)
        correction = Correction(cast(Deed, do), note=self._text(entry, "note", line) or "", **made)
        if do == "structure" and (correction.fact not in FACTS or correction.value is None):
            self._fail(line, "a structure correction without a fact and its value", f"give 'fact' ({', '.join(FACTS)}) and 'value'")
        if do == "accept" and correction.value not in get_args(WarningCode):
            self._fail(line, "an acceptance that does not say of which warning", f"give 'value': {', '.join(get_args(WarningCode))}")
        if do not in ("structure", "accept") and not correction.fitting:
            self._fail(line, "a correction without its fitting", "give the part's name under 'fitting'")
        if do == "move" and not (correction.at or correction.side):
            self._fail(line, "a move without a place", "give 'at' (such as 300 mm above the ground) or 'side'")
        if do == "change" and correction.quantity is None:
            self._fail(line, "a change without a number", "give 'quantity'")
        if do == "form" and correction.value not in FORMS:
            self._fail(line, "a form that does not say how the part goes on", f"give 'value': {' or '.join(FORMS)}")
        if do == "add" and not (correction.hoops or correction.member):
            self._fail(line, "an addition that does not say where", "give 'hoops' or 'member'")
        return correction

    def _extras(self, top: Mapping[str, Any]) -> tuple[tuple[str, bool], ...]:
        line = self._line(top, "extras")
        data = top.get("extras")
        if data is None:
            return ()
        out = []
        for name, value in self._mapping(data, line, "'extras'", None).items():
            bought = _BOUGHT.get(str(value).strip().lower())
            if bought is None:
                self._fail(self._line(data, name, line), f"the extra “{name}” is “{value}”", "write 'bought' or 'not bought'")
            out.append((str(name), bool(bought)))
        return tuple(out)

    def _list(self, top: Mapping[str, Any], name: str) -> list[tuple[Any, int]]:
        data = top.get(name)
        if data is None:
            return []
        line = self._line(top, name)
        if not isinstance(data, list):
            self._fail(line, f"'{name}' is not a list", "write each entry under it with a dash in front")
        places = getattr(getattr(data, "lc", None), "data", None) or {}
        return [(item, places[at][0] if at in places else line) for at, item in enumerate(data)]

    def _mapping(self, data: Any, line: int, what: str, known: tuple[str, ...] | None) -> Mapping[str, Any]:
        if not isinstance(data, Mapping):
            self._fail(line, f"{what} is not a list of names and values", "write it as 'name: value' lines")
        for name in data:
            if known is not None and name not in known:
                self._fail(self._line(data, name, line), f"“{name}” is not known in {what}", f"choose from {', '.join(known)}")
        return cast(Mapping[str, Any], data)

    def _text(self, entry: Mapping[str, Any], name: str, line: int) -> str | None:
        value = entry.get(name)
        if value is None:
            return None
        if isinstance(value, (Mapping, list)):
            self._fail(self._line(entry, name, line), f"'{name}' is not a single value", "write words or a number behind it")
        return " ".join(str(value).split()) or None

    def _number(self, entry: Mapping[str, Any], name: str, line: int) -> int | None:
        value = entry.get(name)
        if value is None:
            return None
        if isinstance(value, bool) or not str(value).isdecimal() or int(value) > 9999:
            self._fail(self._line(entry, name, line), f"'{name}' is “{value}”", "write a whole number from 0 to 9999")
        return int(value)

    @staticmethod
    def _line(entry: Any, name: Any, other: int = 0) -> int:
        places = getattr(getattr(entry, "lc", None), "data", None) or {}
        return int(places[name][0]) if name in places else other

    def _fail(self, line: int, problem: str, remedy: str) -> None:
        raise AnswersError(f"line {line + 1}: {problem}", f"{remedy}; the file is left as it is", file=self.path)


def answer_entry(answer: Answer) -> dict[str, Any]:
    """An answer as it stands in the file."""
    asked = {"about": answer.about} | ({"fitting": answer.fitting} if answer.fitting else {})
    entry: dict[str, Any] = {"sentence": answer.sentence, "asked": asked}
    for name in ("question", "choice", "value", "note", "under"):
        if getattr(answer, name):
            entry[name] = getattr(answer, name)
    return entry | ({"place": answer.place} if answer.place else {})


def correction_entry(correction: Correction) -> dict[str, Any]:
    """A correction as it stands in the file."""
    return {field.name: value for field in fields(correction) if (value := getattr(correction, field.name)) not in (None, "")}
