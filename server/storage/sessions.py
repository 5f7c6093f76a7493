"""The database and the two kinds of session on it.

SQLite in WAL mode: readers never wait for a writer, and a writer never waits for readers.
`synchronous=FULL`: what was committed is on the disk. A writing session begins with BEGIN IMMEDIATE: a
transaction that reads first and writes later would otherwise fail at once, without waiting its turn,
whenever another one wrote in between. A reading session cannot write at all.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.pool import ConnectionPoolEntry
from sqlmodel import Session

from server.storage.savepoints import NAME as SQLITE

BUSY_MS = 10_000  # how long a writer waits for another process' writer before it gives up
CONNECTIONS = 42  # one for each of the server's 40 worker threads, the writer's, and the one for stamps


def open_engine(path: Path) -> Engine:
    """The engine on the database file at `path`, made at the first use; its folder has to be there."""
    engine = create_engine(
        f"{SQLITE}:///{path}",
        connect_args={"check_same_thread": False, "timeout": BUSY_MS / 1000},
        pool_size=CONNECTIONS,
        max_overflow=0,
    )
    event.listen(engine, "connect", _set_up)
    event.listen(engine, "begin", _begin)
    event.listen(engine, "checkin", _end)
    return engine


def _set_up(connection: sqlite3.Connection, _: ConnectionPoolEntry) -> None:
    connection.isolation_level = None  # we emit BEGIN ourselves, see _begin
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    connection.execute("PRAGMA foreign_keys=ON")
    connection.execute("PRAGMA secure_delete=ON")  # what goes is overwritten, see scrubbing.py
    # Without it REPLACE would take an entry out behind the back of the trigger that refuses it.
    connection.execute("PRAGMA recursive_triggers=ON")


def _begin(connection: Connection) -> None:
    writing_now = bool(connection.get_execution_options().get("writing"))
    connection.exec_driver_sql(f"PRAGMA query_only={'OFF' if writing_now else 'ON'}")
    connection.exec_driver_sql("BEGIN IMMEDIATE" if writing_now else "BEGIN")


def _end(connection: sqlite3.Connection | None, _: ConnectionPoolEntry) -> None:
    # A COMMIT that SQLite refuses (a deferred constraint) leaves the transaction open, and SQLAlchemy takes
    # it for ended.
    if connection is not None and connection.in_transaction:
        connection.rollback()


def read_session(engine: Engine) -> Session:
    """A session that sees one moment of the database and cannot write. Whoever opens it closes it."""
    return Session(engine, expire_on_commit=False, autoflush=False)


def write_session(engine: Engine) -> Session:
    """A session that alone may write, from its first statement on. Whoever opens it commits and closes it."""
    return Session(engine.execution_options(writing=True), expire_on_commit=False)


@contextmanager
def reading(engine: Engine) -> Iterator[Session]:
    """A session for reading: `with reading(engine) as session: ...`."""
    with read_session(engine) as session:
        yield session


@contextmanager
def writing(engine: Engine) -> Iterator[Session]:
    """One transaction: committed at the end of the block, rolled back when an exception leaves it."""
    with write_session(engine) as session:
        yield session
        session.commit()
