"""The recommendation: chains for a hand, its neighbours, the rounds, and how sure."""

from __future__ import annotations

import pytest

from server.craft.measure.counts import AllowedCounts
from server.craft.measure.feel import feel_of, feel_words
from server.craft.measure.fitting import FitRequest, choice, recommend
from server.craft.measure.gauge import any_gauge, pattern_gauge, swatch
from server.craft.measure.hands import guessed_hand, measured_hand
from server.craft.measure.namedsizes import size_for
from server.craft.measure.roundone import after_round_one, next_hook_mm
from server.craft.measure.updating import EASE, MeasuredWidth
from server.craft.measure.yarntable import yarn_category
from server.craft.text.reader import read

FOURS = AllowedCounts((24, 28, 32), 4)

# Published patterns against their own gauge: (stitches, stitches per inch, inches around as stated, source)
STATED = [
    (40, 5.5, 7.0, "kniterdone 2008-11 (flat 3.5)"),
    (36, 5.5, 6.5, "kniterdone 2008-11"),
    (32, 5.5, 6.0, "kniterdone 2008-11"),
    (28, 3.5, 8.0, "suzies-yarnie-stuff 2009-10"),
    (30, 3.5, 8.57, "suzies-yarnie-stuff 2009-10"),
    (22, 4.0, 5.5, "suzies-yarnie-stuff 2013-10: 8 sc = 2 in; stitches derived"),
]


@pytest.mark.parametrize(("stitches", "per_in", "around_in", "source"), STATED)
def test_published_mitts_are_as_wide_as_their_count_says(
    stitches: int, per_in: float, around_in: float, source: str
) -> None:
    """The count rule, with the 4 % that published patterns are off their own gauge."""
    gauge = swatch(per_in, 25.4)
    hand = measured_hand(around_in * 25.4)
    answer = recommend(FitRequest(AllowedCounts((stitches,)), hand, gauge))
    assert answer.recommended.around_mm / 25.4 == pytest.approx(stitches / per_in)
    assert answer.recommended.around_mm / 25.4 == pytest.approx(around_in, rel=0.04), source


@pytest.mark.parametrize(("stitches", "hand_in", "ease"), [(28, 8.5, -0.059), (30, 9.5, -0.098)])
def test_published_mitts_have_the_ease_that_counts_as_right(
    stitches: int, hand_in: float, ease: float
) -> None:
    """suzies-yarnie-stuff 2009-10: 28 sts at 3.5 / in for an 8.5 in hand, 30 for 9.5 in."""
    counts = AllowedCounts((28, 30), 2)
    answer = recommend(FitRequest(counts, measured_hand(hand_in * 25.4), swatch(3.5, 25.4), ease=ease))
    assert answer.recommended.foundation == stitches
    assert answer.recommended.ease == pytest.approx(ease, abs=0.0006)
    assert answer.recommended.feel == "right"


def test_the_trade_s_chains_are_what_comes_out() -> None:
    """Common practice, no source: medium yarn, 5.5 mm hook, 24 chains for an adult; 21 with 4 to 4.25 mm
    for a child. Without a gauge, from the category's range alone; within one repeat: it is wide.
    """
    threes = AllowedCounts((), 3)
    for hand, hook_mm, chains in (
        (guessed_hand("women"), 5.5, 24),
        (measured_hand(156, "child", 8), 4.25, 21),
    ):
        answer = recommend(FitRequest(threes, hand, any_gauge(hook_mm=hook_mm, category=yarn_category(4))))
        assert abs(answer.recommended.foundation - chains) <= 3


def test_a_recommendation_worked_by_hand() -> None:
    """190 mm less 5 % is 180.5 mm; at 14 in 10 cm that is 25.27 chains; of 24 and 28, 24 is nearer.
    24 chains are 171.4 mm: 18.6 mm less, −9.8 %. 28 are 200 mm, +5.3 %; 20 are 142.9 mm, −24.8 %.
    """
    hand = measured_hand(190, "women").with_lengths(wrist_mm=None, wrist_to_thumb_mm=60, wrist_to_end_mm=120)
    answer = recommend(FitRequest(FOURS, hand, pattern_gauge(14, 9, 100, 5), below_wrist_mm=20))
    best = answer.recommended
    assert best.foundation == 24
    assert best.around_mm == pytest.approx(171.43, abs=0.01)
    assert best.ease_mm == pytest.approx(-18.57, abs=0.01)
    assert best.ease == pytest.approx(-0.0977, abs=0.0001)
    assert answer.down is not None
    assert (answer.down.foundation, answer.down.feel) == (20, "snug")
    assert answer.up is not None
    assert (answer.up.foundation, answer.up.feel) == (28, "loose")
    # 8 cm at 9 in 10 cm are 7.2 rounds, 14 cm 12.6.
    assert [each.rounds for each in answer.rounds] == [7, 13]
    assert all(each.fewest <= each.rounds <= each.most and "or to fit" in each.says for each in answer.rounds)
    assert answer.says[0] == "Chain 24 (a multiple of 4)."


