"""Leaving nothing in the file of what was deleted from the database.

SQLite's DELETE only marks a row's place as free. `secure_delete` (set on every connection) fills it with
zeros, but a page that was split earlier may still hold an old copy of a row beside the living ones. VACUUM
writes every page anew from the rows that there are, and the checkpoint empties the write-ahead log.
"""

from __future__ import annotations

import logging
import sqlite3

from sqlalchemy import Engine

log = logging.getLogger(__name__)


def scrub(engine: Engine) -> bool:
    """Rewrite the database file and empty its write-ahead log. False where others kept it busy for too long.

    It takes as long as copying the file twice, and holds the turn to write meanwhile.
    """
    connection = engine.raw_connection()
    try:
        driver = connection.driver_connection
        assert driver is not None
        driver.execute("PRAGMA query_only=OFF")
        driver.execute("VACUUM")
        (busy, _, _) = driver.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()
    except sqlite3.Error as error:  # a full disk, a lock that does not come free
        log.warning("the database could not be rewritten after an erasure", exc_info=error)
        return False
    finally:
        connection.close()
    return not busy
