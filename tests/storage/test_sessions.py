"""Reading and writing at the same time."""

from __future__ import annotations

import threading
from concurrent.futures import ThreadPoolExecutor

import pytest
from sqlalchemy import Engine, text
from sqlalchemy.exc import OperationalError
from sqlmodel import select

from server.storage.sessions import reading, writing
from server.storage.tables import Entry, Host
from tests.storage.rows import entry, fill


def host(name: str) -> Host:
    return Host(sign_in_name=name, shown_name=name, password_hash="-")


def test_settings_that_keep_what_was_committed(engine: Engine) -> None:
    with reading(engine) as session:
        pragma = {
            name: session.connection().execute(text(f"PRAGMA {name}")).scalar_one()
            for name in ("journal_mode", "synchronous", "foreign_keys", "recursive_triggers")
        }
    assert pragma == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "recursive_triggers": 1}


def test_an_exception_leaves_nothing_behind(engine: Engine) -> None:
    with pytest.raises(ZeroDivisionError), writing(engine) as session:
        session.add(host("a"))
        session.flush()
        raise ZeroDivisionError
    with reading(engine) as session:
        assert session.exec(select(Host)).all() == []


def test_a_reading_session_cannot_write(engine: Engine) -> None:
    with reading(engine) as session:
        session.add(host("a"))
        with pytest.raises(OperationalError, match="readonly"):
            session.commit()
    with writing(engine) as session:  # the connection is in the pool again, and may write
        session.add(host("a"))


def test_a_reader_sees_one_moment_and_does_not_wait(engine: Engine) -> None:
    with reading(engine) as reader:
        assert reader.exec(select(Host)).all() == []
        with writing(engine) as writer:
            writer.add(host("a"))
            writer.flush()
        assert reader.exec(select(Host)).all() == []
    with reading(engine) as reader:
        assert len(reader.exec(select(Host)).all()) == 1


def test_read_then_write_waits_its_turn(engine: Engine) -> None:
    """Two that read first and write later, at once: in a deferred transaction the second fails at once."""
    both = threading.Barrier(2)

    def count_up() -> None:
        both.wait()
        for _ in range(10):
            with writing(engine) as session:
                row = session.exec(select(Host)).one()
                row.shown_name = str(int(row.shown_name) + 1)

    with writing(engine) as session:
        session.add(Host(sign_in_name="a", shown_name="0", password_hash="-"))
    with ThreadPoolExecutor(2) as pool:
        for done in [pool.submit(count_up), pool.submit(count_up)]:
            done.result()
    with reading(engine) as session:
        assert session.exec(select(Host)).one().shown_name == "20"


def test_many_writers_lose_nothing(engine: Engine) -> None:
    with writing(engine) as session:
        project = fill(session).project

    def log(writer: int) -> None:
        for order in range(25):
            with writing(engine) as session:
                session.add(entry(project, f"{writer}-{order}", order))

    with ThreadPoolExecutor(8) as pool:
        list(pool.map(log, range(8)))
    with reading(engine) as session:
        names = {e.id for e in session.exec(select(Entry)).all()}
    assert names == {"a", "b"} | {f"{w}-{o}" for w in range(8) for o in range(25)}
