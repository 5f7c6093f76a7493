"""What a try-on or a measured width says of her gauge and her hand.

Gauge g (stitches per mm) and hand h (mm around) are each known give or take so much (`beliefs`). A ring or
tube of n stitches is n / g around. So:

- measured: laid flat it is w wide, and n / (2w) is her gauge (in rows n / w). Hardly any doubt: the
  ends of the tape, and whether a stitch more or less.
- tried on, "x too long": n / g = h · (1 + ease) + x. That is about g · h: it tells the two together, so that
  the number of chains follows even where the hand was a guess.
- tried on, "fits": the ease is somewhere between 0 and −10 %.
- tried on, no length said: read as about a twelfth of the hand too long (or short), give or take as much,
  by the ease she wants. It only ever moves towards what was said, and at least so far that the ring is no
  longer (no shorter) than she wants it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from server.craft.measure.beliefs import NINE_IN_TEN, Belief, Seen
from server.craft.measure.gauge import HALF_A_STITCH, TEN_CM_MM, Gauge
from server.craft.measure.hands import Hand
from server.craft.measure.lengths import Units, gauge_text, length_text

Verdict = Literal["too long", "too short", "fits"]
EASE = -0.05
"""Ease of mitts, as a share of the hand: the middle of 0 to −10 %. Published mitts have −5.9 % and −9.8 %
(reference page, section 8); crochet stretches less than knitting, so not the snug end (seen, kniterdone)."""
EASE_FROM, EASE_TO = -0.10, 0.0
FITS_SPREAD = (EASE_TO - EASE_FROM) / math.sqrt(12)
UNSAID = 1 / 12  # judgement: what makes somebody take a ring off again without measuring
READ_MM = 5.0  # judgement: how well "so much too long" is read on a hand
CHAIN_TO_FABRIC = 0.04  # judgement: a foundation chain is a little tighter or looser than the rounds above it
NEVER = 5.0  # spreads: of what is drawn from one normal, 1 in 2 million lie so far apart
WIDTH_MM = 2.0  # judgement: the ends of a tape on soft fabric, and how flat it lies


@dataclass(frozen=True, slots=True)
class TriedOn:
    """A foundation ring tried on: so many chains; how much too long or short, mm, where she said (above
    0).
    """

    foundation: int
    verdict: Verdict
    by_mm: float | None = None

    @property
    def is_vague(self) -> bool:
        """Whether it says which way, and not how far."""
        return self.verdict != "fits" and self.by_mm is None


@dataclass(frozen=True, slots=True)
class MeasuredWidth:
    """A piece measured across, laid flat: so many stitches around (in rows: across), width in mm."""

    stitches: int
    width_mm: float
    flat: bool = False


Observation = TriedOn | MeasuredWidth


@dataclass(frozen=True, slots=True)
class Known:
    """Gauge and hand after all that was seen, with the belief behind them and what was made of each."""

    gauge: Gauge
    hand: Hand
    belief: Belief
    says: tuple[str, ...]


def updated(
    gauge: Gauge,
    hand: Hand,
    seen: Iterable[Observation],
    *,
    ease: float = EASE,
    units: Units = "cm",
) -> Known:
    """Gauge and hand after the observations, in any order; each only makes them surer.

    Of try-ons without a length only the telling ones count: the fewest chains that were too long, the most
    that were too short. ValueError for numbers that are not above 0.
    """
    before = Belief.about(gauge.stitches / TEN_CM_MM, gauge.spread, hand.around_mm, share_of(hand))
    told = telling(tuple(seen))
    vague = [one for one in told if isinstance(one, TriedOn) and one.is_vague]
    each = [_read(one, hand, ease, units) for one in told if one not in vague]
    belief = before.after_all(each)
    for one in vague:
        each.append(_vague(one, vague, hand, ease, belief, units))
        belief = belief.after(each[-1])
    if not each:
        return Known(gauge, hand, belief, ())
    moved = replace(gauge, stitches=belief.middle(1, 0) * TEN_CM_MM, spread=belief.spread(1, 0))
    if gauge.rounds is not None:  # a hand that works wider stitches works taller ones
        moved = replace(moved, rounds=gauge.rounds * moved.stitches / gauge.stitches)
    around = belief.middle(0, 1)
    known = replace(hand, around_mm=around, spread_mm=belief.spread(0, 1) * around)
    return Known(moved, known, belief, tuple(one.says for one in each))


def chains_text(number: int) -> str:
    """ "1 chain", "28 chains"."""
    return f"{number} chain{'' if number == 1 else 's'}"


def chains_were(number: int) -> str:
    """ "1 chain was", "28 chains were"."""
    return f"{chains_text(number)} {'was' if number == 1 else 'were'}"


def share_of(hand: Hand) -> float:
    """How unsure a hand is, as a share of it."""
    return hand.spread_mm / hand.around_mm


def telling(seen: Sequence[Observation]) -> tuple[Observation, ...]:
    """The observations that count, each once."""
    vague = [one for one in seen if isinstance(one, TriedOn) and one.is_vague]
    longest = [one.foundation for one in vague if one.verdict == "too long"]
    shortest = [one.foundation for one in vague if one.verdict == "too short"]
    kept = [one for one in dict.fromkeys(seen) if one not in vague]
    if longest:
        kept.append(TriedOn(min(longest), "too long"))
    if shortest:
        kept.append(TriedOn(max(shortest), "too short"))
    return tuple(kept)


def at_odds(hand: Hand, seen: Iterable[Observation], *, ease: float = EASE, units: Units = "cm") -> str:
    """Two try-ons that say how they were and cannot both be so, in words; "" where all go together.

    Cannot: the stitches around the hand that follow lie more than `NEVER` of their spreads apart.
    """
    worst, says = NEVER, ""
    before: list[tuple[float, float, TriedOn]] = []
    for one in dict.fromkeys(seen):
        if not isinstance(one, TriedOn) or one.is_vague:
            continue
        read = _tried(one, hand, ease, units)
        around = math.log(read.value) + (1 - read.b) * math.log(hand.around_mm)
        for other_around, spread, other in before:
            apart = abs(around - other_around) / math.hypot(read.spread, spread)
            if apart > worst:
                worst, says = apart, f"{_how_it_was(other, units)} and {_how_it_was(one, units)}"
        before.append((around, read.spread, one))
    return says and f"{says}: both cannot be. One of the two was misread, or another yarn, hook or hand."


def gauge_range(known: Known) -> tuple[float, float]:
    """Stitches per 10 cm that hold her gauge nine times in ten."""
    out = NINE_IN_TEN * known.gauge.spread
    return known.gauge.stitches * math.exp(-out), known.gauge.stitches * math.exp(out)


def _read(one: Observation, hand: Hand, ease: float, units: Units) -> Seen:
    if isinstance(one, MeasuredWidth):
        return _width(one, units)
    return _tried(one, hand, ease, units)


def _width(one: MeasuredWidth, units: Units) -> Seen:
    around = one.width_mm * (1 if one.flat else 2)
    if one.stitches <= 0 or around <= 0:
        raise ValueError("a width and its stitches are above 0")
    per_10 = one.stitches * TEN_CM_MM / around
    says = (
        f"{one.stitches} stitches lie {length_text(one.width_mm, units)} wide: {gauge_text(per_10, units)}."
    )
    spread = math.hypot(HALF_A_STITCH / one.stitches, WIDTH_MM / one.width_mm)
    return Seen(1, 0, one.stitches / around, spread, says)


def _tried(one: TriedOn, hand: Hand, ease: float, units: Units) -> Seen:
    if one.foundation <= 0 or (one.by_mm is not None and one.by_mm < 0):
        raise ValueError("a ring has chains, and is too long or short by a length")
    wanted = hand.around_mm * (1 + ease)
    if one.verdict == "fits":
        # The same band whatever ease she asks for: what feels right is right.
        middle = hand.around_mm * (1 + (EASE_FROM + EASE_TO) / 2)
        spread = math.hypot(FITS_SPREAD, CHAIN_TO_FABRIC)
        return Seen(
            1,
            1,
            one.foundation / (middle / hand.around_mm),
            spread,
            f"{_how_it_was(one, units)}.",
        )
    by = one.by_mm or 0.0
    # A ring is never shorter than a fifth of what it should be: more was misread.
    ring = max(wanted + _sign(one) * by, wanted / 5)
    # ln(h·(1+ease) + x) changes by `part` of what ln h changes by, where h is about the hand.
    part = wanted / ring
    value = one.foundation / ring * hand.around_mm**part
    spread = math.hypot(READ_MM / ring, CHAIN_TO_FABRIC)
    says = f"{_how_it_was(one, units)}: about {gauge_text(one.foundation * TEN_CM_MM / ring, units)}."
    return Seen(1, part, value, spread, says)


def _vague(
    one: TriedOn, every: Sequence[TriedOn], hand: Hand, ease: float, belief: Belief, units: Units
) -> Seen:
    """A try-on without a length, after all that is known better: stitches around the hand, gauge · hand."""
    if one.foundation <= 0:
        raise ValueError("a ring has chains")
    ratio = 1 + ease + _sign(one) * UNSAID
    spread = math.hypot(UNSAID / ratio, CHAIN_TO_FABRIC)
    before = math.log(belief.middle(1, 1))
    weight = belief.variance(1, 1) / (belief.variance(1, 1) + spread**2)
    towards = before + weight * (math.log(one.foundation / ratio) - before)
    after = min(before, towards) if one.verdict == "too long" else max(before, towards)
    least = max((each.foundation for each in every if each.verdict == "too short"), default=0)
    most = min((each.foundation for each in every if each.verdict == "too long"), default=math.inf)
    if least < most:  # else one of the two was another yarn, hook or hand: see `bounds`
        after = min(max(after, _as_wanted(least, ease)), _as_wanted(most, ease))
    more = "at most" if one.verdict == "too long" else "at least"
    says = (
        f"{_how_it_was(one, units)}: on such a hand {more} "
        f"{gauge_text(one.foundation / (1 + ease) * TEN_CM_MM / hand.around_mm, units)}."
    )
    return Seen(1, 1, math.exp(before + (after - before) / weight), spread, says)


def _as_wanted(chains: float, ease: float) -> float:
    """Logarithm of the stitches around a hand where so many chains have just the ease she wants."""
    return math.log(chains / (1 + ease)) if chains > 0 else -math.inf


def _how_it_was(one: TriedOn, units: Units) -> str:
    """ "32 chains were 12 cm too long", "28 chains fit"."""
    if one.verdict == "fits":
        return f"{chains_text(one.foundation)} {'fits' if one.foundation == 1 else 'fit'}"
    by = f"{length_text(one.by_mm, units)} " if one.by_mm is not None else ""
    return f"{chains_were(one.foundation)} {by}{one.verdict}"


def _sign(one: TriedOn) -> int:
    return 1 if one.verdict == "too long" else -1
