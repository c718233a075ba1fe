"""A fitting that a sentence calls for: on the hoops, on another member, or as what fastens another fitting."""

from __future__ import annotations

from hoopwright.framing.assembly import Assembly, names_of
from hoopwright.framing.drafts import Draft
from hoopwright.framing.dressing import dress
from hoopwright.framing.fastening import fasten
from hoopwright.framing.members import put_on_member
from hoopwright.model.events import Event


def add(assembly: Assembly, event: Event, called: bool = False) -> None:
    """Carry out an "add". ``called``: it is a row of a table that a step calls for, so it cannot be something said again."""
    if not event.parts:
        return
    group = assembly.groups[event.group]
    assembly.owners_of[event.group, len(group)] = event.parts[0]
    numberless = event.amount is None or event.amount.value is None
    if event.definite and numberless and not called and _spoken_of(assembly, event):
        group.append([])
        return
    part = assembly.parts[event.parts[0]]
    made: list[Draft]
    if event.holds is not None:
        made = fasten(assembly, event, part)
    elif event.member is not None:
        made = put_on_member(assembly, event, part)
    else:
        made = dress(assembly, event, part, called)
    group.append(made)
    assembly.ask_doubts(event, names_of(made))
    for draft in made:
        draft.assumed.extend(doubt.message for doubt in event.doubts)


def _spoken_of(assembly: Assembly, event: Event) -> bool:
    """ "these bolts", "the clips": whether they are on already, or come with what they fasten."""
    if assembly.parts[event.parts[0]].form == "fastener" and any(f in event.parts for f in assembly.rule_fasteners):
        return True
    return len(event.parts) > 1 and assembly.drafts.has_any(event.parts)
