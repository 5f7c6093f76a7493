"""The rules of the fold for a place within a round, rounds counted in, measures and weights."""

from __future__ import annotations

from typing import Any

import pytest

from server.craft.making import Entry, Mid, Numbers, Piece, fold
from tests.craft.making.entries import entry, log, worked


def place(spot: str, text: str = "after the 3rd repeat", piece: int = 1) -> tuple[str, int, dict[str, Any]]:
    return ("place", piece, {"spot": spot, "text": text, "step": 2, "repeat": 3})


def one(*told: tuple[str, int, dict[str, Any]]) -> Piece:
    return fold(log(*told)).pieces[1]


# --- where within a round ----------------------------------------------------------------------------------


def test_the_last_place_holds() -> None:
    piece = one(*worked("0.0.1"), place("0.1.1"), place("0.1.1", "after the 4th repeat"))
    assert piece.place == Mid("0.1.1", "after the 4th repeat", 2, 3)
    plain = one(("place", 1, {"spot": "0.1.1", "text": "at the join"}))
    assert plain.place == Mid("0.1.1", "at the join", None, None)


def test_a_place_ends_when_its_round_is_worked_and_not_with_another() -> None:
    assert one(place("0.1.1"), *worked("0.1.1")).place is None
    assert one(place("0.1.1"), *worked("0.0.1")).place is not None
    assert one(place("0.1.1"), ("counted_in", 1, {"rounds": {"0.1": 1}, "ended": []})).place is None


def test_a_place_ends_with_rounds_taken_out_before_it() -> None:
    told = [*worked("0.0.1", "0.1.1"), place("0.2.1")]
    assert one(*told, ("taken_out", 1, {"spot": "0.1.1"})).place is None
    assert one(*told, ("taken_out", 1, {"spot": "0.3.1"})).place is not None  # nothing was taken out
    ahead = [*worked("0.0.1", "0.2.1"), place("0.1.1")]
    assert one(*ahead, ("taken_out", 1, {"spot": "0.2.1"})).place is not None


def test_a_place_at_a_round_that_stands_says_nothing() -> None:
    assert one(*worked("0.0.1"), place("0.0.1")).place is None
    before = one(place("0.1.1"), *worked("0.0.1"), place("0.0.1"))
    assert before.place is not None
    assert before.place.spot == "0.1.1"


def test_undo_of_the_round_brings_its_place_back() -> None:
    told = log(place("0.0.1"), *worked("0.0.1"))
    undo = entry(9, "undo", entry=told[1].id)
    assert fold([*told, undo]).pieces[1].place == Mid("0.0.1", "after the 3rd repeat", 2, 3)
    undo = entry(9, "undo", entry=told[0].id)
    assert fold([told[0], undo]).pieces[1].place is None


# --- counted in --------------------------------------------------------------------------------------------

COUNTED_IN: tuple[str, int, dict[str, Any]] = (
    "counted_in",
    1,
    {"rounds": {"0.3": 4, "0.0": 1, "1.0": 1}, "ended": ["0.3"]},
)


def test_rounds_counted_in_stand_as_though_worked() -> None:
    settled: tuple[str, int, dict[str, Any]] = ("settled", 0, {"foundation": 24, "size": None})
    counted = one(settled, COUNTED_IN)
    slowly = one(
        settled,
        *worked("0.0.1", "0.3.1", "0.3.2", "0.3.3", "0.3.4", "1.0.1"),
        ("fit_ended", 1, {"fit": "0.3", "rounds": 4}),
    )
    assert counted == slowly
    assert counted.numbers == Numbers(24)
    assert counted.fits_ended == {"0.3": 4}


def test_counting_in_what_stands_already_changes_nothing_and_keeps_the_piece_finished() -> None:
    told = [*worked("0.0.1", "0.3.1"), ("finished", 1, {})]
    again = one(*told, ("counted_in", 1, {"rounds": {"0.0": 1, "0.3": 1}, "ended": []}))
    assert again == one(*told)
    more = one(*told, ("counted_in", 1, {"rounds": {"0.3": 2}, "ended": []}))
    assert more.worked == ("0.0.1", "0.3.1", "0.3.2")
    assert not more.finished


