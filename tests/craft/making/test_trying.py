"""Trying on: one repeat out, one repeat in, and what is said to a count that is not allowed."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.craft.making import next_try, not_allowed


@pytest.mark.parametrize(
    ("foundation", "verdict", "multiple", "plus", "expected"),
    [
        (36, "too long", 4, 0, 32),
        (36, "too short", 4, 0, 40),
        (36, "fits", 4, 0, 36),
        (32, "too long", 6, 2, 26),  # 32 = 5 * 6 + 2; 26 = 4 * 6 + 2
        (32, "too short", 6, 2, 38),
        (12, "too long", 4, 0, 12),  # three repeats are the fewest
        (37, "too long", 4, 0, 36),  # 37 is not allowed: the next below is
        (37, "too short", 4, 0, 40),
        (3, "too short", 4, 0, 12),
    ],
)
def test_next_try(foundation: int, verdict: str, multiple: int, plus: int, expected: int) -> None:
    assert next_try(foundation, verdict, multiple, plus) == expected  # type: ignore[arg-type]


@given(st.integers(3, 60), st.integers(1, 12), st.integers(0, 11))
def test_out_and_in_again_comes_back(repeats: int, multiple: int, plus: int) -> None:
    count = repeats * multiple + plus
    more = next_try(count, "too short", multiple, plus)
    assert more == count + multiple
    assert next_try(more, "too long", multiple, plus) == count


def test_a_multiple_is_at_least_one() -> None:
    with pytest.raises(ValueError, match="at least 1"):
        next_try(24, "too long", 0, 0)


def test_what_is_said() -> None:
    assert not_allowed(36, 5, 0, (35, 40)) == "36 is not a multiple of 5. Nearest that work: 35 or 40."
    assert not_allowed(36, 6, 2, (38, 32)) == "36 is not a multiple of 6 plus 2. Nearest that work: 32 or 38."
    assert not_allowed(8, 4, 0, (12,)) == (
        "8 is too few: this pattern needs at least 12, a multiple of 4. Nearest that works: 12."
    )
    assert not_allowed(64, 4, 0, (60,)) == "This pattern does not work with 64. Nearest that works: 60."