def test_a_surer_gauge_is_surer() -> None:
    hand = measured_hand(180, "women")  # 24 chains at 14 are 171.4 mm: −4.8 %
    chances = [
        recommend(FitRequest(FOURS, hand, gauge)).recommended.chance_right
        for gauge in (any_gauge(), pattern_gauge(14, 9, 100), swatch(28, 200))
    ]
    assert chances == sorted(chances)
    assert recommend(FitRequest(FOURS, hand, swatch(28, 200))).sure == "quite sure"
    assert recommend(FitRequest(FOURS, guessed_hand(), any_gauge())).sure == "a guess"


def test_nothing_filled_in_still_gives_an_allowed_count() -> None:
    answer = recommend(FitRequest(FOURS, guessed_hand(), any_gauge()))
    assert FOURS.allows(answer.recommended.foundation)
    assert answer.rounds == ()
    assert any("guess" in each.lower() for each in answer.says)


@pytest.mark.parametrize(
    ("ease", "feel"), [(-0.2, "snug"), (-0.1, "right"), (EASE, "right"), (0.0, "right"), (0.01, "loose")]
)
def test_what_an_ease_feels_like(ease: float, feel: str) -> None:
    assert feel_of(ease) == feel


def test_an_ease_beyond_reason_is_not_taken() -> None:
    with pytest.raises(ValueError, match="−50"):
        recommend(FitRequest(FOURS, guessed_hand(), any_gauge(), ease=-0.6))


def test_her_own_ease_is_kept() -> None:
    tight = recommend(FitRequest(FOURS, measured_hand(190), swatch(14, 100), ease=-0.2))
    assert tight.recommended.foundation == 20
    assert any("−20 %" in each for each in tight.says)


def test_the_counts_of_a_pattern() -> None:
    def counts(lines: str) -> AllowedCounts | None:
        return AllowedCounts.of(read(f"Title: A\n{lines}\n\n# A\nRnd 1: Ch 3.\n").pattern.header)

    plus = counts("Sizes: a (b)\nFoundation: 26 (32), multiple of 6 + 2")
    assert plus is not None
    assert [plus.allows(n) for n in (14, 20, 26, 27, 30, 32, 38)] == [
        False,
        True,
        True,
        False,
        False,
        True,
        True,
    ]
    assert (plus.below(32), plus.above(32), plus.nearest(29), plus.nearest(28.9)) == (26, 38, 32, 26)
    assert plus.words() == "a multiple of 6 plus 2"
    only = counts("Sizes: a (b)\nFoundation: 24 (28)")
    assert only is not None
    assert (only.nearest(100), only.above(28), only.below(24)) == (28, None, None)
    ranged = counts("Sizes: a (b)\nFoundation: 24 (28), multiple of 4\nCustom: 16 to 36")
    assert ranged is not None
    assert (ranged.below(16), ranged.above(16), ranged.above(36), ranged.nearest(90)) == (None, 20, None, 36)
    none = counts("Sizes: a (b)\nFoundation: 24 (28), multiple of 4\nCustom: none")
    assert none is not None
    assert not none.allows(32)
    assert counts("Sizes: a (b)\nFoundation: none") is None


def test_a_piece_from_a_ring_goes_by_what_its_sizes_fit() -> None:
    size = size_for(("small", "large"), (16, 19), measured_hand(182))
    assert size is not None
    assert size.name == "large"
    assert size.off_mm == 8
    tie = size_for(("small", "large"), (16, 19), measured_hand(175))
    assert tie is not None
    assert tie.name == "large"  # "go up a size if unsure" (kniterdone)
    assert size_for(("small", "large"), (), measured_hand(175)) is None


def test_after_round_one_the_nearer_mend_is_advised() -> None:
    """28 chains on a 190 mm hand. A little: a twelfth (15.8 mm) of the hand. The hook moves all by
    (4.5 + 2.42) / (5 + 2.42) = −6.7 %, a repeat by 24 / 28 = −14.3 %.
    """
    little = after_round_one(FOURS, 28, 190, "too loose", hook_mm=5, thickness_mm=2.42)
    assert little.advice is not None
    assert (little.advice.kind, little.advice.hook_mm) == ("hook", 4.5)
    assert little.advice.ease == pytest.approx((180.5 + 190 / 12) * 6.92 / 7.42 / 190 - 1)
    assert "Why not the other: one repeat out (24 chains)" in little.says
    much = after_round_one(FOURS, 28, 190, "too loose", by_mm=30, hook_mm=5)
    assert much.advice is not None
    assert (much.advice.kind, much.advice.foundation) == ("repeat", 24)
    tight = after_round_one(FOURS, 28, 190, "too tight", by_mm=28, hook_mm=5)
    assert tight.advice is not None
    assert (tight.advice.kind, tight.advice.foundation) == ("repeat", 32)
    assert after_round_one(FOURS, 28, 190, "right").advice is None
    without = after_round_one(FOURS, 28, 190, "too tight")
    assert without.advice is not None
    assert without.advice.kind == "repeat"


