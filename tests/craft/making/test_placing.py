"""Where a piece is, and how many rounds to fit its plan has."""

from __future__ import annotations

from typing import Any

import pytest

from server.craft.making import Place, Plan, fold, piece_plan, place
from tests.craft.making.entries import log, worked
from tests.craft.making.plans import PATTERN, planner, spots

SETTLED: tuple[str, int, dict[str, Any]] = ("settled", 0, {"foundation": 24, "size": None})
Told = tuple[str, int, dict[str, Any]]


def at(*told: Told, piece: int = 1) -> tuple[Plan, Place]:
    making = fold(log(SETTLED, *told))
    plan = piece_plan(PATTERN, making, piece, "US", planner)
    return plan, place(plan, making, piece)


def fit_ended(fit: str, rounds: int, piece: int = 1) -> Told:
    return ("fit_ended", piece, {"fit": fit, "rounds": rounds})


def test_without_numbers_there_is_no_plan() -> None:
    with pytest.raises(ValueError, match="no numbers are settled"):
        piece_plan(PATTERN, fold([]), 1, "US", planner)


def test_at_the_beginning() -> None:
    plan, here = at()
    assert (here.kind, here.done, here.to_go) == ("round", 0, 15)  # 1 + 2 + 4, 1, 1 + 3, 1, 2
    assert here.round is not None
    assert here.round.label == "Foundation rnd"
    assert here.section.title == "Cuff"
    assert here.can_end is None
    assert [fit.rounds for fit in plan.fits] == [4, 3]


def test_the_first_round_to_fit_cannot_be_left_out() -> None:
    _, here = at(*worked(*spots("0.1.2")))
    assert here.round is not None
    assert here.round.spot == "0.2.1"
    assert here.can_end is None
    _, here = at(*worked(*spots("0.2.1")))
    assert here.can_end is not None
    assert (here.can_end.until, here.in_fit) == ("the base of the thumb", 1)


def test_glove_one_may_go_on_past_the_written_rounds() -> None:
    plan, here = at(*worked(*spots("0.2.4")))
    assert (here.kind, here.in_fit) == ("round", 4)
    assert here.round is not None
    assert (here.round.spot, here.round.label) == ("0.2.5", "Rnd 7")
    assert plan.fits[0].rounds == 5
    assert here.to_go == 15 - 7  # the round beyond is offered, not to be made
    plan, here = at(*worked(*spots("0.2.4"), "0.2.5", "0.2.6"))
    assert plan.fits[0].rounds == 7
    assert here.round is not None
    assert here.round.spot == "0.2.7"


def test_a_fit_ended_leads_on() -> None:
    plan, here = at(*worked(*spots("0.2.2")), fit_ended("0.2", 2))
    assert plan.fits[0].rounds == 2
    assert here.round is not None
    assert here.round.section_title == "Thumb gap"
    assert here.can_end is None


def test_working_past_an_open_fit_ends_it_too() -> None:
    plan, here = at(*worked(*spots("0.2.3"), "1.0.1"))
    assert plan.fits[0].rounds == 3
    assert here.round is not None
    assert here.round.spot == "2.0.1"


def test_a_fit_passed_over_without_a_round_is_still_to_make() -> None:
    plan, here = at(*worked(*spots("0.1.2"), "1.0.1"))
    assert plan.fits[0].rounds == 4
    assert here.round is not None
    assert here.round.spot == "0.2.1"
    assert here.can_end is None


def test_a_hole_is_next() -> None:
    _, here = at(*worked("0.0.1", "0.1.2"))
    assert here.round is not None
    assert here.round.spot == "0.1.1"


def test_a_thumb_that_is_made_first_does_not_end_the_hand() -> None:
    """The thumb is worked into the gap's edge, whenever she likes; the top edging stands on the hand."""
    told = [*worked(*spots("2.1.1")), *worked("4.0.1")]
    plan, here = at(*told)
    assert plan.fits[1].rounds == 3
    assert here.round is not None
    assert (here.round.spot, here.can_end and here.can_end.fit) == ("2.1.2", "2.1")
    _, here = at(*told, *worked("3.0.1"))
    assert here.round is not None
    assert here.round.spot == "4.0.2"


