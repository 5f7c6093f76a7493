"""Twins through the services: measures, weights, edgings and counts of both gloves, and what the pair page
says.
"""

from __future__ import annotations

import pytest
from sqlmodel import Session

from server.services import notebooks
from tests.services.story import Maker, make_along


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, whose glove one is finished: 28 chains, 5 rounds to fit in the cuff and 3 in the hand, 5 mm."""
    maker = Maker(session, make_along(session)[1])
    maker.settle(28, "medium")
    maker.send("hook", 1, hook_mm="5")
    maker.send("hook", 2, hook_mm="5")
    maker.make(1, 5, 3)
    return maker


def differences(ida: Maker) -> list[tuple[str, str | None]]:
    return [(each.kind, each.spot) for each in ida.desk.verdict.differences]


def test_a_hand_that_became_tighter(ida: Maker) -> None:
    """Rnd 4 has 28 dc and 7 chains: 100 mm wide, half a stitch is 100 / 35 = 2.9 mm."""
    ida.work(2, 5)
    ida.send("measured", 1, what="width", mm="100", spot="0.3.2")
    assert notebooks.working(ida.desk, 2).departures == ()
    ida.send("measured", 2, what="width", mm="97.2", spot="0.3.2")
    assert ida.desk.verdict.state == "twin so far"
    ida.send("measured", 2, what="width", mm="97", spot="0.3.2")
    (found,) = notebooks.pair(ida.desk).open
    assert found.difference.what.endswith(
        "3 mm (3 %) narrower. The counts agree, so your hand is tighter than it was."
    )
    assert "5.5 mm (US I-9)" in found.difference.mend
    assert found.take_out is None
    rows = {
        row.section_title: (row.one, row.two, row.state) for row in notebooks.pair(ida.desk).verdict.sections
    }
    assert rows["Width at Rnd 4 of the Cuff"] == ("10 cm", "9.7 cm", "differs")
    ida.send("accepted", 0, difference=found.difference.key)
    assert ida.desk.verdict.state == "twin so far"
    assert [each.kind for each in notebooks.pair(ida.desk).meant] == ["width"]


def test_taken_back_to_where_they_agreed(ida: Maker) -> None:
    ida.work(2, 6)
    for piece, first, second in ((1, "100", "101"), (2, "99", "92")):
        ida.send("measured", piece, what="width", mm=first, spot="0.3.1")
        ida.send("measured", piece, what="width", mm=second, spot="0.3.3")
    (found,) = notebooks.pair(ida.desk).open
    assert found.take_out is not None
    assert (found.take_out.spot, found.take_out.rounds, found.take_out.back_to) == ("0.3.2", 2, "Cuff, Rnd 3")
    ida.send("taken_out", 2, spot=found.take_out.spot)
    assert differences(ida) == []
    assert ida.desk.making.pieces[2].measures == {("width", "0.3.1"): 99.0}


def test_glove_two_is_shown_what_glove_one_measured(ida: Maker) -> None:
    ida.send("measured", 1, what="width", mm="100", spot="0.3.2")
    ida.work(2, 4)
    assert notebooks.working(ida.desk, 2).as_made == (
        "Glove one had 5 rounds here.",
        "Glove one was 10 cm wide at the end of this round.",
        "Hook 5 mm (US H-8).",
    )


def test_an_edging_with_another_count_and_one_left_out(ida: Maker) -> None:
    ida.send("counted", 1, spot="3.0.1", name="sc", count=27)
    ida.make(2, 5, 3)
    ida.send("counted", 2, spot="3.0.1", name="sc", count=28)
    (off,) = notebooks.pair(ida.desk).open
    assert off.difference.what == (
        "You counted 27 sc in glove one at the end of Rnd 1 of the Top edging; in glove two you counted 28: "
        "1 sc too many."
    )
    ida.send("counted", 2, spot="3.0.1", name="sc", count=27)
    assert ida.desk.verdict.state == "twins"


def test_the_verdict_while_she_is_at_a_round(ida: Maker) -> None:
    ida.work(2, 8)
    found = ida.desk.verdict_at("0.3.6")
    assert found.state == "differs"
    assert found.before == ("Glove one had 5 rounds here; this would be the 6th.",)
    ida.end_fit(2)
    assert ida.desk.verdict_at(ida.next_spot(2)).headline == "Twin so far: 7 rounds as in glove one."


def test_a_glove_counted_in_is_a_twin_like_any_other(ida: Maker) -> None:
    once = ("0.0", "0.1", "0.2", "1.0", "2.0", "3.0", "4.0", "5.0", "5.1")
    rounds = dict.fromkeys(once, 1) | {"0.3": 5, "2.1": 3}
    ida.send("counted_in", 2, rounds=rounds, ended=["0.3", "2.1"])
    ida.send("finished", 2)
    assert ida.desk.verdict.state == "twins"
    assert ida.desk.making.pieces[2].worked == ida.desk.making.pieces[1].worked


def test_glove_one_changed_after_glove_two_began_and_both_say_so(ida: Maker) -> None:
    ida.work(2, 4)
    ida.send("taken_out", 1, spot="5.1.1")
    for piece in (1, 2):
        (says,) = notebooks.working(ida.desk, piece).changed
        assert says == "Glove one changed after glove two began: Rnd 2 of the Thumb was taken out."
