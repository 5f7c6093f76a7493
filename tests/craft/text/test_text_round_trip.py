"""Printing a tree and reading it again gives the same tree; in the other terms too, by their names."""

import pytest
from hypothesis import given, settings

from server.craft.text import read, write
from server.craft.text.language import chapters
from server.craft.text.tree import Pattern, Terms
from tests.craft.text.docstrings import docstring_patterns
from tests.craft.text.trees import patterns

PATTERNS = docstring_patterns()
TERMS: tuple[Terms, ...] = ("US", "UK")


def test_there_are_patterns_to_print() -> None:
    assert len(PATTERNS) > 80


@pytest.mark.parametrize("text", PATTERNS.values(), ids=PATTERNS)
def test_a_pattern_printed_reads_the_same(text: str) -> None:
    pattern = read(text).pattern
    assert read(write(pattern)).pattern == pattern


@pytest.mark.parametrize("terms", TERMS)
@pytest.mark.parametrize("text", PATTERNS.values(), ids=PATTERNS)
def test_a_pattern_in_other_terms_reads_the_same(text: str, terms: Terms) -> None:
    pattern = read(text).pattern
    other = read(write(pattern, terms)).pattern
    assert other.header.terms == terms
    assert other.sections == pattern.sections


SAMPLES = {entry.key: entry.sample for chapter in chapters() for entry in chapter.entries if not entry.finds}
"""Every kind of instruction is in one of them: the page that shows them is held to that."""


@pytest.mark.parametrize("text", SAMPLES.values(), ids=SAMPLES)
def test_a_sample_of_the_language_printed_reads_the_same(text: str) -> None:
    pattern = read(text).pattern
    assert read(write(pattern)).pattern.sections == pattern.sections


@settings(max_examples=100, deadline=None)
@given(patterns())
def test_any_tree_printed_reads_the_same(pattern: Pattern) -> None:
    text = write(pattern)
    assert read(text).pattern == pattern, text


@settings(max_examples=50, deadline=None)
@given(patterns())
def test_any_tree_in_uk_terms_reads_the_same(pattern: Pattern) -> None:
    text = write(pattern, "UK")
    again = read(text)
    assert again.pattern.sections == pattern.sections, text
    assert not again.findings, text


@pytest.mark.slow
@settings(max_examples=5000, deadline=None)
@given(patterns())
def test_very_many_trees_printed_read_the_same(pattern: Pattern) -> None:
    for terms in TERMS:
        assert read(write(pattern, terms)).pattern.sections == pattern.sections, write(pattern, terms)


def test_what_the_header_leaves_out_is_left_out() -> None:
    text = "Title: Tern Cuff\n\n# Cuff\nRnd 1: Ch N, sc in each of next N/3 - 1 ch.\n"
    pattern = read(text).pattern
    assert "Foundation" not in write(pattern)
    assert read(write(pattern)).pattern == pattern
