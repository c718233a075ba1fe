"""The steps of the manual: their order, sections and documents, and which of them a printed label means."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property

from hoopwright.model.outline import Outline


class Steps:
    """Looks up steps by id and by label."""

    def __init__(self, outline: Outline) -> None:
        self._ordered = outline.steps
        self._by_id = {s.id: s for s in outline.steps}
        self.index = {s.id: n for n, s in enumerate(outline.steps)}
        self.section = {s.id: s.section for s in self._by_id.values()}

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

    def labelled(self, labels: Iterable[str], step: str) -> set[str]:
        """Step ids of the printed labels that a repeat in ``step`` names ("3", "3..5"), in the same document."""
        labels = tuple(labels)
        by = self._labels.get(self.document(step), {})
        if not any(label.split("..")[0].lower() in by for label in labels):
            by = self._all_labels  # a slip speaks of the steps of another paper
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
    def _all_labels(self) -> dict[str, str]:
        return {s.label.lower().strip("."): s.id for s in self._ordered if s.label}

    @cached_property
    def _labels(self) -> dict[str, dict[str, str]]:
        by: dict[str, dict[str, str]] = {}
        for s in self._ordered:
            if s.label:
                by.setdefault(s.document, {})[s.label.lower().strip(".")] = s.id
        return by
