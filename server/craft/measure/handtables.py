"""The published hand sizes as they are shipped: `data/hand_sizes.csv`, each row with source and
confidence.
"""

from __future__ import annotations

import csv
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

EN = ("EN 420", "EN ISO 21420")
ANSUR, CHILDREN, CHILDREN_AROUND = "ANSUR II", "AnthroKids 1977", "AnthroKids 1977 (derived)"
PER_BREADTH = 2.40  # hand circumference / breadth, pooled (derived from ANSUR II: 2.406 men, 2.388 women)
DRESS_INCH_MM = 27.0  # dress gloves go by the French inch, "about 27 mm" (seen: a glove article; glove.org)


@dataclass(frozen=True, slots=True)
class HandRow:
    """One row of the table; `value_mm` in mm, `n` people measured (None where it is a nominal size)."""

    table: str
    population: str
    size_or_age: str
    measure: str
    statistic: str
    value_mm: float
    n: int | None
    source: str
    confidence: str
    note: str


@dataclass(frozen=True, slots=True)
class Spread:
    """A measure of a population, mm: mean and standard deviation, and how many people were measured."""

    mean_mm: float
    sd_mm: float
    n: int


@cache
def hand_rows() -> tuple[HandRow, ...]:
    """Every row, in the file's order."""
    text = (files("server.craft.measure") / "data" / "hand_sizes.csv").read_text(encoding="utf-8")
    return tuple(
        HandRow(
            row["table"], row["population"], row["size_or_age"], row["measure"], row["statistic"],
            float(row["value"]), int(row["n"]) if row["n"] else None,
            row["source"], row["confidence"], row["note"],
        )
        for row in csv.DictReader(text.splitlines())
    )  # fmt: skip


@cache
def statistics_of(table: str, population: str, size_or_age: str, measure: str) -> dict[str, HandRow]:
    """Rows of one measure of one group by statistic ("mean", "SD", "P5" …); empty where there is none."""
    return {
        row.statistic: row
        for row in hand_rows()
        if (row.table, row.size_or_age, row.measure) == (table, size_or_age, measure)
        and row.population == population
    }


@cache
def adult_spread(group: str, measure: str) -> Spread:
    """ANSUR II of "women" or "men": "hand circumference", "wrist circumference", "hand length" …"""
    population = {"women": "female US Army adult", "men": "male US Army adult"}[group]
    rows = statistics_of(ANSUR, population, "all", measure)
    return Spread(rows["mean"].value_mm, rows["SD"].value_mm, rows["mean"].n or 0)


@cache
def child_ages() -> tuple[int, ...]:
    """Completed years of age that were measured, rising."""
    rows = {row.size_or_age for row in hand_rows() if row.table == CHILDREN}
    return tuple(sorted(int(age.removesuffix(" y")) for age in rows))


@cache
def child_spread(age_years: int, measure: str) -> Spread:
    """AnthroKids at that completed year. "hand circumference" was not taken: breadth x 2.40, and so its
    spread.

    KeyError for an age that was not measured: see `child_ages`.
    """
    taken = "hand breadth" if measure == "hand circumference" else measure
    rows = statistics_of(CHILDREN, "US children both sexes", f"{age_years} y", taken)
    by = PER_BREADTH if measure == "hand circumference" else 1.0
    return Spread(rows["mean"].value_mm * by, rows["SD"].value_mm * by, rows["mean"].n or 0)


@dataclass(frozen=True, slots=True)
class GloveSize:
    """A glove size by EN 420 / EN ISO 21420: number, letter ("" for none), hand in mm around and long."""

    number: int
    letter: str
    around_mm: float
    length_mm: float | None
    confidence: str


@cache
def glove_sizes() -> tuple[GloveSize, ...]:
    """All EN sizes, rising. The number is the hand's circumference in English inches."""
    sizes = []
    for row in hand_rows():
        if row.table in EN and row.measure == "hand circumference":
            number, _, letter = row.size_or_age.partition(" ")
            length = statistics_of(row.table, row.population, row.size_or_age, "hand length").get("nominal")
            sizes.append(
                GloveSize(
                    int(number), letter.strip("()"), row.value_mm,
                    length.value_mm if length is not None else None, row.confidence,
                )
            )  # fmt: skip
    return tuple(sorted(sizes, key=lambda size: size.number))


def nearest_glove_size(around_mm: float) -> GloveSize:
    """The EN size whose hand is nearest in circumference; the smaller of two as near."""
    return min(glove_sizes(), key=lambda size: (abs(size.around_mm - around_mm), size.number))


def dress_glove_mm(size: float) -> float:
    """The hand of a *dress* glove size, mm: French inches of about 27 mm, so that a dress 7 is 189 mm around
    where an EN 7 is 178 mm (derived in the reference tables).
    """
    return size * DRESS_INCH_MM
