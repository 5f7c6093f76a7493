"""Fit in the notebook: what she tells is kept, holds or adds up, and the recommendation follows."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from sqlmodel import Session

from server.craft.fabric import Numbers
from server.craft.making import plan
from server.craft.making.standing import is_foundation
from server.craft.text.reader import read
from server.services.errors import Refusal
from server.services.notebooks import NewEntry, measuring
from server.services.notebooks.measuring import FitCard, fit_card
from server.services.notebooks.measuring.facts import goes_all_around
from server.services.notebooks.measuring.typed import grams, length_mm, metres, shown_length
from server.storage.tables import Part
from tests.services.story import CROWN, SLIPWAY, Maker, make_along, publish

CASES = Path(__file__).parents[1] / "cases" / "proved"
HAND: dict[str, Any] = {"known": "measured", "around_mm": 200}
SWATCH: dict[str, Any] = {
    "source": "swatch",
    "stitches": 28,
    "over_mm": 200,
    "rounds": 18,
    "rounds_over_mm": 200,
}


@pytest.fixture
def ida(session: Session) -> Maker:
    return Maker(session, make_along(session)[1])


def card(maker: Maker) -> FitCard:
    return fit_card(maker.session, maker.desk)


def chains(maker: Maker) -> int:
    answer = card(maker).answer
    assert answer is not None
    return answer.recommended.foundation


def test_without_anything_there_is_an_answer_that_says_it_is_a_guess(ida: Maker) -> None:
    found = card(ida)
    assert found.answer is not None
    assert found.guessed_hand
    assert found.guessed_gauge
    assert "guess" in found.hand
    assert "ANSUR II" in found.hand
    assert found.answer.recommended.foundation % 4 == 0
    assert found.answer.sure != "quite sure"
    assert found.taken_back is None


def test_hand_and_swatch_make_the_count(ida: Maker) -> None:
    """200 mm around, 5 % less is 190; 14 stitches in 100 mm: 26.6 chains, and 28 is the nearest multiple of
    4: 200 mm, the hand's own measure.
    """
    ida.send("hand", 0, **HAND)
    ida.send("gauge", 0, **SWATCH)
    found = card(ida)
    assert found.answer is not None
    best = found.answer.recommended
    assert (best.foundation, round(best.around_mm), round(best.ease_mm)) == (28, 200, 0)
    assert [row.choice.foundation for row in found.rows] == [24, 28, 32]
    assert [row.choice.feel for row in found.rows] == ["snug", "right", "loose"]
    assert [row.way for row in found.rows] == ["down", "here", "up"]


def test_the_ease_that_she_asks_for_is_gone_by_and_can_be_taken_back(ida: Maker) -> None:
    """200 mm at 14 in 10 cm: 28 chains are the hand's own measure, 24 are 171 mm, 14 % less. 10 % less would
    be 25.2 chains: 24 is nearer.
    """
    ida.send("hand", 0, **HAND)
    ida.send("gauge", 0, **SWATCH)
    usual = card(ida)
    assert (chains(ida), usual.ease, usual.smaller_percent) == (28, "5 % smaller than the hand.", 5)
    ida.send("ease", 0, smaller_percent="10")
    found = card(ida)
    assert (chains(ida), found.ease, found.smaller_percent) == (24, "10 % smaller than the hand.", 10)
    assert any("Ease as you asked: −10 %" in words for words in found.reasons)
    assert found.taken_back is not None
    entry, words = found.taken_back
    assert words == "how close it shall fit"
    ida.send("undo", 0, entry=entry.id)
    assert (chains(ida), card(ida).smaller_percent) == (28, 5)


def test_round_one_is_held_against_the_ease_that_she_asked_for(ida: Maker) -> None:
    """20 mm too loose of 200 mm as large as the hand: 220 mm, and a repeat out of 28 makes 189 (−6 %), a hook
    of 4.5 mm 204 (+2 %). As large as the hand is asked for, so the hook comes nearer.
    """
    ida.send("hand", 0, **HAND)
    ida.send("ease", 0, smaller_percent=0)
    ida.settle(28)
    ida.send("hook", 1, hook_mm=5, spot=None)
    ida.send("felt", 0, foundation=28, verdict="too loose", by_mm=20, hook_mm=5)
    after = card(ida).after
    assert after is not None
    hand_mm = card(ida).answer.known.hand.around_mm  # type: ignore[union-attr]
    assert after.ease == pytest.approx(20 / hand_mm)
    assert after.advice is not None
    assert after.advice.kind == "hook"


def test_rounds_follow_from_lengths_and_are_to_fit(ida: Maker) -> None:
    """9 rounds in 10 cm: 80 mm to the thumb are 7.2, 150 mm to the end 13.5."""
    ida.send("hand", 0, **HAND, to_thumb_mm=80, to_end_mm=150)
    ida.send("gauge", 0, **SWATCH)
    thumb, end = card(ida).rounds
    assert thumb.startswith("About 7 rounds to the base of the thumb (8 cm), or to fit")
    assert "to the end (15 cm), or to fit" in end


def test_a_ring_that_was_too_long_says_what_the_gauge_really_is(ida: Maker) -> None:
    """28 chains, 40 mm too long, where 190 were wanted: 230 mm, 12.2 stitches in 10 cm. 190 mm are 23 of
    those.
    """
    ida.send("hand", 0, **HAND)
    before = chains(ida)
    ida.send("tried", 0, foundation=28, verdict="too long", by_mm=40)
    assert (before, chains(ida)) == (28, 24)
    assert any("28 chains were 4 cm too long" in each.says for each in card(ida).seen)


def test_round_one_is_mended_by_hook_or_repeat_with_reasons(ida: Maker) -> None:
    ida.send("hand", 0, **HAND)
    ida.settle(28)
    ida.send("hook", 1, hook_mm=5, spot=None)
    ida.send("felt", 0, foundation=28, verdict="too loose", by_mm=10, hook_mm=5)
    after = card(ida).after
    assert after is not None
    assert after.advice is not None
    assert after.advice.kind == "hook"
    assert "4.5 mm" in after.says
    assert "Why not the other" in after.says
    # Another hook in hand: what was felt with the one before says nothing of it.
    ida.send("hook", 1, hook_mm=4.5, spot=None)
    found = card(ida)
    assert found.after is None
    assert found.seen == ()


def test_a_measured_width_counts_where_the_piece_is_as_wide_as_the_foundation(ida: Maker) -> None:
    """28 stitches around lie 100 mm wide: 14 in 10 cm. A thumb's width is none of the hand's."""
    ida.settle(28, "medium")
    ida.make(1, 3, 4, 2)
    worked = ida.desk.making.pieces[1].worked
    ida.send("measured", 1, what="width", mm=100, spot="0.1.1")
    ida.send("measured", 1, what="width", mm=40, spot=worked[-1])
    assert [each.says for each in card(ida).seen] == ["28 stitches lie 10 cm wide: 14.0 stitches in 10 cm."]


def test_a_width_counts_in_a_round_of_groups(ida: Maker) -> None:
    """Rnd 3 of the Cuff: seven Perches, 28 dc and seven ch-1 spaces over 28 chains, as far around as they."""
    ida.settle(28, "medium")
    ida.work(1, 4)
    ida.send("measured", 1, what="width", mm=92, spot=ida.desk.making.pieces[1].worked[-1])
    assert [each.says for each in card(ida).seen] == ["28 stitches lie 9.2 cm wide: 15.2 stitches in 10 cm."]


@pytest.mark.parametrize(
    ("case", "spots"),
    [
        # 26 chains; the gusset grows to 28, 30 and 32; 26 again above it; the thumb has 12 and 10.
        ("cormorant-gusset-wristers", "Cuff 12, Thumb gap 1, Hand 8"),
        # 24 chains; fans to every four of them; the top edging draws in with sc2tog; the thumb has 12.
        ("fairweather-uk-mitts", "Cuff 5, Wrist line 1, Thumb gap 1, Hand 5"),
    ],
)
def test_which_rounds_are_as_far_around_as_the_foundation(case: str, spots: str) -> None:
    """How many rounds of each section are, the foundation's own left out."""
    pattern = read((CASES / f"{case}.txt").read_text(encoding="utf-8")).pattern
    header = pattern.header
    made = plan(pattern, Numbers(header.foundations[0], header.sizes[0]))
    around = Counter(
        each.section_title
        for each in made.rounds
        if goes_all_around(each, header.foundations[0], header) and not is_foundation(each)
    )
    assert ", ".join(f"{title} {rounds}" for title, rounds in around.items()) == spots


