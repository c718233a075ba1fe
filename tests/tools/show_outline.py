"""Prints the outline of a manual, to look at: ``python tests/tools/show_outline.py FILE...`` (``--width N`` characters of each item)."""

from __future__ import annotations

import argparse
from collections import defaultdict
from pathlib import Path

from hoopwright.model.errors import HoopwrightError
from hoopwright.model.outline import Item, Outline, Step
from hoopwright.outlining import outline
from hoopwright.reading import read_documents


def item_line(item: Item, width: int) -> str:
    """One line for an item: kind, level, label, signal word, first words; a table by its heads and number of rows."""
    marks = " ".join(
        str(mark) for mark in (item.kind, item.level or "", f"({item.label})" if item.label else "", item.signal or "") if mark
    )
    table = f"{item.table.head} {len(item.table.rows)} rows" if item.table else ""
    return f"{marks}: {item.passage.text[:width]}{table}"


def show(found: Outline, width: int) -> None:
    """Prints sections with their steps, then the parts lists."""
    inside: dict[str, list[Step]] = defaultdict(list)
    for step in found.steps:
        inside[step.section].append(step)
    print(f"title: {found.title}")
    for section in found.sections:
        extra = f" extra={section.option!r}" if section.option else ""
        replaces = f" replaces={section.replaces}" if section.replaces else ""
        print(f"\n{section.id} [{section.level}] {section.role}{extra}{replaces} {section.title!r}")
        for step in inside[section.id]:
            own = f" extra={step.option!r}" if step.option != section.option else ""
            print(f"  {step.id} {step.label or '-'} {step.title or ''}".rstrip() + own)
            for item in step.items:
                print(f"      {item_line(item, width)}")
    print("\nparts")
    for part in found.parts:
        print(
            f"  {part.code or '-':6} {part.name} | {part.size or ''} | {part.quantity} ({part.quantity_text})"
            f" | {part.note} | {part.option or ''}"
        )


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("files", nargs="+", type=Path)
    parser.add_argument("--width", type=int, default=100)
    arguments = parser.parse_args()
    try:
        show(outline(read_documents(arguments.files)), arguments.width)
    except HoopwrightError as error:
        raise SystemExit(str(error)) from None


if __name__ == "__main__":
    main()
