"""The fit card: how many chains for her hand, hook and yarn, what that goes by, and what round one says."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sqlmodel import Session

from server.craft import making as craft
from server.craft.making import worn
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.fitting import Choice, FitAnswer, choice, recommend
from server.craft.measure.hands import Hand
from server.craft.measure.hooks import hook_text
from server.craft.measure.lengths import gauge_text, length_text
from server.craft.measure.namedsizes import NamedSize, size_for
from server.craft.measure.quantities import percent_text
from server.craft.measure.roundone import RoundOne, after_round_one
from server.craft.measure.stated_yarn import hook_at
from server.craft.measure.updating import gauge_range
from server.services.notebooks import fitshapes
from server.services.notebooks.desk import Desk
from server.services.notebooks.measuring.facts import (
    Told,
    category_of,
    ease_of,
    hand_of,
    is_for_a_hand,
    put_up_of,
    request_of,
    told,
    told_with_hand,
)

__all__ = ["FitCard", "Neighbour", "Seen", "fit_card", "hook_in_hand", "put_up_of"]


@dataclass(frozen=True)
class Neighbour:
    """A count in the table of the answer: `way` is where it stands to the recommended one.

    around, ease   with their units: "18 cm", "−2.5 cm"
    share          the ease in per cent
    chance         of 100, how often it comes out right
    """

    way: Literal["down", "here", "up"]
    choice: Choice
    around: str
    ease: str
    share: str
    chance: int


@dataclass(frozen=True)
class Seen:
    """One thing that was tried on, felt or measured, in words."""

    says: str


@dataclass(frozen=True)
class FitCard:
    """The card.

    for_a_hand   False: the part is not worn on a hand, and nothing is recommended
    answer       None where the pattern begins in a ring, its rows go around, or it is not for a hand
    rows_around  whether its chain is how long it is, and its rows go around
    named        the size that a pattern from a ring has for her hand
    rows         the recommended count and its neighbours, smallest first
    hand, gauge  what is gone by, in words; `guessed_*` where she has told neither
    ease         how close it shall fit, in words; smaller_percent the same as a number
    settled      her own number as the same figures have it; None before
    after        what round one asks for, where it was said how it feels at her number
    taken_back   the entry that a press takes back, with its words
    """

    for_a_hand: bool
    told: Told
    answer: FitAnswer | None = None
    named: NamedSize | None = None
    rows_around: bool = False
    rows: tuple[Neighbour, ...] = ()
    hand: str = ""
    gauge: str = ""
    ease: str = ""
    smaller_percent: int = 0
    guessed_hand: bool = True
    guessed_gauge: bool = True
    seen: tuple[Seen, ...] = ()
    reasons: tuple[str, ...] = ()
    rounds: tuple[str, ...] = ()
    settled: Neighbour | None = None
    after: RoundOne | None = None
    taken_back: tuple[craft.Entry, str] | None = None


def fit_card(session: Session, desk: Desk) -> FitCard:
    """The card from all that her notebook knows; complete, if unsure, where that is nothing."""
    told = told_with_hand(session, desk)
    back = (told.last, fitshapes.words(told.last.kind, told.last.values)) if told.last else None
    if not is_for_a_hand(desk):
        return FitCard(False, told, taken_back=back)
    hand = hand_of(told.hand)
    request = request_of(desk, told, hook_in_hand(desk))
    if request is None:
        header = desk.pattern.header
        named = size_for(header.sizes, header.fits_cm, hand, desk.units)
        return FitCard(
            True,
            told,
            named=named,
            rows_around=worn.chain_goes_along(desk.pattern),
            hand=_hand_words(desk, told, hand),
            guessed_hand=told.hand is None,
            taken_back=back,
        )
    answer = recommend(request)
    gauge = request.gauge
    return FitCard(
        for_a_hand=True,
        told=told,
        answer=answer,
        rows=_rows(desk, answer),
        hand=_hand_words(desk, told, hand),
        gauge=gauge.says,
        ease=_ease_words(-request.ease),
        smaller_percent=round(-request.ease * 100),
        guessed_hand=told.hand is None,
        guessed_gauge=told.gauge is None,
        seen=tuple(Seen(words) for words in answer.known.says),
        reasons=_reasons(desk, answer),
        rounds=tuple(each.says for each in answer.rounds),
        settled=_settled(desk, answer),
        after=_after(desk, told, request.counts, answer),
        taken_back=back,
    )


def hook_in_hand(desk: Desk) -> float | None:
    """The hook that glove one is begun with, mm: hers, else the pattern's at her number."""
    own = desk.making.pieces[1].hook_mm
    if own is not None:
        return own
    settled, header = desk.making.settled, desk.pattern.header
    if settled is not None and settled.foundation is not None:
        return hook_at(header, settled.foundation)
    return header.hook_mm[0] if header.hook_mm else None


