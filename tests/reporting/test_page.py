"""The web page as a file: well formed, self-contained, hostile text as text, numbers and links right."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from typing import Any
from xml.etree import ElementTree as ET

import html5lib
import pytest
from hoopwright.model.schedule import Schedule
from hoopwright.reporting.as_page import page_html
from hoopwright.reporting.canvas import Words
from hoopwright.reporting.grouping import placements_of, same_dress
from hoopwright.reporting.hoop_drawing import draw_hoop
from hoopwright.reporting.marks import fittings_of
from hoopwright.reporting.places import Places
from hoopwright.reporting.text import shown

from reporting import factory
from reporting.test_drawings import CASES

SVG = "{http://www.w3.org/2000/svg}"
ALL = pytest.mark.parametrize("name", CASES)


@cache
def _html(name: str) -> str:
    return page_html(CASES[name])


@cache
def _tree(name: str) -> Any:
    """Parsed as the HTML standard says; a parse error is a failure."""
    parser = html5lib.HTMLParser(tree=html5lib.getTreeBuilder("etree"), strict=True, namespaceHTMLElements=False)
    return parser.parse(_html(name))


def _text(node: ET.Element) -> str:
    return re.sub(r"\s+", " ", "".join(node.itertext())).strip()


def _class(tree: Any, tag: str, name: str) -> list[ET.Element]:
    return [node for node in tree.iter(tag) if name in (node.get("class") or "").split()]


@ALL
def test_is_well_formed_and_ids_are_unique(name: str) -> None:
    ids = [node.get("id") for node in _tree(name).iter() if isinstance(node.tag, str) and node.get("id")]
    assert len(ids) == len(set(ids))


@ALL
def test_every_link_inside_the_page_leads_somewhere(name: str) -> None:
    tree = _tree(name)
    ids = {node.get("id") for node in tree.iter() if isinstance(node.tag, str)}
    for link in tree.iter():
        target = link.get("href") if isinstance(link.tag, str) else None
        if target is not None:
            assert target.startswith("#") and target[1:] in ids, target
        for label in (link.get("aria-labelledby") or "").split() if isinstance(link.tag, str) else []:
            assert label in ids


@ALL
def test_nothing_can_be_fetched(name: str) -> None:
    html = _html(name)
    policies = [node.get("content") for node in _tree(name).iter("meta") if node.get("http-equiv") == "Content-Security-Policy"]
    assert len(policies) == 1 and policies[0].startswith("default-src 'none'; style-src 'sha256-")
    for node in _tree(name).iter():
        if isinstance(node.tag, str):
            assert node.tag not in ("link", "img", "iframe", "object", "embed", "base", "form")
            assert not {"src", "srcset", "action", "background", "ping"} & set(node.keys())
            assert not any(key.startswith("on") or key == "style" for key in list(node.keys()))
    assert not re.search(r"url\(|@import|fetch\(|XMLHttpRequest", html)


@ALL
def test_there_is_one_script_and_it_is_ours(name: str) -> None:
    scripts = list(_tree(name).iter("script"))
    assert len(scripts) == 1
    assert (scripts[0].text or "").startswith('"use strict";')


def _counts(tree: Any, schedule: Schedule) -> tuple[dict[str, dict[str, int]], dict[str, dict[str, int]]]:
    names = [fitting for fitting in fittings_of(schedule) if any(fitting in row for row in schedule.counts.values())]
    table = _class(tree, "table", "counts")[0]
    everything: dict[str, dict[str, int]] = {}
    before: dict[str, dict[str, int]] = {}
    for row in table.iter("tr"):
        for hoop in (row.get("data-hoops") or "").split():
            for fitting, cell in zip(names, row.findall("td"), strict=True):
                number = next((span.text for span in _class(cell, "span", "n")), None)
                early = next((_text(span) for span in _class(cell, "b", "pre")), None)
                if number:
                    everything.setdefault(hoop, {})[fitting] = int(number)
                if early:
                    before.setdefault(hoop, {})[fitting] = int(early.rsplit(" ", 1)[-1])
    return everything, before


@pytest.mark.parametrize("name", ["five", "thirty", "hostile"])
def test_table_numbers_are_those_of_the_schedule(name: str) -> None:
    schedule = CASES[name]
    everything, before = _counts(_tree(name), schedule)
    assert everything == {hoop: row for hoop, row in schedule.counts.items() if row}
    assert before == schedule.before_joining


@ALL
def test_every_placement_is_in_one_row_and_on_one_mark_of_each_drawing(name: str) -> None:
    schedule, tree = CASES[name], _tree(name)
    for section in _class(tree, "section", "hoop"):
        hoop = (section.get("id") or "").removeprefix("hoop-")
        mine = sorted(item.id for item in schedule.placements if item.hoop == hoop)
        for figure in (*_class(section, "figure", "wide"), *_class(section, "figure", "narrow")):
            marked = [id for node in figure.iter() for id in (node.get("data-placements") or "").split()]
            assert sorted(marked) == mine
        rows = [row for table in _class(section, "table", "places") for row in table.iter("tr") if row.find("td") is not None]
        assert len(rows) == len(mine)
        pieces = sum(int((cell.text or "").strip()) for row in rows for cell in row.findall("td") if cell.get("class") == "n")
        assert pieces == sum(item.quantity for item in schedule.placements if item.hoop == hoop)


@ALL
def test_marks_rows_and_sentences_point_at_one_another(name: str) -> None:
    tree = _tree(name)
    rows = {node.get("data-place") for node in tree.iter("tbody") if node.get("data-place")}
    marks = {node.get("data-place") for node in tree.iter() if isinstance(node.tag, str) and (node.get("id") or "").startswith("mark-")}
    assert rows == marks
    told = {node.get("data-place") for article in tree.iter("article") for node in article.iter("a") if node.get("data-place")}
    assert told == rows
    steps = {node.get("data-step") for node in tree.iter("a") if node.get("data-step")}
    assert steps == {node.get("data-step") for node in tree.iter("article") if node.get("data-step")}


@ALL
def test_every_stamp_is_there_and_used(name: str) -> None:
    """What drawings share is told once; nothing is stamped that is not told, and nothing told in vain."""
    tree = _tree(name)
    stamps = [node.get("id") for group in tree.iter(f"{SVG}defs") for node in group]
    used = {(node.get("href") or "").removeprefix("#") for node in tree.iter(f"{SVG}use")}
    assert (stamps or name == "empty") and len(stamps) == len(set(stamps)) and set(stamps) == used


@ALL
def test_every_look_of_a_drawing_has_its_rule(name: str) -> None:
    tree = _tree(name)
    style = next(tree.iter("style")).text or ""
    drawn = [node for tag in ("text", "rect", "circle", "polyline", "polygon") for node in tree.iter(SVG + tag)]
    looks = {node.get("class") for node in drawn}
    assert len(looks) > 4 or name == "empty"
    for look in looks:
        assert look == "hit" or f".{look}{{" in style, look


@pytest.mark.parametrize("name", ["five", "hostile"])
def test_drawings_in_the_page_show_the_words_of_the_drawings_themselves(name: str) -> None:
    tree, schedule = _tree(name), CASES[name]
    stamps = {node.get("id"): " ".join(node.itertext()) for group in tree.iter(f"{SVG}defs") for node in group}
    places = Places(schedule)
    for section, group in zip(_class(tree, "section", "hoop"), same_dress(schedule), strict=True):
        figure = _class(section, "figure", "wide")[0]
        words = [node.text or "" for node in figure.iter(f"{SVG}text")]
        words += [stamps[(node.get("href") or "")[1:]] for node in figure.iter(f"{SVG}use")]
        drawing = draw_hoop(places.view(group), places, scale_words=False)
        wanted = [shown(shape.text) for shape in drawing.shapes() if isinstance(shape, Words)]
        assert Counter(filter(None, words)) == Counter(wanted)


@ALL
def test_what_was_filled_in_is_told_under_the_hoop_and_pointed_at_from_its_rows(name: str) -> None:
    schedule, tree = CASES[name], _tree(name)
    by_hoop = placements_of(schedule)
    for section, group in zip(_class(tree, "section", "hoop"), same_dress(schedule), strict=True):
        notes = [_text(item) for lines in _class(section, "ol", "notes") for item in lines]
        told: Counter[str] = Counter()
        for cell in _class(section, "span", "filled"):
            told.update(notes[int(number) - 1] for number in re.findall(r"\d+", _text(cell)))
        flat = [re.sub(r"\s+", " ", shown(words)).strip() for item in by_hoop[group[0]] for words in item.assumed]
        assert told == Counter(flat)


def test_hostile_text_is_shown_as_text() -> None:
    text = re.sub(r"\s+", " ", "".join(_tree("hostile").itertext()))
    for hostile in factory.HOSTILE:
        assert re.sub(r"\s+", " ", shown(hostile)) in text


def test_warnings_and_questions_are_there_with_quotes() -> None:
    schedule, tree = CASES["five"], _tree("five")
    articles = {node.get("id"): _text(node) for node in tree.iter("article")}
    for finding in schedule.warnings:
        assert finding.message in articles[finding.id] and finding.advice in articles[finding.id]
        assert all(f"“{source.quote}”" in articles[finding.id] for source in finding.sources)
    for question in schedule.questions:
        assert question.message in articles[question.id]
        assert all(reading in articles[question.id] for reading in question.readings)


def test_the_same_schedule_gives_the_same_page() -> None:
    assert page_html(factory.five()) == page_html(factory.five())