def test_counting_in_more_than_a_fit_was_ended_with_opens_it_unless_it_ends_it_anew() -> None:
    told = [*worked("0.3.1"), ("fit_ended", 1, {"fit": "0.3", "rounds": 1})]
    assert one(*told, ("counted_in", 1, {"rounds": {"0.3": 3}, "ended": []})).fits_ended == {}
    assert one(*told, ("counted_in", 1, {"rounds": {"0.3": 3}, "ended": ["0.3"]})).fits_ended == {"0.3": 3}
    longer = [*worked("0.3.1", "0.3.2", "0.3.3", "0.3.4")]
    ended = one(*longer, ("counted_in", 1, {"rounds": {"0.3": 3}, "ended": ["0.3"]}))
    assert ended.fits_ended == {"0.3": 4}  # never fewer than stand


def test_one_undo_takes_all_that_was_counted_in_back() -> None:
    told = log(*worked("0.0.1"), COUNTED_IN)
    undo = entry(9, "undo", entry=told[1].id)
    assert fold([*told, undo]).pieces == fold(told[:1]).pieces


def test_counting_in_glove_one_after_glove_two_began_is_a_change_only_where_it_opens_something() -> None:
    told = [*worked("0.0.1"), *worked("0.0.1", piece=2), COUNTED_IN]
    assert fold(log(*told)).changed == ()
    opened = ("counted_in", 1, {"rounds": {"0.3": 6}, "ended": ["0.3"]})
    assert [(each.kind, each.spot) for each in fold(log(*told, opened)).changed] == [("reopened", "0.3.5")]


# --- measured and weighed ----------------------------------------------------------------------------------


def test_the_last_measure_of_a_kind_at_a_round_holds() -> None:
    piece = one(
        *worked("0.0.1", "0.1.1", "0.10.1"),
        ("measured", 1, {"what": "width", "mm": 92, "spot": "0.1.1"}),
        ("measured", 1, {"what": "length", "mm": 60.5, "spot": "0.10.1"}),
        ("measured", 1, {"what": "width", "mm": 90, "spot": "0.1.1"}),
        ("weighed", 1, {"grams": 12, "spot": "0.10.1"}),
        ("weighed", 1, {"grams": 11.5, "spot": "0.10.1"}),
        ("weighed", 1, {"grams": 4, "spot": "0.1.1"}),
    )
    assert piece.measures == {("width", "0.1.1"): 90.0, ("length", "0.10.1"): 60.5}
    assert list(piece.weights.items()) == [("0.1.1", 4.0), ("0.10.1", 11.5)]


def test_measures_go_with_the_round() -> None:
    told = [
        *worked("0.0.1", "0.1.1", "0.2.1"),
        ("measured", 1, {"what": "width", "mm": 92, "spot": "0.0.1"}),
        ("measured", 1, {"what": "width", "mm": 91, "spot": "0.2.1"}),
        ("weighed", 1, {"grams": 4, "spot": "0.1.1"}),
    ]
    out = one(*told, ("taken_out", 1, {"spot": "0.1.1"}))
    assert out.measures == {("width", "0.0.1"): 92.0}
    assert out.weights == {}
    again = one(*told, ("taken_out", 1, {"spot": "0.1.1"}), *worked("0.1.1"))
    assert again.weights == {}  # what is made anew is measured anew


def test_measures_change_nothing_else() -> None:
    told = [*worked("0.0.1"), *worked("0.0.1", piece=2), ("finished", 1, {})]
    with_it = fold(
        log(
            *told,
            ("measured", 1, {"what": "width", "mm": 92, "spot": "0.0.1"}),
            ("weighed", 1, {"grams": 4, "spot": "0.0.1"}),
        )
    )
    assert with_it.changed == ()
    assert with_it.pieces[1].finished
    assert with_it.pieces[2] == fold(log(*told)).pieces[2]


@pytest.mark.parametrize("rounds", [{"0.3": 2, "1.0": 1}, {"1.0": 1, "0.3": 2}])
def test_the_order_in_which_lines_are_told_does_not_matter(rounds: dict[str, int]) -> None:
    made = fold([Entry("x", 1, "counted_in", {"rounds": rounds, "ended": ["0.3"]}, "2026", "phone", 1)])
    assert made.pieces[1].worked == ("0.3.1", "0.3.2", "1.0.1")
