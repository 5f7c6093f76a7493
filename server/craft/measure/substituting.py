"""Another yarn: the hook and gauge to expect of it, the foundation that follows, and the metres to buy.

Hook and gauge go from one category to another as the middles of the two categories' ranges do: who works
the pattern's 14 stitches of a yarn whose range is 11 to 14 works as many more or fewer of one whose range
is 16 to 20. The new hook is the nearest that is sold. The rounds follow the stitches.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from server.craft.fabric import Numbers, work
from server.craft.measure.calibrating import calibrated
from server.craft.measure.fitting import FitAnswer, FitRequest, recommend
from server.craft.measure.gauge import BETWEEN_HANDS, Gauge
from server.craft.measure.hooks import HOOKS_MM, hook_text
from server.craft.measure.lengths import Units, gauge_text
from server.craft.measure.needing import YarnNeed, yarn_need
from server.craft.measure.putup import PutUp
from server.craft.measure.yarnlength import piece_yarn, setting
from server.craft.measure.yarntable import UNIFORM_SD, YarnCategory
from server.craft.text.tree import Pattern


@dataclass(frozen=True, slots=True)
class Substitution:
    """What changes with the yarn. `fit` is the recommendation at the gauge to expect; `rounds` the new
    numbers
    of rounds of lines to fit ("section.line", rounds).
    """

    hook_mm: float
    gauge: Gauge
    fit: FitAnswer
    rounds: tuple[tuple[str, int], ...]
    need: YarnNeed
    says: tuple[str, ...]


def expected_hook_mm(hook_mm: float, old: YarnCategory, new: YarnCategory) -> float:
    """The hook to begin with, mm: hers times what the usual hooks of the two categories differ by."""
    wanted = hook_mm * new.usual_hook_mm / old.usual_hook_mm
    return min(HOOKS_MM, key=lambda one: (abs(math.log(one / wanted)), one))


def expected_gauge(gauge: Gauge, old: YarnCategory, new: YarnCategory, hook_mm: float | None = None) -> Gauge:
    """The gauge to expect, stitches and rounds times what the middles of the ranges differ by.

    Less sure by the width of both ranges (width / √12), and by another hand where it was the pattern's.
    """
    if old.number == new.number:
        return replace(gauge, hook_mm=hook_mm if hook_mm is not None else gauge.hook_mm)
    by = sum(new.gauge) / sum(old.gauge)
    widths = [(each.gauge[1] - each.gauge[0]) / (sum(each.gauge) / 2) * UNIFORM_SD for each in (old, new)]
    spread = math.hypot(gauge.spread, BETWEEN_HANDS, *widths)
    return replace(
        gauge,
        stitches=gauge.stitches * by,
        spread=spread,
        rounds=gauge.rounds * by if gauge.rounds is not None else None,
        rounds_spread=math.hypot(gauge.rounds_spread, BETWEEN_HANDS, *widths) if gauge.rounds else 0.0,
        says=f"Moved from {old.title} to {new.title} yarn by the ranges of the two: make a swatch first.",
        hook_mm=hook_mm,
    )


def substituted(
    pattern: Pattern,
    request: FitRequest,
    old: YarnCategory,
    new: YarnCategory,
    *,
    hook_mm: float | None = None,
    put_up: PutUp | None = None,
    units: Units = "cm",
) -> Substitution:
    """The pattern in another yarn (or only another put-up, where the categories are one).

    hook_mm   the hook for the old yarn; without it the category's usual one
    ValueError where the pattern begins in a ring: it has no foundation to change.
    """
    header = pattern.header
    if not header.foundations:
        raise ValueError("This pattern begins in a ring: its sizes keep their counts in any yarn.")
    from_mm = hook_mm if hook_mm is not None else old.usual_hook_mm
    to_mm = from_mm if old.number == new.number else expected_hook_mm(from_mm, old, new)
    gauge = expected_gauge(request.gauge, old, new, to_mm)
    fit = recommend(replace(request, gauge=gauge, seen=() if old.number != new.number else request.seen))
    foundation = fit.recommended.foundation
    rounds = _rounds(pattern, foundation, gauge.stitches / request.gauge.stitches)
    by = setting(to_mm, new)
    piece = piece_yarn(work(pattern, Numbers(foundation, fits=rounds)), header, by)
    calibration = calibrated(by, unmeasured=piece.unmeasured, put_up=put_up, category=new, units=units)
    pieces = 2 if header.pieces == "pair" else 1
    need = yarn_need(piece, calibration, by, pieces=pieces, put_up=put_up, units=units)
    says = (
        f"Begin with {hook_text(to_mm)} in {new.title} yarn: about {gauge_text(gauge.stitches, units)}.",
        *fit.says[:3],
        *need.says[:3],
        *(() if not rounds or old.number == new.number else ("Rounds are to fit: about "
          + ", ".join(str(n) for _, n in rounds) + " for the lines that say so.",)),
    )  # fmt: skip
    return Substitution(to_mm, gauge, fit, rounds, need, says)


def _rounds(pattern: Pattern, foundation: int, by: float) -> tuple[tuple[str, int], ...]:
    """Numbers of rounds of lines to fit for stitches `by` times as many in a length."""
    counted: dict[str, int] = {}
    for section in work(pattern, Numbers(foundation)).sections:
        for each in section.rounds:
            if each.source.label is not None and each.source.label.until is not None:
                fit = each.spot.rpartition(".")[0]
                counted[fit] = counted.get(fit, 0) + 1
    return tuple((fit, max(1, round(number * by))) for fit, number in counted.items())
