"""Numbers at one count: lists by size, lines in N, formulas from counts."""

from dataclasses import replace
from fractions import Fraction

import pytest

from server.craft.fabric.formulas import formula
from server.craft.fabric.numbering import (
    Count,
    NotWhole,
    Numbering,
    counts_to_try,
    is_allowed,
    nearest_allowed,
)
from server.craft.text.tree import Formula, Header, Plain, SizeList

HEADER = Header(
    "Knot Mitts", sizes=("small", "medium", "large"), foundations=(24, 30, 36), multiple=6, custom=(18, 42)
)
SMALL, MEDIUM, LARGE = Count(24, 0), Count(30, 1), Count(36, 2)


def at(foundation: int) -> Numbering:
    """Numbers at a custom count."""
    return Numbering(HEADER, Count(foundation, None))


# --- formulas -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("values", "line"),
    [
        ({24: 24, 30: 30, 36: 36}, "N"),
        ({24: 8, 30: 10, 36: 12}, "N/3"),
        ({24: 7, 30: 9, 36: 11}, "N/3 - 1"),
        ({24: 17, 30: 21, 36: 25}, "2N/3 + 1"),
        ({24: 13, 30: 13, 36: 13}, "13"),
        ({24: 48, 30: 60}, "2N"),
        ({24: 36, 30: 30, 36: 24}, "-N + 60"),
        ({24: 9, 30: 10, 36: 12}, None),
        ({24: 8}, None),
        ({}, None),
        # two points lie on some line always: one with so odd a slope says nothing
        ({24: 5, 37: 12}, None),
    ],
)
def test_formula(values: dict[int, int], line: str | None) -> None:
    assert formula(values) == line


def test_formula_takes_the_counts_in_any_order() -> None:
    assert formula({36: 12, 24: 8, 30: 10}) == "N/3"


# --- one number at one count --------------------------------------------------------------------------------


@pytest.mark.parametrize(("count", "value"), [(SMALL, 8), (MEDIUM, 11), (LARGE, 12)])
def test_a_list_at_its_sizes(count: Count, value: int) -> None:
    assert Numbering(HEADER, count).value(SizeList((8, 11, 12))) == value


@pytest.mark.parametrize(("foundation", "value"), [(18, 6), (42, 14), (48, 16)])
def test_a_list_on_a_line_goes_on_along_it(foundation: int, value: int) -> None:
    number = SizeList((8, 10, 12))
    assert at(foundation).value(number) == value
    assert not at(foundation).is_off_line(number)


@pytest.mark.parametrize(("foundation", "value"), [(18, 8), (42, 12), (32, 11), (35, 11)])
def test_a_list_on_no_line_is_the_nearest_smaller_sizes(foundation: int, value: int) -> None:
    number = SizeList((8, 11, 12))
    assert at(foundation).value(number) == value
    assert at(foundation).is_off_line(number)


def test_a_list_on_a_line_that_gives_no_whole_number_here() -> None:
    # N/6 at 27 chains
    number = SizeList((4, 5, 6))
    assert at(27).is_off_line(number)
    assert at(27).value(number) == 4
    assert not at(42).is_off_line(number)


def test_the_foundations_own_list_is_n() -> None:
    assert at(27).value(SizeList((24, 30, 36))) == 27
    assert not at(27).is_off_line(SizeList((24, 30, 36)))


def test_a_list_never_comes_to_less_than_nothing() -> None:
    # N/3 - 7: at 18 chains -1, so the smallest size's
    assert at(18).value(SizeList((1, 3, 5))) == 1


def test_numbers_of_rounds_are_the_nearest_smaller_sizes() -> None:
    assert at(42).rounds(SizeList((8, 10, 12))) == 12
    assert at(18).rounds(SizeList((8, 10, 12))) == 8
    assert at(33).rounds(SizeList((8, 10, 12))) == 10
    assert Numbering(HEADER, MEDIUM).rounds(SizeList((8, 10, 12))) == 10


def test_a_line_in_n() -> None:
    number = Formula(Fraction(2, 3), Fraction(1))
    assert at(42).value(number) == 29
    with pytest.raises(NotWhole):
        at(43).value(number)


def test_the_one_sizes_foundation_number_is_n_in_stated_counts_only() -> None:
    header = Header("Dunlin Cuff", sizes=("one size",), foundations=(24,), multiple=6)
    numbering = Numbering(header, Count(30, None))
    assert numbering.value(Plain(24), is_foundation=True) == 30
    assert numbering.value(Plain(24)) == 24
    assert numbering.value(Plain(25), is_foundation=True) == 25


# --- which counts -------------------------------------------------------------------------------------------


def test_counts_to_try_are_sizes_and_customs_ascending() -> None:
    counts = counts_to_try(HEADER)
    assert [count.foundation for count in counts] == [18, 24, 30, 36, 42]
    assert [count.size for count in counts] == [None, 0, 1, 2, None]


def test_counts_asked_for_are_tried_once() -> None:
    assert [count.foundation for count in counts_to_try(HEADER, (48, 24))] == [18, 24, 30, 36, 42, 48]


def test_counts_from_a_ring_are_the_sizes() -> None:
    header = Header("Crown", sizes=("small", "large"), foundations=())
    counts = counts_to_try(header, (24,))
    assert [count.key(header) for count in counts] == ["small", "large"]


@pytest.mark.parametrize(
    ("foundation", "allowed", "near"),
    [
        (24, True, (24, 30)),
        (25, False, (24, 30)),
        (6, True, (18,)),  # allowed, but none under three repeats of six is offered
        (3, False, (18,)),
        (19, False, (18, 24)),
        (600, True, (600, 606)),
    ],
)
def test_allowed_counts(foundation: int, allowed: bool, near: tuple[int, ...]) -> None:
    assert is_allowed(HEADER, foundation) is allowed
    assert nearest_allowed(HEADER, foundation) == near


def test_a_header_may_offer_less_than_three_repeats() -> None:
    header = replace(HEADER, custom=(12, 60))
    assert nearest_allowed(header, 13) == (12, 18)


def test_without_a_multiple_only_the_sizes_are_allowed() -> None:
    header = Header("Ruff Cuff", sizes=("small", "large"), foundations=(24, 31))
    assert not is_allowed(header, 48)
    assert nearest_allowed(header, 28) == (24, 31)
    assert nearest_allowed(header, 40) == (31,)
