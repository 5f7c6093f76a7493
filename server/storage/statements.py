"""The statements that every page of a maker and every entry of hers costs, as plain SQL.

The ORM takes ten times as long for them as SQLite does. Each reads or writes what the session's own
transaction sees; what the session still holds back is flushed first, and rows it has loaded are told that
they changed.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from contextlib import AbstractContextManager, nullcontext
from datetime import UTC, datetime
from typing import Any, NamedTuple

from sqlalchemy.exc import DBAPIError
from sqlmodel import Session, SQLModel

from server.storage.kept import flush_held_back, kept_in
from server.storage.tables import Notebook, ProjectPlace

IDS_AT_ONCE = 500
BEGUN = "the connection that its transaction has begun on"  # key in a session's info
IN_HAND = "the connection whose transaction it is in"  # another: whoever opened the session began it


class DeskRow(NamedTuple):
    """What there is of a maker at a part. project_id and own_* are None before her first entry."""

    nickname: str
    terms: str
    units: str
    wording: str
    along_title: str
    part_title: str
    newest_id: int
    newest_number: int
    newest_text: str
    project_id: int | None
    own_id: int | None
    own_number: int | None
    own_text: str | None


class EntryRow(NamedTuple):
    """A row of `entry` as SQLite keeps it: its values as JSON, the server's moment as `kept` writes it."""

    id: str
    piece: int
    kind: str
    values_json: str
    at: str
    device: str
    device_order: int
    received_at: str


class LogMark(NamedTuple):
    """What a project's log is known again by: as long as it reads the same, so does the log.

    A log only grows, and goes with its notebook. The hash is no other notebook's, also where the erased
    one's number is given to a new one; `newest` is the entry that was written down last, not the last in
    time.
    """

    secret_hash: str
    entries: int
    newest: str | None


class PlaceRow(NamedTuple):
    """A row of `project_place`, its moment as `kept` writes it."""

    project_id: int
    piece: int
    spot: str | None
    section_title: str
    round_label: str
    foundation: int | None
    size: str | None
    verdict: str
    updated_at: str


class NotebookRow(NamedTuple):
    """A notebook with the title of its along, and the hash of the secret that opened it."""

    id: int
    along_id: int
    along_title: str
    nickname: str
    secret_hash: str


DESK = """
SELECT n.nickname, n.terms, n.units, n.wording, a.title, p.title,
  v.id, v.number, v.text, r.id, o.id, o.number, o.text
FROM notebook n
JOIN part p ON p.id = ? AND p.along_id = n.along_id
JOIN along a ON a.id = n.along_id
JOIN pattern_version v ON v.part_id = p.id
LEFT JOIN project r ON r.notebook_id = n.id AND r.part_id = p.id
LEFT JOIN pattern_version o ON o.id = r.pattern_version_id
WHERE n.id = ? ORDER BY v.number DESC LIMIT 1
"""
LOG = """
SELECT id, piece, kind, values_json, at, device, device_order, received_at
FROM entry WHERE project_id = ? ORDER BY at, device, device_order, id
"""
LOG_MARK = """
SELECT n.secret_hash, (SELECT count(*) FROM entry e WHERE e.project_id = r.id),
  (SELECT e.id FROM entry e WHERE e.project_id = r.id ORDER BY e.rowid DESC LIMIT 1)
FROM project r JOIN notebook n ON n.id = r.notebook_id WHERE r.id = ?
"""
NOTEBOOKS = """
SELECT n.id, n.along_id, a.title, n.nickname, k.secret_hash
FROM (
  SELECT id AS notebook_id, secret_hash FROM notebook WHERE secret_hash IN ({marks})
  UNION ALL
  SELECT notebook_id, secret_hash FROM notebook_key WHERE secret_hash IN ({marks}) AND shut_out_at IS NULL
) k JOIN notebook n ON n.id = k.notebook_id JOIN along a ON a.id = n.along_id
"""
INSERT_ENTRY = """
INSERT INTO entry (project_id, id, piece, kind, values_json, at, device, device_order, received_at)
VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
"""
PLACE = """
INSERT INTO project_place
  (project_id, piece, spot, section_title, round_label, foundation, size, verdict, updated_at)
VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
ON CONFLICT (project_id) DO UPDATE SET
  piece = excluded.piece, spot = excluded.spot, section_title = excluded.section_title,
  round_label = excluded.round_label, foundation = excluded.foundation, size = excluded.size,
  verdict = excluded.verdict, updated_at = excluded.updated_at
"""