def test_finish_and_finished() -> None:
    done = [*worked(*spots("0.2.4")), fit_ended("0.2", 4), *worked(*spots()[7:12]), fit_ended("2.1", 3)]
    rest = worked("3.0.1", "4.0.1", "4.0.2")
    _, here = at(*done)
    assert here.round is not None
    assert here.round.section_title == "Top edging"
    _, here = at(*done, *rest)
    assert (here.kind, here.round, here.to_go, here.section.title) == ("finish", None, 0, "Thumb")
    _, here = at(*done, *rest, ("finished", 1, {}))
    assert here.kind == "finished"


def one_made(cuff: int, hand: int) -> list[Told]:
    """Glove one with that many rounds to fit in cuff and hand."""
    every = spots(fits={"0.2": cuff, "2.1": hand})
    return [
        *worked(*[spot for spot in every if spot < "1"]),
        fit_ended("0.2", cuff),
        *worked(*[spot for spot in every if "1" < spot < "3"]),
        fit_ended("2.1", hand),
        *worked(*[spot for spot in every if spot > "3"]),
        ("finished", 1, {}),
    ]


def test_glove_two_goes_by_glove_one_as_made() -> None:
    plan, here = at(*one_made(6, 2), piece=2)
    assert [fit.rounds for fit in plan.fits] == [6, 2]
    assert [fit.written for fit in plan.fits] == [4, 3]
    assert here.kind == "round"
    assert here.to_go == len(plan.rounds) == 16


def test_glove_two_is_stopped_where_glove_one_ended() -> None:
    told = [*one_made(6, 2), *worked(*spots("0.2.6", fits={"0.2": 6}), piece=2)]
    _, here = at(*told, piece=2)
    assert here.kind == "end fit"
    assert here.can_end is not None
    assert here.can_end.fit == "0.2"
    assert here.in_fit == 6
    assert here.round is not None
    assert here.round.spot == "0.2.7"
    assert here.to_go == 16 - 9
    _, here = at(*told, fit_ended("0.2", 6, piece=2), piece=2)
    assert here.round is not None
    assert (here.kind, here.round.spot) == ("round", "1.0.1")


def test_glove_two_may_go_on_or_end_early_and_both_are_known() -> None:
    told = [*one_made(6, 2), *worked(*spots("0.2.7", fits={"0.2": 7}), piece=2)]
    plan, here = at(*told, piece=2)
    assert here.kind == "end fit"
    assert here.in_fit == 7
    assert plan.fits[0].rounds == 8
    _, here = at(*one_made(6, 2), *worked(*spots("0.2.3"), piece=2), piece=2)
    assert here.kind == "round"
    assert here.can_end is not None


def test_glove_two_beside_an_unfinished_glove_one_goes_by_the_pattern() -> None:
    plan, here = at(*worked(*spots("0.2.2")), *worked(*spots("0.2.4"), piece=2), piece=2)
    assert plan.fits[0].rounds == 5
    assert here.kind == "round"
    assert here.can_end is not None


def test_glove_one_taken_out_opens_its_section_again() -> None:
    plan, here = at(*one_made(6, 2), ("taken_out", 1, {"spot": "0.2.3"}))
    assert plan.fits[0].rounds == 4
    assert here.round is not None
    assert here.round.spot == "0.2.3"
    assert here.done == 5


def test_numbers_settled_anew_do_not_change_a_piece_that_was_begun() -> None:
    plan, _ = at(*worked("0.0.1"), ("settled", 0, {"foundation": 28, "size": None}))
    assert plan.numbers.foundation == 24
    plan, _ = at(*worked("0.0.1"), ("settled", 0, {"foundation": 28, "size": None}), piece=2)
    assert plan.numbers.foundation == 28
