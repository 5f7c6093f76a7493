"""The twin rules: each difference by name, with its mend, at the round where it comes."""

from __future__ import annotations

from typing import Any

import pytest

from server.craft.making import Difference, Verdict, as_made, fold, verdict
from server.craft.text.tree import Pattern
from tests.craft.making.entries import log, worked
from tests.craft.making.plans import ONE_PIECE, PATTERN, SOCKS, planner, spots

Told = tuple[str, int, dict[str, Any]]
SETTLED: Told = ("settled", 0, {"foundation": 24, "size": None})


def hook(piece: int, hook_mm: float, spot: str | None = None) -> Told:
    return ("hook", piece, {"hook_mm": hook_mm, "spot": spot})


def fit_ended(piece: int, fit: str, rounds: int) -> Told:
    return ("fit_ended", piece, {"fit": fit, "rounds": rounds})


def made(piece: int, cuff: int = 6, hand: int = 2, upto: str | None = None) -> list[Told]:
    """A glove with that many rounds to fit in cuff and hand, up to a spot or finished."""
    told: list[Told] = []
    for spot in spots(fits={"0.2": cuff, "2.1": hand}):
        told += worked(spot, piece=piece)
        if spot == upto:
            return told
        if spot == f"0.2.{cuff}":
            told.append(fit_ended(piece, "0.2", cuff))
        if spot == f"2.1.{hand}":
            told.append(fit_ended(piece, "2.1", hand))
    return [*told, ("finished", piece, {})]


def judged(*told: Told, pattern: Pattern = PATTERN) -> Verdict:
    return verdict(pattern, fold(log(SETTLED, *told)), "US", planner)


def only(found: Verdict) -> Difference:
    assert len(found.differences) == 1, [each.what for each in found.differences]
    return found.differences[0]


def test_no_second_piece_yet() -> None:
    assert judged(*made(1)).state == "no second piece yet"
    assert judged(*made(1), *made(2), pattern=ONE_PIECE) == Verdict("no second piece yet")


def test_twins() -> None:
    found = judged(hook(1, 5), hook(2, 5), *made(1), *made(2))
    assert found.state == "twins"
    assert found.differences == ()
    assert {row.state for row in found.sections} == {"same"}
    assert [(row.section_title, row.one, row.two) for row in found.sections] == [
        ("Foundation", "24 chains", "24 chains"),
        ("Hook", "5 mm (US H-8)", "5 mm (US H-8)"),
        ("Cuff", "8 rounds", "8 rounds"),
        ("Thumb gap: its place", "above 8 rounds", "above 8 rounds"),
        ("Thumb gap", "1 round", "1 round"),
        ("Hand", "3 rounds", "3 rounds"),
        ("Top edging", "1 round", "1 round"),
        ("Thumb", "2 rounds", "2 rounds"),
    ]


@pytest.mark.parametrize("upto", ["0.0.1", "0.1.2", "0.2.3", "0.2.6", "1.0.1", "2.1.2", "3.0.1", "4.0.2"])
def test_twin_so_far_at_every_round(upto: str) -> None:
    found = judged(*made(1), *made(2, upto=upto))
    assert found.state == "twin so far"
    assert found.differences == ()


def test_one_round_more_is_named_at_once() -> None:
    found = judged(*made(1), *made(2, cuff=7, upto="0.2.7"))
    assert found.state == "differs"
    more = only(found)
    assert more.what == "Glove one had 6 rounds here; this is the 7th. Take it out, or note that it is meant."
    assert more.mend == "Take out 1 round of the Cuff."
    assert (more.spot, more.take_out, more.section_title) == ("0.2.7", "0.2.7", "Cuff")
    assert found.at("0.2.7") == (more,)
    assert {row.section_title: row.state for row in found.sections}["Cuff"] == "differs"


def test_taking_it_out_mends_it() -> None:
    found = judged(*made(1), *made(2, cuff=7, upto="0.2.7"), ("taken_out", 2, {"spot": "0.2.7"}))
    assert found.state == "twin so far"


def test_two_rounds_more_and_the_work_gone_on() -> None:
    more = only(judged(*made(1), *made(2, cuff=8, upto="0.2.8")))
    assert more.what == "Glove one had 6 rounds here; glove two has 8."
    assert more.mend == "Take out 2 rounds of the Cuff."
    gone_on = only(judged(*made(1), *made(2, cuff=7, upto="2.0.1")))
    assert gone_on.what == "Glove one had 6 rounds here; glove two has 7."
    assert gone_on.mend == "Take out 3 rounds, Rnd 9 of the Cuff the first of them, and go on from there."


