"""A fault of the reader becomes a question about the sentence, and the rest of the manual is read."""

from __future__ import annotations

import pytest
from hoopwright.parsing.interpret import Interpreter

from .mini import events, manual, scheduled, which


def _trips_over(monkeypatch: pytest.MonkeyPatch, word: str) -> None:
    read = Interpreter._sentence

    def tripping(self: Interpreter, text: str, bullet: bool) -> None:
        if word in text:
            raise AssertionError(text)
        read(self, text, bullet)

    monkeypatch.setattr(Interpreter, "_sentence", tripping)


def test_the_sentence_is_asked_about_and_the_rest_is_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Interpreter, "strict", False)
    _trips_over(monkeypatch, "lamp ring")
    found = scheduled(manual(["Slide a ridge clip onto each hoop. Slide a lamp ring onto hoop 3."]))
    assert dict(found.counts) == {f"H{n}": {"ridge clip": 1} for n in range(1, 7)}
    assert [q.source.quote for q in found.questions if q.source is not None] == ["Slide a lamp ring onto hoop 3."]


def test_the_tests_let_faults_through(monkeypatch: pytest.MonkeyPatch) -> None:
    _trips_over(monkeypatch, "lamp ring")
    with pytest.raises(AssertionError):
        events("Slide a lamp ring onto hoop 3.")


def test_a_joined_name_in_capitals_is_no_noun() -> None:
    assert [which(event.hoops) for event in events("Join Hoops 2 to 5 likewise.")] == ["2,3,4,5"]
