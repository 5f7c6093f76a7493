"""Yarn and weight in a maker's units: arithmetic by definition, and words.

A yard is 0.9144 m, an inch 25.4 mm and an ounce 28.349523125 g, each by definition (1959).
"""

from __future__ import annotations

import math
from typing import Literal

from server.craft.measure.lengths import MM_PER_INCH, Units

M_PER_YARD = 0.9144
G_PER_OUNCE = 28.349523125
LengthUnit = Literal["mm", "cm", "m", "in", "yd"]
MM_PER: dict[str, float] = {
    "mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH, "yd": M_PER_YARD * 1000,
}  # fmt: skip
G_PER: dict[str, float] = {"g": 1.0, "oz": G_PER_OUNCE}


def mm(length: float, unit: str) -> float:
    """A length in mm, from mm, cm, m, in or yd. ValueError for another unit."""
    if unit not in MM_PER:
        raise ValueError(f"a length is in mm, cm, m, in or yd, not {unit!r}")
    return length * MM_PER[unit]


def grams(weight: float, unit: str) -> float:
    """A weight in g, from g or oz. ValueError for another unit."""
    if unit not in G_PER:
        raise ValueError(f"a weight is in g or oz, not {unit!r}")
    return weight * G_PER[unit]


def yards(metres: float) -> float:
    """Metres in yards."""
    return metres / M_PER_YARD


def ounces(weight_g: float) -> float:
    """Grams in ounces."""
    return weight_g / G_PER_OUNCE


def yarn_text(metres: float, units: Units) -> str:
    """A length of yarn: "84 m", "92 yd"; under ten to the tenth."""
    value, name = (yards(metres), "yd") if units == "in" else (metres, "m")
    return f"{round(value, 1):g} {name}" if value < 10 else f"{round(value)} {name}"


def label_text(metres: float, units: Units) -> str:
    """A length as a label has it, to the tenth: "125 m", "136.7 yd"."""
    return f"{round(yards(metres), 1):g} yd" if units == "in" else f"{round(metres, 1):g} m"


def yarn_range_text(low_m: float, high_m: float, units: Units) -> str:
    """ "70 to 98 m", "77 to 107 yd"; rounded outward, so that the words promise no less than the figures."""
    low, high, name = (yards(low_m), yards(high_m), "yd") if units == "in" else (low_m, high_m, "m")
    return f"{math.floor(low)} to {math.ceil(high)} {name}"


def grams_text(weight_g: float) -> str:
    """Grams of what is worked out: "38 g"; under ten to the tenth."""
    return f"{round(weight_g, 1):g} g" if weight_g < 10 else f"{round(weight_g)} g"


def percent_text(share: float) -> str:
    """A share in per cent with its sign: "−5 %", "+3 %", "0 %"."""
    whole = round(share * 100)
    return f"{'−' if whole < 0 else '+' if whole > 0 else ''}{abs(whole)} %"