def test_what_was_told_last_holds_and_is_taken_back_at_a_press(ida: Maker) -> None:
    ida.send("hand", 0, **HAND)
    second = ida.send("hand", 0, known="age", age_years=8)
    found = card(ida)
    assert "aged 8" in found.hand
    assert found.taken_back is not None
    assert found.taken_back[0].id == second
    ida.send("undo", 0, entry=second)
    assert "20 cm around the knuckles, measured" in card(ida).hand


def test_the_hand_is_known_at_the_next_part_too(session: Session) -> None:
    along_id, part_id = make_along(session)
    second = Part(along_id=along_id, position=2, title="Second Wristers")
    session.add(second)
    session.flush()
    assert second.id is not None
    publish(session, second.id, SLIPWAY)
    ida = Maker(session, part_id)
    ida.send("hand", 0, **HAND)
    there = Maker.at(session, second.id, ida.notebook_id)
    assert "Given for Slipway Wristers" in card(there).hand
    assert not card(there).guessed_hand
    assert card(there).taken_back is None


def test_a_part_for_no_hand_says_so_and_a_ring_goes_by_sizes(session: Session) -> None:
    hat = Maker(session, make_along(session, CROWN)[1])
    assert not card(hat).for_a_hand
    mittens = CROWN.replace("Pieces: one", "Fits: 16 (18) cm hand").replace("Crown\n", "Mittens\n", 1)
    maker = Maker(session, make_along(session, mittens, code="MIT222")[1], code="MIT222")
    maker.send("hand", 0, known="measured", around_mm=178)
    found = card(maker)
    assert found.answer is None
    assert found.named is not None
    assert found.named.name == "large"


