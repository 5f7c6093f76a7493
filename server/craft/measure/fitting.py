"""How many chains for a hand: the recommendation, its neighbours, the rounds, and how sure it all is.

A tube of n stitches at g stitches per 10 cm is n / g · 10 cm around (count rule, reference page, section
8: published patterns agree with it within 4 %). The count chosen is the allowed one whose circumference
is nearest to hand · (1 + ease), unless a ring of it was tried on and was too long or too short (`bounds`).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from statistics import NormalDist

from server.craft.measure.bounds import bounds_of, within
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.feel import Feel, feel_of, feel_words
from server.craft.measure.gauge import TEN_CM_MM, Gauge
from server.craft.measure.hands import Hand, ask_again
from server.craft.measure.lengths import Units, length_text
from server.craft.measure.quantities import percent_text
from server.craft.measure.updating import EASE, EASE_FROM, EASE_TO, Known, Observation, at_odds, updated

QUITE_SURE, LIKELY = 0.8, 0.5
EASE_REASON = (
    "Mitts are made a little smaller than the hand, 0 to −10 %: published ones have −6 and −10 %, and "
    "crochet stretches less than knitting, so the middle is a good beginning."
)


@dataclass(frozen=True, slots=True)
class FitRequest:
    """What is known before a recommendation. Only the counts are needed: hand and gauge may be guesses.

    ease      wanted, as a share of the hand (−0.05 is 5 % smaller)
    seen      try-ons and measured widths
    below_wrist_mm   how far the glove reaches below the wrist
    """

    counts: AllowedCounts
    hand: Hand
    gauge: Gauge
    ease: float = EASE
    seen: tuple[Observation, ...] = ()
    below_wrist_mm: float = 0.0
    units: Units = "cm"


@dataclass(frozen=True, slots=True)
class Choice:
    """One count: how far it is around, its ease, how it would feel, and the chance that it is right.

    chance_right   that the ease comes out from −10 to 0 %, from 0 to 1
    """

    foundation: int
    around_mm: float
    ease_mm: float
    ease: float
    feel: Feel
    chance_right: float
    says: str


@dataclass(frozen=True, slots=True)
class Rounds:
    """Rounds from the beginning to a place on the hand: how many, and the fewest and most that it may
    take.
    """

    to: str
    length_mm: float
    rounds: int
    fewest: int
    most: int
    says: str


@dataclass(frozen=True, slots=True)
class FitAnswer:
    """The recommendation and everything that follows from it.

    recommended   the count to chain; down and up the allowed counts next to it (None where there is none)
    known         gauge and hand as they stand after all that was seen
    sure          "quite sure", "likely" or "a guess"
    says          the whole answer in sentences, in the order to be read
    questions     measures to ask about once more
    because       why a try-on was put before the nearest count, which two cannot both be, or that the
                  pattern's counts end here; "" for none of them
    """

    recommended: Choice
    down: Choice | None
    up: Choice | None
    known: Known
    sure: str
    rounds: tuple[Rounds, ...] = ()
    says: tuple[str, ...] = ()
    questions: tuple[str, ...] = field(default=())
    because: str = ""


def recommend(request: FitRequest) -> FitAnswer:
    """The allowed count for this hand and gauge. ValueError for an ease outside −50 … +100 %."""
    if not -0.5 <= request.ease <= 1:
        raise ValueError(f"An ease is from −50 to +100 % of the hand, not {percent_text(request.ease)}.")
    known = updated(request.gauge, request.hand, request.seen, ease=request.ease, units=request.units)
    wanted_mm = known.hand.around_mm * (1 + request.ease)
    exact = wanted_mm / known.gauge.stitch_mm
    foundation, because = within(request.counts, exact, bounds_of(request.seen))
    because = at_odds(request.hand, request.seen, ease=request.ease, units=request.units) or because
    recommended = choice(foundation, known, request.units)
    below, above = request.counts.below(foundation), request.counts.above(foundation)
    down = choice(below, known, request.units) if below is not None else None
    up = choice(above, known, request.units) if above is not None else None
    because = because or _no_further(recommended, down, up)
    sure = how_sure(recommended.chance_right)
    rounds = rounds_along(known, request.below_wrist_mm, request.units)
    says = [
        f"Chain {foundation} ({request.counts.words()}).",
        recommended.says,
        _sure_words(sure, recommended.chance_right, known),
        *(f"{each.foundation} would be {each.says}" for each in (down, up) if each is not None),
        EASE_REASON if request.ease == EASE else f"Ease as you asked: {percent_text(request.ease)}.",
        known.hand.says,
        known.gauge.says,
        *known.says,
        *([because] if because else []),
        *(each.says for each in rounds),
    ]
    questions = ask_again(request.hand, request.units)
    return FitAnswer(recommended, down, up, known, sure, rounds, tuple(says), questions, because)


def _no_further(recommended: Choice, down: Choice | None, up: Choice | None) -> str:
    """Where the pattern's counts end before the hand is reached, in words; else empty."""
    if up is None and recommended.feel == "snug":
        return (
            f"{recommended.foundation} chains are the most that this pattern works: a larger hook or a "
            "thicker yarn may bring it right."
        )
    if down is None and recommended.feel == "loose":
        return (
            f"{recommended.foundation} chains are the fewest that this pattern works: a smaller hook or a "
            "thinner yarn may bring it right."
        )
    return ""


