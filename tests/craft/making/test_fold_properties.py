"""Whatever way the entries of two devices come in, the state is the same, and nothing is lost."""

from __future__ import annotations

import dataclasses
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from server.craft.making import Entry, Making, fold, in_force

SPOTS = ["0.0.1", "0.1.1", "0.3.1", "0.3.2", "0.3.3", "0.3.10", "1.0.1", "2.0.1"]
FITS = ["0.3", "2.0"]
DEVICES = ["phone", "tablet"]


LINES = sorted(
    {spot.rpartition(".")[0] for spot in SPOTS}, key=lambda line: [int(n) for n in line.split(".")]
)


@st.composite
def counted_in(draw: st.DrawFn) -> dict[str, Any]:
    """Rounds of some lines, told in any order, some of them ended."""
    rounds = draw(st.dictionaries(st.sampled_from(LINES), st.integers(1, 5)))
    ended = draw(st.lists(st.sampled_from(sorted(set(rounds) & set(FITS)) or FITS), unique=True, max_size=2))
    return {"rounds": rounds, "ended": ended}


def values(kind: str, ids: list[str]) -> st.SearchStrategy[dict[str, Any]]:
    spot = st.sampled_from(SPOTS)
    by_kind: dict[str, st.SearchStrategy[Any]] = {
        "worked": st.fixed_dictionaries({"spot": spot}),
        "taken_out": st.fixed_dictionaries({"spot": spot}),
        "tried": st.fixed_dictionaries({"foundation": st.integers(20, 40), "verdict": st.just("too long")}),
        "settled": st.fixed_dictionaries({"foundation": st.sampled_from([24, 28]), "size": st.none()}),
        "hook": st.fixed_dictionaries({"hook_mm": st.sampled_from([4.5, 5.0]), "spot": st.none() | spot}),
        "fit_ended": st.fixed_dictionaries({"fit": st.sampled_from(FITS), "rounds": st.integers(1, 4)}),
        "fit_reopened": st.fixed_dictionaries({"fit": st.sampled_from(FITS)}),
        "counted": st.fixed_dictionaries({"spot": spot, "name": st.just("sc"), "count": st.integers(5, 7)}),
        "note": st.fixed_dictionaries(
            {"spot": st.none() | spot, "text": st.sampled_from(["loose", "tight"])}
        ),
        "accepted": st.fixed_dictionaries({"difference": st.sampled_from(["a", "b"])}),
        "finished": st.just({}),
        "undo": st.fixed_dictionaries({"entry": st.sampled_from(ids)}),
        "place": st.fixed_dictionaries(
            {
                "spot": spot,
                "text": st.sampled_from(["at the join", "after the gap"]),
                "step": st.none(),
                "repeat": st.none() | st.integers(1, 8),
            }
        ),
        "counted_in": counted_in(),
        "measured": st.fixed_dictionaries(
            {"what": st.sampled_from(["width", "length"]), "mm": st.sampled_from([90, 92.5]), "spot": spot}
        ),
        "weighed": st.fixed_dictionaries({"grams": st.sampled_from([20, 21.5]), "spot": spot}),
        "left": st.fixed_dictionaries({"grams": st.sampled_from([0, 31.5])}),
        "from the future": st.just({"more": 1}),
    }
    return by_kind[kind]


KINDS = (
    "worked", "worked", "worked", "taken_out", "tried", "settled", "hook", "fit_ended", "fit_reopened",
    "counted", "note", "accepted", "finished", "place", "place", "counted_in", "counted_in", "measured",
    "weighed", "left", "undo", "undo", "from the future",
)  # fmt: skip


@st.composite
def logs(draw: st.DrawFn) -> list[Entry]:
    """The entries of two devices whose clocks are not the same, undos of each other's entries among them."""
    size = draw(st.integers(0, 25))
    ids = [f"{DEVICES[number % 2]}-{number}" for number in range(size)]
    made = []
    for number in range(size):
        kind = draw(st.sampled_from(KINDS))
        piece = 0 if kind in ("tried", "settled", "accepted") else draw(st.sampled_from([1, 1, 2]))
        second = draw(st.integers(0, 9))
        made.append(
            Entry(
                id=ids[number],
                piece=piece,
                kind=kind,
                values=draw(values(kind, ids)),
                at=f"2026-11-03T19:00:{second:02d}.000Z",
                device=DEVICES[number % 2],
                order=number // 2,
            )
        )
    return made


def without_count(making: Making) -> Making:
    return dataclasses.replace(making, entries_seen=0)


@given(logs(), st.data())
@settings(deadline=None)
def test_any_order_and_any_repetition_give_the_same_state(entries: list[Entry], data: st.DataObject) -> None:
    straight = fold(entries)
    again = data.draw(st.lists(st.sampled_from(entries), max_size=20)) if entries else []
    mixed = data.draw(st.permutations([*entries, *again]))
    assert fold(mixed) == straight
    assert straight.entries_seen == len(entries)


@given(logs(), st.data())
@settings(deadline=None)
def test_what_arrives_in_parts_gives_the_whole(entries: list[Entry], data: st.DataObject) -> None:
    """Two devices each have a part, overlapping; put together in either order they agree."""
    cut = data.draw(st.integers(0, len(entries)))
    overlap = data.draw(st.integers(0, cut))
    one, two = entries[:cut], entries[overlap:]
    assert fold([*one, *two]) == fold([*two, *one]) == fold(entries)


