"""No text makes the engine raise: arbitrary text, words of the trade at random, real patterns damaged."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.craft.fabric.report import check
from tests.craft.broken.expect_broken import sound, whole
from tests.craft.broken.guarded import guarded

PATTERN = """Title: Bittern Mitt
Sizes: small (medium, large)
Foundation: 24 (30, 36), multiple of 3
Custom: 24 to 30
Special stitch: Rush = (2 dc, ch 1, 2 dc) in one place

# Cuff - to the base of the thumb
Foundation rnd: Ch 24 (30, 36); join with sl st in first ch to form a ring. [24 (30, 36) ch]
Rnd 1: Ch 4 (counts as dc, ch 1), dc in same ch, *sk 2 ch, V-st in next ch; rep from * around;
  join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]
Rnds 2 to 3 (3, 4), or to the base of the thumb: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1),
  dc in same sp, *V-st in next V-st; rep from * around; join with sl st in 3rd ch of beg ch-4. [N/3 V-sts]

# Thumb gap
Rnd 1: Sl st in next ch-1 sp, ch 4 (counts as dc, ch 1), dc in same sp, ch 5, sk next V-st,
  [V-st in next V-st] around; join with sl st in 3rd ch of beg ch-4. [N/3 - 1 V-sts, 1 ch-5 sp]
Fasten off.

# Thumb - around the gap
Rnd 1: Join yarn with sl st in skipped V-st, ch 3 (counts as dc), dc in same sp, 2 dc in side of next dc,
  dc in underside of next 5 ch, 2 dc in side of next dc; join with sl st in top of beg ch. [11 dc]
"""
WORDS = [
    "ch", "sc", "dc", "hdc", "tr", "sl st", "sk", "in", "next", "same", "each", "first", "last", "of",
    "around", "rep", "from *", "to", "*", "**", "[", "]", "(", ")", "{", "}", ",", ";", ".", ":",
    "join with", "turn", "N", "N/3", "2N/3 + 1", "-", "1", "2", "3", "24 (28, 32)", "times", "more", "sp",
    "st", "sts", "ch-1 sp", "ch-3", "beg ch", "top of", "V-st", "shell", "picot", "sc2tog", "over",
    "skipped", "side of", "underside of", "ring", "foundation", "omitting", "Rnd 2:", "Rnds 3 to 5:",
    "rep rnd 1", "[24 sc]", "# Gap", "Fasten off.", "\n", "8 times",
]  # fmt: skip


def answered(text: str, *, placed: bool) -> None:
    """The engine answers with a report that is whole (and, where lines are lines, well placed)."""
    with guarded():
        report = check(text)
    json.dumps(report)
    if placed:
        sound(report, text)
    else:
        whole(report)


def lines_are_lines(text: str) -> bool:
    """Whether a line feed is the only line end in the text."""
    return len(text.splitlines()) in {text.count("\n"), text.count("\n") + 1} and "\r" not in text


def damaged(begin: int, length: int, instead: str) -> str:
    """The pattern with a piece of it taken out and another put in its place."""
    return PATTERN[:begin] + instead + PATTERN[begin + length :]


ARBITRARY = st.text(max_size=400)
IN_WORDS = st.lists(st.sampled_from(WORDS), max_size=40).map(" ".join)
DAMAGE = st.builds(
    damaged,
    st.integers(0, len(PATTERN)),
    st.integers(0, 60),
    st.one_of(st.just(""), IN_WORDS, st.text(max_size=6)),
)


@settings(max_examples=60, deadline=None)
@given(ARBITRARY)
def test_arbitrary_text(text: str) -> None:
    answered(text, placed=lines_are_lines(text))


@settings(max_examples=60, deadline=None)
@given(st.lists(IN_WORDS, max_size=4))
def test_rounds_of_random_words(rounds: list[str]) -> None:
    head = PATTERN[: PATTERN.index("Rnds 2 to")]
    answered(head + "\n".join(f"Rnd {n}: {words}" for n, words in enumerate(rounds, 2)), placed=True)


@settings(max_examples=60, deadline=None)
@given(DAMAGE)
def test_a_damaged_pattern(text: str) -> None:
    answered(text, placed=lines_are_lines(text))


@pytest.mark.slow
@settings(max_examples=3000, deadline=None)
@given(st.one_of(DAMAGE, ARBITRARY, IN_WORDS))
def test_much_of_everything(text: str) -> None:
    answered(text, placed=lines_are_lines(text))