def test_the_first_part_for_a_hand_is_the_one_to_measure_for(session: Session) -> None:
    along_id, hat = make_along(session, CROWN)
    second = Part(along_id=along_id, position=2, title="Wristers")
    waiting = Part(along_id=along_id, position=3, title="Not yet")
    session.add_all([second, waiting])
    session.flush()
    assert second.id is not None
    publish(session, second.id, SLIPWAY)
    ida = Maker(session, hat)
    assert measuring.part_to_measure_for(session, ida.notebook_id) == second.id
    Maker.at(session, second.id, ida.notebook_id).settle(28)
    assert measuring.part_to_measure_for(session, ida.notebook_id) is None


@pytest.mark.parametrize(
    ("kind", "values", "field"),
    [
        ("hand", {"known": "measured"}, "around_mm"),
        ("hand", {"known": "measured", "around_mm": "wide"}, "around_mm"),
        ("hand", {"known": "size", "size": "huge"}, "size"),
        ("hand", {"known": "age", "age_years": 99}, "age_years"),
        ("hand", {"known": "group"}, "group"),
        ("hand", {"known": "measured", "around_mm": 200, "wrist_mm": -3}, "wrist_mm"),
        ("gauge", {"source": "swatch", "over_mm": 100}, "stitches"),
        ("gauge", {"source": "swatch", "stitches": 18}, "over_mm"),
        ("gauge", {"source": "category"}, "category"),
        ("gauge", {"source": "category", "category": 9}, "category"),
        ("yarn", {"grams": 50}, "metres"),
        ("yarn", {}, "category"),
        ("left", {"grams": ""}, "grams"),
        ("left", {"grams": 9000}, "grams"),
        ("sampled", {"what": "weighed", "stitch": "dc", "count": 20}, "grams"),
        ("sampled", {"what": "counted", "stitch": "moss", "count": 20}, "stitch"),
        ("felt", {"foundation": 28, "verdict": "odd"}, "verdict"),
        ("tried", {"foundation": 28, "verdict": "too long", "by_mm": 0}, "by_mm"),
        ("ease", {"smaller_percent": "11"}, "smaller_percent"),
        ("ease", {"smaller_percent": ""}, "smaller_percent"),
    ],
)
def test_what_cannot_be_is_refused_at_its_field(
    ida: Maker, kind: str, values: dict[str, Any], field: str
) -> None:
    before = ida.desk.state
    with pytest.raises(Refusal) as refused:
        ida.send(kind, 0, **values)
    assert refused.value.field == field
    assert ida.desk.state == before


