"""How much yarn: metres, yards, grams and balls for a piece or a pair, with a range.

Added to the stitches: the tails at every end of yarn, the joins where a ball ends, and the swatch where
it is not unravelled again. Edgings and thumbs are rounds of the fabric like any other.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from server.craft.measure.beliefs import Range
from server.craft.measure.calibrating import Calibration
from server.craft.measure.lengths import Units
from server.craft.measure.putup import PutUp
from server.craft.measure.quantities import yarn_range_text, yarn_text
from server.craft.measure.yarnlength import PieceYarn, Setting

TAIL_M = 0.15  # common practice, no source: a hand's width to weave in
SWATCH_IN2, SWATCH_IN_PER_IN2 = 25.0, 785.5 / 25  # 5 x 5 in of sc took 785.5 in (windchilde.com/bluedepth)
MM_PER_INCH, MM_PER_M = 25.4, 1000.0


@dataclass(frozen=True, slots=True)
class Balls:
    """Balls to buy: enough in nine cases of ten and more (`surely`), and at the middle (`likely`)."""

    surely: int
    likely: int


@dataclass(frozen=True, slots=True)
class YarnNeed:
    """What a piece or a pair takes.

    model_m    metres of its stitches by the model
    extras_m   tails, joins and a swatch, m
    metres, grams   all together, nine cases in ten
    """

    pieces: int
    model_m: float
    extras_m: float
    metres: Range
    grams: Range
    balls: Balls | None
    calibration: Calibration
    says: tuple[str, ...]


def yarn_need(
    piece: PieceYarn,
    calibration: Calibration,
    by: Setting,
    *,
    pieces: int = 2,
    put_up: PutUp | None = None,
    swatch_kept: bool = False,
    units: Units = "cm",
) -> YarnNeed:
    """The yarn for so many equal pieces. ValueError for fewer than one."""
    if pieces < 1:
        raise ValueError(f"at least one piece, not {pieces}")
    model = piece.metres * pieces
    extras = tails_m(piece) * pieces + (swatch_m(by) if swatch_kept else 0.0)
    metres = plus(calibration.metres(model), extras)
    if put_up is not None:  # each ball after the first is joined to the last: two more ends
        joins = max(0, math.ceil(metres.middle / put_up.metres) - 1) * 2 * TAIL_M
        extras, metres = extras + joins, plus(metres, joins)
    weight = plus(calibration.grams(model), calibration.weight(extras))
    balls = _balls(metres, weight, put_up) if put_up is not None else None
    says = (*_says(pieces, metres, weight, balls, units), *calibration.says)
    return YarnNeed(pieces, model, extras, metres, weight, balls, calibration, says)


def tails_m(piece: PieceYarn) -> float:
    """Metres of tails in one piece: 15 cm at each end of yarn."""
    return piece.yarn_ends * TAIL_M


def swatch_m(by: Setting) -> float:
    """Metres in a swatch of 5 x 5 in. Smaller stitches: more of them by the square, each shorter."""
    return SWATCH_IN2 * SWATCH_IN_PER_IN2 * MM_PER_INCH / MM_PER_M / by.scale


def plus(range_: Range, more: float) -> Range:
    """The range with so much more, for certain."""
    return Range(range_.low + more, range_.middle + more, range_.high + more)


def _balls(metres: Range, weight: Range, put_up: PutUp) -> Balls:
    """By weight where that is known better (once something was weighed), else by length."""
    if weight.factor < metres.factor:
        high, middle = weight.high / put_up.grams, weight.middle / put_up.grams
    else:
        high, middle = metres.high / put_up.metres, metres.middle / put_up.metres
    return Balls(max(1, math.ceil(high - 1e-9)), max(1, math.ceil(middle - 1e-9)))


def _says(pieces: int, metres: Range, weight: Range, balls: Balls | None, units: Units) -> list[str]:
    what = {1: "One piece takes", 2: "The pair takes"}.get(pieces, f"{pieces} pieces take")
    other: Units = "in" if units == "cm" else "cm"
    said = [
        f"{what} about {yarn_text(metres.middle, units)} ({yarn_text(metres.middle, other)}), "
        f"{round(weight.middle)} g.",
        f"Nine times in ten {yarn_range_text(metres.low, metres.high, units)}, "
        f"{math.floor(weight.low)} to {math.ceil(weight.high)} g.",
    ]
    if balls is not None:
        likely = f" ({balls.likely} may do)" if balls.likely < balls.surely else ""
        said.append(f"{balls.surely} ball{'' if balls.surely == 1 else 's'}{likely}.")
    return said
