"""What a try-on rules out: a ring that was too long is not recommended again, nor one that was too short, and
one that fits is.

The trade's rule is one repeat out when it is too long, one in when it is too short (common practice, no
source). The estimate (`updating`) weighs a try-on against everything else that is known, and may still come
out at the same count; whoever had the ring on her hand knows better.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from server.craft.measure.counts import AllowedCounts
from server.craft.measure.updating import Observation, TriedOn, chains_were


@dataclass(frozen=True, slots=True)
class Bounds:
    """What was tried: the most chains that were too short, the fewest that were too long, and those that fit
    between the two.
    """

    too_short: int | None = None
    too_long: int | None = None
    fit: tuple[int, ...] = ()

    @property
    def contradict(self) -> bool:
        """Whether a count was too long, and the same or a larger one too short."""
        return self.too_short is not None and self.too_long is not None and self.too_short >= self.too_long

    def hold(self, count: int) -> bool:
        """Whether nothing that was tried rules the count out."""
        return (self.too_short is None or count > self.too_short) and (
            self.too_long is None or count < self.too_long
        )


def bounds_of(seen: Iterable[Observation]) -> Bounds:
    """The bounds that try-ons give, in any order."""
    tried = [one for one in seen if isinstance(one, TriedOn)]
    long = min((one.foundation for one in tried if one.verdict == "too long"), default=None)
    short = max((one.foundation for one in tried if one.verdict == "too short"), default=None)
    bounds = Bounds(short, long)
    fit = {one.foundation for one in tried if one.verdict == "fits" and bounds.hold(one.foundation)}
    return Bounds(short, long, tuple(sorted(fit)))


def within(counts: AllowedCounts, exact: float, bounds: Bounds) -> tuple[int, str]:
    """The allowed count nearest to so many chains that nothing tried rules out, and why it is another than
    the nearest of all; "" where it is that.
    """
    nearest = counts.nearest(exact)
    if bounds.contradict:
        return nearest, (
            f"{chains_were(bounds.too_short or 0)} too short and {bounds.too_long} too long: one of the two "
            "was another yarn, hook or hand. Try a ring on once more."
        )
    fit = [count for count in bounds.fit if counts.allows(count)]
    if fit:
        best = min(fit, key=lambda count: (abs(count - exact), count))
        return best, "" if best == nearest else f"What was tried on goes first: {best} chains fit."
    if bounds.hold(nearest):
        return nearest, ""
    if bounds.too_long is not None and nearest >= bounds.too_long:
        other, words = counts.below(bounds.too_long), f"{chains_were(bounds.too_long)} too long"
    else:
        assert bounds.too_short is not None
        other, words = counts.above(bounds.too_short), f"{chains_were(bounds.too_short)} too short"
    if other is None or not bounds.hold(other):
        between = "" if other is None else ", and the next count went too far the other way"
        return nearest, f"{words}{between}: there is no count to go to. Another hook may bring it right."
    return other, f"What was tried on goes first: {words}."
