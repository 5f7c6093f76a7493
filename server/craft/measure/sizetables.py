"""For a host: which counts to offer as sizes, whom each fits, and where hands fall between two of them.

A count n at gauge g is n / g around and is right for hands from that to that / 0.9 (ease 0 to −10 %).
Hands of a population are taken as normal, each group with its own mean and SD (ANSUR II for grown-ups,
AnthroKids for children); a mixed population weighs its groups equally.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

from server.craft.measure.counts import AllowedCounts
from server.craft.measure.gauge import Gauge
from server.craft.measure.hands import group_spread
from server.craft.measure.handtables import child_ages, nearest_glove_size
from server.craft.measure.lengths import Units, length_text
from server.craft.measure.updating import EASE_FROM, EASE_TO

MOST_SIZES = 12
TO_COVER = 0.025  # of the hands, left out at either end of a proposal


@dataclass(frozen=True, slots=True)
class Population:
    """Hands around the knuckles, mm: equally weighed normal groups, and who they are in words."""

    groups: tuple[NormalDist, ...]
    says: str

    def share(self, low_mm: float, high_mm: float) -> float:
        """The share of hands from low to high, 0 to 1."""
        return sum(group.cdf(high_mm) - group.cdf(low_mm) for group in self.groups) / len(self.groups)

    def quantile(self, share: float) -> float:
        """The hand, mm, that so much of the population is under (bisected to a hundredth of a mm)."""
        low = min(group.inv_cdf(share) for group in self.groups)
        high = max(group.inv_cdf(share) for group in self.groups)
        while high - low > 0.01:
            middle = (low + high) / 2
            low, high = (middle, high) if self.share(-math.inf, middle) < share else (low, middle)
        return (low + high) / 2


@dataclass(frozen=True, slots=True)
class SizeRow:
    """One size: its count, circumference, the hands that it is right for (mm) and their share (0 to 1).

    only      share of hands that no smaller size in the table is right for
    glove     the EN glove size nearest to the middle of those hands
    """

    foundation: int
    around_mm: float
    from_mm: float
    to_mm: float
    share: float
    only: float
    glove: int


@dataclass(frozen=True, slots=True)
class Gap:
    """Hands between two sizes that neither is right for, mm, and their share."""

    after: int
    before: int
    from_mm: float
    to_mm: float
    share: float


@dataclass(frozen=True, slots=True)
class SizeTable:
    """The table: sizes rising, gaps, and the shares too small, too large and covered (0 to 1)."""

    rows: tuple[SizeRow, ...]
    gaps: tuple[Gap, ...]
    covered: float
    below: float
    above: float
    says: tuple[str, ...]


def population(named: str) -> Population:
    """ "women", "men", "adults", "children" (all ages measured), "children 6 to 9", "child 8".

    ValueError with what there is for another.
    """
    low = named.strip().lower()
    if low in ("women", "men"):
        spread = group_spread("women" if low == "women" else "men")
        return Population(
            (_normal(spread.mean_mm, spread.sd_mm),), f"{spread.n} {low} of the US Army (ANSUR II)"
        )
    if low == "adults":
        both = [group_spread("women"), group_spread("men")]
        groups = tuple(_normal(one.mean_mm, one.sd_mm) for one in both)
        return Population(groups, "women and men of the US Army (ANSUR II), half and half")
    ages = _ages(low)
    spreads = [group_spread("child", age) for age in ages]
    who = f"of {ages[0]}" if len(ages) == 1 else f"from {ages[0]} to {ages[-1]}"
    return Population(
        tuple(_normal(one.mean_mm, one.sd_mm) for one in spreads),
        f"{sum(one.n for one in spreads)} US children {who}, 1977 (palm width × 2.4)",
    )


def size_table(counts: Sequence[int], gauge: Gauge, people: Population, units: Units = "cm") -> SizeTable:
    """Whom these counts fit. ValueError for no counts, or one under 1."""
    ordered = sorted(set(counts))
    if not ordered or ordered[0] < 1:
        raise ValueError("a table has counts, each at least 1")
    rows: list[SizeRow] = []
    gaps: list[Gap] = []
    reached = -math.inf
    for count in ordered:
        around = count * gauge.stitch_mm
        low, high = around / (1 + EASE_TO), around / (1 + EASE_FROM)
        if rows and low > reached:
            gaps.append(Gap(rows[-1].foundation, count, reached, low, people.share(reached, low)))
        only = people.share(max(low, reached), high)
        glove = nearest_glove_size((low + high) / 2).number
        rows.append(SizeRow(count, around, low, high, people.share(low, high), only, glove))
        reached = high
    below, above = people.share(-math.inf, rows[0].from_mm), people.share(rows[-1].to_mm, math.inf)
    covered = sum(row.only for row in rows)
    said = _says(rows, gaps, covered, below, above, people, units)
    return SizeTable(tuple(rows), tuple(gaps), covered, below, above, said)


def proposed_sizes(
    allowed: AllowedCounts, gauge: Gauge, people: Population, units: Units = "cm"
) -> SizeTable:
    """The fewest allowed counts for the middle 95 % of hands, at most 12: from the smallest hand up, each
    time
    the largest count that leaves no hand out, or the next one where the multiple is too coarse for that.
    """
    lowest, highest = people.quantile(TO_COVER), people.quantile(1 - TO_COVER)
    reached, counts = lowest, list[int]()
    while reached < highest and len(counts) < MOST_SIZES:
        most = reached * (1 + EASE_TO) / gauge.stitch_mm  # the largest count right for the hand reached
        whole = math.floor(most + 1e-9)
        count = whole if allowed.allows(whole) else allowed.below(most)
        if count is None or count * gauge.stitch_mm / (1 + EASE_FROM) <= reached:
            count = allowed.above(counts[-1] if counts else most)  # the multiple is too coarse: a gap
        if count is None:
            break
        counts.append(count)
        reached = count * gauge.stitch_mm / (1 + EASE_FROM)
    return size_table(counts or [allowed.nearest(lowest / gauge.stitch_mm)], gauge, people, units)


def _ages(low: str) -> list[int]:
    ages = child_ages()
    words = low.replace("-", " to ").replace("–", " to ").split()
    if low == "children":
        return list(ages)
    numbers = [int(word) for word in words[1:] if word.isdecimal() and word.isascii()]
    if words and words[0] in ("child", "children") and numbers and len(numbers) <= 2:
        found = [age for age in ages if numbers[0] <= age <= numbers[-1]]
        if found and all(number in ages for number in numbers):
            return found
    raise ValueError(
        f"{low!r} is no population. There are women, men, adults, children, and children by age: "
        f"“child 8”, “children 6 to 9” ({ages[0]} to {ages[-1]} years)."
    )


def _normal(mean_mm: float, sd_mm: float) -> NormalDist:
    return NormalDist(mean_mm, sd_mm)


def _says(
    rows: Sequence[SizeRow],
    gaps: Sequence[Gap],
    covered: float,
    below: float,
    above: float,
    people: Population,
    units: Units,
) -> tuple[str, ...]:
    said = [f"Hands of {people.says}. A guess for anyone else."]
    said += [
        f"{row.foundation} chains: hands from {length_text(row.from_mm, units)} to "
        f"{length_text(row.to_mm, units)}, {_per_cent(row.share)} of them."
        for row in rows
    ]
    said += [
        f"Between {gap.after} and {gap.before} lies a gap: hands from {length_text(gap.from_mm, units)} to "
        f"{length_text(gap.to_mm, units)}, {_per_cent(gap.share)}, fit neither."
        for gap in gaps
    ]
    said.append(
        f"Together {_per_cent(covered)}; {_per_cent(below)} have smaller hands, "
        f"{_per_cent(above)} larger ones."
    )
    return tuple(said)


def _per_cent(share: float) -> str:
    return f"{share * 100:.1f} %" if share < 0.1 else f"{round(share * 100)} %"
