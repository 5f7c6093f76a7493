"""Metres from the fabric against the published measurements."""

from __future__ import annotations

import math

import pytest

from server.craft.fabric import Numbers, work
from server.craft.fabric.values import Node
from server.craft.measure.calibrating import calibrated
from server.craft.measure.needing import TAIL_M, swatch_m, tails_m, yarn_need
from server.craft.measure.putup import PutUp, read_put_up
from server.craft.measure.yarnlength import (
    closed_mm,
    node_mm,
    piece_yarn,
    prior_spread,
    setting,
    stitch_lengths_mm,
    stitch_mm,
)
from server.craft.measure.yarntable import yarn_category
from server.craft.text.reader import read
from tests.craft.measure.mitts import quay, tube

# windchilde.com/bluedepth (worsted, 5 mm hook): inches of yarn in one 5 in row.
ROWS_IN = {"ch": 25.5, "sc": 53, "hdc": 78.5, "dc": 102}
WORSTED_5 = setting(5, yarn_category(4))


@pytest.mark.parametrize(("stitch", "inches"), ROWS_IN.items())
def test_a_row_of_five_inches_takes_what_was_measured(stitch: str, inches: float) -> None:
    """At about 3.25 stitches to the inch, the gauge that the reference page derives with."""
    assert stitch_lengths_mm()[stitch] * 5 * 3.25 == pytest.approx(inches * 25.4)


def test_a_stitch_is_as_long_as_the_page_derives() -> None:
    """Reference page, section 7: one sc about 8.3 cm, hdc 4.8 in, dc 6.3 in; 1 : 1.48 : 1.92."""
    known = stitch_lengths_mm()
    assert known["sc"] == pytest.approx(83, abs=0.5)
    assert known["hdc"] / 25.4 == pytest.approx(4.8, abs=0.05)
    assert known["dc"] / 25.4 == pytest.approx(6.3, abs=0.05)
    assert known["hdc"] / known["sc"] == pytest.approx(1.48, abs=0.005)
    assert known["dc"] / known["sc"] == pytest.approx(1.92, abs=0.005)
    assert 2.4 <= known["tr"] / known["sc"] <= 2.5  # extrapolated, from memory


@pytest.mark.parametrize(("stitch", "square_in"), [("sc", 785.5), ("hdc", 802), ("dc", 790)])
def test_a_square_takes_what_was_measured(stitch: str, square_in: float) -> None:
    """The same author's 5 x 5 in squares. A square is so many rows of 5 in; how many is not published, so
    this holds the other way round: as many rows as make up the yarn are as high as such rows are, an sc
    row less than an hdc row less than a dc row, and a square in any of them takes the same within 2 %.
    """
    rows = square_in / ROWS_IN[stitch]
    row_mm = 5 * 25.4 / rows
    assert {"sc": (7, 10), "hdc": (10, 14), "dc": (14, 18)}[stitch][0] <= row_mm
    assert row_mm <= {"sc": (7, 10), "hdc": (10, 14), "dc": (14, 18)}[stitch][1]
    assert square_in == pytest.approx(792.5, rel=0.015)


@pytest.mark.parametrize(("stitch", "begin"), [("sc", 1), ("hdc", 2), ("dc", 3)])
def test_a_tube_is_the_sum_of_its_stitches(stitch: str, begin: int) -> None:
    pattern, fabric = tube(stitch, 20, 3)
    known = stitch_lengths_mm()
    a_round = 20 * known[stitch] + begin * known["ch"] + known["sl st"]
    by_hand = (20 * known["ch"] + known["sl st"] + 3 * a_round) / 1000
    assert piece_yarn(fabric, pattern.header, WORSTED_5).metres == pytest.approx(by_hand)


def test_a_round_of_the_mitts_worked_by_hand() -> None:
    """24 chains, rnd 3: one sl st, ch 4, then 15 dc and 7 ch-1; joined with a sl st."""
    pattern, fabric = quay(24)
    piece = piece_yarn(fabric, pattern.header, WORSTED_5)
    known = stitch_lengths_mm()
    round_3 = next(each for each in piece.rounds if each.label == "Rnd 3")
    by_hand = 15 * known["dc"] + (4 + 7) * known["ch"] + 2 * known["sl st"]
    assert round_3.metres * 1000 == pytest.approx(by_hand)
    assert round_3.unmeasured_m * 1000 == pytest.approx(2 * known["sl st"])
    assert piece.metres == pytest.approx(math.fsum(each.metres for each in piece.rounds))
    assert piece.yarn_ends == 4  # its own two, and the bottom edging's


def test_other_hooks_and_yarns_scale_every_stitch_alike() -> None:
    """(hook + thickness) / (5 + 2.42); worsted is 10.5 wraps to the inch: 2.42 mm."""
    pattern, fabric = quay(24)
    at_5 = piece_yarn(fabric, pattern.header, WORSTED_5).metres
    at_5_5 = piece_yarn(fabric, pattern.header, setting(5.5, yarn_category(4))).metres
    assert WORSTED_5.scale == pytest.approx(1)
    assert at_5_5 / at_5 == pytest.approx((5.5 + 25.4 / 10.5) / (5 + 25.4 / 10.5))
    fine = setting(2.75, yarn_category(1))
    assert fine.scale == pytest.approx((2.75 + 25.4 / 22) / (5 + 25.4 / 10.5))


