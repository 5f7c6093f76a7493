"""No shortcut changes a result: what is kept, taken over or made in one go is what comes of carrying it out
stitch by stitch, at every count, in every field of every stitch.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.craft.fabric import Cache, Numbers, in_a_row, replaying, work
from server.craft.text import read
from tests.craft.fabric.cold import worked, worked_cold
from tests.craft.text.docstrings import docstring_patterns

CASES = Path(__file__).parents[2] / "cases"
PATTERNS = docstring_patterns() | {
    path.stem: path.read_text(encoding="utf-8") for path in sorted(CASES.glob("*/*.txt"))
}


@pytest.mark.parametrize("text", PATTERNS.values(), ids=PATTERNS)
def test_every_pattern_comes_out_as_it_does_cold(text: str) -> None:
    assert worked(text) == worked_cold(text)


def test_the_order_of_work_does_not_matter() -> None:
    """One cache for many texts, in any order: each comes out as by itself."""
    texts = list(PATTERNS.values())[::4]
    alone = {text: worked(text) for text in texts}
    for seed in range(3):
        cache = Cache()
        random.Random(seed).shuffle(texts)
        assert all(worked(text, cache) == alone[text] for text in texts)


@pytest.mark.parametrize(
    "text",
    [
        "Ch 1, sc in same ch, *ch 3, sk 3 ch, sc in next ch; rep from * 22 times, ch 3; join.",
        "Ch 1, sc in same ch, *ch 3, sk 3 ch, sc in next ch; rep from * around, omitting last sc; join.",
        "Ch 1, sc in same ch, *dc in next ch, sc in next ch; rep from * to last 3 ch, sc in last 3 ch; join.",
        "Ch 3 (counts as dc), *sk next ch, 2 dc in next ch, dc in skipped ch; rep from * to last ch; join.",
        "Ch 1, sc in same ch, *[sc in next ch, 3 dc in next ch] 2 times; rep from * to last 3 ch; join.",
    ],
)
def test_most_turns_of_a_repeat_are_taken_over(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    taken: list[int] = []
    replay = replaying.replay

    def noted(*args: Any) -> int:
        taken.append(replay(*args))
        return taken[-1]

    monkeypatch.setattr(replaying, "replay", noted)
    work(read(written([text], "joined rounds", 96)).pattern, Numbers(96))
    turns = 96 // (text.count("next ch") * (2 if "2 times" in text else 1) + 3 * text.count("sk 3"))
    assert sum(taken) >= turns - 6


@pytest.mark.parametrize("place", ["each ch around", "next 95 ch", "each ch to last 2 ch"])
def test_stitches_in_a_row_are_made_in_one_go(place: str, monkeypatch: pytest.MonkeyPatch) -> None:
    made: list[Sequence[int]] = []
    places = in_a_row.places_in_a_row

    def noted(*args: Any) -> Sequence[int]:
        made.append(places(*args))
        return made[-1]

    monkeypatch.setattr(in_a_row, "places_in_a_row", noted)
    (cuff,) = work(read(written([f"Ch 1, sc in {place}"], "joined rounds", 96)).pattern, Numbers(96)).sections
    assert [one.base for one in cuff.rounds[1].path if one.kind == "stitch"] == [(at,) for at in made[0]]
    assert len(made[0]) > 90


# --- rounds of all kinds ------------------------------------------------------------------------------------

SMALL = st.integers(1, 4)
STITCH = st.sampled_from(["sc", "hdc", "dc", "tr", "dc2tog", "FPdc", "V-st", "Perch", "picot", "sl st"])
PLACE = st.one_of(
    st.sampled_from([
        "next st", "same st", "next ch", "next ch-1 sp", "next sp", "next ch-2 sp", "skipped st", "next V-st",
        "next Perch", "next dc", "next sc", "center dc of next V-st", "2nd ch of next ch-3", "each st around",
        "each of next 5 sts", "each st and ch-1 sp around", "every other st around", "first st", "last st",
        "last 3 sts", "each st to last 2 sts", "2nd st", "BLO of next st", "same st as beg ch",
    ]),
    st.builds("next {} sts".format, st.integers(2, 9)),
)  # fmt: skip
INSIDE = st.builds("({}, ch {}, {})".format, STITCH, SMALL, STITCH)
WORK = st.builds("{} in {}".format, st.one_of(STITCH, INSIDE, st.builds("{} dc".format, SMALL)), PLACE)
STEP = st.one_of(
    WORK, st.builds("ch {}".format, SMALL), st.builds("sk {} sts".format, SMALL), st.just("sk next ch-1 sp"),
    st.just("sk next V-st"), st.builds("[{}, {}] {} times".format, WORK, WORK, st.integers(2, 4)),
    st.builds("[{} in same {}, {}] {} times".format, STITCH, st.sampled_from(["st", "sp", "st as beg ch"]),
              st.sampled_from(["ch 2", "picot", "sc in same st", "V-st in same st"]), st.integers(3, 9)),
    st.builds("{} {} in next st".format, SMALL, st.sampled_from(["V-st", "Perch"])),
)  # fmt: skip
STEPS = st.lists(STEP, min_size=1, max_size=4).map(", ".join)
WAY = st.one_of(
    st.sampled_from(["around", "around", "around", "around, omitting last sc", "to end"]),
    st.builds("to last {} sts".format, st.integers(1, 5)),
    st.builds("{} times more".format, st.integers(1, 30)),
)
REPEAT = st.builds("*{}; rep from * {}".format, STEPS, WAY)
# the usual rounds: they close, so that the rounds after them are worked
PLAIN = st.sampled_from([
    "Ch 1, sc in same st, sc in each st around",
    "Ch 1, sc in same st, *sc in next st; rep from * around",
    "Ch 3 (counts as dc), dc in next st, *dc in next st, dc in next st; rep from * around",
    "Ch 4 (counts as dc, ch 1), sk next st, *dc in next st, ch 1, sk next st; rep from * around",
    "Ch 1, sc in same st, *ch 3, sk 3 sts, sc in next st; rep from * around, omitting last sc",
    "Ch 3 (counts as dc), *sk next st, dc in next st, dc in skipped st; rep from * to last st, dc in last st",
    "Ch 3 (counts as dc), (dc, ch 1, 2 dc) in same st, *sk 3 sts, Perch in next st; rep from * around",
    "Ch 1, sc in same st, *[hdc in next st] 2 times, dc in next 2 sts; rep from * to last 3 sts,"
    " sc in next 3 sts",
    "Sl st in next ch-1 sp, ch 3 (counts as dc), (dc, ch 1, 2 dc) in same sp, *Perch in next ch-1 sp;"
    " rep from * around",
    "Ch 1, sc in first st, *sc2tog, sc in next st; rep from * around",
])  # fmt: skip
ODD = st.builds("{}, {}, {}".format, st.sampled_from(["Ch 1, sc in same st", "Ch 3 (counts as dc)"]), STEPS,
                st.one_of(REPEAT, STEPS))  # fmt: skip
ROUND = st.one_of(PLAIN, PLAIN, ODD)
HEAD = """\
Title: Any Cuff
Sizes: small (large)
Foundation: 16 (24), multiple of 4
Custom: {low} to {high}
Worked: {worked}
Special stitch: V-st = (dc, ch 1, dc) in one place
Special stitch: Perch = (2 dc, ch 1, 2 dc) in one place

