"""Blanks that the recogniser left out, "Hoop1" and "Oneach", told from the white in the ink and from the words of the page."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import numpy as np

from hoopwright.reading.tesseract import Found, Gray

_NARROW, _WIDE = set("iljtfrI1.,;:)"), set("mwMW")
_RUN_TOGETHER = re.compile(
    r"^([A-Za-z]{2,}|\d{1,2},|\d[\d.,]*)((?:(?<=[a-z])\d{1,3}|(?<=,)\d{1,2}|(?<=\d)(?:to|and|or)\d{1,3}|(?<=\d)(?:mm|cm|m|in|ft|kg))[.,;:)]?)$"
)
_BOX = re.compile(r"^([\[{(])([\]}])(.*)$")
_LABELLED = re.compile(r"^(\d{1,2}[.)])([A-Z].+)$")
_COUNTED = re.compile(r"^(\d{1,3})([A-Za-z]{2,})([.,;:)]*)$")
_BARE = re.compile(r"^[(\"“]?([A-Za-z]+)([.,;:)\"”]*)$")
# Short words that are run together with their neighbours; a word of the page beside one of them makes two words
_SMALL = frozenset(
    re.findall(r"\w+", "a an and at each every for from if in is it no of on one onto or out over the to up with"),
)
_LETTER_ALONE = frozenset("a")
_KNOWN_SURE, _KNOWN_OFTEN = 0.94, 0.85  # confidence of the words that others are held to; of those that come more than once
_MENDED = 0.6  # confidence, at most, of a word that was parted
_LISTED = 0.4  # of the ink's height: the least white behind a comma between two numbers; less stands in 1,30
_WIDER = 1.8  # of the usual gap between a word's characters, that a blank in it is at least
_LONG = 6  # letters of a word that may be two
_CONTRAST, _KNOWN_CONTRAST = 2.5, 1.15  # of the next widest gap, that the gap in such a word is at least; where both parts are known
_BLANK, _KNOWN_BLANK = 0.22, 0.14  # of the ink's height: the least white between two words
_CLEAR = 0.42  # of the ink's height: white that is surely a blank, where the word has narrower gaps
_BEYOND = 1.2  # of the ink's height: how far behind its box a word's last signs may stand
_DARK = 128


def with_blanks(words: list[Found], picture: Gray) -> list[Found]:
    """The words with those parted that are two."""
    known = _known(words)
    return [
        part
        for word in words
        for box in _boxed(word)
        for whole in _at_blanks(box, picture, known)
        for part in _parted(whole, picture, known)
    ]


def with_whole_boxes(words: list[Found], picture: Gray) -> list[Found]:
    """The words with boxes that hold all of their signs: of "Push a" that was read as one word the box has left out the "a"."""
    lines: dict[int, list[float]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word.left)
    return [_whole(word, min((x for x in lines[word.line] if x >= word.right), default=np.inf), picture) for word in words]


def _whole(word: Found, end: float, picture: Gray) -> Found:
    height = word.bottom - word.top
    room = int(min(end, word.right + _BEYOND * height)) - int(word.right)
    if len(word.text) < 2 or room < 3:
        return word
    top, bottom = int(word.top), int(word.bottom) + 1
    missing = len(word.text) - len(_runs(picture[top:bottom, int(word.left) : int(word.right) + 1]))
    beyond = _runs(picture[top:bottom, int(word.right) + 1 : int(word.right) + room])
    if not beyond or len(beyond) > missing or beyond[0][0] < 2 or (end - word.right < np.inf and beyond[-1][1] >= room - 2):
        return word
    return replace(word, right=word.right + 1.0 + beyond[-1][1])


def _runs(part: Gray) -> list[tuple[int, int]]:
    """(first, last) column of each piece of ink."""
    columns = np.nonzero((part < _DARK).any(axis=0))[0]
    if not len(columns):
        return []
    breaks = np.nonzero(np.diff(columns) > 1)[0]
    return list(zip(columns[[0, *(breaks + 1)]].tolist(), columns[[*breaks, len(columns) - 1]].tolist(), strict=True))


def _known(words: list[Found]) -> frozenset[str]:
    """The page's words of letters that were read well, or more than once, lower case."""
    found = [(match.group(1).lower(), word.confidence) for word in words if (match := _BARE.match(word.text)) is not None]
    often = Counter(text for text, sure in found if sure >= _KNOWN_OFTEN)
    return frozenset(text for text, sure in found if len(text) > 1 and (often[text] > 1 or sure >= _KNOWN_SURE)) | _SMALL


