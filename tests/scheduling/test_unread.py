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


# ---- clamps left over, and far more used than listed -----------------------------------------------------------------------------


def bagged(listed: int, form: Any = "closed", *, used: int = 3, spoken: str = "", name: str = "side clamp", **more: Any) -> Frame:
    """A kit of three hoops of which each gets one of a part, the first ``used - 2``."""
    kit = Kit()
    kit.part(name, form, listed=listed, in_list=True, **more)
    kit.step("Put one on every hoop.")
    kit.call(name, [2, 3], tube=0, when="any-time")
    kit.call(name, [1], tube=0, when="any-time", quantity=used - 2)
    if spoken:
        kit.step(spoken)
    return kit.frame()


def asked(frame: Frame) -> list[tuple[str | None, str | None]]:
    return [(question.fitting, question.assumed) for question in ask_of_unread(frame).questions]


@pytest.mark.parametrize(
    ("listed", "form", "assumed"),
    [
        (4, "closed", "1 spare"),
        (9, "closed", "6 spare"),
        (4, "sleeve", "1 spare"),
        (4, "open", "1 spare"),  # three of four: below the share of what opens
        (6, "fastener", "3 spare"),
    ],
)
def test_what_is_left_over_of_a_listed_part_is_asked_about(listed: int, form: str, assumed: str) -> None:
    frame = bagged(listed, form)
    assert asked(frame) == [("side clamp", assumed)]
    (question,) = ask_of_unread(frame).questions
    assert (question.about, question.step, question.readings) == ("quantity", "S1", (assumed,))
    assert question.source is not None
    assert question.source.quote == "Put one on every hoop."
    assert [finding.code for finding in planned(frame).warnings] == []


@pytest.mark.parametrize(
    "frame",
    [
        bagged(3),
        bagged(5, "fastener"),  # makers pack spare screws
        bagged(6, "open", used=5),
        bagged(4, spoken="One side clamp is spare."),
        bagged(4, spoken="Keep the last clamp for repairs."),
        bagged(4, is_fitting=False),
        bagged(4, option_only="vent"),
        replace(bagged(4), questions=(Question("member", "side clamp", (), "S1", "On what?", (), None),)),
    ],
    ids=["none left", "screws", "few left", "spare", "keep", "no fitting", "extra left out", "asked already"],
)
def test_what_is_left_over_as_usual_is_not_asked_about(frame: Frame) -> None:
    assert [assumed for _, assumed in asked(frame) if assumed is not None] == []


def test_what_no_hoop_takes_is_not_asked_about() -> None:
    kit = Kit()
    kit.part("side clamp", listed=4, in_list=True)
    kit.step("Put two on the rail.")
    kit.call("side clamp", (), member="rail", quantity=2)
    assert asked(kit.frame()) == []


@pytest.mark.parametrize(
    ("listed", "used", "readings"), [(2, 3, ("1 in all",)), (4, 12, ("10 in all", "2 in all")), (1, 40, ("38 in all",))]
)
def test_far_more_than_the_list_has_is_a_question_and_no_shortage(listed: int, used: int, readings: tuple[str, ...]) -> None:
    kit = Kit()
    kit.part("side clamp", listed=listed, in_list=True)
    kit.step("Put one on hoop 2.")
    kit.call("side clamp", [2], tube=0, when="any-time")
    kit.step("Put one on hoop 3.")
    kit.call("side clamp", [3], tube=0, when="any-time")
    kit.step("Put some on hoop 1.")
    kit.call("side clamp", [1], tube=0, when="any-time", quantity=used - 2)
    result = planned(kit.frame())
    assert [finding.code for finding in result.warnings] == []
    (question,) = result.questions
    assert (question.about, question.readings, question.assumed) == ("quantity", readings, readings[0])
    assert f"supplies {listed} × side clamp, but the steps as they were understood use {used}" in question.message


@pytest.mark.parametrize(("listed", "used"), [(4, 5), (20, 29), (3, 4)])
def test_a_few_more_than_the_list_has_are_short(listed: int, used: int) -> None:
    frame = bagged(listed, used=used)
    assert [finding.code for finding in planned(frame).warnings] == ["short"]
    assert asked(frame) == []


def test_once_answered_far_more_is_short() -> None:
    frame = ask_of_unread(bagged(2, used=8))
    assert [finding.code for finding in schedule(frame).warnings] == []
    assert [finding.code for finding in schedule(replace(frame, questions=())).warnings] == ["short"]


def test_a_question_about_its_place_leaves_the_number_to_be_asked() -> None:
    frame = replace(bagged(2, used=8), questions=(Question("position", "side clamp", (), "S1", "Where?", (), None),))
    assert [question.about for question in ask_of_unread(frame).questions] == ["position", "quantity"]