def test_what_is_not_known_is_guessed_and_said() -> None:
    assert setting().guessed
    assert setting().scale == pytest.approx(1)
    assert setting(3.0).thickness_mm == yarn_category(1).thickness_mm
    assert setting(None, yarn_category(3)).hook_mm == 5
    assert not setting(5, yarn_category(4)).guessed
    with pytest.raises(ValueError, match="above 0"):
        setting(0)


def test_stitches_put_together() -> None:
    known = stitch_lengths_mm()
    assert stitch_mm("sc2tog") == pytest.approx(2 * known["sc"] - known["ch"])
    assert stitch_mm("dc3tog") == pytest.approx(3 * known["dc"] - 2 * known["ch"])
    assert stitch_mm("FPdc") == known["dc"]
    assert stitch_mm("cluster") == closed_mm(["dc"] * 3)
    assert known["dc"] < stitch_mm("puff") < stitch_mm("popcorn")
    assert node_mm(Node("picot", "picot", 3, (), "none")) == 3 * known["ch"] + known["sl st"]
    # Foundation single crochet makes its own chain.
    assert node_mm(Node("stitch", "sc", 1, (), "none")) == known["sc"] + known["ch"]
    assert node_mm(Node("stitch", "sc", 1, (3,), "top")) == known["sc"]


def test_a_cluster_of_its_own_takes_the_legs_it_is_given() -> None:
    text = (
        "Title: A\nSizes: one\nFoundation: 12, multiple of 1\n"
        "Special stitch: cluster = 4 tr closed together\n\n"
        "# A\nFoundation rnd: Ch 12; join with sl st in first ch to form a ring.\n"
        "Rnd 1: Ch 1, cluster in each ch around; join with sl st in first cluster.\n"
    )
    pattern = read(text).pattern
    piece = piece_yarn(work(pattern, Numbers(12, "one")), pattern.header, WORSTED_5)
    known = stitch_lengths_mm()
    by_hand = 12 * closed_mm(["tr"] * 4) + known["ch"] + known["sl st"]
    assert piece.rounds[1].metres * 1000 == pytest.approx(by_hand)
    assert piece.unmeasured > 0.9
    assert prior_spread(piece.unmeasured) > prior_spread(0)


def test_tails_joins_edgings_and_a_swatch_are_counted() -> None:
    pattern, fabric = quay(24)
    piece = piece_yarn(fabric, pattern.header, WORSTED_5)
    plain = yarn_need(piece, calibrated(WORSTED_5), WORSTED_5)
    assert plain.extras_m == pytest.approx(8 * TAIL_M)
    assert tails_m(piece) == pytest.approx(0.6)
    assert plain.metres.middle == pytest.approx(2 * piece.metres + 1.2)
    kept = yarn_need(piece, calibrated(WORSTED_5), WORSTED_5, swatch_kept=True)
    # 785.5 in of yarn in a square of 5 in (windchilde.com/bluedepth): 19.95 m
    assert swatch_m(WORSTED_5) == pytest.approx(19.95, abs=0.01)
    assert kept.metres.middle - plain.metres.middle == pytest.approx(19.95, abs=0.01)
    small = yarn_need(piece, calibrated(WORSTED_5), WORSTED_5, put_up=PutUp(10, 17))
    assert small.extras_m == pytest.approx(1.2 + 4 * 2 * TAIL_M)  # 5 balls: 4 joins
    edgings = [each for each in piece.rounds if each.section in (3, 4)]
    assert len(edgings) == 2
    assert piece.metres > math.fsum(each.metres for each in piece.rounds if each.section < 3)


def test_balls_are_whole_and_enough() -> None:
    pattern, fabric = quay(24)
    piece = piece_yarn(fabric, pattern.header, WORSTED_5)
    label = PutUp(25, 42.5)
    need = yarn_need(
        piece, calibrated(WORSTED_5, put_up=label, category=yarn_category(4)), WORSTED_5, put_up=label
    )
    assert need.balls is not None
    assert need.balls.likely <= need.balls.surely
    assert need.balls.surely * label.metres >= need.metres.high > (need.balls.surely - 1) * label.metres


@pytest.mark.parametrize(
    ("text", "grams", "metres"),
    [
        ("4 medium, 74 (84, 96) m, 100 g = 170 m", 100, 170),
        ("50g/125m", 50, 125),
        ("50 g (85 m)", 50, 85),
        ("170 m per 100 g", 100, 170),
        ("1.75 oz = 110 yds", 49.61, 100.58),
        ("100 grams - 219 yards", 100, 200.25),
    ],
)
def test_labels_as_they_are_written(text: str, grams: float, metres: float) -> None:
    read_off = read_put_up(text)
    assert read_off is not None
    assert (round(read_off.grams, 2), round(read_off.metres, 2)) == (grams, metres)


@pytest.mark.parametrize("text", ["", "100 g", "170 m", "0 g = 170 m", "two balls"])
def test_no_label_is_none(text: str) -> None:
    assert read_put_up(text) is None
