"""Will it last: verdicts, the rounds that save the pair, half a cake, a set from one cake."""

from __future__ import annotations

import math

import pytest

from server.craft.fabric import Numbers
from server.craft.measure.beliefs import Range
from server.craft.measure.calibrating import Calibration, Weighed, calibrated
from server.craft.measure.lasting import Lasting, YarnAtHand, shared_out, will_it_last
from server.craft.measure.needing import tails_m
from server.craft.measure.putup import PutUp
from server.craft.measure.splitting import split_cake
from server.craft.measure.yarnlength import piece_yarn, setting
from server.craft.measure.yarntable import yarn_category
from tests.craft.measure.mitts import quay, spots, tube

YARN = yarn_category(4)
BY = setting(5.5, YARN)
PATTERN, FABRIC = quay(24)
PIECE = piece_yarn(FABRIC, PATTERN.header, BY)
SPOTS = spots(FABRIC)
GLOVE_G = 23.0
SURE = calibrated(
    BY, put_up=PutUp(100, 170), category=YARN, facts=[Weighed(GLOVE_G, PIECE.metres + tails_m(PIECE))]
)
VAGUE = calibrated(BY, put_up=PutUp(100, 170), category=YARN)
CUFF, HAND = "0.3", "2.1"


def _lasts(left_g: float, one: int = 0, two: int = 0, calibration: Calibration = SURE) -> Lasting:
    """The adult's mitts with the first rounds of each glove standing."""
    worked = frozenset(SPOTS[:one]), frozenset(SPOTS[:two])
    return will_it_last(YarnAtHand(PATTERN, Numbers(24), BY, calibration, left_g, *worked))


def test_enough_says_how_much_is_over() -> None:
    """Glove one weighs 23 g, so the pair takes 46 g; 60 g at hand leave 14 g."""
    answer = _lasts(60)
    assert answer.verdict == "enough"
    assert answer.over_g == pytest.approx(14, abs=0.4)
    assert answer.says[0] == "Enough for both gloves: about 14 g over."


def test_after_glove_one_only_glove_two_is_to_come() -> None:
    answer = _lasts(30, one=len(SPOTS))
    assert answer.need_g.middle == pytest.approx(GLOVE_G, abs=0.2)
    assert answer.verdict == "enough"
    nothing = _lasts(0, one=len(SPOTS), two=len(SPOTS))
    assert nothing.need_g.middle == pytest.approx(0, abs=0.01)


def test_between_the_middle_and_the_upper_end_it_is_enough_if() -> None:
    need = _lasts(100, calibration=VAGUE).need_g
    between = (need.middle + need.high) / 2
    assert _lasts(between, calibration=VAGUE).verdict == "enough if"
    assert _lasts(need.high + 0.1, calibration=VAGUE).verdict == "enough"
    short = _lasts(need.middle - 2, calibration=VAGUE)
    assert short.verdict == "not enough"
    assert short.over_g == pytest.approx(-2)


def test_the_most_rounds_are_the_most() -> None:
    """One more round anywhere on both gloves, and the yarn is not surely enough any more."""
    for left in (30.0, 36.0, 41.0, 44.0, 60.0):
        most = _lasts(left).most
        assert most is not None
        assert most.need_g.high <= left
        rounds = {line.fit: line.rounds for line in most.lines}
        more = shared_out({line.fit: line.planned for line in most.lines}, sum(rounds.values()) + 1)
        numbers = Numbers(24, fits=tuple(sorted(more.items())))
        again = will_it_last(YarnAtHand(PATTERN, numbers, BY, SURE, left))
        assert again.need_g.high > left


def test_rounds_are_saved_in_proportion_and_taken_out_where_they_stand() -> None:
    """Cuff 4 and hand 3 rounds to fit. With glove one done and too little left, both lines give."""
    answer = _lasts(17, one=len(SPOTS))
    assert answer.verdict == "not enough"
    assert answer.most is not None
    lines = {line.fit: line for line in answer.most.lines}
    assert (lines[CUFF].planned, lines[HAND].planned) == (4, 3)
    assert lines[CUFF].rounds < 4 or lines[HAND].rounds < 3
    for line in lines.values():
        assert line.take_out_one == line.planned - line.rounds
        assert line.take_out_two == 0
    assert "in glove one" in " ".join(answer.says)
    assert dict(answer.most.numbers.fits) == {fit: line.rounds for fit, line in lines.items()}


def test_what_is_taken_out_comes_back() -> None:
    """The same cake, glove one done or not begun: the same rounds can be made of it."""
    for cake in (38.0, 41.0, 44.0):
        before, after = _lasts(cake).most, _lasts(cake - GLOVE_G, one=len(SPOTS)).most
        assert before is not None
        assert after is not None
        total = [sum(line.rounds for line in most.lines) for most in (before, after)]
        # The tails and the spread of what stands already make at most a round's difference.
        assert total[1] - total[0] in (0, 1)


def test_when_nothing_helps_it_says_so() -> None:
    answer = _lasts(5)
    assert answer.most is None
    assert "more yarn is needed" in " ".join(answer.says)


