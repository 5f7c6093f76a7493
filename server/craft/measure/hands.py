"""A maker's hand: measured, by a size's name, by a child's age, or guessed from a group.

Around means around the knuckles of the open hand, fingers together, the thumb left out (the definition of
hand girth in schema.org's BodyMeasurementHand). All lengths in mm; lengths along the hand begin at the wrist.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal

from server.craft.measure.handtables import (
    Spread,
    adult_spread,
    child_ages,
    child_spread,
    dress_glove_mm,
    glove_sizes,
)
from server.craft.measure.lengths import MM_PER_INCH, Units, length_text

Group = Literal["women", "men", "adults", "child"]
Known = Literal["measured", "size", "age", "group"]
TAPE_MM = 3.0  # judgement: a soft tape around a hand, read twice, differs by about so much
SIZE_STEP_MM = 25.4
PLAUSIBLE_SDS = 4.0  # of a normal population 1 in 16 000 is outside
PALM_PER_HAND = 0.60  # palm length / hand length (derived from ANSUR II)
WRIST_PER_HAND = (0.83, 0.03)  # wrist / hand circumference, mean and SD (derived from ANSUR II)


@dataclass(frozen=True, slots=True)
class Hand:
    """A hand.

    around_mm          around the knuckles, thumb left out
    spread_mm          give or take (one standard deviation)
    wrist_mm           around the wrist; None where not known
    wrist_to_thumb_mm  from the wrist to where the thumb parts from the hand
    wrist_to_end_mm    from the wrist to where the glove shall end
    group, age_years   who it is compared with; None where not said
    says               where it comes from, in words
    """

    around_mm: float
    spread_mm: float
    known: Known
    says: str
    wrist_mm: float | None = None
    wrist_to_thumb_mm: float | None = None
    wrist_to_end_mm: float | None = None
    group: Group | None = None
    age_years: int | None = None

    def with_lengths(
        self, *, wrist_mm: float | None, wrist_to_thumb_mm: float | None, wrist_to_end_mm: float | None
    ) -> Hand:
        """The same hand with what else was measured, mm."""
        return replace(
            self,
            wrist_mm=_above_0(wrist_mm),
            wrist_to_thumb_mm=_above_0(wrist_to_thumb_mm),
            wrist_to_end_mm=_above_0(wrist_to_end_mm),
        )


def measured_hand(around_mm: float, group: Group | None = None, age_years: int | None = None) -> Hand:
    """A hand she measured. ValueError unless it is above 0; one that is unlikely is taken: see
    `ask_again`.
    """
    _above_0(around_mm)
    return Hand(
        around_mm, TAPE_MM, "measured", "Measured around the knuckles.", group=group, age_years=age_years
    )


def sized_hand(name: str) -> Hand:
    """A hand by a glove size by EN ISO 21420: "7", "S", "7 (S)", "dress 7" (French inches of 27 mm).

    ValueError with what would be right for a name that is none. Its spread is that of a step between sizes
    (25.4 mm / √12: any hand from half a step below to half a step above).
    """
    low = name.strip().lower()
    if dress := re.fullmatch(r"dress(?:\s+(?:size|gloves?))?\s+(\d{1,2}(?:[.,]\d+)?)", low):
        size = float(dress[1].replace(",", "."))
        if not 4 <= size <= 13:
            raise ValueError(f"Dress glove sizes go from 4 to 13, not {dress[1]}.")
        return Hand(
            dress_glove_mm(size), SIZE_STEP_MM / 2 / math.sqrt(12), "size",
            f"Dress glove size {size:g}: French inches of about 27 mm. A work glove of that number is "
            "smaller.",
        )  # fmt: skip
    for each in glove_sizes():
        names = {str(each.number), each.letter.lower(), f"{each.number} ({each.letter.lower()})"} - {""}
        if low.removeprefix("size ") in names:
            says = (
                f"Glove size {each.number}{f' ({each.letter})' if each.letter else ''} by EN ISO 21420: "
                "the middle of that size, so a guess. A dress glove of that number is larger."
            )
            return Hand(each.around_mm, SIZE_STEP_MM / math.sqrt(12), "size", says)
    numbers = [size.number for size in glove_sizes()]
    raise ValueError(
        f"{name.strip()!r} is no glove size. Sizes are {numbers[0]} to {numbers[-1]}, XS to XXL, "
        "or dress 6 and so on."
    )


def aged_hand(age_years: int) -> Hand:
    """A child's hand by completed years. ValueError where nothing was measured at that age."""
    ages = child_ages()
    if age_years > ages[-1]:
        raise ValueError(
            f"At {age_years} a hand is a grown-up's: the figures by age end at {ages[-1]}. Measure it, or "
            "say whose it is."
        )
    if age_years not in ages:
        years = f"{age_years} year{'' if age_years == 1 else 's'}"
        raise ValueError(
            f"Nothing usable is published for {years}; there are figures from {ages[0]} to "
            f"{ages[-1]}. Measure the hand, or an older mitten that fits."
        )
    spread = child_spread(age_years, "hand circumference")
    says = (
        f"A guess: the middle of {spread.n} US children aged {age_years} measured in 1977 "
        "(palm width times 2.4; the way around was not taken)."
    )
    return Hand(spread.mean_mm, spread.sd_mm, "age", says, group="child", age_years=age_years)


