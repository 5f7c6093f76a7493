"""The line of yarn beside a round: what is left, what is needed, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from server.craft.making.twinwords import at_words
from server.craft.measure.lasting import SOON, Glance, at_a_glance
from server.craft.measure.needing import tails_m, yarn_need
from server.craft.measure.quantities import grams_text, yarn_text
from server.services.notebooks.desk import Desk, noun
from server.services.notebooks.measuring.facts import told
from server.services.notebooks.measuring.reckoning import Reckoned, at_hand, made, metres_of, reckoned

ENOUGH = {"enough": "Enough.", "enough if": "Enough if it goes as expected.", "not enough": "Not enough."}


@dataclass(frozen=True)
class YarnLine:
    """One line. It says after which round it holds, so that it stays true where it is kept.

    state   how many entries the log had
    care    whether the yarn is short, or glove one is about to take more than half
    """

    words: str
    state: int
    care: bool
    kind: Literal["weighed", "reckoned", "none"]


def yarn_line(desk: Desk, piece: int) -> YarnLine:
    """The line for who is at that piece; empty where both are finished, or her numbers are not settled."""
    if desk.making.settled is None or all(desk.making.pieces[each].finished for each in desk.pieces):
        return YarnLine("", desk.state, False, "none")
    state = reckoned(desk, told(desk))
    if state.left_g is None:
        return YarnLine(_without_a_scale(desk, piece, state), desk.state, False, "reckoned")
    short = at_a_glance(at_hand(desk, state, state.left_g), made(desk.version.text, state.by))
    near = short.half is not None and 0 < short.half.ahead <= SOON
    care = short.verdict == "not enough" or near
    return YarnLine(_on_the_scale(desk, piece, state, short, near), desk.state, care, "weighed")


def _on_the_scale(desk: Desk, piece: int, state: Reckoned, short: Glance, near: bool) -> str:
    assert state.left_g is not None
    need, left = max(short.need_g.middle, 0.0), state.left_g
    words = (
        f"{_after(desk, piece)} about {grams_text(left)} of yarn left, {grams_text(need)} needed. "
        f"{ENOUGH[short.verdict]}"
    )
    if near and short.half is not None:
        ahead = "the next round" if short.half.ahead == 1 else f"{short.half.ahead} rounds from here"
        words += f" {noun(desk).capitalize()} one passes half of it {ahead}: stop and weigh."
    return words


def _without_a_scale(desk: Desk, piece: int, state: Reckoned) -> str:
    # The same sum as the yarn page's, ends and joins with it, less what stands.
    whole = yarn_need(
        state.piece, state.calibration, state.by,
        pieces=state.pieces, put_up=state.put_up, units=desk.units,
    ).metres.middle  # fmt: skip
    stand = state.calibration.metres(sum(metres_of(state.piece, spots) for spots in state.worked)).middle
    ends = tails_m(state.piece) * sum(desk.making.pieces[each].finished for each in desk.pieces)
    need = max(whole - stand - ends, 0.0)
    sure = "as weighed" if state.calibration.best in ("glove", "part") else "a guess"
    what = "for both" if state.pieces == 2 else "to the end"
    return f"{_after(desk, piece)} about {yarn_text(need, desk.units)} of yarn still needed {what}, {sure}."


def _after(desk: Desk, piece: int) -> str:
    own = desk.making.pieces[piece]
    if not own.worked:
        return "Before the first round:"
    return f"After {at_words(desk.plan(piece), own.worked[-1])}:"
