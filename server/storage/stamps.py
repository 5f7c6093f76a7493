"""What a maker's page of one part is made from, in one cheap statement: as long as it reads the same, so does
the page.

The log only grows and a published version never changes, so a project's number of entries and its version
stand for all of them.
"""

from __future__ import annotations

import sqlite3
import threading
from collections.abc import Sequence
from datetime import datetime
from functools import lru_cache
from typing import Any, NamedTuple

from sqlalchemy import Engine
from sqlmodel import Session, SQLModel

from server.storage import statements
from server.storage.tables import Along, Notebook, Part, Project

SEEN = "last_seen_at"  # changes with every visit, and no page of hers shows it
DRAFT = (
    "draft_text",
    "draft_saved_at",
    "draft_saved_by",
)  # what a host is typing; makers see published versions only
COVERED = ("notebook", "notebook_key", "along", "part", "pattern_version", "project", "entry")


class Stamp(NamedTuple):
    """A notebook that a device has, at a part. `of` is equal as long as nothing its pages show changes."""

    secret_hash: str
    notebook_id: int
    last_seen_at: datetime
    of: tuple[Any, ...]


def _columns(table: type[SQLModel], alias: str, *without: str) -> str:
    names = [column.name for column in SQLModel.metadata.tables[str(table.__tablename__)].columns]
    return ", ".join(f"{alias}.{name}" for name in names if name not in without)


STAMPS = f"""
SELECT k.secret_hash, n.id, n.{SEEN},
  {_columns(Notebook, "n", SEEN)}, {_columns(Along, "a")}, {_columns(Part, "p", *DRAFT)},
  {_columns(Project, "r")},
  (SELECT v.id FROM pattern_version v WHERE v.part_id = p.id ORDER BY v.number DESC LIMIT 1),
  (SELECT count(*) FROM entry e WHERE e.project_id = r.id)
FROM (
  SELECT id AS notebook_id, secret_hash FROM notebook WHERE secret_hash IN ({{marks}})
  UNION ALL
  SELECT notebook_id, secret_hash FROM notebook_key WHERE secret_hash IN ({{marks}}) AND shut_out_at IS NULL
) k
JOIN notebook n ON n.id = k.notebook_id
JOIN part p ON p.id = ? AND p.along_id = n.along_id
JOIN along a ON a.id = n.along_id
LEFT JOIN project r ON r.notebook_id = n.id AND r.part_id = p.id
"""  # noqa: S608  # our own column names, from the tables


def stamps_in(session: Session, secret_hashes: Sequence[str], part_id: int) -> dict[str, Stamp]:
    """By secret hash: the notebooks among these that have the part, as the session sees them."""
    return _by_hash(statements.rows(session, *_asked(secret_hashes, part_id)))


class StampReader:
    """Reads stamps on a connection of its own, kept open: it costs less than a hundredth of a page."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._one_at_a_time = threading.Lock()
        self._held: Any = None

    def read(self, secret_hashes: Sequence[str], part_id: int) -> dict[str, Stamp]:
        """As `stamps_in`, from what is committed at this moment, by whichever process."""
        with self._one_at_a_time:
            return _by_hash(self._connection().execute(*_asked(secret_hashes, part_id)).fetchall())

    def close(self) -> None:
        """Gives the connection back; the next reading opens another."""
        with self._one_at_a_time:
            if self._held is not None:
                self._held.close()
                self._held = None

    def _connection(self) -> sqlite3.Connection:
        if self._held is None:
            self._held = self._engine.raw_connection()
            self._held.driver_connection.execute("PRAGMA query_only=ON")
        connection = self._held.driver_connection
        assert isinstance(connection, sqlite3.Connection)
        return connection


def _asked(secret_hashes: Sequence[str], part_id: int) -> tuple[str, tuple[Any, ...]]:
    return _statement(len(secret_hashes)), (*secret_hashes, *secret_hashes, part_id)


@lru_cache(maxsize=16)
def _statement(secrets: int) -> str:
    return STAMPS.format(marks=",".join("?" * secrets))


def _by_hash(rows: Sequence[tuple[Any, ...]]) -> dict[str, Stamp]:
    return {row[0]: Stamp(row[0], row[1], statements.moment_kept(row[2]), row[3:]) for row in rows}
