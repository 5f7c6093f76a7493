"""The rules of the fold, one by one."""

from __future__ import annotations

import pytest

from server.craft.making import Entry, Numbers, fold, in_force
from tests.craft.making.entries import entry, log, worked


def test_nothing_logged() -> None:
    making = fold([])
    assert making.settled is None
    assert sorted(making.pieces) == [1, 2]
    assert not making.pieces[1].started
    assert making.entries_seen == 0


def test_try_on_settle_and_rounds() -> None:
    making = fold(
        log(
            ("tried", 0, {"foundation": 28, "verdict": "too long"}),
            ("tried", 0, {"foundation": 24, "verdict": "fits"}),
            ("settled", 0, {"foundation": 24, "size": None}),
            ("hook", 1, {"hook_mm": 5, "spot": None}),
            *worked("0.0.1", "0.1.1"),
            ("note", 1, {"spot": "0.1.1", "text": "loose"}),
            ("counted", 1, {"spot": "0.1.1", "name": "sc", "count": 24}),
            ("fit_ended", 1, {"fit": "0.3", "rounds": 4}),
        )
    )
    assert [(each.foundation, each.verdict) for each in making.tries] == [(28, "too long"), (24, "fits")]
    assert making.settled == Numbers(24)
    one = making.pieces[1]
    assert one.numbers == Numbers(24)
    assert one.hook_mm == 5.0
    assert one.worked == ("0.0.1", "0.1.1")
    assert [(note.spot, note.text) for note in one.notes] == [("0.1.1", "loose")]
    assert one.counted == {"0.1.1": {"sc": 24}}
    assert one.fits_ended == {"0.3": 4}
    assert not making.pieces[2].started


def test_order_is_by_time_then_device_then_counter() -> None:
    early = Entry("b", 0, "settled", {"foundation": 24, "size": None}, "2026-11-03T10:00:00.000Z", "b", 9)
    later = Entry("a", 0, "settled", {"foundation": 28, "size": None}, "2026-11-03T10:00:00.000Z", "c", 1)
    assert fold([later, early]).settled == Numbers(28)
    assert fold([early, later]).settled == Numbers(28)


def test_rounds_stand_in_working_order_not_as_text() -> None:
    making = fold(log(*worked("0.3.10", "0.3.9", "1.0.1", "0.10.1", "0.3.9")))
    assert making.pieces[1].worked == ("0.3.9", "0.3.10", "0.10.1", "1.0.1")


def test_two_entries_of_one_id_give_the_same_whichever_came_first() -> None:
    one = Entry("same", 1, "worked", {"spot": "0.0.1"}, "2026-11-03T10:00:00.000Z", "a", 1)
    two = Entry("same", 1, "worked", {"spot": "0.0.2"}, "2026-11-03T10:00:00.000Z", "a", 1)
    assert fold([one, two]) == fold([two, one])
    assert fold([one, two]).pieces[1].worked == ("0.0.1",)
    assert fold([one, two]).entries_seen == 1


def test_taken_out_takes_what_stands_after_and_leaves_notes() -> None:
    making = fold(
        log(
            *worked("0.0.1", "0.1.1", "0.3.1", "0.3.2", "1.0.1"),
            ("fit_ended", 1, {"fit": "0.3", "rounds": 2}),
            ("hook", 1, {"hook_mm": 4.5, "spot": "0.1.1"}),
            ("hook", 1, {"hook_mm": 5.5, "spot": "0.3.2"}),
            ("counted", 1, {"spot": "0.1.1", "name": "sc", "count": 24}),
            ("counted", 1, {"spot": "0.3.2", "name": "V-st", "count": 7}),
            ("note", 1, {"spot": "0.3.2", "text": "lost one at the join"}),
            ("finished", 1, {}),
            ("taken_out", 1, {"spot": "0.3.2"}),
        )
    )
    one = making.pieces[1]
    assert one.worked == ("0.0.1", "0.1.1", "0.3.1")
    assert one.taken_out == (("0.3.2", 2),)
    assert one.fits_ended == {}
    assert one.hook_changes == (("0.1.1", 4.5),)
    assert one.counted == {"0.1.1": {"sc": 24}}
    assert [note.text for note in one.notes] == ["lost one at the join"]
    assert not one.finished


