"""The log: each entry once, whatever is sent twice; several devices; nothing edited; the roster's places."""

from __future__ import annotations

import itertools
import json
from datetime import timedelta
from typing import Any

import pytest
from sqlalchemy import text
from sqlalchemy.exc import IntegrityError
from sqlmodel import Session, select

from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.notebooks import DeviceEntry, NewEntry, Overtaken
from server.services.notebooks.clocks import iso
from server.storage.tables import Entry, Notebook, Project, ProjectPlace
from tests.services.story import NOW, Maker, make_along


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, who has settled on 28 chains."""
    maker = Maker(session, make_along(session)[1])
    maker.settle(28, "medium")
    return maker


def test_a_form_sent_twice_is_logged_once(ida: Maker) -> None:
    spot = ida.next_spot(1)
    for _ in range(3):
        ida.send("worked", 1, id="double-tap", spot=spot)
    assert ida.desk.making.pieces[1].worked == ("0.0.1",)
    assert ida.desk.state == 2


def test_the_same_round_from_two_pages_is_logged_once(ida: Maker) -> None:
    spot, state = ida.next_spot(1), ida.desk.state
    ida.send("worked", 1, state=state, spot=spot)
    ida.device = "tablet"
    with pytest.raises(Overtaken, match="Cuff, Foundation rnd was logged already"):
        ida.send("worked", 1, state=state, spot=spot)
    assert ida.desk.making.pieces[1].worked == ("0.0.1",)


def test_a_note_on_another_device_does_not_stand_in_the_way(ida: Maker) -> None:
    """The page's round is still the next one, so it is logged though the log went on."""
    spot, state = ida.next_spot(1), ida.desk.state
    ida.send("note", 1, spot=spot, text="blue yarn from here")
    ida.send("worked", 1, state=state, spot=spot)
    assert ida.desk.making.pieces[1].worked == (spot,)


def test_a_page_from_before_rounds_were_taken_out(ida: Maker) -> None:
    ida.work(1, 3)
    spot, state = ida.next_spot(1), ida.desk.state
    ida.send("taken_out", 1, spot="0.1.1")
    with pytest.raises(Overtaken, match="Cuff, Rnd 3 is not the next one any more"):
        ida.send("worked", 1, state=state, spot=spot)
    with pytest.raises(Overtaken, match="went on meanwhile"):
        ida.send("taken_out", 1, state=state, spot="0.0.1")
    assert ida.desk.making.pieces[1].worked == ("0.0.1",)


def test_a_round_ahead_is_not_logged(ida: Maker) -> None:
    with pytest.raises(Overtaken):
        ida.send("worked", 1, spot="0.2.1")
    with pytest.raises(Overtaken):
        ida.send("finished", 1)
    with pytest.raises(Overtaken):
        ida.send("fit_ended", 1, fit="0.3", rounds=4)
    assert ida.desk.state == 1


def test_undo_takes_back_the_last_entry_of_that_piece(ida: Maker) -> None:
    ida.work(1, 2)
    note = ida.send("note", 1, spot="0.2.1", text="tight")
    ida.send("hook", 2, hook_mm="4.5")  # glove two on another device is left alone
    last = notebooks.last_entry(ida.desk, 1)
    assert last is not None
    assert last.entry.id == note
    ida.send("undo", 1, entry=note)
    assert ida.desk.making.pieces[1].notes == ()
    worked = notebooks.last_entry(ida.desk, 1)
    assert worked is not None
    assert worked.entry.values == {"spot": "0.1.1"}
    with pytest.raises(Overtaken):
        ida.send("undo", 1, entry=note)  # undone already
    ida.send("undo", 1, entry=worked.entry.id)
    assert ida.desk.making.pieces[1].worked == ("0.0.1",)
    assert ida.desk.making.pieces[2].hook_mm == 4.5


def test_nothing_is_worked_before_a_number_is_settled(session: Session) -> None:
    maker = Maker(session, make_along(session)[1])
    with pytest.raises(Refusal, match="Settle on your number"):
        maker.send("worked", 1, spot="0.0.1")
    assert maker.desk.project_id is None


