"""The steps of the manual: their order, sections and documents, and which of them a printed label means."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from hoopwright.model.outline import Outline, Step


class Steps:
    """Looks up steps by id and by label."""

    def __init__(self, outline: Outline) -> None:
        self._ordered = outline.steps
        self._by_id = {s.id: s for s in outline.steps}
        self.index = {s.id: n for n, s in enumerate(outline.steps)}
        self.section = {s.id: s.section for s in self._by_id.values()}
        roles = {section.id: section.role for section in outline.sections}
        self.correcting = frozenset(s.id for s in outline.steps if roles.get(s.section) == "correction")

    def document(self, step: str) -> str:
        """The document of a step."""
        return self._by_id[step].document

    def label(self, step: str) -> str | None:
        """The printed label of a step, None if it has none."""
        return self._by_id[step].label

    def id_at(self, index: int) -> str:
        """The step at a place in the order."""
        return self._ordered[index].id

    def few_between(self, first: int, last: int, section: str, most: int) -> bool:
        """Whether no more than ``most`` steps of a section stand between two places in the order."""
        count = 0
        for n in range(first + 1, last):
            count += self._ordered[n].section == section
            if count > most:
                return False
        return True

    def corrected(self, labels: Iterable[str], step: str) -> set[str]:
        """Step ids of the printed labels that a correction in ``step`` is about: of the work, not of the slip itself."""
        return {id for id in self.labelled(labels, step, self._work) if id not in self.correcting}

    def labelled(self, labels: Iterable[str], step: str, among: dict[str, dict[str, str]] | None = None) -> set[str]:
        """Step ids of the printed labels that a repeat in ``step`` names ("3", "3..5"), in the same document."""
        labels = tuple(labels)
        if "*" in labels:
            return {s.id for s in self._ordered[: self.index[step]]}  # a correction that names no step: whichever it was
        known = self._labels if among is None else among
        by = known.get(self.document(step), {})
        if not any(label.split("..")[0].lower() in by for label in labels):
            # a slip speaks of the steps of another paper
            by = {label: id for labelled in known.values() for label, id in labelled.items()}
        out: set[str] = set()
        for label in labels:
            if ".." in label:
                a, b = (by.get(x.lower()) for x in label.split("..", 1))
                if a and b:
                    lo, hi = sorted((self.index[a], self.index[b]))
                    out |= {s.id for s in self._ordered[lo : hi + 1]}
            elif label.lower() in by:
                out.add(by[label.lower()])
        return out

    @cached_property
    def _labels(self) -> dict[str, dict[str, str]]:
        return self._by_document(self._ordered)

    @cached_property
    def _work(self) -> dict[str, dict[str, str]]:
        return self._by_document(s for s in self._ordered if s.id not in self.correcting)

    @staticmethod
    def _by_document(steps: Iterable[Step]) -> dict[str, dict[str, str]]:
        by: dict[str, dict[str, str]] = {}
        for s in steps:
            if s.label:
                by.setdefault(s.document, {})[s.label.lower().strip(".")] = s.id
        return by