def test_a_fit_before_the_round_taken_out_stays_ended() -> None:
    making = fold(
        log(
            *worked("0.3.1", "1.0.1"),
            ("fit_ended", 1, {"fit": "0.3", "rounds": 1}),
            ("taken_out", 1, {"spot": "1.0.1"}),
        )
    )
    assert making.pieces[1].fits_ended == {"0.3": 1}


def test_taken_out_of_one_glove_leaves_the_other() -> None:
    making = fold(log(*worked("0.0.1"), *worked("0.0.1", piece=2), ("taken_out", 2, {"spot": "0.0.1"})))
    assert making.pieces[1].worked == ("0.0.1",)
    assert making.pieces[2].worked == ()


def test_taking_out_what_does_not_stand_is_nothing() -> None:
    told = [*worked("0.0.1"), ("finished", 1, {})]
    with_it = fold(log(*told, ("taken_out", 1, {"spot": "0.1.1"})))
    assert with_it.pieces == fold(log(*told)).pieces


def test_worked_again_after_taking_out() -> None:
    making = fold(log(*worked("0.0.1", "0.1.1"), ("taken_out", 1, {"spot": "0.1.1"}), *worked("0.1.1")))
    assert making.pieces[1].worked == ("0.0.1", "0.1.1")
    assert making.pieces[1].taken_out == (("0.1.1", 1),)


def test_undo_and_undo_of_an_undo() -> None:
    told = log(*worked("0.0.1", "0.1.1"), ("taken_out", 1, {"spot": "0.1.1"}))
    undo = entry(10, "undo", entry=told[2].id)
    redo = entry(11, "undo", entry=undo.id)
    assert fold([*told, undo]).pieces == fold(told[:2]).pieces
    assert fold([*told, undo, redo]).pieces == fold(told).pieces
    third = entry(12, "undo", entry=redo.id)
    assert fold([*told, undo, redo, third]).pieces == fold(told[:2]).pieces


def test_an_undo_may_arrive_and_stand_before_what_it_undoes() -> None:
    late = entry(5, "worked", spot="0.0.1")
    undo = entry(1, "undo", device="tablet", entry=late.id)
    assert fold([undo]).pieces[1].worked == ()
    assert fold([undo, late]).pieces[1].worked == ()


def test_undos_in_a_ring_do_nothing() -> None:
    round_ = entry(1, "worked", spot="0.0.1")
    ring = [
        entry(2, "undo", entry="phone-3"),
        entry(3, "undo", entry="phone-2"),
        entry(4, "undo", entry="phone-4"),
    ]
    assert fold([round_, *ring]).pieces[1].worked == ("0.0.1",)
    assert in_force([round_, *ring]) == (round_,)


def test_two_undos_of_one_entry_undo_it_once() -> None:
    round_ = entry(1, "worked", spot="0.0.1")
    undos = [entry(2, "undo", entry=round_.id), entry(2, "undo", device="tablet", entry=round_.id)]
    assert fold([round_, *undos]).pieces[1].worked == ()


def test_a_fit_ended_has_never_fewer_rounds_than_stand() -> None:
    making = fold(log(*worked("0.3.1", "0.3.2", "0.3.3"), ("fit_ended", 1, {"fit": "0.3", "rounds": 2})))
    assert making.pieces[1].fits_ended == {"0.3": 3}


def test_working_more_opens_a_fit_again_and_a_repeated_round_does_not() -> None:
    ended = [*worked("0.3.1", "0.3.2"), ("fit_ended", 1, {"fit": "0.3", "rounds": 2})]
    assert fold(log(*ended, *worked("0.3.2"))).pieces[1].fits_ended == {"0.3": 2}
    assert fold(log(*ended, *worked("0.3.3"))).pieces[1].fits_ended == {}
    assert fold(log(*ended, ("fit_reopened", 1, {"fit": "0.3"}))).pieces[1].fits_ended == {}


def test_finished_ends_with_more_work() -> None:
    done = [*worked("0.0.1"), ("finished", 1, {})]
    assert fold(log(*done)).pieces[1].finished
    assert fold(log(*done, *worked("0.0.1"))).pieces[1].finished
    assert not fold(log(*done, *worked("0.1.1"))).pieces[1].finished
    assert not fold(log(*done, ("taken_out", 1, {"spot": "0.0.1"}))).pieces[1].finished