def _boxed(word: Found) -> Iterator[Found]:
    """A box to tick as its two sides, for it was read as one word, and what was run together with it; other words as they are."""
    match = _BOX.match(word.text)
    if match is None:
        yield word
        return
    high = word.bottom - word.top
    middle, right = (min(word.left + part * high, word.right) for part in (0.5, 1.0))
    end = right if match.group(3) else word.right
    yield replace(word, text="[", right=middle)
    yield replace(word, text="]", left=middle, right=end)
    if match.group(3):
        yield replace(word, text=match.group(3), left=end)


def _at_blanks(word: Found, picture: Gray, known: frozenset[str]) -> list[Found]:
    """The word parted at the blanks that its ink shows, where each of its characters stands apart: "2CB+2FNea", "Runa"."""
    columns = np.nonzero((_crop(picture, word) < _DARK).any(axis=0))[0]
    gaps = np.diff(columns)
    ends = np.nonzero(gaps > 1)[0]
    if not 2 <= len(word.text) == len(ends) + 1 or _is_known(word.text, known):
        return [word]
    widths = gaps[ends]
    height = word.bottom - word.top
    clear = _CLEAR * height
    least = clear if widths.min() < clear else np.inf  # type that is spaced out has no blanks to be seen
    if not np.isfinite(least) or not (widths > clear).any():
        least = max(_BLANK * height, _WIDER * float(np.median(widths)))
    cuts = [at for at, width in enumerate(widths.tolist(), start=1) if width > least and _may_part(word.text, at, width > clear)]
    cuts = [at for at in cuts if word.text[at - 1] != "," or widths[at - 1] > _LISTED * height]
    parts = [word.text[a:b] for a, b in pairwise([0, *cuts, len(word.text)])]
    if not cuts or (least < clear and _BARE.match(word.text) and not _are_words(parts, known)):
        return [word]  # letters stand unevenly: an r far from its e
    out: list[Found] = []
    for first, last in pairwise([0, *cuts, len(word.text)]):
        left, right = columns[ends[first - 1] + 1] if first else columns[0], columns[ends[last - 1]] if last <= len(ends) else columns[-1]
        box = word.left + float(left), word.left + float(right) + 1
        sure = min(word.confidence, _MENDED)
        out.append(replace(word, text=word.text[first:last], left=box[0], right=box[1], confidence=sure))
    return out


def _is_known(text: str, known: frozenset[str]) -> bool:
    match = _BARE.match(text)
    return match is not None and (match.group(1).lower() in known)


def _are_words(parts: list[str], known: frozenset[str]) -> bool:
    """Whether the page has the parts as words, or one of them beside others that are long enough to be some."""
    letters = [match.group(1) for match in map(_BARE.match, parts) if match is not None]
    if len(letters) != len(parts):
        return False
    held = [part.lower() in known for part in letters]
    return all(held) or (any(held) and all(is_held or len(part) > 2 for part, is_held in zip(letters, held, strict=True)))


def _may_part(text: str, at: int, is_clear: bool) -> bool:
    """Whether a blank may stand at that place: not within a number, nor before a mark. A figure 1 has much white around it."""
    left, right = text[at - 1], text[at]
    if is_clear and left in ".):" and right.isalpha():
        return True
    if not (left.isalnum() or left in ",+") or not (right.isalnum() or right in "+("):
        return False
    if left == ",":
        return not re.match(r"\d{3}(?!\d)", text[at:])
    return not (left.isdigit() and right.isdigit())


