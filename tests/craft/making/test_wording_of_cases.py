"""An editor's rules for the three lengths of every round of the cases, at every size, in both terms."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from server.craft.fabric.values import Numbers
from server.craft.making import Plan, plan, sheet, sheet_text
from server.craft.text import read
from server.craft.text.tree import Pattern, Terms

CASES = Path(__file__).parents[2] / "cases" / "proved"
NAMES = sorted(path.stem for path in CASES.glob("*.txt"))
TERMS: tuple[Terms, ...] = ("US", "UK")

SHORT = re.compile(r"\b(sc|hdc|dc|tr|dtr|htr|sts?|sps?|ch|sk|rep|beg|rnd|yo|[FB]P\w+|\w+2tog)\b")
ONE_AND_MANY = re.compile(
    r"(?<!-)\b1 (?:stitches|chains|spaces|\w+s in)\b"
    r"|\beach of (?:the )?(?:next |last )?1 "
    r"|(?<!-)\b(?:[2-9]|\d\d+) (?:stitch|chain|space)\b(?!-)"
)
TWICE = re.compile(r"\b(the|in|of|next|to) \1\b", re.IGNORECASE)
US_ONLY = re.compile(r"\b(single|half double|skip(?:s|ped)?|center|gauge)\b", re.IGNORECASE)
UK_ONLY = re.compile(r"\b(half trebles?|miss(?:ed)?|centre|tension)\b", re.IGNORECASE)
UNTIDY = re.compile(r"  |,,|;;|\( | \)|,\)|\.\.|\bundefined\b|\bNone\b")


@cache
def pattern_of(name: str) -> Pattern:
    return read((CASES / f"{name}.txt").read_text(encoding="utf-8")).pattern


def plans(name: str, terms: Terms) -> Iterator[Plan]:
    pattern = pattern_of(name)
    foundations = pattern.header.foundations or (None,) * len(pattern.header.sizes)
    for size, foundation in zip(pattern.header.sizes, foundations, strict=True):
        yield plan(pattern, Numbers(foundation, size), terms)


@pytest.mark.parametrize("terms", TERMS)
@pytest.mark.parametrize("name", NAMES)
def test_the_makers_words_read_well(name: str, terms: Terms) -> None:
    wrong = UK_ONLY if terms == "US" else US_ONLY
    for made in plans(name, terms):
        for each in made.rounds:
            full, short = (*each.full_steps, each.full_count), (*each.steps, each.line, each.count_text)
            for words in full:
                bare = words.replace("V-stitch", "group")
                assert not SHORT.search(bare), words
            for words in (*full, *short):
                assert not ONE_AND_MANY.search(words), words
                assert not TWICE.search(words), words
                assert not wrong.search(words), words
                assert not UNTIDY.search(words), words
                assert words[:1] == words[:1].upper(), words
                assert words.count("(") == words.count(")"), words
                assert words.count("[") == words.count("]"), words


@pytest.mark.parametrize("terms", TERMS)
@pytest.mark.parametrize("name", NAMES)
def test_the_sheet_reads_well(name: str, terms: Terms) -> None:
    """All but the host's own words: every line of a section, facts and abbreviations."""
    made = sheet(pattern_of(name), terms)
    wrong = UK_ONLY if terms == "US" else US_ONLY
    assert sheet_text(made).endswith("\n")
    explained = {fact.label for fact in made.abbreviations}
    said = " ".join(
        f"{line.text} {line.count}" for part in made.sections for line in part.lines if line.kind == "round"
    )
    for short in SHORT.findall(re.sub(r"\b[Ss]l sts?\b", "", said)):
        one = re.sub(r"^(st|sp)s$", r"\1", short)
        assert one in explained or one.startswith("N"), one
    for fact in made.abbreviations:
        assert not wrong.search(fact.text), fact
        assert not SHORT.search(fact.text), fact
        assert re.search(
            rf"\b{re.escape(fact.label)}s?\b", f"{said} {' '.join(made.special)}", re.IGNORECASE
        ) or (fact.label in ("rnd", "beg")), fact
    for part in made.sections:
        for line in part.lines:
            if line.kind == "round":
                assert not wrong.search(line.text), line
                assert not UNTIDY.search("|".join((line.label, line.text, line.count, line.custom))), line
                assert not TWICE.search(line.text), line