def choice(foundation: int, known: Known, units: Units = "cm") -> Choice:
    """What a count would be on this hand at this gauge."""
    around = foundation * known.gauge.stitch_mm
    ease_mm = around - known.hand.around_mm
    ease = ease_mm / known.hand.around_mm
    says = (
        f"{length_text(around, units)} around, {_difference(ease_mm, units)} "
        f"({percent_text(ease)}): {feel_words(ease)}."
    )
    return Choice(foundation, around, ease_mm, ease, feel_of(ease), chance_right(ease, known), says)


def chance_right(ease: float, known: Known) -> float:
    """How likely the ease comes out from −10 to 0 %, where it is `ease` at the middle of what is known.

    Circumference over hand is n / (gauge · hand): its logarithm is as unsure as theirs together.
    """
    spread = known.belief.spread(1, 1)
    ratio = NormalDist(math.log(1 + ease), spread)
    return ratio.cdf(math.log(1 + EASE_TO)) - ratio.cdf(math.log(1 + EASE_FROM))


def how_sure(chance: float) -> str:
    """ "quite sure" from 80 %, "likely" from 50 %, else "a guess"."""
    if chance >= QUITE_SURE:
        return "quite sure"
    return "likely" if chance >= LIKELY else "a guess"


def rounds_along(known: Known, below_wrist_mm: float = 0.0, units: Units = "cm") -> tuple[Rounds, ...]:
    """Rounds to the base of the thumb and to the end, where those were measured and rounds are in the
    gauge.
    """
    per_10 = known.gauge.rounds
    if per_10 is None:
        return ()
    found = []
    for to, from_wrist_mm in (
        ("the base of the thumb", known.hand.wrist_to_thumb_mm),
        ("the end", known.hand.wrist_to_end_mm),
    ):
        if from_wrist_mm is None:
            continue
        length = from_wrist_mm + below_wrist_mm
        exact = length * per_10 / TEN_CM_MM
        out = known.gauge.rounds_spread
        fewest, most = max(1, math.floor(exact * math.exp(-out))), max(1, math.ceil(exact * math.exp(out)))
        number = max(1, round(exact))
        says = (
            f"About {number} round{'' if number == 1 else 's'} to {to} "
            f"({length_text(length, units)}), or to fit: {fewest} to {most}."
        )
        found.append(Rounds(to, length, number, min(fewest, number), max(most, number), says))
    return tuple(found)


def _sure_words(sure: str, chance: float, known: Known) -> str:
    of_100 = round(chance * 100)
    odds = "hardly 1" if of_100 == 0 else str(min(of_100, 99))
    words = f"{sure[0].upper()}{sure[1:]}: {odds} in 100 that it comes out right"
    if sure == "quite sure":
        return f"{words}."
    hand_first = known.belief.spread(0, 1) > known.belief.spread(1, 0)
    what = "Measure the hand" if hand_first else "Make a swatch, or try the ring on"
    return f"{words}. {what} to be surer."


def _difference(ease_mm: float, units: Units) -> str:
    off = length_text(abs(ease_mm), units)
    if off.startswith("0 "):
        return "the hand's own measure"
    return f"{off} {'more' if ease_mm > 0 else 'less'} than the hand"
