"""Where a piece is, and its plan with as many rounds to fit as it needs now."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from server.craft.fabric.values import Numbers
from server.craft.making.log import Making
from server.craft.making.shapes import Fit, Plan, PlanRound, PlanSection
from server.craft.text.tree import Pattern, Terms

Planner = Callable[[Pattern, Numbers, Terms], Plan]


@dataclass(frozen=True, slots=True)
class Place:
    """Where a piece is.

    kind     "round": `round` is next. "end fit": glove two has as many rounds here as glove one had;
             `can_end` is that line, and `round` the one that would be more than glove one had. "finish":
             every round stands, she has not said that it is finished. "finished"
    round    the next round; None at "finish" and "finished"
    can_end  rounds to fit that she may end here
    section  the section of the round; the last one at the end
    done     rounds that stand; to_go: rounds that the plan has besides, without the one beyond glove one
    """

    kind: Literal["round", "end fit", "finish", "finished"]
    round: PlanRound | None
    can_end: Fit | None
    section: PlanSection
    done: int
    to_go: int


def piece_plan(
    pattern: Pattern, making: Making, piece: int, terms: Terms = "US", planner: Planner | None = None
) -> Plan:
    """The plan of a piece with as many rounds to fit as it needs now; ValueError where none are settled."""
    raise NotImplementedError


def place(plan: Plan, making: Making, piece: int) -> Place:
    """Where a piece is in its plan."""
    raise NotImplementedError
