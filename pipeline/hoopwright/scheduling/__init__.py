"""From the frame to the schedule: placements, counts, what goes on first, what cannot be done as written.

Requires a ``Frame`` whose calls are resolved to hoops and places; assigns everything of ``Schedule``.
"""

from __future__ import annotations

from hoopwright.scheduling.assemble import schedule
from hoopwright.scheduling.codes import CODES, describe
from hoopwright.scheduling.unread import ask_of_unread

__all__ = ["CODES", "ask_of_unread", "describe", "schedule"]
