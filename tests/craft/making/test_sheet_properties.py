"""What holds for the sheet of every proved pattern: it reads again, and is the same piece at every count."""

from __future__ import annotations

import re
from functools import cache

import pytest

from server.craft.fabric import prove
from server.craft.fabric.numbering import counts_to_try
from server.craft.fabric.values import Numbers
from server.craft.making import Plan, Sheet, plan, sheet, sheet_text
from server.craft.text import read
from server.craft.text.tree import Pattern, Terms
from tests.craft.making.proved_patterns import proved_patterns

TERMS: tuple[Terms, ...] = ("US", "UK")


@cache
def sheets() -> tuple[tuple[str, Pattern, Sheet, str, Pattern], ...]:
    """Each pattern, its sheet, that as text, and what is read from it; in the terms it is not written in."""
    made = []
    for where, text in proved_patterns():
        pattern = read(text).pattern
        printed = sheet(pattern, "UK" if pattern.header.terms == "US" else "US")
        words = sheet_text(printed)
        made.append((where, pattern, printed, words, read(words).pattern))
    return tuple(made)


def numbers_of(pattern: Pattern) -> list[Numbers]:
    """The first size and the last, the smallest and the largest count of one's own."""
    header = pattern.header
    counts = counts_to_try(header)
    sizes = [
        Numbers(count.foundation, header.sizes[count.size]) for count in counts if count.size is not None
    ]
    own = [Numbers(count.foundation) for count in counts if count.size is None]
    return [*dict.fromkeys([sizes[0], sizes[-1], *own[:1], *own[-1:]])]


def essence(made: Plan) -> list[object]:
    """All of a plan but the host's own spelling, and what is counted where she states nothing."""
    sections = [
        (section.title, section.purpose, section.kind, section.fits, section.ends, section.notes)
        for section in made.sections
    ]
    rounds = [
        (each.spot, each.label, each.line, each.full_steps, each.counts, each.notes) for each in made.rounds
    ]
    return [made.title, made.pieces, sections, rounds]


def test_read_again_it_is_the_same_piece_at_every_count() -> None:
    for where, pattern, _, words, again in sheets():
        for numbers in numbers_of(pattern):
            mine, its = plan(pattern, numbers), plan(again, numbers)
            assert essence(its) == essence(mine), (where, numbers, words)


def test_read_again_it_is_proved_without_a_fault_of_its_own() -> None:
    for where, pattern, _, words, _ in sheets():
        before, after = prove(pattern.source), prove(words)
        assert after.proved, (where, words, [finding.message for finding in after.findings])
        known = {finding.code for finding in before.findings}
        assert {finding.code for finding in after.findings} <= known, (
            where,
            words,
            [finding.message for finding in after.findings if finding.code not in known],
        )
        assert after.sizes == before.sizes, where
        assert (after.multiple, after.plus) == (before.multiple, before.plus), where
        assert after.counts_tried == before.counts_tried, where


def test_every_stated_count_is_the_fabrics() -> None:
    """Where the sheet states a count, a wrong one is found: the engine checks all of them."""
    stated = 0
    for where, _, _, words, _ in sheets():
        lines = words.split("\n")
        at = [index for index, line in enumerate(lines) if re.search(r"\. \[\d[^\[]*\]$", line)]
        for index in at[len(at) // 2 :][:1]:
            wrong = re.sub(r"\. \[(\d+)", lambda found: f". [{int(found[1]) + 1}", lines[index])
            broken = "\n".join([*lines[:index], wrong, *lines[index + 1 :]])
            assert not prove(broken).proved, (where, wrong)
            stated += 1
    assert stated > 60


def test_every_round_has_a_count_unless_its_rounds_differ() -> None:
    """None where rounds that a line makes, or that repeat it, differ; where a line only joins yarn, or goes
    by size beside every line in N.
    """
    for where, _, printed, words, _ in sheets():
        for section in printed.sections:
            for line in section.lines:
                if line.kind == "round" and not line.count:
                    by_size = re.search(r"\d \(\d", line.text)
                    repeated = re.search(r": Rep (rnd|row)", words)
                    assert by_size or repeated or line.text.startswith("Join yarn"), (where, line)


def test_what_is_the_same_at_all_sizes_stands_once() -> None:
    for where, _, printed, words, _ in sheets():
        for listed in re.findall(r"(\d+) \((\d+(?:, \d+)*)\)", words.split("# ", 1)[-1]):
            values = {listed[0], *listed[1].split(", ")}
            assert len(values) > 1, (where, listed)
        assert "  " not in words.replace("\n  ", ""), (where, printed.title)


def test_printed_again_it_is_the_same() -> None:
    for where, _, printed, _, again in sheets():
        assert sheet(again, printed.terms).sections == printed.sections, where


@pytest.mark.parametrize("terms", TERMS)
def test_one_pattern_in_its_own_terms(terms: Terms) -> None:
    where, pattern, *_ = sheets()[0]
    assert where == "slipway"
    again = read(sheet_text(sheet(pattern, terms)))
    assert again.findings == ()
    assert again.pattern.header.terms == terms
