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
    if not maybe or len(maybe) == len(texts):
        return frozenset()
    told = [el for n, item in texts if n not in maybe for el in _elements(it, item)]
    counted = {name for el in told if _counts(el) for name in el.parts}
    single = {name for el in told if el.type == "fit" and el.definite and not el.plural for name in el.parts}
    return frozenset(
        n
        for n in maybe
        if not any(el.type == "verb" and not patterns.NEEDS.search(el.low) for el in _elements(it, step.items[n]))
        and all(_repeats(el, counted, single) for el in _elements(it, step.items[n]) if el.type == "fit" and el.amount is not None)
    )


def _headed(item: Item) -> bool:
    """True for a box, or a line headed "Kit", "You will need", "Parts for this step"."""
    head = item.passage.text[:40]
    return item.kind == "callout" and item.signal is None or bool(patterns.NEEDS.search(head.split(":")[0].lower()) and ":" in head)


def _elements(it: Interpreter, item: Item) -> list[El]:
    return it.chunker.elements(lex(it.plainer(item.passage.text)))


def _counts(el: El) -> bool:
    return el.type == "fit" and bool(el.parts) and (el.amount is not None or el.det in ("a", "an", "each", "every", "another"))


def _repeats(el: El, counted: set[str], single: set[str]) -> bool:
    return any(name in counted or (name in single and el.amount is not None and el.amount.value == 1) for name in el.parts)
