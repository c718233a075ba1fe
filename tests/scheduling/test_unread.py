"""Listed parts that no call uses: ``unused`` where the work is silent about them, a question where it is not."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hoopwright.model.frame import Frame
from hoopwright.model.outline import Item, PartsEntry, Passage, Run, Section, Source, Step, Table
from hoopwright.model.schedule import Question, Schedule
from hoopwright.scheduling import ask_of_unread, schedule

from .kits import Kit


def planned(frame: Frame) -> Schedule:
    """The schedule as users get it: what was not understood is asked first."""
    return schedule(ask_of_unread(frame))


def run(text: str, part: str = "cord hook", **more: Any) -> Schedule:
    return planned(stocked(text, part, **more).frame())


def stocked(text: str, part: str = "cord hook", **more: Any) -> Kit:
    kit = Kit()
    kit.part("ridge ring", listed=3, in_list=True)
    kit.part(part, "open", listed=4, in_list=True, **more)
    kit.step("Slide a ridge ring onto every hoop.")
    kit.call("ridge ring", tube=0)
    kit.step(text)
    return kit


def told(result: Schedule) -> tuple[list[str | None], list[str | None]]:
    return [f.fitting for f in result.warnings if f.code == "unused"], [question.fitting for question in result.questions]


@pytest.mark.parametrize(
    ("text", "part", "code"),
    [
        ("Stretch the strings from end to end.", "cord hook", None),
        ("Hang the cord on hooks of your own.", "cord hook", None),
        ("Screw the cord to the hook rail.", "cord hook", "K"),
        ("Recording hooks are not in the kit.", "cord hook", "A"),
        ("Lay the latches aside. A latching door needs none.", "latch plate", None),
        ("Finish with the ridge (see above).", "cord hook", "7"),
    ],
)
def test_a_part_of_which_no_step_speaks_is_unused(text: str, part: str, code: str | None) -> None:
    assert told(run(text, part, code=code)) == ([part], [])


@pytest.mark.parametrize(
    ("text", "part", "code"),
    [
        ("Cord hooks are pressed over the tube wherever the cord sags.", "cord hook", None),
        ("The cord-hook belongs at the ridge.", "cord hook", None),
        ("Using (K), guide the cord along the tubes.", "cord hook", "K"),
        ("Each assembly of the vent is hung beside the pulley assemblies.", "pulley assembly", None),
        ("Two latches keep it shut.", "latch", None),
        ("Push the end boxes in.", "end box", None),
    ],
)
def test_a_part_of_which_a_step_speaks_is_asked_about(text: str, part: str, code: str | None) -> None:
    result = run(text, part, code=code)
    assert told(result) == ([], [part])
    (question,) = result.questions
    assert (question.step, question.about, question.assumed) == ("S2", "quantity", "none counted")
    assert question.source is not None
    assert question.source.quote in text


def test_only_the_sentence_that_names_it_is_cited() -> None:
    (question,) = run("Pull the film taut. Cord hooks hold the cord. Then rest.").questions
    assert question.source is not None
    assert question.source.quote == "Cord hooks hold the cord."


def test_a_question_that_stands_already_is_enough() -> None:
    kit = stocked("Cord hooks hold the cord.")
    kit.questions.append(Question("member", "cord hook", (), "S2", "On what?", (), None))
    assert told(planned(kit.frame())) == ([], ["cord hook"])


def test_lists_captions_and_extras_left_out_do_not_speak_of_the_work() -> None:
    kit = stocked("In the bag: 4 cord hooks.")
    frame = kit.frame()
    step = frame.outline.steps[1]
    run_of = step.items[0].passage.runs[0]
    row = PartsEntry("cord hook", Source("D1", 1, run_of.start, run_of.start + run_of.length, step.text), quantity=4)
    listed = replace(frame, outline=replace(frame.outline, parts=(row,)))
    caption = replace(frame, outline=replace(frame.outline, steps=(frame.outline.steps[0], _as(step, "caption"))))
    tools = Section("B", "D1", "Tools", 1, "tools")
    steps = (frame.outline.steps[0], replace(step, section="B"))
    among_tools = replace(frame, outline=replace(frame.outline, sections=(*frame.outline.sections, tools), steps=steps))
    left_out = replace(frame, order=("S1",))
    for case in (listed, caption, among_tools, left_out):
        assert told(planned(case)) == (["cord hook"], [])


def _as(step: Step, kind: Any) -> Step:
    return replace(step, items=tuple(replace(item, kind=kind) for item in step.items))


def test_a_table_speaks_by_its_heads_and_its_cells() -> None:
    kit = stocked("Left post 2")
    frame = kit.frame()
    step = frame.outline.steps[1]
    passage = step.items[0].passage
    start = passage.runs[0].start
    cells = (Passage("Left post", "D1", (Run(0, start, 9, 1),)), Passage("2", "D1", (Run(0, start + 10, 1, 1),)))
    table = Item("table", Passage("", "D1", passage.runs), table=Table(("Member", "Cord hooks"), (cells,)))
    result = planned(replace(frame, outline=replace(frame.outline, steps=(frame.outline.steps[0], replace(step, items=(table,))))))
    assert told(result) == ([], ["cord hook"])
    source = result.questions[0].source
    assert source is not None
    assert source.quote == "Left post"


def test_what_was_answered_is_not_asked_again() -> None:
    frame = ask_of_unread(stocked("Cord hooks hold the cord.").frame())
    assert told(schedule(replace(frame, questions=()))) == (["cord hook"], [])
