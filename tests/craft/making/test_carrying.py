"""What a device carries says of every round what the plan says, however often its lines to fit are worked."""

from __future__ import annotations

import json
import random
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from server.craft.making import Numbers, plan
from server.craft.making.carrying import carried_plan, count_nouns, names_counted
from server.craft.making.planning import NUMBERED
from server.craft.text import read
from server.craft.text.tree import Pattern, Terms
from tests.craft.making.proved_patterns import proved_patterns


def numbers_of(pattern: Pattern, at: int) -> Numbers:
    header = pattern.header
    return Numbers(
        header.foundations[at] if header.foundations else None, header.sizes[at] if header.sizes else None
    )


def told(carried: Mapping[str, Any], fits: Mapping[str, int]) -> list[tuple[str, str, list[str], str]]:
    """Every round as a device tells it: (spot, label, steps, count)."""
    rounds = []
    shift = 0
    for section in carried["sections"]:
        for line in section["lines"]:
            shift = 0 if line["first"] else shift
            many = fits.get(line["line"], line["fit"]["written"]) if line["fit"] else len(line["labels"])
            for turn in range(1, many + 1):
                label = line["labels"][turn - 1]
                if shift and not line["named"] and (numbered := NUMBERED.fullmatch(label)):
                    label = f"{numbered[1]} {int(numbered[2]) + shift}"
                text = carried["texts"][line["texts"][turn - 1]]
                notes = line["notes"] if turn == many else []
                rounds.append((f"{line['line']}.{turn}", label, [*text["full"], *notes], text["fullCount"]))
            shift += many - line["fit"]["written"] if line["fit"] else 0
    return rounds


@pytest.mark.parametrize(("name", "text"), proved_patterns(), ids=lambda each: each[-40:])
def test_every_round_as_in_the_plan(name: str, text: str) -> None:
    pattern = read(text).pattern
    draw = random.Random(name)
    for at in {0, max(len(pattern.header.foundations), len(pattern.header.sizes), 1) - 1}:
        numbers = numbers_of(pattern, at)
        written = plan(pattern, numbers)
        carried = json.loads(json.dumps(carried_plan(pattern, numbers)))
        for _ in range(3 if written.fits else 1):
            fits = {fit.fit: draw.randint(1, fit.written + 12) for fit in written.fits}
            made = plan(pattern, replace(numbers, fits=tuple(fits.items())))
            expected = [
                (each.spot, each.label, [*each.full_steps, *each.notes], each.full_count)
                for each in made.rounds
            ]
            assert told(carried, fits) == expected


@pytest.mark.parametrize("terms", ["US", "UK"])
def test_small_enough_to_be_sent_with_every_page(terms: Terms) -> None:
    """Every line to fit has 40 rounds more than are written, and each text is there once."""
    for _, text in proved_patterns():
        pattern = read(text).pattern
        carried = carried_plan(pattern, numbers_of(pattern, 0), terms)
        texts = [json.dumps(each) for each in carried["texts"]]
        assert len(texts) == len(set(texts))
        assert len(json.dumps(carried)) < 20_000
        for section in carried["sections"]:
            for line in section["lines"]:
                if line["fit"]:
                    assert len(line["texts"]) == len(line["labels"]) == line["fit"]["written"] + 40


def test_what_is_counted_has_its_words() -> None:
    nouns = count_nouns(["dc", "V-st", "ch-1 sp", "sts"], "UK")
    assert nouns == {
        "dc": ["tr", "tr", "tr"],
        "V-st": ["V-st", "V-sts", "V-st"],
        "ch-1 sp": ["ch-1 sp", "ch-1 sps", "ch-1 sp"],
        "sts": ["st", "sts", "sts"],
    }
    carried = {"texts": [{"counts": {"dc": 4}, "toCount": [["sts", 4, "4 sts", "4 stitches"]]}]}
    assert names_counted(carried) == {"dc", "sts"}
