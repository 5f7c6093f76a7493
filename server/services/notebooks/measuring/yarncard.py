"""The yarn card: what the pair takes, how surely, whether what is left lasts, and where to stop if not."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from server.craft import making as craft
from server.craft.making.twinwords import at_words
from server.craft.measure.beliefs import Range
from server.craft.measure.hooks import hook_text
from server.craft.measure.lasting import NOTHING_G, Lasting, will_it_last
from server.craft.measure.lengths import Units, weight_text
from server.craft.measure.needing import YarnNeed, yarn_need
from server.craft.measure.quantities import label_text
from server.services.notebooks import fitshapes
from server.services.notebooks.desk import Desk, noun
from server.services.notebooks.measuring.facts import Told, told
from server.services.notebooks.measuring.reckoning import Reckoned, at_hand, made, reckoned

WEIGHED = ("glove", "part", "swatch weighed")


@dataclass(frozen=True)
class YarnCard:
    """The card.

    need       for the whole part, with its range
    yarn       what the yarn is taken to be, in words
    lasting    None where she never weighed what is left
    left       what is left now in words: as weighed, or as it should be since
    needed     grams that are still needed in words; "" without a weight of what is left
    sure       how sure `need` is, in words
    at, spot   the last round of a piece that stands, by name, to weigh with; "" where none does
    taken_back the entry that a press takes back, with its words
    """

    told: Told
    need: YarnNeed
    numbers: str
    yarn: str
    lasting: Lasting | None
    left: str
    needed: str
    sure: str
    left_g: float | None
    weigh: tuple[WeighAt, ...]
    taken_back: tuple[craft.Entry, str] | None


@dataclass(frozen=True)
class WeighAt:
    """A piece that can be weighed: up to which round, and what it weighed there, if it was."""

    piece: int
    name: str
    spot: str
    at: str
    grams: float | None


def yarn_card(desk: Desk) -> YarnCard:
    """The card from all that her notebook knows; complete, if unsure, where that is nothing."""
    known = told(desk)
    state = reckoned(desk, known)
    need = yarn_need(
        state.piece, state.calibration, state.by,
        pieces=state.pieces, put_up=state.put_up, units=desk.units,
    )  # fmt: skip
    lasting = None
    if state.left_g is not None:
        lasting = will_it_last(at_hand(desk, state, state.left_g), made(desk.version.text, state.by))
    back = (known.last, fitshapes.words(known.last.kind, known.last.values)) if known.last else None
    return YarnCard(
        told=known,
        need=need,
        numbers=state.numbers_say,
        yarn=_yarn_words(state, desk.units),
        lasting=lasting,
        left=_left_words(known, state),
        needed=_needed_words(lasting),
        sure=sure_words(need.grams if state.calibration.best in WEIGHED else need.metres),
        left_g=state.left_g,
        weigh=tuple(_weigh_at(desk)),
        taken_back=back,
    )


def _left_words(told: Told, state: Reckoned) -> str:
    if told.left is None or state.left_g is None:
        return ""
    weighed = told.left.values["grams"]
    if abs(weighed - state.left_g) < 0.05:
        return f"{weighed:g} g on the scale."
    return f"About {round(state.left_g)} g: {weighed:g} g on the scale, and the rounds since."


def _needed_words(lasting: Lasting | None) -> str:
    if lasting is None:
        return ""
    if lasting.need_g.high < NOTHING_G:
        return "Nothing more."
    low, high = max(math.floor(lasting.need_g.low), 0), max(math.ceil(lasting.need_g.high), 0)
    return f"About {round(max(lasting.need_g.middle, 0.0))} g; nine times in ten {low} to {high} g."


def _yarn_words(state: Reckoned, units: Units) -> str:
    category = state.category.title if state.category is not None else "not named: taken as for the hook"
    own = state.put_up
    label = f", {weight_text(own.grams)} = {label_text(own.metres, units)}" if own is not None else ""
    return f"{category}{label}; hook {hook_text(state.by.hook_mm)}{', a guess' if state.by.guessed else ''}."


def _weigh_at(desk: Desk) -> Iterable[WeighAt]:
    if desk.making.settled is None:
        return
    for number in desk.pieces:
        own = desk.making.pieces[number]
        if not own.worked:
            continue
        spot = own.worked[-1]
        name = f"{noun(desk)} {('one', 'two')[number - 1]}" if desk.is_pair else "the piece"
        at = "" if own.finished else f"with the rounds up to {at_words(desk.plan(number), spot)}"
        yield WeighAt(number, name, spot, at, own.weights.get(spot))


def sure_words(need: Range) -> str:
    """How sure a range is: "surely" within a tenth either way, "likely" within a quarter, else "a guess"."""
    if need.factor <= 1.25:
        return "quite sure"
    return "likely" if need.factor <= 1.5 else "a guess"
