"""Yarn in the notebook: every fact makes it surer, what is left goes down with each round, and back."""

from __future__ import annotations

from itertools import pairwise

import pytest
from sqlmodel import Session

from server.craft.measure.quantities import yarn_text
from server.services.errors import Refusal
from server.services.notebooks import measuring
from server.services.notebooks.measuring import YarnCard, yarn_card, yarn_line
from server.services.notebooks.measuring.facts import told
from server.services.notebooks.measuring.reckoning import reckoned
from server.storage.tables import Notebook, Part
from tests.services.story import CROWN, SLIPWAY, Maker, make_along, publish


@pytest.fixture
def ida(session: Session) -> Maker:
    return Maker(session, make_along(session)[1])


@pytest.fixture
def at_work(ida: Maker) -> Maker:
    """28 chains, nothing worked yet."""
    ida.settle(28, "medium")
    ida.send("hook", 1, hook_mm=5, spot=None)
    return ida


def card(maker: Maker) -> YarnCard:
    return yarn_card(maker.desk)


def words(maker: Maker, piece: int = 1) -> str:
    return yarn_line(maker.desk, piece).words


def test_without_anything_there_is_an_answer(ida: Maker) -> None:
    found = card(ida)
    assert found.lasting is None
    assert found.weigh == ()
    assert "not settled yet" in found.numbers
    assert found.need.pieces == 2
    assert found.need.metres.low < found.need.metres.middle < found.need.metres.high
    assert yarn_line(ida.desk, 1).words == ""


def test_each_fact_makes_it_surer(at_work: Maker) -> None:
    """A counted length, a swatch, part of a glove, the whole of it: the range only gets narrower."""
    factors = [card(at_work).need.grams.factor]
    at_work.send("sampled", 0, what="counted", stitch="dc", count=20, metres=0.9)
    factors.append(card(at_work).need.grams.factor)
    at_work.send("sampled", 0, what="weighed", stitch="dc", count=60, grams=2)
    factors.append(card(at_work).need.grams.factor)
    at_work.work(1, 4)
    at_work.send("weighed", 1, grams=9, spot=at_work.desk.making.pieces[1].worked[-1])
    factors.append(card(at_work).need.grams.factor)
    assert factors == sorted(factors, reverse=True)
    assert factors[-1] < factors[0] * 0.85
    assert card(at_work).sure in ("likely", "quite sure")


def test_glove_one_weighed_is_what_the_pair_takes_twice(at_work: Maker) -> None:
    """The scale shows whole grams and the model has a word in it too: to a gram."""
    at_work.make(1, 4, 4)
    at_work.send("weighed", 1, grams=25, spot=at_work.desk.making.pieces[1].worked[-1])
    found = card(at_work)
    assert found.need.calibration.best == "glove"
    assert found.need.grams.middle == pytest.approx(50, abs=1)
    assert found.sure == "quite sure"
    at_work.send("left", 0, grams=27)
    lasting = card(at_work).lasting
    assert lasting is not None
    assert lasting.verdict == "enough"
    assert lasting.need_g.middle == pytest.approx(25, abs=0.5)


def test_what_is_left_goes_down_with_each_round_and_up_when_it_is_taken_out(at_work: Maker) -> None:
    at_work.send("left", 0, grams=100)
    seen = [card(at_work).left_g]
    for _ in range(3):
        at_work.work(1)
        seen.append(card(at_work).left_g)
    assert seen[0] == 100
    assert all(a is not None and b is not None and a > b for a, b in pairwise(seen))
    at_work.send("taken_out", 1, spot=at_work.desk.making.pieces[1].worked[-1])
    assert card(at_work).left_g == pytest.approx(seen[2])
    # Weighed again: what the scale says goes before what was worked out.
    at_work.send("left", 0, grams=80)
    assert card(at_work).left_g == 80


def test_short_of_yarn_it_says_the_most_equal_rounds_and_where_to_take_out(at_work: Maker) -> None:
    at_work.make(1, 6, 6)
    at_work.send("weighed", 1, grams=30, spot=at_work.desk.making.pieces[1].worked[-1])
    at_work.send("left", 0, grams=22)
    lasting = card(at_work).lasting
    assert lasting is not None
    assert lasting.verdict == "not enough"
    assert lasting.most is not None
    assert sum(line.rounds for line in lasting.most.lines) < 12
    assert any("in glove one" in each and each.startswith("Take out") for each in lasting.says)
    line = yarn_line(at_work.desk, 1)
    assert line.care
    assert "Not enough" in line.words