@pytest.mark.parametrize(
    ("planned", "total", "shares"),
    [
        ({"a": 6, "b": 3}, 9, {"a": 6, "b": 3}),
        ({"a": 6, "b": 3}, 6, {"a": 4, "b": 2}),
        ({"a": 6, "b": 3}, 7, {"a": 5, "b": 2}),
        ({"a": 6, "b": 3}, 2, {"a": 1, "b": 1}),
        ({"a": 6, "b": 3}, 0, {"a": 1, "b": 1}),
        ({"a": 4, "b": 4}, 10, {"a": 5, "b": 5}),
        ({}, 3, {}),
    ],
)
def test_shares_keep_the_proportions(planned: dict[str, int], total: int, shares: dict[str, int]) -> None:
    assert shared_out(planned, total) == shares


def test_glove_one_is_warned_before_it_eats_more_than_half() -> None:
    """A cake of 40 g and gloves of 23 g: half is passed within glove one; with 60 g it is not."""
    early = _lasts(40).half
    assert early is not None
    assert early.glove_g == pytest.approx(23, abs=0.3)
    assert "more than half" in early.says
    grams_per_m = SURE.belief.middle(1, 1)
    upto = SPOTS.index(early.spot)
    with_it = math.fsum(each.metres for each in PIECE.rounds[: upto + 1]) * grams_per_m
    assert with_it > 20 >= with_it - PIECE.rounds[upto].metres * grams_per_m
    assert early.ahead == upto + 1
    before = math.fsum(each.metres for each in PIECE.rounds[:upto]) * grams_per_m
    late = _lasts(40 - before, one=upto).half
    assert late is not None
    assert late.spot == early.spot
    assert "Stop and weigh" in late.says
    assert _lasts(60).half is None


def test_no_yarn_at_all_has_no_half() -> None:
    """It was "23 g of 0 g, more than half"."""
    answer = _lasts(0)
    assert answer.verdict == "not enough"
    assert answer.half is None


def test_a_single_piece_has_no_half() -> None:
    pattern, _ = tube("dc", 60, 12)
    answer = will_it_last(YarnAtHand(pattern, Numbers(60, "one"), BY, VAGUE, 80, pieces=1))
    assert answer.half is None
    assert "the piece" in answer.says[0]


@pytest.mark.parametrize("left", [-1, math.inf, math.nan])
def test_a_weight_is_not_below_nothing(left: float) -> None:
    with pytest.raises(ValueError, match="0 g or more"):
        _lasts(left)


def test_a_set_from_one_cake() -> None:
    parts = [("Hat", Range(40, 48, 58)), ("Mitts", Range(30, 36, 44))]
    plenty = split_cake(parts, 120)
    assert plenty.enough
    assert [share.set_aside_g for share in plenty.shares] == [58, 44]
    assert "18 g stay over" in plenty.says[-1]
    tight = split_cake(parts, 93)  # middles 84, room 18: half of each one's room
    assert [share.set_aside_g for share in tight.shares] == [53, 40]
    assert not tight.enough
    short = split_cake(parts, 63)
    assert [share.set_aside_g for share in short.shares] == [36, 27]
    assert "21 g short" in short.says[-1]
    with pytest.raises(ValueError, match="at least one part"):
        split_cake([], 60)


def test_a_cake_for_one_part_names_no_other_and_little_is_said_in_tenths() -> None:
    """1 g for a part of about 38 g."""
    one = split_cake([("Mitts", Range(30, 38, 47))], 1)
    assert one.says == (
        "Mitts: set 1 g aside (takes about 38 g).",
        "Not enough: 37 g short. Fewer rounds or a smaller size may do.",
    )
    two = split_cake([("Mitts", Range(30, 38, 47)), ("Cowl", Range(50, 60, 72))], 1)
    assert [share.says for share in two.shares] == [
        "Mitts: set 0.4 g aside (takes about 38 g).",
        "Cowl: set 0.6 g aside (takes about 60 g).",
    ]
    assert split_cake([("Mitts", Range(30, 38, 47))], 60).says[-1] == "Enough: 13 g stay over even so."


def test_what_there_is_not_is_not_named() -> None:
    """Ours to say: 15 g for a pair of 46 g; a glove of 23 g is more than there is, not "more than half"."""
    short = _lasts(15)
    assert "It is not surely enough for even one round in each line to fit" in " ".join(short.says)
    assert short.half is not None
    assert short.half.says.startswith(
        "Glove one would take 23 g of 15 g, more than there is. Half is gone at "
    )
    plenty = _lasts(5000)
    assert plenty.says[1] == "There is yarn for 40 more rounds and over in each glove."


def test_socks_are_no_gloves_and_a_hat_is_one() -> None:
    worked = frozenset(SPOTS), frozenset[str]()
    socks = YarnAtHand(PATTERN, Numbers(24), BY, SURE, 21, *worked, noun="sock")
    assert "both socks still take" in will_it_last(socks).says[0]
    assert "glove" not in " ".join(will_it_last(socks).says)
    hat = will_it_last(YarnAtHand(PATTERN, Numbers(24), BY, SURE, 5, frozenset(SPOTS[:5]), pieces=1))
    assert "glove" not in " ".join(hat.says)


def test_a_pair_that_is_made_needs_nothing_more() -> None:
    done = _lasts(28, one=len(SPOTS), two=len(SPOTS))
    assert done.says == ("Both gloves are made: 28 g are over.",)
