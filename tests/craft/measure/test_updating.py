"""What try-ons and measured widths say of gauge and hand."""

from __future__ import annotations

import math

import pytest

from server.craft.measure.beliefs import NINE_IN_TEN, Belief, Seen
from server.craft.measure.counts import AllowedCounts
from server.craft.measure.fitting import FitRequest, recommend
from server.craft.measure.gauge import any_gauge, pattern_gauge, swatch
from server.craft.measure.hands import guessed_hand, measured_hand
from server.craft.measure.updating import MeasuredWidth, Observation, TriedOn, at_odds, gauge_range, updated

FOURS = AllowedCounts((24, 28, 32), 4)


def test_two_measurements_weigh_by_their_spreads() -> None:
    """10 give or take 10 %, seen as 12 give or take 10 %: halfway in the logarithm: √120, 7.07 %."""
    after = Belief.about(10, 0.1, 1, 0.1).after(Seen(1, 0, 12, 0.1, ""))
    assert after.middle(1, 0) == pytest.approx(math.sqrt(120))
    assert after.spread(1, 0) == pytest.approx(0.1 / math.sqrt(2))
    assert after.spread(0, 1) == pytest.approx(0.1)
    assert after.range(1, 0).factor == pytest.approx(math.exp(2 * NINE_IN_TEN * 0.1 / math.sqrt(2)))


def test_a_product_seen_tells_both_and_their_product_best() -> None:
    after = Belief.about(10, 0.1, 1, 0.1).after(Seen(1, 1, 12, 0.01, ""))
    assert after.middle(1, 1) == pytest.approx(12, rel=0.002)
    assert after.middle(1, 0) == pytest.approx(10 * math.sqrt(1.2), rel=0.002)
    assert after.spread(1, 1) < 0.0101
    assert 0.06 < after.spread(1, 0) < 0.08
    assert after.shared < 0


def test_twelve_cm_too_long_at_32_chains() -> None:
    """A 190 mm hand wants 180.5 mm; the ring is 300.5 mm: 32 chains are 10.65 in 10 cm, not 14.
    Prior 7 %, seen with √(4² + (5 / 300.5)² …) = 4.3 %, so the middle lies nearer to what was seen.
    """
    prior = pattern_gauge(14, 9, 100, 5)
    known = updated(prior, measured_hand(190), [TriedOn(32, "too long", 120)])
    assert 10.65 < known.gauge.stitches < 12.0
    assert known.gauge.spread < 0.043
    assert known.says == ("32 chains were 12 cm too long: about 10.6 stitches in 10 cm.",)
    assert known.gauge.rounds == pytest.approx(9 * known.gauge.stitches / 14)
    low, high = gauge_range(known)
    assert low < known.gauge.stitches < high


def test_a_try_on_changes_the_recommendation_and_all_that_follows() -> None:
    hand = measured_hand(190).with_lengths(wrist_mm=None, wrist_to_thumb_mm=80, wrist_to_end_mm=140)
    before = recommend(FitRequest(FOURS, hand, pattern_gauge(14, 9, 100)))
    after = recommend(
        FitRequest(FOURS, hand, pattern_gauge(14, 9, 100), seen=(TriedOn(32, "too long", 120),))
    )
    assert (before.recommended.foundation, after.recommended.foundation) == (24, 20)
    assert after.rounds[1].rounds < before.rounds[1].rounds


def test_a_measured_width_says_nearly_all() -> None:
    """28 stitches 92 mm wide laid flat: 28 / 184 mm, 15.2 in 10 cm."""
    known = updated(any_gauge(), guessed_hand(), [MeasuredWidth(28, 92)])
    assert known.gauge.stitches == pytest.approx(15.2, abs=0.15)
    assert known.gauge.spread < 0.03
    assert known.hand.around_mm == pytest.approx(guessed_hand().around_mm)
    assert known.hand.spread_mm == pytest.approx(guessed_hand().spread_mm)
    flat = updated(any_gauge(), guessed_hand(), [MeasuredWidth(28, 184, flat=True)])
    assert flat.gauge.stitches == pytest.approx(15.2, abs=0.15)


def test_a_try_on_tells_the_chains_even_where_the_hand_was_a_guess() -> None:
    """The hand is a guess of ±16 mm, the gauge one of ±14 %: 28 chains that fit settle the count."""
    request = FitRequest(FOURS, guessed_hand(), any_gauge())
    fits = FitRequest(FOURS, guessed_hand(), any_gauge(), seen=(TriedOn(28, "fits"),))
    before, after = recommend(request), recommend(fits)
    assert before.recommended.foundation != 28
    assert after.recommended.foundation == 28
    assert after.recommended.chance_right > before.recommended.chance_right
    assert after.known.belief.spread(1, 1) < after.known.belief.spread(1, 0)


def test_too_long_without_a_length_goes_one_way_only() -> None:
    prior, hand = pattern_gauge(14, 9, 100), measured_hand(190)
    right = 190 * 0.95 * 14 / 100
    long = updated(prior, hand, [TriedOn(round(right), "too long")])
    short = updated(prior, hand, [TriedOn(round(right), "too short")])
    assert long.gauge.stitches < 14 < short.gauge.stitches
    assert abs(long.gauge.stitches / 14 - 1) < 0.05


