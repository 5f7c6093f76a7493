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
    slope = Fraction(y1 - y0, x1 - x0)
    shift = y0 - slope * x0
    if any(slope * x + shift != y for x, y in points):
        return None
    if len(points) == 2 and slope.denominator > 12:
        return None
    return line_in_n(slope, shift)
