"""``schedule.json``: what the tool promises to other programs. Every dictionary is checked before it is written."""

from __future__ import annotations

import json
from functools import cache
from typing import TYPE_CHECKING, Any

from hoopwright.model.outline import Source
from hoopwright.model.schedule import DocumentInfo, Finding, PartBalance, Placement, Question, Schedule, StepInfo, Structure

if TYPE_CHECKING:
    from jsonschema.protocols import Validator

SCHEMA_NAME = "hoopwright/schedule/1"
SCHEMA_FILE = "schedule.schema.json"

Json = dict[str, Any]


class ScheduleFormatError(ValueError):
    """A schedule that breaks the promised format: a fault of the tool, never of the user's manual."""


def to_dict(schedule: Schedule) -> Json:
    """The schedule file as plain dictionaries and lists: lengths in millimetres, unknown is None."""
    return {
        "schema": SCHEMA_NAME,
        "documents": [_document(document) for document in schedule.documents],
        "structure": _structure(schedule.structure),
        "steps": [_step(step) for step in schedule.steps],
        "placements": [_placement(placement) for placement in schedule.placements],
        "counts": {hoop: dict(row) for hoop, row in schedule.counts.items()},
        "elsewhere": {member: dict(row) for member, row in schedule.elsewhere.items()},
        "before_joining": {hoop: dict(row) for hoop, row in schedule.before_joining.items()},
        "parts": [_part(part) for part in schedule.parts],
        "warnings": [_warning(finding) for finding in schedule.warnings],
        "questions": [_question(question) for question in schedule.questions],
    }


def _document(document: DocumentInfo) -> Json:
    return {"id": document.id, "name": document.name, "pages": document.pages, "sha256": document.sha256}


def _structure(structure: Structure) -> Json:
    return {
        "hoops": [{"id": hoop.id, "role": hoop.role, "station_mm": hoop.station_mm} for hoop in structure.hoops],
        "width_mm": structure.width_mm,
        "height_mm": structure.height_mm,
        "length_mm": structure.length_mm,
        "spacing_mm": structure.spacing_mm,
        "sections_per_hoop": structure.sections_per_hoop,
        "shape": structure.shape,
    }


def _step(step: StepInfo) -> Json:
    return {
        "id": step.id,
        "document": step.document,
        "label": step.label,
        "section": step.section,
        "option": step.option,
        "page": step.page,
        "text": step.text,
    }


def _source(source: Source) -> Json:
    return {"document": source.document, "page": source.page, "quote": source.quote}


def _placement(placement: Placement) -> Json:
    return {
        "id": placement.id,
        "fitting": placement.fitting,
        "code": placement.code,
        "quantity": placement.quantity,
        "hoop": placement.hoop,
        "member": placement.member,
        "section": placement.section,
        "side": placement.side,
        "datum": placement.datum,
        "offset_mm": placement.offset_mm,
        "along_mm": placement.along_mm,
        "when": placement.when,
        "thread_order": placement.thread_order,
        "step": placement.step,
        "source": _source(placement.source),
        "option": placement.option,
        "assumed": list(placement.assumed),
    }


def _part(part: PartBalance) -> Json:
    return {"fitting": part.fitting, "code": part.code, "listed": part.listed, "needed": part.needed, "difference": part.difference}


def _warning(finding: Finding) -> Json:
    return {
        "id": finding.id,
        "code": finding.code,
        "fitting": finding.fitting,
        "hoops": list(finding.hoops),
        "steps": list(finding.steps),
        "message": finding.message,
        "advice": finding.advice,
    }


def _question(question: Question) -> Json:
    return {
        "id": question.id,
        "about": question.about,
        "fitting": question.fitting,
        "hoops": list(question.hoops),
        "step": question.step,
        "message": question.message,
        "readings": list(question.readings),
        "assumed": question.assumed,
    }


@cache
def validator() -> Validator:
    """The compiled check against ``schedule.schema.json`` (JSON Schema, draft 2020-12)."""
    from importlib.resources import files

    from jsonschema import Draft202012Validator

    schema = json.loads((files(__package__) / SCHEMA_FILE).read_text(encoding="utf-8"))
    # Looking up a reference for each of some hundred placements takes half of the time; the schema has no loops.
    return Draft202012Validator(_without_references(schema, schema["$defs"]))


def _without_references(node: Any, definitions: Json) -> Any:
    """The schema with every ``#/$defs/`` reference replaced by what it stands for."""
    if isinstance(node, dict):
        if "$ref" in node:
            return _without_references(definitions[node["$ref"].removeprefix("#/$defs/")], definitions)
        return {key: _without_references(value, definitions) for key, value in node.items() if key != "$defs"}
    return [_without_references(item, definitions) for item in node] if isinstance(node, list) else node


def check(data: Json) -> None:
    """Raise ``ScheduleFormatError`` with the place of the first fault if ``data`` breaks the schema."""
    for error in validator().iter_errors(data):
        where = "/".join(str(part) for part in error.absolute_path) or "top level"
        raise ScheduleFormatError(f"schedule.json, {where}: {error.message[:300]}")


def to_json(schedule: Schedule) -> str:
    """The checked schedule file as text, indented, ending in a newline."""
    data = to_dict(schedule)
    check(data)
    # Half of a surrogate pair can come out of a broken PDF; no UTF-8 file can hold it.
    return json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False).encode("utf-8", "replace").decode("utf-8") + "\n"