def test_an_ease_of_next_to_nothing_is_the_hand_s_own_measure() -> None:
    """28 chains of 14.7 in 4 in are 193.5 mm: on 194 mm half a millimetre less, 0 in to a twentieth."""
    known = recommend(FitRequest(FOURS, measured_hand(194), swatch(14.7, 101.6))).known
    says = choice(28, known, "in").says
    assert says.startswith("7.6 in around, the hand's own measure (0 %): right")


def test_where_the_counts_of_the_pattern_end_it_says_so() -> None:
    """24 to 32 chains at 14 in 10 cm are 171 to 229 mm: nothing for a hand of 280 mm, or of 130 mm."""
    sizes = AllowedCounts((24, 28, 32))
    most = recommend(FitRequest(sizes, measured_hand(280), swatch(14, 100)))
    assert most.because.startswith("32 chains are the most that this pattern works: a larger hook")
    fewest = recommend(FitRequest(sizes, measured_hand(130), swatch(14, 100)))
    assert fewest.because.startswith("24 chains are the fewest that this pattern works: a smaller hook")
    assert fewest.because in fewest.says
    assert recommend(FitRequest(sizes, measured_hand(200), swatch(14, 100))).because == ""


def test_a_chance_is_never_none_and_never_all() -> None:
    sizes = AllowedCounts((24,))
    never = recommend(FitRequest(sizes, measured_hand(280), swatch(14, 100)))
    assert "A guess: hardly 1 in 100" in never.says[2]
    seen = tuple(MeasuredWidth(40, width_mm) for width_mm in (130.5, 131, 131.5))
    ever = recommend(FitRequest(FOURS, measured_hand(276), swatch(305, 2000), seen=seen))
    assert ever.recommended.chance_right > 0.995
    assert "Quite sure: 99 in 100" in ever.says[2]


def test_after_round_one_it_says_how_many_repeats() -> None:
    """28 chains, 12 cm too loose on 190 mm: 300.5 mm, and 180.5 mm are wanted: 28 · 180.5 / 300.5 = 16.8
    chains, three repeats of 4 out. 6 cm too tight: 120.5 mm, 41.9 chains, three or four in (40 lies nearer).
    """
    loose = after_round_one(FOURS, 28, 190, "too loose", by_mm=120, hook_mm=5)
    assert loose.advice is not None
    assert (loose.advice.kind, loose.advice.foundation) == ("repeat", 16)
    assert loose.says.startswith("Round one is 12 cm too loose. 3 repeats out (16 chains) change it by −43 %")
    tight = after_round_one(FOURS, 28, 190, "too tight", by_mm=60, hook_mm=5)
    assert tight.advice is not None
    assert (tight.advice.kind, tight.advice.foundation) == ("repeat", 40)
    assert "3 repeats in (40 chains) change it" in tight.says


@pytest.mark.parametrize(
    ("felt", "by_mm", "says"),
    [
        ("too tight", 150, "15 cm too tight would leave only 3 cm around, for a hand of 19 cm."),
        ("too tight", 400, "40 cm too tight would leave no way around at all, for a hand of 19 cm."),
        ("too loose", 400, "40 cm too loose would leave 58 cm around, for a hand of 19 cm."),
    ],
)
def test_after_round_one_a_difference_past_reason_is_measured_again(
    felt: str, by_mm: float, says: str
) -> None:
    after = after_round_one(FOURS, 28, 190, felt, by_mm=by_mm, hook_mm=5)  # type: ignore[arg-type]
    assert (after.advice, after.other, after.goes_on) == (None, None, False)
    assert after.says.startswith(says)
    assert "measure" in after.says
    assert after_round_one(FOURS, 28, 190, "right").goes_on


def test_where_there_is_no_repeat_chains_are_counted() -> None:
    sizes = AllowedCounts((24, 29, 30))
    loose = after_round_one(sizes, 29, 190, "too loose", by_mm=30)
    assert "5 chains fewer (24 chains) change it" in loose.says
    assert "1 chain more (30 chains) changes it" in after_round_one(sizes, 29, 190, "too tight").says


def test_the_next_hook_is_one_that_is_felt() -> None:
    assert next_hook_mm(4.0, smaller=False) == 4.5  # not 4.25
    assert next_hook_mm(4.0, smaller=True) == 3.5
    assert next_hook_mm(2.0, smaller=True) is None
    assert next_hook_mm(None, smaller=True) is None


@pytest.mark.parametrize(
    ("ease", "feel"), [(0.004, "right"), (-0.104, "right"), (0.006, "loose"), (-0.106, "snug")]
)
def test_what_is_shown_as_0_or_10_per_cent_feels_right(ease: float, feel: str) -> None:
    """Beside "(0 %)" stood "a little loose"."""
    assert feel_of(ease) == feel
    assert feel in feel_words(ease)
