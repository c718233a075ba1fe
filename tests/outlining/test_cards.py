"""Steps that are set as cards of fields: which words make a deck, where cards begin and end, and that their words stay where they are."""

from __future__ import annotations

import pytest
from hoopwright.outlining.vocabulary import raw, vocabulary

from .mapping import check
from .pages import labels, outlined

MARGIN = """
    WINDBREAK FRAME

    PARTS
      8 x rail collar
      4 x vent ring

    010  Set out the plot.
    020  BOWS:   all
         FIT:    2 rail collars
         WHERE:  one on each half, 700 mm
                 from the foot
    030  BOWS:   2 and 3
         FIT:    2 vent rings
         WHERE:  left half, 90 mm from the crown
    040  Hang the rail.
         BOWS:   1
         FIT:    1 rail collar
         WHERE:  at the crown
         The bow is closed now.
"""
NAMED = """
    LEAN-TO FRAME

    PARTS

    crown loop ......... 4      rail cup ......... 8
    clip ............... 9      nut .............. 4

    ------------------ CARD 1 - Crown loops
    Take    4 crown loops
    At      every rib: left half
    Do      Slide one on.

    ------------------ CARD 2 - A look round
    Nothing is fitted here.

    ------------------ CARD 3 - Rail cups
    Take    8 rail cups
    At      every rib, both halves
    Do      One on each half.

    ------------------ CARD 4 - Clips
    Take    9 clips
    At      rib 1
    Do      Press them on.
"""


def fields(text: str) -> list[tuple[str | None, list[tuple[str, str]]]]:
    steps = outlined(text).steps
    return [(step.label, [(f.kind, f.passage.text) for item in step.items for f in item.fields]) for step in steps if step.label]


def test_cards_with_numbers_in_the_margin() -> None:
    assert fields(MARGIN) == [
        ("010", []),
        ("020", [("hoops", "all"), ("what", "2 rail collars"), ("where", "one on each half, 700 mm from the foot")]),
        ("030", [("hoops", "2 and 3"), ("what", "2 vent rings"), ("where", "left half, 90 mm from the crown")]),
        ("040", [("hoops", "1"), ("what", "1 rail collar"), ("where", "at the crown")]),
    ]


def test_sentences_around_the_fields_stay_with_the_card() -> None:
    last = outlined(MARGIN).steps[-1]
    assert [item.passage.text for item in last.items] == [
        "Hang the rail.",
        "BOWS: 1 FIT: 1 rail collar WHERE: at the crown",
        "The bow is closed now.",
    ]


def test_cards_with_a_name_above() -> None:
    found = outlined(NAMED)
    assert [(step.label, step.title) for step in found.steps if step.label] == [
        ("1", "Crown loops"),
        ("2", "A look round"),
        ("3", "Rail cups"),
        ("4", "Clips"),
    ]
    assert [(part.name, part.quantity) for part in found.parts] == [("crown loop", 4), ("clip", 9), ("rail cup", 8), ("nut", 4)]


def test_only_what_is_fetched_counts_for_all() -> None:
    whats = [f for text in (MARGIN, NAMED) for step in outlined(text).steps for item in step.items for f in item.fields if f.kind == "what"]
    assert {(f.word.strip(" :"), f.total) for f in whats} == {("FIT", False), ("Take", True)}


@pytest.mark.parametrize("text", [MARGIN, NAMED])
def test_words_stay_where_they_are_printed(text: str) -> None:
    found = outlined(text)
    check(found)
    for step in found.steps:
        for item in step.items:
            for f in item.fields:
                source = f.passage.source()
                assert " ".join(found.documents[0].text[source.start : source.end].split()) == f.passage.text


def test_two_alike_are_no_deck() -> None:
    text = "Hoops: all\nFit: 2 rings\n\nHoops: 2\nFit: 1 ring\n\nThe rest is told below.\n\n1. Stand the hoops.\n"
    found = outlined(text)
    assert labels(found)[-1] == "1"
    assert [item for step in found.steps for item in step.items if item.fields] == []


def test_facts_with_colons_are_no_deck() -> None:
    text = "Width: 3 m\nHoops: 5\nPosition: south\n\nWidth: 4 m\nHoops: 6\nPosition: west\n\nWidth: 5 m\nHoops: 7\nPosition: east\n"
    assert [item for step in outlined(text).steps for item in step.items if item.fields] == []


@pytest.mark.parametrize("entry", raw()["card_fields"], ids=lambda entry: str(entry["kind"]))
def test_words_of_fields(entry: dict[str, object]) -> None:
    assert isinstance(entry["examples"], list) and isinstance(entry["not"], list)
    wrong = [text for text in entry["examples"] if (m := vocabulary().card_field.match(text)) is None or m[str(entry["kind"])] is None]
    wrong += [text for text in entry["not"] if vocabulary().card_field.match(text) is not None]
    assert wrong == []
