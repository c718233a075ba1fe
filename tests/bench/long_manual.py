"""An invented manual of any number of pages as a PDF with a text layer, for the bench. The same number gives the same manual.

    python tests/bench/long_manual.py FILE PAGES

It is made like a real one: figures of the frame, a parts list, numbered steps of which every sixth puts a fitting on a hoop, and chapters
of advice that put on nothing. All words are our own.
"""

from __future__ import annotations

import random
import sys
from collections.abc import Iterator
from itertools import cycle
from pathlib import Path

import typst

WORDS_PER_PAGE = 460
HOOPS = 12

_KINDS = ("ridge", "purlin", "brace", "crop bar", "wire", "hose", "lamp", "vent", "net", "mist", "shade", "heater")
_SHAPES = ("clip", "clamp", "ring", "hook", "eye")

_FITS = (
    "Slide one {part} ({code}) onto the {side} leg of each hoop, {mm} mm above the foot.",
    "Push one {part} ({code}) onto the {side} leg of both end hoops, {mm} mm above the foot.",
    "Fit one {part} ({code}) to each leg of the intermediate hoops, {mm} mm above the foot.",
    "Slide two {part}s ({code}) onto the arch of hoop {hoop}, one on either side of the ridge, {mm} mm from it.",
    "Put one {part} ({code}) on the arch of every hoop, {mm} mm to the {side} of the ridge.",
)
_HANDLES = (
    "Lay the tubes of the next hoop on the trestles and wipe them dry.",
    "Check that every mark is still where you put it before you go on.",
    "Tighten the bolts of the last hoop by hand only; they are tightened fully when the frame is lined up.",
    "Turn the fittings so that their openings point to the inside of the house.",
    "Sight along the row of hoops from the door and correct what stands out of line.",
    "Keep the short offcuts of tube; some are needed as spacers when the cover is drawn.",
    "Have a second person hold the far end while you work, and do not stand under a raised tube.",
)
_ADVICE = (
    "A bed that slopes a little towards the door drains better than a level one, and the path stays dry in winter.",
    "The cover lasts longest where nothing rubs against it, so walk round the house once a month and look for loose ends.",
    "On warm days open the vents early in the morning; it is easier to keep heat out than to get rid of it.",
    "Snow should be brushed off from inside with a soft broom before it freezes to the sheet.",
    "Seedlings near the door suffer most from cold air, while those in the middle grow away soonest.",
    "Write down when you watered and how long it took; after one season the notes are worth more than any table.",
    "Mice like the space under a folded sheet, and what they leave of it in spring is seldom worth drawing again.",
    "A water butt at the low end fills quickly when the gutter is kept free of leaves.",
    "Whoever grows in rows across the house has shorter ways to walk, and more paths to keep clean.",
    "After a storm look at the windward side first, then at the door, and only then at the crops.",
)


def write_manual(path: Path, pages: int) -> None:
    """Write the manual with ``pages`` A4 pages to ``path``."""
    chance = random.Random(pages)
    fits = _fits(chance)
    chosen = [_first_page(), *(_page(number, chance, fits) for number in range(2, pages)), _last_page(pages)]
    body = "\n#pagebreak()\n".join(chosen)
    source = f'#set page("a4", margin: 20mm)\n#set text(size: 9.5pt)\n#set par(spacing: 0.8em)\n{body}\n'
    main = path.with_suffix(".typ")
    main.write_text(source, encoding="utf-8")
    path.write_bytes(typst.compile(str(main), ignore_system_fonts=True))
    main.unlink()


def _parts() -> list[tuple[str, str]]:
    return [(f"K{number}", f"{kind} {shape}") for number, (kind, shape) in enumerate(((k, s) for k in _KINDS for s in _SHAPES), start=1)]


def _first_page() -> str:
    rows = "\n".join(f"[{code}], [{name.capitalize()}, closed], [{8 * HOOPS}]," for code, name in _parts())
    return f"""= Long house for the bench
The house is 6 m wide and 16.5 m long. It has {HOOPS} hoops, 1.5 m apart. Each hoop is made of three tubes: a leg, an arch and a leg.
== Parts
#columns(2)[#text(size: 7pt)[#table(columns: 3, inset: 2pt, [Code], [Part], [Quantity],
{rows}
)]]"""


def _page(number: int, chance: random.Random, fits: Iterator[str]) -> str:
    if number % 3 == 0:
        sentences = [chance.choice(_ADVICE) for _ in range(WORDS_PER_PAGE // 20)]
        blocks = [" ".join(sentences[start : start + 5]) for start in range(0, len(sentences), 5)]
        return f"== Advice {number}\n" + "\n\n".join(blocks)
    lines = [f"== Assembly, part {number}"]
    for step in range(1, WORDS_PER_PAGE // 36 + 1):
        # A number in each step, so that no two are alike and nothing is gained by remembering a sentence.
        text = [chance.choice(_HANDLES), f"Note the time in row {100 * number + step} of the log.", chance.choice(_HANDLES)]
        if step % 6 == 0:
            text.insert(0, next(fits))
        lines.append(f"{number}.{step} {' '.join(text)}")
    return "\n\n".join(lines)


def _last_page(number: int) -> str:
    return f"""== Joining and standing, part {number}
{number}.1 Join the three tubes of each hoop.

{number}.2 Stand the hoops on their ground tubes."""


def _fits(chance: random.Random) -> Iterator[str]:
    """Sentences that put a fitting on, each at a place of its own: a manual without faults, as most are."""
    parts = cycle(_parts())
    for number, sentence in enumerate(cycle(_FITS)):
        code, part = next(parts)
        side = ("left", "right")[number % 2]
        yield sentence.format(part=part, code=code, side=side, mm=100 + 10 * number, hoop=chance.randint(1, HOOPS))


if __name__ == "__main__":
    write_manual(Path(sys.argv[1]), int(sys.argv[2]))
