"""Headings and their ranks, roles of sections, optional extras, corrections."""

from __future__ import annotations

import pytest
from hoopwright.model.document import DocumentKind
from hoopwright.outlining import outline
from hoopwright.outlining.roles import extra_of, replaced_steps

from .pages import Print, document, labels, outlined, printed


@pytest.mark.parametrize(
    ("text", "kind", "expected"),
    [
        pytest.param(
            ("# House\n\n## Fitting\n\nSlide.\n\n### Legs\n\nSlide.\n\n## Standing\n\nStand.\n"),
            "markdown",
            [(1, "House"), (2, "Fitting"), (3, "Legs"), (2, "Standing")],
            id="Markdown",
        ),
        pytest.param(
            ("House\n=====\n\nFitting\n-------\n\nSlide.\n\nStanding\n--------\n\nStand.\n"),
            "text",
            [(1, "House"), (2, "Fitting"), (2, "Standing")],
            id="underlined",
        ),
        pytest.param(
            "THE HOUSE\n\nFITTING\n\nSlide.\n\nSTANDING\n\nStand.\n",
            "text",
            [(1, "THE HOUSE"), (2, "FITTING"), (2, "STANDING")],
            id="capitals",
        ),
        pytest.param(
            ("The house\n\nFitting the legs\n\nSlide one clip on.\n\nStanding the hoops\n\nStand them.\n"),
            "text",
            [(1, "The house"), (2, "Fitting the legs"), (2, "Standing the hoops")],
            id="short lines",
        ),
        pytest.param(
            ("THE HOUSE\n\n1. FITTING\n\nSlide one clip on.\n\n1.1 LEGS\n\nSlide it.\n\n2. THE PARTS\n\nCount.\n"),
            "text",
            [(1, "THE HOUSE"), (2, "1. FITTING"), (3, "1.1 LEGS"), (2, "2. THE PARTS")],
            id="numbered",
        ),
        pytest.param(
            ("# House\n\n**Fitting**\n\nSlide one clip on.\n\n**Standing**\n\nStand it.\n"),
            "markdown",
            [(1, "House"), (2, "Fitting"), (2, "Standing")],
            id="bold lines",
        ),
        pytest.param(
            ("HOUSE\nNotes for builders\n\nIt is long.\n\nFITTING\n\nSlide.\n"),
            "text",
            [(1, "HOUSE"), (2, "FITTING")],
            id="subtitle close to the title",
        ),
        pytest.param(
            ("SIDE VENT (only with the vent kit)\nA leaflet\n\nSTEPS\n\n1. Slide.\n"),
            "text",
            [(1, "SIDE VENT (only with the vent kit)"), (2, "STEPS")],
            id="title of a leaflet",
        ),
        pytest.param("Slide one clip on\n\nSlide one ring on\n\nStand the hoop\n", "text", [], id="short lines that follow each other"),
        pytest.param(
            ("THE FRAME IS LONG. IT HAS\nSEVEN HOOPS OF STEEL.\n\nGROUND\n\nDRIVE THE TUBES, AND LEAVE\nTEN INCHES OUT.\n"),
            "text",
            [(1, "GROUND")],
            id="all in capitals",
        ),
    ],
)
def test_headings(text: str, kind: DocumentKind, expected: list[tuple[int, str]]) -> None:
    assert [(section.level, section.title) for section in outlined(text, kind).sections if section.title] == expected


def test_headings_by_size_and_weight() -> None:
    def paragraph(y: float) -> list[Print]:
        return [
            Print(f"Lift the hoop with three helpers and lower it over its tubes{end}", y + n)
            for n, end in enumerate((", then", ", and", "."))
        ]

    prints = [Print("Herb tunnel", 2, size=20.0, bold=True), Print("Standing", 6, size=14.0, bold=True), *paragraph(8)]
    prints += [Print("Legs first", 13, bold=True), *paragraph(15), Print("Joining", 20, size=14.0, bold=True), *paragraph(22)]
    found = outline([printed(prints)])
    assert [(section.level, section.title) for section in found.sections] == [
        (1, "Herb tunnel"),
        (2, "Standing"),
        (3, "Legs first"),
        (2, "Joining"),
    ]


