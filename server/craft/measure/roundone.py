"""The fit after round one: another hook, or a repeat or several out or in, and why that one.

A hook changes every stitch by the ratio in `gauge.hook_ratio`; a repeat changes the number of stitches.
Chosen is what comes nearer to the wanted ease; where both come as near, the hook, since the count of the
pattern stays. Too loose is mended by a smaller hook or fewer repeats, too tight by a larger hook or more.
What would be less than half of the hand around, or over twice of it, was hardly measured right: no mend is
named.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from server.craft.measure.counts import AllowedCounts
from server.craft.measure.feel import feel_of
from server.craft.measure.gauge import hook_ratio
from server.craft.measure.hooks import HOOKS_MM, hook_text
from server.craft.measure.lengths import Units, length_text
from server.craft.measure.quantities import percent_text
from server.craft.measure.updating import EASE, UNSAID, chains_text

LEAST, MOST = 0.5, 2.0  # judgement: of the hand; beyond it a tape was misread, or it is another piece
MEASURE_AGAIN = "Lay round one flat and measure it across, and the hand once more."
HOOK_STEP_MM = 0.4  # the quarters of a millimetre between the usual half sizes are hardly felt


@dataclass(frozen=True, slots=True)
class Mend:
    """One way to mend it: the ease it would come to (a share of the hand), in words."""

    kind: Literal["hook", "repeat"]
    foundation: int
    hook_mm: float | None
    ease: float
    says: str


@dataclass(frozen=True, slots=True)
class RoundOne:
    """What to do after round one. `advice` None: there is nothing to do, or nothing that can be done.

    other   the way not advised
    goes_on whether it fits
    """

    ease: float
    advice: Mend | None
    other: Mend | None
    says: str
    goes_on: bool = False


def after_round_one(
    counts: AllowedCounts,
    foundation: int,
    hand_mm: float,
    felt: Literal["too loose", "too tight", "right"],
    *,
    by_mm: float | None = None,
    hook_mm: float | None = None,
    thickness_mm: float | None = None,
    ease: float = EASE,
    units: Units = "cm",
) -> RoundOne:
    """What mends a first round that is too loose or too tight by so much, mm around.

    Without `by_mm` it is taken to be a twelfth of the hand. "Too loose by" is measured from where it
    would be right (the wanted ease). Without a hook only repeats are weighed. ValueError for a hand or a
    length that is not above 0.
    """
    if hand_mm <= 0 or (by_mm is not None and by_mm <= 0):
        raise ValueError("a hand and a difference are above 0")
    if felt == "right":
        return RoundOne(ease, None, None, "It fits: go on.", goes_on=True)
    by = by_mm if by_mm is not None else hand_mm * UNSAID
    smaller = felt == "too loose"
    wanted = hand_mm * (1 + ease)
    around = wanted + by if smaller else max(wanted - by, 0.0)
    if not may_be_around(around, hand_mm):
        says = f"{would_be(by, felt, around, hand_mm, units)} {MEASURE_AGAIN}"
        return RoundOne(around / hand_mm - 1, None, None, says)
    ways = [
        _repeat(counts, foundation, hand_mm, around, wanted, smaller=smaller),
        _hook(foundation, hand_mm, around, hook_mm, thickness_mm, smaller=smaller),
    ]
    now = around / hand_mm - 1
    mends = sorted(
        (way for way in ways if way is not None),
        key=lambda way: (round(abs(way.ease - ease), 3), way.kind != "hook"),
    )
    if not mends:
        return RoundOne(now, None, None, "There is no count and no hook beyond this one to go to.")
    best, other = mends[0], (mends[1] if len(mends) > 1 else None)
    amount = length_text(by, units) if by_mm is not None else "a little"
    says = f"Round one is {amount} {felt}. {best.says}"
    if other is not None:
        says += f" Why not the other: {other.says[0].lower()}{other.says[1:]}"
    if feel_of(best.ease) != "right":
        says += " Neither comes out right by itself: try on again after it." if other is not None else ""
    return RoundOne(now, best, other, says)


def may_be_around(ring_mm: float, hand_mm: float) -> bool:
    """Whether a ring may go around that hand: from half of it to twice."""
    return LEAST * hand_mm <= ring_mm <= MOST * hand_mm


def would_be(by_mm: float, felt: str, ring_mm: float, hand_mm: float, units: Units) -> str:
    """What a difference comes to: "15 cm too tight would leave only 3 cm around, for a hand of 19 cm."."""
    if ring_mm <= 0:
        leaves = "no way around at all"
    else:
        leaves = f"{'only ' if ring_mm < hand_mm else ''}{length_text(ring_mm, units)} around"
    return (
        f"{length_text(by_mm, units)} {felt} would leave {leaves}, for a hand of "
        f"{length_text(hand_mm, units)}."
    )


def _repeat(
    counts: AllowedCounts, foundation: int, hand_mm: float, around: float, wanted: float, *, smaller: bool
) -> Mend | None:
    next_to = counts.below(foundation) if smaller else counts.above(foundation)
    if next_to is None:
        return None
    best = counts.nearest(foundation * wanted / around)
    to = min(best, next_to) if smaller else max(best, next_to)
    ease = around * to / foundation / hand_mm - 1
    return Mend(
        "repeat", to, None, ease,
        f"{_steps(counts, foundation, to)} by {percent_text(to / foundation - 1)}, to {_feel(ease)}.",
    )  # fmt: skip


def _steps(counts: AllowedCounts, foundation: int, to: int) -> str:
    """ "One repeat out (24 chains) changes it", "3 repeats in (40 chains) change it", and without a repeat
    "4 chains fewer (24 chains) change it".
    """
    apart = abs(to - foundation)
    repeats, rest = divmod(apart, counts.multiple) if counts.multiple is not None else (0, apart)
    if rest:
        what = f"{chains_text(apart)} {'fewer' if to < foundation else 'more'}"
        return f"{what} ({chains_text(to)}) {'changes' if apart == 1 else 'change'} it"
    what = "One repeat" if repeats == 1 else f"{repeats} repeats"
    way = "out" if to < foundation else "in"
    return f"{what} {way} ({chains_text(to)}) {'changes' if repeats == 1 else 'change'} it"


def _hook(
    foundation: int,
    hand_mm: float,
    around: float,
    hook_mm: float | None,
    thickness_mm: float | None,
    *,
    smaller: bool,
) -> Mend | None:
    to = next_hook_mm(hook_mm, smaller=smaller)
    if hook_mm is None or to is None:
        return None
    by = hook_ratio(hook_mm, to, thickness_mm)
    ease = around * by / hand_mm - 1
    what = "The next smaller hook" if smaller else "The next larger hook"
    return Mend(
        "hook", foundation, to, ease,
        f"{what} ({hook_text(to)}) changes it by {percent_text(by - 1)}, to {_feel(ease)}.",
    )  # fmt: skip


def next_hook_mm(hook_mm: float | None, *, smaller: bool) -> float | None:
    """The next hook that is felt, mm; None where there is none or the hook is not known."""
    if hook_mm is None:
        return None
    if smaller:
        return max((one for one in HOOKS_MM if one <= hook_mm - HOOK_STEP_MM), default=None)
    return min((one for one in HOOKS_MM if one >= hook_mm + HOOK_STEP_MM), default=None)


def _feel(ease: float) -> str:
    return f"an ease of {percent_text(ease)} ({feel_of(ease)})"
