"""Joins that do not land on the round's first place, and beginning chains of the wrong height."""

import pytest

from tests.craft.broken.expect_broken import Check, clean, only_fault, only_warning

HEAD = """Title: Weir Cuff
Foundation: 24, multiple of 2
Custom: 20 to 26

# Cuff
Foundation rnd: Ch 24; join with sl st in first ch to form a ring. [24 ch]
Rnd 1: Ch 1, sc in same ch, sc in each ch around; join with sl st in first sc. [24 sc]
"""
EVERY = [20, 22, 24, 26]

DC_ROUND = HEAD + (
    "Rnd 2: Ch 3 (counts as dc), dc in each st around;\n  join with sl st in top of beg ch. [N dc]\n"
)
SC_ROUND = HEAD + "Rnd 2: Ch 1, sc in same st, sc in each st around;\n  join with sl st in first sc. [N sc]\n"
MESH_ROUND = (
    HEAD + "Rnd 2: Ch 4 (counts as dc, ch 1), sk 1 st, *dc in next st, ch 1, sk 1 st; rep from * around;\n"
    "  join with sl st in 3rd ch of beg ch-4. [N/2 dc, N/2 ch-1 sps]\n"
)
DC_JOIN = "join with sl st in top of beg ch"
SC_JOIN = "sl st in first sc. [N sc]"


@pytest.mark.parametrize("text", [DC_ROUND, SC_ROUND, MESH_ROUND])
def test_the_rounds_themselves_are_right(check: Check, text: str) -> None:
    clean(check, text)


@pytest.mark.parametrize(
    "place",
    [
        "3rd ch of beg ch-4",  # the round began with ch 3
        "5th ch of beg ch-3",  # a ch 3 has no fifth chain
        "first sc",  # every stitch is a dc
        "next ch-3 sp",  # there is no space
    ],
)
def test_a_join_that_a_round_of_dc_does_not_have(check: Check, place: str) -> None:
    text = DC_ROUND.replace(DC_JOIN, f"join with sl st in {place}")
    only_fault(check, text, "join", "place", on=f"in {place}. [N", words=place, at=EVERY)


@pytest.mark.parametrize(
    "place",
    [
        "top of beg ch",  # a ch 1 never counts
        "3rd ch of beg ch-3",  # the round began with ch 1
        "first dc",  # every stitch is an sc
    ],
)
def test_a_join_that_a_round_of_sc_does_not_have(check: Check, place: str) -> None:
    text = SC_ROUND.replace(SC_JOIN, f"sl st in {place}. [N sc]")
    only_fault(check, text, "join", "place", on=f"in {place}. [N", words=place, at=EVERY)


def test_a_join_in_the_second_stitch(check: Check) -> None:
    text = SC_ROUND.replace(SC_JOIN, "sl st in 2nd sc. [N sc]")
    only_warning(check, text, "join", on="2nd sc", words="2nd sc", at=EVERY)


def test_a_join_one_chain_further_on(check: Check) -> None:
    # the third chain is the dc's top, the fourth belongs to the space
    text = MESH_ROUND.replace("3rd ch of beg ch-4", "4th ch of beg ch-4")
    only_warning(check, text, "join", on="4th ch", words="4th ch of beg ch-4", at=EVERY)


def test_a_top_of_a_chain_that_is_said_not_to_count(check: Check) -> None:
    text = HEAD + (
        "Rnd 2: Ch 2 (does not count as a st), dc in same st, dc in each st around;\n"
        "  join with sl st in top of beg ch. [N dc]\n"
    )
    only_fault(check, text, "join", "place", on="top of beg ch", words="top of beg ch", at=EVERY)


def test_the_foundation_ring_joined_in_a_stitch(check: Check) -> None:
    text = SC_ROUND.replace("join with sl st in first ch to form", "join with sl st in first sc to form")
    only_fault(check, text, "join", "place", on="Foundation rnd:", words="first sc")


@pytest.mark.parametrize(
    ("chain", "stitch"), [("Ch 2", "dc"), ("Ch 3", "tr"), ("Ch 2", "tr"), ("Ch 3", "dtr")]
)
def test_a_bare_beginning_chain_too_short_for_its_stitch(check: Check, chain: str, stitch: str) -> None:
    # it does not count, so that every stitch is a worked one
    text = HEAD + (
        f"Rnd 2: {chain}, {stitch} in same st, {stitch} in each st around;\n"
        f"  join with sl st in first {stitch}. [N {stitch}]\n"
    )
    only_warning(check, text, on="Rnd 2:", words=chain, at=EVERY)


@pytest.mark.parametrize(("chain", "stitch"), [("Ch 1", "sc"), ("Ch 1", "hdc"), ("Ch 1", "dc")])
def test_a_chain_of_one_never_counts_and_is_no_fault(check: Check, chain: str, stitch: str) -> None:
    clean(check, HEAD + (
        f"Rnd 2: {chain}, {stitch} in same st, {stitch} in each st around;\n"
        f"  join with sl st in first {stitch}. [N {stitch}]\n"
    ))  # fmt: skip


@pytest.mark.parametrize(("chain", "stitch"), [("Ch 2", "hdc"), ("Ch 3", "dc"), ("Ch 4", "tr")])
def test_a_bare_chain_of_its_stitch_s_height_counts(check: Check, chain: str, stitch: str) -> None:
    # the chain stands in the hook's place, and one stitch beside it makes one more than N
    text = HEAD + (
        f"Rnd 2: {chain}, {stitch} in same st, {stitch} in each st around;\n"
        f"  join with sl st in top of beg ch. [N {stitch}]\n"
    )
    only_fault(check, text, "count", on=f"[N {stitch}]", words=stitch, at=EVERY)
