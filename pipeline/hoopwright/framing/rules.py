"""Rules of the manual: "each clamp takes two bolts". They are applied when everything else is known."""

from __future__ import annotations

from collections.abc import Iterable

from hoopwright.framing.assembly import Assembly, number
from hoopwright.framing.drafts import Draft
from hoopwright.model.events import Event


def note_rule(assembly: Assembly, event: Event) -> None:
    """Keep a rule for the end; one that corrects a step takes back what that step has made of its part."""
    if event.steps and "*" not in event.steps:
        wanted = assembly.steps.corrected(event.steps, event.step)
        assembly.drafts.forget(assembly.drafts.of_parts(event.parts, wanted))
    assembly.rules.append(event)
    assembly.rule_sequence[id(event)] = assembly.sequence


def apply_rules(assembly: Assembly) -> None:
    """Each fitting brings its own fasteners, once, and these bring theirs."""
    rules, none = _standing(assembly.rules)
    queue = list(assembly.drafts)
    while queue:
        fresh = [x for d in queue for x in _brought(assembly, d, rules.get(d.part, []), none.get(d.part))]
        assembly.drafts.add(fresh)
        queue = fresh


def _standing(rules: Iterable[Event]) -> tuple[dict[str, list[Event]], dict[str, Event]]:
    """By owner, the rules that stand (the one for fewer parts, then the later one, goes before), and the rule that it takes nothing."""
    best: dict[tuple[str, str, tuple[str, ...]], Event] = {}
    none: dict[str, Event] = {}
    for rule in rules:
        for owner in rule.owners:
            if rule.fastener is None:
                none[owner] = rule
                continue
            key = (owner, rule.fastener, rule.within)
            old = best.get(key)
            if old is not None and rule.more:
                best[owner, rule.fastener, ("more", rule.step)] = rule
            elif old is None or len(rule.owners) < len(old.owners) or (len(rule.owners) == len(old.owners) and old.step != rule.step):
                best[key] = rule
                if rule.more:
                    best[owner, rule.fastener, ("more", rule.step)] = rule
    by_owner: dict[str, list[Event]] = {}
    for (owner, _, _), rule in best.items():
        by_owner.setdefault(owner, []).append(rule)
    return by_owner, none


def _brought(assembly: Assembly, d: Draft, rules: list[Event], none: Event | None) -> Iterable[Draft]:
    """What a draft brings by the rules for its part, but for what it has been given already."""
    has = {x.part for x in assembly.drafts.fasteners(d)} if rules else set()
    brought: set[str] = set()
    for rule in rules:
        fastener = rule.fastener
        if fastener is None or fastener in has or fastener == d.part or (fastener in brought and not rule.more):
            continue
        if rule.within and rule.within[0] != "more" and (d.holds is None or d.holds.part not in rule.within):
            continue
        if d.holds is not None and d.event is not None and d.event.kind == "rule" and _given_to(assembly, d.holds, fastener):
            continue  # "a tee takes one bolt and one washer", "each bolt takes a washer": told twice
        if rule.per == "so-far" and d.sequence > assembly.rule_sequence.get(id(rule), 0):
            continue
        if none is not None and len(none.owners) <= len(rule.owners):
            continue
        n = number(rule)
        if n and fastener in _chain(d):
            _ask_round(assembly, rule, d.part)
        elif n:
            brought.add(fastener)  # a rule for all bolts and one for the bolts of this part say the same
            yield Draft(
                fastener,
                n * d.quantity,
                None if rule.member else d.hoop,
                rule.member or d.member,
                rule.step if rule.per == "here" else d.step,
                rule.source,
                d.spot,
                d.place,
                holds=d,
                option=d.option,
                sequence=d.sequence,
                event=rule,
            )


def _given_to(assembly: Assembly, owner: Draft, fastener: str) -> bool:
    """Whether a rule has brought ``fastener`` for the owner itself."""
    return any(x.part == fastener and x.event is not None and x.event.kind == "rule" for x in assembly.drafts.fasteners(owner))


def _chain(d: Draft) -> set[str]:
    """The part of a draft that rules have brought, of what it holds, and so on up to what a sentence has called for."""
    chain = {d.part}
    while d.holds is not None and d.event is not None and d.event.kind == "rule":
        d = d.holds
        chain.add(d.part)
    return chain


def _ask_round(assembly: Assembly, rule: Event, owner: str) -> None:
    """ "Each bolt takes a nut", "each nut takes a bolt": the second adds nothing to what the first has brought."""
    message = f"Each {owner} is said to take {rule.fastener}, and each {rule.fastener} to bring {owner}: are these the same pieces?"
    if not any(q.message == message for q in assembly.questions):
        assembly.ask("quantity", rule.fastener, (), rule, message, ("the same pieces", "further pieces"), "the same pieces")