def _rows(desk: Desk, answer: FitAnswer) -> tuple[Neighbour, ...]:
    ways: tuple[tuple[Literal["down", "here", "up"], Choice | None], ...] = (
        ("down", answer.down), ("here", answer.recommended), ("up", answer.up),
    )  # fmt: skip
    return tuple(_neighbour(desk, way, each) for way, each in ways if each is not None)


def _neighbour(desk: Desk, way: Literal["down", "here", "up"], each: Choice) -> Neighbour:
    off = length_text(abs(each.ease_mm), desk.units)
    sign = "" if off.startswith("0 ") else "−" if each.ease_mm < 0 else "+"
    ease = f"{sign}{off}"
    around = length_text(each.around_mm, desk.units)
    return Neighbour(way, each, around, ease, percent_text(each.ease), round(each.chance_right * 100))


def _settled(desk: Desk, answer: FitAnswer) -> Neighbour | None:
    numbers = desk.making.pieces[1].numbers or desk.making.settled
    if numbers is None or numbers.foundation is None:
        return None
    here = answer.recommended.foundation
    way: Literal["down", "here", "up"] = (
        "here" if numbers.foundation == here else "down" if numbers.foundation < here else "up"
    )
    return _neighbour(desk, way, choice(numbers.foundation, answer.known, desk.units))


def _after(desk: Desk, told: Told, counts: AllowedCounts, answer: FitAnswer) -> RoundOne | None:
    """What the last word on round one asks for, at the number and the hook that it was said of."""
    numbers = desk.making.pieces[1].numbers or desk.making.settled
    if not told.felt or numbers is None or told.felt[-1]["foundation"] != numbers.foundation:
        return None
    felt, hook_mm = told.felt[-1], hook_in_hand(desk)
    if felt.get("hook_mm") not in (None, hook_mm):
        return None
    category = category_of(told, desk.pattern.header)
    return after_round_one(
        counts,
        felt["foundation"],
        answer.known.hand.around_mm,
        felt["verdict"],
        by_mm=felt.get("by_mm"),
        hook_mm=hook_mm,
        thickness_mm=category.thickness_mm if category is not None else None,
        ease=ease_of(told),
        units=desk.units,
    )


def _reasons(desk: Desk, answer: FitAnswer) -> tuple[str, ...]:
    known = answer.known
    low, high = (gauge_text(each, desk.units) for each in gauge_range(known))
    hook = f" with {hook_text(known.gauge.hook_mm)}" if known.gauge.hook_mm is not None else ""
    return (
        f"A ring of chains is as far around as chains times the width of a stitch: about "
        f"{gauge_text(known.gauge.stitches, desk.units)}{hook}, "
        f"nine times in ten {low.partition(' ')[0]} to {high.partition(' ')[0]}.",
        f"The hand is taken to be {length_text(known.hand.around_mm, desk.units)} around, give or take "
        f"{length_text(known.hand.spread_mm, desk.units)}.",
        *(words for words in answer.says if words.startswith(("Mitts are", "Ease as"))),
    )


def _ease_words(smaller: float) -> str:
    return f"{round(smaller * 100)} % smaller than the hand." if smaller else "As large as the hand."


def _hand_words(desk: Desk, told: Told, hand: Hand) -> str:
    where = f" Given for {told.from_part}." if told.from_part else ""
    says = hand.says
    if hand.known == "measured":
        says = f"{length_text(hand.around_mm, desk.units)} around the knuckles, measured."
    return f"{says}{where}"


def recommended(desk: Desk) -> int | None:
    """The count that what she told at this part comes to; None where she told nothing of the hand."""
    known = told(desk)
    request = request_of(desk, known, hook_in_hand(desk)) if known.hand and is_for_a_hand(desk) else None
    return recommend(request).recommended.foundation if request is not None else None