@pytest.mark.parametrize(
    ("kind", "piece", "values", "says"),
    [
        ("worked", 1, {"spot": "0.9.1"}, "no such round"),
        ("worked", 1, {"spot": "9.0.1"}, "no such round"),
        ("worked", 1, {"spot": "0.0.0"}, "no such round"),
        ("worked", 1, {"spot": "0.0.301"}, "no such round"),
        ("worked", 1, {"spot": "x"}, "no such round"),
        ("worked", 1, {}, "no such round"),
        ("worked", 0, {"spot": "0.0.1"}, "which piece"),
        ("worked", 3, {"spot": "0.0.1"}, "no such piece"),
        ("fit_ended", 1, {"fit": "0.1", "rounds": 2}, "no such rounds to fit"),
        ("fit_ended", 1, {"fit": "0.3", "rounds": 0}, "from 1 to 300"),
        ("fit_ended", 1, {"fit": "0.3", "rounds": "two"}, "from 1 to 300"),
        ("counted", 1, {"spot": "0.0.1", "name": "", "count": 3}, "what you counted"),
        ("counted", 1, {"spot": "0.0.1", "name": "ch", "count": "-1"}, "from 0 to 5000"),
        ("counted", 1, {"spot": "0.0.1", "name": "ch", "count": ""}, "from 0 to 5000"),
        ("note", 1, {"spot": "0.0.1", "text": " \n "}, "Write the note first"),
        ("note", 1, {"spot": "0.0.1", "text": "a" * 1001}, "1001 characters"),
        ("hook", 1, {"hook_mm": "large"}, "in mm"),
        ("tried", 0, {"foundation": 28, "verdict": "maybe"}, "too long, too short, or fits"),
        ("settled", 0, {"foundation": 28, "size": "huge"}, "Its sizes: small, medium, large"),
        ("accepted", 0, {"difference": ""}, "which difference"),
        ("undo", 1, {"entry": "?"}, "which entry"),
        ("place", 1, {"spot": "0.0.1", "text": "  "}, "where in the round"),
        ("place", 1, {"spot": "0.0.1", "text": "a" * 201}, "1 to 200 characters"),
        ("place", 1, {"spot": "0.0.1", "text": "here", "repeat": "many"}, "The repeat is a number"),
        ("place", 1, {"spot": "0.0.0", "text": "here"}, "no such round"),
        ("counted_in", 1, {}, "how many rounds"),
        ("counted_in", 1, {"rounds": {}}, "how many rounds"),
        ("counted_in", 1, {"rounds": {"0.9": 1}}, "no such rounds"),
        ("counted_in", 1, {"rounds": {"0": 1}}, "no such rounds"),
        ("counted_in", 1, {"rounds": {"0.3": 0}}, "from 1 to 300"),
        ("counted_in", 1, {"rounds": {"0.3": 301}}, "from 1 to 300"),
        ("counted_in", 1, {"rounds": {"0.1": 1}, "ended": ["0.1"]}, "no such rounds to fit"),
        ("counted_in", 1, {"rounds": {"0.1": 1}, "ended": ["0.3"]}, "section has that is ended"),
        ("counted_in", 0, {"rounds": {"0.1": 1}}, "which piece"),
        ("measured", 1, {"what": "depth", "mm": 90, "spot": "0.0.1"}, "the width or the length"),
        ("measured", 1, {"what": "width", "mm": "wide", "spot": "0.0.1"}, "at most 300 cm"),
        ("measured", 1, {"what": "width", "mm": 3001, "spot": "0.0.1"}, "at most 300 cm"),
        ("measured", 1, {"what": "width", "mm": 90}, "no such round"),
        ("weighed", 1, {"grams": 0, "spot": "0.0.1"}, "in grams"),
        ("weighed", 1, {"grams": 5000.5, "spot": "0.0.1"}, "in grams"),
        ("washed", 1, {}, "no entry of the kind washed"),
    ],
)
def test_what_cannot_be_is_refused_in_words(
    ida: Maker, kind: str, piece: int, values: dict[str, Any], says: str
) -> None:
    """From a form; and from a device that logged it with no network, with the words for it."""
    with pytest.raises(Refusal, match=says):
        ida.send(kind, piece, **values)
    assert ida.desk.state == 1
    sent = [DeviceEntry(NewEntry("offline-odd", piece, kind, values), iso(ida.now), 1), SENT[0]]
    received = notebooks.receive(ida.session, ida.notebook_id, ida.part_id, sent, device="phone", now=ida.now)
    assert received.kept == (SENT[0].new.id,)
    assert says in dict(received.refused)["offline-odd"]


def test_places_rounds_counted_in_measures_and_weights_are_stored_as_typed_and_read(ida: Maker) -> None:
    ida.send("counted_in", 1, rounds={"0.0": "1", "00.1": 1, "0.2": 1, "0.3": 4}, ended=["0.3"])
    ida.send("place", 1, spot="1.0.1", text=" after the\n3rd repeat ", step="", repeat="3")
    ida.send("measured", 1, what="width", mm="92,5", spot="0.3.4")
    ida.send("weighed", 1, grams=11, spot="0.3.4")
    one = ida.desk.making.pieces[1]
    assert len(one.worked) == 7
    assert one.fits_ended == {"0.3": 4}
    assert one.place is not None
    assert (one.place.text, one.place.step, one.place.repeat) == ("after the 3rd repeat", None, 3)
    assert one.measures == {("width", "0.3.4"): 92.5}
    assert one.weights == {"0.3.4": 11.0}
    ida.work(1)
    assert ida.desk.making.pieces[1].place is None


