"""A pattern's yarn line, and whether the pattern can be made from it; another yarn."""

from __future__ import annotations

import pytest

from server.craft.measure.counts import AllowedCounts
from server.craft.measure.fitting import FitRequest
from server.craft.measure.gauge import pattern_gauge
from server.craft.measure.hands import measured_hand
from server.craft.measure.putup import PutUp
from server.craft.measure.stated_yarn import check_stated, gauge_in, read_yarn, yarn_in
from server.craft.measure.substituting import expected_gauge, expected_hook_mm, substituted
from server.craft.measure.yarntable import yarn_category
from server.craft.text.reader import read
from tests.craft.measure.mitts import QUAY


@pytest.mark.parametrize(
    ("line", "category", "metres", "grams"),
    [
        ("4 medium, 74 (84, 96) m, 100 g = 170 m", 4, (74, 84, 96), ()),
        ("4, 90 m", 4, (90,), ()),
        ("DK, 100 g", 3, (), (100,)),
        ("Worsted weight, 50 yards", 4, (45.72,), ()),
        ("4 (aran) 50 g/85 m, 2 balls", 4, (), ()),
        ("super bulky, 60 m", 6, (60,), ()),
        ("fine, 60 [70] [80] m, 50 g (180 m)", 2, (60, 70, 80), ()),
        ("80 m of anything", None, (80,), ()),
        ("5 balls", None, (), ()),
        ("", None, (), ()),
    ],
)
def test_yarn_lines_as_they_are_written(
    line: str, category: int | None, metres: tuple[float, ...], grams: tuple[float, ...]
) -> None:
    stated = read_yarn(line)
    assert (stated.category.number if stated.category is not None else None) == category
    assert tuple(round(each, 2) for each in stated.metres) == metres
    assert stated.grams == grams


def test_grams_asked_for_become_metres_by_the_label() -> None:
    assert read_yarn("4 medium, 50 (60) g, 100 g = 170 m").metres_for(1) == pytest.approx(102)
    assert read_yarn("4 medium, 50 (60) g").metres_for(1) is None


@pytest.mark.parametrize(
    ("stated", "verdicts"),
    [
        ("70 (90) m", ["enough", "enough"]),
        ("40 (50) m", ["cannot", "cannot"]),
        ("50 (70) m", ["short", "short"]),
        ("200 (300) m", ["too much", "too much"]),
    ],
)
def test_stated_yarn_against_the_fabric(stated: str, verdicts: list[str]) -> None:
    checks = check_stated(read(QUAY.replace("70 (90) m", stated)).pattern)
    assert [each.verdict for each in checks] == verdicts
    assert all(each.warns == (each.verdict in ("cannot", "short")) for each in checks)
    assert [each.size for each in checks] == ["child", "adult"]


def test_a_pattern_that_states_nothing_is_not_checked() -> None:
    assert check_stated(read(QUAY.replace("Yarn: 4 medium, 70 (90) m, 100 g = 170 m\n", "")).pattern) == ()


def test_another_yarn_moves_hook_gauge_foundation_and_metres() -> None:
    """Medium 11 to 14, light 12 to 17 in 4 in: 14.5 / 12.5 as many. Usual hooks 6 and 5: 5.5 becomes 4.58."""
    medium, light = yarn_category(4), yarn_category(3)
    assert expected_hook_mm(5.5, medium, light) == 4.5
    gauge = pattern_gauge(12, 6.5, 100, 5.5)
    moved = expected_gauge(gauge, medium, light)
    assert moved.stitches == pytest.approx(12 * 14.5 / 12.5)
    assert moved.spread > gauge.spread
    pattern = read(QUAY).pattern
    counts = AllowedCounts.of(pattern.header)
    assert counts is not None
    request = FitRequest(counts, measured_hand(190, "women"), gauge)
    same = substituted(pattern, request, medium, medium, hook_mm=5.5, put_up=PutUp(50, 85))
    other = substituted(pattern, request, medium, light, hook_mm=5.5, put_up=PutUp(50, 125))
    assert (same.hook_mm, other.hook_mm) == (5.5, 4.5)
    assert counts.allows(other.fit.recommended.foundation)
    assert other.fit.recommended.foundation > same.fit.recommended.foundation
    assert sum(n for _, n in other.rounds) > sum(n for _, n in same.rounds)
    assert same.need.balls is not None
    assert same.need.balls.surely * 85 >= same.need.metres.high
    assert "make a swatch first" in other.gauge.says


def test_a_pattern_s_own_figures_stand_in_her_units_too() -> None:
    """12 in 10 cm are 12.192 in 4 in (101.6 mm); 5 in 1 in are 19.7 in 10 cm; a yard is 0.9144 m."""
    header = read("Title: A\nGauge: 12 sts and 6.5 rnds = 10 cm\n\n# A\nRnd 1: Ch 3.").pattern.header
    assert (gauge_in(header, "in"), gauge_in(header, "cm")) == (" (12.2 stitches in 4 in)", "")
    inches = read("Title: A\nGauge: 20 sts = 4 in\n\n# A\nRnd 1: Ch 3.").pattern.header
    assert (gauge_in(inches, "in"), gauge_in(inches, "cm")) == ("", " (19.7 stitches in 10 cm)")
    assert yarn_in("3 light, 84 m, 50 g = 125 m", "in") == "3 light, 84 m (91.9 yd), 50 g = 125 m (136.7 yd)"
    assert yarn_in("4 medium, 110 yd", "cm") == "4 medium, 110 yd (100.6 m)"
    assert yarn_in("4 medium, 110 yd", "in") == "4 medium, 110 yd"
