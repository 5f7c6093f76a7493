"""A ball's label: so many grams are so many metres."""

from __future__ import annotations

import re
from dataclasses import dataclass

from server.craft.measure.lengths import Units, weight_text
from server.craft.measure.quantities import grams, label_text, mm, yarn_range_text
from server.craft.measure.yarntable import UNIFORM_SD, YarnCategory, yarn_category

LABEL_SPREAD = 0.03  # judgement: how well a label's metres hold; the trade allows a few per cent
NUMBER = r"(\d+(?:[.,]\d+)?)"
WEIGHT = rf"{NUMBER}\s*(g|gr|grams?|oz|ounces?)\b"
LENGTH = rf"{NUMBER}\s*(m|metres?|meters?|yds?|yards?)\b"
BETWEEN = r"[\s.,]*(?:=|/|per|to|is|:|-|–|\()[\s.]*"


@dataclass(frozen=True, slots=True)
class PutUp:
    """One ball: grams and metres, both above 0."""

    grams: float
    metres: float

    def __post_init__(self) -> None:
        if not (self.grams > 0 and self.metres > 0):
            raise ValueError("a ball has grams and metres, both above 0")

    @property
    def g_per_m(self) -> float:
        """Grams in a metre."""
        return self.grams / self.metres


def read_put_up(text: str) -> PutUp | None:
    """The first put-up in a text: "100 g = 170 m", "50g/125m", "1.75 oz = 110 yd", "170 m per 100 g"."""
    for first, pattern in (("g", WEIGHT + BETWEEN + LENGTH), ("m", LENGTH + BETWEEN + WEIGHT)):
        if match := re.search(pattern, text, re.IGNORECASE):
            (a, unit_a), (b, unit_b) = (match[1], match[2]), (match[3], match[4])
            if first == "m":
                (a, unit_a), (b, unit_b) = (b, unit_b), (a, unit_a)
            weight, length = grams_of(a, unit_a), metres_of(b, unit_b)
            return PutUp(weight, length) if weight > 0 and length > 0 else None
    return None


def metres_of(number: str, unit: str) -> float:
    """ "92", "yd" in metres."""
    return mm(float(number.replace(",", ".")), "yd" if unit.lower().startswith("y") else "m") / 1000


def grams_of(number: str, unit: str) -> float:
    """ "1.75", "oz" in grams."""
    return grams(float(number.replace(",", ".")), "oz" if unit.lower().startswith("o") else "g")


def grams_per_metre(
    put_up: PutUp | None, category: YarnCategory | None, units: Units = "cm"
) -> tuple[float, float, str]:
    """Grams in a metre, with its spread as a share, and where it is from, in words.

    From the label; else from the category's range of metres in 100 g (any of it as likely, so its width /
    √12); else from that of medium yarn.
    """
    if put_up is not None:
        says = f"By the label {weight_text(put_up.grams)} are {label_text(put_up.metres, units)}."
        return put_up.g_per_m, LABEL_SPREAD, says
    guess = category if category is not None else yarn_category(4)
    low, high = guess.m_per_100g
    middle = (low + high) / 2
    says = (
        f"{guess.title.capitalize()} yarn has {yarn_range_text(low, high, units)} in 100 g; a label would "
        "say it better."
    )
    return 100 / middle, (high - low) * UNIFORM_SD / middle, says
