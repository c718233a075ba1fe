"""Two sentences that say one thing: "Take the lamp ring. Close it round the right leg of hoop 4."."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from hoopwright.parsing.chunk import Chunker
from hoopwright.parsing.lex import lex

_TAKE = re.compile(
    r"^(?:(?:now|then|next|finally|first),? )?(?:take|get|fetch|find|pick)(?: up| out)? "
    r"(?P<what>(?:the |an? |one |two |both |three |four |all )[^,.;:]{2,50}?)\.?$",
    re.IGNORECASE,
)
_PUT = re.compile(
    r"^(?P<verb>(?:(?:now|then|next),? )?[a-z]+) (?:it|them|both(?: of them)?|the two|the pair|all of them)"
    r"(?= (?:on|onto|over|round|around|about|into|in|through|to|across|at|up|down|along|against|beside|near)\b)",
    re.IGNORECASE,
)
_FARTHEST = 2  # "Take the two clamps. They will hold the fan. Put both on the left leg."


def put_together(spans: Iterable[tuple[int, int]], text: str, chunker: Chunker) -> Iterator[tuple[tuple[int, int], str]]:
    """(place in ``text``, words) of each sentence; the piece that one takes up stands in the one that puts it somewhere."""
    told = [(span, text[span[0] : span[1]]) for span in spans]
    merged = {}
    for k, (_, sentence) in enumerate(told):
        taken = _TAKE.match(sentence.strip())
        if taken is None or not _is_fitting(taken["what"], chunker):
            continue
        for j in range(k + 1, min(k + 1 + _FARTHEST, len(told))):
            if (put := _PUT.match(told[j][1])) is not None:
                merged[j] = k, f"{put['verb']} {taken['what']}{told[j][1][put.end() :]}"
                break
    dropped = {k for k, _ in merged.values()}
    for n, (span, sentence) in enumerate(told):
        if n in merged:
            yield span, merged[n][1]
        elif n not in dropped:
            yield span, sentence


def _is_fitting(what: str, chunker: Chunker) -> bool:
    els = [e for e in chunker.elements(lex(re.sub(r"\([^)]*\)", "", what).lower())) if e.type in ("fit", "mem")]
    return len(els) == 1 and els[0].type == "fit" and bool(els[0].parts)