def test_one_round_fewer() -> None:
    told = [*made(1), *made(2, cuff=5, upto="0.2.5")]
    assert judged(*told).state == "twin so far"  # the 6th may still come
    fewer = only(judged(*told, fit_ended(2, "0.2", 5)))
    assert fewer.what == "Glove one had 6 rounds here; glove two has 5."
    assert fewer.mend == "Work 1 more round of the Cuff."
    assert (fewer.spot, fewer.take_out) == ("0.2.5", None)
    gone_on = only(judged(*told, fit_ended(2, "0.2", 5), *worked("1.0.1", piece=2)))
    assert gone_on.mend == ("Take out Rnd 1 of the Thumb gap, and work 1 more round of the Cuff.")
    assert gone_on.take_out == "1.0.1"


def test_working_the_round_mends_it() -> None:
    told = [*made(1), *made(2, cuff=5, upto="0.2.5"), fit_ended(2, "0.2", 5)]
    assert judged(*told, ("fit_reopened", 2, {"fit": "0.2"})).state == "twin so far"
    assert judged(*told, *worked("0.2.6", piece=2)).state == "twin so far"


def test_the_gap_sits_where_the_rounds_below_put_it() -> None:
    rows = {row.section_title: row for row in judged(*made(1), *made(2, cuff=7, upto="1.0.1")).sections}
    gap = rows["Thumb gap: its place"]
    assert (gap.one, gap.two, gap.state) == ("above 8 rounds", "above 9 rounds", "differs")
    rows = {row.section_title: row for row in judged(*made(1), *made(2, upto="0.2.6")).sections}
    gap = rows["Thumb gap: its place"]
    assert (gap.two, gap.state) == ("not yet", "so far")


def test_a_missing_edging_is_named_when_the_glove_is_finished() -> None:
    without_edging = [told for told in made(2) if told[2].get("spot") != "3.0.1"]
    before_the_end = judged(*made(1), *without_edging[:-1])
    assert before_the_end.state == "twin so far"  # edgings and thumb may be worked in another order
    missing = only(judged(*made(1), *without_edging))
    assert missing.what == "Glove one had 1 round here; glove two has none."
    assert missing.mend == "Work the Top edging."
    assert missing.section_title == "Top edging"


def test_a_round_of_the_thumb_missing() -> None:
    told = [*made(2)[:-2], ("finished", 2, {})]
    missing = only(judged(*made(1), *told))
    assert (missing.section_title, missing.mend) == ("Thumb", "Work 1 more round of the Thumb.")


def test_glove_one_still_in_the_section_says_nothing() -> None:
    found = judged(*made(1, upto="0.2.2"), *made(2, cuff=5, upto="0.2.5"))
    assert found.state == "twin so far"
    assert {row.section_title: row.state for row in found.sections}["Cuff"] == "so far"


def test_foundation() -> None:
    found = judged(*made(1), ("settled", 0, {"foundation": 28, "size": None}), *made(2, upto="0.1.1"),
                   ("counted", 2, {"spot": "0.1.1", "name": "V-st", "count": 9}))  # fmt: skip
    other = only(found)  # that the counts differ too only follows from it
    assert other.kind == "foundation"
    assert other.what == "Glove one was begun with 24 chains, glove two with 28 chains."
    assert other.mend == "Begin glove two again with 24 chains, or note that it is meant."
    assert other.take_out == "0.0.1"


def test_hooks_round_by_round() -> None:
    told = [hook(1, 5), hook(1, 4.5, "0.2.2"), hook(2, 5), *made(1)]
    assert judged(*told, *made(2, upto="0.2.1")).state == "twin so far"
    late = only(judged(*told, *made(2, upto="0.2.2")))
    assert late.what == "Glove one was made with 4.5 mm from Rnd 4 of the Cuff on, glove two with 5 mm."
    assert late.mend == "Take out Rnd 4 of the Cuff and work it with 4.5 mm, or note that it is meant."
    assert (late.one, late.two) == ("4.5 mm (US 7)", "5 mm (US H-8)")
    later = only(judged(*told, *made(2, upto="0.2.4")))
    assert later.key == late.key  # the same difference, three rounds on
    assert later.mend.startswith("Take out back to the end of Rnd 3 of the Cuff and go on with 4.5 mm")
    two_runs = judged(*told, hook(2, 4.5, "0.2.4"), hook(2, 4, "0.2.6"), *made(2, upto="0.2.6"))
    assert [each.spot for each in two_runs.differences] == ["0.2.2", "0.2.6"]


def test_another_hook_from_the_beginning() -> None:
    other = only(judged(hook(1, 5), hook(2, 5.5), *made(1), *made(2, upto="0.2.2")))
    assert other.mend == "Begin glove two again with 5 mm, or note that it is meant."
    assert other.spot == "0.0.1"


def test_a_hook_that_was_not_written_down_is_not_compared() -> None:
    assert judged(hook(1, 5), *made(1), *made(2)).state == "twins"


