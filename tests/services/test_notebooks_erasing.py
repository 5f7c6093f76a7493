"""Erasing for good: nothing of the notebook is left in the database's files, and there is a receipt."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

import pytest
from sqlalchemy import Engine
from sqlmodel import Session, select

from server.services import backup, joining
from server.services.errors import Gone, NotFound, Refusal
from server.services.notebooks import erasing, ways
from server.settings import Settings
from server.storage.scrubbing import scrub, scrub_if_due
from server.storage.sessions import reading, writing
from server.storage.tables import METADATA, Entry, Erasure, Notebook
from tests.services.story import NOW, Maker, make_along

LATER = NOW + timedelta(days=3)
SAID = "kittiwakeunderthepier"


def write_much(session: Session, maker: Maker) -> None:
    """A log with a rare word in many notes: enough for the tables to grow over several pages."""
    maker.settle(24, "small")
    for number in range(150):
        maker.send("note", 1, spot=None, text=f"{SAID} {number} " + "x" * 300)


def files_of(database: Path) -> bytes:
    """All bytes of the database's files, the write-ahead log among them."""
    return b"".join(each.read_bytes() for each in database.parent.glob(f"{database.name}*"))


def test_nothing_is_left_in_the_files(engine: Engine, settings: Settings) -> None:
    with writing(engine) as session:
        _, part_id = make_along(session)
        una = Maker(session, part_id, nickname="Una")
        una.settle(28, "medium")
        una.send("note", 1, spot=None, text="stays where it is")
        ida = Maker(session, part_id, nickname="Idabella")
        write_much(session, ida)
        ways.add_key(session, ida.notebook_id, "card", NOW)
    assert SAID.encode() in files_of(settings.database)
    with writing(engine) as session:
        receipt = erasing.erase(session, ida.notebook_id, " idaBella ", LATER)
    assert scrub(engine)
    left = files_of(settings.database)
    for gone in (SAID, "Idabella", SAID[:8]):
        assert gone.encode() not in left
    assert b"stays where it is" in left
    assert (receipt.projects, receipt.entries, receipt.keys) == (1, 151, 2)
    with reading(engine) as session:
        assert [each.nickname for each in session.exec(select(Notebook)).all()] == ["Una"]
        assert erasing.receipt_of(session, receipt.number.lower()) == receipt


def test_a_process_that_ended_too_early_leaves_it_to_the_next(engine: Engine, settings: Settings) -> None:
    """Erased and committed, and killed before the file was rewritten: the next start does it."""
    with writing(engine) as session:
        ida = Maker(session, make_along(session)[1], nickname="Idabella")
        write_much(session, ida)
    with writing(engine) as session:
        erasing.erase(session, ida.notebook_id, "Idabella", LATER)
    assert SAID.encode() in files_of(settings.database)  # in the file until a checkpoint
    assert scrub_if_due(engine)
    assert SAID.encode() not in files_of(settings.database)
    written = settings.database.stat().st_mtime_ns
    assert scrub_if_due(engine)  # nothing is due any more
    assert settings.database.stat().st_mtime_ns == written


def test_another_nickname_erases_nothing(session: Session) -> None:
    ida = Maker(session, make_along(session)[1])
    with pytest.raises(Refusal, match="Write Ida here") as refused:
        erasing.erase(session, ida.notebook_id, "Una", LATER)
    assert refused.value.field == "nickname"
    assert joining.notebook_at(session, ida.secret).notebook_id == ida.notebook_id


def test_every_device_is_told(session: Session) -> None:
    ida = Maker(session, make_along(session)[1])
    phone = ways.add_key(session, ida.notebook_id, "device", NOW)
    number = erasing.erase(session, ida.notebook_id, "Ida", LATER).number
    for secret in (ida.secret, phone):
        with pytest.raises(Gone, match=f"erased for good on 8 November 2026.*{number}"):
            joining.notebook_at(session, secret)
    with pytest.raises(NotFound) as unknown:
        joining.notebook_at(session, joining.new_secret())
    assert not isinstance(unknown.value, Gone)


def test_a_receipt_is_no_longer_kept_than_a_device_keeps_a_secret(session: Session) -> None:
    _, part_id = make_along(session)
    first, second = Maker(session, part_id, nickname="Ida"), Maker(session, part_id, nickname="Una")
    early = erasing.erase(session, first.notebook_id, "Ida", NOW)
    erasing.erase(session, second.notebook_id, "Una", NOW + erasing.RECEIPTS_STAY + timedelta(days=1))
    assert len(session.exec(select(Erasure)).all()) == 1
    with pytest.raises(NotFound):
        erasing.receipt_of(session, early.number)
    assert joining.lost_at(session, (first.secret,)) == ()


def test_every_table_that_refers_to_a_notebook_goes_with_it() -> None:
    """A later table cannot forget it: what refers to a notebook, its project or an entry cascades."""
    hers = {"notebook", "project", "entry"}
    keys = [
        (table.name, key)
        for table in METADATA.tables.values()
        for key in table.foreign_keys
        if key.column.table.name in hers
    ]
    assert {name for name, _ in keys} >= {
        "project",
        "entry",
        "project_place",
        "notebook_key",
        "notebook_move",
    }
    assert [name for name, key in keys if key.ondelete != "CASCADE"] == []


def test_a_backup_put_back_does_not_bring_it_back(engine: Engine, settings: Settings, tmp_path: Path) -> None:
    """What was erased since the backup is erased again, by its link or by any other key; the rest is back."""
    with writing(engine) as session:
        _, part_id = make_along(session)
        una, ida = Maker(session, part_id, nickname="Una"), Maker(session, part_id, nickname="Idabella")
        write_much(session, ida)
        phone = ways.add_key(session, ida.notebook_id, "device", NOW)
    copy = tmp_path / "copy.db"
    backup.back_up(settings.database, copy)
    with writing(engine) as session:
        ways.renew_link(session, ida.notebook_id, ida.secret, NOW)
        number = erasing.erase(session, ida.notebook_id, "Idabella", LATER).number
        una_key = una.secret
    assert scrub(engine)
    backup.restore(copy, settings.database, LATER, force=True)
    with reading(engine) as session:
        assert joining.notebook_at(session, una_key).nickname == "Una"
        with pytest.raises(Gone):
            joining.notebook_at(session, phone)
        assert erasing.receipt_of(session, number).entries == 151
        assert session.exec(select(Entry)).all() == []
    assert SAID.encode() not in files_of(settings.database)
