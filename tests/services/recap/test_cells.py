"""Counting people so that nobody is seen: what the three rules hold, for any people at all."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.services.recap.cells import FEWEST, cells, in_fives, quartiles, share

COUNTS = st.lists(st.sampled_from((27, 30, 33, 36, 39, 42)), max_size=60)


@given(COUNTS)
def test_every_cell_has_five_and_all_of_them_are_all(found: list[int]) -> None:
    made = cells(found, sorted(set(found)))
    assert all(people >= FEWEST for _, people in made)
    assert sum(people for _, people in made) == (len(found) if len(found) >= FEWEST else 0)
    many = Counter(found)
    for keys, people in made:
        assert people == sum(many[key] for key in keys)
    together = [key for keys, _ in made for key in keys]
    assert together == (sorted(set(found)) if made else [])


@given(COUNTS, st.sampled_from((27, 30, 33, 36, 39, 42)))
def test_one_who_comes_changes_nothing_or_comes_with_four(found: list[int], she: int) -> None:
    """Two looks, before and after one came: the same people, or five more."""
    before, after = in_fives(found), in_fives([*found, she])
    assert len(after) - len(before) in (0, FEWEST)
    assert list(after[: len(before)]) == list(before)


@pytest.mark.parametrize(
    ("some", "of", "said"),
    [
        (9, 31, "9 of 31"), (4, 31, "fewer than 5 of 31"), (0, 31, "fewer than 5 of 31"),
        (5, 10, "5 of 10"), (27, 31, "nearly all of 31"), (31, 31, "nearly all of 31"),
        (26, 31, "26 of 31"), (3, 4, ""),
        (4, 8, "fewer than 5 of 8"),
    ],
)  # fmt: skip
def test_a_share_is_a_number_where_five_did_and_five_did_not(some: int, of: int, said: str) -> None:
    assert share(some, of) == said


def test_neighbours_are_put_together() -> None:
    """27 twice and 30 four times are six; 33 seven times; 36 once has no five of its own and goes with it."""
    found = [27] * 2 + [30] * 4 + [33] * 7 + [36]
    assert cells(found, sorted(set(found))) == (((27, 30), 6), ((33, 36), 8))


def test_quartiles_are_of_full_fives() -> None:
    assert quartiles([1.0, 2.0, 3.0, 4.0]) is None
    five = quartiles([1.0, 2.0, 3.0, 4.0, 5.0, 100.0])
    assert five is not None
    assert (five.low, five.middle, five.high, five.of) == (2.0, 3.0, 4.0, 5)
