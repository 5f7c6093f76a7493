"""Lengths, weights and yarn as a maker writes them, in her units or in others that she names.

A number alone is in her own unit; with a unit it is in that. Inches may be written as on a tape: 7 1/4.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Literal

from server.craft.measure.lengths import Units
from server.services.errors import Refusal

EXACT = 3  # places of a millimetre, a gram or a metre that are kept: finer than any tape or scale
MM = {
    "mm": Decimal(1), "cm": Decimal(10), "m": Decimal(1000), "in": Decimal("25.4"), "inch": Decimal("25.4"),
    "inches": Decimal("25.4"), '"': Decimal("25.4"), "”": Decimal("25.4"), "″": Decimal("25.4"),
}  # fmt: skip
METRES = {
    "m": Decimal(1), "metre": Decimal(1), "metres": Decimal(1), "meter": Decimal(1), "meters": Decimal(1),
    "cm": Decimal("0.01"), "yd": Decimal("0.9144"), "yds": Decimal("0.9144"), "yard": Decimal("0.9144"),
    "yards": Decimal("0.9144"), "in": Decimal("0.0254"), "inches": Decimal("0.0254"),
}  # fmt: skip
GRAMS = {"g": Decimal(1), "gr": Decimal(1), "gram": Decimal(1), "grams": Decimal(1), "kg": Decimal(1000),
         "oz": Decimal("28.349523125"), "ounces": Decimal("28.349523125")}  # fmt: skip
WRITTEN = re.compile(
    r"(?:(?P<whole>\d{1,5}) +)?(?P<top>\d{1,3})/(?P<bottom>\d{1,3})\s*(?P<a>[a-z\"”″]*)"
    r"|(?P<number>\d{1,5}(?:[.,]\d{1,6})?)\s*(?P<b>[a-z\"”″]*)",
    re.ASCII,
)


def length_mm(typed: str, units: Units, field: str, *, needed: bool = False) -> float | None:
    """A length in mm; None for nothing. Refusal(field) with what would be right."""
    example = "7.25, 7 1/4 or 18.5 cm" if units == "in" else "18.5 or 7 1/4 in"
    return _read(typed, MM, "in" if units == "in" else "cm", field, f"Write the length as {example}.", needed)


def metres(typed: str, units: Units, field: str, *, needed: bool = False) -> float | None:
    """A length of yarn in m (yards for who reads inches); None for nothing."""
    says = "Write the length of the yarn as 136, 136 yd or 125 m." if units == "in" else (
        "Write the length of the yarn as 125, 125 m or 136 yd."
    )  # fmt: skip
    return _read(typed, METRES, "yd" if units == "in" else "m", field, says, needed)


def grams(typed: str, field: str, *, needed: bool = False) -> float | None:
    """A weight in g; None for nothing."""
    return _read(typed, GRAMS, "g", field, "Write the weight in grams, such as 32, or 1.2 oz.", needed)


def _read(
    typed: str, factors: dict[str, Decimal], own: str, field: str, says: str, needed: bool
) -> float | None:
    text = " ".join(typed.strip().lower().split())
    if not text and not needed:
        return None
    found = WRITTEN.fullmatch(text)
    unit = ((found["a"] or found["b"]) if found else "") or own
    if found is None or unit not in factors or (found["bottom"] and int(found["bottom"]) == 0):
        raise Refusal(says, field)
    if found["top"]:
        number = Decimal(found["whole"] or 0) + Decimal(found["top"]) / Decimal(found["bottom"])
    else:
        number = Decimal(found["number"].replace(",", "."))
    return float(round(number * factors[unit], EXACT))


def shown_length(mm: float | None, units: Units) -> str:
    """A length as it stands in a field: "18.5", "7.125" (eighths stay what they are); empty for none."""
    if mm is None:
        return ""
    return f"{round(mm / 25.4, 3):g}" if units == "in" else f"{round(mm / 10, 2):g}"


YarnUnit = Literal["m", "yd"]


def yarn_unit(units: Units) -> YarnUnit:
    """ "m", or "yd" for who reads inches."""
    return "yd" if units == "in" else "m"
