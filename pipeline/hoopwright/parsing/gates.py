"""Patterns that most sentences rule out by their letters alone: what stands in every match is looked for before the pattern is tried."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from functools import cached_property, lru_cache
from re import _parser  # type: ignore[attr-defined]  # what the compiler itself reads patterns with; the tests hold it to all patterns
from typing import Any

Pieces = tuple[str, ...]
_NO_ROOM = frozenset({"AT", "ASSERT_NOT"})  # take up no letters: what stands around them stands together


@lru_cache(maxsize=2048)
def needed(pattern: str) -> tuple[Pieces, ...]:
    """What a match of ``pattern`` cannot be without, in small letters: one piece of each group stands in the text. The rarest come first."""
    return tuple(sorted(_needed(_parser.parse(pattern)), key=_weight, reverse=True))


def _needed(parsed: Iterable[tuple[Any, Any]]) -> Iterator[Pieces]:
    run = ""
    for op, value in parsed:
        kind = str(op)
        if kind == "LITERAL":
            run += chr(value).lower()
        elif kind not in _NO_ROOM:
            if run:
                yield (run,)
            run = ""
            yield from _within(kind, value)
    if run:
        yield (run,)


def _within(kind: str, value: Any) -> Iterator[Pieces]:
    if kind == "SUBPATTERN":
        yield from _needed(value[3])
    elif kind == "ASSERT":
        yield from _needed(value[1])
    elif kind in ("MAX_REPEAT", "MIN_REPEAT") and value[0] > 0:
        yield from _needed(value[2])
    elif kind == "BRANCH":
        ways = [max(_needed(way), key=_weight, default=()) for way in value[1]]
        if all(ways):
            yield tuple(dict.fromkeys(piece for way in ways for piece in way))


def _weight(pieces: Pieces) -> tuple[int, int]:
    """How much a group is likely to rule out: by its shortest piece, and the fewer the better."""
    return min(len(piece.strip()) for piece in pieces), -len(pieces)


class Gated:
    """A pattern that is tried, and compiled, only where the pieces that it needs are in the text.

    ``like`` is another form of it, of which the same is needed: with anything in place of what changes from manual to manual.
    ``first`` is the piece that is looked for first. Methods and results are those of ``re.Pattern``.
    Beyond ASCII a letter may match in other cases than its own: there the pattern is always tried.
    """

    def __init__(self, pattern: str, flags: int = 0, like: str | None = None) -> None:
        self._pattern, self._flags = pattern, flags
        groups = needed(pattern if like is None else like)
        first = next((group for group in groups if len(group) == 1), ("",))
        self.first = first[0]
        self._more = tuple(group for group in groups if group is not first)

    @cached_property
    def pattern(self) -> re.Pattern[str]:
        """The pattern as such."""
        return re.compile(self._pattern, self._flags)

    def open(self, low: str) -> bool:
        """Whether a text in ASCII, given in small letters, may hold a match."""
        if self.first not in low:
            return False
        for group in self._more:
            for piece in group:
                if piece in low:
                    break
            else:
                return False
        return True

    def search(self, text: str) -> re.Match[str] | None:
        """The first match."""
        return self.pattern.search(text) if not text.isascii() or self.open(text.lower()) else None

    def match(self, text: str) -> re.Match[str] | None:
        """The match at the start."""
        return self.pattern.match(text) if not text.isascii() or self.open(text.lower()) else None

    def finditer(self, text: str) -> Iterator[re.Match[str]]:
        """All matches."""
        return self.pattern.finditer(text) if not text.isascii() or self.open(text.lower()) else iter(())

    def sub(self, into: str | Callable[[re.Match[str]], str], text: str) -> str:
        """``text`` with ``into`` for all matches."""
        return self.pattern.sub(into, text) if not text.isascii() or self.open(text.lower()) else text


@lru_cache(maxsize=4096)
def gated(pattern: str, flags: int = 0, like: str | None = None) -> Gated:
    """The pattern, kept for the next manual: most share their word for a hoop, and compiling takes longer than reading a short manual."""
    return Gated(pattern, flags, like)


def search(pattern: str, text: str, flags: int = 0) -> re.Match[str] | None:
    """``re.search``, gated."""
    return gated(pattern, flags).search(text)


def match(pattern: str, text: str, flags: int = 0) -> re.Match[str] | None:
    """``re.match``, gated."""
    return gated(pattern, flags).match(text)


def finditer(pattern: str, text: str, flags: int = 0) -> Iterator[re.Match[str]]:
    """``re.finditer``, gated."""
    return gated(pattern, flags).finditer(text)
