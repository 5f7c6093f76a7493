"""Whatever glove one was made like: glove two that does what it is told becomes its twin, and only then."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from server.craft.making import Entry, Making, fold, piece_plan, place, verdict
from tests.craft.making.entries import log
from tests.craft.making.plans import PATTERN, planner

Told = tuple[str, int, dict[str, Any]]
SETTLED: Told = ("settled", 0, {"foundation": 24, "size": None})


def next_told(making: Making, piece: int, more: dict[str, int]) -> Told | None:
    """What a maker logs next who works what she is shown, with so many rounds to fit; None at the end.

    At a line to fit glove one goes by `more`; glove two ends where she is stopped.
    """
    plan = piece_plan(PATTERN, making, piece, "US", planner)
    here = place(plan, making, piece)
    if here.kind == "finished":
        return None
    if here.kind == "finish":
        return ("finished", piece, {})
    ends = here.kind == "end fit" or (piece == 1 and here.can_end and here.in_fit >= more[here.can_end.fit])
    if ends and here.can_end is not None:
        return ("fit_ended", piece, {"fit": here.can_end.fit, "rounds": here.in_fit})
    assert here.round is not None
    return ("worked", piece, {"spot": here.round.spot})


def made(told: list[Told], piece: int, more: dict[str, int]) -> list[Told]:
    """The log with that piece worked to its end."""
    for _ in range(60):
        following = next_told(fold(log(*told)), piece, more)
        if following is None:
            return told
        told = [*told, following]
    raise AssertionError("the piece never comes to its end")


FITS = st.fixed_dictionaries({"0.2": st.integers(1, 9), "2.1": st.integers(1, 6)})
HOOKS = st.lists(
    st.tuples(st.sampled_from([None, "0.1.1", "0.2.1", "2.0.1", "4.0.2"]), st.sampled_from([4.0, 4.5, 5.0])),
    max_size=3,
)


def hooks(piece: int, changes: list[tuple[str | None, float]]) -> list[Told]:
    return [("hook", piece, {"spot": spot, "hook_mm": hook_mm}) for spot, hook_mm in changes]


@given(FITS, HOOKS)
@settings(deadline=None, max_examples=30)
def test_glove_two_that_does_what_it_is_told_is_a_twin(
    more: dict[str, int], changes: list[tuple[str | None, float]]
) -> None:
    told = made([SETTLED, *hooks(1, changes)], 1, more)
    told = [*told, *hooks(2, changes)]
    while (following := next_told(fold(log(*told)), 2, more)) is not None:
        told = [*told, following]
        found = verdict(PATTERN, fold(log(*told)), "US", planner)
        assert found.differences == ()
        assert found.state in ("twin so far", "twins", "no second piece yet")
    making = fold(log(*told))
    assert verdict(PATTERN, making, "US", planner).state == "twins"
    assert making.pieces[1].worked == making.pieces[2].worked


@given(FITS, FITS)
@settings(deadline=None, max_examples=40)
def test_other_rounds_are_named_with_a_mend_that_mends(one: dict[str, int], two: dict[str, int]) -> None:
    told = made([SETTLED], 1, one)
    told += [
        each
        for each in [(kind, 2, values) for kind, _, values in made([SETTLED], 1, two)]
        if each[0] != "settled"
    ]
    found = verdict(PATTERN, fold(log(*told)), "US", planner)
    differing = {line for line in one if one[line] != two[line]}
    assert {each.key.split("/")[1] for each in found.differences} == differing
    assert found.state == ("differs" if differing else "twins")
    for _ in range(6):  # do what the mends say, one after another
        found = verdict(PATTERN, fold(log(*told)), "US", planner)
        if not found.differences:
            break
        first = found.differences[0]
        if first.take_out is not None:
            told = [*told, ("taken_out", 2, {"spot": first.take_out})]
        else:
            told = [*told, ("fit_reopened", 2, {"fit": first.key.split("/")[1]})]
    told = made(told, 2, one)
    assert verdict(PATTERN, fold(log(*told)), "US", planner).state == "twins"


@given(FITS, st.data())
@settings(deadline=None, max_examples=30)
def test_taking_out_and_making_again_comes_to_the_same_glove(
    more: dict[str, int], data: st.DataObject
) -> None:
    told = made([SETTLED], 1, more)
    before = fold(log(*told)).pieces[1]
    spot = data.draw(st.sampled_from(before.worked))
    again = made([*told, ("taken_out", 1, {"spot": spot})], 1, more)
    after = fold(log(*again)).pieces[1]
    assert (after.worked, after.fits_ended, after.finished) == (before.worked, before.fits_ended, True)
    assert len(after.taken_out) == 1


def test_entries_are_logged_in_the_order_told() -> None:
    entries: list[Entry] = log(SETTLED, ("finished", 1, {}))
    assert [each.at for each in entries] == sorted(each.at for each in entries)
