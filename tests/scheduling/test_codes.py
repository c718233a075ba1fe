"""The full description of every warning code."""

from __future__ import annotations

import re
from typing import get_args

import pytest
from hoopwright.model.schedule import WarningCode
from hoopwright.scheduling import CODES, describe
from hoopwright.scheduling.codes import HEADINGS


@pytest.mark.parametrize("code", get_args(WarningCode))
def test_every_code_has_every_heading_with_text_under_it(code: str) -> None:
    text = describe(code)
    assert text.startswith(f"# {code}\n")
    sections = dict(re.findall(r"^## (.+)\n\n(.+)\n", text, re.MULTILINE))
    assert tuple(sections) == HEADINGS
    assert all(len(body.split()) >= 10 for body in sections.values())


def test_the_codes_are_those_of_the_schedule_file() -> None:
    assert get_args(WarningCode) == CODES


def test_an_unknown_code_names_the_known_ones() -> None:
    with pytest.raises(KeyError, match="trapped, blocked"):
        describe("broken")
