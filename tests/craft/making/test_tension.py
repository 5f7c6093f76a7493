"""Measures and weights of both gloves: how much they may differ, and what it means where they do more."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from server.craft.making import Difference, Numbers, Verdict, as_made, fold, verdict
from server.craft.making.tension import compared, next_hook_mm
from server.craft.making.twins import pair_of
from server.craft.measure.hooks import HOOKS_MM
from tests.craft.making.entries import log
from tests.craft.making.plans import PATTERN, planner
from tests.craft.making.test_twins import SETTLED, fit_ended, hook, made

Told = tuple[str, int, dict[str, Any]]


def wide(piece: int, mm: float, spot: str = "0.2.4") -> Told:
    return ("measured", piece, {"what": "width", "mm": mm, "spot": spot})


def long(piece: int, mm: float, spot: str = "0.2.4") -> Told:
    return ("measured", piece, {"what": "length", "mm": mm, "spot": spot})


def weighs(piece: int, grams: float, spot: str = "0.2.4") -> Told:
    return ("weighed", piece, {"grams": grams, "spot": spot})


def judged(*told: Told, upto: str = "0.2.4") -> Verdict:
    """Glove one finished, glove two to that round, with hooks of 5 mm."""
    start = [SETTLED, hook(1, 5), hook(2, 5), *made(1), *made(2, upto=upto)]
    return verdict(PATTERN, fold(log(*start, *told)), "US", planner)


def only(found: Verdict) -> Difference:
    (one,) = found.differences
    return one


# --- half a stitch, half a round, the scale ----------------------------------------------------------------


def test_half_a_stitch_of_width_is_allowed() -> None:
    """The hand-made plan has 16 dc in a round: 96 mm across shows 8, each 12 mm wide; half of one is 6."""
    plan = planner(PATTERN, Numbers(24), "US")
    assert plan.rounds[4].counts == {"V-st": 8, "dc": 16, "sts": 16}
    assert judged(wide(1, 96), wide(2, 90)).state == "twin so far"
    assert judged(wide(1, 96), wide(2, 102)).state == "twin so far"
    assert judged(wide(1, 96), wide(2, 89.9)).state == "differs"
    assert judged(wide(1, 96), wide(2, 102.1)).state == "differs"


def test_half_a_round_of_length_is_allowed() -> None:
    """6 rounds to 0.2.4, the foundation left out: 72 mm are 12 mm a round; half of one is 6 mm."""
    assert judged(long(1, 72), long(2, 66)).state == "twin so far"
    assert judged(long(1, 72), long(2, 65.9)).state == "differs"


def test_weight_may_differ_by_what_the_others_may_and_the_scale_rounds() -> None:
    """1/16 and 1/12 of 12 g are 0.75 and 1 g; with 1 g of two readings it is 2.75 g."""
    assert judged(weighs(1, 12), weighs(2, 14.7)).state == "twin so far"
    assert judged(weighs(1, 12), weighs(2, 14.8)).state == "differs"


def test_rows_lie_flat_and_show_every_stitch() -> None:
    making = fold(log(SETTLED, *made(1), *made(2, upto="0.2.4"), wide(1, 96), wide(2, 96)))
    pair = pair_of(PATTERN, making, "US", planner)
    assert [each.allowed for each in compared(pair)] == [6.0]
    assert [each.allowed for each in compared(replace(pair, flat=True))] == [3.0]


# --- what it means and what to do --------------------------------------------------------------------------


def test_a_tighter_hand_and_a_hook_up() -> None:
    found = only(judged(wide(1, 96), wide(2, 86)))
    assert found.what == (
        "At the end of Rnd 6 of the Cuff glove one is 9.6 cm wide, glove two 8.6 cm: 10 mm (10 %) narrower. "
        "The counts agree, so your hand is tighter than it was."
    )
    assert found.mend == (
        "Take a hook a size up, 5.5 mm (US I-9), from the next round on, and measure again after 2 rounds. "
        "Or go on with a looser hand, or note that it is meant."
    )
    assert (found.kind, found.spot, found.one, found.two, found.take_out) == (
        "width", "0.2.4", "9.6 cm", "8.6 cm", None,
    )  # fmt: skip


def test_a_looser_hand_and_a_hook_down() -> None:
    found = only(judged(wide(1, 96), wide(2, 106)))
    assert "10 mm (10 %) wider. The counts agree, so your hand is looser than it was." in found.what
    assert found.mend.startswith("Take a hook a size down, 4.5 mm (US 7), from the next round on")


def test_another_hook_explains_it_and_is_gone_back_to() -> None:
    found = judged(wide(1, 96), wide(2, 86), hook(2, 4.5, "0.2.1"))
    width = next(each for each in found.differences if each.kind == "width")
    assert width.what.endswith("Glove one had a hook of 5 mm (US H-8) there, glove two 4.5 mm (US 7).")
    assert width.mend.startswith("Go back to glove one's hook of 5 mm (US H-8) from the next round on")


def test_a_hook_that_did_not_help_is_not_gone_back_to() -> None:
    """Glove two is narrower though its hook is thicker: a size up from that."""
    found = judged(wide(1, 96), wide(2, 86), hook(2, 5.5, "0.2.1"))
    width = next(each for each in found.differences if each.kind == "width")
    assert width.mend.startswith("Take a hook a size up, 6 mm (US J-10), from the next round on")


def test_where_they_agreed_last_is_where_to_go_back_to() -> None:
    told = [wide(1, 96, "0.2.2"), wide(2, 95, "0.2.2"), wide(1, 96), wide(2, 86)]
    found = only(judged(*told))
    assert found.mend.endswith("At the end of Rnd 4 of the Cuff they agree still: you can go back to there.")
    assert found.take_out == "0.2.3"


def test_a_shorter_glove() -> None:
    found = only(judged(long(1, 72), long(2, 62)))
    assert found.what == (
        "To the end of Rnd 6 of the Cuff glove one is 7.2 cm long, glove two 6.2 cm: 10 mm (14 %) shorter "
        "with the same rounds. The counts agree, so your hand is tighter than it was."
    )
    assert found.mend.startswith("Draw the loops up a little higher as you work")


def test_what_became_short_stays_short_and_is_named_once() -> None:
    told = [long(1, 72), long(2, 62), long(1, 84, "1.0.1"), long(2, 72, "1.0.1")]
    found = judged(*told, fit_ended(2, "0.2", 6), upto="1.0.1")
    assert [(each.kind, each.spot) for each in found.differences] == [("length", "0.2.4")]


def test_a_heavier_glove() -> None:
    found = only(judged(weighs(1, 12), weighs(2, 16)))
    assert found.what == (
        "To the end of Rnd 6 of the Cuff glove one weighs 12 g, glove two 16 g: 4 g (33 %) more with "
        "the same rounds."
    )
    assert found.mend.startswith("Measure the width of both: a looser hand takes more yarn.")


def test_a_finished_pair_is_washed_and_laid_out() -> None:
    told = [SETTLED, *made(1), *made(2), wide(1, 96), wide(2, 86)]
    found = only(verdict(PATTERN, fold(log(*told)), "US", planner))
    assert (
        found.mend == "Wet both, lay them out to the same width and let them dry, or note that it is meant."
    )


def test_inches() -> None:
    making = fold(log(SETTLED, *made(1), *made(2, upto="0.2.4"), wide(1, 96), wide(2, 86)))
    found = only(verdict(PATTERN, making, "US", planner, "in"))
    assert "is 3.8 in wide, glove two 3.4 in: 0.39 in (10 %) narrower." in found.what


# --- only what can be compared -----------------------------------------------------------------------------


@pytest.mark.parametrize(
    "told",
    [
        [wide(1, 96), wide(2, 80, "0.2.3")],  # not at the same round
        [wide(2, 80)],
        [wide(1, 96)],
        [wide(1, 96), long(2, 80)],
    ],
)
def test_measures_of_one_glove_alone_say_nothing(told: list[Told]) -> None:
    assert judged(*told).differences == ()


def test_where_the_rounds_or_the_counts_differ_that_is_the_difference() -> None:
    more = [SETTLED, *made(1), *made(2, cuff=7, upto="1.0.1")]
    measured = [long(1, 96, "1.0.1"), long(2, 80, "1.0.1"), weighs(1, 10, "1.0.1"), weighs(2, 20, "1.0.1")]
    found = verdict(PATTERN, fold(log(*more, *measured)), "US", planner)
    assert [each.kind for each in found.differences] == ["rounds"]
    off = [wide(1, 96), wide(2, 80), ("counted", 2, {"spot": "0.2.2", "name": "V-st", "count": 7})]
    assert [each.kind for each in judged(*off).differences] == ["count"]


def test_a_width_does_not_hang_on_how_many_rounds_there_are() -> None:
    """A round more is meant; the hand above the gap is narrower all the same."""
    told = [SETTLED, *made(1), *made(2, cuff=7, upto="1.0.1"), wide(1, 96, "1.0.1"), wide(2, 80, "1.0.1")]
    found = verdict(PATTERN, fold(log(*told)), "US", planner)
    assert [(each.kind, each.spot) for each in found.differences] == [("rounds", "0.2.7"), ("width", "1.0.1")]


def test_measured_again_after_a_mend_and_meant_differences_stay_visible() -> None:
    told = [wide(1, 96), wide(2, 86)]
    key = only(judged(*told)).key
    found = judged(*told, ("accepted", 0, {"difference": key}))
    assert found.state == "twin so far"
    assert only(found).accepted
    rows = {row.section_title: row for row in found.sections}
    assert rows["Width at Rnd 6 of the Cuff"].state == "meant"
    assert judged(*told, wide(2, 95)).differences == ()
    tighter_still = judged(*told, ("accepted", 0, {"difference": key}), wide(2, 80))
    assert tighter_still.state == "differs"  # what was meant was another width


def test_rows_of_all_that_was_measured() -> None:
    found = judged(wide(1, 96), wide(2, 95), long(1, 72), weighs(1, 12), weighs(2, 12))
    rows = [(row.section_title, row.one, row.two, row.state) for row in found.sections[-3:]]
    assert rows == [
        ("Width at Rnd 6 of the Cuff", "9.6 cm", "9.5 cm", "same"),
        ("Length at Rnd 6 of the Cuff", "7.2 cm", "not measured", "so far"),
        ("Weight with Rnd 6 of the Cuff", "12 g", "12 g", "same"),
    ]


def test_glove_two_is_told_what_glove_one_measured() -> None:
    making = fold(log(SETTLED, *made(1), wide(1, 96), long(1, 72), weighs(1, 12)))
    assert as_made(PATTERN, making, "0.2.4", "US", planner).says == (
        "Glove one had 6 rounds here.",
        "Glove one was 9.6 cm wide and 7.2 cm long at the end of this round.",
        "Glove one weighed 12 g with this round.",
    )


def test_a_hook_size_up_and_down() -> None:
    assert next_hook_mm(5, up=True) == 5.5
    assert next_hook_mm(5, up=False) == 4.5
    assert next_hook_mm(8, up=True) == 9
    assert next_hook_mm(HOOKS_MM[-1], up=True) is None
    assert next_hook_mm(HOOKS_MM[0], up=False) is None
    assert next_hook_mm(None, up=True) is None
