"""Lists within a step of what the step uses ("KIT: 4 ridge eyes, mallet"), beside the sentences that use it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hoopwright.model.outline import Item, Step
from hoopwright.parsing import patterns
from hoopwright.parsing.elements import El
from hoopwright.parsing.lex import lex

if TYPE_CHECKING:
    from hoopwright.parsing.interpret import Interpreter


def kit_lists(it: Interpreter, step: Step) -> frozenset[int]:
    """Positions among the step's items of lists that only repeat what its sentences use.

    Such a list has no verb, and each fitting that it counts is counted or shared out by a sentence of the same step as well.
    """
    texts = [(n, item) for n, item in enumerate(step.items) if item.kind in ("text", "bullet", "callout") and item.table is None]
    maybe = [n for n, item in texts if _headed(item)]
    if not maybe:
        return frozenset()
    sentences = [item for n, item in texts if n not in maybe] + _behind(it, step)
    told = [el for item in sentences for el in _elements(it, item)]
    counted = {name for el in told if _counts(el) for name in el.parts}
    single = {name for el in told if el.type == "fit" and el.definite and not el.plural for name in el.parts}
    return frozenset(
        n
        for n in maybe
        if not any(el.type == "verb" and not patterns.NEEDS.search(el.low) for el in _behind_the_head(it, step.items[n]))
        and (numbered := [el for el in _elements(it, step.items[n]) if el.type == "fit" and el.amount is not None])
        and all(_repeats(el, counted, single) for el in numbered)
    )


def _behind(it: Interpreter, step: Step) -> list[Item]:
    """The paragraphs behind a labelled step, up to the next label, that belong to it."""
    steps = it.outline.steps
    at = next(n for n, other in enumerate(steps) if other.id == step.id)
    found: list[Item] = []
    for other in steps[at + 1 :]:
        if other.label is not None or other.section != step.section:
            break
        found += [item for item in other.items if item.kind in ("text", "bullet") and item.table is None and not _headed(item)]
    return found


def _headed(item: Item) -> bool:
    """True for a box, or a line headed "Kit", "You will need", "Joining the hoops - parts used"."""
    head, colon, _ = item.passage.text[:90].partition(":")
    return (item.kind == "callout" and item.signal is None) or bool(colon and len(head) < 70 and patterns.NEEDS.search(head.lower()))


def _elements(it: Interpreter, item: Item) -> list[El]:
    return it.chunker.elements(lex(it.plainer(item.passage.text)))


def _behind_the_head(it: Interpreter, item: Item) -> list[El]:
    """The elements of the list itself: "Joining the hoops - parts used:" may have verbs."""
    els = _elements(it, item)
    colon = next((k for k, el in enumerate(els) if el.low == ":"), -1)
    return els[colon + 1 :]


def _counts(el: El) -> bool:
    return el.type == "fit" and bool(el.parts) and (el.amount is not None or el.det in ("a", "an", "each", "every", "another"))


def _repeats(el: El, counted: set[str], single: set[str]) -> bool:
    return any(name in counted or (name in single and el.amount is not None and el.amount.value == 1) for name in el.parts)