@pytest.mark.parametrize(
    ("typed", "units", "mm"),
    [
        ("18.5", "cm", 185), ("18,5 cm", "cm", 185), ("18.5 cm", "in", 185), ("7 1/4", "in", 184.15),
        ("7 1/4 in", "cm", 184.15), ("1/2", "in", 12.7), ('7.25"', "cm", 184.15), ("185 mm", "in", 185),
        ("", "cm", None),
    ],
)  # fmt: skip
def test_lengths_as_people_write_them(typed: str, units: str, mm: float | None) -> None:
    assert length_mm(typed, units, "around") == mm  # type: ignore[arg-type]


@pytest.mark.parametrize("typed", ["wide", "12 ells", "1/0 in", "-4", "1e3", "٣", "7 1/4 1/4"])
def test_what_is_no_length_says_what_would_be(typed: str) -> None:
    with pytest.raises(Refusal) as refused:
        length_mm(typed, "cm", "around")
    assert "18.5" in refused.value.message
    assert refused.value.field == "around"


@given(st.decimals(min_value="0.5", max_value="60", places=2))
def test_a_length_is_the_same_in_every_unit(cm: object) -> None:
    """The unit that it is typed in never changes what is kept, to a thousandth of a millimetre."""
    here = length_mm(f"{cm}", "cm", "x")
    assert here == length_mm(f"{cm} cm", "in", "x")
    inches = length_mm(f"{float(str(cm)) / 2.54:.6f}", "in", "x")
    assert inches is not None
    assert here == pytest.approx(inches, abs=0.001)


def test_yarn_and_weights_as_people_write_them() -> None:
    assert metres("125", "cm", "x") == 125
    assert metres("136 yd", "cm", "x") == pytest.approx(124.358, abs=0.001)
    assert metres("136", "in", "x") == metres("136 yd", "cm", "x")
    assert grams("1.76 oz", "x") == pytest.approx(49.895, abs=0.001)
    assert grams("", "x") is None


@pytest.mark.parametrize(
    ("kind", "values", "says"),
    [
        ("tried", {"foundation": 28, "verdict": "too long", "by_mm": 1016}, "at most 60 cm, 23.6 in."),
        ("hand", {"known": "measured", "around_mm": 700}, "at most 60 cm, 23.6 in."),
        ("yarn", {"grams": 50, "metres": 50_000}, "at most 20000 m, 21872 yd."),
        ("yarn", {"grams": 6000, "metres": 100}, "at most 5000 g."),
        ("hand", {"known": "measured"}, "such as 18.5 cm or 7 1/4 in."),
        (
            "tried",
            {"foundation": 28, "verdict": "too long", "by_mm": 0},
            "above 0, such as 12 cm or 4 3/4 in.",
        ),
        ("hand", {"known": "age", "age_years": "six"}, "Write the age in whole years, from 2 to 18."),
        ("hand", {"known": "age", "age_years": "-3"}, "Write the age in whole years, from 2 to 18."),
        ("hand", {"known": "age", "age_years": "40"}, "At 40 a hand is a grown-up's"),
    ],
)
def test_what_cannot_be_is_refused_with_what_would_be_right(
    ida: Maker, kind: str, values: dict[str, Any], says: str
) -> None:
    with pytest.raises(Refusal) as refused:
        ida.send(kind, 0, **values)
    assert says in refused.value.message


def test_eighths_of_an_inch_stand_in_the_field_as_they_were_typed() -> None:
    for typed, shown in (("2 1/8", "2.125"), ("7 1/4", "7.25"), ("5 7/8", "5.875"), ("18.5 cm", "7.283")):
        assert shown_length(length_mm(typed, "in", "around_mm"), "in") == shown


def asked(maker: Maker, kind: str, piece: int, **values: Any) -> tuple[str, ...]:
    return measuring.questions(maker.session, maker.desk, NewEntry(maker.fresh_id(), piece, kind, values))


