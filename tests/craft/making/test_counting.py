"""Counts in words: singular and plural, groups first, US and UK."""

from __future__ import annotations

import pytest

from server.craft.making.counting import key_of, ordinal, to_count, word_count
from server.craft.text.tree import CountLine, Noun, Plain, StatedCount


@pytest.mark.parametrize(
    ("counts", "us", "uk"),
    [
        ({"dc": 32, "ch-1 sp": 8, "Perch": 8, "sts": 32},
         "8 Perches, 32 dc, 8 ch-1 sps", "8 Perches, 32 tr, 8 ch-1 sps"),
        ({"V-st": 1, "dc": 2, "ch-1 sp": 1, "sts": 2}, "1 V-st, 2 dc, 1 ch-1 sp", "1 V-st, 2 tr, 1 ch-1 sp"),
        ({"sc": 24, "sc2tog": 6, "sts": 24}, "18 sc, 6 sc2tog", "18 dc, 6 dc2tog"),  # 24 - 6, counted apart
        ({"sc": 6, "sc2tog": 6, "sts": 6}, "6 sc2tog", "6 dc2tog"),
        ({"FPdc": 12, "BPdc": 12, "sts": 24}, "12 FPdc, 12 BPdc", "12 FPtr, 12 BPtr"),
        ({"shell": 4, "puff": 2, "bobble": 1, "cluster": 3}, "4 shells, 2 puffs, 1 bobble, 3 clusters",
         "4 shells, 2 puffs, 1 bobble, 3 clusters"),
        ({"ch": 24}, "24 ch", "24 ch"),
        ({"sts": 24}, "24 sts", "24 sts"),
        ({"Finch": 2, "Lily": 3, "Box": 2, "Fan": 1}, "2 Finches, 3 Lilies, 2 Boxes, 1 Fan",
         "2 Finches, 3 Lilies, 2 Boxes, 1 Fan"),
        ({}, "", ""),
    ],
)  # fmt: skip
def test_all_that_a_round_has(counts: dict[str, int], us: str, uk: str) -> None:
    assert word_count(counts, "US") == us
    assert word_count(counts, "UK") == uk


def stated(*items: tuple[int, Noun | None]) -> CountLine:
    return CountLine(tuple(StatedCount(Plain(number), noun) for number, noun in items))


def test_what_the_host_states_is_counted_in_her_order_with_the_fabrics_numbers() -> None:
    line = stated((99, Noun("sp", length=1)), (99, Noun("stitch", "dc")))
    counts = {"Perch": 6, "dc": 24, "ch-1 sp": 6, "sts": 24}
    assert [each.words for each in to_count(counts, line, "US")] == ["6 ch-1 sps", "24 dc"]
    assert [(each.name, each.words) for each in to_count(counts, line, "UK")] == [
        ("ch-1 sp", "6 ch-1 sps"),
        ("dc", "24 tr"),
    ]


def test_bare_numbers_and_spaces_of_any_length() -> None:
    counts = {"dc": 24, "ch-1 sp": 6, "ch-7 sp": 1, "sts": 24}
    assert [each.words for each in to_count(counts, stated((24, None), (7, Noun("sp"))), "US")] == [
        "24 sts",
        "7 sps",
    ]
    assert [each.words for each in to_count({"ch": 24}, stated((24, Noun("ch"))), "US")] == ["24 ch"]


def test_a_decrease_is_a_stitch_unless_it_is_counted_apart() -> None:
    counts = {"sc": 24, "sc2tog": 6, "sts": 24}
    sc, decreases = Noun("stitch", "sc"), Noun("stitch", "sc2tog")
    assert [each.words for each in to_count(counts, stated((24, sc)), "US")] == ["24 sc"]
    both = to_count(counts, stated((18, sc), (6, decreases)), "US")
    assert [each.words for each in both] == ["18 sc", "6 sc2tog"]


def test_chains_are_those_of_all_spaces() -> None:
    """4 chain-1 spaces and 2 of 3 chains: 4 + 6."""
    counts = {"sc": 6, "ch-1 sp": 4, "ch-3 sp": 2, "sts": 6}
    assert [each.words for each in to_count(counts, stated((10, Noun("ch"))), "US")] == ["10 ch"]


def test_keys() -> None:
    assert key_of(Noun("st")) == "sts"
    assert key_of(Noun("sp", length=3)) == "ch-3 sp"
    assert key_of(Noun("group", "V-st")) == "V-st"
    assert key_of(Noun("foundation ch")) == "ch"


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (1, "1st"),
        (2, "2nd"),
        (3, "3rd"),
        (4, "4th"),
        (11, "11th"),
        (12, "12th"),
        (13, "13th"),
        (21, "21st"),
        (112, "112th"),
    ],
)
def test_ordinals(number: int, words: str) -> None:
    assert ordinal(number) == words
