"""A notebook's file: out and in again gives the same notebook; nothing twice, half or unchecked."""

from __future__ import annotations

import csv
import io
import json
from datetime import datetime, timedelta
from typing import Any

import pytest
from hypothesis import HealthCheck, given
from hypothesis import settings as tries
from hypothesis import strategies as st
from sqlalchemy import Engine
from sqlmodel import Session, func, select

from server.services import notebooks
from server.services.errors import NotFound, Refusal
from server.services.notebooks import erasing, exporting, importing, reading
from server.services.notebooks.importing import Brought
from server.storage.sessions import writing
from server.storage.tables import Along, Entry, Notebook, Part, PatternVersion, Project
from tests.services.story import CROWN, NOW, Maker, make_along, publish

LATER = NOW + timedelta(days=3)


def file_of(session: Session, notebook_id: int, now: datetime = LATER) -> str:
    """Her notebook's file."""
    session.flush()
    session.expire_all()
    return exporting.as_json(exporting.whole(session, notebook_id), now)


def bring(
    session: Session,
    text: str,
    *,
    on_device: tuple[int, ...] = (),
    along_id: int | None = None,
    nickname: str = "",
) -> Brought:
    """Read a file in."""
    file = importing.fitting(reading.read_file(text.encode()), LATER)
    return importing.bring_in(
        session,
        file,
        on_device=on_device,
        along_id=along_id,
        nickname=nickname or file.nickname,
        now=LATER,
    )


def content(text: str) -> dict[str, Any]:
    """What the file says, apart from when it was made."""
    read: dict[str, Any] = json.loads(text)
    del read["exported_at"]
    return read


def doings(maker: Maker, script: list[str]) -> None:
    """What a drawn script says, as far as it can be done at that moment."""
    for doing in script:
        place = maker.desk.place(1)
        if doing == "round" and place.round is not None:
            maker.send("worked", 1, spot=place.round.spot)
        elif doing == "end" and place.can_end is not None:
            maker.send("fit_ended", 1, fit=place.can_end.fit, rounds=place.in_fit)
        elif doing == "undo":
            last = notebooks.last_entry(maker.desk, 1)
            if last is not None:
                maker.send("undo", 1, entry=last.entry.id)
        elif doing == "out" and maker.desk.making.pieces[1].worked:
            maker.send("taken_out", 1, spot=maker.desk.making.pieces[1].worked[-1])
        elif doing == "note":
            maker.send("note", 1, spot=None, text="“blå” garn – =1+1")
        elif doing == "hook":
            maker.send("hook", 1, hook_mm=5.5, spot=None)
        elif doing == "count" and maker.desk.making.pieces[1].worked:
            maker.send("counted", 1, spot=maker.desk.making.pieces[1].worked[-1], name="dc", count=24)
        elif doing == "two":
            maker.device = "tablet"


DOINGS = st.lists(
    st.sampled_from(["round", "round", "round", "end", "undo", "out", "note", "hook", "count", "two"]),
    max_size=14,
)