def test_a_note_keeps_its_lines_and_no_control_characters(ida: Maker) -> None:
    ida.send("note", 1, spot="0.0.1", text=" one\r\ntwo\x00\x1b three\ud800 \t")
    assert ida.desk.making.pieces[1].notes[0].text == "one\ntwo three"
    with pytest.raises(Refusal, match="no character"):
        ida.send("counted", 1, spot="0.0.1", name="ch\ud800", count=28)


@pytest.mark.parametrize("entry_id", ["", "short", "x" * 65, "with space", "<b>bold</b>"])
def test_an_id_that_no_form_made(ida: Maker, entry_id: str) -> None:
    with pytest.raises(Refusal, match="incomplete"):
        notebooks.log(
            ida.session, ida.notebook_id, ida.part_id, [NewEntry(entry_id, 1, "worked", {"spot": "0.0.1"})],
            state=None, device="phone", now=NOW,
        )  # fmt: skip


def test_an_id_of_another_notebook_is_not_taken_over(ida: Maker) -> None:
    other = Maker(ida.session, ida.part_id, "Nils")
    entry_id = ida.send("worked", 1, spot="0.0.1")
    other.settle(24, "small")
    with pytest.raises(Refusal, match="made for another part"):
        other.send("worked", 1, id=entry_id, spot="0.0.1")
    assert other.desk.making.pieces[1].worked == ()


def test_a_part_of_another_along_is_not_hers(ida: Maker) -> None:
    _, strange = make_along(ida.session, code="XXX347")
    with pytest.raises(NotFound):
        notebooks.open_desk(ida.session, ida.notebook_id, strange)
    with pytest.raises(NotFound):
        notebooks.open_desk(ida.session, ida.notebook_id, 999_999)
    _, unpublished = make_along(ida.session, text=None, code="XXX348")
    other = Maker(ida.session, unpublished, code="XXX348")
    with pytest.raises(NotFound):
        notebooks.open_desk(ida.session, other.notebook_id, unpublished)


def test_entries_are_never_changed_nor_taken_out(ida: Maker) -> None:
    ida.work(1)
    for statement in ("UPDATE entry SET piece = 2", "DELETE FROM entry"):
        with pytest.raises(IntegrityError), ida.session.begin_nested():
            ida.session.connection().execute(text(statement))
    assert len(ida.session.exec(select(Entry)).all()) == 2


def test_a_clock_that_went_back_changes_no_order(ida: Maker) -> None:
    """A form's entry comes after all that its page had seen, also where the server's clock was set back."""
    ida.work(1, 2)
    ida.now -= timedelta(hours=3)
    ida.send("taken_out", 1, spot="0.1.1")
    ida.work(1)
    moments = [logged.entry.at for logged in ida.desk.log]
    assert moments == sorted(moments)
    assert len(set(moments)) == len(moments)
    assert ida.desk.making.pieces[1].worked == ("0.0.1", "0.1.1")
    assert ida.desk.making.pieces[1].taken_out == (("0.1.1", 1),)


def offline(number: int, kind: str, **values: object) -> DeviceEntry:
    """An entry as a device without a network made it, `number` minutes later."""
    at = iso(NOW + timedelta(hours=1, minutes=number))
    return DeviceEntry(NewEntry(f"offline-{number:03}", 1, kind, values), at, number)


SENT = (
    offline(1, "worked", spot="0.0.1"),
    offline(2, "worked", spot="0.1.1"),
    offline(3, "taken_out", spot="0.1.1"),
    offline(4, "worked", spot="0.1.1"),
)


@pytest.mark.parametrize("order", list(itertools.permutations(range(4)))[::5])
def test_a_device_sends_in_any_order_and_again(ida: Maker, order: tuple[int, ...]) -> None:
    for sent in ([SENT[i] for i in order], list(SENT), [SENT[order[0]], SENT[order[0]]]):
        received = notebooks.receive(
            ida.session, ida.notebook_id, ida.part_id, sent, device="phone", now=NOW + timedelta(hours=2)
        )
        assert set(received.kept) == {one.new.id for one in sent}
        assert received.refused == ()
    piece = ida.desk.making.pieces[1]
    assert piece.worked == ("0.0.1", "0.1.1")
    assert piece.taken_out == (("0.1.1", 1),)
    assert ida.desk.state == 5


