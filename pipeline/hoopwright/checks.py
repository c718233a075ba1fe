"""What is checked between the stages: that the documents are in English, that hoops and fittings were found, that named extras exist."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from hoopwright.languages import ENGLISH, OTHERS
from hoopwright.model.document import Document
from hoopwright.model.errors import NotAManual, UsageError
from hoopwright.model.frame import Frame
from hoopwright.model.outline import Outline

_WORD = re.compile(r"[^\W\d_]+")
_LATIN = re.compile(r"[A-Za-z\u00c0-\u024f]")
_FEWEST_WORDS = 30  # a shorter text, a correction slip say, is too short to tell its language
_CLEAR_SHARE = 0.12  # of another language's function words; running text of the listed languages has 0.2 and more
# The tersest English manual of the tests has 0.09; a bare list of parts has next to none, so this tells only for a text of some length.
_ENGLISH_SHARE = 0.02
_RUNNING_TEXT = 200


def check_language(documents: Iterable[Document]) -> None:
    """Raise NotAManual for a document that is clearly in another language than English.

    What counts is the share of common function words among a document's words. A text in two languages passes as long as
    English has at least half as many of them as the other language.
    """
    for document in documents:
        problem = _foreign(document.text)
        if problem is not None:
            raise NotAManual(problem, "give the manual's English version", file=document.name)


def _foreign(text: str) -> str | None:
    words = _WORD.findall(text.lower())
    if len(words) < _FEWEST_WORDS:
        return None
    if sum(bool(_LATIN.match(word)) for word in words) < len(words) / 2:
        return "it is written in a script that is not read"
    english = _share(words, ENGLISH)
    language, most = max(((name, _share(words, common)) for name, common in OTHERS.items()), key=lambda item: item[1])
    if most >= _CLEAR_SHARE and english < most / 2:
        return f"it seems to be in {language}, which is not read"
    if english < _ENGLISH_SHARE and len(words) >= _RUNNING_TEXT:
        return "it seems to be in another language than English"
    return None


def _share(words: Sequence[str], common: str) -> float:
    known = frozenset(common.split())
    return sum(word in known for word in words) / len(words)


def check_frame(frame: Frame) -> None:
    """Raise NotAManual where no hoop was found, or no fitting on any of them."""
    file = frame.outline.documents[0].name
    if not frame.structure.hoops:
        raise NotAManual("no hoop was found in it", "give the manual of a hoop-framed tunnel that says how many hoops it has", file=file)
    if not any(call.hoop is not None for call in frame.calls):
        remedy = "give the manual that says which fittings go on the hoops; 'hoopwright readback' shows what was understood"
        raise NotAManual("no fitting for a hoop was found in it", remedy, file=file)


def left_out(outline: Outline, wanted: Sequence[str]) -> frozenset[str]:
    """The manual's own names of the extras that ``wanted`` names, in any case, whole or in part.

    Raises UsageError, with the extras that there are, for a name that fits none of them or several.
    """
    extras = list(dict.fromkeys(step.option for step in outline.steps if step.option))
    return frozenset(_extra(name, extras) for name in wanted)


def _extra(name: str, extras: Sequence[str]) -> str:
    key = _plain(name)
    fitting = [extra for extra in extras if _plain(extra) == key] or [extra for extra in extras if key and key in _plain(extra)]
    if len(fitting) == 1:
        return fitting[0]
    listed = ", ".join(f"“{extra}”" for extra in fitting or extras)
    if fitting:
        raise UsageError(f"“{name}” fits more than one optional extra", f"choose from {listed}")
    if not extras:
        raise UsageError(f"there is no optional extra “{name}”: the manual has none", "leave --without away")
    raise UsageError(f"there is no optional extra “{name}” in the manual", f"choose from {listed}")


def _plain(name: str) -> str:
    return " ".join(re.findall(r"[^\W_]+", name.lower()))