@given(script=DOINGS, with_code=st.booleans())
@tries(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_out_erased_and_in_again_is_the_same_notebook(
    engine: Engine, script: list[str], with_code: bool
) -> None:
    """Byte by byte apart from exported_at, and the same state, in her along and in one of her own."""
    with writing(engine) as session:
        code = f"K{session.exec(select(func.count()).select_from(Along)).one():05}"
        along_id, part_id = make_along(session, code=code)
        maker = Maker(session, part_id, code=code)
        maker.settle(24, "small")
        doings(maker, script)
        before, making = file_of(session, maker.notebook_id), maker.desk.making
        erasing.erase(session, maker.notebook_id, "Ida", LATER)
        brought = bring(session, before, along_id=along_id if with_code else None)
        assert content(file_of(session, brought.notebook_id)) == content(before)
        after = file_of(session, brought.notebook_id)
        assert after.splitlines()[4:] == before.splitlines()[4:]
        part = session.exec(select(Project.part_id).where(Project.notebook_id == brought.notebook_id)).one()
        assert (part == part_id) == with_code
        desk = notebooks.open_desk(session, brought.notebook_id, part)
        assert desk.making == making
        assert [each.text for each in (desk.version,)] == [content(before)["projects"][0]["pattern"]["text"]]
        session.rollback()


@pytest.fixture
def ida(session: Session) -> Maker:
    """Ida, who has worked four rounds over 24 chains."""
    maker = Maker(session, make_along(session)[1])
    maker.settle(24, "small")
    maker.send("note", 0, spot=None, text="for the boat")
    maker.work(1, 4)
    return maker


def test_what_she_told_of_fit_and_yarn_comes_along(session: Session, ida: Maker) -> None:
    """Out, erased and in again: hand, gauge, ease and yarn as she gave them, each within its bounds."""
    ida.send("hand", 0, known="measured", around_mm=185)
    ida.send("gauge", 0, source="swatch", stitches=18, over_mm=100)
    ida.send("ease", 0, smaller_percent=8)
    ida.send("yarn", 0, category=4, grams=50, metres=85)
    before = file_of(session, ida.notebook_id)
    entries = content(before)["projects"][0]["entries"]
    assert entries[-2]["values"] == {"smaller_percent": 8}
    spoiled = before.replace('"smaller_percent": 8', '"smaller_percent": 80')
    assert spoiled != before
    with pytest.raises(Refusal):
        bring(session, spoiled)
    erasing.erase(session, ida.notebook_id, "Ida", LATER)
    again = bring(session, before)
    assert content(file_of(session, again.notebook_id))["projects"][0]["entries"] == entries


def test_read_in_twice_brings_nothing_twice(session: Session, ida: Maker) -> None:
    file = file_of(session, ida.notebook_id)
    entries = session.exec(select(func.count()).select_from(Entry)).one()
    brought = bring(session, file, on_device=(ida.notebook_id,))
    assert (brought.notebook_id, brought.secret, brought.added, brought.known) == (
        ida.notebook_id, None, 0, entries,
    )  # fmt: skip
    assert session.exec(select(func.count()).select_from(Entry)).one() == entries


def test_what_is_missing_is_added_to_the_notebook_on_the_device(session: Session, ida: Maker) -> None:
    """An old device's file from before, and a log that went on here: both are in the log afterwards."""
    early = json.loads(file_of(session, ida.notebook_id))
    late = json.loads(json.dumps(early))
    extra = dict(late["projects"][0]["entries"][-1], id="from-elsewhere", kind="note", piece=1)
    extra["values"] = {"spot": None, "text": "on the ferry"}
    late["projects"][0]["entries"].append(extra)
    brought = bring(session, json.dumps(late), on_device=(ida.notebook_id,))
    assert (brought.added, brought.differing) == (1, 0)
    assert [note.text for note in ida.desk.making.pieces[1].notes] == ["on the ferry"]


def test_the_log_is_never_changed_by_a_file(session: Session, ida: Maker) -> None:
    told = json.loads(file_of(session, ida.notebook_id))
    note = next(each for each in told["projects"][0]["entries"] if each["kind"] == "note")
    note["values"]["text"] = "for the car"
    brought = bring(session, json.dumps(told), on_device=(ida.notebook_id,))
    assert brought.differing == 1
    assert [each.text for each in ida.desk.making.notes] == ["for the boat"]


def test_a_notebook_that_is_not_on_the_device_is_never_written_into(session: Session, ida: Maker) -> None:
    """The file becomes a copy with other ids, once; hers stays as it is."""
    undone = ida.send("note", 1, spot=None, text="gone")
    ida.send("undo", 1, entry=undone)
    file = file_of(session, ida.notebook_id)
    copy = bring(session, file)
    assert copy.is_copy
    assert copy.notebook_id != ida.notebook_id
    assert file_of(session, ida.notebook_id) == file
    copied = json.loads(file_of(session, copy.notebook_id))
    part = session.exec(select(Project.part_id).where(Project.notebook_id == copy.notebook_id)).one()
    assert notebooks.open_desk(session, copy.notebook_id, part).making.pieces[1].notes == ()
    ids = {entry["id"] for entry in copied["projects"][0]["entries"]}
    assert ids.isdisjoint(entry["id"] for entry in json.loads(file)["projects"][0]["entries"])
    again = bring(session, file, on_device=(copy.notebook_id,))
    assert (again.notebook_id, again.added) == (copy.notebook_id, 0)


def test_several_parts_come_along(session: Session, ida: Maker) -> None:
    along_id = session.exec(select(Part.along_id).where(Part.id == ida.part_id)).one()
    crown = Part(along_id=along_id, position=2, title="Lantern Crown")
    session.add(crown)
    session.flush()
    assert crown.id is not None
    publish(session, crown.id, CROWN)
    hat = Maker.at(session, crown.id, ida.notebook_id)
    hat.settle(None, "large")
    file = file_of(session, ida.notebook_id)
    assert [each["part"]["title"] for each in json.loads(file)["projects"]] == [
        "Slipway Wristers", "Lantern Crown",
    ]  # fmt: skip
    erasing.erase(session, ida.notebook_id, "ida", LATER)
    brought = bring(session, file)
    assert brought.private
    assert content(file_of(session, brought.notebook_id)) == content(file)
    shelf = notebooks.open_shelf(session, brought.notebook_id)
    assert [part.stage for part in shelf.parts] == ["working", "working"]
    assert (shelf.host_name, shelf.from_file) == ("Marit Hollow", True)


def test_an_along_without_that_pattern_takes_none_of_it(session: Session, ida: Maker) -> None:
    other_along, _ = make_along(session, CROWN, code="OTH234")
    file = file_of(session, ida.notebook_id)
    erasing.erase(session, ida.notebook_id, "Ida", LATER)
    with pytest.raises(Refusal, match="no pattern of the same words"):
        bring(session, file, along_id=other_along)


def test_a_nickname_that_is_taken(session: Session, ida: Maker) -> None:
    along_id = session.exec(select(Part.along_id).where(Part.id == ida.part_id)).one()
    file = file_of(session, ida.notebook_id)
    with pytest.raises(Refusal, match="already called Ida"):
        bring(session, file, along_id=along_id)
    brought = bring(session, file, along_id=along_id, nickname="Ida too")
    assert notebooks.open_shelf(session, brought.notebook_id).nickname == "Ida too"


def test_an_entry_of_an_earlier_version_comes_along(session: Session, ida: Maker) -> None:
    """A taken-out round that the version she moved to does not have any more."""
    ida.send("taken_out", 1, spot=ida.desk.making.pieces[1].worked[0])
    told = json.loads(file_of(session, ida.notebook_id))
    entries = told["projects"][0]["entries"]
    for entry in entries:
        if entry["kind"] in ("worked", "taken_out") and entry["values"]["spot"] == "0.3.1":
            entry["values"]["spot"] = "9.9.1"
    erasing.erase(session, ida.notebook_id, "Ida", LATER)
    brought = bring(session, json.dumps(told))
    assert brought.added == len(entries)


def test_a_round_that_stands_and_is_not_in_the_pattern_is_refused(session: Session, ida: Maker) -> None:
    told = json.loads(file_of(session, ida.notebook_id))
    told["projects"][0]["entries"][-1]["values"]["spot"] = "9.9.1"
    with pytest.raises(Refusal, match="no such round"):
        bring(session, json.dumps(told))


def changed(told: dict[str, Any], path: str, value: Any) -> None:
    """Set one field of the file; "-" takes it out."""
    at: Any = told
    *way, last = path.split(".")
    for name in way:
        at = at[int(name)] if name.isdigit() else at[name]
    if value == "-":
        del at[last]
    else:
        at[int(last) if last.isdigit() else last] = value


@pytest.mark.parametrize(
    ("path", "value", "says"),
    [
        ("form", "another", "not a notebook's file"),
        ("version", 2, "this server reads 1"),
        ("notebook.nickname", "", "notebook, nickname: 0 characters"),
        ("notebook.nickname", 5, "notebook, nickname: a text should stand here"),
        ("notebook.terms", "FR", "one of US, UK"),
        ("notebook.terms", ["US"], "one of US, UK"),
        ("notebook.joined_at", "yesterday", "a moment like 2026-03-01T19:04:05.000000Z"),
        ("notebook.joined_at", "2026-02-30T19:04:05.000000Z", "on no calendar"),
        ("notebook.extra", 1, "notebook: “extra” is no field of this form"),
        ("along.host", "-", "along: “host” is missing"),
        ("along", [], "along: an object with fields"),
        ("projects", {}, "projects: a list should stand here"),
        ("projects.0.entries", [], "Project 1: a part that was begun has at least one entry"),
        ("projects.0.part.position", 0, "Project 1, part, position: a whole number from 1"),
        ("projects.0.part.position", True, "a whole number should stand here"),
        ("projects.0.pattern.text", "x" * 60_001, "60,001 characters"),
        ("projects.0.pattern.text", "Title: Nothing", "Project 1: its pattern has no rounds"),
        ("projects.0.entries.2.id", "<b>", "Project 1, entry 3, id: 8 to 64 letters"),
        ("projects.0.entries.2.piece", 3, "Project 1, entry 3, piece: a whole number from 0 to 2"),
        ("projects.0.entries.2.kind", "erased", "Project 1, entry 3, kind: one of"),
        ("projects.0.entries.2.values", "x", "Project 1, entry 3, values: an object"),
        ("projects.0.entries.2.values", {"spot": "x" * 30_000}, "no entry holds as much"),
        ("projects.0.entries.2.values", {"\ud800": 1}, "no character that could be written down"),
        ("projects.0.entries.2.values", {"spot": "0.0.x"}, "Project 1, entry 3, worked: This version"),
        ("projects.0.entries.2.at", "2999-01-01T00:00:00.000Z", "entry 3, at: this moment is still to come"),
        ("projects.0.entries.2.order", -1, "Project 1, entry 3, order: a whole number from 0"),
        ("projects.0.entries.2.device", "a phone", "Project 1, entry 3, device"),
        ("projects.0.entries.2.received_at", None, "Project 1, entry 3, received_at: a moment like"),
    ],
)  # fmt: skip
def test_every_field_is_checked(session: Session, ida: Maker, path: str, value: Any, says: str) -> None:
    told = json.loads(file_of(session, ida.notebook_id))
    changed(told, path, value)
    with pytest.raises(Refusal) as refused:
        bring(session, json.dumps(told))
    assert says in refused.value.message
    assert len(session.exec(select(Notebook)).all()) == 1


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"\xff\xfe",
        b"hello",
        b"[]",
        b"[" * 100_000,
        b'{"form": NaN}',
        b'{"version": ' + b"9" * 5000 + b"}",
    ],
)
def test_what_is_no_file_of_ours(raw: bytes) -> None:
    with pytest.raises(Refusal, match="not a notebook's file"):
        reading.read_file(raw)