def test_a_device_is_told_what_was_not_taken_and_the_rest_is(ida: Maker) -> None:
    sent = [
        SENT[0],
        offline(5, "worked", spot="7.0.1"),
        DeviceEntry(NewEntry("offline-zone", 1, "worked", {"spot": "0.1.1"}), "2026-11-05T20:00:00", 7),
        DeviceEntry(NewEntry("offline-when", 1, "worked", {"spot": "0.1.1"}), "yesterday", 8),
    ]
    received = notebooks.receive(
        ida.session, ida.notebook_id, ida.part_id, sent, device="phone", now=NOW + timedelta(hours=2)
    )
    assert received.kept == ("offline-001",)
    reasons = dict(received.refused)
    assert "no such round" in reasons["offline-005"]
    assert "UTC" in reasons["offline-zone"]
    assert "reads like" in reasons["offline-when"]


def test_a_piece_that_could_not_be_drawn_up_is_not_logged_and_keeps_nothing_back(ida: Maker) -> None:
    """Over 1000 chains a round has well over 1000 stitches: 300 rounds of them are more than a piece has."""
    ida.settle(1000)
    at = iso(ida.now)
    sent = [
        DeviceEntry(NewEntry("offline-one", 1, "worked", {"spot": "0.0.1"}), at, 8),
        DeviceEntry(NewEntry("offline-far", 1, "worked", {"spot": "0.3.300"}), at, 9),
        DeviceEntry(NewEntry("offline-two", 1, "worked", {"spot": "0.1.1"}), at, 10),
    ]
    received = notebooks.receive(ida.session, ida.notebook_id, ida.part_id, sent, device="phone", now=ida.now)
    assert received.kept == ("offline-one", "offline-two")
    assert "more than one piece can have" in dict(received.refused)["offline-far"]
    assert ida.desk.making.pieces[1].worked == ("0.0.1", "0.1.1")


def test_a_device_settles_on_what_the_pattern_allows_only(ida: Maker) -> None:
    sent = [
        DeviceEntry(NewEntry(f"offline-{n}", 0, "settled", {"foundation": n}), iso(ida.now), n)
        for n in (30, 36)
    ]
    received = notebooks.receive(ida.session, ida.notebook_id, ida.part_id, sent, device="phone", now=ida.now)
    assert received.kept == ("offline-36",)
    assert dict(received.refused) == {"offline-30": "This pattern is not made over 30 chains."}


def test_two_devices_at_once_lose_nothing(ida: Maker) -> None:
    """The phone works on without a network; the tablet does meanwhile. Both logs are kept whole."""
    ida.device = "tablet"
    ida.work(1, 3)
    notebooks.receive(
        ida.session, ida.notebook_id, ida.part_id, SENT, device="phone", now=NOW + timedelta(hours=2)
    )
    rows = ida.session.exec(select(Entry)).all()
    assert len(rows) == 1 + 3 + 4
    assert {json.loads(row.values_json).get("spot") for row in rows if row.kind == "worked"} == {
        "0.0.1",
        "0.1.1",
        "0.2.1",
    }


def test_the_place_follows_every_entry(ida: Maker) -> None:
    def place() -> tuple[object, ...]:
        ida.session.flush()
        ida.session.expire_all()
        row = ida.session.get_one(ProjectPlace, ida.project_id)
        return row.piece, row.section_title, row.round_label, row.spot, row.verdict

    assert place() == (1, "Cuff", "Foundation rnd", "0.0.1", "no second piece yet")
    ida.work(1, 3)
    assert place() == (1, "Cuff", "Rnd 3", "0.3.1", "no second piece yet")
    ida.make(1, 4, 3)
    assert place() == (2, "Cuff", "Foundation rnd", "0.0.1", "no second piece yet")
    ida.work(2)
    assert place() == (2, "Cuff", "Rnd 1", "0.1.1", "twin so far")
    kept = place()
    row = ida.session.get_one(ProjectPlace, ida.project_id)
    ida.session.delete(row)
    ida.session.flush()
    notebooks.refresh(ida.session, ida.desk, NOW)
    assert place() == kept
    ida.make(2, 4, 3)
    assert place() == (2, "finished", "", None, "twins")


def test_when_she_was_seen_last(ida: Maker) -> None:
    ida.work(1)
    notebook = ida.session.get_one(Notebook, ida.notebook_id)
    assert notebook.last_seen_at == ida.now
    assert notebooks.seen_lately(ida.session, ida.notebook_id, ida.now + timedelta(seconds=30))
    later = ida.now + timedelta(minutes=2)
    assert not notebooks.seen_lately(ida.session, ida.notebook_id, later)
    notebooks.mark_seen(ida.session, ida.notebook_id, later)
    assert notebooks.seen_lately(ida.session, ida.notebook_id, later)


def test_one_project_for_a_part(ida: Maker) -> None:
    ida.work(1, 2)
    assert len(ida.session.exec(select(Project)).all()) == 1
