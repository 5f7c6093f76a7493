"""What is thought of two quantities, and how an observation changes it.

Two positive quantities (gauge and hand, or length of yarn and weight of a metre) are each thought of as
"about so much, give or take so many per cent": their natural logarithms are normal. An observation says
what their product of powers is, give or take so many per cent. Then the rule is the one for weighing two
measurements against each other: each counts by one over the square of its spread. For one quantity,

    1 / spread² after  =  1 / spread² before  +  1 / spread² of what was seen,

so that nothing seen ever makes it less sure, and what is seen best counts most. Source: the linear update of
normal beliefs (Kalman 1960), here for two quantities; from memory.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from statistics import NormalDist

NINE_IN_TEN = NormalDist().inv_cdf(0.95)
"""Spreads to each side of the middle that hold nine cases in ten."""


@dataclass(frozen=True, slots=True)
class Seen:
    """One observation: first^a · second^b is `value`, give or take `spread` (a share: 0.05 is 5 %).

    says   what was seen, in words
    """

    a: float
    b: float
    value: float
    spread: float
    says: str


@dataclass(frozen=True, slots=True)
class Range:
    """A middle with the bounds that hold nine cases in ten, in the unit of what it is a range of.

    `factor` (high / low) says how wide it is, whatever the unit and the size of the thing.
    """

    low: float
    middle: float
    high: float

    @property
    def factor(self) -> float:
        """High over low: 1 would be certainty."""
        return self.high / self.low if self.low > 0 else math.inf

    def times(self, by: float) -> Range:
        """The range of so many times as much (by > 0)."""
        return Range(self.low * by, self.middle * by, self.high * by)


@dataclass(frozen=True, slots=True)
class Belief:
    """Two quantities with their spreads, as logarithms: the middles, and variances with what they share."""

    first: float
    second: float
    var_first: float
    var_second: float
    shared: float = 0.0

    @classmethod
    def about(cls, first: float, spread: float, second: float, second_spread: float) -> Belief:
        """About `first` and `second`, give or take these shares. ValueError unless all are above 0."""
        if min(first, second, spread, second_spread) <= 0:
            raise ValueError("middles and spreads are above 0")
        return cls(math.log(first), math.log(second), spread**2, second_spread**2)

    def variance(self, a: float, b: float) -> float:
        """Variance of the logarithm of first^a · second^b."""
        return a * a * self.var_first + 2 * a * b * self.shared + b * b * self.var_second

    def spread(self, a: float, b: float) -> float:
        """Give or take what share: of first (1, 0), of second (0, 1), of first · second (1, 1)."""
        return math.sqrt(max(self.variance(a, b), 0.0))

    def middle(self, a: float, b: float) -> float:
        """The middle of first^a · second^b."""
        return math.exp(a * self.first + b * self.second)

    def range(self, a: float, b: float, besides: float = 0.0) -> Range:
        """Nine cases in ten of first^a · second^b; `besides` is a spread that comes on top."""
        out = NINE_IN_TEN * math.hypot(self.spread(a, b), besides)
        middle = self.middle(a, b)
        return Range(middle * math.exp(-out), middle, middle * math.exp(out))

    def after(self, seen: Seen) -> Belief:
        """The belief once that was seen. ValueError for a value or spread that is not above 0."""
        if seen.value <= 0 or seen.spread <= 0:
            raise ValueError("what was seen, and its spread, are above 0")
        with_first = self.var_first * seen.a + self.shared * seen.b
        with_second = self.shared * seen.a + self.var_second * seen.b
        total = self.variance(seen.a, seen.b) + seen.spread**2
        surprise = math.log(seen.value) - (seen.a * self.first + seen.b * self.second)
        return Belief(
            self.first + with_first / total * surprise,
            self.second + with_second / total * surprise,
            self.var_first - with_first**2 / total,
            self.var_second - with_second**2 / total,
            self.shared - with_first * with_second / total,
        )

    def after_all(self, seen: Iterable[Seen]) -> Belief:
        """The belief once all of them were seen; the order does not matter."""
        belief = self
        for each in seen:
            belief = belief.after(each)
        return belief