def test_an_id_twice_in_the_file(session: Session, ida: Maker) -> None:
    told = json.loads(file_of(session, ida.notebook_id))
    told["projects"][0]["entries"].append(told["projects"][0]["entries"][0])
    with pytest.raises(Refusal, match="its id stands twice"):
        bring(session, json.dumps(told))


def test_a_log_that_no_page_could_show_is_refused(session: Session, ida: Maker) -> None:
    """Over 1000 chains a round has well over 1000 stitches: 300 rounds of them are more than a piece has."""
    told = json.loads(file_of(session, ida.notebook_id))
    entries = told["projects"][0]["entries"]
    settled = next(each for each in entries if each["kind"] == "settled")
    settled["values"] = {"foundation": 1000, "size": None}
    worked = [each for each in entries if each["kind"] == "worked"]
    worked[-1]["values"]["spot"] = "0.3.300"
    erasing.erase(session, ida.notebook_id, "Ida", LATER)
    with pytest.raises(Refusal, match="more than one piece can have"):
        bring(session, json.dumps(told))


def test_erasing_takes_the_private_patterns_with_it(session: Session, ida: Maker) -> None:
    file = file_of(session, ida.notebook_id)
    copy = bring(session, file)
    assert len(session.exec(select(PatternVersion)).all()) == 2
    erasing.erase(session, copy.notebook_id, "Ida", LATER)
    assert len(session.exec(select(PatternVersion)).all()) == 1
    assert len(session.exec(select(Along)).all()) == 1
    with pytest.raises(NotFound):
        exporting.whole(session, copy.notebook_id)


