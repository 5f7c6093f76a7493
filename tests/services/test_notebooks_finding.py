"""Finding her place from what she counts, logged through the services; and the miss behind a wrong count."""

from __future__ import annotations

import pytest
from sqlmodel import Session

from server.services import notebooks
from server.services.errors import Refusal
from server.services.notebooks import Overtaken
from tests.services.story import CROWN, Maker, make_along


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, who has settled on 28 chains."""
    maker = Maker(session, make_along(session)[1])
    maker.settle(28, "medium")
    return maker


def answers(ida: Maker, piece: int = 1, **told: str) -> dict[str, str]:
    """Answers by the first words of what is asked, below for "rounds below the gap"."""
    keys = {each.asks: each.key for each in notebooks.asked(ida.desk, piece)}
    return {next(key for asks, key in keys.items() if word in asks): typed for word, typed in told.items()}


def log_found(ida: Maker, typed: dict[str, str], *, id: str = "found-0001", state: int | None = None) -> bool:
    return notebooks.log_found(
        ida.session,
        ida.notebook_id,
        ida.part_id,
        1,
        typed,
        entry_id=id,
        state=ida.desk.state if state is None else state,
        device="phone",
        now=ida.now,
    )


def test_what_is_asked(ida: Maker) -> None:
    ida.work(1, 4)
    assert [(each.asks, each.in_log, each.all) for each in notebooks.asked(ida.desk, 1)] == [
        ("rounds below the gap", 3, None),
        ("the Thumb gap", 0, 1),
        ("rounds above the gap", 0, None),
        ("the Top edging", 0, 1),
        ("the Bottom edging", 0, 1),
        ("rounds of the Thumb", 0, None),
    ]


def test_a_glove_made_without_a_log(ida: Maker) -> None:
    typed = answers(ida, below="6", Bottom="1") | {"1": "1", "2": "2", "5": ""}
    here = notebooks.found(ida.desk, 1, typed)
    assert here.says.startswith(
        "You are at Hand, Rnd 3: 6 rounds below the gap, the Thumb gap, 2 rounds above"
    )
    assert log_found(ida, typed)
    assert not log_found(ida, typed)  # the same form sent twice
    view = notebooks.working(ida.desk, 1)
    assert (view.place.section.title, view.word, view.number) == ("Hand", "Rnd", "3")
    assert ida.desk.making.pieces[1].fits_ended == {"0.3": 4}
    assert notebooks.found(ida.desk, 1, typed).agrees
    last = notebooks.last_entry(ida.desk, 1)
    assert last is not None
    ida.send("undo", 1, entry=last.entry.id)
    assert ida.desk.making.pieces[1].worked == ()


def test_the_glove_and_the_log_do_not_agree(ida: Maker) -> None:
    ida.work(1, 7)
    typed = answers(ida, below="4")
    assert notebooks.found(ida.desk, 1, typed).off == (
        "The log has 6 rounds below the gap; you count 4, 2 fewer.",
    )
    assert log_found(ida, typed)
    assert ida.desk.making.pieces[1].worked == ("0.0.1", "0.1.1", "0.2.1", "0.3.1", "0.3.2")
    assert ida.desk.making.pieces[1].taken_out == (("0.3.3", 2),)


def test_rounds_out_below_the_gap_and_all_the_others_kept(ida: Maker) -> None:
    ida.work(1, 7)
    ida.end_fit(1)
    ida.work(1, 2)
    assert log_found(ida, answers(ida, below="5"))
    one = ida.desk.making.pieces[1]
    assert one.worked == ("0.0.1", "0.1.1", "0.2.1", "0.3.1", "0.3.2", "0.3.3", "1.0.1", "2.0.1")
    assert one.fits_ended == {"0.3": 3}
    assert ida.desk.place(1).round is not None


def test_what_cannot_be_is_refused_and_nothing_logged(ida: Maker) -> None:
    with pytest.raises(Refusal, match="there are at least 3 before the Thumb gap can be there"):
        log_found(ida, answers(ida, below="2") | {"1": "1"})
    for typed in ("many", "-1", "301", "٣"):
        with pytest.raises(Refusal, match="a number from 0 to 300") as refused:
            log_found(ida, {"0": typed})
        assert refused.value.field == "0"
    assert ida.desk.making.pieces[1].worked == ()


def test_a_page_from_before_the_log_went_on(ida: Maker) -> None:
    state = ida.desk.state
    ida.work(1)
    with pytest.raises(Overtaken):
        log_found(ida, {"0": "4"}, state=state)


def test_before_numbers_are_settled(session: Session) -> None:
    maker = Maker(session, make_along(session)[1])
    with pytest.raises(Refusal, match="Settle on your number"):
        notebooks.found(maker.desk, 1, {})
    with pytest.raises(Refusal, match="Settle on your number"):
        maker.send("counted_in", 1, rounds={"0.0": 1})


def test_a_crown_from_a_ring(session: Session) -> None:
    """No foundation and no gap: rounds are counted from the first."""
    maker = Maker(session, make_along(session, CROWN)[1])
    maker.settle(None, "large")
    asked = notebooks.asked(maker.desk, 1)
    assert [(each.asks, each.all) for each in asked] == [("rounds from the beginning", None)]
    assert notebooks.found(maker.desk, 1, {asked[0].key: "2"}).says == (
        "You are at Crown, Rnd 3: 2 rounds from the beginning."
    )
    assert notebooks.found(maker.desk, 1, {asked[0].key: "0"}).says == (
        "You are at Crown, Rnd 1: nothing is there yet."
    )


def test_the_miss_behind_a_wrong_count(ida: Maker) -> None:
    """Rnd 1 has 28 sc; with 27 the last chain before the join is looked for first."""
    ida.work(1, 2)
    found = notebooks.likely_misses(ida.desk, 1, "0.1.1", "sc", 27)
    assert found[0].says.startswith("The last ch before the join may have been passed over")
    assert notebooks.likely_misses(ida.desk, 1, "0.1.1", "sc", 28) == ()
    longer = notebooks.likely_misses(ida.desk, 1, "0.3.1", "Perch", 6)
    assert longer[0].says.startswith("The beginning ch 3 counts as one dc and belongs to the first Perch")


def test_more_rounds_of_a_line_than_the_pattern_has_are_refused(ida: Maker) -> None:
    with pytest.raises(Refusal, match="from 1 to 1"):
        ida.send("counted_in", 1, rounds={"0.0": 1, "0.1": 2})
    ida.send("counted_in", 1, rounds={"0.0": 1, "0.1": 1, "0.2": 1, "0.3": 9})
    assert len(ida.desk.making.pieces[1].worked) == 12
