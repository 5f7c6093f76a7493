"""Positions along a round: in order, apart, and as near as may be to where they are wished."""

from __future__ import annotations

from itertools import accumulate, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.craft.fabric.chart.spacing import evenly, spread, spread_around, stacked

wishes = st.lists(st.floats(-500, 500), min_size=1, max_size=12)
room = st.lists(st.floats(0, 40), min_size=12, max_size=12)


def cost(placed: list[float], wished: list[float]) -> float:
    return sum((at - wish) ** 2 for at, wish in zip(placed, wished, strict=True))


def test_worked_by_hand() -> None:
    """Three wish to stand at 0, 10 apart: their mean stays at 0. A fourth far away stays where it is."""
    assert spread([0, 0, 0, 50], [10, 10, 10]) == pytest.approx([-10, 0, 10, 50])
    assert spread([5, 1], [2]) == pytest.approx([2, 4]), "two in the wrong order meet between"


@given(wishes, room)
def test_in_order_and_apart(wished: list[float], apart: list[float]) -> None:
    placed = spread(wished, apart)
    assert len(placed) == len(wished)
    for (one, two), gap in zip(pairwise(placed), apart, strict=False):
        assert two - one >= gap - 1e-6


@given(wishes, room)
def test_the_mean_stays(wished: list[float], apart: list[float]) -> None:
    assert sum(spread(wished, apart)) == pytest.approx(sum(wished), abs=1e-6)


@given(wishes, room, st.lists(st.floats(-30, 30), min_size=12, max_size=12))
def test_no_other_place_is_nearer(wished: list[float], apart: list[float], moves: list[float]) -> None:
    """Any other allowed positions (made allowed by pushing) are at least as far from the wishes."""
    placed = spread(wished, apart)
    other = [at + move for at, move in zip(placed, moves, strict=False)]
    for index in range(1, len(other)):
        other[index] = max(other[index], other[index - 1] + apart[index - 1])
    assert cost(placed, wished) <= cost(other, wished) + 1e-6


@given(wishes, room, st.floats(-300, 0), st.floats(0, 300))
def test_within_bounds(wished: list[float], apart: list[float], low: float, extra: float) -> None:
    needed = sum(apart[: len(wished) - 1])
    high = low + needed + extra
    placed = spread(wished, apart, low, high)
    assert placed[0] >= low - 1e-6
    assert placed[-1] <= high + 1e-6
    for (one, two), gap in zip(pairwise(placed), apart, strict=False):
        assert two - one >= gap - 1e-6


@given(st.lists(st.floats(1, 30), min_size=2, max_size=12), st.floats(0, 60), st.floats(0.0, 1.0))
def test_around_the_last_keeps_clear_of_the_first(apart: list[float], slack: float, share: float) -> None:
    whole = sum(apart) + slack
    wished = [share * whole + at * 0.3 for at in accumulate(apart)]
    placed = spread_around(wished, apart, whole)
    for (one, two), gap in zip(pairwise(placed), apart, strict=False):
        assert two - one >= gap - 1e-6
    assert placed[0] + whole - placed[-1] >= apart[-1] - 1e-6


@given(st.lists(st.floats(1, 30), min_size=1, max_size=20), st.floats(10, 900))
def test_evenly_fills_the_whole(widths: list[float], whole: float) -> None:
    placed = evenly(widths, whole)
    assert placed == sorted(placed)
    first, last = widths[0] * whole / sum(widths) / 2, widths[-1] * whole / sum(widths) / 2
    assert placed[0] == pytest.approx(first)
    assert placed[-1] == pytest.approx(whole - last)


@given(st.lists(st.tuples(st.floats(-200, 200), st.floats(1, 40)), min_size=1, max_size=10))
def test_stacked_labels_do_not_overlap(labels: list[tuple[float, float]]) -> None:
    heights = [height for _, height in labels]
    placed = stacked([wish for wish, _ in labels], heights)
    order = sorted(range(len(placed)), key=lambda index: placed[index])
    for one, two in pairwise(order):
        assert placed[two] - placed[one] >= (heights[one] + heights[two]) / 2 - 1e-6