def rows_of(text: str) -> list[dict[str, str]]:
    """A CSV's lines by column."""
    return list(csv.DictReader(io.StringIO(text, newline="")))


def test_a_line_for_every_entry(session: Session, ida: Maker) -> None:
    undone = ida.send("note", 1, spot="0.0.1", text="=SUM(A1), “zwei”\nLinien")
    ida.send("undo", 1, entry=undone)
    lines = rows_of(exporting.entries_csv(exporting.desks(session, ida.notebook_id)))
    assert len(lines) == ida.desk.state
    assert [line["entry"] for line in lines] == [logged.entry.id for logged in ida.desk.log]
    assert {line["entry"] for line in lines if line["in_force"] == "no"} == {undone, lines[-1]["entry"]}
    assert json.loads(next(line for line in lines if line["entry"] == undone)["values"]) == {
        "spot": "0.0.1", "text": "=SUM(A1), “zwei”\nLinien",
    }  # fmt: skip


def test_a_line_for_every_round_as_made(session: Session, ida: Maker) -> None:
    ida.send("hook", 1, hook_mm=5, spot=None)
    ida.send("hook", 1, hook_mm=4.5, spot="0.2.1")
    ida.send("counted", 1, spot="0.1.1", name="sc", count=24)
    ida.send("note", 1, spot="0.1.1", text="=1+1")
    ida.send("measured", 1, what="width", mm=90, spot="0.2.1")
    ida.send("weighed", 1, grams=11, spot="0.2.1")
    lines = rows_of(exporting.rounds_csv(exporting.desks(session, ida.notebook_id)))
    assert [(line["round"], line["hook_mm"]) for line in lines] == [
        ("Foundation", "5"), ("Rnd 1", "5"), ("Rnd 2", "4.5"), ("Rnd 3", "4.5"),
    ]  # fmt: skip
    assert (lines[1]["counted"], lines[1]["notes"]) == ("24 sc", "'=1+1")
    assert (lines[2]["width_mm"], lines[2]["weight_g"]) == ("90", "11")
    assert {(line["foundation_chains"], line["size"], line["piece"]) for line in lines} == {
        ("24", "small", "Glove one")
    }
