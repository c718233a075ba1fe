"""Figures, codes and labels of a scan read a second time, by the shapes of the page's own signs.

Where the shapes tell something else than the recogniser, its word gives way if it was in doubt or is no word a manual has; where both are
sure and differ in a figure, the word stays and is doubted, so that it is asked about.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

from hoopwright.reading.glyphs import Glyphs, Level, Sign
from hoopwright.reading.tesseract import Found
from hoopwright.reading.type_sizes import base_lines, type_sizes

# 12, 1.2, 4a, M5, K11:, (k6), #12, A-05, 1,050
_TELLING = re.compile(r"^[(\[#]?(?:[A-Za-z]{1,3}[.-]?)?\d{1,4}(?:[.,]\d{1,4})*[a-h]?[)\]]?[.,;:)]{0,2}$")
_LABEL = re.compile(r"^(?:[(\[]?(?:\d{1,3}(?:\.\d{1,2})?|[A-Z]\d{1,2}|\d{1,2}[a-h])[.):\]]{0,2})$")
_CODE = re.compile(r"^[(\[#]?([A-Za-z]{1,3})[.-]?\d{1,4}[a-z]?[)\]]?[.,;:)]{0,2}$")
_RULES = "_|¦"  # no manual has such words: they are read from rules, and from nothing
_CONFUSED = str.maketrans("oOlIiséS", "001115" + "65")  # signs of one shape that are told from figures by little
_SURE, _AGREED, _MENDED, _DOUBTED = 0.9, 0.8, 0.6, 0.5  # confidence
_BESIDE = 3.0  # of the type size: how far before its text a label stands
_SPREAD = 0.45  # of the type size: the widest gap in a label
_SAME_LINE = 0.35  # of the type size: by which base lines of a label and its text may differ
_LONGEST_LABEL = 10  # characters
_DASHES = frozenset(["-", "–", "—", "--", "—-", "_"])
_HYPHEN, _EN_DASH = 0.4, 0.75  # of the type size: the lengths up to which a dash is a hyphen and no long dash. Common practice, no source
_BEHIND = 0.1  # of the type size: what stands nearer to the first word of a line is a part of it


def reread(words: list[Found], glyphs: Glyphs, levels: dict[int, Level], first_cell: int) -> list[Found]:
    """The words with what their ink shows put for what was guessed, and with the labels that were passed over.

    Lines from the number ``first_cell`` on are cells of tables.
    """
    firsts = _firsts(words)
    prefixes = {match.group(1) for match in (_CODE.match(word.text) for word in words if word.confidence >= _AGREED) if match is not None}
    out: list[Found] = []
    for word in words:
        bare = _bare(word)
        signs = glyphs.signs(word.left, word.right, levels[word.line])
        if not bare.text or (not signs and not any(c.isalnum() for c in bare.text)):
            continue
        first = firsts[word.line] is word
        if first and word.line < first_cell:
            out.extend(_lost_label(word, words, glyphs, levels[word.line]))
        if bare.text in _DASHES and len(signs) == 1 and signs[0].is_dash:
            out.append(replace(bare, text=_dash(signs[0], levels[word.line]), confidence=max(bare.confidence, _AGREED)))
        else:
            out.append(_seen(bare, signs, glyphs, first, prefixes) if _may_tell(bare, first) else bare)
    return out


def _dash(sign: Sign, level: Level) -> str:
    """A hyphen, a dash or a long dash, by its length."""
    length = (sign.right - sign.left) / level.size
    return "-" if length < _HYPHEN else "–" if length < _EN_DASH else "—"


def levels_of(words: list[Found]) -> dict[int, Level]:
    """Line number → where its type stands, and how large it is."""
    sizes = type_sizes(words)
    bases = base_lines(words, sizes)
    return {line: Level(bases[line], sizes[line]) for line in bases}


def with_labels_beside(words: list[Found], levels: dict[int, Level], first_cell: int) -> list[Found]:
    """The words with each label that was read as a line of its own put to the line of text on its right, before its first word."""
    lines: dict[int, list[Found]] = {}
    for word in words:
        lines.setdefault(word.line, []).append(word)
    firsts = {number: min(line, key=lambda w: w.left) for number, line in lines.items()}
    put: dict[int, list[Found]] = {}
    for number, line in lines.items():
        level, right = levels[number], max(word.right for word in line)
        if number >= first_cell or len(line) > 2 or sum(len(word.text) for word in line) > _LONGEST_LABEL:
            continue
        near = (
            (first.left - right, other)
            for other, first in firsts.items()
            if other < first_cell
            and len(lines[other]) > len(line)
            and 0 < first.left - right < _BESIDE * level.size
            and abs(levels[other].base - level.base) < _SAME_LINE * level.size
        )
        found = min(near, default=None)
        if found is not None:
            put[found[1]] = line
    moved = {id(word) for line in put.values() for word in line}
    out: list[Found] = []
    for number, line in lines.items():
        out.extend(replace(word, line=number) for word in put.get(number, []))
        out.extend(word for word in line if id(word) not in moved)
    return out


def _firsts(words: list[Found]) -> dict[int, Found]:
    firsts: dict[int, Found] = {}
    for word in words:
        if any(c.isalnum() for c in word.text) and (word.line not in firsts or word.left < firsts[word.line].left):
            firsts[word.line] = word
    return {**{word.line: word for word in words if word.line not in firsts}, **firsts}


def _bare(word: Found) -> Found:
    return replace(word, text=word.text.strip(_RULES)) if word.text[0] in _RULES or word.text[-1] in _RULES else word


def _may_tell(word: Found, first: bool) -> bool:
    """Whether the word is a number or code, or may be one that was read wrongly."""
    text = word.text
    short = len(text) <= 5 and (word.confidence < _SURE or text[0].isupper())
    return any(c.isdigit() for c in text) or not text.isascii() or (short and (first or text[0].isupper() or not text[0].isalpha()))


def _seen(word: Found, signs: list[Sign], glyphs: Glyphs, first: bool, prefixes: set[str]) -> Found:
    """The word as its signs show it, if they do."""
    text = glyphs.text(signs, word, figures=first and word.confidence < _MENDED)
    if text is None:
        return word
    if text == word.text or _confused(text, word.text):
        counts = word.text == "-" or any(c.isdigit() for c in word.text)
        return replace(word, confidence=max(word.confidence, _AGREED)) if counts else word
    if not _TELLING.match(text) or _is_part(text, word.text):
        return word
    code = _CODE.match(text)
    if any(c.isdigit() for c in word.text) and word.text.isascii():
        if len(text) == len(word.text) and word.confidence >= _MENDED and _TELLING.match(word.text) and not _stops_only(text, word.text):
            return replace(word, confidence=_DOUBTED)
        believed = word.confidence < _SURE or not _TELLING.match(word.text)
    elif code is not None and code.group(1) in prefixes and len(text) == len(word.text):
        believed = text.translate(_CONFUSED) == word.text.translate(_CONFUSED) or word.confidence < _SURE
    else:
        believed = word.confidence < _SURE and (first or word.text.isupper() or not word.text.isascii())
    return replace(word, text=text, confidence=min(word.confidence, _MENDED) if word.confidence > 0.3 else _MENDED) if believed else word


def _is_part(seen: str, read: str) -> bool:
    """Whether only letters are missing from what is seen: those that stand beside the word's box, as the x of "4x"."""
    rest = read.removeprefix(seen) if read.startswith(seen) else read.removesuffix(seen)
    return rest != read and rest.isascii() and rest.isalpha()


