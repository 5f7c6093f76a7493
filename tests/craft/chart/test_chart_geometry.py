"""Where things stand: each stitch on what it is worked into, in order, the gap open, the way of the work."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from server.craft.fabric import Numbers, work
from server.craft.fabric.chart import Hand, chart
from server.craft.fabric.chart.layout import lay_strand
from server.craft.fabric.chart.marks import Laid, Level, Mark
from server.craft.fabric.chart.pen import Projection
from server.craft.fabric.chart.strands import gap_run, in_rows, strands
from server.craft.text import read
from tests.craft.chart.charted import PATTERNS, Stitch, fabric, parsed, specials, stitches

NAMES = sorted(PATTERNS)
STRIPS = [name for name in NAMES if name not in ("crown", "square")]


def laid(name: str, at: int = 0) -> Laid:
    """One strand of a pattern as laid out: from the center where it begins in a ring."""
    sections = fabric(name).sections
    strand = strands(sections, rows=in_rows(sections))[at]
    return lay_strand(strand, from_center=strand.from_ring, specials=specials(name))


def standing_stitches(level: Level) -> list[Mark]:
    return [mark for mark in level.marks if mark.shape in ("post", "column") and mark.name]


def levels_with_ground(name: str) -> list[tuple[Level, Level]]:
    return list(pairwise(laid(name).levels))


@pytest.mark.parametrize("name", NAMES)
def test_each_stitch_stands_on_what_it_is_worked_into(name: str) -> None:
    """Its feet are at the places below, once around or not, and never under their tops."""
    whole = laid(name)
    seen = 0
    for below, level in pairwise(whole.levels):
        path = level.standing.worked.path
        for mark in standing_stitches(level):
            base = path[mark.node].base
            if not base:
                continue
            places = [below.places[level.standing.ring[index]] for index in base]
            low, high = min(place.u for place in places), max(place.u for place in places)
            low_y = min(place.y for place in places)
            reach = 6.3 if places[0].is_chain else 0.5  # within half a chain; exactly on a stitch
            reach /= max(low_y, 1.0) if whole.from_center else 1.0
            for u, y in mark.feet:
                turns = [u + turn * whole.width for turn in range(-2, 3)]
                assert any(low - reach <= at <= high + reach for at in turns), (mark, places)
                assert y >= low_y - 0.01
            seen += 1
    assert seen or name == "square"


@pytest.mark.parametrize("name", NAMES)
def test_tops_are_above_feet(name: str) -> None:
    for level in laid(name).levels:
        for mark in standing_stitches(level):
            assert all(mark.top[1] > y + 5 for _, y in mark.feet), mark


@pytest.mark.parametrize("name", NAMES)
def test_stitches_stand_in_order_and_apart(name: str) -> None:
    """No two tops of a round are nearer than the symbols are wide, but for rounding."""
    whole = laid(name)
    for level in whole.levels:
        tops = standing_stitches(level)
        sign = level.standing.direction
        for one, two in pairwise(tops):
            step = sign * (two.top[0] - one.top[0])
            units = step * (one.top[1] + two.top[1]) / 2 if whole.from_center else step
            assert units >= 13.0, (level.standing.worked.spot, one, two)


@pytest.mark.parametrize("name", NAMES)
def test_a_round_is_no_longer_than_once_around(name: str) -> None:
    whole = laid(name)
    for level in whole.levels:
        tops = [mark.top[0] for mark in standing_stitches(level)]
        if tops and level.standing.circular:
            assert max(tops) - min(tops) < whole.width


def test_an_increase_shares_a_foot_and_a_decrease_a_top() -> None:
    level = laid("crown").levels[1]
    feet: dict[float, int] = {}
    for mark in standing_stitches(level):
        feet[round(mark.feet[0][0], 3)] = feet.get(round(mark.feet[0][0], 3), 0) + 1
    assert sorted(feet.values()) == [2] * 12
    for mark in laid("hat").levels[2].marks:
        if mark.name == "sc2tog":
            assert len(mark.feet) == 2
            assert min(u for u, _ in mark.feet) < mark.top[0] < max(u for u, _ in mark.feet)


def test_crossed_stitches_cross() -> None:
    level = laid("spiral").levels[2]
    pair = [mark for mark in level.marks if mark.name == "dc"][:2]
    assert pair[0].top[0] < pair[1].top[0], "the one worked first stands first"
    assert pair[0].feet[0][0] > pair[1].feet[0][0], "in the place that comes after"


def test_the_gap_is_a_run_of_chains_over_open_cloth() -> None:
    whole = laid("perches")
    level = next(one for one in whole.levels if one.standing.worked.spot == "1.0.1")
    below = whole.levels[whole.levels.index(level) - 1]
    run = gap_run(level.standing)
    assert run is not None
    start, end, passed = run
    marks = {mark.node: mark for mark in level.marks}
    chains = [marks[node] for node in range(start, end)]
    assert [mark.shape for mark in chains] == ["oval"] * 7
    assert all(one.top[0] < two.top[0] for one, two in pairwise(chains))
    over = [below.places[level.standing.ring[index]] for index in passed]
    high = max(place.y for place in over)
    assert all(min(mark.top[1], mark.feet[0][1]) > high for mark in chains), "the chains pass above"
    left, right = min(place.u for place in over), max(place.u for place in over)
    inside = [mark for mark in standing_stitches(level) if left < mark.feet[0][0] < right]
    assert not inside, "nothing stands in the opening"


def test_a_bow_of_chains_has_their_length() -> None:
    """ch 5 over three stitches has no room to lie straight: it rises."""
    level = laid("sampler").levels[3]
    ovals = [mark for mark in level.marks if mark.shape == "oval"][:5]
    ends = [ovals[0].feet[0], *(mark.top for mark in ovals)]
    long = sum(math.dist(one, two) for one, two in pairwise(ends))
    assert 0.8 * 5 * 12.5 <= long <= 1.3 * 5 * 12.5


def test_rows_run_to_and_fro() -> None:
    directions = [level.standing.direction for level in laid("moss").levels]
    assert directions == [-1, 1, -1, 1], "the foundation left to right, the first row back over it"


@pytest.mark.parametrize("name", ["moss", "mesh"])
def test_a_row_begins_where_the_one_below_ended(name: str) -> None:
    """After the turn the first stitch stands over the last, and the last over the first."""
    for below, level in pairwise(laid(name).levels[1:]):
        last, first = standing_stitches(below)[-1], standing_stitches(level)[0]
        assert first.feet[0][0] == pytest.approx(last.top[0], abs=0.5)
        assert level.places[standing_stitches(level)[-1].node].u == pytest.approx(
            below.places[level.standing.ring[-1]].u, abs=16.0
        )


def test_a_turned_round_runs_back() -> None:
    """Joined, then turned: the next stitch stands upon the last one of the round below."""
    text = (
        "Title: Ebb Cowl\nFoundation: 12, multiple of 2\nPieces: one\n\n# Cowl\n"
        "Foundation rnd: Ch N; join with sl st in first ch to form a ring.\n"
        "Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc; turn.\n"
        "Rnd 2: Ch 1, sc in same st, sc in each st around; join with sl st in first sc.\n"
    )
    strand = strands(work(read(text).pattern, Numbers(12)).sections, rows=False)[0]
    _, below, level = lay_strand(strand, from_center=False, specials={}).levels
    assert (below.standing.direction, level.standing.direction) == (1, -1)
    first, second = standing_stitches(level)[:2]
    made = standing_stitches(below)
    assert second.feet[0][0] == pytest.approx(made[-1].top[0])
    assert first.feet[0][0] > second.feet[0][0] > standing_stitches(level)[2].feet[0][0]


def test_chains_passed_at_the_head_of_a_row_stand_up() -> None:
    """Dc in 6th ch from hook: three of the five chains are the edge, two lie along the top."""
    foundation, first = laid("mesh").levels[:2]
    ovals = foundation.marks
    up, along = ovals[-5:-2], ovals[-2:]
    assert [mark.top[1] > mark.feet[0][1] + 5 for mark in up] == [True] * 3
    rail = first.marks[0]
    assert rail.shape == "rail"
    assert up[-1].top[1] == pytest.approx(rail.top[1], abs=2.0)
    assert all(mark.top[1] > up[0].top[1] for mark in along)


def test_from_the_center_rounds_run_anticlockwise_for_the_right_hand() -> None:
    project = Projection(True)
    for name in ("crown", "square"):
        for level in laid(name).levels:
            tops = [project(mark.top) for mark in standing_stitches(level)]
            for (ax, ay), (bx, by) in pairwise(tops):
                assert ax * by - ay * bx < 0, "y runs down the page"


def test_from_the_center_each_round_lies_outside_the_one_below() -> None:
    for below, level in levels_with_ground("crown"):
        inner = max(mark.top[1] for mark in standing_stitches(below))
        assert min(mark.top[1] for mark in standing_stitches(level)) > inner


def drawn(name: str, hand: Hand) -> dict[str, Stitch]:
    svg = chart(fabric(name), terms="US", special=specials(name), hand=hand)
    return {one.id: one for one in stitches(parsed(svg))}


@pytest.mark.parametrize("name", NAMES)
def test_left_handed_is_the_mirror(name: str) -> None:
    """Every point of every stitch has the same height and the opposite side."""
    right, left = drawn(name, "right"), drawn(name, "left")
    assert right.keys() == left.keys()
    for key, one in right.items():
        for (x, y), (mx, my) in zip(one.points, left[key].points, strict=True):
            assert (mx, my) == (-x, y)


def test_right_handed_strips_are_read_from_right_to_left() -> None:
    right = drawn("hat", "right")
    row = [right[f"s-0-1-1-{at}"].middle for at in range(40)]
    assert row == sorted(row, reverse=True)


def test_heights_rise_with_the_stitch() -> None:
    heights: dict[str, float] = {}
    for mark in laid("sampler").levels[2].marks:
        heights.setdefault(mark.name, mark.top[1] - mark.feet[0][1] if mark.feet else 0.0)
    assert heights["sc"] < heights["hdc"] < heights["tr"] < heights["dtr"]


def test_a_column_of_short_stitches_keeps_up() -> None:
    """sc upon sc beside FPdc upon FPdc: the round stays together, one stitch's height apart at most."""
    tops = {}
    for level in laid("ribs").levels[1:]:
        ys = [mark.top[1] for mark in standing_stitches(level)]
        tops[level.standing.worked.spot] = max(ys) - min(ys)
    assert max(tops.values()) <= 13.0
