"""Hands against the published tables; the plausible is asked about and taken."""

from __future__ import annotations

import math
from statistics import NormalDist

import pytest

from server.craft.measure.hands import (
    aged_hand,
    ask_again,
    group_spread,
    guessed_hand,
    measured_hand,
    sized_hand,
)
from server.craft.measure.handtables import (
    adult_spread,
    child_spread,
    dress_glove_mm,
    glove_sizes,
    hand_rows,
    nearest_glove_size,
    statistics_of,
)
from server.craft.measure.lengths import Units

EN = {6: 152, 7: 178, 8: 203, 9: 229, 10: 254, 11: 279}
"""EN 420:2003, hand circumference in mm: granberg.no EN 420 page; focal-gloves.com/standards."""


@pytest.mark.parametrize(("size", "mm"), EN.items())
def test_an_en_size_is_its_published_circumference(size: int, mm: float) -> None:
    assert sized_hand(str(size)).around_mm == mm
    assert nearest_glove_size(mm).number == size
    # Size number = circumference in English inches (derived in the reference tables).
    assert mm == math.floor(size * 25.4 + 0.5)


@pytest.mark.parametrize(("letter", "mm"), [("XS", 152), ("s", 178), ("M", 203), ("l", 229), ("xxl", 279)])
def test_a_letter_is_a_size_too(letter: str, mm: float) -> None:
    assert sized_hand(letter).around_mm == mm


def test_a_dress_glove_seven_is_no_en_seven() -> None:
    """The trap: French inches of about 27 mm (glove.org), so 189 mm against 178 mm."""
    assert dress_glove_mm(7) == 189
    assert sized_hand("dress 7").around_mm == 189
    assert sized_hand("7").around_mm == 178
    assert "dress glove" in sized_hand("7").says
    assert "27 mm" in sized_hand("dress 7").says


@pytest.mark.parametrize("name", ["", "14", "3", "XXXXL", "dress", "dress 70", "seven"])
def test_a_size_that_is_none_says_what_there_is(name: str) -> None:
    with pytest.raises(ValueError, match=r"[Ss]izes"):
        sized_hand(name)


# ANSUR II as published (NATICK/TR-15/007, computed from the public raw rows): mean, SD, P5, P50, P95 in mm.
ANSUR = {
    ("men", "hand circumference"): (212.3, 10.2, 195, 212, 230),
    ("men", "wrist circumference"): (175.9, 9.0, 162, 176, 191),
    ("men", "hand length"): (193.3, 10.0, 177, 193, 210),
    ("women", "hand circumference"): (186.6, 8.8, 173, 187, 202),
    ("women", "wrist circumference"): (154.8, 7.8, 142, 154, 168),
    ("women", "hand length"): (181.1, 10.1, 165, 180, 199),
}


@pytest.mark.parametrize(("what", "published"), ANSUR.items())
def test_ansur_is_reproduced_from_the_summary(
    what: tuple[str, str], published: tuple[float, float, float, float, float]
) -> None:
    group, measure = what
    population = {"men": "male US Army adult", "women": "female US Army adult"}[group]
    rows = statistics_of("ANSUR II", population, "all", measure)
    spread = adult_spread(group, measure)
    assert spread.mean_mm == pytest.approx(published[0], abs=0.06)
    assert spread.sd_mm == pytest.approx(published[1], abs=0.06)
    # The page prints whole millimetres; the rows have what linear interpolation gives.
    assert tuple(round(rows[name].value_mm) for name in ("P5", "P50", "P95")) == published[2:]


@pytest.mark.parametrize("group", ["men", "women"])
def test_a_normal_hand_has_the_measured_percentiles(group: str) -> None:
    """What the size table takes for granted: percentiles of a normal within 3 mm of those measured."""
    population = {"men": "male US Army adult", "women": "female US Army adult"}[group]
    rows = statistics_of("ANSUR II", population, "all", "hand circumference")
    spread = adult_spread(group, "hand circumference")
    normal = NormalDist(spread.mean_mm, spread.sd_mm)
    for percent in (5, 10, 50, 75, 90, 95, 99):
        assert normal.inv_cdf(percent / 100) == pytest.approx(rows[f"P{percent}"].value_mm, abs=3)


