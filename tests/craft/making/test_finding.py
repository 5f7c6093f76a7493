"""Where am I: rounds counted on the piece find the place, and the entries that make the log say so."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.craft.making import FoundPlace, Making, Numbers, fold, found_place, place_groups, plan
from server.craft.making.held import groups
from server.craft.text import read
from tests.craft.making.entries import log, worked
from tests.craft.making.plans import PATTERN, planner, spots
from tests.craft.making.slipway import TEXT
from tests.craft.making.test_twins import made

Entry = tuple[str, int, dict[str, Any]]
SETTLED: Entry = ("settled", 0, {"foundation": 24, "size": None})
# Keys of the hand-made pair: the cuff (foundation, 2 rounds, 4 to fit), the gap, the hand (1 round, 3 to
# fit), the top edging (1), the thumb (2).
CUFF, GAP, HAND, TOP, THUMB = "0", "1", "2", "3", "4"


def found(counted: dict[str, int], *told: Entry, piece: int = 1) -> FoundPlace:
    return found_place(PATTERN, fold(log(SETTLED, *told)), piece, counted, "US", planner)


def logged(of: FoundPlace, *told: Entry, piece: int = 1) -> Making:
    """The pair once what was found is logged."""
    return fold(log(SETTLED, *told, *[(each.kind, piece, dict(each.values)) for each in of.entries]))


# --- what is asked -----------------------------------------------------------------------------------------


def test_what_is_asked_of_a_glove() -> None:
    asked = place_groups(PATTERN, fold(log(SETTLED)), 1, "US", planner)
    assert [(group.key, group.asks, group.least, group.most, group.yes_or_no) for group in asked] == [
        (CUFF, "rounds below the gap", 3, None, False),
        (GAP, "the Thumb gap", 1, 1, True),
        (HAND, "rounds above the gap", 2, None, False),
        (TOP, "the Top edging", 1, 1, True),
        (THUMB, "rounds of the Thumb", 2, 2, False),
    ]
    assert [group.key for group in asked if group.at_gap] == [THUMB]


def test_without_numbers_there_is_nothing_to_find() -> None:
    with pytest.raises(ValueError, match="no numbers are settled"):
        found_place(PATTERN, fold([]), 1, {}, "US", planner)
    with pytest.raises(ValueError, match="nothing is counted by the name 'sleeve'"):
        found({"sleeve": 3})


SOCK = """\
Title: Creel Socks
Foundation: 24, multiple of 4
Custom: none

# Leg
Foundation rnd: Ch 24; join with sl st in first ch to form a ring.
Rnds 1 to 6, or to the heel: Ch 1, sc in each st around; join with sl st in first sc.

# Instep
Rnds 1 to 3: Ch 1, sc in each st around; join with sl st in first sc.

# Foot
Rnds 1 to 8, or to the toes: Ch 1, sc in each st around; join with sl st in first sc.