@pytest.mark.parametrize("ease", [0.0, -0.05, -0.1])
def test_a_try_on_without_a_length_is_read_against_the_ease_that_she_wants(ease: float) -> None:
    """At 14 in 10 cm 28 chains are 200 mm. Too short on a 190 mm hand that wants 0 %: they are no more than
    190 mm after all; that wants −10 %: no more than 171 mm.
    """
    prior, hand = pattern_gauge(14, 9, 100), measured_hand(190)
    short = updated(prior, hand, [TriedOn(28, "too short")], ease=ease)
    assert 28 * short.gauge.stitch_mm <= short.hand.around_mm * (1 + ease) + 1e-6
    long = updated(prior, hand, [TriedOn(20, "too long")], ease=ease)
    assert 20 * long.gauge.stitch_mm >= long.hand.around_mm * (1 + ease) - 1e-6


def test_what_was_expected_too_long_and_was_does_not_become_shorter() -> None:
    """36 chains at 14 in 10 cm are 257 mm, far over a 190 mm hand: "too long" is no news of the gauge."""
    prior, hand = pattern_gauge(14, 9, 100), measured_hand(190)
    assert updated(prior, hand, [TriedOn(36, "too long")]).gauge.stitches == pytest.approx(14)
    assert updated(prior, hand, [TriedOn(18, "too short")]).gauge.stitches == pytest.approx(14)


def test_between_too_short_and_too_long_the_wanted_ring_lies() -> None:
    """28 chains too short and 30 too long on 190 mm: a ring of 180.5 mm has 28 to 30 chains, no more."""
    seen: list[Observation] = [TriedOn(28, "too short"), TriedOn(30, "too long")]
    for prior in (pattern_gauge(12, 9, 100), pattern_gauge(18, 9, 100)):
        known = updated(prior, measured_hand(190), seen)
        assert 28 - 1e-9 <= known.hand.around_mm * 0.95 / known.gauge.stitch_mm <= 30 + 1e-9
        assert updated(prior, measured_hand(190), seen[::-1]) == known


def test_two_try_ons_that_cannot_both_be_are_said() -> None:
    """On 273 mm: 42 chains were 38 mm too long (14.1 stitches in 10 cm), 36 were 120 mm too short (25.8)."""
    hand, sure = measured_hand(273), swatch(62, 400)
    long, short = TriedOn(42, "too long", 38), TriedOn(36, "too short", 120)
    says = at_odds(hand, [long, short], units="in")
    assert says.startswith(
        "42 chains were 1.5 in too long and 36 chains were 4.7 in too short: both cannot be"
    )
    assert recommend(FitRequest(FOURS, hand, sure, seen=(long, short))).because == at_odds(
        hand, [long, short]
    )
    assert at_odds(hand, [long, TriedOn(36, "too short", 12)]) == ""
    assert at_odds(hand, [long, TriedOn(39, "fits"), TriedOn(36, "too short")]) == ""
    assert "39 chains fit and 30 chains were 12 cm too long" in at_odds(
        hand, [TriedOn(39, "fits"), TriedOn(30, "too long", 120)]
    )


def test_a_gauge_is_said_in_her_units() -> None:
    """28 stitches in 184 mm are 15.46 in 4 in (101.6 mm)."""
    known = updated(any_gauge(), guessed_hand(), [MeasuredWidth(28, 92)], units="in")
    assert known.says == ("28 stitches lie 3.6 in wide: 15.5 stitches in 4 in.",)


def test_of_vague_try_ons_the_telling_ones_count() -> None:
    prior, hand = pattern_gauge(14, 9, 100), measured_hand(190)
    several = [TriedOn(n, "too long") for n in (36, 28, 32)]
    assert updated(prior, hand, several) == updated(prior, hand, [TriedOn(28, "too long")])


def test_order_does_not_matter_and_a_repetition_says_nothing_new() -> None:
    prior, hand = pattern_gauge(14, 9, 100), measured_hand(190)
    seen: list[Observation] = [TriedOn(32, "too long", 30), MeasuredWidth(28, 95), TriedOn(28, "fits")]
    one, other = updated(prior, hand, seen), updated(prior, hand, [*seen[::-1], seen[0]])
    assert one.gauge.stitches == pytest.approx(other.gauge.stitches)
    assert one.gauge.spread == pytest.approx(other.gauge.spread)


def test_nothing_seen_changes_nothing() -> None:
    known = updated(pattern_gauge(14, 9, 100), measured_hand(190), [])
    assert (known.gauge, known.hand, known.says) == (pattern_gauge(14, 9, 100), measured_hand(190), ())


@pytest.mark.parametrize(
    "seen", [TriedOn(0, "fits"), TriedOn(24, "too long", -1), MeasuredWidth(0, 90), MeasuredWidth(28, 0)]
)
def test_what_was_seen_is_above_nothing(seen: TriedOn | MeasuredWidth) -> None:
    with pytest.raises(ValueError):
        updated(any_gauge(), guessed_hand(), [seen])
