"""Crowns against the geometry of a flat disc.

A disc of k rounds, each h high, has a radius of kh and goes 2πkh around; with stitches w wide that is
2πkh/w stitches. So every round of a crown that lies flat gains 2π · h/w: too few and it cups, too many and
it ruffles.

Worked once by hand, with the beret's gauge of 15 dc and 8 rounds to 10 cm: h = 10/8 = 1.25 cm,
w = 10/15 = 0.667 cm, h/w = 1.875, 2π · 1.875 = 11.78: 12 more in each round.

That single crochet takes 6, half double 8 and double crochet 12 is common practice, no source.
"""

import math
import re
from itertools import pairwise

import pytest

from server.craft.fabric.report import check
from tests.cases.hand import CASES


def flat_gain(height_cm: float, width_cm: float) -> float:
    """How many stitches more a round needs than the one before, for the disc to stay flat."""
    return 2 * math.pi * height_cm / width_cm


def test_the_value_worked_by_hand() -> None:
    assert flat_gain(10 / 8, 10 / 15) == pytest.approx(11.78, abs=0.005)


def test_a_stitch_as_high_as_it_is_wide_takes_six() -> None:
    # the first whole number that a full turn of 2π = 6.28 gives
    assert round(flat_gain(1, 1)) == 6


@pytest.mark.parametrize(
    ("case", "rounds", "stitch", "practice"),
    [
        ("tern-crown-cap", 10, "sc", 6),
        ("drizzle-crown-beanie", 8, "hdc", 8),  # its 9th round shapes the sizes, no disc any more
        ("oilskin-crown-beret", 8, "dc", 12),
        ("puffin-slouchy-hat", 6, "dc", 12),  # its 7th too
    ],
)
def test_crowns_gain_what_lies_flat_at_their_own_gauge(
    case: str, rounds: int, stitch: str, practice: int
) -> None:
    text = (CASES / "proved" / f"{case}.txt").read_text(encoding="utf-8")
    gauge = re.search(r"^Gauge: (\d+) sts and (\d+) rnds = 10 cm$", text, re.MULTILINE)
    assert gauge is not None
    width_cm, height_cm = 10 / int(gauge[1]), 10 / int(gauge[2])
    assert round(flat_gain(height_cm, width_cm)) == practice
    for size, worked in check(text)["rounds"].items():
        crown = [row["counts"][stitch] for row in worked if row["section"] == "Crown"][:rounds]
        assert crown[0] == practice, size
        assert {after - before for before, after in pairwise(crown)} == {practice}, size
        # The last round, in the width of its stitches, goes around the disc's radius: within 3 %, which is
        # what the step from 5.83 to 6, from 8.00 to 8, from 11.78 to 12 leaves.
        around_cm = crown[-1] * width_cm
        assert around_cm == pytest.approx(2 * math.pi * rounds * height_cm, rel=0.03), size
