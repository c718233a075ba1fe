"""Small text helpers of the messages."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

NUMBERED = re.compile(r"^(\D*)(\d+)$")


def listed(words: Sequence[str], last: str = "and") -> str:
    """ "a", "a and b", "a, b and c"."""
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} {last} {words[-1]}" if words else ""


def hoop_list(ids: Iterable[str]) -> str:
    """Hoop ids with runs of three and more drawn together: "H1 and H3 to H6"."""
    runs: list[tuple[str, int, int]] = []
    plain: list[str] = []
    for id in ids:
        match = NUMBERED.match(id)
        if match is None:
            plain.append(id)
            continue
        stem, number = match[1], int(match[2])
        if runs and runs[-1][0] == stem and runs[-1][2] == number - 1:
            runs[-1] = (stem, runs[-1][1], number)
        else:
            runs.append((stem, number, number))
    words: list[str] = []
    for stem, first, last in runs:
        words += [f"{stem}{n}" for n in range(first, last + 1)] if last - first < 2 else [f"{stem}{first} to {stem}{last}"]
    return listed([*words, *plain])


def millimetres(value: float) -> str:
    """A length for a message: whole millimetres where it is whole, else one decimal."""
    return f"{value:.0f} mm" if abs(value - round(value)) < 0.05 else f"{value:.1f} mm"


def plural(number: int, word: str) -> str:
    return f"{number} {word}" + ("" if number == 1 else "s")


def article(word: str) -> str:
    return "an" if word[:1].lower() in "aeio" else "a"


def capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def words_of(name: str) -> frozenset[str]:
    """The words of a name, lower case, for telling whether two names speak of the same thing."""
    return frozenset(re.findall(r"[a-z]+", name.lower()))


GENERIC = frozenset({"bar", "tube", "pole", "clip", "clamp", "length", "of", "the", "rail"})


def name_in_common(bar: str, fitting: str) -> bool:
    """Whether a fitting's name speaks of a bar: "purlin clip" of the side purlin, but not "rail clip" of the hand rail."""
    own = words_of(bar) - GENERIC
    return bool(own & words_of(fitting)) or (not own and words_of(bar) <= words_of(fitting))