def test_hook_changes_and_the_hook_in_hand() -> None:
    making = fold(
        log(
            ("hook", 1, {"hook_mm": 5.0, "spot": None}),
            ("hook", 1, {"hook_mm": 5.0, "spot": "0.1.1"}),
            ("hook", 1, {"hook_mm": 4.5, "spot": "0.3.1"}),
            ("hook", 1, {"hook_mm": 4.0, "spot": "0.3.1"}),
            ("hook", 1, {"hook_mm": 5.5, "spot": "0.10.1"}),
        )
    )
    assert making.pieces[1].hook_changes == (("0.3.1", 4.0), ("0.10.1", 5.5))


def test_a_piece_keeps_the_numbers_it_was_begun_in() -> None:
    told = [
        ("settled", 0, {"foundation": 24, "size": "small"}),
        *worked("0.0.1"),
        ("settled", 0, {"foundation": 28, "size": None}),
        *worked("0.0.1", piece=2),
    ]
    making = fold(log(*told))
    assert making.settled == Numbers(28)
    assert making.pieces[1].numbers == Numbers(24, "small")
    assert making.pieces[2].numbers == Numbers(28)
    again = fold(log(*told, ("taken_out", 1, {"spot": "0.0.1"})))
    assert again.pieces[1].numbers is None
    again = fold(log(*told, ("taken_out", 1, {"spot": "0.0.1"}), *worked("0.0.1")))
    assert again.pieces[1].numbers == Numbers(28)


def test_a_round_worked_before_any_numbers_takes_the_next_settled() -> None:
    making = fold(log(*worked("0.0.1"), ("settled", 0, {"foundation": 24, "size": None})))
    assert making.pieces[1].numbers == Numbers(24)


def test_glove_one_changed_after_glove_two_began() -> None:
    told = [
        ("hook", 1, {"hook_mm": 5.0, "spot": None}),
        *worked("0.0.1", "0.3.1", "0.3.2", "0.3.3"),
        ("taken_out", 1, {"spot": "0.3.3"}),
        ("fit_ended", 1, {"fit": "0.3", "rounds": 2}),
        *worked("0.0.1", piece=2),
        *worked("1.0.1"),
    ]
    assert fold(log(*told)).changed == ()
    making = fold(
        log(
            *told,
            ("hook", 1, {"hook_mm": 4.5, "spot": "0.3.1"}),
            ("fit_reopened", 1, {"fit": "0.3"}),
            ("taken_out", 1, {"spot": "0.3.2"}),
        )
    )
    assert [(each.kind, each.spot, each.count) for each in making.changed] == [
        ("hook", "0.3.1", 0),
        ("reopened", "0.3.2", 0),
        ("taken_out", "0.3.2", 2),
    ]


def test_a_hook_said_late_or_for_a_round_to_come_is_no_change() -> None:
    making = fold(
        log(
            *worked("0.0.1"),
            *worked("0.0.1", piece=2),
            ("hook", 1, {"hook_mm": 5.0, "spot": None}),
            ("hook", 1, {"hook_mm": 4.5, "spot": "0.1.1"}),
        )
    )
    assert making.changed == ()


def test_notes_on_the_pair_and_acceptances() -> None:
    making = fold(
        log(
            ("note", 0, {"spot": None, "text": "for Ida"}),
            ("accepted", 2, {"difference": "rounds/0.3/6/7"}),
            ("accepted", 0, {"difference": "hook/0.1.1/5/4.5"}),
        )
    )
    assert [note.text for note in making.notes] == ["for Ida"]
    assert making.accepted == {"rounds/0.3/6/7", "hook/0.1.1/5/4.5"}