def test_counts_confirmed() -> None:
    def counted(piece: int, count: int) -> Told:
        return ("counted", piece, {"spot": "0.1.1", "name": "V-st", "count": count})

    told = [*made(1), *made(2, upto="0.1.1")]
    assert judged(*told, counted(2, 8)).state == "twin so far"
    off = only(judged(*told, counted(2, 7)))
    assert off.what == (
        "There should be 8 V-sts at the end of Rnd 1 of the Cuff; in glove two you counted 7: 1 V-st too few."
    )
    assert off.mend == "Count again; if it stays so, take out Rnd 1 of the Cuff and work it again."
    both = [counted(1, 7), *told]
    assert judged(*both, counted(2, 7)).state == "twin so far"  # glove two goes by glove one as made
    too_many = only(judged(*both, counted(2, 8)))
    assert too_many.what.startswith("You counted 7 V-sts in glove one at the end of Rnd 1 of the Cuff;")
    assert too_many.what.endswith("1 V-st too many.")


def test_meant_differences_stay_visible_and_do_not_stand_against_twins() -> None:
    told = [*made(1), *made(2, cuff=7)]
    key = only(judged(*told)).key
    found = judged(*told, ("accepted", 0, {"difference": key}))
    assert found.state == "twins"
    assert only(found).accepted
    states = {row.section_title: row.state for row in found.sections}
    assert (states.pop("Cuff"), states.pop("Thumb gap: its place")) == ("meant", "meant")
    assert "differs" not in states.values()


def test_what_was_meant_does_not_cover_what_comes_on_top() -> None:
    told = [*made(1), *made(2, cuff=7, upto="0.2.7")]
    accepted: Told = ("accepted", 0, {"difference": only(judged(*told)).key})
    assert judged(*told, accepted).state == "twin so far"
    found = judged(*told, accepted, *worked("0.2.8", piece=2))
    assert found.state == "differs"
    assert not only(found).accepted


def test_glove_one_changed_after_glove_two_began() -> None:
    told = [*made(1), *made(2, upto="0.2.6"), ("taken_out", 1, {"spot": "0.2.5"})]
    found = judged(*told)
    assert found.changed == (
        # 2 of the cuff, 1 of the gap, 3 of the hand, 1 edging, 2 of the thumb
        "Glove one changed after glove two began: 9 rounds were taken out, "
        "Rnd 7 of the Cuff the first of them.",
    )
    assert found.state == "twin so far"  # glove one is not through its cuff again
    found = judged(*told, fit_ended(1, "0.2", 4))
    more = only(found)
    assert more.what == "Glove one had 4 rounds here; glove two has 6."
    assert more.mend == (
        "Take out 2 rounds of the Cuff. Or mend glove one, which changed after glove two began: "
        "work 2 more rounds there."
    )


def test_glove_one_gone_on_with_after_glove_two_began() -> None:
    found = judged(*made(1), *made(2, upto="0.1.1"), ("fit_reopened", 1, {"fit": "2.1"}))
    assert found.changed == ("Glove one changed after glove two began: the Hand was opened again.",)


def test_a_hook_of_glove_one_said_anew() -> None:
    found = judged(hook(1, 5), *made(1), *made(2, upto="0.1.1"), hook(1, 4.5, "0.1.1"), hook(1, 5.5))
    assert found.changed == (
        "Glove one changed after glove two began: another hook is written down for Rnd 1 of the Cuff.",
        "Glove one changed after glove two began: another hook is written down.",
    )


def test_glove_two_before_glove_one() -> None:
    found = judged(*made(2, upto="0.1.1"))
    assert found.state == "twin so far"
    assert found.differences == ()


def test_a_pair_of_socks_is_called_so() -> None:
    more = only(judged(*made(1), *made(2, cuff=8, upto="0.2.8"), pattern=SOCKS))
    assert more.what == "Sock one had 6 rounds here; sock two has 8."


def test_what_glove_one_did_here() -> None:
    making = fold(
        log(
            SETTLED,
            hook(1, 5),
            hook(1, 4.5, "0.2.2"),
            *made(1),
            ("counted", 1, {"spot": "0.2.2", "name": "V-st", "count": 8}),
            ("counted", 1, {"spot": "0.2.2", "name": "dc", "count": 16}),
            ("note", 1, {"spot": "0.2.2", "text": "pull tight at the join"}),
        )
    )
    here = as_made(PATTERN, making, "0.2.2", "UK", planner)
    assert here.says == (
        "Glove one had 6 rounds here.",
        "Glove one changed to a hook of 4.5 mm (US 7) here.",
        "You counted 8 V-sts, 16 tr in glove one.",
        "Your note at glove one: pull tight at the join",
    )
    assert (here.worked, here.hook_mm, here.hook_new) == (True, 4.5, True)
    first = as_made(PATTERN, making, "0.0.1", "US", planner)
    assert first.says == ("Glove one was begun with a hook of 5 mm (US H-8).",)
    beyond = as_made(PATTERN, making, "0.2.7", "US", planner)
    assert (beyond.worked, beyond.says) == (False, ("Glove one had 6 rounds here.",))