def desk_row(session: Session, notebook_id: int, part_id: int) -> DeskRow | None:
    """The maker at the part; None unless the part is of her along and published."""
    found = rows(session, DESK, (part_id, notebook_id))
    return DeskRow(*found[0]) if found else None


def log_rows(session: Session, project_id: int) -> list[EntryRow]:
    """All entries of a project, in the order that the fold works them."""
    return [EntryRow._make(row) for row in rows(session, LOG, (project_id,))]


def log_mark(session: Session, project_id: int) -> LogMark:
    """What the log of a project, which is there, is known by."""
    return LogMark._make(rows(session, LOG_MARK, (project_id,))[0])


def notebook_rows(session: Session, secret_hashes: Sequence[str]) -> list[NotebookRow]:
    """The notebooks of these secrets, by whichever key of theirs, in no order; one that opens nothing is left
    out.
    """
    statement = NOTEBOOKS.format(marks=_marks(secret_hashes))
    return [NotebookRow(*row) for row in rows(session, statement, (*secret_hashes, *secret_hashes))]


def known_entries(session: Session, ids: Sequence[str]) -> dict[str, int]:
    """Which of these entries are there, and in which project."""
    found: dict[str, int] = {}
    for start in range(0, len(ids), IDS_AT_ONCE):
        some = tuple(ids[start : start + IDS_AT_ONCE])
        # only question marks are put into the text, the ids go beside it
        found |= dict(rows(session, f"SELECT id, project_id FROM entry WHERE id IN ({_marks(some)})", some))  # noqa: S608
    return found


def insert_entries(session: Session, project_id: int, entries: Sequence[EntryRow]) -> None:
    """Adds entries to a project's log. Who keeps that log keeps it anew (see kept.py)."""
    with _accounted(session):
        for row in entries:
            rows(session, INSERT_ENTRY, (project_id, *row))


def put_place(session: Session, place: PlaceRow) -> None:
    """Writes a place down, over the one that was there."""
    with _accounted(session):
        rows(session, PLACE, place)
    _changed(session, ProjectPlace, place.project_id)


def put_seen(session: Session, notebook_id: int, now: datetime) -> None:
    """Puts a notebook's last visit on record."""
    with _accounted(session):
        rows(session, "UPDATE notebook SET last_seen_at = ? WHERE id = ?", (kept(now), notebook_id))
    _changed(session, Notebook, notebook_id)


def moment_kept(text: str) -> datetime:
    """A moment from what the column type `UtcDateTime` keeps of it."""
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def kept(moment: datetime) -> str:
    """What the column type `UtcDateTime` keeps of a moment."""
    return moment.astimezone(UTC).replace(tzinfo=None).isoformat(" ", "microseconds")


def rows(session: Session, statement: str, values: tuple[Any, ...]) -> list[tuple[Any, ...]]:
    """Runs a statement in the session's transaction; all its rows. Errors are SQLAlchemy's, as everywhere."""
    flush_held_back(session)
    try:
        return _connection(session).execute(statement, values).fetchall()
    except sqlite3.Error as error:
        raise DBAPIError.instance(statement, values, error, sqlite3.Error) from error


def _accounted(session: Session) -> AbstractContextManager[None]:
    kept = kept_in(session)
    return nullcontext() if kept is None else kept.accounted()


def _connection(session: Session) -> sqlite3.Connection:
    """SQLite's own connection, once the session's transaction (or SAVEPOINT) has begun on it."""
    in_hand: sqlite3.Connection | None = session.info.get(IN_HAND)
    if in_hand is not None:
        return in_hand
    begun: tuple[object, sqlite3.Connection] | None = session.info.get(BEGUN)
    transaction = session.get_transaction()
    if begun is not None and begun[0] is transaction and transaction is not None:
        return begun[1]
    connection = session.connection().connection.driver_connection
    assert isinstance(connection, sqlite3.Connection)
    session.info[BEGUN] = (session.get_transaction(), connection)
    return connection


def _changed(session: Session, table: type[SQLModel], key: int) -> None:
    loaded: Any = session.identity_map.get(session.identity_key(table, key)) if session.identity_map else None
    if loaded is not None:
        session.expire(loaded)


def _marks(values: Sequence[str]) -> str:
    return ",".join("?" * len(values))
