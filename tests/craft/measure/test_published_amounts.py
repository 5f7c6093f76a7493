"""Published totals and the trade's amounts against the model as it is; the range is not fitted to them."""

from __future__ import annotations

import pytest

from server.craft.measure.beliefs import Range
from server.craft.measure.calibrating import calibrated
from server.craft.measure.needing import YarnNeed, yarn_need
from server.craft.measure.putup import PutUp
from server.craft.measure.quantities import G_PER_OUNCE
from server.craft.measure.stated_yarn import check_stated
from server.craft.measure.yarnlength import piece_yarn, setting
from server.craft.measure.yarntable import yarn_category
from server.craft.text.reader import read
from tests.craft.measure.mitts import QUAY, tube

# The sources give stitches and gauge, not every round. What is assumed here, once and for all of
# them: a tube of single crochet as long as the hand (the reference tables: baby's 2 y hand 102 mm, 6
# y 130 mm, 8 y 141 mm, 10 y 153 mm, man's 193 mm) and a cuff of half as much; rounds as high as the
# published squares have them (785.5 in of yarn in 5 in of rows of 53 in, at 3.25 stitches to the
# inch: a round is 1.1 of a stitch's width high); a thumb of an eighth more where there is one.
PER_STITCH_HIGH = (5 / (785.5 / 53)) * 3.25
THUMB = 1.125

PUBLISHED = [  # (what, sts around, sts per inch, hand mm, thumb, category, hook, put-up, grams)
    ("baby, thumbless, DK: 24 g = 79 m (thebuttonship)", 30, 5.0, 102, 1.0, 3, 4.0, PutUp(24, 79), (24, 24)),
    ("kids 5.5 in: 1.5 oz (suzies-yarnie-stuff 2013-10)", 22, 4.0, 130, THUMB, 4, None, None, (1.5, 1.5)),
    ("kids 6 in: 1.75 oz (suzies-yarnie-stuff 2013-10)", 24, 4.0, 141, THUMB, 4, None, None, (1.75, 1.75)),
    ("kids 6.5 in: 2 oz (suzies-yarnie-stuff 2013-10)", 26, 4.0, 153, THUMB, 4, None, None, (2, 2)),
    ("men 28 sts: 3 to 3.5 oz (suzies-yarnie-stuff 2009-10)", 28, 3.5, 193, THUMB, 4, None, None, (3, 3.5)),
    ("men [30] sts: 3 to 3.5 oz (suzies-yarnie-stuff 2009-10)", 30, 3.5, 193, THUMB, 4, None, None, (3, 3.5)),
]


def _need(
    stitches: int,
    per_in: float,
    hand_mm: float,
    thumb: float,
    category: int,
    hook_mm: float | None,
    put_up: PutUp | None,
) -> YarnNeed:
    stitch_mm = 25.4 / per_in
    rounds = round(1.5 * hand_mm / (stitch_mm * PER_STITCH_HIGH))
    pattern, fabric = tube("sc", stitches, rounds)
    yarn = yarn_category(category)
    # The hook that makes such a stitch by the model, where the source names none.
    at_5 = setting(5, yarn_category(4))
    hook = hook_mm or (stitch_mm / (25.4 / 3.25)) * (5 + at_5.thickness_mm) - yarn.thickness_mm
    by = setting(hook, yarn)
    piece = piece_yarn(fabric, pattern.header, by)
    calibration = calibrated(by, put_up=put_up, category=yarn)
    whole = yarn_need(piece, calibration, by)
    return YarnNeed(
        2, whole.model_m * thumb, whole.extras_m, whole.metres.times(thumb), whole.grams.times(thumb), None,
        calibration, (),
    )  # fmt: skip


def covered() -> list[tuple[str, Range, tuple[float, float], bool]]:
    """Each published total with the model's range, g, and whether they meet."""
    rows = []
    for what, stitches, per_in, hand_mm, thumb, category, hook_mm, put_up, grams in PUBLISHED:
        need = _need(stitches, per_in, hand_mm, thumb, category, hook_mm, put_up)
        stated = tuple(each if put_up is not None else each * G_PER_OUNCE for each in grams)
        meets = need.grams.low <= stated[1] and stated[0] <= need.grams.high
        rows.append((what, need.grams, (stated[0], stated[1]), meets))
    return rows


def test_how_many_published_totals_the_range_covers() -> None:
    """Six published pairs. How many are covered is what came out with the model as stated, not a goal: the
    number is here so that a change of the model has to say what it did to it.
    """
    rows = covered()
    assert len(rows) == 6
    missed = [what for what, _, _, meets in rows if not meets]
    assert missed == ["baby, thumbless, DK: 24 g = 79 m (thebuttonship)"]
    for what, ours, (low, high), _ in rows:
        assert low / 2 < ours.middle < high * 2, what


def test_the_largest_pair_in_fingering_stays_under_a_ball() -> None:
    """kniterdone 2008-11: 40 sts at 5.5 sc to the inch, 2.75 mm hook, largest pair under 50 g. At the model's
    lower end; the source's length is not given.
    """
    need = _need(40, 5.5, 181, 1.0, 1, 2.75, None)
    assert need.grams.low < 50


@pytest.mark.parametrize(("size", "yards"), [("adult", 100), ("child", 80)])
def test_the_trade_s_amounts_to_have_at_hand(size: str, yards: float) -> None:
    """Common practice, no source: a pair from around 100 yards (24 chains, 5.5 mm) and 80 yards (21
    chains, 4 to
    4.25 mm) of medium yarn to have at hand. So an estimate is not above them, nor under half.
    """
    check = next(each for each in check_stated(read(QUAY).pattern) if each.size == size)
    at_hand_m = yards * 0.9144
    assert at_hand_m / 2 <= check.need.metres.middle <= at_hand_m
