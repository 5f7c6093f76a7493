"""What the same machine does without the server: one row and one commit at a time, kept on the disk."""

from __future__ import annotations

import sqlite3
import time
from pathlib import Path
from uuid import uuid4

from sqlmodel import Session

from server.storage.sessions import open_engine
from server.storage.tables import Entry

AT = "2026-11-20T19:30:00.000Z"


def bare_sqlite(database: Path, project_id: int, rows: int) -> float:
    """Rows a second through sqlite3 alone, with the settings that the server uses."""
    connection = sqlite3.connect(database, isolation_level=None)
    connection.execute("PRAGMA journal_mode=WAL")
    connection.execute("PRAGMA synchronous=FULL")
    begun = time.perf_counter()
    for order in range(rows):
        connection.execute("BEGIN IMMEDIATE")
        connection.execute(
            "INSERT INTO entry VALUES (?, ?, 1, 'note', '{}', ?, 'bench', ?, '2026-11-20 19:30:00')",
            (uuid4().hex, project_id, AT, order),
        )
        connection.execute("COMMIT")
    took = time.perf_counter() - begun
    connection.close()
    return rows / took


def in_process(database: Path, project_id: int, rows: int) -> float:
    """Rows a second by SQLModel on one connection, a session and a COMMIT for each, without any HTTP."""
    engine = open_engine(database)
    with engine.execution_options(writing=True).connect() as connection:
        begun = time.perf_counter()
        for order in range(rows):
            with Session(connection) as session:
                session.add(
                    Entry(
                        id=uuid4().hex, project_id=project_id, piece=1, kind="note", values_json="{}", at=AT,
                        device="bench", device_order=order,
                    )
                )  # fmt: skip
                session.commit()
        took = time.perf_counter() - begun
    engine.dispose()
    return rows / took
