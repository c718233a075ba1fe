"""The user's answers and corrections: their file beside the manual, what they do to the frame, and the local page where they are given."""

from hoopwright.reviewing.accepting import accept, accepted
from hoopwright.reviewing.answers import Answer, Answers, AnswersError, Correction, answers_path
from hoopwright.reviewing.apply import Settled, apply
from hoopwright.reviewing.corrections import settle_facts, unbought
from hoopwright.reviewing.listing import answers_used, load_answers
from hoopwright.reviewing.matching import Leftover
from hoopwright.reviewing.store import load

__all__ = [
    "Answer",
    "Answers",
    "AnswersError",
    "Correction",
    "Leftover",
    "Settled",
    "accept",
    "accepted",
    "answers_path",
    "answers_used",
    "apply",
    "load",
    "load_answers",
    "settle_facts",
    "unbought",
]