@pytest.mark.parametrize(
    ("text", "roles"),
    [
        pytest.param(
            ("THE HOUSE\n\nIt is long.\n\nPARTS\n\n4 x clip\n2 x ring\n\nFITTING\n\n1. Slide.\n\nCHECK LIST\n\nOne clip each.\n"),
            ["intro", "parts", "build", "summary"],
            id="by heading",
        ),
        pytest.param(
            ("THE HOUSE\n\nSMALL FITTINGS\n\n1. Slide one clip on.\n\n2. Slide one ring on.\n"),
            ["build", "build"],
            id="a parts heading over steps",
        ),
        pytest.param(
            ("THE HOUSE\n\nPARTS\n\n4 x clip\n2 x ring\n\n1. Slide one clip on.\n\n2. Slide one ring on.\n"),
            ["build", "parts", "build"],
            id="steps below a parts list",
        ),
        pytest.param(
            ("THE HOUSE\n\nPARTS\n\n4 x clip\n2 x ring\n\nSTEP 1 - CLIPS\n\nSlide.\n\nSTEP 2 - RINGS\n\nSlide.\n"),
            ["build", "parts", "build"],
            id="steps with headings below a parts list",
        ),
        pytest.param(
            ("THE HOUSE\n\nHOOPS\n\nThis table only sums up the steps. Nothing in it is to be added.\n"),
            ["build", "summary"],
            id="by its first words",
        ),
        pytest.param(
            ("THE HOUSE\n\nLAST LOOK\n\n1. Stick a pad over each joint.\n"), ["build", "build"], id="instructions under a last look"
        ),
        pytest.param("THE HOUSE\n\nLAST LOOK\n\nEach joint shows two screws.\n", ["build", "summary"], id="a last look without steps"),
        pytest.param(
            ("BICYCLE AND TOOL SHELTER\n\nIt is long.\n\nTHE BASE\n\n1. Drive.\n"), ["intro", "build"], id="the title names no role"
        ),
        pytest.param(
            "THE HOUSE\n\nTOOLS\n\nA spanner.\n\nLEGS\n\n1. Slide.\n", ["build", "tools", "build"], id="a role ends with its section"
        ),
    ],
)
def test_roles(text: str, roles: list[str]) -> None:
    assert [section.role for section in outlined(text).sections] == roles


@pytest.mark.parametrize(
    ("title", "name"),
    [
        ("FIRST EXTRA: A STAGING RAIL", "staging rail"),
        ("SECOND EXTRA: ANOTHER DOOR", "another door"),
        ("Optional: side vent kit", "side vent kit"),
        ("9 Extra: crop bars", "crop bars"),
        ("Stage 9: side vents (optional extra)", "side vents"),
        ("If you bought the crop bars", "crop bars"),
        ("SIDE VENT (optional extra)", "side vent"),
        ("Accessory 2 - Shade rail", "shade rail"),
        ("Add-on: storm bracing", "storm bracing"),
        ("Storm brace upgrade kit", "storm brace upgrade kit"),
        ("Optional crop bar kit", "crop bar kit"),
        ("Crop bars, if ordered", "crop bars"),
        ("For kits with side vents", "side vents"),
        ("Optional extras", None),
        ("ACCESSORIES", None),
    ],
)
def test_extras(title: str, name: str | None) -> None:
    extra = extra_of(title)
    assert extra is not None
    assert extra.name is None if name is None else (extra.name or "").lower() == name


@pytest.mark.parametrize(
    "title", ["Extra hoops", "Joining and standing", "If a clip creeps", "The end hoops", "Parts", "The door", "1 The tunnel"]
)
def test_no_extras(title: str) -> None:
    assert extra_of(title) is None


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param(
            ("# T\n\n## Fitting\n\n1. Slide.\n\n## Extra: vents\n\n2. Slide.\n\n### Cranks\n\n3. Fit.\n\n## Cover\n\n4. Pull.\n"),
            [None, "vents", "vents", None],
            id="sections below inherit",
        ),
        pytest.param(
            ("# Side vents (optional extra)\n\n## Parts\n\nNone.\n\n## Steps\n\n1. Slide.\n"),
            ["Side vents", "Side vents"],
            id="whole leaflet",
        ),
        pytest.param(
            ("# T\n\n## Optional extras\n\nThey go on last.\n\n### The staging rail\n\n1. Slide.\n\n### Side vents\n\n2. Slide.\n"),
            [None, "staging rail", "side vents"],
            id="below a general heading",
        ),
        pytest.param(
            ("# T\n\n## Side vents\n\nSkip this section if you did not order them.\n\n1. Slide.\n\n## Cover\n\n2. Pull.\n"),
            ["side vents", "side vents", None],
            id="by its first words",
        ),
        pytest.param(
            ("# T\n\n## Fitting\n\n1. Slide.\n\n2. If you bought the crop bars, slide one clip on.\n\n3. Stand.\n"),
            [None, "crop bars", None],
            id="a single step",
        ),
        pytest.param(
            ("# T\n\n## Fitting\n\n1. If you did not order crop bars, leave out step 2.\n\n2. Slide.\n"),
            [None, None],
            id="a step that only speaks of one",
        ),
    ],
)
def test_extras_of_steps(text: str, expected: list[str | None]) -> None:
    assert [step.option.lower() if step.option else None for step in outlined(text, "markdown").steps] == [
        name.lower() if name else None for name in expected
    ]