def _confused(seen: str, read: str) -> bool:
    """Whether the two differ only in figures of the recogniser's that look as letters do: "2o" for 20."""
    if len(seen) != len(read):
        return False
    return all(a == b or (b.isdigit() and a.isalpha() and a.translate(_CONFUSED) == b) for a, b in zip(seen, read, strict=True))


def _stops_only(seen: str, read: str) -> bool:
    """Whether the two differ in their marks alone: "13:" and "13."."""
    return re.sub(r"\W", "", seen) == re.sub(r"\W", "", read)


def _lost_label(first: Found, words: list[Found], glyphs: Glyphs, level: Level) -> Iterator[Found]:
    """The number before the first word of a line that was passed over, if there is one."""
    end = first.left - _BEHIND * level.size
    start = max(first.left - _BESIDE * level.size - 3 * level.size, 0.0)
    beside = [w.right for w in words if w.right <= first.left and w.bottom > level.base - 0.5 * level.size and w.top < level.base]
    start = max([start, *(right + 1 for right in beside)])
    if end - start < 0.3 * level.size:
        return
    signs = glyphs.signs(start, end, level)
    label: list[Sign] = []
    for sign in reversed(signs):
        if label and label[0].left - sign.right > _SPREAD * level.size:
            break
        label.insert(0, sign)
    if not label or first.left - label[-1].right > _BESIDE * level.size:
        return
    text = glyphs.text(label, figures=True)
    if text is not None and _LABEL.match(text):
        top, bottom = float(min(s.top for s in label)), float(max(s.bottom for s in label))
        yield Found(text, float(label[0].left), top, float(label[-1].right), bottom, _MENDED, first.line)
