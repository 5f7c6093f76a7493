"""The working page's matter and the pair's: one round in her numbers, glove two against glove one as made."""

from __future__ import annotations

import pytest
from sqlmodel import Session

from server.services import notebooks
from server.services.errors import Refusal
from server.services.notebooks import Overtaken
from tests.services.story import CROWN, Maker, make_along


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, who has settled on 28 chains: 28 / 4 = 7 Perches in a round."""
    maker = Maker(session, make_along(session)[1])
    maker.settle(28, "medium")
    return maker


def test_the_round_at_hand_in_her_numbers(ida: Maker) -> None:
    view = notebooks.working(ida.desk, 1)
    assert (view.name, view.place.section.title, view.number) == ("Glove one", "Cuff", "Foundation rnd")
    ida.work(1, 3)
    view = notebooks.working(ida.desk, 1)
    assert (view.word, view.number) == ("Rnd", "3")
    assert view.place.round is not None
    assert view.place.round.count_text == "7 Perches"
    steps = " ".join(view.place.round.steps)
    assert "rep from" not in steps.lower()
    assert "*" not in steps
    assert view.as_made == ()


def test_a_section_to_fit_ends_when_she_says_so(ida: Maker) -> None:
    ida.work(1, 3)
    fit = notebooks.working(ida.desk, 1).fit
    assert fit is not None
    assert (fit.done, fit.can_end, fit.until) == (0, False, "the base of the thumb")
    with pytest.raises(Overtaken):
        ida.send("fit_ended", 1, fit="0.3", rounds=0 + 1)  # at least the first is worked
    ida.work(1, 6)
    assert ida.end_fit(1) == 6  # the pattern has 4 (Rnds 3 to 6): hers is hers
    assert ida.desk.making.pieces[1].fits_ended == {"0.3": 6}
    view = notebooks.working(ida.desk, 1)
    assert (view.place.section.title, view.number) == ("Thumb gap", "1")
    assert view.reopen is not None
    ida.send("fit_reopened", 1, fit="0.3")
    assert notebooks.working(ida.desk, 1).place.section.title == "Cuff"


def test_ending_with_a_number_that_the_page_did_not_show(ida: Maker) -> None:
    ida.work(1, 5)
    with pytest.raises(Overtaken, match="was not ended"):
        ida.send("fit_ended", 1, fit="0.3", rounds=5)
    assert ida.desk.making.pieces[1].fits_ended == {}


def test_rounds_taken_out_with_how_many_and_back_to_where(ida: Maker) -> None:
    ida.work(1, 4)
    outs = notebooks.working(ida.desk, 1).take_outs
    assert [(out.spot, out.rounds, out.back_to) for out in outs] == [
        ("0.3.1", 1, "Cuff, Rnd 2"),
        ("0.2.1", 2, "Cuff, Rnd 1"),
        ("0.1.1", 3, "Cuff, Foundation rnd"),
        ("0.0.1", 4, "the beginning"),
    ]
    ida.send("taken_out", 1, spot="0.2.1")
    assert notebooks.working(ida.desk, 1).number == "2"
    assert ida.desk.making.pieces[1].taken_out == (("0.2.1", 2),)


def test_notes_counts_and_hooks_stand_at_their_round(ida: Maker) -> None:
    ida.send("hook", 1, hook_mm="5")
    ida.work(1, 3)
    ida.send("note", 1, spot="0.3.1", text="tighter here")
    ida.send("hook", 1, hook_mm="4,5", spot="0.3.1")
    ida.send("counted", 1, spot="0.3.1", name="Perch", count="6")
    view = notebooks.working(ida.desk, 1)
    assert [note.text for note in view.notes] == ["tighter here"]
    assert view.hook is not None
    assert view.hook.words == "4.5 mm (US 7)"
    assert [(each.label, each.agrees) for each in view.counted] == [("Rnd 3", False)]
    assert view.counted[0].words == "You counted 6 Perches; there should be 7: 1 missing."
    ida.send("counted", 1, spot="0.3.1", name="Perch", count="7")
    assert notebooks.working(ida.desk, 1).counted[0].agrees


def test_the_last_entry_has_words(ida: Maker) -> None:
    assert notebooks.working(ida.desk, 1).undo is None
    ida.work(1, 3)
    assert notebooks.working(ida.desk, 1).undo_words == "Cuff, Rnd 2 logged"
    ida.send("hook", 1, hook_mm="4.5")
    assert notebooks.working(ida.desk, 1).undo_words == "hook 4.5 mm"
    ida.work(1)
    ida.end_fit(1)
    assert notebooks.working(ida.desk, 1).undo_words == "ended after Cuff, Rnd 3"


def test_a_round_that_two_devices_logged_stands_when_one_of_them_takes_it_back(ida: Maker) -> None:
    ida.work(1, 4)
    ida.work_elsewhere(1, "0.3.1")
    last = notebooks.working(ida.desk, 1).undo
    assert last is not None
    ida.send("undo", 1, entry=last.entry.id)
    view = notebooks.working(ida.desk, 1)
    assert view.redo_words == "Cuff, Rnd 3 logged. It was logged twice and is still there"
    assert view.undo is not None
    ida.send("undo", 1, entry=view.undo.entry.id)
    view = notebooks.working(ida.desk, 1)
    assert view.redo_words == "Cuff, Rnd 3 logged"
    assert view.done == 2


def test_glove_two_shows_what_glove_one_did_and_stops_there(ida: Maker) -> None:
    ida.send("hook", 1, hook_mm="5")
    ida.work(1, 5)
    ida.send("note", 1, spot="0.3.2", text="after the film")
    ida.make(1, 5, 2)
    assert notebooks.working(ida.desk, 2).as_made == (
        "Glove one was begun with a hook of 5 mm (US H-8).",
        "Worked, nothing noted at it.",
    )
    ida.work(2, 4)
    view = notebooks.working(ida.desk, 2)
    assert (view.name, view.number) == ("Glove two", "4")
    assert view.fit is not None
    assert (view.fit.done, view.fit.other) == (1, 5)
    assert view.as_made == (
        "Glove one had 5 rounds here.",
        "Your note at glove one: after the film",
        "Hook 5 mm (US H-8).",
    )
    assert view.departures == ()
    assert view.hook is None
    assert view.other_hook is not None
    assert view.other_hook.hook_mm == 5.0
    ida.work(2, 4)
    view = notebooks.working(ida.desk, 2)
    assert view.place.kind == "end fit"
    assert view.fit is not None
    assert (view.fit.done, view.fit.other) == (5, 5)


def test_a_round_too_many_is_named_at_once_with_its_mend(ida: Maker) -> None:
    ida.make(1, 6, 3)
    ida.work(2, 3 + 6)
    assert notebooks.working(ida.desk, 2).departures == ()
    ida.work(2)  # on past where glove one ended
    departures = notebooks.working(ida.desk, 2).departures
    assert [each.difference.what for each in departures] == [
        "Glove one had 6 rounds here; this is the 7th. Take it out, or note that it is meant."
    ]
    mend = departures[0].take_out
    assert mend is not None
    assert (mend.spot, mend.rounds, mend.back_to) == ("0.3.7", 1, "Cuff, Rnd 8")
    ida.send("taken_out", 2, spot=mend.spot)
    assert notebooks.working(ida.desk, 2).departures == ()
    assert ida.desk.verdict.state == "twin so far"


def test_a_difference_noted_as_meant_stays_visible(ida: Maker) -> None:
    ida.make(1, 6, 3)
    ida.work(2, 3 + 7)
    difference = notebooks.working(ida.desk, 2).departures[0].difference
    ida.send("accepted", 0, difference=difference.key)
    view = notebooks.working(ida.desk, 2)
    assert view.departures == ()
    assert [each.key for each in view.meant] == [difference.key]
    pair = notebooks.pair(ida.desk)
    assert pair.open == ()
    assert [each.accepted for each in pair.meant] == [True]
    with pytest.raises(Overtaken, match="difference is gone"):
        ida.send("accepted", 0, difference="rounds/0.3/1/2")


def test_glove_two_ended_early_goes_on_or_is_taken_back(ida: Maker) -> None:
    ida.make(1, 4, 3)
    ida.work(2, 3 + 2)
    ida.end_fit(2)
    departure = notebooks.working(ida.desk, 2).departures[0]
    assert (departure.take_out, departure.go_on) == (None, "0.3")
    ida.work(2)  # the gap: now the mend costs a round
    departure = notebooks.working(ida.desk, 2).departures[0]
    assert departure.go_on is None
    assert departure.take_out is not None
    assert (departure.take_out.rounds, departure.take_out.spot) == (1, "1.0.1")


def test_the_pair_side_by_side(ida: Maker) -> None:
    ida.send("hook", 1, hook_mm="5")
    ida.work(1, 4)
    ida.send("taken_out", 1, spot="0.3.1")
    ida.make(1, 4, 3)
    ida.send("hook", 2, hook_mm="5")
    ida.make(2, 4, 3)
    pair = notebooks.pair(ida.desk)
    assert pair.verdict.state == "twins"
    assert {row.state for row in pair.verdict.sections} == {"same"}
    one, two = pair.gloves
    assert (one.name, two.name) == ("Glove one", "Glove two")
    assert one.finished
    assert one.done == two.done
    assert [(out.at, out.text) for out in one.taken_out] == [("Cuff, Rnd 3", "1")]


def test_glove_one_changed_after_glove_two_began(ida: Maker) -> None:
    ida.make(1, 4, 3)
    ida.work(2, 3 + 2)
    last = ida.desk.making.pieces[1].worked[-1]
    ida.send("taken_out", 1, spot=last)
    assert notebooks.working(ida.desk, 1).changed != ()
    assert notebooks.working(ida.desk, 2).changed == notebooks.working(ida.desk, 1).changed


def test_one_piece_has_no_talk_of_a_pair(session: Session) -> None:
    maker = Maker(session, make_along(session, CROWN)[1])
    maker.settle(None, "small")
    maker.work(1, 3)
    view = notebooks.working(maker.desk, 1)
    assert view.name == "Slipway Wristers"  # the part's own title, as the host gave it
    assert view.place.kind == "finish"
    maker.send("finished", 1)
    pair = notebooks.pair(maker.desk)
    assert len(pair.gloves) == 1
    assert pair.open == ()
    with pytest.raises(Refusal, match="no such piece"):
        maker.send("worked", 2, spot="0.0.1")