@pytest.mark.parametrize(
    ("title", "steps"),
    [
        ("Correction to step 14", ("14",)),
        ("Corrections to steps 4, 6 and 9", ("4", "6", "9")),
        ("Addendum to steps 4 to 7", ("4", "5", "6", "7")),
        ("Amendment to step 3.2", ("3.2",)),
        ("Change notice", ()),
        ("In step 12 read three for two.", ("12",)),
        ("Corrections to steps 3a and 3b", ("3a", "3b")),
    ],
)
def test_steps_that_a_correction_names(title: str, steps: tuple[str, ...]) -> None:
    assert replaced_steps(title) == steps


def test_corrections() -> None:
    found = outlined(
        (
            "# T\n\n"
            "## Fitting\n\n"
            "1. Slide two.\n\n"
            "**Correction slip.** In step 1 read three for two.\n\n"
            "2. Stand.\n\n"
            "## Corrections to step 2\n\n"
            "(a) Stand it slowly.\n"
        ),
        "markdown",
    )
    roles = {section.id: (section.role, section.replaces) for section in found.sections}
    assert [(step.label, *roles[step.section]) for step in found.steps] == [
        ("1", "build", ()), (None, "correction", ("1",)), ("2", "build", ()), ("a", "correction", ("2",)),
    ]  # fmt: skip


def test_a_slip_that_corrects_is_a_correction_throughout() -> None:
    found = outlined("CORRECTION SLIP\n\nRIDGE\n\nIn step 4 read two for one.\n\nPARTS\n\nThe list should show 10 clips.\n")
    assert {section.role for section in found.sections} == {"correction"}


def test_ids_are_unique_over_all_documents() -> None:
    found = outline([document("PART ONE\n\n1. Slide.\n", id="D1"), document("PART TWO\n\n1. Stand.\n", id="D2")])
    steps, sections = [step.id for step in found.steps], [section.id for section in found.sections]
    assert len(set(steps)) == len(steps) == 2 and len(set(sections)) == len(sections)
    assert all(found.section(step.section).document == step.document for step in found.steps)


def test_text_without_headings() -> None:
    found = outlined("1. Slide one clip onto each leg of the hoop.\n\n2. Stand the hoop.\n")
    assert labels(found) == ["1", "2"] and [section.role for section in found.sections] == ["build"]


def test_empty_document() -> None:
    found = outlined("\n")
    assert (found.sections, found.steps, found.parts, found.title) == ((), (), (), "")


EXTRA = "THE TUNNEL\n\nFITTING\n\n1. Slide.\n\nHANGING LINE (OPTIONAL EXTRA)\n\nIn the pack:\n\n- 4 x line ring, closed\n- 8 x line pin\n\n"


@pytest.mark.parametrize(
    "lead",
    ["What to do:", "How to fit it:", "Now:"],
)
def test_work_in_bullets_behind_a_list_is_no_part_of_the_list(lead: str) -> None:
    found = outlined(
        f"{EXTRA}{lead}\n\n- Slide one line ring onto the right leg of hoops 2 to 5.\n- Lock each line ring with two line pins.\n"
    )
    assert [section.role for section in found.sections][-2:] == ["parts", "build"]
    assert [(part.name, part.quantity) for part in found.parts] == [("line ring", 4), ("line pin", 8)]
    assert found.steps[-1].option == "hanging line"
    assert [item.passage.text.split()[0] for item in found.steps[-1].items[1:]] == ["Slide", "Lock"]


def test_more_of_a_list_behind_a_lead_is_still_the_list() -> None:
    found = outlined(f"{EXTRA}From the shop:\n\n- 2 x line hook\n- 1 x line end\n")
    assert found.sections[-1].role == "parts"
    assert [(part.name, part.quantity) for part in found.parts] == [("line ring", 4), ("line pin", 8), ("line hook", 2), ("line end", 1)]
