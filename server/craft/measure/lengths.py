"""Lengths and weights in a maker's units, in words."""

from __future__ import annotations

from typing import Literal

Units = Literal["cm", "in"]
MM_PER_INCH = 25.4  # by definition (1959)


def length_text(length_mm: float, units: Units) -> str:
    """A length as it is read off a tape: "8.4 cm" (to the millimetre), "7.25 in" (to a twentieth, which is
    about as fine; halves and quarters stay what they are).
    """
    if units == "in":
        return f"{round(length_mm / MM_PER_INCH * 20) / 20:g} in"
    return f"{round(length_mm / 10, 1):g} cm"


def gauge_text(per_10_cm: float, units: Units) -> str:
    """A gauge as it is said: "14.0 stitches in 10 cm", "14.2 stitches in 4 in" (as swatches have)."""
    if units == "in":
        return f"{per_10_cm * 4 * MM_PER_INCH / 100:.1f} stitches in 4 in"
    return f"{per_10_cm:.1f} stitches in 10 cm"


def small_text(length_mm: float, units: Units) -> str:
    """A small length: "6 mm", "0.24 in"."""
    if units == "in":
        return f"{round(length_mm / MM_PER_INCH, 2):g} in"
    return f"{round(length_mm, 1):g} mm"


def weight_text(grams: float) -> str:
    """A weight as a kitchen scale shows it: "21 g", "21.5 g"."""
    return f"{round(grams, 1):g} g"
