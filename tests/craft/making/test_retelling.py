"""Counting a round anew from its path gives what the fabric counted, in every proved pattern."""

from __future__ import annotations

import pytest

from server.craft.fabric import work
from server.craft.fabric.numbering import Numbering, counts_to_try
from server.craft.making import Numbers, misses
from server.craft.making.planning import count_of
from server.craft.making.slips import slips
from server.craft.making.slipwords import Told
from server.craft.text import read
from server.craft.text.tree import Pattern
from tests.craft.making.proved_patterns import proved_patterns


def told_rounds(pattern: Pattern, numbers: Numbers) -> list[Told]:
    numbering = Numbering(pattern.header, count_of(pattern.header, numbers))
    return [
        Told(pattern, each, numbering, "US")
        for section in work(pattern, numbers).sections
        for each in section.rounds
    ]


def some_numbers(pattern: Pattern) -> list[Numbers]:
    header = pattern.header
    return [
        Numbers(each.foundation, header.sizes[each.size] if each.size is not None and header.sizes else None)
        for each in counts_to_try(header)[:3]
    ]


def test_a_round_counted_anew_has_what_the_fabric_counted() -> None:
    rounds = 0
    for where, text in proved_patterns():
        pattern = read(text).pattern
        for numbers in some_numbers(pattern):
            for told in told_rounds(pattern, numbers):
                counts = {name: count for name, count in told.worked.counts.items() if count}
                again = {name: count for name, count in told.counts(told.bits).items() if count}
                assert again == counts, (where, numbers, told.worked.spot)
                rounds += 1
    assert rounds > 1000


def test_every_slip_is_named_for_the_count_that_it_makes() -> None:
    """Unless six others are likelier, which are all that is shown."""
    checked = 0
    for where, text in proved_patterns()[::15]:
        pattern = read(text).pattern
        numbers = some_numbers(pattern)[0]
        for told in told_rounds(pattern, numbers)[:5]:
            whole = told.counts(told.bits)
            for slip in slips(told):
                made = told.counts(slip.made)
                for name in whole:
                    if slip.partial and name in told.spelled.values():
                        continue
                    if whole[name] == 0 or made.get(name, 0) == whole[name] or name not in told.worked.counts:
                        continue
                    found = misses(pattern, numbers, told.worked.spot, name, made.get(name, 0))
                    if len(found) < 6:
                        assert slip.says in [each.says for each in found], (where, told.worked.spot, name)
                        checked += 1
    assert checked > 100


@pytest.mark.parametrize("times", [2, 3])
def test_a_repeat_is_told_with_each_of_its_times(times: int) -> None:
    text = f"""\
Title: Plain Band
Foundation: {4 * times}, multiple of 4
Custom: none

# Band
Foundation rnd: Ch {4 * times}; join with sl st in first ch to form a ring.
Rnd 1: Ch 1, *2 sc in next ch, sc in next 3 ch; rep from * around; join with sl st in first sc.
"""
    told = told_rounds(read(text).pattern, Numbers(4 * times))[1]
    assert [unit.turn for unit in told.units] == [turn for turn in range(1, times + 1) for _ in range(4)]
    assert [told.words(unit) for unit in told.units] == ["2 sc", "sc", "sc", "sc"] * times
