"""Counting people so that nobody is seen: cells of five at least, and no way back from them to one.

Three rules, which hold for the page and for its file alike:

1. Whoever is counted is counted in fives: the latest who would not make up a full five are left until they
   do. Two looks at the page, one before somebody came and one after, then differ by five people or by none.
2. Every question parts the same people once, into cells that together are all of them. A cell under five is
   put together with its neighbour; no total is left from which one could take the others away. No two
   questions are crossed, so that there are no two tables to take apart with each other.
3. A share is told as a number only where at least five did and at least five did not; else it is "fewer than
   5", or "nearly all".
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Sequence
from dataclasses import dataclass
from statistics import quantiles
from typing import TypeVar

FEWEST = 5
T = TypeVar("T")
Key = TypeVar("Key", bound=Hashable)


@dataclass(frozen=True)
class Quartiles:
    """Half of the values lie from low to high, half are up to middle. of: how many people."""

    low: float
    middle: float
    high: float
    of: int


def in_fives(people: Sequence[T]) -> Sequence[T]:
    """As many of them, from the first, as make up full fives."""
    return people[: len(people) - len(people) % FEWEST]


def cells(found: Sequence[Key], order: Sequence[Key]) -> tuple[tuple[tuple[Key, ...], int], ...]:
    """(keys, people) for neighbours in `order`, each with five people at least; () where there are fewer.

    Keys that nobody has stand in no cell's name, unless they lie between others of it.
    """
    if len(found) < FEWEST:
        return ()
    many = Counter(found)
    groups: list[list[Key]] = []
    open_: list[Key] = []
    for key in (each for each in order if many[each]):
        open_.append(key)
        if sum(many[each] for each in open_) >= FEWEST:
            groups.append(open_)
            open_ = []
    if open_:
        groups[-1].extend(open_)
    return tuple((tuple(group), sum(many[each] for each in group)) for group in groups)


def share(some: int, of: int) -> str:
    """ "9 of 30", "fewer than 5 of 30", "nearly all of 30"; "" where there are fewer than five in all."""
    if of < FEWEST:
        return ""
    if some < FEWEST:
        return f"fewer than {FEWEST} of {of}"
    if of - some < FEWEST:
        return f"nearly all of {of}"
    return f"{some} of {of}"


def quartiles(values: Sequence[float]) -> Quartiles | None:
    """Of as many of the values, from the first, as make up full fives; None for fewer than five."""
    counted = in_fives(values)
    if not counted:
        return None
    low, middle, high = quantiles(counted, n=4, method="inclusive")
    return Quartiles(low, middle, high, len(counted))
