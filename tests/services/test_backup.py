"""Backups: whole, sound, and put back without losing what was there."""

from __future__ import annotations

import sqlite3
import stat
import threading
from datetime import UTC, datetime
from pathlib import Path

import pytest
from sqlalchemy import Engine, text
from sqlmodel import select

from server.services.backup import back_up, problem_with, restore
from server.services.errors import Refusal
from server.settings import Settings
from server.storage.sessions import reading, writing
from server.storage.tables import Host

NOW = datetime(2026, 11, 20, 19, 30, tzinfo=UTC)


def add(engine: Engine, *names: str) -> None:
    with writing(engine) as session:
        session.add_all([Host(sign_in_name=name, shown_name=name, password_hash="-") for name in names])


def names(engine: Engine) -> list[str]:
    with reading(engine) as session:
        return sorted(host.sign_in_name for host in session.exec(select(Host)).all())


def names_in(file: Path) -> list[str]:
    with sqlite3.connect(file) as connection:
        return sorted(name for (name,) in connection.execute("SELECT sign_in_name FROM host"))


def test_there_and_back(settings: Settings, engine: Engine, tmp_path: Path) -> None:
    copy = tmp_path / "copy.db"
    add(engine, "marit")
    back_up(settings.database, copy)
    assert names_in(copy) == ["marit"]
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    assert sorted(p.name for p in tmp_path.iterdir()) == ["copy.db", "var"]

    add(engine, "orla")
    kept = restore(copy, settings.database, NOW, force=True)
    assert names(engine) == ["marit"], "a server that has the database open reads what was restored"
    add(engine, "fern")
    assert names(engine) == ["fern", "marit"]
    assert kept is not None
    assert kept.name == "evenhand-before-restore-20261120T193000Z.db"
    assert names_in(kept) == ["marit", "orla"]


def test_into_an_empty_folder(settings: Settings, engine: Engine, tmp_path: Path) -> None:
    add(engine, "marit")
    back_up(settings.database, tmp_path / "copy.db")
    other = tmp_path / "other.db"
    assert restore(tmp_path / "copy.db", other, NOW) is None
    assert names_in(other) == ["marit"]
    assert problem_with(other) == ""


def test_nothing_is_replaced_unasked(settings: Settings, engine: Engine, tmp_path: Path) -> None:
    copy = tmp_path / "copy.db"
    back_up(settings.database, copy)
    add(engine, "marit")
    with pytest.raises(Refusal, match="there already"):
        back_up(settings.database, copy)
    assert names_in(copy) == []
    back_up(settings.database, copy, force=True)
    assert names_in(copy) == ["marit"]
    add(engine, "orla")
    with pytest.raises(Refusal, match="--force"):
        restore(copy, settings.database, NOW)
    assert names(engine) == ["marit", "orla"]


def test_while_others_write(settings: Settings, engine: Engine, tmp_path: Path) -> None:
    stop = threading.Event()
    written: list[str] = []

    def write() -> None:
        while not stop.is_set():
            written.append(f"host{len(written)}")
            add(engine, written[-1])

    writer = threading.Thread(target=write)
    writer.start()
    try:
        for number in range(3):
            back_up(settings.database, tmp_path / f"{number}.db")
    finally:
        stop.set()
        writer.join()
    assert names(engine) == sorted(written)
    for number in range(3):
        copied = names_in(tmp_path / f"{number}.db")
        assert copied == sorted(written[: len(copied)]), (
            "one moment: all that was written before, nothing after"
        )


def test_what_is_no_backup_is_refused(settings: Settings, engine: Engine, tmp_path: Path) -> None:
    add(engine, "marit")
    text_file = tmp_path / "pattern.txt"
    text_file.write_text("Title: Wristers\n" * 100)
    foreign = tmp_path / "foreign.db"
    with sqlite3.connect(foreign) as connection:
        connection.execute("CREATE TABLE song (name TEXT)")
    newer = tmp_path / "newer.db"
    back_up(settings.database, newer)
    with sqlite3.connect(newer) as connection:
        connection.execute("UPDATE alembic_version SET version_num = '9999'")
    damaged = tmp_path / "damaged.db"
    back_up(settings.database, damaged)
    raw = bytearray(damaged.read_bytes())
    raw[4096 * 3 : 4096 * 6] = b"\xff" * (4096 * 3)
    damaged.write_bytes(raw)

    for file, why in [
        (text_file, "not a sound database"),
        (foreign, "not one of Evenhand"),
        (newer, "newer version"),
        (damaged, "damaged|not a sound"),
        (tmp_path / "none.db", "no file"),
    ]:
        with pytest.raises(Refusal, match=why):
            restore(file, settings.database, NOW, force=True)
    assert names(engine) == ["marit"]


def test_a_backup_with_rows_that_refer_to_nothing_is_refused(
    settings: Settings, engine: Engine, tmp_path: Path
) -> None:
    torn = tmp_path / "torn.db"
    back_up(settings.database, torn)
    with sqlite3.connect(torn) as connection:
        connection.execute("INSERT INTO host_session VALUES (1, 'x', 99, '2026-11-20', '2026-11-20')")
    with pytest.raises(Refusal, match="rows that are not there"):
        restore(torn, settings.database, NOW, force=True)


def test_the_write_ahead_log_is_in_the_copy(settings: Settings, engine: Engine, tmp_path: Path) -> None:
    with reading(engine) as session:  # keeps the log from being emptied into the database
        session.connection().execute(text("SELECT count(*) FROM host"))
        add(engine, "marit")
        assert settings.database.with_name("evenhand.db-wal").stat().st_size > 0
        back_up(settings.database, tmp_path / "copy.db")
    assert names_in(tmp_path / "copy.db") == ["marit"]


def test_no_database_and_no_folder(tmp_path: Path, settings: Settings) -> None:
    with pytest.raises(Refusal, match="no database"):
        back_up(tmp_path / "none.db", tmp_path / "copy.db")
    with pytest.raises(Refusal, match="no folder"):
        back_up(settings.database, tmp_path / "none" / "copy.db")
