"""Gentle patience with wrong passwords."""

from __future__ import annotations

from server.services.patience import Allowance, Patience


class Clock:
    """Seconds that a test sets."""

    def __init__(self) -> None:
        self.s = 1000.0

    def __call__(self) -> float:
        return self.s


def test_a_few_tries_at_once_and_then_one_every_so_often() -> None:
    clock = Clock()
    patience = Patience(Allowance(tries=3, refill_s=30), clock)
    assert [patience.take("marit") for _ in range(4)] == [0, 0, 0, 30]
    clock.s += 12
    assert patience.take("marit") == 18
    clock.s += 18
    assert patience.take("marit") == 0
    assert patience.take("marit") == 30
    clock.s += 3600
    assert [patience.take("marit") for _ in range(4)] == [0, 0, 0, 30], "never more than at the beginning"


def test_keys_do_not_wait_for_each_other() -> None:
    patience = Patience(Allowance(tries=1, refill_s=30), Clock())
    assert patience.take("one") == 0
    assert patience.take("two") == 0
    assert patience.take("one") == 30


def test_a_right_try_does_not_count() -> None:
    patience = Patience(Allowance(tries=2, refill_s=30), Clock())
    for _ in range(10):
        assert patience.take("marit") == 0
        patience.give_back("marit")
    patience.give_back("marit")
    assert [patience.take("marit") for _ in range(3)] == [0, 0, 30]


def test_memory_stays_bounded_and_full_keys_go_first() -> None:
    clock = Clock()
    patience = Patience(Allowance(tries=1, refill_s=30), clock, keys_most=4)
    for key in "abcd":
        patience.take(key)
    clock.s += 29
    patience.take("d")  # looked at again, still waiting
    for number in range(100):
        patience.take(f"key {number}")
        assert len(patience._left) <= 4
    clock.s += 60
    assert patience.take("new") == 0
