"""Where within a round she can stop: the repeats and steps of a plan."""

from __future__ import annotations

from server.craft.making import Mid, Numbers, PlanRound, plan, stops
from server.craft.text import read
from tests.craft.making.slipway import TEXT

PATTERN = read(TEXT).pattern


def planned(spot: str) -> PlanRound:
    found = plan(PATTERN, Numbers(28, "medium")).round_at(spot)
    assert found is not None
    return found


def test_how_often_the_repeat_is_worked() -> None:
    """28 chains: 7 Perches, the first from the beginning chain, 6 by the repeat; 28 sc are no repeat."""
    assert planned("0.0.1").repeats == 0
    assert planned("0.1.1").repeats == 0
    two = planned("0.2.1")
    assert two.repeats == 6
    assert two.repeat_step is not None
    assert two.steps[two.repeat_step].startswith("6 times")
    assert two.full_repeat_step is not None
    assert two.full_steps[two.full_repeat_step].startswith("6 times")


def test_a_perch_in_each_is_one_step_and_no_repeat() -> None:
    """`*Perch in next ch-1 sp; rep from *` is said as one: "Perch in each of the next 6 ch-1 sps"."""
    three = planned("0.3.1")
    assert any("each of the next 6" in step for step in three.steps)
    assert three.repeats == 0


def test_the_edging_repeats_to_the_last_stitches() -> None:
    """28 sc: 2, then *4 over 6 Perches, the last 2."""
    edging = planned("3.0.1")
    assert edging.repeats == 6
    assert edging.repeat_step is not None
    assert edging.steps[edging.repeat_step].startswith("6 times")


def test_every_place_to_stop_in_working_order() -> None:
    two = planned("0.2.1")
    offered = stops(two)
    assert [each.repeat for each in offered if each.repeat] == [1, 2, 3, 4, 5]
    assert Mid("0.2.1", "after the 3rd of 6 repeats", two.repeat_step, 3) in offered
    assert offered[0] == Mid("0.2.1", f"after step 1 of {len(two.steps)}", 0, None)
    assert offered[-1].step == len(two.steps) - 2  # after the last step she is at the round's end
    assert [each.step for each in offered] == sorted(each.step or 0 for each in offered)
    full = stops(two, full=True)
    assert [each.repeat for each in full if each.repeat] == [1, 2, 3, 4, 5]


def test_a_ring_is_a_step_of_its_own_in_full_words() -> None:
    text = """\
Title: Lamp Crown
Foundation: none
Pieces: one

# Crown
Rnd 1: Ch 1, *sc in ring, ch 2; rep from * 5 times more; join with sl st in first sc. [6 sc, 6 ch-2 sps]
"""
    first = plan(read(text).pattern, Numbers(None)).rounds[0]
    assert first.repeats == 6
    assert first.repeat_step is not None
    assert first.full_repeat_step is not None
    assert first.full_repeat_step == first.repeat_step + 1
    assert first.full_steps[first.full_repeat_step].startswith("6 times")
