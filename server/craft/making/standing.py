"""What stands of a piece, line by line: how many rounds, and whether she is through with the line."""

from __future__ import annotations

from collections.abc import Collection
from typing import NamedTuple

from server.craft.making.log import Piece
from server.craft.making.shapes import Fit, Plan, PlanRound
from server.craft.making.spots import order, section_of


class Standing(NamedTuple):
    """One line of the pattern in one piece.

    line     its address "section.line"
    rounds   how many rounds of it the piece has: those logged, or the number a line to fit was ended with
    through  nothing more comes in this line: ended, left behind, or the piece is finished
    """

    line: str
    rounds: int
    through: bool


def highest(piece: Piece, line: str) -> int:
    """The highest turn of a line that stands; 0 for none."""
    return piece.highest.get(line, 0)


def left_behind(piece: Piece, line: str, aside: Collection[int] = ()) -> bool:
    """Whether a round of a later line stands, in a section that is worked on top (see `Plan.aside`)."""
    own = section_of(line)
    for other in reversed(piece.lines):
        if order(other) <= order(line):
            return False
        if section_of(other) == own or section_of(other) not in aside:
            return True
    return False


def fit_as_made(piece: Piece, fit: str, aside: Collection[int] = ()) -> int | None:
    """How many rounds a line to fit has in a piece that is through with it; None where it is not."""
    if fit in piece.fits_ended:
        return piece.fits_ended[fit]
    stand = highest(piece, fit)
    return stand if stand and (piece.finished or left_behind(piece, fit, aside)) else None


def rounds_in(piece: Piece, line: str) -> int:
    """How many rounds of a line the piece has: those logged, or the number a line to fit was ended with."""
    if line in piece.fits_ended:
        return piece.fits_ended[line]
    return piece.lines.get(line, 0)


def standing(piece: Piece, plan: Plan, line: str) -> Standing:
    """What stands of a line.

    A section of which nothing stands is not passed over while the piece goes on: edgings and thumb may be
    worked in another order.
    """
    rounds = rounds_in(piece, line)
    if line in piece.fits_ended or piece.finished:
        return Standing(line, rounds, True)
    if section_of(line) not in piece.sections:
        return Standing(line, rounds, False)
    if left_behind(piece, line, plan.aside) and (rounds or _later_in_section(piece, line)):
        return Standing(line, rounds, True)
    planned = plan.lines.get(line, ())
    all_there = bool(planned) and planned[0].fit is None and rounds >= len(planned)
    return Standing(line, rounds, all_there)


def _later_in_section(piece: Piece, line: str) -> bool:
    return any(section_of(other) == section_of(line) and order(other) > order(line) for other in piece.lines)


def hook_at(piece: Piece, spot: str) -> float | None:
    """The hook in mm that a round is made with, as far as it was written down."""
    in_hand = piece.hook_mm
    for at, hook_mm in piece.hook_changes:
        if order(at) <= order(spot):
            in_hand = hook_mm
    return in_hand


def lines_of(*plans: Plan) -> list[str]:
    """The lines that any of the plans has, in working order."""
    lines = list(plans[0].lines)
    if all(each.lines.keys() == plans[0].lines.keys() for each in plans[1:]):
        return lines
    return sorted({line for plan in plans for line in plan.lines}, key=order)


def is_foundation(round_: PlanRound) -> bool:
    """The foundation is made once and not counted among the rounds."""
    return round_.label.startswith("Foundation")


def open_goal(fit: Fit, one: Piece, piece: Piece, aside: Collection[int] = ()) -> tuple[int, bool]:
    """How many rounds an open line to fit is to have, and whether glove one says so.

    Glove two goes by glove one as made; glove one, and glove two where glove one is not through, by the
    pattern.
    """
    made = fit_as_made(one, fit.fit, aside) if piece.number == 2 else None
    return (fit.written, False) if made is None else (made, True)
