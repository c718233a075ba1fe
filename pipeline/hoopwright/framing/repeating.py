"""Work that is done again: on other hoops, on the other side, as in steps that the manual names."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from hoopwright.framing.assembly import Assembly, names
from hoopwright.framing.drafts import Draft, Group, in_order
from hoopwright.model.events import Event, Place, Selector
from hoopwright.model.frame import ActKind
from hoopwright.model.schedule import Side

_OTHER_SIDE: dict[str | None, Side | None] = {"left": "right", "right": "left", "centre": "centre", None: None}
_FEW = 3  # "do the same on hoop 6" still speaks of a step that so many others of its section stand between


@dataclass(frozen=True, slots=True)
class Original:
    """What is done again: the drafts of some groups that share none, or of those of their hoops that ``only`` names."""

    groups: tuple[Group, ...]
    only: Collection[int | None] | None = None

    def hoops(self) -> set[int]:
        """The hoops that have some of it."""
        found: set[int | None] = set().union(*(group.by_hoop for group in self.groups))
        if self.only is not None:
            found.intersection_update(self.only)
        return {hoop for hoop in found if hoop is not None}

    def on(self, hoop: int) -> list[Draft]:
        """What one hoop has of it."""
        return in_order(group.by_hoop.get(hoop, {}) for group in self.groups)

    def parts(self) -> list[str]:
        """Its parts in the order of their first drafts, whatever the hoop."""
        first: dict[str, int] = {}
        for group in self.groups:
            for part, bucket in group.by_part.items():
                first[part] = min(next(iter(bucket)), first.get(part, next(iter(bucket))))
        return sorted(first, key=lambda part: first[part])

    def drafts(self) -> list[Draft]:
        """All of it, whatever the hoop."""
        if self.only is None:
            return in_order(group.all for group in self.groups)
        return in_order(group.by_hoop.get(hoop, {}) for group in self.groups for hoop in self.only)


def repeat(assembly: Assembly, event: Event) -> None:
    """Carry out a "copy"."""
    original = _original(assembly, event)
    if original is None:
        if event.hoops is not None:
            _repeat_acts(assembly, event, assembly.hoops(event))
        return
    if event.doubts:
        assembly.ask_doubts(event, names(assembly.hosts.hoops(event.hoops)))
    if event.side and event.hoops is None:
        _mirror(assembly, original.drafts())
        return
    if event.side and event.hoops is not None and event.hoops.kind == "except":
        only = set(assembly.hoops(event))  # "the right side, by the same rule, except that hoops 10 and 11 are left out"
        _mirror(assembly, [d for d in original.drafts() if d.hoop in only])
        return
    have = original.hoops()
    targets = _targets(assembly, event.hoops, have)
    assembly.mentioned[event.step].update(targets)
    flip = event.hoops is not None and event.hoops.kind == "far" and len(have) > 1
    if not flip:
        _ask_which_goes_where(assembly, event, original, targets, have)
    made: list[Draft] = []
    left_out = frozenset() if event.doubts else frozenset(event.parts)  # "as 4.2, but without the strut eyes"
    named = event.hoops is not None and event.hoops.kind in ("numbers", "first", "last")
    for target, source in _sources(targets, have, assembly.hosts.n if flip else None, named):
        made += _twins(assembly, event, (d for d in original.on(source) if d.part not in left_out), target)
    made += _on_members_again(assembly, event, original, targets, left_out)
    assembly.drafts.add(made)
    assembly.groups[event.group].append(made)
    _repeat_acts(assembly, event, targets)


def _targets(assembly: Assembly, selector: Selector | None, have: set[int]) -> tuple[int, ...]:
    """The hoops on which it is done again."""
    if selector is not None and selector.kind == "rest":
        return tuple(h for h in assembly.hosts.hoops(None) if h not in have)
    return assembly.hosts.hoops(selector, have)


def _sources(targets: tuple[int, ...], have: set[int], mirrored_among: int | None, named: bool = False) -> list[tuple[int, int]]:
    """(hoop, hoop that it is done like) for every hoop that does not have it yet. ``mirrored_among``: so many hoops, from the other end.

    Hoops that are ``named`` and have some of it already get the rest.
    """
    if not have:
        return []
    first = min(have)
    fresh = [target for target in targets if target not in have]
    if named and not fresh and have - set(targets):
        return [(target, min(have - set(targets))) for target in targets]
    if mirrored_among is not None:
        return [(target, other if (other := mirrored_among + 1 - target) in have else first) for target in fresh]
    if len(targets) == len(have) > 1 and len(fresh) == len(targets):
        return list(zip(targets, sorted(have), strict=True))
    return [(target, first) for target in fresh]


def _ask_which_goes_where(assembly: Assembly, event: Event, original: Original, targets: tuple[int, ...], have: set[int]) -> None:
    """ "Repeat steps 1 to 3 on hoops 5 and 6", where those steps speak of more or fewer hoops."""
    if not event.steps or len(have) <= 1 or len(have) == len(targets) or have.issubset(targets):
        return
    if event.hoops is None or event.hoops.kind in ("rest", "all", "except"):
        return
    for part in original.parts():
        message = f"What is repeated stands on {len(have)} hoops, what is named here is {len(targets)}: which {part} goes where?"
        assembly.ask("reference", part, names(targets), event, message)


def _twins(assembly: Assembly, event: Event, drafts: Iterable[Draft], target: int) -> list[Draft]:
    """The drafts of one hoop on another, but for what it has already by the same step."""
    twins: dict[int, Draft] = {}
    for d in drafts:
        present = assembly.drafts.on_hoop(d.part, target)
        if any(x.step == d.step and x.side == d.side and x.spot == d.spot for x in present):
            continue
        twins[id(d)] = replace(
            d,
            hoop=target,
            place=event.places[0] if len(event.places) == 1 else d.place,
            assumed=list(d.assumed),
            holds=twins.get(id(d.holds)) if d.holds is not None else None,
        )
    return list(twins.values())


def _on_members_again(
    assembly: Assembly, event: Event, original: Original, targets: tuple[int, ...], left_out: Collection[str]
) -> list[Draft]:
    """What named steps have put on other members, once more: the door posts at the far end get what those at the near end have.

    "Repeat steps 2 to 4 at hoop 9" speaks of one doorway more. What every such member has got at once ("each ground tube") is not put
    on again, and nothing is of which the parts list has no more.
    """
    have = original.hoops()
    if not event.steps or event.hoops is None or not targets or have.intersection(targets) or len(have) > 1:
        return []
    again: list[Draft] = []
    spoken_for: Counter[str] = Counter()
    for d in original.drafts():
        if d.hoop is not None or d.part in left_out or d.step == event.step:
            continue
        wanted = d.quantity * len(targets)
        left = assembly.left(d.part)
        if left is not None and left - spoken_for[d.part] < wanted:
            continue
        spoken_for[d.part] += wanted
        again.append(replace(d, quantity=wanted, assumed=list(d.assumed)))
    return again


# ---- what is meant ----------------------------------------------------------------------------------------------------------


def _original(assembly: Assembly, event: Event) -> Original | None:
    """What an event asks to be done again; None where there is nothing of it."""
    drafts, steps = assembly.drafts, assembly.steps
    if event.steps:
        return _if_any(drafts.of_step[step] for step in steps.labelled(event.steps, event.step))
    section = steps.section[event.step]
    if event.like is not None:
        return _like(assembly, event.like, event.step)
    if drafts.of_step[event.step].all:
        return Original((drafts.of_step[event.step],))
    last = drafts.last_step(section, on_hoops=not event.side)
    if last is None:
        return None
    if event.side and event.hoops is None:
        return Original((_last_run(assembly, section),))
    if event.doubts:
        return Original((drafts.of_step[last],))
    whole = drafts.of_section[section]
    if steps.label(event.step) is None:
        return Original((whole,))
    if not steps.few_between(steps.index[last], steps.index[event.step], section, _FEW):
        return None
    return Original((whole,), frozenset(drafts.of_step[last].by_hoop))


def _if_any(groups: Iterable[Group]) -> Original | None:
    found = tuple(group for group in groups if group.all)
    return Original(found) if found else None


def _like(assembly: Assembly, selector: Selector, step: str) -> Original | None:
    """What some hoops have had in this section, else in this document."""
    drafts, document = assembly.drafts, assembly.steps.document(step)
    hoops = assembly.hosts.hoops(selector)
    whole = drafts.of_section[assembly.steps.section[step]]
    if any(hoop in whole.by_hoop for hoop in hoops):
        return Original((whole,), frozenset(hoops))
    on_hoops = in_order(drafts.every.by_hoop.get(hoop, {}) for hoop in hoops)
    return _if_any([Group(d for d in on_hoops if assembly.steps.document(d.step) == document)])


def _last_run(assembly: Assembly, section: str) -> Group:
    """The last drafts of a section, as far back as they are on the hoops that its last event has dressed."""
    whole = assembly.drafts.of_section[section]
    last = next(reversed(whole.all.values()))
    hoops = {d.hoop for d in assembly.drafts.of_sequence(last.sequence) if d.serial in whole.all}
    run: list[Draft] = []
    for d in reversed(whole.all.values()):
        if d.hoop not in hoops:
            break
        run.append(d)
    return Group(reversed(run))


# ---- the other side -----------------------------------------------------------------------------------------------------------


def _mirror(assembly: Assembly, drafts: list[Draft]) -> None:
    """Every draft that has a side, on the other side of its hoop; on other members, all of them once more."""
    if drafts and all(d.hoop is None for d in drafts):
        assembly.drafts.add([replace(d, assumed=list(d.assumed)) for d in drafts])
        return
    twins: dict[int, Draft] = {}
    for d in drafts:
        side = _OTHER_SIDE[d.side]
        present = assembly.drafts.on_hoop(d.part, d.hoop)
        if d.side in (None, "centre") or any(x.side == side and _offset(x.place) == _offset(d.place) for x in present):
            continue
        twins[id(d)] = _mirrored(assembly, d, twins.get(id(d.holds)) if d.holds is not None else None)
    assembly.drafts.add(twins.values())


def _mirrored(assembly: Assembly, d: Draft, holds: Draft | None) -> Draft:
    tubes, joints = len(assembly.hosts.tubes), assembly.hosts.joints
    spot = replace(
        d.spot,
        side=_OTHER_SIDE[d.side],
        tube=None if d.spot.tube is None else tubes - 1 - d.spot.tube,
        joint=None if d.spot.joint is None else joints - 1 - d.spot.joint,
    )
    place = replace(d.place, side=_OTHER_SIDE.get(d.place.side)) if d.place is not None and d.place.side else d.place
    return replace(d, spot=spot, place=place, assumed=list(d.assumed), holds=holds)


def _offset(place: Place | None) -> float | None:
    return place.offset_mm if place is not None else None


# ---- acts ---------------------------------------------------------------------------------------------------------------------


def _repeat_acts(assembly: Assembly, event: Event, targets: tuple[int, ...]) -> None:
    """Join, stand or fix these hoops, too, if that is part of what is done again."""
    if event.steps:
        logs = [assembly.acts_of_step[step] for step in assembly.steps.labelled(event.steps, event.step)]
    else:
        logs = [assembly.acts_of_section[assembly.steps.section[event.step]]]
    wanted = frozenset(targets)
    first: dict[ActKind, int] = {}
    for log in logs:
        for kind, done in log.items():
            place = next((place for place, hoops in done if not wanted <= hoops), None)
            if place is not None:
                first[kind] = min(place, first.get(kind, place))
    for kind in sorted(first, key=lambda kind: first[kind]):
        if event.act not in ("join", "stand") or (kind == "stand") == (event.act == "stand"):
            assembly.do(kind, targets, event)
