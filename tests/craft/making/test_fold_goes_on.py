"""A folding that goes on entry by entry is what folding all of them at once gives, at every step."""

from __future__ import annotations

import dataclasses
from copy import deepcopy

from hypothesis import given, settings
from hypothesis import strategies as st

from server.craft.making import Entry, Folding, fold, folding, place_in_time
from tests.craft.making.test_fold_properties import logs


def gone_on(before: Folding, entry: Entry, entries: list[Entry]) -> Folding:
    """With one entry more, anew where it cannot go on."""
    return before.with_entry(entry) or folding(entries)


@given(logs(), st.data())
@settings(deadline=None)
def test_entry_by_entry_in_any_order(entries: list[Entry], data: st.DataObject) -> None:
    arriving = data.draw(st.permutations(entries) | st.just(sorted(entries, key=place_in_time)))
    so_far = folding([])
    for number, entry in enumerate(arriving, 1):
        so_far = gone_on(so_far, entry, arriving[:number])
        assert so_far.making == fold(arriving[:number])


@given(logs(), st.data())
@settings(deadline=None)
def test_what_was_made_stays_and_it_goes_on_once(entries: list[Entry], data: st.DataObject) -> None:
    """As where a write is taken back, and another one comes in its place."""
    in_order = sorted(entries, key=place_in_time)
    cut = data.draw(st.integers(0, len(in_order)))
    before = folding(in_order[:cut])
    made = deepcopy(before.making)
    gone: Folding | None = before
    for one in in_order[cut:]:
        gone = gone.with_entry(one) if gone else None
        assert before.making == made
    assert not in_order[cut:] or before.with_entry(in_order[cut]) is None
    so_far = before
    for number, one in enumerate(in_order[cut:], cut + 1):
        so_far = gone_on(so_far, one, in_order[:number])
    assert so_far.making == fold(in_order)


def entry(number: int, kind: str, /, **values: object) -> Entry:
    return Entry(f"entry-{number}", 1, kind, values, f"2026-11-03T19:00:{number:02d}.000Z", "phone", number)


def test_it_goes_on_wherever_an_entry_comes_last() -> None:
    """Not only in the end the same: a round that is logged is not paid for with all before it."""
    so_far: Folding | None = folding([])
    for number in range(1, 30):
        assert so_far is not None
        so_far = so_far.with_entry(entry(number, "worked", spot=f"0.3.{number}"))
    assert so_far is not None
    assert so_far.making.pieces[1].worked == tuple(f"0.3.{number}" for number in range(1, 30))


def test_it_does_not_go_on_where_an_entry_does_not_simply_come_last() -> None:
    first, last = entry(1, "worked", spot="0.0.1"), entry(3, "worked", spot="0.1.1")
    undone_before_it_came = entry(4, "undo", entry="entry-5")
    so_far = folding([first, last])
    assert so_far.with_entry(entry(2, "note", spot=None, text="tight")) is None
    assert so_far.with_entry(dataclasses.replace(last, id="entry-9")) is not None, "as late, by its id"
    assert so_far.with_entry(undone_before_it_came) is None
    assert folding([first, undone_before_it_came]).with_entry(entry(5, "worked", spot="0.1.1")) is None