def test_the_line_names_its_round_and_warns_before_half(at_work: Maker) -> None:
    """Two gloves of about 29 g, 50 g in all: glove one passes 25 g before its end, and is told in time."""
    at_work.send("left", 0, grams=50)
    warned = []
    while at_work.desk.place(1).kind in ("round", "end fit"):
        if at_work.desk.place(1).can_end and at_work.desk.place(1).in_fit == 4:
            at_work.end_fit(1)
            continue
        at_work.work(1)
        line = yarn_line(at_work.desk, 1)
        assert line.words.startswith("After ")
        if "passes half" in line.words:
            warned.append(line.words)
            assert line.care
    assert len(warned) == 2, "two rounds ahead, and one"
    assert "2 rounds from here: stop and weigh" in warned[0]
    assert "the next round: stop and weigh" in warned[1]


def test_the_line_without_a_scale_says_that_it_guesses(at_work: Maker) -> None:
    assert words(at_work).startswith("Before the first round: about ")
    assert words(at_work).endswith("of yarn still needed for both, a guess.")
    at_work.make(1, 4, 4)
    at_work.send("weighed", 1, grams=25, spot=at_work.desk.making.pieces[1].worked[-1])
    assert words(at_work, 2).endswith("as weighed.")
    at_work.make(2, 4, 4)
    assert words(at_work, 2) == ""


def test_the_line_before_the_first_round_says_what_the_yarn_page_says(at_work: Maker) -> None:
    """Ends and joins between balls are in both."""
    at_work.send("yarn", 0, category=4, grams=50, metres=20)
    middle = card(at_work).need.metres.middle
    assert words(at_work).startswith(f"Before the first round: about {yarn_text(middle, 'cm')} of yarn")
    at_work.work(1, 1)
    assert words(at_work).startswith("After ")
    assert f"about {yarn_text(middle, 'cm')}" not in words(at_work)


def test_units_change_words_and_no_figure(at_work: Maker) -> None:
    at_work.send("left", 0, grams=60)
    before = card(at_work)
    notebook = at_work.session.get(Notebook, at_work.notebook_id)
    assert notebook is not None
    notebook.units = "in"
    at_work.session.flush()
    after = card(at_work)
    assert (before.need.metres, before.need.grams) == (after.need.metres, after.need.grams)
    assert before.lasting is not None
    assert after.lasting is not None
    assert before.lasting.need_g == after.lasting.need_g
    assert after.need.says[0].startswith("The pair takes about")
    assert " yd (" in after.need.says[0]


def test_her_own_yarn_goes_before_the_patterns(at_work: Maker) -> None:
    before = card(at_work).need
    at_work.send("yarn", 0, category=4, grams=50, metres=75)
    after = card(at_work).need
    assert after.metres.middle == pytest.approx(before.metres.middle, rel=0.01)
    assert after.grams.middle > before.grams.middle
    assert after.balls is not None
    assert after.balls.surely >= 2
    # Only a category: the pattern's label is another yarn's.
    at_work.send("yarn", 0, category=1)
    assert card(at_work).need.balls is None


def test_another_yarn_changes_hook_chains_and_metres(at_work: Maker) -> None:
    finer = measuring.instead(at_work.session, at_work.desk, 1, None)
    assert finer.change.hook_mm < 5
    assert finer.change.fit.recommended.foundation > 28
    assert finer.says[0].startswith("Begin with ")
    assert any("in the Cuff" in each and "or to fit" in each for each in finer.says)


def test_from_a_ring_no_chains_change(session: Session) -> None:
    hat = Maker(session, make_along(session, CROWN)[1])
    assert card(hat).need.pieces == 1
    with pytest.raises(Refusal) as refused:
        measuring.instead(session, hat.desk, 1, None)
    assert "begins in a ring" in refused.value.message


def test_a_cake_is_split_over_the_parts_of_the_along(session: Session) -> None:
    along_id, part_id = make_along(session)
    second = Part(along_id=along_id, position=2, title="Second Wristers")
    session.add(second)
    session.flush()
    assert second.id is not None
    publish(session, second.id, SLIPWAY)
    ida = Maker(session, part_id)
    parts = measuring.cake_parts(session, ida.notebook_id)
    assert [each.title for each in parts] == ["Slipway Wristers", "Second Wristers"]
    split = measuring.split(session, ida.notebook_id, [each.part_id for each in parts], 100)
    assert [share.name for share in split.shares] == ["Slipway Wristers", "Second Wristers"]
    assert sum(share.set_aside_g for share in split.shares) == pytest.approx(100, abs=0.5)
    with pytest.raises(Refusal):
        measuring.split(session, ida.notebook_id, [], 100)


def test_more_rounds_never_take_less(at_work: Maker) -> None:
    needs = []
    for _ in range(9):
        at_work.work(1)
        needs.append(reckoned(at_work.desk, told(at_work.desk)).piece.metres)
    assert needs == sorted(needs)
