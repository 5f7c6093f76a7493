"""Her own facts: what each says, which says most, and that it narrows the range."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from server.craft.measure.beliefs import NINE_IN_TEN
from server.craft.measure.calibrating import (
    SCALE_G,
    SWATCH,
    WHOLE_PIECE,
    Calibration,
    CountedLength,
    Fact,
    SwatchUsed,
    Weighed,
    calibrated,
)
from server.craft.measure.needing import tails_m, yarn_need
from server.craft.measure.putup import LABEL_SPREAD, PutUp
from server.craft.measure.yarnlength import piece_yarn, prior_spread, setting, stitch_mm
from server.craft.measure.yarntable import yarn_category
from tests.craft.measure.mitts import quay

YARN = yarn_category(4)
BY = setting(5.5, YARN)
LABEL = PutUp(100, 170)


def _with(*facts: Fact, put_up: PutUp | None = LABEL) -> Calibration:
    return calibrated(BY, put_up=put_up, category=YARN, facts=facts)


def test_without_facts_it_is_the_model_and_the_label() -> None:
    none = _with()
    assert none.best is None
    assert none.metres(10).middle == pytest.approx(10)
    assert none.grams(10).middle == pytest.approx(10 / 1.7)
    assert none.belief.spread(1, 0) == pytest.approx(prior_spread(0))
    assert none.belief.spread(0, 1) == pytest.approx(LABEL_SPREAD)
    assert "Weigh a swatch" in none.says[-1]


def test_without_a_label_the_category_says_it_and_is_wide() -> None:
    """Medium yarn: 120 to 240 m in 100 g (Wikipedia, yarn weight)."""
    none = _with(put_up=None)
    assert none.grams(180).middle == pytest.approx(100)
    assert none.belief.spread(0, 1) == pytest.approx(120 / math.sqrt(12) / 180)


def test_a_glove_weighed_is_the_weight_of_the_next() -> None:
    """The model says 40 m, 23.5 g; it weighs 30 g: the next one will too, within the scale and 1 %."""
    weighed = _with(Weighed(30, 40))
    grams = weighed.grams(40)
    assert weighed.best == "glove"
    assert grams.middle == pytest.approx(30, rel=0.01)
    spread = math.hypot(SCALE_G / 30, WHOLE_PIECE)
    assert grams.factor == pytest.approx(math.exp(2 * NINE_IN_TEN * spread), rel=0.01)
    # A metre's weight is nearly as unsure as before, so the metres are what moved, and less sure than grams.
    assert weighed.metres(40).middle == pytest.approx(40 * 30 / 23.53, rel=0.03)
    assert weighed.metres(40).factor > grams.factor


def test_a_swatch_unravelled_tells_the_length() -> None:
    model = 100 * stitch_mm("dc") * BY.scale / 1000
    seen = _with(SwatchUsed("dc", 100, metres=model * 1.2))
    assert seen.best == "swatch unravelled"
    assert 1.12 < seen.metres(1).middle < 1.2
    # Each counts by one over its spread squared.
    both = 1 / prior_spread(0) ** 2 + 1 / SWATCH**2
    assert seen.belief.spread(1, 0) == pytest.approx(1 / math.sqrt(both))


def test_counted_stitches_tell_a_little() -> None:
    seen = _with(CountedLength("sc", 20, 20 * stitch_mm("sc") * BY.scale * 0.9))
    assert seen.best == "stitches"
    assert 0.9 < seen.metres(1).middle < 1
    assert seen.says[-1].startswith("20 single crochet took")


def test_facts_rank_as_they_are_said_to() -> None:
    """A glove, a part of it, a swatch weighed, stitches counted: each leaves a narrower weight than the
    next.
    """
    model = 160 * stitch_mm("dc") * BY.scale / 1000
    grams = model / 1.7
    ranked = [
        _with(Weighed(40 / 1.7, 40)),
        _with(Weighed(20 / 1.7, 20, share=0.5)),
        _with(SwatchUsed("dc", 160, grams=grams)),
        _with(CountedLength("dc", 20, 20 * stitch_mm("dc") * BY.scale)),
        _with(),
    ]
    factors = [one.grams(1).factor for one in ranked]
    assert factors == sorted(factors)
    assert all(later / earlier > 1.01 for earlier, later in pairwise(factors))
    assert [one.best for one in ranked] == ["glove", "part", "swatch weighed", "stitches", None]


def test_of_one_glove_the_best_weighing_counts() -> None:
    part, whole = Weighed(12, 20, share=0.5), Weighed(25, 40)
    assert _with(part, whole).belief == _with(whole).belief
    other = Weighed(25, 40, piece=2)
    assert _with(whole, other).belief.spread(1, 1) < _with(whole).belief.spread(1, 1)


def test_the_order_of_facts_says_nothing() -> None:
    facts: list[Fact] = [Weighed(25, 40), SwatchUsed("dc", 100, metres=18), CountedLength("sc", 20, 1700)]
    one, other = _with(*facts), _with(*facts[::-1])
    assert one.belief.first == pytest.approx(other.belief.first)
    assert one.belief.var_first == pytest.approx(other.belief.var_first)


def test_a_glove_weighed_narrows_the_pair_visibly() -> None:
    pattern, fabric = quay(24)
    piece = piece_yarn(fabric, pattern.header, BY)
    before = yarn_need(piece, _with(), BY, put_up=LABEL)
    after = yarn_need(piece, _with(Weighed(23, piece.metres + tails_m(piece))), BY, put_up=LABEL)
    assert after.grams.middle == pytest.approx(46, abs=0.5)
    assert after.grams.factor < 1 + (before.grams.factor - 1) / 5
    assert after.metres.factor < before.metres.factor


@pytest.mark.parametrize(
    "fact",
    [
        Weighed(0, 40), Weighed(20, 0), Weighed(-1, 4), SwatchUsed("dc", 0, grams=4), SwatchUsed("dc", 10),
        SwatchUsed("dc", 10, grams=0), CountedLength("sc", 20, 0), CountedLength("sc", 0, 100),
    ],
)  # fmt: skip
def test_a_fact_without_a_measure_is_not_taken(fact: Fact) -> None:
    with pytest.raises(ValueError):
        _with(fact)


def test_a_label_is_said_in_her_units() -> None:
    """125 m are 136.7 yd (0.9144 m each, by definition); 4 medium has 120 to 240 m in 100 g."""
    label = calibrated(setting(5, yarn_category(4)), put_up=PutUp(50, 125), units="in")
    assert label.says[0] == "By the label 50 g are 136.7 yd."
    guess = calibrated(setting(5, yarn_category(4)), category=yarn_category(4), units="in")
    assert guess.says[0].startswith("4 medium yarn has 131 to 263 yd in 100 g")


def test_what_was_weighed_is_called_by_its_name() -> None:
    by = setting(5, yarn_category(4))
    assert "or sock one, to be surer" in calibrated(by, noun="sock").says[-1]
    assert "or the piece on its way, to be surer" in calibrated(by, noun="piece").says[-1]
    assert calibrated(by, facts=[Weighed(40, 60)], noun="sock").says[-1] == "Sock one weighs 40 g."
    assert calibrated(by, facts=[Weighed(20, 30, 0.5)], noun="piece").says[-1] == (
        "50 % of the piece weighs 20 g."
    )