def _parted(word: Found, picture: Gray, known: frozenset[str]) -> list[Found]:
    """Two words that were run together, "Hoop1" or "Toptube", parted where the ink has one gap as wide as a blank."""
    if _is_known(word.text, known):
        return [word]
    expected = _seam(word.text)
    seams = [expected] if expected is not None else _seams(word.text, known)
    if not seams and not (len(word.text) >= _LONG and word.text.isalpha()):
        return [word]
    columns = np.nonzero((_crop(picture, word) < _DARK).any(axis=0))[0]
    steps = np.diff(columns)
    if len(steps) < 2:
        return [word]
    widest = int(steps.argmax())
    height = word.bottom - word.top
    second = int(np.partition(steps, -2)[-2])
    if second > _CLEAR * height:  # two blanks in one word
        second = int(steps[steps <= _CLEAR * height].max())
    blank = _LISTED if "," in word.text[:-1] else _KNOWN_BLANK if seams else _BLANK
    if steps[widest] < blank * height or steps[widest] < (_KNOWN_CONTRAST if seams else _CONTRAST) * second:
        return [word]
    left, right = int(columns[widest]), int(columns[widest + 1])
    at = _cut_at(word, (left + right) / 2 / (word.right - word.left), seams)
    if at is None:
        return [word]
    confidence = min(word.confidence, _MENDED)
    behind = replace(word, text=word.text[at:], left=word.left + right, confidence=confidence)
    return [replace(word, text=word.text[:at], right=word.left + left + 1, confidence=confidence), *_parted(behind, picture, known)]


def _cut_at(word: Found, place: float, seams: list[int]) -> int | None:
    """Before which character the word is cut, where its ink has a gap at ``place``, a share of its width; None if that does not fit."""
    if len(seams) == 1 and word.text[seams[0] - 1] == ",":
        return seams[0]  # "2,9": the only wide gap is the one behind the comma
    if seams:
        nearest = min(seams, key=lambda at: abs(_share(at, word.text) - place))
        return nearest if abs(_share(nearest, word.text) - place) * len(word.text) <= 1.0 else None
    at = _character_at(place, word.text)
    return at if at is not None and 3 <= at <= len(word.text) - 3 else None


def _seam(text: str) -> int | None:
    """Where a word and a number, or a number and a unit, stand together."""
    match = _RUN_TOGETHER.match(text) or _LABELLED.match(text)
    return len(match.group(1)) if match else None


def _seams(text: str, known: frozenset[str]) -> list[int]:
    """Where two words of the page, or a number and one, may have been run together: "Oneach", "Ifa", "2TS"."""
    counted = _COUNTED.match(text)
    if counted is not None and counted.group(2).lower() in known:
        return [len(counted.group(1))]
    match = _BARE.match(text)
    if match is None:
        return []
    start, whole = match.start(1), match.group(1).lower()
    return [start + at for at in range(1, len(whole)) if _makes_two(whole[:at], whole[at:], known)]


def _makes_two(first: str, second: str, known: frozenset[str]) -> bool:
    if second in _LETTER_ALONE:
        return len(first) > 1  # "Pusha": the first word need not come twice
    if first in _LETTER_ALONE:
        return second in known
    return first in known and second in known and (first in _SMALL or second in _SMALL or min(len(first), len(second)) > 2)


def _share(at: int, text: str) -> float:
    """The share of the word's width that its first ``at`` characters take."""
    widths = _widths(text)
    return sum(widths[:at]) / sum(widths)


def _widths(text: str) -> list[float]:
    return [0.5 if c in _NARROW else 1.5 if c in _WIDE else 1.0 for c in text]


def _character_at(place: float, text: str) -> int | None:
    """The number of characters before ``place``, a share of the word's width, told from usual widths; None if that is not clear."""
    errors = sorted((abs(_share(index, text) - place), index) for index in range(1, len(text)))
    if errors[0][0] * sum(_widths(text)) > 0.45 or text[: errors[0][1]][-1] in ".,;:":
        return None
    return errors[0][1]


def _crop(picture: Gray, word: Found) -> Gray:
    return picture[int(word.top) : int(word.bottom) + 1, int(word.left) : int(word.right) + 1]
