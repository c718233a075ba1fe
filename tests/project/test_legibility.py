"""Words of a scan that the recogniser was not sure of are asked about where a count rests on them; so are steps whose numbers it lost."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hoopwright.api import understand
from hoopwright.framing import frame
from hoopwright.legibility import UNSURE, ask_of_blurred
from hoopwright.model.document import Document, DocumentKind, Word
from hoopwright.model.frame import Frame

import library


def blurred(word: str, confidence: float | None, sample: str = "orchard-6") -> Frame:
    """The frame of a sample's text, with every ``word`` of it read with this confidence."""
    found = understand([next(kit for kit in library.SAMPLES if kit.name == sample).manual])
    reading, contents = found.reading, found.outline
    made = frame(contents, reading.facts, reading.parts, reading.sentences, reading.member_numbers, frozenset())
    return replace(made, outline=replace(contents, documents=tuple(_with(d, word, confidence) for d in contents.documents)))


def _with(document: Document, word: str, confidence: float | None) -> Document:
    lines = tuple(
        replace(line, words=(Word(word, line.start + line.text.index(word), None, confidence),)) if word in line.text else line
        for line in document.lines
    )
    return replace(document, lines=lines)


def asked(made: Frame) -> list[str]:
    return [question.message for question in ask_of_blurred(made).questions[len(made.questions) :]]


def test_a_blurred_number_is_asked_about_with_its_sentence() -> None:
    made = blurred("3-1/2", UNSURE - 0.1)
    questions = ask_of_blurred(made).questions[len(made.questions) :]
    assert {question.fitting for question in questions} == {"ridge clamp"}
    assert all(question.source and "3-1/2 in. down" in question.source.quote and '"3-1/2"' in question.message for question in questions)


@pytest.mark.parametrize(("word", "confidence"), [("3-1/2", UNSURE + 0.1), ("3-1/2", None), ("onto", 0.1)])
def test_clear_words_and_plain_ones_are_not(word: str, confidence: float | None) -> None:
    assert asked(blurred(word, confidence)) == []


def without_step(label: str | None, kind: DocumentKind) -> Frame:
    """The frame of a sample as a document of this kind, with the label of one step lost."""
    made = blurred("onto", None, "meadow-5")
    contents = made.outline
    steps = tuple(replace(step, label=None) if step.label == label else step for step in contents.steps)
    documents = tuple(replace(document, kind=kind) for document in contents.documents)
    return replace(made, outline=replace(contents, documents=documents, steps=steps))


def test_a_gap_in_the_steps_of_a_scan_is_asked_about() -> None:
    made = without_step("4", "scan")
    questions = ask_of_blurred(made).questions[len(made.questions) :]
    assert [question.about for question in questions] == ["reference"]
    assert "step 4" in questions[0].message and "step 3" in questions[0].message
    before = next(step for step in made.outline.steps if step.label == "3")
    assert questions[0].step == before.id
    assert set(questions[0].hoops) == {f"H{call.hoop}" for call in made.calls if call.step == before.id and call.hoop is not None}


@pytest.mark.parametrize(("label", "kind"), [("no such step", "scan"), ("4", "text")])
def test_steps_without_a_gap_or_of_a_text_are_not(label: str, kind: DocumentKind) -> None:
    assert asked(without_step(label, kind)) == []
