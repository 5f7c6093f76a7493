"""What holds whatever the numbers are."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.craft.fabric import Numbers, work
from server.craft.fabric.numbering import is_allowed
from server.craft.measure.calibrating import CountedLength, Fact, SwatchUsed, Weighed, calibrated
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.fitting import FitRequest, choice, recommend
from server.craft.measure.gauge import Gauge, any_gauge, pattern_gauge, swatch
from server.craft.measure.hands import Hand, guessed_hand, measured_hand
from server.craft.measure.quantities import mm
from server.craft.measure.updating import MeasuredWidth, Observation, TriedOn, updated
from server.craft.measure.yarnlength import piece_yarn, setting
from server.craft.measure.yarntable import yarn_categories, yarn_category
from server.craft.text.reader import read
from server.craft.text.tree import Header
from tests.craft.measure.mitts import QUAY

HANDS: st.SearchStrategy[Hand] = st.one_of(
    st.floats(80, 300).map(measured_hand), st.sampled_from([guessed_hand(), guessed_hand("women")])
)
GAUGES: st.SearchStrategy[Gauge] = st.one_of(
    st.builds(swatch, st.integers(4, 40), st.floats(40, 200), st.integers(3, 40)),
    st.builds(
        pattern_gauge, st.integers(6, 30), st.integers(3, 30), st.just(100), st.sampled_from([4.0, 5.5])
    ),
    st.just(any_gauge()),
)
HEADERS = st.builds(
    lambda multiple, plus, repeats, more: Header(
        sizes=("a", "b"),
        foundations=(multiple * repeats + plus, multiple * (repeats + more) + plus),
        multiple=multiple,
        plus=plus,
    ),
    st.integers(1, 12), st.integers(0, 6), st.integers(3, 12), st.integers(1, 6),
)  # fmt: skip
SEEN: st.SearchStrategy[Observation] = st.one_of(
    st.builds(
        TriedOn,
        st.integers(9, 90),
        st.sampled_from(["too long", "too short", "fits"]),
        st.one_of(st.none(), st.floats(1, 150)),
    ),
    st.builds(MeasuredWidth, st.integers(9, 90), st.floats(30, 200)),
)
FACTS: st.SearchStrategy[Fact] = st.one_of(
    st.builds(Weighed, st.floats(3, 90), st.floats(5, 90), st.floats(0.05, 1), st.sampled_from([1, 2])),
    st.builds(SwatchUsed, st.sampled_from(["sc", "hdc", "dc"]), st.integers(10, 400), st.floats(1, 40)),
    st.builds(CountedLength, st.sampled_from(["sc", "dc", "ch"]), st.integers(5, 60), st.floats(200, 9000)),
)


@given(HEADERS, HANDS, GAUGES, st.floats(-0.2, 0.2), st.lists(SEEN, max_size=4))
def test_the_recommendation_is_always_an_allowed_count(
    header: Header, hand: Hand, gauge: Gauge, ease: float, seen: list[Observation]
) -> None:
    counts = AllowedCounts.of(header)
    assert counts is not None
    answer = recommend(FitRequest(counts, hand, gauge, ease, tuple(seen)))
    for each in (answer.recommended, answer.down, answer.up):
        if each is not None:
            assert is_allowed(header, each.foundation)
    assert answer.up is not None
    assert answer.recommended.foundation < answer.up.foundation
    assert answer.down is None or answer.down.foundation < answer.recommended.foundation
    if answer.because and seen:  # a ring that was tried on goes first: see test_bounds
        return
    # No allowed count is nearer: neither neighbour is.
    wanted = answer.known.hand.around_mm * (1 + ease)
    nearest = abs(answer.recommended.around_mm - wanted)
    assert all(abs(each.around_mm - wanted) >= nearest - 1e-6 for each in (answer.down, answer.up) if each)


@given(HANDS, GAUGES, st.lists(SEEN, max_size=3), st.integers(3, 200), st.integers(1, 50))
def test_more_chains_never_give_a_smaller_ring(
    hand: Hand, gauge: Gauge, seen: list[Observation], chains: int, more: int
) -> None:
    known = updated(gauge, hand, seen)
    assert choice(chains + more, known).around_mm > choice(chains, known).around_mm


@given(HANDS, GAUGES, st.lists(SEEN, max_size=4), SEEN)
def test_an_observation_never_widens_gauge_or_fit(
    hand: Hand, gauge: Gauge, seen: list[Observation], one_more: Observation
) -> None:
    before, after = updated(gauge, hand, seen), updated(gauge, hand, [*seen, one_more])
    for a, b in ((1, 0), (0, 1), (1, 1)):
        assert after.belief.spread(a, b) <= before.belief.spread(a, b) * (1 + 1e-9)


@given(st.lists(FACTS, max_size=4), FACTS, st.sampled_from(range(8)))
def test_a_fact_never_widens_metres_or_grams(facts: list[Fact], one_more: Fact, number: int) -> None:
    yarn = yarn_category(number)
    by = setting(None, yarn)
    before = calibrated(by, category=yarn, facts=facts)
    after = calibrated(by, category=yarn, facts=[*facts, one_more])
    assert after.metres(1).factor <= before.metres(1).factor * (1 + 1e-9)
    assert after.grams(1).factor <= before.grams(1).factor * (1 + 1e-9)


@given(st.floats(100, 280), st.integers(5, 40), st.floats(40, 150), st.floats(1, 80))
def test_units_never_change_an_answer(hand_mm: float, stitches: int, over_mm: float, by_mm: float) -> None:
    """The same hand, swatch and try-on, typed in inches."""
    counts = AllowedCounts((24, 28), 4)

    def inches(length_mm: float) -> float:
        return mm(length_mm / 25.4, "in")

    cm = recommend(
        FitRequest(
            counts, measured_hand(hand_mm), swatch(stitches, over_mm), seen=(TriedOn(32, "too long", by_mm),)
        )
    )
    inch = recommend(
        FitRequest(
            counts, measured_hand(inches(hand_mm)), swatch(stitches, inches(over_mm), units="in"),
            seen=(TriedOn(32, "too long", inches(by_mm)),), units="in",
        )
    )  # fmt: skip
    assert cm.recommended.around_mm / cm.recommended.foundation == pytest.approx(
        inch.recommended.around_mm / inch.recommended.foundation
    )
    assert cm.known.gauge.stitches == pytest.approx(inch.known.gauge.stitches)
    assert cm.recommended.chance_right == pytest.approx(inch.recommended.chance_right, abs=1e-6) or (
        cm.recommended.foundation != inch.recommended.foundation  # a tie, broken by the last digit
    )


@settings(max_examples=25, deadline=None)
@given(st.integers(4, 14), st.integers(1, 6), st.integers(1, 6), st.integers(0, 3), st.integers(0, 3))
def test_more_rounds_or_chains_never_take_less_yarn(
    repeats: int, cuff: int, hand: int, more_cuff: int, more_hand: int
) -> None:
    pattern = read(QUAY).pattern
    by = setting(5, yarn_category(4))

    def metres(foundation: int, cuff: int, hand: int) -> float:
        numbers = Numbers(foundation, fits=(("0.3", cuff), ("2.1", hand)))
        return piece_yarn(work(pattern, numbers), pattern.header, by).metres

    fewer = metres(3 * repeats, cuff, hand)
    assert metres(3 * repeats, cuff + more_cuff, hand + more_hand) >= fewer
    if more_cuff + more_hand:
        assert metres(3 * repeats, cuff + more_cuff, hand + more_hand) > fewer
    assert metres(3 * repeats + 3, cuff, hand) > fewer


@given(st.sampled_from(yarn_categories()), st.floats(1.5, 15), st.floats(0.1, 4))
def test_a_larger_hook_or_a_thicker_yarn_never_takes_less(
    category: object, hook_mm: float, more: float
) -> None:
    for each in yarn_categories():
        assert setting(hook_mm + more, each).scale > setting(hook_mm, each).scale
    scales = [setting(hook_mm, each).scale for each in yarn_categories()]
    assert scales == sorted(scales)
