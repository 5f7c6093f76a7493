"""What a try-on rules out: the trade's one repeat out, one in."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from server.craft.measure.bounds import bounds_of
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.fitting import FitRequest, recommend
from server.craft.measure.gauge import any_gauge, pattern_gauge, swatch
from server.craft.measure.hands import aged_hand, guessed_hand, measured_hand
from server.craft.measure.updating import TriedOn

FOURS = AllowedCounts((24, 28, 32), 4)
SWATCH, HAND = swatch(56, 400), measured_hand(200)  # 14 in 10 cm: 190 mm are 26.6 chains, and 28 is nearest


def chains(*seen: TriedOn) -> int:
    return recommend(FitRequest(FOURS, HAND, SWATCH, seen=seen)).recommended.foundation


@pytest.mark.parametrize(
    ("seen", "recommended"),
    [
        ((), 28),
        ((TriedOn(28, "too long"),), 24),
        ((TriedOn(28, "too short"),), 32),
        ((TriedOn(32, "too long"), TriedOn(28, "too long", 5)), 24),
        ((TriedOn(28, "too long"), TriedOn(24, "fits")), 24),
        ((TriedOn(32, "fits"),), 32),
        # What fits and was found too long afterwards does not fit.
        ((TriedOn(32, "fits"), TriedOn(32, "too long", 20)), 28),
    ],
)
def test_what_was_tried_goes_first(seen: tuple[TriedOn, ...], recommended: int) -> None:
    """Common practice, no source: one repeat out when it is too long, one in when it is too short."""
    assert chains(*seen) == recommended


def test_between_two_counts_it_says_that_there_is_none() -> None:
    seen = (TriedOn(24, "too short"), TriedOn(28, "too long"))
    answer = recommend(FitRequest(FOURS, HAND, SWATCH, seen=seen))
    assert "Another hook may bring it right" in answer.because
    assert answer.because in answer.says


def test_what_contradicts_itself_is_asked_about() -> None:
    seen = (TriedOn(32, "too short"), TriedOn(28, "too long"))
    assert bounds_of(seen).contradict
    assert "once more" in recommend(FitRequest(FOURS, HAND, SWATCH, seen=seen)).because


@given(
    st.sampled_from([any_gauge(), pattern_gauge(14, 9, 100, 5), swatch(15, 100), SWATCH]),
    st.sampled_from([guessed_hand(), HAND, aged_hand(8)]),
    st.sampled_from([AllowedCounts((24, 28), 4), AllowedCounts((27, 30), 3), AllowedCounts((21,), 2, 1)]),
    st.integers(5, 20),
    st.sampled_from(["too long", "too short"]),
    st.none() | st.floats(1, 80),
)
def test_a_ring_that_did_not_fit_is_not_recommended_again(
    gauge: object, hand: object, counts: AllowedCounts, repeats: int, verdict: str, by_mm: float | None
) -> None:
    tried = counts.nearest(repeats * (counts.multiple or 1))
    seen = (TriedOn(tried, verdict, by_mm),)  # type: ignore[arg-type]
    found = recommend(FitRequest(counts, hand, gauge, seen=seen)).recommended.foundation  # type: ignore[arg-type]
    assert counts.allows(found)
    if verdict == "too short":
        assert found > tried
    elif counts.below(tried) is not None:
        assert found < tried