# Edging - in the foundation
Join yarn with sc in any foundation ch, sc in each foundation ch around; join with sl st in first sc.
"""


def test_without_a_gap_sections_with_one_line_to_fit_are_counted_together() -> None:
    """Two lines to fit: the foot is asked for by itself, the leg with the instep."""
    asked = groups(plan(read(SOCK).pattern, Numbers(24)))
    assert [(group.asks, group.least, group.most) for group in asked] == [
        ("rounds of the Leg and Instep", 4, None),
        ("rounds of the Foot", 1, None),
        ("the Edging", 1, 1),
    ]


def test_one_tube_is_counted_from_the_foundation() -> None:
    text = SOCK.replace("# Foot\nRnds 1 to 8, or to the toes:", "# Foot\nRnds 1 to 8:")
    asked = groups(plan(read(text).pattern, Numbers(24)))
    assert [group.asks for group in asked] == ["rounds from the foundation", "the Edging"]


# --- a piece that was made without a log -------------------------------------------------------------------


def test_a_glove_made_without_a_log_is_counted_in() -> None:
    here = found({CUFF: 6, GAP: 1, HAND: 2})
    assert (
        here.says == "You are at Hand, Rnd 3: 6 rounds below the gap, the Thumb gap, 2 rounds above the gap."
    )
    assert here.cannot == ()
    assert here.off == ()  # there was no log to disagree with
    (counted_in,) = here.entries
    assert counted_in.kind == "counted_in"
    assert counted_in.values == {
        "rounds": {"0.0": 1, "0.1": 2, "0.2": 4, "1.0": 1, "2.0": 1, "2.1": 1},
        "ended": ["0.2"],
    }
    making = logged(here)
    assert making.pieces[1].worked == tuple(spots("2.1.1"))
    again = found_place(PATTERN, making, 1, {CUFF: 6, GAP: 1, HAND: 2}, "US", planner)
    assert again.agrees
    assert again.says == here.says


def test_more_or_fewer_rounds_to_fit_than_written_once_the_gap_is_there() -> None:
    for rounds, fit in ((9, 7), (3, 1)):
        (told,) = found({CUFF: rounds, GAP: 1}).entries
        assert told.values["rounds"] == {"0.0": 1, "0.1": 2, "0.2": fit, "1.0": 1}
        assert told.values["ended"] == ["0.2"]


def test_in_the_middle_of_the_cuff_nothing_is_ended() -> None:
    here = found({CUFF: 4})
    (told,) = here.entries
    assert told.values == {"rounds": {"0.0": 1, "0.1": 2, "0.2": 2}, "ended": []}
    assert here.says == "You are at Cuff, Rnd 5: 4 rounds below the gap."
    longer = found({CUFF: 8})
    assert longer.entries[0].values["rounds"]["0.2"] == 6
    assert longer.says == "You are at Cuff, Rnd 9: 8 rounds below the gap."


def test_only_the_foundation() -> None:
    here = found({})
    assert here.says == "You are at Cuff, Rnd 1: only the foundation is there."
    assert here.entries[0].values == {"rounds": {"0.0": 1}, "ended": []}


def test_the_whole_glove() -> None:
    here = found({CUFF: 6, GAP: 1, HAND: 4, TOP: 1, THUMB: 2})
    assert here.says == (
        "Every round is there: 6 rounds below the gap, the Thumb gap, 4 rounds above the gap, "
        "the Top edging, 2 rounds of the Thumb."
    )
    assert logged(here).pieces[1].fits_ended == {"0.2": 4, "2.1": 3}


def test_glove_two_goes_by_glove_one_as_made() -> None:
    """Glove one has 6 to fit in the cuff: with 7 rounds glove two is still in it."""
    here = found({CUFF: 7}, *made(1), piece=2)
    assert here.says == "You are at Cuff, Rnd 8: 7 rounds below the gap."
    assert here.entries[0].values["rounds"] == {"0.0": 1, "0.1": 2, "0.2": 5}


# --- what cannot be ----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("counted", "says"),
    [
        ({CUFF: 6, GAP: 1, HAND: 4, THUMB: 3},
         "You counted 3 rounds of the Thumb, which has 2 rounds: 2 at most."),
        ({CUFF: 6, GAP: 2}, "You counted 2 rounds of the Thumb gap, which has 1 round: 1 at most."),
        ({CUFF: 2, GAP: 1},
         "You counted 2 rounds below the gap, and there are at least 3 before the Thumb gap can be there. "
         "Count again from the foundation."),
        ({CUFF: 6, HAND: 2},
         "You counted 0 rounds of the Thumb gap, and there are at least 1 before rounds above the gap can be "
         "there. Count again from the foundation."),
        ({CUFF: 6, THUMB: 1},
         "Rounds of the Thumb: worked around the gap, which by your count is not there yet."),
        ({CUFF: -1}, "A number of rounds is 0 or more: -1 rounds below the gap cannot be."),
        ({CUFF: 301}, "You counted 301 rounds below the gap: the notebook takes 300 at most."),
    ],
)  # fmt: skip
def test_what_cannot_be_is_said_with_what_would_be_right(counted: dict[str, int], says: str) -> None:
    here = found(counted)
    assert says in here.cannot
    assert (here.entries, here.says, here.place) == ((), "", None)
    assert not here.agrees


# --- a piece with a log ------------------------------------------------------------------------------------


def test_the_log_has_more_than_she_holds() -> None:
    told = worked(*spots("0.2.4"))
    here = found({CUFF: 4}, *told)
    assert here.off == ("The log has 6 rounds below the gap; you count 4, 2 fewer.",)
    assert here.keep.startswith("If the log is right")
    assert [(each.kind, dict(each.values)) for each in here.entries] == [("taken_out", {"spot": "0.2.3"})]
    assert logged(here, *told).pieces[1].worked == tuple(spots("0.2.2"))


def test_the_log_has_fewer_than_she_holds() -> None:
    told = worked(*spots("0.2.1"))
    here = found({CUFF: 5}, *told)
    assert here.off == ("The log has 3 rounds below the gap; you count 5, 2 more.",)
    assert logged(here, *told).pieces[1].worked == tuple(spots("0.2.3"))


def test_a_round_less_below_the_gap_and_all_above_it_stays() -> None:
    told = [
        *worked(*spots("0.2.4")),
        ("fit_ended", 1, {"fit": "0.2", "rounds": 4}),
        *worked("1.0.1", "2.0.1"),
    ]
    here = found({CUFF: 5, GAP: 1, HAND: 1}, *told)
    assert [each.kind for each in here.entries] == ["taken_out", "counted_in"]
    after = logged(here, *told).pieces[1]
    assert after.worked == ("0.0.1", "0.1.1", "0.1.2", "0.2.1", "0.2.2", "0.2.3", "1.0.1", "2.0.1")
    assert after.fits_ended == {"0.2": 3}


def test_an_edging_that_the_log_does_not_have() -> None:
    told = [*worked(*spots("2.1.3"))]
    here = found({TOP: 1}, *told)
    assert here.off == ("The log does not have the Top edging; by your count it is there.",)
    assert here.place is not None
    assert here.place.section.title == "Thumb"
    out = found({TOP: 0}, *told, *worked("3.0.1"))
    assert out.off == ("The log has the Top edging; by your count it is not there yet.",)


def test_what_she_does_not_count_stays_as_the_log_has_it() -> None:
    told = worked(*spots("0.2.4"), "0.2.5", "0.2.6")
    assert found({}, *told).agrees
    assert found({CUFF: 8}, *told).agrees
    more = found({CUFF: 9}, *told)
    assert more.entries[0].values["rounds"]["0.2"] == 7


def test_the_real_pattern() -> None:
    pattern = read(TEXT).pattern
    making = fold(log(("settled", 0, {"foundation": 28, "size": "medium"})))
    asked = {group.asks: group.key for group in place_groups(pattern, making, 1)}
    assert list(asked) == [
        "rounds below the gap", "the Thumb gap", "rounds above the gap", "the Top edging",
        "the Bottom edging", "rounds of the Thumb",
    ]  # fmt: skip
    here = found_place(
        pattern, making, 1,
        {asked["rounds below the gap"]: 6, asked["the Thumb gap"]: 1, asked["rounds above the gap"]: 2,
         asked["the Bottom edging"]: 1},
    )  # fmt: skip
    assert here.says == (
        "You are at Hand, Rnd 3: 6 rounds below the gap, the Thumb gap, 2 rounds above the gap, the Bottom "
        "edging."
    )


COUNTS = st.fixed_dictionaries(
    {
        CUFF: st.integers(0, 12),
        GAP: st.integers(0, 1),
        HAND: st.integers(0, 8),
        TOP: st.integers(0, 1),
        THUMB: st.integers(0, 2),
    }
)


@given(COUNTS, COUNTS)
@settings(deadline=None, max_examples=150)
def test_whatever_the_log_said_it_then_says_what_she_holds(
    held: dict[str, int], before: dict[str, int]
) -> None:
    first = found(before)
    told: list[Entry] = [(each.kind, 1, dict(each.values)) for each in first.entries]
    here = found(held, *told)
    if here.cannot:
        assert here.entries == ()
        return
    making = logged(here, *told)
    own = making.pieces[1].worked
    assert sum(1 for spot in own if spot.startswith("0.")) == held[CUFF] + 1
    assert [sum(1 for spot in own if spot.startswith(f"{key}.")) for key in (GAP, HAND, TOP, THUMB)] == [
        held[key] for key in (GAP, HAND, TOP, THUMB)
    ]
    assert found_place(PATTERN, making, 1, held, "US", planner).agrees
    assert here.agrees == (not here.entries)
