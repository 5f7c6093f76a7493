"""What holds for the words of every proved pattern: numbers, terms, nothing left to count."""

from __future__ import annotations

import re
from functools import cache

import pytest

from server.craft.fabric import work
from server.craft.fabric.values import Fabric, Numbers, WorkedRound
from server.craft.making.fullnames import full_name
from server.craft.making.planning import plan_of
from server.craft.making.shapes import Plan
from server.craft.text import read, write
from server.craft.text.reader import special_stitches
from server.craft.text.tree import Header, Pattern, Terms
from server.craft.text.vocabulary import LADDER
from tests.craft.making.proved_patterns import proved_patterns
from tests.craft.making.spoken import Made, made_by

SIZE_LIST = re.compile(r"\d+ \(\d+(?:, \d+)*\)")


def every_numbers(header: Header) -> list[Numbers]:
    """The first size and the last, and a custom count where there are some."""
    if not header.foundations:
        return [Numbers(None, header.sizes[0]), Numbers(None, header.sizes[-1])]
    own = [Numbers(count, name) for name, count in zip(header.sizes, header.foundations, strict=True)]
    if header.multiple is not None and header.custom != (1, 0):
        high = header.custom[1] if header.custom else max(header.foundations) + 2 * header.multiple
        own.append(Numbers(high - (high - header.plus) % header.multiple))
    return [own[0], *own[-2:]]


@cache
def worked() -> tuple[tuple[str, Pattern, Numbers, Fabric], ...]:
    made = []
    for where, text in proved_patterns():
        pattern = read(text).pattern
        made += [(where, pattern, each, work(pattern, each)) for each in every_numbers(pattern.header)]
    return tuple(made)


@cache
def plans(terms: Terms) -> tuple[tuple[str, Pattern, Fabric, Plan], ...]:
    return tuple(
        (where, pattern, fabric, plan_of(pattern, fabric, numbers, terms))
        for where, pattern, numbers, fabric in worked()
    )


def test_there_are_patterns_enough() -> None:
    assert len(proved_patterns()) > 60
    assert sum(len(plan.rounds) for _, _, _, plan in plans("US")) > 600


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_nothing_is_left_to_count(terms: Terms) -> None:
    for where, _, _, plan in plans(terms):
        for each in plan.rounds:
            for words in (*each.full_steps, *each.steps, each.line, each.count_text, each.full_count):
                assert "rep from" not in words, (where, words)
                assert "*" not in words, (where, words)
                assert not SIZE_LIST.search(words), (where, words)
                assert not re.search(r"\bN\b", words), (where, words)
                assert "  " not in words, (where, words)


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_what_the_steps_say_is_what_the_fabric_has(terms: Terms) -> None:
    """Done as they say, the steps make as many stitches and chains as the round has, at each count."""
    for where, pattern, fabric, plan in plans(terms):
        groups = {
            full_name(name, many, terms).lower(): special
            for name, special in special_stitches(pattern).items()
            for many in (1, 2)
        }
        by_spot = {each.spot: each for section in fabric.sections for each in section.rounds}
        for each in plan.rounds:
            round_ = by_spot[each.spot]
            assert made_by(each.full_steps, groups) == in_path(round_), (where, each.label, each.full_steps)


def in_path(round_: WorkedRound) -> Made:
    """What the yarn's path has; chains passed at a row's beginning were made in the row before."""
    stitches = sum(node.kind == "stitch" and node.name != "sl st" for node in round_.path)
    chains = sum(node.kind == "chain" for node in round_.path)
    begun = sum(
        node.size
        for node in round_.path
        if node.kind == "begin" and (node.name or node.into == "none") and not (node.base and not node.name)
    )
    return Made(stitches, chains + begun)


def test_either_terms_from_a_text_in_either_terms() -> None:
    """A US pattern said in UK terms is what its UK twin says, and the other way round."""
    for where, pattern, numbers, fabric in worked():
        other: Terms = "UK" if pattern.header.terms == "US" else "US"
        twin = read(write(pattern, other)).pattern
        assert twin.header.terms == other
        again = work(twin, numbers)
        for terms in ("US", "UK"):
            mine, its = plan_of(pattern, fabric, numbers, terms), plan_of(twin, again, numbers, terms)
            for one, two in zip(mine.rounds, its.rounds, strict=True):
                assert one.full_steps == two.full_steps, where
                assert one.line == two.line, where
                assert (one.count_text, one.full_count) == (two.count_text, two.full_count), where


def test_both_terms_say_the_same_but_for_the_names() -> None:
    for (where, _, _, us), (_, _, _, uk) in zip(plans("US"), plans("UK"), strict=True):
        for one, two in zip(us.rounds, uk.rounds, strict=True):
            assert nameless(one.full_steps, "US") == nameless(two.full_steps, "UK"), where
            assert nameless((one.full_count,), "US") == nameless((two.full_count,), "UK"), where


def nameless(words: tuple[str, ...], terms: Terms) -> str:
    """The words with each stitch as its rung of the ladder, and each word that has a twin as one of them."""
    rungs = {(rung.us_words if terms == "US" else rung.uk_words): f"<{rung.us}>" for rung in LADDER}
    either = {"miss": "skip", "missed": "skipped", "centre": "center"}
    names = "|".join(sorted(map(re.escape, rungs), key=len, reverse=True))
    said = re.sub(rf"\b(?:{names})", lambda found: rungs[found[0].lower()], "\n".join(words), flags=re.I)
    return re.sub(r"\b[a-z]+\b", lambda found: either.get(found[0], found[0]), said.lower())
