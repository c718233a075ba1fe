"""What an answer is filed under: the sentence, freed from what an edited manual changes, and what was asked."""

from __future__ import annotations

import hashlib
import re
import unicodedata
from collections.abc import Iterable
from dataclasses import replace

from hoopwright.model.outline import Outline
from hoopwright.model.schedule import Question

_LABEL = re.compile(
    r"^\s*(?:(?:step|stage)\s+\w{1,4}\s*[.:)\-–—]*\s+|\(?\d{1,3}(?:\.\d{1,3})*\s*[a-z]?[.):]\s+|\(?[a-z][.)]\s+|[•\-–—*]\s+|\d{1,3}(?:\.\d{1,3})+\s+)",
    re.IGNORECASE,
)
# "as in step 12", "repeat steps 3 to 5 and 7b": the numbers move when a step is put in, the sense does not.
_REFERENCE = re.compile(
    r"\b(steps?|pages?|p\.|stages?)\s+\(?\d+(?:\.\d+)*[a-z]?\)?(?:(?:\s*,\s*|\s*[-–—]\s*|\s+(?:and|to|or|through)\s+)\(?\d+(?:\.\d+)*[a-z]?\)?)*",
    re.IGNORECASE,
)
_NUMBER = re.compile(r"\d+(?:[.,/]\d+)*")
_COUNTS = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen sixteen twenty "
    "single pair both none no each every"
)


def normalised(sentence: str) -> str:
    """The sentence for comparing: one blank between words, lower case, without step labels and the numbers of steps and pages."""
    text = unicodedata.normalize("NFKC", sentence).replace("\u00ad", "").casefold()
    text = " ".join(text.split())
    while True:
        shorter = _LABEL.sub("", text, count=1)
        if shorter == text or not shorter:
            break
        text = shorter
    return _REFERENCE.sub(lambda found: f"{found[1].rstrip('s')} #", text).strip(" .;,:")


def numbers_in(sentence: str) -> tuple[str, ...]:
    """Every number and counting word: two sentences that differ in one of them do not say the same."""
    text = normalised(sentence)
    counting = _COUNTS.split()
    return tuple(_NUMBER.findall(text)) + tuple(word for word in re.findall(r"[a-z]+", text) if word in counting)


def sentence_of(question: Question) -> str:
    """The words that the question stands on; its message where it has no sentence."""
    return question.source.quote if question.source is not None else question.message


def identity(sentence: str, about: str, fitting: str | None) -> tuple[str, str, str]:
    """What makes two answers answers to the same question."""
    return normalised(sentence), about, " ".join((fitting or "").casefold().split())


def section_of(outline: Outline, step: str | None) -> str:
    """The title of the section that a step stands under, ``""`` if unknown."""
    section = next((each.section for each in outline.steps if each.id == step), None)
    return next((each.title for each in outline.sections if each.id == section), "")


def keyed(questions: Iterable[Question], outline: Outline) -> tuple[Question, ...]:
    """The questions, equal ones once, each with its key.

    A key reads ``quantity-film-strap-7c1f0a2e``. Where the same sentence asks the same twice (a cell of a table, say), the section's
    title goes into it too, and the place among those that still look alike.
    """
    unique = list(dict.fromkeys(replace(question, id="", key="") for question in questions))
    seen: dict[tuple[str, ...], int] = {}
    out = []
    for question in unique:
        mine = identity(sentence_of(question), question.about, question.fitting)
        alike = sum(identity(sentence_of(other), other.about, other.fitting) == mine for other in unique)
        whole: tuple[str, ...] = mine if alike == 1 else (*mine, normalised(section_of(outline, question.step)))
        seen[whole] = seen.get(whole, 0) + 1
        digest = hashlib.sha256("\n".join((*whole, str(seen[whole]) if seen[whole] > 1 else "")).encode("utf-8")).hexdigest()[:8]
        name = re.sub(r"[^a-z0-9]+", "-", f"{question.about} {question.fitting or ''}".casefold()).strip("-")[:48].rstrip("-")
        out.append(replace(question, key=f"{name}-{digest}"))
    return tuple(out)
