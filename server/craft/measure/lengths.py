"""Lengths and weights in a maker's units, in words."""

from __future__ import annotations

from typing import Literal

Units = Literal["cm", "in"]
MM_PER_INCH = 25.4  # by definition (1959)


def length_text(length_mm: float, units: Units) -> str:
    """A length as it is read off a tape: "8.4 cm" (to the millimetre), "3.3 in" (to the tenth)."""
    if units == "in":
        return f"{round(length_mm / MM_PER_INCH, 1):g} in"
    return f"{round(length_mm / 10, 1):g} cm"


def small_text(length_mm: float, units: Units) -> str:
    """A small length: "6 mm", "0.24 in"."""
    if units == "in":
        return f"{round(length_mm / MM_PER_INCH, 2):g} in"
    return f"{round(length_mm, 1):g} mm"


def weight_text(grams: float) -> str:
    """A weight as a kitchen scale shows it: "21 g", "21.5 g"."""
    return f"{round(grams, 1):g} g"
