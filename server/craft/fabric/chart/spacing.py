"""Where things stand along a round: as near as may be to where they are wished, in order, and not too
close.

Least squares with the order kept is isotonic regression; it is solved exactly by pooling neighbours that
would come too close and moving each pool to the mean of its wishes (the pool-adjacent-violators rule:
Ayer et al., "An empirical distribution function for sampling with incomplete information", 1955; from
memory).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise


def spread(
    wished: Sequence[float], apart: Sequence[float], low: float = -math.inf, high: float = math.inf
) -> list[float]:
    """Positions in order, `apart[i]` or more between number i and the next, least squares from the wishes.

    All lie from `low` to `high`, which must leave room for them: the solution without bounds, cut to them, is
    the one with bounds.
    """
    offsets = [0.0]
    for gap in apart[: len(wished) - 1]:
        offsets.append(offsets[-1] + gap)
    pools: list[tuple[float, int]] = []
    for wish, offset in zip(wished, offsets, strict=False):
        total, many = wish - offset, 1
        while pools and pools[-1][0] / pools[-1][1] > total / many:
            before, count = pools.pop()
            total, many = total + before, many + count
        pools.append((total, many))
    placed: list[float] = []
    for total, many in pools:
        start = min(max(total / many, low), high - offsets[-1])
        placed.extend(start + offset for offset in offsets[len(placed) : len(placed) + many])
    return placed


COPIES = 5


def spread_around(wished: Sequence[float], apart: Sequence[float], circumference: float) -> list[float]:
    """As `spread`, where the last comes before the first again, `apart[-1]` or more from it.

    The circle is solved as several turns of a line; the middle turn is taken.
    """
    if not wished:
        return []
    many = len(wished)
    line = [wish + turn * circumference for turn in range(COPIES) for wish in wished]
    placed = spread(line, list(apart) * COPIES)
    middle = COPIES // 2
    return [at - middle * circumference for at in placed[middle * many : (middle + 1) * many]]


def evenly(widths: Sequence[float], whole: float) -> list[float]:
    """Centers of things of these widths over the whole length, drawn apart (or together) in proportion."""
    total = sum(widths) or 1.0
    at, placed = 0.0, []
    for width in widths:
        placed.append((at + width / 2) * whole / total)
        at += width
    return placed


def stacked(wished: Sequence[float], heights: Sequence[float]) -> list[float]:
    """Centers of labels one above another, near where they are wished, none over another."""
    order = sorted(range(len(wished)), key=lambda index: (wished[index], index))
    apart = [(heights[one] + heights[two]) / 2 for one, two in pairwise(order)]
    placed = spread([wished[index] for index in order], apart)
    result = [0.0] * len(wished)
    for index, at in zip(order, placed, strict=True):
        result[index] = at
    return result
