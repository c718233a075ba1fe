"""What goes wrong with the text recogniser. Kept apart from it, for files with a text layer do without numpy."""

from __future__ import annotations


class RecogniserError(Exception):
    """The recogniser is missing, or failed. ``problem`` and ``remedy`` are for the user."""

    def __init__(self, problem: str, remedy: str) -> None:
        super().__init__(problem)
        self.problem = problem
        self.remedy = remedy
