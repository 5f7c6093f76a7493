"""Where a piece is, and its plan with as many rounds to fit as it needs now."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass
from typing import Literal

from server.craft.fabric.values import Numbers
from server.craft.making.log import Making, Piece
from server.craft.making.planning import plan as plan_of
from server.craft.making.shapes import Fit, Plan, PlanRound, PlanSection
from server.craft.making.standing import fit_as_made, highest, left_behind, open_goal
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
    done     rounds that stand
    to_go    rounds that the plan has besides, without one that is only offered beyond what is to be
    in_fit   how many rounds of the line to fit stand, where the next round is of one
    """

    kind: Literal["round", "end fit", "finish", "finished"]
    round: PlanRound | None
    can_end: Fit | None
    section: PlanSection
    done: int
    to_go: int
    in_fit: int = 0


def piece_plan(
    pattern: Pattern, making: Making, piece: int, terms: Terms = "US", planner: Planner | None = None
) -> Plan:
    """The plan of a piece with as many rounds to fit as it needs now; ValueError where none are settled.

    A line to fit that she is through with has the rounds it was made with. An open one has the pattern's
    number (in glove two: glove one's as made), or one more than stand, so that there is always a round to go
    on with. `planner` makes a plan, `plan` unless said otherwise; give a cached one where plans are asked
    for often.
    """
    hand = making.pieces[piece]
    numbers = hand.numbers or making.settled
    if numbers is None:
        raise ValueError("no numbers are settled yet")
    make = planner or plan_of
    written = make(pattern, Numbers(numbers.foundation, numbers.size), terms)
    aside = written.aside
    needed = {fit.fit: _rounds_needed(fit, making, hand, aside) for fit in written.fits}
    changed = tuple((fit.fit, needed[fit.fit]) for fit in written.fits if needed[fit.fit] != fit.written)
    return make(pattern, Numbers(numbers.foundation, numbers.size, changed), terms) if changed else written


def _rounds_needed(fit: Fit, making: Making, hand: Piece, aside: Collection[int]) -> int:
    made = fit_as_made(hand, fit.fit, aside)
    if made is not None:
        return made
    goal, _ = open_goal(fit, making.pieces[1], hand, aside)
    if left_behind(hand, fit.fit, aside):  # passed over without a round of it
        return goal
    stand = highest(hand, fit.fit)
    return goal if stand < goal else stand + 1


def place(plan: Plan, making: Making, piece: int) -> Place:
    """Where a piece is in its plan (from `piece_plan`): the next round is the first that is not there."""
    hand = making.pieces[piece]
    stand = set(hand.worked)
    missing = [round_ for round_ in plan.rounds if round_.spot not in stand]
    done = len(plan.rounds) - len(missing)
    last = plan.sections[-1]
    if hand.finished or not missing:
        return Place("finished" if hand.finished else "finish", None, None, last, done, 0)
    next_round = missing[0]
    section = next(each for each in plan.sections if each.index == next_round.section)
    fit = plan.fit_at(next_round.fit) if next_round.fit and next_round.fit not in hand.fits_ended else None
    aside = plan.aside
    if fit is None or left_behind(hand, fit.fit, aside):
        return Place("round", next_round, None, section, done, len(missing))
    in_fit = highest(hand, fit.fit)
    goal, as_glove_one = open_goal(fit, making.pieces[1], hand, aside)
    offered = 1 if in_fit >= goal else 0  # the round beyond is offered, not to be made
    kind: Literal["round", "end fit"] = "end fit" if offered and as_glove_one else "round"
    can_end = fit if in_fit >= fit.least else None
    return Place(kind, next_round, can_end, section, done, len(missing) - offered, in_fit)
