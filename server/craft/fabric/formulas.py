"""Counts as lines in N, where they are."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from server.craft.text.numbers import line_in_n


def formula(values: Mapping[int, int]) -> str | None:
    """The line in N that all counts (foundation to number) lie on exactly; None where there is none.

    One foundation count alone proves no line.
    """
    points = sorted(values.items())
    if len(points) < 2:
        return None
    (x0, y0), (x1, y1) = points[0], points[-1]
    across, up = x1 - x0, y1 - y0
    if any((y - y0) * across != up * (x - x0) for x, y in points):
        return None
    slope = Fraction(up, across)
    shift = y0 - slope * x0
    if len(points) == 2 and slope.denominator > 12:
        return None
    return line_in_n(slope, shift)


def piecewise(values: Mapping[int, int], multiple: int, plus: int) -> str | None:
    """Lines in N by remainder, where no one line serves: "N/2 where N/3 is even, (N + 1)/2 where N/3 is odd".

    values: foundation to number, at counts that are `multiple` times a whole number and `plus`. None
    where it cannot be
    had with at least three counts of each remainder.
    """
    for parts in REMAINDERS:
        lines: list[str] = []
        for remainder in range(parts):
            part = {n: value for n, value in values.items() if (n - plus) // multiple % parts == remainder}
            line = formula(part) if len(part) >= 3 else None
            if line is None:
                break
            lines.append(f"{line} where {_remainder_words(multiple, plus, parts, remainder)}")
        if len(lines) == parts:
            return ", ".join(lines)
    return None


REMAINDERS = (2, 3, 4, 6)


def _remainder_words(multiple: int, plus: int, parts: int, remainder: int) -> str:
    repeats = line_in_n(Fraction(1, multiple), Fraction(-plus, multiple))
    if parts == 2:
        return f"{repeats} is {'even' if remainder == 0 else 'odd'}"
    return f"{repeats} divides by {parts}" if remainder == 0 else f"{repeats} leaves {remainder} by {parts}"
