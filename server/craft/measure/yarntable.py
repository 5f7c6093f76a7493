"""Yarn categories by the Craft Yarn Council's standard, as shipped in `data/yarn_weights.csv`.

Ranges are guidelines only, in every edition. What a range leaves open at one end (super bulky "under 100 m",
jumbo "5 stitches and fewer", "16 mm and up") is closed here by judgement, see `_closed`.
"""

from __future__ import annotations

import csv
import math
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from server.craft.measure.hooks import HOOKS_MM
from server.craft.measure.lengths import MM_PER_INCH

GAUGE_LENGTH_MM = 4 * MM_PER_INCH
OPEN_END = 0.6  # judgement: an open range is taken to end at 0.6 of its one bound, or 1 / 0.6 of it
JUMBO_M_PER_100G = (25.0, 60.0)  # judgement: the table has none
UNIFORM_SD = 1 / math.sqrt(12)  # of a range where any value is as likely


@dataclass(frozen=True, slots=True)
class YarnCategory:
    """One category.

    gauge       fewest and most stitches in 4 in, in `gauge_stitch` (sc; lace: dc)
    hook_mm     smallest and largest recommended hook
    wpi         wraps per inch
    m_per_100g  metres in 100 g
    """

    number: int
    name: str
    gauge: tuple[float, float]
    gauge_stitch: str
    hook_mm: tuple[float, float]
    wpi: tuple[float, float]
    m_per_100g: tuple[float, float]
    note: str
    source: str
    confidence: str

    @property
    def thickness_mm(self) -> float:
        """The yarn's thickness, mm: an inch over the middle of its wraps per inch (derived)."""
        return MM_PER_INCH * 2 / sum(self.wpi)

    @property
    def usual_hook_mm(self) -> float:
        """The hook in the middle of the recommended range that is sold, mm."""
        middle = sum(self.hook_mm) / 2
        return min(HOOKS_MM, key=lambda hook: (abs(hook - middle), hook))

    @property
    def title(self) -> str:
        """ "4 medium"."""
        return f"{self.number} {self.name.lower()}"


@cache
def yarn_categories() -> tuple[YarnCategory, ...]:
    """All categories, 0 lace to 7 jumbo."""
    text = (files("server.craft.measure") / "data" / "yarn_weights.csv").read_text(encoding="utf-8")
    return tuple(_category(row) for row in csv.DictReader(text.splitlines()))


def yarn_category(named: int | str) -> YarnCategory:
    """A category by number or name ("4", "4 medium", "worsted"). ValueError with what there is for
    another.
    """
    low = str(named).strip().lower()
    for each in yarn_categories():
        if low in (str(each.number), each.name.lower(), each.title):
            return each
    for each in yarn_categories():
        if low in _typical()[each.number]:
            return each
    there = ", ".join(each.title for each in yarn_categories())
    raise ValueError(f"{str(named).strip()!r} is no yarn category. There are {there}.")


def category_for_hook(hook_mm: float) -> YarnCategory:
    """The category whose recommended hooks are nearest in size: a guess where only the hook is known."""
    return min(
        yarn_categories(),
        key=lambda each: (abs(math.log(hook_mm / math.sqrt(each.hook_mm[0] * each.hook_mm[1]))), each.number),
    )


@cache
def _typical() -> dict[int, frozenset[str]]:
    text = (files("server.craft.measure") / "data" / "yarn_weights.csv").read_text(encoding="utf-8")
    return {
        int(row["cyc_number"]): frozenset(name.strip().lower() for name in row["typical_yarns"].split(","))
        for row in csv.DictReader(text.splitlines())
    }


def _category(row: dict[str, str]) -> YarnCategory:
    metres = _closed(row["m_per_100g_min_wikipedia"], row["m_per_100g_max_wikipedia"])
    return YarnCategory(
        int(row["cyc_number"]),
        row["name"],
        _closed(row["gauge_min_per_4in"], row["gauge_max_per_4in"]) or (1.0, 5.0),
        "dc" if row["gauge_stitch"].startswith("double") else "sc",
        _closed(row["hook_mm_min"], row["hook_mm_max"]) or (16.0, 19.0),
        _closed(row["wpi_cyc_min"], row["wpi_cyc_max"]) or (1.0, 4.0),
        metres or JUMBO_M_PER_100G,
        row["note"],
        row["source"],
        row["confidence"],
    )


def _closed(low: str, high: str) -> tuple[float, float] | None:
    """The bounds of a range, an open end closed; None where there is no bound at all."""
    if low and high:
        return float(low), float(high)
    if high:
        return float(high) * OPEN_END, float(high)
    return (float(low), float(low) / OPEN_END) if low else None
