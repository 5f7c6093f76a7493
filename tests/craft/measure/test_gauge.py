"""Gauges: her swatch, the pattern's, a category's range, and another hook."""

from __future__ import annotations

import math

import pytest

from server.craft.measure.gauge import (
    any_gauge,
    category_gauge,
    hook_ratio,
    moved_to_hook,
    pattern_gauge,
    swatch,
)
from server.craft.measure.yarntable import category_for_hook, yarn_categories, yarn_category

# Crochet World, October 2018, page 64: the Craft Yarn Council's table.
GAUGES = {1: (21, 32), 2: (16, 20), 3: (12, 17), 4: (11, 14), 5: (8, 11), 6: (6, 9)}
HOOKS = {1: (2.25, 3.5), 2: (3.5, 4.5), 3: (4.5, 5.5), 4: (5.5, 6.5), 5: (6.5, 9), 6: (9, 16)}


@pytest.mark.parametrize("number", GAUGES)
def test_a_category_is_its_published_range(number: int) -> None:
    category = yarn_category(number)
    assert (category.gauge, category.hook_mm, category.gauge_stitch) == (GAUGES[number], HOOKS[number], "sc")
    gauge = category_gauge(category)
    low, high = (each * 100 / 101.6 for each in GAUGES[number])
    assert low < gauge.stitches < high
    assert gauge.stitches == pytest.approx((low + high) / 2)
    # The range's own width (over √12) is in the uncertainty, and something for another stitch on top.
    assert gauge.spread > (high - low) / math.sqrt(12) / gauge.stitches
    assert gauge.rounds is None


def test_lace_is_stated_in_double_crochet() -> None:
    assert (yarn_category(0).gauge, yarn_category(0).gauge_stitch) == ((32, 42), "dc")


def test_every_category_has_all_its_numbers() -> None:
    assert [each.number for each in yarn_categories()] == list(range(8))
    for each in yarn_categories():
        for low, high in (each.gauge, each.hook_mm, each.wpi, each.m_per_100g):
            assert 0 < low < high
        assert each.source
        assert each.confidence == "seen"
    thicknesses = [each.thickness_mm for each in yarn_categories()]
    assert thicknesses == sorted(thicknesses)


@pytest.mark.parametrize(
    ("named", "number"), [("4", 4), ("medium", 4), ("4 Medium", 4), ("worsted", 4), ("DK", 3), (1, 1)]
)
def test_a_category_goes_by_number_or_name(named: int | str, number: int) -> None:
    assert yarn_category(named).number == number


def test_another_name_says_what_there_is() -> None:
    with pytest.raises(ValueError, match="4 medium"):
        yarn_category("rope")


def test_a_hook_points_to_a_yarn() -> None:
    assert [category_for_hook(mm).number for mm in (2.0, 3.0, 4.0, 5.0, 6.0, 8.0)] == [0, 1, 2, 3, 4, 5]


def test_a_swatch_over_any_length() -> None:
    assert swatch(14, 100).stitches == 14
    assert swatch(7, 50).stitches == 14
    assert swatch(14, 100, 9).rounds == 9
    assert swatch(14, 100, 9, 120).rounds == 7.5
    assert swatch(28, 200).spread < swatch(14, 100).spread < swatch(7, 50).spread
    assert swatch(14, 101.6).stitches == pytest.approx(13.78, abs=0.005)


def test_her_own_swatch_is_surer_than_the_pattern_and_that_than_a_range() -> None:
    own, pattern, category = swatch(14, 100), pattern_gauge(14, 9, 100), category_gauge(yarn_category(4))
    assert own.spread < pattern.spread < category.spread


def test_half_a_stitch_over_ten_cm_is_what_it_is_said_to_be() -> None:
    """Reference page, section 8: half a stitch over 10 cm at 16 sts is 3.1 %, or 6 mm on a 190 mm hand."""
    off = swatch(16.5, 100).stitches / swatch(16, 100).stitches - 1
    assert off == pytest.approx(0.031, abs=0.0005)
    assert off * 190 == pytest.approx(6, abs=0.1)


def test_a_larger_hook_makes_fewer_stitches_and_less_sure() -> None:
    gauge = pattern_gauge(14, 9, 100, 5)
    larger, smaller = moved_to_hook(gauge, 6, 2.4), moved_to_hook(gauge, 4, 2.4)
    assert smaller.stitches > 14 > larger.stitches
    assert larger.stitches == pytest.approx(14 * 7.4 / 8.4)
    assert larger.rounds == pytest.approx(9 * 7.4 / 8.4)
    assert larger.spread > gauge.spread
    assert moved_to_hook(gauge, 5).spread == gauge.spread
    there_and_back = hook_ratio(5, 6, 2.4) * hook_ratio(6, 5, 2.4)
    assert there_and_back == pytest.approx(1)


def test_without_anything_there_is_a_gauge() -> None:
    nothing = any_gauge()
    assert nothing.source == "category"
    assert "4 medium" in nothing.says
    assert any_gauge(hook_mm=3.0).stitches > nothing.stitches
    own, pattern = swatch(15, 100), pattern_gauge(14, 9, 100, 5)
    assert any_gauge(own, pattern).source == "swatch"
    assert any_gauge(None, pattern, hook_mm=5.5).stitches < 14


@pytest.mark.parametrize("numbers", [(0, 100), (14, 0), (-1, 100), (14, math.inf), (math.nan, 100)])
def test_a_gauge_is_above_nothing(numbers: tuple[float, float]) -> None:
    with pytest.raises(ValueError, match="above 0"):
        swatch(*numbers)
