"""Fit and yarn in a maker's notebook: how many chains, and is there enough."""

from server.services.notebooks.measuring.asking import questions
from server.services.notebooks.measuring.facts import (
    Told,
    is_for_a_hand,
    part_to_measure_for,
    round_to_measure,
    told,
)
from server.services.notebooks.measuring.fitcard import (
    FitCard,
    Neighbour,
    fit_card,
    hook_in_hand,
    recommended,
)
from server.services.notebooks.measuring.others import CakePart, Instead, cake_parts, instead, split
from server.services.notebooks.measuring.yarncard import YarnCard, yarn_card
from server.services.notebooks.measuring.yarnline import YarnLine, yarn_line

__all__ = [
    "CakePart", "FitCard", "Instead", "Neighbour", "Told", "YarnCard", "YarnLine", "cake_parts", "fit_card",
    "hook_in_hand", "instead", "is_for_a_hand", "part_to_measure_for", "questions", "recommended",
    "round_to_measure", "split", "told", "yarn_card", "yarn_line",
]  # fmt: skip