@pytest.mark.parametrize(
    ("kind", "values", "says"),
    [
        ("tried", {"foundation": 28, "verdict": "too short", "by_mm": 150},
         "15 cm too short would leave only 5 cm around, for a hand of 20 cm. Is it so?"),
        ("felt", {"foundation": 28, "verdict": "too loose", "by_mm": 210},
         "21 cm too loose would leave 41 cm around, for a hand of 20 cm. Is it so?"),
        ("yarn", {"grams": 50, "metres": 5},
         "50 g = 5 m would be 10 m in 100 g; yarns have 25 to 800 m. Is it so?"),
    ],
)  # fmt: skip
def test_what_is_hardly_plausible_is_asked_about(
    ida: Maker, kind: str, values: dict[str, Any], says: str
) -> None:
    ida.send("hand", 0, **HAND)
    assert asked(ida, kind, 0, **values) == (says,)


def test_what_may_be_is_not_asked_about(ida: Maker) -> None:
    """12 cm too long at 32 chains may well be, and so may a lace yarn's label, or another unit than hers."""
    ida.send("hand", 0, **HAND)
    assert asked(ida, "tried", 0, foundation=32, verdict="too long", by_mm=120) == ()
    assert asked(ida, "gauge", 0, **SWATCH) == ()
    assert asked(ida, "yarn", 0, grams=50, metres=400) == ()
    assert asked(ida, "left", 0, grams=2000) == ()


def test_rounds_of_a_swatch_are_asked_about_by_themselves(ida: Maker) -> None:
    """18 rounds in 200 mm are the pattern's 9 in 100; in 40 mm they would be 45."""
    odd = asked(ida, "gauge", 0, **{**SWATCH, "rounds_over_mm": 40})
    assert odd == (
        "18 rounds in 4 cm would be 45.0 rounds in 10 cm; about 9.0 are usual here. If it was 4 in, write "
        "4 in.",
    )


def test_widths_and_weights_are_held_against_the_stitches(ida: Maker) -> None:
    """28 chains at 14 in 10 cm are 20 cm around, 10 cm across: 20 cm was measured all the way around."""
    ida.send("hand", 0, **HAND)
    ida.send("gauge", 0, **SWATCH)
    ida.settle(28, "medium")
    ida.work(1, 3)
    spot = ida.desk.making.pieces[1].worked[-1]
    assert asked(ida, "measured", 1, what="width", mm=100, spot=spot) == ()
    (around,) = asked(ida, "measured", 1, what="width", mm=200, spot=spot)
    assert around == (
        "20 cm across would be 40 cm around; about 20 cm is to be expected. Was it all the way around? "
        "Across is half of it."
    )
    (heavy,) = asked(ida, "weighed", 1, grams=400, spot=spot)
    assert heavy.startswith("400 g on the scale; its stitches take about ")
    assert heavy.endswith("Is only the piece on it?")
    (long,) = asked(ida, "sampled", 0, what="counted", stitch="dc", count=20, metres=330)
    assert long.startswith("20 double crochet would take about 3")
    assert long.endswith(", not 330 m. Is it so?")
    assert asked(ida, "sampled", 0, what="counted", stitch="dc", count=20, metres=3.3) == ()


def test_round_one_past_reason_is_measured_again_and_moves_nothing(ida: Maker) -> None:
    """15 cm too tight on a hand of 20 cm, said to be so all the same: 5 cm around is no ring of 28 chains."""
    ida.send("hand", 0, **HAND)
    ida.settle(28, "medium")
    before = card(ida).answer
    ida.send("felt", 0, foundation=28, verdict="too tight", by_mm=150)
    found = card(ida)
    assert found.answer == before
    assert found.after is not None
    assert found.after.says.startswith("15 cm too tight would leave only 4 cm around, for a hand of 20 cm.")


def test_the_width_is_asked_for_where_it_says_something(ida: Maker) -> None:
    """With the thumb made, the last round that is as far around as the foundation is the bottom edging's."""
    ida.settle(28, "medium")
    assert measuring.round_to_measure(ida.desk) is None
    ida.make(1, 3, 4, 2)
    asked_at = measuring.round_to_measure(ida.desk)
    assert asked_at is not None
    assert (asked_at.section_title, ida.desk.making.pieces[1].worked[-1] == asked_at.spot) == (
        "Bottom edging",
        False,
    )
