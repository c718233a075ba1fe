"""The page in Chromium: by keyboard alone to the end, 360 px wide, accessible, nothing fetched from outside."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hoopwright.api import settle, understand
from hoopwright.reviewing import load
from hoopwright.reviewing.session import Review

from library import Kit
from reviewing.desks import kit, review_of, serving

CHROMIUM = shutil.which("chromium")
sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
axe_module = pytest.importorskip("axe_core_python.sync_playwright", reason="axe-core-python is not installed")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed: apt-get install chromium")


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with sync_api.sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield running
        running.close()


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Kit:
    """The manual of ``orchard-6`` as a PDF: its own lines, printed."""
    import typst

    folder = tmp_path_factory.mktemp("printed")
    text = kit("orchard-6").manual.read_text(encoding="utf-8")
    source = folder / "manual.typ"
    (folder / "manual.text").write_text(text, encoding="utf-8")
    source.write_text('#set text(font: "DejaVu Sans Mono", size: 8pt)\n#raw(read("manual.text"))\n', encoding="utf-8")
    typst.compile(str(source), output=str(folder / "manual.pdf"))
    return Kit(folder)


def _page(browser: Any, url: str, width: int, **options: Any) -> tuple[Any, list[str]]:
    page = browser.new_context(viewport={"width": width, "height": 800}, **options).new_page()
    complaints: list[str] = []
    origin = url.split("/", 3)[:3]
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("request", lambda request: complaints.append(request.url) if request.url.split("/", 3)[:3] != origin else None)
    page.goto(url)
    return page, complaints


@pytest.mark.parametrize(("width", "scheme"), [(360, "light"), (1280, "light"), (360, "dark")])
def test_no_wider_than_the_screen_silent_and_axe_finds_nothing(browser: Any, tmp_path: Path, width: int, scheme: str) -> None:
    review = review_of(kit("e6-doubtful"), tmp_path)
    with serving(review, kit("e6-doubtful")) as server:
        page, complaints = _page(browser, server.url, width, bypass_csp=True, color_scheme=scheme)
        assert (page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)") == (scheme == "light")
        paths = [
            "",
            "list",
            "corrections",
            "corrections/h2/0",
            "warnings",
            *(f"question/{question.key}" for question in review.questions()),
        ]
        for path in paths:
            page.goto(server.url + path)
            assert page.evaluate("document.documentElement.scrollWidth") <= width, path
            found = axe_module.Axe().run(page)["violations"]
            assert [(item["id"], item["nodes"][0]["html"]) for item in found] == [], path
        assert complaints == []


def test_the_policy_holds_in_the_browser(browser: Any, tmp_path: Path) -> None:
    with serving(review_of(kit("e6-doubtful"), tmp_path), kit("e6-doubtful")) as server:
        page, complaints = _page(browser, server.url, 800)
        assert page.evaluate("getComputedStyle(document.querySelector('button.main')).backgroundColor") == "rgb(15, 92, 76)"
        assert complaints == []


def test_by_keyboard_from_the_first_question_to_the_end(browser: Any, tmp_path: Path) -> None:
    review = review_of(kit("e6-doubtful"), tmp_path)
    with serving(review, kit("e6-doubtful"), [Path("sheets.pdf")]) as server:
        page, complaints = _page(browser, server.url, 360)
        for number in range(len(review.questions())):
            assert page.locator("h1").count() == 1
            box = "input[type=radio]" if page.locator("input[type=radio]").count() else "input[name=value]"
            _tab_to(page, box)
            page.keyboard.press("Space") if box == "input[type=radio]" else page.keyboard.type("1 m above the ground")
            with page.expect_navigation():
                page.keyboard.press("Enter")
            assert len(load(review.path).answers) == number + 1
        assert "Everything is settled" in page.locator("h1").inner_text()
        _tab_to(page, "main button.main")
        with page.expect_navigation():
            page.keyboard.press("Enter")
        assert "sheets.pdf" in page.content()
        assert complaints == []


def _tab_to(page: Any, selector: str) -> None:
    for _ in range(60):
        if page.evaluate("selector => document.activeElement.matches(selector)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{selector} is not reached by the Tab key")


def test_a_printed_manual_shows_the_piece_of_the_page(browser: Any, printed: Kit, tmp_path: Path) -> None:
    found = understand([printed.manual])
    review = Review(tmp_path / "kit.answers.yaml", lambda answers: settle(found, answers))
    assert review.questions()
    with serving(review, printed) as server:
        page, complaints = _page(browser, server.url, 360)
        for question in review.questions():
            page.goto(f"{server.url}question/{question.key}")
            size = page.evaluate("(() => { const i = document.querySelector('img'); return [i.naturalWidth, i.naturalHeight]; })()")
            assert 300 < size[0] < 1200 and 100 < size[1] < 900
            assert question.source is not None
            assert "".join(question.source.quote.split())[:20] in "".join(page.locator("mark").text_content().split())
        assert complaints == []