# Cuff
Foundation rnd: Ch N; join with sl st in first ch to form a ring.
"""
IN_ROWS = HEAD.replace("rnd: Ch N; join with sl st in first ch to form a ring", "row: Ch N")


def written(rounds: list[str], way: str, high: int) -> str:
    """A pattern of these rounds."""
    head = (IN_ROWS if way == "rows" else HEAD).format(low=12, high=high, worked=way)
    end = {"joined rounds": "; join with sl st in first st.", "spiral": ".", "rows": "; turn."}[way]
    word = "Row" if way == "rows" else "Rnd"
    return head + "\n".join(f"{word} {at}: {text}{end}" for at, text in enumerate(rounds, 1)) + "\n"


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(ROUND, min_size=1, max_size=4), st.sampled_from(["joined rounds", "spiral", "rows"]))
def test_any_rounds_come_out_as_they_do_cold(rounds: list[str], way: str) -> None:
    text = written(rounds, way, 48)
    assert worked(text) == worked_cold(text), text


@pytest.mark.slow
@settings(max_examples=3000, deadline=None)
@given(st.lists(ROUND, min_size=1, max_size=5), st.sampled_from(["joined rounds", "spiral", "rows"]))
def test_very_many_rounds_come_out_as_they_do_cold(rounds: list[str], way: str) -> None:
    text = written(rounds, way, 72)
    assert worked(text) == worked_cold(text), text