CHILDREN = {2: 120, 3: 127, 4: 133, 5: 138, 6: 145, 8: 156, 10: 167, 12: 180, 14: 192, 16: 197}
"""Hand circumference estimate, mm: Snyder et al. 1977 (UM-HSRI-77-17) breadth x 2.40, derived."""


@pytest.mark.parametrize(("age", "mm"), CHILDREN.items())
def test_a_child_goes_by_age(age: int, mm: float) -> None:
    assert aged_hand(age).around_mm == pytest.approx(mm, abs=1)
    assert "guess" in aged_hand(age).says.lower()
    assert child_spread(age, "hand circumference").sd_mm == pytest.approx(
        2.4 * child_spread(age, "hand breadth").sd_mm
    )


@pytest.mark.parametrize(
    ("age", "says"),
    [
        (0, "Nothing usable is published for 0 years"),
        (1, "Nothing usable is published for 1 year;"),
        (19, "At 19 a hand is a grown-up's"),
        (40, "At 40 a hand is a grown-up's"),
    ],
)
def test_an_age_without_figures_says_so(age: int, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        aged_hand(age)


@pytest.mark.parametrize(
    ("number", "units", "says"),
    [
        (
            7.5,
            "cm",
            "7.5 cm around the knuckles is unusual for a woman (15.1 cm to 22.2 cm). Was it 7.5 inches? "
            "Then write 7.5 in.",
        ),
        (
            19,
            "in",
            "19 in around the knuckles is unusual for a woman (5.95 in to 8.75 in). Was it 19 cm? Then "
            "write 19 cm.",
        ),
    ],
)
def test_a_number_in_the_other_unit_is_asked_about_so(number: float, units: Units, says: str) -> None:
    hand = measured_hand(number * (25.4 if units == "in" else 10), "women")
    assert ask_again(hand, units) == (says,)


def test_a_guess_names_its_population() -> None:
    assert "1986 women of the US Army" in guessed_hand("women").says
    assert "guess" in guessed_hand().says.lower()
    assert guessed_hand().spread_mm > guessed_hand("women").spread_mm
    both = group_spread("adults")
    # A half-and-half mixture: SD² is the mean of both plus the square of half the way between (derived).
    assert both.mean_mm == pytest.approx((212.28 + 186.55) / 2, abs=0.01)
    assert both.sd_mm == pytest.approx(math.sqrt((10.2**2 + 8.82**2) / 2 + 12.865**2), abs=0.05)


def test_every_row_names_source_and_confidence() -> None:
    rows = hand_rows()
    assert len(rows) == 475
    assert all(row.source and row.confidence in ("seen", "memory", "derived") for row in rows)
    assert {size.number: size.confidence for size in glove_sizes()} == {
        **dict.fromkeys((4, 5, 12, 13), "memory"),
        **dict.fromkeys(EN, "seen"),
    }


@pytest.mark.parametrize("mm", [150, 223])
def test_an_unlikely_measure_is_asked_about_and_taken(mm: float) -> None:
    hand = measured_hand(mm, "women")
    assert len(ask_again(hand)) == 1
    assert hand.around_mm == mm
    assert ask_again(measured_hand(187, "women")) == ()


def test_the_group_decides_what_is_unlikely() -> None:
    assert ask_again(measured_hand(230, "women"))
    assert not ask_again(measured_hand(230, "men"))
    assert not ask_again(measured_hand(230, "adults"))
    assert not ask_again(measured_hand(110, None))
    assert ask_again(measured_hand(110, "men"))
    assert "thumb" in ask_again(measured_hand(260, "women"))[0]
    assert not ask_again(measured_hand(145, "child", 6))
    assert ask_again(measured_hand(190, "child", 6))


def test_the_other_measures_are_asked_about_too() -> None:
    hand = measured_hand(187, "women")
    fine = hand.with_lengths(wrist_mm=155, wrist_to_thumb_mm=60, wrist_to_end_mm=130)
    assert ask_again(fine) == ()
    odd = hand.with_lengths(wrist_mm=120, wrist_to_thumb_mm=150, wrist_to_end_mm=140)
    questions = ask_again(odd)
    assert len(questions) == 3
    assert "wrist of 12 cm" in questions[0]
    assert "palm" in questions[1]
    assert "in order" in questions[2]


@pytest.mark.parametrize("mm", [0, -3, math.inf, math.nan])
def test_a_measure_is_above_nothing(mm: float) -> None:
    with pytest.raises(ValueError, match="above 0"):
        measured_hand(mm)