@pytest.mark.parametrize(
    ("kind", "piece", "values"),
    [
        ("danced", 1, {"spot": "0.0.1"}),
        ("worked", 0, {"spot": "0.0.1"}),
        ("worked", 3, {"spot": "0.0.1"}),
        ("worked", 1, {}),
        ("worked", 1, {"spot": None}),
        ("worked", 1, {"spot": "0.0"}),
        ("worked", 1, {"spot": "0.0.0"}),
        ("worked", 1, {"spot": "0.0." + "9" * 5000}),
        ("worked", 1, {"spot": "0.0.٣"}),
        ("taken_out", 1, {"spot": 3}),
        ("settled", 0, {"foundation": 0, "size": None}),
        ("settled", 0, {"foundation": True, "size": None}),
        ("settled", 0, {"foundation": "24", "size": None}),
        ("settled", 0, {"foundation": 24, "size": 3}),
        ("tried", 0, {"foundation": 24, "verdict": "hm"}),
        ("tried", 0, {"foundation": 24, "verdict": ["fits"]}),
        ("hook", 1, {"hook_mm": float("nan"), "spot": None}),
        ("hook", 1, {"hook_mm": -5, "spot": None}),
        ("hook", 1, {"hook_mm": 10**400, "spot": None}),
        ("hook", 1, {"hook_mm": True, "spot": None}),
        ("hook", 1, {"hook_mm": 5, "spot": "x"}),
        ("hook", 0, {"hook_mm": 5, "spot": None}),
        ("fit_ended", 1, {"fit": "0.3.1", "rounds": 3}),
        ("fit_ended", 1, {"fit": "0.3", "rounds": 0}),
        ("fit_reopened", 1, {"fit": ["0.3"]}),
        ("counted", 1, {"spot": "0.0.1", "name": "", "count": 3}),
        ("counted", 1, {"spot": "0.0.1", "name": "sc", "count": -1}),
        ("note", 1, {"spot": None, "text": "  "}),
        ("accepted", 0, {"difference": ["a"]}),
        ("finished", 0, {}),
        ("undo", 1, {"entry": {"id": 1}}),
        ("undo", 1, {"entry": "nobody"}),
        ("worked", 1, ["0.0.1"]),
        ("place", 0, {"spot": "0.0.1", "text": "after the 3rd repeat", "step": 1, "repeat": 3}),
        ("place", 1, {"spot": "0.0", "text": "after the 3rd repeat"}),
        ("place", 1, {"spot": "0.0.1", "text": ""}),
        ("place", 1, {"spot": "0.0.1", "text": "a" * 201}),
        ("place", 1, {"spot": "0.0.1", "text": "here", "step": -1}),
        ("place", 1, {"spot": "0.0.1", "text": "here", "repeat": 1.5}),
        ("counted_in", 1, {"rounds": {"0.0": 1}}),
        ("counted_in", 1, {"rounds": ["0.0"], "ended": []}),
        ("counted_in", 1, {"rounds": {"0.0": 0}, "ended": []}),
        ("counted_in", 1, {"rounds": {"0.0": 401}, "ended": []}),
        ("counted_in", 1, {"rounds": {"0.0": 1, "0.0.1": 1}, "ended": []}),
        ("counted_in", 1, {"rounds": {"0.0": 1}, "ended": ["0.1"]}),
        ("counted_in", 1, {"rounds": {"0.0": 1}, "ended": [["0.0"]]}),
        ("counted_in", 0, {"rounds": {"0.0": 1}, "ended": []}),
        ("measured", 0, {"what": "width", "mm": 90, "spot": "0.0.1"}),
        ("measured", 1, {"what": "depth", "mm": 90, "spot": "0.0.1"}),
        ("measured", 1, {"what": "width", "mm": 0, "spot": "0.0.1"}),
        ("measured", 1, {"what": "width", "mm": 3000.5, "spot": "0.0.1"}),
        ("measured", 1, {"what": "width", "mm": 10**400, "spot": "0.0.1"}),
        ("measured", 1, {"what": "width", "mm": "90", "spot": "0.0.1"}),
        ("measured", 1, {"what": "width", "mm": 90, "spot": None}),
        ("weighed", 1, {"grams": float("inf"), "spot": "0.0.1"}),
        ("weighed", 1, {"grams": True, "spot": "0.0.1"}),
        ("weighed", 1, {"grams": 21, "spot": "0"}),
    ],
)
def test_entries_that_cannot_be_are_counted_and_say_nothing(kind: str, piece: int, values: object) -> None:
    strange = Entry("x", piece, kind, values, "2026-11-03T10:00:00.000Z", "phone", 1)  # type: ignore[arg-type]
    making = fold([strange])
    assert making.entries_seen == 1
    empty = fold([])
    assert (making.pieces, making.settled, making.tries, making.accepted, making.notes) == (
        empty.pieces, empty.settled, empty.tries, empty.accepted, empty.notes,
    )  # fmt: skip
