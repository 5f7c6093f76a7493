"""Gentle patience with wrong passwords: a few tries at once, then one every so often. Nobody is ever locked
out for long.

Kept in the memory of one process: it slows guessing down, and forgets by itself.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import ceil
from threading import Lock


@dataclass(frozen=True)
class Allowance:
    """So many tries at once, and one more every `refill_s` seconds."""

    tries: int
    refill_s: float


@dataclass
class _Left:
    tries: float
    at_s: float


class Patience:
    """Counts tries by key (a name, a network address) against an allowance. `clock` gives seconds that only
    go up."""

    def __init__(self, allowance: Allowance, clock: Callable[[], float], keys_most: int = 10_000) -> None:
        self._allowance = allowance
        self._clock = clock
        self._keys_most = keys_most
        self._left: dict[str, _Left] = {}
        self._lock = Lock()

    def take(self, key: str) -> int:
        """Take one try of this key. 0 where there was one, else the whole seconds to wait for it."""
        with self._lock:
            left = self._present(key)
            if left.tries < 1:
                return ceil((1 - left.tries) * self._allowance.refill_s)
            left.tries -= 1
            return 0

    def give_back(self, key: str) -> None:
        """The try was a right one: it does not count."""
        with self._lock:
            left = self._present(key)
            left.tries = min(left.tries + 1, float(self._allowance.tries))

    def _present(self, key: str) -> _Left:
        now_s = self._clock()
        left = self._left.get(key)
        if left is None:
            if len(self._left) >= self._keys_most:
                self._forget(now_s)
            left = self._left[key] = _Left(float(self._allowance.tries), now_s)
        left.tries = self._filled(left, now_s)
        left.at_s = now_s
        return left

    def _filled(self, left: _Left, now_s: float) -> float:
        return min(left.tries + (now_s - left.at_s) / self._allowance.refill_s, float(self._allowance.tries))

    def _forget(self, now_s: float) -> None:
        """Keys that have all their tries back need not be kept; where none has, the oldest half goes."""
        full = float(self._allowance.tries)
        self._drop([key for key, left in self._left.items() if self._filled(left, now_s) >= full])
        if len(self._left) >= self._keys_most:
            oldest = sorted(self._left, key=lambda key: self._left[key].at_s)
            self._drop(oldest[: len(oldest) // 2])

    def _drop(self, keys: Iterable[str]) -> None:
        for key in keys:
            del self._left[key]