def guessed_hand(group: Literal["women", "men", "adults"] = "adults") -> Hand:
    """A hand where nothing is known but perhaps whose it is: the middle of that group, said to be a guess."""
    spread = group_spread(group)
    who = {"women": "women", "men": "men", "adults": "women and men"}[group]
    says = (
        f"A guess: the middle of {spread.n} {who} of the US Army measured for ANSUR II. "
        "Soldiers are no size chart."
    )
    return Hand(spread.mean_mm, spread.sd_mm, "group", says, group=group)


def group_spread(group: Group, age_years: int | None = None, measure: str = "hand circumference") -> Spread:
    """Mean and SD of a measure of a group, mm; "adults" is half women, half men.

    ValueError for a child without an age that was measured.
    """
    if group == "child":
        if age_years not in child_ages():
            raise ValueError("a child's hand goes by age")
        return child_spread(age_years, measure)
    if group != "adults":
        return adult_spread(group, measure)
    women, men = adult_spread("women", measure), adult_spread("men", measure)
    mean = (women.mean_mm + men.mean_mm) / 2
    between = (men.mean_mm - women.mean_mm) / 2
    sd = math.sqrt((women.sd_mm**2 + men.sd_mm**2) / 2 + between**2)
    return Spread(mean, sd, women.n + men.n)


def ask_again(hand: Hand, units: Units = "cm") -> tuple[str, ...]:
    """A question for each measure that is hardly plausible for the group; none where all are.

    Plausible is within 4 SD of the group's mean (ANSUR II, AnthroKids), and for the lengths not longer than
    the hand and the palm of such a person; a wrist also within 4 SD of its usual share of the hand. Whoever
    answers yes is right: a measure is asked about once and then taken.
    """
    return tuple(_questions(hand, units))


def plausible_mm(group: Group | None, age_years: int | None, measure: str) -> tuple[float, float]:
    """Lowest and highest plausible value of a measure, mm; of anyone from 2 years on where no group is
    said.
    """
    if group is None or (group == "child" and age_years not in child_ages()):
        every = [child_spread(age, measure) for age in child_ages()]
        grown = [adult_spread("women", measure), adult_spread("men", measure)] if group is None else []
    else:
        every, grown = [], [group_spread(group, age_years, measure)]
        if group == "adults":
            grown = [adult_spread("women", measure), adult_spread("men", measure)]
    spreads = every + grown
    return (
        min(one.mean_mm - PLAUSIBLE_SDS * one.sd_mm for one in spreads),
        max(one.mean_mm + PLAUSIBLE_SDS * one.sd_mm for one in spreads),
    )


def _questions(hand: Hand, units: Units) -> Iterator[str]:
    group = hand.group if hand.known != "size" else None
    who = _who(group, hand.age_years)
    low, high = plausible_mm(group, hand.age_years, "hand circumference")
    around = length_text(hand.around_mm, units)
    if hand.known == "measured" and not low <= hand.around_mm <= high:
        what = _other_unit(hand.around_mm, low, high, units) or (
            "Was the thumb left out?" if hand.around_mm > high else "Was it all the way around?"
        )
        yield (
            f"{around} around the knuckles is unusual for {who} "
            f"({length_text(low, units)} to {length_text(high, units)}). {what}"
        )
    if hand.wrist_mm is not None:
        mean, sd = WRIST_PER_HAND
        lowest, highest = ((mean + side * PLAUSIBLE_SDS * sd) * hand.around_mm for side in (-1, 1))
        if not lowest <= hand.wrist_mm <= highest:
            yield (
                f"A wrist of {length_text(hand.wrist_mm, units)} is unusual for a hand of {around} "
                f"({length_text(lowest, units)} to {length_text(highest, units)}). Is it so?"
            )
    longest = plausible_mm(group, hand.age_years, "hand length")[1]
    thumb, end = hand.wrist_to_thumb_mm, hand.wrist_to_end_mm
    if thumb is not None and thumb > longest * PALM_PER_HAND:
        yield f"{length_text(thumb, units)} from wrist to thumb is longer than the palm of {who}. Is it so?"
    if end is not None and end > longest:
        yield f"{length_text(end, units)} from wrist to end is longer than the hand of {who}. Is it so?"
    if thumb is not None and end is not None and end <= thumb:
        yield "The glove would end before the thumb parts from the hand. Are the two measures in order?"


def _other_unit(around_mm: float, low: float, high: float, units: Units) -> str:
    """A number in the other unit, where it would be a hand in that; else empty."""
    own, other = (MM_PER_INCH, 10.0) if units == "in" else (10.0, MM_PER_INCH)
    number = around_mm / own
    if not low <= number * other <= high:
        return ""
    return f"Was it {number:g} {'cm' if units == 'in' else 'inches'}? Then write {number:g} " + (
        "cm." if units == "in" else "in."
    )


def _who(group: Group | None, age_years: int | None) -> str:
    if group == "child":
        return f"a child of {age_years}" if age_years in child_ages() else "a child"
    if group is None:
        return "a hand, from 2 years on"
    return {"women": "a woman", "men": "a man", "adults": "a grown-up"}[group]


def _above_0(length_mm: float | None) -> float | None:
    if length_mm is not None and not 0 < length_mm < math.inf:
        raise ValueError(f"a length is above 0 mm, not {length_mm:g}")
    return length_mm
