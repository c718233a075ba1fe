"""The web page in Debian's Chromium: silent console, no request, accessible by axe-core's rules, usable by keyboard and at 360 px."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hoopwright.reporting.as_page import page_html
from hoopwright.reporting.cautions import CAUTIONS
from hoopwright.reporting.manual_marks import manual_marks
from hoopwright.reporting.marked_text import marked_html

from reporting import factory
from reporting.test_drawings import CASES

CHROMIUM = shutil.which("chromium")
sync_api = pytest.importorskip("playwright.sync_api", reason="playwright is not installed")
axe_module = pytest.importorskip("axe_core_python.sync_playwright", reason="axe-core-python is not installed")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="Chromium is not installed: apt-get install chromium")

NAMES = ["five", "thirty", "hostile", "shapeless", "empty"]


@pytest.fixture(scope="module")
def browser() -> Iterator[Any]:
    with sync_api.sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield running
        running.close()


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Path]:
    folder = tmp_path_factory.mktemp("pages")
    paths = {name: folder / f"{name}.html" for name in NAMES}
    for name, path in paths.items():
        path.write_text(page_html(CASES[name]), encoding="utf-8")
    return paths


def _open(browser: Any, path: Path, width: int, **options: Any) -> tuple[Any, list[str]]:
    page = browser.new_context(viewport={"width": width, "height": 800}, **options).new_page()
    complaints: list[str] = []
    page.on("console", lambda message: complaints.append(message.text))
    page.on("pageerror", lambda error: complaints.append(str(error)))
    page.on("request", lambda request: complaints.append(request.url) if request.url != path.as_uri() else None)
    page.on("dialog", lambda dialog: (complaints.append(dialog.message), dialog.dismiss()))
    page.goto(path.as_uri())
    return page, complaints


@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("name", NAMES)
def test_silent_self_contained_and_no_wider_than_the_screen(browser: Any, files: dict[str, Path], name: str, width: int) -> None:
    page, complaints = _open(browser, files[name], width)
    assert page.evaluate("document.documentElement.scrollWidth") <= width
    page.mouse.wheel(0, 3000)
    page.wait_for_timeout(50)
    assert complaints == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize(
    ("name", "width"), [("five", 360), ("five", 1280), ("thirty", 360), ("hostile", 1280), ("shapeless", 360), ("empty", 1280)]
)
def test_axe_finds_nothing(browser: Any, files: dict[str, Path], name: str, width: int, scheme: str) -> None:
    # axe is put into the page from outside, which the page's own policy rightly forbids.
    page, _ = _open(browser, files[name], width, bypass_csp=True, color_scheme=scheme)
    result = axe_module.Axe().run(page)
    assert [(item["id"], item["nodes"][0]["html"]) for item in result["violations"]] == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_on_a_marked_manual(browser: Any, tmp_path: Path, scheme: str) -> None:
    schedule = factory.five()
    manual = tmp_path / "manual.txt"
    manual.write_text("\n\n".join(step.text for step in schedule.steps), encoding="utf-8")
    page_file = tmp_path / "marked.html"
    page_file.write_text(marked_html(manual, manual_marks(schedule, "D1"), "manual.txt"), encoding="utf-8")
    page, _ = _open(browser, page_file, 360, bypass_csp=True, color_scheme=scheme)
    assert page.locator("mark").count() > 5
    result = axe_module.Axe().run(page)
    assert [(item["id"], item["nodes"][0]["html"]) for item in result["violations"]] == []


# Every pair of a text's colour and what it can stand on, in page, drawings and notes.
PAIRS = [("ink", "paper"), ("ink", "pale"), ("ink", "glow"), ("mid", "paper"), ("mid", "pale"), ("mid", "glow"), ("paper", "ink")]
PAIRS += [("accent", "paper"), ("accent", "glow"), ("paper", "accent")]


def _contrast(one: str, other: str) -> float:
    """WCAG 2.2, "contrast ratio" and "relative luminance"."""

    def luminance(colour: str) -> float:
        parts = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
        red, green, blue = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    low, high = sorted([luminance(one), luminance(other)])
    return (high + 0.05) / (low + 0.05)


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_words_stand_out_in_drawings_too_in_both_themes(browser: Any, files: dict[str, Path], scheme: str) -> None:
    """axe-core does not look at words in drawings."""
    page, complaints = _open(browser, files["five"], 1280, color_scheme=scheme)
    names = sorted({name for pair in PAIRS for name in pair})
    found = page.evaluate("(names) => names.map((name) => getComputedStyle(document.documentElement).getPropertyValue('--' + name))", names)
    colours = dict(zip(names, (colour.strip() for colour in found), strict=True))
    assert {
        pair: _contrast(colours[pair[0]], colours[pair[1]]) for pair in PAIRS if _contrast(colours[pair[0]], colours[pair[1]]) < 4.5
    } == {}
    dark = page.evaluate("getComputedStyle(document.body).backgroundColor")
    assert (dark == "rgb(255, 255, 255)") == (scheme == "light")
    words = page.evaluate("getComputedStyle(document.querySelector('svg text')).fill")
    assert words != dark
    assert complaints == []


def test_a_page_in_the_dark_theme_prints_light(browser: Any, files: dict[str, Path]) -> None:
    page, _ = _open(browser, files["five"], 1280, color_scheme="dark")
    page.emulate_media(media="print", color_scheme="dark")
    assert page.evaluate("getComputedStyle(document.documentElement).getPropertyValue('--paper')").strip() == "#ffffff"
    assert page.evaluate("getComputedStyle(document.documentElement).colorScheme") == "light"


def _focused(page: Any) -> str:
    return str(page.evaluate("document.activeElement.id || document.activeElement.getAttribute('href') || document.activeElement.tagName"))


@pytest.mark.parametrize("width", [360, 1280])
def test_everything_works_by_keyboard(browser: Any, files: dict[str, Path], width: int) -> None:
    page, _ = _open(browser, files["five"], width)
    page.keyboard.press("Tab")
    assert _focused(page) == "#main"
    page.keyboard.press("Enter")
    assert _focused(page) == "main"
    seen: list[str] = []
    for _ in range(400):
        page.keyboard.press("Tab")
        seen.append(_focused(page))
        if seen[-1] == "BODY":
            break
    prefix = "small-mark-" if width < 640 else "mark-"
    places = page.evaluate("[...document.querySelectorAll('tbody[data-place]')].map(row => row.dataset.place)")
    assert {prefix + place for place in places} <= set(seen)
    page.focus(f"#{prefix}H2-2")
    saying = page.locator("#saying")
    assert saying.is_visible() and "900 mm from the foot" in saying.inner_text()
    assert page.locator("#row-H2-2.on").count() == 1
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "row-H2-2" or page.evaluate("location.hash") == "#row-H2-2"
    page.keyboard.press("Escape")
    assert not saying.is_visible()
    assert page.locator(".on").count() == 0


@pytest.mark.parametrize("width", [360, 1280])
def test_pointing_links_mark_row_and_sentence_both_ways(browser: Any, files: dict[str, Path], width: int) -> None:
    page, _ = _open(browser, files["five"], width)
    page.hover("#row-H1-3 td:nth-of-type(1)")
    assert page.locator("svg .mark.on:visible").count() == 1
    assert page.locator("svg .mark.on:visible").get_attribute("data-place") == "H1-3"
    page.click("#row-H1-3 a.sign")
    assert page.evaluate("document.activeElement.dataset.place") == "H1-3"
    assert page.evaluate("document.activeElement.matches('svg .mark')")
    page.hover("#words-S4 h3")
    lit = page.evaluate("[...document.querySelectorAll('tbody.on')].map(row => row.dataset.place)")
    assert sorted(lit) == sorted(["H1-2", "H1-8", "H2-2", "H2-6", "H5-2", "H5-8"])


def test_hostile_names_run_nothing(browser: Any, files: dict[str, Path]) -> None:
    page, complaints = _open(browser, files["hostile"], 1280)
    assert complaints == []
    assert "<script>alert(1)</script>" in page.inner_text("h1")


def test_prints_every_hoop_on_a_page_of_its_own(browser: Any, files: dict[str, Path]) -> None:
    import io

    import pypdfium2

    page, _ = _open(browser, files["five"], 1280)
    document = pypdfium2.PdfDocument(
        io.BytesIO(page.pdf(format="A4", margin={"top": "12mm", "bottom": "12mm", "left": "12mm", "right": "12mm"}))
    )
    starts = [text.splitlines()[0] for text in (item.get_textpage().get_text_range() for item in document) if text.strip()]
    assert sum(line.startswith(("H1 ", "H2–H4 ", "H5 ")) for line in starts) == 3


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", ["five", "thirty", "hostile"])
def test_the_printed_table_has_every_column_and_the_cautions_are_printed(
    browser: Any, files: dict[str, Path], name: str, paper: str
) -> None:
    """A browser cuts off what is wider than the paper, or shrinks everything until it fits."""
    import io

    import pypdfium2

    page, _ = _open(browser, files[name], 1280)
    document = pypdfium2.PdfDocument(io.BytesIO(page.pdf(format=paper)))
    text = " ".join(item.get_textpage().get_text_range() for item in document)
    assert all(caution.heading in text for caution in CAUTIONS)
    # ISO 216 and ANSI/ASME Y14.1, less the margins of the page's own print style, 14 mm on either side; CSS counts 96 pixels to the inch.
    room = int(({"A4": 210.0, "Letter": 215.9}[paper] - 28) / 25.4 * 96)
    page.set_viewport_size({"width": room, "height": 900})
    page.emulate_media(media="print")
    assert page.evaluate("document.documentElement.scrollWidth") <= room
    assert page.evaluate("document.querySelector('table.counts').getBoundingClientRect().right") <= room


def test_dark_signs_are_dark_on_paper_too(browser: Any, files: dict[str, Path], tmp_path: Path) -> None:
    """Browsers leave backgrounds out when they print: a white number on its dark sign would be white on white."""
    page, _ = _open(browser, files["five"], 1280)
    page.emulate_media(media="print")
    found = page.evaluate("[...document.querySelectorAll('.sign, .tag, .pre')].map((node) => getComputedStyle(node).printColorAdjust)")
    assert found and set(found) == {"exact"}