@given(logs(), st.data())
@settings(deadline=None)
def test_an_undo_is_as_though_the_entry_had_never_been(entries: list[Entry], data: st.DataObject) -> None:
    plain = [each for each in entries if each.kind != "undo"]
    if not plain:
        return
    target = data.draw(st.sampled_from(plain))
    undo = Entry("undo-1", 1, "undo", {"entry": target.id}, "2026-11-03T19:00:05.000Z", "phone", 90)
    left_out = [each for each in plain if each.id != target.id]
    assert without_count(fold([*plain, undo])) == without_count(fold(left_out))
    redo = Entry("undo-2", 1, "undo", {"entry": undo.id}, "2026-11-03T19:00:01.000Z", "tablet", 91)
    assert without_count(fold([*plain, undo, redo])) == without_count(fold(plain))


@given(logs())
@settings(deadline=None)
def test_the_state_is_the_fold_of_what_is_in_force(entries: list[Entry]) -> None:
    assert without_count(fold(in_force(entries))) == without_count(fold(entries))


@given(logs())
@settings(deadline=None)
def test_rounds_taken_out_and_made_again(entries: list[Entry]) -> None:
    """Taking out from a round and working what stood there again gives the same rounds."""
    before = fold(entries).pieces[1].worked
    if not before:
        return
    middle = before[len(before) // 2]

    def later(number: int, kind: str, spot: str) -> Entry:
        return Entry(
            f"later-{number}",
            1,
            kind,
            {"spot": spot},
            f"2026-11-04T08:00:{number:02d}.000Z",
            "phone",
            100 + number,
        )

    out = later(0, "taken_out", middle)
    back = [later(number, "worked", spot) for number, spot in enumerate(before, start=1) if spot]
    assert fold([*entries, out]).pieces[1].worked == before[: len(before) // 2]
    assert fold([*entries, out, *back]).pieces[1].worked == before
    assert fold([*entries, out]).pieces[1].taken_out[-1] == (middle, len(before) - len(before) // 2)


@given(logs(), counted_in(), st.sampled_from([1, 2]))
@settings(deadline=None)
def test_rounds_counted_in_are_the_same_rounds_logged_one_by_one(
    entries: list[Entry], told: dict[str, Any], piece: int
) -> None:
    def later(number: int, kind: str, values: dict[str, Any]) -> Entry:
        at = f"2026-11-04T08:{number // 60:02d}:{number % 60:02d}.000Z"
        return Entry(f"later-{number}", piece, kind, values, at, "phone", 100 + number)

    at_once = fold([*entries, later(0, "counted_in", told)])
    spots = [f"{line}.{turn}" for line in LINES for turn in range(1, told["rounds"].get(line, 0) + 1)]
    if not set(told["ended"]) <= set(told["rounds"]):
        assert without_count(at_once) == without_count(fold(entries))
        return
    rounds = [later(number, "worked", {"spot": spot}) for number, spot in enumerate(spots)]
    ended = [
        later(50 + number, "fit_ended", {"fit": fit, "rounds": told["rounds"][fit]})
        for number, fit in enumerate(told["ended"])
    ]
    one_by_one = fold([*entries, *rounds, *ended])
    assert at_once.pieces == one_by_one.pieces
    assert [(each.kind, each.spot) for each in at_once.changed] == [
        (each.kind, each.spot) for each in one_by_one.changed
    ]


@given(logs(), st.dictionaries(st.text(max_size=8), st.integers() | st.text(max_size=3), max_size=3))
@settings(deadline=None)
def test_a_kind_that_nobody_knows_says_nothing(entries: list[Entry], told: dict[str, Any]) -> None:
    strange = [
        Entry(f"strange-{piece}", piece, "washed", told, "2026-11-03T19:00:05.000Z", "tablet", 50)
        for piece in (0, 1, 2)
    ]
    with_it = fold([*strange, *entries])
    assert with_it.entries_seen == len(entries) + 3
    assert without_count(with_it) == without_count(fold(entries))


@given(logs())
@settings(deadline=None)
def test_what_stands_hangs_together(entries: list[Entry]) -> None:
    """A place is at a round that does not stand; a fit that was ended has no round beyond its number."""
    for piece in fold(entries).pieces.values():
        assert piece.place is None or piece.place.spot not in piece.worked
        for fit, rounds in piece.fits_ended.items():
            turns = [int(spot.rpartition(".")[2]) for spot in piece.worked if spot.rpartition(".")[0] == fit]
            assert max(turns, default=0) <= rounds


@given(
    st.lists(
        st.builds(
            Entry,
            id=st.sampled_from(["a", "b", "c"]),
            piece=st.integers(-1, 4),
            kind=st.sampled_from([*KINDS, "", "fold"]),
            values=st.dictionaries(
                st.sampled_from(
                    [
                        "spot",
                        "fit",
                        "rounds",
                        "hook_mm",
                        "foundation",
                        "size",
                        "text",
                        "entry",
                        "count",
                        "name",
                        "step",
                        "repeat",
                        "ended",
                        "what",
                        "mm",
                        "grams",
                    ]
                ),
                st.none()
                | st.booleans()
                | st.integers()
                | st.floats()
                | st.text(max_size=6)
                | st.lists(st.integers() | st.sampled_from(FITS), max_size=2)
                | st.dictionaries(st.sampled_from(LINES) | st.text(max_size=3), st.integers(), max_size=2),
            ),
            at=st.text(max_size=5),
            device=st.text(max_size=3),
            order=st.integers(),
        ),
        max_size=12,
    ),
    st.randoms(use_true_random=False),
)
@settings(deadline=None)
def test_no_values_whatever_make_it_raise(entries: list[Entry], random: Any) -> None:
    straight = fold(entries)
    mixed = list(entries)
    random.shuffle(mixed)
    assert repr(fold(mixed)) == repr(straight)
