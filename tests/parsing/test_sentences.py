"""Short sentences against what they say: the events that one step of a small kit must give, facet by facet.

Rows that name what is ``wrong`` are clear sentences that are misread today; they must go on failing until the pattern is mended, and then
lose their mark.
"""

from __future__ import annotations

import pytest

from . import sentences_counts, sentences_flowing, sentences_more
from .mini import events
from .sentence_cases import Case, compared

TABLES: dict[str, list[Case]] = {
    "how many": sentences_counts.QUANTITIES,
    "shared out": sentences_counts.DISTRIBUTION,
    "for each fitting": sentences_counts.RULES,
    "which hoops": sentences_counts.HOOPS,
    "bars": sentences_more.BARS,
    "where": sentences_more.WHERE,
    "when": sentences_more.WHEN,
    "references": sentences_more.REFERENCES,
    "adds nothing": sentences_more.NOTHING,
    "names": sentences_more.NAMES,
    "style": sentences_more.STYLE,
    "fastened": sentences_flowing.FASTENED,
    "onward": sentences_flowing.ONWARD,
    "meeting": sentences_flowing.MEETING,
}


def rows() -> list[object]:
    """Every row of every table as a test of its own."""
    found: list[object] = []
    for name, cases in TABLES.items():
        for case in cases:
            marks = [pytest.mark.xfail(strict=True, reason=case.wrong)] if case.wrong else []
            found.append(pytest.param(case, id=f"{name}: {case.text[:60]}", marks=marks))
    return found


@pytest.mark.parametrize("case", rows())
def test_a_sentence_gives_its_events(case: Case) -> None:
    found = compared(events(case.text, case.hoop), case.want)
    assert found == list(case.want)


def test_no_sentence_stands_twice() -> None:
    texts = [case.text for cases in TABLES.values() for case in cases]
    assert len(texts) == len(set(texts)) >= 120


@pytest.mark.parametrize("name", TABLES)
def test_every_table_has_clear_rows(name: str) -> None:
    assert sum(not case.wrong for case in TABLES[name]) >= 5
