"""Which counts people took for which hands: hands in whole centimetres, five of them in a cell at least, and
the middle of their counts.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import median_low

from server.services.recap.cells import cells, in_fives
from server.services.recap.summaries import Summary

MM_PER_CM = 10.0


@dataclass(frozen=True)
class HandRow:
    """Hands around so much: "17 cm to under 19 cm", how many, and the count that is in their middle."""

    label: str
    people: int
    chains: int


def by_hand(every: Sequence[Summary]) -> tuple[HandRow, ...]:
    """Of all who said how large their hand is, smallest first; () for fewer than five.

    The first and the last cell are open: how small or large the outermost hand is, is one person's.
    """
    known = [each for each in every if each.hand_mm is not None and each.foundation is not None]
    counted = in_fives(known)
    whole_cm = [_cm(each) for each in counted]
    groups = cells(whole_cm, sorted(set(whole_cm)))
    rows = []
    for at, (keys, people) in enumerate(groups):
        chains = [each.foundation or 0 for each in counted if _cm(each) in keys]
        is_first, is_last = at == 0, at == len(groups) - 1
        rows.append(HandRow(_label(keys[0], keys[-1] + 1, is_first, is_last), people, median_low(chains)))
    return tuple(rows)


def _cm(each: Summary) -> int:
    return math.floor((each.hand_mm or 0.0) / MM_PER_CM)


def _label(low: int, high: int, is_first: bool, is_last: bool) -> str:
    if is_first and is_last:
        return "all hands"
    if is_first:
        return f"under {high} cm"
    if is_last:
        return f"{low} cm and more"
    return f"{low} cm to under {high} cm"
