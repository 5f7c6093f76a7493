"""Leaving nothing in the file of what was deleted from the database.

SQLite's DELETE only marks a row's place as free. `secure_delete` (set on every connection) fills it with
zeros, but a page that was split earlier may still hold an old copy of a row beside the living ones. VACUUM
writes every page anew from the rows that there are, and the checkpoint empties the write-ahead log.

That this is due is written down with the deletion itself (in the file's user_version, which nothing else
uses), so that a process that was killed in between has it done at the next start.
"""

from __future__ import annotations

import logging
import sqlite3

from sqlalchemy import Engine
from sqlmodel import Session

log = logging.getLogger(__name__)
DUE = 1  # user_version while the file holds what it should not; 0 else
TRIES = 3  # each waits for others as long as any writer does


def note_due(session: Session) -> None:
    """Say, in the transaction that deletes, that the file is to be rewritten."""
    session.connection().exec_driver_sql(f"PRAGMA user_version={DUE}")


def scrub(engine: Engine) -> bool:
    """Rewrite the database file and empty its write-ahead log. False where others kept it busy for too long:
    it stays due then.

    It takes as long as copying the file twice, and nobody writes meanwhile.
    """
    connection = engine.raw_connection()
    try:
        driver = connection.driver_connection
        assert isinstance(driver, sqlite3.Connection)
        driver.execute("PRAGMA query_only=OFF")
        return any(_rewritten(driver) for _ in range(TRIES))
    finally:
        connection.close()


def scrub_if_due(engine: Engine) -> bool:
    """What a process that ended too early left undone. True where nothing is due any more."""
    connection = engine.raw_connection()
    try:
        driver = connection.driver_connection
        assert isinstance(driver, sqlite3.Connection)
        (due,) = driver.execute("PRAGMA user_version").fetchone()
    finally:
        connection.close()
    return due != DUE or scrub(engine)


def _rewritten(driver: sqlite3.Connection) -> bool:
    try:
        driver.execute("VACUUM")
        (busy, _, _) = driver.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
        if not busy:
            driver.execute("PRAGMA user_version=0")
            return True
    except sqlite3.Error as error:  # a full disk, a lock that does not come free
        log.warning("the database could not be rewritten after an erasure", exc_info=error)
    return False
