"""A gauge: foundation-count stitches, and rounds, over 10 cm, with how far it may be off.

Where it comes from, best first: her own swatch in the pattern stitch; the pattern's gauge, moved to her hook;
the range of the yarn's category, whose width is the uncertainty.

How a stitch changes with the hook: each of its loops lies around the hook, so that its middle line is π ·
(hook + yarn thickness) long. Everything about a stitch (its width, its height, the yarn in it) is taken
to grow with hook + thickness. It is a model, with no source for crochet (Storck et al. 2022, doi
10.1177/15280837221139250, draw chains and single crochet so, with loops around a round hook; abstract
seen).
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Literal

from server.craft.measure.hooks import hook_text
from server.craft.measure.lengths import Units, length_text
from server.craft.measure.yarntable import (
    GAUGE_LENGTH_MM,
    UNIFORM_SD,
    YarnCategory,
    category_for_hook,
    yarn_category,
)

TEN_CM_MM = 100.0
HALF_A_STITCH = 0.5 / math.sqrt(
    3
)  # any fraction up to half a stitch either way: the spread of what is counted
TAPE_MM = 1.0  # judgement: how well the ends of a counted stretch are read off a tape
SWATCH_TO_PIECE = 0.03  # judgement: a piece comes out a little looser or tighter than its swatch
BETWEEN_HANDS = 0.07
"""A pattern's gauge in another hand. Published patterns are up to 4 % off their own gauge (reference: count
rule); hands differ more than that, and no figure for it was found: judgement."""
OTHER_STITCH = 0.10  # judgement: a category's range is for single crochet, the pattern may be something else
OF_THE_MOVE = 0.5  # the model's own doubt: half of what it moves a gauge by

Source = Literal["swatch", "pattern", "category"]


@dataclass(frozen=True, slots=True)
class Gauge:
    """A gauge over 10 cm; `spread` and `rounds_spread` are shares (0.05: give or take 5 %)."""

    stitches: float
    spread: float
    source: Source
    says: str
    rounds: float | None = None
    rounds_spread: float = 0.0
    hook_mm: float | None = None

    @property
    def stitch_mm(self) -> float:
        """How wide a stitch is, mm."""
        return TEN_CM_MM / self.stitches


def swatch(
    stitches: float,
    over_mm: float,
    rounds: float | None = None,
    rounds_over_mm: float | None = None,
    *,
    hook_mm: float | None = None,
    units: Units = "cm",
) -> Gauge:
    """Her own swatch: so many stitches over any length, and rounds over the same or another.

    The spread is from counting to half a stitch, the tape, and swatch to piece, so that a longer stretch is
    surer. ValueError unless all numbers are above 0.
    """
    along = over_mm if rounds_over_mm is None else rounds_over_mm
    _all_above_0(stitches, over_mm, along, *(() if rounds is None else (rounds,)))
    says = f"Your swatch: {stitches:g} stitches in {length_text(over_mm, units)}"
    if rounds is not None:
        says += f", {rounds:g} round{'' if rounds == 1 else 's'} in {length_text(along, units)}"
    return Gauge(
        stitches * TEN_CM_MM / over_mm,
        _counted(stitches, over_mm),
        "swatch",
        f"{says}.",
        rounds * TEN_CM_MM / along if rounds is not None else None,
        _counted(rounds, along) if rounds is not None else 0.0,
        hook_mm,
    )


def pattern_gauge(
    stitches: float, rounds: float | None, over_mm: float, hook_mm: float | None = None
) -> Gauge:
    """The pattern's gauge, as another hand would have it with the same hook. ValueError unless above 0."""
    _all_above_0(stitches, over_mm, *(() if rounds is None else (rounds,)))
    return Gauge(
        stitches * TEN_CM_MM / over_mm,
        BETWEEN_HANDS,
        "pattern",
        "The pattern's gauge; your hand may be tighter or looser. A swatch would make it surer.",
        rounds * TEN_CM_MM / over_mm if rounds is not None else None,
        BETWEEN_HANDS if rounds is not None else 0.0,
        hook_mm,
    )


def category_gauge(category: YarnCategory, hook_mm: float | None = None) -> Gauge:
    """The range of the yarn's category at its usual hook, moved to hers where she has another.

    The middle of the range; any value in it as likely, so give or take its width / √12. No edition of the
    table has rounds.
    """
    low, high = category.gauge
    middle = (low + high) / 2
    spread = math.hypot((high - low) * UNIFORM_SD / middle, OTHER_STITCH)
    gauge = Gauge(
        middle * TEN_CM_MM / GAUGE_LENGTH_MM,
        spread,
        "category",
        f"Guessed from {category.title} yarn: {low:g} to {high:g} {category.gauge_stitch} in 4 in. "
        "A swatch would make it much surer.",
        hook_mm=category.usual_hook_mm,
    )
    return gauge if hook_mm is None else moved_to_hook(gauge, hook_mm, category.thickness_mm)


def moved_to_hook(gauge: Gauge, hook_mm: float, thickness_mm: float | None = None) -> Gauge:
    """The same hand and yarn with another hook: stitches per 10 cm go with 1 / (hook + thickness).

    It is less sure by half of what it moved. A gauge whose hook is not known stays. Without the yarn's
    thickness, that of the category for the gauge's hook is taken. ValueError for a hook that is not above 0.
    """
    _all_above_0(hook_mm)
    if gauge.hook_mm is None or gauge.hook_mm == hook_mm:
        return replace(gauge, hook_mm=hook_mm)
    by = hook_ratio(gauge.hook_mm, hook_mm, thickness_mm)
    doubt = abs(math.log(by)) * OF_THE_MOVE
    says = gauge.says.rstrip(".") + f". Moved from {hook_text(gauge.hook_mm)} to {hook_text(hook_mm)}."
    return replace(
        gauge,
        stitches=gauge.stitches / by,
        spread=math.hypot(gauge.spread, doubt),
        says=says,
        rounds=gauge.rounds / by if gauge.rounds is not None else None,
        rounds_spread=math.hypot(gauge.rounds_spread, doubt) if gauge.rounds is not None else 0.0,
        hook_mm=hook_mm,
    )


def hook_ratio(from_mm: float, to_mm: float, thickness_mm: float | None = None) -> float:
    """How much larger stitches get with another hook: (to + thickness) / (from + thickness)."""
    if thickness_mm is None:
        thickness_mm = category_for_hook(from_mm).thickness_mm
    return (to_mm + thickness_mm) / (from_mm + thickness_mm)


def any_gauge(
    own: Gauge | None = None,
    pattern: Gauge | None = None,
    category: YarnCategory | None = None,
    hook_mm: float | None = None,
) -> Gauge:
    """The best gauge that there is, whatever was filled in: her swatch, else the pattern's, else the
    category's, else that of the category her hook is for, else medium yarn's. Moved to her hook.
    """
    thickness = category.thickness_mm if category is not None else None
    for known in (own, pattern):
        if known is not None:
            return known if hook_mm is None else moved_to_hook(known, hook_mm, thickness)
    if category is None:
        category = category_for_hook(hook_mm) if hook_mm is not None else yarn_category(4)
    return category_gauge(category, hook_mm)


def _counted(number: float, over_mm: float) -> float:
    return math.hypot(HALF_A_STITCH / number, TAPE_MM / over_mm, SWATCH_TO_PIECE)


def _all_above_0(*numbers: float) -> None:
    for number in numbers:
        if not 0 < number < math.inf:
            raise ValueError(f"a number above 0 is needed, not {number:g}")
